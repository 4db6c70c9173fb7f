//! The evenness of a row: each pattern is found in synthetic rows of 96 and 104 teeth with scatter, and none in plain
//! scatter more often than is promised.
//!
//! The rows are made up and the limits are house defaults; nothing here is a fact about the world. Never here: the life
//! of the set (`wear`).

mod chance;
mod tries;

use chance::Chance;
use evenrow_rules::quantity::Length;
use evenrow_rules::wear::{
    Evidence, FALSE_ALARMS, FEWEST_FOR_OUTLIERS, FEWEST_FOR_PATTERN, MOST_POSITIONS, NORMAL_MAD,
    OUTLIER_TIMES, Pattern, RowRefusal, Tooth, WORTH_NAMING_MM, evenness,
};
use evenrow_rules::work::End;
use proptest::collection::vec;
use proptest::prelude::*;
use tries::tries;

impl Chance {
    fn below(&mut self, end: u16) -> u16 {
        (self.next() * f64::from(end)) as u16
    }
}

fn tooth(pos: u16, mm: f64) -> Tooth {
    Tooth {
        pos,
        tip: Length::millimetres(mm.max(0.0)).unwrap(),
    }
}

/// A row of 18 mm that is shorter by what a shape says, with scatter.
fn row(teeth: u16, scatter: f64, chance: &mut Chance, shorter: impl Fn(u16) -> f64) -> Vec<Tooth> {
    (1..=teeth)
        .map(|pos| tooth(pos, 18.0 - shorter(pos) + scatter * chance.normal()))
        .collect()
}

fn pattern(row: &[Tooth]) -> Pattern {
    evenness(row).unwrap().pattern
}

fn along(pos: u16, teeth: u16) -> f64 {
    f64::from(pos - 1) / f64::from(teeth - 1)
}

/// Each pattern, made up a hundred times with its place left to chance and a scatter of 0.4 mm.
#[track_caller]
fn found(
    name: &str,
    shorter: impl Fn(u16, u16, u16) -> f64,
    is_it: impl Fn(&Pattern, u16, u16) -> bool,
) {
    let mut chance = Chance(17);
    for teeth in [96, 104] {
        for _ in 0..100 {
            let place = chance.below(teeth);
            let row = row(teeth, 0.4, &mut chance, |pos| shorter(pos, teeth, place));
            let got = pattern(&row);
            assert!(
                is_it(&got, teeth, place),
                "{name}, {teeth} teeth, {place}: {got:?}"
            );
        }
    }
}

#[test]
fn one_end_is_found_whether_it_slopes_or_steps_and_the_right_one_is_named() {
    let right = |it: &Pattern, _, _| {
        matches!(
            it,
            Pattern::OneEnd {
                end: End::Right,
                ..
            }
        )
    };
    let left = |it: &Pattern, _, _| matches!(it, Pattern::OneEnd { end: End::Left, .. });
    found(
        "a slope over the whole row",
        |pos, teeth, _| 3.0 * along(pos, teeth),
        right,
    );
    found(
        "the same from the left",
        |pos, teeth, _| 3.0 * (1.0 - along(pos, teeth)),
        left,
    );
    found(
        "the last third",
        |pos, teeth, _| (9.0 * (along(pos, teeth) - 0.667)).max(0.0),
        right,
    );
    found(
        "the first fifth",
        |pos, teeth, _| (20.0 * (0.2 - along(pos, teeth))).max(0.0),
        left,
    );
    found(
        "an older plate on the left",
        |pos, teeth, _| if pos <= teeth / 4 { 3.0 } else { 0.0 },
        left,
    );
}

