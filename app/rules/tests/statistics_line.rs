//! The straight line: a certified data set, an independent solver, and how often its intervals hold.
//!
//! Never here: what it says about wear (`wear`).

mod chance;
mod table;
mod tries;

use chance::Chance;
use evenrow_rules::line::{FEWEST_POINTS, Line, Refusal, fit};
use evenrow_rules::quantity::Confidence;
use evenrow_rules::statistics::Point;
use nalgebra::{DMatrix, DVector};
use proptest::collection::vec;
use proptest::prelude::*;
use table::rows;
use tries::tries;

const NORRIS: &str = include_str!("../../../tests/tables/norris.csv");

fn sure(share: f64) -> Confidence {
    Confidence::share(share).unwrap()
}

fn points(pairs: impl IntoIterator<Item = (f64, f64)>) -> Vec<Point> {
    let points = pairs.into_iter().map(|(x, y)| Point::new(x, y).unwrap());
    points.collect()
}

fn norris() -> Line {
    let rows = rows(NORRIS);
    assert_eq!(rows.len(), 36);
    fit(&points(
        rows.iter().map(|row| (row.number("x"), row.number("y"))),
    ))
    .unwrap()
}

#[track_caller]
fn check(got: f64, expect: f64, relative: f64) {
    assert!(
        (got - expect).abs() <= relative * expect.abs(),
        "{got}, not {expect}"
    );
}

/// Source: NIST StRD, Norris, certified values.
#[test]
fn norris_agrees_with_the_certified_values_to_ten_digits_and_more() {
    let line = norris();
    check(line.intercept(), -0.262_323_073_774_029, 1e-12);
    check(line.slope(), 1.002_116_818_020_45, 1e-13);
    check(line.intercept_sd(), 0.232_818_234_301_152, 1e-12);
    check(line.slope_sd(), 0.429_796_848_199_937e-3, 1e-12);
    check(line.residual_sd(), 0.884_796_396_144_373, 1e-12);
    check(line.r2(), 0.999_993_745_883_712, 1e-14);
    assert_eq!(line.freedom().get(), 34);
}

/// Source: recomputed at 30 digits from the same data, in the project's reference list, section 7.
#[test]
fn norris_has_the_known_prediction_intervals() {
    let half_width = |x| norris().predict(x, sure(0.95)).unwrap().half_width;
    check(half_width(0.0), 1.859_330_469_5, 1e-10);
    check(half_width(500.0), 1.824_291_882_27, 1e-11);
}

/// Digits from a library for arbitrary precision, from the same data.
#[test]
fn norris_has_the_known_interval_of_the_mean_and_of_the_inverse_prediction() {
    let line = norris();
    let mean = |x| line.predict(x, sure(0.95)).unwrap().mean_half_width;
    check(mean(0.0), 0.473_143_578_327_563_3, 1e-12);
    check(mean(500.0), 0.307_889_464_919_625_2, 1e-12);
    let crossing = line.crossing(500.0, sure(0.95)).unwrap().unwrap();
    check(crossing.x, 499.205_595_672_941_9, 1e-13);
    check(crossing.low.unwrap(), 497.385_244_094_532_7, 1e-13);
    check(crossing.high.unwrap(), 501.026_068_845_581_9, 1e-13);
}

/// Norris moved ten million along both axes: digits are lost only where the numbers themselves have lost them.
#[test]
fn norris_far_from_the_origin_keeps_its_slope() {
    let rows = rows(NORRIS);
    let moved = rows
        .iter()
        .map(|row| (row.number("x") + 1e7, row.number("y") + 1e7));
    let line = fit(&points(moved)).unwrap();
    check(line.slope(), 1.002_116_818_020_45, 1e-10);
    check(line.residual_sd(), 0.884_796_396_144_373, 1e-8);
}

