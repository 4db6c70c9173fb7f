//! The bytes: how an entry is written down and read back. The only place that knows serde.
//!
//! One entry is one line of JSON. Numbers are whole: micrometres, grams, tenths of a degree, minutes, milliseconds, so
//! that nothing is rounded on the way. What is read passes the same constructors as what is typed. A record that cannot
//! be read is an error to be kept, never a default.
//!
//! Adding a kind of event, a field or a word raises [`VERSION`] of the entries that use it, for an older app takes a
//! name that it does not know for damage; a saved journal of each version stands in `tests/journals`.

use evenrow_rules::angle::Angle;
use evenrow_rules::checklist::{Item, List};
use evenrow_rules::cost::{Litres, Money};
use evenrow_rules::day::Section;
use evenrow_rules::load::Axles;
use evenrow_rules::machine::Machine;
use evenrow_rules::quantity::{Instant, Length, Mass, Span, Temperature};
use evenrow_rules::setup::{ToothKind, Verdict};
use evenrow_rules::tilt::plate_to_tooth;
use evenrow_rules::wear::Tips;
use evenrow_rules::work::{Conditions, End, Moisture, Stones, Work};
use serde::{Deserialize, Serialize};

use crate::event::{
    Entry, Event, Finding, Id, NewSet, PriceList, RoadSection, SeasonPlan, SeasonRoad, SheetTaken,
    ShiftPlan, TimeOfDay, ToothState, UsualShift,
};

pub mod backup; // the first line of a backup, and records that do not fit on a line
mod tree; // a line of JSON, read as what a record may hold

/// The version that this app writes, and the highest that it reads.
pub const VERSION: u32 = 2;

/// Why a record could not be read.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unreadable {
    /// Not an entry, or one with something impossible in it.
    Damaged,
    /// Written by a newer version of the app.
    Newer,
}

/// One entry as a line of JSON, without a line break.
pub fn write(entry: &Entry) -> String {
    let wire = EntryWire {
        v: version(&entry.event),
        id: entry.id.as_str().to_owned(),
        count: entry.count,
        at_ms: entry.at.unix_ms(),
        offset_min: entry.offset_minutes,
        device: entry.device.as_str().to_owned(),
        event: EventWire::from(&entry.event),
    };
    // Strings, whole numbers and enums: there is nothing in it that JSON could refuse.
    serde_json::to_string(&wire).unwrap_or_default()
}

/// The version that first knew a kind of event. An entry is written as that one, so that an app of that version reads it.
fn version(event: &Event) -> u32 {
    match event {
        Event::MachineDescribed { .. }
        | Event::UsualShiftSet(_)
        | Event::ShiftStarted(_)
        | Event::SetupUsed { .. }
        | Event::Marked {
            list: List::Opening | List::Closing,
            ..
        }
        | Event::Oiled { .. }
        | Event::Looked { .. }
        | Event::BreakStarted { .. }
        | Event::BreakEnded { .. }
        | Event::Noted { .. }
        | Event::ShiftEnded { .. }
        | Event::Struck { .. } => 1,
        Event::Marked {
            list: List::LayingUp,
            ..
        }
        | Event::MachineAdded { .. }
        | Event::MachineChosen { .. }
        | Event::SetMounted { .. }
        | Event::SetStored { .. }
        | Event::SetNoted { .. }
        | Event::SetPutBack { .. }
        | Event::SetBrokenUp { .. }
        | Event::ToothNoted { .. }
        | Event::RowTurning { .. }
        | Event::TipsMeasured { .. }
        | Event::ToothReplaced { .. }
        | Event::StockCounted { .. }
        | Event::PlateToToothSet { .. }
        | Event::AxlesDescribed { .. }
        | Event::SectionPlanned { .. }
        | Event::SectionChanged { .. }
        | Event::SectionMoved { .. }
        | Event::SectionLeftOut { .. }
        | Event::SectionTicked { .. }
        | Event::WorkerNamed { .. }
        | Event::PricesSet(_)
        | Event::SeasonPlanned { .. }
        | Event::PutOff { .. }
        | Event::UsualIntervalKept { .. }
        | Event::WasBlind { .. }
        | Event::ClockJumped { .. }
        | Event::ClockAnswered { .. } => 2,
    }
}

/// Reads one record.
pub fn read(record: &str) -> Result<Entry, Unreadable> {
    let record = tree::read(record).ok_or(Unreadable::Damaged)?;
    let version = record
        .to::<VersionWire>()
        .and_then(VersionWire::version)
        .ok_or(Unreadable::Damaged)?;
    if u64::from(VERSION) < version {
        return Err(Unreadable::Newer);
    }
    if version < 1 {
        return Err(Unreadable::Damaged);
    }
    let wire: Option<EntryWire> = record.to();
    wire.and_then(EntryWire::into_entry)
        .ok_or(Unreadable::Damaged)
}

