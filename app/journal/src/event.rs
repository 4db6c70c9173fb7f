//! What may have happened: facts in the past tense.
//!
//! Never here: how they are written down (`wire`), and whether they should have happened (`state`).

use evenrow_rules::angle::Angle;
use evenrow_rules::checklist::{Item, List};
use evenrow_rules::cost::{Litres, Money};
use evenrow_rules::day::Section;
use evenrow_rules::load::Axles;
use evenrow_rules::machine::Machine;
use evenrow_rules::quantity::{Instant, Length, Span};
use evenrow_rules::setup::{ToothKind, Verdict};
use evenrow_rules::wear::Tips;
use evenrow_rules::work::{Conditions, Work};

/// The name of an entry or of a device; unique without asking anybody.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Id(String);

impl Id {
    /// The longest that is accepted.
    pub const MOST: usize = 64;

    /// An id from its text: 1 to 64 letters, digits and hyphens. Anything else is none.
    pub fn new(text: &str) -> Option<Id> {
        let plain = text
            .bytes()
            .all(|byte| byte.is_ascii_alphanumeric() || byte == b'-');
        (plain && (1..=Id::MOST).contains(&text.len())).then(|| Id(text.to_owned()))
    }

    /// A fresh id of an entry with this count: five letters and digits of the count, nine of random bits. So ids sort in
    /// the order in which entries were recorded, and what was recorded since can be asked for by its first id.
    pub fn counted(count: u64, random: u64) -> Id {
        let mut text = Id::all_from(count);
        push_digits(&mut text, random, 9);
        Id(text)
    }

    /// What no id counted before this count sorts behind, and none from it on before.
    pub fn all_from(count: u64) -> String {
        let mut text = String::new();
        push_digits(&mut text, count.min(Id::MOST_COUNTED), 5);
        text
    }

    /// The highest count that five digits hold; a phone that records one a second takes 29 years to get there. From then on
    /// ids sort in no order.
    const MOST_COUNTED: u64 = 62_u64.pow(5) - 1;

    /// Its text.
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

/// The last so many digits of a number to the base 62, in the order of their bytes.
fn push_digits(text: &mut String, number: u64, places: u32) {
    const DIGITS: &[u8; 62] = b"0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz";
    for place in (0..places).rev() {
        let digit = number / 62_u64.pow(place) % 62;
        text.push(char::from(DIGITS[digit as usize]));
    }
}

/// One record: what happened, when, and on which device.
#[derive(Clone, Debug, PartialEq)]
pub struct Entry {
    /// Its name.
    pub id: Id,
    /// One more than the highest count its device had seen: later entries of a device come after its earlier ones,
    /// even if its clock was set back in between.
    pub count: u64,
    /// The moment by the device's clock.
    pub at: Instant,
    /// What the device's zone was ahead of UTC then, in minutes.
    pub offset_minutes: i16,
    /// Which device.
    pub device: Id,
    /// What happened.
    pub event: Event,
}

/// A time of day in minutes after midnight, 0 to 1439.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct TimeOfDay(u16);

impl TimeOfDay {
    /// A time of day from minutes after midnight; minutes beyond a day wrap round.
    pub const fn from_minutes(minutes: u16) -> TimeOfDay {
        TimeOfDay(minutes % 1440)
    }

    /// Minutes after midnight, 0 to 1439.
    pub const fn minutes(self) -> u16 {
        self.0
    }
}

/// The shift this operator usually works.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct UsualShift {
    /// When it starts.
    pub start: TimeOfDay,
    /// When it ends; at or before the start means on the next day.
    pub end: TimeOfDay,
    /// When the break starts and how many minutes it lasts, where there is one.
    pub rest: Option<(TimeOfDay, u16)>,
}

/// A shift as planned when it was started.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ShiftPlan {
    /// When it starts.
    pub start: Instant,
    /// When it ends. As asked for, so that a slip can be refused with both moments named.
    pub end: Instant,
    /// The breaks foreseen.
    pub breaks: Vec<Span>,
}

impl ShiftPlan {
    /// From start to end.
    pub fn span(&self) -> Span {
        Span::new(self.start, self.end)
    }
}

