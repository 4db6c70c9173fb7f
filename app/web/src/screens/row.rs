//! The row: the mounted set tooth by tooth, noted by exception; what to change now; and the ways to measure, stock and sets.

use evenrow_journal::Command;
use evenrow_journal::event::ToothState;
use evenrow_journal::row::{SetOfTeeth, Tooth};
use evenrow_rules::machine::fit;
use evenrow_rules::spares::{SAME_WEAR, match_spares};
use leptos::prelude::*;

use super::row_answers::RowAnswers;
use super::usual::step_names;
use crate::device::preferences::Units;
use crate::parts::choice::Choice;
use crate::parts::stepper::Stepper;
use crate::parts::tooth_grid::{Sign, ToothDrawing, ToothGrid, ToothView};
use crate::shell::App;

/// Every state in the order in which it is offered.
const STATES: [ToothState; 6] = [
    ToothState::Turning,
    ToothState::Stiff,
    ToothState::Stuck,
    ToothState::Chipped,
    ToothState::Broken,
    ToothState::Gone,
];

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

/// One step of a tip: half a millimetre, or a sixteenth of an inch.
pub fn tip_step(units: Units) -> u32 {
    match units {
        Units::Metric => 500,
        Units::Us => 1_587,
    }
}

/// The set on this phone's machine.
pub fn mounted(app: App) -> Memo<Option<SetOfTeeth>> {
    Memo::new(move |_| {
        let machine = app.machine.get()?.id;
        app.state().with(|state| state.teeth.on(&machine).cloned())
    })
}

