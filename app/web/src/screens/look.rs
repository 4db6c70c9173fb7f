//! Some teeth do not turn: how many are stiff, stuck, broken or gone.

use evenrow_journal::Command;
use evenrow_journal::event::Finding;
use leptos::prelude::*;

use serde::{Deserialize, Serialize};

use super::usual::step_names;
use crate::device::preferences;
use crate::parts::live::{Reads, drawn, live, settled};
use crate::parts::plain::{link, sentence, title};
use crate::parts::stepper::Stepper;
use crate::place::Place;
use crate::shell::{App, go};

/// The counts tapped in so far.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
struct Counts {
    stiff: u16,
    stuck: u16,
    broken: u16,
}

/// The form.
#[component]
pub fn Look(
    /// What every screen is handed.
    app: App,
) -> impl IntoView {
    let words = app.words;
    let counts = RwSignal::new(preferences::draft::<Counts>("look").unwrap_or_default());
    let count = move |label: String, part: fn(&mut Counts) -> &mut u16| {
        let step = move |more: bool| {
            counts.update(|counts| {
                let count = part(counts);
                *count = if more {
                    count.saturating_add(1)
                } else {
                    count.saturating_sub(1)
                };
            });
            preferences::set_draft("look", &counts.get_untracked());
        };
        let value = move || {
            let mut counts = counts.get();
            part(&mut counts).to_string()
        };
        view! {
            <Stepper
                names=step_names(words, &label)
                label=label
                value=Reads::of(value)
                on_step=Callback::new(step)
            />
        }
    };
    let keep = move |_| {
        let Counts {
            stiff,
            stuck,
            broken,
        } = counts.get_untracked();
        app.desk.submit_then(
            Command::Look(Finding::SomeNot {
                stiff,
                stuck,
                broken,
            }),
            move || {
                preferences::drop_draft("look");
                go(&Place::Shift);
            },
        );
    };
    let running = settled(move || app.state().with(|state| state.running().is_some()));
    let form = move || {
        drawn(view! {
            {sentence("caution", words.beware_make_it_safe_first())}
            {count(words.count_stiff(), |counts| &mut counts.stiff)}
            {count(words.count_stuck(), |counts| &mut counts.stuck)}
            {count(words.count_broken(), |counts| &mut counts.broken)}
            <p>{words.some_not_advice()}</p>
            <button type="button" class="main-action keep" on:click=keep>{words.keep()}</button>
        })
    };
    drawn(view! {
        {title(words.some_not_title())}
        {live(move || if running.get() {
            form()
        } else {
            sentence("empty", words.look_empty())
        })}
        {link("action", "#shift", words.back_to_shift())}
    })
}
