//! The records, kept durably: IndexedDB, one record an entry, each append confirmed only after its commit.
//!
//! <https://developer.mozilla.org/docs/Web/API/IndexedDB_API>. Where there is none, one localStorage key per entry, and
//! the app says so. There is no call to replace a record, and one to remove all of them: [`erase`], which the desk calls
//! when the operator asks for just that, and can take back.

use std::cell::Cell;

use wasm_bindgen::prelude::*;

use super::local::Small;
use super::{invented, platform};

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
    /// Nowhere: they belong to the invented district and live as long as its page.
    Nowhere,
}

/// A record that the browser did not keep, with what it said.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NotKept(pub String);

const PREFIX: &str = "evenrow.record.";

/// What [`open`] has found.
#[derive(Clone, Copy)]
enum Place {
    Database,
    Keys,
    Nowhere,
}

thread_local! {
    static PLACE: Cell<Place> = const { Cell::new(Place::Database) };
}

/// Opens the records; those of this phone stay shut while the invented district is shown.
pub async fn open() -> Keeping {
    if invented::is_shown() {
        PLACE.set(Place::Nowhere);
        return Keeping::Nowhere;
    }
    if platform::open_records().await.is_err() {
        PLACE.set(Place::Keys);
        return Keeping::Weak;
    }
    Keeping::BestEffort
}

/// Asks the browser not to throw the records away. Some browsers ask the operator, so the answer may take its time.
pub async fn ask_to_persist() -> Keeping {
    match PLACE.get() {
        Place::Database => {}
        Place::Keys => return Keeping::Weak,
        Place::Nowhere => return Keeping::Nowhere,
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
    match PLACE.get() {
        Place::Database => {}
        Place::Keys => return Ok(read_weak()),
        Place::Nowhere => return Ok(Vec::new()),
    }
    let records = platform::read_records()
        .await
        .map_err(|error| not_kept(&error))?;
    Ok(texts(&records))
}

/// Every record whose key does not sort before this; none where that cannot be told without reading all.
pub async fn read_from(key: &str) -> Option<Vec<String>> {
    match PLACE.get() {
        Place::Database => {}
        Place::Keys | Place::Nowhere => return None,
    }
    let records = platform::read_records_from(key).await.ok()?;
    Some(texts(&records))
}

/// A value that is not text was not written by this app; there is nothing of ours in it to keep.
fn texts(records: &JsValue) -> Vec<String> {
    js_sys::Array::from(records)
        .iter()
        .filter_map(|record| record.as_string())
        .collect()
}

/// How many records are kept; none where that cannot be told without reading them.
pub async fn count() -> Option<usize> {
    match PLACE.get() {
        Place::Database => {}
        Place::Keys | Place::Nowhere => return None,
    }
    let count = platform::count_records().await.ok()?.as_f64()?;
    Some(count as usize)
}

/// Adds records, and returns only once they are kept.
pub async fn append(keys: Vec<String>, records: Vec<String>) -> Result<(), NotKept> {
    match PLACE.get() {
        Place::Database => {}
        Place::Keys => return append_weak(&keys, &records),
        Place::Nowhere => return Ok(()),
    }
    platform::append_records(keys, records)
        .await
        .map_err(|error| not_kept(&error))?;
    platform::tell_other_windows(false);
    Ok(())
}

/// Adds many records, all of them or none, and returns only once they are kept; says how many are there by now. Until
/// then it can be stopped.
pub async fn take_in(
    keys: Vec<String>,
    records: Vec<String>,
    there: impl Fn(u32) + 'static,
) -> Result<(), NotKept> {
    match PLACE.get() {
        Place::Database => {}
        Place::Keys => return take_in_weak(&keys, &records),
        Place::Nowhere => return Ok(()),
    }
    let there = Closure::new(there);
    platform::take_in_records(keys, records, &there)
        .await
        .map_err(|error| not_kept(&error))?;
    platform::tell_other_windows(false);
    Ok(())
}

/// Stops taking in; nothing of it is kept.
pub fn stop_taking_in() {
    platform::stop_taking_in();
}

/// Removes every record from this phone, and returns only once that is done.
pub async fn erase() -> Result<(), NotKept> {
    match PLACE.get() {
        Place::Database => {
            let erased = platform::erase_records().await;
            erased.map_err(|error| not_kept(&error))?;
        }
        Place::Keys => keys_weak()
            .into_iter()
            .for_each(|key| Small::Phone.delete(key)),
        Place::Nowhere => return Ok(()),
    }
    platform::tell_other_windows(true);
    Ok(())
}

/// How many bytes the app takes on this phone with its records; none where the browser does not say.
pub async fn used() -> Option<f64> {
    platform::storage_used().await.ok()?.as_f64()
}

/// Calls back whenever another window has added records, or, with `true`, erased all.
pub fn on_change_elsewhere(heard: impl Fn(bool) + 'static) {
    if matches!(PLACE.get(), Place::Nowhere) {
        return;
    }
    let heard = Closure::<dyn Fn(bool)>::new(heard);
    platform::hear_other_windows(&heard);
    heard.forget();
}

/// Where there is neither a database nor this, nothing can be kept, and the operator is told so at the first tap.
fn weak() -> Result<web_sys::Storage, NotKept> {
    Small::Phone
        .raw()
        .ok_or_else(|| NotKept("no storage".to_owned()))
}

fn keys_weak() -> Vec<String> {
    let Some(storage) = Small::Phone.raw() else {
        return Vec::new();
    };
    let length = storage.length().unwrap_or(0);
    (0..length)
        .filter_map(|at| storage.key(at).ok().flatten())
        .filter(|key| key.starts_with(PREFIX))
        .collect()
}

fn read_weak() -> Vec<String> {
    let kept = |key: String| Small::Phone.raw()?.get_item(&key).ok().flatten();
    keys_weak().into_iter().filter_map(kept).collect()
}

/// Where the space runs out half way, what was added by then is taken back.
fn take_in_weak(keys: &[String], records: &[String]) -> Result<(), NotKept> {
    let storage = weak()?;
    let mut added = Vec::new();
    for (key, record) in keys.iter().zip(records) {
        let mut key = format!("{PREFIX}{key}");
        let mut kept = storage.get_item(&key).ok().flatten();
        while kept.as_ref().is_some_and(|it| it != record) {
            key.push('~');
            kept = storage.get_item(&key).ok().flatten();
        }
        if kept.is_some() {
            continue;
        }
        if let Err(error) = storage.set_item(&key, record) {
            for key in added {
                Small::Phone.delete(key);
            }
            return Err(not_kept(&error));
        }
        added.push(key);
    }
    Ok(())
}

fn append_weak(keys: &[String], records: &[String]) -> Result<(), NotKept> {
    keys.iter().zip(records).try_for_each(|(key, record)| {
        weak()?
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
