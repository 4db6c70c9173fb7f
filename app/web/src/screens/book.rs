//! The shifts so far with their reports, and how the last backup stands.

use evenrow_journal::state::Shift;
use leptos::prelude::*;

use super::records::backup_state;
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
    let backup = backup_state(app);
    view! {
        <h1 tabindex="-1">{words.book_title()}</h1>
        {(!app.invented).then(|| view! {
            <p class="backup-state" class:caution=move || backup.get().0>{move || backup.get().1}</p>
            <a class="action to-records" href="#records">{words.to_records()}</a>
        })}
        <div class="pair">
            <a class="action to-books" href="#books">{words.books_title()}</a>
            <a class="action to-season" href="#season">{words.season_title()}</a>
        </div>
        <h2>{words.table_shifts()}</h2>
        <div class="shifts">{shifts}</div>
        <Show when=none><p>{words.book_empty()}</p></Show>
    }
}
