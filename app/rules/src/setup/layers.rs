//! In how many layers a packed layer comes off.
//!
//! The trade says: where a thick layer makes the edge skid instead of biting, take it in more than one. What bites is
//! learned on the day; 30 mm is the first guess.

use super::{Job, Line, Reason};
use crate::quantity::Length;

/// What bites without skidding, until the operator says better.
///
/// Basis: house default.
pub const FIRST_GUESS: Length = Length::micrometres(30_000);

/// A bite of less than this would be thousands of layers: no blade is set so.
///
/// Basis: house default, only there to stop nonsense.
const LEAST_BITE: Length = Length::micrometres(1_000);

/// The most layers that are planned.
///
/// Units: layers.
/// Basis: house default, only there to stop nonsense.
const MOST_LAYERS: u32 = 1_000;

/// The fewest layers once the edge skids: more than one.
///
/// Units: layers.
/// Basis: common practice, no published source.
const ONCE_IT_SKIDS: u16 = 2;

/// How many layers, and how thick each.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Layers {
    /// How many; never none.
    pub count: u16,
    /// How thick each is, where that is known.
    pub each: Option<Length>,
}

impl Layers {
    /// One layer, however thick it is.
    ///
    /// Units: none.
    /// Basis: arithmetic.
    const ONE: Layers = Layers {
        count: 1,
        each: None,
    };

    /// A known layer in as few equal parts as are no thicker than `bite`, and at least `least` of them.
    fn split(layer: Length, bite: Length, least: u16) -> Layers {
        let bite = bite.in_micrometres().max(LEAST_BITE.in_micrometres());
        let count = layer
            .in_micrometres()
            .div_ceil(bite)
            .clamp(u32::from(least), MOST_LAYERS);
        Layers {
            count: count as u16,
            each: Some(Length::micrometres(layer.in_micrometres() / count)),
        }
    }
}

pub(super) fn decide(job: &Job) -> Line<Layers> {
    if !job.work.is_snow() {
        return Line::new(Layers::ONE, Reason::NoLayers);
    }
    let known = job.known;
    let bite = known.bite.unwrap_or(FIRST_GUESS);
    let several = match (known.skids, known.layer) {
        (Some(true), Some(layer)) => Line::new(
            Layers::split(layer, bite, ONCE_IT_SKIDS),
            Reason::SkidsSoLess { bite },
        ),
        (Some(true), None) => Line::new(
            Layers {
                count: ONCE_IT_SKIDS,
                each: None,
            },
            Reason::SkidsSoLess { bite },
        ),
        (None, Some(layer)) if bite < layer => Line::new(
            Layers::split(layer, bite, 1),
            Reason::ThickerThanBite { layer, bite },
        ),
        (None, layer @ Some(_)) => Line::new(
            Layers {
                count: 1,
                each: layer,
            },
            Reason::OneLayerBites,
        ),
        (Some(false), each) => {
            return Line::new(Layers { count: 1, each }, Reason::OneLayerBites);
        }
        (None, None) => return Line::new(Layers::ONE, Reason::LayerUnknown),
    };
    match known.bite {
        Some(_) => several,
        None => several.and(Reason::BiteGuessed { bite }),
    }
}
