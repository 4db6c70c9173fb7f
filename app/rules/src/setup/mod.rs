//! The set-up sheet: what today's work asks of the edge, line by line.
//!
//! One file per rule; each opens by restating what the trade says, then decides in a table over bands. A line cannot be
//! made without a reason, and every reason has exactly one basis. Never here: words, and the question of what the
//! operator then really did.

use alloc::vec::Vec;

use crate::angle::{Angle, AngleBand};
use crate::machine::{Machine, RowFit, TEETH_ON_12_FEET, TEETH_ON_13_FEET, fit};
use crate::quantity::{KilometresPerHour, Length, Temperature};
use crate::source::{Basis, Source};
use crate::work::{Conditions, End, Work};

mod cautions;
mod cutting;
mod grading;
mod layers;
mod oilings;
mod plates;
mod speed;
mod teeth;
mod verdict;

pub use cautions::Caution;
pub use cutting::{NORMAL, OVER_SOFT, SOFT_LIMIT, STONY};
pub use grading::{ELSEWHERE, ON_GRAVEL, SKEW_LIMIT};
pub use layers::{FIRST_GUESS, Layers};
pub use oilings::Oilings;
pub use plates::{Layout, Spot};
pub use speed::ON_GRAVEL_AT_MOST;

/// Whether the toothed edge is the tool for it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Verdict {
    /// It suits.
    Suits,
    /// It can be done, with care.
    WithCare,
    /// Do not.
    DoNot,
}

/// The kinds of teeth there are.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum ToothKind {
    /// Narrow flange, pointed tip.
    NarrowPointed,
    /// Wide flange, pointed tip.
    WidePointed,
    /// Wide flange, blunt tip.
    WideBlunt,
}

impl ToothKind {
    /// Every kind.
    ///
    /// Basis: common practice, no published source.
    pub const ALL: [ToothKind; 3] = [
        ToothKind::NarrowPointed,
        ToothKind::WidePointed,
        ToothKind::WideBlunt,
    ];

    /// Whether its flange guards the tooth and its bearing surface.
    ///
    /// Valid: always.
    /// Basis: common practice, no published source.
    ///
    /// ```
    /// use evenrow_rules::setup::ToothKind::{NarrowPointed, WideBlunt, WidePointed};
    /// assert_eq!([NarrowPointed, WidePointed, WideBlunt].map(|kind| kind.is_wide()), [false, true, true]);
    /// ```
    pub const fn is_wide(self) -> bool {
        match self {
            ToothKind::WidePointed | ToothKind::WideBlunt => true,
            ToothKind::NarrowPointed => false,
        }
    }

    /// Whether its tip is pointed.
    ///
    /// Valid: always.
    /// Basis: common practice, no published source.
    ///
    /// ```
    /// use evenrow_rules::setup::ToothKind::{NarrowPointed, WideBlunt, WidePointed};
    /// assert_eq!([NarrowPointed, WidePointed, WideBlunt].map(|kind| kind.is_pointed()), [true, true, false]);
    /// ```
    pub const fn is_pointed(self) -> bool {
        match self {
            ToothKind::NarrowPointed | ToothKind::WidePointed => true,
            ToothKind::WideBlunt => false,
        }
    }
}

/// What goes into the sockets. There is one answer; anything thicker gathers dirt and stops the tooth, so the type has
/// no place for it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum SocketOil {
    /// Fuel oil of a grade that still flows today.
    FuelOil,
}

