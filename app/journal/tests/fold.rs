//! What the journal tells: a shift from the first tap to its report, undo, and journals that make no sense at all.
//!
//! Never here: which commands are refused (`decide`), and what becomes of bytes (`wire`, `merge`).

mod any;
mod pine_ridge;
mod tries;

use pine_ridge::pine_ridge_2;
use std::time::Duration;
use tries::tries;

use evenrow_journal::event::{Finding, ShiftPlan};
use evenrow_journal::export::{OilingCount, report};
use evenrow_journal::state::{BreakTaken, Measured, Shift};
use evenrow_journal::{Command, Entry, Event, Id, Journal, Refusal, State, wire};
use evenrow_rules::angle::Angle;
use evenrow_rules::checklist::{Item, List};
use evenrow_rules::load::Axles;
use evenrow_rules::machine::{FOOT, LONG_PLATE, SHORT_PLATE, USUAL_PITCH};
use evenrow_rules::oiling::{Break, MOST_DUE_TIMES, Status, Timing};
use evenrow_rules::quantity::{Instant, Length, Mass, Span, Temperature};
use evenrow_rules::setup::Verdict;
use evenrow_rules::work::{Conditions, End, Moisture, Stones, Work};
use proptest::collection::vec;
use proptest::option;
use proptest::prelude::*;
use proptest::sample::{Index, select};

/// A phone in a cab: it decides, writes the line, and reads it back as after a restart.
#[derive(Default)]
struct Phone {
    journal: Journal,
    /// The state as the app carries it along, entry by entry.
    carried: State,
}

impl Phone {
    fn asks(&mut self, at: Instant, command: Command) -> Result<Vec<Id>, Refusal> {
        let mut written = Vec::new();
        for event in State::fold(&self.journal).decide(command)? {
            let count = self.journal.next_count();
            let entry = Entry {
                id: id(&format!("entry-{count}")),
                count,
                at,
                offset_minutes: -360,
                device: id("cab"),
                event,
            };
            let change = self.journal.take_all(&[wire::write(&entry)]);
            self.carried.follow(&self.journal, change);
            written.push(entry.id);
        }
        Ok(written)
    }

    #[track_caller]
    fn does(&mut self, at: Instant, command: Command) -> Vec<Id> {
        self.asks(at, command).unwrap()
    }

    fn state(&self) -> State {
        State::fold(&self.journal)
    }

    fn shift(&self) -> Shift {
        self.state().shifts.last().cloned().unwrap()
    }

    fn ids(&self) -> Vec<Id> {
        let read = self.journal.records().map(|line| wire::read(line).unwrap());
        read.map(|entry| entry.id).collect()
    }

    /// The same journal, had one entry never been written.
    fn without(&self, left_out: &Id) -> Journal {
        let mut journal = Journal::default();
        let others = |line: &&str| wire::read(line).unwrap().id != *left_out;
        for line in self.journal.records().filter(others) {
            journal.take(line);
        }
        journal
    }

    /// Ten minutes to seven: the machine is described and the shift started, lunch from eleven to half past.
    fn before_seven() -> Phone {
        let mut phone = Phone::default();
        phone.does(clock(6, 50), pine_ridge_2());
        phone.does(
            clock(6, 52),
            Command::StartShift(seven_to_half_past_three()),
        );
        phone
    }

    /// As before, and gravel, dry and dusty, is the work.
    fn on_gravel() -> Phone {
        let mut phone = Phone::before_seven();
        phone.does(clock(6, 54), gravel());
        phone
    }
}

fn id(text: &str) -> Id {
    Id::new(text).unwrap()
}

/// A time on the clock in the cab on 15 June 2026, six hours behind UTC.
fn clock(hours: i64, minutes: i64) -> Instant {
    Instant::from_unix_ms(1_781_503_200_000 + (hours * 60 + minutes) * 60_000)
}

