//! What two readings of the clocks say: that the app did not run for a while, or that the phone's clock was moved.
//!
//! A phone has two clocks. One shows the time of day and can be set; the other only counts on, and may stand still while
//! the phone sleeps. The app reads both every second. Never here: reading them (the app does), and what is done about it
//! (`state`).

use core::time::Duration;

use evenrow_rules::quantity::{Instant, Span};

/// The app did not run if nothing was read for longer than this. A browser lets a hidden page run once a minute.
///
/// Basis: house default.
pub const BLIND_AFTER: Duration = Duration::from_mins(2);

/// The time of day was moved if the two clocks come apart by more than this.
///
/// Basis: house default.
pub const JUMP_FROM: Duration = Duration::from_mins(2);

/// One reading of both clocks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Reading {
    /// The time of day.
    pub wall: Instant,
    /// The clock that only counts on.
    pub steady: Duration,
    /// Whether the page was hidden at this reading, or at some moment since the one before.
    pub hidden: bool,
}

/// What a reading says when held against the one before.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Noticed {
    /// All is as it should be.
    Nothing,
    /// The app did not run.
    Blind(Span),
    /// The time of day was moved by so many milliseconds; negative for backwards.
    Jumped(i64),
}

/// Holds a reading against the one before.
///
/// A time of day that falls behind the steady clock was set back, whatever else happened. One that runs ahead of it was
/// moved if the page was seen all the while and the steady clock counted on; else the phone slept.
pub fn compare(before: Reading, now: Reading) -> Noticed {
    let wall_ms = now.wall.unix_ms().saturating_sub(before.wall.unix_ms());
    let steady = now.steady.saturating_sub(before.steady);
    let steady_ms = i64::try_from(steady.as_millis()).unwrap_or(i64::MAX);
    let apart_ms = wall_ms.saturating_sub(steady_ms);
    let limit_ms = JUMP_FROM.as_millis() as i64;
    if apart_ms < -limit_ms {
        return Noticed::Jumped(apart_ms);
    }
    let span = Span::new(before.wall, now.wall.max(before.wall));
    let slept = now.hidden || BLIND_AFTER < steady;
    match (slept, BLIND_AFTER < span.length(), limit_ms < apart_ms) {
        (true, true, true | false) => Noticed::Blind(span),
        (false, true | false, true) => Noticed::Jumped(apart_ms),
        (true, false, true | false) | (false, true | false, false) => Noticed::Nothing,
    }
}

/// What the first reading after a start says, when all that is left of the run before is the time of day it last saw.
pub fn since_last_run(last: Instant, now: Instant) -> Noticed {
    let span = Span::new(last, now.max(last));
    if BLIND_AFTER < span.length() {
        Noticed::Blind(span)
    } else {
        Noticed::Nothing
    }
}
