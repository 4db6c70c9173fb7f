//! `measure`: how fast the packed app starts and answers on a slow phone, beside a bare counter of the same framework, and
//! what the rules and many records cost; written into the table of DEVELOPERS.md.
//!
//! `app/xtask/npm/measure.mjs` measures; the goals stand here. Every number comes with its ratio to another of the same run,
//! for computers differ. Long, and not part of the CI. Never here: a number of another run.

use crate::setup::{NPM_FOLDER, TestTools};
use crate::{Outcome, build, is_quick, lighthouse, project, run, setup};
use std::fmt::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::{Instant, SystemTime};

const COUNTER: &str = "tests/counter";
const BEFORE: &str = "<!-- measured: written by `cargo xtask measure` -->\n";
const AFTER: &str = "<!-- measured: end -->";
const FILE: &str = "DEVELOPERS.md";

/// What is to be reached: a number, what it is held against, and the most that it may be of it.
struct Goal {
    what: &'static str,
    of: Option<&'static str>,
    most: f64,
}

const fn ratio(what: &'static str, of: &'static str, most: f64) -> Goal {
    Goal {
        what,
        of: Some(of),
        most,
    }
}

const fn most(what: &'static str, most: f64) -> Goal {
    Goal {
        what,
        of: None,
        most,
    }
}

const COUNTERS_PAINT: &str = "counter: first paint ms";

/// In the order in which the table shows them.
const GOALS: &[Goal] = &[
    ratio("app, empty: next due visible ms", COUNTERS_PAINT, 1.6),
    ratio("app, ten seasons: next due visible ms", COUNTERS_PAINT, 2.2),
    ratio(
        "app, empty, kept, without a network: next due visible ms",
        COUNTERS_PAINT,
        1.6,
    ),
    ratio(
        "app, ten seasons, kept, without a network: next due visible ms",
        COUNTERS_PAINT,
        2.2,
    ),
    most("app, empty: shift: slowest answer to a tap ms", 100.0),
    most("app, empty: row: slowest answer to a tap ms", 100.0),
    most("app, ten seasons: shift: slowest answer to a tap ms", 100.0),
    most("app, ten seasons: row: slowest answer to a tap ms", 100.0),
    most("app, empty: script of a usual second ms", 1.0),
    most("app, ten seasons: script of a usual second ms", 1.0),
    most("app, empty: script of a usual second, unthrottled ms", 1.0),
    most(
        "app, ten seasons: script of a usual second, unthrottled ms",
        1.0,
    ),
    most(
        "app, ten seasons: book: longest block while scrolling ms",
        50.0,
    ),
    most("sheets of all ten works/all known us", 50.0),
    most("due times of a usual day with what became of them us", 5.0),
    most("line of 10000 readings us", 1000.0),
    most("match of 104 bad teeth and 104 spares us", 100.0),
    most("fold of 100,000 records us", 60_000.0),
    ratio(
        "one more record after 100000 us",
        "one more record after 10 us",
        1.2,
    ),
    most("bytes a record", 120.0),
    // Fifty thousand a second.
    most("a question of any kind to ask us", 20.0),
    most(TESTED, 15.0),
];

const TESTED: &str = "cargo xtask test, with everything built min";

/// How often each question is asked.
const ROUNDS: usize = 10_000;

pub(crate) fn run(arguments: &[String]) -> Outcome {
    let quick = is_quick(arguments)?;
    let tools = setup::for_testing()?;
    let root = project::root()?;
    let mut numbers = Numbers::new();
    if !quick {
        numbers.extend(of_the_chores(&tools, &root)?);
    }
    numbers.extend(on_a_phone(&tools, &root)?);
    numbers.extend(of_the_crates(&root)?);
    numbers.push(of_questions(&root)?);
    let table = table(&numbers);
    let text = project::read_text(&root.join(FILE))?;
    let text = put_between(&text, &table)?;
    project::write(&root.join(FILE), text.as_bytes())?;
    println!("\n{table}\nWritten to {FILE}.");
    Ok(())
}

/// Each number with its name.
type Numbers = Vec<(String, f64)>;

/// How long the chores take that somebody waits for: the app built after a change, and all tests with everything built.
fn of_the_chores(tools: &TestTools, root: &Path) -> Outcome<Numbers> {
    let ourselves = std::env::current_exe()
        .map_err(|error| format!("this program cannot find itself: {error}."))?;
    build::build(&tools.building)?;
    let changed = root.join("app/web/src/main.rs");
    std::fs::File::options()
        .write(true)
        .open(&changed)
        .and_then(|file| file.set_modified(SystemTime::now()))
        .map_err(|error| format!("{} cannot be touched: {error}.", changed.display()))?;
    let started = Instant::now();
    build::build(&tools.building)?;
    let built = started.elapsed().as_secs_f64();
    // The first time builds what the second finds built.
    run::run(Command::new(&ourselves).args(["test", "--quick"]))?;
    build::build_that_panics(&tools.building)?;
    let started = Instant::now();
    run::run(Command::new(&ourselves).arg("test"))?;
    let tested = started.elapsed().as_secs_f64() / 60.0;
    Ok(vec![
        ("the app built after a change s".to_string(), built),
        (TESTED.to_string(), tested),
    ])
}

