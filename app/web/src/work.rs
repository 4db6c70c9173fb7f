//! What works with records: the desk, the watch, the shift and what rings. A file of wasm of its own, the second one: a new
//! phone reads the three questions meanwhile, and one with records keeps it, fetched and compiled, beside the first.
//!
//! See DEVELOPERS.md, "Why three files of wasm?". Never here: what a screen shows.

#![expect(
    clippy::unnecessary_wraps,
    reason = "the macro wraps what may not arrive"
)]

use std::pin::Pin;

use evenrow_journal::watch::Reading;
use leptos::prelude::*;
use leptos::wasm_split::{SplitLoaderError, wasm_split};

use crate::desk::Desk;
use crate::device::store::Keeping;
use crate::errand::Errand;
use crate::phone::Phone;
use crate::place::Place;
use crate::screens::district::Against;
use crate::screens::first::Answers;
use crate::screens::{district, machine};
use crate::shell::{self, App};

/// The app, once its records are open.
type Opening = Pin<Box<dyn Future<Output = App>>>;

/// What the file holds.
#[derive(Clone, Copy)]
pub struct Work {
    /// Opens the records. To be called once.
    pub open: fn(Phone, Keeping) -> Opening,
    /// Keeps watch, every second and at every return to the eye.
    pub each_second: fn(App, Reading),
    /// Whether a machine is known.
    pub knows_machine: fn(App) -> bool,
    /// What keeps the operator from looking round in the invented district.
    pub against_looking_round: fn(App) -> Option<Against>,
    /// Describes the first machine and the usual shift.
    pub describe_first: fn(App, Answers, RwSignal<Option<String>>),
    /// Runs what a shortcut or another app asks for.
    pub run: fn(App, Errand),
    /// What stands round every screen, and the screen.
    pub shell: fn(App) -> AnyView,
    /// What has to be said whatever the screen.
    pub notices: fn(App) -> AnyView,
    /// A screen of the third file.
    pub fetched: fn(App, Place) -> AnyView,
}

/// Fetches the file, once; a failed fetch can be tried again.
pub async fn fetch() -> Option<Work> {
    second_file().await.ok()
}

// The file begins here: whatever only this function leads to stands in it.
#[wasm_split(work, wasm_split_path = leptos::wasm_split, fallible)]
fn second_file() -> Result<Work, SplitLoaderError> {
    Ok(Work {
        open: |phone, keeping| Box::pin(open(phone, keeping)),
        each_second: |app, reading| app.vigil.wake(reading),
        knows_machine: |app| app.machine.with(Option::is_some),
        against_looking_round: district::against_looking_round,
        describe_first: machine::describe_first,
        run: |app, errand| errand.run(app),
        shell: shell::shell,
        notices: shell::notices,
        fetched: shell::fetched,
    })
}

async fn open(phone: Phone, keeping: Keeping) -> App {
    let desk = Desk::open(keeping).await;
    // What is made here lives as long as the page, whatever is drawn anew.
    let owner = Owner::new();
    let app = owner.with(|| App::new(phone, desk));
    core::mem::forget(owner);
    app
}
