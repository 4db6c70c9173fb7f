//! The spares: how many there are of each kind and length, corrected by taps, and a new kind.

use evenrow_journal::Command;
use evenrow_rules::quantity::Length;
use evenrow_rules::setup::ToothKind;
use leptos::prelude::*;

use super::usual::step_names;
use crate::device::preferences;
use crate::parts::choice::Choice;
use crate::parts::stepper::Stepper;
use crate::shell::App;
use crate::words::numbers::tip_stepped;

/// A new tip, where nobody has said how long it is: twenty millimetres. House default.
pub const NEW_TIP_UM: u32 = 20_000;

/// The screen.
#[component]
pub fn Stock(
    /// What every screen is handed.
    app: App,
) -> impl IntoView {
    let words = app.words;
    let kinds = Memo::new(move |_| {
        app.state().with(|state| {
            state
                .teeth
                .stock
                .iter()
                .map(|(kind, _)| *kind)
                .collect::<Vec<_>>()
        })
    });
    let count_of = move |(kind, um): (ToothKind, u32)| {
        app.state()
            .with(|state| state.teeth.spares(kind, Length::micrometres(um)))
    };
    let line = move |(kind, um): (ToothKind, u32)| {
        let tip = Length::micrometres(um);
        let label = words.spare_kind(
            &words.tooth_kind(kind),
            &words.tip(tip, app.units.get_untracked()),
        );
        let step = move |more: bool| {
            let now = untrack(|| count_of((kind, um)));
            let count = if more {
                now.saturating_add(1)
            } else {
                now.saturating_sub(1)
            };
            app.desk.submit(Command::CountStock { kind, tip, count });
        };
        view! {
            <Stepper
                names=step_names(words, &label)
                label
                value=Signal::derive(move || count_of((kind, um)).to_string())
                on_step=Callback::new(step)
            />
        }
    };
    let form = RwSignal::new(
        preferences::draft::<(usize, u32, u32)>("stock").unwrap_or((1, NEW_TIP_UM, 1)),
    );
    let changed = move || preferences::set_draft("stock", &form.get_untracked());
    let pick = move |at: usize| {
        form.update(|it| it.0 = at);
        changed();
    };
    let length = move |more: bool| {
        let units = app.units.get_untracked();
        form.update(|it| {
            it.1 = tip_stepped(Length::micrometres(it.1), more, units).in_micrometres();
        });
        changed();
    };
    let number = move |more: bool| {
        form.update(|it| {
            it.2 = if more {
                it.2.saturating_add(1)
            } else {
                it.2.saturating_sub(1).max(1)
            };
        });
        changed();
    };
    let add = move |_| {
        let (kind, um, count) = form.get_untracked();
        let Some(&kind) = ToothKind::ALL.get(kind) else {
            return;
        };
        let count = count.saturating_add(untrack(|| count_of((kind, um))));
        let tip = Length::micrometres(um);
        app.desk
            .submit_then(Command::CountStock { kind, tip, count }, || {
                preferences::drop_draft("stock");
            });
    };
    let (tip_label, count_label) = (words.tip_length(), words.how_many());
    view! {
        <h1 tabindex="-1">{words.stock_title()}</h1>
        {move || kinds.with(Vec::is_empty).then(|| view! { <p class="stock-empty">{words.stock_empty()}</p> })}
        {move || kinds.get().into_iter().map(line).collect_view()}
        <h2>{words.stock_add_title()}</h2>
        <Choice
            label=words.line_teeth()
            options=ToothKind::ALL.iter().map(|&kind| words.tooth_kind(kind)).collect()
            chosen=Signal::derive(move || Some(form.get().0))
            on_pick=Callback::new(pick)
        />
        <Stepper
            names=step_names(words, &tip_label)
            label=tip_label
            value=Signal::derive(move || words.tip(Length::micrometres(form.get().1), app.units.get()))
            on_step=Callback::new(length)
        />
        <Stepper
            names=step_names(words, &count_label)
            label=count_label
            value=Signal::derive(move || form.get().2.to_string())
            on_step=Callback::new(number)
        />
        <button type="button" class="main-action add-spares" on:click=add>{words.stock_add()}</button>
        <a class="action" href="#row">{words.back_to_row()}</a>
    }
}
