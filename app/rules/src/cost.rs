//! What the edge costs per blade-hour, per kilometre and per square metre, from what was really used.
//!
//! Prices are the operator's own, in whatever money the operator counts in; the answer is in the same. Never here: the
//! prices themselves, wages, fuel, and the machine.

use crate::quantity::{Area, Distance, Figure, Hours, OutOfRange, within};

/// Less than this is nothing done: a thousandth of an hour or of a kilometre, and a square metre.
///
/// Units: hours, kilometres, square metres.
/// Basis: house default; a rate over less would be a rate over noise.
pub const LEAST_DONE: (f64, f64, f64) = (0.001, 0.001, 1.0);

/// The most money that is counted.
///
/// Units: of the operator's own money.
/// Basis: house default, only there to stop nonsense.
const MOST_MONEY: f64 = 1e9;

/// The most teeth that are counted.
///
/// Units: teeth.
/// Basis: house default, only there to stop nonsense.
const MOST_TEETH: f64 = 1e10;

/// The most oil that is counted.
///
/// Units: litres.
/// Basis: house default, only there to stop nonsense.
const MOST_LITRES: f64 = 1_000_000.0;

/// An amount of the operator's own money.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Money(f64);

impl Money {
    /// No money at all.
    ///
    /// Basis: arithmetic.
    pub const ZERO: Money = Money(0.0);

    /// An amount of money.
    ///
    /// Units: the operator's own, the same for every amount.
    /// Valid: 0 to 10⁹.
    /// Errors: [`OutOfRange`] outside that, and for NaN.
    /// Basis: house default, only there to stop nonsense.
    ///
    /// ```
    /// use evenrow_rules::cost::Money;
    /// assert_eq!(Money::amount(12.5).unwrap().in_own_money(), 12.5);
    /// assert!(Money::amount(-1.0).is_err());
    /// ```
    pub fn amount(amount: f64) -> Result<Money, OutOfRange<Figure>> {
        within(Figure::Money, amount, 0.0, MOST_MONEY).map(Money)
    }

    /// The amount.
    ///
    /// Units: the operator's own.
    /// Valid: always.
    /// Basis: as given, or arithmetic on what was given.
    ///
    /// ```
    /// use evenrow_rules::cost::Money;
    /// assert_eq!(Money::amount(12.5).unwrap().in_own_money(), 12.5);
    /// ```
    pub const fn in_own_money(self) -> f64 {
        self.0
    }

    fn over(self, done: f64, least: f64) -> Option<Money> {
        (least <= done).then(|| Money(self.0 / done))
    }
}

/// An amount of oil.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Litres(f64);

impl Litres {
    /// No oil at all.
    ///
    /// Basis: arithmetic.
    pub const ZERO: Litres = Litres(0.0);

    /// An amount of oil in litres.
    ///
    /// Units: litres.
    /// Valid: 0 to 1,000,000 l.
    /// Errors: [`OutOfRange`] outside that, and for NaN.
    /// Basis: house default, only there to stop nonsense.
    ///
    /// ```
    /// use evenrow_rules::cost::Litres;
    /// assert_eq!(Litres::new(1.5).unwrap().in_litres(), 1.5);
    /// assert!(Litres::new(f64::NAN).is_err());
    /// ```
    pub fn new(litres: f64) -> Result<Litres, OutOfRange<Figure>> {
        within(Figure::Oil, litres, 0.0, MOST_LITRES).map(Litres)
    }

    /// The amount in litres.
    ///
    /// Units: litres.
    /// Valid: always.
    /// Basis: as given.
    ///
    /// ```
    /// use evenrow_rules::cost::Litres;
    /// assert_eq!(Litres::new(1.5).unwrap().in_litres(), 1.5);
    /// ```
    pub const fn in_litres(self) -> f64 {
        self.0
    }
}

/// An amount of teeth, as new ones: half of a tooth worn away is half a tooth.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Teeth(f64);

impl Teeth {
    /// An amount of teeth and parts of teeth.
    ///
    /// Units: new teeth.
    /// Valid: 0 to 10¹⁰.
    /// Errors: [`OutOfRange`] outside that, and for NaN.
    /// Basis: house default, only there to stop nonsense.
    ///
    /// ```
    /// use evenrow_rules::cost::Teeth;
    /// assert_eq!(Teeth::new(2.5).unwrap().in_new_teeth(), 2.5);
    /// assert!(Teeth::new(-1.0).is_err());
    /// ```
    pub fn new(teeth: f64) -> Result<Teeth, OutOfRange<Figure>> {
        within(Figure::Teeth, teeth, 0.0, MOST_TEETH).map(Teeth)
    }

