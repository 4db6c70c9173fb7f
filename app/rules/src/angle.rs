//! Angles in degrees, and the only place that knows radians.
//!
//! Two angles matter on this machine. The *cutting angle* is the angle between the tooth's axis and the road, tip
//! leading, seen along the moldboard: 90° stands upright, 0° lies flat. The *grading angle* is the angle between the
//! moldboard and the direction of travel: 90° is square across, 0° is in line with the travel.

use crate::quantity::{Length, OutOfRange, What, within};

/// The largest angle, either way: once round.
///
/// Units: degrees.
/// Basis: plane geometry.
const WHOLE_TURN: f64 = 360.0;

/// The angle of a straight line: half way round.
///
/// Units: degrees.
/// Basis: plane geometry.
pub(crate) const HALF_TURN: f64 = 180.0;

/// An angle between -360 and +360 degrees.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Angle(f64);

impl Angle {
    /// An angle in degrees.
    ///
    /// Units: degrees.
    /// Valid: -360 to +360.
    /// Errors: [`OutOfRange`] outside that, and for NaN.
    /// Basis: plane geometry.
    ///
    /// ```
    /// use evenrow_rules::angle::Angle;
    /// assert!((Angle::degrees(30.0).unwrap().sine() - 0.5).abs() < 1e-15);
    /// assert!(Angle::degrees(400.0).is_err());
    /// ```
    pub fn degrees(degrees: f64) -> Result<Angle, OutOfRange> {
        within(What::Angle, degrees, -WHOLE_TURN, WHOLE_TURN).map(Angle)
    }

    /// An angle in whole degrees, for limits written in the code.
    ///
    /// Units: degrees.
    /// Valid: every `u8`.
    /// Basis: plane geometry.
    ///
    /// ```
    /// use evenrow_rules::angle::Angle;
    /// assert_eq!(Angle::whole_degrees(50).in_degrees(), 50.0);
    /// ```
    pub const fn whole_degrees(degrees: u8) -> Angle {
        Angle(degrees as f64)
    }

    /// The angle in degrees.
    ///
    /// Units: degrees.
    /// Valid: always.
    /// Basis: plane geometry.
    ///
    /// ```
    /// use evenrow_rules::angle::Angle;
    /// assert_eq!(Angle::degrees(36.5).unwrap().in_degrees(), 36.5);
    /// ```
    pub const fn in_degrees(self) -> f64 {
        self.0
    }

    /// Its sine: 0 at 0°, 0.5 at 30°, 1 at 90°.
    ///
    /// Units: none.
    /// Valid: always.
    /// Basis: plane geometry.
    ///
    /// ```
    /// use evenrow_rules::angle::Angle;
    /// assert!((Angle::whole_degrees(30).sine() - 0.5).abs() < 1e-15);
    /// ```
    pub fn sine(self) -> f64 {
        libm::sin(self.radians())
    }

    /// Its cosine: 1 at 0°, 0.5 at 60°, 0 at 90°.
    ///
    /// Units: none.
    /// Valid: always.
    /// Basis: plane geometry.
    ///
    /// ```
    /// use evenrow_rules::angle::Angle;
    /// assert!((Angle::whole_degrees(60).cosine() - 0.5).abs() < 1e-15);
    /// ```
    pub fn cosine(self) -> f64 {
        libm::cos(self.radians())
    }

    /// Its tangent: 0 at 0°, 1 at 45°, and very large just below 90°.
    ///
    /// Units: none.
    /// Valid: always; at 90° the cosine is not quite nothing in floating point, so the result stays finite.
    /// Basis: plane geometry.
    ///
    /// ```
    /// use evenrow_rules::angle::Angle;
    /// assert!((Angle::whole_degrees(45).tangent() - 1.0).abs() < 1e-15);
    /// ```
    pub fn tangent(self) -> f64 {
        libm::tan(self.radians())
    }

