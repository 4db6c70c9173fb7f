//! For each check a bad text that it must find and good ones that it must pass.

use super::{CHECKS, Tree};

type Files = &'static [(&'static str, &'static str)];

struct Sample {
    check: &'static str,
    bad: Files,
    good: Files,
}

const SAMPLES: &[Sample] = &[
    Sample {
        check: "header",
        bad: &[
            ("app/web/src/a.rs", "fn a() {}"),
            ("style/a.css", "a {}"),
            ("public/a.js", "a();"),
        ],
        good: &[
            ("app/web/src/a.rs", "//! A."),
            ("style/a.css", "/* A. */"),
            ("public/a.js", "// A."),
            ("a.md", "A"),
        ],
    },
    Sample {
        check: "top",
        bad: &[("notes.txt", ""), ("tools/a.rs", "")],
        good: &[
            ("Cargo.toml", ""),
            ("app/web/index.html", ""),
            (".ci/run", ""),
        ],
    },
    Sample {
        check: "browser",
        bad: &[
            ("app/web/src/main.rs", "use web_sys::window;"),
            ("app/web/src/parts/a.rs", "js_sys::Date::now()"),
            (
                "app/web/src/screens/a.rs",
                "wasm_bindgen_futures::spawn_local(a)",
            ),
        ],
        good: &[
            ("app/web/src/device/clock.rs", "js_sys::Date::now()"),
            (
                "app/web/src/main.rs",
                "// web_sys stays in device\nuse leptos::prelude::*;",
            ),
        ],
    },
    Sample {
        check: "context",
        bad: &[(
            "app/web/src/parts/a.rs",
            "let desk = expect_context::<Desk>();",
        )],
        good: &[(
            "app/web/src/screens/a.rs",
            "let desk = expect_context::<Desk>();",
        )],
    },
    Sample {
        check: "html",
        bad: &[
            ("app/web/src/parts/a.rs", "<p inner_html=text/>"),
            ("public/a.js", "a.innerHTML = b;"),
        ],
        good: &[
            ("app/web/src/parts/a.rs", "<p>{text}</p>"),
            ("public/a.js", "a.textContent = b;"),
        ],
    },
    Sample {
        check: "catch-all",
        bad: &[
            ("app/rules/src/a.rs", "match a { A => 1, _ => 2 }"),
            ("app/rules/src/b.rs", "match a { A => 1,\n    (_, _) => 2 }"),
            ("app/journal/src/a.rs", "match a { _ if b => 2 }"),
            ("app/journal/src/b.rs", "match a { A | _ => 2, (..) => 3 }"),
        ],
        good: &[
            (
                "app/rules/src/a.rs",
                "match a { (A, _) => 1, B(_) => 2, C { .. } => 3 }",
            ),
            (
                "app/rules/src/b.rs",
                "let _ = if a { 1 } else { 2 }; list.map(|_| 1); f(_a)",
            ),
            (
                "app/rules/src/c.rs",
                "#[cfg(test)]\nmod tests { fn a() { match b { _ => 1 } } }",
            ),
            ("app/web/src/a.rs", "match a { _ => 1 }"),
        ],
    },
    Sample {
        check: "std",
        bad: &[
            ("app/rules/src/a.rs", "use std::fmt;"),
            ("app/rules/src/b.rs", "extern crate std;"),
        ],
        good: &[
            (
                "app/rules/src/a.rs",
                "#![no_std]\nuse core::fmt; // not std::fmt",
            ),
            ("app/rules/src/b.rs", "#[cfg(test)]\nextern crate std;"),
            ("app/rules/tests/a.rs", "use std::fmt;"),
        ],
    },
    Sample {
        check: "wire",
        bad: &[
            ("app/rules/src/a.rs", "use serde::Serialize;"),
            ("app/journal/src/event.rs", "serde_json::Value"),
        ],
        good: &[
            ("app/journal/src/wire.rs", "use serde::Serialize;"),
            ("app/rules/src/a.rs", "// no serde here"),
        ],
    },
    Sample {
        check: "unwrap",
        bad: &[
            ("app/journal/src/a.rs", "a.unwrap()"),
            ("app/web/src/a.rs", "a.expect(\"b\")"),
        ],
        good: &[
            ("app/journal/src/a.rs", "a.unwrap_or(b)"),
            (
                "app/web/src/a.rs",
                "#[cfg(test)]\nmod tests { fn a() { b.unwrap() } }",
            ),
            ("app/rules/src/a.rs", "/// a.unwrap()"),
        ],
    },
    Sample {
        check: "unfinished",
        bad: &[
            ("app/web/src/a.rs", "todo!()"),
            ("app/web/src/b.rs", "unimplemented!()"),
            ("app/web/src/c.rs", "dbg!(a)"),
            (
                "tests/browser/tests/a.rs",
                "#[test]\n#[ignore = \"slow\"]\nfn a() {}",
            ),
        ],
        good: &[("app/web/src/a.rs", "fn ignore(ignore: bool) {} // todo!")],
    },
    Sample {
        check: "unsafe",
        bad: &[("app/web/src/a.rs", "unsafe { a() }")],
        good: &[(
            "app/web/src/a.rs",
            "#![forbid(unsafe_code)]\nlet a = \"'wasm-unsafe-eval'\";",
        )],
    },
    Sample {
        check: "sentence",
        bad: &[
            ("app/rules/src/a.rs", "\"Oil the sockets.\""),
            ("app/journal/src/a.rs", "\"at {} the shift ended\""),
        ],
        good: &[
            (
                "app/rules/src/a.rs",
                "/// Oil the sockets, \"as they say\".\n#[must_use = \"it is pure\"]\nconst ID: &str = \"oil-sockets\";",
            ),
            (
                "app/journal/src/a.rs",
                "\"BEGIN:VEVENT\"; \"{} {}\"; \"%Y-%m-%d %H\"",
            ),
            (
                "app/rules/src/b.rs",
                "#[cfg(test)]\nmod tests { const A: &str = \"in a test\"; }",
            ),
            ("app/web/src/a.rs", "\"Oil the sockets.\""),
        ],
    },
    Sample {
        check: "doc",
        bad: &[
            (
                "app/rules/src/no_basis.rs",
                "/// One.\n///\n/// Valid: always.\n///\n/// ```\n/// assert_eq!(a(), 1);\n/// ```\npub fn a() -> u8 { 1 }",
            ),
            (
                "app/rules/src/constant.rs",
                "/// A number.\npub const A: u8 = 1;",
            ),
            ("app/rules/src/nothing.rs", "    pub const fn a() {}"),
            (
                "app/rules/src/no_example.rs",
                "/// One.\n///\n/// Valid: always.\n/// Basis: geometry.\npub fn a() -> u8 { 1 }",
            ),
            (
                "app/rules/src/example_not_run.rs",
                "/// One.\n///\n/// Valid: always.\n/// Basis: geometry.\n///\n/// ```text\n/// assert_eq!(a(), 1);\n/// ```\npub fn a() -> u8 { 1 }",
            ),
            (
                "app/rules/src/example_cannot_fail.rs",
                "/// One.\n///\n/// Valid: always.\n/// Basis: geometry.\n///\n/// ```\n/// let one = a();\n/// ```\n/// Then assert!(one == 1).\npub fn a() -> u8 { 1 }",
            ),
            (
                "app/rules/src/no_errors.rs",
                "/// One.\n///\n/// Valid: always.\n/// Basis: geometry.\n///\n/// ```\n/// assert_eq!(a(1), Ok(1));\n/// ```\npub fn a(\n    b: u8,\n) -> Result<u8, B> {\n    Ok(b)\n}",
            ),
        ],
        good: &[
            (
                "app/rules/src/a.rs",
                "/// One.\n///\n/// Valid: always.\n/// Basis: geometry.\n///\n/// ```\n/// assert_eq!(a(), 1);\n/// ```\n#[expect(\n    lint,\n    reason = \"why\"\n)]\npub fn a() -> u8 { 1 }",
            ),
            (
                "app/rules/src/b.rs",
                "/// A number.\n/// Basis: house default.\npub const A: u8 = 1;\nfn b() -> Result<u8, B> {}\npub(crate) fn c() {}",
            ),
            (
                "app/rules/src/c.rs",
                "#[cfg(test)]\nmod tests { \npub fn a() {} }",
            ),
            (
                "app/rules/src/d.rs",
                "/// Checks.\n///\n/// Valid: 1.\n/// Errors: `B` otherwise.\n/// Basis: geometry.\n///\n/// ```rust\n/// let b = 1;\n/// assert!(a(b).is_ok());\n/// ```\npub fn a(\n    b: u8,\n) -> Result<u8, B> {\n    Ok(b)\n}",
            ),
            (
                "app/rules/src/e.rs",
                "/// Calls.\n///\n/// Valid: always.\n/// Basis: arithmetic.\n///\n/// ```\n/// assert_eq!(a(|| Ok(1)), 1);\n/// ```\npub fn a(b: impl Fn() -> Result<u8, B>) -> u8 { 1 }",
            ),
            ("app/journal/src/a.rs", "pub fn a() {}"),
        ],
    },
    Sample {
        check: "basis",
        bad: &[
            (
                "app/rules/src/none.rs",
                "/// A number.\n///\n/// Units: teeth.\nconst A: u8 = 8;",
            ),
            (
                "app/rules/src/free.rs",
                "/// A number.\n///\n/// Units: teeth.\n/// Basis: everybody does it.\npub const A: u8 = 8;",
            ),
            (
                "app/rules/src/points.rs",
                "/// A number.\n///\n/// Units: teeth.\n/// Basis: as given.\npub const A: u8 = 8;",
            ),
            (
                "app/rules/src/no_source.rs",
                "/// A number.\n///\n/// Units: teeth.\n/// Basis: published, a book.\npub const A: u8 = 8;",
            ),
            (
                "app/rules/src/no_unit.rs",
                "/// A number.\n///\n/// Basis: house default.\npub const A: u8 = 8;",
            ),
            (
                "app/rules/src/unread.rs",
                "/// A number.\n///\n/// Basis: house default.\npub const A: Yards = Yards::new(8);",
            ),
            (
                "app/rules/src/function.rs",
                "/// Adds.\n///\n/// Valid: always.\n/// Basis: everybody does it.\npub fn a() {}",
            ),
            (
                "app/rules/src/variant.rs",
                "enum A {\n    /// B.\n    B,\n}\nimpl A {\n    fn basis(self) -> Basis { match self { A::B => Basis::Published(Source::Hearsay) } }\n}",
            ),
        ],
        good: &[
            (
                "app/rules/src/a.rs",
                "/// A number.\n///\n/// Units: teeth.\n/// Basis: published, `Source::En590`, of\n/// all books.\npub const A: u8 = 8;",
            ),
            (
                "app/rules/src/b.rs",
                "/// A length.\n///\n/// Basis: house default.\nconst A: Length = Length::micrometres(8);\nconst B: End = End::Left;",
            ),
            (
                "app/rules/src/c.rs",
                "/// Hands it on.\n///\n/// Valid: always.\n/// Basis: that of [`A`].\npub fn a() {}",
            ),
            (
                "app/rules/src/d.rs",
                "enum A {\n    /// B.\n    B,\n}\nimpl A {\n    fn basis(self) -> Basis { match self { A::B => Basis::Geometry } }\n}",
            ),
            (
                "app/rules/src/e.rs",
                "#[cfg(test)]\nmod tests { const A: u8 = 8; }",
            ),
            ("app/journal/src/a.rs", "const A: u8 = 8;"),
        ],
    },
    Sample {
        check: "bare",
        bad: &[
            ("app/rules/src/a.rs", "fn a(b: f64) -> f64 { b * 0.75 }"),
            ("app/rules/src/b.rs", "fn a() -> u8 { match b { C => 96 } }"),
            (
                "app/rules/src/c.rs",
                "fn a() { within(B, c, 0.0, 1_000.0)?; }",
            ),
        ],
        good: &[
            (
                "app/rules/src/a.rs",
                "const A: f64 = 0.75;\nfn a(b: (f64, f64)) -> f64 { A * b.1 / 2.0 + 0.5 * 1e9 } // 96",
            ),
            (
                "app/rules/src/b.rs",
                "fn a() { within(B, c, 0.0, A.1)?; }\n#[cfg(test)]\nmod tests { fn a() { b(96) } }",
            ),
            (
                "app/rules/src/statistics.rs",
                "fn a() -> f64 { 1.0 / 12.0 }",
            ),
            ("app/web/src/a.rs", "fn a() -> u8 { 96 }"),
        ],
    },
    Sample {
        check: "colour",
        bad: &[
            ("style/parts/a.css", "a { color: #fff }"),
            ("app/web/src/parts/a.rs", "view! { <p fill=\"#00513F\"/> }"),
        ],
        good: &[
            ("style/tokens.css", ":root { --ink: #000; }"),
            ("style/parts/a.css", "a { color: var(--ink); margin: 0 }"),
            ("app/web/src/parts/a.rs", "view! { <a href=\"#row\"/> }"),
        ],
    },
    Sample {
        check: "frame colour",
        bad: &[
            ("style/tokens.css", "--ink: #000000;"),
            ("public/manifest.webmanifest", "\"#123456\""),
        ],
        good: &[
            ("style/tokens.css", "--ink: #00aa00;"),
            ("public/icons/a.svg", "<g id=\"x\" fill=\"#00AA00\"/>"),
        ],
    },
    Sample {
        check: "sleep",
        bad: &[
            ("tests/browser/tests/a.rs", "tokio::time::sleep(a).await"),
            ("tests/browser/src/a.rs", "sleep(a)"),
        ],
        good: &[
            ("tests/browser/src/wait.rs", "sleep(a)"),
            ("tests/browser/tests/a.rs", "wait_for(a).await // no sleep"),
        ],
    },
    Sample {
        check: "selector",
        bad: &[
            ("tests/browser/tests/a.rs", "driver.find(By::Css(\".a\"))"),
            (
                "tests/browser/src/b.rs",
                "run(\"document.querySelector('a')\")",
            ),
        ],
        good: &[(
            "tests/browser/src/pages/a.rs",
            "driver.find(By::Css(\".a\"))",
        )],
    },
    Sample {
        check: "chore",
        bad: &[("README.md", "Call `cargo xtask fly`.")],
        good: &[
            (
                "README.md",
                "Call `cargo xtask test --quick` or `cargo xtask <chore>`.",
            ),
            ("app/a.md", "cargo xtask fly"),
        ],
    },
    Sample {
        check: "machine",
        bad: &[
            ("README.md", concat!("Look into /", "tmp/a.")),
            ("app/web/src/a.rs", concat!("\"/", "home/me\"")),
            (
                "app/xtask/npm/package-lock.json",
                "{ \"resolved\": \"https://example.org/a.tgz\" }",
            ),
        ],
        good: &[(
            "README.md",
            concat!("Look into app/rules/src/", "work/ and ~/.cache."),
        )],
    },
    Sample {
        check: "pins",
        bad: &[
            ("Trunk.toml", "[tools]\nwasm_bindgen = \"0.2.1\"\n"),
            ("app/xtask/npm/package.json", "{}"),
        ],
        good: &[("README.md", "wasm_bindgen = \"0.2.1\"")],
    },
];

#[test]
fn each_check_has_its_samples() {
    for check in CHECKS {
        assert_eq!(
            SAMPLES
                .iter()
                .filter(|sample| sample.check == check.name)
                .count(),
            1,
            "{}",
            check.name
        );
    }
    assert_eq!(SAMPLES.len(), CHECKS.len());
}

#[test]
fn each_check_finds_every_bad_file_and_passes_every_good_one() {
    for sample in SAMPLES {
        let check = CHECKS
            .iter()
            .find(|check| check.name == sample.check)
            .expect("a check of that name");
        let found: Vec<_> = (check.find)(&Tree::of(sample.bad))
            .iter()
            .map(ToString::to_string)
            .collect();
        let may_pass = |path: &str| sample.check == "frame colour" && path == "style/tokens.css";
        for (path, _) in sample.bad.iter().filter(|(path, _)| !may_pass(path)) {
            assert!(
                found
                    .iter()
                    .any(|found| found.starts_with(&format!("{path}:"))),
                "{}: {path}",
                sample.check
            );
        }
        let wrongly: Vec<_> = (check.find)(&Tree::of(sample.good))
            .iter()
            .map(ToString::to_string)
            .collect();
        assert_eq!(wrongly, [""; 0], "{}", sample.check);
    }
}
