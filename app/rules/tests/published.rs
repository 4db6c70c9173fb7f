//! Printed and common numbers, compared with what the rules say. Each table names its source in its head.
//!
//! Never here: house defaults (`every_setup`), and numbers that the code said first.

mod table;

use evenrow_rules::angle::Angle;
use evenrow_rules::machine::{FOOT, LONG_PLATE, Machine, SHORT_PLATE, effective_width, fit};
use evenrow_rules::quantity::Length;
use evenrow_rules::setup::{ON_GRAVEL, ON_GRAVEL_AT_MOST, advise};
use evenrow_rules::work::{Conditions, Work};
use table::{Row, rows};

const EFFECTIVE_WIDTHS: &str = include_str!("../../../tests/tables/effective_widths.csv");
const ROW_COUNTS: &str = include_str!("../../../tests/tables/row_counts.csv");
const GRAVEL_MANUAL: &str = include_str!("../../../tests/tables/gravel_manual.csv");

/// Half of the last decimal printed.
const LAST_DECIMAL: f64 = 0.0005;

/// A mile is 1.609344 km exactly.
const KM_PER_MILE: f64 = 1.609_344;

/// What a board works across the road, in feet, with our angle: from the direction of travel.
fn width_in_feet(board_ft: f64, from_travel: f64) -> f64 {
    let board = Length::millimetres(board_ft * FOOT.in_millimetres()).unwrap();
    let width = effective_width(board, Angle::degrees(from_travel).unwrap());
    width.in_millimetres() / FOOT.in_millimetres()
}

/// Source: identity, Le = L cos(a) with a from square; see the head of `effective_widths.csv`.
#[track_caller]
fn check_width(row: &Row) {
    let (board, from_square) = (row.number("board_ft"), row.number("from_square_deg"));
    let got = width_in_feet(board, 90.0 - from_square);
    assert!(
        (got - row.number("width_ft")).abs() <= LAST_DECIMAL,
        "{row:?}: got {got}"
    );
}

/// Source: common practice, no published source; see the head of `row_counts.csv`.
#[track_caller]
fn check_row_count(row: &Row) {
    let board = Length::millimetres(row.number("board_ft") * FOOT.in_millimetres()).unwrap();
    let machine = Machine::with_moldboard(board).unwrap();
    let fit = fit(&machine);
    assert_eq!(fit.full_row().to_string(), row.text("teeth"), "{row:?}");
    assert_eq!(fit.plates.len().to_string(), row.text("plates"), "{row:?}");
    assert_eq!(fit.bare, Length::ZERO, "{row:?}");
    // The whole row is what the sheet then asks for on gravel, where nothing narrows it.
    let sheet = advise(Work::Gravel, &Conditions::default(), &machine);
    let teeth = sheet.plates.value().teeth();
    assert_eq!(teeth.to_string(), row.text("teeth"), "{row:?}");
}

/// Source: the gravel road manuals, value from memory; see the head of `gravel_manual.csv`.
#[track_caller]
fn check_gravel(row: &Row) {
    let printed = (row.number("printed_low"), row.number("printed_high"));
    let ours = (row.number("low"), row.number("high"));
    match row.text("what") {
        "moldboard" => {
            // From square against from the direction of travel: the printed high is our low.
            assert_eq!(ours, (90.0 - printed.1, 90.0 - printed.0), "{row:?}");
            let band = (ON_GRAVEL.low().in_degrees(), ON_GRAVEL.high().in_degrees());
            assert_eq!(band, ours, "{row:?}");
        }
        "speed" => {
            // The limit is the printed one in whole km/h, and never above it.
            assert!((printed.0 * KM_PER_MILE - ours.0).abs() < 0.05, "{row:?}");
            assert!((printed.1 * KM_PER_MILE - ours.1).abs() < 0.05, "{row:?}");
            assert_eq!(ON_GRAVEL_AT_MOST.0.to_string(), row.text("high"), "{row:?}");
            assert!(
                f64::from(ON_GRAVEL_AT_MOST.0) <= printed.1 * KM_PER_MILE,
                "{row:?}"
            );
        }
        other => panic!("nothing is known of {other:?}"),
    }
}

#[test]
fn a_turned_board_works_the_width_that_the_table_says() {
    rows(EFFECTIVE_WIDTHS).iter().for_each(check_width);
}

/// The trap: the road manuals measure from square, this tool from the direction of travel. At 30 the mistake costs a
/// factor of the root of three; at 45 the two are the same angle and the mistake hides.
#[test]
fn an_angle_from_square_fed_as_if_from_the_travel_gives_a_wrong_width_at_30_and_hides_at_45() {
    for row in rows(EFFECTIVE_WIDTHS) {
        let (right, wrong) = (
            row.number("width_ft"),
            width_in_feet(row.number("board_ft"), row.number("from_square_deg")),
        );
        let off = right / wrong;
        match row.text("from_square_deg") {
            "30" => assert!((off - 3.0_f64.sqrt()).abs() < 0.001, "{row:?}: {off}"),
            "45" => assert!((off - 1.0).abs() < 0.001, "{row:?}: {off}"),
            other => panic!("say what the mistake costs at {other}"),
        }
    }
}

#[test]
fn a_full_row_has_the_teeth_that_the_trade_counts() {
    rows(ROW_COUNTS).iter().for_each(check_row_count);
}

/// Source: house default. The two plates are inferred from the counts: three feet and three and a quarter.
#[test]
fn a_twelve_foot_board_takes_the_short_plate_and_a_thirteen_foot_board_the_long_one() {
    for (feet, plate) in [(12, SHORT_PLATE), (13, LONG_PLATE)] {
        let fit = fit(&Machine::with_moldboard(FOOT.times(feet)).unwrap());
        assert_eq!(fit.plates, [plate; 4], "{feet} ft");
    }
}

#[test]
fn gravel_is_graded_at_the_angle_and_speed_of_the_road_manuals() {
    rows(GRAVEL_MANUAL).iter().for_each(check_gravel);
}
