//! How often something was seen among how many: the share, how well it is known, and whether two shares differ.
//!
//! The interval of a share is Wilson's: the shares that a score test would not refuse. The interval of a difference is
//! Newcombe's tenth method, put together from the two Wilson intervals: it stays within what a difference can be, and is
//! true for few trials and for shares of nothing or all.
//!
//! Trials have to be independent of each other. Teeth of one shift are not: they share the oil, the road and the dust, so
//! the trial is the shift. Never here: teeth, and what any of it means to an operator.

use crate::quantity::Confidence;
use crate::statistics::normal_within;

/// How often something was seen, and in how many trials.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Share {
    seen: u32,
    of: u32,
}

/// It was seen more often than there were trials.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct MoreThanAll;

/// A difference between two shares.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Difference {
    /// The first share less the second, as it was seen.
    pub seen: f64,
    /// The least that it may be.
    pub low: f64,
    /// The most that it may be.
    pub high: f64,
}

impl Difference {
    /// Whether nothing lies outside of it: then one of the shares is the larger one.
    ///
    /// Valid: always.
    /// Basis: statistics, as [`difference`].
    ///
    /// ```
    /// use evenrow_rules::{proportion::{Share, difference}, quantity::Confidence};
    /// let share = |seen, of| Share::new(seen, of).unwrap();
    /// let sure = Confidence::share(0.95).unwrap();
    /// assert!(difference(share(9, 10), share(3, 10), sure).unwrap().is_clear());
    /// assert!(!difference(share(4, 10), share(3, 10), sure).unwrap().is_clear());
    /// ```
    pub fn is_clear(self) -> bool {
        0.0 < self.low || self.high < 0.0
    }
}

impl Share {
    /// A share from how often it was seen in how many trials.
    ///
    /// Units: times, trials.
    /// Valid: seen no more often than there were trials; no trials are allowed.
    /// Errors: [`MoreThanAll`] otherwise.
    /// Basis: arithmetic.
    ///
    /// ```
    /// use evenrow_rules::proportion::{MoreThanAll, Share};
    /// assert_eq!(Share::new(3, 4).unwrap().of(), 4);
    /// assert_eq!(Share::new(5, 4), Err(MoreThanAll));
    /// ```
    pub const fn new(seen: u32, of: u32) -> Result<Share, MoreThanAll> {
        if of < seen {
            return Err(MoreThanAll);
        }
        Ok(Share { seen, of })
    }

    /// How often it was seen.
    ///
    /// Units: times.
    /// Valid: always.
    /// Basis: as given.
    ///
    /// ```
    /// assert_eq!(evenrow_rules::proportion::Share::new(3, 4).unwrap().seen(), 3);
    /// ```
    pub const fn seen(self) -> u32 {
        self.seen
    }

    /// In how many trials.
    ///
    /// Units: trials.
    /// Valid: always.
    /// Basis: as given.
    ///
    /// ```
    /// assert_eq!(evenrow_rules::proportion::Share::new(3, 4).unwrap().of(), 4);
    /// ```
    pub const fn of(self) -> u32 {
        self.of
    }

    /// The share.
    ///
    /// Units: 1 is all.
    /// Valid: always; none of no trials.
    /// Basis: arithmetic.
    ///
    /// ```
    /// use evenrow_rules::proportion::Share;
    /// assert_eq!(Share::new(3, 4).unwrap().get(), Some(0.75));
    /// assert_eq!(Share::new(0, 0).unwrap().get(), None);
    /// ```
    pub fn get(self) -> Option<f64> {
        (0 < self.of).then(|| f64::from(self.seen) / f64::from(self.of))
    }