/// What `ask` takes for a question on one core: the examples of its help, over and over.
fn of_questions(root: &Path) -> Outcome<(String, f64)> {
    let example = "--quiet --release --locked --package evenrow-rules --example ask";
    let help = run::answer(
        run::cargo()
            .arg("run")
            .args(example.split(' '))
            .args(["--", "--help"])
            .current_dir(root),
    );
    let help = help.ok_or("`ask --help` did not end well.")?;
    let questions: Vec<_> = help
        .lines()
        .map(str::trim)
        .filter(|line| line.starts_with("{\"ask\""))
        .collect();
    if questions.is_empty() {
        return Err("`ask --help` shows no question.".to_string());
    }
    let file = root.join("target/questions.jsonl");
    let text = format!("{}\n", questions.join("\n")).repeat(ROUNDS);
    project::write(&file, text.as_bytes())?;
    let read = std::fs::File::open(&file)
        .map_err(|error| format!("{} cannot be read: {error}.", file.display()))?;
    let started = Instant::now();
    run::run(
        Command::new(root.join("target/release/examples/ask"))
            .stdin(read)
            .stdout(Stdio::null()),
    )?;
    let took = started.elapsed().as_secs_f64() * 1e6;
    let each = took / (questions.len() * ROUNDS) as f64;
    Ok(("a question of any kind to ask us".to_string(), each))
}

fn on_a_phone(tools: &TestTools, root: &Path) -> Outcome<Numbers> {
    let app = build::build(&tools.building)?;
    let counter = counter(&tools.building, root)?;
    let records = root.join("target/ten_seasons.jsonl");
    let ten_seasons = run::answer(
        run::cargo()
            .args(
                "run --quiet --release --locked --package evenrow-journal --example ten_seasons"
                    .split(' '),
            )
            .current_dir(root),
    );
    let ten_seasons = ten_seasons.ok_or("the records of ten seasons could not be made.")?;
    project::write(&records, ten_seasons.as_bytes())?;
    let served = |built: &Path, name: &str| {
        let site = lighthouse::packed(built, &root.join("target").join(name))?;
        lighthouse::served(site)
    };
    let output = Command::new("node")
        .arg(root.join(NPM_FOLDER).join("measure.mjs"))
        .arg(&tools.npm)
        .arg(&tools.browser)
        .arg(served(&counter, "measured-counter")?)
        .arg(served(&app, "measured-app")?)
        .arg(&records)
        .output()
        .map_err(|error| format!("node cannot be started: {error}."))?;
    if !output.status.success() {
        return Err(format!(
            "measuring did not come to its end: {}",
            String::from_utf8_lossy(&output.stderr).trim()
        ));
    }
    Ok(numbers(&String::from_utf8_lossy(&output.stdout)))
}

/// Lines of a name, a tab and a number.
fn numbers(said: &str) -> Numbers {
    let lines = said.lines().filter_map(|line| line.split_once('\t'));
    let read = lines.filter_map(|(name, number)| Some((name.to_string(), number.parse().ok()?)));
    read.collect()
}

fn counter(tools: &setup::Tools, root: &Path) -> Outcome<PathBuf> {
    let dist = root.join("target/counter");
    // Trunk would have the counter fetch what the app has left here.
    let left = root.join("target/wasm-bindgen");
    if left.exists() {
        std::fs::remove_dir_all(&left)
            .map_err(|error| format!("{} cannot be removed: {error}.", left.display()))?;
    }
    run::run(
        Command::new(&tools.trunk)
            .args(["build", "--release", "--dist"])
            .arg(&dist)
            .current_dir(root.join(COUNTER))
            .env("PATH", &tools.path)
            // In place of the project's own, which leave in what only the splitter takes out again.
            .env("RUSTFLAGS", "--cfg erase_components")
            .env_remove("NO_COLOR"),
    )?;
    Ok(dist)
}

