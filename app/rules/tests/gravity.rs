//! The cutting angle from gravity, compared with an independent rotation library: every angle, on any road, with noise,
//! and with a phone that is not laid as it should be.
//!
//! Never here: the other angles (`geometry`).

use evenrow_rules::angle::Angle;
use evenrow_rules::tilt::{
    FEWEST_READINGS, FLOOR_DEGREES, Gravity, MOST_LEAN, MOST_OFF_GRAVITY, MOST_SPREAD, MOST_TURN,
    NoAngle, Place, READINGS_WANTED, RESTLESS_AFTER, Rest, STEADY_AFTER, STEEPEST_ROAD, Tilt, tilt,
};
use nalgebra::{Rotation3, Vector3};
use statrs::distribution::{ContinuousCDF, StudentsT};
use statrs::statistics::Statistics;

const G: f64 = 9.80665;

/// How a phone lies: pitched along its long edge, rolled along its short edge, turned on its back; degrees.
///
/// The rotation takes the phone's axes to the world's, whose third points up. A phone at rest reads gravity's reaction,
/// which is up, in its own axes.
fn lying(rotation: &Rotation3<f64>) -> Vector3<f64> {
    rotation.inverse() * Vector3::new(0.0, 0.0, G)
}

fn about_x(degrees: f64) -> Rotation3<f64> {
    Rotation3::from_axis_angle(&Vector3::x_axis(), degrees.to_radians())
}

fn about_y(degrees: f64) -> Rotation3<f64> {
    Rotation3::from_axis_angle(&Vector3::y_axis(), degrees.to_radians())
}

fn about_z(degrees: f64) -> Rotation3<f64> {
    Rotation3::from_axis_angle(&Vector3::z_axis(), degrees.to_radians())
}

fn reading(at: Vector3<f64>) -> Gravity {
    Gravity::new(at.x, at.y, at.z).unwrap()
}

fn quiet(at: Vector3<f64>) -> Vec<Gravity> {
    vec![reading(at); 40]
}

fn none() -> Angle {
    Angle::whole_degrees(0)
}

/// Noise that is the same on every machine: evenly spread between -1 and 1.
struct Noise(u64);

impl Noise {
    fn next(&mut self) -> f64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 >> 11) as f64 / (1_u64 << 52) as f64 - 1.0
    }

    fn about(&mut self, at: Vector3<f64>, size: f64, count: usize) -> Vec<Gravity> {
        (0..count)
            .map(|_| reading(at + Vector3::from_fn(|_, _| self.next() * size)))
            .collect()
    }
}

#[track_caller]
fn measured(road: &[Gravity], blade: &[Gravity]) -> Tilt {
    tilt(road, blade, none()).unwrap()
}

#[test]
fn every_turn_about_the_moldboard_is_found_on_any_road() {
    for pitch in [-12.0, -3.0, 0.0, 7.0] {
        for crown in [-9.0, -2.9, 0.0, 4.0] {
            let road = about_y(crown) * about_x(pitch);
            for turn in -179..=180 {
                let blade = road * about_x(f64::from(turn));
                let found = measured(&quiet(lying(&road)), &quiet(lying(&blade)));
                let off = found.turned.in_degrees() - f64::from(turn);
                // At half a turn the last bit decides whether it is told as 180 or as just over -180.
                let off = off - 360.0 * (off / 360.0).round();
                assert!(off.abs() < 1e-9, "{pitch} {crown} {turn}: {found:?}");
                let size = f64::from(turn).abs();
                assert!((found.cutting.in_degrees() - size).abs() < 1e-9);
            }
        }
    }
}

/// The view along the moldboard, and no other: the angle between the two vectors in space is another one.
#[test]
fn on_a_crowned_road_the_angle_in_space_would_be_wrong() {
    let road = about_y(8.0);
    let blade = road * about_x(50.0);
    let in_space = lying(&road).angle(&lying(&blade)).to_degrees();
    assert!((in_space - 50.0).abs() > 0.4, "{in_space}");
    let found = measured(&quiet(lying(&road)), &quiet(lying(&blade)));
    assert!((found.turned.in_degrees() - 50.0).abs() < 1e-9);
}

