//! Something on a checklist: a box to tick, what it is, and what it rests on.

use leptos::prelude::*;

use super::icon::{Icon, Shape};

/// A checklist line, all of it one button.
#[component]
pub fn Tick(
    /// What to see to.
    #[prop(into)]
    text: String,
    /// What it rests on.
    #[prop(into)]
    basis: String,
    /// Whether it is ticked.
    #[prop(into)]
    ticked: Signal<bool>,
    /// It was pressed: whether it is to be ticked now.
    on_press: Callback<bool>,
) -> impl IntoView {
    view! {
        <button
            type="button"
            class="tick"
            role="checkbox"
            aria-checked=move || ticked.get().to_string()
            on:click=move |_| on_press.run(!ticked.get_untracked())
        >
            <span class="tick-box"><Show when=move || ticked.get()><Icon shape=Shape::Tick/></Show></span>
            <span class="tick-text">{text} <small class="basis">{basis}</small></span>
        </button>
    }
}