#[test]
fn both_ends_and_the_middle_are_told_apart() {
    let both = |it: &Pattern, _, _| matches!(it, Pattern::BothEnds(_));
    let middle = |it: &Pattern, _, _| matches!(it, Pattern::Middle(_));
    let from_middle = |pos, teeth| 2.0 * (along(pos, teeth) - 0.5_f64).abs();
    found(
        "a crown upside down",
        |pos, teeth, _| 3.0 * from_middle(pos, teeth).powi(2),
        both,
    );
    found(
        "the outer fifths",
        |pos, teeth, _| (15.0 * (from_middle(pos, teeth) - 0.6)).max(0.0),
        both,
    );
    found(
        "a crowned road",
        |pos, teeth, _| 3.0 * (1.0 - from_middle(pos, teeth).powi(2)),
        middle,
    );
    found(
        "the middle plates",
        |pos, teeth, _| {
            if from_middle(pos, teeth) < 0.5 {
                2.5
            } else {
                0.0
            }
        },
        middle,
    );
}

#[test]
fn a_run_of_stuck_teeth_is_found_with_its_ends_wherever_it_lies() {
    // A longer one keeps away from the ends.
    for (length, away) in [(3, 0), (4, 0), (5, 0), (8, 0), (12, 3), (16, 3)] {
        let first = move |teeth: u16, place: u16| 1 + place.clamp(away, teeth - length - away);
        found(
            "a run",
            |pos, teeth, place| {
                let first = first(teeth, place);
                if (first..first + length).contains(&pos) {
                    4.0
                } else {
                    0.0
                }
            },
            |it, teeth, place| {
                let from = first(teeth, place);
                matches!(*it, Pattern::StuckRun { first, last, .. } if first == from && last == from + length - 1)
            },
        );
    }
}

/// House default: which shapes are looked for. In a row of 97 teeth a quarter of the way is the 25th tooth exactly, and it
/// belongs to the rest of the row. Little wear, so that none of it is held back as a broken tooth would be.
#[test]
fn a_row_worn_just_as_one_of_the_shapes_has_it_is_explained_to_the_last_bit() {
    let ramp = |distance: f64, over: f64| (1.0 - distance / over).max(0.0);
    let explained = |name: &str, depth: &dyn Fn(f64) -> f64| {
        let row: Vec<Tooth> = (1..=97)
            .map(|pos| tooth(pos, 18.0 - 0.7 * depth(along(pos, 97))))
            .collect();
        let Pattern::NoPattern(Some(evidence)) = pattern(&row) else {
            panic!("{name}: seven tenths of a millimetre are not worth naming");
        };
        // Tips are kept to a micrometre, which is what is left of a slope; of a step nothing is.
        assert!(1_000.0 < evidence.t, "{name}: {evidence:?}");
        evidence.t
    };
    for over in [1.0, 0.5, 0.25] {
        explained("a slope to the left", &|it| ramp(it, over));
        explained("a slope to the right", &|it| ramp(1.0 - it, over));
    }
    for over in [0.5, 0.25] {
        explained("slopes to both ends", &|it| ramp(it.min(1.0 - it), over));
        explained("slopes to the middle", &|it| ramp((it - 0.5).abs(), over));
    }
    for (name, from, to) in [
        ("the left quarter", -0.1, 0.25),
        ("the right quarter", 0.75, 1.1),
        ("the middle half", 0.25, 0.75),
    ] {
        let inside = |it| if from < it && it < to { 1.0 } else { 0.0 };
        assert!(1e6 <= explained(name, &inside), "{name}");
    }
}

/// House default: a third of a plate and more at an end is the end, not a run.
#[test]
fn a_long_run_at_an_end_is_that_end() {
    for length in [10, 12, 16, 20] {
        found(
            "a run at the left end",
            |pos, _, _| if pos <= length { 4.0 } else { 0.0 },
            |it, _, _| matches!(it, Pattern::OneEnd { end: End::Left, .. }),
        );
    }
}

