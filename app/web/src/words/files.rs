//! Files: what is wrong with one, what it would bring, how much space things take.

use evenrow_journal::backup::{Condition, Found, LARGEST_FILE, NoBackup, Preview};
use evenrow_rules::quantity::Instant;

use super::Words;
use super::numbers::decimal;
use super::times::{self, Zone};

/// How many days and lines are named before the rest is counted.
const NAMED: usize = 5;

impl Words {
    /// Why nothing can be taken from a file.
    pub fn no_backup(&self, why: NoBackup) -> String {
        match why {
            NoBackup::Empty => self.file_empty(),
            NoBackup::TooLarge(got) => {
                self.file_too_large(&self.size(got as f64), &self.size(LARGEST_FILE as f64))
            }
            NoBackup::OtherEncoding => self.file_other_encoding(),
            NoBackup::Foreign => self.file_foreign(),
            NoBackup::NewerFormat => self.file_newer(),
        }
    }

    /// How a file came through.
    pub fn condition(&self, condition: &Condition, zone: &Zone) -> String {
        let day = |made: Instant| times::date(made, zone(made));
        match condition {
            Condition::Whole(header) => self.file_whole(&day(header.made)),
            Condition::CutShort(header) => self.file_cut_short(&day(header.made)),
            Condition::Changed(header) => self.file_changed(&day(header.made)),
            Condition::List => self.file_list(),
        }
    }

    /// What taking in a file would bring, line by line.
    pub fn preview(&self, found: &Found, preview: &Preview) -> Vec<String> {
        let mut lines = Vec::new();
        let mut say = |count: usize, text: &dyn Fn(&str) -> String| {
            if 0 < count {
                lines.push(text(&count.to_string()));
            }
        };
        if preview.new.is_empty() {
            say(preview.known, &|it| self.preview_nothing_new(it));
        } else {
            say(preview.new.len(), &|it| self.preview_new(it));
            say(preview.known, &|it| self.preview_known(it));
        }
        say(preview.shifts.len(), &|it| self.preview_shifts(it));
        say(preview.sets, &|it| self.preview_sets(it));
        say(preview.in_conflict, &|it| self.preview_in_conflict(it));
        say(preview.unreadable, &|it| self.preview_unreadable(it));
        say(found.newer, &|it| self.preview_newer(it));
        if preview.known + preview.new.len() + found.newer == 0 {
            lines.push(self.file_no_records());
        }
        let date = |&(at, offset): &(Instant, i16)| times::date(at, offset);
        if let Some([first, last]) = &preview.days {
            lines.push(self.preview_days(&date(first), &date(last)));
        }
        let mut days: Vec<String> = preview.shifts.iter().map(date).collect();
        days.dedup();
        if !days.is_empty() {
            lines.push(self.preview_shift_days(&self.some_of(&days)));
        }
        if !preview.machines.is_empty() {
            lines.push(self.preview_machines(&self.some_of(&preview.machines)));
        }
        if !found.damaged.is_empty() {
            let damaged: Vec<String> = found.damaged.iter().map(usize::to_string).collect();
            lines.push(self.preview_damaged(&self.some_of(&damaged)));
        }
        lines
    }

    fn some_of(&self, all: &[String]) -> String {
        let more = all.len().saturating_sub(NAMED);
        let named = all.get(..NAMED).unwrap_or(all).join(", ");
        if more == 0 {
            named
        } else {
            self.preview_and_more(&named, &more.to_string())
        }
    }

    /// A number of bytes.
    pub fn size(&self, bytes: f64) -> String {
        const KB: f64 = 1000.0;
        if bytes < KB * KB {
            self.bytes_kb(&decimal((bytes / KB).ceil(), 0))
        } else {
            self.bytes_mb(&decimal(bytes / (KB * KB), 1))
        }
    }
}

#[cfg(test)]
mod tests {
    use evenrow_journal::{Journal, backup};

    use crate::words::english;

    fn lines(file: &str) -> Vec<String> {
        let found = backup::read(file.as_bytes().to_vec()).unwrap();
        let preview = backup::preview(&found.records, &Journal::default());
        english().preview(&found, &preview)
    }

    #[test]
    fn what_a_season_would_bring_is_told_line_by_line() {
        let season = include_str!("../../../../tests/journals/season.jsonl");
        assert_eq!(
            lines(season),
            [
                "New records: 349",
                "Shifts: 30",
                "Sets of teeth: 2",
                "Recorded from 2026-06-15 to 2026-07-24",
                "Days of the shifts: 2026-06-15, 2026-06-16, 2026-06-17, 2026-06-18, 2026-06-19 and 25 more",
                "Machines: Pine Ridge 2",
            ]
        );
    }

    #[test]
    fn damaged_lines_and_newer_records_are_told() {
        let mail = include_str!("../../../../tests/journals/bad/list-in-a-mail.txt");
        assert!(lines(mail).contains(&"Damaged and left out, by line: 1, 9, 10".to_owned()));
        let newer = include_str!("../../../../tests/journals/bad/whole-newer-records.txt");
        assert!(
            lines(newer)
                .iter()
                .any(|it| it.starts_with("Written by a newer version and left out: 1."))
        );
        let none = include_str!("../../../../tests/journals/bad/header-only.txt");
        assert_eq!(lines(none), ["There are no records in it."]);
    }

    #[test]
    fn a_size_is_told_in_kilobytes_or_megabytes_and_never_as_nothing() {
        let said = [1.0, 999.0, 84_001.0, 1_250_000.0].map(|bytes| english().size(bytes));
        assert_eq!(said, ["1 kB", "1 kB", "85 kB", "1.3 MB"]);
    }
}
