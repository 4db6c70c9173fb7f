//! The service worker of the bundle: which version it is, and which files it keeps.

use super::bytes::{integrity, short_hex};
use super::{Bundle, PAGE};
use crate::Outcome;
use sha2::{Digest, Sha256};

const VERSION_LINE: &str = "const VERSION = 'unstamped';";
const FILES_LINE: &str = "const FILES = [];";

/// The worker for these files. Any change to a file or to the worker itself gives it another version.
pub(super) fn finished(template: &str, bundle: &Bundle) -> Outcome<String> {
    if !template.contains(VERSION_LINE) || !template.contains(FILES_LINE) {
        return Err(format!(
            "public/sw.js should hold the lines `{VERSION_LINE}` and `{FILES_LINE}`."
        ));
    }
    let mut rows = Vec::new();
    for (path, bytes) in bundle {
        rows.push(format!(
            "  ['{}', '{}'],\n",
            address(path)?,
            integrity(bytes)
        ));
    }
    let files = format!("const FILES = [\n{}];", rows.concat());
    let version = short_hex(&Sha256::digest(format!("{template}{files}")));
    Ok(template
        .replace(VERSION_LINE, &format!("const VERSION = '{version}';"))
        .replace(FILES_LINE, &files))
}

/// A file's address as seen from the worker. The page goes by its folder's, which no host redirects.
fn address(path: &str) -> Outcome<&str> {
    let plain = |letter: char| letter.is_ascii_alphanumeric() || "-_./".contains(letter);
    if path == PAGE {
        Ok("./")
    } else if path.chars().all(plain) {
        Ok(path)
    } else {
        Err(format!(
            "{path} has letters in its name that an address would change. Use a-z, 0-9, - and _."
        ))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const TEMPLATE: &str = "const VERSION = 'unstamped';\nconst FILES = [];\n";

    fn worker(template: &str, files: &[(&str, &str)]) -> Outcome<String> {
        let bundle = files
            .iter()
            .map(|(path, text)| (path.to_string(), text.as_bytes().to_vec()))
            .collect();
        finished(template, &bundle)
    }

    #[test]
    fn each_file_stands_with_its_sum_and_the_page_by_its_folder() {
        let worker =
            worker(TEMPLATE, &[("index.html", "abc"), ("words/en.txt", "")]).expect("a worker");
        assert!(worker.contains("['./', 'sha256-ungWv48Bz+pBQUDeXa4iI7ADYaOWF3qctBD/YfIAFa0='],"));
        assert!(worker.contains("['words/en.txt', 'sha256-"));
        assert!(!worker.contains("unstamped"));
    }

    #[test]
    fn a_change_to_the_worker_alone_is_another_version() {
        let changed = format!("{TEMPLATE}// changed\n");
        let version = |text: &str| text.lines().next().map(ToString::to_string);
        let before = worker(TEMPLATE, &[("a", "")]).expect("a worker");
        let after = worker(&changed, &[("a", "")]).expect("a worker");
        assert_ne!(version(&before), version(&after));
    }

    #[test]
    fn names_that_an_address_would_change_are_refused() {
        assert!(worker(TEMPLATE, &[("a b.txt", "")]).is_err());
        assert!(worker(TEMPLATE, &[("a'b.txt", "")]).is_err());
    }

    #[test]
    fn a_template_without_its_lines_is_refused() {
        assert!(worker("// empty", &[]).is_err());
    }
}
