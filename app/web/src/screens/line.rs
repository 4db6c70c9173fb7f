//! What the shift line shows of a shift at a moment.

use core::time::Duration;

use evenrow_journal::event::TimeOfDay;
use evenrow_journal::state::Shift;
use evenrow_rules::oiling::{Standing, Status, Timing};
use evenrow_rules::quantity::{Instant, Span};

use crate::device::clock;
use crate::parts::shift_line::{Drop, ShiftLineView};
use crate::words::{Words, times};

/// At most so many hours are written below the line; more would run together on a narrow phone.
const MOST_HOURS: u64 = 5;

/// How an oiling is drawn.
fn drop(status: Status) -> Drop {
    match status {
        Status::Done {
            timing: Timing::Early(_) | Timing::OnTime,
            ..
        } => Drop::Done,
        Status::Done {
            timing: Timing::Late(_),
            ..
        } => Drop::DoneLate,
        Status::Ahead => Drop::Planned,
        Status::Due | Status::Late(_) => Drop::Wanting,
        Status::Missed => Drop::Missed,
    }
}

/// Where an oiling is drawn: where it was done, else where it is due.
fn drawn_at(due: Instant, status: Status) -> Instant {
    match status {
        Status::Done { at, .. } => at,
        Status::Ahead | Status::Due | Status::Late(_) | Status::Missed => due,
    }
}

/// The line of a shift.
pub fn shown(shift: &Shift, standing: &Standing, now: Instant, words: &Words) -> ShiftLineView {
    let day = day(shift, now);
    let place = |at: Instant| share(day, at);
    let now_inside = now.max(day.start()).min(day.end());
    let breaks = shift.facts(now).breaks();
    let mut drops: Vec<(f64, Drop)> = standing
        .slots
        .iter()
        .map(|slot| (place(drawn_at(slot.due.at, slot.status)), drop(slot.status)))
        .collect();
    drops.extend(standing.extra.iter().map(|&at| (place(at), Drop::Done)));
    ShiftLineView {
        told: words.shift_line_told(
            &standing.done().to_string(),
            &standing.slots.len().to_string(),
            &times::here(day.start()),
            &times::here(day.end()),
        ),
        rests: breaks
            .iter()
            .map(|rest| {
                (
                    place(rest.span.start()),
                    place(rest.span.end()) - place(rest.span.start()),
                )
            })
            .collect(),
        drops,
        looks: shift.looks.iter().map(|(at, _)| place(*at)).collect(),
        now: place(now_inside),
        now_text: words.now_at(&times::here(now)),
        hours: hours(day),
    }
}

/// From the start of the shift to its end, or to now when it runs over.
fn day(shift: &Shift, now: Instant) -> Span {
    let end = shift.ended.unwrap_or(shift.plan.end.max(now));
    // An oiling or a look before the start has to be on the line as well.
    let first = shift
        .oiled
        .iter()
        .chain(shift.looks.iter().map(|(at, _)| at))
        .min();
    let start = first.map_or(shift.plan.start, |&first| first.min(shift.plan.start));
    // Something recorded years away by a wrong clock must not shrink the day to nothing.
    let start = start.max(shift.plan.start.minus(Duration::from_hours(2)));
    Span::new(
        start,
        end.max(shift.plan.start.plus(Duration::from_mins(15))),
    )
}

fn share(day: Span, at: Instant) -> f64 {
    let length = day.length().as_secs_f64();
    (at.since(day.start()).as_secs_f64() / length * 100.0).clamp(0.0, 100.0)
}

fn time_of_day(at: Instant) -> TimeOfDay {
    times::time_of_day(at, clock::offset_minutes(at))
}

/// Whole hours to write below the line, evenly spread.
fn hours(day: Span) -> Vec<(f64, String)> {
    let step = (day.length().as_secs() / 3600).div_ceil(MOST_HOURS).max(1);
    let into_hour = u64::from(time_of_day(day.start()).minutes() % 60);
    let seconds = day.start().unix_ms().rem_euclid(60_000);
    let to_next = (60 - into_hour) % 60 * 60_000;
    let first = day
        .start()
        .plus(Duration::from_millis(to_next))
        .minus(Duration::from_millis(seconds.unsigned_abs()));
    (0..)
        .map(|count| first.plus(Duration::from_hours(count * step)))
        .take_while(|at| *at <= day.end())
        .take(12)
        .map(|at| {
            let hour = time_of_day(at).minutes() / 60;
            (share(day, at), format!("{hour:02}"))
        })
        .collect()
}
