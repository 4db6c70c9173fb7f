//! The row: teeth noted, measured and replaced, sets that come and go, and that no tooth is ever made or lost by the books.
//!
//! Never here: which spare fits and how long a set lasts (`evenrow_rules`).

mod any;
mod tries;

use std::time::Duration;
use tries::tries;

use evenrow_journal::event::{Finding, NewSet, ShiftPlan, ToothState};
use evenrow_journal::row::{Teeth, Whereabouts};
use evenrow_journal::{Command, Entry, Event, Id, Journal, State, wire};
use evenrow_rules::machine::{FOOT, LONG_PLATE, SHORT_PLATE, USUAL_PITCH};
use evenrow_rules::quantity::{Instant, Length, Span};
use evenrow_rules::setup::ToothKind;
use evenrow_rules::wear::Tips;
use proptest::collection::vec;
use proptest::prelude::*;

fn id(text: &str) -> Id {
    Id::new(text).unwrap()
}

fn cab() -> Id {
    id("cab")
}

fn mm(millimetres: f64) -> Length {
    Length::millimetres(millimetres).unwrap()
}

/// A time on the clock in the cab on 15 June 2026, six hours behind UTC.
fn clock(hours: i64, minutes: i64) -> Instant {
    Instant::from_unix_ms(1_781_503_200_000 + (hours * 60 + minutes) * 60_000)
}

#[derive(Default)]
struct Phone {
    journal: Journal,
}

impl Phone {
    #[track_caller]
    fn does(&mut self, at: Instant, command: Command) -> Id {
        let mut last = None;
        for event in self.state().decide(command).unwrap() {
            let count = self.journal.next_count();
            let entry = Entry {
                id: id(&format!("entry-{count}")),
                count,
                at,
                offset_minutes: -360,
                device: cab(),
                event,
            };
            self.journal.take(&wire::write(&entry));
            last = Some(entry.id);
        }
        last.unwrap()
    }

    fn state(&self) -> State {
        State::fold(&self.journal)
    }
}

fn new_set() -> NewSet {
    NewSet {
        kind: ToothKind::WidePointed,
        tips: Tips::new(mm(20.0), mm(5.0)).unwrap(),
        tip: mm(20.0),
        teeth: 96,
    }
}

/// A machine with a new set, mounted at six.
fn with_a_set() -> (Phone, Id) {
    let mut phone = Phone::default();
    phone.does(
        clock(5, 50),
        Command::DescribeMachine {
            name: "Pine Ridge 2".to_owned(),
            moldboard: FOOT.times(12),
            plates: (SHORT_PLATE, LONG_PLATE),
            pitch: USUAL_PITCH,
        },
    );
    let set = phone.does(
        clock(6, 0),
        Command::MountSet {
            machine: cab(),
            new: new_set(),
        },
    );
    (phone, set)
}

fn note(set: &Id, position: u16, state: ToothState) -> Command {
    Command::NoteTooth {
        set: set.clone(),
        position,
        state,
    }
}

#[track_caller]
fn adds_up(teeth: &Teeth) {
    let stock: u64 = teeth.stock.values().map(|&count| u64::from(count)).sum();
    let there_are = teeth.in_sets() as u64 + stock + teeth.scrapped;
    assert_eq!(i64::try_from(there_are).unwrap(), teeth.taken_in);
}

#[test]
fn a_bad_tooth_is_replaced_by_a_spare_that_leaves_the_stock() {
    let (mut phone, set) = with_a_set();
    let kind = ToothKind::WidePointed;
    let count = |count| Command::CountStock {
        kind,
        tip: mm(18.0),
        count,
    };
    phone.does(clock(6, 10), count(2));
    phone.does(clock(9, 0), note(&set, 12, ToothState::Broken));
    let replace = Command::ReplaceTooth {
        set: set.clone(),
        position: 12,
        kind,
        tip: mm(18.0),
    };
    phone.does(clock(9, 5), replace.clone());
    let teeth = phone.state().teeth;
    let tooth = teeth.set(&set).unwrap().teeth[&12];
    assert_eq!((tooth.tip, tooth.state), (mm(18.0), ToothState::Turning));
    assert_eq!((teeth.spares(kind, mm(18.0)), teeth.scrapped), (1, 1));
    assert_eq!(teeth.breakages.len(), 1);
    adds_up(&teeth);
    // Undone, everything is as it was.
    let before = phone.state();
    let entry = phone.does(clock(9, 10), replace);
    assert!(phone.state().teeth.stock.is_empty());
    phone.does(clock(9, 11), Command::Strike(vec![entry]));
    assert_eq!(phone.state().teeth, before.teeth);
}

