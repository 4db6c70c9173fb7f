//! The statistics that the other files lean on: quantiles of Student's t and of the normal distribution, counts to expect from a record of rare
//! events, and a slope that a few wild readings cannot move.
//!
//! Both distributions come from one function, the regularised incomplete beta function
//! `I_x(a, b) = ∫₀ˣ tᵃ⁻¹ (1 - t)ᵇ⁻¹ dt / B(a, b)`, by its continued fraction. The factor in front of the fraction is
//! written with the error of Stirling's formula and with deviances instead of differences of logarithms, so that it
//! keeps its digits for large arguments too.
//!
//! Never here: teeth, and what any of it means to an operator (`line`, `wear`, `spares`).

use alloc::vec::Vec;
use core::f64::consts::{PI, SQRT_2};
use core::num::NonZeroU32;

use crate::quantity::{Confidence, Hours, OutOfRange, within};

/// Which number of a calculation was out of range; the app has the word for it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Statistic {
    /// A probability, 1 being certain.
    Probability,
    /// A coordinate of a point, or where a line is asked for its height.
    Coordinate,
    /// The shape of a gamma distribution: how many events it stands for.
    Shape,
    /// The hours that a gamma distribution stands for.
    Exposure,
}

/// The largest coordinate of a point, either way.
///
/// Units: none.
/// Basis: house default, only there to stop nonsense; squares of it and of their ratios stay far from overflow.
pub const LARGEST_COORDINATE: f64 = 1e30;

/// Coordinates that differ by less than this do not differ.
///
/// Units: none.
/// Basis: house default, only there to stop nonsense.
pub(crate) const LEAST_RANGE: f64 = 1e-30;

/// A point with finite coordinates.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Point {
    x: f64,
    y: f64,
}

impl Point {
    /// A point from its coordinates.
    ///
    /// Units: any; all points of one calculation have the same.
    /// Valid: -10³⁰ to 10³⁰, both.
    /// Errors: [`OutOfRange`] outside that, and for NaN.
    /// Basis: house default, only there to stop nonsense.
    ///
    /// ```
    /// use evenrow_rules::statistics::Point;
    /// assert_eq!(Point::new(40.0, 18.5).unwrap().y(), 18.5);
    /// assert!(Point::new(f64::NAN, 18.5).is_err());
    /// ```
    pub fn new(x: f64, y: f64) -> Result<Point, OutOfRange<Statistic>> {
        Ok(Point {
            x: coordinate(x)?,
            y: coordinate(y)?,
        })
    }

    /// How far along.
    ///
    /// Units: those of the point.
    /// Valid: always.
    /// Basis: as given.
    ///
    /// ```
    /// use evenrow_rules::statistics::Point;
    /// assert_eq!(Point::new(40.0, 18.5).unwrap().x(), 40.0);
    /// ```
    pub const fn x(self) -> f64 {
        self.x
    }

    /// How high.
    ///
    /// Units: those of the point.
    /// Valid: always.
    /// Basis: as given.
    ///
    /// ```
    /// use evenrow_rules::statistics::Point;
    /// assert_eq!(Point::new(40.0, 18.5).unwrap().y(), 18.5);
    /// ```
    pub const fn y(self) -> f64 {
        self.y
    }
}

/// A coordinate that a point may have.
pub(crate) fn coordinate(number: f64) -> Result<f64, OutOfRange<Statistic>> {
    within(
        Statistic::Coordinate,
        number,
        -LARGEST_COORDINATE,
        LARGEST_COORDINATE,
    )
}

/// A sum that keeps what each addition would drop.
///
/// The errors of the additions are summed beside them and put back at the end (Neumaier's form of Kahan's sum).
pub(crate) fn sum(numbers: impl Iterator<Item = f64>) -> f64 {
    let (mut total, mut dropped) = (0.0, 0.0);
    for number in numbers {
        let next: f64 = total + number;
        dropped += if libm::fabs(number) <= libm::fabs(total) {
            (total - next) + number
        } else {
            (number - next) + total
        };
        total = next;
    }
    total + dropped
}

