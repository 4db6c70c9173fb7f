//! What stands round every screen once the records are open: the bar at the top, the tabs, the notices, and which screen is
//! shown.
//!
//! Never here: what a screen shows.

use core::ops::Deref;

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
use crate::device::{address, install, offline, page, preferences};
use crate::later::{self, Later};
use crate::parts::alarm::{AlarmView, AlarmWords, alarm};
use crate::parts::icon::{Shape, icon};
use crate::parts::live::{drawn, follow, live, perhaps, settled};
use crate::parts::notice::{Tone, notice, question};
use crate::parts::plain::{did_not_come, is_coming, sentence, within};
use crate::parts::tab_bar::{Tab, tab_bar};
use crate::phone::Phone;
use crate::place::Place;
use crate::screens;
use crate::vigil::Vigil;
use crate::words::{Words, times};

/// What every screen is handed: what is known, the moment, and how things are said. Values and handles, all of them
/// small.
#[derive(Clone, Copy)]
pub struct App {
    /// What needs no record. An app is a phone with its records open, so all of it is the app's as well.
    pub phone: Phone,
    /// Takes commands and holds the state.
    pub desk: &'static Desk,
    /// The present moment, to the second.
    pub now: ReadSignal<Instant>,
    /// Keeps watch: what rings, and what this phone can do.
    pub vigil: &'static Vigil,
    /// The machine chosen on this phone, once described.
    pub machine: Memo<Option<NamedMachine>>,
    /// In which theme.
    pub theme: RwSignal<Theme>,
    /// For which thumb.
    pub hand: RwSignal<Hand>,
    /// Whether a newer version waits to take over.
    pub update: ReadSignal<bool>,
    /// Whether the browser offers to put the app on the home screen.
    pub installable: ReadSignal<bool>,
    /// What a shortcut has to say, until it is read or something is recorded.
    pub told: RwSignal<Option<String>>,
    /// The third file, with its words.
    later: RwSignal<Fetch>,
}

impl Deref for App {
    type Target = Phone;

    fn deref(&self) -> &Phone {
        &self.phone
    }
}

/// Whether the third file is there.
#[derive(Clone, Copy)]
enum Fetch {
    Underway,
    Failed,
    Done(Later),
}

impl App {
    /// Puts the app together, and ties it to the worker. To be called once, under an owner that stays.
    pub fn new(phone: Phone, desk: Desk) -> App {
        let vigil = Vigil::begin(desk, phone.spoken);
        let device = preferences::device();
        let theme = RwSignal::new(preferences::theme());
        // `boot.js` paints; here only the sign on the button has to follow.
        page::on_scheme_change(move || theme.notify());

        let update = RwSignal::new(false);
        page::run(offline::register(move || update.set(true)));

        let installable = RwSignal::new(install::is_offered());
        install::on_change(move || installable.set(install::is_offered()));

        let app = App {
            phone,
            desk: Box::leak(Box::new(desk)),
            now: vigil.now(),
            vigil,
            machine: Memo::new(move |_| {
                desk.state()
                    .with(|state| state.machine_of(&device).cloned())
            }),
            theme,
            hand: RwSignal::new(preferences::hand()),
            update: update.read_only(),
            installable: installable.read_only(),
            told: RwSignal::new(None),
            later: RwSignal::new(Fetch::Underway),
        };
        follow(move || {
            let words = phone.spoken.get();
            if app.later.with_untracked(|it| !matches!(it, Fetch::Done(_))) {
                app.fetch_later(words);
            }
        });
        follow(move || {
            if let Some(later) = app.later()
                && app.machine.with(Option::is_none)
            {
                (later.nothing_is_new)();
            }
        });
        let mut last = None;
        follow(move || {
            let glance = Some(glance(app.on(phone.in_chosen_language())));
            if last != glance {
                last.clone_from(&glance);
                preferences::set_glance(glance.flatten());
            }
        });
        app
    }

    /// The same app on the same phone in another language.
    pub fn on(self, phone: Phone) -> App {
        App { phone, ..self }
    }

    /// Fetches the third file, and its words in a language.
    fn fetch_later(self, words: &'static Words) {
        self.later.set(Fetch::Underway);
        page::run(async move {
            let later = later::fetch().await;
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

    /// The third file, once it is there.
    pub fn later(self) -> Option<Later> {
        match self.later.get() {
            Fetch::Done(later) => Some(later),
            Fetch::Underway | Fetch::Failed => None,
        }
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

    /// Chooses the thumb that taps on this phone.
    pub fn choose_hand(self, hand: Hand) {
        preferences::set_hand(hand);
        page::set_root(
            "data-hand",
            if hand == Hand::Left { "left" } else { "right" },
        );
        self.hand.set(hand);
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

/// The whole app once a machine is known, in one language.
pub fn shell(app: App) -> AnyView {
    drawn(view! {
        {top_bar(app)}
        {screen(app)}
        {notices(app)}
        {live(move || tab_bar(app.words.tabs(), tabs(app)))}
        {rings(app)}
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

/// A screen of the third file, once that is there.
pub fn fetched(app: App, place: Place) -> AnyView {
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
        Fetch::Done(_) | Fetch::Underway => is_coming(words.later_fetching()),
        Fetch::Failed => {
            let again = move || app.fetch_later(words);
            did_not_come(words.later_failed(), words.try_again(), again)
        }
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
pub fn notices(app: App) -> AnyView {
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
