//! A straight line through points by least squares, and how far it can be trusted.
//!
//! `y = intercept + slope · x + error`, the errors independent and equally large. All sums are taken about the means and
//! keep what each addition would drop, so that nearly straight points far from the origin lose no digits.
//!
//! Never here: what `x` and `y` are (`wear`).

use core::num::NonZeroU32;

use crate::quantity::{Confidence, OutOfRange};
use crate::statistics::{LEAST_RANGE, Point, Statistic, coordinate, student_t_within, sum};

/// The fewest points; two leave nothing to judge the line by.
///
/// Units: points.
/// Basis: statistics: a line takes two of them, and what is left is what the spread is told from.
pub const FEWEST_POINTS: usize = 3;

/// The least distance in `x` between the two points furthest apart, as a share of the largest `x`. Below that the
/// digits of the numbers themselves run out.
///
/// Units: of the largest.
/// Basis: arithmetic: numbers here have 16 digits, and a few must be left for the slope.
pub const LEAST_SPREAD: f64 = 1e-12;

/// Why no line goes through the points.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Refusal {
    /// Too few points.
    TooFew {
        /// How many there are.
        got: usize,
        /// How many are enough.
        wanted: usize,
    },
    /// All points stand above each other, as far as the digits tell. Two different `x` are enough.
    NoSpread,
}

/// A line with all that is needed to say how sure it is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Line {
    freedom: NonZeroU32,
    points: f64,
    mean_x: f64,
    mean_y: f64,
    /// The root of the sum of squares of `x` about its mean.
    spread_x: f64,
    slope: f64,
    residual_sd: f64,
    r2: f64,
}

/// The height of a line at one place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Height {
    /// The height.
    pub y: f64,
    /// A new point lies within this of it, either way, with the confidence asked for (prediction interval).
    pub half_width: f64,
    /// The line itself, could it be known, lies within this of it (confidence interval of the mean).
    pub mean_half_width: f64,
}

/// The place where a line reaches a height, and the places in which a new point could do so.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Crossing {
    /// Where the line itself reaches it.
    pub x: f64,
    /// The least such place; `None` where no end can be named yet.
    pub low: Option<f64>,
    /// The largest such place; `None` where no end can be named yet.
    pub high: Option<f64>,
}

/// The line of least squares.
///
/// Units: those of the points.
/// Valid: three points or more, in any order; `x` not all equal.
/// Errors: [`Refusal`] otherwise.
/// Basis: statistics: ordinary least squares; checked with the NIST StRD data set Norris.
///
/// ```
/// use evenrow_rules::line::{Refusal, fit};
/// use evenrow_rules::statistics::Point;
/// let points = [(0.0, 20.0), (40.0, 18.1), (80.0, 15.9)].map(|(x, y)| Point::new(x, y).unwrap());
/// let line = fit(&points).unwrap();
/// assert!((line.slope() + 0.05125).abs() < 1e-12);
/// assert!((line.intercept() - 20.05).abs() < 1e-12);
/// assert_eq!(fit(&points[..2]), Err(Refusal::TooFew { got: 2, wanted: 3 }));
/// ```
pub fn fit(points: &[Point]) -> Result<Line, Refusal> {
    let too_few = Refusal::TooFew {
        got: points.len(),
        wanted: FEWEST_POINTS,
    };
    let freedom = u32::try_from(points.len().saturating_sub(2)).unwrap_or(u32::MAX);
    let freedom = NonZeroU32::new(freedom).ok_or(too_few)?;
    let count = points.len() as f64;
    let mean_x = mean(points, Point::x);
    let mean_y = mean(points, Point::y);
    let largest = points.iter().map(|it| libm::fabs(it.x()));
    let largest = largest.fold(0.0, f64::max);
    let off = || points.iter().map(|it| (it.x() - mean_x, it.y() - mean_y));
    let furthest = off().map(|(x, _)| libm::fabs(x)).fold(0.0, f64::max);
    let least = (LEAST_SPREAD * largest).max(LEAST_RANGE);
    if furthest <= least {
        return Err(Refusal::NoSpread);
    }
    let xx = sum(off().map(|(x, _)| x * x));
    let yy = sum(off().map(|(_, y)| y * y));
    let slope = sum(off().map(|(x, y)| x * y)) / xx;
    let unexplained = sum(off().map(|(x, y)| {
        let residual = y - slope * x;
        residual * residual
    }));
    Ok(Line {
        freedom,
        points: count,
        mean_x,
        mean_y,
        spread_x: libm::sqrt(xx),
        slope,
        residual_sd: libm::sqrt(unexplained / f64::from(freedom.get())),
        r2: if unexplained < yy {
            1.0 - unexplained / yy
        } else if 0.0 < yy {
            0.0
        } else {
            1.0 // Level points: nothing is left to explain.
        },
    })
}

