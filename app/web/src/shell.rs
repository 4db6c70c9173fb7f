//! What stands round every screen: the bar at the top, the tabs, the notices, and which screen is shown.
//!
//! Never here: what a screen shows.

use evenrow_journal::command::PUT_OFF_MINUTES;
use evenrow_journal::reminder::Nearness;
use evenrow_journal::state::NamedMachine;
use evenrow_journal::{Command, State};
use evenrow_rules::quantity::Instant;
use leptos::prelude::*;

use crate::desk::{Desk, Trouble};
use crate::device::preferences::{Hand, Theme};
use crate::device::sound::Sound;
use crate::device::store::Keeping;
use crate::device::{address, install, invented, offline, page, preferences};
use crate::errand::Errand;
use crate::later::{self, Later};
use crate::parts::alarm::{AlarmView, AlarmWords, alarm};
use crate::parts::icon::{Shape, icon};
use crate::parts::live::{drawn, follow, live, perhaps, settled};
use crate::parts::notice::{Tone, notice, question};
use crate::parts::plain::{button, sentence, within};
use crate::parts::tab_bar::{Tab, tab_bar};
use crate::place::Place;
use crate::screens;
use crate::units::Units;
use crate::vigil::Vigil;
use crate::words::{Words, times};

/// What every screen is handed: what is known, the moment, and how things are said. Values and handles, all of them
/// small.
#[derive(Clone, Copy)]
pub struct App {
    /// Takes commands and holds the state.
    pub desk: &'static Desk,
    /// Everything the app says, in the language that this screen was drawn in.
    pub words: &'static Words,
    /// The words of the chosen language. All screens are drawn anew when they change.
    spoken: RwSignal<&'static Words>,
    /// The present moment, to the second.
    pub now: ReadSignal<Instant>,
    /// Keeps watch: what rings, and what this phone can do.
    pub vigil: &'static Vigil,
    /// The machine chosen on this phone, once described.
    pub machine: Memo<Option<NamedMachine>>,
    /// Where we are.
    pub place: ReadSignal<Place>,
    /// In which units.
    pub units: RwSignal<Units>,
    /// In which theme.
    pub theme: RwSignal<Theme>,
    /// Whether all of it is the invented district.
    pub invented: bool,
    /// For which thumb.
    pub hand: RwSignal<Hand>,
    /// Whether a newer version waits to take over.
    pub update: ReadSignal<bool>,
    /// Whether the browser offers to put the app on the home screen.
    pub installable: ReadSignal<bool>,
    /// What a shortcut has to say, until it is read or something is recorded.
    pub told: RwSignal<Option<String>>,
    /// The second file, with its words.
    later: RwSignal<Fetch>,
}

/// Whether the second file is there.
#[derive(Clone, Copy)]
enum Fetch {
    Underway,
    Failed,
    Done(Later),
}

impl App {
    /// Puts the app together, and ties it to the clock, the address and the worker.
    pub fn new(desk: Desk, words: &'static Words) -> App {
        let spoken = RwSignal::new(words);
        let vigil = Vigil::begin(desk, spoken);
        let device = preferences::device();

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
        let theme = RwSignal::new(preferences::theme());
        // `boot.js` paints; here only the sign on the button has to follow.
        page::on_scheme_change(move || theme.notify());

        let update = RwSignal::new(false);
        page::run(offline::register(move || update.set(true)));

        let installable = RwSignal::new(install::is_offered());
        install::on_change(move || installable.set(install::is_offered()));

        let app = App {
            desk: Box::leak(Box::new(desk)),
            words,
            spoken,
            now: vigil.now(),
            vigil,
            machine: Memo::new(move |_| {
                desk.state()
                    .with(|state| state.machine_of(&device).cloned())
            }),
            place: place.read_only(),
            units: RwSignal::new(preferences::units()),
            theme,
            invented,
            hand: RwSignal::new(preferences::hand()),
            update: update.read_only(),
            installable: installable.read_only(),
            told: RwSignal::new(None),
            later: RwSignal::new(Fetch::Underway),
        };
        let errand = move || Errand::of(&address::hash()).map(|errand| errand.run(app));
        address::on_change(move || {
            if errand().is_none() {
                place.set(here());
                preferences::set_last_place(&here().hash());
                page::to_top();
            }
        });
        errand();
        app
    }

