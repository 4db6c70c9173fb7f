//! The distributions and the robust slope: printed tables, an independent crate, sums by hand, and any input at all.
//!
//! Never here: the straight line (`statistics_line`), and what it all means for teeth (`wear`, `spares`).

mod table;
mod tries;

use std::num::NonZeroU32;
use tries::tries;

use evenrow_rules::quantity::{Confidence, Hours};
use evenrow_rules::statistics::{
    LARGEST_COORDINATE, Point, Probability, Rate, student_t, student_t_within, theil_sen,
};
use proptest::collection::vec;
use proptest::prelude::*;
use statrs::distribution::{ContinuousCDF, DiscreteCDF, NegativeBinomial, StudentsT};
use table::{Row, rows};

const STUDENT_T: &str = include_str!("../../../tests/tables/student_t.csv");
const STUDENT_T_DIGITS: &str = include_str!("../../../tests/tables/student_t_digits.csv");

fn hours(hours: f64) -> Hours {
    Hours::new(hours).unwrap()
}

fn sure(share: f64) -> Confidence {
    Confidence::share(share).unwrap()
}

fn freedom(df: u32) -> NonZeroU32 {
    NonZeroU32::new(df).unwrap()
}

fn t(probability: f64, df: u32) -> f64 {
    student_t(Probability::new(probability).unwrap(), freedom(df))
}

fn close(got: f64, expect: f64, relative: f64) -> bool {
    (got - expect).abs() <= relative * expect.abs()
}

fn df(row: &Row) -> u32 {
    row.text("df").parse().unwrap()
}

/// Source: NIST/SEMATECH; see the head of `student_t.csv`.
#[test]
fn student_t_is_that_of_the_printed_table() {
    for row in rows(STUDENT_T) {
        let got = t(1.0 - row.number("one_tail"), df(&row));
        assert!((got - row.number("t")).abs() <= 0.0005, "{row:?}: {got}");
        let two_sided =
            student_t_within(sure(1.0 - 2.0 * row.number("one_tail")), freedom(df(&row)));
        assert!(close(two_sided, got, 1e-13), "{row:?}: {two_sided}");
    }
}

/// Source: identity; see the head of `student_t_digits.csv`.
#[test]
fn student_t_keeps_thirteen_digits_from_the_middle_to_the_far_tail() {
    for row in rows(STUDENT_T_DIGITS) {
        let got = t(row.number("probability"), df(&row));
        assert!(close(got, row.number("t"), 5e-14), "{row:?}: {got}");
    }
}

/// Source: NIST StRD Norris has 34 degrees of freedom; the value is recomputed at 30 digits in the project's reference
/// list, section 7.
#[test]
fn student_t_of_34_degrees_of_freedom() {
    assert!(close(t(0.975, 34), 2.032_244_509_317_72, 1e-14));
}

/// Source: identities. One degree of freedom is Cauchy's: t = tan(π (p - 1/2)); two: t = (2p - 1) √(1 / (2 p (1 - p))).
#[test]
fn student_t_has_closed_forms_for_one_and_two_degrees_of_freedom() {
    for thousandth in 1..1000 {
        let p = f64::from(thousandth) / 1000.0;
        let cauchy = (std::f64::consts::PI * (p - 0.5)).tan();
        assert!(
            (t(p, 1) - cauchy).abs() <= 1e-12 * (1.0 + cauchy.abs()),
            "{p}"
        );
        let two = (2.0 * p - 1.0) / (2.0 * p * (1.0 - p)).sqrt();
        assert!((t(p, 2) - two).abs() <= 1e-13 * (1.0 + two.abs()), "{p}");
        assert!(
            close(t(1.0 - p, 7), -t(p, 7), 1e-11) || thousandth == 500,
            "{p}"
        );
    }
    assert_eq!(t(0.5, 9).to_bits(), 0.0_f64.to_bits());
}

/// Source: statrs, an independent statistics crate.
#[test]
fn student_t_is_what_an_independent_crate_turns_back_into_the_probability() {
    for df in (1..=60).chain([100, 1_000]) {
        let independent = StudentsT::new(0.0, 1.0, f64::from(df)).unwrap();
        for p in [0.01, 0.05, 0.3, 0.6, 0.9, 0.975, 0.995, 0.9999] {
            let back = independent.cdf(t(p, df));
            assert!((back - p).abs() < 1e-10, "{df} {p}: {back}");
        }
    }
}

