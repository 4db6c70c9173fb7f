//! The listing of the real rules, held against the rules themselves and against a second, simpler reading of their text.

use super::basis::{Class, Stated, key};
use super::{Entry, Group, Listing, RULES, Reading, findings, module, told};
use crate::project;
use crate::tree::Tree;
use evenrow_rules::angle::{Angle, AngleBand};
use evenrow_rules::checklist::List;
use evenrow_rules::machine::{FOOT, Machine, SHORT_PLATE};
use evenrow_rules::quantity::{Length, STANDARD_GRAVITY, Temperature};
use evenrow_rules::setup::{Line, advise};
use evenrow_rules::source::{Basis, Source};
use evenrow_rules::work::{Conditions, End, FULL_WIDTH_FROM, Moisture, Stones, Work};
use evenrow_rules::{cold, oiling, setup, tilt};
use std::collections::{BTreeMap, BTreeSet, HashSet};

fn project() -> Tree {
    Tree::of_project(&project::root().expect("the project")).expect("its files")
}

fn listing() -> Listing {
    let reading = Reading::of(&project());
    let found: Vec<_> = reading.findings.iter().map(ToString::to_string).collect();
    assert_eq!(found, [""; 0]);
    reading.listing
}

fn entries(groups: &[Group]) -> impl Iterator<Item = &Entry> {
    groups.iter().flat_map(|group| &group.entries)
}

/// The lines of a file up to its tests, from the first to the last one of each constant.
fn constants(text: &str) -> Vec<(usize, usize, String)> {
    let lines: Vec<_> = text
        .split("#[cfg(test)]")
        .next()
        .unwrap_or_default()
        .lines()
        .collect();
    let mut found = Vec::new();
    for (first, line) in lines.iter().enumerate() {
        let line = line
            .trim()
            .trim_start_matches("pub ")
            .trim_start_matches("pub(crate) ");
        let Some((name, _)) = line
            .strip_prefix("const ")
            .and_then(|it| it.split_once(':'))
        else {
            continue;
        };
        if name.contains(|it: char| it.is_lowercase()) {
            continue; // A function.
        }
        let length = lines[first..].iter().position(|line| line.ends_with(';'));
        found.push((first, first + length.expect("its end"), name.to_string()));
    }
    found
}

/// Whether any word behind the `=` begins with a digit.
fn carries_a_number(lines: &[&str]) -> bool {
    let text = lines.concat();
    let (_, value) = text.split_once(" = ").expect("a value");
    value
        .split(|it: char| !it.is_alphanumeric() && it != '_')
        .any(|word| word.starts_with(|it: char| it.is_ascii_digit()))
}

#[test]
fn every_constant_of_the_rules_that_carries_a_number_is_listed_and_nothing_else_is() {
    let mut expect = BTreeMap::new();
    for file in project()
        .files
        .iter()
        .filter(|it| it.path.starts_with(RULES))
    {
        let lines: Vec<_> = file.text.lines().collect();
        for (first, last, name) in constants(&file.text) {
            if carries_a_number(&lines[first..=last]) {
                *expect.entry((module(&file.path), name)).or_insert(0) += 1;
            }
        }
    }
    let mut listed = BTreeMap::new();
    for group in &listing().numbers {
        for entry in &group.entries {
            let name = entry.id.rsplit("::").next().expect("a name");
            *listed
                .entry((group.id.clone(), name.to_string()))
                .or_insert(0) += 1;
        }
    }
    assert!(100 < listed.len(), "{}", listed.len());
    assert_eq!(listed, expect);
}

