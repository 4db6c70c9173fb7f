//! Time zones and daylight saving: what becomes of a shift whose night loses or gains an hour, and of a phone that is
//! carried into another zone, against the IANA zone database as `chrono-tz` holds it.
//!
//! Never here: how a phone finds out its zone, and how times are worded; the app does both.

mod any;
mod cab;
mod pine_ridge;
mod tries;

use std::collections::BTreeSet;
use std::time::Duration;

use cab::{day_of, gravel_shift, id, read_back, taps, written};
use chrono::{DateTime, Days, NaiveDate, NaiveDateTime, NaiveTime, Offset, TimeDelta, TimeZone};
use chrono_tz::{TZ_VARIANTS, Tz};
use evenrow_journal::event::ShiftPlan;
use evenrow_journal::export::{Report, report};
use evenrow_journal::state::Shift;
use evenrow_journal::{Command, Entry, Event, State, wire};
use evenrow_rules::quantity::{Instant, Span};
use proptest::collection::vec;
use proptest::prelude::*;
use proptest::sample::select;
use tries::tries;

/// What the clocks of a zone show at a moment, by the database.
fn wall(zone: Tz, at: Instant) -> NaiveDateTime {
    zone.from_utc_datetime(&utc(at)).naive_local()
}

/// What the clocks show at a moment so many minutes ahead of UTC: the moment and the offset, and nothing else.
fn wall_at_offset(at: Instant, offset_minutes: i16) -> NaiveDateTime {
    utc(at) + TimeDelta::minutes(i64::from(offset_minutes))
}

fn utc(at: Instant) -> NaiveDateTime {
    DateTime::from_timestamp_millis(at.unix_ms())
        .unwrap()
        .naive_utc()
}

/// What a zone is ahead of UTC at a moment by the database, in minutes as a record keeps it.
fn offset_minutes(zone: Tz, at: Instant) -> i16 {
    let seconds = offset_seconds(zone, at);
    assert_eq!(seconds % 60, 0, "{zone} at {}", utc(at));
    i16::try_from(seconds / 60).unwrap()
}

fn offset_seconds(zone: Tz, at: Instant) -> i32 {
    let offset = zone.offset_from_utc_datetime(&utc(at));
    offset.fix().local_minus_utc()
}

/// The moment at which the clocks of a zone show this; the first where they show it twice, none where they skip it.
fn moment(zone: Tz, wall: NaiveDateTime) -> Option<Instant> {
    let local = zone.from_local_datetime(&wall).earliest()?;
    Some(Instant::from_unix_ms(local.timestamp_millis()))
}

fn evening(year: i32, month: u32, day: u32) -> NaiveDate {
    NaiveDate::from_ymd_opt(year, month, day).unwrap()
}

fn on(day: NaiveDate, hours: u32, minutes: u32) -> NaiveDateTime {
    day.and_hms_opt(hours, minutes, 0).unwrap()
}

fn time(hours: u32, minutes: u32) -> NaiveTime {
    NaiveTime::from_hms_opt(hours, minutes, 0).unwrap()
}

/// What a phone in a zone writes.
fn written_in(zone: Tz, asked: Vec<(Instant, Command)>) -> Vec<Entry> {
    written(|at| offset_minutes(zone, at), asked)
}

/// The shift that a phone in a zone reads back after these commands.
fn shift(zone: Tz, asked: Vec<(Instant, Command)>) -> Shift {
    let state = read_back(&written_in(zone, asked));
    state.shifts.last().cloned().unwrap()
}

fn due_times(shift: &Shift, now: Instant) -> Vec<Instant> {
    let slots = shift.standing(now).slots;
    slots.iter().map(|slot| slot.due.at).collect()
}

/// A night from eleven to seven by the clocks of a zone: how long it really is in minutes, and when the clocks of that
/// night show the three oilings. By the published dates: EU, last Sundays of March and October at 01:00 UTC; USA and
/// Canada, second Sunday of March and first of November at 02:00; Lord Howe, first Sundays of April and October at
/// 02:00, by half an hour.
type Night = (Tz, NaiveDate, u64, [(u32, u32); 3]);

