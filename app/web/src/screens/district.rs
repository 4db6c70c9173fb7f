//! The invented district: the offer to look round in it, what marks it on every screen, and what it leaves out.

use leptos::prelude::*;

use crate::device::invented;
use crate::parts::live::{drawn, live, settled, when};
use crate::parts::plain::{button, link, sentence, title};
use crate::phone::Phone;
use crate::shell::App;

/// What keeps the operator here.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Against {
    /// What a shift has to remind of must ring.
    ShiftRuns,
    /// What was erased can be put back only while this page lives.
    CanPutBack,
}

/// What keeps the operator here, if anything does.
pub fn against_looking_round(app: App) -> Option<Against> {
    let runs = app.state().with(|state| state.running().is_some());
    let erased = app.desk.erased().map(|_| Against::CanPutBack);
    erased.or(runs.then_some(Against::ShiftRuns))
}

/// The offer.
#[component]
pub fn LookRound(
    /// What needs no record.
    phone: Phone,
) -> impl IntoView {
    let words = phone.words;
    let against = settled(move || {
        let (work, app) = phone.at_work()?;
        (work.against_looking_round)(app)
    });
    let offered = move || !phone.invented && against.get() != Some(Against::CanPutBack);
    let offer = move || {
        if against.get() == Some(Against::ShiftRuns) {
            sentence("look-round-not-now", words.district_not_now())
        } else {
            button("action look-round", words.district_enter(), move || {
                invented::enter();
            })
        }
    };
    when(offered, move || {
        drawn(view! {
            <section class="district">
                <h2>{words.district_title()}</h2>
                <p>{words.district_lead()}</p>
                {live(offer)}
            </section>
        })
    })
}

/// Says on every screen that nothing of it is real, and leads out with one tap.
#[component]
pub fn Banner(
    /// What every screen is handed.
    app: App,
) -> impl IntoView {
    let words = app.words;
    view! {
        <aside class="district-banner" aria-label=words.district_title()>
            <p>{words.district_banner()}</p>
            {button("notice-action leave-district", words.district_leave(), invented::leave)}
        </aside>
    }
}

/// In place of what hands records over or concerns this phone: an invented record must not come among real ones.
#[component]
pub fn NotHere(
    /// What every screen is handed.
    app: App,
) -> impl IntoView {
    let words = app.words;
    view! {
        {title(words.district_title())}
        <p>{words.district_not_here()}</p>
        {link("action", "#shift", words.back_to_shift())}
    }
}