/// How close a probability may come to nothing, or to certain.
///
/// Units: as a probability.
/// Basis: house default, only there to stop nonsense.
const LEAST_PROBABILITY: f64 = 1e-12;

/// A probability that is neither nothing nor certain.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Probability(f64);

impl Probability {
    /// A probability.
    ///
    /// Units: 1 is certain.
    /// Valid: 10⁻¹² to 1 - 10⁻¹².
    /// Errors: [`OutOfRange`] outside that, and for NaN.
    /// Basis: house default, only there to stop nonsense.
    ///
    /// ```
    /// use evenrow_rules::statistics::Probability;
    /// assert!(Probability::new(0.975).is_ok());
    /// assert!(Probability::new(1.0).is_err());
    /// ```
    pub fn new(probability: f64) -> Result<Probability, OutOfRange<Statistic>> {
        let (least, most) = (LEAST_PROBABILITY, 1.0 - LEAST_PROBABILITY);
        within(Statistic::Probability, probability, least, most).map(Probability)
    }

    /// The probability.
    ///
    /// Units: 1 is certain.
    /// Valid: always.
    /// Basis: as given.
    ///
    /// ```
    /// use evenrow_rules::statistics::Probability;
    /// assert_eq!(Probability::new(0.975).unwrap().get(), 0.975);
    /// ```
    pub const fn get(self) -> f64 {
        self.0
    }
}

/// The value that a Student-t variable stays under with a given probability.
///
/// It is found in the logarithm of `t`, where both the body and the tail are nearly straight, by Newton's steps held in
/// a bracket that shrinks each time.
///
/// Units: none.
/// Valid: every degree of freedom from 1 on, every [`Probability`]; accurate to some parts in 10¹⁴.
/// Basis: statistics. `P(|T| > t) = I_x(ν/2, 1/2)` at `x = ν / (ν + t²)`; NIST/SEMATECH e-Handbook, table of the t
/// distribution.
///
/// ```
/// use core::num::NonZeroU32;
/// use evenrow_rules::statistics::{Probability, student_t};
/// let t = student_t(Probability::new(0.975).unwrap(), NonZeroU32::new(34).unwrap());
/// assert!((t - 2.032_244_509_317_72).abs() < 1e-13);
/// ```
pub fn student_t(probability: Probability, freedom: NonZeroU32) -> f64 {
    let p = probability.get();
    if p < 0.5 {
        -upper_t(p, freedom)
    } else {
        upper_t(1.0 - p, freedom)
    }
}

/// The value that a Student-t variable keeps within, either way, with a given confidence.
///
/// Units: none.
/// Valid: every degree of freedom from 1 on, every [`Confidence`].
/// Basis: statistics, as [`student_t`]; a confidence of 95 % leaves 2.5 % on each side.
///
/// ```
/// use core::num::NonZeroU32;
/// use evenrow_rules::{quantity::Confidence, statistics::student_t_within};
/// let t = student_t_within(Confidence::share(0.95).unwrap(), NonZeroU32::new(10).unwrap());
/// assert!((t - 2.228).abs() < 0.0005);
/// ```
pub fn student_t_within(confidence: Confidence, freedom: NonZeroU32) -> f64 {
    upper_t((1.0 - confidence.in_share()) / 2.0, freedom)
}

/// The least and the largest `t` that are looked for. With one degree of freedom the tail is `1 / (π t)`: the smallest
/// probability gives 3.2 · 10¹¹; next to the middle the body is at most `0.4 t`: the last bit gives 10⁻¹⁶.
///
/// Units: none.
/// Basis: arithmetic, with room on either side.
const T_RANGE: (f64, f64) = (1e-18, 1e14);

