//! The cutting angle, seen along the moldboard: the tooth leans back from its leading tip at the angle that the sheet
//! sets, and the travel goes to the left. Drawn from the number, never a stock picture.

use evenrow_rules::angle::Angle;
use leptos::prelude::*;

/// Where the tip touches the road, on a sheet of 200 by 150.
const TIP: (f64, f64) = (70.0, 120.0);

/// A point at a distance from the tip, along the tooth.
fn along(angle: Angle, distance: f64) -> (f64, f64) {
    (
        TIP.0 + distance * angle.cosine(),
        TIP.1 - distance * angle.sine(),
    )
}

fn whole(value: f64) -> i64 {
    value.round() as i64
}

/// The picture. It decorates: the number stands beside it in words.
#[component]
pub fn SideView(
    /// The cutting angle.
    angle: Angle,
    /// The number in its corner.
    #[prop(into)]
    label: String,
) -> impl IntoView {
    let (tip, shoulder, top) = (along(angle, 0.0), along(angle, 34.0), along(angle, 118.0));
    let arc = along(angle, 62.0);
    let line = |from: (f64, f64), to: (f64, f64)| {
        format!(
            "M{} {}L{} {}",
            whole(from.0),
            whole(from.1),
            whole(to.0),
            whole(to.1)
        )
    };
    // The tip is a wedge: its base as wide as the tooth's head, its point on the road.
    let (across, base) = ((angle.sine() * 13.0, angle.cosine() * 13.0), shoulder);
    let wedge = format!(
        "M{} {}L{} {}L{} {}z",
        whole(tip.0),
        whole(tip.1),
        whole(base.0 - across.0),
        whole(base.1 - across.1),
        whole(base.0 + across.0),
        whole(base.1 + across.1),
    );
    let sweep = format!(
        "M{} {}A62 62 0 0 0 {} {}",
        whole(TIP.0 + 62.0),
        whole(TIP.1),
        whole(arc.0),
        whole(arc.1)
    );
    view! {
        <svg class="drawing side-view" viewBox="0 0 200 150" aria-hidden="true">
            <path class="drawing-ground" d="M4 120H196"></path>
            <path class="drawing-arrow" d="M62 22H12M12 22l11-8M12 22l11 8"></path>
            <path class="drawing-shank" d=line(shoulder, top)></path>
            <path class="drawing-tip" d=wedge></path>
            <path class="drawing-angle" d=sweep></path>
            <text class="drawing-label" x="196" y="100" text-anchor="end">{label}</text>
        </svg>
    }
}