/// What every version writes, whatever else it knows. One damaged digit must not make an app take its own record for
/// that of a newer one and stop writing, so a record is called newer only if all of this stands in it.
#[derive(Deserialize)]
struct VersionWire {
    v: u64,
    id: String,
    #[expect(dead_code, reason = "only whether it is there counts")]
    count: u64,
    #[expect(dead_code, reason = "only whether it is there counts")]
    at_ms: i64,
    device: String,
}

impl VersionWire {
    fn version(self) -> Option<u64> {
        let named = Id::new(&self.id).is_some() && Id::new(&self.device).is_some();
        named.then_some(self.v)
    }
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct EntryWire {
    v: u32,
    id: String,
    count: u64,
    at_ms: i64,
    offset_min: i16,
    device: String,
    event: EventWire,
}

impl EntryWire {
    fn into_entry(self) -> Option<Entry> {
        Some(Entry {
            id: Id::new(&self.id)?,
            count: self.count,
            at: Instant::from_unix_ms(self.at_ms),
            offset_minutes: self.offset_min,
            device: Id::new(&self.device)?,
            event: self.event.into_event()?,
        })
    }
}

#[derive(Serialize, Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
enum EventWire {
    MachineDescribed(MachineWire),
    UsualShiftSet {
        start_min: u16,
        end_min: u16,
        rest_min: Option<(u16, u16)>,
    },
    ShiftStarted {
        start_ms: i64,
        end_ms: i64,
        breaks_ms: Vec<(i64, i64)>,
    },
    SetupUsed {
        shift: String,
        work: WorkWire,
        known: ConditionsWire,
        sheet: SheetWire,
    },
    Marked {
        shift: String,
        list: ListWire,
        item: ItemWire,
        done: bool,
    },
    Oiled {
        shift: String,
    },
    Looked {
        shift: String,
        stiff: u16,
        stuck: u16,
        broken: u16,
    },
    BreakStarted {
        shift: String,
    },
    BreakEnded {
        shift: String,
    },
    Noted {
        shift: String,
        text: String,
    },
    MachineAdded(MachineWire),
    MachineChosen {
        machine: String,
    },
    SetMounted {
        machine: String,
        kind: ToothKindWire,
        new_um: u32,
        end_um: u32,
        tip_um: u32,
        teeth: u16,
    },
    SetStored {
        set: String,
        /// Left out where nothing was done.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        done: Option<Vec<ItemWire>>,
    },
    SetNoted {
        set: String,
        text: String,
    },
    SetPutBack {
        set: String,
        machine: String,
    },
    SetBrokenUp {
        set: String,
        spares: bool,
    },
    ToothNoted {
        set: String,
        position: u16,
        state: ToothStateWire,
    },
    RowTurning {
        machine: String,
    },
    TipsMeasured {
        set: String,
        tips_um: Vec<(u16, u32)>,
    },
    ToothReplaced {
        set: String,
        position: u16,
        kind: ToothKindWire,
        tip_um: u32,
    },
    StockCounted {
        kind: ToothKindWire,
        tip_um: u32,
        count: u32,
    },
    PlateToToothSet {
        machine: String,
        decideg: i16,
    },
    AxlesDescribed {
        machine: String,
        front_g: u32,
        wheelbase_um: u32,
        edge_to_rear_um: u32,
    },
    PutOff {
        shift: String,
        minutes: u8,
    },
    UsualIntervalKept {
        shift: String,
    },
    WasBlind {
        shift: String,
        span_ms: (i64, i64),
    },
    ClockJumped {
        shift: String,
        by_ms: i64,
    },
    ClockAnswered {
        shift: String,
        jump: String,
        moved: bool,
    },
    SectionPlanned {
        machine: String,
        section: SectionWire,
    },
    SectionChanged {
        section: String,
        to: SectionWire,
    },
    SectionMoved {
        section: String,
        before: String,
    },
    SectionLeftOut {
        section: String,
    },
    SectionTicked {
        shift: String,
        section: String,
        done: bool,
    },
    WorkerNamed {
        shift: String,
        name: String,
    },
    PricesSet(PricesWire),
    SeasonPlanned {
        machine: String,
        first_day: i32,
        weeks: u16,
        hours_a_week: u16,
        /// Name, minutes a visit, visits.
        roads: Vec<(String, u32, u16)>,
    },
    ShiftEnded {
        shift: String,
    },
    Struck {
        entry: String,
    },
}

impl From<&Event> for EventWire {
    fn from(event: &Event) -> EventWire {
        let text = |id: &Id| id.as_str().to_owned();
        match event {
            Event::MachineDescribed { name, machine } => {
                EventWire::MachineDescribed(MachineWire::of(name, machine))
            }
            Event::UsualShiftSet(usual) => EventWire::UsualShiftSet {
                start_min: usual.start.minutes(),
                end_min: usual.end.minutes(),
                rest_min: usual
                    .rest
                    .map(|(start, minutes)| (start.minutes(), minutes)),
            },
            Event::ShiftStarted(plan) => EventWire::ShiftStarted {
                start_ms: plan.start.unix_ms(),
                end_ms: plan.end.unix_ms(),
                breaks_ms: plan
                    .breaks
                    .iter()
                    .map(|rest| (rest.start().unix_ms(), rest.end().unix_ms()))
                    .collect(),
            },
            Event::SetupUsed {
                shift,
                work,
                known,
                sheet,
            } => EventWire::SetupUsed {
                shift: text(shift),
                work: WorkWire(*work),
                known: ConditionsWire::from(known),
                sheet: SheetWire::from(sheet),
            },
            Event::Marked {
                shift,
                list,
                item,
                done,
            } => EventWire::Marked {
                shift: text(shift),
                list: ListWire(*list),
                item: ItemWire(*item),
                done: *done,
            },
            Event::Oiled { shift } => EventWire::Oiled { shift: text(shift) },
            Event::Looked { shift, finding } => {
                let (stiff, stuck, broken) = match *finding {
                    Finding::AllTurning => (0, 0, 0),
                    Finding::SomeNot {
                        stiff,
                        stuck,
                        broken,
                    } => (stiff, stuck, broken),
                };
                EventWire::Looked {
                    shift: text(shift),
                    stiff,
                    stuck,
                    broken,
                }
            }
            Event::BreakStarted { shift } => EventWire::BreakStarted { shift: text(shift) },
            Event::BreakEnded { shift } => EventWire::BreakEnded { shift: text(shift) },
            Event::Noted { shift, text: note } => EventWire::Noted {
                shift: text(shift),
                text: note.clone(),
            },
            Event::MachineAdded { name, machine } => {
                EventWire::MachineAdded(MachineWire::of(name, machine))
            }
            Event::MachineChosen { machine } => EventWire::MachineChosen {
                machine: text(machine),
            },
            Event::SetMounted { machine, new } => EventWire::SetMounted {
                machine: text(machine),
                kind: ToothKindWire(new.kind),
                new_um: new.tips.when_new().in_micrometres(),
                end_um: new.tips.when_done().in_micrometres(),
                tip_um: new.tip.in_micrometres(),
                teeth: new.teeth,
            },
            Event::SetStored { set, done } => EventWire::SetStored {
                set: text(set),
                done: (!done.is_empty()).then(|| done.iter().copied().map(ItemWire).collect()),
            },
            Event::SetNoted { set, text: note } => EventWire::SetNoted {
                set: text(set),
                text: note.clone(),
            },
            Event::SetPutBack { set, machine } => EventWire::SetPutBack {
                set: text(set),
                machine: text(machine),
            },
            Event::SetBrokenUp { set, spares } => EventWire::SetBrokenUp {
                set: text(set),
                spares: *spares,
            },
            Event::ToothNoted {
                set,
                position,
                state,
            } => EventWire::ToothNoted {
                set: text(set),
                position: *position,
                state: ToothStateWire(*state),
            },
            Event::RowTurning { machine } => EventWire::RowTurning {
                machine: text(machine),
            },
            Event::TipsMeasured { set, tips } => EventWire::TipsMeasured {
                set: text(set),
                tips_um: tips
                    .iter()
                    .map(|(position, tip)| (*position, tip.in_micrometres()))
                    .collect(),
            },
            Event::ToothReplaced {
                set,
                position,
                kind,
                tip,
            } => EventWire::ToothReplaced {
                set: text(set),
                position: *position,
                kind: ToothKindWire(*kind),
                tip_um: tip.in_micrometres(),
            },
            Event::StockCounted { kind, tip, count } => EventWire::StockCounted {
                kind: ToothKindWire(*kind),
                tip_um: tip.in_micrometres(),
                count: *count,
            },
            Event::PlateToToothSet { machine, angle } => EventWire::PlateToToothSet {
                machine: text(machine),
                decideg: decidegrees(*angle),
            },
            Event::AxlesDescribed { machine, axles } => EventWire::AxlesDescribed {
                machine: text(machine),
                front_g: grams(axles.front_axle()),
                wheelbase_um: axles.wheelbase().in_micrometres(),
                edge_to_rear_um: axles.edge_to_rear().in_micrometres(),
            },
            Event::PutOff { shift, minutes } => EventWire::PutOff {
                shift: text(shift),
                minutes: *minutes,
            },
            Event::UsualIntervalKept { shift } => {
                EventWire::UsualIntervalKept { shift: text(shift) }
            }
            Event::WasBlind { shift, span } => EventWire::WasBlind {
                shift: text(shift),
                span_ms: (span.start().unix_ms(), span.end().unix_ms()),
            },
            Event::ClockJumped { shift, by_ms } => EventWire::ClockJumped {
                shift: text(shift),
                by_ms: *by_ms,
            },
            Event::ClockAnswered { shift, jump, moved } => EventWire::ClockAnswered {
                shift: text(shift),
                jump: text(jump),
                moved: *moved,
            },
            Event::SectionPlanned { machine, section } => EventWire::SectionPlanned {
                machine: text(machine),
                section: SectionWire::from(section),
            },
            Event::SectionChanged { section, to } => EventWire::SectionChanged {
                section: text(section),
                to: SectionWire::from(to),
            },
            Event::SectionMoved { section, before } => EventWire::SectionMoved {
                section: text(section),
                before: text(before),
            },
            Event::SectionLeftOut { section } => EventWire::SectionLeftOut {
                section: text(section),
            },
            Event::SectionTicked {
                shift,
                section,
                done,
            } => EventWire::SectionTicked {
                shift: text(shift),
                section: text(section),
                done: *done,
            },
            Event::WorkerNamed { shift, name } => EventWire::WorkerNamed {
                shift: text(shift),
                name: name.clone(),
            },
            Event::PricesSet(prices) => EventWire::PricesSet(PricesWire::from(prices)),
            Event::SeasonPlanned { machine, plan } => EventWire::SeasonPlanned {
                machine: text(machine),
                first_day: plan.first_day,
                weeks: plan.weeks,
                hours_a_week: plan.hours_a_week,
                roads: plan
                    .roads
                    .iter()
                    .map(|road| (road.name.clone(), road.minutes, road.visits))
                    .collect(),
            },
            Event::ShiftEnded { shift } => EventWire::ShiftEnded { shift: text(shift) },
            Event::Struck { entry } => EventWire::Struck { entry: text(entry) },
        }
    }
}

impl EventWire {
    fn into_event(self) -> Option<Event> {
        Some(match self {
            EventWire::MachineDescribed(described) => {
                let (name, machine) = described.into_machine()?;
                Event::MachineDescribed { name, machine }
            }
            EventWire::UsualShiftSet {
                start_min,
                end_min,
                rest_min,
            } => Event::UsualShiftSet(UsualShift {
                start: time_of_day(start_min).ok()?,
                end: time_of_day(end_min).ok()?,
                rest: rest_min
                    .map(|(start, minutes)| time_of_day(start).map(|start| (start, minutes)))
                    .transpose()
                    .ok()?,
            }),
            EventWire::ShiftStarted {
                start_ms,
                end_ms,
                breaks_ms,
            } => Event::ShiftStarted(ShiftPlan {
                start: Instant::from_unix_ms(start_ms),
                end: Instant::from_unix_ms(end_ms),
                breaks: breaks_ms
                    .into_iter()
                    .map(span)
                    .collect::<Result<_, _>>()
                    .ok()?,
            }),
            EventWire::SetupUsed {
                shift,
                work,
                known,
                sheet,
            } => Event::SetupUsed {
                shift: Id::new(&shift)?,
                work: work.0,
                known: known.into_conditions()?,
                sheet: sheet.into_sheet(),
            },
            EventWire::Marked {
                shift,
                list,
                item,
                done,
            } => Event::Marked {
                shift: Id::new(&shift)?,
                list: list.0,
                item: item.0,
                done,
            },
            EventWire::Oiled { shift } => Event::Oiled {
                shift: Id::new(&shift)?,
            },
            EventWire::Looked {
                shift,
                stiff,
                stuck,
                broken,
            } => Event::Looked {
                shift: Id::new(&shift)?,
                finding: match (stiff, stuck, broken) {
                    (0, 0, 0) => Finding::AllTurning,
                    (stiff, stuck, broken) => Finding::SomeNot {
                        stiff,
                        stuck,
                        broken,
                    },
                },
            },
            EventWire::BreakStarted { shift } => Event::BreakStarted {
                shift: Id::new(&shift)?,
            },
            EventWire::BreakEnded { shift } => Event::BreakEnded {
                shift: Id::new(&shift)?,
            },
            EventWire::Noted { shift, text } => Event::Noted {
                shift: Id::new(&shift)?,
                text,
            },
            EventWire::MachineAdded(described) => {
                let (name, machine) = described.into_machine()?;
                Event::MachineAdded { name, machine }
            }
            EventWire::MachineChosen { machine } => Event::MachineChosen {
                machine: Id::new(&machine)?,
            },
            EventWire::SetMounted {
                machine,
                kind,
                new_um,
                end_um,
                tip_um,
                teeth,
            } => Event::SetMounted {
                machine: Id::new(&machine)?,
                new: NewSet {
                    kind: kind.0,
                    tips: Tips::new(length(new_um).ok()?, length(end_um).ok()?).ok()?,
                    tip: length(tip_um).ok()?,
                    teeth,
                },
            },
            EventWire::SetStored { set, done } => Event::SetStored {
                set: Id::new(&set)?,
                done: match done {
                    Some(done) if done.is_empty() => return None,
                    done => done.into_iter().flatten().map(|item| item.0).collect(),
                },
            },
            EventWire::SetNoted { set, text } => Event::SetNoted {
                set: Id::new(&set)?,
                text,
            },
            EventWire::SetPutBack { set, machine } => Event::SetPutBack {
                set: Id::new(&set)?,
                machine: Id::new(&machine)?,
            },
            EventWire::SetBrokenUp { set, spares } => Event::SetBrokenUp {
                set: Id::new(&set)?,
                spares,
            },
            EventWire::ToothNoted {
                set,
                position,
                state,
            } => Event::ToothNoted {
                set: Id::new(&set)?,
                position,
                state: state.0,
            },
            EventWire::RowTurning { machine } => Event::RowTurning {
                machine: Id::new(&machine)?,
            },
            EventWire::TipsMeasured { set, tips_um } => Event::TipsMeasured {
                set: Id::new(&set)?,
                tips: tips_um
                    .into_iter()
                    .map(|(position, um)| length(um).map(|tip| (position, tip)))
                    .collect::<Result<_, _>>()
                    .ok()?,
            },
            EventWire::ToothReplaced {
                set,
                position,
                kind,
                tip_um,
            } => Event::ToothReplaced {
                set: Id::new(&set)?,
                position,
                kind: kind.0,
                tip: length(tip_um).ok()?,
            },
            EventWire::StockCounted {
                kind,
                tip_um,
                count,
            } => Event::StockCounted {
                kind: kind.0,
                tip: length(tip_um).ok()?,
                count,
            },
            EventWire::PlateToToothSet { machine, decideg } => Event::PlateToToothSet {
                machine: Id::new(&machine)?,
                // Within its range, as if it had been measured.
                angle: plate_to_tooth(Angle::whole_degrees(0), angle(decideg).ok()?).ok()?,
            },
            EventWire::AxlesDescribed {
                machine,
                front_g,
                wheelbase_um,
                edge_to_rear_um,
            } => Event::AxlesDescribed {
                machine: Id::new(&machine)?,
                axles: Axles::new(
                    mass(front_g).ok()?,
                    length(wheelbase_um).ok()?,
                    length(edge_to_rear_um).ok()?,
                )
                .ok()?,
            },
            EventWire::PutOff { shift, minutes } => Event::PutOff {
                shift: Id::new(&shift)?,
                minutes,
            },
            EventWire::UsualIntervalKept { shift } => Event::UsualIntervalKept {
                shift: Id::new(&shift)?,
            },
            EventWire::WasBlind { shift, span_ms } => Event::WasBlind {
                shift: Id::new(&shift)?,
                span: span(span_ms).ok()?,
            },
            EventWire::ClockJumped { shift, by_ms } => Event::ClockJumped {
                shift: Id::new(&shift)?,
                by_ms,
            },
            EventWire::ClockAnswered { shift, jump, moved } => Event::ClockAnswered {
                shift: Id::new(&shift)?,
                jump: Id::new(&jump)?,
                moved,
            },
            EventWire::SectionPlanned { machine, section } => Event::SectionPlanned {
                machine: Id::new(&machine)?,
                section: section.into_section()?,
            },
            EventWire::SectionChanged { section, to } => Event::SectionChanged {
                section: Id::new(&section)?,
                to: to.into_section()?,
            },
            EventWire::SectionMoved { section, before } => Event::SectionMoved {
                section: Id::new(&section)?,
                before: Id::new(&before)?,
            },
            EventWire::SectionLeftOut { section } => Event::SectionLeftOut {
                section: Id::new(&section)?,
            },
            EventWire::WorkerNamed { shift, name } => Event::WorkerNamed {
                shift: Id::new(&shift)?,
                name,
            },
            EventWire::PricesSet(prices) => Event::PricesSet(prices.into_prices()?),
            EventWire::SeasonPlanned {
                machine,
                first_day,
                weeks,
                hours_a_week,
                roads,
            } => Event::SeasonPlanned {
                machine: Id::new(&machine)?,
                plan: SeasonPlan {
                    first_day,
                    weeks,
                    hours_a_week,
                    roads: roads
                        .into_iter()
                        .map(|(name, minutes, visits)| SeasonRoad {
                            name,
                            minutes,
                            visits,
                        })
                        .collect(),
                },
            },
            EventWire::SectionTicked {
                shift,
                section,
                done,
            } => Event::SectionTicked {
                shift: Id::new(&shift)?,
                section: Id::new(&section)?,
                done,
            },
            EventWire::ShiftEnded { shift } => Event::ShiftEnded {
                shift: Id::new(&shift)?,
            },
            EventWire::Struck { entry } => Event::Struck {
                entry: Id::new(&entry)?,
            },
        })
    }
}

/// A machine with its name, lengths in micrometres.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct MachineWire {
    name: String,
    moldboard_um: u32,
    plates_um: (u32, u32),
    pitch_um: u32,
}

