//! The table of checks, and how each one searches.
//!
//! A check that is added here wants its two samples in [`samples`]: a text that it must find, and one that it must pass.

#[cfg(test)]
mod samples;

use super::{bare, pinned, style_text};
use crate::rust_text::RustText;
use crate::tree::{File, Finding, Tree, places_of};
use crate::{project, sources};

pub(super) struct Check {
    /// A word by which tests and readers call it.
    #[cfg_attr(
        not(test),
        expect(dead_code, reason = "only the samples are found by it")
    )]
    pub(super) name: &'static str,
    pub(super) never: &'static str,
    pub(super) instead: &'static str,
    pub(super) find: fn(&Tree) -> Vec<Finding>,
}

pub(super) const CHECKS: &[Check] = &[
    Check {
        name: "header",
        never: "a file of ours that does not say what it is",
        instead: "begin it with a comment: what lives here, and what never does",
        find: missing_headers,
    },
    Check {
        name: "top",
        never: "anything at the top of the repository but what is listed in TOP",
        instead: "put it into app, public, style or tests",
        find: strangers_at_the_top,
    },
    Check {
        name: "browser",
        never: "the browser's own interfaces outside app/web/src/device",
        instead: "write a typed function in app/web/src/device and call that",
        find: |tree| {
            code_words(
                tree,
                outside_device,
                &["web_sys", "js_sys", "wasm_bindgen", "wasm_bindgen_futures"],
            )
        },
    },
    Check {
        name: "context",
        never: "a part that reaches for global context",
        instead: "take the value as a property and give changes to a callback; the screen knows the desk",
        find: |tree| code_words(tree, in_parts, &["use_context", "expect_context"]),
    },
    Check {
        name: "html",
        never: "text that becomes markup",
        instead: "build elements; they hold any text safely",
        find: markup_from_text,
    },
    Check {
        name: "catch-all",
        never: "a decision whose last row catches all the rest",
        instead: "name the rows, so that the compiler asks about a new one",
        find: catch_all_rows,
    },
    Check {
        name: "std",
        never: "std in the rules outside their tests",
        instead: "core, alloc or libm; what only std can do belongs to the app",
        find: |tree| code_words(tree, in_rules, &["std::", "extern crate std"]),
    },
    Check {
        name: "wire",
        never: "a wire format in rules or in the journal outside its wire",
        instead: "translate in app/journal/src/wire.rs from types of its own",
        find: |tree| {
            code_starts(
                tree,
                |path| in_rules(path) || in_journal(path) && !in_wire(path),
                "serde",
            )
        },
    },
    Check {
        name: "unwrap",
        never: "unwrap or expect in the journal or the app",
        instead: "say what happens otherwise: a default with its reason, a refusal, or a screen",
        find: |tree| {
            code_signs(
                tree,
                |path| in_journal(path) || in_web(path),
                &[".unwrap()", ".expect("],
            )
        },
    },
    Check {
        name: "unfinished",
        never: "unfinished or forgotten code",
        instead: "finish it, or leave it out",
        find: unfinished,
    },
    Check {
        name: "unsafe",
        never: "unsafe code",
        instead: "a safe way; nothing here is in such a hurry",
        find: |tree| every_code_word(tree, is_rust, "unsafe"),
    },
    Check {
        name: "sentence",
        never: "a sentence in rules or journal",
        instead: "return an id, an enum or a number; the words are in public/words and app/web/src/words",
        find: sentences,
    },
    Check {
        name: "doc",
        never: "a number of the trade without its basis, or a public function of rules without validity, refusals and example",
        instead: "in the doc comment: `Basis: ...`; for a function also `Valid: ...`, `Errors: ...` where it returns a Result, and an example between ``` and ```, with an assert, which the tests run",
        find: undocumented,
    },
    Check {
        name: "basis",
        never: "a number of the trade that does not say what it is, in which unit, and what it rests on; a basis of no known class",
        instead: "above the constant a sentence, `Units: millimetres.` if it is a bare number, and `Basis: ...` that begins with one of: common practice, no published source; published, `Source::Name`; plane geometry, arithmetic or statistics; house default. A function that hands something on may say: as given; that of [`...`]",
        find: sources::findings,
    },
    Check {
        name: "bare",
        never: "a number of the trade bare in a function, where no list of numbers finds it",
        instead: "a constant with its sentence, unit and basis",
        find: bare::numbers,
    },
    Check {
        name: "colour",
        never: "a raw colour or size outside style/tokens.css",
        instead: "a role: var(--name), and the value in style/tokens.css",
        find: raw_values,
    },
    Check {
        name: "frame colour",
        never: "a colour in the page's frame, manifest or icons that the tokens do not know",
        instead: "one of the colours of style/tokens.css",
        find: frame_colours,
    },
    Check {
        name: "sleep",
        never: "a sleep in a browser test",
        instead: "wait for what should be seen, with tests/browser/src/wait.rs",
        find: |tree| {
            every_code_word(
                tree,
                |path| in_stories(path) && path != "tests/browser/src/wait.rs",
                "sleep",
            )
        },
    },
    Check {
        name: "selector",
        never: "a selector outside the page objects",
        instead: "a function in tests/browser/src/pages that says what is looked for",
        find: selectors,
    },
    Check {
        name: "chore",
        never: "a chore in the documents that does not exist",
        instead: "one that `cargo xtask help` lists",
        find: unknown_chores,
    },
    Check {
        name: "machine",
        never: "a path or package host of one computer",
        instead: "a path inside the project, std::env::temp_dir(), or nothing",
        find: paths_of_one_machine,
    },
    Check {
        name: "pins",
        never: "two versions of one tool",
        instead: "the version of app/xtask/src/pins.rs in both places",
        find: pinned::disagreements,
    },
];

