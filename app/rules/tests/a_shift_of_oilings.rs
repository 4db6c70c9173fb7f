//! A shift of oilings as an operator lives it: the house rule K2b, tried on days made of breaks taken, breaks missed and
//! changes of work.
//!
//! Source of all of it: house default; that gravel wants oil two or three times a shift is common practice. Never here:
//! inputs that no operator could give (`no_panic`).

mod tries;

use std::time::Duration;
use tries::tries;

use evenrow_rules::oiling::{
    Due, Look, ShiftFacts, Status, Stretch, Timing, plan, reconcile, shortened, working_time,
};
use evenrow_rules::quantity::{Instant, Span};
use proptest::collection::vec;
use proptest::prelude::*;

/// A quarter of the interval attracts; see the head of the rule.
const QUARTER: u32 = 4;

fn clock(hours: i64, minutes: i64) -> Instant {
    minute(hours * 60 + minutes)
}

fn minute(minutes: i64) -> Instant {
    Instant::from_unix_ms(minutes * 60_000)
}

fn span(start: i64, length: i64) -> Span {
    Span::new(minute(start), minute(start + length))
}

fn look(minutes: i64, all_turned: bool) -> Look {
    Look {
        at: minute(minutes),
        all_turned,
    }
}

/// Seven to half past three, lunch from eleven to half past: eight hours of work.
fn day(per_shift: u8) -> ShiftFacts {
    ShiftFacts {
        planned: Span::new(clock(7, 0), clock(15, 30)),
        planned_breaks: vec![Span::new(clock(11, 0), clock(11, 30))],
        taken_breaks: vec![],
        works: vec![Stretch {
            from: clock(7, 0),
            per_shift,
        }],
        looks: vec![],
        usual_kept: vec![],
        until: clock(15, 30),
    }
}

fn times(shift: &ShiftFacts) -> Vec<Instant> {
    plan(shift).iter().map(|due| due.at).collect()
}

/// All that ever happened in a shift, by the minute.
#[derive(Clone, Debug)]
struct Story {
    planned: Span,
    planned_breaks: Vec<Span>,
    taken_breaks: Vec<Span>,
    works: Vec<Stretch>,
    looks: Vec<Look>,
    usual_kept: Vec<Instant>,
    ended: i64,
}

impl Story {
    /// What was known of it at a minute: no break, work or look that was still to come, and a break that ran ends then.
    fn known_at(&self, now: i64) -> ShiftFacts {
        let at = minute(now);
        let over = self.ended <= now;
        ShiftFacts {
            planned: self.planned,
            planned_breaks: self.planned_breaks.clone(),
            taken_breaks: self
                .taken_breaks
                .iter()
                .filter(|it| it.start() <= at)
                .map(|it| Span::new(it.start(), it.end().min(at)))
                .collect(),
            works: self
                .works
                .iter()
                .enumerate()
                .filter(|(index, it)| *index == 0 || it.from <= at)
                .map(|(_, it)| *it)
                .collect(),
            looks: self
                .looks
                .iter()
                .filter(|it| it.at <= at)
                .copied()
                .collect(),
            usual_kept: self
                .usual_kept
                .iter()
                .copied()
                .filter(|&it| it <= at)
                .collect(),
            until: if over {
                minute(self.ended)
            } else {
                self.planned.end().max(at)
            },
        }
    }

    /// The due times that have come by a minute, as told at another.
    fn come_by(&self, by: i64, told_at: i64) -> Vec<Instant> {
        times(&self.known_at(told_at))
            .into_iter()
            .filter(|at| at.plus(Duration::from_secs(2)) < minute(by))
            .collect()
    }
}