/// What the sheet said when the operator took it, kept as it stood: a later rule must not rewrite an old report.
#[derive(Clone, Debug, PartialEq)]
pub struct SheetTaken {
    /// Whether it suited.
    pub verdict: Verdict,
    /// Tooth kinds, first choice first.
    pub teeth: Vec<ToothKind>,
    /// How many plates the board has.
    pub plates: u8,
    /// Which of them were toothed, from 1 at the left.
    pub toothed_at: Vec<u8>,
    /// How many teeth that is.
    pub tooth_count: u32,
    /// Cutting angle aimed at, in degrees.
    pub cutting_degrees: u8,
    /// Grading angle aimed at, in degrees from the direction of travel.
    pub grading_degrees: u8,
    /// In how many layers.
    pub layers: u16,
    /// How often to oil in a shift.
    pub oilings: u8,
    /// How many looks per oiling interval.
    pub looks_per_interval: u8,
}

/// What a look at the teeth found.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Finding {
    /// All turn.
    AllTurning,
    /// Some do not: how many are stiff, stuck, and broken or gone. At least one of them is not zero.
    SomeNot {
        /// Turn, but hard.
        stiff: u16,
        /// Do not turn.
        stuck: u16,
        /// Broken or gone.
        broken: u16,
    },
}

impl Finding {
    /// Whether every tooth that was there turned: none was stiff, none stuck.
    pub fn all_turned(self) -> bool {
        match self {
            Finding::AllTurning => true,
            Finding::SomeNot { stiff, stuck, .. } => stiff == 0 && stuck == 0,
        }
    }
}

/// How a tooth was found.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum ToothState {
    /// It turns.
    Turning,
    /// It turns, but hard.
    Stiff,
    /// It does not turn.
    Stuck,
    /// A piece of it is off.
    Chipped,
    /// It is broken.
    Broken,
    /// It is not there.
    Gone,
}

impl ToothState {
    /// Every state, from the best to the worst.
    pub const ALL: [ToothState; 6] = [
        ToothState::Turning,
        ToothState::Stiff,
        ToothState::Stuck,
        ToothState::Chipped,
        ToothState::Broken,
        ToothState::Gone,
    ];

    /// Whether a tooth in this state leaves a hole in the row.
    pub const fn is_lost(self) -> bool {
        match self {
            ToothState::Broken | ToothState::Gone => true,
            ToothState::Turning | ToothState::Stiff | ToothState::Stuck | ToothState::Chipped => {
                false
            }
        }
    }

    /// Whether a tooth in this state can serve on: it may be freed, but nothing is off it.
    pub const fn is_whole(self) -> bool {
        match self {
            ToothState::Turning | ToothState::Stiff | ToothState::Stuck => true,
            ToothState::Chipped | ToothState::Broken | ToothState::Gone => false,
        }
    }
}

/// A set of teeth as it was mounted first, all of them alike.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct NewSet {
    /// The kind of all teeth.
    pub kind: ToothKind,
    /// How long a tip is when new, and when done.
    pub tips: Tips,
    /// How long the tips are now; those of a new set are new.
    pub tip: Length,
    /// How many teeth.
    pub teeth: u16,
}

/// A section of road that is to be worked.
#[derive(Clone, Debug, PartialEq)]
pub struct RoadSection {
    /// What the operator calls it.
    pub name: String,
    /// The work that is done there.
    pub work: Work,
    /// How long and wide it is, and how it is worked.
    pub road: Section,
}

/// What things cost, in the operator's own money.
#[derive(Clone, Debug, PartialEq)]
pub struct PriceList {
    /// What the money is called; may be empty.
    pub money: String,
    /// One new tooth.
    pub tooth: Money,
    /// One litre of oil for the sockets.
    pub litre: Money,
    /// How much oil goes into the sockets each time.
    pub an_oiling: Litres,
}

/// A road that is to be worked in a season.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SeasonRoad {
    /// What the operator calls it.
    pub name: String,
    /// How many minutes a visit takes.
    pub minutes: u32,
    /// How often it is to be worked.
    pub visits: u16,
}

