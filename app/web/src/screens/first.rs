//! The first start: what the app is for, a look round for whoever wants it, and three questions.

use leptos::prelude::*;

use serde::{Deserialize, Serialize};

use super::board::{BoardFields, BoardForm};
use super::district::LookRound;
use super::languages::Languages;
use super::steps::Steps;
use super::terms::AskWords;
use super::units::OneSystem;
use super::usual::{ShiftFields, ShiftForm};
use crate::device::preferences;
use crate::parts::live::{drawn, follow, live, nothing};
use crate::parts::plain::{button, is_coming, link, sentence, title};
use crate::phone::{Arrival, Phone};

/// Where the answers are kept until they are sent.
pub const DRAFT: &str = "first";

/// What has been answered so far.
#[derive(Clone, Default, Serialize, Deserialize)]
pub struct Answers {
    /// Which moldboard.
    pub board: BoardForm,
    /// Which shift.
    pub shift: ShiftForm,
}

/// The three questions.
#[component]
pub fn First(
    /// What needs no record.
    phone: Phone,
) -> impl IntoView {
    let words = phone.words;
    let draft: Answers = preferences::draft(DRAFT).unwrap_or_default();
    let (board, shift) = (RwSignal::new(draft.board), RwSignal::new(draft.shift));
    let wrong = RwSignal::new(None);
    let answers = move || Answers {
        board: board.get_untracked(),
        shift: shift.get_untracked(),
    };
    let changed = Callback::new(move |()| preferences::set_draft(DRAFT, &answers()));
    // They can be answered before that has come which keeps the answer.
    let is_asked_for = RwSignal::new(false);
    follow(move || {
        if is_asked_for.get()
            && let Some((work, app)) = phone.at_work()
        {
            is_asked_for.set(false);
            (work.describe_first)(app, answers(), wrong);
        }
    });
    let begin = move || {
        phone.open_again();
        is_asked_for.set(true);
    };
    let waits = move || match phone.arrival() {
        Arrival::Failed => {
            drawn(view! { <p class="wrong" role="alert">{words.first_not_all_here()}</p> })
        }
        Arrival::Underway | Arrival::Again => is_coming(words.later_fetching()),
        Arrival::Here => nothing(),
    };
    drawn(view! {
        <main class="screen first">
            {title(words.first_lead())}
            <Languages phone/>
            <Steps phone/>
            <LookRound phone/>
            <h2 class="first-title" tabindex="-1">{words.first_title()}</h2>
            <section class="first-question">
                <OneSystem phone/>
            </section>
            <section class="first-question">
                <BoardFields phone form=board wrong on_change=changed/>
                <AskWords phone keys=&["term_moldboard", "term_toothed_edge"]/>
            </section>
            <section class="first-question">
                <h2>{words.usual_ask()}</h2>
                <ShiftFields phone form=shift on_change=changed/>
            </section>
            {button("main-action", words.first_done(), begin)}
            {live(move || if is_asked_for.get() { waits() } else { nothing() })}
            {link("action to-records", "#records", words.first_from_file())}
            {link("action to-terms", "#terms", words.terms_title())}
            {sentence("small", words.beware_others_decide())}
        </main>
    })
}
