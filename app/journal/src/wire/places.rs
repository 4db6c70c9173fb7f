//! What stands in the places of a list: how it is written, and how it is read.
//!
//! A value takes one place or several that follow each other. What is not known is null. Never here: what stands in a
//! record.

use core::fmt::Write;
use std::borrow::Cow;
use std::vec;

use super::tree::{Named, Tree};

/// What can stand in a record.
pub(super) trait Wire: Sized {
    /// Writes it at the end of a line.
    fn write(&self, line: &mut Line);

    /// Reads it from the places that come next; none if something else stands there.
    fn read(places: &mut Places) -> Option<Self>;
}

/// What stands in a list by itself, one beside the other.
pub(super) trait Member: Wire {}

/// A line of JSON that is being written.
#[derive(Default)]
pub(super) struct Line(String);

impl Line {
    /// The line as it stands.
    pub(super) fn finish(self) -> String {
        self.0
    }

    /// Begins a list.
    pub(super) fn open(&mut self) {
        self.next();
        self.0.push('[');
    }

    /// Ends it.
    pub(super) fn close(&mut self) {
        self.0.push(']');
    }

    /// What is not known.
    pub(super) fn nothing(&mut self) {
        self.word("null");
    }

    /// A text in quotes.
    pub(super) fn text(&mut self, text: &str) {
        self.next();
        quote(text, &mut self.0);
    }

    /// A list of its own for these.
    pub(super) fn all<T: Wire>(&mut self, all: &[T]) {
        self.open();
        for one in all {
            one.write(self);
        }
        self.close();
    }

    fn word(&mut self, word: &str) {
        self.next();
        self.0.push_str(word);
    }

    fn whole(&mut self, number: i64) {
        self.next();
        // A text takes whatever is written to it.
        let _ = write!(self.0, "{number}");
    }

    /// Nothing but the opening of a list ends in its sign: a text ends in its quotes.
    fn next(&mut self) {
        if !self.0.is_empty() && !self.0.ends_with('[') {
            self.0.push(',');
        }
    }
}

/// What JSON writes in two signs, with the second of them.
const IN_TWO_SIGNS: [(char, char); 7] = [
    ('"', '"'),
    ('\\', '\\'),
    ('\u{8}', 'b'),
    ('\t', 't'),
    ('\n', 'n'),
    ('\u{c}', 'f'),
    ('\r', 'r'),
];

/// A text as JSON writes it: RFC 8259, section 7, <https://www.rfc-editor.org/rfc/rfc8259#section-7>.
pub(super) fn quote(text: &str, line: &mut String) {
    line.push('"');
    for letter in text.chars() {
        let two = IN_TWO_SIGNS.iter().find(|(sign, _)| *sign == letter);
        if let Some((_, second)) = two {
            line.push('\\');
            line.push(*second);
        } else if letter < ' ' {
            let _ = write!(line, "\\u{:04x}", u32::from(letter));
        } else {
            line.push(letter);
        }
    }
    line.push('"');
}

/// The places of a list that were not read yet.
pub(super) struct Places<'a> {
    rest: vec::IntoIter<Tree<'a>>,
    /// Structures within it are objects, as versions 1 and 2 wrote them.
    named: bool,
}

impl<'a> Places<'a> {
    /// Of a list.
    pub(super) fn of(list: Vec<Tree<'a>>) -> Places<'a> {
        Places {
            rest: list.into_iter(),
            named: false,
        }
    }

    /// Of an object that was put in order.
    pub(super) fn named(list: Vec<Tree<'a>>) -> Places<'a> {
        Places {
            named: true,
            ..Places::of(list)
        }
    }

    /// Whether they are those of an object.
    pub(super) fn are_named(&self) -> bool {
        self.named
    }

    /// A text.
    pub(super) fn text(&mut self) -> Option<Cow<'a, str>> {
        let Tree::Text(text) = self.rest.next()? else {
            return None;
        };
        Some(text)
    }

    /// A list of its own.
    pub(super) fn list(&mut self) -> Option<Places<'a>> {
        let Tree::List(list) = self.rest.next()? else {
            return None;
        };
        Some(Places {
            rest: list.into_iter(),
            named: self.named,
        })
    }