/// What a season is to bring.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SeasonPlan {
    /// Its first day, in days since 1 January 1970 where the phone is.
    pub first_day: i32,
    /// How many weeks it has.
    pub weeks: u16,
    /// How many hours of work a week there are.
    pub hours_a_week: u16,
    /// The roads.
    pub roads: Vec<SeasonRoad>,
}

/// Something that happened.
#[derive(Clone, Debug, PartialEq)]
pub enum Event {
    /// The machine chosen on this device was described; the first one has the device's name as its id.
    MachineDescribed {
        /// What the operator calls it.
        name: String,
        /// Its moldboard, plates and pitch.
        machine: Machine,
    },
    /// The usual shift was set.
    UsualShiftSet(UsualShift),
    /// A shift was started. Its entry's id is the shift's.
    ShiftStarted(ShiftPlan),
    /// A sheet was taken as the set-up, at the start or for a change of work.
    SetupUsed {
        /// Of which shift.
        shift: Id,
        /// The work.
        work: Work,
        /// What was known of the conditions.
        known: Conditions,
        /// What the sheet said.
        sheet: SheetTaken,
    },
    /// Something on a checklist was ticked, or its tick taken back.
    Marked {
        /// Of which shift.
        shift: Id,
        /// Which list.
        list: List,
        /// Which item.
        item: Item,
        /// Whether it is ticked now.
        done: bool,
    },
    /// The sockets were oiled.
    Oiled {
        /// In which shift.
        shift: Id,
    },
    /// Somebody looked whether the teeth turn.
    Looked {
        /// In which shift.
        shift: Id,
        /// What was found.
        finding: Finding,
    },
    /// A break began.
    BreakStarted {
        /// In which shift.
        shift: Id,
    },
    /// The break ended.
    BreakEnded {
        /// In which shift.
        shift: Id,
    },
    /// A note was written.
    Noted {
        /// In which shift.
        shift: Id,
        /// Its text.
        text: String,
    },
    /// An oiling that was due was put off.
    PutOff {
        /// In which shift.
        shift: Id,
        /// For how many minutes.
        minutes: u8,
    },
    /// The operator refused the shorter interval that stiff or stuck teeth had brought.
    UsualIntervalKept {
        /// In which shift.
        shift: Id,
    },
    /// The app did not run for a while in which something fell due.
    WasBlind {
        /// In which shift.
        shift: Id,
        /// From when to when.
        span: Span,
    },
    /// The phone's clock was moved while the app ran.
    ClockJumped {
        /// In which shift.
        shift: Id,
        /// By how many milliseconds; negative for backwards.
        by_ms: i64,
    },
    /// The operator said which time was right when the clock had jumped.
    ClockAnswered {
        /// In which shift.
        shift: Id,
        /// The entry that recorded the jump.
        jump: Id,
        /// Whether the new time is right, so that what was planned and recorded before moves with the clock.
        moved: bool,
    },
    /// Another machine was described, and chosen on this device. Its entry's id is the machine's.
    MachineAdded {
        /// What the operator calls it.
        name: String,
        /// Its moldboard, plates and pitch.
        machine: Machine,
    },
    /// Another machine was chosen on this device; shifts that it starts from now on are with that one.
    MachineChosen {
        /// Which machine.
        machine: Id,
    },
    /// A set of teeth was mounted that was not known before. Its entry's id is the set's. What was on the machine goes
    /// into store.
    SetMounted {
        /// On which machine.
        machine: Id,
        /// What it is.
        new: NewSet,
    },
    /// A set was taken off and stored.
    SetStored {
        /// Which set.
        set: Id,
        /// What was done of [`List::LayingUp`].
        done: Vec<Item>,
    },
    /// A note on a set was written.
    SetNoted {
        /// On which set.
        set: Id,
        /// Its text.
        text: String,
    },
    /// A stored set was mounted again. What was on the machine goes into store.
    SetPutBack {
        /// Which set.
        set: Id,
        /// On which machine.
        machine: Id,
    },
    /// A set was broken up: its whole teeth became spares, or all of it was scrapped.
    SetBrokenUp {
        /// Which set.
        set: Id,
        /// Whether its whole teeth became spares.
        spares: bool,
    },
    /// It was noted how a tooth is.
    ToothNoted {
        /// Of which set.
        set: Id,
        /// At which position, the first being 1.
        position: u16,
        /// How it is.
        state: ToothState,
    },
    /// Every tooth on a machine that is there was found turning.
    RowTurning {
        /// Which machine.
        machine: Id,
    },
    /// Tips were measured.
    TipsMeasured {
        /// Of which set.
        set: Id,
        /// Position and length.
        tips: Vec<(u16, Length)>,
    },
    /// A spare took the place of a tooth.
    ToothReplaced {
        /// Of which set.
        set: Id,
        /// At which position.
        position: u16,
        /// The kind of the spare.
        kind: ToothKind,
        /// How long its tip is.
        tip: Length,
    },
    /// Spares of a kind were counted.
    StockCounted {
        /// The kind.
        kind: ToothKind,
        /// How long their tips are.
        tip: Length,
        /// How many there are.
        count: u32,
    },
    /// It was found out how the teeth of a machine stand to their plates.
    PlateToToothSet {
        /// Which machine.
        machine: Id,
        /// The angle from the plate to the tooth's axis, in tenths of a degree: more is steeper.
        angle: Angle,
    },
    /// A machine's axles were weighed and measured.
    AxlesDescribed {
        /// Which machine.
        machine: Id,
        /// What was found.
        axles: Axles,
    },
    /// A section of road was planned for a machine, after those that were there. Its entry's id is the section's.
    ///
    /// The plan is the machine's and not the shift's: it is made before the shift starts, and what does not get done in it
    /// stands there on the next day. What is done is done in a shift, so ticks are the shift's.
    SectionPlanned {
        /// For which machine.
        machine: Id,
        /// What it is.
        section: RoadSection,
    },
    /// A planned section was described anew.
    SectionChanged {
        /// Which section.
        section: Id,
        /// What it is now.
        to: RoadSection,
    },
    /// A planned section was given another place.
    SectionMoved {
        /// Which section.
        section: Id,
        /// Before which one.
        before: Id,
    },
    /// A planned section was left out.
    SectionLeftOut {
        /// Which section.
        section: Id,
    },
    /// A section was ticked as done, or its tick was taken back.
    SectionTicked {
        /// In which shift.
        shift: Id,
        /// Which section.
        section: Id,
        /// Whether it is done now.
        done: bool,
    },
    /// It was said who worked a shift. It can be said at any time, after its end too, for that is when the report is read.
    WorkerNamed {
        /// Which shift.
        shift: Id,
        /// The name, as it was typed.
        name: String,
    },
    /// Prices were set, for all machines and for all that was ever used: teeth lie in one stock, and a price is not a fact
    /// of the day on which one broke.
    PricesSet(PriceList),
    /// A season was planned for a machine.
    SeasonPlanned {
        /// For which machine.
        machine: Id,
        /// What it is to bring.
        plan: SeasonPlan,
    },
    /// The shift ended.
    ShiftEnded {
        /// Which.
        shift: Id,
    },
    /// An earlier entry was struck: it counts as never having happened.
    Struck {
        /// Which.
        entry: Id,
    },
}

#[cfg(test)]
mod tests {
    use super::Id;

    #[test]
    fn ids_sort_in_the_order_of_their_counts_and_what_came_since_begins_where_it_says() {
        let counts = [
            0,
            1,
            9,
            10,
            61,
            62,
            3843,
            3844,
            99_999,
            100_000,
            916_132_831,
        ];
        for pair in counts.windows(2) {
            let (last, first) = (Id::counted(pair[0], u64::MAX), Id::counted(pair[1], 0));
            assert!(last < first, "{last:?} {first:?}");
            let from = Id::all_from(pair[1]);
            assert!(last.as_str() < from.as_str() && from.as_str() <= first.as_str());
        }
        for count in counts {
            let id = Id::counted(count, 7);
            assert_eq!(Id::new(id.as_str()), Some(id));
            assert_ne!(Id::counted(count, 7), Id::counted(count, 8));
        }
    }

    #[test]
    fn a_count_too_high_for_an_id_still_gives_one() {
        assert_eq!(Id::counted(u64::MAX, 0), Id::counted(916_132_831, 0));
    }
}