impl MachineWire {
    fn of(name: &str, machine: &Machine) -> MachineWire {
        let (short, long) = machine.plates();
        MachineWire {
            name: name.to_owned(),
            moldboard_um: machine.moldboard().in_micrometres(),
            plates_um: (short.in_micrometres(), long.in_micrometres()),
            pitch_um: machine.pitch().in_micrometres(),
        }
    }

    fn into_machine(self) -> Option<(String, Machine)> {
        let plates = (
            length(self.plates_um.0).ok()?,
            length(self.plates_um.1).ok()?,
        );
        let (moldboard, pitch) = (length(self.moldboard_um).ok()?, length(self.pitch_um).ok()?);
        Some((self.name, Machine::new(moldboard, plates, pitch).ok()?))
    }
}

/// A section of road: its length in millimetres, its width in micrometres, its speed in millimetres an hour, so that
/// thousandths of a mile and of a mile an hour are kept as typed.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct SectionWire {
    name: String,
    work: WorkWire,
    length_mm: u32,
    width_um: Option<u32>,
    passes: u16,
    layers: u16,
    speed_mm_per_h: u32,
    work_min_per_h: u8,
}

/// Millimetres in a kilometre.
const MM_PER_KM: f64 = 1_000_000.0;

/// Micrometres in a millimetre.
const UM_PER_MM: f64 = 1000.0;

