//! Keeps watch while the app runs: reads the clocks each time that it is woken, rings for what is due, notes when it slept or the clock
//! was moved, and knows what this phone can do.
//!
//! What is due and how urgently is decided by `evenrow_journal::reminder`; what the clocks say by its `watch`. Never
//! here: words on a screen, and how anything sounds (`device`).

use core::time::Duration;

use evenrow_journal::calendar::Armed;
use evenrow_journal::reminder::{Reminder, Ringing, Urgency};
use evenrow_journal::watch::{BLIND_AFTER, Noticed, Reading, compare, since_last_run};
use evenrow_journal::{Command, reminder};
use evenrow_rules::quantity::{Instant, Span};
use leptos::prelude::*;

use crate::desk::Desk;
use crate::device::awake::Awake;
use crate::device::notify::Permission;
use crate::device::sound::{Sound, Strength};
use crate::device::{awake, clock, invented, notify, page, preferences, sound, windows};
use crate::phone_check::{Proof, Trial};
use crate::words::{Words, times};

/// The one watch there is. It lives as long as the app does.
pub struct Vigil {
    desk: Desk,
    words: RwSignal<&'static Words>,
    now: RwSignal<Instant>,
    /// When the minute turned last, or something fell due.
    turned: RwSignal<Instant>,
    reminder: Memo<Option<Reminder>>,
    minute: Memo<Instant>,
    moment: Memo<Instant>,
    seen: StoredValue<Seen>,
    notified: StoredValue<Option<Instant>>,
    asleep: RwSignal<Option<Span>>,
    sound: RwSignal<Sound>,
    awake: RwSignal<Awake>,
    permission: RwSignal<Permission>,
    trial: RwSignal<Option<Trial>>,
    proof: RwSignal<Option<(Proof, Instant)>>,
    armed: RwSignal<Option<Armed>>,
    looked_up: StoredValue<bool>,
}

