//! A constant's expression in plain words: `Length::micrometres(914_400)` is `914.4 mm`.
//!
//! A quantity's unit comes from its constructor, which is the real one of the rules; a bare number's from the `Units:`
//! line beside it. What this file cannot read is an error, never a guess.

use super::constant::{Constant, Known};
use evenrow_rules::angle::{Angle, AngleBand};
use evenrow_rules::quantity::{Length, Temperature};
use std::time::Duration;

/// How deep constants may name each other.
const DEEPEST: usize = 4;

/// Units in words, as doc comments write them, and their signs.
const SIGNS: [(&str, &str); 14] = [
    ("none", ""),
    ("millimetres", "mm"),
    ("kilometres", "km"),
    ("square metres", "m²"),
    ("cubic metres", "m³"),
    ("seconds", "s"),
    ("hours", "h"),
    ("kilograms", "kg"),
    ("kilonewtons", "kN"),
    ("degrees Celsius", "°C"),
    ("kilometres an hour", "km/h"),
    ("millimetres an hour", "mm/h"),
    ("square metres an hour", "m²/h"),
    ("metres per second squared", "m/s²"),
];

/// The value of a constant with its unit; none if it holds no number.
pub(super) fn in_words(constant: &Constant, known: &Known) -> Result<Option<String>, String> {
    let units = constant.doc.under("Units:").unwrap_or_default();
    let units = units.trim_end_matches('.').split(", ");
    let speaker = Speaker {
        units: units.filter(|it| !it.is_empty()).map(sign).collect(),
        module: &constant.module,
        known,
    };
    let expression = match Expression::read(&constant.expression) {
        Ok(expression) => expression,
        // What is no number need not be read.
        Err(_) if !constant.expression.contains(|it: char| it.is_ascii_digit()) => return Ok(None),
        Err(what) => return Err(what),
    };
    if !speaker.finds_a_number(&expression, 0)? {
        return Ok(None);
    }
    let said = speaker.say(&expression, 0)?;
    match (said.unit, speaker.units.as_slice()) {
        (Unit::Bare, []) => Err("no `Units:` line says what the number counts".to_string()),
        (Unit::Bare, [unit]) => Ok(Some(with_unit(&said.text, unit))),
        (Unit::Bare, [..]) => Err("its `Units:` line has more units than numbers".to_string()),
        (Unit::Own(unit), _) => Ok(Some(with_unit(&said.text, unit))),
        (Unit::Within, _) => Ok(Some(said.text)),
    }
}

fn sign(words: &str) -> &str {
    let known = SIGNS.iter().find(|(known, _)| *known == words);
    known.map_or(words, |(_, sign)| sign)
}

fn with_unit(text: &str, unit: &str) -> String {
    let one_of_them = unit
        .strip_suffix('s')
        .filter(|it| text == "1" && !it.is_empty());
    format!("{text} {}", one_of_them.unwrap_or(unit))
        .trim_end()
        .to_string()
}

/// The expressions that constants are made of.
#[derive(Debug, PartialEq)]
enum Expression {
    Number(f64),
    Path(String),
    Call(String, Vec<Expression>),
    Struct(Vec<(String, Expression)>),
    Tuple(Vec<Expression>),
    Array(Vec<Expression>),
    Range(Box<Expression>, Box<Expression>),
}

impl Expression {
    fn read(code: &str) -> Result<Expression, String> {
        let mut reader = Reader { rest: code.trim() };
        let read = reader.expression()?;
        match reader.rest.trim_start() {
            "" => Ok(read),
            rest => Err(not_read(rest)),
        }
    }

    /// What it is made of.
    fn parts(&self) -> Vec<&Expression> {
        match self {
            Expression::Number(_) | Expression::Path(_) => Vec::new(),
            Expression::Call(_, parts) | Expression::Tuple(parts) | Expression::Array(parts) => {
                parts.iter().collect()
            }
            Expression::Struct(fields) => fields.iter().map(|(_, value)| value).collect(),
            Expression::Range(from, to) => vec![from, to],
        }
    }

    fn number(&self) -> Option<f64> {
        match self {
            Expression::Number(number) => Some(*number),
            Expression::Path(_)
            | Expression::Call(..)
            | Expression::Struct(_)
            | Expression::Tuple(_)
            | Expression::Array(_)
            | Expression::Range(..) => None,
        }
    }
}