const TOP: [&str; 13] = [
    "Cargo.toml",
    "Cargo.lock",
    "README.md",
    "DEVELOPERS.md",
    "app",
    "public",
    "style",
    "tests",
    "Trunk.toml",
    "LICENSE",
    ".ci",
    ".cargo",
    ".gitignore",
];

fn is_rust(path: &str) -> bool {
    project::extension(path) == "rs"
}

fn in_rules(path: &str) -> bool {
    path.starts_with("app/rules/src/")
}

fn in_journal(path: &str) -> bool {
    path.starts_with("app/journal/src/")
}

fn in_wire(path: &str) -> bool {
    path == "app/journal/src/wire.rs" || path.starts_with("app/journal/src/wire/")
}

fn in_web(path: &str) -> bool {
    path.starts_with("app/web/src/")
}

fn outside_device(path: &str) -> bool {
    let in_device = path == "app/web/src/device.rs" || path.starts_with("app/web/src/device/");
    (in_rules(path) || in_journal(path) || in_web(path)) && !in_device
}

fn in_parts(path: &str) -> bool {
    path == "app/web/src/parts.rs" || path.starts_with("app/web/src/parts/")
}

fn in_stories(path: &str) -> bool {
    path.starts_with("tests/browser/")
}

fn in_pages(path: &str) -> bool {
    path == "tests/browser/src/pages.rs" || path.starts_with("tests/browser/src/pages/")
}

/// A finding at each of these places of the code that is not for tests.
fn outside_tests(file: &File, rust: &RustText, places: Vec<usize>, what: &str) -> Vec<Finding> {
    let places = places.into_iter().filter(|at| !rust.is_test(*at));
    places.map(|at| file.finding(at, what)).collect()
}

fn code_words(tree: &Tree, chosen: impl Fn(&str) -> bool, words: &[&str]) -> Vec<Finding> {
    let mut found = Vec::new();
    for (file, rust) in tree.rust(chosen) {
        for word in words {
            found.extend(outside_tests(file, rust, places_of(&rust.code, word), word));
        }
    }
    found
}

/// As [`code_words`], for words that only start so.
fn code_starts(tree: &Tree, chosen: impl Fn(&str) -> bool, start: &str) -> Vec<Finding> {
    code_signs(tree, chosen, &[start])
}

fn code_signs(tree: &Tree, chosen: impl Fn(&str) -> bool, signs: &[&str]) -> Vec<Finding> {
    let mut found = Vec::new();
    for (file, rust) in tree.rust(chosen) {
        for sign in signs {
            let places = rust.code.match_indices(sign).map(|(at, _)| at).collect();
            found.extend(outside_tests(file, rust, places, sign));
        }
    }
    found
}

