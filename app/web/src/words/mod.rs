//! Words: everything that the app says, found by key in the file of the chosen language.
//!
//! The keys and their placeholders stand in `table`; each is a method, so that a missing key does not compile. The text
//! stands in `public/words/*.txt`, one file a language; a test checks that every file has every key and no other, with
//! exactly these placeholders. `{name}` is filled with what the code hands over; `{name|one:tooth|other:teeth}` is the
//! form for the number that it hands over, by the plurals of the language. Never here: decisions.

use std::sync::OnceLock;

use crate::device::{language, text};

pub mod files; // files taken in, and the space that things take
pub mod numbers; // numbers, lengths and temperatures as they are shown and typed
pub mod past; // what happened, and why something was refused
pub mod report; // the shift report as text
pub mod sheet; // the set-up sheet: works, reasons, cautions, bases
mod table; // the keys
pub mod tables; // tables for a spreadsheet
pub mod terms; // the words of the trade
pub mod times; // times of day and lengths of time

/// A text as other programs want it. Our words tell the screen where they may break by soft hyphens; a spreadsheet, a
/// message or a calendar would search, count or even show those.
pub fn without_soft_hyphens(text: &str) -> String {
    text.replace('\u{ad}', "")
}

/// Words by their keys, in the order of the keys.
type Text = Vec<(&'static str, &'static str)>;

/// The words of one language. The build divides its file: those that the first two files of wasm can say, and the rest.
#[derive(Debug, Default)]
pub struct Words {
    language: String,
    text: Text,
    later: OnceLock<Text>,
}

impl Words {
    /// The words of a language, which from now on is the one of the page, its numbers and its days; none where its file
    /// cannot be had. They live as long as the app does.
    pub async fn load(language: &str) -> Option<&'static Words> {
        let file = text::file(&format!("words/{language}.txt")).await?;
        numbers::set_decimal_mark(language::speak(language));
        Some(Box::leak(Box::new(Words {
            language: language.to_owned(),
            ..Words::read(file)
        })))
    }

    /// Loads the rest of them, if it is not there; whether it is now.
    pub async fn load_later(&self) -> bool {
        if self.later.get().is_none()
            && let Some(file) = text::file(&format!("later/{}.txt", self.language)).await
        {
            // If two have asked for it, both bring the same.
            let _ = self.later.set(lines(file));
        }
        self.are_all_here()
    }

    /// Whether the rest of them is there.
    pub fn are_all_here(&self) -> bool {
        self.later.get().is_some()
    }

    /// Reads a file of `key = text` lines, which the build has put in the order of their keys.
    fn read(file: String) -> Words {
        Words {
            text: lines(file),
            ..Words::default()
        }
    }

    /// The text of a key with its placeholders filled. A key that the file lacks shows itself.
    fn fill(&self, key: &str, values: &[(&str, &str)]) -> String {
        let later = || find(self.later.get()?, key);
        let Some(text) = find(&self.text, key).or_else(later) else {
            return key.to_owned();
        };
        let mut filled = String::with_capacity(text.len());
        let mut rest = text;
        while let Some((before, after)) = rest.split_once('{') {
            filled.push_str(before);
            let (inside, after) = after.split_once('}').unwrap_or((after, ""));
            let (name, forms) = inside.split_once('|').unwrap_or((inside, ""));
            let value = values
                .iter()
                .find_map(|(known, value)| (*known == name).then_some(*value))
                .unwrap_or(name);
            filled.push_str(if forms.is_empty() {
                value
            } else {
                plural(forms, value)
            });
            rest = after;
        }
        filled.push_str(rest);
        filled
    }
}

fn lines(file: String) -> Text {
    let file: &'static str = Box::leak(file.into_boxed_str());
    let lines = file.lines().filter_map(|line| line.split_once('='));
    lines.map(|(key, text)| (key.trim(), text.trim())).collect()
}

fn find(text: &Text, key: &str) -> Option<&'static str> {
    let at = text.binary_search_by(|(known, _)| (*known).cmp(key)).ok()?;
    text.get(at).map(|(_, text)| *text)
}

/// Of `one:tooth|other:teeth` the form for a number as it is shown. Without one for its kind, or for what is no number,
/// the other form.
fn plural<'a>(forms: &'a str, shown: &str) -> &'a str {
    let kind = numbers::parse_shown(shown).map_or_else(|| OTHER.to_owned(), language::plural);
    let form = |kind: &str| {
        let mut forms = forms.split('|').filter_map(|form| form.split_once(':'));
        forms.find_map(|(known, form)| (known == kind).then_some(form))
    };
    form(&kind).or_else(|| form(OTHER)).unwrap_or(forms)
}

