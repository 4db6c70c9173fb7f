//! A backup: all records in one file of JSON Lines, and what such a file would bring, told before anything is taken in.
//!
//! The first line says what the file is, when it was made, how many records follow and their checksum; then comes one
//! record a line, byte for byte, in the order of [`Journal::records`]. The format is written down in
//! `tests/journals/README.md`. A plain list of records without a first line is read as well.
//!
//! What a file brings of a newer version is left out and counted: a phone that had it in its store would only read from
//! then on, and no file of somebody else's may bring it to that. The file stays what it is, and can be taken in again
//! once the app is newer. Never here: where a file comes from, and how records are kept.

use core::time::Duration;
use std::collections::BTreeSet;

use evenrow_rules::quantity::Instant;

use crate::event::{Entry, Event, Id};
use crate::journal::Journal;
use crate::wire::backup::{FirstLine, line_of, read_header, record_on, write_header};
use crate::wire::{self, Unreadable};

pub use crate::wire::backup::Header;

/// The largest file that is read, in bytes. A shift leaves some 3 kB, so this is a hundred years of one machine; a phone
/// has to hold it in memory several times over.
///
/// Basis: house default.
pub const LARGEST_FILE: u64 = 64 * 1024 * 1024;

/// The longest record that is taken from a file, in bytes. The longest note is 2000 characters, of at most 12 bytes each
/// as JSON writes them.
///
/// Basis: house default.
pub const LONGEST_RECORD: usize = 64 * 1024;

/// After how long without a backup, with records that none holds, the app says so.
///
/// Basis: house default.
pub const REMIND_AFTER: Duration = Duration::from_hours(7 * 24);

/// Records as lines, without a first line that says what they are.
pub fn list<'a>(records: impl Iterator<Item = &'a str>) -> String {
    let mut lines = String::new();
    for record in records {
        lines.push_str(&line_of(record));
        lines.push('\n');
    }
    lines
}

/// A backup of records.
pub fn write<'a>(records: impl Iterator<Item = &'a str>, made: Instant, app: &str) -> String {
    let body = list(records);
    let header = Header {
        made,
        app: app.to_owned(),
        records: body.bytes().filter(|byte| *byte == b'\n').count() as u64,
        checksum: Checksum::of(body.as_bytes()).value(),
    };
    let mut file = write_header(&header);
    file.push('\n');
    file.push_str(&body);
    file
}

/// Whether a text begins as a backup or a record does: with an object, or with a list and its version. What a person
/// writes may begin with a bracket as well.
pub fn begins_as_one(text: &str) -> bool {
    let list = text.strip_prefix('[');
    text.starts_with('{') || list.is_some_and(|it| it.starts_with(|it: char| it.is_ascii_digit()))
}

/// Under which name a record is kept: the id of its entry; one that cannot be read is named by its checksum.
pub fn name_of(record: &str) -> String {
    wire::read(record).map_or_else(
        |_| {
            let checksum = Checksum::of(record.as_bytes()).value();
            format!("unread-{checksum:08x}")
        },
        |entry| entry.id.as_str().to_owned(),
    )
}

/// Whether there has been no backup for long, and records have come that none holds: `last` is when the last one was
/// made, `first` when the first record was made.
pub fn is_overdue(last: Option<Instant>, first: Instant, since: usize, now: Instant) -> bool {
    0 < since && REMIND_AFTER <= now.since(last.unwrap_or(first))
}

/// Why nothing can be taken from a file.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NoBackup {
    /// There is nothing in it.
    Empty,
    /// It is larger than [`LARGEST_FILE`]; so many bytes.
    TooLarge(u64),
    /// It is text, but in another encoding than UTF-8.
    OtherEncoding,
    /// It was not made by this app.
    Foreign,
    /// It was made by a newer version of the app, in a way that this one does not know.
    NewerFormat,
}

/// How a file came through.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Condition {
    /// A backup, just as it was made.
    Whole(Header),
    /// A backup that ends too soon: fewer records than its first line says.
    CutShort(Header),
    /// A backup in which something is not as it was made.
    Changed(Header),
    /// Records without a first line, so that nobody can tell whether it is all.
    List,
}

/// What stands in a file.
#[derive(Clone, Debug, PartialEq)]
pub struct Found {
    /// How it came through.
    pub condition: Condition,
    /// What could be taken in.
    pub records: Journal,
    /// The lines that cannot be read and are left out, the first line of the file being 1.
    pub damaged: Vec<usize>,
    /// How many records of a newer version are left out.
    pub newer: usize,
}

