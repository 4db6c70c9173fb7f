//! What comes out of the printer: the lines on each sheet, measured in millimetres.
//!
//! The browser prints into a PDF, whose drawing commands are read: where a pen is moved and where it draws. Only as much
//! of the format is known here as this browser writes: <https://www.iso.org/standard/75839.html>, sections 7.3.8
//! (streams) and 8.5 (paths). Never here: what a story expects.

use std::collections::BTreeMap;

use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use miniz_oxide::inflate::decompress_to_vec_zlib;
use serde_json::{Value, json};

use crate::browser::Phone;

/// A point is 1/72 of an inch.
const MM_PER_POINT: f64 = 25.4 / 72.0;

/// A sheet of paper.
#[derive(Clone, Debug)]
pub struct Paper {
    /// Its width and height in millimetres.
    pub size: (f64, f64),
    /// Every straight line that is drawn on it, from end to end, in millimetres from the lower left corner.
    pub lines: Vec<((f64, f64), (f64, f64))>,
    /// How many pieces of text stand on it.
    pub texts: usize,
}

impl Paper {
    /// The lengths of the upright lines, in millimetres.
    pub fn upright(&self) -> Vec<f64> {
        let upright = self
            .lines
            .iter()
            .filter(|(from, to)| (from.0 - to.0).abs() < 0.01);
        upright.map(|(from, to)| (from.1 - to.1).abs()).collect()
    }

    /// The level lines of about this length, in millimetres: how far each is below the upper edge of the sheet, from the
    /// top down.
    pub fn level(&self, length: f64) -> Vec<f64> {
        let mut found: Vec<f64> = self
            .lines
            .iter()
            .filter(|(from, to)| (from.1 - to.1).abs() < 0.01)
            .filter(|(from, to)| ((from.0 - to.0).abs() - length).abs() < 0.5)
            .map(|(from, _)| self.size.1 - from.1)
            .collect();
        found.sort_by(f64::total_cmp);
        found
    }
}

impl Phone {
    /// What this page prints, sheet by sheet, without any background.
    pub async fn prints(&self) -> Vec<Paper> {
        self.prints_with(json!({ "preferCSSPageSize": true, "printBackground": false }))
            .await
    }

    /// What this page prints on paper of this width and height in millimetres.
    pub async fn prints_on(&self, (width, height): (f64, f64)) -> Vec<Paper> {
        let inches = |mm: f64| mm / 25.4;
        self.prints_with(json!({
            "preferCSSPageSize": true,
            "printBackground": false,
            "paperWidth": inches(width),
            "paperHeight": inches(height),
        }))
        .await
    }

    async fn prints_with(&self, how: Value) -> Vec<Paper> {
        let printed = self.command("Page.printToPDF", how).await;
        let file = STANDARD.decode(printed["data"].as_str().unwrap_or_default());
        sheets(&file.expect("a file in base 64"))
    }
}

/// The objects of a file by their numbers: the text before the stream, and the stream itself.
fn objects(file: &[u8]) -> BTreeMap<usize, (String, Vec<u8>)> {
    let mut found = BTreeMap::new();
    let mut rest = file;
    while let Some(at) = find(rest, b" 0 obj") {
        let number = String::from_utf8_lossy(&rest[..at]);
        let number = number.rsplit(|it: char| !it.is_ascii_digit()).next();
        let number = number.and_then(|it| it.parse().ok());
        rest = &rest[at + 6..];
        let end = find(rest, b"endobj").unwrap_or(rest.len());
        let head_end = find(&rest[..end], b"stream").unwrap_or(end);
        let head = String::from_utf8_lossy(&rest[..head_end]).into_owned();
        let length = reference(&head, "/Length ").unwrap_or(0);
        let body = rest[head_end..].iter().position(|&it| it == b'\n');
        let body = body.map_or(&[][..], |line| &rest[head_end + line + 1..]);
        let body = body.get(..length).unwrap_or_default().to_vec();
        if let Some(number) = number {
            found.insert(number, (head, body));
        }
        rest = rest.get(head_end + length..).unwrap_or_default();
    }
    found
}

