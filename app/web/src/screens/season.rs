//! The season plan: roads with their visits, and what they ask for in hours, teeth and time to order.

use evenrow_journal::command::{LONGEST_SEASON, LONGEST_VISIT, MOST_HOURS_A_WEEK, MOST_VISITS};
use evenrow_journal::event::{Id, SeasonPlan, SeasonRoad};
use evenrow_journal::season::{NoSeason, Season as Asks, Today};
use evenrow_journal::state::State;
use evenrow_journal::{Command, Refusal};
use evenrow_rules::quantity::{Hours, Length};
use evenrow_rules::season::{OrderBy, Room};
use leptos::prelude::*;
use serde::{Deserialize, Serialize};

use super::plan::machine_of;
use super::row_answers::{DELIVERY_DAYS, LONGEST_DELIVERY_DAYS, no_rate, sure};
use super::usual::step_names;
use crate::device::{clock, preferences};
use crate::parts::field::{Field, Keyboard};
use crate::parts::stepper::Stepper;
use crate::parts::terms::Terms;
use crate::shell::App;
use crate::words::numbers::{decimal, parse_thousandths};
use crate::words::times;

/// So long is a season until the operator says better, in weeks. House default: three months.
const USUAL_WEEKS: u16 = 13;

/// So many hours of work a week there are until the operator says better. House default.
const USUAL_HOURS_A_WEEK: u16 = 40;

/// What has been tapped and typed so far.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
struct Form {
    first_day: i32,
    weeks: u16,
    hours_a_week: u16,
    /// Name, minutes a visit, visits.
    roads: Vec<(String, u32, u16)>,
    /// The road that is being added.
    name: String,
    /// The hours that a visit to it takes.
    time: String,
}

impl Form {
    fn of(plan: &SeasonPlan) -> Form {
        let road = |road: &SeasonRoad| (road.name.clone(), road.minutes, road.visits);
        Form {
            first_day: plan.first_day,
            weeks: plan.weeks,
            hours_a_week: plan.hours_a_week,
            roads: plan.roads.iter().map(road).collect(),
            name: String::new(),
            time: String::new(),
        }
    }

    /// A season that begins tomorrow: today's work is done or planned already.
    fn after(today: i64) -> Form {
        Form {
            // Days of this age of the world fit.
            first_day: i32::try_from(today + 1).unwrap_or(0),
            weeks: USUAL_WEEKS,
            hours_a_week: USUAL_HOURS_A_WEEK,
            roads: Vec::new(),
            name: String::new(),
            time: String::new(),
        }
    }

    fn plan(&self) -> SeasonPlan {
        let road = |(name, minutes, visits): &(String, u32, u16)| SeasonRoad {
            name: name.clone(),
            minutes: *minutes,
            visits: *visits,
        };
        SeasonPlan {
            first_day: self.first_day,
            weeks: self.weeks,
            hours_a_week: self.hours_a_week,
            roads: self.roads.iter().map(road).collect(),
        }
    }
}

/// A visit as typed in hours, in whole minutes.
fn minutes(typed: &str) -> Option<u32> {
    let thousandths = parse_thousandths(typed).filter(|it| 0 < *it)?;
    u32::try_from((thousandths * 60 + 500) / 1000)
        .ok()
        .filter(|it| 0 < *it)
}

/// The roads that a machine's sections name, with how long a visit takes and how often each was done. What was planned last
/// under a name counts.
fn known_roads(state: &State, machine: &Id) -> Vec<(String, u32, u16)> {
    let mut roads: Vec<(String, u32, u16)> = Vec::new();
    let mut add = |name: &str, hours: Hours, done: u16| {
        let minutes = (hours.in_hours() * 60.0).round().max(1.0) as u32;
        match roads.iter_mut().find(|(known, ..)| known == name) {
            Some(known) => (known.1, known.2) = (minutes, known.2.saturating_add(done)),
            None => roads.push((name.to_owned(), minutes, done)),
        }
    };
    for shift in state.shifts.iter().filter(|shift| shift.is_with(machine)) {
        for done in shift.sections_done() {
            add(&done.what.name, done.what.road.hours(), 1);
        }
    }
    for section in state.sections.iter().filter(|it| it.machine == *machine) {
        add(&section.what.name, section.what.road.hours(), 0);
    }
    roads
}

