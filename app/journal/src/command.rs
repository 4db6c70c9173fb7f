//! What may be asked, and why it may be refused.
//!
//! A refusal holds the facts; the app finds the sentence that says what was wrong and what would be right.

use core::time::Duration;

use evenrow_rules::angle::Angle;
use evenrow_rules::checklist::{Item, List};
use evenrow_rules::day::SectionFigure;
use evenrow_rules::load::NoAxles;
use evenrow_rules::oiling::{breaks, working_time};
use evenrow_rules::quantity::{Figure, Instant, Length, Mass, OutOfRange, Span};
use evenrow_rules::setup::ToothKind;
use evenrow_rules::work::{Conditions, Work};

use crate::event::{Finding, Id, NewSet, SeasonPlan, ShiftPlan, ToothState, UsualShift};

/// A section of road as it was typed in: what cannot be is refused.
#[derive(Clone, Debug, PartialEq)]
pub struct SectionAsked {
    /// What to call it.
    pub name: String,
    /// The work that is done there.
    pub work: Work,
    /// How long it is.
    pub kilometres: f64,
    /// How wide it is in millimetres, where that is known.
    pub width_mm: Option<f64>,
    /// How many passes each layer takes.
    pub passes: u16,
    /// In how many layers.
    pub layers: u16,
    /// How fast.
    pub kilometres_per_hour: f64,
    /// How many minutes of an hour are work.
    pub minutes_of_work: u8,
}

/// Prices as they were typed in: what cannot be is refused.
#[derive(Clone, Debug, PartialEq)]
pub struct PricesAsked {
    /// What the money is called; may be empty.
    pub money: String,
    /// One new tooth.
    pub tooth: f64,
    /// One litre of oil.
    pub litre: f64,
    /// How many litres go into the sockets each time.
    pub an_oiling: f64,
}

