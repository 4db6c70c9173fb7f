//! A section of the day's plan as a form: what is typed, and what follows from it at once.

use core::num::NonZeroU16;

use evenrow_journal::command::SectionAsked;
use evenrow_journal::event::RoadSection;
use evenrow_journal::{Command, Id};
use evenrow_rules::day::{Section as Road, USUAL_MINUTES_OF_WORK, USUAL_OVERLAP};
use evenrow_rules::machine::{FOOT, effective_width};
use evenrow_rules::plan::passes;
use evenrow_rules::quantity::{KilometresPerHour, Length};
use evenrow_rules::setup::{Sheet, advise};
use evenrow_rules::work::Work;
use leptos::prelude::*;
use serde::{Deserialize, Serialize};

use super::plan::machine_of;
use super::usual::step_names;
use crate::answers::Answers;
use crate::device::preferences;
use crate::parts::choice::Choice;
use crate::parts::field::{Field, Keyboard};
use crate::parts::stepper::Stepper;
use crate::place::{Place, work_name};
use crate::shell::{App, go};
use crate::units::{Quantity, System, Units};
use crate::words::numbers::{MILE_KM, decimal, parse_thousandths};

/// What has been typed so far, in the units of the phone. Nothing means: as the sheet says, or as the width asks for.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
struct Form {
    name: String,
    /// Its number among the works; none is the work of the set-up in use.
    work: Option<usize>,
    length: String,
    width: String,
    passes: Option<u16>,
    layers: Option<u16>,
    speed: Option<String>,
    minutes: Option<u8>,
}

/// What cannot be read as a number.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Wrong {
    Length,
    Width,
    Speed,
}

/// Thousandths typed, as a number in metric units.
fn typed(text: &str, system: System, us: f64) -> Option<f64> {
    let number = parse_thousandths(text)? as f64 / 1000.0;
    Some(match system {
        System::Metric => number,
        System::Us => number * us,
    })
}

/// A foot in metres.
fn foot() -> f64 {
    FOOT.in_millimetres() / 1000.0
}

/// The highest speed of a sheet, as it would be typed.
fn as_typed(most: KilometresPerHour, units: Units) -> String {
    match units.of(Quantity::Speed) {
        System::Metric => most.0.to_string(),
        System::Us => decimal(f64::from(most.0) / MILE_KM, 0),
    }
}

impl Form {
    /// The form that shows a section as it is planned.
    fn of(section: &RoadSection, units: Units) -> Form {
        let road = &section.road;
        // A width is kept in whole millimetres: thousandths of a foot are finer than that.
        let shown = |quantity, metric: f64, us: f64, places: u32| match units.of(quantity) {
            System::Metric => decimal(metric, 3),
            System::Us => decimal(metric / us, places),
        };
        Form {
            name: section.name.clone(),
            work: Work::ALL.iter().position(|it| *it == section.work),
            length: shown(Quantity::Road, road.length().in_kilometres(), MILE_KM, 3),
            width: road.width().map_or_else(String::new, |width| {
                shown(Quantity::Road, width.in_millimetres() / 1000.0, foot(), 2)
            }),
            passes: Some(road.passes()),
            layers: Some(road.layers()),
            speed: Some(shown(
                Quantity::Speed,
                road.speed().in_kilometres_per_hour(),
                MILE_KM,
                3,
            )),
            minutes: Some(road.minutes_of_work()),
        }
    }

    /// The width in millimetres, where there is one.
    fn width_mm(&self, units: Units) -> Result<Option<f64>, Wrong> {
        if self.width.trim().is_empty() {
            return Ok(None);
        }
        let metres = typed(&self.width, units.of(Quantity::Road), foot()).ok_or(Wrong::Width)?;
        Ok(Some(metres * 1000.0))
    }

    /// How many minutes of an hour are work.
    fn minutes(&self) -> u8 {
        self.minutes.unwrap_or(USUAL_MINUTES_OF_WORK)
    }
}

/// What the form and the sheet of its work say together.
#[derive(Clone, Debug, PartialEq)]
struct Said {
    work: Work,
    most: Option<KilometresPerHour>,
    /// What the board works across at the sheet's grading angle.
    effective: Length,
    /// Worked out from the width, where there is one.
    from_width: Option<u16>,
    passes: u16,
    layers: u16,
    speed: String,
}