/// The screen.
#[component]
pub fn Season(
    /// What every screen is handed.
    app: App,
) -> impl IntoView {
    let words = app.words;
    let machine = machine_of(app);
    let today = Memo::new(move |_| {
        let now = app.vigil.minute().get();
        times::day(now, clock::offset_minutes(now))
    });
    let id = machine.get_untracked().map(|it| it.id);
    let draft = id
        .as_ref()
        .map_or_else(String::new, |id| format!("season.{}", id.as_str()));
    let kept = id.as_ref().and_then(|id| {
        app.state()
            .with_untracked(|state| state.seasons.get(id).map(Form::of))
    });
    let form = RwSignal::new(
        preferences::draft::<Form>(&draft)
            .or(kept)
            .unwrap_or_else(|| Form::after(today.get_untracked())),
    );
    let draft = StoredValue::new(draft);
    let wrong = RwSignal::new(false);
    let change = move |change: &dyn Fn(&mut Form)| {
        form.update(|form| change(form));
        draft.with_value(|draft| preferences::set_draft(draft, &form.get_untracked()));
        wrong.set(false);
    };
    let days = RwSignal::new(preferences::delivery_days().unwrap_or(DELIVERY_DAYS));
    let keep = move |_| {
        if let Some(machine) = machine.get_untracked() {
            let ask = Command::PlanSeason {
                machine: machine.id,
                plan: form.with_untracked(Form::plan),
            };
            app.desk.submit_then(ask, move || {
                draft.with_value(|draft| preferences::drop_draft(draft));
            });
        }
    };
    let answer = move || {
        let (machine, sure) = machine.get().zip(sure())?;
        let now = app.now.get_untracked();
        let today = Today {
            now,
            day: today.get(),
            offset_minutes: clock::offset_minutes(now),
        };
        let plan = form.with(Form::plan);
        let asks = app
            .state()
            .with(|state| state.season(&machine.id, &plan, days.get(), today, sure));
        Some(match asks {
            Ok(asks) => view! {
                <Terms terms=terms(app, &asks)/>
                <p class="small">{words.season_sure()}</p>
            }
            .into_any(),
            Err(why) => view! { <p class="season-refused">{refused(app, why)}</p> }.into_any(),
        })
    };
    let names = Memo::new(move |_| {
        form.with(|form| {
            let names = form.roads.iter().map(|(name, ..)| name.clone());
            names.collect::<Vec<_>>()
        })
    });
    let known = Memo::new(move |_| {
        let machine = machine.get().map(|it| it.id)?;
        let known = app.state().with(|state| known_roads(state, &machine));
        let names = names.get();
        Some(
            known
                .into_iter()
                .filter(|(name, ..)| !names.contains(name))
                .collect::<Vec<_>>(),
        )
    });
    let add_known = move |(name, minutes, done): (String, u32, u16)| {
        let said = words.season_road(&name, &words.minutes_long(minutes));
        let add = move |_| {
            // As often as it was done so far, and once where it never was.
            change(&|form| form.roads.push((name.clone(), minutes, done.max(1))));
        };
        view! {
            <button type="button" class="action season-add-known" on:click=add>
                {words.season_add_known(&said)}
            </button>
        }
    };
    let add = move |_| {
        let Some(minutes) = form.with_untracked(|form| minutes(&form.time)) else {
            return wrong.set(true);
        };
        let name = form.with_untracked(|form| form.name.trim().to_owned());
        if name.is_empty() {
            return app.desk.refuse(Refusal::SectionNameEmpty);
        }
        if LONGEST_VISIT < minutes {
            return app.desk.refuse(Refusal::VisitOutOfRange { got: minutes });
        }
        change(&|form| {
            form.name.clear();
            form.time.clear();
            // A road that stands there already is told anew.
            match form.roads.iter_mut().find(|(known, ..)| *known == name) {
                Some(road) => road.1 = minutes,
                None => form.roads.push((name.clone(), minutes, 1)),
            }
        });
    };
    view! {
        <h1 tabindex="-1">{words.season_title()}</h1>
        <h2>{words.season_answer()}</h2>
        <div class="season-answer" aria-live="polite">{answer}</div>
        <h2>{words.season_roads()}</h2>
        <div class="season-roads">
            <For each=move || names.get() key=Clone::clone let:name>
                <RoadOf app form name change=Callback::new(move |changed: Form| change(&|form| *form = changed.clone()))/>
            </For>
        </div>
        {move || known.get().filter(|known| !known.is_empty()).map(|known| view! {
            <h3>{words.season_known()}</h3>
            {known.into_iter().map(add_known).collect_view()}
        })}
        <Field
            label=words.season_name()
            keyboard=Keyboard::Text
            value=Memo::new(move |_| form.with(|form| form.name.clone()))
            invalid=false
            on_input=Callback::new(move |text: String| change(&|form| form.name.clone_from(&text)))
        />
        <Field
            label=words.season_time()
            keyboard=Keyboard::Decimal
            value=Memo::new(move |_| form.with(|form| form.time.clone()))
            invalid=wrong
            on_input=Callback::new(move |text: String| change(&|form| form.time.clone_from(&text)))
        />
        <p class="wrong" role="alert">{move || wrong.get().then(|| words.season_not_hours())}</p>
        <button type="button" class="action season-add" on:click=add>{words.season_add()}</button>
        <Calendar app form days change=Callback::new(move |changed: Form| change(&|form| *form = changed.clone()))/>
        <button type="button" class="main-action keep-season" on:click=keep>{words.keep()}</button>
        <a class="action" href="#book">{words.book_title()}</a>
    }
}

