//! From a request to the rules and back: units on, units off, refusals into sentences.
//!
//! Never here: a computation of the trade; what is worked out here at most is a sum or a list.

use core::num::{NonZeroU8, NonZeroU16, NonZeroU32};
use core::time::Duration;

use evenrow_rules::angle::Angle;
use evenrow_rules::checklist::List;
use evenrow_rules::cold::{self, FuelClass};
use evenrow_rules::cost::{self, Litres, Money};
use evenrow_rules::crossfall::{self, NoCrossfall};
use evenrow_rules::finish::{self, Left, Tip};
use evenrow_rules::line;
use evenrow_rules::load;
use evenrow_rules::machine::{self, Machine};
use evenrow_rules::marks;
use evenrow_rules::oiling::{self, ShiftFacts, Status, Stretch, Timing};
use evenrow_rules::plan::{self, Edge, NoPasses, OIL_STOP, Stops};
use evenrow_rules::quantity::{
    Area, Confidence, Distance, Efficiency, Force, Hours, Instant, Length, Mass, Span, Speed,
    Temperature,
};
use evenrow_rules::season::{self, OrderBy, Pace, Road, Room, WearRate};
use evenrow_rules::setup::ToothKind;
use evenrow_rules::spares::{self, PRIOR, Record, SAME_WEAR};
use evenrow_rules::statistics::Point;
use evenrow_rules::tilt::{self, Gravity, NoAngle, Place};
use evenrow_rules::wear::{self, Agreement, DaySide, HoursPerDay, Life, Pattern, Side, Tips};
use evenrow_rules::work::End;
use serde_json::{Value, json};

use crate::asked::{self, Asked};
use crate::sheet;
use crate::trouble::{Trouble, at_least_one, field};
use crate::when::{self, Moment};

/// What is asked for where the request leaves it out.
const USUAL_CONFIDENCE: f64 = 0.95;

type Answer = Result<Value, Trouble>;

/// Asks the rules.
pub(crate) fn answer(asked: &Asked) -> Answer {
    match asked {
        Asked::RowFit(it) => row_fit(it),
        Asked::TeethForWidth(it) => teeth_for_width(it),
        Asked::EffectiveWidth(it) => effective_width(it),
        Asked::RiseAndRun(it) => rise_and_run(it),
        Asked::GradingFromOffset(it) => grading_from_offset(it),
        Asked::FrameMarks(it) => frame_marks(it),
        Asked::Tilt(it) => tilt(it),
        Asked::Crossfall(it) => crossfall(it),
        Asked::Finish(it) => finish(it),
        Asked::Load(it) => load(it),
        Asked::WorkTime(it) => work_time(it),
        Asked::AreaRate(it) => area_rate(it),
        Asked::Passes(it) => passes(it),
        Asked::FinishTime(it) => finish_time(it),
        Asked::OilPlan(it) => oil_plan(it),
        Asked::FitLine(it) => fit_line(it),
        Asked::Wear(it) => wear(it),
        Asked::Evenness(it) => evenness(it),
        Asked::MatchSpares(it) => match_spares(it),
        Asked::SparesToCarry(it) => spares_to_carry(it),
        Asked::Reorder(it) => reorder(it),
        Asked::Cost(it) => cost(it),
        Asked::Season(it) => season(it),
        Asked::Setup(it) => sheet::answer(it),
        Asked::Checklist(it) => checklist(it),
        Asked::FuelGrade(it) => fuel_grade(it),
    }
}

/// A length in millimetres.
pub(crate) fn mm(name: &str, given: f64) -> Result<Length, Trouble> {
    field(name, Length::millimetres(given))
}

/// A length in metres; the sentence about a wrong one speaks of metres too.
fn metres(name: &str, given: f64) -> Result<Length, Trouble> {
    let made = Length::millimetres(given * 1000.0).map_err(|mut out| {
        (out.got, out.min, out.max) = (given, out.min / 1000.0, out.max / 1000.0);
        out
    });
    field(name, made)
}

fn degrees(name: &str, given: f64) -> Result<Angle, Trouble> {
    field(name, Angle::degrees(given))
}

/// A grading angle as geometry has it: from in line with the travel to square across.
fn grading(given: f64) -> Result<Angle, Trouble> {
    let angle = degrees("grading_deg", given)?;
    if angle < Angle::whole_degrees(0) || Angle::whole_degrees(90) < angle {
        return Err(Trouble::of(format!(
            "grading_deg is {given}; it has to lie between 0 (in line with the travel) and 90 (square across)."
        )));
    }
    Ok(angle)
}

fn hours(name: &str, given: f64) -> Result<Hours, Trouble> {
    field(name, Hours::new(given))
}

fn confidence(name: &str, given: Option<f64>) -> Result<Confidence, Trouble> {
    field(name, Confidence::share(given.unwrap_or(USUAL_CONFIDENCE)))
}

/// A machine from its board, one or two plate lengths and its pitch.
pub(crate) fn machine_of(
    board: Length,
    plates: &[Length],
    pitch: Length,
) -> Result<Machine, Trouble> {
    let plates = match plates {
        [one] => (*one, *one),
        [one, other] => (*one, *other),
        [..] => {
            return Err(Trouble::of(format!(
                "plates_mm lists {} lengths; list one or two.",
                plates.len()
            )));
        }
    };
    Machine::new(board, plates, pitch).map_err(|out| {
        let which = match out.what {
            evenrow_rules::quantity::What::Moldboard => "moldboard_mm",
            evenrow_rules::quantity::What::Pitch => "pitch_mm",
            evenrow_rules::quantity::What::Plate
            | evenrow_rules::quantity::What::Length
            | evenrow_rules::quantity::What::Temperature
            | evenrow_rules::quantity::What::Angle
            | evenrow_rules::quantity::What::PlateToTooth => "a plate of plates_mm",
        };
        Trouble::of(format!(
            "{which} is {}; it has to lie between {} and {}.",
            out.got, out.min, out.max
        ))
    })
}

