//! Whether this browser offers to put the app on the home screen, and its question.
//!
//! <https://developer.mozilla.org/docs/Web/API/BeforeInstallPromptEvent>. Browsers without it have a menu for that, and an
//! app that is there already is not offered again. Never here: how a browser's own menu does it.

use wasm_bindgen::prelude::*;

use super::platform;

/// Whether it does now.
pub fn is_offered() -> bool {
    platform::can_install()
}

/// Calls back when that has changed. To be called once.
pub fn on_change(changed: impl Fn() + 'static) {
    let changed = Closure::<dyn Fn()>::new(changed);
    platform::hear_install_offer(&changed);
    changed.forget();
}

/// Asks the operator. To be called straight from a tap.
pub async fn ask() {
    // A no is an answer, and the browser may offer it again.
    drop(platform::install().await);
}
