//! What another app has shared with this one. The worker holds it until it is asked, once, and keeps it nowhere.
//!
//! <https://developer.mozilla.org/docs/Web/Progressive_web_apps/Manifest/Reference/share_target>. Never here: what stands
//! in it.

use evenrow_journal::backup;
use wasm_bindgen::prelude::*;

use super::platform;

/// What was shared.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Shared {
    /// A file with its bytes, or the text of one.
    File(Vec<u8>),
    /// A text that a person wrote.
    Text(String),
    /// Nothing, or it did not arrive.
    Nothing,
}

/// Takes it from the worker, which forgets it.
pub async fn take() -> Shared {
    let Ok(found) = platform::take_shared().await else {
        return Shared::Nothing;
    };
    let parts = js_sys::Array::from(&found);
    if let Ok(bytes) = parts.get(0).dyn_into::<js_sys::ArrayBuffer>() {
        return Shared::File(js_sys::Uint8Array::new(&bytes).to_vec());
    }
    let text = parts.get(1).as_string().unwrap_or_default();
    let text = text.trim();
    if text.is_empty() {
        Shared::Nothing
    } else if backup::begins_as_one(text) {
        // Records go by messages as well as by files.
        Shared::File(text.as_bytes().to_vec())
    } else {
        Shared::Text(text.to_owned())
    }
}
