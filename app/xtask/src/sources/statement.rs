//! What rests on something without being a number: the reasons of the set-up sheet, its cautions, the items of the
//! checklists, and the formulas that somebody published.
//!
//! The first three are enums with a function `basis`. The compiler holds that each variant has a row in it; here the
//! rows are read.

use super::basis::{Class, Stated, called};
use super::constant::{outside_brackets, owner};
use super::doc::Doc;
use crate::rust_text::{RustText, closing};
use crate::tree::{File, places_of};

/// A kind of statement: one enum.
pub(super) struct Kind {
    /// Where its `basis` stands.
    pub(super) at: usize,
    pub(super) name: String,
    pub(super) title: String,
    pub(super) statements: Vec<Statement>,
}

/// A variant, or those values of a variant that have another basis than the rest; or a formula.
pub(super) struct Statement {
    pub(super) name: String,
    pub(super) sentence: String,
    pub(super) stated: Result<Stated, String>,
}

/// Every enum of a file that has such a function.
pub(super) fn kinds(file: &File, rust: &RustText) -> Vec<Kind> {
    let code = rust.code.as_str();
    let functions = code.match_indices("fn basis(").map(|(at, _)| at);
    let functions = functions.filter(|at| !rust.is_test(*at));
    let kinds = functions.filter_map(|at| {
        let name = owner(&code[..at])?;
        let body = at + code[at..].find('{')?;
        let rows = rows(&code[body..closing(code, body)]);
        let declared = places_of(code, &format!("enum {name}")).first().copied()?;
        let variants = variants(file, rust, declared);
        let mut statements: Vec<(usize, Statement)> = Vec::new();
        for row in rows {
            let place = variants.iter().position(|(name, _)| *name == row.variant);
            let sentence = place.map(|place| variants[place].1.as_str());
            statements.push((place.unwrap_or(variants.len()), row.statement(sentence)));
        }
        statements.sort_by_key(|(place, _)| *place);
        Some(Kind {
            at,
            title: Doc::above(file, rust, declared).first_sentence(),
            name,
            statements: statements.into_iter().map(|(_, it)| it).collect(),
        })
    });
    kinds.collect()
}

/// Every public function of a file that rests on a published source.
pub(super) fn formulas(file: &File, rust: &RustText) -> Vec<Statement> {
    let code = rust.code.as_str();
    let functions = places_of(code, "fn").into_iter();
    let functions = functions.filter(|at| !rust.is_test(*at) && is_public(&code[..*at]));
    let formulas = functions.filter_map(|at| {
        let doc = Doc::above(file, rust, at);
        let stated = Stated::read(&doc.under("Basis:")?);
        if !stated.as_ref().is_ok_and(|it| it.class == Class::Published) {
            return None;
        }
        let after = code[at + "fn".len()..].trim_start();
        let name = after
            .split(|it: char| !it.is_alphanumeric() && it != '_')
            .next()?;
        Some(Statement {
            name: match owner(&code[..at]) {
                Some(owner) => format!("{owner}::{name}"),
                None => name.to_string(),
            },
            sentence: doc.first_sentence(),
            stated,
        })
    });
    formulas.collect()
}

/// Whether the line that this code ends in begins with `pub`.
fn is_public(before: &str) -> bool {
    let line = before.rsplit('\n').next().unwrap_or_default();
    line.trim_start().starts_with("pub ")
}

/// One pattern of the function with what stands behind its arrow.
struct Row {
    variant: String,
    /// Which values of the variant it is about, if not all.
    only: String,
    rests_on: String,
}

impl Row {
    fn statement(self, sentence: Option<&str>) -> Statement {
        let stated = match sentence {
            None => Err("no such variant is declared in this file".to_string()),
            Some("") => Err("no sentence says what it is".to_string()),
            Some(_) => stated(&self.rests_on),
        };
        let only = match self.only.as_str() {
            "" => String::new(),
            only => format!("where it is {only}"),
        };
        Statement {
            name: match self.only.as_str() {
                "" => self.variant,
                only => format!("{}, {}", self.variant, only.replace('`', "")),
            },
            sentence: sentence.unwrap_or_default().to_string(),
            stated: stated.map(|stated| Stated {
                note: only,
                ..stated
            }),
        }
    }
}

