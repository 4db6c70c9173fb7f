//! The licences of everything that reaches the phone: whose work it is, under which terms, and the terms themselves.
//!
//! Cargo says which crates are linked into the wasm, and where they lie; their own texts are taken from there. [`file`]
//! is put into the bundle by `stamp`. Never here: a list of crates kept by hand.
//!
//! Lines of the file: `work`, name, version, expression, address and the numbers of its texts, with tabs between; then
//! `text` with its number and the word `own`, or `usual` where a work brings none; then the lines of that text, each
//! behind a tab.

use crate::{Outcome, project, run};
use serde_json::Value;
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

/// Where the bundle holds the file.
pub(crate) const FILE: &str = "licences.txt";

/// How the files of a crate begin that hold its terms.
const BEGINNINGS: [&str; 7] = [
    "license",
    "licence",
    "copying",
    "copyright",
    "notice",
    "unlicense",
    "authors",
];

/// What follows the line of the copyright in the text of the MIT licence: <https://spdx.org/licenses/MIT.html>.
const MIT: &str = include_str!("licences/mit.txt");

/// A crate, or what else is linked in.
#[derive(Debug, PartialEq, Eq)]
struct Work {
    name: String,
    version: String,
    expression: String,
    address: String,
    texts: Vec<Text>,
}

/// Terms in full.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
struct Text {
    /// Whether the work brings it along; else it is the usual text of the licence that it names.
    own: bool,
    text: String,
}

/// The file of the app.
pub(crate) fn file(root: &Path) -> Outcome<String> {
    Ok(told(&works(root)?))
}

fn told(works: &[Work]) -> String {
    let mut numbers: BTreeMap<&Text, usize> = BTreeMap::new();
    let mut texts: Vec<&Text> = Vec::new();
    let mut file = String::new();
    for work in works {
        let mut own: Vec<String> = Vec::new();
        for text in &work.texts {
            let number = *numbers.entry(text).or_insert_with(|| {
                texts.push(text);
                texts.len()
            });
            own.push(number.to_string());
        }
        let parts = [
            &work.name,
            &work.version,
            &work.expression,
            &work.address,
            &own.join(" "),
        ];
        file = file + "work\t" + &parts.map(|part| part.replace('\t', " ")).join("\t") + "\n";
    }
    for (at, text) in texts.iter().enumerate() {
        let whose = if text.own { "own" } else { "usual" };
        let number = (at + 1).to_string();
        file = file + "text\t" + &number + "\t" + whose + "\n";
        for line in text.text.lines() {
            file = file + "\t" + line + "\n";
        }
    }
    file
}

/// Ourselves, everything that is linked into the wasm by name, and the library of the language.
fn works(root: &Path) -> Outcome<Vec<Work>> {
    let mut works = vec![Work {
        name: "Evenrow".to_string(),
        version: env!("CARGO_PKG_VERSION").to_string(),
        expression: "MIT".to_string(),
        address: String::new(),
        texts: vec![Text {
            own: true,
            text: tidied(&project::read_text(&root.join("LICENSE"))?),
        }],
    }];
    let linked = linked(root)?;
    let known = metadata(root)?;
    for (name, version) in &linked {
        let package = known
            .iter()
            .find(|it| it["name"] == name.as_str() && it["version"] == version.as_str())
            .ok_or_else(|| format!("cargo metadata does not know {name} {version}."))?;
        // Ours stand under our own name.
        if !package["source"].is_null() {
            works.push(work(package)?);
        }
    }
    works.push(Work {
        name: "The standard library of Rust".to_string(),
        version: run::answer(std::process::Command::new("rustc").arg("--version"))
            .and_then(|said| Some(said.split_whitespace().nth(1)?.to_string()))
            .unwrap_or_default(),
        expression: "MIT OR Apache-2.0".to_string(),
        address: "https://github.com/rust-lang/rust".to_string(),
        texts: vec![mit("The Rust Project Contributors")],
    });
    Ok(works)
}

fn work(package: &Value) -> Outcome<Work> {
    let said = |key: &str| package[key].as_str().unwrap_or_default().to_string();
    let (name, expression) = (said("name"), said("license"));
    let manifest = PathBuf::from(said("manifest_path"));
    let mut texts = texts_in(manifest.parent().unwrap_or(&manifest))?;
    if texts.is_empty() {
        if !expression
            .split([' ', '/', '(', ')'])
            .any(|licence| licence == "MIT")
        {
            return Err(format!(
                "{name} brings no text of its licence ({expression}), and only that of MIT is kept here. Add it to app/xtask/src/licences."
            ));
        }
        let authors = package["authors"].as_array().into_iter().flatten();
        // Names, and not where their letters go.
        let authors: Vec<&str> = authors
            .filter_map(|it| it.as_str()?.split('<').next())
            .map(str::trim)
            .collect();
        let whose = if authors.is_empty() {
            format!("The authors of {name}")
        } else {
            authors.join(", ")
        };
        texts.push(mit(&whose));
    }
    Ok(Work {
        version: said("version"),
        address: said("repository"),
        name,
        expression,
        texts,
    })
}

fn mit(whose: &str) -> Text {
    Text {
        own: false,
        text: format!("Copyright (c) {whose}\n\n{}", MIT.trim_end()),
    }
}