/// A word anywhere in the code, tests not excepted.
fn every_code_word(tree: &Tree, chosen: impl Fn(&str) -> bool, word: &str) -> Vec<Finding> {
    let files = tree.rust(chosen);
    files
        .flat_map(|(file, rust)| {
            places_of(&rust.code, word)
                .into_iter()
                .map(|at| file.finding(at, word))
        })
        .collect()
}

fn missing_headers(tree: &Tree) -> Vec<Finding> {
    let has_header = |file: &&File| {
        let signs: &[&str] = match project::extension(&file.path) {
            "rs" => &["//!"],
            "css" => &["/*"],
            "js" => &["//", "/*"],
            _ => return true,
        };
        signs.iter().any(|sign| file.text.starts_with(sign))
    };
    let files = tree.files.iter().filter(|file| !has_header(file));
    files
        .map(|file| file.finding(0, "no header comment"))
        .collect()
}

fn strangers_at_the_top(tree: &Tree) -> Vec<Finding> {
    let top = |file: &File| file.path.split('/').next().unwrap_or_default().to_string();
    let strangers = tree
        .files
        .iter()
        .filter(|file| !TOP.contains(&top(file).as_str()));
    strangers
        .map(|file| file.finding(0, format!("{} stands at the top", top(file))))
        .collect()
}

fn markup_from_text(tree: &Tree) -> Vec<Finding> {
    let mut found = code_signs(tree, in_web, &["inner_html"]);
    let scripts = tree
        .files
        .iter()
        .filter(|file| project::extension(&file.path) == "js");
    for file in scripts {
        for sign in [
            "innerHTML",
            "outerHTML",
            "insertAdjacentHTML",
            "document.write",
        ] {
            found.extend(
                file.text
                    .match_indices(sign)
                    .map(|(at, _)| file.finding(at, sign)),
            );
        }
    }
    found
}

fn catch_all_rows(tree: &Tree) -> Vec<Finding> {
    let mut found = Vec::new();
    for (file, rust) in tree.rust(|path| in_rules(path) || in_journal(path)) {
        let code = rust.code.as_str();
        let bare = places_of(code, "_")
            .into_iter()
            .filter(|at| ends_a_pattern(&code[at + 1..]));
        let tuples = code
            .match_indices('(')
            .map(|(at, _)| at)
            .filter(|at| is_tuple_of_nothing(code, *at));
        found.extend(outside_tests(
            file,
            rust,
            bare.chain(tuples).collect(),
            "this row catches all the rest",
        ));
    }
    found
}

/// Whether what follows shows that a pattern of a `match` has just ended.
fn ends_a_pattern(after: &str) -> bool {
    let after = after.trim_start();
    after.starts_with("=>") || after.starts_with("if ")
}

/// Whether a tuple opens here whose parts are all `_` or `..`, as the whole pattern of a row.
fn is_tuple_of_nothing(code: &str, opening: usize) -> bool {
    let follows_a_name =
        code[..opening].ends_with(|letter: char| letter.is_alphanumeric() || letter == '_');
    code[opening + 1..]
        .split_once(')')
        .is_some_and(|(parts, after)| {
            let nothing = |letter: char| "_.,".contains(letter) || letter.is_whitespace();
            !follows_a_name
                && !parts.is_empty()
                && parts.chars().all(nothing)
                && ends_a_pattern(after)
        })
}

fn unfinished(tree: &Tree) -> Vec<Finding> {
    let mut found = Vec::new();
    for word in ["todo!", "unimplemented!", "dbg!"] {
        found.extend(every_code_word(tree, is_rust, word));
    }
    for (file, rust) in tree.rust(is_rust) {
        let ignored = places_of(&rust.code, "ignore")
            .into_iter()
            .filter(|at| rust.is_attribute(*at));
        found.extend(ignored.map(|at| file.finding(at, "a test that is not run")));
    }
    found
}