fn seven_to_half_past_three() -> ShiftPlan {
    ShiftPlan {
        start: clock(7, 0),
        end: clock(15, 30),
        breaks: vec![Span::new(clock(11, 0), clock(11, 30))],
    }
}

fn gravel() -> Command {
    Command::UseSetup {
        work: Work::Gravel,
        known: Conditions {
            moisture: Some(Moisture::Dusty),
            ..Conditions::default()
        },
    }
}

fn soft_milling_at_twelve_degrees() -> Command {
    Command::UseSetup {
        work: Work::SoftMilling,
        known: Conditions {
            surface: Some(Temperature::whole_celsius(12)),
            soft: Some(true),
            cutting_end: Some(End::Right),
            ..Conditions::default()
        },
    }
}

fn tick(list: List, item: Item, done: bool) -> Command {
    Command::Mark { list, item, done }
}

fn due_times(shift: &Shift, now: Instant) -> Vec<Instant> {
    let slots = shift.standing(now).slots;
    slots.iter().map(|slot| slot.due.at).collect()
}

fn statuses(shift: &Shift, now: Instant) -> Vec<Status> {
    let slots = shift.standing(now).slots;
    slots.iter().map(|slot| slot.status).collect()
}

#[test]
fn a_whole_shift_comes_out_in_its_report() {
    let mut phone = Phone::on_gravel();
    let three_oilings = [clock(7, 0), clock(9, 40), clock(12, 50)];
    assert_eq!(due_times(&phone.shift(), clock(6, 55)), three_oilings);

    phone.does(clock(6, 55), tick(List::Opening, Item::TeethTurn, true));
    phone.does(clock(7, 0), Command::Oil);
    assert_eq!(phone.shift().next_look(clock(7, 0)), Some(clock(8, 20)));
    phone.does(clock(8, 20), Command::Look(Finding::AllTurning));
    assert_eq!(phone.shift().next_look(clock(8, 20)), Some(clock(9, 40)));
    phone.does(clock(9, 41), Command::Oil);
    phone.does(clock(11, 0), Command::StartBreak);
    phone.does(clock(11, 30), Command::EndBreak);
    assert_eq!(due_times(&phone.shift(), clock(11, 30)), three_oilings);
    assert_eq!(
        statuses(&phone.shift(), clock(13, 9))[2],
        Status::Late(Duration::from_mins(19))
    );
    phone.does(clock(13, 10), Command::Oil);
    phone.does(clock(13, 30), soft_milling_at_twelve_degrees());
    phone.does(
        clock(14, 0),
        Command::Note("Alder Loop milled to the bridge".to_owned()),
    );
    assert_eq!(phone.shift().worked(clock(14, 0)), Duration::from_mins(390));
    phone.does(clock(15, 30), Command::EndShift);

    let report = report(&phone.carried, &phone.shift(), clock(15, 30));
    assert_eq!(
        report.machine.map(|it| it.name).as_deref(),
        Some("Pine Ridge 2")
    );
    assert_eq!(report.offset_minutes, -360);
    assert_eq!(report.planned, Span::new(clock(7, 0), clock(15, 30)));
    assert_eq!(report.ended, Some(clock(15, 30)));
    assert_eq!(report.worked, Duration::from_hours(8));
    let lunch = Break {
        span: Span::new(clock(11, 0), clock(11, 30)),
        planned: false,
    };
    assert_eq!(report.breaks, [lunch]);
    let done = |at, timing| Status::Done { at, timing };
    let slots: Vec<(Instant, Status)> = report
        .standing
        .slots
        .iter()
        .map(|slot| (slot.due.at, slot.status))
        .collect();
    assert_eq!(
        slots,
        [
            (clock(7, 0), done(clock(7, 0), Timing::OnTime)),
            (clock(9, 40), done(clock(9, 41), Timing::OnTime)),
            (
                clock(12, 50),
                done(clock(13, 10), Timing::Late(Duration::from_mins(20)))
            ),
        ]
    );
    assert_eq!(
        report.count,
        OilingCount {
            planned: 3,
            on_time: 2,
            late: 1,
            missed: 0,
            extra: 0
        }
    );
    let setups: Vec<(Instant, Work, Verdict, &[u8], u32)> = report
        .setups
        .iter()
        .map(|it| {
            let sheet = &it.sheet;
            (
                it.since,
                it.work,
                sheet.verdict,
                sheet.toothed_at.as_slice(),
                sheet.tooth_count,
            )
        })
        .collect();
    assert_eq!(
        setups,
        [
            (
                clock(6, 54),
                Work::Gravel,
                Verdict::Suits,
                [1, 2, 3, 4].as_slice(),
                96
            ),
            (
                clock(13, 30),
                Work::SoftMilling,
                Verdict::WithCare,
                [4].as_slice(),
                24
            ),
        ]
    );
    assert_eq!(report.looks, [(clock(8, 20), Finding::AllTurning)]);
    assert_eq!(
        report.notes,
        [(clock(14, 0), "Alder Loop milled to the bridge".to_owned())]
    );
    let [opening, closing] = report.lists;
    assert_eq!((opening.list, closing.list), (List::Opening, List::Closing));
    assert_eq!(opening.ticked, [Item::TeethTurn]);
    assert_eq!(opening.open.len(), List::Opening.items().len() - 1);
    assert_eq!(closing.open, List::Closing.items());
}

