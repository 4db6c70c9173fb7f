//! What a person does and sees, one file a screen or a part. The only folder that knows selectors.
//!
//! Methods are named for what a person would say. Those that look for something wait until it is there. Never here: what
//! a story expects of it.

mod alarm; // what rings, over the whole screen
mod angle; // the cutting angle and the crossfall
mod app; // what holds on every screen
mod book; // the shifts so far
mod books; // the books over time and the season plan
mod checklist; // the opening and the closing one
mod dead; // in place of an app that has stopped or did not start
mod district; // the invented district
mod first_start; // the three questions
mod glass; // the finger and the eye
mod grading; // the grading angle by tape
mod heard; // what a screen reader says by itself
mod keys; // the keyboard and the focus
mod languages; // in which language the app speaks
mod later; // in the place of a screen that has not arrived
mod load; // what each tooth gets
mod long_day; // a day with the phone left on
mod look; // how many teeth do not turn
mod machine; // the machine and this phone
mod marks; // marks on the frame
mod note; // a note
mod notices; // what was kept and can be undone, what was refused
mod outside; // shortcuts, what is shared, the page before the app
mod paint; // colours, movement, where things stand
mod parts; // choices, steppers, fields, times
mod pictures; // the edge at work
mod plan; // the day's plan and its sections
mod records; // backup, files taken in, tables, the end
mod reminders; // what this phone does to remind
mod report; // the report of a shift
mod row; // the row, its sets and its spares
mod setup; // the choice of work
mod sheet; // the questions and the sheet
mod shift; // the shift that runs
mod sources; // every number and what it rests on
mod start; // the start of a shift
mod tabs; // the bars at the top and at the foot
mod version; // the version, what is new, the licences
mod words; // the words of the trade, the home screen

pub use alarm::Alarm;
pub use angle::{Crossfall, CuttingAngle};
pub use app::{App, Icon, Target, Violation, Width};
pub use book::Book;
pub use books::{Books, Season};
pub use checklist::Checklist;
pub use dead::Dead;
pub use district::District;
pub use first_start::FirstStart;
pub use grading::Grading;
pub use heard::Voice;
pub use keys::Keys;
pub use languages::Languages;
pub use later::Later;
pub use load::Load;
pub use long_day::LongDay;
pub use look::Look;
pub use machine::Machine;
pub use marks::Marks;
pub use note::Note;
pub use notices::Notices;
pub use outside::Outside;
pub use paint::{Paint, Stand};
pub use parts::ShiftTimes;
pub use pictures::Pictures;
pub use plan::{Plan, SectionForm};
pub use records::Records;
pub use reminders::Reminders;
pub use report::Report;
pub use row::Row;
pub use setup::Setup;
pub use sheet::{Reason, Sheet};
pub use shift::{Card, Shift};
pub use sources::{Sources, Stated};
pub use start::Start;
pub use tabs::Tabs;
pub use version::Version;
pub use words::{HomeScreen, TradeWords};

use crate::window::Window;
use glass::Glass;

/// The screens. Each answers for itself whether it is shown.
impl Window {
    /// What holds on every screen.
    pub fn app(&self) -> App {
        App(self.glass())
    }

    /// The screen in place of an app that has stopped or did not start.
    pub fn dead(&self) -> Dead {
        Dead(self.glass())
    }

    /// The three questions of the first start.
    pub fn first_start(&self) -> FirstStart {
        FirstStart(self.glass())
    }

    /// The invented district.
    pub fn district(&self) -> District {
        District(self.glass())
    }

    /// The words of the trade.
    pub fn words(&self) -> TradeWords {
        TradeWords(self.glass())
    }

    /// How the app comes onto the home screen.
    pub fn home_screen(&self) -> HomeScreen {
        HomeScreen(self.glass())
    }

    /// The start of a shift.
    pub fn start(&self) -> Start {
        Start(self.glass())
    }

    /// The shift that runs.
    pub fn shift(&self) -> Shift {
        Shift(self.glass())
    }

    /// What rings.
    pub fn alarm(&self) -> Alarm {
        Alarm(self.glass())
    }

    /// What this phone does to remind.
    pub fn reminders(&self) -> Reminders {
        Reminders(self.glass())
    }

    /// What a screen reader says by itself.
    pub fn voice(&self) -> Voice {
        Voice(self.glass())
    }

    /// The choice of work.
    pub fn setup(&self) -> Setup {
        Setup(self.glass())
    }

    /// The questions and the sheet of a work.
    pub fn sheet(&self) -> Sheet {
        Sheet(self.glass())
    }

    /// The cutting angle on the steel.
    pub fn cutting_angle(&self) -> CuttingAngle {
        CuttingAngle(self.glass())
    }

    /// The crossfall of the road.
    pub fn crossfall(&self) -> Crossfall {
        Crossfall(self.glass())
    }

    /// The grading angle by tape.
    pub fn grading(&self) -> Grading {
        Grading(self.glass())
    }

    /// In which language the app speaks.
    pub fn languages(&self) -> Languages {
        Languages(self.glass())
    }

    /// What each tooth gets.
    pub fn load(&self) -> Load {
        Load(self.glass())
    }

    /// The edge at work, in pictures.
    pub fn pictures(&self) -> Pictures {
        Pictures(self.glass())
    }

    /// Marks on the frame.
    pub fn marks(&self) -> Marks {
        Marks(self.glass())
    }

    /// The day's plan.
    pub fn plan(&self) -> Plan {
        Plan(self.glass())
    }

    /// A checklist.
    pub fn checklist(&self) -> Checklist {
        Checklist(self.glass())
    }

    /// What stands in the place of a screen that has not arrived.
    pub fn later(&self) -> Later {
        Later(self.glass())
    }

    /// How many teeth do not turn.
    pub fn look(&self) -> Look {
        Look(self.glass())
    }

    /// A note.
    pub fn note(&self) -> Note {
        Note(self.glass())
    }

    /// The report of a shift.
    pub fn report(&self) -> Report {
        Report(self.glass())
    }

    /// The shifts so far.
    pub fn book(&self) -> Book {
        Book(self.glass())
    }

    /// The records.
    pub fn records(&self) -> Records {
        Records(self.glass())
    }

    /// The books over time.
    pub fn books(&self) -> Books {
        Books(self.glass())
    }

    /// The season plan.
    pub fn season(&self) -> Season {
        Season(self.glass())
    }

    /// The row, its sets and its spares.
    pub fn row(&self) -> Row {
        Row(self.glass())
    }

    /// The machine and this phone.
    pub fn machine(&self) -> Machine {
        Machine(self.glass())
    }

    /// Every number and what it rests on.
    pub fn sources(&self) -> Sources {
        Sources(self.glass())
    }

    /// What comes from outside.
    pub fn outside(&self) -> Outside {
        Outside(self.glass())
    }

    /// The version, what is new, the licences.
    pub fn version(&self) -> Version {
        Version(self.glass())
    }

    /// A day with the phone left on.
    pub fn long_day(&self) -> LongDay {
        LongDay(self.glass())
    }

    /// What is said at the foot of any screen.
    pub fn notices(&self) -> Notices {
        Notices(self.glass())
    }

    /// The keyboard.
    pub fn keys(&self) -> Keys {
        Keys(self.glass())
    }

    /// What the eye sees apart from words.
    pub fn paint(&self) -> Paint {
        Paint(self.glass())
    }

    /// The bars at the top and at the foot.
    pub fn tabs(&self) -> Tabs {
        Tabs(self.glass())
    }

    fn glass(&self) -> Glass {
        Glass::of(self.driver().clone(), self.engine())
    }
}
