//! The books against sums done by hand, and what holds whatever was recorded: parts add up to the whole, and the order in
//! which records come makes no difference.
//!
//! Never here: what a cost or an interval means (`evenrow_rules`).

mod any;
mod lengths;
mod phone;
mod pine_ridge;
mod sets;
mod tries;

use std::time::Duration;
use tries::tries;

use evenrow_journal::books::{HelpTold, Piece, Tally, by, sum};
use evenrow_journal::command::{PricesAsked, SectionAsked};
use evenrow_journal::event::{Finding, ShiftPlan, ToothState};
use evenrow_journal::export::{AFTERWARDS, report};
use evenrow_journal::{Command, Entry, Id, Journal, State, wire};
use evenrow_rules::oiling::{Status, working_time};
use evenrow_rules::quantity::{Confidence, Instant, Span};
use evenrow_rules::setup::ToothKind;
use evenrow_rules::work::{Conditions, Moisture, Work};
use lengths::mm;
use phone::{Phone, cab, clock};
use proptest::collection::vec;
use proptest::prelude::*;

const KIND: ToothKind = ToothKind::WidePointed;

fn hours(tally: &Tally) -> f64 {
    tally.blade_time.as_secs_f64() / 3600.0
}

#[track_caller]
fn close(got: f64, expect: f64) {
    assert!((got - expect).abs() < 1e-9, "{got} for {expect}");
}

/// A machine with a set of 96 new teeth of 20 mm, done at 5, and spares of 18.
fn with_a_set() -> (Phone, Id) {
    let (mut phone, set) = sets::with_a_set(clock(5, 50), clock(6, 0), KIND);
    let stock = Command::CountStock {
        kind: KIND,
        tip: mm(18.0),
        count: 4,
    };
    phone.does(clock(6, 5), stock);
    (phone, set)
}

fn section(phone: &mut Phone, name: &str, kilometres: f64, width_mm: Option<f64>) -> Id {
    let section = SectionAsked {
        name: name.to_owned(),
        work: Work::Gravel,
        kilometres,
        width_mm,
        passes: 3,
        layers: 1,
        kilometres_per_hour: 8.0,
        minutes_of_work: 45,
    };
    phone.does(
        clock(6, 10),
        Command::PlanSection {
            machine: cab(),
            section,
        },
    )
}

fn tick(phone: &mut Phone, at: Instant, section: &Id) {
    let section = section.clone();
    phone.does(
        at,
        Command::TickSection {
            section,
            done: true,
        },
    );
}

fn start(phone: &mut Phone, day: i64) -> Id {
    let at = |hour, minute| clock(24 * day + hour, minute);
    let plan = ShiftPlan {
        start: at(7, 0),
        end: at(15, 30),
        breaks: vec![Span::new(at(11, 0), at(11, 30))],
    };
    let shift = phone.does(at(6, 50), Command::StartShift(plan));
    let known = Conditions {
        moisture: Some(Moisture::Dusty),
        ..Conditions::default()
    };
    let work = Work::Gravel;
    phone.does(at(6, 52), Command::UseSetup { work, known });
    shift
}

fn measure(phone: &mut Phone, at: Instant, set: &Id, tip: f64) {
    let tips = (1..=6).map(|position| (position, mm(tip))).collect();
    let set = set.clone();
    phone.does(at, Command::MeasureTips { set, tips });
}

const STUCK: Finding = Finding::SomeNot {
    stiff: 0,
    stuck: 2,
    broken: 0,
};

/// One shift on gravel: Alder Loop until ten, Spruce Road until one, then nothing named. Oiled on time at seven and at
/// 9:45, late at 13:20 for 12:50, and not at all
/// in the shorter interval that the stuck teeth brought. A tooth breaks at nine.
fn one_day() -> (Phone, Id) {
    let (mut phone, set) = with_a_set();
    let alder = section(&mut phone, "Alder Loop", 4.0, Some(6000.0));
    let spruce = section(&mut phone, "Spruce Road", 2.0, None);
    let shift = start(&mut phone, 0);
    phone.does(clock(7, 2), Command::Oil);
    phone.does(clock(8, 30), Command::Look(Finding::AllTurning));
    let broken = Command::NoteTooth {
        set: set.clone(),
        position: 12,
        state: ToothState::Broken,
    };
    phone.does(clock(8, 55), broken);
    let replaced = Command::ReplaceTooth {
        set: set.clone(),
        position: 12,
        kind: KIND,
        tip: mm(18.0),
    };
    phone.does(clock(9, 0), replaced);
    phone.does(clock(9, 45), Command::Oil);
    tick(&mut phone, clock(10, 0), &alder);
    phone.does(clock(11, 45), Command::Look(STUCK));
    tick(&mut phone, clock(13, 0), &spruce);
    phone.does(clock(13, 20), Command::Oil);
    phone.does(clock(15, 30), Command::EndShift);
    // Eight hours of work took 0.8 mm: a tenth of a millimetre an hour.
    measure(&mut phone, clock(15, 40), &set, 19.2);
    (phone, shift)
}

