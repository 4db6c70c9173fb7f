//! Text files that come with the app: the words of each language.
//!
//! <https://developer.mozilla.org/docs/Web/API/Window/fetch>. They are precached, so this works offline.

use wasm_bindgen::prelude::*;
use wasm_bindgen_futures::JsFuture;

/// The text of a file of the app, or nothing where it cannot be had.
pub async fn file(path: &str) -> Option<String> {
    let response = JsFuture::from(super::page::window().fetch_with_str(path))
        .await
        .ok()?;
    let response: web_sys::Response = response.dyn_into().ok()?;
    if !response.ok() {
        return None;
    }
    JsFuture::from(response.text().ok()?)
        .await
        .ok()?
        .as_string()
}
