//! How even the row is: a bar for each tooth that was measured, as long as its tip, a line at the median, and a diamond
//! over each that is not like the others.
//!
//! Never here: which are not like the others.

use leptos::prelude::*;

use super::shift_line::per_cent;

/// What the profile shows. Places and lengths are shares of the whole, 0 to 1.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct RowProfileView {
    /// Where each measured tooth stands, how long its tip is against a new one, and whether it is not like the others.
    pub bars: Vec<(f64, f64, bool)>,
    /// How wide a bar is.
    pub width: f64,
    /// The median.
    pub median: f64,
    /// What the median line is called.
    pub median_word: String,
    /// All of it in a sentence.
    pub told: String,
}

/// The profile.
#[component]
pub fn RowProfile(
    /// What it shows.
    shown: Memo<RowProfileView>,
) -> impl IntoView {
    let bars = move || {
        let (bars, width) = shown.with(|it| (it.bars.clone(), it.width));
        let bar = move |(at, height, odd): (f64, f64, bool)| {
            view! {
                <span
                    class="row-profile-bar"
                    class:row-profile-odd=odd
                    style:left=per_cent(at * 100.0)
                    style:width=per_cent(width * 100.0)
                    style:height=per_cent(height * 100.0)
                ></span>
            }
        };
        bars.into_iter().map(bar).collect_view()
    };
    view! {
        <div class="row-profile" role="img" aria-label=move || shown.with(|it| it.told.clone())>
            {bars}
            <span class="row-profile-median" style:bottom=move || per_cent(shown.with(|it| it.median) * 100.0)>
                <span>{move || shown.with(|it| it.median_word.clone())}</span>
            </span>
        </div>
    }
}
