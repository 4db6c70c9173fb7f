//! The work plan: how many passes, how long they take, and when the work is done.
//!
//! The manuals say: the time is the sum over the operations of `P · D / (S · E)`, passes times distance over speed times
//! efficiency. Operations at different speeds are summed, never averaged: the slow one takes longer than the mean speed
//! would have it.
//!
//! Never here: when oil falls due (`oiling`), and what was really done (`journal`).

use alloc::vec::Vec;
use core::num::NonZeroU16;
use core::time::Duration;

use crate::oiling::{after_work, breaks};
use crate::quantity::{
    AreaRate, Distance, Efficiency, Hours, Instant, KilometresPerHour, Length, Span, Speed, Volume,
};

/// The most passes that one layer takes.
///
/// Units: passes.
/// Basis: house default, only there to stop nonsense.
pub const MOST_PASSES: u32 = 10_000;

/// How long an oil stop is taken to last until the operator says better.
///
/// Basis: house default.
pub const OIL_STOP: Duration = Duration::from_mins(10);

/// An interval between oilings of less than this counts as none.
///
/// Basis: house default, only there to stop nonsense.
const SHORTEST_INTERVAL: Duration = Duration::from_mins(1);

/// Whether the edge works on the way.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Edge {
    /// It cuts, and wears.
    Down,
    /// It is carried: dead-heading, or the way to the road.
    Up,
}

/// One operation at one speed, or a way driven with the edge up.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Leg {
    /// How often the distance is driven.
    pub passes: u16,
    /// How far, each time.
    pub distance: Distance,
    /// How fast.
    pub speed: Speed,
    /// Whether the edge works.
    pub edge: Edge,
}

/// How long the legs take.
#[derive(Clone, Debug, PartialEq)]
pub struct WorkTime {
    /// Each leg, in the order given.
    pub legs: Vec<Hours>,
    /// All of them.
    pub total: Hours,
    /// Those with the edge down: the hours that wear it.
    pub edge_down: Hours,
    /// How far the machine is driven, edge up or down.
    pub driven: Distance,
    /// How far the edge works.
    pub worked: Distance,
}

/// The time that the legs take, stops and breaks not counted: the sum of `P · D / (S · E)`.
///
/// Units: kilometres, km/h; hours out.
/// Valid: any legs; no legs take no time. Sums stop at a million hours.
/// Basis: published, `Source::EquipmentOperator` and `Source::EarthmovingOperations`; that dead-heading loses the same share of the hour is a house
/// default.
///
/// ```
/// use evenrow_rules::plan::{Edge, Leg, work_time};
/// use evenrow_rules::quantity::{Distance, Efficiency, Speed};
/// let leg = |passes, kmh| Leg {
///     passes,
///     distance: Distance::kilometres(10.0).unwrap(),
///     speed: Speed::kilometres_per_hour(kmh).unwrap(),
///     edge: Edge::Down,
/// };
/// let back = Leg { edge: Edge::Up, ..leg(1, 20.0) };
/// let time = work_time(&[leg(2, 5.0), back], Efficiency::share(0.5).unwrap());
/// assert_eq!((time.total.in_hours(), time.edge_down.in_hours()), (9.0, 8.0));
/// assert_eq!((time.driven.in_kilometres(), time.worked.in_kilometres()), (30.0, 20.0));
/// ```
pub fn work_time(legs: &[Leg], efficiency: Efficiency) -> WorkTime {
    let way = |leg: &Leg| f64::from(leg.passes) * leg.distance.in_kilometres();
    let hours = |leg: &Leg| way(leg) / (leg.speed.in_kilometres_per_hour() * efficiency.in_share());
    let down = || legs.iter().filter(|leg| leg.edge == Edge::Down);
    WorkTime {
        legs: legs.iter().map(|leg| Hours::held(hours(leg))).collect(),
        total: Hours::held(legs.iter().map(hours).sum()),
        edge_down: Hours::held(down().map(hours).sum()),
        driven: Distance::held(legs.iter().map(way).sum()),
        worked: Distance::held(down().map(way).sum()),
    }
}

/// The overlap leaves nothing new to cut, or next to nothing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum NoPasses {
    /// The overlap is as wide as the edge works, or wider.
    OverlapTooWide {
        /// The overlap as given.
        overlap: Length,
        /// The effective width as given.
        effective: Length,
    },
    /// More than [`MOST_PASSES`] for one layer.
    TooMany,
}

