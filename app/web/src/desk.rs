//! The desk: takes commands, keeps what comes of them, and holds the state. The one writer.
//!
//! A command is decided, its events are kept durably, and only then applied and shown. Commands are served one after the
//! other, so that each is decided on what the one before it left. Never here: words, and how things are kept (`device`).

use std::collections::VecDeque;

use evenrow_journal::checkpoint::Checkpoint;
use evenrow_journal::journal::Change;
use evenrow_journal::{AtWork, Command, Entry, Event, Id, Journal, Refusal, State, backup, wire};
use evenrow_rules::quantity::Instant;
use leptos::prelude::*;

use crate::device::store::{self, Keeping, NotKept};
use crate::device::{clock, invented, page, preferences, random, text, windows};
use crate::district;
use crate::later::{self, Later};

/// How long an entry can be undone after it was kept, in milliseconds.
const UNDO_MS: i64 = 10_000;

const A_SECOND_MS: i64 = 1000;

/// From so many records on a checkpoint saves a start something.
const MANY: usize = 1000;

/// After so many more a new one is made.
const MANY_MORE: usize = 200;

/// So many records are read before the browser may draw and hear taps.
const AT_A_TIME: usize = 1000;

/// What was kept last, while it can still be undone.
#[derive(Clone, Debug, PartialEq)]
pub struct Undo {
    /// The entries to strike.
    pub entries: Vec<Id>,
    /// What they say.
    pub event: Event,
    /// When they were kept.
    pub kept: Instant,
}

impl Undo {
    /// Whether it can still be undone; `now` is looked at once a second, and may be older than the tap. A clock that was
    /// set back does not lengthen the time.
    pub fn holds(&self, now: Instant) -> bool {
        (-A_SECOND_MS..UNDO_MS).contains(&self.since(now))
    }

    /// Whether it never can be again while the clock goes on.
    pub fn is_over(&self, now: Instant) -> bool {
        UNDO_MS <= self.since(now)
    }

    fn since(&self, now: Instant) -> i64 {
        now.unix_ms() - self.kept.unix_ms()
    }
}

/// Why the last command came to nothing.
#[derive(Clone, Debug, PartialEq)]
pub enum Trouble {
    /// It was refused; nothing was changed.
    Refused(Refusal),
    /// The phone did not keep it. It can be tried again.
    NotKept(NotKept, Command),
}

/// Why records of a file were not taken in.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum NotTakenIn {
    /// A newer version of the app has written here; this one only reads.
    OnlyReads,
    /// The operator stopped it.
    Stopped,
    /// The phone did not keep them.
    NotKept(NotKept),
}

/// When the last backup was handed over, and how many records it held.
type BackedUp = Option<(Instant, usize)>;

/// What to do once a command has been kept; nothing for one that the app itself asks for.
type Then = Option<Box<dyn FnOnce()>>;

/// Handles to the one desk there is.
#[derive(Clone, Copy)]
pub struct Desk {
    journal: StoredValue<Journal>,
    /// How many of the kept records were not read, for a checkpoint stands for them.
    left_out: StoredValue<usize>,
    knows_all: RwSignal<bool>,
    /// How often all records were erased, here or in another window.
    erasures: StoredValue<usize>,
    /// Of how many records the kept checkpoint was made.
    checkpoint_of: StoredValue<usize>,
    state: RwSignal<State>,
    waiting: StoredValue<VecDeque<(Command, Instant, Then)>, LocalStorage>,
    keeping: RwSignal<bool>,
    trouble: RwSignal<Option<Trouble>>,
    undo: RwSignal<Option<Undo>>,
    place_of_records: RwSignal<Keeping>,
    backed_up: RwSignal<BackedUp>,
    erased: RwSignal<Option<(Vec<String>, BackedUp)>>,
    taken_in: RwSignal<usize>,
    stopped: StoredValue<bool>,
}

impl Desk {
    /// Opens the desk on the records of this phone, and listens for other windows; or on the invented district, which
    /// knows of neither.
    pub async fn open(keeping: Keeping) -> Desk {
        let desk = Desk {
            journal: StoredValue::new(Journal::default()),
            left_out: StoredValue::new(0),
            knows_all: RwSignal::new(true),
            erasures: StoredValue::new(0),
            checkpoint_of: StoredValue::new(0),
            state: RwSignal::new(State::default()),
            waiting: StoredValue::new_local(VecDeque::new()),
            keeping: RwSignal::new(false),
            trouble: RwSignal::new(None),
            undo: RwSignal::new(None),
            place_of_records: RwSignal::new(keeping),
            backed_up: RwSignal::new(preferences::backed_up()),
            erased: RwSignal::new(None),
            taken_in: RwSignal::new(0),
            stopped: StoredValue::new(false),
        };
        if invented::is_shown() {
            desk.take_district().await;
            return desk;
        }
        if !desk.begin_at_checkpoint().await {
            desk.read().await;
        } else if desk.checkpoint_of.get_value() + 10 * MANY_MORE < desk.known() {
            page::run(desk.read_all());
        }
        page::run(async move { desk.place_of_records.set(store::ask_to_persist().await) });
        store::on_change_elsewhere(move |erased| {
            if erased {
                desk.forget();
            }
            page::run(desk.catch_up());
        });
        desk
    }

