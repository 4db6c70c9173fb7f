//! A time of day: by taps of a quarter of an hour, or typed into the field between them. A text field on purpose: the
//! browser's own would show twelve hours on one phone and twenty-four on the next.

use evenrow_journal::event::TimeOfDay;
use leptos::prelude::*;

use super::live::{Reads, drawn, settled};
use super::stepper::StepNames;
use crate::words::times;

/// How far a tap moves the time, in minutes.
const TAP_MINUTES: u16 = 15;

/// What is said about the field.
#[derive(Clone)]
pub struct TimeNames {
    /// What the buttons are called.
    pub steps: StepNames,
    /// What is wrong when what was typed is no time, and what would be right.
    pub not_a_time: String,
}

/// The time with its two buttons.
#[component]
pub fn TimeField(
    /// What the time is.
    #[prop(into)]
    label: String,
    /// The time.
    #[prop(into)]
    value: Reads<TimeOfDay>,
    /// What is said about the field.
    names: TimeNames,
    /// Another time was tapped or typed.
    on_change: Callback<TimeOfDay>,
) -> impl IntoView {
    let wrong = RwSignal::new(None::<String>);
    // Written anew only when the time is another one: what is half typed here must survive a change elsewhere.
    let shown = value.clone();
    let written = settled(move || times::time_field(shown.get()));
    let change = move |time: TimeOfDay| {
        wrong.set(None);
        on_change.run(time);
    };
    // A day has 1440 minutes: going back a quarter of an hour is going on by all the others.
    let tap = move |by: u16| {
        change(TimeOfDay::from_minutes(value.get().minutes() + by));
    };
    let (earlier, later) = (tap.clone(), tap);
    let not_a_time = names.not_a_time;
    let typed = move |text: String| match times::parse_time(&text) {
        Some(time) => change(time),
        None => wrong.set(Some(not_a_time.clone())),
    };
    let shown = label.clone();
    drawn(view! {
        <div class="stepper time-field" role="group" aria-label=label>
            <span class="stepper-label" aria-hidden="true">{shown.clone()}</span>
            <div class="stepper-row">
                <button
                    type="button"
                    class="stepper-less"
                    aria-label=names.steps.less
                    on:click=move |_| earlier(1440 - TAP_MINUTES)
                >
                    "\u{2212}"
                </button>
                <input
                    type="text"
                    class="stepper-value"
                    inputmode="numeric"
                    size="5"
                    autocomplete="off"
                    aria-label=shown
                    aria-invalid=move || wrong.with(Option::is_some).to_string()
                    prop:value=move || written.get()
                    on:input=move |event| {
                        // Gone as soon as it is right, so that nothing moves under the tap that follows.
                        if times::parse_time(&event_target_value(&event)).is_some() {
                            wrong.set(None);
                        }
                    }
                    on:change=move |event| typed(event_target_value(&event))
                />
                <button type="button" class="stepper-more" aria-label=names.steps.more on:click=move |_| later(TAP_MINUTES)>
                    "+"
                </button>
            </div>
            <p class="wrong" role="alert">{move || wrong.get().unwrap_or_default()}</p>
        </div>
    })
}