/// Times are minutes of a day; the shift begins at 420, which is seven.
fn any_story() -> impl Strategy<Value = Story> {
    let begin = 420_i64;
    let planned_breaks = vec((0..660_i64, 5..60_i64), 0..3);
    let pauses = vec((5..240_i64, 1..90_i64), 0..6);
    let changes = vec((1..200_i64, 1..=4_u8), 0..4);
    let looks = vec((0..900_i64, any::<bool>()), 0..8);
    let refusals = vec(0..900_i64, 0..3);
    (
        180..720_i64,
        planned_breaks,
        pauses,
        1..=4_u8,
        changes,
        looks,
        refusals,
        60..900_i64,
    )
        .prop_map(
            move |(length, planned_breaks, pauses, first, changes, looks, refusals, ended)| {
                let mut at = begin;
                let taken_breaks = pauses
                    .into_iter()
                    .map(|(after, long)| {
                        let start = at + after;
                        at = start + long;
                        span(start, long)
                    })
                    .filter(|it| it.end() <= minute(begin + ended))
                    .collect();
                let mut from = begin;
                let works = std::iter::once((0, first))
                    .chain(changes)
                    .map(|(after, per_shift)| {
                        from += after;
                        Stretch {
                            from: minute(from),
                            per_shift,
                        }
                    })
                    .collect();
                Story {
                    planned: span(begin, length),
                    planned_breaks: planned_breaks
                        .into_iter()
                        .filter(|(after, long)| after + long <= length)
                        .map(|(after, long)| span(begin + after, long))
                        .collect(),
                    taken_breaks,
                    works,
                    looks: looks
                        .into_iter()
                        .map(|(after, all_turned)| look(begin + after, all_turned))
                        .collect(),
                    usual_kept: refusals.into_iter().map(|at| minute(begin + at)).collect(),
                    ended: begin + ended,
                }
            },
        )
}

proptest! {
    #![proptest_config(tries(8_000))]

    #[test]
    fn a_due_time_that_has_come_never_moves_or_vanishes_and_none_turns_up_behind_it(
        story in any_story(),
        earlier in 0..1000_i64,
        later in 0..1000_i64,
    ) {
        let now = 420 + earlier;
        let then = now + later;
        // What came before both the end and the earlier moment.
        let by = now.min(story.ended);
        prop_assert_eq!(
            story.come_by(by, now),
            story.come_by(by, then),
            "told at {} and at {}",
            now,
            then
        );
    }

    #[test]
    fn a_shift_that_runs_as_planned_has_as_many_oilings_as_the_work_asks(
        story in any_story(),
        per_shift in 1..=12_u8,
    ) {
        let mut shift = story.known_at(0);
        shift.looks = vec![];
        shift.works = vec![Stretch { from: shift.planned.start(), per_shift }];
        prop_assume!(Duration::from_mins(1) <= shift.interval(per_shift));
        prop_assert_eq!(plan(&shift).len(), usize::from(per_shift));
    }

    #[test]
    fn one_work_all_day_leaves_the_same_working_time_between_any_two_due_times(
        story in any_story(),
        per_shift in 1..=6_u8,
    ) {
        let mut shift = story.known_at(story.ended);
        shift.looks = vec![];
        shift.works = vec![Stretch { from: shift.planned.start(), per_shift }];
        let (interval, breaks) = (shift.interval(per_shift), shift.breaks());
        for pair in plan(&shift).windows(2) {
            let worked = working_time(Span::new(pair[0].worked_out, pair[1].worked_out), &breaks);
            // Within the second that counts as no work at the planned end.
            prop_assert!(worked.abs_diff(interval) <= Duration::from_secs(1), "{:?}: {:?}", pair, worked);
        }
    }

    #[test]
    fn an_interval_is_two_thirds_if_stuck_teeth_were_found_before_it_began_and_not_two_clean_looks_since(
        story in any_story(),
        per_shift in 1..=6_u8,
    ) {
        let mut shift = story.known_at(story.ended);
        shift.usual_kept = vec![];
        shift.works = vec![Stretch { from: shift.planned.start(), per_shift }];
        let (usual, breaks) = (shift.interval(per_shift), shift.breaks());
        for pair in plan(&shift).windows(2) {
            let mut before: Vec<Look> =
                shift.looks.iter().filter(|it| it.at <= pair[0].worked_out).copied().collect();
            // Of two looks in the same minute the bad one counts.
            before.sort_by_key(|it| (it.at, !it.all_turned));
            let clean_at_last = before.iter().rev().take_while(|it| it.all_turned).count();
            let found = before.iter().any(|it| !it.all_turned);
            let two_thirds = Duration::from_mins(45).max(usual * 2 / 3).min(usual);
            let expect = if found && clean_at_last < 2 { two_thirds } else { usual };
            let worked = working_time(Span::new(pair[0].worked_out, pair[1].worked_out), &breaks);
            prop_assert!(worked.abs_diff(expect) <= Duration::from_secs(1), "{:?}: {:?}", pair, worked);
        }
    }

    #[test]
    fn the_next_look_comes_after_its_share_of_the_interval_in_work(
        story in any_story(),
        last in 0..900_i64,
        looks in 1..=4_u8,
    ) {
        let shift = story.known_at(story.ended);
        let last = minute(420 + last);
        let next = shift.next_look(Some(last), looks);
        let usual = shift.interval_at(last);
        let interval = if shift.is_shortened(last) { shortened(usual) } else { usual };
        let share = interval / u32::from(looks);
        let worked = working_time(Span::new(last, next), &shift.breaks());
        prop_assert!(worked.abs_diff(share) <= Duration::from_millis(1), "{:?} of {:?}", worked, share);
    }

    #[test]
    fn a_due_time_moves_by_a_quarter_of_an_interval_at_most_and_only_to_the_start_of_a_break(
        story in any_story(),
        per_shift in 1..=6_u8,
    ) {
        let mut shift = story.known_at(story.ended);
        shift.works = vec![Stretch { from: shift.planned.start(), per_shift }];
        let quarter = shift.interval(per_shift) / QUARTER + Duration::from_millis(1);
        let breaks = shift.breaks();
        for due in plan(&shift).iter().filter(|due| due.at != due.worked_out) {
            prop_assert!(breaks.iter().any(|it| it.span.start() == due.at), "{:?}", due);
            let (first, last) = (due.at.min(due.worked_out), due.at.max(due.worked_out));
            let work = working_time(Span::new(first, last), &breaks);
            prop_assert!(work <= quarter, "{:?}: {:?} of work", due, work);
        }
    }
}

