//! The shift report as text that stands on its own: for the screen, the share sheet and the clipboard alike.

use evenrow_journal::export::Report;
use evenrow_journal::state::SetupInUse;
use evenrow_rules::oiling::{Slot, Status, Timing};
use evenrow_rules::quantity::{Instant, Span};

use super::{Words, times};
use crate::device::preferences::Units;

/// One part of the report: a heading and its lines.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Section {
    /// The heading.
    pub title: String,
    /// The lines under it.
    pub lines: Vec<String>,
}

impl Words {
    /// The title of the report: machine and date.
    pub fn report_title(&self, report: &Report) -> String {
        let name = report
            .machine
            .as_ref()
            .map_or_else(|| self.machine_unnamed(), |it| it.name.clone());
        self.report_heading(
            &name,
            &times::date(report.planned.start(), report.offset_minutes),
        )
    }

    /// The whole report in sections.
    pub fn report_sections(&self, report: &Report, units: Units) -> Vec<Section> {
        let section = |title: String, lines: Vec<String>| Section { title, lines };
        let at = |moment: Instant| times::clock(moment, report.offset_minutes);
        let mut sections = vec![
            section(self.report_shift(), self.shift_lines(report, units)),
            section(self.report_setups(), self.setup_lines(report)),
            section(self.report_oiling(), self.oiling_lines(report)),
            section(
                self.report_looks(),
                or_none(
                    report
                        .looks
                        .iter()
                        .map(|(when, what)| self.timed(&at(*when), &self.finding(*what)))
                        .collect(),
                    self.report_no_looks(),
                ),
            ),
            section(
                self.report_notes(),
                or_none(
                    report
                        .notes
                        .iter()
                        .map(|(when, text)| self.timed(&at(*when), text))
                        .collect(),
                    self.report_no_notes(),
                ),
            ),
        ];
        for list in &report.lists {
            let all = list.ticked.len() + list.open.len();
            let mut lines =
                vec![self.report_ticked(&list.ticked.len().to_string(), &all.to_string())];
            lines.extend(
                list.open
                    .iter()
                    .map(|&item| self.report_not_ticked(&self.item(item))),
            );
            sections.push(section(self.list(list.list), lines));
        }
        sections
    }

    /// The same as plain text.
    pub fn report_text(&self, report: &Report, units: Units) -> String {
        let mut text = self.report_title(report);
        for section in self.report_sections(report, units) {
            text.push_str("\n\n");
            text.push_str(&section.title);
            for line in section.lines {
                text.push_str("\n- ");
                text.push_str(&line);
            }
        }
        text.push_str("\n\n");
        text.push_str(&self.report_foot());
        text.push('\n');
        text
    }

    fn shift_lines(&self, report: &Report, units: Units) -> Vec<String> {
        let at = |moment: Instant| times::clock(moment, report.offset_minutes);
        let span = |span: Span| self.span(&at(span.start()), &at(span.end()));
        let mut lines = Vec::new();
        if let Some(machine) = &report.machine {
            lines.push(self.report_machine(
                &machine.name,
                &self.width(machine.machine.moldboard(), units),
            ));
        }
        lines.push(self.report_planned(&span(report.planned)));
        lines.push(match report.ended {
            Some(ended) => self.report_ended(&at(ended)),
            None => self.report_running(),
        });
        lines.push(self.report_worked(&self.duration(report.worked)));
        lines.extend(report.breaks.iter().map(|rest| {
            let span = span(rest.span);
            if rest.planned {
                self.report_break_planned(&span)
            } else {
                self.report_break(&span)
            }
        }));
        lines
    }

    fn setup_lines(&self, report: &Report) -> Vec<String> {
        let line = |setup: &SetupInUse| {
            let sheet = &setup.sheet;
            let plates = self.plate_numbers(
                &sheet.toothed_at,
                usize::from(sheet.plates),
                sheet.tooth_count,
            );
            let teeth = sheet
                .teeth
                .first()
                .map_or_else(String::new, |&kind| self.tooth_kind(kind));
            let what = self.report_setup(
                &self.work(setup.work),
                &self.verdict(sheet.verdict),
                &teeth,
                &plates,
                &self.degrees(&sheet.cutting_degrees.to_string()),
                &self.degrees(&sheet.grading_degrees.to_string()),
            );
            self.timed(&times::clock(setup.since, report.offset_minutes), &what)
        };
        or_none(
            report.setups.iter().map(line).collect(),
            self.report_no_setups(),
        )
    }

    fn oiling_lines(&self, report: &Report) -> Vec<String> {
        let at = |moment: Instant| times::clock(moment, report.offset_minutes);
        let count = report.count;
        let mut lines = vec![self.report_oilings(
            &count.planned.to_string(),
            &count.on_time.to_string(),
            &count.late.to_string(),
            &count.missed.to_string(),
        )];
        let slot_line = |slot: &Slot| {
            let due = at(slot.due.at);
            match slot.status {
                Status::Done {
                    at: done,
                    timing: Timing::OnTime,
                } => Some(self.oiled_on_time(&due, &at(done))),
                Status::Done {
                    at: done,
                    timing: Timing::Early(by),
                } => Some(self.oiled_early(&due, &at(done), &self.duration(by))),
                Status::Done {
                    at: done,
                    timing: Timing::Late(by),
                } => Some(self.oiled_late(&due, &at(done), &self.duration(by))),
                Status::Missed => Some(self.oiled_missed(&due)),
                Status::Due => Some(self.oiling_due(&due)),
                Status::Late(by) => Some(self.oiling_late(&due, &self.duration(by))),
                Status::Ahead => None,
            }
        };
        lines.extend(report.standing.slots.iter().filter_map(slot_line));
        lines.extend(
            report
                .standing
                .extra
                .iter()
                .map(|&extra| self.oiled_extra(&at(extra))),
        );
        lines
    }
}

fn or_none(lines: Vec<String>, none: String) -> Vec<String> {
    if lines.is_empty() { vec![none] } else { lines }
}