/// By hand: 7 to 15:30 less half an hour are 8 h, of which 3 on Alder Loop and 2.5 on Spruce Road. 96 teeth lose 0.8 of 15
/// mm: 5.12 teeth. The broken one had lost 0.2 mm in its two hours: 14.8 of 15 mm are left.
#[test]
fn a_day_adds_up_by_hand_and_so_does_each_of_its_roads() {
    let (phone, _) = one_day();
    let pieces = phone.state().pieces(clock(16, 0));
    let all = sum(&pieces);
    close(hours(&all), 8.0);
    close(all.kilometres, 6.0);
    close(all.square_metres, 24_000.0);
    close(all.worn, 5.12);
    close(all.cut_short, 14.8 / 15.0);
    assert_eq!((all.replaced, all.without_width, all.oiled), (1, 1, 3));
    assert_eq!((all.due, all.on_time, all.looks, all.stuck), (4, 2, 2, 1));
    assert!(all.unmeasured.is_zero());

    let roads = by(&pieces, |piece| piece.road.clone());
    let alder = roads[&Some("Alder Loop".to_owned())];
    close(hours(&alder), 3.0);
    close(alder.worn, 1.92);
    close(alder.cut_short, 14.8 / 15.0);
    close(alder.square_metres, 24_000.0);
    assert_eq!((alder.due, alder.on_time, alder.stuck), (2, 2, 0));
    let spruce = roads[&Some("Spruce Road".to_owned())];
    close(hours(&spruce), 2.5);
    close(spruce.worn, 1.6);
    assert_eq!((spruce.due, spruce.on_time, spruce.stuck), (1, 0, 1));
    assert_eq!((spruce.kilometres, spruce.square_metres), (2.0, 0.0));
    let rest = roads[&None];
    close(hours(&rest), 2.5);
    assert_eq!((rest.kilometres, rest.oiled, rest.due), (0.0, 1, 1));
}

/// By hand: three times half a litre at 2 are 3; 5.12 + 0.98667 teeth at 10 are 61.0667; in all 64.0667 for 8 h, 6 km and
/// 24,000 square metres.
#[test]
fn a_day_costs_what_was_used_at_the_operators_own_prices() {
    let (mut phone, _) = one_day();
    let prices = Command::SetPrices(PricesAsked {
        money: "crowns".to_owned(),
        tooth: 10.0,
        litre: 2.0,
        an_oiling: 0.5,
    });
    phone.does(clock(16, 0), prices);
    let state = phone.state();
    let cost = sum(&state.pieces(clock(16, 0)))
        .cost(state.prices.as_ref().unwrap())
        .unwrap();
    let total = 3.0 + (5.12 + 14.8 / 15.0) * 10.0;
    close(cost.total.in_own_money(), total);
    close(cost.per_hour.unwrap().in_own_money(), total / 8.0);
    close(cost.per_kilometre.unwrap().in_own_money(), total / 6.0);
    close(
        cost.per_square_metre.unwrap().in_own_money(),
        total / 24_000.0,
    );
}

#[test]
fn a_set_that_was_never_measured_says_that_its_wear_is_not_known() {
    let (mut phone, _) = with_a_set();
    start(&mut phone, 0);
    phone.does(clock(15, 30), Command::EndShift);
    let all = sum(&phone.state().pieces(clock(16, 0)));
    assert_eq!((all.worn, all.unmeasured), (0.0, all.blade_time));
    close(hours(&all), 8.0);
}

#[test]
fn a_change_of_work_cuts_the_shift_and_a_road_keeps_its_kilometres_once() {
    let (mut phone, _) = with_a_set();
    let alder = section(&mut phone, "Alder Loop", 4.0, Some(6000.0));
    start(&mut phone, 0);
    let work = Work::StonyGravel;
    let known = Conditions::default();
    phone.does(clock(9, 0), Command::UseSetup { work, known });
    tick(&mut phone, clock(10, 0), &alder);
    phone.does(clock(15, 30), Command::EndShift);
    let pieces = phone.state().pieces(clock(16, 0));
    let works = by(&pieces, |piece| format!("{:?}", piece.work.unwrap()));
    close(hours(&works["Gravel"]), 2.0);
    close(hours(&works["StonyGravel"]), 6.0);
    let roads = by(&pieces, |piece| piece.road.clone());
    let alder = roads[&Some("Alder Loop".to_owned())];
    close(hours(&alder), 3.0);
    close(alder.kilometres, 4.0);
}

