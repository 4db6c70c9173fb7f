//! What a season asks for, against sums done by hand, and the refusals with what would be enough.
//!
//! Never here: the statistics (`evenrow_rules`).

mod any;
mod lengths;
mod phone;
mod pine_ridge;
mod sets;
mod tries;

use tries::tries;

use evenrow_journal::event::{SeasonPlan, SeasonRoad, ShiftPlan};
use evenrow_journal::season::{NoSeason, Season, Today};
use evenrow_journal::{Command, Journal, State, wire};
use evenrow_rules::quantity::{Confidence, Hours};
use evenrow_rules::season::{OrderBy, Room};
use evenrow_rules::setup::ToothKind;
use evenrow_rules::wear::Refusal;
use lengths::mm;
use phone::{Phone, cab, clock};
use proptest::collection::vec;
use proptest::prelude::*;

const KIND: ToothKind = ToothKind::WideBlunt;

/// 15 June 2026 in days since 1970: 56 years with 14 leap days, and 165 days.
const TODAY: i32 = 56 * 365 + 14 + 165;

/// A phone on 15 June with a set of 96 teeth of 20 mm, done at 5, that was measured after so many shifts of eight hours;
/// each took 0.8 mm.
fn after(shifts: i64) -> Phone {
    let (mut phone, set) = sets::with_a_set(clock(-24 * 20, 0), clock(-24 * 20, 1), KIND);
    for shift in 0..shifts {
        let at = |hour| clock(24 * (shift - 10) + hour, 0);
        let plan = ShiftPlan {
            start: at(7),
            end: at(15),
            breaks: Vec::new(),
        };
        phone.does(at(6), Command::StartShift(plan));
        phone.does(at(15), Command::EndShift);
        let tip = mm(20.0 - 0.8 * (shift + 1) as f64);
        let tips = (1..=8).map(|position| (position, tip)).collect();
        let set = set.clone();
        phone.does(at(16), Command::MeasureTips { set, tips });
    }
    phone
}

/// Alder Loop 15 times 200 minutes, Spruce Road 60 times 100: 150 hours in four weeks of 40, from tomorrow on.
fn plan() -> SeasonPlan {
    let road = |name: &str, minutes, visits| SeasonRoad {
        name: name.to_owned(),
        minutes,
        visits,
    };
    SeasonPlan {
        first_day: TODAY + 1,
        weeks: 4,
        hours_a_week: 40,
        roads: vec![road("Alder Loop", 200, 15), road("Spruce Road", 100, 60)],
    }
}

fn asks(phone: &Phone, plan: &SeasonPlan) -> Result<Season, NoSeason> {
    let today = Today {
        now: clock(12, 0),
        day: TODAY.into(),
        offset_minutes: -360,
    };
    let sure = Confidence::share(0.95).unwrap();
    phone.state().season(&cab(), plan, 14, today, sure)
}

fn spares(phone: &mut Phone, count: u32) {
    let tip = mm(20.0);
    let kind = KIND;
    phone.does(clock(10, 0), Command::CountStock { kind, tip, count });
}

fn hours(hours: f64) -> Hours {
    Hours::new(hours).unwrap()
}

