//! All records of this phone, the unreadable ones too, and how two journals become one.
//!
//! Merging is the union by id. Where one id comes with different bytes, both are kept and shown, and the one whose bytes
//! sort first is in force, so that the order of merging makes no difference. Nothing is ever removed from one.

use std::collections::{BTreeMap, BTreeSet};

use crate::event::{Entry, Event, Id};
use crate::wire::{self, Unreadable};
use evenrow_rules::quantity::Instant;

/// So many records at once are no longer followed one by one.
const MANY_AT_ONCE: usize = 500;

/// A set of records: the bytes of each, and what they say.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Journal {
    records: BTreeMap<String, Result<Entry, Unreadable>>,
    // What follows can all be told from the records; it is kept so that one more record costs the same after ten seasons
    // as after ten records.
    ids: BTreeSet<Id>,
    /// Whatever any entry strikes, be it there or not.
    strikes: BTreeSet<Id>,
    /// The count and the moment of the entry that stands last.
    last: Option<(u64, Instant)>,
    is_newer: bool,
    /// Some id came with different bytes.
    has_conflicts: bool,
}

/// What records that were taken in change of a state that was folded before.
#[derive(Clone, Debug, PartialEq)]
pub enum Change {
    /// Nothing: they were known.
    Nothing,
    /// These entries stand after all others, in this order, and change none of them.
    Next(Vec<Entry>),
    /// They stand among the others, strike some, or cannot be read: all is to be folded anew.
    Anew,
}

impl Journal {
    /// Takes in one record as it was stored, and says whether it was new. Taking it twice changes nothing, and costs no
    /// second reading of its bytes.
    pub fn take(&mut self, record: &str) -> bool {
        let is_new = !self.records.contains_key(record);
        if is_new {
            self.insert(record, wire::read(record));
        }
        is_new
    }

    /// Takes in records in the order in which they were written, and says what they change.
    pub fn take_all(&mut self, records: &[String]) -> Change {
        // Many are folded anew: to hand on a copy of each is no less work.
        let mut next = (records.len() <= MANY_AT_ONCE).then(Vec::new);
        for record in records {
            if self.records.contains_key(record) {
                continue;
            }
            let read = wire::read(record);
            let entry = next.as_ref().and(read.as_ref().ok()).cloned();
            let follows = self.insert(record, read);
            if let (Some(all), Some(entry), true) = (&mut next, entry, follows) {
                all.push(entry);
            } else {
                next = None;
            }
        }
        match next {
            Some(all) if all.is_empty() => Change::Nothing,
            Some(all) => Change::Next(all),
            None => Change::Anew,
        }
    }

    /// Keeps a record that is not there yet, and says whether its entry stands after all others and changes none of them.
    fn insert(&mut self, record: &str, read: Result<Entry, Unreadable>) -> bool {
        let follows = match &read {
            Ok(entry) => self.follows(entry),
            Err(why) => {
                self.is_newer |= *why == Unreadable::Newer;
                false
            }
        };
        self.records.insert(record.to_owned(), read);
        follows
    }

    /// The same of an entry, which is kept in mind.
    fn follows(&mut self, entry: &Entry) -> bool {
        let place = Some((entry.count, entry.at));
        let is_last = self.last < place;
        self.last = self.last.max(place);
        let is_other = self.ids.insert(entry.id.clone());
        self.has_conflicts |= !is_other;
        let is_struck = self.strikes.contains(&entry.id);
        if let Event::Struck { entry: target } = &entry.event {
            self.strikes.insert(target.clone());
            return false;
        }
        is_last && is_other && !is_struck
    }

    /// Takes in everything that another journal holds.
    pub fn merge(&mut self, other: &Journal) {
        for (record, read) in &other.records {
            if !self.records.contains_key(record) {
                self.insert(record, read.clone());
            }
        }
    }

    /// How many records it holds.
    pub fn len(&self) -> usize {
        self.records.len()
    }

