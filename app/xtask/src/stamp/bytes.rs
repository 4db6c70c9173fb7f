//! Names made from bytes, so that a name never stands for two contents.

use super::{Bundle, PAGE};
use crate::{Outcome, project};
use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use sha2::{Digest, Sha256};

const HASH_DIGITS: usize = 16;

/// Sixteen hexadecimal digits of a sum: enough for a name.
pub(crate) fn short_hex(sum: &[u8]) -> String {
    let start = sum.iter().take(HASH_DIGITS / 2);
    start.fold(String::new(), |text, byte| format!("{text}{byte:02x}"))
}

/// One short sum of every file with its name.
pub(super) fn sum_of_all(bundle: &Bundle) -> String {
    let mut sum = Sha256::new();
    for (path, bytes) in bundle {
        sum.update(Sha256::digest(path));
        sum.update(Sha256::digest(bytes));
    }
    short_hex(&sum.finalize())
}

/// A sum as browsers want it in integrity attributes and content policies.
pub(super) fn integrity(bytes: &[u8]) -> String {
    format!("sha256-{}", STANDARD.encode(Sha256::digest(bytes)))
}

/// `style.css` becomes `style-0123456789abcdef.css`, by the bytes it holds.
pub(super) fn name_by_bytes(name: &str, bytes: &[u8]) -> String {
    let sum = short_hex(&Sha256::digest(bytes));
    match name.rsplit_once('.') {
        Some((stem, extension)) => format!("{stem}-{sum}.{extension}"),
        None => format!("{name}-{sum}"),
    }
}

/// Whether a file's name has the form that [`name_by_bytes`] gives; such a file may be cached for ever.
pub(crate) fn carries_its_hash(name: &str) -> bool {
    let stem = name.rsplit_once('.').map_or(name, |(stem, _)| stem);
    stem.rsplit_once('-').is_some_and(|(_, hash)| is_hash(hash))
}

fn is_hash(text: &str) -> bool {
    text.len() == HASH_DIGITS
        && text
            .bytes()
            .all(|byte| matches!(byte, b'0'..=b'9' | b'a'..=b'f'))
}

/// Renames the scripts and the wasm that Trunk wrote, inner ones first, as a renamed file changes whoever mentions it.
pub(super) fn rename_by_bytes(bundle: &mut Bundle) -> Outcome {
    let wasm = only(bundle, |path| path.ends_with("_bg.wasm"), "wasm")?;
    let stem = wasm.trim_end_matches("_bg.wasm").to_string();
    let glue = only(
        bundle,
        |path| **path == format!("{stem}.js"),
        "script that loads the wasm",
    )?;
    let plain = match stem.rsplit_once('-') {
        Some((plain, hash)) if is_hash(hash) => plain.to_string(),
        Some(_) | None => stem,
    };

    let snippets: Vec<_> = bundle
        .keys()
        .filter(|path| path.starts_with("snippets/"))
        .cloned()
        .collect();
    for snippet in snippets {
        if mentions(&bundle[&glue], &snippet) {
            rename(bundle, &snippet, &snippet);
        } else {
            // Trunk brings along what earlier builds left behind, and asks browsers to load it.
            bundle.remove(&snippet);
            if let Some(page) = bundle.get_mut(PAGE) {
                *page = without_link_to(&String::from_utf8_lossy(page), &snippet).into_bytes();
            }
        }
    }
    rename(bundle, &wasm, &format!("{plain}.wasm"));
    rename(bundle, &glue, &format!("{plain}.js"));
    Ok(())
}

/// The page without the link elements that name the path.
fn without_link_to(page: &str, path: &str) -> String {
    let mut parts = page.split("<link");
    let start = parts.next().unwrap_or_default().to_string();
    parts.fold(start, |kept, part| match part.split_once('>') {
        Some((link, after)) if link.contains(path) => kept + after,
        Some(_) | None => kept + "<link" + part,
    })
}

fn only(bundle: &Bundle, wanted: impl Fn(&&String) -> bool, what: &str) -> Outcome<String> {
    let found: Vec<_> = bundle.keys().filter(wanted).collect();
    match found.as_slice() {
        [one] => Ok((*one).clone()),
        others => Err(format!(
            "the bundle should hold one {what}, and holds {}.",
            others.len()
        )),
    }
}

fn mentions(bytes: &[u8], path: &str) -> bool {
    String::from_utf8_lossy(bytes).contains(path)
}

/// Moves a file to a name made from its bytes, and follows in the page and in every script that imports it.
fn rename(bundle: &mut Bundle, path: &str, plain: &str) {
    let Some(bytes) = bundle.remove(path) else {
        return;
    };
    let new = name_by_bytes(plain, &bytes);
    bundle.insert(new.clone(), bytes);
    for (other, bytes) in bundle.iter_mut() {
        let Ok(text) = std::str::from_utf8(bytes) else {
            continue;
        };
        match project::extension(other) {
            "html" => *bytes = text.replace(path, &new).into_bytes(),
            "js" => *bytes = with_imports_renamed(text, path, &new).into_bytes(),
            _ => {}
        }
    }
}

/// Only lines that import follow: the table that a script hands to the wasm is keyed by the names of before, which
/// stand in the wasm too.
fn with_imports_renamed(script: &str, path: &str, new: &str) -> String {
    let renamed = |line: &str| {
        if line.starts_with("import ") {
            line.replace(path, new)
        } else {
            line.to_string()
        }
    };
    script.split_inclusive('\n').map(renamed).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_by_bytes_is_known_as_such_and_others_are_not() {
        assert!(carries_its_hash(&name_by_bytes("style.css", b"a{}")));
        for name in [
            "index.html",
            "boot.js",
            "icon-maskable-512.png",
            "a-0123456789ABCDEF.js",
            "-.js",
        ] {
            assert!(!carries_its_hash(name), "{name}");
        }
    }

    #[test]
    fn the_sum_is_the_published_one() {
        // FIPS 180-2, appendix B.1: the message "abc".
        assert_eq!(short_hex(&Sha256::digest(b"abc")), "ba7816bf8f01cfea");
        assert_eq!(
            integrity(b"abc"),
            "sha256-ungWv48Bz+pBQUDeXa4iI7ADYaOWF3qctBD/YfIAFa0="
        );
    }

    #[test]
    fn what_is_imported_follows_and_the_table_for_the_wasm_does_not() {
        let script = "import * as a from \"./p.js\"\nconst table = { \"./p.js\": a };\n";
        let renamed = "import * as a from \"./p-1.js\"\nconst table = { \"./p.js\": a };\n";
        assert_eq!(with_imports_renamed(script, "p.js", "p-1.js"), renamed);
    }

    #[test]
    fn only_the_link_that_names_the_path_goes() {
        let page =
            "<a><link href=\"x.js\"><link href=\"p.js\" as=\"q\"><link href=\"y.js\">p.js</a>";
        let kept = "<a><link href=\"x.js\"><link href=\"y.js\">p.js</a>";
        assert_eq!(without_link_to(page, "p.js"), kept);
    }

    #[test]
    fn a_bundle_without_wasm_is_refused() {
        assert!(rename_by_bytes(&mut Bundle::new()).is_err());
    }
}
