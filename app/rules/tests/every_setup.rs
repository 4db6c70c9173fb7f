//! What holds on the set-up sheet under every combination of conditions.
//!
//! Never here: comparisons between two sheets (`neighbouring_setups`), tables of numbers (`published`,
//! `setup_tables`), and inputs that no operator could give (`no_panic`).

mod walk;

use std::sync::LazyLock;

use evenrow_rules::angle::AngleBand;
use evenrow_rules::machine::{effective_width, fit, teeth_on};
use evenrow_rules::quantity::Length;
use evenrow_rules::setup::{Caution, FIRST_GUESS, Layout, Line, Reason, Sheet, Verdict, advise};
use evenrow_rules::source::Basis;
use evenrow_rules::work::{Conditions, End, Moisture, Question, Stones, Work, questions};
use walk::{Axis, Bands, Case};

static BANDS: LazyLock<Bands> = LazyLock::new(Bands::all);

// The whole product has 53 million cases, too many to walk. It is walked in two smaller products that share all that
// could tie them together:
//
// - PLACE: the work, what decides whether and where plates go, and the machine;
// - TIME: the work, the ground, the layer and the moisture.
//
// In each, the axes left out turn through their values. That nothing ties the rest together is no assumption:
// `what_is_not_walked_together_does_not_touch` compares sheets to prove it, over an even sample of the whole product.
const PLACE: &[Axis] = &[
    Axis::Work,
    Axis::Surface,
    Axis::Soft,
    Axis::Stones,
    Axis::Path,
    Axis::Strip,
    Axis::CuttingEnd,
    Axis::Machine,
];
const TIME: &[Axis] = &[
    Axis::Work,
    Axis::Surface,
    Axis::Soft,
    Axis::Stones,
    Axis::Layer,
    Axis::Skids,
    Axis::Bite,
    Axis::Moisture,
];

/// Every so-manieth case of the whole product: a prime that divides the size of no axis.
const SAMPLE: usize = 997;

/// A sentence that holds on every sheet it speaks of.
struct Promise {
    says: &'static str,
    source: &'static str,
    of: fn(&Case) -> bool,
    kept: fn(&Case, &Sheet) -> bool,
}

const CP: &str = "common practice, no published source";
const HOUSE: &str = "house default";
const GEOMETRY: &str = "plane geometry";
const MANUALS: &str = "gravel road manuals, value from memory";
const RULES: &str = "29 CFR 1926.600(a)(3)(i) for the first; house default that it is always shown";
const OURS: &str = "this project's own promise: no answer without its reason";

