//! Tables for a spreadsheet, read back by a parser that others wrote (the crate `csv`, which follows RFC 4180), and by eye
//! where it would forgive too much.
//!
//! Which signs begin a formula: OWASP, "CSV Injection", <https://owasp.org/www-community/attacks/CSV_Injection>.

mod tries;

use evenrow_journal::csv::{Cell, file};
use evenrow_rules::quantity::Instant;
use proptest::collection::vec;
use proptest::prelude::*;
use tries::tries;

fn text(text: &str) -> Cell {
    Cell::Text(text.to_owned())
}

/// What a table says to the parser, without the mark at its beginning.
fn parsed(written: &str) -> Vec<Vec<String>> {
    let written = written.strip_prefix('\u{feff}').expect("the mark of UTF-8");
    let mut reader = csv::ReaderBuilder::new()
        .has_headers(false)
        .from_reader(written.as_bytes());
    let rows = reader.records().map(|row| row.unwrap());
    rows.map(|row| row.iter().map(str::to_owned).collect())
        .collect()
}

proptest! {
    #![proptest_config(tries(300))]

    #[test]
    fn every_text_comes_back_in_its_cell_and_none_begins_a_formula(
        rows in vec(vec(prop_oneof![
            vec(any::<char>(), 0..12).prop_map(String::from_iter),
            "[=+@;,\"'\t\r\n ａ＝-]{0,9}",
        ], 3), 0..6),
    ) {
        let cells: Vec<Vec<Cell>> = rows.iter().map(|row| row.iter().map(|it| text(it)).collect()).collect();
        let headings = ["one", "two", "three"].map(str::to_owned);
        let back = parsed(&file(&headings, &cells));
        prop_assert_eq!(&back[0], &headings);
        prop_assert_eq!(back.len(), rows.len() + 1);
        for (row, back) in rows.iter().zip(&back[1..]) {
            for (cell, back) in row.iter().zip(back) {
                prop_assert!(!back.starts_with(['=', '+', '-', '@', '\t', '\r', '\n', '＝', '＋', '－', '＠']));
                // Only quotes were put in.
                let without = |text: &str| text.replace('\'', "");
                prop_assert_eq!(without(back), without(cell));
            }
        }
    }
}

#[test]
fn a_row_is_written_as_rfc_4180_says_with_a_mark_for_the_spreadsheet() {
    let rows = [vec![
        text("Alder Loop, \"to the bridge\""),
        Cell::Number(17_500, 3),
        Cell::Number(-5, 1),
        Cell::Number(12, 0),
        Cell::Moment(Instant::from_unix_ms(1_782_878_400_000), 180),
        Cell::Empty,
    ]];
    let headings = ["note", "mm", "degrees", "teeth", "at", "nothing"].map(str::to_owned);
    assert_eq!(
        file(&headings, &rows),
        "\u{feff}\"note\",\"mm\",\"degrees\",\"teeth\",\"at\",\"nothing\"\r\n\
         \"Alder Loop, \"\"to the bridge\"\"\",17.500,-0.5,12,2026-07-01T07:00:00+03:00,\r\n"
    );
}

#[test]
fn a_note_that_looks_like_a_formula_stays_a_note() {
    for (typed, shown) in [
        (
            "=HYPERLINK(\"http://example.invalid\")",
            "'=HYPERLINK(\"http://example.invalid\")",
        ),
        ("+1", "'+1"),
        ("-12 degrees at the bridge", "'-12 degrees at the bridge"),
        ("@SUM(A1)", "'@SUM(A1)"),
        ("\t=1", "'\t'=1"),
        ("soft;=1+1", "soft;'=1+1"),
        ("cold, -12 degrees", "cold, -12 degrees"),
        ("two-way", "two-way"),
    ] {
        let back = parsed(&file(&["note".to_owned()], &[vec![text(typed)]]));
        assert_eq!(back[1], [shown]);
    }
}

/// The days are those of chrono.
#[test]
fn a_moment_is_written_with_its_offset_whatever_the_moment() {
    for (ms, offset) in [
        (0, 0),
        (-1, -720),
        (951_782_399_000, 345),
        (1_782_878_400_999, -570),
        (253_402_200_000_000, 60),
    ] {
        let back = parsed(&file(
            &["at".to_owned()],
            &[vec![Cell::Moment(Instant::from_unix_ms(ms), offset)]],
        ));
        let at = chrono::DateTime::parse_from_rfc3339(&back[1][0]).unwrap();
        assert_eq!(at.timestamp(), ms.div_euclid(1000), "{}", back[1][0]);
        assert_eq!(at.offset().local_minus_utc(), i32::from(offset) * 60);
    }
    // Beyond what can be written the nearest moment that can be stands there.
    for ms in [i64::MIN, i64::MAX] {
        let moment = Cell::Moment(Instant::from_unix_ms(ms), 0);
        let back = parsed(&file(&["at".to_owned()], &[vec![moment]]));
        assert!(chrono::DateTime::parse_from_rfc3339(&back[1][0]).is_ok());
    }
}
