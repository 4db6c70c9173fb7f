//! The row: teeth noted, measured and replaced, sets that come and go, and that no tooth is ever made or lost by the books.
//!
//! Never here: which spare fits and how long a set lasts (`evenrow_rules`).

mod any;
mod lengths;
mod phone;
mod pine_ridge;
mod sets;
mod tries;

use lengths::mm;
use phone::{Phone, cab, clock, id};
use std::time::Duration;
use tries::tries;

use evenrow_journal::event::{Finding, ShiftPlan, ToothState};
use evenrow_journal::row::{Teeth, Whereabouts};
use evenrow_journal::{Command, Entry, Event, Id, Journal, Refusal, State, wire};
use evenrow_rules::checklist::Item;
use evenrow_rules::machine::{FOOT, LONG_PLATE, SHORT_PLATE, USUAL_PITCH};
use evenrow_rules::quantity::{Instant, Length, Span};
use evenrow_rules::setup::ToothKind;
use evenrow_rules::work::{Conditions, Work};
use proptest::collection::vec;
use proptest::prelude::*;

const KIND: ToothKind = ToothKind::WidePointed;

/// A machine with a new set, mounted at six.
fn with_a_set() -> (Phone, Id) {
    sets::with_a_set(clock(5, 50), clock(6, 0), KIND)
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
    let stock: u64 = teeth.stock.iter().map(|(_, count)| u64::from(*count)).sum();
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
            new: sets::new_set(KIND),
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
    phone.does(
        clock(10, 0),
        Command::StoreSet {
            set: set.clone(),
            done: vec![],
        },
    );
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

fn plan(start: Instant, hours: i64) -> ShiftPlan {
    ShiftPlan {
        start,
        end: start.plus(Duration::from_hours(hours as u64)),
        breaks: vec![],
    }
}

/// Eight hours of work with the machine in the cab, day after day from a given one on.
fn works(phone: &mut Phone, days: std::ops::Range<i64>) {
    for day in days {
        let start = clock(24 * day + 7, 0);
        phone.does(start, Command::StartShift(plan(start, 8)));
        phone.does(clock(24 * day + 15, 0), Command::EndShift);
    }
}

/// Every eighth tooth of a row of 96, the fourth first.
fn every_eighth(tip: f64) -> Vec<(u16, Length)> {
    (0..12).map(|at| (4 + 8 * at, mm(tip))).collect()
}

fn measure(set: &Id, tips: Vec<(u16, Length)>) -> Command {
    Command::MeasureTips {
        set: set.clone(),
        tips,
    }
}

/// Readings as hours and millimetres.
fn readings(phone: &Phone, set: &Id) -> Vec<(f64, f64)> {
    let state = phone.state();
    let readings = state.readings(state.teeth.set(set).unwrap());
    readings
        .into_iter()
        .map(|it| (it.at.in_hours(), it.tip.in_millimetres()))
        .collect()
}

#[test]
fn a_set_that_was_stored_and_mounted_again_keeps_the_hours_at_which_it_was_measured() {
    let (mut phone, set) = with_a_set();
    works(&mut phone, 0..1);
    phone.does(clock(15, 10), measure(&set, every_eighth(19.0)));
    works(&mut phone, 1..2);
    phone.does(clock(39, 10), measure(&set, every_eighth(18.0)));
    let before = readings(&phone, &set);
    assert_eq!(before, [(0.0, 20.0), (8.0, 19.0), (16.0, 18.0)]);
    let store = Command::StoreSet {
        set: set.clone(),
        done: vec![],
    };
    phone.does(clock(40, 0), store);
    assert_eq!(readings(&phone, &set), before);
    // The machine works on without it, then with it again.
    works(&mut phone, 2..3);
    let back = Command::PutBackSet {
        set: set.clone(),
        machine: cab(),
    };
    phone.does(clock(24 * 3, 0), back);
    works(&mut phone, 3..4);
    phone.does(clock(24 * 3 + 15, 10), measure(&set, every_eighth(17.0)));
    let after = [before, vec![(24.0, 17.0)]].concat();
    assert_eq!(readings(&phone, &set), after);
}

#[test]
fn a_row_measured_at_every_eighth_tooth_is_not_taken_for_new_at_all_the_others() {
    let (mut phone, set) = with_a_set();
    works(&mut phone, 0..5);
    let now = clock(24 * 4 + 15, 10);
    phone.does(now, measure(&set, every_eighth(15.0)));
    let state = phone.state();
    let set = state.teeth.set(&set).unwrap();
    // The rules look at the twelve that were measured, and at no other.
    let row = set.row();
    assert_eq!(row.len(), 12);
    assert!(row.iter().all(|tooth| tooth.tip == mm(15.0)));
    // What is not measured is reckoned, and said to be.
    let tips = state.tips_now(set, now);
    assert_eq!((tips[&4].tip, tips[&4].measured), (mm(15.0), true));
    assert_eq!((tips[&5].tip, tips[&5].measured), (mm(15.0), false));
    let tips = state.tips_now(set, now);
    assert_eq!(set.usual_tip(&tips), Some(mm(15.0)));
    assert_eq!(set.wanted_at(7, &tips).unwrap().tip, mm(15.0));
}

/// 5 mm in 40 hours are 1 mm in 8.
#[test]
fn tips_wear_on_in_the_books_after_the_last_pass_as_they_did_before_it() {
    let (mut phone, set) = with_a_set();
    works(&mut phone, 0..5);
    phone.does(clock(24 * 4 + 15, 10), measure(&set, every_eighth(15.0)));
    works(&mut phone, 5..6);
    let now = clock(24 * 6, 0);
    let tip = |phone: &Phone, position| {
        let state = phone.state();
        state.tips_now(state.teeth.set(&set).unwrap(), now)[&position]
    };
    assert_eq!(
        (tip(&phone, 4).tip, tip(&phone, 4).measured),
        (mm(14.0), false)
    );
    // A spare put in then has not worn with the others before.
    let kind = ToothKind::WidePointed;
    let counted = Command::CountStock {
        kind,
        tip: mm(16.0),
        count: 1,
    };
    phone.does(clock(24 * 4 + 15, 20), counted);
    let replace = Command::ReplaceTooth {
        set: set.clone(),
        position: 9,
        kind,
        tip: mm(16.0),
    };
    phone.does(clock(24 * 4 + 15, 30), replace);
    assert_eq!(tip(&phone, 9).tip, mm(15.0));
}

#[test]
fn a_set_never_measured_says_that_its_lengths_are_not_known_once_it_has_worked() {
    let (mut phone, set) = with_a_set();
    let measured = |phone: &Phone| {
        let state = phone.state();
        state.tips_now(state.teeth.set(&set).unwrap(), clock(16, 0))[&1].measured
    };
    assert!(measured(&phone));
    works(&mut phone, 0..1);
    assert!(!measured(&phone));
    // Nobody knows how long its teeth would be as spares: refused, until it is measured.
    let store = Command::StoreSet {
        set: set.clone(),
        done: vec![],
    };
    phone.does(clock(15, 5), store);
    let spares = Command::BreakUpSet {
        set: set.clone(),
        spares: true,
    };
    let why = phone.state().decide(spares.clone());
    assert_eq!(why, Err(Refusal::NeverMeasured { wanted: 6 }));
    phone.does(clock(15, 10), measure(&set, every_eighth(19.0)));
    phone.does(clock(15, 20), spares);
    let teeth = phone.state().teeth;
    assert_eq!(teeth.spares(ToothKind::WidePointed, mm(19.0)), 96);
    adds_up(&teeth);
}

#[test]
fn tips_measured_one_by_one_in_a_shift_are_one_pass_and_those_of_the_next_day_another() {
    let (mut phone, set) = with_a_set();
    for (minutes, (position, tip)) in (0..).zip(every_eighth(19.0)) {
        let at = clock(15, minutes);
        phone.does(at, measure(&set, vec![(position, tip)]));
    }
    // Measured again in the same pass: the later counts.
    phone.does(clock(16, 0), measure(&set, vec![(4, mm(18.5))]));
    let state = phone.state();
    let of = state.teeth.set(&set).unwrap();
    assert_eq!(of.passes().len(), 1);
    assert_eq!(of.last_pass().unwrap().tips[&4].tip, mm(18.5));
    // One tooth looked at the day after does not make the rest of the row unknown.
    phone.does(clock(40, 0), measure(&set, vec![(5, mm(18.0))]));
    let state = phone.state();
    let of = state.teeth.set(&set).unwrap();
    assert_eq!(of.passes().len(), 2);
    assert_eq!(of.row().len(), 12);
}

#[test]
fn a_tooth_replaced_after_a_pass_is_left_out_of_the_row_as_measured_and_stays_in_the_old_reading() {
    let (mut phone, set) = with_a_set();
    works(&mut phone, 0..1);
    let six: Vec<(u16, Length)> = every_eighth(19.0).into_iter().take(6).collect();
    phone.does(clock(15, 10), measure(&set, six));
    let before = readings(&phone, &set);
    let kind = ToothKind::WidePointed;
    let tip = mm(19.0);
    let count = Command::CountStock {
        kind,
        tip,
        count: 1,
    };
    phone.does(clock(15, 20), count);
    let replace = Command::ReplaceTooth {
        set: set.clone(),
        position: 4,
        kind,
        tip,
    };
    phone.does(clock(15, 30), replace);
    assert_eq!(readings(&phone, &set), before);
    let state = phone.state();
    let row = state.teeth.set(&set).unwrap().row();
    assert!(row.iter().all(|tooth| tooth.pos != 4));
    assert_eq!(row.len(), 5);
}

#[test]
fn a_stored_set_remembers_what_was_done_to_it_and_what_was_noted() {
    let (mut phone, set) = with_a_set();
    let note = Command::NoteOnSet {
        set: set.clone(),
        text: "  A kerb at Alder Loop ".to_owned(),
    };
    phone.does(clock(9, 0), note);
    let done = vec![Item::EdgeClean, Item::EdgeOiled];
    let store = Command::StoreSet {
        set: set.clone(),
        done: done.clone(),
    };
    phone.does(clock(15, 0), store);
    let state = phone.state();
    let set = state.teeth.set(&set).unwrap();
    assert_eq!(set.laid_up, done);
    assert_eq!(
        set.notes,
        [(clock(9, 0), "A kerb at Alder Loop".to_owned())]
    );
}

#[test]
fn how_the_teeth_turned_stands_beside_how_the_oiling_was_kept_shift_by_shift() {
    let (mut phone, set) = with_a_set();
    let gravel = Command::UseSetup {
        work: Work::Gravel,
        known: Conditions::default(),
    };
    // The first shift is oiled as planned and all turn; in the second nobody oils and three are held.
    phone.does(clock(6, 55), Command::StartShift(plan(clock(7, 0), 8)));
    phone.does(clock(6, 56), gravel.clone());
    for due in phone.state().running().unwrap().standing(clock(7, 0)).slots {
        phone.does(due.due.at, Command::Oil);
    }
    phone.does(clock(14, 0), Command::AllTurning { machine: cab() });
    phone.does(clock(15, 0), Command::EndShift);
    phone.does(clock(31, 0), Command::StartShift(plan(clock(31, 0), 8)));
    phone.does(clock(31, 1), gravel);
    phone.does(clock(33, 0), note(&set, 3, ToothState::Stiff));
    phone.does(clock(33, 0), note(&set, 4, ToothState::Stuck));
    phone.does(clock(33, 0), note(&set, 5, ToothState::Stuck));
    phone.does(clock(33, 1), Command::LookAtRow { machine: cab() });
    phone.does(clock(39, 0), Command::EndShift);
    // The stuck ones brought the oilings closer together: four fell due. A third in which nobody looked says nothing.
    works(&mut phone, 3..4);
    let turning = phone.state().turning(&cab(), 8, clock(24 * 4, 0));
    let told: Vec<(u32, usize, usize)> = turning
        .iter()
        .map(|it| (it.held, it.oilings.on_time, it.oilings.planned))
        .collect();
    assert_eq!(told, [(0, 3, 3), (3, 0, 4)]);
    assert_eq!(phone.state().turning(&cab(), 1, clock(24 * 4, 0)).len(), 1);
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
