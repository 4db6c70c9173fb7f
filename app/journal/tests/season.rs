//! Six weeks of an invented road district: thirty shifts on gravel with one machine and two sets of teeth. What it leaves
//! behind stands in `tests/journals/season.jsonl`, where the browser stories take it from; the morning after it, with a
//! shift that runs, in `morning.jsonl` beside it. The app shows both to whoever wants to look round.
//!
//! All of it is invented. Never here: a check of a rule.

mod lengths;
mod phone;

use std::time::Duration;

use evenrow_journal::command::{PricesAsked, SectionAsked};
use evenrow_journal::event::{Finding, NewSet, ShiftPlan, TimeOfDay, ToothState, UsualShift};
use evenrow_journal::{Command, Id, State};
use evenrow_rules::checklist::List;
use evenrow_rules::machine::{FOOT, LONG_PLATE, SHORT_PLATE, USUAL_PITCH};
use evenrow_rules::quantity::{Instant, Length, Span};
use evenrow_rules::setup::ToothKind;
use evenrow_rules::wear::Tips;
use evenrow_rules::work::{Conditions, Moisture, Work};
use lengths::mm;
use phone::{Phone, cab, clock};

/// What the season left behind.
const SAVED: &str = include_str!("../../../tests/journals/season.jsonl");

/// What the morning after it adds.
const SAVED_MORNING: &str = include_str!("../../../tests/journals/morning.jsonl");

const KIND: ToothKind = ToothKind::WidePointed;

/// How many shifts there are, Monday to Friday.
const SHIFTS: i64 = 30;

/// In which shift the second set goes on.
const SECOND_SET: i64 = 20;

/// A number from 0 to 99 that looks like chance and is the same every time.
fn chance(of: i64) -> i64 {
    (of * 7919 + of * of * 104_729).rem_euclid(100)
}

/// The morning of a shift: the first is Monday 15 June 2026, and no work is done at the weekend.
fn morning(shift: i64) -> i64 {
    24 * (shift + 2 * (shift / 5))
}

fn set_of(tip: f64) -> NewSet {
    NewSet {
        kind: KIND,
        tips: Tips::new(mm(20.0), mm(5.0)).unwrap(),
        tip: mm(tip),
        teeth: 104,
    }
}

/// How long the tip at a position is after so many hours: the right end wears a fifth faster than the left.
fn tip_after(hours: f64, position: u16) -> Length {
    let faster = 1.0 + 0.2 * f64::from(position) / 104.0;
    let scatter = (chance(i64::from(position) + hours as i64) - 50) as f64 / 200.0;
    let tip = 20.0 - 0.048 * hours * faster + scatter;
    mm((tip * 2.0).round() / 2.0)
}

/// Goes over every eighth tooth, the fourth first.
fn pass(phone: &mut Phone, at: Instant, set: &Id) {
    let hours = |state: State| {
        let worked = state.blade_time(state.teeth.set(set).unwrap(), at);
        worked.as_secs_f64() / 3600.0
    };
    let hours = hours(phone.state());
    let tips = (0..13).map(|at| 4 + 8 * at);
    let tips = tips.map(|position| (position, tip_after(hours, position)));
    let tips = tips.collect();
    let set = set.clone();
    phone.does(at, Command::MeasureTips { set, tips });
}

/// A tooth found bad, and what is done about it.
fn finds(phone: &mut Phone, at: Instant, set: &Id, position: u16, state: ToothState) {
    let noted = Command::NoteTooth {
        set: set.clone(),
        position,
        state,
    };
    phone.does(at, noted);
}

/// The spare that lies nearest to the row takes the place of a tooth.
fn replaces(phone: &mut Phone, at: Instant, set: &Id, position: u16) {
    let state = phone.state();
    let mounted = state.teeth.set(set).unwrap();
    let usual = mounted.usual_tip(&state.tips_now(mounted, at)).unwrap();
    let off = |um: u32| usual.in_micrometres().abs_diff(um);
    let spares = state.teeth.stock.iter().map(|(kind, _)| *kind);
    let Some((kind, um)) = spares.min_by_key(|(_, um)| off(*um)) else {
        return;
    };
    let replaced = Command::ReplaceTooth {
        set: set.clone(),
        position,
        kind,
        tip: Length::micrometres(um),
    };
    phone.does(at, replaced);
}

