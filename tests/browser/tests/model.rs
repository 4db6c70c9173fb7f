//! Random deeds of a shift in a real browser, against the journal's own model: after each, the records of the phone must
//! tell the very shift that the model tells, and the screen must show it.
//!
//! The only story that knows app crates: the model is theirs. It begins with the phone's own records, is asked the same,
//! and never sees what the phone has written since. `cargo xtask harden` tells many. Never here: what a single deed looks
//! like (`summer_shift`).

use std::time::Duration;

use evenrow_browser_tests::beginnings;
use evenrow_browser_tests::browser::Phone;
use evenrow_browser_tests::chance::Chance;
use evenrow_browser_tests::counted::{tell, times};
use evenrow_browser_tests::server::Site;
use evenrow_journal::event::Finding;
use evenrow_journal::export::{Report, report};
use evenrow_journal::{Command, Entry, Id, Journal, State, wire};
use evenrow_rules::checklist::List;
use evenrow_rules::quantity::Instant;

/// A quarter to seven on the first of July in Helsinki, in milliseconds since 1970.
const QUARTER_TO_SEVEN_MS: i64 = 1_782_877_500_000;

/// What Helsinki is ahead of UTC then, in minutes.
const OFFSET_MINUTES: i16 = 180;

/// What the journal says of deeds that it is asked for.
struct Model {
    journal: Journal,
    now: Instant,
    /// The entries of the last deed, for as long as it can be undone.
    last: Vec<Id>,
}

impl Model {
    fn state(&self) -> State {
        State::fold(&self.journal)
    }

    /// Whether it can be; and if it can, it is done.
    fn is_asked(&mut self, command: Command) -> bool {
        let Ok(events) = self.state().decide(command) else {
            return false;
        };
        self.last.clear();
        for event in events {
            let count = self.journal.next_count();
            let id = Id::new(&format!("model-{count}")).expect("an id");
            self.last.push(id.clone());
            self.journal.take(&wire::write(&Entry {
                id,
                count,
                at: self.now,
                offset_minutes: OFFSET_MINUTES,
                device: Id::new("model").expect("an id"),
                event,
            }));
        }
        true
    }
}

/// What a journal tells of its last shift.
fn told(journal: &Journal, now: Instant) -> Report {
    let state = State::fold(journal);
    let shift = state.shifts.last().expect("a shift");
    report(&state, shift, now)
}

/// Everything that the phone keeps.
async fn kept(phone: &Phone) -> Journal {
    let mut journal = Journal::default();
    for record in phone.app().records_kept().await {
        journal.take(&record);
    }
    assert_eq!(journal.unreadable().count(), 0);
    journal
}

/// Waits until the phone keeps as many records as the model, and holds what they tell against what the model tells. How
/// many looks both know.
async fn compare(phone: &Phone, model: &Model, what: &str) -> usize {
    phone.app().sees_records(model.journal.len()).await;
    let wanted = told(&model.journal, model.now);
    assert_eq!(told(&kept(phone).await, model.now), wanted, "{what}");
    wanted.looks.len()
}

/// What can be done in a shift. That time passes is a deed as well.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Deed {
    Oil,
    Look,
    Note,
    Break,
    Tick,
    Undo,
    PutOff,
    Wait,
}

/// What can be done now; an alarm covers all but what answers it.
fn can_be_done(model: &Model, rings: bool, ticked: usize) -> Vec<Deed> {
    if rings {
        return vec![Deed::Oil, Deed::PutOff];
    }
    let state = model.state();
    let shift = state.running().expect("a shift that runs");
    let rests = shift.on_break_since().is_some();
    let all_done = shift.standing(model.now).next().is_none();
    let mut deeds = vec![Deed::Look, Deed::Note, Deed::Break, Deed::Wait, Deed::Wait];
    // The large button ends a break, and has nothing to do once all is oiled.
    if !rests && !all_done {
        deeds.push(Deed::Oil);
    }
    if ticked < List::Opening.items().len() {
        deeds.push(Deed::Tick);
    }
    if !model.last.is_empty() {
        deeds.push(Deed::Undo);
    }
    deeds
}

