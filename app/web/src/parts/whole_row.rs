//! The whole row on one line: each tooth hangs from its plate as long as its tip is by now, the odd ones have their sign
//! below, plates with a plain edge today show no teeth, and an arrow stands at the end that leads.
//!
//! Never here: the names of the signs, which stand with the single tooth.

use leptos::prelude::*;

use super::shift_line::per_cent;
use super::tooth_grid::Sign;

/// One plate.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PlateOfRow {
    /// Its number.
    pub number: String,
    /// Whether it has a plain edge today.
    pub plain: bool,
    /// Whether its teeth are shown below.
    pub chosen: bool,
    /// What is left of the tip of each tooth in per cent, and how the tooth is.
    pub teeth: Vec<(u8, Sign)>,
}

/// What the line shows.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct WholeRowView {
    /// The plates from the left.
    pub plates: Vec<PlateOfRow>,
    /// The word at the left end, if that leads.
    pub left: String,
    /// The word at the right end, if that leads.
    pub right: String,
    /// The same in a sentence.
    pub told: String,
}

/// The teeth of a plate in a frame of 10 by 40 for each: a box as long as the tip. What is broken is a stub.
fn teeth(plate: &PlateOfRow) -> String {
    let tooth = |(at, &(left, sign)): (usize, &(u8, Sign))| {
        let height = match sign {
            Sign::Outline => 0,
            Sign::Stroke => 5,
            Sign::None | Sign::Bar | Sign::Diamond | Sign::Notch => {
                6 + 34 * u32::from(left.min(100)) / 100
            }
        };
        format!("M{} 0h7v{height}h-7z", at * 10 + 1)
    };
    plate.teeth.iter().enumerate().map(tooth).collect()
}

/// The line.
#[component]
pub fn WholeRow(
    /// What it shows.
    shown: Memo<WholeRowView>,
) -> impl IntoView {
    let plate = |plate: PlateOfRow| {
        let count = plate.teeth.len().max(1);
        let odd = plate
            .teeth
            .iter()
            .enumerate()
            .filter(|(_, (_, sign))| *sign != Sign::None);
        // Every second sign stands lower, so that those of neighbours can be told apart.
        let mark = |(nth, (at, &(_, sign))): (usize, (usize, &(u8, Sign)))| {
            let middle = (at as f64 + 0.5) / count as f64 * 100.0;
            view! {
                <span
                    class="row-mark"
                    class:row-mark-lower={nth % 2 == 1}
                    data-sign=sign.name()
                    style:left=per_cent(middle)
                ></span>
            }
        };
        let marks: Vec<_> = odd.enumerate().map(mark).collect();
        view! {
            <div
                class="whole-row-plate"
                class:whole-row-plain=plate.plain
                class:whole-row-chosen=plate.chosen
                style:flex-grow=count.to_string()
            >
                <svg viewBox=format!("0 0 {} 40", count * 10) preserveAspectRatio="none" aria-hidden="true">
                    <path d=if plate.plain { String::new() } else { teeth(&plate) }></path>
                </svg>
                <div class="whole-row-marks">{(!plate.plain).then_some(marks)}</div>
                <span>{plate.number}</span>
            </div>
        }
    };
    view! {
        <div class="whole-row" role="img" aria-label=move || shown.with(|it| it.told.clone())>
            <div class="whole-row-plates">
                {move || shown.with(|it| it.plates.clone()).into_iter().map(plate).collect_view()}
            </div>
            <div class="whole-row-leads">
                <span>{move || shown.with(|it| it.left.clone())}</span>
                <span>{move || shown.with(|it| it.right.clone())}</span>
            </div>
        </div>
    }
}