/// The area worked in an hour: `S · (Le - Lo) · 1000 · E`, speed in km/h and lengths in metres.
///
/// Units: km/h and lengths in, square metres per hour out.
/// Valid: an overlap less than the effective width.
/// Errors: [`NoPasses::OverlapTooWide`].
/// Basis: published, `Source::EarthmovingHandbooks`.
///
/// ```
/// use evenrow_rules::{plan::area_rate, quantity::{Efficiency, Length, Speed}};
/// let metres = |m: f64| Length::millimetres(m * 1000.0).unwrap();
/// let speed = Speed::kilometres_per_hour(13.0).unwrap();
/// let rate = area_rate(speed, metres(3.17), metres(0.6), Efficiency::share(0.9).unwrap()).unwrap();
/// assert_eq!(rate.in_square_metres_per_hour().round(), 30_069.0);
/// ```
pub fn area_rate(
    speed: Speed,
    effective: Length,
    overlap: Length,
    efficiency: Efficiency,
) -> Result<AreaRate, NoPasses> {
    let new = new_width(effective, overlap)?;
    // Kilometres times millimetres are square metres: the thousands cancel.
    Ok(AreaRate::held(
        speed.in_kilometres_per_hour() * new * efficiency.in_share(),
    ))
}

/// How many passes a road takes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Passes {
    /// For each layer.
    pub per_layer: u32,
    /// For all layers.
    pub total: u32,
}

/// The passes for a road: layers times `ceil((W - o) / (Le - o))`, one at least for each layer.
///
/// A remainder of less than a micrometre takes no further pass: records keep lengths to that, and an exact fit must not
/// be rounded up by float noise.
///
/// Units: lengths.
/// Valid: an overlap less than the effective width; a road of any width.
/// Errors: [`NoPasses`]: overlap too wide, or more than [`MOST_PASSES`] for a layer.
/// Basis: plane geometry: the first pass takes the effective width, each further one that less the overlap.
///
/// ```
/// use core::num::NonZeroU16;
/// use evenrow_rules::{plan::passes, quantity::Length};
/// let metres = |m: f64| Length::millimetres(m * 1000.0).unwrap();
/// let three = passes(metres(7.0), metres(3.2), metres(0.3), NonZeroU16::MIN).unwrap();
/// assert_eq!(three.total, 3); // 6.7 / 2.9 = 2.31
/// assert!(passes(metres(7.0), metres(3.2), metres(3.2), NonZeroU16::MIN).is_err());
/// ```
pub fn passes(
    road: Length,
    effective: Length,
    overlap: Length,
    layers: NonZeroU16,
) -> Result<Passes, NoPasses> {
    let new = new_width(effective, overlap)?;
    let rest = (road.in_millimetres() - overlap.in_millimetres() - 0.001).max(0.0);
    let across = libm::ceil(rest / new).max(1.0);
    if f64::from(MOST_PASSES) < across {
        return Err(NoPasses::TooMany);
    }
    let per_layer = across as u32;
    Ok(Passes {
        per_layer,
        total: per_layer * u32::from(layers.get()),
    })
}

/// What a further pass cuts that the last one did not, in millimetres.
fn new_width(effective: Length, overlap: Length) -> Result<f64, NoPasses> {
    let new = effective.less(overlap);
    if new == Length::ZERO {
        return Err(NoPasses::OverlapTooWide { overlap, effective });
    }
    Ok(new.in_millimetres())
}

/// Stops that are no breaks: the machine stands, and somebody works.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Stops {
    /// How many.
    pub count: u16,
    /// How long each.
    pub each: Duration,
}

/// How many oil stops so much work takes: one before it starts, then one whenever an interval of it is done and more is
/// left.
///
/// Units: working time.
/// Valid: always; no work takes no stop, and an interval of under a minute counts as none.
/// Basis: house default, that of `oiling`.
///
/// ```
/// use core::time::Duration;
/// use evenrow_rules::{plan::oil_stops, quantity::Hours};
/// let hours = |hours| Hours::new(hours).unwrap();
/// let interval = Duration::from_mins(160);
/// assert_eq!([0.0, 1.0, 8.0, 8.1].map(|it| oil_stops(hours(it), interval)), [0, 1, 3, 4]);
/// ```
pub fn oil_stops(work: Hours, interval: Duration) -> u16 {
    let work = work.as_duration();
    if work.is_zero() {
        return 0;
    }
    if interval < SHORTEST_INTERVAL {
        return 1;
    }
    u16::try_from(work.as_nanos().div_ceil(interval.as_nanos())).unwrap_or(u16::MAX)
}