const PROMISES: &[Promise] = &[
    Promise {
        says: "the grading angle is always under 80 degrees, at the top of its range too",
        source: CP,
        of: always,
        kept: |_, sheet| {
            let band = sheet.grading.value();
            in_order(*band) && band.high().in_degrees() < 80.0
        },
    },
    Promise {
        says: "wherever a soft surfacing is to be kept the cutting angle is under 40 degrees, at the top of its range too",
        source: CP,
        of: spares_something_soft,
        kept: |_, sheet| {
            let band = sheet.cutting.value();
            in_order(*band) && band.high().in_degrees() < 40.0
        },
    },
    Promise {
        says: "nothing asks for a cutting angle above the range about fifty degrees",
        source: HOUSE,
        of: always,
        kept: |_, sheet| {
            let band = sheet.cutting.value();
            in_order(*band) && 30.0 < band.low().in_degrees() && band.high().in_degrees() <= 53.0
        },
    },
    Promise {
        says: "a surfacing below 15 degrees, of unknown warmth, stiff or of unknown softness is milled with one plate at most",
        source: CP,
        of: |case| case.work == Work::SoftMilling && !warm_and_soft(&case.known),
        kept: |_, sheet| sheet.plates.value().toothed() <= 1,
    },
    Promise {
        says: "a surfacing of 15 degrees or more that is soft is milled with every plate",
        source: CP,
        of: |case| case.work == Work::SoftMilling && warm_and_soft(&case.known),
        kept: |case, sheet| is_full(case, sheet.plates.value()),
    },
    Promise {
        says: "below 5 degrees the sheet says do not mill, and no plate carries teeth",
        source: HOUSE,
        of: too_cold_to_mill,
        kept: |_, sheet| {
            *sheet.verdict.value() == Verdict::DoNot
                && sheet.plates.value().toothed() == 0
                && sheet.plates.value().working == Length::ZERO
        },
    },
    Promise {
        says: "nothing else is forbidden, and some tooth is at work",
        source: CP,
        of: |case| !too_cold_to_mill(case),
        kept: |_, sheet| {
            *sheet.verdict.value() != Verdict::DoNot && 0 < sheet.plates.value().teeth()
        },
    },
    Promise {
        says: "tight stone and stone bases get wide flanges and nothing else",
        source: CP,
        of: |case| matches!(case.work, Work::TightStone | Work::StoneBase),
        kept: |_, sheet| sheet.teeth.value().iter().all(|kind| kind.is_wide()),
    },
    Promise {
        says: "milling gets pointed tips and nothing else",
        source: CP,
        of: |case| case.work == Work::SoftMilling,
        kept: |_, sheet| sheet.teeth.value().iter().all(|kind| kind.is_pointed()),
    },
    Promise {
        says: "some kind of tooth is always named, and none twice",
        source: OURS,
        of: always,
        kept: |_, sheet| !sheet.teeth.value().is_empty() && nothing_twice(sheet.teeth.value()),
    },
    Promise {
        // That it is fuel oil needs no check: the type has that one value, and has no room for anything thicker.
        says: "the line about the oil says that anything thicker stops the tooth",
        source: CP,
        of: always,
        kept: |_, sheet| sheet.oil.because().contains(&Reason::ThickerStopsTheTooth),
    },
    Promise {
        says: "gravel and stone bases are oiled two or three times a shift",
        source: "common practice, no published source, for gravel; house default for the stone base",
        of: |case| case.work.is_gravel() || case.work == Work::StoneBase,
        kept: |_, sheet| {
            let it = sheet.oilings.value();
            (it.low, it.high) == (2, 3) && it.low <= it.planned && it.planned <= it.high
        },
    },
    Promise {
        says: "everything else is oiled once or twice a shift, and never not at all",
        source: "common practice, no published source, for once; house default for twice",
        of: |case| !case.work.is_gravel() && case.work != Work::StoneBase,
        kept: |_, sheet| {
            let it = sheet.oilings.value();
            (it.low, it.planned, it.high) == (1, 2, 2)
        },
    },
    Promise {
        says: "gravel that is dusty, or of which nobody knows, plans the third oiling",
        source: HOUSE,
        of: |case| case.work.is_dusty() && case.known.moisture != Some(Moisture::Moist),
        kept: |_, sheet| sheet.oilings.value().planned == 3,
    },
    Promise {
        says: "the teeth are looked at twice in an oiling interval",
        source: HOUSE,
        of: always,
        kept: |_, sheet| *sheet.looks_per_interval.value() == 2,
    },
    Promise {
        says: "a road's edge is cut with one or two plates, neighbours, at the end that cuts",
        source: CP,
        of: |case| case.work == Work::RoadEdge,
        kept: |case, sheet| {
            let count = sheet.plates.value().toothed();
            (1..=2).contains(&count) && sits_at_the_end(case, sheet.plates.value(), count)
        },
    },
    Promise {
        says: "a strip that the plate at that end covers, or of unknown width, gets one plate; a wider one gets the second",
        source: HOUSE,
        of: |case| case.work == Work::RoadEdge,
        kept: |case, sheet| {
            let plates = fit(&case.machine).plates;
            let end = match case.known.cutting_end.unwrap_or(End::Right) {
                End::Left => plates[0],
                End::Right => plates[plates.len() - 1],
            };
            let covers = effective_width(end, sheet.grading.value().target());
            let wider = case.known.strip.is_some_and(|strip| covers < strip);
            sheet.plates.value().toothed() == if wider { plates.len().min(2) } else { 1 }
        },
    },
    Promise {
        says: "the one plate that mills sits at the end that cuts",
        source: HOUSE,
        of: |case| {
            case.work == Work::SoftMilling && !warm_and_soft(&case.known) && !too_cold_to_mill(case)
        },
        kept: |case, sheet| sits_at_the_end(case, sheet.plates.value(), 1),
    },
    Promise {
        says: "works that want the full row get every plate that fits",
        source: HOUSE,
        of: |case| {
            case.work.is_snow()
                || case.work.is_gravel()
                || matches!(case.work, Work::StoneBase | Work::RuttedPavement)
        },
        kept: |case, sheet| is_full(case, sheet.plates.value()),
    },
    Promise {
        says: "every plate named is on the board, in order, and holds no more teeth than it has room for",
        source: GEOMETRY,
        of: always,
        kept: fits_on_the_board,
    },
    Promise {
        says: "the plates and the bare rest together are as long as the moldboard",
        source: GEOMETRY,
        of: always,
        kept: |case, sheet| {
            let layout = sheet.plates.value();
            let plates: f64 = layout
                .spots
                .iter()
                .map(|it| it.length.in_millimetres())
                .sum();
            close(
                plates + layout.bare.in_millimetres(),
                case.machine.moldboard(),
            )
        },
    },
    Promise {
        says: "the working width is what the toothed length covers at the grading angle aimed for",
        source: GEOMETRY,
        of: always,
        kept: |case, sheet| {
            let width =
                effective_width(toothed_length(case, sheet), sheet.grading.value().target());
            close(width.in_millimetres(), sheet.plates.value().working)
        },
    },
    Promise {
        says: "the row is never wider than the path, unless one tooth alone is",
        source: CP,
        of: |case| case.work == Work::Path && case.known.path.is_some(),
        kept: |case, sheet| {
            let layout = sheet.plates.value();
            // A nanometre of float noise is far below any tape.
            layout.teeth() == 1
                || layout.working.in_millimetres()
                    <= case.known.path.unwrap().in_millimetres() + 1e-6
        },
    },
    Promise {
        says: "teeth stand side by side: none is left out between the first and the last",
        source: OURS,
        of: |case| !too_cold_to_mill(case),
        kept: |_, sheet| {
            let places = places(sheet.plates.value());
            places.windows(2).all(|pair| pair[1] == pair[0] + 1)
        },
    },
    Promise {
        says: "a row narrowed to a path leaves as many teeth out on the left as on the right, or one fewer",
        source: HOUSE,
        of: |case| case.work == Work::Path && case.known.path.is_some(),
        kept: |case, sheet| {
            let places = places(sheet.plates.value());
            let (first, last) = (places[0], places[places.len() - 1]);
            let right = fit(&case.machine).full_row() - 1 - last;
            first == right || first + 1 == right
        },
    },
    Promise {
        says: "the plates on a path are neighbours in the middle of the board",
        source: HOUSE,
        of: |case| case.work == Work::Path,
        kept: |_, sheet| sits_in_the_middle(sheet.plates.value()),
    },
    Promise {
        says: "tracks lie a pitch times the sine of the grading angle apart",
        source: GEOMETRY,
        of: always,
        kept: |case, sheet| {
            let sine = sheet
                .grading
                .value()
                .target()
                .in_degrees()
                .to_radians()
                .sin();
            let tracks = case.machine.pitch().in_millimetres() * sine;
            close(tracks, *sheet.tracks.value())
        },
    },
    Promise {
        says: "there is always at least one layer",
        source: OURS,
        of: always,
        kept: |_, sheet| 1 <= sheet.layers.value().count,
    },
    Promise {
        says: "snow on which the edge skids comes off in more than one layer",
        source: CP,
        of: |case| case.work.is_snow() && case.known.skids == Some(true),
        kept: |_, sheet| 2 <= sheet.layers.value().count,
    },
    Promise {
        says: "snow on which the edge bites, and everything that is no snow, comes off in one layer",
        source: CP,
        of: |case| !case.work.is_snow() || case.known.skids == Some(false),
        kept: |_, sheet| sheet.layers.value().count == 1,
    },
    Promise {
        says: "the layers together are the layer that was measured",
        source: GEOMETRY,
        of: |case| case.work.is_snow() && case.known.layer.is_some(),
        kept: |case, sheet| {
            let layers = sheet.layers.value();
            let together = f64::from(layers.count) * layers.each.unwrap().in_millimetres();
            // Each is kept in whole micrometres.
            (together - case.known.layer.unwrap().in_millimetres()).abs()
                <= f64::from(layers.count) / 1000.0
        },
    },
    Promise {
        says: "no layer is thicker than what bites, unless the edge was seen to bite",
        source: "common practice, no published source; the first guess of what bites is a house default",
        of: |case| case.work.is_snow() && case.known.skids != Some(false),
        kept: |case, sheet| {
            let bite = case.known.bite.unwrap_or(FIRST_GUESS);
            sheet.layers.value().each.is_none_or(|each| each <= bite)
        },
    },
    Promise {
        says: "a layer is called thicker than what bites where it is, unless the edge was tried",
        source: OURS,
        of: |case| case.work.is_snow(),
        kept: |case, sheet| {
            let bite = case.known.bite.unwrap_or(FIRST_GUESS);
            let thicker = case.known.layer.filter(|&layer| bite < layer);
            let thicker = thicker.filter(|_| case.known.skids.is_none());
            let said = sheet.layers.because().iter();
            let said = said.filter(|it| matches!(it, Reason::ThickerThanBite { .. }));
            said.count() == usize::from(thicker.is_some())
        },
    },
    Promise {
        says: "a guessed bite is called a guess wherever it decided",
        source: OURS,
        of: |case| {
            let decided = case.known.skids == Some(true) || case.known.layer.is_some();
            case.work.is_snow()
                && case.known.skids != Some(false)
                && case.known.bite.is_none()
                && decided
        },
        kept: |_, sheet| {
            let guess = Reason::BiteGuessed { bite: FIRST_GUESS };
            sheet.layers.because().contains(&guess)
        },
    },
    Promise {
        says: "gravel is graded at 8 km/h at most",
        source: MANUALS,
        of: |case| case.work.is_gravel(),
        kept: |_, sheet| sheet.speed.as_ref().is_some_and(|it| it.value().0 == 8),
    },
    Promise {
        says: "where no source gives a speed none is shown",
        source: OURS,
        of: |case| !case.work.is_gravel(),
        kept: |_, sheet| sheet.speed.is_none(),
    },
    Promise {
        says: "every line has a reason, and none of them twice",
        source: OURS,
        of: always,
        kept: |_, sheet| {
            reasons(sheet)
                .iter()
                .all(|line| !line.is_empty() && nothing_twice(line))
        },
    },
    Promise {
        says: "a line whose target is ours says so",
        source: OURS,
        of: always,
        kept: |_, sheet| {
            let says_house =
                |because: &[Reason]| because.iter().any(|it| it.basis() == Basis::HouseDefault);
            says_house(sheet.cutting.because())
                && says_house(sheet.grading.because())
                && says_house(sheet.oilings.because())
                && says_house(sheet.looks_per_interval.because())
        },
    },
    Promise {
        says: "a second plate on a road's edge is spoken of where a second plate is, and only there",
        source: OURS,
        of: |case| case.work == Work::RoadEdge,
        kept: |_, sheet| {
            let spoken_of = sheet
                .plates
                .because()
                .iter()
                .any(|it| matches!(it, Reason::StripNeedsTwo { .. }));
            spoken_of == (sheet.plates.value().toothed() == 2)
        },
    },
    Promise {
        says: "making the machine safe, and who decides in the end, are always among the cautions",
        source: RULES,
        of: always,
        kept: |_, sheet| {
            [
                Caution::MakeItSafeFirst,
                Caution::EyeProtection,
                Caution::CoolBeforeOiling,
                Caution::CatchDrips,
                Caution::TrafficProtection,
                Caution::OthersDecide,
            ]
            .iter()
            .all(|it| sheet.cautions.contains(it))
        },
    },
    Promise {
        says: "never backwards, and an eye on the down-pressure, wherever there is work to do",
        source: CP,
        of: |case| !too_cold_to_mill(case),
        kept: |_, sheet| {
            [
                Caution::NeverBackwards,
                Caution::WatchDownPressure,
                Caution::SmallErrorsShow,
            ]
            .iter()
            .all(|it| sheet.cautions.contains(it))
        },
    },
    Promise {
        says: "no caution is said twice",
        source: OURS,
        of: always,
        kept: |_, sheet| nothing_twice(&sheet.cautions),
    },
    Promise {
        says: "pavement that can be harmed is spoken of where something soft is spared, and on ruts, and nowhere else",
        source: CP,
        of: always,
        kept: |case, sheet| {
            let harmed = spares_something_soft(case) || case.work == Work::RuttedPavement;
            says(sheet, Caution::PavementCanBeHarmed) == harmed
        },
    },
    Promise {
        says: "where nothing is to be done the sheet does not say how to do it",
        source: OURS,
        of: too_cold_to_mill,
        kept: |_, sheet| {
            [
                Caution::NeverBackwards,
                Caution::WatchDownPressure,
                Caution::SmallErrorsShow,
                Caution::MeasureTheSurface,
                Caution::TryTheSurfacing,
                Caution::SayWhichEndCuts,
            ]
            .iter()
            .all(|&it| !says(sheet, it))
        },
    },
    Promise {
        says: "less at a time is spoken of on snow until the edge was seen to bite, and nowhere else",
        source: CP,
        of: always,
        kept: |case, sheet| {
            let may_skid = case.work.is_snow() && case.known.skids != Some(false);
            says(sheet, Caution::SkiddingMeansLess) == may_skid
        },
    },
    Promise {
        says: "the path is to be measured until it was, and nowhere else",
        source: HOUSE,
        of: always,
        kept: |case, sheet| {
            let unmeasured = case.work == Work::Path && case.known.path.is_none();
            says(sheet, Caution::MeasureThePath) == unmeasured
        },
    },
    Promise {
        says: "before milling, the surface is to be measured and the surfacing tried until they were, and nowhere else",
        source: HOUSE,
        of: |case| !too_cold_to_mill(case),
        kept: |case, sheet| {
            let mills = case.work == Work::SoftMilling;
            let measure = mills && case.known.surface.is_none();
            let try_it = mills && case.known.soft.is_none();
            says(sheet, Caution::MeasureTheSurface) == measure
                && says(sheet, Caution::TryTheSurfacing) == try_it
        },
    },
    Promise {
        says: "which end cuts is to be said on a road's edge, and where milling leaves plates out, until it was",
        source: HOUSE,
        of: always,
        kept: |case, sheet| {
            let plates = sheet.plates.value();
            let some = 0 < plates.toothed() && plates.toothed() < plates.spots.len();
            let at_an_end = case.work == Work::RoadEdge || case.work == Work::SoftMilling && some;
            let wanted = at_an_end && case.known.cutting_end.is_none();
            says(sheet, Caution::SayWhichEndCuts) == wanted
        },
    },
    Promise {
        says: "that gravel is best worked moist is said until it is known to be moist, and nowhere else",
        source: "Road Management & Engineering Journal, June 2000; that not knowing counts as dry is ours",
        of: always,
        kept: |case, sheet| {
            let not_moist = case.known.moisture != Some(Moisture::Moist);
            says(sheet, Caution::BestWorkedMoist) == (case.work.is_gravel() && not_moist)
        },
    },
    Promise {
        says: "many stones on gravel mean care, a lower angle, and teeth that keep turning",
        source: CP,
        of: |case| {
            case.work == Work::StonyGravel
                || case.work == Work::Gravel && case.known.stones == Some(Stones::Many)
        },
        kept: |_, sheet| {
            *sheet.verdict.value() == Verdict::WithCare
                && sheet.cutting.value().high().in_degrees() < 47.0
                && sheet.cautions.contains(&Caution::KeepThemTurning)
        },
    },
];

