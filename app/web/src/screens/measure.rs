//! A quick pass over every nth tooth: one tip after the other, each beginning with the length before it.

use std::collections::BTreeMap;

use evenrow_journal::Command;
use evenrow_journal::row::{SetOfTeeth, TipNow};
use evenrow_journal::row_facts::FEWEST_FOR_A_MEAN;
use evenrow_rules::quantity::Length;
use leptos::prelude::*;
use serde::{Deserialize, Serialize};

use super::row::Mounted;
use super::usual::step_names;
use crate::device::preferences;
use crate::parts::choice::Choice;
use crate::parts::stepper::Stepper;
use crate::place::Place;
use crate::shell::{App, go};
use crate::words::numbers::tip_stepped;

/// Every how manieth tooth; eight are a foot of the usual pitch.
const EVERY: [u16; 3] = [4, 8, 12];

/// A pass that runs.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
struct Pass {
    every: u16,
    at: u16,
    tip_um: u32,
    done: Vec<(u16, u32)>,
}

/// The screen.
#[component]
pub fn Measure(
    /// What every screen is handed.
    app: App,
) -> impl IntoView {
    let words = app.words;
    let row = Mounted::of(app);
    let set = row.set;
    let pass = RwSignal::new(preferences::draft::<Pass>("measure").unwrap_or_default());
    let keep_draft = move || preferences::set_draft("measure", &pass.get_untracked());
    let tip_of = move |position: u16| {
        let tip = |tips: &BTreeMap<u16, TipNow>| tips.get(&position).map(|it| it.tip);
        row.tips.with_untracked(tip).map(Length::in_micrometres)
    };
    let last = move || {
        set.with(|set| set.as_ref()?.teeth.last_key_value().map(|(last, _)| *last))
            .unwrap_or(0)
    };
    // Where a tooth is broken or gone there is nothing to measure.
    let from = move |mut at: u16, every: u16| {
        let missing = |at: u16| {
            let missing = |set: &SetOfTeeth| set.teeth.get(&at).is_none_or(|it| it.state.is_lost());
            set.with_untracked(|set| set.as_ref().is_none_or(missing))
        };
        while at <= untrack(last) && missing(at) {
            at = at.saturating_add(every.max(1));
        }
        at
    };
    let begin = move |at: usize| {
        let every = EVERY.get(at).copied().unwrap_or(8);
        // The middle of each stretch, so that neither end is left out.
        let first = from(every.div_ceil(2).max(1), every);
        pass.set(Pass {
            every,
            at: first,
            tip_um: tip_of(first).unwrap_or(0),
            done: Vec::new(),
        });
        keep_draft();
    };
    let step = move |more: bool| {
        let units = app.units.get_untracked();
        pass.update(|pass| {
            let tip = Length::micrometres(pass.tip_um);
            pass.tip_um = tip_stepped(tip, more, units).in_micrometres();
        });
        keep_draft();
    };
    let is_over = move || pass.with(|pass| last() < pass.at);
    let next = move |measured: bool| {
        move |_| {
            pass.update(|pass| {
                if measured {
                    pass.done.push((pass.at, pass.tip_um));
                }
                pass.at = from(pass.at.saturating_add(pass.every), pass.every);
            });
            keep_draft();
        }
    };
    let keep = move |_| {
        let Some(set) = set.with_untracked(|set| set.as_ref().map(|set| set.id.clone())) else {
            return;
        };
        let done = pass.with_untracked(|pass| pass.done.clone());
        let tips = done
            .into_iter()
            .map(|(position, um)| (position, Length::micrometres(um)))
            .collect();
        app.desk
            .submit_then(Command::MeasureTips { set, tips }, move || {
                preferences::drop_draft("measure");
                go(&Place::Row);
            });
    };
    let runs = Memo::new(move |_| pass.with(|pass| 0 < pass.every));
    let label = words.tip_length();
    let shown = move || {
        if !runs.get() {
            return ().into_any();
        }
        let count = pass.with(|pass| pass.done.len().to_string());
        let over = is_over();
        let stepper = (!over).then(|| {
            let (plate, nth) = row.plates.with(|plates| plates.place(pass.with(|pass| pass.at)));
            let tooth = words.tooth_at(&plate.to_string(), &nth.to_string());
            view! {
                <h2 class="measure-at">{tooth}</h2>
                <Stepper
                    names=step_names(words, &label)
                    label=label.clone()
                    value=Signal::derive(move || {
                        words.tip(Length::micrometres(pass.with(|pass| pass.tip_um)), app.units.get())
                    })
                    on_step=Callback::new(step)
                />
                <button type="button" class="main-action measure-next" on:click=next(true)>{words.measure_next()}</button>
                <button type="button" class="action measure-skip" on:click=next(false)>{words.measure_skip()}</button>
            }
        });
        view! {
            {stepper}
            <p>{words.measured_so_far(&count)}</p>
            <button type="button" class="big-action measure-keep" on:click=keep>{words.measure_keep()}</button>
        }
        .into_any()
    };
    let has_set = Memo::new(move |_| set.with(Option::is_some));
    let choice = move || {
        view! {
            <p class="caution">{words.beware_make_it_safe_first()}</p>
            <p>{words.measure_lead(&FEWEST_FOR_A_MEAN.to_string())}</p>
            <Choice
                label=words.measure_ask()
                options=EVERY.iter().map(|every| words.every_nth(&every.to_string())).collect()
                chosen=Signal::derive(move || EVERY.iter().position(|&every| every == pass.with(|pass| pass.every)))
                on_pick=Callback::new(begin)
            />
        }
    };
    view! {
        <h1 tabindex="-1">{words.measure_title()}</h1>
        {move || if has_set.get() {
            choice().into_any()
        } else {
            view! {
                <p class="empty">{words.row_empty()}</p>
                <a class="main-action to-sets" href="#sets">{words.row_mount()}</a>
            }
            .into_any()
        }}
        {move || has_set.get().then(&shown)}
        <a class="action" href="#row">{words.back_to_row()}</a>
    }
}