/// The `t` with `tail` of the probability beyond it: half of it at most. The tail or the body, what lies between 0 and
/// `t`, decides: the smaller one, as it has more digits. Next to the middle the body loses none by being worked out here.
pub(crate) fn upper_t(tail: f64, freedom: NonZeroU32) -> f64 {
    let half = f64::from(freedom.get()) / 2.0;
    let body = 0.5 - tail;
    let from_body = body < tail;
    let wanted = 2.0 * if from_body { body } else { tail };
    if wanted <= 0.0 {
        return 0.0;
    }
    let wanted = libm::log(wanted);
    let of_tail = Beta { a: half, b: 0.5 };
    let (mut low, mut high) = (libm::log(T_RANGE.0), libm::log(T_RANGE.1));
    let mut at: f64 = 0.0;
    for _ in 0..200 {
        let square = libm::exp(2.0 * at) / 2.0;
        let split = Split {
            x: half / (half + square),
            y: square / (half + square),
        };
        let (share, sign) = if from_body {
            (of_tail.turned().incomplete(split.turned()), 1.0)
        } else {
            (of_tail.incomplete(split), -1.0)
        };
        let off = sign * (libm::log(share) - wanted);
        if off < 0.0 {
            low = at;
        } else {
            high = at;
        }
        // The slope of log(share) against log(t) is t times the density over half the share.
        let step = off * share / (2.0 * of_tail.factor(split));
        let newton = at - step;
        let next = if low < newton && newton < high {
            newton
        } else {
            f64::midpoint(low, high)
        };
        let moved = libm::fabs(next - at);
        at = next;
        if moved <= 2.0 * f64::EPSILON {
            break;
        }
    }
    libm::exp(at)
}

/// How far out a standard normal number is looked for: it stays under this within a thousandth of a million-millionth.
///
/// Units: standard deviations.
/// Basis: statistics, the tail of the normal distribution.
const FURTHEST: f64 = 8.0;

/// How often the place of a number is halved, which is down to its last bit.
///
/// Units: times.
/// Basis: arithmetic: a number has 53 bits.
const HALVINGS: u32 = 60;

/// The number beyond which so much of the standard normal distribution lies, half of it at most; halved down to the last
/// bit.
pub(crate) fn normal_beyond(tail: f64) -> f64 {
    let tail = 2.0 * tail;
    let (mut low, mut high) = (0.0, FURTHEST);
    for _ in 0..HALVINGS {
        let middle = f64::midpoint(low, high);
        if tail < libm::erfc(middle / SQRT_2) {
            low = middle;
        } else {
            high = middle;
        }
    }
    low
}

/// The number that a standard normal one keeps within, either way, with a given confidence.
pub(crate) fn normal_within(confidence: Confidence) -> f64 {
    normal_beyond((1.0 - confidence.in_share()) / 2.0)
}

/// The two exponents of a beta function.
#[derive(Clone, Copy)]
struct Beta {
    a: f64,
    b: f64,
}

/// A number between 0 and 1, and what it lacks of 1 beside it, so that neither loses digits.
#[derive(Clone, Copy)]
struct Split {
    x: f64,
    y: f64,
}

impl Beta {
    /// The regularised incomplete beta function `I_x(a, b)`.
    fn incomplete(self, at: Split) -> f64 {
        if at.x <= 0.0 {
            return 0.0;
        }
        if at.y <= 0.0 {
            return 1.0;
        }
        let factor = self.factor(at);
        // Either side of the mean the fraction that converges quickly is another one.
        if at.x * (self.a + self.b + 2.0) < self.a + 1.0 {
            factor / self.fraction(at)
        } else {
            1.0 - factor / self.turned().fraction(at.turned())
        }
    }

    const fn turned(self) -> Beta {
        Beta {
            a: self.b,
            b: self.a,
        }
    }

    /// `xᵃ yᵇ / B(a, b)`.
    ///
    /// Written as Loader writes the binomial probability: `√(a b / 2π n)` with `n = a + b`, times the exponential of the
    /// errors of Stirling's formula and of two deviances.
    fn factor(self, at: Split) -> f64 {
        let whole = self.a + self.b;
        let stirling = stirling_error(whole) - stirling_error(self.a) - stirling_error(self.b);
        let off = deviance(self.a, whole * at.x) + deviance(self.b, whole * at.y);
        libm::sqrt(self.a / whole * self.b / (2.0 * PI)) * libm::exp(stirling - off)
    }