fn row_fit(it: &asked::RowFit) -> Answer {
    let plates: Result<Vec<Length>, Trouble> = it
        .plates_mm
        .iter()
        .map(|&plate| mm("a plate of plates_mm", plate))
        .collect();
    let machine = machine_of(
        mm("moldboard_mm", it.moldboard_mm)?,
        &plates?,
        mm("pitch_mm", it.pitch_mm)?,
    )?;
    let fit = machine::fit(&machine);
    Ok(json!({
        "plates_mm": fit.plates.iter().map(|it| it.in_millimetres()).collect::<Vec<_>>(),
        "teeth": fit.full_row(),
        "teeth_per_plate": fit.teeth,
        "covered_mm": fit.covered.in_millimetres(),
        "bare_mm": fit.bare.in_millimetres(),
    }))
}

fn teeth_for_width(it: &asked::TeethForWidth) -> Answer {
    let (pitch, grading) = (mm("pitch_mm", it.pitch_mm)?, grading(it.grading_deg)?);
    if pitch == Length::ZERO {
        return Err(Trouble::of("pitch_mm is 0; it has to be more.".to_owned()));
    }
    let teeth = machine::teeth_for_width(mm("width_mm", it.width_mm)?, pitch, grading);
    let working = machine::effective_width(pitch.times(teeth), grading);
    Ok(json!({ "teeth": teeth, "working_width_mm": working.in_millimetres() }))
}

fn effective_width(it: &asked::EffectiveWidth) -> Answer {
    let (length, grading) = (mm("length_mm", it.length_mm)?, grading(it.grading_deg)?);
    Ok(json!({
        "width_mm": machine::effective_width(length, grading).in_millimetres(),
        "offset_mm": marks::toe_to_heel(length, grading).in_millimetres(),
    }))
}

fn rise_and_run(it: &asked::RiseAndRun) -> Answer {
    let cutting = marks::cutting_from_tape(mm("rise_mm", it.rise_mm)?, mm("run_mm", it.run_mm)?)
        .ok_or_else(|| {
            Trouble::refused(
                "no_angle",
                "rise_mm and run_mm are both 0; measure along a longer piece of the plate."
                    .to_owned(),
            )
        })?;
    let from_the_side = it
        .grading_deg
        .map(grading)
        .transpose()?
        .map(|grading| marks::seen_from_the_side(cutting, grading).in_degrees());
    Ok(json!({ "cutting_deg": cutting.in_degrees(), "seen_from_the_side_deg": from_the_side }))
}

fn grading_from_offset(it: &asked::GradingFromOffset) -> Answer {
    let (board, offset) = (
        mm("length_mm", it.length_mm)?,
        mm("offset_mm", it.offset_mm)?,
    );
    let grading = marks::grading_from_offset(board, offset).map_err(|refused| match refused {
        marks::NoGrading::NoBoard => {
            Trouble::refused("no_board", "length_mm is 0; it has to be more.".to_owned())
        }
        marks::NoGrading::LongerThanTheBoard { .. } => Trouble::refused(
            "longer_than_the_board",
            format!(
                "offset_mm is {}; it cannot be more than length_mm, {}.",
                it.offset_mm, it.length_mm
            ),
        ),
    })?;
    Ok(json!({
        "grading_deg": grading.in_degrees(),
        "may_be_set": marks::as_setting(grading).is_ok(),
    }))
}

fn frame_marks(it: &asked::FrameMarks) -> Answer {
    let made = marks::frame_marks(
        mm("radius_mm", it.radius_mm)?,
        degrees("from_deg", it.from_deg)?,
        degrees("to_deg", it.to_deg)?,
        degrees("step_deg", it.step_deg)?,
    );
    let refused = |word, sentence: String| Err(Trouble::refused(word, sentence));
    let marks = match made {
        Ok(marks) => marks,
        Err(marks::NoMarks::Radius(out)) => return field("radius_mm", Err(out)),
        Err(marks::NoMarks::NoStep) => {
            return refused(
                "no_step",
                format!("step_deg is {}; it has to be more than 0.", it.step_deg),
            );
        }
        Err(marks::NoMarks::Backwards) => {
            return refused(
                "backwards",
                format!(
                    "to_deg is {}; it has to be {} (from_deg) or more.",
                    it.to_deg, it.from_deg
                ),
            );
        }
        Err(marks::NoMarks::OverHalfATurn) => {
            return refused(
                "over_half_a_turn",
                "from_deg and to_deg are more than 180 degrees apart; 180 or less is right."
                    .to_owned(),
            );
        }
        Err(marks::NoMarks::TooMany { asked }) => {
            return refused(
                "too_many",
                format!(
                    "that would be {asked} marks; {} or fewer are right, so take a larger step_deg.",
                    marks::MOST_MARKS
                ),
            );
        }
    };
    let told = marks.iter().map(|mark| {
        json!({
            "deg": mark.angle.in_degrees(),
            "arc_mm": mark.arc.in_millimetres(),
            "chord_mm": mark.chord.in_millimetres(),
        })
    });
    Ok(json!({ "marks": told.collect::<Vec<_>>() }))
}

