//! What leads into the app from outside: a shortcut of the home screen, or something that another app has shared.
//!
//! Each comes as an address, leads to its screen, and says what stands in its way. Never here: a record. A shortcut is
//! hit in a pocket as easily as on purpose, so what it leads to still wants its tap.

use leptos::prelude::*;

use crate::device::pick::{self, Picked};
use crate::device::shared::{self, Shared};
use crate::device::{address, page, preferences};
use crate::place::Place;
use crate::shell::App;

/// One of them.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Errand {
    /// To start a shift.
    Start,
    /// To note an oiling.
    Oiled,
    /// To write a note.
    Note,
    /// To see what was shared.
    Shared,
}

impl Errand {
    /// The errand of an address, as the manifest and the worker name it.
    pub fn of(hash: &str) -> Option<Errand> {
        match hash {
            "do/start" => Some(Errand::Start),
            "do/oiled" => Some(Errand::Oiled),
            "do/note" => Some(Errand::Note),
            "do/shared" => Some(Errand::Shared),
            _ => None,
        }
    }

    /// Leads there, in exchange for the address that asked for it: Back does not run it again.
    pub fn run(self, app: App) {
        let words = app.words;
        let known = app.machine.with_untracked(Option::is_some);
        // Whether a shift runs, and whether its work is chosen.
        let running = app
            .state()
            .with_untracked(|state| state.running().map(|shift| shift.setup().is_some()));
        let (to, said) = match (self, known, running) {
            (Errand::Shared, _, _) => return page::run(see_what_was_shared(app)),
            (Errand::Start | Errand::Oiled | Errand::Note, false, _) => {
                (Place::Shift, Some(words.errand_first()))
            }
            (Errand::Start, true, None) => (Place::Shift, None),
            (Errand::Start, true, Some(_)) => (Place::Shift, Some(words.errand_runs())),
            (Errand::Oiled | Errand::Note, true, None) => {
                (Place::Shift, Some(words.errand_no_shift()))
            }
            (Errand::Oiled, true, Some(false)) => (Place::Shift, Some(words.errand_no_work())),
            (Errand::Oiled, true, Some(true)) => {
                // Once the screen has been drawn and its heading has had the focus.
                let big = || page::focus_first(".oiled-in-break, .next-job-button");
                page::in_a_moment(move || page::in_a_moment(big));
                (Place::Shift, Some(words.errand_oiled()))
            }
            (Errand::Note, true, Some(_)) => (Place::Note, None),
        };
        app.told.set(said);
        address::replace(&to.hash());
    }
}

/// A file goes where files are taken in, and shows what it would bring; a text waits as the draft of a note.
async fn see_what_was_shared(app: App) {
    let words = app.words;
    let runs = app
        .state()
        .with_untracked(|state| state.running().is_some());
    let (to, said) = match shared::take().await {
        Shared::Nothing => (Place::Shift, Some(words.errand_not_arrived())),
        Shared::File(bytes) => {
            pick::hand(Picked::File(bytes));
            (Place::Records, None)
        }
        Shared::Text(text) => {
            let before = preferences::draft::<String>("note").filter(|it| !it.is_empty());
            let text = before.map_or_else(|| text.clone(), |before| format!("{before}\n{text}"));
            preferences::set_draft("note", &text);
            if runs {
                (Place::Note, None)
            } else {
                (Place::Shift, Some(words.errand_text_waits()))
            }
        }
    };
    app.told.set(said);
    address::replace(&to.hash());
}
