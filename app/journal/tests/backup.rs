//! Backups: what goes out comes in again byte for byte, what came to harm is told apart, and nothing that stands in a
//! file can do any to the records that are here.
//!
//! JSON Lines, <https://jsonlines.org>: UTF-8, one value a line, LF. Never here: how records are kept.

mod any;
mod tries;

use std::collections::BTreeSet;
use std::fs;
use std::time::Duration;
use tries::tries;

use evenrow_journal::backup::{
    Checksum, Condition, Found, LARGEST_FILE, LONGEST_RECORD, NoBackup, Preview, REMIND_AFTER,
    Reading, begins_as_one, is_overdue, list, name_of, preview, read, write,
};
use evenrow_journal::{Id, Journal, State, wire};
use evenrow_rules::quantity::Instant;
use proptest::collection::vec;
use proptest::prelude::*;

const SEASON: &str = include_str!("../../../tests/journals/season.jsonl");

const BAD: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../../tests/journals/bad");

/// A record as a store may hold it: an entry, half of one, or rubbish of any kind; none of a newer version.
fn record() -> impl Strategy<Value = String> {
    let half = (any::entry(), 0.0..1.0).prop_map(|(entry, share)| {
        let line = wire::write(&entry);
        let at = (line.len() as f64 * share) as usize;
        String::from_utf8_lossy(&line.as_bytes()[..at]).into_owned()
    });
    let rubbish = prop_oneof![
        any::<String>(),
        vec(any::<char>(), 0..9).prop_map(String::from_iter),
        "[\"\\\\\r\n {}a]{0,6}",
    ];
    prop_oneof![
        6 => any::entry().prop_map(|entry| wire::write(&entry)),
        1 => any::entry().prop_map(|entry| format!("{} \r", wire::write(&entry))),
        1 => half,
        2 => rubbish,
    ]
}

fn records() -> impl Strategy<Value = Vec<String>> {
    vec(record(), 0..12)
}

fn journal(records: &[String]) -> Journal {
    let mut journal = Journal::default();
    for record in records {
        journal.take(record);
    }
    journal
}

/// Half past three on 24 July 2026 at Pine Ridge.
fn evening() -> Instant {
    Instant::from_unix_ms(1_784_928_600_000)
}

fn backup(journal: &Journal) -> String {
    write(journal.records(), evening(), "0.1.0")
}

fn found(text: &str) -> Found {
    read(text.as_bytes().to_vec()).unwrap()
}

/// What this phone holds once it has taken a file in.
fn taken_in(here: &Journal, file: &Found) -> Journal {
    let mut here = here.clone();
    for record in preview(&file.records, &here.clone()).new {
        here.take(&record);
    }
    here
}

