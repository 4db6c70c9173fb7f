//! Something to be said at the foot of any screen, with one thing to do about it.

use leptos::prelude::*;

/// How it is meant.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Tone {
    /// It went well.
    Kept,
    /// It did not.
    Trouble,
}

/// A sentence and a button.
#[component]
pub fn Notice(
    /// How it is meant.
    tone: Tone,
    /// The sentence.
    #[prop(into)]
    text: String,
    /// What the button says.
    #[prop(into)]
    action: String,
    /// The button was pressed.
    on_press: Callback<()>,
) -> impl IntoView {
    view! {
        <div class="notice" class:notice-trouble=tone == Tone::Trouble>
            <p class="notice-text">{text}</p>
            <button type="button" class="notice-action" on:click=move |_| on_press.run(())>{action}</button>
        </div>
    }
}

/// A sentence and two answers, of which one has to be picked.
#[component]
pub fn Question(
    /// The sentence.
    #[prop(into)]
    text: String,
    /// What the two buttons say.
    answers: [String; 2],
    /// The answer with this number was picked.
    on_pick: Callback<usize>,
) -> impl IntoView {
    let answer = move |(at, name): (usize, String)| {
        view! { <button type="button" class="notice-action" on:click=move |_| on_pick.run(at)>{name}</button> }
    };
    view! {
        <div class="notice notice-trouble notice-question">
            <p class="notice-text">{text}</p>
            {answers.into_iter().enumerate().map(answer).collect_view()}
        </div>
    }
}
