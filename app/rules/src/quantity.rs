//! Numbers that know their unit and their range: lengths, temperatures, speeds, masses, instants and spans of time.
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
    /// The angle from a plate to the axis of its teeth in degrees.
    PlateToTooth,
}

/// Which number of a calculation was out of range; the app has the word for it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Figure {
    /// A speed in kilometres per hour.
    Speed,
    /// A distance along the road in kilometres.
    Distance,
    /// A time in hours.
    Hours,
    /// A share of the time, 1 being all of it.
    Efficiency,
    /// A mass in kilograms.
    Mass,
    /// A force in kilonewtons.
    Force,
    /// A volume in cubic metres.
    Volume,
    /// An area in square metres.
    Area,
    /// One component of an acceleration in metres per second squared.
    Acceleration,
    /// The distance between a machine's axles in millimetres.
    Wheelbase,
    /// The distance from the edge to the centre of the rear wheels in millimetres.
    EdgeToRear,
    /// The radius on which marks are set out in millimetres.
    MarkRadius,
    /// The radius of a round tip in millimetres.
    TipRadius,
    /// The full angle of a cone in degrees.
    ConeAngle,
    /// The diameter of a flat tip in millimetres.
    FlatWidth,
    /// The length that a new tip may lose in millimetres.
    Tip,
    /// The diameter of a patch of sand in millimetres.
    Patch,
    /// A share of a weight that turns into pull, 1 being all of it.
    Coefficient,
    /// An amount of money in whatever money the operator counts in.
    Money,
    /// An amount of oil in litres.
    Oil,
    /// An amount of teeth.
    Teeth,
    /// A rate of wear in millimetres per hour.
    WearRate,
    /// The standard deviation of a number, as a share of it.
    RelativeSpread,
    /// How sure an answer is to be, 1 being certain.
    Confidence,
}

/// A number that no quantity of that kind can have: what it was, what was given and what would be right.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OutOfRange<Name = What> {
    /// Which number it was.
    pub what: Name,
    /// What was given; may be NaN.
    pub got: f64,
    /// The least that is allowed.
    pub min: f64,
    /// The most that is allowed.
    pub max: f64,
}

/// Lets a number through that lies in a closed range; everything else, NaN included, is refused.
///
/// Units: those of the number; the bounds have the same.
/// Valid: any bounds with `min <= max`.
/// Errors: [`OutOfRange`] outside the bounds.
/// Basis: arithmetic.
///
/// ```
/// use evenrow_rules::quantity::{Figure, What, within};
/// assert_eq!(within(What::Pitch, 38.1, 20.0, 150.0), Ok(38.1));
/// assert!(within(Figure::Speed, f64::NAN, 0.1, 100.0).is_err());
/// ```
pub fn within<Name>(what: Name, got: f64, min: f64, max: f64) -> Result<f64, OutOfRange<Name>> {
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

/// The longest length: a kilometre.
///
/// Units: millimetres.
/// Basis: house default, only there to stop nonsense.
const MOST_MILLIMETRES: f64 = 1_000_000.0;

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
        within(What::Length, mm, 0.0, MOST_MILLIMETRES).map(Length)
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
        let mm = um as f64 / 1000.0;
        Length(if mm < MOST_MILLIMETRES {
            mm
        } else {
            MOST_MILLIMETRES
        })
    }

    /// The length in millimetres.
    ///
    /// Units: millimetres.
    /// Valid: always.
    /// Basis: arithmetic.
    ///
    /// ```
    /// use evenrow_rules::quantity::Length;
    /// assert_eq!(Length::micrometres(38_100).in_millimetres(), 38.1);
    /// ```
    pub const fn in_millimetres(self) -> f64 {
        self.0
    }

    /// The length in whole micrometres, rounded to the nearest.
    ///
    /// Units: micrometres.
    /// Valid: always; a kilometre is 10⁹ µm and fits.
    /// Basis: arithmetic.
    ///
    /// ```
    /// use evenrow_rules::quantity::Length;
    /// assert_eq!(Length::millimetres(38.1).unwrap().in_micrometres(), 38_100);
    /// ```
    pub fn in_micrometres(self) -> u32 {
        libm::round(self.0 * 1000.0) as u32
    }

    /// This length as many times over.
    ///
    /// Units: a count; the length keeps its unit.
    /// Valid: always; cut to a kilometre.
    /// Basis: arithmetic.
    ///
    /// ```
    /// use evenrow_rules::quantity::Length;
    /// assert_eq!(Length::micrometres(304_800).times(2).in_millimetres(), 609.6);
    /// ```
    #[must_use]
    pub fn times(self, count: u32) -> Length {
        Length((self.0 * f64::from(count)).min(MOST_MILLIMETRES))
    }

    /// This length scaled by a factor between nothing and all of it, as a sine or a share does.
    ///
    /// Units: a share, 1 being all of it.
    /// Valid: any factor; it is held to 0 to 1, and NaN counts as 0.
    /// Basis: arithmetic.
    ///
    /// ```
    /// use evenrow_rules::quantity::Length;
    /// assert_eq!(Length::micrometres(8_000).share(0.25).in_millimetres(), 2.0);
    /// ```
    #[must_use]
    pub fn share(self, factor: f64) -> Length {
        Length(self.0 * hold(factor, 1.0))
    }

    /// What is left when the other length is taken off; never below nothing.
    ///
    /// Units: lengths.
    /// Valid: always.
    /// Basis: arithmetic.
    ///
    /// ```
    /// use evenrow_rules::quantity::Length;
    /// let (one, two) = (Length::micrometres(1_000), Length::micrometres(2_000));
    /// assert_eq!((two.less(one), one.less(two)), (one, Length::ZERO));
    /// ```
    #[must_use]
    pub fn less(self, other: Length) -> Length {
        Length((self.0 - other.0).max(0.0))
    }

    /// A length worked out inside the crate: held to the range, NaN counts as nothing.
    pub(crate) fn held(mm: f64) -> Length {
        Length(hold(mm, MOST_MILLIMETRES))
    }
}

