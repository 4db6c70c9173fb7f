//! Starting other programs, and saying plainly how they ended.

use crate::Outcome;
use std::process::{Command, Stdio};

/// The cargo that runs this chore, or the one on PATH.
pub(crate) fn cargo() -> Command {
    Command::new(std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into()))
}

/// Runs a program with this terminal as its own; an end other than well is trouble.
pub(crate) fn run(command: &mut Command) -> Outcome {
    let shown = shown(command);
    let status = command
        .status()
        .map_err(|error| format!("`{shown}` cannot be started: {error}."))?;
    if status.success() {
        Ok(())
    } else {
        Err(format!("`{shown}` ended with {status}."))
    }
}

/// What a program prints, if it can be started and ends well.
pub(crate) fn answer(command: &mut Command) -> Option<String> {
    let output = command
        .stdin(Stdio::null())
        .stderr(Stdio::null())
        .output()
        .ok()?;
    output
        .status
        .success()
        .then(|| String::from_utf8_lossy(&output.stdout).trim().to_string())
}

/// The call as a person would type it, without the folders of the program.
pub(crate) fn shown(command: &Command) -> String {
    let program = std::path::Path::new(command.get_program());
    let name = program.file_name().unwrap_or(command.get_program());
    std::iter::once(name)
        .chain(command.get_args())
        .map(|word| word.to_string_lossy())
        .collect::<Vec<_>>()
        .join(" ")
}
