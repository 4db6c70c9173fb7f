//! Whether this window shows the invented district in place of this phone's records. It is a mark of the window: a reload
//! keeps it, and with the window it is gone.
//!
//! <https://developer.mozilla.org/docs/Web/API/Window/sessionStorage>. Going in and out loads the page anew, so that one
//! page never knows both: while the district is shown, nothing here opens the records, rings, notifies, or changes what
//! this phone prefers. Never here: what the district holds.

use super::address;
use super::local::Small;
use super::page::window;

/// Everything of ours in the storage of the window begins with this.
const PREFIX: &str = "evenrow.";

const MARK: &str = "evenrow.invented";

thread_local! {
    /// As it was when the page was loaded; going in and out changes the next page, not this one.
    static SHOWN: bool = is_marked();
}

/// Whether this page shows the invented district.
pub fn is_shown() -> bool {
    SHOWN.with(|shown| *shown)
}

/// Whether the window is marked; what the district has left in one that is not, is forgotten.
fn is_marked() -> bool {
    let Some(storage) = Small::Window.raw() else {
        return false;
    };
    let marked = storage.get_item(MARK).is_ok_and(|mark| mark.is_some());
    if !marked {
        let keys = 0..storage.length().unwrap_or(0);
        let keys = keys.filter_map(|at| storage.key(at).ok().flatten());
        let ours: Vec<String> = keys.filter(|key| key.starts_with(PREFIX)).collect();
        for key in ours {
            Small::Window.delete(key);
        }
    }
    marked
}

/// Loads the page anew with the invented district.
pub fn enter() {
    // A browser that keeps no mark shows the phone's own records again; nothing is lost.
    Small::Window.set(MARK, "yes");
    reload();
}

/// Loads the page anew with this phone's records, where it last was with them; what was done in the district is gone.
pub fn leave() {
    Small::Window.delete(MARK);
    address::replace("");
    reload();
}

fn reload() {
    // Refused by no browser.
    drop(window().location().reload());
}
