//! Marks on the frame: from a radius and two angles the marks, as a list for the tape and as a strip to print.

use evenrow_rules::angle::Angle;
use evenrow_rules::marks::{Mark, NoMarks, frame_marks};
use evenrow_rules::quantity::Length;
use evenrow_rules::setup::SKEW_LIMIT;
use leptos::prelude::*;
use serde::{Deserialize, Serialize};

use super::usual::step_names;
use crate::device::page;
use crate::device::preferences;
use crate::parts::choice::Choice;
use crate::parts::field::{Field, Keyboard};
use crate::parts::frame_strip::{FrameStrip, StripMark, StripView};
use crate::parts::stepper::Stepper;
use crate::shell::App;
use crate::units::{Quantity, System, Units};
use crate::words::numbers::{INCH_UM, parse_thousandths};

/// Degrees from one mark to the next. House default.
const STEP: u8 = 5;

/// The least angle that is marked, in degrees. House default: flatter than any work asks for.
const LEAST: u8 = 20;

/// Which angle is marked.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
enum Which {
    /// At the circle.
    Grading,
    /// At the end of the moldboard.
    Cutting,
}

impl Which {
    /// The most that is marked, in degrees: the grading angle stays under its limit, the cutting angle under upright.
    fn most(self) -> u8 {
        match self {
            Which::Grading => SKEW_LIMIT.in_degrees() as u8 - STEP,
            Which::Cutting => 85,
        }
    }

    /// Between which angles most settings lie. House default: around the ranges of the sheets.
    fn usual(self) -> (u8, u8) {
        match self {
            Which::Grading => (45, 75),
            Which::Cutting => (30, 60),
        }
    }
}

/// What has been tapped and typed so far.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
struct Form {
    which: Which,
    /// In the units of the phone.
    radius: String,
    from: u8,
    to: u8,
}

impl Default for Form {
    fn default() -> Form {
        let (from, to) = Which::Grading.usual();
        Form {
            which: Which::Grading,
            radius: String::new(),
            from,
            to,
        }
    }
}

/// Why there are no marks.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Wrong {
    /// Nothing was typed yet.
    Missing,
    /// What was typed is no number.
    NotANumber,
    /// The rules refuse it.
    Refused(NoMarks),
}

impl Form {
    fn radius(&self, units: Units) -> Result<Length, Wrong> {
        if self.radius.trim().is_empty() {
            return Err(Wrong::Missing);
        }
        let thousandths = parse_thousandths(&self.radius).ok_or(Wrong::NotANumber)?;
        // Less than nothing is nothing: it is refused by the rules, with the right range.
        let thousandths = u64::try_from(thousandths).unwrap_or(0);
        let um = match units.of(Quantity::Tape) {
            System::Metric => thousandths,
            System::Us => thousandths * u64::from(INCH_UM) / 1000,
        };
        Ok(Length::micrometres(u32::try_from(um).unwrap_or(u32::MAX)))
    }

    fn marks(&self, units: Units) -> Result<Vec<Mark>, Wrong> {
        let [from, to, step] = [self.from, self.to, STEP].map(Angle::whole_degrees);
        frame_marks(self.radius(units)?, from, to, step).map_err(Wrong::Refused)
    }
}

