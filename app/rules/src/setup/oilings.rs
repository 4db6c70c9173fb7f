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

pub(super) fn decide(job: &Job) -> Line<Oilings> {
    if !job.work.is_dusty() {
        return Line::new(
            Oilings {
                low: 1,
                planned: 2,
                high: 2,
            },
            Reason::OilDaily,
        )
        .and(Reason::SecondOilingIsOurs);
    }
    let (planned, reason) = match job.known.moisture {
        Some(Moisture::Dusty) => (3, Reason::Dusty),
        Some(Moisture::Moist) => (2, Reason::Moist),
        None => (3, Reason::PerhapsDusty),
    };
    let line = Line::new(
        Oilings {
            low: 2,
            planned,
            high: 3,
        },
        reason,
    );
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
    Line::new(2, Reason::LookTwicePerInterval)
}
