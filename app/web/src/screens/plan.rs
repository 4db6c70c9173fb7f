//! The day's plan: its sections on one line with breaks and oilings, when it is done, and what does not fit.

use evenrow_journal::Command;
use evenrow_journal::Id;
use evenrow_journal::day::{DayPlan, OfTheDay};
use evenrow_journal::state::NamedMachine;
use evenrow_rules::day::{LEAST_FOR_A_PACE, USUAL_MINUTES_OF_WORK, USUAL_OVERLAP};
use evenrow_rules::plan::OIL_STOP;
use evenrow_rules::quantity::Span;
use evenrow_rules::source::{Basis, Source};
use leptos::prelude::*;

use super::line;
use super::usual::ShiftForm;
use crate::parts::live::live;
use crate::parts::section_card::{Act, SectionCard, SectionView};
use crate::parts::sheet_line::{Reasons, Why};
use crate::parts::shift_line::{ShiftLineView, Stage, shift_line};
use crate::place::Place;
use crate::shell::{App, go};
use crate::words::numbers::{AS_PLANNED, decimal};
use crate::words::times;

/// The machine that the plan is for: that of the shift that runs, else the one chosen on this phone.
pub fn machine_of(app: App) -> Memo<Option<NamedMachine>> {
    Memo::new(move |_| {
        let running = app
            .state()
            .with(|state| state.running().and_then(|shift| shift.machine.clone()));
        running.or(app.machine.get())
    })
}

/// The screen.
#[component]
pub fn Plan(
    /// What every screen is handed.
    app: App,
) -> impl IntoView {
    let words = app.words;
    let machine = machine_of(app);
    let plan = Memo::new(move |_| {
        // The list must not be drawn anew under a thumb.
        let now = app.vigil.minute().get();
        let machine = machine.get()?;
        app.state().with(|state| {
            let usual = state.usual.as_ref().map(ShiftForm::of).unwrap_or_default();
            Some(state.day_plan(&machine, &usual.plan(now), now))
        })
    });
    let with_plan = move |read: &dyn Fn(&DayPlan) -> String| {
        plan.with(|plan| plan.as_ref().map_or_else(String::new, read))
    };
    let shown = Memo::new(move |_| {
        let now = app.vigil.moment().get();
        plan.with(|plan| {
            plan.as_ref().map_or_else(ShiftLineView::default, |plan| {
                line::planned(plan, now, words, told(app, plan))
            })
        })
    });
    let ids = Memo::new(move |_| {
        plan.with(|plan| {
            let sections = plan.iter().flat_map(|plan| &plan.sections);
            sections.map(|it| it.id.clone()).collect::<Vec<_>>()
        })
    });
    let is_empty = Memo::new(move |_| ids.with(Vec::is_empty));
    view! {
        <h1 tabindex="-1">{words.plan_title()}</h1>
        {move || is_empty.get().then(|| view! { <p>{words.plan_empty()}</p> })}
        <Show when=move || !is_empty.get()>
            <p class="plan-finish">{move || with_plan(&|plan| finish(app, plan))}</p>
            {live(move || shift_line(shown.get()))}
            <p class="plan-state">{move || with_plan(&|plan| standing(app, plan))}</p>
            <p class="plan-not-today caution" hidden=move || with_plan(&|plan| not_today(app, plan)).is_empty()>
                {move || with_plan(&|plan| not_today(app, plan))}
            </p>
            <ul class="plan-sections">
                <For each=move || ids.get() key=Clone::clone let:id>
                    <Card app plan ids id/>
                </For>
            </ul>
        </Show>
        <a class="main-action plan-add" href="#plan/new">{words.plan_add()}</a>
        <details class="counted">
            <summary>{words.counted_title()}</summary>
            <Reasons why=counted(app)/>
        </details>
        <a class="action" href="#setup">{words.tab_setup()}</a>
    }
}