    /// Fetches the second file and its words.
    pub fn fetch_later(self) {
        self.later.set(Fetch::Underway);
        page::run(async move {
            let later = later::fetch().await;
            let words = self.spoken.get_untracked();
            let said = words.load_later().await;
            // Whoever chooses another language meanwhile asks again.
            if core::ptr::eq(words, self.spoken.get_untracked()) {
                self.later.set(match later {
                    Some(later) if said => Fetch::Done(later),
                    Some(_) | None => Fetch::Failed,
                });
            }
        });
    }

    /// The second file, once it is there.
    pub fn later(self) -> Option<Later> {
        match self.later.get() {
            Fetch::Done(later) => Some(later),
            Fetch::Underway | Fetch::Failed => None,
        }
    }

    /// The words of a language for all that is on this phone by now; none where they cannot be had.
    pub async fn load_words(self, language: &str) -> Option<&'static Words> {
        let words = Words::load(language).await?;
        let all = self.later.with_untracked(|it| matches!(it, Fetch::Done(_)));
        (!all || words.load_later().await).then_some(words)
    }

    /// What is known now.
    pub fn state(self) -> ReadSignal<State> {
        self.desk.state()
    }

    /// Chooses a theme for this phone.
    pub fn choose_theme(self, theme: Theme) {
        preferences::set_theme(theme);
        page::set_root("data-theme", if is_night(theme) { "night" } else { "sun" });
        self.theme.set(theme);
    }

    /// Chooses the language of this phone, whose words have been loaded.
    pub fn choose_language(self, language: &str, words: &'static Words) {
        preferences::set_language(language);
        self.spoken.set(words);
        if self
            .later
            .with_untracked(|it| !matches!(it, Fetch::Done(_)))
        {
            self.fetch_later();
        }
    }

    /// Chooses the thumb that taps on this phone.
    pub fn choose_hand(self, hand: Hand) {
        preferences::set_hand(hand);
        page::set_root(
            "data-hand",
            if hand == Hand::Left { "left" } else { "right" },
        );
        self.hand.set(hand);
    }

    /// Chooses the units of this phone.
    pub fn choose_units(self, units: Units) {
        preferences::set_units(units);
        self.units.set(units);
    }
}

/// Goes to a place; Back returns from it.
pub fn go(place: &Place) {
    address::go(&place.hash());
}

/// Whether a theme is the dark one at this moment.
fn is_night(theme: Theme) -> bool {
    match theme {
        Theme::Sun => false,
        Theme::Night => true,
        Theme::Auto => page::prefers_dark(),
    }
}

/// The whole app, drawn anew in each language that is chosen. What is half typed is in drafts, and comes back.
pub fn shell(app: App) -> AnyView {
    live(move || {
        let words = app.spoken.get();
        in_one_language(App { words, ..app })
    })
}

fn in_one_language(app: App) -> AnyView {
    let known = settled(move || app.machine.with(Option::is_some));
    let mut last = None;
    follow(move || {
        let glance = Some(glance(app));
        if last != glance {
            last.clone_from(&glance);
            preferences::set_glance(glance.flatten());
        }
    });
    live(move || {
        if !known.get() {
            return drawn(view! {
                {before(app)}
                {notices(app)}
            });
        }
        drawn(view! {
            {top_bar(app)}
            {screen(app)}
            {notices(app)}
            {live(move || tab_bar(app.words.tabs(), tabs(app)))}
            {rings(app)}
        })
    })
}

/// What the page shows at the next start until the app is there: nothing that the next minute makes untrue.
fn glance(app: App) -> Option<[String; 4]> {
    let words = app.words;
    let machine = app
        .machine
        .with(|it| it.as_ref().map(|it| it.name.clone()))?;
    let runs = app.state().with(|state| state.running().is_some());
    let oiling = app.vigil.reminder().with(|it| {
        let it = it.as_ref()?;
        Some(it.standing.next().map(|slot| times::here(slot.due.at)))
    });
    let (title, time, more) = match (runs, oiling) {
        (false, _) => (words.start_title(), String::new(), words.start_lead()),
        (true, None) => (words.choose_setup_title(), String::new(), String::new()),
        (true, Some(None)) => (words.oil_all_done(), String::new(), String::new()),
        (true, Some(Some(at))) => (words.oil_title(), at, String::new()),
    };
    Some([machine, title, time, more])
}

