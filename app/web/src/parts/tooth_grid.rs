//! The teeth of a plate, as many to a line as leave room for a glove: each an upright capsule filled to what is left of
//! its tip, with a sign for how it is. Shape and word tell it, never colour alone.
//!
//! For the keyboard it is one stop; the arrows move within it. Never here: what a tooth should be.

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
    const fn name(self) -> &'static str {
        match self {
            Sign::None => "none",
            Sign::Bar => "bar",
            Sign::Diamond => "diamond",
            Sign::Notch => "notch",
            Sign::Stroke => "stroke",
            Sign::Outline => "outline",
        }
    }
}

/// One tooth.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ToothView {
    /// Its position in the row.
    pub position: u16,
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
pub fn ToothDrawing(
    /// How much of its tip is left, in per cent.
    left: u8,
    /// How it is.
    sign: Sign,
) -> impl IntoView {
    let height = 36 * i32::from(left.min(100)) / 100;
    let over = match sign {
        Sign::None | Sign::Outline => "",
        Sign::Bar => "M3 24h18",
        Sign::Diamond => "M12 14l9 10-9 10-9-10z",
        Sign::Notch => "M19 6l-9 9 9 5z",
        Sign::Stroke => "M3 42 21 6",
    };
    view! {
        <svg class="tooth" data-sign=sign.name() viewBox="0 0 24 48" aria-hidden="true">
            <rect class="tooth-outline" x="4" y="4" width="16" height="40" rx="8"></rect>
            <rect class="tooth-left" x="6" y=42 - height width="12" height=height rx="6"></rect>
            <path class="tooth-sign" d=over></path>
        </svg>
    }
}

/// The grid.
#[component]
pub fn ToothGrid(
    /// What the grid is.
    #[prop(into)]
    label: String,
    /// The teeth in order.
    #[prop(into)]
    teeth: Signal<Vec<ToothView>>,
    /// The position that is chosen.
    #[prop(into)]
    chosen: Signal<Option<u16>>,
    /// One was picked.
    on_pick: Callback<u16>,
) -> impl IntoView {
    let stop = RwSignal::new(0_usize);
    let at_stop = move || {
        let count = teeth.with(Vec::len);
        let picked = chosen.get().and_then(|chosen| {
            teeth.with(|teeth| teeth.iter().position(|tooth| tooth.position == chosen))
        });
        picked.unwrap_or(stop.get()).min(count.saturating_sub(1))
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
    let cell = move |(index, tooth): (usize, ToothView)| {
        let position = tooth.position;
        let is_chosen = move || chosen.get() == Some(position);
        view! {
            <button
                type="button"
                class="tooth-cell"
                role="gridcell"
                data-cell=index.to_string()
                tabindex=move || if at_stop() == index { "0" } else { "-1" }
                aria-selected=move || is_chosen().to_string()
                aria-label=tooth.told
                on:click=move |_| on_pick.run(position)
            >
                <span class="tooth-number" aria-hidden="true">{position.to_string()}</span>
                <ToothDrawing left=tooth.left sign=tooth.sign/>
                <span class="tooth-word" aria-hidden="true">{tooth.word}</span>
            </button>
        }
    };
    view! {
        <div class="tooth-grid" role="grid" aria-label=label on:keydown=key>
            <div class="tooth-line" role="row">
                {move || teeth.get().into_iter().enumerate().map(cell).collect_view()}
            </div>
        </div>
    }
}