fn tilt(it: &asked::Tilt) -> Answer {
    let (road, blade) = (readings("road", &it.road)?, readings("blade", &it.blade)?);
    let tooth = degrees("tooth_deg", it.tooth_deg.unwrap_or(0.0))?;
    let tilt = tilt::tilt(&road, &blade, tooth).map_err(no_angle)?;
    Ok(json!({
        "angle_deg": tilt.cutting.in_degrees(),
        "uncertainty_deg": tilt.uncertainty.in_degrees(),
        "turned_deg": tilt.turned.in_degrees(),
    }))
}

fn readings(name: &str, all: &[[f64; 3]]) -> Result<Vec<Gravity>, Trouble> {
    let one =
        |&[x, y, z]: &[f64; 3]| field(&format!("a component of {name}"), Gravity::new(x, y, z));
    all.iter().map(one).collect()
}

fn crossfall(it: &asked::Crossfall) -> Answer {
    let (one, turned) = (readings("one", &it.one)?, readings("turned", &it.turned)?);
    let measured = crossfall::crossfall(&one, &turned).map_err(|why| match why {
        NoCrossfall::Readings(why) => no_angle(why),
        NoCrossfall::NotTurnedRound { by } => Trouble::refused(
            "not_turned_round",
            format!(
                "the two readings do not mirror each other by {:.1} degrees; within {} is right.",
                by.in_degrees(),
                crossfall::MOST_OFF_MIRROR.in_degrees()
            ),
        ),
        NoCrossfall::NoRoad { fall } => Trouble::refused(
            "no_road",
            format!(
                "a fall of {fall:.1} % is no road; {} % or less is right.",
                crossfall::MOST_FALL
            ),
        ),
    })?;
    Ok(json!({
        "fall_percent": measured.fall,
        "uncertainty_percent": measured.uncertainty,
    }))
}

fn no_angle(refused: NoAngle) -> Trouble {
    let place = |at| match at {
        Place::Road => "road",
        Place::Blade => "blade",
    };
    match refused {
        NoAngle::TooFew { at, got } => Trouble::refused(
            "too_few",
            format!(
                "{} has {got} readings; {} or more are enough.",
                place(at),
                tilt::FEWEST_READINGS
            ),
        ),
        NoAngle::NotStill { at, spread } => Trouble::refused(
            "not_still",
            format!(
                "the phone was not still on the {}: its readings spread by {spread:.2} m/s2, and {} or less is right.",
                place(at),
                tilt::MOST_SPREAD
            ),
        ),
        NoAngle::NotGravity { at, size } => Trouble::refused(
            "not_gravity",
            format!(
                "the readings on the {} come to {size:.2} m/s2, which is not gravity; 9.81 within {} is right.",
                place(at),
                tilt::MOST_OFF_GRAVITY
            ),
        ),
        NoAngle::NotAligned { at, lean } => Trouble::refused(
            "not_aligned",
            format!(
                "on the {} the phone's x axis was out of level by {:.1} degrees; lay it along the moldboard, within {}.",
                place(at),
                lean.in_degrees(),
                tilt::MOST_LEAN.in_degrees()
            ),
        ),
        NoAngle::NotOnRoad { slope } => Trouble::refused(
            "not_on_road",
            format!(
                "on the road the phone stood at {:.1} degrees; a road of {} degrees at most is right.",
                slope.in_degrees(),
                tilt::STEEPEST_ROAD.in_degrees()
            ),
        ),
        NoAngle::Turned { by } => Trouble::refused(
            "turned",
            format!(
                "the phone was turned sideways by {:.1} degrees between road and blade; {} or less is right.",
                by.in_degrees(),
                tilt::MOST_TURN.in_degrees()
            ),
        ),
    }
}

fn finish(it: &asked::Finish) -> Answer {
    let tip = match (it.tip_radius_mm, it.tip_cone_deg, it.tip_flat_mm) {
        (Some(radius), None, None) => {
            field("tip_radius_mm", Tip::round(mm("tip_radius_mm", radius)?))?
        }
        (None, Some(full), None) => {
            field("tip_cone_deg", Tip::cone(degrees("tip_cone_deg", full)?))?
        }
        (None, None, Some(width)) => field("tip_flat_mm", Tip::blunt(mm("tip_flat_mm", width)?))?,
        (None, None, None)
        | (Some(_), Some(_), _)
        | (Some(_), None, Some(_))
        | (None, Some(_), Some(_)) => {
            return Err(Trouble::of(
                "the tip has to be given once: as tip_radius_mm, tip_cone_deg or tip_flat_mm."
                    .to_owned(),
            ));
        }
    };
    let passes = at_least_one("passes", NonZeroU8::new(it.passes.unwrap_or(1)))?;
    let worn = mm("worn_mm", it.worn_mm.unwrap_or(0.0))?;
    let finish = finish::finish(
        mm("pitch_mm", it.pitch_mm)?,
        grading(it.grading_deg)?,
        tip,
        worn,
        passes,
    );
    let (ridge, strip) = match finish.left {
        Left::Ridge(height) => (Some(height.in_millimetres()), None),
        Left::Strip(width) => (None, Some(width.in_millimetres())),
    };
    Ok(json!({
        "spacing_mm": finish.spacing.in_millimetres(),
        "ridge_mm": ridge,
        "uncut_strip_mm": strip,
        "track_flat_mm": tip.flat(worn).in_millimetres(),
    }))
}