/// What criterion says of the crates, each by its middle estimate, in microseconds.
fn of_the_crates(root: &Path) -> Outcome<Numbers> {
    let mut numbers = Numbers::new();
    for package in ["evenrow-rules", "evenrow-journal"] {
        let said = run::answer(
            run::cargo()
                .args(["bench", "--quiet", "--locked", "--package", package])
                .current_dir(root),
        );
        let said = said.ok_or_else(|| format!("the benchmarks of {package} did not end well."))?;
        numbers.extend(estimates(&said));
    }
    Ok(numbers)
}

/// `name  time:   [a us b us c us]`, where a long name has a line of its own; and plain counts, such as `169 bytes a record`.
fn estimates(said: &str) -> Numbers {
    let mut numbers = Numbers::new();
    let mut line_before = "";
    for line in said.lines() {
        if let Some((name, rest)) = line.split_once("time:") {
            let name = if name.trim().is_empty() {
                line_before
            } else {
                name.trim()
            };
            let words: Vec<_> = rest.trim().trim_matches(['[', ']']).split(' ').collect();
            if let [_, _, middle, unit, ..] = words.as_slice()
                && let (Ok(middle), Some(us)) = (middle.parse::<f64>(), in_us(unit))
            {
                numbers.push((format!("{name} us"), middle * us));
            }
        } else if let Some((count, what)) = line.trim().split_once(' ')
            && what.ends_with(" a record")
            && let Ok(count) = count.parse()
        {
            numbers.push((what.to_string(), count));
        }
        line_before = line.trim();
    }
    numbers
}

fn in_us(unit: &str) -> Option<f64> {
    match unit {
        "ns" => Some(0.001),
        "µs" | "us" => Some(1.0),
        "ms" => Some(1_000.0),
        "s" => Some(1_000_000.0),
        _ => None,
    }
}

fn table(numbers: &Numbers) -> String {
    let found = |name: &str| {
        numbers
            .iter()
            .find(|(known, _)| known == name)
            .map(|(_, it)| *it)
    };
    let mut text =
        "| measured | number | goal | reached |\n| --- | ---: | ---: | --- |\n".to_string();
    for goal in GOALS {
        let number = found(goal.what);
        let held = match goal.of {
            None => number,
            Some(of) => number.zip(found(of)).map(|(number, of)| number / of),
        };
        let (shown, reached) = match held {
            None => ("not measured".to_string(), "no"),
            Some(held) => (told(held), if held <= goal.most { "yes" } else { "no" }),
        };
        let what = goal.of.map_or_else(
            || goal.what.to_string(),
            |of| format!("{} : {of}", goal.what),
        );
        let most = told(goal.most);
        let _ = writeln!(text, "| {what} | {shown} | {most} | {reached} |");
    }
    text += "\n| for the record | number |\n| --- | ---: |\n";
    for (name, number) in numbers {
        let _ = writeln!(text, "| {name} | {} |", told(*number));
    }
    text
}

fn told(number: f64) -> String {
    let places = match number.abs() {
        ..10.0 => 2,
        ..100.0 => 1,
        _ => 0,
    };
    format!("{number:.places$}")
}

/// The text with the table in the place of the one before.
fn put_between(text: &str, table: &str) -> Outcome<String> {
    let missing = || format!("{FILE} has no place for the table: {BEFORE}…{AFTER}");
    let (before, rest) = text.split_once(BEFORE).ok_or_else(missing)?;
    let (_, after) = rest.split_once(AFTER).ok_or_else(missing)?;
    Ok(format!("{before}{BEFORE}{table}{AFTER}{after}"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_middle_estimate_of_each_benchmark_is_read_whatever_its_unit_and_however_long_its_name() {
        let said = "Benchmarking a sheet\na sheet      time:   [1.0 µs 2.5 µs 3.0 µs]\n\
             a very long name\n             time:   [400.0 ns 500.0 ns 1.1 µs]\n169 bytes a record\n";
        assert_eq!(
            estimates(said),
            [
                ("a sheet us".to_string(), 2.5),
                ("a very long name us".to_string(), 0.5),
                ("bytes a record".to_string(), 169.0),
            ]
        );
    }

    #[test]
    fn what_is_missed_or_was_not_measured_is_said_so() {
        let numbers =
            numbers("counter: first paint ms\t1000\napp, empty: next due visible ms\t1700\n");
        let table = table(&numbers);
        assert!(table.contains("| 1.70 | 1.60 | no |"), "{table}");
        assert!(table.contains("| not measured |"), "{table}");
    }

    #[test]
    fn the_table_takes_the_place_of_the_one_before() {
        let text = format!("a\n{BEFORE}old\n{AFTER}\nb");
        let after = put_between(&text, "new\n").expect("a place");
        assert_eq!(after, format!("a\n{BEFORE}new\n{AFTER}\nb"));
        assert!(put_between("a", "new").is_err());
    }
}
