//! The tables for a spreadsheet: what a foreman would look for, row by row, with headings in the chosen language.
//!
//! Lengths are millimetres and times have their zone whatever the phone prefers, so that tables of several phones fit
//! together. Never here: how a table becomes a file (`evenrow_journal::csv`).

use evenrow_journal::State;
use evenrow_journal::csv::Cell;
use evenrow_journal::event::Finding;
use evenrow_journal::export::{Report, report};
use evenrow_journal::row::SetOfTeeth;
use evenrow_journal::state::Shift;
use evenrow_rules::oiling::{Slot, Status, Timing};
use evenrow_rules::quantity::{Instant, Length};

use super::Words;
use super::times::Zone;

/// One of the tables.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Table {
    /// A row for each shift.
    Shifts,
    /// A row for each oiling that fell due or was done.
    Oilings,
    /// A row for each look.
    Looks,
    /// A row for each tooth in a set.
    Teeth,
    /// A row for each tip measured.
    Tips,
    /// A row for each note.
    Notes,
}

impl Table {
    /// All of them.
    pub const ALL: [Table; 6] = [
        Table::Shifts,
        Table::Oilings,
        Table::Looks,
        Table::Teeth,
        Table::Tips,
        Table::Notes,
    ];

    /// Its name in the name of a file.
    pub fn file_name(self) -> &'static str {
        match self {
            Table::Shifts => "shifts",
            Table::Oilings => "oilings",
            Table::Looks => "looks",
            Table::Teeth => "teeth",
            Table::Tips => "tips",
            Table::Notes => "notes",
        }
    }
}

/// Headings and rows.
pub type Rows = (Vec<String>, Vec<Vec<Cell>>);

fn count(number: usize) -> Cell {
    Cell::Number(i64::try_from(number).unwrap_or(i64::MAX), 0)
}

/// Micrometres as millimetres.
fn mm(length: Length) -> Cell {
    Cell::Number(i64::from(length.in_micrometres()), 3)
}

fn machine_of(shift: &Shift) -> Cell {
    let name = shift.machine.as_ref().map(|it| Cell::Text(it.name.clone()));
    name.unwrap_or(Cell::Empty)
}

impl Words {
    /// What a table is called.
    pub fn table(&self, table: Table) -> String {
        match table {
            Table::Shifts => self.table_shifts(),
            Table::Oilings => self.table_oilings(),
            Table::Looks => self.table_looks(),
            Table::Teeth => self.table_teeth(),
            Table::Tips => self.table_tips(),
            Table::Notes => self.table_notes(),
        }
    }

    /// A table as things stand at `now`; `zone` is the phone's, for what no shift has one for.
    pub fn rows(&self, table: Table, state: &State, now: Instant, zone: &Zone) -> Rows {
        let shifts = state.shifts.iter();
        match table {
            Table::Shifts => (
                vec![
                    self.head_machine(),
                    self.head_start(),
                    self.head_end(),
                    self.head_ended(),
                    self.head_hours(),
                    self.head_works(),
                    self.head_planned(),
                    self.head_on_time(),
                    self.head_late(),
                    self.head_missed(),
                    self.head_extra(),
                    self.head_looks(),
                    self.head_notes(),
                ],
                shifts
                    .map(|it| self.shift_row(it, &report(state, it, now)))
                    .collect(),
            ),
            Table::Oilings => (
                vec![
                    self.head_machine(),
                    self.head_shift(),
                    self.head_due(),
                    self.head_done(),
                    self.head_minutes_late(),
                    self.head_outcome(),
                ],
                shifts.flat_map(|it| self.oiling_rows(it, now)).collect(),
            ),
            Table::Looks => (
                vec![
                    self.head_machine(),
                    self.head_at(),
                    self.head_stiff(),
                    self.head_stuck(),
                    self.head_broken(),
                ],
                shifts.flat_map(look_rows).collect(),
            ),
            Table::Teeth => (
                vec![
                    self.head_set(),
                    self.head_machine(),
                    self.head_position(),
                    self.head_kind(),
                    self.head_state(),
                    self.head_tip(),
                    self.head_measured(),
                ],
                self.teeth_rows(state, now),
            ),
            Table::Tips => (
                vec![
                    self.head_set(),
                    self.head_at(),
                    self.head_position(),
                    self.head_tip(),
                    self.head_first_tooth(),
                ],
                self.tip_rows(state, zone),
            ),
            Table::Notes => (
                vec![
                    self.head_at(),
                    self.head_machine(),
                    self.head_set(),
                    self.head_text(),
                ],
                note_rows(state, zone),
            ),
        }
    }