/// The range of temperatures: every air and road surface on record, with room.
///
/// Units: degrees Celsius.
/// Basis: house default, to stop nonsense.
const TEMPERATURES: (f64, f64) = (-70.0, 90.0);

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
        within(What::Temperature, degrees, TEMPERATURES.0, TEMPERATURES.1).map(Temperature)
    }

    /// A temperature in whole degrees Celsius, for limits written in the code.
    ///
    /// Units: degrees Celsius.
    /// Valid: every `i8`; held to -70 to +90.
    /// Basis: arithmetic.
    ///
    /// ```
    /// use evenrow_rules::quantity::Temperature;
    /// assert_eq!(Temperature::whole_celsius(-20).in_celsius(), -20.0);
    /// ```
    pub const fn whole_celsius(degrees: i8) -> Temperature {
        let (least, most, degrees) = (TEMPERATURES.0, TEMPERATURES.1, degrees as f64);
        Temperature(if degrees < least {
            least
        } else if most < degrees {
            most
        } else {
            degrees
        })
    }

    /// The temperature in degrees Celsius.
    ///
    /// Units: degrees Celsius.
    /// Valid: always.
    /// Basis: arithmetic.
    ///
    /// ```
    /// use evenrow_rules::quantity::Temperature;
    /// assert_eq!(Temperature::celsius(-27.5).unwrap().in_celsius(), -27.5);
    /// ```
    pub const fn in_celsius(self) -> f64 {
        self.0
    }
}

/// A speed in whole kilometres per hour, for limits.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct KilometresPerHour(pub u8);

/// The range of speeds.
///
/// Units: kilometres an hour.
/// Basis: house default, only there to stop nonsense.
const SPEEDS: (f64, f64) = (0.1, 100.0);

/// A speed over the ground at which work gets done: never nothing.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Speed(f64);

impl Speed {
    /// A speed given in kilometres per hour.
    ///
    /// Units: kilometres per hour.
    /// Valid: 0.1 to 100 km/h.
    /// Errors: [`OutOfRange`] outside that, and for NaN.
    /// Basis: house default, only there to stop nonsense.
    ///
    /// ```
    /// use evenrow_rules::quantity::Speed;
    /// assert_eq!(Speed::kilometres_per_hour(13.0).unwrap().in_kilometres_per_hour(), 13.0);
    /// assert!(Speed::kilometres_per_hour(0.0).is_err());
    /// ```
    pub fn kilometres_per_hour(kmh: f64) -> Result<Speed, OutOfRange<Figure>> {
        within(Figure::Speed, kmh, SPEEDS.0, SPEEDS.1).map(Speed)
    }

