//! How fast at most.
//!
//! The gravel manuals say 3 to 5 mph on gravel roads. For the other works no source gives a speed, so none is shown.

use super::{Job, Line, Reason};
use crate::quantity::KilometresPerHour;

/// On the gravel kinds.
///
/// Basis: published, `Source::GravelManuals`, 5 mph, corroborated by secondary pages.
pub const ON_GRAVEL_AT_MOST: KilometresPerHour = KilometresPerHour(8);

pub(super) fn decide(job: &Job) -> Option<Line<KilometresPerHour>> {
    let most = ON_GRAVEL_AT_MOST;
    job.work
        .is_gravel()
        .then(|| Line::new(most, Reason::GravelManualsSpeed { most }))
}
