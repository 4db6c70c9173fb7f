//! What the app is for, in three short steps: a drawing and a sentence each. The questions stand below them all the while.

use leptos::prelude::*;

use super::install::{Step, ToInstall};
use crate::device::page;
use crate::parts::drawn::wide;
use crate::parts::live::{drawn, live, perhaps, when};
use crate::parts::plain::within;
use crate::shell::App;
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
    /// What every screen is handed.
    app: App,
) -> impl IntoView {
    let words = app.words;
    let step = RwSignal::new(0_usize);
    let action = |class, said: String, on_press: Box<dyn Fn()>| {
        drawn(
            view! { <button type="button" class=class on:click=move |_| on_press()>{said}</button> },
        )
    };
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
        let to_questions = || page::focus(".first-title");
        action(
            "action to-questions",
            words.first_skip(),
            Box::new(to_questions),
        )
    };
    let back = move || {
        let back = move || step.update(|it| *it -= 1);
        action("action steps-back", words.first_back(), Box::new(back))
    };
    let next = move || {
        let next = move || step.update(|it| *it += 1);
        action("action steps-next", words.first_next(), Box::new(next))
    };
    let is_last = move || step.get() + 1 == STEPS.len();
    drawn(view! {
        <section class="steps">
            <div class="steps-shown" role="status">{live(move || perhaps(shown()))}</div>
            {when(is_last, move || view! { <ToInstall app/> }.into_any())}
            <div class="pair">
                {live(move || if step.get() == 0 { skip() } else { back() })}
                {live(move || if is_last() { skip() } else { next() })}
            </div>
        </section>
    })
}
