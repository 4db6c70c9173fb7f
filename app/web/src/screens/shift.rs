//! The shift that runs: what is due next, when, and is it late; then everything else that is recorded in a shift.

use evenrow_journal::Command;
use evenrow_journal::event::Finding;
use evenrow_journal::state::Shift as ShiftRecord;
use evenrow_rules::checklist::List;
use evenrow_rules::oiling::{Slot, Standing, Status};
use evenrow_rules::quantity::Instant;
use leptos::prelude::*;

use super::line;
use super::start::Start;
use crate::parts::icon::Shape;
use crate::parts::live::{drawn, live, nothing, perhaps, settled};
use crate::parts::next_job::{Card, Press, next_job};
use crate::parts::plain::{button, link, sentence, within};
use crate::parts::shift_line::shift_line;
use crate::place::Place;
use crate::shell::{App, go};
use crate::words::times;

/// What the one large button does.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Next {
    ChooseSetup,
    EndBreak,
    Oil,
}

/// The screen.
#[component]
pub fn Shift(
    /// What every screen is handed.
    app: App,
) -> impl IntoView {
    let running = settled(move || app.state().with(|state| state.running().is_some()));
    live(move || {
        if running.get() {
            running_shift(app)
        } else {
            view! { <Start app/> }.into_any()
        }
    })
}

/// The shift as it stands, drawn again whenever that has changed; below it what this phone does about it.
fn running_shift(app: App) -> AnyView {
    let stands = move || {
        let now = app.vigil.moment().get();
        let machine = app.machine.with(|it| it.as_ref().map(|it| it.id.clone()));
        app.state().with(|state| {
            // Between the end of a shift and the next screen there is none.
            let Some(shift) = state.running() else {
                return nothing();
            };
            let has_set = machine.is_some_and(|machine| state.teeth.on(&machine).is_some());
            as_it_stands(app, shift, has_set, now)
        })
    };
    // All of it stands below the rest, so that nothing moves when it comes.
    let promise = move || {
        let later = app.later().filter(|_| !app.invented)?;
        Some((later.promise)(app))
    };
    drawn(view! { <div class="shift">{live(stands)}{live(move || perhaps(promise()))}</div> })
}

/// What is due, the day on a line, and all that can be recorded now.
fn as_it_stands(app: App, shift: &ShiftRecord, has_set: bool, now: Instant) -> AnyView {
    let words = app.words;
    let standing = shift.standing(now);
    let next = next(shift);
    let setup = shift.setup();
    let work = setup.map_or_else(|| words.work_not_chosen(), |setup| words.work(setup.work));
    let tally = setup.map_or_else(String::new, |_| tally(app, &standing));
    let press = move || match next {
        Next::ChooseSetup => go(&Place::Setup),
        Next::EndBreak => app.desk.submit(Command::EndBreak),
        Next::Oil => app.desk.submit(Command::Oil),
    };
    let on_break = (next == Next::EndBreak).then(|| oiled_on_break(app, &standing, now));
    let looks = setup.map(|_| looks(app, shift, has_set, now));
    let opening = words.opening_tally(
        &shift.ticked(List::Opening).to_string(),
        &List::Opening.items().len().to_string(),
    );
    let start_break = (next != Next::EndBreak).then(|| {
        button("action start-break", words.start_break(), move || {
            app.desk.submit(Command::StartBreak);
        })
    });
    drawn(view! {
        <div class="shift-now">
        <div class="shift-head">
            {within("shift-head-work", work)}
            {within("shift-head-tally", tally)}
        </div>
        {shift_line(line::shown(shift, &standing, now, words))}
        {next_job(card(app, shift, &standing, now), press)}
        </div>
        <div class="shift-more">
        {perhaps(on_break)}
        {perhaps(looks)}
        <div class="trio">
            {perhaps(start_break)}
            {link("action change-work", "#setup", words.change_work())}
            {link("action write-note", "#note", words.write_note())}
        </div>
        {link("action to-opening", "#opening", opening)}
        {link("action to-closing", "#closing", words.end_of_shift())}
        </div>
    })
}

/// What is due next is told on a break as well, and can be noted.
fn oiled_on_break(app: App, standing: &Standing, now: Instant) -> AnyView {
    let words = app.words;
    let when = standing
        .next()
        .map_or_else(String::new, |slot| oil_when(app, slot, now));
    drawn(view! {
        <section class="looks">
            <h2 class="looks-title">
                <span>{words.oil_title()}</span>
                <span class="oil-when">{when}</span>
            </h2>
            {button("action oiled-in-break", words.oiled_now(), move || app.desk.submit(Command::Oil))}
        </section>
    })
}

