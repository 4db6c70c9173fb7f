//! The bytes: what is written is read back as it was, what was ever written stays readable, and damage is called damage.
//!
//! What JSON allows is said by RFC 8259, <https://www.rfc-editor.org/rfc/rfc8259>, sections 4 (objects), 7 (strings)
//! and 8.1 (UTF-8). Never here: what is done with records that cannot be read (`merge`), and what entries mean (`fold`).

mod any;
mod every;
mod page;
mod tries;

use std::collections::BTreeSet;
use tries::tries;

use evenrow_journal::event::{Finding, SheetTaken, ShiftPlan, TimeOfDay, ToothState, UsualShift};
use evenrow_journal::wire::{Unreadable, read, write};
use evenrow_journal::{Entry, Event, Id};
use evenrow_rules::checklist::{Item, List};
use evenrow_rules::machine::Machine;
use evenrow_rules::quantity::{Instant, Length, Span, Temperature};
use evenrow_rules::setup::{ToothKind, Verdict};
use evenrow_rules::work::{Conditions, End, Moisture, Stones, Work};
use every::every;
use proptest::collection::vec;
use proptest::prelude::*;
use serde_json::{Value, json};

/// The journals that version 1 and version 2 left behind, which are objects. Every kind of event and every word of these
/// versions stands in them at least once.
///
/// They were written once and are never written again: no code makes them, the tests only compare. A line that stands
/// there is never changed, for such lines are on phones.
const OBJECTS: &str = concat!(
    include_str!("../../../tests/journals/v1.jsonl"),
    include_str!("../../../tests/journals/v2.jsonl")
);

/// The journal that version 3 left behind, which are lists: the same entries, line by line. When a kind, a word or a field
/// joins version 3 before its first release, or version 4 after it (in a file `v4.jsonl` of its own), lines are added at
/// the end by hand.
const LISTS: &str = include_str!("../../../tests/journals/v3.jsonl");

fn lines() -> impl Iterator<Item = &'static str> {
    OBJECTS.lines().chain(LISTS.lines())
}

every!(KINDS, kind, Event {
    MachineDescribed = "machine_described",
    UsualShiftSet = "usual_shift_set",
    ShiftStarted = "shift_started",
    SetupUsed = "setup_used",
    Marked = "marked",
    Oiled = "oiled",
    Looked = "looked",
    BreakStarted = "break_started",
    BreakEnded = "break_ended",
    Noted = "noted",
    MachineAdded = "machine_added",
    MachineChosen = "machine_chosen",
    SetMounted = "set_mounted",
    SetStored = "set_stored",
    SetNoted = "set_noted",
    SetPutBack = "set_put_back",
    SetBrokenUp = "set_broken_up",
    ToothNoted = "tooth_noted",
    RowTurning = "row_turning",
    TipsMeasured = "tips_measured",
    ToothReplaced = "tooth_replaced",
    StockCounted = "stock_counted",
    PlateToToothSet = "plate_to_tooth_set",
    AxlesDescribed = "axles_described",
    SectionPlanned = "section_planned",
    SectionChanged = "section_changed",
    SectionMoved = "section_moved",
    SectionLeftOut = "section_left_out",
    SectionTicked = "section_ticked",
    WorkerNamed = "worker_named",
    PricesSet = "prices_set",
    SeasonPlanned = "season_planned",
    PutOff = "put_off",
    UsualIntervalKept = "usual_interval_kept",
    WasBlind = "was_blind",
    ClockJumped = "clock_jumped",
    ClockAnswered = "clock_answered",
    ShiftEnded = "shift_ended",
    Struck = "struck",
});

every!(WORKS, work, Work {
    PackedSnow = "packed_snow",
    PackedSnowOnSoft = "packed_snow_on_soft",
    RoadEdge = "road_edge",
    Gravel = "gravel",
    TightStone = "tight_stone",
    StonyGravel = "stony_gravel",
    SoftMilling = "soft_milling",
    StoneBase = "stone_base",
    RuttedPavement = "rutted_pavement",
    Path = "path",
});

every!(STONES, stones, Stones {
    Few = "few",
    Many = "many",
});

every!(MOISTURES, moisture, Moisture {
    Dusty = "dusty",
    Moist = "moist",
});

every!(ENDS, end, End {
    Left = "left",
    Right = "right",
});

every!(VERDICTS, verdict, Verdict {
    Suits = "suits",
    WithCare = "with_care",
    DoNot = "do_not",
});

every!(TOOTH_KINDS, tooth_kind, ToothKind {
    NarrowPointed = "narrow_pointed",
    WidePointed = "wide_pointed",
    WideBlunt = "wide_blunt",
});

every!(TOOTH_STATES, tooth_state, ToothState {
    Turning = "turning",
    Stiff = "stiff",
    Stuck = "stuck",
    Chipped = "chipped",
    Broken = "broken",
    Gone = "gone",
});