fn nights() -> [Night; 12] {
    [
        (
            Tz::Europe__Helsinki,
            evening(2026, 3, 28),
            420,
            [(23, 0), (1, 20), (4, 40)],
        ),
        (
            Tz::Europe__Helsinki,
            evening(2026, 10, 24),
            540,
            [(23, 0), (2, 0), (4, 0)],
        ),
        (
            Tz::America__Chicago,
            evening(2026, 3, 7),
            420,
            [(23, 0), (1, 20), (4, 40)],
        ),
        (
            Tz::America__Chicago,
            evening(2026, 10, 31),
            540,
            [(23, 0), (1, 0), (4, 0)],
        ),
        (
            Tz::America__St_Johns,
            evening(2026, 3, 7),
            420,
            [(23, 0), (1, 20), (4, 40)],
        ),
        (
            Tz::America__St_Johns,
            evening(2026, 10, 31),
            540,
            [(23, 0), (1, 0), (4, 0)],
        ),
        (
            Tz::Australia__Lord_Howe,
            evening(2026, 10, 3),
            450,
            [(23, 0), (1, 30), (4, 30)],
        ),
        (
            Tz::Australia__Lord_Howe,
            evening(2026, 4, 4),
            510,
            [(23, 0), (1, 50), (4, 10)],
        ),
        (
            Tz::Asia__Kolkata,
            evening(2026, 3, 28),
            480,
            [(23, 0), (1, 40), (4, 20)],
        ),
        (
            Tz::Asia__Kolkata,
            evening(2026, 10, 24),
            480,
            [(23, 0), (1, 40), (4, 20)],
        ),
        (
            Tz::America__Phoenix,
            evening(2026, 3, 7),
            480,
            [(23, 0), (1, 40), (4, 20)],
        ),
        (
            Tz::America__Phoenix,
            evening(2026, 10, 31),
            480,
            [(23, 0), (1, 40), (4, 20)],
        ),
    ]
}

/// From eleven in the evening to seven in the morning by the clocks of a zone.
fn eleven_to_seven(zone: Tz, day: NaiveDate) -> ShiftPlan {
    ShiftPlan {
        start: moment(zone, on(day, 23, 0)).unwrap(),
        end: moment(zone, on(day + Days::new(1), 7, 0)).unwrap(),
        breaks: vec![],
    }
}

#[test]
fn a_night_in_which_the_clocks_change_is_worked_and_oiled_by_the_time_that_really_passes() {
    for (zone, day, minutes, oilings) in nights() {
        let plan = eleven_to_seven(zone, day);
        let shift = shift(zone, gravel_shift(plan.clone()));
        let really = Duration::from_mins(minutes);
        assert_eq!(shift.worked(plan.end), really, "{zone} {day}");
        let due = due_times(&shift, plan.start);
        let shown = due.iter().map(|&at| wall(zone, at).time());
        let expected = oilings.map(|(hours, minutes)| time(hours, minutes));
        assert_eq!(shown.collect::<Vec<_>>(), expected, "{zone} {day}");
        for (earlier, later) in due.iter().zip(due.iter().skip(1)) {
            assert_eq!(later.since(*earlier), really / 3, "{zone} {day}");
        }
    }
}

#[test]
fn no_due_time_moves_while_the_clocks_change() {
    for (zone, day, ..) in nights() {
        let plan = eleven_to_seven(zone, day);
        let shift = shift(zone, gravel_shift(plan.clone()));
        let at_start = due_times(&shift, plan.start);
        let minutes = plan.span().length().as_secs() / 60;
        for minute in 0..minutes {
            let now = plan.start.plus(Duration::from_mins(minute));
            assert_eq!(due_times(&shift, now), at_start, "{zone} at {}", utc(now));
        }
    }
}