#[test]
fn missed_and_extra_oilings_are_counted_apart_and_what_is_ahead_is_not_counted() {
    let mut phone = Phone::on_gravel();
    phone.does(clock(7, 0), Command::Oil);
    phone.does(clock(8, 0), Command::Oil);
    let at = |minutes| report(&phone.carried, &phone.shift(), clock(12, minutes)).count;
    let by_noon = OilingCount {
        planned: 2,
        on_time: 1,
        late: 0,
        missed: 0,
        extra: 1,
    };
    assert_eq!(at(0), by_noon);
    assert_eq!(
        at(50),
        OilingCount {
            planned: 3,
            missed: 1,
            ..by_noon
        }
    );
}

#[test]
fn a_shift_that_ends_early_misses_only_what_was_due_by_then() {
    let mut phone = Phone::on_gravel();
    phone.does(clock(7, 0), Command::Oil);
    phone.does(clock(10, 0), Command::EndShift);
    let count = report(&phone.carried, &phone.shift(), clock(20, 0)).count;
    assert_eq!((count.planned, count.on_time, count.missed), (2, 1, 1));
    assert_eq!(phone.shift().worked(clock(20, 0)), Duration::from_hours(3));
}

#[test]
fn work_past_the_planned_end_falls_due_again_at_that_end() {
    let phone = Phone::on_gravel();
    assert_eq!(due_times(&phone.shift(), clock(15, 0)).len(), 3);
    assert_eq!(due_times(&phone.shift(), clock(16, 0))[3], clock(15, 30));
    let late = statuses(&phone.shift(), clock(16, 0))[3];
    assert_eq!(late, Status::Late(Duration::from_mins(30)));
}

#[test]
fn a_lunch_that_was_foreseen_moves_nothing_until_it_runs_over() {
    let mut phone = Phone::on_gravel();
    phone.does(clock(10, 50), Command::StartBreak);
    let third_due = |minutes| due_times(&phone.shift(), clock(11, minutes))[2];
    assert_eq!(third_due(0), clock(12, 50));
    assert_eq!(third_due(20), clock(12, 50));
    assert_eq!(third_due(35), clock(13, 5));
}

#[test]
fn a_break_begun_within_the_planned_one_lasts_at_least_as_long_as_that() {
    let mut phone = Phone::on_gravel();
    phone.does(clock(11, 10), Command::StartBreak);
    for minutes in [10, 29] {
        let now = clock(11, minutes);
        assert_eq!(due_times(&phone.shift(), now)[2], clock(12, 50));
    }
}

