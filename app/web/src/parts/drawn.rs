//! One of our own drawings, by its name in `public/drawings.svg`. The file is precached; it costs the program nothing.
//!
//! Drawings that follow a number of the rules are parts of their own.

use leptos::prelude::*;

use super::live::drawn;

/// The drawing. It decorates: the words beside it say the same.
#[component]
pub fn Drawn(
    /// Its name in the file.
    name: &'static str,
    /// Whether it is twice as wide as those that stand beside words.
    #[prop(optional)]
    wide: bool,
) -> impl IntoView {
    on_sheet(name, wide)
}

/// A drawing twice as wide as those that stand beside words.
pub fn wide(name: &'static str) -> AnyView {
    on_sheet(name, true)
}

fn on_sheet(name: &'static str, wide: bool) -> AnyView {
    let sheet = if wide { "0 0 240 120" } else { "0 0 120 80" };
    drawn(view! {
        <svg class="drawn" class:drawn-wide=wide viewBox=sheet aria-hidden="true">
            <use href=format!("drawings.svg#{name}")></use>
        </svg>
    })
}