/// The titles of the bibliography are quoted from books, and no operator's sentence.
fn sentences(tree: &Tree) -> Vec<Finding> {
    let mut found = Vec::new();
    for (file, rust) in
        tree.rust(|path| (in_rules(path) || in_journal(path)) && path != "app/rules/src/source.rs")
    {
        for range in &rust.strings {
            let literal = &file.text[range.clone()];
            if !rust.is_test(range.start)
                && !rust.is_attribute(range.start)
                && reads_as_a_sentence(literal)
            {
                found.push(file.finding(range.start, format!("\"{literal}\"")));
            }
        }
    }
    found
}

/// Two words side by side, each of two letters at least.
fn reads_as_a_sentence(literal: &str) -> bool {
    let words: Vec<_> = literal.split(' ').collect();
    let is_word = |word: &str| {
        let word = word.trim_matches(|letter: char| ",.;:!?()'".contains(letter));
        1 < word.chars().count() && word.chars().all(char::is_alphabetic)
    };
    words
        .windows(2)
        .any(|pair| is_word(pair[0]) && is_word(pair[1]))
}

fn undocumented(tree: &Tree) -> Vec<Finding> {
    let mut found = Vec::new();
    for (file, rust) in tree.rust(in_rules) {
        let mut offset = 0;
        let lines = file
            .text
            .lines()
            .zip(rust.code.lines())
            .map(|(text, code)| {
                let line = Line {
                    at: offset + code.len() - code.trim_start().len(),
                    text: text.trim(),
                    code: code.trim(),
                };
                offset += code.len() + 1;
                line
            });
        let lines: Vec<_> = lines.collect();
        for (index, line) in lines.iter().enumerate() {
            let Some(item) = Documented::of(line.code).filter(|_| !rust.is_test(line.at)) else {
                continue;
            };
            let above = lines[..index].iter().rev();
            let above =
                above.take_while(|line| line.text.starts_with("///") || rust.is_attribute(line.at));
            let doc: Vec<_> = above
                .filter_map(|line| line.text.strip_prefix("///"))
                .map(str::trim)
                .collect();
            let refuses = !places_of(rust.answer_of(line.at), "Result").is_empty();
            let headings = item.headings(refuses).iter();
            let mut missing: Vec<_> = headings
                .filter(|heading| !doc.iter().any(|line| line.starts_with(*heading)))
                .map(|heading| format!("`{heading}`"))
                .collect();
            if item == Documented::Function && !runs_an_example(doc.iter().rev()) {
                missing.push("example that runs and asserts".to_string());
            }
            let above = |what| file.finding(line.at, format!("no {what} above `{}`", line.code));
            found.extend(missing.into_iter().map(above));
        }
    }
    found
}

struct Line<'a> {
    at: usize,
    text: &'a str,
    code: &'a str,
}

/// What wants a doc comment that says more than its first line.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Documented {
    Function,
    Constant,
}

impl Documented {
    /// The item that starts on this line; a macro's `$name` is documented where it is used.
    fn of(code: &str) -> Option<Documented> {
        if code.starts_with("pub fn ") || code.starts_with("pub const fn ") {
            (!code.contains(" fn $")).then_some(Documented::Function)
        } else if code.starts_with("pub const ") || code.starts_with("pub static ") {
            (!code.contains(" $")).then_some(Documented::Constant)
        } else {
            None
        }
    }

    /// How lines of its doc comment must begin.
    fn headings(self, refuses: bool) -> &'static [&'static str] {
        match (self, refuses) {
            (Documented::Function, true) => &["Valid:", "Errors:", "Basis:"],
            (Documented::Function, false) => &["Valid:", "Basis:"],
            (Documented::Constant, _) => &["Basis:"],
        }
    }
}

/// Whether a doc comment holds an example that the tests run and that can fail: an `assert` in a block that opens with
/// nothing behind its backticks, or with the language alone.
fn runs_an_example<'a>(doc: impl Iterator<Item = &'a &'a str>) -> bool {
    const ASSERTS: [&str; 3] = ["assert!", "assert_eq!", "assert_ne!"];
    let asserts = |line| ASSERTS.iter().any(|it| !places_of(line, it).is_empty());
    let (mut inside, mut runs) = (false, false);
    for line in doc {
        if let Some(kind) = line.strip_prefix("```") {
            inside = !inside;
            runs = inside && ["", "rust"].contains(&kind);
        } else if runs && asserts(line) {
            return true;
        }
    }
    false
}

