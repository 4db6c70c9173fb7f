//! The machine and this phone: name, board, plates, usual shift, language, units, look; and what the bases mean.

use evenrow_journal::{Command, Id, State};
use evenrow_rules::machine::{LONG_PLATE, SHORT_PLATE, USUAL_PITCH, fit};
use evenrow_rules::quantity::Length;
use leptos::prelude::*;
use serde::{Deserialize, Serialize};

use super::board::{BoardFields, BoardForm, no_board};
use super::district::LookRound;
use super::first::{self, Answers};
use super::install::ToInstall;
use super::languages::Languages;
use super::units::{EachQuantity, OneSystem};
use super::usual::{ShiftFields, ShiftForm, step_names};
use crate::device::preferences::{self, Hand, Theme};
use crate::device::{clock, page};
use crate::parts::choice::Choice;
use crate::parts::field::{Field, Keyboard};
use crate::parts::stepper::Stepper;
use crate::parts::terms::Terms;
use crate::place::Place;
use crate::shell::{App, go};
use crate::words::numbers::made_stepped;

/// The form, lengths in micrometres.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Form {
    name: String,
    board: BoardForm,
    plates: (u32, u32),
    pitch: u32,
    shift: ShiftForm,
}

impl Form {
    /// The form that shows what is known.
    fn of(app: App) -> Form {
        let units = app.units.get_untracked();
        app.state().with_untracked(|state| {
            let shift = state.usual.as_ref().map(ShiftForm::of).unwrap_or_default();
            let known = app.machine.get_untracked();
            let Some(known) = known else {
                return Form::first(app, BoardForm::default(), shift);
            };
            let (short, long) = known.machine.plates();
            Form {
                name: known.name.clone(),
                board: BoardForm::of(known.machine.moldboard(), units),
                plates: (short.in_micrometres(), long.in_micrometres()),
                pitch: known.machine.pitch().in_micrometres(),
                shift,
            }
        })
    }

    /// The form of a first start: the usual plates and pitch, which hardly anybody knows by heart.
    fn first(app: App, board: BoardForm, shift: ShiftForm) -> Form {
        Form {
            name: app.words.machine_first_name(),
            board,
            plates: (SHORT_PLATE.in_micrometres(), LONG_PLATE.in_micrometres()),
            pitch: USUAL_PITCH.in_micrometres(),
            shift,
        }
    }

    /// Asks for all of it. What cannot be is said at once, and then nothing is asked for.
    fn send(self, app: App, wrong: RwSignal<Option<String>>, then: impl FnOnce() + 'static) {
        let moldboard = match self.board.length(app.units.get_untracked()) {
            Err(why) => return wrong.set(Some(no_board(app.phone, why))),
            Ok(moldboard) => moldboard,
        };
        if let Err(why) = self.shift.plan(clock::now()).check() {
            return app.desk.refuse(why);
        }
        let (short, long) = self.plates;
        // The usual shift first: once the machine is known, the questions of the first start are gone.
        app.desk.submit(Command::SetUsualShift(self.shift.usual()));
        let machine = Command::DescribeMachine {
            name: self.name,
            moldboard,
            plates: (Length::micrometres(short), Length::micrometres(long)),
            pitch: Length::micrometres(self.pitch),
        };
        app.desk.submit_then(machine, then);
    }
}

/// Describes the first machine and the usual shift, as the three questions were answered.
pub fn describe_first(app: App, answers: Answers, wrong: RwSignal<Option<String>>) {
    let form = Form::first(app, answers.board, answers.shift);
    form.send(app, wrong, || {
        preferences::drop_draft(first::DRAFT);
        go(&Place::Shift);
    });
}

/// The screen. Another machine brings a form of its own.
#[component]
pub fn Machine(
    /// What every screen is handed.
    app: App,
) -> impl IntoView {
    let words = app.words;
    let which = Memo::new(move |_| app.machine.with(|it| it.as_ref().map(|it| it.id.clone())));
    view! {
        <h1 tabindex="-1">{words.machine_title()}</h1>
        <For each=move || which.get() key=Id::clone children=move |_| view! { <OneMachine app/> }/>
        <Machines app/>
        <ThisPhone app/>
        <LookRound phone=app.phone/>
        <h2>{words.bases_title()}</h2>
        <Terms terms=words.bases().into()/>
        <a class="action" href="#sources">{words.sources_title()}</a>
        <a class="action to-terms" href="#terms">{words.terms_title()}</a>
        <ToInstall phone=app.phone/>
        <a class="action to-version" href="#version">{words.version_title()}</a>
        <p class="caution">{words.beware_others_decide()}</p>
        <p class="caution">{words.beware_phone()}</p>
    }
}

