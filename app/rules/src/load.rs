//! The down-force at the edge, and what one tooth gets of it.
//!
//! Pressed down far enough, the edge lifts the front wheels off the road; then it carries what their axle carried, by
//! the lever of the two distances to the rear wheels. That force is the ceiling, never a setting to aim for: too much
//! pressure harms the road and the teeth. What a share shows is why one plate bites where a full row skids.
//!
//! Never here: a prediction of how deep a tooth cuts; models of that are known to predict poorly.

use core::num::NonZeroU32;

use crate::angle::Angle;
use crate::quantity::{Figure, Force, Length, Mass, OutOfRange, within};

/// The share of the weight on the driving wheels that pulls on dirt.
///
/// Units: times the weight.
/// Basis: published, `Source::RoadsAndStreets1973`.
pub const PULL_ON_DIRT: f64 = 0.60;

/// The wheelbase that a machine may have.
///
/// Units: millimetres.
/// Basis: house default, only there to stop nonsense.
const WHEELBASES: (f64, f64) = (1000.0, 15_000.0);

/// How far the edge may be from the centre of the rear wheels.
///
/// Units: millimetres.
/// Basis: house default, only there to stop nonsense.
const EDGE_TO_REAR: (f64, f64) = (300.0, 15_000.0);

/// What may stand under the front wheels.
///
/// Units: kilograms.
/// Basis: house default, only there to stop nonsense.
const FRONT_AXLES: (f64, f64) = (500.0, 30_000.0);

/// The largest share of a weight that may pull.
///
/// Units: times the weight.
/// Basis: house default, only there to stop nonsense.
const MOST_COEFFICIENT: f64 = 1.5;

/// The down-force at the edge at which the front wheels lift: front-axle weight times wheelbase, over the distance from
/// the edge to the centre of the rear wheels.
///
/// Where there are two rear axles, their centre is midway between them.
///
/// Units: mass as weighed under the front wheels on level ground; lengths along the machine.
/// Valid: wheelbase 1 to 15 m; edge 0.3 to 15 m from the rear centre (house defaults, only there to stop nonsense).
/// Errors: [`OutOfRange`] naming the first length that is not.
/// Basis: published, `Source::RoadsAndStreets1973`; the lever about the rear wheels gives the same.
///
/// ```
/// use evenrow_rules::{load::down_force_ceiling, quantity::{Length, Mass}};
/// let mm = |mm: f64| Length::millimetres(mm).unwrap();
/// let ceiling = down_force_ceiling(Mass::kilograms(4000.0).unwrap(), mm(6000.0), mm(2500.0)).unwrap();
/// assert!((ceiling.in_kilonewtons() - 94.14384).abs() < 1e-9); // 4 t · 9.80665 · 6 / 2.5
/// ```
pub fn down_force_ceiling(
    front_axle: Mass,
    wheelbase: Length,
    edge_to_rear: Length,
) -> Result<Force, OutOfRange<Figure>> {
    let wheelbase = within(
        Figure::Wheelbase,
        wheelbase.in_millimetres(),
        WHEELBASES.0,
        WHEELBASES.1,
    )?;
    let edge = within(
        Figure::EdgeToRear,
        edge_to_rear.in_millimetres(),
        EDGE_TO_REAR.0,
        EDGE_TO_REAR.1,
    )?;
    Ok(lever(front_axle, wheelbase, edge))
}

/// What has to be known of a machine for its ceiling.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Axles {
    front_axle: Mass,
    wheelbase: Length,
    edge_to_rear: Length,
}

/// What cannot be right of a machine's axles.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum NoAxles {
    /// What stands under the front wheels, in kilograms.
    FrontAxle(OutOfRange<Figure>),
    /// The wheelbase, in millimetres.
    Wheelbase(OutOfRange<Figure>),
    /// The distance from the edge to the rear centre, in millimetres.
    EdgeToRear(OutOfRange<Figure>),
}

