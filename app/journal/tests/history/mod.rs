//! Shifts as they may go: what operators do in a random order, on clocks that are set back, set forward and carried into
//! other zones. Each history comes from its number, so that one that fails can be had again.
//!
//! Never here: what must hold of them.

use evenrow_journal::event::{Finding, ShiftPlan};
use evenrow_journal::{Command, Entry, Id, Journal, State, wire};
use evenrow_rules::checklist::{Item, List};
use evenrow_rules::quantity::{Instant, Span};
use evenrow_rules::work::{Conditions, Work};
use proptest::collection::vec;
use proptest::prelude::*;
use proptest::sample::select;
use proptest::strategy::ValueTree;
use proptest::test_runner::{Config, RngAlgorithm, TestRng, TestRunner};

use crate::pine_ridge::pine_ridge_2;

/// What a phone wrote, and what it was asked and refused.
#[derive(Clone, Debug, Default)]
pub(crate) struct History {
    /// Every record, in the order in which it was written.
    pub(crate) written: Vec<String>,
    /// What the phone holds of them.
    pub(crate) journal: Journal,
    /// The moments that its clock showed.
    pub(crate) moments: Vec<Instant>,
}

/// How the clock goes on before the next tap.
#[derive(Clone, Copy, Debug)]
enum Clock {
    Passes(i64),
    /// Set back or forward by hours, or by years where the battery was out.
    IsSet(i64),
    /// Carried into another zone, minutes from UTC.
    Zone(i16),
}

/// A random source that gives the same again for the same number.
pub(crate) fn chance(number: usize) -> TestRunner {
    let mut seed = [0; 32];
    seed[..8].copy_from_slice(&(number as u64).to_le_bytes());
    TestRunner::new_with_rng(
        Config::default(),
        TestRng::from_seed(RngAlgorithm::ChaCha, &seed),
    )
}

/// A value of a strategy.
pub(crate) fn drawn<T>(of: &impl Strategy<Value = T>, chance: &mut TestRunner) -> T {
    of.new_tree(chance).expect("a value").current()
}

/// The history of this number: a machine, a shift, and up to forty taps.
pub(crate) fn history(number: usize) -> History {
    let mut history = History::default();
    let mut now = 1_781_503_200_000 + 6 * 3_600_000;
    let mut zone = -360;
    history.asks(now, zone, pine_ridge_2());
    history.asks(now, zone, Command::StartShift(plan(now + 3_600_000)));
    for (clock, command) in drawn(&vec((clock(), command()), 4..40), &mut chance(number)) {
        match clock {
            Clock::Passes(minutes) | Clock::IsSet(minutes) => now += minutes * 60_000,
            Clock::Zone(minutes) => zone = minutes,
        }
        let command = if matches!(command, Command::StartShift(_)) {
            // A shift is planned by the clock that the phone shows.
            Command::StartShift(plan(now))
        } else {
            command
        };
        history.asks(now, zone, command);
    }
    history
}

impl History {
    /// Asks, and keeps what comes of it as the app does. A refusal leaves nothing.
    pub(crate) fn asks(&mut self, now: i64, zone: i16, command: Command) {
        let at = Instant::from_unix_ms(now);
        self.moments.push(at);
        for event in State::fold(&self.journal)
            .decide(command)
            .unwrap_or_default()
        {
            let count = self.journal.next_count();
            let record = wire::write(&Entry {
                id: id(&format!("entry-{count}")),
                count,
                at,
                offset_minutes: zone,
                device: id("cab"),
                event,
            });
            self.journal.take(&record);
            self.written.push(record);
        }
    }
}

fn id(text: &str) -> Id {
    Id::new(text).unwrap()
}

fn plan(start: i64) -> ShiftPlan {
    let at = |hours: i64| Instant::from_unix_ms(start + hours * 3_600_000);
    ShiftPlan {
        start: at(0),
        end: at(8),
        breaks: vec![Span::new(at(4), at(5))],
    }
}

fn clock() -> impl Strategy<Value = Clock> {
    prop_oneof![
        8 => (0_i64..90).prop_map(Clock::Passes),
        1 => (-26_i64 * 60..26 * 60).prop_map(Clock::IsSet),
        1 => select(vec![-20_i64, -1, 1, 20]).prop_map(|years| Clock::IsSet(years * 525_960)),
        1 => select(vec![-720_i16, -360, 0, 120, 180, 345, 840]).prop_map(Clock::Zone),
    ]
}

fn command() -> impl Strategy<Value = Command> {
    let finding = select(vec![
        Finding::AllTurning,
        Finding::SomeNot {
            stiff: 2,
            stuck: 1,
            broken: 0,
        },
    ]);
    let work = (select(Work::ALL.to_vec()), any::<bool>());
    prop_oneof![
        2 => work.prop_map(|(work, soft)| Command::UseSetup {
            work,
            known: Conditions { soft: Some(soft), ..Conditions::default() },
        }),
        3 => Just(Command::Oil),
        2 => finding.prop_map(Command::Look),
        1 => Just(Command::StartBreak),
        1 => Just(Command::EndBreak),
        2 => "[a-zå<=\"\\\\ ]{1,40}".prop_map(Command::Note),
        1 => (select(List::Opening.items()), any::<bool>()).prop_map(|(item, done): (Item, bool)| {
            Command::Mark { list: List::Opening, item, done }
        }),
        1 => any::<i32>().prop_map(|ms| Command::NoteJump { by_ms: i64::from(ms) }),
        1 => Just(Command::EndShift),
        1 => Just(Command::StartShift(plan(0))),
    ]
}
