//! What to beware of.
//!
//! The trade says: never cut with the edge working backwards; watch the down-pressure as carefully as the two angles;
//! small setting errors show at once; clearance as for any other edge. The usual cautions of working under a blade,
//! with fuel oil and on the road come from published rules and defer to local ones.

use alloc::vec;
use alloc::vec::Vec;

use super::{Job, Layout, Verdict};
use crate::source::{Basis, Source};
use crate::work::{Moisture, Softness, Stones, Underneath, Warmth, Work};

/// Something to beware of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Caution {
    /// Blade on stands or timbers, brake set, engine off, key out, before anyone touches teeth.
    MakeItSafeFirst,
    /// Never cut with the edge working backwards.
    NeverBackwards,
    /// Watch the down-pressure as carefully as the two angles.
    WatchDownPressure,
    /// The angles and the pressure decide whether the pavement is harmed.
    PavementCanBeHarmed,
    /// Small setting errors show at once.
    SmallErrorsShow,
    /// Measure the surface before milling: below the limit do not.
    MeasureTheSurface,
    /// Try the surfacing before milling it wider than one plate.
    TryTheSurfacing,
    /// If the edge skids instead of biting, take less at a time or fit fewer teeth.
    SkiddingMeansLess,
    /// If stones show, lower the cutting angle and go on with care.
    StonesMeanLower,
    /// Make sure that the teeth keep turning; stones break stuck ones.
    KeepThemTurning,
    /// Gravel is best worked moist.
    BestWorkedMoist,
    /// Say which end cuts: the plates belong there.
    SayWhichEndCuts,
    /// Measure the path: the row is narrowed to it.
    MeasureThePath,
    /// Ground clearance under the moldboard as for any other edge.
    ClearanceAsUsual,
    /// Let hot teeth and plates cool before oiling; no flame or sparks near fuel oil.
    CoolBeforeOiling,
    /// Catch what drips; follow local rules on spills.
    CatchDrips,
    /// Eye protection when hammering: carbide and steel chip.
    EyeProtection,
    /// Traffic protection for work on the road.
    TrafficProtection,
    /// Where the machine has no angle indicator, mark the angle on its frame.
    MarkTheFrame,
    /// The phone is for when the machine stands still.
    PhoneWhenStanding,
    /// The tool advises; the machine's manual, the road authority and local rules decide.
    OthersDecide,
}

impl Caution {
    /// What the caution rests on.
    ///
    /// Valid: always.
    /// Basis: this is where it is said, once for each caution.
    ///
    /// ```
    /// use evenrow_rules::{setup::Caution, source::{Basis, Source}};
    /// assert_eq!(Caution::EyeProtection.basis(), Basis::Published(Source::Cfr1910Part133));
    /// assert_eq!(Caution::NeverBackwards.basis(), Basis::CommonPractice);
    /// ```
    pub const fn basis(self) -> Basis {
        match self {
            Caution::MakeItSafeFirst => Basis::Published(Source::Cfr1926Part600),
            Caution::EyeProtection => Basis::Published(Source::Cfr1910Part133),
            Caution::CatchDrips => Basis::Published(Source::Cfr40Part110),
            Caution::BestWorkedMoist => Basis::Published(Source::Washboard2000),
            Caution::NeverBackwards
            | Caution::WatchDownPressure
            | Caution::PavementCanBeHarmed
            | Caution::SmallErrorsShow
            | Caution::SkiddingMeansLess
            | Caution::StonesMeanLower
            | Caution::KeepThemTurning
            | Caution::ClearanceAsUsual
            | Caution::CoolBeforeOiling
            | Caution::TrafficProtection
            | Caution::MarkTheFrame
            | Caution::PhoneWhenStanding
            | Caution::OthersDecide => Basis::CommonPractice,
            Caution::MeasureTheSurface
            | Caution::TryTheSurfacing
            | Caution::SayWhichEndCuts
            | Caution::MeasureThePath => Basis::HouseDefault,
        }
    }
}

pub(super) fn decide(job: &Job, verdict: Verdict, plates: &Layout) -> Vec<Caution> {
    let mut cautions = particular(job, plates);
    if verdict != Verdict::DoNot {
        cautions.extend([
            Caution::NeverBackwards,
            Caution::WatchDownPressure,
            Caution::SmallErrorsShow,
        ]);
    }
    cautions.extend([
        Caution::MakeItSafeFirst,
        Caution::CoolBeforeOiling,
        Caution::CatchDrips,
        Caution::EyeProtection,
        Caution::TrafficProtection,
        Caution::ClearanceAsUsual,
        Caution::MarkTheFrame,
        Caution::PhoneWhenStanding,
        Caution::OthersDecide,
    ]);
    cautions
}

/// The cautions that belong to this work under these conditions.
fn particular(job: &Job, plates: &Layout) -> Vec<Caution> {
    let known = job.known;
    let at_one_end = plates.toothed() < plates.spots.len();
    let mut cautions = match job.work {
        Work::PackedSnow | Work::PackedSnowOnSoft => match known.skids {
            Some(false) => Vec::new(),
            Some(true) | None => vec![Caution::SkiddingMeansLess],
        },
        Work::RoadEdge => unless(known.cutting_end.is_some(), Caution::SayWhichEndCuts),
        Work::Gravel => match known.stones {
            Some(Stones::Few) => Vec::new(),
            Some(Stones::Many) => vec![Caution::KeepThemTurning],
            None => vec![Caution::StonesMeanLower],
        },
        Work::TightStone | Work::StoneBase => Vec::new(),
        Work::StonyGravel => vec![Caution::KeepThemTurning],
        Work::SoftMilling if Warmth::of(known.surface) == Warmth::Cold => Vec::new(),
        Work::SoftMilling => {
            let mut cautions = unless(
                Warmth::of(known.surface) != Warmth::Unknown,
                Caution::MeasureTheSurface,
            );
            cautions.extend(unless(
                Softness::of(known.soft) != Softness::Unknown,
                Caution::TryTheSurfacing,
            ));
            cautions.extend(unless(
                known.cutting_end.is_some() || !at_one_end,
                Caution::SayWhichEndCuts,
            ));
            cautions
        }
        Work::RuttedPavement => vec![Caution::PavementCanBeHarmed],
        Work::Path => unless(known.path.is_some(), Caution::MeasureThePath),
    };
    match Underneath::of(job.work, known.soft) {
        Underneath::SoftToBeKept | Underneath::PerhapsSoft
            if !cautions.contains(&Caution::PavementCanBeHarmed) =>
        {
            cautions.push(Caution::PavementCanBeHarmed);
        }
        Underneath::SoftToBeKept | Underneath::PerhapsSoft | Underneath::NothingToSpare => {}
    }
    if job.work.is_gravel() && known.moisture != Some(Moisture::Moist) {
        cautions.push(Caution::BestWorkedMoist);
    }
    cautions
}

fn unless(known: bool, caution: Caution) -> Vec<Caution> {
    if known { Vec::new() } else { vec![caution] }
}
