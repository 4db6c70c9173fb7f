//! Constants in Rust text: where each stands, what it is called, its expression and its doc comment.

use super::doc::Doc;
use super::value;
use crate::rust_text::RustText;
use crate::tree::{File, places_of};
use std::collections::BTreeMap;
use std::ops::Range;

/// A constant of the code that is not for tests.
pub(super) struct Constant {
    /// Where its `const` stands.
    pub(super) at: usize,
    pub(super) module: String,
    /// Its name, below the type that it belongs to, if there is one: `Length::ZERO`.
    pub(super) name: String,
    /// What stands behind its `=`.
    pub(super) expression: String,
    pub(super) doc: Doc,
}

impl Constant {
    pub(super) fn all(file: &File, rust: &RustText, module: &str) -> Vec<Constant> {
        let places = places_of(&rust.code, "const").into_iter();
        let places = places.filter(|at| !rust.is_test(*at));
        let constants = places.filter_map(|at| {
            let place = Place::at(&rust.code, at)?;
            let name = rust.code[place.name].to_string();
            Some(Constant {
                at,
                module: module.to_string(),
                name: match owner(&rust.code[..at]) {
                    Some(owner) => format!("{owner}::{name}"),
                    None => name,
                },
                expression: rust.code[place.expression].trim().to_string(),
                doc: Doc::above(file, rust, at),
            })
        });
        constants.collect()
    }
}

/// Where the parts of a constant stand.
pub(super) struct Place {
    pub(super) name: Range<usize>,
    pub(super) expression: Range<usize>,
}

impl Place {
    /// That of the constant whose `const` stands here; none for a constant function, pointer or parameter.
    pub(super) fn at(code: &str, word: usize) -> Option<Place> {
        let after = &code[word + "const".len()..];
        let start = word + "const".len() + after.len() - after.trim_start().len();
        let length = code[start..].find(':')?;
        let name = &code[start..start + length];
        let is_name = |letter: char| letter.is_ascii_uppercase() || "_0123456789".contains(letter);
        if name.is_empty() || !name.chars().all(is_name) {
            return None;
        }
        let equals = outside_brackets(code, start, '=')?;
        let end = outside_brackets(code, equals, ';')?;
        Some(Place {
            name: start..start + length,
            expression: equals + 1..end,
        })
    }
}

/// The first place of a sign that stands inside no bracket opened from here on.
pub(super) fn outside_brackets(code: &str, from: usize, sign: char) -> Option<usize> {
    let mut depth = 0_usize;
    for (at, letter) in code[from..].char_indices() {
        if letter == sign && depth == 0 {
            return Some(from + at);
        } else if "([{".contains(letter) {
            depth += 1;
        } else if ")]}".contains(letter) {
            depth = depth.checked_sub(1)?;
        }
    }
    None
}

/// The type whose `impl` is still open at the end of this code.
pub(super) fn owner(code: &str) -> Option<String> {
    let mut open = Vec::new();
    for (at, letter) in code.char_indices() {
        match letter {
            '{' => open.push(at),
            '}' => drop(open.pop()),
            _ => {}
        }
    }
    open.into_iter().find_map(|brace| {
        let before = code[..brace].rfind(['{', '}', ';']).map_or(0, |at| at + 1);
        let header = code[before..brace].trim();
        let places = places_of(header, "impl");
        // A function may take an `impl` of something.
        if !places_of(header, "fn").is_empty() {
            return None;
        }
        let (_, of) = header.split_at(places.first()? + "impl".len());
        let of = match of.strip_prefix('<').and_then(|it| it.split_once('>')) {
            Some((_, after)) => after,
            None => of,
        };
        let of = of.rsplit(" for ").next().unwrap_or(of).trim();
        let end = of.find(|letter: char| !letter.is_alphanumeric());
        Some(of[..end.unwrap_or(of.len())].to_string())
    })
}

/// Every constant by name, for texts and expressions that name another.
pub(super) struct Known<'a> {
    by_name: BTreeMap<&'a str, Vec<&'a Constant>>,
}

impl<'a> Known<'a> {
    pub(super) fn of(constants: impl Iterator<Item = &'a Constant>) -> Known<'a> {
        let mut by_name: BTreeMap<&str, Vec<_>> = BTreeMap::new();
        for constant in constants {
            by_name.entry(&constant.name).or_default().push(constant);
        }
        Known { by_name }
    }

    /// The constant that a module means by a name: its own, or the only one.
    pub(super) fn find(&self, name: &str, module: &str) -> Option<&'a Constant> {
        let all = self.by_name.get(name)?;
        let here = all.iter().find(|it| it.module == module);
        match (here, all.as_slice()) {
            (Some(constant), _) | (None, [constant]) => Some(constant),
            (None, [..]) => None,
        }
    }

    /// A text without the signs of code: a number that it names stands there with its value.
    pub(super) fn plain(&self, text: &str, module: &str) -> String {
        let mut parts = text.split('`');
        let mut plain = parts.next().unwrap_or_default().to_string();
        let mut in_code = true;
        for part in parts {
            let told = if in_code {
                self.value_of(part, module)
            } else {
                None
            };
            // A link's brackets go with its backticks.
            if in_code && plain.ends_with('[') {
                plain.pop();
            }
            let part = if in_code {
                part
            } else {
                part.strip_prefix(']').unwrap_or(part)
            };
            plain.push_str(&told.unwrap_or_else(|| part.to_string()));
            in_code = !in_code;
        }
        plain
    }

    fn value_of(&self, name: &str, module: &str) -> Option<String> {
        value::in_words(self.find(name, module)?, self)
            .ok()
            .flatten()
    }
}