fn load(it: &asked::Load) -> Answer {
    let given = (
        it.front_axle_kg,
        it.wheelbase_mm,
        it.edge_to_rear_mm,
        it.down_force_kn,
    );
    let down_force = match given {
        (None, None, None, Some(force)) => field("down_force_kn", Force::kilonewtons(force))?,
        (Some(front), Some(wheelbase), Some(edge), None) => load::down_force_ceiling(
            field("front_axle_kg", Mass::kilograms(front))?,
            mm("wheelbase_mm", wheelbase)?,
            mm("edge_to_rear_mm", edge)?,
        )
        .map_err(|out| {
            let which = if out.what == evenrow_rules::quantity::Figure::Wheelbase {
                "wheelbase_mm"
            } else {
                "edge_to_rear_mm"
            };
            Trouble::of(format!(
                "{which} is {}; it has to lie between {} and {}.",
                out.got, out.min, out.max
            ))
        })?,
        (Some(_) | None, Some(_) | None, Some(_) | None, Some(_) | None) => {
            return Err(Trouble::of(
                "the down-force comes from front_axle_kg, wheelbase_mm and edge_to_rear_mm together, or from down_force_kn alone.".to_owned(),
            ));
        }
    };
    let teeth = at_least_one("teeth", NonZeroU32::new(it.teeth))?;
    let full_row = at_least_one("full_row", NonZeroU32::new(it.full_row))?;
    let load = load::share(down_force, teeth, full_row).map_err(|more| {
        Trouble::refused(
            "more_than_the_row",
            format!(
                "teeth is {}, but full_row has {}; as many or fewer are right.",
                more.teeth, more.full_row
            ),
        )
    })?;
    Ok(json!({
        "down_force_kn": load.down_force.in_kilonewtons(),
        "per_tooth_kn": load.per_tooth.in_kilonewtons(),
        "times_full_row": load.times_full_row,
        "is_ceiling": it.down_force_kn.is_none(),
    }))
}

fn work_time(it: &asked::WorkTime) -> Answer {
    let legs: Result<Vec<plan::Leg>, Trouble> = it
        .legs
        .iter()
        .map(|leg| {
            Ok(plan::Leg {
                passes: leg.passes,
                distance: field("distance_km", Distance::kilometres(leg.distance_km))?,
                speed: field("speed_kmh", Speed::kilometres_per_hour(leg.speed_kmh))?,
                edge: if leg.edge_up == Some(true) {
                    Edge::Up
                } else {
                    Edge::Down
                },
            })
        })
        .collect();
    let time = plan::work_time(
        &legs?,
        field("efficiency", Efficiency::share(it.efficiency))?,
    );
    Ok(json!({
        "hours": time.total.in_hours(),
        "leg_hours": time.legs.iter().map(|it| it.in_hours()).collect::<Vec<_>>(),
        "edge_down_hours": time.edge_down.in_hours(),
        "driven_km": time.driven.in_kilometres(),
        "worked_km": time.worked.in_kilometres(),
    }))
}

fn no_passes(refused: NoPasses) -> Trouble {
    match refused {
        NoPasses::OverlapTooWide { overlap, effective } => Trouble::refused(
            "overlap_too_wide",
            format!(
                "overlap_m is {}, as wide as effective_m, {}, or wider; it has to be less.",
                overlap.in_millimetres() / 1000.0,
                effective.in_millimetres() / 1000.0
            ),
        ),
        NoPasses::TooMany => Trouble::refused(
            "too_many",
            format!(
                "that would be more than {} passes a layer; a larger effective_m or a smaller overlap_m is right.",
                plan::MOST_PASSES
            ),
        ),
    }
}

fn area_rate(it: &asked::AreaRate) -> Answer {
    let rate = plan::area_rate(
        field("speed_kmh", Speed::kilometres_per_hour(it.speed_kmh))?,
        metres("effective_m", it.effective_m)?,
        metres("overlap_m", it.overlap_m)?,
        field("efficiency", Efficiency::share(it.efficiency))?,
    );
    let rate = rate.map_err(no_passes)?;
    Ok(json!({ "m2_per_hour": rate.in_square_metres_per_hour() }))
}

fn passes(it: &asked::Passes) -> Answer {
    let passes = plan::passes(
        metres("road_width_m", it.road_width_m)?,
        metres("effective_m", it.effective_m)?,
        metres("overlap_m", it.overlap_m)?,
        at_least_one("layers", NonZeroU16::new(it.layers.unwrap_or(1)))?,
    );
    let passes = passes.map_err(no_passes)?;
    Ok(json!({ "passes": passes.total, "per_layer": passes.per_layer }))
}

fn spans(name: &str, given: Option<&[[String; 2]]>) -> Result<Vec<Span>, Trouble> {
    given
        .unwrap_or_default()
        .iter()
        .map(|[start, end]| when::span(name, start, end))
        .collect()
}

fn finish_time(it: &asked::FinishTime) -> Answer {
    let start = Moment::read("start", &it.start)?;
    let minutes = it
        .stop_min
        .map(|minutes| Duration::from_secs(60 * u64::from(minutes)));
    let stops = Stops {
        count: it.stops.unwrap_or(0),
        each: minutes.unwrap_or(OIL_STOP),
    };
    let breaks = spans("a break of breaks", it.breaks.as_deref())?;
    let done = plan::done_at(start.at, hours("hours", it.hours)?, stops, &breaks);
    Ok(json!({ "done": start.write(done) }))
}