fn not_read(rest: &str) -> String {
    let rest: String = rest.chars().take(40).collect();
    format!(
        "its value cannot be put in words from `{rest}` on: teach app/xtask/src/sources/value.rs"
    )
}

/// What is left of an expression's text.
struct Reader<'a> {
    rest: &'a str,
}

impl Reader<'_> {
    fn expression(&mut self) -> Result<Expression, String> {
        let first = self.part()?;
        if self.takes("..=") {
            return Ok(Expression::Range(Box::new(first), Box::new(self.part()?)));
        }
        Ok(first)
    }

    fn part(&mut self) -> Result<Expression, String> {
        self.rest = self.rest.trim_start();
        let starts = |is: fn(&char) -> bool| self.rest.chars().next().is_some_and(|it| is(&it));
        if self.takes_sign('(') {
            return Ok(Expression::Tuple(self.list(')')?));
        }
        if self.takes_sign('[') {
            return Ok(Expression::Array(self.list(']')?));
        }
        if starts(char::is_ascii_digit) || self.rest.starts_with('-') {
            return self.number();
        }
        if starts(char::is_ascii_alphabetic) {
            return self.named();
        }
        Err(not_read(self.rest))
    }

    fn number(&mut self) -> Result<Expression, String> {
        let bytes = self.rest.as_bytes();
        let mut end = usize::from(bytes[0] == b'-');
        while let Some(byte) = bytes.get(end) {
            // A point may belong to a range.
            let is_point = *byte == b'.' && bytes.get(end + 1) != Some(&b'.');
            let is_sign = *byte == b'-' && bytes[end - 1] == b'e';
            if byte.is_ascii_digit() || *byte == b'_' || *byte == b'e' || is_point || is_sign {
                end += 1;
            } else {
                break;
            }
        }
        let digits = self.rest[..end].replace('_', "");
        let number = digits.parse().map_err(|_| not_read(self.rest))?;
        self.rest = &self.rest[end..];
        Ok(Expression::Number(number))
    }

    /// A path; with arguments or fields behind it, what they make.
    fn named(&mut self) -> Result<Expression, String> {
        let belongs = |letter: char| letter.is_alphanumeric() || "_:".contains(letter);
        let end = self.rest.find(|letter| !belongs(letter));
        let (path, rest) = self.rest.split_at(end.unwrap_or(self.rest.len()));
        let path = path.to_string();
        self.rest = rest;
        if self.takes_sign('(') {
            return Ok(Expression::Call(path, self.list(')')?));
        }
        if !self.takes_sign('{') {
            return Ok(Expression::Path(path));
        }
        let mut fields = Vec::new();
        while !self.takes_sign('}') {
            let (name, rest) = self.rest.split_once(':').ok_or(not_read(self.rest))?;
            let name = name.trim().to_string();
            self.rest = rest;
            fields.push((name, self.expression()?));
            self.takes_sign(',');
        }
        Ok(Expression::Struct(fields))
    }

    fn list(&mut self, closing: char) -> Result<Vec<Expression>, String> {
        let mut parts = Vec::new();
        while !self.takes_sign(closing) {
            parts.push(self.expression()?);
            self.takes_sign(',');
        }
        Ok(parts)
    }

    fn takes_sign(&mut self, sign: char) -> bool {
        self.takes(sign.encode_utf8(&mut [0; 4]))
    }

    fn takes(&mut self, text: &str) -> bool {
        let rest = self.rest.trim_start().strip_prefix(text);
        self.rest = rest.unwrap_or(self.rest);
        rest.is_some()
    }
}

/// Something said, whose unit may still be wanting.
struct Said {
    text: String,
    unit: Unit,
}

/// Where the unit of something said is.
#[derive(Clone, Copy, PartialEq)]
enum Unit {
    /// Still to be added: that of the `Units:` line.
    Bare,
    /// Still to be added: that of its type.
    Own(&'static str),
    /// In the text, or nowhere, since it is no number.
    Within,
}

impl Said {
    /// With the unit of its type.
    fn full(&self) -> String {
        match self.unit {
            Unit::Own(unit) => with_unit(&self.text, unit),
            Unit::Bare | Unit::Within => self.text.clone(),
        }
    }
}

struct Speaker<'a> {
    /// Those of the `Units:` line.
    units: Vec<&'a str>,
    /// Where it speaks: names mean what they mean there.
    module: &'a str,
    known: &'a Known<'a>,
}