/// The screen.
#[component]
pub fn Row(
    /// What every screen is handed.
    app: App,
) -> impl IntoView {
    let words = app.words;
    let set = mounted(app);
    let has_set = Memo::new(move |_| set.with(Option::is_some));
    view! {
        <h1 tabindex="-1">{words.row_title()}</h1>
        {move || if has_set.get() {
            view! { <Mounted app set/> }.into_any()
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
    }
}

/// How many teeth each plate of the row has, from the left.
fn plates(app: App, set: &SetOfTeeth) -> Vec<u16> {
    let fit = app
        .machine
        .get()
        .map(|it| fit(&it.machine).teeth)
        .unwrap_or_default();
    let mut left = set.teeth.last_key_value().map_or(0, |(last, _)| *last);
    let mut plates: Vec<u16> = fit
        .into_iter()
        .map(|teeth| {
            let on_it = u16::try_from(teeth).unwrap_or(u16::MAX).min(left);
            left -= on_it;
            on_it
        })
        .filter(|teeth| 0 < *teeth)
        .collect();
    // A row that was longer when the set was mounted keeps its last teeth on a plate of their own.
    if 0 < left {
        plates.push(left);
    }
    plates
}

#[component]
fn Mounted(
    /// What every screen is handed.
    app: App,
    /// The set.
    set: Memo<Option<SetOfTeeth>>,
) -> impl IntoView {
    let words = app.words;
    let plate = RwSignal::new(0_usize);
    let chosen = RwSignal::new(None::<u16>);
    let view_of =
        move |set: &SetOfTeeth, plate: usize, place: u16, position: u16, tooth: &Tooth| {
            let (new, end) = (set.tips.when_new(), set.tips.when_done());
            let share = tooth.tip.less(end).in_millimetres() / new.less(end).in_millimetres();
            let word = words.tooth_state(tooth.state);
            ToothView {
                position,
                left: (share * 100.0).clamp(0.0, 100.0) as u8,
                sign: sign(tooth.state),
                told: words.tooth_told(
                    &(plate + 1).to_string(),
                    &place.to_string(),
                    &word,
                    &words.exact(tooth.tip, app.units.get()),
                ),
                word: if tooth.state == ToothState::Turning {
                    words.exact(tooth.tip, app.units.get())
                } else {
                    word
                },
            }
        };
    let of_plate = move |number: usize| {
        set.with(|set| {
            let Some(set) = set else { return Vec::new() };
            let plates = plates(app, set);
            let first: u16 = plates.iter().take(number).sum();
            let count = plates.get(number).copied().unwrap_or(0);
            (1..=count)
                .filter_map(|place| {
                    let position = first + place;
                    let tooth = set.teeth.get(&position)?;
                    Some(view_of(set, number, place, position, tooth))
                })
                .collect()
        })
    };
    let strip = move || {
        let count = set.with(|set| set.as_ref().map_or(0, |set| plates(app, set).len()));
        let plate_button = move |number: usize| {
            let teeth = Memo::new(move |_| of_plate(number));
            let odd = move || {
                teeth.with(|teeth| {
                    teeth
                        .iter()
                        .filter(|tooth| tooth.sign != Sign::None)
                        .count()
                })
            };
            let told = move || {
                let name = words.plate_number(&(number + 1).to_string());
                match odd() {
                    0 => words.plate_all_turn(&name),
                    odd => words.plate_some_odd(&name, &odd.to_string()),
                }
            };
            view! {
                <button
                    type="button"
                    class="plate-of-row"
                    aria-pressed=move || (plate.get() == number).to_string()
                    on:click=move |_| {
                        plate.set(number);
                        chosen.set(None);
                    }
                >
                    <span>{told}</span>
                    <span class="plate-teeth">
                        {move || teeth.get().into_iter().map(|tooth| view! {
                            <ToothDrawing left=tooth.left sign=tooth.sign/>
                        }).collect_view()}
                    </span>
                </button>
            }
        };
        (0..count).map(plate_button).collect_view()
    };
    let odd_in_all = Memo::new(move |_| {
        set.with(|set| {
            set.as_ref().map_or(0, |set| {
                set.count(&[
                    ToothState::Stiff,
                    ToothState::Stuck,
                    ToothState::Broken,
                    ToothState::Gone,
                ])
            })
        })
    });
    let in_shift = Memo::new(move |_| app.state().with(|state| state.running().is_some()));
    let machine = move || app.machine.get_untracked().map(|it| it.id);
    let all_turning = move |_| {
        if let Some(machine) = machine() {
            app.desk.submit(Command::AllTurning { machine });
        }
    };
    let others_turn = move |_| {
        if let Some(machine) = machine() {
            app.desk.submit(Command::LookAtRow { machine });
        }
    };
    let label = move || words.plate_number(&(plate.get() + 1).to_string());
    view! {
        <p class="caution">{words.beware_make_it_safe_first()}</p>
        <div class="pair">
            <button type="button" class="big-action row-all-turning" on:click=all_turning>{words.all_turning()}</button>
            {move || (in_shift.get() && 0 < odd_in_all.get()).then(|| view! {
                <button type="button" class="big-action row-others-turn" on:click=others_turn>{words.others_turn()}</button>
            })}
        </div>
        <p class="small">{words.row_lead()}</p>
        <div class="plate-strip">{strip}</div>
        <h2>{label}</h2>
        <ToothGrid
            label=words.row_title()
            teeth=Signal::derive(move || of_plate(plate.get()))
            chosen
            on_pick=Callback::new(move |position| chosen.set(Some(position)))
        />
        {move || chosen.get().map(|position| view! { <OneTooth app set position/> })}
        <a class="action to-measure" href="#measure">{words.measure_title()}</a>
        <RowAnswers app set/>
    }
}

/// How a tooth is, how long its tip is, and what could take its place.
#[component]
fn OneTooth(
    /// What every screen is handed.
    app: App,
    /// The set.
    set: Memo<Option<SetOfTeeth>>,
    /// Which tooth.
    position: u16,
) -> impl IntoView {
    let words = app.words;
    let tooth = Memo::new(move |_| set.with(|set| set.as_ref()?.teeth.get(&position).copied()));
    let id = move || set.with_untracked(|set| set.as_ref().map(|set| set.id.clone()));
    let state = Signal::derive(move || {
        let state = tooth.get()?.state;
        STATES.iter().position(|&known| known == state)
    });
    let note = move |at: usize| {
        if let (Some(set), Some(&state)) = (id(), STATES.get(at)) {
            app.desk.submit(Command::NoteTooth {
                set,
                position,
                state,
            });
        }
    };
    let tip = move |more: bool| {
        let (Some(set), Some(tooth)) = (id(), tooth.get_untracked()) else {
            return;
        };
        let (now, step) = (
            tooth.tip.in_micrometres(),
            tip_step(app.units.get_untracked()),
        );
        let um = if more {
            now.saturating_add(step)
        } else {
            now.saturating_sub(step)
        };
        let tips = vec![(position, evenrow_rules::quantity::Length::micrometres(um))];
        app.desk.submit(Command::MeasureTips { set, tips });
    };
    let shown_tip = move || {
        tooth
            .get()
            .map_or_else(String::new, |tooth| words.exact(tooth.tip, app.units.get()))
    };
    let best = Memo::new(move |_| {
        let wanted = set.with(|set| set.as_ref()?.wanted_at(position))?;
        let spares = app.state().with(|state| state.teeth.spares_one_by_one());
        let matched = match_spares(&[wanted], &spares, SAME_WEAR).ok()?;
        let pair = matched.pairs.first()?;
        Some((*spares.get(pair.spare)?, pair.off))
    });
    let replace = move || {
        let bad = tooth
            .get()
            .is_some_and(|tooth| tooth.state != ToothState::Turning);
        bad.then(|| match best.get() {
            Some((spare, off)) => {
                let units = app.units.get();
                let offer = words.replace_with(
                    &words.tooth_kind(spare.kind),
                    &words.exact(spare.tip, units),
                    &words.exact(off, units),
                );
                let press = move |_| {
                    if let Some(set) = id() {
                        app.desk.submit(Command::ReplaceTooth {
                            set,
                            position,
                            kind: spare.kind,
                            tip: spare.tip,
                        });
                    }
                };
                view! { <button type="button" class="main-action replace" on:click=press>{offer}</button> }.into_any()
            }
            None => view! { <p class="caution no-spare">{words.no_spare_fits()}</p> }.into_any(),
        })
    };
    let label = words.tip_length();
    view! {
        <section class="one-tooth">
            <h3>{words.tooth_number(&position.to_string())}</h3>
            <Choice
                label=words.tooth_ask()
                options=STATES.iter().map(|&state| words.tooth_state(state)).collect()
                chosen=state
                on_pick=Callback::new(note)
            />
            <Stepper names=step_names(words, &label) label value=Signal::derive(shown_tip) on_step=Callback::new(tip)/>
            {replace}
        </section>
    }
}
