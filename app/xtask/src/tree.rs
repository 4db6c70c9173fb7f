//! The text that the chores look at: the project's own files, as git knows them.

use super::rust_text::RustText;
use crate::{Outcome, project, run};
use std::fmt;
use std::path::Path;
use std::process::Command;

/// Folders that hold what was made, for a copy of the project that git does not know.
const MADE: [&str; 4] = [".git", "target", "dist", "node_modules"];

/// Every file of the project; binary ones with an empty text.
pub(super) struct Tree {
    pub(super) files: Vec<File>,
}

pub(super) struct File {
    pub(super) path: String,
    pub(super) text: String,
    rust: Option<RustText>,
}

/// A place where something is not as it should be.
pub(super) struct Finding {
    path: String,
    line: usize,
    what: String,
}

impl fmt::Display for Finding {
    fn fmt(&self, to: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(to, "{}:{}: {}", self.path, self.line, self.what)
    }
}

impl Tree {
    pub(super) fn of_project(root: &Path) -> Outcome<Tree> {
        let mut git = Command::new("git");
        git.args(["ls-files", "--cached", "--others", "--exclude-standard"])
            .current_dir(root);
        let paths = match run::answer(&mut git) {
            Some(listed) => listed.lines().map(ToString::to_string).collect(),
            None => project::files_below_except(root, &MADE)?,
        };
        // Git lists a file until its removal is recorded.
        let standing = paths.into_iter().filter(|path| root.join(path).is_file());
        let mut files = Vec::new();
        for path in standing {
            let bytes = project::read(&root.join(&path))?;
            files.push(File::new(
                path,
                String::from_utf8(bytes).unwrap_or_default(),
            ));
        }
        Ok(Tree { files })
    }

    #[cfg(test)]
    pub(super) fn of(files: &[(&str, &str)]) -> Tree {
        let files = files
            .iter()
            .map(|(path, text)| File::new(path.to_string(), text.to_string()))
            .collect();
        Tree { files }
    }

    pub(super) fn text_of(&self, path: &str) -> Option<&str> {
        self.files
            .iter()
            .find(|file| file.path == path)
            .map(|file| file.text.as_str())
    }

    /// The Rust files among those that `chosen` takes by path.
    pub(super) fn rust(
        &self,
        chosen: impl Fn(&str) -> bool,
    ) -> impl Iterator<Item = (&File, &RustText)> {
        let chosen = self.files.iter().filter(move |file| chosen(&file.path));
        chosen.filter_map(|file| file.rust.as_ref().map(|rust| (file, rust)))
    }
}

impl File {
    fn new(path: String, text: String) -> File {
        let rust = (project::extension(&path) == "rs").then(|| RustText::of(&path, &text));
        File { path, text, rust }
    }

    pub(super) fn finding(&self, offset: usize, what: impl Into<String>) -> Finding {
        let line = self.text[..offset].matches('\n').count() + 1;
        Finding {
            path: self.path.clone(),
            line,
            what: what.into(),
        }
    }
}

/// Where a word stands in a text with no letter, digit or underscore directly before it, nor after it if the word ends
/// in one itself.
pub(super) fn places_of(text: &str, word: &str) -> Vec<usize> {
    let joins =
        |byte: Option<&u8>| byte.is_some_and(|byte| byte.is_ascii_alphanumeric() || *byte == b'_');
    let bytes = text.as_bytes();
    let ends_open = joins(word.as_bytes().last());
    text.match_indices(word)
        .map(|(at, _)| at)
        .filter(|at| !joins(at.checked_sub(1).and_then(|before| bytes.get(before))))
        .filter(|at| !(ends_open && joins(bytes.get(at + word.len()))))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_word_is_found_whole_and_not_inside_another() {
        assert_eq!(
            places_of("a unsafe b unsafe_code not_unsafe", "unsafe"),
            [2]
        );
        assert_eq!(places_of("std::x no_std::y", "std::"), [0]);
    }

    #[test]
    fn a_finding_counts_lines_from_one() {
        let tree = Tree::of(&[("a.css", "one\ntwo")]);
        assert_eq!(tree.files[0].finding(0, "x").to_string(), "a.css:1: x");
        assert_eq!(tree.files[0].finding(5, "x").to_string(), "a.css:2: x");
    }
}