#[test]
fn a_removed_basis_unit_or_sentence_is_noticed_at_every_number() {
    let numbers: BTreeSet<String> = entries(&listing().numbers)
        .map(|it| it.id.clone())
        .collect();
    let mut tried = 0;
    for file in project()
        .files
        .iter()
        .filter(|it| it.path.starts_with(RULES))
    {
        let lines: Vec<_> = file.text.lines().collect();
        for (first, _, name) in constants(&file.text) {
            let module = module(&file.path);
            let is_it = |id: &String| id.starts_with(&module) && id.ends_with(&format!("::{name}"));
            if !numbers.iter().any(is_it) {
                continue;
            }
            let doc = lines[..first]
                .iter()
                .rev()
                .take_while(|it| it.trim().starts_with("///"));
            let doc = first - doc.count()..first;
            let without = |start: &str| {
                let starts = |line: &usize| lines[*line].trim().starts_with(start);
                let gone = doc.clone().find(starts)?;
                let kept: Vec<_> = (0..lines.len()).filter(|it| *it != gone).collect();
                Some(
                    kept.into_iter()
                        .map(|it| lines[it])
                        .collect::<Vec<_>>()
                        .join("\n"),
                )
            };
            let noticed = |text: String| {
                let tree = Tree::of(&[(file.path.as_str(), text.as_str())]);
                let what = format!("{name}: ");
                findings(&tree)
                    .iter()
                    .any(|it| it.to_string().contains(&what))
            };
            assert!(
                noticed(without("/// Basis:").expect("a basis")),
                "{module}::{name}"
            );
            if let Some(text) = without("/// Units:") {
                assert!(noticed(text), "{module}::{name}");
            }
            let mut bare = lines.clone();
            bare.drain(doc);
            assert!(noticed(bare.join("\n")), "{module}::{name}");
            tried += 1;
        }
    }
    assert_eq!(tried, numbers.len());
}

#[test]
fn the_values_are_those_that_the_rules_work_with() {
    let listing = listing();
    let all: BTreeMap<_, _> = entries(&listing.numbers)
        .map(|it| (it.id.as_str(), it.value.as_str()))
        .collect();
    let band = |band: AngleBand| {
        let [low, target, high] = [band.low(), band.target(), band.high()].map(Angle::in_degrees);
        format!("{target} degrees, from {low} to {high}")
    };
    let minutes = |time: std::time::Duration| format!("{} min", time.as_secs() / 60);
    let classes = cold::FuelClass::ALL.map(|class| {
        let name = format!("{class:?}").replace("Arctic", "arctic ");
        format!("{name} {} °C", class.limit().in_celsius()).replace('-', "\u{2212}")
    });
    for (id, value) in [
        ("setup::cutting::NORMAL", band(setup::NORMAL)),
        ("setup::grading::ON_GRAVEL", band(setup::ON_GRAVEL)),
        (
            "setup::cutting::SOFT_LIMIT",
            format!("{} degrees", setup::SOFT_LIMIT.in_degrees()),
        ),
        (
            "setup::layers::FIRST_GUESS",
            format!("{} mm", setup::FIRST_GUESS.in_millimetres()),
        ),
        (
            "setup::speed::ON_GRAVEL_AT_MOST",
            format!("{} km/h", setup::ON_GRAVEL_AT_MOST.0),
        ),
        ("oiling::LATE_AFTER", minutes(oiling::LATE_AFTER)),
        ("oiling::SAME_BREAK_WITHIN", "1 h".to_string()),
        ("oiling::MOMENT", "1 s".to_string()),
        (
            "work::FULL_WIDTH_FROM",
            format!("{} °C", FULL_WIDTH_FROM.in_celsius()),
        ),
        (
            "machine::SHORT_PLATE",
            format!("{} mm", SHORT_PLATE.in_millimetres()),
        ),
        (
            "quantity::STANDARD_GRAVITY",
            format!("{STANDARD_GRAVITY} m/s²"),
        ),
        (
            "tilt::FLOOR_DEGREES",
            format!("{} degrees", tilt::FLOOR_DEGREES),
        ),
        ("cold::LIMITS", classes.join("; ")),
        (
            "setup::oilings::CLEAN",
            "low 1, planned 2, high 2 oilings a shift".to_string(),
        ),
        ("setup::plates::MILLING", "1 plate".to_string()),
        ("wear::RUN", "3 to 16 teeth".to_string()),
        ("cost::LEAST_DONE", "0.001 h, 0.001 km, 1 m²".to_string()),
        ("machine::MOLDBOARDS", "1,200 to 8,000 mm".to_string()),
        ("quantity::TEMPERATURES", "\u{2212}70 to 90 °C".to_string()),
        ("quantity::Length::ZERO", "0 mm".to_string()),
        ("statistics::LARGEST_COORDINATE", "10³⁰".to_string()),
        ("statistics::LEAST_RANGE", "10⁻³⁰".to_string()),
        // It stands inside a function that takes a function.
        ("statistics::STEEPEST", "10²⁰⁰".to_string()),
    ] {
        assert_eq!(all.get(id), Some(&value.as_str()), "{id}");
    }
}

