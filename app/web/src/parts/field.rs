//! Something typed. What is wrong with it stands below it, said by the screen; what was typed stays.

use leptos::prelude::*;

use super::live::{Reads, drawn};

/// What kind of keyboard the phone should offer.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Keyboard {
    /// Letters.
    Text,
    /// Digits with a point.
    Decimal,
}

impl Keyboard {
    const fn mode(self) -> &'static str {
        match self {
            Keyboard::Text => "text",
            Keyboard::Decimal => "decimal",
        }
    }
}

/// A field.
#[component]
pub fn Field(
    /// What is to be typed.
    #[prop(into)]
    label: String,
    /// With which keyboard.
    keyboard: Keyboard,
    /// What stands in it.
    #[prop(into)]
    value: Reads<String>,
    /// Whether something is wrong with it.
    #[prop(into)]
    invalid: Reads<bool>,
    /// Something was typed.
    on_input: Callback<String>,
) -> impl IntoView {
    drawn(view! {
        <label class="field">
            <span class="field-label">{label}</span>
            <input
                type="text"
                class="field-input"
                inputmode=keyboard.mode()
                autocomplete="off"
                aria-invalid=move || invalid.get().to_string()
                prop:value=move || value.get()
                on:input=move |event| on_input.run(event_target_value(&event))
            />
        </label>
    })
}
