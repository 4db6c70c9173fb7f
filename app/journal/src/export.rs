//! The shift report, as facts in order: what a foreman asks, answered from the record alone.
//!
//! Never here: sentences and the way times are written; the app has the words.

use core::time::Duration;

use evenrow_rules::checklist::{Item, List};
use evenrow_rules::oiling::{Break, Standing, Status, Timing};
use evenrow_rules::quantity::{Instant, Span};

use crate::event::Finding;
use crate::state::{ClockJump, NamedMachine, SetupInUse, Shift};

/// One checklist in the report.
#[derive(Clone, Debug, PartialEq)]
pub struct ListReport {
    /// Which list.
    pub list: List,
    /// What was ticked.
    pub ticked: Vec<Item>,
    /// What was not.
    pub open: Vec<Item>,
}

/// How many oilings came out how.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct OilingCount {
    /// How many fell due.
    pub planned: usize,
    /// Of these, served on time or early.
    pub on_time: usize,
    /// Of these, served late.
    pub late: usize,
    /// Of these, not served.
    pub missed: usize,
    /// Oilings beyond the plan.
    pub extra: usize,
}

/// A jump of the phone's clock in the report.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct JumpReport {
    /// When, by the clock as it stood afterwards.
    pub at: Instant,
    /// By how many milliseconds; negative for backwards.
    pub by_ms: i64,
    /// Whether the new time was said to be right; none if nobody has said so.
    pub moved: Option<bool>,
}

/// Everything that a report says of one shift.
#[derive(Clone, Debug, PartialEq)]
pub struct Report {
    /// The machine as it was then.
    pub machine: Option<NamedMachine>,
    /// When it was started on the phone.
    pub started: Instant,
    /// What the device's zone was ahead of UTC then, in minutes.
    pub offset_minutes: i16,
    /// Planned start and end.
    pub planned: Span,
    /// When it was really ended; none while it runs.
    pub ended: Option<Instant>,
    /// Working time, breaks taken out.
    pub worked: Duration,
    /// Breaks as they counted: planned or taken.
    pub breaks: Vec<Break>,
    /// Set-ups in order.
    pub setups: Vec<SetupInUse>,
    /// Every due time and what became of it.
    pub standing: Standing,
    /// The same as numbers.
    pub count: OilingCount,
    /// Looks at the teeth.
    pub looks: Vec<(Instant, Finding)>,
    /// Notes.
    pub notes: Vec<(Instant, String)>,
    /// When an oiling that was due was put off, and for how many minutes.
    pub put_off: Vec<(Instant, u8)>,
    /// When a shorter interval was refused.
    pub usual_kept: Vec<Instant>,
    /// When the app did not run although something fell due.
    pub blind: Vec<Span>,
    /// Jumps of the phone's clock.
    pub jumps: Vec<JumpReport>,
    /// Both checklists.
    pub lists: [ListReport; 2],
}

/// The report of a shift, as things stand at `now`.
pub fn report(shift: &Shift, now: Instant) -> Report {
    let standing = shift.standing(now);
    let until = shift.ended.unwrap_or(now);
    Report {
        machine: shift.machine.clone(),
        started: shift.started,
        offset_minutes: shift.offset_minutes,
        planned: shift.plan.span(),
        ended: shift.ended,
        worked: shift.worked(now),
        breaks: shift
            .facts(now)
            .breaks()
            .into_iter()
            .filter(|rest| rest.span.start() < until)
            .collect(),
        setups: shift.setups.clone(),
        count: count(&standing),
        standing,
        looks: shift.looks.clone(),
        notes: shift.notes.clone(),
        put_off: shift.put_off.clone(),
        usual_kept: shift.usual_kept.clone(),
        blind: shift.blind.clone(),
        jumps: shift.jumps.iter().map(jump).collect(),
        lists: [List::Opening, List::Closing].map(|list| {
            let (ticked, open) = list
                .items()
                .iter()
                .copied()
                .partition(|&item| shift.marks.contains_key(&(list, item)));
            ListReport { list, ticked, open }
        }),
    }
}

fn jump(jump: &ClockJump) -> JumpReport {
    JumpReport {
        at: jump.at,
        by_ms: jump.by_ms,
        moved: jump.moved,
    }
}

pub(crate) fn count(standing: &Standing) -> OilingCount {
    let mut count = OilingCount {
        extra: standing.extra.len(),
        ..OilingCount::default()
    };
    for slot in &standing.slots {
        match slot.status {
            Status::Done {
                timing: Timing::Early(_) | Timing::OnTime,
                ..
            } => count.on_time += 1,
            Status::Done {
                timing: Timing::Late(_),
                ..
            } => count.late += 1,
            Status::Missed => count.missed += 1,
            Status::Due | Status::Late(_) => {}
            Status::Ahead => continue,
        }
        count.planned += 1;
    }
    count
}
