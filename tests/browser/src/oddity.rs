//! What sets one phone apart from the next: what it lacks, what it refuses, and what it lets a story look into.
//!
//! Never here: what is on a screen (`pages`).

use serde_json::{Value, json};

use crate::browser::Phone;
use crate::wait::{self, NotYet};

/// One thing in which a phone differs from most.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Oddity {
    /// Every beep is written down.
    Ears,
    /// It has no sound.
    NoSound,
    /// It gives no sound, whatever is tapped.
    LockedSound,
    /// It cannot keep the screen on.
    NoWakeLock,
    /// It will not keep the screen on.
    RefusedWakeLock,
    /// It can be told to let the screen go off.
    WakeLockInHand,
    /// It has no notifications.
    NoNotifications,
    /// Nobody has been asked yet whether notifications may be shown; the answer will be no.
    NotAskedYet,
    /// It asks before it lets an app feel how it lies, and the answer is yes.
    AsksForSensors,
    /// It asks, and the answer is no.
    RefusesSensors,
    /// It has a share sheet that takes files.
    ShareSheet,
    /// It has no share sheet; files are downloaded.
    Downloads,
    /// It has a share sheet that fails.
    ShareSheetThatFails,
    /// It only counts how often it is asked to print.
    PrintsAreCounted,
    /// It cannot print.
    NoPrinting,
    /// Its browser offers to put the app on the home screen.
    OffersTheHomeScreen,
    /// Its browser keeps no copy of the app.
    NoWorker,
    /// The number on the icon can be looked at.
    BadgeInSight,
    /// It opens no database, and says so.
    DatabaseRefused,
    /// Another window holds the database.
    DatabaseBlocked,
    /// Opening the database throws at once.
    DatabaseThrows,
    /// While [`Phone::writes_fail`] says so, what is written is taken back in the middle; while [`Phone::is_full`] says
    /// so, there is no space for it.
    WritesInHand,
    /// It counts the records that are read from its database.
    ReadsAreCounted,
    /// It has no localStorage.
    NoLocalStorage,
    /// Asking for localStorage throws.
    LocalStorageThrows,
    /// Keeping anything in localStorage throws.
    LocalStorageFull,
}

/// A file that the app has handed over.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct HandedOver {
    /// Its name.
    pub name: String,
    /// Its kind.
    pub kind: String,
    /// What stands in it.
    pub text: String,
}

impl Oddity {
    const fn name(self) -> &'static str {
        match self {
            Oddity::Ears => "ears",
            Oddity::NoSound => "noSound",
            Oddity::LockedSound => "lockedSound",
            Oddity::NoWakeLock => "noWakeLock",
            Oddity::RefusedWakeLock => "refusedWakeLock",
            Oddity::WakeLockInHand => "wakeLockInHand",
            Oddity::NoNotifications => "noNotifications",
            Oddity::NotAskedYet => "notAskedYet",
            Oddity::AsksForSensors => "asksForSensors",
            Oddity::RefusesSensors => "refusesSensors",
            Oddity::ShareSheet => "shareSheet",
            Oddity::Downloads => "downloads",
            Oddity::ShareSheetThatFails => "shareSheetThatFails",
            Oddity::PrintsAreCounted => "printsAreCounted",
            Oddity::NoPrinting => "noPrinting",
            Oddity::OffersTheHomeScreen => "offersTheHomeScreen",
            Oddity::NoWorker => "noWorker",
            Oddity::BadgeInSight => "badgeInSight",
            Oddity::DatabaseRefused => "databaseRefused",
            Oddity::DatabaseBlocked => "databaseBlocked",
            Oddity::DatabaseThrows => "databaseThrows",
            Oddity::WritesInHand => "writesInHand",
            Oddity::ReadsAreCounted => "readsAreCounted",
            Oddity::NoLocalStorage => "noLocalStorage",
            Oddity::LocalStorageThrows => "localStorageThrows",
            Oddity::LocalStorageFull => "localStorageFull",
        }
    }

    /// The script that makes a page so.
    pub(crate) fn script(self) -> String {
        let all = include_str!("oddities.js");
        format!("{{\n{all}\noddities.{}();\n}}", self.name())
    }
}