/// Why a line says what it says, with the values that decided it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Reason {
    /// Packed snow and ice are what a toothed edge does best.
    SnowIsItsBestWork,
    /// A hard layer along the edge yields to a few teeth at the cutting end.
    FewTeethBiteHardEdge,
    /// Gravel loosens easily.
    GravelLoosensEasily,
    /// Many stones lie in the ground.
    ManyStones,
    /// A plain edge often fails to break up a tight stone top.
    PlainEdgeFailsOnTightStone,
    /// A thin top layer over many stones.
    ThinTopOverStones,
    /// Warm enough for milling at full width.
    SurfaceWarm {
        /// The surface temperature given.
        surface: Temperature,
        /// From where on it counts as warm.
        limit: Temperature,
    },
    /// Cooler than full-width milling wants.
    SurfaceCool {
        /// The surface temperature given.
        surface: Temperature,
        /// From where on it counts as warm.
        limit: Temperature,
    },
    /// Too cold to mill.
    SurfaceCold {
        /// The surface temperature given.
        surface: Temperature,
        /// Below this it is not milled.
        limit: Temperature,
    },
    /// The surface temperature is not known.
    SurfaceUnknown,
    /// The surfacing is soft.
    SurfacingSoft,
    /// The surfacing is stiff.
    SurfacingStiff,
    /// Nobody knows whether the surfacing is soft enough to mill.
    SurfacingUnknown,
    /// Crushed stone is work for a toothed edge.
    StoneBaseSuits,
    /// Angles and pressure decide whether the pavement is harmed.
    AnglesAndPressureDecide,
    /// Paths suit a narrowed row.
    PathSuits,
    /// A soft surfacing is to be kept: the cutting angle stays under the limit.
    SoftToBeKept {
        /// The angle to stay under.
        limit: Angle,
    },
    /// It may be soft; treated as if it were.
    PerhapsSoft {
        /// The angle to stay under.
        limit: Angle,
    },
    /// The number chosen under a limit leaves room for error.
    RoomUnderLimit {
        /// The target chosen.
        target: Angle,
    },
    /// About fifty degrees puts the most carbide on the surface.
    MostCarbideOnSurface {
        /// The usual angle.
        usual: Angle,
    },
    /// The room either side of a target.
    RoomEitherSide {
        /// The least that is still right.
        low: Angle,
        /// The most that is still right.
        high: Angle,
    },
    /// Stones want a lower angle than usual.
    StonesWantLower {
        /// The usual angle.
        usual: Angle,
    },
    /// The trade gives no number for it; this one is clear of the normal range.
    NoNumberInTheTrade {
        /// The target chosen.
        target: Angle,
    },
    /// The skew turns the teeth: always under the limit.
    SkewTurnsTheTeeth {
        /// The angle to stay under.
        limit: Angle,
    },
    /// A pick that turns wears evenly and lasts.
    TurningPicksLast,
    /// What the gravel manuals set.
    GravelManualsSkew {
        /// Their least, from the direction of travel.
        low: Angle,
        /// Their most, from the direction of travel.
        high: Angle,
    },
    /// A wide flange guards the tooth and keeps dirt off its bearing surface.
    WideFlangeGuards,
    /// A wide flange is what a tight stone top wants.
    WideOnTightStone,
    /// Milling wants pointed tips.
    MillingWantsPoints,
    /// The order among kinds that all suit is our choice.
    OrderIsOurs,
    /// Every plate that fits the board.
    FullRow {
        /// How many teeth that is.
        teeth: u32,
        /// The length of the board.
        moldboard: Length,
    },
    /// One plate, so that the few teeth that touch bite.
    OnePlateOnly,
    /// The strip is wider than one plate works; the second one goes on beside it.
    StripNeedsTwo {
        /// The width of the strip given.
        strip: Length,
        /// What one plate covers across the road.
        one_plate: Length,
    },
    /// The strip is no wider than one plate works.
    StripFitsOne {
        /// The width of the strip given.
        strip: Length,
        /// What one plate covers across the road.
        one_plate: Length,
    },
    /// The width of the strip is not known: one plate to begin with.
    StripUnknown,
    /// The end given as the one that cuts.
    AtTheCuttingEnd {
        /// That end.
        end: End,
    },
    /// Nobody said which end cuts.
    CuttingEndAssumed {
        /// The end assumed.
        end: End,
    },
    /// The row is narrowed to the path.
    NarrowedToPath {
        /// The width of the path given.
        path: Length,
        /// What the toothed part covers across it.
        working: Length,
    },
    /// The path is as wide as the whole row works, or wider.
    PathTakesFullRow {
        /// The width of the path given.
        path: Length,
    },
    /// The width of the path is not known: one plate to begin with.
    PathUnknown,
    /// In the middle, so that the board is loaded evenly.
    InTheMiddle,
    /// Nothing is to be fitted because the work is not to be done.
    NotToBeDone,
    /// It bites: one layer.
    OneLayerBites,
    /// The edge skids: less at a time.
    SkidsSoLess {
        /// What bites, given or guessed.
        bite: Length,
    },
    /// Thicker than what bites at first guess.
    ThickerThanBite {
        /// The layer given.
        layer: Length,
        /// What bites, given or guessed.
        bite: Length,
    },
    /// The depth that bites is a first guess until the operator says better.
    BiteGuessed {
        /// The guess.
        bite: Length,
    },
    /// Nothing is known of the layer; one, until the edge skids.
    LayerUnknown,
    /// This work is not taken in layers.
    NoLayers,
    /// Gravel wants oil two or three times a shift.
    GravelWantsMoreOil,
    /// At least once a day.
    OilDaily,
    /// Dust works into the sockets.
    Dusty,
    /// Moist ground raises little dust.
    Moist,
    /// Nobody knows whether it is dusty; treated as if it were.
    PerhapsDusty,
    /// The second oiling, and the same treatment for a stone base, are ours.
    SecondOilingIsOurs,
    /// Anything thicker gathers dirt in the socket and stops the tooth.
    ThickerStopsTheTooth,
    /// The gravel manuals' speed.
    GravelManualsSpeed {
        /// Their most.
        most: KilometresPerHour,
    },
    /// The distance between tracks follows from pitch and grading angle.
    PitchTimesSine {
        /// The pitch of the row.
        pitch: Length,
        /// The grading angle.
        grading: Angle,
    },
    /// As often as possible in the trade; twice per oiling interval here.
    LookTwicePerInterval,
}