    /// What the factor is divided by to give `I_x(a, b)`: a continued fraction, in the form whose terms hold no
    /// difference of nearly equal numbers, evaluated forwards by Lentz's method.
    ///
    /// Its terms are `aₘ = (a + m - 1)(a + b + m - 1) m (b - m) x² / (a + 2m - 1)²` and
    /// `bₘ = m + m (b - m) x / (a + 2m - 1) + (a + m)(a y - b x + 1 + m (1 + y)) / (a + 2m + 1)`, as DiDonato and Morris
    /// give them (from memory; it is the even part of the fraction in the handbooks).
    ///
    /// Only below the mean, `x (a + b + 2) <= a + 1`. There every `bₘ` is above nothing, and where `aₘ` is below it, four
    /// times its size is less than `bₘ bₘ₋₁` (tried, not proved): what is divided by stays above `bₘ / 2`.
    fn fraction(self, at: Split) -> f64 {
        let Beta { a, b } = self;
        let start = a * at.y - b * at.x + 1.0;
        let whole = |m: f64| {
            m + m * (b - m) * at.x / (a + 2.0 * m - 1.0)
                + (a + m) / (a + 2.0 * m + 1.0) * (start + m * (1.0 + at.y))
        };
        let mut value = a / (a + 1.0) * start;
        let (mut forwards, mut backwards) = (value, 0.0);
        // It takes about the root of the larger exponent; a quarter of a million is enough for every one there can be.
        for m in 1..=250_000 {
            let m = f64::from(m);
            let root = at.x / (a + 2.0 * m - 1.0);
            let part = (a + m - 1.0) * root * (a + b + m - 1.0) * root * m * (b - m);
            backwards = 1.0 / (whole(m) + part * backwards);
            forwards = whole(m) + part / forwards;
            let change = forwards * backwards;
            value *= change;
            if libm::fabs(change - 1.0) <= f64::EPSILON {
                break;
            }
        }
        value
    }
}

impl Split {
    const fn turned(self) -> Split {
        Split {
            x: self.y,
            y: self.x,
        }
    }
}

/// How far Stirling's formula is off: `ln Γ(z + 1) - (z + ½) ln z + z - ½ ln 2π`.
///
/// From 15 on by its series; the first term left out is below 10⁻¹⁶ there.
fn stirling_error(z: f64) -> f64 {
    if z < 15.0 {
        let half_log_two_pi = libm::log(2.0 * PI) / 2.0;
        return libm::lgamma(z + 1.0) - (z + 0.5) * libm::log(z) + z - half_log_two_pi;
    }
    let square = z * z;
    let terms = [
        1.0 / 12.0,
        1.0 / 360.0,
        1.0 / 1260.0,
        1.0 / 1680.0,
        1.0 / 1188.0,
        691.0 / 360_360.0,
    ];
    terms
        .iter()
        .rev()
        .fold(0.0, |rest, term| term - rest / square)
        / z
}

/// `x ln(x / m) + m - x`: how far `x` is from the mean `m`, as a deviance. Never negative.
///
/// Close to the mean by the series in `(x - m) / (x + m)`, where the three terms would cancel.
fn deviance(x: f64, mean: f64) -> f64 {
    let off = x - mean;
    let share = off / (x + mean);
    if 0.1 < libm::fabs(share) {
        return x * libm::log(x / mean) - off;
    }
    let mut total = off * share;
    let mut power = 2.0 * x * share;
    for odd in (3_u8..=25).step_by(2) {
        power *= share * share;
        total += power / f64::from(odd);
    }
    total
}

/// How many events a belief may stand for.
///
/// Units: events.
/// Basis: house default, only there to stop nonsense.
const BELIEVED_EVENTS: (f64, f64) = (0.01, 1_000.0);

/// In how many hours those events may have been seen.
///
/// Units: hours.
/// Basis: house default, only there to stop nonsense.
const BELIEVED_HOURS: (f64, f64) = (0.01, 100_000.0);

