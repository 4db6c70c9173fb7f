//! A note with the phone's clock.

use evenrow_journal::Command;
use leptos::prelude::*;

use crate::device::preferences;
use crate::place::Place;
use crate::shell::{App, go};

/// The form.
#[component]
pub fn Note(
    /// What every screen is handed.
    app: App,
) -> impl IntoView {
    let words = app.words;
    let text = RwSignal::new(preferences::draft::<String>("note").unwrap_or_default());
    let typed = move |typed: String| {
        preferences::set_draft("note", &typed);
        text.set(typed);
    };
    let keep = move |_| {
        app.desk
            .submit_then(Command::Note(text.get_untracked()), move || {
                preferences::drop_draft("note");
                go(&Place::Shift);
            });
    };
    view! {
        <h1 tabindex="-1">{words.note_title()}</h1>
        <label class="field">
            <span class="field-label">{words.note_label()}</span>
            <textarea
                class="field-input note-text"
                rows="5"
                prop:value=text
                on:input=move |event| typed(event_target_value(&event))
            ></textarea>
        </label>
        <button type="button" class="main-action keep" on:click=keep>{words.keep()}</button>
        <a class="action" href="#shift">{words.back_to_shift()}</a>
    }
}
