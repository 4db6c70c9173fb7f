//! In which units numbers are shown and typed: metric or US, for each quantity by itself, since the trade mixes them.
//!
//! Records are in metric units whatever is chosen here. Never here: how a number is written (`words::numbers`).

use serde::{Deserialize, Serialize};

/// A system of units.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum System {
    /// Metres, millimetres, degrees Celsius, kilometres per hour.
    #[default]
    Metric,
    /// Feet, inches, degrees Fahrenheit, miles per hour.
    Us,
}

/// What an operator may want in one system while the rest is in the other.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Quantity {
    /// Roads and boards: their lengths, widths and areas.
    Road,
    /// What a tape or a rule is laid on: tips, plates, layers, marks.
    Tape,
    /// Temperatures.
    Temperature,
    /// Speeds.
    Speed,
    /// Masses and forces.
    Weight,
    /// Oil.
    Oil,
}

impl Quantity {
    /// All of them, in the order in which they are asked for.
    pub const ALL: [Quantity; 6] = [
        Quantity::Road,
        Quantity::Tape,
        Quantity::Temperature,
        Quantity::Speed,
        Quantity::Weight,
        Quantity::Oil,
    ];
}

/// The system of each quantity: a bit for each that is in US units.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Units(u8);

impl Units {
    /// Everything metric.
    pub const METRIC: Units = Units(0);

    /// Everything in US units.
    pub const US: Units = Units((1 << Quantity::ALL.len()) - 1);

    /// One system for everything.
    pub fn all(system: System) -> Units {
        match system {
            System::Metric => Units::METRIC,
            System::Us => Units::US,
        }
    }

    /// The system of a quantity.
    pub fn of(self, quantity: Quantity) -> System {
        if self.0 & bit(quantity) == 0 {
            System::Metric
        } else {
            System::Us
        }
    }

    /// The same with another system for one quantity.
    pub fn with(self, quantity: Quantity, system: System) -> Units {
        match system {
            System::Metric => Units(self.0 & !bit(quantity)),
            System::Us => Units(self.0 | bit(quantity)),
        }
    }

    /// The one system of everything; none where they are mixed.
    pub fn system(self) -> Option<System> {
        let one = |system: &System| self == Units::all(*system);
        [System::Metric, System::Us].into_iter().find(one)
    }
}

fn bit(quantity: Quantity) -> u8 {
    1 << quantity as u8
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_quantity_changes_alone_and_comes_back() {
        for units in (0..1 << Quantity::ALL.len()).map(Units) {
            for quantity in Quantity::ALL {
                for system in [System::Metric, System::Us] {
                    let changed = units.with(quantity, system);
                    assert_eq!(changed.of(quantity), system);
                    let others = Quantity::ALL.into_iter().filter(|it| *it != quantity);
                    for other in others {
                        assert_eq!(changed.of(other), units.of(other));
                    }
                    assert_eq!(changed.with(quantity, units.of(quantity)), units);
                }
            }
        }
    }

    #[test]
    fn the_large_switch_is_for_everything_and_a_mixture_is_neither() {
        for system in [System::Metric, System::Us] {
            let units = Units::all(system);
            assert!(Quantity::ALL.iter().all(|it| units.of(*it) == system));
            assert_eq!(units.system(), Some(system));
        }
        let mixed = Units::US.with(Quantity::Tape, System::Metric);
        assert_eq!(mixed.system(), None);
    }
}
