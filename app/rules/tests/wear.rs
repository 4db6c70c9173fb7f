//! The life of a set: what readings tell, when they refuse to, and any readings at all.
//!
//! The limits tried here are house defaults; the trade gives no number. Never here: the line itself (`statistics_line`)
//! and the evenness of the row (`wear_evenness`).

mod tries;

use evenrow_rules::quantity::{Confidence, Hours, Length};
use evenrow_rules::wear::{
    Agreement, DaySide, HoursPerDay, LEAST_WEAR, Life, READING_ROOM, Reading, Refusal, Side,
    TipFigure, Tips, outlook,
};
use proptest::collection::vec;
use proptest::prelude::*;
use tries::tries;

fn hours(hours: f64) -> Hours {
    Hours::new(hours).unwrap()
}

fn mm(mm: f64) -> Length {
    Length::millimetres(mm).unwrap()
}

fn sure(share: f64) -> Confidence {
    Confidence::share(share).unwrap()
}

fn tips() -> Tips {
    Tips::new(mm(20.0), mm(5.0)).unwrap()
}

fn readings(pairs: &[(f64, f64)]) -> Vec<Reading> {
    let reading = |&(at, tip): &(f64, f64)| Reading {
        at: hours(at),
        tip: mm(tip),
    };
    pairs.iter().map(reading).collect()
}

fn bounds(life: &Life) -> (f64, f64) {
    let of = |side, open| match side {
        Side::At(at) => Hours::in_hours(at),
        Side::NotYetBounded => open,
    };
    (of(life.earliest, 0.0), of(life.latest, f64::INFINITY))
}

#[test]
fn readings_exactly_on_a_line_give_exact_hours_with_no_width() {
    // 0.05 mm an hour: half of 15 mm after 150 h, all of it after 300 h.
    let told = readings(&[
        (0.0, 20.0),
        (40.0, 18.0),
        (80.0, 16.0),
        (80.0, 16.0),
        (120.0, 14.0),
    ]);
    let outlook = outlook(&told, tips(), sure(0.99)).unwrap();
    assert_eq!(outlook.times, 4);
    assert!((outlook.rate.mm_per_hour - 0.05).abs() < 1e-14);
    assert!(outlook.rate.high - outlook.rate.low < 1e-12);
    assert!((outlook.robust_mm_per_hour - 0.05).abs() < 1e-12);
    assert_eq!(outlook.agreement, Agreement::Agrees);
    for (life, expect) in [(outlook.half, 150.0), (outlook.done, 300.0)] {
        let (low, high) = bounds(&life);
        assert!((life.at.in_hours() - expect).abs() < 1e-9);
        assert!(
            expect - 1e-6 < low && low <= high && high < expect + 1e-6,
            "{low} {high}"
        );
    }
}

/// Worked by hand about the means, 60 h and 17.02 mm.
#[test]
fn readings_with_scatter_give_the_interval_of_the_slope_worked_by_hand() {
    let told = readings(&[
        (20.0, 19.0),
        (40.0, 17.9),
        (60.0, 17.0),
        (80.0, 16.1),
        (100.0, 15.1),
    ]);
    let outlook = outlook(&told, tips(), sure(0.95)).unwrap();
    // Sxx = 1600 + 400 + 0 + 400 + 1600 = 4000; Sxy = -40 · 1.98 - 20 · 0.88 - 20 · 0.92 - 40 · 1.92 = -192.
    assert!((outlook.rate.mm_per_hour - 192.0 / 4000.0).abs() < 1e-14);
    // Syy = 1.98² + 0.88² + 0.02² + 0.92² + 1.92² = 9.228; what is left is 9.228 - 192² / 4000 = 0.012.
    let sd = (0.012_f64 / 3.0 / 4000.0).sqrt();
    assert!((outlook.rate.sd - sd).abs() < 1e-12);
    // Student's t for three degrees of freedom is 3.182 (NIST/SEMATECH).
    assert!((outlook.rate.high - outlook.rate.mm_per_hour - 3.182 * sd).abs() < 0.0005 * sd);
    let (low, high) = bounds(&outlook.done);
    assert!(low < outlook.done.at.in_hours() && outlook.done.at.in_hours() < high);
}

#[test]
fn the_end_lies_further_off_than_half_and_is_less_certain() {
    let told = readings(&[(0.0, 20.1), (30.0, 18.2), (60.0, 17.1), (90.0, 15.3)]);
    let outlook = outlook(&told, tips(), sure(0.9)).unwrap();
    let ((half_low, half_high), (low, high)) = (bounds(&outlook.half), bounds(&outlook.done));
    assert!(half_low < low && half_high < high);
    assert!(half_high - half_low < high - low);
}

