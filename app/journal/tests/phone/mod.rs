//! A phone in the cab that decides, writes and reads as the real one does.
//!
//! Never here: what is asked of it.

use evenrow_journal::{Command, Entry, Id, Journal, State, wire};
use evenrow_rules::quantity::Instant;

/// An id.
pub(crate) fn id(text: &str) -> Id {
    Id::new(text).unwrap()
}

/// The phone in the cab, and the machine described on it.
pub(crate) fn cab() -> Id {
    id("cab")
}

/// A time on the clock in the cab on 15 June 2026, six hours behind UTC.
pub(crate) fn clock(hours: i64, minutes: i64) -> Instant {
    Instant::from_unix_ms(1_781_503_200_000 + (hours * 60 + minutes) * 60_000)
}

/// A phone that keeps what it does.
#[derive(Default)]
pub(crate) struct Phone {
    /// All of it.
    pub(crate) journal: Journal,
}

impl Phone {
    /// Does something at a moment; the id of the last entry that came of it.
    #[track_caller]
    pub(crate) fn does(&mut self, at: Instant, command: Command) -> Id {
        let mut last = None;
        for event in self.state().decide(command).unwrap() {
            let count = self.journal.next_count();
            let entry = Entry {
                id: id(&format!("entry-{count}")),
                count,
                at,
                offset_minutes: -360,
                device: cab(),
                event,
            };
            self.journal.take(&wire::write(&entry));
            last = Some(entry.id);
        }
        last.unwrap()
    }

    /// What is true on it.
    pub(crate) fn state(&self) -> State {
        State::fold(&self.journal)
    }
}