/// The texts in the folder of a crate, by the names of their files.
fn texts_in(folder: &Path) -> Outcome<Vec<Text>> {
    let mut texts = Vec::new();
    for path in project::files_below(folder)? {
        let lower = path.to_ascii_lowercase();
        let is_code = ["rs", "toml", "yml", "html"].contains(&project::extension(&lower));
        let begins = |name: &str| BEGINNINGS.iter().any(|it| name.starts_with(it));
        // At the top, or in a folder of that name.
        if is_code || !begins(&lower) {
            continue;
        }
        let bytes = project::read(&folder.join(&path))?;
        let text = tidied(&String::from_utf8_lossy(&bytes));
        if !text.is_empty() {
            texts.push(Text { own: true, text });
        }
    }
    Ok(texts)
}

/// The text without what only sets two copies of it apart: ends of lines, blanks before them, empty lines around it.
fn tidied(text: &str) -> String {
    let lines: Vec<&str> = text.lines().map(str::trim_end).collect();
    lines.join("\n").trim_matches('\n').to_string()
}

/// Name and version of every crate that is linked into the wasm, in order.
fn linked(root: &Path) -> Outcome<Vec<(String, String)>> {
    let tree = run::answer(
        run::cargo()
            .args(["tree", "--locked", "--offline", "--package", "evenrow-web"])
            .args([
                "--target",
                "wasm32-unknown-unknown",
                "--edges",
                "normal,no-proc-macro",
            ])
            .args(["--prefix", "none", "--format", "{p}"])
            .current_dir(root),
    )
    .ok_or("`cargo tree` does not say what is linked into the app.")?;
    let mut linked: Vec<_> = tree.lines().filter_map(named).collect();
    linked.sort();
    linked.dedup();
    Ok(linked)
}

/// `leptos v0.8.23 (*)` is leptos, 0.8.23.
fn named(line: &str) -> Option<(String, String)> {
    let mut words = line.split_whitespace();
    let name = words.next()?.to_string();
    let version = words.next()?.strip_prefix('v')?.to_string();
    Some((name, version))
}

fn metadata(root: &Path) -> Outcome<Vec<Value>> {
    let said = run::answer(
        run::cargo()
            .args(["metadata", "--locked", "--offline", "--format-version", "1"])
            .args(["--filter-platform", "wasm32-unknown-unknown"])
            .current_dir(root),
    )
    .ok_or("`cargo metadata` does not answer.")?;
    let said: Value = serde_json::from_str(&said)
        .map_err(|error| format!("`cargo metadata` answers what cannot be read: {error}."))?;
    Ok(said["packages"].as_array().cloned().unwrap_or_default())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn all() -> Vec<Work> {
        works(&project::root().expect("the project")).expect("the licences")
    }

    #[test]
    fn every_crate_that_is_linked_in_stands_in_the_lock_file_and_has_its_terms() {
        let lock =
            project::read_text(&project::root().expect("it").join("Cargo.lock")).expect("it");
        let works = all();
        assert!(works.iter().any(|it| it.name == "leptos") && 50 < works.len());
        for work in &works[1..works.len() - 1] {
            let entry = format!("name = \"{}\"\nversion = \"{}\"\n", work.name, work.version);
            assert!(lock.contains(&entry), "{} is not in Cargo.lock", work.name);
            assert!(
                !work.expression.is_empty(),
                "{} names no licence",
                work.name
            );
            assert!(!work.texts.is_empty(), "{} has no terms", work.name);
            for text in &work.texts {
                assert!(100 < text.text.len(), "{}: {}", work.name, text.text);
            }
        }
    }

    #[test]
    fn nothing_that_only_builds_or_tests_is_among_them() {
        for stranger in [
            "evenrow-web",
            "leptos_macro",
            "proptest",
            "thirtyfour",
            "xtask",
        ] {
            assert!(all().iter().all(|it| it.name != stranger), "{stranger}");
        }
    }

    #[test]
    fn a_crate_that_brings_no_text_is_named_with_the_usual_one() {
        let file = told(&all());
        let leptos = file.lines().find(|line| line.starts_with("work\tleptos\t"));
        let number = leptos
            .and_then(|line| line.rsplit('\t').next())
            .expect("leptos");
        assert!(
            file.contains(&format!(
                "text\t{number}\tusual\n\tCopyright (c) Greg Johnston"
            )),
            "{number}"
        );
    }

    #[test]
    fn one_text_stands_once_however_many_share_it() {
        let text = Text {
            own: true,
            text: "Do as you like.\n\nReally.".to_string(),
        };
        let work = |name: &str| Work {
            name: name.to_string(),
            version: "1.0.0".to_string(),
            expression: "0BSD".to_string(),
            address: String::new(),
            texts: vec![text.clone()],
        };
        assert_eq!(
            told(&[work("a"), work("b")]),
            "work\ta\t1.0.0\t0BSD\t\t1\nwork\tb\t1.0.0\t0BSD\t\t1\ntext\t1\town\n\tDo as you like.\n\t\n\tReally.\n"
        );
    }

    #[test]
    fn two_copies_with_other_ends_of_lines_are_one_text() {
        assert_eq!(tidied("\r\n a \r\nb\r\n\r\n"), tidied(" a\nb"));
    }

    #[test]
    fn a_line_of_the_tree_names_a_crate() {
        let found = |name: &str| Some((name.to_string(), "1.2.2+spec-1.1.0".to_string()));
        assert_eq!(named("toml v1.2.2+spec-1.1.0 (*)"), found("toml"));
        assert_eq!(named(""), None);
    }
}