    /// The angle whose tangent is `opposite / adjacent`, in the quadrant where both lie.
    ///
    /// 0° for (0, 1), 90° for (1, 0), 180° for (0, -1), -90° for (-1, 0).
    ///
    /// Units: the sides in any one unit; degrees out, ]-180, 180].
    /// Valid: finite sides that are not both nothing.
    /// Errors: `None` otherwise, since no angle is right then.
    /// Basis: plane geometry.
    ///
    /// ```
    /// use evenrow_rules::angle::Angle;
    /// let angle = Angle::of_sides(1.0, 3.0_f64.sqrt()).unwrap();
    /// assert!((angle.in_degrees() - 30.0).abs() < 1e-12);
    /// assert_eq!(Angle::of_sides(0.0, 0.0), None);
    /// ```
    pub fn of_sides(opposite: f64, adjacent: f64) -> Option<Angle> {
        let both_nothing = opposite == 0.0 && adjacent == 0.0;
        if !opposite.is_finite() || !adjacent.is_finite() || both_nothing {
            return None;
        }
        let degrees = libm::atan2(opposite, adjacent).to_degrees();
        // A hair short of half a turn the other way is rounded to -180, which is 180.
        Some(Angle(if -HALF_TURN < degrees {
            degrees
        } else {
            HALF_TURN
        }))
    }

    /// The angle between 0° and 180° that has this cosine.
    ///
    /// 0° for 1, 60° for 0.5, 90° for 0, 180° for -1.
    ///
    /// Units: degrees out.
    /// Valid: -1 to 1.
    /// Errors: `None` outside that, and for NaN.
    /// Basis: plane geometry.
    ///
    /// ```
    /// use evenrow_rules::angle::Angle;
    /// assert!((Angle::of_cosine(0.5).unwrap().in_degrees() - 60.0).abs() < 1e-12);
    /// assert_eq!(Angle::of_cosine(1.1), None);
    /// ```
    pub fn of_cosine(cosine: f64) -> Option<Angle> {
        (-1.0..=1.0)
            .contains(&cosine)
            .then(|| Angle(libm::acos(cosine).to_degrees()))
    }

    /// How long the arc is that this angle cuts out of a circle, along the curve: a tape bent round it.
    ///
    /// Units: lengths.
    /// Valid: always; a negative angle has the arc of the same angle the other way, and nothing exceeds a kilometre.
    /// Basis: plane geometry, `r · angle` in radians.
    ///
    /// ```
    /// use evenrow_rules::{angle::Angle, quantity::Length};
    /// let arc = Angle::whole_degrees(90).arc(Length::millimetres(1000.0).unwrap());
    /// assert!((arc.in_millimetres() - 1570.796).abs() < 0.001);
    /// ```
    pub fn arc(self, radius: Length) -> Length {
        scaled(radius, self.radians())
    }

    /// How far apart the ends of that arc are, straight across: a rule laid from one to the other.
    ///
    /// Units: lengths.
    /// Valid: always; see [`Angle::arc`].
    /// Basis: plane geometry, `2 r · sin(angle / 2)`.
    ///
    /// ```
    /// use evenrow_rules::{angle::Angle, quantity::Length};
    /// let chord = Angle::whole_degrees(60).chord(Length::millimetres(450.0).unwrap());
    /// assert!((chord.in_millimetres() - 450.0).abs() < 1e-9);
    /// ```
    pub fn chord(self, radius: Length) -> Length {
        scaled(radius, 2.0 * libm::sin(self.radians() / 2.0))
    }

    /// This angle and another one together.
    ///
    /// Units: degrees.
    /// Valid: always; held to -360 to +360.
    /// Basis: plane geometry.
    ///
    /// ```
    /// use evenrow_rules::angle::Angle;
    /// assert_eq!(Angle::whole_degrees(50).plus(Angle::whole_degrees(3)).in_degrees(), 53.0);
    /// ```
    #[must_use]
    pub fn plus(self, other: Angle) -> Angle {
        Angle::held(self.0 + other.0)
    }

    /// The same angle the other way round.
    ///
    /// Units: degrees.
    /// Valid: always.
    /// Basis: plane geometry.
    ///
    /// ```
    /// use evenrow_rules::angle::Angle;
    /// assert_eq!(Angle::whole_degrees(50).reversed().in_degrees(), -50.0);
    /// ```
    #[must_use]
    pub fn reversed(self) -> Angle {
        Angle(-self.0)
    }

