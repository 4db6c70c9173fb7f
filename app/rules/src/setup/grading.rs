//! The grading angle, and the tracks that it leaves.
//!
//! The trade says: always under 80 degrees from the direction of travel, since the skew is what turns the teeth. The
//! gravel manuals set the moldboard 30 to 45 degrees from square, which is 60 to 45 from the direction of travel.
//!
//! Teeth a pitch `p` apart along a moldboard at grading angle `g` run in tracks `p · sin g` apart across the road.

use super::{Job, Line, Reason};
use crate::angle::{Angle, AngleBand};
use crate::quantity::Length;

/// On the gravel kinds.
///
/// Basis: published, `Source::GravelManuals`, for the range; the target is a house default.
pub const ON_GRAVEL: AngleBand = AngleBand::whole_degrees(45, 55, 60);

/// Everywhere else.
///
/// Basis: house default, under [`SKEW_LIMIT`] with five degrees of room.
pub const ELSEWHERE: AngleBand = AngleBand::whole_degrees(55, 65, 75);

/// The grading angle stays under this.
///
/// Basis: common practice, no published source; why a skewed pick turns is published.
pub const SKEW_LIMIT: Angle = Angle::whole_degrees(80);

pub(super) fn decide(job: &Job) -> Line<AngleBand> {
    let skew = Reason::SkewTurnsTheTeeth { limit: SKEW_LIMIT };
    if job.work.is_gravel() {
        Line::new(
            ON_GRAVEL,
            Reason::GravelManualsSkew {
                low: ON_GRAVEL.low(),
                high: ON_GRAVEL.high(),
            },
        )
        .and(skew)
        .and(Reason::RoomUnderLimit {
            target: ON_GRAVEL.target(),
        })
        .and(Reason::TurningPicksLast)
    } else {
        Line::new(ELSEWHERE, skew)
            .and(Reason::RoomEitherSide {
                low: ELSEWHERE.low(),
                high: ELSEWHERE.high(),
            })
            .and(Reason::TurningPicksLast)
    }
}

pub(super) fn tracks(job: &Job, grading: Angle) -> Line<Length> {
    let pitch = job.machine.pitch();
    Line::new(
        pitch.share(grading.sine()),
        Reason::PitchTimesSine { pitch, grading },
    )
}