/// The usual shift is started, on gravel that is dusty.
fn starts_on_gravel(phone: &mut Phone, at: &impl Fn(i64, i64) -> Instant) {
    let plan = ShiftPlan {
        start: at(7, 0),
        end: at(15, 30),
        breaks: vec![Span::new(at(11, 0), at(11, 30))],
    };
    phone.does(at(6, 50), Command::StartShift(plan));
    let known = Conditions {
        moisture: Some(Moisture::Dusty),
        ..Conditions::default()
    };
    let work = Work::Gravel;
    phone.does(at(6, 52), Command::UseSetup { work, known });
}

fn shift(phone: &mut Phone, number: i64, set: &Id) {
    let at = |hour, minute| clock(morning(number) + hour, minute);
    starts_on_gravel(phone, &at);
    // In every fourth shift oiling is let slide, and the teeth pay for it.
    let slack = chance(number) < 25;
    let dues: Vec<Instant> = {
        let state = phone.state();
        let slots = state.running().unwrap().standing(at(7, 0)).slots;
        slots.into_iter().map(|slot| slot.due.at).collect()
    };
    for (which, due) in (0_i64..).zip(dues) {
        let late = if slack {
            35
        } else {
            2 + chance(number + 7) / 20
        };
        let skipped = slack && which == 2;
        if !skipped {
            phone.does(due.plus(Duration::from_mins(late as u64)), Command::Oil);
        }
        let look = due.plus(Duration::from_mins(75));
        let position = |of: i64| 1 + (chance(number * 10 + of) * 104 / 100) as u16;
        if slack && which == 1 {
            for of in 0..2 + chance(number + 3) / 25 {
                finds(phone, look, set, position(of), ToothState::Stuck);
            }
            phone.does(look, Command::LookAtRow { machine: cab() });
            let freed = look.plus(Duration::from_mins(50));
            phone.does(freed, Command::AllTurning { machine: cab() });
        } else if chance(number + which + 50) < 8 {
            finds(phone, look, set, position(9), ToothState::Broken);
            phone.does(look, Command::LookAtRow { machine: cab() });
            let put_in = look.plus(Duration::from_mins(20));
            replaces(phone, put_in, set, position(9));
        } else {
            phone.does(look, Command::AllTurning { machine: cab() });
        }
    }
    phone.does(at(15, 30), Command::EndShift);
    if number % 4 == 3 {
        pass(phone, at(15, 40), set);
    }
}

/// The whole of it.
fn season() -> Phone {
    let mut phone = Phone::default();
    let machine = Command::DescribeMachine {
        name: "Pine Ridge 2".to_owned(),
        moldboard: FOOT.times(13),
        plates: (SHORT_PLATE, LONG_PLATE),
        pitch: USUAL_PITCH,
    };
    phone.does(clock(5, 50), machine);
    let mount = || Command::MountSet {
        machine: cab(),
        new: set_of(20.0),
    };
    let mut set = phone.does(clock(6, 0), mount());
    for (tip, count) in [(20.0, 4), (17.0, 3), (14.0, 3)] {
        let tip = mm(tip);
        let counted = Command::CountStock {
            kind: KIND,
            tip,
            count,
        };
        phone.does(clock(6, 5), counted);
    }
    for number in 0..SHIFTS {
        if number == SECOND_SET {
            let at = |minute| clock(morning(number) + 5, minute);
            let first = set.clone();
            let text = "Half worn: the second set goes on, this one gives the spares";
            let noted = Command::NoteOnSet {
                set: first.clone(),
                text: text.to_owned(),
            };
            phone.does(at(0), noted);
            set = phone.does(at(30), mount());
            let spares = Command::BreakUpSet {
                set: first,
                spares: true,
            };
            phone.does(at(40), spares);
        }
        shift(&mut phone, number, &set);
    }
    // Left for whoever looks next.
    let evening = |minute| clock(morning(SHIFTS - 1) + 16, minute);
    finds(&mut phone, evening(0), &set, 31, ToothState::Stuck);
    finds(&mut phone, evening(1), &set, 32, ToothState::Stiff);
    finds(&mut phone, evening(2), &set, 57, ToothState::Broken);
    finds(&mut phone, evening(3), &set, 90, ToothState::Chipped);
    phone
}

