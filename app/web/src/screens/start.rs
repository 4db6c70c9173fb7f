//! The start of a shift: the usual one, as it is or changed for today.

use evenrow_journal::Command;
use leptos::prelude::*;

use super::usual::{ShiftFields, ShiftForm};
use crate::device::{clock, preferences};
use crate::parts::live::{drawn, perhaps};
use crate::parts::plain::title;
use crate::shell::App;

/// The form, filled with the usual shift.
#[component]
pub fn Start(
    /// What every screen is handed.
    app: App,
) -> impl IntoView {
    let words = app.words;
    let usual = app
        .state()
        .with_untracked(|state| state.usual.as_ref().map(ShiftForm::of));
    let form = RwSignal::new(preferences::draft("start").or(usual).unwrap_or_default());
    let changed = Callback::new(move |()| preferences::set_draft("start", &form.get_untracked()));
    let start = move |_| {
        app.vigil.make_ready();
        let plan = form.get_untracked().plan(clock::now());
        app.desk.submit_then(Command::StartShift(plan), || {
            preferences::drop_draft("start");
        });
    };
    let last = app.state().with_untracked(|state| {
        state
            .shifts
            .last()
            .map(|shift| shift.id.as_str().to_owned())
    });
    let last = last.map(|id| {
        drawn(view! { <a class="action" href=format!("#report/{id}")>{words.last_report()}</a> })
    });
    drawn(view! {
        {title(words.start_title())}
        <p>{words.start_lead()}</p>
        <ShiftFields phone=app.phone form on_change=changed/>
        <button type="button" class="main-action start-shift" on:click=start>{words.start_action()}</button>
        {perhaps(last)}
    })
}
