//! The end of all records on this phone: a backup is asked for first, and until the app closes they can be put back.

use evenrow_journal::Journal;
use leptos::prelude::*;

use super::records::{backup_state, hand_over_all};
use crate::device::page;
use crate::device::share::Handed;
use crate::parts::live::{live, perhaps};
use crate::parts::notice::{Tone, notice};
use crate::place::Place;
use crate::shell::{App, go};

/// The screen.
#[component]
pub fn Erase(
    /// What every screen is handed.
    app: App,
) -> impl IntoView {
    let (desk, words) = (app.desk, app.words);
    let state = backup_state(app);
    let counts = Memo::new(move |_| {
        let shifts = app.state().with(|state| state.shifts.len());
        let records = desk.look(Journal::len);
        (records, shifts)
    });
    let held = move || desk.backed_up().get().map_or(0, |(_, held)| held);
    let is_backed_up = Memo::new(move |_| counts.get().0 <= held());
    let said = RwSignal::new(String::new());
    let back_up = move |_| {
        page::run(async move {
            said.set(match hand_over_all(app).await {
                Handed::Done => words.backup_handed(),
                Handed::Refused => words.file_refused(),
                Handed::Cancelled => String::new(),
            });
        });
    };
    let erase = move |_| {
        page::run(async move {
            match desk.erase().await {
                Ok(()) => go(&Place::Shift),
                Err(why) => said.set(words.not_kept(&why.0)),
            }
        });
    };
    let stands = move || {
        if is_backed_up.get() {
            state.get().1
        } else {
            words.erase_backup_first()
        }
    };
    // Neither button takes the other's place: a second tap must not erase what the first one was to save.
    let erase_says = move || {
        if is_backed_up.get() {
            words.erase_now()
        } else {
            words.erase_without()
        }
    };
    view! {
        <h1 tabindex="-1">{words.erase_title()}</h1>
        <p>{move || {
            let (records, shifts) = counts.get();
            words.erase_lead(&records.to_string(), &shifts.to_string())
        }}</p>
        <p>{words.erase_what_stays()}</p>
        <p class="erase-stands" class:caution=move || !is_backed_up.get()>{stands}</p>
        <button type="button" class="main-action make-backup" on:click=back_up>{words.backup_make()}</button>
        <button type="button" class="action erase-now" on:click=erase>{erase_says}</button>
        <p role="status" class="erase-said">{said}</p>
        <a class="action" href="#records">{words.back_to_records()}</a>
    }
}

/// Says that all was erased, for as long as it can be put back.
pub fn erased(app: App) -> AnyView {
    let (desk, words) = (app.desk, app.words);
    let not_put_back = RwSignal::new(None);
    let put_back = move || {
        page::run(async move {
            let kept = desk.put_back().await;
            not_put_back.set(kept.err().map(|why| words.not_kept(&why.0)));
        });
    };
    let said = move || {
        let many = desk.erased()?.to_string();
        let text = not_put_back.get().unwrap_or_else(|| words.erased(&many));
        Some(notice(Tone::Kept, text, words.put_back(), put_back))
    };
    live(move || perhaps(said()))
}