    /// The speed in kilometres per hour.
    ///
    /// Units: kilometres per hour.
    /// Valid: always.
    /// Basis: arithmetic.
    ///
    /// ```
    /// use evenrow_rules::quantity::Speed;
    /// assert_eq!(Speed::kilometres_per_hour(13.0).unwrap().in_kilometres_per_hour(), 13.0);
    /// ```
    pub const fn in_kilometres_per_hour(self) -> f64 {
        self.0
    }
}

/// A distance along the road.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Distance(f64);

impl Distance {
    /// No way at all.
    ///
    /// Basis: arithmetic.
    pub const ZERO: Distance = Distance(0.0);

    /// A distance given in kilometres.
    ///
    /// Units: kilometres.
    /// Valid: 0 to 1,000,000 km.
    /// Errors: [`OutOfRange`] outside that, and for NaN.
    /// Basis: house default, only there to stop nonsense.
    ///
    /// ```
    /// use evenrow_rules::quantity::Distance;
    /// assert_eq!(Distance::kilometres(8.04672).unwrap().in_kilometres(), 8.04672);
    /// assert!(Distance::kilometres(-1.0).is_err());
    /// ```
    pub fn kilometres(km: f64) -> Result<Distance, OutOfRange<Figure>> {
        within(Figure::Distance, km, 0.0, MOST_KILOMETRES).map(Distance)
    }

    /// The distance in kilometres.
    ///
    /// Units: kilometres.
    /// Valid: always.
    /// Basis: arithmetic.
    ///
    /// ```
    /// use evenrow_rules::quantity::Distance;
    /// assert_eq!(Distance::kilometres(8.04672).unwrap().in_kilometres(), 8.04672);
    /// ```
    pub const fn in_kilometres(self) -> f64 {
        self.0
    }

    /// A distance worked out inside the crate: held to the range, NaN counts as nothing.
    pub(crate) fn held(km: f64) -> Distance {
        Distance(hold(km, MOST_KILOMETRES))
    }
}

/// The most kilometres that are counted.
///
/// Units: kilometres.
/// Basis: house default, only there to stop nonsense.
const MOST_KILOMETRES: f64 = 1_000_000.0;

/// How many seconds an hour has.
///
/// Units: seconds.
/// Basis: arithmetic.
const SECONDS_AN_HOUR: f64 = 3600.0;

/// A time in hours, as work and wear are counted.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Hours(f64);

impl Hours {
    /// No time at all.
    ///
    /// Basis: arithmetic.
    pub const ZERO: Hours = Hours(0.0);

    /// A time given in hours.
    ///
    /// Units: hours.
    /// Valid: 0 to 1,000,000 h, over a century.
    /// Errors: [`OutOfRange`] outside that, and for NaN.
    /// Basis: house default, only there to stop nonsense.
    ///
    /// ```
    /// use evenrow_rules::quantity::Hours;
    /// assert_eq!(Hours::new(14.328).unwrap().in_hours(), 14.328);
    /// assert!(Hours::new(f64::INFINITY).is_err());
    /// ```
    pub fn new(hours: f64) -> Result<Hours, OutOfRange<Figure>> {
        within(Figure::Hours, hours, 0.0, MOST_HOURS).map(Hours)
    }

    /// The time in hours.
    ///
    /// Units: hours.
    /// Valid: always.
    /// Basis: arithmetic.
    ///
    /// ```
    /// use evenrow_rules::quantity::Hours;
    /// assert_eq!(Hours::new(14.328).unwrap().in_hours(), 14.328);
    /// ```
    pub const fn in_hours(self) -> f64 {
        self.0
    }

    /// The same time, to the nearest nanosecond.
    ///
    /// Units: hours in, time out.
    /// Valid: always.
    /// Basis: arithmetic; an hour has 3,600 seconds.
    ///
    /// ```
    /// use core::time::Duration;
    /// use evenrow_rules::quantity::Hours;
    /// assert_eq!(Hours::new(1.5).unwrap().as_duration(), Duration::from_mins(90));
    /// ```
    pub fn as_duration(self) -> Duration {
        Duration::from_secs_f64(self.0 * SECONDS_AN_HOUR)
    }