impl Speaker<'_> {
    fn finds_a_number(&self, expression: &Expression, depth: usize) -> Result<bool, String> {
        if let Expression::Path(path) = expression {
            return match self.named(path, depth)? {
                Some(named) => self.finds_a_number(&named, depth + 1),
                None => Ok(false),
            };
        }
        let mut found = expression.number().is_some();
        for part in expression.parts() {
            found |= self.finds_a_number(part, depth)?;
        }
        Ok(found)
    }

    /// What a constant stands for that a path names; none for a variant.
    fn named(&self, path: &str, depth: usize) -> Result<Option<Expression>, String> {
        let last = path.rsplit("::").next().unwrap_or_default();
        let is_variant = last.len() == 1 || last.contains(|it: char| it.is_ascii_lowercase());
        match self.known.find(path, self.module) {
            Some(constant) if depth < DEEPEST => Expression::read(&constant.expression).map(Some),
            None if is_variant => Ok(None),
            Some(_) | None => Err(not_read(path)),
        }
    }

    fn say(&self, expression: &Expression, depth: usize) -> Result<Said, String> {
        match expression {
            Expression::Number(number) => Ok(bare(digits(*number))),
            Expression::Path(path) => self.say_path(path, depth),
            Expression::Call(path, arguments) => self.say_call(path, arguments, depth),
            Expression::Range(from, to) => {
                let ends = [self.say(from, depth)?, self.say(to, depth)?];
                range(&ends).ok_or_else(|| not_read("a range of two kinds"))
            }
            Expression::Tuple(parts) => Ok(self.tuple(&self.say_all(parts, depth)?)),
            Expression::Array(parts) => Ok(together(&self.say_all(parts, depth)?, "; ")),
            Expression::Struct(fields) => {
                let mut told = Vec::new();
                for (name, value) in fields {
                    // Whose number it is stands in the basis; what is not given says nothing.
                    if name == "basis" || *value == Expression::Path("None".to_string()) {
                        continue;
                    }
                    let said = self.say(value, depth)?;
                    let is_word = matches!(value, Expression::Path(_)) && said.unit == Unit::Within;
                    let text = if is_word {
                        said.text
                    } else {
                        format!("{} {}", name.replace('_', " "), said.text)
                    };
                    told.push(Said { text, ..said });
                }
                Ok(together(&told, ", "))
            }
        }
    }

    fn say_all(&self, parts: &[Expression], depth: usize) -> Result<Vec<Said>, String> {
        parts.iter().map(|part| self.say(part, depth)).collect()
    }

    /// Another constant, or a variant.
    fn say_path(&self, path: &str, depth: usize) -> Result<Said, String> {
        match self.named(path, depth)? {
            Some(named) => self.say(&named, depth + 1),
            None => Ok(within(variant(path))),
        }
    }

    /// A constructor of the rules, or a variant that holds something.
    fn say_call(&self, path: &str, parts: &[Expression], depth: usize) -> Result<Said, String> {
        let numbers: Option<Vec<_>> = parts.iter().map(Expression::number).collect();
        if let Some(said) = numbers.and_then(|numbers| constructed(path, &numbers)) {
            return Ok(said);
        }
        let last = path.rsplit("::").next().unwrap_or_default();
        if !path.contains("::") || !last.starts_with(char::is_uppercase) {
            return Err(not_read(path));
        }
        let mut told = vec![within(variant(path))];
        told.extend(self.say_all(parts, depth)?);
        Ok(together(&told, " "))
    }

    fn tuple(&self, parts: &[Said]) -> Said {
        let each_its_own = parts.len() == self.units.len() && 1 < parts.len();
        if each_its_own && parts.iter().all(|it| it.unit == Unit::Bare) {
            let with_units = parts.iter().zip(&self.units);
            let with_units: Vec<_> = with_units
                .map(|(part, unit)| with_unit(&part.text, unit))
                .collect();
            return within(with_units.join(", "));
        }
        match parts {
            [name, number] if name.unit == Unit::Within => Said {
                text: format!("{} {}", name.text, number.text),
                unit: number.unit,
            },
            parts => range(parts).unwrap_or_else(|| together(parts, ", ")),
        }
    }
}

/// Two of one kind are the ends of a range.
fn range(ends: &[Said]) -> Option<Said> {
    match ends {
        [low, high] if low.unit == high.unit && low.unit != Unit::Within => Some(Said {
            text: format!("{} to {}", low.text, high.text),
            unit: low.unit,
        }),
        [..] => None,
    }
}

