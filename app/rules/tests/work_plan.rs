//! Hours, passes, cost and the season, compared with printed examples and with an independent statistics crate.
//!
//! Never here: when oil falls due within a shift (`a_shift_of_oilings`).

mod table;

use std::collections::BTreeMap;
use std::num::NonZeroU16;
use std::time::Duration;

use evenrow_rules::cost::{
    Done, LEAST_DONE, Litres, Money, NothingDone, Prices, Teeth, Used, cost,
};
use evenrow_rules::machine::FOOT;
use evenrow_rules::plan::{
    Edge, Leg, MOST_PASSES, NoPasses, OIL_STOP, Operation, Passes, Stops, area_rate, done_at,
    loosened, oil_stops, passes, work_time,
};
use evenrow_rules::quantity::{
    Area, Confidence, Distance, Efficiency, Figure, Hours, Instant, Length, Span, Speed,
};
use evenrow_rules::season::{OrderBy, Pace, Road, Room, WearRate, demand, order_by, room};
use statrs::distribution::{ContinuousCDF, LogNormal};
use table::{Row, rows};

const WORK_TIMES: &str = include_str!("../../../tests/tables/work_times.csv");
const AREA_RATES: &str = include_str!("../../../tests/tables/area_rates.csv");
const HANDBOOK_SPEEDS: &str = include_str!("../../../tests/tables/handbook_speeds.csv");
const GRAVEL_QUANTITIES: &str = include_str!("../../../tests/tables/gravel_quantities.csv");

/// A mile is 1.609344 km exactly.
const KM_PER_MILE: f64 = 1.609_344;

fn mm(mm: f64) -> Length {
    Length::millimetres(mm).unwrap()
}

fn metres(metres: f64) -> Length {
    mm(metres * 1000.0)
}

fn km(km: f64) -> Distance {
    Distance::kilometres(km).unwrap()
}

fn kmh(kmh: f64) -> Speed {
    Speed::kilometres_per_hour(kmh).unwrap()
}

fn hours(hours: f64) -> Hours {
    Hours::new(hours).unwrap()
}

fn efficiency(share: f64) -> Efficiency {
    Efficiency::share(share).unwrap()
}

#[track_caller]
fn close(got: f64, expect: f64, within: f64) {
    assert!((got - expect).abs() <= within, "{got} for {expect}");
}

// How long it takes.

fn leg_of(row: &Row) -> Leg {
    let to_km = match row.text("unit") {
        "mile" => KM_PER_MILE,
        "km" => 1.0,
        other => panic!("nothing is known of {other:?}"),
    };
    Leg {
        passes: row.text("passes").parse().unwrap(),
        distance: km(row.number("distance") * to_km),
        speed: kmh(row.number("speed") * to_km),
        edge: Edge::Down,
    }
}

/// The examples of `work_times.csv`, each with its rows.
fn examples() -> Vec<Vec<Row>> {
    let mut examples: BTreeMap<String, Vec<Row>> = BTreeMap::new();
    for row in rows(WORK_TIMES) {
        let example = examples.entry(row.text("example").to_owned()).or_default();
        example.push(row);
    }
    examples.into_values().collect()
}

/// Source: FM 5-434, chapter 4, value from memory; and a tutoring page: see the head of `work_times.csv`.
#[test]
fn the_operations_of_the_printed_examples_take_the_printed_hours() {
    for example in examples() {
        let legs: Vec<Leg> = example.iter().map(leg_of).collect();
        let time = work_time(&legs, efficiency(example[0].number("efficiency")));
        close(
            time.total.in_hours(),
            example[0].number("total_hours"),
            0.0005,
        );
        for (row, leg) in example.iter().zip(&time.legs) {
            close(leg.in_hours(), row.number("leg_hours"), 0.00005);
        }
        assert_eq!(time.edge_down, time.total);
    }
}

