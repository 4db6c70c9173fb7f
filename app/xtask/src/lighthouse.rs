//! `lighthouse`: what Lighthouse says of the packed build on a slow phone, on the first start and on a shift that runs.
//!
//! `app/xtask/npm/lighthouse.mjs` measures; the goals stand here. The build is served packed, as a good host does. Never
//! here: a way to count a screen that was not measured.

use crate::setup::{NPM_FOLDER, TestTools};
use crate::{Outcome, build, host, nothing_more, project, run, setup};
use std::path::{Path, PathBuf};
use std::process::Command;

/// The screens that are measured; one missing is a failure.
const SCREENS: [&str; 2] = ["first start", "shift"];
const CATEGORIES: [&str; 3] = ["performance", "accessibility", "best practices"];

/// Packs each file that it is given beside it.
const PACK: &str = "const { brotliCompressSync } = require('zlib'); const { readFileSync, writeFileSync } = require('fs'); \
     for (const path of process.argv.slice(1)) writeFileSync(`${path}.br`, brotliCompressSync(readFileSync(path)));";

/// What has to be reached.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Goal {
    /// All of it.
    Whole,
    /// All but the speed, which wavers on a computer that has other work to do.
    NobodyKeptOut,
}

impl Goal {
    /// The least of each category, out of 100.
    fn least(self) -> [u32; 3] {
        match self {
            Goal::Whole => [95, 100, 100],
            Goal::NobodyKeptOut => [0, 100, 100],
        }
    }
}

pub(crate) fn run(arguments: &[String]) -> Outcome {
    nothing_more(arguments)?;
    let tools = setup::for_testing()?;
    let dist = build::build(&tools.building)?;
    judged(&tools, &dist, Goal::Whole)
}

/// Measures the build, says what came of it, and fails where it falls short of the goal.
pub(crate) fn judged(tools: &TestTools, dist: &Path, goal: Goal) -> Outcome {
    let said = measured(tools, dist)?;
    println!("{said}");
    let short = falls_short(&said, goal)?;
    if short.is_empty() {
        Ok(())
    } else {
        Err(short.join("\n"))
    }
}

fn measured(tools: &TestTools, dist: &Path) -> Outcome<String> {
    let root = project::root()?;
    let address = served(packed(dist, &root.join("target/lighthouse"))?)?;
    let output = Command::new("node")
        .arg(root.join(NPM_FOLDER).join("lighthouse.mjs"))
        .arg(&tools.npm)
        .arg(address)
        .arg(&tools.browser)
        .output()
        .map_err(|error| format!("node cannot be started: {error}."))?;
    if output.status.success() {
        Ok(String::from_utf8_lossy(&output.stdout)
            .trim_end()
            .to_string())
    } else {
        Err(format!(
            "Lighthouse did not come to its end: {}",
            String::from_utf8_lossy(&output.stderr).trim()
        ))
    }
}

/// Serves a folder to this computer until this program ends, and says where.
pub(crate) fn served(site: PathBuf) -> Outcome<String> {
    let listener = host::listen(0)?;
    let address = listener
        .local_addr()
        .map_err(|error| format!("the server's own address cannot be read: {error}."))?;
    std::thread::spawn(move || host::serve(&site, &listener, |_| ()));
    Ok(format!("http://{address}/"))
}

/// A copy of the build with every file packed beside itself.
pub(crate) fn packed(dist: &Path, site: &Path) -> Outcome<PathBuf> {
    if site.exists() {
        std::fs::remove_dir_all(site)
            .map_err(|error| format!("{} cannot be removed: {error}.", site.display()))?;
    }
    let paths = project::files_below(dist)?;
    for path in &paths {
        project::write(&site.join(path), &project::read(&dist.join(path))?)?;
    }
    run::run(
        Command::new("node")
            .args(["-e", PACK, "--"])
            .args(&paths)
            .current_dir(site),
    )?;
    Ok(site.to_path_buf())
}

/// Where the scores fall short of the goal; that a screen is missing is trouble of its own.
fn falls_short(said: &str, goal: Goal) -> Outcome<Vec<String>> {
    let mut short = Vec::new();
    for screen in SCREENS {
        let scores =
            scores(said, screen).ok_or_else(|| format!("the {screen} was not measured."))?;
        for ((name, got), least) in CATEGORIES.iter().zip(scores).zip(goal.least()) {
            if got < least {
                short.push(format!(
                    "{screen}: {name} is {got} and should be {least} or more."
                ));
            }
        }
    }
    Ok(short)
}

/// The three scores of a screen.
fn scores(said: &str, screen: &str) -> Option<[u32; 3]> {
    let mut lines = said.lines().filter_map(|line| line.split_once('\t'));
    let (_, scores) = lines.find(|(name, _)| *name == screen)?;
    let scores: Option<Vec<u32>> = scores.split('\t').map(|score| score.parse().ok()).collect();
    scores?.try_into().ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    const SAID: &str =
        "first start\t96\t100\t100\n\t0.9\tLargest Contentful Paint 2.6 s\nshift\t88\t100\t96\n";

    #[test]
    fn what_falls_short_is_named_with_its_goal() {
        assert_eq!(
            falls_short(SAID, Goal::Whole),
            Ok(vec![
                "shift: performance is 88 and should be 95 or more.".to_string(),
                "shift: best practices is 96 and should be 100 or more.".to_string(),
            ])
        );
    }

    #[test]
    fn a_loaded_computer_fails_no_test_for_its_speed() {
        let short = falls_short(SAID, Goal::NobodyKeptOut).expect("scores");
        assert_eq!(short.len(), 1, "{short:?}");
    }

    #[test]
    fn a_screen_that_was_not_measured_is_no_success() {
        for said in [
            "",
            "shift\t100\t100\t100",
            "first start\t100\t100\nshift\t100\t100\t100",
        ] {
            assert!(falls_short(said, Goal::Whole).is_err(), "{said}");
        }
    }
}