/// House default: longer than 8, and fewer than 3 teeth away from an end.
#[test]
fn a_run_is_an_end_only_if_it_is_longer_than_eight_and_less_than_three_teeth_away_from_it() {
    for (length, away) in [(8, 0), (8, 2), (9, 0), (9, 2), (9, 3), (10, 2), (10, 3)] {
        for at in [End::Left, End::Right] {
            let first = match at {
                End::Left => 1 + away,
                End::Right => 97 - away - length,
            };
            let short = first..first + length;
            let row: Vec<Tooth> = (1..=96)
                .map(|pos| tooth(pos, if short.contains(&pos) { 14.0 } else { 18.0 }))
                .collect();
            let got = pattern(&row);
            let as_expected = if 8 < length && away < 3 {
                matches!(got, Pattern::OneEnd { end, .. } if end == at)
            } else {
                let last = first + length - 1;
                matches!(got, Pattern::StuckRun { first: from, last: to, .. } if (from, to) == (first, last))
            };
            assert!(as_expected, "{length} {away} {at:?}: {got:?}");
        }
    }
}

#[test]
fn every_nth_is_found_with_its_number_and_its_first_tooth() {
    for every in 2..=13 {
        found(
            "every nth",
            |pos, _, place| {
                if pos % every == place % every {
                    3.0
                } else {
                    0.0
                }
            },
            |it, _, place| {
                let from = if place % every == 0 {
                    every
                } else {
                    place % every
                };
                matches!(*it, Pattern::EveryNth { nth, first, .. } if nth == every && first == from)
            },
        );
    }
}

/// House default: one in a thousand, for normal scatter of any size and for every count of teeth. Far more scatter than
/// any row has, so that being worth naming holds nothing back; and that of a good row. Four standard deviations more
/// than promised are let through: 5 in 1,000 rows.
#[test]
fn plain_scatter_is_taken_for_a_pattern_no_more_often_than_promised() {
    let mut chance = Chance(4);
    for (teeth, scatter) in [
        (12, 3.0),
        (16, 3.0),
        (24, 3.0),
        (48, 3.0),
        (96, 3.0),
        (104, 3.0),
        (96, 0.4),
        (104, 0.4),
    ] {
        let mut alarms = 0;
        for _ in 0..1_000 {
            let row = row(teeth, scatter, &mut chance, |_| 0.0);
            alarms += u32::from(!matches!(pattern(&row), Pattern::NoPattern(Some(_))));
        }
        let promised = 1_000.0 * FALSE_ALARMS;
        assert!(
            f64::from(alarms) <= promised + 4.0 * promised.sqrt(),
            "{teeth} {scatter}: {alarms}"
        );
    }
}

#[test]
fn a_few_broken_teeth_here_and_there_are_outliers_and_no_pattern() {
    let mut chance = Chance(6);
    for teeth in [96, 104] {
        for _ in 0..300 {
            let broken = [
                chance.below(teeth) + 1,
                chance.below(teeth) + 1,
                chance.below(teeth) + 1,
            ];
            let row = row(teeth, 0.4, &mut chance, |pos| {
                if broken.contains(&pos) { 15.0 } else { 0.0 }
            });
            let mut apart = broken;
            apart.sort_unstable();
            if apart[2] - apart[0] < 8 {
                continue; // Three broken teeth side by side are a run.
            }
            let evenness = evenness(&row).unwrap();
            for pos in broken {
                assert!(
                    evenness
                        .outliers
                        .iter()
                        .any(|it| it.pos == pos && it.off_mm < -13.0)
                );
            }
            assert!(
                matches!(evenness.pattern, Pattern::NoPattern(_)),
                "{broken:?}: {:?}",
                evenness.pattern
            );
        }
    }
}

/// A difference that is certain but small is not named, and the numbers say which of the two it was.
#[test]
fn a_clear_but_small_difference_is_not_worth_naming() {
    let mut chance = Chance(7);
    let row = row(
        96,
        0.05,
        &mut chance,
        |pos| if pos % 4 == 0 { 0.6 } else { 0.0 },
    );
    let Pattern::NoPattern(Some(Evidence {
        shorter_mm,
        t,
        limit,
    })) = pattern(&row)
    else {
        panic!("too small to be named");
    };
    assert!(limit < t && shorter_mm < WORTH_NAMING_MM && 0.5 < shorter_mm);
}