#[test]
fn student_t_falls_with_the_degrees_of_freedom_towards_the_normal_quantile() {
    // The normal quantile of 97.5 % is 1.959963984540054 (NIST/SEMATECH gives 1.960).
    let mut before = f64::INFINITY;
    for df in (1..=2_000).chain([100_000, 100_000_000, u32::MAX]) {
        let now = t(0.975, df);
        assert!(now < before, "{df}");
        before = now;
    }
    assert!((before - 1.959_963_984_540_054).abs() < 2e-9);
}

fn probabilities_by_recurrence(shape: f64, keep: f64, most: u32) -> Vec<f64> {
    // P(0) = keep^shape; P(n + 1) = P(n) (shape + n) / (n + 1) (1 - keep).
    let mut all = vec![keep.powf(shape)];
    for n in 0..most {
        let last = all[n as usize];
        all.push(last * (shape + f64::from(n)) / f64::from(n + 1) * (1.0 - keep));
    }
    all
}

const RECORDS: [(u32, f64); 9] = [
    (0, 0.0),
    (0, 40.0),
    (1, 8.0),
    (3, 120.0),
    (7, 300.0),
    (25, 410.5),
    (60, 30.0),
    (150, 2_000.0),
    (400, 1_600.0),
];

/// Source: statrs, an independent statistics crate, and the recurrence of the negative-binomial probabilities by hand.
#[test]
fn counts_to_expect_agree_with_an_independent_crate_and_with_a_recurrence() {
    for (broken, seen) in RECORDS {
        for ahead in [0.5, 8.0, 40.0, 250.0] {
            let rate = Rate::believed(1.0, 8.0).unwrap().after(broken, hours(seen));
            let (shape, keep) = (1.0 + f64::from(broken), (8.0 + seen) / (8.0 + seen + ahead));
            let independent = NegativeBinomial::new(shape, keep).unwrap();
            let by_hand = probabilities_by_recurrence(shape, keep, 4_000);
            for count in [0_u32, 1, 2, 5, 10, 40, 200] {
                let more = rate.more_than(count, hours(ahead));
                let theirs = independent.sf(u64::from(count));
                assert!(
                    (more - theirs).abs() < 1e-11,
                    "{broken} {seen} {ahead} {count}: {more} {theirs}"
                );
                let ours: f64 = by_hand[..=count as usize].iter().sum();
                assert!(
                    (1.0 - more - ours).abs() < 1e-11,
                    "{broken} {seen} {ahead} {count}"
                );
            }
            for share in [0.5, 0.8, 0.9, 0.95, 0.99, 0.999] {
                let got = rate.at_most(hours(ahead), sure(share));
                assert!(share - 1e-9 <= independent.cdf(u64::from(got)));
                if 0 < got {
                    assert!(independent.cdf(u64::from(got) - 1) < share);
                }
                let mut total = 0.0;
                let summed = by_hand.iter().position(|probability| {
                    total += probability;
                    share - 1e-12 <= total
                });
                assert_eq!(
                    Some(got as usize),
                    summed,
                    "{broken} {seen} {ahead} {share}"
                );
            }
        }
    }
}

/// Source: arithmetic. Believed: one broken tooth in eight hours. Seen: three in 120. That is four in 128, or one in 32.
#[test]
fn what_was_seen_is_added_to_what_was_believed() {
    let rate = Rate::believed(1.0, 8.0).unwrap().after(3, hours(120.0));
    let told = [rate.events(), rate.in_hours(), rate.mean_in(hours(80.0))];
    assert_eq!(
        told.map(f64::to_bits),
        [4.0, 128.0, 2.5].map(f64::to_bits),
        "{told:?}"
    );
}

/// Source: identity. With one event in eight hours and eight ahead, each further one is half as likely: P(N <= n) is
/// 1 - 2^-(n + 1), so that 50 %, 75 % and 87.5 % are reached exactly at 0, 1 and 2.
#[test]
fn a_confidence_reached_exactly_asks_for_no_further_one() {
    let rate = Rate::believed(1.0, 8.0).unwrap();
    for (share, expect) in [
        (0.5, 0),
        (0.75, 1),
        (0.875, 2),
        (0.9375, 3),
        (0.95, 4),
        (0.99, 6),
    ] {
        assert_eq!(rate.at_most(hours(8.0), sure(share)), expect, "{share}");
    }
}

