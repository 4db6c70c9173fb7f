//! The moldboard, the plates that hold the teeth, and the row that fits.
//!
//! Plates are told apart by number from the left as seen from the cab, starting at 1. Never here: which of them today's
//! work wants toothed (`setup::plates`).

use alloc::vec::Vec;

use crate::angle::Angle;
use crate::quantity::{Length, OutOfRange, What, within};

/// The plate that gives 24 teeth at the usual pitch: three feet.
///
/// Basis: house default, inferred from 96 teeth on a 12 ft board (common practice, no published source).
pub const SHORT_PLATE: Length = Length::micrometres(914_400);

/// The plate that gives 26 teeth at the usual pitch: three and a quarter feet.
///
/// Basis: house default, inferred from 104 teeth on a 13 ft board (common practice, no published source).
pub const LONG_PLATE: Length = Length::micrometres(990_600);

/// Eight teeth to the foot.
///
/// Basis: house default, inferred from 96 and 104 teeth on 12 ft and 13 ft boards.
pub const USUAL_PITCH: Length = Length::micrometres(38_100);

/// A foot.
///
/// Basis: arithmetic: the international foot, 304.8 mm exactly.
pub const FOOT: Length = Length::micrometres(304_800);

/// The full row on a board of twelve feet.
///
/// Units: teeth.
/// Basis: common practice, no published source.
pub const TEETH_ON_12_FEET: u32 = 96;

/// The full row on a board of thirteen feet.
///
/// Units: teeth.
/// Basis: common practice, no published source.
pub const TEETH_ON_13_FEET: u32 = 104;

/// How long a moldboard may be.
///
/// Units: millimetres.
/// Basis: house default, to stop nonsense; the longest built are a little over 7 m, value from memory.
const MOLDBOARDS: (f64, f64) = (1200.0, 8000.0);

/// How long a plate may be.
///
/// Units: millimetres.
/// Basis: house default, to stop nonsense.
const PLATES: (f64, f64) = (150.0, 2500.0);

/// How far apart neighbouring teeth may be.
///
/// Units: millimetres.
/// Basis: house default, to stop nonsense.
const PITCHES: (f64, f64) = (20.0, 150.0);

/// What is known of the machine and the edge it carries.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Machine {
    moldboard: Length,
    plates: (Length, Length),
    pitch: Length,
}

impl Machine {
    /// A machine with its moldboard, the two plate lengths to be had (twice the same where there is one), and the pitch.
    ///
    /// Units: lengths.
    /// Valid: moldboard 1.2 to 8 m; plates 150 mm to 2.5 m, the shorter no longer than the moldboard, so that one fits;
    /// pitch 20 to 150 mm (house defaults, to stop nonsense; the longest moldboards built are a little over 7 m, value
    /// from memory).
    /// Errors: [`OutOfRange`] naming the first length that is not.
    /// Basis: house default.
    ///
    /// ```
    /// use evenrow_rules::machine::{FOOT, LONG_PLATE, Machine, SHORT_PLATE, USUAL_PITCH};
    /// use evenrow_rules::quantity::Length;
    /// assert!(Machine::new(FOOT.times(12), (SHORT_PLATE, LONG_PLATE), USUAL_PITCH).is_ok());
    /// assert!(Machine::new(Length::ZERO, (SHORT_PLATE, LONG_PLATE), USUAL_PITCH).is_err());
    /// ```
    pub fn new(
        moldboard: Length,
        plates: (Length, Length),
        pitch: Length,
    ) -> Result<Machine, OutOfRange> {
        let (board, pitch_mm) = (moldboard.in_millimetres(), pitch.in_millimetres());
        within(What::Moldboard, board, MOLDBOARDS.0, MOLDBOARDS.1)?;
        for plate in [plates.0, plates.1] {
            within(What::Plate, plate.in_millimetres(), PLATES.0, PLATES.1)?;
        }
        let shorter = plates.0.in_millimetres().min(plates.1.in_millimetres());
        within(What::Plate, shorter, PLATES.0, board)?;
        within(What::Pitch, pitch_mm, PITCHES.0, PITCHES.1)?;
        Ok(Machine {
            moldboard,
            plates,
            pitch,
        })
    }

    /// A machine with the usual plates and pitch.
    ///
    /// Units: length.
    /// Valid: moldboard 1.2 to 8 m.
    /// Errors: [`OutOfRange`] for another moldboard.
    /// Basis: house default.
    ///
    /// ```
    /// use evenrow_rules::machine::{FOOT, LONG_PLATE, Machine, SHORT_PLATE, USUAL_PITCH};
    /// let machine = Machine::with_moldboard(FOOT.times(13));
    /// assert_eq!(machine, Machine::new(FOOT.times(13), (SHORT_PLATE, LONG_PLATE), USUAL_PITCH));
    /// assert!(Machine::with_moldboard(FOOT.times(3)).is_err()); // 914.4 mm
    /// ```
    pub fn with_moldboard(moldboard: Length) -> Result<Machine, OutOfRange> {
        Machine::new(moldboard, (SHORT_PLATE, LONG_PLATE), USUAL_PITCH)
    }

