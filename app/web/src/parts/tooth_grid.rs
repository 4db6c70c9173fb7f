//! The teeth of a plate, as many to a line as leave room for a glove: each an upright capsule filled to what is left of
//! its tip, with a sign for how it is. Shape and word tell it, never colour alone. What belongs to the tooth that is picked
//! opens below its line.
//!
//! For the keyboard it is one stop; the arrows move within it, and the next stop is what has opened. Never here: what a
//! tooth should be.

use leptos::ev::KeyboardEvent;
use leptos::prelude::*;

use crate::device::page;

/// The sign over a tooth.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sign {
    /// None: it turns.
    None,
    /// A bar across: stiff.
    Bar,
    /// A diamond: stuck.
    Diamond,
    /// A notch: chipped.
    Notch,
    /// A stroke through it: broken.
    Stroke,
    /// An empty dashed outline: gone.
    Outline,
}

impl Sign {
    /// Its name in the styles.
    pub const fn name(self) -> &'static str {
        match self {
            Sign::None => "none",
            Sign::Bar => "bar",
            Sign::Diamond => "diamond",
            Sign::Notch => "notch",
            Sign::Stroke => "stroke",
            Sign::Outline => "outline",
        }
    }

    /// Its drawing in a frame of 24 by 48.
    const fn path(self) -> &'static str {
        match self {
            Sign::None | Sign::Outline => "",
            Sign::Bar => "M3 24h18",
            Sign::Diamond => "M12 14l9 10-9 10-9-10z",
            Sign::Notch => "M19 6l-9 9 9 5z",
            Sign::Stroke => "M3 42 21 6",
        }
    }
}

/// One tooth.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ToothView {
    /// Its position in the row.
    pub position: u16,
    /// Its number on the plate.
    pub number: String,
    /// How much of its tip is left, in per cent.
    pub left: u8,
    /// How it is.
    pub sign: Sign,
    /// The word below it.
    pub word: String,
    /// All of it in a sentence: "plate 2, tooth 5, stuck, 14 mm".
    pub told: String,
}

/// A tooth drawn in a frame of 24 by 48.
#[component]
fn ToothDrawing(
    /// The tooth.
    tooth: Memo<Option<ToothView>>,
) -> impl IntoView {
    let sign = move || tooth.with(|it| it.as_ref().map_or(Sign::None, |it| it.sign));
    let height = move || {
        let left = tooth.with(|it| it.as_ref().map_or(0, |it| it.left.min(100)));
        36 * i32::from(left) / 100
    };
    view! {
        <svg class="tooth" data-sign=move || sign().name() viewBox="0 0 24 48" aria-hidden="true">
            <rect class="tooth-outline" x="4" y="4" width="16" height="40" rx="8"></rect>
            <rect class="tooth-left" x="6" y=move || 42 - height() width="12" height=height rx="6"></rect>
            <path class="tooth-sign" d=move || sign().path()></path>
        </svg>
    }
}

/// The grid.
#[component]
pub fn ToothGrid(
    /// What the grid is.
    #[prop(into)]
    label: Signal<String>,
    /// The teeth in order.
    teeth: Memo<Vec<ToothView>>,
    /// The position that is picked.
    chosen: RwSignal<Option<u16>>,
    /// What opens for it.
    children: Children,
) -> impl IntoView {
    let stop = RwSignal::new(0_usize);
    // The last cell of the line in which the picked one stands.
    let line_end = RwSignal::new(0_usize);
    let index_of = move |position: u16| {
        teeth.with(|teeth| teeth.iter().position(|tooth| tooth.position == position))
    };
    let pick = move |position: u16| {
        let index = untrack(|| index_of(position)).unwrap_or(0);
        let line = page::cells_per_line(".tooth-grid").max(1);
        stop.set(index);
        line_end.set(index - index % line + line - 1);
        chosen.set(Some(position));
    };
    let key = move |event: KeyboardEvent| {
        let (at, count) = (page::focused_cell(), teeth.with_untracked(Vec::len));
        let line = page::cells_per_line(".tooth-grid").max(1);
        let to = match event.key().as_str() {
            "ArrowRight" => at.saturating_add(1),
            "ArrowLeft" => at.saturating_sub(1),
            "ArrowDown" => at.saturating_add(line),
            "ArrowUp" => at.saturating_sub(line),
            "Home" => 0,
            "End" => usize::MAX,
            _ => return,
        };
        event.prevent_default();
        let to = to.min(count.saturating_sub(1));
        stop.set(to);
        page::focus_cell(to);
    };
    let cell = move |position: u16| {
        let tooth = Memo::new(move |_| {
            let found =
                |teeth: &Vec<ToothView>| teeth.iter().find(|it| it.position == position).cloned();
            teeth.with(found)
        });
        let text = move |part: fn(&ToothView) -> &String| {
            move || tooth.with(|it| it.as_ref().map(part).cloned().unwrap_or_default())
        };
        let index = move || index_of(position).unwrap_or(0);
        view! {
            <button
                type="button"
                class="tooth-cell"
                role="gridcell"
                data-cell=move || index().to_string()
                style:order=move || (2 * index()).to_string()
                tabindex=move || if stop.get() == index() { "0" } else { "-1" }
                aria-selected=move || (chosen.get() == Some(position)).to_string()
                on:click=move |_| pick(position)
            >
                <span class="unseen">{text(|tooth| &tooth.told)}</span>
                <span class="tooth-number" aria-hidden="true">{text(|tooth| &tooth.number)}</span>
                <ToothDrawing tooth/>
                <span class="tooth-word" aria-hidden="true">{text(|tooth| &tooth.word)}</span>
            </button>
        }
    };
    let positions = Memo::new(move |_| {
        stop.set(0);
        teeth.with(|teeth| teeth.iter().map(|tooth| tooth.position).collect::<Vec<_>>())
    });
    view! {
        <div class="tooth-grid">
            <div class="tooth-cells" role="grid" aria-label=label on:keydown=key>
                <div class="tooth-cells" role="row">
                    <For each=move || positions.get() key=|position| *position children=cell/>
                </div>
            </div>
            <div
                class="tooth-opened"
                style:order=move || (2 * line_end.get() + 1).to_string()
                hidden=move || chosen.get().is_none()
            >
                {children()}
            </div>
        </div>
    }
}
