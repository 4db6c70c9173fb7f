//! Something to be said at the foot of any screen, with one thing to do about it.

use leptos::prelude::*;

use super::live::{drawn, each};
use super::plain::{button, sentence};

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
    notice(tone, text, action, move || on_press.run(()))
}

/// The same in a place that is drawn again with it.
pub fn notice(tone: Tone, text: String, action: String, on_press: impl Fn() + 'static) -> AnyView {
    drawn(view! {
        <div class="notice" class:notice-trouble=tone == Tone::Trouble>
            {sentence("notice-text", text)}
            {button("notice-action", action, on_press)}
        </div>
    })
}

/// A sentence and two answers, of which one has to be picked.
pub fn question(text: String, answers: [String; 2], on_pick: Callback<usize>) -> AnyView {
    let answer =
        move |(at, name): (usize, String)| button("notice-action", name, move || on_pick.run(at));
    drawn(view! {
        <div class="notice notice-trouble notice-question">
            {sentence("notice-text", text)}
            {each(answers.into_iter().enumerate(), answer)}
        </div>
    })
}
