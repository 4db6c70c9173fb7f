//! The language: which there are, which is chosen, and what the browser knows of its plurals, numbers and days.
//!
//! <https://developer.mozilla.org/docs/Web/JavaScript/Reference/Global_Objects/Intl>, through `platform`. `boot.js` has
//! chosen one before the first paint, and the build has written down which there are, both on the root element. Away from
//! a browser English stands in. Never here: words.

use super::{page, platform};

/// The language of the page.
pub fn chosen() -> String {
    page::root("lang")
}

/// Every language that there are words for, by its code.
pub fn all() -> Vec<String> {
    let all = page::root("data-languages");
    all.split_whitespace().map(str::to_owned).collect()
}

/// What a language calls itself.
pub fn own_name(language: &str) -> String {
    platform::own_name(language)
}

/// From now on the page is in this language. What stands between a whole number and its parts in it.
pub fn speak(language: &str) -> char {
    page::set_root("lang", language);
    platform::speak(language)
}

/// The kind of plural of a number of thousandths, as Unicode names it: one, few, other.
pub fn plural(thousandths: i64) -> String {
    if cfg!(target_arch = "wasm32") {
        platform::plural_of(thousandths as f64 / 1000.0)
    } else if thousandths == 1000 {
        "one".to_owned()
    } else {
        "other".to_owned()
    }
}

/// The day of a moment of UTC, or none where the language writes it as ISO 8601 does.
pub fn date(unix_ms: i64) -> Option<String> {
    if cfg!(target_arch = "wasm32") {
        platform::day_of(unix_ms as f64)
    } else {
        None
    }
}
