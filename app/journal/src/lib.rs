//! Memory: what the operator recorded goes in as events, the state of the day comes out.
//!
//! One tap becomes a [`Command`]; [`State::decide`] may refuse it, with a reason, or turns it into events. Events are
//! facts in the past tense and never change; a mistake is struck by another event. State is always the fold of the
//! journal, and folding cannot fail.
//!
//! Never here: the present time and random numbers (they are handed in), storage, and words for the operator.

pub mod backup; // all records as one file, and what a file would bring before it is taken in
pub mod books; // what was done and used over time, and what it cost
pub mod calendar; // what the phone's calendar is to ring, as iCalendar; whether that still holds
pub mod checkpoint; // the few records that a start needs
pub mod command; // what may be asked, and why it may be refused
pub mod csv; // tables that open right in a spreadsheet
pub mod day; // the day's plan: what is planned, done, and left, and when
mod decide; // what comes of a command, or why it is refused
pub mod event; // what may have happened
pub mod export; // the shift report, as facts in order
pub mod facts; // state and a moment become what the rules look at
pub mod handover; // the records that a shift needs on another phone
pub mod journal; // all records, the unreadable ones too; merging
pub mod reminder; // what is due, what rings, and when to wake next
pub mod row; // sets, teeth, spares and what was scrapped
pub mod row_facts; // the teeth as the rules look at them
pub mod season; // what a season asks for
pub mod state; // what is true now, and how an event changes it
pub mod watch; // what two readings of the clocks say: asleep, or the clock was moved
pub mod wire; // the only place that knows the bytes

pub use command::{Command, Refusal};
pub use decide::AtWork;
pub use event::{Entry, Event, Id};
pub use journal::Journal;
pub use state::State;
