//! The records: a backup, what a file would bring before it is taken in, the shift for another phone, what things take up.

use std::sync::Arc;
use std::time::Duration;

use evenrow_journal::backup::{self, Found, LARGEST_FILE, NoBackup, Preview, Reading};
use evenrow_journal::handover::of_shift;
use evenrow_journal::{Command, Entry, Journal};
use evenrow_rules::quantity::Instant;
use leptos::prelude::*;

use crate::desk::NotTakenIn;
use crate::device::pick::{self, Picked};
use crate::device::share::{self, Handed};
use crate::device::store::{self, Keeping};
use crate::device::{clock, page};
use crate::shell::App;
use crate::words::times;

/// How many lines of a file are read before the browser may draw again.
const LINES_AT_A_TIME: usize = 1000;

/// How many entries in two versions are shown.
const CONFLICTS_SHOWN: usize = 20;

/// The kind of a backup. Share sheets take plain text, and no kind that says more of it:
/// <https://developer.mozilla.org/docs/Web/API/Navigator/share#shareable_file_types>.
const TEXT: &str = "text/plain";

/// How the last backup stands to the records that there are, and whether it is to be raised.
pub fn backup_state(app: App) -> Memo<(bool, String)> {
    let (desk, words) = (app.desk, app.words);
    Memo::new(move |_| {
        app.state().track();
        let last = desk.backed_up().get();
        let now = app.now.get_untracked();
        let (records, first) = desk.look(|journal| {
            let first = journal.readable().map(|(_, entry)| entry.at).min();
            (journal.len(), first.unwrap_or(now))
        });
        let since = records.saturating_sub(last.map_or(0, |(_, held)| held));
        let (all, new) = (records.to_string(), since.to_string());
        let made = last.map(|(at, _)| at);
        let overdue = backup::is_overdue(made, first, since, now);
        let day = |at| times::date(at, clock::offset_minutes(at));
        let text = match made {
            None if overdue => words.backup_overdue_never(&all),
            None => words.backup_none(&all),
            Some(at) if overdue => {
                let days = now.since(at).as_secs() / Duration::from_hours(24).as_secs();
                words.backup_overdue(&days.to_string(), &new)
            }
            Some(at) if since == 0 => words.backup_all(&day(at)),
            Some(at) => words.backup_since(&day(at), &new),
        };
        (overdue, text)
    })
}

/// Hands all records over as a file. To be called straight from a tap.
pub async fn hand_over_all(app: App) -> Handed {
    let now = clock::now();
    let text = app.desk.look(|journal| file_of(journal.records(), now));
    let day = times::iso_date(now, clock::offset_minutes(now));
    let handed = share::file(&app.words.backup_name(&day), TEXT, &text).await;
    if handed == Handed::Done {
        app.desk.has_backed_up(now);
    }
    handed
}

fn file_of<'a>(records: impl Iterator<Item = &'a str>, now: Instant) -> String {
    backup::write(records, now, env!("CARGO_PKG_VERSION"))
}

/// The screen.
#[component]
pub fn Records(
    /// What every screen is handed.
    app: App,
) -> impl IntoView {
    let words = app.words;
    let known = move || app.machine.with(Option::is_some);
    view! {
        <h1 tabindex="-1">{words.records_title()}</h1>
        <Show when=known><Backup app/></Show>
        <TakeIn app/>
        <Show when=known fallback=move || view! { <a class="action" href="#shift">{words.to_first()}</a> }>
            <Handover app/>
            <a class="action" href="#tables">{words.tables_open()}</a>
            <Storage app/>
            <a class="action" href="#erase">{words.erase_open()}</a>
            <a class="action" href="#book">{words.to_book()}</a>
        </Show>
    }
}

