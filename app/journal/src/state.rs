//! What is true now, and how an event changes it. Applying holds no decision and cannot fail; `decide` may refuse.

use core::time::Duration;
use std::collections::BTreeMap;

use evenrow_rules::angle::Angle;
use evenrow_rules::checklist::{Item, List};
use evenrow_rules::load::Axles;
use evenrow_rules::machine::Machine;
use evenrow_rules::oiling::working_time;
use evenrow_rules::quantity::{Instant, Span};
use evenrow_rules::work::{Conditions, Work};

use crate::event::{
    Entry, Event, Finding, Id, PriceList, RoadSection, SeasonPlan, SheetTaken, ShiftPlan,
    UsualShift,
};
use crate::journal::{Change, Journal};
use crate::row::{SetOfTeeth, Teeth};

/// What is known of a machine.
#[derive(Clone, Debug, PartialEq)]
pub struct NamedMachine {
    /// Its id.
    pub id: Id,
    /// What the operator calls it.
    pub name: String,
    /// Its moldboard, plates and pitch.
    pub machine: Machine,
}

/// What was measured of a machine besides its row; nothing of what was not.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Measured {
    /// The angle from its plates to the axes of its teeth.
    pub plate_to_tooth: Option<Angle>,
    /// Its axles.
    pub axles: Option<Axles>,
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

/// A section of road that is planned.
#[derive(Clone, Debug, PartialEq)]
pub struct PlannedSection {
    /// Its id: that of the entry which planned it.
    pub id: Id,
    /// The machine that it is planned for.
    pub machine: Id,
    /// What it is.
    pub what: RoadSection,
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
    section_ticks: usize,
}

/// Everything recorded of one shift.
#[derive(Clone, Debug, PartialEq)]
pub struct Shift {
    /// Its id: that of the entry which started it.
    pub id: Id,
    /// What the device's zone was ahead of UTC when it started, in minutes.
    pub offset_minutes: i16,
    /// Who worked it, once somebody has said so.
    pub who: Option<String>,
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
    /// What is ticked on the checklists, in the order of the ticks.
    pub marks: Vec<(List, Item)>,
    /// When a section was ticked as done, or its tick taken back.
    pub section_ticks: Vec<(Instant, Id, bool)>,
    /// What each section was when it was ticked, or changed after that while the shift ran: what becomes of the plan
    /// later must not rewrite an old report.
    pub worked_on: BTreeMap<Id, RoadSection>,
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
    /// Whether it is with this machine.
    pub fn is_with(&self, machine: &Id) -> bool {
        self.machine.as_ref().is_some_and(|it| it.id == *machine)
    }

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
            section_ticks: self.section_ticks.len(),
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
        let ticks = self
            .section_ticks
            .iter_mut()
            .take(before.section_ticks)
            .map(|(at, _, _)| at);
        let all = looks
            .chain(notes)
            .chain(ticks)
            .chain(put_off)
            .chain(oiled)
            .chain(usual_kept);
        all.for_each(|at| *at = moved(*at));
        let blind = self.blind.iter_mut().take(before.blind);
        blind.for_each(|span| *span = moved_span(*span));
    }

    /// When a section was done; none where it was not ticked in this shift, or the tick was taken back.
    pub fn section_done(&self, section: &Id) -> Option<Instant> {
        let mut ticks = self.section_ticks.iter().rev();
        let (at, _, done) = ticks.find(|(_, ticked, _)| ticked == section)?;
        done.then_some(*at)
    }

    /// How many items of a list are ticked.
    pub fn ticked(&self, list: List) -> usize {
        list.items()
            .iter()
            .filter(|&&item| self.marks.contains(&(list, item)))
            .count()
    }
}