/// The negative check: a mean speed for all operations is the mistake that the manuals warn of, and must not be ours.
///
/// Source: as above.
#[test]
fn the_mean_speed_gives_another_answer_which_is_not_ours() {
    let mut checked = 0;
    for example in examples() {
        let legs: Vec<Leg> = example.iter().map(leg_of).collect();
        let share = efficiency(example[0].number("efficiency"));
        let total = work_time(&legs, share).total.in_hours();
        let driven: f64 = legs
            .iter()
            .map(|leg| f64::from(leg.passes) * leg.distance.in_kilometres())
            .sum();
        let speeds = legs.iter().map(|leg| leg.speed.in_kilometres_per_hour());
        let mean = speeds.sum::<f64>() / legs.len() as f64;
        let shortcut = driven / (mean * share.in_share());
        assert!(shortcut + 1.0 < total, "{shortcut} against {total}");
        if !example[0].text("mean_speed_hours").is_empty() {
            checked += 1;
            close(shortcut, example[0].number("mean_speed_hours"), 0.05);
        }
    }
    assert_eq!(checked, 1);
}

#[test]
fn dead_heading_takes_time_and_way_but_wears_nothing() {
    let down = Leg {
        passes: 3,
        distance: km(10.0),
        speed: kmh(6.0),
        edge: Edge::Down,
    };
    let up = Leg {
        passes: 1,
        distance: km(22.5),
        speed: kmh(30.0),
        edge: Edge::Up,
    };
    let time = work_time(&[up, down, up], efficiency(0.5));
    assert_eq!(time.legs, [hours(1.5), hours(10.0), hours(1.5)]);
    assert_eq!((time.total, time.edge_down), (hours(13.0), hours(10.0)));
    assert_eq!((time.driven, time.worked), (km(75.0), km(30.0)));
    let nothing = work_time(&[], Efficiency::ALL);
    assert_eq!(
        (nothing.total, nothing.driven),
        (Hours::ZERO, Distance::ZERO)
    );
}

/// Source: earthmoving performance handbooks, value from memory; see the head of `area_rates.csv`.
#[test]
fn the_area_worked_in_an_hour_is_the_printed_one() {
    for row in rows(AREA_RATES) {
        let rate = area_rate(
            kmh(row.number("speed_kmh")),
            metres(row.number("effective_m")),
            metres(row.number("overlap_m")),
            efficiency(row.number("efficiency")),
        );
        let got = rate.unwrap().in_square_metres_per_hour();
        close(got, row.number("m2_per_hour"), 0.5);
    }
    let wide = area_rate(kmh(5.0), metres(3.0), metres(3.0), Efficiency::ALL);
    assert_eq!(
        wide,
        Err(NoPasses::OverlapTooWide {
            overlap: metres(3.0),
            effective: metres(3.0)
        })
    );
}

/// Source: earthmoving performance handbooks (seen); see the head of `handbook_speeds.csv`.
#[test]
fn the_usual_speeds_are_the_printed_ones() {
    let table = rows(HANDBOOK_SPEEDS);
    assert_eq!(table.len(), Operation::ALL.len());
    for (row, operation) in table.iter().zip(Operation::ALL) {
        let (low, high) = operation.usual_speeds();
        assert_eq!(format!("{operation:?}"), row.text("operation"));
        assert_eq!(low.0.to_string(), row.text("low_kmh"));
        assert_eq!(high.0.to_string(), row.text("high_kmh"));
    }
}

// How many passes.

fn layers(count: u16) -> NonZeroU16 {
    NonZeroU16::new(count).unwrap()
}

#[track_caller]
fn across(road: f64, effective: f64, overlap: f64) -> u32 {
    let passes = passes(metres(road), metres(effective), metres(overlap), layers(1)).unwrap();
    assert_eq!(passes.per_layer, passes.total);
    passes.total
}

#[test]
fn a_road_takes_as_many_passes_as_cover_it() {
    assert_eq!(across(7.0, 3.2, 0.3), 3);
    assert_eq!(across(6.1, 3.2, 0.3), 2);
    assert_eq!(across(6.101, 3.2, 0.3), 3);
    assert_eq!(across(3.2, 3.2, 0.3), 1);
    assert_eq!(across(3.201, 3.2, 0.3), 2);
    assert_eq!(across(7.0, 3.5, 0.0), 2);
    let three = passes(metres(7.0), metres(3.2), metres(0.3), layers(3)).unwrap();
    assert_eq!(
        three,
        Passes {
            per_layer: 3,
            total: 9
        }
    );
}

