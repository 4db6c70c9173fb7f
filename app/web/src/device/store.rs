//! The records, kept durably: IndexedDB, one record an entry, each append confirmed only after its commit.
//!
//! <https://developer.mozilla.org/docs/Web/API/IndexedDB_API>. Where there is none, one localStorage key per entry, and
//! the app says so. There is no call to remove or replace a record.

use std::cell::Cell;

use gloo_storage::{LocalStorage, Storage};
use wasm_bindgen::prelude::*;

use super::platform;

/// Where the records go on this phone.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Keeping {
    /// Not asked yet.
    Unknown,
    /// In IndexedDB, and the browser promised not to throw them away.
    Promised,
    /// In IndexedDB; the browser promised nothing.
    BestEffort,
    /// In localStorage, which is written late: the last seconds can be lost.
    Weak,
}

/// A record that the browser did not keep, with what it said.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NotKept(pub String);

const PREFIX: &str = "evenrow.record.";

thread_local! {
    static WEAK: Cell<bool> = const { Cell::new(false) };
}

/// Opens the records.
pub async fn open() -> Keeping {
    if platform::open_records().await.is_err() {
        WEAK.set(true);
        return Keeping::Weak;
    }
    Keeping::BestEffort
}

/// Asks the browser not to throw the records away. Some browsers ask the operator, so the answer may take its time.
pub async fn ask_to_persist() -> Keeping {
    if WEAK.get() {
        return Keeping::Weak;
    }
    let promised = platform::ask_to_persist()
        .await
        .is_ok_and(|promise| promise.is_truthy());
    if promised {
        Keeping::Promised
    } else {
        Keeping::BestEffort
    }
}

/// Every record kept so far.
pub async fn read() -> Result<Vec<String>, NotKept> {
    if WEAK.get() {
        return Ok(read_weak());
    }
    let records = platform::read_records()
        .await
        .map_err(|error| not_kept(&error))?;
    // A value that is not text was not written by this app; there is nothing of ours in it to keep.
    Ok(js_sys::Array::from(&records)
        .iter()
        .filter_map(|record| record.as_string())
        .collect())
}

/// How many records are kept; none where that cannot be told without reading them.
pub async fn count() -> Option<usize> {
    if WEAK.get() {
        return None;
    }
    let count = platform::count_records().await.ok()?.as_f64()?;
    Some(count as usize)
}

/// Adds records, and returns only once they are kept.
pub async fn append(keys: Vec<String>, records: Vec<String>) -> Result<(), NotKept> {
    if WEAK.get() {
        return append_weak(&keys, &records);
    }
    platform::append_records(keys, records)
        .await
        .map_err(|error| not_kept(&error))?;
    platform::tell_other_windows();
    Ok(())
}

/// Calls back whenever another window has added records.
pub fn on_change_elsewhere(heard: impl Fn() + 'static) {
    let heard = Closure::<dyn Fn()>::new(heard);
    platform::hear_other_windows(&heard);
    heard.forget();
}

fn read_weak() -> Vec<String> {
    let storage = LocalStorage::raw();
    let length = storage.length().unwrap_or(0);
    (0..length)
        .filter_map(|at| storage.key(at).ok().flatten())
        .filter(|key| key.starts_with(PREFIX))
        .filter_map(|key| storage.get_item(&key).ok().flatten())
        .collect()
}

fn append_weak(keys: &[String], records: &[String]) -> Result<(), NotKept> {
    keys.iter().zip(records).try_for_each(|(key, record)| {
        LocalStorage::raw()
            .set_item(&format!("{PREFIX}{key}"), record)
            .map_err(|error| not_kept(&error))
    })
}

fn not_kept(error: &JsValue) -> NotKept {
    let said = js_sys::Reflect::get(error, &"message".into())
        .ok()
        .and_then(|said| said.as_string());
    NotKept(said.or_else(|| error.as_string()).unwrap_or_default())
}
