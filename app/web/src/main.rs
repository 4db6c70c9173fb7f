//! The app: opens the records, loads the words, and draws the shell. It shows and asks; it decides nothing.

mod answers; // the answers to the sheet's questions, as tapped in
mod before; // until the records are open and a machine is known
mod desk; // the one writer
mod device; // the browser, behind typed wrappers
mod district; // the invented district, brought to today
mod errand; // shortcuts, and what other apps share
mod later; // the screens that are fetched after the start: the third file
mod listing; // every number with its basis, as the build wrote it down
mod news; // what is new, and the licences, as files tell them
mod parts; // what screens are made of: values in, callbacks out
mod phone; // what is known without any record
mod phone_check; // what this phone was found to do when it is locked
mod place; // where in the app we are
mod screens; // one file a screen
mod shell; // what stands round every screen
mod units; // in which units numbers are shown and typed
mod vigil; // rings, and knows when it slept
mod words; // everything the app says
mod work; // what works with records: the second file

use leptos::mount::mount_to_body;

use crate::device::{invented, language, page, store};
use crate::phone::Phone;
use crate::words::Words;

fn main() {
    page::report_panics();
    // It is waited for only once the words are here, and comes beside them.
    page::run(async {
        let _kept_by_the_loader = work::fetch().await;
    });
    page::run(async {
        let mut words = Words::load(&language::chosen()).await;
        if words.is_none() {
            words = Words::load("en").await;
        }
        // Without any words each key shows itself, and the records are still at hand.
        let words = words.unwrap_or_else(|| Box::leak(Box::default()));
        let keeping = store::open().await;
        // Where it cannot be told, there may be some.
        let has_records = invented::is_shown() || store::count().await != Some(0);
        mount_to_body(move || {
            let phone = Phone::new(words, keeping);
            phone.open(move || {
                if has_records {
                    page::started();
                }
            });
            before::whole(phone, has_records)
        });
        if !has_records {
            page::started();
        }
    });
}
