//! A start from a checkpoint knows what a start from all records knows, and goes on as that would; a checkpoint that is
//! damaged or old is none.

mod any;
#[path = "../examples/ten_seasons.rs"]
#[expect(dead_code, reason = "here nothing is printed")]
mod ten_seasons;

use evenrow_journal::checkpoint::Checkpoint;
use evenrow_journal::event::UsualShift;
use evenrow_journal::state::{NamedMachine, PlannedSection, Shift};
use evenrow_journal::{Entry, Event, Id, Journal, State, wire};
use evenrow_rules::quantity::Instant;
use proptest::collection::vec;
use proptest::prelude::*;

/// What a screen at the start may ask.
#[derive(Debug, PartialEq)]
struct Asked {
    machines: Vec<NamedMachine>,
    sections: Vec<PlannedSection>,
    usual: Option<UsualShift>,
    running: Option<Shift>,
    last: Option<Id>,
    mounted: Vec<Option<Id>>,
    next_count: u64,
}

fn asked(journal: &Journal) -> Asked {
    let state = State::fold(journal);
    let machines = state.machines.iter();
    let mounted = machines.map(|it| state.teeth.on(&it.id).map(|set| set.id.clone()));
    Asked {
        mounted: mounted.collect(),
        running: state.running().cloned(),
        last: state.shifts.last().map(|shift| shift.id.clone()),
        next_count: journal.next_count(),
        machines: state.machines,
        sections: state.sections,
        usual: state.usual,
    }
}

fn checkpoint(journal: &Journal) -> Option<Checkpoint> {
    Checkpoint::of(journal, &State::fold(journal))
}

/// Entries as a phone writes them, each with an id of its own that sorts by its count, and still naming each other.
fn written() -> impl Strategy<Value = Vec<String>> {
    vec(any::entry(), 1..40).prop_map(|entries| {
        let numbered = entries.into_iter().zip(1_u64..);
        let record = |(entry, count): (Entry, u64)| {
            let id = Id::counted(count, 0);
            let text = wire::write(&Entry { id, count, ..entry });
            // The ids that they name each other by are the first letters; here they are the first entries.
            ('a'..='h')
                .zip(1_u64..)
                .fold(text, |text, (letter, named)| {
                    let named = Id::counted(named, 0);
                    text.replace(&format!("\"{letter}\""), &format!("\"{}\"", named.as_str()))
                })
        };
        numbered.map(record).collect()
    })
}

fn journal(records: &[String]) -> Journal {
    let mut journal = Journal::default();
    journal.take_all(records);
    journal
}

proptest! {
    #[test]
    fn a_checkpoint_knows_what_all_records_know_and_follows_what_comes_after(
        records in written(),
        part in 0.0..1.0_f64,
    ) {
        let (before, after) = records.split_at((records.len() as f64 * part) as usize);
        let mut all = journal(before);
        if let Some(made) = checkpoint(&all) {
            let kept = Checkpoint::read(&made.write());
            prop_assert_eq!(kept.as_ref(), Some(&made));
            prop_assert_eq!(made.all, before.len());
            let mut few = made.journal;
            prop_assert_eq!(asked(&few), asked(&all));
            few.take_all(after);
            all.take_all(after);
            // What strikes a record that was left out asks for all of them.
            if !few.strikes_what_is_not_here() {
                prop_assert_eq!(asked(&few), asked(&all));
            }
        }
    }

    #[test]
    fn a_checkpoint_with_one_byte_changed_or_cut_off_is_none(at in 0.0..1.0_f64, by in 1_u8..=255) {
        let records = ten_seasons::records(60);
        let whole = checkpoint(&journal(&records)).unwrap().write();
        let at = (whole.len() as f64 * at) as usize;
        let mut changed = whole.clone().into_bytes();
        changed[at] ^= by;
        let cut = &whole[..at];
        prop_assert_eq!(Checkpoint::read(cut), None);
        if let Ok(changed) = String::from_utf8(changed) {
            // The count of all records is held by whoever counts them.
            let head = whole.find('\n').unwrap();
            if let Some(read) = Checkpoint::read(&changed) {
                prop_assert!(at < head);
                prop_assert_ne!(read.all, records.len());
            }
        }
    }
}

#[test]
fn most_journals_of_a_phone_have_a_checkpoint() {
    let mut chance = proptest::test_runner::TestRunner::deterministic();
    let have = (0..200).filter(|_| {
        let records = proptest::strategy::ValueTree::current(
            &written().new_tree(&mut chance).expect("records"),
        );
        checkpoint(&journal(&records)).is_some()
    });
    let have = have.count();
    assert!(100 < have, "{have} of 200");
}

#[test]
fn of_many_shifts_a_checkpoint_keeps_the_machine_and_one_shift() {
    let records = ten_seasons::records(5_000);
    let made = checkpoint(&journal(&records)).unwrap();
    assert_eq!(made.all, records.len());
    let few = made.journal.len();
    assert!((20..100).contains(&few), "{few}");
    assert_eq!(made.left_out(), records.len() - few);
}

#[test]
fn records_whose_ids_do_not_sort_before_those_to_come_give_no_checkpoint() {
    let mut records = ten_seasons::records(60);
    assert!(checkpoint(&journal(&records)).is_some());
    let taken_in = records[3].replacen(
        &format!("\"{}", Id::all_from(4)),
        &format!("\"{}", Id::all_from(1_000_000)),
        1,
    );
    assert_ne!(records[3], taken_in);
    records[3] = taken_in;
    assert_eq!(checkpoint(&journal(&records)), None);
}

#[test]
fn records_that_strike_each_other_or_themselves_hold_nothing_up() {
    let strikes = |count: u64, target: u64| {
        let [id, target] = [count, target].map(|it| Id::counted(it, 0));
        wire::write(&Entry {
            id,
            count,
            at: Instant::from_unix_ms(0),
            offset_minutes: 0,
            device: Id::counted(0, 0),
            event: Event::Struck { entry: target },
        })
    };
    for records in [vec![strikes(1, 2), strikes(2, 1)], vec![strikes(1, 1)]] {
        let all = journal(&records);
        let made = checkpoint(&all).unwrap();
        assert_eq!(asked(&made.journal), asked(&all));
    }
}
