//! What this phone prefers, where it last was, what it was found to do, and half-filled forms.
//!
//! <https://developer.mozilla.org/docs/Web/API/Window/localStorage>. Browsers write it late, so
//! nothing that counts lives here; records go to `store`.

use core::time::Duration;

use evenrow_journal::Id;
use evenrow_journal::calendar::{Armed, Reach, Ring};
use evenrow_rules::quantity::Instant;
use serde::{Deserialize, Serialize};

use super::local::LocalStorage;
use super::random;
use crate::phone_check::{Proof, Trial};

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
    LocalStorage::get("evenrow.units")
}

/// Chooses the units.
pub fn set_units(units: Units) {
    set("evenrow.units", &units);
}

/// Whether the left end of the moldboard leads in travel; none before anybody has said.
pub fn left_leads() -> Option<bool> {
    LocalStorage::get("evenrow.left-leads")
}

/// Remembers which end leads.
pub fn set_left_leads(left: bool) {
    set("evenrow.left-leads", &left);
}

/// In how many days ordered teeth come; none before anybody has said.
pub fn delivery_days() -> Option<u16> {
    LocalStorage::get("evenrow.delivery-days")
}

/// Remembers in how many days ordered teeth come.
pub fn set_delivery_days(days: u16) {
    set("evenrow.delivery-days", &days);
}

/// Where the app last was.
pub fn last_place() -> Option<String> {
    LocalStorage::get("evenrow.place")
}

/// Remembers where the app is.
pub fn set_last_place(place: &str) {
    set("evenrow.place", &place);
}

/// The name of this phone in its records; made on first use.
pub fn device() -> Id {
    let kept = LocalStorage::get::<String>("evenrow.device").and_then(|text| Id::new(&text));
    kept.unwrap_or_else(|| {
        let fresh = random::id();
        set("evenrow.device", &fresh.as_str());
        fresh
    })
}

/// When the app last ran, in any window of this phone, to the minute or so.
pub fn last_alive() -> Option<Instant> {
    let kept = LocalStorage::get::<i64>("evenrow.alive");
    kept.map(Instant::from_unix_ms)
}

/// Remembers that the app runs.
pub fn set_last_alive(now: Instant) {
    set("evenrow.alive", &now.unix_ms());
}

/// The check of this phone that runs, as due, hidden and rang.
pub fn trial() -> Option<Trial> {
    let kept = LocalStorage::get::<(i64, bool, Option<i64>)>("evenrow.trial");
    kept.map(|(due, hidden, rang)| Trial {
        due: Instant::from_unix_ms(due),
        hidden,
        rang: rang.map(Instant::from_unix_ms),
    })
}

/// Remembers the check that runs, or that none does.
pub fn set_trial(trial: Option<Trial>) {
    match trial {
        None => LocalStorage::delete("evenrow.trial"),
        Some(it) => {
            let rang = it.rang.map(Instant::unix_ms);
            set("evenrow.trial", &(it.due.unix_ms(), it.hidden, rang));
        }
    }
}

/// What the last check proved, and when: how late it rang in milliseconds, none for silent.
pub fn proof() -> Option<(Proof, Instant)> {
    let (late, at) = LocalStorage::get::<(Option<u64>, i64)>("evenrow.proof")?;
    let proof = late.map_or(Proof::Silent, |late| {
        Proof::Rang(Duration::from_millis(late))
    });
    Some((proof, Instant::from_unix_ms(at)))
}

/// Remembers what a check proved.
pub fn set_proof((proof, at): (Proof, Instant)) {
    let late = match proof {
        Proof::Rang(late) => Some(u64::try_from(late.as_millis()).unwrap_or(u64::MAX)),
        Proof::Silent => None,
    };
    set("evenrow.proof", &(late, at.unix_ms()));
}

/// What was handed to the phone's calendar.
#[derive(Serialize, Deserialize)]
struct ArmedKept {
    shift: String,
    whole: bool,
    rings: Vec<(usize, i64)>,
    sequence: u16,
}

/// What was handed to the phone's calendar last.
pub fn armed() -> Option<Armed> {
    let kept = LocalStorage::get::<ArmedKept>("evenrow.armed")?;
    Some(Armed {
        shift: Id::new(&kept.shift)?,
        reach: if kept.whole {
            Reach::WholeShift
        } else {
            Reach::Next
        },
        rings: kept
            .rings
            .into_iter()
            .map(|(place, at)| Ring {
                place,
                at: Instant::from_unix_ms(at),
            })
            .collect(),
        sequence: kept.sequence,
    })
}

/// Remembers what was handed to the phone's calendar.
pub fn set_armed(armed: &Armed) {
    let kept = ArmedKept {
        shift: armed.shift.as_str().to_owned(),
        whole: armed.reach == Reach::WholeShift,
        rings: armed
            .rings
            .iter()
            .map(|ring| (ring.place, ring.at.unix_ms()))
            .collect(),
        sequence: armed.sequence,
    };
    set("evenrow.armed", &kept);
}

/// When the last backup was handed over, and how many records it held.
pub fn backed_up() -> Option<(Instant, usize)> {
    let (at, records) = LocalStorage::get::<(i64, usize)>("evenrow.backed-up")?;
    Some((Instant::from_unix_ms(at), records))
}

/// Remembers when a backup was handed over, or that there is none of what is here.
pub fn set_backed_up(backed_up: Option<(Instant, usize)>) {
    match backed_up {
        None => LocalStorage::delete("evenrow.backed-up"),
        Some((at, records)) => set("evenrow.backed-up", &(at.unix_ms(), records)),
    }
}

/// A half-filled form, as it was left.
pub fn draft<T: for<'de> Deserialize<'de>>(form: &str) -> Option<T> {
    LocalStorage::get(format!("evenrow.draft.{form}"))
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
    LocalStorage::set(key, value);
}
