//! The words of each language, divided like the wasm: those that are said at a start, and those of its last file.
//!
//! A word is said by its key, and a key that a wasm may ask for stands in it letter by letter. Nobody has to keep
//! a list. Never here: what a word says.

use super::Bundle;
use crate::{Outcome, project, split};
use std::collections::{BTreeMap, BTreeSet};

/// Where the words stand that are read first.
const FIRST: &str = "words/";

/// Where the build puts the others.
const LATER: &str = "later/";

/// The words of each language by its code, which is the name of their file.
pub(super) fn languages(bundle: &Bundle) -> BTreeMap<String, String> {
    let files = bundle.iter().filter_map(|(path, bytes)| {
        let code = path.strip_prefix(FIRST)?.strip_suffix(".txt")?;
        Some((
            code.to_string(),
            String::from_utf8_lossy(bytes).into_owned(),
        ))
    });
    files.collect()
}

/// Takes the words that only the last file of wasm says out of the first file of words, into one of their own; both
/// without comments, and in the order of their keys.
pub(super) fn divide(bundle: &mut Bundle) -> Outcome {
    let last = format!("{}/{}", split::FOLDER, split::LAST);
    let is_early = |path: &str| project::extension(path) == "wasm" && path != last;
    let early: Vec<&[u8]> = bundle
        .iter()
        .filter_map(|(path, bytes)| is_early(path).then_some(bytes.as_slice()))
        .collect();
    if early.is_empty() {
        return Err("the bundle holds no wasm.".to_string());
    }
    // What is letters in it stays letters; a key that is part of another is found too often, and never too seldom.
    let wasm = String::from_utf8_lossy(&early.concat()).into_owned();
    let languages = languages(bundle);
    let keys: BTreeSet<&str> = languages
        .values()
        .flat_map(|it| lines(it).map(key))
        .collect();
    let said: BTreeSet<&str> = keys.into_iter().filter(|key| wasm.contains(key)).collect();
    for (code, words) in &languages {
        let (first, later): (Vec<&str>, Vec<&str>) =
            lines(words).partition(|line| said.contains(key(line)));
        // The app looks a key up by halves.
        let file = |mut lines: Vec<&str>| {
            lines.sort_by_key(|line| key(line));
            lines.join("\n").into_bytes()
        };
        bundle.insert(format!("{FIRST}{code}.txt"), file(first));
        bundle.insert(format!("{LATER}{code}.txt"), file(later));
    }
    Ok(())
}

/// The lines that hold a word.
fn lines(words: &str) -> impl Iterator<Item = &str> {
    let lines = words.lines();
    lines.filter(|line| !line.starts_with('#') && !line.trim().is_empty())
}

fn key(line: &str) -> &str {
    line.split_once('=').map_or(line, |(key, _)| key).trim()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_word_stands_in_the_first_file_if_any_wasm_but_the_last_names_it() {
        let files: [(&str, &str); 4] = [
            ("app_bg.wasm", "..undo.."),
            ("snippets/split/split_work.wasm", "..oil_now.."),
            ("snippets/split/split_later.wasm", "..row_title.."),
            (
                "words/en.txt",
                "# A comment\nundo = Undo\n\nrow_title = The row\noil_now = Oil = now\n",
            ),
        ];
        let mut bundle: Bundle = files
            .map(|(path, text)| (path.to_string(), text.as_bytes().to_vec()))
            .into();
        divide(&mut bundle).expect("a bundle with wasm");
        let text = |path: &str| String::from_utf8_lossy(&bundle[path]).into_owned();
        assert_eq!(text("words/en.txt"), "oil_now = Oil = now\nundo = Undo");
        assert_eq!(text("later/en.txt"), "row_title = The row");
    }
}
