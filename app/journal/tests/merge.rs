//! How two journals become one: the union, whatever the order, and nothing is ever lost.
//!
//! Never here: what the entries in force then mean (`fold`), and which bytes can be read (`wire`).

mod any;
mod tries;

use std::collections::{BTreeMap, BTreeSet};
use tries::tries;

use evenrow_journal::wire::Unreadable;
use evenrow_journal::{Entry, Event, Id, Journal, State, wire};
use evenrow_rules::quantity::Instant;
use proptest::collection::vec;
use proptest::prelude::*;
use proptest::sample::select;

/// A record as a store may hold it: an entry, the same entry with other bytes, a newer one, half of one, or rubbish.
fn record() -> impl Strategy<Value = String> {
    let newer = select(vec![
        r#"{"v":4,"id":"a","count":1,"at_ms":1,"device":"cab"}"#,
        r#"[4,"b",2,2,0,"cab","met",["x"]]"#,
    ]);
    let half = (any::entry(), 0.0..1.0).prop_map(|(entry, share)| {
        let line = wire::write(&entry);
        let at = (line.len() as f64 * share) as usize;
        String::from_utf8_lossy(&line.as_bytes()[..at]).into_owned()
    });
    prop_oneof![
        6 => any::entry().prop_map(|entry| wire::write(&entry)),
        1 => any::entry().prop_map(|entry| format!("{} ", wire::write(&entry))),
        1 => newer.prop_map(str::to_owned),
        1 => half,
        1 => any::<String>(),
    ]
}

fn records() -> impl Strategy<Value = Vec<String>> {
    vec(record(), 0..16)
}

fn journal(records: &[String]) -> Journal {
    let mut journal = Journal::default();
    for record in records {
        journal.take(record);
    }
    journal
}

fn merged(one: &Journal, other: &Journal) -> Journal {
    let mut both = one.clone();
    both.merge(other);
    both
}

/// What the screens show of a journal, in the order in which they show it.
#[derive(Debug, PartialEq)]
struct Shown {
    in_force: Vec<Entry>,
    in_conflict: Vec<Id>,
    unreadable: Vec<(String, Unreadable)>,
    state: State,
}

fn shown(journal: &Journal) -> Shown {
    Shown {
        in_force: journal.in_force().into_iter().cloned().collect(),
        in_conflict: journal.in_conflict().cloned().collect(),
        unreadable: journal
            .unreadable()
            .map(|(record, why)| (record.to_owned(), why))
            .collect(),
        state: State::fold(journal),
    }
}

proptest! {
    #![proptest_config(tries(200))]

    #[test]
    fn it_makes_no_difference_which_phone_takes_in_the_other(one in records(), other in records()) {
        let (one, other) = (journal(&one), journal(&other));
        let (here, there) = (merged(&one, &other), merged(&other, &one));
        prop_assert_eq!(shown(&here), shown(&there));
        prop_assert_eq!(here, there);
    }

    #[test]
    fn it_makes_no_difference_in_which_order_three_phones_meet(
        first in records(),
        second in records(),
        third in records(),
    ) {
        let (first, second, third) = (journal(&first), journal(&second), journal(&third));
        prop_assert_eq!(
            merged(&merged(&first, &second), &third),
            merged(&first, &merged(&second, &third))
        );
    }

    #[test]
    fn a_journal_that_takes_in_itself_or_nothing_stays_as_it_is(records in records()) {
        let journal = journal(&records);
        prop_assert_eq!(&merged(&journal, &journal), &journal);
        prop_assert_eq!(&merged(&journal, &Journal::default()), &journal);
        prop_assert_eq!(&merged(&Journal::default(), &journal), &journal);
    }

    #[test]
    fn a_journal_tells_the_same_in_whatever_order_its_records_were_read(
        (records, shuffled) in records().prop_flat_map(|it| (Just(it.clone()), Just(it).prop_shuffle())),
    ) {
        let (one, other) = (journal(&records), journal(&shuffled));
        prop_assert_eq!(shown(&one), shown(&other));
        prop_assert_eq!(one, other);
    }

    #[test]
    fn a_state_that_follows_the_records_batch_by_batch_is_the_one_that_all_of_them_tell(
        records in records(),
        batches in vec(1_usize..5, 1..12),
    ) {
        let (mut journal, mut followed) = (Journal::default(), State::default());
        let mut rest = &records[..];
        for size in batches.into_iter().cycle() {
            let (now, later) = rest.split_at(size.min(rest.len()));
            let change = journal.take_all(now);
            followed.follow(&journal, change);
            prop_assert_eq!(&followed, &State::fold(&journal));
            rest = later;
            if rest.is_empty() {
                break;
            }
        }
    }

    #[test]
    fn taking_a_record_twice_changes_nothing(records in records()) {
        let once = journal(&records);
        prop_assert_eq!(journal(&[records.clone(), records].concat()), once);
    }

    #[test]
    fn merging_is_taking_every_record_of_the_other(one in records(), other in records()) {
        let both = merged(&journal(&one), &journal(&other));
        prop_assert_eq!(both, journal(&[one, other].concat()));
    }

    #[test]
    fn nothing_is_ever_lost_and_nothing_kept_twice(one in records(), other in records()) {
        let both = merged(&journal(&one), &journal(&other));
        let kept: Vec<&str> = both.records().collect();
        let taken: BTreeSet<&str> = one.iter().chain(&other).map(String::as_str).collect();
        prop_assert_eq!(kept.len(), taken.len());
        prop_assert_eq!(kept.into_iter().collect::<BTreeSet<_>>(), taken);
    }

    #[test]
    fn what_was_written_out_and_read_in_again_is_the_same_journal(records in records()) {
        let journal_before = journal(&records);
        let written: Vec<String> = journal_before.records().map(str::to_owned).collect();
        prop_assert_eq!(journal(&written), journal_before);
    }

    #[test]
    fn every_record_is_either_read_or_shown_as_unreadable_with_the_right_reason(records in records()) {
        let journal = journal(&records);
        let unreadable: BTreeMap<&str, Unreadable> = journal.unreadable().collect();
        for record in &records {
            prop_assert_eq!(unreadable.get(record.as_str()).copied(), wire::read(record).err());
        }
        let newer = records.iter().any(|record| wire::read(record) == Err(Unreadable::Newer));
        prop_assert_eq!(journal.is_newer(), newer);
        prop_assert_eq!(State::fold(&journal).read_only, newer);
    }

    #[test]
    fn one_entry_of_each_id_is_in_force_unless_it_is_struck(records in records()) {
        let journal = journal(&records);
        let mut versions: BTreeMap<Id, BTreeSet<&str>> = BTreeMap::new();
        for record in &records {
            if let Ok(entry) = wire::read(record) {
                versions.entry(entry.id).or_default().insert(record);
            }
        }
        let in_conflict: Vec<&Id> = versions
            .iter()
            .filter(|(_, bytes)| 1 < bytes.len())
            .map(|(id, _)| id)
            .collect();
        prop_assert_eq!(journal.in_conflict().collect::<Vec<_>>(), in_conflict);
        let in_force: BTreeSet<&Id> = journal.in_force().iter().map(|entry| &entry.id).collect();
        prop_assert_eq!(in_force.len(), journal.in_force().len());
        // An entry that counts is the one whose bytes sort first.
        let first: BTreeMap<&Id, Entry> = versions
            .iter()
            .filter_map(|(id, bytes)| Some((id, wire::read(bytes.first()?).ok()?)))
            .collect();
        for entry in journal.in_force() {
            prop_assert_eq!(Some(entry), first.get(&entry.id));
        }
        let named: BTreeSet<&Id> = first
            .values()
            .filter_map(|entry| {
                if let Event::Struck { entry } = &entry.event {
                    Some(entry)
                } else {
                    None
                }
            })
            .collect();
        for id in first.keys().filter(|id| !named.contains(*id)) {
            prop_assert!(in_force.contains(id), "{:?} is struck by nobody", id);
        }
    }

    #[test]
    fn the_next_entry_comes_after_everything_that_was_read(records in records()) {
        let journal = journal(&records);
        let next = journal.next_count();
        prop_assert!(0 < next);
        for entry in journal.in_force() {
            prop_assert!(entry.count < next || entry.count == u64::MAX);
        }
    }
}

