//! Any figures at all, for the calculations about angles, tracks, forces, plans, cost and the season: nothing panics, and
//! nothing that is no number comes out.
//!
//! Never here: whether the numbers are right (`gravity`, `geometry`, `work_plan`, `cold`), and the rest of the crate
//! (`no_panic`).

mod tries;

use std::num::{NonZeroU8, NonZeroU16, NonZeroU32};
use std::time::Duration;
use tries::tries;

use evenrow_rules::angle::Angle;
use evenrow_rules::cold::grade;
use evenrow_rules::cost::{Done, Litres, Money, Prices, Teeth, Used, cost};
use evenrow_rules::finish::{Left, Tip, finish, texture_depth, track_spacing};
use evenrow_rules::load::{blade_pull, down_force_ceiling, force_angle, share};
use evenrow_rules::marks::{
    MOST_MARKS, as_setting, cutting_from_tape, frame_marks, grading_from_offset, offset_to_set,
    seen_from_the_side, toe_to_heel,
};
use evenrow_rules::plan::{
    Edge, Leg, Stops, area_rate, done_at, loosened, oil_stops, passes, work_time,
};
use evenrow_rules::quantity::{
    Area, Confidence, Distance, Efficiency, Figure, Force, Hours, Instant, Length, Mass,
    OutOfRange, Span, Speed, Temperature, Volume,
};
use evenrow_rules::season::{Pace, Road, WearRate, demand, order_by, room};
use evenrow_rules::tilt::{Gravity, tilt};
use proptest::collection::vec;
use proptest::prelude::*;
use proptest::sample::select;

/// Every pattern of 64 bits, the usual sizes, and the odd ones.
fn any_number() -> impl Strategy<Value = f64> {
    prop_oneof![
        3 => any::<u64>().prop_map(f64::from_bits),
        3 => -10.0..200.0,
        2 => -2.0e6..2.0e6,
        1 => select(vec![
            0.0,
            -0.0,
            f64::MIN_POSITIVE,
            f64::EPSILON,
            f64::MAX,
            f64::MIN,
            f64::INFINITY,
            f64::NEG_INFINITY,
            f64::NAN,
        ]),
    ]
}

/// Numbers of a range, its two ends often.
fn between(low: f64, high: f64) -> impl Strategy<Value = f64> {
    prop_oneof![3 => low..=high, 1 => Just(low), 1 => Just(high)]
}

fn any_length() -> impl Strategy<Value = Length> {
    prop_oneof![
        1 => any::<u32>().prop_map(Length::micrometres),
        3 => (0_u32..10_000_000).prop_map(Length::micrometres),
        1 => between(0.0, 1e6).prop_map(|mm| Length::millimetres(mm).unwrap()),
        1 => select(vec![0.0, f64::MIN_POSITIVE, 1e-9]).prop_map(|mm| Length::millimetres(mm).unwrap()),
    ]
}

fn any_angle() -> impl Strategy<Value = Angle> {
    prop_oneof![
        3 => between(-360.0, 360.0),
        2 => between(0.0, 90.0),
        1 => Just(f64::MIN_POSITIVE),
    ]
    .prop_map(|degrees| Angle::degrees(degrees).unwrap())
}

fn any_distance() -> impl Strategy<Value = Distance> {
    between(0.0, 1e6).prop_map(|it| Distance::kilometres(it).unwrap())
}

fn any_speed() -> impl Strategy<Value = Speed> {
    between(0.1, 100.0).prop_map(|it| Speed::kilometres_per_hour(it).unwrap())
}

fn any_efficiency() -> impl Strategy<Value = Efficiency> {
    between(0.01, 1.0).prop_map(|it| Efficiency::share(it).unwrap())
}

fn any_hours() -> impl Strategy<Value = Hours> {
    prop_oneof![
        between(0.0, 1e6),
        between(0.0, 10.0),
        Just(f64::MIN_POSITIVE)
    ]
    .prop_map(|it| Hours::new(it).unwrap())
}