proptest! {
    #![proptest_config(tries(200))]

    #[test]
    fn a_backup_taken_in_by_an_empty_phone_and_made_anew_has_the_same_bytes(records in records()) {
        let before = backup(&journal(&records));
        let file = found(&before);
        prop_assert!(matches!(file.condition, Condition::Whole(_)), "{:?}", file.condition);
        prop_assert_eq!(&file.damaged, &[] as &[usize]);
        let after = taken_in(&Journal::default(), &file);
        prop_assert_eq!(&after, &journal(&records));
        prop_assert_eq!(backup(&after), before);
    }

    #[test]
    fn two_phones_that_take_in_each_others_backup_hold_the_same(one in records(), other in records()) {
        let (one, other) = (journal(&one), journal(&other));
        let here = taken_in(&one, &found(&backup(&other)));
        let there = taken_in(&other, &found(&backup(&one)));
        let mut union = one.clone();
        union.merge(&other);
        prop_assert_eq!(backup(&here), backup(&there));
        prop_assert_eq!(here, union);
    }

    #[test]
    fn three_backups_may_be_taken_in_in_any_order(
        files in vec(records(), 3),
        order in Just(vec![0, 1, 2]).prop_shuffle(),
    ) {
        let files: Vec<Found> = files.iter().map(|it| found(&backup(&journal(it)))).collect();
        let take = |here: Journal, at: usize| taken_in(&here, &files[at]);
        let one = [0, 1, 2].into_iter().fold(Journal::default(), take);
        let other = order.into_iter().fold(Journal::default(), take);
        prop_assert_eq!(one, other);
    }

    #[test]
    fn a_backup_taken_in_twice_brings_nothing_the_second_time(here in records(), file in records()) {
        let file = found(&backup(&journal(&file)));
        let once = taken_in(&journal(&here), &file);
        let again = preview(&file.records, &once);
        prop_assert_eq!(&again.new, &[] as &[String]);
        prop_assert_eq!(again.known, file.records.records().count());
        prop_assert_eq!((again.unreadable, again.sets, again.days), (0, 0, None));
    }

    #[test]
    fn the_preview_counts_what_then_happens(here in records(), file in records()) {
        let (here, file) = (journal(&here), found(&backup(&journal(&file))));
        let told = preview(&file.records, &here);
        let then = taken_in(&here, &file);
        let (before, after) = (here.records().count(), then.records().count());
        prop_assert_eq!(told.new.len(), after - before);
        let names: Vec<String> = told.new.iter().map(|it| name_of(it)).collect();
        prop_assert_eq!(&told.names, &names);
        prop_assert_eq!(told.known + told.new.len(), file.records.records().count());
        prop_assert_eq!(told.unreadable, then.unreadable().count() - here.unreadable().count());
        let disputed: BTreeSet<&Id> = then.in_conflict().collect();
        let before: BTreeSet<&Id> = here.in_conflict().collect();
        prop_assert!(disputed.difference(&before).count() <= told.in_conflict);
        prop_assert!(told.in_conflict <= disputed.len());
    }

    #[test]
    fn a_byte_that_changes_or_is_lost_or_comes_in_is_always_noticed(
        records in vec(any::entry().prop_map(|it| wire::write(&it)), 1..6),
        place in any::<prop::sample::Index>(),
        byte in any::<u8>(),
        what in 0..3,
    ) {
        let whole = backup(&journal(&records));
        let mut bytes = whole.clone().into_bytes();
        let at = place.index(bytes.len());
        match what {
            0 => bytes[at] = byte,
            1 => drop(bytes.remove(at)),
            _ => bytes.insert(at, byte),
        }
        let said = read(bytes.clone());
        if let Ok(Found { condition: Condition::Whole(header), records: kept, .. }) = said {
            // The name of the app and the moment in the first line are not sealed; all that matters is.
            let first = whole.find('\n').unwrap();
            let harmless = bytes == whole.as_bytes() || at <= first || byte.is_ascii_whitespace() || what == 1;
            prop_assert!(harmless, "{header:?}");
            prop_assert_eq!(kept, journal(&records));
        }
    }

    #[test]
    fn any_file_at_all_gets_an_answer(bytes in vec(any::<u8>(), 0..400), steps in 1_usize..4) {
        let whole = read(bytes.clone());
        let by_steps = Reading::begin(bytes).and_then(|mut reading| {
            while reading.step(steps)? {
                assert!(reading.per_cent() <= 100);
            }
            reading.finish()
        });
        prop_assert_eq!(whole, by_steps);
    }

    #[test]
    fn a_backup_cut_off_anywhere_is_never_called_whole(
        records in vec(any::entry().prop_map(|it| wire::write(&it)), 1..6),
        place in any::<prop::sample::Index>(),
    ) {
        let whole = backup(&journal(&records));
        let cut = &whole.as_bytes()[..place.index(whole.len() - 1)];
        if let Ok(file) = read(cut.to_vec()) {
            prop_assert!(!matches!(file.condition, Condition::Whole(_)));
            for record in file.records.records() {
                prop_assert!(records.iter().any(|it| it == record));
            }
        }
    }
}

/// The chunks of a PNG end with the CRC-32 of their kind and contents: <https://www.w3.org/TR/png-3/#5CRC-algorithm>. What
/// drew the icons reckoned them.
#[test]
fn the_checksum_is_the_one_in_every_chunk_of_the_icons() {
    let icons = concat!(env!("CARGO_MANIFEST_DIR"), "/../../public/icons");
    let mut chunks = 0;
    for file in fs::read_dir(icons).unwrap() {
        let path = file.unwrap().path();
        if path.extension().is_none_or(|it| it != "png") {
            continue;
        }
        let bytes = fs::read(&path).unwrap();
        let mut rest = &bytes[8..];
        while !rest.is_empty() {
            let length = u32::from_be_bytes(rest[..4].try_into().unwrap()) as usize;
            let (sealed, seal) = (&rest[4..8 + length], &rest[8 + length..12 + length]);
            let seal = u32::from_be_bytes(seal.try_into().unwrap());
            assert_eq!(Checksum::of(sealed).value(), seal, "{}", path.display());
            rest = &rest[12 + length..];
            chunks += 1;
        }
    }
    assert!(10 < chunks);
}

/// How a file of the folder is answered.
#[derive(Debug, PartialEq)]
enum Answer {
    No(NoBackup),
    Whole { records: usize, newer: usize },
    CutShort { records: usize, damaged: Vec<usize> },
    Changed { records: usize, damaged: Vec<usize> },
    List { records: usize, damaged: Vec<usize> },
}

