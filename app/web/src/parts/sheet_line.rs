//! A line of the sheet that opens to its reasons, each with what it rests on.

use leptos::prelude::*;

/// Why a line says what it says.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Why {
    /// What stands above it, a line each; a reason of the sheet has nothing there.
    pub head: String,
    /// The reason, with the values that decided it.
    pub text: String,
    /// What it rests on.
    pub basis: String,
}

/// A line of the sheet in words.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SheetLineText {
    /// What the line is about.
    pub what: String,
    /// What it says.
    pub value: String,
    /// Why.
    pub why: Vec<Why>,
    /// What can be done about it: an address and what it is called.
    pub link: Option<(String, String)>,
}

/// Reasons with their bases.
#[component]
pub fn Reasons(
    /// The reasons.
    why: Vec<Why>,
) -> impl IntoView {
    let reason = |why: Why| {
        view! { <li><strong class="reason-head">{why.head}</strong>{why.text} " " <small class="basis">{why.basis}</small></li> }
    };
    view! { <ul class="reasons">{why.into_iter().map(reason).collect_view()}</ul> }
}

/// The line.
#[component]
pub fn SheetLine(
    /// In words.
    line: SheetLineText,
) -> impl IntoView {
    view! {
        <details class="sheet-line">
            <summary class="sheet-line-head">
                <span class="sheet-line-text">
                    <span class="sheet-line-what">{line.what}</span>
                    <span class="sheet-line-value">{line.value}</span>
                </span>
            </summary>
            <Reasons why=line.why/>
            {line.link.map(|(href, name)| view! { <a class="action sheet-line-link" href=href>{name}</a> })}
        </details>
    }
}