    /// The length of the moldboard.
    ///
    /// Units: length.
    /// Valid: always.
    /// Basis: as given.
    ///
    /// ```
    /// use evenrow_rules::machine::{FOOT, Machine};
    /// let machine = Machine::with_moldboard(FOOT.times(12)).unwrap();
    /// assert_eq!(machine.moldboard().in_micrometres(), 12 * 304_800);
    /// ```
    pub const fn moldboard(&self) -> Length {
        self.moldboard
    }

    /// The two plate lengths to be had.
    ///
    /// Units: lengths.
    /// Valid: always.
    /// Basis: as given.
    ///
    /// ```
    /// use evenrow_rules::machine::{FOOT, LONG_PLATE, Machine, SHORT_PLATE};
    /// let machine = Machine::with_moldboard(FOOT.times(12)).unwrap();
    /// assert_eq!(machine.plates(), (SHORT_PLATE, LONG_PLATE));
    /// ```
    pub const fn plates(&self) -> (Length, Length) {
        self.plates
    }

    /// The distance between neighbouring teeth.
    ///
    /// Units: length.
    /// Valid: always.
    /// Basis: as given.
    ///
    /// ```
    /// use evenrow_rules::machine::{FOOT, Machine};
    /// let machine = Machine::with_moldboard(FOOT.times(12)).unwrap();
    /// assert_eq!(8 * machine.pitch().in_micrometres(), FOOT.in_micrometres());
    /// ```
    pub const fn pitch(&self) -> Length {
        self.pitch
    }
}

/// The plates that cover a moldboard.
#[derive(Clone, Debug, PartialEq)]
pub struct RowFit {
    /// Length of each plate, from the left as seen from the cab.
    pub plates: Vec<Length>,
    /// Teeth on each plate, in the same order.
    pub teeth: Vec<u32>,
    /// What the plates cover together.
    pub covered: Length,
    /// What is left over and takes a plain edge.
    pub bare: Length,
}

impl RowFit {
    /// How many teeth a full row has.
    ///
    /// Units: teeth.
    /// Valid: always.
    /// Basis: arithmetic.
    ///
    /// ```
    /// use evenrow_rules::machine::{FOOT, Machine, fit};
    /// let fit = fit(&Machine::with_moldboard(FOOT.times(13)).unwrap());
    /// assert_eq!(fit.teeth, [26, 26, 26, 26]);
    /// assert_eq!(fit.full_row(), 104);
    /// ```
    pub fn full_row(&self) -> u32 {
        self.teeth.iter().sum()
    }
}

/// The plates for a moldboard: the largest cover that does not stick out, then the fewest different lengths, then the
/// fewest plates.
///
/// Units: whole micrometres inside, so that four plates of 914.4 mm fit 3657.6 mm exactly.
/// Valid: every [`Machine`].
/// Basis: common practice, no published source, for [`TEETH_ON_12_FEET`] and [`TEETH_ON_13_FEET`]; the choice for other
/// boards is a house default.
///
/// ```
/// use evenrow_rules::machine::{FOOT, Machine, fit};
/// let fit = fit(&Machine::with_moldboard(FOOT.times(12)).unwrap());
/// assert_eq!((fit.plates.len(), fit.full_row()), (4, 96));
/// ```
pub fn fit(machine: &Machine) -> RowFit {
    let board = machine.moldboard.in_micrometres();
    let (a, b) = (
        machine.plates.0.in_micrometres(),
        machine.plates.1.in_micrometres(),
    );
    let (short, long) = (a.min(b), a.max(b));
    // The shortest plate is 150 mm and the longest board 8 m: at most 53 rows are looked at.
    let best = (0..=board / long)
        .map(|longs| (longs, (board - longs * long) / short))
        .max_by_key(|&(longs, shorts)| {
            let covered = longs * long + shorts * short;
            let one_length = longs == 0 || shorts == 0 || long == short;
            (covered, one_length, core::cmp::Reverse(longs + shorts))
        })
        .unwrap_or((0, 0));
    // The longer plates stand on the left; the order matters to nobody, but it has to be one.
    let plates: Vec<Length> = core::iter::repeat_n(Length::micrometres(long), best.0 as usize)
        .chain(core::iter::repeat_n(
            Length::micrometres(short),
            best.1 as usize,
        ))
        .collect();
    let covered = best.0 * long + best.1 * short;
    RowFit {
        teeth: plates
            .iter()
            .map(|&plate| teeth_on(plate, machine.pitch))
            .collect(),
        plates,
        covered: Length::micrometres(covered),
        bare: Length::micrometres(board - covered),
    }
}

/// How many teeth a plate holds: one to a pitch.
///
/// Units: lengths; teeth.
/// Valid: always; no pitch, no teeth.
/// Basis: arithmetic on the house pitch, rounded down.
///
/// ```
/// use evenrow_rules::machine::{USUAL_PITCH, teeth_on};
/// use evenrow_rules::quantity::Length;
/// let on = |mm| teeth_on(Length::millimetres(mm).unwrap(), USUAL_PITCH);
/// assert_eq!([914.4, 950.0, 990.6].map(on), [24, 24, 26]); // 950 / 38.1 = 24.9
/// assert_eq!(teeth_on(USUAL_PITCH, Length::ZERO), 0);
/// ```
pub fn teeth_on(plate: Length, pitch: Length) -> u32 {
    plate
        .in_micrometres()
        .checked_div(pitch.in_micrometres())
        .unwrap_or(0)
}

