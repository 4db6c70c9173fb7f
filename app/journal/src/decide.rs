//! Decide: what comes of a command, or why it is refused. Every decision about what may be recorded stands here.
//!
//! Never here: what an event changes (`state`, `row`), and the words of a refusal (the app).

use evenrow_rules::cost::{Litres, Money};
use evenrow_rules::day::Section;
use evenrow_rules::load::Axles;
use evenrow_rules::machine::{Machine, fit};
use evenrow_rules::quantity::Length;
use evenrow_rules::setup::{Sheet, Verdict, advise};
use evenrow_rules::tilt::plate_to_tooth;
use evenrow_rules::wear::{READING_ROOM, Tips};

use crate::command::{
    Command, LONGEST_NAME, LONGEST_NOTE, LONGEST_SEASON, LONGEST_VISIT, MOST_HOURS_A_WEEK,
    MOST_SPARES_OF_A_KIND, MOST_VISITS, PricesAsked, Refusal, SectionAsked,
};
use crate::event::{
    Event, Finding, Id, NewSet, PriceList, RoadSection, SeasonPlan, SheetTaken, ToothState,
};
use crate::row::{SetOfTeeth, Whereabouts};
use crate::row_facts::FEWEST_FOR_A_MEAN;
use crate::state::State;
use crate::wire::{kept_angle, kept_conditions, kept_length, kept_mass, kept_prices, kept_section};

/// What came of a command.
pub enum AtWork {
    /// What would happen.
    Decided(Vec<Event>),
    /// It is not asked at work: [`State::decide`] knows.
    HandedBack(Command),
}

impl State {
    /// What would happen if this were done now, or why it may not be.
    pub fn decide(&self, ask: Command) -> Result<Vec<Event>, Refusal> {
        match self.decide_at_work(ask)? {
            AtWork::Decided(happened) => Ok(happened),
            AtWork::HandedBack(ask) => self.decide_beside_it(ask),
        }
    }