#[test]
fn a_break_that_nobody_foresaw_counts_by_the_minute() {
    let mut phone = Phone::on_gravel();
    phone.does(clock(8, 0), Command::StartBreak);
    assert_eq!(phone.shift().worked(clock(8, 5)), Duration::from_hours(1));
    phone.does(clock(8, 15), Command::EndBreak);
    assert_eq!(due_times(&phone.shift(), clock(8, 15))[1], clock(9, 55));
    let breaks = report(&phone.carried, &phone.shift(), clock(8, 15)).breaks;
    let taken = Break {
        span: Span::new(clock(8, 0), clock(8, 15)),
        planned: false,
    };
    assert_eq!(breaks, [taken]);
}

#[test]
fn a_break_that_was_foreseen_and_not_taken_stands_in_the_report_as_planned() {
    let phone = Phone::on_gravel();
    let breaks = |hours| report(&phone.carried, &phone.shift(), clock(hours, 0)).breaks;
    assert_eq!(breaks(11), []);
    let lunch = Break {
        span: Span::new(clock(11, 0), clock(11, 30)),
        planned: true,
    };
    assert_eq!(breaks(12), [lunch]);
    assert_eq!(phone.shift().worked(clock(12, 0)), Duration::from_mins(270));
}

#[test]
fn a_break_that_ends_before_it_began_by_a_clock_set_back_has_no_length() {
    let mut phone = Phone::on_gravel();
    phone.does(clock(9, 0), Command::StartBreak);
    phone.does(clock(8, 50), Command::EndBreak);
    let none = BreakTaken {
        start: clock(9, 0),
        end: Some(clock(9, 0)),
    };
    assert_eq!(phone.shift().breaks, [none]);
    assert_eq!(phone.shift().worked(clock(10, 0)), Duration::from_hours(3));
}

#[test]
fn a_break_started_on_two_phones_is_one_break_from_the_first_start_on() {
    let mut phone = Phone::on_gravel();
    phone.does(clock(9, 0), Command::StartBreak);
    let again = Entry {
        id: id("again"),
        count: phone.journal.next_count(),
        at: clock(9, 5),
        offset_minutes: -360,
        device: id("another"),
        event: Event::BreakStarted {
            shift: phone.shift().id,
        },
    };
    phone.journal.take(&wire::write(&again));
    phone.does(clock(9, 20), Command::EndBreak);
    let one = BreakTaken {
        start: clock(9, 0),
        end: Some(clock(9, 20)),
    };
    assert_eq!(phone.shift().breaks, [one]);
}

#[test]
fn the_end_of_the_shift_during_a_break_ends_the_break() {
    let mut phone = Phone::on_gravel();
    phone.does(clock(15, 0), Command::StartBreak);
    let written = phone.does(clock(15, 20), Command::EndShift);
    assert_eq!(written.len(), 2);
    let shift = phone.shift();
    assert_eq!(
        (shift.on_break_since(), shift.ended),
        (None, Some(clock(15, 20)))
    );
    assert_eq!(shift.worked(clock(18, 0)), Duration::from_mins(450));
}

#[test]
fn the_first_set_up_counts_from_the_start_of_the_shift() {
    let mut phone = Phone::before_seven();
    assert_eq!(due_times(&phone.shift(), clock(7, 0)), [clock(7, 0)]);
    assert_eq!(phone.shift().next_look(clock(7, 0)), None);
    phone.does(clock(7, 25), gravel());
    assert_eq!(
        due_times(&phone.shift(), clock(7, 25)),
        [clock(7, 0), clock(9, 40), clock(12, 50)]
    );
}

#[test]
fn no_look_falls_due_after_the_end() {
    let mut phone = Phone::on_gravel();
    phone.does(clock(9, 0), Command::EndShift);
    assert_eq!(phone.shift().next_look(clock(9, 0)), None);
}

