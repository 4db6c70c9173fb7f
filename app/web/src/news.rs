//! What is new, as the file that comes with the app says it; and the licences, as the build wrote them down.
//!
//! `public/news/en.txt` and `app/xtask/src/licences.rs` say what their lines hold. Never here: what a line means.

/// What one version has brought.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Section {
    /// The day, by which the phone remembers what was read.
    pub day: String,
    /// One thing a line.
    pub lines: Vec<String>,
}

/// All of it, the newest first.
pub fn read(file: &str) -> Vec<Section> {
    let mut sections: Vec<Section> = Vec::new();
    for line in file.lines().filter(|line| !line.starts_with('#')) {
        if let Some(day) = line.strip_prefix("== ") {
            sections.push(Section {
                day: day.to_owned(),
                lines: Vec::new(),
            });
        } else if let Some(section) = sections.last_mut().filter(|_| !line.is_empty()) {
            section.lines.push(line.to_owned());
        }
    }
    sections
}

/// What was added since this day was read. Of a phone that has never read any, only the newest is told: the rest it has
/// seen come.
pub fn since(mut sections: Vec<Section>, day: Option<&str>) -> Vec<Section> {
    let known = sections.iter().position(|it| Some(it.day.as_str()) == day);
    sections.truncate(known.unwrap_or(1));
    sections
}

/// The terms of a licence in full, with the works that stand under it.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Terms<'a> {
    /// The works, each with its version, the licences that it names, and where it comes from.
    pub works: Vec<[&'a str; 4]>,
    /// Whether the works bring the text along; else it is the usual one.
    pub own: bool,
    /// Line by line.
    pub lines: Vec<&'a str>,
}

/// The terms in the file of the licences. A line of a kind that this version does not know is passed over.
pub fn licences(file: &str) -> Vec<Terms<'_>> {
    let mut terms: Vec<Terms> = Vec::new();
    let mut works = Vec::new();
    for line in file.lines() {
        let parts: Vec<&str> = line.split('\t').collect();
        match parts[..] {
            ["work", name, version, expression, address, numbers] => {
                works.push(([name, version, expression, address], numbers));
            }
            ["text", number, whose] => {
                let covered = |numbers: &str| numbers.split(' ').any(|it| it == number);
                let covered = works.iter().filter(|(_, numbers)| covered(numbers));
                terms.push(Terms {
                    works: covered.map(|(work, _)| *work).collect(),
                    own: whose == "own",
                    lines: Vec::new(),
                });
            }
            ["", ..] => {
                if let Some(terms) = terms.last_mut() {
                    terms.lines.push(&line[1..]);
                }
            }
            _ => {}
        }
    }
    terms
}

#[cfg(test)]
mod tests {
    use super::*;

    const NEWS: &str = "# why\n== 2026-03-01\nA.\nB.\n\n== 2026-02-01\nC.\n== 2026-01-01\nD.\n";

    fn told(day: Option<&str>) -> Vec<String> {
        since(read(NEWS), day)
            .into_iter()
            .flat_map(|it| it.lines)
            .collect()
    }

    #[test]
    fn what_was_added_since_is_told_and_nothing_twice() {
        assert_eq!(told(Some("2026-03-01")), [""; 0]);
        assert_eq!(told(Some("2026-01-01")), ["A.", "B.", "C."]);
    }

    #[test]
    fn a_phone_that_never_read_any_is_told_the_newest_only() {
        assert_eq!(told(None), ["A.", "B."]);
        assert_eq!(told(Some("yesterday")), ["A.", "B."]);
        assert_eq!(since(read(""), None), []);
    }

    #[test]
    fn the_news_of_every_language_are_of_the_same_days() {
        let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/../../public/news");
        let english = read(include_str!("../../../public/news/en.txt"));
        assert!(!english.is_empty() && english.iter().all(|it| !it.lines.is_empty()));
        assert!(
            english.is_sorted_by(|a, b| a.day > b.day),
            "the newest stands first"
        );
        for file in std::fs::read_dir(folder).unwrap() {
            let path = file.unwrap().path();
            let news = read(&std::fs::read_to_string(&path).unwrap());
            let days = |news: &[Section]| {
                news.iter()
                    .map(|it| (it.day.clone(), it.lines.len()))
                    .collect::<Vec<_>>()
            };
            assert_eq!(days(&news), days(&english), "{}", path.display());
        }
    }

    #[test]
    fn terms_are_told_with_the_works_under_them() {
        let file = "work\ta\t1\tMIT\thttps://a\t1 2\nwork\tb\t2\tMIT\t\t2\nriddle\t1\n\
            text\t1\tusual\n\tOne.\n\t\n\tTwo.\ntext\t2\town\n\tThree.\n";
        let terms = licences(file);
        assert_eq!(terms[0].works, [["a", "1", "MIT", "https://a"]]);
        assert_eq!(
            (terms[0].own, &terms[0].lines[..]),
            (false, &["One.", "", "Two."][..])
        );
        assert_eq!(terms[1].works.len(), 2);
        assert!(licences("<!doctype html>").is_empty());
    }
}
