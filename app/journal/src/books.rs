//! The books: what was done and used over time, by machine, road, work and period, and what it cost.
//!
//! Every shift is cut into pieces where its work or its road changes, and each piece keeps its own tally. Whatever is asked
//! for is a sum over pieces, so that the parts of a whole always add up to it.
//!
//! Never here: what a number means (the rules), and where a week begins (the app knows the calendar).

use core::time::Duration;
use std::collections::BTreeMap;

use evenrow_rules::cost::{Cost, Done, Litres, Money, NothingDone, Prices, Teeth, Used, cost};
use evenrow_rules::oiling::{Break, Status, Timing, working_time};
use evenrow_rules::proportion::{Difference, Share, difference, times_enough};
use evenrow_rules::quantity::{Area, Confidence, Distance, Hours, Instant, Span};
use evenrow_rules::wear::Tips;
use evenrow_rules::work::Work;

use crate::event::{Finding, Id, PriceList};
use crate::export::count;
use crate::facts::SectionDone;
use crate::row::{Replacement, SetOfTeeth};
use crate::row_facts::Level;
use crate::state::{Shift, State, overlap};

/// A season begins with the first shift after so long without one.
///
/// Basis: house default: a holiday is shorter, the months between winter and summer work are longer.
pub const PAUSE_BETWEEN_SEASONS: Duration = Duration::from_hours(28 * 24);

/// So many shifts of each kind have to be there before it is asked whether oiling on time helps.
///
/// Units: shifts.
/// Basis: house default; the interval is honest for fewer, but nobody should act on two shifts.
pub const FEWEST_SHIFTS_OF_A_KIND: u32 = 3;

/// What was done and used.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Tally {
    /// Working time, breaks taken out.
    pub blade_time: Duration,
    /// Road that was done, in kilometres, passes not counted.
    pub kilometres: f64,
    /// The same in square metres, as far as the road's width is known.
    pub square_metres: f64,
    /// Sections of which nobody knows the width.
    pub without_width: u32,
    /// Teeth worn away, as new ones.
    pub worn: f64,
    /// What was left of teeth that had to come out, as new ones.
    pub cut_short: f64,
    /// How many came out for a spare.
    pub replaced: u32,
    /// Working time in which nobody knows what the teeth lost: the set on the machine was not measured, or there was none.
    pub unmeasured: Duration,
    /// How often the sockets were oiled.
    pub oiled: u32,
    /// How many oilings fell due.
    pub due: u32,
    /// Of these, how many were done on time.
    pub on_time: u32,
    /// How often somebody looked at the teeth.
    pub looks: u32,
    /// Of these looks, how many found a tooth stuck.
    pub stuck: u32,
}

impl Tally {
    /// Both together.
    #[must_use]
    pub fn and(self, other: &Tally) -> Tally {
        Tally {
            blade_time: self.blade_time.saturating_add(other.blade_time),
            kilometres: self.kilometres + other.kilometres,
            square_metres: self.square_metres + other.square_metres,
            without_width: self.without_width.saturating_add(other.without_width),
            worn: self.worn + other.worn,
            cut_short: self.cut_short + other.cut_short,
            replaced: self.replaced.saturating_add(other.replaced),
            unmeasured: self.unmeasured.saturating_add(other.unmeasured),
            oiled: self.oiled.saturating_add(other.oiled),
            due: self.due.saturating_add(other.due),
            on_time: self.on_time.saturating_add(other.on_time),
            looks: self.looks.saturating_add(other.looks),
            stuck: self.stuck.saturating_add(other.stuck),
        }
    }

    /// Teeth used up, as new ones.
    pub fn teeth(&self) -> f64 {
        self.worn + self.cut_short
    }

    /// What it cost. Plates are not recorded and not counted.
    pub fn cost(&self, prices: &PriceList) -> Result<Cost, NothingDone> {
        // Ranges far beyond what phones record; more than that is told as nothing done.
        let oil = prices.an_oiling.in_litres() * f64::from(self.oiled);
        let used = Used {
            teeth: Teeth::new(self.teeth()).map_err(|_| NothingDone)?,
            plates: 0,
            oil: Litres::new(oil).map_err(|_| NothingDone)?,
        };
        let prices = Prices {
            tooth: prices.tooth,
            plate: Money::ZERO,
            litre: prices.litre,
        };
        let done = Done {
            blade_hours: Hours::of(self.blade_time),
            worked: Distance::kilometres(self.kilometres).map_err(|_| NothingDone)?,
            area: Area::square_metres(self.square_metres).map_err(|_| NothingDone)?,
        };
        cost(&used, &prices, &done)
    }
}

