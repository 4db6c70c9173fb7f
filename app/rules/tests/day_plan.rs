//! The day's plan: the hours of its sections against the printed examples, when each is done against a clock that ticks
//! minute by minute, and the day's own pace.

mod table;

use std::collections::BTreeMap;
use std::time::Duration;

use evenrow_rules::day::{
    DayPace, LEAST_FOR_A_PACE, Section, SectionFigure, USUAL_MINUTES_OF_WORK, schedule,
};
use evenrow_rules::oiling::breaks;
use evenrow_rules::plan::{OIL_STOP, Stops, done_at};
use evenrow_rules::quantity::{Distance, Hours, Instant, Span};
use table::{Row, rows};

const WORK_TIMES: &str = include_str!("../../../tests/tables/work_times.csv");

/// A mile is 1.609344 km exactly.
const KM_PER_MILE: f64 = 1.609_344;

fn km(km: f64) -> Distance {
    Distance::kilometres(km).unwrap()
}

fn clock(minutes: i64) -> Instant {
    Instant::from_unix_ms(minutes * 60_000)
}

fn minutes(minutes: u32) -> Hours {
    Hours::new(f64::from(minutes) / 60.0).unwrap()
}

fn section_of(row: &Row) -> Section {
    let to_km = match row.text("unit") {
        "mile" => KM_PER_MILE,
        "km" => 1.0,
        other => panic!("nothing is known of {other:?}"),
    };
    let passes = row.text("passes").parse().unwrap();
    let minutes = (row.number("efficiency") * 60.0).round() as u8;
    let (length, speed) = (row.number("distance") * to_km, row.number("speed") * to_km);
    Section::new(length, None, (passes, 1), speed, minutes).unwrap()
}

/// Source: FM 5-434, chapter 4, value from memory; and a tutoring page: see the head of `work_times.csv`. Each operation
/// is planned as a section of its own; 0.60 and 0.75 of the hour are 36 and 45 minutes.
#[test]
fn the_printed_examples_planned_section_by_section_take_the_printed_hours() {
    let mut totals: BTreeMap<String, (f64, f64)> = BTreeMap::new();
    for row in rows(WORK_TIMES) {
        let hours = section_of(&row).hours().in_hours();
        assert!((hours - row.number("leg_hours")).abs() < 0.00005, "{row:?}");
        let total = totals.entry(row.text("example").to_owned()).or_default();
        *total = (total.0 + hours, row.number("total_hours"));
    }
    assert_eq!(totals.len(), 2);
    for (example, (got, printed)) in totals {
        assert!((got - printed).abs() < 0.0005, "{example}: {got}");
    }
}

#[test]
fn every_layer_takes_all_its_passes_again() {
    let one = Section::new(4.0, None, (3, 1), 8.0, USUAL_MINUTES_OF_WORK).unwrap();
    let two = Section::new(4.0, None, (3, 2), 8.0, USUAL_MINUTES_OF_WORK).unwrap();
    assert_eq!((one.hours(), two.hours()), (minutes(120), minutes(240)));
    assert_eq!((one.driven(), two.driven()), (km(12.0), km(24.0)));
}

#[test]
fn a_section_that_cannot_be_is_refused_with_the_figure_that_is_wrong() {
    let refused = |length, width, counts, speed, minutes| {
        let section = Section::new(length, width, counts, speed, minutes);
        section.unwrap_err().what
    };
    for length in [-1.0, 0.0, 0.009, 500.1, f64::NAN] {
        let what = refused(length, None, (1, 1), 8.0, 45);
        assert_eq!(what, SectionFigure::Length);
    }
    for width in [-1.0, 0.0, 299.0, 50_001.0, f64::NAN] {
        let what = refused(4.0, Some(width), (1, 1), 8.0, 45);
        assert_eq!(what, SectionFigure::Width);
    }
    for (counts, what) in [
        ((0, 1), SectionFigure::Passes),
        ((100, 1), SectionFigure::Passes),
        ((1, 0), SectionFigure::Layers),
        ((1, 100), SectionFigure::Layers),
    ] {
        assert_eq!(refused(4.0, None, counts, 8.0, 45), what);
    }
    for speed in [-8.0, 0.0, 0.09, 100.1, f64::NAN] {
        let what = refused(4.0, None, (1, 1), speed, 45);
        assert_eq!(what, SectionFigure::Speed);
    }
    for minutes in [0, 4, 61, 255] {
        let what = refused(4.0, None, (1, 1), 8.0, minutes);
        assert_eq!(what, SectionFigure::MinutesOfWork);
    }
    let most = Section::new(100.0, Some(50_000.0), (99, 99), 0.1, 5).unwrap();
    assert_eq!(most.driven(), km(980_100.0));
}

