//! Rows on a board: the row that fits against every row there is, listed, and the teeth that a width takes.
//!
//! Geometry throughout; which row is taken of several that cover as much is a house default. Never here: printed counts
//! (`published`), and which plates today's work wants toothed (`every_setup`).

use evenrow_rules::angle::Angle;
use evenrow_rules::machine::{Machine, USUAL_PITCH, fit, teeth_for_width, teeth_on};
use evenrow_rules::quantity::Length;

fn um(um: u32) -> Length {
    Length::micrometres(um)
}

/// Every row of two kinds of plates that a board holds: how many of the first, how many of the second.
fn rows(board: u32, plates: (u32, u32)) -> Vec<(u32, u32)> {
    let firsts = 0..=board / plates.0;
    firsts
        .flat_map(|firsts| (0..=(board - firsts * plates.0) / plates.1).map(move |it| (firsts, it)))
        .collect()
}

/// House default for the order: most of the board covered, then plates of one length, then the fewest of them.
#[test]
fn no_other_row_covers_more_or_as_much_with_plates_more_alike_or_fewer() {
    let lengths = [
        150_000, 200_000, 225_000, 300_000, 400_000, 914_400, 990_600,
    ];
    for (first, second) in lengths
        .iter()
        .flat_map(|&it| lengths.map(|other| (it, other)))
    {
        for board in (1_200_000..3_000_000).step_by(50_000) {
            let machine = Machine::new(um(board), (um(first), um(second)), USUAL_PITCH).unwrap();
            let got = fit(&machine);
            let lengths: Vec<u32> = got.plates.iter().map(|it| it.in_micrometres()).collect();
            let covered: u32 = lengths.iter().sum();
            let mixed = lengths.iter().any(|&it| it != lengths[0]);
            // The most covered first, then alike, then the fewest.
            let best = rows(board, (first, second))
                .into_iter()
                .map(|(firsts, seconds)| {
                    let mixed = first != second && 0 < firsts && 0 < seconds;
                    let bare = board - firsts * first - seconds * second;
                    (bare, mixed, firsts + seconds)
                })
                .min()
                .unwrap();
            assert_eq!(
                (board - covered, mixed, lengths.len() as u32),
                best,
                "{board} {first} {second}"
            );
            assert_eq!((got.covered, got.bare), (um(covered), um(board - covered)));
            assert!(lengths.is_sorted_by(|left, right| left >= right));
            let teeth = got.plates.iter().map(|&it| teeth_on(it, USUAL_PITCH));
            assert_eq!(got.teeth, teeth.collect::<Vec<u32>>());
            assert_eq!(got.full_row(), got.teeth.iter().sum::<u32>());
        }
    }
}

#[test]
fn a_plate_holds_a_tooth_for_every_pitch_that_fits_and_none_without_a_pitch() {
    assert_eq!(teeth_on(um(914_400), USUAL_PITCH), 24);
    assert_eq!(teeth_on(um(914_399), USUAL_PITCH), 23);
    assert_eq!(teeth_on(um(914_400), Length::ZERO), 0);
}

/// Teeth that trail each other along the direction of travel cover nothing, however many they are.
#[test]
fn a_board_along_the_direction_of_travel_takes_no_count_of_teeth() {
    let along = Angle::degrees(0.0).unwrap();
    assert_eq!(teeth_for_width(um(1_000_000), USUAL_PITCH, along), 0);
}

/// 12 pitches of 38.1 mm are 457.2 mm square to the direction of travel.
#[test]
fn an_exact_fit_loses_no_tooth() {
    let square = Angle::degrees(90.0).unwrap();
    assert_eq!(teeth_for_width(um(457_200), USUAL_PITCH, square), 12);
    assert_eq!(teeth_for_width(um(457_199), USUAL_PITCH, square), 11);
}