/// A road with its visits.
#[component]
fn RoadOf(
    /// What every screen is handed.
    app: App,
    /// The form.
    form: RwSignal<Form>,
    /// Which road.
    name: String,
    /// The form was changed.
    change: Callback<Form>,
) -> impl IntoView {
    let words = app.words;
    let of = StoredValue::new(name.clone());
    let read = move |form: &Form| {
        let of = of.get_value();
        form.roads.iter().find(|(name, ..)| *name == of).cloned()
    };
    let step = move |more: bool| {
        let mut changed = form.get_untracked();
        let of = of.get_value();
        if let Some(road) = changed.roads.iter_mut().find(|(name, ..)| *name == of) {
            road.2 = stepped(road.2, more, 1, MOST_VISITS);
        }
        change.run(changed);
    };
    let leave_out = move |_| {
        let mut changed = form.get_untracked();
        let of = of.get_value();
        changed.roads.retain(|(name, ..)| *name != of);
        change.run(changed);
    };
    let said = move || {
        let road = form.with(read);
        road.map(|(name, minutes, _)| words.season_road(&name, &words.minutes_long(minutes)))
    };
    let label = words.season_visits(&name);
    view! {
        <div class="season-road">
            <p>{said}</p>
            <Stepper
                names=step_names(words, &label)
                label=label
                value=Signal::derive(move || {
                    form.with(read).map_or_else(String::new, |(_, _, visits)| visits.to_string())
                })
                on_step=Callback::new(step)
            />
            <button type="button" class="action season-leave-out" on:click=leave_out>
                {words.season_leave_out(&name)}
            </button>
        </div>
    }
}

/// When the season is, how much is worked in it, and how long a delivery takes.
#[component]
fn Calendar(
    /// What every screen is handed.
    app: App,
    /// The form.
    form: RwSignal<Form>,
    /// How many days a delivery takes.
    days: RwSignal<u16>,
    /// The form was changed.
    change: Callback<Form>,
) -> impl IntoView {
    let words = app.words;
    let stepper = move |label: String, shown: Signal<String>, step: fn(&mut Form, bool)| {
        let on_step = move |more: bool| {
            let mut changed = form.get_untracked();
            step(&mut changed, more);
            change.run(changed);
        };
        view! {
            <Stepper
                names=step_names(words, &label)
                label=label
                value=shown
                on_step=Callback::new(on_step)
            />
        }
    };
    let on_days = move |more: bool| {
        days.update(|it| *it = stepped(*it, more, 1, LONGEST_DELIVERY_DAYS));
        preferences::set_delivery_days(days.get_untracked());
    };
    let delivery = words.season_delivery();
    view! {
        <div class="season-calendar">
            {stepper(
                words.season_starts(),
                Signal::derive(move || form.with(|form| times::date_of(form.first_day.into()))),
                |form, more| {
                    let week = if more { 7 } else { -7 };
                    form.first_day = form.first_day.saturating_add(week);
                },
            )}
            {stepper(
                words.season_weeks(),
                Signal::derive(move || form.with(|form| form.weeks.to_string())),
                |form, more| form.weeks = stepped(form.weeks, more, 1, LONGEST_SEASON),
            )}
            {stepper(
                words.season_hours_a_week(),
                Signal::derive(move || form.with(|form| form.hours_a_week.to_string())),
                |form, more| form.hours_a_week = stepped(form.hours_a_week, more, 0, MOST_HOURS_A_WEEK),
            )}
            <Stepper
                names=step_names(words, &delivery)
                label=delivery
                value=Signal::derive(move || words.days(&days.get().to_string()))
                on_step=Callback::new(on_days)
            />
        </div>
    }
}

