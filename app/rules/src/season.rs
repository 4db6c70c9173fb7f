//! The season: hours of work, sets of teeth to have, and by when to order them.
//!
//! Each road has a length, visits, and a rate of wear with its uncertainty, from the machine's own record. A road's wear
//! is hours times rate. The uncertainty of a rate is the same on every visit, so within a road it adds up in full;
//! between roads the rates were found apart, so their variances add up.
//!
//! The sum is taken to be log-normal with the mean and the variance so found: wear is never negative, and its long side
//! is the upper one. A quantile of it is `exp(μ + z σ)`, with `σ² = ln(1 + (sd / mean)²)` and `μ = ln(mean) - σ² / 2`.
//!
//! Only wear is counted. Broken teeth come on top (`spares`). Never here: today's date, which is handed in.

use alloc::vec::Vec;

use crate::plan::{Edge, Leg, work_time};
use crate::quantity::{
    Confidence, Distance, Efficiency, Figure, Hours, Length, OutOfRange, Speed, within,
};
use crate::statistics::normal_beyond;

/// The rate of wear that tips may have.
///
/// Units: millimetres an hour.
/// Basis: house default, only there to stop nonsense.
const WEAR_RATES: (f64, f64) = (1e-6, 100.0);

/// The length that a new tip may lose.
///
/// Units: millimetres.
/// Basis: house default, only there to stop nonsense.
const TIPS: (f64, f64) = (0.1, 1000.0);

/// How fast tips wear, and how well that is known.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WearRate {
    mm_per_hour: f64,
    relative_sd: f64,
}

impl WearRate {
    /// A rate of wear with its standard deviation.
    ///
    /// Units: millimetres of tip per blade-hour, both.
    /// Valid: rate 0.000001 to 100 mm/h; standard deviation no more than the rate.
    /// Errors: [`OutOfRange`] outside that, and for NaN; the deviation is told as a share of the rate.
    /// Basis: house default, to stop nonsense: a rate less certain than that is not known.
    ///
    /// ```
    /// use evenrow_rules::season::WearRate;
    /// assert!(WearRate::new(0.05, 0.01).is_ok());
    /// assert!(WearRate::new(0.0, 0.0).is_err());
    /// assert!(WearRate::new(0.05, 0.06).is_err());
    /// ```
    pub fn new(mm_per_hour: f64, sd: f64) -> Result<WearRate, OutOfRange<Figure>> {
        let mm_per_hour = within(Figure::WearRate, mm_per_hour, WEAR_RATES.0, WEAR_RATES.1)?;
        let relative_sd = within(Figure::RelativeSpread, sd / mm_per_hour, 0.0, 1.0)?;
        Ok(WearRate {
            mm_per_hour,
            relative_sd,
        })
    }

    /// The rate that belongs to the life of a set with its standard deviation.
    ///
    /// A life that is log-normal with mean `m` and relative deviation `c` belongs to a rate that is log-normal with mean
    /// `tip · (1 + c²) / m` and the same `c`.
    ///
    /// Units: hours, both; `tip` is the length that a new tip may lose.
    /// Valid: where the rate is one that [`WearRate::new`] lets through.
    /// Errors: [`OutOfRange`] as there.
    /// Basis: statistics: the reciprocal of a log-normal number is log-normal.
    ///
    /// ```
    /// use evenrow_rules::{quantity::{Hours, Length}, season::WearRate};
    /// let hours = |hours| Hours::new(hours).unwrap();
    /// let tip = Length::millimetres(15.0).unwrap();
    /// let rate = WearRate::of_life(hours(300.0), hours(0.0), tip).unwrap();
    /// assert_eq!(rate.in_mm_per_hour(), 0.05);
    /// assert!(WearRate::of_life(hours(0.0), hours(0.0), tip).is_err());
    /// ```
    pub fn of_life(life: Hours, sd: Hours, tip: Length) -> Result<WearRate, OutOfRange<Figure>> {
        let relative = sd.in_hours() / life.in_hours();
        let rate = tip.in_millimetres() * (1.0 + relative * relative) / life.in_hours();
        WearRate::new(rate, rate * relative)
    }

    /// The rate.
    ///
    /// Units: millimetres per hour.
    /// Valid: always.
    /// Basis: as given.
    ///
    /// ```
    /// use evenrow_rules::season::WearRate;
    /// assert_eq!(WearRate::new(0.05, 0.01).unwrap().in_mm_per_hour(), 0.05);
    /// ```
    pub const fn in_mm_per_hour(self) -> f64 {
        self.mm_per_hour
    }
}

/// How long a visit takes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Pace {
    /// So many passes at a speed.
    Driven {
        /// Passes per visit, layers counted.
        passes: u16,
        /// How fast.
        speed: Speed,
        /// The share of the hour in which work gets done.
        efficiency: Efficiency,
    },
    /// As the operator says.
    PerVisit(Hours),
}