/// A piece of a shift in which nothing changed, or what was done on the steel outside of any.
#[derive(Clone, Debug, PartialEq)]
pub struct Piece {
    /// Of which shift; none outside of any.
    pub shift: Option<Id>,
    /// When the shift started: the whole of it belongs to the day on which it did.
    pub start: Instant,
    /// With which machine.
    pub machine: Option<Id>,
    /// Which work was set up.
    pub work: Option<Work>,
    /// On which road, by its name.
    pub road: Option<String>,
    /// From when to when.
    pub span: Span,
    /// What was done and used.
    pub tally: Tally,
}

/// Sums by something, in its order.
pub fn by<Key: Ord>(pieces: &[Piece], key: impl Fn(&Piece) -> Key) -> BTreeMap<Key, Tally> {
    let mut sums: BTreeMap<Key, Tally> = BTreeMap::new();
    for piece in pieces {
        let sum = sums.entry(key(piece)).or_default();
        *sum = sum.and(&piece.tally);
    }
    sums
}

/// The sum of them all.
pub fn sum(pieces: &[Piece]) -> Tally {
    let tallies = pieces.iter().map(|it| &it.tally);
    tallies.fold(Tally::default(), Tally::and)
}

/// Shifts with a look, and in how many of them a tooth was found stuck.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OilingHelp {
    /// Shifts in which every oiling that fell due was done on time.
    pub kept: Share,
    /// The others.
    pub let_slide: Share,
    /// What that tells.
    pub told: HelpTold,
}

/// What the records tell about oiling on time.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum HelpTold {
    /// Stuck teeth are rarer where oiling was kept: by so much, the shifts let slide less those kept.
    Helps(Difference),
    /// They are more frequent where oiling was kept.
    Worse(Difference),
    /// Too few shifts of one kind; so many of each would be enough to begin with.
    TooFew {
        /// How many of each.
        wanted: u32,
    },
    /// It cannot be told from chance yet; if it went on as it is, so many shifts in all would be enough. None: no number in
    /// sight.
    CannotTell {
        /// The difference as it may be.
        may_be: Difference,
        /// How many shifts.
        enough: Option<u32>,
    },
}

/// A set, and how its row wore by its readings.
type Row<'a> = (&'a SetOfTeeth, Level);

impl State {
    /// All pieces of all shifts as they stand at `now`, in the order of the shifts.
    pub fn pieces(&self, now: Instant) -> Vec<Piece> {
        let mut pieces = Vec::new();
        let mut breaks: Vec<Vec<Break>> = Vec::new();
        for shift in &self.shifts {
            pieces.extend(cut(shift, now));
            breaks.resize(pieces.len(), shift.facts(now).breaks());
        }
        for (piece, breaks) in pieces.iter_mut().zip(&breaks) {
            piece.tally.blade_time = working_time(piece.span, breaks);
        }
        let sets = self.teeth.sets.iter();
        let rows: Vec<Row> = sets
            .map(|set| (set, Level::of(&self.readings(set))))
            .collect();
        wear(&mut pieces, &breaks, &rows, now);
        for replaced in &self.teeth.replaced {
            let left = rows
                .iter()
                .find(|(set, _)| set.id == replaced.set)
                .map_or(0.0, |row| self.left_of(replaced, row));
            take_out(&mut pieces, replaced, left);
        }
        pieces
    }

    /// When the season began that goes on at `now`: with the first shift after the last long pause.
    pub fn season_began(&self, now: Instant) -> Option<Instant> {
        let starts = self.shifts.iter().map(|shift| shift.plan.start);
        let mut starts: Vec<Instant> = starts.filter(|start| *start <= now).collect();
        starts.sort_unstable();
        let pairs = starts.iter().zip(starts.iter().skip(1));
        let long =
            |(before, after): &(&Instant, &Instant)| PAUSE_BETWEEN_SEASONS <= after.since(**before);
        let after_pause = pairs.rev().find(long).map(|(_, after)| after);
        after_pause.or(starts.first()).copied()
    }