/// A section with its tick and its changes.
#[component]
fn Card(
    /// What every screen is handed.
    app: App,
    /// The plan.
    plan: Memo<Option<DayPlan>>,
    /// The sections in their order.
    ids: Memo<Vec<Id>>,
    /// The section.
    id: Id,
) -> impl IntoView {
    let words = app.words;
    let id = StoredValue::new(id);
    let shown = Memo::new(move |last: Option<&SectionView>| {
        plan.with(|plan| {
            let plan = plan.as_ref()?;
            let mut numbered = plan.sections.iter().zip(1_u32..);
            let (section, number) = numbered.find(|(it, _)| id.with_value(|id| it.id == *id))?;
            Some(card(app, plan, section, number))
        })
        // The moment between leaving it out and its card's end shows the last of it.
        .or_else(|| last.cloned())
        .unwrap_or_else(|| SectionView {
            stage: Stage::Ahead,
            title: String::new(),
            facts: String::new(),
            when: String::new(),
            more: String::new(),
        })
    });
    let tick = move |done: bool| {
        let section = id.get_value();
        app.desk.submit(Command::TickSection { section, done });
    };
    let swap = move |later: bool| {
        let (one, other) = ids.with_untracked(|ids| {
            let at = ids.iter().position(|it| id.with_value(|id| it == id))?;
            let beside = if later { at + 1 } else { at.checked_sub(1)? };
            Some((ids.get(at)?.clone(), ids.get(beside)?.clone()))
        })?;
        // What comes later lets the next one go before it.
        let (section, before) = if later { (other, one) } else { (one, other) };
        app.desk.submit(Command::MoveSection { section, before });
        Some(())
    };
    let act = move |act: Act| match act {
        Act::Change => go(&Place::Section(Some(id.get_value()))),
        // The first cannot come earlier, nor the last later.
        Act::Earlier => swap(false).unwrap_or_default(),
        Act::Later => swap(true).unwrap_or_default(),
        Act::LeaveOut => {
            let section = id.get_value();
            app.desk.submit(Command::LeaveOutSection { section });
        }
    };
    view! {
        <SectionCard
            shown
            acts=[
                (Act::Change, words.section_change()),
                (Act::LeaveOut, words.section_leave_out()),
                (Act::Earlier, words.section_earlier()),
                (Act::Later, words.section_later()),
            ]
            on_tick=Callback::new(tick)
            on_act=Callback::new(act)
        />
    }
}

fn span(app: App, span: Span) -> String {
    let (from, to) = (times::here(span.start()), times::here(span.end()));
    app.words.span(&from, &to)
}

fn card(app: App, plan: &DayPlan, section: &OfTheDay, number: u32) -> SectionView {
    let (words, units) = (app.words, app.units.get());
    let road = &section.what.road;
    let length = words.distance(road.length(), units);
    let length = road.width().map_or(length.clone(), |width| {
        words.section_wide(&length, &words.width(width, units))
    });
    let passes = match (road.passes(), road.layers()) {
        (1, 1) => words.section_passes_one(),
        (passes, 1) => words.section_passes(&passes.to_string()),
        (passes, layers) => {
            let each = if passes == 1 {
                words.section_passes_one()
            } else {
                words.section_passes(&passes.to_string())
            };
            words.section_layers(&each, &layers.to_string())
        }
    };
    let time = words.duration(road.hours().as_duration());
    let stage = line::stage(plan, section);
    SectionView {
        stage,
        title: words.section_place(&number.to_string(), &section.what.name),
        facts: words.section_facts(
            &words.work(section.what.work),
            &length,
            &passes,
            &words.working_speed(road.speed(), units),
        ),
        when: match stage {
            Stage::Done => words.section_done_at(&time, &times::here(section.when.end())),
            Stage::Ahead => words.section_ahead(&time, &span(app, section.when)),
            Stage::Beyond if plan.shift.end() <= section.when.start() => {
                words.section_another_shift(&time)
            }
            Stage::Beyond => words.section_beyond(&time, &span(app, section.when)),
        },
        more: words.section_more(&section.what.name),
    }
}