/// A road, or roads that are alike.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Road {
    /// How long.
    pub length: Distance,
    /// How often in the season.
    pub visits: u16,
    /// How long a visit takes.
    pub pace: Pace,
    /// How fast tips wear on it.
    pub wear: WearRate,
}

impl Road {
    /// The hours that it takes in the season.
    ///
    /// Units: hours.
    /// Valid: always; stops at a million.
    /// Basis: that of [`work_time`]; arithmetic.
    ///
    /// ```
    /// use evenrow_rules::quantity::{Distance, Hours};
    /// use evenrow_rules::season::{Pace, Road, WearRate};
    /// let road = Road {
    ///     length: Distance::kilometres(12.0).unwrap(),
    ///     visits: 10,
    ///     pace: Pace::PerVisit(Hours::new(3.5).unwrap()),
    ///     wear: WearRate::new(0.05, 0.01).unwrap(),
    /// };
    /// assert_eq!(road.hours().in_hours(), 35.0);
    /// ```
    pub fn hours(&self) -> Hours {
        let visit = match self.pace {
            Pace::Driven {
                passes,
                speed,
                efficiency,
            } => {
                let leg = Leg {
                    passes,
                    distance: self.length,
                    speed,
                    edge: Edge::Down,
                };
                work_time(&[leg], efficiency).total
            }
            Pace::PerVisit(hours) => hours,
        };
        Hours::held(visit.in_hours() * f64::from(self.visits))
    }
}

/// What a season asks for.
#[derive(Clone, Debug, PartialEq)]
pub struct Demand {
    /// Hours of each road, in the order given.
    pub roads: Vec<Hours>,
    /// Hours of all.
    pub hours: Hours,
    mean: f64,
    variance: f64,
}

/// What a season asks for: hours, and the wear that comes with them.
///
/// Units: as in [`Road`].
/// Valid: any roads; none ask for nothing.
/// Basis: statistics, see the head of this file.
///
/// ```
/// use evenrow_rules::quantity::{Distance, Hours};
/// use evenrow_rules::season::{Pace, Road, WearRate, demand};
/// let road = Road {
///     length: Distance::kilometres(12.0).unwrap(),
///     visits: 10,
///     pace: Pace::PerVisit(Hours::new(40.0).unwrap()),
///     wear: WearRate::new(0.05, 0.01).unwrap(),
/// };
/// let demand = demand(&[road]);
/// assert_eq!(demand.hours.in_hours(), 400.0);
/// assert!((demand.mean_wear() - 20.0).abs() < 1e-12);
/// assert!((demand.sd_wear() - 4.0).abs() < 1e-12);
/// ```
pub fn demand(roads: &[Road]) -> Demand {
    let hours: Vec<Hours> = roads.iter().map(Road::hours).collect();
    let worn = roads.iter().zip(&hours).map(|(road, hours)| {
        let mm = hours.in_hours() * road.wear.mm_per_hour;
        (mm, mm * road.wear.relative_sd)
    });
    let (mean, variance) = worn.fold((0.0, 0.0), |(mean, variance), (mm, sd)| {
        (mean + mm, variance + sd * sd)
    });
    Demand {
        hours: Hours::held(hours.iter().map(|it| it.in_hours()).sum()),
        roads: hours,
        mean,
        variance,
    }
}

impl Demand {
    /// The wear to be expected.
    ///
    /// Units: millimetres of tip.
    /// Valid: always.
    /// Basis: arithmetic.
    ///
    /// ```
    /// assert_eq!(evenrow_rules::season::demand(&[]).mean_wear(), 0.0);
    /// ```
    pub const fn mean_wear(&self) -> f64 {
        self.mean
    }

    /// How uncertain that is, as a standard deviation.
    ///
    /// Units: millimetres of tip.
    /// Valid: always.
    /// Basis: statistics, see the head of this file.
    ///
    /// ```
    /// assert_eq!(evenrow_rules::season::demand(&[]).sd_wear(), 0.0);
    /// ```
    pub fn sd_wear(&self) -> f64 {
        libm::sqrt(self.variance)
    }

    /// The wear that is not exceeded, at a confidence.
    ///
    /// Units: millimetres of tip.
    /// Valid: always.
    /// Basis: statistics, the quantile of a log-normal number; see the head of this file.
    ///
    /// ```
    /// use evenrow_rules::{quantity::Confidence, season::demand};
    /// assert_eq!(demand(&[]).wear_at(Confidence::share(0.95).unwrap()), 0.0);
    /// ```
    pub fn wear_at(&self, confidence: Confidence) -> f64 {
        if self.mean <= 0.0 {
            return 0.0;
        }
        let squared = libm::log1p(self.variance / self.mean / self.mean);
        let above = normal_beyond(1.0 - confidence.in_share()) * libm::sqrt(squared);
        self.mean * libm::exp(above - squared / 2.0)
    }

