//! The choice of work.

use evenrow_rules::work::Work;
use leptos::prelude::*;

use crate::place::Place;
use crate::shell::App;

/// Every work, grouped as an operator thinks of them.
const GROUPS: [(Group, &[Work]); 3] = [
    (
        Group::Winter,
        &[Work::PackedSnow, Work::PackedSnowOnSoft, Work::RoadEdge],
    ),
    (
        Group::Gravel,
        &[Work::Gravel, Work::TightStone, Work::StonyGravel],
    ),
    (
        Group::Other,
        &[
            Work::SoftMilling,
            Work::StoneBase,
            Work::RuttedPavement,
            Work::Path,
        ],
    ),
];

#[derive(Clone, Copy)]
enum Group {
    Winter,
    Gravel,
    Other,
}

/// The list.
#[component]
pub fn Setup(
    /// What every screen is handed.
    app: App,
) -> impl IntoView {
    let words = app.words;
    let work = move |work: Work| {
        let href = format!("#{}", Place::Sheet(work).hash());
        view! { <a class="action work-choice" href=href>{words.work(work)}</a> }
    };
    let group = move |(group, works): (Group, &'static [Work])| {
        let title = match group {
            Group::Winter => words.group_winter(),
            Group::Gravel => words.group_gravel(),
            Group::Other => words.group_other(),
        };
        view! {
            <h2>{title}</h2>
            <div class="works">{works.iter().copied().map(work).collect_view()}</div>
        }
    };
    view! {
        <h1 tabindex="-1">{words.setup_title()}</h1>
        {GROUPS.into_iter().map(group).collect_view()}
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_work_can_be_chosen_once() {
        let grouped: Vec<Work> = GROUPS
            .iter()
            .flat_map(|(_, works)| works.iter().copied())
            .collect();
        assert_eq!(grouped.len(), Work::ALL.len());
        assert!(Work::ALL.iter().all(|work| grouped.contains(work)));
    }
}
