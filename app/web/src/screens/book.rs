//! The shifts so far with their reports, and a copy of all records.

use evenrow_journal::state::Shift;
use leptos::prelude::*;

use crate::device::page;
use crate::device::share::{self, Handed};
use crate::device::store::Keeping;
use crate::shell::App;
use crate::words::times;

/// The screen.
#[component]
pub fn Book(
    /// What every screen is handed.
    app: App,
) -> impl IntoView {
    let words = app.words;
    let shift = move |shift: &Shift| {
        let zone = times::zone_of(shift.started, shift.offset_minutes);
        let at = |moment| times::clock(moment, zone(moment));
        let day = times::date(shift.plan.start, zone(shift.plan.start));
        let text = words.shift_on(
            &day,
            &at(shift.plan.start),
            &at(shift.ended.unwrap_or(shift.plan.end)),
        );
        view! { <a class="action shift-of-book" href=format!("#report/{}", shift.id.as_str())>{text}</a> }
    };
    let shifts = move || {
        app.state()
            .with(|state| state.shifts.iter().rev().map(shift).collect_view())
    };
    let none = move || app.state().with(|state| state.shifts.is_empty());
    let kept = move || match app.desk.place_of_records().get() {
        Keeping::Promised => words.keeping_promised(),
        Keeping::BestEffort => words.keeping_best_effort(),
        Keeping::Weak => words.keeping_weak(),
        Keeping::Unknown => words.keeping_unknown(),
    };
    let handed = RwSignal::new(None);
    let copy = move |_| {
        let (records, _) = app.desk.records();
        page::run(async move { handed.set(Some(share::copy(&records).await)) });
    };
    let unreadable = move || {
        app.state().track();
        let (_, unreadable) = app.desk.records();
        (0 < unreadable).then(|| words.records_unreadable(&unreadable.to_string()))
    };
    view! {
        <h1 tabindex="-1">{words.book_title()}</h1>
        <div class="shifts">{shifts}</div>
        <Show when=none><p>{words.book_empty()}</p></Show>
        <h2>{words.records_title()}</h2>
        <p>{kept}</p>
        {move || unreadable().map(|text| view! { <p class="caution">{text}</p> })}
        <p>{words.records_note()}</p>
        <button type="button" class="action copy-records" on:click=copy>{words.copy_records()}</button>
        <p role="status">{move || handed.get().map(|handed| match handed {
            Handed::Done => words.copied(),
            Handed::Cancelled | Handed::Refused => words.copy_refused(),
        })}</p>
    }
}
