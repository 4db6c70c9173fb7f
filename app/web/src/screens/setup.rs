//! The choice of work.

use evenrow_rules::work::Work;
use leptos::prelude::*;

use crate::place::Place;
use crate::shell::App;
use crate::words::Words;

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

/// A place with its name.
type Link = (Place, fn(&Words) -> String);

#[derive(Clone, Copy)]
enum Group {
    Winter,
    Gravel,
    Other,
}

/// What is looked at before the day begins.
const FOR_THE_DAY: [Link; 2] = [
    (Place::Plan, Words::plan_title),
    (Place::Pictures(None), Words::pictures_title),
];

/// What is done on the machine and the road with the numbers of a sheet.
const ON_THE_STEEL: [Link; 5] = [
    (Place::Angle(None), Words::angle_title),
    (Place::Grading(None), Words::grading_title),
    (Place::Marks, Words::marks_title),
    (Place::Crossfall, Words::crossfall_title),
    (Place::Load, Words::load_title),
];

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
    let link = move |(place, name): Link| {
        view! { <a class="action steel-choice" href=format!("#{}", place.hash())>{name(words)}</a> }
    };
    view! {
        <h1 tabindex="-1">{words.setup_title()}</h1>
        {GROUPS.into_iter().map(group).collect_view()}
        <h2>{words.day_title()}</h2>
        <div class="works">{FOR_THE_DAY.into_iter().map(link).collect_view()}</div>
        <h2>{words.steel_title()}</h2>
        <div class="works">{ON_THE_STEEL.into_iter().map(link).collect_view()}</div>
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