impl Said {
    fn of(form: &Form, work: Work, sheet: &Sheet, board: Length, units: Units) -> Said {
        let effective = effective_width(board, sheet.grading.value().target());
        let width = form.width_mm(units).ok().flatten();
        let width = width.and_then(|mm| Length::millimetres(mm).ok());
        let from_width = width.and_then(|width| {
            let passes = passes(width, effective, USUAL_OVERLAP, NonZeroU16::MIN).ok()?;
            u16::try_from(passes.per_layer).ok()
        });
        let most = sheet.speed.as_ref().map(|it| *it.value());
        Said {
            work,
            most,
            effective,
            from_width,
            passes: form.passes.or(from_width).unwrap_or(1),
            layers: form.layers.unwrap_or(sheet.layers.value().count),
            speed: form
                .speed
                .clone()
                .unwrap_or_else(|| most.map_or_else(String::new, |most| as_typed(most, units))),
        }
    }

    /// What is asked for, or what cannot be read.
    fn asked(&self, form: &Form, units: Units) -> Result<SectionAsked, Wrong> {
        Ok(SectionAsked {
            name: form.name.clone(),
            work: self.work,
            kilometres: typed(&form.length, units.of(Quantity::Road), MILE_KM)
                .ok_or(Wrong::Length)?,
            width_mm: form.width_mm(units)?,
            passes: self.passes,
            layers: self.layers,
            kilometres_per_hour: typed(&self.speed, units.of(Quantity::Speed), MILE_KM)
                .ok_or(Wrong::Speed)?,
            minutes_of_work: form.minutes(),
        })
    }

    /// The section as it would be planned, once it can be.
    fn road(&self, form: &Form, units: Units) -> Option<Road> {
        let asked = self.asked(form, units).ok()?;
        let (length, speed) = (asked.kilometres, asked.kilometres_per_hour);
        let counts = (self.passes, self.layers);
        Road::new(length, asked.width_mm, counts, speed, asked.minutes_of_work).ok()
    }
}

/// The screen.
#[component]
pub fn Section(
    /// What every screen is handed.
    app: App,
    /// Which section; a new one where none is named.
    id: Option<Id>,
) -> impl IntoView {
    let words = app.words;
    let units = app.units.get_untracked();
    let known = id.as_ref().and_then(|id| {
        app.state().with_untracked(|state| {
            let section = state.sections.iter().find(|it| it.id == *id)?;
            Some(section.what.clone())
        })
    });
    if id.is_some() && known.is_none() {
        return view! {
            <h1 tabindex="-1">{words.section_title()}</h1>
            <p>{words.section_gone()}</p>
            <a class="main-action" href="#plan">{words.back_to_plan()}</a>
        }
        .into_any();
    }
    let draft = id.as_ref().map_or_else(
        || "section".to_owned(),
        |id| format!("section.{}", id.as_str()),
    );
    let form = RwSignal::new(
        preferences::draft::<Form>(&draft)
            .unwrap_or_else(|| known.map_or_else(Form::default, |known| Form::of(&known, units))),
    );
    view! {
        <h1 tabindex="-1">{if id.is_some() { words.section_title() } else { words.section_new_title() }}</h1>
        <Fields app form id=id draft/>
        <a class="action" href="#plan">{words.back_to_plan()}</a>
    }
    .into_any()
}