/// The most teeth whose working width stays within a wanted width.
///
/// A row of `n` teeth takes `n` pitches along the moldboard, and `n · pitch · sin(grading angle)` across the road.
///
/// Units: lengths; the grading angle from the direction of travel.
/// Valid: grading angle over 0° to 90°; at 0° the row has no width and the answer is 0.
/// Basis: plane geometry.
///
/// ```
/// use evenrow_rules::{angle::Angle, machine::{USUAL_PITCH, teeth_for_width}, quantity::Length};
/// let teeth = teeth_for_width(Length::millimetres(2500.0).unwrap(), USUAL_PITCH, Angle::whole_degrees(60));
/// assert_eq!(teeth, 75); // 75 · 38.1 · sin 60° = 2474.7 mm, 76 would be 2507.7
/// ```
pub fn teeth_for_width(width: Length, pitch: Length, grading: Angle) -> u32 {
    let one = pitch.in_millimetres() * grading.sine();
    // An exact fit must not lose a tooth to float noise; a nanometre is far below any tape.
    if 1e-6 < one {
        libm::floor((width.in_millimetres() + 1e-6) / one) as u32
    } else {
        0
    }
}

/// How wide a length of moldboard works across the road: `L · sin(grading angle)`.
///
/// The road manuals measure from square across and write `L · cos`; it is the same number.
///
/// Units: length; the grading angle from the direction of travel, 90° is square across and keeps the whole length.
/// Valid: 0° to 90°.
/// Basis: plane geometry.
///
/// ```
/// use evenrow_rules::{angle::Angle, machine::{FOOT, effective_width}};
/// let width = effective_width(FOOT.times(12), Angle::whole_degrees(60));
/// assert!((width.in_millimetres() / 304.8 - 10.392).abs() < 0.0005);
/// ```
pub fn effective_width(length: Length, grading: Angle) -> Length {
    length.share(grading.sine())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(feet: f64, plates: &[f64], teeth: u32) {
        let board = Length::millimetres(feet * 304.8).unwrap();
        let fit = fit(&Machine::with_moldboard(board).unwrap());
        let millimetres: Vec<f64> = fit
            .plates
            .iter()
            .map(|plate| plate.in_millimetres())
            .collect();
        assert_eq!((millimetres.as_slice(), fit.full_row()), (plates, teeth));
    }

    /// Common practice, no published source: the two counts.
    #[test]
    fn a_twelve_foot_board_takes_96_teeth_and_a_thirteen_foot_board_104() {
        check(12.0, &[914.4; 4], 96);
        check(13.0, &[990.6; 4], 104);
    }

    #[test]
    fn a_fourteen_foot_board_takes_the_largest_cover_and_leaves_a_foot_bare() {
        check(14.0, &[990.6; 4], 104);
        let board = FOOT.times(14);
        let bare = fit(&Machine::with_moldboard(board).unwrap()).bare;
        assert!((bare.in_millimetres() - 304.8).abs() < 0.001);
    }

    #[test]
    fn no_row_sticks_out_and_none_leaves_room_for_another_plate() {
        for um in (1_200_000..=8_000_000).step_by(700) {
            let board = Length::micrometres(um);
            let fit = fit(&Machine::with_moldboard(board).unwrap());
            assert!(fit.covered <= board, "{um}");
            assert!(fit.bare < SHORT_PLATE, "{um}");
            let sum: u32 = fit.plates.iter().map(|plate| plate.in_micrometres()).sum();
            assert_eq!(sum, fit.covered.in_micrometres());
        }
    }

    #[test]
    fn a_board_of_nothing_and_a_board_of_forty_metres_are_refused_with_the_right_range() {
        for mm in [0.0, 40_000.0] {
            let refused = Machine::with_moldboard(Length::millimetres(mm).unwrap()).unwrap_err();
            assert_eq!(
                (refused.what, refused.got, refused.min, refused.max),
                (What::Moldboard, mm, 1200.0, 8000.0)
            );
        }
    }

    #[test]
    fn one_more_tooth_would_always_be_too_wide() {
        for degrees in 30..80 {
            let grading = Angle::whole_degrees(degrees);
            for mm in (500..4000).step_by(37) {
                let width = Length::millimetres(f64::from(mm)).unwrap();
                let teeth = teeth_for_width(width, USUAL_PITCH, grading);
                assert!(
                    effective_width(USUAL_PITCH.times(teeth), grading).in_millimetres()
                        <= f64::from(mm) + 1e-5
                );
                assert!(
                    f64::from(mm)
                        < effective_width(USUAL_PITCH.times(teeth + 1), grading).in_millimetres()
                );
            }
        }
    }
}
