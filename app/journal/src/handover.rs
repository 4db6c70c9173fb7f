//! The records that a shift needs on another phone: its own, its machine, the set on it, and the shifts that this set has
//! worked, for its life is reckoned from them. What is left out is another machine's, another set's, or the box of spares.
//!
//! They travel as a file like any other backup and not as a row of QR codes. A shift on a worn set comes to some tens of
//! kilobytes, a code holds 2953 bytes at most (ISO/IEC 18004, version 40, level L): that is a film of codes to be held
//! still for, and a reader for it in every phone, where a file goes by the share sheet and whatever radio the phones have.
//!
//! Never here: how they are handed over.

use std::collections::BTreeSet;

use evenrow_rules::quantity::{Instant, Span};

use crate::event::{Entry, Event, Id};
use crate::journal::Journal;
use crate::state::{Shift, State};

/// The records that a shift needs, byte for byte; none for a shift that is not known.
pub fn of_shift<'a>(
    journal: &'a Journal,
    state: &State,
    shift: &Id,
    now: Instant,
) -> BTreeSet<&'a str> {
    let Some(shift) = state.shift(shift) else {
        return BTreeSet::new();
    };
    let needed = Needed::of(journal, state, shift, now);
    let mut taken: BTreeSet<&Id> = BTreeSet::new();
    let mut records = BTreeSet::new();
    for (record, entry) in journal.readable() {
        if needed.has(entry) {
            taken.insert(&entry.id);
            records.insert(record);
        }
    }
    // A strike goes with what it strikes, and a strike of a strike with that.
    loop {
        let before = records.len();
        for (record, entry) in journal.readable() {
            if let Event::Struck { entry: struck } = &entry.event
                && taken.contains(struck)
            {
                taken.insert(&entry.id);
                records.insert(record);
            }
        }
        if records.len() == before {
            return records;
        }
    }
}

/// What the records have to be of.
struct Needed<'a> {
    devices: BTreeSet<&'a Id>,
    machine: Option<&'a Id>,
    set: Option<&'a Id>,
    shifts: BTreeSet<&'a Id>,
    sections: BTreeSet<&'a Id>,
}

impl<'a> Needed<'a> {
    fn of(journal: &'a Journal, state: &'a State, shift: &'a Shift, now: Instant) -> Needed<'a> {
        let machine = shift.machine.as_ref().map(|it| &it.id);
        let set = machine.and_then(|it| state.teeth.on(it));
        let worked = set.map(|it| it.times_on(now)).unwrap_or_default();
        let worked_by_it = |other: &&Shift| {
            let span = Span::new(other.plan.start, other.ended.unwrap_or(now));
            let meets = |on: &Span| on.start() < span.end() && span.start() < on.end();
            worked
                .iter()
                .any(|(machine, on)| other.is_with(machine) && meets(on))
        };
        let mut shifts: BTreeSet<&Id> = state
            .shifts
            .iter()
            .filter(worked_by_it)
            .map(|it| &it.id)
            .collect();
        shifts.insert(&shift.id);
        let sections = state.sections.iter();
        let sections = sections.filter(|it| Some(&it.machine) == machine);
        // A shift is with the machine that was chosen on the phone which started it.
        let started = journal.readable().map(|(_, entry)| entry);
        let started = started.filter(|it| shifts.contains(&it.id));
        Needed {
            devices: started.map(|it| &it.device).collect(),
            machine,
            set: set.map(|it| &it.id),
            sections: sections.map(|it| &it.id).collect(),
            shifts,
        }
    }

    fn has(&self, entry: &Entry) -> bool {
        let of_machine = |machine: &Id| self.machine == Some(machine);
        let of_set = |set: &Id| self.set == Some(set);
        let of_shift = |shift: &Id| self.shifts.contains(shift);
        let of_section = |section: &Id| self.sections.contains(section);
        match &entry.event {
            Event::MachineDescribed { .. }
            | Event::MachineAdded { .. }
            | Event::MachineChosen { .. } => {
                self.devices.contains(&entry.device) || of_machine(&entry.id)
            }
            Event::UsualShiftSet(_) => self.devices.contains(&entry.device),
            Event::ShiftStarted(_) => of_shift(&entry.id),
            Event::SetupUsed { shift, .. }
            | Event::Marked { shift, .. }
            | Event::Oiled { shift }
            | Event::Looked { shift, .. }
            | Event::BreakStarted { shift }
            | Event::BreakEnded { shift }
            | Event::Noted { shift, .. }
            | Event::PutOff { shift, .. }
            | Event::UsualIntervalKept { shift }
            | Event::WasBlind { shift, .. }
            | Event::ClockJumped { shift, .. }
            | Event::ClockAnswered { shift, .. }
            | Event::SectionTicked { shift, .. }
            | Event::WorkerNamed { shift, .. }
            | Event::ShiftEnded { shift } => of_shift(shift),
            Event::SetMounted { .. } => of_set(&entry.id),
            Event::SetStored { set, .. }
            | Event::SetNoted { set, .. }
            | Event::SetPutBack { set, .. }
            | Event::SetBrokenUp { set, .. }
            | Event::ToothNoted { set, .. }
            | Event::TipsMeasured { set, .. }
            | Event::ToothReplaced { set, .. } => of_set(set),
            Event::RowTurning { machine }
            | Event::PlateToToothSet { machine, .. }
            | Event::AxlesDescribed { machine, .. } => of_machine(machine),
            Event::SectionPlanned { .. } => of_section(&entry.id),
            Event::SectionChanged { section, .. }
            | Event::SectionMoved { section, .. }
            | Event::SectionLeftOut { section } => of_section(section),
            // What was counted was taken from for sets that stay behind: the number would be wrong. What teeth cost and what
            // a season is to bring stays with whoever keeps the books.
            Event::StockCounted { .. }
            | Event::PricesSet(_)
            | Event::SeasonPlanned { .. }
            | Event::Struck { .. } => false,
        }
    }
}