/// Does it on the phone, and asks the model for the same. Gives whether the model refuses it.
async fn is_done(
    deed: Deed,
    phone: &mut Phone,
    model: &mut Model,
    chance: &mut Chance,
    ticked: &mut usize,
    rings: bool,
) -> bool {
    let shift = phone.shift();
    let command = match deed {
        Deed::Wait => {
            let minutes = Duration::from_mins(1 + chance.below(45) as u64);
            phone.time_passes(minutes).await;
            model.now = model.now.plus(minutes);
            model.last.clear();
            return false;
        }
        Deed::Oil => {
            if rings {
                phone.alarm().done().await;
            } else {
                shift.press().await;
            }
            Command::Oil
        }
        Deed::PutOff => {
            let minutes = [5, 15][chance.below(2)];
            phone.alarm().again_in(minutes).await;
            Command::PutOff { minutes }
        }
        Deed::Look => {
            shift.all_turning().await;
            Command::Look(Finding::AllTurning)
        }
        Deed::Note => {
            let text = format!("Alder Loop, {}", chance.below(1_000_000));
            shift.write_note().await;
            phone.note().see().await;
            phone.note().write(&text).await;
            phone.note().keep().await;
            shift.see().await;
            Command::Note(text)
        }
        Deed::Break => {
            let state = model.state();
            let rests = state
                .running()
                .is_some_and(|it| it.on_break_since().is_some());
            if rests {
                shift.press().await;
                Command::EndBreak
            } else {
                shift.start_break().await;
                Command::StartBreak
            }
        }
        Deed::Tick => {
            let item = List::Opening.items()[*ticked];
            shift.to_opening().await;
            phone.checklist().tick(*ticked).await;
            phone.tabs().shift().await;
            shift.see().await;
            *ticked += 1;
            Command::Mark {
                list: List::Opening,
                item,
                done: true,
            }
        }
        Deed::Undo => {
            phone.notices().undo().await;
            let struck = Command::Strike(model.last.clone());
            let state = model.state();
            let before = state.running().map(|it| it.marks.len());
            let refused = !model.is_asked(struck);
            model.last.clear();
            let state = model.state();
            if state.running().map(|it| it.marks.len()) < before {
                *ticked -= 1;
            }
            return refused;
        }
    };
    !model.is_asked(command)
}

/// Some shifts in each run of the stories, many through the chore.
#[tokio::test]
async fn whatever_is_done_in_a_shift_the_phone_tells_what_the_journal_would_tell() {
    let histories = times("EVENROW_MODELS", 2);
    let (mut deeds, mut refused) = (0, 0);
    for number in 0..histories {
        let mut chance = Chance::new(7_000 + number);
        let site = Site::open();
        let mut phone = beginnings::a_shift_on_gravel(&site).await;
        let mut model = Model {
            journal: kept(&phone).await,
            now: Instant::from_unix_ms(QUARTER_TO_SEVEN_MS),
            last: Vec::new(),
        };
        let mut ticked = 0;
        let mut done = Vec::new();
        for _ in 0..25 {
            let rings = phone.long_day().rings().await;
            let choice = can_be_done(&model, rings, ticked);
            let deed = choice[chance.below(choice.len())];
            done.push(deed);
            let refusal = is_done(
                deed,
                &mut phone,
                &mut model,
                &mut chance,
                &mut ticked,
                rings,
            )
            .await;
            if refusal {
                phone.notices().understood().await;
                refused += 1;
            }
            deeds += 1;
            let looks = compare(&phone, &model, &format!("history {number}: {done:?}")).await;
            phone.shift().see_looks_on_the_line(looks).await;
        }
        if phone.long_day().rings().await {
            phone.alarm().done().await;
            model.is_asked(Command::Oil);
        }
        phone.shift().to_closing().await;
        phone.checklist().end_the_shift().await;
        assert!(model.is_asked(Command::EndShift));
        compare(&phone, &model, &format!("history {number}: {done:?}")).await;
        // And the same once the phone has read it all anew.
        phone.reload().await;
        compare(&phone, &model, &format!("history {number}, read anew")).await;
    }
    tell(
        "random deeds of a shift against the journal's own model",
        histories,
        &format!(
            "{deeds} deeds, {refused} refused by both; the phone's records told what the model told after each"
        ),
    );
}
