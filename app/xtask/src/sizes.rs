//! `sizes`: what a new phone fetches before its first screen, what one with records reads besides, packed; what stands in the
//! program; and gates that hold all of it.
//!
//! Never here: how fast it is (`measure`, `lighthouse`), and what else `dist/` holds (`pack`).

use crate::{Outcome, build, nothing_more, pack, project, setup};
use std::collections::BTreeMap;
use std::path::Path;

/// The program with the names of its functions, before it is divided and made small.
const NAMED: &str = "target/wasm32-unknown-unknown/release/evenrow-web.wasm";

/// How many contributors are named.
const LARGEST: usize = 20;

/// What has to come before the first screen: a part, what is aimed at, and the gate, in thousands of bytes under brotli.
/// A gate stands a little above what is reached, and comes down with it.
struct Weight {
    part: Part,
    name: &'static str,
    goal: usize,
    gate: usize,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Part {
    Program,
    Scripts,
    Style,
    Page,
    Words,
    /// Not before the first screen of a new phone; one with records has kept it, and reads it from there.
    Records,
}

const WEIGHTS: [Weight; 5] = [
    Weight {
        part: Part::Program,
        name: "program (wasm)",
        goal: 130,
        gate: 97,
    },
    Weight {
        part: Part::Scripts,
        name: "JavaScript",
        goal: 12,
        gate: 12,
    },
    Weight {
        part: Part::Style,
        name: "style sheet",
        goal: 12,
        gate: 8,
    },
    Weight {
        part: Part::Page,
        name: "page",
        goal: 6,
        gate: 4,
    },
    Weight {
        part: Part::Words,
        name: "the longest words of one language",
        goal: 15,
        gate: 6,
    },
];

const WHOLE_GOAL: usize = 180;
const WHOLE_GATE: usize = 125;

/// What works with records is fetched while a new phone shows its first screen; it has a gate and no goal of its own.
const RECORDS_GATE: usize = 117;

impl Part {
    /// Which part of the first load a file belongs to, if it does.
    fn of(path: &str) -> Option<Part> {
        let ends = |end: &str| path.ends_with(end);
        if path == "index.html" {
            Some(Part::Page)
        } else if ends(".css") {
            Some(Part::Style)
        } else if path.starts_with("words/") {
            Some(Part::Words)
        } else if path == "sw.js" || path.starts_with("split_later") {
            // Fetched once the app has started.
            None
        } else if path.starts_with("split_work") || path.starts_with("chunk_") {
            Some(Part::Records)
        } else if ends(".js") {
            Some(Part::Scripts)
        } else if ends(".wasm") {
            Some(Part::Program)
        } else {
            None
        }
    }
}

pub(crate) fn run(arguments: &[String]) -> Outcome {
    nothing_more(arguments)?;
    let dist = build::build(&setup::for_building()?)?;
    let held = held(&dist);
    let named = project::read(&project::root()?.join(NAMED))?;
    println!("\nThe largest in the program before it is made small, in bytes:");
    for (name, bytes) in largest(&named)? {
        println!("{bytes:>9}  {name}");
    }
    held
}

/// Says what the first load weighs, and fails where a part is heavier than its gate.
pub(crate) fn held(dist: &Path) -> Outcome {
    let paths = project::files_below(dist)?;
    let packed = pack::brotli_sizes(dist, &paths);
    if packed.is_empty() {
        return Err("Node is needed to pack the files: `cargo xtask setup`.".to_string());
    }
    let sizes: Vec<(String, usize)> = paths.into_iter().zip(packed).collect();
    let (told, short) = judged(&sizes);
    println!("{told}");
    if short.is_empty() {
        Ok(())
    } else {
        Err(short.join("\n"))
    }
}

/// A table of the first load, what a start with records reads besides, and a sentence for each that is above its gate.
fn judged(sizes: &[(String, usize)]) -> (String, Vec<String>) {
    let mut lines = vec![format!(
        "{:>8} {:>6} {:>6}  before the first screen of a new phone, kB under brotli",
        "now", "gate", "goal"
    )];
    let mut short = Vec::new();
    let mut row = |name: &str, bytes: usize, gate: usize, goal: &str| {
        let now = bytes as f64 / 1000.0;
        lines.push(format!("{now:>8.1} {gate:>6} {goal:>6}  {name}"));
        if gate * 1000 < bytes {
            short.push(format!(
                "{name}: {now:.1} kB, and should be {gate} at most."
            ));
        }
    };
    let mut whole = 0;
    for Weight {
        part,
        name,
        goal,
        gate,
    } in WEIGHTS
    {
        let of = of(part, sizes);
        // A phone fetches the words of one language.
        let bytes = if part == Part::Words {
            of.max().unwrap_or_default()
        } else {
            of.sum()
        };
        row(name, bytes, gate, &goal.to_string());
        whole += bytes;
    }
    row("all of it", whole, WHOLE_GATE, &WHOLE_GOAL.to_string());
    let records = of(Part::Records, sizes).sum();
    let name = "what works with records (wasm): fetched meanwhile, kept for every later start";
    row(name, records, RECORDS_GATE, "");
    let with_records = (whole + records) as f64 / 1000.0;
    lines.push(format!(
        "{with_records:>8.1}                what a start with records reads, from the phone itself"
    ));
    (lines.join("\n"), short)
}

/// The sizes of the files of a part.
fn of(part: Part, sizes: &[(String, usize)]) -> impl Iterator<Item = usize> {
    let of = sizes
        .iter()
        .filter(move |(path, _)| Part::of(path) == Some(part));
    of.map(|(_, size)| *size)
}

/// What takes the most room in a program that says the names of its functions: modules of ours, and the crates under them.
fn largest(wasm: &[u8]) -> Outcome<Vec<(String, usize)>> {
    let broken = |error: wasmparser::BinaryReaderError| format!("{NAMED} cannot be read: {error}.");
    let (mut imported, mut sizes, mut names) = (0, Vec::new(), BTreeMap::new());
    for payload in wasmparser::Parser::new(0).parse_all(wasm) {
        let payload = payload.map_err(broken)?;
        if let wasmparser::Payload::ImportSection(imports) = payload {
            for import in imports.into_imports() {
                let import = import.map_err(broken)?;
                imported += usize::from(matches!(import.ty, wasmparser::TypeRef::Func(_)));
            }
        } else if let wasmparser::Payload::CodeSectionEntry(body) = payload {
            sizes.push(body.as_bytes().len());
        } else if let wasmparser::Payload::CustomSection(section) = payload
            && let wasmparser::KnownCustom::Name(subsections) = section.as_known()
        {
            for subsection in subsections {
                // A compiler may say more than the reader knows; of functions it says enough.
                let Ok(wasmparser::Name::Function(all)) = subsection else {
                    continue;
                };
                for naming in all {
                    let naming = naming.map_err(broken)?;
                    names.insert(naming.index as usize, naming.name);
                }
            }
        }
    }
    let mut contributors: BTreeMap<String, usize> = BTreeMap::new();
    for (at, size) in sizes.into_iter().enumerate() {
        let name = names
            .get(&(imported + at))
            .copied()
            .unwrap_or("without a name");
        *contributors.entry(contributor(name)).or_default() += size;
    }
    let mut contributors: Vec<_> = contributors.into_iter().collect();
    contributors.sort_by_key(|(name, size)| (std::cmp::Reverse(*size), name.clone()));
    contributors.truncate(LARGEST);
    Ok(contributors)
}

/// A module of ours wherever its name stands, for code that others make for our types is ours; else the crate.
fn contributor(name: &str) -> String {
    let name = format!("{:#}", rustc_demangle::demangle(name));
    let ours = ["evenrow_web", "evenrow_journal", "evenrow_rules"];
    let at = ours.iter().filter_map(|it| name.find(it)).min();
    let from = at.map_or(name.trim_start_matches(['<', '&']), |at| &name[at..]);
    let depth = if at.is_some() { 3 } else { 1 };
    let path = from
        .split(['<', '>', ' ', ',', '(', '{', '['])
        .next()
        .unwrap_or(from);
    let parts: Vec<_> = path
        .split("::")
        .filter(|it| !it.is_empty())
        .take(depth)
        .collect();
    parts.join("::")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn files(program: usize, records: usize) -> Vec<(String, usize)> {
        [
            ("index.html", 3_000),
            ("style-1.css", 7_000),
            ("words/en.txt", 5_000),
            ("words/de.txt", 6_000),
            ("boot.js", 2_000),
            ("sw.js", 90_000),
            ("split_later-1.wasm", 900_000),
            ("split_work-1.wasm", 30_000),
            ("chunk_3-1.wasm", records),
            ("evenrow-web-1.wasm", program),
        ]
        .map(|(path, size)| (path.to_string(), size))
        .to_vec()
    }

    #[test]
    fn a_part_above_its_gate_is_named_and_what_comes_after_the_start_is_not_counted() {
        let (_, short) = judged(&files(90_000, 80_000));
        assert_eq!(short, Vec::<String>::new());
        let (_, short) = judged(&files(300_000, 90_000));
        assert_eq!(
            short,
            [
                "program (wasm): 300.0 kB, and should be 97 at most.",
                "all of it: 318.0 kB, and should be 125 at most.",
                "what works with records (wasm): fetched meanwhile, kept for every later start: 120.0 kB, and \
                 should be 117 at most."
            ]
        );
    }

    #[test]
    fn a_function_belongs_to_the_module_of_ours_that_stands_in_its_name() {
        for (name, wanted) in [
            (
                "evenrow_web::screens::row::Row::{{closure}}",
                "evenrow_web::screens::row",
            ),
            (
                "<alloc::vec::Vec<evenrow_journal::wire::Tree> as Drop>::drop",
                "evenrow_journal::wire::Tree",
            ),
            ("core::fmt::write", "core"),
        ] {
            assert_eq!(contributor(name), wanted);
        }
    }
}
