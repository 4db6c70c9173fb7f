//! The life of a set as a bar: worn so far, half life and end as marks with the span in which each may lie.

use leptos::prelude::*;

use super::shift_line::per_cent;

/// What the bar shows, in per cent of its length.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct LifeBarView {
    /// Worn so far.
    pub worn: f64,
    /// Half life.
    pub half: f64,
    /// From where on and how far half life may lie.
    pub half_band: (f64, f64),
    /// The end.
    pub done: f64,
    /// From where on and how far the end may lie.
    pub done_band: (f64, f64),
    /// The same in a sentence.
    pub told: String,
    /// The word at half life.
    pub half_word: String,
    /// The word at the end.
    pub done_word: String,
}

impl LifeBarView {
    /// Whether there is anything to show.
    pub fn is_known(&self) -> bool {
        !self.told.is_empty()
    }
}

/// The bar.
#[component]
pub fn LifeBar(
    /// What it shows.
    shown: Memo<LifeBarView>,
) -> impl IntoView {
    let at = move |part: fn(&LifeBarView) -> f64| move || per_cent(shown.with(part));
    let word = move |part: fn(&LifeBarView) -> String| move || shown.with(part);
    view! {
        <div class="life-bar" role="img" aria-label=word(|it| it.told.clone())>
            <span class="life-band" style:left=at(|it| it.half_band.0) style:width=at(|it| it.half_band.1)></span>
            <span class="life-band" style:left=at(|it| it.done_band.0) style:width=at(|it| it.done_band.1)></span>
            <span class="life-worn" style:width=at(|it| it.worn)></span>
            <span class="life-mark" style:left=at(|it| it.half)></span>
            <span class="life-mark" style:left=at(|it| it.done)></span>
            <span class="life-word" style:left=at(|it| it.half)>{word(|it| it.half_word.clone())}</span>
            <span class="life-word life-word-end" style:right=at(|it| 100.0 - it.done)>{word(|it| it.done_word.clone())}</span>
        </div>
    }
}
