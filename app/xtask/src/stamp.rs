//! `stamp`: finishes a bundle before Trunk puts it in its place.
//!
//! Bundles the styles, adds the list of numbers with their bases, the invented district, the licences and the version,
//! names files by their real bytes (Trunk reckons its
//! names before wasm-opt changes the bytes), writes the sums of inline scripts into the content policy, and gives the
//! service worker its list. Everything but [`run`] is a function from texts to texts; nothing here knows what the app
//! does.

mod bytes;
mod page;
mod scripts;
mod styles;
mod words;
mod worker;

use crate::{Outcome, licences, nothing_more, project, sources};
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

pub(crate) use bytes::{carries_its_hash, short_hex};

const PAGE: &str = "index.html";
const WORKER: &str = "sw.js";

/// The invented district that the app shows to whoever wants to look round.
const DISTRICT: &str = "district.txt";

/// What the app calls itself: the number that people give it, and the sum of the build.
const VERSION: &str = "version.txt";

/// A bundle: each file's path with `/` between the parts, and its bytes.
type Bundle = BTreeMap<String, Vec<u8>>;

pub(crate) fn run(arguments: &[String]) -> Outcome {
    nothing_more(arguments)?;
    let stage = std::env::var_os("TRUNK_STAGING_DIR").map(PathBuf::from).ok_or(
        "Trunk calls this chore and says where the bundle stands (TRUNK_STAGING_DIR). To build: cargo xtask build",
    )?;
    let mut before = Bundle::new();
    for path in project::files_below(&stage)? {
        let bytes = project::read(&stage.join(&path))?;
        before.insert(path, bytes);
    }
    let root = project::root()?;
    let sheet = styles::bundled(&root.join("style"))?;
    let mut whole = before.clone();
    whole.insert(
        sources::FILE.to_string(),
        sources::file(&root)?.into_bytes(),
    );
    whole.insert(DISTRICT.to_string(), district(&root)?);
    whole.insert(
        licences::FILE.to_string(),
        licences::file(&root)?.into_bytes(),
    );
    let after = stamped(whole, &sheet)?;
    for (path, bytes) in &after {
        if before.get(path) != Some(bytes) {
            project::write(&stage.join(path), bytes)?;
        }
    }
    for path in before.keys().filter(|path| !after.contains_key(*path)) {
        std::fs::remove_file(stage.join(path))
            .map_err(|error| format!("{path} cannot be removed: {error}."))?;
        // Folders go with their last file; removing one that still holds something fails, and that is wanted.
        let mut folders = Path::new(path).ancestors().skip(1);
        while folders
            .next()
            .is_some_and(|folder| std::fs::remove_dir(stage.join(folder)).is_ok())
        {}
    }
    Ok(())
}

/// Its season, an empty line, and the morning after it: the very records that the stories and the tests look at.
fn district(root: &Path) -> Outcome<Vec<u8>> {
    let part = |name: &str| project::read(&root.join("tests/journals").join(name));
    Ok([part("season.jsonl")?, part("morning.jsonl")?].join(&b'\n'))
}

/// The finished bundle, from Trunk's bundle and the style sheet.
fn stamped(mut bundle: Bundle, sheet: &str) -> Outcome<Bundle> {
    let sheet_name = bytes::name_by_bytes("style.css", sheet.as_bytes());
    bundle.insert(sheet_name.clone(), sheet.as_bytes().to_vec());
    let languages = words::languages(&bundle);
    words::divide(&mut bundle)?;
    scripts::strip(&mut bundle)?;
    bytes::rename_by_bytes(&mut bundle)?;

    let sum = bytes::sum_of_all(&bundle);
    let version = format!("{} {sum}\n", env!("CARGO_PKG_VERSION"));
    bundle.insert(VERSION.to_string(), version.into_bytes());

    let page = take_text(&mut bundle, PAGE)?;
    let page = page::finished(&page, &sheet_name, &languages)?;
    bundle.insert(PAGE.to_string(), page.into_bytes());

    let template = take_text(&mut bundle, WORKER)?;
    let worker = worker::finished(&template, &bundle)?;
    bundle.insert(WORKER.to_string(), worker.into_bytes());
    Ok(bundle)
}