fn section(name: &str, kilometres: f64, passes: u16) -> Command {
    Command::PlanSection {
        machine: cab(),
        section: SectionAsked {
            name: name.to_owned(),
            work: Work::Gravel,
            kilometres,
            width_mm: Some(6_000.0),
            passes,
            layers: 1,
            kilometres_per_hour: 6.0,
            minutes_of_work: 45,
        },
    }
}

/// The morning after the season, until half past eight: a shift on gravel runs, and its second oiling is due at 09:40.
fn morning_after(phone: &mut Phone) {
    let at = |hour, minute| clock(morning(SHIFTS) + hour, minute);
    let usual = UsualShift {
        start: TimeOfDay::from_minutes(7 * 60),
        end: TimeOfDay::from_minutes(15 * 60 + 30),
        rest: Some((TimeOfDay::from_minutes(11 * 60), 30)),
    };
    phone.does(at(6, 30), Command::SetUsualShift(usual));
    let prices = PricesAsked {
        money: String::new(),
        tooth: 8.25,
        litre: 1.4,
        an_oiling: 0.75,
    };
    phone.does(at(6, 31), Command::SetPrices(prices));
    let alder = phone.does(at(6, 35), section("Alder Loop", 2.5, 2));
    phone.does(at(6, 36), section("Spruce Road to the old bridge", 4.0, 2));
    phone.does(at(6, 37), section("Quarry Road", 3.0, 3));
    starts_on_gravel(phone, &at);
    for (minute, item) in (53..).zip(List::Opening.items()) {
        let ticked = Command::Mark {
            list: List::Opening,
            item: *item,
            done: true,
        };
        phone.does(at(6, minute), ticked);
    }
    phone.does(at(7, 2), Command::Oil);
    phone.does(at(8, 10), Command::Look(Finding::AllTurning));
    let ticked = Command::TickSection {
        section: alder,
        done: true,
    };
    phone.does(at(8, 20), ticked);
    let note = "Alder Loop: a soft shoulder after the bridge";
    phone.does(at(8, 22), Command::Note(note.to_owned()));
}

/// The lines of what a phone has kept, from one count on.
fn lines_from(phone: &Phone, count: u64) -> String {
    let kept = phone.journal.readable();
    let later = kept.filter(|(_, entry)| count <= entry.count);
    later.flat_map(|(record, _)| [record, "\n"]).collect()
}

#[track_caller]
fn check_saved(name: &str, told: &str, saved: &str) {
    if std::env::var_os("EVENROW_WRITE_SEASON").is_some() {
        let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/../../tests/journals");
        std::fs::write(format!("{folder}/{name}"), told).unwrap();
    }
    assert!(told == saved, "write it anew: EVENROW_WRITE_SEASON=1");
}

/// `EVENROW_WRITE_SEASON=1` writes the files anew.
#[test]
fn the_season_and_its_morning_in_the_saved_files_are_the_ones_that_are_told_here() {
    let mut phone = season();
    check_saved("season.jsonl", &lines_from(&phone, 0), SAVED);
    let next = phone.journal.next_count();
    morning_after(&mut phone);
    check_saved("morning.jsonl", &lines_from(&phone, next), SAVED_MORNING);
}

#[test]
fn a_season_ends_with_a_second_set_and_the_first_one_in_the_box_of_spares() {
    let state = season().state();
    assert_eq!(state.shifts.len(), SHIFTS as usize);
    let set = state.teeth.on(&cab()).unwrap();
    assert_eq!(set.teeth.len(), 104);
    assert!(90 < state.teeth.spares_in_all());
    let now = clock(morning(SHIFTS - 1) + 17, 0);
    let hours = state.blade_time(set, now).as_secs_f64() / 3600.0;
    assert!((70.0..=85.0).contains(&hours), "{hours}");
    let wanted = set.bad(&state.tips_now(set, now));
    assert_eq!(wanted.len(), 2);
}
