//! Angles by tape, marks on a frame, tracks and ridges, and forces at the edge, compared with printed numbers and with
//! the same geometry worked out another way.
//!
//! Never here: the angle from the phone (`gravity`).

mod table;

use std::num::{NonZeroU8, NonZeroU32};

use evenrow_rules::angle::Angle;
use evenrow_rules::finish::{
    Finish, Left, Milled, Tip, YARDSTICKS, finish, texture_depth, track_spacing,
};
use evenrow_rules::load::{
    MoreThanTheRow, PULL_ON_DIRT, blade_pull, down_force_ceiling, force_angle, share,
};
use evenrow_rules::machine::{FOOT, USUAL_PITCH, effective_width};
use evenrow_rules::marks::{
    MOST_MARKS, NoGrading, NoMarks, NoSetting, as_setting, cutting_from_tape, frame_marks,
    grading_from_offset, offset_to_set, seen_from_the_side, toe_to_heel,
};
use evenrow_rules::quantity::{Figure, Force, Length, Mass, Volume};
use evenrow_rules::setup::SKEW_LIMIT;
use nalgebra::{Rotation3, Vector3};
use table::{Row, rows};

const SIDE_VIEWS: &str = include_str!("../../../tests/tables/side_views.csv");
const FRAME_MARKS: &str = include_str!("../../../tests/tables/frame_marks.csv");
const RIDGES: &str = include_str!("../../../tests/tables/ridges.csv");
const SAND_PATCH: &str = include_str!("../../../tests/tables/sand_patch.csv");
const MILLED_RIDGES: &str = include_str!("../../../tests/tables/milled_ridges.csv");
const EDGE_FORCES: &str = include_str!("../../../tests/tables/edge_forces.csv");

/// A pound of force is 0.45359237 kg times standard gravity exactly.
const KN_PER_POUND: f64 = 0.453_592_37 * 9.806_65 / 1000.0;

fn mm(mm: f64) -> Length {
    Length::millimetres(mm).unwrap()
}

fn degrees(degrees: f64) -> Angle {
    Angle::degrees(degrees).unwrap()
}

#[track_caller]
fn close(got: f64, expect: f64, within: f64) {
    assert!((got - expect).abs() <= within, "{got} for {expect}");
}

// The cutting angle by tape.

#[test]
fn a_tape_finds_every_cutting_angle_whatever_length_is_measured() {
    for whole in 0..=90 {
        let angle = degrees(f64::from(whole));
        for long in [1.0, 300.0, 4000.0] {
            let (rise, run) = (mm(long).share(angle.sine()), mm(long).share(angle.cosine()));
            let found = cutting_from_tape(rise, run).unwrap();
            close(found.in_degrees(), angle.in_degrees(), 1e-9);
        }
    }
    assert_eq!(cutting_from_tape(Length::ZERO, Length::ZERO), None);
}

// The view from the side.

/// Source: geometry; see the head of `side_views.csv`.
#[test]
fn seen_from_the_side_the_cutting_angle_is_the_one_that_the_table_says() {
    for row in rows(SIDE_VIEWS) {
        let seen = seen_from_the_side(
            degrees(row.number("cutting_deg")),
            degrees(row.number("grading_deg")),
        );
        close(seen.in_degrees(), row.number("seen_deg"), 0.05);
        assert_ne!(row.text("cutting_deg"), row.text("seen_deg"));
    }
}

/// A tooth leaning in the plane square to the moldboard is turned with the moldboard, then looked at across the travel.
#[test]
fn the_side_view_is_that_of_a_tooth_turned_in_space() {
    for cutting in 1..90 {
        for grading in 1..=90 {
            let (cutting, grading) = (f64::from(cutting), f64::from(grading));
            // x along the travel, y across, z up; at 90° the moldboard lies along y.
            let (sine, cosine) = cutting.to_radians().sin_cos();
            let square_across = Vector3::new(cosine, 0.0, sine);
            let turn =
                Rotation3::from_axis_angle(&Vector3::z_axis(), (90.0 - grading).to_radians());
            let tooth = turn * square_across;
            let seen = tooth.z.atan2(tooth.x).to_degrees();
            let found = seen_from_the_side(degrees(cutting), degrees(grading));
            close(found.in_degrees(), seen, 1e-9);
            assert!(
                cutting - 1e-9 <= found.in_degrees(),
                "never flatter than it is"
            );
        }
    }
}

