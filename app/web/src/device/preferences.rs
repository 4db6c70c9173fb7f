//! What this phone prefers, where it last was, what it was found to do, and half-filled forms.
//!
//! <https://developer.mozilla.org/docs/Web/API/Window/localStorage>, through `local`. Browsers write it late, so
//! nothing that counts lives here; records go to `store`. A window that shows the invented district has preferences of its
//! own, which go with it; it shares the look alone.

use core::time::Duration;

use evenrow_journal::Id;
use evenrow_journal::calendar::{Armed, Reach, Ring};
use evenrow_rules::quantity::Instant;
use serde::{Deserialize, Serialize};

use super::local::Small;
use super::{invented, random};
use crate::phone_check::{Proof, Trial};
use crate::units::{System, Units};

/// How the screen looks.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Theme {
    /// As the system asks.
    #[default]
    Auto,
    /// Black on white.
    Sun,
    /// Light on dark.
    Night,
}

/// The thumb that taps. What is tapped most stands on its side.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Hand {
    /// The right one.
    #[default]
    Right,
    /// The left one.
    Left,
}

/// What is the same in every window: the look, the language, the hand.
const PHONE: Small = Small::Phone;

/// Where the other preferences are kept: on this phone, or for the invented district in its window.
fn kept() -> Small {
    if invented::is_shown() {
        Small::Window
    } else {
        PHONE
    }
}

/// The theme; Auto where none was chosen.
pub fn theme() -> Theme {
    match PHONE.get::<String>("evenrow.theme").as_deref() {
        Some("sun") => Theme::Sun,
        Some("night") => Theme::Night,
        Some(_) | None => Theme::Auto,
    }
}

/// Chooses the theme. `boot.js` reads the same key before the first paint.
pub fn set_theme(theme: Theme) {
    let theme = match theme {
        Theme::Auto => "auto",
        Theme::Sun => "sun",
        Theme::Night => "night",
    };
    PHONE.set("evenrow.theme", theme);
}

/// The thumb that taps; the right one where none was chosen.
pub fn hand() -> Hand {
    match PHONE.get::<String>("evenrow.hand").as_deref() {
        Some("left") => Hand::Left,
        Some(_) | None => Hand::Right,
    }
}

/// Chooses the thumb. `boot.js` reads the same key before the first paint.
pub fn set_hand(hand: Hand) {
    let hand = match hand {
        Hand::Right => "right",
        Hand::Left => "left",
    };
    PHONE.set("evenrow.hand", hand);
}

/// Chooses the language. `boot.js` reads the same key before the first paint.
pub fn set_language(language: &str) {
    PHONE.set("evenrow.language", language);
}

/// The units, metric before anybody has chosen.
pub fn units() -> Units {
    units_in(kept())
        .or_else(|| units_in(PHONE))
        .unwrap_or_else(|| Units::all(System::default()))
}

fn units_in(place: Small) -> Option<Units> {
    let one = || match place.get::<String>("evenrow.units")?.as_str() {
        "metric" => Some(Units::METRIC),
        "us" => Some(Units::US),
        _ => None,
    };
    place.get("evenrow.units-mixed").or_else(one)
}

/// Chooses the units: one system for everything under the key that there was first, a mixture beside it.
pub fn set_units(units: Units) {
    match units.system() {
        Some(system) => {
            let system = match system {
                System::Metric => "metric",
                System::Us => "us",
            };
            set("evenrow.units", system);
            kept().delete("evenrow.units-mixed");
        }
        None => set("evenrow.units-mixed", &units),
    }
}

/// Whether the left end of the moldboard leads in travel; none before anybody has said.
pub fn left_leads() -> Option<bool> {
    kept().get("evenrow.left-leads")
}

/// Remembers which end leads.
pub fn set_left_leads(left: bool) {
    set("evenrow.left-leads", &left);
}

/// In how many days ordered teeth come; none before anybody has said.
pub fn delivery_days() -> Option<u16> {
    kept().get("evenrow.delivery-days")
}

/// Remembers in how many days ordered teeth come.
pub fn set_delivery_days(days: u16) {
    set("evenrow.delivery-days", &days);
}

/// Where the app last was.
pub fn last_place() -> Option<String> {
    kept().get("evenrow.place")
}

/// Remembers where the app is.
pub fn set_last_place(place: &str) {
    set("evenrow.place", &place);
}

