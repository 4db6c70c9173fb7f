//! Where in the app we are. One place is one screen; its text is the hash of the location.

use evenrow_journal::Id;
use evenrow_rules::work::Work;

use crate::words::terms;

/// A screen, with what it shows.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Place {
    /// The shift that runs, or the start of one.
    Shift,
    /// The opening checklist.
    Opening,
    /// The closing checklist and the end of the shift.
    Closing,
    /// Some teeth do not turn: how many.
    Look,
    /// A note.
    Note,
    /// Reminders: what this phone does when it is locked, and its calendar.
    Reminders,
    /// The row of teeth.
    Row,
    /// A note on the mounted set.
    RowNote,
    /// A pass over every nth tooth.
    Measure,
    /// The spares.
    Stock,
    /// The sets.
    Sets,
    /// The choice of work.
    Setup,
    /// The questions and the sheet of a work.
    Sheet(Work),
    /// The cutting angle on the steel, compared with the sheet of a work.
    Angle(Option<Work>),
    /// The crossfall of the road.
    Crossfall,
    /// The grading angle by tape, beginning with the target of a work.
    Grading(Option<Work>),
    /// What each tooth gets.
    Load,
    /// The day's plan.
    Plan,
    /// A section of it; a new one where none is named.
    Section(Option<Id>),
    /// Marks on the frame.
    Marks,
    /// The edge at work, in pictures: with the set-up in use, or with the sheet of a work.
    Pictures(Option<Work>),
    /// The machine and this phone.
    Machine,
    /// Every number and what it rests on.
    Sources,
    /// The words of the trade; one of them where one is named.
    Terms(Option<&'static str>),
    /// How the app comes onto the home screen.
    Install,
    /// The version, what is new, the licences.
    Version,
    /// The shifts so far.
    Book,
    /// The books over time.
    Books,
    /// The season plan.
    Season,
    /// The report of a shift.
    Report(Id),
    /// The records: backup, files taken in, what they take up.
    Records,
    /// The records as tables for a spreadsheet.
    Tables,
    /// The end of all records on this phone.
    Erase,
}

const SHEETS: [(&str, Work); 10] = [
    ("packed-snow", Work::PackedSnow),
    ("packed-snow-on-soft", Work::PackedSnowOnSoft),
    ("road-edge", Work::RoadEdge),
    ("gravel", Work::Gravel),
    ("tight-stone", Work::TightStone),
    ("stony-gravel", Work::StonyGravel),
    ("soft-milling", Work::SoftMilling),
    ("stone-base", Work::StoneBase),
    ("rutted-pavement", Work::RuttedPavement),
    ("path", Work::Path),
];

/// The name of a work in an address and in the drafts of its form.
pub fn work_name(work: Work) -> &'static str {
    SHEETS
        .iter()
        .find_map(|&(name, known)| (known == work).then_some(name))
        .unwrap_or_default()
}

/// The work of a name.
pub fn work_named(name: &str) -> Option<Work> {
    let known = |&(known, work): &(&str, Work)| (known == name).then_some(work);
    SHEETS.iter().find_map(known)
}

/// A place with the work that it is for, if it is for one.
fn with_work(place: &str, work: Option<Work>) -> String {
    work.map_or_else(
        || place.to_owned(),
        |work| format!("{place}/{}", work_name(work)),
    )
}

impl Place {
    /// Whether it shows what has been, and not only the machine, the plan and the shift that runs: a start reads no more
    /// than those (`evenrow_journal::checkpoint`).
    pub fn needs_all_records(&self) -> bool {
        match self {
            Place::Shift
            | Place::Opening
            | Place::Closing
            | Place::Look
            | Place::Note
            | Place::Reminders
            | Place::Setup
            | Place::Sheet(_)
            | Place::Angle(_)
            | Place::Crossfall
            | Place::Grading(_)
            | Place::Load
            | Place::Marks
            | Place::Pictures(_)
            | Place::Machine
            | Place::Sources
            | Place::Terms(_)
            | Place::Install
            | Place::Version => false,
            Place::Row
            | Place::RowNote
            | Place::Measure
            | Place::Stock
            | Place::Sets
            | Place::Plan
            | Place::Section(_)
            | Place::Book
            | Place::Books
            | Place::Season
            | Place::Report(_)
            | Place::Records
            | Place::Tables
            | Place::Erase => true,
        }
    }

