//! What the phone's calendar is handed: read back by an independent reader of iCalendar, and taken in by a calendar that
//! keeps to RFC 5545.
//!
//! Never here: when oilings fall due (`fold` and the rules), and what any one calendar makes of the text.

mod cab;
mod pine_ridge;
mod tries;

use std::collections::{BTreeMap, BTreeSet};
use std::time::Duration;

use cab::{day_of, gravel_shift, id, read_back, taps, written};
use chrono::{DateTime, Utc};
use evenrow_journal::calendar::{
    Armed, CalendarWords, Change, Freshness, Reach, Ring, SAME_RING_WITHIN, text, to_ring,
};
use evenrow_journal::event::ShiftPlan;
use evenrow_journal::state::Shift;
use evenrow_journal::{Command, State};
use evenrow_rules::oiling::Standing;
use evenrow_rules::quantity::{Instant, Span};
use icalendar::{Calendar, CalendarDateTime, Component, DatePerhapsTime, EventStatus};
use proptest::collection::vec;
use proptest::prelude::*;
use proptest::sample::select;
use tries::tries;

/// 15 June 2026 in UTC.
fn clock(hours: i64, minutes: i64) -> Instant {
    Instant::from_unix_ms(1_781_481_600_000 + (hours * 60 + minutes) * 60_000)
}

const WORDS: CalendarWords = CalendarWords {
    product: "-//Evenrow//Evenrow//EN",
    summary: "Oil the sockets",
    description: "Pine Ridge 2: let hot teeth cool first.",
};

/// One event, as the reader understands it.
#[derive(Clone, Debug, PartialEq)]
struct Read {
    uid: String,
    stamp: Option<DateTime<Utc>>,
    start: DateTime<Utc>,
    end: DateTime<Utc>,
    sequence: u32,
    cancelled: bool,
    summary: String,
    description: String,
    /// What its alarms show.
    alarms: Vec<String>,
}

/// Everything that the reader finds in a text; each event has what it must have, and nothing beyond.
#[track_caller]
fn read(text: &str) -> (String, Vec<Read>) {
    let calendar: Calendar = text.parse().unwrap();
    let all: Vec<&str> = calendar
        .properties
        .iter()
        .map(icalendar::Property::key)
        .collect();
    assert_eq!(all, ["VERSION", "PRODID"]);
    assert_eq!(calendar.property_value("VERSION"), Some("2.0"));
    let product = calendar.property_value("PRODID").unwrap().to_owned();
    let components = calendar.components.iter();
    let events = components.map(|it| it.as_event().unwrap());
    (product, events.map(read_event).collect())
}

fn read_event(event: &icalendar::Event) -> Read {
    let utc = |moment: Option<DatePerhapsTime>| match moment {
        Some(DatePerhapsTime::DateTime(CalendarDateTime::Utc(at))) => at,
        other => panic!("no moment in UTC: {other:?}"),
    };
    let cancelled = match event.get_status() {
        Some(EventStatus::Confirmed) => false,
        Some(EventStatus::Cancelled) => true,
        other => panic!("neither confirmed nor cancelled: {other:?}"),
    };
    assert_eq!(event.property_value("TRANSP"), Some("TRANSPARENT"));
    let alarms = event.components().iter().map(|alarm| {
        assert_eq!(alarm.component_kind(), "VALARM");
        assert_eq!(alarm.property_value("ACTION"), Some("DISPLAY"));
        assert_eq!(alarm.property_value("TRIGGER"), Some("PT0S"));
        assert_eq!(alarm.properties().len(), 3);
        alarm.property_value("DESCRIPTION").unwrap().to_owned()
    });
    assert_eq!(event.properties().len(), 9);
    Read {
        uid: event.get_uid().unwrap().to_owned(),
        stamp: event.get_timestamp(),
        start: utc(event.get_start()),
        end: utc(event.get_end()),
        sequence: event.get_sequence().unwrap(),
        cancelled,
        summary: event.get_summary().unwrap().to_owned(),
        description: event.get_description().unwrap().to_owned(),
        alarms: alarms.collect(),
    }
}

