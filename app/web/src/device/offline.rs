//! The service worker: it keeps the app on the phone, and lets a newer one in only when the operator says so.
//!
//! <https://developer.mozilla.org/docs/Web/API/Service_Worker_API>.

use wasm_bindgen::prelude::*;

use super::platform;

/// Registers the worker; calls back when another version waits.
pub async fn register(waits: impl Fn() + 'static) {
    let waits = Closure::<dyn Fn()>::new(waits);
    // Without a worker the app still runs while there is a network; there is nothing better to do.
    drop(platform::register_worker("sw.js", &waits).await);
    waits.forget();
}

/// Lets the waiting version take over; the page reloads.
pub async fn take_over() {
    drop(platform::take_over().await);
}
