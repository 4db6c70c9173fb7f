//! Is the toothed edge the tool for it?
//!
//! The trade says: excellent on packed snow and ice; ideal for loosening gravel; good on a hard layer along the road's
//! edge, on tight stone, on stone bases, on rutted pavement and on paths. With care on a thin top over stones. Soft
//! surfacing is milled at full width when the surface is at 15 °C or more and soft; cooler, stiffer or unknown with one
//! plate and with care. That it is not milled below 5 °C is a house default.

use super::{Job, Line, Reason, Verdict};
use crate::work::{FULL_WIDTH_FROM, NO_MILLING_BELOW, Softness, Stones, Underneath, Warmth, Work};

pub(super) fn decide(job: &Job) -> Line<Verdict> {
    let known = job.known;
    match job.work {
        Work::PackedSnow | Work::PackedSnowOnSoft => {
            Line::new(Verdict::Suits, Reason::SnowIsItsBestWork)
        }
        Work::RoadEdge => Line::new(Verdict::Suits, Reason::FewTeethBiteHardEdge),
        Work::Gravel => match known.stones {
            Some(Stones::Many) => Line::new(Verdict::WithCare, Reason::ManyStones),
            Some(Stones::Few) | None => Line::new(Verdict::Suits, Reason::GravelLoosensEasily),
        },
        Work::TightStone => Line::new(Verdict::Suits, Reason::PlainEdgeFailsOnTightStone),
        Work::StonyGravel => Line::new(Verdict::WithCare, Reason::ThinTopOverStones),
        Work::SoftMilling => milling(job),
        Work::StoneBase => Line::new(Verdict::Suits, Reason::StoneBaseSuits),
        Work::RuttedPavement => match Underneath::of(job.work, known.soft) {
            Underneath::NothingToSpare => {
                Line::new(Verdict::Suits, Reason::AnglesAndPressureDecide)
            }
            Underneath::SoftToBeKept | Underneath::PerhapsSoft => {
                Line::new(Verdict::WithCare, Reason::AnglesAndPressureDecide)
            }
        },
        Work::Path => Line::new(Verdict::Suits, Reason::PathSuits),
    }
}

fn milling(job: &Job) -> Line<Verdict> {
    let (warmth, softness) = (Warmth::of(job.known.surface), Softness::of(job.known.soft));
    let verdict = match (warmth, softness) {
        (Warmth::Cold, Softness::Unknown | Softness::Soft | Softness::Stiff) => Verdict::DoNot,
        (Warmth::Warm, Softness::Soft) => Verdict::Suits,
        (Warmth::Warm, Softness::Unknown | Softness::Stiff)
        | (Warmth::Cool | Warmth::Unknown, Softness::Unknown | Softness::Soft | Softness::Stiff) => {
            Verdict::WithCare
        }
    };
    let line = Line::new(verdict, warmth_reason(job));
    match warmth {
        // Too cold rules milling out, however soft the surfacing is.
        Warmth::Cold => line,
        Warmth::Unknown | Warmth::Cool | Warmth::Warm => line.and(softness_reason(softness)),
    }
}

/// The reason that the surface temperature gives; shared with the rule for the plates.
pub(super) fn warmth_reason(job: &Job) -> Reason {
    match (job.known.surface, Warmth::of(job.known.surface)) {
        (Some(surface), Warmth::Cold) => Reason::SurfaceCold {
            surface,
            limit: NO_MILLING_BELOW,
        },
        (Some(surface), Warmth::Cool) => Reason::SurfaceCool {
            surface,
            limit: FULL_WIDTH_FROM,
        },
        (Some(surface), Warmth::Warm) => Reason::SurfaceWarm {
            surface,
            limit: FULL_WIDTH_FROM,
        },
        (Some(_), Warmth::Unknown)
        | (None, Warmth::Unknown | Warmth::Cold | Warmth::Cool | Warmth::Warm) => {
            Reason::SurfaceUnknown
        }
    }
}

/// The reason that the softness gives.
pub(super) const fn softness_reason(softness: Softness) -> Reason {
    match softness {
        Softness::Soft => Reason::SurfacingSoft,
        Softness::Stiff => Reason::SurfacingStiff,
        Softness::Unknown => Reason::SurfacingUnknown,
    }
}