/// A quarter of the row that is longer is not a quarter that is shorter, however well its ends are told.
#[test]
fn what_is_longer_is_not_taken_for_what_is_shorter() {
    let row: Vec<Tooth> = (1..=97)
        .map(|pos| tooth(pos, if pos < 25 { 18.7 } else { 18.0 }))
        .collect();
    let Pattern::NoPattern(Some(evidence)) = pattern(&row) else {
        panic!("seven tenths of a millimetre are not worth naming");
    };
    assert!(
        0.0 < evidence.shorter_mm && evidence.t < 100.0,
        "{evidence:?}"
    );
}

/// The order of the decision: what explains most is named, whichever of two patterns that is.
#[test]
fn of_two_patterns_in_one_row_the_one_that_explains_more_is_named() {
    let mut chance = Chance(8);
    let both = |slope: f64, run: f64| {
        move |pos: u16| slope * along(pos, 96) + if (30..36).contains(&pos) { run } else { 0.0 }
    };
    let sloping = row(96, 0.3, &mut chance, both(5.0, 2.0));
    assert!(matches!(
        pattern(&sloping),
        Pattern::OneEnd {
            end: End::Right,
            ..
        }
    ));
    let stuck = row(96, 0.3, &mut chance, both(0.6, 6.0));
    assert!(matches!(
        pattern(&stuck),
        Pattern::StuckRun {
            first: 30,
            last: 35,
            ..
        }
    ));
}

/// The order of the decision: too few teeth come before everything else.
#[test]
fn too_few_teeth_show_no_pattern_and_very_few_no_outlier() {
    let cliff = |teeth: u16| -> Vec<Tooth> {
        (1..=teeth)
            .map(|pos| tooth(pos, if (5..8).contains(&pos) { 9.0 } else { 18.0 }))
            .collect()
    };
    assert_eq!(
        pattern(&cliff(11)),
        Pattern::TooLittle {
            measured: 11,
            wanted: FEWEST_FOR_PATTERN
        }
    );
    assert!(matches!(
        pattern(&cliff(12)),
        Pattern::StuckRun {
            first: 5,
            last: 7,
            ..
        }
    ));
    let outliers = |teeth: u16| evenness(&cliff(teeth)).unwrap().outliers.len();
    assert_eq!(outliers(FEWEST_FOR_OUTLIERS as u16 - 1), 0);
    assert_eq!(outliers(FEWEST_FOR_OUTLIERS as u16), 3);
}

/// House default: three on either side. Of twelve teeth one is worn by more than a millimetre, and the two beside it slope
/// down to it just as a worn end would.
#[test]
fn one_tooth_is_too_few_to_make_an_end() {
    let mut tips = [18.0; 12];
    (tips[0], tips[1], tips[2]) = (16.9, 17.49, 17.78);
    let row: Vec<Tooth> = (1..).zip(tips).map(|(pos, mm)| tooth(pos, mm)).collect();
    assert!(matches!(pattern(&row), Pattern::NoPattern(_)));
}

#[test]
fn teeth_measured_here_and_there_show_ends_and_no_run() {
    let mut chance = Chance(9);
    let whole = row(104, 0.3, &mut chance, |pos| 4.0 * along(pos, 104));
    let every_fifth: Vec<Tooth> = whole.into_iter().step_by(5).collect();
    assert!(matches!(
        pattern(&every_fifth),
        Pattern::OneEnd {
            end: End::Right,
            ..
        }
    ));
    // Three neighbours in what was measured, but not in the row.
    let gaps: Vec<Tooth> = (0..40)
        .map(|it| tooth(1 + it * 2, if (10..13).contains(&it) { 12.0 } else { 18.0 }))
        .collect();
    assert!(!matches!(pattern(&gaps), Pattern::StuckRun { .. }));
}