/// The screen.
#[component]
pub fn Marks(
    /// What every screen is handed.
    app: App,
) -> impl IntoView {
    let words = app.words;
    let form = RwSignal::new(preferences::draft::<Form>("marks").unwrap_or_default());
    let change = move |change: &dyn Fn(&mut Form)| {
        form.update(|form| change(form));
        preferences::set_draft("marks", &form.get_untracked());
    };
    let marks = Memo::new(move |_| form.with(|form| form.marks(app.units.get())));
    let pick = move |at: usize| {
        let which = if at == 0 {
            Which::Grading
        } else {
            Which::Cutting
        };
        change(&|form| {
            form.which = which;
            (form.from, form.to) = which.usual();
        });
    };
    let end = move |label: String, part: fn(&mut Form) -> &mut u8| {
        let step = move |more: bool| {
            change(&|form| {
                let most = form.which.most();
                let angle = part(form);
                let next = if more {
                    angle.saturating_add(STEP)
                } else {
                    angle.saturating_sub(STEP)
                };
                *angle = next.clamp(LEAST, most);
            });
        };
        let value = move || {
            let mut form = form.get();
            words.angle(Angle::whole_degrees(*part(&mut form)))
        };
        view! {
            <Stepper
                names=step_names(words, &label)
                label=label
                value=Signal::derive(value)
                on_step=Callback::new(step)
            />
        }
    };
    let at_limit =
        move || form.with(|form| form.which == Which::Grading && form.to == form.which.most());
    let wrong = move || {
        marks.with(|marks| match marks {
            Ok(_) | Err(Wrong::Missing) => None,
            Err(why) => Some(said_wrong(app, *why)),
        })
    };
    let label = move || match app.units.get().of(Quantity::Tape) {
        System::Metric => words.marks_radius_mm(),
        System::Us => words.marks_radius_in(),
    };
    let can_print = page::can_print();
    let has_marks = Memo::new(move |_| marks.with(Result::is_ok));
    view! {
        <div class="marks">
            <h1 tabindex="-1">{words.marks_title()}</h1>
            <p>{words.marks_lead()}</p>
            <p class="caution">{words.beware_make_it_safe_first()}</p>
            <Choice
                label=words.marks_which()
                options=vec![words.grading_angle(), words.cutting_angle()]
                chosen=Signal::derive(move || Some(usize::from(form.with(|form| form.which == Which::Cutting))))
                on_pick=Callback::new(pick)
            />
            <p>{move || match form.with(|form| form.which) {
                Which::Grading => words.marks_radius_of_circle(),
                Which::Cutting => words.marks_radius_of_board(),
            }}</p>
            {move || view! {
                <Field
                    label=label()
                    keyboard=Keyboard::Decimal
                    value=Memo::new(move |_| form.with(|form| form.radius.clone()))
                    invalid=Signal::derive(move || wrong().is_some())
                    on_input=Callback::new(move |text: String| change(&|form| form.radius.clone_from(&text)))
                />
            }}
            <p class="wrong" role="alert">{wrong}</p>
            {end(words.marks_from(), |form| &mut form.from)}
            {end(words.marks_to(), |form| &mut form.to)}
            <p class="marks-limit caution" hidden=move || !at_limit()>
                {words.marks_at_limit(&words.angle(SKEW_LIMIT))}
            </p>
            <Show when=move || has_marks.get()>
                <List app marks/>
                {if can_print {
                    view! {
                        <p>{words.marks_print_lead()}</p>
                        <button type="button" class="main-action print" on:click=move |_| page::print()>
                            {words.marks_print()}
                        </button>
                    }
                    .into_any()
                } else {
                    view! { <p class="caution cannot-print">{words.marks_cannot_print()}</p> }.into_any()
                }}
            </Show>
            <p>{words.marks_tape_on()}</p>
            <a class="action" href="#setup">{words.tab_setup()}</a>
        </div>
        <FrameStrip
            shown=Signal::derive(move || strip(app, &form.get(), marks.get().unwrap_or_default()))
            place=Callback::new(move |(at, of): (usize, usize)| {
                if of == 1 {
                    words.marks_one_sheet()
                } else {
                    words.marks_sheet(&at.to_string(), &of.to_string())
                }
            })
        />
    }
}

/// The marks for the tape.
#[component]
fn List(
    /// What every screen is handed.
    app: App,
    /// The marks.
    marks: Memo<Result<Vec<Mark>, Wrong>>,
) -> impl IntoView {
    let words = app.words;
    let row = move |mark: Mark| {
        let units = app.units.get();
        view! {
            <tr>
                <th scope="row">{words.angle(mark.angle)}</th>
                // As a tape or a rule shows it.
                <td>{words.tip(mark.arc, units)}</td>
                <td>{words.tip(mark.chord, units)}</td>
            </tr>
        }
    };
    view! {
        <table class="marks-list">
            <caption class="unseen">{words.marks_title()}</caption>
            <thead>
                <tr>
                    <th scope="col">{words.marks_angle()}</th>
                    <th scope="col">{words.marks_arc()}</th>
                    <th scope="col">{words.marks_chord()}</th>
                </tr>
            </thead>
            <tbody>{move || marks.get().unwrap_or_default().into_iter().map(row).collect_view()}</tbody>
        </table>
        <p class="small">{words.marks_list_note()} " " <small class="basis">{words.basis_geometry()}</small></p>
    }
}

fn said_wrong(app: App, why: Wrong) -> String {
    let (words, units) = (app.words, app.units.get());
    let exact = |mm: f64| words.exact(Length::millimetres(mm).unwrap_or(Length::ZERO), units);
    match why {
        Wrong::Missing => String::new(),
        Wrong::NotANumber => match units.of(Quantity::Tape) {
            System::Metric => words.marks_not_mm(),
            System::Us => words.marks_not_in(),
        },
        Wrong::Refused(NoMarks::Radius(range)) => {
            words.marks_wrong_radius(&exact(range.got), &exact(range.min), &exact(range.max))
        }
        Wrong::Refused(NoMarks::Backwards) => words.marks_backwards(),
        // The steppers reach none of these.
        Wrong::Refused(NoMarks::NoStep | NoMarks::OverHalfATurn | NoMarks::TooMany { .. }) => {
            words.refused_angle()
        }
    }
}

/// The strip in words.
fn strip(app: App, form: &Form, marks: Vec<Mark>) -> StripView {
    let (words, units) = (app.words, app.units.get());
    let which = match form.which {
        Which::Grading => words.grading_angle(),
        Which::Cutting => words.cutting_angle(),
    };
    let name = app
        .machine
        .with(|machine| machine.as_ref().map(|it| it.name.clone()));
    let radius = form.radius(units).unwrap_or(Length::ZERO);
    StripView {
        heading: vec![
            name.unwrap_or_else(|| words.machine_unnamed()),
            words.marks_heading(&which, &words.exact(radius, units)),
            words.marks_actual_size(),
        ],
        marks: marks
            .into_iter()
            .map(|mark| StripMark {
                arc: mark.arc.in_millimetres(),
                label: words.angle(mark.angle),
            })
            .collect(),
        bar: words.millimetres("100"),
    }
}