fn take_text(bundle: &mut Bundle, path: &str) -> Outcome<String> {
    let bytes = bundle
        .remove(path)
        .ok_or_else(|| format!("the bundle holds no {path}."))?;
    String::from_utf8(bytes).map_err(|_| format!("{path} is not UTF-8."))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn bundle(files: &[(&str, &str)]) -> Bundle {
        files
            .iter()
            .map(|(path, text)| (path.to_string(), text.as_bytes().to_vec()))
            .collect()
    }

    fn as_trunk_leaves_it(wasm: &str) -> Bundle {
        bundle(&[
            (
                "app-00ff00ff00ff00ff.js",
                "import { ring } from './snippets/app-1/src/p.js';\n",
            ),
            ("app-00ff00ff00ff00ff_bg.wasm", wasm),
            ("snippets/app-1/src/p.js", "export const ring = 1;"),
            ("snippets/app-1/src/left_behind.js", "export const old = 1;"),
            ("words/en.txt", "words"),
            ("words/sv.txt", "ord"),
            (
                "index.html",
                "<html data-languages=\"LANGUAGES\"><head><meta content=\"script-src INLINE-SCRIPTS;\"><!-- style --></head>\
                 <script type=\"module\">import init from './app-00ff00ff00ff00ff.js'; const wasm = await init('./app-00ff00ff00ff00ff_bg.wasm');</script>\
                 <link rel=\"preload\" href=\"./app-00ff00ff00ff00ff_bg.wasm\">",
            ),
            ("sw.js", "const VERSION = 'unstamped';\nconst FILES = [];\n"),
        ])
    }

    fn text<'a>(bundle: &'a Bundle, path: &str) -> &'a str {
        std::str::from_utf8(&bundle[path]).expect("text")
    }

    fn named<'a>(bundle: &'a Bundle, start: &str, end: &str) -> &'a str {
        let mut names = bundle
            .keys()
            .filter(|name| name.starts_with(start) && name.ends_with(end));
        names.next().expect("a file of that kind")
    }

    #[test]
    fn the_page_and_the_importing_script_follow_a_renamed_file() {
        let after = stamped(as_trunk_leaves_it("wasm"), "a{}").expect("a bundle");
        let (glue, wasm) = (named(&after, "app-", ".js"), named(&after, "app-", ".wasm"));
        let snippet = named(&after, "snippets/", ".js");
        assert!(
            text(&after, "index.html").contains(glue) && text(&after, "index.html").contains(wasm)
        );
        assert!(text(&after, glue).contains(snippet));
        assert!(!after.keys().any(|name| name.contains("00ff00ff00ff00ff")));
    }

    #[test]
    fn a_file_of_words_is_a_language_of_the_page_and_kept_for_offline() {
        let after = stamped(as_trunk_leaves_it("wasm"), "a{}").expect("a bundle");
        assert!(text(&after, "index.html").contains("data-languages=\"en sv\""));
        for file in ["words/sv.txt", "later/sv.txt"] {
            assert!(text(&after, "sw.js").contains(&format!("['{file}', 'sha256-")));
        }
    }

    #[test]
    fn a_split_app_fetches_its_second_part_by_the_name_of_its_bytes() {
        let mut before = as_trunk_leaves_it("wasm");
        let glue = "import * as parts from \"./__wasm_split.js\"\nconst table = { \"./__wasm_split.js\": parts };\n";
        before.insert("app-00ff00ff00ff00ff.js".to_string(), glue.into());
        let script = "import { initSync } from \"./app.js\";\nfetch(\"./later.wasm\");\n";
        for (path, text) in [("__wasm_split.js", script), ("later.wasm", "rest")] {
            before.insert(format!("snippets/split/{path}"), text.into());
        }
        let page = text(&before, "index.html").to_string();
        let page = page.replace(
            "</head>",
            "<link href=\"snippets/split/later.wasm\"></head>",
        );
        before.insert("index.html".to_string(), page.into());
        let after = stamped(before, "a{}").expect("a bundle");
        let part = named(&after, "later-", ".wasm");
        let script = named(&after, "app-parts-", ".js");
        let glue = after.keys().find(|name| {
            let is_script = name.starts_with("app-") && project::extension(name) == "js";
            is_script && name.as_str() != script
        });
        let glue = glue.expect("the glue");
        assert!(text(&after, script).contains(&format!("from \"./{glue}\"")));
        assert!(text(&after, script).contains(&format!("fetch(\"./{part}\")")));
        assert!(text(&after, glue).contains(&format!("from \"./{script}\"")));
        assert!(text(&after, glue).contains("{ \"./__wasm_split.js\": parts }"));
        assert!(!after.keys().any(|name| name.starts_with("snippets/split")));
        assert!(!text(&after, "index.html").contains("later.wasm"));
    }

    #[test]
    fn a_snippet_that_nothing_imports_is_dropped() {
        let after = stamped(as_trunk_leaves_it("wasm"), "a{}").expect("a bundle");
        assert!(!after.keys().any(|name| name.contains("left_behind")));
    }

    #[test]
    fn other_wasm_bytes_give_other_names_and_another_version() {
        let one = stamped(as_trunk_leaves_it("wasm"), "a{}").expect("a bundle");
        let other = stamped(as_trunk_leaves_it("WASM"), "a{}").expect("a bundle");
        assert_ne!(named(&one, "app-", ".wasm"), named(&other, "app-", ".wasm"));
        assert_ne!(text(&one, "sw.js"), text(&other, "sw.js"));
    }

    #[test]
    fn the_app_can_say_which_build_it_is() {
        let of = |wasm: &str| {
            let bundle = stamped(as_trunk_leaves_it(wasm), "a{}").expect("a bundle");
            text(&bundle, "version.txt").to_string()
        };
        assert_eq!(of("wasm"), of("wasm"));
        assert_ne!(of("wasm"), of("WASM"));
        assert!(of("wasm").starts_with(concat!(env!("CARGO_PKG_VERSION"), " ")));
    }

    #[test]
    fn the_same_input_gives_the_same_bundle() {
        assert_eq!(
            stamped(as_trunk_leaves_it("wasm"), "a{}"),
            stamped(as_trunk_leaves_it("wasm"), "a{}")
        );
    }

    #[test]
    fn every_file_but_the_worker_is_on_its_list() {
        let after = stamped(as_trunk_leaves_it("wasm"), "a{}").expect("a bundle");
        let worker = text(&after, "sw.js");
        for path in after
            .keys()
            .filter(|path| !["sw.js", "index.html"].contains(&path.as_str()))
        {
            assert!(worker.contains(&format!("['{path}', 'sha256-")), "{path}");
        }
        assert!(worker.contains("['./', 'sha256-"), "the page itself");
    }
}
