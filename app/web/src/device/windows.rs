//! Other windows of the app on this phone: work that only one does at a time, and which of them rings.
//!
//! <https://developer.mozilla.org/docs/Web/API/Web_Locks_API>. Without it every window is on its own. Never here: what is
//! done, and when to ring.

use wasm_bindgen::prelude::*;

use super::{invented, platform};

/// How long another window may keep us waiting. It may be asleep, and what the operator taps must not wait for that.
const PATIENCE_MS: u32 = 5000;

/// Does something while no other window does anything under the same name.
pub async fn alone<T>(name: &str, work: impl Future<Output = T>) -> T {
    if invented::is_shown() {
        return work.await;
    }
    let lock = platform::lock(&format!("evenrow {name}"), PATIENCE_MS).await;
    // Refused where the browser has no locks, or when another window sleeps on it.
    let lock = lock.ok().and_then(|lock| lock.dyn_into().ok()).map(Held);
    let done = work.await;
    drop(lock);
    done
}

/// Lets go of a lock at its end, however that comes.
struct Held(js_sys::Function);

impl Drop for Held {
    fn drop(&mut self) {
        // It only resolves a promise.
        drop(self.0.call0(&JsValue::UNDEFINED));
    }
}

/// From now on this window may be the one that rings; never one that shows the invented district, which would take that
/// from a window where a shift runs. To be called once.
pub fn want_to_ring() {
    if !invented::is_shown() {
        platform::want_to_ring();
    }
}

/// Whether this window is the one that rings: of all that are open, the one that came into sight last.
pub fn rings() -> bool {
    !invented::is_shown() && platform::is_ringer()
}
