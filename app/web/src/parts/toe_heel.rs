//! The moldboard from above with how far its heel lies behind its toe along the machine. Drawn from the angle; the travel
//! goes up.

use evenrow_rules::angle::Angle;
use leptos::prelude::*;

/// The toe, on a sheet of 200 by 150, and the length of the board.
const TOE: (f64, f64) = (168.0, 26.0);
const BOARD: f64 = 116.0;

fn whole(value: f64) -> i64 {
    value.round() as i64
}

/// The picture. It decorates: the number stands beside it in words.
#[component]
pub fn ToeHeel(
    /// The grading angle, from the direction of travel.
    #[prop(into)]
    angle: Signal<Angle>,
    /// The offset, in the picture's corner.
    #[prop(into)]
    label: Signal<String>,
) -> impl IntoView {
    let heel = move || {
        let angle = angle.get();
        (
            whole(TOE.0 - BOARD * angle.sine()),
            whole(TOE.1 + BOARD * angle.cosine()),
        )
    };
    let (right, top) = (whole(TOE.0), whole(TOE.1));
    let board = move || {
        let (x, y) = heel();
        format!("M{x} {y}L{right} {top}")
    };
    // The line across the road at the toe, and the measure from it to the heel.
    let across = format!("M20 {top}H{right}");
    let measure = move || {
        let (x, y) = heel();
        format!(
            "M{x} {top}V{y}m-6 -9l6 9l6 -9M{} {}l6 -9l6 9",
            x - 6,
            top + 9
        )
    };
    view! {
        <svg class="drawing toe-heel" viewBox="0 0 200 150" aria-hidden="true">
            <path class="drawing-arrow" d="M188 140V92M188 90l-7 11M188 90l7 11"></path>
            <path class="drawing-board" d=board></path>
            <path class="drawing-track" d=across></path>
            <path class="drawing-angle" d=measure></path>
            <text class="drawing-label" x="4" y="144">{label}</text>
        </svg>
    }
}
