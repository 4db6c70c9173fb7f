//! Splits the app's wasm while Trunk builds: what a new phone needs first, what works with records, and the rest.
//!
//! Trunk calls `wasm-bindgen` itself, and has no hook between the compiler and it; but the wasm can only be split there, as
//! long as it still says which function leads to which. So the build puts a `wasm-bindgen` of ours in front of the pinned
//! one: this program under that name. It splits, and hands the first part on. Never here: where the app is split (the
//! app says so, in `work.rs` and `later.rs`).

mod classes;
mod names;
mod sections;

use crate::{Outcome, project, run, setup};
use std::ffi::OsString;
use std::path::{Path, PathBuf};
use std::process::Command;

/// The name under which Trunk looks for it.
const NAME: &str = "wasm-bindgen";

/// Where the parts stand in a bundle until the stamp chore names them.
pub(crate) const FOLDER: &str = "snippets/split";

/// The part that comes last, as `later.rs` of the app names it: no start waits for it.
pub(crate) const LAST: &str = "split_later.wasm";

/// The script that fetches a part.
pub(crate) const SCRIPT: &str = "__wasm_split.js";

const REAL: &str = "EVENROW_WASM_BINDGEN";
const SPLITTER: &str = "EVENROW_WASM_SPLIT";
const OPTIMISER: &str = "EVENROW_WASM_OPT";

/// Has Trunk call us where it would call `wasm-bindgen`.
pub(crate) fn stand_in(trunk: &mut Command, tools: &setup::Tools) -> Outcome {
    let folder = project::root()?.join("target/stand-in");
    std::fs::create_dir_all(&folder)
        .map_err(|error| format!("{} cannot be made: {error}.", folder.display()))?;
    let ours = std::env::current_exe()
        .map_err(|error| format!("this program cannot find itself: {error}."))?;
    let name = folder.join(format!("{NAME}{}", std::env::consts::EXE_SUFFIX));
    std::fs::copy(&ours, &name)
        .map_err(|error| format!("{} cannot be written: {error}.", name.display()))?;
    let before = std::env::split_paths(&tools.path);
    let path = std::env::join_paths(std::iter::once(folder).chain(before))
        .map_err(|error| format!("the tools' folders cannot stand on PATH: {error}."))?;
    trunk
        .env("PATH", path)
        .env(REAL, &tools.wasm_bindgen)
        .env(SPLITTER, &tools.wasm_split)
        .env(OPTIMISER, &tools.wasm_opt);
    Ok(())
}

/// Whether this program was called under the name of `wasm-bindgen`.
pub(crate) fn is_called(program: Option<&OsString>) -> bool {
    let stem = program.and_then(|name| Path::new(name).file_stem());
    stem.is_some_and(|stem| stem == NAME)
}

/// What `wasm-bindgen` would do, done to the first part; the others are put beside it.
pub(crate) fn run(arguments: &[String]) -> Outcome {
    let Some(ask) = Ask::of(arguments) else {
        // It only wants to know the version.
        return run::run(Command::new(tool(REAL)?).args(arguments));
    };
    let folder = ask.out_dir.join(FOLDER);
    // Nothing of an earlier build may stay.
    if folder.exists() {
        std::fs::remove_dir_all(&folder)
            .map_err(|error| format!("{} cannot be emptied: {error}.", folder.display()))?;
    }
    std::fs::create_dir_all(&folder)
        .map_err(|error| format!("{} cannot be made: {error}.", folder.display()))?;
    run::run(
        Command::new(tool(SPLITTER)?)
            .arg(&ask.input)
            .arg(&folder)
            .args(["--out-name", &ask.out_name]),
    )?;
    let first = folder.join(format!("{}.wasm", ask.out_name));
    let input = ask.input.to_string_lossy();
    let others = arguments.iter().filter(|it| **it != input);
    run::run(
        Command::new(tool(REAL)?)
            .args(others)
            .arg("--keep-lld-exports")
            .arg(&first),
    )?;
    std::fs::remove_file(&first)
        .map_err(|error| format!("{} cannot be removed: {error}.", first.display()))?;
    tidy_glue(&ask)?;
    let page = project::read(&project::root()?.join("app/web/index.html"))?;
    let how = optimising(&String::from_utf8_lossy(&page)).ok_or(
        "app/web/index.html does not say how wasm is optimised (data-wasm-opt, data-wasm-opt-params).",
    )?;
    for part in project::files_below(&folder)? {
        if project::extension(&part) == "wasm" {
            let part = folder.join(part);
            let optimise = &mut Command::new(tool(OPTIMISER)?);
            run::run(optimise.args(&how).arg(&part).arg("--output").arg(&part))?;
        }
    }
    Ok(())
}

