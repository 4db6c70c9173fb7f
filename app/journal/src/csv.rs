//! Tables that open right in a spreadsheet: RFC 4180, <https://www.rfc-editor.org/rfc/rfc4180>, and text in them that
//! stays text.
//!
//! The file begins with the mark of UTF-8 (U+FEFF): without it spreadsheets take the letters for those of the old code
//! page of their country. Numbers have a point and no other sign; days and times are ISO 8601 with the offset of the
//! phone that recorded them. Never here: headings and other words, which are handed in.

use evenrow_rules::quantity::Instant;

use crate::calendar::{date, seconds};

/// What stands in a cell.
#[derive(Clone, Debug, PartialEq)]
pub enum Cell {
    /// Text, which may be anybody's.
    Text(String),
    /// A whole number of units, and how many digits of it come after the point: 17500 with 3 is 17.500.
    Number(i64, u32),
    /// A moment, and what the zone was ahead of UTC then, in minutes.
    Moment(Instant, i16),
    /// Nothing.
    Empty,
}

/// A table as a file. Every row has as many cells as there are headings.
pub fn file(headings: &[String], rows: &[Vec<Cell>]) -> String {
    let mut file = String::from('\u{feff}');
    let headings = headings.iter().cloned().map(Cell::Text).collect();
    for row in std::iter::once(&headings).chain(rows) {
        let cells: Vec<String> = row.iter().map(cell).collect();
        file.push_str(&cells.join(","));
        file.push_str("\r\n");
    }
    file
}

fn cell(cell: &Cell) -> String {
    match cell {
        Cell::Text(text) => format!("\"{}\"", harmless(text).replace('"', "\"\"")),
        Cell::Number(number, digits) => decimal(*number, *digits),
        Cell::Moment(at, offset_minutes) => iso(*at, *offset_minutes),
        Cell::Empty => String::new(),
    }
}

fn decimal(number: i64, digits: u32) -> String {
    let sign = if number < 0 { "-" } else { "" };
    let unit = 10_u64.saturating_pow(digits);
    let (whole, part) = (number.unsigned_abs() / unit, number.unsigned_abs() % unit);
    if digits == 0 {
        return format!("{sign}{whole}");
    }
    format!("{sign}{whole}.{part:0width$}", width = digits as usize)
}

/// A moment as ISO 8601 writes it: 2026-07-01T07:00:00+03:00.
fn iso(at: Instant, offset_minutes: i16) -> String {
    let local = at
        .unix_ms()
        .saturating_add(i64::from(offset_minutes) * 60_000);
    let seconds = seconds(Instant::from_unix_ms(local));
    let (days, second) = (seconds.div_euclid(86_400), seconds.rem_euclid(86_400));
    let (year, month, day) = date(days);
    let (sign, offset) = (
        if offset_minutes < 0 { '-' } else { '+' },
        offset_minutes.unsigned_abs(),
    );
    format!(
        "{year:04}-{month:02}-{day:02}T{:02}:{:02}:{:02}{sign}{:02}:{:02}",
        second / 3600,
        second / 60 % 60,
        second % 60,
        offset / 60,
        offset % 60
    )
}

/// A text that no spreadsheet takes for a formula: a quote stands before each sign with which one begins, at the start of
/// the text and behind everything that may start a cell where commas do not part them. OWASP, "CSV Injection",
/// <https://owasp.org/www-community/attacks/CSV_Injection>.
fn harmless(text: &str) -> String {
    let mut made = String::with_capacity(text.len());
    let mut starts = true;
    for sign in text.chars() {
        let begins_formula = matches!(
            sign,
            '=' | '+' | '-' | '@' | '\t' | '\r' | '\n' | '＝' | '＋' | '－' | '＠'
        );
        if starts && begins_formula {
            made.push('\'');
        }
        made.push(sign);
        starts = matches!(sign, ',' | ';' | '"' | '\t' | '\r' | '\n');
    }
    made
}