#[test]
fn all_turning_frees_the_stiff_and_the_stuck_and_mends_nothing_that_is_broken() {
    let (mut phone, set) = with_a_set();
    phone.does(clock(6, 5), note(&set, 3, ToothState::Stiff));
    phone.does(clock(6, 5), note(&set, 4, ToothState::Stuck));
    phone.does(clock(6, 5), note(&set, 5, ToothState::Gone));
    phone.does(clock(6, 6), Command::AllTurning { machine: cab() });
    let state = phone.state();
    let set = state.teeth.on(&cab()).unwrap();
    assert_eq!(set.count(&[ToothState::Stiff, ToothState::Stuck]), 0);
    assert_eq!(set.count(&[ToothState::Gone]), 1);
}

#[test]
fn a_look_at_the_row_in_a_shift_is_a_look_of_that_shift_with_what_was_noted() {
    let (mut phone, set) = with_a_set();
    let plan = ShiftPlan {
        start: clock(7, 0),
        end: clock(15, 0),
        breaks: vec![],
    };
    phone.does(clock(6, 30), Command::StartShift(plan));
    phone.does(clock(8, 0), note(&set, 3, ToothState::Stiff));
    phone.does(clock(8, 0), note(&set, 4, ToothState::Stuck));
    phone.does(clock(8, 0), note(&set, 5, ToothState::Chipped));
    phone.does(clock(8, 1), Command::LookAtRow { machine: cab() });
    let found = Finding::SomeNot {
        stiff: 1,
        stuck: 1,
        broken: 0,
    };
    assert_eq!(
        phone.state().running().unwrap().looks,
        [(clock(8, 1), found)]
    );
    phone.does(clock(9, 0), Command::AllTurning { machine: cab() });
    let state = phone.state();
    let looks = &state.running().unwrap().looks;
    assert_eq!(looks.last(), Some(&(clock(9, 0), Finding::AllTurning)));
}

#[test]
fn at_half_life_a_second_set_goes_on_and_the_first_one_becomes_spares_with_its_lengths() {
    let (mut phone, first) = with_a_set();
    let tips = (1..=96).map(|position| (position, mm(12.5))).collect();
    phone.does(
        clock(8, 0),
        Command::MeasureTips {
            set: first.clone(),
            tips,
        },
    );
    phone.does(clock(8, 1), note(&first, 7, ToothState::Broken));
    let second = phone.does(
        clock(9, 0),
        Command::MountSet {
            machine: cab(),
            new: new_set(),
        },
    );
    let state = phone.state();
    assert_eq!(
        state.teeth.set(&first).unwrap().whereabouts,
        Whereabouts::Stored
    );
    assert_eq!(state.teeth.on(&cab()).unwrap().id, second);
    phone.does(
        clock(9, 5),
        Command::BreakUpSet {
            set: first,
            spares: true,
        },
    );
    let teeth = phone.state().teeth;
    assert_eq!(teeth.spares(ToothKind::WidePointed, mm(12.5)), 95);
    assert_eq!(teeth.scrapped, 1);
    adds_up(&teeth);
}

/// Hours count while the set is on a machine that works, breaks taken out, whichever machine that is.
#[test]
fn blade_hours_are_the_working_time_of_the_machines_that_the_set_was_on() {
    let (mut phone, set) = with_a_set();
    let plan = |start, end| ShiftPlan {
        start: clock(start, 0),
        end: clock(end, 0),
        breaks: vec![Span::new(clock(start + 2, 0), clock(start + 2, 30))],
    };
    let hours = |phone: &Phone, now| {
        let state = phone.state();
        state.blade_time(state.teeth.set(&set).unwrap(), now)
    };
    phone.does(clock(7, 0), Command::StartShift(plan(7, 15)));
    assert_eq!(hours(&phone, clock(8, 0)), Duration::from_hours(1));
    assert_eq!(hours(&phone, clock(10, 0)), Duration::from_mins(150));
    phone.does(clock(10, 0), Command::StoreSet { set: set.clone() });
    phone.does(clock(11, 0), Command::EndShift);
    assert_eq!(hours(&phone, clock(12, 0)), Duration::from_mins(150));
    // Another machine takes it over.
    let other = phone.does(
        clock(12, 0),
        Command::AddMachine {
            name: "Pine Ridge 3".to_owned(),
            moldboard: FOOT.times(12),
            plates: (SHORT_PLATE, LONG_PLATE),
            pitch: USUAL_PITCH,
        },
    );
    let back = Command::PutBackSet {
        set: set.clone(),
        machine: other.clone(),
    };
    phone.does(clock(12, 30), back);
    phone.does(clock(13, 0), Command::StartShift(plan(13, 20)));
    assert_eq!(
        phone
            .state()
            .running()
            .unwrap()
            .machine
            .as_ref()
            .unwrap()
            .id,
        other
    );
    assert_eq!(hours(&phone, clock(14, 0)), Duration::from_mins(210));
}