impl From<&RoadSection> for SectionWire {
    fn from(section: &RoadSection) -> SectionWire {
        let road = &section.road;
        // 500 km and 100 km/h are far within the count.
        let whole = |kilometres: f64| (kilometres * MM_PER_KM).round() as u32;
        SectionWire {
            name: section.name.clone(),
            work: WorkWire(section.work),
            length_mm: whole(road.length().in_kilometres()),
            width_um: road.width().map(Length::in_micrometres),
            passes: road.passes(),
            layers: road.layers(),
            speed_mm_per_h: whole(road.speed().in_kilometres_per_hour()),
            work_min_per_h: road.minutes_of_work(),
        }
    }
}

impl SectionWire {
    fn into_section(self) -> Option<RoadSection> {
        let road = Section::new(
            f64::from(self.length_mm) / MM_PER_KM,
            self.width_um.map(|um| f64::from(um) / UM_PER_MM),
            (self.passes, self.layers),
            f64::from(self.speed_mm_per_h) / MM_PER_KM,
            self.work_min_per_h,
        )
        .ok()?;
        Some(RoadSection {
            name: self.name,
            work: self.work.0,
            road,
        })
    }
}

/// Prices in thousandths of the operator's money, oil in millilitres.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct PricesWire {
    money: String,
    tooth_milli: u64,
    litre_milli: u64,
    oiling_ml: u32,
}