    /// The same of what is asked at the first start and in the course of a shift; the rest is handed back. So an app of
    /// which only half has arrived decides what cannot wait.
    pub fn decide_at_work(&self, ask: Command) -> Result<AtWork, Refusal> {
        if self.read_only {
            return Err(Refusal::NewerRecords);
        }
        let happened = match ask {
            Command::DescribeMachine {
                name,
                moldboard,
                plates,
                pitch,
            } => {
                let name = checked_name(&name)?;
                let machine = checked_machine(moldboard, plates, pitch)?;
                Ok(vec![Event::MachineDescribed { name, machine }])
            }
            Command::SetUsualShift(usual) => Ok(vec![Event::UsualShiftSet(usual)]),
            Command::StartShift(plan) => {
                self.no_shift_runs()?;
                plan.check()?;
                Ok(vec![Event::ShiftStarted(plan)])
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
            Command::AddMachine { .. }
            | Command::ChooseMachine { .. }
            | Command::MountSet { .. }
            | Command::StoreSet { .. }
            | Command::NoteOnSet { .. }
            | Command::PutBackSet { .. }
            | Command::BreakUpSet { .. }
            | Command::NoteTooth { .. }
            | Command::AllTurning { .. }
            | Command::LookAtRow { .. }
            | Command::MeasureTips { .. }
            | Command::ReplaceTooth { .. }
            | Command::CountStock { .. }
            | Command::SetPlateToTooth { .. }
            | Command::DescribeAxles { .. }
            | Command::PlanSection { .. }
            | Command::ChangeSection { .. }
            | Command::MoveSection { .. }
            | Command::LeaveOutSection { .. }
            | Command::TickSection { .. }
            | Command::SayWho { .. }
            | Command::SetPrices(_)
            | Command::PlanSeason { .. }
            | Command::UseSetup { .. } => {
                return Ok(AtWork::HandedBack(ask));
            }
        };
        happened.map(AtWork::Decided)
    }

    fn decide_beside_it(&self, ask: Command) -> Result<Vec<Event>, Refusal> {
        match ask {
            Command::AddMachine {
                name,
                moldboard,
                plates,
                pitch,
            } => {
                self.no_shift_runs()?;
                let name = checked_name(&name)?;
                let machine = checked_machine(moldboard, plates, pitch)?;
                Ok(vec![Event::MachineAdded { name, machine }])
            }
            Command::ChooseMachine { machine } => {
                // The one of the shift that runs may be: it was handed over from another phone.
                if !self.running().is_some_and(|it| it.is_with(&machine)) {
                    self.no_shift_runs()?;
                }
                self.machine(&machine).ok_or(Refusal::NoMachine)?;
                Ok(vec![Event::MachineChosen { machine }])
            }
            Command::MountSet { machine, new } => {
                let known = self.machine(&machine).ok_or(Refusal::NoMachine)?;
                let most = fit(&known.machine).full_row();
                if new.teeth == 0 || most < u32::from(new.teeth) {
                    let got = u32::from(new.teeth);
                    return Err(Refusal::SetOf { got, most });
                }
                let new = NewSet {
                    tip: checked_tip(new.tip, new.tips)?,
                    ..new
                };
                Ok(vec![Event::SetMounted { machine, new }])
            }
            Command::StoreSet { set, done } => {
                self.teeth
                    .set(&set)
                    .filter(|it| it.machine().is_some())
                    .ok_or(Refusal::NoSet)?;
                Ok(vec![Event::SetStored { set, done }])
            }
            Command::NoteOnSet { set, text } => {
                self.known_set(&set)?;
                let text = checked_note(&text)?;
                Ok(vec![Event::SetNoted { set, text }])
            }
            Command::PutBackSet { set, machine } => {
                self.machine(&machine).ok_or(Refusal::NoMachine)?;
                self.teeth
                    .set(&set)
                    .filter(|it| it.whereabouts == Whereabouts::Stored)
                    .ok_or(Refusal::NoSet)?;
                Ok(vec![Event::SetPutBack { set, machine }])
            }
            Command::BreakUpSet { set, spares } => {
                let known = self.known_set(&set)?;
                if known.machine().is_some() {
                    return Err(Refusal::SetOnMachine);
                }
                if spares && !self.lengths_known(known) {
                    return Err(Refusal::NeverMeasured {
                        wanted: FEWEST_FOR_A_MEAN,
                    });
                }
                Ok(vec![Event::SetBrokenUp { set, spares }])
            }
            Command::NoteTooth {
                set,
                position,
                state,
            } => {
                self.known_tooth(&set, position)?;
                Ok(vec![Event::ToothNoted {
                    set,
                    position,
                    state,
                }])
            }
            Command::AllTurning { machine } => {
                self.machine(&machine).ok_or(Refusal::NoMachine)?;
                Ok(vec![
                    self.look_in_shift(&machine, Finding::AllTurning)
                        .unwrap_or(Event::RowTurning { machine }),
                ])
            }
            Command::LookAtRow { machine } => {
                let set = self.teeth.on(&machine).ok_or(Refusal::NoSet)?;
                let finding = Finding::SomeNot {
                    stiff: set.count(&[ToothState::Stiff]),
                    stuck: set.count(&[ToothState::Stuck]),
                    broken: set.count(&[ToothState::Broken, ToothState::Gone]),
                };
                self.check_finding(finding)?;
                let look = self.look_in_shift(&machine, finding);
                Ok(vec![look.ok_or(Refusal::NoShift)?])
            }
            Command::MeasureTips { set, tips } => {
                let known = self.known_set(&set)?;
                if tips.is_empty() {
                    return Err(Refusal::NothingMeasured);
                }
                let mut kept = Vec::new();
                for (position, tip) in tips {
                    self.known_tooth(&set, position)?;
                    kept.push((position, checked_tip(tip, known.tips)?));
                }
                Ok(vec![Event::TipsMeasured { set, tips: kept }])
            }
            Command::ReplaceTooth {
                set,
                position,
                kind,
                tip,
            } => {
                self.known_tooth(&set, position)?;
                let tip = kept_length(tip);
                if self.teeth.spares(kind, tip) == 0 {
                    return Err(Refusal::NoSpare);
                }
                Ok(vec![Event::ToothReplaced {
                    set,
                    position,
                    kind,
                    tip,
                }])
            }
            Command::CountStock { kind, tip, count } => {
                if MOST_SPARES_OF_A_KIND < count {
                    return Err(Refusal::TooManySpares { got: count });
                }
                let tip = kept_length(tip);
                Ok(vec![Event::StockCounted { kind, tip, count }])
            }
            Command::SetPlateToTooth {
                machine,
                plate,
                tooth,
            } => {
                self.machine(&machine).ok_or(Refusal::NoMachine)?;
                let angle = plate_to_tooth(plate, tooth).map_err(Refusal::OutOfRange)?;
                let angle = kept_angle(angle);
                Ok(vec![Event::PlateToToothSet { machine, angle }])
            }
            Command::DescribeAxles {
                machine,
                front_axle,
                wheelbase,
                edge_to_rear,
            } => {
                self.machine(&machine).ok_or(Refusal::NoMachine)?;
                let (base, edge) = (kept_length(wheelbase), kept_length(edge_to_rear));
                let axles =
                    Axles::new(kept_mass(front_axle), base, edge).map_err(Refusal::Axles)?;
                Ok(vec![Event::AxlesDescribed { machine, axles }])
            }
            Command::PlanSection { machine, section } => {
                self.machine(&machine).ok_or(Refusal::NoMachine)?;
                let section = checked_section(&section)?;
                Ok(vec![Event::SectionPlanned { machine, section }])
            }
            Command::ChangeSection { section, to } => {
                self.known_section(&section)?;
                let to = checked_section(&to)?;
                Ok(vec![Event::SectionChanged { section, to }])
            }
            Command::MoveSection { section, before } => {
                self.known_section(&section)?;
                self.known_section(&before)?;
                Ok(vec![Event::SectionMoved { section, before }])
            }
            Command::LeaveOutSection { section } => {
                self.known_section(&section)?;
                Ok(vec![Event::SectionLeftOut { section }])
            }
            Command::TickSection { section, done } => {
                self.known_section(&section)?;
                Ok(vec![Event::SectionTicked {
                    shift: self.open_shift()?,
                    section,
                    done,
                }])
            }
            Command::SayWho { shift, name } => {
                self.shift(&shift).ok_or(Refusal::NoSuchShift)?;
                let too_long = |got| Refusal::NameTooLong { got };
                let name = checked_text(&name, LONGEST_NAME, Refusal::WhoEmpty, too_long)?;
                Ok(vec![Event::WorkerNamed { shift, name }])
            }
            Command::SetPrices(asked) => Ok(vec![Event::PricesSet(checked_prices(&asked)?)]),
            Command::PlanSeason { machine, plan } => {
                self.machine(&machine).ok_or(Refusal::NoMachine)?;
                let plan = checked_season(plan)?;
                Ok(vec![Event::SeasonPlanned { machine, plan }])
            }
            Command::UseSetup { work, known } => {
                let running = self.running().ok_or(Refusal::NoShift)?;
                let shift = running.id.clone();
                let machine = running.machine.as_ref().or(self.machines.last());
                let machine = machine.ok_or(Refusal::NoMachine)?;
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
            Command::DescribeMachine { .. }
            | Command::SetUsualShift(_)
            | Command::StartShift(_)
            | Command::Mark { .. }
            | Command::Oil
            | Command::Look(_)
            | Command::StartBreak
            | Command::EndBreak
            | Command::Note(_)
            | Command::PutOff { .. }
            | Command::KeepUsualInterval
            | Command::NoteBlind(_)
            | Command::NoteJump { .. }
            | Command::AnswerClock { .. }
            | Command::EndShift
            | Command::Strike(_) => self.decide(ask),
        }
    }

    /// A shift is with one machine from its start to its end.
    fn no_shift_runs(&self) -> Result<(), Refusal> {
        match self.running() {
            Some(running) => Err(Refusal::ShiftRuns {
                since: running.plan.start,
            }),
            None => Ok(()),
        }
    }

    fn open_shift(&self) -> Result<Id, Refusal> {
        self.running()
            .map(|shift| shift.id.clone())
            .ok_or(Refusal::NoShift)
    }

    fn known_section(&self, id: &Id) -> Result<(), Refusal> {
        let known = self.sections.iter().any(|section| section.id == *id);
        if known {
            Ok(())
        } else {
            Err(Refusal::NoSection)
        }
    }

    fn known_set(&self, id: &Id) -> Result<&SetOfTeeth, Refusal> {
        let set = self.teeth.set(id);
        set.filter(|set| set.whereabouts != Whereabouts::Gone)
            .ok_or(Refusal::NoSet)
    }

    fn known_tooth(&self, set: &Id, position: u16) -> Result<(), Refusal> {
        let set = self.known_set(set)?;
        if set.teeth.contains_key(&position) {
            return Ok(());
        }
        let most = set.teeth.last_key_value().map_or(0, |(last, _)| *last);
        Err(Refusal::NoSuchTooth {
            got: position,
            most,
        })
    }

    /// A look at the row of a machine as part of the running shift, if that is with it.
    fn look_in_shift(&self, machine: &Id, finding: Finding) -> Option<Event> {
        let shift = self.running()?;
        let with = shift.machine.as_ref().map(|it| &it.id);
        (with == Some(machine)).then(|| Event::Looked {
            shift: shift.id.clone(),
            finding,
        })
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
                let machine = self.running().and_then(|shift| shift.machine.as_ref());
                let machine = machine.or(self.machines.last());
                let most = machine.map_or(u32::MAX, |it| fit(&it.machine).full_row());
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

fn checked_machine(
    moldboard: Length,
    plates: (Length, Length),
    pitch: Length,
) -> Result<Machine, Refusal> {
    let plates = (kept_length(plates.0), kept_length(plates.1));
    Machine::new(kept_length(moldboard), plates, kept_length(pitch)).map_err(Refusal::OutOfRange)
}

/// A section that can be, in the way records keep it.
fn checked_section(asked: &SectionAsked) -> Result<RoadSection, Refusal> {
    let too_long = |got| Refusal::NameTooLong { got };
    let name = checked_text(
        &asked.name,
        LONGEST_NAME,
        Refusal::SectionNameEmpty,
        too_long,
    )?;
    let road = Section::new(
        asked.kilometres,
        asked.width_mm,
        (asked.passes, asked.layers),
        asked.kilometres_per_hour,
        asked.minutes_of_work,
    )
    .map_err(Refusal::SectionOutOfRange)?;
    Ok(kept_section(&RoadSection {
        name,
        work: asked.work,
        road,
    }))
}

/// Prices that can be, in the way records keep them.
fn checked_prices(asked: &PricesAsked) -> Result<PriceList, Refusal> {
    let out = Refusal::PriceOutOfRange;
    let money = asked.money.trim().to_owned();
    let got = money.chars().count();
    if LONGEST_NAME < got {
        return Err(Refusal::NameTooLong { got });
    }
    Ok(kept_prices(&PriceList {
        money,
        tooth: Money::amount(asked.tooth).map_err(out)?,
        litre: Money::amount(asked.litre).map_err(out)?,
        an_oiling: Litres::new(asked.an_oiling).map_err(out)?,
    }))
}

/// A season that can be.
fn checked_season(mut plan: SeasonPlan) -> Result<SeasonPlan, Refusal> {
    if !(1..=LONGEST_SEASON).contains(&plan.weeks) || MOST_HOURS_A_WEEK < plan.hours_a_week {
        return Err(Refusal::SeasonOutOfRange);
    }
    for road in &mut plan.roads {
        let too_long = |got| Refusal::NameTooLong { got };
        road.name = checked_text(
            &road.name,
            LONGEST_NAME,
            Refusal::SectionNameEmpty,
            too_long,
        )?;
        if !(1..=LONGEST_VISIT).contains(&road.minutes) {
            return Err(Refusal::VisitOutOfRange { got: road.minutes });
        }
        if !(1..=MOST_VISITS).contains(&road.visits) {
            return Err(Refusal::VisitsOutOfRange { got: road.visits });
        }
    }
    Ok(plan)
}

/// A tip no longer than a new one of its set can be, in the way records keep it.
fn checked_tip(tip: Length, tips: Tips) -> Result<Length, Refusal> {
    let most =
        Length::micrometres(tips.when_new().in_micrometres() + READING_ROOM.in_micrometres());
    let tip = kept_length(tip);
    if most < tip {
        Err(Refusal::TipTooLong { got: tip, most })
    } else {
        Ok(tip)
    }
}

fn checked_name(name: &str) -> Result<String, Refusal> {
    let too_long = |got| Refusal::NameTooLong { got };
    checked_text(name, LONGEST_NAME, Refusal::NameEmpty, too_long)
}

fn checked_note(text: &str) -> Result<String, Refusal> {
    let too_long = |got| Refusal::NoteTooLong { got };
    checked_text(text, LONGEST_NOTE, Refusal::NoteEmpty, too_long)
}

/// A text without the blanks around it, of a letter at least and so many at most.
fn checked_text(
    text: &str,
    longest: usize,
    empty: Refusal,
    too_long: impl FnOnce(usize) -> Refusal,
) -> Result<String, Refusal> {
    let text = text.trim();
    let got = text.chars().count();
    if got == 0 {
        Err(empty)
    } else if longest < got {
        Err(too_long(got))
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
