//! What each tooth gets of the force on the edge: with the full row, with two plates and with one; as a ceiling where the
//! machine's own weights are known, else as a ratio.

use core::num::NonZeroU32;

use evenrow_journal::Command;
use evenrow_rules::load::{Axles, share};
use evenrow_rules::machine::{RowFit, fit};
use evenrow_rules::quantity::Force;
use evenrow_rules::source::{Basis, Source};
use leptos::prelude::*;
use serde::{Deserialize, Serialize};

use super::tape_field::{TapeField, typed_lengths};
use crate::device::preferences;
use crate::parts::field::{Field, Keyboard};
use crate::parts::load_row::{LoadRow, LoadRowView};
use crate::shell::App;
use crate::units::{Quantity, System};
use crate::words::Words;
use crate::words::numbers::{mass_typed, parse_mass, tape_typed};

/// What was typed of the machine.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
struct Form {
    front_axle: String,
    wheelbase: String,
    edge_to_rear: String,
}

/// The screen.
#[component]
pub fn Load(
    /// What every screen is handed.
    app: App,
) -> impl IntoView {
    let words = app.words;
    let axles = Memo::new(move |_| {
        let machine = app
            .machine
            .with(|machine| Some(machine.as_ref()?.id.clone()))?;
        app.state().with(|state| state.measured(&machine).axles)
    });
    let ceiling = Memo::new(move |_| axles.get().map(Axles::ceiling));
    let row = Memo::new(move |_| {
        app.machine
            .with(|machine| machine.as_ref().map(|it| fit(&it.machine)))
    });
    let rows = move || {
        let Some(row) = row.get() else {
            return Vec::new();
        };
        let all = row.plates.len();
        let counts = [all, 2, 1].into_iter().enumerate();
        let shown = counts.filter(|&(at, count)| at == 0 || count < all);
        shown
            .filter_map(|(_, count)| one_row(app, &row, count, ceiling.get()))
            .collect()
    };
    let known = move || {
        match ceiling.get() {
        Some(force) => view! {
            <p class="caution load-ceiling">
                {words.load_ceiling(&words.force(force, app.units.get()))} " "
                <small class="basis">{words.basis(Basis::Published(Source::RoadsAndStreets1973))}</small>
            </p>
        }
        .into_any(),
        None => view! { <p class="load-unknown">{words.load_unknown()}</p> }.into_any(),
    }
    };
    view! {
        <h1 tabindex="-1">{words.load_title()}</h1>
        <p>
            {words.load_lead()} " "
            <small class="basis">{words.basis_noted(&words.basis(Basis::Geometry), &words.load_share_basis())}</small>
        </p>
        <div class="load-rows">{rows}</div>
        {known}
        <p class="caution load-advice">
            {words.load_advice()} " " <small class="basis">{words.basis(Basis::CommonPractice)}</small>
        </p>
        <AxlesForm app axles/>
    }
}

/// So many plates at the end of the board that cuts, drawn and told.
fn one_row(app: App, row: &RowFit, plates: usize, ceiling: Option<Force>) -> Option<AnyView> {
    let words = app.words;
    let (all, full) = (row.plates.len(), NonZeroU32::new(row.full_row())?);
    let teeth = |plates: usize| row.teeth.iter().rev().take(plates).sum::<u32>();
    let teeth_down = NonZeroU32::new(teeth(plates))?;
    // Only the ratio counts where no force is known.
    let down = ceiling.or(Force::kilonewtons(1.0).ok())?;
    let load = share(down, teeth_down, full).ok()?;
    let most = f64::from(full.get()) / f64::from(teeth(1).max(1));
    let drawn = LoadRowView {
        plates: row
            .plates
            .iter()
            .enumerate()
            .map(|(at, length)| (length.in_millimetres(), all - plates <= at))
            .collect(),
        share: load.times_full_row / most,
    };
    let count = teeth_down.to_string();
    let name = match plates {
        1 if all != 1 => words.load_one(&count),
        2 if all != 2 => words.load_two(&count),
        _ => words.load_full(&count),
    };
    let force = words.force(load.per_tooth, app.units.get());
    let times = words.times_full_row(load.times_full_row);
    let told = match (ceiling.is_some(), plates == all) {
        (true, true) => words.load_most(&force),
        (true, false) => words.load_each(&force, &times),
        (false, true) => words.load_once(),
        (false, false) => times,
    };
    let shown = view! {
        <figure class="load-of">
            <LoadRow row=drawn/>
            <figcaption><strong>{name}</strong> " " <span class="load-told">{told}</span></figcaption>
        </figure>
    };
    Some(shown.into_any())
}

