//! The screens that nobody needs in the first second: a file of wasm of its own, fetched as soon as the app has started.
//!
//! The shift and what rings stand in the second file, the first start in the first; see DEVELOPERS.md, "Why three files of
//! wasm?". The worker keeps them all, so this one is there without a network too. Never here: what a screen shows.

#![expect(
    clippy::unnecessary_wraps,
    reason = "the macro wraps what may not arrive"
)]

use evenrow_journal::checkpoint::Checkpoint;
use evenrow_journal::{Command, Event, Journal, Refusal, State};
use leptos::prelude::*;
use leptos::wasm_split::{SplitLoaderError, wasm_split};

use crate::place::Place;
use crate::screens;
use crate::screens::note::On;
use crate::shell::App;

/// What the file holds.
#[derive(Clone, Copy)]
pub struct Later {
    /// Makes the screen of a place.
    pub screen: fn(App, Place) -> AnyView,
    /// What this phone does for the shift that runs.
    pub promise: fn(App) -> AnyView,
    /// What is new since it was last read.
    pub news_since: fn(App) -> AnyView,
    /// To whoever has just come, nothing is.
    pub nothing_is_new: fn(),
    /// What was recorded by what is not asked at work.
    pub happened: fn(App, &Event) -> String,
    /// Why that was refused.
    pub refusal: fn(App, &Refusal) -> String,
    /// Says that all was erased in this window, for as long as it can be put back.
    pub erased: fn(App) -> AnyView,
    /// What comes of a command that is not asked at work.
    pub decide: fn(&State, Command) -> Result<Vec<Event>, Refusal>,
    /// The checkpoint of all records, as it is kept.
    pub checkpoint: fn(&Journal, &State) -> Option<String>,
}

/// Fetches the file, once; a failed fetch can be tried again.
pub async fn fetch() -> Option<Later> {
    third_file().await.ok()
}

// The file begins here: whatever only this function leads to stands in it.
#[wasm_split(later, wasm_split_path = leptos::wasm_split, fallible)]
fn third_file() -> Result<Later, SplitLoaderError> {
    Ok(Later {
        screen,
        promise: screens::reminders::promise,
        news_since: |app| view! { <screens::version::NewsSince app/> }.into_any(),
        nothing_is_new: screens::version::nothing_is_new,
        happened: screens::row_plates::happened,
        refusal: |app, refusal| app.words.refusal(refusal, app.units.get()),
        erased: screens::erase::erased,
        decide: State::decide,
        checkpoint: |journal, state| Some(Checkpoint::of(journal, state)?.write()),
    })
}

fn screen(app: App, place: Place) -> AnyView {
    match place {
        Place::Opening => view! { <screens::checks::Opening app/> }.into_any(),
        Place::Closing => view! { <screens::checks::Closing app/> }.into_any(),
        Place::Note => view! { <screens::note::Note app on=On::Shift/> }.into_any(),
        Place::Row => view! { <screens::row::Row app/> }.into_any(),
        Place::RowNote => view! { <screens::note::Note app on=On::Set/> }.into_any(),
        Place::Measure => view! { <screens::measure::Measure app/> }.into_any(),
        Place::Stock => view! { <screens::stock::Stock app/> }.into_any(),
        Place::Sets => view! { <screens::sets::Sets app/> }.into_any(),
        Place::Setup => view! { <screens::setup::Setup app/> }.into_any(),
        Place::Sheet(work) => view! { <screens::sheet::Sheet app work/> }.into_any(),
        Place::Angle(work) => view! { <screens::angle::Angle app work/> }.into_any(),
        Place::Crossfall => view! { <screens::crossfall::Crossfall app/> }.into_any(),
        Place::Grading(work) => view! { <screens::grading::Grading app work/> }.into_any(),
        Place::Load => view! { <screens::load::Load app/> }.into_any(),
        Place::Pictures(work) => view! { <screens::pictures::Pictures app work/> }.into_any(),
        Place::Marks => view! { <screens::marks::Marks app/> }.into_any(),
        Place::Plan => view! { <screens::plan::Plan app/> }.into_any(),
        Place::Section(id) => view! { <screens::section::Section app id/> }.into_any(),
        Place::Machine => view! { <screens::machine::Machine app/> }.into_any(),
        Place::Sources => view! { <screens::sources::Sources app/> }.into_any(),
        Place::Terms(asked) => view! { <screens::terms::Terms app asked/> }.into_any(),
        Place::Install => view! { <screens::install::Install app/> }.into_any(),
        Place::Version => view! { <screens::version::Version app/> }.into_any(),
        Place::Book => view! { <screens::book::Book app/> }.into_any(),
        Place::Books => view! { <screens::books::Books app/> }.into_any(),
        Place::Season => view! { <screens::season::Season app/> }.into_any(),
        Place::Report(id) => view! { <screens::report::Report app id/> }.into_any(),
        Place::Reminders => view! { <screens::reminders::Reminders app/> }.into_any(),
        Place::Records => view! { <screens::records::Records app/> }.into_any(),
        Place::Tables => view! { <screens::tables::Tables app/> }.into_any(),
        Place::Erase => view! { <screens::erase::Erase app/> }.into_any(),
        Place::Shift | Place::Look => ().into_any(),
    }
}