every!(LISTS_OF_ITEMS, list, List {
    Opening = "opening",
    Closing = "closing",
    LayingUp = "laying_up",
});

every!(ITEMS, item, Item {
    MachineSafe = "machine_safe",
    RowComplete = "row_complete",
    TeethTurn = "teeth_turn",
    PlatesTight = "plates_tight",
    AnglesSet = "angles_set",
    SparesAboard = "spares_aboard",
    OilAboard = "oil_aboard",
    TrafficReady = "traffic_ready",
    BadTeethReplaced = "bad_teeth_replaced",
    SocketsClean = "sockets_clean",
    SocketsOiled = "sockets_oiled",
    SpillsTaken = "spills_taken",
    HandedOver = "handed_over",
    EdgeClean = "edge_clean",
    EdgeOiled = "edge_oiled",
    StoredIndoors = "stored_indoors",
    InOilBath = "in_oil_bath",
});

every!(FINDINGS, finding, Finding {
    AllTurning = "all_turning",
    SomeNot = "some_not",
});

fn saved() -> impl Iterator<Item = (&'static str, Entry)> {
    lines().map(read_as_saved)
}

#[track_caller]
fn read_as_saved(line: &str) -> (&str, Entry) {
    match read(line) {
        Ok(entry) => (line, entry),
        Err(why) => panic!("{why:?}: {line}"),
    }
}

fn id(text: &str) -> Id {
    Id::new(text).unwrap()
}

/// Minutes after seven in the morning of 15 June 2026 at Pine Ridge, six hours behind UTC.
fn minute(minutes: i64) -> Instant {
    Instant::from_unix_ms(1_781_528_400_000 + minutes * 60_000)
}

/// What the first lines of the saved journal say, number by number; no two numbers are alike, so that none can change
/// places with another unseen.
fn first_lines() -> Vec<Event> {
    let um = Length::micrometres;
    let time = TimeOfDay::from_minutes;
    let shift = || id("pr2-04");
    vec![
        Event::MachineDescribed {
            name: "Pine Ridge 2".to_owned(),
            machine: Machine::new(um(3_657_600), (um(914_400), um(990_600)), um(38_100)).unwrap(),
        },
        Event::UsualShiftSet(UsualShift {
            start: time(420),
            end: time(930),
            rest: Some((time(660), 30)),
        }),
        Event::UsualShiftSet(UsualShift {
            start: time(1320),
            end: time(0),
            rest: None,
        }),
        Event::ShiftStarted(ShiftPlan {
            start: minute(0),
            end: minute(510),
            breaks: vec![
                Span::new(minute(120), minute(135)),
                Span::new(minute(240), minute(270)),
            ],
        }),
        Event::SetupUsed {
            shift: shift(),
            work: Work::SoftMilling,
            known: Conditions {
                surface: Some(Temperature::celsius(-12.3).unwrap()),
                soft: Some(true),
                layer: Some(um(41_000)),
                skids: Some(false),
                bite: Some(um(29_999)),
                stones: Some(Stones::Many),
                moisture: Some(Moisture::Moist),
                path: Some(um(2_500_001)),
                strip: Some(um(800_002)),
                cutting_end: Some(End::Left),
            },
            sheet: SheetTaken {
                verdict: Verdict::WithCare,
                teeth: vec![ToothKind::WidePointed, ToothKind::NarrowPointed],
                plates: 4,
                toothed_at: vec![1, 3],
                tooth_count: 48,
                cutting_degrees: 50,
                grading_degrees: 65,
                layers: 5,
                oilings: 2,
                looks_per_interval: 6,
            },
        },
        Event::SetupUsed {
            shift: shift(),
            work: Work::Gravel,
            known: Conditions::default(),
            sheet: SheetTaken {
                verdict: Verdict::Suits,
                teeth: vec![],
                plates: 0,
                toothed_at: vec![],
                tooth_count: 0,
                cutting_degrees: 43,
                grading_degrees: 55,
                layers: 1,
                oilings: 3,
                looks_per_interval: 2,
            },
        },
        Event::Marked {
            shift: shift(),
            list: List::Opening,
            item: Item::TeethTurn,
            done: true,
        },
        Event::Marked {
            shift: shift(),
            list: List::Closing,
            item: Item::SpillsTaken,
            done: false,
        },
        Event::Oiled { shift: shift() },
        Event::Looked {
            shift: shift(),
            finding: Finding::AllTurning,
        },
        Event::Looked {
            shift: shift(),
            finding: Finding::SomeNot {
                stiff: 3,
                stuck: 2,
                broken: 1,
            },
        },
        Event::BreakStarted { shift: shift() },
        Event::BreakEnded { shift: shift() },
        Event::Noted {
            shift: shift(),
            text: "Alder Loop: \"to the bridge\"\n\t\u{1}\\ høy kant 🦺".to_owned(),
        },
        Event::ShiftEnded { shift: shift() },
        Event::Struck {
            entry: id("pr2-11"),
        },
    ]
}

