//! Programs that a story starts: each in a process group of its own, which ends with the story, even one that fails.
//!
//! Groups are ended by their id, never by name. A driver ended alone would leave its browser behind.

use std::env;
use std::ffi::OsString;
use std::io::{BufRead, BufReader, Read, sink};
use std::os::unix::process::CommandExt;
use std::process::{Child, Command, Stdio};
use std::sync::mpsc;
use std::time::Duration;

/// A variable that `cargo xtask test` hands over.
///
/// # Panics
///
/// When it is missing: nothing can be tested without it, and passing over it would look like success.
pub fn required(name: &str) -> OsString {
    env::var_os(name)
        .unwrap_or_else(|| panic!("{name} is not set: run the stories through `cargo xtask test`"))
}

/// How often a program is started before it is given up.
pub(crate) const TRIES: usize = 3;

/// How long a program may take until it has said its port. Generous, for a loaded computer.
const PATIENCE: Duration = Duration::from_mins(1);

/// A program with everything that it has started.
#[derive(Debug)]
pub struct Group {
    leader: Child,
}

impl Group {
    /// Starts a program and waits until it prints a line with this sign; the number after it is the port it listens on.
    ///
    /// # Panics
    ///
    /// When the program cannot be started, or does not say its port.
    pub fn start(command: &mut Command, sign: &str) -> (Group, u16) {
        let name = command.get_program().display().to_string();
        // A driver now and then loses its port to another that starts at the same moment, and gives up.
        let started = (0..TRIES).find_map(|_| Group::try_to_start(command, sign));
        started.unwrap_or_else(|| panic!("{name} did not say {sign:?} and a port"))
    }

    /// Starts a program that never says when it is ready.
    ///
    /// # Panics
    ///
    /// When the program cannot be started.
    pub fn start_silent(command: &mut Command) -> Group {
        let leader = spawned(command.stdout(Stdio::null()));
        Group { leader }
    }

    fn try_to_start(command: &mut Command, sign: &str) -> Option<(Group, u16)> {
        let mut leader = spawned(command.stdout(Stdio::piped()));
        let output = leader.stdout.take();
        let group = Group { leader };
        let mut output = BufReader::new(output.expect("the output was piped"));
        let (say, said) = mpsc::channel();
        let sign = sign.to_owned();
        std::thread::spawn(move || {
            // Nobody listens any more once patience has run out.
            let _ = say.send(port_after(&sign, &mut output));
            // A program whose output nobody reads stops when the pipe is full.
            std::io::copy(&mut output, &mut sink())
        });
        let port = said.recv_timeout(PATIENCE).ok().flatten()?;
        Some((group, port))
    }

    /// Ends the program and everything that it has started, at once and without a chance to tidy up.
    pub fn end(self) {
        drop(self);
    }
}

impl Drop for Group {
    fn drop(&mut self) {
        let group = format!("-{}", self.leader.id());
        // Already gone is as good as ended.
        drop(
            Command::new("kill")
                .args(["-KILL", "--", &group])
                .stderr(Stdio::null())
                .status(),
        );
        drop(self.leader.wait());
    }
}

fn spawned(command: &mut Command) -> Child {
    let name = command.get_program().display().to_string();
    command
        .stdin(Stdio::null())
        .stderr(Stdio::null())
        .process_group(0)
        .spawn()
        .unwrap_or_else(|error| panic!("{name} cannot be started: {error}"))
}

fn port_after(sign: &str, output: &mut BufReader<impl Read>) -> Option<u16> {
    output.lines().map_while(Result::ok).find_map(|line| {
        let (_, after) = line.split_once(sign)?;
        let digits: String = after.chars().take_while(char::is_ascii_digit).collect();
        digits.parse().ok()
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_port_is_read_from_the_line_that_carries_the_sign() {
        let said = "Starting up\nserving http://127.0.0.1:40123/\n";
        let port = port_after("http://127.0.0.1:", &mut BufReader::new(said.as_bytes()));
        assert_eq!(port, Some(40_123));
        assert_eq!(
            port_after("listening", &mut BufReader::new(said.as_bytes())),
            None
        );
    }
}