/// The mean, right to its last digit or two, since the sum drops nothing.
fn mean(points: &[Point], of: fn(Point) -> f64) -> f64 {
    sum(points.iter().map(|&it| of(it))) / points.len() as f64
}

impl Line {
    /// By how much `y` changes when `x` grows by one.
    ///
    /// Units: those of `y` over those of `x`.
    /// Valid: always.
    /// Basis: statistics: least squares.
    ///
    /// ```
    /// use evenrow_rules::{line::fit, statistics::Point};
    /// let line = fit(&[(0.0, 1.0), (1.0, 3.0), (2.0, 5.0)].map(|(x, y)| Point::new(x, y).unwrap())).unwrap();
    /// assert_eq!(line.slope(), 2.0);
    /// ```
    pub const fn slope(&self) -> f64 {
        self.slope
    }

    /// The height of the line at `x = 0`.
    ///
    /// Units: those of `y`.
    /// Valid: always.
    /// Basis: statistics: least squares.
    ///
    /// ```
    /// use evenrow_rules::{line::fit, statistics::Point};
    /// let line = fit(&[(0.0, 1.0), (1.0, 3.0), (2.0, 5.0)].map(|(x, y)| Point::new(x, y).unwrap())).unwrap();
    /// assert_eq!(line.intercept(), 1.0);
    /// ```
    pub fn intercept(&self) -> f64 {
        self.mean_y - self.slope * self.mean_x
    }

    /// The standard deviation of the slope.
    ///
    /// Units: those of `y` over those of `x`.
    /// Valid: always; nothing for points exactly on a line.
    /// Basis: statistics: `s / √Sxx`.
    ///
    /// ```
    /// use evenrow_rules::{line::fit, statistics::Point};
    /// let line = fit(&[(0.0, 0.0), (1.0, 3.0), (2.0, 0.0)].map(|(x, y)| Point::new(x, y).unwrap())).unwrap();
    /// assert!((line.slope_sd() - 3.0_f64.sqrt()).abs() < 1e-14); // s = √6, Sxx = 2
    /// ```
    pub fn slope_sd(&self) -> f64 {
        self.residual_sd / self.spread_x
    }

    /// The standard deviation of the intercept.
    ///
    /// Units: those of `y`.
    /// Valid: always; nothing for points exactly on a line.
    /// Basis: statistics: `s √(1/n + x̄² / Sxx)`.
    ///
    /// ```
    /// use evenrow_rules::{line::fit, statistics::Point};
    /// let line = fit(&[(0.0, 0.0), (1.0, 3.0), (2.0, 0.0)].map(|(x, y)| Point::new(x, y).unwrap())).unwrap();
    /// assert!((line.intercept_sd() - 5.0_f64.sqrt()).abs() < 1e-14); // √6 · √(1/3 + 1/2)
    /// ```
    pub fn intercept_sd(&self) -> f64 {
        self.residual_sd * self.root_leverage(0.0, 0.0)
    }

