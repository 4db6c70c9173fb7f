//! `fuzz`: any bytes at all on one target, steered by what they reach. What breaks a promise becomes a file in
//! tests/fuzz/crashers, which every test run then tries.
//!
//! The engine is compiled in and counts which edges of the code a run takes; the compiler puts the counters in, which
//! ordinary builds leave out. All of it stays below target/fuzz.

use crate::{Outcome, project, run};
use std::process::Command;

const TARGETS: [&str; 3] = ["wire", "import", "ask"];

/// Counters on every edge, as the engine wants them; debug assertions stay on, for an overflow is a broken promise too.
const FLAGS: &str = "-Cpasses=sancov-module -Cllvm-args=-sanitizer-coverage-level=4 \
     -Cllvm-args=-sanitizer-coverage-inline-8bit-counters -Cllvm-args=-sanitizer-coverage-pc-table \
     -Cllvm-args=-sanitizer-coverage-trace-compares -Cdebug-assertions=on -Coverflow-checks=on \
     -Ccodegen-units=1 -Copt-level=2";

/// Longer inputs only slow it down; a record is shorter.
const LONGEST: u32 = 4096;

pub(crate) fn run(arguments: &[String]) -> Outcome {
    let [target, seconds] = arguments else {
        return Err(format!(
            "it takes a target ({}) and for how many seconds to try it.",
            TARGETS.join(", ")
        ));
    };
    if !TARGETS.contains(&target.as_str()) {
        return Err(format!(
            "there is no target {target}, only {}.",
            TARGETS.join(", ")
        ));
    }
    let seconds: u32 = seconds
        .parse()
        .map_err(|_| format!("{seconds} is no number of seconds."))?;
    let root = project::root()?;
    let place = root.join("target/fuzz");
    let host = host()?;
    run::run(
        run::cargo()
            .args(["build", "--locked", "--package", "evenrow-fuzz"])
            .args(["--features", "engine", "--bin", target])
            // With a target named, programs that only help to build go without counters.
            .args(["--target", &host, "--target-dir"])
            .arg(&place)
            .current_dir(&root)
            .env("CARGO_INCREMENTAL", "0")
            .env("RUSTFLAGS", FLAGS),
    )?;
    let found = place.join("found").join(target);
    std::fs::create_dir_all(&found)
        .map_err(|error| format!("{} cannot be made: {error}.", found.display()))?;
    let crashers = root.join("tests/fuzz/crashers");
    run::run(
        Command::new(place.join(host).join("debug").join(target))
            .arg(&found)
            .arg(root.join("tests/journals"))
            .arg(format!("-max_total_time={seconds}"))
            .arg(format!("-max_len={LONGEST}"))
            .arg(format!("-artifact_prefix={}/{target}-", crashers.display()))
            .args(["-print_final_stats=1", "-timeout=10", "-verbosity=1"]),
    )
    .map_err(|trouble| format!("{trouble} The bytes are in tests/fuzz/crashers: keep them there."))
}

/// This computer, as the compiler calls it.
fn host() -> Outcome<String> {
    let told = run::answer(Command::new("rustc").arg("-vV")).unwrap_or_default();
    told.lines()
        .find_map(|line| line.strip_prefix("host: "))
        .map(str::to_string)
        .ok_or_else(|| "rustc does not say which computer this is.".to_string())
}
