//! What is due, what rings and when to look again, minute by minute through a shift.
//!
//! Source of all numbers: house default. Never here: due times themselves (`evenrow_rules::oiling`).

mod any;
mod tries;

use std::time::Duration;
use tries::tries;

use evenrow_journal::event::{Finding, SheetTaken, ShiftPlan};
use evenrow_journal::reminder::{FORGOTTEN_AFTER, Nearness, Reminder, Ringing, Urgency, reconcile};
use evenrow_journal::{Entry, Event, Id, State};
use evenrow_rules::machine::{FOOT, Machine};
use evenrow_rules::oiling::Status;
use evenrow_rules::quantity::{Instant, Span};
use evenrow_rules::setup::{ToothKind, Verdict};
use evenrow_rules::work::{Conditions, Work};
use proptest::collection::vec;
use proptest::prelude::*;

fn id(text: &str) -> Id {
    Id::new(text).unwrap()
}

/// A time on the clock in the cab on 15 June 2026, six hours behind UTC.
fn clock(hours: i64, minutes: i64) -> Instant {
    Instant::from_unix_ms(1_781_503_200_000 + (hours * 60 + minutes) * 60_000)
}

fn seconds(count: u64) -> Duration {
    Duration::from_secs(count)
}

/// A state to which things happen one after the other.
#[derive(Clone, Default)]
struct Phone {
    state: State,
    count: u64,
}

impl Phone {
    fn happens(&mut self, at: Instant, event: Event) -> Id {
        self.count += 1;
        let id = id(&format!("entry-{}", self.count));
        self.state.apply(&Entry {
            id: id.clone(),
            count: self.count,
            at,
            offset_minutes: -360,
            device: Id::new("cab").unwrap(),
            event,
        });
        id
    }

    fn shift(&self) -> Id {
        self.state.shifts.last().unwrap().id.clone()
    }

    fn oiled(&mut self, at: Instant) {
        let shift = self.shift();
        self.happens(at, Event::Oiled { shift });
    }

    fn put_off(&mut self, at: Instant, minutes: u8) {
        let shift = self.shift();
        self.happens(at, Event::PutOff { shift, minutes });
    }

    #[track_caller]
    fn at(&self, now: Instant) -> Reminder {
        reconcile(&self.state, now).unwrap()
    }

    #[track_caller]
    fn rings_at(&self, now: Instant) -> Ringing {
        self.at(now).ringing.unwrap()
    }
}

/// Seven to half past three with lunch at eleven, three oilings: due at 7:00, 9:40 and 12:50. The first is done.
fn on_gravel() -> Phone {
    let mut phone = Phone::default();
    let machine = Machine::with_moldboard(FOOT.times(12)).unwrap();
    let name = "Pine Ridge 2".to_owned();
    phone.happens(clock(6, 0), Event::MachineDescribed { name, machine });
    phone.happens(
        clock(6, 55),
        Event::ShiftStarted(ShiftPlan {
            start: clock(7, 0),
            end: clock(15, 30),
            breaks: vec![Span::new(clock(11, 0), clock(11, 30))],
        }),
    );
    let shift = phone.shift();
    let sheet = SheetTaken {
        verdict: Verdict::Suits,
        teeth: vec![ToothKind::WidePointed],
        plates: 4,
        toothed_at: vec![1, 2, 3, 4],
        tooth_count: 96,
        cutting_degrees: 50,
        grading_degrees: 55,
        layers: 1,
        oilings: 3,
        looks_per_interval: 2,
    };
    phone.happens(
        clock(6, 56),
        Event::SetupUsed {
            shift,
            work: Work::Gravel,
            known: Conditions::default(),
            sheet,
        },
    );
    phone.oiled(clock(7, 0));
    phone
}

#[test]
fn nothing_rings_before_it_is_due_and_it_rings_from_that_second_on() {
    let phone = on_gravel();
    assert_eq!(phone.at(clock(9, 29)).nearness, Nearness::Ahead);
    let soon = phone.at(clock(9, 30));
    assert_eq!((soon.nearness, soon.ringing), (Nearness::Soon, None));
    assert_eq!(soon.wake, Some(clock(9, 40)));
    let ringing = phone.rings_at(clock(9, 40));
    assert_eq!(
        (ringing.due, ringing.since, ringing.late),
        (clock(9, 40), clock(9, 40), None)
    );
    assert!(ringing.sounds);
    assert_eq!(phone.at(clock(9, 40)).nearness, Nearness::Due);
}

