//! Moments as RFC 3339 writes them, and days as ISO 8601 does; chrono knows the calendar.

use chrono::{DateTime, Datelike, FixedOffset, NaiveDate, SecondsFormat};
use evenrow_rules::quantity::{Instant, Span};

use crate::trouble::Trouble;

/// A moment with the way in which it was written.
#[derive(Clone, Copy)]
pub(crate) struct Moment {
    pub(crate) at: Instant,
    offset: FixedOffset,
    in_utc: bool,
}

impl Moment {
    /// Reads one.
    pub(crate) fn read(name: &str, text: &str) -> Result<Moment, Trouble> {
        let read = DateTime::parse_from_rfc3339(text).map_err(|error| {
            Trouble::of(format!(
                "{name} is \"{text}\", which is no moment ({error}); write it as RFC 3339 does, such as 2026-07-01T07:00:00+03:00."
            ))
        })?;
        Ok(Moment {
            at: Instant::from_unix_ms(read.timestamp_millis()),
            offset: *read.offset(),
            in_utc: text.ends_with(['Z', 'z']),
        })
    }

    /// Writes another moment the same way.
    pub(crate) fn write(self, at: Instant) -> Option<String> {
        let at = DateTime::from_timestamp_millis(at.unix_ms())?.with_timezone(&self.offset);
        Some(at.to_rfc3339_opts(SecondsFormat::AutoSi, self.in_utc))
    }
}

/// A span from two moments that stand in order.
pub(crate) fn span(name: &str, start: &str, end: &str) -> Result<Span, Trouble> {
    let (from, to) = (Moment::read(name, start)?, Moment::read(name, end)?);
    if to.at <= from.at {
        return Err(Trouble::of(format!(
            "{name} ends at {end}, which is not after its start at {start}; the end has to come later."
        )));
    }
    Ok(Span::new(from.at, to.at))
}

/// A day, as a count of days.
pub(crate) fn day(name: &str, text: &str) -> Result<i64, Trouble> {
    NaiveDate::parse_from_str(text, "%Y-%m-%d")
        .map(|day| i64::from(day.num_days_from_ce()))
        .map_err(|error| {
            Trouble::of(format!(
                "{name} is \"{text}\", which is no day ({error}); write it as ISO 8601 does, such as 2026-07-01."
            ))
        })
}

/// A count of days as a day; none beyond the calendar's ends.
pub(crate) fn date(day: i64) -> Option<String> {
    let day = NaiveDate::from_num_days_from_ce_opt(i32::try_from(day).ok()?)?;
    Some(day.format("%Y-%m-%d").to_string())
}
