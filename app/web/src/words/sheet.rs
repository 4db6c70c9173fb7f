//! The set-up sheet in words: works, questions, answers, reasons, cautions and what they rest on.

use evenrow_rules::checklist::{Item, List};
use evenrow_rules::setup::{Caution, Layers, Layout, Oilings, Reason, ToothKind, Verdict};
use evenrow_rules::source::{Basis, Read};
use evenrow_rules::work::{End, Question, Work};

use super::Words;
use crate::listing::{Class, Entry, Listing};
use crate::units::Units;

impl Words {
    /// The name of a work.
    pub fn work(&self, work: Work) -> String {
        match work {
            Work::PackedSnow => self.work_packed_snow(),
            Work::PackedSnowOnSoft => self.work_packed_snow_on_soft(),
            Work::RoadEdge => self.work_road_edge(),
            Work::Gravel => self.work_gravel(),
            Work::TightStone => self.work_tight_stone(),
            Work::StonyGravel => self.work_stony_gravel(),
            Work::SoftMilling => self.work_soft_milling(),
            Work::StoneBase => self.work_stone_base(),
            Work::RuttedPavement => self.work_rutted_pavement(),
            Work::Path => self.work_path(),
        }
    }

    /// What to ask.
    pub fn question(&self, question: Question) -> String {
        match question {
            Question::Surface => self.ask_surface(),
            Question::Soft => self.ask_soft(),
            Question::Layer => self.ask_layer(),
            Question::Skids => self.ask_skids(),
            Question::Bite => self.ask_bite(),
            Question::Stones => self.ask_stones(),
            Question::Moisture => self.ask_moisture(),
            Question::Path => self.ask_path(),
            Question::Strip => self.ask_strip(),
            Question::CuttingEnd => self.ask_cutting_end(),
        }
    }

    /// Whether it suits.
    pub fn verdict(&self, verdict: Verdict) -> String {
        match verdict {
            Verdict::Suits => self.verdict_suits(),
            Verdict::WithCare => self.verdict_with_care(),
            Verdict::DoNot => self.verdict_do_not(),
        }
    }

    /// A tooth kind.
    pub fn tooth_kind(&self, kind: ToothKind) -> String {
        match kind {
            ToothKind::NarrowPointed => self.tooth_narrow_pointed(),
            ToothKind::WidePointed => self.tooth_wide_pointed(),
            ToothKind::WideBlunt => self.tooth_wide_blunt(),
        }
    }

    /// Tooth kinds, first choice first.
    pub fn tooth_kinds(&self, kinds: &[ToothKind]) -> String {
        let named = kinds.iter().map(|&kind| self.tooth_kind(kind));
        named
            .reduce(|first, second| self.or_else(&first, &second))
            .unwrap_or_default()
    }

    /// An end of the board.
    pub fn end(&self, end: End) -> String {
        match end {
            End::Left => self.end_left(),
            End::Right => self.end_right(),
        }
    }

    /// Which plates carry teeth: "4 of 4, 96 teeth", "plate 4 of 4, 24 teeth".
    pub fn plates(&self, layout: &Layout) -> String {
        let numbers: Vec<u8> = layout
            .toothed_at()
            .iter()
            .map(|&at| u8::try_from(at).unwrap_or(u8::MAX))
            .collect();
        self.plate_numbers(&numbers, layout.spots.len(), layout.teeth())
    }

    /// The same from what a record kept.
    pub fn plate_numbers(&self, toothed: &[u8], all: usize, teeth: u32) -> String {
        let (all_text, teeth_text) = (all.to_string(), teeth.to_string());
        let numbers: Vec<String> = toothed.iter().map(u8::to_string).collect();
        if toothed.is_empty() {
            self.plates_none()
        } else if toothed.len() == all {
            self.plates_all(&all_text, &teeth_text)
        } else if let [one] = numbers.as_slice() {
            self.plates_one(one, &all_text, &teeth_text)
        } else {
            self.plates_some(&numbers.join(", "), &all_text, &teeth_text)
        }
    }

    /// In how many layers.
    pub fn layers(&self, layers: Layers, units: Units) -> String {
        match (layers.count, layers.each) {
            (1, _) => self.layers_one(),
            (count, None) => self.layers_some(&count.to_string()),
            (count, Some(each)) => {
                self.layers_each(&count.to_string(), &self.thickness(each, units))
            }
        }
    }

    /// How often to oil.
    pub fn oilings(&self, oilings: Oilings) -> String {
        if oilings.planned == 1 {
            self.oilings_one()
        } else {
            self.oilings_some(&oilings.planned.to_string())
        }
    }