#[component]
fn Fields(
    /// What every screen is handed.
    app: App,
    /// What has been typed so far.
    form: RwSignal<Form>,
    /// Which section.
    id: Option<Id>,
    /// Under which name the half-filled form is kept.
    draft: String,
) -> impl IntoView {
    let words = app.words;
    let units = app.units.get_untracked();
    let (id, draft) = (StoredValue::new(id), StoredValue::new(draft));
    let wrong = RwSignal::new(None::<Wrong>);
    let change = move |change: &dyn Fn(&mut Form)| {
        form.update(|form| change(form));
        draft.with_value(|draft| preferences::set_draft(draft, &form.get_untracked()));
        wrong.set(None);
    };
    let machine = machine_of(app);
    let in_use = Memo::new(move |_| {
        app.state().with(|state| {
            let setup = state.running().and_then(|shift| shift.setup());
            // The plan goes on as it began; else as the shift does.
            let last = state.sections.last().map(|it| it.what.work);
            last.or(setup.map(|it| it.work)).unwrap_or(Work::Gravel)
        })
    });
    let work = Memo::new(move |_| {
        let picked = form.with(|form| form.work);
        let picked = picked.and_then(|at| Work::ALL.get(at).copied());
        picked.unwrap_or(in_use.get())
    });
    let said = Memo::new(move |_| {
        let (machine, work) = (machine.get()?.machine, work.get());
        // What was answered about this work for its sheet holds here too.
        let answers = format!("answers.{}", work_name(work));
        let answers = preferences::draft::<Answers>(&answers).unwrap_or_default();
        let sheet = advise(work, &answers.conditions(), &machine);
        Some(form.with(|form| Said::of(form, work, &sheet, machine.moldboard(), units)))
    });
    let with_said = move |read: &dyn Fn(&Said) -> String| {
        said.with(|said| said.as_ref().map_or_else(String::new, read))
    };
    let keep = move |_| {
        let Some(said) = said.get_untracked() else {
            return;
        };
        let section = match form.with_untracked(|form| said.asked(form, units)) {
            Err(why) => return wrong.set(Some(why)),
            Ok(section) => section,
        };
        let Some(machine) = machine.get_untracked() else {
            return;
        };
        let ask = match id.get_value() {
            Some(section_id) => Command::ChangeSection {
                section: section_id,
                to: section,
            },
            None => Command::PlanSection {
                machine: machine.id,
                section,
            },
        };
        app.desk.submit_then(ask, move || {
            draft.with_value(|draft| preferences::drop_draft(draft));
            go(&Place::Plan);
        });
    };
    let field = move |label: String,
                      keyboard,
                      of: Wrong,
                      read: fn(&Form) -> String,
                      write: fn(&mut Form, String)| {
        view! {
            <Field
                label=label
                keyboard=keyboard
                value=Memo::new(move |_| form.with(read))
                invalid=Signal::derive(move || wrong.get() == Some(of))
                on_input=Callback::new(move |text: String| change(&|form| write(form, text.clone())))
            />
            <p class="wrong" role="alert">{move || (wrong.get() == Some(of)).then(|| not_a_number(app, of))}</p>
        }
    };
    let takes = move || {
        said.with(|said| {
            let road = form.with(|form| said.as_ref()?.road(form, units))?;
            let time = words.duration(road.hours().as_duration());
            Some(words.section_takes(&time, &words.distance(road.driven(), units)))
        })
    };
    let too_fast = move || {
        with_said(&|said| {
            let typed = typed(&said.speed, units.of(Quantity::Speed), MILE_KM);
            let most = said.most.filter(|most| {
                // As it would be typed, so that a rounded limit is not over itself.
                let limit = parse_thousandths(&as_typed(*most, units));
                typed.is_some() && limit < parse_thousandths(&said.speed)
            });
            most.map_or_else(String::new, |most| {
                words.section_speed_at_most(&words.speed(most, units))
            })
        })
    };
    view! {
        <div class="section-form">
            <Field
                label=words.section_name()
                keyboard=Keyboard::Text
                value=Memo::new(move |_| form.with(|form| form.name.clone()))
                invalid=false
                on_input=Callback::new(move |text: String| change(&|form| form.name.clone_from(&text)))
            />
            {field(
                match units.of(Quantity::Road) { System::Metric => words.section_length_km(), System::Us => words.section_length_miles() },
                Keyboard::Decimal,
                Wrong::Length,
                |form| form.length.clone(),
                |form, text| form.length = text,
            )}
            {field(
                match units.of(Quantity::Road) { System::Metric => words.section_width_m(), System::Us => words.section_width_ft() },
                Keyboard::Decimal,
                Wrong::Width,
                |form| form.width.clone(),
                |form, text| form.width = text,
            )}
            <details class="section-work">
                <summary>{move || words.section_work(&words.work(work.get()))}</summary>
                <Choice
                    label=words.section_work_ask()
                    options=Work::ALL.iter().map(|&work| words.work(work)).collect()
                    chosen=Signal::derive(move || Work::ALL.iter().position(|it| *it == work.get()))
                    on_pick=Callback::new(move |at| change(&|form| form.work = Some(at)))
                />
            </details>
            <Counts app form said change=Callback::new(move |changed: Form| change(&|form| *form = changed.clone()))/>
            <Field
                label=match units.of(Quantity::Speed) { System::Metric => words.section_speed_kmh(), System::Us => words.section_speed_mph() }
                keyboard=Keyboard::Decimal
                value=Memo::new(move |_| with_said(&|said| said.speed.clone()))
                invalid=Signal::derive(move || wrong.get() == Some(Wrong::Speed))
                on_input=Callback::new(move |text: String| change(&|form| form.speed = Some(text.clone())))
            />
            <p class="wrong" role="alert">
                {move || (wrong.get() == Some(Wrong::Speed)).then(|| not_a_number(app, Wrong::Speed))}
            </p>
            <p class="section-too-fast caution" hidden=move || too_fast().is_empty()>{too_fast}</p>
            <p class="section-takes" role="status">{takes}</p>
            <button type="button" class="main-action keep" on:click=keep>{words.keep()}</button>
        </div>
    }
}

