//! The listing as text: for the terminal, and as the file that the app shows.
//!
//! The file has one line a thing, its parts set apart by tabs:
//!
//! ```text
//! group      id  title
//! number     id  value  sentence  class  sources  note
//! statement  id         sentence  class  sources  note
//! source     id  read   authors  title  published
//! ```
//!
//! Numbers and statements belong to the group above them. The rows of a table have `; ` between them. A class is one of `common`, `published`, `geometry`, `house`;
//! `sources` are ids with blanks between; `read` is `seen` or `memory`. What is English in it is the title, the value's
//! unit, the sentence and the note; a file of another language has the same ids.

use super::basis::{CLASSES, Class, Stated, key};
use super::{Entry, Group, Listing};
use evenrow_rules::source::{Read, Source};

impl Listing {
    fn numbers(&self) -> impl Iterator<Item = &Entry> {
        self.numbers.iter().flat_map(|group| &group.entries)
    }

    fn statements(&self) -> impl Iterator<Item = &Entry> {
        self.statements.iter().flat_map(|group| &group.entries)
    }
}

/// The whole of it, for a reader who scrolls.
pub(super) fn terminal(listing: &Listing) -> String {
    let groups = listing.numbers.iter().chain(&listing.statements);
    let mut parts: Vec<String> = groups.map(group).collect();
    parts.push("The bibliography".to_string());
    parts.extend(Source::ALL.into_iter().map(|it| source(listing, it)));
    parts.push(format!(
        "Numbers, {}.\nStatements, {}.",
        counted(listing.numbers()),
        counted(listing.statements())
    ));
    parts.join("\n\n") + "\n"
}

fn group(group: &Group) -> String {
    let entry = |entry: &Entry| {
        let value = match entry.value.as_str() {
            "" => String::new(),
            value => format!(" = {value}"),
        };
        let rests_on = rests_on(&entry.stated);
        format!(
            "\n  {}{value}\n    {}\n    {rests_on}",
            entry.id, entry.sentence
        )
    };
    let entries: Vec<_> = group.entries.iter().map(entry).collect();
    format!("{}: {}\n{}", group.id, group.title, entries.concat())
}

fn source(listing: &Listing, source: Source) -> String {
    let citation = source.citation();
    let read = match citation.read {
        Read::Seen => "seen",
        Read::FromMemory => "values from memory",
    };
    let names_it = |entry: &&Entry| entry.stated.sources.contains(&source);
    format!(
        "  {}: {}: {}. {} ({read})\n    behind {} of the numbers and {} of the statements",
        key(source),
        citation.authors,
        citation.title,
        citation.published,
        listing.numbers().filter(names_it).count(),
        listing.statements().filter(names_it).count(),
    )
}

/// How many there are, and how many of each class.
fn counted<'a>(entries: impl Iterator<Item = &'a Entry>) -> String {
    let classes: Vec<Class> = entries.map(|it| it.stated.class).collect();
    let count = |class: Class| classes.iter().filter(|it| **it == class).count();
    let each = CLASSES.map(|class| format!("{} {}", count(class), class.name()));
    format!("{}: {}", classes.len(), each.join("; "))
}

fn rests_on(stated: &Stated) -> String {
    let sources: Vec<_> = stated
        .sources
        .iter()
        .map(|it| it.citation().title)
        .collect();
    let parts = [stated.class.name(), &sources.join(" and "), &stated.note];
    let parts: Vec<_> = parts.into_iter().filter(|part| !part.is_empty()).collect();
    parts.join("; ")
}

/// The file of the app.
pub(super) fn file(listing: &Listing) -> String {
    let mut text = String::new();
    for group in listing.numbers.iter().chain(&listing.statements) {
        fields(&mut text, &["group", &group.id, &group.title]);
        for entry in &group.entries {
            let stated = &entry.stated;
            let sources: Vec<_> = stated.sources.iter().map(|it| key(*it)).collect();
            let sources = sources.join(" ");
            let common = [&entry.sentence, stated.class.key(), &sources, &stated.note];
            let own: &[&str] = match entry.value.as_str() {
                "" => &["statement", &entry.id],
                value => &["number", &entry.id, value],
            };
            fields(&mut text, &[own, &common].concat());
        }
    }
    for source in Source::ALL {
        let citation = source.citation();
        let read = match citation.read {
            Read::Seen => "seen",
            Read::FromMemory => "memory",
        };
        fields(
            &mut text,
            &[
                "source",
                &key(source),
                read,
                citation.authors,
                citation.title,
                citation.published,
            ],
        );
    }
    text
}

/// A tab or a new line inside a part would be taken for its end.
fn fields(text: &mut String, parts: &[&str]) {
    let parts: Vec<_> = parts
        .iter()
        .map(|part| part.replace(['\t', '\n'], " "))
        .collect();
    text.push_str(&parts.join("\t"));
    text.push('\n');
}