fn always(_: &Case) -> bool {
    true
}

/// Source: common practice, no published source; that milling on purpose spares nothing, and that an unknown surfacing
/// counts as soft where the question is asked, are our reading.
fn spares_something_soft(case: &Case) -> bool {
    let asked = questions(case.work, &case.known).contains(&Question::Soft);
    case.work != Work::SoftMilling
        && (case.work == Work::PackedSnowOnSoft
            || case.known.soft == Some(true)
            || asked && case.known.soft.is_none())
}

fn warm_and_soft(known: &Conditions) -> bool {
    let warm = known.surface.is_some_and(|it| 15.0 <= it.in_celsius());
    warm && known.soft == Some(true)
}

fn too_cold_to_mill(case: &Case) -> bool {
    let surface = case.known.surface;
    case.work == Work::SoftMilling && surface.is_some_and(|it| it.in_celsius() < 5.0)
}

fn in_order(band: AngleBand) -> bool {
    band.low() <= band.target() && band.target() <= band.high()
}

fn close(millimetres: f64, length: Length) -> bool {
    (millimetres - length.in_millimetres()).abs() < 1e-6
}

fn nothing_twice<Item: PartialEq>(items: &[Item]) -> bool {
    items
        .iter()
        .enumerate()
        .all(|(at, item)| !items[at + 1..].contains(item))
}