/// Something the operator asks for.
#[derive(Clone, Debug, PartialEq)]
pub enum Command {
    /// Describe the machine.
    DescribeMachine {
        /// What to call it.
        name: String,
        /// Its moldboard.
        moldboard: Length,
        /// The plate lengths to be had.
        plates: (Length, Length),
        /// The pitch of the teeth.
        pitch: Length,
    },
    /// Describe another machine, and choose it on this device.
    AddMachine {
        /// What to call it.
        name: String,
        /// Its moldboard.
        moldboard: Length,
        /// The plate lengths to be had.
        plates: (Length, Length),
        /// The pitch of the teeth.
        pitch: Length,
    },
    /// Choose a machine on this device.
    ChooseMachine {
        /// Which machine.
        machine: Id,
    },
    /// Mount a set that is not known yet.
    MountSet {
        /// On which machine.
        machine: Id,
        /// What it is.
        new: NewSet,
    },
    /// Take a set off and store it.
    StoreSet {
        /// Which set.
        set: Id,
        /// What was done of [`List::LayingUp`].
        done: Vec<Item>,
    },
    /// Write a note on a set.
    NoteOnSet {
        /// On which set.
        set: Id,
        /// Its text.
        text: String,
    },
    /// Mount a stored set again.
    PutBackSet {
        /// Which set.
        set: Id,
        /// On which machine.
        machine: Id,
    },
    /// Break a set up.
    BreakUpSet {
        /// Which set.
        set: Id,
        /// Whether its whole teeth become spares.
        spares: bool,
    },
    /// Note how a tooth is.
    NoteTooth {
        /// Of which set.
        set: Id,
        /// At which position.
        position: u16,
        /// How it is.
        state: ToothState,
    },
    /// Every tooth on a machine turns. Part of the running shift if that is with it.
    AllTurning {
        /// Which machine.
        machine: Id,
    },
    /// The row has been looked at, and what was noted of its teeth is what was found; the others turn. Part of the running
    /// shift.
    LookAtRow {
        /// Which machine.
        machine: Id,
    },
    /// Keep measured tips.
    MeasureTips {
        /// Of which set.
        set: Id,
        /// Position and length.
        tips: Vec<(u16, Length)>,
    },
    /// Put a spare in the place of a tooth.
    ReplaceTooth {
        /// Of which set.
        set: Id,
        /// At which position.
        position: u16,
        /// The kind of the spare.
        kind: ToothKind,
        /// How long its tip is.
        tip: Length,
    },
    /// Say how many spares of a kind there are.
    CountStock {
        /// The kind.
        kind: ToothKind,
        /// How long their tips are.
        tip: Length,
        /// How many.
        count: u32,
    },
    /// Say how the teeth of a machine stand to their plates.
    SetPlateToTooth {
        /// Which machine.
        machine: Id,
        /// The angle of a plate.
        plate: Angle,
        /// The angle of the axis of a tooth on it.
        tooth: Angle,
    },
    /// Say what a machine's axles carry and how far they are apart.
    DescribeAxles {
        /// Which machine.
        machine: Id,
        /// What stands under the front wheels.
        front_axle: Mass,
        /// From the front axle to the centre of the rear ones.
        wheelbase: Length,
        /// From the edge to the centre of the rear axles.
        edge_to_rear: Length,
    },
    /// Plan a section of road, after those that are there.
    PlanSection {
        /// For which machine.
        machine: Id,
        /// What it is.
        section: SectionAsked,
    },
    /// Describe a planned section anew.
    ChangeSection {
        /// Which section.
        section: Id,
        /// What it is now.
        to: SectionAsked,
    },
    /// Give a planned section another place.
    MoveSection {
        /// Which section.
        section: Id,
        /// Before which one.
        before: Id,
    },
    /// Leave a planned section out.
    LeaveOutSection {
        /// Which section.
        section: Id,
    },
    /// Tick a section as done, or take the tick back. Part of the running shift.
    TickSection {
        /// Which section.
        section: Id,
        /// Done or not.
        done: bool,
    },
    /// Say who worked a shift.
    SayWho {
        /// Which shift.
        shift: Id,
        /// The name.
        name: String,
    },
    /// Set the prices.
    SetPrices(PricesAsked),
    /// Plan a season.
    PlanSeason {
        /// For which machine.
        machine: Id,
        /// What it is to bring.
        plan: SeasonPlan,
    },
    /// Set the usual shift.
    SetUsualShift(UsualShift),
    /// Start a shift.
    StartShift(ShiftPlan),
    /// Take the sheet for this work as the set-up from now on.
    UseSetup {
        /// The work.
        work: Work,
        /// What is known.
        known: Conditions,
    },
    /// Tick something on a checklist, or take the tick back.
    Mark {
        /// Which list.
        list: List,
        /// Which item.
        item: Item,
        /// Ticked or not.
        done: bool,
    },
    /// The sockets have been oiled.
    Oil,
    /// Somebody looked at the teeth.
    Look(Finding),
    /// Start a break.
    StartBreak,
    /// End the break.
    EndBreak,
    /// Write a note.
    Note(String),
    /// Put off the oiling that is due.
    PutOff {
        /// For how many minutes; one of [`PUT_OFF_MINUTES`].
        minutes: u8,
    },
    /// Go back to the usual interval, whatever the looks found.
    KeepUsualInterval,
    /// The app has noticed that it did not run. Nothing comes of it unless something fell due in that time.
    NoteBlind(Span),
    /// The app has noticed that the clock was moved. Nothing comes of it unless a shift runs.
    NoteJump {
        /// By how many milliseconds; negative for backwards.
        by_ms: i64,
    },
    /// Say which time was right.
    AnswerClock {
        /// The entry that recorded the jump.
        jump: Id,
        /// Whether the new time is right.
        moved: bool,
    },
    /// End the shift.
    EndShift,
    /// Strike earlier entries.
    Strike(Vec<Id>),
}

/// The longest shift that is accepted; longer is taken for a slip. House default: local rules on hours decide.
pub const LONGEST_SHIFT: Duration = Duration::from_hours(24);

/// The least working time that makes a shift. House default.
pub const SHORTEST_SHIFT: Duration = Duration::from_mins(15);

/// For how many minutes an oiling that is due can be put off. House default.
pub const PUT_OFF_MINUTES: [u8; 2] = [5, 15];

/// The most spares of one kind and length. House default, only there to stop nonsense.
pub const MOST_SPARES_OF_A_KIND: u32 = 5_000;

/// The longest note, in characters. House default.
pub const LONGEST_NOTE: usize = 2000;

/// The longest name, in characters. House default.
pub const LONGEST_NAME: usize = 40;

/// The longest visit to a road, in minutes. House default, only there to stop nonsense.
pub const LONGEST_VISIT: u32 = 1_000 * 60;

/// The most visits to a road in a season. House default, only there to stop nonsense.
pub const MOST_VISITS: u16 = 999;

/// The longest season, in weeks. House default: a year.
pub const LONGEST_SEASON: u16 = 53;

/// The most hours of work a week.
pub const MOST_HOURS_A_WEEK: u16 = 7 * 24;

