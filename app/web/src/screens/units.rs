//! In which units numbers are shown and typed: one system for everything, or each quantity by itself.

use evenrow_rules::machine::FOOT;
use evenrow_rules::quantity::{Distance, KilometresPerHour, Length, Mass, Temperature};
use leptos::prelude::*;

use crate::parts::choice::Choice;
use crate::parts::live::Reads;
use crate::phone::Phone;
use crate::units::{Quantity, System, Units};
use crate::words::Words;
use crate::words::numbers::INCH_UM;

const SYSTEMS: [System; 2] = [System::Metric, System::Us];

/// The large switch.
#[component]
pub fn OneSystem(
    /// What needs no record.
    phone: Phone,
) -> impl IntoView {
    let words = phone.words;
    let picked = move || {
        let system = phone.units.get().system()?;
        SYSTEMS.iter().position(|it| *it == system)
    };
    let pick = move |at: usize| {
        phone.choose_units(Units::all(SYSTEMS.get(at).copied().unwrap_or_default()));
    };
    view! {
        <Choice
            label=words.units_ask()
            options=vec![words.units_metric(), words.units_us()]
            chosen=Reads::of(picked)
            on_pick=Callback::new(pick)
        />
    }
}

/// A switch for each quantity; the same thing in both systems stands on its two sides.
#[component]
pub fn EachQuantity(
    /// What needs no record.
    phone: Phone,
) -> impl IntoView {
    let words = phone.words;
    let one = |quantity: Quantity| {
        let label = match quantity {
            Quantity::Road => words.units_of_road(),
            Quantity::Tape => words.units_of_tape(),
            Quantity::Temperature => words.units_of_temperature(),
            Quantity::Speed => words.units_of_speed(),
            Quantity::Weight => words.units_of_weight(),
            Quantity::Oil => words.units_of_oil(),
        };
        let picked = move || {
            let system = phone.units.get().of(quantity);
            SYSTEMS.iter().position(|it| *it == system)
        };
        let pick = move |at: usize| {
            let system = SYSTEMS.get(at).copied().unwrap_or_default();
            phone.choose_units(phone.units.get_untracked().with(quantity, system));
        };
        view! {
            <Choice
                label
                options=SYSTEMS.map(|system| example(words, quantity, system)).into()
                chosen=Reads::of(picked)
                on_pick=Callback::new(pick)
            />
        }
    };
    view! {
        <details class="each-quantity">
            <summary>{words.units_each()}</summary>
            {Quantity::ALL.map(one).into_iter().collect_view()}
        </details>
    }
}

/// The same thing in each system.
fn example(words: &Words, quantity: Quantity, system: System) -> String {
    let units = Units::all(system);
    match quantity {
        Quantity::Road => format!(
            "{}, {}",
            words.distance(Distance::kilometres(5.0).unwrap_or(Distance::ZERO), units),
            words.width(FOOT.times(12), units)
        ),
        Quantity::Tape => words.tip(Length::micrometres(INCH_UM), units),
        Quantity::Temperature => words.temperature(Temperature::whole_celsius(10), units),
        Quantity::Speed => words.speed(KilometresPerHour(8), units),
        Quantity::Weight => {
            Mass::kilograms(1000.0).map_or_else(|_| String::new(), |it| words.mass(it, units))
        }
        Quantity::Oil => match system {
            System::Metric => words.litres(),
            System::Us => words.gallons(),
        },
    }
}
