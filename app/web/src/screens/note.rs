//! A note with the phone's clock.

use evenrow_journal::{Command, Refusal};
use leptos::prelude::*;

use super::row::mounted;
use crate::device::preferences;
use crate::place::Place;
use crate::shell::{App, go};

/// What a note is on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum On {
    /// The shift that runs.
    Shift,
    /// The set on this phone's machine.
    Set,
}

/// The form.
#[component]
pub fn Note(
    /// What every screen is handed.
    app: App,
    /// What the note is on.
    on: On,
) -> impl IntoView {
    let words = app.words;
    let (draft, title, label, back, to) = match on {
        On::Shift => {
            let back = words.back_to_shift();
            (
                "note",
                words.note_title(),
                words.note_label(),
                back,
                Place::Shift,
            )
        }
        On::Set => {
            let back = words.back_to_row();
            (
                "row-note",
                words.row_note(),
                words.row_note_label(),
                back,
                Place::Row,
            )
        }
    };
    let text = RwSignal::new(preferences::draft::<String>(draft).unwrap_or_default());
    let typed = move |typed: String| {
        preferences::set_draft(draft, &typed);
        text.set(typed);
    };
    let ask = move |text: String| match on {
        On::Shift => Some(Command::Note(text)),
        On::Set => app.state().with_untracked(|state| {
            let machine = app.machine.get_untracked()?;
            let set = state.teeth.on(&machine.id)?.id.clone();
            Some(Command::NoteOnSet { set, text })
        }),
    };
    let href = format!("#{}", to.hash());
    let keep = move |_| match ask(text.get_untracked()) {
        Some(command) => {
            let to = to.clone();
            app.desk.submit_then(command, move || {
                preferences::drop_draft(draft);
                go(&to);
            });
        }
        None => app.desk.refuse(Refusal::NoSet),
    };
    // A note is kept with a shift or with a set; without one there is nothing to write it on.
    let (set, has_shift) = (
        mounted(app),
        Memo::new(move |_| app.state().with(|state| state.running().is_some())),
    );
    let nothing = move || match on {
        On::Shift => (!has_shift.get()).then(|| words.note_empty()),
        On::Set => set.with(Option::is_none).then(|| words.row_empty()),
    };
    let form = move || {
        let keep = keep.clone();
        view! {
            <label class="field">
                <span class="field-label">{label.clone()}</span>
                <textarea
                    class="field-input note-text"
                    rows="5"
                    prop:value=text
                    on:input=move |event| typed(event_target_value(&event))
                ></textarea>
            </label>
            <button type="button" class="main-action keep" on:click=keep>{words.keep()}</button>
        }
    };
    view! {
        <h1 tabindex="-1">{title}</h1>
        {move || match nothing() {
            Some(why) => view! { <p class="empty">{why}</p> }.into_any(),
            None => form().into_any(),
        }}
        <a class="action" href=href>{back}</a>
    }
}
