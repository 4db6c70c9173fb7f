//! The first start: what the app is for, a look round for whoever wants it, and three questions.

use leptos::prelude::*;

use serde::{Deserialize, Serialize};

use super::board::{BoardFields, BoardForm};
use super::district::LookRound;
use super::languages::Languages;
use super::machine::Form;
use super::steps::Steps;
use super::terms::AskWords;
use super::units::OneSystem;
use super::usual::{ShiftFields, ShiftForm};
use crate::device::preferences;
use crate::parts::live::drawn;
use crate::parts::plain::{button, link, sentence, title};
use crate::place::Place;
use crate::shell::{App, go};

/// The form as it was left.
#[derive(Default, Serialize, Deserialize)]
struct Draft {
    board: BoardForm,
    shift: ShiftForm,
}

/// The three questions.
#[component]
pub fn First(
    /// What every screen is handed.
    app: App,
) -> impl IntoView {
    let words = app.words;
    let draft: Draft = preferences::draft("first").unwrap_or_default();
    let (board, shift) = (RwSignal::new(draft.board), RwSignal::new(draft.shift));
    let wrong = RwSignal::new(None);
    let changed = Callback::new(move |()| {
        let draft = Draft {
            board: board.get_untracked(),
            shift: shift.get_untracked(),
        };
        preferences::set_draft("first", &draft);
    });
    let begin = move || {
        let form = Form::first(app, board.get_untracked(), shift.get_untracked());
        form.send(app, wrong, || {
            preferences::drop_draft("first");
            go(&Place::Shift);
        });
    };
    drawn(view! {
        <main class="screen first">
            {title(words.first_lead())}
            <Languages app/>
            <Steps app/>
            <LookRound app/>
            <h2 class="first-title" tabindex="-1">{words.first_title()}</h2>
            <section class="first-question">
                <OneSystem app/>
            </section>
            <section class="first-question">
                <BoardFields app form=board wrong on_change=changed/>
                <AskWords app keys=&["term_moldboard", "term_toothed_edge"]/>
            </section>
            <section class="first-question">
                <h2>{words.usual_ask()}</h2>
                <ShiftFields app form=shift on_change=changed/>
            </section>
            {button("main-action", words.first_done(), begin)}
            {link("action to-records", "#records", words.first_from_file())}
            {link("action to-terms", "#terms", words.terms_title())}
            {sentence("small", words.beware_others_decide())}
        </main>
    })
}
