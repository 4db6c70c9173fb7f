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
        view! {
            <Answer
                text
                chosen=Signal::derive(move || chosen.get() == Some(at))
                on_pick=Callback::new(move |()| on_pick.run(at))
            />
        }
    };
    view! {
        <fieldset class="choice">
            <legend class="choice-label">{label}</legend>
            <div class="choice-options">{options.into_iter().enumerate().map(option).collect_view()}</div>
        </fieldset>
    }
}

/// One answer by itself.
#[component]
pub fn Answer(
    /// The answer.
    text: String,
    /// Whether it is the chosen one.
    chosen: Signal<bool>,
    /// It was picked.
    on_pick: Callback<()>,
) -> impl IntoView {
    view! {
        <button
            type="button"
            class="choice-option"
            aria-pressed=move || chosen.get().to_string()
            on:click=move |_| on_pick.run(())
        >
            <Show when=move || chosen.get()><Icon shape=Shape::Tick/></Show>
            <span>{text}</span>
        </button>
    }
}