#[test]
fn square_across_both_views_agree_and_in_line_the_side_shows_an_upright_tooth() {
    close(
        seen_from_the_side(degrees(50.0), degrees(90.0)).in_degrees(),
        50.0,
        1e-12,
    );
    close(
        seen_from_the_side(degrees(50.0), degrees(0.0)).in_degrees(),
        90.0,
        1e-12,
    );
    close(
        seen_from_the_side(degrees(0.0), degrees(0.0)).in_degrees(),
        0.0,
        1e-12,
    );
}

// The grading angle by tape.

#[test]
fn offset_and_width_are_the_two_sides_of_the_board() {
    for whole in 0..=90 {
        let grading = degrees(f64::from(whole));
        let board = FOOT.times(13);
        let (offset, width) = (toe_to_heel(board, grading), effective_width(board, grading));
        let long = offset.in_millimetres().hypot(width.in_millimetres());
        close(long, board.in_millimetres(), 1e-9);
    }
    close(
        toe_to_heel(mm(3657.6), degrees(60.0)).in_millimetres(),
        1828.8,
        1e-9,
    );
}

#[test]
fn the_offset_gives_the_grading_angle_back_at_every_degree() {
    for whole in 1..=90 {
        let grading = degrees(f64::from(whole));
        for board in [mm(1200.0), mm(3657.6), mm(8000.0)] {
            let found = grading_from_offset(board, toe_to_heel(board, grading)).unwrap();
            close(found.in_degrees(), grading.in_degrees(), 1e-9);
        }
    }
}

#[test]
fn an_offset_that_no_board_has_is_refused() {
    let (board, offset) = (mm(3657.6), mm(3657.7));
    assert_eq!(
        grading_from_offset(board, offset),
        Err(NoGrading::LongerThanTheBoard { offset, board })
    );
    assert_eq!(grading_from_offset(board, board).unwrap(), degrees(0.0));
    assert_eq!(
        grading_from_offset(Length::ZERO, Length::ZERO),
        Err(NoGrading::NoBoard)
    );
}

/// Source: common practice, no published source: always under 80 degrees, since the skew is what turns the teeth.
#[test]
fn a_grading_angle_of_80_degrees_or_more_is_no_setting_but_can_be_measured() {
    for square in [80.0, 80.1, 90.0, 135.0] {
        let grading = degrees(square);
        let refused = NoSetting::TooSquare {
            grading,
            limit: SKEW_LIMIT,
        };
        assert_eq!(as_setting(grading), Err(refused));
        assert_eq!(offset_to_set(mm(3657.6), grading), Err(refused));
    }
    for in_line in [0.0, -1.0] {
        let grading = degrees(in_line);
        assert_eq!(as_setting(grading), Err(NoSetting::InLine { grading }));
    }
    for good in [0.1, 45.0, 79.999] {
        assert_eq!(as_setting(degrees(good)), Ok(degrees(good)));
    }
    let measured = grading_from_offset(mm(3657.6), mm(100.0)).unwrap();
    assert!(SKEW_LIMIT < measured);
}

// Marks on the frame.

/// Source: identity; see the head of `frame_marks.csv`.
#[test]
fn the_marks_lie_where_the_table_says() {
    for row in rows(FRAME_MARKS) {
        let turned = degrees(row.number("turned_deg"));
        let marks = frame_marks(mm(row.number("radius_mm")), degrees(0.0), turned, turned).unwrap();
        assert_eq!(marks.len(), 2, "{}", row.text("turned_deg"));
        close(marks[1].arc.in_millimetres(), row.number("arc_mm"), 0.00005);
        close(
            marks[1].chord.in_millimetres(),
            row.number("chord_mm"),
            0.00005,
        );
    }
}

