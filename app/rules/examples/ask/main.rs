//! Questions to the rules from a command line: one JSON request per line in, one JSON answer per line out.
//!
//! A developer's and checker's door. It speaks plain English, which the crate itself may not, and it never dies on a bad
//! line: that is answered with `{"error": "..."}`. `ask --help` says what can be asked.
//!
//! Never here: a rule. Whatever is computed, `evenrow_rules` computes.

mod answers;
mod asked;
mod help;
mod sheet;
#[cfg(test)]
mod tests;
mod trouble;
mod when;

use std::io::{self, BufRead, BufReader, BufWriter, Read, Write};
use std::process::ExitCode;

use serde_json::Value;

use trouble::Trouble;

/// A longer line is no question but a mistake; it is passed over without being held in memory.
const LONGEST_LINE: u64 = 8 * 1024 * 1024;

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let outcome = match arguments.as_slice() {
        [] => converse(
            &mut BufReader::new(io::stdin()),
            &mut BufWriter::new(io::stdout()),
        ),
        [word] if word == "--help" || word == "-h" => write!(io::stdout(), "{}", help::text()),
        [..] => {
            eprintln!("ask takes --help or nothing; the questions are read from standard input.");
            return ExitCode::from(2);
        }
    };
    match outcome {
        Ok(()) => ExitCode::SUCCESS,
        // Whoever read the answers has read enough.
        Err(error) if error.kind() == io::ErrorKind::BrokenPipe => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("ask could not read or write on: {error}.");
            ExitCode::FAILURE
        }
    }
}

/// Answers every line until there are no more.
fn converse(questions: &mut BufReader<impl Read>, answers: &mut impl Write) -> io::Result<()> {
    let mut line = Vec::new();
    loop {
        line.clear();
        let read = questions
            .by_ref()
            .take(LONGEST_LINE)
            .read_until(b'\n', &mut line)?;
        if read == 0 {
            return answers.flush();
        }
        let complete = line.last() == Some(&b'\n');
        let answer = if !complete && LONGEST_LINE <= read as u64 {
            pass_over_the_rest(questions)?;
            Trouble::of(format!(
                "the line is longer than {LONGEST_LINE} bytes; one request is one shorter line."
            ))
            .told()
        } else {
            answer(&line)
        };
        writeln!(answers, "{answer}")?;
        // Whoever asks by hand wants the answer before the next question; a pipe is quicker with many at once.
        if questions.buffer().is_empty() {
            answers.flush()?;
        }
    }
}

fn pass_over_the_rest(questions: &mut impl BufRead) -> io::Result<()> {
    loop {
        let held = questions.fill_buf()?;
        if held.is_empty() {
            return Ok(());
        }
        let end = held.iter().position(|&byte| byte == b'\n');
        let passed = end.map_or(held.len(), |at| at + 1);
        questions.consume(passed);
        if end.is_some() {
            return Ok(());
        }
    }
}

/// The answer to one line, whatever it holds.
fn answer(line: &[u8]) -> Value {
    asked::read(line)
        .and_then(|asked| answers::answer(&asked))
        .unwrap_or_else(Trouble::told)
}
