//! The page that says what stands in the records, read as tables: the names of fields, in order, and their units.
//!
//! Never here: what the code knows.

use std::collections::BTreeMap;
use std::sync::LazyLock;

/// The page.
pub(crate) const PAGE: &str = include_str!("../../../../tests/journals/README.md");

/// A field and its unit.
pub(crate) type Field = (String, String);

/// The tables of the page under headings of a level.
pub(crate) fn tables(level: &str) -> BTreeMap<String, Vec<Field>> {
    let mut tables = BTreeMap::new();
    let mut last: Option<String> = None;
    for line in PAGE.lines() {
        if let Some(heading) = line.strip_prefix(level) {
            let name = heading.trim_matches('`').to_owned();
            tables.insert(name.clone(), Vec::new());
            last = Some(name);
        } else if line.starts_with('#') {
            last = None;
        } else if let (Some(name), Some(row)) = (&last, line.strip_prefix("| `")) {
            let cells: Vec<&str> = row.split('|').map(str::trim).collect();
            let [field, what, unit, ""] = cells[..] else {
                panic!("three cells: {line}");
            };
            assert!(!what.is_empty() && !unit.is_empty(), "{line}");
            let field = field.trim_matches('`').to_owned();
            tables.get_mut(name).unwrap().push((field, unit.to_owned()));
        }
    }
    tables
}

/// Every kind of event and every structure, with its fields; those that are a machine or prices have the fields of these.
pub(crate) static FIELDS: LazyLock<BTreeMap<String, Vec<Field>>> = LazyLock::new(|| {
    let mut all = tables("## ");
    for (kind, fields) in tables("### ") {
        let heading = format!("\n### `{kind}`\n");
        let (_, text) = PAGE.split_once(&heading).unwrap();
        let (text, _) = text.split_once("\n#").unwrap_or((text, ""));
        let of = text.split_once("Its fields are those of ");
        let of = of.and_then(|(_, rest)| rest.split('*').nth(1));
        let fields = of.map_or(fields, |of| all[of].clone());
        assert!(!fields.is_empty(), "{kind}");
        all.insert(kind, fields);
    }
    all
});