impl Reason {
    /// What the reason rests on.
    ///
    /// Valid: always.
    /// Basis: this is where it is said, once for each reason. Of the full rows only the two counts are common practice.
    ///
    /// ```
    /// use evenrow_rules::{machine::FOOT, setup::Reason, source::Basis};
    /// let full_row = |teeth| Reason::FullRow { teeth, moldboard: FOOT.times(12) };
    /// assert_eq!(full_row(96).basis(), Basis::CommonPractice);
    /// assert_eq!(full_row(80).basis(), Basis::HouseDefault);
    /// ```
    pub const fn basis(&self) -> Basis {
        match self {
            Reason::SnowIsItsBestWork
            | Reason::FewTeethBiteHardEdge
            | Reason::GravelLoosensEasily
            | Reason::ManyStones
            | Reason::PlainEdgeFailsOnTightStone
            | Reason::ThinTopOverStones
            | Reason::SurfaceWarm { .. }
            | Reason::SurfaceCool { .. }
            | Reason::SurfaceUnknown
            | Reason::SurfacingSoft
            | Reason::SurfacingStiff
            | Reason::SurfacingUnknown
            | Reason::StoneBaseSuits
            | Reason::AnglesAndPressureDecide
            | Reason::PathSuits
            | Reason::SoftToBeKept { .. }
            | Reason::MostCarbideOnSurface { .. }
            | Reason::StonesWantLower { .. }
            | Reason::SkewTurnsTheTeeth { .. }
            | Reason::WideFlangeGuards
            | Reason::WideOnTightStone
            | Reason::MillingWantsPoints
            | Reason::FullRow {
                teeth: TEETH_ON_12_FEET | TEETH_ON_13_FEET,
                ..
            }
            | Reason::OnePlateOnly
            | Reason::AtTheCuttingEnd { .. }
            | Reason::NarrowedToPath { .. }
            | Reason::OneLayerBites
            | Reason::SkidsSoLess { .. }
            | Reason::NoLayers
            | Reason::GravelWantsMoreOil
            | Reason::OilDaily
            | Reason::ThickerStopsTheTooth => Basis::CommonPractice,
            Reason::TurningPicksLast => Basis::Published(Source::TurningPicks2025),
            Reason::GravelManualsSkew { .. } | Reason::GravelManualsSpeed { .. } => {
                Basis::Published(Source::GravelManuals)
            }
            Reason::PitchTimesSine { .. } => Basis::Geometry,
            Reason::SurfaceCold { .. }
            | Reason::PerhapsSoft { .. }
            | Reason::RoomUnderLimit { .. }
            | Reason::RoomEitherSide { .. }
            | Reason::NoNumberInTheTrade { .. }
            | Reason::OrderIsOurs
            | Reason::FullRow { .. }
            | Reason::StripNeedsTwo { .. }
            | Reason::StripFitsOne { .. }
            | Reason::StripUnknown
            | Reason::CuttingEndAssumed { .. }
            | Reason::PathTakesFullRow { .. }
            | Reason::PathUnknown
            | Reason::InTheMiddle
            | Reason::NotToBeDone
            | Reason::ThickerThanBite { .. }
            | Reason::BiteGuessed { .. }
            | Reason::LayerUnknown
            | Reason::Dusty
            | Reason::Moist
            | Reason::PerhapsDusty
            | Reason::SecondOilingIsOurs
            | Reason::LookTwicePerInterval => Basis::HouseDefault,
        }
    }
}

/// One line of the sheet: an answer that cannot exist without a reason.
#[derive(Clone, Debug, PartialEq)]
pub struct Line<T> {
    value: T,
    because: Vec<Reason>,
}

impl<T> Line<T> {
    fn new(value: T, reason: Reason) -> Line<T> {
        Line {
            value,
            because: alloc::vec![reason],
        }
    }

    fn and(mut self, reason: Reason) -> Line<T> {
        self.because.push(reason);
        self
    }

    /// The answer.
    ///
    /// Units: those of the answer.
    /// Valid: always.
    /// Basis: that of [`Line::because`].
    ///
    /// ```
    /// use evenrow_rules::{machine::{FOOT, Machine}, setup::advise, work::{Conditions, Work}};
    /// let machine = Machine::with_moldboard(FOOT.times(12)).unwrap();
    /// let sheet = advise(Work::PackedSnow, &Conditions::default(), &machine);
    /// assert_eq!(sheet.cutting.value().target().in_degrees(), 50.0);
    /// ```
    pub const fn value(&self) -> &T {
        &self.value
    }