#[test]
fn a_phone_that_counts_the_other_way_round_gives_the_same_angle() {
    let (road, blade) = (about_x(3.0), about_x(53.0));
    let (road, blade) = (lying(&road), lying(&blade));
    let one = measured(&quiet(road), &quiet(blade));
    let other = measured(&quiet(-road), &quiet(-blade));
    assert!((one.turned.in_degrees() - 50.0).abs() < 1e-9);
    assert!((one.turned.in_degrees() - other.turned.in_degrees()).abs() < 1e-12);
}

#[test]
fn a_phone_laid_with_its_top_to_the_front_measures_the_same_cutting_angle() {
    let road = about_z(180.0);
    let blade = about_x(50.0) * about_z(180.0);
    let found = measured(&quiet(lying(&road)), &quiet(lying(&blade)));
    assert!((found.turned.in_degrees() + 50.0).abs() < 1e-9);
    assert!((found.cutting.in_degrees() - 50.0).abs() < 1e-9);
}

#[test]
fn the_angle_of_the_tooth_to_the_plate_is_added_whichever_way_the_phone_lay() {
    for turn in [50.0, -50.0] {
        for (tooth, expect) in [(3.0, 53.0), (-4.5, 45.5), (0.0, 50.0)] {
            let (road, blade) = (quiet(lying(&about_x(0.0))), quiet(lying(&about_x(turn))));
            let found = tilt(&road, &blade, Angle::degrees(tooth).unwrap()).unwrap();
            assert!((found.cutting.in_degrees() - expect).abs() < 1e-9);
        }
    }
}

#[test]
fn with_noise_the_truth_lies_within_the_stated_uncertainty() {
    let mut noise = Noise(0x5EED);
    for size in [0.02, 0.1, 0.25, 0.45] {
        for count in [3, 4, 10, 60] {
            let (mut tried, mut missed) = (0, 0);
            for turn in 10..=80 {
                let (road, blade) = (about_x(2.0), about_x(2.0) * about_x(f64::from(turn)));
                let (road, blade) = (
                    noise.about(lying(&road), size, count),
                    noise.about(lying(&blade), size, count),
                );
                // A handful of loud readings may be refused, which is no wrong answer.
                let Ok(found) = tilt(&road, &blade, none()) else {
                    continue;
                };
                tried += 1;
                let off = found.cutting.in_degrees() - f64::from(turn);
                missed += i32::from(found.uncertainty.in_degrees() < off.abs());
            }
            assert!(0 < tried, "{size} {count}");
            assert!(missed * 20 <= tried, "{size} {count}: {missed} of {tried}");
        }
    }
}

#[test]
fn louder_readings_are_more_uncertain_and_more_of_them_less() {
    let at = |size, count| {
        let mut noise = Noise(7);
        let road = noise.about(lying(&about_x(0.0)), size, count);
        let blade = noise.about(lying(&about_x(50.0)), size, count);
        measured(&road, &blade).uncertainty
    };
    let floor = Angle::degrees(2.0 * FLOOR_DEGREES).unwrap();
    assert_eq!(at(0.0, 40), floor);
    assert!(floor < at(0.1, 40) && at(0.1, 40) < at(0.3, 40));
    assert!(at(0.3, 400) < at(0.3, 40) && at(0.3, 40) < at(0.3, 8));
}

