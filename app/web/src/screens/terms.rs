//! The words of the trade: all of them, or one that somebody has asked for; and the links to them from other screens.

use leptos::prelude::*;

use crate::parts::asks::Asks;
use crate::parts::drawn::Drawn;
use crate::phone::Phone;
use crate::place::Place;
use crate::shell::App;
use crate::words::terms::{TERM, TERMS};

/// Links to what these words mean.
#[component]
pub fn AskWords(
    /// What needs no record.
    phone: Phone,
    /// The keys of the words.
    keys: &'static [&'static str],
) -> impl IntoView {
    let words = phone.words;
    let asked = keys.iter().map(|key| {
        let name = key.trim_start_matches(TERM);
        let href = format!("#{}", Place::Terms(Some(name)).hash());
        (href, words.term_of(key).0)
    });
    view! { <Asks label=words.terms_title() asked=asked.collect()/> }
}

/// The screen.
#[component]
pub fn Terms(
    /// What every screen is handed.
    app: App,
    /// The word that somebody has asked for; all of them where none is named.
    asked: Option<&'static str>,
) -> impl IntoView {
    let words = app.words;
    let card = move |name: &'static str| {
        let (word, sentence) = words.term(name);
        view! {
            <div class="term" data-term=name>
                <Drawn name/>
                <dl><dt>{word}</dt><dd>{sentence}</dd></dl>
            </div>
        }
    };
    let known = app.machine.with_untracked(Option::is_some);
    let home = if known {
        words.back_to_shift()
    } else {
        words.to_first()
    };
    let all = move || {
        TERMS.map(|(about, names)| {
            view! {
                <h2>{words.terms_about(about)}</h2>
                <div class="terms-of">{names.iter().copied().map(card).collect_view()}</div>
            }
        })
    };
    match asked {
        Some(name) => view! {
            <h1 tabindex="-1">{words.term(name).0}</h1>
            <div class="term-alone" data-term=name>
                <Drawn name/>
                <p>{words.term(name).1}</p>
            </div>
            <a class="action to-terms" href="#terms">{words.terms_all()}</a>
        }
        .into_any(),
        None => view! {
            <h1 tabindex="-1">{words.terms_title()}</h1>
            {all().into_iter().collect_view()}
            <a class="action" href="#shift">{home}</a>
        }
        .into_any(),
    }
}
