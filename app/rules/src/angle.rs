//! Angles in degrees, and the only place that knows radians.
//!
//! Two angles matter on this machine. The *cutting angle* is the angle between the tooth's axis and the road, tip
//! leading, seen along the moldboard: 90° stands upright, 0° lies flat. The *grading angle* is the angle between the
//! moldboard and the direction of travel: 90° is square across, 0° is in line with the travel.

use crate::quantity::{OutOfRange, What, within};

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
        within(What::Angle, degrees, -360.0, 360.0).map(Angle)
    }

    /// An angle in whole degrees, for limits written in the code.
    ///
    /// Units: degrees.
    /// Valid: every `u8`.
    /// Basis: plane geometry.
    pub const fn whole_degrees(degrees: u8) -> Angle {
        Angle(degrees as f64)
    }

    /// The angle in degrees.
    ///
    /// Valid: always.
    /// Basis: plane geometry.
    pub const fn in_degrees(self) -> f64 {
        self.0
    }

    /// Its sine: 0 at 0°, 0.5 at 30°, 1 at 90°.
    ///
    /// Valid: always.
    /// Basis: plane geometry.
    pub fn sine(self) -> f64 {
        libm::sin(self.radians())
    }

    /// Its cosine: 1 at 0°, 0.5 at 60°, 0 at 90°.
    ///
    /// Valid: always.
    /// Basis: plane geometry.
    pub fn cosine(self) -> f64 {
        libm::cos(self.radians())
    }

    fn radians(self) -> f64 {
        self.0.to_radians()
    }
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
    /// Valid: always.
    /// Basis: plane geometry.
    pub const fn low(self) -> Angle {
        self.low
    }

    /// What to aim for.
    ///
    /// Valid: always.
    /// Basis: plane geometry.
    pub const fn target(self) -> Angle {
        self.target
    }

    /// The most that is still right.
    ///
    /// Valid: always.
    /// Basis: plane geometry.
    pub const fn high(self) -> Angle {
        self.high
    }
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
    fn a_band_given_in_any_order_is_never_inside_out() {
        for (low, target, high) in [(60, 50, 40), (50, 50, 50), (47, 50, 53)] {
            let band = AngleBand::whole_degrees(low, target, high);
            assert!(band.low() <= band.target() && band.target() <= band.high());
        }
    }
}