/// A moment as a calendar knows it, by an independent reckoning: cut to its second.
fn to_the_second(at: Instant) -> DateTime<Utc> {
    DateTime::from_timestamp(at.unix_ms().div_euclid(1000), 0).unwrap()
}

/// RFC 5545, §3.1: every line ends in CR and LF, holds at most 75 octets, and is whole UTF-8.
#[track_caller]
fn check_lines(text: &str) {
    let lines: Vec<&[u8]> = lines_of(text.as_bytes());
    for line in lines {
        assert!(line.len() <= 75, "{}", line.len());
        let line = std::str::from_utf8(line).unwrap();
        assert!(!line.is_empty() && !line.contains(['\r', '\n']), "{line}");
        let control = |letter: char| letter.is_control() && letter != '\t';
        assert!(!line.contains(control), "{line}");
    }
}

fn lines_of(bytes: &[u8]) -> Vec<&[u8]> {
    let mut lines = Vec::new();
    let mut rest = bytes;
    while let Some(at) = rest.windows(2).position(|two| two == b"\r\n") {
        lines.push(&rest[..at]);
        rest = &rest[at + 2..];
    }
    assert_eq!(rest, b"", "the last line has no end");
    lines
}

/// From seven to half past three with lunch at eleven, on gravel: oil at seven, at 9:40 and at 12:50.
fn seven_to_half_past_three(later: Vec<(Instant, Command)>) -> State {
    let plan = ShiftPlan {
        start: clock(7, 0),
        end: clock(15, 30),
        breaks: vec![Span::new(clock(11, 0), clock(11, 30))],
    };
    let mut asked = gravel_shift(plan);
    asked.extend(later);
    read_back(&written(|_| 0, asked))
}

fn shift(later: Vec<(Instant, Command)>) -> Shift {
    let shifts = seven_to_half_past_three(later).shifts;
    shifts.last().cloned().unwrap()
}

fn armed(before: Option<&Armed>, reach: Reach, shift: &Shift, now: Instant) -> Armed {
    Armed::after(before, shift.id.clone(), reach, &shift.standing(now))
}

/// What is armed at five past seven, the first oiling done.
fn armed_at_five_past_seven(reach: Reach) -> Armed {
    let oiled = shift(vec![(clock(7, 0), Command::Oil)]);
    armed(None, reach, &oiled, clock(7, 5))
}

fn ring(place: usize, at: Instant) -> Ring {
    Ring { place, at }
}

#[test]
fn the_text_of_one_oiling_is_this_to_the_letter() {
    let next = armed_at_five_past_seven(Reach::Next);
    let written = text(&next, None, clock(7, 5), &WORDS).unwrap();
    let expected = [
        "BEGIN:VCALENDAR",
        "VERSION:2.0",
        "PRODID:-//Evenrow//Evenrow//EN",
        "BEGIN:VEVENT",
        "UID:entry-2-oiling-1",
        "DTSTAMP:20260615T070500Z",
        "DTSTART:20260615T094000Z",
        "DTEND:20260615T094500Z",
        "SEQUENCE:0",
        "STATUS:CONFIRMED",
        "SUMMARY:Oil the sockets",
        "DESCRIPTION:Pine Ridge 2: let hot teeth cool first.",
        "TRANSP:TRANSPARENT",
        "BEGIN:VALARM",
        "ACTION:DISPLAY",
        "TRIGGER:PT0S",
        "DESCRIPTION:Oil the sockets",
        "END:VALARM",
        "END:VEVENT",
        "END:VCALENDAR",
        "",
    ];
    assert_eq!(written, expected.join("\r\n"));
}

