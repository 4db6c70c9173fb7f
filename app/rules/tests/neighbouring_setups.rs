//! Two set-up sheets side by side: what one more answer, one degree or one millimetre may change, and what it may not.
//!
//! Never here: what holds on every single sheet (`every_setup`).

mod walk;

use std::sync::LazyLock;

use evenrow_rules::quantity::{Length, Temperature};
use evenrow_rules::setup::{Caution, NORMAL, Sheet, Verdict};
use evenrow_rules::work::{Conditions, Moisture, Question, Stones, Work, questions};
use walk::{Axis, Bands, Case, mm};

static BANDS: LazyLock<Bands> = LazyLock::new(Bands::all);

/// What can tie an answer to the plates, the angles and the verdict; the machines turn.
const PLACE: &[Axis] = &[
    Axis::Work,
    Axis::Surface,
    Axis::Soft,
    Axis::Stones,
    Axis::Path,
    Axis::Strip,
    Axis::CuttingEnd,
];

/// What can tie an answer to the layers and the oilings.
const TIME: &[Axis] = &[
    Axis::Work,
    Axis::Soft,
    Axis::Stones,
    Axis::Layer,
    Axis::Skids,
    Axis::Bite,
    Axis::Moisture,
];

/// Every so-manieth case of the whole product: a prime that divides the size of no axis.
const SAMPLE: usize = 997;

/// Takes an answer back.
type Forget = fn(&mut Conditions);

/// Every question, and how its answer is taken back.
const ANSWERS: [(Question, Forget); 10] = [
    (Question::Surface, |it| it.surface = None),
    (Question::Soft, |it| it.soft = None),
    (Question::Layer, |it| it.layer = None),
    (Question::Skids, |it| it.skids = None),
    (Question::Bite, |it| it.bite = None),
    (Question::Stones, |it| it.stones = None),
    (Question::Moisture, |it| it.moisture = None),
    (Question::Path, |it| it.path = None),
    (Question::Strip, |it| it.strip = None),
    (Question::CuttingEnd, |it| it.cutting_end = None),
];

/// How cautious a sheet is, told four ways.
#[derive(Debug)]
struct Care {
    verdict: u8,
    toothed: usize,
    cutting: f64,
    oilings: u8,
}

impl Care {
    fn of(sheet: &Sheet) -> Care {
        Care {
            verdict: match sheet.verdict.value() {
                Verdict::Suits => 0,
                Verdict::WithCare => 1,
                Verdict::DoNot => 2,
            },
            toothed: sheet.plates.value().toothed(),
            cutting: sheet.cutting.value().high().in_degrees(),
            oilings: sheet.oilings.value().planned,
        }
    }

    /// Never a lighter verdict, more plates, a steeper angle or less oil.
    fn is_no_less_than(&self, other: &Care) -> bool {
        other.verdict <= self.verdict
            && self.toothed <= other.toothed
            && self.cutting <= other.cutting
            && other.oilings <= self.oilings
    }
}

/// Compares the sheet for "I do not know" with that for an answer. Cases that know the answer, or where it is not
/// asked, are passed over.
fn check_unknown(
    question: Question,
    is_unknown: fn(&Conditions) -> bool,
    answers: &[fn(&mut Conditions)],
) {
    let mut compared = 0;
    let cases = BANDS.every(PLACE).chain(BANDS.every(TIME));
    for case in cases.filter(|case| is_unknown(&case.known)) {
        if !questions(case.work, &case.known).contains(&question) {
            continue;
        }
        let unknown = Care::of(&case.sheet());
        for answer in answers {
            let answered = Care::of(&case.with(answer).sheet());
            assert!(
                unknown.is_no_less_than(&answered),
                "{question:?}: {case:?}\nunknown {unknown:?}\nanswered {answered:?}"
            );
            compared += 1;
        }
    }
    assert!(0 < compared, "{question:?} is never asked");
}

