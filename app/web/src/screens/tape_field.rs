//! A length typed off a tape, in the units of the phone.

use evenrow_rules::quantity::Length;
use leptos::prelude::*;

use crate::parts::field::{Field, Keyboard};
use crate::shell::App;
use crate::units::{Quantity, System};
use crate::words::Words;
use crate::words::numbers::parse_tape;

/// The field.
#[component]
pub fn TapeField(
    /// What every screen is handed.
    app: App,
    /// What is measured.
    what: fn(&Words) -> String,
    /// What has been typed.
    typed: RwSignal<String>,
    /// It was changed.
    on_change: Callback<()>,
) -> impl IntoView {
    let words = app.words;
    let what = what(words);
    // Inches may be followed by a fraction, which a keyboard of digits has no sign for.
    let (label, keyboard) = match app.units.get_untracked().of(Quantity::Tape) {
        System::Metric => (words.in_millimetres(&what), Keyboard::Decimal),
        System::Us => (words.in_inches(&what), Keyboard::Text),
    };
    let invalid =
        move || typed.with(|it| !it.is_empty() && parse_tape(it, app.units.get()).is_none());
    view! {
        <Field
            label
            keyboard
            value=typed
            invalid=Signal::derive(invalid)
            on_input=Callback::new(move |text| {
                typed.set(text);
                on_change.run(());
            })
        />
    }
}

/// What lengths were typed, once all are: nothing while one is empty, a sentence where one is no length.
pub fn typed_lengths<const N: usize>(
    app: App,
    typed: [RwSignal<String>; N],
) -> Option<Result<[Length; N], String>> {
    let (words, units) = (app.words, app.units.get());
    let mut lengths = [Length::ZERO; N];
    for (length, typed) in lengths.iter_mut().zip(typed) {
        let text = typed.get();
        if text.is_empty() {
            return None;
        }
        let Some(read) = parse_tape(&text, units) else {
            return Some(Err(match units.of(Quantity::Tape) {
                System::Metric => words.tape_not_millimetres(),
                System::Us => words.tape_not_inches(),
            }));
        };
        *length = read;
    }
    Some(Ok(lengths))
}
