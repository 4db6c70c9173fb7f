//! The set-up sheet and the checklists as answers, in the words that the app itself shows.
//!
//! The sentences come from the app's own English file, so that there is one English of every reason. Never here: what
//! the sheet says; `evenrow_rules::setup` decides that.

use std::collections::HashMap;
use std::sync::OnceLock;

use evenrow_rules::angle::{Angle, AngleBand};
use evenrow_rules::checklist::Item;
use evenrow_rules::machine::{FOOT, LONG_PLATE, SHORT_PLATE, USUAL_PITCH};
use evenrow_rules::quantity::{Length, Temperature};
use evenrow_rules::setup::{Caution, Line, Reason, Verdict, advise};
use evenrow_rules::source::{Basis, Read};
use evenrow_rules::work::{Conditions, End, Moisture, Stones, Work};
use serde_json::{Value, json};

use crate::answers::{end_word, kind_word, machine_of, mm};
use crate::asked::Setup;
use crate::trouble::{Trouble, field};

/// Every work with its word.
const WORKS: [(&str, Work); 10] = [
    ("packed_snow", Work::PackedSnow),
    ("packed_snow_on_soft", Work::PackedSnowOnSoft),
    ("road_edge", Work::RoadEdge),
    ("gravel", Work::Gravel),
    ("tight_stone", Work::TightStone),
    ("stony_gravel", Work::StonyGravel),
    ("soft_milling", Work::SoftMilling),
    ("stone_base", Work::StoneBase),
    ("rutted_pavement", Work::RuttedPavement),
    ("path", Work::Path),
];

/// The sheet.
pub(crate) fn answer(it: &Setup) -> Result<Value, Trouble> {
    let work = one_of("work", &it.work, &WORKS)?;
    let known = conditions(it)?;
    let plates: Result<Vec<Length>, Trouble> = it
        .plates_mm
        .iter()
        .flatten()
        .map(|&plate| mm("a plate of plates_mm", plate))
        .collect();
    let plates = if it.plates_mm.is_none() {
        vec![SHORT_PLATE, LONG_PLATE]
    } else {
        plates?
    };
    let board = it
        .moldboard_mm
        .map(|board| mm("moldboard_mm", board))
        .transpose()?;
    let pitch = it.pitch_mm.map(|pitch| mm("pitch_mm", pitch)).transpose()?;
    let machine = machine_of(
        board.unwrap_or(FOOT.times(12)),
        &plates,
        pitch.unwrap_or(USUAL_PITCH),
    )?;
    let sheet = advise(work, &known, &machine);
    let (layout, oilings) = (sheet.plates.value(), sheet.oilings.value());
    let verdict = match sheet.verdict.value() {
        Verdict::Suits => "suits",
        Verdict::WithCare => "with_care",
        Verdict::DoNot => "do_not",
    };
    let kinds: Vec<&str> = sheet
        .teeth
        .value()
        .iter()
        .map(|&kind| kind_word(kind))
        .collect();
    let (layers, tracks) = (sheet.layers.value(), sheet.tracks.value().in_millimetres());
    let mut lines = Vec::new();
    because(&mut lines, "verdict", &sheet.verdict);
    because(&mut lines, "tooth_kinds", &sheet.teeth);
    because(&mut lines, "plates", &sheet.plates);
    because(&mut lines, "cutting_deg", &sheet.cutting);
    because(&mut lines, "grading_deg", &sheet.grading);
    because(&mut lines, "tracks_mm", &sheet.tracks);
    because(&mut lines, "layers", &sheet.layers);
    because(&mut lines, "oilings_per_shift", &sheet.oilings);
    because(&mut lines, "oil", &sheet.oil);
    because(&mut lines, "looks_per_interval", &sheet.looks_per_interval);
    if let Some(speed) = &sheet.speed {
        because(&mut lines, "speed_at_most_kmh", speed);
    }
    Ok(json!({
        "verdict": verdict,
        "tooth_kinds": kinds,
        "toothed_plates": layout.toothed(),
        "plates": layout.spots.len(),
        "toothed_at": layout.toothed_at(),
        "teeth": layout.teeth(),
        "working_width_mm": layout.working.in_millimetres(),
        "bare_mm": layout.bare.in_millimetres(),
        "cutting_deg": band(*sheet.cutting.value()),
        "grading_deg": band(*sheet.grading.value()),
        "tracks_mm": tracks,
        "layers": layers.count,
        "layer_mm": layers.each.map(Length::in_millimetres),
        "oilings_per_shift": { "low": oilings.low, "planned": oilings.planned, "high": oilings.high },
        "oil": "fuel_oil",
        "looks_per_interval": sheet.looks_per_interval.value(),
        "speed_at_most_kmh": sheet.speed.as_ref().map(|speed| speed.value().0),
        "cautions": sheet.cautions.iter().map(|&it| beware(it)).collect::<Vec<_>>(),
        "lines": lines,
    }))
}