    /// A list of its own for a structure whose fields once had names.
    pub(super) fn structure(&mut self, names: &str) -> Option<Places<'a>> {
        if !self.named {
            return self.list();
        }
        let Tree::Fields(fields) = self.rest.next()? else {
            return None;
        };
        in_order(fields, names).map(Places::named)
    }

    /// A list of its own, all of whose places hold the same.
    pub(super) fn all<T: Wire>(&mut self) -> Option<Vec<T>> {
        let mut inside = self.list()?;
        let mut all = Vec::new();
        while !inside.rest.as_slice().is_empty() {
            all.push(T::read(&mut inside)?);
        }
        Some(all)
    }

    /// Whether nothing is known of what comes next; then that is passed.
    pub(super) fn has_nothing(&mut self) -> bool {
        let nothing = matches!(self.rest.as_slice().first(), Some(Tree::Nothing));
        if nothing {
            self.rest.next();
        }
        nothing
    }

    /// That there are no more.
    pub(super) fn end(&mut self) -> Option<()> {
        self.rest.next().is_none().then_some(())
    }

    fn whole(&mut self) -> Option<i64> {
        match self.rest.next()? {
            Tree::Count(count) => count.try_into().ok(),
            Tree::Below(below) => Some(below),
            Tree::Nothing
            | Tree::Truth(_)
            | Tree::Fraction
            | Tree::Text(_)
            | Tree::List(_)
            | Tree::Fields(_) => None,
        }
    }
}

/// The fields of an object in the order of these names, with nothing where one is missing; none if it has a field of
/// another name, or one twice.
pub(super) fn in_order<'a>(mut fields: Vec<Named<'a>>, names: &str) -> Option<Vec<Tree<'a>>> {
    let list = names
        .split(',')
        .map(|name| {
            let at = fields.iter().position(|(known, _)| known == name);
            at.map_or(Tree::Nothing, |at| fields.swap_remove(at).1)
        })
        .collect();
    fields.is_empty().then_some(list)
}

macro_rules! whole_numbers {
    ($($number:ident)+) => { $(
        impl Wire for $number {
            fn write(&self, line: &mut Line) {
                line.whole((*self).into());
            }

            fn read(places: &mut Places) -> Option<$number> {
                $number::try_from(places.whole()?).ok()
            }
        }
    )+ };
}

whole_numbers! { u8 u16 u32 i16 i32 i64 }

impl Wire for u64 {
    fn write(&self, line: &mut Line) {
        line.next();
        let _ = write!(line.0, "{self}");
    }

    fn read(places: &mut Places) -> Option<u64> {
        let Tree::Count(count) = places.rest.next()? else {
            return None;
        };
        Some(count)
    }
}

impl Wire for bool {
    fn write(&self, line: &mut Line) {
        line.word(if *self { "true" } else { "false" });
    }

    fn read(places: &mut Places) -> Option<bool> {
        let Tree::Truth(truth) = places.rest.next()? else {
            return None;
        };
        Some(truth)
    }
}

impl Wire for String {
    fn write(&self, line: &mut Line) {
        line.text(self);
    }

    fn read(places: &mut Places) -> Option<String> {
        places.text().map(Cow::into_owned)
    }
}

impl<T: Wire> Wire for Option<T> {
    fn write(&self, line: &mut Line) {
        match self {
            Some(known) => known.write(line),
            None => line.nothing(),
        }
    }

    fn read(places: &mut Places) -> Option<Option<T>> {
        if places.has_nothing() {
            return Some(None);
        }
        T::read(places).map(Some)
    }
}

/// Two, in a list of their own.
impl<A: Wire, B: Wire> Wire for (A, B) {
    fn write(&self, line: &mut Line) {
        line.open();
        self.0.write(line);
        self.1.write(line);
        line.close();
    }

    fn read(places: &mut Places) -> Option<(A, B)> {
        let mut inside = places.list()?;
        let pair = (A::read(&mut inside)?, B::read(&mut inside)?);
        inside.end()?;
        Some(pair)
    }
}

impl<T: Member> Wire for Vec<T> {
    fn write(&self, line: &mut Line) {
        line.all(self);
    }

    fn read(places: &mut Places) -> Option<Vec<T>> {
        places.all()
    }
}
