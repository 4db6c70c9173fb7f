//! What is true now: decide holds every decision and may refuse, apply holds none and cannot fail.

use core::time::Duration;
use std::collections::BTreeMap;

use evenrow_rules::checklist::{Item, List};
use evenrow_rules::machine::{Machine, fit};
use evenrow_rules::quantity::{Instant, Span};
use evenrow_rules::setup::{Sheet, Verdict, advise};
use evenrow_rules::work::{Conditions, Work};

use crate::command::{Command, LONGEST_NAME, LONGEST_NOTE, Refusal};
use crate::event::{Entry, Event, Finding, Id, SheetTaken, ShiftPlan, UsualShift};
use crate::journal::Journal;
use crate::wire::{kept_conditions, kept_length};

/// What is known of the machine.
#[derive(Clone, Debug, PartialEq)]
pub struct NamedMachine {
    /// What the operator calls it.
    pub name: String,
    /// Its moldboard, plates and pitch.
    pub machine: Machine,
}

/// A set-up and from when on it was used.
#[derive(Clone, Debug, PartialEq)]
pub struct SetupInUse {
    /// From when on.
    pub since: Instant,
    /// The work.
    pub work: Work,
    /// What was known.
    pub known: Conditions,
    /// What the sheet said.
    pub sheet: SheetTaken,
}

/// A break as taken.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct BreakTaken {
    /// When it began.
    pub start: Instant,
    /// When it ended; none while it runs.
    pub end: Option<Instant>,
}

/// A jump of the phone's clock.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ClockJump {
    /// The entry that recorded it.
    pub id: Id,
    /// When, by the clock as it stood afterwards.
    pub at: Instant,
    /// By how many milliseconds; negative for backwards.
    pub by_ms: i64,
    /// Whether the new time was said to be right; none before the operator has said so.
    pub moved: Option<bool>,
    /// What had been recorded by then.
    before: Recorded,
}

/// How much of each kind had been recorded at a moment.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Recorded {
    setups: usize,
    oiled: usize,
    looks: usize,
    breaks: usize,
    break_runs: bool,
    notes: usize,
    put_off: usize,
    usual_kept: usize,
    blind: usize,
}

/// Everything recorded of one shift.
#[derive(Clone, Debug, PartialEq)]
pub struct Shift {
    /// Its id: that of the entry which started it.
    pub id: Id,
    /// What the device's zone was ahead of UTC when it started, in minutes.
    pub offset_minutes: i16,
    /// The machine as it was described when the shift started.
    pub machine: Option<NamedMachine>,
    /// As planned.
    pub plan: ShiftPlan,
    /// When it was started on the phone.
    pub started: Instant,
    /// When it ended; none while it runs.
    pub ended: Option<Instant>,
    /// The set-ups used, in order.
    pub setups: Vec<SetupInUse>,
    /// When the sockets were oiled.
    pub oiled: Vec<Instant>,
    /// When somebody looked at the teeth, and what was found.
    pub looks: Vec<(Instant, Finding)>,
    /// Breaks taken.
    pub breaks: Vec<BreakTaken>,
    /// Notes.
    pub notes: Vec<(Instant, String)>,
    /// What is ticked on the checklists, and since when.
    pub marks: BTreeMap<(List, Item), Instant>,
    /// When an oiling that was due was put off, and for how many minutes.
    pub put_off: Vec<(Instant, u8)>,
    /// When the operator refused a shorter interval.
    pub usual_kept: Vec<Instant>,
    /// When the app did not run although something fell due.
    pub blind: Vec<Span>,
    /// Jumps of the phone's clock.
    pub jumps: Vec<ClockJump>,
}

impl Shift {
    /// The set-up in use.
    pub fn setup(&self) -> Option<&SetupInUse> {
        self.setups.last()
    }

    /// Since when a break runs.
    pub fn on_break_since(&self) -> Option<Instant> {
        self.breaks
            .last()
            .filter(|it| it.end.is_none())
            .map(|it| it.start)
    }

    /// The jump of the clock that the operator has not yet been asked about, or has not answered.
    pub fn unanswered_jump(&self) -> Option<&ClockJump> {
        self.jumps.iter().find(|jump| jump.moved.is_none())
    }

    fn recorded(&self) -> Recorded {
        Recorded {
            setups: self.setups.len(),
            oiled: self.oiled.len(),
            looks: self.looks.len(),
            breaks: self.breaks.len(),
            break_runs: self.on_break_since().is_some(),
            notes: self.notes.len(),
            put_off: self.put_off.len(),
            usual_kept: self.usual_kept.len(),
            blind: self.blind.len(),
        }
    }