/// Several in a row. Bare numbers get their unit at the end, once for all.
fn together(parts: &[Said], between: &str) -> Said {
    let text: Vec<_> = parts.iter().map(Said::full).collect();
    let some_bare = parts.iter().any(|it| it.unit == Unit::Bare);
    Said {
        text: text.join(between),
        unit: if some_bare { Unit::Bare } else { Unit::Within },
    }
}

fn bare(text: String) -> Said {
    Said {
        text,
        unit: Unit::Bare,
    }
}

fn within(text: String) -> Said {
    Said {
        text,
        unit: Unit::Within,
    }
}

/// What a constructor makes of its numbers.
fn constructed(path: &str, numbers: &[f64]) -> Option<Said> {
    let own = |number: f64, unit| Said {
        text: digits(number),
        unit: Unit::Own(unit),
    };
    Some(match (path, numbers) {
        ("Length::micrometres", &[um]) => {
            own(Length::micrometres(um as u32).in_millimetres(), "mm")
        }
        ("Temperature::whole_celsius", &[degrees]) => {
            own(Temperature::whole_celsius(degrees as i8).in_celsius(), "°C")
        }
        ("Angle::whole_degrees", &[degrees]) => {
            own(Angle::whole_degrees(degrees as u8).in_degrees(), "degrees")
        }
        ("AngleBand::whole_degrees", &[low, target, high]) => {
            let band = AngleBand::whole_degrees(low as u8, target as u8, high as u8);
            let [low, target, high] =
                [band.low(), band.target(), band.high()].map(|it| digits(it.in_degrees()));
            within(format!("{target} degrees, from {low} to {high}"))
        }
        ("Duration::from_secs", &[seconds]) => time(Duration::from_secs(seconds as u64)),
        ("Duration::from_mins", &[minutes]) => time(Duration::from_mins(minutes as u64)),
        ("Duration::from_hours", &[hours]) => time(Duration::from_hours(hours as u64)),
        ("KilometresPerHour", &[speed]) => own(speed, "km/h"),
        ("Rate::of_house", &[events, hours]) => {
            within(format!("{} in {} h", digits(events), digits(hours)))
        }
        // Within their own file quantities are made from what they hold.
        ("Length", &[mm]) => own(mm, "mm"),
        ("Distance", &[km]) => own(km, "km"),
        ("Hours", &[hours]) => own(hours, "h"),
        ("Efficiency", &[share]) => own(share, "of the hour"),
        ("Area", &[square_metres]) => own(square_metres, "m²"),
        ("Money", &[amount]) => own(amount, "of the operator's own money"),
        ("Litres", &[litres]) => own(litres, "litres"),
        _ => return None,
    })
}

/// A time in the largest unit that it fills wholly.
fn time(time: Duration) -> Said {
    let seconds = time.as_secs();
    let (number, unit) = match (seconds % 3600, seconds % 60) {
        (0, _) => (seconds / 3600, "h"),
        (_, 0) => (seconds / 60, "min"),
        (_, _) => (seconds, "s"),
    };
    Said {
        text: digits(number as f64),
        unit: Unit::Own(unit),
    }
}

/// A variant in words: `Milled::ToBePutRight` is "to be put right", `FuelClass::A` is "A".
fn variant(path: &str) -> String {
    let last = path.rsplit("::").next().unwrap_or_default();
    if last.len() == 1 {
        return last.to_string();
    }
    let mut words = String::new();
    for letter in last.chars() {
        if (letter.is_uppercase() || letter.is_ascii_digit()) && !words.is_empty() {
            words.push(' ');
        }
        words.extend(letter.to_lowercase());
    }
    words
}

/// A number as people write it: 914.4; 1,000; −20; 10³⁰.
pub(super) fn digits(number: f64) -> String {
    let exponent = number.abs().log10();
    if 6.0 < exponent.abs() && exponent.fract() == 0.0 {
        let raised = format!("{exponent}")
            .chars()
            .map(superscript)
            .collect::<String>();
        return format!("10{raised}");
    }
    let plain = number.abs().to_string();
    let (whole, part) = plain.split_once('.').unwrap_or((&plain, ""));
    let mut grouped = String::new();
    for (at, digit) in whole.char_indices() {
        if 0 < at && (whole.len() - at) % 3 == 0 {
            grouped.push(',');
        }
        grouped.push(digit);
    }
    let sign = if number < 0.0 { "\u{2212}" } else { "" };
    let point = if part.is_empty() { "" } else { "." };
    format!("{sign}{grouped}{point}{part}")
}