#[test]
fn a_road_narrower_than_the_overlap_still_takes_one_pass_for_each_layer() {
    for road in [0.0, 0.1, 0.3] {
        assert_eq!(across(road, 3.2, 0.3), 1);
    }
    let two = passes(Length::ZERO, metres(3.2), metres(0.3), layers(2)).unwrap();
    assert_eq!(
        two,
        Passes {
            per_layer: 1,
            total: 2
        }
    );
}

#[test]
fn an_exact_fit_is_not_rounded_up_and_a_hair_more_is() {
    for effective in (20..=45).map(|tenths| f64::from(tenths) / 10.0) {
        for overlap in (0..=10).map(|tenths| f64::from(tenths) / 10.0) {
            for count in 1..=30 {
                let road = overlap + f64::from(count) * (effective - overlap);
                assert_eq!(
                    across(road, effective, overlap),
                    count,
                    "{effective} {overlap}"
                );
                assert_eq!(across(road + 0.0001, effective, overlap), count + 1);
            }
        }
    }
}

#[test]
fn an_overlap_that_leaves_nothing_new_is_refused() {
    for overlap in [3.2, 3.3] {
        assert_eq!(
            passes(metres(7.0), metres(3.2), metres(overlap), layers(1)),
            Err(NoPasses::OverlapTooWide {
                overlap: metres(overlap),
                effective: metres(3.2)
            })
        );
    }
    let most = f64::from(MOST_PASSES);
    assert_eq!(across(most / 1000.0, 0.001, 0.0), MOST_PASSES);
    let more = passes(mm(most + 0.01), mm(1.0), Length::ZERO, layers(1));
    assert_eq!(more, Err(NoPasses::TooMany));
}

// When it is done.

fn clock(hours: i64, minutes: i64) -> Instant {
    Instant::from_unix_ms((hours * 60 + minutes) * 60_000)
}

const NO_STOPS: Stops = Stops {
    count: 0,
    each: OIL_STOP,
};

#[test]
fn breaks_and_stops_put_off_the_end_and_a_night_is_a_break() {
    let morning = clock(7, 0);
    assert_eq!(done_at(morning, hours(6.0), NO_STOPS, &[]), clock(13, 0));
    let coffee = Span::new(clock(9, 0), clock(9, 15));
    let noon = Span::new(clock(11, 0), clock(11, 30));
    let night = Span::new(clock(15, 30), clock(24 + 7, 0));
    // In any order; one that is over before the start, or that comes after the end, does not count.
    let early = Span::new(clock(5, 0), clock(6, 0));
    let all = [night, noon, early, coffee];
    assert_eq!(done_at(morning, hours(6.0), NO_STOPS, &all), clock(13, 45));
    let stops = Stops {
        count: 3,
        each: Duration::from_mins(10),
    };
    assert_eq!(done_at(morning, hours(6.0), stops, &all), clock(14, 15));
    assert_eq!(
        done_at(morning, hours(10.0), stops, &all),
        clock(24 + 9, 45)
    );
    // Overlapping breaks count once.
    let long_noon = Span::new(clock(11, 10), clock(12, 0));
    assert_eq!(
        done_at(morning, hours(6.0), NO_STOPS, &[noon, long_noon]),
        clock(14, 0)
    );
}

/// Source: house default. The first before work starts, the others whenever an interval is worked and more is left.
#[test]
fn as_many_oil_stops_as_intervals_are_begun() {
    let interval = Duration::from_mins(160);
    let minutes = |minutes: f64| hours(minutes / 60.0);
    for (work, expect) in [
        (0.0, 0),
        (0.1, 1),
        (160.0, 1),
        (160.1, 2),
        (320.0, 2),
        (480.0, 3),
    ] {
        assert_eq!(oil_stops(minutes(work), interval), expect, "{work}");
    }
    assert_eq!(oil_stops(hours(8.0), Duration::from_secs(59)), 1);
    assert_eq!(oil_stops(hours(8.0), Duration::from_mins(1)), 480);
    assert_eq!(
        oil_stops(hours(1_000_000.0), Duration::from_mins(1)),
        u16::MAX
    );
    assert_eq!(OIL_STOP, Duration::from_mins(10));
}