/// An item of a checklist, with what it rests on.
pub(crate) fn item(item: Item) -> Value {
    let key = match item {
        Item::MachineSafe => "item_machine_safe",
        Item::RowComplete => "item_row_complete",
        Item::TeethTurn => "item_teeth_turn",
        Item::PlatesTight => "item_plates_tight",
        Item::AnglesSet => "item_angles_set",
        Item::SparesAboard => "item_spares_aboard",
        Item::OilAboard => "item_oil_aboard",
        Item::TrafficReady => "item_traffic_ready",
        Item::BadTeethReplaced => "item_bad_teeth_replaced",
        Item::SocketsClean => "item_sockets_clean",
        Item::SocketsOiled => "item_sockets_oiled",
        Item::SpillsTaken => "item_spills_taken",
        Item::HandedOver => "item_handed_over",
        Item::EdgeClean => "item_edge_clean",
        Item::EdgeOiled => "item_edge_oiled",
        Item::StoredIndoors => "item_stored_indoors",
        Item::InOilBath => "item_in_oil_bath",
    };
    json!({ "what": words(key, &[]), "basis": rests_on(item.basis()) })
}

fn conditions(it: &Setup) -> Result<Conditions, Trouble> {
    let length = |name: &str, given: Option<f64>| given.map(|given| mm(name, given)).transpose();
    let surface = it
        .surface_c
        .map(|surface| field("surface_c", Temperature::celsius(surface)))
        .transpose()?;
    let stones = [("few", Stones::Few), ("many", Stones::Many)];
    let moisture = [("dusty", Moisture::Dusty), ("moist", Moisture::Moist)];
    let ends = [("left", End::Left), ("right", End::Right)];
    Ok(Conditions {
        surface,
        soft: it.soft,
        layer: length("layer_mm", it.layer_mm)?,
        skids: it.skids,
        bite: length("bite_mm", it.bite_mm)?,
        stones: perhaps("stones", it.stones.as_deref(), &stones)?,
        moisture: perhaps("moisture", it.moisture.as_deref(), &moisture)?,
        path: length("path_mm", it.path_mm)?,
        strip: length("strip_mm", it.strip_mm)?,
        cutting_end: perhaps("cutting_end", it.cutting_end.as_deref(), &ends)?,
    })
}

fn perhaps<T: Copy>(
    name: &str,
    given: Option<&str>,
    all: &[(&str, T)],
) -> Result<Option<T>, Trouble> {
    given.map(|given| one_of(name, given, all)).transpose()
}

fn one_of<T: Copy>(name: &str, given: &str, all: &[(&str, T)]) -> Result<T, Trouble> {
    let found = all.iter().find(|(word, _)| *word == given);
    found.map(|&(_, it)| it).ok_or_else(|| {
        let right: Vec<&str> = all.iter().map(|&(word, _)| word).collect();
        Trouble::of(format!(
            "{name} is \"{given}\"; it has to be one of {}.",
            right.join(", ")
        ))
    })
}

fn band(band: AngleBand) -> Value {
    json!({
        "target": band.target().in_degrees(),
        "low": band.low().in_degrees(),
        "high": band.high().in_degrees(),
    })
}

fn because<T>(lines: &mut Vec<Value>, what: &str, line: &Line<T>) {
    lines.extend(line.because().iter().map(
        |reason| json!({ "what": what, "why": why(reason), "basis": rests_on(reason.basis()) }),
    ));
}

fn rests_on(basis: Basis) -> String {
    match basis {
        Basis::CommonPractice => "common practice, no published source".to_owned(),
        Basis::Published(source) => {
            let citation = source.citation();
            let memory = match citation.read {
                Read::Seen => "",
                Read::FromMemory => ", value from memory",
            };
            format!(
                "published: {} ({}){memory}",
                citation.title, citation.published
            )
        }
        Basis::Geometry => "geometry".to_owned(),
        Basis::HouseDefault => "house default".to_owned(),
    }
}

