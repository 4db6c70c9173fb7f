//! How the app comes onto the home screen, on either kind of phone.

use leptos::prelude::*;

use crate::device::{install, page};
use crate::parts::drawn::Drawn;
use crate::phone::Phone;
use crate::shell::App;
use crate::words::Words;

/// A step: its drawing and its sentence.
pub type Step = (&'static str, fn(&Words) -> String);

const ANDROID: [Step; 3] = [
    ("install_menu", Words::install_menu),
    ("install_entry", Words::install_entry),
    ("install_icon", Words::install_icon),
];

const IOS: [Step; 4] = [
    ("install_share", Words::install_share),
    ("install_list", Words::install_list),
    ("install_add", Words::install_add),
    ("install_icon", Words::install_icon),
];

/// The way to the screen; none where the app has been opened from the home screen.
#[component]
pub fn ToInstall(
    /// What needs no record.
    phone: Phone,
) -> impl IntoView {
    let words = phone.words;
    (!page::is_on_home_screen()).then(|| {
        view! { <a class="action to-install" href="#install">{words.install_how()}</a> }
    })
}

/// The screen.
#[component]
pub fn Install(
    /// What every screen is handed.
    app: App,
) -> impl IntoView {
    let words = app.words;
    let known = app.machine.with_untracked(Option::is_some);
    let home = if known {
        words.back_to_shift()
    } else {
        words.to_first()
    };
    let step = move |(name, sentence): Step| {
        view! { <li><Drawn name/><p>{sentence(words)}</p></li> }
    };
    let steps = move |of: &'static [Step]| {
        view! { <ol class="install-steps">{of.iter().copied().map(step).collect_view()}</ol> }
    };
    let offer = move || {
        app.installable.get().then(|| {
            let ask = |_| page::run(install::ask());
            view! { <button type="button" class="main-action to-home-screen" on:click=ask>{words.to_home_screen()}</button> }
        })
    };
    let how = move || {
        view! {
            <p>{words.install_lead()}</p>
            <h2>{words.install_android()}</h2>
            {offer}
            {steps(&ANDROID)}
            <h2>{words.install_ios()}</h2>
            <p class="caution">{words.install_ios_begins_empty()}</p>
            {steps(&IOS)}
        }
    };
    view! {
        <h1 tabindex="-1">{words.install_title()}</h1>
        {if page::is_on_home_screen() {
            view! { <p>{words.install_done()}</p> }.into_any()
        } else {
            how().into_any()
        }}
        <a class="action" href="#shift">{home}</a>
    }
}
