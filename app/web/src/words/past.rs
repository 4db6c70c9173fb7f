//! What happened, and why something was refused: each refusal says what was wrong and what would be right.

use core::time::Duration;

use evenrow_journal::Refusal;
use evenrow_journal::command::{
    LONGEST_NAME, LONGEST_NOTE, LONGEST_SEASON, LONGEST_SHIFT, LONGEST_VISIT, MOST_HOURS_A_WEEK,
    MOST_SPARES_OF_A_KIND, MOST_VISITS, SHORTEST_SHIFT,
};
use evenrow_journal::event::{Event, Finding, ToothState};
use evenrow_rules::angle::Angle;
use evenrow_rules::day::SectionFigure;
use evenrow_rules::load::NoAxles;
use evenrow_rules::machine::FOOT;
use evenrow_rules::oiling::{Slot, Status};
use evenrow_rules::quantity::{Figure, Length, Mass, OutOfRange, Span, What};

use super::Words;
use super::numbers::{GALLON_L, MILE_KM, decimal};
use super::times::here;
use crate::units::{Quantity, System, Units};

impl Words {
    /// What was just recorded at work; nothing for what takes the third file to record, which has the words for it.
    pub fn happened_at_work(&self, event: &Event) -> Option<String> {
        Some(match event {
            Event::MachineDescribed { name, .. } => self.done_machine(name),
            Event::UsualShiftSet(_) => self.done_usual_shift(),
            Event::ShiftStarted(_) => self.done_shift_started(),
            Event::Marked {
                item, done: true, ..
            } => self.done_ticked(&self.item(*item)),
            Event::Marked {
                item, done: false, ..
            } => self.done_unticked(&self.item(*item)),
            Event::Oiled { .. } => self.done_oiled(),
            Event::Looked { finding, .. } => self.finding(*finding),
            Event::BreakStarted { .. } => self.done_break_started(),
            Event::BreakEnded { .. } => self.done_break_ended(),
            Event::Noted { .. } => self.done_noted(),
            Event::PutOff { minutes, .. } => self.done_put_off(&minutes.to_string()),
            Event::UsualIntervalKept { .. } => self.done_usual_interval_kept(),
            Event::WasBlind { span, .. } => {
                self.done_was_blind(&here(span.start()), &here(span.end()))
            }
            Event::ClockJumped { by_ms, .. } => self.clock_jumped(*by_ms),
            Event::ClockAnswered { moved: true, .. } => self.done_times_moved(),
            Event::ClockAnswered { moved: false, .. } => self.done_times_left(),
            Event::ShiftEnded { .. } => self.done_shift_ended(),
            Event::Struck { .. } => self.done_struck(),
            Event::MachineAdded { .. }
            | Event::SetupUsed { .. }
            | Event::SetNoted { .. }
            | Event::MachineChosen { .. }
            | Event::SetMounted { .. }
            | Event::SetStored { .. }
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
            | Event::SeasonPlanned { .. } => return None,
        })
    }

    /// What was recorded; `tooth` names the tooth at a position.
    pub fn happened(&self, event: &Event, tooth: &dyn Fn(u16) -> String) -> String {
        let at_work = self.happened_at_work(event);
        at_work.unwrap_or_else(|| self.happened_beside_it(event, tooth))
    }

    fn happened_beside_it(&self, event: &Event, tooth: &dyn Fn(u16) -> String) -> String {
        match event {
            Event::MachineAdded { name, .. } => self.done_machine(name),
            Event::SetupUsed { work, .. } => self.done_setup(&self.work(*work)),
            Event::SetNoted { .. } => self.done_noted(),
            Event::MachineChosen { .. } => self.done_machine_chosen(),
            Event::SetMounted { .. } => self.done_set_mounted(),
            Event::SetStored { .. } => self.done_set_stored(),
            Event::SetPutBack { .. } => self.done_set_put_back(),
            Event::SetBrokenUp { spares: true, .. } => self.done_set_made_spares(),
            Event::SetBrokenUp { spares: false, .. } => self.done_set_scrapped(),
            Event::ToothNoted {
                position, state, ..
            } => self.done_tooth(&tooth(*position), &self.tooth_state(*state)),
            Event::RowTurning { .. } => self.found_all_turning(),
            Event::TipsMeasured { tips, .. } => self.done_measured(&tips.len().to_string()),
            Event::ToothReplaced { position, .. } => self.done_replaced(&tooth(*position)),
            Event::StockCounted { count, .. } => self.done_counted(&count.to_string()),
            Event::PlateToToothSet { angle, .. } => {
                self.done_plate_to_tooth(&self.fine_angle(*angle))
            }
            Event::AxlesDescribed { .. } => self.done_axles(),
            Event::SectionPlanned { section, .. } => self.done_section_planned(&section.name),
            Event::SectionChanged { to, .. } => self.done_section_changed(&to.name),
            Event::SectionMoved { .. } => self.done_section_moved(),
            Event::SectionLeftOut { .. } => self.done_section_left_out(),
            Event::SectionTicked { done: true, .. } => self.done_section_ticked(),
            Event::SectionTicked { done: false, .. } => self.done_section_unticked(),
            Event::WorkerNamed { name, .. } => self.done_who(name),
            Event::PricesSet(_) => self.done_prices(),
            Event::SeasonPlanned { .. } => self.done_season(),
            Event::BreakEnded { .. }
            | Event::BreakStarted { .. }
            | Event::ClockAnswered { .. }
            | Event::ClockJumped { .. }
            | Event::Looked { .. }
            | Event::MachineDescribed { .. }
            | Event::Marked { .. }
            | Event::Noted { .. }
            | Event::Oiled { .. }
            | Event::PutOff { .. }
            | Event::ShiftEnded { .. }
            | Event::ShiftStarted(_)
            | Event::Struck { .. }
            | Event::UsualIntervalKept { .. }
            | Event::UsualShiftSet(_)
            | Event::WasBlind { .. } => String::new(),
        }
    }

