//! `harden`: many faults, counted into a table of the repo. Long, and not part of the CI, which tries a sample of the same.

use crate::{Outcome, build, project, run, setup};
use std::process::Command;

/// Where the counts stand.
const TABLE: &str = "tests/journals/hardened.md";

/// How many shift histories end with the death of the browser, unless told otherwise.
const HISTORIES: u32 = 200;

/// Random journals, and the places in each that are damaged.
const JOURNALS: u32 = 200;
const PLACES: u32 = 1000;

const HEADING: &str = "\
# Faults survived

Written by `cargo xtask harden`, which stops at the first fault that is not survived. `cargo xtask test` tries a sample of
the same. Survived means: every confirmed record is there byte for byte, a sentence says what is the matter, and no screen
is dead.

| fault | tried | what was found |
| --- | ---: | --- |
";

pub(crate) fn run(arguments: &[String]) -> Outcome {
    let many = |word: &String| {
        let many = word.parse::<u32>();
        many.map_err(|_| format!("{word} is no number."))
    };
    let (histories, journals) = match arguments {
        [] => (HISTORIES, JOURNALS),
        [histories] => (many(histories)?, JOURNALS),
        [histories, journals] => (many(histories)?, many(journals)?),
        [..] => {
            return Err(
                "it takes a number of shift histories, one of journals, or nothing.".into(),
            );
        }
    };
    let root = project::root()?;
    let ourselves = std::env::current_exe()
        .map_err(|error| format!("this program cannot find itself: {error}."))?;
    let tools = setup::for_testing()?;
    let dist = build::build(&tools.building)?;
    let counts = root.join("target/hardened.tsv");
    project::write(&counts, b"")?;
    let test = |package: &str, test: &str| {
        let mut cargo = run::cargo();
        cargo
            .args(["test", "--quiet", "--locked", "--package", package])
            .args(["--test", test])
            .current_dir(&root)
            .env("EVENROW_HARDENED", &counts);
        cargo
    };
    run::run(
        test("evenrow-journal", "hardened")
            .env("EVENROW_JOURNALS", journals.to_string())
            .env("EVENROW_PLACES", PLACES.to_string()),
    )?;
    let stories: &mut Command = &mut test("evenrow-browser-tests", "stories");
    run::run(
        stories
            .args(["--", "hardened::", "soak::", "model::"])
            .env("EVENROW_HISTORIES", histories.to_string())
            .env("EVENROW_MODELS", histories.div_ceil(10).to_string())
            .env("EVENROW_DIST", &dist)
            .env("EVENROW_HOST", &ourselves)
            .env("EVENROW_CHROMIUM", &tools.browser)
            .env("EVENROW_CHROMEDRIVER", &tools.driver),
    )?;
    let table = table(&project::read_text(&counts)?);
    project::write(&root.join(TABLE), table.as_bytes())?;
    println!("\n{table}\nWritten to {TABLE}.");
    Ok(())
}

/// The table of rows as the tests told them, in the order of their names, for tests run beside each other.
fn table(rows: &str) -> String {
    let mut lines: Vec<String> = rows
        .lines()
        .map(|row| format!("| {} |\n", row.split('\t').collect::<Vec<_>>().join(" | ")))
        .collect();
    lines.sort();
    format!("{HEADING}{}", lines.concat())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_rows_stand_in_the_order_of_their_names_whichever_test_ended_first() {
        let told = table("b\t2\tkept\na\t1\tkept too\n");
        assert!(told.ends_with("| ---: | --- |\n| a | 1 | kept too |\n| b | 2 | kept |\n"));
    }
}
