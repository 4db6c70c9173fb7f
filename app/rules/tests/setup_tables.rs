//! The trade's verdicts and the house defaults, number by number. Each table says in its head which is which; no house
//! default is presented as a fact about the world.
//!
//! Never here: printed numbers (`published`).

mod table;

use evenrow_rules::angle::AngleBand;
use evenrow_rules::machine::{FOOT, Machine};
use evenrow_rules::quantity::Temperature;
use evenrow_rules::setup::{FIRST_GUESS, SKEW_LIMIT, SOFT_LIMIT, Sheet, ToothKind, advise};
use evenrow_rules::work::{Conditions, FULL_WIDTH_FROM, Moisture, NO_MILLING_BELOW, Stones, Work};
use table::{Row, rows};

const HOUSE_DEFAULTS: &str = include_str!("../../../tests/tables/house_defaults.csv");
const HOUSE_LIMITS: &str = include_str!("../../../tests/tables/house_limits.csv");
const TOOTH_KINDS: &str = include_str!("../../../tests/tables/tooth_kinds.csv");
const VERDICTS: &str = include_str!("../../../tests/tables/verdicts.csv");

fn work(row: &Row) -> Work {
    let name = row.text("work");
    Work::ALL
        .into_iter()
        .find(|it| format!("{it:?}") == name)
        .unwrap_or_else(|| panic!("no work is called {name:?}"))
}

/// What a cell stands for: one answer, none, or all of them.
fn answers<Answer: Copy>(cell: &str, names: &[(&str, Answer)]) -> Vec<Option<Answer>> {
    match cell {
        "unknown" => vec![None],
        "any" => std::iter::once(None)
            .chain(names.iter().map(|&(_, answer)| Some(answer)))
            .collect(),
        name => {
            let (_, answer) = names
                .iter()
                .find(|(it, _)| *it == name)
                .unwrap_or_else(|| panic!("{name:?} is no answer"));
            vec![Some(*answer)]
        }
    }
}

fn softness(row: &Row) -> Vec<Option<bool>> {
    answers(row.text("soft"), &[("yes", true), ("no", false)])
}

fn stones(row: &Row) -> Vec<Option<Stones>> {
    answers(
        row.text("stones"),
        &[("few", Stones::Few), ("many", Stones::Many)],
    )
}

fn moistures(row: &Row) -> Vec<Option<Moisture>> {
    answers(
        row.text("moisture"),
        &[("dusty", Moisture::Dusty), ("moist", Moisture::Moist)],
    )
}

fn sheet(work: Work, known: &Conditions) -> Sheet {
    let machine = Machine::with_moldboard(FOOT.times(12)).unwrap();
    advise(work, known, &machine)
}

fn degrees(band: AngleBand) -> (f64, f64, f64) {
    (
        band.low().in_degrees(),
        band.target().in_degrees(),
        band.high().in_degrees(),
    )
}

/// Source: see the head of `house_defaults.csv`.
#[track_caller]
fn check_default(row: &Row) {
    let expect = (row.number("low"), row.number("target"), row.number("high"));
    for soft in softness(row) {
        for stones in stones(row) {
            for moisture in moistures(row) {
                let known = Conditions {
                    soft,
                    stones,
                    moisture,
                    ..Conditions::default()
                };
                let sheet = sheet(work(row), &known);
                let got = match row.text("line") {
                    "cutting degrees" => degrees(*sheet.cutting.value()),
                    "grading degrees" => degrees(*sheet.grading.value()),
                    "oilings" => {
                        let it = sheet.oilings.value();
                        (it.low.into(), it.planned.into(), it.high.into())
                    }
                    other => panic!("no line is called {other:?}"),
                };
                assert_eq!(got, expect, "{row:?}\n{known:?}");
            }
        }
    }
}