/// Source: house default, stated at the head of `work`.
#[test]
fn who_does_not_know_whether_it_is_soft_is_sent_out_with_no_less_care() {
    check_unknown(
        Question::Soft,
        |it| it.soft.is_none(),
        &[|it| it.soft = Some(true), |it| it.soft = Some(false)],
    );
}

/// Source: house default, stated at the head of `work`.
#[test]
fn who_does_not_know_whether_it_skids_is_sent_out_with_no_less_care() {
    check_unknown(
        Question::Skids,
        |it| it.skids.is_none(),
        &[|it| it.skids = Some(true), |it| it.skids = Some(false)],
    );
}

/// Source: house default, stated at the head of `work`.
#[test]
fn who_does_not_know_whether_it_is_dusty_oils_no_less() {
    check_unknown(
        Question::Moisture,
        |it| it.moisture.is_none(),
        &[
            |it| it.moisture = Some(Moisture::Dusty),
            |it| it.moisture = Some(Moisture::Moist),
        ],
    );
}

/// What stones lie in gravel is the one question where not knowing leaves the usual angle and the lighter verdict. The
/// sheet then says what to do when stones show; plates and oil are no fewer and no less.
///
/// Source: house default; the trade says lower and with care where there are many stones, and is silent on not knowing.
#[test]
fn who_does_not_know_the_stones_is_told_to_go_lower_when_stones_show() {
    let mut compared = 0;
    for case in BANDS.every(TIME).chain(BANDS.every(PLACE)) {
        let asked = questions(case.work, &case.known).contains(&Question::Stones);
        if !asked || case.known.stones.is_some() {
            continue;
        }
        let unknown = case.sheet();
        assert!(
            unknown.cautions.contains(&Caution::StonesMeanLower),
            "{case:?}"
        );
        for stones in [Stones::Few, Stones::Many] {
            let answered = case.with(|it| it.stones = Some(stones)).sheet();
            assert!(
                !answered.cautions.contains(&Caution::StonesMeanLower),
                "{case:?}"
            );
            assert!(
                unknown.plates.value().toothed() <= answered.plates.value().toothed(),
                "{case:?}"
            );
            assert!(
                answered.oilings.value().planned <= unknown.oilings.value().planned,
                "{case:?}"
            );
            compared += 1;
        }
    }
    assert!(0 < compared);
}

/// Nobody is asked in vain for a number, and nobody gets another sheet by something that was not asked.
///
/// Two answers count even where they are not asked, and both lie on the cautious side: that a surfacing is soft, and a
/// depth that bites.
#[test]
fn nothing_that_was_not_asked_changes_the_sheet() {
    for case in BANDS.every_nth(SAMPLE) {
        let sheet = case.sheet();
        let asked = questions(case.work, &case.known);
        for (question, forget) in ANSWERS {
            let counts_unasked = question == Question::Soft && case.known.soft == Some(true)
                || question == Question::Bite && case.work.is_snow();
            if !asked.contains(&question) && !counts_unasked {
                assert_eq!(sheet, case.with(forget).sheet(), "{question:?}: {case:?}");
            }
        }
    }
}

/// Every question is asked for some work because its answer can change that work's sheet.
#[test]
fn nothing_is_asked_that_never_changes_a_sheet() {
    for work in Work::ALL {
        for (question, forget) in ANSWERS {
            let (mut asked, mut changes) = (false, false);
            for mut case in BANDS.every_nth(SAMPLE) {
                case.work = work;
                if questions(work, &case.known).contains(&question) {
                    asked = true;
                    changes |= case.sheet() != case.with(forget).sheet();
                    if changes {
                        break;
                    }
                }
            }
            assert_eq!(asked, changes, "{work:?}, {question:?}");
        }
    }
}

