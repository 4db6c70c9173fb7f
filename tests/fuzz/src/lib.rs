//! What is asked of any bytes: each target panics where a promise is broken, and the engine looks for bytes that reach it.
//!
//! Never here: the engine. `cargo xtask fuzz <target> <seconds>` brings it; every test run tries the bytes that ever
//! broke something (`crashers`) and a few to begin with.

use evenrow_journal::{Journal, State, backup, wire};
use evenrow_rules::quantity::Instant;

// The command line's own modules: it is a program, and no crate can call one.
#[path = "../../../app/rules/examples/ask/answers.rs"]
mod answers;
#[path = "../../../app/rules/examples/ask/asked.rs"]
mod asked;
#[path = "../../../app/rules/examples/ask/help.rs"]
#[expect(dead_code, reason = "nobody asks for help here")]
mod help;
#[path = "../../../app/rules/examples/ask/sheet.rs"]
mod sheet;
#[path = "../../../app/rules/examples/ask/trouble.rs"]
mod trouble;
#[path = "../../../app/rules/examples/ask/when.rs"]
mod when;

/// A record is read as it stands or not at all, and what is read is written again without loss.
pub fn wire(bytes: &[u8]) {
    let text = String::from_utf8_lossy(bytes);
    let mut journal = Journal::default();
    for line in text.lines() {
        if let Ok(entry) = wire::read(line) {
            let written = wire::write(&entry);
            assert_eq!(wire::read(&written).as_ref(), Ok(&entry), "{line}");
        }
        journal.take(line);
        assert!(journal.holds(line));
    }
    shown(&journal);
}

/// Any file gets an answer; what it brings is taken in once, and a backup of it brings the same.
pub fn import(bytes: &[u8]) {
    let Ok(found) = backup::read(bytes.to_vec()) else {
        return;
    };
    let mut here = Journal::default();
    let preview = backup::preview(&found.records, &here);
    here.merge(&found.records);
    assert_eq!(preview.new.len(), here.records().count());
    assert!(
        backup::preview(&found.records, &here).new.is_empty(),
        "taken in twice"
    );
    let file = backup::write(here.records(), moment(), "fuzz");
    let again = backup::read(file.into_bytes()).map(|it| it.records);
    assert_eq!(again.as_ref(), Ok(&here));
    shown(&here);
}

/// Every line is answered by one line, whatever it says.
pub fn ask(bytes: &[u8]) {
    for line in bytes.split(|byte| *byte == b'\n') {
        let answer = asked::read(line)
            .and_then(|asked| answers::answer(&asked))
            .unwrap_or_else(trouble::Trouble::told)
            .to_string();
        assert!(!answer.contains('\n'), "more than a line: {answer}");
    }
}

fn shown(journal: &Journal) {
    let state = State::fold(journal);
    for shift in &state.shifts {
        evenrow_journal::export::report(&state, shift, moment());
    }
}

fn moment() -> Instant {
    Instant::from_unix_ms(1_781_546_400_000)
}