/// Source: see the head of `house_limits.csv` and its last column.
#[track_caller]
fn check_limit(row: &Row) {
    let known = Conditions::default();
    let looks = *sheet(Work::Gravel, &known).looks_per_interval.value();
    let got = match row.text("what") {
        "no milling below" => NO_MILLING_BELOW.in_celsius(),
        "milling at full width from" => FULL_WIDTH_FROM.in_celsius(),
        "first guess of a layer that bites" => FIRST_GUESS.in_millimetres(),
        "cutting angle over a soft surfacing under" => SOFT_LIMIT.in_degrees(),
        "grading angle under" => SKEW_LIMIT.in_degrees(),
        "looks in an oiling interval" => looks.into(),
        other => panic!("nothing is known of {other:?}"),
    };
    assert!((got - row.number("value")).abs() < 1e-9, "{row:?}: {got}");
}

/// Source: see the head of `tooth_kinds.csv`.
#[track_caller]
fn check_kinds(row: &Row) {
    let expect: Vec<&str> = ["first", "second"]
        .map(|column| row.text(column))
        .into_iter()
        .filter(|kind| !kind.is_empty())
        .collect();
    let sheet = sheet(work(row), &Conditions::default());
    let got: Vec<String> = sheet
        .teeth
        .value()
        .iter()
        .map(|kind| format!("{kind:?}"))
        .collect();
    assert_eq!(got, expect, "{row:?}");
}

/// Source: the last column of `verdicts.csv`.
#[track_caller]
fn check_verdict(row: &Row) {
    let surfaces = match row.text("surface_c") {
        "any" => [-20.0, 4.9, 5.0, 14.9, 15.0, 40.0]
            .map(|it| Some(Temperature::celsius(it).unwrap()))
            .into_iter()
            .chain([None])
            .collect(),
        "unknown" => vec![None],
        _ => vec![Some(Temperature::celsius(row.number("surface_c")).unwrap())],
    };
    for surface in surfaces {
        for soft in softness(row) {
            for stones in stones(row) {
                let known = Conditions {
                    surface,
                    soft,
                    stones,
                    ..Conditions::default()
                };
                let sheet = sheet(work(row), &known);
                assert_eq!(
                    format!("{:?}", sheet.verdict.value()),
                    row.text("verdict"),
                    "{row:?}\n{known:?}"
                );
            }
        }
    }
}

/// A table that forgets a work proves nothing about it.
#[track_caller]
fn check_every_work_is_in(rows: &[Row]) {
    for wanted in Work::ALL {
        assert!(rows.iter().any(|row| work(row) == wanted), "{wanted:?}");
    }
}

#[test]
fn every_angle_and_oiling_starts_from_its_house_default() {
    let rows = rows(HOUSE_DEFAULTS);
    for line in ["cutting degrees", "grading degrees", "oilings"] {
        let of_line: Vec<Row> = rows
            .iter()
            .filter(|row| row.text("line") == line)
            .cloned()
            .collect();
        check_every_work_is_in(&of_line);
    }
    rows.iter().for_each(check_default);
}

#[test]
fn every_limit_stands_where_the_list_puts_it() {
    rows(HOUSE_LIMITS).iter().for_each(check_limit);
}

#[test]
fn the_tooth_kinds_come_in_the_order_of_the_house() {
    let rows = rows(TOOTH_KINDS);
    check_every_work_is_in(&rows);
    rows.iter().for_each(check_kinds);
}

/// Source: common practice, no published source; the names say it.
#[test]
fn only_the_narrow_kind_lacks_the_wide_flange_and_only_the_blunt_kind_the_point() {
    for (kind, wide, pointed) in [
        (ToothKind::NarrowPointed, false, true),
        (ToothKind::WidePointed, true, true),
        (ToothKind::WideBlunt, true, false),
    ] {
        assert_eq!((kind.is_wide(), kind.is_pointed()), (wide, pointed));
    }
}

#[test]
fn the_edge_is_the_tool_for_what_the_trade_says_it_is() {
    let rows = rows(VERDICTS);
    check_every_work_is_in(&rows);
    rows.iter().for_each(check_verdict);
}
