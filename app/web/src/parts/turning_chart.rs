//! How the teeth turned, shift by shift: above, how many were held; below, a drop filled by how much of the oiling was
//! done on time.
//!
//! Never here: what follows from it.

use leptos::prelude::*;

use super::icon::Shape;
use super::shift_line::per_cent;

/// One shift.
#[derive(Clone, Debug, PartialEq)]
pub struct TurningBar {
    /// How many teeth were held, as written.
    pub held: String,
    /// The same as a share of the most of all shifts shown.
    pub height: f64,
    /// The share of the oilings that were done on time.
    pub on_time: f64,
    /// The day.
    pub day: String,
}

/// What the chart shows.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct TurningChartView {
    /// The shifts, the latest last.
    pub shifts: Vec<TurningBar>,
    /// What the upper half shows.
    pub above: String,
    /// What the lower half shows.
    pub below: String,
    /// All of it in a sentence.
    pub told: String,
}

/// The chart.
#[component]
pub fn TurningChart(
    /// What it shows.
    shown: Memo<TurningChartView>,
) -> impl IntoView {
    let shift = |bar: TurningBar| {
        let missing = 1.0 - bar.on_time.clamp(0.0, 1.0);
        let shown_from_below = format!("inset({} 0 0 0)", per_cent(missing * 100.0));
        view! {
            <div class="turning-shift">
                <span class="turning-count">{bar.held}</span>
                <span class="turning-held"><span style:height=per_cent(bar.height * 100.0)></span></span>
                <svg class="turning-oiled" viewBox="0 0 24 24" aria-hidden="true">
                    <path class="turning-oil" d=Shape::Drop.path() style:clip-path=shown_from_below></path>
                    <path class="turning-drop" d=Shape::Drop.path()></path>
                </svg>
                <span class="turning-day">{bar.day}</span>
            </div>
        }
    };
    view! {
        <div class="turning-chart" role="img" aria-label=move || shown.with(|it| it.told.clone())>
            <span class="small">{move || shown.with(|it| it.above.clone())}</span>
            <div class="turning-shifts">
                {move || shown.with(|it| it.shifts.clone()).into_iter().map(shift).collect_view()}
            </div>
            <span class="small">{move || shown.with(|it| it.below.clone())}</span>
        </div>
    }
}