#[test]
fn points_exactly_on_a_line_leave_no_width_and_no_nan() {
    let line = fit(&points(
        (0..50).map(|x| (f64::from(x), 20.0 - 0.5 * f64::from(x))),
    ))
    .unwrap();
    let height = line.predict(100.0, sure(0.99)).unwrap();
    check(height.y, -30.0, 1e-13);
    assert!((0.0..1e-12).contains(&height.half_width));
    let crossing = line.crossing(5.0, sure(0.99)).unwrap().unwrap();
    for x in [Some(crossing.x), crossing.low, crossing.high] {
        check(x.unwrap(), 30.0, 1e-12);
    }
    assert!((0.0..=1.0).contains(&line.r2()));
    let level = fit(&points((0..5).map(|x| (f64::from(x), 7.0)))).unwrap();
    assert_eq!(
        (level.slope(), level.r2(), level.residual_sd()),
        (0.0, 1.0, 0.0)
    );
    assert_eq!(level.crossing(8.0, sure(0.95)), Ok(None));
}

#[test]
fn too_few_points_and_points_above_each_other_are_refused() {
    for got in 0..FEWEST_POINTS {
        let few = points((0..got).map(|x| (x as f64, 1.0)));
        assert_eq!(fit(&few), Err(Refusal::TooFew { got, wanted: 3 }));
    }
    let above = points((0..9).map(|y| (4.0, f64::from(y))));
    assert_eq!(fit(&above), Err(Refusal::NoSpread));
    let as_good_as = points((0..9).map(|y| (4.0 + f64::EPSILON * f64::from(y), f64::from(y))));
    assert_eq!(fit(&as_good_as), Err(Refusal::NoSpread));
}

#[test]
fn how_close_is_too_close_depends_on_how_far_out_the_points_lie() {
    let beside = |x: f64, step: f64| {
        fit(&points(
            (0..4).map(|it| (x + f64::from(it) * step, f64::from(it))),
        ))
    };
    assert_eq!(beside(1e9, 1e-4), Err(Refusal::NoSpread));
    assert_eq!(beside(-1e9, 1e-4), Err(Refusal::NoSpread));
    for (x, step) in [(1e9, 1.0), (-1e9, 1.0), (0.0, 1e-9), (0.0, -1e-9)] {
        check(beside(x, step).unwrap().slope(), 1.0 / step, 1e-12);
    }
}

#[test]
fn points_that_a_line_says_nothing_about_are_explained_to_no_share() {
    let line = fit(&points([(0.0, 0.0), (1.0, 1.0), (2.0, 0.0)])).unwrap();
    assert_eq!((line.slope(), line.r2()), (0.0, 0.0));
}

/// Source: the meaning of the word. Of 4,000 intervals at 90 %, 3,600 should hold; the standard deviation of that is 19.
#[test]
fn intervals_hold_as_often_as_they_say() {
    let mut chance = Chance(3);
    let (mut slope, mut mean, mut new, mut inverse) = (0, 0, 0, 0);
    let truth = |x: f64| 20.0 - 0.05 * x;
    for _ in 0..4_000 {
        let xs = (0..6).map(|step| f64::from(step) * 40.0);
        let line = fit(&points(xs.map(|x| (x, truth(x) + 0.4 * chance.normal())))).unwrap();
        let at = line.predict(260.0, sure(0.9)).unwrap();
        let read = truth(260.0) + 0.4 * chance.normal();
        let crossing = line.crossing(read, sure(0.9)).unwrap().unwrap();
        slope += u32::from((line.slope() + 0.05).abs() <= line.slope_half_width(sure(0.9)));
        mean += u32::from((at.y - truth(260.0)).abs() <= at.mean_half_width);
        new += u32::from((at.y - read).abs() <= at.half_width);
        let after = crossing.low.is_none_or(|low| low <= 260.0);
        inverse += u32::from(after && crossing.high.is_none_or(|high| 260.0 <= high));
    }
    for held in [slope, mean, new, inverse] {
        assert!(
            (3_600 - 60..=3_600 + 60).contains(&held),
            "{slope} {mean} {new} {inverse}"
        );
    }
}

