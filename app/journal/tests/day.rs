//! The day's plan: what stands on it, in which order, what was done when, and what is left of the day.
//!
//! Never here: how long a section takes (`evenrow_rules`), and which commands are refused (`decide`).

mod any;
mod phone;
mod pine_ridge;
mod tries;

use phone::{Phone, cab, clock};
use pine_ridge::pine_ridge_2;
use std::time::Duration;
use tries::tries;

use evenrow_journal::command::SectionAsked;
use evenrow_journal::day::DayPlan;
use evenrow_journal::event::ShiftPlan;
use evenrow_journal::{Command, Id, Journal, State, wire};
use evenrow_rules::machine::{FOOT, LONG_PLATE, SHORT_PLATE, USUAL_PITCH};
use evenrow_rules::quantity::{Instant, Span};
use evenrow_rules::work::{Conditions, Moisture, Work};
use proptest::collection::vec;
use proptest::prelude::*;

/// What a phone is asked about the day's plan.
trait Plans {
    fn plan(&self, now: Instant) -> DayPlan;
    fn plans(&mut self, at: Instant, name: &str, kilometres: f64) -> Id;
    fn ticks(&mut self, at: Instant, section: &Id, done: bool) -> Id;
}

impl Plans for Phone {
    fn plan(&self, now: Instant) -> DayPlan {
        let state = self.state();
        state.day_plan(&state.machines[0], &seven_to_half_past_three(), now)
    }

    fn plans(&mut self, at: Instant, name: &str, kilometres: f64) -> Id {
        self.does(
            at,
            Command::PlanSection {
                machine: cab(),
                section: asked(name, kilometres),
            },
        )
    }

    fn ticks(&mut self, at: Instant, section: &Id, done: bool) -> Id {
        let section = section.clone();
        self.does(at, Command::TickSection { section, done })
    }
}

fn seven_to_half_past_three() -> ShiftPlan {
    ShiftPlan {
        start: clock(7, 0),
        end: clock(15, 30),
        breaks: vec![Span::new(clock(11, 0), clock(11, 30))],
    }
}

/// Four passes at 8 km/h, all of the hour: half an hour a kilometre.
fn asked(name: &str, kilometres: f64) -> SectionAsked {
    SectionAsked {
        name: name.to_owned(),
        work: Work::Gravel,
        kilometres,
        width_mm: None,
        passes: 4,
        layers: 1,
        kilometres_per_hour: 8.0,
        minutes_of_work: 60,
    }
}

fn with_a_machine() -> Phone {
    let mut phone = Phone::default();
    phone.does(clock(6, 0), pine_ridge_2());
    phone
}

/// Three sections of two, four and six kilometres: an hour, two and three. The shift runs, on dusty gravel: the sockets
/// fall due at 07:00, 09:40 and 12:50.
fn a_day_in_three() -> (Phone, [Id; 3]) {
    let mut phone = with_a_machine();
    let sections = [("Alder Loop", 2.0), ("Spruce Road", 4.0), ("The pit", 6.0)];
    let sections = sections.map(|(name, km)| phone.plans(clock(6, 30), name, km));
    phone.does(
        clock(6, 50),
        Command::StartShift(seven_to_half_past_three()),
    );
    let known = Conditions {
        moisture: Some(Moisture::Dusty),
        ..Conditions::default()
    };
    let work = Work::Gravel;
    phone.does(clock(6, 55), Command::UseSetup { work, known });
    (phone, sections)
}

fn names(plan: &DayPlan) -> Vec<&str> {
    plan.sections
        .iter()
        .map(|it| it.what.name.as_str())
        .collect()
}

fn ends(plan: &DayPlan) -> Vec<Instant> {
    plan.sections.iter().map(|it| it.when.end()).collect()
}