/// When all of it is done, and how that stands to the end of the shift.
fn finish(app: App, plan: &DayPlan) -> String {
    let words = app.words;
    let Some(finish) = plan.finish() else {
        return String::new();
    };
    let open = plan.sections.iter().any(|it| it.done.is_none());
    if !open {
        return words.plan_all_done();
    }
    let end = plan.shift.end();
    let (early, late) = (end.since(finish), finish.since(end));
    let against = match (early.as_secs() / 60, late.as_secs() / 60) {
        (0, 0) => words.plan_at_the_end(),
        (0, _) => words.plan_after_the_end(&words.duration(late)),
        (_, _) => words.plan_before_the_end(&words.duration(early)),
    };
    format!("{}, {against}", words.plan_done_at(&times::here(finish)))
}

/// What was planned, what is left, and at which pace it goes.
fn standing(app: App, plan: &DayPlan) -> String {
    let (words, units) = (app.words, app.units.get());
    let mut said = Vec::new();
    if !plan.runs {
        let (from, to) = (
            times::here(plan.shift.start()),
            times::here(plan.shift.end()),
        );
        said.push(words.plan_no_shift(&from, &to));
    }
    said.push(words.plan_sum(
        &words.duration(plan.planned.as_duration()),
        &words.distance(plan.driven, units),
    ));
    if plan.sections.iter().any(|it| it.done.is_some()) {
        said.push(words.plan_left(&words.duration(plan.left.as_duration())));
    }
    if let Some(pace) = plan.pace {
        let share = pace.in_share();
        said.push(if share < 1.0 - AS_PLANNED {
            words.plan_pace_faster(&decimal(share, 2))
        } else if 1.0 + AS_PLANNED < share {
            words.plan_pace_slower(&decimal(share, 2))
        } else {
            words.plan_pace_even()
        });
    }
    said.join(" ")
}

/// What does not fit into the shift, by name; nothing where all of it does.
fn not_today(app: App, plan: &DayPlan) -> String {
    let late = plan
        .sections
        .iter()
        .filter(|it| line::stage(plan, it) == Stage::Beyond);
    let names: Vec<&str> = late.map(|it| it.what.name.as_str()).collect();
    if names.is_empty() {
        String::new()
    } else {
        app.words.plan_not_today(&names.join(", "))
    }
}

/// The line in words.
fn told(app: App, plan: &DayPlan) -> String {
    let words = app.words;
    let join = |said: &mut dyn Iterator<Item = String>| said.collect::<Vec<_>>().join(", ");
    let sections = plan.sections.iter();
    let sections =
        join(&mut sections.map(|it| words.plan_line_section(&it.what.name, &span(app, it.when))));
    let slots = plan.oilings.slots.iter();
    let slots = slots.filter(|slot| slot.due.at <= plan.shift.end());
    let rests = join(&mut plan.breaks.iter().map(|it| span(app, it.span)));
    words.plan_line_told(
        &sections,
        &finish(app, plan),
        &join(&mut slots.map(|slot| times::here(slot.due.at))),
        &if rests.is_empty() {
            words.rest_none()
        } else {
            rests
        },
    )
}

/// What the numbers rest on.
fn counted(app: App) -> Vec<Why> {
    let (words, units) = (app.words, app.units.get_untracked());
    let minutes = |length: core::time::Duration| (length.as_secs() / 60).to_string();
    let why = |text: String, basis: Basis| Why {
        head: String::new(),
        text,
        basis: words.basis(basis),
    };
    vec![
        why(
            words.counted_formula(),
            Basis::Published(Source::EarthmovingOperations),
        ),
        why(
            words.counted_minutes(&USUAL_MINUTES_OF_WORK.to_string()),
            Basis::HouseDefault,
        ),
        why(
            words.counted_overlap(&words.exact(USUAL_OVERLAP, units)),
            Basis::HouseDefault,
        ),
        why(
            words.counted_oil_stop(&minutes(OIL_STOP)),
            Basis::HouseDefault,
        ),
        why(words.counted_breaks(), Basis::Geometry),
        why(
            words.counted_pace(&minutes(LEAST_FOR_A_PACE)),
            Basis::HouseDefault,
        ),
    ]
}
