//! The teeth as the rules look at them: readings of a set's life, its row, the stock, and the record of breakage.
//!
//! Never here: what follows from them (the rules).

use core::time::Duration;

use evenrow_rules::quantity::{Hours, Instant, Length, Span};
use evenrow_rules::spares::{Bad, Record, Spare};
use evenrow_rules::wear::{Reading, Tooth};

use crate::event::{Id, ToothState};
use crate::row::{SetOfTeeth, Teeth, is_lost};
use crate::state::State;

/// So many of the first teeth have to be measured at once for their mean to stand for the row.
///
/// Basis: house default.
pub const FEWEST_FOR_A_MEAN: usize = 6;

/// Over so many days back the usual hours of work a day are reckoned.
///
/// Basis: house default.
pub const DAYS_LOOKED_BACK: u64 = 28;

impl State {
    /// What the wear rules read of a set: the length at the start, then the mean of each measuring in which enough of the
    /// teeth that it began with were measured, by the blade-hours at that moment.
    pub fn readings(&self, set: &SetOfTeeth) -> Vec<Reading> {
        let first = Reading {
            at: hours(Duration::ZERO),
            tip: set.first_tip,
        };
        let means = set.measured.iter().filter_map(|measuring| {
            let first_teeth: Vec<f64> = measuring
                .tips
                .iter()
                .filter(|(position, _)| {
                    let tooth = set.teeth.get(position);
                    tooth.is_some_and(|tooth| tooth.placed <= set.first_mounted)
                })
                .map(|(_, tip)| tip.in_millimetres())
                .collect();
            if first_teeth.len() < FEWEST_FOR_A_MEAN {
                return None;
            }
            let mean = first_teeth.iter().sum::<f64>() / first_teeth.len() as f64;
            Some(Reading {
                at: hours(self.blade_time(set, measuring.at)),
                tip: Length::millimetres(mean).ok()?,
            })
        });
        core::iter::once(first).chain(means).collect()
    }

    /// How many teeth broke or were lost on a machine, in how many blade-hours of all its shifts.
    pub fn breakage(&self, machine: &Id, now: Instant) -> Record {
        let broken = self
            .teeth
            .breakages
            .iter()
            .filter(|it| it.machine == *machine);
        Record {
            broken: u32::try_from(broken.count()).unwrap_or(u32::MAX),
            hours: hours(self.worked_with(machine, None, now)),
        }
    }

    /// Working time a day with a machine, rest days averaged in; none before it has worked.
    pub fn time_a_day(&self, machine: &Id, now: Instant) -> Option<Duration> {
        let back = now.minus(Duration::from_hours(24 * DAYS_LOOKED_BACK));
        let first = self
            .shifts
            .iter()
            .filter(|shift| shift.machine.as_ref().is_some_and(|it| it.id == *machine))
            .map(|shift| shift.plan.start)
            .min()?;
        let since = Span::new(first.max(back).min(now), now);
        let days = since.length().as_secs_f64() / 86_400.0;
        let worked = self.worked_with(machine, Some(since), now);
        (!worked.is_zero()).then(|| worked.div_f64(days.max(1.0)))
    }

    fn worked_with(&self, machine: &Id, within: Option<Span>, now: Instant) -> Duration {
        let shifts = self.shifts.iter().filter(|shift| {
            let with = shift.machine.as_ref().is_some_and(|it| it.id == *machine);
            with && within.is_none_or(|span| span.start() <= shift.plan.start)
        });
        shifts
            .map(|shift| shift.worked(now))
            .fold(Duration::ZERO, Duration::saturating_add)
    }
}

impl SetOfTeeth {
    /// The row as the evenness rules read it: every tooth that is there.
    pub fn row(&self) -> Vec<Tooth> {
        let there = self.teeth.iter().filter(|(_, tooth)| !is_lost(tooth.state));
        there
            .map(|(&pos, tooth)| Tooth {
                pos,
                tip: tooth.tip,
            })
            .collect()
    }

    /// The teeth that have to go. A stuck one may be freed, and is left to the operator.
    pub fn bad(&self) -> Vec<Bad> {
        let bad = self.teeth.iter().filter(|(_, tooth)| match tooth.state {
            ToothState::Chipped | ToothState::Broken | ToothState::Gone => true,
            ToothState::Turning | ToothState::Stiff | ToothState::Stuck => false,
        });
        bad.filter_map(|(&position, _)| self.wanted_at(position))
            .collect()
    }

    /// What should stand at a position: the kind that stands there, with the median tip of the whole teeth.
    pub fn wanted_at(&self, position: u16) -> Option<Bad> {
        let tooth = self.teeth.get(&position)?;
        Some(Bad {
            pos: position,
            kind: tooth.kind,
            tip: self.usual_tip().unwrap_or(tooth.tip),
        })
    }

    /// The median tip of the teeth that are whole; a spare should be like the others.
    fn usual_tip(&self) -> Option<Length> {
        let mut tips: Vec<u32> = self
            .teeth
            .values()
            .filter(|tooth| !is_lost(tooth.state) && tooth.state != ToothState::Chipped)
            .map(|tooth| tooth.tip.in_micrometres())
            .collect();
        tips.sort_unstable();
        tips.get(tips.len() / 2).copied().map(Length::micrometres)
    }
}

impl Teeth {
    /// The stock, one by one, as the matching rules read it.
    pub fn spares_one_by_one(&self) -> Vec<Spare> {
        let kinds = self.stock.iter().flat_map(|(&(kind, um), &count)| {
            // No more of a kind are needed than a row has teeth.
            let spare = Spare {
                kind,
                tip: Length::micrometres(um),
            };
            core::iter::repeat_n(spare, count.min(200) as usize)
        });
        kinds.collect()
    }

    /// How many spares there are, of all kinds.
    pub fn spares_in_all(&self) -> u32 {
        self.stock
            .values()
            .fold(0, |all, &count| all.saturating_add(count))
    }
}

/// Hours beyond a century are cut to it.
fn hours(time: Duration) -> Hours {
    Hours::new(time.as_secs_f64() / 3600.0).unwrap_or(Hours::ZERO)
}