    /// Whether oiling on time helps, by the shifts that started from a moment on. The trial is the shift: its teeth share
    /// the oil, the road and the dust.
    pub fn oiling_help(&self, since: Instant, now: Instant, sure: Confidence) -> OilingHelp {
        // Shifts and, of these, those in which a tooth was found stuck.
        let (mut kept, mut let_slide) = ((0_u32, 0_u32), (0_u32, 0_u32));
        let shifts = self.shifts.iter().filter(|it| since <= it.plan.start);
        for shift in shifts.filter(|it| !it.looks.is_empty()) {
            let oilings = count(&shift.standing(now));
            if oilings.planned == 0 {
                continue;
            }
            let of = if oilings.on_time == oilings.planned {
                &mut kept
            } else {
                &mut let_slide
            };
            of.0 = of.0.saturating_add(1);
            of.1 = of.1.saturating_add(u32::from(
                shift.looks.iter().any(|(_, it)| found_stuck(*it)),
            ));
        }
        // No more were seen than there are.
        let share = |(of, seen): (u32, u32)| Share::new(seen, of).unwrap_or_default();
        let (kept, let_slide) = (share(kept), share(let_slide));
        OilingHelp {
            kept,
            let_slide,
            told: told(kept, let_slide, sure),
        }
    }

    /// What a tooth still had to lose when it came out, as a share of a new one. Since it was measured it is taken to have
    /// worn as the row did.
    fn left_of(&self, it: &Replacement, (set, level): &Row) -> f64 {
        let hours = |at| Hours::of(self.blade_time(set, at)).in_hours();
        let worn = if level.is_known() {
            (level.at(hours(it.out.tip_at)) - level.at(hours(it.at))).max(0.0)
        } else {
            0.0
        };
        let end = set.tips.when_done().in_millimetres();
        ((it.out.tip.in_millimetres() - worn - end) / to_lose(set.tips)).clamp(0.0, 1.0)
    }
}

/// What the teeth lost in each piece: as the row of the set on the machine did by its readings.
fn wear(pieces: &mut [Piece], breaks: &[Vec<Break>], rows: &[Row], now: Instant) {
    let mut in_time: Vec<usize> = (0..pieces.len()).collect();
    in_time.sort_by_key(|&at| pieces.get(at).map(|it| it.span.start()));
    for piece in pieces.iter_mut() {
        piece.tally.unmeasured = piece.tally.blade_time;
    }
    for (set, level) in rows {
        let to_lose = to_lose(set.tips);
        let times = set.times_on(now);
        let mut hours = 0.0;
        for &at in &in_time {
            let (Some(piece), Some(breaks)) = (pieces.get_mut(at), breaks.get(at)) else {
                continue;
            };
            let on = times
                .iter()
                .filter(|(on, _)| piece.machine.as_ref() == Some(*on));
            let worked = on
                .map(|(_, span)| working_time(overlap(piece.span, *span), breaks))
                .fold(Duration::ZERO, Duration::saturating_add);
            let before = hours;
            hours += Hours::of(worked).in_hours();
            if level.is_known() {
                let worn = (level.at(before) - level.at(hours)).max(0.0) / to_lose;
                piece.tally.worn += worn * f64::from(set.first_teeth);
                piece.tally.unmeasured = piece.tally.unmeasured.saturating_sub(worked);
            }
        }
    }
}

/// What was left of a tooth that came out goes to the piece in which it did; outside of any shift it is a piece of its
/// own.
fn take_out(pieces: &mut Vec<Piece>, it: &Replacement, left: f64) {
    let tally = Tally {
        cut_short: left,
        replaced: 1,
        ..Tally::default()
    };
    let within = pieces.iter_mut().find(|piece| {
        piece.shift.is_some() && piece.machine == it.machine && piece.span.holds(it.at)
    });
    match within {
        Some(piece) => piece.tally = piece.tally.and(&tally),
        None => pieces.push(Piece {
            shift: None,
            start: it.at,
            machine: it.machine.clone(),
            work: None,
            road: None,
            span: Span::new(it.at, it.at),
            tally,
        }),
    }
}

/// What a new tip may lose, in millimetres; never nothing.
fn to_lose(tips: Tips) -> f64 {
    tips.when_new().less(tips.when_done()).in_millimetres()
}

