//! Which tooth kinds suit, first choice first.
//!
//! The trade says: a wide flange guards the tooth and keeps dirt off its bearing surface; tight stone wants a wide
//! flange; milling wants pointed tips. The order among the kinds that suit is a house default.

use alloc::vec;
use alloc::vec::Vec;

use super::{Job, Line, Reason, ToothKind};
use crate::work::{Stones, Work};

pub(super) fn decide(job: &Job) -> Line<Vec<ToothKind>> {
    use ToothKind::{NarrowPointed, WideBlunt, WidePointed};
    match job.work {
        Work::PackedSnow | Work::PackedSnowOnSoft | Work::RoadEdge => {
            Line::new(vec![NarrowPointed, WidePointed], Reason::OrderIsOurs)
        }
        Work::Gravel => match job.known.stones {
            Some(Stones::Many) => Line::new(vec![WideBlunt, WidePointed], Reason::WideFlangeGuards)
                .and(Reason::ManyStones)
                .and(Reason::OrderIsOurs),
            Some(Stones::Few) | None => {
                Line::new(vec![WidePointed], Reason::WideFlangeGuards).and(Reason::OrderIsOurs)
            }
        },
        Work::TightStone => Line::new(vec![WidePointed, WideBlunt], Reason::WideOnTightStone)
            .and(Reason::WideFlangeGuards)
            .and(Reason::OrderIsOurs),
        Work::StonyGravel | Work::StoneBase | Work::RuttedPavement => {
            Line::new(vec![WideBlunt, WidePointed], Reason::WideFlangeGuards)
                .and(Reason::OrderIsOurs)
        }
        Work::SoftMilling => {
            Line::new(vec![NarrowPointed, WidePointed], Reason::MillingWantsPoints)
                .and(Reason::OrderIsOurs)
        }
        Work::Path => Line::new(vec![WidePointed, NarrowPointed], Reason::OrderIsOurs),
    }
}