    /// The standard deviation of the points about the line.
    ///
    /// Units: those of `y`.
    /// Valid: always; nothing for points exactly on a line.
    /// Basis: statistics: the root of the sum of squares over the degrees of freedom.
    ///
    /// ```
    /// use evenrow_rules::{line::fit, statistics::Point};
    /// let line = fit(&[(0.0, 0.0), (1.0, 3.0), (2.0, 0.0)].map(|(x, y)| Point::new(x, y).unwrap())).unwrap();
    /// assert!((line.residual_sd() - 6.0_f64.sqrt()).abs() < 1e-14); // residuals -1, 2, -1
    /// ```
    pub const fn residual_sd(&self) -> f64 {
        self.residual_sd
    }

    /// The share of the scatter of `y` that the line explains, between nothing and one. One for level points.
    ///
    /// Units: none.
    /// Valid: always.
    /// Basis: statistics: the coefficient of determination.
    ///
    /// ```
    /// use evenrow_rules::{line::fit, statistics::Point};
    /// let line = fit(&[(0.0, 1.0), (1.0, 3.0), (2.0, 5.0)].map(|(x, y)| Point::new(x, y).unwrap())).unwrap();
    /// assert_eq!(line.r2(), 1.0);
    /// ```
    pub const fn r2(&self) -> f64 {
        self.r2
    }

    /// The degrees of freedom: two fewer than there are points.
    ///
    /// Units: none.
    /// Valid: always; cut to the largest `u32`.
    /// Basis: statistics: slope and intercept take one each.
    ///
    /// ```
    /// use evenrow_rules::{line::fit, statistics::Point};
    /// let line = fit(&[(0.0, 1.0), (1.0, 3.0), (2.0, 5.0)].map(|(x, y)| Point::new(x, y).unwrap())).unwrap();
    /// assert_eq!(line.freedom().get(), 1);
    /// ```
    pub const fn freedom(&self) -> NonZeroU32 {
        self.freedom
    }

    /// How far the slope may be off, either way, with a given confidence.
    ///
    /// Units: those of the slope.
    /// Valid: always.
    /// Basis: statistics: `t` times the standard deviation of the slope.
    ///
    /// ```
    /// use evenrow_rules::{line::fit, quantity::Confidence, statistics::Point};
    /// let line = fit(&[(0.0, 0.0), (1.0, 3.0), (2.0, 0.0)].map(|(x, y)| Point::new(x, y).unwrap())).unwrap();
    /// let half = line.slope_half_width(Confidence::share(0.95).unwrap());
    /// assert!((half - 12.706 * line.slope_sd()).abs() < 0.001);
    /// ```
    pub fn slope_half_width(&self, confidence: Confidence) -> f64 {
        student_t_within(confidence, self.freedom) * self.slope_sd()
    }

    /// The height of the line at a place, with what a new point and the line itself may differ from it.
    ///
    /// Units: those of the points.
    /// Valid: `x` from -10³⁰ to 10³⁰.
    /// Errors: [`OutOfRange`] outside that, and for NaN.
    /// Basis: statistics: `t s √(1 + 1/n + (x - x̄)² / Sxx)` for a new point, without the first 1 for the line.
    ///
    /// ```
    /// use evenrow_rules::{line::fit, quantity::Confidence, statistics::Point};
    /// let line = fit(&[(0.0, 0.0), (1.0, 3.0), (2.0, 0.0)].map(|(x, y)| Point::new(x, y).unwrap())).unwrap();
    /// let height = line.predict(1.0, Confidence::share(0.95).unwrap()).unwrap();
    /// assert_eq!(height.y, 1.0);
    /// assert!((height.half_width / height.mean_half_width - 2.0).abs() < 1e-14); // √(4/3) to √(1/3)
    /// assert!(line.predict(f64::NAN, Confidence::share(0.95).unwrap()).is_err());
    /// ```
    pub fn predict(&self, x: f64, confidence: Confidence) -> Result<Height, OutOfRange<Statistic>> {
        let x = coordinate(x)?;
        let reach = student_t_within(confidence, self.freedom) * self.residual_sd;
        Ok(Height {
            y: self.mean_y + self.slope * (x - self.mean_x),
            half_width: reach * self.root_leverage(1.0, x),
            mean_half_width: reach * self.root_leverage(0.0, x),
        })
    }

