//! The cutting angle from the phone's sense of gravity.
//!
//! The phone lies on its back, its long edge square to the moldboard and its top towards it: first on the road in front
//! of the plate, then on the plate itself. So the phone's x axis, along its short edge, lies along the moldboard both
//! times, and what is measured is the turn about that axis, which is the angle seen along the moldboard. Gravity along x
//! takes no part in it: the board may follow the crown of the road. It only tells whether the phone lay square.
//!
//! Axes are those of the browser: x to the right of the screen, y to its top, z out of it. A phone that counts all three
//! the other way round gives the same angle.
//!
//! Never here: the sensor, and how long it is listened to (`device`).

use alloc::vec::Vec;

use crate::angle::Angle;
use crate::quantity::{Figure, OutOfRange, STANDARD_GRAVITY, What, within};

/// The fewest readings in each place; fewer have no spread worth the name.
///
/// Units: readings.
/// Basis: house default.
pub const FEWEST_READINGS: usize = 3;

/// Readings that lie further about their mean than this, in metres per second squared, were not taken at rest. It is
/// the root mean square of the distance in space, about 3° of tilt.
///
/// Units: metres per second squared.
/// Basis: house default.
pub const MOST_SPREAD: f64 = 0.5;

/// Gravity that differs from the standard by more than this, in metres per second squared, is not gravity, or the
/// sensor is off by more than can be put right.
///
/// Units: metres per second squared.
/// Basis: house default; on the road gravity itself differs by 0.04 at most.
pub const MOST_OFF_GRAVITY: f64 = 0.5;

/// The most that the phone's x axis may lie out of level, in either place.
///
/// Basis: house default: room for the crown of any road, and for no phone laid crosswise.
pub const MOST_LEAN: Angle = Angle::whole_degrees(10);

/// The most that this lean may differ between the two places. At the limit an angle of 30° or more comes out wrong by half
/// a degree on a level road, and by less than the stated uncertainty on one with a crown of 5 %.
///
/// Basis: house default; the consequence is plane geometry.
pub const MOST_TURN: Angle = Angle::whole_degrees(5);

/// A road that rises or falls by more than this along the machine is none: the phone was not laid on it.
///
/// Basis: house default: 36 %, steeper than any road.
pub const STEEPEST_ROAD: Angle = Angle::whole_degrees(20);

/// What the angle is uncertain by, as a standard deviation, however quiet the readings are: a browser may round them to
/// 0.1 m/s², which is 0.17° in each place; the rest is the sensor's own error and the laying by hand.
///
/// Units: degrees.
/// Basis: house default.
pub const FLOOR_DEGREES: f64 = 0.5;

/// How many readings at rest a place wants: about a second of most phones.
///
/// Units: readings.
/// Basis: house default.
pub const READINGS_WANTED: usize = 60;

/// A phone that has given so many readings at rest is called steady.
///
/// Units: readings.
/// Basis: house default: a quarter of a second, so that the word does not flicker.
pub const STEADY_AFTER: usize = 15;

/// A reading that lies further from the mean of those before it than this was not taken at rest, about 2° of tilt.
///
/// Units: metres per second squared.
/// Basis: house default: several times the noise of a phone that is pressed to steel by hand.
pub const STEADY_WITHIN: f64 = 0.4;

/// After so many readings without rest the hand will not become steady by waiting.
///
/// Units: readings.
/// Basis: house default: about ten seconds of most phones.
pub const RESTLESS_AFTER: usize = 600;

/// The most that a tooth's axis may stand off its plate, either way.
///
/// Basis: house default, only there to stop nonsense.
pub const MOST_PLATE_TO_TOOTH: Angle = Angle::whole_degrees(45);

/// The largest reading of any axis, either way: about ten times gravity.
///
/// Units: metres per second squared.
/// Basis: house default, only there to stop nonsense.
const MOST_READING: f64 = 100.0;

/// One reading of gravity, in the axes of the phone.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Gravity {
    x: f64,
    y: f64,
    z: f64,
}

impl Gravity {
    /// A reading from its three components.
    ///
    /// Units: metres per second squared.
    /// Valid: -100 to +100 each, about ten times gravity.
    /// Errors: [`OutOfRange`] outside that, and for NaN.
    /// Basis: house default, only there to stop nonsense.
    ///
    /// ```
    /// use evenrow_rules::tilt::Gravity;
    /// assert!(Gravity::new(0.0, 0.0, 9.81).is_ok());
    /// assert!(Gravity::new(0.0, f64::NAN, 9.81).is_err());
    /// ```
    pub fn new(x: f64, y: f64, z: f64) -> Result<Gravity, OutOfRange<Figure>> {
        let component = |it| within(Figure::Acceleration, it, -MOST_READING, MOST_READING);
        Ok(Gravity {
            x: component(x)?,
            y: component(y)?,
            z: component(z)?,
        })
    }
}

