//! The grading angle by tape: how far the heel of the moldboard lies behind its toe for a wanted angle, and back.

use evenrow_rules::angle::{Against, Angle, AngleBand};
use evenrow_rules::machine::FOOT;
use evenrow_rules::marks::{NoGrading, NoSetting, as_setting, grading_from_offset, offset_to_set};
use evenrow_rules::quantity::Length;
use evenrow_rules::setup::ELSEWHERE;
use evenrow_rules::work::Work;
use leptos::prelude::*;
use serde::{Deserialize, Serialize};

use super::angle::told;
use super::tape_field::{TapeField, typed_lengths};
use super::target::{Target, sheet_of, work_to_compare};
use super::usual::step_names;
use crate::device::preferences;
use crate::parts::stepper::Stepper;
use crate::parts::toe_heel::ToeHeel;
use crate::place::Place;
use crate::shell::App;
use crate::words::Words;

/// The angles that the stepper goes through, in degrees; what must not be set is refused in words, not left out.
const STEPS: (u8, u8) = (30, 90);

/// The angles of the table, in degrees.
const TABLE: core::ops::RangeInclusive<u8> = 45..=79;

/// What was tapped in and typed.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
struct Form {
    /// Degrees; none before the first tap, which is the target.
    wanted: Option<u8>,
    offset: String,
}

/// The screen.
#[component]
pub fn Grading(
    /// What every screen is handed.
    app: App,
    /// The work whose target it begins with.
    work: Option<Work>,
) -> impl IntoView {
    let words = app.words;
    let draft = StoredValue::new(Place::Grading(work).hash());
    let form = draft
        .with_value(|draft| preferences::draft::<Form>(draft))
        .unwrap_or_default();
    let work = work_to_compare(app, work);
    let sheet = sheet_of(app, work);
    let band = Memo::new(move |_| {
        sheet.with(|sheet| {
            sheet
                .as_ref()
                .map_or(ELSEWHERE, |sheet| *sheet.grading.value())
        })
    });
    let target = Signal::derive(move || told(words, band.get()));
    let board = Memo::new(move |_| {
        app.machine.with(|machine| {
            machine
                .as_ref()
                .map_or(FOOT.times(12), |it| it.machine.moldboard())
        })
    });
    let (picked, typed) = (RwSignal::new(form.wanted), RwSignal::new(form.offset));
    let keep = Callback::new(move |()| {
        let form = Form {
            wanted: picked.get_untracked(),
            offset: typed.get_untracked(),
        };
        draft.with_value(|draft| preferences::set_draft(draft, &form));
    });
    let degrees = move || {
        picked
            .get()
            .unwrap_or(band.get().target().in_degrees() as u8)
    };
    let step = move |more: bool| {
        let (least, most) = STEPS;
        let now = untrack(degrees);
        let next = if more {
            now.saturating_add(1)
        } else {
            now.saturating_sub(1)
        };
        picked.set(Some(next.clamp(least, most)));
        keep.run(());
    };
    let wanted = Signal::derive(move || Angle::whole_degrees(degrees()));
    let tape = move |length: Length| words.tape(length, app.units.get());
    let offset = Memo::new(move |_| offset_to_set(board.get(), wanted.get()));
    let label = Signal::derive(move || offset.get().map(tape).unwrap_or_default());
    let set = move || match offset.get() {
        Ok(offset) => {
            view! { <p class="measured">{words.grading_offset(&tape(offset))}</p> }.into_any()
        }
        Err(why) => view! { <p class="wrong">{no_setting(words, why)}</p> }.into_any(),
    };
    let back = move || {
        let typed = typed_lengths(app, [typed])?;
        let found = typed.and_then(|[offset]| {
            grading_from_offset(board.get(), offset).map_err(|why| no_grading(words, why, &tape))
        });
        Some(match found {
            Ok(angle) => view! {
                <p class="measured">{words.grading_is(&words.fine_angle(angle))}</p>
                {compared(words, band.get(), angle)}
            }
            .into_any(),
            Err(why) => view! { <p class="wrong">{why}</p> }.into_any(),
        })
    };
    let row = move |degrees: u8| {
        let angle = Angle::whole_degrees(degrees);
        let offset = offset_to_set(board.get(), angle)
            .map(tape)
            .unwrap_or_default();
        view! { <tr><th scope="row">{words.angle(angle)}</th><td>{offset}</td></tr> }
    };
    let name = words.grading_wanted();
    view! {
        <h1 tabindex="-1">{words.grading_title()}</h1>
        <p>{move || words.grading_lead(&words.width(board.get(), app.units.get()))}</p>
        <Target app work target/>
        <Stepper
            names=step_names(words, &name)
            label=name
            value=Signal::derive(move || words.angle(wanted.get()))
            on_step=Callback::new(step)
        />
        <div class="grading-set" role="status">{set}</div>
        <figure class="grading-picture"><ToeHeel angle=wanted label/></figure>
        <h2>{words.grading_back_title()}</h2>
        <TapeField app what=Words::grading_measured typed on_change=keep/>
        <div class="grading-back" role="status">{back}</div>
        <details class="grading-table">
            <summary>{words.grading_table()}</summary>
            <table>
                <thead>
                    <tr>
                        <th scope="col">{words.grading_table_angle()}</th>
                        <th scope="col">{words.grading_table_offset()}</th>
                    </tr>
                </thead>
                <tbody>{move || TABLE.map(row).collect_view()}</tbody>
            </table>
        </details>
    }
}

/// Why an angle is not to be set.
fn no_setting(words: &Words, why: NoSetting) -> String {
    match why {
        NoSetting::TooSquare { limit, .. } => words.grading_too_square(&words.angle(limit)),
        NoSetting::InLine { .. } => words.grading_in_line(),
    }
}

fn no_grading(words: &Words, why: NoGrading, tape: &dyn Fn(Length) -> String) -> String {
    match why {
        NoGrading::NoBoard => words.refused_no_machine(),
        NoGrading::LongerThanTheBoard { offset, board } => {
            words.grading_longer(&tape(offset), &tape(board))
        }
    }
}

/// How a measured angle stands to the target; one that must not be set at all is told so.
fn compared(words: &Words, band: AngleBand, angle: Angle) -> impl IntoView + use<> {
    let by = |off: Angle| words.angle(off);
    let (stands, text) = match (as_setting(angle), band.compare(angle)) {
        (Err(why), _) => ("over", no_setting(words, why)),
        (Ok(_), Against::InRange) => (
            "in-range",
            words.grading_on_target(&words.angle(band.low()), &words.angle(band.high())),
        ),
        (Ok(_), Against::Over(off)) => ("over", words.grading_over_target(&by(off))),
        (Ok(_), Against::Under(off)) => ("under", words.grading_under_target(&by(off))),
    };
    view! { <p class="compared" data-stands=stands>{text}</p> }
}