/// The machines there are, which one this phone works with, and another one.
#[component]
fn Machines(
    /// What every screen is handed.
    app: App,
) -> impl IntoView {
    let words = app.words;
    let others = Memo::new(move |_| {
        let here = app.machine.get().map(|it| it.id);
        let named = |state: &State| {
            let others = state
                .machines
                .iter()
                .filter(|it| Some(&it.id) != here.as_ref());
            others
                .map(|it| (it.id.clone(), it.name.clone()))
                .collect::<Vec<_>>()
        };
        app.state().with(named)
    });
    let this = move || {
        app.machine
            .with(|it| it.as_ref().map(|it| words.machine_this(&it.name)))
    };
    let choose = move |(machine, name): (Id, String)| {
        let press = move |_| {
            let machine = machine.clone();
            app.desk
                .submit_then(Command::ChooseMachine { machine }, || {
                    preferences::drop_draft("machine");
                });
        };
        view! { <button type="button" class="action choose-machine" on:click=press>{words.machine_choose(&name)}</button> }
    };
    let add = move |_| {
        let Some(known) = app.machine.get_untracked() else {
            return;
        };
        let number = app.state().with_untracked(|state| state.machines.len() + 1);
        let machine = Command::AddMachine {
            name: words.machine_next(&number.to_string()),
            moldboard: known.machine.moldboard(),
            plates: known.machine.plates(),
            pitch: known.machine.pitch(),
        };
        app.desk.submit_then(machine, || {
            preferences::drop_draft("machine");
            page::to_top();
        });
    };
    view! {
        <h2>{words.machines_title()}</h2>
        <p class="this-machine">{this}</p>
        {move || others.get().into_iter().map(choose).collect_view()}
        <button type="button" class="action add-machine" on:click=add>{words.machine_add()}</button>
        <p class="small">{words.machine_add_note()}</p>
    }
}

/// The form for the machine that this phone works with.
#[component]
fn OneMachine(
    /// What every screen is handed.
    app: App,
) -> impl IntoView {
    let words = app.words;
    let form = preferences::draft::<Form>("machine").unwrap_or_else(|| Form::of(app));
    let name = RwSignal::new(form.name);
    let board = RwSignal::new(form.board);
    let plates = RwSignal::new((form.plates, form.pitch));
    let shift = RwSignal::new(form.shift);
    let wrong = RwSignal::new(None);
    let entered = move || {
        let ((plates, pitch), shift) = (plates.get_untracked(), shift.get_untracked());
        Form {
            name: name.get_untracked(),
            board: board.get_untracked(),
            plates,
            pitch,
            shift,
        }
    };
    let changed = Callback::new(move |()| preferences::set_draft("machine", &entered()));
    let keep = move |_| entered().send(app, wrong, || preferences::drop_draft("machine"));
    let row = move || {
        app.machine.with(|machine| {
            machine.as_ref().map_or_else(String::new, |it| {
                let fit = fit(&it.machine);
                let units = app.units.get();
                words.row_fits(
                    &fit.plates.len().to_string(),
                    &fit.full_row().to_string(),
                    &words.exact(fit.bare, units),
                )
            })
        })
    };
    view! {
        <Field
            label=words.machine_name()
            keyboard=Keyboard::Text
            value=name
            invalid=false
            on_input=Callback::new(move |typed| {
                name.set(typed);
                changed.run(());
            })
        />
        <BoardFields phone=app.phone form=board wrong on_change=changed/>
        <p class="row-fits">{row}</p>
        <details class="plates-and-pitch">
            <summary>{words.plates_and_pitch()}</summary>
            <p class="small">{words.plates_note()}</p>
            <Lengths app plates changed/>
        </details>
        <h2>{words.usual_ask()}</h2>
        <ShiftFields phone=app.phone form=shift on_change=changed/>
        <button type="button" class="main-action keep" on:click=keep>{words.keep()}</button>
    }
}

/// What this phone prefers.
#[component]
fn ThisPhone(
    /// What every screen is handed.
    app: App,
) -> impl IntoView {
    const THEMES: [Theme; 3] = [Theme::Auto, Theme::Sun, Theme::Night];
    let words = app.words;
    let theme = move |at: usize| app.choose_theme(THEMES.get(at).copied().unwrap_or_default());
    let hand = move |at: usize| app.choose_hand(if at == 0 { Hand::Left } else { Hand::Right });
    view! {
        <h2>{words.this_phone()}</h2>
        <p>{words.language_ask()}</p>
        <Languages phone=app.phone/>
        <Choice
            label=words.theme_ask()
            options=vec![words.theme_auto(), words.theme_sun(), words.theme_night()]
            chosen=Signal::derive(move || THEMES.iter().position(|&theme| theme == app.theme.get()))
            on_pick=Callback::new(theme)
        />
        <Choice
            label=words.hand_ask()
            options=vec![words.hand_left(), words.hand_right()]
            chosen=Signal::derive(move || Some(usize::from(app.hand.get() == Hand::Right)))
            on_pick=Callback::new(hand)
        />
        <OneSystem phone=app.phone/>
        <EachQuantity phone=app.phone/>
    }
}

/// The plate lengths and the pitch, a tenth of a millimetre or a sixteenth of an inch at a tap.
#[component]
fn Lengths(
    /// What every screen is handed.
    app: App,
    /// Plate lengths and pitch.
    plates: RwSignal<((u32, u32), u32)>,
    /// They were changed.
    changed: Callback<()>,
) -> impl IntoView {
    let words = app.words;
    let length = move |label: String, part: fn(&mut ((u32, u32), u32)) -> &mut u32| {
        let step = move |more: bool| {
            let units = app.units.get_untracked();
            plates.update(|plates| {
                let length = part(plates);
                // The finest step that a tape shows; plates and pitch are made in both unit systems.
                *length = made_stepped(Length::micrometres(*length), more, units).in_micrometres();
            });
            changed.run(());
        };
        let value = move || {
            let mut plates = plates.get();
            words.exact(Length::micrometres(*part(&mut plates)), app.units.get())
        };
        view! {
            <Stepper names=step_names(words, &label) label=label value=Signal::derive(value) on_step=Callback::new(step)/>
        }
    };
    view! {
        {length(words.plate_short(), |lengths| &mut lengths.0.0)}
        {length(words.plate_long(), |lengths| &mut lengths.0.1)}
        {length(words.pitch(), |lengths| &mut lengths.1)}
    }
}
