//! What the app is for, in three short steps: a drawing and a sentence each. The questions stand below them all the while.

use leptos::prelude::*;

use super::install::{Step, ToInstall};
use crate::device::page;
use crate::parts::drawn::wide;
use crate::parts::live::{drawn, live, perhaps, when};
use crate::parts::plain::{button, within};
use crate::phone::Phone;
use crate::words::Words;

/// The drawing and the sentence of each.
const STEPS: [Step; 3] = [
    ("first_turn", Words::first_why_turn),
    ("first_tasks", Words::first_what_it_does),
    ("first_phone", Words::first_on_this_phone),
];

/// The steps, one at a time.
#[component]
pub fn Steps(
    /// What needs no record.
    phone: Phone,
) -> impl IntoView {
    let words = phone.words;
    let step = RwSignal::new(0_usize);
    // Drawn again with the step; only the way onto the home screen comes and goes by itself.
    let shown = move || {
        let at = step.get();
        let (name, sentence) = *STEPS.get(at)?;
        let count = words.step_of(&(at + 1).to_string(), &STEPS.len().to_string());
        Some(drawn(view! {
            {wide(name)}
            <p>{within("steps-count", count)}{sentence(words)}</p>
        }))
    };
    let skip = move || {
        button("action to-questions", words.first_skip(), || {
            page::focus(".first-title");
        })
    };
    let back = move || {
        let back = move || step.update(|it| *it -= 1);
        button("action steps-back", words.first_back(), back)
    };
    let next = move || {
        let next = move || step.update(|it| *it += 1);
        button("action steps-next", words.first_next(), next)
    };
    let is_last = move || step.get() + 1 == STEPS.len();
    drawn(view! {
        <section class="steps">
            <div class="steps-shown" role="status">{live(move || perhaps(shown()))}</div>
            {when(is_last, move || view! { <ToInstall phone/> }.into_any())}
            <div class="pair">
                {live(move || if step.get() == 0 { skip() } else { back() })}
                {live(move || if is_last() { skip() } else { next() })}
            </div>
        </section>
    })
}
