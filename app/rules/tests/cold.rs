//! Which class of fuel still flows, compared with the printed limits at every tenth of a degree.
//!
//! Never here: whether a can of fuel keeps what its class promises; nobody can test that but its seller.

mod table;

use evenrow_rules::cold::{FLASH_POINT_ABOVE, FuelClass, grade};
use evenrow_rules::quantity::Temperature;
use table::rows;

const FUEL_CLASSES: &str = include_str!("../../../tests/tables/fuel_classes.csv");

fn celsius(degrees: f64) -> Temperature {
    Temperature::celsius(degrees).unwrap()
}

/// Source: EN 590, seen in secondary tables; see the head of `fuel_classes.csv`.
#[test]
fn every_class_has_the_limit_that_the_table_says() {
    let table = rows(FUEL_CLASSES);
    assert_eq!(table.len(), FuelClass::ALL.len());
    for (row, class) in table.iter().zip(FuelClass::ALL) {
        assert_eq!(class.sign(), row.text("class"));
        assert_eq!(
            if class.is_arctic() { "yes" } else { "no" },
            row.text("arctic")
        );
        assert_eq!(class.limit(), celsius(row.number("limit_c")), "{class:?}");
    }
}

/// Source: as above. The least cold class that still reaches, found by looking through the table.
#[test]
fn the_class_is_the_least_cold_one_that_still_reaches() {
    let table = rows(FUEL_CLASSES);
    for tenths in -700..=900 {
        let lowest = f64::from(tenths) / 10.0;
        let expect = table
            .iter()
            .filter(|row| row.number("limit_c") <= lowest)
            .fold(None, |best: Option<&table::Row>, row| match best {
                Some(best) if row.number("limit_c") <= best.number("limit_c") => Some(best),
                Some(_) | None => Some(row),
            })
            .map(|row| row.text("class"));
        assert_eq!(
            grade(celsius(lowest)).map(FuelClass::sign),
            expect,
            "{lowest}"
        );
    }
}

/// Source: EN 590 for the limits; at -20 °C two classes have the same one, and F is taken.
#[test]
fn the_turning_points_as_an_operator_meets_them() {
    for (lowest, expect) in [
        (20.0, Some(FuelClass::A)),
        (5.0, Some(FuelClass::A)),
        (4.9, Some(FuelClass::B)),
        (-19.9, Some(FuelClass::F)),
        (-20.0, Some(FuelClass::F)),
        (-20.1, Some(FuelClass::Arctic1)),
        (-27.0, Some(FuelClass::Arctic2)),
        (-44.0, Some(FuelClass::Arctic4)),
        (-44.1, None),
        (-70.0, None),
    ] {
        assert_eq!(grade(celsius(lowest)), expect, "{lowest}");
    }
}

/// Source: EN 590 (seen).
#[test]
fn the_flash_point_lies_above_55_degrees() {
    assert_eq!(FLASH_POINT_ABOVE, celsius(55.0));
}