#[test]
fn what_is_shown_is_plain_english_and_no_code() {
    let listing = listing();
    for group in listing.numbers.iter().chain(&listing.statements) {
        assert!(!group.title.is_empty(), "{}", group.id);
        for entry in &group.entries {
            for text in [
                &group.title,
                &entry.value,
                &entry.sentence,
                &entry.stated.note,
            ] {
                let is_code = ["`", "::", "[", "_", "None", "Some("]
                    .iter()
                    .any(|it| text.contains(it));
                assert!(!is_code, "{}: {text}", entry.id);
            }
            assert!(
                entry.sentence.ends_with('.'),
                "{}: {}",
                entry.id,
                entry.sentence
            );
        }
    }
}

#[test]
fn a_number_named_in_a_sentence_stands_there_with_its_value() {
    let listing = listing();
    let over_soft = entries(&listing.numbers).find(|it| it.id == "setup::cutting::OVER_SOFT");
    let note = over_soft.map(|it| it.stated.note.as_str());
    assert_eq!(note, Some("under 40 degrees with room for error"));
}

#[test]
fn every_published_line_names_a_source_and_every_source_is_named() {
    let listing = listing();
    let mut named = BTreeSet::new();
    for entry in entries(&listing.numbers).chain(entries(&listing.statements)) {
        let is_published = entry.stated.class == Class::Published;
        assert_eq!(
            is_published,
            !entry.stated.sources.is_empty(),
            "{}",
            entry.id
        );
        named.extend(entry.stated.sources.iter().map(|it| key(*it)));
    }
    assert_eq!(named, Source::ALL.into_iter().map(key).collect());
}

fn says(stated: &Stated, basis: Basis) -> bool {
    match basis {
        Basis::CommonPractice => stated.class == Class::CommonPractice,
        Basis::Published(source) => stated.sources == [source],
        Basis::Geometry => stated.class == Class::Geometry,
        Basis::HouseDefault => stated.class == Class::HouseDefault,
    }
}

/// The entries of a kind by the name of the variant; one with a basis of its own for some values has two.
fn by_variant<'a>(listing: &'a Listing, kind: &str) -> BTreeMap<&'a str, Vec<&'a Entry>> {
    let group = listing
        .statements
        .iter()
        .find(|it| it.id == kind)
        .expect("the kind");
    let mut found: BTreeMap<_, Vec<_>> = BTreeMap::new();
    for entry in &group.entries {
        let name = entry.id.rsplit("::").next().expect("a name");
        let name = name.split(',').next().expect("a variant");
        found.entry(name).or_default().push(entry);
    }
    found
}

/// Holds what was given against what is listed, each way.
#[track_caller]
fn check_kind(kind: &str, given: &HashSet<(String, Basis)>) {
    let listing = listing();
    let listed = by_variant(&listing, kind);
    let bases: usize = listed.values().map(Vec::len).sum();
    assert_eq!(bases, given.len(), "{kind}");
    for (name, basis) in given {
        let found = listed[name.as_str()]
            .iter()
            .any(|it| says(&it.stated, *basis));
        assert!(found, "{kind}::{name} is not listed as {basis:?}");
    }
}

fn variant(of: impl std::fmt::Debug) -> String {
    let told = format!("{of:?}");
    told.split(' ').next().unwrap_or_default().to_string()
}

fn mm(mm: f64) -> Option<Length> {
    Length::millimetres(mm).ok()
}

