//! One style sheet out of the many files of style/.

use crate::{Outcome, project};
use std::path::Path;

const FIRST: [&str; 2] = ["tokens.css", "base.css"];
const THEN: [&str; 2] = ["parts/", "screens/"];

/// The sheet that the page links: roles first, then the ground rules, then parts, then screens.
pub(super) fn bundled(folder: &Path) -> Outcome<String> {
    let mut sheet = String::new();
    for name in in_order(&project::files_below(folder)?)? {
        sheet.push_str(&without_comments(&project::read_text(&folder.join(name))?));
    }
    Ok(sheet)
}

/// The order of the files; a file that has no place in it is refused rather than left out in silence.
fn in_order(names: &[String]) -> Outcome<Vec<&str>> {
    let mut order: Vec<&str> = Vec::new();
    for first in FIRST {
        if !names.iter().any(|name| name == first) {
            return Err(format!(
                "style/{first} is missing; every other style leans on it."
            ));
        }
        order.push(first);
    }
    for folder in THEN {
        let mut inside: Vec<_> = names
            .iter()
            .map(String::as_str)
            .filter(|name| name.starts_with(folder))
            .collect();
        inside.sort_unstable();
        order.extend(inside);
    }
    let stray = names
        .iter()
        .find(|name| !order.contains(&name.as_str()) || project::extension(name) != "css");
    match stray {
        None => Ok(order),
        Some(name) => Err(format!(
            "style/{name} would not be bundled: styles are {} and the .css files of {}.",
            FIRST.join(", "),
            THEN.join(" and ")
        )),
    }
}

/// The text without comments and empty lines; a comment sign inside quotes is no comment.
fn without_comments(css: &str) -> String {
    let mut kept = String::with_capacity(css.len());
    let mut rest = css;
    while let Some(at) = rest.find(['"', '\'', '/']) {
        let (before, after) = rest.split_at(at);
        kept.push_str(before);
        let length = match after.as_bytes() {
            [b'/', b'*', ..] => {
                rest = after.split_once("*/").map_or("", |(_, after)| after);
                continue;
            }
            [b'/', ..] => 1,
            quoted => end_of_quote(quoted),
        };
        kept.push_str(&after[..length]);
        rest = &after[length..];
    }
    kept.push_str(rest);
    let lines = kept.lines().map(str::trim).filter(|line| !line.is_empty());
    lines.fold(String::new(), |text, line| text + line + "\n")
}

/// How many bytes the quoted text takes that starts here, both quotes counted.
fn end_of_quote(quoted: &[u8]) -> usize {
    let mut at = 1;
    while at < quoted.len() && quoted[at] != quoted[0] {
        at += if quoted[at] == b'\\' { 2 } else { 1 };
    }
    quoted.len().min(at + 1)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn names(names: &[&str]) -> Vec<String> {
        names.iter().map(ToString::to_string).collect()
    }

    #[test]
    fn roles_come_first_and_screens_last() {
        let found = names(&[
            "base.css",
            "parts/b.css",
            "parts/a.css",
            "screens/a.css",
            "tokens.css",
        ]);
        let order = in_order(&found).expect("an order");
        assert_eq!(
            order,
            [
                "tokens.css",
                "base.css",
                "parts/a.css",
                "parts/b.css",
                "screens/a.css"
            ]
        );
    }

    #[test]
    fn a_missing_or_stray_file_is_named() {
        assert!(in_order(&names(&["base.css"])).is_err_and(|said| said.contains("tokens.css")));
        assert!(
            in_order(&names(&["base.css", "tokens.css", "odd.css"]))
                .is_err_and(|said| said.contains("odd.css"))
        );
        assert!(in_order(&names(&["base.css", "tokens.css", "parts/notes.md"])).is_err());
    }

    #[test]
    fn comments_go_and_quotes_stay() {
        let css = "/* why */\na::before { content: \"/* \\\" \"; } /* b */\n\nb { inset: 1 / 2; }\n/* open";
        assert_eq!(
            without_comments(css),
            "a::before { content: \"/* \\\" \"; }\nb { inset: 1 / 2; }\n"
        );
    }
}