    /// The hours of a time; beyond a million they are cut to that.
    ///
    /// Units: time in, hours out.
    /// Valid: always.
    /// Basis: arithmetic; an hour has 3,600 seconds.
    ///
    /// ```
    /// use core::time::Duration;
    /// use evenrow_rules::quantity::Hours;
    /// assert_eq!(Hours::of(Duration::from_mins(90)).in_hours(), 1.5);
    /// ```
    pub fn of(time: Duration) -> Hours {
        Hours::held(time.as_secs_f64() / SECONDS_AN_HOUR)
    }

    /// A time worked out inside the crate: held to the range, NaN counts as nothing.
    pub(crate) fn held(hours: f64) -> Hours {
        Hours(hold(hours, MOST_HOURS))
    }
}

/// The most hours that are counted.
///
/// Units: hours.
/// Basis: house default, only there to stop nonsense.
const MOST_HOURS: f64 = 1_000_000.0;

/// The least share of the hour in which work gets done.
///
/// Units: of the hour.
/// Basis: house default, only there to stop nonsense.
const LEAST_EFFICIENCY: f64 = 0.01;

/// The share of the hour in which work gets done: never nothing, at most all of it.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Efficiency(f64);

impl Efficiency {
    /// The whole hour.
    ///
    /// Basis: arithmetic.
    pub const ALL: Efficiency = Efficiency(1.0);

    /// A share of the hour.
    ///
    /// Units: a share, 1 being the whole hour.
    /// Valid: 0.01 to 1.
    /// Errors: [`OutOfRange`] outside that, and for NaN.
    /// Basis: house default for the lower end, only there to stop nonsense; the upper end is arithmetic.
    ///
    /// ```
    /// use evenrow_rules::quantity::Efficiency;
    /// assert_eq!(Efficiency::share(0.6).unwrap().in_share(), 0.6);
    /// assert!(Efficiency::share(1.5).is_err());
    /// ```
    pub fn share(share: f64) -> Result<Efficiency, OutOfRange<Figure>> {
        within(Figure::Efficiency, share, LEAST_EFFICIENCY, 1.0).map(Efficiency)
    }

    /// The share, 1 being the whole hour.
    ///
    /// Units: a share, 1 being the whole hour.
    /// Valid: always.
    /// Basis: arithmetic.
    ///
    /// ```
    /// use evenrow_rules::quantity::Efficiency;
    /// assert_eq!(Efficiency::share(0.6).unwrap().in_share(), 0.6);
    /// ```
    pub const fn in_share(self) -> f64 {
        self.0
    }
}

/// The largest mass.
///
/// Units: kilograms.
/// Basis: house default, only there to stop nonsense.
const MOST_KILOGRAMS: f64 = 200_000.0;

/// A mass, as a weighbridge shows it.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Mass(f64);

impl Mass {
    /// A mass given in kilograms.
    ///
    /// Units: kilograms.
    /// Valid: 0 to 200,000 kg.
    /// Errors: [`OutOfRange`] outside that, and for NaN.
    /// Basis: house default, only there to stop nonsense.
    ///
    /// ```
    /// use evenrow_rules::quantity::Mass;
    /// assert_eq!(Mass::kilograms(4500.0).unwrap().in_kilograms(), 4500.0);
    /// assert!(Mass::kilograms(-1.0).is_err());
    /// ```
    pub fn kilograms(kg: f64) -> Result<Mass, OutOfRange<Figure>> {
        within(Figure::Mass, kg, 0.0, MOST_KILOGRAMS).map(Mass)
    }

    /// The mass in kilograms.
    ///
    /// Units: kilograms.
    /// Valid: always.
    /// Basis: arithmetic.
    ///
    /// ```
    /// use evenrow_rules::quantity::Mass;
    /// assert_eq!(Mass::kilograms(4500.0).unwrap().in_kilograms(), 4500.0);
    /// ```
    pub const fn in_kilograms(self) -> f64 {
        self.0
    }