/// Source: identity; see the head of `gravel_quantities.csv`.
#[test]
fn a_mile_of_gravel_holds_the_cubic_yards_of_the_table() {
    let foot = FOOT.in_millimetres();
    // A cubic yard is 0.764554857984 cubic metres exactly.
    let cubic_yard = (0.9144_f64).powi(3);
    for row in rows(GRAVEL_QUANTITIES) {
        let volume = loosened(
            mm(row.number("width_ft") * foot),
            mm(row.number("depth_in") * foot / 12.0),
            km(KM_PER_MILE),
        );
        close(
            volume.in_cubic_metres() / cubic_yard,
            row.number("yd3_per_mile"),
            0.005,
        );
        assert_ne!(row.text("width_ft"), "");
    }
}

// What it costs.

fn money(amount: f64) -> Money {
    Money::amount(amount).unwrap()
}

fn prices() -> Prices {
    Prices {
        tooth: money(7.25),
        plate: money(310.0),
        litre: money(1.5),
    }
}

fn done(blade_hours: f64, worked: f64, area: f64) -> Done {
    Done {
        blade_hours: hours(blade_hours),
        worked: km(worked),
        area: Area::square_metres(area).unwrap(),
    }
}

#[test]
fn the_cost_is_that_of_its_parts_and_is_shared_out_over_what_was_done() {
    let used = Used {
        teeth: Teeth::count(96),
        plates: 2,
        oil: Litres::new(8.0).unwrap(),
    };
    let cost = cost(&used, &prices(), &done(80.0, 400.0, 1_000_000.0)).unwrap();
    assert_eq!(
        (cost.teeth, cost.plates, cost.oil),
        (money(696.0), money(620.0), money(12.0))
    );
    assert_eq!(cost.total, money(1328.0));
    assert_eq!(cost.per_hour, Some(money(16.6)));
    assert_eq!(cost.per_kilometre, Some(money(3.32)));
    assert_eq!(cost.per_square_metre, Some(money(0.001_328)));
}

#[test]
fn what_was_not_recorded_has_no_rate_and_where_nothing_was_there_is_no_cost() {
    let used = Used {
        teeth: Teeth::count(1),
        plates: 0,
        oil: Litres::ZERO,
    };
    let ask = |done: &Done| {
        cost(&used, &prices(), done).map(|it| (it.per_hour, it.per_kilometre, it.per_square_metre))
    };
    let (hour, way, area) = LEAST_DONE;
    let one = |over: f64| Some(money(7.25 / over));
    assert_eq!(ask(&done(hour, 0.0, 0.0)), Ok((one(hour), None, None)));
    assert_eq!(ask(&done(0.0, way, 0.0)), Ok((None, one(way), None)));
    assert_eq!(ask(&done(0.0, 0.0, area)), Ok((None, None, one(area))));
    assert_eq!(ask(&done(0.000_9, 0.000_9, 0.9)), Err(NothingDone));
    assert_eq!(ask(&done(0.0, 0.0, 0.0)), Err(NothingDone));
}

#[test]
fn money_and_oil_are_never_less_than_nothing_nor_no_number() {
    for bad in [-0.01, f64::NAN, f64::INFINITY] {
        assert_eq!(Money::amount(bad).unwrap_err().what, Figure::Money);
        assert_eq!(Litres::new(bad).unwrap_err().what, Figure::Oil);
    }
    for good in [0.0, 12.5, 1e6] {
        close(money(good).in_own_money(), good, 0.0);
        close(Litres::new(good).unwrap().in_litres(), good, 0.0);
    }
    assert!(Money::amount(1e9).is_ok());
    assert_eq!(
        (money(0.0), Litres::new(0.0).unwrap()),
        (Money::ZERO, Litres::ZERO)
    );
}

