//! The browser's small stores of texts by key, where there are any: some windows have none, or refuse them by throwing.
//!
//! <https://developer.mozilla.org/docs/Web/API/Window/localStorage>, through gloo-storage, which takes for granted that
//! they are there. Never here: what is kept (`preferences`, `store`, `invented`).

use gloo_storage::{LocalStorage, SessionStorage, Storage};
use serde::Serialize;
use serde::de::DeserializeOwned;

/// One of the two, whether or not it is there.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Small {
    /// That of this phone.
    Phone,
    /// That of this window, which goes with it.
    Window,
}

impl Small {
    /// The store itself.
    pub fn raw(self) -> Option<web_sys::Storage> {
        let window = super::page::window();
        let found = match self {
            Small::Phone => window.local_storage(),
            Small::Window => window.session_storage(),
        };
        found.ok().flatten()
    }

    /// What is kept under a key, if it is there and can be read.
    pub fn get<T: DeserializeOwned>(self, key: impl AsRef<str>) -> Option<T> {
        self.raw()?;
        match self {
            Small::Phone => LocalStorage::get(key).ok(),
            Small::Window => SessionStorage::get(key).ok(),
        }
    }

    /// Keeps something, unless the store is full or not there. A preference is then lost, which the operator sees at once.
    pub fn set<T: Serialize + ?Sized>(self, key: &str, value: &T) {
        if self.raw().is_some() {
            drop(match self {
                Small::Phone => LocalStorage::set(key, value),
                Small::Window => SessionStorage::set(key, value),
            });
        }
    }

    /// Forgets what is kept under a key.
    pub fn delete(self, key: impl AsRef<str>) {
        if let Some(storage) = self.raw() {
            drop(storage.remove_item(key.as_ref()));
        }
    }
}