#[test]
fn a_surer_interval_is_never_narrower_and_may_have_no_end_yet() {
    let told = readings(&[(0.0, 20.0), (30.0, 18.9), (60.0, 18.0)]);
    let mut before = (f64::INFINITY, 0.0);
    let mut open = false;
    for share in [0.5, 0.8, 0.9, 0.95, 0.99, 0.999] {
        let outlook = outlook(&told, tips(), sure(share)).unwrap();
        let now = bounds(&outlook.done);
        assert!(now.0 <= before.0 && before.1 <= now.1, "{share}: {now:?}");
        open = outlook.done.latest == Side::NotYetBounded;
        before = now;
    }
    assert!(open, "three readings are not enough for 99.9 %");
}

/// House default: what contradicts, and what would be enough.
#[test]
fn readings_that_tell_nothing_or_contradict_are_refused_with_what_would_be_enough() {
    let refused = |pairs: &[(f64, f64)]| outlook(&readings(pairs), tips(), sure(0.95)).unwrap_err();
    assert_eq!(refused(&[]), Refusal::TooFewTimes { got: 0, wanted: 3 });
    let two_times = [(0.0, 20.0), (50.0, 17.0), (50.0, 17.2), (50.0, 17.1)];
    assert_eq!(
        refused(&two_times),
        Refusal::TooFewTimes { got: 2, wanted: 3 }
    );
    let Refusal::LongerThanNew { reading, most } =
        refused(&[(0.0, 20.0), (10.0, 21.6), (50.0, 17.0)])
    else {
        panic!("a tip longer than new");
    };
    assert_eq!((reading.at, most), (hours(10.0), mm(21.5)));
    let apart = [(0.0, 20.0), (50.0, 18.0), (50.0, 14.9), (90.0, 15.0)];
    assert!(matches!(
        refused(&apart),
        Refusal::SameTimeDiffers { shortest, longest, most }
            if shortest.tip == mm(14.9) && longest.tip == mm(18.0) && most == READING_ROOM.times(2)
    ));
    let new_set = [(0.0, 20.0), (100.0, 15.0), (110.0, 19.5), (200.0, 15.0)];
    assert!(matches!(
        refused(&new_set),
        Refusal::Grew { before, after, .. } if before.at == hours(100.0) && after.tip == mm(19.5)
    ));
    assert!(matches!(
        refused(&[(0.0, 17.0), (50.0, 17.5), (100.0, 18.0)]),
        Refusal::NotWearing { mm_per_hour } if (mm_per_hour + 0.01).abs() < 1e-12
    ));
    assert!(matches!(
        refused(&[(0.0, 18.0), (50.0, 18.0), (100.0, 18.0)]),
        Refusal::NotWearing { mm_per_hour } if mm_per_hour < LEAST_WEAR
    ));
    assert!(matches!(
        refused(&[(0.0, 18.0), (5.0, 19.0), (10.0, 17.2), (15.0, 18.4)]),
        Refusal::LostInScatter { sd, span_wanted, .. } if 0.0 < sd && hours(15.0) < span_wanted
    ));
}

/// House default: 1.5 mm longer than new, and 3 mm apart or longer than before, are believed; a thousandth of a millimetre
/// more is not.
#[test]
fn what_lies_exactly_at_the_limit_of_a_contradiction_is_still_believed() {
    let told = |longest, apart, grown| {
        let pairs = [
            (0.0, longest),
            (50.0, 16.0 + apart),
            (50.0, 16.0),
            (100.0, 13.0),
            (110.0, 13.0 + grown),
            (200.0, 9.0),
            (300.0, 5.0),
        ];
        outlook(&readings(&pairs), tips(), sure(0.95))
    };
    assert!(told(21.5, 3.0, 3.0).is_ok());
    assert!(matches!(
        told(21.501, 3.0, 3.0),
        Err(Refusal::LongerThanNew { .. })
    ));
    assert!(matches!(
        told(21.5, 3.001, 3.0),
        Err(Refusal::SameTimeDiffers { .. })
    ));
    assert!(matches!(told(21.5, 3.0, 3.001), Err(Refusal::Grew { .. })));
}

/// House default: a millimetre in a million hours.
#[test]
fn the_slowest_wear_that_counts_is_a_millimetre_in_a_million_hours() {
    let told = |last| {
        let pairs = [(0.0, 20.0), (500_000.0, 19.5), (1_000_000.0, last)];
        outlook(&readings(&pairs), tips(), sure(0.95))
    };
    assert!(told(19.0).is_ok());
    assert!(matches!(told(19.001), Err(Refusal::NotWearing { .. })));
}

