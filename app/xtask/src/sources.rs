//! `sources`: every number of the rules with its value, one sentence and what it rests on; the reasons, cautions, items
//! of the checklists and published formulas with theirs; and the bibliography.
//!
//! All of it is read out of `app/rules/src`, so none of it can be stale. The same reading gives the file that the app
//! shows ([`file`], put into the bundle by `stamp`) and the breaches that `tidy` prints ([`findings`]). Never here: a
//! list of numbers kept by hand.

mod basis; // the four classes, read from a `Basis:` line
mod constant; // constants in Rust text
mod doc; // doc comments
mod statement; // reasons, cautions, items of checklists, published formulas
mod told; // the listing as text for the terminal, and as the file of the app
mod value; // a constant's expression in plain words

use crate::rust_text::RustText;
use crate::tree::{File, Finding, Tree, places_of};
use crate::{Outcome, nothing_more, project};
use basis::Stated;
use constant::{Constant, Known};
use doc::Doc;
use statement::Statement;
use std::ops::Range;
use std::path::Path;

/// Where the bundle holds the file of the app. A later language is a file beside it, with the same ids.
pub(crate) const FILE: &str = "numbers/en.txt";

const RULES: &str = "app/rules/src/";

/// What an operator asks about first; all other modules follow by name.
const FIRST: [&str; 4] = ["setup", "oiling", "work", "machine"];

pub(crate) fn run(arguments: &[String]) -> Outcome {
    nothing_more(arguments)?;
    print!("{}", told::terminal(&listing(&project::root()?)?));
    Ok(())
}

/// The file that the app shows, or the breaches that keep it from being written.
pub(crate) fn file(root: &Path) -> Outcome<String> {
    Ok(told::file(&listing(root)?))
}

/// Everything in the rules that does not say what it is and what it rests on.
pub(crate) fn findings(tree: &Tree) -> Vec<Finding> {
    let mut found = Reading::of(tree).findings;
    for (file, rust) in tree.rust(|path| path.starts_with(RULES)) {
        found.extend(doc::misread_bases(file, rust));
    }
    found
}

/// Where constants stand in some code, each from its `const` to the end of its value.
pub(crate) fn constants(code: &str) -> Vec<Range<usize>> {
    let places = places_of(code, "const").into_iter();
    let places = places.filter_map(|at| Some(at..constant::Place::at(code, at)?.expression.end));
    places.collect()
}

fn listing(root: &Path) -> Outcome<Listing> {
    let reading = Reading::of(&Tree::of_project(root)?);
    if reading.findings.is_empty() {
        return Ok(reading.listing);
    }
    let found: Vec<_> = reading.findings.iter().map(ToString::to_string).collect();
    Err(format!(
        "not every number says what it is and what it rests on.\n{}\n`cargo xtask tidy` says what to do instead.",
        found.join("\n")
    ))
}

/// What the rules state, in the order in which it is shown.
#[derive(Default)]
struct Listing {
    numbers: Vec<Group>,
    statements: Vec<Group>,
}

/// What one module, or one kind of statement, holds.
struct Group {
    id: String,
    title: String,
    entries: Vec<Entry>,
}

/// One number, or one statement without a number of its own.
struct Entry {
    /// `module::NAME`: by it another language finds what to say instead.
    id: String,
    /// With its unit; empty for a statement.
    value: String,
    sentence: String,
    stated: Stated,
}

/// A listing, and what is wrong with the text that it was read from.
struct Reading {
    listing: Listing,
    findings: Vec<Finding>,
}

