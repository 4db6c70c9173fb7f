//! The screen that stays on.
//!
//! <https://developer.mozilla.org/docs/Web/API/Screen_Wake_Lock_API>. Browsers let go of the lock when the page goes out
//! of sight or the battery runs low; it is taken again when the page comes back, and at the next tap. Never here: when the
//! screen has to stay on.

use std::cell::Cell;

use wasm_bindgen::prelude::*;

use super::listeners::Listeners;
use super::{page, platform};

/// Whether the screen stays on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Awake {
    /// This browser cannot keep it on.
    Missing,
    /// It stays on.
    Held,
    /// It goes off as the phone's settings say.
    NotHeld,
}

thread_local! {
    static WANTED: Cell<bool> = const { Cell::new(false) };
    static LISTENS: Cell<bool> = const { Cell::new(false) };
    static IS_ASKING: Cell<bool> = const { Cell::new(false) };
    static CHANGED: Listeners = const { Listeners::none() };
    static LOST: Closure<dyn Fn()> = Closure::new(tell);
}

/// Keeps the screen on from now on, or lets it go off again. Some browsers want to hear it from a tap.
pub fn keep(on: bool) {
    WANTED.set(on);
    if !LISTENS.replace(true) {
        // A finger's tap counts from its end.
        page::listen(&["visibilitychange", "pointerup"], take);
    }
    if on {
        take();
    } else {
        page::run(let_go());
    }
}

/// Whether the screen stays on now.
pub fn state() -> Awake {
    if !platform::can_stay_awake() {
        Awake::Missing
    } else if platform::is_awake() {
        Awake::Held
    } else {
        Awake::NotHeld
    }
}

/// Calls back whenever that may have changed.
pub fn on_change(changed: impl Fn() + 'static) {
    CHANGED.with(|listeners| listeners.add(changed));
}

/// Takes the lock where it is wanted and not held. A page out of sight would be refused.
fn take() {
    if !WANTED.get() || state() != Awake::NotHeld || page::is_hidden() || IS_ASKING.replace(true) {
        return;
    }
    page::run(async {
        let lost = LOST.with(|lost| lost.as_ref().clone());
        // Refused when the battery is low, or without a tap; the next one asks again.
        drop(platform::stay_awake(&lost).await);
        IS_ASKING.set(false);
        if WANTED.get() {
            tell();
        } else {
            let_go().await;
        }
    });
}

async fn let_go() {
    // A lock that is gone already is as good.
    drop(platform::let_sleep().await);
    tell();
}

fn tell() {
    CHANGED.with(Listeners::tell);
}
