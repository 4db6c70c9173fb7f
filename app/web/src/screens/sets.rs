//! The sets: a new one to mount, the one that is on, and those in store, with what can be done with each.

use evenrow_journal::Command;
use evenrow_journal::event::NewSet;
use evenrow_journal::row::{SetOfTeeth, Whereabouts};
use evenrow_rules::machine::fit;
use evenrow_rules::quantity::Length;
use evenrow_rules::wear::Tips;
use leptos::prelude::*;

use super::row::tip_step;
use super::stock::{KINDS, NEW_TIP_UM};
use super::usual::step_names;
use crate::device::preferences;
use crate::parts::choice::Choice;
use crate::parts::stepper::Stepper;
use crate::place::Place;
use crate::shell::{App, go};

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
    let is_on = set.machine().is_some();
    let id = set.id;
    let ask = |make: fn(evenrow_journal::Id) -> Command| {
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
            {if is_on {
                view! {
                    <button type="button" class="action store-set" on:click=ask(|set| Command::StoreSet { set })>
                        {words.set_store()}
                    </button>
                    <details>
                        <summary>{words.laying_up_title()}</summary>
                        <p class="caution">{words.laying_up()}</p>
                    </details>
                }
                .into_any()
            } else {
                view! {
                    <button type="button" class="action put-back-set" on:click=put_back>{words.set_put_back()}</button>
                }
                .into_any()
            }}
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
        </section>
    }
}

/// A new set for this machine. What is on it goes into store.
#[component]
fn MountNew(
    /// What every screen is handed.
    app: App,
) -> impl IntoView {
    let words = app.words;
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
            let by = tip_step(app.units.get_untracked());
            form.update(|it| {
                let um = part(it);
                *um = if more {
                    um.saturating_add(by)
                } else {
                    um.saturating_sub(by)
                };
            });
            changed();
        };
        let value = move || {
            let mut form = form.get();
            words.exact(Length::micrometres(*part(&mut form)), app.units.get())
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
        let (Some(&kind), Some(machine)) = (KINDS.get(kind), app.machine.get_untracked()) else {
            return;
        };
        let Ok(tips) = Tips::new(um(new), um(end)) else {
            let units = app.units.get_untracked();
            return wrong
                .set(words.tips_wrong(&words.exact(um(new), units), &words.exact(um(end), units)));
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
            <h2>{words.mount_title()}</h2>
            <p class="small">{words.mount_note()}</p>
            <Choice
                label=words.line_teeth()
                options=KINDS.iter().map(|&kind| words.tooth_kind(kind)).collect()
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