/// Writes down what `boot.js` shows at the next start until the app is there: the machine, the next job, its time, and
/// more of it; or nothing.
pub fn set_glance(glance: Option<[String; 4]>) {
    match glance {
        None => kept().delete("evenrow.glance"),
        Some(glance) => set("evenrow.glance", &glance),
    }
}

/// The name of this phone in its records; made on first use.
pub fn device() -> Id {
    let kept = kept()
        .get::<String>("evenrow.device")
        .and_then(|text| Id::new(&text));
    kept.unwrap_or_else(|| {
        let fresh = Id::counted(0, random::bits());
        set("evenrow.device", &fresh.as_str());
        fresh
    })
}

/// When the app last ran, in any window of this phone, to the minute or so.
pub fn last_alive() -> Option<Instant> {
    let kept = kept().get::<i64>("evenrow.alive");
    kept.map(Instant::from_unix_ms)
}

/// Remembers that the app runs.
pub fn set_last_alive(now: Instant) {
    set("evenrow.alive", &now.unix_ms());
}

/// The check of this phone that runs, as due, hidden and rang.
pub fn trial() -> Option<Trial> {
    let kept = kept().get::<(i64, bool, Option<i64>)>("evenrow.trial");
    kept.map(|(due, hidden, rang)| Trial {
        due: Instant::from_unix_ms(due),
        hidden,
        rang: rang.map(Instant::from_unix_ms),
    })
}

/// Remembers the check that runs, or that none does.
pub fn set_trial(trial: Option<Trial>) {
    match trial {
        None => kept().delete("evenrow.trial"),
        Some(it) => {
            let rang = it.rang.map(Instant::unix_ms);
            set("evenrow.trial", &(it.due.unix_ms(), it.hidden, rang));
        }
    }
}

/// What the last check proved, and when: how late it rang in milliseconds, none for silent.
pub fn proof() -> Option<(Proof, Instant)> {
    let (late, at) = kept().get::<(Option<u64>, i64)>("evenrow.proof")?;
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
    let kept = kept().get::<ArmedKept>("evenrow.armed")?;
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
    let (at, records) = kept().get::<(i64, usize)>("evenrow.backed-up")?;
    Some((Instant::from_unix_ms(at), records))
}

/// Remembers when a backup was handed over, or that there is none of what is here.
pub fn set_backed_up(backed_up: Option<(Instant, usize)>) {
    match backed_up {
        None => kept().delete("evenrow.backed-up"),
        Some((at, records)) => set("evenrow.backed-up", &(at.unix_ms(), records)),
    }
}

/// The checkpoint of the records, as it was kept last.
pub fn checkpoint() -> Option<String> {
    PHONE.raw()?.get_item(CHECKPOINT).ok().flatten()
}

/// Keeps a checkpoint in place of the one before; none where there is none to be had. Where there is no room for it, all
/// records are read at the next start.
pub fn set_checkpoint(checkpoint: Option<&str>) {
    PHONE.delete(CHECKPOINT);
    if let (Some(storage), Some(checkpoint)) = (PHONE.raw(), checkpoint) {
        drop(storage.set_item(CHECKPOINT, checkpoint));
    }
}

const CHECKPOINT: &str = "evenrow.checkpoint";

/// The day of the newest news that were read.
pub fn news_read() -> Option<String> {
    PHONE.get("evenrow.news")
}

/// Remembers up to which day the news were read.
pub fn set_news_read(day: &str) {
    set("evenrow.news", &day);
}

/// Whether a form has been begun.
pub fn has_draft(form: &str) -> bool {
    let key = format!("evenrow.draft.{form}");
    kept()
        .raw()
        .is_some_and(|storage| matches!(storage.get_item(&key), Ok(Some(_))))
}

/// A half-filled form, as it was left.
pub fn draft<T: for<'de> Deserialize<'de>>(form: &str) -> Option<T> {
    kept().get(format!("evenrow.draft.{form}"))
}

/// Keeps a half-filled form.
pub fn set_draft<T: Serialize>(form: &str, draft: &T) {
    set(&format!("evenrow.draft.{form}"), draft);
}

/// Forgets a form that has been sent.
pub fn drop_draft(form: &str) {
    kept().delete(format!("evenrow.draft.{form}"));
}

fn set<T: Serialize + ?Sized>(key: &str, value: &T) {
    kept().set(key, value);
}
