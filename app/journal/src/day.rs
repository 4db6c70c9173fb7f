//! The day's plan of a machine: its sections with when each is or was worked, on one line with breaks and oilings.
//!
//! Never here: how long a section takes and what the day's pace makes of the rest (`evenrow_rules::day`).

use core::time::Duration;

use evenrow_rules::day::{DayPace, schedule};
use evenrow_rules::oiling::{
    Break, ShiftFacts, Standing, Status, Stretch, in_order, plan, reconcile, working_time,
};
use evenrow_rules::plan::OIL_STOP;
use evenrow_rules::quantity::{Distance, Hours, Instant, Span};
use evenrow_rules::setup::oilings;
use evenrow_rules::work::Conditions;

use crate::event::{Id, RoadSection, ShiftPlan};
use crate::state::{NamedMachine, Shift, State};

/// A section on the line of the day.
#[derive(Clone, Debug, PartialEq)]
pub struct OfTheDay {
    /// Its id.
    pub id: Id,
    /// What it is.
    pub what: RoadSection,
    /// When it was done.
    pub done: Option<Instant>,
    /// From when to when it is worked, or was.
    pub when: Span,
}

/// The plan of a day.
#[derive(Clone, Debug, PartialEq)]
pub struct DayPlan {
    /// The sections in the order of the plan. What was done on another day is not among them.
    pub sections: Vec<OfTheDay>,
    /// The shift: the one that runs, or the one that is handed in.
    pub shift: Span,
    /// Whether it runs.
    pub runs: bool,
    /// Its breaks.
    pub breaks: Vec<Break>,
    /// Its oilings.
    pub oilings: Standing,
    /// The day's own pace, once enough is done.
    pub pace: Option<DayPace>,
    /// What all sections were planned to take.
    pub planned: Hours,
    /// What those that are left take, at the day's pace where it has one.
    pub left: Hours,
    /// How far the machine is driven for all of them.
    pub driven: Distance,
}

impl DayPlan {
    /// When the last section is done; none where none is planned.
    pub fn finish(&self) -> Option<Instant> {
        self.sections.iter().map(|it| it.when.end()).max()
    }

    /// Whether a section is done before the shift ends.
    pub fn fits(&self, section: &OfTheDay) -> bool {
        section.when.end() <= self.shift.end()
    }
}

impl State {
    /// The day's plan of a machine at `now`. Where no shift runs with it, as it would be in such a shift.
    pub fn day_plan(&self, machine: &NamedMachine, otherwise: &ShiftPlan, now: Instant) -> DayPlan {
        let with = |shift: &&Shift| shift.machine.as_ref().map(|it| &it.id) == Some(&machine.id);
        let running = self.running().filter(with);
        let done = |id: &Id| running.and_then(|shift| shift.section_done(id));
        let another_day = |id: &Id| {
            let mut others = self.shifts.iter();
            others.any(|shift| {
                running.map(|it| &it.id) != Some(&shift.id) && shift.section_done(id).is_some()
            })
        };
        let mut sections: Vec<OfTheDay> = self
            .sections
            .iter()
            .filter(|it| it.machine == machine.id && !another_day(&it.id))
            .map(|it| OfTheDay {
                id: it.id.clone(),
                what: it.what.clone(),
                done: done(&it.id),
                when: Span::new(now, now),
            })
            .collect();

        let facts = match running {
            Some(shift) => shift.facts(now),
            None => as_planned(otherwise),
        };
        let day = facts.planned;
        let breaks = facts.breaks();
        // Nothing begins before the shift, and what is left begins when the last one was done.
        let from = set_done(&mut sections, day.start());
        let oiled: &[Instant] = running.map_or(&[], |shift| &shift.oiled);
        let worked = sections.iter().filter(|it| it.done.is_some());
        let pace = pace(
            worked.map(|it| &it.what),
            Span::new(day.start(), from),
            &breaks,
            oiled,
        );
        let open = sections.iter().filter(|it| it.done.is_none());
        let left: Vec<Hours> = open
            .map(|it| it.what.road.hours())
            .map(|planned| pace.map_or(planned, |pace| pace.takes(planned)))
            .collect();
        let now = if running.is_some() { now } else { from };

        // First without oil stops: which work is in force then, and how long due times are wanted.
        let rough = schedule(&left, from, now, &[], &breaks);
        let facts = with_oilings(facts, machine, &sections, &rough);
        let oilings = reconcile(&plan(&facts), oiled, now, false);
        let when = schedule(&left, from, now, &stops(&oilings, from), &breaks);
        let open = sections.iter_mut().filter(|it| it.done.is_none());
        for (section, when) in open.zip(when) {
            section.when = when;
        }
        let sum =
            |hours: &mut dyn Iterator<Item = f64>| Hours::new(hours.sum()).unwrap_or(Hours::ZERO);
        DayPlan {
            planned: sum(&mut sections.iter().map(|it| it.what.road.hours().in_hours())),
            left: sum(&mut left.iter().map(|it| it.in_hours())),
            driven: Distance::kilometres(
                sections
                    .iter()
                    .map(|it| it.what.road.driven().in_kilometres())
                    .sum(),
            )
            .unwrap_or(Distance::ZERO),
            sections,
            shift: day,
            runs: running.is_some(),
            breaks,
            oilings,
            pace,
        }
    }
}