/// At 9:30 the work changes to one that wants less oil. A coffee break at 8:50 was no reason to oil then, and it does
/// not become one afterwards.
#[test]
fn a_change_of_work_puts_no_due_time_into_the_past() {
    let mut shift = day(3);
    shift.taken_breaks = vec![Span::new(clock(8, 50), clock(8, 55))];
    shift.works.push(Stretch {
        from: clock(9, 30),
        per_shift: 2,
    });
    let late = times(&shift)[1..].iter().any(|at| *at < clock(9, 30));
    assert!(!late, "{:?}", plan(&shift));
}

/// Oiled in the break at 9:10, which had attracted the time due at 9:50; a second break at 9:30 asks for nothing more.
#[test]
fn a_second_break_does_not_take_back_what_the_first_one_attracted() {
    let mut shift = day(3);
    shift.planned_breaks = vec![Span::new(clock(9, 10), clock(9, 20))];
    let before = times(&shift)[1];
    assert_eq!(before, clock(9, 10));
    shift.taken_breaks = vec![Span::new(clock(9, 30), clock(9, 50))];
    assert_eq!(times(&shift)[1], before);
}

/// Due at 10:30, put off to the lunch at 11:00. Whoever goes to lunch at 10:45 oils then, and is on time.
#[test]
fn who_goes_to_lunch_early_oils_then_and_is_not_late() {
    let mut shift = day(2);
    shift.planned = Span::new(clock(7, 0), clock(14, 30));
    shift.until = clock(14, 30);
    assert_eq!(plan(&shift)[1].worked_out, clock(10, 30));
    assert_eq!(times(&shift)[1], clock(11, 0));
    shift.taken_breaks = vec![Span::new(clock(10, 45), clock(11, 15))];
    let dues = plan(&shift);
    assert_eq!(dues[1].at, clock(10, 45));
    let oiled = [clock(7, 0), clock(10, 50)];
    let standing = reconcile(&dues, &oiled, clock(10, 50), false);
    assert_eq!(
        standing.slots[1].status,
        Status::Done {
            at: clock(10, 50),
            timing: Timing::OnTime
        }
    );
}

