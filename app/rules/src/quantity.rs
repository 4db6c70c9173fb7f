//! Numbers that know their unit and their range: lengths, temperatures, speeds, instants and spans of time.
//!
//! Ranges are checked once, in the constructors, and NaN and infinities stop there; inside the crate nothing can fail.
//! Never here: angles (`angle`), facts of the trade, the present time.

use core::time::Duration;

/// Which number was out of range; the app has the word for it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum What {
    /// A length in millimetres.
    Length,
    /// The length of a moldboard in millimetres.
    Moldboard,
    /// The length of a mounting plate in millimetres.
    Plate,
    /// The distance between neighbouring teeth in millimetres.
    Pitch,
    /// A temperature in degrees Celsius.
    Temperature,
    /// An angle in degrees.
    Angle,
}

/// A number that no quantity of that kind can have: what it was, what was given and what would be right.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OutOfRange {
    /// Which number it was.
    pub what: What,
    /// What was given; may be NaN.
    pub got: f64,
    /// The least that is allowed.
    pub min: f64,
    /// The most that is allowed.
    pub max: f64,
}

/// Lets a number through that lies in a closed range; everything else, NaN included, is refused.
///
/// Valid: any bounds with `min <= max`.
/// Errors: [`OutOfRange`] outside the bounds.
/// Basis: arithmetic.
pub fn within(what: What, got: f64, min: f64, max: f64) -> Result<f64, OutOfRange> {
    if min <= got && got <= max {
        Ok(got)
    } else {
        Err(OutOfRange {
            what,
            got,
            min,
            max,
        })
    }
}

/// A length: never negative, at most a kilometre.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Length(f64);

impl Length {
    /// No length at all.
    ///
    /// Basis: arithmetic.
    pub const ZERO: Length = Length(0.0);

    /// A length given in millimetres.
    ///
    /// Units: millimetres.
    /// Valid: 0 to 1,000,000 mm.
    /// Errors: [`OutOfRange`] outside that, and for NaN.
    /// Basis: arithmetic; the upper end is only there to stop nonsense.
    ///
    /// ```
    /// use evenrow_rules::quantity::Length;
    /// assert_eq!(Length::millimetres(38.1).unwrap().in_millimetres(), 38.1);
    /// assert!(Length::millimetres(f64::NAN).is_err());
    /// ```
    pub fn millimetres(mm: f64) -> Result<Length, OutOfRange> {
        within(What::Length, mm, 0.0, 1_000_000.0).map(Length)
    }

    /// A length in whole micrometres, as records keep it: no rounding on the way in or out.
    ///
    /// Units: micrometres.
    /// Valid: every `u32`, up to 4,294 m; what exceeds a kilometre is cut to a kilometre.
    /// Basis: arithmetic.
    ///
    /// ```
    /// use evenrow_rules::quantity::Length;
    /// assert_eq!(Length::micrometres(914_400).in_millimetres(), 914.4);
    /// ```
    pub const fn micrometres(um: u32) -> Length {
        let um = if um < 1_000_000_000 {
            um
        } else {
            1_000_000_000
        };
        Length(um as f64 / 1000.0)
    }

    /// The length in millimetres.
    ///
    /// Valid: always.
    /// Basis: arithmetic.
    pub const fn in_millimetres(self) -> f64 {
        self.0
    }

    /// The length in whole micrometres, rounded to the nearest.
    ///
    /// Valid: always; a kilometre is 10⁹ µm and fits.
    /// Basis: arithmetic.
    pub fn in_micrometres(self) -> u32 {
        libm::round(self.0 * 1000.0) as u32
    }

    /// This length as many times over.
    ///
    /// Valid: always; cut to a kilometre.
    /// Basis: arithmetic.
    #[must_use]
    pub fn times(self, count: u32) -> Length {
        Length((self.0 * f64::from(count)).min(1_000_000.0))
    }

    /// This length scaled by a factor between nothing and all of it, as a sine or a share does.
    ///
    /// Valid: any factor; it is held to 0 to 1, and NaN counts as 0.
    /// Basis: arithmetic.
    #[must_use]
    pub fn share(self, factor: f64) -> Length {
        if 0.0 < factor {
            Length(self.0 * factor.min(1.0))
        } else {
            Length::ZERO
        }
    }

    /// What is left when the other length is taken off; never below nothing.
    ///
    /// Valid: always.
    /// Basis: arithmetic.
    #[must_use]
    pub fn less(self, other: Length) -> Length {
        Length((self.0 - other.0).max(0.0))
    }
}

/// A temperature in the range that weather and road surfaces have.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Temperature(f64);

impl Temperature {
    /// A temperature given in degrees Celsius.
    ///
    /// Units: degrees Celsius.
    /// Valid: -70 to +90, which holds every air and road surface on record with room.
    /// Errors: [`OutOfRange`] outside that, and for NaN.
    /// Basis: house default, to stop nonsense.
    ///
    /// ```
    /// use evenrow_rules::quantity::Temperature;
    /// assert_eq!(Temperature::celsius(12.0).unwrap().in_celsius(), 12.0);
    /// assert!(Temperature::celsius(120.0).is_err());
    /// ```
    pub fn celsius(degrees: f64) -> Result<Temperature, OutOfRange> {
        within(What::Temperature, degrees, -70.0, 90.0).map(Temperature)
    }