/// When the work is done: its hours and the stops, begun at a moment and put off by every break.
///
/// A night between two shifts is a break like any other. A stop that is taken in a break saves its time; that is not
/// counted on.
///
/// Units: moments, hours.
/// Valid: breaks in any order, overlapping or not; those that are over before the start do not count.
/// Basis: arithmetic; [`breaks`] and [`after_work`] say which breaks count.
///
/// ```
/// use evenrow_rules::plan::{OIL_STOP, Stops, done_at};
/// use evenrow_rules::quantity::{Hours, Instant, Span};
/// let at = |hours: i64, minutes: i64| Instant::from_unix_ms((hours * 60 + minutes) * 60_000);
/// let noon = Span::new(at(11, 0), at(11, 30));
/// let stops = Stops { count: 3, each: OIL_STOP };
/// assert_eq!(done_at(at(7, 0), Hours::new(6.0).unwrap(), stops, &[noon]), at(14, 0));
/// ```
pub fn done_at(start: Instant, work: Hours, stops: Stops, planned: &[Span]) -> Instant {
    let stood = stops.each.saturating_mul(u32::from(stops.count));
    let needed = work.as_duration().saturating_add(stood);
    after_work(start, needed, &breaks(planned, &[]))
}

/// How much material is loosened: width times depth times distance, as it lay.
///
/// Units: lengths and kilometres in, cubic metres out.
/// Valid: always; held to a cubic kilometre.
/// Basis: arithmetic. Loose gravel takes up more room than it did before; by how much is not said here.
///
/// ```
/// use evenrow_rules::{plan::loosened, quantity::{Distance, Length}};
/// let mm = |mm: f64| Length::millimetres(mm).unwrap();
/// let volume = loosened(mm(6000.0), mm(25.0), Distance::kilometres(1.0).unwrap());
/// assert_eq!(volume.in_cubic_metres(), 150.0);
/// ```
pub fn loosened(width: Length, depth: Length, distance: Distance) -> Volume {
    // Millimetres times millimetres times kilometres: a thousandth of a cubic metre.
    Volume::held(
        width.in_millimetres() * depth.in_millimetres() * distance.in_kilometres() / 1000.0,
    )
}

/// What a grader is used for, as the handbooks sort its speeds.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Operation {
    /// Finish grading.
    FinishGrading,
    /// Heavy blading.
    HeavyBlading,
    /// Road maintenance.
    RoadMaintenance,
    /// Snow ploughing.
    SnowPloughing,
}

/// The speeds at which graders usually work, lowest and highest, by operation. In the order of [`Operation::ALL`].
///
/// Basis: published, `Source::EarthmovingHandbooks` (seen).
pub const USUAL_SPEEDS: [(Operation, (KilometresPerHour, KilometresPerHour)); 4] = [
    (
        Operation::FinishGrading,
        (KilometresPerHour(0), KilometresPerHour(4)),
    ),
    (
        Operation::HeavyBlading,
        (KilometresPerHour(0), KilometresPerHour(9)),
    ),
    (
        Operation::RoadMaintenance,
        (KilometresPerHour(5), KilometresPerHour(16)),
    ),
    (
        Operation::SnowPloughing,
        (KilometresPerHour(7), KilometresPerHour(21)),
    ),
];

impl Operation {
    /// Every operation, from the slowest to the fastest.
    ///
    /// Basis: the list of this file.
    pub const ALL: [Operation; 4] = [
        Operation::FinishGrading,
        Operation::HeavyBlading,
        Operation::RoadMaintenance,
        Operation::SnowPloughing,
    ];

    /// The speeds at which graders usually do it, lowest and highest. They were written for plain edges: a yardstick for
    /// a plan, no limit.
    ///
    /// Units: km/h.
    /// Valid: always.
    /// Basis: published, `Source::EarthmovingHandbooks` (seen).
    ///
    /// ```
    /// use evenrow_rules::{plan::Operation, quantity::KilometresPerHour};
    /// assert_eq!(Operation::HeavyBlading.usual_speeds().1, KilometresPerHour(9));
    /// ```
    pub const fn usual_speeds(self) -> (KilometresPerHour, KilometresPerHour) {
        USUAL_SPEEDS[self as usize].1
    }
}
