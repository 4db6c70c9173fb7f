//! The records as tables for a spreadsheet, each a file of its own.

use evenrow_journal::csv;
use leptos::prelude::*;

use crate::device::share::{self, Handed};
use crate::device::{clock, page};
use crate::shell::App;
use crate::words::tables::Table;
use crate::words::{times, without_soft_hyphens};

/// The screen.
#[component]
pub fn Tables(
    /// What every screen is handed.
    app: App,
) -> impl IntoView {
    let words = app.words;
    let handed = RwSignal::new(None);
    let none = move || app.state().with(|state| state.shifts.is_empty());
    let button = move |table: Table| {
        let make = move |_| {
            let now = clock::now();
            let rows = |state: &_| words.rows(table, state, now, &clock::offset_minutes);
            let (headings, rows) = app.state().with_untracked(rows);
            let text = without_soft_hyphens(&csv::file(&headings, &rows));
            let day = times::iso_date(now, clock::offset_minutes(now));
            page::run(async move {
                let name = words.table_name(table.file_name(), &day);
                handed.set(Some(share::file(&name, "text/csv", &text).await));
            });
        };
        view! { <button type="button" class="action hand-table" on:click=make>{words.table(table)}</button> }
    };
    view! {
        <h1 tabindex="-1">{words.tables_title()}</h1>
        <p>{words.tables_lead()}</p>
        {move || none().then(|| view! { <p class="empty">{words.tables_empty()}</p> })}
        {Table::ALL.map(button).into_iter().collect_view()}
        <p role="status" class="table-handed">{move || match handed.get() {
            Some(Handed::Done) => words.table_handed(),
            Some(Handed::Refused) => words.file_refused(),
            Some(Handed::Cancelled) | None => String::new(),
        }}</p>
        <a class="action" href="#records">{words.back_to_records()}</a>
    }
}