    /// The force with which it presses on level ground.
    ///
    /// Units: kilograms in, kilonewtons out.
    /// Valid: always.
    /// Basis: that of [`STANDARD_GRAVITY`].
    ///
    /// ```
    /// use evenrow_rules::quantity::Mass;
    /// let force = Mass::kilograms(1000.0).unwrap().weight();
    /// assert!((force.in_kilonewtons() - 9.80665).abs() < 1e-12);
    /// ```
    pub fn weight(self) -> Force {
        Force::held(self.0 * STANDARD_GRAVITY / 1000.0)
    }
}

/// Standard gravity in metres per second squared.
///
/// Units: metres per second squared.
/// Basis: arithmetic: 9.80665 exactly, by definition; gravity on the road differs from it by a third of a percent at most.
pub const STANDARD_GRAVITY: f64 = 9.80665;

/// A force.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Force(f64);

impl Force {
    /// A force given in kilonewtons.
    ///
    /// Units: kilonewtons.
    /// Valid: 0 to 100,000 kN.
    /// Errors: [`OutOfRange`] outside that, and for NaN.
    /// Basis: house default, only there to stop nonsense.
    ///
    /// ```
    /// use evenrow_rules::quantity::Force;
    /// assert_eq!(Force::kilonewtons(66.7).unwrap().in_kilonewtons(), 66.7);
    /// assert!(Force::kilonewtons(-1.0).is_err());
    /// ```
    pub fn kilonewtons(kn: f64) -> Result<Force, OutOfRange<Figure>> {
        within(Figure::Force, kn, 0.0, MOST_KILONEWTONS).map(Force)
    }

    /// The force in kilonewtons.
    ///
    /// Units: kilonewtons.
    /// Valid: always.
    /// Basis: arithmetic.
    ///
    /// ```
    /// use evenrow_rules::quantity::Force;
    /// assert_eq!(Force::kilonewtons(66.7).unwrap().in_kilonewtons(), 66.7);
    /// ```
    pub const fn in_kilonewtons(self) -> f64 {
        self.0
    }

    /// A force worked out inside the crate: held to the range, NaN counts as nothing.
    pub(crate) fn held(kn: f64) -> Force {
        Force(hold(kn, MOST_KILONEWTONS))
    }
}

/// The most kilonewtons that are counted.
///
/// Units: kilonewtons.
/// Basis: house default, only there to stop nonsense.
const MOST_KILONEWTONS: f64 = 100_000.0;

/// A volume of sand, gravel or snow.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Volume(f64);

impl Volume {
    /// A volume given in cubic metres.
    ///
    /// Units: cubic metres.
    /// Valid: 0 to 10⁹ m³, a cubic kilometre.
    /// Errors: [`OutOfRange`] outside that, and for NaN.
    /// Basis: house default, only there to stop nonsense.
    ///
    /// ```
    /// use evenrow_rules::quantity::Volume;
    /// assert_eq!(Volume::cubic_metres(299.0).unwrap().in_cubic_metres(), 299.0);
    /// assert!(Volume::cubic_metres(f64::NAN).is_err());
    /// ```
    pub fn cubic_metres(m3: f64) -> Result<Volume, OutOfRange<Figure>> {
        within(Figure::Volume, m3, 0.0, MOST_CUBIC_METRES).map(Volume)
    }

    /// The volume in cubic metres.
    ///
    /// Units: cubic metres.
    /// Valid: always.
    /// Basis: arithmetic.
    ///
    /// ```
    /// use evenrow_rules::quantity::Volume;
    /// assert_eq!(Volume::cubic_metres(299.0).unwrap().in_cubic_metres(), 299.0);
    /// ```
    pub const fn in_cubic_metres(self) -> f64 {
        self.0
    }

    /// A volume given in cubic millimetres, as a sand patch has it.
    ///
    /// Units: cubic millimetres.
    /// Valid: 0 to 10¹⁸ mm³.
    /// Errors: [`OutOfRange`] outside that, and for NaN; it speaks of cubic metres.
    /// Basis: arithmetic.
    ///
    /// ```
    /// use evenrow_rules::quantity::Volume;
    /// let sand = Volume::cubic_millimetres(25_000.0).unwrap();
    /// assert!((sand.in_cubic_metres() - 25e-6).abs() < 1e-18);
    /// ```
    pub fn cubic_millimetres(mm3: f64) -> Result<Volume, OutOfRange<Figure>> {
        Volume::cubic_metres(mm3 / 1e9)
    }

