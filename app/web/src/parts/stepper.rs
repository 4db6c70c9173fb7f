//! A number by taps: less, the number, more.

use leptos::prelude::*;

use super::live::{Reads, drawn};

/// What the two buttons are called, for those who cannot see the signs on them.
#[derive(Clone)]
pub struct StepNames {
    /// The one that lowers.
    pub less: String,
    /// The one that raises.
    pub more: String,
}

/// The number with its two buttons.
#[component]
pub fn Stepper(
    /// What the number is.
    #[prop(into)]
    label: String,
    /// The number as shown.
    #[prop(into)]
    value: Reads<String>,
    /// What the buttons are called.
    names: StepNames,
    /// A button was pressed: `true` for more.
    on_step: Callback<bool>,
) -> impl IntoView {
    let shown = label.clone();
    drawn(view! {
        <div class="stepper" role="group" aria-label=label>
            <span class="stepper-label" aria-hidden="true">{shown}</span>
            <div class="stepper-row">
                <button type="button" class="stepper-less" aria-label=names.less on:click=move |_| on_step.run(false)>
                    "\u{2212}"
                </button>
                <output class="stepper-value">{move || value.get()}</output>
                <button type="button" class="stepper-more" aria-label=names.more on:click=move |_| on_step.run(true)>
                    "+"
                </button>
            </div>
        </div>
    })
}