/// Readings that swing evenly by 2° about a blade at 50°, on a road that is quiet: what is stated, worked out with an
/// independent statistics crate.
///
/// Source: Student's t, NIST/SEMATECH, one tail 0.025; see the project's reference list, section 7. Between the rows
/// printed, the row with fewer degrees of freedom is taken, which never states too little.
#[test]
fn the_uncertainty_is_two_floors_and_students_t_times_the_standard_error() {
    for (count, degrees_of_freedom) in [
        (4, 3.0),
        (6, 5.0),
        (10, 5.0),
        (12, 10.0),
        (30, 10.0),
        (32, 30.0),
        (200, 30.0),
    ] {
        let swings: Vec<f64> = (0..count)
            .map(|index| if index % 2 == 0 { 2.0 } else { -2.0 })
            .collect();
        let blade: Vec<Gravity> = swings
            .iter()
            .map(|swing| reading(lying(&about_x(50.0 + swing))))
            .collect();
        let found = measured(&quiet(lying(&about_x(0.0))), &blade);
        let t = StudentsT::new(0.0, 1.0, degrees_of_freedom)
            .unwrap()
            .inverse_cdf(0.975);
        let first = swings[..count / 2].iter().mean();
        let second = swings[count / 2..].iter().mean();
        let drift = (first - second).abs() / 2.0;
        let error = ((&swings).std_dev() / (count as f64).sqrt()).max(drift);
        let expect = (4.0 * FLOOR_DEGREES * FLOOR_DEGREES + (t * error).powi(2)).sqrt();
        assert!(
            (found.uncertainty.in_degrees() - expect).abs() < 2e-3,
            "{count}: {} for {expect}",
            found.uncertainty.in_degrees()
        );
        assert!((found.cutting.in_degrees() - 50.0).abs() < 1e-9);
    }
}

/// Source: Student's t with two degrees of freedom, NIST/SEMATECH: 4.303.
#[test]
fn three_readings_are_enough_and_are_not_trusted_far() {
    let degrees = [49.0, 50.0, 51.0];
    let blade = degrees.map(|it| reading(lying(&about_x(it))));
    let found = measured(&quiet(lying(&about_x(0.0))), &blade);
    let scatter = degrees.iter().std_dev() / 3.0_f64.sqrt();
    // The first reading against the other two: a degree and a half, and half of that is the larger.
    let expect = (1.0 + (4.303 * scatter.max(0.75)).powi(2)).sqrt();
    assert!((found.uncertainty.in_degrees() - expect).abs() < 1e-6);
    // The same on the road instead.
    let road = [-1.0, 0.0, 1.0].map(|it| reading(lying(&about_x(it))));
    let swapped = measured(&road, &quiet(lying(&about_x(50.0))));
    assert!((swapped.uncertainty.in_degrees() - expect).abs() < 1e-6);
}

/// A phone that slips by 3° while it is read: the count of readings must not hide it.
#[test]
fn a_slow_drift_is_stated() {
    let blade: Vec<Gravity> = (0..1000)
        .map(|index| reading(lying(&about_x(48.5 + 0.003 * f64::from(index)))))
        .collect();
    let found = measured(&quiet(lying(&about_x(0.0))), &blade);
    assert!(1.8 < found.uncertainty.in_degrees(), "{found:?}");
}

/// A phone turned on its back is off by little, as long as it is not refused: the error stays within what is stated.
#[test]
fn what_is_let_through_of_a_phone_turned_on_its_back_is_within_the_uncertainty() {
    let mut let_through = 0;
    for cutting in (30..=85).step_by(5) {
        for crown in [-3.0, 0.0, 3.0] {
            for turned in -20..=20 {
                let road = about_y(crown);
                let blade = road * about_x(f64::from(cutting)) * about_z(f64::from(turned));
                let found = tilt(&quiet(lying(&road)), &quiet(lying(&blade)), none());
                if let Ok(found) = found {
                    let_through += 1;
                    let off = (found.cutting.in_degrees() - f64::from(cutting)).abs();
                    assert!(
                        off <= found.uncertainty.in_degrees(),
                        "{cutting} {crown} {turned}: {off}"
                    );
                    // On a level road the note beside the limit holds.
                    assert!(crown != 0.0 || off <= 0.5, "{cutting} {turned}: {off}");
                }
            }
        }
    }
    assert!(300 < let_through, "{let_through}");
}

