//! The calendar of a shift: what the phone's own calendar is to ring, as an iCalendar text (RFC 5545), and whether what
//! was armed still holds.
//!
//! A phone's calendar rings while the phone is locked; no page can. Each due oiling is one event, known by its shift and
//! its place among the due times: a due time that moves takes its event along, and what was armed and is wanted no longer
//! is sent once more as cancelled.
//!
//! Never here: words for the operator and the present time (they are handed in), how the text reaches the calendar, and
//! what the calendar made of it.

use core::time::Duration;

use evenrow_rules::oiling::{Slot, Standing, Status};
use evenrow_rules::quantity::Instant;

use crate::event::Id;

/// A calendar rings by the minute: a due time that moves by less has not moved. House default.
pub const SAME_RING_WITHIN: Duration = Duration::from_mins(1);

/// How long an event lasts in the calendar, in seconds. House default: long enough to be seen, too short to hide another.
const LASTS: i64 = 300;

/// The most octets on a line, its break not counted (§3.1).
const LINE: usize = 75;

/// A due oiling that is to be rung.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Ring {
    /// Its place among the due times of its shift; the one at the start has 0. Due times that are past never move, so the
    /// place stays with the oiling.
    pub place: usize,
    /// When it falls due.
    pub at: Instant,
}

/// How much of a shift is to be rung.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Reach {
    /// The next due time ahead. Some calendars take in only the first event of a text.
    Next,
    /// Every due time ahead.
    WholeShift,
}

/// What of a shift is to be rung, as things stand: due times ahead, in order. What is due already rings no more.
pub fn to_ring(standing: &Standing, reach: Reach) -> Vec<Ring> {
    let ahead = |slot: &Slot| match slot.status {
        Status::Ahead => true,
        Status::Done { .. } | Status::Due | Status::Late(_) | Status::Missed => false,
    };
    let most = match reach {
        Reach::Next => 1,
        Reach::WholeShift => usize::MAX,
    };
    let slots = standing.slots.iter().enumerate();
    slots
        .filter(|(_, slot)| ahead(slot))
        .map(|(place, slot)| Ring {
            place,
            at: slot.due.at,
        })
        .take(most)
        .collect()
}

/// What is handed to the phone's calendar, and after that what is armed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Armed {
    /// Of which shift.
    pub shift: Id,
    /// How much of it.
    pub reach: Reach,
    /// What rings.
    pub rings: Vec<Ring>,
    /// One more than that of what was armed before, of whatever shift: the higher one counts (§3.8.7.4).
    pub sequence: u16,
}

/// What has become of a ring that was armed, or should be.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Change {
    /// It falls due later than was armed.
    Later {
        /// As it falls due now.
        ring: Ring,
        /// By how much.
        by: Duration,
    },
    /// It falls due earlier than was armed.
    Earlier {
        /// As it falls due now.
        ring: Ring,
        /// By how much.
        by: Duration,
    },
    /// It is wanted no longer, and would still ring.
    Dropped(Ring),
    /// It is wanted, and was not armed.
    Added(Ring),
}

/// Whether the calendar will ring what is wanted.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Freshness {
    /// It will.
    Fresh,
    /// It will not; what differs, first what was armed and then what was added.
    Stale(Vec<Change>),
}

impl Armed {
    /// What is to be armed after what was armed before.
    pub fn after(before: Option<&Armed>, shift: Id, reach: Reach, standing: &Standing) -> Armed {
        Armed {
            shift,
            reach,
            rings: to_ring(standing, reach),
            sequence: before.map_or(0, Armed::next_sequence),
        }
    }

    /// The sequence number of what is armed next.
    pub fn next_sequence(&self) -> u16 {
        self.sequence.saturating_add(1)
    }

    /// Whether this still holds at `now`, compared with what [`to_ring`] wants of the same shift at the same reach; of a
    /// shift that was struck nothing is wanted. What has rung and is wanted no more is in order.
    pub fn freshness(&self, wanted: &[Ring], now: Instant) -> Freshness {
        let kept = self.rings.iter().filter_map(|was| {
            let Some(&ring) = wanted.iter().find(|it| it.place == was.place) else {
                return (now < was.at).then_some(Change::Dropped(*was));
            };
            let (later, earlier) = (ring.at.since(was.at), was.at.since(ring.at));
            if SAME_RING_WITHIN <= later {
                Some(Change::Later { ring, by: later })
            } else if SAME_RING_WITHIN <= earlier {
                Some(Change::Earlier { ring, by: earlier })
            } else {
                None
            }
        });
        let added = wanted
            .iter()
            .filter(|it| !self.holds_place(it.place))
            .map(|it| Change::Added(*it));
        let changes: Vec<Change> = kept.chain(added).collect();
        if changes.is_empty() {
            Freshness::Fresh
        } else {
            Freshness::Stale(changes)
        }
    }

