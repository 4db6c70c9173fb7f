//! Faults, counted: journals of random shifts whose bytes are flipped and cut, whose clocks jump, that several windows
//! write at once, and that a newer app has written in. Every run tries a sample; `cargo xtask harden` tries many.
//!
//! Never here: what one damaged field means (`wire`), and the browser (`tests/browser/tests/hardened.rs`).

mod counted;
mod history;
mod pine_ridge;

use std::collections::BTreeSet;

use counted::{tell, times};
use evenrow_journal::export::report;
use evenrow_journal::wire::{Unreadable, VERSION};
use evenrow_journal::{Command, Journal, Refusal, State, backup, wire};
use evenrow_rules::quantity::Instant;
use history::{History, chance, drawn, history};

/// How many journals, and how many places in each are damaged.
fn journals() -> usize {
    times("EVENROW_JOURNALS", 50)
}

fn places() -> usize {
    times("EVENROW_PLACES", 20)
}

fn journal_of(records: &[String]) -> Journal {
    let mut journal = Journal::default();
    for record in records {
        journal.take(record);
    }
    journal
}

/// Every screen that tells of shifts can be shown, whatever time it is.
fn can_be_shown(journal: &Journal, moments: &[Instant]) {
    let state = State::fold(journal);
    for shift in &state.shifts {
        for &now in moments.iter().rev().take(2) {
            let told = report(&state, shift, now);
            assert!(!told.standing.slots.is_empty());
        }
    }
}

/// A backup of it brings every record to an empty phone, whatever it is.
fn can_be_handed_on(journal: &Journal) {
    let made = Instant::from_unix_ms(1_781_546_400_000);
    let file = backup::write(journal.records(), made, "test");
    let found = backup::read(file.into_bytes()).expect("a backup");
    let newer = journal
        .unreadable()
        .filter(|(_, why)| *why == Unreadable::Newer)
        .count();
    assert_eq!(found.newer, newer);
    let brought = found.records.records().count();
    assert_eq!(brought + newer, journal.records().count());
}

/// What a damaged record turned into.
#[derive(Default)]
struct Turned {
    damaged: usize,
    newer: usize,
    other_fact: usize,
}

impl Turned {
    fn is(&mut self, record: &str) {
        match wire::read(record) {
            Err(Unreadable::Damaged) => self.damaged += 1,
            Err(Unreadable::Newer) => self.newer += 1,
            Ok(_) => self.other_fact += 1,
        }
    }

    fn told(&self) -> String {
        format!(
            "{} shown as damaged, {} as newer, {} read as another fact; all kept byte for byte",
            self.damaged, self.newer, self.other_fact
        )
    }
}

/// Damages one record in one place, again and again, and looks whether anything else suffers.
fn damaged(fault: &str, damage: impl Fn(&str, usize, u8) -> String) {
    let mut turned = Turned::default();
    let mut tried = 0;
    for number in 0..journals() {
        let History {
            written, moments, ..
        } = history(number);
        let all: usize = written.iter().map(String::len).sum();
        let mut chance = chance(number);
        // Every byte of the journal where it has no more of them than are asked for.
        let places: Vec<usize> = if all <= places() {
            (0..all).collect()
        } else {
            (0..places())
                .map(|_| drawn(&(0..all), &mut chance))
                .collect()
        };
        for place in places {
            let (at, within) = record_at(&written, place);
            let harmed = damage(&written[at], within, drawn(&(0_u8..7), &mut chance));
            let mut records = written.clone();
            records[at].clone_from(&harmed);
            let journal = journal_of(&records);
            assert_kept(&journal, &records, number, place);
            let mut others = records.clone();
            others.remove(at);
            for other in &others {
                assert!(
                    wire::read(other).is_ok(),
                    "journal {number}, place {place}: {other}"
                );
            }
            can_be_shown(&journal, &moments);
            if place % 16 == 0 {
                can_be_handed_on(&journal);
            }
            turned.is(&harmed);
            tried += 1;
        }
    }
    tell(fault, tried, &turned.told());
}

/// Which record a byte of the journal stands in, and where.
fn record_at(records: &[String], place: usize) -> (usize, usize) {
    let mut before = 0;
    for (at, record) in records.iter().enumerate() {
        if place < before + record.len() {
            return (at, place - before);
        }
        before += record.len();
    }
    panic!("{place} lies beyond the journal");
}

fn assert_kept(journal: &Journal, records: &[String], number: usize, place: usize) {
    let kept: BTreeSet<&str> = journal.records().collect();
    let expected: BTreeSet<&str> = records.iter().map(String::as_str).collect();
    assert_eq!(kept, expected, "journal {number}, place {place}");
}

