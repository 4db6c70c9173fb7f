//! A checkpoint: the few records that tell what has to be known at once, so that a start need not read ten seasons.
//!
//! It is a journal in little. The machines and how they are used, the planned road, the shift that runs or was the last:
//! folded, its records give the same as all of them would, as far as [`AtHand`] goes, and that is compared before one is
//! made. It can be told from the records at any time, and thrown away at any time. It holds only as long as the records
//! that it was made of and those counted since are all that there are; whoever opens it has to count them. Never here:
//! where it is kept.

use std::collections::{BTreeMap, BTreeSet};

use crate::backup::Checksum;
use crate::event::{Event, Id, UsualShift};
use crate::journal::Journal;
use crate::state::{Measured, NamedMachine, PlannedSection, Shift, State};

/// Raised whenever another choice of records is made: an older checkpoint is then thrown away.
const FORM: u32 = 1;

/// The longest that is made, in bytes: it is kept where there is little room.
const LONGEST: usize = 128 * 1024;

/// The few records, and how many there were.
#[derive(Clone, Debug, PartialEq)]
pub struct Checkpoint {
    /// The few, as a journal.
    pub journal: Journal,
    /// Of how many it was made.
    pub all: usize,
}

/// What a checkpoint tells just as all records do: what the shift, the look, the lists, the set-up and the machine are
/// shown and decided from. The history of teeth, hours and costs is not at hand.
#[derive(PartialEq)]
struct AtHand<'a> {
    machines: &'a [NamedMachine],
    chosen: &'a BTreeMap<Id, Id>,
    measured: &'a BTreeMap<Id, Measured>,
    sections: &'a [PlannedSection],
    usual: Option<UsualShift>,
    shifts: Vec<&'a Shift>,
    /// Which set is on which machine, and its last tooth.
    sets: Vec<(&'a Id, &'a Id, Option<u16>)>,
    read_only: bool,
}

impl<'a> AtHand<'a> {
    fn of(state: &'a State) -> AtHand<'a> {
        let sets = state.teeth.sets.iter();
        let mounted = sets.filter_map(|set| {
            let last = set.teeth.last_key_value().map(|(last, _)| *last);
            Some((set.machine()?, &set.id, last))
        });
        AtHand {
            machines: &state.machines,
            chosen: &state.chosen,
            measured: &state.measured,
            sections: &state.sections,
            usual: state.usual,
            shifts: shifts_at_hand(state).collect(),
            sets: mounted.collect(),
            read_only: state.read_only,
        }
    }
}

/// The shifts that run, and the last.
fn shifts_at_hand(state: &State) -> impl Iterator<Item = &Shift> {
    let last = state.shifts.len().saturating_sub(1);
    let numbered = state.shifts.iter().enumerate();
    numbered.filter_map(move |(at, it)| (it.ended.is_none() || at == last).then_some(it))
}

/// Whether an event tells something of what is at hand.
fn is_at_hand(id: &Id, event: &Event, shifts: &BTreeSet<&Id>) -> bool {
    match event {
        Event::ShiftStarted(_) => shifts.contains(id),
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
        | Event::ShiftEnded { shift } => shifts.contains(shift),
        Event::MachineDescribed { .. }
        | Event::MachineAdded { .. }
        | Event::MachineChosen { .. }
        | Event::UsualShiftSet(_)
        | Event::SetMounted { .. }
        | Event::SetStored { .. }
        | Event::SetPutBack { .. }
        | Event::SetBrokenUp { .. }
        | Event::PlateToToothSet { .. }
        | Event::AxlesDescribed { .. }
        | Event::SectionPlanned { .. }
        | Event::SectionChanged { .. }
        | Event::SectionMoved { .. }
        | Event::SectionLeftOut { .. } => true,
        Event::SetNoted { .. }
        | Event::ToothNoted { .. }
        | Event::RowTurning { .. }
        | Event::TipsMeasured { .. }
        | Event::ToothReplaced { .. }
        | Event::StockCounted { .. }
        | Event::PricesSet(_)
        | Event::SeasonPlanned { .. }
        // What is struck is left out, and so are the strikes.
        | Event::Struck { .. } => false,
    }
}

impl Checkpoint {
    /// The checkpoint of a journal and the state that it tells. There is none where a newer version has written, where
    /// records came with different bytes or strike one that is not here yet, where some have ids that do not sort before
    /// those to come, or where it would be long: then all are read at each start.
    pub fn of(journal: &Journal, state: &State) -> Option<Checkpoint> {
        let to_come = Id::all_from(journal.next_count());
        let mut ids = journal.readable().map(|(_, entry)| entry.id.as_str());
        let waits = journal.strikes_what_is_not_here();
        let is_plain = !journal.is_newer() && !journal.has_conflicts() && !waits;
        if !is_plain || !ids.all(|id| id < to_come.as_str()) {
            return None;
        }
        let shifts: BTreeSet<&Id> = shifts_at_hand(state).map(|shift| &shift.id).collect();
        let chosen = journal.in_force().into_iter();
        let chosen = chosen.filter(|entry| is_at_hand(&entry.id, &entry.event, &shifts));
        let mut wanted: BTreeSet<&Id> = chosen.map(|entry| &entry.id).collect();
        // The count goes on from the last of all; if that is a strike, it comes with what it strikes.
        let mut next = journal.last_entry().map(|entry| &entry.id);
        // Two may strike each other.
        while let Some(id) = next.filter(|id| wanted.insert(id)) {
            next = journal.struck_by(id);
        }
        let mut little = Journal::default();
        for (record, entry) in journal.readable() {
            if wanted.contains(&entry.id) {
                little.take(record);
            }
        }
        let made = Checkpoint {
            journal: little,
            all: journal.len(),
        };
        let same = AtHand::of(&State::fold(&made.journal)) == AtHand::of(state);
        (same && Checkpoint::read(&made.write()).as_ref() == Some(&made)).then_some(made)
    }

    /// As it is kept: a line that says of how many records it was made, with a checksum of what follows; then the records.
    pub fn write(&self) -> String {
        let records: Vec<&str> = self.journal.records().collect();
        let records = records.join("\n");
        format!("{FORM} {} {}\n{records}", self.all, sum_of(&records))
    }

    /// Reads one that was kept; none where it is damaged, or from another version of the app.
    pub fn read(text: &str) -> Option<Checkpoint> {
        let (head, records) = text.split_once('\n')?;
        let [form, all, sum] = head.split(' ').collect::<Vec<_>>()[..] else {
            return None;
        };
        let number = |text: &str| text.parse::<u32>().ok();
        let is_whole = number(form) == Some(FORM) && number(sum) == Some(sum_of(records));
        if LONGEST < text.len() || !is_whole {
            return None;
        }
        let mut journal = Journal::default();
        let taken = records.split('\n').all(|record| journal.take(record));
        let all = all.parse().ok()?;
        let is_plain = taken && journal.unreadable().next().is_none() && journal.len() <= all;
        is_plain.then_some(Checkpoint { journal, all })
    }

    /// How many records it leaves out.
    pub fn left_out(&self) -> usize {
        self.all - self.journal.len()
    }
}

/// The checksum that backups have too.
fn sum_of(records: &str) -> u32 {
    Checksum::of(records.as_bytes()).value()
}
