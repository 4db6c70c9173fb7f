//! A line of JSON as a tree.
//!
//! serde_json reads into any type by itself, and writes a reader with sentences about every mistake for each. Here a
//! record is right or damaged, and nobody reads those sentences; the code that makes them was a tenth of what a phone
//! fetches before its first screen. So serde_json makes the tree, and what stands in it is read by `places`. Never here:
//! what stands in a record.

use core::fmt;
use std::borrow::Cow;

use serde::Deserialize;
use serde::de::{Deserializer, Error, MapAccess, SeqAccess, Visitor};

/// Reads a line.
pub(super) fn read(line: &str) -> Option<Tree<'_>> {
    serde_json::from_str(line).ok()
}

/// What a line of JSON says.
pub(super) enum Tree<'a> {
    Nothing,
    Truth(bool),
    Count(u64),
    /// A whole number below nought.
    Below(i64),
    /// A number that is not whole, or too large to be one of ours.
    Fraction,
    Text(Cow<'a, str>),
    List(Vec<Tree<'a>>),
    /// In the order of the line, with a name as often as it stands there.
    Fields(Vec<Named<'a>>),
}

/// A field of an object.
pub(super) type Named<'a> = (Cow<'a, str>, Tree<'a>);

impl<'de> Deserialize<'de> for Tree<'de> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Tree<'de>, D::Error> {
        deserializer.deserialize_any(Growing)
    }
}

struct Growing;

impl<'de> Visitor<'de> for Growing {
    type Value = Tree<'de>;

    fn expecting(&self, said: &mut fmt::Formatter) -> fmt::Result {
        said.write_str("JSON")
    }

    fn visit_unit<E>(self) -> Result<Tree<'de>, E> {
        Ok(Tree::Nothing)
    }

    fn visit_bool<E>(self, truth: bool) -> Result<Tree<'de>, E> {
        Ok(Tree::Truth(truth))
    }

    fn visit_u64<E>(self, count: u64) -> Result<Tree<'de>, E> {
        Ok(Tree::Count(count))
    }

    fn visit_i64<E>(self, below: i64) -> Result<Tree<'de>, E> {
        Ok(Tree::Below(below))
    }

    fn visit_f64<E>(self, _: f64) -> Result<Tree<'de>, E> {
        Ok(Tree::Fraction)
    }

    fn visit_borrowed_str<E>(self, text: &'de str) -> Result<Tree<'de>, E> {
        Ok(Tree::Text(Cow::Borrowed(text)))
    }

    fn visit_str<E>(self, text: &str) -> Result<Tree<'de>, E> {
        Ok(Tree::Text(Cow::Owned(text.to_owned())))
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut list: A) -> Result<Tree<'de>, A::Error> {
        let mut all = Vec::new();
        while let Some(next) = list.next_element()? {
            all.push(next);
        }
        Ok(Tree::List(all))
    }

    fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Tree<'de>, A::Error> {
        let mut all = Vec::new();
        while let Some((name, value)) = map.next_entry()? {
            let Tree::Text(name) = name else {
                return Err(A::Error::custom(""));
            };
            all.push((name, value));
        }
        Ok(Tree::Fields(all))
    }
}
