//! What rings, over the whole screen: what is due, whether it is late, and one button as large as a glove.
//!
//! It pulses once a second at most, and not at all for those who want no motion. Never here: when it rings, and how it
//! sounds.

use leptos::prelude::*;

use super::icon::{Icon, Shape};

/// What it says, second by second.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct AlarmView {
    /// Whether it is late.
    pub late: bool,
    /// Due or late, as a word.
    pub word: String,
    /// By how much it is late; nothing while it is not.
    pub big: String,
    /// When it was due.
    pub small: String,
    /// What is wrong with the sound; nothing if it sounds.
    pub sound: String,
}

/// What it says all the while.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct AlarmWords {
    /// What is to be done.
    pub title: String,
    /// The large button: it has been done.
    pub done: String,
    /// The minutes by which it can be put off, and how the button says so.
    pub put_off: [(u8, String); 2],
    /// What to beware of first.
    pub cautions: Vec<String>,
}

/// The alarm. The focus goes to its large button, and returns to where it was.
#[component]
pub fn Alarm(
    /// What it says all the while.
    words: AlarmWords,
    /// What it says now; the last of it stays until the alarm is gone.
    shown: Memo<Option<AlarmView>>,
    /// It has been done.
    on_done: Callback<()>,
    /// It was put off by so many minutes.
    on_put_off: Callback<u8>,
) -> impl IntoView {
    let read = move |part: fn(&AlarmView) -> String| {
        move || shown.with(|shown| shown.as_ref().map(part).unwrap_or_default())
    };
    let late = move || shown.with(|shown| shown.as_ref().is_some_and(|it| it.late));
    let put_off = words.put_off.map(|(minutes, name)| {
        view! {
            <button type="button" class="big-action alarm-put-off" on:click=move |_| on_put_off.run(minutes)>
                {name}
            </button>
        }
    });
    view! {
        <section
            class="alarm"
            class:alarm-late=late
            role="alertdialog"
            aria-modal="true"
            aria-labelledby="alarm-title"
            aria-describedby="alarm-when"
        >
            <div class="alarm-head">
                <Icon shape=Shape::Drop/>
                <h2 id="alarm-title" class="alarm-title">{words.title}</h2>
            </div>
            <p id="alarm-when" class="alarm-when">
                <span class="alarm-word">{read(|it| it.word.clone())}</span>
                " "
                <span class="alarm-big">{read(|it| it.big.clone())}</span>
                " "
                <span class="alarm-small">{read(|it| it.small.clone())}</span>
            </p>
            <button type="button" class="main-action alarm-done" on:click=move |_| on_done.run(())>
                <Icon shape=Shape::Tick/>
                <span>{words.done}</span>
            </button>
            <div class="pair">{put_off}</div>
            <p class="alarm-sound">{read(|it| it.sound.clone())}</p>
            {words.cautions.into_iter().map(|text| view! { <p class="caution">{text}</p> }).collect_view()}
        </section>
    }
}