fn note(name: &str, text: &str) -> String {
    wire::write(&Entry {
        id: Id::new(name).unwrap(),
        count: 7,
        at: Instant::from_unix_ms(1_781_517_600_000),
        offset_minutes: -360,
        device: Id::new("cab").unwrap(),
        event: Event::Noted {
            shift: Id::new("shift-1").unwrap(),
            text: text.to_owned(),
        },
    })
}

#[test]
fn the_same_id_with_another_note_is_kept_and_shown_and_the_same_one_counts_on_every_phone() {
    let (bridge, culvert) = (
        note("entry-7", "Alder Loop, to the bridge"),
        note("entry-7", "Alder Loop, to the culvert"),
    );
    for records in [
        [bridge.clone(), culvert.clone()],
        [culvert.clone(), bridge.clone()],
    ] {
        let journal = journal(&records);
        assert_eq!(journal.records().collect::<Vec<_>>(), [&bridge, &culvert]);
        let in_conflict: Vec<&str> = journal.in_conflict().map(Id::as_str).collect();
        assert_eq!(in_conflict, ["entry-7"]);
        let in_force: Vec<String> = journal.in_force().into_iter().map(wire::write).collect();
        assert_eq!(in_force, [bridge.as_str()]);
    }
}

#[test]
fn two_entries_with_ids_of_their_own_are_in_no_conflict() {
    let journal = journal(&[note("entry-7", "Alder Loop"), note("entry-8", "Alder Loop")]);
    assert_eq!(journal.in_conflict().count(), 0);
    assert_eq!(journal.in_force().len(), 2);
    assert_eq!(journal.next_count(), 8);
}

#[test]
fn damaged_and_newer_records_are_kept_byte_for_byte_after_the_readable_ones() {
    let readable = note("entry-7", "Alder Loop");
    let kept = [
        " \t",
        "{\"v\":1,\"id\":\"entry-8\",\r\n",
        "{\"v\":4 ,\"id\":\"a\",\"count\":1,\"at_ms\":1,\"device\":\"cab\", \"new\":\"\\u0000ø\"}",
        "\u{feff}not JSON at all \u{0}",
    ];
    let mut journal = Journal::default();
    for record in kept.iter().rev() {
        journal.take(record);
    }
    journal.take(&readable);
    let mut expected = vec![readable.as_str()];
    expected.extend(kept);
    assert_eq!(journal.records().collect::<Vec<_>>(), expected);
    let unreadable: Vec<Unreadable> = journal.unreadable().map(|(_, why)| why).collect();
    assert_eq!(
        unreadable,
        [
            Unreadable::Damaged,
            Unreadable::Damaged,
            Unreadable::Newer,
            Unreadable::Damaged,
        ]
    );
}

#[test]
fn an_empty_journal_begins_to_count_at_one() {
    assert_eq!(Journal::default().next_count(), 1);
}
