//! What two readings of the clocks say: every case of a phone that sleeps, is hidden, or has its clock moved.
//!
//! Never here: what is recorded of it (`decide`).

use std::time::Duration;

use evenrow_journal::watch::{BLIND_AFTER, JUMP_FROM, Noticed, Reading, compare, since_last_run};
use evenrow_rules::quantity::{Instant, Span};
use proptest::prelude::*;

fn reading(wall_s: i64, steady_s: u64, hidden: bool) -> Reading {
    Reading {
        wall: Instant::from_unix_ms(wall_s * 1000),
        steady: Duration::from_secs(steady_s),
        hidden,
    }
}

/// From ten thousand seconds on both clocks.
#[track_caller]
fn check(wall_s: i64, steady_s: u64, hidden: bool, expect: Noticed) {
    let before = reading(10_000, 10_000, false);
    let now = reading(10_000 + wall_s, 10_000 + steady_s, hidden);
    assert_eq!(compare(before, now), expect);
}

fn blind(wall_s: i64) -> Noticed {
    let at = |seconds: i64| Instant::from_unix_ms(seconds * 1000);
    Noticed::Blind(Span::new(at(10_000), at(10_000 + wall_s)))
}

#[test]
fn a_second_that_passes_is_nothing() {
    check(1, 1, false, Noticed::Nothing);
    check(1, 1, true, Noticed::Nothing);
}

#[test]
fn a_hidden_page_that_is_let_run_once_a_minute_is_not_blind() {
    check(60, 60, true, Noticed::Nothing);
    check(120, 120, true, Noticed::Nothing);
}

#[test]
fn three_hours_in_a_pocket_are_three_hours_blind_whether_the_steady_clock_counted_or_not() {
    check(10_800, 10_800, true, blind(10_800));
    check(10_800, 2, true, blind(10_800));
    // A computer whose lid was closed: nobody said that the page was hidden.
    check(10_800, 10_800, false, blind(10_800));
}

#[test]
fn a_clock_set_back_an_hour_is_a_jump_whether_the_page_was_seen_or_not() {
    check(-3_600, 1, false, Noticed::Jumped(-3_601_000));
    check(-3_600, 1, true, Noticed::Jumped(-3_601_000));
    check(0, 3_600, true, Noticed::Jumped(-3_600_000));
}

#[test]
fn a_clock_set_forward_while_the_page_was_seen_is_a_jump() {
    check(3_601, 1, false, Noticed::Jumped(3_600_000));
}

#[test]
fn two_minutes_are_no_jump_and_a_second_more_is_one() {
    check(121, 1, false, Noticed::Nothing);
    check(122, 1, false, Noticed::Jumped(121_000));
    check(-119, 1, false, Noticed::Nothing);
    check(-120, 1, false, Noticed::Jumped(-121_000));
}

#[test]
fn a_phone_that_was_killed_is_blind_from_what_it_last_saw() {
    let at = |seconds: i64| Instant::from_unix_ms(seconds * 1000);
    let span = Span::new(at(0), at(600));
    assert_eq!(since_last_run(at(0), at(600)), Noticed::Blind(span));
    assert_eq!(since_last_run(at(0), at(120)), Noticed::Nothing);
    // The clock was set back meanwhile: by how much nobody knows.
    assert_eq!(since_last_run(at(600), at(0)), Noticed::Nothing);
}

proptest! {
    #[test]
    fn an_hour_of_seconds_in_any_pace_up_to_two_minutes_is_never_anything(steps in prop::collection::vec((1..=120_u64, any::<bool>()), 1..60)) {
        let mut now = reading(10_000, 10_000, false);
        for (step, hidden) in steps {
            let next = Reading {
                wall: now.wall.plus(Duration::from_secs(step)),
                steady: now.steady + Duration::from_secs(step),
                hidden,
            };
            prop_assert_eq!(compare(now, next), Noticed::Nothing);
            now = next;
        }
    }

    #[test]
    fn any_two_readings_get_an_answer_and_what_is_noticed_is_over_the_limit(
        wall in any::<(i64, i64)>(),
        steady in any::<(u64, u64)>(),
        hidden in any::<bool>(),
    ) {
        let of = |wall, steady, hidden| Reading {
            wall: Instant::from_unix_ms(wall),
            steady: Duration::from_millis(steady),
            hidden,
        };
        match compare(of(wall.0, steady.0, false), of(wall.1, steady.1, hidden)) {
            Noticed::Nothing => {}
            Noticed::Blind(span) => prop_assert!(BLIND_AFTER < span.length()),
            Noticed::Jumped(by) => prop_assert!(JUMP_FROM.as_millis() < u128::from(by.unsigned_abs())),
        }
    }
}
