//! The cutting angle.
//!
//! The trade says: about 50 degrees as a rule, since it puts the most carbide on the surface; under 40 wherever a soft
//! surfacing is to be kept; lower than usual on gravel with many stones in the ground. The targets and the room about
//! them are house defaults.

use super::{Job, Line, Reason};
use crate::angle::{Angle, AngleBand};
use crate::work::{Stones, Underneath, Work};

/// The usual setting.
///
/// Basis: common practice, no published source, for the target; the room of three degrees is a house default.
pub const NORMAL: AngleBand = AngleBand::whole_degrees(47, 50, 53);

/// Over a soft surfacing that is to be kept.
///
/// Basis: house default, under [`SOFT_LIMIT`] with room for error.
pub const OVER_SOFT: AngleBand = AngleBand::whole_degrees(33, 36, 39);

/// On gravel with many stones.
///
/// Basis: house default; that it is lower than normal is common practice, the trade gives no number.
pub const STONY: AngleBand = AngleBand::whole_degrees(40, 43, 46);

/// Over a soft surfacing that is to be kept, the cutting angle stays under this.
///
/// Basis: common practice, no published source.
pub const SOFT_LIMIT: Angle = Angle::whole_degrees(40);

/// What asks for another angle than the usual one, the most binding first.
enum Ground {
    Soft,
    PerhapsSoft,
    Stony,
    Usual,
}

impl Ground {
    fn of(job: &Job) -> Ground {
        match Underneath::of(job.work, job.known.soft) {
            Underneath::SoftToBeKept => Ground::Soft,
            Underneath::PerhapsSoft => Ground::PerhapsSoft,
            Underneath::NothingToSpare => match (job.work, job.known.stones) {
                (Work::StonyGravel, None | Some(Stones::Few | Stones::Many))
                | (Work::Gravel, Some(Stones::Many)) => Ground::Stony,
                (Work::Gravel, None | Some(Stones::Few))
                | (
                    Work::PackedSnow
                    | Work::PackedSnowOnSoft
                    | Work::RoadEdge
                    | Work::TightStone
                    | Work::SoftMilling
                    | Work::StoneBase
                    | Work::RuttedPavement
                    | Work::Path,
                    None | Some(Stones::Few | Stones::Many),
                ) => Ground::Usual,
            },
        }
    }
}

pub(super) fn decide(job: &Job) -> Line<AngleBand> {
    let usual = NORMAL.target();
    match Ground::of(job) {
        Ground::Soft => Line::new(OVER_SOFT, Reason::SoftToBeKept { limit: SOFT_LIMIT }).and(
            Reason::RoomUnderLimit {
                target: OVER_SOFT.target(),
            },
        ),
        Ground::PerhapsSoft => Line::new(OVER_SOFT, Reason::PerhapsSoft { limit: SOFT_LIMIT }).and(
            Reason::RoomUnderLimit {
                target: OVER_SOFT.target(),
            },
        ),
        Ground::Stony => {
            Line::new(STONY, Reason::StonesWantLower { usual }).and(Reason::NoNumberInTheTrade {
                target: STONY.target(),
            })
        }
        Ground::Usual => {
            Line::new(NORMAL, Reason::MostCarbideOnSurface { usual }).and(Reason::RoomEitherSide {
                low: NORMAL.low(),
                high: NORMAL.high(),
            })
        }
    }
}
