//! The bytes of a backup besides its records: its first line, and a record that does not fit on a line of its own.

use evenrow_rules::quantity::Instant;
use serde::{Deserialize, Serialize};

use super::tree;

/// The version of the first line that this app writes, and the highest that it reads.
pub const BACKUP_VERSION: u32 = 1;

/// What the first line of a backup says of the rest.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Header {
    /// When it was made.
    pub made: Instant,
    /// By which version of the app.
    pub app: String,
    /// How many records follow.
    pub records: u64,
    /// The CRC-32 of the lines that follow, each with a line feed at its end.
    pub checksum: u32,
}

/// What a first line may be.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum FirstLine {
    /// That of a backup.
    Header(Header),
    /// That of a backup of a newer version.
    Newer,
    /// None of a backup.
    Other,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct HeaderWire {
    evenrow_backup: u32,
    made_ms: i64,
    app: String,
    records: u64,
    crc32: String,
}

/// What every version of the first line begins with, whatever else it says.
#[derive(Deserialize)]
struct VersionOnly {
    evenrow_backup: u64,
}

/// The first line, without a line break.
pub(crate) fn write_header(header: &Header) -> String {
    let wire = HeaderWire {
        evenrow_backup: BACKUP_VERSION,
        made_ms: header.made.unix_ms(),
        app: header.app.clone(),
        records: header.records,
        crc32: format!("{:08x}", header.checksum),
    };
    // Strings and whole numbers: there is nothing in it that JSON could refuse.
    serde_json::to_string(&wire).unwrap_or_default()
}

/// Reads a first line.
pub(crate) fn read_header(line: &str) -> FirstLine {
    let Some(line) = tree::read(line) else {
        return FirstLine::Other;
    };
    let version = line.to().map(|it: VersionOnly| it.evenrow_backup);
    if version.is_some_and(|it| u64::from(BACKUP_VERSION) < it) {
        return FirstLine::Newer;
    }
    line.to::<HeaderWire>()
        .and_then(|it| {
            Some(Header {
                made: Instant::from_unix_ms(it.made_ms),
                app: it.app,
                records: it.records,
                checksum: u32::from_str_radix(&it.crc32, 16).ok()?,
            })
        })
        .map_or(FirstLine::Other, FirstLine::Header)
}

/// A record as one line: as it stands, if it begins as an entry does and holds nothing that could break the line; else as
/// a JSON string. So every record, however damaged, comes out of a backup byte for byte.
pub(crate) fn line_of(record: &str) -> String {
    let fits = record.starts_with('{') && !record.contains(char::is_control);
    if fits {
        return record.to_owned();
    }
    // A string has nothing in it that JSON could refuse.
    serde_json::to_string(record).unwrap_or_default()
}

/// The record on a line.
pub(crate) fn record_on(line: &str) -> String {
    let quoted = if line.starts_with('"') {
        serde_json::from_str(line).ok()
    } else {
        None
    };
    quoted.unwrap_or_else(|| line.to_owned())
}