fn stated(code: &str) -> Result<Stated, String> {
    let class = |class, sources| {
        Ok(Stated {
            class,
            sources,
            note: String::new(),
        })
    };
    let code: String = code.split_whitespace().collect();
    let code = code.trim_matches(['{', '}']);
    match code.strip_prefix("Basis::") {
        Some("CommonPractice") => class(Class::CommonPractice, Vec::new()),
        Some("Geometry") => class(Class::Geometry, Vec::new()),
        Some("HouseDefault") => class(Class::HouseDefault, Vec::new()),
        Some(published) => {
            let source = published.strip_prefix("Published(Source::");
            let source = source.and_then(|it| it.strip_suffix(')'));
            let source = source.ok_or_else(|| format!("`{code}` is no basis"))?;
            class(Class::Published, vec![called(source)?])
        }
        None => Err(format!("`{code}` is no basis")),
    }
}

/// The rows of the match in a function's body.
fn rows(body: &str) -> Vec<Row> {
    let mut rows = Vec::new();
    let Some(mut at) = body.find("match ").and_then(|at| {
        let brace = body[at..].find('{')?;
        Some(at + brace + 1)
    }) else {
        return rows;
    };
    while let Some(arrow) = outside_brackets(body, at, '=') {
        let start = arrow + "=>".len();
        let rest = &body[start..];
        let first = start + rest.len() - rest.trim_start().len();
        let end = if body[first..].starts_with('{') {
            closing(body, first)
        } else {
            let comma = outside_brackets(body, first, ',');
            comma.unwrap_or_else(|| first + body[first..].find('}').unwrap_or(0))
        };
        let rests_on = &body[first..end];
        for pattern in alternatives(&body[at..arrow]) {
            let (path, fields) = pattern.split_once('{').unwrap_or((pattern, ""));
            rows.push(Row {
                variant: path
                    .trim()
                    .rsplit("::")
                    .next()
                    .unwrap_or_default()
                    .to_string(),
                only: only(fields),
                rests_on: rests_on.to_string(),
            });
        }
        at = end + usize::from(body[end..].starts_with(','));
    }
    rows
}

/// A pattern's alternatives; bars inside brackets belong to its fields.
fn alternatives(pattern: &str) -> Vec<&str> {
    let mut found = Vec::new();
    let mut at = 0;
    while let Some(bar) = outside_brackets(pattern, at, '|') {
        found.push(pattern[at..bar].trim());
        at = bar + 1;
    }
    found.push(pattern[at..].trim());
    found
}

/// The values that a pattern holds its fields to: "`A` or `B`".
fn only(fields: &str) -> String {
    let fields = fields.trim_end().trim_end_matches('}').split(',');
    let held: Vec<_> = fields
        .filter_map(|field| field.split_once(':'))
        .map(|(_, values)| {
            let values = values.split('|').map(|it| format!("`{}`", it.trim()));
            values.collect::<Vec<_>>().join(" or ")
        })
        .collect();
    held.join(" and ")
}

/// The variants of an enum with the first sentence of each.
fn variants(file: &File, rust: &RustText, declared: usize) -> Vec<(String, String)> {
    let code = rust.code.as_str();
    let Some(brace) = code[declared..].find('{').map(|at| declared + at) else {
        return Vec::new();
    };
    let end = closing(code, brace) - 1;
    let mut variants = Vec::new();
    let mut at = brace + 1;
    while at < end {
        let next = outside_brackets(&code[..end], at, ',').unwrap_or(end);
        let text = &code[at..next];
        let start = at + text.len() - text.trim_start().len();
        let name = code[start..next]
            .split(|it: char| !it.is_alphanumeric())
            .next();
        if let Some(name) = name.filter(|name| !name.is_empty()) {
            let sentence = Doc::above(file, rust, start).first_sentence();
            variants.push((name.to_string(), sentence));
        }
        at = next + 1;
    }
    variants
}
