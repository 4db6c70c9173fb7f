//! Words: everything that the app says, found by key in the file of the chosen language.
//!
//! The keys and their placeholders stand in `table`; each is a method, so that a missing key does not compile. The text
//! stands in `public/words/*.txt`; a test checks that every file has every key and no other, with exactly these
//! placeholders. Never here: decisions.

use std::collections::BTreeMap;

pub mod files; // files taken in, and the space that things take
pub mod numbers; // numbers, lengths and temperatures as they are shown and typed
pub mod past; // what happened, and why something was refused
pub mod report; // the shift report as text
pub mod sheet; // the set-up sheet: works, reasons, cautions, bases
mod table; // the keys
pub mod tables; // tables for a spreadsheet
pub mod terms; // the words of the trade
pub mod times; // times of day and lengths of time

/// The words of one language.
#[derive(Debug, Default)]
pub struct Words {
    text: BTreeMap<String, String>,
}

impl Words {
    /// Reads a file of `key = text` lines; `#` begins a comment.
    pub fn read(file: &str) -> Words {
        let text = file
            .lines()
            .filter(|line| !line.starts_with('#'))
            .filter_map(|line| line.split_once('='))
            .map(|(key, text)| (key.trim().to_owned(), text.trim().to_owned()))
            .collect();
        Words { text }
    }

    /// The text of a key with its placeholders filled. A key that the file lacks shows itself.
    fn fill(&self, key: &str, values: &[(&str, &str)]) -> String {
        let Some(text) = self.text.get(key) else {
            return key.to_owned();
        };
        let mut filled = String::with_capacity(text.len());
        let mut rest = text.as_str();
        while let Some((before, after)) = rest.split_once('{') {
            filled.push_str(before);
            let (name, after) = after.split_once('}').unwrap_or((after, ""));
            let value = values
                .iter()
                .find_map(|(known, value)| (*known == name).then_some(*value));
            filled.push_str(value.unwrap_or(name));
            rest = after;
        }
        filled.push_str(rest);
        filled
    }
}

#[cfg(test)]
pub(crate) fn english() -> &'static Words {
    Box::leak(Box::new(Words::read(include_str!(
        "../../../../public/words/en.txt"
    ))))
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;
    use std::fs;

    use super::*;

    /// Every file of words in `public/words`.
    fn files() -> Vec<(String, String)> {
        let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/../../public/words");
        let files: Vec<(String, String)> = fs::read_dir(folder)
            .unwrap()
            .map(|file| file.unwrap().path())
            .map(|path| {
                (
                    path.display().to_string(),
                    fs::read_to_string(path).unwrap(),
                )
            })
            .collect();
        assert!(!files.is_empty());
        files
    }

    fn placeholders(text: &str) -> BTreeSet<String> {
        text.split('{')
            .skip(1)
            .filter_map(|part| part.split_once('}'))
            .map(|(name, _)| name.to_owned())
            .collect()
    }

    #[test]
    fn every_language_has_every_key_once_and_no_other() {
        for (name, file) in files() {
            let keys: Vec<&str> = file
                .lines()
                .filter(|line| !line.starts_with('#') && !line.trim().is_empty())
                .map(|line| {
                    line.split_once('=')
                        .unwrap_or_else(|| panic!("{name}: no = in {line:?}"))
                        .0
                        .trim()
                })
                .collect();
            let unique: BTreeSet<&str> = keys.iter().copied().collect();
            let terms = terms::TERMS.iter().flat_map(|(_, names)| names.iter());
            let terms: Vec<String> = terms.map(|name| format!("term_{name}")).collect();
            let known = table::TABLE.iter().map(|(key, _)| *key);
            let known: BTreeSet<&str> = known.chain(terms.iter().map(String::as_str)).collect();
            let missing: Vec<_> = known.difference(&unique).collect();
            let unknown: Vec<_> = unique.difference(&known).collect();
            assert!(
                missing.is_empty() && unknown.is_empty(),
                "{name}: missing {missing:?}, unknown {unknown:?}"
            );
            assert_eq!(keys.len(), unique.len(), "{name}: a key stands twice");
        }
    }

    #[test]
    fn every_text_has_exactly_the_placeholders_that_the_code_fills() {
        for (name, file) in files() {
            let words = Words::read(&file);
            for (key, expected) in table::TABLE {
                let expected: BTreeSet<String> =
                    expected.iter().map(|name| (*name).to_owned()).collect();
                assert_eq!(placeholders(&words.text[*key]), expected, "{name}: {key}");
                assert!(!words.text[*key].is_empty(), "{name}: {key} is empty");
            }
        }
    }

    #[test]
    fn every_word_of_the_trade_stands_before_its_sentence_in_every_language() {
        for (name, file) in files() {
            let words = Words::read(&file);
            for term in terms::TERMS.iter().flat_map(|(_, names)| names.iter()) {
                let (word, sentence) = words.term(term);
                assert!(!word.is_empty() && !sentence.is_empty(), "{name}: {term}");
                assert!(!sentence.contains('{'), "{name}: {term}");
            }
        }
    }

    #[test]
    fn a_placeholder_is_filled_wherever_it_stands() {
        let words = Words::read("it = {a} and {b}, {a}");
        assert_eq!(words.fill("it", &[("a", "1"), ("b", "2")]), "1 and 2, 1");
    }
}