#[test]
fn it_rings_louder_after_half_a_minute_and_hardly_pauses_after_two() {
    let phone = on_gravel();
    let urgency = |after| phone.rings_at(clock(9, 40).plus(seconds(after))).urgency;
    assert_eq!(urgency(29), Urgency::Gentle);
    assert_eq!(urgency(30), Urgency::Louder);
    assert_eq!(urgency(119), Urgency::Louder);
    assert_eq!(urgency(120), Urgency::Pressing);
    assert_eq!(
        urgency(3 * 3600 - 1),
        Urgency::Pressing,
        "until the next one falls due"
    );
}

#[test]
fn after_ten_minutes_it_is_late_and_says_by_how_much() {
    let phone = on_gravel();
    let late = |minutes: i64| phone.rings_at(clock(9, 40 + minutes)).late;
    assert_eq!(late(10), None);
    assert_eq!(late(11), Some(Duration::from_mins(11)));
    assert_eq!(phone.at(clock(9, 51)).nearness, Nearness::Late);
}

#[test]
fn an_oiling_stops_it_at_once() {
    let mut phone = on_gravel();
    phone.oiled(clock(9, 43));
    assert_eq!(phone.at(clock(9, 43)).ringing, None);
    assert_eq!(
        phone.at(clock(9, 44)).standing.next().unwrap().due.at,
        clock(12, 50)
    );
}

#[test]
fn put_off_for_five_minutes_it_is_quiet_that_long_and_then_begins_gently() {
    let mut phone = on_gravel();
    phone.put_off(clock(9, 43), 5);
    let quiet = phone.at(clock(9, 44));
    assert_eq!(
        (quiet.ringing, quiet.put_off_until),
        (None, Some(clock(9, 48)))
    );
    assert_eq!(quiet.wake, Some(clock(9, 48)));
    let again = phone.rings_at(clock(9, 48));
    assert_eq!(
        (again.since, again.urgency),
        (clock(9, 48), Urgency::Gentle)
    );
    // Put off twice: the later end counts. It is late all the same.
    phone.put_off(clock(9, 49), 15);
    assert_eq!(phone.at(clock(10, 3)).put_off_until, Some(clock(10, 4)));
    assert_eq!(phone.at(clock(10, 3)).nearness, Nearness::Late);
    assert_eq!(
        phone.rings_at(clock(10, 4)).late,
        Some(Duration::from_mins(24))
    );
}

#[test]
fn what_was_put_off_does_not_hush_the_next_one() {
    let mut phone = on_gravel();
    phone.put_off(clock(12, 45), 15);
    assert_eq!(phone.rings_at(clock(12, 50)).due, clock(12, 50));
}

#[test]
fn a_clock_set_back_after_putting_off_puts_nothing_off() {
    let mut phone = on_gravel();
    phone.put_off(clock(10, 40), 15);
    assert!(phone.at(clock(9, 41)).ringing.is_some());
}

#[test]
fn a_phone_that_slept_through_a_due_time_rings_for_it_when_it_wakes() {
    let phone = on_gravel();
    let woken = phone.rings_at(clock(12, 0));
    assert_eq!(
        (woken.due, woken.late),
        (clock(9, 40), Some(Duration::from_mins(140)))
    );
    // Asleep past the next one as well: the first is missed, the second rings.
    let later = phone.at(clock(13, 0));
    assert_eq!(later.standing.slots[1].status, Status::Missed);
    assert_eq!(later.ringing.unwrap().due, clock(12, 50));
    let shift = phone.state.running().unwrap();
    let asleep = Span::new(clock(9, 30), clock(13, 0));
    assert_eq!(shift.fell_due_in(asleep), [clock(9, 40), clock(12, 50)]);
}

#[test]
fn nothing_rings_without_a_shift_or_before_a_set_up_is_chosen_or_after_the_end() {
    assert_eq!(reconcile(&State::default(), clock(9, 40)), None);
    let mut phone = on_gravel();
    let shift = phone.shift();
    phone.happens(clock(9, 0), Event::ShiftEnded { shift });
    assert_eq!(reconcile(&phone.state, clock(9, 40)), None);
}

#[test]
fn a_shift_that_was_forgotten_stops_sounding_an_hour_after_its_end_and_goes_on_saying_what_is_late()
{
    let phone = on_gravel();
    let end = clock(15, 30).plus(FORGOTTEN_AFTER);
    assert!(phone.rings_at(end.minus(seconds(1))).sounds);
    assert!(!phone.rings_at(end).sounds);
    // Somebody still works: a look after the end keeps it sounding.
    let mut working = phone;
    let shift = working.shift();
    let finding = Finding::AllTurning;
    working.happens(clock(16, 0), Event::Looked { shift, finding });
    assert!(working.rings_at(clock(16, 45)).sounds);
}