/// A shift of which nothing is known but its plan.
fn as_planned(shift: &ShiftPlan) -> ShiftFacts {
    ShiftFacts {
        planned: shift.span(),
        planned_breaks: shift.breaks.clone(),
        taken_breaks: Vec::new(),
        works: Vec::new(),
        looks: Vec::new(),
        usual_kept: Vec::new(),
        until: shift.span().end(),
    }
}

/// Gives each section that is done its time, from the one done before it on. The moment when the last was done.
fn set_done(sections: &mut [OfTheDay], start: Instant) -> Instant {
    let done = sections.iter_mut().filter(|it| it.done.is_some());
    let mut from = start;
    for section in in_order(done, |it| it.done) {
        let end = section.done.unwrap_or(from).max(from);
        section.when = Span::new(from, end);
        from = end;
    }
    from
}

/// The pace of what was done so far, breaks and oilings taken out.
pub(crate) fn pace<'a>(
    done: impl Iterator<Item = &'a RoadSection>,
    so_far: Span,
    breaks: &[Break],
    oiled: &[Instant],
) -> Option<DayPace> {
    let planned = Hours::new(done.map(|it| it.road.hours().in_hours()).sum()).ok()?;
    let stood = oiled.iter().filter(|&&at| so_far.holds(at)).count();
    let stood = OIL_STOP.saturating_mul(u32::try_from(stood).unwrap_or(u32::MAX));
    let worked: Duration = working_time(so_far, breaks).saturating_sub(stood);
    DayPace::of(planned, worked)
}

/// The facts with due times until the last section is done. Before a set-up is in use, each section asks for the oilings
/// of its own work, of which nothing more is known.
fn with_oilings(
    facts: ShiftFacts,
    machine: &NamedMachine,
    sections: &[OfTheDay],
    rough: &[Span],
) -> ShiftFacts {
    let until = rough
        .last()
        .map_or(facts.until, |last| last.end().max(facts.until));
    if !facts.works.is_empty() {
        return ShiftFacts { until, ..facts };
    }
    let open = sections.iter().filter(|it| it.done.is_none());
    let works = open.zip(rough).map(|(section, when)| Stretch {
        from: when.start(),
        per_shift: oilings(section.what.work, &Conditions::default(), &machine.machine)
            .value()
            .planned,
    });
    ShiftFacts {
        works: works.collect(),
        until,
        ..facts
    }
}

/// When the machine stands for an oiling, from a moment on.
fn stops(oilings: &Standing, from: Instant) -> Vec<Instant> {
    let planned = oilings.slots.iter().filter_map(|slot| match slot.status {
        Status::Ahead | Status::Due | Status::Late(_) => Some(slot.due.at.max(from)),
        Status::Done { at, .. } => Some(at),
        Status::Missed => None,
    });
    let stops = planned.chain(oilings.extra.iter().copied());
    in_order(stops.filter(|&at| from <= at), |at| *at)
}
