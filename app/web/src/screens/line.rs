//! What the shift line shows of a shift at a moment.

use core::time::Duration;

use evenrow_journal::day::{DayPlan, OfTheDay};
use evenrow_journal::event::TimeOfDay;
use evenrow_journal::state::Shift;
use evenrow_rules::oiling::{Break, Standing, Status, Timing};
use evenrow_rules::quantity::{Instant, Span};

use crate::device::clock;
use crate::parts::shift_line::{Drop, ShiftLineView, Stage};
use crate::words::{Words, times};

/// At most so many hours are written below the line; more would run together on a narrow phone.
const MOST_HOURS: u64 = 5;

/// The line of a plan goes on beyond the shift by this part of it at most: a quarter. House default.
const BEYOND: u32 = 4;

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
    ShiftLineView {
        told: words.shift_line_told(
            &standing.done().to_string(),
            &standing.slots.len().to_string(),
            &times::here(day.start()),
            &times::here(day.end()),
        ),
        rests: rests(day, &shift.facts(now).breaks()),
        drops: drops(day, standing),
        looks: shift.looks.iter().map(|(at, _)| place(*at)).collect(),
        now: place(now_inside),
        now_text: words.now_at(&times::here(now)),
        hours: hours(day),
        ..ShiftLineView::default()
    }
}

/// The line of a day's plan. Where it runs, all of it is told by the screen in words.
pub fn planned(plan: &DayPlan, now: Instant, words: &Words, told: String) -> ShiftLineView {
    let shift = plan.shift;
    // What is planned for days to come must not shrink today to nothing.
    let farthest = shift.end().plus(shift.length() / BEYOND);
    let end = plan
        .finish()
        .map_or(shift.end(), |finish| finish.clamp(shift.end(), farthest));
    let day = Span::new(shift.start(), if plan.runs { end.max(now) } else { end });
    let place = |at: Instant| share(day, at);
    let numbered = plan.sections.iter().zip(1_u32..);
    let sections = numbered
        .filter(|(it, _)| it.when.start() < day.end())
        .map(|(it, number)| {
            let (start, end) = (place(it.when.start()), place(it.when.end()));
            (start, end - start, number.to_string(), stage(plan, it))
        });
    ShiftLineView {
        told,
        rests: rests(day, &plan.breaks),
        drops: drops(day, &plan.oilings),
        looks: Vec::new(),
        sections: sections.collect(),
        end: (shift.end() < day.end()).then(|| place(shift.end())),
        now: if plan.runs { place(now) } else { 0.0 },
        now_text: if plan.runs {
            words.now_at(&times::here(now))
        } else {
            String::new()
        },
        hours: hours(day),
    }
}

/// How a section stands.
pub fn stage(plan: &DayPlan, section: &OfTheDay) -> Stage {
    if section.done.is_some() {
        Stage::Done
    } else if plan.fits(section) {
        Stage::Ahead
    } else {
        Stage::Beyond
    }
}

fn rests(day: Span, breaks: &[Break]) -> Vec<(f64, f64)> {
    let rest = |span: Span| {
        let (start, end) = (share(day, span.start()), share(day, span.end()));
        (start, end - start)
    };
    breaks.iter().map(|it| rest(it.span)).collect()
}

fn drops(day: Span, standing: &Standing) -> Vec<(f64, Drop)> {
    let slots = standing
        .slots
        .iter()
        .filter(|slot| slot.due.at <= day.end());
    let slots = slots.map(|slot| {
        let at = drawn_at(slot.due.at, slot.status);
        (share(day, at), drop(slot.status))
    });
    let extra = standing
        .extra
        .iter()
        .map(|&at| (share(day, at), Drop::Done));
    slots.chain(extra).collect()
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