/// What is shown while no machine is known: the three questions, what a file brings in their place, or what helps to
/// answer them.
fn before(app: App) -> AnyView {
    follow(move || {
        if let Some(later) = app.later() {
            (later.nothing_is_new)();
        }
    });
    live(move || {
        let place = app.place.get();
        if matches!(place, Place::Records | Place::Terms(_) | Place::Install) {
            drawn(view! { <main class="screen">{fetched(app, place)}</main> })
        } else {
            view! { <screens::first::First app/> }.into_any()
        }
    })
}

fn top_bar(app: App) -> AnyView {
    let words = app.words;
    live(move || {
        let name = app
            .machine
            .with(|machine| machine.as_ref().map(|it| it.name.clone()));
        // One tap changes to the other look; Auto is chosen under Machine.
        let (other, shape, label) = if is_night(app.theme.get()) {
            (Theme::Sun, Shape::Sun, words.to_sun())
        } else {
            (Theme::Night, Shape::Moon, words.to_night())
        };
        drawn(view! {
            <header class="top-bar">
                <a class="top-bar-machine" href="#machine">
                    {within("top-bar-name", name.unwrap_or_else(|| words.machine_unnamed()))}
                    {icon(Shape::More)}
                </a>
                {within("top-bar-clock", times::here(app.vigil.minute().get()))}
                <button type="button" class="top-bar-theme" aria-label=label on:click=move |_| app.choose_theme(other)>
                    {icon(shape)}
                </button>
            </header>
        })
    })
}

fn screen(app: App) -> AnyView {
    let shown = move || match app.place.get() {
        Place::Reminders | Place::Records | Place::Tables | Place::Erase if app.invented => {
            view! { <screens::district::NotHere app/> }.into_any()
        }
        Place::Shift => view! { <screens::shift::Shift app/> }.into_any(),
        Place::Look => view! { <screens::look::Look app/> }.into_any(),
        place @ (Place::Opening
        | Place::Closing
        | Place::Note
        | Place::Reminders
        | Place::Row
        | Place::RowNote
        | Place::Measure
        | Place::Stock
        | Place::Sets
        | Place::Setup
        | Place::Sheet(_)
        | Place::Angle(_)
        | Place::Crossfall
        | Place::Grading(_)
        | Place::Load
        | Place::Pictures(_)
        | Place::Marks
        | Place::Plan
        | Place::Section(_)
        | Place::Machine
        | Place::Sources
        | Place::Terms(_)
        | Place::Install
        | Place::Version
        | Place::Book
        | Place::Books
        | Place::Season
        | Place::Report(_)
        | Place::Records
        | Place::Tables
        | Place::Erase) => fetched(app, place),
    };
    let news = move || app.later().map(|later| (later.news_since)(app));
    drawn(view! {
        <main class="screen">
            {live(shown)}
            {live(move || perhaps(news()))}
        </main>
    })
}

/// A screen of the second file, once that is there.
fn fetched(app: App, place: Place) -> AnyView {
    let words = app.words;
    let needs_all = place.needs_all_records();
    let knows_enough = settled(move || !needs_all || app.desk.knows_all().get());
    if !knows_enough.get_untracked() {
        page::run(app.desk.read_all());
    }
    let mut waited = false;
    follow(move || {
        let here = app.later().is_some() && knows_enough.get();
        if here && waited {
            page::to_top();
        }
        waited = !here;
    });
    live(move || match app.later.get() {
        Fetch::Done(later) if knows_enough.get() => (later.screen)(app, place.clone()),
        Fetch::Done(_) | Fetch::Underway => {
            drawn(view! { <p class="later" role="status">{words.later_fetching()}</p> })
        }
        Fetch::Failed => drawn(view! {
            <p class="later caution" role="alert">{words.later_failed()}</p>
            {button("main-action", words.try_again(), move || app.fetch_later())}
        }),
    })
}