/// Two a shift, lunch late. Once work goes on past the planned end the sockets are due at that end, not at a break long past.
#[test]
fn work_past_the_planned_end_makes_nothing_due_in_a_break_long_past() {
    let mut shift = day(2);
    shift.taken_breaks = vec![Span::new(clock(15, 0), clock(15, 5))];
    shift.until = clock(16, 0);
    let dues = plan(&shift);
    assert_eq!(dues.len(), 3, "{dues:?}");
    assert!(clock(15, 30) <= dues[2].at, "{dues:?}");
}

/// Lunch at the very end of the day: no work follows, so nothing is left to oil for.
#[test]
fn a_break_that_ends_the_shift_brings_no_oiling_with_it() {
    let mut shift = day(2);
    shift.planned_breaks = vec![Span::new(clock(15, 0), clock(15, 30))];
    assert_eq!(times(&shift), [clock(7, 0), clock(11, 0)]);
    // Work goes on after all: due where the planned end was, not half an hour before.
    shift.until = clock(16, 0);
    assert_eq!(times(&shift), [clock(7, 0), clock(11, 0), clock(15, 30)]);
}

/// Due at 10:30 and put off to the lunch at 11:00, but work ended at 10:50: it never fell due.
#[test]
fn work_that_ends_before_the_break_it_was_put_off_to_leaves_nothing_missed() {
    let mut shift = day(2);
    shift.planned = Span::new(clock(7, 0), clock(14, 30));
    shift.until = clock(10, 50);
    assert_eq!(times(&shift), [clock(7, 0)]);
}

/// A planned break at the end of the day, cut short by a short one: due in that one, for the work that comes after all.
#[test]
fn work_taken_up_again_in_the_last_break_of_the_day_is_oiled_for() {
    let mut shift = day(2);
    shift.planned_breaks = vec![Span::new(clock(15, 0), clock(15, 30))];
    shift.taken_breaks = vec![Span::new(clock(15, 5), clock(15, 10))];
    assert_eq!(times(&shift), [clock(7, 0), clock(11, 0), clock(15, 5)]);
}

/// After a morning without work the second oiling falls due at 14:45, a quarter of an hour before the break that ends the
/// day. Nobody works after that one, so it puts nothing off.
#[test]
fn the_last_break_of_the_day_puts_nothing_off() {
    let mut shift = day(2);
    shift
        .planned_breaks
        .push(Span::new(clock(15, 0), clock(15, 30)));
    shift.taken_breaks = vec![Span::new(clock(7, 30), clock(11, 0))];
    assert_eq!(times(&shift), [clock(7, 0), clock(14, 45)]);
    // A second of work after it is none; each half of the day is longer by half of it. Two seconds are some.
    let seconds_after = |it| Span::new(clock(15, 0), clock(15, 30).minus(Duration::from_secs(it)));
    shift.planned_breaks[1] = seconds_after(1);
    let due = clock(14, 45).plus(Duration::from_millis(500));
    assert_eq!(times(&shift), [clock(7, 0), due]);
    shift.planned_breaks[1] = seconds_after(2);
    assert_eq!(times(&shift), [clock(7, 0), clock(15, 0)]);
}

/// Due at 10:30, put off to the lunch at 11:00; a minute later the work changes to one that is oiled every few minutes.
#[test]
fn due_times_stay_in_order_when_the_next_work_is_oiled_all_the_time() {
    let mut shift = day(2);
    shift.planned = Span::new(clock(7, 0), clock(14, 30));
    shift.until = clock(14, 30);
    shift.works.push(Stretch {
        from: clock(10, 31),
        per_shift: 48,
    });
    let times = times(&shift);
    assert_eq!(times[1], clock(11, 0));
    assert!(times.is_sorted(), "{times:?}");
}

