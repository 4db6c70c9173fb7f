//! The app: opens the records, loads the words, and draws the shell. It shows and asks; it decides nothing.

mod answers; // the answers to the sheet's questions, as tapped in
mod desk; // the one writer
mod device; // the browser, behind typed wrappers
mod errand; // shortcuts, and what other apps share
mod listing; // every number with its basis, as the build wrote it down
mod news; // what is new, and the licences, as files tell them
mod parts; // what screens are made of: values in, callbacks out
mod phone_check; // what this phone was found to do when it is locked
mod place; // where in the app we are
mod screens; // one file a screen
mod shell; // what stands round every screen
mod vigil; // rings, and knows when it slept
mod words; // everything the app says

use leptos::mount::mount_to_body;

use crate::desk::Desk;
use crate::device::{page, text};
use crate::shell::{App, Shell};
use crate::words::Words;

fn main() {
    page::report_panics();
    page::run(async {
        let file = text::file("words/en.txt").await.unwrap_or_default();
        // The words live as long as the app does.
        let words: &'static Words = Box::leak(Box::new(Words::read(&file)));
        let desk = Desk::open().await;
        mount_to_body(move || {
            Shell(shell::ShellProps {
                app: App::new(desk, words),
            })
        });
        page::started();
    });
}
