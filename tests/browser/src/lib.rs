//! What the stories in `tests/` stand on: a site that serves the built app, a phone that opens it, and what a person does
//! and sees on each screen.
//!
//! The stories know the app by its words and by what it shows, never by its crates. `cargo xtask test` builds the app and
//! runs them; it hands over where things are in environment variables (`process::required`).

pub mod beginnings; // how most stories begin
pub mod browser; // the phone: a real browser with a fresh profile, its tabs, its size, its pictures
pub mod chance; // random choices that come again
pub mod clock; // the time of day that the phone believes
#[path = "../../../app/journal/tests/counted/mod.rs"]
pub mod counted; // how often a fault is tried, and where the count goes
pub mod engine; // a browser of any engine, with nothing emulated
pub mod gravity; // how the phone lies, as its sensors feel it
pub mod network; // a network that does harm on the way from the site
pub mod oddity; // what sets one phone apart from the next
pub mod pages; // what a person does and sees; the only folder that knows selectors
pub mod paper; // what comes out of the printer
pub mod process; // programs, each in a process group that ends with its story
pub mod server; // the site that serves the built app, until it dies
mod turn; // whose turn it is: how many stories have browsers at a time
pub mod wait; // waiting until something is so; the only file that sleeps
pub mod window; // a window of a browser, whatever its engine