/// What is known of how often something happens per hour: a gamma distribution of the rate.
///
/// It stands for `shape` events seen in so many hours; what is seen later is added to both.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rate {
    shape: f64,
    hours: f64,
}

impl Rate {
    /// What is believed before anything was seen.
    ///
    /// Units: events; hours.
    /// Valid: shape 0.01 to 1,000; hours 0.01 to 100,000.
    /// Errors: [`OutOfRange`] outside that, and for NaN.
    /// Basis: house default, only there to stop nonsense.
    ///
    /// ```
    /// use evenrow_rules::statistics::Rate;
    /// assert!(Rate::believed(1.0, 8.0).is_ok());
    /// assert!(Rate::believed(0.0, 8.0).is_err());
    /// ```
    pub fn believed(shape: f64, hours: f64) -> Result<Rate, OutOfRange<Statistic>> {
        let (events, exposures) = (BELIEVED_EVENTS, BELIEVED_HOURS);
        Ok(Rate {
            shape: within(Statistic::Shape, shape, events.0, events.1)?,
            hours: within(Statistic::Exposure, hours, exposures.0, exposures.1)?,
        })
    }

    /// A belief written in the code; it lies in the range of [`Rate::believed`].
    pub(crate) const fn of_house(shape: f64, hours: f64) -> Rate {
        Rate { shape, hours }
    }

    /// How many events it stands for.
    ///
    /// Units: events.
    /// Valid: always.
    /// Basis: as given.
    ///
    /// ```
    /// use evenrow_rules::statistics::Rate;
    /// assert_eq!(Rate::believed(1.0, 8.0).unwrap().events(), 1.0);
    /// ```
    pub const fn events(self) -> f64 {
        self.shape
    }

    /// In how many hours.
    ///
    /// Units: hours.
    /// Valid: always.
    /// Basis: as given.
    ///
    /// ```
    /// use evenrow_rules::statistics::Rate;
    /// assert_eq!(Rate::believed(1.0, 8.0).unwrap().in_hours(), 8.0);
    /// ```
    pub const fn in_hours(self) -> f64 {
        self.hours
    }

    /// What is believed after so many events were seen in so many hours.
    ///
    /// Units: events; hours.
    /// Valid: always.
    /// Basis: statistics: the gamma distribution is the conjugate of Poisson counts.
    ///
    /// ```
    /// use evenrow_rules::{quantity::Hours, statistics::Rate};
    /// let seen = Rate::believed(1.0, 8.0).unwrap().after(3, Hours::new(120.0).unwrap());
    /// assert_eq!(seen.mean_in(Hours::new(8.0).unwrap()), 4.0 * 8.0 / 128.0);
    /// ```
    #[must_use]
    pub fn after(self, events: u32, hours: Hours) -> Rate {
        Rate {
            shape: self.shape + f64::from(events),
            hours: self.hours + hours.in_hours(),
        }
    }

    /// How many events are to be expected on average in hours ahead.
    ///
    /// Units: hours in, events out.
    /// Valid: always.
    /// Basis: statistics: the mean of a gamma distribution.
    ///
    /// ```
    /// use evenrow_rules::{quantity::Hours, statistics::Rate};
    /// assert_eq!(Rate::believed(1.0, 8.0).unwrap().mean_in(Hours::new(16.0).unwrap()), 2.0);
    /// ```
    pub fn mean_in(self, ahead: Hours) -> f64 {
        self.shape * ahead.in_hours() / self.hours
    }

