//! The row: the mounted set as one line, its plates and teeth, noted by exception; and the ways to measure, stock and sets.

use std::collections::BTreeMap;

use evenrow_journal::event::ToothState;
use evenrow_journal::row::{SetOfTeeth, TipNow};
use evenrow_journal::{Command, Id};
use evenrow_rules::quantity::{Instant, Length};
use evenrow_rules::spares::{SAME_WEAR, match_spares};
use evenrow_rules::work::End;
use leptos::prelude::*;

use super::row_answers::RowAnswers;
use super::row_plates::Plates;
use super::terms::AskWords;
use super::usual::step_names;
use crate::device::preferences;
use crate::parts::choice::Choice;
use crate::parts::icon::{Icon, Shape};
use crate::parts::stepper::Stepper;
use crate::parts::tooth_grid::{Sign, ToothGrid, ToothView};
use crate::parts::whole_row::{PlateOfRow, WholeRow, WholeRowView};
use crate::shell::App;
use crate::units::{Quantity, System};
use crate::words::numbers::{tip_bare, tip_stepped};

/// The sign of a state.
fn sign(state: ToothState) -> Sign {
    match state {
        ToothState::Turning => Sign::None,
        ToothState::Stiff => Sign::Bar,
        ToothState::Stuck => Sign::Diamond,
        ToothState::Chipped => Sign::Notch,
        ToothState::Broken => Sign::Stroke,
        ToothState::Gone => Sign::Outline,
    }
}

/// The set on this phone's machine.
pub fn mounted(app: App) -> Memo<Option<SetOfTeeth>> {
    Memo::new(move |_| {
        let machine = app.machine.get()?.id;
        app.state().with(|state| state.teeth.on(&machine).cloned())
    })
}

/// The present moment to ten minutes: often enough for what takes weeks.
fn now_and_then(app: App) -> Memo<Instant> {
    const TEN_MINUTES_MS: i64 = 600_000;
    Memo::new(move |_| {
        let ms = app.vigil.minute().get().unix_ms();
        Instant::from_unix_ms(ms - ms.rem_euclid(TEN_MINUTES_MS))
    })
}

/// What is known of the mounted set.
#[derive(Clone, Copy)]
pub struct Mounted {
    /// The set.
    pub set: Memo<Option<SetOfTeeth>>,
    /// Its plates.
    pub plates: Memo<Plates>,
    /// How long its tips are by now.
    pub tips: Memo<BTreeMap<u16, TipNow>>,
    /// The present moment, to ten minutes.
    pub now: Memo<Instant>,
}

impl Mounted {
    /// What is known of the set on this phone's machine.
    pub fn of(app: App) -> Mounted {
        let (set, now) = (mounted(app), now_and_then(app));
        let plates = move || {
            let machine = app.machine.get()?.machine;
            set.with(|set| set.as_ref().map(|set| Plates::of(&machine, set)))
        };
        let tips = move || {
            let tips = |set: &SetOfTeeth| app.state().with(|state| state.tips_now(set, now.get()));
            set.with(|set| set.as_ref().map(tips))
        };
        Mounted {
            set,
            plates: Memo::new(move |_| plates().unwrap_or_default()),
            tips: Memo::new(move |_| tips().unwrap_or_default()),
            now,
        }
    }

    /// The state of the tooth at a position; none where there is no socket.
    pub fn state_at(self, position: u16) -> Option<ToothState> {
        self.set
            .with(|set| Some(set.as_ref()?.teeth.get(&position)?.state))
    }

    /// Which set it is.
    pub fn id(self) -> Option<Id> {
        self.set
            .with_untracked(|set| Some(set.as_ref()?.id.clone()))
    }
}