    fn shift_row(&self, shift: &Shift, report: &Report) -> Vec<Cell> {
        let at = |moment| Cell::Moment(moment, shift.offset_minutes);
        let works: Vec<String> = report.setups.iter().map(|it| self.work(it.work)).collect();
        // Hundredths of an hour are 36 seconds.
        let hundredths = (report.worked.as_secs() + 18) / 36;
        vec![
            machine_of(shift),
            at(shift.plan.start),
            at(shift.plan.end),
            shift.ended.map_or(Cell::Empty, at),
            Cell::Number(i64::try_from(hundredths).unwrap_or(i64::MAX), 2),
            Cell::Text(works.join(" / ")),
            count(report.count.planned),
            count(report.count.on_time),
            count(report.count.late),
            count(report.count.missed),
            count(report.count.extra),
            count(report.looks.len()),
            count(report.notes.len()),
        ]
    }

    fn oiling_rows(&self, shift: &Shift, now: Instant) -> Vec<Vec<Cell>> {
        let at = |moment| Cell::Moment(moment, shift.offset_minutes);
        let row = |due: Option<Instant>, done: Option<Instant>, outcome: String| {
            let late = due.zip(done).map(|(due, done)| {
                let by = done.unix_ms().saturating_sub(due.unix_ms());
                Cell::Number(by.div_euclid(60_000), 0)
            });
            vec![
                machine_of(shift),
                at(shift.plan.start),
                due.map_or(Cell::Empty, at),
                done.map_or(Cell::Empty, at),
                late.unwrap_or(Cell::Empty),
                Cell::Text(outcome),
            ]
        };
        let standing = shift.standing(now);
        let slot = |slot: &Slot| {
            let (done, outcome) = match slot.status {
                Status::Done { at, timing } => {
                    let outcome = match timing {
                        Timing::OnTime => self.outcome_on_time(),
                        Timing::Early(_) => self.outcome_early(),
                        Timing::Late(_) => self.outcome_late(),
                    };
                    (Some(at), outcome)
                }
                Status::Missed => (None, self.outcome_missed()),
                Status::Due | Status::Late(_) => (None, self.outcome_open()),
                Status::Ahead => return None,
            };
            Some(row(Some(slot.due.at), done, outcome))
        };
        let slots = standing.slots.iter().filter_map(slot);
        let extra = standing.extra.iter();
        slots
            .chain(extra.map(|&done| row(None, Some(done), self.outcome_extra())))
            .collect()
    }

    fn teeth_rows(&self, state: &State, now: Instant) -> Vec<Vec<Cell>> {
        let sets = (1..).zip(&state.teeth.sets);
        let rows = sets.flat_map(|(number, set)| {
            let machine = set.machine().and_then(|id| state.machine(id));
            let machine = machine.map_or(Cell::Empty, |it| Cell::Text(it.name.clone()));
            let tips = state.tips_now(set, now);
            set.teeth.iter().map(move |(&position, tooth)| {
                let tip = tips.get(&position);
                vec![
                    count(number),
                    machine.clone(),
                    count(usize::from(position)),
                    Cell::Text(self.tooth_kind(tooth.kind)),
                    Cell::Text(self.tooth_state(tooth.state)),
                    mm(tip.map_or(tooth.tip, |it| it.tip)),
                    self.yes_or_no(tip.is_some_and(|it| it.measured)),
                ]
            })
        });
        rows.collect()
    }

    fn tip_rows(&self, state: &State, zone: &Zone) -> Vec<Vec<Cell>> {
        let sets = (1..).zip(&state.teeth.sets);
        let rows = sets.flat_map(|(number, set): (usize, &SetOfTeeth)| {
            set.measured.iter().map(move |it| {
                vec![
                    count(number),
                    Cell::Moment(it.at, zone(it.at)),
                    count(usize::from(it.position)),
                    mm(it.tip),
                    self.yes_or_no(it.first),
                ]
            })
        });
        rows.collect()
    }

