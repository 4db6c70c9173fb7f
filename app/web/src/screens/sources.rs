//! Every number of the rules with what it rests on, and the bibliography: as the build wrote them down.

use leptos::prelude::*;

use crate::device::{page, text};
use crate::listing::{Class, Entry, Group, Listing};
use crate::parts::notice::{Notice, Tone};
use crate::parts::sheet_line::{Reasons, SheetLine, SheetLineText, Why};
use crate::parts::terms::Terms;
use crate::shell::App;

/// Where the build puts the list. What its numbers are is English until a language has a file of its own beside it.
const FILE: &str = "numbers/en.txt";

/// The screen.
#[component]
pub fn Sources(
    /// What every screen is handed.
    app: App,
) -> impl IntoView {
    let words = app.words;
    // Nothing until somebody has looked; then the text of the list, or none where it cannot be read.
    let found = RwSignal::new(None);
    let look = move || {
        page::run(async move {
            let file = text::file(FILE).await;
            let list = file.filter(|file| Listing::read(file).is_some());
            // Nobody waits for it any more once the screen is left.
            drop(found.try_set(Some(list)));
        });
    };
    look();
    let list = move || {
        found.with(|found| {
            let list = found.as_ref()?.as_deref()?;
            Some(all(app, &Listing::read(list)?))
        })
    };
    let none = move || {
        let none = found.with(|found| *found == Some(None));
        none.then(|| {
            view! {
                <Notice
                    tone=Tone::Trouble
                    text=words.sources_not_read()
                    action=words.try_again()
                    on_press=Callback::new(move |()| look())
                />
            }
        })
    };
    view! {
        <h1 tabindex="-1">{words.sources_title()}</h1>
        {move || (list(), none())}
    }
}

fn all(app: App, listing: &Listing) -> impl IntoView + use<> {
    let words = app.words;
    let shares = Class::ALL.map(|class| {
        let (all, count) = listing.count(class);
        words.sources_share(&count.to_string(), &all.to_string())
    });
    let terms = words.bases().into_iter().zip(shares);
    let terms = terms.map(|((term, meaning), share)| (term, format!("{share} {meaning}")));
    let groups = |groups: &[Group]| {
        let lines = groups.iter().map(|group| SheetLineText {
            what: format!("{} ({})", group.title, group.entries.len()),
            value: String::new(),
            why: group
                .entries
                .iter()
                .map(|it| entry(app, listing, it))
                .collect(),
            link: None,
        });
        lines.map(|line| view! { <SheetLine line/> }).collect_view()
    };
    let books = listing.sources.iter().map(|source| Why {
        head: source.title.to_owned(),
        text: format!("{}. {}.", source.authors, source.published),
        basis: if source.seen {
            words.source_seen()
        } else {
            words.source_from_memory()
        },
    });
    view! {
        <p>{words.sources_lead()}</p>
        <Terms terms=terms.collect()/>
        <h2>{words.sources_numbers()}</h2>
        <div class="sources" lang="en">{groups(&listing.numbers)}</div>
        <h2>{words.sources_statements()}</h2>
        <div class="sources" lang="en">{groups(&listing.statements)}</div>
        <h2>{words.sources_bibliography()}</h2>
        <div class="sources" lang="en"><Reasons why=books.collect()/></div>
    }
}

/// The value, row by row where it is a table, with what it is and what it rests on.
fn entry(app: App, listing: &Listing, entry: &Entry) -> Why {
    // The last word, mostly the unit, does not go to a line of its own.
    let row = |row: &str| match row.rsplit_once(' ') {
        Some((number, unit)) => format!("{number}\u{a0}{unit}"),
        None => row.to_owned(),
    };
    let rows: Vec<_> = entry.value.split("; ").map(row).collect();
    Why {
        head: rows.join("\n"),
        text: entry.sentence.to_owned(),
        basis: app.words.stated_basis(listing, entry),
    }
}