#[test]
fn hours_that_are_as_good_as_the_same_are_not_three_times() {
    let hair = 4.0 * f64::EPSILON;
    let told = readings(&[(4.0, 17.0), (4.0 + hair, 16.9), (4.0 + 2.0 * hair, 16.8)]);
    assert_eq!(
        outlook(&told, tips(), sure(0.95)),
        Err(Refusal::TooFewTimes { got: 2, wanted: 3 })
    );
}

/// House default: wear has to be seen with 90 %, one-sided: 1.886 standard deviations at two degrees of freedom
/// (NIST/SEMATECH). Readings at 100, 120, 140 and 160 h lie 1 mm above, below, below and above the line. About the mean
/// Sxx = 900 + 100 + 100 + 900 = 2000, and the standard deviation of the slope is √(4 / 2 / 2000).
#[test]
fn wear_is_seen_from_where_nine_in_ten_would_see_it_and_the_span_asked_for_is_just_enough() {
    let told = |mm_per_hour: f64, stretch: f64| {
        let pairs = [(0.0, 1.0), (20.0, -1.0), (40.0, -1.0), (60.0, 1.0)];
        let pairs = pairs.map(|(after, off)| {
            let after = after * stretch;
            (100.0 + after, 19.0 - mm_per_hour * after + off)
        });
        outlook(&readings(&pairs), tips(), sure(0.95))
    };
    let sd = (4.0_f64 / 2.0 / 2000.0).sqrt();
    assert!(told(1.887 * sd, 1.0).is_ok());
    assert!(matches!(
        told(1.885 * sd, 1.0),
        Err(Refusal::LostInScatter { .. })
    ));
    let Err(Refusal::LostInScatter { span_wanted, .. }) = told(0.05, 1.0) else {
        panic!("one standard deviation and a half are not enough");
    };
    assert!((span_wanted.in_hours() - 60.0 * 1.886 * sd / 0.05).abs() < 0.05);
    let stretch = span_wanted.in_hours() / 60.0;
    assert!(told(0.05, stretch * 1.001).is_ok());
    assert!(told(0.05, stretch * 0.999).is_err());
}

#[test]
fn a_wild_reading_at_the_end_that_pulls_the_line_is_told_by_the_robust_slope() {
    // 0.05 mm an hour, and a five-thousandth of that, read to a tenth of a millimetre; the last three are 2.9 mm off.
    for slower in [1.0, 5_000.0] {
        let mut pairs: Vec<(f64, f64)> = (0..30_i32)
            .map(|step| {
                let worn = f64::from(step) * 0.25;
                let off = f64::from(step % 3 - 1) * 0.1;
                (worn / 0.05 * slower, 20.0 - worn + off)
            })
            .collect();
        let fair = outlook(&readings(&pairs), tips(), sure(0.95)).unwrap();
        assert_eq!(fair.agreement, Agreement::Agrees);
        for pair in pairs.iter_mut().rev().take(3) {
            pair.1 -= 2.9;
        }
        let pulled = outlook(&readings(&pairs), tips(), sure(0.5)).unwrap();
        assert_eq!(pulled.agreement, Agreement::Contradicts);
        let off = |mm_per_hour: f64| (mm_per_hour * slower - 0.05).abs();
        assert!(off(pulled.robust_mm_per_hour) < off(pulled.rate.mm_per_hour) / 2.0);
    }
}

#[test]
fn a_row_beyond_its_end_says_since_when() {
    let told = readings(&[(200.0, 9.0), (260.0, 6.0), (320.0, 3.0)]);
    let outlook = outlook(&told, tips(), sure(0.95)).unwrap();
    assert!((outlook.half.at.in_hours() - 130.0).abs() < 1e-6);
    assert!((outlook.done.at.in_hours() - 280.0).abs() < 1e-6);
    let days = outlook
        .done
        .days(hours(320.0), HoursPerDay::new(8.0).unwrap(), 100);
    assert_eq!(days.day, 95); // 40 h ago, 8 h a day
}

#[test]
fn days_are_rounded_to_the_nearest_and_their_ends_outwards() {
    let life = Life {
        at: hours(149.0),
        earliest: Side::At(hours(139.0)),
        latest: Side::At(hours(163.0)),
    };
    let days = |now, per_day| life.days(hours(now), HoursPerDay::new(per_day).unwrap(), -3);
    // 49, 39 and 63 hours at six a day: 8.17, 6.5 and 10.5 days.
    assert_eq!(days(100.0, 6.0).day, 5);
    assert_eq!(days(100.0, 6.0).earliest, DaySide::On(3));
    assert_eq!(days(100.0, 6.0).latest, DaySide::On(8));
    // In the past as well: 51, 61 and 37 hours ago are 8.5, 10.17 and 6.17 days.
    assert_eq!(days(200.0, 6.0).earliest, DaySide::On(-14));
    assert_eq!(days(200.0, 6.0).latest, DaySide::On(-9));
}