#[test]
fn marks_go_from_the_first_angle_to_the_last_by_even_steps() {
    let marks = frame_marks(mm(450.0), degrees(35.0), degrees(55.0), degrees(5.0)).unwrap();
    let angles: Vec<f64> = marks.iter().map(|it| it.angle.in_degrees()).collect();
    assert_eq!(angles, [35.0, 40.0, 45.0, 50.0, 55.0]);
    assert_eq!((marks[0].arc, marks[0].chord), (Length::ZERO, Length::ZERO));
    for pair in marks.windows(2) {
        close(
            pair[1].arc.in_millimetres() - pair[0].arc.in_millimetres(),
            39.2699,
            0.0001,
        );
        assert!(pair[1].chord < pair[1].arc);
    }
    // A step that does not fit ends before the last angle; no step fits twice into nothing.
    let short = frame_marks(mm(450.0), degrees(35.0), degrees(55.0), degrees(6.0)).unwrap();
    close(short.last().unwrap().angle.in_degrees(), 53.0, 1e-12);
    let one = frame_marks(mm(450.0), degrees(35.0), degrees(35.0), degrees(6.0)).unwrap();
    assert_eq!(one.len(), 1);
}

#[test]
fn no_last_mark_is_lost_to_float_noise() {
    for tenths in 1..=50 {
        let step = f64::from(tenths) / 10.0;
        for count in 1..=40 {
            let to = 20.0 + step * f64::from(count);
            let marks = frame_marks(mm(450.0), degrees(20.0), degrees(to), degrees(step));
            if let Ok(marks) = marks {
                assert_eq!(marks.len(), count as usize + 1, "{step} {count}");
            }
        }
    }
}

#[test]
fn nonsense_asked_of_the_marks_is_refused_with_its_reason() {
    let ask = |radius, from, to, step| {
        frame_marks(mm(radius), degrees(from), degrees(to), degrees(step)).map(|it| it.len())
    };
    for radius in [0.0, 9.9, 10_001.0] {
        match ask(radius, 35.0, 55.0, 5.0) {
            Err(NoMarks::Radius(range)) => {
                assert_eq!((range.what, range.got), (Figure::MarkRadius, radius));
                assert_eq!((range.min, range.max), (10.0, 10_000.0));
            }
            other => panic!("{other:?}"),
        }
    }
    assert_eq!(ask(450.0, 35.0, 55.0, 0.0), Err(NoMarks::NoStep));
    assert_eq!(ask(450.0, 35.0, 55.0, -5.0), Err(NoMarks::NoStep));
    assert_eq!(ask(450.0, 55.0, 35.0, 5.0), Err(NoMarks::Backwards));
    assert_eq!(ask(450.0, 0.0, 180.1, 5.0), Err(NoMarks::OverHalfATurn));
    assert_eq!(ask(450.0, 0.0, 180.0, 5.0), Ok(37));
    assert_eq!(ask(450.0, 0.0, 99.75, 0.25), Ok(MOST_MARKS));
    assert_eq!(
        ask(450.0, 0.0, 100.0, 0.25),
        Err(NoMarks::TooMany { asked: 401.0 })
    );
    let endless = ask(450.0, 0.0, 100.0, f64::MIN_POSITIVE);
    assert_eq!(
        endless,
        Err(NoMarks::TooMany {
            asked: f64::from(u32::MAX)
        })
    );
}

// Tracks and ridges.

fn passes(count: u8) -> NonZeroU8 {
    NonZeroU8::new(count).unwrap()
}

/// The finish of tracks so far apart: a pitch of that length, square across.
fn finish_at(spacing: f64, tip: Tip, worn: f64) -> Finish {
    finish(mm(spacing), degrees(90.0), tip, mm(worn), passes(1))
}

#[track_caller]
fn ridge(finish: Finish) -> f64 {
    match finish.left {
        Left::Ridge(ridge) => ridge.in_millimetres(),
        Left::Strip(strip) => panic!("a strip of {strip:?}"),
    }
}

