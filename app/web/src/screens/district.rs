//! The invented district: the offer to look round in it, what marks it on every screen, and what it leaves out.

use leptos::prelude::*;

use crate::device::invented;
use crate::parts::live::{drawn, live, settled, when};
use crate::parts::plain::{button, link, sentence, title};
use crate::shell::App;

/// The offer. While a shift runs there is none, for what it has to remind of must ring.
#[component]
pub fn LookRound(
    /// What every screen is handed.
    app: App,
) -> impl IntoView {
    let words = app.words;
    let runs = settled(move || app.state().with(|state| state.running().is_some()));
    // What was erased can be put back only while this page lives.
    let offered = move || !app.invented && app.desk.erased().is_none();
    let offer = move || {
        if runs.get() {
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