#[track_caller]
fn refused(road: &[Gravity], blade: &[Gravity]) -> NoAngle {
    tilt(road, blade, none()).unwrap_err()
}

#[test]
fn too_few_readings_are_refused_with_their_count() {
    let few = &quiet(lying(&about_x(50.0)))[..FEWEST_READINGS - 1];
    let many = quiet(lying(&about_x(0.0)));
    assert_eq!(
        refused(few, &many),
        NoAngle::TooFew {
            at: Place::Road,
            got: 2
        }
    );
    assert_eq!(
        refused(&many, few),
        NoAngle::TooFew {
            at: Place::Blade,
            got: 2
        }
    );
    assert_eq!(
        refused(&[], &[]),
        NoAngle::TooFew {
            at: Place::Road,
            got: 0
        }
    );
    assert!(tilt(&many[..FEWEST_READINGS], &many[..FEWEST_READINGS], none()).is_ok());
}

/// Readings a given way to either side along one axis.
fn shaking(by: Vector3<f64>) -> Vec<Gravity> {
    let at = Vector3::new(0.0, 0.0, G);
    [at + by, at - by].map(reading).repeat(500)
}

#[test]
fn a_phone_that_is_not_still_is_refused_whichever_way_it_shakes() {
    let still = quiet(Vector3::new(0.0, 0.0, G));
    for axis in [Vector3::x(), Vector3::y(), Vector3::z()] {
        let (under, over) = (
            shaking(axis * (MOST_SPREAD - 0.001)),
            shaking(axis * (MOST_SPREAD + 0.001)),
        );
        assert!(tilt(&under, &still, none()).is_ok());
        for (found, place) in [
            (refused(&over, &still), Place::Road),
            (refused(&still, &over), Place::Blade),
        ] {
            let NoAngle::NotStill { at, spread } = found else {
                panic!("{found:?}");
            };
            assert_eq!(at, place);
            assert!((spread - MOST_SPREAD - 0.00125).abs() < 0.0005, "{spread}");
        }
    }
}

#[test]
fn what_is_not_gravity_is_refused() {
    let still = quiet(Vector3::new(0.0, 0.0, G));
    let up = |size: f64| quiet(Vector3::new(0.0, 0.0, size));
    for bad in [
        0.0,
        1.0,
        G - MOST_OFF_GRAVITY - 0.001,
        G + MOST_OFF_GRAVITY + 0.001,
        99.0,
    ] {
        let found = refused(&still, &up(bad));
        let NoAngle::NotGravity { at, size } = found else {
            panic!("{found:?}");
        };
        assert_eq!(at, Place::Blade);
        assert!((size - bad).abs() < 1e-9);
        assert!(matches!(
            refused(&up(bad), &still),
            NoAngle::NotGravity {
                at: Place::Road,
                ..
            }
        ));
    }
    for good in [G - MOST_OFF_GRAVITY + 0.001, G + MOST_OFF_GRAVITY - 0.001] {
        assert!(tilt(&up(good), &up(good), none()).is_ok());
    }
}

#[test]
fn a_phone_laid_crosswise_is_refused_in_either_place() {
    let limit = MOST_LEAN.in_degrees();
    let leaning = |degrees: f64| quiet(lying(&about_y(degrees)));
    for sign in [1.0, -1.0] {
        let (under, over) = (
            leaning(sign * (limit - 0.01)),
            leaning(sign * (limit + 0.01)),
        );
        assert!(tilt(&under, &under, none()).is_ok());
        for (found, place) in [
            (refused(&over, &under), Place::Road),
            (refused(&under, &over), Place::Blade),
        ] {
            let NoAngle::NotAligned { at, lean } = found else {
                panic!("{found:?}");
            };
            assert_eq!(at, place);
            assert!((lean.in_degrees() - limit - 0.01).abs() < 1e-9);
        }
    }
    // The long edge along the moldboard: the whole turn is about the wrong axis.
    let crosswise = quiet(lying(&(about_x(50.0) * about_z(90.0))));
    assert!(matches!(
        refused(&leaning(0.0), &crosswise),
        NoAngle::NotAligned {
            at: Place::Blade,
            ..
        }
    ));
}