#[test]
fn tips_and_hours_a_day_out_of_range_are_refused_with_the_range() {
    let refused = Tips::new(mm(0.5), mm(0.0)).unwrap_err();
    assert_eq!(
        (refused.what, refused.min, refused.max),
        (TipFigure::NewTip, 1.0, 200.0)
    );
    let refused = Tips::new(mm(20.0), mm(19.6)).unwrap_err();
    assert_eq!(
        (refused.what, refused.min, refused.max),
        (TipFigure::EndTip, 0.0, 19.5)
    );
    for bad in [0.0, -1.0, 24.5, f64::NAN, f64::INFINITY] {
        assert_eq!(
            HoursPerDay::new(bad).unwrap_err().what,
            TipFigure::HoursPerDay
        );
    }
}

fn any_hours() -> impl Strategy<Value = Hours> {
    prop_oneof![4 => 0.0..500.0, 1 => 0.0..=1_000_000.0, 1 => Just(0.0), 1 => Just(f64::MIN_POSITIVE)].prop_map(hours)
}

fn any_tip() -> impl Strategy<Value = Length> {
    prop_oneof![4 => 0.0..22.0, 1 => 0.0..=1_000_000.0, 1 => Just(0.0)].prop_map(mm)
}

fn any_reading() -> impl Strategy<Value = Reading> {
    (any_hours(), any_tip()).prop_map(|(at, tip)| Reading { at, tip })
}

proptest! {
    #![proptest_config(tries(2_000))]

    #[test]
    fn any_readings_give_an_outlook_in_order_or_a_refusal(
        mut told in vec(any_reading(), 0..12),
        (new, end) in (any_tip(), any_tip()),
        share in 0.5..0.9999,
        in_order in any::<bool>(),
        now in any_hours(),
        per_day in 0.01..=24.0,
        today in any::<i64>(),
    ) {
        if in_order {
            told.sort_by(|a, b| a.tip.in_millimetres().total_cmp(&b.tip.in_millimetres()));
            let mut times: Vec<Hours> = told.iter().map(|it| it.at).collect();
            times.sort_by(|a, b| b.in_hours().total_cmp(&a.in_hours()));
            told.iter_mut().zip(times).for_each(|(reading, at)| reading.at = at);
        }
        let tips = Tips::new(new, end).unwrap_or(tips());
        let Ok(outlook) = outlook(&told, tips, sure(share)) else { return Ok(()) };
        let rate = outlook.rate;
        prop_assert!(0.0 <= rate.low && rate.low <= rate.mm_per_hour && rate.mm_per_hour <= rate.high);
        prop_assert!(rate.high.is_finite() && outlook.robust_mm_per_hour.is_finite());
        prop_assert!(outlook.half.at <= outlook.done.at);
        for life in [outlook.half, outlook.done] {
            let (low, high) = bounds(&life);
            prop_assert!(low <= life.at.in_hours() && life.at.in_hours() <= high, "{:?}", life);
            let days = life.days(now, HoursPerDay::new(per_day).unwrap(), today);
            let on = |side, open| match side {
                DaySide::On(day) => day,
                DaySide::NotYetBounded => open,
            };
            prop_assert!(on(days.earliest, i64::MIN) <= days.day);
            prop_assert!(days.day <= on(days.latest, i64::MAX));
        }
    }

    #[test]
    fn the_order_of_the_readings_does_not_matter(told in vec((0.0..300.0, -0.5..0.5), 4..12), turn in 0_usize..12) {
        let pairs: Vec<(f64, f64)> = told.iter().map(|&(at, off)| (at, 20.0 - 0.04 * at + off)).collect();
        let mut turned = pairs.clone();
        turned.rotate_left(turn % pairs.len());
        let here = outlook(&readings(&pairs), tips(), sure(0.9));
        let there = outlook(&readings(&turned), tips(), sure(0.9));
        prop_assert_eq!(here, there);
    }

    #[test]
    fn readings_within_a_fifth_of_a_millimetre_find_the_true_hours_within_a_fifth(
        offs in vec(-0.2..0.2, 12),
        rate in 0.02_f64..0.2,
    ) {
        let step = 0.5 / rate;
        let pairs: Vec<(f64, f64)> = offs
            .iter()
            .enumerate()
            .map(|(index, off)| (index as f64 * step, 20.0 - 0.5 * index as f64 + off))
            .collect();
        let outlook = outlook(&readings(&pairs), tips(), sure(0.99)).unwrap();
        prop_assert!((outlook.done.at.in_hours() * rate / 15.0 - 1.0).abs() < 0.2);
    }
}
