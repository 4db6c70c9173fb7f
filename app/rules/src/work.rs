//! The kinds of work, the conditions that matter to them, and what has to be asked about each.
//!
//! Every condition may be unknown; the rules then take the cautious road. Numbers are turned into bands here, once, so
//! that the rules are tables which the compiler checks for gaps. Never here: advice (`setup`).

use alloc::vec::Vec;

use crate::quantity::{Length, Temperature};

/// What the toothed edge is to do today.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Work {
    /// Packed snow or ice on a hard road.
    PackedSnow,
    /// Packed snow or ice over a soft surfacing that is to be kept.
    PackedSnowOnSoft,
    /// The hard layer along the road's edge.
    RoadEdge,
    /// Gravel, levelling the top layer.
    Gravel,
    /// Gravel whose top is crushed rock, hard and tight.
    TightStone,
    /// Gravel with a thin top layer and many stones in the ground.
    StonyGravel,
    /// Milling a soft, oil-bound surfacing.
    SoftMilling,
    /// Breaking up and levelling crushed stone on a construction site.
    StoneBase,
    /// Planing rutted pavement.
    RuttedPavement,
    /// Levelling foot and cycle paths.
    Path,
}

impl Work {
    /// Every kind of work, in the order in which an operator is asked.
    ///
    /// Basis: the list of this file.
    pub const ALL: [Work; 10] = [
        Work::PackedSnow,
        Work::PackedSnowOnSoft,
        Work::RoadEdge,
        Work::Gravel,
        Work::TightStone,
        Work::StonyGravel,
        Work::SoftMilling,
        Work::StoneBase,
        Work::RuttedPavement,
        Work::Path,
    ];

    /// Whether the surfacing is milled on purpose, so that sparing it is not the aim.
    ///
    /// Valid: always.
    /// Basis: common practice, no published source.
    ///
    /// ```
    /// use evenrow_rules::work::Work;
    /// let milling: Vec<Work> = Work::ALL.into_iter().filter(|work| work.mills()).collect();
    /// assert_eq!(milling, [Work::SoftMilling]);
    /// ```
    pub const fn mills(self) -> bool {
        match self {
            Work::SoftMilling => true,
            Work::PackedSnow
            | Work::PackedSnowOnSoft
            | Work::RoadEdge
            | Work::Gravel
            | Work::TightStone
            | Work::StonyGravel
            | Work::StoneBase
            | Work::RuttedPavement
            | Work::Path => false,
        }
    }

    /// Whether it is one of the gravel kinds.
    ///
    /// Valid: always.
    /// Basis: common practice, no published source.
    ///
    /// ```
    /// use evenrow_rules::work::Work;
    /// let gravel: Vec<Work> = Work::ALL.into_iter().filter(|work| work.is_gravel()).collect();
    /// assert_eq!(gravel, [Work::Gravel, Work::TightStone, Work::StonyGravel]);
    /// ```
    pub const fn is_gravel(self) -> bool {
        match self {
            Work::Gravel | Work::TightStone | Work::StonyGravel => true,
            Work::PackedSnow
            | Work::PackedSnowOnSoft
            | Work::RoadEdge
            | Work::SoftMilling
            | Work::StoneBase
            | Work::RuttedPavement
            | Work::Path => false,
        }
    }

    /// Whether dust gets into the sockets, as it does on the gravel kinds and the stone base.
    ///
    /// Valid: always.
    /// Basis: house default; that gravel needs oil two or three times a shift is common practice.
    ///
    /// ```
    /// use evenrow_rules::work::Work;
    /// let dusty: Vec<Work> = Work::ALL.into_iter().filter(|work| work.is_dusty()).collect();
    /// assert_eq!(dusty, [Work::Gravel, Work::TightStone, Work::StonyGravel, Work::StoneBase]);
    /// ```
    pub const fn is_dusty(self) -> bool {
        self.is_gravel() || matches!(self, Work::StoneBase)
    }

    /// Whether it is packed snow or ice, taken in layers where the edge skids.
    ///
    /// Valid: always.
    /// Basis: common practice, no published source.
    ///
    /// ```
    /// use evenrow_rules::work::Work;
    /// let snow: Vec<Work> = Work::ALL.into_iter().filter(|work| work.is_snow()).collect();
    /// assert_eq!(snow, [Work::PackedSnow, Work::PackedSnowOnSoft]);
    /// ```
    pub const fn is_snow(self) -> bool {
        matches!(self, Work::PackedSnow | Work::PackedSnowOnSoft)
    }
}

/// One end of the moldboard, as seen from the cab.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum End {
    /// The left end.
    Left,
    /// The right end.
    Right,
}

/// How many stones are in the ground.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Stones {
    /// Few stones.
    Few,
    /// Many stones.
    Many,
}

/// How wet the material is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Moisture {
    /// Dry and dusty.
    Dusty,
    /// Moist.
    Moist,
}