    /// How a tooth is.
    pub fn tooth_state(&self, state: ToothState) -> String {
        match state {
            ToothState::Turning => self.tooth_turning(),
            ToothState::Stiff => self.tooth_stiff(),
            ToothState::Stuck => self.tooth_stuck(),
            ToothState::Chipped => self.tooth_chipped(),
            ToothState::Broken => self.tooth_broken(),
            ToothState::Gone => self.tooth_gone(),
        }
    }

    /// By how much the clock was moved, and which way.
    pub fn clock_jumped(&self, by_ms: i64) -> String {
        let by = self.duration(Duration::from_millis(by_ms.unsigned_abs()));
        if by_ms < 0 {
            self.clock_went_back(&by)
        } else {
            self.clock_went_forward(&by)
        }
    }

    /// What fell due in a span and has not been served: when, and late by how much at its end, or missed.
    pub fn still_open(&self, slots: &[Slot], span: Span) -> String {
        let open = slots
            .iter()
            .filter(|slot| span.start() < slot.due.at && slot.due.at <= span.end());
        let said: Vec<String> = open
            .filter_map(|slot| {
                let at = here(slot.due.at);
                match slot.status {
                    Status::Missed => Some(self.open_missed(&at)),
                    Status::Due | Status::Late(_) => {
                        Some(self.open_late(&at, &self.duration(span.end().since(slot.due.at))))
                    }
                    Status::Done { .. } | Status::Ahead => None,
                }
            })
            .collect();
        said.join(", ")
    }

    /// What a look found.
    pub fn finding(&self, finding: Finding) -> String {
        match finding {
            Finding::AllTurning => self.found_all_turning(),
            Finding::SomeNot {
                stiff,
                stuck,
                broken,
            } => {
                let parts = [
                    (stiff, self.found_stiff(&stiff.to_string())),
                    (stuck, self.found_stuck(&stuck.to_string())),
                    (broken, self.found_broken(&broken.to_string())),
                ];
                let named: Vec<String> = parts
                    .into_iter()
                    .filter(|(count, _)| 0 < *count)
                    .map(|(_, text)| text)
                    .collect();
                named.join(", ")
            }
        }
    }

    /// Why something was refused at work; nothing for what takes the third file to decide, which has the words for it.
    pub fn refusal_at_work(&self, refusal: &Refusal, units: Units) -> Option<String> {
        Some(match *refusal {
            Refusal::NewerRecords => self.refused_newer_records(),
            Refusal::OutOfRange(range) => return self.machine_out_of_range(range, units),
            Refusal::NameEmpty => self.refused_name_empty(),
            Refusal::NameTooLong { got } => {
                self.refused_name_too_long(&got.to_string(), &LONGEST_NAME.to_string())
            }
            Refusal::EndsBeforeItStarts { start, end } => {
                self.refused_ends_before_it_starts(&here(end), &here(start))
            }
            Refusal::ShiftTooLong { got } => {
                self.refused_shift_too_long(&self.duration(got), &self.duration(LONGEST_SHIFT))
            }
            Refusal::TooLittleWork { got } => {
                self.refused_too_little_work(&self.duration(got), &self.duration(SHORTEST_SHIFT))
            }
            Refusal::BreakOutside { start, end } => {
                self.refused_break_outside(&here(start), &here(end))
            }
            Refusal::ShiftRuns { since } => self.refused_shift_runs(&here(since)),
            Refusal::NoShift => self.refused_no_shift(),
            Refusal::OnBreak { since } => self.refused_on_break(&here(since)),
            Refusal::NotOnBreak => self.refused_not_on_break(),
            Refusal::FindingEmpty => self.refused_finding_empty(),
            Refusal::FindingTooMany { got, most } => {
                self.refused_finding_too_many(&got.to_string(), &most.to_string())
            }
            Refusal::NoteEmpty => self.refused_note_empty(),
            Refusal::NoteTooLong { got } => {
                self.refused_note_too_long(&got.to_string(), &LONGEST_NOTE.to_string())
            }
            Refusal::NothingToAnswer => self.refused_nothing_to_answer(),
            Refusal::NothingToStrike => self.refused_nothing_to_strike(),
            Refusal::Axles(_)
            | Refusal::SectionOutOfRange(_)
            | Refusal::SectionNameEmpty
            | Refusal::NoSection
            | Refusal::NoSuchShift
            | Refusal::WhoEmpty
            | Refusal::PriceOutOfRange(_)
            | Refusal::VisitOutOfRange { .. }
            | Refusal::VisitsOutOfRange { .. }
            | Refusal::SeasonOutOfRange
            | Refusal::NoMachine
            | Refusal::NotToBeDone
            | Refusal::NoSet
            | Refusal::SetOnMachine
            | Refusal::NeverMeasured { .. }
            | Refusal::SetOf { .. }
            | Refusal::NoSuchTooth { .. }
            | Refusal::TipTooLong { .. }
            | Refusal::NothingMeasured
            | Refusal::NoSpare
            | Refusal::TooManySpares { .. } => return None,
        })
    }

