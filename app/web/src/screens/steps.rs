//! What the app is for, in three short steps: a drawing and a sentence each. The questions stand below them all the while.

use leptos::prelude::*;

use super::install::{Step, ToInstall};
use crate::device::page;
use crate::parts::drawn::Drawn;
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
    let is_first = move || step.get() == 0;
    let is_last = move || step.get() + 1 == STEPS.len();
    let to_questions = |_| page::focus(".first-title");
    let shown = move || {
        let at = step.get();
        STEPS.get(at).map(|&(name, sentence)| {
            let count = words.step_of(&(at + 1).to_string(), &STEPS.len().to_string());
            view! {
                <Drawn name wide=true/>
                <p><span class="steps-count">{count}</span>{sentence(words)}</p>
            }
        })
    };
    view! {
        <section class="steps">
            <div class="steps-shown" role="status">{shown}</div>
            <Show when=is_last><ToInstall app/></Show>
            <div class="pair">
                <Show
                    when=is_first
                    fallback=move || view! {
                        <button type="button" class="action steps-back" on:click=move |_| step.update(|it| *it -= 1)>
                            {words.first_back()}
                        </button>
                    }
                >
                    <button type="button" class="action to-questions" on:click=to_questions>{words.first_skip()}</button>
                </Show>
                <Show
                    when=is_last
                    fallback=move || view! {
                        <button type="button" class="action steps-next" on:click=move |_| step.update(|it| *it += 1)>
                            {words.first_next()}
                        </button>
                    }
                >
                    <button type="button" class="action to-questions" on:click=to_questions>{words.first_skip()}</button>
                </Show>
            </div>
        </section>
    }
}
