//! How often the sockets are oiled in a shift, with what, and how often to look at the teeth.
//!
//! The trade says: with fuel oil at least once a day, two or three times a shift on gravel; nothing thicker, since it
//! gathers dirt in the socket and stops the tooth; look as often as possible whether the teeth turn. The second oiling
//! elsewhere, the stone base and the number of looks are house defaults.

use super::{Job, Line, Reason, SocketOil};
use crate::work::Moisture;

/// How often to oil in a shift. Always low ≤ planned ≤ high, and never none.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Oilings {
    /// The fewest that will do.
    pub low: u8,
    /// What the plan sets.
    pub planned: u8,
    /// The most that are of use.
    pub high: u8,
}

/// Where little dust gets into the sockets.
///
/// Units: oilings a shift.
/// Basis: common practice, no published source, for the first; the second is a house default.
const CLEAN: Oilings = Oilings {
    low: 1,
    planned: 2,
    high: 2,
};

/// Where it is dusty, or nobody knows whether it is.
///
/// Units: oilings a shift.
/// Basis: common practice, no published source, for two or three on gravel; which of the two, and the same on a stone
/// base, is a house default.
const DUSTY: Oilings = Oilings {
    low: 2,
    planned: 3,
    high: 3,
};

/// Where it would be dusty, were the ground not moist.
///
/// Units: oilings a shift.
/// Basis: common practice, no published source, for two or three on gravel; which of the two, and the same on a stone
/// base, is a house default.
const MOIST: Oilings = Oilings {
    low: 2,
    planned: 2,
    high: 3,
};

/// How often to look between two oilings whether the teeth turn.
///
/// Units: times.
/// Basis: house default; that it be as often as possible is common practice.
const LOOKS: u8 = 2;

pub(super) fn decide(job: &Job) -> Line<Oilings> {
    if !job.work.is_dusty() {
        return Line::new(CLEAN, Reason::OilDaily).and(Reason::SecondOilingIsOurs);
    }
    let line = match job.known.moisture {
        Some(Moisture::Dusty) => Line::new(DUSTY, Reason::Dusty),
        Some(Moisture::Moist) => Line::new(MOIST, Reason::Moist),
        None => Line::new(DUSTY, Reason::PerhapsDusty),
    };
    if job.work.is_gravel() {
        line.and(Reason::GravelWantsMoreOil)
    } else {
        line.and(Reason::SecondOilingIsOurs)
    }
}

pub(super) fn oil() -> Line<SocketOil> {
    Line::new(SocketOil::FuelOil, Reason::ThickerStopsTheTooth)
}

pub(super) fn looks() -> Line<u8> {
    Line::new(LOOKS, Reason::LookTwicePerInterval)
}