// The season.

fn road(visits: u16, per_visit: f64, rate: f64, sd: f64) -> Road {
    Road {
        length: km(12.0),
        visits,
        pace: Pace::PerVisit(hours(per_visit)),
        wear: WearRate::new(rate, sd).unwrap(),
    }
}

fn sure(share: f64) -> Confidence {
    Confidence::share(share).unwrap()
}

#[test]
fn a_road_driven_at_a_speed_takes_passes_times_length_over_speed_times_efficiency() {
    let driven = Road {
        pace: Pace::Driven {
            passes: 4,
            speed: kmh(6.0),
            efficiency: efficiency(0.5),
        },
        ..road(5, 0.0, 0.05, 0.0)
    };
    assert_eq!(driven.hours(), hours(80.0));
    let asked = demand(&[driven, road(10, 3.5, 0.05, 0.0)]);
    assert_eq!(asked.roads, [hours(80.0), hours(35.0)]);
    assert_eq!(asked.hours, hours(115.0));
}

/// Within a road the visits share one rate, so their uncertainty adds up; between roads the variances do.
#[test]
fn the_uncertainty_adds_up_within_a_road_and_as_squares_between_roads() {
    let one = demand(&[road(10, 30.0, 0.05, 0.01)]);
    close(one.mean_wear(), 15.0, 1e-12);
    close(one.sd_wear(), 3.0, 1e-12);
    let two = demand(&[road(10, 30.0, 0.05, 0.01), road(5, 40.0, 0.1, 0.02)]);
    close(two.mean_wear(), 35.0, 1e-12);
    close(two.sd_wear(), 5.0, 1e-12);
}

/// Against the log-normal distribution of an independent statistics crate.
#[test]
fn the_wear_not_exceeded_is_the_quantile_of_a_log_normal_number() {
    for (rate, sd) in [(0.05, 0.000_5), (0.05, 0.01), (0.2, 0.1), (0.01, 0.01)] {
        let asked = demand(&[road(10, 30.0, rate, sd)]);
        let (mean, deviation) = (asked.mean_wear(), asked.sd_wear());
        let squared = (1.0 + (deviation / mean).powi(2)).ln();
        let oracle = LogNormal::new(mean.ln() - squared / 2.0, squared.sqrt()).unwrap();
        for share in [0.5, 0.6, 0.75, 0.9, 0.95, 0.99, 0.999, 0.9999] {
            let expect = oracle.inverse_cdf(share);
            let got = asked.wear_at(sure(share));
            assert!(
                (got / expect - 1.0).abs() < 1e-6,
                "{sd} {share}: {got} for {expect}"
            );
            close(oracle.cdf(got), share, 1e-9);
        }
    }
    let certain = demand(&[road(10, 30.0, 0.05, 0.0)]);
    close(certain.wear_at(sure(0.9999)), 15.0, 1e-12);
    close(certain.wear_at(sure(0.5)), 15.0, 1e-12);
}

#[test]
fn the_sets_to_have_cover_the_wear_and_those_on_hand_are_taken_off() {
    let asked = demand(&[road(10, 30.0, 0.1, 0.02)]); // 30 mm, give or take 6
    let wear = asked.wear_at(sure(0.95));
    assert!(40.0 < wear && wear < 42.0, "{wear}");
    let sets = |left: f64, share: f64| {
        let sets = asked.sets(mm(15.0), mm(left), 96, sure(share)).unwrap();
        close(sets.expected, 2.0, 1e-12);
        assert_eq!(sets.teeth_to_order, sets.to_order * 96);
        (sets.needed, sets.to_order)
    };
    assert_eq!(sets(0.0, 0.95), (3, 3));
    assert_eq!(sets(15.0, 0.95), (3, 2));
    assert_eq!(sets(22.5, 0.95), (3, 2)); // one new set and one half worn: 18.4 mm are missing
    assert_eq!(sets(30.0, 0.95), (3, 1));
    assert_eq!(sets(45.0, 0.95), (3, 0));
    assert_eq!(sets(900.0, 0.95), (3, 0));
    assert_eq!(sets(0.0, 0.5), (2, 2));
    assert_eq!(sets(0.0, 0.999), (4, 4));
}