fn says(sheet: &Sheet, caution: Caution) -> bool {
    sheet.cautions.contains(&caution)
}

/// The places along the row that carry a tooth, from the left, the first being 0.
fn places(layout: &Layout) -> Vec<u32> {
    let mut start = 0;
    let mut places = Vec::new();
    for spot in &layout.spots {
        let first = start + spot.skipped;
        places.extend(first..first + spot.teeth);
        start += spot.room;
    }
    places
}

fn is_full(case: &Case, layout: &Layout) -> bool {
    layout.teeth() == fit(&case.machine).full_row() && layout.toothed() == layout.spots.len()
}

/// Toothed plates without a gap, from the given end inwards; the right end where nobody said (house default).
fn sits_at_the_end(case: &Case, layout: &Layout, count: usize) -> bool {
    let all = layout.spots.len();
    let expect: Vec<usize> = match case.known.cutting_end.unwrap_or(End::Right) {
        End::Left => (1..=count).collect(),
        End::Right => (all + 1 - count..=all).collect(),
    };
    layout.toothed_at() == expect
}

fn sits_in_the_middle(layout: &Layout) -> bool {
    let at = layout.toothed_at();
    let (first, last) = (at[0], at[at.len() - 1]);
    let (left, right) = (first - 1, layout.spots.len() - last);
    at.len() == last + 1 - first && left.abs_diff(right) <= 1
}