    /// Moves what was planned, and what was recorded before the clock jumped, with the clock.
    fn move_times(&mut self, before: Recorded, by_ms: i64) {
        let moved = |at: Instant| {
            let by = Duration::from_millis(by_ms.unsigned_abs());
            if by_ms < 0 { at.minus(by) } else { at.plus(by) }
        };
        let moved_span = |span: Span| Span::new(moved(span.start()), moved(span.end()));
        self.plan = ShiftPlan {
            start: moved(self.plan.start),
            end: moved(self.plan.end),
            breaks: self.plan.breaks.iter().copied().map(moved_span).collect(),
        };
        self.started = moved(self.started);
        let setups = self.setups.iter_mut().take(before.setups);
        setups.for_each(|setup| setup.since = moved(setup.since));
        let breaks = self.breaks.iter_mut().take(before.breaks).enumerate();
        for (index, rest) in breaks {
            rest.start = moved(rest.start);
            // One that ran when the clock jumped ended by the new clock.
            let ended_before = !before.break_runs || index + 1 < before.breaks;
            rest.end = rest.end.map(|end| {
                if ended_before {
                    moved(end)
                } else {
                    end.max(rest.start)
                }
            });
        }
        let looks = self.looks.iter_mut().take(before.looks).map(|(at, _)| at);
        let notes = self.notes.iter_mut().take(before.notes).map(|(at, _)| at);
        let put_off = self
            .put_off
            .iter_mut()
            .take(before.put_off)
            .map(|(at, _)| at);
        let oiled = self.oiled.iter_mut().take(before.oiled);
        let usual_kept = self.usual_kept.iter_mut().take(before.usual_kept);
        let all = looks
            .chain(notes)
            .chain(put_off)
            .chain(oiled)
            .chain(usual_kept);
        all.for_each(|at| *at = moved(*at));
        let blind = self.blind.iter_mut().take(before.blind);
        blind.for_each(|span| *span = moved_span(*span));
    }

    /// How many items of a list are ticked.
    pub fn ticked(&self, list: List) -> usize {
        list.items()
            .iter()
            .filter(|&&item| self.marks.contains_key(&(list, item)))
            .count()
    }
}

/// What is true now.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct State {
    /// The machine, once described.
    pub machine: Option<NamedMachine>,
    /// The usual shift, once set.
    pub usual: Option<UsualShift>,
    /// All shifts in the order in which they were started.
    pub shifts: Vec<Shift>,
    /// A newer version of the app has written here: this one only reads.
    pub read_only: bool,
}

impl State {
    /// The state that a journal tells. Any journal, in any order, tells one.
    pub fn fold(journal: &Journal) -> State {
        let mut state = State {
            read_only: journal.is_newer(),
            ..State::default()
        };
        for entry in journal.in_force() {
            state.apply(entry);
        }
        state
    }

    /// The shift that runs.
    pub fn running(&self) -> Option<&Shift> {
        self.shifts.iter().rev().find(|shift| shift.ended.is_none())
    }

    /// A shift by its id.
    pub fn shift(&self, id: &Id) -> Option<&Shift> {
        self.shifts.iter().find(|shift| shift.id == *id)
    }