/// Thousandths in one.
const MILLI: f64 = 1000.0;

impl From<&PriceList> for PricesWire {
    fn from(prices: &PriceList) -> PricesWire {
        // At most 10⁹, of which thousandths are far within the count.
        let milli = |price: Money| (price.in_own_money() * MILLI).round() as u64;
        PricesWire {
            money: prices.money.clone(),
            tooth_milli: milli(prices.tooth),
            litre_milli: milli(prices.litre),
            oiling_ml: (prices.an_oiling.in_litres() * MILLI).round() as u32,
        }
    }
}

impl PricesWire {
    fn into_prices(self) -> Option<PriceList> {
        let money = |milli: u64| Money::amount(milli as f64 / MILLI).ok();
        Some(PriceList {
            money: self.money,
            tooth: money(self.tooth_milli)?,
            litre: money(self.litre_milli)?,
            an_oiling: Litres::new(f64::from(self.oiling_ml) / MILLI).ok()?,
        })
    }
}

/// Lengths in micrometres, the temperature in tenths of a degree Celsius. What is not known is left out.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct ConditionsWire {
    #[serde(skip_serializing_if = "Option::is_none")]
    surface_decicelsius: Option<i16>,
    #[serde(skip_serializing_if = "Option::is_none")]
    soft: Option<bool>,
    #[serde(skip_serializing_if = "Option::is_none")]
    layer_um: Option<u32>,
    #[serde(skip_serializing_if = "Option::is_none")]
    skids: Option<bool>,
    #[serde(skip_serializing_if = "Option::is_none")]
    bite_um: Option<u32>,
    #[serde(skip_serializing_if = "Option::is_none")]
    stones: Option<StonesWire>,
    #[serde(skip_serializing_if = "Option::is_none")]
    moisture: Option<MoistureWire>,
    #[serde(skip_serializing_if = "Option::is_none")]
    path_um: Option<u32>,
    #[serde(skip_serializing_if = "Option::is_none")]
    strip_um: Option<u32>,
    #[serde(skip_serializing_if = "Option::is_none")]
    cutting_end: Option<EndWire>,
}