fn fits_on_the_board(case: &Case, sheet: &Sheet) -> bool {
    let layout = sheet.plates.value();
    let fit = fit(&case.machine);
    let lengths: Vec<Length> = layout.spots.iter().map(|it| it.length).collect();
    let at = layout.toothed_at();
    lengths == fit.plates
        && at.len() == layout.toothed()
        && at
            .iter()
            .all(|number| (1..=layout.spots.len()).contains(number))
        && at.windows(2).all(|pair| pair[0] < pair[1])
        && layout.spots.iter().all(|it| {
            it.room == teeth_on(it.length, case.machine.pitch())
                && it.skipped + it.teeth <= it.room
                && (0 < it.teeth || it.skipped == 0)
        })
}

/// What the teeth take along the moldboard: a pitch each.
fn toothed_length(case: &Case, sheet: &Sheet) -> Length {
    case.machine.pitch().times(sheet.plates.value().teeth())
}

/// The reasons of every line of a sheet.
fn reasons(sheet: &Sheet) -> Vec<&[Reason]> {
    fn of<Value>(line: &Line<Value>) -> &[Reason] {
        line.because()
    }
    let Sheet {
        verdict,
        teeth,
        plates,
        cutting,
        grading,
        tracks,
        layers,
        oilings,
        oil,
        looks_per_interval,
        speed,
        cautions: _,
    } = sheet;
    let mut all = vec![
        of(verdict),
        of(teeth),
        of(plates),
        of(cutting),
        of(grading),
        of(tracks),
        of(layers),
        of(oilings),
        of(oil),
        of(looks_per_interval),
    ];
    all.extend(speed.as_ref().map(of));
    all
}

