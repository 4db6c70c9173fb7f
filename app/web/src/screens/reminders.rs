//! Reminders: what this phone does, the sound to try, the check of a locked phone, and the phone's own calendar.

use evenrow_journal::calendar::{self, Armed, CalendarWords, Freshness, Reach, Ring, to_ring};
use evenrow_rules::oiling::Standing;
use leptos::prelude::*;

use crate::device::awake::Awake;
use crate::device::notify::Permission;
use crate::device::share::{self, Handed};
use crate::device::sound::{Sound, Strength};
use crate::device::{clock, page};
use crate::parts::live::drawn;
use crate::parts::plain::link;
use crate::parts::readiness::{Ability, Readiness};
use crate::phone_check::{ON_TIME_WITHIN, Proof, Stands};
use crate::shell::App;
use crate::words::{times, without_soft_hyphens};

/// What the shift that runs is promised: what this phone does, and its calendar.
pub fn promise(app: App) -> AnyView {
    let (phone, calendar) = (abilities(app), calendar_ability(app));
    let lines = Memo::new(move |_| [phone.get(), calendar.get()].concat());
    drawn(view! {
        <section class="promise">
            <h2>{app.words.promise_title()}</h2>
            <Readiness lines/>
            {link("action to-reminders", "#reminders", app.words.to_reminders())}
        </section>
    })
}

/// What this phone can and cannot do, as far as is known.
fn abilities(app: App) -> Memo<Vec<Ability>> {
    let (words, vigil) = (app.words, app.vigil);
    let ability = |good: bool, text: String| Ability { good, text };
    Memo::new(move |_| {
        let sound = match vigil.sound().get() {
            Sound::Ready => ability(true, words.can_sound()),
            Sound::Locked => ability(false, words.sound_locked()),
            Sound::Missing => ability(false, words.sound_missing()),
        };
        let awake = match vigil.awake().get() {
            Awake::Held => ability(true, words.can_stay_awake()),
            Awake::NotHeld => ability(false, words.may_go_dark()),
            Awake::Missing => ability(false, words.cannot_stay_awake()),
        };
        let locked = match vigil.proof().get() {
            None => ability(false, words.locked_unknown()),
            Some((Proof::Silent, _)) => ability(false, words.locked_silent()),
            Some((Proof::Rang(late), at)) => {
                let day = times::date(at, clock::offset_minutes(at));
                if late <= ON_TIME_WITHIN {
                    ability(true, words.locked_rang(&day))
                } else {
                    let late = late.as_secs().to_string();
                    ability(false, words.locked_rang_late(&late, &day))
                }
            }
        };
        vec![sound, awake, locked]
    })
}

/// Whether the phone's calendar will ring what is planned; no line if it was handed nothing of the shift that runs, or
/// nothing is planned any more.
fn calendar_ability(app: App) -> Memo<Vec<Ability>> {
    let words = app.words;
    let line = move |armed: &Armed, standing: &Standing| {
        let wanted = to_ring(standing, armed.reach);
        match armed.freshness(&wanted, app.vigil.moment().get()) {
            Freshness::Fresh => Some(Ability {
                good: true,
                text: words.calendar_fresh(&clocks(&armed.rings)),
            }),
            Freshness::Stale(_) => (!wanted.is_empty()).then(|| Ability {
                good: false,
                text: words.calendar_stale(&clocks(&wanted)),
            }),
        }
    };
    Memo::new(move |_| {
        let line = app.vigil.armed().with(|armed| {
            let armed = armed.as_ref()?;
            let is_of_it = app
                .state()
                .with(|state| state.running().is_some_and(|it| it.id == armed.shift));
            let reminder = app.vigil.reminder();
            reminder.with(|it| line(armed, &it.as_ref().filter(|_| is_of_it)?.standing))
        });
        line.into_iter().collect()
    })
}

/// The screen.
#[component]
pub fn Reminders(
    /// What every screen is handed.
    app: App,
) -> impl IntoView {
    let words = app.words;
    let vigil = app.vigil;
    let try_sound = move |strength| move |_| vigil.try_sound(strength);
    let may_ask = move || vigil.permission().get() == Permission::NotAsked;
    let notifications = move || match vigil.permission().get() {
        Permission::Granted => words.notifications_on(),
        Permission::Denied => words.notifications_off(),
        Permission::Missing => words.notifications_missing(),
        Permission::NotAsked => words.notifications_not_asked(),
    };
    view! {
        <h1 tabindex="-1">{words.reminders_title()}</h1>
        <Readiness lines=abilities(app)/>
        <h2>{words.try_sound_title()}</h2>
        <div class="pair">
            <button type="button" class="big-action try-gentle" on:click=try_sound(Strength::Gentle)>
                {words.try_gentle()}
            </button>
            <button type="button" class="big-action try-strong" on:click=try_sound(Strength::Strong)>
                {words.try_strong()}
            </button>
        </div>
        <p class="small">{words.sound_note()}</p>
        <PhoneCheck app/>
        <PhoneCalendar app/>
        <h2>{words.notifications_title()}</h2>
        <p class="notifications-state">{notifications}</p>
        {move || may_ask().then(|| view! {
            <button type="button" class="action ask-notifications" on:click=move |_| vigil.ask_for_notifications()>
                {words.notifications_ask()}
            </button>
        })}
        <a class="action" href="#shift">{words.back_to_shift()}</a>
    }
}