    /// Where the line reaches a height, with the places at which a new point may still, or may already, have it.
    ///
    /// All `x` whose prediction interval holds the height (inverse prediction, after Fieller): the interval is not the
    /// same to both sides. Let `g = (t · slope sd / slope)²`. While `g < 1` both ends exist. From 1 on the slope may be
    /// none or the other way round, and the side on which it would then never be reached has no end.
    ///
    /// Units: those of the points.
    /// Valid: heights from -10³⁰ to 10³⁰.
    /// Errors: [`OutOfRange`] outside that, and for NaN; `Ok(None)` for a level line, which reaches nothing.
    /// Basis: statistics: the quadratic `(1 - g) u² - 2 d u + d² - g Sxx (1 + 1/n) = 0` in `u = x - x̄`, with `d` the
    /// distance that the line itself needs.
    ///
    /// ```
    /// use evenrow_rules::{line::fit, quantity::Confidence, statistics::Point};
    /// let points = [(0.0, 20.0), (40.0, 18.1), (80.0, 15.9)].map(|(x, y)| Point::new(x, y).unwrap());
    /// let (line, level) = (fit(&points).unwrap(), Confidence::share(0.95).unwrap());
    /// let crossing = line.crossing(12.5, level).unwrap().unwrap();
    /// assert!((crossing.x - (20.05 - 12.5) / 0.05125).abs() < 1e-9);
    /// // At either end the prediction interval just reaches the height.
    /// let end = line.predict(crossing.high.unwrap(), level).unwrap();
    /// assert!((end.y + end.half_width - 12.5).abs() < 1e-9);
    /// ```
    pub fn crossing(
        &self,
        y: f64,
        confidence: Confidence,
    ) -> Result<Option<Crossing>, OutOfRange<Statistic>> {
        let y = coordinate(y)?;
        let distance = (y - self.mean_y) / self.slope;
        if !distance.is_finite() {
            return Ok(None);
        }
        let share = self.slope_half_width(confidence) / self.slope;
        let g = share * share;
        // The distance in units of the root of Sxx, so that no square overflows that matters.
        let d = distance / self.spread_x;
        let noise = 1.0 + 1.0 / self.points;
        let under_root = g * (d * d + (1.0 - g) * noise);
        let at = |u: f64| self.mean_x + u * self.spread_x;
        let root = libm::sqrt(under_root);
        // Below nothing there is no root, and no end either.
        let ends = if root.is_finite() {
            // The root that adds up loses no digits; the other one follows from the product of both.
            let forward = 0.0 <= d;
            let added = if forward { d + root } else { d - root };
            let far = (g < 1.0).then(|| at(added / (1.0 - g)));
            let near = if added == 0.0 {
                0.0
            } else {
                (d * d - g * noise) / added
            };
            if forward {
                (Some(at(near)), far)
            } else {
                (far, Some(at(near)))
            }
        } else {
            (None, None)
        };
        let finite = |end: Option<f64>| end.filter(|it| it.is_finite());
        Ok(Some(Crossing {
            x: at(d),
            low: finite(ends.0),
            high: finite(ends.1),
        }))
    }

    /// `√(own + 1/n + (x - x̄)² / Sxx)`.
    fn root_leverage(&self, own: f64, x: f64) -> f64 {
        let off = (x - self.mean_x) / self.spread_x;
        libm::sqrt(own + 1.0 / self.points + off * off)
    }
}