impl Reading {
    fn of(tree: &Tree) -> Reading {
        let mut reading = Reading {
            listing: Listing::default(),
            findings: Vec::new(),
        };
        let rules = || tree.rust(|path| path.starts_with(RULES));
        let constants: Vec<(&File, Vec<Constant>)> = rules()
            .map(|(file, rust)| (file, Constant::all(file, rust, &module(&file.path))))
            .collect();
        let known = Known::of(constants.iter().flat_map(|(_, constants)| constants));
        for (file, constants) in &constants {
            reading.numbers(file, constants, &known);
        }
        let mut formulas = Group {
            id: "formulas".to_string(),
            title: "What is worked out by a published formula or table".to_string(),
            entries: Vec::new(),
        };
        for (file, rust) in rules() {
            reading.statements(file, rust, &known);
            let module = module(&file.path);
            for formula in statement::formulas(file, rust) {
                let id = format!("{module}::{}", formula.name);
                let entry = reading.statement(file, 0, id, formula, &known);
                formulas.entries.extend(entry);
            }
        }
        let place = |group: &Group| {
            let module = group.id.split("::").next();
            let place = FIRST.iter().position(|name| module == Some(name));
            (place.unwrap_or(FIRST.len()), group.id.clone())
        };
        reading.listing.numbers.sort_by_key(place);
        reading.listing.statements.sort_by_key(place);
        reading.listing.statements.push(formulas);
        reading
    }

    fn numbers(&mut self, file: &File, constants: &[Constant], known: &Known) {
        let module = module(&file.path);
        let mut entries = Vec::new();
        for constant in constants {
            match number(constant, known) {
                Ok(Some(entry)) => entries.push(entry),
                Ok(None) => {}
                Err(what) => self
                    .findings
                    .push(file.finding(constant.at, format!("{}: {what}", constant.name))),
            }
        }
        if !entries.is_empty() {
            let title = Doc::of_file(&file.text).first_sentence();
            self.listing.numbers.push(Group {
                title: known.plain(title.trim_end_matches('.'), &module),
                id: module,
                entries,
            });
        }
    }

    fn statements(&mut self, file: &File, rust: &RustText, known: &Known) {
        let module = module(&file.path);
        for kind in statement::kinds(file, rust) {
            let id = format!("{module}::{}", kind.name);
            let entries = kind.statements.into_iter().filter_map(|statement| {
                let its_id = format!("{id}::{}", statement.name);
                self.statement(file, kind.at, its_id, statement, known)
            });
            let entries = entries.collect();
            self.listing.statements.push(Group {
                id,
                title: kind.title.trim_end_matches('.').to_string(),
                entries,
            });
        }
    }

    /// The statement as it is shown; none where something is wrong with it.
    fn statement(
        &mut self,
        file: &File,
        at: usize,
        id: String,
        statement: Statement,
        known: &Known,
    ) -> Option<Entry> {
        let module = module(&file.path);
        match statement.stated {
            Ok(stated) => Some(Entry {
                id,
                value: String::new(),
                sentence: known.plain(&statement.sentence, &module),
                stated: stated.with_note(|note| known.plain(note, &module)),
            }),
            Err(what) => {
                let what = format!("{}: {what}", statement.name);
                self.findings.push(file.finding(at, what));
                None
            }
        }
    }
}

/// The number that a constant holds with all that is said of it; none for a constant that holds no number.
fn number(constant: &Constant, known: &Known) -> Result<Option<Entry>, String> {
    let (doc, module) = (&constant.doc, &constant.module);
    let Some(value) = value::in_words(constant, known)? else {
        return Ok(None);
    };
    let sentence = doc.first_sentence();
    if sentence.is_empty() {
        return Err("no sentence says what it is".to_string());
    }
    let basis = doc.under("Basis:").ok_or("no `Basis:` line")?;
    let stated = Stated::read(&basis)?;
    Ok(Some(Entry {
        id: format!("{module}::{}", constant.name),
        value,
        sentence: known.plain(&sentence, module),
        stated: stated.with_note(|note| known.plain(note, module)),
    }))
}

/// `setup::cutting` for `app/rules/src/setup/cutting.rs`.
fn module(path: &str) -> String {
    let path = path.trim_start_matches(RULES).trim_end_matches(".rs");
    path.trim_end_matches("/mod").replace('/', "::")
}

#[cfg(test)]
mod tests;
