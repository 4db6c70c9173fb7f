//! A line of JSON as a tree, and the tree read as what a record may hold.
//!
//! serde_json reads into any type by itself, and writes a reader with sentences about every mistake for each. Here a
//! record is right or damaged, and nobody reads those sentences; the code that makes them was a tenth of what a phone
//! fetches before its first screen. So serde_json makes the tree, and serde reads the tree with an error that says
//! nothing. What is an object in the format has to be one: a list of its values is refused. Never here: what stands in a
//! record.

use core::fmt;

use serde::de::value::{MapDeserializer, SeqDeserializer, StrDeserializer};
use serde::de::{
    DeserializeSeed, Deserializer, EnumAccess, Error, Expected, IntoDeserializer, MapAccess,
    SeqAccess, Unexpected, VariantAccess, Visitor,
};
use serde::{Deserialize, forward_to_deserialize_any};

/// Reads a line.
pub(super) fn read(line: &str) -> Option<Tree> {
    serde_json::from_str(line).ok()
}

/// What a line of JSON says.
pub(super) enum Tree {
    Nothing,
    Truth(bool),
    Count(u64),
    /// A whole number below nought.
    Below(i64),
    /// A number that is not whole, or too large to be one of ours.
    Fraction,
    Text(String),
    List(Vec<Tree>),
    /// In the order of the line, with a name as often as it stands there.
    Fields(Vec<(String, Tree)>),
}

impl Tree {
    /// The tree as what it should be.
    pub(super) fn to<'a, T: Deserialize<'a>>(&'a self) -> Option<T> {
        T::deserialize(self).ok()
    }
}

impl<'de> Deserialize<'de> for Tree {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Tree, D::Error> {
        deserializer.deserialize_any(Growing)
    }
}

struct Growing;

impl<'de> Visitor<'de> for Growing {
    type Value = Tree;

    fn expecting(&self, said: &mut fmt::Formatter) -> fmt::Result {
        said.write_str("JSON")
    }

    fn visit_unit<E>(self) -> Result<Tree, E> {
        Ok(Tree::Nothing)
    }

    fn visit_bool<E>(self, truth: bool) -> Result<Tree, E> {
        Ok(Tree::Truth(truth))
    }

    fn visit_u64<E>(self, count: u64) -> Result<Tree, E> {
        Ok(Tree::Count(count))
    }

    fn visit_i64<E>(self, below: i64) -> Result<Tree, E> {
        Ok(Tree::Below(below))
    }

    fn visit_f64<E>(self, _: f64) -> Result<Tree, E> {
        Ok(Tree::Fraction)
    }

    fn visit_str<E>(self, text: &str) -> Result<Tree, E> {
        Ok(Tree::Text(text.to_owned()))
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut list: A) -> Result<Tree, A::Error> {
        let mut all = Vec::new();
        while let Some(next) = list.next_element()? {
            all.push(next);
        }
        Ok(Tree::List(all))
    }

    fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Tree, A::Error> {
        let mut all = Vec::new();
        while let Some(next) = map.next_entry()? {
            all.push(next);
        }
        Ok(Tree::Fields(all))
    }
}

/// It is not what it should be.
#[derive(Debug)]
pub(super) struct NotThat;

impl fmt::Display for NotThat {
    fn fmt(&self, _: &mut fmt::Formatter) -> fmt::Result {
        Ok(())
    }
}

impl core::error::Error for NotThat {}

impl Error for NotThat {
    fn custom<T: fmt::Display>(_: T) -> NotThat {
        NotThat
    }

    fn invalid_type(_: Unexpected, _: &dyn Expected) -> NotThat {
        NotThat
    }

    fn invalid_value(_: Unexpected, _: &dyn Expected) -> NotThat {
        NotThat
    }

    fn invalid_length(_: usize, _: &dyn Expected) -> NotThat {
        NotThat
    }

    fn unknown_variant(_: &str, _: &'static [&'static str]) -> NotThat {
        NotThat
    }

    fn unknown_field(_: &str, _: &'static [&'static str]) -> NotThat {
        NotThat
    }

    fn missing_field(_: &'static str) -> NotThat {
        NotThat
    }

    fn duplicate_field(_: &'static str) -> NotThat {
        NotThat
    }
}