#[test]
fn a_whole_shift_has_an_event_for_each_oiling_ahead() {
    let whole = armed_at_five_past_seven(Reach::WholeShift);
    let both = [ring(1, clock(9, 40)), ring(2, clock(12, 50))];
    assert_eq!(whole.rings, both);
    let (product, events) = read(&text(&whole, None, clock(7, 5), &WORDS).unwrap());
    assert_eq!(product, WORDS.product);
    assert_eq!(events.len(), 2);
    for (event, ring) in events.iter().zip(both) {
        assert_eq!(event.stamp, Some(to_the_second(clock(7, 5))));
        assert_eq!(event.start, to_the_second(ring.at));
        assert_eq!(event.end - event.start, chrono::TimeDelta::minutes(5));
        assert_eq!(event.summary, WORDS.summary);
        assert_eq!(event.description, WORDS.description);
        assert_eq!(event.alarms, [WORDS.summary]);
        assert!(!event.cancelled);
    }
}

#[test]
fn only_what_is_still_ahead_is_rung() {
    let at = |minutes, later| to_ring(&shift(later).standing(minutes), Reach::WholeShift);
    assert_eq!(at(clock(7, 0), vec![]).len(), 2);
    let third = [ring(2, clock(12, 50))];
    assert_eq!(at(clock(9, 40), vec![]), third);
    let early = vec![(clock(7, 0), Command::Oil), (clock(9, 20), Command::Oil)];
    assert_eq!(at(clock(9, 20), early), third);
    let over = vec![(clock(8, 0), Command::EndShift)];
    assert_eq!(at(clock(8, 1), over), []);
}

#[test]
fn a_due_time_that_moves_takes_its_event_along() {
    let before = armed_at_five_past_seven(Reach::WholeShift);
    let (_, first) = read(&text(&before, None, clock(7, 5), &WORDS).unwrap());
    let rested = shift(vec![
        (clock(7, 0), Command::Oil),
        (clock(8, 0), Command::StartBreak),
        (clock(8, 15), Command::EndBreak),
    ]);
    let now = clock(8, 16);
    let wanted = to_ring(&rested.standing(now), Reach::WholeShift);
    let by = Duration::from_mins(15);
    let moved = [
        Change::Later {
            ring: ring(1, clock(9, 55)),
            by,
        },
        Change::Later {
            ring: ring(2, clock(13, 5)),
            by,
        },
    ];
    assert_eq!(
        before.freshness(&wanted, now),
        Freshness::Stale(moved.to_vec())
    );

    let after = armed(Some(&before), Reach::WholeShift, &rested, now);
    let (_, second) = read(&text(&after, Some(&before), now, &WORDS).unwrap());
    assert_eq!(second.len(), 2);
    for (was, is) in first.iter().zip(&second) {
        assert_eq!(is.uid, was.uid);
        assert_eq!(is.start - was.start, chrono::TimeDelta::minutes(15));
        assert_eq!((was.sequence, is.sequence), (0, 1));
    }
}

#[test]
fn an_oiling_that_has_rung_is_neither_stale_nor_cancelled_from_its_due_time_on() {
    let before = armed_at_five_past_seven(Reach::WholeShift);
    let late = |now| shift(vec![(clock(7, 0), Command::Oil), (now, Command::Oil)]);
    let unserved = shift(vec![(clock(7, 0), Command::Oil)]);
    let last = to_the_second(clock(12, 50));
    for (now, shift) in [
        (clock(9, 40), unserved.clone()),
        (clock(9, 41), unserved),
        (clock(9, 45), late(clock(9, 45))),
    ] {
        let wanted = to_ring(&shift.standing(now), Reach::WholeShift);
        assert_eq!(before.freshness(&wanted, now), Freshness::Fresh);
        let after = armed(Some(&before), Reach::WholeShift, &shift, now);
        let (_, events) = read(&text(&after, Some(&before), now, &WORDS).unwrap());
        let starts: Vec<DateTime<Utc>> = events.iter().map(|event| event.start).collect();
        assert_eq!(starts, [last]);
    }
}

