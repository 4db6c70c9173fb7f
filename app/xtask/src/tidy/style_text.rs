//! Style sheets and colours as tidy reads them.

use std::ops::Range;

const COLOUR_FUNCTIONS: [&str; 11] = [
    "rgb",
    "rgba",
    "hsl",
    "hsla",
    "hwb",
    "lab",
    "lch",
    "oklab",
    "oklch",
    "color",
    "device-cmyk",
];
const COLOUR_NAMES: [&str; 14] = [
    "black", "white", "gray", "grey", "silver", "red", "maroon", "orange", "yellow", "green",
    "teal", "blue", "navy", "purple",
];

/// A raw colour or size, and where it stands.
pub(super) struct Raw {
    pub(super) at: usize,
    pub(super) text: String,
}

/// The raw colours and sizes in the values of a style sheet. Conditions of `@media` are none: tokens cannot stand there.
pub(super) fn raw_in_sheet(sheet: &str) -> Vec<Raw> {
    let blanked = without_comments(sheet);
    let mut found = Vec::new();
    for value in values(&blanked) {
        let start = value.start;
        for (at, word) in words(&blanked[value]) {
            if is_colour(word) || is_size(word) {
                found.push(Raw {
                    at: start + at,
                    text: word.to_string(),
                });
            }
        }
    }
    found
}

/// The raw colours and sizes in a text that a program hands to the browser.
pub(super) fn raw_in_literal(literal: &str) -> Vec<Raw> {
    let is_raw = |word: &str| is_hex_colour(word) || is_colour_function(word) || is_size(word);
    let found = words(literal).into_iter().filter(|(_, word)| is_raw(word));
    found
        .map(|(at, word)| Raw {
            at,
            text: word.to_string(),
        })
        .collect()
}

fn without_comments(sheet: &str) -> String {
    let mut blanked = String::with_capacity(sheet.len());
    let mut rest = sheet;
    while let Some((before, after)) = rest.split_once("/*") {
        let (comment, after) = after.split_once("*/").unwrap_or((after, ""));
        blanked.push_str(before);
        let blank = |byte: u8| if byte == b'\n' { '\n' } else { ' ' };
        blanked.extend(format!("/*{comment}*/").bytes().map(blank));
        rest = after;
    }
    blanked.push_str(rest);
    blanked
}

/// Where the value of each declaration stands. What ends in `{` is a selector or a condition, whatever colons it holds.
fn values(sheet: &str) -> Vec<Range<usize>> {
    let mut found = Vec::new();
    let mut start = 0;
    for (at, sign) in sheet.match_indices(['{', '}', ';']) {
        if sign != "{"
            && let Some(colon) = sheet[start..at].find(':')
        {
            found.push(start + colon + 1..at);
        }
        start = at + 1;
    }
    found
}

/// The words of a value: runs of letters, digits, `#`, `.`, `-`, `%` and `_`, with a bracket that follows directly.
fn words(value: &str) -> Vec<(usize, &str)> {
    let belongs = |letter: char| letter.is_alphanumeric() || "#.-%_".contains(letter);
    let mut found = Vec::new();
    let mut start = None;
    for (at, letter) in value.char_indices().chain([(value.len(), ' ')]) {
        match (start, belongs(letter)) {
            (None, true) => start = Some(at),
            (Some(from), false) => {
                let to = if letter == '(' { at + 1 } else { at };
                found.push((from, &value[from..to]));
                start = None;
            }
            (None, false) | (Some(_), true) => {}
        }
    }
    found
}

fn is_colour(word: &str) -> bool {
    is_hash_digits(word, &[3, 4, 6, 8]) || is_colour_function(word) || COLOUR_NAMES.contains(&word)
}

/// In a program `#add` may be an address; a colour there has a digit or the full length.
fn is_hex_colour(word: &str) -> bool {
    let short_with_digit =
        is_hash_digits(word, &[3, 4]) && word.contains(|letter: char| letter.is_ascii_digit());
    short_with_digit || is_hash_digits(word, &[6, 8])
}

fn is_hash_digits(word: &str, lengths: &[usize]) -> bool {
    word.strip_prefix('#').is_some_and(|digits| {
        lengths.contains(&digits.len()) && digits.bytes().all(|digit| digit.is_ascii_hexdigit())
    })
}

fn is_colour_function(word: &str) -> bool {
    word.strip_suffix('(')
        .is_some_and(|name| COLOUR_FUNCTIONS.contains(&name))
}

fn is_size(word: &str) -> bool {
    let number = ["px", "rem", "pt"]
        .iter()
        .find_map(|unit| word.strip_suffix(unit));
    number.is_some_and(|number| number.parse::<f64>().is_ok())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn raw(sheet: &str) -> Vec<String> {
        raw_in_sheet(sheet)
            .into_iter()
            .map(|raw| raw.text)
            .collect()
    }

    #[test]
    fn raw_colours_and_sizes_are_found_in_values() {
        assert_eq!(
            raw("a { color: #fff; border: 1px solid rgb(0 0 0); }"),
            ["#fff", "1px", "rgb("]
        );
        assert_eq!(
            raw("a { margin: calc(100% - 2.5rem); color: white }"),
            ["2.5rem", "white"]
        );
        assert_eq!(raw("a { inset: -3px }"), ["-3px"]);
    }

    #[test]
    fn roles_zero_shares_and_conditions_are_not() {
        assert!(
            raw("a { color: var(--red-ink); margin: 0 2fr 50%; white-space: nowrap; }").is_empty()
        );
        assert!(
            raw("@media (min-width: 520px) { #add:hover { color: currentColor; } }").is_empty()
        );
        assert!(
            raw("/* 3px */ a { background: color-mix(in srgb, var(--a) 50%, var(--b)); }")
                .is_empty()
        );
    }

    #[test]
    fn the_place_of_a_finding_is_its_own() {
        let sheet = "/* a */ b { c: 3px; }";
        assert_eq!(raw_in_sheet(sheet)[0].at, sheet.find("3px").expect("3px"));
    }

    #[test]
    fn an_address_in_a_program_is_no_colour() {
        assert!(raw_in_literal("#add #row #machine").is_empty());
        assert_eq!(raw_in_literal("stroke: #00513F").len(), 1);
        assert_eq!(raw_in_literal("width: 3px").len(), 1);
    }
}
