//! All records of this phone, the unreadable ones too, and how two journals become one.
//!
//! Merging is the union by id. Where one id comes with different bytes, both are kept and shown, and the one whose bytes
//! sort first is in force, so that the order of merging makes no difference. Nothing is ever removed.

use std::collections::{BTreeMap, BTreeSet};

use crate::event::{Entry, Event, Id};
use crate::wire::{self, Unreadable};

/// A set of records.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Journal {
    readable: BTreeMap<Id, BTreeMap<String, Entry>>,
    unreadable: BTreeMap<String, Unreadable>,
}

impl Journal {
    /// Takes in one record as it was stored. Taking it twice changes nothing.
    pub fn take(&mut self, record: &str) {
        match wire::read(record) {
            Ok(entry) => {
                self.readable
                    .entry(entry.id.clone())
                    .or_default()
                    .insert(record.to_owned(), entry);
            }
            Err(why) => {
                self.unreadable.insert(record.to_owned(), why);
            }
        }
    }

    /// Takes in everything that another journal holds.
    pub fn merge(&mut self, other: &Journal) {
        for (id, versions) in &other.readable {
            self.readable
                .entry(id.clone())
                .or_default()
                .extend(versions.clone());
        }
        self.unreadable.extend(other.unreadable.clone());
    }

    /// The entries in force, in order of their counts, the struck ones left out. Where counts are equal, as two tabs or
    /// two phones may give them, the clock decides.
    pub fn in_force(&self) -> Vec<&Entry> {
        let mut entries: Vec<&Entry> = self.first_versions().collect();
        entries.sort_by_key(|entry| (entry.count, entry.at));
        // The latest first: a strike that is struck itself strikes nothing.
        let mut struck: BTreeSet<&Id> = BTreeSet::new();
        for entry in entries.iter().rev() {
            if let Event::Struck { entry: target } = &entry.event
                && !struck.contains(&entry.id)
            {
                struck.insert(target);
            }
        }
        entries.retain(|entry| !struck.contains(&entry.id));
        entries
    }

    /// What could not be read, as it was stored, with the reason.
    pub fn unreadable(&self) -> impl Iterator<Item = (&str, Unreadable)> {
        self.unreadable
            .iter()
            .map(|(record, why)| (record.as_str(), *why))
    }

    /// Whether a newer version of the app has written here.
    pub fn is_newer(&self) -> bool {
        self.unreadable
            .values()
            .any(|why| matches!(why, Unreadable::Newer))
    }

    /// Ids that came with different bytes.
    pub fn in_conflict(&self) -> impl Iterator<Item = &Id> {
        self.readable
            .iter()
            .filter(|(_, versions)| 1 < versions.len())
            .map(|(id, _)| id)
    }

    /// Every record byte for byte, the unreadable ones last.
    pub fn records(&self) -> impl Iterator<Item = &str> {
        let readable = self.readable.values().flat_map(|versions| versions.keys());
        readable.chain(self.unreadable.keys()).map(String::as_str)
    }

    /// The count that the next entry of this phone gets.
    pub fn next_count(&self) -> u64 {
        self.first_versions()
            .map(|entry| entry.count)
            .max()
            .map_or(1, |count| count.saturating_add(1))
    }

    fn first_versions(&self) -> impl Iterator<Item = &Entry> {
        self.readable
            .values()
            .filter_map(|versions| versions.values().next())
    }
}