fn superscript(sign: char) -> char {
    match sign {
        '1' => '¹',
        '2' => '²',
        '3' => '³',
        '-' => '⁻',
        '0' | '4'..='9' => char::from_u32(0x2070 + sign as u32 - '0' as u32).unwrap_or(sign),
        other => other,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sources::constant::Constant;
    use crate::tree::Tree;

    /// The value of the first constant of a file.
    fn value(text: &str) -> Result<Option<String>, String> {
        let tree = Tree::of(&[("app/rules/src/a.rs", text)]);
        let all: Vec<_> = tree
            .rust(|_| true)
            .flat_map(|(file, rust)| Constant::all(file, rust, "a"))
            .collect();
        in_words(&all[0], &Known::of(all.iter()))
    }

    #[track_caller]
    fn check(units: &str, expression: &str, expect: &str) {
        let text = format!("/// A.\n///\n/// Units: {units}.\nconst A: X = {expression};");
        assert_eq!(value(&text), Ok(Some(expect.to_string())), "{expression}");
    }

    #[test]
    fn a_bare_number_gets_the_unit_beside_it() {
        check("teeth", "8", "8 teeth");
        check("times", "1", "1 time");
        check("none", "9.80665", "9.80665");
        check("millimetres", "-1_234.5", "\u{2212}1,234.5 mm");
        check("none", "1e-6", "0.000001");
        check("none", "1e-12", "10⁻¹²");
        check(
            "metres per second squared",
            "(0.5, 100.0)",
            "0.5 to 100 m/s²",
        );
        check("teeth", "3..=16", "3 to 16 teeth");
        check("hours, kilometres", "(0.001, 2.0)", "0.001 h, 2 km");
        check("plates", "[1, 2, 3]", "1; 2; 3 plates");
        check(
            "oilings",
            "B { low: 1, high_er: 2, each: None }",
            "low 1, high er 2 oilings",
        );
        check(
            "of the row",
            "[B::RampTo(End::Left, 0.5)]",
            "ramp to left 0.5 of the row",
        );
    }

    #[test]
    fn a_quantity_brings_its_own_unit() {
        check("none", "Length::micrometres(914_400)", "914.4 mm");
        check("none", "Length::micrometres(4_000_000_000)", "1,000,000 mm");
        check("none", "Temperature::whole_celsius(-44)", "\u{2212}44 °C");
        check(
            "none",
            "AngleBand::whole_degrees(47, 50, 53)",
            "50 degrees, from 47 to 53",
        );
        check("none", "Duration::from_mins(90)", "90 min");
        check("none", "Duration::from_mins(60)", "1 h");
        check("none", "Duration::from_secs(90)", "90 s");
        check(
            "none",
            "[(B::A, Angle::whole_degrees(5)), (B::Arctic1, Angle::whole_degrees(9))]",
            "A 5 degrees; arctic 1 9 degrees",
        );
        check(
            "none",
            "(KilometresPerHour(0), KilometresPerHour(9))",
            "0 to 9 km/h",
        );
    }

    #[test]
    fn a_constant_that_names_another_has_its_value() {
        let text = "/// A.\n/// Units: teeth.\nconst A: [u8; 2] = [B, 2];\nconst B: u8 = 7;";
        assert_eq!(value(text), Ok(Some("7; 2 teeth".to_string())));
    }

    #[test]
    fn a_list_of_variants_is_no_number() {
        assert_eq!(value("const ALL: [A; 2] = [A::Arctic1, A::B];"), Ok(None));
        assert_eq!(value("const A: &str = \"96 teeth\";"), Ok(None));
    }

    #[test]
    fn what_cannot_be_read_or_has_no_unit_is_refused_and_never_guessed() {
        for unclear in [
            "1 + 1",
            "Length::yards(3)",
            "yards(3)",
            "Yards(3)",
            "OTHER",
            "if a { 1 } else { 2 }",
        ] {
            let text = format!("/// A.\n/// Units: teeth.\nconst A: X = {unclear};");
            let said = value(&text);
            assert!(said.is_err(), "{unclear}: {said:?}");
        }
        assert!(value("const A: f64 = 1.5;").is_err());
        assert!(
            value("const A: [u8; 2] = [1, A];").is_err(),
            "it names itself"
        );
        assert!(value("/// Units: hours, kilometres.\nconst A: u8 = 1;").is_err());
    }
}
