//! `cargo run --release -p evenrow-journal --example ten_seasons [records]`: the records of ten seasons in an invented
//! district, a line each, for whoever measures what many records cost. Never here: what is measured.

use evenrow_journal::event::{Finding, ShiftPlan};
use evenrow_journal::journal::Journal;
use evenrow_journal::{Command, Entry, Id, State, wire};
use evenrow_rules::checklist::List;
use evenrow_rules::machine::{FOOT, LONG_PLATE, SHORT_PLATE, USUAL_PITCH};
use evenrow_rules::quantity::{Instant, Span};
use evenrow_rules::work::{Conditions, Work};
use std::io::Write;
use std::time::Duration;

/// How many records ten seasons leave: ten years of two hundred shifts a year, with some fifty records each.
pub(crate) const MANY: usize = 100_000;

/// Seven in the morning of the first of June 2016, in a zone six hours behind UTC.
const FIRST_MORNING_MS: i64 = 1_464_786_000_000;

/// Spreads counts over all bits: 2 to the 64 over the golden ratio, to the next odd number.
const SPREAD: u64 = 0x9e37_79b9_7f4a_7c15;
const DAY: Duration = Duration::from_hours(24);

/// A phone that is worked with.
struct Cab {
    journal: Journal,
    state: State,
    records: Vec<String>,
}

impl Cab {
    /// Asks for something, and keeps what comes of it as the app does.
    fn asks(&mut self, at: Instant, command: Command) {
        let events = self.state.decide(command);
        for event in events.unwrap_or_default() {
            let count = self.journal.next_count();
            let record = wire::write(&Entry {
                // As those of the app, but for the random half.
                id: Id::counted(count, count.wrapping_mul(SPREAD)),
                count,
                at,
                offset_minutes: -360,
                device: Id::counted(0, SPREAD),
                event,
            });
            let change = self.journal.take_all(core::slice::from_ref(&record));
            self.state.follow(&self.journal, change);
            self.records.push(record);
        }
    }

    /// A shift of eight hours: a work, a look and oilings through the day, both checklists, and notes.
    fn works(&mut self, morning: Instant, number: usize) {
        let at = |minutes: u64| morning.plus(Duration::from_mins(minutes));
        self.asks(
            morning,
            Command::StartShift(ShiftPlan {
                start: morning,
                end: at(480),
                breaks: vec![Span::new(at(240), at(270))],
            }),
        );
        for &item in List::Opening.items() {
            let list = List::Opening;
            self.asks(
                at(1),
                Command::Mark {
                    list,
                    item,
                    done: true,
                },
            );
        }
        let work = Work::ALL[number % Work::ALL.len()];
        let known = Conditions::default();
        self.asks(at(5), Command::UseSetup { work, known });
        for hour in 0..8 {
            let at = |minutes: u64| at(hour * 60 + minutes);
            if hour % 3 == 0 {
                self.asks(at(10), Command::Oil);
            }
            let finding = if (number + hour as usize).is_multiple_of(9) {
                Finding::SomeNot {
                    stiff: 2,
                    stuck: 1,
                    broken: 0,
                }
            } else {
                Finding::AllTurning
            };
            self.asks(at(20), Command::Look(finding));
            self.asks(at(30), Command::StartBreak);
            self.asks(at(35), Command::EndBreak);
            let note = format!("Alder Loop, post {}", number * 8 + hour as usize);
            self.asks(at(50), Command::Note(note));
        }
        for &item in List::Closing.items() {
            let list = List::Closing;
            self.asks(
                at(478),
                Command::Mark {
                    list,
                    item,
                    done: true,
                },
            );
        }
        self.asks(at(480), Command::EndShift);
    }
}

/// So many records and those that end the last shift, the oldest first.
pub(crate) fn records(many: usize) -> Vec<String> {
    let mut cab = Cab {
        journal: Journal::default(),
        state: State::default(),
        records: Vec::new(),
    };
    let mut morning = Instant::from_unix_ms(FIRST_MORNING_MS);
    cab.asks(
        morning,
        Command::DescribeMachine {
            name: "Pine Ridge 2".to_owned(),
            moldboard: FOOT.times(13),
            plates: (SHORT_PLATE, LONG_PLATE),
            pitch: USUAL_PITCH,
        },
    );
    let mut number = 0;
    while cab.records.len() < many {
        cab.works(morning, number);
        number += 1;
        morning = morning.plus(DAY);
    }
    cab.records
}

fn main() {
    let many = std::env::args().nth(1);
    let many = many.map_or(MANY, |it| it.parse().expect("a number of records"));
    let text = records(many).join("\n");
    // Whoever reads may have had enough.
    drop(std::io::stdout().write_all(text.as_bytes()));
}