/// Where the phone lay.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Place {
    /// On the road in front of the moldboard.
    Road,
    /// On the plate.
    Blade,
}

/// Why there is no angle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum NoAngle {
    /// Fewer than [`FEWEST_READINGS`].
    TooFew {
        /// In which place.
        at: Place,
        /// How many there were.
        got: usize,
    },
    /// The phone was not at rest: the readings spread by more than [`MOST_SPREAD`].
    NotStill {
        /// In which place.
        at: Place,
        /// How much they spread, in metres per second squared.
        spread: f64,
    },
    /// The readings are off gravity by more than [`MOST_OFF_GRAVITY`]: not at rest, not in metres per second squared,
    /// gravity taken out, or a bad sensor.
    NotGravity {
        /// In which place.
        at: Place,
        /// The size of their mean, in metres per second squared.
        size: f64,
    },
    /// The phone's x axis lay out of level by more than [`MOST_LEAN`]: it did not lie along the moldboard.
    NotAligned {
        /// In which place.
        at: Place,
        /// By how much, whichever way.
        lean: Angle,
    },
    /// The phone said to lie on the road rose or fell by more than [`STEEPEST_ROAD`]: it did not lie there.
    NotOnRoad {
        /// By how much, whichever way.
        slope: Angle,
    },
    /// The lean differed between the two places by more than [`MOST_TURN`]: the phone was turned on its back.
    Turned {
        /// By how much, whichever way.
        by: Angle,
    },
}

/// A cutting angle as measured.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tilt {
    /// From the road to the plate about the phone's x axis, ]-180°, 180°]: +50° when the phone's top edge was raised by
    /// 50°, -50° when its bottom edge was. Negative means that the top did not point towards the moldboard.
    pub turned: Angle,
    /// The cutting angle: how far the plate is turned, whichever way the phone's top pointed, and the tooth's own angle
    /// to the plate added.
    pub cutting: Angle,
    /// The cutting angle is within this, either way, 19 times in 20 (coverage factor 2).
    pub uncertainty: Angle,
}

/// The cutting angle from readings on the road and on the plate.
///
/// In each place the readings are averaged; the angle is the turn between the two means in the plane of y and z.
///
/// The uncertainty is twice the root of the sum of three squares: [`FLOOR_DEGREES`], and in each place the standard
/// error of the readings' tilt. That error is the larger of standard deviation over root of count, and of half the
/// difference between the first half and the second: readings follow each other so fast that neighbours are alike, and
/// a slow drift would else hide. Below 31 readings it is widened by Student's t over 2.
///
/// Units: `tooth` is the angle from the plate to the tooth's axis: 3° for a tooth that stands 3° steeper than the
/// plate, -3° for a flatter one, 0° where it has not been measured.
/// Valid: any readings; above 90° the tooth leans forward past upright.
/// Errors: [`NoAngle`]: too few readings, not still, not gravity, not aligned; then not on the road, or turned between the
/// two places. The first that is found, the road before the blade.
/// Basis: plane geometry; the limits and the floor are house defaults; `Source::NistStudentT` has Student's t.
///
/// ```
/// use evenrow_rules::angle::Angle;
/// use evenrow_rules::tilt::{Gravity, tilt};
/// let flat = [Gravity::new(0.0, 0.0, 9.81).unwrap(); 20];
/// let raised = [Gravity::new(0.0, 7.515, 6.306).unwrap(); 20]; // 9.81 · sin 50°, 9.81 · cos 50°
/// let measured = tilt(&flat, &raised, Angle::whole_degrees(0)).unwrap();
/// assert!((measured.turned.in_degrees() - 50.0).abs() < 0.01);
/// assert_eq!(measured.uncertainty.in_degrees(), 1.0);
/// let lowered = [Gravity::new(0.0, -7.515, 6.306).unwrap(); 20];
/// let measured = tilt(&flat, &lowered, Angle::whole_degrees(3)).unwrap();
/// assert!((measured.turned.in_degrees() + 50.0).abs() < 0.01);
/// assert!((measured.cutting.in_degrees() - 53.0).abs() < 0.01);
/// ```
pub fn tilt(road: &[Gravity], blade: &[Gravity], tooth: Angle) -> Result<Tilt, NoAngle> {
    let (road, blade) = (
        Series::of(Place::Road, road)?,
        Series::of(Place::Blade, blade)?,
    );
    let slope = road.rise().size();
    if STEEPEST_ROAD < slope {
        return Err(NoAngle::NotOnRoad { slope });
    }
    let by = road.lean.plus(blade.lean.reversed()).size();
    if MOST_TURN < by {
        return Err(NoAngle::Turned { by });
    }
    let turned = turn(road.mean, blade.mean);
    // Two standard deviations hold about 19 times in 20.
    let floor = 2.0 * FLOOR_DEGREES;
    let squares = floor * floor
        + road.error_degrees * road.error_degrees
        + blade.error_degrees * blade.error_degrees;
    Ok(Tilt {
        turned,
        cutting: turned.size().plus(tooth),
        uncertainty: Angle::held(libm::sqrt(squares)),
    })
}