    /// How large it is, whichever way it turns.
    ///
    /// Units: degrees.
    /// Valid: always.
    /// Basis: plane geometry.
    ///
    /// ```
    /// use evenrow_rules::angle::Angle;
    /// assert_eq!(Angle::degrees(-50.0).unwrap().size().in_degrees(), 50.0);
    /// ```
    #[must_use]
    pub fn size(self) -> Angle {
        Angle(self.0.abs())
    }

    /// An angle worked out inside the crate: held to a whole turn either way, NaN counts as nothing.
    pub(crate) fn held(degrees: f64) -> Angle {
        if degrees.is_nan() {
            Angle(0.0)
        } else {
            Angle(degrees.clamp(-WHOLE_TURN, WHOLE_TURN))
        }
    }

    fn radians(self) -> f64 {
        self.0.to_radians()
    }
}

/// A length times a factor of either sign, held to a kilometre as every length is.
fn scaled(length: Length, factor: f64) -> Length {
    Length::held(length.in_millimetres() * factor.abs())
}

/// A setting to aim for, and how far from it is still right. Always low ≤ target ≤ high.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AngleBand {
    low: Angle,
    target: Angle,
    high: Angle,
}

impl AngleBand {
    /// A target with equal or unequal room below and above it.
    ///
    /// Units: whole degrees, all three.
    /// Valid: every `u8`, in any order; they are put in order, so a band can never be inside out.
    /// Basis: plane geometry.
    ///
    /// ```
    /// use evenrow_rules::angle::AngleBand;
    /// assert_eq!(AngleBand::whole_degrees(47, 50, 53).target().in_degrees(), 50.0);
    /// ```
    pub const fn whole_degrees(low: u8, target: u8, high: u8) -> AngleBand {
        let low = if low < target { low } else { target };
        let high = if target < high { high } else { target };
        AngleBand {
            low: Angle::whole_degrees(low),
            target: Angle::whole_degrees(target),
            high: Angle::whole_degrees(high),
        }
    }

    /// The least that is still right.
    ///
    /// Units: degrees.
    /// Valid: always.
    /// Basis: plane geometry.
    ///
    /// ```
    /// use evenrow_rules::angle::AngleBand;
    /// assert_eq!(AngleBand::whole_degrees(47, 50, 53).low().in_degrees(), 47.0);
    /// ```
    pub const fn low(self) -> Angle {
        self.low
    }

    /// What to aim for.
    ///
    /// Units: degrees.
    /// Valid: always.
    /// Basis: plane geometry.
    ///
    /// ```
    /// use evenrow_rules::angle::AngleBand;
    /// assert_eq!(AngleBand::whole_degrees(47, 50, 53).target().in_degrees(), 50.0);
    /// ```
    pub const fn target(self) -> Angle {
        self.target
    }

    /// The most that is still right.
    ///
    /// Units: degrees.
    /// Valid: always.
    /// Basis: plane geometry.
    ///
    /// ```
    /// use evenrow_rules::angle::AngleBand;
    /// assert_eq!(AngleBand::whole_degrees(47, 50, 53).high().in_degrees(), 53.0);
    /// ```
    pub const fn high(self) -> Angle {
        self.high
    }

    /// How a measured angle stands to it: right anywhere from low to high, else off the target by so much.
    ///
    /// Units: degrees.
    /// Valid: always.
    /// Basis: arithmetic.
    ///
    /// ```
    /// use evenrow_rules::angle::{Against, Angle, AngleBand};
    /// let band = AngleBand::whole_degrees(47, 50, 53);
    /// assert_eq!(band.compare(Angle::whole_degrees(53)), Against::InRange);
    /// assert_eq!(band.compare(Angle::whole_degrees(54)), Against::Over(Angle::whole_degrees(4)));
    /// assert_eq!(band.compare(Angle::whole_degrees(46)), Against::Under(Angle::whole_degrees(4)));
    /// ```
    pub fn compare(self, measured: Angle) -> Against {
        let off = measured.plus(self.target.reversed());
        if self.high < measured {
            Against::Over(off)
        } else if measured < self.low {
            Against::Under(off.reversed())
        } else {
            Against::InRange
        }
    }
}

