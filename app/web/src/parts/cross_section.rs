//! What the teeth leave behind, seen along the travel: tracks and the ridges between them, drawn from the shape of the
//! tip. Heights are drawn larger than widths, or nothing would be seen; the picture says by how much.

use evenrow_rules::finish::Tip;
use evenrow_rules::quantity::Length;
use leptos::prelude::*;

/// How many times larger heights are drawn than widths.
pub const HEIGHTS: u8 = 3;

/// The sheet is 320 by 180; a millimetre across the road is so wide on it.
const SCALE: f64 = 2.0;
const WIDTH: f64 = 320.0;

/// The bottom of the tracks.
const BOTTOM: f64 = 132.0;

/// Where the tips do not reach, the old surface stays: as high as the cut is deep, which is drawn as this many
/// millimetres.
const UNCUT: f64 = 8.0;

/// How high the surface stands at a place across the road, both in millimetres; none where it stays uncut.
fn height(tip: Tip, worn: Length, spacing: f64, across: f64) -> Option<f64> {
    // To the middle of the nearest track, of which one is half a spacing in from the left.
    let aside = ((across / spacing).fract() - 0.5).abs() * spacing;
    let aside = Length::millimetres(aside).unwrap_or(Length::ZERO);
    tip.rise(aside, worn).map(Length::in_millimetres)
}

fn whole(value: f64) -> i64 {
    value.round() as i64
}

/// The picture. What it shows is said beside it in words.
#[component]
pub fn CrossSection(
    /// The shape of the tips.
    tip: Tip,
    /// What they have lost.
    worn: Length,
    /// How far apart the tracks are.
    spacing: Length,
    /// The distance between two tracks, and by how much heights are drawn larger, in words.
    labels: (String, String),
) -> impl IntoView {
    // No two tracks run closer than a millimetre, whatever the angle.
    let spacing = spacing.in_millimetres().max(1.0);
    let up = SCALE * f64::from(HEIGHTS);
    let surface = (0..=whole(WIDTH)).map(|x| {
        let across = x as f64 / SCALE;
        let height = height(tip, worn, spacing, across).unwrap_or(UNCUT);
        format!("L{x} {}", whole(BOTTOM - height * up))
    });
    let road = format!("M-4 148{}L324 148z", surface.collect::<String>());
    let middle = |track: f64| whole((track + 0.5) * spacing * SCALE);
    // A tooth over every track that is wholly in the picture.
    let tracks = (0..)
        .map(f64::from)
        .map(middle)
        .take_while(|&x| x < whole(WIDTH) - 4);
    let teeth = tracks.map(|x| {
        let d = format!("M{} 32h12l-6 14z", x - 6);
        view! { <path class="drawing-tip" d=d></path> }
    });
    let (from, to) = (middle(0.0), middle(1.0));
    let apart = format!("M{from} 162H{to}M{from} 155v14M{to} 155v14");
    view! {
        <svg class="drawing cross-section" viewBox="0 0 320 180" aria-hidden="true">
            <path class="drawing-road" d=road></path>
            {teeth.collect_view()}
            <path class="drawing-width" d=apart></path>
            <text class="drawing-label" x=to + 10 y="172">{labels.0}</text>
            <text class="drawing-label" x="316" y="22" text-anchor="end">{labels.1}</text>
        </svg>
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use evenrow_rules::setup::ToothKind;

    /// By hand: a point of 120 degrees rises by one over the root of three; half of 34 mm aside that is 9.81 mm.
    #[test]
    fn the_surface_falls_to_nothing_in_each_track_and_rises_to_the_ridge_between() {
        let tip = Tip::usual(ToothKind::WidePointed);
        let at = |across| height(tip, Length::ZERO, 34.0, across).unwrap();
        for track in [17.0, 51.0, 85.0] {
            assert!(at(track) < 1e-9);
        }
        for ridge in [0.0, 34.0, 68.0] {
            assert!((at(ridge) - 9.815).abs() < 0.001);
        }
    }

    #[test]
    fn between_the_tracks_of_blunt_tips_the_road_stays_uncut() {
        let tip = Tip::usual(ToothKind::WideBlunt);
        let at = |across| height(tip, Length::ZERO, 34.0, across);
        assert_eq!((at(17.0), at(17.0 + 9.0)), (Some(0.0), Some(0.0)));
        assert_eq!((at(34.0), at(17.0 + 10.0)), (None, None));
    }
}