#[test]
fn a_shift_that_ends_early_takes_back_what_would_still_ring_and_rings_for_none_of_it() {
    let before = armed_at_five_past_seven(Reach::WholeShift);
    let ended = shift(vec![
        (clock(7, 0), Command::Oil),
        (clock(10, 0), Command::EndShift),
    ]);
    let now = clock(10, 1);
    let last = ring(2, clock(12, 50));
    let wanted = to_ring(&ended.standing(now), before.reach);
    assert_eq!(
        before.freshness(&wanted, now),
        Freshness::Stale(vec![Change::Dropped(last)])
    );
    let after = armed(Some(&before), Reach::WholeShift, &ended, now);
    let (_, events) = read(&text(&after, Some(&before), now, &WORDS).unwrap());
    assert_eq!(events.len(), 1);
    assert_eq!(events[0].uid, "entry-2-oiling-2");
    assert_eq!(events[0].start, to_the_second(last.at));
    assert_eq!(events[0].sequence, 1);
    assert!(events[0].cancelled);
    assert_eq!(events[0].alarms, [""; 0]);
}

#[test]
fn an_early_oiling_that_is_taken_back_brings_its_ring_back() {
    let before = armed_at_five_past_seven(Reach::WholeShift);
    let now = clock(9, 31);
    let oiled_early = shift(vec![
        (clock(7, 0), Command::Oil),
        (clock(9, 30), Command::Oil),
    ]);
    let dropped = armed(Some(&before), Reach::WholeShift, &oiled_early, now);
    let (_, events) = read(&text(&dropped, Some(&before), now, &WORDS).unwrap());
    let cancelled: Vec<bool> = events.iter().map(|event| event.cancelled).collect();
    assert_eq!(cancelled, [false, true]);

    let taken_back = shift(vec![(clock(7, 0), Command::Oil)]);
    let wanted = to_ring(&taken_back.standing(now), Reach::WholeShift);
    let second = ring(1, clock(9, 40));
    assert_eq!(
        dropped.freshness(&wanted, now),
        Freshness::Stale(vec![Change::Added(second)])
    );
    let again = armed(Some(&dropped), Reach::WholeShift, &taken_back, now);
    let (_, events) = read(&text(&again, Some(&dropped), now, &WORDS).unwrap());
    assert_eq!(events[0].uid, "entry-2-oiling-1");
    assert_eq!((events[0].cancelled, events[0].sequence), (false, 2));
    assert_eq!(events[0].alarms, [WORDS.summary]);
}

#[test]
fn once_the_next_oiling_has_rung_the_one_after_it_is_not_armed() {
    let next = armed_at_five_past_seven(Reach::Next);
    let at = |now| {
        let wanted = to_ring(&shift(vec![]).standing(now), Reach::Next);
        next.freshness(&wanted, now)
    };
    assert_eq!(at(clock(9, 39)), Freshness::Fresh);
    let third = Change::Added(ring(2, clock(12, 50)));
    assert_eq!(at(clock(9, 40)), Freshness::Stale(vec![third]));
}

#[test]
fn whoever_asks_for_the_next_oiling_alone_gets_the_others_taken_back() {
    let before = armed_at_five_past_seven(Reach::WholeShift);
    let now = clock(7, 10);
    let next = armed(Some(&before), Reach::Next, &shift(vec![]), now);
    let (_, events) = read(&text(&next, Some(&before), now, &WORDS).unwrap());
    let seen: Vec<(&str, bool)> = events
        .iter()
        .map(|event| (event.uid.as_str(), event.cancelled))
        .collect();
    assert_eq!(
        seen,
        [("entry-2-oiling-1", false), ("entry-2-oiling-2", true)]
    );
}

