//! What is to be done next: the one large card with the one large button, to be read at arm's length.

use leptos::prelude::*;

use super::icon::{Icon, Shape};

/// How pressing it is. Told by shape and word as well as by colour.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Press {
    /// There is time.
    Ahead,
    /// Now.
    Due,
    /// It should have been done.
    Late,
}

impl Press {
    const fn name(self) -> &'static str {
        match self {
            Press::Ahead => "ahead",
            Press::Due => "due",
            Press::Late => "late",
        }
    }
}

/// The card in words.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Card {
    /// How pressing it is.
    pub press: Press,
    /// What is to be done.
    pub title: String,
    /// How pressing it is, as a word; none while there is time.
    pub word: String,
    /// The time left, or by how much it is late.
    pub big: String,
    /// When that is.
    pub small: String,
    /// The icon and the word on the button.
    pub button: (Shape, String),
}

/// The card.
#[component]
pub fn NextJob(
    /// In words.
    card: Memo<Card>,
    /// The button was pressed.
    on_press: Callback<()>,
) -> impl IntoView {
    let icon = Memo::new(move |_| card.with(|card| card.button.0));
    view! {
        <section class="next-job" data-press=move || card.with(|card| card.press.name())>
            <h1 class="next-job-title" tabindex="-1">{move || card.with(|card| card.title.clone())}</h1>
            <p class="next-job-when">
                <span class="next-job-word">{move || card.with(|card| card.word.clone())}</span>
                <span class="next-job-big" role="timer">{move || card.with(|card| card.big.clone())}</span>
                " "
                <span class="next-job-small">{move || card.with(|card| card.small.clone())}</span>
            </p>
            <button type="button" class="main-action next-job-button" on:click=move |_| on_press.run(())>
                {move || view! { <Icon shape=icon.get()/> }}
                <span>{move || card.with(|card| card.button.1.clone())}</span>
            </button>
        </section>
    }
}
