//! The two angles without a phone: by tape, by marks on the frame, and the view from the side that misleads.
//!
//! The cutting angle is read and set in the plane square to the moldboard; the grading angle by how far the moldboard's
//! two ends lie apart along the travel, toe to heel. Never here: which angles today's work wants (`setup`).

use alloc::vec::Vec;

use crate::angle::{Angle, HALF_TURN};
use crate::quantity::{Figure, Length, OutOfRange, within};
use crate::setup::SKEW_LIMIT;

/// The most marks that a frame is given.
///
/// Units: marks.
/// Basis: house default: a whole quarter turn by quarter degrees, and more than anybody tapes on.
pub const MOST_MARKS: usize = 400;

/// The radius that marks may be set out on.
///
/// Units: millimetres.
/// Basis: house default, only there to stop nonsense.
const MARK_RADII: (f64, f64) = (10.0, 10_000.0);

/// The cutting angle from a tape: how much higher a point of the tooth's line lies than another, and how far apart they
/// are along the ground, measured square to the moldboard.
///
/// Units: lengths.
/// Valid: two lengths that are not both nothing.
/// Errors: `None` where both are, since no angle is right then.
/// Basis: plane geometry, the angle whose tangent is `rise / run`.
///
/// ```
/// use evenrow_rules::{marks::cutting_from_tape, quantity::Length};
/// let mm = |mm: f64| Length::millimetres(mm).unwrap();
/// let cutting = cutting_from_tape(mm(238.4), mm(200.0)).unwrap();
/// assert!((cutting.in_degrees() - 50.0).abs() < 0.01);
/// assert_eq!(cutting_from_tape(mm(0.0), mm(0.0)), None);
/// ```
pub fn cutting_from_tape(rise: Length, run: Length) -> Option<Angle> {
    Angle::of_sides(rise.in_millimetres(), run.in_millimetres())
}

/// What a cutting angle looks like from the machine's side, across the travel: steeper than it is.
///
/// Only there to warn with: whoever reads the side view sets the blade too flat. The tooth's line rises by `sin c` and
/// goes `cos c` square to the moldboard, of which `cos c · sin g` is along the travel; so the tangent of the side view is
/// `tan c / sin g`.
///
/// Units: degrees.
/// Valid: cutting angle 0° to 90°, grading angle over 0° to 90°; at 90°, square across, both views agree. In line with
/// the travel the side view shows 90°.
/// Basis: plane geometry.
///
/// ```
/// use evenrow_rules::{angle::Angle, marks::seen_from_the_side};
/// let seen = seen_from_the_side(Angle::whole_degrees(50), Angle::whole_degrees(55));
/// assert!((seen.in_degrees() - 55.5).abs() < 0.05);
/// ```
pub fn seen_from_the_side(cutting: Angle, grading: Angle) -> Angle {
    Angle::of_sides(cutting.sine(), cutting.cosine() * grading.sine()).unwrap_or(cutting)
}

/// How far the heel of the moldboard lies behind its toe, measured along the travel: `L · cos(grading angle)`.
///
/// Units: length; the grading angle from the direction of travel.
/// Valid: 0° to 90°; square across there is no offset, in line with the travel it is the whole length.
/// Basis: plane geometry.
///
/// ```
/// use evenrow_rules::{angle::Angle, machine::FOOT, marks::toe_to_heel};
/// let offset = toe_to_heel(FOOT.times(12), Angle::whole_degrees(60));
/// assert!((offset.in_millimetres() - 1828.8).abs() < 1e-9);
/// ```
pub fn toe_to_heel(board: Length, grading: Angle) -> Length {
    board.share(grading.cosine())
}

/// Why an offset gives no grading angle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum NoGrading {
    /// The board has no length.
    NoBoard,
    /// The ends of a board cannot lie further apart than it is long.
    LongerThanTheBoard {
        /// The offset as given.
        offset: Length,
        /// The board as given.
        board: Length,
    },
}

/// The grading angle from how far the heel lies behind the toe, as it stands: `acos(offset / L)`.
///
/// It is what it is: the answer may be one at which nobody should grade; see [`as_setting`].
///
/// Units: lengths; degrees from the direction of travel out.
/// Valid: a board of some length, an offset no longer than it.
/// Errors: [`NoGrading`]: no board, or an offset longer than the board.
/// Basis: plane geometry.
///
/// ```
/// use evenrow_rules::{machine::FOOT, marks::grading_from_offset};
/// let grading = grading_from_offset(FOOT.times(12), FOOT.times(6)).unwrap();
/// assert!((grading.in_degrees() - 60.0).abs() < 1e-9);
/// assert!(grading_from_offset(FOOT.times(12), FOOT.times(13)).is_err());
/// ```
pub fn grading_from_offset(board: Length, offset: Length) -> Result<Angle, NoGrading> {
    if board == Length::ZERO {
        return Err(NoGrading::NoBoard);
    }
    Angle::of_cosine(offset.in_millimetres() / board.in_millimetres())
        .ok_or(NoGrading::LongerThanTheBoard { offset, board })
}

/// Why a grading angle is no setting.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum NoSetting {
    /// At [`SKEW_LIMIT`] or beyond: too square for the teeth to turn.
    TooSquare {
        /// The angle as given.
        grading: Angle,
        /// Stay under this.
        limit: Angle,
    },
    /// At 0° or beyond: in line with the travel the board works no width.
    InLine {
        /// The angle as given.
        grading: Angle,
    },
}