    /// A volume worked out inside the crate: held to the range, NaN counts as nothing.
    pub(crate) fn held(m3: f64) -> Volume {
        Volume(hold(m3, MOST_CUBIC_METRES))
    }
}

/// The most cubic metres that are counted.
///
/// Units: cubic metres.
/// Basis: house default, only there to stop nonsense.
const MOST_CUBIC_METRES: f64 = 1e9;

/// The largest area: a million square kilometres.
///
/// Units: square metres.
/// Basis: house default, only there to stop nonsense.
const MOST_SQUARE_METRES: f64 = 1e12;

/// An area of road.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Area(f64);

impl Area {
    /// No area at all.
    ///
    /// Basis: arithmetic.
    pub const ZERO: Area = Area(0.0);

    /// An area given in square metres.
    ///
    /// Units: square metres.
    /// Valid: 0 to 10¹² m², a million square kilometres.
    /// Errors: [`OutOfRange`] outside that, and for NaN.
    /// Basis: house default, only there to stop nonsense.
    ///
    /// ```
    /// use evenrow_rules::quantity::Area;
    /// assert_eq!(Area::square_metres(30_000.0).unwrap().in_square_metres(), 30_000.0);
    /// assert!(Area::square_metres(-1.0).is_err());
    /// ```
    pub fn square_metres(m2: f64) -> Result<Area, OutOfRange<Figure>> {
        within(Figure::Area, m2, 0.0, MOST_SQUARE_METRES).map(Area)
    }

    /// The area in square metres.
    ///
    /// Units: square metres.
    /// Valid: always.
    /// Basis: arithmetic.
    ///
    /// ```
    /// use evenrow_rules::quantity::Area;
    /// assert_eq!(Area::square_metres(30_000.0).unwrap().in_square_metres(), 30_000.0);
    /// ```
    pub const fn in_square_metres(self) -> f64 {
        self.0
    }
}

/// The largest area an hour: the widest road at the highest speed.
///
/// Units: square metres an hour.
/// Basis: arithmetic: a kilometre wide at a hundred kilometres an hour.
const MOST_SQUARE_METRES_AN_HOUR: f64 = 1e8;

/// An area worked in an hour.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct AreaRate(f64);

impl AreaRate {
    /// The rate in square metres per hour.
    ///
    /// Units: square metres per hour.
    /// Valid: always.
    /// Basis: arithmetic.
    ///
    /// ```
    /// use evenrow_rules::{plan::area_rate, quantity::{Efficiency, Length, Speed}};
    /// let metres = |m: f64| Length::millimetres(m * 1000.0).unwrap();
    /// let speed = Speed::kilometres_per_hour(5.0).unwrap();
    /// let rate = area_rate(speed, metres(3.0), metres(1.0), Efficiency::ALL).unwrap();
    /// assert_eq!(rate.in_square_metres_per_hour(), 10_000.0);
    /// ```
    pub const fn in_square_metres_per_hour(self) -> f64 {
        self.0
    }

    /// A rate worked out inside the crate: at most the widest road at the highest speed.
    pub(crate) fn held(m2_per_hour: f64) -> AreaRate {
        AreaRate(hold(m2_per_hour, MOST_SQUARE_METRES_AN_HOUR))
    }
}

/// The range of confidences: nothing is certain, and below even odds it is no confidence.
///
/// Units: as a probability.
/// Basis: house default.
const CONFIDENCES: (f64, f64) = (0.5, 0.9999);

/// How sure an answer is to be: from even odds to nearly certain.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Confidence(f64);

impl Confidence {
    /// A confidence given as a share.
    ///
    /// Units: a share, 1 being certain.
    /// Valid: 0.5 to 0.9999; nothing is certain, and below even odds it is no confidence.
    /// Errors: [`OutOfRange`] outside that, and for NaN.
    /// Basis: house default.
    ///
    /// ```
    /// use evenrow_rules::quantity::Confidence;
    /// assert_eq!(Confidence::share(0.95).unwrap().in_share(), 0.95);
    /// assert!(Confidence::share(1.0).is_err());
    /// ```
    pub fn share(share: f64) -> Result<Confidence, OutOfRange<Figure>> {
        within(Figure::Confidence, share, CONFIDENCES.0, CONFIDENCES.1).map(Confidence)
    }