#[test]
fn a_new_description_of_the_machine_leaves_the_reports_of_old_shifts_as_they_were() {
    let mut phone = Phone::on_gravel();
    let before = report(&phone.carried, &phone.shift(), clock(9, 0)).machine;
    phone.does(
        clock(8, 0),
        Command::DescribeMachine {
            name: "Pine Ridge 2, new board".to_owned(),
            moldboard: FOOT.times(13),
            plates: (SHORT_PLATE, LONG_PLATE),
            pitch: USUAL_PITCH,
        },
    );
    assert_eq!(
        report(&phone.carried, &phone.shift(), clock(9, 0)).machine,
        before
    );
    assert_ne!(phone.state().machines.last(), before.as_ref());
}

#[test]
fn a_tick_that_is_taken_back_is_open_again() {
    let mut phone = Phone::before_seven();
    phone.does(clock(6, 55), tick(List::Opening, Item::OilAboard, true));
    assert_eq!(phone.shift().ticked(List::Opening), 1);
    assert_eq!(phone.shift().ticked(List::Closing), 0);
    phone.does(clock(6, 56), tick(List::Opening, Item::OilAboard, false));
    assert_eq!(phone.shift().ticked(List::Opening), 0);
}

#[test]
fn making_the_machine_safe_is_ticked_on_each_list_for_itself() {
    let mut phone = Phone::before_seven();
    phone.does(clock(6, 55), tick(List::Opening, Item::MachineSafe, true));
    let [opening, closing] = report(&phone.carried, &phone.shift(), clock(7, 0)).lists;
    assert_eq!(opening.ticked, [Item::MachineSafe]);
    assert!(closing.open.contains(&Item::MachineSafe));
}

#[test]
fn an_oiling_that_is_struck_makes_the_due_time_open_again() {
    let mut phone = Phone::on_gravel();
    let before = phone.state();
    let oiled = phone.does(clock(7, 0), Command::Oil);
    assert_ne!(phone.state(), before);
    phone.does(clock(7, 1), Command::Strike(oiled));
    assert_eq!(phone.state(), before);
    assert_eq!(statuses(&phone.shift(), clock(7, 5))[0], Status::Due);
}

#[test]
fn a_strike_that_is_struck_brings_the_entry_back() {
    let mut phone = Phone::on_gravel();
    let oiled = phone.does(clock(7, 0), Command::Oil);
    let with_oil = phone.state();
    let undone = phone.does(clock(7, 1), Command::Strike(oiled));
    let undone_again = phone.does(clock(7, 2), Command::Strike(undone));
    assert_eq!(phone.state(), with_oil);
    phone.does(clock(7, 3), Command::Strike(undone_again));
    assert_eq!(phone.shift().oiled, []);
}

#[test]
fn a_shift_whose_start_is_struck_leaves_no_trace_and_another_can_start() {
    let mut phone = Phone::default();
    phone.does(clock(6, 50), pine_ridge_2());
    let before = phone.state();
    let started = phone.does(
        clock(6, 52),
        Command::StartShift(seven_to_half_past_three()),
    );
    phone.does(clock(6, 54), gravel());
    phone.does(clock(7, 0), Command::Oil);
    phone.does(clock(7, 1), Command::Strike(started));
    assert_eq!(phone.state(), before);
    phone.does(clock(7, 2), Command::StartShift(seven_to_half_past_three()));
    assert_eq!(phone.shift().oiled, []);
}

#[test]
fn the_end_of_a_shift_and_of_its_break_are_undone_together() {
    let mut phone = Phone::on_gravel();
    phone.does(clock(15, 0), Command::StartBreak);
    let before = phone.state();
    let ended = phone.does(clock(15, 20), Command::EndShift);
    phone.does(clock(15, 20), Command::Strike(ended));
    assert_eq!(phone.state(), before);
}

#[test]
fn entries_come_in_the_order_in_which_they_were_made_though_the_clock_was_set_back() {
    let mut phone = Phone::before_seven();
    phone.does(clock(9, 0), tick(List::Opening, Item::OilAboard, true));
    phone.does(clock(8, 0), tick(List::Opening, Item::OilAboard, false));
    assert_eq!(phone.shift().ticked(List::Opening), 0);
}