    /// Why, with the values that decided it.
    pub fn reason(&self, reason: &Reason, units: Units) -> String {
        match *reason {
            Reason::SnowIsItsBestWork => self.why_snow_is_its_best_work(),
            Reason::FewTeethBiteHardEdge => self.why_few_teeth_bite_hard_edge(),
            Reason::GravelLoosensEasily => self.why_gravel_loosens_easily(),
            Reason::ManyStones => self.why_many_stones(),
            Reason::PlainEdgeFailsOnTightStone => self.why_plain_edge_fails_on_tight_stone(),
            Reason::ThinTopOverStones => self.why_thin_top_over_stones(),
            Reason::SurfaceWarm { surface, limit } => self.why_surface_warm(
                &self.temperature(surface, units),
                &self.temperature(limit, units),
            ),
            Reason::SurfaceCool { surface, limit } => self.why_surface_cool(
                &self.temperature(surface, units),
                &self.temperature(limit, units),
            ),
            Reason::SurfaceCold { surface, limit } => self.why_surface_cold(
                &self.temperature(surface, units),
                &self.temperature(limit, units),
            ),
            Reason::SurfaceUnknown => self.why_surface_unknown(),
            Reason::SurfacingSoft => self.why_surfacing_soft(),
            Reason::SurfacingStiff => self.why_surfacing_stiff(),
            Reason::SurfacingUnknown => self.why_surfacing_unknown(),
            Reason::StoneBaseSuits => self.why_stone_base_suits(),
            Reason::AnglesAndPressureDecide => self.why_angles_and_pressure_decide(),
            Reason::PathSuits => self.why_path_suits(),
            Reason::SoftToBeKept { limit } => self.why_soft_to_be_kept(&self.angle(limit)),
            Reason::PerhapsSoft { limit } => self.why_perhaps_soft(&self.angle(limit)),
            Reason::RoomUnderLimit { target } => self.why_room_under_limit(&self.angle(target)),
            Reason::MostCarbideOnSurface { usual } => {
                self.why_most_carbide_on_surface(&self.angle(usual))
            }
            Reason::RoomEitherSide { low, high } => {
                self.why_room_either_side(&self.angle(low), &self.angle(high))
            }
            Reason::StonesWantLower { usual } => self.why_stones_want_lower(&self.angle(usual)),
            Reason::NoNumberInTheTrade { target } => {
                self.why_no_number_in_the_trade(&self.angle(target))
            }
            Reason::SkewTurnsTheTeeth { limit } => {
                self.why_skew_turns_the_teeth(&self.angle(limit))
            }
            Reason::TurningPicksLast => self.why_turning_picks_last(),
            Reason::GravelManualsSkew { low, high } => {
                self.why_gravel_manuals_skew(&self.angle(low), &self.angle(high))
            }
            Reason::WideFlangeGuards => self.why_wide_flange_guards(),
            Reason::WideOnTightStone => self.why_wide_on_tight_stone(),
            Reason::MillingWantsPoints => self.why_milling_wants_points(),
            Reason::OrderIsOurs => self.why_order_is_ours(),
            Reason::FullRow { teeth, moldboard } => {
                self.why_full_row(&teeth.to_string(), &self.width(moldboard, units))
            }
            Reason::OnePlateOnly => self.why_one_plate_only(),
            Reason::StripNeedsTwo { strip, one_plate } => {
                self.why_strip_needs_two(&self.width(strip, units), &self.width(one_plate, units))
            }
            Reason::StripFitsOne { strip, one_plate } => {
                self.why_strip_fits_one(&self.width(strip, units), &self.width(one_plate, units))
            }
            Reason::StripUnknown => self.why_strip_unknown(),
            Reason::AtTheCuttingEnd { end } => self.why_at_the_cutting_end(&self.end(end)),
            Reason::CuttingEndAssumed { end } => self.why_cutting_end_assumed(&self.end(end)),
            Reason::NarrowedToPath { path, working } => {
                self.why_narrowed_to_path(&self.width(path, units), &self.width(working, units))
            }
            Reason::PathTakesFullRow { path } => {
                self.why_path_takes_full_row(&self.width(path, units))
            }
            Reason::PathUnknown => self.why_path_unknown(),
            Reason::InTheMiddle => self.why_in_the_middle(),
            Reason::NotToBeDone => self.why_not_to_be_done(),
            Reason::OneLayerBites => self.why_one_layer_bites(),
            Reason::SkidsSoLess { bite } => self.why_skids_so_less(&self.thickness(bite, units)),
            Reason::ThickerThanBite { layer, bite } => self
                .why_thicker_than_bite(&self.thickness(layer, units), &self.thickness(bite, units)),
            Reason::BiteGuessed { bite } => self.why_bite_guessed(&self.thickness(bite, units)),
            Reason::LayerUnknown => self.why_layer_unknown(),
            Reason::NoLayers => self.why_no_layers(),
            Reason::GravelWantsMoreOil => self.why_gravel_wants_more_oil(),
            Reason::OilDaily => self.why_oil_daily(),
            Reason::Dusty => self.why_dusty(),
            Reason::Moist => self.why_moist(),
            Reason::PerhapsDusty => self.why_perhaps_dusty(),
            Reason::SecondOilingIsOurs => self.why_second_oiling_is_ours(),
            Reason::ThickerStopsTheTooth => self.why_thicker_stops_the_tooth(),
            Reason::GravelManualsSpeed { most } => {
                self.why_gravel_manuals_speed(&self.speed(most, units))
            }
            Reason::PitchTimesSine { pitch, grading } => {
                self.why_pitch_times_sine(&self.exact(pitch, units), &self.angle(grading))
            }
            Reason::LookTwicePerInterval => self.why_look_twice_per_interval(),
        }
    }

