//! The teeth as the rules look at them: passes over the row, readings of a set's life, what every tip is by now, the
//! stock, the record of breakage, and how the teeth turned beside the oiling kept.
//!
//! Never here: what follows from them (the rules).

use core::time::Duration;
use std::collections::BTreeMap;

use evenrow_rules::quantity::{Hours, Instant, Length, Span};
use evenrow_rules::spares::{Bad, Record, Spare};
use evenrow_rules::wear::{Reading, Tooth};

use crate::event::{Finding, Id};
use crate::export::{OilingCount, count};
use crate::row::{MeasuredTip, SetOfTeeth, Teeth, TipNow};
use crate::state::State;

/// So many of the first teeth have to be measured at once for their mean to stand for the row.
///
/// Basis: house default.
pub const FEWEST_FOR_A_MEAN: usize = 6;

/// Tips measured within so long of the first are one pass over the row.
///
/// Basis: house default: a shift, with room.
pub const PASS_TIME: Duration = Duration::from_hours(12);

/// Over so many days back the usual hours of work a day are reckoned.
///
/// Basis: house default.
pub const DAYS_LOOKED_BACK: u64 = 28;

/// A tip that nobody measured counts as known while its tooth has worked no longer than this.
///
/// Basis: house default; within an hour wear does not show on a rule.
pub const WORK_UNSEEN: Duration = Duration::from_hours(1);

/// A tip that is reckoned is told to this, as fine as one is read with a rule.
///
/// Basis: house default.
pub const RECKONED_TO: Length = Length::micrometres(500);

/// One pass over the row.
#[derive(Clone, Debug, PartialEq)]
pub struct Pass {
    /// When its first tip was measured.
    pub at: Instant,
    /// The tips by position; of one measured twice, the later.
    pub tips: BTreeMap<u16, MeasuredTip>,
}

impl Pass {
    /// The mean of those teeth that the set began with; none where too few of them were measured to speak for the row.
    fn mean_of_first(&self) -> Option<Length> {
        let first: Vec<f64> = self
            .tips
            .values()
            .filter(|it| it.first)
            .map(|it| it.tip.in_millimetres())
            .collect();
        if first.len() < FEWEST_FOR_A_MEAN {
            return None;
        }
        Length::millimetres(first.iter().sum::<f64>() / first.len() as f64).ok()
    }
}

/// How the teeth turned in one shift, and how its oiling was kept.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ShiftTurning {
    /// Which shift.
    pub shift: Id,
    /// When it started.
    pub start: Instant,
    /// How often somebody looked.
    pub looks: usize,
    /// The most teeth that did not turn freely at one look: stiff or stuck.
    pub held: u32,
    /// Its oilings.
    pub oilings: OilingCount,
}

impl State {
    /// What the wear rules read of a set: the length at the start, then the mean of each pass in which enough of the
    /// teeth that it began with were measured, by the blade-hours at that moment.
    pub fn readings(&self, set: &SetOfTeeth) -> Vec<Reading> {
        let first = Reading {
            at: Hours::ZERO,
            tip: set.first_tip,
        };
        let passes = set.passes();
        let means = passes.iter().filter_map(|pass| {
            Some(Reading {
                at: Hours::of(self.blade_time(set, pass.at)),
                tip: pass.mean_of_first()?,
            })
        });
        core::iter::once(first).chain(means).collect()
    }

    /// How long every tip of a set is by now. What was measured or put in a while ago is taken to have worn since as the
    /// row did, between two passes evenly, after the last as on the whole before it.
    ///
    /// Basis: house default; a tooth that turns wears with its neighbours.
    pub fn tips_now(&self, set: &SetOfTeeth, now: Instant) -> BTreeMap<u16, TipNow> {
        let level = Level::of(&self.readings(set));
        let hours_at = |at| Hours::of(self.blade_time(set, at)).in_hours();
        let present = hours_at(now);
        // Few moments: a row is put in and measured together.
        let mut known: BTreeMap<Instant, f64> = BTreeMap::new();
        let mut reckon = |tooth: &crate::row::Tooth| {
            let then = *known
                .entry(tooth.tip_at)
                .or_insert_with(|| hours_at(tooth.tip_at));
            let worked = present - then;
            let worn = (level.at(then) - level.at(present)).max(0.0);
            let step = RECKONED_TO.in_millimetres();
            let measured = worked <= Hours::of(WORK_UNSEEN).in_hours()
                || (level.is_known() && worn < step / 2.0);
            if measured {
                return TipNow {
                    tip: tooth.tip,
                    measured,
                };
            }
            let left = ((tooth.tip.in_millimetres() - worn).max(0.0) / step).round() * step;
            TipNow {
                tip: Length::millimetres(left).unwrap_or(tooth.tip),
                measured,
            }
        };
        let mut tips = BTreeMap::new();
        for (&position, tooth) in &set.teeth {
            tips.insert(position, reckon(tooth));
        }
        tips
    }

