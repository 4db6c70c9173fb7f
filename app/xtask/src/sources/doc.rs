//! Doc comments: their first sentence, and the lines that begin with a heading such as `Basis:`.

use super::basis::Stated;
use crate::rust_text::RustText;
use crate::tree::{File, Finding};

const HEADINGS: [&str; 4] = ["Units:", "Valid:", "Errors:", "Basis:"];

/// Whose basis it is, where a function only hands something on, or a list holds no number.
const POINTERS: [&str; 8] = [
    "as given",
    "as answered",
    "that of ",
    "[`",
    "each ",
    "this is where it is said",
    "the list of this file",
    "the title pages",
];

/// The lines of a doc comment, without their signs.
pub(super) struct Doc {
    lines: Vec<String>,
}

impl Doc {
    /// The one that stands above an item; attributes may stand between.
    pub(super) fn above(file: &File, rust: &RustText, item: usize) -> Doc {
        let mut lines = Vec::new();
        let mut end = line_start(&file.text, item);
        while 0 < end {
            let start = line_start(&file.text, end - 1);
            let line = file.text[start..end].trim();
            let indent = file.text[start..end].len() - file.text[start..end].trim_start().len();
            match line.strip_prefix("///") {
                Some(text) => lines.push(text.trim().to_string()),
                None if rust.is_attribute(start + indent) => {}
                None => break,
            }
            end = start;
        }
        lines.reverse();
        Doc { lines }
    }

    /// The one that opens a file.
    pub(super) fn of_file(text: &str) -> Doc {
        let head = text.lines().map_while(|line| line.strip_prefix("//!"));
        Doc {
            lines: head.map(|line| line.trim().to_string()).collect(),
        }
    }

    /// Up to the first full stop of the first paragraph.
    pub(super) fn first_sentence(&self) -> String {
        let text = joined(&self.lines);
        match text.split_once(". ") {
            Some((first, _)) => format!("{first}."),
            None => text,
        }
    }

    /// What stands behind a heading, over as many lines as it takes.
    pub(super) fn under(&self, heading: &str) -> Option<String> {
        let at = self.lines.iter().position(|it| it.starts_with(heading))?;
        let first = self.lines[at].trim_start_matches(heading).trim();
        let rest = joined(&self.lines[at + 1..]);
        Some(format!("{first} {rest}").trim().to_string())
    }
}

/// Lines as one, until a paragraph, a heading or an example begins.
fn joined(lines: &[String]) -> String {
    let ends = |line: &str| {
        line.is_empty() || line.starts_with("```") || HEADINGS.iter().any(|it| line.starts_with(it))
    };
    let lines: Vec<_> = lines
        .iter()
        .map(String::as_str)
        .take_while(|line| !ends(line))
        .collect();
    lines.join(" ")
}

fn line_start(text: &str, at: usize) -> usize {
    text[..at].rfind('\n').map_or(0, |newline| newline + 1)
}

/// The `Basis:` lines of functions and lists that fit no class and point nowhere. Those of numbers are read with them.
pub(super) fn misread_bases(file: &File, rust: &RustText) -> Vec<Finding> {
    let mut found = Vec::new();
    let mut start = 0;
    let lines: Vec<_> = file.text.split_inclusive('\n').collect();
    for (index, line) in lines.iter().enumerate() {
        let here = start;
        start += line.len();
        let is_basis = line.trim().starts_with("/// Basis:");
        if !is_basis || rust.is_test(here) {
            continue;
        }
        let doc = lines[index..]
            .iter()
            .map_while(|line| line.trim().strip_prefix("///"));
        let doc = Doc {
            lines: doc.map(|line| line.trim().to_string()).collect(),
        };
        let basis = doc.under("Basis:").unwrap_or_default();
        let points = POINTERS.iter().any(|it| basis.starts_with(it));
        if let Err(what) = Stated::read(&basis)
            && !points
        {
            found.push(file.finding(here, what));
        }
    }
    found
}