    /// Why something was refused, and what would be right.
    pub fn refusal(&self, refusal: &Refusal, units: Units) -> String {
        let at_work = self.refusal_at_work(refusal, units);
        at_work.unwrap_or_else(|| self.refusal_beside_it(refusal, units))
    }

    fn refusal_beside_it(&self, refusal: &Refusal, units: Units) -> String {
        match *refusal {
            Refusal::OutOfRange(range) => self.out_of_range(range, units),
            Refusal::Axles(why) => self.no_axles(why, units),
            Refusal::SectionOutOfRange(range) => self.section_out_of_range(range, units),
            Refusal::SectionNameEmpty => self.refused_section_name_empty(),
            Refusal::NoSection => self.refused_no_section(),
            Refusal::NoSuchShift => self.refused_no_such_shift(),
            Refusal::WhoEmpty => self.refused_who_empty(),
            Refusal::PriceOutOfRange(range) => {
                let told = |unit: f64| {
                    let all = [range.got, range.min, range.max];
                    all.map(|number| decimal(number / unit, 3))
                };
                let [got, min, max] = told(1.0);
                if range.what != Figure::Oil {
                    return self.refused_money(&got, &min, &max);
                }
                match units.of(Quantity::Oil) {
                    System::Metric => self.refused_oil(&got, &min, &max),
                    System::Us => {
                        let [got, min, max] = told(GALLON_L);
                        self.refused_oil_gal(&got, &min, &max)
                    }
                }
            }
            Refusal::VisitOutOfRange { got } => {
                self.refused_visit(&self.minutes_long(got), &self.minutes_long(LONGEST_VISIT))
            }
            Refusal::VisitsOutOfRange { got } => {
                self.refused_visits(&got.to_string(), &MOST_VISITS.to_string())
            }
            Refusal::SeasonOutOfRange => {
                self.refused_season(&LONGEST_SEASON.to_string(), &MOST_HOURS_A_WEEK.to_string())
            }
            Refusal::NoMachine => self.refused_no_machine(),
            Refusal::NotToBeDone => self.refused_not_to_be_done(),
            Refusal::NoSet => self.refused_no_set(),
            Refusal::SetOnMachine => self.refused_set_on_machine(),
            Refusal::NeverMeasured { wanted } => self.refused_never_measured(&wanted.to_string()),
            Refusal::SetOf { got, most } => {
                self.refused_set_of(&got.to_string(), &most.to_string())
            }
            Refusal::NoSuchTooth { got, most } => {
                self.refused_no_such_tooth(&got.to_string(), &most.to_string())
            }
            Refusal::TipTooLong { got, most } => {
                self.refused_tip_too_long(&self.tip(got, units), &self.tip(most, units))
            }
            Refusal::NothingMeasured => self.refused_nothing_measured(),
            Refusal::NoSpare => self.refused_no_spare(),
            Refusal::TooManySpares { got } => {
                self.refused_too_many_spares(&got.to_string(), &MOST_SPARES_OF_A_KIND.to_string())
            }
            Refusal::NewerRecords
            | Refusal::NameEmpty
            | Refusal::NameTooLong { .. }
            | Refusal::EndsBeforeItStarts { .. }
            | Refusal::ShiftTooLong { .. }
            | Refusal::TooLittleWork { .. }
            | Refusal::BreakOutside { .. }
            | Refusal::ShiftRuns { .. }
            | Refusal::NoShift
            | Refusal::OnBreak { .. }
            | Refusal::NotOnBreak
            | Refusal::FindingEmpty
            | Refusal::FindingTooMany { .. }
            | Refusal::NoteEmpty
            | Refusal::NoteTooLong { .. }
            | Refusal::NothingToAnswer
            | Refusal::NothingToStrike => String::new(),
        }
    }