/// The screen.
#[component]
pub fn Row(
    /// What every screen is handed.
    app: App,
) -> impl IntoView {
    let words = app.words;
    let row = Mounted::of(app);
    let has_set = Memo::new(move |_| row.set.with(Option::is_some));
    view! {
        <h1 tabindex="-1">{words.row_title()}</h1>
        {move || if has_set.get() {
            view! { <TheRow app row/> }.into_any()
        } else {
            view! {
                <p>{words.row_empty()}</p>
                <a class="main-action to-sets" href="#sets">{words.row_mount()}</a>
            }
            .into_any()
        }}
        <div class="pair">
            <a class="action to-stock" href="#stock">{words.stock_title()}</a>
            <a class="action to-sets" href="#sets">{words.sets_title()}</a>
        </div>
        <AskWords phone=app.phone keys=&["term_tip", "term_stiff", "term_stuck", "term_chipped", "term_broken", "term_set", "term_blade_hours"]/>
    }
}

#[component]
fn TheRow(
    /// What every screen is handed.
    app: App,
    /// The mounted set.
    row: Mounted,
) -> impl IntoView {
    let words = app.words;
    let plate = RwSignal::new(0_usize);
    let chosen = RwSignal::new(None::<u16>);
    let left_leads = RwSignal::new(preferences::left_leads());
    // Which plates carry teeth today, from 1; none where no set-up is in use.
    let toothed = Memo::new(move |_| {
        app.state().with(|state| {
            let setup = state.running()?.setup()?;
            Some(setup.sheet.toothed_at.clone())
        })
    });
    // The end that leads: as the set-up in use says, else as this phone was told.
    let leads = Memo::new(move |_| {
        let told = app
            .state()
            .with(|state| state.running()?.setup()?.known.cutting_end);
        told.or_else(|| {
            let left = left_leads.get()?;
            Some(if left { End::Left } else { End::Right })
        })
    });
    let others_lead = move |_| {
        let left = leads.get_untracked() != Some(End::Left);
        preferences::set_left_leads(left);
        left_leads.set(Some(left));
    };
    let plain = move |number: usize| {
        let left_out = |plates: &Vec<u8>| !plates.iter().any(|&at| usize::from(at) == number + 1);
        toothed.with(|plates| plates.as_ref().is_some_and(left_out))
    };
    let plate_told = move |number: usize| {
        let name = words.plate_number(&(number + 1).to_string());
        if plain(number) {
            return words.plate_plain(&name);
        }
        let positions = row.plates.with(|plates| plates.positions(number));
        let odd = positions.filter(|&at| is_odd(row.state_at(at)));
        match odd.count() {
            0 => words.plate_all_turn(&name),
            odd => words.plate_some_odd(&name, &odd.to_string()),
        }
    };
    let count = Memo::new(move |_| row.plates.with(Plates::count));
    let left_of = move |position: u16| {
        row.set.with(|set| {
            let tips = set.as_ref()?.tips;
            let tip = row.tips.with(|all| all.get(&position).map(|it| it.tip))?;
            let whole = tips.when_new().less(tips.when_done()).in_millimetres();
            let left = tip.less(tips.when_done()).in_millimetres() / whole;
            Some((left * 100.0).clamp(0.0, 100.0) as u8)
        })
    };
    let whole_row = Memo::new(move |_| {
        let plates: Vec<PlateOfRow> = (0..count.get())
            .map(|number| PlateOfRow {
                number: (number + 1).to_string(),
                plain: plain(number),
                chosen: plate.get() == number,
                teeth: row
                    .plates
                    .with(|plates| plates.positions(number))
                    .map(|at| {
                        let state = row.state_at(at).unwrap_or(ToothState::Gone);
                        (left_of(at).unwrap_or(0), sign(state))
                    })
                    .collect(),
            })
            .collect();
        let word = |end| {
            let here = leads.get() == Some(end);
            if here { words.leads() } else { String::new() }
        };
        let told: Vec<String> = (0..count.get()).map(plate_told).collect();
        let end = leads.get().map(|end| words.end_leads(&words.end(end)));
        WholeRowView {
            plates,
            left: word(End::Left),
            right: word(End::Right),
            told: told.into_iter().chain(end).collect::<Vec<_>>().join(". "),
        }
    });
    let plate_button = move |number: usize| {
        let press = move |_| {
            plate.set(number);
            chosen.set(None);
        };
        view! {
            <button
                type="button"
                class="action plate-of-row"
                aria-pressed=move || (plate.get() == number).to_string()
                on:click=press
            >
                <Show when=move || plate.get() == number><Icon shape=Shape::Tick/></Show>
                {move || plate_told(number)}
            </button>
        }
    };
    let teeth = Memo::new(move |_| {
        let positions = row.plates.with(|plates| plates.positions(plate.get()));
        positions
            .filter_map(|position| tooth_view(app, row, position, left_of(position)?))
            .collect::<Vec<_>>()
    });
    let label = move || words.plate_number(&(plate.get() + 1).to_string());
    let leads_told = move || match leads.get() {
        Some(end) => words.end_leads(&words.end(end)),
        None => words.leads_not_said(),
    };
    view! {
        <p class="caution">{words.beware_make_it_safe_first()}</p>
        <Look app row/>
        <WholeRow shown=whole_row/>
        <button type="button" class="action leading-end" on:click=others_lead>{leads_told}</button>
        <div class="plates-of-row">
            {move || (0..count.get()).map(plate_button).collect_view()}
        </div>
        <h2>{label}</h2>
        <p class="small">{move || match app.units.get().of(Quantity::Tape) {
            System::Metric => words.row_lead_metric(),
            System::Us => words.row_lead_us(),
        }}</p>
        <ToothGrid label=Signal::derive(label) teeth chosen>
            {move || chosen.get().map(|position| view! { <OneTooth app row position/> })}
        </ToothGrid>
        <a class="action to-measure" href="#measure">{words.measure_title()}</a>
        <a class="action to-row-note" href="#row-note">{words.row_note()}</a>
        <RowAnswers app row/>
    }
}

