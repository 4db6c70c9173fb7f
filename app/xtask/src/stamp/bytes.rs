//! Names made from bytes, so that a name never stands for two contents.

use super::{Bundle, PAGE};
use crate::{Outcome, project, split};
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
    text.len() == HASH_DIGITS && is_hexadecimal(text)
}

/// Trunk leaves out the noughts at the front.
fn is_trunks(hash: &str) -> bool {
    (1..=HASH_DIGITS).contains(&hash.len()) && is_hexadecimal(hash)
}

fn is_hexadecimal(text: &str) -> bool {
    let digit = |byte| matches!(byte, b'0'..=b'9' | b'a'..=b'f');
    text.bytes().all(digit)
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
        Some((plain, hash)) if is_trunks(hash) => plain.to_string(),
        Some(_) | None => stem,
    };

    let snippets: Vec<_> = bundle
        .keys()
        .filter(|path| path.starts_with("snippets/") && !path.starts_with(split::FOLDER))
        .cloned()
        .collect();
    for snippet in snippets {
        if mentions(&bundle[&glue], &snippet) {
            rename(bundle, &snippet, &snippet);
        } else {
            // Trunk brings along what earlier builds left behind, and asks browsers to load it.
            bundle.remove(&snippet);
            without_link_to(bundle, &snippet);
        }
    }
    rename(bundle, &wasm, &format!("{plain}.wasm"));
    let script = name_parts(bundle, &glue, &plain)?;
    let glue = rename(bundle, &glue, &format!("{plain}.js"));
    // The two scripts import each other, so the name of one cannot wait for that of the other: this import follows last.
    if let Some(bytes) = script.and_then(|script| bundle.get_mut(&script)) {
        let text = String::from_utf8_lossy(bytes);
        *bytes = with_imports_renamed(&text, GLUE, &glue).into_bytes();
    }
    Ok(())
}

/// What stands for the glue's name in the script of the parts until that is known.
const GLUE: &str = "THE-GLUE";

/// Names the parts of a split wasm and the script that fetches them; none where it was not split.
fn name_parts(bundle: &mut Bundle, glue: &str, plain: &str) -> Outcome<Option<String>> {
    let folder = format!("{}/", split::FOLDER);
    let script = format!("{folder}{}", split::SCRIPT);
    let Some(bytes) = bundle.remove(&script) else {
        return Ok(None);
    };
    // The splitter knows the glue by the name that Trunk gave it before or after a sum was added.
    let text = String::from_utf8_lossy(&bytes);
    let mut text = text
        .replace(glue, GLUE)
        .replace(&format!("{plain}.js"), GLUE);
    if !text.contains(GLUE) {
        return Err(format!("the script of the parts does not import {glue}."));
    }
    let parts: Vec<String> = bundle
        .keys()
        .filter(|path| path.starts_with(&folder) && project::extension(path) == "wasm")
        .cloned()
        .collect();
    for part in parts {
        let name = part.trim_start_matches(&folder).to_string();
        let bytes = bundle.remove(&part).unwrap_or_default();
        let new = name_by_bytes(&name, &bytes);
        if !text.contains(&name) {
            return Err(format!("the script of the parts does not fetch {name}."));
        }
        text = text.replace(&name, &new);
        bundle.insert(new, bytes);
        without_link_to(bundle, &part);
    }
    // It will name the glue, so its own name has to change with that, too.
    let sum = [text.as_bytes(), &bundle[glue]].concat();
    let new = name_by_bytes(&format!("{plain}-parts.js"), &sum);
    if let Some(glue) = bundle.get_mut(glue) {
        let said = String::from_utf8_lossy(glue);
        *glue = with_imports_renamed(&said, split::SCRIPT, &new).into_bytes();
    }
    if let Some(page) = bundle.get_mut(PAGE) {
        *page = String::from_utf8_lossy(page)
            .replace(&script, &new)
            .into_bytes();
    }
    bundle.insert(new.clone(), text.into_bytes());
    Ok(Some(new))
}

/// Takes the link elements that name the path out of the page.
fn without_link_to(bundle: &mut Bundle, path: &str) {
    if let Some(page) = bundle.get_mut(PAGE) {
        *page = without_link(&String::from_utf8_lossy(page), path).into_bytes();
    }
}

/// The page without the link elements that name the path.
fn without_link(page: &str, path: &str) -> String {
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
fn rename(bundle: &mut Bundle, path: &str, plain: &str) -> String {
    let bytes = bundle.remove(path).unwrap_or_default();
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
    new
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
    fn a_sum_of_trunks_that_begins_with_a_nought_is_one_too() {
        assert!(is_trunks("48b96354462f4da") && is_trunks("00ff00ff00ff00ff"));
        assert!(!is_trunks("web") && !is_trunks("") && !is_trunks("00ff00ff00ff00ff0"));
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
        assert_eq!(without_link(page, "p.js"), kept);
    }

    #[test]
    fn a_bundle_without_wasm_is_refused() {
        assert!(rename_by_bytes(&mut Bundle::new()).is_err());
    }
}
