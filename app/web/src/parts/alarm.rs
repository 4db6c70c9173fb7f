//! What rings, over the whole screen: what is due, whether it is late, and one button as large as a glove.
//!
//! It pulses once a second at most, and not at all for those who want no motion. Never here: when it rings, and how it
//! sounds.

use leptos::prelude::*;

use super::icon::{Shape, icon};
use super::live::{drawn, each};
use super::plain::{button, sentence, within};

/// What it says, second by second.
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
pub struct AlarmWords {
    /// What is to be done.
    pub title: String,
    /// The large button: it has been done.
    pub done: String,
    /// The minutes by which it can be put off, and how the button says so.
    pub put_off: [(u8, String); 2],
    /// What to beware of first.
    pub cautions: [String; 2],
}

/// The alarm, drawn again with what it says. The focus goes to its large button, and returns to where it was.
pub fn alarm(
    words: AlarmWords,
    shown: AlarmView,
    on_done: impl Fn() + 'static,
    on_put_off: Callback<u8>,
) -> AnyView {
    let put_off = |(minutes, name): (u8, String)| {
        button("big-action alarm-put-off", name, move || {
            on_put_off.run(minutes);
        })
    };
    let caution = |text: String| sentence("caution", text);
    drawn(view! {
        <section
            class="alarm"
            class:alarm-late=shown.late
            role="alertdialog"
            aria-modal="true"
            aria-labelledby="alarm-title"
            aria-describedby="alarm-when"
        >
            <div class="alarm-head">
                {icon(Shape::Drop)}
                <h2 id="alarm-title" class="alarm-title">{words.title}</h2>
            </div>
            <p id="alarm-when" class="alarm-when">
                {within("alarm-word", shown.word)}
                " "
                {within("alarm-big", shown.big)}
                " "
                {within("alarm-small", shown.small)}
            </p>
            <button type="button" class="main-action alarm-done" on:click=move |_| on_done()>
                {icon(Shape::Tick)}
                <span>{words.done}</span>
            </button>
            <div class="pair">{each(words.put_off, put_off)}</div>
            {sentence("alarm-sound", shown.sound)}
            {each(words.cautions, caution)}
        </section>
    })
}