    /// The confidence as a share.
    ///
    /// Units: a share, 1 being certain.
    /// Valid: always.
    /// Basis: as given.
    ///
    /// ```
    /// use evenrow_rules::quantity::Confidence;
    /// assert_eq!(Confidence::share(0.95).unwrap().in_share(), 0.95);
    /// ```
    pub const fn in_share(self) -> f64 {
        self.0
    }
}

/// Holds a number between nothing and the most that is counted; NaN counts as nothing.
fn hold(number: f64, most: f64) -> f64 {
    if 0.0 < number { number.min(most) } else { 0.0 }
}

/// A moment, told as milliseconds since 1970-01-01T00:00:00Z. A change of zone or of daylight saving does not move it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Instant(i64);

impl Instant {
    /// A moment from its milliseconds since 1970 in UTC.
    ///
    /// Units: milliseconds.
    /// Valid: every `i64`.
    /// Basis: arithmetic: the usual count of Unix time.
    ///
    /// ```
    /// use evenrow_rules::quantity::Instant;
    /// assert_eq!(Instant::from_unix_ms(1_000).unix_ms(), 1_000);
    /// ```
    pub const fn from_unix_ms(ms: i64) -> Instant {
        Instant(ms)
    }

    /// Milliseconds since 1970 in UTC.
    ///
    /// Units: milliseconds.
    /// Valid: always.
    /// Basis: arithmetic: the usual count of Unix time.
    ///
    /// ```
    /// use evenrow_rules::quantity::Instant;
    /// assert_eq!(Instant::from_unix_ms(1_000).unix_ms(), 1_000);
    /// ```
    pub const fn unix_ms(self) -> i64 {
        self.0
    }

    /// How long it has been since an earlier moment; nothing if that moment is not earlier.
    ///
    /// Units: time.
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
    /// Units: time.
    /// Valid: always; stops at the end of the count.
    /// Basis: arithmetic.
    ///
    /// ```
    /// use core::time::Duration;
    /// use evenrow_rules::quantity::Instant;
    /// let start = Instant::from_unix_ms(0);
    /// assert_eq!(start.plus(Duration::from_mins(1)).unix_ms(), 60_000);
    /// ```
    #[must_use]
    pub fn plus(self, later: Duration) -> Instant {
        Instant(
            self.0
                .saturating_add(i64::try_from(later.as_millis()).unwrap_or(i64::MAX)),
        )
    }

    /// The moment a given time earlier.
    ///
    /// Units: time.
    /// Valid: always; stops at the beginning of the count.
    /// Basis: arithmetic.
    ///
    /// ```
    /// use core::time::Duration;
    /// use evenrow_rules::quantity::Instant;
    /// let minute = Instant::from_unix_ms(60_000);
    /// assert_eq!(minute.minus(Duration::from_mins(1)).unix_ms(), 0);
    /// ```
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
    /// Units: moments.
    /// Valid: always.
    /// Basis: arithmetic; negative spans clamp to zero.
    ///
    /// ```
    /// use evenrow_rules::quantity::{Instant, Span};
    /// let at = Instant::from_unix_ms;
    /// assert_eq!(Span::new(at(5), at(9)).end(), at(9));
    /// assert_eq!(Span::new(at(9), at(5)).end(), at(9));
    /// ```
    pub fn new(start: Instant, end: Instant) -> Span {
        Span {
            start,
            end: end.max(start),
        }
    }

    /// When it starts.
    ///
    /// Units: a moment.
    /// Valid: always.
    /// Basis: arithmetic.
    ///
    /// ```
    /// use evenrow_rules::quantity::{Instant, Span};
    /// let at = Instant::from_unix_ms;
    /// assert_eq!(Span::new(at(5), at(9)).start(), at(5));
    /// ```
    pub const fn start(self) -> Instant {
        self.start
    }

