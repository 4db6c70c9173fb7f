//! The edge at work, in pictures: what each angle looks like, and what new and worn tips leave on the road.

use core::num::NonZeroU8;

use evenrow_rules::angle::Angle;
use evenrow_rules::finish::{
    Finish, HALF_WORN, Left, Milled, Tip, USUAL_BLUNT, USUAL_POINT, YARDSTICKS, finish,
};
use evenrow_rules::machine::{Machine, effective_width};
use evenrow_rules::marks::{as_setting, seen_from_the_side};
use evenrow_rules::quantity::Length;
use evenrow_rules::setup::{SKEW_LIMIT, Sheet, ToothKind, advise};
use evenrow_rules::source::Basis;
use evenrow_rules::work::{Conditions, Work};
use leptos::prelude::*;

use super::sheet::plates;
use super::usual::step_names;
use crate::answers::Answers;
use crate::device::preferences;
use crate::parts::choice::Choice;
use crate::parts::cross_section::{CrossSection, HEIGHTS};
use crate::parts::row_strip::RowStrip;
use crate::parts::side_view::SideView;
use crate::parts::stepper::Stepper;
use crate::parts::top_view::TopView;
use crate::place::work_name;
use crate::shell::App;

/// Between which cutting angles the picture can be moved, in degrees. House default: beyond them nothing is cut.
const CUTTING: (u8, u8) = (20, 85);

/// The least grading angle of the picture, in degrees. House default: flatter, next to nothing of the board works.
const LEAST_GRADING: u8 = 30;

/// Where the angles, the kind of tooth and the plates come from.
struct Start {
    work: Work,
    /// Whether that work is in use, or was asked for.
    chosen: bool,
    sheet: Sheet,
}

fn start(app: App, asked: Option<Work>, machine: &Machine) -> Start {
    let in_use = app.state().with_untracked(|state| {
        let setup = state.running().and_then(|shift| shift.setup());
        setup.map(|it| (it.work, it.known))
    });
    let answered = |work: Work| {
        let answers = format!("answers.{}", work_name(work));
        let answers = preferences::draft::<Answers>(&answers).unwrap_or_default();
        (work, answers.conditions())
    };
    let known: Option<(Work, Conditions)> = asked.map(answered).or(in_use);
    let (work, conditions) = known.unwrap_or_else(|| answered(Work::PackedSnow));
    Start {
        work,
        chosen: known.is_some(),
        sheet: advise(work, &conditions, machine),
    }
}

/// The screen.
#[component]
pub fn Pictures(
    /// What every screen is handed.
    app: App,
    /// The work whose sheet it begins with; none begins with the set-up in use.
    work: Option<Work>,
) -> impl IntoView {
    let words = app.words;
    let machine = app
        .machine
        .with_untracked(|machine| machine.as_ref().map(|it| it.machine));
    let shown = machine.map(|machine| {
        let start = start(app, work, &machine);
        let name = words.work(start.work);
        let lead = if start.chosen {
            words.pictures_of(&name)
        } else {
            words.pictures_no_work(&name)
        };
        view! {
            <p>{lead}</p>
            <Moving app machine sheet=start.sheet/>
        }
    });
    view! {
        <h1 tabindex="-1">{words.pictures_title()}</h1>
        {shown}
        <a class="action" href="#setup">{words.tab_setup()}</a>
    }
}