fn answer(bytes: Vec<u8>) -> Answer {
    match read(bytes) {
        Err(why) => Answer::No(why),
        Ok(found) => {
            let records = found.records.records().count();
            let (damaged, newer) = (found.damaged, found.newer);
            match found.condition {
                Condition::Whole(_) => Answer::Whole { records, newer },
                Condition::CutShort(_) => Answer::CutShort { records, damaged },
                Condition::Changed(_) => Answer::Changed { records, damaged },
                Condition::List => Answer::List { records, damaged },
            }
        }
    }
}

#[test]
fn every_file_of_the_folder_of_bad_ones_has_its_answer() {
    let whole = |records, newer| Answer::Whole { records, newer };
    let changed = |records, damaged: &[usize]| Answer::Changed {
        records,
        damaged: damaged.to_vec(),
    };
    let cut = |records, damaged: &[usize]| Answer::CutShort {
        records,
        damaged: damaged.to_vec(),
    };
    let list = |records, damaged: &[usize]| Answer::List {
        records,
        damaged: damaged.to_vec(),
    };
    let expected = [
        ("blank.txt", Answer::No(NoBackup::Empty)),
        ("count-beyond-all.txt", cut(5, &[])),
        ("cut-between-lines.txt", cut(4, &[])),
        ("cut-in-a-line.txt", changed(4, &[6])),
        ("deep.txt", list(1, &[2])),
        ("digit-changed.txt", changed(5, &[])),
        ("empty.txt", Answer::No(NoBackup::Empty)),
        ("header-damaged.txt", list(5, &[1])),
        ("header-only.txt", cut(0, &[])),
        ("latin-1.txt", changed(4, &[5])),
        ("line-damaged.txt", changed(4, &[4])),
        ("list-in-a-mail.txt", list(5, &[1, 9, 10])),
        ("list-long-line.txt", list(1, &[2])),
        ("list.txt", list(5, &[])),
        ("lists-cut-in-a-line.txt", changed(4, &[6])),
        ("lists-one-place-too-many.txt", changed(4, &[4])),
        ("mark-only.txt", Answer::No(NoBackup::Empty)),
        ("newer-format.txt", Answer::No(NoBackup::NewerFormat)),
        ("other-app.txt", Answer::No(NoBackup::Foreign)),
        ("page.txt", Answer::No(NoBackup::Foreign)),
        ("picture.png", Answer::No(NoBackup::Foreign)),
        ("table.txt", Answer::No(NoBackup::Foreign)),
        ("twice.txt", changed(5, &[7])),
        ("utf-16-no-mark.txt", Answer::No(NoBackup::OtherEncoding)),
        ("utf-16.txt", Answer::No(NoBackup::OtherEncoding)),
        ("whole-crlf-mark.txt", whole(5, 0)),
        ("whole-damaged-record.txt", whole(6, 0)),
        ("whole-hostile-text.txt", whole(5, 0)),
        ("whole-lists-newer-records.txt", whole(5, 1)),
        ("whole-newer-records.txt", whole(5, 1)),
        ("whole-no-last-line-break.txt", whole(5, 0)),
        ("whole.txt", whole(5, 0)),
    ];
    let mut names: Vec<String> = fs::read_dir(BAD)
        .unwrap()
        .map(|file| file.unwrap().file_name().into_string().unwrap())
        .collect();
    names.sort();
    assert_eq!(names, expected.each_ref().map(|(name, _)| *name));
    for (name, expected) in expected {
        let bytes = fs::read(format!("{BAD}/{name}")).unwrap();
        assert_eq!(answer(bytes), expected, "{name}");
    }
}

#[test]
fn a_file_larger_than_a_phone_can_hold_is_refused_before_it_is_read() {
    let size = LARGEST_FILE as usize;
    let answer = |size: usize| Reading::begin(vec![b'x'; size]).err();
    assert_eq!(answer(size + 1), Some(NoBackup::TooLarge(LARGEST_FILE + 1)));
    assert_eq!(answer(size), None);
}

#[test]
fn what_a_newer_app_wrote_never_makes_a_phone_that_takes_it_in_only_read() {
    for name in ["whole-newer-records.txt", "whole-lists-newer-records.txt"] {
        let bytes = fs::read(format!("{BAD}/{name}")).unwrap();
        let here = taken_in(&journal(&[]), &read(bytes).unwrap());
        assert_eq!(here.records().count(), 5, "{name}");
        assert!(!State::fold(&here).read_only, "{name}");
    }
}