impl Phone {
    /// Every beep in this tab so far, by its wave: triangle for a gentle one, square for a strong one.
    pub async fn beeps(&self) -> Vec<String> {
        let beeps = self.look_into("return globalThis.storyBeeps;").await;
        let beeps = beeps.as_array().into_iter().flatten();
        beeps.map(text).collect()
    }

    /// How many records this page has read so far.
    pub async fn records_read(&self) -> u64 {
        let read = self.look_into("return globalThis.storyRead;").await;
        read.as_u64().unwrap_or_default()
    }

    /// How often this page has asked to print.
    pub async fn asked_to_print(&self) -> u64 {
        let asked = self.look_into("return globalThis.storyPrinted;").await;
        asked.as_u64().unwrap_or(0)
    }

    /// From now on what is written is taken back in the middle, or is kept again.
    pub async fn writes_fail(&self, fail: bool) {
        self.look_into(&format!("globalThis.storyWritesFail = {fail};"))
            .await;
    }

    /// From now on the database refuses whatever is written, as one whose space is used up; or takes it again.
    pub async fn is_full(&self, full: bool) {
        self.look_into(&format!("globalThis.storyIsFull = {full};"))
            .await;
    }

    /// How often the operator has been asked about notifications.
    pub async fn times_asked(&self) -> u64 {
        let asked = self.look_into("return globalThis.storyAsked;").await;
        asked.as_u64().unwrap_or_default()
    }

    /// How often the browser has asked whether the app is to go to the home screen.
    pub async fn times_offered(&self) -> u64 {
        let offered = self.look_into("return globalThis.storyOffered;").await;
        offered.as_u64().unwrap_or_default()
    }

    /// Waits until this is the number that this tab has put on the icon; 0 for none.
    pub async fn see_badge(&self, number: u64) {
        wait::until(&format!("the icon shows {number}"), async || {
            let shown = self.look_into("return globalThis.storyBadge;").await;
            if shown == json!(number) {
                Ok(())
            } else {
                Err(NotYet(shown.to_string()))
            }
        })
        .await;
    }

    /// The phone lets the screen go off.
    pub async fn wake_lock_is_lost(&self) {
        self.look_into("globalThis.storyTakeWakeLock();").await;
    }

    /// The files that the app has handed over, once there are so many.
    pub async fn handed_over(&self, many: usize) -> Vec<HandedOver> {
        wait::until(&format!("{many} files are handed over"), async || {
            let files = self.look_into("return globalThis.storyFiles;").await;
            let files = files.as_array().cloned().unwrap_or_default();
            if files.len() != many {
                return Err(NotYet(json!(files).to_string()));
            }
            let file = |it: &Value| HandedOver {
                name: text(&it["name"]),
                kind: text(&it["type"]),
                text: text(&it["text"]),
            };
            Ok(files.iter().map(file).collect())
        })
        .await
    }

    /// Waits until the notifications with these titles are shown, and no others.
    pub async fn see_notifications(&self, titles: &[&str]) {
        let script = "
            const [done] = arguments;
            navigator.serviceWorker.getRegistration()
                .then((it) => it.getNotifications())
                .then((all) => done(all.map(({ title }) => title)), (trouble) => done([`${trouble}`]));";
        wait::until(
            &format!("the notifications {titles:?} are shown"),
            async || {
                let shown = self.script_with_answer(script).await;
                if shown == json!(titles) {
                    Ok(())
                } else {
                    Err(NotYet(shown.to_string()))
                }
            },
        )
        .await;
    }
}

fn text(value: &Value) -> String {
    value.as_str().unwrap_or_default().to_owned()
}
