//! The requests as they are written, and the reading of one line.
//!
//! Never here: what a number may be; the types of `evenrow_rules` know that.
#![expect(
    clippy::struct_field_names,
    reason = "a field of a request carries its unit in its name"
)]

use serde::Deserialize;

use crate::help;
use crate::trouble::Trouble;

/// Everything that can be asked. `help` says what each field means.
#[derive(Debug, Deserialize)]
#[serde(tag = "ask", rename_all = "snake_case")]
pub(crate) enum Asked {
    RowFit(RowFit),
    TeethForWidth(TeethForWidth),
    EffectiveWidth(EffectiveWidth),
    RiseAndRun(RiseAndRun),
    GradingFromOffset(GradingFromOffset),
    FrameMarks(FrameMarks),
    Tilt(Tilt),
    Crossfall(Crossfall),
    Finish(Finish),
    Load(Load),
    WorkTime(WorkTime),
    AreaRate(AreaRate),
    Passes(Passes),
    FinishTime(FinishTime),
    OilPlan(OilPlan),
    FitLine(FitLine),
    Wear(Wear),
    Evenness(Evenness),
    MatchSpares(MatchSpares),
    SparesToCarry(SparesToCarry),
    Reorder(Reorder),
    Cost(Cost),
    Season(Season),
    Setup(Setup),
    Checklist(Checklist),
    FuelGrade(FuelGrade),
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct RowFit {
    pub(crate) moldboard_mm: f64,
    pub(crate) plates_mm: Vec<f64>,
    pub(crate) pitch_mm: f64,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct TeethForWidth {
    pub(crate) width_mm: f64,
    pub(crate) pitch_mm: f64,
    pub(crate) grading_deg: f64,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct EffectiveWidth {
    pub(crate) length_mm: f64,
    pub(crate) grading_deg: f64,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct RiseAndRun {
    pub(crate) rise_mm: f64,
    pub(crate) run_mm: f64,
    pub(crate) grading_deg: Option<f64>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct GradingFromOffset {
    pub(crate) length_mm: f64,
    pub(crate) offset_mm: f64,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct FrameMarks {
    pub(crate) radius_mm: f64,
    pub(crate) from_deg: f64,
    pub(crate) to_deg: f64,
    pub(crate) step_deg: f64,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Tilt {
    pub(crate) road: Vec<[f64; 3]>,
    pub(crate) blade: Vec<[f64; 3]>,
    pub(crate) tooth_deg: Option<f64>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Crossfall {
    pub(crate) one: Vec<[f64; 3]>,
    pub(crate) turned: Vec<[f64; 3]>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Finish {
    pub(crate) pitch_mm: f64,
    pub(crate) grading_deg: f64,
    pub(crate) tip_radius_mm: Option<f64>,
    pub(crate) tip_cone_deg: Option<f64>,
    pub(crate) tip_flat_mm: Option<f64>,
    pub(crate) worn_mm: Option<f64>,
    pub(crate) passes: Option<u8>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Load {
    pub(crate) front_axle_kg: Option<f64>,
    pub(crate) wheelbase_mm: Option<f64>,
    pub(crate) edge_to_rear_mm: Option<f64>,
    pub(crate) down_force_kn: Option<f64>,
    pub(crate) teeth: u32,
    pub(crate) full_row: u32,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Leg {
    pub(crate) passes: u16,
    pub(crate) distance_km: f64,
    pub(crate) speed_kmh: f64,
    pub(crate) edge_up: Option<bool>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct WorkTime {
    pub(crate) legs: Vec<Leg>,
    pub(crate) efficiency: f64,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct AreaRate {
    pub(crate) speed_kmh: f64,
    pub(crate) effective_m: f64,
    pub(crate) overlap_m: f64,
    pub(crate) efficiency: f64,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Passes {
    pub(crate) road_width_m: f64,
    pub(crate) effective_m: f64,
    pub(crate) overlap_m: f64,
    pub(crate) layers: Option<u16>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct FinishTime {
    pub(crate) start: String,
    pub(crate) hours: f64,
    pub(crate) stops: Option<u16>,
    pub(crate) stop_min: Option<u32>,
    pub(crate) breaks: Option<Vec<[String; 2]>>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Look {
    pub(crate) at: String,
    pub(crate) all_turned: bool,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct OilPlan {
    pub(crate) start: String,
    pub(crate) end: String,
    pub(crate) breaks: Option<Vec<[String; 2]>>,
    pub(crate) per_shift: u8,
    pub(crate) taken: Option<Vec<[String; 2]>>,
    pub(crate) looks: Option<Vec<Look>>,
    pub(crate) oiled: Option<Vec<String>>,
    pub(crate) now: Option<String>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct FitLine {
    pub(crate) x: Vec<f64>,
    pub(crate) y: Vec<f64>,
    pub(crate) at: Option<Vec<f64>>,
    pub(crate) level: Option<f64>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Reading {
    pub(crate) hours: f64,
    pub(crate) mm: f64,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Wear {
    pub(crate) new_mm: f64,
    pub(crate) end_mm: f64,
    pub(crate) readings: Vec<Reading>,
    pub(crate) hours_per_day: Option<f64>,
    pub(crate) today: Option<String>,
    pub(crate) level: Option<f64>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Tooth {
    pub(crate) pos: u16,
    pub(crate) mm: f64,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Evenness {
    pub(crate) row: Vec<Tooth>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Bad {
    pub(crate) pos: u16,
    pub(crate) kind: String,
    pub(crate) mm: f64,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Spare {
    pub(crate) id: String,
    pub(crate) kind: String,
    pub(crate) mm: f64,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct MatchSpares {
    pub(crate) bad: Vec<Bad>,
    pub(crate) spares: Vec<Spare>,
    pub(crate) within_mm: Option<f64>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct SparesToCarry {
    pub(crate) broken: u32,
    pub(crate) hours: f64,
    pub(crate) ahead_hours: f64,
    pub(crate) confidence: Option<f64>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Reorder {
    pub(crate) broken: u32,
    pub(crate) hours: f64,
    pub(crate) on_hand: u32,
    pub(crate) lead_hours: f64,
    pub(crate) confidence: Option<f64>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Cost {
    pub(crate) teeth: Option<u32>,
    pub(crate) plates: Option<u32>,
    pub(crate) oil_l: Option<f64>,
    pub(crate) tooth_price: Option<f64>,
    pub(crate) plate_price: Option<f64>,
    pub(crate) litre_price: Option<f64>,
    pub(crate) blade_hours: Option<f64>,
    pub(crate) worked_km: Option<f64>,
    pub(crate) area_m2: Option<f64>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct SeasonRoad {
    pub(crate) length_km: f64,
    pub(crate) visits: u16,
    pub(crate) hours_per_visit: f64,
    pub(crate) wear_mm_per_hour: f64,
    pub(crate) wear_sd: f64,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Season {
    pub(crate) roads: Vec<SeasonRoad>,
    pub(crate) tip_mm: f64,
    pub(crate) left_mm: Option<f64>,
    pub(crate) teeth_per_set: u32,
    pub(crate) confidence: Option<f64>,
    pub(crate) hours_available: Option<f64>,
    pub(crate) first_use: Option<String>,
    pub(crate) lead_days: Option<u32>,
    pub(crate) today: Option<String>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Setup {
    pub(crate) work: String,
    pub(crate) moldboard_mm: Option<f64>,
    pub(crate) plates_mm: Option<Vec<f64>>,
    pub(crate) pitch_mm: Option<f64>,
    pub(crate) surface_c: Option<f64>,
    pub(crate) soft: Option<bool>,
    pub(crate) layer_mm: Option<f64>,
    pub(crate) skids: Option<bool>,
    pub(crate) bite_mm: Option<f64>,
    pub(crate) stones: Option<String>,
    pub(crate) moisture: Option<String>,
    pub(crate) path_mm: Option<f64>,
    pub(crate) strip_mm: Option<f64>,
    pub(crate) cutting_end: Option<String>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Checklist {
    pub(crate) list: String,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct FuelGrade {
    pub(crate) lowest_c: f64,
}

/// Reads a line, or says what is wrong with it and shows a right one.
pub(crate) fn read(line: &[u8]) -> Result<Asked, Trouble> {
    if line.trim_ascii().is_empty() {
        return Err(Trouble::of(format!(
            "the line is empty; write one request, such as {}",
            help::REQUESTS[0].example
        )));
    }
    serde_json::from_slice(line).map_err(|error| {
        let right = help::REQUESTS
            .iter()
            .find(|known| named(line, known.ask))
            .unwrap_or(&help::REQUESTS[0])
            .example;
        Trouble::of(format!("{error}; right would be, for one, {right}"))
    })
}

/// Whether a line that could not be read still says what it asks.
fn named(line: &[u8], ask: &str) -> bool {
    #[derive(Deserialize)]
    struct Only<'a> {
        ask: &'a str,
    }
    serde_json::from_slice::<Only>(line).is_ok_and(|only| only.ask == ask)
}