#[test]
fn what_becomes_of_the_plan_later_does_not_rewrite_the_books_and_a_correction_in_the_shift_does() {
    let (mut phone, _) = with_a_set();
    let alder = section(&mut phone, "Alder Loop", 4.0, Some(6000.0));
    start(&mut phone, 0);
    tick(&mut phone, clock(10, 0), &alder);
    let to = |kilometres| SectionAsked {
        name: "Alder Loop".to_owned(),
        work: Work::Gravel,
        kilometres,
        width_mm: None,
        passes: 1,
        layers: 1,
        kilometres_per_hour: 8.0,
        minutes_of_work: 45,
    };
    let change = |kilometres| Command::ChangeSection {
        section: alder.clone(),
        to: to(kilometres),
    };
    phone.does(clock(10, 5), change(5.0));
    phone.does(clock(15, 30), Command::EndShift);
    phone.does(clock(17, 0), change(9.0));
    let section = alder.clone();
    phone.does(clock(18, 0), Command::LeaveOutSection { section });
    close(sum(&phone.state().pieces(clock(20, 0))).kilometres, 5.0);
}

#[test]
fn a_report_names_who_the_roads_and_the_pace_the_teeth_and_the_tips_of_its_own_shift() {
    let (mut phone, shift) = one_day();
    let name = "R. Fir".to_owned();
    let who = Command::SayWho {
        shift: shift.clone(),
        name,
    };
    phone.does(clock(16, 0), who);
    let next = start(&mut phone, 1);
    let state = phone.state();
    let now = clock(24 + 8, 0);
    let told = report(&state, state.shift(&shift).unwrap(), now);
    assert_eq!(told.who.as_deref(), Some("R. Fir"));
    let roads: Vec<&str> = told
        .sections
        .iter()
        .map(|it| it.what.name.as_str())
        .collect();
    assert_eq!(roads, ["Alder Loop", "Spruce Road"]);
    assert_eq!(told.sections[1].when, Span::new(clock(10, 0), clock(13, 0)));
    // By hand: 12 and 6 km of passes at 8 km/h, 45 minutes in the hour, are 3 h planned; 7 to 13 without the break and
    // two oil stops of ten minutes are 5 h 10 min.
    close(told.pace.unwrap().in_share(), 310.0 / 180.0);
    assert_eq!(told.replaced.len(), 1);
    assert_eq!(
        (told.replaced[0].position, told.replaced[0].out.state),
        (12, ToothState::Broken)
    );
    assert_eq!((told.measured.len(), told.measured[0].count), (1, 6));
    assert_eq!(told.measured[0].mean, mm(19.2));
    assert!(clock(15, 40) < clock(15, 30).plus(AFTERWARDS));
    // The next shift has none of it.
    let told = report(&state, state.shift(&next).unwrap(), now);
    assert_eq!((told.who, told.pace), (None, None));
    assert!(told.replaced.is_empty() && told.measured.is_empty() && told.sections.is_empty());
}

/// `kept` shifts with every oiling on time and `slid` without any, in each of which the looks found this.
fn shifts(kept: (i64, i64), slid: (i64, i64)) -> State {
    let (mut phone, _) = with_a_set();
    let kinds = [(true, kept), (false, slid)];
    let all = kinds
        .into_iter()
        .flat_map(|(on_time, (count, stuck))| (0..count).map(move |at| (on_time, at < stuck)));
    for (day, (on_time, stuck)) in (0..).zip(all) {
        start(&mut phone, day);
        let dues: Vec<Instant> = {
            let state = phone.state();
            let slots = state
                .running()
                .unwrap()
                .standing(clock(24 * day + 7, 0))
                .slots;
            slots.iter().map(|slot| slot.due.at).collect()
        };
        for due in dues.into_iter().filter(|_| on_time) {
            phone.does(due, Command::Oil);
        }
        let found = if stuck { STUCK } else { Finding::AllTurning };
        phone.does(clock(24 * day + 14, 0), Command::Look(found));
        phone.does(clock(24 * day + 15, 30), Command::EndShift);
    }
    phone.state()
}

fn help(state: &State) -> HelpTold {
    let sure = Confidence::share(0.95).unwrap();
    let ever = Instant::from_unix_ms(0);
    state.oiling_help(ever, clock(24 * 60, 0), sure).told
}