    /// Whether it is known how long the teeth of a set are: it has hardly worked, or was measured in a pass.
    pub(crate) fn lengths_known(&self, set: &SetOfTeeth) -> bool {
        let ever = Instant::from_unix_ms(i64::MAX);
        self.blade_time(set, ever) <= WORK_UNSEEN || 1 < self.readings(set).len()
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
            hours: Hours::of(self.worked_with(machine, None, now)),
        }
    }

    /// Working time a day with a machine, rest days averaged in; none before it has worked.
    pub fn time_a_day(&self, machine: &Id, now: Instant) -> Option<Duration> {
        let back = now.minus(Duration::from_hours(24 * DAYS_LOOKED_BACK));
        let first = self
            .shifts
            .iter()
            .filter(|shift| shift.is_with(machine))
            .map(|shift| shift.plan.start)
            .min()?;
        let since = Span::new(first.max(back).min(now), now);
        let days = since.length().as_secs_f64() / 86_400.0;
        let worked = self.worked_with(machine, Some(since), now);
        (!worked.is_zero()).then(|| worked.div_f64(days.max(1.0)))
    }

    /// How the teeth of a machine turned in its last shifts in which somebody looked, the latest last.
    pub fn turning(&self, machine: &Id, most: usize, now: Instant) -> Vec<ShiftTurning> {
        let looked = self
            .shifts
            .iter()
            .rev()
            .filter(|shift| shift.is_with(machine) && !shift.looks.is_empty());
        let mut turning: Vec<ShiftTurning> = looked
            .take(most)
            .map(|shift| {
                let held = shift.looks.iter().map(|(_, finding)| match *finding {
                    Finding::AllTurning => 0,
                    Finding::SomeNot { stiff, stuck, .. } => u32::from(stiff) + u32::from(stuck),
                });
                ShiftTurning {
                    shift: shift.id.clone(),
                    start: shift.plan.start,
                    looks: shift.looks.len(),
                    held: held.max().unwrap_or(0),
                    oilings: count(&shift.standing(now)),
                }
            })
            .collect();
        turning.reverse();
        turning
    }

    fn worked_with(&self, machine: &Id, within: Option<Span>, now: Instant) -> Duration {
        let shifts = self.shifts.iter().filter(|shift| {
            shift.is_with(machine) && within.is_none_or(|span| span.start() <= shift.plan.start)
        });
        shifts
            .map(|shift| shift.worked(now))
            .fold(Duration::ZERO, Duration::saturating_add)
    }
}

/// How long the tips of a row were on the whole, by blade-hours.
pub(crate) struct Level(Vec<(f64, f64)>);

impl Level {
    pub(crate) fn of(readings: &[Reading]) -> Level {
        let mut points: Vec<(f64, f64)> = Vec::new();
        for reading in readings {
            let hours = reading.at.in_hours();
            let after = points.partition_point(|point| point.0 <= hours);
            points.insert(after, (hours, reading.tip.in_millimetres()));
        }
        Level(points)
    }

    /// Whether wear has been seen: there is a reading after work.
    pub(crate) fn is_known(&self) -> bool {
        self.0.last().is_some_and(|last| 0.0 < last.0)
    }