/// "Lock the phone now, I ring in a minute."
#[component]
fn PhoneCheck(
    /// What every screen is handed.
    app: App,
) -> impl IntoView {
    let (words, vigil) = (app.words, app.vigil);
    let stands = Memo::new(move |_| {
        let trial = vigil.trial().get()?;
        Some(trial.stands(app.now.get()))
    });
    let begin = move |_| vigil.begin_check();
    let end = move |proof| move |_| vigil.end_check(proof);
    let begin_button = move || {
        view! { <button type="button" class="big-action begin-check" on:click=begin>{words.check_begin()}</button> }
    };
    let shown = move || {
        match stands.get() {
        None => begin_button().into_any(),
        Some(Stands::Waiting(left)) => {
            let seconds = left.as_secs().to_string();
            view! {
                <p class="check-waiting">{words.check_lock_now(&seconds)}</p>
                <button type="button" class="action end-check" on:click=end(None)>{words.check_stop()}</button>
            }
            .into_any()
        }
        Some(Stands::AskWhetherHeard(late)) => view! {
            <p class="check-ask">{words.check_heard()}</p>
            <div class="pair">
                <button type="button" class="big-action check-heard" on:click=end(Some(Proof::Rang(late)))>
                    {words.answer_yes()}
                </button>
                <button type="button" class="big-action check-not-heard" on:click=end(Some(Proof::Silent))>
                    {words.answer_no()}
                </button>
            </div>
        }
        .into_any(),
        Some(Stands::WasSilent) => view! {
            <p class="caution check-silent">{words.locked_silent()}</p>
            <button type="button" class="big-action check-understood" on:click=end(Some(Proof::Silent))>
                {words.understood()}
            </button>
        }
        .into_any(),
        Some(Stands::WasNotLocked) => view! {
            <p class="caution check-not-locked">{words.check_was_not_locked()}</p>
            {begin_button()}
        }
        .into_any(),
    }
    };
    view! {
        <h2>{words.check_title()}</h2>
        <p>{words.check_lead()}</p>
        <div class="phone-check">{shown}</div>
    }
}

/// The phone's own calendar rings while the phone is locked: the next oiling, the whole shift, or the times to set by hand.
#[component]
fn PhoneCalendar(
    /// What every screen is handed.
    app: App,
) -> impl IntoView {
    let words = app.words;
    let state = calendar_ability(app);
    let handed = RwSignal::new(None);
    let large = RwSignal::new(false);
    let with_standing = move |read: &dyn Fn(&evenrow_journal::Id, &Standing) -> Option<String>| {
        let shift = app
            .state()
            .with(|state| state.running().map(|it| it.id.clone()))?;
        app.vigil
            .reminder()
            .with(|it| read(&shift, &it.as_ref()?.standing))
    };
    let ahead = Memo::new(move |_| {
        with_standing(&|_, standing| {
            let rings = to_ring(standing, Reach::WholeShift);
            (!rings.is_empty()).then(|| clocks(&rings))
        })
    });
    let hand_over = move |reach: Reach| {
        move |_| {
            let Some(shift) = app
                .state()
                .with_untracked(|state| state.running().map(|it| it.id.clone()))
            else {
                return;
            };
            let before = app.vigil.armed().get_untracked();
            let made = app.vigil.reminder().with_untracked(|it| {
                let next = Armed::after(before.as_ref(), shift, reach, &it.as_ref()?.standing);
                let [summary, description] = [words.oil_title(), words.calendar_description()]
                    .map(|it| without_soft_hyphens(&it));
                let said = CalendarWords {
                    product: "-//Evenrow//Evenrow//EN",
                    summary: &summary,
                    description: &description,
                };
                let text = calendar::text(&next, before.as_ref(), clock::now(), &said)?;
                Some((next, text))
            });
            let Some((next, text)) = made else { return };
            page::run(async move {
                let outcome = share::file("evenrow-oiling.ics", "text/calendar", &text).await;
                if outcome == Handed::Done {
                    app.vigil.arm(next);
                }
                handed.set(Some(outcome));
            });
        }
    };
    let refused = move || match handed.get() {
        Some(Handed::Refused) => words.calendar_refused(),
        Some(Handed::Done) => words.calendar_handed(),
        Some(Handed::Cancelled) | None => String::new(),
    };
    let choices = move || {
        view! {
            {move || (!state.with(Vec::is_empty)).then(|| view! {
                <div class="calendar-state"><Readiness lines=state/></div>
            })}
            <button type="button" class="big-action calendar-next" on:click=hand_over(Reach::Next)>
                {words.calendar_next()}
            </button>
            <button type="button" class="big-action calendar-shift" on:click=hand_over(Reach::WholeShift)>
                {words.calendar_shift()}
            </button>
            <button type="button" class="big-action calendar-large" on:click=move |_| large.update(|it| *it = !*it)>
                {words.calendar_large()}
            </button>
            <p role="status">{refused}</p>
            {move || large.get().then(|| view! { <p class="large-times">{ahead}</p> })}
        }
    };
    view! {
        <h2>{words.calendar_title()}</h2>
        <p>{words.calendar_lead()}</p>
        {move || if ahead.with(Option::is_some) {
            choices().into_any()
        } else {
            view! { <p class="calendar-none">{words.calendar_none()}</p> }.into_any()
        }}
    }
}

fn clocks(rings: &[Ring]) -> String {
    let times: Vec<String> = rings.iter().map(|ring| times::here(ring.at)).collect();
    times.join(", ")
}
