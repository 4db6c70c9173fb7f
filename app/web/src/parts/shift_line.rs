//! The day from start to end: work solid, breaks hatched; a drop for each oiling, hollow while it is planned, filled when
//! it is done, crossed out when it was missed, and hanging below the line when it came late or is overdue; a tick for
//! each look at the teeth; a bar for now in a row of its own, so that its word never covers a drop. Under it, where a day
//! is planned, its sections of road by their numbers: filled when done, hatched where they no longer fit.

use leptos::prelude::*;

use super::icon::{Shape, icon};
use super::live::{drawn, each};

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

/// The line, drawn again with what it shows.
pub fn shift_line(shown: ShiftLineView) -> AnyView {
    let at = |class: &'static str, at: f64| {
        drawn(view! { <span class=class style:left=per_cent(at)></span> })
    };
    let rest = |(start, length): (f64, f64)| {
        drawn(
            view! { <span class="shift-line-rest" style:left=per_cent(start) style:width=per_cent(length)></span> },
        )
    };
    let drop = |(at, drop): (f64, Drop)| {
        drawn(view! {
            <span class="shift-line-drop" data-drop=drop.name() style:left=per_cent(at)>{icon(Shape::Drop)}</span>
        })
    };
    let hour = |(at, text): (f64, String)| {
        drawn(view! { <span class="shift-line-hour" style:left=per_cent(at)>{text}</span> })
    };
    let section = |(start, length, number, stage): (f64, f64, String, Stage)| {
        drawn(view! {
            <span
                class="shift-line-section"
                data-stage=stage.name()
                style:left=per_cent(start)
                style:width=per_cent(length)
            >
                {number}
            </span>
        })
    };
    let now = per_cent(shown.now);
    let of_sections = !shown.sections.is_empty();
    let shifted = format!("translateX(-{now})");
    drawn(view! {
        <div class="shift-line" class:shift-line-of-sections=of_sections role="img" aria-label=shown.told>
            <div class="shift-line-band">
                <span class="shift-line-worked" style:width=now.clone()></span>
                {each(shown.rests, rest)}
            </div>
            {each(shown.looks, |it| at("shift-line-look", it))}
            {each(shown.drops, drop)}
            {each(shown.sections, section)}
            {each(shown.end, |it| at("shift-line-end", it))}
            <span class="shift-line-now" hidden=shown.now_text.is_empty() style:left=now.clone()></span>
            // Shifted by its own share, so that the word stays inside at both ends.
            <span class="shift-line-now-text" style:left=now style:transform=shifted>{shown.now_text}</span>
            {each(shown.hours, hour)}
        </div>
    })
}