/// What rings, over everything else; and what those who cannot see the screen hear of the next oiling, once for each
/// step of its coming.
fn rings(app: App) -> AnyView {
    let words = app.words;
    let ringing = settled(move || app.vigil.ringing().is_some());
    follow(move || page::hold_back(ringing.get()));
    let shown = move || {
        let ring = app.vigil.ringing()?;
        Some(AlarmView {
            late: ring.late.is_some(),
            word: if ring.late.is_some() {
                words.late()
            } else {
                words.due_now()
            },
            big: ring.late.map_or_else(String::new, times::countdown),
            small: words.due_at(&times::here(ring.due)),
            sound: if app.invented {
                words.district_silent()
            } else {
                match app.vigil.sound().get() {
                    Sound::Ready => String::new(),
                    Sound::Locked => words.sound_locked(),
                    Sound::Missing => words.sound_missing(),
                }
            },
        })
    };
    let ring = move |shown: AlarmView| {
        let said = AlarmWords {
            title: words.oil_title(),
            done: words.oiled_now(),
            put_off: PUT_OFF_MINUTES.map(|minutes| (minutes, words.put_off(&minutes.to_string()))),
            cautions: [
                words.beware_make_it_safe_first(),
                words.beware_cool_before_oiling(),
            ],
        };
        let put_off = Callback::new(move |minutes| app.desk.submit(Command::PutOff { minutes }));
        alarm(said, shown, move || app.desk.submit(Command::Oil), put_off)
    };
    let heard = move || {
        let (nearness, next) = app.vigil.reminder().with(|it| {
            let reminder = it.as_ref()?;
            let next = reminder.standing.next().map(|slot| slot.due.at);
            Some((reminder.nearness, next))
        })?;
        let at = next.map(times::here).unwrap_or_default();
        match nearness {
            Nearness::AllDone | Nearness::Ahead => None,
            Nearness::Soon => Some(words.heard_soon(&at)),
            Nearness::Due => Some(words.heard_due(&at)),
            Nearness::Late => Some(words.heard_late(&at)),
        }
    };
    drawn(view! {
        <p class="unseen" role="status">{move || heard().unwrap_or_default()}</p>
        {live(move || perhaps(shown().map(ring)))}
    })
}