/// How the last backup stands, and a button for another.
#[component]
fn Backup(
    /// What every screen is handed.
    app: App,
) -> impl IntoView {
    let words = app.words;
    let state = backup_state(app);
    let handed = RwSignal::new(None);
    let make = move |_| page::run(async move { handed.set(Some(hand_over_all(app).await)) });
    view! {
        <h2>{words.backup_title()}</h2>
        <p>{words.backup_lead()}</p>
        <p class="backup-state" class:caution=move || state.get().0>{move || state.get().1}</p>
        <button type="button" class="main-action make-backup" on:click=make>{words.backup_make()}</button>
        <p role="status" class="backup-handed">{move || match handed.get() {
            Some(Handed::Done) => words.backup_handed(),
            Some(Handed::Refused) => words.file_refused(),
            Some(Handed::Cancelled) | None => String::new(),
        }}</p>
    }
}

/// What stands in a chosen file, and what it would bring.
struct Offer {
    found: Found,
    preview: Preview,
}

/// How far taking in has come.
#[derive(Clone)]
enum Stage {
    /// Nothing is chosen; what came of the last one.
    Said(String),
    /// So many per cent have been read.
    Reading(usize),
    /// It has been read, and nothing has been taken in.
    Offered(Arc<Offer>),
    /// So many per cent are kept.
    Keeping(usize),
}

/// A file is chosen, read, shown, and taken in or left.
#[component]
fn TakeIn(
    /// What every screen is handed.
    app: App,
) -> impl IntoView {
    let (desk, words) = (app.desk, app.words);
    let stage = RwSignal::new(Stage::Said(String::new()));
    let stopped = StoredValue::new(false);
    // Whoever has left the screen has left the file.
    let is_stopped = move || stopped.try_get_value().unwrap_or(true);
    let say = move |text: String| drop(stage.try_set(Stage::Said(text)));
    let look = move |picked: Picked| async move {
        let bytes = match picked {
            Picked::Nothing => return,
            Picked::Unread => return say(words.file_unread()),
            Picked::TooLarge(got) => return say(words.no_backup(NoBackup::TooLarge(got))),
            Picked::File(bytes) => bytes,
        };
        desk.taken_in().set(0);
        stopped.try_update_value(|it| *it = false);
        let progress = move |per_cent| drop(stage.try_set(Stage::Reading(per_cent)));
        match read(bytes, progress, is_stopped).await {
            Err(why) => say(words.no_backup(why)),
            Ok(None) => say(words.take_in_stopped()),
            Ok(Some(found)) => {
                let preview = desk.look(|here| backup::preview(&found.records, here));
                drop(stage.try_set(Stage::Offered(Arc::new(Offer { found, preview }))));
            }
        }
    };
    let picked = move |event| {
        let picked = pick::file(&event, LARGEST_FILE);
        page::run(async move { look(picked.await).await });
    };
    if let Some(handed) = pick::handed() {
        page::run(look(handed));
    }
    let take = move |offer: Arc<Offer>| {
        let many = offer.preview.new.len().max(1);
        stage.set(Stage::Keeping(0));
        page::run(async move {
            let new = (offer.preview.names.clone(), offer.preview.new.clone());
            let there = move |kept| drop(stage.try_set(Stage::Keeping(kept as usize * 100 / many)));
            say(match desk.take_in(new, &offer.found.records, there).await {
                Ok(()) => String::new(),
                Err(NotTakenIn::OnlyReads) => words.take_in_only_reads(),
                Err(NotTakenIn::Stopped) => words.take_in_stopped(),
                Err(NotTakenIn::NotKept(why)) => words.take_in_not_kept(&why.0),
            });
        });
    };
    let stop = move |_| {
        stopped.set_value(true);
        desk.stop_taking_in();
    };
    let under_way = move |text: String| {
        view! {
            <p class="take-in-progress">{text}</p>
            <button type="button" class="big-action stop-taking-in" on:click=stop>{words.take_in_stop()}</button>
        }
    };
    let shown = move || match stage.get() {
        Stage::Said(text) => view! {
            <p class="take-in-said caution" role="status">{text}</p>
            <label class="big-action file-pick">
                <span>{words.take_in_pick()}</span>
                <input type="file" class="file-pick-input" on:change=picked/>
            </label>
        }
        .into_any(),
        Stage::Reading(per_cent) => {
            under_way(words.take_in_reading(&per_cent.to_string())).into_any()
        }
        Stage::Keeping(per_cent) => {
            under_way(words.take_in_keeping(&per_cent.to_string())).into_any()
        }
        Stage::Offered(offer) => {
            let lines = words.preview(&offer.found, &offer.preview);
            let zone = |at| clock::offset_minutes(at);
            let condition = words.condition(&offer.found.condition, &zone);
            let is_whole = matches!(
                offer.found.condition,
                backup::Condition::Whole(_) | backup::Condition::List
            );
            let many = offer.preview.new.len();
            let taken = offer.clone();
            view! {
                <div class="preview">
                    <h3>{words.preview_title()}</h3>
                    <p class="preview-condition" class:caution=!is_whole role="status">{condition}</p>
                    <ul>{lines.into_iter().map(|line| view! { <li>{line}</li> }).collect_view()}</ul>
                    {(0 < many).then(|| view! {
                        <p>{words.preview_for_good()}</p>
                        <button type="button" class="main-action take-in-now" on:click=move |_| take(taken.clone())>
                            {words.take_in_now(&many.to_string())}
                        </button>
                    })}
                    <button type="button" class="big-action leave-it" on:click=move |_| say(String::new())>
                        {words.leave_it()}
                    </button>
                </div>
            }
            .into_any()
        }
    };
    let taken_in = move || {
        let many = desk.taken_in().get();
        (0 < many).then(|| words.taken_in(&many.to_string()))
    };
    view! {
        <h2>{words.take_in_title()}</h2>
        <p>{words.take_in_lead()}</p>
        <div class="take-in">{shown}</div>
        <p class="taken-in" role="status">{taken_in}</p>
        <OtherMachine app/>
    }
}