/// Worked by hand: 16, 17, 18, 19, 20 and 30 mm.
#[test]
fn mean_deviations_and_median_are_those_worked_by_hand() {
    let row: Vec<Tooth> = (1..)
        .zip([18.0, 16.0, 30.0, 20.0, 17.0, 19.0])
        .map(|(pos, mm)| tooth(pos, mm))
        .collect();
    let got = evenness(&row).unwrap();
    assert!((got.mean.in_millimetres() - 20.0).abs() < 1e-12);
    assert!((got.sd_mm - (130.0_f64 / 5.0).sqrt()).abs() < 1e-12); // 16 + 9 + 4 + 1 + 0 + 100
    assert!((got.range().in_millimetres() - 14.0).abs() < 1e-12);
    assert!((got.median.in_millimetres() - 18.5).abs() < 1e-12);
    assert!((got.robust_sd_mm - 1.5 * NORMAL_MAD).abs() < 1e-12); // 0.5 0.5 1.5 1.5 2.5 11.5
    let one = evenness(&row[..1]).unwrap();
    assert_eq!((one.sd_mm, one.robust_sd_mm), (0.0, 0.0));
}

/// House default: three and a half robust standard deviations.
#[test]
fn an_outlier_lies_further_off_than_three_and_a_half_robust_deviations() {
    // Distances from the median 18: twice each of 1 to 5 mm, so that the median distance is 3 mm.
    let mut tips: Vec<f64> = (1..=5)
        .flat_map(|off| [18.0 - f64::from(off), 18.0 + f64::from(off)])
        .collect();
    tips.push(18.0);
    let with = |far: f64| {
        let mut tips = tips.clone();
        tips[9] = 18.0 + far;
        let row: Vec<Tooth> = (1..).zip(tips).map(|(pos, mm)| tooth(pos, mm)).collect();
        evenness(&row).unwrap().outliers
    };
    let limit = OUTLIER_TIMES * NORMAL_MAD * 3.0;
    assert!(with(limit - 0.001).is_empty());
    let outliers = with(limit + 0.001);
    assert_eq!((outliers.len(), outliers[0].pos), (1, 10));
    assert!((outliers[0].off_mm - limit - 0.001).abs() < 1e-9 && OUTLIER_TIMES < outliers[0].times);
}

/// House default: teeth are not told apart by less than 0.2 mm, so that three and a half times are 0.7 mm.
#[test]
fn among_teeth_all_alike_one_is_an_outlier_from_seven_tenths_of_a_millimetre_on() {
    let with = |far: f64| {
        let row: Vec<Tooth> = (1..=20)
            .map(|pos| tooth(pos, if pos == 7 { 18.0 + far } else { 18.0 }))
            .collect();
        evenness(&row).unwrap().outliers.len()
    };
    for side in [-1.0, 1.0] {
        assert_eq!((with(0.699 * side), with(0.701 * side)), (0, 1));
    }
}

#[test]
fn teeth_all_alike_but_a_few_give_numbers_and_no_infinity() {
    let alike: Vec<Tooth> = (1..=96).map(|pos| tooth(pos, 18.0)).collect();
    let got = evenness(&alike).unwrap();
    assert_eq!(got.pattern, Pattern::NoPattern(None));
    assert!(got.outliers.is_empty());
    let run: Vec<Tooth> = (1..=96)
        .map(|pos| tooth(pos, if (50..56).contains(&pos) { 15.0 } else { 18.0 }))
        .collect();
    let Pattern::StuckRun {
        first: 50,
        last: 55,
        evidence,
    } = pattern(&run)
    else {
        panic!("six stuck teeth");
    };
    assert!((evidence.shorter_mm - 3.0).abs() < 1e-12 && evidence.t.is_finite());
}