#[test]
fn a_due_time_that_moves_by_less_than_a_minute_has_not_moved() {
    let at = |ms| Instant::from_unix_ms(clock(9, 40).unix_ms() + ms);
    let whole = Armed {
        rings: vec![ring(1, at(0))],
        ..armed_at_five_past_seven(Reach::WholeShift)
    };
    let now = clock(8, 0);
    for ms in [-59_999, -1, 0, 1, 59_999] {
        assert_eq!(whole.freshness(&[ring(1, at(ms))], now), Freshness::Fresh);
    }
    let by = SAME_RING_WITHIN;
    let (later, earlier) = (ring(1, at(60_000)), ring(1, at(-60_000)));
    assert_eq!(
        whole.freshness(&[later], now),
        Freshness::Stale(vec![Change::Later { ring: later, by }])
    );
    assert_eq!(
        whole.freshness(&[earlier], now),
        Freshness::Stale(vec![Change::Earlier { ring: earlier, by }])
    );
}

#[test]
fn what_rang_too_early_has_to_ring_again() {
    let before = armed_at_five_past_seven(Reach::WholeShift);
    let rested = shift(vec![
        (clock(7, 0), Command::Oil),
        (clock(8, 0), Command::StartBreak),
        (clock(8, 20), Command::EndBreak),
    ]);
    let now = clock(9, 50);
    let wanted = to_ring(&rested.standing(now), Reach::WholeShift);
    let by = Duration::from_mins(20);
    let moved = [ring(1, clock(10, 0)), ring(2, clock(13, 10))];
    let moved = moved.map(|ring| Change::Later { ring, by });
    assert_eq!(
        before.freshness(&wanted, now),
        Freshness::Stale(moved.to_vec())
    );
}

#[test]
fn a_shift_that_was_struck_wants_nothing_and_the_next_takes_back_what_it_left() {
    let before = armed_at_five_past_seven(Reach::WholeShift);
    let dropped = before.rings.iter().map(|it| Change::Dropped(*it));
    assert_eq!(
        before.freshness(&[], clock(7, 10)),
        Freshness::Stale(dropped.collect())
    );
    let other = Shift {
        id: id("another"),
        ..shift(vec![])
    };
    let after = armed(Some(&before), Reach::Next, &other, clock(7, 20));
    let (_, events) = read(&text(&after, Some(&before), clock(7, 20), &WORDS).unwrap());
    let seen: Vec<(&str, bool, u32)> = events
        .iter()
        .map(|event| (event.uid.as_str(), event.cancelled, event.sequence))
        .collect();
    assert_eq!(
        seen,
        [
            ("another-oiling-1", false, 1),
            ("entry-2-oiling-1", true, 1),
            ("entry-2-oiling-2", true, 1),
        ]
    );
}

#[test]
fn a_calendar_with_nothing_in_it_is_not_written() {
    let over = shift(vec![(clock(8, 0), Command::EndShift)]);
    let none = armed(None, Reach::WholeShift, &over, clock(8, 1));
    assert_eq!(text(&none, None, clock(8, 1), &WORDS), None);
    let before = armed_at_five_past_seven(Reach::WholeShift);
    let long_after = clock(20, 0);
    assert_eq!(text(&none, Some(&before), long_after, &WORDS), None);
}

#[test]
fn the_number_of_what_is_armed_rises_by_one_and_stays_at_its_end() {
    let whole = armed_at_five_past_seven(Reach::WholeShift);
    assert_eq!((whole.sequence, whole.next_sequence()), (0, 1));
    let last = Armed {
        sequence: u16::MAX,
        ..whole
    };
    assert_eq!(last.next_sequence(), u16::MAX);
}

