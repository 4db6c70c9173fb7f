//! The grading angle, seen from above: the moldboard across the direction of travel, which goes up, and the tracks that
//! its teeth leave. Drawn from the numbers: the tracks draw together as the angle closes.

use evenrow_rules::angle::Angle;
use leptos::prelude::*;

/// The middle of the board, on a sheet of 200 by 150, and half its length.
const MIDDLE: (f64, f64) = (92.0, 72.0);
const HALF: f64 = 78.0;

/// Every so many teeth are drawn; all of them would run together.
const DRAWN: i32 = 5;

fn whole(value: f64) -> i64 {
    value.round() as i64
}

/// The picture. It decorates: the number stands beside it in words.
#[component]
pub fn TopView(
    /// The grading angle, from the direction of travel.
    angle: Angle,
    /// The number in its corner.
    #[prop(into)]
    label: String,
    /// Whether the width that the board works is drawn as well, below it.
    #[prop(optional)]
    with_width: bool,
) -> impl IntoView {
    // The right end leads: the board falls from the upper right to the lower left.
    let place = |along: f64| {
        (
            MIDDLE.0 + along * angle.sine(),
            MIDDLE.1 - along * angle.cosine(),
        )
    };
    let (heel, toe) = (place(-HALF), place(HALF));
    let board = format!(
        "M{} {}L{} {}",
        whole(heel.0),
        whole(heel.1),
        whole(toe.0),
        whole(toe.1)
    );
    let tracks = (-DRAWN..=DRAWN).map(|at| {
        let (x, y) = place(f64::from(at) * HALF / f64::from(DRAWN));
        let d = format!("M{} {}V150", whole(x), whole(y + 8.0));
        view! { <path class="drawing-track" d=d></path> }
    });
    let arc = place(40.0);
    let sweep = format!(
        "M{} {}A40 40 0 0 1 {} {}",
        whole(MIDDLE.0),
        whole(MIDDLE.1 - 40.0),
        whole(arc.0),
        whole(arc.1)
    );
    let arrow = format!(
        "M{0} {1}V8M{0} 6l-8 11M{0} 6l8 11",
        whole(MIDDLE.0),
        whole(MIDDLE.1)
    );
    let width = format!(
        "M{0} 142H{1}M{0} 136v12M{1} 136v12",
        whole(heel.0),
        whole(toe.0)
    );
    view! {
        <svg class="drawing top-view" viewBox="0 0 200 150" aria-hidden="true">
            {tracks.collect_view()}
            <path class="drawing-board" d=board></path>
            <path class="drawing-arrow" d=arrow></path>
            <path class="drawing-angle" d=sweep></path>
            {with_width.then(|| view! { <path class="drawing-width" d=width></path> })}
            <text class="drawing-label" x="4" y="48">{label}</text>
        </svg>
    }
}
