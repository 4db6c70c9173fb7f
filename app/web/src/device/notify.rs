//! Notifications, and the number on the app's icon.
//!
//! <https://developer.mozilla.org/docs/Web/API/ServiceWorkerRegistration/showNotification>,
//! <https://developer.mozilla.org/docs/Web/API/Badging_API>. There is one notification at a time. A browser shows it only
//! while the page lives; it wakes no phone. Never here: what it says and when.

use super::{invented, platform};

/// Whether this phone shows our notifications.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Permission {
    /// This browser has none, or only once the app is on the home screen; and the invented district has none.
    Missing,
    /// The operator has not been asked.
    NotAsked,
    /// It does.
    Granted,
    /// The operator or the phone does not want them. Only the phone's settings change that.
    Denied,
}

/// Whether this phone shows our notifications, as far as is known.
pub fn permission() -> Permission {
    if invented::is_shown() {
        return Permission::Missing;
    }
    match platform::may_notify().as_deref() {
        Some("granted") => Permission::Granted,
        Some("denied") => Permission::Denied,
        Some(_) => Permission::NotAsked,
        None => Permission::Missing,
    }
}

/// Asks the operator. To be called straight from a tap.
pub async fn ask() -> Permission {
    if permission() == Permission::NotAsked {
        // Whatever comes of it is asked below.
        drop(platform::ask_to_notify().await);
    }
    permission()
}

/// Shows the notification in place of the one before it. With `again` it makes itself heard, else it changes silently.
pub async fn show(title: &str, body: &str, again: bool) {
    if permission() == Permission::Granted {
        // A notification comes on top of what the screen shows; without it nothing is lost that was promised.
        drop(platform::notify(title, body, again).await);
    }
}

/// Takes the notification away.
pub async fn clear() {
    if invented::is_shown() {
        return;
    }
    // What cannot be taken away, the operator swipes away.
    drop(platform::clear_notifications().await);
}

/// Puts a number on the app's icon where the phone has such a thing; 0 takes it away.
pub fn badge(count: u32) {
    if invented::is_shown() {
        return;
    }
    super::page::run(async move { drop(platform::badge(count).await) });
}