    /// When it ends.
    ///
    /// Units: a moment.
    /// Valid: always.
    /// Basis: arithmetic.
    ///
    /// ```
    /// use evenrow_rules::quantity::{Instant, Span};
    /// let at = Instant::from_unix_ms;
    /// assert_eq!(Span::new(at(5), at(9)).end(), at(9));
    /// ```
    pub const fn end(self) -> Instant {
        self.end
    }

    /// How long it is.
    ///
    /// Units: time.
    /// Valid: always.
    /// Basis: arithmetic.
    ///
    /// ```
    /// use evenrow_rules::quantity::{Instant, Span};
    /// let at = Instant::from_unix_ms;
    /// assert_eq!(Span::new(at(5), at(9)).length().as_millis(), 4);
    /// ```
    pub fn length(self) -> Duration {
        self.end.since(self.start)
    }

    /// Whether a moment lies in it; its start does, its end does not.
    ///
    /// Units: a moment.
    /// Valid: always.
    /// Basis: arithmetic.
    ///
    /// ```
    /// use evenrow_rules::quantity::{Instant, Span};
    /// let at = Instant::from_unix_ms;
    /// let span = Span::new(at(5), at(9));
    /// assert!(span.holds(at(5)) && !span.holds(at(9)));
    /// ```
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
            assert!(Speed::kilometres_per_hour(bad).is_err());
            assert!(Distance::kilometres(bad).is_err());
            assert!(Hours::new(bad).is_err());
            assert!(Efficiency::share(bad).is_err());
            assert!(Mass::kilograms(bad).is_err());
            assert!(Force::kilonewtons(bad).is_err());
            assert!(Volume::cubic_metres(bad).is_err());
            assert!(Volume::cubic_millimetres(bad).is_err());
            assert!(Area::square_metres(bad).is_err());
            assert!(Confidence::share(bad).is_err());
        }
    }

    #[test]
    fn what_is_worked_out_is_held_to_its_range() {
        for (got, expect) in [
            (f64::NAN, 0.0),
            (-1.0, 0.0),
            (-0.0, 0.0),
            (7.5, 7.5),
            (9.0, 8.0),
        ] {
            assert_eq!(hold(got, 8.0).to_bits(), f64::to_bits(expect));
        }
        let all = f64::INFINITY;
        assert_eq!(Length::held(all), Length(1_000_000.0));
        assert_eq!(Distance::held(all), Distance(MOST_KILOMETRES));
        assert_eq!(Hours::held(all), Hours(MOST_HOURS));
        assert_eq!(Force::held(all), Force(MOST_KILONEWTONS));
        assert_eq!(Volume::held(all), Volume(MOST_CUBIC_METRES));
        assert_eq!(AreaRate::held(all), AreaRate(MOST_SQUARE_METRES_AN_HOUR));
    }

    #[test]
    fn a_span_holds_its_start_and_not_its_end_and_one_that_ends_too_early_holds_nothing() {
        let at = Instant::from_unix_ms;
        let (some, none) = (Span::new(at(2), at(4)), Span::new(at(4), at(2)));
        for ms in 0..6 {
            assert_eq!(some.holds(at(ms)), ms == 2 || ms == 3, "{ms}");
            assert!(!none.holds(at(ms)), "{ms}");
        }
        assert_eq!(none.length(), Duration::ZERO);
    }

    #[test]
    fn a_length_kept_in_micrometres_comes_back_unchanged_over_the_whole_board() {
        for um in (0..8_000_000).step_by(100) {
            assert_eq!(Length::micrometres(um).in_micrometres(), um);
        }
    }

    #[test]
    fn a_figure_comes_back_as_it_was_given() {
        let kilograms = Mass::kilograms(4500.5).unwrap().in_kilograms();
        assert_eq!(kilograms.to_bits(), f64::to_bits(4500.5));
        assert_eq!(Instant::from_unix_ms(-7).unix_ms(), -7);
    }

    #[test]
    fn limits_written_in_the_code_are_held_to_what_weather_has() {
        for (given, held) in [
            (-128, -70.0),
            (-70, -70.0),
            (12, 12.0),
            (90, 90.0),
            (127, 90.0),
        ] {
            let degrees = Temperature::whole_celsius(given).in_celsius();
            assert_eq!(degrees.to_bits(), f64::to_bits(held), "{given}");
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
