//! Which grade of fuel oil still flows in the cold.
//!
//! EN 590 lists, for each class, a temperature down to which the fuel must still pass a cold filter. For oil in sockets
//! that is a yardstick, and no promise: what is in the can is what its seller says it is.

use crate::quantity::Temperature;

/// Fuel oil catches fire above this: the flash point is higher.
///
/// Basis: published, `Source::En590` (seen).
pub const FLASH_POINT_ABOVE: Temperature = Temperature::whole_celsius(55);

/// A class of EN 590 by its cold-filter-plugging limit.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum FuelClass {
    /// Class A.
    A,
    /// Class B.
    B,
    /// Class C.
    C,
    /// Class D.
    D,
    /// Class E.
    E,
    /// Class F.
    F,
    /// Arctic class 0.
    Arctic0,
    /// Arctic class 1.
    Arctic1,
    /// Arctic class 2.
    Arctic2,
    /// Arctic class 3.
    Arctic3,
    /// Arctic class 4.
    Arctic4,
}

/// The temperature down to which each class must still pass a cold filter. In the order of [`FuelClass::ALL`].
///
/// Basis: published, `Source::En590` (seen in secondary tables).
pub const LIMITS: [(FuelClass, Temperature); 11] = [
    (FuelClass::A, Temperature::whole_celsius(5)),
    (FuelClass::B, Temperature::whole_celsius(0)),
    (FuelClass::C, Temperature::whole_celsius(-5)),
    (FuelClass::D, Temperature::whole_celsius(-10)),
    (FuelClass::E, Temperature::whole_celsius(-15)),
    (FuelClass::F, Temperature::whole_celsius(-20)),
    (FuelClass::Arctic0, Temperature::whole_celsius(-20)),
    (FuelClass::Arctic1, Temperature::whole_celsius(-26)),
    (FuelClass::Arctic2, Temperature::whole_celsius(-32)),
    (FuelClass::Arctic3, Temperature::whole_celsius(-38)),
    (FuelClass::Arctic4, Temperature::whole_celsius(-44)),
];

impl FuelClass {
    /// Every class, from the warmest to the coldest; of two with the same limit the easier to get comes first.
    ///
    /// Basis: published, `Source::En590` (seen in secondary tables); that F is easier to get than arctic 0 is a house default.
    pub const ALL: [FuelClass; 11] = [
        FuelClass::A,
        FuelClass::B,
        FuelClass::C,
        FuelClass::D,
        FuelClass::E,
        FuelClass::F,
        FuelClass::Arctic0,
        FuelClass::Arctic1,
        FuelClass::Arctic2,
        FuelClass::Arctic3,
        FuelClass::Arctic4,
    ];

    /// The temperature down to which it must still pass a cold filter.
    ///
    /// Units: degrees Celsius.
    /// Valid: always.
    /// Basis: published, `Source::En590` (seen in secondary tables).
    ///
    /// ```
    /// use evenrow_rules::cold::FuelClass;
    /// assert_eq!(FuelClass::Arctic2.limit().in_celsius(), -32.0);
    /// ```
    pub const fn limit(self) -> Temperature {
        LIMITS[self as usize].1
    }

    /// Whether it is one of the arctic classes, which are numbered instead of lettered.
    ///
    /// Units: none.
    /// Valid: always.
    /// Basis: published, `Source::En590` (seen in secondary tables).
    ///
    /// ```
    /// use evenrow_rules::cold::FuelClass;
    /// assert!(FuelClass::Arctic0.is_arctic() && !FuelClass::F.is_arctic());
    /// ```
    pub const fn is_arctic(self) -> bool {
        match self {
            FuelClass::Arctic0
            | FuelClass::Arctic1
            | FuelClass::Arctic2
            | FuelClass::Arctic3
            | FuelClass::Arctic4 => true,
            FuelClass::A
            | FuelClass::B
            | FuelClass::C
            | FuelClass::D
            | FuelClass::E
            | FuelClass::F => false,
        }
    }

    /// What the standard calls it: a letter, or a number for the arctic classes.
    ///
    /// Units: none.
    /// Valid: always.
    /// Basis: published, `Source::En590` (seen in secondary tables).
    ///
    /// ```
    /// use evenrow_rules::cold::FuelClass;
    /// assert_eq!((FuelClass::F.sign(), FuelClass::Arctic2.sign()), ("F", "2"));
    /// ```
    pub const fn sign(self) -> &'static str {
        match self {
            FuelClass::A => "A",
            FuelClass::B => "B",
            FuelClass::C => "C",
            FuelClass::D => "D",
            FuelClass::E => "E",
            FuelClass::F => "F",
            FuelClass::Arctic0 => "0",
            FuelClass::Arctic1 => "1",
            FuelClass::Arctic2 => "2",
            FuelClass::Arctic3 => "3",
            FuelClass::Arctic4 => "4",
        }
    }
}

/// The least cold class whose limit still reaches the lowest temperature expected; F at -20 °C.
///
/// Units: degrees Celsius.
/// Valid: every temperature.
/// Errors: `None` below -44 °C, since the standard lists no class that cold.
/// Basis: published, `Source::En590`, as a yardstick: its limits were written for engines.
///
/// ```
/// use evenrow_rules::{cold::{FuelClass, grade}, quantity::Temperature};
/// assert_eq!(grade(Temperature::whole_celsius(-27)), Some(FuelClass::Arctic2));
/// assert_eq!(grade(Temperature::whole_celsius(-45)), None);
/// ```
pub fn grade(lowest: Temperature) -> Option<FuelClass> {
    FuelClass::ALL
        .into_iter()
        .find(|class| class.limit() <= lowest)
}
