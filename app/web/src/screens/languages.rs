//! In which language the app speaks: each is named as it names itself, for whoever cannot read the present one.

use leptos::prelude::*;

use crate::device::{language, page};
use crate::parts::icon::{Shape, icon};
use crate::parts::live::{drawn, each};
use crate::phone::Phone;

/// The languages there are, folded under their names.
#[component]
pub fn Languages(
    /// What needs no record.
    phone: Phone,
) -> impl IntoView {
    let words = phone.words;
    let missing = RwSignal::new(false);
    let (all, here) = (language::all(), language::chosen());
    let one = |(at, code): (usize, &String)| {
        let (lang, name) = (code.clone(), language::own_name(code));
        let apart = if at == 0 { "" } else { " · " };
        drawn(view! { {apart}<span lang=lang>{name}</span> })
    };
    let names = each(all.iter().enumerate(), one);
    let choose = move |code: String| {
        page::run(async move {
            let Some(words) = phone.load_words(&code).await else {
                return missing.set(true);
            };
            phone.choose_language(&code, words);
            page::focus(".languages summary");
        });
    };
    let option = |code: String| {
        let (lang, name, pressed) = (code.clone(), language::own_name(&code), code == here);
        drawn(view! {
            <button
                type="button"
                class="choice-option"
                lang=lang
                aria-pressed=pressed.to_string()
                on:click=move |_| choose(code.clone())
            >
                {each(pressed.then_some(Shape::Tick), icon)}
                <span>{name}</span>
            </button>
        })
    };
    let options = each(all, option);
    drawn(view! {
        <details class="languages">
            <summary><span>{names}</span></summary>
            <div class="choice-options" role="group" aria-label=words.language_ask()>{options}</div>
        </details>
        <p role="alert" class="caution" hidden=move || !missing.get()>{words.language_missing()}</p>
    })
}
