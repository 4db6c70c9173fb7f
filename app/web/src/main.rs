//! The app: opens the records, loads the words, and draws the shell. It shows and asks; it decides nothing.

mod answers; // the answers to the sheet's questions, as tapped in
mod desk; // the one writer
mod device; // the browser, behind typed wrappers
mod district; // the invented district, brought to today
mod errand; // shortcuts, and what other apps share
mod later; // the screens that are fetched after the start
mod listing; // every number with its basis, as the build wrote it down
mod news; // what is new, and the licences, as files tell them
mod parts; // what screens are made of: values in, callbacks out
mod phone_check; // what this phone was found to do when it is locked
mod place; // where in the app we are
mod screens; // one file a screen
mod shell; // what stands round every screen
mod units; // in which units numbers are shown and typed
mod vigil; // rings, and knows when it slept
mod words; // everything the app says

use leptos::mount::mount_to_body;

use crate::desk::Desk;
use crate::device::{language, page};
use crate::shell::{App, shell};
use crate::words::Words;

fn main() {
    page::report_panics();
    page::run(async {
        let mut words = Words::load(&language::chosen()).await;
        if words.is_none() {
            words = Words::load("en").await;
        }
        // Without any words each key shows itself, and the records are still at hand.
        let words = words.unwrap_or_else(|| Box::leak(Box::default()));
        let desk = Desk::open().await;
        mount_to_body(move || {
            let app = App::new(desk, words);
            app.fetch_later();
            shell(app)
        });
        page::started();
    });
}
