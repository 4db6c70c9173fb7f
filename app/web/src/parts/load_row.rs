//! A row on the board with what presses on it: an arrow on each toothed plate, the longer the more each tooth gets.

use leptos::prelude::*;

/// What is drawn.
#[derive(Clone, Debug, PartialEq)]
pub struct LoadRowView {
    /// How long each plate is, and whether it carries teeth.
    pub plates: Vec<(f64, bool)>,
    /// How much each tooth gets, as a share of the most that is drawn.
    pub share: f64,
}

/// The longest arrow, on a sheet of 200 by 90.
const LONGEST: f64 = 52.0;

/// The picture. It decorates: the numbers stand beside it in words.
#[component]
pub fn LoadRow(
    /// What is drawn.
    row: LoadRowView,
) -> impl IntoView {
    let all: f64 = row.plates.iter().map(|(length, _)| length).sum();
    let mut from = 4.0_f64;
    let plates = row.plates.into_iter().map(|(length, toothed)| {
        let width = 192.0 * length / all;
        let (left, middle) = (from.round() as i64, (from + width / 2.0).round() as i64);
        from += width;
        let top = (60.0 - LONGEST * row.share).round() as i64;
        let arrow = toothed.then(|| {
            let d = format!("M{middle} {top}V58M{} 48l9 10l9 -10", middle - 9);
            view! { <path class="drawing-arrow" d=d></path> }
        });
        let right = (from - 3.0).round() as i64;
        let d = format!("M{left} 64H{right}V76H{left}z");
        let teeth = toothed.then(|| {
            let step = (right - left) / 6;
            let d: Vec<String> = (1..6)
                .map(|tooth| format!("M{} 76v10", left + tooth * step))
                .collect();
            let d = d.concat();
            view! { <path class="drawing-teeth" d=d></path> }
        });
        let class = if toothed {
            "drawing-plate drawing-plate-toothed"
        } else {
            "drawing-plate"
        };
        view! {
            {arrow}
            {teeth}
            <path class=class d=d></path>
        }
    });
    view! { <svg class="drawing load-row" viewBox="0 0 200 90" aria-hidden="true">{plates.collect_view()}</svg> }
}
