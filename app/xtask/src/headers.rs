//! `_headers`: what a static host is to say with each file, in the form that several of them read: a line with the path,
//! and under it, indented, the headers. A page can ask for most of it itself, but not that nobody frames it.
//!
//! `build` writes it and `host` obeys it, so that every story is told under the headers that a real host sends.

use crate::{Outcome, project};
use std::path::Path;

/// Its name in the built app.
pub(crate) const FILE: &str = "_headers";

/// Writes it into a folder with the built app.
pub(crate) fn write(dist: &Path) -> Outcome {
    let page = project::read_text(&dist.join("index.html"))?;
    let files = project::files_below(dist)?;
    let policy = policy(&page).ok_or("the page has no policy to repeat in its headers.")?;
    project::write(&dist.join(FILE), text(policy, &files).as_bytes())
}

/// The policy that the page states itself.
fn policy(page: &str) -> Option<&str> {
    let (_, after) = page.split_once("http-equiv=\"Content-Security-Policy\" content=\"")?;
    after.split_once('"').map(|(policy, _)| policy)
}

fn text(policy: &str, files: &[String]) -> String {
    let all = format!(
        "/*\n  Content-Security-Policy: {policy}; frame-ancestors 'none'\n  X-Frame-Options: DENY\n  \
         X-Content-Type-Options: nosniff\n  Referrer-Policy: no-referrer\n  \
         Cross-Origin-Opener-Policy: same-origin\n/\n  Cache-Control: no-cache\n"
    );
    let each = |file: &String| {
        let name = file.rsplit('/').next().unwrap_or(file);
        format!("/{file}\n  Cache-Control: {}\n", cache_control(name))
    };
    let files = files.iter().filter(|file| *file != FILE).map(each);
    std::iter::once(all).chain(files).collect()
}

/// How long a file may be kept: one whose name changes with its bytes for ever.
pub(crate) fn cache_control(name: &str) -> &'static str {
    if crate::stamp::carries_its_hash(name) {
        "public, max-age=31536000, immutable"
    } else {
        "no-cache"
    }
}

/// The headers that the text gives to a path.
pub(crate) fn of(text: &str, path: &str) -> Vec<(String, String)> {
    let mut applies = false;
    let mut found = Vec::new();
    for line in text.lines() {
        if let Some(header) = line.strip_prefix("  ") {
            let header = header.split_once(": ").filter(|_| applies);
            found.extend(header.map(|(name, value)| (name.to_string(), value.to_string())));
        } else {
            applies = line == path
                || line
                    .strip_suffix('*')
                    .is_some_and(|start| path.starts_with(start));
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    const HASHED: &str = "app-0123456789abcdef.wasm";

    fn all() -> String {
        let files = ["index.html", "sw.js", HASHED].map(str::to_string);
        text("default-src 'none'", &files)
    }

    fn value(path: &str, name: &str) -> Option<String> {
        let found = of(&all(), path);
        let mut values = found.into_iter().filter(|(it, _)| it == name);
        let value = values.next().map(|(_, value)| value);
        assert_eq!(values.next(), None, "{path} is told {name} twice");
        value
    }

    #[test]
    fn nobody_may_frame_any_file_and_every_file_is_bound_by_the_policy_of_the_page() {
        for path in ["/", "/index.html", "/sw.js", "/anything"] {
            let policy = value(path, "Content-Security-Policy");
            let expected = "default-src 'none'; frame-ancestors 'none'";
            assert_eq!(policy.as_deref(), Some(expected), "{path}");
            assert_eq!(value(path, "X-Frame-Options").as_deref(), Some("DENY"));
        }
    }

    #[test]
    fn the_page_and_the_worker_are_asked_for_each_time_and_hashed_names_are_kept() {
        for path in ["/", "/index.html", "/sw.js"] {
            assert_eq!(value(path, "Cache-Control").as_deref(), Some("no-cache"));
        }
        let hashed = value(&format!("/{HASHED}"), "Cache-Control");
        assert!(hashed.is_some_and(|it| it.contains("immutable")));
    }

    #[test]
    fn the_policy_is_the_one_that_stands_in_the_page() {
        let page = r#"<meta http-equiv="Content-Security-Policy" content="default-src 'none'">"#;
        assert_eq!(policy(page), Some("default-src 'none'"));
        assert_eq!(policy("<p>"), None);
    }
}