/// Reads a file in slices between which the screen lives; nothing if it was stopped.
async fn read(
    bytes: Vec<u8>,
    progress: impl Fn(usize),
    is_stopped: impl Fn() -> bool,
) -> Result<Option<Found>, NoBackup> {
    let mut reading = Reading::begin(bytes)?;
    while reading.step(LINES_AT_A_TIME)? {
        progress(reading.per_cent());
        page::breathe().await;
        if is_stopped() {
            return Ok(None);
        }
    }
    reading.finish().map(Some)
}

/// A shift that was handed over is with the machine of the other phone; the row on this one has to be that machine's.
#[component]
fn OtherMachine(
    /// What every screen is handed.
    app: App,
) -> impl IntoView {
    let words = app.words;
    let other = Memo::new(move |_| {
        let here = app.machine.get()?;
        app.state().with(|state| {
            let machine = state.running()?.machine.clone()?;
            (machine.id != here.id).then_some((machine.id, machine.name))
        })
    });
    move || {
        let (machine, name) = other.get()?;
        let choose = move |_| {
            let machine = machine.clone();
            app.desk.submit(Command::ChooseMachine { machine });
        };
        Some(view! {
            <p class="caution">{words.taken_in_other_machine(&name)}</p>
            <button type="button" class="big-action choose-its-machine" on:click=choose>
                {words.taken_in_choose(&name)}
            </button>
        })
    }
}

/// The shift that runs, for another phone.
#[component]
fn Handover(
    /// What every screen is handed.
    app: App,
) -> impl IntoView {
    let words = app.words;
    let runs = Memo::new(move |_| app.state().with(|state| state.running().is_some()));
    let handed = RwSignal::new(None);
    let make = move |_| {
        let now = clock::now();
        let text = app.state().with_untracked(|state| {
            let shift = state.running()?;
            let records = |journal: &Journal| {
                file_of(of_shift(journal, state, &shift.id, now).into_iter(), now)
            };
            Some(app.desk.look(records))
        });
        let Some(text) = text else { return };
        let day = times::iso_date(now, clock::offset_minutes(now));
        page::run(async move {
            let name = words.handover_name(&day);
            handed.set(Some(share::file(&name, TEXT, &text).await));
        });
    };
    view! {
        <h2>{words.handover_title()}</h2>
        {move || if runs.get() {
            view! {
                <p>{words.handover_lead()}</p>
                <button type="button" class="big-action hand-over" on:click=make>{words.handover_make()}</button>
            }
            .into_any()
        } else {
            view! { <p>{words.handover_none()}</p> }.into_any()
        }}
        <p role="status" class="handed-over">{move || match handed.get() {
            Some(Handed::Done) => words.backup_handed(),
            Some(Handed::Refused) => words.file_refused(),
            Some(Handed::Cancelled) | None => String::new(),
        }}</p>
    }
}