/// Leaves out what nobody asks for and shortens names, in the two files that `wasm-bindgen` has written.
fn tidy_glue(ask: &Ask) -> Outcome {
    let wasm = ask.out_dir.join(format!("{}_bg.wasm", ask.out_name));
    let glue = ask.out_dir.join(format!("{}.js", ask.out_name));
    let text = project::read(&glue)?;
    let text = String::from_utf8_lossy(&text);
    let module = format!("./{}_bg.js", ask.out_name);
    let (bytes, text) = classes::left_out(&project::read(&wasm)?, &text)?;
    let (bytes, text) = names::shortened(&bytes, &text, &module)?;
    project::write(&wasm, &bytes)?;
    project::write(&glue, text.as_bytes())
}

fn tool(variable: &str) -> Outcome<OsString> {
    std::env::var_os(variable)
        .ok_or_else(|| format!("{variable} is not set. To build the app: cargo xtask build"))
}

/// What Trunk asks of `wasm-bindgen`.
#[derive(Debug, PartialEq, Eq)]
struct Ask {
    input: PathBuf,
    out_dir: PathBuf,
    out_name: String,
}

impl Ask {
    fn of(arguments: &[String]) -> Option<Ask> {
        let option = |name: &str| {
            let inline = arguments
                .iter()
                .find_map(|it| it.strip_prefix(name)?.strip_prefix('='));
            let at = arguments.iter().position(|it| it == name);
            let next = at.and_then(|at| arguments.get(at + 1));
            inline.or(next.map(String::as_str))
        };
        let input = arguments
            .iter()
            .find(|it| project::extension(it) == "wasm")?;
        Some(Ask {
            input: PathBuf::from(input),
            out_dir: PathBuf::from(option("--out-dir")?),
            out_name: option("--out-name")?.to_string(),
        })
    }
}

/// How the page has Trunk optimise the first part: the others are treated alike.
fn optimising(page: &str) -> Option<Vec<String>> {
    let attribute = |name: &str| {
        let (_, after) = page.split_once(&format!("{name}=\""))?;
        Some(after.split_once('"')?.0)
    };
    let level = format!("-O{}", attribute("data-wasm-opt")?);
    let more = attribute("data-wasm-opt-params")?.split_whitespace();
    Some(
        std::iter::once(level)
            .chain(more.map(str::to_string))
            .collect(),
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    fn words(text: &str) -> Vec<String> {
        text.split_whitespace().map(str::to_string).collect()
    }

    #[test]
    fn what_trunk_asks_is_understood_in_both_ways_of_writing_it() {
        let asked = Ask {
            input: PathBuf::from("a/app.wasm"),
            out_dir: PathBuf::from("out"),
            out_name: "app-1".to_string(),
        };
        for line in [
            "--target=web --out-dir=out --out-name=app-1 a/app.wasm --no-typescript",
            "--target web a/app.wasm --out-dir out --out-name app-1",
        ] {
            assert_eq!(Ask::of(&words(line)).as_ref(), Some(&asked), "{line}");
        }
        assert_eq!(Ask::of(&words("--version")), None);
    }

    #[test]
    fn only_the_name_of_the_real_one_calls_it() {
        for (name, expected) in [
            ("/a/stand-in/wasm-bindgen", true),
            ("wasm-bindgen", true),
            ("/a/debug/xtask", false),
        ] {
            assert_eq!(is_called(Some(&OsString::from(name))), expected, "{name}");
        }
        assert!(!is_called(None));
    }

    #[test]
    fn every_part_is_optimised_as_the_page_says_of_the_first() {
        let page = "<link data-wasm-opt=\"z\"\n data-wasm-opt-params=\"--enable-a --enable-b\">";
        assert_eq!(optimising(page), Some(words("-Oz --enable-a --enable-b")));
        assert_eq!(optimising("<link>"), None);
    }
}
