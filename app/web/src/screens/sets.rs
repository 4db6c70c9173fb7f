//! The sets: a new one to mount, the one that is on, and those in store, with what can be done with each.

use evenrow_journal::event::NewSet;
use evenrow_journal::row::{SetOfTeeth, Whereabouts};
use evenrow_journal::{Command, Id};
use evenrow_rules::checklist::{Item, List};
use evenrow_rules::machine::fit;
use evenrow_rules::quantity::Length;
use evenrow_rules::setup::ToothKind;
use evenrow_rules::wear::Tips;
use leptos::prelude::*;

use super::stock::NEW_TIP_UM;
use super::usual::step_names;
use crate::device::{clock, preferences};
use crate::parts::choice::Choice;
use crate::parts::stepper::Stepper;
use crate::parts::tick::Tick;
use crate::place::Place;
use crate::shell::{App, go};
use crate::words::numbers::tip_stepped;
use crate::words::times;

/// A tip that is done, where nobody has said when: five millimetres. House default.
const END_TIP_UM: u32 = 5_000;

/// The screen.
#[component]
pub fn Sets(
    /// What every screen is handed.
    app: App,
) -> impl IntoView {
    let words = app.words;
    let sets = Memo::new(move |_| {
        app.state().with(|state| {
            let there = state.teeth.sets.iter().rev();
            there
                .filter(|set| set.whereabouts != Whereabouts::Gone)
                .cloned()
                .collect::<Vec<SetOfTeeth>>()
        })
    });
    view! {
        <h1 tabindex="-1">{words.sets_title()}</h1>
        <p>{words.sets_lead()}</p>
        {move || sets.with(Vec::is_empty).then(|| view! { <p class="empty">{words.sets_empty()}</p> })}
        {move || sets.get().into_iter().map(|set| view! { <OneSet app set/> }).collect_view()}
        <MountNew app/>
        <a class="action" href="#row">{words.back_to_row()}</a>
    }
}

#[component]
fn OneSet(
    /// What every screen is handed.
    app: App,
    /// The set.
    set: SetOfTeeth,
) -> impl IntoView {
    let words = app.words;
    let kind = set.teeth.values().next().map(|tooth| tooth.kind);
    let kind = kind.map_or_else(String::new, |kind| words.tooth_kind(kind));
    let worked = app
        .state()
        .with_untracked(|state| state.blade_time(&set, app.now.get_untracked()));
    let hours = format!("{:.0}", worked.as_secs_f64() / 3600.0);
    let title = words.set_told(&set.teeth.len().to_string(), &kind, &hours);
    let on = set.machine().and_then(|id| {
        app.state()
            .with_untracked(|state| state.machine(id).map(|machine| machine.name.clone()))
    });
    let place = on.map_or_else(|| words.set_stored(), |name| words.set_on(&name));
    let is_stored = set.whereabouts == Whereabouts::Stored;
    let laid_up = set.laid_up.iter().map(|&item| words.item(item));
    let laid_up: Vec<String> = laid_up.collect();
    let notes = set.notes.iter().map(|(at, text)| {
        let at = times::date(*at, clock::offset_minutes(*at));
        view! { <p class="set-note">{words.noted_on(&at, text)}</p> }
    });
    let notes = notes.collect_view();
    let id = set.id;
    let ask = |make: fn(Id) -> Command| {
        let id = id.clone();
        move |_| app.desk.submit(make(id.clone()))
    };
    let put_back_id = id.clone();
    let put_back = move |_| {
        if let Some(machine) = app.machine.get_untracked() {
            let command = Command::PutBackSet {
                set: put_back_id.clone(),
                machine: machine.id,
            };
            app.desk.submit_then(command, || go(&Place::Row));
        }
    };
    view! {
        <section class="one-set">
            <h2>{title}</h2>
            <p>{place}</p>
            {(is_stored && !laid_up.is_empty()).then(|| view! {
                <ul class="laid-up">{laid_up.into_iter().map(|item| view! { <li>{item}</li> }).collect_view()}</ul>
            })}
            {notes}
            {if is_stored {
                view! {
                    <button type="button" class="action put-back-set" on:click=put_back>{words.set_put_back()}</button>
                    <button
                        type="button"
                        class="action make-spares"
                        on:click=ask(|set| Command::BreakUpSet { set, spares: true })
                    >
                        {words.set_make_spares()}
                    </button>
                    <button
                        type="button"
                        class="action scrap-set"
                        on:click=ask(|set| Command::BreakUpSet { set, spares: false })
                    >
                        {words.set_scrap()}
                    </button>
                }
                .into_any()
            } else {
                view! { <LayingUp app set=id/> }.into_any()
            }}
        </section>
    }
}