/// Source: arithmetic. 07:00 oil, an hour; to 09:40 an hour and a half of the next, oil, the rest; lunch at 11:00; oil at
/// 12:50.
#[test]
fn sections_breaks_and_oilings_stand_on_one_line() {
    let (phone, _) = a_day_in_three();
    let plan = phone.plan(clock(6, 58));
    assert_eq!(ends(&plan), [clock(8, 10), clock(10, 20), clock(14, 0)]);
    assert_eq!(plan.finish(), Some(clock(14, 0)));
    assert!(plan.sections.iter().all(|it| plan.fits(it)));
    let hours = (plan.planned.in_hours(), plan.left.in_hours());
    assert!((hours.0 - 6.0).abs() < 1e-9 && (hours.1 - 6.0).abs() < 1e-9);
    assert!((plan.driven.in_kilometres() - 48.0).abs() < 1e-9);
}

#[test]
fn without_a_shift_the_day_is_planned_as_it_would_be_in_the_usual_one() {
    let mut phone = with_a_machine();
    phone.plans(clock(5, 0), "Alder Loop", 2.0);
    let plan = phone.plan(clock(5, 0));
    assert_eq!(plan.shift, seven_to_half_past_three().span());
    assert!(!plan.runs);
    // Gravel of which nothing is known is oiled three times, once before the start.
    assert_eq!(plan.oilings.slots.len(), 3);
    assert_eq!(ends(&plan), [clock(8, 10)]);
}

#[test]
fn what_does_not_fit_before_the_end_of_the_shift_is_told_apart_and_stays_for_another_day() {
    let (mut phone, sections) = a_day_in_three();
    phone.plans(clock(6, 57), "Birch Hill", 8.0);
    let plan = phone.plan(clock(6, 58));
    let late: Vec<&str> = plan
        .sections
        .iter()
        .filter(|it| !plan.fits(it))
        .map(|it| it.what.name.as_str())
        .collect();
    assert_eq!(late, ["Birch Hill"]);
    for section in &sections {
        phone.ticks(clock(15, 0), section, true);
    }
    phone.does(clock(15, 30), Command::EndShift);
    // On the next day it is all that is left.
    assert_eq!(names(&phone.plan(clock(24 + 6, 0))), ["Birch Hill"]);
}

#[test]
fn sections_change_places_and_undo_gives_the_old_order_back() {
    let (mut phone, [first, second, third]) = a_day_in_three();
    let names_now = |phone: &Phone| {
        let plan = phone.plan(clock(6, 58));
        names(&plan).join(", ")
    };
    let before = |section: &Id, before: &Id| Command::MoveSection {
        section: section.clone(),
        before: before.clone(),
    };
    phone.does(clock(6, 58), before(&third, &first));
    assert_eq!(names_now(&phone), "The pit, Alder Loop, Spruce Road");
    phone.does(clock(6, 58), before(&third, &second));
    assert_eq!(names_now(&phone), "Alder Loop, The pit, Spruce Road");
    let last = phone.does(clock(6, 58), before(&first, &second));
    assert_eq!(names_now(&phone), "The pit, Alder Loop, Spruce Road");
    phone.does(clock(6, 58), Command::Strike(vec![last]));
    assert_eq!(names_now(&phone), "Alder Loop, The pit, Spruce Road");
    phone.does(clock(6, 58), before(&first, &first));
    assert_eq!(names_now(&phone), "Alder Loop, The pit, Spruce Road");
}

#[test]
fn a_section_left_out_by_mistake_comes_back_where_it_stood() {
    let (mut phone, [_, second, _]) = a_day_in_three();
    let section = second;
    let left_out = phone.does(clock(7, 0), Command::LeaveOutSection { section });
    assert_eq!(names(&phone.plan(clock(7, 0))), ["Alder Loop", "The pit"]);
    phone.does(clock(7, 0), Command::Strike(vec![left_out]));
    let all = ["Alder Loop", "Spruce Road", "The pit"];
    assert_eq!(names(&phone.plan(clock(7, 0))), all);
}

