//! The bytes of a backup besides its records: its first line, and a record that does not fit on a line of its own.

use evenrow_rules::quantity::Instant;

use super::places::{Places, Wire, in_order, quote};
use super::tree::{self, Tree};

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

/// The names that stand in it, in order.
const HEADER: &str = "evenrow_backup,made_ms,app,records,crc32";

/// The first line, without a line break.
pub(crate) fn write_header(header: &Header) -> String {
    let mut app = String::new();
    quote(&header.app, &mut app);
    let values = [
        BACKUP_VERSION.to_string(),
        header.made.unix_ms().to_string(),
        app,
        header.records.to_string(),
        format!("\"{:08x}\"", header.checksum),
    ];
    let fields = HEADER.split(',').zip(values);
    let fields: Vec<String> = fields
        .map(|(name, value)| format!("\"{name}\":{value}"))
        .collect();
    format!("{{{}}}", fields.join(","))
}

/// Reads a first line.
pub(crate) fn read_header(line: &str) -> FirstLine {
    let Some(Tree::Fields(fields)) = tree::read(line) else {
        return FirstLine::Other;
    };
    // What every version of the first line begins with, whatever else it says.
    let version = fields.iter().find(|(name, _)| name == "evenrow_backup");
    match version {
        Some((_, Tree::Count(version))) if u64::from(BACKUP_VERSION) < *version => FirstLine::Newer,
        Some(_) => in_order(fields, HEADER)
            .and_then(|list| header(&mut Places::of(list)))
            .map_or(FirstLine::Other, FirstLine::Header),
        None => FirstLine::Other,
    }
}

fn header(places: &mut Places) -> Option<Header> {
    u32::read(places)?;
    Some(Header {
        made: Wire::read(places)?,
        app: Wire::read(places)?,
        records: Wire::read(places)?,
        checksum: u32::from_str_radix(&places.text()?, 16).ok()?,
    })
}

/// A record as one line: as it stands, if it begins as an entry does and holds nothing that could break the line; else as
/// a JSON string. So every record, however damaged, comes out of a backup byte for byte.
pub(crate) fn line_of(record: &str) -> String {
    let fits = record.starts_with(['[', '{']) && !record.contains(char::is_control);
    if fits {
        return record.to_owned();
    }
    let mut line = String::new();
    quote(record, &mut line);
    line
}

/// The record on a line.
pub(crate) fn record_on(line: &str) -> String {
    let quoted = if line.starts_with('"') {
        tree::read(line)
    } else {
        None
    };
    let Some(Tree::Text(record)) = quoted else {
        return line.to_owned();
    };
    record.into_owned()
}