#[test]
fn where_two_tabs_gave_the_same_count_the_clock_decides() {
    let phone = Phone::before_seven();
    let count = phone.journal.next_count();
    let marked = |name: &str, minutes, done| {
        wire::write(&Entry {
            id: id(name),
            count,
            at: clock(7, minutes),
            offset_minutes: -360,
            device: id("cab"),
            event: Event::Marked {
                shift: phone.shift().id,
                list: List::Opening,
                item: Item::OilAboard,
                done,
            },
        })
    };
    for (first, second) in [("tab-1", "tab-2"), ("tab-2", "tab-1")] {
        let mut journal = phone.journal.clone();
        journal.take(&marked(first, 0, true));
        journal.take(&marked(second, 5, false));
        assert_eq!(State::fold(&journal).shifts[0].ticked(List::Opening), 0);
    }
}

#[test]
fn what_names_an_unknown_shift_is_passed_over() {
    let mut phone = Phone::on_gravel();
    let before = phone.state();
    let stray = Entry {
        id: id("stray"),
        count: phone.journal.next_count(),
        at: clock(8, 0),
        offset_minutes: 0,
        device: id("another"),
        event: Event::Oiled {
            shift: id("elsewhere"),
        },
    };
    phone.journal.take(&wire::write(&stray));
    assert_eq!(phone.state(), before);
}

#[test]
fn where_two_phones_started_a_shift_each_the_later_one_runs_and_after_it_the_other() {
    let mut phone = Phone::on_gravel();
    let first = phone.shift().id;
    let second = Entry {
        id: id("second"),
        count: phone.journal.next_count(),
        at: clock(7, 30),
        offset_minutes: -360,
        device: id("another"),
        event: Event::ShiftStarted(seven_to_half_past_three()),
    };
    phone.journal.take(&wire::write(&second));
    phone.does(clock(8, 0), Command::Oil);
    let oiled = |phone: &Phone, of: &Id| phone.state().shift(of).unwrap().oiled.clone();
    assert_eq!(oiled(&phone, &second.id), [clock(8, 0)]);
    phone.does(clock(9, 0), Command::EndShift);
    phone.does(clock(9, 1), Command::Oil);
    assert_eq!(oiled(&phone, &first), [clock(9, 1)]);
    assert_eq!(oiled(&phone, &second.id), [clock(8, 0)]);
}