impl From<&Conditions> for ConditionsWire {
    fn from(known: &Conditions) -> ConditionsWire {
        ConditionsWire {
            // -70 to 90 degrees are at most 900 tenths.
            surface_decicelsius: known
                .surface
                .map(|it| (it.in_celsius() * 10.0).round() as i16),
            soft: known.soft,
            layer_um: known.layer.map(Length::in_micrometres),
            skids: known.skids,
            bite_um: known.bite.map(Length::in_micrometres),
            stones: known.stones.map(StonesWire),
            moisture: known.moisture.map(MoistureWire),
            path_um: known.path.map(Length::in_micrometres),
            strip_um: known.strip.map(Length::in_micrometres),
            cutting_end: known.cutting_end.map(EndWire),
        }
    }
}

impl ConditionsWire {
    fn into_conditions(self) -> Option<Conditions> {
        Some(Conditions {
            surface: self.surface_decicelsius.map(temperature).transpose().ok()?,
            soft: self.soft,
            layer: self.layer_um.map(length).transpose().ok()?,
            skids: self.skids,
            bite: self.bite_um.map(length).transpose().ok()?,
            stones: self.stones.map(|it| it.0),
            moisture: self.moisture.map(|it| it.0),
            path: self.path_um.map(length).transpose().ok()?,
            strip: self.strip_um.map(length).transpose().ok()?,
            cutting_end: self.cutting_end.map(|it| it.0),
        })
    }
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct SheetWire {
    verdict: VerdictWire,
    teeth: Vec<ToothKindWire>,
    plates: u8,
    toothed_at: Vec<u8>,
    tooth_count: u32,
    cutting_deg: u8,
    grading_deg: u8,
    layers: u16,
    oilings: u8,
    looks_per_interval: u8,
}

impl From<&SheetTaken> for SheetWire {
    fn from(sheet: &SheetTaken) -> SheetWire {
        SheetWire {
            verdict: VerdictWire(sheet.verdict),
            teeth: sheet.teeth.iter().copied().map(ToothKindWire).collect(),
            plates: sheet.plates,
            toothed_at: sheet.toothed_at.clone(),
            tooth_count: sheet.tooth_count,
            cutting_deg: sheet.cutting_degrees,
            grading_deg: sheet.grading_degrees,
            layers: sheet.layers,
            oilings: sheet.oilings,
            looks_per_interval: sheet.looks_per_interval,
        }
    }
}

impl SheetWire {
    fn into_sheet(self) -> SheetTaken {
        SheetTaken {
            verdict: self.verdict.0,
            teeth: self.teeth.into_iter().map(|kind| kind.0).collect(),
            plates: self.plates,
            toothed_at: self.toothed_at,
            tooth_count: self.tooth_count,
            cutting_degrees: self.cutting_deg,
            grading_degrees: self.grading_deg,
            layers: self.layers,
            oilings: self.oilings,
            looks_per_interval: self.looks_per_interval,
        }
    }
}

// The constructors below hold a number to its range where they cut or wrap; a record with such a number is damaged.

fn length(um: u32) -> Result<Length, Unreadable> {
    let length = Length::micrometres(um);
    possible(length.in_micrometres() == um, length)
}

fn temperature(tenths: i16) -> Result<Temperature, Unreadable> {
    Temperature::celsius(f64::from(tenths) / 10.0).map_err(|_| Unreadable::Damaged)
}

fn angle(tenths: i16) -> Result<Angle, Unreadable> {
    Angle::degrees(f64::from(tenths) / 10.0).map_err(|_| Unreadable::Damaged)
}

/// At most a whole turn either way, which is 3600 tenths.
fn decidegrees(angle: Angle) -> i16 {
    (angle.in_degrees() * 10.0).round() as i16
}

fn mass(grams: u32) -> Result<Mass, Unreadable> {
    Mass::kilograms(f64::from(grams) / 1000.0).map_err(|_| Unreadable::Damaged)
}

/// At most 200 tonnes, which are 200,000,000 grams.
fn grams(mass: Mass) -> u32 {
    (mass.in_kilograms() * 1000.0).round() as u32
}

fn time_of_day(minutes: u16) -> Result<TimeOfDay, Unreadable> {
    let time = TimeOfDay::from_minutes(minutes);
    possible(time.minutes() == minutes, time)
}

fn span((start_ms, end_ms): (i64, i64)) -> Result<Span, Unreadable> {
    let (start, end) = (
        Instant::from_unix_ms(start_ms),
        Instant::from_unix_ms(end_ms),
    );
    possible(start <= end, Span::new(start, end))
}

fn possible<T>(holds: bool, value: T) -> Result<T, Unreadable> {
    if holds {
        Ok(value)
    } else {
        Err(Unreadable::Damaged)
    }
}

/// A length as a record keeps it, so that what is decided now is what is read tomorrow.
pub(crate) fn kept_length(length: Length) -> Length {
    Length::micrometres(length.in_micrometres())
}

/// An angle as a record keeps it.
pub(crate) fn kept_angle(kept: Angle) -> Angle {
    angle(decidegrees(kept)).unwrap_or(kept)
}

/// A mass as a record keeps it.
pub(crate) fn kept_mass(kept: Mass) -> Mass {
    mass(grams(kept)).unwrap_or(kept)
}

/// A section as a record keeps it.
pub(crate) fn kept_section(section: &RoadSection) -> RoadSection {
    // What was valid before rounding is valid after it: every bound is a whole number of millimetres.
    SectionWire::from(section)
        .into_section()
        .unwrap_or_else(|| section.clone())
}

/// Prices as a record keeps them.
pub(crate) fn kept_prices(prices: &PriceList) -> PriceList {
    // What was valid before rounding is valid after it: every bound is a whole number of thousandths.
    PricesWire::from(prices)
        .into_prices()
        .unwrap_or_else(|| prices.clone())
}

/// The conditions as a record keeps them.
pub(crate) fn kept_conditions(known: &Conditions) -> Conditions {
    // What was valid before rounding is valid after it: every bound is a whole number of tenths or micrometres.
    ConditionsWire::from(known)
        .into_conditions()
        .unwrap_or(*known)
}

/// A closed enum of the rules as a word in the record. The words are part of the format: they may be added to, never
/// changed, whatever the enum comes to be called.
macro_rules! words {
    ($($wire:ident for $known:ident { $($variant:ident = $word:literal),+ $(,)? })+) => { $(
        struct $wire($known);

        impl Serialize for $wire {
            fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                serializer.serialize_str(match self.0 { $($known::$variant => $word),+ })
            }
        }

        impl<'de> Deserialize<'de> for $wire {
            fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
                let word = <String as Deserialize>::deserialize(deserializer)?;
                [$(($word, $known::$variant)),+]
                    .into_iter()
                    .find_map(|(known, variant)| (known == word).then_some($wire(variant)))
                    .ok_or_else(|| serde::de::Error::custom("unknown-word"))
            }
        }
    )+ };
}

