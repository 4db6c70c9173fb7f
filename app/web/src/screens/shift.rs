//! The shift that runs: what is due next, when, and is it late; then everything else that is recorded in a shift.

use evenrow_journal::Command;
use evenrow_journal::event::Finding;
use evenrow_journal::state::Shift as ShiftRecord;
use evenrow_rules::checklist::List;
use evenrow_rules::oiling::{Slot, Standing, Status};
use evenrow_rules::quantity::Instant;
use leptos::prelude::*;

use super::line;
use super::reminders::{abilities, calendar_ability};
use super::row::mounted;
use super::start::Start;
use crate::parts::icon::Shape;
use crate::parts::next_job::{Card, NextJob, Press};
use crate::parts::readiness::Readiness;
use crate::parts::shift_line::{ShiftLine, ShiftLineView};
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
    let running = Memo::new(move |_| app.state().with(|state| state.running().is_some()));
    move || {
        if running.get() {
            view! { <Running app/> }.into_any()
        } else {
            view! { <Start app/> }.into_any()
        }
    }
}

#[component]
fn Running(
    /// What every screen is handed.
    app: App,
) -> impl IntoView {
    let words = app.words;
    let moment = app.vigil.moment();
    let shift = Memo::new(move |_| app.state().with(|state| state.running().cloned()));
    let standing = Memo::new(move |_| {
        let now = moment.get();
        shift.with(|shift| shift.as_ref().map(|shift| shift.standing(now)))
    });
    // Nothing below is shown without a shift; the moment between its end and another screen shows the last of it.
    let with_shift = move |read: &dyn Fn(&ShiftRecord, &Standing) -> String| {
        shift.with(|shift| {
            standing.with(|standing| match (shift, standing) {
                (Some(shift), Some(standing)) => read(shift, standing),
                (None, Some(_)) | (Some(_) | None, None) => String::new(),
            })
        })
    };
    let next =
        Memo::new(move |_| shift.with(|shift| shift.as_ref().map_or(Next::ChooseSetup, next)));
    let card = Memo::new(move |_| {
        let now = moment.get();
        shift.with(|shift| {
            standing.with(|standing| match (shift, standing) {
                (Some(shift), Some(standing)) => card(app, shift, standing, now),
                (None, Some(_)) | (Some(_) | None, None) => choose_setup(app),
            })
        })
    });
    let shown = Memo::new(move |_| {
        let now = moment.get();
        shift.with(|shift| {
            standing.with(|standing| match (shift, standing) {
                (Some(shift), Some(standing)) => line::shown(shift, standing, now, words),
                (None, Some(_)) | (Some(_) | None, None) => ShiftLineView::default(),
            })
        })
    });
    let press = move |()| match next.get_untracked() {
        Next::ChooseSetup => go(&Place::Setup),
        Next::EndBreak => app.desk.submit(Command::EndBreak),
        Next::Oil => app.desk.submit(Command::Oil),
    };
    let on_break = Memo::new(move |_| next.get() == Next::EndBreak);
    let work = move || {
        with_shift(&|shift, _| {
            shift
                .setup()
                .map_or_else(|| words.work_not_chosen(), |setup| words.work(setup.work))
        })
    };
    let tally = move || {
        with_shift(&|shift, standing| {
            shift
                .setup()
                .map_or_else(String::new, |_| tally(app, standing))
        })
    };
    let look_when = Memo::new(move |_| {
        let now = moment.get();
        with_shift(&|shift, _| {
            shift.next_look(now).map_or_else(String::new, |at| {
                if at <= now {
                    words.look_now()
                } else {
                    words.look_in(&times::countdown(at.since(now)))
                }
            })
        })
    });
    let list = move |list: List, name: fn(&crate::words::Words, &str, &str) -> String| {
        with_shift(&|shift, _| {
            name(
                words,
                &shift.ticked(list).to_string(),
                &list.items().len().to_string(),
            )
        })
    };
    let has_setup = Memo::new(move |_| {
        shift.with(|shift| shift.as_ref().is_some_and(|it| it.setup().is_some()))
    });
    // With a set on the machine the odd teeth are noted one by one; without, they are counted.
    let set = mounted(app);
    let some_not = move || {
        if set.with(Option::is_some) {
            "#row"
        } else {
            "#look"
        }
    };
    let more_often = Memo::new(move |_| {
        let now = moment.get();
        shift.with(|shift| {
            let running = shift.as_ref().filter(|it| it.setup().is_some());
            running.is_some_and(|it| it.facts(now).is_shortened(now))
        })
    });
    let (phone, calendar) = (abilities(app), calendar_ability(app));
    let promise = Memo::new(move |_| [phone.get(), calendar.get()].concat());
    // What is due next is told on a break as well.
    let oil_when = Memo::new(move |_| {
        let now = moment.get();
        standing.with(|standing| {
            let next = standing.as_ref().and_then(Standing::next);
            next.map_or_else(String::new, |slot| oil_when(app, slot, now))
        })
    });
    view! {
        <div class="shift">
        <div class="shift-now">
        <div class="shift-head">
            <span class="shift-head-work">{work}</span>
            <span class="shift-head-tally">{tally}</span>
        </div>
        <ShiftLine shown/>
        <NextJob card on_press=Callback::new(press)/>
        </div>
        <div class="shift-more">
        {move || on_break.get().then(|| view! {
            <section class="looks">
                <h2 class="looks-title">
                    <span>{words.oil_title()}</span>
                    <span class="oil-when">{oil_when}</span>
                </h2>
                <button type="button" class="action oiled-in-break" on:click=move |_| app.desk.submit(Command::Oil)>
                    {words.oiled_now()}
                </button>
            </section>
        })}
        {move || has_setup.get().then(|| view! {
            <section class="looks">
                <h2 class="looks-title">
                    <span>{words.look_title()}</span>
                    <span class="looks-when">{look_when}</span>
                </h2>
                <div class="pair">
                    <button
                        type="button"
                        class="big-action all-turning"
                        on:click=move |_| app.desk.submit(Command::Look(Finding::AllTurning))
                    >
                        {words.all_turning()}
                    </button>
                    <a class="big-action some-not" href=some_not>{words.some_not()}</a>
                </div>
                {move || more_often.get().then(|| view! {
                    <div class="more-often">
                        <p class="caution">{words.oil_more_often()}</p>
                        <button
                            type="button"
                            class="action keep-usual"
                            on:click=move |_| app.desk.submit(Command::KeepUsualInterval)
                        >
                            {words.keep_usual_interval()}
                        </button>
                    </div>
                })}
            </section>
        })}
        <div class="trio">
            {move || (!on_break.get()).then(|| view! {
                <button
                    type="button"
                    class="action start-break"
                    on:click=move |_| app.desk.submit(Command::StartBreak)
                >
                    {words.start_break()}
                </button>
            })}
            <a class="action change-work" href="#setup">{words.change_work()}</a>
            <a class="action write-note" href="#note">{words.write_note()}</a>
        </div>
        <a class="action to-opening" href="#opening">{move || list(List::Opening, crate::words::Words::opening_tally)}</a>
        <a class="action to-closing" href="#closing">{words.end_of_shift()}</a>
        </div>
        {(!app.invented).then(|| view! {
            <section class="promise">
                <h2>{words.promise_title()}</h2>
                <Readiness lines=promise/>
                <a class="action to-reminders" href="#reminders">{words.to_reminders()}</a>
            </section>
        })}
        </div>
    }
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