/// Digits from a library for arbitrary precision: I_x(n + 1, s).
#[test]
fn the_probability_of_more_keeps_its_digits() {
    let more = |broken, seen, ahead, count| {
        let rate = Rate::believed(1.0, 8.0).unwrap().after(broken, hours(seen));
        rate.more_than(count, hours(ahead))
    };
    assert!(close(more(0, 0.0, 8.0, 4), 0.031_25, 1e-14));
    assert!(close(
        more(3, 120.0, 8.0, 1),
        0.030_708_022_005_032_901,
        1e-13
    ));
    assert!(close(
        more(3, 120.0, 8.0, 2),
        0.003_556_986_206_854_551,
        1e-13
    ));
    assert!(close(
        more(1_000, 7_992.0, 800.0, 120),
        0.028_974_026_771_178_925,
        1e-12
    ));
}

#[test]
fn more_events_in_the_record_never_ask_for_fewer_and_more_hours_never_for_more() {
    let at_most = |broken, seen| {
        let rate = Rate::believed(1.0, 8.0).unwrap().after(broken, hours(seen));
        rate.at_most(hours(40.0), sure(0.95))
    };
    for broken in 0..60 {
        for tens in 0..60 {
            let seen = f64::from(tens) * 10.0;
            assert!(at_most(broken, seen) <= at_most(broken + 1, seen));
            assert!(at_most(broken, seen + 10.0) <= at_most(broken, seen));
        }
    }
}

/// The median of all slopes, listed.
fn slopes_listed(points: &[(f64, f64)]) -> Option<f64> {
    let mut slopes = Vec::new();
    for (index, a) in points.iter().enumerate() {
        for b in &points[index + 1..] {
            if (a.0 - b.0).abs() > 0.0 {
                slopes.push((b.1 - a.1) / (b.0 - a.0));
            }
        }
    }
    slopes.sort_by(f64::total_cmp);
    let high = slopes.get(slopes.len() / 2)?;
    let low = slopes.get((slopes.len() - 1) / 2)?;
    Some(f64::midpoint(*low, *high))
}

fn points(pairs: &[(f64, f64)]) -> Vec<Point> {
    pairs
        .iter()
        .map(|&(x, y)| Point::new(x, y).unwrap())
        .collect()
}

#[test]
fn a_quarter_of_wild_readings_hardly_moves_the_robust_slope() {
    let tame: Vec<(f64, f64)> = (0..40)
        .map(|x| (f64::from(x), 20.0 - 0.1 * f64::from(x)))
        .collect();
    let mut wild = tame.clone();
    for pair in wild.iter_mut().step_by(4) {
        pair.1 += 1000.0;
    }
    assert!((theil_sen(&points(&tame)).unwrap() + 0.1).abs() < 1e-12);
    assert!((theil_sen(&points(&wild)).unwrap() + 0.1).abs() < 1e-9);
}

#[test]
fn what_is_certain_or_out_of_range_is_refused_and_the_limits_are_not() {
    let probability = |p| Probability::new(p).is_ok();
    assert!(probability(1e-12) && probability(1.0 - 1e-12));
    assert!(!probability(0.0) && !probability(1.0) && !probability(9e-13));
    let point = |x, y| Point::new(x, y).is_ok();
    let most = LARGEST_COORDINATE;
    assert!(point(-most, most) && point(most, -most));
    assert!(!point(2.0 * most, 0.0) && !point(0.0, -2.0 * most));
    let rate = |shape, in_hours| Rate::believed(shape, in_hours).is_ok();
    assert!(rate(0.01, 0.01) && rate(1_000.0, 100_000.0));
    assert!(!rate(0.009, 8.0) && !rate(1_001.0, 8.0));
    assert!(!rate(1.0, 0.009) && !rate(1.0, 100_001.0));
}

#[test]
fn the_robust_slope_takes_two_points_beside_each_other_and_is_nothing_where_all_are_level() {
    assert_eq!(theil_sen(&[]), None);
    assert_eq!(theil_sen(&points(&[(3.0, 1.0)])), None);
    assert_eq!(theil_sen(&points(&[(3.0, 1.0), (3.0, 2.0)])), None);
    assert_eq!(theil_sen(&points(&[(3.0, 1.0), (3.0, 1.0)])), None);
    assert_eq!(theil_sen(&points(&[(3.0, 1.0), (5.0, 1.0)])), Some(0.0));
    assert_eq!(
        theil_sen(&points(&[(5.0, 1.0), (3.0, 2.0)])),
        Some(-0.5),
        "to the last bit"
    );
    let mostly_level = [(0.0, 1.0), (1.0, 1.0), (2.0, 1.0), (3.0, 1.0), (4.0, 9.0)];
    let level = theil_sen(&points(&mostly_level)).map(f64::to_bits);
    assert_eq!(level, Some(0), "nothing has no sign");
}