    /// Why, the weightiest reason first. Never empty.
    ///
    /// Units: those of the values in the reasons.
    /// Valid: always.
    /// Basis: [`Reason::basis`] of each.
    ///
    /// ```
    /// use evenrow_rules::{machine::{FOOT, Machine}, setup::{Reason, SOFT_LIMIT, advise}, work::{Conditions, Work}};
    /// let machine = Machine::with_moldboard(FOOT.times(12)).unwrap();
    /// let sheet = advise(Work::PackedSnowOnSoft, &Conditions::default(), &machine);
    /// assert_eq!(sheet.cutting.because()[0], Reason::SoftToBeKept { limit: SOFT_LIMIT });
    /// ```
    pub fn because(&self) -> &[Reason] {
        &self.because
    }
}

/// The whole sheet for one work under today's conditions on one machine.
#[derive(Clone, Debug, PartialEq)]
pub struct Sheet {
    /// Does it suit?
    pub verdict: Line<Verdict>,
    /// Tooth kinds that suit, first choice first.
    pub teeth: Line<Vec<ToothKind>>,
    /// Which plates carry teeth, and where.
    pub plates: Line<Layout>,
    /// The cutting angle.
    pub cutting: Line<AngleBand>,
    /// The grading angle.
    pub grading: Line<AngleBand>,
    /// How far apart the tracks of the teeth lie across the road.
    pub tracks: Line<Length>,
    /// In how many layers.
    pub layers: Line<Layers>,
    /// How often to oil in a shift.
    pub oilings: Line<Oilings>,
    /// With what.
    pub oil: Line<SocketOil>,
    /// How many times per oiling interval to look whether the teeth turn.
    pub looks_per_interval: Line<u8>,
    /// How fast at most, where a source says so.
    pub speed: Option<Line<KilometresPerHour>>,
    /// What to beware of: what belongs to this work today first, then the usual.
    pub cautions: Vec<Caution>,
}

/// What the rules look at: the work, what is known, and the row that fits the machine.
struct Job<'a> {
    work: Work,
    known: &'a Conditions,
    machine: &'a Machine,
    fit: RowFit,
}

impl<'a> Job<'a> {
    fn of(work: Work, known: &'a Conditions, machine: &'a Machine) -> Job<'a> {
        Job {
            work,
            known,
            machine,
            fit: fit(machine),
        }
    }
}

/// Of the set-up sheet how often to oil in a shift, for whoever needs no more of it.
///
/// Units: oilings a shift.
/// Valid: every work, every conditions, every machine.
/// Basis: [`Reason::basis`] of each of its reasons.
///
/// ```
/// use evenrow_rules::{machine::{FOOT, Machine}, setup::{advise, oilings}, work::{Conditions, Work}};
/// let machine = Machine::with_moldboard(FOOT.times(12)).unwrap();
/// let nothing = Conditions::default();
/// assert_eq!(oilings(Work::Gravel, &nothing, &machine), advise(Work::Gravel, &nothing, &machine).oilings);
/// ```
pub fn oilings(work: Work, known: &Conditions, machine: &Machine) -> Line<Oilings> {
    oilings::decide(&Job::of(work, known, machine))
}

/// The set-up sheet. Every line holds for "I do not know" as well, on the cautious side.
///
/// Units: each number in it knows its own.
/// Valid: every work, every conditions, every machine.
/// Basis: each line carries its own.
///
/// ```
/// use evenrow_rules::{machine::{FOOT, Machine}, quantity::Temperature, setup::{Verdict, advise}, work::{Conditions, Work}};
/// let machine = Machine::with_moldboard(FOOT.times(12)).unwrap();
/// let cool = Conditions { surface: Some(Temperature::celsius(12.0).unwrap()), soft: Some(true), ..Conditions::default() };
/// let sheet = advise(Work::SoftMilling, &cool, &machine);
/// assert_eq!(*sheet.verdict.value(), Verdict::WithCare);
/// assert_eq!(sheet.plates.value().toothed(), 1);
/// ```
pub fn advise(work: Work, known: &Conditions, machine: &Machine) -> Sheet {
    let job = Job::of(work, known, machine);
    let verdict = verdict::decide(&job);
    let grading = grading::decide(&job);
    let plates = plates::decide(&job, *verdict.value(), grading.value().target());
    Sheet {
        teeth: teeth::decide(&job),
        cutting: cutting::decide(&job),
        tracks: grading::tracks(&job, grading.value().target()),
        layers: layers::decide(&job),
        oilings: oilings::decide(&job),
        oil: oilings::oil(),
        looks_per_interval: oilings::looks(),
        speed: speed::decide(&job),
        cautions: cautions::decide(&job, *verdict.value(), plates.value()),
        verdict,
        grading,
        plates,
    }
}