/// How a measured angle stands to the one wanted.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Against {
    /// As it should be.
    InRange,
    /// Larger than the target, by so much.
    Over(Angle),
    /// Smaller than the target, by so much.
    Under(Angle),
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sine_and_cosine_agree_with_pythagoras_at_every_whole_degree() {
        for degrees in 0..=180 {
            let angle = Angle::whole_degrees(degrees);
            assert!(
                (angle.sine() * angle.sine() + angle.cosine() * angle.cosine() - 1.0).abs() < 1e-14
            );
        }
    }

    #[test]
    fn square_across_keeps_the_whole_length_and_in_line_keeps_none() {
        assert!((Angle::whole_degrees(90).sine() - 1.0).abs() < 1e-15);
        assert!(Angle::whole_degrees(0).sine().abs() < 1e-15);
    }

    #[test]
    fn the_angle_of_two_sides_comes_back_at_every_whole_degree_and_minus_180_never() {
        for degrees in -179..=180 {
            let given = Angle::degrees(f64::from(degrees)).unwrap();
            let back = Angle::of_sides(given.sine(), given.cosine()).unwrap();
            assert!((back.in_degrees() - given.in_degrees()).abs() < 1e-12);
        }
        for zero in [0.0, -0.0, -1e-30] {
            assert_eq!(Angle::of_sides(zero, -1.0), Angle::degrees(180.0).ok());
        }
        assert_eq!(Angle::of_sides(-0.0, 0.0), None);
        assert_eq!(Angle::of_sides(f64::INFINITY, 1.0), None);
        assert_eq!(Angle::of_sides(1.0, f64::NEG_INFINITY), None);
    }

    #[test]
    fn the_angle_of_a_cosine_comes_back_at_every_whole_degree() {
        for degrees in 0..=180 {
            let given = Angle::whole_degrees(degrees);
            let back = Angle::of_cosine(given.cosine()).unwrap();
            assert!((back.in_degrees() - given.in_degrees()).abs() < 1e-6);
        }
        for bad in [1.0 + f64::EPSILON, -1.0 - f64::EPSILON, f64::NAN] {
            assert_eq!(Angle::of_cosine(bad), None);
        }
    }

    #[test]
    fn an_arc_is_the_same_both_ways_round_and_never_shorter_than_its_chord() {
        let radius = Length::micrometres(450_000);
        for degrees in 0..=180 {
            let (one, other) = (
                Angle::whole_degrees(degrees),
                Angle::degrees(-f64::from(degrees)).unwrap(),
            );
            assert_eq!(one.arc(radius), other.arc(radius));
            assert_eq!(one.chord(radius), other.chord(radius));
            assert!(one.chord(radius) <= one.arc(radius));
        }
        let far = Length::micrometres(u32::MAX);
        assert_eq!(Angle::whole_degrees(180).arc(far), far);
    }

    #[test]
    fn angles_add_up_to_a_whole_turn_at_most() {
        let turn = Angle::degrees(-200.0).unwrap();
        assert_eq!(turn.plus(turn), Angle::degrees(-360.0).unwrap());
    }

    #[test]
    fn a_band_given_in_any_order_is_never_inside_out() {
        for (low, target, high) in [(60, 50, 40), (50, 50, 50), (47, 50, 53)] {
            let band = AngleBand::whole_degrees(low, target, high);
            assert!(band.low() <= band.target() && band.target() <= band.high());
        }
        let band = |low, target, high| {
            let band = AngleBand::whole_degrees(low, target, high);
            [band.low(), band.target(), band.high()]
        };
        assert_eq!(band(47, 50, 53), [47, 50, 53].map(Angle::whole_degrees));
        assert_eq!(band(60, 50, 40), [50; 3].map(Angle::whole_degrees));
    }
}