#[track_caller]
fn strip(finish: Finish) -> f64 {
    match finish.left {
        Left::Strip(strip) => strip.in_millimetres(),
        Left::Ridge(ridge) => panic!("a ridge of {ridge:?}"),
    }
}

fn round(radius: f64) -> Tip {
    Tip::round(mm(radius)).unwrap()
}

fn cone(full: f64) -> Tip {
    Tip::cone(degrees(full)).unwrap()
}

fn blunt(width: f64) -> Tip {
    Tip::blunt(mm(width)).unwrap()
}

/// The ridge is the surface half way between two tracks, by the other road to it: point by point.
#[test]
fn the_surface_rises_from_the_bottom_of_a_track_to_the_ridge_half_way_to_the_next() {
    let tips = [
        Tip::round(mm(20.0)).unwrap(),
        Tip::cone(degrees(120.0)).unwrap(),
        Tip::blunt(mm(19.0)).unwrap(),
    ];
    for tip in tips {
        for worn in [0.0, 2.0, 7.5] {
            for spacing in [5.0, 17.0, 33.0, 38.1] {
                let half_way = tip.rise(mm(spacing / 2.0), mm(worn));
                match (half_way, finish_at(spacing, tip, worn).left) {
                    (Some(rise), Left::Ridge(ridge)) => {
                        close(rise.in_millimetres(), ridge.in_millimetres(), 1e-12);
                    }
                    (None, Left::Strip(strip)) => assert!(Length::ZERO < strip),
                    other => panic!("{tip:?} {worn} {spacing}: {other:?}"),
                }
                let rises: Vec<f64> = (0..=20)
                    .filter_map(|at| tip.rise(mm(spacing / 40.0 * f64::from(at)), mm(worn)))
                    .map(Length::in_millimetres)
                    .collect();
                assert_eq!(rises.first(), Some(&0.0));
                assert!(rises.is_sorted());
            }
            let flat = tip.flat(mm(worn)).in_millimetres();
            let edge = tip
                .rise(mm(flat / 2.0), mm(worn))
                .map(Length::in_millimetres);
            assert!(edge.is_some_and(|edge| edge < 1e-9), "{tip:?} {worn}");
        }
    }
}

/// Source: identity; see the head of `ridges.csv`.
#[track_caller]
fn check_ridge(row: &Row) {
    let size = row.number("size");
    let tip = match row.text("tip") {
        "round" => round(size),
        "cone" => cone(size),
        other => panic!("nothing is known of {other:?}"),
    };
    let got = ridge(finish_at(row.number("spacing_mm"), tip, 0.0));
    close(
        got,
        row.number("ridge_mm"),
        row.number("last_decimal") / 2.0,
    );
}

#[test]
fn a_tip_leaves_the_ridge_that_the_table_says() {
    rows(RIDGES).iter().for_each(check_ridge);
    // Exactly, where the numbers are whole.
    close(ridge(finish_at(8.0, round(5.0), 0.0)), 2.0, 0.0);
}

#[test]
fn round_tips_too_far_apart_leave_a_strip_and_just_near_enough_a_ridge_of_the_whole_ball() {
    close(ridge(finish_at(10.0, round(5.0), 0.0)), 5.0, 0.0);
    close(strip(finish_at(10.5, round(5.0), 0.0)), 0.5, 1e-12);
    assert!(matches!(
        finish_at(10.000_001, round(5.0), 0.0).left,
        Left::Strip(_)
    ));
}

#[test]
fn blunt_tips_leave_nothing_up_to_their_width_and_a_strip_beyond() {
    close(ridge(finish_at(19.0, blunt(19.0), 0.0)), 0.0, 0.0);
    close(strip(finish_at(33.0, blunt(19.0), 0.0)), 14.0, 1e-12);
    close(strip(finish_at(33.0, blunt(19.0), 5.0)), 14.0, 1e-12);
}

/// The cut of one tip at a distance from its middle, above its lowest point; `None` where it does not reach.
type Profile = fn(size: f64, from_middle: f64) -> Option<f64>;