#[test]
fn an_exact_fit_of_sets_is_not_rounded_up() {
    for tenths in 1..=200 {
        let tip = f64::from(tenths) / 10.0;
        for count in 1..=12_u16 {
            let rate = tip / 30.0;
            let asked = demand(&[road(count, 30.0, rate, 0.0)]);
            let sets = asked.sets(mm(tip), Length::ZERO, 104, sure(0.9)).unwrap();
            assert_eq!(sets.needed, u32::from(count), "{tip}");
        }
    }
    let nothing = demand(&[])
        .sets(mm(15.0), Length::ZERO, 104, sure(0.9))
        .unwrap();
    assert_eq!((nothing.needed, nothing.to_order), (0, 0));
    let refused = demand(&[]).sets(Length::ZERO, Length::ZERO, 104, sure(0.9));
    assert_eq!(refused.unwrap_err().what, Figure::Tip);
}

/// A life that is log-normal belongs to a rate whose reciprocal has the life's mean and deviation.
#[test]
fn a_rate_from_a_life_gives_that_life_back() {
    let (life, sd, tip) = (300.0, 60.0, 15.0);
    let rate = WearRate::of_life(hours(life), hours(sd), mm(tip)).unwrap();
    let relative = sd / life;
    close(
        rate.in_mm_per_hour(),
        tip / life * (1.0 + relative * relative),
        1e-12,
    );
    let asked = demand(&[Road {
        wear: rate,
        ..road(1, 1.0, 1.0, 0.0)
    }]);
    close(asked.sd_wear() / asked.mean_wear(), relative, 1e-12);
    // The median of the wear in an hour is tip over the median life.
    let squared = (1.0 + relative * relative).ln();
    let median_life = life * (-squared / 2.0).exp();
    close(asked.wear_at(sure(0.5)), tip / median_life, 1e-12);
}

#[test]
fn a_rate_that_is_not_known_is_refused_by_name() {
    let what = |rate, sd| WearRate::new(rate, sd).unwrap_err().what;
    assert_eq!(what(0.0, 0.0), Figure::WearRate);
    assert_eq!(what(101.0, 0.0), Figure::WearRate);
    assert_eq!(what(f64::NAN, 0.0), Figure::WearRate);
    assert_eq!(what(0.05, 0.051), Figure::RelativeSpread);
    assert_eq!(what(0.05, -0.01), Figure::RelativeSpread);
    assert_eq!(what(0.05, f64::NAN), Figure::RelativeSpread);
    assert!(WearRate::new(0.05, 0.05).is_ok());
    assert!(WearRate::of_life(hours(0.0), hours(1.0), mm(15.0)).is_err());
    assert!(WearRate::of_life(hours(100.0), hours(101.0), mm(15.0)).is_err());
}

#[test]
fn the_last_day_to_order_is_the_lead_time_before_the_first_use() {
    // The first use on day 120, 30 days of lead time.
    for today in 60..=89 {
        let days_left = 90_u64 - today as u64;
        assert_eq!(
            order_by(120, 30, today),
            OrderBy::InTime { day: 90, days_left }
        );
    }
    assert_eq!(
        order_by(120, 30, 90),
        OrderBy::InTime {
            day: 90,
            days_left: 0
        }
    );
    assert_eq!(
        order_by(120, 30, 95),
        OrderBy::TooLate {
            day: 90,
            days_ago: 5
        }
    );
    assert_eq!(
        order_by(120, 0, 120),
        OrderBy::InTime {
            day: 120,
            days_left: 0
        }
    );
}

#[test]
fn hours_enough_are_enough_to_the_last_one() {
    assert_eq!(room(hours(400.0), hours(400.0)), Room::Spare(Hours::ZERO));
    assert_eq!(room(hours(400.0), hours(400.5)), Room::Spare(hours(0.5)));
    assert_eq!(room(hours(400.5), hours(400.0)), Room::Missing(hours(0.5)));
}
