//! The page that says what stands in the records knows every name that the code knows, and no other.
//!
//! The code is read as text: its tables of names are the format. Never here: what the names mean.

use std::collections::BTreeMap;

const PAGE: &str = include_str!("../../../tests/journals/README.md");
const WIRE: &str = concat!(
    include_str!("../src/wire.rs"),
    include_str!("../src/wire/backup.rs")
);

/// Names under headings.
type Names = BTreeMap<String, Vec<String>>;

/// The lines of a block of the code that opens with this line, up to the brace that closes it.
fn block(opening: &str) -> impl Iterator<Item = &'static str> {
    let lines = WIRE.lines().skip_while(move |line| *line != opening);
    lines.skip(1).take_while(|line| *line != "}").map(str::trim)
}

/// The name of a field on a line of the code.
fn field(line: &str) -> Option<&str> {
    let (name, _) = line.split_once(": ")?;
    name.bytes()
        .all(|byte| byte.is_ascii_lowercase() || byte.is_ascii_digit() || byte == b'_')
        .then_some(name)
}

/// `MachineAdded` as it is written: `machine_added`.
fn written(variant: &str) -> String {
    let mut name = String::new();
    for letter in variant.chars() {
        if letter.is_uppercase() && !name.is_empty() {
            name.push('_');
        }
        name.extend(letter.to_lowercase());
    }
    name
}

/// The kinds of events in the code, each with its fields; those that are a machine have none of their own.
fn kinds_in_code() -> Names {
    let mut kinds = Names::new();
    let mut last = String::new();
    for line in block("enum EventWire {") {
        if line.starts_with(char::is_uppercase) {
            let variant = line.split(['(', ' ', ',']).next().unwrap();
            last = written(variant);
            kinds.insert(last.clone(), Vec::new());
        } else if let Some(name) = field(line) {
            kinds.get_mut(&last).unwrap().push(name.to_owned());
        }
    }
    kinds
}

/// The tables of the page under headings of a level: the names in their first column, each with what it is and its unit.
fn tables(level: &str) -> Names {
    let mut tables = Names::new();
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
            tables.get_mut(name).unwrap().push(field);
        }
    }
    tables
}

#[test]
fn the_page_of_the_records_has_every_kind_of_event_with_every_field_and_its_unit_and_no_other() {
    let kinds = kinds_in_code();
    assert!(kinds.len() > 30);
    assert_eq!(tables("### "), kinds);
}

#[test]
fn the_page_of_the_records_has_every_other_field_and_no_other() {
    let page = tables("## ");
    for line in WIRE.lines() {
        let name = line.strip_prefix("struct ");
        let name = name.and_then(|it| it.strip_suffix("Wire {"));
        let Some(name) = name.filter(|it| *it != "Version") else {
            continue;
        };
        let fields: Vec<&str> = block(line).filter_map(field).collect();
        assert_eq!(page[name], fields, "{name}");
    }
    assert_eq!(page["Header"].len(), 5);
    assert_eq!(page["Entry"].len(), 7);
}

#[test]
fn the_page_of_the_records_has_every_word_and_no_other() {
    let mut code: Vec<&str> = block("words! {")
        .flat_map(|line| line.split('"').skip(1).step_by(2))
        .collect();
    code.sort_unstable();
    let (_, table) = PAGE.split_once("\n## Words\n").unwrap();
    let mut page: Vec<&str> = table.split('`').skip(1).step_by(2).collect();
    page.sort_unstable();
    assert!(code.len() > 40);
    assert_eq!(page, code);
}