fn any_mass() -> impl Strategy<Value = Mass> {
    between(0.0, 200_000.0).prop_map(|it| Mass::kilograms(it).unwrap())
}

fn any_force() -> impl Strategy<Value = Force> {
    between(0.0, 100_000.0).prop_map(|it| Force::kilonewtons(it).unwrap())
}

fn any_money() -> impl Strategy<Value = Money> {
    between(0.0, 1e9).prop_map(|it| Money::amount(it).unwrap())
}

fn any_instant() -> impl Strategy<Value = Instant> {
    prop_oneof![
        3 => 0..200_000_000_i64,
        1 => any::<i64>(),
        1 => select(vec![i64::MIN, -1, 0, i64::MAX]),
    ]
    .prop_map(Instant::from_unix_ms)
}

fn any_span() -> impl Strategy<Value = Span> {
    (any_instant(), any_instant()).prop_map(|(start, end)| Span::new(start, end))
}

fn any_time() -> impl Strategy<Value = Duration> {
    prop_oneof![
        3 => (0..100_000_u64).prop_map(Duration::from_secs),
        1 => any::<u64>().prop_map(Duration::from_millis),
        1 => select(vec![Duration::ZERO, Duration::from_nanos(1), Duration::MAX]),
    ]
}

fn any_leg() -> impl Strategy<Value = Leg> {
    (any::<u16>(), any_distance(), any_speed(), any::<bool>()).prop_map(
        |(passes, distance, speed, down)| Leg {
            passes,
            distance,
            speed,
            edge: if down { Edge::Down } else { Edge::Up },
        },
    )
}

fn any_wear() -> impl Strategy<Value = WearRate> {
    (between(1e-6, 100.0), between(0.0, 1.0))
        .prop_map(|(rate, spread)| WearRate::new(rate, rate * spread * 0.999_999).unwrap())
}

fn any_road() -> impl Strategy<Value = Road> {
    let driven =
        (any::<u16>(), any_speed(), any_efficiency()).prop_map(|(passes, speed, efficiency)| {
            Pace::Driven {
                passes,
                speed,
                efficiency,
            }
        });
    let pace = prop_oneof![driven, any_hours().prop_map(Pace::PerVisit)];
    (any_distance(), any::<u16>(), pace, any_wear()).prop_map(|(length, visits, pace, wear)| Road {
        length,
        visits,
        pace,
        wear,
    })
}

fn any_gravity() -> impl Strategy<Value = Gravity> {
    let near = (-0.4..0.4, -0.4..0.4, 9.5..10.1);
    let far = (
        between(-100.0, 100.0),
        between(-100.0, 100.0),
        between(-100.0, 100.0),
    );
    prop_oneof![6 => near, 1 => far.prop_map(|it| it)]
        .prop_map(|(x, y, z): (f64, f64, f64)| Gravity::new(x, y, z).unwrap())
}

/// What every constructor has to do: keep the number as given, or refuse it because it lies outside.
fn kept_or_refused(
    number: f64,
    kept: Result<f64, OutOfRange<Figure>>,
    what: Figure,
    min: f64,
    max: f64,
) -> Result<(), TestCaseError> {
    match kept {
        Ok(kept) => {
            prop_assert!((min..=max).contains(&number));
            prop_assert_eq!(kept.to_bits(), number.to_bits());
        }
        Err(refused) => {
            prop_assert!(!(min..=max).contains(&number));
            prop_assert_eq!(
                (refused.what, refused.got.to_bits()),
                (what, number.to_bits())
            );
            prop_assert_eq!((refused.min, refused.max), (min, max));
        }
    }
    Ok(())
}