#[test]
fn a_pattern_begins_every_ten_five_or_two_seconds_however_often_the_app_wakes() {
    let phone = on_gravel();
    let due = clock(9, 40);
    let begins = |from: u64, to: u64, every: u64| {
        (from..to)
            .step_by(every as usize)
            .filter(|&at| {
                let now = due.plus(seconds(at));
                phone
                    .rings_at(now)
                    .sounds_between(now.minus(seconds(every)), now)
            })
            .collect::<Vec<u64>>()
    };
    assert_eq!(begins(0, 30, 1), [0, 10, 20]);
    assert_eq!(begins(30, 50, 1), [30, 35, 40, 45]);
    assert_eq!(begins(120, 128, 1), [120, 122, 124, 126]);
    // Let run once a minute: once at each wake.
    assert_eq!(begins(0, 300, 60), [0, 60, 120, 180, 240]);
}

/// The clock is set back an hour at 9:00. If the old time was wrong, the due time at 9:40 comes at 8:40 by the new one.
#[test]
fn a_shift_moves_with_the_clock_if_the_operator_says_that_the_new_time_is_right() {
    let mut phone = on_gravel();
    let shift = phone.shift();
    let by_ms = -3_600_000;
    let jump = phone.happens(
        clock(8, 0),
        Event::ClockJumped {
            shift: shift.clone(),
            by_ms,
        },
    );
    assert!(phone.state.running().unwrap().unanswered_jump().is_some());
    phone.oiled(clock(8, 10));
    let kept = |moved| Event::ClockAnswered {
        shift: shift.clone(),
        jump: jump.clone(),
        moved,
    };
    let mut left = phone.clone();
    left.happens(clock(8, 11), kept(false));
    assert_eq!(left.state.running().unwrap().plan.start, clock(7, 0));
    phone.happens(clock(8, 11), kept(true));
    let shift = phone.state.running().unwrap();
    assert_eq!(shift.plan.span(), Span::new(clock(6, 0), clock(14, 30)));
    assert_eq!(shift.plan.breaks, [Span::new(clock(10, 0), clock(10, 30))]);
    // What was recorded by the old clock moves; what was recorded by the new one stays.
    assert_eq!(shift.oiled, [clock(6, 0), clock(8, 10)]);
    assert_eq!(shift.unanswered_jump(), None);
    // 9:40 has become 8:40; the oiling at 8:10 was in its last quarter.
    let slots = phone.at(clock(8, 12)).standing.slots;
    assert_eq!(slots[1].due.at, clock(8, 40));
    assert!(matches!(slots[1].status, Status::Done { .. }));
}

fn told_by(entries: &[Entry]) -> State {
    let mut state = State::default();
    for entry in entries {
        state.apply(entry);
    }
    state
}

proptest! {
    #![proptest_config(tries(600))]

    #[test]
    fn between_two_wakes_nothing_changes_but_how_late_it_is(
        entries in vec(any::entry(), 0..30),
        now in any::moment(),
        share in 0.0..1.0_f64,
    ) {
        let state = told_by(&entries);
        let Some(reminder) = reconcile(&state, now) else { return Ok(()) };
        let Some(wake) = reminder.wake else { return Ok(()) };
        prop_assert!(now < wake);
        let between = now.plus(wake.since(now).mul_f64(share)).min(wake.minus(Duration::from_millis(1)));
        let Some(later) = reconcile(&state, between) else {
            return Err(TestCaseError::fail("it vanished"));
        };
        let told = |it: &Reminder| {
            (it.nearness, it.put_off_until, it.ringing.map(|ring| (ring.due, ring.since, ring.urgency)))
        };
        prop_assert_eq!(told(&reminder), told(&later), "at {:?} and {:?}", now, between);
    }

    #[test]
    fn any_journal_at_any_moment_has_an_answer(entries in vec(any::entry(), 0..40), now in any::moment()) {
        let state = told_by(&entries);
        if let Some(reminder) = reconcile(&state, now)
            && let Some(ringing) = reminder.ringing
        {
            prop_assert!(ringing.due <= now && ringing.since <= now);
            let _ = ringing.sounds_between(now.minus(seconds(1)), now);
        }
    }
}