/// Every promise is kept on every case, and every promise speaks of some case.
#[track_caller]
fn keep_every_promise(cases: impl Iterator<Item = Case>) {
    let mut spoken_of = vec![0_u32; PROMISES.len()];
    for case in cases {
        let sheet = case.sheet();
        for (promise, count) in PROMISES.iter().zip(&mut spoken_of) {
            if (promise.of)(&case) {
                *count += 1;
                assert!(
                    (promise.kept)(&case, &sheet),
                    "broken: {}\nsource: {}\n{case:#?}\n{sheet:#?}",
                    promise.says,
                    promise.source
                );
            }
        }
    }
    for (promise, count) in PROMISES.iter().zip(spoken_of) {
        assert!(0 < count, "nothing was said about: {}", promise.says);
    }
}

#[test]
fn every_promise_is_kept_wherever_plates_may_go() {
    keep_every_promise(BANDS.every(PLACE));
}

#[test]
fn every_promise_is_kept_for_every_ground_layer_and_moisture() {
    keep_every_promise(BANDS.every(TIME));
}

#[test]
fn every_promise_is_kept_all_over_the_whole_product() {
    keep_every_promise(BANDS.every_nth(SAMPLE));
}

/// This is what makes it right to walk PLACE and TIME apart.
#[test]
fn what_is_not_walked_together_does_not_touch() {
    let machine = BANDS.machines[0];
    for case in BANDS.every_nth(SAMPLE) {
        let sheet = case.sheet();
        let no_time = case
            .with(|it| (it.layer, it.skids, it.bite, it.moisture) = (None, None, None, None))
            .sheet();
        assert_eq!(sheet.plates, no_time.plates, "{case:?}");
        assert_eq!(sheet.tracks, no_time.tracks, "{case:?}");
        let mut no_place = case.with(|it| (it.path, it.strip, it.cutting_end) = (None, None, None));
        no_place.machine = machine;
        let no_place = no_place.sheet();
        assert_eq!(sheet.layers, no_place.layers, "{case:?}");
        assert_eq!(sheet.oilings, no_place.oilings, "{case:?}");
        // What is in both products depends on what both share.
        let neither = advise(
            case.work,
            &Conditions {
                surface: case.known.surface,
                soft: case.known.soft,
                stones: case.known.stones,
                ..Conditions::default()
            },
            &machine,
        );
        for (name, same) in [
            ("verdict", sheet.verdict == neither.verdict),
            ("teeth", sheet.teeth == neither.teeth),
            ("cutting", sheet.cutting == neither.cutting),
            ("grading", sheet.grading == neither.grading),
            ("speed", sheet.speed == neither.speed),
        ] {
            assert!(same, "{name}: {case:?}");
        }
    }
}