    /// A temperature in whole degrees Celsius, for limits written in the code.
    ///
    /// Units: degrees Celsius.
    /// Valid: every `i8`; held to -70 to +90.
    /// Basis: arithmetic.
    pub const fn whole_celsius(degrees: i8) -> Temperature {
        Temperature(if degrees < -70 {
            -70.0
        } else if 90 < degrees {
            90.0
        } else {
            degrees as f64
        })
    }

    /// The temperature in degrees Celsius.
    ///
    /// Valid: always.
    /// Basis: arithmetic.
    pub const fn in_celsius(self) -> f64 {
        self.0
    }
}

/// A speed in whole kilometres per hour, for limits.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct KilometresPerHour(pub u8);

/// A moment, told as milliseconds since 1970-01-01T00:00:00Z. A change of zone or of daylight saving does not move it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Instant(i64);

impl Instant {
    /// A moment from its milliseconds since 1970 in UTC.
    ///
    /// Units: milliseconds.
    /// Valid: every `i64`.
    /// Basis: the usual count of Unix time.
    pub const fn from_unix_ms(ms: i64) -> Instant {
        Instant(ms)
    }

    /// Milliseconds since 1970 in UTC.
    ///
    /// Valid: always.
    /// Basis: the usual count of Unix time.
    pub const fn unix_ms(self) -> i64 {
        self.0
    }

    /// How long it has been since an earlier moment; nothing if that moment is not earlier.
    ///
    /// Valid: always; a negative span is clamped to zero.
    /// Basis: arithmetic.
    ///
    /// ```
    /// use core::time::Duration;
    /// use evenrow_rules::quantity::Instant;
    /// let seven = Instant::from_unix_ms(7 * 3_600_000);
    /// assert_eq!(seven.plus(Duration::from_secs(60)).since(seven), Duration::from_secs(60));
    /// assert_eq!(seven.since(seven.plus(Duration::from_secs(60))), Duration::ZERO);
    /// ```
    pub fn since(self, earlier: Instant) -> Duration {
        Duration::from_millis(self.0.saturating_sub(earlier.0).max(0) as u64)
    }

    /// The moment that comes a given time later.
    ///
    /// Valid: always; stops at the end of the count.
    /// Basis: arithmetic.
    #[must_use]
    pub fn plus(self, later: Duration) -> Instant {
        Instant(
            self.0
                .saturating_add(i64::try_from(later.as_millis()).unwrap_or(i64::MAX)),
        )
    }

    /// The moment a given time earlier.
    ///
    /// Valid: always; stops at the beginning of the count.
    /// Basis: arithmetic.
    #[must_use]
    pub fn minus(self, earlier: Duration) -> Instant {
        Instant(
            self.0
                .saturating_sub(i64::try_from(earlier.as_millis()).unwrap_or(i64::MAX)),
        )
    }
}

/// A stretch of time that never ends before it starts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Span {
    start: Instant,
    end: Instant,
}

impl Span {
    /// From one moment to a later one. Given the other way round it is empty and lies at `start`.
    ///
    /// Valid: always.
    /// Basis: arithmetic; negative spans clamp to zero.
    pub fn new(start: Instant, end: Instant) -> Span {
        Span {
            start,
            end: end.max(start),
        }
    }

    /// When it starts.
    ///
    /// Valid: always.
    /// Basis: arithmetic.
    pub const fn start(self) -> Instant {
        self.start
    }

    /// When it ends.
    ///
    /// Valid: always.
    /// Basis: arithmetic.
    pub const fn end(self) -> Instant {
        self.end
    }

    /// How long it is.
    ///
    /// Valid: always.
    /// Basis: arithmetic.
    pub fn length(self) -> Duration {
        self.end.since(self.start)
    }

    /// Whether a moment lies in it; its start does, its end does not.
    ///
    /// Valid: always.
    /// Basis: arithmetic.
    pub fn holds(self, at: Instant) -> bool {
        self.start <= at && at < self.end
    }
}

#[cfg(test)]
mod tests {
    extern crate std;
    use super::*;

    #[test]
    fn no_quantity_lets_nan_or_infinity_in() {
        for bad in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
            assert!(Length::millimetres(bad).is_err());
            assert!(Temperature::celsius(bad).is_err());
        }
    }

    #[test]
    fn a_length_kept_in_micrometres_comes_back_unchanged_over_the_whole_board() {
        for um in (0..8_000_000).step_by(100) {
            assert_eq!(Length::micrometres(um).in_micrometres(), um);
        }
    }

    #[test]
    fn the_refusal_says_what_would_be_right() {
        let refused = Temperature::celsius(200.0).unwrap_err();
        assert_eq!(
            (refused.what, refused.min, refused.max),
            (What::Temperature, -70.0, 90.0)
        );
    }
}