/// Source: common practice, no published source, for 15 degrees; house default for 5.
#[test]
fn a_colder_surface_never_gets_more_plates_or_a_lighter_verdict() {
    let tenths: Vec<Temperature> = (-200..=400)
        .map(|tenth| Temperature::celsius(f64::from(tenth) / 10.0).unwrap())
        .collect();
    let axes = [Axis::Work, Axis::Soft, Axis::CuttingEnd, Axis::Machine];
    for case in BANDS.every(&axes) {
        let sheets = tenths
            .iter()
            .map(|&it| Care::of(&case.with(|known| known.surface = Some(it)).sheet()));
        let mut colder: Option<Care> = None;
        for warmer in sheets {
            if let Some(colder) = &colder {
                assert!(
                    colder.toothed <= warmer.toothed && warmer.verdict <= colder.verdict,
                    "{case:?}: {colder:?} {warmer:?}"
                );
            }
            colder = Some(warmer);
        }
    }
}

/// How many layers, from nothing to a fifth of a metre in steps of a millimetre.
fn layer_counts(case: &Case) -> Vec<u16> {
    (0..=200)
        .map(|thick| {
            let case = case.with(|it| it.layer = Some(mm(f64::from(thick))));
            case.sheet().layers.value().count
        })
        .collect()
}

/// Source: common practice, no published source.
#[test]
fn a_thicker_layer_never_gets_fewer_layers() {
    for case in BANDS.every(&[Axis::Work, Axis::Skids, Axis::Bite]) {
        let counts = layer_counts(&case);
        assert!(counts.is_sorted(), "{case:?}: {counts:?}");
    }
}

/// Source: common practice, no published source.
#[test]
fn an_edge_that_bites_less_deep_never_gets_fewer_layers() {
    for case in BANDS.every(&[Axis::Work, Axis::Layer, Axis::Skids]) {
        let counts: Vec<u16> = (1..=60)
            .rev()
            .map(|bite| {
                let case = case.with(|it| it.bite = Some(mm(f64::from(bite))));
                case.sheet().layers.value().count
            })
            .collect();
        assert!(counts.is_sorted(), "{case:?}: {counts:?}");
    }
}

/// Source: common practice, no published source.
#[test]
fn an_edge_that_skids_never_gets_fewer_layers_than_one_that_bites() {
    for case in BANDS.every(&[Axis::Work, Axis::Layer, Axis::Bite]) {
        let count = |skids| {
            let case = case.with(|it| it.skids = skids);
            case.sheet().layers.value().count
        };
        assert!(count(Some(false)) <= count(None), "{case:?}");
        assert!(count(None) <= count(Some(true)), "{case:?}");
    }
}

/// Source: common practice, no published source.
#[test]
fn a_wider_path_never_gets_a_narrower_row() {
    for case in BANDS.every(&[Axis::Soft, Axis::Machine]) {
        let mut case = case;
        case.work = Work::Path;
        let widths: Vec<Length> = (0..=500)
            .map(|width| {
                let case = case.with(|it| it.path = Some(mm(f64::from(width) * 10.0)));
                case.sheet().plates.value().working
            })
            .collect();
        assert!(widths.is_sorted(), "{case:?}: {widths:?}");
    }
}

/// Source: house default; that it is one or two plates is common practice.
#[test]
fn a_wider_strip_never_gets_fewer_plates() {
    for case in BANDS.every(&[Axis::Soft, Axis::CuttingEnd, Axis::Machine]) {
        let mut case = case;
        case.work = Work::RoadEdge;
        let plates: Vec<usize> = (0..=300)
            .map(|width| {
                let case = case.with(|it| it.strip = Some(mm(f64::from(width) * 10.0)));
                case.sheet().plates.value().toothed()
            })
            .collect();
        assert!(plates.is_sorted(), "{case:?}: {plates:?}");
    }
}

/// Source: common practice, no published source.
#[test]
fn stones_and_softness_only_ever_lower_the_cutting_angle() {
    for case in BANDS.every(&[Axis::Work, Axis::Surface, Axis::Soft, Axis::Stones]) {
        let high = case.sheet().cutting.value().high();
        assert!(high <= NORMAL.high(), "{case:?}");
        let soft = case.with(|it| it.soft = Some(true)).sheet();
        let stony = case.with(|it| it.stones = Some(Stones::Many)).sheet();
        assert!(soft.cutting.value().high() <= high, "{case:?}");
        assert!(stony.cutting.value().high() <= high, "{case:?}");
    }
}