    /// Begins with the few records of the checkpoint and those that were kept since, if these are all there are.
    async fn begin_at_checkpoint(self) -> bool {
        let kept = preferences::checkpoint();
        let Some(kept) = kept.as_deref().and_then(Checkpoint::read) else {
            return false;
        };
        self.checkpoint_of.set_value(kept.all);
        self.left_out.set_value(kept.left_out());
        self.knows_all.set(false);
        self.journal.set_value(kept.journal);
        self.fold();
        let begun = self.takes_what_came().await;
        if !begun {
            self.journal.set_value(Journal::default());
            self.checkpoint_of.set_value(0);
            self.fold();
        }
        begun
    }

    /// Takes in what was kept since by any window; false where records are missing even then.
    async fn takes_what_came(self) -> bool {
        let from = self
            .journal
            .with_value(|journal| Id::all_from(journal.next_count()));
        if let Some(came) = store::read_from(&from).await {
            self.take(&came);
        }
        store::count().await == Some(self.known()) && !self.strikes_what_was_left_out()
    }

    /// Knows again what is kept, be it another window's.
    async fn catch_up(self) {
        // The invented district is kept nowhere.
        if !invented::is_shown() && !self.takes_what_came().await {
            self.read().await;
        }
    }

    /// How many of the kept records it knows of.
    fn known(self) -> usize {
        self.journal.with_value(Journal::len) + self.left_out.get_value()
    }

    fn strikes_what_was_left_out(self) -> bool {
        0 < self.left_out.get_value() && self.journal.with_value(Journal::strikes_what_is_not_here)
    }

    /// Whether all records have been read. Until then the machine, the plan and the shift that runs are known, and not what
    /// has been.
    pub fn knows_all(self) -> ReadSignal<bool> {
        self.knows_all.read_only()
    }

    /// Reads all records, if that has not been done.
    pub async fn read_all(self) {
        // Asked twice it is done once.
        let reading = async move {
            if !self.knows_all.get_untracked() {
                self.read().await;
            }
        };
        windows::alone("reading", reading).await;
    }

    /// Takes the invented district in; this phone's own records again where there is none to be had.
    async fn take_district(self) {
        let file = text::file(district::FILE).await.unwrap_or_default();
        let now = clock::now();
        let records = district::records(&file, now, clock::offset_minutes(now));
        self.take(&records);
        if records.is_empty() {
            invented::leave();
        }
    }

    /// What is known now.
    pub fn state(self) -> ReadSignal<State> {
        self.state.read_only()
    }

    /// Whether something is being kept at this moment.
    pub fn keeping(self) -> ReadSignal<bool> {
        self.keeping.read_only()
    }

    /// Why the last command came to nothing.
    pub fn trouble(self) -> ReadSignal<Option<Trouble>> {
        self.trouble.read_only()
    }

    /// What can be undone.
    pub fn undoable(self) -> ReadSignal<Option<Undo>> {
        self.undo.read_only()
    }

    /// Where the records go.
    pub fn place_of_records(self) -> ReadSignal<Keeping> {
        self.place_of_records.read_only()
    }

    /// Looks into the records. To be followed by whoever shows them: track [`Desk::state`].
    pub fn look<T>(self, read: impl FnOnce(&Journal) -> T) -> T {
        self.journal.with_value(read)
    }

    /// When the last backup was handed over, and how many records it held.
    pub fn backed_up(self) -> ReadSignal<BackedUp> {
        self.backed_up.read_only()
    }

    /// All records have been handed over as a backup.
    pub fn has_backed_up(self, at: Instant) {
        self.set_backed_up(Some((at, self.look(Journal::len))));
    }

    fn set_backed_up(self, backed_up: BackedUp) {
        preferences::set_backed_up(backed_up);
        self.backed_up.set(backed_up);
    }

