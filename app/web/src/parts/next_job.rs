//! What is to be done next: the one large card with the one large button, to be read at arm's length.

use leptos::prelude::*;

use super::icon::{Shape, icon};
use super::live::drawn;
use super::plain::within;

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

/// The card, drawn again with what it says.
pub fn next_job(card: Card, on_press: impl Fn() + 'static) -> AnyView {
    let (shape, button) = card.button;
    drawn(view! {
        <section class="next-job" data-press=card.press.name()>
            <h1 class="next-job-title" tabindex="-1">{card.title}</h1>
            <p class="next-job-when">
                {within("next-job-word", card.word)}
                <span class="next-job-big" role="timer">{card.big}</span>
                " "
                {within("next-job-small", card.small)}
            </p>
            <button type="button" class="main-action next-job-button" on:click=move |_| on_press()>
                {icon(shape)}
                <span>{button}</span>
            </button>
        </section>
    })
}
