//! Times of day, dates and lengths of time as they are shown.
//!
//! A moment is shown in the zone that it is handed with; the moment itself never moves. Days are told as the language
//! tells them, times of day with twenty-four hours in every language. Never here: the present time.

use core::time::Duration;

use chrono::{DateTime, Datelike, FixedOffset, Timelike};
use evenrow_journal::event::TimeOfDay;
use evenrow_rules::quantity::Instant;

use super::Words;
use crate::device::{clock as phone, language};

/// A moment on the calendar of a zone; none for moments beyond the calendar, some 260,000 years away.
fn local(at: Instant, offset_minutes: i16) -> Option<DateTime<FixedOffset>> {
    let zone = FixedOffset::east_opt(i32::from(offset_minutes) * 60)?;
    Some(DateTime::from_timestamp_millis(at.unix_ms())?.with_timezone(&zone))
}

/// The time of day of a moment: 07:05.
pub fn clock(at: Instant, offset_minutes: i16) -> String {
    local(at, offset_minutes).map_or_else(String::new, |it| {
        format!("{:02}:{:02}", it.hour(), it.minute())
    })
}

/// The time of day of a moment in the phone's present zone.
pub fn here(at: Instant) -> String {
    clock(at, phone::offset_minutes(at))
}

/// What a zone is ahead of UTC at a moment, in minutes.
pub type Zone<'a> = dyn Fn(Instant) -> i16 + 'a;

/// The zone of a shift. Where the phone's zone is the one in which it was started, that is the phone's with its changes to
/// summer time and back; elsewhere only what was recorded at its start is known.
pub fn zone_of(started: Instant, offset_minutes: i16) -> impl Fn(Instant) -> i16 + Copy {
    let is_ours = phone::offset_minutes(started) == offset_minutes;
    move |at| {
        if is_ours {
            phone::offset_minutes(at)
        } else {
            offset_minutes
        }
    }
}

/// The date of a moment as the language tells it: 1.7.2026. English has it as ISO 8601 writes it, the one form that all
/// who speak it read alike.
pub fn date(at: Instant, offset_minutes: i16) -> String {
    let ahead = i64::from(offset_minutes) * 60_000;
    let there = at.unix_ms().saturating_add(ahead);
    language::date(there).unwrap_or_else(|| iso_date(at, offset_minutes))
}

/// The date of a moment as ISO 8601 writes it, for machines and names of files: 2026-07-01.
pub fn iso_date(at: Instant, offset_minutes: i16) -> String {
    local(at, offset_minutes).map_or_else(String::new, |it| {
        format!("{:04}-{:02}-{:02}", it.year(), it.month(), it.day())
    })
}

/// The day of a moment, in days since 1 January 1970.
pub fn day(at: Instant, offset_minutes: i16) -> i64 {
    local(at, offset_minutes).map_or(0, |it| {
        i64::from(it.date_naive().num_days_from_ce()) - DAYS_BEFORE_1970
    })
}

/// The first day of the month of a day.
pub fn first_of_month(day: i64) -> i64 {
    local(noon(day), 0).map_or(day, |it| day - i64::from(it.day()) + 1)
}

/// The Monday of the week of a day. The first of January 1970 was a Thursday.
pub fn monday(day: i64) -> i64 {
    day - (day + 3).rem_euclid(7)
}

/// The date of a day.
pub fn date_of(day: i64) -> String {
    date(noon(day), 0)
}

/// When a day begins on this phone.
pub fn midnight(day: i64) -> Instant {
    let there = Instant::from_unix_ms(day.saturating_mul(DAY_MS));
    let ahead = i64::from(phone::offset_minutes(there)) * 60_000;
    Instant::from_unix_ms(there.unix_ms().saturating_sub(ahead))
}

fn noon(day: i64) -> Instant {
    Instant::from_unix_ms(day.saturating_mul(DAY_MS).saturating_add(DAY_MS / 2))
}

/// Milliseconds in a day.
const DAY_MS: i64 = 86_400_000;

/// From the first day of the common era to 1 January 1970.
const DAYS_BEFORE_1970: i64 = 719_163;

/// The minutes after midnight of a moment.
pub fn time_of_day(at: Instant, offset_minutes: i16) -> TimeOfDay {
    let minutes = local(at, offset_minutes).map_or(0, |it| it.hour() * 60 + it.minute());
    // 24 hours are 1440 minutes.
    TimeOfDay::from_minutes(minutes as u16)
}

/// A time of day as a time field holds it: 07:05.
pub fn time_field(time: TimeOfDay) -> String {
    format!("{:02}:{:02}", time.minutes() / 60, time.minutes() % 60)
}