#[test]
fn a_row_that_is_none_is_refused() {
    assert_eq!(evenness(&[]).unwrap_err(), RowRefusal::Nothing);
    for pos in [0, MOST_POSITIONS + 1, u16::MAX] {
        let refused = evenness(&[tooth(1, 18.0), tooth(pos, 18.0)]).unwrap_err();
        assert_eq!(
            refused,
            RowRefusal::NoSuchPosition {
                pos,
                most: MOST_POSITIONS
            }
        );
    }
    let refused = evenness(&[tooth(7, 18.0), tooth(8, 18.0), tooth(7, 17.0)]).unwrap_err();
    assert_eq!(refused, RowRefusal::Twice { pos: 7 });
}

fn any_row() -> impl Strategy<Value = Vec<Tooth>> {
    let tip = prop_oneof![4 => 5.0..20.0, 1 => 0.0..=1_000_000.0, 1 => Just(0.0), 1 => Just(18.0)];
    vec((0_u16..=405, tip), 0..110)
        .prop_map(|row| row.into_iter().map(|(pos, mm)| tooth(pos, mm)).collect())
}

proptest! {
    #![proptest_config(tries(150))]

    #[test]
    fn any_row_gives_finite_numbers_in_order_or_a_refusal(mut row in any_row(), apart in any::<bool>()) {
        if apart {
            (1..).zip(&mut row).for_each(|(pos, tooth)| tooth.pos = pos);
        }
        let Ok(got) = evenness(&row) else { return Ok(()) };
        prop_assert_eq!(got.measured, row.len());
        prop_assert!(got.shortest <= got.median && got.median <= got.longest);
        let slack = 1e-9 * (1.0 + got.longest.in_millimetres());
        prop_assert!(got.shortest.in_millimetres() - slack <= got.mean.in_millimetres());
        prop_assert!(got.mean.in_millimetres() <= got.longest.in_millimetres() + slack);
        prop_assert!(got.sd_mm.is_finite() && got.robust_sd_mm.is_finite());
        prop_assert!(got.outliers.windows(2).all(|pair| pair[0].pos < pair[1].pos));
        let evidence = match got.pattern {
            Pattern::TooLittle { measured, wanted } => {
                prop_assert!(measured < wanted);
                None
            }
            Pattern::NoPattern(evidence) => evidence,
            Pattern::OneEnd { evidence, .. }
            | Pattern::BothEnds(evidence)
            | Pattern::Middle(evidence) => Some(evidence),
            Pattern::StuckRun { first, last, evidence } => {
                prop_assert!(first < last);
                Some(evidence)
            }
            Pattern::EveryNth { nth, first, evidence } => {
                prop_assert!(1 < nth && row.iter().any(|it| it.pos == first));
                Some(evidence)
            }
        };
        if let Some(it) = evidence {
            prop_assert!(it.t.is_finite() && it.limit.is_finite() && it.shorter_mm.is_finite());
        }
    }

    #[test]
    fn the_order_in_which_teeth_are_given_does_not_matter(seed in any::<u64>(), turn in 0_usize..96) {
        let mut chance = Chance(seed);
        let told = row(96, 0.5, &mut chance, |pos| 2.0 * along(pos, 96));
        let mut turned = told.clone();
        turned.rotate_left(turn);
        prop_assert_eq!(evenness(&told), evenness(&turned));
    }

    /// What is left on one side is left on the other when the row is turned about.
    #[test]
    fn a_row_turned_about_has_its_pattern_turned_about(seed in any::<u64>()) {
        let mut chance = Chance(seed);
        let told = row(96, 0.4, &mut chance, |pos| 3.0 * along(pos, 96));
        let turned: Vec<Tooth> = told.iter().map(|it| Tooth { pos: 97 - it.pos, ..*it }).collect();
        let right = matches!(pattern(&told), Pattern::OneEnd { end: End::Right, .. });
        let left = matches!(pattern(&turned), Pattern::OneEnd { end: End::Left, .. });
        prop_assert!(right && left);
    }
}