// When each is done.

const LUNCH: (i64, i64) = (660, 690);

/// An independent answer: a clock that ticks minute by minute. In a break nothing is done; a stop that has fallen due is
/// seen to first; else a minute of work is done.
fn ticked_off(sections: &[u32], from: i64, now: i64, stops: &[i64], lunch: (i64, i64)) -> Vec<i64> {
    let stop_minutes = OIL_STOP.as_secs() / 60;
    let (mut minute, mut waiting, mut standing) = (from, stops.to_vec(), 0);
    let mut ends = Vec::new();
    for (index, &section) in sections.iter().enumerate() {
        let mut left = section;
        while 0 < left || 0 < standing || (index == 0 && minute < now) {
            // Whoever is behind the plan works on until now; stops fall due in that time as well.
            if waiting.first().is_some_and(|&due| due <= minute) {
                waiting.remove(0);
                standing += stop_minutes;
            } else if (lunch.0..lunch.1).contains(&minute) {
                minute += 1;
            } else if 0 < standing {
                standing -= 1;
                minute += 1;
            } else {
                left = left.saturating_sub(1);
                minute += 1;
            }
        }
        ends.push(minute);
    }
    ends
}

#[test]
fn sections_end_when_a_clock_that_ticks_minute_by_minute_says_so() {
    let lunch = breaks(&[Span::new(clock(LUNCH.0), clock(LUNCH.1))], &[]);
    let stops = [[420, 580, 770], [420, 421, 422], [600, 665, 689]];
    for first in (1..400).step_by(7) {
        for second in [1, 30, 90, 241] {
            for due in &stops {
                let lengths = [first, second, 45];
                let when = schedule(
                    &lengths.map(minutes),
                    clock(420),
                    clock(420),
                    &due.map(clock),
                    &lunch,
                );
                let ends: Vec<i64> = when.iter().map(|it| it.end().unix_ms() / 60_000).collect();
                let expected = ticked_off(&lengths, 420, 420, due, LUNCH);
                assert_eq!(ends, expected, "{lengths:?} {due:?}");
                assert_eq!(when[0].start(), clock(420));
                assert!(when.windows(2).all(|two| two[0].end() == two[1].start()));
            }
        }
    }
}

/// The other road to the same end: `done_at` takes the stops by their number.
#[test]
fn the_last_section_ends_when_the_work_and_the_stops_before_it_do() {
    let noon = Span::new(clock(LUNCH.0), clock(LUNCH.1));
    let stops = [420, 580].map(clock);
    let when = schedule(
        &[minutes(100), minutes(200)],
        clock(420),
        clock(420),
        &stops,
        &breaks(&[noon], &[]),
    );
    let both = Stops {
        count: 2,
        each: OIL_STOP,
    };
    assert_eq!(
        when[1].end(),
        done_at(clock(420), minutes(300), both, &[noon])
    );
}

#[test]
fn a_section_that_takes_longer_than_planned_is_not_done_before_now_and_puts_off_the_next() {
    let when = schedule(
        &[minutes(60), minutes(30)],
        clock(420),
        clock(500),
        &[],
        &[],
    );
    assert_eq!(
        when,
        [
            Span::new(clock(420), clock(500)),
            Span::new(clock(500), clock(530))
        ]
    );
    assert_eq!(schedule(&[], clock(420), clock(500), &[], &[]), []);
}

// The day's own pace.

/// Source: house default.
#[test]
fn the_day_has_no_pace_of_its_own_before_half_an_hour_of_the_plan_is_done() {
    assert_eq!(LEAST_FOR_A_PACE, Duration::from_mins(30));
    assert_eq!(DayPace::of(minutes(29), Duration::from_hours(1)), None);
    let pace = DayPace::of(minutes(30), Duration::from_mins(45)).unwrap();
    assert!((pace.in_share() - 1.5).abs() < 1e-12);
}

#[test]
fn the_rest_takes_as_much_longer_as_what_was_done() {
    for (planned, worked, rest, takes) in [(120, 150, 240, 300), (60, 45, 100, 75), (90, 90, 7, 7)]
    {
        let pace = DayPace::of(minutes(planned), Duration::from_mins(worked)).unwrap();
        let got = pace.takes(minutes(rest)).in_hours();
        assert!((got - f64::from(takes) / 60.0).abs() < 1e-12, "{planned}");
    }
}

#[test]
fn a_section_ticked_by_mistake_upsets_nothing() {
    for (worked, share) in [(0, 0.25), (1, 0.25), (100_000, 4.0)] {
        let pace = DayPace::of(minutes(240), Duration::from_mins(worked)).unwrap();
        assert!((pace.in_share() - share).abs() < 1e-12, "{worked}");
    }
}
