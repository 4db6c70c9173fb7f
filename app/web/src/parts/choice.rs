//! One of a few answers, each a button; the chosen one is filled, ticked, and said to be pressed.

use leptos::prelude::*;

use super::icon::{Icon, Shape};

/// A question with its answers in order.
#[component]
pub fn Choice(
    /// The question.
    #[prop(into)]
    label: String,
    /// The answers.
    options: Vec<String>,
    /// Which is chosen, if any.
    #[prop(into)]
    chosen: Signal<Option<usize>>,
    /// One was picked.
    on_pick: Callback<usize>,
) -> impl IntoView {
    let option = move |(at, text): (usize, String)| {
        let pressed = move || chosen.get() == Some(at);
        view! {
            <button
                type="button"
                class="choice-option"
                aria-pressed=move || pressed().to_string()
                on:click=move |_| on_pick.run(at)
            >
                <Show when=pressed><Icon shape=Shape::Tick/></Show>
                <span>{text}</span>
            </button>
        }
    };
    view! {
        <fieldset class="choice">
            <legend class="choice-label">{label}</legend>
            <div class="choice-options">{options.into_iter().enumerate().map(option).collect_view()}</div>
        </fieldset>
    }
}