proptest! {
    #![proptest_config(tries(2_000))]

    #[test]
    fn a_figure_is_either_kept_as_it_was_given_or_refused_with_the_right_range(number in any_number()) {
        let speed = Speed::kilometres_per_hour(number).map(Speed::in_kilometres_per_hour);
        kept_or_refused(number, speed, Figure::Speed, 0.1, 100.0)?;
        let distance = Distance::kilometres(number).map(Distance::in_kilometres);
        kept_or_refused(number, distance, Figure::Distance, 0.0, 1e6)?;
        kept_or_refused(number, Hours::new(number).map(Hours::in_hours), Figure::Hours, 0.0, 1e6)?;
        let share = Efficiency::share(number).map(Efficiency::in_share);
        kept_or_refused(number, share, Figure::Efficiency, 0.01, 1.0)?;
        let mass = Mass::kilograms(number).map(Mass::in_kilograms);
        kept_or_refused(number, mass, Figure::Mass, 0.0, 200_000.0)?;
        let force = Force::kilonewtons(number).map(Force::in_kilonewtons);
        kept_or_refused(number, force, Figure::Force, 0.0, 100_000.0)?;
        let volume = Volume::cubic_metres(number).map(Volume::in_cubic_metres);
        kept_or_refused(number, volume, Figure::Volume, 0.0, 1e9)?;
        let area = Area::square_metres(number).map(Area::in_square_metres);
        kept_or_refused(number, area, Figure::Area, 0.0, 1e12)?;
        let sure = Confidence::share(number).map(Confidence::in_share);
        kept_or_refused(number, sure, Figure::Confidence, 0.5, 0.9999)?;
        let money = Money::amount(number).map(Money::in_own_money);
        kept_or_refused(number, money, Figure::Money, 0.0, 1e9)?;
        let litres = Litres::new(number).map(Litres::in_litres);
        kept_or_refused(number, litres, Figure::Oil, 0.0, 1e6)?;
        let rate = WearRate::new(number, 0.0).map(WearRate::in_mm_per_hour);
        kept_or_refused(number, rate, Figure::WearRate, 1e-6, 100.0)?;
        let gravity = Gravity::new(0.0, number, 0.0).map(|_| number);
        kept_or_refused(number, gravity, Figure::Acceleration, -100.0, 100.0)?;
    }

    #[test]
    fn an_angle_made_of_anything_is_an_angle(one in any_number(), other in any_number()) {
        if let Some(angle) = Angle::of_sides(one, other) {
            prop_assert!(-180.0 < angle.in_degrees() && angle.in_degrees() <= 180.0);
        }
        if let Some(angle) = Angle::of_cosine(one) {
            prop_assert!((0.0..=180.0).contains(&angle.in_degrees()));
        }
        let sand = Volume::cubic_millimetres(one);
        prop_assert!(sand.is_err() || 0.0 <= one);
        let pull = blade_pull(Mass::kilograms(1000.0).unwrap(), one);
        prop_assert_eq!(pull.is_ok(), (0.0..=1.5).contains(&one));
    }

    #[test]
    fn whatever_is_done_to_angles_stays_in_range(
        one in any_angle(),
        other in any_angle(),
        length in any_length(),
        another in any_length(),
    ) {
        for angle in [one.plus(other), one.reversed(), one.size(), seen_from_the_side(one, other)] {
            prop_assert!((-360.0..=360.0).contains(&angle.in_degrees()));
        }
        prop_assert!(one.tangent().is_finite());
        prop_assert!(one.chord(length) <= one.arc(length) || 180.0 < one.size().in_degrees());
        prop_assert!(toe_to_heel(length, one) <= length);
        prop_assert!(track_spacing(length, one) <= length);
        prop_assert_eq!(offset_to_set(length, one).is_ok(), as_setting(one).is_ok());
        if let Some(angle) = cutting_from_tape(length, another) {
            prop_assert!((0.0..=90.0).contains(&angle.in_degrees()));
        }
        if let Ok(angle) = grading_from_offset(length, another) {
            prop_assert!((0.0..=90.0).contains(&angle.in_degrees()));
        }
    }

    #[test]
    fn marks_of_any_kind_are_refused_or_in_order(
        radius in any_length(),
        from in any_angle(),
        to in any_angle(),
        step in any_angle(),
    ) {
        if let Ok(marks) = frame_marks(radius, from, to, step) {
            prop_assert!(!marks.is_empty() && marks.len() <= MOST_MARKS);
            for pair in marks.windows(2) {
                prop_assert!(pair[0].angle <= pair[1].angle);
                prop_assert!(pair[0].arc <= pair[1].arc && pair[0].chord <= pair[1].chord);
            }
        }
    }

    #[test]
    fn any_readings_give_an_angle_or_a_refusal(
        road in vec(any_gravity(), 0..40),
        blade in vec(any_gravity(), 0..40),
        tooth in any_angle(),
    ) {
        if let Ok(found) = tilt(&road, &blade, tooth) {
            prop_assert!(-180.0 < found.turned.in_degrees() && found.turned.in_degrees() <= 180.0);
            prop_assert!((-360.0..=360.0).contains(&found.cutting.in_degrees()));
            prop_assert!(1.0 <= found.uncertainty.in_degrees());
        }
    }

    #[test]
    fn any_tip_leaves_no_more_than_there_is_between_two_tracks(
        pitch in any_length(),
        grading in any_angle(),
        size in any_length(),
        full in any_angle(),
        worn in any_length(),
        count in any::<NonZeroU8>(),
    ) {
        for tip in [Tip::round(size), Tip::blunt(size), Tip::cone(full)].into_iter().flatten() {
            let new = finish(pitch, grading, tip, Length::ZERO, count);
            let old = finish(pitch, grading, tip, worn, count);
            prop_assert_eq!(new.spacing, old.spacing);
            prop_assert!(new.spacing <= pitch);
            match (new.left, old.left) {
                (Left::Ridge(new), Left::Ridge(old)) => prop_assert!(old <= new),
                (Left::Strip(one), Left::Strip(other)) => {
                    prop_assert_eq!(one, other);
                    prop_assert!(one <= new.spacing);
                }
                (Left::Ridge(_), Left::Strip(_)) | (Left::Strip(_), Left::Ridge(_)) => {
                    prop_assert!(false, "wear brings no tracks together and none apart");
                }
            }
            prop_assert!(tip.flat(Length::ZERO) <= tip.flat(worn));
        }
        let sand = Volume::cubic_metres(1e9).unwrap();
        if let Ok(depth) = texture_depth(sand, size) {
            prop_assert!((0.0..=1e6).contains(&depth.in_millimetres()));
        }
    }

    #[test]
    fn forces_are_shared_out_and_never_more_than_counted(
        mass in any_mass(),
        wheelbase in any_length(),
        edge in any_length(),
        down in any_force(),
        pull in any_force(),
        teeth in any::<NonZeroU32>(),
        row in any::<NonZeroU32>(),
    ) {
        if let Ok(force) = down_force_ceiling(mass, wheelbase, edge) {
            prop_assert!((0.0..=100_000.0).contains(&force.in_kilonewtons()));
        }
        match share(down, teeth, row) {
            Ok(load) => prop_assert!(load.per_tooth <= down && 1.0 <= load.times_full_row),
            Err(_) => prop_assert!(row < teeth),
        }
        if let Some(angle) = force_angle(down, pull) {
            prop_assert!((0.0..=90.0).contains(&angle.in_degrees()));
        }
    }

    #[test]
    fn any_legs_take_a_time_that_can_be_counted(
        legs in vec(any_leg(), 0..8),
        share in any_efficiency(),
        width in any_length(),
        overlap in any_length(),
        road in any_length(),
        layers in any::<NonZeroU16>(),
    ) {
        let time = work_time(&legs, share);
        prop_assert_eq!(time.legs.len(), legs.len());
        prop_assert!(time.edge_down <= time.total && time.worked <= time.driven);
        prop_assert!(time.total.in_hours() <= 1e6);
        for leg in &legs {
            let volume = loosened(width, overlap, leg.distance);
            prop_assert!((0.0..=1e9).contains(&volume.in_cubic_metres()));
            if let Ok(rate) = area_rate(leg.speed, width, overlap, share) {
                prop_assert!((0.0..=1e8).contains(&rate.in_square_metres_per_hour()));
            }
        }
        match passes(road, width, overlap, layers) {
            Ok(passes) => {
                prop_assert!(1 <= passes.per_layer);
                prop_assert_eq!(passes.total, passes.per_layer * u32::from(layers.get()));
                // So many passes cover the road, give or take the micrometre.
                let new = width.in_millimetres() - overlap.in_millimetres();
                let covered = overlap.in_millimetres() + f64::from(passes.per_layer) * new;
                prop_assert!(road.in_millimetres() <= covered + 0.002);
            }
            Err(_) => prop_assert!(width.in_millimetres() <= overlap.in_millimetres() + 100.0),
        }
    }

    #[test]
    fn work_is_never_done_before_it_was_begun(
        start in any_instant(),
        work in any_hours(),
        count in any::<u16>(),
        each in any_time(),
        breaks in vec(any_span(), 0..6),
        interval in any_time(),
    ) {
        let done = done_at(start, work, Stops { count, each }, &breaks);
        prop_assert!(start <= done);
        let without = done_at(start, work, Stops { count: 0, each }, &[]);
        prop_assert!(without <= done);
        prop_assert_eq!(oil_stops(work, interval) == 0, work.as_duration().is_zero());
    }

    #[test]
    fn a_cost_is_made_of_its_parts(
        teeth in between(0.0, 1e10),
        plates in any::<u32>(),
        litres in between(0.0, 1e6),
        prices in (any_money(), any_money(), any_money()),
        hours in any_hours(),
        way in any_distance(),
        area in between(0.0, 1e12),
    ) {
        let used = Used { teeth: Teeth::new(teeth).unwrap(), plates, oil: Litres::new(litres).unwrap() };
        let prices = Prices { tooth: prices.0, plate: prices.1, litre: prices.2 };
        let done = Done { blade_hours: hours, worked: way, area: Area::square_metres(area).unwrap() };
        if let Ok(cost) = cost(&used, &prices, &done) {
            let rates = [cost.per_hour, cost.per_kilometre, cost.per_square_metre];
            prop_assert!(rates.iter().any(Option::is_some));
            for money in rates.into_iter().flatten().chain([cost.total, cost.teeth, cost.plates, cost.oil]) {
                prop_assert!(money.in_own_money().is_finite() && 0.0 <= money.in_own_money());
            }
            prop_assert!(cost.teeth <= cost.total && cost.plates <= cost.total && cost.oil <= cost.total);
        }
    }

    #[test]
    fn any_season_asks_for_sets_that_can_be_counted(
        roads in vec(any_road(), 0..6),
        tip in any_length(),
        left in any_length(),
        teeth in any::<u32>(),
        share in (between(0.5, 0.9999), between(0.5, 0.9999)),
        available in any_hours(),
    ) {
        let asked = demand(&roads);
        prop_assert_eq!(asked.roads.len(), roads.len());
        prop_assert!(asked.mean_wear().is_finite() && asked.sd_wear().is_finite());
        let (low, high) = (share.0.min(share.1), share.0.max(share.1));
        let sure = |share| Confidence::share(share).unwrap();
        prop_assert!(asked.wear_at(sure(low)) <= asked.wear_at(sure(high)));
        if let Ok(sets) = asked.sets(tip, left, teeth, sure(high)) {
            prop_assert!(sets.to_order <= sets.needed && sets.expected.is_finite());
        }
        let _ = room(asked.hours, available);
    }

    #[test]
    fn any_days_and_any_life_are_counted(
        days in (any::<i64>(), any::<u32>(), any::<i64>()),
        life in any_hours(),
        sd in any_hours(),
        tip in any_length(),
        celsius in between(-70.0, 90.0),
    ) {
        let _ = order_by(days.0, days.1, days.2);
        if let Ok(rate) = WearRate::of_life(life, sd, tip) {
            prop_assert!((1e-6..=100.0).contains(&rate.in_mm_per_hour()));
        }
        let lowest = Temperature::celsius(celsius).unwrap();
        prop_assert!(grade(lowest).is_none_or(|class| class.limit() <= lowest));
    }
}