#[test]
fn a_newer_record_makes_the_state_read_only_and_keeps_the_rest_in_force() {
    let mut phone = Phone::on_gravel();
    let before = phone.state();
    phone
        .journal
        .take(r#"{"v":4,"id":"a","count":1,"at_ms":1,"device":"cab"}"#);
    assert_eq!(
        phone.state(),
        State {
            read_only: true,
            ..before
        }
    );
}

/// What an operator does next, so many minutes later; the clock may be set back.
#[derive(Clone, Debug)]
enum Step {
    Ask(Command),
    /// Strike one of the entries so far.
    Strike(Index),
}

fn steps() -> impl Strategy<Value = Vec<(i64, Step)>> {
    let step = prop_oneof![
        5 => command().prop_map(Step::Ask),
        1 => any::<Index>().prop_map(Step::Strike),
    ];
    vec((-30_i64..90, step), 0..24)
}

fn command() -> impl Strategy<Value = Command> {
    let list = select(vec![List::Opening, List::Closing]);
    let item = select(List::Opening.items().to_vec());
    let finding = select(vec![
        Finding::AllTurning,
        Finding::SomeNot {
            stiff: 2,
            stuck: 1,
            broken: 0,
        },
    ]);
    prop_oneof![
        1 => (1200.0..8000.0, 150.0..2500.0, 20.0..150.0).prop_map(describe),
        1 => Just(Command::StartShift(seven_to_half_past_three())),
        2 => (select(Work::ALL.to_vec()), conditions())
            .prop_map(|(work, known)| Command::UseSetup { work, known }),
        1 => (list, item, any::<bool>()).prop_map(|(list, item, done)| tick(list, item, done)),
        2 => Just(Command::Oil),
        1 => finding.prop_map(Command::Look),
        2 => Just(Command::StartBreak),
        2 => Just(Command::EndBreak),
        1 => "[a-zå]{1,9}".prop_map(Command::Note),
        1 => Just(Command::EndShift),
    ]
}

/// Lengths as a tape in any unit gives them, not only whole micrometres.
fn describe((moldboard, plate, pitch): (f64, f64, f64)) -> Command {
    Command::DescribeMachine {
        name: "Pine Ridge 2".to_owned(),
        moldboard: millimetres(moldboard),
        plates: (millimetres(plate), LONG_PLATE),
        pitch: millimetres(pitch),
    }
}

fn millimetres(mm: f64) -> Length {
    Length::millimetres(mm).unwrap()
}

fn conditions() -> impl Strategy<Value = Conditions> {
    (
        option::of((-70.0..=90.0).prop_map(|it| Temperature::celsius(it).unwrap())),
        option::of(any::<bool>()),
        option::of((0.0..200.0).prop_map(millimetres)),
        option::of(any::<bool>()),
        option::of((0.0..60.0).prop_map(millimetres)),
        option::of(select(vec![Stones::Few, Stones::Many])),
        option::of(select(vec![Moisture::Dusty, Moisture::Moist])),
        option::of((500.0..5000.0).prop_map(millimetres)),
        option::of((500.0..5000.0).prop_map(millimetres)),
        option::of(select(vec![End::Left, End::Right])),
    )
        .prop_map(
            |(surface, soft, layer, skids, bite, stones, moisture, path, strip, cutting_end)| {
                Conditions {
                    surface,
                    soft,
                    layer,
                    skids,
                    bite,
                    stones,
                    moisture,
                    path,
                    strip,
                    cutting_end,
                }
            },
        )
}

/// What is refused is not written: only legal commands leave an entry.
fn after(steps: Vec<(i64, Step)>) -> Phone {
    let mut phone = Phone::on_gravel();
    let mut now = clock(7, 0);
    for (minutes, step) in steps {
        now = Instant::from_unix_ms(now.unix_ms() + minutes * 60_000);
        let command = match step {
            Step::Ask(command) => command,
            Step::Strike(index) => Command::Strike(vec![index.get(&phone.ids()).clone()]),
        };
        // A refusal changes nothing.
        let _ = phone.asks(now, command);
    }
    phone
}

/// Everything that a screen may ask of a shift.
fn ask_everything(state: &State, shift: &Shift, now: Instant) {
    let report = report(state, shift, now);
    let count = report.count;
    assert!(count.on_time + count.late + count.missed <= count.planned);
    assert!(count.planned <= report.standing.slots.len());
    assert!((1..=MOST_DUE_TIMES).contains(&report.standing.slots.len()));
    let until = shift.ended.unwrap_or(now);
    assert!(shift.worked(now) <= until.since(shift.plan.start));
    if shift.ended.is_some() {
        assert_eq!(shift.next_look(now), None);
    }
    let facts = shift.facts(now);
    assert_eq!(facts.works.len(), shift.setups.len());
    assert_eq!(facts.taken_breaks.len(), shift.breaks.len());
}

proptest! {
    #![proptest_config(tries(300))]

    #[test]
    fn an_entry_that_is_struck_counts_as_never_having_happened(steps in steps(), index: Index) {
        let mut phone = after(steps);
        let struck = index.get(&phone.ids()).clone();
        let never_written = State::fold(&phone.without(&struck));
        phone.does(clock(23, 0), Command::Strike(vec![struck]));
        prop_assert_eq!(phone.state(), never_written);
    }

    #[test]
    fn striking_the_last_entry_takes_back_exactly_one_step(
        steps in steps(),
        command in command(),
    ) {
        let mut phone = after(steps);
        let before = phone.state();
        if let Ok(written) = phone.asks(clock(22, 0), command) {
            phone.does(clock(22, 1), Command::Strike(written));
        }
        prop_assert_eq!(phone.state(), before);
    }

    #[test]
    fn what_the_app_carries_along_is_what_a_restart_reads(steps in steps()) {
        let phone = after(steps);
        prop_assert_eq!(phone.state(), phone.carried);
    }

    #[test]
    fn nobody_who_is_on_break_or_between_shifts_is_stuck(steps in steps()) {
        let mut phone = after(steps);
        while phone.state().running().is_some() {
            phone.does(clock(23, 0), Command::EndShift);
        }
        phone.does(clock(23, 1), Command::StartShift(seven_to_half_past_three()));
        phone.does(clock(23, 2), Command::Oil);
        prop_assert_eq!(phone.shift().oiled, [clock(23, 2)]);
    }

    #[test]
    fn the_report_of_a_shift_that_has_ended_never_changes_again(
        steps in steps(),
        end in 0_i64..1200,
        later in 0_i64..100_000,
    ) {
        let phone = after(steps);
        for shift in phone.state().shifts {
            // Ended without a word about its break, as a merge or a strike may leave it.
            let ended = shift.ended.unwrap_or(clock(7, end));
            let shift = Shift { ended: Some(ended), ..shift };
            let now = ended.plus(Duration::from_mins(later.unsigned_abs()));
            prop_assert_eq!(report(&phone.carried, &shift, now), report(&phone.carried, &shift, ended));
        }
    }

    #[test]
    fn no_journal_however_absurd_makes_the_fold_or_a_report_fail(
        entries in vec(any::entry(), 0..32),
        moments in vec(any::moment(), 1..4),
    ) {
        let mut journal = Journal::default();
        for entry in &entries {
            journal.take(&wire::write(entry));
        }
        let state = State::fold(&journal);
        let mut apart = State::default();
        for entry in &entries {
            apart.apply(entry);
        }
        for shift in state.shifts.iter().chain(&apart.shifts) {
            for &now in &moments {
                ask_everything(&state, shift, now);
            }
        }
    }
}

#[test]
fn what_was_measured_of_a_machine_stays_with_it_when_it_is_described_anew_and_the_last_one_counts()
{
    let mut phone = Phone::default();
    phone.does(clock(6, 50), pine_ridge_2());
    let tooth_at = |degrees| Command::SetPlateToTooth {
        machine: id("cab"),
        plate: Angle::whole_degrees(50),
        tooth: Angle::whole_degrees(degrees),
    };
    phone.does(clock(6, 51), tooth_at(53));
    let (kg, mm) = (Mass::kilograms(4082.3314), Length::millimetres);
    let (base, edge) = (mm(6096.0).unwrap(), mm(3657.6).unwrap());
    phone.does(
        clock(6, 52),
        Command::DescribeAxles {
            machine: id("cab"),
            front_axle: kg.unwrap(),
            wheelbase: base,
            edge_to_rear: edge,
        },
    );
    let last = phone.does(clock(6, 53), tooth_at(47));
    phone.does(clock(6, 54), pine_ridge_2());
    let measured = phone.state().measured(&id("cab"));
    assert_eq!(measured.plate_to_tooth, Angle::degrees(-3.0).ok());
    // To the gram, as the record keeps it.
    let kept = Axles::new(Mass::kilograms(4082.331).unwrap(), base, edge).unwrap();
    assert_eq!(measured.axles, Some(kept));

    phone.does(clock(6, 55), Command::Strike(last));
    let measured = phone.state().measured(&id("cab"));
    assert_eq!(measured.plate_to_tooth, Angle::degrees(3.0).ok());
    assert_eq!(phone.state().measured(&id("other")), Measured::default());
}