/// Source: the interval is Newcombe's, whose printed example (6 of 7 less 2 of 7: 0.0582 to 0.8062, value from memory) is
/// what these shifts are.
#[test]
fn oiling_on_time_is_said_to_help_only_where_chance_is_ruled_out() {
    let HelpTold::Helps(found) = help(&shifts((7, 2), (7, 6))) else {
        panic!("not told");
    };
    assert!((found.low - 0.0582).abs() < 5e-5 && (found.high - 0.8062).abs() < 5e-5);
    assert!(matches!(help(&shifts((7, 6), (7, 2))), HelpTold::Worse(_)));
    let HelpTold::CannotTell { enough, may_be } = help(&shifts((4, 1), (4, 2))) else {
        panic!("told");
    };
    assert!(may_be.low < 0.0 && 0.0 < may_be.high);
    assert!(8 < enough.unwrap());
    let same = help(&shifts((4, 0), (4, 0)));
    assert!(matches!(same, HelpTold::CannotTell { enough: None, .. }));
    let few = HelpTold::TooFew { wanted: 3 };
    assert_eq!(help(&shifts((7, 0), (2, 2))), few);
    assert_eq!(help(&shifts((0, 0), (0, 0))), few);
}

#[test]
fn a_season_begins_after_four_weeks_without_a_shift() {
    let (mut phone, _) = with_a_set();
    for day in [0, 20, 47, 75, 76] {
        start(&mut phone, day);
        phone.does(clock(24 * day + 15, 30), Command::EndShift);
    }
    let began = phone.state().season_began(clock(24 * 80, 0));
    assert_eq!(began, Some(clock(24 * 75 + 7, 0)));
    assert_eq!(State::default().season_began(clock(0, 0)), None);
}

fn folded(entries: &[Entry]) -> State {
    let mut journal = Journal::default();
    for entry in entries {
        journal.take(&wire::write(entry));
    }
    State::fold(&journal)
}

fn agrees(one: f64, other: f64) -> bool {
    (one - other).abs() <= 1e-9 * one.abs().max(other.abs()).max(1.0)
}

/// A name for what a piece belongs to.
type Key = fn(&Piece) -> String;

const KEYS: [Key; 4] = [
    |piece| format!("{:?}", piece.machine),
    |piece| format!("{:?}", piece.road),
    |piece| format!("{:?}", piece.work),
    |piece| format!("{:?}", piece.start),
];

proptest! {
    #![proptest_config(tries(200))]

    #[test]
    fn whatever_was_recorded_the_parts_add_up_to_the_whole(
        entries in vec(any::entry(), 0..40),
        now in any::moment(),
    ) {
        let state = folded(&entries);
        let pieces = state.pieces(now);
        let whole = sum(&pieces);
        for key in KEYS {
            let parts = by(&pieces, key);
            let all = parts.values().fold(Tally::default(), Tally::and);
            prop_assert_eq!((all.blade_time, all.oiled, all.due, all.on_time, all.looks), (whole.blade_time, whole.oiled, whole.due, whole.on_time, whole.looks));
            prop_assert!(agrees(all.teeth(), whole.teeth()) && agrees(all.kilometres, whole.kilometres));
        }
        // The whole is what the shifts say without being cut.
        let mut time = Duration::ZERO;
        let (mut km, mut oiled, mut looks, mut due) = (0.0, 0, 0, 0);
        for shift in &state.shifts {
            let end = shift.ended.unwrap_or(now).max(shift.plan.start);
            let span = Span::new(shift.plan.start, end);
            time = time.saturating_add(working_time(span, &shift.facts(now).breaks()));
            km += shift.sections_done().iter().map(|it| it.what.road.length().in_kilometres()).sum::<f64>();
            oiled += shift.oiled.len();
            looks += shift.looks.len();
            due += shift.standing(now).slots.iter().filter(|it| it.status != Status::Ahead).count();
        }
        prop_assert_eq!(whole.blade_time, time);
        prop_assert!(agrees(whole.kilometres, km));
        prop_assert_eq!((whole.oiled as usize, whole.looks as usize, whole.due as usize), (oiled, looks, due));
        prop_assert_eq!(whole.replaced as usize, state.teeth.replaced.len());
        prop_assert!(whole.on_time <= whole.due && whole.stuck <= whole.looks);
        prop_assert!(0.0 <= whole.worn && 0.0 <= whole.cut_short && whole.unmeasured <= whole.blade_time);
    }

    #[test]
    fn the_order_in_which_records_come_makes_no_difference(
        entries in vec(any::entry(), 0..40),
        now in any::moment(),
    ) {
        let backwards: Vec<Entry> = entries.iter().rev().cloned().collect();
        prop_assert_eq!(folded(&entries).pieces(now), folded(&backwards).pieces(now));
    }
}
