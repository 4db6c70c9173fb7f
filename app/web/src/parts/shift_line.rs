//! The day from start to end: work solid, breaks hatched; a drop for each oiling, hollow while it is planned, filled when
//! it is done, crossed out when it was missed, and hanging below the line when it came late or is overdue; a tick for
//! each look at the teeth; a bar for now in a row of its own, so that its word never covers a drop. Under it, where a day
//! is planned, its sections of road by their numbers: filled when done, hatched where they no longer fit.

use leptos::prelude::*;

use super::icon::{Icon, Shape};

/// How a drop is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Drop {
    /// Not yet due: hollow.
    Planned,
    /// Done in time: filled.
    Done,
    /// Done late: filled, below the line.
    DoneLate,
    /// Due or overdue: hollow, below the line.
    Wanting,
    /// Missed: hollow and crossed out, below the line.
    Missed,
}

impl Drop {
    const fn name(self) -> &'static str {
        match self {
            Drop::Planned => "planned",
            Drop::Done => "done",
            Drop::DoneLate => "done-late",
            Drop::Wanting => "wanting",
            Drop::Missed => "missed",
        }
    }
}

/// How a section of road is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stage {
    /// Done: filled.
    Done,
    /// Ahead: hollow.
    Ahead,
    /// Not done when the shift ends: dashed.
    Beyond,
}

impl Stage {
    /// Its name in a style.
    pub const fn name(self) -> &'static str {
        match self {
            Stage::Done => "done",
            Stage::Ahead => "ahead",
            Stage::Beyond => "beyond",
        }
    }
}

/// What the line shows. Places are in per cent of its length.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct ShiftLineView {
    /// The same in a sentence.
    pub told: String,
    /// Breaks: where each begins and how long it is.
    pub rests: Vec<(f64, f64)>,
    /// Oilings.
    pub drops: Vec<(f64, Drop)>,
    /// Looks at the teeth.
    pub looks: Vec<f64>,
    /// Sections of road: where each begins, how long it is, its number, and how it stands.
    pub sections: Vec<(f64, f64, String, Stage)>,
    /// The end of the shift, where the day runs on beyond it.
    pub end: Option<f64>,
    /// How far the day has come.
    pub now: f64,
    /// The word at the bar for now; without one there is no bar.
    pub now_text: String,
    /// The hours written below.
    pub hours: Vec<(f64, String)>,
}

/// A share as a style has it.
pub(super) fn per_cent(at: f64) -> String {
    // A tenth of a per cent is less than a pixel on any phone.
    let tenths = (at * 10.0).round() as i64;
    format!("{}.{}%", tenths / 10, tenths % 10)
}

/// The line.
#[component]
pub fn ShiftLine(
    /// What it shows.
    shown: Memo<ShiftLineView>,
) -> impl IntoView {
    let rest = |(start, length): (f64, f64)| {
        view! { <span class="shift-line-rest" style:left=per_cent(start) style:width=per_cent(length)></span> }
    };
    let drop = |(at, drop): (f64, Drop)| {
        view! {
            <span class="shift-line-drop" data-drop=drop.name() style:left=per_cent(at)><Icon shape=Shape::Drop/></span>
        }
    };
    let look = |at: f64| view! { <span class="shift-line-look" style:left=per_cent(at)></span> };
    let hour = |(at, text): (f64, String)| {
        view! { <span class="shift-line-hour" style:left=per_cent(at)>{text}</span> }
    };
    let section = |(start, length, number, stage): (f64, f64, String, Stage)| {
        view! {
            <span
                class="shift-line-section"
                data-stage=stage.name()
                style:left=per_cent(start)
                style:width=per_cent(length)
            >
                {number}
            </span>
        }
    };
    let now = move || per_cent(shown.with(|shown| shown.now));
    let no_now = move || shown.with(|shown| shown.now_text.is_empty());
    let has_sections = move || shown.with(|shown| !shown.sections.is_empty());
    view! {
        <div class="shift-line" class:shift-line-of-sections=has_sections role="img" aria-label=move || shown.with(|shown| shown.told.clone())>
            <div class="shift-line-band">
                <span class="shift-line-worked" style:width=now></span>
                {move || shown.with(|shown| shown.rests.iter().copied().map(rest).collect_view())}
            </div>
            {move || shown.with(|shown| shown.looks.iter().copied().map(look).collect_view())}
            {move || shown.with(|shown| shown.drops.iter().copied().map(drop).collect_view())}
            {move || shown.with(|shown| shown.sections.iter().cloned().map(section).collect_view())}
            {move || shown.with(|shown| shown.end).map(|end| view! {
                <span class="shift-line-end" style:left=per_cent(end)></span>
            })}
            <span class="shift-line-now" hidden=no_now style:left=now></span>
            // Shifted by its own share, so that the word stays inside at both ends.
            <span class="shift-line-now-text" style:left=now style:transform=move || format!("translateX(-{})", now())>
                {move || shown.with(|shown| shown.now_text.clone())}
            </span>
            {move || shown.with(|shown| shown.hours.iter().cloned().map(hour).collect_view())}
        </div>
    }
}