fn found_stuck(finding: Finding) -> bool {
    match finding {
        Finding::AllTurning => false,
        Finding::SomeNot { stuck, .. } => 0 < stuck,
    }
}

fn told(kept: Share, let_slide: Share, sure: Confidence) -> HelpTold {
    let wanted = FEWEST_SHIFTS_OF_A_KIND;
    let Some(found) = difference(let_slide, kept, sure) else {
        return HelpTold::TooFew { wanted };
    };
    if kept.of() < wanted || let_slide.of() < wanted {
        return HelpTold::TooFew { wanted };
    }
    if 0.0 < found.low {
        HelpTold::Helps(found)
    } else if found.high < 0.0 {
        HelpTold::Worse(found)
    } else {
        let all = kept.of().saturating_add(let_slide.of());
        let times = times_enough(let_slide, kept, sure);
        HelpTold::CannotTell {
            may_be: found,
            enough: times.map(|times| all.saturating_mul(times)),
        }
    }
}

/// A shift in pieces: one for each section done, one for what came after the last, each cut where the set-up changed.
fn cut(shift: &Shift, now: Instant) -> Vec<Piece> {
    let start = shift.plan.start;
    let end = shift.ended.unwrap_or(now).max(start);
    let done = shift.sections_done();
    let within = |at: Instant| at.clamp(start, end);
    let last = done.last().map_or(start, |it| within(it.when.end()));
    let mut pieces = Vec::new();
    let mut add = |span: Span, section: Option<&SectionDone>| {
        let changes = shift.setups.iter().skip(1).map(|it| it.since);
        let mut cuts: Vec<Instant> = changes
            .filter(|&at| span.start() < at && at < span.end())
            .collect();
        cuts.sort_unstable();
        cuts.push(span.end());
        let mut from = span.start();
        let final_cut = cuts.len();
        for (number, to) in (1..).zip(cuts) {
            // The first set-up counts from the start, as it does for oiling.
            let setups = shift.setups.iter().enumerate();
            let in_force = setups
                .rev()
                .find(|(at, setup)| *at == 0 || setup.since <= from);
            let mut tally = Tally::default();
            if let Some(section) = section.filter(|_| number == final_cut) {
                let road = &section.what.road;
                let km = road.length().in_kilometres();
                tally.kilometres = km;
                match road.width() {
                    // A kilometre of road a millimetre wide is a square metre.
                    Some(width) => tally.square_metres = km * width.in_millimetres(),
                    None => tally.without_width = 1,
                }
            }
            pieces.push(Piece {
                shift: Some(shift.id.clone()),
                start,
                machine: shift.machine.as_ref().map(|it| it.id.clone()),
                work: in_force.map(|(_, setup)| setup.work),
                road: section.map(|it| it.what.name.clone()),
                span: Span::new(from, to),
                tally,
            });
            from = to;
        }
    };
    for section in &done {
        let span = Span::new(within(section.when.start()), within(section.when.end()));
        add(span, Some(section));
    }
    if last < end || done.is_empty() {
        add(Span::new(last, end), None);
    }
    moments(shift, &mut pieces, now);
    pieces
}

/// Oilings and looks go to the piece in which they were, or fell due.
fn moments(shift: &Shift, pieces: &mut [Piece], now: Instant) {
    let mut at = |moment: Instant, change: &dyn Fn(&mut Tally)| {
        let within = pieces.iter().position(|it| moment < it.span.end());
        let place = within.unwrap_or(pieces.len().saturating_sub(1));
        if let Some(piece) = pieces.get_mut(place) {
            change(&mut piece.tally);
        }
    };
    for &oiled in &shift.oiled {
        at(oiled, &|tally| tally.oiled += 1);
    }
    for slot in shift.standing(now).slots {
        match slot.status {
            Status::Ahead => {}
            Status::Done {
                timing: Timing::Early(_) | Timing::OnTime,
                ..
            } => at(slot.due.at, &|tally| {
                tally.due += 1;
                tally.on_time += 1;
            }),
            Status::Done {
                timing: Timing::Late(_),
                ..
            }
            | Status::Missed
            | Status::Due
            | Status::Late(_) => at(slot.due.at, &|tally| tally.due += 1),
        }
    }
    for &(looked, finding) in &shift.looks {
        at(looked, &|tally| {
            tally.looks += 1;
            tally.stuck += u32::from(found_stuck(finding));
        });
    }
}
