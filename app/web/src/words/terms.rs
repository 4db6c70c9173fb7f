//! The words of the trade, each with a sentence and, under the same name in `public/drawings.svg`, a drawing.

use super::Words;

/// What the words are about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum About {
    /// What is on the machine.
    Edge,
    /// How it is set.
    SetUp,
    /// What it does on the road.
    Road,
    /// What keeps it going.
    Turning,
    /// How long it lasts, and what is in store.
    Wear,
}

/// Every word by its name in addresses, drawings and the files of words, in reading order.
pub const TERMS: [(About, &[&str]); 5] = [
    (
        About::Edge,
        &[
            "moldboard",
            "toothed_edge",
            "plate",
            "socket",
            "tooth",
            "tip",
            "flange",
            "retaining_ring",
            "pitch",
            "plain_edge",
        ],
    ),
    (
        About::SetUp,
        &[
            "sheet",
            "cutting_angle",
            "grading_angle",
            "toe_and_heel",
            "down_pressure",
            "frame_mark",
        ],
    ),
    (
        About::Road,
        &[
            "passes",
            "layer",
            "windrow",
            "crown",
            "crossfall",
            "corrugation",
            "tracks_and_ridges",
            "soft_surfacing",
            "milling",
        ],
    ),
    (
        About::Turning,
        &[
            "oiling", "look", "turning", "stiff", "stuck", "chipped", "broken",
        ],
    ),
    (
        About::Wear,
        &[
            "set",
            "spare",
            "half_worn",
            "blade_hours",
            "evenness",
            "carry_count",
            "laying_up",
        ],
    ),
];

/// What stands before its name in its key.
pub const TERM: &str = "term_";

/// The word of that name.
pub fn named(name: &str) -> Option<&'static str> {
    let all = TERMS.iter().flat_map(|(_, names)| names.iter());
    all.copied().find(|known| *known == name)
}

impl Words {
    /// A word of the trade, and the sentence that says what it is.
    pub fn term(&self, name: &str) -> (String, String) {
        self.term_of(&format!("{TERM}{name}"))
    }

    /// The same, by its whole key. Where the key stands in the code, the build finds it, and its words are there from the
    /// start if the screen is.
    pub fn term_of(&self, key: &str) -> (String, String) {
        let told = self.fill(key, &[]);
        let (word, sentence) = told.split_once(": ").unwrap_or((&told, ""));
        // French sets a space before the colon.
        (word.trim_end().to_owned(), sentence.to_owned())
    }

    /// What some of them are about.
    pub fn terms_about(&self, about: About) -> String {
        match about {
            About::Edge => self.terms_edge(),
            About::SetUp => self.terms_set_up(),
            About::Road => self.terms_road(),
            About::Turning => self.terms_turning(),
            About::Wear => self.terms_wear(),
        }
    }
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::*;
    use crate::words::english;

    const DRAWINGS: &str = include_str!("../../../../public/drawings.svg");

    fn all() -> Vec<&'static str> {
        let names = TERMS.iter().flat_map(|(_, names)| names.iter());
        names.copied().collect()
    }

    #[test]
    fn every_word_of_the_trade_has_one_sentence_and_one_drawing() {
        let names = all();
        assert_eq!(names.iter().collect::<BTreeSet<_>>().len(), names.len());
        for name in names {
            let (word, sentence) = english().term(name);
            assert!(!word.is_empty() && !word.contains('_'), "{name}");
            assert!(sentence.ends_with('.'), "{name}: {sentence}");
            assert_eq!(sentence.matches(". ").count(), 0, "{name}: {sentence}");
            let symbol = format!("<symbol id=\"{name}\"");
            assert_eq!(DRAWINGS.matches(&symbol).count(), 1, "{name}");
        }
    }

    #[test]
    fn a_word_is_found_by_its_name_and_no_other_by_anything_else() {
        assert_eq!(named("crossfall"), Some("crossfall"));
        assert_eq!(named("cross"), None);
    }
}
