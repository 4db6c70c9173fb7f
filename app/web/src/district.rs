//! The invented district, brought to today: its season ended yesterday, and its morning is this hour.
//!
//! The records are told in `app/journal/tests/season.rs`, and the build joins them to one file: the season, an empty line,
//! the morning after it. Never here: who sees them (`device::invented`), and any record of this phone.

use evenrow_rules::quantity::Instant;

/// Where the build puts the file.
pub const FILE: &str = "district.txt";

/// What the zone of the file is ahead of UTC, as its records say it: before the name of the device, and nowhere else.
const ZONE: &str = ",-360,\"";

/// The midnight after the last day of the season.
const SEASON_ENDS_MS: i64 = 1_784_959_200_000;

/// The moment of the morning from which it is shown, at the latest a quarter of an hour on. The next oiling lies a few
/// minutes after that.
const MORNING_MS: i64 = 1_785_165_720_000;

const DAY_MS: i64 = 86_400_000;

const QUARTER_MS: i64 = 900_000;

/// The records as if the season had ended on the day before `now`, and the morning were `now`, in a zone so far ahead of
/// UTC.
pub fn records(file: &str, now: Instant, offset_minutes: i16) -> Vec<String> {
    let now = now.unix_ms();
    let ahead = i64::from(offset_minutes) * 60_000;
    let midnight = now + ahead - (now + ahead).rem_euclid(DAY_MS) - ahead;
    // By whole quarters, so that a shift starts at a time that somebody would set.
    let by = now - MORNING_MS;
    let by = by - by.rem_euclid(QUARTER_MS);
    let zone = format!(",{offset_minutes},\"");
    let (season, morning) = file.split_once("\n\n").unwrap_or_default();
    let season = season.lines().map(|line| (line, midnight - SEASON_ENDS_MS));
    let all = season.chain(morning.lines().map(|line| (line, by)));
    all.map(|(line, by)| moved(line, by).replace(ZONE, &zone))
        .collect()
}

/// A record with all its moments moved. In the file a moment is a number of thirteen digits, and nothing else is.
fn moved(line: &str, by_ms: i64) -> String {
    let mut moved = String::with_capacity(line.len());
    let mut rest = line;
    while let Some(start) = rest.find(|it: char| it.is_ascii_digit()) {
        let (before, from) = rest.split_at(start);
        let end = from.find(|it: char| !it.is_ascii_digit());
        let (digits, after) = from.split_at(end.unwrap_or(from.len()));
        moved.push_str(before);
        match digits.parse::<i64>() {
            Ok(moment) if digits.len() == 13 => moved.push_str(&(moment + by_ms).to_string()),
            Ok(_) | Err(_) => moved.push_str(digits),
        }
        rest = after;
    }
    moved.push_str(rest);
    moved
}

#[cfg(test)]
mod tests {
    use core::time::Duration;

    use evenrow_journal::{Journal, State, wire};

    use super::*;

    const SEASON: &str = include_str!("../../../tests/journals/season.jsonl");
    const MORNING: &str = include_str!("../../../tests/journals/morning.jsonl");

    fn at(now: i64, offset_minutes: i16) -> State {
        let file = format!("{SEASON}\n{MORNING}");
        let mut journal = Journal::default();
        for record in records(&file, Instant::from_unix_ms(now), offset_minutes) {
            assert!(wire::read(&record).is_ok(), "{record}");
            journal.take(&record);
        }
        State::fold(&journal)
    }

    #[test]
    fn whenever_somebody_looks_a_shift_runs_and_an_oiling_is_due_within_minutes() {
        let midnight = 1_800_000_000_000 - 1_800_000_000_000 % DAY_MS;
        for minute in (0..1440).step_by(7) {
            for zone in [-600, -360, 0, 120, 345, 765] {
                let now = midnight + minute * 60_000;
                let state = at(now, zone);
                let now = Instant::from_unix_ms(now);
                let running = state.running().unwrap();
                assert!(running.plan.start < now && now < running.plan.end);
                let next = running.standing(now).next().unwrap().due.at;
                let soon = Duration::from_mins(2)..=Duration::from_mins(18);
                assert!(soon.contains(&next.since(now)), "{minute}: {next:?}");
            }
        }
    }

    #[test]
    fn the_season_ended_yesterday_at_half_past_three_on_this_phones_clock() {
        for (zone, now) in [(-360, 1_800_000_000_000), (765, 1_800_012_345_678)] {
            let state = at(now, zone);
            let last = &state.shifts[state.shifts.len() - 2];
            let local = last.ended.unwrap().unix_ms() + i64::from(zone) * 60_000;
            assert_eq!(local.rem_euclid(DAY_MS), (15 * 60 + 30) * 60_000);
            let today = (now + i64::from(zone) * 60_000).div_euclid(DAY_MS);
            assert_eq!(local.div_euclid(DAY_MS), today - 1);
            assert_eq!(last.offset_minutes, zone);
        }
    }

    #[test]
    fn what_is_no_moment_is_not_moved() {
        for line in SEASON.lines().chain(MORNING.lines()) {
            let mut here = wire::read(line).unwrap();
            let there = wire::read(&moved(line, QUARTER_MS)).unwrap();
            here.at = there.at;
            assert_eq!((here.id, here.count), (there.id, there.count));
            assert_eq!(moved(&moved(line, QUARTER_MS), -QUARTER_MS), line);
        }
        assert_eq!(
            moved("1785 178516572000 17851657200001", 1),
            "1785 178516572000 17851657200001"
        );
    }

    #[test]
    fn a_file_that_is_no_district_holds_no_record() {
        assert!(records("<!doctype html>", Instant::from_unix_ms(0), 0).is_empty());
    }
}