    fn holds_place(&self, place: usize) -> bool {
        self.rings.iter().any(|ring| ring.place == place)
    }
}

/// The words of a calendar, as the app has them. Any text will do.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct CalendarWords<'a> {
    /// What made the text (§3.7.3).
    pub product: &'a str,
    /// What is to be done, in a few words; the alarm shows it too.
    pub summary: &'a str,
    /// The same at more length.
    pub description: &'a str,
}

/// The text for the calendar: what is armed now, then, as cancelled, what was armed before, is wanted no longer and has
/// not rung at `stamp`, the present moment. None where that is nothing: a calendar without events is not allowed (§3.6).
///
/// Moments are told in UTC, cut to the second, and held to the years 1 to 9999, which is all that four digits can say
/// (§3.3.5). There is no METHOD: with one, a phone takes the text for an invitation (§3.7.2).
pub fn text(
    armed: &Armed,
    before: Option<&Armed>,
    stamp: Instant,
    words: &CalendarWords,
) -> Option<String> {
    let mut lines = Lines(String::new());
    lines.put("BEGIN:VCALENDAR");
    lines.put("VERSION:2.0");
    lines.put_text("PRODID", words.product);
    let mut empty = true;
    let mut event = |armed_with: &Armed, ring: &Ring, wanted: bool| {
        empty = false;
        let head = Head {
            shift: &armed_with.shift,
            sequence: armed.sequence,
            stamp,
        };
        lines.put_event(&head, ring, wanted, words);
    };
    for ring in &armed.rings {
        event(armed, ring, true);
    }
    if let Some(before) = before {
        let still = |ring: &&Ring| before.shift == armed.shift && armed.holds_place(ring.place);
        let rings = before.rings.iter().filter(|ring| stamp < ring.at);
        for ring in rings.filter(|ring| !still(ring)) {
            event(before, ring, false);
        }
    }
    lines.put("END:VCALENDAR");
    (!empty).then_some(lines.0)
}

/// What an event says besides its moment.
struct Head<'a> {
    shift: &'a Id,
    sequence: u16,
    stamp: Instant,
}

/// Content lines (§3.1): each ends in CR and LF, and none is longer than [`LINE`].
struct Lines(String);

impl Lines {
    /// One event (§3.6.1). It is transparent: oiling makes nobody busy (§3.8.2.7). Its alarm (§3.6.6) stands after all
    /// its properties, for some calendars read no further than that.
    fn put_event(&mut self, head: &Head, ring: &Ring, wanted: bool, words: &CalendarWords) {
        let start = seconds(ring.at);
        self.put("BEGIN:VEVENT");
        self.put(&format!(
            "UID:{}-oiling-{}",
            head.shift.as_str(),
            ring.place
        ));
        self.put(&format!("DTSTAMP:{}", utc(seconds(head.stamp))));
        self.put(&format!("DTSTART:{}", utc(start)));
        self.put(&format!("DTEND:{}", utc(start + LASTS)));
        self.put(&format!("SEQUENCE:{}", head.sequence));
        // Said of what is wanted too: it may have been cancelled before and come back.
        self.put(if wanted {
            "STATUS:CONFIRMED"
        } else {
            "STATUS:CANCELLED"
        });
        self.put_text("SUMMARY", words.summary);
        self.put_text("DESCRIPTION", words.description);
        self.put("TRANSP:TRANSPARENT");
        // A calendar that does not understand the cancelling must at least not ring for it.
        if wanted {
            self.put("BEGIN:VALARM");
            self.put("ACTION:DISPLAY");
            self.put("TRIGGER:PT0S");
            self.put_text("DESCRIPTION", words.summary);
            self.put("END:VALARM");
        }
        self.put("END:VEVENT");
    }