impl Axles {
    /// A machine's axles, as weighed and measured.
    ///
    /// Units: mass as weighed under the front wheels on level ground; lengths along the machine.
    /// Valid: 500 to 30,000 kg; wheelbase 1 to 15 m; edge 0.3 m from the rear centre to right under the front axle.
    /// Errors: [`NoAxles`] naming the first that cannot be.
    /// Basis: house default, only there to stop nonsense.
    ///
    /// ```
    /// use evenrow_rules::{load::Axles, quantity::{Length, Mass}};
    /// let (kg, mm) = (|kg: f64| Mass::kilograms(kg).unwrap(), |mm: f64| Length::millimetres(mm).unwrap());
    /// assert!(Axles::new(kg(4000.0), mm(6000.0), mm(2500.0)).is_ok());
    /// assert!(Axles::new(kg(4000.0), mm(6000.0), mm(6500.0)).is_err());
    /// ```
    pub fn new(
        front_axle: Mass,
        wheelbase: Length,
        edge_to_rear: Length,
    ) -> Result<Axles, NoAxles> {
        let (least, most) = FRONT_AXLES;
        within(Figure::Mass, front_axle.in_kilograms(), least, most).map_err(NoAxles::FrontAxle)?;
        let (least, most) = WHEELBASES;
        let base = within(Figure::Wheelbase, wheelbase.in_millimetres(), least, most)
            .map_err(NoAxles::Wheelbase)?;
        let least = EDGE_TO_REAR.0;
        within(
            Figure::EdgeToRear,
            edge_to_rear.in_millimetres(),
            least,
            base,
        )
        .map_err(NoAxles::EdgeToRear)?;
        Ok(Axles {
            front_axle,
            wheelbase,
            edge_to_rear,
        })
    }

    /// What stands under the front wheels.
    ///
    /// Valid: always.
    /// Basis: as given.
    ///
    /// ```
    /// use evenrow_rules::{load::Axles, quantity::{Length, Mass}};
    /// let mm = |mm: f64| Length::millimetres(mm).unwrap();
    /// let axles = Axles::new(Mass::kilograms(4000.0).unwrap(), mm(6000.0), mm(2500.0)).unwrap();
    /// assert_eq!(axles.front_axle().in_kilograms(), 4000.0);
    /// ```
    pub const fn front_axle(self) -> Mass {
        self.front_axle
    }

    /// From the front axle to the centre of the rear ones.
    ///
    /// Valid: always.
    /// Basis: as given.
    ///
    /// ```
    /// use evenrow_rules::{load::Axles, quantity::{Length, Mass}};
    /// let mm = |mm: f64| Length::millimetres(mm).unwrap();
    /// let axles = Axles::new(Mass::kilograms(4000.0).unwrap(), mm(6000.0), mm(2500.0)).unwrap();
    /// assert_eq!(axles.wheelbase(), mm(6000.0));
    /// ```
    pub const fn wheelbase(self) -> Length {
        self.wheelbase
    }

    /// From the edge to the centre of the rear axles.
    ///
    /// Valid: always.
    /// Basis: as given.
    ///
    /// ```
    /// use evenrow_rules::{load::Axles, quantity::{Length, Mass}};
    /// let mm = |mm: f64| Length::millimetres(mm).unwrap();
    /// let axles = Axles::new(Mass::kilograms(4000.0).unwrap(), mm(6000.0), mm(2500.0)).unwrap();
    /// assert_eq!(axles.edge_to_rear(), mm(2500.0));
    /// ```
    pub const fn edge_to_rear(self) -> Length {
        self.edge_to_rear
    }

    /// The down-force at the edge at which its front wheels lift; see [`down_force_ceiling`].
    ///
    /// Units: kilonewtons.
    /// Valid: always.
    /// Basis: that of [`down_force_ceiling`].
    ///
    /// ```
    /// use evenrow_rules::{load::Axles, quantity::{Length, Mass}};
    /// let mm = |mm: f64| Length::millimetres(mm).unwrap();
    /// let axles = Axles::new(Mass::kilograms(4000.0).unwrap(), mm(6000.0), mm(2500.0)).unwrap();
    /// assert!((axles.ceiling().in_kilonewtons() - 94.14384).abs() < 1e-9);
    /// ```
    pub fn ceiling(self) -> Force {
        lever(
            self.front_axle,
            self.wheelbase.in_millimetres(),
            self.edge_to_rear.in_millimetres(),
        )
    }
}

