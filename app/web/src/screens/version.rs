//! The version, what is new in it, and whose work is in the app under which terms.

use leptos::prelude::*;

use crate::device::{language, page, preferences, text};
use crate::news::{self, Section, Terms};
use crate::parts::news::{News, NewsList};
use crate::parts::notice::{Notice, Tone};
use crate::place::Place;
use crate::shell::App;

/// Which build this is, and the terms.
const FILES: [&str; 2] = ["version.txt", "licences.txt"];

/// What is new, in the language of the screen, else in English.
async fn news_file() -> Option<String> {
    match text::file(&format!("news/{}.txt", language::chosen())).await {
        Some(file) => Some(file),
        None => text::file("news/en.txt").await,
    }
}

/// The screen.
#[component]
pub fn Version(
    /// What every screen is handed.
    app: App,
) -> impl IntoView {
    let words = app.words;
    let files = FILES.map(|_| RwSignal::new(None));
    let news = RwSignal::new(None);
    let look = move || {
        // Nobody waits for them any more once the screen is left.
        for (path, found) in FILES.into_iter().zip(files) {
            page::run(async move {
                drop(found.try_set(Some(text::file(path).await)));
            });
        }
        page::run(async move {
            drop(news.try_set(Some(news_file().await)));
        });
    };
    look();
    let all = [files[0], files[1], news];
    let [version, licences] = files;
    let version = move || {
        let file = version.get()??;
        let (version, build) = file.trim().split_once(' ')?;
        Some(words.version_is(version, build))
    };
    let news = move || {
        let file = news.get()??;
        Some(view! { <NewsList sections=news::read(&file)/> })
    };
    let terms = move || {
        licences.with(|file| {
            let file = file.as_ref()?.as_deref()?;
            let terms = news::licences(file);
            Some(terms.iter().map(|it| licence(app, it)).collect_view())
        })
    };
    let lost = move || {
        let lost = all.iter().any(|file| file.with(|it| *it == Some(None)));
        lost.then(|| {
            view! {
                <Notice
                    tone=Tone::Trouble
                    text=words.version_not_read()
                    action=words.try_again()
                    on_press=Callback::new(move |()| look())
                />
            }
        })
    };
    view! {
        <h1 tabindex="-1">{words.version_title()}</h1>
        <p class="version">{version}</p>
        <p>{words.version_licence()}</p>
        {lost}
        <h2>{words.news_title()}</h2>
        {news}
        <h2>{words.licences_title()}</h2>
        <p>{words.licences_lead()}</p>
        <div class="licences">{terms}</div>
        <a class="action" href="#machine">{words.machine_title()}</a>
    }
}

/// The works under one text, and the text.
fn licence(app: App, terms: &Terms) -> impl IntoView + use<> {
    let words = app.words;
    let first = terms.works.first().map_or("", |work| work[0]);
    let head = match terms.works.len() {
        0 | 1 => first.to_owned(),
        many => words.licence_and_more(first, &(many - 1).to_string()),
    };
    let work = |work: &[&str; 4]| view! { <li>{work.join(" ")}</li> };
    let covered = terms.works.iter().map(work).collect_view();
    let usual = (!terms.own).then(|| view! { <p class="caution">{words.licence_usual()}</p> });
    view! {
        <details class="licence">
            <summary>{head}</summary>
            <ul class="licence-works">{covered}</ul>
            {usual}
            <p class="licence-text">{terms.lines.join("\n")}</p>
        </details>
    }
}

/// What is new since it was last read, as a card below Shift and Book: never while something rings, and never below a form
/// that has been begun.
#[component]
pub fn NewsSince(
    /// What every screen is handed.
    app: App,
) -> impl IntoView {
    let words = app.words;
    let added: RwSignal<Vec<Section>> = RwSignal::new(Vec::new());
    page::run(async move {
        let file = news_file().await.unwrap_or_default();
        let read = preferences::news_read();
        drop(added.try_set(news::since(news::read(&file), read.as_deref())));
    });
    let shown = Memo::new(move |_| {
        let here = app
            .place
            .with(|it| matches!(it, Place::Shift | Place::Book));
        here && added.with(|it| !it.is_empty())
            && app.vigil.ringing().is_none()
            && !preferences::has_draft("start")
    });
    let read = move |()| {
        let newest = added.with_untracked(|it| it.first().map(|it| it.day.clone()));
        if let Some(newest) = newest {
            preferences::set_news_read(&newest);
        }
        added.set(Vec::new());
    };
    move || {
        shown.get().then(|| {
            view! {
                <News
                    words=[words.news_title(), words.understood(), words.version_title()]
                    sections=added.get()
                    on_read=Callback::new(read)
                />
            }
        })
    }
}

/// To whoever has just come, nothing is new.
pub fn nothing_is_new() {
    page::run(async {
        let file = news_file().await.unwrap_or_default();
        if let Some(newest) = news::read(&file).first() {
            preferences::set_news_read(&newest.day);
        }
    });
}