/// The kind of plural that every language has.
const OTHER: &str = "other";

#[cfg(test)]
pub(crate) fn english() -> &'static Words {
    let file = include_str!("../../../../public/words/en.txt");
    Box::leak(Box::new(Words::read(as_built(file))))
}

/// All words of a file in one, without its comments, in the order of their keys.
#[cfg(test)]
fn as_built(file: &str) -> String {
    let lines = file.lines().filter(|line| !line.starts_with('#'));
    let mut lines: Vec<&str> = lines.collect();
    lines.sort_by_key(|line| line.split('=').next().map(str::trim));
    lines.join("\n")
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

    /// What stands in braces.
    fn placeholders(text: &str) -> impl Iterator<Item = &str> {
        let parts = text.split('{').skip(1);
        parts.map(|part| part.split_once('}').unwrap_or((part, "")).0)
    }

    fn names(text: &str) -> BTreeSet<&str> {
        placeholders(text)
            .map(|inside| inside.split('|').next().unwrap_or(inside))
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
            let words = Words::read(as_built(&file));
            for (key, expected) in table::TABLE {
                let expected: BTreeSet<&str> = expected.iter().copied().collect();
                let text = find(&words.text, key).unwrap();
                assert_eq!(names(text), expected, "{name}: {key}");
                assert_eq!(
                    text.matches('{').count(),
                    text.matches('}').count(),
                    "{name}: {key}"
                );
                assert!(!text.is_empty(), "{name}: {key} is empty");
            }
        }
    }

    /// The kinds are those of Unicode's plural rules, <https://www.unicode.org/reports/tr35/tr35-numbers.html>.
    #[test]
    fn every_plural_knows_its_kinds_and_has_a_form_for_the_rest() {
        const KINDS: [&str; 6] = ["zero", "one", "two", "few", "many", OTHER];
        for (name, file) in files() {
            let words = Words::read(as_built(&file));
            for (key, text) in &words.text {
                for plural in placeholders(text).filter(|it| it.contains('|')) {
                    let kinds: Vec<&str> = plural
                        .split('|')
                        .skip(1)
                        .map(|form| form.split_once(':').map_or(form, |(kind, _)| kind))
                        .collect();
                    let unique: BTreeSet<&str> = kinds.iter().copied().collect();
                    assert!(
                        kinds.iter().all(|kind| KINDS.contains(kind)) && kinds.contains(&OTHER),
                        "{name}: {key}: {plural}"
                    );
                    assert_eq!(kinds.len(), unique.len(), "{name}: {key}: {plural}");
                }
            }
        }
    }

    #[test]
    fn every_word_of_the_trade_stands_before_its_sentence_in_every_language() {
        for (name, file) in files() {
            let words = Words::read(as_built(&file));
            for term in terms::TERMS.iter().flat_map(|(_, names)| names.iter()) {
                let (word, sentence) = words.term(term);
                assert!(!word.is_empty() && !sentence.is_empty(), "{name}: {term}");
                assert!(!sentence.contains('{'), "{name}: {term}");
            }
        }
    }

    #[test]
    fn a_placeholder_is_filled_wherever_it_stands() {
        let words = Words::read("it = {a} and {b}, {a}".to_owned());
        assert_eq!(words.fill("it", &[("a", "1"), ("b", "2")]), "1 and 2, 1");
    }

    #[test]
    fn a_plural_follows_the_number_that_is_shown_and_what_is_no_number_is_many() {
        let words = Words::read("it = {n} {n|one:tooth|other:teeth} of {all}".to_owned());
        for (n, said) in [
            ("1", "1 tooth of 9"),
            ("0", "0 teeth of 9"),
            ("2", "2 teeth of 9"),
            ("1.5", "1.5 teeth of 9"),
            ("1,5", "1,5 teeth of 9"),
            ("\u{2212}2", "\u{2212}2 teeth of 9"),
            ("1\u{202f}001", "1\u{202f}001 teeth of 9"),
            ("some", "some teeth of 9"),
            ("", " teeth of 9"),
        ] {
            assert_eq!(words.fill("it", &[("n", n), ("all", "9")]), said);
        }
        let few = Words::read("it = {n|few:kilka|other:wiele}".to_owned());
        assert_eq!(few.fill("it", &[("n", "1")]), "wiele");
    }
}