fn oil_plan(it: &asked::OilPlan) -> Answer {
    let start = Moment::read("start", &it.start)?;
    at_least_one("per_shift", NonZeroU8::new(it.per_shift))?;
    let planned = when::span("the shift", &it.start, &it.end)?;
    let now = it
        .now
        .as_deref()
        .map(|now| Moment::read("now", now))
        .transpose()?;
    let looks: Result<Vec<oiling::Look>, Trouble> = it
        .looks
        .iter()
        .flatten()
        .map(|look| {
            Ok(oiling::Look {
                at: Moment::read("at of a look", &look.at)?.at,
                all_turned: look.all_turned,
            })
        })
        .collect();
    let oiled: Result<Vec<Instant>, Trouble> = it
        .oiled
        .iter()
        .flatten()
        .map(|at| Ok(Moment::read("a moment of oiled", at)?.at))
        .collect();
    let oiled = oiled?;
    let shift = ShiftFacts {
        planned,
        planned_breaks: spans("a break of breaks", it.breaks.as_deref())?,
        taken_breaks: spans("a break of taken", it.taken.as_deref())?,
        works: vec![Stretch {
            from: planned.start(),
            per_shift: it.per_shift,
        }],
        looks: looks?,
        usual_kept: Vec::new(),
        until: now.map_or(planned.end(), |now| planned.end().max(now.at)),
    };
    let dues = oiling::plan(&shift);
    let standing = now.map(|now| {
        let standing = oiling::reconcile(&dues, &oiled, now.at, false);
        let slots: Vec<Value> = standing
            .slots
            .iter()
            .map(|slot| told(slot, start))
            .collect();
        json!({
            "slots": slots,
            "next": standing.next().and_then(|slot| start.write(slot.due.at)),
            "extra": standing.extra.iter().map(|&at| start.write(at)).collect::<Vec<_>>(),
            "shortened": shift.is_shortened(now.at),
        })
    });
    Ok(json!({
        "due": dues.iter().map(|due| start.write(due.at)).collect::<Vec<_>>(),
        "worked_out": dues.iter().map(|due| start.write(due.worked_out)).collect::<Vec<_>>(),
        "interval_min": minutes(shift.interval(it.per_shift)),
        "standing": standing,
    }))
}

fn minutes(duration: Duration) -> f64 {
    duration.as_secs_f64() / 60.0
}

fn told(slot: &oiling::Slot, start: Moment) -> Value {
    let due = start.write(slot.due.at);
    let (status, at, by) = match slot.status {
        Status::Done { at, timing } => {
            let (status, by) = match timing {
                Timing::Early(by) => ("done_early", Some(by)),
                Timing::OnTime => ("done_on_time", None),
                Timing::Late(by) => ("done_late", Some(by)),
            };
            (status, Some(at), by)
        }
        Status::Ahead => ("ahead", None, None),
        Status::Due => ("due", None, None),
        Status::Late(by) => ("late", None, Some(by)),
        Status::Missed => ("missed", None, None),
    };
    json!({
        "due": due,
        "status": status,
        "at": at.and_then(|at| start.write(at)),
        "by_min": by.map(minutes),
    })
}

fn fit_line(it: &asked::FitLine) -> Answer {
    if it.x.len() != it.y.len() {
        return Err(Trouble::of(format!(
            "x has {} numbers and y has {}; they have to be as many.",
            it.x.len(),
            it.y.len()
        )));
    }
    let points: Result<Vec<Point>, Trouble> =
        it.x.iter()
            .zip(&it.y)
            .map(|(&x, &y)| field("a number of x or y", Point::new(x, y)))
            .collect();
    let line = line::fit(&points?).map_err(|refused| match refused {
        line::Refusal::TooFew { got, wanted } => Trouble::refused(
            "too_few",
            format!("there are {got} points; {wanted} or more are enough."),
        ),
        line::Refusal::NoSpread => Trouble::refused(
            "no_spread",
            "all points have the same x; two different ones are enough.".to_owned(),
        ),
    })?;
    let level = confidence("level", it.level)?;
    let predicted: Result<Vec<Value>, Trouble> = it
        .at
        .iter()
        .flatten()
        .map(|&x| {
            let height = field("a number of at", line.predict(x, level))?;
            Ok(json!({
                "x": x,
                "y": height.y,
                "half_width": height.half_width,
                "mean_half_width": height.mean_half_width,
            }))
        })
        .collect();
    Ok(json!({
        "slope": line.slope(),
        "intercept": line.intercept(),
        "slope_sd": line.slope_sd(),
        "intercept_sd": line.intercept_sd(),
        "residual_sd": line.residual_sd(),
        "r2": line.r2(),
        "freedom": line.freedom(),
        "predict": predicted?,
    }))
}