#[test]
fn a_break_in_which_the_clocks_change_is_as_long_as_it_really_is() {
    let halves = |zone, day: NaiveDate, from: (u32, u32), to: (u32, u32)| {
        let next = day + Days::new(1);
        let at = |(hours, minutes)| moment(zone, on(next, hours, minutes)).unwrap();
        let rest = Span::new(at(from), at(to));
        let plan = ShiftPlan {
            breaks: vec![rest],
            ..eleven_to_seven(zone, day)
        };
        let worked = shift(zone, gravel_shift(plan.clone())).worked(plan.end);
        assert_eq!(worked + rest.length(), plan.span().length());
        (rest.length().as_secs() / 60, worked.as_secs() / 60)
    };
    let chicago = Tz::America__Chicago;
    let spring = halves(chicago, evening(2026, 3, 7), (1, 30), (3, 30));
    assert_eq!(spring, (60, 360));
    let autumn = halves(chicago, evening(2026, 10, 31), (0, 45), (2, 15));
    assert_eq!(autumn, (150, 390));
    let lord_howe = Tz::Australia__Lord_Howe;
    let half_hour = halves(lord_howe, evening(2026, 10, 3), (1, 45), (2, 45));
    assert_eq!(half_hour, (30, 420));
}

#[test]
fn every_night_of_two_years_in_every_zone_is_split_into_equal_parts_of_real_time() {
    let mut changes = 0;
    for zone in TZ_VARIANTS {
        let mut ordinary_seen = false;
        let days = evening(2026, 1, 1).iter_days().take(730);
        for day in days {
            let (begin, finish) = (on(day, 22, 0), on(day + Days::new(1), 6, 0));
            let (Some(start), Some(end)) = (moment(zone, begin), moment(zone, finish)) else {
                continue;
            };
            let gained = offset_seconds(zone, end) - offset_seconds(zone, start);
            if gained == 0 && ordinary_seen {
                continue;
            }
            ordinary_seen |= gained == 0;
            changes += usize::from(gained != 0);
            let shown = (finish - begin).num_seconds();
            let really = Duration::from_secs(u64::try_from(shown - i64::from(gained)).unwrap());
            let plan = ShiftPlan {
                start,
                end,
                breaks: vec![],
            };
            let shift = shift(zone, gravel_shift(plan));
            assert_eq!(shift.worked(end), really, "{zone} {day}");
            let thirds = [0, 1, 2].map(|third| start.plus(really / 3 * third));
            assert_eq!(due_times(&shift, start), thirds, "{zone} {day}");
        }
    }
    // Two a year wherever there is daylight saving; some 200 of the names have it.
    assert!(600 < changes, "{changes}");
}

#[test]
fn no_zone_from_1990_to_2060_is_ahead_of_utc_by_a_part_of_a_minute() {
    // An offset that was in force for two weeks is met.
    let days = evening(1990, 1, 1).iter_weeks().step_by(2);
    let moments: Vec<Instant> = days
        .take_while(|day| *day < evening(2061, 1, 1))
        .map(|day| Instant::from_unix_ms(on(day, 0, 0).and_utc().timestamp_millis()))
        .collect();
    for zone in TZ_VARIANTS {
        for &at in &moments {
            let kept = i32::from(offset_minutes(zone, at));
            assert_eq!(kept * 60, offset_seconds(zone, at));
        }
    }
}

#[test]
fn the_report_keeps_the_zone_of_the_start_though_the_clocks_change_in_the_night() {
    for (zone, day, ..) in nights() {
        let plan = eleven_to_seven(zone, day);
        let mut asked = gravel_shift(plan.clone());
        asked.push((plan.end, Command::Oil));
        asked.push((plan.end, Command::EndShift));
        let report = report(&State::default(), &shift(zone, asked), plan.end);
        let at = |at| wall_at_offset(at, report.offset_minutes);
        assert_eq!(at(report.planned.start()), on(day, 23, 0), "{zone}");
        // One offset for the whole report: lengths that are read off it are the true ones.
        let shown = at(plan.end) - at(plan.start);
        let really = report.worked.as_secs();
        assert_eq!(shown.num_seconds().unsigned_abs(), really, "{zone}");
    }
}

/// Any zone of the database.
fn zone() -> impl Strategy<Value = Tz> {
    select(TZ_VARIANTS.to_vec())
}

