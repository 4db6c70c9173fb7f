//! Which plates carry teeth, and where.
//!
//! The trade says: the working width is set by adding or leaving out teeth or whole plates; on a hard layer along the
//! road's edge fit one or two toothed plates at the end that does the cutting, plain or perforated edges on the rest;
//! cool, stiff or unknown soft surfacing is milled with one plate. Which end it is when nobody knows, where a narrowed
//! row sits, and how many plates an unknown width gets are house defaults.

use alloc::vec::Vec;

use super::verdict::{softness_reason, warmth_reason};
use super::{Job, Line, Reason, Verdict};
use crate::angle::Angle;
use crate::machine::{effective_width, teeth_for_width};
use crate::quantity::Length;
use crate::work::{End, Softness, Warmth, Work};

/// The end taken to be cutting when nobody says: the road's edge where traffic keeps right.
///
/// Basis: house default.
const ASSUMED_END: End = End::Right;

/// How many plates mill a surfacing that is cool, stiff, or not known to be soft and warm.
///
/// Units: plates.
/// Basis: common practice, no published source.
const MILLING: usize = 1;

/// How many plates take a strip that is no wider than one of them works, or whose width is not known.
///
/// Units: plates.
/// Basis: common practice, no published source, for one or two at the end that cuts; which of the two is a house
/// default.
const STRIP: usize = 1;

/// How many plates take a wider strip.
///
/// Units: plates.
/// Basis: common practice, no published source, for one or two at the end that cuts; which of the two is a house
/// default.
const WIDE_STRIP: usize = 2;

/// How many plates take a path whose width is not known.
///
/// Units: plates.
/// Basis: house default.
const PATH: usize = 1;

/// One place for a plate on the board.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spot {
    /// The length of the plate that fits there.
    pub length: Length,
    /// How many teeth it can hold.
    pub room: u32,
    /// How many of its sockets stay empty at its left end.
    pub skipped: u32,
    /// How many it is to carry today, side by side; none means a plain or perforated edge.
    pub teeth: u32,
}

/// The board from the left as seen from the cab.
#[derive(Clone, Debug, PartialEq)]
pub struct Layout {
    /// The plates in order; the first is plate 1.
    pub spots: Vec<Spot>,
    /// What no plate covers; it takes a plain edge.
    pub bare: Length,
    /// What the toothed part covers across the road at the target grading angle.
    pub working: Length,
}

impl Layout {
    /// How many plates carry teeth.
    ///
    /// Units: plates.
    /// Valid: always.
    /// Basis: arithmetic.
    ///
    /// ```
    /// use evenrow_rules::{machine::{FOOT, Machine}, setup::advise, work::{Conditions, Work}};
    /// let machine = Machine::with_moldboard(FOOT.times(12)).unwrap();
    /// let sheet = advise(Work::RoadEdge, &Conditions::default(), &machine);
    /// assert_eq!((sheet.plates.value().spots.len(), sheet.plates.value().toothed()), (4, 1));
    /// ```
    pub fn toothed(&self) -> usize {
        self.spots.iter().filter(|spot| 0 < spot.teeth).count()
    }

    /// Which plates carry teeth, by number from the left, the first being 1.
    ///
    /// Units: plate numbers.
    /// Valid: always.
    /// Basis: arithmetic.
    ///
    /// ```
    /// use evenrow_rules::{machine::{FOOT, Machine}, setup::advise, work::{Conditions, End, Work}};
    /// let machine = Machine::with_moldboard(FOOT.times(12)).unwrap();
    /// let left = Conditions { cutting_end: Some(End::Left), ..Conditions::default() };
    /// let sheet = advise(Work::RoadEdge, &left, &machine);
    /// assert_eq!(sheet.plates.value().toothed_at(), [1]);
    /// ```
    pub fn toothed_at(&self) -> Vec<usize> {
        self.spots
            .iter()
            .enumerate()
            .filter(|(_, spot)| 0 < spot.teeth)
            .map(|(at, _)| at + 1)
            .collect()
    }

    /// How many teeth work today.
    ///
    /// Units: teeth.
    /// Valid: always.
    /// Basis: arithmetic.
    ///
    /// ```
    /// use evenrow_rules::{machine::{FOOT, Machine}, quantity::Length, setup::advise, work::{Conditions, Work}};
    /// let machine = Machine::with_moldboard(FOOT.times(12)).unwrap();
    /// let path = Conditions { path: Some(Length::millimetres(2500.0).unwrap()), ..Conditions::default() };
    /// let sheet = advise(Work::Path, &path, &machine);
    /// // One tooth takes 38.1 · sin 65° = 34.53 mm across the path: 72 take 2486 mm, and 12 on each side stay out.
    /// let on_plates = sheet.plates.value().spots.iter().map(|spot| spot.teeth);
    /// assert_eq!(on_plates.collect::<Vec<_>>(), [12, 24, 24, 12]);
    /// assert_eq!(sheet.plates.value().teeth(), 72);
    /// ```
    pub fn teeth(&self) -> u32 {
        self.spots.iter().map(|spot| spot.teeth).sum()
    }
}

/// Where on the board the toothed plates sit.
enum Place {
    At(End),
    Middle,
}