/// What is known about today. `None` means: the operator does not know.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Conditions {
    /// Temperature at the surface, not of the air.
    pub surface: Option<Temperature>,
    /// Whether the surfacing is soft (oil-bound, or a thin seal).
    pub soft: Option<bool>,
    /// How thick the packed layer is.
    pub layer: Option<Length>,
    /// Whether the edge skids on it instead of biting.
    pub skids: Option<bool>,
    /// What depth bites today without skidding.
    pub bite: Option<Length>,
    /// Stones in the ground.
    pub stones: Option<Stones>,
    /// Dust or moisture.
    pub moisture: Option<Moisture>,
    /// How wide the path is.
    pub path: Option<Length>,
    /// How wide the hard strip along the road's edge is.
    pub strip: Option<Length>,
    /// Which end of the moldboard does the cutting.
    pub cutting_end: Option<End>,
}

/// Something that has to be asked before advice can be given.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Question {
    /// How warm is the surface?
    Surface,
    /// Is the surfacing soft?
    Soft,
    /// How thick is the layer?
    Layer,
    /// Does the edge skid instead of biting?
    Skids,
    /// What depth bites without skidding?
    Bite,
    /// Are there many stones?
    Stones,
    /// Is it dusty or moist?
    Moisture,
    /// How wide is the path?
    Path,
    /// How wide is the hard strip?
    Strip,
    /// Which end of the moldboard cuts?
    CuttingEnd,
}

/// What has to be asked for this work, given what has been answered so far.
///
/// Valid: always.
/// Basis: common practice, no published source, for what matters to which work; asking for the bite only once the edge skids, for the
/// cutting end only while less than the full row is to be fitted, and for nothing more once milling is ruled out, follows from the rules of `setup`.
///
/// ```
/// use evenrow_rules::work::{Conditions, Question, Work, questions};
/// assert_eq!(questions(Work::TightStone, &Conditions::default()), [Question::Moisture]);
/// ```
pub fn questions(work: Work, known: &Conditions) -> Vec<Question> {
    let all: &[Question] = match work {
        Work::PackedSnow | Work::PackedSnowOnSoft => {
            &[Question::Layer, Question::Skids, Question::Bite]
        }
        Work::RoadEdge => &[Question::CuttingEnd, Question::Strip, Question::Soft],
        Work::Gravel => &[Question::Moisture, Question::Stones],
        Work::TightStone | Work::StonyGravel | Work::StoneBase => &[Question::Moisture],
        Work::SoftMilling => &[Question::Surface, Question::Soft, Question::CuttingEnd],
        Work::RuttedPavement => &[Question::Soft],
        Work::Path => &[Question::Path, Question::Soft],
    };
    let full_width =
        (Warmth::of(known.surface), Softness::of(known.soft)) == (Warmth::Warm, Softness::Soft);
    let cold = Warmth::of(known.surface) == Warmth::Cold;
    all.iter()
        .copied()
        .filter(|question| match question {
            Question::Bite => known.skids == Some(true),
            Question::CuttingEnd => !(work.mills() && (full_width || cold)),
            Question::Soft => !(work.mills() && cold),
            Question::Surface
            | Question::Layer
            | Question::Skids
            | Question::Stones
            | Question::Moisture
            | Question::Path
            | Question::Strip => true,
        })
        .collect()
}

/// From here on a soft surfacing is milled at full width.
///
/// Basis: common practice, no published source.
pub const FULL_WIDTH_FROM: Temperature = Temperature::whole_celsius(15);

/// Below this a soft surfacing is not milled.
///
/// Basis: house default.
pub const NO_MILLING_BELOW: Temperature = Temperature::whole_celsius(5);

/// The surface temperature, banded for milling.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Warmth {
    /// Not known.
    Unknown,
    /// Below [`NO_MILLING_BELOW`].
    Cold,
    /// From there to [`FULL_WIDTH_FROM`].
    Cool,
    /// [`FULL_WIDTH_FROM`] and more.
    Warm,
}

impl Warmth {
    /// The band of a surface temperature.
    ///
    /// Units: degrees Celsius.
    /// Valid: always; not given is a band of its own.
    /// Basis: [`NO_MILLING_BELOW`] and [`FULL_WIDTH_FROM`].
    ///
    /// ```
    /// use evenrow_rules::{quantity::Temperature, work::Warmth};
    /// let band = |celsius| Warmth::of(Some(Temperature::whole_celsius(celsius)));
    /// assert_eq!([4, 5, 14, 15].map(band), [Warmth::Cold, Warmth::Cool, Warmth::Cool, Warmth::Warm]);
    /// assert_eq!(Warmth::of(None), Warmth::Unknown);
    /// ```
    pub fn of(surface: Option<Temperature>) -> Warmth {
        match surface {
            None => Warmth::Unknown,
            Some(surface) if surface < NO_MILLING_BELOW => Warmth::Cold,
            Some(surface) if surface < FULL_WIDTH_FROM => Warmth::Cool,
            Some(_) => Warmth::Warm,
        }
    }
}