/// The pictures, and what moves them.
#[component]
fn Moving(
    /// What every screen is handed.
    app: App,
    /// The machine.
    machine: Machine,
    /// What it begins with.
    sheet: Sheet,
) -> impl IntoView {
    let words = app.words;
    let degrees = |angle: Angle| angle.in_degrees() as u8;
    let cutting = RwSignal::new(degrees(sheet.cutting.value().target()));
    let grading = RwSignal::new(degrees(sheet.grading.value().target()));
    let refused = RwSignal::new(false);
    let worn = RwSignal::new(false);
    let two = RwSignal::new(false);
    let kind = sheet.teeth.value().first().copied();
    let kind = kind.unwrap_or(ToothKind::WidePointed);
    let steeper = move |more: bool| {
        cutting.update(|it| {
            *it = (if more { *it + 1 } else { *it - 1 }).clamp(CUTTING.0, CUTTING.1);
        });
    };
    let squarer = move |more: bool| {
        let now = grading.get_untracked();
        let next = if more { now + 1 } else { now - 1 };
        // The rules say which angle is no setting.
        let is_setting = as_setting(Angle::whole_degrees(next)).is_ok();
        refused.set(!is_setting);
        if is_setting {
            grading.set(next.max(LEAST_GRADING));
        }
    };
    let cutting_angle = move || Angle::whole_degrees(cutting.get());
    let grading_angle = move || Angle::whole_degrees(grading.get());
    let (cutting_label, grading_label) = (words.cutting_angle(), words.grading_angle());
    view! {
        <Stepper
            names=step_names(words, &cutting_label)
            label=cutting_label
            value=Signal::derive(move || words.angle(cutting_angle()))
            on_step=Callback::new(steeper)
        />
        {move || {
            let angle = cutting_angle();
            let seen = seen_from_the_side(angle, grading_angle());
            let told = words.side_told(&words.angle(angle));
            view! {
                <Picture title=words.side_title() told note=words.side_note(&words.angle(seen)) basis=words.basis_geometry()>
                    <SideView angle label=words.angle(angle)/>
                </Picture>
            }
        }}
        <Stepper
            names=step_names(words, &grading_label)
            label=grading_label
            value=Signal::derive(move || words.angle(grading_angle()))
            on_step=Callback::new(squarer)
        />
        <p class="grading-refused caution" role="alert">
            {move || refused.get().then(|| words.grading_refused(&words.angle(SKEW_LIMIT)))}
        </p>
        {move || {
            let (angle, units) = (grading_angle(), app.units.get());
            let board = machine.moldboard();
            let told = words.top_told(
                &words.angle(angle),
                &words.width(effective_width(board, angle), units),
                &words.width(board, units),
            );
            let tracks = words.exact(left(&machine, angle, kind, false, false).spacing, units);
            view! {
                <Picture title=words.top_title() told note=words.top_note(&tracks) basis=words.basis_geometry()>
                    <TopView angle label=words.angle(angle) with_width=true/>
                </Picture>
            }
        }}
        <Choice
            label=words.tips_ask()
            options=vec![words.tips_new(), words.tips_half_worn()]
            chosen=Signal::derive(move || Some(usize::from(worn.get())))
            on_pick=Callback::new(move |at| worn.set(at == 1))
        />
        <Choice
            label=words.passes_ask()
            options=vec![words.passes_one(), words.passes_two()]
            chosen=Signal::derive(move || Some(usize::from(two.get())))
            on_pick=Callback::new(move |at| two.set(at == 1))
        />
        {move || cross(app, &left(&machine, grading_angle(), kind, worn.get(), two.get()), kind, worn.get())}
        <Picture title=words.row_picture_title() told=words.plates(sheet.plates.value()) note=String::new() basis=String::new()>
            <RowStrip plates=plates(&sheet) told=words.plates(sheet.plates.value())/>
        </Picture>
    }
}

/// What is left on the road.
fn left(machine: &Machine, grading: Angle, kind: ToothKind, worn: bool, two: bool) -> Finish {
    let passes = NonZeroU8::MIN.saturating_add(u8::from(two));
    finish(
        machine.pitch(),
        grading,
        Tip::usual(kind),
        lost(worn),
        passes,
    )
}

/// What a tip has lost.
fn lost(worn: bool) -> Length {
    if worn { HALF_WORN } else { Length::ZERO }
}

/// The picture across the road, with what it says.
fn cross(app: App, left: &Finish, kind: ToothKind, worn: bool) -> impl IntoView + use<> {
    let (words, units) = (app.words, app.units.get());
    let exact = |length: Length| words.exact(length, units);
    let tracks = exact(left.spacing);
    let told = match left.left {
        Left::Ridge(Length::ZERO) => words.cross_no_ridge(&tracks),
        Left::Ridge(ridge) => words.cross_ridge(&tracks, &exact(ridge)),
        Left::Strip(strip) => words.cross_strip(&tracks, &exact(strip)),
    };
    let tip = if kind.is_pointed() {
        words.cross_tip_pointed(&words.angle(USUAL_POINT))
    } else {
        words.cross_tip_blunt(&exact(USUAL_BLUNT))
    };
    let note = format!("{tip} {}", words.cross_worn(&exact(HALF_WORN)));
    let heights = words.cross_heights(&HEIGHTS.to_string());
    let high = |says: Milled| {
        let found = YARDSTICKS.iter().find(|it| it.says == says);
        found.map_or_else(String::new, |it| exact(it.high))
    };
    let yardstick = words.cross_yardstick(&high(Milled::Specified), &high(Milled::ToBePutRight));
    let source = YARDSTICKS.first().map_or(Basis::Geometry, |it| it.basis);
    let spacing = left.spacing;
    view! {
        <Picture title=words.cross_title() told note basis=words.basis_house_default()>
            <CrossSection tip=Tip::usual(kind) worn=lost(worn) spacing labels=(tracks, heights)/>
        </Picture>
        <p class="small">{yardstick} " " <small class="basis">{words.basis(source)}</small></p>
    }
}

/// A picture with its title and the same in words.
#[component]
fn Picture(
    /// What it is.
    title: String,
    /// What it shows.
    told: String,
    /// What else belongs to it.
    note: String,
    /// What that rests on; nothing where nothing else is said.
    basis: String,
    /// The drawing.
    children: Children,
) -> impl IntoView {
    let shown = told.clone();
    view! {
        <figure class="picture">
            <h2>{title}</h2>
            <div role="img" aria-label=told>{children()}</div>
            <figcaption>
                <p class="picture-told">{shown}</p>
                {(!note.is_empty()).then(|| view! {
                    <p class="small picture-note">{note} " " <small class="basis">{basis}</small></p>
                })}
            </figcaption>
        </figure>
    }
}