fn raw_values(tree: &Tree) -> Vec<Finding> {
    let mut found = Vec::new();
    let is_sheet = |path: &str| project::extension(path) == "css" && path != "style/tokens.css";
    for file in tree.files.iter().filter(|file| is_sheet(&file.path)) {
        found.extend(
            style_text::raw_in_sheet(&file.text)
                .into_iter()
                .map(|raw| file.finding(raw.at, raw.text)),
        );
    }
    for (file, rust) in tree.rust(in_web) {
        for range in rust
            .strings
            .iter()
            .filter(|range| !rust.is_test(range.start))
        {
            let raw = style_text::raw_in_literal(&file.text[range.clone()]);
            found.extend(
                raw.into_iter()
                    .map(|raw| file.finding(range.start + raw.at, raw.text)),
            );
        }
    }
    found
}

/// Where a token cannot be named, the value itself must be one of them.
fn frame_colours(tree: &Tree) -> Vec<Finding> {
    let Some(tokens) = tree.text_of("style/tokens.css").map(str::to_lowercase) else {
        return Vec::new();
    };
    let framed = |path: &str| {
        path == "app/web/index.html"
            || path == "public/manifest.webmanifest"
            || path.starts_with("public/icons/")
    };
    let mut found = Vec::new();
    for file in tree.files.iter().filter(|file| framed(&file.path)) {
        let colours = style_text::raw_in_literal(&file.text)
            .into_iter()
            .filter(|raw| raw.text.starts_with('#'));
        let unknown = colours.filter(|raw| !tokens.contains(&raw.text.to_lowercase()));
        found.extend(unknown.map(|raw| file.finding(raw.at, raw.text)));
    }
    found
}

fn selectors(tree: &Tree) -> Vec<Finding> {
    let chosen = |path: &str| in_stories(path) && !in_pages(path);
    let mut found = every_code_word(tree, chosen, "By::");
    for (file, rust) in tree.rust(chosen) {
        for range in &rust.strings {
            let literal = &file.text[range.clone()];
            for sign in ["querySelector", "getElement"] {
                found.extend(
                    literal
                        .match_indices(sign)
                        .map(|(at, _)| file.finding(range.start + at, sign)),
                );
            }
        }
    }
    found
}

fn unknown_chores(tree: &Tree) -> Vec<Finding> {
    const CALL: &str = "cargo xtask ";
    let mut found = Vec::new();
    let documents = ["README.md", "DEVELOPERS.md"];
    for file in tree
        .files
        .iter()
        .filter(|file| documents.contains(&file.path.as_str()))
    {
        for (at, _) in file.text.match_indices(CALL) {
            let after = &file.text[at + CALL.len()..];
            let end = after.find(|letter: char| !letter.is_ascii_alphanumeric() && letter != '-');
            let name = &after[..end.unwrap_or(after.len())];
            let known = name.is_empty()
                || name == "help"
                || crate::CHORES.iter().any(|chore| chore.name == name);
            if !known {
                found.push(file.finding(at, format!("there is no chore {name}")));
            }
        }
    }
    found
}

/// The signs are put together here so that this file does not hold them itself.
fn paths_of_one_machine(tree: &Tree) -> Vec<Finding> {
    let roots = ["work", "tmp", "root", "home"].map(|folder| format!("/{folder}/"));
    let mut found = Vec::new();
    for file in &tree.files {
        for root in &roots {
            let places = file.text.match_indices(root.as_str()).map(|(at, _)| at);
            let absolute = places.filter(|at| {
                !file.text[..*at]
                    .ends_with(|letter: char| letter.is_alphanumeric() || "._-~)}".contains(letter))
            });
            found.extend(absolute.map(|at| file.finding(at, root.as_str())));
        }
        if file.path.ends_with("package-lock.json") {
            let hosts = file.text.match_indices("\"resolved\"");
            found.extend(hosts.map(|(at, _)| file.finding(at, "the address of a package host")));
        }
    }
    found
}