    /// The probability that more than `count` events come in hours ahead.
    ///
    /// The rate is not known, so the count is not Poisson but negative-binomial: `P(N = n) = Γ(s + n) / (Γ(s) n!) pˢ (1 - p)ⁿ`
    /// with the shape `s` and `p = hours / (hours + ahead)`, and `P(N > n) = I_{1-p}(n + 1, s)`.
    ///
    /// Units: hours in, probability out.
    /// Valid: always.
    /// Basis: statistics: the gamma-Poisson mixture.
    ///
    /// ```
    /// use evenrow_rules::{quantity::Hours, statistics::Rate};
    /// let more = Rate::believed(1.0, 8.0).unwrap().more_than(4, Hours::new(8.0).unwrap());
    /// assert!((more - 1.0 / 32.0).abs() < 1e-15); // half as likely with each one
    /// ```
    pub fn more_than(self, count: u32, ahead: Hours) -> f64 {
        let whole = self.hours + ahead.in_hours();
        let beta = Beta {
            a: f64::from(count) + 1.0,
            b: self.shape,
        };
        beta.incomplete(Split {
            x: ahead.in_hours() / whole,
            y: self.hours / whole,
        })
    }

    /// The least count that the events in hours ahead do not exceed, with a given confidence.
    ///
    /// A count whose probability falls short by less than a thousand-millionth of the tail is taken to reach it: where
    /// both are equal, rounding must not ask for one more.
    ///
    /// Units: hours in, events out.
    /// Valid: always; cut to the largest `u32`.
    /// Basis: statistics: the quantile of the negative-binomial distribution of [`Rate::more_than`].
    ///
    /// ```
    /// use evenrow_rules::{quantity::{Confidence, Hours}, statistics::Rate};
    /// let (rate, shift) = (Rate::believed(1.0, 8.0).unwrap(), Hours::new(8.0).unwrap());
    /// assert_eq!(rate.at_most(shift, Confidence::share(0.95).unwrap()), 4);
    /// assert_eq!(rate.at_most(Hours::ZERO, Confidence::share(0.95).unwrap()), 0);
    /// ```
    pub fn at_most(self, ahead: Hours, confidence: Confidence) -> u32 {
        let tail = (1.0 - confidence.in_share()) * (1.0 + 1e-9);
        let enough = |count| self.more_than(count, ahead) <= tail;
        if enough(0) {
            return 0;
        }
        // Doubled until it is enough, then halved: `low` is too few, `high` is enough or the end of the count.
        let (mut low, mut high) = (0_u32, 1_u32);
        while high < u32::MAX && !enough(high) {
            low = high;
            high = high.saturating_mul(2);
        }
        while 1 < high - low {
            let middle = low.midpoint(high);
            if enough(middle) {
                high = middle;
            } else {
                low = middle;
            }
        }
        high
    }
}

/// The median of the slopes of all pairs of points that do not stand above each other. Of an even number of slopes, the
/// mean of the two in the middle.
///
/// More than a quarter of the points have to be wild before they move it far. The slopes are never listed: how many lie
/// under a trial slope is counted by sorting, and the trial is halved down to the last bit, so ten thousand points take
/// no more memory than their own.
///
/// Units: those of `y` over those of `x`.
/// Valid: any points; the answer is good to some parts in 10¹⁰ of what all of `y` to all of `x` would be.
/// Errors: `None` where no two points differ in `x`, or by less than 10⁻³⁰.
/// Basis: statistics: the estimator of Theil and Sen (names from memory).
///
/// ```
/// use evenrow_rules::statistics::{Point, theil_sen};
/// let points = [(0.0, 20.0), (10.0, 19.0), (20.0, 18.0), (30.0, 3.0), (40.0, 16.0)];
/// let points = points.map(|(x, y)| Point::new(x, y).unwrap());
/// assert!((theil_sen(&points).unwrap() + 0.1).abs() < 1e-9);
/// assert_eq!(theil_sen(&points[..1]), None);
/// ```
pub fn theil_sen(points: &[Point]) -> Option<f64> {
    let range = |of: fn(Point) -> f64| {
        let low = points
            .iter()
            .map(|&it| of(it))
            .fold(f64::INFINITY, f64::min);
        let high = points
            .iter()
            .map(|&it| of(it))
            .fold(-f64::INFINITY, f64::max);
        (low, high - low)
    };
    let ((x_low, x_range), (y_low, y_range)) = (range(Point::x), range(Point::y));
    if points.len() < 2 || x_range < LEAST_RANGE {
        return None;
    }
    if y_range <= 0.0 {
        return Some(0.0);
    }
    // In a square of one by one no product overflows and every slope is a plain number.
    let mut scaled: Vec<(f64, f64)> = points
        .iter()
        .map(|it| ((it.x - x_low) / x_range, (it.y - y_low) / y_range))
        .collect();
    scaled.sort_unstable_by(|a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)));
    let columns: Vec<&[(f64, f64)]> = scaled.chunk_by(|a, b| a.0 >= b.0).collect();
    let pairs = |count: usize| count as u64 * (count as u64).saturating_sub(1) / 2;
    let slopes = pairs(scaled.len()) - columns.iter().map(|it| pairs(it.len())).sum::<u64>();
    if slopes == 0 {
        return None;
    }
    let at_or_below = |slope: f64| {
        let within_columns: u64 = columns.iter().map(|it| falls(it, slope)).sum();
        falls(&scaled, slope) - within_columns
    };
    let middle = [slopes.div_ceil(2), slopes / 2 + 1];
    let [low, high] = middle.map(|rank| least_slope(|slope| rank <= at_or_below(slope)));
    Some(f64::midpoint(low, high) * (y_range / x_range))
}