    /// Takes in records of a file, all of them or none; says how many are kept by now.
    pub async fn take_in(
        self,
        (names, new): (Vec<String>, Vec<String>),
        file: &Journal,
        there: impl Fn(u32) + 'static,
    ) -> Result<(), NotTakenIn> {
        if self.state.with_untracked(|state| state.read_only) {
            return Err(NotTakenIn::OnlyReads);
        }
        self.stopped.set_value(false);
        let many = new.len();
        let kept = windows::alone("desk", store::take_in(names, new, there)).await;
        kept.map_err(|why| {
            if self.stopped.get_value() {
                NotTakenIn::Stopped
            } else {
                NotTakenIn::NotKept(why)
            }
        })?;
        self.journal.update_value(|journal| journal.merge(file));
        self.fold();
        self.taken_in.set(many);
        Ok(())
    }

    /// How many records were taken in last, until another file is chosen.
    pub fn taken_in(self) -> RwSignal<usize> {
        self.taken_in
    }

    /// Stops what [`Desk::take_in`] has not finished; nothing of it is kept.
    pub fn stop_taking_in(self) {
        self.stopped.set_value(true);
        store::stop_taking_in();
    }

    /// Removes every record from this phone. Until this window closes they can be put back.
    pub async fn erase(self) -> Result<(), NotKept> {
        windows::alone("desk", store::erase()).await?;
        let records = self.look(|journal| journal.records().map(str::to_owned).collect());
        self.erased
            .set(Some((records, self.backed_up.get_untracked())));
        self.set_backed_up(None);
        preferences::set_checkpoint(None);
        self.forget();
        Ok(())
    }

    /// How many records this window has erased and can put back; none if it has not.
    pub fn erased(self) -> Option<usize> {
        self.erased
            .with(|erased| erased.as_ref().map(|(records, _)| records.len()))
    }

    /// Puts back what was erased, beside what has been recorded since.
    pub async fn put_back(self) -> Result<(), NotKept> {
        let Some((records, backed_up)) = self.erased.get_untracked() else {
            return Ok(());
        };
        let names = records.iter().map(|record| backup::name_of(record));
        store::append(names.collect(), records.clone()).await?;
        self.erased.set(None);
        self.set_backed_up(backed_up);
        self.take(&records);
        Ok(())
    }

    /// Nothing of what was there is shown any more.
    fn forget(self) {
        self.journal.set_value(Journal::default());
        self.left_out.set_value(0);
        self.checkpoint_of.set_value(0);
        self.erasures.update_value(|times| *times += 1);
        self.knows_all.set(true);
        self.undo.set(None);
        self.fold();
    }

    /// Asks for a change.
    pub fn submit(self, ask: Command) {
        self.submit_then(ask, || {});
    }

    /// Asks for a change, and does something once it has been kept.
    pub fn submit_then(self, ask: Command, then: impl FnOnce() + 'static) {
        self.line_up(ask, Some(Box::new(then)));
    }

    /// Records what the app itself has noticed. It is no tap of the operator's: it can neither be undone nor refused, and
    /// it hides no trouble that the operator has not read yet.
    pub fn note(self, noticed: Command) {
        self.line_up(noticed, None);
    }

    fn line_up(self, ask: Command, then: Then) {
        // It happened at the tap, however long another window keeps this one waiting.
        let tapped = clock::now();
        self.waiting
            .update_value(|waiting| waiting.push_back((ask, tapped, then)));
        if !self.keeping.get_untracked() {
            self.keeping.set(true);
            page::run(self.serve());
        }
    }

    /// Strikes what was kept last, if it still can be.
    pub fn undo_last(self) {
        if let Some(undo) = self.undo.get_untracked() {
            self.submit(Command::Strike(undo.entries));
        }
    }

    /// Says why something cannot be, before it is asked for.
    pub fn refuse(self, why: Refusal) {
        self.trouble.set(Some(Trouble::Refused(why)));
    }

    /// The operator has read why the last command came to nothing.
    pub fn clear_trouble(self) {
        self.trouble.set(None);
    }

    async fn serve(self) {
        while let Some((ask, tapped, then)) =
            self.waiting.try_update_value(VecDeque::pop_front).flatten()
        {
            self.serve_one(ask, tapped, then).await;
        }
        self.keeping.set(false);
    }

    /// One window at a time decides and writes, so that each decides on what the other has left.
    async fn serve_one(self, ask: Command, tapped: Instant, then: Then) {
        windows::alone("desk", self.decide_and_keep(ask, tapped, then)).await;
    }