/// What the front axle carried, by the lever of the two distances to the rear wheels.
fn lever(front_axle: Mass, wheelbase: f64, edge: f64) -> Force {
    Force::held(front_axle.weight().in_kilonewtons() * wheelbase / edge)
}

/// What one tooth gets.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ToothLoad {
    /// The down-force that is shared.
    pub down_force: Force,
    /// What each tooth that touches carries of it, if all carry alike.
    pub per_tooth: Force,
    /// How many times as much that is as with the full row down.
    pub times_full_row: f64,
}

/// More teeth touch than there are.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct MoreThanTheRow {
    /// Teeth that touch, as given.
    pub teeth: u32,
    /// Teeth of the full row, as given.
    pub full_row: u32,
}

/// Shares a down-force, worked out or given, among the teeth that touch.
///
/// Units: force; counts.
/// Valid: at least one tooth, no more than the full row.
/// Errors: [`MoreThanTheRow`].
/// Basis: arithmetic; that all carry alike holds for an even row on an even road.
///
/// ```
/// use core::num::NonZeroU32;
/// use evenrow_rules::{load::share, quantity::Force};
/// let teeth = |count| NonZeroU32::new(count).unwrap();
/// let load = share(Force::kilonewtons(48.0).unwrap(), teeth(24), teeth(96)).unwrap();
/// assert_eq!((load.per_tooth.in_kilonewtons(), load.times_full_row), (2.0, 4.0));
/// assert!(share(Force::kilonewtons(48.0).unwrap(), teeth(97), teeth(96)).is_err());
/// ```
pub fn share(
    down_force: Force,
    teeth: NonZeroU32,
    full_row: NonZeroU32,
) -> Result<ToothLoad, MoreThanTheRow> {
    let (teeth, full_row) = (teeth.get(), full_row.get());
    if full_row < teeth {
        return Err(MoreThanTheRow { teeth, full_row });
    }
    Ok(ToothLoad {
        down_force,
        per_tooth: Force::held(down_force.in_kilonewtons() / f64::from(teeth)),
        times_full_row: f64::from(full_row) / f64::from(teeth),
    })
}

/// The most that the machine can pull on the edge: the weight on its driving wheels times a coefficient of the ground.
///
/// Units: mass as weighed under the driving wheels; the coefficient is a share.
/// Valid: coefficient 0 to 1.5 (house default, only there to stop nonsense).
/// Errors: [`OutOfRange`] for another coefficient.
/// Basis: published, `Source::RoadsAndStreets1973`.
///
/// ```
/// use evenrow_rules::{load::{PULL_ON_DIRT, blade_pull}, quantity::Mass};
/// let pull = blade_pull(Mass::kilograms(10_000.0).unwrap(), PULL_ON_DIRT).unwrap();
/// assert!((pull.in_kilonewtons() - 58.8399).abs() < 1e-9);
/// ```
pub fn blade_pull(driving_wheels: Mass, coefficient: f64) -> Result<Force, OutOfRange<Figure>> {
    let coefficient = within(Figure::Coefficient, coefficient, 0.0, MOST_COEFFICIENT)?;
    Ok(Force::held(
        driving_wheels.weight().in_kilonewtons() * coefficient,
    ))
}

/// How steeply the force on the edge points down: the angle whose tangent is down-force over pull.
///
/// Units: forces; 0° is level, 90° straight down.
/// Valid: two forces that are not both nothing.
/// Errors: `None` where both are, since no angle is right then.
/// Basis: published, `Source::IowaHr372`.
///
/// ```
/// use evenrow_rules::{load::force_angle, quantity::Force};
/// let kn = |kn: f64| Force::kilonewtons(kn).unwrap();
/// assert!((force_angle(kn(40.0), kn(40.0)).unwrap().in_degrees() - 45.0).abs() < 1e-12);
/// assert_eq!(force_angle(kn(0.0), kn(0.0)), None);
/// ```
pub fn force_angle(down: Force, pull: Force) -> Option<Angle> {
    Angle::of_sides(down.in_kilonewtons(), pull.in_kilonewtons())
}