impl Vigil {
    /// Begins to watch. To be called once, under the owner of the whole app.
    pub fn begin(desk: Desk, words: RwSignal<&'static Words>) -> &'static Vigil {
        let now = RwSignal::new(clock::now());
        let turned = RwSignal::new(now.get_untracked());
        let reminder = Memo::new(move |_| {
            turned.track();
            let now = now.get_untracked();
            desk.state().with(|state| reminder::reconcile(state, now))
        });
        let wake_at = Memo::new(move |_| reminder.with(|it| it.as_ref()?.wake));
        let vigil: &'static Vigil = Box::leak(Box::new(Vigil {
            desk,
            words,
            now,
            turned,
            reminder,
            minute: Memo::new(move |_| start_of_minute(turned.get())),
            moment: Memo::new(move |_| {
                turned.track();
                desk.state().track();
                now.get_untracked()
            }),
            seen: StoredValue::new(Seen {
                last: None,
                hidden: page::is_hidden(),
            }),
            notified: StoredValue::new(None),
            asleep: RwSignal::new(None),
            sound: RwSignal::new(sound::state()),
            awake: RwSignal::new(awake::state()),
            permission: RwSignal::new(notify::permission()),
            trial: RwSignal::new(preferences::trial()),
            proof: RwSignal::new(None),
            armed: RwSignal::new(None),
            looked_up: StoredValue::new(false),
        }));
        windows::want_to_ring();
        // What a tap has changed is said once the tap is over: a line more or less would move the button from under it.
        sound::on_change(move || page::in_a_moment(move || vigil.sound.set(sound::state())));
        awake::on_change(move || page::in_a_moment(move || vigil.awake.set(awake::state())));
        page::on_visibility(move || vigil.seen_or_hidden());
        let running = Memo::new(move |_| desk.state().with(|state| state.running().is_some()));
        Effect::new(move |_| {
            let running = running.get() && !invented::is_shown();
            awake::keep(running);
            if running {
                sound::keep_ready();
            }
        });
        // What was oiled, or ended, or done in another window, stands on the icon no longer.
        let due = Memo::new(move |_| vigil.due().is_some_and(|(_, due)| due));
        Effect::new(move |_| {
            if !due.get() || !page::is_hidden() {
                notify::badge(0);
            }
        });
        Effect::new(move |_| clock::wake_at(wake_at.get(), move || vigil.wake(clock::reading())));
        vigil
    }

    /// The present moment, to the second.
    pub fn now(&'static self) -> ReadSignal<Instant> {
        self.now.read_only()
    }

    /// When the present minute began: nothing that most screens show is finer.
    pub fn minute(&'static self) -> Memo<Instant> {
        self.minute
    }

    /// The moment at which what is shown changed last: the minute, what is due, or what is known. Whoever shows hours and
    /// minutes looks at it, and is not asked anew each second.
    pub fn moment(&'static self) -> Memo<Instant> {
        self.moment
    }

    /// How the running shift stands.
    pub fn reminder(&'static self) -> Memo<Option<Reminder>> {
        self.reminder
    }

    /// What rings now.
    pub fn ringing(&'static self) -> Option<Ringing> {
        self.reminder.with(|it| it.as_ref()?.ringing)
    }

    /// When the app did not run although something fell due, until the operator has read it.
    pub fn asleep(&'static self) -> RwSignal<Option<Span>> {
        self.asleep
    }

    /// Whether this phone can sound.
    pub fn sound(&'static self) -> ReadSignal<Sound> {
        self.sound.read_only()
    }

    /// Whether the screen is kept awake.
    pub fn awake(&'static self) -> ReadSignal<Awake> {
        self.awake.read_only()
    }

    /// Whether notifications may be shown.
    pub fn permission(&'static self) -> ReadSignal<Permission> {
        self.permission.read_only()
    }

    /// The check of this phone that runs.
    pub fn trial(&'static self) -> ReadSignal<Option<Trial>> {
        self.trial.read_only()
    }

    /// What the last check proved, and when.
    pub fn proof(&'static self) -> ReadSignal<Option<(Proof, Instant)>> {
        self.look_up();
        self.proof.read_only()
    }

    /// What was handed to the phone's calendar last.
    pub fn armed(&'static self) -> ReadSignal<Option<Armed>> {
        self.look_up();
        self.armed.read_only()
    }

    /// Reads what this phone was found to do and what its calendar holds, once a screen of the third file asks.
    fn look_up(&'static self) {
        if !self.looked_up.get_value() {
            self.looked_up.set_value(true);
            self.proof
                .try_update_untracked(|it| *it = preferences::proof());
            self.armed
                .try_update_untracked(|it| *it = preferences::armed());
        }
    }

    /// Keeps what was handed to the phone's calendar.
    pub fn arm(&'static self, armed: Armed) {
        self.look_up();
        preferences::set_armed(&armed);
        self.armed.set(Some(armed));
    }

    /// A shift is about to start. To be called straight from that tap: it unlocks the sound, and the one question about
    /// notifications is asked.
    pub fn make_ready(&'static self) {
        if invented::is_shown() {
            return;
        }
        sound::unlock();
        sound::keep_ready();
        self.ask_for_notifications();
    }

    /// Asks whether notifications may be shown. To be called straight from a tap.
    pub fn ask_for_notifications(&'static self) {
        if self.permission.get_untracked() == Permission::NotAsked {
            page::run(async move { self.permission.set(notify::ask().await) });
        }
    }

    /// Sounds once. To be called straight from a tap.
    pub fn try_sound(&'static self, strength: Strength) {
        sound::unlock();
        sound::play(strength);
        sound::vibrate(strength);
        self.sound.set(sound::state());
    }

    /// Begins a check of this phone. To be called straight from a tap.
    pub fn begin_check(&'static self) {
        sound::unlock();
        self.set_trial(Some(Trial::begin(clock::now())));
    }

    /// Keeps what a check has proved, or nothing, and ends it.
    pub fn end_check(&'static self, proof: Option<Proof>) {
        self.set_trial(None);
        if let Some(proof) = proof {
            self.look_up();
            let proof = (proof, clock::now());
            preferences::set_proof(proof);
            self.proof.set(Some(proof));
        }
    }

    fn set_trial(&'static self, trial: Option<Trial>) {
        preferences::set_trial(trial);
        self.trial.set(trial);
    }

    /// To be called every second and at every return to the eye; it sees to being called at the moment that it asks for.
    pub fn wake(&'static self, reading: Reading) {
        let hidden = reading.hidden;
        let (before, reading) = self.look(reading);
        let noticed = match before {
            Some(before) => compare(before, reading),
            None => preferences::last_alive()
                .map_or(Noticed::Nothing, |last| since_last_run(last, reading.wall)),
        };
        match noticed {
            Noticed::Nothing => {}
            Noticed::Blind(span) => self.was_blind(span),
            Noticed::Jumped(by_ms) => self.has_jumped(by_ms, reading.wall),
        }
        if before.is_none_or(|before| start_of_minute(before.wall) != start_of_minute(reading.wall))
        {
            preferences::set_last_alive(reading.wall);
        }
        let last = before.map_or_else(|| self.now.get_untracked(), |before| before.wall);
        self.now.set(reading.wall);
        let stands = || {
            self.reminder
                .with_untracked(|it| it.as_ref().map(|it| (it.wake, it.ringing)))
        };
        let mut known = stands();
        let falls_due = known.is_some_and(|(wake, _)| wake.is_some_and(|at| at <= reading.wall));
        if falls_due || start_of_minute(last) != start_of_minute(reading.wall) {
            // Only now does all that shows hours and minutes look again: a second that changes nothing costs a phone next
            // to nothing.
            self.turned.set(reading.wall);
            known = stands();
        }
        if let Some((_, Some(ringing))) = known {
            self.ring(ringing, last, reading.wall);
        }
        self.go_on_checking(reading.wall, hidden);
    }

    /// Keeps a reading for the next one; gives the one before, and this one as hidden if the page was since.
    fn look(&'static self, reading: Reading) -> (Option<Reading>, Reading) {
        let look = |seen: &mut Seen| {
            let was_hidden = core::mem::replace(&mut seen.hidden, reading.hidden);
            let reading = Reading {
                hidden: reading.hidden || was_hidden,
                ..reading
            };
            (seen.last.replace(reading), reading)
        };
        self.seen.try_update_value(look).unwrap_or((None, reading))
    }

    /// Notes that the app did not run, unless another window did.
    fn was_blind(&'static self, span: Span) {
        let start = preferences::last_alive().map_or(span.start(), |it| it.max(span.start()));
        let span = Span::new(start.min(span.end()), span.end());
        if span.length() <= BLIND_AFTER {
            return;
        }
        let fell_due = self.desk.state().with_untracked(|state| {
            let running = state.running().filter(|shift| shift.setup().is_some());
            running.is_some_and(|shift| !shift.fell_due_in(span).is_empty())
        });
        if fell_due {
            self.asleep.set(Some(span));
            self.desk.note(Command::NoteBlind(span));
        }
    }

    /// Notes that the clock was moved, unless another window did: then it has been alive since, by the new time.
    fn has_jumped(&'static self, by_ms: i64, now: Instant) {
        let apart = |alive: Instant| now.since(alive).max(alive.since(now));
        if preferences::last_alive().is_none_or(|alive| A_MINUTE <= apart(alive)) {
            self.desk.note(Command::NoteJump { by_ms });
        }
    }

    fn ring(&'static self, ringing: Ringing, last: Instant, now: Instant) {
        if !windows::rings() {
            return;
        }
        if ringing.sounds_between(last, now) {
            let strength = match ringing.urgency {
                Urgency::Gentle => Strength::Gentle,
                Urgency::Louder | Urgency::Pressing => Strength::Strong,
            };
            sound::play(strength);
            sound::vibrate(strength);
        }
        if page::is_hidden() && self.notified.get_value() != Some(ringing.since) {
            self.notified.set_value(Some(ringing.since));
            self.tell(true);
        }
    }

    /// The check of this phone goes on at every wake.
    fn go_on_checking(&'static self, now: Instant, hidden: bool) {
        let Some(mut trial) = self.trial.get_untracked() else {
            return;
        };
        let before = trial;
        if trial.wake(now, hidden) {
            sound::play(Strength::Strong);
            sound::vibrate(Strength::Strong);
        }
        if trial != before {
            self.set_trial(Some(trial));
        }
    }

    fn seen_or_hidden(&'static self) {
        if page::is_hidden() {
            self.seen.update_value(|seen| seen.hidden = true);
            self.tell(false);
        } else {
            notify::badge(0);
            page::run(notify::clear());
        }
    }

    /// When the sockets are to be oiled next, and whether that is due.
    fn due(&'static self) -> Option<(Instant, bool)> {
        let now = self.moment.get();
        self.reminder.with(|it| {
            let next = it.as_ref()?.standing.next()?;
            Some((next.due.at, next.due.at <= now))
        })
    }

    /// Puts the plan, or what is due, where a phone shows it while the app is hidden.
    fn tell(&'static self, again: bool) {
        let Some((at, due)) = untrack(|| self.due()) else {
            return;
        };
        let (words, at) = (self.words.get_untracked(), times::here(at));
        let (title, count) = if due {
            (words.notify_due(&at), 1)
        } else {
            (words.notify_next(&at), 0)
        };
        notify::badge(count);
        if self.permission.get_untracked() == Permission::Granted {
            let body = self.words.get_untracked().notify_body();
            page::run(async move { notify::show(&title, &body, again).await });
        }
    }
}

/// What was seen at the last wake.
struct Seen {
    last: Option<Reading>,
    /// Whether the page was hidden then, or has been since.
    hidden: bool,
}

/// How often a window leaves a mark that it runs, and the step in which most screens show the time.
const A_MINUTE: Duration = Duration::from_mins(1);

/// When the minute of a moment began.
fn start_of_minute(at: Instant) -> Instant {
    let minute = A_MINUTE.as_millis() as i64;
    Instant::from_unix_ms(at.unix_ms().div_euclid(minute).saturating_mul(minute))
}