#[test]
fn a_machine_that_is_chosen_is_the_one_of_the_shifts_to_come_and_the_one_that_is_described() {
    let (mut phone, _) = with_a_set();
    let describe = |name: &str| Command::DescribeMachine {
        name: name.to_owned(),
        moldboard: FOOT.times(13),
        plates: (SHORT_PLATE, LONG_PLATE),
        pitch: USUAL_PITCH,
    };
    let add = Command::AddMachine {
        name: "Pine Ridge 3".to_owned(),
        moldboard: FOOT.times(13),
        plates: (SHORT_PLATE, LONG_PLATE),
        pitch: USUAL_PITCH,
    };
    phone.does(clock(6, 10), add);
    phone.does(clock(6, 11), describe("Pine Ridge 4"));
    let names = |phone: &Phone| -> Vec<String> {
        phone
            .state()
            .machines
            .into_iter()
            .map(|it| it.name)
            .collect()
    };
    assert_eq!(names(&phone), ["Pine Ridge 2", "Pine Ridge 4"]);
    phone.does(clock(6, 12), Command::ChooseMachine { machine: cab() });
    phone.does(clock(6, 13), describe("Pine Ridge 1"));
    assert_eq!(names(&phone), ["Pine Ridge 1", "Pine Ridge 4"]);
    assert_eq!(
        phone.state().machine_of(&cab()).unwrap().name,
        "Pine Ridge 1"
    );
    // A phone that has chosen none knows the last one.
    assert_eq!(
        phone.state().machine_of(&id("other")).unwrap().name,
        "Pine Ridge 4"
    );
}

proptest! {
    #![proptest_config(tries(1_000))]

    #[test]
    fn no_tooth_is_made_or_lost_by_any_sequence_of_events(entries in vec(any::entry(), 0..60)) {
        let mut state = State::default();
        for entry in &entries {
            state.apply(entry);
            adds_up(&state.teeth);
        }
        // One set at most on each machine.
        for set in &state.teeth.sets {
            if let Some(machine) = set.machine() {
                prop_assert_eq!(state.teeth.sets.iter().filter(|it| it.machine() == Some(machine)).count(), 1);
            }
        }
    }

    #[test]
    fn any_event_that_is_struck_leaves_the_teeth_as_if_it_had_never_been(entries in vec(any::entry(), 1..20), at in any::<prop::sample::Index>()) {
        let journal_of = |entries: &[Entry]| {
            let mut journal = Journal::default();
            for entry in entries {
                journal.take(&wire::write(entry));
            }
            journal
        };
        // Ids and counts in order, so that no entry hides another.
        let entries: Vec<Entry> = entries
            .into_iter()
            .filter(|entry| !matches!(entry.event, Event::Struck { .. }))
            .enumerate()
            .map(|(index, entry)| Entry { id: id(&format!("e{index}")), count: index as u64 + 1, ..entry })
            .collect();
        prop_assume!(!entries.is_empty());
        let struck = at.index(entries.len());
        let without: Vec<Entry> = entries.iter().enumerate().filter(|(index, _)| *index != struck).map(|(_, it)| it.clone()).collect();
        let mut with = entries.clone();
        with.push(Entry {
            id: id("strike"),
            count: u64::MAX,
            event: Event::Struck { entry: entries[struck].id.clone() },
            ..entries[struck].clone()
        });
        prop_assert_eq!(State::fold(&journal_of(&with)).teeth, State::fold(&journal_of(&without)).teeth);
    }
}
