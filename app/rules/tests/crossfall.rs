//! The crossfall from gravity, compared with an independent rotation library, and the falls that others published.
//!
//! Never here: the cutting angle (`gravity`).

use evenrow_rules::crossfall::{
    Fall, GRAVEL_CROWN, MOST_OFF_MIRROR, NoCrossfall, Wanted, crossfall, wanted,
};
use evenrow_rules::source::{Read, Source};
use evenrow_rules::tilt::{Gravity, NoAngle, Place};
use evenrow_rules::work::Work;
use nalgebra::{Rotation3, Vector3};

const G: f64 = 9.80665;

/// What a phone reads whose sensor is out by `bias` degrees, on a road that falls by `fall` degrees along the phone and
/// by `grade` degrees across it; turned end for end or not.
fn readings(fall: f64, grade: f64, bias: f64, turned: bool) -> Vec<Gravity> {
    let about = |axis, degrees: f64| Rotation3::from_axis_angle(&axis, degrees.to_radians());
    let road = about(Vector3::y_axis(), grade) * about(Vector3::x_axis(), fall);
    let laid = road * about(Vector3::z_axis(), if turned { 180.0 } else { 0.0 });
    let felt = (laid * about(Vector3::x_axis(), bias)).inverse() * Vector3::new(0.0, 0.0, G);
    vec![Gravity::new(felt.x, felt.y, felt.z).unwrap(); 40]
}

#[test]
fn the_fall_of_any_road_is_found_whatever_the_sensor_is_out_by() {
    for tenths in -110..=110 {
        for (grade, bias) in [(0.0, 0.0), (3.0, 0.0), (0.0, 0.9), (0.0, -0.9)] {
            let degrees = f64::from(tenths) / 10.0;
            let one = readings(degrees, grade, bias, false);
            let other = readings(degrees, grade, bias, true);
            let found = crossfall(&one, &other).unwrap();
            // What the bias and a grade bend a tangent by is far below the last decimal shown.
            let fall = 100.0 * degrees.to_radians().tan().abs();
            assert!(
                (found.fall - fall).abs() < 0.05,
                "{degrees} {grade} {bias}: {found:?}"
            );
            assert!(found.uncertainty < 0.9);
        }
    }
}

#[test]
fn a_phone_that_counts_the_other_way_round_finds_the_same_fall() {
    let (one, other) = (
        readings(2.3, 0.0, 0.0, false),
        readings(2.3, 0.0, 0.0, true),
    );
    let upside_down = |fall: f64| {
        let (sine, cosine) = fall.to_radians().sin_cos();
        vec![Gravity::new(0.0, -G * sine, -G * cosine).unwrap(); 40]
    };
    let usual = crossfall(&one, &other).unwrap();
    let reversed = crossfall(&upside_down(2.3), &upside_down(-2.3)).unwrap();
    assert!(
        (usual.fall - reversed.fall).abs() < 0.01,
        "{usual:?} {reversed:?}"
    );
}

#[test]
fn a_phone_that_was_not_turned_or_leans_or_lies_on_no_road_is_refused() {
    let one = readings(2.3, 0.0, 0.0, false);
    let Err(NoCrossfall::NotTurnedRound { by }) = crossfall(&one, &one) else {
        panic!("not refused");
    };
    assert!((by.in_degrees() - 2.3).abs() < 1e-9 && MOST_OFF_MIRROR < by);
    let leaning = readings(1.0, 11.0, 0.0, true);
    assert!(matches!(
        crossfall(&one, &leaning),
        Err(NoCrossfall::Readings(NoAngle::NotAligned {
            at: Place::Road,
            ..
        }))
    ));
    let (steep, other) = (
        readings(12.0, 0.0, 0.0, false),
        readings(12.0, 0.0, 0.0, true),
    );
    assert!(matches!(
        crossfall(&steep, &other),
        Err(NoCrossfall::NoRoad { .. })
    ));
    assert!(matches!(
        crossfall(&one[..2], &one),
        Err(NoCrossfall::Readings(NoAngle::TooFew { got: 2, .. }))
    ));
}

/// Source: FHWA and South Dakota LTAP gravel road manuals, crown about 4 %, or 1/2 in per ft, values from memory; ROADEX
/// e-learning "Gravel and forest road", 3-7 %, icy winter 3-4 %, seen.
#[test]
fn gravel_is_to_fall_as_published_and_where_nothing_is_published_nothing_is_said() {
    for work in [Work::Gravel, Work::TightStone, Work::StonyGravel] {
        let gravel = wanted(work).unwrap();
        assert_eq!(gravel.about, Some((4.0, Source::GravelManuals)));
        assert_eq!(
            (gravel.range, gravel.range_from),
            ((3.0, 7.0), Source::Roadex)
        );
        assert_eq!(gravel.compare(gravel.about.unwrap().0), Fall::InRange);
    }
    // Half an inch in a foot is 4.1667 %.
    assert!((GRAVEL_CROWN - 100.0 * 0.5 / 12.0).abs() < 0.2);
    let icy = Wanted {
        about: None,
        range: (3.0, 4.0),
        range_from: Source::Roadex,
    };
    assert_eq!(wanted(Work::PackedSnowOnSoft), Some(icy));
    assert_eq!(Source::Roadex.citation().read, Read::Seen);
    for work in [
        Work::PackedSnow,
        Work::RoadEdge,
        Work::SoftMilling,
        Work::StoneBase,
        Work::RuttedPavement,
        Work::Path,
    ] {
        assert_eq!(wanted(work), None);
    }
}