/// What has to be said whatever the screen: troubles first, then what can be undone, then what waits.
fn notices(app: App) -> AnyView {
    let (desk, words) = (app.desk, app.words);
    let kept = |text: String, action: String, on_press: Box<dyn Fn()>| {
        notice(Tone::Kept, text, action, on_press)
    };
    let trouble = move || {
        let trouble = desk.trouble().get()?;
        let (text, action, on_press): (_, _, Box<dyn Fn()>) = match trouble {
            Trouble::Refused(refusal) => (
                words
                    .refusal_at_work(&refusal, app.units.get())
                    .or_else(|| app.later().map(|later| (later.refusal)(app, &refusal)))?,
                words.understood(),
                Box::new(move || desk.clear_trouble()),
            ),
            Trouble::NotKept(said, ask) => (
                words.not_kept(&said.0),
                words.try_again(),
                Box::new(move || desk.submit(ask.clone())),
            ),
        };
        Some(notice(Tone::Trouble, text, action, on_press))
    };
    let undo_holds = settled(move || {
        desk.undoable().with(|undo| {
            // Once it is over, no second is worth a look.
            let now = app.now;
            let undo = undo.as_ref().filter(|it| !it.is_over(now.get_untracked()));
            undo.is_some_and(|undo| undo.holds(now.get()))
        })
    });
    let undo = move || {
        let undo = desk.undoable().get().filter(|_| undo_holds.get())?;
        let happened = words
            .happened_at_work(&undo.event)
            .or_else(|| app.later().map(|later| (later.happened)(app, &undo.event)))?;
        let text = words.kept(&happened);
        Some(kept(text, words.undo(), Box::new(move || desk.undo_last())))
    };
    let erased = move || {
        desk.erased()?;
        app.later().map(|later| (later.erased)(app))
    };
    // An update reloads the page; it must not be tapped away while something rings.
    let rings = settled(move || app.vigil.ringing().is_some());
    let update = move || {
        (app.update.get() && !rings.get()).then(|| {
            let take_over = || page::run(offline::take_over());
            kept(
                words.update_waits(),
                words.update_now(),
                Box::new(take_over),
            )
        })
    };
    let warned = |text: String| sentence("notices-warning", text);
    let warning = move || match desk.place_of_records().get() {
        Keeping::Weak => Some(warned(words.keeping_weak())),
        Keeping::Unknown => Some(warned(words.keeping_unknown())),
        Keeping::Promised | Keeping::BestEffort | Keeping::Nowhere => None,
    };
    let read_only = move || {
        let read_only = app.state().with(|state| state.read_only);
        read_only.then(|| warned(words.refused_newer_records()))
    };
    let keeping = move || {
        let keeping = desk.keeping().get();
        keeping.then(|| sentence("notices-keeping", words.keeping()))
    };
    let mut anew = false;
    follow(move || {
        app.state().track();
        if anew {
            app.told.set(None);
        }
        anew = true;
    });
    let told = move || {
        let text = app.told.get()?;
        let understood = move || app.told.set(None);
        Some(kept(text, words.understood(), Box::new(understood)))
    };
    // It changes when something is oiled or missed, not with the minutes: it is read out each time.
    let asleep = move || {
        let span = app.vigil.asleep().get()?;
        let open = app.vigil.reminder().with(|it| {
            let slots = it.as_ref().map_or(&[][..], |it| &it.standing.slots);
            words.still_open(slots, span)
        });
        let (from, to) = (times::here(span.start()), times::here(span.end()));
        let text = if open.is_empty() {
            words.was_asleep_done(&from, &to)
        } else {
            words.was_asleep(&from, &to, &open)
        };
        let understood = move || app.vigil.asleep().set(None);
        Some(notice(Tone::Trouble, text, words.understood(), understood))
    };
    let clock_question = move || {
        let (jump, by_ms) = app.state().with(|state| {
            let jump = state.running()?.unanswered_jump()?;
            Some((jump.id.clone(), jump.by_ms))
        })?;
        let answer = move |at| {
            let (jump, moved) = (jump.clone(), at == 0);
            app.desk.submit(Command::AnswerClock { jump, moved });
        };
        Some(question(
            words.clock_question(&words.clock_jumped(by_ms)),
            [words.clock_follow(), words.clock_leave()],
            Callback::new(answer),
        ))
    };
    let banner = app
        .invented
        .then(|| view! { <screens::district::Banner app/> }.into_any());
    drawn(view! {
        <div class="notices">
        {perhaps(banner)}
        <div role="status">
            {live(move || perhaps(warning()))}
            {live(move || perhaps(read_only()))}
            {live(move || perhaps(keeping()))}
            {live(move || perhaps(told()))}
            {live(move || perhaps(update()))}
            {live(move || perhaps(erased()))}
            {live(move || perhaps(undo()))}
        </div>
        <div role="alert">
            {live(move || perhaps(clock_question()))}
            {live(move || perhaps(asleep()))}
            {live(move || perhaps(trouble()))}
        </div>
        </div>
    })
}

fn tabs(app: App) -> [Tab; 4] {
    let words = app.words;
    let place = app.place.get();
    [
        Tab {
            href: "#shift",
            shape: Shape::Shift,
            name: words.tab_shift(),
            here: matches!(
                place,
                Place::Shift
                    | Place::Opening
                    | Place::Closing
                    | Place::Look
                    | Place::Note
                    | Place::Reminders
            ),
        },
        Tab {
            href: "#setup",
            shape: Shape::Setup,
            name: words.tab_setup(),
            here: matches!(
                place,
                Place::Setup
                    | Place::Sheet(_)
                    | Place::Angle(_)
                    | Place::Crossfall
                    | Place::Grading(_)
                    | Place::Load
                    | Place::Pictures(_)
                    | Place::Marks
                    | Place::Plan
                    | Place::Section(_)
            ),
        },
        Tab {
            href: "#row",
            shape: Shape::Row,
            name: words.tab_row(),
            here: matches!(
                place,
                Place::Row | Place::RowNote | Place::Measure | Place::Stock | Place::Sets
            ),
        },
        Tab {
            href: "#book",
            shape: Shape::Book,
            name: words.tab_book(),
            here: matches!(
                place,
                Place::Book
                    | Place::Books
                    | Place::Season
                    | Place::Report(_)
                    | Place::Records
                    | Place::Tables
                    | Place::Erase
            ),
        },
    ]
}