/// The machine's weights and lengths, as a form.
#[component]
fn AxlesForm(
    /// What every screen is handed.
    app: App,
    /// What is kept.
    axles: Memo<Option<Axles>>,
) -> impl IntoView {
    let words = app.words;
    let units = app.units.get_untracked();
    let kept = || {
        axles.get_untracked().map_or_else(Form::default, |it| Form {
            front_axle: mass_typed(it.front_axle(), units),
            wheelbase: tape_typed(it.wheelbase(), units),
            edge_to_rear: tape_typed(it.edge_to_rear(), units),
        })
    };
    let form = preferences::draft::<Form>("axles").unwrap_or_else(kept);
    let front_axle = RwSignal::new(form.front_axle);
    let (wheelbase, edge) = (
        RwSignal::new(form.wheelbase),
        RwSignal::new(form.edge_to_rear),
    );
    let wrong = RwSignal::new(None::<String>);
    let changed = Callback::new(move |()| {
        wrong.set(None);
        let form = Form {
            front_axle: front_axle.get_untracked(),
            wheelbase: wheelbase.get_untracked(),
            edge_to_rear: edge.get_untracked(),
        };
        preferences::set_draft("axles", &form);
    });
    let no_mass = move || front_axle.with(|it| !it.is_empty() && parse_mass(it, units).is_none());
    let keep = move |_| {
        let Some(mass) = front_axle.with_untracked(|it| parse_mass(it, units)) else {
            return wrong.set(Some(words.not_a_mass()));
        };
        let not_typed = || {
            Err(match units.of(Quantity::Tape) {
                System::Metric => words.tape_not_millimetres(),
                System::Us => words.tape_not_inches(),
            })
        };
        let lengths = untrack(|| typed_lengths(app, [wheelbase, edge])).unwrap_or_else(not_typed);
        let Some(machine) = app
            .machine
            .with_untracked(|it| Some(it.as_ref()?.id.clone()))
        else {
            return;
        };
        match lengths {
            Err(why) => wrong.set(Some(why)),
            Ok([wheelbase, edge_to_rear]) => app.desk.submit_then(
                Command::DescribeAxles {
                    machine,
                    front_axle: mass,
                    wheelbase,
                    edge_to_rear,
                },
                || preferences::drop_draft("axles"),
            ),
        }
    };
    let label = match units.of(Quantity::Weight) {
        System::Metric => words.in_kilograms(&words.front_axle()),
        System::Us => words.in_pounds(&words.front_axle()),
    };
    view! {
        <h2>{words.axles_title()}</h2>
        <p>{words.axles_lead()}</p>
        <Field
            label
            keyboard=Keyboard::Decimal
            value=front_axle
            invalid=Signal::derive(no_mass)
            on_input=Callback::new(move |typed| {
                front_axle.set(typed);
                changed.run(());
            })
        />
        <TapeField app what=Words::wheelbase typed=wheelbase on_change=changed/>
        <TapeField app what=Words::edge_to_rear typed=edge on_change=changed/>
        <p class="wrong" role="alert">{wrong}</p>
        <button type="button" class="main-action keep-axles" on:click=keep>{words.keep()}</button>
    }
}