words! {
    WorkWire for Work {
        PackedSnow = "packed_snow",
        PackedSnowOnSoft = "packed_snow_on_soft",
        RoadEdge = "road_edge",
        Gravel = "gravel",
        TightStone = "tight_stone",
        StonyGravel = "stony_gravel",
        SoftMilling = "soft_milling",
        StoneBase = "stone_base",
        RuttedPavement = "rutted_pavement",
        Path = "path",
    }
    StonesWire for Stones { Few = "few", Many = "many" }
    MoistureWire for Moisture { Dusty = "dusty", Moist = "moist" }
    EndWire for End { Left = "left", Right = "right" }
    VerdictWire for Verdict { Suits = "suits", WithCare = "with_care", DoNot = "do_not" }
    ToothKindWire for ToothKind {
        NarrowPointed = "narrow_pointed",
        WidePointed = "wide_pointed",
        WideBlunt = "wide_blunt",
    }
    ToothStateWire for ToothState {
        Turning = "turning",
        Stiff = "stiff",
        Stuck = "stuck",
        Chipped = "chipped",
        Broken = "broken",
        Gone = "gone",
    }
    ListWire for List { Opening = "opening", Closing = "closing", LayingUp = "laying_up" }
    ItemWire for Item {
        MachineSafe = "machine_safe",
        RowComplete = "row_complete",
        TeethTurn = "teeth_turn",
        PlatesTight = "plates_tight",
        AnglesSet = "angles_set",
        SparesAboard = "spares_aboard",
        OilAboard = "oil_aboard",
        TrafficReady = "traffic_ready",
        BadTeethReplaced = "bad_teeth_replaced",
        SocketsClean = "sockets_clean",
        SocketsOiled = "sockets_oiled",
        SpillsTaken = "spills_taken",
        HandedOver = "handed_over",
        EdgeClean = "edge_clean",
        EdgeOiled = "edge_oiled",
        StoredIndoors = "stored_indoors",
        InOilBath = "in_oil_bath",
    }
}