fn stepped(now: u16, more: bool, least: u16, most: u16) -> u16 {
    let next = if more {
        now.saturating_add(1)
    } else {
        now.saturating_sub(1)
    };
    next.clamp(least, most)
}

fn refused(app: App, why: NoSeason) -> String {
    let words = app.words;
    match why {
        NoSeason::NoRoads => words.season_no_roads(),
        NoSeason::NoSet => words.season_no_set(),
        NoSeason::RateOutOfRange => words.season_rate_wrong(),
        NoSeason::Wear(refused) => [words.season_no_rate(), no_rate(app, &refused)].join(" "),
    }
}

/// What it asks for, in words.
fn terms(app: App, asks: &Asks) -> Vec<(String, String)> {
    let (words, units) = (app.words, app.units.get());
    let hours = |hours: Hours| words.hours_plain(&decimal(hours.in_hours(), 0));
    let (needed, available) = (hours(asks.needed), hours(asks.available));
    let needed = if asks.worked == Hours::ZERO {
        words.season_needed(&needed, &available)
    } else {
        words.season_needed_rest(&needed, &hours(asks.worked), &available)
    };
    let room = match asks.room {
        Room::Spare(spare) => words.season_spare(&hours(spare)),
        Room::Missing(missing) => words.season_missing(&hours(missing)),
    };
    let worn = |mm_per_hour: f64| {
        let in_100 = Length::millimetres(mm_per_hour * 100.0).unwrap_or(Length::ZERO);
        words.exact(in_100, units)
    };
    let order = match asks.order_by {
        None => words.season_order_nothing(),
        Some(by) => {
            let teeth = words.season_order_teeth(&asks.teeth_to_order.to_string());
            let by = match by {
                OrderBy::InTime { day, days_left } => {
                    words.season_order_by(&times::date_of(day), &days_left.to_string())
                }
                OrderBy::TooLate { day, days_ago } => {
                    words.season_order_late(&times::date_of(day), &days_ago.to_string())
                }
            };
            [teeth, by].join(" ")
        }
    };
    vec![
        (words.season_order(), order),
        (words.season_hours(), [needed, room].join("; ")),
        (
            words.season_sets(),
            words.season_sets_of(
                &asks.sets.needed.to_string(),
                &asks.teeth_a_set.to_string(),
                &decimal(asks.sets.expected, 1),
                &words.tooth_kind(asks.kind),
                &decimal(asks.on_hand, 1),
            ),
        ),
        (
            words.season_broken(),
            words.season_broken_of(&asks.breakage.teeth.to_string(), &asks.spares.to_string()),
        ),
        (
            words.season_wear(),
            words.season_wear_of(
                &worn(asks.rate.mm_per_hour),
                &worn(asks.rate.low),
                &worn(asks.rate.high),
            ),
        ),
    ]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_visit_is_typed_in_hours_and_kept_in_whole_minutes() {
        for (typed, expected) in [
            ("3.5", Some(210)),
            ("0,25", Some(15)),
            ("1.333", Some(80)),
            ("0", None),
            ("-2", None),
            ("0.001", None),
            ("long", None),
            ("", None),
        ] {
            assert_eq!(minutes(typed), expected, "{typed}");
        }
    }
}
