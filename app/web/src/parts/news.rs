//! What is new: day by day, or only what was added since it was last read, with one button that puts it away.

use leptos::prelude::*;

use crate::news::Section;

/// The list of each day.
#[component]
pub fn NewsList(
    /// The days.
    sections: Vec<Section>,
) -> impl IntoView {
    let section = |section: Section| {
        let lines = section
            .lines
            .into_iter()
            .map(|line| view! { <li>{line}</li> });
        view! {
            <h3 class="news-day">{section.day}</h3>
            <ul class="news-lines">{lines.collect_view()}</ul>
        }
    };
    view! { <div class="news-list">{sections.into_iter().map(section).collect_view()}</div> }
}

/// The quiet card.
#[component]
pub fn News(
    /// What it is called, what its button says, and its link to all of it.
    words: [String; 3],
    /// The days.
    sections: Vec<Section>,
    /// It was read.
    on_read: Callback<()>,
) -> impl IntoView {
    let [title, read, all] = words;
    view! {
        <section class="news">
            <h2>{title}</h2>
            <NewsList sections/>
            <div class="pair">
                <button type="button" class="action news-read" on:click=move |_| on_read.run(())>{read}</button>
                <a class="action" href="#version">{all}</a>
            </div>
        </section>
    }
}