#[test]
fn words_of_other_languages_and_pictures_come_back_whole_from_folded_lines() {
    for (summary, description) in [
        (
            "Öljyä terien istukat, hyvät ystävät: älä hätäile; kärki jäähtyköön ensin",
            "Pöytäniemen yötyömaa; käännä höylä ylämäkeen, jäähdytä terät.\nÄlä sytytä tulta öljyn äärellä!",
        ),
        (
            "Fassungen ölen; heiße Zähne zuerst abkühlen lassen, Lösöl bereithalten",
            "Überprüfe, ob sich alle Zähne drehen.\nGrößere Stücke: außen weiterfräsen \\ zurück",
        ),
        (
            "🛢️🦷🚜❄️🛢️🦷🚜❄️🛢️🦷🚜❄️🛢️🦷🚜❄️🛢️🦷🚜❄️🛢️🦷🚜❄️",
            "👷🏽‍♀️👷🏽‍♀️👷🏽‍♀️👷🏽‍♀️👷🏽‍♀️👷🏽‍♀️👷🏽‍♀️👷🏽‍♀️👷🏽‍♀️👷🏽‍♀️",
        ),
        // The example of RFC 5545, §3.3.11.
        (
            "Project XYZ Final Review",
            "Project XYZ Final Review\nConference Room - 3B\nCome Prepared.",
        ),
    ] {
        let words = CalendarWords {
            product: summary,
            summary,
            description,
        };
        let next = armed_at_five_past_seven(Reach::Next);
        let written = text(&next, None, clock(7, 5), &words).unwrap();
        check_lines(&written);
        let (product, events) = read(&written);
        assert_eq!(product, summary);
        assert_eq!(events[0].summary, summary);
        assert_eq!(events[0].description, description);
        assert_eq!(events[0].alarms, [summary]);
    }
    let example = "DESCRIPTION:Project XYZ Final Review\\nConference Room - 3B\\nCome Prepared.";
    let words = CalendarWords {
        description: "Project XYZ Final Review\nConference Room - 3B\nCome Prepared.",
        ..WORDS
    };
    let next = armed_at_five_past_seven(Reach::Next);
    let written = text(&next, None, clock(7, 5), &words).unwrap();
    assert!(written.contains(&format!("{example}\r\n")), "{written}");
}

#[test]
fn a_line_of_75_octets_is_whole_and_one_of_76_is_folded() {
    // SUMMARY and its colon are eight.
    for (letters, folded) in [(67, false), (68, true)] {
        let summary = "a".repeat(letters);
        let words = CalendarWords {
            summary: &summary,
            ..WORDS
        };
        let next = armed_at_five_past_seven(Reach::Next);
        let written = text(&next, None, clock(7, 5), &words).unwrap();
        let whole = format!("\r\nSUMMARY:{}\r\n", "a".repeat(letters));
        let two = format!("\r\nSUMMARY:{}\r\n a\r\n", "a".repeat(67));
        assert_eq!(
            (written.contains(&whole), written.contains(&two)),
            (!folded, folded)
        );
    }
}

#[test]
fn control_characters_are_left_out_and_tabs_and_line_feeds_are_kept() {
    let all: String = (0..=0x9f).filter_map(char::from_u32).collect();
    let words = CalendarWords {
        description: &all,
        ..WORDS
    };
    let next = armed_at_five_past_seven(Reach::Next);
    let written = text(&next, None, clock(7, 5), &words).unwrap();
    check_lines(&written);
    let printable: String = (' '..='~').collect();
    let (_, events) = read(&written);
    assert_eq!(events[0].description, format!("\t\n{printable}"));
}

/// Letters of any script, and many of those that mean something in a calendar.
fn words() -> impl Strategy<Value = String> {
    let letter = prop_oneof![
        2 => select("\\,;:\"\n\r\t nN=^äß🛢\u{200d}\u{feff}\u{2028}".chars().collect::<Vec<_>>()),
        2 => any::<char>(),
        1 => proptest::char::range(' ', '~'),
    ];
    vec(letter, 0..200).prop_map(String::from_iter)
}

/// A text without what may not stand in a calendar.
fn allowed(text: &str) -> String {
    let kept = |letter: &char| matches!(letter, '\n' | '\t') || !letter.is_control();
    text.chars().filter(kept).collect()
}

/// Any moment that four digits of a year can say, five minutes from its end.
fn sayable() -> impl Strategy<Value = Instant> {
    (-62_135_596_800_000_i64..=253_402_300_499_999).prop_map(Instant::from_unix_ms)
}