const POINT: Profile = |full, from_middle| Some(point(full, from_middle));

fn ball(radius: f64, from_middle: f64) -> Option<f64> {
    (from_middle <= radius).then(|| radius - (radius * radius - from_middle * from_middle).sqrt())
}

fn point(full: f64, from_middle: f64) -> f64 {
    from_middle / (full / 2.0).to_radians().tan()
}

/// The highest point that is left between the middles of two tracks, found by walking over them: every tip of the row
/// cuts, and a worn one not below its flat. `None` where a strip is left.
fn walked(profile: Profile, size: f64, spacing: f64, worn: f64) -> Option<f64> {
    (0..=2000)
        .map(|step| spacing * f64::from(step) / 2000.0)
        .map(|at| {
            (-2..=3)
                .map(|tooth| (at - f64::from(tooth) * spacing).abs())
                .filter_map(|from_middle| profile(size, from_middle))
                .map(|height| (height - worn).max(0.0))
                .fold(None, |lowest: Option<f64>, it| {
                    Some(lowest.map_or(it, |lowest| lowest.min(it)))
                })
        })
        .try_fold(0.0_f64, |highest, it| it.map(|it| highest.max(it)))
}

#[test]
fn the_ridge_is_what_walking_over_the_tracks_finds_worn_or_new() {
    for spacing in [1.0, 6.5, 12.0, 19.9, 33.0] {
        for worn in [0.0, 0.5, 2.0, 9.0, 40.0] {
            for radius in [2.0, 6.0, 10.0, 20.0] {
                let left = finish_at(spacing, round(radius), worn).left;
                match (left, walked(ball, radius, spacing, worn)) {
                    (Left::Ridge(ridge), Some(walked)) => {
                        close(ridge.in_millimetres(), walked, 1e-9);
                    }
                    (Left::Strip(strip), None) => {
                        close(strip.in_millimetres(), spacing - 2.0 * radius, 1e-9);
                    }
                    other => panic!("{spacing} {worn} {radius}: {other:?}"),
                }
            }
            for full in [30.0, 60.0, 90.0, 120.0] {
                let found = ridge(finish_at(spacing, cone(full), worn));
                close(found, walked(POINT, full, spacing, worn).unwrap(), 1e-9);
            }
        }
    }
}

#[test]
fn the_flat_of_a_worn_tip_is_where_the_worn_profile_is_flat() {
    for worn in [0.0, 0.5, 2.0, 4.999] {
        let half = round(5.0).flat(mm(worn)).in_millimetres() / 2.0;
        close(ball(5.0, half.min(5.0)).unwrap(), worn, 1e-9);
        let half = cone(60.0).flat(mm(worn)).in_millimetres() / 2.0;
        close(point(60.0, half), worn, 1e-9);
        assert_eq!(blunt(19.0).flat(mm(worn)), mm(19.0));
    }
    // A ball worn to its middle or beyond is as wide as it can be.
    assert_eq!(round(5.0).flat(mm(5.0)), mm(10.0));
    assert_eq!(round(5.0).flat(mm(50.0)), mm(10.0));
}

#[test]
fn a_second_pass_offset_by_half_leaves_what_half_the_spacing_leaves() {
    let once = finish(
        USUAL_PITCH,
        degrees(60.0),
        round(20.0),
        Length::ZERO,
        passes(1),
    );
    let twice = finish(
        USUAL_PITCH,
        degrees(60.0),
        round(20.0),
        Length::ZERO,
        passes(2),
    );
    let thrice = finish(
        USUAL_PITCH,
        degrees(60.0),
        round(20.0),
        Length::ZERO,
        passes(3),
    );
    close(once.spacing.in_millimetres(), 38.1 * 0.75_f64.sqrt(), 1e-12);
    close(
        twice.spacing.in_millimetres() * 2.0,
        once.spacing.in_millimetres(),
        1e-12,
    );
    close(
        thrice.spacing.in_millimetres() * 3.0,
        once.spacing.in_millimetres(),
        1e-12,
    );
    close(
        ridge(twice),
        ridge(finish_at(twice.spacing.in_millimetres(), round(20.0), 0.0)),
        1e-12,
    );
    assert!(ridge(thrice) < ridge(twice) && ridge(twice) < ridge(once));
}

