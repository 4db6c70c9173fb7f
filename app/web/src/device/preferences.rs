//! What this phone prefers, where it last was, and half-filled forms.
//!
//! <https://developer.mozilla.org/docs/Web/API/Window/localStorage>, through gloo-storage. Browsers write it late, so
//! nothing that counts lives here; records go to `store`.

use evenrow_journal::Id;
use gloo_storage::{LocalStorage, Storage};
use serde::{Deserialize, Serialize};

use super::random;

/// How the screen looks.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Theme {
    /// As the system asks.
    #[default]
    Auto,
    /// Black on white.
    Sun,
    /// Light on dark.
    Night,
}

/// In which units numbers are shown and typed.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Units {
    /// Metres, millimetres, degrees Celsius, kilometres per hour.
    #[default]
    Metric,
    /// Feet, inches, degrees Fahrenheit, miles per hour.
    Us,
}

/// The theme; Auto where none was chosen.
pub fn theme() -> Theme {
    LocalStorage::get("evenrow.theme").unwrap_or_default()
}

/// Chooses the theme. `boot.js` reads the same key before the first paint.
pub fn set_theme(theme: Theme) {
    set("evenrow.theme", &theme);
}

/// The units, once chosen.
pub fn units() -> Option<Units> {
    LocalStorage::get("evenrow.units").ok()
}

/// Chooses the units.
pub fn set_units(units: Units) {
    set("evenrow.units", &units);
}

/// Where the app last was.
pub fn last_place() -> Option<String> {
    LocalStorage::get("evenrow.place").ok()
}

/// Remembers where the app is.
pub fn set_last_place(place: &str) {
    set("evenrow.place", &place);
}

/// The name of this phone in its records; made on first use.
pub fn device() -> Id {
    let kept = LocalStorage::get::<String>("evenrow.device")
        .ok()
        .and_then(|text| Id::new(&text));
    kept.unwrap_or_else(|| {
        let fresh = random::id();
        set("evenrow.device", &fresh.as_str());
        fresh
    })
}

/// A half-filled form, as it was left.
pub fn draft<T: for<'de> Deserialize<'de>>(form: &str) -> Option<T> {
    LocalStorage::get(format!("evenrow.draft.{form}")).ok()
}

/// Keeps a half-filled form.
pub fn set_draft<T: Serialize>(form: &str, draft: &T) {
    set(&format!("evenrow.draft.{form}"), draft);
}

/// Forgets a form that has been sent.
pub fn drop_draft(form: &str) {
    LocalStorage::delete(format!("evenrow.draft.{form}"));
}

fn set<T: Serialize + ?Sized>(key: &str, value: &T) {
    // Storage may be full or forbidden. A preference is then lost, which the operator sees at once; no record is.
    drop(LocalStorage::set(key, value));
}