fn reach() -> impl Strategy<Value = Reach> {
    select(vec![Reach::Next, Reach::WholeShift])
}

/// What a phone does with its calendar, so many minutes after the start of the first of two shifts.
fn armings() -> impl Strategy<Value = Vec<(u64, Reach)>> {
    vec((0_u64..1300, reach()), 1..8).prop_map(|mut armings| {
        armings.sort_by_key(|(minutes, _)| *minutes);
        armings
    })
}

/// Two shifts, the second from ten hours after the start of the first on.
fn two_shifts(first: Vec<(u64, Command)>, second: Vec<(u64, Command)>) -> Vec<(Instant, Command)> {
    let mut asked = day_of(clock(7, 0), first);
    asked.push((clock(16, 0), Command::EndShift));
    asked.extend(day_of(clock(17, 0), second));
    asked
}

fn state_at(asked: &[(Instant, Command)], now: Instant) -> State {
    let so_far = asked.iter().filter(|(at, _)| *at <= now);
    read_back(&written(|_| 0, so_far.cloned().collect()))
}

/// What is wanted of a shift, by its name: its places and moments to the second.
fn wanted_events(shift: &Shift, standing: &Standing, reach: Reach) -> BTreeMap<String, Instant> {
    let rings = to_ring(standing, reach).into_iter();
    rings
        .map(|it| (format!("{}-oiling-{}", shift.id.as_str(), it.place), it.at))
        .collect()
}

/// A calendar that keeps to RFC 5545: of one UID the highest sequence holds.
#[derive(Default)]
struct Taken(BTreeMap<String, Read>);

impl Taken {
    fn take_in(&mut self, text: &str) {
        let (_, events) = read(text);
        let uids: BTreeSet<String> = events.iter().map(|event| event.uid.clone()).collect();
        assert_eq!(uids.len(), events.len(), "one event for each UID");
        for event in events {
            let known = self.0.get(&event.uid);
            assert!(known.is_none_or(|known| known.sequence < event.sequence));
            assert_eq!(event.alarms.is_empty(), event.cancelled);
            self.0.insert(event.uid.clone(), event);
        }
    }

    /// What will ring after a moment.
    fn ahead(&self, now: Instant) -> BTreeMap<String, DateTime<Utc>> {
        let events = self.0.values();
        let ringing = events.filter(|event| !event.cancelled && to_the_second(now) < event.start);
        ringing
            .map(|event| (event.uid.clone(), event.start))
            .collect()
    }
}

