//! `test`: every check of the project, in the order in which a failure is cheapest to find. The CI runs this and no more.

use crate::{Outcome, build, is_quick, lighthouse, project, run, setup, sizes, tidy};
use std::path::Path;
use std::process::Command;
use std::time::Instant;

pub(crate) fn run(arguments: &[String]) -> Outcome {
    let quick = is_quick(arguments)?;
    let started = Instant::now();
    // Asked before the steps: they may build this very program anew, and then it no longer finds itself.
    let ourselves = std::env::current_exe()
        .map_err(|error| format!("this program cannot find itself: {error}."))?;
    let tools = step("setup", || {
        if quick {
            setup::for_compiling()?;
            return Ok(None);
        }
        setup::for_testing().map(Some)
    })?;
    step("tidy", || tidy::run(&[]))?;
    step("format", || cargo("fmt --all --check"))?;
    step("lints, this computer", || {
        cargo("clippy --quiet --locked --workspace --all-targets -- -D warnings")
    })?;
    for features in ["", " --features panic-on-purpose"] {
        step(&format!("lints, the phone{features}"), || {
            cargo(&format!(
                "clippy --quiet --locked --package evenrow-web --target wasm32-unknown-unknown{features} -- -D warnings",
            ))
        })?;
    }
    step("tests of the crates", || {
        cargo("test --quiet --locked --workspace --exclude evenrow-browser-tests")
    })?;
    if let Some(tools) = tools {
        step("what comes from outside", || {
            run::run(
                Command::new(&tools.deny)
                    .args(["--locked", "--log-level", "error"])
                    .args(["check", "licenses", "bans", "sources"])
                    .current_dir(project::root()?),
            )
        })?;
        let root = project::root()?;
        let dist = step("build", || build::build(&tools.building))?;
        step("sizes", || sizes::held(&dist))?;
        step("lighthouse", || {
            lighthouse::judged(&tools, &dist, lighthouse::Goal::NobodyKeptOut)
        })?;
        let panics = step("build that panics", || {
            build::build_that_panics(&tools.building)
        })?;
        let stories = |words: &str| {
            run::run(
                run::cargo()
                    .args("test --quiet --locked --package evenrow-browser-tests".split(' '))
                    .args(words.split(' '))
                    .current_dir(&root)
                    .env("EVENROW_DIST", &dist)
                    .env("EVENROW_DIST_PANIC", &panics)
                    .env("EVENROW_HOST", &ourselves)
                    .env("EVENROW_AXE", &tools.axe)
                    .env("EVENROW_CHROMIUM", &tools.browser)
                    .env("EVENROW_CHROMEDRIVER", &tools.driver)
                    .env("EVENROW_FIREFOX", &tools.firefox)
                    .env("EVENROW_GECKODRIVER", &tools.geckodriver)
                    .env("EVENROW_WEBKIT", &tools.webkit)
                    .env("EVENROW_WEBKITDRIVER", &tools.webkit_driver)
                    .env("EVENROW_XVFB", &tools.screen),
            )
        };
        step("stories in Chromium", || {
            stories("-- --skip in_firefox:: --skip in_webkit::")
        })?;
        // One engine after the other, so that each says which it is and how long it took.
        let firefox = version(&tools.firefox, &["--version"]);
        step(&format!("stories in Firefox ({firefox})"), || {
            stories("--test stories -- in_firefox::")
        })?;
        // WebKit's own programs tell their version only on a screen; the package tells it anywhere.
        let webkit = version("dpkg-query".as_ref(), &["--show", "webkit2gtk-driver"]);
        step(&format!("stories in WebKit ({webkit})"), || {
            stories("--test stories -- in_webkit::")
        })?;
    }
    println!(
        "\nAll is well, after {:.0} s.",
        started.elapsed().as_secs_f64()
    );
    Ok(())
}

/// Does one step under its title and says how long it took; a failure names the step.
fn step<T>(title: &str, work: impl FnOnce() -> Outcome<T>) -> Outcome<T> {
    println!("\n== {title}");
    let started = Instant::now();
    let result = work().map_err(|trouble| format!("{trouble}\nFAILED at: {title}"))?;
    println!("== {title}: {:.1} s", started.elapsed().as_secs_f64());
    Ok(result)
}

fn version(program: &Path, arguments: &[&str]) -> String {
    let said = run::answer(Command::new(program).args(arguments));
    said.unwrap_or_else(|| "of a version that it does not tell".to_string())
        .replace('\t', " ")
}

fn cargo(words: &str) -> Outcome {
    run::run(
        run::cargo()
            .args(words.split(' '))
            .current_dir(project::root()?),
    )
}