#[test]
fn tracks_are_a_pitch_apart_square_across_and_nothing_in_line() {
    assert_eq!(track_spacing(USUAL_PITCH, degrees(90.0)), USUAL_PITCH);
    assert_eq!(track_spacing(USUAL_PITCH, degrees(0.0)), Length::ZERO);
}

#[test]
fn a_tip_of_no_size_is_refused_with_the_right_range() {
    for (refused, what, min, max) in [
        (Tip::round(mm(0.49)), Figure::TipRadius, 0.5, 100.0),
        (Tip::round(mm(100.1)), Figure::TipRadius, 0.5, 100.0),
        (Tip::blunt(mm(0.0)), Figure::FlatWidth, 0.5, 100.0),
        (Tip::cone(degrees(9.9)), Figure::ConeAngle, 10.0, 170.0),
        (Tip::cone(degrees(-90.0)), Figure::ConeAngle, 10.0, 170.0),
    ] {
        let refused = refused.unwrap_err();
        assert_eq!((refused.what, refused.min, refused.max), (what, min, max));
    }
}

/// Source: ASTM E965 and EN 13036-1; see the head of `sand_patch.csv`.
#[test]
fn a_patch_of_sand_is_as_deep_as_the_table_says() {
    for row in rows(SAND_PATCH) {
        let sand = Volume::cubic_millimetres(row.number("volume_mm3")).unwrap();
        let depth = texture_depth(sand, mm(row.number("diameter_mm"))).unwrap();
        close(depth.in_millimetres(), row.number("depth_mm"), 0.00005);
    }
    let none = texture_depth(Volume::cubic_millimetres(1.0).unwrap(), Length::ZERO);
    assert_eq!(none.unwrap_err().what, Figure::Patch);
}

/// Source: Georgia DOT, 2009, and TRB 2012; see the head of `milled_ridges.csv`.
#[test]
fn the_yardsticks_are_those_that_were_printed() {
    let table = rows(MILLED_RIDGES);
    assert_eq!(table.len(), YARDSTICKS.len());
    for (row, yardstick) in table.iter().zip(YARDSTICKS) {
        assert_eq!(format!("{:?}", yardstick.says), row.text("says"));
        close(yardstick.low.in_millimetres(), row.number("low_mm"), 1e-12);
        close(
            yardstick.high.in_millimetres(),
            row.number("high_mm"),
            1e-12,
        );
        match yardstick.says {
            Milled::Specified | Milled::ToBePutRight => {
                close(
                    yardstick.high.in_millimetres(),
                    row.number("printed_mm"),
                    1e-12,
                );
            }
            Milled::FoundSmooth | Milled::FoundRough => {
                let (mean, room) = (row.number("printed_mm"), row.number("give_or_take_mm"));
                close(yardstick.low.in_millimetres(), mean - room, 1e-9);
                close(yardstick.high.in_millimetres(), mean + room, 1e-9);
            }
        }
    }
}

// Forces at the edge.

fn pounds(pounds: f64) -> Mass {
    Mass::kilograms(pounds * 0.453_592_37).unwrap()
}

/// Source: Roads and Streets, December 1973; see the head of `edge_forces.csv`.
#[track_caller]
fn check_force(row: &Row) {
    let weight = pounds(row.number("weight_lb"));
    let force = match row.text("what") {
        "down" => {
            let feet = |column| mm(row.number(column) * FOOT.in_millimetres());
            down_force_ceiling(weight, feet("wheelbase_ft"), feet("edge_to_rear_ft")).unwrap()
        }
        "pull" => {
            close(PULL_ON_DIRT, row.number("coefficient"), 0.0);
            blade_pull(weight, PULL_ON_DIRT).unwrap()
        }
        other => panic!("nothing is known of {other:?}"),
    };
    close(
        force.in_kilonewtons() / KN_PER_POUND,
        row.number("force_lb"),
        1e-6,
    );
}