proptest! {
    #![proptest_config(tries(300))]

    #[test]
    fn any_words_and_any_moments_are_read_back_as_they_were_given(
        product in words(),
        summary in words(),
        description in words(),
        shift in "[0-9A-Za-z-]{1,64}",
        rings in vec((sayable(), 0_usize..1000), 1..6),
        stamp in sayable(),
        sequence: u16,
    ) {
        let words = CalendarWords { product: &product, summary: &summary, description: &description };
        let places: BTreeMap<usize, Instant> = rings.iter().map(|(at, place)| (*place, *at)).collect();
        let armed = Armed {
            shift: id(&shift),
            reach: Reach::WholeShift,
            rings: places.iter().map(|(place, at)| ring(*place, *at)).collect(),
            sequence,
        };
        let written = text(&armed, None, stamp, &words).unwrap();
        check_lines(&written);
        let (read_product, events) = read(&written);
        prop_assert_eq!(read_product, allowed(&product));
        let expected: Vec<Read> = places.iter().map(|(place, at)| Read {
            uid: format!("{shift}-oiling-{place}"),
            stamp: Some(to_the_second(stamp)),
            start: to_the_second(*at),
            end: to_the_second(*at) + chrono::TimeDelta::minutes(5),
            sequence: u32::from(sequence),
            cancelled: false,
            summary: allowed(&summary),
            description: allowed(&description),
            alarms: vec![allowed(&summary)],
        }).collect();
        prop_assert_eq!(events, expected);
    }

    #[test]
    fn no_moment_however_absurd_makes_an_event_that_cannot_be_read(
        at: i64,
        stamp: i64,
    ) {
        let armed = Armed {
            rings: vec![ring(0, Instant::from_unix_ms(at))],
            ..armed_at_five_past_seven(Reach::Next)
        };
        let written = text(&armed, None, Instant::from_unix_ms(stamp), &WORDS).unwrap();
        let (_, events) = read(&written);
        prop_assert!(events[0].stamp.is_some());
        prop_assert_eq!(events[0].end - events[0].start, chrono::TimeDelta::minutes(5));
    }

    #[test]
    fn a_calendar_that_takes_in_every_text_rings_what_is_wanted_and_nothing_else(
        first in taps(),
        second in taps(),
        armings in armings(),
    ) {
        let asked = two_shifts(first, second);
        let mut taken = Taken::default();
        let mut before: Option<Armed> = None;
        for (minutes, reach) in armings {
            let now = clock(7, 0).plus(Duration::from_mins(minutes));
            let state = state_at(&asked, now);
            let shift = state.shifts.last().unwrap();
            let standing = shift.standing(now);
            let next = Armed::after(before.as_ref(), shift.id.clone(), reach, &standing);
            if let Some(text) = text(&next, before.as_ref(), now, &WORDS) {
                taken.take_in(&text);
            }
            let wanted: BTreeMap<String, DateTime<Utc>> = wanted_events(shift, &standing, reach)
                .into_iter()
                .map(|(uid, at)| (uid, to_the_second(at)))
                .filter(|(_, at)| to_the_second(now) < *at)
                .collect();
            prop_assert_eq!(taken.ahead(now), wanted);
            prop_assert_eq!(next.freshness(&to_ring(&standing, reach), now), Freshness::Fresh);
            before = Some(next);
        }
    }

    #[test]
    fn what_is_said_to_be_fresh_rings_within_a_minute_of_every_due_time(
        taps in taps(),
        reach in reach(),
        armed_at in 0_u64..540,
        later in 0_u64..540,
    ) {
        let asked = day_of(clock(7, 0), taps);
        let at = |minutes| clock(7, 0).plus(Duration::from_mins(minutes));
        let shift_at = |now| state_at(&asked, now).shifts.last().cloned().unwrap();
        let (then, now) = (at(armed_at), at(armed_at + later));
        let armed = armed(None, reach, &shift_at(then), then);
        let wanted = to_ring(&shift_at(now).standing(now), reach);
        let mut rings: BTreeMap<usize, Instant> = armed.rings.iter().map(|it| (it.place, it.at)).collect();
        match armed.freshness(&wanted, now) {
            Freshness::Fresh => {}
            // Done to what was armed, the changes make it what is wanted.
            Freshness::Stale(changes) => for change in changes {
                match change {
                    Change::Later { ring, by } => {
                        prop_assert_eq!(rings.insert(ring.place, ring.at), Some(ring.at.minus(by)));
                    }
                    Change::Earlier { ring, by } => {
                        prop_assert_eq!(rings.insert(ring.place, ring.at), Some(ring.at.plus(by)));
                    }
                    Change::Dropped(ring) => {
                        prop_assert_eq!(rings.remove(&ring.place), Some(ring.at));
                        prop_assert!(now < ring.at);
                    }
                    Change::Added(ring) => {
                        prop_assert_eq!(rings.insert(ring.place, ring.at), None);
                    }
                }
            },
        }
        for ring in &wanted {
            let rung = rings.remove(&ring.place).unwrap();
            prop_assert!(rung.since(ring.at).max(ring.at.since(rung)) < SAME_RING_WITHIN);
        }
        // What is left has rung.
        prop_assert!(rings.values().all(|rung| *rung <= now));
    }
}