/// A file that is being read, in as many steps as one likes.
#[derive(Clone, Debug)]
pub struct Reading {
    bytes: Vec<u8>,
    at: usize,
    line: usize,
    header: Option<Header>,
    lines: u64,
    checksum: Checksum,
    records: Journal,
    /// Lines that cannot be read, with their text where it is one.
    unreadable: Vec<(usize, Option<String>)>,
    newer: usize,
}

impl Reading {
    /// Begins with a file.
    pub fn begin(bytes: Vec<u8>) -> Result<Reading, NoBackup> {
        let size = bytes.len() as u64;
        if LARGEST_FILE < size {
            return Err(NoBackup::TooLarge(size));
        }
        // Some programs put a mark before a text.
        let at = if bytes.starts_with(UTF_8_MARK) {
            UTF_8_MARK.len()
        } else {
            0
        };
        if bytes.iter().skip(at).all(u8::is_ascii_whitespace) {
            return Err(NoBackup::Empty);
        }
        Ok(Reading {
            bytes,
            at,
            line: 0,
            header: None,
            lines: 0,
            checksum: Checksum::of(&[]),
            records: Journal::default(),
            unreadable: Vec::new(),
            newer: 0,
        })
    }

    /// Reads so many lines more, and says whether there are any left.
    pub fn step(&mut self, lines: usize) -> Result<bool, NoBackup> {
        for _ in 0..lines {
            let rest = self.bytes.get(self.at..).unwrap_or_default();
            if rest.is_empty() {
                return Ok(false);
            }
            let length = rest.iter().position(|byte| *byte == b'\n');
            let line = rest.get(..length.unwrap_or(rest.len())).unwrap_or(rest);
            self.at += line.len() + 1;
            self.line += 1;
            // Mail programs end lines in their own way.
            let line = line.strip_suffix(b"\r").unwrap_or(line);
            let text = str::from_utf8(line);
            if text.is_ok_and(|it| it.trim().is_empty()) {
                continue;
            }
            if self.lines == 0 && self.header.is_none() {
                match text.map_or(FirstLine::Other, read_header) {
                    FirstLine::Header(header) => {
                        self.header = Some(header);
                        continue;
                    }
                    FirstLine::Newer => return Err(NoBackup::NewerFormat),
                    FirstLine::Other => {}
                }
            }
            self.lines += 1;
            self.checksum.add(line);
            self.checksum.add(b"\n");
            let record = text.ok().map(record_on);
            let record = record.filter(|it| it.len() <= LONGEST_RECORD);
            match record
                .as_deref()
                .map_or(Err(Unreadable::Damaged), wire::read)
            {
                Ok(_) => {
                    self.records.take(record.as_deref().unwrap_or_default());
                }
                Err(Unreadable::Newer) => self.newer += 1,
                Err(Unreadable::Damaged) => self.unreadable.push((self.line, record)),
            }
        }
        Ok(self.at < self.bytes.len())
    }

    /// How much of it has been read, in per cent.
    pub fn per_cent(&self) -> usize {
        self.at.min(self.bytes.len()) * 100 / self.bytes.len().max(1)
    }

    /// What stands in it, once all of it has been read.
    pub fn finish(self) -> Result<Found, NoBackup> {
        let readable = self.records.records().next().is_some() || 0 < self.newer;
        if !readable && self.header.is_none() {
            let marked = UTF_16_MARKS.iter().any(|it| self.bytes.starts_with(it));
            // UTF-16 writes every other byte of such a text as nought; a picture has some as well, and no line of ours.
            let noughts = self.bytes.split(|byte| *byte == 0).count() - 1;
            return Err(if marked || self.bytes.len() / 3 < noughts {
                NoBackup::OtherEncoding
            } else {
                NoBackup::Foreign
            });
        }
        let condition = match self.header {
            None => Condition::List,
            Some(header) if self.lines < header.records => Condition::CutShort(header),
            Some(header)
                if self.lines == header.records && self.checksum.value() == header.checksum =>
            {
                Condition::Whole(header)
            }
            Some(header) => Condition::Changed(header),
        };
        let mut records = self.records;
        let mut damaged = Vec::new();
        for (line, record) in self.unreadable {
            match record {
                // It was so when the backup was made, and is part of what that phone has kept.
                Some(record) if matches!(condition, Condition::Whole(_)) => {
                    records.take(&record);
                }
                Some(_) | None => damaged.push(line),
            }
        }
        Ok(Found {
            condition,
            records,
            damaged,
            newer: self.newer,
        })
    }
}