/// A sentence of the app's English file with its gaps filled.
fn words(key: &str, fill: &[(&str, String)]) -> String {
    static ENGLISH: OnceLock<HashMap<&str, &str>> = OnceLock::new();
    let english = ENGLISH.get_or_init(|| {
        include_str!("../../../../public/words/en.txt")
            .lines()
            .filter(|line| !line.starts_with('#'))
            .filter_map(|line| line.split_once(" = "))
            .collect()
    });
    let sentence = english.get(key).copied().unwrap_or(key).to_owned();
    fill.iter().fold(sentence, |sentence, (gap, with)| {
        sentence.replace(&format!("{{{gap}}}"), with)
    })
}

fn why(reason: &Reason) -> String {
    let plain = |key| words(key, &[]);
    let angle = |angle: Angle| format!("{}°", angle.in_degrees());
    let heat = |at: Temperature| format!("{} °C", at.in_celsius());
    let length = |length: Length| format!("{:.0} mm", length.in_millimetres());
    match *reason {
        Reason::SnowIsItsBestWork => plain("why_snow_is_its_best_work"),
        Reason::FewTeethBiteHardEdge => plain("why_few_teeth_bite_hard_edge"),
        Reason::GravelLoosensEasily => plain("why_gravel_loosens_easily"),
        Reason::ManyStones => plain("why_many_stones"),
        Reason::PlainEdgeFailsOnTightStone => plain("why_plain_edge_fails_on_tight_stone"),
        Reason::ThinTopOverStones => plain("why_thin_top_over_stones"),
        Reason::SurfaceWarm { surface, limit } => words(
            "why_surface_warm",
            &[("surface", heat(surface)), ("limit", heat(limit))],
        ),
        Reason::SurfaceCool { surface, limit } => words(
            "why_surface_cool",
            &[("surface", heat(surface)), ("limit", heat(limit))],
        ),
        Reason::SurfaceCold { surface, limit } => words(
            "why_surface_cold",
            &[("surface", heat(surface)), ("limit", heat(limit))],
        ),
        Reason::SurfaceUnknown => plain("why_surface_unknown"),
        Reason::SurfacingSoft => plain("why_surfacing_soft"),
        Reason::SurfacingStiff => plain("why_surfacing_stiff"),
        Reason::SurfacingUnknown => plain("why_surfacing_unknown"),
        Reason::StoneBaseSuits => plain("why_stone_base_suits"),
        Reason::AnglesAndPressureDecide => plain("why_angles_and_pressure_decide"),
        Reason::PathSuits => plain("why_path_suits"),
        Reason::SoftToBeKept { limit } => words("why_soft_to_be_kept", &[("limit", angle(limit))]),
        Reason::PerhapsSoft { limit } => words("why_perhaps_soft", &[("limit", angle(limit))]),
        Reason::RoomUnderLimit { target } => {
            words("why_room_under_limit", &[("target", angle(target))])
        }
        Reason::MostCarbideOnSurface { usual } => {
            words("why_most_carbide_on_surface", &[("usual", angle(usual))])
        }
        Reason::RoomEitherSide { low, high } => words(
            "why_room_either_side",
            &[("low", angle(low)), ("high", angle(high))],
        ),
        Reason::StonesWantLower { usual } => {
            words("why_stones_want_lower", &[("usual", angle(usual))])
        }
        Reason::NoNumberInTheTrade { target } => {
            words("why_no_number_in_the_trade", &[("target", angle(target))])
        }
        Reason::SkewTurnsTheTeeth { limit } => {
            words("why_skew_turns_the_teeth", &[("limit", angle(limit))])
        }
        Reason::TurningPicksLast => plain("why_turning_picks_last"),
        Reason::GravelManualsSkew { low, high } => words(
            "why_gravel_manuals_skew",
            &[("low", angle(low)), ("high", angle(high))],
        ),
        Reason::WideFlangeGuards => plain("why_wide_flange_guards"),
        Reason::WideOnTightStone => plain("why_wide_on_tight_stone"),
        Reason::MillingWantsPoints => plain("why_milling_wants_points"),
        Reason::OrderIsOurs => plain("why_order_is_ours"),
        Reason::FullRow { teeth, moldboard } => words(
            "why_full_row",
            &[
                ("teeth", teeth.to_string()),
                ("moldboard", length(moldboard)),
            ],
        ),
        Reason::OnePlateOnly => plain("why_one_plate_only"),
        Reason::StripNeedsTwo { strip, one_plate } => words(
            "why_strip_needs_two",
            &[("strip", length(strip)), ("one_plate", length(one_plate))],
        ),
        Reason::StripFitsOne { strip, one_plate } => words(
            "why_strip_fits_one",
            &[("strip", length(strip)), ("one_plate", length(one_plate))],
        ),
        Reason::StripUnknown => plain("why_strip_unknown"),
        Reason::AtTheCuttingEnd { end } => words(
            "why_at_the_cutting_end",
            &[("end", end_word(end).to_owned())],
        ),
        Reason::CuttingEndAssumed { end } => words(
            "why_cutting_end_assumed",
            &[("end", end_word(end).to_owned())],
        ),
        Reason::NarrowedToPath { path, working } => words(
            "why_narrowed_to_path",
            &[("path", length(path)), ("working", length(working))],
        ),
        Reason::PathTakesFullRow { path } => {
            words("why_path_takes_full_row", &[("path", length(path))])
        }
        Reason::PathUnknown => plain("why_path_unknown"),
        Reason::InTheMiddle => plain("why_in_the_middle"),
        Reason::NotToBeDone => plain("why_not_to_be_done"),
        Reason::OneLayerBites => plain("why_one_layer_bites"),
        Reason::SkidsSoLess { bite } => words("why_skids_so_less", &[("bite", length(bite))]),
        Reason::ThickerThanBite { layer, bite } => words(
            "why_thicker_than_bite",
            &[("layer", length(layer)), ("bite", length(bite))],
        ),
        Reason::BiteGuessed { bite } => words("why_bite_guessed", &[("bite", length(bite))]),
        Reason::LayerUnknown => plain("why_layer_unknown"),
        Reason::NoLayers => plain("why_no_layers"),
        Reason::GravelWantsMoreOil => plain("why_gravel_wants_more_oil"),
        Reason::OilDaily => plain("why_oil_daily"),
        Reason::Dusty => plain("why_dusty"),
        Reason::Moist => plain("why_moist"),
        Reason::PerhapsDusty => plain("why_perhaps_dusty"),
        Reason::SecondOilingIsOurs => plain("why_second_oiling_is_ours"),
        Reason::ThickerStopsTheTooth => plain("why_thicker_stops_the_tooth"),
        Reason::GravelManualsSpeed { most } => words(
            "why_gravel_manuals_speed",
            &[("most", format!("{} km/h", most.0))],
        ),
        Reason::PitchTimesSine { pitch, grading } => words(
            "why_pitch_times_sine",
            &[
                ("pitch", format!("{} mm", pitch.in_millimetres())),
                ("grading", angle(grading)),
            ],
        ),
        Reason::LookTwicePerInterval => plain("why_look_twice_per_interval"),
    }
}