/// Conditions that differ in what belongs together; what does not matter to a work is left unknown.
fn conditions() -> Vec<Conditions> {
    let unknown = Conditions::default();
    let softness = [None, Some(true), Some(false)];
    let ends = [None, Some(End::Left), Some(End::Right)];
    let mut found = Vec::new();
    for soft in softness {
        let base = Conditions { soft, ..unknown };
        for cutting_end in ends {
            let base = Conditions {
                cutting_end,
                ..base
            };
            for surface in [-20, 10, 20].map(Temperature::whole_celsius) {
                found.push(Conditions {
                    surface: Some(surface),
                    ..base
                });
            }
            for strip in [None, mm(300.0), mm(5000.0)] {
                found.push(Conditions { strip, ..base });
            }
        }
        for path in [mm(1500.0), mm(10_000.0)] {
            found.push(Conditions { path, ..base });
        }
        for moisture in [None, Some(Moisture::Dusty), Some(Moisture::Moist)] {
            for stones in [None, Some(Stones::Few), Some(Stones::Many)] {
                found.push(Conditions {
                    moisture,
                    stones,
                    ..base
                });
            }
        }
        for skids in [None, Some(true), Some(false)] {
            for (layer, bite) in [
                (None, None),
                (mm(150.0), None),
                (mm(150.0), mm(40.0)),
                (mm(20.0), None),
            ] {
                found.push(Conditions {
                    skids,
                    layer,
                    bite,
                    ..base
                });
            }
        }
    }
    found
}

#[test]
fn every_reason_and_caution_of_any_sheet_is_listed_with_the_basis_that_it_has() {
    let (mut reasons, mut cautions) = (HashSet::new(), HashSet::new());
    for feet in [8, 12, 13] {
        let machine = Machine::with_moldboard(FOOT.times(feet)).expect("a machine");
        for work in Work::ALL {
            for known in conditions() {
                let sheet = advise(work, &known, &machine);
                let speed = sheet.speed.iter().flat_map(Line::because);
                let because = [
                    sheet.verdict.because(),
                    sheet.teeth.because(),
                    sheet.plates.because(),
                    sheet.cutting.because(),
                    sheet.grading.because(),
                    sheet.tracks.because(),
                    sheet.layers.because(),
                    sheet.oilings.because(),
                    sheet.oil.because(),
                    sheet.looks_per_interval.because(),
                ];
                let because = because.into_iter().flatten().chain(speed);
                reasons.extend(because.map(|it| (variant(it), it.basis())));
                cautions.extend(sheet.cautions.iter().map(|it| (variant(it), it.basis())));
            }
        }
    }
    check_kind("setup::Reason", &reasons);
    check_kind("setup::cautions::Caution", &cautions);
}

#[test]
fn every_item_of_the_checklists_is_listed_with_the_basis_that_it_has() {
    let items = [List::Opening, List::Closing, List::LayingUp]
        .map(List::items)
        .concat();
    let items = items.into_iter().map(|it| (variant(it), it.basis()));
    check_kind("checklist::Item", &items.collect());
}

#[test]
fn the_file_of_the_app_has_every_line_whole_and_every_id_once() {
    let listing = listing();
    let file = told::file(&listing);
    let mut ids = BTreeSet::new();
    let mut counts: BTreeMap<&str, usize> = BTreeMap::new();
    for line in file.lines() {
        let parts: Vec<_> = line.split('\t').collect();
        let expect = match parts[0] {
            "group" => 3,
            "number" => 7,
            "statement" | "source" => 6,
            other => panic!("{other}"),
        };
        assert_eq!(parts.len(), expect, "{line}");
        assert!(ids.insert(parts[1]), "{} stands twice", parts[1]);
        *counts.entry(parts[0]).or_default() += 1;
    }
    assert_eq!(counts["number"], entries(&listing.numbers).count());
    assert_eq!(counts["statement"], entries(&listing.statements).count());
    assert_eq!(counts["source"], Source::ALL.len());
    let late = "number\toiling::LATE_AFTER\t10 min\tAn oiling counts as late after this, and as early before it.\thouse\t\t";
    assert!(file.lines().any(|line| line == late));
}