fn find(text: &[u8], wanted: &[u8]) -> Option<usize> {
    text.windows(wanted.len()).position(|it| it == wanted)
}

/// The number after a name.
fn reference(head: &str, name: &str) -> Option<usize> {
    let after = head.split_once(name)?.1;
    let digits = after.split(|it: char| !it.is_ascii_digit()).next()?;
    digits.parse().ok()
}

fn sheets(file: &[u8]) -> Vec<Paper> {
    let objects = objects(file);
    let pages = objects.values().filter(|(head, _)| {
        head.contains("/Type /Page\n")
            || head.contains("/Type /Page ")
            || head.contains("/Type /Page/")
    });
    let papers = pages.map(|(head, _)| {
        let frame: Vec<f64> = head
            .split_once("/MediaBox [")
            .map(|(_, after)| after.split(']').next().unwrap_or_default())
            .unwrap_or_default()
            .split_whitespace()
            .filter_map(|it| it.parse().ok())
            .collect();
        assert_eq!(frame.len(), 4, "a page without a size: {head}");
        let contents = reference(head, "/Contents ").and_then(|it| objects.get(&it));
        let (_, packed) = contents.expect("a page with contents");
        // An empty sheet has nothing to unpack.
        let drawn = if packed.is_empty() {
            Vec::new()
        } else {
            decompress_to_vec_zlib(packed).expect("contents that can be unpacked")
        };
        Paper {
            size: (frame[2] * MM_PER_POINT, frame[3] * MM_PER_POINT),
            lines: lines(&String::from_utf8_lossy(&drawn)),
            texts: texts(&String::from_utf8_lossy(&drawn)),
        }
    });
    papers.collect()
}

/// How coordinates are turned into those of the sheet: six numbers, as the format has them.
type Matrix = [f64; 6];

fn times(one: Matrix, other: Matrix) -> Matrix {
    [
        one[0] * other[0] + one[1] * other[2],
        one[0] * other[1] + one[1] * other[3],
        one[2] * other[0] + one[3] * other[2],
        one[2] * other[1] + one[3] * other[3],
        one[4] * other[0] + one[5] * other[2] + other[4],
        one[4] * other[1] + one[5] * other[3] + other[5],
    ]
}

/// How often the commands show text: sections 9.4.3.
fn texts(commands: &str) -> usize {
    let shows = |word: &&str| word.ends_with("Tj") || word.ends_with("TJ");
    commands.split_whitespace().filter(shows).count()
}

/// Every straight line that the commands draw.
fn lines(commands: &str) -> Vec<((f64, f64), (f64, f64))> {
    let mut found = Vec::new();
    let mut numbers: Vec<f64> = Vec::new();
    let mut matrix: Matrix = [1.0, 0.0, 0.0, 1.0, 0.0, 0.0];
    let mut kept = Vec::new();
    let (mut pen, mut path) = ((0.0, 0.0), Vec::new());
    for word in commands.split_whitespace() {
        if let Ok(number) = word.parse() {
            numbers.push(number);
            continue;
        }
        let place = |x: f64, y: f64| {
            (
                (x * matrix[0] + y * matrix[2] + matrix[4]) * MM_PER_POINT,
                (x * matrix[1] + y * matrix[3] + matrix[5]) * MM_PER_POINT,
            )
        };
        match (word, numbers.as_slice()) {
            ("q", _) => kept.push(matrix),
            ("Q", _) => matrix = kept.pop().unwrap_or(matrix),
            ("cm", turned) => {
                matrix = turned
                    .try_into()
                    .map_or(matrix, |turned| times(turned, matrix));
            }
            ("m", &[x, y]) => pen = place(x, y),
            ("l", &[x, y]) => {
                let to = place(x, y);
                path.push((pen, to));
                pen = to;
            }
            // Drawn with the pen; what is only filled is no line.
            ("S" | "s", _) => found.append(&mut path),
            ("n" | "f" | "f*" | "B", _) => path.clear(),
            _ => {}
        }
        numbers.clear();
    }
    found
}