    fn yes_or_no(&self, yes: bool) -> Cell {
        Cell::Text(if yes {
            self.answer_yes()
        } else {
            self.answer_no()
        })
    }
}

fn look_rows(shift: &Shift) -> Vec<Vec<Cell>> {
    let row = |&(at, finding): &(Instant, Finding)| {
        let counts = match finding {
            Finding::AllTurning => [0, 0, 0],
            Finding::SomeNot {
                stiff,
                stuck,
                broken,
            } => [stiff, stuck, broken],
        };
        let mut row = vec![machine_of(shift), Cell::Moment(at, shift.offset_minutes)];
        row.extend(counts.map(|it| count(usize::from(it))));
        row
    };
    shift.looks.iter().map(row).collect()
}

fn note_rows(state: &State, zone: &Zone) -> Vec<Vec<Cell>> {
    let on_shifts = state.shifts.iter().flat_map(|shift| {
        shift.notes.iter().map(|(at, text)| {
            vec![
                Cell::Moment(*at, shift.offset_minutes),
                machine_of(shift),
                Cell::Empty,
                Cell::Text(text.clone()),
            ]
        })
    });
    let sets = (1..).zip(&state.teeth.sets);
    let on_sets = sets.flat_map(|(number, set)| {
        set.notes.iter().map(move |(at, text)| {
            vec![
                Cell::Moment(*at, zone(*at)),
                Cell::Empty,
                count(number),
                Cell::Text(text.clone()),
            ]
        })
    });
    on_shifts.chain(on_sets).collect()
}

#[cfg(test)]
mod tests {
    use evenrow_journal::{Journal, csv};

    use super::*;
    use crate::words::english;

    fn season() -> State {
        let mut journal = Journal::default();
        for line in include_str!("../../../../tests/journals/season.jsonl").lines() {
            journal.take(line);
        }
        State::fold(&journal)
    }

    /// A table of the season as a file, line by line, without the mark at its beginning.
    fn table(table: Table) -> Vec<String> {
        let now = Instant::from_unix_ms(1_784_930_400_000);
        let (headings, rows) = english().rows(table, &season(), now, &|_| -360);
        let width = headings.len();
        assert!(rows.iter().all(|row| row.len() == width));
        let file = csv::file(&headings, &rows);
        let lines = file.trim_start_matches('\u{feff}').split_terminator("\r\n");
        lines.map(str::to_owned).collect()
    }

    #[test]
    fn a_season_has_a_row_for_each_of_its_thirty_shifts_in_the_hours_of_the_cab() {
        let lines = table(Table::Shifts);
        assert_eq!(lines.len(), 31);
        // Seven to half past three less half an hour.
        let first = "\"Pine Ridge 2\",2026-06-15T07:00:00-06:00,2026-06-15T15:30:00-06:00,2026-06-15T15:30:00-06:00,8.00,\"Gravel, top layer\",";
        assert!(lines[1].starts_with(first), "{}", lines[1]);
    }

    #[test]
    fn every_oiling_look_tooth_tip_and_note_of_the_season_has_a_row() {
        let state = season();
        let rows = |it: Table| table(it).len() - 1;
        let looks: usize = state.shifts.iter().map(|it| it.looks.len()).sum();
        assert_eq!(rows(Table::Looks), looks);
        assert_eq!(rows(Table::Teeth), state.teeth.in_sets());
        let tips: usize = state.teeth.sets.iter().map(|it| it.measured.len()).sum();
        assert!(0 < tips);
        assert_eq!(rows(Table::Tips), tips);
        assert_eq!(rows(Table::Notes), 1);
        // Each that was recorded has the moment at which it was done.
        let recorded = include_str!("../../../../tests/journals/season.jsonl");
        let recorded = recorded.matches("\"oiled\"").count();
        let oilings = table(Table::Oilings);
        let done = |it: &&String| {
            let cells: Vec<&str> = it.split(',').collect();
            cells[3].starts_with("2026-")
        };
        assert_eq!(oilings.iter().filter(done).count(), recorded);
        let late = oilings.iter().find(|it| it.ends_with("\"late\"")).unwrap();
        assert!(late.ends_with(",35,\"late\""), "{late}");
        assert!(oilings.iter().any(|it| it.ends_with(",,,\"missed\"")));
    }
}