/// Why a command was refused.
#[derive(Clone, Debug, PartialEq)]
pub enum Refusal {
    /// A newer version of the app has written here; this one only reads.
    NewerRecords,
    /// A number was out of range.
    OutOfRange(OutOfRange),
    /// What was said of the axles cannot be.
    Axles(NoAxles),
    /// A figure of a section was out of range.
    SectionOutOfRange(OutOfRange<SectionFigure>),
    /// The section has no name.
    SectionNameEmpty,
    /// That section is not planned, or has been left out.
    NoSection,
    /// That shift is not known.
    NoSuchShift,
    /// Nobody was named.
    WhoEmpty,
    /// A price or an amount of oil was out of range.
    PriceOutOfRange(OutOfRange<Figure>),
    /// A visit of no minute, or longer than [`LONGEST_VISIT`].
    VisitOutOfRange {
        /// How many minutes.
        got: u32,
    },
    /// More visits than [`MOST_VISITS`], or none.
    VisitsOutOfRange {
        /// How many.
        got: u16,
    },
    /// A season of no week, or of more than [`LONGEST_SEASON`]; or more hours a week than [`MOST_HOURS_A_WEEK`].
    SeasonOutOfRange,
    /// The machine has no name.
    NameEmpty,
    /// The name is longer than [`LONGEST_NAME`].
    NameTooLong {
        /// How long it is.
        got: usize,
    },
    /// The machine has not been described yet.
    NoMachine,
    /// The shift would end before it starts, or at once.
    EndsBeforeItStarts {
        /// The start asked for.
        start: Instant,
        /// The end asked for.
        end: Instant,
    },
    /// The shift would be longer than [`LONGEST_SHIFT`].
    ShiftTooLong {
        /// How long.
        got: Duration,
    },
    /// Without its breaks the shift would be shorter than [`SHORTEST_SHIFT`].
    TooLittleWork {
        /// How much working time is left.
        got: Duration,
    },
    /// A break lies outside the shift.
    BreakOutside {
        /// Where the break begins.
        start: Instant,
        /// Where it ends.
        end: Instant,
    },
    /// A shift runs already.
    ShiftRuns {
        /// Since when.
        since: Instant,
    },
    /// No shift runs.
    NoShift,
    /// The sheet says: do not.
    NotToBeDone,
    /// A break runs already.
    OnBreak {
        /// Since when.
        since: Instant,
    },
    /// No break runs.
    NotOnBreak,
    /// That jump of the clock is not known, or has been answered.
    NothingToAnswer,
    /// That set is not where it would have to be, or is not known.
    NoSet,
    /// The set is on a machine: it has to be stored before it is broken up.
    SetOnMachine,
    /// The teeth of the set have worked and were never measured, so nobody knows how long the spares are.
    NeverMeasured {
        /// So many have to be measured at once.
        wanted: usize,
    },
    /// A set of no tooth, or of more than the row has.
    SetOf {
        /// How many teeth.
        got: u32,
        /// The most that the row has.
        most: u32,
    },
    /// The set has no tooth at that position.
    NoSuchTooth {
        /// The position.
        got: u16,
        /// The highest that there is.
        most: u16,
    },
    /// A tip longer than one of that set can be.
    TipTooLong {
        /// How long.
        got: Length,
        /// The longest that is believed.
        most: Length,
    },
    /// Nothing was measured.
    NothingMeasured,
    /// There is no such spare in stock.
    NoSpare,
    /// More spares of a kind than [`MOST_SPARES_OF_A_KIND`].
    TooManySpares {
        /// How many.
        got: u32,
    },
    /// A finding of some teeth that names none.
    FindingEmpty,
    /// More teeth are named than the row has.
    FindingTooMany {
        /// How many were named.
        got: u32,
        /// How many the row has.
        most: u32,
    },
    /// A note without text.
    NoteEmpty,
    /// A note longer than [`LONGEST_NOTE`].
    NoteTooLong {
        /// How long it is.
        got: usize,
    },
    /// No entry was named.
    NothingToStrike,
}

impl ShiftPlan {
    /// Whether a shift can be like this: it ends after it starts, within [`LONGEST_SHIFT`], holds its breaks, and
    /// leaves [`SHORTEST_SHIFT`] of work.
    pub fn check(&self) -> Result<(), Refusal> {
        let got = self.end.since(self.start);
        if self.end <= self.start {
            return Err(Refusal::EndsBeforeItStarts {
                start: self.start,
                end: self.end,
            });
        }
        if LONGEST_SHIFT < got {
            return Err(Refusal::ShiftTooLong { got });
        }
        for rest in &self.breaks {
            if rest.start() < self.start || self.end < rest.end() {
                return Err(Refusal::BreakOutside {
                    start: rest.start(),
                    end: rest.end(),
                });
            }
        }
        let got = working_time(self.span(), &breaks(&self.breaks, &[]));
        if got < SHORTEST_SHIFT {
            Err(Refusal::TooLittleWork { got })
        } else {
            Ok(())
        }
    }
}
