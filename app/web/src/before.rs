//! What is shown until the records are open and a machine is known; from then on the shell has the page.
//!
//! Never here: what stands in a record.

use leptos::prelude::*;

use crate::parts::live::{drawn, live, nothing, perhaps, settled};
use crate::parts::plain::{did_not_come, is_coming, title};
use crate::phone::{Arrival, Phone};
use crate::place::Place;
use crate::screens::first::First;

/// How far a start has come.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Stage {
    /// There are records, and they are being opened: the page still shows what was known last.
    Opening,
    /// There are records, and what opens them could not be had.
    Shut,
    /// That is fetched once more.
    Again,
    /// There is no machine yet.
    New,
    /// There is one.
    Known,
}

/// The whole app, drawn anew in each language that is chosen. What is half typed is in drafts, and comes back.
pub fn whole(phone: Phone, has_records: bool) -> AnyView {
    live(move || in_one_language(phone.in_chosen_language(), has_records))
}

fn in_one_language(phone: Phone, has_records: bool) -> AnyView {
    let stage = settled(move || match (phone.arrival(), has_records) {
        (Arrival::Underway, true) => Stage::Opening,
        (Arrival::Failed, true) => Stage::Shut,
        (Arrival::Again, true) => Stage::Again,
        (Arrival::Underway | Arrival::Failed | Arrival::Again, false) => Stage::New,
        (Arrival::Here, _) => match phone.at_work() {
            Some((work, app)) if (work.knows_machine)(app) => Stage::Known,
            Some(_) | None => Stage::New,
        },
    });
    let shell = move || phone.at_work().map(|(work, app)| (work.shell)(app));
    let notices = move || phone.at_work().map(|(work, app)| (work.notices)(app));
    let words = phone.words;
    let again = move || phone.open_again();
    live(move || match stage.get() {
        Stage::Opening => nothing(),
        Stage::Shut => {
            let shut = did_not_come(words.records_shut(), words.try_again(), again);
            drawn(view! { <main class="screen">{title(words.records_shut_title())}{shut}</main> })
        }
        Stage::Again => {
            drawn(view! { <main class="screen">{is_coming(words.later_fetching())}</main> })
        }
        Stage::New => drawn(view! {
            {before(phone)}
            {live(move || perhaps(notices()))}
        }),
        Stage::Known => perhaps(shell()),
    })
}

/// The three questions, what a file brings in their place, or what helps to answer them.
fn before(phone: Phone) -> AnyView {
    live(move || {
        let place = phone.place.get();
        if matches!(place, Place::Records | Place::Terms(_) | Place::Install) {
            drawn(
                view! { <main class="screen">{live(move || beside(phone, place.clone()))}</main> },
            )
        } else {
            view! { <First phone/> }.into_any()
        }
    })
}

fn beside(phone: Phone, place: Place) -> AnyView {
    let words = phone.words;
    match (phone.arrival(), phone.at_work()) {
        (_, Some((work, app))) => (work.fetched)(app, place),
        (Arrival::Failed, None) => {
            let again = move || phone.open_again();
            did_not_come(words.first_not_all_here(), words.try_again(), again)
        }
        (Arrival::Underway | Arrival::Again | Arrival::Here, None) => {
            is_coming(words.later_fetching())
        }
    }
}