/// Taking a set off and storing it, with what is to be seen to.
#[component]
fn LayingUp(
    /// What every screen is handed.
    app: App,
    /// The set.
    set: Id,
) -> impl IntoView {
    let words = app.words;
    let draft = format!("laying-up-{}", set.as_str());
    // Which items are ticked, by their place on the list: the list may grow, but a draft does not live that long.
    let ticked = RwSignal::new(preferences::draft::<Vec<usize>>(&draft).unwrap_or_default());
    let kept = draft.clone();
    let press = move |at: usize, done: bool| {
        ticked.update(|ticked| {
            ticked.retain(|&it| it != at);
            if done {
                ticked.push(at);
                ticked.sort_unstable();
            }
        });
        preferences::set_draft(&kept, &ticked.get_untracked());
    };
    let tick = move |(at, &item): (usize, &Item)| {
        let press = press.clone();
        view! {
            <Tick
                text=words.item(item)
                basis=words.basis(item.basis())
                ticked=Signal::derive(move || ticked.with(|ticked| ticked.contains(&at)))
                on_press=Callback::new(move |done| press(at, done))
            />
        }
    };
    let store = move |_| {
        let done = ticked.get_untracked().into_iter();
        let done = done.filter_map(|at| List::LayingUp.items().get(at).copied());
        let command = Command::StoreSet {
            set: set.clone(),
            done: done.collect(),
        };
        let draft = draft.clone();
        app.desk
            .submit_then(command, move || preferences::drop_draft(&draft));
    };
    view! {
        <details class="laying-up">
            <summary>{words.set_store()}</summary>
            <div class="laying-up-list">
            <p class="caution">{words.beware_make_it_safe_first()}</p>
            <h3>{words.list(List::LayingUp)}</h3>
            {List::LayingUp.items().iter().enumerate().map(tick).collect_view()}
            <button type="button" class="main-action store-set" on:click=store>{words.set_store_now()}</button>
            </div>
        </details>
    }
}

/// A new set for this machine. What is on it goes into store.
#[component]
fn MountNew(
    /// What every screen is handed.
    app: App,
) -> impl IntoView {
    let words = app.words;
    let is_first = Memo::new(move |_| app.state().with(|state| state.teeth.sets.is_empty()));
    let row = move || {
        let teeth = app
            .machine
            .get_untracked()
            .map_or(0, |it| fit(&it.machine).full_row());
        u16::try_from(teeth).unwrap_or(u16::MAX)
    };
    // Kind, new, done and present length in micrometres, teeth.
    let first = (1_usize, NEW_TIP_UM, END_TIP_UM, NEW_TIP_UM, row());
    let kept = preferences::draft::<(usize, u32, u32, u32, u16)>("set");
    let form = RwSignal::new(kept.unwrap_or(first));
    let wrong = RwSignal::new(String::new());
    let changed = move || {
        wrong.set(String::new());
        preferences::set_draft("set", &form.get_untracked());
    };
    let pick = move |at: usize| {
        form.update(|it| it.0 = at);
        changed();
    };
    let length = move |label: String, part: fn(&mut (usize, u32, u32, u32, u16)) -> &mut u32| {
        let step = move |more: bool| {
            let units = app.units.get_untracked();
            form.update(|it| {
                let um = part(it);
                *um = tip_stepped(Length::micrometres(*um), more, units).in_micrometres();
            });
            changed();
        };
        let value = move || {
            let mut form = form.get();
            words.tip(Length::micrometres(*part(&mut form)), app.units.get())
        };
        view! {
            <Stepper names=step_names(words, &label) label value=Signal::derive(value) on_step=Callback::new(step)/>
        }
    };
    let number = move |more: bool| {
        form.update(|it| {
            it.4 = if more {
                it.4.saturating_add(1)
            } else {
                it.4.saturating_sub(1)
            };
        });
        changed();
    };
    let mount = move |_| {
        let (kind, new, end, tip, teeth) = form.get_untracked();
        let um = Length::micrometres;
        let (Some(&kind), Some(machine)) = (ToothKind::ALL.get(kind), app.machine.get_untracked())
        else {
            return;
        };
        let Ok(tips) = Tips::new(um(new), um(end)) else {
            let units = app.units.get_untracked();
            return wrong
                .set(words.tips_wrong(&words.tip(um(new), units), &words.tip(um(end), units)));
        };
        let new = NewSet {
            kind,
            tips,
            tip: um(tip),
            teeth,
        };
        let machine = machine.id;
        app.desk
            .submit_then(Command::MountSet { machine, new }, || {
                preferences::drop_draft("set");
                go(&Place::Row);
            });
    };
    let count_label = words.teeth_of_set();
    view! {
        <section class="mount-new">
            <h2>{move || if is_first.get() { words.row_mount() } else { words.mount_title() }}</h2>
            <p class="small">{words.mount_note()}</p>
            <Choice
                label=words.line_teeth()
                options=ToothKind::ALL.iter().map(|&kind| words.tooth_kind(kind)).collect()
                chosen=Signal::derive(move || Some(form.get().0))
                on_pick=Callback::new(pick)
            />
            {length(words.tip_when_new(), |form| &mut form.1)}
            {length(words.tip_when_done(), |form| &mut form.2)}
            {length(words.tip_now(), |form| &mut form.3)}
            <Stepper
                names=step_names(words, &count_label)
                label=count_label
                value=Signal::derive(move || form.get().4.to_string())
                on_step=Callback::new(number)
            />
            <p class="wrong" role="alert">{move || wrong.get()}</p>
            <button type="button" class="main-action mount-set" on:click=mount>{words.mount_action()}</button>
        </section>
    }
}
