//! Terms, each with what it means.

use leptos::prelude::*;

/// The list.
#[component]
pub fn Terms(
    /// The terms with their meanings.
    terms: Vec<(String, String)>,
) -> impl IntoView {
    let term = |(term, meaning): (String, String)| {
        view! { <li><strong>{term}</strong>{format!(": {meaning}")}</li> }
    };
    view! { <ul class="terms">{terms.into_iter().map(term).collect_view()}</ul> }
}
