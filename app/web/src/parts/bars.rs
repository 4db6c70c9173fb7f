//! Numbers side by side: a bar for each as long as it is large, and a line from what to what it may be, where that is known.
//!
//! Never here: what the numbers mean.

use leptos::prelude::*;

/// One number. Lengths are shares of the whole, 0 to 1.
#[derive(Clone, Debug, PartialEq)]
pub struct Bar {
    /// What it is of.
    pub name: String,
    /// The number as written.
    pub value: String,
    /// How long its bar is.
    pub length: f64,
    /// From what to what it may be.
    pub may_be: Option<(f64, f64)>,
}

/// What the picture shows.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct BarsView {
    /// The numbers in their order.
    pub bars: Vec<Bar>,
    /// All of it in a sentence.
    pub told: String,
}

/// How wide and high the drawing of a bar is, in its own units.
const WIDTH: f64 = 100.0;

/// The picture.
#[component]
pub fn Bars(
    /// What it shows.
    shown: Memo<BarsView>,
) -> impl IntoView {
    let bar = |bar: Bar| {
        let at = |share: f64| (share.clamp(0.0, 1.0) * WIDTH).to_string();
        let may_be = bar.may_be.map(|(low, high)| {
            view! {
                <line class="bars-may-be" x1=at(low) x2=at(high) y1="5" y2="5"/>
                <line class="bars-may-be" x1=at(low) x2=at(low) y1="2" y2="8"/>
                <line class="bars-may-be" x1=at(high) x2=at(high) y1="2" y2="8"/>
            }
        });
        view! {
            <div class="bars-row">
                <span>{bar.name}</span>
                <span class="bars-value">{bar.value}</span>
                <svg class="bars-drawing" viewBox="0 0 100 10" preserveAspectRatio="none" aria-hidden="true">
                    <rect class="bars-bar" x="0" y="1" height="8" width=at(bar.length)/>
                    {may_be}
                </svg>
            </div>
        }
    };
    view! {
        <div class="bars" role="img" aria-label=move || shown.with(|it| it.told.clone())>
            {move || shown.with(|it| it.bars.clone()).into_iter().map(bar).collect_view()}
        </div>
    }
}