/// Source: arithmetic. From minus ten to ten, from nothing to twenty, or from as far as whole numbers are told apart.
#[test]
fn the_robust_slope_is_the_same_wherever_counting_begins() {
    let heights = [9.0, 8.0, 7.0, -9.0, 5.0, 4.0, 2.0, 2.0, 1.0, -5.0, -9.0];
    let slope = |right: f64, up: f64| {
        let along = (0..=10).map(|it| 2.0 * f64::from(it) + right);
        let pairs: Vec<(f64, f64)> = along.zip(heights.map(|it| it + up)).collect();
        theil_sen(&points(&pairs)).unwrap()
    };
    let expect = slope(0.0, 0.0);
    assert!(close(expect, -0.5, 0.5), "{expect}");
    for right in [-10.0, 9e15, -9e15] {
        assert!(close(slope(right, 0.0), expect, 1e-12), "{right}");
        assert!(close(slope(0.0, right), expect, 1e-12), "{right}");
    }
}

/// Source: arithmetic, at the limit that the rule names.
#[test]
fn points_that_differ_by_just_enough_have_a_robust_slope() {
    let apart = |it| theil_sen(&points(&[(0.0, 0.0), (it, 3e-30)]));
    assert!(close(apart(1e-30).unwrap(), 3.0, 1e-9));
    assert_eq!(apart(0.9e-30), None);
}

/// Found by chance: points all but above each other, whose slopes are no numbers any more.
#[test]
fn points_that_differ_by_next_to_nothing_have_no_robust_slope() {
    let next = f64::MIN_POSITIVE;
    let stacked = points(&[(0.0, next), (0.0, next), (next, next), (0.0, 720.4)]);
    assert_eq!(theil_sen(&stacked), None);
}

fn any_number() -> impl Strategy<Value = f64> {
    prop_oneof![
        any::<u64>().prop_map(f64::from_bits),
        -2.0e3..2.0e3,
        Just(0.0),
        Just(LARGEST_COORDINATE),
        Just(f64::NAN),
        Just(f64::INFINITY),
        Just(f64::MIN_POSITIVE),
    ]
}

proptest! {
    #![proptest_config(tries(500))]

    #[test]
    fn the_robust_slope_is_the_median_of_all_slopes_listed(
        pairs in vec((0_u16..30, 0_u16..1000), 0..40),
    ) {
        let pairs: Vec<(f64, f64)> = pairs
            .into_iter()
            .map(|(x, y)| (f64::from(x) * 2.5, f64::from(y) / 50.0))
            .collect();
        match (theil_sen(&points(&pairs)), slopes_listed(&pairs)) {
            (None, None) => {}
            (Some(got), Some(expect)) => prop_assert!((got - expect).abs() < 1e-9, "{} {}", got, expect),
            (got, expect) => prop_assert!(false, "{:?} {:?}", got, expect),
        }
    }

    #[test]
    fn any_points_have_a_finite_robust_slope_or_none(
        pairs in vec((any_number(), any_number()), 0..20),
    ) {
        let points: Vec<Point> = pairs.iter().filter_map(|&(x, y)| Point::new(x, y).ok()).collect();
        prop_assert!(points.iter().all(|it| it.x().is_finite() && it.y().is_finite()));
        prop_assert!(theil_sen(&points).is_none_or(f64::is_finite));
    }

    #[test]
    fn any_probability_and_freedom_give_a_finite_t(p in any_number(), q in 0.0..1.0, df in 1..=u32::MAX) {
        prop_assert!(Probability::new(p).is_err() || 0.0 < p && p < 1.0);
        for p in [p, q] {
            if let Ok(probability) = Probability::new(p) {
                let t = student_t(probability, freedom(df));
                prop_assert!(t.is_finite());
                prop_assert_eq!(0.5 < p, 0.0 < t);
            }
        }
    }

    #[test]
    fn any_record_gives_a_count_that_is_enough_and_one_fewer_is_not(
        shape in any_number(),
        in_hours in any_number(),
        broken in prop_oneof![any::<u32>(), 0_u32..500],
        seen in 0.0..=1_000_000.0,
        ahead in prop_oneof![0.0..=1_000_000.0, 0.0..100.0],
        share in 0.5..0.999,
    ) {
        let prior = Rate::believed(shape, in_hours).unwrap_or(Rate::believed(1.0, 8.0).unwrap());
        let rate = prior.after(broken, hours(seen));
        let tail = 1.0 - share;
        let count = rate.at_most(hours(ahead), sure(share));
        prop_assert!(count == u32::MAX || rate.more_than(count, hours(ahead)) <= tail * (1.0 + 1e-8));
        prop_assert!(count == 0 || tail < rate.more_than(count - 1, hours(ahead)));
    }
}