pub(super) fn decide(job: &Job, verdict: Verdict, grading: Angle) -> Line<Layout> {
    if verdict == Verdict::DoNot {
        return Line::new(layout(job, 0, &Place::Middle, grading), Reason::NotToBeDone);
    }
    match job.work {
        Work::PackedSnow
        | Work::PackedSnowOnSoft
        | Work::Gravel
        | Work::TightStone
        | Work::StonyGravel
        | Work::StoneBase
        | Work::RuttedPavement => full(job, grading),
        Work::SoftMilling => milling(job, grading),
        Work::RoadEdge => road_edge(job, grading),
        Work::Path => path(job, grading),
    }
}

fn full(job: &Job, grading: Angle) -> Line<Layout> {
    Line::new(
        layout(job, job.fit.plates.len(), &Place::Middle, grading),
        Reason::FullRow {
            teeth: job.fit.full_row(),
            moldboard: job.machine.moldboard(),
        },
    )
}

fn milling(job: &Job, grading: Angle) -> Line<Layout> {
    let softness = Softness::of(job.known.soft);
    match (Warmth::of(job.known.surface), softness) {
        (Warmth::Warm, Softness::Soft) => full(job, grading)
            .and(warmth_reason(job))
            .and(softness_reason(softness)),
        (Warmth::Warm, Softness::Unknown | Softness::Stiff)
        | (
            Warmth::Cool | Warmth::Cold | Warmth::Unknown,
            Softness::Unknown | Softness::Soft | Softness::Stiff,
        ) => at_the_cutting_end(job, MILLING, grading, warmth_reason(job))
            .and(softness_reason(softness))
            .and(Reason::OnePlateOnly),
    }
}

fn road_edge(job: &Job, grading: Angle) -> Line<Layout> {
    let end = job.known.cutting_end.unwrap_or(ASSUMED_END);
    let first = match end {
        End::Left => job.fit.plates.first(),
        End::Right => job.fit.plates.last(),
    };
    let one_plate = effective_width(first.copied().unwrap_or(Length::ZERO), grading);
    let (count, reason) = match job.known.strip {
        None => (STRIP, Reason::StripUnknown),
        Some(strip) if strip <= one_plate => (STRIP, Reason::StripFitsOne { strip, one_plate }),
        // There is no second plate to speak of on a board that holds one.
        Some(_) if job.fit.plates.len() < WIDE_STRIP => return full(job, grading),
        Some(strip) => (WIDE_STRIP, Reason::StripNeedsTwo { strip, one_plate }),
    };
    at_the_cutting_end(job, count, grading, reason)
}

fn path(job: &Job, grading: Angle) -> Line<Layout> {
    let Some(path) = job.known.path else {
        let layout = layout(job, PATH, &Place::Middle, grading);
        return Line::new(layout, Reason::PathUnknown).and(Reason::InTheMiddle);
    };
    let fits = teeth_for_width(path, job.machine.pitch(), grading).max(1);
    if job.fit.full_row() <= fits {
        return full(job, grading).and(Reason::PathTakesFullRow { path });
    }
    let narrowed = run_of_teeth(job, (job.fit.full_row() - fits) / 2, fits, grading);
    let working = narrowed.working;
    Line::new(narrowed, Reason::NarrowedToPath { path, working }).and(Reason::InTheMiddle)
}

fn at_the_cutting_end(job: &Job, count: usize, grading: Angle, reason: Reason) -> Line<Layout> {
    let (end, why) = match job.known.cutting_end {
        Some(end) => (end, Reason::AtTheCuttingEnd { end }),
        None => (ASSUMED_END, Reason::CuttingEndAssumed { end: ASSUMED_END }),
    };
    Line::new(layout(job, count, &Place::At(end), grading), reason).and(why)
}

/// The board with `count` neighbouring plates toothed.
fn layout(job: &Job, count: usize, place: &Place, grading: Angle) -> Layout {
    let all = job.fit.plates.len();
    let count = count.min(all);
    let first = match place {
        Place::At(End::Left) => 0,
        Place::At(End::Right) => all - count,
        Place::Middle => (all - count) / 2,
    };
    let teeth = |plates: &[u32]| plates.iter().sum();
    run_of_teeth(
        job,
        teeth(&job.fit.teeth[..first]),
        teeth(&job.fit.teeth[first..first + count]),
        grading,
    )
}

/// The board with `count` neighbouring teeth, so many sockets in from the left.
fn run_of_teeth(job: &Job, first: u32, count: u32, grading: Angle) -> Layout {
    let last = first + count;
    let mut start = 0;
    let spots = job
        .fit
        .plates
        .iter()
        .zip(&job.fit.teeth)
        .map(|(&length, &room)| {
            let end = start + room;
            let (from, to) = (first.clamp(start, end), last.clamp(start, end));
            let spot = Spot {
                length,
                room,
                skipped: if from < to { from - start } else { 0 },
                teeth: to - from,
            };
            start = end;
            spot
        })
        .collect();
    Layout {
        spots,
        bare: job.fit.bare,
        working: effective_width(job.machine.pitch().times(count), grading),
    }
}