fn beware(caution: Caution) -> String {
    let key = match caution {
        Caution::MakeItSafeFirst => "beware_make_it_safe_first",
        Caution::NeverBackwards => "beware_never_backwards",
        Caution::WatchDownPressure => "beware_watch_down_pressure",
        Caution::PavementCanBeHarmed => "beware_pavement_can_be_harmed",
        Caution::SmallErrorsShow => "beware_small_errors_show",
        Caution::MeasureTheSurface => "beware_measure_the_surface",
        Caution::TryTheSurfacing => "beware_try_the_surfacing",
        Caution::SkiddingMeansLess => "beware_skidding_means_less",
        Caution::StonesMeanLower => "beware_stones_mean_lower",
        Caution::KeepThemTurning => "beware_keep_them_turning",
        Caution::BestWorkedMoist => "beware_best_worked_moist",
        Caution::SayWhichEndCuts => "beware_say_which_end_cuts",
        Caution::MeasureThePath => "beware_measure_the_path",
        Caution::ClearanceAsUsual => "beware_clearance_as_usual",
        Caution::CoolBeforeOiling => "beware_cool_before_oiling",
        Caution::CatchDrips => "beware_catch_drips",
        Caution::EyeProtection => "beware_eye_protection",
        Caution::TrafficProtection => "beware_traffic_protection",
        Caution::MarkTheFrame => "beware_mark_the_frame",
        Caution::PhoneWhenStanding => "beware_phone",
        Caution::OthersDecide => "beware_others_decide",
    };
    words(key, &[])
}