#[test]
fn the_longest_note_that_can_be_written_comes_through() {
    // Whatever it is made of: a control character takes six bytes, a character beyond the plane of two four.
    for sign in ["\u{1}", "🦺", "\u{7f}", "\""] {
        let note = sign.repeat(2000);
        let line = serde_json::to_string(&note).unwrap();
        let record = format!(
            r#"{{"v":1,"id":"a","count":1,"at_ms":1,"offset_min":0,"device":"cab","event":{{"noted":{{"shift":"b","text":{line}}}}}}}"#
        );
        let list = format!(r#"[3,"b",2,2,0,"cab","noted","b",{line}]"#);
        assert!(record.len().max(list.len()) < LONGEST_RECORD);
        let file = found(&backup(&journal(&[record, list])));
        assert_eq!(file.records.readable().count(), 2);
    }
}

#[test]
fn records_of_every_version_stand_on_a_line_as_they_are_and_anything_else_in_quotes() {
    for record in [r#"[3,"a"]"#, r#"{"v":1}"#] {
        assert_eq!(list([record].into_iter()), format!("{record}\n"));
    }
    for record in ["3", "\"[3]\"", " [3]", "[3]\r", "[\u{85}", ""] {
        let line = format!("{}\n", serde_json::to_string(record).unwrap());
        assert_eq!(list([record].into_iter()), line);
    }
}

#[test]
fn a_text_that_begins_as_records_do_is_told_from_what_a_person_writes() {
    for line in SEASON.lines() {
        assert!(begins_as_one(line), "{line}");
    }
    assert!(begins_as_one(&backup(&journal(&[]))));
    assert!(begins_as_one("{\"v\":1,"));
    for note in [
        "",
        "[",
        "[photo] the bridge",
        "Alder Loop {",
        "3 stuck",
        " [3",
    ] {
        assert!(!begins_as_one(note), "{note}");
    }
}

#[test]
fn a_season_taken_in_brings_its_thirty_shifts_its_machine_and_its_two_sets() {
    let mut season = Journal::default();
    for line in SEASON.lines() {
        season.take(line);
    }
    let file = found(&backup(&season));
    let told = preview(&file.records, &Journal::default());
    assert_eq!(told.new.len(), 349);
    assert_eq!((told.known, told.in_conflict, told.unreadable), (0, 0, 0));
    assert_eq!(told.machines, ["Pine Ridge 2"]);
    assert_eq!((told.shifts.len(), told.sets), (30, 2));
    // Monday 15 June 2026 at 07:00, six hours behind UTC.
    assert_eq!(
        told.shifts[0],
        (Instant::from_unix_ms(1_781_528_400_000), -360)
    );
    let [(first, _), (last, _)] = told.days.unwrap();
    assert_eq!(last.since(first).as_secs() / 86_400, 39);
    // Half of it is here already.
    let mut half = Journal::default();
    for line in SEASON.lines().take(100) {
        half.take(line);
    }
    let told = preview(&file.records, &half);
    assert_eq!((told.new.len(), told.known), (249, 100));
    assert_eq!(preview(&season, &season), {
        Preview {
            known: 349,
            ..Preview::default()
        }
    });
}

#[test]
fn the_same_entry_with_other_bytes_is_told_before_it_is_taken_in_and_both_are_kept() {
    let line = SEASON.lines().next().unwrap().to_owned();
    let other = line.replace("Pine Ridge 2", "Pine Ridge 7");
    let here = journal(std::slice::from_ref(&line));
    let file = found(&list([other.as_str()].into_iter()));
    assert_eq!(file.condition, Condition::List);
    let told = preview(&file.records, &here);
    assert_eq!((told.new.len(), told.in_conflict), (1, 1));
    let then = taken_in(&here, &file);
    let conflicts = then.conflicts();
    assert_eq!((conflicts.len(), conflicts[0].len()), (1, 2));
    assert_eq!(conflicts[0][0], &wire::read(&line).unwrap());
}

#[test]
fn records_are_kept_under_the_id_of_their_entry_and_others_under_a_name_of_their_own() {
    assert_eq!(name_of(SEASON.lines().next().unwrap()), "entry-1");
    let names = ["", "{", "rubbish"].map(name_of);
    assert_eq!(names.iter().collect::<BTreeSet<_>>().len(), 3);
    // The checksum of these nine digits is the one that catalogues of checksums give for comparison.
    assert_eq!(name_of("123456789"), "unread-cbf43926");
}

#[test]
fn a_week_without_a_backup_is_told_only_where_records_have_come_since() {
    let (day, now) = (Duration::from_hours(24), evening());
    let days = |count: u32| now.minus(day * count);
    assert_eq!(REMIND_AFTER, day * 7);
    assert!(!is_overdue(Some(days(6)), days(90), 12, now));
    assert!(is_overdue(Some(days(7)), days(90), 1, now));
    assert!(!is_overdue(Some(days(90)), days(95), 0, now));
    assert!(!is_overdue(None, days(6), 40, now));
    assert!(is_overdue(None, days(8), 40, now));
    // A clock that was set back proves nothing.
    assert!(!is_overdue(Some(now.plus(day)), days(90), 4, now));
}
