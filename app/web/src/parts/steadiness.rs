//! Whether the phone lies still, and how many of the readings wanted there are: a word with its sign, and a bar.

use leptos::prelude::*;

use super::icon::{Icon, Shape};
use super::shift_line::per_cent;

/// What is shown.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct SteadinessView {
    /// Whether it lies still.
    pub steady: bool,
    /// The word for it.
    pub word: String,
    /// How far it has come, in per cent.
    pub share: f64,
    /// The same in words.
    pub told: String,
}

/// The word and the bar.
#[component]
pub fn Steadiness(
    /// What is shown.
    #[prop(into)]
    shown: Signal<SteadinessView>,
) -> impl IntoView {
    // A memo: read out when it changes, not with every reading.
    let steady = Memo::new(move |_| shown.with(|it| (it.steady, it.word.clone())));
    let word = move || {
        let (steady, word) = steady.get();
        let shape = if steady { Shape::Tick } else { Shape::Care };
        view! { <span class="steadiness-sign"><Icon shape/></span><span>{word}</span> }
    };
    view! {
        <div class="steadiness" data-steady=move || steady.get().0.to_string()>
            <p class="steadiness-word" role="status">{word}</p>
            <div class="steadiness-bar" role="img" aria-label=move || shown.with(|it| it.told.clone())>
                <span class="steadiness-share" style:width=move || per_cent(shown.with(|it| it.share))></span>
            </div>
            <p class="steadiness-told" aria-hidden="true">{move || shown.with(|it| it.told.clone())}</p>
        </div>
    }
}
