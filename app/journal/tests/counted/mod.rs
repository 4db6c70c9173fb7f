//! How often a fault is tried, and where the count goes: of the tests here, and of the stories in a browser. Never here: the
//! faults.

use std::fs::OpenOptions;
use std::io::Write;

/// How often: the short sample of every test run, unless `cargo xtask harden` asks for more through this variable.
pub fn times(variable: &str, sample: usize) -> usize {
    let asked = std::env::var(variable).ok();
    asked.and_then(|it| it.parse().ok()).unwrap_or(sample)
}

/// Adds a row to the table that `cargo xtask harden` makes. Told only after every one of them was survived.
pub fn tell(fault: &str, tried: usize, found: &str) {
    let Some(file) = std::env::var_os("EVENROW_HARDENED") else {
        return;
    };
    let mut file = OpenOptions::new()
        .create(true)
        .append(true)
        .open(file)
        .expect("the file of the counts");
    // One write a row: tests run beside each other.
    let row = format!("{fault}\t{tried}\t{found}\n");
    file.write_all(row.as_bytes()).expect("a row of the counts");
}