fn wear(it: &asked::Wear) -> Answer {
    let new = mm("new_mm", it.new_mm)?;
    let tips = Tips::new(new, mm("end_mm", it.end_mm)?).map_err(|out| {
        let which = match out.what {
            wear::TipFigure::NewTip => "new_mm",
            wear::TipFigure::EndTip => "end_mm",
            wear::TipFigure::HoursPerDay => "hours_per_day",
        };
        Trouble::of(format!(
            "{which} is {}; it has to lie between {} and {}.",
            out.got, out.min, out.max
        ))
    })?;
    let readings: Result<Vec<wear::Reading>, Trouble> = it
        .readings
        .iter()
        .map(|reading| {
            Ok(wear::Reading {
                at: hours("hours of a reading", reading.hours)?,
                tip: mm("mm of a reading", reading.mm)?,
            })
        })
        .collect();
    let readings = readings?;
    let level = confidence("level", it.level)?;
    let calendar = match (it.hours_per_day, &it.today) {
        (Some(per_day), Some(today)) => Some((
            field("hours_per_day", HoursPerDay::new(per_day))?,
            when::day("today", today)?,
        )),
        (None, None) => None,
        (Some(_), None) | (None, Some(_)) => {
            return Err(Trouble::of(
                "dates want both hours_per_day and today; give both or neither.".to_owned(),
            ));
        }
    };
    let outlook = wear::outlook(&readings, tips, level).map_err(no_outlook)?;
    // Today is the day of the last reading.
    let now = readings
        .iter()
        .map(|it| it.at.in_hours())
        .fold(0.0, f64::max);
    let now = hours("hours of a reading", now)?;
    let rate = outlook.rate;
    let mut told = json!({
        "rate_mm_per_hour": rate.mm_per_hour,
        "rate_sd": rate.sd,
        "rate_interval": [rate.low, rate.high],
        "robust_rate_mm_per_hour": outlook.robust_mm_per_hour,
        "agrees": outlook.agreement == Agreement::Agrees,
    });
    for (name, life) in [("half_life", &outlook.half), ("end", &outlook.done)] {
        let side = |side| match side {
            Side::At(at) => Some(at.in_hours()),
            Side::NotYetBounded => None,
        };
        told[format!("{name}_hours")] = json!(life.at.in_hours());
        told[format!("{name}_interval")] = json!([side(life.earliest), side(life.latest)]);
        if let Some((per_day, today)) = calendar {
            let (day, between) = dates(life, now, per_day, today);
            told[format!("{name}_date")] = json!(day);
            told[format!("{name}_date_interval")] = json!(between);
        }
    }
    Ok(told)
}

fn dates(
    life: &Life,
    now: Hours,
    per_day: HoursPerDay,
    today: i64,
) -> (Option<String>, [Option<String>; 2]) {
    let days = life.days(now, per_day, today);
    let side = |side| match side {
        DaySide::On(day) => when::date(day),
        DaySide::NotYetBounded => None,
    };
    (
        when::date(days.day),
        [side(days.earliest), side(days.latest)],
    )
}

fn no_outlook(refused: wear::Refusal) -> Trouble {
    let tip =
        |it: wear::Reading| format!("{} mm at {} h", it.tip.in_millimetres(), it.at.in_hours());
    match refused {
        wear::Refusal::TooFewTimes { got, wanted } => Trouble::refused(
            "too_few",
            format!("there are readings at {got} different times; {wanted} are enough."),
        ),
        wear::Refusal::LongerThanNew { reading, most } => Trouble::refused(
            "longer_than_new",
            format!(
                "{} is longer than a new tip; {} mm or less is right.",
                tip(reading),
                most.in_millimetres()
            ),
        ),
        wear::Refusal::SameTimeDiffers {
            shortest,
            longest,
            most,
        } => Trouble::refused(
            "same_time_differs",
            format!(
                "{} and {} contradict each other; readings at the same hours within {} mm are right.",
                tip(shortest),
                tip(longest),
                most.in_millimetres()
            ),
        ),
        wear::Refusal::Grew {
            before,
            after,
            most,
        } => Trouble::refused(
            "grew",
            format!(
                "from {} to {} the tips grew by more than {} mm; give the readings since the teeth were changed.",
                tip(before),
                tip(after),
                most.in_millimetres()
            ),
        ),
        wear::Refusal::NotWearing { mm_per_hour } => Trouble::refused(
            "not_wearing",
            format!(
                "the tips get shorter by {mm_per_hour} mm an hour, which is none; readings over more hours are needed."
            ),
        ),
        wear::Refusal::LostInScatter {
            mm_per_hour,
            sd,
            span_wanted,
        } => Trouble::refused(
            "lost_in_scatter",
            format!(
                "the tips seem to get shorter by {mm_per_hour:.4} mm an hour, give or take {sd:.4}, which is too unsure; such readings over {:.0} hours would be enough.",
                span_wanted.in_hours()
            ),
        ),
    }
}

fn evenness(it: &asked::Evenness) -> Answer {
    let row: Result<Vec<wear::Tooth>, Trouble> = it
        .row
        .iter()
        .map(|tooth| {
            Ok(wear::Tooth {
                pos: tooth.pos,
                tip: mm("mm of a tooth", tooth.mm)?,
            })
        })
        .collect();
    let row = wear::evenness(&row?).map_err(|refused| match refused {
        wear::RowRefusal::Nothing => Trouble::refused(
            "nothing",
            "row has no tooth; one is enough for a mean, twelve for a pattern.".to_owned(),
        ),
        wear::RowRefusal::NoSuchPosition { pos, most } => Trouble::refused(
            "no_such_position",
            format!("pos is {pos}; it has to lie between 1 and {most}."),
        ),
        wear::RowRefusal::Twice { pos } => {
            Trouble::refused("twice", format!("pos {pos} is given twice; once is right."))
        }
    })?;
    let outliers = row.outliers.iter().map(|it| {
        json!({ "pos": it.pos, "mm": it.tip.in_millimetres(), "off_mm": it.off_mm, "times_sd": it.times })
    });
    let (pattern, which) = pattern(&row.pattern);
    Ok(json!({
        "measured": row.measured,
        "mean_mm": row.mean.in_millimetres(),
        "spread_mm": row.sd_mm,
        "range_mm": row.range().in_millimetres(),
        "median_mm": row.median.in_millimetres(),
        "robust_spread_mm": row.robust_sd_mm,
        "outliers": row.outliers.iter().map(|it| it.pos).collect::<Vec<_>>(),
        "outlying_teeth": outliers.collect::<Vec<_>>(),
        "pattern": pattern,
        "pattern_where": which,
    }))
}

