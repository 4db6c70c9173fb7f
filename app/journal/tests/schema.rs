//! The page that says what stands in the records knows every name that the code knows, in the same order, and no other.
//!
//! The code is read as text: its tables of names are the format. Never here: what the names mean.

mod page;

use std::collections::BTreeMap;

use page::{FIELDS, PAGE, tables};

const WIRE: &str = concat!(
    include_str!("../src/wire.rs"),
    include_str!("../src/wire/backup.rs")
);

/// The lines of a block of the code that opens with this line, up to the brace that closes it.
fn block(opening: &str) -> impl Iterator<Item = &'static str> {
    let lines = WIRE.lines().skip_while(move |line| *line != opening);
    lines.skip(1).take_while(|line| *line != "}").map(str::trim)
}

/// What stands in quotes on a line of the code.
fn quoted(line: &str) -> Vec<&str> {
    line.split('"').skip(1).step_by(2).collect()
}

/// Names in the order in which they are written.
fn names(of: &str) -> Vec<String> {
    FIELDS[of].iter().map(|(name, _)| name.clone()).collect()
}

#[track_caller]
fn check(of: &str, in_code: &str) {
    assert_eq!(names(of).join(","), in_code, "{of}");
}

#[test]
fn the_page_of_the_records_has_every_kind_of_event_with_every_field_in_order_and_no_other() {
    let lines = block("kinds! {").filter(|line| line.contains('"'));
    let kinds: BTreeMap<&str, &str> = lines
        .map(|line| {
            let [word, names] = quoted(line)[..] else {
                panic!("a word and the names of its places: {line}");
            };
            (word, names)
        })
        .collect();
    assert!(kinds.len() > 30);
    let page = tables("### ");
    assert!(page.keys().eq(kinds.keys()), "{page:?}");
    for (kind, names) in kinds {
        check(kind, names);
    }
}

#[test]
fn the_page_of_the_records_has_every_other_field_in_order_and_no_other() {
    let lines = block("structures! {").filter(|line| line.contains('"'));
    let structures: Vec<(&str, &str)> = lines
        .map(|line| (line.split(' ').next().unwrap(), quoted(line)[0]))
        .collect();
    assert_eq!(structures.len(), 3);
    for (of, in_code) in structures {
        let of = match of {
            "SheetTaken" => "Sheet",
            "RoadSection" => "Section",
            of => of,
        };
        check(of, in_code);
    }
    for (of, constant) in [("Entry", "const ENTRY: "), ("Header", "const HEADER: ")] {
        let line = WIRE.lines().find(|line| line.starts_with(constant));
        check(of, quoted(line.unwrap())[0]);
    }
}

#[test]
fn the_page_of_the_records_has_every_word_and_no_other() {
    let mut code: Vec<&str> = block("words! {").flat_map(quoted).collect();
    code.sort_unstable();
    let (_, table) = PAGE.split_once("\n## Words\n").unwrap();
    let mut page: Vec<&str> = table.split('`').skip(1).step_by(2).collect();
    page.sort_unstable();
    assert!(code.len() > 40);
    assert_eq!(page, code);
}