/// Late after ten minutes, missed when the next falls due; lateness moves no later due time.
#[test]
fn an_oiling_an_hour_late_moves_no_later_due_time() {
    let dues: Vec<Due> = plan(&day(3));
    let oiled = [clock(7, 0), clock(10, 40)];
    let standing = reconcile(&dues, &oiled, clock(12, 0), false);
    assert_eq!(
        standing.slots[1].status,
        Status::Done {
            at: clock(10, 40),
            timing: Timing::Late(Duration::from_hours(1))
        }
    );
    assert_eq!(standing.next().unwrap().due.at, clock(12, 50));
}

/// The edges of on time, to the minute and to the millisecond after it.
#[test]
fn ten_minutes_either_side_is_on_time_and_a_moment_more_is_not() {
    let dues = plan(&day(3));
    let timing = |at: Instant| match reconcile(&dues, &[clock(7, 0), at], clock(12, 0), false).slots
        [1]
    .status
    {
        Status::Done { timing, .. } => timing,
        other @ (Status::Ahead | Status::Due | Status::Late(_) | Status::Missed) => {
            panic!("{other:?}")
        }
    };
    let (due, ten) = (dues[1].at, Duration::from_mins(10));
    let more = ten + Duration::from_millis(1);
    assert_eq!(timing(due.minus(ten)), Timing::OnTime);
    assert_eq!(timing(due.plus(ten)), Timing::OnTime);
    assert_eq!(timing(due.minus(more)), Timing::Early(more));
    assert_eq!(timing(due.plus(more)), Timing::Late(more));
}

/// Two thirds of two hours and forty minutes are one hour, forty-six minutes and forty seconds.
#[test]
fn a_stuck_tooth_shortens_the_next_interval_and_leaves_the_one_that_runs() {
    let mut shift = day(3);
    shift.looks = vec![look(8 * 60 + 20, false)];
    // 9:40 and 1:46:40 of work with the lunch in it: 11:56:40. That is within a quarter of an interval of the lunch.
    let dues = plan(&shift);
    assert_eq!(
        dues[2].worked_out,
        clock(11, 56).plus(Duration::from_secs(40))
    );
    let last = clock(13, 43).plus(Duration::from_secs(20));
    assert_eq!(
        times(&shift),
        [clock(7, 0), clock(9, 40), clock(11, 0), last]
    );
}

#[test]
fn two_clean_looks_in_a_row_bring_the_usual_interval_back_and_one_does_not() {
    let mut shift = day(3);
    shift.looks = vec![look(8 * 60, false), look(9 * 60, true)];
    let with_one = times(&shift);
    assert_ne!(with_one, times(&day(3)));
    shift.looks.push(look(9 * 60 + 30, true));
    assert_eq!(times(&shift), times(&day(3)));
    shift.looks = vec![
        look(8 * 60, true),
        look(8 * 60 + 30, false),
        look(9 * 60, true),
    ];
    assert_eq!(
        times(&shift),
        with_one,
        "the clean look before the bad one does not count"
    );
}

/// Eight oilings in eight hours leave an hour each; two thirds of it would be forty minutes.
#[test]
fn no_interval_is_shortened_below_three_quarters_of_an_hour() {
    let mut shift = day(8);
    shift.planned_breaks = vec![];
    shift.planned = Span::new(clock(7, 0), clock(15, 0));
    shift.until = clock(15, 0);
    shift.looks = vec![look(6 * 60 + 50, false)];
    assert_eq!(times(&shift)[1..3], [clock(7, 45), clock(8, 30)]);
}

/// Found at 8:20, shortened from 9:40 on, refused at 10:00: of 1:46:40 a fifth and a bit is used up, and what is left is
/// that share of 2:40. Nothing before ten o'clock moves.
#[test]
fn who_refuses_the_shorter_interval_has_the_usual_one_from_then_on() {
    let mut shift = day(3);
    shift.planned_breaks = vec![];
    shift.planned = Span::new(clock(7, 0), clock(15, 0));
    shift.until = clock(15, 0);
    shift.looks = vec![look(8 * 60 + 20, false)];
    shift.usual_kept = vec![clock(10, 0)];
    // Twenty minutes of 106:40 are 18.75 %; 81.25 % of 160 minutes are 130.
    assert_eq!(
        times(&shift),
        [clock(7, 0), clock(9, 40), clock(12, 10), clock(14, 50)]
    );
    // Another look that finds some shortens again.
    shift.looks.push(look(10 * 60 + 30, false));
    assert!(shift.is_shortened(clock(10, 30)) && !shift.is_shortened(clock(10, 29)));
}

