//! The shift report, as facts in order: what a foreman asks, answered from the record alone.
//!
//! Never here: sentences and the way times are written; the app has the words.

use core::time::Duration;

use evenrow_rules::checklist::{Item, List};
use evenrow_rules::day::DayPace;
use evenrow_rules::oiling::{Break, Standing, Status, Timing};
use evenrow_rules::quantity::{Instant, Length, Span};

use crate::day::pace;
use crate::event::{Finding, Id};
use crate::facts::SectionDone;
use crate::row::{Replacement, SetOfTeeth};
use crate::state::{ClockJump, NamedMachine, SetupInUse, Shift, State};

/// So long after the end of a shift what was done on the steel still belongs to it.
///
/// Basis: house default: the row is measured when the machine has been parked.
pub const AFTERWARDS: Duration = Duration::from_hours(1);

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

/// Tips measured in one pass.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MeasuredReport {
    /// When the first was measured.
    pub at: Instant,
    /// How many.
    pub count: usize,
    /// Their mean.
    pub mean: Length,
    /// The shortest.
    pub shortest: Length,
    /// The longest.
    pub longest: Length,
}

/// Everything that a report says of one shift.
#[derive(Clone, Debug, PartialEq)]
pub struct Report {
    /// Who worked it.
    pub who: Option<String>,
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
    /// The sections of road that were done.
    pub sections: Vec<SectionDone>,
    /// How they went against the plan; none where too little was done to tell.
    pub pace: Option<DayPace>,
    /// Teeth that were replaced on the machine, in the order of time.
    pub replaced: Vec<Replacement>,
    /// Tips that were measured on it.
    pub measured: Vec<MeasuredReport>,
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
pub fn report(state: &State, shift: &Shift, now: Instant) -> Report {
    let standing = shift.standing(now);
    let until = shift.ended.unwrap_or(now);
    let breaks = shift.facts(now).breaks();
    let sections = shift.sections_done();
    let so_far = sections
        .last()
        .map(|last| Span::new(shift.plan.start, last.when.end()));
    let on_the_steel = on_the_steel(state, shift, until);
    let machine = shift.machine.as_ref().map(|it| &it.id);
    Report {
        who: shift.who.clone(),
        pace: so_far.and_then(|so_far| {
            let done = sections.iter().map(|it| &it.what);
            pace(done, so_far, &breaks, &shift.oiled)
        }),
        sections,
        replaced: state
            .teeth
            .replaced
            .iter()
            .filter(|it| it.machine.as_ref() == machine && on_the_steel.holds(it.at))
            .cloned()
            .collect(),
        measured: machine.map_or_else(Vec::new, |id| measured(state, id, on_the_steel)),
        machine: shift.machine.clone(),
        started: shift.started,
        offset_minutes: shift.offset_minutes,
        planned: shift.plan.span(),
        ended: shift.ended,
        worked: shift.worked(now),
        breaks: breaks
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
                .partition(|&item| shift.marks.contains(&(list, item)));
            ListReport { list, ticked, open }
        }),
    }
}

/// When what is done on the steel belongs to a shift: from when it was started on the phone until [`AFTERWARDS`], but not
/// into the next shift of that machine.
fn on_the_steel(state: &State, shift: &Shift, until: Instant) -> Span {
    let start = shift.started.min(shift.plan.start);
    let machine = shift.machine.as_ref().map(|it| &it.id);
    let others = state
        .shifts
        .iter()
        .filter(|other| other.id != shift.id && other.machine.as_ref().map(|it| &it.id) == machine);
    let next = others.map(|other| other.started).filter(|at| start < *at);
    let end = match shift.ended {
        Some(_) => until.plus(AFTERWARDS),
        None => until.plus(Duration::from_millis(1)),
    };
    let end = next.fold(end, Ord::min);
    Span::new(start, end.max(start))
}

/// The passes over the rows that were on a machine.
fn measured(state: &State, machine: &Id, when: Span) -> Vec<MeasuredReport> {
    let on_it = state.teeth.sets.iter().filter(|set| {
        let times = set.times_on(when.end());
        times.iter().any(|(on, span)| {
            *on == machine && span.start() <= when.end() && when.start() <= span.end()
        })
    });
    let passes = on_it.flat_map(SetOfTeeth::passes);
    let of_the_shift = passes.filter(|pass| when.holds(pass.at));
    let told = of_the_shift.filter_map(|pass| {
        let tips = || pass.tips.values().map(|it| it.tip.in_micrometres());
        let count = tips().count();
        let sum: u64 = tips().map(u64::from).sum();
        let mean = sum / u64::try_from(count).ok().filter(|it| 0 < *it)?;
        Some(MeasuredReport {
            at: pass.at,
            count,
            mean: Length::micrometres(u32::try_from(mean).ok()?),
            shortest: Length::micrometres(tips().min()?),
            longest: Length::micrometres(tips().max()?),
        })
    });
    told.collect()
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