/// Source: arithmetic. The hour took from 07:10, after the oiling, to 08:40: an hour and a half. So the two hours left of
/// the next become three, and the three after it four and a half.
#[test]
fn a_slow_morning_puts_off_the_rest_by_its_own_pace() {
    let (mut phone, [first, ..]) = a_day_in_three();
    phone.does(clock(7, 1), Command::Oil);
    phone.ticks(clock(8, 40), &first, true);
    let plan = phone.plan(clock(8, 40));
    assert!((plan.pace.unwrap().in_share() - 1.5).abs() < 1e-9);
    assert_eq!(plan.sections[0].done, Some(clock(8, 40)));
    assert_eq!(plan.sections[0].when, Span::new(clock(7, 0), clock(8, 40)));
    // 08:40, three hours, oil at 09:40, lunch: 12:20. Four and a half hours, oil at 12:50, and at 15:30 once more, since
    // work goes on.
    assert_eq!(plan.sections[1].when.end(), clock(12, 20));
    assert!(!plan.fits(&plan.sections[2]));
    assert!((plan.left.in_hours() - 7.5).abs() < 1e-9);
    assert!((plan.planned.in_hours() - 6.0).abs() < 1e-9);
}

#[test]
fn a_tick_taken_back_is_as_if_it_had_not_been_set() {
    let (mut phone, [first, ..]) = a_day_in_three();
    let before = phone.plan(clock(9, 0));
    phone.ticks(clock(8, 40), &first, true);
    assert_ne!(phone.plan(clock(9, 0)), before);
    phone.ticks(clock(8, 41), &first, false);
    assert_eq!(phone.plan(clock(9, 0)), before);
}

#[test]
fn a_section_that_is_not_ticked_is_not_done_before_now() {
    let (phone, _) = a_day_in_three();
    let plan = phone.plan(clock(9, 0));
    assert_eq!(plan.sections[0].when.end(), clock(9, 0));
    assert_eq!(plan.pace, None);
}

#[test]
fn ticks_move_with_the_clock_when_the_operator_says_that_the_new_time_is_right() {
    let (mut phone, [first, ..]) = a_day_in_three();
    phone.ticks(clock(8, 40), &first, true);
    let jump = phone.does(clock(9, 45), Command::NoteJump { by_ms: 3_600_000 });
    let moved = true;
    phone.does(clock(9, 46), Command::AnswerClock { jump, moved });
    let plan = phone.plan(clock(9, 46));
    let hour = Duration::from_hours(1);
    assert_eq!(plan.sections[0].done, Some(clock(8, 40).plus(hour)));
    assert_eq!(plan.shift.start(), clock(8, 0));
}

#[test]
fn another_machine_has_a_plan_of_its_own() {
    let mut phone = with_a_machine();
    phone.plans(clock(6, 5), "Alder Loop", 2.0);
    phone.does(
        clock(6, 10),
        Command::AddMachine {
            name: "Pine Ridge 3".to_owned(),
            moldboard: FOOT.times(13),
            plates: (SHORT_PLATE, LONG_PLATE),
            pitch: USUAL_PITCH,
        },
    );
    let state = phone.state();
    let plan = state.day_plan(&state.machines[1], &seven_to_half_past_three(), clock(7, 0));
    assert_eq!(names(&plan), Vec::<&str>::new());
    assert_eq!(plan.finish(), None);
    assert_eq!(names(&phone.plan(clock(7, 0))), ["Alder Loop"]);
}

proptest! {
    #![proptest_config(tries(100))]

    #[test]
    fn any_journal_has_a_plan_of_the_day_in_which_one_section_follows_the_other(
        entries in vec(any::entry(), 0..40),
        now in any::moment(),
    ) {
        let mut journal = Journal::default();
        for entry in &entries {
            journal.take(&wire::write(entry));
        }
        let state = State::fold(&journal);
        for machine in &state.machines {
            let plan = state.day_plan(machine, &seven_to_half_past_three(), now);
            let mine = plan.sections.iter().all(|it| {
                state.sections.iter().any(|known| known.id == it.id && known.machine == machine.id)
            });
            prop_assert!(mine);
            let open: Vec<_> = plan.sections.iter().filter(|it| it.done.is_none()).collect();
            prop_assert!(open.windows(2).all(|two| two[0].when.end() == two[1].when.start()));
            let last = plan.sections.iter().map(|it| it.when.end()).max();
            prop_assert_eq!(plan.finish(), last);
        }
    }
}