impl<'a> IntoDeserializer<'a, NotThat> for &'a Tree {
    type Deserializer = &'a Tree;

    fn into_deserializer(self) -> &'a Tree {
        self
    }
}

impl<'de> Deserializer<'de> for &'de Tree {
    type Error = NotThat;

    fn deserialize_any<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, NotThat> {
        match self {
            Tree::Nothing => visitor.visit_unit(),
            Tree::Truth(truth) => visitor.visit_bool(*truth),
            Tree::Count(count) => visitor.visit_u64(*count),
            Tree::Below(below) => visitor.visit_i64(*below),
            Tree::Text(text) => visitor.visit_borrowed_str(text),
            Tree::Fraction | Tree::List(_) | Tree::Fields(_) => Err(NotThat),
        }
    }

    fn deserialize_option<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, NotThat> {
        match self {
            Tree::Nothing => visitor.visit_none(),
            Tree::Truth(_)
            | Tree::Count(_)
            | Tree::Below(_)
            | Tree::Fraction
            | Tree::Text(_)
            | Tree::List(_)
            | Tree::Fields(_) => visitor.visit_some(self),
        }
    }

    fn deserialize_seq<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, NotThat> {
        let Tree::List(list) = self else {
            return Err(NotThat);
        };
        let mut list = SeqDeserializer::new(list.iter());
        let read = visitor.visit_seq(&mut list)?;
        list.end()?;
        Ok(read)
    }

    fn deserialize_tuple<V: Visitor<'de>>(self, _: usize, visitor: V) -> Result<V::Value, NotThat> {
        self.deserialize_seq(visitor)
    }

    fn deserialize_struct<V: Visitor<'de>>(
        self,
        _: &'static str,
        _: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, NotThat> {
        let Tree::Fields(fields) = self else {
            return Err(NotThat);
        };
        let fields = fields.iter().map(|(name, value)| (name.as_str(), value));
        visitor.visit_map(MapDeserializer::new(fields))
    }

    fn deserialize_enum<V: Visitor<'de>>(
        self,
        _: &'static str,
        _: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, NotThat> {
        let Tree::Fields(fields) = self else {
            return Err(NotThat);
        };
        let [(name, value)] = &fields[..] else {
            return Err(NotThat);
        };
        visitor.visit_enum(Named { name, value })
    }

    fn deserialize_ignored_any<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, NotThat> {
        visitor.visit_unit()
    }

    forward_to_deserialize_any! {
        bool i8 i16 i32 i64 i128 u8 u16 u32 u64 u128 f32 f64 char str string bytes byte_buf unit unit_struct
        newtype_struct tuple_struct map identifier
    }
}

/// One of several kinds, under its name.
struct Named<'a> {
    name: &'a str,
    value: &'a Tree,
}

impl<'a> EnumAccess<'a> for Named<'a> {
    type Error = NotThat;
    type Variant = &'a Tree;

    fn variant_seed<V: DeserializeSeed<'a>>(
        self,
        seed: V,
    ) -> Result<(V::Value, &'a Tree), NotThat> {
        let name: StrDeserializer<NotThat> = self.name.into_deserializer();
        Ok((seed.deserialize(name)?, self.value))
    }
}

impl<'a> VariantAccess<'a> for &'a Tree {
    type Error = NotThat;

    fn unit_variant(self) -> Result<(), NotThat> {
        Err(NotThat)
    }

    fn newtype_variant_seed<T: DeserializeSeed<'a>>(self, seed: T) -> Result<T::Value, NotThat> {
        seed.deserialize(self)
    }

    fn tuple_variant<V: Visitor<'a>>(self, _: usize, _: V) -> Result<V::Value, NotThat> {
        Err(NotThat)
    }

    fn struct_variant<V: Visitor<'a>>(
        self,
        fields: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, NotThat> {
        self.deserialize_struct("", fields, visitor)
    }
}