/// Whether a tooth stands there that does not turn freely.
fn is_odd(state: Option<ToothState>) -> bool {
    state.is_some_and(|state| state != ToothState::Turning)
}

fn tooth_view(app: App, row: Mounted, position: u16, left: u8) -> Option<ToothView> {
    let words = app.words;
    let units = app.units.get();
    let state = row.state_at(position)?;
    let now = row.tips.with(|tips| tips.get(&position).copied())?;
    let (plate, nth) = row.plates.with(|plates| plates.place(position));
    let (tip, bare) = (words.tip(now.tip, units), tip_bare(now.tip, units));
    let word = words.tooth_state(state);
    let tip = if now.measured { tip } else { words.about(&tip) };
    Some(ToothView {
        position,
        number: nth.to_string(),
        left,
        sign: sign(state),
        told: words.tooth_told(&plate.to_string(), &nth.to_string(), &word, &tip),
        word: if state != ToothState::Turning {
            word
        } else if now.measured {
            bare
        } else {
            words.about_short(&bare)
        },
    })
}

/// "All turning", or what was noted and the others turn.
#[component]
fn Look(
    /// What every screen is handed.
    app: App,
    /// The mounted set.
    row: Mounted,
) -> impl IntoView {
    let words = app.words;
    let odd = Memo::new(move |_| {
        let odd = [
            ToothState::Stiff,
            ToothState::Stuck,
            ToothState::Broken,
            ToothState::Gone,
        ];
        let counted = |set: &SetOfTeeth| set.count(&odd);
        row.set.with(|set| set.as_ref().map_or(0, counted))
    });
    let in_shift = Memo::new(move |_| app.state().with(|state| state.running().is_some()));
    let ask = move |make: fn(Id) -> Command| {
        move |_| {
            if let Some(machine) = app.machine.get_untracked() {
                app.desk.submit(make(machine.id));
            }
        }
    };
    view! {
        <div class="pair">
            <button
                type="button"
                class="big-action row-all-turning"
                on:click=ask(|machine| Command::AllTurning { machine })
            >
                {words.all_turning()}
            </button>
            {move || (in_shift.get() && 0 < odd.get()).then(|| view! {
                <button
                    type="button"
                    class="big-action row-others-turn"
                    on:click=ask(|machine| Command::LookAtRow { machine })
                >
                    {words.others_turn()}
                </button>
            })}
        </div>
    }
}

