//! The browser's small store of texts by key, where there is one: some windows have none, or refuse it by throwing.
//!
//! <https://developer.mozilla.org/docs/Web/API/Window/localStorage>. Never here: what is kept (`preferences`, `store`).

use serde::Serialize;
use serde::de::DeserializeOwned;

/// The store, whether or not there is one.
pub struct LocalStorage;

impl LocalStorage {
    /// The store itself.
    pub fn raw() -> Option<web_sys::Storage> {
        web_sys::window()?.local_storage().ok().flatten()
    }

    /// What is kept under a key, if it is there and can be read.
    pub fn get<T: DeserializeOwned>(key: impl AsRef<str>) -> Option<T> {
        let text = LocalStorage::raw()?.get_item(key.as_ref()).ok().flatten()?;
        serde_json::from_str(&text).ok()
    }

    /// Keeps something, unless the store is full or not there.
    pub fn set(key: &str, value: &(impl Serialize + ?Sized)) {
        if let (Some(storage), Ok(text)) = (LocalStorage::raw(), serde_json::to_string(value)) {
            drop(storage.set_item(key, &text));
        }
    }

    /// Forgets what is kept under a key.
    pub fn delete(key: impl AsRef<str>) {
        if let Some(storage) = LocalStorage::raw() {
            drop(storage.remove_item(key.as_ref()));
        }
    }
}
