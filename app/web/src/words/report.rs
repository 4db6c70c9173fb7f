//! The shift report as text that stands on its own: for the screen, the share sheet and the clipboard alike.

use core::time::Duration;

use evenrow_journal::export::Report;
use evenrow_journal::state::SetupInUse;
use evenrow_rules::machine::fit;
use evenrow_rules::oiling::{Slot, Status, Timing};
use evenrow_rules::quantity::{Distance, Instant, Span};

use super::numbers::{AS_PLANNED, decimal};
use super::times::{self, Zone};
use super::{Words, without_soft_hyphens};
use crate::screens::row_plates::Plates;
use crate::units::Units;

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
    pub fn report_title(&self, report: &Report, zone: &Zone) -> String {
        let name = report
            .machine
            .as_ref()
            .map_or_else(|| self.machine_unnamed(), |it| it.name.clone());
        let start = report.planned.start();
        self.report_heading(&name, &times::date(start, zone(start)))
    }

    /// The whole report in sections.
    pub fn report_sections(&self, report: &Report, units: Units, zone: &Zone) -> Vec<Section> {
        let section = |title: String, lines: Vec<String>| Section { title, lines };
        let at = |moment: Instant| times::clock(moment, zone(moment));
        let mut sections = vec![
            section(self.report_shift(), self.shift_lines(report, units, zone)),
            section(self.report_setups(), self.setup_lines(report, zone)),
            section(
                self.report_roads(),
                or_none(self.road_lines(report, units, zone), self.report_no_roads()),
            ),
            section(self.report_oiling(), self.oiling_lines(report, zone)),
            section(
                self.report_reminders(),
                or_none(
                    self.reminder_lines(report, zone),
                    self.report_no_reminders(),
                ),
            ),
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
                self.report_teeth(),
                or_none(
                    self.teeth_lines(report, units, zone),
                    self.report_no_teeth(),
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
    pub fn report_text(&self, report: &Report, units: Units, zone: &Zone) -> String {
        let mut text = self.report_title(report, zone);
        for section in self.report_sections(report, units, zone) {
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
        without_soft_hyphens(&text)
    }

    fn shift_lines(&self, report: &Report, units: Units, zone: &Zone) -> Vec<String> {
        let at = |moment: Instant| times::clock(moment, zone(moment));
        let span = |span: Span| self.span(&at(span.start()), &at(span.end()));
        let mut lines = Vec::new();
        if let Some(who) = &report.who {
            lines.push(self.report_who(who));
        }
        if let Some(machine) = &report.machine {
            lines.push(self.report_machine(
                &machine.name,
                &self.width(machine.machine.moldboard(), units),
            ));
        }
        lines.push(self.report_planned(&span(report.planned)));
        let end = report.ended.unwrap_or(report.planned.end());
        let later = i64::from(zone(end)) - i64::from(zone(report.planned.start()));
        let by = self.duration(Duration::from_mins(later.unsigned_abs()));
        if 0 < later {
            lines.push(self.report_zone_forward(&by));
        } else if later < 0 {
            lines.push(self.report_zone_back(&by));
        }
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

    fn road_lines(&self, report: &Report, units: Units, zone: &Zone) -> Vec<String> {
        let at = |moment: Instant| times::clock(moment, zone(moment));
        let mut lines: Vec<String> = report
            .sections
            .iter()
            .map(|done| {
                let road = &done.what.road;
                let length = self.distance(road.length(), units);
                let length = road.width().map_or(length.clone(), |width| {
                    self.section_wide(&length, &self.width(width, units))
                });
                self.report_road(
                    &self.span(&at(done.when.start()), &at(done.when.end())),
                    &done.what.name,
                    &self.work(done.what.work),
                    &length,
                )
            })
            .collect();
        if 1 < lines.len() {
            let roads = report.sections.iter();
            let all = roads.map(|it| it.what.road.length().in_kilometres()).sum();
            let all = Distance::kilometres(all).unwrap_or(Distance::ZERO);
            lines.push(self.report_roads_sum(&self.distance(all, units)));
        }
        if let Some(pace) = report.pace {
            let share = pace.in_share();
            lines.push(if share < 1.0 - AS_PLANNED {
                self.report_pace_faster(&decimal(share, 2))
            } else if 1.0 + AS_PLANNED < share {
                self.report_pace_slower(&decimal(share, 2))
            } else {
                self.report_pace_even()
            });
        }
        lines
    }

    /// What was replaced, each tooth by its plate and place, and what was measured.
    fn teeth_lines(&self, report: &Report, units: Units, zone: &Zone) -> Vec<String> {
        let at = |moment: Instant| times::clock(moment, zone(moment));
        let machine = report.machine.as_ref();
        // A tooth keeps the name that it had in the row, however long the set was.
        let rooms = machine.map_or_else(Vec::new, |it| fit(&it.machine).teeth);
        let plates = Plates::filled(rooms, u16::MAX);
        let replaced = report.replaced.iter().map(|it| {
            let what = self.report_replaced(
                &plates.short(self, it.position),
                &self.tooth_state(it.out.state),
                &self.tip(it.tip, units),
            );
            (it.at, self.timed(&at(it.at), &what))
        });
        let measured = report.measured.iter().map(|it| {
            let what = self.report_measured(
                &it.count.to_string(),
                &self.exact(it.mean, units),
                &self.tip(it.shortest, units),
                &self.tip(it.longest, units),
            );
            (it.at, self.timed(&at(it.at), &what))
        });
        let mut lines: Vec<(Instant, String)> = replaced.chain(measured).collect();
        lines.sort_by_key(|(when, _)| *when);
        lines.into_iter().map(|(_, line)| line).collect()
    }

    fn setup_lines(&self, report: &Report, zone: &Zone) -> Vec<String> {
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
            self.timed(&times::clock(setup.since, zone(setup.since)), &what)
        };
        or_none(
            report.setups.iter().map(line).collect(),
            self.report_no_setups(),
        )
    }

    fn oiling_lines(&self, report: &Report, zone: &Zone) -> Vec<String> {
        let at = |moment: Instant| times::clock(moment, zone(moment));
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

    /// What the app could not do, and what the operator told it, in the order of time.
    fn reminder_lines(&self, report: &Report, zone: &Zone) -> Vec<String> {
        let at = |moment: Instant| times::clock(moment, zone(moment));
        let blind = report.blind.iter().map(|span| {
            let text = self.report_blind(&at(span.start()), &at(span.end()));
            (span.start(), text)
        });
        let jumps = report.jumps.iter().map(|jump| {
            let answer = match jump.moved {
                Some(true) => self.done_times_moved(),
                Some(false) => self.done_times_left(),
                None => self.report_jump_open(),
            };
            let what = self.report_jump(&self.clock_jumped(jump.by_ms), &answer);
            (jump.at, self.timed(&at(jump.at), &what))
        });
        let put_off = report.put_off.iter().map(|&(when, minutes)| {
            let what = self.done_put_off(&minutes.to_string());
            (when, self.timed(&at(when), &what))
        });
        let usual = report.usual_kept.iter().map(|&when| {
            let what = self.done_usual_interval_kept();
            (when, self.timed(&at(when), &what))
        });
        let mut lines: Vec<(Instant, String)> =
            blind.chain(jumps).chain(put_off).chain(usual).collect();
        lines.sort_by_key(|(when, _)| *when);
        lines.into_iter().map(|(_, line)| line).collect()
    }
}

fn or_none(lines: Vec<String>, none: String) -> Vec<String> {
    if lines.is_empty() { vec![none] } else { lines }
}

#[cfg(test)]
mod tests {
    use evenrow_journal::event::{Event, ShiftPlan};
    use evenrow_journal::export::report;
    use evenrow_journal::{Entry, Id, State};

    use super::*;
    use crate::words::english;

    /// A moment of the first of July in a zone three hours ahead of UTC.
    fn at(hour: u64, minute: u64) -> Instant {
        let midnight = Instant::from_unix_ms(1_782_853_200_000);
        midnight.plus(Duration::from_mins(hour * 60 + minute))
    }

    /// The report of a shift from 07:00 to 15:30 in which this happened, each thing at its moment.
    fn told(happened: Vec<(Instant, Event)>, zone: &Zone) -> Vec<Section> {
        let plan = ShiftPlan {
            start: at(7, 0),
            end: at(15, 30),
            breaks: Vec::new(),
        };
        let mut state = State::default();
        let mut all = vec![(at(6, 45), Event::ShiftStarted(plan))];
        all.extend(happened);
        for (count, (at, event)) in (0..).zip(all) {
            state.apply(&Entry {
                id: id(&format!("entry-{count}")),
                count,
                at,
                offset_minutes: 180,
                device: id("cab"),
                event,
            });
        }
        let report = report(&state, &state.shifts[0], at(15, 30));
        english().report_sections(&report, Units::METRIC, zone)
    }

    fn id(text: &str) -> Id {
        Id::new(text).unwrap()
    }

    fn lines(sections: &[Section], title: &str) -> Vec<String> {
        let found = sections.iter().find(|section| section.title == title);
        found.unwrap().lines.clone()
    }

    #[test]
    fn a_report_tells_in_order_of_time_when_the_app_slept_what_was_put_off_and_each_jump_with_its_answer()
     {
        let shift = id("entry-0");
        let jump = |by_ms| Event::ClockJumped {
            shift: shift.clone(),
            by_ms,
        };
        let answer = |jump: &str, moved| Event::ClockAnswered {
            shift: shift.clone(),
            jump: id(jump),
            moved,
        };
        let put_off = Event::PutOff {
            shift: shift.clone(),
            minutes: 5,
        };
        let usual = Event::UsualIntervalKept {
            shift: shift.clone(),
        };
        let blind = Event::WasBlind {
            shift: shift.clone(),
            span: Span::new(at(9, 0), at(12, 5)),
        };
        let sections = told(
            vec![
                (at(7, 0), put_off),
                (at(8, 0), usual),
                // Noted when the app ran again; it stands where it began.
                (at(12, 5), blind),
                (at(13, 0), jump(-300_000)),
                (at(13, 1), answer("entry-4", false)),
                (at(14, 0), jump(3_600_000)),
            ],
            &|_| 180,
        );
        assert_eq!(
            lines(&sections, "Reminders"),
            [
                "07:00: oiling put off by 5 minutes",
                "08:00: usual interval kept",
                "From 09:00 to 12:05 the app did not run and could not ring",
                "13:00: clock set back by 5 min; times left as they are",
                "14:00: clock set forward by 1 h; nobody has said which time is right",
            ]
        );
    }

    #[test]
    fn a_report_of_a_shift_that_moved_with_the_clock_says_so() {
        let shift = id("entry-0");
        let sections = told(
            vec![
                (
                    at(8, 0),
                    Event::ClockJumped {
                        shift: shift.clone(),
                        by_ms: -3_600_000,
                    },
                ),
                (
                    at(8, 1),
                    Event::ClockAnswered {
                        shift,
                        jump: id("entry-1"),
                        moved: true,
                    },
                ),
            ],
            &|_| 180,
        );
        assert_eq!(
            lines(&sections, "Reminders"),
            ["08:00: clock set back by 1 h; times moved with the clock"]
        );
        assert!(lines(&sections, "Shift").contains(&"Planned: 06:00 to 14:30".to_owned()));
    }

    #[test]
    fn a_report_of_a_shift_without_any_of_this_says_that_nothing_was_wrong() {
        let sections = told(Vec::new(), &|_| 180);
        let said = lines(&sections, "Reminders");
        assert_eq!(said.len(), 1);
        assert!(said[0].starts_with("Nothing put off"), "{said:?}");
    }

    #[test]
    fn each_moment_of_a_report_is_told_in_its_own_offset_and_the_change_is_told_once() {
        let changes_at_ten = |before: i16, after: i16| {
            move |moment: Instant| if moment < at(10, 0) { before } else { after }
        };
        let sections = told(Vec::new(), &changes_at_ten(180, 240));
        let shift = lines(&sections, "Shift");
        assert_eq!(shift[0], "Planned: 07:00 to 16:30");
        assert!(shift[1].contains("forward by 1 h"), "{shift:?}");
        let sections = told(Vec::new(), &changes_at_ten(180, 120));
        let shift = lines(&sections, "Shift");
        assert_eq!(shift[0], "Planned: 07:00 to 14:30");
        assert!(shift[1].contains("back by 1 h"), "{shift:?}");
        let sections = told(Vec::new(), &changes_at_ten(180, 180));
        let shift = lines(&sections, "Shift").concat();
        assert!(!shift.contains("by 1 h"), "{shift:?}");
    }
}