/// When to look at the teeth, what was seen, and whether that has them oiled more often.
fn looks(app: App, shift: &ShiftRecord, has_set: bool, now: Instant) -> AnyView {
    let words = app.words;
    let when = shift.next_look(now).map_or_else(String::new, |at| {
        if at <= now {
            words.look_now()
        } else {
            words.look_in(&times::countdown(at.since(now)))
        }
    });
    // With a set on the machine the odd teeth are noted one by one; without, they are counted.
    let some_not = if has_set { "#row" } else { "#look" };
    let all_turning = move |_| app.desk.submit(Command::Look(Finding::AllTurning));
    let more_often = shift.facts(now).is_shortened(now).then(|| {
        drawn(view! {
            <div class="more-often">
                {sentence("caution", words.oil_more_often())}
                {button("action keep-usual", words.keep_usual_interval(), move || app.desk.submit(Command::KeepUsualInterval))}
            </div>
        })
    });
    drawn(view! {
        <section class="looks">
            <h2 class="looks-title">
                <span>{words.look_title()}</span>
                <span class="looks-when">{when}</span>
            </h2>
            <div class="pair">
                <button type="button" class="big-action all-turning" on:click=all_turning>{words.all_turning()}</button>
                <a class="big-action some-not" href=some_not>{words.some_not()}</a>
            </div>
            {perhaps(more_often)}
        </section>
    })
}

fn next(shift: &ShiftRecord) -> Next {
    match (shift.on_break_since(), shift.setup()) {
        (Some(_), Some(_) | None) => Next::EndBreak,
        (None, None) => Next::ChooseSetup,
        (None, Some(_)) => Next::Oil,
    }
}

fn tally(app: App, standing: &Standing) -> String {
    let words = app.words;
    let (done, all) = (
        standing.done().to_string(),
        standing.slots.len().to_string(),
    );
    let late = standing
        .slots
        .iter()
        .filter(|slot| match slot.status {
            Status::Done { timing, .. } => matches!(timing, evenrow_rules::oiling::Timing::Late(_)),
            Status::Late(_) | Status::Missed => true,
            Status::Ahead | Status::Due => false,
        })
        .count();
    if late == 0 {
        words.oiled_of(&done, &all)
    } else {
        words.oiled_of_late(&done, &all, &late.to_string())
    }
}

/// When the next oiling is due, or by how much it is late.
fn oil_when(app: App, slot: &Slot, now: Instant) -> String {
    let words = app.words;
    match slot.status {
        Status::Late(by) => words.on_break_late(&times::countdown(by)),
        Status::Due => words.look_now(),
        Status::Ahead | Status::Missed | Status::Done { .. } => {
            words.look_in(&times::countdown(slot.due.at.since(now)))
        }
    }
}

fn choose_setup(app: App) -> Card {
    let words = app.words;
    Card {
        press: Press::Due,
        title: words.choose_setup_title(),
        word: String::new(),
        big: String::new(),
        small: words.choose_setup_lead(),
        button: (Shape::Setup, words.choose_setup_action()),
    }
}

fn card(app: App, shift: &ShiftRecord, standing: &Standing, now: Instant) -> Card {
    let words = app.words;
    if let Some(since) = shift.on_break_since() {
        return Card {
            press: Press::Ahead,
            title: words.on_break_title(),
            word: String::new(),
            big: times::countdown(now.since(since)),
            small: words.on_break_since(&times::here(since)),
            button: (Shape::Shift, words.end_break()),
        };
    }
    if shift.setup().is_none() {
        return choose_setup(app);
    }
    let button = (Shape::Drop, words.oiled_now());
    let title = words.oil_title();
    let Some(slot) = standing.next() else {
        return Card {
            press: Press::Ahead,
            title: words.oil_all_done(),
            word: String::new(),
            big: String::new(),
            small: words.oil_until_end(&times::here(shift.plan.end)),
            button,
        };
    };
    let at = words.due_at(&times::here(slot.due.at));
    match slot.status {
        Status::Late(by) => Card {
            press: Press::Late,
            title,
            word: words.late(),
            big: times::countdown(by),
            small: at,
            button,
        },
        Status::Due => Card {
            press: Press::Due,
            title,
            word: String::new(),
            big: words.due_now(),
            small: at,
            button,
        },
        Status::Ahead | Status::Missed | Status::Done { .. } => {
            let left = times::countdown(slot.due.at.since(now));
            Card {
                press: Press::Ahead,
                title,
                word: words.oil_in(),
                big: left,
                small: words.at_time(&times::here(slot.due.at)),
                button,
            }
        }
    }
}
