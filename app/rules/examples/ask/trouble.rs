//! What is said when there is no answer: what was wrong, and what would be right.
//!
//! Never here: what is wrong about what; the types of `evenrow_rules` know that.

use evenrow_rules::quantity::OutOfRange;
use serde_json::{Value, json};

/// Why a line has no answer.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Trouble {
    sentence: String,
    /// The rules looked at it and refused; a word for the reason.
    refused: Option<&'static str>,
}

impl Trouble {
    /// The line cannot be understood, or a number lies outside its range.
    pub(crate) fn of(sentence: String) -> Trouble {
        Trouble {
            sentence,
            refused: None,
        }
    }

    /// The rules refuse.
    pub(crate) fn refused(word: &'static str, sentence: String) -> Trouble {
        Trouble {
            sentence,
            refused: Some(word),
        }
    }

    /// As it is answered.
    pub(crate) fn told(self) -> Value {
        match self.refused {
            None => json!({ "error": self.sentence }),
            Some(word) => json!({ "error": self.sentence, "refused": word }),
        }
    }
}

/// A field whose number was out of range: names it as the request does.
pub(crate) fn field<T, Name>(name: &str, made: Result<T, OutOfRange<Name>>) -> Result<T, Trouble> {
    made.map_err(|OutOfRange { got, min, max, .. }| {
        Trouble::of(format!(
            "{name} is {got}; it has to lie between {min} and {max}."
        ))
    })
}

/// A count that may not be nothing.
pub(crate) fn at_least_one<T>(name: &str, made: Option<T>) -> Result<T, Trouble> {
    made.ok_or_else(|| Trouble::of(format!("{name} is 0; it has to be 1 or more.")))
}