    /// A length of time in minutes, as [`Words::duration`] says it.
    pub fn minutes_long(&self, minutes: u32) -> String {
        self.duration(Duration::from_mins(minutes.into()))
    }

    fn no_axles(&self, why: NoAxles, units: Units) -> String {
        let mass = |kg| Mass::kilograms(kg).map(|it| self.mass(it, units));
        let mass = |kg| mass(kg).unwrap_or_default();
        let tape = |mm| Length::millimetres(mm).map(|it| self.tape(it, units));
        let tape = |mm| tape(mm).unwrap_or_default();
        match why {
            NoAxles::FrontAxle(it) => {
                self.refused_front_axle(&mass(it.got), &mass(it.min), &mass(it.max))
            }
            NoAxles::Wheelbase(it) => {
                self.refused_wheelbase(&tape(it.got), &tape(it.min), &tape(it.max))
            }
            NoAxles::EdgeToRear(it) => {
                self.refused_edge_to_rear(&tape(it.got), &tape(it.min), &tape(it.max))
            }
        }
    }

    /// As it was typed, however absurd: no quantity holds it.
    fn section_out_of_range(&self, range: OutOfRange<SectionFigure>, units: Units) -> String {
        let all = |said: &dyn Fn(f64) -> String| [range.got, range.min, range.max].map(said);
        let count = || all(&|number| decimal(number, 0));
        match range.what {
            SectionFigure::Length => {
                let [got, min, max] = all(&|km| match units.of(Quantity::Road) {
                    System::Metric => self.kilometres(&decimal(km, 3)),
                    System::Us => self.miles(&decimal(km / MILE_KM, 3)),
                });
                self.refused_section_length(&got, &min, &max)
            }
            SectionFigure::Width => {
                let [got, min, max] = all(&|mm| match units.of(Quantity::Road) {
                    System::Metric => self.metres(&decimal(mm / 1000.0, 2)),
                    System::Us => self.feet(&decimal(mm / FOOT.in_millimetres(), 1)),
                });
                self.refused_road_width(&got, &min, &max)
            }
            SectionFigure::Speed => {
                let [got, min, max] = all(&|kmh| match units.of(Quantity::Speed) {
                    System::Metric => self.kilometres_per_hour(&decimal(kmh, 2)),
                    System::Us => self.miles_per_hour(&decimal(kmh / MILE_KM, 2)),
                });
                self.refused_speed(&got, &min, &max)
            }
            SectionFigure::Passes => {
                let [got, min, max] = count();
                self.refused_passes(&got, &min, &max)
            }
            SectionFigure::Layers => {
                let [got, min, max] = count();
                self.refused_layers(&got, &min, &max)
            }
            SectionFigure::MinutesOfWork => {
                let [got, min, max] = count();
                self.refused_minutes_of_work(&got, &min, &max)
            }
        }
    }

    /// What can be wrong with a machine.
    fn machine_out_of_range(&self, range: OutOfRange, units: Units) -> Option<String> {
        let length = |mm: f64| Length::millimetres(mm).unwrap_or(Length::ZERO);
        let width = |mm: f64| self.width(length(mm), units);
        let exact = |mm: f64| self.exact(length(mm), units);
        Some(match range.what {
            What::Moldboard => {
                self.refused_moldboard(&width(range.got), &width(range.min), &width(range.max))
            }
            What::Plate => {
                self.refused_plate(&exact(range.got), &exact(range.min), &exact(range.max))
            }
            What::Pitch => {
                self.refused_pitch(&exact(range.got), &exact(range.min), &exact(range.max))
            }
            What::Length | What::Temperature | What::Angle | What::PlateToTooth => return None,
        })
    }

    fn out_of_range(&self, range: OutOfRange, units: Units) -> String {
        let length = |mm: f64| Length::millimetres(mm).unwrap_or(Length::ZERO);
        let width = |mm: f64| self.width(length(mm), units);
        match range.what {
            What::Length => self.refused_length(&width(range.min), &width(range.max)),
            What::Temperature => self.refused_temperature(),
            What::Angle => self.refused_angle(),
            What::PlateToTooth => {
                let angle = |degrees| Angle::degrees(degrees).map(|it| self.fine_angle(it));
                self.refused_plate_to_tooth(
                    &angle(range.got).unwrap_or_default(),
                    &angle(range.max).unwrap_or_default(),
                )
            }
            What::Moldboard | What::Plate | What::Pitch => String::new(),
        }
    }
}