    /// The length in millimetres at some blade-hours: between readings on the straight line, after the last one on the
    /// line from the first to the last.
    pub(crate) fn at(&self, hours: f64) -> f64 {
        let after = self.0.partition_point(|point| point.0 <= hours);
        let on_line = |from: &(f64, f64), to: &(f64, f64), at: f64| {
            let run = to.0 - from.0;
            if run <= 0.0 {
                return to.1;
            }
            from.1 + (to.1 - from.1) * (at - from.0) / run
        };
        match (
            after.checked_sub(1).and_then(|at| self.0.get(at)),
            self.0.get(after),
        ) {
            (Some(before), Some(next)) => on_line(before, next, hours),
            (None, Some(first)) => first.1,
            (Some(last), None) => {
                let first = self.0.first().unwrap_or(last);
                if last.0 <= first.0 {
                    last.1
                } else {
                    last.1 + on_line(first, last, hours) - on_line(first, last, last.0)
                }
            }
            (None, None) => 0.0,
        }
    }
}

impl SetOfTeeth {
    /// The teeth that have to go, given how long the tips are by now. A stuck one may be freed, and is left to the operator.
    pub fn bad(&self, tips: &BTreeMap<u16, TipNow>) -> Vec<Bad> {
        let bad = self
            .teeth
            .iter()
            .filter(|(_, tooth)| !tooth.state.is_whole());
        bad.filter_map(|(&position, _)| self.wanted_at(position, tips))
            .collect()
    }

    /// What should stand at a position: the kind that stands there, as long as the usual one of the whole teeth.
    pub fn wanted_at(&self, position: u16, tips: &BTreeMap<u16, TipNow>) -> Option<Bad> {
        let tooth = self.teeth.get(&position)?;
        Some(Bad {
            pos: position,
            kind: tooth.kind,
            tip: self.usual_tip(tips).unwrap_or(tooth.tip),
        })
    }

    /// The median tip of the teeth that are whole; a spare should be like the others.
    pub fn usual_tip(&self, tips: &BTreeMap<u16, TipNow>) -> Option<Length> {
        let whole = |position: &u16| {
            self.teeth
                .get(position)
                .is_some_and(|it| it.state.is_whole())
        };
        let mut tips: Vec<u32> = tips
            .iter()
            .filter(|(position, _)| whole(position))
            .map(|(_, known)| known.tip.in_micrometres())
            .collect();
        tips.sort_unstable();
        tips.get(tips.len() / 2).copied().map(Length::micrometres)
    }

    /// The passes over the row, in the order of the records.
    pub fn passes(&self) -> Vec<Pass> {
        let mut passes: Vec<Pass> = Vec::new();
        for &tip in &self.measured {
            let runs = passes.last_mut();
            if let Some(pass) = runs.filter(|pass| tip.at.since(pass.at) <= PASS_TIME) {
                pass.tips.insert(tip.position, tip);
            } else {
                passes.push(Pass {
                    at: tip.at,
                    tips: BTreeMap::from([(tip.position, tip)]),
                });
            }
        }
        passes
    }

    /// The last pass that speaks for the row; where none does, the last one.
    pub fn last_pass(&self) -> Option<Pass> {
        let mut passes = self.passes();
        let whole = passes
            .iter()
            .rposition(|pass| FEWEST_FOR_A_MEAN <= pass.tips.len());
        match whole {
            Some(at) => Some(passes.swap_remove(at)),
            None => passes.pop(),
        }
    }

    /// The row as the evenness rules read it: what was measured in the last pass and still stands there.
    pub fn row(&self) -> Vec<Tooth> {
        let pass = self.last_pass().map(|pass| pass.tips).unwrap_or_default();
        let stands = |measured: &&MeasuredTip| {
            let tooth = self.teeth.get(&measured.position);
            tooth.is_some_and(|tooth| !tooth.state.is_lost() && tooth.placed <= measured.at)
        };
        pass.values()
            .filter(stands)
            .map(|measured| Tooth {
                pos: measured.position,
                tip: measured.tip,
            })
            .collect()
    }
}

impl Teeth {
    /// The stock, one by one, as the matching rules read it.
    pub fn spares_one_by_one(&self) -> Vec<Spare> {
        let kinds = self.stock.iter().flat_map(|&((kind, um), count)| {
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
            .iter()
            .fold(0, |all, (_, count)| all.saturating_add(*count))
    }
}
