//! What a running shift needs on another phone: there it is the same shift with the same teeth, and nothing is wrong that
//! is not left out.
//!
//! Never here: the file in which it travels (`backup`).

use std::collections::BTreeSet;

use evenrow_journal::handover::of_shift;
use evenrow_journal::state::Shift;
use evenrow_journal::{Command, Entry, Event, Id, Journal, State, wire};
use evenrow_rules::quantity::{Instant, Length};
use evenrow_rules::setup::ToothKind;

const SEASON: &str = include_str!("../../../tests/journals/season.jsonl");

/// The season as it stood at every moment that a shift ran, in the order in which it was recorded.
fn season() -> Vec<Entry> {
    let mut entries: Vec<Entry> = SEASON.lines().map(|it| wire::read(it).unwrap()).collect();
    entries.sort_by_key(|entry| entry.count);
    entries
}

fn journal<'a>(records: impl IntoIterator<Item = &'a str>) -> Journal {
    let mut journal = Journal::default();
    for record in records {
        journal.take(record);
    }
    journal
}

fn journal_of(entries: &[Entry]) -> Journal {
    let lines: Vec<String> = entries.iter().map(wire::write).collect();
    journal(lines.iter().map(String::as_str))
}

#[test]
fn a_shift_handed_over_in_its_middle_is_the_same_there_with_the_same_teeth_and_the_same_hours() {
    let entries = season();
    let mut looked_at = 0;
    for end in (20..entries.len()).step_by(7) {
        let here = journal_of(&entries[..end]);
        let (state, now) = (State::fold(&here), entries[end - 1].at);
        let Some(shift) = state.running() else {
            continue;
        };
        looked_at += 1;
        let handed = journal(of_shift(&here, &state, &shift.id, now));
        let there = State::fold(&handed);
        assert_eq!(there.running(), Some(shift));
        let machine = &shift.machine.as_ref().unwrap().id;
        let (set, same) = (state.teeth.on(machine), there.teeth.on(machine));
        assert_eq!(same, set);
        let set = set.unwrap();
        assert_eq!(there.blade_time(set, now), state.blade_time(set, now));
        assert_eq!(there.tips_now(set, now), state.tips_now(set, now));
        // Whoever takes over works with its machine, although it runs.
        let machine = machine.clone();
        assert!(there.decide(Command::ChooseMachine { machine }).is_ok());
        // What cannot be right there is not there.
        assert!(there.teeth.stock.is_empty());
    }
    assert!(20 < looked_at);
}

#[test]
fn the_first_set_and_its_shifts_stay_behind_when_the_second_one_is_at_work() {
    let entries = season();
    let here = journal_of(&entries);
    let state = State::fold(&here);
    let last = state.shifts.last().unwrap();
    let handed = journal(of_shift(&here, &state, &last.id, last.plan.end));
    let there = State::fold(&handed);
    assert_eq!(there.teeth.sets.len(), 1);
    // The second set went on before the twenty-first of thirty shifts.
    let ids =
        |state: &State| -> BTreeSet<Id> { state.shifts.iter().map(|it| it.id.clone()).collect() };
    assert_eq!(there.shifts.len(), 10);
    assert!(ids(&there).is_subset(&ids(&state)));
    let same = |shift: &Shift| state.shift(&shift.id) == Some(shift);
    assert!(there.shifts.iter().all(same));
}

#[test]
fn what_was_struck_is_struck_there_too_and_another_machine_stays_behind() {
    let mut entries = season();
    let shift = Id::new("handed").unwrap();
    let mut add = |id: &str, device: &str, event: Event| {
        let last = entries.last().unwrap();
        let entry = Entry {
            id: Id::new(id).unwrap(),
            count: last.count + 1,
            at: Instant::from_unix_ms(last.at.unix_ms() + 60_000),
            offset_minutes: -360,
            device: Id::new(device).unwrap(),
            event,
        };
        entries.push(entry);
    };
    let start = season().into_iter().find_map(|it| {
        if let Event::ShiftStarted(plan) = it.event {
            Some(plan)
        } else {
            None
        }
    });
    add("handed", "cab", Event::ShiftStarted(start.unwrap()));
    let oiled = |shift: &Id| Event::Oiled {
        shift: shift.clone(),
    };
    let struck = |entry: &str| Event::Struck {
        entry: Id::new(entry).unwrap(),
    };
    add("oiled-1", "cab", oiled(&shift));
    add("struck-1", "cab", struck("oiled-1"));
    add("oiled-2", "cab", oiled(&shift));
    add("struck-2", "cab", struck("oiled-2"));
    add("struck-3", "cab", struck("struck-2"));
    add(
        "elsewhere",
        "other",
        Event::StockCounted {
            kind: ToothKind::WideBlunt,
            tip: Length::micrometres(20_000),
            count: 3,
        },
    );
    add("other-machine", "other", entries_machine());
    let here = journal_of(&entries);
    let state = State::fold(&here);
    let handed = journal(of_shift(&here, &state, &shift, entries.last().unwrap().at));
    let there = State::fold(&handed);
    assert_eq!(there.shift(&shift), state.shift(&shift));
    assert_eq!(there.shift(&shift).unwrap().oiled.len(), 1);
    let names: Vec<&str> = there.machines.iter().map(|it| it.name.as_str()).collect();
    assert_eq!(names, ["Pine Ridge 2"]);
    assert_eq!(state.machines.len(), 2);
}

fn entries_machine() -> Event {
    let described = season().into_iter().find_map(|it| {
        if let Event::MachineDescribed { machine, .. } = it.event {
            Some(machine)
        } else {
            None
        }
    });
    Event::MachineAdded {
        name: "Pine Ridge 9".to_owned(),
        machine: described.unwrap(),
    }
}

#[test]
fn a_shift_that_nobody_knows_needs_nothing() {
    let here = journal(SEASON.lines());
    let state = State::fold(&here);
    let nobody = Id::new("nobody").unwrap();
    assert!(of_shift(&here, &state, &nobody, Instant::from_unix_ms(0)).is_empty());
}