/// By hand: 0.8 mm in 8 h are 0.1 mm an hour, without scatter; 150 h take 15 mm, just a set. 18.4 mm are left of the
/// eight teeth measured, and 18.5, to the half millimetre, of the 88 others: 13.49 of 15 mm, which lasts for 25.2 of the 28
/// days; a fortnight before that is day 11. No tooth broke in 16 h: with the
/// belief of one in 8, n of them are enough for 150 h when (150/174)ⁿ⁺¹ is no more than 0.05, which 20 are.
#[test]
fn a_season_needs_the_teeth_that_its_hours_wear_away_and_the_day_to_order_by_follows() {
    let mut phone = after(2);
    spares(&mut phone, 30);
    let season = asks(&phone, &plan()).unwrap();
    assert_eq!(season.roads, [hours(50.0), hours(100.0)]);
    assert_eq!(
        (season.needed, season.available),
        (hours(150.0), hours(160.0))
    );
    assert_eq!(season.room, Room::Spare(hours(10.0)));
    assert!((season.rate.mm_per_hour - 0.1).abs() < 1e-9);
    assert_eq!((season.sets.needed, season.sets.to_order), (1, 1));
    assert!((season.on_hand - (8.0 * 13.4 + 88.0 * 13.5) / 96.0 / 15.0).abs() < 1e-9);
    assert_eq!((season.kind, season.teeth_a_set), (KIND, 96));
    assert_eq!((season.breakage.teeth, season.spares), (20, 30));
    assert_eq!(season.teeth_to_order, 96);
    let day = i64::from(TODAY) + 1 + 25 - 14;
    assert_eq!(
        season.order_by,
        Some(OrderBy::InTime { day, days_left: 12 })
    );
}

#[test]
fn teeth_that_may_break_want_to_be_there_on_the_first_day() {
    let season = asks(&after(2), &plan()).unwrap();
    assert_eq!(season.teeth_to_order, 96 + 20);
    let day = i64::from(TODAY) + 1 - 14;
    assert_eq!(
        season.order_by,
        Some(OrderBy::TooLate { day, days_ago: 13 })
    );
}

#[test]
fn where_what_there_is_lasts_nothing_is_ordered_and_missing_hours_are_told() {
    let mut phone = after(2);
    spares(&mut phone, 30);
    let short = SeasonPlan {
        hours_a_week: 5,
        roads: vec![SeasonRoad {
            name: "Alder Loop".to_owned(),
            minutes: 600,
            visits: 4,
        }],
        ..plan()
    };
    let season = asks(&phone, &short).unwrap();
    assert_eq!((season.teeth_to_order, season.order_by), (0, None));
    assert_eq!(season.room, Room::Missing(hours(20.0)));
}

/// Two shifts of eight hours were worked in a season that began ten days ago and has 18 days left.
#[test]
fn a_season_that_runs_counts_only_what_is_left_of_it() {
    let running = SeasonPlan {
        first_day: TODAY - 10,
        ..plan()
    };
    let season = asks(&after(2), &running).unwrap();
    assert_eq!((season.worked, season.needed), (hours(16.0), hours(134.0)));
    assert!((season.available.in_hours() - 40.0 * 18.0 / 7.0).abs() < 1e-9);
}

#[test]
fn too_little_is_refused_with_what_would_be_enough() {
    let none = SeasonPlan {
        roads: Vec::new(),
        ..plan()
    };
    assert_eq!(asks(&after(2), &none), Err(NoSeason::NoRoads));
    let few = Refusal::TooFewTimes { got: 2, wanted: 3 };
    assert_eq!(asks(&after(1), &plan()), Err(NoSeason::Wear(few)));
    assert_eq!(asks(&Phone::default(), &plan()), Err(NoSeason::NoSet));
}

proptest! {
    #![proptest_config(tries(200))]

    #[test]
    fn no_journal_makes_the_season_fail(
        entries in vec(any::entry(), 0..40),
        now in any::moment(),
        day in -1_000_000_i64..1_000_000,
        delivery_days: u16,
    ) {
        let mut journal = Journal::default();
        for entry in &entries {
            journal.take(&wire::write(entry));
        }
        let state = State::fold(&journal);
        let today = Today { now, day, offset_minutes: 120 };
        for machine in &state.machines {
            for plan in state.seasons.values() {
                let sure = Confidence::share(0.95).unwrap();
                if let Ok(season) = state.season(&machine.id, plan, delivery_days, today, sure) {
                    prop_assert_eq!(season.order_by.is_some(), 0 < season.teeth_to_order || 0 < season.sets.to_order);
                }
            }
        }
    }
}
