//! The browser, behind typed wrappers. The only folder that may name `web_sys`, `js_sys` or `wasm_bindgen`.
//!
//! Values go in and out; no browser handle leaves this folder. Never here: what the app shows or decides.

pub mod address; // where in the app we are: the location's hash
pub mod awake; // the screen that stays on
pub mod clock; // the present moment, the zone, the second tick
pub mod gravity; // which way is down, as the phone feels it
pub mod install; // the offer to put the app on the home screen
pub mod invented; // whether this window shows the invented district
pub mod language; // which there are, which is chosen, and what the browser knows of it
mod listeners; // who wants to be told of a change
mod local; // the browser's small store of texts, where there is one
pub mod notify; // notifications, and the number on the icon
pub mod offline; // the service worker and its updates
pub mod page; // the theme, the shell, focus, whether it is seen, its heartbeat
pub mod pick; // a file that the operator picks
pub mod platform; // the shim for what web-sys does not bind
pub mod preferences; // what this phone prefers, and half-filled forms
pub mod random; // names that nobody has to be asked for
pub mod share; // the share sheet, downloads and the clipboard
pub mod shared; // what another app has shared
pub mod sound; // the alarm's sound and its trembling
pub mod store; // the records, kept durably
pub mod text; // files that come with the app
pub mod windows; // other windows of the app: one at a time, and one that rings