    /// What would happen if this were done now, or why it may not be.
    pub fn decide(&self, ask: Command) -> Result<Vec<Event>, Refusal> {
        if self.read_only {
            return Err(Refusal::NewerRecords);
        }
        match ask {
            Command::DescribeMachine {
                name,
                moldboard,
                plates,
                pitch,
            } => {
                let name = checked_name(&name)?;
                let machine = Machine::new(
                    kept_length(moldboard),
                    (kept_length(plates.0), kept_length(plates.1)),
                    kept_length(pitch),
                )
                .map_err(Refusal::OutOfRange)?;
                Ok(vec![Event::MachineDescribed { name, machine }])
            }
            Command::SetUsualShift(usual) => Ok(vec![Event::UsualShiftSet(usual)]),
            Command::StartShift(plan) => {
                if let Some(running) = self.running() {
                    return Err(Refusal::ShiftRuns {
                        since: running.plan.start,
                    });
                }
                plan.check()?;
                Ok(vec![Event::ShiftStarted(plan)])
            }
            Command::UseSetup { work, known } => {
                let shift = self.open_shift()?;
                let machine = self.machine.as_ref().ok_or(Refusal::NoMachine)?;
                let known = kept_conditions(&known);
                let sheet = advise(work, &known, &machine.machine);
                if *sheet.verdict.value() == Verdict::DoNot {
                    return Err(Refusal::NotToBeDone);
                }
                Ok(vec![Event::SetupUsed {
                    shift,
                    work,
                    known,
                    sheet: taken(&sheet),
                }])
            }
            Command::Mark { list, item, done } => Ok(vec![Event::Marked {
                shift: self.open_shift()?,
                list,
                item,
                done,
            }]),
            Command::Oil => Ok(vec![Event::Oiled {
                shift: self.open_shift()?,
            }]),
            Command::Look(finding) => {
                let shift = self.open_shift()?;
                self.check_finding(finding)?;
                Ok(vec![Event::Looked { shift, finding }])
            }
            Command::StartBreak => {
                let shift = self.running().ok_or(Refusal::NoShift)?;
                match shift.on_break_since() {
                    Some(since) => Err(Refusal::OnBreak { since }),
                    None => Ok(vec![Event::BreakStarted {
                        shift: shift.id.clone(),
                    }]),
                }
            }
            Command::EndBreak => {
                let shift = self.running().ok_or(Refusal::NoShift)?;
                match shift.on_break_since() {
                    Some(_) => Ok(vec![Event::BreakEnded {
                        shift: shift.id.clone(),
                    }]),
                    None => Err(Refusal::NotOnBreak),
                }
            }
            Command::Note(text) => {
                let shift = self.open_shift()?;
                Ok(vec![Event::Noted {
                    shift,
                    text: checked_note(&text)?,
                }])
            }
            Command::PutOff { minutes } => {
                let shift = self.open_shift()?;
                Ok(vec![Event::PutOff { shift, minutes }])
            }
            Command::KeepUsualInterval => {
                let shift = self.open_shift()?;
                Ok(vec![Event::UsualIntervalKept { shift }])
            }
            Command::NoteBlind(span) => Ok(self
                .running()
                .filter(|shift| shift.was_blind(span))
                .map(|shift| Event::WasBlind {
                    shift: shift.id.clone(),
                    span,
                })
                .into_iter()
                .collect()),
            Command::NoteJump { by_ms } => Ok(self
                .running()
                .map(|shift| Event::ClockJumped {
                    shift: shift.id.clone(),
                    by_ms,
                })
                .into_iter()
                .collect()),
            Command::AnswerClock { jump, moved } => {
                let shift = self.running().ok_or(Refusal::NoShift)?;
                let asked = shift.jumps.iter().find(|it| it.id == jump);
                if asked.is_none_or(|it| it.moved.is_some()) {
                    return Err(Refusal::NothingToAnswer);
                }
                Ok(vec![Event::ClockAnswered {
                    shift: shift.id.clone(),
                    jump,
                    moved,
                }])
            }
            Command::EndShift => {
                let shift = self.running().ok_or(Refusal::NoShift)?;
                let rest = shift.on_break_since().map(|_| Event::BreakEnded {
                    shift: shift.id.clone(),
                });
                let end = Event::ShiftEnded {
                    shift: shift.id.clone(),
                };
                Ok(rest.into_iter().chain([end]).collect())
            }
            Command::Strike(entries) if entries.is_empty() => Err(Refusal::NothingToStrike),
            Command::Strike(entries) => Ok(entries
                .into_iter()
                .map(|entry| Event::Struck { entry })
                .collect()),
        }
    }

