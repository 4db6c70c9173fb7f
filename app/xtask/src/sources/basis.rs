//! The four classes of what something rests on, read from a `Basis:` line.
//!
//! A line begins with its class; what follows is its note. A published one names its sources right behind the class, by
//! their names in the bibliography.

use evenrow_rules::source::Source;

/// The classes, in the order in which they are counted.
pub(super) const CLASSES: [Class; 4] = [
    Class::CommonPractice,
    Class::Published,
    Class::Geometry,
    Class::HouseDefault,
];

/// What a line must begin with; of the last three, what the class is called.
const STARTS: [(&str, Class); 6] = [
    (
        "common practice, no published source",
        Class::CommonPractice,
    ),
    ("published,", Class::Published),
    ("plane geometry", Class::Geometry),
    ("arithmetic", Class::Geometry),
    ("statistics", Class::Geometry),
    ("house default", Class::HouseDefault),
];

/// What stands behind a number or a statement.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Class {
    CommonPractice,
    Published,
    Geometry,
    HouseDefault,
}

impl Class {
    /// Its name in the file of the app.
    pub(super) const fn key(self) -> &'static str {
        match self {
            Class::CommonPractice => "common",
            Class::Published => "published",
            Class::Geometry => "geometry",
            Class::HouseDefault => "house",
        }
    }

    /// Its name in the terminal.
    pub(super) const fn name(self) -> &'static str {
        match self {
            Class::CommonPractice => "common practice, no published source",
            Class::Published => "published",
            Class::Geometry => "geometry",
            Class::HouseDefault => "house default",
        }
    }
}

/// What a line states.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Stated {
    pub(super) class: Class,
    /// The published ones.
    pub(super) sources: Vec<Source>,
    /// What the line says beyond its class; may be empty.
    pub(super) note: String,
}

impl Stated {
    /// Reads what stands behind `Basis:`.
    pub(super) fn read(line: &str) -> Result<Stated, String> {
        let begins = |(start, _): &&(&str, Class)| {
            line.strip_prefix(start)
                .is_some_and(|rest| !rest.starts_with(char::is_alphanumeric))
        };
        let Some(&(start, class)) = STARTS.iter().find(begins) else {
            let starts: Vec<_> = STARTS.iter().map(|(start, _)| *start).collect();
            return Err(format!(
                "the basis {line:?} begins with none of: {}",
                starts.join("; ")
            ));
        };
        let rest = &line[start.len()..];
        let (sources, note) = match class {
            Class::Published => named(rest)?,
            // Which of the kinds it is says more than the class.
            Class::Geometry if start != "plane geometry" => (Vec::new(), line),
            Class::Geometry | Class::CommonPractice | Class::HouseDefault => (Vec::new(), rest),
        };
        let note = note.trim_matches(|sign: char| ",;:.".contains(sign) || sign.is_whitespace());
        let within = note.strip_prefix('(').and_then(|it| it.strip_suffix(')'));
        Ok(Stated {
            class,
            sources,
            note: within.unwrap_or(note).to_string(),
        })
    }

    pub(super) fn with_note(self, change: impl Fn(&str) -> String) -> Stated {
        Stated {
            note: change(&self.note),
            ..self
        }
    }
}

/// The sources that a text begins with, and what follows them.
fn named(text: &str) -> Result<(Vec<Source>, &str), String> {
    let mut sources = Vec::new();
    let mut rest = text;
    while let Some(after) = next_source(rest) {
        let end = after.find('`').unwrap_or(after.len());
        sources.push(called(&after[..end])?);
        rest = after[end..].trim_start_matches('`');
    }
    if sources.is_empty() {
        return Err(format!(
            "the basis \"published,{text}\" names no source: write `Source::Name` behind the comma"
        ));
    }
    Ok((sources, rest))
}

/// What stands behind `Source::`, if nothing but a comma or "and" comes before it.
fn next_source(text: &str) -> Option<&str> {
    let text = text.trim_start();
    let text = text.strip_prefix("and ").unwrap_or(text);
    let text = text.strip_prefix(", ").unwrap_or(text);
    text.strip_prefix("`Source::")
}

/// The source of that name.
pub(super) fn called(name: &str) -> Result<Source, String> {
    let known = Source::ALL.into_iter().find(|it| key(*it) == name);
    known.ok_or_else(|| format!("the bibliography has no Source::{name}"))
}

/// A source's name, as the rules write it.
pub(super) fn key(source: Source) -> String {
    format!("{source:?}")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(line: &str, class: Class, sources: &[Source], note: &str) {
        let expect = Stated {
            class,
            sources: sources.to_vec(),
            note: note.to_string(),
        };
        assert_eq!(Stated::read(line), Ok(expect), "{line}");
    }

    #[test]
    fn each_class_is_read_with_what_follows_it() {
        check(
            "common practice, no published source.",
            Class::CommonPractice,
            &[],
            "",
        );
        check(
            "common practice, no published source, for 96 teeth.",
            Class::CommonPractice,
            &[],
            "for 96 teeth",
        );
        check("house default; weak.", Class::HouseDefault, &[], "weak");
        check(
            "house default for the lower end.",
            Class::HouseDefault,
            &[],
            "for the lower end",
        );
        check("plane geometry.", Class::Geometry, &[], "");
        check(
            "arithmetic: 304.8 mm exactly.",
            Class::Geometry,
            &[],
            "arithmetic: 304.8 mm exactly",
        );
        check("statistics.", Class::Geometry, &[], "statistics");
        check(
            "published, `Source::En590` (seen).",
            Class::Published,
            &[Source::En590],
            "seen",
        );
        check(
            "published, `Source::EquipmentOperator` and `Source::Trb2012`: 2.5 mm.",
            Class::Published,
            &[Source::EquipmentOperator, Source::Trb2012],
            "2.5 mm",
        );
    }

    #[test]
    fn what_fits_no_class_is_refused() {
        for line in [
            "",
            "as given.",
            "house defaults.",
            "common practice.",
            "the trade says so.",
            "published.",
            "published, EN 590.",
            "published, `Source::Hearsay`.",
            "published, as in `Source::En590`.",
        ] {
            assert!(Stated::read(line).is_err(), "{line}");
        }
    }
}