/// How a tooth is, how long its tip is, and what could take its place.
#[component]
fn OneTooth(
    /// What every screen is handed.
    app: App,
    /// The mounted set.
    row: Mounted,
    /// Which tooth.
    position: u16,
) -> impl IntoView {
    let words = app.words;
    let known = Memo::new(move |_| row.state_at(position));
    let note = move |at: usize| {
        if let (Some(set), Some(&state)) = (row.id(), ToothState::ALL.get(at)) {
            app.desk.submit(Command::NoteTooth {
                set,
                position,
                state,
            });
        }
    };
    let present = move || {
        let tip = row.tips.with(|tips| tips.get(&position).map(|it| it.tip));
        tip.unwrap_or(Length::ZERO)
    };
    // What has been tapped in and not yet kept; none where the tip stands as it is known.
    let tapped = RwSignal::new(None::<Length>);
    let shown = move || tapped.get().unwrap_or_else(present);
    let step = move |more: bool| {
        let tip = tip_stepped(untrack(shown), more, app.units.get_untracked());
        tapped.set(Some(tip));
    };
    let keep_tip = move |_| {
        let (Some(set), Some(tip)) = (row.id(), tapped.get_untracked()) else {
            return;
        };
        let tips = vec![(position, tip)];
        app.desk
            .submit_then(Command::MeasureTips { set, tips }, move || tapped.set(None));
    };
    let (plate, nth) = row.plates.with_untracked(|plates| plates.place(position));
    let label = words.tip_length();
    view! {
        <section class="one-tooth">
            <h3>{words.tooth_at(&plate.to_string(), &nth.to_string())}</h3>
            <Choice
                label=words.tooth_ask()
                options=ToothState::ALL.iter().map(|&state| words.tooth_state(state)).collect()
                chosen=Signal::derive(move || {
                    let state = known.get()?;
                    ToothState::ALL.iter().position(|&it| it == state)
                })
                on_pick=Callback::new(note)
            />
            <Replacement app row position/>
            <Stepper
                names=step_names(words, &label)
                label
                value=Signal::derive(move || words.tip(shown(), app.units.get()))
                on_step=Callback::new(step)
            />
            {move || tapped.get().map(|tip| view! {
                <button type="button" class="action keep-tip" on:click=keep_tip>
                    {words.keep_tip(&words.tip(tip, app.units.get()))}
                </button>
            })}
        </section>
    }
}

/// The spare that fits best in the place of a tooth that does not turn freely, or what to do where none fits.
#[component]
fn Replacement(
    /// What every screen is handed.
    app: App,
    /// The mounted set.
    row: Mounted,
    /// Which tooth.
    position: u16,
) -> impl IntoView {
    let words = app.words;
    let bad = Memo::new(move |_| is_odd(row.state_at(position)));
    let best = Memo::new(move |_| {
        let wanted = |set: &SetOfTeeth| row.tips.with(|tips| set.wanted_at(position, tips));
        let wanted = row.set.with(|set| set.as_ref().and_then(wanted))?;
        let spares = app.state().with(|state| state.teeth.spares_one_by_one());
        let matched = match_spares(&[wanted], &spares, SAME_WEAR).ok()?;
        let pair = matched.pairs.first()?;
        Some((*spares.get(pair.spare)?, pair.off))
    });
    let replace = move |_| {
        if let (Some(set), Some((spare, _))) = (row.id(), best.get_untracked()) {
            app.desk.submit(Command::ReplaceTooth {
                set,
                position,
                kind: spare.kind,
                tip: spare.tip,
            });
        }
    };
    let offer = move |(spare, off): (evenrow_rules::spares::Spare, Length)| {
        let units = app.units.get();
        let (kind, tip) = (words.tooth_kind(spare.kind), words.tip(spare.tip, units));
        if off == Length::ZERO {
            words.replace_with_equal(&kind, &tip)
        } else {
            words.replace_with(&kind, &tip, &words.exact(off, units))
        }
    };
    view! {
        {move || bad.get().then(|| match best.get() {
            Some(found) => view! {
                <button type="button" class="main-action replace" on:click=replace>{offer(found)}</button>
            }
            .into_any(),
            None => view! {
                <p class="caution no-spare">{words.no_spare_fits(&words.exact(SAME_WEAR, app.units.get()))}</p>
                <a class="action to-stock" href="#stock">{words.stock_title()}</a>
            }
            .into_any(),
        })}
    }
}