fn pattern(pattern: &Pattern) -> (&'static str, Value) {
    match pattern {
        Pattern::TooLittle { measured, wanted } => {
            ("too_few", json!({ "measured": measured, "wanted": wanted }))
        }
        Pattern::NoPattern(_) => ("none", Value::Null),
        Pattern::OneEnd { end, evidence } => (
            "one_end",
            json!({ "end": end_word(*end), "shorter_mm": evidence.shorter_mm }),
        ),
        Pattern::BothEnds(evidence) => ("both_ends", json!({ "shorter_mm": evidence.shorter_mm })),
        Pattern::Middle(evidence) => ("middle", json!({ "shorter_mm": evidence.shorter_mm })),
        Pattern::StuckRun {
            first,
            last,
            evidence,
        } => (
            "stuck_run",
            json!({ "first": first, "last": last, "shorter_mm": evidence.shorter_mm }),
        ),
        Pattern::EveryNth {
            nth,
            first,
            evidence,
        } => (
            "periodic",
            json!({ "every": nth, "first": first, "shorter_mm": evidence.shorter_mm }),
        ),
    }
}

/// An end of the board as requests write it.
pub(crate) fn end_word(end: End) -> &'static str {
    match end {
        End::Left => "left",
        End::Right => "right",
    }
}

/// A tooth kind as requests write it.
pub(crate) fn kind_word(kind: ToothKind) -> &'static str {
    match kind {
        ToothKind::NarrowPointed => "narrow_pointed",
        ToothKind::WidePointed => "wide_pointed",
        ToothKind::WideBlunt => "wide_blunt",
    }
}

fn kind(given: &str) -> Result<ToothKind, Trouble> {
    ToothKind::ALL
        .into_iter()
        .find(|&kind| kind_word(kind) == given)
        .ok_or_else(|| {
            Trouble::of(format!(
                "kind is \"{given}\"; it has to be narrow_pointed, wide_pointed or wide_blunt."
            ))
        })
}

fn match_spares(it: &asked::MatchSpares) -> Answer {
    let bad: Result<Vec<spares::Bad>, Trouble> = it
        .bad
        .iter()
        .map(|bad| {
            Ok(spares::Bad {
                pos: bad.pos,
                kind: kind(&bad.kind)?,
                tip: mm("mm of a bad tooth", bad.mm)?,
            })
        })
        .collect();
    let stock: Result<Vec<spares::Spare>, Trouble> = it
        .spares
        .iter()
        .map(|spare| {
            Ok(spares::Spare {
                kind: kind(&spare.kind)?,
                tip: mm("mm of a spare", spare.mm)?,
            })
        })
        .collect();
    let within = it
        .within_mm
        .map(|within| mm("within_mm", within))
        .transpose()?;
    let matched =
        spares::match_spares(&bad?, &stock?, within.unwrap_or(SAME_WEAR)).map_err(|refused| {
            match refused {
                spares::Refusal::Twice { pos } => {
                    Trouble::refused("twice", format!("pos {pos} is given twice; once is right."))
                }
                spares::Refusal::TooManyBad { got, most } => Trouble::refused(
                    "too_many",
                    format!("bad lists {got} teeth; {most} or fewer are right."),
                ),
                spares::Refusal::TooManySpares { got, most } => Trouble::refused(
                    "too_many",
                    format!("spares lists {got}; {most} or fewer are right."),
                ),
            }
        })?;
    let pairs = matched.pairs.iter().map(|pair| {
        let id = it.spares.get(pair.spare).map(|spare| &spare.id);
        json!({ "pos": pair.pos, "spare": id, "off_mm": pair.off.in_millimetres() })
    });
    Ok(json!({ "pairs": pairs.collect::<Vec<_>>(), "unmatched": matched.unmatched }))
}

fn prior() -> Value {
    json!({ "shape": PRIOR.events(), "hours": PRIOR.in_hours() })
}

fn spares_to_carry(it: &asked::SparesToCarry) -> Answer {
    let record = Record {
        broken: it.broken,
        hours: hours("hours", it.hours)?,
    };
    let carry = spares::carry(
        PRIOR,
        record,
        hours("ahead_hours", it.ahead_hours)?,
        confidence("confidence", it.confidence)?,
    );
    Ok(json!({
        "carry": carry.teeth,
        "prior": prior(),
        "expected": carry.expected,
        "not_enough": carry.short,
    }))
}

fn reorder(it: &asked::Reorder) -> Answer {
    let record = Record {
        broken: it.broken,
        hours: hours("hours", it.hours)?,
    };
    let reorder = spares::reorder(
        PRIOR,
        record,
        it.on_hand,
        hours("lead_hours", it.lead_hours)?,
        confidence("confidence", it.confidence)?,
    );
    Ok(json!({
        "point": reorder.point,
        "order_now": reorder.order_now,
        "below_by": reorder.below_by,
        "runs_out": reorder.short,
        "prior": prior(),
    }))
}

