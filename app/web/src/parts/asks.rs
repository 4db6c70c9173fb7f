//! Words that somebody may not know, each a link to what it means.

use leptos::prelude::*;

use super::live::{drawn, each};

/// The links, one beside the other.
#[component]
pub fn Asks(
    /// What they are for, to those who cannot see them.
    label: String,
    /// Address and word of each.
    asked: Vec<(String, String)>,
) -> impl IntoView {
    let ask = |(href, word): (String, String)| {
        drawn(
            view! { <a class="asks-word" href=href><span class="asks-sign" aria-hidden="true">"?"</span>{word}</a> },
        )
    };
    drawn(view! { <nav class="asks" aria-label=label>{each(asked, ask)}</nav> })
}
