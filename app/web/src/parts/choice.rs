//! One of a few answers, each a button; the chosen one is filled, ticked, and said to be pressed.

use leptos::prelude::*;

use super::icon::{Shape, icon};
use super::live::{Reads, drawn, each, live};

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
    chosen: Reads<Option<usize>>,
    /// One was picked.
    on_pick: Callback<usize>,
) -> impl IntoView {
    let drawn_anew = move || {
        let chosen = chosen.get();
        let option = |(at, text): (usize, &String)| {
            answer(text.clone(), chosen == Some(at), move || on_pick.run(at))
        };
        each(options.iter().enumerate(), option)
    };
    drawn(view! {
        <fieldset class="choice">
            <legend class="choice-label">{label}</legend>
            <div class="choice-options">{live(drawn_anew)}</div>
        </fieldset>
    })
}

/// One answer by itself, drawn again with whether it is the chosen one.
pub fn answer(text: String, chosen: bool, on_pick: impl Fn() + 'static) -> AnyView {
    drawn(view! {
        <button
            type="button"
            class="choice-option"
            aria-pressed=chosen.to_string()
            on:click=move |_| on_pick()
        >
            {each(chosen.then_some(Shape::Tick), icon)}
            <span>{text}</span>
        </button>
    })
}
