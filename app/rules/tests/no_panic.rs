//! Any input at all: nothing panics, nothing runs for ever, and what comes out is in order.
//!
//! Never here: whether the advice is right (`every_setup`), and the shift as an operator knows it (`a_shift_of_oilings`).

mod tries;

use std::time::Duration;
use tries::tries;

use evenrow_rules::angle::{Angle, AngleBand};
use evenrow_rules::machine::{Machine, effective_width, fit, teeth_for_width, teeth_on};
use evenrow_rules::oiling::{
    Break, Due, Look, MOST_DUE_TIMES, ShiftFacts, Status, Stretch, after_work, breaks, plan,
    reconcile, working_time,
};
use evenrow_rules::quantity::{Instant, Length, Span, Temperature, What, within};
use evenrow_rules::setup::{Reason, Verdict, advise};
use evenrow_rules::work::{Conditions, End, Moisture, Stones, Work, questions};
use proptest::collection::vec;
use proptest::option;
use proptest::prelude::*;
use proptest::sample::select;

/// Every pattern of 64 bits: subnormals, infinities, every NaN.
fn any_number() -> impl Strategy<Value = f64> {
    prop_oneof![
        4 => any::<u64>().prop_map(f64::from_bits),
        4 => -2.0e6..2.0e6,
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

fn any_length() -> impl Strategy<Value = Length> {
    prop_oneof![
        1 => any::<u32>().prop_map(Length::micrometres),
        3 => (0_u32..10_000_000).prop_map(Length::micrometres),
        1 => (0.0..=1_000_000.0).prop_map(|mm| Length::millimetres(mm).unwrap()),
        1 => Just(Length::ZERO),
    ]
}

fn any_angle() -> impl Strategy<Value = Angle> {
    (-360.0..=360.0).prop_map(|degrees| Angle::degrees(degrees).unwrap())
}

fn any_machine() -> impl Strategy<Value = Machine> {
    let mm = |mm: f64| Length::millimetres(mm).unwrap();
    (
        1200.0..=8000.0,
        150.0..=1200.0,
        150.0..=2500.0,
        20.0..=150.0,
        any::<bool>(),
    )
        .prop_map(move |(board, short, other, pitch, swapped)| {
            let plates = if swapped {
                (mm(other), mm(short))
            } else {
                (mm(short), mm(other))
            };
            Machine::new(mm(board), plates, mm(pitch)).unwrap()
        })
}

fn any_conditions() -> impl Strategy<Value = Conditions> {
    let surface = (-70.0..=90.0).prop_map(|degrees| Temperature::celsius(degrees).unwrap());
    (
        (
            option::of(surface),
            any::<Option<bool>>(),
            option::of(any_length()),
            any::<Option<bool>>(),
            option::of(any_length()),
        ),
        (
            option::of(select(vec![Stones::Few, Stones::Many])),
            option::of(select(vec![Moisture::Dusty, Moisture::Moist])),
            option::of(any_length()),
            option::of(any_length()),
            option::of(select(vec![End::Left, End::Right])),
        ),
    )
        .prop_map(
            |(
                (surface, soft, layer, skids, bite),
                (stones, moisture, path, strip, cutting_end),
            )| {
                Conditions {
                    surface,
                    soft,
                    layer,
                    skids,
                    bite,
                    stones,
                    moisture,
                    path,
                    strip,
                    cutting_end,
                }
            },
        )
}

fn any_instant() -> impl Strategy<Value = Instant> {
    const MINUTE: i64 = 60_000;
    prop_oneof![
        // Two days, by the minute: near enough to each other to meet.
        8 => (0..2 * 24 * 60_i64).prop_map(|minute| minute * MINUTE),
        // The same to the millisecond.
        2 => 0..2 * 24 * 60 * MINUTE,
        // Any moment in some thousands of years.
        1 => -100_000_000_000_000..100_000_000_000_000_i64,
        1 => any::<i64>(),
        1 => select(vec![i64::MIN, i64::MIN + 1, -1, 0, 1, i64::MAX - 1, i64::MAX]),
    ]
    .prop_map(Instant::from_unix_ms)
}

fn any_span() -> impl Strategy<Value = Span> {
    (any_instant(), any_instant()).prop_map(|(start, end)| Span::new(start, end))
}

fn any_work_time() -> impl Strategy<Value = Duration> {
    prop_oneof![
        4 => (0..2 * 24 * 60_u64).prop_map(Duration::from_mins),
        1 => any::<u64>().prop_map(Duration::from_millis),
        1 => Just(Duration::MAX),
    ]
}

fn any_shift() -> impl Strategy<Value = ShiftFacts> {
    let stretch =
        (any_instant(), any::<u8>()).prop_map(|(from, per_shift)| Stretch { from, per_shift });
    let look = (any_instant(), any::<bool>()).prop_map(|(at, all_turned)| Look { at, all_turned });
    (
        any_span(),
        vec(any_span(), 0..6),
        vec(any_span(), 0..6),
        vec(stretch, 0..6),
        vec(look, 0..6),
        vec(any_instant(), 0..4),
        any_instant(),
    )
        .prop_map(
            |(planned, planned_breaks, taken_breaks, works, looks, usual_kept, until)| ShiftFacts {
                planned,
                planned_breaks,
                taken_breaks,
                works,
                looks,
                usual_kept,
                until,
            },
        )
}

fn any_due() -> impl Strategy<Value = Due> {
    (any_instant(), any_instant()).prop_map(|(at, worked_out)| Due { at, worked_out })
}

/// Breaks in order of time, none overlapping the next, none of no length.
fn are_apart(breaks: &[Break]) -> bool {
    breaks.iter().all(|it| it.span.start() < it.span.end())
        && breaks
            .windows(2)
            .all(|pair| pair[0].span.end() <= pair[1].span.start())
}

proptest! {
    #![proptest_config(tries(2_000))]

    #[test]
    fn a_number_is_either_kept_as_it_was_given_or_refused_with_the_right_range(number in any_number()) {
        for (kept, what, min, max) in [
            (Length::millimetres(number).map(Length::in_millimetres), What::Length, 0.0, 1e6),
            (Temperature::celsius(number).map(Temperature::in_celsius), What::Temperature, -70.0, 90.0),
            (Angle::degrees(number).map(Angle::in_degrees), What::Angle, -360.0, 360.0),
        ] {
            match kept {
                Ok(kept) => {
                    prop_assert!((min..=max).contains(&number));
                    prop_assert_eq!(kept.to_bits(), number.to_bits());
                }
                Err(refused) => {
                    prop_assert!(!(min..=max).contains(&number));
                    prop_assert_eq!((refused.what, refused.got.to_bits()), (what, number.to_bits()));
                    prop_assert_eq!((refused.min, refused.max), (min, max));
                }
            }
        }
    }

    #[test]
    fn nothing_gets_past_the_door_outside_its_bounds(number in any_number(), min in any_number(), max in any_number()) {
        if let Ok(kept) = within(What::Length, number, min, max) {
            prop_assert!(min <= kept && kept <= max);
        }
    }

    #[test]
    fn a_length_stays_between_nothing_and_a_kilometre_whatever_is_done_to_it(
        length in any_length(),
        other in any_length(),
        count in any::<u32>(),
        factor in any_number(),
    ) {
        for made in [length.times(count), length.share(factor), length.less(other)] {
            prop_assert!((0.0..=1e6).contains(&made.in_millimetres()), "{:?}", made);
            prop_assert!(made.in_micrometres() <= 1_000_000_000);
        }
        prop_assert!(length.share(factor) <= length);
        prop_assert!(length.less(other) <= length);
    }

    #[test]
    fn a_band_is_never_inside_out(low in any::<u8>(), target in any::<u8>(), high in any::<u8>()) {
        let band = AngleBand::whole_degrees(low, target, high);
        prop_assert!(band.low() <= band.target() && band.target() <= band.high());
        prop_assert_eq!(band.target(), Angle::whole_degrees(target));
    }

    #[test]
    fn a_row_turned_at_any_angle_is_never_wider_than_it_is_long(
        width in any_length(),
        pitch in any_length(),
        angle in any_angle(),
    ) {
        prop_assert!(effective_width(width, angle) <= width);
        let teeth = teeth_for_width(width, pitch, angle);
        if 0 < teeth && teeth < u32::MAX {
            let one = pitch.in_millimetres() * angle.sine();
            prop_assert!(f64::from(teeth) * one <= width.in_millimetres() * (1.0 + 1e-12) + 1e-5);
        }
        let room = teeth_on(width, pitch);
        prop_assert!(pitch != Length::ZERO || room == 0);
    }

    #[test]
    fn a_machine_of_any_measures_is_refused_or_carries_at_least_one_tooth(
        board in any_length(),
        first in any_length(),
        second in any_length(),
        pitch in any_length(),
    ) {
        if let Ok(machine) = Machine::new(board, (first, second), pitch) {
            prop_assert!(0 < fit(&machine).full_row());
        }
    }

    #[test]
    fn the_plates_that_fit_cover_the_board_as_far_as_any_would(machine in any_machine()) {
        let fit = fit(&machine);
        let shorter = machine.plates().0.in_micrometres().min(machine.plates().1.in_micrometres());
        let board = machine.moldboard().in_micrometres();
        prop_assert_eq!(fit.covered.in_micrometres() + fit.bare.in_micrometres(), board);
        prop_assert!(fit.bare.in_micrometres() < shorter);
        prop_assert_eq!(fit.plates.len(), fit.teeth.len());
        prop_assert!(fit.teeth.iter().all(|teeth| 0 < *teeth));
        let sum: u32 = fit.plates.iter().map(|plate| plate.in_micrometres()).sum();
        prop_assert_eq!(sum, fit.covered.in_micrometres());
        // Every other choice of plates covers no more.
        let longer = machine.plates().0.in_micrometres().max(machine.plates().1.in_micrometres());
        for longs in 0..=board / longer {
            let most = longs * longer + (board - longs * longer) / shorter * shorter;
            prop_assert!(most <= sum, "{} longer plates cover {} of {}", longs, most, board);
        }
    }

    #[test]
    fn a_sheet_can_be_had_for_any_conditions_on_any_machine(
        work in select(Work::ALL.to_vec()),
        known in any_conditions(),
        machine in any_machine(),
    ) {
        let sheet = advise(work, &known, &machine);
        let layout = sheet.plates.value();
        prop_assert_eq!(*sheet.verdict.value() == Verdict::DoNot, layout.teeth() == 0);
        prop_assert!(layout.working <= machine.moldboard());
        prop_assert!(layout.toothed() == layout.toothed_at().len());
        let layers = sheet.layers.value();
        prop_assert!((1..=1000).contains(&layers.count));
        prop_assert!(!questions(work, &known).is_empty());
        // No reason may carry a number that no operator could read.
        for reason in sheet.plates.because().iter().chain(sheet.layers.because()) {
            if let Reason::NarrowedToPath { path, working } = reason {
                prop_assert!(working <= path || layout.teeth() == 1);
            }
        }
    }

    #[test]
    fn the_breaks_that_count_are_in_order_and_apart(
        planned in vec(any_span(), 0..8),
        taken in vec(any_span(), 0..8),
    ) {
        let breaks = breaks(&planned, &taken);
        prop_assert!(are_apart(&breaks), "{:?}", breaks);
        // Rest that was taken is never lost.
        for span in taken.iter().filter(|it| !it.length().is_zero()) {
            let held = breaks.iter().any(|it| it.span.holds(span.start()));
            prop_assert!(held, "{:?} not in {:?}", span, breaks);
        }
    }

    #[test]
    fn working_time_is_never_longer_than_the_time(
        span in any_span(),
        planned in vec(any_span(), 0..6),
        taken in vec(any_span(), 0..6),
    ) {
        let breaks = breaks(&planned, &taken);
        prop_assert!(working_time(span, &breaks) <= span.length());
        prop_assert_eq!(working_time(span, &[]), span.length());
    }

    #[test]
    fn working_time_of_breaks_in_any_disorder_is_never_longer_than_the_time(
        span in any_span(),
        spans in vec(any_span(), 0..6),
        planned in any::<bool>(),
    ) {
        let disorder: Vec<Break> = spans.into_iter().map(|span| Break { span, planned }).collect();
        prop_assert!(working_time(span, &disorder) <= span.length());
        prop_assert!(span.start() <= after_work(span.start(), span.length(), &disorder));
    }

    #[test]
    fn after_so_much_work_so_much_work_is_done(
        from in any_instant(),
        work in any_work_time(),
        planned in vec(any_span(), 0..6),
        taken in vec(any_span(), 0..6),
    ) {
        let breaks = breaks(&planned, &taken);
        let at = after_work(from, work, &breaks);
        prop_assert!(from <= at);
        let whole = Span::new(from, at);
        // At the end of the count of milliseconds there is no telling.
        if at.unix_ms() < i64::MAX && whole.length() < Duration::from_millis(i64::MAX as u64) {
            prop_assert_eq!(working_time(whole, &breaks), Duration::from_millis(work.as_millis() as u64));
        }
    }

    #[test]
    fn any_shift_gives_due_times_in_order_within_it_and_not_too_many(shift in any_shift()) {
        let dues = plan(&shift);
        prop_assert!((1..=MOST_DUE_TIMES).contains(&dues.len()));
        prop_assert_eq!(dues[0].at, shift.planned.start());
        let breaks = shift.breaks();
        for pair in dues.windows(2) {
            prop_assert!(pair[0].at <= pair[1].at, "{:?}", pair);
            prop_assert!(pair[0].worked_out < pair[1].worked_out, "{:?}", pair);
            prop_assert!(pair[1].at < shift.until, "{:?}", pair);
            let asleep = breaks.iter().any(|it| {
                it.span.start() < pair[1].worked_out && pair[1].worked_out < it.span.end()
            });
            prop_assert!(!asleep, "{:?} falls due in a break", pair[1]);
        }
    }

    #[test]
    fn any_shift_says_when_to_look_next_and_never_before_the_last_look(
        shift in any_shift(),
        last in option::of(any_instant()),
        looks in any::<u8>(),
    ) {
        let next = shift.next_look(last, looks);
        prop_assert!(shift.planned.start() <= next);
        prop_assert!(last.is_none_or(|last| last <= next));
    }

    #[test]
    fn an_interval_is_never_longer_than_the_shift(shift in any_shift(), per_shift in any::<u8>(), at in any_instant()) {
        prop_assert!(shift.interval(per_shift) <= shift.planned.length());
        prop_assert!(shift.interval_at(at) <= shift.planned.length());
    }

    #[test]
    fn every_oiling_serves_one_due_time_or_is_extra(
        mut dues in vec(any_due(), 0..8),
        in_order in any::<bool>(),
        oiled in vec(any_instant(), 0..12),
        now in any_instant(),
        over in any::<bool>(),
    ) {
        if in_order {
            dues.sort_by_key(|due| due.at);
        }
        let standing = reconcile(&dues, &oiled, now, over);
        prop_assert_eq!(standing.slots.iter().map(|it| it.due).collect::<Vec<_>>(), dues);
        prop_assert_eq!(standing.done() + standing.extra.len(), oiled.len());
        let mut used = standing.extra.clone();
        used.extend(standing.slots.iter().filter_map(|slot| match slot.status {
            Status::Done { at, .. } => Some(at),
            Status::Ahead | Status::Due | Status::Late(_) | Status::Missed => None,
        }));
        let mut oiled = oiled;
        used.sort_unstable();
        oiled.sort_unstable();
        prop_assert_eq!(used, oiled);
        prop_assert!(!over || standing.next().is_none());
        if let Some(next) = standing.next() {
            prop_assert!(standing.slots.contains(next));
        }
    }
}

/// Source: house default. A row of no teeth is no answer.
#[test]
fn a_board_on_which_no_plate_fits_is_refused_and_one_on_which_the_shorter_fits_is_not() {
    let mm = |mm: f64| Length::millimetres(mm).unwrap();
    let pitch = mm(38.1);
    let refused = Machine::new(mm(1200.0), (mm(1250.0), mm(1300.0)), pitch).unwrap_err();
    assert_eq!(
        (refused.what, refused.got, refused.max),
        (What::Plate, 1250.0, 1200.0)
    );
    assert!(Machine::new(mm(1200.0), (mm(1300.0), mm(1200.0)), pitch).is_ok());
}

/// Source: house default: the largest cover, then the fewest different lengths, then the fewest plates.
#[test]
fn plates_of_one_length_are_taken_before_two_that_cover_no_more() {
    let mm = |mm: f64| Length::millimetres(mm).unwrap();
    // 3 m: five long ones, or three long and three short.
    let machine = Machine::new(mm(3000.0), (mm(400.0), mm(600.0)), mm(40.0)).unwrap();
    assert_eq!(fit(&machine).plates, [mm(600.0); 5]);
    // 4.8 m: eight long ones, twelve short ones, or a mixture; the fewest of one length.
    let machine = Machine::new(mm(4800.0), (mm(400.0), mm(600.0)), mm(40.0)).unwrap();
    assert_eq!(fit(&machine).plates, [mm(600.0); 8]);
    // 2 m: one length, even where the mixture has fewer plates.
    let machine = Machine::new(mm(2000.0), (mm(400.0), mm(600.0)), mm(40.0)).unwrap();
    assert_eq!(fit(&machine).plates, [mm(400.0); 5]);
    // 2.2 m: one length covers 2 m at most; the cover counts first.
    let machine = Machine::new(mm(2200.0), (mm(400.0), mm(600.0)), mm(40.0)).unwrap();
    assert_eq!(fit(&machine).covered, mm(2200.0));
}

/// Everything at the ends of the count at once, where sums overflow first.
#[test]
fn a_thousand_breaks_as_long_as_time_itself_are_added_up() {
    let ever = Span::new(
        Instant::from_unix_ms(i64::MIN),
        Instant::from_unix_ms(i64::MAX),
    );
    let breaks = vec![
        Break {
            span: ever,
            planned: true
        };
        3000
    ];
    assert_eq!(working_time(ever, &breaks), Duration::ZERO);
}

/// Over millions of years a share of an interval is finer than a number can tell; what is left of it is never less than
/// nothing.
#[test]
fn a_shift_of_millions_of_years_with_a_change_of_work_at_its_last_moment_has_a_plan() {
    let at = Instant::from_unix_ms;
    let end = at(2_305_843_009_213_693_916);
    let froms = [0, 32_610_230_426_164_641, 2_305_843_009_213_693_915];
    let shift = ShiftFacts {
        planned: Span::new(at(0), end),
        planned_breaks: vec![],
        taken_breaks: vec![],
        works: froms
            .map(|from| Stretch {
                from: at(from),
                per_shift: 1,
            })
            .to_vec(),
        looks: vec![],
        usual_kept: vec![],
        until: end,
    };
    assert_eq!(plan(&shift)[0].at, at(0));
}

/// A phone whose clock stood at 1970 when the shift began: the list of due times stays one that a phone can hold.
#[test]
fn a_shift_left_open_for_half_a_century_has_no_endless_list_of_due_times() {
    let start = Instant::from_unix_ms(0);
    let shift = ShiftFacts {
        planned: Span::new(start, start.plus(Duration::from_hours(8))),
        planned_breaks: vec![],
        taken_breaks: vec![],
        works: vec![Stretch {
            from: start,
            per_shift: 3,
        }],
        looks: vec![],
        usual_kept: vec![],
        until: start.plus(Duration::from_hours(56 * 365 * 24)),
    };
    assert_eq!(plan(&shift).len(), MOST_DUE_TIMES);
}