    /// The sets to have for it.
    ///
    /// Units: `tip` is the length that a new tip may lose; `left` is what the tips on hand may still lose, all sets
    /// together: one new set and one half worn have one and a half times `tip`.
    /// Valid: a tip that may lose 0.1 mm to a metre (house default, only there to stop nonsense).
    /// Errors: [`OutOfRange`] for another tip.
    /// Basis: statistics, see the head of this file; every set begun counts whole.
    ///
    /// ```
    /// use evenrow_rules::quantity::{Confidence, Distance, Hours, Length};
    /// use evenrow_rules::season::{Pace, Road, WearRate, demand};
    /// let road = Road {
    ///     length: Distance::kilometres(12.0).unwrap(),
    ///     visits: 10,
    ///     pace: Pace::PerVisit(Hours::new(40.0).unwrap()),
    ///     wear: WearRate::new(0.05, 0.01).unwrap(), // 20 mm, give or take 4
    /// };
    /// let mm = |mm: f64| Length::millimetres(mm).unwrap();
    /// let sets = demand(&[road]).sets(mm(15.0), mm(15.0), 96, Confidence::share(0.95).unwrap()).unwrap();
    /// assert_eq!((sets.needed, sets.to_order, sets.teeth_to_order), (2, 1, 96));
    /// ```
    pub fn sets(
        &self,
        tip: Length,
        left: Length,
        teeth_per_set: u32,
        confidence: Confidence,
    ) -> Result<Sets, OutOfRange<Figure>> {
        let tip = within(Figure::Tip, tip.in_millimetres(), TIPS.0, TIPS.1)?;
        let wear = self.wear_at(confidence);
        // An exact fit must not be rounded up by float noise; a millionth of a set is none.
        let sets = |mm: f64| libm::ceil(mm / tip - 1e-6).max(0.0) as u32;
        let to_order = sets(wear - left.in_millimetres());
        Ok(Sets {
            expected: self.mean / tip,
            needed: sets(wear),
            to_order,
            teeth_to_order: to_order.saturating_mul(teeth_per_set),
        })
    }
}

/// Sets of teeth for a season.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sets {
    /// To be expected, in sets and parts of one.
    pub expected: f64,
    /// To have, at the confidence asked for.
    pub needed: u32,
    /// Of these to order, what is left on hand taken off.
    pub to_order: u32,
    /// The same in teeth.
    pub teeth_to_order: u32,
}

/// By which day to order. Days are counted from any day the caller likes, the same for all.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum OrderBy {
    /// There is time.
    InTime {
        /// The last day on which an order still arrives in time.
        day: i64,
        /// How many days are left until then; none on that day itself.
        days_left: u64,
    },
    /// That day is past.
    TooLate {
        /// The day it would have been.
        day: i64,
        /// How many days ago that was.
        days_ago: u64,
    },
}

/// The last day on which to order what has to be there on the day of its first use.
///
/// Units: days.
/// Valid: any days; the count stops at its ends.
/// Basis: arithmetic. What arrives on the day of use is in time; whoever wants room adds it to the lead time.
///
/// ```
/// use evenrow_rules::season::{OrderBy, order_by};
/// assert_eq!(order_by(120, 30, 80), OrderBy::InTime { day: 90, days_left: 10 });
/// assert_eq!(order_by(120, 30, 91), OrderBy::TooLate { day: 90, days_ago: 1 });
/// ```
pub fn order_by(first_use: i64, lead: u32, today: i64) -> OrderBy {
    let day = first_use.saturating_sub(i64::from(lead));
    let days = day.abs_diff(today);
    if today <= day {
        OrderBy::InTime {
            day,
            days_left: days,
        }
    } else {
        OrderBy::TooLate {
            day,
            days_ago: days,
        }
    }
}

/// Whether there are hours enough.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Room {
    /// There are; so many are left over.
    Spare(Hours),
    /// There are not; so many are missing.
    Missing(Hours),
}

/// Holds the hours that are needed against those that there are.
///
/// Units: hours.
/// Valid: always; as many as are needed is enough.
/// Basis: arithmetic.
///
/// ```
/// use evenrow_rules::{quantity::Hours, season::{Room, room}};
/// let hours = |hours| Hours::new(hours).unwrap();
/// assert_eq!(room(hours(400.0), hours(480.0)), Room::Spare(hours(80.0)));
/// assert_eq!(room(hours(400.0), hours(300.0)), Room::Missing(hours(100.0)));
/// ```
pub fn room(needed: Hours, available: Hours) -> Room {
    let spare = available.in_hours() - needed.in_hours();
    if 0.0 <= spare {
        Room::Spare(Hours::held(spare))
    } else {
        Room::Missing(Hours::held(-spare))
    }
}