#[test]
fn a_flipped_bit_harms_no_record_but_its_own_and_that_one_is_kept_as_it_is() {
    damaged("a bit of a stored journal flipped", |record, at, bit| {
        let mut bytes = record.as_bytes().to_vec();
        bytes[at] ^= 1 << bit;
        // The store keeps text: what is none comes back with signs of replacement.
        String::from_utf8_lossy(&bytes).into_owned()
    });
}

#[test]
fn a_record_that_breaks_off_harms_no_other_and_is_kept_as_it_is() {
    damaged("a record of a stored journal cut off", |record, at, _| {
        String::from_utf8_lossy(&record.as_bytes()[..at]).into_owned()
    });
}

#[test]
fn a_clock_set_back_or_forward_by_hours_or_years_or_carried_into_another_zone_loses_nothing() {
    let mut jumps = 0;
    for number in 0..journals() {
        let History {
            written,
            journal,
            moments,
        } = history(number);
        jumps += moments
            .windows(2)
            .filter(|pair| pair[1] < pair[0] || 90 * 60_000 < pair[1].unix_ms() - pair[0].unix_ms())
            .count();
        assert_kept(&journal, &written, number, 0);
        assert_eq!(
            journal.in_force().len(),
            written.len(),
            "journal {number}: an entry is not in force"
        );
        // In the order in which they were made, whatever the clock said.
        let counts: Vec<u64> = journal.in_force().iter().map(|it| it.count).collect();
        assert!(counts.is_sorted(), "journal {number}: {counts:?}");
        can_be_shown(&journal, &moments);
        can_be_handed_on(&journal);
    }
    tell(
        "clock set back, set forward, zone changed, in a random shift",
        journals(),
        &format!("{jumps} jumps; every record in force and in its order"),
    );
}

#[test]
fn what_two_and_three_windows_write_without_a_look_at_each_other_is_all_there() {
    let mut written = 0;
    for number in 0..journals() {
        let begun = history(number);
        let mut chance = chance(number);
        let windows = drawn(&(2_usize..4), &mut chance);
        // Each goes on from the same records, with counts and moments that meet.
        let mut confirmed: BTreeSet<String> = begun.written.iter().cloned().collect();
        let mut store = begun.journal.clone();
        for window in 0..windows {
            let mut here = begun.clone();
            let now = drawn(&(0_i64..3), &mut chance) * 60_000 + 1_781_546_400_000;
            here.asks(now, 180, Command::Note(format!("from window {window}")));
            here.asks(now, 180, Command::Oil);
            for record in &here.written[begun.written.len()..] {
                // Ids are random on a phone; here they are made to differ.
                let record = record.replacen("\"entry-", &format!("\"w{window}-"), 1);
                store.take(&record);
                confirmed.insert(record);
                written += 1;
            }
        }
        let kept: BTreeSet<String> = store.records().map(str::to_owned).collect();
        assert_eq!(kept, confirmed, "journal {number}");
        assert_eq!(
            store.in_force().len(),
            confirmed.len(),
            "journal {number}: a window overwrote another"
        );
        can_be_shown(&store, &begun.moments);
    }
    tell(
        "two and three windows writing from the same records",
        journals(),
        &format!("{written} records written blindly; all in force"),
    );
}

#[test]
fn records_of_the_next_major_version_stop_the_writing_and_lose_nothing() {
    let mut newer = 0;
    for number in 0..journals() {
        let before = history(number);
        let mut chance = chance(number);
        let mut records = before.written.clone();
        for extra in 0..drawn(&(1_usize..4), &mut chance) {
            let version = VERSION + drawn(&(1_u32..9), &mut chance);
            let body = drawn(&"[a-z0-9 ]{0,40}", &mut chance);
            // As lists are, and as objects were.
            records.push(if drawn(&proptest::bool::ANY, &mut chance) {
                format!(r#"[{version},"newer-{extra}",{extra},0,0,"new","met",["{body}"]]"#)
            } else {
                format!(
                    r#"{{"v":{version},"id":"newer-{extra}","count":{extra},"at_ms":0,"device":"new","met":{{"more":["{body}"]}}}}"#
                )
            });
            newer += 1;
        }
        let journal = journal_of(&records);
        assert_kept(&journal, &records, number, 0);
        let state = State::fold(&journal);
        assert_eq!(
            state,
            State {
                read_only: true,
                ..State::fold(&before.journal)
            },
            "journal {number}"
        );
        assert_eq!(state.decide(Command::Oil), Err(Refusal::NewerRecords));
        can_be_shown(&journal, &before.moments);
        can_be_handed_on(&journal);
    }
    tell(
        "a journal with records of the next major version",
        journals(),
        &format!("{newer} newer records kept byte for byte; nothing written over them"),
    );
}