    /// Takes in what has happened. Entries that fit nothing known are passed over; the journal keeps them.
    pub fn apply(&mut self, entry: &Entry) {
        let at = entry.at;
        match &entry.event {
            Event::MachineDescribed { name, machine } => {
                self.machine = Some(NamedMachine {
                    name: name.clone(),
                    machine: *machine,
                });
            }
            Event::UsualShiftSet(usual) => self.usual = Some(*usual),
            Event::ShiftStarted(plan) => self.shifts.push(Shift {
                id: entry.id.clone(),
                offset_minutes: entry.offset_minutes,
                machine: self.machine.clone(),
                plan: plan.clone(),
                started: at,
                ended: None,
                setups: Vec::new(),
                oiled: Vec::new(),
                looks: Vec::new(),
                breaks: Vec::new(),
                notes: Vec::new(),
                marks: BTreeMap::new(),
                put_off: Vec::new(),
                usual_kept: Vec::new(),
                blind: Vec::new(),
                jumps: Vec::new(),
            }),
            Event::SetupUsed {
                shift,
                work,
                known,
                sheet,
            } => self.in_shift(shift, |shift| {
                let setup = SetupInUse {
                    since: at,
                    work: *work,
                    known: *known,
                    sheet: sheet.clone(),
                };
                shift.setups.push(setup);
            }),
            Event::Marked {
                shift,
                list,
                item,
                done,
            } => self.in_shift(shift, |shift| {
                if *done {
                    shift.marks.insert((*list, *item), at);
                } else {
                    shift.marks.remove(&(*list, *item));
                }
            }),
            Event::Oiled { shift } => self.in_shift(shift, |shift| shift.oiled.push(at)),
            Event::Looked { shift, finding } => {
                self.in_shift(shift, |shift| shift.looks.push((at, *finding)));
            }
            Event::BreakStarted { shift } => self.in_shift(shift, |shift| {
                if shift.on_break_since().is_none() {
                    shift.breaks.push(BreakTaken {
                        start: at,
                        end: None,
                    });
                }
            }),
            Event::BreakEnded { shift } => self.in_shift(shift, |shift| {
                if let Some(rest) = shift.breaks.last_mut().filter(|rest| rest.end.is_none()) {
                    rest.end = Some(at.max(rest.start));
                }
            }),
            Event::Noted { shift, text } => {
                self.in_shift(shift, |shift| shift.notes.push((at, text.clone())));
            }
            Event::PutOff { shift, minutes } => {
                self.in_shift(shift, |shift| shift.put_off.push((at, *minutes)));
            }
            Event::UsualIntervalKept { shift } => {
                self.in_shift(shift, |shift| shift.usual_kept.push(at));
            }
            Event::WasBlind { shift, span } => {
                self.in_shift(shift, |shift| shift.blind.push(*span));
            }
            Event::ClockJumped { shift, by_ms } => self.in_shift(shift, |shift| {
                let before = shift.recorded();
                shift.jumps.push(ClockJump {
                    id: entry.id.clone(),
                    at,
                    by_ms: *by_ms,
                    moved: None,
                    before,
                });
            }),
            Event::ClockAnswered { shift, jump, moved } => self.in_shift(shift, |shift| {
                let asked = shift.jumps.iter_mut().find(|it| it.id == *jump);
                let Some(asked) = asked.filter(|it| it.moved.is_none()) else {
                    return;
                };
                asked.moved = Some(*moved);
                let (before, by_ms) = (asked.before, asked.by_ms);
                if *moved {
                    shift.move_times(before, by_ms);
                }
            }),
            Event::ShiftEnded { shift } => self.in_shift(shift, |shift| shift.ended = Some(at)),
            // A struck entry is left out by the journal before it gets here; the strike itself changes nothing more.
            Event::Struck { .. } => {}
        }
    }

    fn in_shift(&mut self, id: &Id, change: impl FnOnce(&mut Shift)) {
        if let Some(shift) = self.shifts.iter_mut().rev().find(|shift| shift.id == *id) {
            change(shift);
        }
    }

    fn open_shift(&self) -> Result<Id, Refusal> {
        self.running()
            .map(|shift| shift.id.clone())
            .ok_or(Refusal::NoShift)
    }

    fn check_finding(&self, finding: Finding) -> Result<(), Refusal> {
        match finding {
            Finding::AllTurning => Ok(()),
            Finding::SomeNot {
                stiff,
                stuck,
                broken,
            } => {
                let got = u32::from(stiff) + u32::from(stuck) + u32::from(broken);
                let most = self
                    .machine
                    .as_ref()
                    .map_or(u32::MAX, |it| fit(&it.machine).full_row());
                if got == 0 {
                    Err(Refusal::FindingEmpty)
                } else if most < got {
                    Err(Refusal::FindingTooMany { got, most })
                } else {
                    Ok(())
                }
            }
        }
    }
}

fn checked_name(name: &str) -> Result<String, Refusal> {
    let name = name.trim();
    let got = name.chars().count();
    if got == 0 {
        Err(Refusal::NameEmpty)
    } else if LONGEST_NAME < got {
        Err(Refusal::NameTooLong { got })
    } else {
        Ok(name.to_owned())
    }
}

fn checked_note(text: &str) -> Result<String, Refusal> {
    let text = text.trim();
    let got = text.chars().count();
    if got == 0 {
        Err(Refusal::NoteEmpty)
    } else if LONGEST_NOTE < got {
        Err(Refusal::NoteTooLong { got })
    } else {
        Ok(text.to_owned())
    }
}

/// What is kept of a sheet.
fn taken(sheet: &Sheet) -> SheetTaken {
    let plates = sheet.plates.value();
    // A board holds at most 53 plates, so every number of one fits a byte.
    let number = |count: usize| u8::try_from(count).unwrap_or(u8::MAX);
    SheetTaken {
        verdict: *sheet.verdict.value(),
        teeth: sheet.teeth.value().clone(),
        plates: number(plates.spots.len()),
        toothed_at: plates.toothed_at().into_iter().map(number).collect(),
        tooth_count: plates.teeth(),
        cutting_degrees: sheet.cutting.value().target().in_degrees() as u8,
        grading_degrees: sheet.grading.value().target().in_degrees() as u8,
        layers: sheet.layers.value().count,
        oilings: sheet.oilings.value().planned,
        looks_per_interval: *sheet.looks_per_interval.value(),
    }
}
