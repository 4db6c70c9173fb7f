//! The plates on the board from the left as seen from the cab: toothed ones with their teeth drawn, the others plain.

use leptos::prelude::*;

/// One plate.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PlateView {
    /// Its number, as written below it.
    pub number: String,
    /// How wide it is against the others.
    pub share: u32,
    /// How many of its sockets stay empty at its left end.
    pub skipped: u32,
    /// How many teeth it carries today.
    pub teeth: u32,
    /// How many it could carry.
    pub room: u32,
}

/// The strip.
#[component]
pub fn RowStrip(
    /// The plates in order.
    plates: Vec<PlateView>,
    /// The same in a sentence.
    #[prop(into)]
    told: String,
) -> impl IntoView {
    let plate = |plate: PlateView| {
        // A tooth is drawn in a cell of ten by thirty, all of them stretched to the width of the plate.
        let tooth =
            |at: u32| view! { <rect x=at * 10 + 2 y="2" width="6" height="26" rx="3"></rect> };
        let frame = format!("0 0 {} 30", plate.room.max(1) * 10);
        view! {
            <div class="row-strip-plate" class:row-strip-toothed={0 < plate.teeth} style:flex-grow=plate.share.to_string()>
                <svg viewBox=frame preserveAspectRatio="none" aria-hidden="true">
                    {(plate.skipped..plate.skipped + plate.teeth).map(tooth).collect_view()}
                </svg>
                <span>{plate.number}</span>
            </div>
        }
    };
    view! {
        <div class="row-strip" role="img" aria-label=told>{plates.into_iter().map(plate).collect_view()}</div>
    }
}
