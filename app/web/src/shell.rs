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
use crate::parts::alarm::{Alarm, AlarmView, AlarmWords};
use crate::parts::icon::{Icon, Shape};
use crate::parts::notice::{Notice, Question, Tone};
use crate::parts::tab_bar::{Tab, TabBar};
use crate::place::Place;
use crate::screens;
use crate::screens::row_plates::Plates;
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
    fn later(self) -> Option<Later> {
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
#[component]
pub fn Shell(
    /// What every screen is handed.
    app: App,
) -> impl IntoView {
    move || {
        let words = app.spoken.get();
        view! { <InOneLanguage app=App { words, ..app }/> }
    }
}

#[component]
fn InOneLanguage(
    /// What every screen is handed.
    app: App,
) -> impl IntoView {
    let words = app.words;
    let known = Memo::new(move |_| app.machine.with(Option::is_some));
    let glance = Memo::new(move |_| glance(app));
    Effect::new(move |_| preferences::set_glance(glance.get()));
    view! {
        <Show when=move || known.get() fallback=move || view! { <Before app/> }>
            <TopBar app/>
            <Screen app/>
            <Notices app/>
            <TabBar label=words.tabs() tabs=tabs(app)/>
            <Rings app/>
        </Show>
        <Show when=move || !known.get()>
            <Notices app/>
        </Show>
    }
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
#[component]
fn Before(
    /// What every screen is handed.
    app: App,
) -> impl IntoView {
    Effect::new(move |_| app.later().map(|later| (later.nothing_is_new)()));
    move || {
        let place = app.place.get();
        if matches!(place, Place::Records | Place::Terms(_) | Place::Install) {
            view! { <main class="screen"><Fetched app place/></main> }.into_any()
        } else {
            view! { <screens::first::First app/> }.into_any()
        }
    }
}

#[component]
fn TopBar(
    /// What every screen is handed.
    app: App,
) -> impl IntoView {
    let words = app.words;
    let name = move || {
        app.machine.with(|machine| {
            let name = machine.as_ref().map(|it| it.name.clone());
            name.unwrap_or_else(|| words.machine_unnamed())
        })
    };
    let minute = move || times::here(app.vigil.minute().get());
    // One tap changes to the other look; Auto is chosen under Machine.
    let other = move || {
        if is_night(app.theme.get()) {
            Theme::Sun
        } else {
            Theme::Night
        }
    };
    let (shape, label) = (
        move || {
            if other() == Theme::Sun {
                Shape::Sun
            } else {
                Shape::Moon
            }
        },
        move || {
            if other() == Theme::Sun {
                words.to_sun()
            } else {
                words.to_night()
            }
        },
    );
    view! {
        <header class="top-bar">
            <a class="top-bar-machine" href="#machine">
                <span class="top-bar-name">{name}</span>
                <Icon shape=Shape::More/>
            </a>
            <span class="top-bar-clock">{minute}</span>
            <button type="button" class="top-bar-theme" aria-label=label on:click=move |_| app.choose_theme(other())>
                {move || view! { <Icon shape=shape()/> }}
            </button>
        </header>
    }
}

#[component]
fn Screen(
    /// What every screen is handed.
    app: App,
) -> impl IntoView {
    view! {
        <main class="screen">
            {move || match app.place.get() {
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
                | Place::Erase) => view! { <Fetched app place/> }.into_any(),
            }}
            {move || app.later().map(|later| (later.news_since)(app))}
        </main>
    }
}

/// A screen of the second file, once that is there.
#[component]
fn Fetched(
    /// What every screen is handed.
    app: App,
    /// Which screen.
    place: Place,
) -> impl IntoView {
    let words = app.words;
    let needs_all = place.needs_all_records();
    let knows_enough = Memo::new(move |_| !needs_all || app.desk.knows_all().get());
    if !knows_enough.get_untracked() {
        page::run(app.desk.read_all());
    }
    Effect::new(move |waited: Option<bool>| {
        let here = app.later().is_some() && knows_enough.get();
        if here && waited == Some(true) {
            page::to_top();
        }
        !here
    });
    move || match app.later.get() {
        Fetch::Done(later) if knows_enough.get() => (later.screen)(app, place.clone()),
        Fetch::Done(_) | Fetch::Underway => {
            view! { <p class="later" role="status">{words.later_fetching()}</p> }.into_any()
        }
        Fetch::Failed => view! {
            <p class="later caution" role="alert">{words.later_failed()}</p>
            <button type="button" class="main-action" on:click=move |_| app.fetch_later()>
                {words.try_again()}
            </button>
        }
        .into_any(),
    }
}

/// What rings, over everything else; and what those who cannot see the screen hear of the next oiling, once for each
/// step of its coming.
#[component]
fn Rings(
    /// What every screen is handed.
    app: App,
) -> impl IntoView {
    let words = app.words;
    let ringing = Memo::new(move |_| app.vigil.ringing().is_some());
    Effect::new(move |_| page::hold_back(ringing.get()));
    let shown = Memo::new(move |_| {
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
    });
    let put_off = PUT_OFF_MINUTES.map(|minutes| (minutes, words.put_off(&minutes.to_string())));
    let nearness = Memo::new(move |_| {
        app.vigil.reminder().with(|it| {
            let reminder = it.as_ref()?;
            let next = reminder.standing.next().map(|slot| slot.due.at);
            Some((reminder.nearness, next))
        })
    });
    let heard = move || {
        let (nearness, next) = nearness.get()?;
        let at = next.map(times::here).unwrap_or_default();
        match nearness {
            Nearness::AllDone | Nearness::Ahead => None,
            Nearness::Soon => Some(words.heard_soon(&at)),
            Nearness::Due => Some(words.heard_due(&at)),
            Nearness::Late => Some(words.heard_late(&at)),
        }
    };
    view! {
        <p class="unseen" role="status">{heard}</p>
        {move || ringing.get().then(|| view! {
            <Alarm
                words=AlarmWords {
                    title: words.oil_title(),
                    done: words.oiled_now(),
                    put_off: put_off.clone(),
                    cautions: vec![words.beware_make_it_safe_first(), words.beware_cool_before_oiling()],
                }
                shown
                on_done=Callback::new(move |()| app.desk.submit(Command::Oil))
                on_put_off=Callback::new(move |minutes| app.desk.submit(Command::PutOff { minutes }))
            />
        })}
    }
}

/// What has to be said whatever the screen: troubles first, then what can be undone, then what waits.
#[component]
fn Notices(
    /// What every screen is handed.
    app: App,
) -> impl IntoView {
    let (desk, words) = (app.desk, app.words);
    let trouble = move || {
        desk.trouble().get().map(|trouble| match trouble {
            Trouble::Refused(refusal) => view! {
                <Notice
                    tone=Tone::Trouble
                    text=words.refusal(&refusal, app.units.get())
                    action=words.understood()
                    on_press=Callback::new(move |()| desk.clear_trouble())
                />
            },
            Trouble::NotKept(said, ask) => view! {
                <Notice
                    tone=Tone::Trouble
                    text=words.not_kept(&said.0)
                    action=words.try_again()
                    on_press=Callback::new(move |()| desk.submit(ask.clone()))
                />
            },
        })
    };
    let undoable = Memo::new(move |_| {
        let undo = desk.undoable().get()?;
        // Once it is over, no second is worth a look.
        let over = undo.is_over(app.now.get_untracked());
        (!over && undo.holds(app.now.get())).then_some(undo)
    });
    let undo = move || {
        undoable.get().map(|undo| {
            view! {
                <Notice
                    tone=Tone::Kept
                    text=words.kept(&words.happened(&undo.event, &|position| tooth_at(app, position)))
                    action=words.undo()
                    on_press=Callback::new(move |()| desk.undo_last())
                />
            }
        })
    };
    let not_put_back = RwSignal::new(None);
    let put_back = move |()| {
        page::run(async move {
            let kept = desk.put_back().await;
            not_put_back.set(kept.err().map(|why| words.not_kept(&why.0)));
        });
    };
    let erased = move || {
        let many = desk.erased()?.to_string();
        let text = not_put_back.get().unwrap_or_else(|| words.erased(&many));
        Some(view! {
            <Notice tone=Tone::Kept text action=words.put_back() on_press=Callback::new(put_back)/>
        })
    };
    // An update reloads the page; it must not be tapped away while something rings.
    let rings = Memo::new(move |_| app.vigil.ringing().is_some());
    let update = move || {
        (app.update.get() && !rings.get()).then(|| {
            view! {
                <Notice
                    tone=Tone::Kept
                    text=words.update_waits()
                    action=words.update_now()
                    on_press=Callback::new(move |()| page::run(offline::take_over()))
                />
            }
        })
    };
    let warning = move || match desk.place_of_records().get() {
        Keeping::Weak => Some(words.keeping_weak()),
        Keeping::Unknown => Some(words.keeping_unknown()),
        Keeping::Promised | Keeping::BestEffort | Keeping::Nowhere => None,
    };
    let read_only = Memo::new(move |_| app.state().with(|state| state.read_only));
    Effect::new(move |before: Option<()>| {
        app.state().track();
        if before.is_some() {
            app.told.set(None);
        }
    });
    let told = move || {
        let text = app.told.get()?;
        Some(view! {
            <Notice
                tone=Tone::Kept
                text
                action=words.understood()
                on_press=Callback::new(move |()| app.told.set(None))
            />
        })
    };
    // It changes when something is oiled or missed, not with the minutes: it is read out each time.
    let slept = Memo::new(move |_| {
        let span = app.vigil.asleep().get()?;
        let open = app.vigil.reminder().with(|it| {
            let slots = it.as_ref().map_or(&[][..], |it| &it.standing.slots);
            words.still_open(slots, span)
        });
        let (from, to) = (times::here(span.start()), times::here(span.end()));
        Some(if open.is_empty() {
            words.was_asleep_done(&from, &to)
        } else {
            words.was_asleep(&from, &to, &open)
        })
    });
    let asleep = move || {
        let text = slept.get()?;
        Some(view! {
            <Notice
                tone=Tone::Trouble
                text
                action=words.understood()
                on_press=Callback::new(move |()| app.vigil.asleep().set(None))
            />
        })
    };
    let jump = Memo::new(move |_| {
        app.state().with(|state| {
            let jump = state.running()?.unanswered_jump()?;
            Some((jump.id.clone(), jump.by_ms))
        })
    });
    let clock_question = move || {
        let (id, by_ms) = jump.get()?;
        let answer = move |moved| {
            app.desk.submit(Command::AnswerClock {
                jump: id.clone(),
                moved,
            });
        };
        let (leave, follow) = (answer.clone(), answer);
        Some(view! {
            <Question
                text=words.clock_question(&words.clock_jumped(by_ms))
                answers=[words.clock_follow(), words.clock_leave()]
                on_pick=Callback::new(move |at| if at == 0 { follow(true) } else { leave(false) })
            />
        })
    };
    view! {
        <div class="notices">
        {app.invented.then(|| view! { <screens::district::Banner app/> })}
        <div role="status">
            {move || warning().map(|text| view! { <p class="notices-warning">{text}</p> })}
            {move || read_only.get().then(|| view! { <p class="notices-warning">{words.refused_newer_records()}</p> })}
            {move || desk.keeping().get().then(|| view! { <p class="notices-keeping">{words.keeping()}</p> })}
            {told}
            {update}
            {erased}
            {undo}
        </div>
        <div role="alert">{clock_question}{asleep}{trouble}</div>
        </div>
    }
}

/// The name of a tooth of the mounted set.
fn tooth_at(app: App, position: u16) -> String {
    let plates = app.machine.with(|machine| {
        let machine = machine.as_ref()?;
        app.state().with(|state| {
            let set = state.teeth.on(&machine.id)?;
            Some(Plates::of(&machine.machine, set))
        })
    });
    plates.unwrap_or_default().short(app.words, position)
}

fn tabs(app: App) -> Vec<Tab> {
    let words = app.words;
    let on = |places: fn(&Place) -> bool| Signal::derive(move || app.place.with(places));
    vec![
        Tab {
            href: "#shift",
            shape: Shape::Shift,
            name: words.tab_shift(),
            here: on(|place| {
                matches!(
                    place,
                    Place::Shift
                        | Place::Opening
                        | Place::Closing
                        | Place::Look
                        | Place::Note
                        | Place::Reminders
                )
            }),
        },
        Tab {
            href: "#setup",
            shape: Shape::Setup,
            name: words.tab_setup(),
            here: on(|place| {
                matches!(
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
                )
            }),
        },
        Tab {
            href: "#row",
            shape: Shape::Row,
            name: words.tab_row(),
            here: on(|place| {
                matches!(
                    place,
                    Place::Row | Place::RowNote | Place::Measure | Place::Stock | Place::Sets
                )
            }),
        },
        Tab {
            href: "#book",
            shape: Shape::Book,
            name: words.tab_book(),
            here: on(|place| {
                matches!(
                    place,
                    Place::Book
                        | Place::Books
                        | Place::Season
                        | Place::Report(_)
                        | Place::Records
                        | Place::Tables
                        | Place::Erase
                )
            }),
        },
    ]
}