/// Lets a grading angle through that may be set: over 0° and under [`SKEW_LIMIT`].
///
/// Units: degrees from the direction of travel.
/// Valid: over 0° to under 80°.
/// Errors: [`NoSetting`] outside that.
/// Basis: common practice, no published source, for the 80°; plane geometry for the 0°.
///
/// ```
/// use evenrow_rules::{angle::Angle, marks::as_setting};
/// assert!(as_setting(Angle::degrees(79.9).unwrap()).is_ok());
/// assert!(as_setting(Angle::whole_degrees(80)).is_err());
/// ```
pub fn as_setting(grading: Angle) -> Result<Angle, NoSetting> {
    if SKEW_LIMIT <= grading {
        Err(NoSetting::TooSquare {
            grading,
            limit: SKEW_LIMIT,
        })
    } else if grading.in_degrees() <= 0.0 {
        Err(NoSetting::InLine { grading })
    } else {
        Ok(grading)
    }
}

/// The offset to set with a tape for a grading angle; refused where the angle must not be set.
///
/// Units: length; the grading angle from the direction of travel.
/// Valid: over 0° to under 80°.
/// Errors: [`NoSetting`] outside that.
/// Basis: that of [`toe_to_heel`] and of [`as_setting`].
///
/// ```
/// use evenrow_rules::{angle::Angle, machine::FOOT, marks::offset_to_set};
/// let offset = offset_to_set(FOOT.times(12), Angle::whole_degrees(60)).unwrap();
/// assert!((offset.in_millimetres() - 1828.8).abs() < 1e-9);
/// assert!(offset_to_set(FOOT.times(12), Angle::whole_degrees(85)).is_err());
/// ```
pub fn offset_to_set(board: Length, grading: Angle) -> Result<Length, NoSetting> {
    as_setting(grading).map(|grading| toe_to_heel(board, grading))
}

/// A mark on the frame.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mark {
    /// The angle it stands for.
    pub angle: Angle,
    /// How far it is from the first mark with a tape bent along the curve.
    pub arc: Length,
    /// How far it is from the first mark with a rule laid straight across.
    pub chord: Length,
}

/// Why there are no marks.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum NoMarks {
    /// The radius is no radius of a machine's frame.
    Radius(OutOfRange<Figure>),
    /// A step of nothing, or backwards, never arrives.
    NoStep,
    /// The last angle is less than the first.
    Backwards,
    /// Beyond half a turn a mark comes nearer to the first again, and a rule no longer tells it.
    OverHalfATurn,
    /// More than [`MOST_MARKS`].
    TooMany {
        /// How many they would be, as far as a `u32` counts.
        asked: f64,
    },
}

/// The marks to tape or paint on a frame at a given radius about the pivot, from one angle to another by steps. The last
/// mark is at or before `to`.
///
/// Units: length; degrees.
/// Valid: radius 10 mm to 10 m; `from` no more than `to`, at most 180° apart; a step over 0°; at most [`MOST_MARKS`].
/// Errors: [`NoMarks`]: radius out of range, no step, backwards, over half a turn, or too many marks, in this order.
/// Basis: plane geometry: the arc is `r · angle`, the chord `2 r · sin(angle / 2)`; the limits are house defaults.
///
/// ```
/// use evenrow_rules::{angle::Angle, marks::frame_marks, quantity::Length};
/// let degrees = Angle::whole_degrees;
/// let marks = frame_marks(Length::millimetres(450.0).unwrap(), degrees(35), degrees(55), degrees(5)).unwrap();
/// assert_eq!(marks.len(), 5);
/// assert_eq!(marks[4].angle.in_degrees(), 55.0);
/// assert!((marks[4].arc.in_millimetres() - 157.08).abs() < 0.001);
/// assert!((marks[4].chord.in_millimetres() - 156.283).abs() < 0.001);
/// ```
pub fn frame_marks(
    radius: Length,
    from: Angle,
    to: Angle,
    step: Angle,
) -> Result<Vec<Mark>, NoMarks> {
    let (low, high) = MARK_RADII;
    within(Figure::MarkRadius, radius.in_millimetres(), low, high).map_err(NoMarks::Radius)?;
    let (step, span) = (step.in_degrees(), to.in_degrees() - from.in_degrees());
    if step <= 0.0 {
        return Err(NoMarks::NoStep);
    }
    if span < 0.0 {
        return Err(NoMarks::Backwards);
    }
    if HALF_TURN < span {
        return Err(NoMarks::OverHalfATurn);
    }
    // A last mark must not be lost to float noise; a millionth of a step is finer than any paint.
    let last = libm::floor(span / step + 1e-6);
    if MOST_MARKS as f64 <= last {
        return Err(NoMarks::TooMany {
            asked: (last + 1.0).min(f64::from(u32::MAX)),
        });
    }
    Ok((0..=last as u32)
        .map(|index| {
            let turned = Angle::held(f64::from(index) * step);
            Mark {
                angle: from.plus(turned),
                arc: turned.arc(radius),
                chord: turned.chord(radius),
            }
        })
        .collect())
}
