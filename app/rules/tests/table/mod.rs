//! Reads the tables of `tests/tables`: lines that begin with `#` say where the numbers come from, then a header, then rows.
//!
//! Never here: numbers, and what they are checked against.

use std::collections::BTreeMap;

/// One row; its cells are found by the name of their column.
#[derive(Clone, Debug)]
pub(crate) struct Row(BTreeMap<String, String>);

/// The rows of a table. A table that does not say where it comes from, or that is empty, is refused.
pub(crate) fn rows(text: &str) -> Vec<Row> {
    for wanted in ["# source:", "# seen:", "# read:"] {
        assert!(
            text.lines().any(|line| line.starts_with(wanted)),
            "the table has no line {wanted:?}"
        );
    }
    let mut reader = csv::ReaderBuilder::new()
        .comment(Some(b'#'))
        .from_reader(text.as_bytes());
    let header = reader.headers().unwrap().clone();
    let rows: Vec<Row> = reader
        .records()
        .map(|record| {
            let record = record.unwrap();
            Row(header
                .iter()
                .zip(&record)
                .map(|(name, cell)| (name.to_owned(), cell.to_owned()))
                .collect())
        })
        .collect();
    assert!(!rows.is_empty(), "the table has no rows");
    rows
}

impl Row {
    /// A cell as it is written.
    #[track_caller]
    pub(crate) fn text(&self, column: &str) -> &str {
        self.0
            .get(column)
            .unwrap_or_else(|| panic!("no column {column:?}"))
    }

    /// A cell that holds a number.
    #[track_caller]
    pub(crate) fn number(&self, column: &str) -> f64 {
        let cell = self.text(column);
        cell.parse()
            .unwrap_or_else(|_| panic!("{column} is not a number: {cell:?}"))
    }
}