/// The angle from the plate to the tooth's axis, from both of their own angles: 3° for a tooth that stands 3° steeper
/// than the plate, -3° for a flatter one.
///
/// Units: degrees.
/// Valid: a difference of 45° at most, either way.
/// Errors: [`OutOfRange`] beyond that.
/// Basis: plane geometry; the limit is a house default, only there to stop nonsense.
///
/// ```
/// use evenrow_rules::angle::Angle;
/// use evenrow_rules::tilt::plate_to_tooth;
/// let degrees = Angle::whole_degrees;
/// assert_eq!(plate_to_tooth(degrees(50), degrees(53)).unwrap().in_degrees(), 3.0);
/// assert!(plate_to_tooth(degrees(10), degrees(80)).is_err());
/// ```
pub fn plate_to_tooth(plate: Angle, tooth: Angle) -> Result<Angle, OutOfRange> {
    let (off, most) = (
        tooth.in_degrees() - plate.in_degrees(),
        MOST_PLATE_TO_TOOTH.in_degrees(),
    );
    within(What::PlateToTooth, off, -most, most).map(Angle::held)
}

/// The readings of a phone since it came to rest. One that moved begins anew, so that no reading of the way there is
/// ever averaged.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Rest {
    still: Vec<Gravity>,
    taken: usize,
}

impl Rest {
    /// Takes one more reading: with those before it where it lies within [`STEADY_WITHIN`] of their mean, else as the
    /// first of a new row. Nothing changes once there are [`READINGS_WANTED`].
    ///
    /// Valid: any reading.
    /// Basis: that of [`STEADY_WITHIN`].
    ///
    /// ```
    /// use evenrow_rules::tilt::{Gravity, Rest};
    /// let mut rest = Rest::default();
    /// rest.take(Gravity::new(0.0, 0.0, 9.8).unwrap());
    /// rest.take(Gravity::new(0.0, 0.1, 9.8).unwrap());
    /// assert_eq!(rest.readings().len(), 2);
    /// rest.take(Gravity::new(0.0, 5.0, 8.4).unwrap());
    /// assert_eq!(rest.readings().len(), 1);
    /// ```
    pub fn take(&mut self, reading: Gravity) {
        if self.is_full() {
            return;
        }
        self.taken = self.taken.saturating_add(1);
        let moved = !self.still.is_empty() && STEADY_WITHIN < size(mean(&self.still).to(reading));
        if moved {
            self.still.clear();
        }
        self.still.push(reading);
    }

    /// The readings since it came to rest.
    ///
    /// Valid: always; [`READINGS_WANTED`] at most.
    /// Basis: as given.
    ///
    /// ```
    /// assert!(evenrow_rules::tilt::Rest::default().readings().is_empty());
    /// ```
    pub fn readings(&self) -> &[Gravity] {
        &self.still
    }

    /// Whether it lies still.
    ///
    /// Valid: always.
    /// Basis: that of [`STEADY_AFTER`].
    ///
    /// ```
    /// use evenrow_rules::tilt::{Gravity, Rest, STEADY_AFTER};
    /// let mut rest = Rest::default();
    /// (0..STEADY_AFTER).for_each(|_| rest.take(Gravity::new(0.0, 0.0, 9.8).unwrap()));
    /// assert!(rest.is_steady());
    /// ```
    pub fn is_steady(&self) -> bool {
        STEADY_AFTER <= self.still.len()
    }

    /// Whether there are readings enough.
    ///
    /// Valid: always.
    /// Basis: that of [`READINGS_WANTED`].
    ///
    /// ```
    /// use evenrow_rules::tilt::{Gravity, READINGS_WANTED, Rest};
    /// let mut rest = Rest::default();
    /// (0..READINGS_WANTED).for_each(|_| rest.take(Gravity::new(0.0, 0.0, 9.8).unwrap()));
    /// assert!(rest.is_full());
    /// ```
    pub fn is_full(&self) -> bool {
        READINGS_WANTED <= self.still.len()
    }