/// Reads a whole file at once.
pub fn read(bytes: Vec<u8>) -> Result<Found, NoBackup> {
    let mut reading = Reading::begin(bytes)?;
    while reading.step(usize::MAX)? {}
    reading.finish()
}

const UTF_8_MARK: &[u8] = b"\xef\xbb\xbf";

const UTF_16_MARKS: [&[u8]; 2] = [b"\xff\xfe", b"\xfe\xff"];

/// What taking in a file would bring.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Preview {
    /// The records that are not here yet, byte for byte.
    pub new: Vec<String>,
    /// Under which name each of them is to be kept: [`name_of`].
    pub names: Vec<String>,
    /// How many are here already.
    pub known: usize,
    /// Entries that come in another version than the one that is here, or in two: all are kept.
    pub in_conflict: usize,
    /// How many of the new ones cannot be read.
    pub unreadable: usize,
    /// The shifts among the new ones: when they start, and what their zone was ahead of UTC then, in minutes.
    pub shifts: Vec<(Instant, i16)>,
    /// The names of the machines among the new ones.
    pub machines: Vec<String>,
    /// How many sets of teeth are among the new ones.
    pub sets: usize,
    /// When the first and the last of the new ones were recorded, with their zones.
    pub days: Option<[(Instant, i16); 2]>,
}

/// What the records of a file would bring to those that are here.
pub fn preview(file: &Journal, here: &Journal) -> Preview {
    let mut preview = Preview::default();
    let known: BTreeSet<&Id> = here.readable().map(|(_, entry)| &entry.id).collect();
    let mut in_conflict: BTreeSet<&Id> = file.in_conflict().collect();
    let mut machines = BTreeSet::new();
    let (mut first, mut last): (Option<&Entry>, Option<&Entry>) = (None, None);
    for (record, entry) in file.readable() {
        if here.holds(record) {
            preview.known += 1;
            continue;
        }
        preview.new.push(record.to_owned());
        preview.names.push(entry.id.as_str().to_owned());
        if known.contains(&entry.id) {
            in_conflict.insert(&entry.id);
        }
        first = first.filter(|it| it.at <= entry.at).or(Some(entry));
        last = last.filter(|it| entry.at <= it.at).or(Some(entry));
        if let Event::ShiftStarted(plan) = &entry.event {
            preview.shifts.push((plan.start, entry.offset_minutes));
        }
        if let Event::MachineDescribed { name, .. } | Event::MachineAdded { name, .. } =
            &entry.event
        {
            machines.insert(name.clone());
        }
        preview.sets += usize::from(matches!(entry.event, Event::SetMounted { .. }));
    }
    for (record, _) in file.unreadable() {
        if here.holds(record) {
            preview.known += 1;
        } else {
            preview.new.push(record.to_owned());
            preview.names.push(name_of(record));
            preview.unreadable += 1;
        }
    }
    preview.shifts.sort();
    preview.machines = machines.into_iter().collect();
    preview.in_conflict = in_conflict.len();
    let moment = |entry: &Entry| (entry.at, entry.offset_minutes);
    preview.days = first
        .zip(last)
        .map(|(one, other)| [moment(one), moment(other)]);
    preview
}

/// CRC-32 as gzip and PNG have it: RFC 1952, section 8, <https://www.rfc-editor.org/rfc/rfc1952#section-8>. It finds what
/// a bad card or a hasty hand does to a file; it is no seal against somebody who means to change one.
#[derive(Clone, Copy, Debug)]
pub struct Checksum(u32);

impl Checksum {
    /// The checksum of some bytes.
    pub fn of(bytes: &[u8]) -> Checksum {
        let mut checksum = Checksum(u32::MAX);
        checksum.add(bytes);
        checksum
    }

    /// Takes more bytes in.
    pub fn add(&mut self, bytes: &[u8]) {
        for &byte in bytes {
            let at = (self.0 ^ u32::from(byte)) & 0xff;
            // The table has an entry for every byte.
            let entry = TABLE.get(at as usize).copied().unwrap_or_default();
            self.0 = entry ^ (self.0 >> 8);
        }
    }

    /// Its number.
    pub fn value(self) -> u32 {
        !self.0
    }
}

const TABLE: [u32; 256] = table();

const fn table() -> [u32; 256] {
    let mut table = [0; 256];
    let mut byte = 0;
    while byte < 256 {
        let mut left = byte as u32;
        let mut bit = 0;
        while bit < 8 {
            left = if left & 1 == 1 {
                0xedb8_8320 ^ (left >> 1)
            } else {
                left >> 1
            };
            bit += 1;
        }
        table[byte] = left;
        byte += 1;
    }
    table
}