    /// So many whole teeth.
    ///
    /// Units: teeth.
    /// Valid: always.
    /// Basis: as given.
    ///
    /// ```
    /// use evenrow_rules::cost::Teeth;
    /// assert_eq!(Teeth::count(3).in_new_teeth(), 3.0);
    /// ```
    pub fn count(teeth: u32) -> Teeth {
        Teeth(f64::from(teeth))
    }

    /// The amount.
    ///
    /// Units: new teeth.
    /// Valid: always.
    /// Basis: as given.
    ///
    /// ```
    /// use evenrow_rules::cost::Teeth;
    /// assert_eq!(Teeth::new(2.5).unwrap().in_new_teeth(), 2.5);
    /// ```
    pub const fn in_new_teeth(self) -> f64 {
        self.0
    }
}

/// What was used up.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Used {
    /// Teeth.
    pub teeth: Teeth,
    /// Plates.
    pub plates: u32,
    /// Oil for the sockets.
    pub oil: Litres,
}

/// What each costs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Prices {
    /// One tooth.
    pub tooth: Money,
    /// One plate.
    pub plate: Money,
    /// One litre of oil.
    pub litre: Money,
}

/// What was done with it. What nobody recorded is nothing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Done {
    /// Hours with the edge on the road.
    pub blade_hours: Hours,
    /// Way worked: of road, or driven with the edge down, whichever it is to be shared out over.
    pub worked: Distance,
    /// Area worked.
    pub area: Area,
}

/// What it came to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cost {
    /// The teeth.
    pub teeth: Money,
    /// The plates.
    pub plates: Money,
    /// The oil.
    pub oil: Money,
    /// All of it.
    pub total: Money,
    /// Per blade-hour, where hours were recorded.
    pub per_hour: Option<Money>,
    /// Per kilometre, where a way was recorded.
    pub per_kilometre: Option<Money>,
    /// Per square metre, where an area was recorded.
    pub per_square_metre: Option<Money>,
}

/// Nothing was done, so that no cost per anything is right.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct NothingDone;

/// The cost of what was used, and per hour, kilometre and square metre of what was done with it.
///
/// Units: those of the prices; hours, kilometres, square metres.
/// Valid: at least one of the three at [`LEAST_DONE`] or more; for each that is less there is no rate.
/// Errors: [`NothingDone`] where all three are less.
/// Basis: arithmetic.
///
/// ```
/// use evenrow_rules::cost::{Done, Litres, Money, Prices, Teeth, Used, cost};
/// use evenrow_rules::quantity::{Area, Distance, Hours};
/// let money = |amount| Money::amount(amount).unwrap();
/// let used = Used { teeth: Teeth::count(10), plates: 1, oil: Litres::new(4.0).unwrap() };
/// let prices = Prices { tooth: money(8.0), plate: money(100.0), litre: money(1.5) };
/// let done = Done { blade_hours: Hours::new(20.0).unwrap(), worked: Distance::ZERO, area: Area::ZERO };
/// let cost = cost(&used, &prices, &done).unwrap();
/// assert_eq!(cost.total, money(186.0));
/// assert_eq!((cost.per_hour, cost.per_kilometre), (Some(money(9.3)), None));
/// ```
pub fn cost(used: &Used, prices: &Prices, done: &Done) -> Result<Cost, NothingDone> {
    let times = |price: Money, count: f64| Money(price.0 * count);
    let teeth = times(prices.tooth, used.teeth.0);
    let plates = times(prices.plate, f64::from(used.plates));
    let oil = times(prices.litre, used.oil.0);
    let total = Money(teeth.0 + plates.0 + oil.0);
    let per_hour = total.over(done.blade_hours.in_hours(), LEAST_DONE.0);
    let per_kilometre = total.over(done.worked.in_kilometres(), LEAST_DONE.1);
    let per_square_metre = total.over(done.area.in_square_metres(), LEAST_DONE.2);
    if (per_hour, per_kilometre, per_square_metre) == (None, None, None) {
        return Err(NothingDone);
    }
    Ok(Cost {
        teeth,
        plates,
        oil,
        total,
        per_hour,
        per_kilometre,
        per_square_metre,
    })
}