fn cost(it: &asked::Cost) -> Answer {
    let money = |name: &str, amount: Option<f64>| field(name, Money::amount(amount.unwrap_or(0.0)));
    let used = cost::Used {
        teeth: cost::Teeth::count(it.teeth.unwrap_or(0)),
        plates: it.plates.unwrap_or(0),
        oil: field("oil_l", Litres::new(it.oil_l.unwrap_or(0.0)))?,
    };
    let prices = cost::Prices {
        tooth: money("tooth_price", it.tooth_price)?,
        plate: money("plate_price", it.plate_price)?,
        litre: money("litre_price", it.litre_price)?,
    };
    let done = cost::Done {
        blade_hours: hours("blade_hours", it.blade_hours.unwrap_or(0.0))?,
        worked: field(
            "worked_km",
            Distance::kilometres(it.worked_km.unwrap_or(0.0)),
        )?,
        area: field("area_m2", Area::square_metres(it.area_m2.unwrap_or(0.0)))?,
    };
    let cost = cost::cost(&used, &prices, &done).map_err(|cost::NothingDone| {
        Trouble::refused(
            "nothing_done",
            "nothing was done with it; give blade_hours, worked_km or area_m2.".to_owned(),
        )
    })?;
    let rate = |money: Option<Money>| money.map(Money::in_own_money);
    Ok(json!({
        "teeth": cost.teeth.in_own_money(),
        "plates": cost.plates.in_own_money(),
        "oil": cost.oil.in_own_money(),
        "total": cost.total.in_own_money(),
        "per_hour": rate(cost.per_hour),
        "per_km": rate(cost.per_kilometre),
        "per_m2": rate(cost.per_square_metre),
    }))
}

fn season(it: &asked::Season) -> Answer {
    let roads: Result<Vec<Road>, Trouble> = it
        .roads
        .iter()
        .map(|road| {
            Ok(Road {
                length: field("length_km", Distance::kilometres(road.length_km))?,
                visits: road.visits,
                pace: Pace::PerVisit(hours("hours_per_visit", road.hours_per_visit)?),
                wear: field(
                    "wear_mm_per_hour or wear_sd",
                    WearRate::new(road.wear_mm_per_hour, road.wear_sd),
                )?,
            })
        })
        .collect();
    let demand = season::demand(&roads?);
    let sets = demand.sets(
        mm("tip_mm", it.tip_mm)?,
        mm("left_mm", it.left_mm.unwrap_or(0.0))?,
        it.teeth_per_set,
        confidence("confidence", it.confidence)?,
    );
    let sets = field("tip_mm", sets)?;
    let available = it
        .hours_available
        .map(|given| hours("hours_available", given))
        .transpose()?;
    let over = available.map(|available| match season::room(demand.hours, available) {
        Room::Spare(hours) => hours.in_hours(),
        Room::Missing(hours) => -hours.in_hours(),
    });
    let order = match (&it.first_use, it.lead_days, &it.today) {
        (Some(first), Some(lead), Some(today)) => {
            let by = season::order_by(
                when::day("first_use", first)?,
                lead,
                when::day("today", today)?,
            );
            let (day, days) = match by {
                OrderBy::InTime { day, days_left } => (day, i64::try_from(days_left).ok()),
                OrderBy::TooLate { day, days_ago } => {
                    (day, i64::try_from(days_ago).ok().map(|it| -it))
                }
            };
            json!({ "by": when::date(day), "days_left": days })
        }
        (None, None, None) => Value::Null,
        (Some(_) | None, Some(_) | None, Some(_) | None) => {
            return Err(Trouble::of(
                "the day to order by wants first_use, lead_days and today; give all three or none."
                    .to_owned(),
            ));
        }
    };
    Ok(json!({
        "hours": demand.hours.in_hours(),
        "road_hours": demand.roads.iter().map(|it| it.in_hours()).collect::<Vec<_>>(),
        "wear_mm": demand.mean_wear(),
        "wear_sd_mm": demand.sd_wear(),
        "sets_expected": sets.expected,
        "sets_needed": sets.needed,
        "sets_to_order": sets.to_order,
        "teeth_to_order": sets.teeth_to_order,
        "hours_over": over,
        "order": order,
    }))
}

fn checklist(it: &asked::Checklist) -> Answer {
    let list = match it.list.as_str() {
        "opening" => List::Opening,
        "closing" => List::Closing,
        "laying_up" => List::LayingUp,
        other => {
            return Err(Trouble::of(format!(
                "list is \"{other}\"; it has to be opening, closing or laying_up."
            )));
        }
    };
    Ok(json!({ "items": list.items().iter().map(|&item| sheet::item(item)).collect::<Vec<_>>() }))
}

fn fuel_grade(it: &asked::FuelGrade) -> Answer {
    let lowest = field("lowest_c", Temperature::celsius(it.lowest_c))?;
    Ok(match cold::grade(lowest) {
        Some(class) => json!({
            "class": class.sign(),
            "limit_c": class.limit().in_celsius(),
            "arctic": class.is_arctic(),
        }),
        None => json!({
            "class": null,
            "limit_c": null,
            "sentence": format!(
                "The standard lists no class that cold: {} is below its last limit, {} degrees.",
                it.lowest_c,
                FuelClass::Arctic4.limit().in_celsius()
            ),
        }),
    })
}