/// What is true now.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct State {
    /// The machines, in the order in which they were first described.
    pub machines: Vec<NamedMachine>,
    /// Which machine was chosen on which device.
    pub chosen: BTreeMap<Id, Id>,
    /// What was measured of which machine.
    pub measured: BTreeMap<Id, Measured>,
    /// Sets, teeth and spares.
    pub teeth: Teeth,
    /// The sections of road that are planned, in the order in which they are to be worked.
    pub sections: Vec<PlannedSection>,
    /// What things cost, once said.
    pub prices: Option<PriceList>,
    /// The season planned for each machine.
    pub seasons: BTreeMap<Id, SeasonPlan>,
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

    /// The state after records have been taken in: the one that [`State::fold`] gives, without folding what was folded
    /// before where that can be.
    pub fn follow(&mut self, journal: &Journal, change: Change) {
        match change {
            Change::Nothing => {}
            Change::Next(entries) => entries.iter().for_each(|entry| self.apply(entry)),
            Change::Anew => *self = State::fold(journal),
        }
    }

    /// A machine by its id.
    pub fn machine(&self, id: &Id) -> Option<&NamedMachine> {
        self.machines.iter().find(|machine| machine.id == *id)
    }

    /// What was measured of a machine.
    pub fn measured(&self, machine: &Id) -> Measured {
        self.measured.get(machine).copied().unwrap_or_default()
    }

    /// The machine chosen on a device; where none was, the one described last.
    pub fn machine_of(&self, device: &Id) -> Option<&NamedMachine> {
        let chosen = self.chosen.get(device).and_then(|id| self.machine(id));
        chosen.or(self.machines.last())
    }

    /// The blade-hours of a set: the working time of all shifts with the machines that it was on, while it was on them.
    pub fn blade_time(&self, set: &SetOfTeeth, now: Instant) -> Duration {
        let times = set.times_on(now);
        let parts = self.shifts.iter().flat_map(|shift| {
            let with = shift.machine.as_ref().map(|machine| &machine.id);
            let worked = Span::new(shift.plan.start, shift.ended.unwrap_or(now));
            let on: Vec<Span> = times
                .iter()
                .filter(|(machine, _)| Some(*machine) == with)
                .map(|(_, span)| overlap(worked, *span))
                .filter(|span| !span.length().is_zero())
                .collect();
            // Its breaks are worked out only for a shift that counts.
            let breaks = (!on.is_empty()).then(|| shift.facts(now).breaks());
            let breaks = breaks.unwrap_or_default();
            on.into_iter().map(move |span| working_time(span, &breaks))
        });
        parts.fold(Duration::ZERO, Duration::saturating_add)
    }

    /// The shift that runs.
    pub fn running(&self) -> Option<&Shift> {
        self.shifts.iter().rev().find(|shift| shift.ended.is_none())
    }

    /// A shift by its id. The latest is looked at first: it is the one that things happen in.
    pub fn shift(&self, id: &Id) -> Option<&Shift> {
        self.shifts.iter().rev().find(|shift| shift.id == *id)
    }

    /// Takes in what has happened. Entries that fit nothing known are passed over; the journal keeps them.
    pub fn apply(&mut self, entry: &Entry) {
        let at = entry.at;
        match &entry.event {
            Event::MachineDescribed { name, machine } => {
                let chosen = self.chosen.get(&entry.device).cloned();
                let id = chosen.unwrap_or_else(|| entry.device.clone());
                self.chosen.insert(entry.device.clone(), id.clone());
                self.describe(id, name, *machine);
            }
            Event::MachineAdded { name, machine } => {
                self.chosen.insert(entry.device.clone(), entry.id.clone());
                self.describe(entry.id.clone(), name, *machine);
            }
            Event::MachineChosen { machine } => {
                if self.machine(machine).is_some() {
                    self.chosen.insert(entry.device.clone(), machine.clone());
                }
            }
            Event::SetMounted { machine, new } => {
                self.teeth.mount_new(&entry.id, at, machine, new);
            }
            Event::SetStored { set, done } => self.teeth.take_off(set, at, done),
            Event::SetNoted { set, text } => self.teeth.note_on_set(set, at, text),
            Event::SetPutBack { set, machine } => self.teeth.put_back(set, at, machine),
            Event::SetBrokenUp { set, spares } => {
                let known = self.teeth.set(set);
                let tips = known.map(|it| self.tips_now(it, at)).unwrap_or_default();
                self.teeth.break_up(set, at, *spares, &tips);
            }
            Event::ToothNoted {
                set,
                position,
                state,
            } => self.teeth.note(set, at, *position, *state),
            Event::RowTurning { machine } => self.teeth.all_turn(machine, at),
            Event::TipsMeasured { set, tips } => self.teeth.measure(set, at, tips),
            Event::ToothReplaced {
                set,
                position,
                kind,
                tip,
            } => self.teeth.replace(set, at, *position, *kind, *tip),
            Event::StockCounted { kind, tip, count } => {
                self.teeth.count_stock(*kind, *tip, *count);
            }
            // Of a machine that is described later as well: records of two phones may arrive in any order.
            Event::PlateToToothSet { machine, angle } => {
                let measured = self.measured.entry(machine.clone()).or_default();
                measured.plate_to_tooth = Some(*angle);
            }
            Event::AxlesDescribed { machine, axles } => {
                self.measured.entry(machine.clone()).or_default().axles = Some(*axles);
            }
            Event::SectionPlanned { machine, section } => self.sections.push(PlannedSection {
                id: entry.id.clone(),
                machine: machine.clone(),
                what: section.clone(),
            }),
            Event::SectionChanged { section, to } => {
                if let Some(known) = self.sections.iter_mut().find(|it| it.id == *section) {
                    known.what = to.clone();
                }
                let running = self.shifts.iter_mut().filter(|shift| shift.ended.is_none());
                for known in running.filter_map(|shift| shift.worked_on.get_mut(section)) {
                    *known = to.clone();
                }
            }
            Event::SectionMoved { section, before } => self.move_section(section, before),
            Event::SectionLeftOut { section } => self.sections.retain(|it| it.id != *section),
            Event::SectionTicked {
                shift,
                section,
                done,
            } => {
                let known = self.sections.iter().find(|it| it.id == *section);
                let what = known.map(|it| it.what.clone());
                self.in_shift(shift, |shift| {
                    shift.section_ticks.push((at, section.clone(), *done));
                    if let Some(what) = what {
                        shift.worked_on.insert(section.clone(), what);
                    }
                });
            }
            Event::WorkerNamed { shift, name } => {
                self.in_shift(shift, |shift| shift.who = Some(name.clone()));
            }
            Event::PricesSet(prices) => self.prices = Some(prices.clone()),
            Event::SeasonPlanned { machine, plan } => {
                self.seasons.insert(machine.clone(), plan.clone());
            }
            Event::UsualShiftSet(usual) => self.usual = Some(*usual),
            Event::ShiftStarted(plan) => self.shifts.push(Shift {
                id: entry.id.clone(),
                offset_minutes: entry.offset_minutes,
                who: None,
                machine: self.machine_of(&entry.device).cloned(),
                plan: plan.clone(),
                started: at,
                ended: None,
                setups: Vec::new(),
                oiled: Vec::new(),
                looks: Vec::new(),
                breaks: Vec::new(),
                notes: Vec::new(),
                marks: Vec::new(),
                section_ticks: Vec::new(),
                worked_on: BTreeMap::new(),
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
                let tick = (*list, *item);
                shift.marks.retain(|known| *known != tick);
                if *done {
                    shift.marks.push(tick);
                }
            }),
            Event::Oiled { shift } => self.in_shift(shift, |shift| shift.oiled.push(at)),
            Event::Looked { shift, finding } => {
                self.in_shift(shift, |shift| shift.looks.push((at, *finding)));
                let machine = self.shift(shift).and_then(|it| it.machine.as_ref());
                if let (Finding::AllTurning, Some(machine)) = (finding, machine) {
                    let id = machine.id.clone();
                    self.teeth.all_turn(&id, at);
                }
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

    fn describe(&mut self, id: Id, name: &str, machine: Machine) {
        let described = NamedMachine {
            id,
            name: name.to_owned(),
            machine,
        };
        match self.machines.iter_mut().find(|it| it.id == described.id) {
            Some(known) => *known = described,
            None => self.machines.push(described),
        }
    }

    /// Puts a section before another one. Where either is not known, all stay where they are.
    fn move_section(&mut self, section: &Id, before: &Id) {
        let place = |id: &Id| self.sections.iter().position(|it| it.id == *id);
        let (Some(from), Some(to)) = (place(section), place(before)) else {
            return;
        };
        let moved = self.sections.remove(from);
        // What stood behind it has come one place nearer.
        self.sections
            .insert(if from < to { to - 1 } else { to }, moved);
    }

    fn in_shift(&mut self, id: &Id, change: impl FnOnce(&mut Shift)) {
        if let Some(shift) = self.shifts.iter_mut().rev().find(|shift| shift.id == *id) {
            change(shift);
        }
    }
}

/// What two spans share; nothing where they do not meet.
pub(crate) fn overlap(one: Span, other: Span) -> Span {
    let start = one.start().max(other.start());
    Span::new(start, one.end().min(other.end()).max(start))
}
