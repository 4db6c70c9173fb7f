//! What is known without any record: how this phone says and shows things, where in the app we are, and whether the file
//! that works with records has come.
//!
//! Never here: what a record tells (`App` in `shell`).

use leptos::prelude::*;

use crate::device::store::Keeping;
use crate::device::{address, clock, invented, page, preferences};
use crate::errand::Errand;
use crate::place::Place;
use crate::shell::App;
use crate::units::Units;
use crate::words::Words;
use crate::work::{self, Work};

/// What everything on a screen is handed that needs no record. Values and handles, all of them small.
#[derive(Clone, Copy)]
pub struct Phone {
    /// Everything the app says, in the language that this screen was drawn in.
    pub words: &'static Words,
    /// The words of the chosen language. All screens are drawn anew when they change.
    pub spoken: RwSignal<&'static Words>,
    /// Where we are.
    pub place: ReadSignal<Place>,
    /// In which units.
    pub units: RwSignal<Units>,
    /// Whether all of it is the invented district.
    pub invented: bool,
    /// Where the records lie.
    keeping: Keeping,
    work: RwSignal<Opened>,
}

/// Whether the records are open.
#[derive(Clone, Copy)]
enum Opened {
    Underway,
    Failed,
    Again,
    /// They stay so until the page goes.
    Done(&'static (Work, App)),
}

/// Whether the file that works with records has come.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Arrival {
    /// It is fetched.
    Underway,
    /// It could not be had.
    Failed,
    /// It could not be had, and is fetched once more.
    Again,
    /// It is here, and the records are open.
    Here,
}

impl Phone {
    /// Puts together what this phone prefers, and ties it to the address and the clock.
    pub fn new(words: &'static Words, keeping: Keeping) -> Phone {
        let invented = invented::is_shown();
        let last = preferences::last_place();
        if invented && last.is_none() {
            // Whoever has just come in sees the shift first.
            address::replace(&Place::Shift.hash());
        } else if address::hash().is_empty()
            && let Some(last) = last
        {
            address::replace(&last);
        }
        let here = || Place::parse(&address::hash()).unwrap_or(Place::Shift);
        let place = RwSignal::new(here());
        let phone = Phone {
            words,
            spoken: RwSignal::new(words),
            place: place.read_only(),
            units: RwSignal::new(preferences::units()),
            invented,
            keeping,
            work: RwSignal::new(Opened::Underway),
        };
        address::on_change(move || {
            if !phone.runs_errand() {
                place.set(here());
                preferences::set_last_place(&here().hash());
                page::to_top();
            }
        });
        // The app lives, whatever has come of it.
        clock::every_second(move |reading| {
            if let Some((work, app)) = untrack(|| phone.at_work()) {
                (work.each_second)(app, reading);
            }
        });
        phone
    }

    /// The same in the chosen language; to be followed.
    pub fn in_chosen_language(self) -> Phone {
        let words = self.spoken.get();
        Phone { words, ..self }
    }

    /// Fetches what works with records, and opens them; then does something, whether it came or not.
    pub fn open(self, then: impl FnOnce() + 'static) {
        page::run(async move {
            let opened = match work::fetch().await {
                Some(work) => {
                    let app = (work.open)(self, self.keeping).await;
                    Opened::Done(Box::leak(Box::new((work, app))))
                }
                None => Opened::Failed,
            };
            self.work.set(opened);
            self.runs_errand();
            then();
        });
    }

    /// Tries once more, where what works with records could not be had.
    pub fn open_again(self) {
        if self.work.with_untracked(|it| matches!(it, Opened::Failed)) {
            self.work.set(Opened::Again);
            self.open(|| {});
        }
    }

    /// Runs what the address asks for; whether it is an errand. It waits until the records are open.
    fn runs_errand(self) -> bool {
        let errand = Errand::of(&address::hash());
        let opened = untrack(|| self.in_chosen_language().at_work());
        if let (Some(errand), Some((work, app))) = (errand, opened) {
            (work.run)(app, errand);
        }
        errand.is_some()
    }

    /// Whether the file that works with records has come.
    pub fn arrival(self) -> Arrival {
        match self.work.get() {
            Opened::Underway => Arrival::Underway,
            Opened::Failed => Arrival::Failed,
            Opened::Again => Arrival::Again,
            Opened::Done(_) => Arrival::Here,
        }
    }

    /// What works with records, and the app that they are open in.
    pub fn at_work(self) -> Option<(Work, App)> {
        match self.work.get() {
            Opened::Done(&(work, app)) => Some((work, app.on(self))),
            Opened::Underway | Opened::Failed | Opened::Again => None,
        }
    }

    /// The words of a language, as many of them as there are of the present one; none where they cannot be had.
    pub async fn load_words(self, language: &str) -> Option<&'static Words> {
        let words = Words::load(language).await?;
        let all = self.spoken.get_untracked().are_all_here();
        (!all || words.load_later().await).then_some(words)
    }

    /// Chooses the language of this phone, whose words have been loaded.
    pub fn choose_language(self, language: &str, words: &'static Words) {
        preferences::set_language(language);
        self.spoken.set(words);
    }

    /// Chooses the units of this phone.
    pub fn choose_units(self, units: Units) {
        preferences::set_units(units);
        self.units.set(units);
    }
}