/// Found at 8:20 and refused in the same moment.
#[test]
fn who_refuses_the_shorter_interval_at_once_never_has_it() {
    let mut shift = day(3);
    shift.looks = vec![look(8 * 60 + 20, false)];
    shift.usual_kept = vec![clock(8, 20)];
    assert_eq!(plan(&shift), plan(&day(3)));
}

#[test]
fn an_hour_is_split_into_minutes_at_most() {
    let mut shift = day(60);
    shift.planned_breaks = vec![];
    shift.planned = Span::new(clock(7, 0), clock(8, 0));
    shift.until = clock(8, 0);
    let each_minute: Vec<Instant> = (0..60).map(|it| clock(7, it)).collect();
    assert_eq!(times(&shift), each_minute);
    shift.works[0].per_shift = 61;
    assert_eq!(times(&shift), [clock(7, 0)]);
}

/// Two intervals of 8,192 seconds. Lunch is taken so many seconds shorter than planned, and so much work is left over
/// when the third time is due, at the end of the day. Just before, 2,048 seconds of work ahead of it, comes a break.
#[test]
fn a_second_of_work_at_the_end_of_the_day_is_not_oiled_for_and_two_are() {
    let second = |it: i64| Instant::from_unix_ms(it * 1_000);
    let span = |start, length| Span::new(second(start), second(start + length));
    for (left_over, due_in_the_break) in [(1, false), (2, true)] {
        let shift = ShiftFacts {
            planned: span(0, 2 * 8_192 + 1_800 + 600),
            planned_breaks: vec![span(4_096, 1_800), span(8_192 + 1_799 + 6_144, 600)],
            taken_breaks: vec![span(4_096, 1_800 - left_over)],
            works: vec![Stretch {
                from: second(0),
                per_shift: 2,
            }],
            looks: vec![],
            usual_kept: vec![],
            until: second(2 * 8_192 + 1_800 + 600),
        };
        let mut expect = vec![second(0), second(8_192 + 1_800 - left_over)];
        if due_in_the_break {
            expect.push(shift.planned_breaks[1].start());
        }
        assert_eq!(times(&shift), expect, "{left_over}");
    }
}

/// Two a shift: due at 11:00, when lunch begins, and not at the coffee after it.
#[test]
fn what_falls_due_the_moment_a_break_begins_is_due_in_that_break() {
    let mut shift = day(2);
    let eleven = Due {
        at: clock(11, 0),
        worked_out: clock(11, 0),
    };
    assert_eq!(plan(&shift)[1], eleven);
    // Ten minutes of coffee at 11:40, and ten more of work at the end: still eight hours of it.
    shift
        .planned_breaks
        .push(Span::new(clock(11, 40), clock(11, 50)));
    shift.planned = Span::new(clock(7, 0), clock(15, 40));
    shift.until = clock(15, 40);
    assert_eq!(plan(&shift)[1], eleven);
}

/// Twelve hours of work: due at noon and put off to the break at 13:15, unless one is taken the moment it falls due.
#[test]
fn who_takes_a_break_the_moment_it_falls_due_oils_then() {
    let mut shift = day(2);
    shift.planned = Span::new(clock(6, 0), clock(18, 15));
    shift.until = clock(18, 15);
    shift.works[0].from = clock(6, 0);
    shift.planned_breaks = vec![Span::new(clock(13, 15), clock(13, 30))];
    assert_eq!(times(&shift), [clock(6, 0), clock(13, 15)]);
    shift.taken_breaks = vec![Span::new(clock(12, 0), clock(12, 10))];
    assert_eq!(times(&shift), [clock(6, 0), clock(12, 0)]);
}