#[test]
fn the_first_saved_lines_mean_what_they_meant_when_they_were_written() {
    let mut objects = OBJECTS.lines();
    let mut lists = LISTS.lines();
    for (at, event) in (1_u8..).zip(first_lines()) {
        let expected = Entry {
            id: id(&format!("pr2-{at:02}")),
            count: u64::from(at) + 100,
            at: minute(i64::from(at) - 20),
            offset_minutes: -360,
            device: id("cab"),
            event,
        };
        let (object, list) = (objects.next().unwrap(), lists.next().unwrap());
        assert_eq!(read(object).as_ref(), Ok(&expected), "{object}");
        assert_eq!(read(list).as_ref(), Ok(&expected), "{list}");
        assert_eq!(write(&expected), list);
    }
}

#[test]
fn every_line_ever_saved_can_be_read_and_those_of_this_version_are_written_again_with_the_same_bytes()
 {
    for (line, entry) in saved() {
        let list = if line.starts_with('[') {
            line.to_owned()
        } else {
            listed(&value(line)).to_string()
        };
        assert_eq!(write(&entry), list, "{line}");
    }
    assert!(OBJECTS.ends_with('\n') && LISTS.ends_with('\n'));
}

#[test]
fn an_entry_says_the_same_as_an_object_and_as_a_list() {
    let mut lists = LISTS.lines();
    for object in OBJECTS.lines() {
        let list = lists.next().unwrap();
        assert_eq!(read(object), read(list), "{object}");
        assert_eq!(listed(&value(object)).to_string(), list);
    }
}

#[test]
fn every_kind_of_event_stands_in_the_saved_journal_under_its_own_name() {
    let mut met = Met::default();
    for line in LISTS.lines() {
        let (_, entry) = read_as_saved(line);
        assert_eq!(value(line)[KIND_AT], kind(&entry.event), "{line}");
        met.saw(kind(&entry.event));
        if let Event::Looked { finding: found, .. } = &entry.event {
            met.saw(finding(found));
        }
    }
    met.is_all_of(&[KINDS, FINDINGS]);
    for line in OBJECTS.lines() {
        let (_, entry) = read_as_saved(line);
        let event = &value(line)["event"];
        let names: Vec<&String> = event.as_object().unwrap().keys().collect();
        assert_eq!(names, [kind(&entry.event)], "{line}");
    }
}

#[test]
fn every_word_stands_in_the_saved_journal_and_means_what_it_says() {
    let mut met = Met::default();
    for line in LISTS.lines() {
        let (_, entry) = read_as_saved(line);
        let line = value(line);
        let fields = &page::FIELDS[kind(&entry.event)];
        let written = |name: &str| {
            let at = fields.iter().position(|(field, _)| field == name).unwrap();
            &line[KIND_AT + 1 + at]
        };
        if let Event::SetupUsed {
            work: used,
            known,
            sheet,
            ..
        } = &entry.event
        {
            met.word(written("work"), work(used));
            met.word(&written("sheet")[0], verdict(&sheet.verdict));
            for (at, kind) in sheet.teeth.iter().enumerate() {
                met.word(&written("sheet")[1][at], tooth_kind(kind));
            }
            for (at, meant) in [
                (5, known.stones.as_ref().map(stones)),
                (6, known.moisture.as_ref().map(moisture)),
                (9, known.cutting_end.as_ref().map(end)),
            ] {
                if let Some(meant) = meant {
                    met.word(&written("known")[at], meant);
                }
            }
        }
        if let Event::ToothNoted { state, .. } = &entry.event {
            met.word(written("state"), tooth_state(state));
        }
        if let Event::SetStored { done, .. } = &entry.event {
            for (at, done) in done.iter().enumerate() {
                met.word(&written("done")[at], item(done));
            }
        }
        if let Event::Marked {
            list: of, item: it, ..
        } = &entry.event
        {
            met.word(written("list"), list(of));
            met.word(written("item"), item(it));
        }
    }
    met.is_all_of(&[
        WORKS,
        STONES,
        MOISTURES,
        ENDS,
        VERDICTS,
        TOOTH_KINDS,
        TOOTH_STATES,
        LISTS_OF_ITEMS,
        ITEMS,
    ]);
}