/// How many pairs, taken in the order given, do not rise once a slope is taken off.
fn falls(points: &[(f64, f64)], slope: f64) -> u64 {
    let mut rest: Vec<f64> = points.iter().map(|(x, y)| y - slope * x).collect();
    let mut room = rest.clone();
    count_falls(&mut rest, &mut room)
}

/// Counts the pairs of which the later is not larger than the earlier, and sorts the numbers: a merge sort.
fn count_falls(numbers: &mut [f64], room: &mut [f64]) -> u64 {
    if numbers.len() < 2 {
        return 0;
    }
    let half = numbers.len() / 2;
    let (left, right) = numbers.split_at_mut(half);
    let (left_room, right_room) = room.split_at_mut(half);
    let mut count = count_falls(left, left_room) + count_falls(right, right_room);
    let (mut from_left, mut from_right) = (0, 0);
    for place in room.iter_mut() {
        let take_left = right
            .get(from_right)
            .is_none_or(|&later| left.get(from_left).is_some_and(|&earlier| earlier < later));
        *place = if take_left {
            from_left += 1;
            left[from_left - 1]
        } else {
            // Every earlier number still waiting is at least as large as this one.
            count += (half - from_left) as u64;
            from_right += 1;
            right[from_right - 1]
        };
    }
    numbers.copy_from_slice(room);
    count
}

/// The least slope for which something holds that, once it holds, holds for every larger one.
///
/// The bits of slopes in order, read as whole numbers, are in order too, and a falling slope has those of its opposite,
/// below nothing: 64 halvings reach every one.
fn least_slope(holds: impl Fn(f64) -> bool) -> f64 {
    /// The steepest slope that is looked for.
    ///
    /// Units: none.
    /// Basis: arithmetic: no slope in a square of one by one reaches it.
    const STEEPEST: f64 = 1e200;
    let mut high = STEEPEST.to_bits().cast_signed();
    let mut low = -high;
    while low < high {
        let middle = low.midpoint(high).min(high - 1);
        if holds(slope_at(middle)) {
            high = middle;
        } else {
            low = middle + 1;
        }
    }
    slope_at(high)
}

/// The slope at a place among all slopes in order; the level one stands at 0.
const fn slope_at(place: i64) -> f64 {
    let steepness = f64::from_bits(place.unsigned_abs());
    if place < 0 { -steepness } else { steepness }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Neumaier's own example (value from memory), and one that adds the large number first.
    #[test]
    fn a_sum_keeps_what_each_addition_would_drop() {
        for numbers in [[1.0, 1e100, 1.0, -1e100], [1e100, 1.0, 1.0, -1e100]] {
            assert_eq!(sum(numbers.into_iter()).to_bits(), 2.0_f64.to_bits());
        }
    }
}
