//! State and a moment become what the rules look at.
//!
//! Never here: decisions of the trade (`evenrow_rules`) and of the operator (`state`).

use core::time::Duration;

use evenrow_rules::oiling::{
    Look, ShiftFacts, Standing, Stretch, in_order, plan, reconcile, takes_its_place, working_time,
};
use evenrow_rules::quantity::{Instant, Span};

use crate::event::RoadSection;
use crate::state::{BreakTaken, Shift};

/// A section that was done in a shift.
#[derive(Clone, Debug, PartialEq)]
pub struct SectionDone {
    /// What it was.
    pub what: RoadSection,
    /// From the one done before it, or from the start of the shift, until it was ticked.
    pub when: Span,
}

impl Shift {
    /// What the oiling rules look at, as things stand at `now`.
    pub fn facts(&self, now: Instant) -> ShiftFacts {
        let until = self.ended.unwrap_or(self.plan.end.max(now));
        ShiftFacts {
            planned: self.plan.span(),
            planned_breaks: self.plan.breaks.clone(),
            taken_breaks: self
                .breaks
                .iter()
                .map(|rest| self.as_span(*rest, now))
                .collect(),
            // The first set-up counts from the start: it was chosen for the shift, even if a few minutes into it.
            works: self
                .setups
                .iter()
                .enumerate()
                .map(|(at, setup)| Stretch {
                    from: if at == 0 {
                        self.plan.start
                    } else {
                        setup.since
                    },
                    per_shift: setup.sheet.oilings,
                })
                .collect(),
            looks: self
                .looks
                .iter()
                .map(|&(at, finding)| Look {
                    at,
                    all_turned: finding.all_turned(),
                })
                .collect(),
            usual_kept: self.usual_kept.clone(),
            until,
        }
    }

    /// The oilings of the shift as they stand at `now`.
    pub fn standing(&self, now: Instant) -> Standing {
        reconcile(
            &plan(&self.facts(now)),
            &self.oiled,
            now,
            self.ended.is_some(),
        )
    }

    /// When to look next whether the teeth turn; none before a set-up is in use and after the end.
    pub fn next_look(&self, now: Instant) -> Option<Instant> {
        let setup = self.setup().filter(|_| self.ended.is_none())?;
        let last = self.looks.iter().map(|(at, _)| *at).max();
        Some(
            self.facts(now)
                .next_look(last, setup.sheet.looks_per_interval),
        )
    }

    /// The sections that were done, in the order of time.
    pub fn sections_done(&self) -> Vec<SectionDone> {
        let done = self
            .worked_on
            .iter()
            .filter_map(|(id, what)| Some((self.section_done(id)?, what)));
        let done = in_order(done, |(at, _)| *at);
        let mut from = self.plan.start;
        let section = |(at, what): (Instant, &RoadSection)| {
            let when = Span::new(from, at.max(from));
            from = when.end();
            SectionDone {
                what: what.clone(),
                when,
            }
        };
        done.into_iter().map(section).collect()
    }

    /// Working time so far, breaks taken out.
    pub fn worked(&self, now: Instant) -> Duration {
        let until = self.ended.unwrap_or(now);
        working_time(Span::new(self.plan.start, until), &self.facts(now).breaks())
    }

    /// A break that still runs lasts until now, and at least as long as the planned one whose place it takes: the plan
    /// must not shift with every second of a lunch that was foreseen. One that nobody ended lasts until the shift's end.
    fn as_span(&self, rest: BreakTaken, now: Instant) -> Span {
        let end = rest.end.or(self.ended).unwrap_or_else(|| {
            let foreseen = self.plan.breaks.iter().find_map(|plan| {
                if takes_its_place(rest.start, *plan) {
                    Some(rest.start.plus(plan.length()))
                } else {
                    plan.holds(rest.start).then_some(plan.end())
                }
            });
            foreseen.unwrap_or(rest.start).max(now)
        });
        Span::new(rest.start, end)
    }
}
