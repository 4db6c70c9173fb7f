//! A section of the day's plan: what it is, when it is worked, a tick for done, and what can be changed about it.

use leptos::prelude::*;

use super::icon::{Icon, Shape};
use super::shift_line::Stage;

/// The section in words.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SectionView {
    /// How it stands.
    pub stage: Stage,
    /// Its number and name.
    pub title: String,
    /// The work, how long and wide, in how many passes, how fast.
    pub facts: String,
    /// How long it takes, and from when to when.
    pub when: String,
    /// What opens to the changes.
    pub more: String,
}

/// What can be done with a section.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Act {
    /// Describe it anew.
    Change,
    /// Work it before the one that stands before it.
    Earlier,
    /// Work it after the one that stands behind it.
    Later,
    /// Leave it out.
    LeaveOut,
}

/// The section.
#[component]
pub fn SectionCard(
    /// In words.
    shown: Memo<SectionView>,
    /// What can be done with it, each as its button says it.
    acts: [(Act, String); 4],
    /// It was ticked as done, or not.
    on_tick: Callback<bool>,
    /// A button was pressed.
    on_act: Callback<Act>,
) -> impl IntoView {
    let word = move |part: fn(&SectionView) -> String| move || shown.with(part);
    let stage = move || shown.with(|it| it.stage);
    let is_done = move || stage() == Stage::Done;
    let act = move |(act, name): (Act, String)| {
        view! { <button type="button" class="action" on:click=move |_| on_act.run(act)>{name}</button> }
    };
    view! {
        <li class="section-card" data-stage=move || stage().name()>
            <button
                type="button"
                class="tick"
                role="checkbox"
                aria-checked=move || is_done().to_string()
                on:click=move |_| on_tick.run(!untrack(is_done))
            >
                <span class="tick-box"><Show when=is_done><Icon shape=Shape::Tick/></Show></span>
                <span class="tick-text">
                    <strong class="section-title">{word(|it| it.title.clone())}</strong>
                    <span class="section-when">{word(|it| it.when.clone())}</span>
                </span>
            </button>
            <p class="section-facts">{word(|it| it.facts.clone())}</p>
            <details class="section-more">
                <summary>{word(|it| it.more.clone())}</summary>
                <div class="pair">{acts.map(act)}</div>
            </details>
        </li>
    }
}
