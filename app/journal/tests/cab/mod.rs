//! A phone in a cab on a gravel shift: what it writes when it is asked, and what it reads back. Never here: what comes
//! of it.

use std::time::Duration;

use evenrow_journal::event::ShiftPlan;
use evenrow_journal::{Command, Entry, Id, Journal, State, wire};
use evenrow_rules::quantity::{Instant, Span};
use evenrow_rules::work::{Conditions, Moisture, Work};
use proptest::collection::vec;
use proptest::prelude::*;

use crate::pine_ridge::pine_ridge_2;

pub(crate) fn id(text: &str) -> Id {
    Id::new(text).unwrap()
}

/// What a phone has written after these commands, each at its moment; the offset of its zone is asked for each.
pub(crate) fn written(
    offset_minutes: impl Fn(Instant) -> i16,
    asked: Vec<(Instant, Command)>,
) -> Vec<Entry> {
    let mut state = State::default();
    let mut entries = Vec::new();
    for (at, command) in asked {
        // A refusal writes nothing.
        for event in state.decide(command).unwrap_or_default() {
            let count = entries.len() as u64 + 1;
            let entry = Entry {
                id: id(&format!("entry-{count}")),
                count,
                at,
                offset_minutes: offset_minutes(at),
                device: id("cab"),
                event,
            };
            state.apply(&entry);
            entries.push(entry);
        }
    }
    entries
}

/// The state that is read back from these entries, byte for byte as they are stored.
pub(crate) fn read_back(entries: &[Entry]) -> State {
    let mut journal = Journal::default();
    for entry in entries {
        journal.take(&wire::write(entry));
    }
    State::fold(&journal)
}

/// A shift like this on gravel, dry and dusty, from before its start on: three oilings.
pub(crate) fn gravel_shift(plan: ShiftPlan) -> Vec<(Instant, Command)> {
    let before = plan.start.minus(Duration::from_mins(8));
    let gravel = Command::UseSetup {
        work: Work::Gravel,
        known: Conditions {
            moisture: Some(Moisture::Dusty),
            ..Conditions::default()
        },
    };
    [pine_ridge_2(), Command::StartShift(plan), gravel]
        .map(|command| (before, command))
        .to_vec()
}

/// A gravel shift of eight and a half hours with half an hour's lunch after four, and these taps, each so many minutes
/// after its start.
pub(crate) fn day_of(start: Instant, taps: Vec<(u64, Command)>) -> Vec<(Instant, Command)> {
    let after = |minutes| start.plus(Duration::from_mins(minutes));
    let mut asked = gravel_shift(ShiftPlan {
        start,
        end: after(510),
        breaks: vec![Span::new(after(240), after(270))],
    });
    let taps = taps.into_iter();
    asked.extend(taps.map(|(minutes, command)| (after(minutes), command)));
    asked
}

/// What an operator may do in a shift, so many minutes after its start, in the order of time.
pub(crate) fn taps() -> impl Strategy<Value = Vec<(u64, Command)>> {
    let command = prop_oneof![
        2 => Just(Command::Oil),
        1 => Just(Command::StartBreak),
        1 => Just(Command::EndBreak),
        1 => Just(Command::Note("Alder Loop to the bridge".to_owned())),
        1 => Just(Command::EndShift),
        1 => Just(Command::UseSetup {
            work: Work::PackedSnow,
            known: Conditions::default(),
        }),
    ];
    vec((0_u64..510, command), 0..12).prop_map(|mut taps| {
        taps.sort_by_key(|(minutes, _)| *minutes);
        taps
    })
}
