//! The list of numbers, statements and sources that the build reads out of the rules, taken from its file.
//!
//! `app/xtask/src/sources/told.rs` writes the file and says what its lines hold. Never here: a number, or what it means.

/// All of it, in the order of the file.
#[derive(Debug, Default, PartialEq, Eq)]
pub struct Listing<'a> {
    /// The numbers, by the module that works with them.
    pub numbers: Vec<Group<'a>>,
    /// What rests on something without being a number, by kind.
    pub statements: Vec<Group<'a>>,
    /// The bibliography.
    pub sources: Vec<Source<'a>>,
}

/// What belongs together.
#[derive(Debug, PartialEq, Eq)]
pub struct Group<'a> {
    /// What it is about.
    pub title: &'a str,
    /// What it holds.
    pub entries: Vec<Entry<'a>>,
}

/// A number or a statement.
#[derive(Debug, PartialEq, Eq)]
pub struct Entry<'a> {
    /// Its name in the rules, by which a file of another language says it anew.
    pub id: &'a str,
    /// With its unit, the rows of a table set apart by `; `; empty for a statement.
    pub value: &'a str,
    /// What it is.
    pub sentence: &'a str,
    /// What it rests on.
    pub class: Class,
    /// The ids of the sources that it names, with blanks between.
    pub sources: &'a str,
    /// What else is to be said of its basis; may be empty.
    pub note: &'a str,
}

/// The classes of what something rests on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Class {
    /// Common practice; no published source.
    CommonPractice,
    /// A published source.
    Published,
    /// Geometry and arithmetic.
    Geometry,
    /// A house default.
    HouseDefault,
}

impl Class {
    /// Every class, in the order in which the app explains them.
    pub const ALL: [Class; 4] = [
        Class::CommonPractice,
        Class::Published,
        Class::Geometry,
        Class::HouseDefault,
    ];

    /// The class of that name in the file.
    fn named(name: &str) -> Option<Class> {
        match name {
            "common" => Some(Class::CommonPractice),
            "published" => Some(Class::Published),
            "geometry" => Some(Class::Geometry),
            "house" => Some(Class::HouseDefault),
            _ => None,
        }
    }
}

/// A published source.
#[derive(Debug, PartialEq, Eq)]
pub struct Source<'a> {
    /// By which entries name it.
    pub id: &'a str,
    /// Whether its numbers were read in it; else they are from memory.
    pub seen: bool,
    /// Who wrote it.
    pub authors: &'a str,
    /// Its title.
    pub title: &'a str,
    /// Who published it and when.
    pub published: &'a str,
}

impl<'a> Listing<'a> {
    /// Reads the file. A line of a kind that this version does not know is passed over; a file without any number is none.
    pub fn read(file: &'a str) -> Option<Listing<'a>> {
        let mut listing = Listing::default();
        let mut title = "";
        for line in file.lines() {
            let parts: Vec<&str> = line.split('\t').collect();
            match parts[..] {
                ["group", _, its_title] => title = its_title,
                ["number", id, value, ref rest @ ..] => {
                    take(&mut listing.numbers, title, id, value, rest);
                }
                ["statement", id, ref rest @ ..] => {
                    take(&mut listing.statements, title, id, "", rest);
                }
                ["source", id, read, authors, title, published] => listing.sources.push(Source {
                    id,
                    seen: read == "seen",
                    authors,
                    title,
                    published,
                }),
                _ => {}
            }
        }
        (!listing.numbers.is_empty()).then_some(listing)
    }

    /// How many numbers there are, and how many of them are of a class.
    pub fn count(&self, class: Class) -> (usize, usize) {
        let numbers = || self.numbers.iter().flat_map(|group| &group.entries);
        let of_class = numbers().filter(|it| it.class == class).count();
        (numbers().count(), of_class)
    }

    /// The sources that an entry names.
    pub fn sources_of(&self, entry: &Entry) -> impl Iterator<Item = &Source<'a>> {
        let by_id = |id| self.sources.iter().find(|it| it.id == id);
        entry.sources.split(' ').filter_map(by_id)
    }
}

/// Adds an entry to the group of that title, which is the last one or a new one.
fn take<'a>(
    groups: &mut Vec<Group<'a>>,
    title: &'a str,
    id: &'a str,
    value: &'a str,
    rest: &[&'a str],
) {
    let &[sentence, class, sources, note] = rest else {
        return;
    };
    let Some(class) = Class::named(class) else {
        return;
    };
    let entry = Entry {
        id,
        value,
        sentence,
        class,
        sources,
        note,
    };
    match groups.last_mut() {
        Some(group) if group.title == title => group.entries.push(entry),
        Some(_) | None => groups.push(Group {
            title,
            entries: vec![entry],
        }),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const FILE: &str = "group\toiling\tWhen the sockets fall due\n\
        number\toiling::LATE_AFTER\t10 min\tLate after this.\thouse\t\tweak\n\
        number\tcold::LIMIT\t55 °C\tIt burns above this.\tpublished\tA B\t\n\
        riddle\twhat\tis\tthis\n\
        group\tsetup::Reason\tWhy a line says what it says\n\
        statement\tsetup::Reason::OilDaily\tAt least once a day.\tcommon\t\t\n\
        source\tA\tseen\tWho\tA book\t1999\n\
        source\tB\tmemory\tWhose\tAnother\t2001\n";

    #[test]
    fn numbers_statements_and_sources_are_told_apart() {
        let listing = Listing::read(FILE).unwrap();
        let groups = |groups: &[Group<'static>]| -> Vec<_> {
            let group = |it: &Group<'static>| (it.title, it.entries.len());
            groups.iter().map(group).collect()
        };
        assert_eq!(groups(&listing.numbers), [("When the sockets fall due", 2)]);
        assert_eq!(
            groups(&listing.statements),
            [("Why a line says what it says", 1)]
        );
        assert_eq!(listing.count(Class::HouseDefault), (2, 1));
        assert_eq!(listing.count(Class::CommonPractice), (2, 0));
    }

    #[test]
    fn an_entry_keeps_its_value_sentence_and_basis() {
        let listing = Listing::read(FILE).unwrap();
        let late = &listing.numbers[0].entries[0];
        assert_eq!((late.value, late.sentence), ("10 min", "Late after this."));
        assert_eq!((late.class, late.note), (Class::HouseDefault, "weak"));
        let limit = &listing.numbers[0].entries[1];
        let sources: Vec<_> = listing
            .sources_of(limit)
            .map(|it| (it.title, it.seen))
            .collect();
        assert_eq!(sources, [("A book", true), ("Another", false)]);
    }

    #[test]
    fn a_file_that_holds_no_number_is_none() {
        for file in ["", "<!doctype html>", "group\ta\tA\n"] {
            assert_eq!(Listing::read(file), None, "{file}");
        }
    }
}