    /// Whether it has been waited for long enough to say that this hand will not come to rest.
    ///
    /// Valid: always.
    /// Basis: that of [`RESTLESS_AFTER`].
    ///
    /// ```
    /// assert!(!evenrow_rules::tilt::Rest::default().is_restless());
    /// ```
    pub fn is_restless(&self) -> bool {
        RESTLESS_AFTER <= self.taken && !self.is_full()
    }
}

/// The readings of one place, checked.
pub(crate) struct Series {
    mean: Gravity,
    /// How far the x axis lies out of level, with its sign.
    lean: Angle,
    /// What the tilt of the mean is uncertain by, 19 times in 20.
    pub(crate) error_degrees: f64,
}

impl Series {
    /// How far the phone's top lies above its bottom, whichever way this phone counts its axes: 0° lies level.
    pub(crate) fn rise(&self) -> Angle {
        let Gravity { x, y, z } = self.mean;
        let up = if z < 0.0 { -y } else { y };
        Angle::of_sides(up, libm::hypot(x, z)).unwrap_or(UNKNOWN)
    }

    pub(crate) fn of(at: Place, readings: &[Gravity]) -> Result<Series, NoAngle> {
        let got = readings.len();
        if got < FEWEST_READINGS {
            return Err(NoAngle::TooFew { at, got });
        }
        let mean = mean(readings);
        let spread = deviation(readings, |it| size(mean.to(it)));
        if MOST_SPREAD < spread {
            return Err(NoAngle::NotStill { at, spread });
        }
        let size = size(mean);
        if MOST_OFF_GRAVITY < (size - STANDARD_GRAVITY).abs() {
            return Err(NoAngle::NotGravity { at, size });
        }
        let lean = Angle::of_sides(mean.x, libm::hypot(mean.y, mean.z)).unwrap_or(UNKNOWN);
        if MOST_LEAN < lean.size() {
            return Err(NoAngle::NotAligned {
                at,
                lean: lean.size(),
            });
        }
        let scatter = deviation(readings, |it| turn(mean, it).in_degrees());
        let (first, second) = readings.split_at(got / 2);
        let drift = turn(self::mean(first), self::mean(second))
            .size()
            .in_degrees();
        let error = (scatter / libm::sqrt(got as f64)).max(drift / 2.0);
        Ok(Series {
            mean,
            lean,
            error_degrees: coverage(got) * error,
        })
    }
}

/// Where no angle can be told. Readings that are nearly gravity never come to it on average.
///
/// Basis: house default, only there to stop nonsense.
const UNKNOWN: Angle = Angle::whole_degrees(180);

/// The turn about the x axis that takes one reading to the other: 90° takes z to y.
fn turn(from: Gravity, to: Gravity) -> Angle {
    let across = to.y * from.z - to.z * from.y;
    let along = to.y * from.y + to.z * from.z;
    Angle::of_sides(across, along).unwrap_or(UNKNOWN)
}

fn mean(readings: &[Gravity]) -> Gravity {
    let part =
        |of: fn(&Gravity) -> f64| readings.iter().map(of).sum::<f64>() / readings.len() as f64;
    Gravity {
        x: part(|it| it.x),
        y: part(|it| it.y),
        z: part(|it| it.z),
    }
}

/// The standard deviation of what stands for each reading's distance from the mean.
fn deviation(readings: &[Gravity], distance: impl Fn(Gravity) -> f64) -> f64 {
    let squares = readings.iter().map(|&it| distance(it) * distance(it));
    libm::sqrt(squares.sum::<f64>() / (readings.len() as f64 - 1.0))
}

fn size(reading: Gravity) -> f64 {
    libm::sqrt(reading.x * reading.x + reading.y * reading.y + reading.z * reading.z)
}

impl Gravity {
    /// What has to be added to this reading to get the other.
    fn to(self, other: Gravity) -> Gravity {
        Gravity {
            x: other.x - self.x,
            y: other.y - self.y,
            z: other.z - self.z,
        }
    }
}

/// Student's t, one tail 0.025, for some degrees of freedom: what a standard error is multiplied by to hold 19 times in
/// 20.
///
/// Units: degrees of freedom, standard errors.
/// Basis: published, `Source::NistStudentT`.
const STUDENT_T: [(usize, f64); 5] = [(2, 4.303), (3, 3.182), (5, 2.571), (10, 2.228), (30, 2.042)];

/// By what a standard error of so many readings is multiplied: that of the nearest fewer degrees of freedom printed.
fn coverage(readings: usize) -> f64 {
    let fewer = STUDENT_T
        .iter()
        .take_while(|(freedom, _)| *freedom < readings);
    fewer.last().map_or(STUDENT_T[0].1, |&(_, t)| t)
}