/// What is counted by taps: passes, layers, and the minutes of an hour that are work.
#[component]
fn Counts(
    /// What every screen is handed.
    app: App,
    /// What has been typed so far.
    form: RwSignal<Form>,
    /// What follows from it.
    said: Memo<Option<Said>>,
    /// It was changed.
    change: Callback<Form>,
) -> impl IntoView {
    let words = app.words;
    let units = app.units.get_untracked();
    let count = move |label: String, read: fn(&Said) -> u16, write: fn(&mut Form, u16)| {
        let now = move || said.with(|said| said.as_ref().map_or(1, read));
        let step = move |more: bool| {
            let now = untrack(now);
            let next = if more {
                now.saturating_add(1)
            } else {
                now.saturating_sub(1).max(1)
            };
            let mut changed = form.get_untracked();
            write(&mut changed, next);
            change.run(changed);
        };
        view! {
            <Stepper
                names=step_names(words, &label)
                label=label
                value=Signal::derive(move || now().to_string())
                on_step=Callback::new(step)
            />
        }
    };
    let by_hand = Memo::new(move |_| form.with(|form| form.passes.is_some()));
    let from_width =
        Memo::new(move |_| said.with(|said| said.as_ref().and_then(|said| said.from_width)));
    let why = move || {
        said.with(|said| {
            let said = said.as_ref()?;
            let width = form.with(|form| form.width_mm(units)).ok().flatten();
            let width = width.and_then(|mm| Length::millimetres(mm).ok());
            Some(match (width, said.from_width) {
                _ if by_hand.get() => words.section_passes_by_hand(),
                (Some(width), Some(count)) => words.section_passes_from_width(
                    &count.to_string(),
                    &words.width(width, units),
                    &words.width(said.effective, units),
                    &words.exact(USUAL_OVERLAP, units),
                ),
                (None | Some(_), _) => words.section_passes_without_width(),
            })
        })
    };
    let again = move |_| {
        let mut changed = form.get_untracked();
        changed.passes = None;
        change.run(changed);
    };
    let minutes = move |more: bool| {
        let mut changed = form.get_untracked();
        let now = changed.minutes();
        changed.minutes = Some(if more {
            now.saturating_add(1).min(60)
        } else {
            now.saturating_sub(1).max(5)
        });
        change.run(changed);
    };
    let label = words.section_minutes_ask();
    view! {
        <div class="section-count">
            {count(words.section_passes_ask(), |said| said.passes, |form, passes| form.passes = Some(passes))}
            <p class="small section-passes-why">{why}</p>
            <Show when=move || by_hand.get() && from_width.get().is_some()>
                <button type="button" class="action section-use-width" on:click=again>{words.section_use_width()}</button>
            </Show>
            {count(words.section_layers_ask(), |said| said.layers, |form, layers| form.layers = Some(layers))}
            <Stepper
                names=step_names(words, &label)
                label=label
                value=Signal::derive(move || form.with(Form::minutes).to_string())
                on_step=Callback::new(minutes)
            />
        </div>
    }
}