fn any_number() -> impl Strategy<Value = f64> {
    prop_oneof![
        2 => any::<u64>().prop_map(f64::from_bits),
        4 => -2.0e3..2.0e3,
        1 => prop_oneof![Just(0.0), Just(1e30), Just(-1e30), Just(1e-30), Just(f64::MIN_POSITIVE), Just(f64::NAN)],
    ]
}

proptest! {
    #![proptest_config(tries(1_000))]

    /// Source: nalgebra, an independent library: the same least squares by singular values.
    #[test]
    fn the_line_is_that_of_an_independent_solver(
        pairs in vec((0.0..500.0, 0.0..30.0), 3..40),
    ) {
        let x = DMatrix::from_fn(pairs.len(), 2, |row, column| if column == 0 { 1.0 } else { pairs[row].0 });
        let y = DVector::from_fn(pairs.len(), |row, _| pairs[row].1);
        let solved = x.svd(true, true).solve(&y, 1e-14).unwrap();
        let line = fit(&points(pairs)).unwrap();
        let scale = line.slope_sd().max(line.slope().abs());
        prop_assert!((line.slope() - solved[1]).abs() <= 1e-8 * scale, "{} {}", line.slope(), solved[1]);
        let scale = line.intercept_sd().max(line.intercept().abs());
        prop_assert!((line.intercept() - solved[0]).abs() <= 1e-8 * scale);
    }

    #[test]
    fn any_points_give_a_line_without_nan_or_a_refusal(
        pairs in vec((any_number(), any_number()), 0..12),
        at in any_number(),
        share in 0.5..0.9999,
    ) {
        let points: Vec<Point> = pairs.iter().filter_map(|&(x, y)| Point::new(x, y).ok()).collect();
        let Ok(line) = fit(&points) else { return Ok(()) };
        for number in [line.slope(), line.intercept(), line.slope_sd(), line.intercept_sd(), line.residual_sd()] {
            prop_assert!(number.is_finite(), "{:?}", line);
        }
        prop_assert!((0.0..=1.0).contains(&line.r2()));
        match line.predict(at, sure(share)) {
            Ok(height) => {
                prop_assert!(height.y.is_finite());
                prop_assert!(0.0 <= height.mean_half_width && height.mean_half_width <= height.half_width);
                prop_assert!(height.half_width.is_finite());
            }
            Err(refused) => prop_assert!(!(refused.min <= at && at <= refused.max)),
        }
        if let Ok(Some(crossing)) = line.crossing(at, sure(share)) {
            prop_assert!(!crossing.x.is_nan());
            prop_assert!(crossing.low.is_none_or(f64::is_finite) && crossing.high.is_none_or(f64::is_finite));
        }
    }

    #[test]
    fn the_ends_of_a_crossing_lie_on_the_prediction_interval(
        pairs in vec((0.0..500.0, -1.0..1.0), 3..20),
        height in -10.0..30.0,
        share in 0.5..0.999,
    ) {
        let noisy = pairs.into_iter().map(|(x, off)| (x, 20.0 - 0.05 * x + off));
        let line = fit(&points(noisy)).unwrap();
        let crossing = line.crossing(height, sure(share)).unwrap().unwrap();
        prop_assert!(crossing.low.is_none_or(|low| low <= crossing.x));
        prop_assert!(crossing.high.is_none_or(|high| crossing.x <= high));
        for end in [crossing.low, crossing.high].into_iter().flatten().filter(|it| it.abs() < 1e5) {
            let at = line.predict(end, sure(share)).unwrap();
            let missed = ((at.y - height).abs() - at.half_width).abs();
            prop_assert!(missed <= 1e-6 * at.half_width.max(1.0), "{} {:?}", missed, at);
        }
    }
}