/// Any moment from 1990 to 2060.
fn modern_moment() -> impl Strategy<Value = Instant> {
    let ms = |year| on(evening(year, 1, 1), 0, 0).and_utc().timestamp_millis();
    (ms(1990)..ms(2061)).prop_map(Instant::from_unix_ms)
}

/// The same without the offsets of the shifts, the one thing that a zone may change.
fn without_offsets(mut state: State) -> State {
    for shift in &mut state.shifts {
        shift.offset_minutes = 0;
    }
    state
}

proptest! {
    #![proptest_config(tries(300))]

    #[test]
    fn a_moment_and_the_offset_of_its_record_give_what_the_clocks_of_the_zone_showed(
        zone in zone(),
        at in modern_moment(),
    ) {
        let note = Entry {
            id: id("note"),
            count: 1,
            at,
            offset_minutes: offset_minutes(zone, at),
            device: id("cab"),
            event: Event::Noted { shift: id("shift"), text: "Alder Loop".to_owned() },
        };
        let kept = wire::read(&wire::write(&note)).unwrap();
        prop_assert_eq!(wall_at_offset(kept.at, kept.offset_minutes), wall(zone, at));
    }

    #[test]
    fn a_phone_that_is_carried_from_zone_to_zone_tells_the_same_shift(
        home in zone(),
        travelled in vec(zone(), 40),
        start in modern_moment(),
        taps in taps(),
    ) {
        let stayed = written_in(home, day_of(start, taps));
        let mut moved = stayed.clone();
        for (entry, zone) in moved.iter_mut().zip(&travelled) {
            entry.offset_minutes = offset_minutes(*zone, entry.at);
        }
        let (stayed, moved) = (read_back(&stayed), read_back(&moved));
        prop_assert_eq!(&without_offsets(stayed.clone()), &without_offsets(moved.clone()));
        let (at_home, away) = (&stayed, &moved);
        let (stayed, moved) = (&at_home.shifts[0], &away.shifts[0]);
        for minutes in (0..=540).step_by(45) {
            let now = start.plus(Duration::from_mins(minutes));
            prop_assert_eq!(stayed.standing(now), moved.standing(now));
            prop_assert_eq!(stayed.next_look(now), moved.next_look(now));
            let told = Report { offset_minutes: moved.offset_minutes, ..report(at_home, stayed, now) };
            prop_assert_eq!(told, report(away, moved, now));
        }
    }

    #[test]
    fn the_report_shows_the_start_as_it_was_set_by_the_clocks_wherever_the_phone_went_later(
        zone in zone(),
        travelled in vec(zone(), 40),
        about in modern_moment(),
        taps in taps(),
    ) {
        let set = wall(zone, about);
        let start = moment(zone, set).unwrap();
        let mut entries = written_in(zone, day_of(start, taps));
        let started = entries.iter().find(|it| matches!(it.event, Event::ShiftStarted(_)));
        // Started minutes before a change of the clocks: another test has those.
        prop_assume!(started.unwrap().offset_minutes == offset_minutes(zone, start));
        let others = entries.iter_mut().filter(|it| !matches!(it.event, Event::ShiftStarted(_)));
        for (entry, zone) in others.zip(&travelled) {
            entry.offset_minutes = offset_minutes(*zone, entry.at);
        }
        let state = read_back(&entries);
        let report = report(&state, &state.shifts[0], start.plus(Duration::from_hours(9)));
        prop_assert_eq!(wall_at_offset(report.planned.start(), report.offset_minutes), set);
    }

    #[test]
    fn no_offset_however_absurd_changes_what_a_journal_tells(
        entries in vec((any::entry(), any::<i16>()), 0..32),
    ) {
        // Of two records with one id the bytes decide, and the offset is among them: one of each here.
        let mut seen = BTreeSet::new();
        let mut there = Vec::new();
        let mut here = Vec::new();
        for (entry, offset_minutes) in entries {
            if seen.insert(entry.id.clone()) {
                there.push(Entry { offset_minutes, ..entry.clone() });
                here.push(entry);
            }
        }
        prop_assert_eq!(without_offsets(read_back(&here)), without_offsets(read_back(&there)));
    }
}