/// Whether the surfacing is soft.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Softness {
    /// Not known.
    Unknown,
    /// Soft.
    Soft,
    /// Stiff.
    Stiff,
}

impl Softness {
    /// The band of an answer.
    ///
    /// Valid: always; no answer is a band of its own.
    /// Basis: as answered.
    ///
    /// ```
    /// use evenrow_rules::work::Softness;
    /// let bands = [None, Some(true), Some(false)].map(Softness::of);
    /// assert_eq!(bands, [Softness::Unknown, Softness::Soft, Softness::Stiff]);
    /// ```
    pub const fn of(soft: Option<bool>) -> Softness {
        match soft {
            None => Softness::Unknown,
            Some(true) => Softness::Soft,
            Some(false) => Softness::Stiff,
        }
    }
}

/// Whether a soft surfacing lies under the edge that must not be harmed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Underneath {
    /// A soft surfacing that is to be kept.
    SoftToBeKept,
    /// Nobody knows whether it is soft; treated as if it were.
    PerhapsSoft,
    /// Nothing soft to be kept, or it is milled on purpose.
    NothingToSpare,
}

impl Underneath {
    /// What lies under the edge. A surfacing said to be soft counts for every work but milling, asked or not.
    ///
    /// Valid: always.
    /// Basis: common practice, no published source; that milling on purpose is no harm is our reading of it.
    ///
    /// ```
    /// use evenrow_rules::work::{Underneath, Work};
    /// let soft = Some(true);
    /// assert_eq!(Underneath::of(Work::RuttedPavement, soft), Underneath::SoftToBeKept);
    /// assert_eq!(Underneath::of(Work::RuttedPavement, None), Underneath::PerhapsSoft);
    /// assert_eq!(Underneath::of(Work::SoftMilling, soft), Underneath::NothingToSpare);
    /// ```
    pub const fn of(work: Work, soft: Option<bool>) -> Underneath {
        match (work, Softness::of(soft)) {
            (Work::SoftMilling, Softness::Unknown | Softness::Soft | Softness::Stiff) => {
                Underneath::NothingToSpare
            }
            (Work::PackedSnowOnSoft, Softness::Unknown | Softness::Soft | Softness::Stiff)
            | (
                Work::PackedSnow
                | Work::RoadEdge
                | Work::Gravel
                | Work::TightStone
                | Work::StonyGravel
                | Work::StoneBase
                | Work::RuttedPavement
                | Work::Path,
                Softness::Soft,
            ) => Underneath::SoftToBeKept,
            (Work::RoadEdge | Work::RuttedPavement | Work::Path, Softness::Unknown) => {
                Underneath::PerhapsSoft
            }
            (
                Work::PackedSnow
                | Work::Gravel
                | Work::TightStone
                | Work::StonyGravel
                | Work::StoneBase,
                Softness::Unknown,
            )
            | (
                Work::PackedSnow
                | Work::RoadEdge
                | Work::Gravel
                | Work::TightStone
                | Work::StonyGravel
                | Work::StoneBase
                | Work::RuttedPavement
                | Work::Path,
                Softness::Stiff,
            ) => Underneath::NothingToSpare,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn warmth(celsius: f64, expect: Warmth) {
        assert_eq!(
            Warmth::of(Some(Temperature::celsius(celsius).unwrap())),
            expect
        );
    }

    #[test]
    fn the_edges_of_the_temperature_bands() {
        warmth(4.9, Warmth::Cold);
        warmth(5.0, Warmth::Cool);
        warmth(14.9, Warmth::Cool);
        warmth(15.0, Warmth::Warm);
        assert_eq!(Warmth::of(None), Warmth::Unknown);
    }

    #[test]
    fn the_bite_is_asked_only_once_the_edge_skids() {
        let skids = Conditions {
            skids: Some(true),
            ..Conditions::default()
        };
        assert!(questions(Work::PackedSnow, &skids).contains(&Question::Bite));
        assert!(!questions(Work::PackedSnow, &Conditions::default()).contains(&Question::Bite));
    }

    #[test]
    fn the_cutting_end_is_not_asked_when_the_full_row_mills() {
        let warm_and_soft = Conditions {
            surface: Some(FULL_WIDTH_FROM),
            soft: Some(true),
            ..Conditions::default()
        };
        assert!(!questions(Work::SoftMilling, &warm_and_soft).contains(&Question::CuttingEnd));
        assert!(
            questions(Work::SoftMilling, &Conditions::default()).contains(&Question::CuttingEnd)
        );
        assert!(questions(Work::RoadEdge, &warm_and_soft).contains(&Question::CuttingEnd));
    }

    #[test]
    fn every_work_has_something_to_ask_and_nothing_twice() {
        for work in Work::ALL {
            let asked = questions(
                work,
                &Conditions {
                    skids: Some(true),
                    ..Conditions::default()
                },
            );
            assert!(!asked.is_empty());
            for (at, question) in asked.iter().enumerate() {
                assert!(!asked[at + 1..].contains(question));
            }
        }
    }
}