/// The sentence for what cannot be read as a number.
fn not_a_number(app: App, what: Wrong) -> String {
    let words = app.words;
    let quantity = match what {
        Wrong::Length | Wrong::Width => Quantity::Road,
        Wrong::Speed => Quantity::Speed,
    };
    match (what, app.units.get_untracked().of(quantity)) {
        (Wrong::Length, System::Metric) => words.section_not_km(),
        (Wrong::Length, System::Us) => words.section_not_miles(),
        (Wrong::Width, System::Metric) => words.section_not_m(),
        (Wrong::Width, System::Us) => words.section_not_ft(),
        (Wrong::Speed, System::Metric) => words.section_not_kmh(),
        (Wrong::Speed, System::Us) => words.section_not_mph(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::words::numbers::thousandths;
    use evenrow_journal::state::NamedMachine;
    use evenrow_journal::{Event, State};
    use evenrow_rules::machine::Machine;
    use evenrow_rules::work::Conditions;

    fn said(form: &Form, units: Units) -> Said {
        let machine = Machine::with_moldboard(FOOT.times(12)).unwrap();
        let sheet = advise(Work::Gravel, &Conditions::default(), &machine);
        Said::of(form, Work::Gravel, &sheet, machine.moldboard(), units)
    }

    fn form(length: &str, width: &str) -> Form {
        Form {
            name: "Alder Loop".to_owned(),
            length: length.to_owned(),
            width: width.to_owned(),
            ..Form::default()
        }
    }

    /// By hand: 12 ft at 55 degrees work 2.996 m; 7 m less the lap of 0.3, over 2.696, are 2.49, so three passes.
    #[test]
    fn passes_and_speed_follow_from_the_width_and_the_sheet_until_they_are_set() {
        let form = form("4,2", "7");
        let said = said(&form, Units::METRIC);
        let asked = said.asked(&form, Units::METRIC).unwrap();
        assert_eq!((asked.passes, asked.layers), (3, 1));
        assert_eq!((asked.kilometres, asked.kilometres_per_hour), (4.2, 8.0));
        let by_hand = Form {
            passes: Some(5),
            ..form
        };
        assert_eq!(self::said(&by_hand, Units::METRIC).passes, 5);
    }

    #[test]
    fn miles_and_feet_are_read_as_such() {
        let form = form("5", "24");
        let asked = said(&form, Units::US).asked(&form, Units::US).unwrap();
        assert!((asked.kilometres - 8.046_72).abs() < 1e-9);
        assert!((asked.width_mm.unwrap() - 7315.2).abs() < 1e-6);
        assert!((asked.kilometres_per_hour - 5.0 * MILE_KM).abs() < 1e-9);
    }

    #[test]
    fn what_is_no_number_is_told_apart_from_what_cannot_be_right() {
        for (length, width, speed, wrong) in [
            ("", "", "8", Some(Wrong::Length)),
            ("far", "", "8", Some(Wrong::Length)),
            ("4", "wide", "8", Some(Wrong::Width)),
            ("4", "", "fast", Some(Wrong::Speed)),
            ("-4", "0", "0", None),
        ] {
            let form = Form {
                speed: Some(speed.to_owned()),
                ..form(length, width)
            };
            let asked = said(&form, Units::METRIC).asked(&form, Units::METRIC);
            assert_eq!(asked.err(), wrong, "{length} {width} {speed}");
        }
    }

    #[test]
    fn a_section_already_planned_is_shown_again_as_it_was() {
        let width = Some(24.0 * FOOT.in_millimetres());
        let road = Road::new(5.0 * MILE_KM, width, (2, 1), 2.3 * MILE_KM, 36).unwrap();
        let section = RoadSection {
            name: "Alder Loop".to_owned(),
            work: Work::Gravel,
            road,
        };
        let form = Form::of(&section, Units::US);
        assert_eq!((form.length.as_str(), form.width.as_str()), ("5", "24"));
        assert_eq!(form.speed.as_deref(), Some("2.3"));
    }

    /// As a record keeps it: lengths and speeds in whole millimetres.
    fn kept(section: SectionAsked) -> RoadSection {
        let machine = Id::new("cab").unwrap();
        let mut state = State::default();
        state.machines.push(NamedMachine {
            id: machine.clone(),
            name: String::new(),
            machine: Machine::with_moldboard(FOOT.times(12)).unwrap(),
        });
        let decided = state.decide(Command::PlanSection { machine, section });
        match decided.unwrap().as_slice() {
            [Event::SectionPlanned { section, .. }] => section.clone(),
            other => panic!("{other:?}"),
        }
    }

    #[test]
    fn miles_feet_and_mph_come_back_as_they_were_typed_to_the_hundredth() {
        for hundredths in 700..=5_000 {
            let typed = thousandths(hundredths * 10);
            let form = Form {
                // No faster than a grader goes.
                speed: Some(thousandths(hundredths * 2)),
                passes: Some(1),
                ..form(&typed, &typed)
            };
            let asked = said(&form, Units::US).asked(&form, Units::US).unwrap();
            let shown = Form::of(&kept(asked), Units::US);
            assert_eq!((&shown.length, &shown.width), (&typed, &typed));
            assert_eq!(shown.speed, form.speed);
        }
    }
}
