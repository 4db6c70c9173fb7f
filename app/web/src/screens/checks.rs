//! The opening and the closing checklist; the closing one leads to the end of the shift.

use evenrow_journal::Command;
use evenrow_rules::checklist::{Item, List};
use leptos::prelude::*;

use crate::parts::tick::Tick;
use crate::place::Place;
use crate::shell::{App, go};

/// The opening checklist.
#[component]
pub fn Opening(
    /// What every screen is handed.
    app: App,
) -> impl IntoView {
    let words = app.words;
    view! {
        <Ticks app list=List::Opening/>
        <a class="main-action" href="#shift">{words.back_to_shift()}</a>
    }
}

/// The closing checklist, and the end of the shift.
#[component]
pub fn Closing(
    /// What every screen is handed.
    app: App,
) -> impl IntoView {
    let words = app.words;
    let open = Memo::new(move |_| {
        let items = List::Closing.items().len();
        app.state().with(|state| {
            state
                .running()
                .map(|shift| items - shift.ticked(List::Closing))
        })
    });
    let end = move |_| {
        let Some(id) = app
            .state()
            .with_untracked(|state| state.running().map(|shift| shift.id.clone()))
        else {
            return;
        };
        app.desk
            .submit_then(Command::EndShift, move || go(&Place::Report(id)));
    };
    view! {
        <Ticks app list=List::Closing/>
        <p>{move || open.get().filter(|open| 0 < *open).map(|open| words.closing_open(&open.to_string()))}</p>
        {move || open.get().map(|_| view! {
            <button type="button" class="main-action end-shift" on:click=end>{words.end_shift()}</button>
        })}
        <a class="action" href="#shift">{words.back_to_shift()}</a>
    }
}

#[component]
fn Ticks(
    /// What every screen is handed.
    app: App,
    /// Which list.
    list: List,
) -> impl IntoView {
    let words = app.words;
    let running = Memo::new(move |_| app.state().with(|state| state.running().is_some()));
    let tick = move |item: Item| {
        let ticked = move || {
            app.state().with(|state| {
                state
                    .running()
                    .is_some_and(|shift| shift.marks.contains(&(list, item)))
            })
        };
        let mark = move |done: bool| app.desk.submit(Command::Mark { list, item, done });
        view! {
            <Tick
                text=words.item(item)
                basis=words.basis(item.basis())
                ticked=Signal::derive(ticked)
                on_press=Callback::new(mark)
            />
        }
    };
    view! {
        <h1 tabindex="-1">{words.list(list)}</h1>
        {move || if running.get() {
            view! { <div class="ticks">{list.items().iter().copied().map(tick).collect_view()}</div> }.into_any()
        } else {
            view! { <p>{words.checks_empty()}</p> }.into_any()
        }}
    }
}