    /// From what to what the true share may be: those that a score test does not refuse.
    ///
    /// With `z` of the normal distribution, `p` seen and `n` trials: `(p + z²/2n ± z √(p(1-p)/n + z²/4n²)) / (1 + z²/n)`.
    ///
    /// Units: 1 is all.
    /// Valid: independent trials; none of no trials.
    /// Basis: published, `Source::Newcombe1998`, where it is the building stone of method 10; statistics.
    ///
    /// ```
    /// use evenrow_rules::{proportion::Share, quantity::Confidence};
    /// let (low, high) = Share::new(0, 10).unwrap().interval(Confidence::share(0.95).unwrap()).unwrap();
    /// assert_eq!(low, 0.0);
    /// assert!((high - 0.277_533).abs() < 1e-6);
    /// ```
    pub fn interval(self, confidence: Confidence) -> Option<(f64, f64)> {
        let p = self.get()?;
        let n = f64::from(self.of);
        let z = normal_within(confidence);
        let squared = z * z / n;
        let half = squared / 2.0;
        let middle = p + half;
        let reach = z * libm::sqrt((p * (1.0 - p) + half / 2.0) / n);
        let end = |at: f64| (at / (1.0 + squared)).clamp(0.0, 1.0);
        // Where none or all were seen, that end is exact, whatever rounding says.
        let low = if self.seen == 0 {
            0.0
        } else {
            end(middle - reach)
        };
        let high = if self.seen == self.of {
            1.0
        } else {
            end(middle + reach)
        };
        Some((low, high))
    }

    fn times(self, count: u32) -> Share {
        Share {
            seen: self.seen.saturating_mul(count),
            of: self.of.saturating_mul(count),
        }
    }
}

/// From what to what the difference between two true shares may be, the first less the second.
///
/// Each end is as far from the difference seen as the ends of the two intervals are from their shares, put together at
/// right angles: `d - √((p₁ - l₁)² + (u₂ - p₂)²)` and `d + √((u₁ - p₁)² + (p₂ - l₂)²)`.
///
/// Units: 1 is all.
/// Valid: independent trials, and two groups of them that are independent; none where either has no trials.
/// Basis: published, `Source::Newcombe1998`, method 10.
///
/// ```
/// use evenrow_rules::{proportion::{Share, difference}, quantity::Confidence};
/// let share = |seen, of| Share::new(seen, of).unwrap();
/// let found = difference(share(56, 70), share(48, 80), Confidence::share(0.95).unwrap()).unwrap();
/// assert!((found.low - 0.0524).abs() < 5e-5 && (found.high - 0.3339).abs() < 5e-5);
/// assert_eq!(difference(share(1, 2), share(0, 0), Confidence::share(0.95).unwrap()), None);
/// ```
pub fn difference(one: Share, other: Share, confidence: Confidence) -> Option<Difference> {
    let (p, q) = (one.get()?, other.get()?);
    let (p_low, p_high) = one.interval(confidence)?;
    let (q_low, q_high) = other.interval(confidence)?;
    let seen = p - q;
    Some(Difference {
        seen,
        low: seen - libm::hypot(p - p_low, q_high - q),
        high: seen + libm::hypot(p_high - p, q - q_low),
    })
}

/// How many times as many trials are looked for before it is said that no number would be enough.
///
/// Units: times.
/// Basis: house default: nobody waits for a thousand times what there is.
pub const MOST_TIMES: u32 = 1_000;

/// How many times as many trials would tell two shares apart, if they went on as they are.
///
/// Units: times; 1 where they tell already.
/// Valid: as [`difference`]; none where either has no trials, where both shares are the same, or where not even
/// [`MOST_TIMES`] as many would tell.
/// Basis: that of [`difference`], tried for each count in turn.
///
/// ```
/// use evenrow_rules::{proportion::{Share, times_enough}, quantity::Confidence};
/// let share = |seen, of| Share::new(seen, of).unwrap();
/// let sure = Confidence::share(0.95).unwrap();
/// assert_eq!(times_enough(share(9, 10), share(3, 10), sure), Some(1));
/// assert_eq!(times_enough(share(5, 10), share(3, 10), sure), Some(5));
/// assert_eq!(times_enough(share(3, 10), share(3, 10), sure), None);
/// ```
pub fn times_enough(one: Share, other: Share, confidence: Confidence) -> Option<u32> {
    (1..=MOST_TIMES).find(|&count| {
        let found = difference(one.times(count), other.times(count), confidence);
        found.is_some_and(Difference::is_clear)
    })
}