#[test]
fn the_forces_at_the_edge_are_those_that_were_printed() {
    rows(EDGE_FORCES).iter().for_each(check_force);
}

/// Taking moments about the front wheels instead of the rear gives the same force: the rear wheels then carry what is
/// left.
#[test]
fn at_the_ceiling_the_front_wheels_carry_nothing() {
    let (front, rear) = (45.0, 120.0);
    let (wheelbase, edge) = (6.1, 2.6);
    let mass = Mass::kilograms(front * 1000.0 / 9.80665).unwrap();
    let ceiling = down_force_ceiling(mass, mm(wheelbase * 1000.0), mm(edge * 1000.0)).unwrap();
    let edge_force = ceiling.in_kilonewtons();
    // Centre of gravity from the rear wheels, by what the axles carry with the edge up.
    let gravity_at = front * wheelbase / (front + rear);
    let rear_now = front + rear - edge_force;
    // About the edge: gravity and the rear wheels balance, with nothing on the front wheels.
    let moments = (front + rear) * (gravity_at - edge) + rear_now * edge;
    close(moments, 0.0, 1e-9);
}

#[test]
fn lengths_that_no_machine_has_are_refused_by_name() {
    let ask = |wheelbase, edge| {
        let refused = down_force_ceiling(pounds(9000.0), mm(wheelbase), mm(edge)).unwrap_err();
        (refused.what, refused.got, refused.min, refused.max)
    };
    assert_eq!(
        ask(999.0, 2500.0),
        (Figure::Wheelbase, 999.0, 1000.0, 15_000.0)
    );
    assert_eq!(ask(6000.0, 0.0), (Figure::EdgeToRear, 0.0, 300.0, 15_000.0));
    assert!(down_force_ceiling(pounds(9000.0), mm(1000.0), mm(300.0)).is_ok());
    assert!(down_force_ceiling(pounds(9000.0), mm(15_000.0), mm(15_000.0)).is_ok());
    assert_eq!(
        blade_pull(pounds(1.0), 1.6).unwrap_err().what,
        Figure::Coefficient
    );
    assert!(blade_pull(pounds(1.0), -0.1).is_err());
}

fn teeth(count: u32) -> NonZeroU32 {
    NonZeroU32::new(count).unwrap()
}

#[test]
fn one_plate_of_four_carries_four_times_as_much_on_a_tooth_and_the_sum_is_the_whole() {
    let down = Force::kilonewtons(66.7).unwrap();
    for count in 1..=104 {
        let load = share(down, teeth(count), teeth(104)).unwrap();
        close(
            load.per_tooth.in_kilonewtons() * f64::from(count),
            66.7,
            1e-9,
        );
        let full = share(down, teeth(104), teeth(104)).unwrap();
        let ratio = load.per_tooth.in_kilonewtons() / full.per_tooth.in_kilonewtons();
        close(load.times_full_row, ratio, 1e-9);
        assert_eq!(load.down_force, down);
    }
    close(
        share(down, teeth(24), teeth(96)).unwrap().times_full_row,
        4.0,
        0.0,
    );
    assert_eq!(
        share(down, teeth(97), teeth(96)),
        Err(MoreThanTheRow {
            teeth: 97,
            full_row: 96
        })
    );
}

/// Source: Iowa DOT HR-372, 1997: the angle whose tangent is down-force over pull.
#[test]
fn a_force_that_is_all_down_points_down_and_one_that_is_all_pull_is_level() {
    let kn = |kn: f64| Force::kilonewtons(kn).unwrap();
    close(
        force_angle(kn(5.0), kn(0.0)).unwrap().in_degrees(),
        90.0,
        1e-12,
    );
    close(
        force_angle(kn(0.0), kn(5.0)).unwrap().in_degrees(),
        0.0,
        1e-12,
    );
    close(
        force_angle(kn(3.0_f64.sqrt()), kn(1.0))
            .unwrap()
            .in_degrees(),
        60.0,
        1e-12,
    );
}