#[test]
fn a_phone_held_up_and_said_to_lie_on_the_road_is_refused() {
    let limit = STEEPEST_ROAD.in_degrees();
    let blade = quiet(lying(&about_x(50.0)));
    for sign in [1.0, -1.0] {
        let held = |degrees: f64| lying(&about_x(sign * degrees));
        assert!(tilt(&quiet(held(limit - 0.01)), &blade, none()).is_ok());
        // However the phone counts its axes.
        for over in [held(limit + 0.01), -held(limit + 0.01)] {
            let found = refused(&quiet(over), &blade);
            let NoAngle::NotOnRoad { slope } = found else {
                panic!("{found:?}");
            };
            assert!((slope.in_degrees() - limit - 0.01).abs() < 1e-9);
        }
    }
}

#[test]
fn a_phone_that_was_turned_between_the_two_places_is_refused() {
    let leaning = |degrees: f64| quiet(lying(&about_y(degrees)));
    let limit = MOST_TURN.in_degrees();
    for sign in [1.0, -1.0] {
        for first in [-2.0, 0.0, 4.0] {
            let road = leaning(sign * first);
            let under = leaning(sign * (first + limit - 0.01));
            assert!(tilt(&road, &under, none()).is_ok());
            let over = leaning(sign * (first + limit + 0.01));
            let found = refused(&road, &over);
            let NoAngle::Turned { by } = found else {
                panic!("{found:?}");
            };
            assert!((by.in_degrees() - limit - 0.01).abs() < 1e-9);
        }
    }
}

#[test]
fn no_reading_that_is_no_number_gets_in() {
    for bad in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, 101.0, -101.0] {
        assert!(Gravity::new(bad, 0.0, G).is_err());
        assert!(Gravity::new(0.0, bad, G).is_err());
        assert!(Gravity::new(0.0, 0.0, bad).is_err());
    }
    assert!(Gravity::new(100.0, -100.0, 100.0).is_ok());
}

#[test]
fn a_phone_carried_to_the_plate_is_averaged_only_from_where_it_came_to_rest() {
    let mut noise = Noise(7);
    let mut rest = Rest::default();
    let road = lying(&about_x(0.0));
    let on_the_way = (0..50).map(|step| lying(&about_x(f64::from(step))));
    let plate = lying(&about_x(50.0));
    noise
        .about(road, 0.05, STEADY_AFTER)
        .into_iter()
        .for_each(|it| rest.take(it));
    assert!(rest.is_steady() && !rest.is_full());
    on_the_way.map(reading).for_each(|it| rest.take(it));
    assert!(!rest.is_steady());
    noise
        .about(plate, 0.05, 2 * READINGS_WANTED)
        .into_iter()
        .for_each(|it| rest.take(it));
    assert!(rest.is_full() && rest.readings().len() == READINGS_WANTED);
    let found = measured(&quiet(road), rest.readings());
    assert!((found.cutting.in_degrees() - 50.0).abs() < 0.6, "{found:?}");
}

#[test]
fn a_hand_that_trembles_by_twenty_degrees_never_comes_to_rest_and_is_told_so_after_a_while() {
    let mut noise = Noise(11);
    let mut rest = Rest::default();
    let shaken = noise.about(lying(&about_x(0.0)), 3.0, RESTLESS_AFTER);
    for (count, it) in (1..).zip(shaken) {
        rest.take(it);
        assert!(!rest.is_full());
        assert_eq!(rest.is_restless(), RESTLESS_AFTER <= count);
    }
}
