//! Where in the app we are: the hash of the location, so that Back works and a reload returns to the same place.
//!
//! <https://developer.mozilla.org/docs/Web/API/Location/hash>.

use wasm_bindgen::prelude::*;

use super::page::window;

/// The hash without its `#`.
pub fn hash() -> String {
    window()
        .location()
        .hash()
        .unwrap_or_default()
        .trim_start_matches('#')
        .to_owned()
}

/// Goes to a place; Back returns from it.
pub fn go(hash: &str) {
    // Refused only for an address that is none.
    drop(window().location().set_hash(hash));
}

/// Goes to a place in exchange for this one; Back does not return here.
pub fn replace(hash: &str) {
    drop(window().location().replace(&format!("#{hash}")));
}

/// Calls back whenever the place changes.
pub fn on_change(changed: impl Fn() + 'static) {
    let changed = Closure::<dyn Fn()>::new(changed);
    window().set_onhashchange(Some(changed.as_ref().unchecked_ref()));
    changed.forget();
}