/// What is kept on this phone, how safely, how much of it, and what is odd about it; and the way without a file.
#[component]
fn Storage(
    /// What every screen is handed.
    app: App,
) -> impl IntoView {
    let (desk, words) = (app.desk, app.words);
    let kept = move || match desk.place_of_records().get() {
        Keeping::Promised => words.keeping_promised(),
        Keeping::BestEffort => words.keeping_best_effort(),
        Keeping::Weak => words.keeping_weak(),
        // The invented district has no such screen.
        Keeping::Unknown | Keeping::Nowhere => words.keeping_unknown(),
    };
    let records = move || {
        app.state().track();
        let (many, bytes) = desk.look(|journal| {
            let bytes = journal.records().map(str::len).sum::<usize>();
            (journal.len(), bytes)
        });
        words.storage_records(&many.to_string(), &words.size(bytes as f64))
    };
    let used = RwSignal::new(None);
    page::run(async move {
        used.try_set(store::used().await);
    });
    let used = move || match used.get() {
        Some(bytes) => words.storage_used(&words.size(bytes)),
        None => words.storage_unknown(),
    };
    let unreadable = move || {
        app.state().track();
        let unreadable = desk.look(|journal| journal.unreadable().count());
        (0 < unreadable).then(|| words.records_unreadable(&unreadable.to_string()))
    };
    let conflicts = Memo::new(move |_| {
        app.state().track();
        desk.look(|journal| {
            let conflicts = journal.conflicts();
            let said = |versions: &Vec<&Entry>| {
                let tooth = |position: u16| position.to_string();
                let said = |at: usize| {
                    let entry = versions.get(at);
                    entry.map_or_else(String::new, |it| words.happened(&it.event, &tooth))
                };
                let at = versions.first().map_or_else(String::new, |it| {
                    let (day, time) = (times::date, times::clock);
                    let zone = it.offset_minutes;
                    format!("{} {}", day(it.at, zone), time(it.at, zone))
                });
                words.conflict(&at, &said(0), &said(1))
            };
            let shown = conflicts.iter().take(CONFLICTS_SHOWN).map(said);
            (conflicts.len(), shown.collect::<Vec<String>>())
        })
    });
    let conflicts = move || {
        let (many, shown) = conflicts.get();
        (0 < many).then(|| {
            view! {
                <details class="conflicts">
                    <summary>{words.conflicts(&many.to_string())}</summary>
                    <ul>{shown.into_iter().map(|line| view! { <li>{line}</li> }).collect_view()}</ul>
                </details>
            }
        })
    };
    let copied = RwSignal::new(None);
    let copy = move |_| {
        let records = desk.look(|journal| backup::list(journal.records()));
        page::run(async move { copied.set(Some(share::copy(&records).await)) });
    };
    view! {
        <h2>{words.storage_title()}</h2>
        <p>{kept}</p>
        <p class="storage-records">{records}</p>
        <p class="storage-used">{used}</p>
        {move || unreadable().map(|text| view! { <p class="caution">{text}</p> })}
        {conflicts}
        <button type="button" class="action copy-records" on:click=copy>{words.copy_records()}</button>
        <p role="status" class="records-copied">{move || copied.get().map(|handed| match handed {
            Handed::Done => words.copied(),
            Handed::Cancelled | Handed::Refused => words.copy_refused(),
        })}</p>
    }
}
