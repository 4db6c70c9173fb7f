//! One of our own drawings, by its name in `public/drawings.svg`. The file is precached; it costs the program nothing.
//!
//! Drawings that follow a number of the rules are parts of their own.

use leptos::prelude::*;

/// The drawing. It decorates: the words beside it say the same.
#[component]
pub fn Drawn(
    /// Its name in the file.
    name: &'static str,
    /// Whether it is twice as wide as those that stand beside words.
    #[prop(optional)]
    wide: bool,
) -> impl IntoView {
    let sheet = if wide { "0 0 240 120" } else { "0 0 120 80" };
    view! {
        <svg class="drawn" class:drawn-wide=wide viewBox=sheet aria-hidden="true">
            <use href=format!("drawings.svg#{name}")></use>
        </svg>
    }
}