    /// Whether it holds none.
    pub fn is_empty(&self) -> bool {
        self.records.is_empty()
    }

    /// The entries in force, in order of their counts, the struck ones left out. Where counts are equal, as two tabs or
    /// two phones may give them, the clock decides.
    pub fn in_force(&self) -> Vec<&Entry> {
        let mut entries = self.first_versions();
        entries.sort_unstable_by(|one, other| {
            let place = |it: &Entry| (it.count, it.at);
            place(one)
                .cmp(&place(other))
                .then_with(|| one.id.cmp(&other.id))
        });
        if !self.strikes.is_empty() {
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
        }
        entries
    }

    /// What could not be read, as it was stored, with the reason.
    pub fn unreadable(&self) -> impl Iterator<Item = (&str, Unreadable)> {
        self.records
            .iter()
            .filter_map(|(record, read)| read.as_ref().err().map(|why| (record.as_str(), *why)))
    }

    /// Whether a newer version of the app has written here.
    pub fn is_newer(&self) -> bool {
        self.is_newer
    }

    /// Ids that came with different bytes, in order.
    pub fn in_conflict(&self) -> impl Iterator<Item = &Id> {
        let conflicts = self.conflicts().into_iter();
        conflicts.filter_map(|versions| versions.first().map(|entry| &entry.id))
    }

    /// The versions of every id that came with different bytes, the one that counts first.
    pub fn conflicts(&self) -> Vec<Vec<&Entry>> {
        let mut versions: BTreeMap<&Id, Vec<&Entry>> = BTreeMap::new();
        for entry in self.entries() {
            versions.entry(&entry.id).or_default().push(entry);
        }
        versions.into_values().filter(|all| 1 < all.len()).collect()
    }

    /// Whether it holds a record with just these bytes.
    pub fn holds(&self, record: &str) -> bool {
        self.records.contains_key(record)
    }

    /// Everything that can be read, in the order of the bytes, with its bytes.
    pub fn readable(&self) -> impl Iterator<Item = (&str, &Entry)> {
        self.records
            .iter()
            .filter_map(|(record, read)| read.as_ref().ok().map(|entry| (record.as_str(), entry)))
    }

    fn entries(&self) -> impl Iterator<Item = &Entry> {
        self.readable().map(|(_, entry)| entry)
    }

    /// Every record byte for byte, in the order of the bytes, the unreadable ones last.
    pub fn records(&self) -> impl Iterator<Item = &str> {
        self.readable()
            .map(|(record, _)| record)
            .chain(self.unreadable().map(|(record, _)| record))
    }

    /// Whether some id came with different bytes.
    pub(crate) fn has_conflicts(&self) -> bool {
        self.has_conflicts
    }

    /// The entry with the highest count, be it in force or not.
    pub(crate) fn last_entry(&self) -> Option<&Entry> {
        self.entries()
            .max_by_key(|entry| (entry.count, entry.at, &entry.id))
    }

    /// What an entry strikes, if it is here and strikes something.
    pub(crate) fn struck_by(&self, strike: &Id) -> Option<&Id> {
        let strike = self.entries().find(|entry| entry.id == *strike)?;
        if let Event::Struck { entry } = &strike.event {
            Some(entry)
        } else {
            None
        }
    }

    /// Whether an entry strikes one that is not here.
    pub fn strikes_what_is_not_here(&self) -> bool {
        !self.strikes.is_subset(&self.ids)
    }

    /// The count that the next entry of this phone gets.
    pub fn next_count(&self) -> u64 {
        self.last.map_or(1, |(count, _)| count.saturating_add(1))
    }

    /// Of each id the version whose bytes sort first, as the map has them in order.
    fn first_versions(&self) -> Vec<&Entry> {
        if !self.has_conflicts {
            return self.entries().collect();
        }
        let mut first: BTreeMap<&Id, &Entry> = BTreeMap::new();
        for entry in self.entries() {
            first.entry(&entry.id).or_insert(entry);
        }
        first.into_values().collect()
    }
}