    /// The hash of the place.
    pub fn hash(&self) -> String {
        match self {
            Place::Shift => "shift".to_owned(),
            Place::Opening => "opening".to_owned(),
            Place::Closing => "closing".to_owned(),
            Place::Look => "look".to_owned(),
            Place::Note => "note".to_owned(),
            Place::Reminders => "reminders".to_owned(),
            Place::Row => "row".to_owned(),
            Place::RowNote => "row-note".to_owned(),
            Place::Measure => "measure".to_owned(),
            Place::Stock => "stock".to_owned(),
            Place::Sets => "sets".to_owned(),
            Place::Setup => "setup".to_owned(),
            Place::Sheet(work) => format!("setup/{}", work_name(*work)),
            Place::Angle(work) => with_work("angle", *work),
            Place::Crossfall => "crossfall".to_owned(),
            Place::Grading(work) => with_work("grading", *work),
            Place::Load => "load".to_owned(),
            Place::Marks => "marks".to_owned(),
            Place::Pictures(work) => with_work("pictures", *work),
            Place::Plan => "plan".to_owned(),
            Place::Section(None) => "plan/new".to_owned(),
            Place::Section(Some(id)) => format!("plan/{}", id.as_str()),
            Place::Machine => "machine".to_owned(),
            Place::Sources => "sources".to_owned(),
            Place::Terms(None) => "terms".to_owned(),
            Place::Terms(Some(name)) => format!("terms/{name}"),
            Place::Install => "install".to_owned(),
            Place::Version => "version".to_owned(),
            Place::Book => "book".to_owned(),
            Place::Books => "books".to_owned(),
            Place::Season => "season".to_owned(),
            Place::Report(id) => format!("report/{}", id.as_str()),
            Place::Records => "records".to_owned(),
            Place::Tables => "tables".to_owned(),
            Place::Erase => "erase".to_owned(),
        }
    }

    /// The place of a hash; none for an address that leads nowhere.
    pub fn parse(hash: &str) -> Option<Place> {
        match hash.split_once('/') {
            Some(("setup", name)) => work_named(name).map(Place::Sheet),
            Some(("angle", name)) => work_named(name).map(|work| Place::Angle(Some(work))),
            Some(("grading", name)) => work_named(name).map(|work| Place::Grading(Some(work))),
            Some(("pictures", name)) => work_named(name).map(|work| Place::Pictures(Some(work))),
            Some(("terms", name)) => terms::named(name).map(|name| Place::Terms(Some(name))),
            Some(("plan", "new")) => Some(Place::Section(None)),
            Some(("plan", id)) => Id::new(id).map(|id| Place::Section(Some(id))),
            Some(("report", id)) => Id::new(id).map(Place::Report),
            Some(_) => None,
            None => [
                Place::Shift,
                Place::Opening,
                Place::Closing,
                Place::Look,
                Place::Note,
                Place::Reminders,
                Place::Row,
                Place::RowNote,
                Place::Measure,
                Place::Stock,
                Place::Sets,
                Place::Setup,
                Place::Angle(None),
                Place::Crossfall,
                Place::Grading(None),
                Place::Load,
                Place::Pictures(None),
                Place::Marks,
                Place::Plan,
                Place::Machine,
                Place::Sources,
                Place::Terms(None),
                Place::Install,
                Place::Version,
                Place::Book,
                Place::Records,
                Place::Tables,
                Place::Erase,
                Place::Books,
                Place::Season,
            ]
            .into_iter()
            .find(|place| place.hash() == hash),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_place_is_found_again_by_its_address() {
        let id = Id::new("0a1b").unwrap();
        let mut places: Vec<Place> = Work::ALL.into_iter().map(Place::Sheet).collect();
        places.extend([
            Place::Shift,
            Place::Opening,
            Place::Closing,
            Place::Look,
            Place::Note,
            Place::Reminders,
            Place::Row,
            Place::RowNote,
            Place::Measure,
            Place::Stock,
            Place::Sets,
            Place::Setup,
            Place::Angle(None),
            Place::Angle(Some(Work::Gravel)),
            Place::Crossfall,
            Place::Grading(None),
            Place::Grading(Some(Work::Path)),
            Place::Load,
            Place::Pictures(None),
            Place::Pictures(Some(Work::Gravel)),
            Place::Marks,
            Place::Plan,
            Place::Section(None),
            Place::Section(Some(id.clone())),
            Place::Machine,
            Place::Sources,
            Place::Terms(None),
            Place::Terms(Some("crossfall")),
            Place::Install,
            Place::Version,
            Place::Book,
            Place::Books,
            Place::Season,
            Place::Report(id),
            Place::Records,
            Place::Tables,
            Place::Erase,
        ]);
        for place in places {
            assert_eq!(Place::parse(&place.hash()), Some(place));
        }
        for nowhere in [
            "",
            "nowhere",
            "setup/",
            "setup/tar",
            "angle/",
            "grading/tar",
            "load/gravel",
            "report/",
            "pictures/tar",
            "report/a b",
            "plan/",
            "machine/2",
            "terms/tar",
        ] {
            assert_eq!(Place::parse(nowhere), None, "{nowhere}");
        }
    }
}