/// A time of day as typed: 7:05, 07.05, 0705, 705 or 7. Anything else is none.
pub fn parse_time(typed: &str) -> Option<TimeOfDay> {
    let typed = typed.trim();
    let (hours, minutes) = match typed.split_once([':', '.', ' ']) {
        Some(parts) => parts,
        None if typed.len() < 3 => (typed, "0"),
        None => typed.split_at_checked(typed.len() - 2)?,
    };
    let number = |text: &str| {
        let plain = (1..=2).contains(&text.len()) && text.bytes().all(|byte| byte.is_ascii_digit());
        if plain {
            text.parse::<u16>().ok()
        } else {
            None
        }
    };
    let (hours, minutes) = (number(hours)?, number(minutes)?);
    (hours < 24 && minutes < 60).then(|| TimeOfDay::from_minutes(hours * 60 + minutes))
}

/// A countdown in hours and minutes: 0:42. The last minute counts as one until it is over.
pub fn countdown(left: Duration) -> String {
    let minutes = left.as_secs().div_ceil(60);
    format!("{}:{:02}", minutes / 60, minutes % 60)
}

impl Words {
    /// A length of time in words: 20 min, 2 h 40 min. Parts of a minute are dropped.
    pub fn duration(&self, length: Duration) -> String {
        let minutes = length.as_secs() / 60;
        let (hours, rest) = ((minutes / 60).to_string(), (minutes % 60).to_string());
        match (minutes / 60, minutes % 60) {
            (0, _) => self.minutes(&rest),
            (_, 0) => self.hours(&hours),
            (_, _) => self.hours_minutes(&hours, &rest),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::words::english;

    #[test]
    fn a_moment_is_shown_in_the_zone_it_is_handed_with() {
        let at = Instant::from_unix_ms(1_782_878_400_000); // 2026-07-01T04:00:00Z
        assert_eq!(
            (clock(at, 180).as_str(), date(at, 180).as_str()),
            ("07:00", "2026-07-01")
        );
        assert_eq!(
            (clock(at, -300).as_str(), date(at, -300).as_str()),
            ("23:00", "2026-06-30")
        );
    }

    #[test]
    fn every_minute_of_the_day_survives_the_time_field() {
        for minutes in 0..1440 {
            let time = TimeOfDay::from_minutes(minutes);
            assert_eq!(parse_time(&time_field(time)), Some(time));
        }
    }

    #[test]
    fn a_time_is_read_as_people_type_it_and_nonsense_is_not() {
        for typed in ["7:05", "07.05", "0705", "705", " 7 05 "] {
            assert_eq!(
                parse_time(typed),
                Some(TimeOfDay::from_minutes(425)),
                "{typed}"
            );
        }
        assert_eq!(parse_time("7"), Some(TimeOfDay::from_minutes(420)));
        for bad in [
            "", "24:00", "07:60", "ab:cd", "seven", "70555", "7:5:5", "é", "+7:05", "7:",
        ] {
            assert_eq!(parse_time(bad), None, "{bad}");
        }
    }

    #[test]
    fn a_countdown_shows_a_minute_until_it_is_over() {
        assert_eq!(countdown(Duration::from_secs(1)), "0:01");
        assert_eq!(countdown(Duration::from_mins(42)), "0:42");
        assert_eq!(countdown(Duration::from_mins(160)), "2:40");
    }

    #[test]
    fn lengths_of_time_name_only_the_parts_they_have() {
        let words = english();
        let said = [20, 60, 160].map(|minutes| words.duration(Duration::from_mins(minutes)));
        assert_eq!(said, ["20 min", "1 h", "2 h 40 min"]);
    }

    /// Source: the calendar. 24 July 2026 is a Friday; from 1 January 1970 to it are 56 years with 14 leap days, and 204
    /// days.
    #[test]
    fn days_weeks_and_months_are_those_of_the_calendar() {
        let friday = 56 * 365 + 14 + 204;
        let at = Instant::from_unix_ms(1_784_851_200_000);
        assert_eq!(day(at, 0), friday);
        assert_eq!(day(at, -1), friday - 1);
        assert_eq!(date_of(friday), "2026-07-24");
        assert_eq!(date_of(monday(friday)), "2026-07-20");
        assert_eq!(monday(friday - 4), friday - 4);
        assert_eq!(monday(friday - 5), friday - 11);
        assert_eq!(date_of(first_of_month(friday)), "2026-07-01");
        assert_eq!(first_of_month(friday - 23), friday - 23);
        assert_eq!(date_of(monday(-1)), "1969-12-29");
    }
}