    /// What to beware of.
    pub fn caution(&self, caution: Caution) -> String {
        match caution {
            Caution::MakeItSafeFirst => self.beware_make_it_safe_first(),
            Caution::NeverBackwards => self.beware_never_backwards(),
            Caution::WatchDownPressure => self.beware_watch_down_pressure(),
            Caution::PavementCanBeHarmed => self.beware_pavement_can_be_harmed(),
            Caution::SmallErrorsShow => self.beware_small_errors_show(),
            Caution::MeasureTheSurface => self.beware_measure_the_surface(),
            Caution::TryTheSurfacing => self.beware_try_the_surfacing(),
            Caution::SkiddingMeansLess => self.beware_skidding_means_less(),
            Caution::StonesMeanLower => self.beware_stones_mean_lower(),
            Caution::KeepThemTurning => self.beware_keep_them_turning(),
            Caution::BestWorkedMoist => self.beware_best_worked_moist(),
            Caution::SayWhichEndCuts => self.beware_say_which_end_cuts(),
            Caution::MeasureThePath => self.beware_measure_the_path(),
            Caution::ClearanceAsUsual => self.beware_clearance_as_usual(),
            Caution::CoolBeforeOiling => self.beware_cool_before_oiling(),
            Caution::CatchDrips => self.beware_catch_drips(),
            Caution::EyeProtection => self.beware_eye_protection(),
            Caution::TrafficProtection => self.beware_traffic_protection(),
            Caution::MarkTheFrame => self.beware_mark_the_frame(),
            Caution::PhoneWhenStanding => self.beware_phone(),
            Caution::OthersDecide => self.beware_others_decide(),
        }
    }

    /// What something rests on.
    pub fn basis(&self, basis: Basis) -> String {
        match basis {
            Basis::CommonPractice => self.basis_common_practice(),
            Basis::Published(source) => {
                let citation = source.citation();
                let seen = citation.read == Read::Seen;
                self.published(citation.title, citation.published, seen)
            }
            Basis::Geometry => self.basis_geometry(),
            Basis::HouseDefault => self.basis_house_default(),
        }
    }

    /// The four classes with what each means.
    pub fn bases(&self) -> [(String, String); 4] {
        [
            (self.basis_common_practice(), self.bases_common_practice()),
            (self.bases_published_name(), self.bases_published()),
            (self.basis_geometry(), self.bases_geometry()),
            (self.basis_house_default(), self.bases_house_default()),
        ]
    }

    fn published(&self, title: &str, published: &str, seen: bool) -> String {
        if seen {
            self.basis_published(title, published)
        } else {
            self.basis_published_from_memory(title, published)
        }
    }

    /// What an entry of the list of numbers rests on.
    pub fn stated_basis(&self, listing: &Listing, entry: &Entry) -> String {
        let basis = match entry.class {
            Class::CommonPractice => self.basis_common_practice(),
            Class::Published => {
                let sources = listing.sources_of(entry);
                let sources = sources.map(|it| self.published(it.title, it.published, it.seen));
                sources.collect::<Vec<_>>().join("; ")
            }
            Class::Geometry => self.basis_geometry(),
            Class::HouseDefault => self.basis_house_default(),
        };
        if entry.note.is_empty() {
            basis
        } else {
            self.basis_noted(&basis, entry.note)
        }
    }

    /// The name of a checklist.
    pub fn list(&self, list: List) -> String {
        match list {
            List::Opening => self.list_opening(),
            List::Closing => self.list_closing(),
            List::LayingUp => self.list_laying_up(),
        }
    }

    /// Something to see to.
    pub fn item(&self, item: Item) -> String {
        match item {
            Item::MachineSafe => self.item_machine_safe(),
            Item::RowComplete => self.item_row_complete(),
            Item::TeethTurn => self.item_teeth_turn(),
            Item::PlatesTight => self.item_plates_tight(),
            Item::AnglesSet => self.item_angles_set(),
            Item::SparesAboard => self.item_spares_aboard(),
            Item::OilAboard => self.item_oil_aboard(),
            Item::TrafficReady => self.item_traffic_ready(),
            Item::BadTeethReplaced => self.item_bad_teeth_replaced(),
            Item::SocketsClean => self.item_sockets_clean(),
            Item::SocketsOiled => self.item_sockets_oiled(),
            Item::SpillsTaken => self.item_spills_taken(),
            Item::HandedOver => self.item_handed_over(),
            Item::EdgeClean => self.item_edge_clean(),
            Item::EdgeOiled => self.item_edge_oiled(),
            Item::StoredIndoors => self.item_stored_indoors(),
            Item::InOilBath => self.item_in_oil_bath(),
        }
    }
}