/// Words that have been met in the saved journal.
#[derive(Default)]
struct Met(BTreeSet<&'static str>);

impl Met {
    fn saw(&mut self, word: &'static str) {
        self.0.insert(word);
    }

    #[track_caller]
    fn word(&mut self, written: &Value, meant: &'static str) {
        assert_eq!(written, meant);
        self.saw(meant);
    }

    #[track_caller]
    fn is_all_of(&self, lists: &[&[&'static str]]) {
        let wanted: BTreeSet<&str> = lists.concat().into_iter().collect();
        let missing: Vec<_> = wanted.difference(&self.0).collect();
        assert!(
            missing.is_empty(),
            "no line of tests/journals has {missing:?}: add one at the end of the last file"
        );
    }
}

#[track_caller]
fn value(line: &str) -> Value {
    serde_json::from_str(line).unwrap()
}

/// Where the kind stands in a list; its fields come after it.
const KIND_AT: usize = 6;

/// An object as the list that the page of the format makes of it.
#[track_caller]
fn listed(record: &Value) -> Value {
    let version = match record["v"].as_u64() {
        Some(1 | 2) => json!(3),
        _ => record["v"].clone(),
    };
    let mut list = vec![version];
    for name in ["id", "count", "at_ms", "offset_min", "device"] {
        list.push(record[name].clone());
    }
    let event: Vec<_> = record["event"].as_object().unwrap().iter().collect();
    let [(kind, fields)] = event[..] else {
        panic!("one event: {record}");
    };
    list.push(json!(kind));
    list.extend(in_order(kind, fields));
    list.into()
}

/// The fields of a kind or a structure in the order of the page, null for what is left out.
#[track_caller]
fn in_order(of: &str, object: &Value) -> Vec<Value> {
    let object = object.as_object().unwrap();
    let fields = &page::FIELDS[of];
    for name in object.keys() {
        assert!(
            fields.iter().any(|(field, _)| field == name),
            "{of}: {name}"
        );
    }
    let part = |(name, unit): &(String, String)| match object.get(name) {
        Some(value) if value.is_object() && STRUCTURES.contains(&unit.as_str()) => {
            in_order(unit, value).into()
        }
        Some(value) => value.clone(),
        None => Value::Null,
    };
    fields.iter().map(part).collect()
}

/// What has fields of its own within an entry.
const STRUCTURES: [&str; 3] = ["Conditions", "Sheet", "Section"];

/// A record is either refused, or read with everything that stands in it: nothing is guessed, cut, wrapped or left out.
/// Whether an unknown is left out of an object or written as null makes no difference.
#[track_caller]
fn loses_nothing(record: &str) {
    if let Ok(entry) = read(record) {
        let before = value(record);
        let before = if before.is_object() {
            listed(&before)
        } else {
            before
        };
        assert_eq!(value(&write(&entry)), before, "{record}");
    }
}

#[track_caller]
fn check(record: &str, expected: Unreadable) {
    assert_eq!(read(record), Err(expected), "{record}");
}

/// The first saved object of a kind with one value replaced, and the list that says the same.
fn with(kind: &str, place: &str, replacement: Value) -> [String; 2] {
    let mut lines = OBJECTS.lines().map(value);
    let mut record = lines
        .find(|line| line["event"].get(kind).is_some())
        .unwrap();
    *record.pointer_mut(place).unwrap() = replacement;
    [record.to_string(), listed(&record).to_string()]
}

/// What can be no record, neither as an object nor as a list.
#[track_caller]
fn check_with(kind: &str, place: &str, replacement: Value, expected: Unreadable) {
    for record in with(kind, place, replacement) {
        check(&record, expected);
    }
}

/// What can be one, either way.
#[track_caller]
fn can_be(kind: &str, place: &str, replacement: Value) {
    for record in with(kind, place, replacement) {
        assert!(read(&record).is_ok(), "{record}");
        loses_nothing(&record);
    }
}

/// Where the values of a record stand: every field and every part of a list, the record itself left out.
fn places(value: &Value) -> Vec<String> {
    let parts: Vec<(String, &Value)> = match value {
        Value::Object(fields) => fields
            .iter()
            .map(|(name, field)| (format!("/{name}"), field))
            .collect(),
        Value::Array(parts) => parts
            .iter()
            .enumerate()
            .map(|(at, part)| (format!("/{at}"), part))
            .collect(),
        Value::Null | Value::Bool(_) | Value::Number(_) | Value::String(_) => vec![],
    };
    parts
        .into_iter()
        .flat_map(|(place, part)| {
            let below: Vec<String> = places(part)
                .into_iter()
                .map(|below| format!("{place}{below}"))
                .collect();
            [place].into_iter().chain(below)
        })
        .collect()
}

#[test]
fn a_line_that_breaks_off_anywhere_is_damaged() {
    for line in lines() {
        for end in 0..line.len() {
            check(
                &String::from_utf8_lossy(&line.as_bytes()[..end]),
                Unreadable::Damaged,
            );
        }
    }
}

#[test]
fn a_line_whose_beginning_is_lost_is_damaged() {
    for line in lines() {
        for start in 1..line.len() {
            let rest = String::from_utf8_lossy(&line.as_bytes()[start..]);
            assert!(read(&rest).is_err(), "{rest}");
        }
    }
}

#[test]
fn one_flipped_bit_is_damage_or_another_fact_but_never_a_fact_left_out() {
    for line in lines() {
        for at in 0..line.len() {
            for bit in 0..8 {
                let mut bytes = line.as_bytes().to_vec();
                bytes[at] ^= 1 << bit;
                loses_nothing(&String::from_utf8_lossy(&bytes));
            }
        }
    }
}

#[test]
fn a_value_of_another_type_is_damage() {
    let others = [
        json!(true),
        json!(7),
        json!(0.5),
        json!("x"),
        json!([]),
        json!({}),
    ];
    for (line, _) in saved() {
        let record = value(line);
        for place in places(&record) {
            let before = record.pointer(&place).unwrap();
            for other in &others {
                let whole = other.as_f64().is_none_or(|number| number.fract() == 0.0);
                if whole && std::mem::discriminant(before) == std::mem::discriminant(other) {
                    continue;
                }
                // What is not known in a list may come to be known.
                if before.is_null() && record.is_array() {
                    continue;
                }
                let mut changed = record.clone();
                *changed.pointer_mut(&place).unwrap() = other.clone();
                check(&changed.to_string(), Unreadable::Damaged);
            }
        }
    }
}

#[test]
fn a_value_of_the_right_type_is_read_as_it_stands_or_not_at_all() {
    let others = [
        Value::Null,
        json!(0),
        json!(-1),
        json!(65_536),
        json!(u32::MAX),
        json!(i64::MIN),
        json!(u64::MAX),
        json!(1e300),
        json!(""),
        json!("two words"),
        json!([]),
        json!({}),
    ];
    for (line, _) in saved() {
        let record = value(line);
        for place in places(&record) {
            for other in &others {
                let mut changed = record.clone();
                *changed.pointer_mut(&place).unwrap() = other.clone();
                loses_nothing(&changed.to_string());
            }
        }
    }
}

#[test]
fn a_record_that_lacks_a_field_is_damaged_unless_the_field_may_be_unknown() {
    for line in OBJECTS.lines() {
        let record = value(line);
        for place in places(&record) {
            let (parent, name) = place.rsplit_once('/').unwrap();
            let mut changed = record.clone();
            let Some(Value::Object(fields)) = changed.pointer_mut(parent) else {
                continue;
            };
            fields.remove(name);
            let may_be_unknown = parent.ends_with("/known")
                || ["rest_min", "width_um"].contains(&name)
                || place.ends_with("/set_stored/done");
            if may_be_unknown {
                assert!(read(&changed.to_string()).is_ok(), "{place}: {line}");
            } else {
                check(&changed.to_string(), Unreadable::Damaged);
            }
        }
    }
}

#[test]
fn a_field_that_this_version_does_not_know_is_damage_wherever_it_stands() {
    for line in OBJECTS.lines() {
        let record = value(line);
        for place in places(&record).into_iter().chain([String::new()]) {
            let mut changed = record.clone();
            if let Some(Value::Object(fields)) = changed.pointer_mut(&place) {
                fields.insert("unheard_of".to_owned(), json!(1));
                check(&changed.to_string(), Unreadable::Damaged);
            }
        }
    }
}

/// Lists that hold as many of the same as there are.
const OF_ANY_LENGTH: [&str; 6] = [
    "shift_started/9",
    "setup_used/10/1",
    "setup_used/10/3",
    "set_stored/8",
    "tips_measured/8",
    "season_planned/11",
];

#[test]
fn a_list_with_one_place_too_few_or_too_many_is_damage() {
    for line in LISTS.lines() {
        let record = value(line);
        let kind = record[KIND_AT].as_str().unwrap();
        for place in places(&record).into_iter().chain([String::new()]) {
            if OF_ANY_LENGTH.contains(&format!("{kind}{place}").as_str()) {
                continue;
            }
            let Some(Value::Array(list)) = record.pointer(&place) else {
                continue;
            };
            let many = list.len();
            let changed = |change: &dyn Fn(&mut Vec<Value>)| {
                let mut record = record.clone();
                let Some(Value::Array(list)) = record.pointer_mut(&place) else {
                    panic!("{place}: {line}");
                };
                change(list);
                record.to_string()
            };
            for at in 0..many {
                let shorter = changed(&|list| drop(list.remove(at)));
                check(&shorter, Unreadable::Damaged);
            }
            for at in 0..=many {
                for more in [json!(null), json!(1), json!("a"), json!([]), json!({})] {
                    let longer = changed(&|list| list.insert(at, more.clone()));
                    check(&longer, Unreadable::Damaged);
                }
            }
        }
    }
}

#[test]
fn a_word_or_a_kind_that_this_version_does_not_know_is_damage() {
    for (kind, place) in [
        ("setup_used", "/event/setup_used/work"),
        ("setup_used", "/event/setup_used/known/stones"),
        ("setup_used", "/event/setup_used/known/moisture"),
        ("setup_used", "/event/setup_used/known/cutting_end"),
        ("setup_used", "/event/setup_used/sheet/verdict"),
        ("setup_used", "/event/setup_used/sheet/teeth/0"),
        ("marked", "/event/marked/list"),
        ("marked", "/event/marked/item"),
    ] {
        for word in ["unheard_of", "", "Gravel", "gravel ", "OPENING"] {
            check_with(kind, place, json!(word), Unreadable::Damaged);
        }
    }
    let [object, list] = with("oiled", "/v", json!(1));
    for kind in ["unheard_of", "", "Oiled", "oiled "] {
        for record in [&object, &list] {
            let changed = record.replace("\"oiled\"", &format!("\"{kind}\""));
            check(&changed, Unreadable::Damaged);
        }
    }
    let event = "\"oiled\":{\"shift\":\"pr2-04\"}";
    for other in ["", "\"shift_ended\":{\"shift\":\"pr2-04\"},"] {
        let changed = object.replace(event, &format!("{other}{event}"));
        assert_eq!(read(&changed).is_ok(), other.is_empty(), "{changed}");
    }
    check(&object.replace(event, ""), Unreadable::Damaged);
}

/// The numbers that a place may hold, and those next to them that it may not.
#[track_caller]
fn check_numbers(kind: &str, field: &str, possible: &[i64], impossible: &[i64]) {
    let place = if kind == "entry" {
        format!("/{field}")
    } else {
        format!("/event/{kind}/{field}")
    };
    let kind = if kind == "entry" { "oiled" } else { kind };
    for number in possible {
        can_be(kind, &place, json!(number));
    }
    for number in impossible {
        check_with(kind, &place, json!(number), Unreadable::Damaged);
    }
}

#[test]
fn a_machine_that_cannot_be_is_damage() {
    let check = |field, possible: [i64; 2], impossible: &[i64]| {
        check_numbers("machine_described", field, &possible, impossible);
    };
    check(
        "moldboard_um",
        [1_200_000, 8_000_000],
        &[0, 1_199_999, 8_000_001, 40_000_000, 4_294_967_296, -1],
    );
    for plate in ["plates_um/0", "plates_um/1"] {
        check(plate, [150_000, 2_500_000], &[0, 149_999, 2_500_001]);
    }
    check("pitch_um", [20_000, 150_000], &[0, 19_999, 150_001]);
}

#[test]
fn a_time_of_day_beyond_the_day_is_damage() {
    for field in ["start_min", "end_min", "rest_min/0"] {
        check_numbers("usual_shift_set", field, &[0, 1439], &[1440, 65_535, -1]);
    }
    check_numbers("usual_shift_set", "rest_min/1", &[0, 30], &[65_536, -1]);
}

#[test]
fn a_surface_of_two_hundred_degrees_and_a_layer_of_more_than_a_kilometre_are_damage() {
    check_numbers(
        "setup_used",
        "known/surface_decicelsius",
        &[-700, 0, 900],
        &[-701, 901, 2000, 40_000],
    );
    for field in ["layer_um", "bite_um", "path_um", "strip_um"] {
        check_numbers(
            "setup_used",
            &format!("known/{field}"),
            &[0, 1_000_000_000],
            &[1_000_000_001, 4_294_967_295, 4_294_967_296, -1],
        );
    }
}

#[test]
fn a_number_too_large_for_its_place_is_damage_and_not_a_smaller_number() {
    for (field, usual) in [
        ("plates", 4),
        ("toothed_at/0", 1),
        ("cutting_deg", 50),
        ("grading_deg", 65),
        ("oilings", 3),
        ("looks_per_interval", 2),
    ] {
        check_numbers(
            "setup_used",
            &format!("sheet/{field}"),
            &[usual],
            &[256, -1],
        );
    }
    check_numbers("setup_used", "sheet/layers", &[1, 1000], &[65_536, -1]);
    check_numbers(
        "setup_used",
        "sheet/tooth_count",
        &[0, 96],
        &[4_294_967_296, -1],
    );
    for field in ["stiff", "stuck", "broken"] {
        check_numbers("looked", field, &[0, 65_535], &[65_536, -1]);
    }
    check_numbers("entry", "offset_min", &[-720, 840], &[40_000, -40_000]);
    check_numbers("entry", "count", &[0, i64::MAX], &[-1]);
}

#[test]
fn moments_and_counts_beyond_the_end_of_the_count_are_damage() {
    for (place, beyond) in [
        ("/at_ms", "9223372036854775808"),
        ("/at_ms", "-9223372036854775809"),
        ("/count", "18446744073709551616"),
        ("/count", "1e3"),
        ("/at_ms", "1.0"),
    ] {
        let beyond: Value = serde_json::from_str(beyond).unwrap();
        check_with("oiled", place, beyond, Unreadable::Damaged);
    }
}

#[test]
fn a_break_that_ends_before_it_starts_is_damage_and_one_without_length_is_not() {
    let place = "/event/shift_started/breaks_ms/0";
    check_with("shift_started", place, json!([7, 6]), Unreadable::Damaged);
    can_be("shift_started", place, json!([7, 7]));
}

#[test]
fn an_id_is_one_to_sixty_four_letters_digits_and_hyphens_or_the_record_is_damaged() {
    let places = [
        ("oiled", "/id"),
        ("oiled", "/device"),
        ("setup_used", "/event/setup_used/shift"),
        ("marked", "/event/marked/shift"),
        ("oiled", "/event/oiled/shift"),
        ("looked", "/event/looked/shift"),
        ("break_started", "/event/break_started/shift"),
        ("break_ended", "/event/break_ended/shift"),
        ("noted", "/event/noted/shift"),
        ("shift_ended", "/event/shift_ended/shift"),
        ("struck", "/event/struck/entry"),
    ];
    for (kind, place) in places {
        for good in ["0", "-", "Zz-9", &"a".repeat(64)] {
            can_be(kind, place, json!(good));
        }
        for bad in [
            "",
            " ",
            "a b",
            " a",
            "a\n",
            "å",
            "a_b",
            "a/b",
            &"a".repeat(65),
        ] {
            check_with(kind, place, json!(bad), Unreadable::Damaged);
        }
    }
}

#[test]
fn a_field_told_twice_is_damage_even_if_both_say_the_same() {
    for line in OBJECTS.lines() {
        let version = format!("\"v\":{},", value(line)["v"]);
        let twice = line.replacen(&version, &version.repeat(2), 1);
        check(&twice, Unreadable::Damaged);
        let twice = line.replacen(
            "\"device\":\"cab\",",
            "\"device\":\"cab\",\"device\":\"cab\",",
            1,
        );
        check(&twice, Unreadable::Damaged);
    }
}

#[test]
fn two_records_on_one_line_or_anything_after_a_record_is_damage() {
    for line in [OBJECTS, LISTS].map(|it| it.lines().next().unwrap()) {
        for record in [
            format!("{line}{line}"),
            format!("{line},"),
            format!("{line}\u{0}"),
            format!("\u{feff}{line}"),
            format!("[{line}]"),
            format!("[{line},{line}]"),
            format!("{{\"v\":{line}}}"),
        ] {
            check(&record, Unreadable::Damaged);
        }
    }
}

#[test]
fn nesting_without_end_is_damage_and_not_the_end_of_the_app() {
    for opening in ["[", "[3,", "{\"v\":", "{\"v\":1,\"x\":[", "{\"x\":"] {
        check(&opening.repeat(200_000), Unreadable::Damaged);
        let list = LISTS.lines().next().unwrap();
        let nested = list.replacen("[3,", &format!("[3,{}", opening.repeat(100_000)), 1);
        check(&nested, Unreadable::Damaged);
        let (line, _) = saved().next().unwrap();
        check(
            &line.replacen(
                "\"v\":1",
                &format!("\"v\":1,\"x\":{}", opening.repeat(100_000)),
                1,
            ),
            Unreadable::Damaged,
        );
    }
}

#[test]
fn whatever_a_higher_version_wrote_is_newer_and_not_damaged() {
    for version in [4_u64, 5, 255, 65_536, 4_294_967_296, u64::MAX] {
        for line in OBJECTS.lines() {
            let mut record = value(line);
            record["v"] = json!(version);
            check(&record.to_string(), Unreadable::Newer);
        }
        for line in LISTS.lines() {
            let mut record = value(line);
            record[0] = json!(version);
            check(&record.to_string(), Unreadable::Newer);
        }
        let object = format!(
            "{{\"v\":{version},\"id\":\"a\",\"count\":1,\"at_ms\":1,\"device\":\"cab\",\"unheard_of\":[]}}"
        );
        let list = format!("[{version},\"a\",1,1,-360,\"cab\",\"unheard_of\",{{\"x\":[]}},0.5]");
        check(&object, Unreadable::Newer);
        check(&list, Unreadable::Newer);
        // What says that it is newer, and has not even what every version writes, is damaged.
        for record in [
            format!("{{\"v\":{version}}}"),
            object.replace("\"a\"", "7"),
            object.replace("\"a\"", "\"\""),
            object.replace("\"count\":1,", ""),
            object.replace("\"count\":1,", "\"count\":1,\"count\":1,"),
            object.replace("cab", "c b"),
            format!("[{version}]"),
            format!("[{version},\"a\",1,1,-360,\"cab\"]"),
            list.replace("\"a\"", "7"),
            list.replace("\"a\"", "\"\""),
            list.replace("1,1,", "1,"),
            list.replace("1,1,", "-1,1,"),
            list.replace("-360", "-36000"),
            list.replace("cab", "c b"),
            list.replace("\"unheard_of\"", "null"),
        ] {
            check(&record, Unreadable::Damaged);
        }
    }
}

#[test]
fn a_version_that_never_was_is_damage() {
    for version in [
        json!(0),
        json!(-2),
        json!(1.5),
        json!("2"),
        json!(null),
        json!([2]),
    ] {
        check_with("oiled", "/v", version, Unreadable::Damaged);
    }
}

#[test]
fn a_list_that_says_it_is_of_a_version_of_objects_is_damage_and_so_is_an_object_of_a_version_of_lists()
 {
    for line in LISTS.lines() {
        for version in [0, 1, 2] {
            let mut record = value(line);
            record[0] = json!(version);
            check(&record.to_string(), Unreadable::Damaged);
        }
    }
    for line in OBJECTS.lines() {
        let mut record = value(line);
        record["v"] = json!(3);
        check(&record.to_string(), Unreadable::Damaged);
    }
}

#[test]
fn what_is_no_record_at_all_is_damage() {
    for record in [
        "",
        " ",
        "\n",
        "null",
        "true",
        "7",
        "\"v\"",
        "[]",
        "{}",
        "v=2",
        "{\"V\":2}",
        "{\"v\":}",
        "[3]",
        "[3,]",
        "[{\"v\":1}]",
        "[[3]]",
        "{'v':2}",
        "undefined",
        "<!doctype html>",
    ] {
        check(record, Unreadable::Damaged);
    }
}

#[test]
fn a_list_where_an_object_has_to_be_is_damage_and_so_is_an_object_where_a_list_has_to_be() {
    let object = OBJECTS.lines().find(|it| it.contains("setup_used"));
    let list = LISTS.lines().find(|it| it.contains("setup_used"));
    let (object, list) = (value(object.unwrap()), value(list.unwrap()));
    let used = &object["event"]["setup_used"];
    for (name, at) in [("known", 9), ("sheet", 10)] {
        let mut changed = object.clone();
        changed["event"]["setup_used"][name] = list[at].clone();
        check(&changed.to_string(), Unreadable::Damaged);
        let mut changed = list.clone();
        changed[at] = used[name].clone();
        check(&changed.to_string(), Unreadable::Damaged);
    }
    let [object, list] = with("oiled", "/v", json!(1)).map(|it| value(&it));
    for event in [
        json!(["oiled", "a"]),
        json!("oiled"),
        json!({"oiled": ["a"]}),
    ] {
        let mut changed = object.clone();
        changed["event"] = event;
        check(&changed.to_string(), Unreadable::Damaged);
    }
    for fields in [json!({"shift": "a"}), json!(["a"])] {
        let mut changed = list.clone();
        changed[KIND_AT + 1] = fields;
        check(&changed.to_string(), Unreadable::Damaged);
    }
}

proptest! {
    #![proptest_config(tries(1000))]

    #[test]
    fn every_entry_is_read_back_exactly_as_it_was(entry in any::entry()) {
        prop_assert_eq!(read(&write(&entry)), Ok(entry));
    }

    #[test]
    fn every_line_is_one_json_list_without_a_break_or_any_other_control_character(entry in any::entry()) {
        let line = write(&entry);
        // RFC 8259, section 7: control characters in strings are escaped; outside of strings there is no white space.
        prop_assert!(line.chars().all(|letter| '\u{20}' <= letter), "{:?}", line);
        prop_assert_eq!(line.lines().count(), 1);
        let value: Value = serde_json::from_str(&line).unwrap();
        prop_assert_eq!(&value[0], &json!(3));
        prop_assert_eq!(&value[1], entry.id.as_str());
        prop_assert_eq!(&value[3], &json!(entry.at.unix_ms()));
        if let Event::Noted { text, .. } = &entry.event {
            prop_assert_eq!(&value[KIND_AT + 2], text);
        }
    }

    #[test]
    fn bytes_spilled_into_a_line_never_make_it_say_less(
        entry in any::entry(),
        share in 0.0..1.0,
        cut in 0_usize..9,
        spilled in vec(any::<u8>(), 0..9),
    ) {
        let mut bytes = write(&entry).into_bytes();
        let from = (bytes.len() as f64 * share) as usize;
        let to = (from + cut).min(bytes.len());
        bytes.splice(from..to, spilled);
        loses_nothing(&String::from_utf8_lossy(&bytes));
    }

    #[test]
    fn random_bytes_are_no_entry(bytes in vec(any::<u8>(), 0..200)) {
        prop_assert!(read(&String::from_utf8_lossy(&bytes)).is_err());
    }

    #[test]
    fn random_words_of_json_are_no_entry(
        words in vec("[{}\\[\\],:]|\"v\"|\"id\"|\"event\"|\"oiled\"|0|1|3|-1|null|true|1e9", 0..40),
    ) {
        prop_assert!(read(&words.concat()).is_err());
    }
}