    /// A property whose value is a text (§3.3.11): backslash, comma, semicolon and line feed are escaped. Control
    /// characters other than the tab may not stand in it and are left out.
    fn put_text(&mut self, name: &str, text: &str) {
        let mut line = format!("{name}:");
        for letter in text.chars() {
            match letter {
                '\\' | ',' | ';' => line.extend(['\\', letter]),
                '\n' => line.push_str("\\n"),
                '\t' => line.push(letter),
                control if control.is_control() => {}
                plain => line.push(plain),
            }
        }
        self.put(&line);
    }

    /// One line, folded where it is too long (§3.1): a break and a space, which counts. Never within a character.
    fn put(&mut self, line: &str) {
        let mut octets = 0;
        for letter in line.chars() {
            if LINE < octets + letter.len_utf8() {
                self.0.push_str("\r\n ");
                octets = 1;
            }
            self.0.push(letter);
            octets += letter.len_utf8();
        }
        self.0.push_str("\r\n");
    }
}

/// The first second of the year 1 and the last of 9999, since 1970.
const YEARS_1_TO_9999: (i64, i64) = (-62_135_596_800, 253_402_300_799);

/// A moment in whole seconds since 1970, held to what can be written, with room for the end of an event.
pub(crate) fn seconds(at: Instant) -> i64 {
    let (first, last) = YEARS_1_TO_9999;
    at.unix_ms().div_euclid(1000).clamp(first, last - LASTS)
}

/// Seconds since 1970 as date and time in UTC, the second form of §3.3.5: 20260701T040000Z.
fn utc(seconds: i64) -> String {
    let (year, month, day) = date(seconds.div_euclid(86_400));
    let second = seconds.rem_euclid(86_400);
    let (hours, minutes, seconds) = (second / 3600, second / 60 % 60, second % 60);
    format!("{year:04}{month:02}{day:02}T{hours:02}{minutes:02}{seconds:02}Z")
}

/// Year, month and day of so many days after 1 January 1970, from the year 1 on. Years are counted from 1 March here, so
/// that the day that leap years add is the last: 146,097 days in 400 years, 36,524 in 100, 1461 in 4.
pub(crate) fn date(days: i64) -> (i64, i64, i64) {
    let since_march_0 = days + 719_468;
    let (four_centuries, day) = (since_march_0 / 146_097, since_march_0 % 146_097);
    let year = (day - day / 1460 + day / 36_524 - day / 146_096) / 365;
    let day = day - (365 * year + year / 4 - year / 100);
    // From March on the months have 31, 30, 31, 30, 31 days, over and over: 153 in five.
    let month = (5 * day + 2) / 153;
    let day = day - (153 * month + 2) / 5 + 1;
    let (year, month) = if month < 10 {
        (year, month + 3)
    } else {
        (year + 1, month - 9)
    };
    (year + 400 * four_centuries, month, day)
}

#[cfg(test)]
mod tests {
    use chrono::{DateTime, Datelike, NaiveDate};

    use super::*;

    #[test]
    fn every_day_of_the_years_1_to_9999_has_its_date() {
        let first = NaiveDate::from_ymd_opt(1, 1, 1).unwrap();
        let days = first.iter_days().take_while(|day| day.year() < 10_000);
        let (from, _) = YEARS_1_TO_9999;
        let mut count = from / 86_400;
        for day in days {
            let expected = (
                i64::from(day.year()),
                i64::from(day.month()),
                i64::from(day.day()),
            );
            assert_eq!(date(count), expected);
            count += 1;
        }
        assert_eq!(count * 86_400 - 1, YEARS_1_TO_9999.1);
    }

    #[test]
    fn every_second_of_a_day_has_its_time_before_1970_and_after() {
        for day in [-86_400, 1_782_864_000] {
            for second in 0..86_400 {
                let at = DateTime::from_timestamp(day + second, 0).unwrap();
                let digits = utc(day + second);
                let expected = at.naive_utc().to_string().replace(['-', ':'], "");
                assert_eq!(digits, format!("{}Z", expected.replace(' ', "T")));
            }
        }
    }

    #[test]
    fn a_moment_is_cut_to_its_second_and_held_to_what_four_digits_can_say() {
        let written = |ms| utc(seconds(Instant::from_unix_ms(ms)));
        assert_eq!(written(1_782_878_400_999), "20260701T040000Z");
        assert_eq!(written(-1), "19691231T235959Z");
        assert_eq!(written(i64::MIN), "00010101T000000Z");
        assert_eq!(written(i64::MAX), "99991231T235459Z");
        assert_eq!(
            utc(seconds(Instant::from_unix_ms(i64::MAX)) + LASTS),
            "99991231T235959Z"
        );
    }
}