    async fn decide_and_keep(self, ask: Command, tapped: Instant, then: Then) {
        if then.is_some() {
            self.trouble.set(None);
        }
        // Another window may have recorded something that this one, asleep, has not heard of.
        if store::count().await != Some(self.known()) {
            self.catch_up().await;
        }
        let Some(decided) = self.decide(ask.clone()).await else {
            let why = NotKept("a file of the app is not here".to_owned());
            return self.trouble.set(Some(Trouble::NotKept(why, ask)));
        };
        let happened = match decided {
            Ok(happened) => happened,
            Err(refusal) => {
                if then.is_some() {
                    self.trouble.set(Some(Trouble::Refused(refusal)));
                }
                return;
            }
        };
        if happened.is_empty() {
            return;
        }
        let entries = self.stamp(happened, tapped);
        let keys = entries
            .iter()
            .map(|entry| entry.id.as_str().to_owned())
            .collect();
        let records: Vec<String> = entries.iter().map(wire::write).collect();
        if let Err(not_kept) = store::append(keys, records.clone()).await {
            return self.trouble.set(Some(Trouble::NotKept(not_kept, ask)));
        }
        self.take(&records);
        if self.strikes_what_was_left_out() {
            self.read().await;
        }
        if let Some(then) = then {
            self.undo.set(undo(&ask, &entries));
            then();
        }
    }

    /// None where it takes the third file to decide, and that does not arrive.
    async fn decide(self, ask: Command) -> Option<Result<Vec<Event>, Refusal>> {
        let at_work = self.state.with_untracked(|state| state.decide_at_work(ask));
        match at_work {
            Ok(AtWork::Decided(happened)) => Some(Ok(happened)),
            Ok(AtWork::HandedBack(ask)) => {
                let later = later::fetch().await?;
                // A set-up asks for no more than the machine and the shift.
                if !matches!(ask, Command::UseSetup { .. }) {
                    self.read_all().await;
                }
                Some(
                    self.state
                        .with_untracked(|state| (later.decide)(state, ask)),
                )
            }
            Err(refusal) => Some(Err(refusal)),
        }
    }

    fn stamp(self, happened: Vec<Event>, at: Instant) -> Vec<Entry> {
        let device = preferences::device();
        let first = self.journal.with_value(Journal::next_count);
        (first..)
            .zip(happened)
            .map(|(count, event)| Entry {
                id: Id::counted(count, random::bits()),
                count,
                at,
                offset_minutes: clock::offset_minutes(at),
                device: device.clone(),
                event,
            })
            .collect()
    }

    /// Reads all records anew; those already known change nothing.
    async fn read(self) {
        let Ok(records) = store::read().await else {
            // Nothing is shown that was not read: the operator is told, and records go on being added to what is there.
            return self.place_of_records.set(Keeping::Unknown);
        };
        let erasures = self.erasures.get_value();
        let mut all = Journal::default();
        for (at, some) in records.chunks(AT_A_TIME).enumerate() {
            if 0 < at {
                page::breathe().await;
            }
            all.take_all(some);
        }
        if erasures != self.erasures.get_value() {
            // They are gone by now, and whoever heard of it has read what is left.
            return;
        }
        self.journal.update_value(|journal| {
            // What was kept meanwhile.
            all.merge(journal);
            *journal = all;
        });
        self.left_out.set_value(0);
        self.fold();
        self.knows_all.set(true);
        self.keep_checkpoint();
    }

    /// Keeps a checkpoint for the next start, where that would otherwise read much.
    fn keep_checkpoint(self) {
        let all = self.journal.with_value(Journal::len);
        if all < MANY || all < self.checkpoint_of.get_value() + MANY_MORE {
            return;
        }
        page::run(async move {
            // Before it is alone: a tap must not wait for a file that may never arrive.
            if let Some(later) = later::fetch().await {
                windows::alone("desk", self.make_checkpoint(later)).await;
            }
        });
    }

    async fn make_checkpoint(self, later: Later) {
        // Another window may have erased them.
        if !self.knows_all.get_untracked() || store::count().await != Some(self.known()) {
            return;
        }
        let made = self.journal.with_value(|journal| {
            self.state
                .with_untracked(|state| (later.checkpoint)(journal, state))
        });
        preferences::set_checkpoint(made.as_deref());
        self.checkpoint_of.set_value(self.known());
    }

    fn take(self, records: &[String]) {
        let change = self
            .journal
            .try_update_value(|journal| journal.take_all(records));
        match change {
            None | Some(Change::Nothing) => {}
            Some(change) => self.journal.with_value(|journal| {
                self.state.update(|state| state.follow(journal, change));
            }),
        }
    }

    fn fold(self) {
        self.state.set(self.journal.with_value(State::fold));
    }
}

/// What can be undone of a command just kept: everything but a strike.
fn undo(ask: &Command, entries: &[Entry]) -> Option<Undo> {
    if matches!(ask, Command::Strike(_)) {
        return None;
    }
    let last = entries.last()?;
    Some(Undo {
        entries: entries.iter().map(|entry| entry.id.clone()).collect(),
        event: last.event.clone(),
        kept: last.at,
    })
}
