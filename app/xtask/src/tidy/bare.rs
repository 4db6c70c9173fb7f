//! Numbers of the trade that stand bare in a function, where no list of numbers finds them.
//!
//! What any arithmetic needs passes: nothing, one, two, a half, and the powers of ten that steps between units and the
//! noise of rounding are made of. As the bound of a range only nothing and one pass.

use crate::rust_text::{RustText, closing};
use crate::sources;
use crate::tree::{File, Finding, Tree, places_of};
use std::ops::Range;

/// Its numbers are those of formulas: series, fractions, where to stop.
const FORMULAS: &str = "app/rules/src/statistics.rs";

pub(super) fn numbers(tree: &Tree) -> Vec<Finding> {
    let mut found = Vec::new();
    let chosen = |path: &str| path.starts_with("app/rules/src/") && path != FORMULAS;
    for (file, rust) in tree.rust(chosen) {
        found.extend(in_file(file, rust));
    }
    found
}

fn in_file(file: &File, rust: &RustText) -> Vec<Finding> {
    let code = rust.code.as_str();
    let named = sources::constants(code);
    let bounds = bounds(code);
    let holds = |ranges: &[Range<usize>], at| ranges.iter().any(|range| range.contains(&at));
    literals(code)
        .into_iter()
        .filter(|literal| {
            let at = literal.start;
            let digits = code[literal.clone()].replace('_', "");
            // What follows the digits names their type.
            let digits = digits.split(['f', 'i', 'u']).next().unwrap_or_default();
            let number = digits.parse().unwrap_or(f64::NAN);
            let passes = if holds(&bounds, at) {
                [0.0, 1.0].contains(&number)
            } else {
                is_plain(number)
            };
            !passes && !holds(&named, at) && !rust.is_test(at) && !rust.is_attribute(at)
        })
        .map(|literal| file.finding(literal.start, code[literal].to_string()))
        .collect()
}

fn is_plain(number: f64) -> bool {
    [0.0, 0.5, 1.0, 2.0].contains(&number) || number.log10().fract() == 0.0
}

/// The brackets behind each `within`.
fn bounds(code: &str) -> Vec<Range<usize>> {
    let calls = places_of(code, "within(").into_iter();
    calls
        .map(|at| at + "within".len())
        .map(|bracket| bracket..closing(code, bracket))
        .collect()
}

/// The numbers of the code; those behind a single point name a part of a tuple.
fn literals(code: &str) -> Vec<Range<usize>> {
    let bytes = code.as_bytes();
    let mut found = Vec::new();
    let mut at = 0;
    while at < bytes.len() {
        let is_word = |byte: u8| byte.is_ascii_alphanumeric() || byte == b'_';
        if !is_word(bytes[at]) {
            at += 1;
            continue;
        }
        let start = at;
        let is_number = bytes[start].is_ascii_digit();
        while at < bytes.len() {
            // A point between digits, and not two of them: they are a range.
            let is_point =
                is_number && bytes[at] == b'.' && bytes.get(at + 1).is_some_and(u8::is_ascii_digit);
            let is_sign = is_number && bytes[at] == b'-' && bytes[at - 1] == b'e';
            if is_word(bytes[at]) || is_point || is_sign {
                at += 1;
            } else {
                break;
            }
        }
        let before = &code[..start];
        let is_part = before.ends_with('.') && !before.ends_with("..");
        if is_number && !is_part {
            found.push(start..at);
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    fn numbers_of(code: &str) -> Vec<&str> {
        literals(code).into_iter().map(|it| &code[it]).collect()
    }

    #[test]
    fn numbers_are_told_from_names_ranges_and_parts_of_tuples() {
        assert_eq!(
            numbers_of("a1.0 + b.1 - 2.5 * f64::from(3_u8) / 1e-6; 0..60; 2..=9; x[4]; -7"),
            ["2.5", "3_u8", "1e-6", "0", "60", "2", "9", "4", "7"]
        );
    }
}
