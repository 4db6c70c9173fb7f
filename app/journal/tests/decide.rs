//! What may be asked: given what has happened, when this is asked, then this happens or that is the reason it may not.
//!
//! Never here: what an event changes (`fold`), and how it is written down (`wire`).

mod every;

use std::collections::BTreeSet;
use std::time::Duration;

use evenrow_journal::command::{LONGEST_NAME, LONGEST_NOTE, PricesAsked, SectionAsked};
use evenrow_journal::event::{
    Finding, NewSet, PriceList, RoadSection, SeasonPlan, SeasonRoad, ShiftPlan, TimeOfDay,
    ToothState, UsualShift,
};
use evenrow_journal::{Command, Entry, Event, Id, Journal, Refusal, State, wire};
use evenrow_rules::angle::Angle;
use evenrow_rules::checklist::{Item, List};
use evenrow_rules::cost::{Litres, Money};
use evenrow_rules::day::{Section, SectionFigure};
use evenrow_rules::load::NoAxles;
use evenrow_rules::machine::{FOOT, LONG_PLATE, Machine, SHORT_PLATE, USUAL_PITCH};
use evenrow_rules::quantity::{Figure, Instant, Length, Mass, OutOfRange, Span, Temperature, What};
use evenrow_rules::setup::{ToothKind, Verdict, advise};
use evenrow_rules::wear::Tips;
use evenrow_rules::work::{Conditions, End, Moisture, Work};
use every::every;

every!(COMMANDS, command_name, Command {
    DescribeMachine = "describe the machine",
    AddMachine = "add a machine",
    ChooseMachine = "choose a machine",
    MountSet = "mount a set",
    StoreSet = "store a set",
    NoteOnSet = "write a note on a set",
    PutBackSet = "put a set back",
    BreakUpSet = "break a set up",
    NoteTooth = "note a tooth",
    AllTurning = "all of a row turns",
    LookAtRow = "look at a row",
    MeasureTips = "measure tips",
    ReplaceTooth = "replace a tooth",
    CountStock = "count spares",
    SetPlateToTooth = "say how the teeth stand to their plates",
    DescribeAxles = "say what the axles carry",
    PlanSection = "plan a section",
    ChangeSection = "change a section",
    MoveSection = "move a section",
    LeaveOutSection = "leave a section out",
    TickSection = "tick a section",
    SayWho = "say who worked",
    SetPrices = "set prices",
    PlanSeason = "plan a season",
    SetUsualShift = "set the usual shift",
    StartShift = "start a shift",
    UseSetup = "use a set-up",
    Mark = "mark an item",
    Oil = "oil",
    Look = "look",
    StartBreak = "start a break",
    EndBreak = "end a break",
    Note = "write a note",
    PutOff = "put an oiling off",
    KeepUsualInterval = "keep the usual interval",
    NoteBlind = "note that it did not run",
    NoteJump = "note that the clock jumped",
    AnswerClock = "say which time is right",
    EndShift = "end the shift",
    Strike = "strike",
});

every!(REFUSALS, refusal_name, Refusal {
    NewerRecords = "newer records",
    OutOfRange = "out of range",
    Axles = "axles",
    SectionOutOfRange = "section out of range",
    SectionNameEmpty = "section name empty",
    NoSection = "no section",
    NameEmpty = "name empty",
    NameTooLong = "name too long",
    NoMachine = "no machine",
    EndsBeforeItStarts = "ends before it starts",
    ShiftTooLong = "shift too long",
    TooLittleWork = "too little work",
    BreakOutside = "break outside",
    ShiftRuns = "a shift runs",
    NoShift = "no shift",
    NotToBeDone = "not to be done",
    OnBreak = "on break",
    NotOnBreak = "not on break",
    NothingToAnswer = "nothing to answer",
    NoSet = "no set",
    SetOnMachine = "set on a machine",
    NeverMeasured = "never measured",
    SetOf = "set of too many",
    NoSuchTooth = "no such tooth",
    TipTooLong = "tip too long",
    NothingMeasured = "nothing measured",
    NoSpare = "no spare",
    TooManySpares = "too many spares",
    FindingEmpty = "finding empty",
    FindingTooMany = "finding of too many",
    NoteEmpty = "note empty",
    NoteTooLong = "note too long",
    NothingToStrike = "nothing to strike",
    NoSuchShift = "no such shift",
    WhoEmpty = "nobody named",
    PriceOutOfRange = "a price out of range",
    VisitOutOfRange = "a visit out of range",
    VisitsOutOfRange = "visits out of range",
    SeasonOutOfRange = "a season out of range",
});

/// What a newer version of the app may write.
const NEWER: &str =
    r#"{"v":4,"id":"x","count":1,"at_ms":1,"device":"cab","event":{"something_new":{}}}"#;

/// What is expected of an answer.
#[derive(Clone, Debug, PartialEq)]
enum Then {
    Happens(Vec<Event>),
    Refused(Refusal),
}

impl From<Event> for Then {
    fn from(event: Event) -> Then {
        Then::Happens(vec![event])
    }
}

impl<const N: usize> From<[Event; N]> for Then {
    fn from(events: [Event; N]) -> Then {
        Then::Happens(events.into())
    }
}

impl From<Refusal> for Then {
    fn from(reason: Refusal) -> Then {
        Then::Refused(reason)
    }
}

#[track_caller]
fn check(given: &Journal, when: Command, then: impl Into<Then>) {
    let answer = match State::fold(given).decide(when) {
        Ok(events) => Then::Happens(events),
        Err(reason) => Then::Refused(reason),
    };
    assert_eq!(answer, then.into());
}

/// What happened at ten minutes past, at twenty past and so on after six. The entries are called `entry-1`, `entry-2`
/// and so on, those that start a shift `shift-1`, `shift-2`.
fn given<const N: usize>(events: [Event; N]) -> Journal {
    let mut journal = Journal::default();
    let mut shifts = 0;
    for (at, event) in (1_u8..).zip(events) {
        let name = if matches!(event, Event::ShiftStarted(_)) {
            shifts += 1;
            format!("shift-{shifts}")
        } else {
            format!("entry-{at}")
        };
        let entry = Entry {
            id: id(&name),
            count: u64::from(at),
            at: clock(6, 10 * i64::from(at)),
            offset_minutes: -360,
            device: id("cab"),
            event,
        };
        journal.take(&wire::write(&entry));
    }
    journal
}

fn id(text: &str) -> Id {
    Id::new(text).unwrap()
}

fn shift() -> Id {
    id("shift-1")
}

/// A time on the clock in the cab on 15 June 2026, six hours behind UTC.
fn clock(hours: i64, minutes: i64) -> Instant {
    Instant::from_unix_ms(1_781_503_200_000 + (hours * 60 + minutes) * 60_000)
}

fn feet(count: u32) -> Length {
    Length::micrometres(FOOT.in_micrometres() * count)
}

fn twelve_feet() -> Machine {
    Machine::with_moldboard(feet(12)).unwrap()
}

fn described() -> Event {
    Event::MachineDescribed {
        name: "Pine Ridge 2".to_owned(),
        machine: twelve_feet(),
    }
}

fn started() -> Event {
    Event::ShiftStarted(seven_to_half_past_three())
}

fn break_started() -> Event {
    Event::BreakStarted { shift: shift() }
}

fn break_ended() -> Event {
    Event::BreakEnded { shift: shift() }
}

/// The third entry that is given.
fn jumped() -> Event {
    Event::ClockJumped {
        shift: shift(),
        by_ms: -3_600_000,
    }
}

fn answer(moved: bool) -> Command {
    Command::AnswerClock {
        jump: id("entry-3"),
        moved,
    }
}

fn cab() -> Id {
    id("cab")
}

/// The second entry that is given mounts it.
fn set() -> Id {
    id("entry-2")
}

fn mm(millimetres: f64) -> Length {
    Length::millimetres(millimetres).unwrap()
}

fn new_set(teeth: u16) -> NewSet {
    NewSet {
        kind: ToothKind::WidePointed,
        tips: Tips::new(mm(20.0), mm(5.0)).unwrap(),
        tip: mm(20.0),
        teeth,
    }
}

fn mount(new: NewSet) -> Command {
    Command::MountSet {
        machine: cab(),
        new,
    }
}

fn mounted() -> Event {
    Event::SetMounted {
        machine: cab(),
        new: new_set(96),
    }
}

fn with_a_set() -> Journal {
    given([described(), mounted()])
}

fn stored() -> Event {
    Event::SetStored {
        set: set(),
        done: vec![Item::EdgeOiled],
    }
}

fn noted_stuck() -> Event {
    Event::ToothNoted {
        set: set(),
        position: 12,
        state: ToothState::Stuck,
    }
}

fn counted(count: u32) -> Event {
    Event::StockCounted {
        kind: ToothKind::WidePointed,
        tip: mm(18.0),
        count,
    }
}

fn count(count: u32) -> Command {
    Command::CountStock {
        kind: ToothKind::WidePointed,
        tip: mm(18.0),
        count,
    }
}

fn note_tooth(position: u16) -> Command {
    Command::NoteTooth {
        set: set(),
        position,
        state: ToothState::Stuck,
    }
}

fn measure(tips: Vec<(u16, Length)>) -> Command {
    Command::MeasureTips { set: set(), tips }
}

fn replace(tip: Length) -> Command {
    Command::ReplaceTooth {
        set: set(),
        position: 12,
        kind: ToothKind::WidePointed,
        tip,
    }
}

/// A set mounted at 6:20 in a shift from six on, and stored at 7:40.
fn worked_and_stored() -> Journal {
    let plan = without_breaks(clock(6, 0), clock(14, 0));
    let oiled = || Event::Oiled { shift: shift() };
    given([
        described(),
        mounted(),
        Event::ShiftStarted(plan),
        oiled(),
        oiled(),
        oiled(),
        oiled(),
        oiled(),
        oiled(),
        stored(),
    ])
}

fn store() -> Command {
    Command::StoreSet {
        set: set(),
        done: vec![Item::EdgeOiled],
    }
}

fn note_on_set(text: &str) -> Command {
    Command::NoteOnSet {
        set: set(),
        text: text.to_owned(),
    }
}

fn tooth_at(degrees: f64) -> Command {
    Command::SetPlateToTooth {
        machine: cab(),
        plate: Angle::degrees(50.04).unwrap(),
        tooth: Angle::degrees(degrees).unwrap(),
    }
}

fn axles(kilograms: f64, wheelbase: f64, edge_to_rear: f64) -> Command {
    Command::DescribeAxles {
        machine: cab(),
        front_axle: Mass::kilograms(kilograms).unwrap(),
        wheelbase: mm(wheelbase),
        edge_to_rear: mm(edge_to_rear),
    }
}

fn break_up() -> Command {
    Command::BreakUpSet {
        set: set(),
        spares: true,
    }
}

fn asked(name: &str, kilometres: f64) -> SectionAsked {
    SectionAsked {
        name: name.to_owned(),
        work: Work::Gravel,
        kilometres,
        width_mm: Some(6000.0),
        passes: 3,
        layers: 1,
        kilometres_per_hour: 8.0,
        minutes_of_work: 45,
    }
}

fn plan(section: SectionAsked) -> Command {
    Command::PlanSection {
        machine: cab(),
        section,
    }
}

fn alder_loop() -> RoadSection {
    RoadSection {
        name: "Alder Loop".to_owned(),
        work: Work::Gravel,
        road: Section::new(4.0, Some(6000.0), (3, 1), 8.0, 45).unwrap(),
    }
}

fn planned() -> Event {
    Event::SectionPlanned {
        machine: cab(),
        section: alder_loop(),
    }
}

/// The third entry that is given.
fn section() -> Id {
    id("entry-3")
}

fn with_a_section() -> Journal {
    given([described(), started(), planned()])
}

fn ended() -> Event {
    Event::ShiftEnded { shift: shift() }
}

fn working() -> Journal {
    given([described(), started()])
}

fn seven_to_half_past_three() -> ShiftPlan {
    ShiftPlan {
        start: clock(7, 0),
        end: clock(15, 30),
        breaks: vec![Span::new(clock(11, 0), clock(11, 30))],
    }
}

fn without_breaks(start: Instant, end: Instant) -> ShiftPlan {
    ShiftPlan {
        start,
        end,
        breaks: vec![],
    }
}

fn describe(name: &str, moldboard: Length) -> Command {
    Command::DescribeMachine {
        name: name.to_owned(),
        moldboard,
        plates: (SHORT_PLATE, LONG_PLATE),
        pitch: USUAL_PITCH,
    }
}

fn usual() -> UsualShift {
    UsualShift {
        start: TimeOfDay::from_minutes(420),
        end: TimeOfDay::from_minutes(930),
        rest: Some((TimeOfDay::from_minutes(660), 30)),
    }
}

fn dusty() -> Conditions {
    Conditions {
        moisture: Some(Moisture::Dusty),
        ..Conditions::default()
    }
}

fn milling_at(celsius: f64) -> Command {
    Command::UseSetup {
        work: Work::SoftMilling,
        known: Conditions {
            surface: Some(Temperature::celsius(celsius).unwrap()),
            soft: Some(true),
            cutting_end: Some(End::Right),
            ..Conditions::default()
        },
    }
}

fn mark(done: bool) -> Command {
    Command::Mark {
        list: List::Opening,
        item: Item::TeethTurn,
        done,
    }
}

fn some_not(stiff: u16, stuck: u16, broken: u16) -> Finding {
    Finding::SomeNot {
        stiff,
        stuck,
        broken,
    }
}

/// One of each command, with a journal in which it is accepted.
fn accepted() -> Vec<(Journal, Command)> {
    let gravel = Command::UseSetup {
        work: Work::Gravel,
        known: dusty(),
    };
    vec![
        (working(), who(shift().as_str(), "R. Fir")),
        (given([]), prices(8.25, 1.4, 0.75)),
        (working(), plan_season(season("Alder Loop", 200, 14, 12))),
        (given([]), describe("Pine Ridge 2", feet(12))),
        (
            given([]),
            Command::AddMachine {
                name: "Pine Ridge 3".to_owned(),
                moldboard: feet(13),
                plates: (SHORT_PLATE, LONG_PLATE),
                pitch: USUAL_PITCH,
            },
        ),
        (
            given([described()]),
            Command::ChooseMachine { machine: cab() },
        ),
        (given([described()]), mount(new_set(96))),
        (with_a_set(), store()),
        (with_a_set(), note_on_set("A kerb at Alder Loop")),
        (
            given([described(), mounted(), stored()]),
            Command::PutBackSet {
                set: set(),
                machine: cab(),
            },
        ),
        (given([described(), mounted(), stored()]), break_up()),
        (with_a_set(), note_tooth(96)),
        (with_a_set(), Command::AllTurning { machine: cab() }),
        (
            given([described(), mounted(), noted_stuck(), started()]),
            Command::LookAtRow { machine: cab() },
        ),
        (with_a_set(), measure(vec![(1, mm(18.0))])),
        (
            given([described(), mounted(), counted(1)]),
            replace(mm(18.0)),
        ),
        (given([]), count(12)),
        (given([described()]), tooth_at(53.2)),
        (given([described()]), axles(4000.0, 6000.0, 2500.0)),
        (given([described()]), plan(asked("Alder Loop", 4.0))),
        (
            with_a_section(),
            Command::ChangeSection {
                section: section(),
                to: asked("Alder Loop", 5.0),
            },
        ),
        (
            with_a_section(),
            Command::MoveSection {
                section: section(),
                before: section(),
            },
        ),
        (
            with_a_section(),
            Command::LeaveOutSection { section: section() },
        ),
        (
            with_a_section(),
            Command::TickSection {
                section: section(),
                done: true,
            },
        ),
        (given([]), Command::SetUsualShift(usual())),
        (given([]), Command::StartShift(seven_to_half_past_three())),
        (working(), gravel),
        (working(), mark(true)),
        (working(), Command::Oil),
        (working(), Command::Look(Finding::AllTurning)),
        (working(), Command::StartBreak),
        (
            given([described(), started(), break_started()]),
            Command::EndBreak,
        ),
        (working(), Command::Note("Alder Loop".to_owned())),
        (working(), Command::PutOff { minutes: 5 }),
        (working(), Command::KeepUsualInterval),
        (
            working(),
            Command::NoteBlind(Span::new(clock(6, 30), clock(8, 0))),
        ),
        (working(), Command::NoteJump { by_ms: -3_600_000 }),
        (given([described(), started(), jumped()]), answer(true)),
        (working(), Command::EndShift),
        (working(), Command::Strike(vec![id("entry-1")])),
    ]
}

/// Every reason to refuse, with a journal and a command that meet it.
fn refused() -> Vec<(Journal, Command, Refusal)> {
    let start = clock(7, 0);
    let outside = Span::new(clock(15, 0), clock(16, 0));
    let mut newer = working();
    newer.take(NEWER);
    vec![
        (newer, Command::Oil, Refusal::NewerRecords),
        (
            given([]),
            describe("Pine Ridge 2", Length::ZERO),
            Refusal::OutOfRange(moldboard_of(0.0)),
        ),
        (
            given([described()]),
            axles(12.0, 6000.0, 2500.0),
            Refusal::Axles(NoAxles::FrontAxle(OutOfRange {
                what: Figure::Mass,
                got: 12.0,
                min: 500.0,
                max: 30_000.0,
            })),
        ),
        (given([]), describe(" \t", feet(12)), Refusal::NameEmpty),
        (
            given([]),
            describe(&"n".repeat(41), feet(12)),
            Refusal::NameTooLong { got: 41 },
        ),
        (given([started()]), milling_at(12.0), Refusal::NoMachine),
        (
            given([]),
            Command::StartShift(without_breaks(start, clock(6, 59))),
            Refusal::EndsBeforeItStarts {
                start,
                end: clock(6, 59),
            },
        ),
        (
            given([]),
            Command::StartShift(without_breaks(start, clock(37, 0))),
            Refusal::ShiftTooLong {
                got: Duration::from_hours(30),
            },
        ),
        (
            given([]),
            Command::StartShift(without_breaks(start, clock(7, 14))),
            Refusal::TooLittleWork {
                got: Duration::from_mins(14),
            },
        ),
        (
            given([]),
            Command::StartShift(ShiftPlan {
                breaks: vec![outside],
                ..seven_to_half_past_three()
            }),
            Refusal::BreakOutside {
                start: outside.start(),
                end: outside.end(),
            },
        ),
        (
            working(),
            Command::StartShift(seven_to_half_past_three()),
            Refusal::ShiftRuns { since: start },
        ),
        (given([described()]), Command::Oil, Refusal::NoShift),
        (working(), milling_at(3.0), Refusal::NotToBeDone),
        (
            given([described(), started(), break_started()]),
            Command::StartBreak,
            Refusal::OnBreak {
                since: clock(6, 30),
            },
        ),
        (working(), Command::EndBreak, Refusal::NotOnBreak),
        (working(), answer(true), Refusal::NothingToAnswer),
        (working(), break_up(), Refusal::NoSet),
        (with_a_set(), break_up(), Refusal::SetOnMachine),
        (
            worked_and_stored(),
            break_up(),
            Refusal::NeverMeasured { wanted: 6 },
        ),
        (
            working(),
            Command::ChooseMachine {
                machine: id("another"),
            },
            Refusal::ShiftRuns { since: start },
        ),
        (
            given([described()]),
            mount(new_set(97)),
            Refusal::SetOf { got: 97, most: 96 },
        ),
        (
            with_a_set(),
            note_tooth(97),
            Refusal::NoSuchTooth { got: 97, most: 96 },
        ),
        (
            with_a_set(),
            measure(vec![(1, mm(21.6))]),
            Refusal::TipTooLong {
                got: mm(21.6),
                most: mm(21.5),
            },
        ),
        (with_a_set(), measure(vec![]), Refusal::NothingMeasured),
        (with_a_set(), replace(mm(18.0)), Refusal::NoSpare),
        (
            given([]),
            count(5_001),
            Refusal::TooManySpares { got: 5_001 },
        ),
        (
            working(),
            Command::Look(some_not(0, 0, 0)),
            Refusal::FindingEmpty,
        ),
        (
            working(),
            Command::Look(some_not(97, 0, 0)),
            Refusal::FindingTooMany { got: 97, most: 96 },
        ),
        (working(), Command::Note(String::new()), Refusal::NoteEmpty),
        (
            working(),
            Command::Note("n".repeat(2001)),
            Refusal::NoteTooLong { got: 2001 },
        ),
        (working(), Command::Strike(vec![]), Refusal::NothingToStrike),
        (
            working(),
            plan(asked("Alder Loop", 600.0)),
            Refusal::SectionOutOfRange(OutOfRange {
                what: SectionFigure::Length,
                got: 600.0,
                min: 0.01,
                max: 500.0,
            }),
        ),
        (working(), plan(asked("  ", 4.0)), Refusal::SectionNameEmpty),
        (
            with_a_section(),
            Command::MoveSection {
                section: section(),
                before: id("entry-1"),
            },
            Refusal::NoSection,
        ),
    ]
}

fn moldboard_of(millimetres: f64) -> OutOfRange {
    OutOfRange {
        what: What::Moldboard,
        got: millimetres,
        min: 1200.0,
        max: 8000.0,
    }
}

#[test]
fn every_command_is_accepted_where_it_fits() {
    let mut tried = BTreeSet::new();
    for (given, when) in accepted() {
        let name = command_name(&when);
        let answer = State::fold(&given).decide(when);
        assert!(answer.is_ok_and(|events| events.len() == 1), "{name}");
        tried.insert(name);
    }
    assert_eq!(tried, COMMANDS.iter().copied().collect());
}

#[test]
fn every_reason_to_refuse_is_met_and_told_with_its_facts() {
    let mut met = BTreeSet::new();
    for (given, when, then) in refused().into_iter().chain(refused_in_the_book()) {
        met.insert(refusal_name(&then));
        check(&given, when, then);
    }
    assert_eq!(met, REFUSALS.iter().copied().collect());
}

#[test]
fn nothing_at_all_is_accepted_once_a_newer_version_has_written_here() {
    for (mut given, when) in accepted() {
        given.take(NEWER);
        check(&given, when, Refusal::NewerRecords);
    }
}

#[test]
fn a_damaged_record_stops_nobody_from_working() {
    let mut given = working();
    given.take("half a rec");
    check(&given, Command::Oil, Event::Oiled { shift: shift() });
}

#[test]
fn a_board_of_nothing_and_a_board_of_forty_metres_are_refused() {
    for millimetres in [0.0, 1199.0, 8001.0, 40_000.0] {
        let moldboard = Length::millimetres(millimetres).unwrap();
        check(
            &given([]),
            describe("Pine Ridge 2", moldboard),
            Refusal::OutOfRange(moldboard_of(millimetres)),
        );
    }
}

#[test]
fn a_plate_or_a_pitch_of_nothing_is_refused_by_its_name() {
    let command = |plates, pitch| Command::DescribeMachine {
        name: "Pine Ridge 2".to_owned(),
        moldboard: feet(12),
        plates,
        pitch,
    };
    let refused = |what, min, max| {
        Refusal::OutOfRange(OutOfRange {
            what,
            got: 0.0,
            min,
            max,
        })
    };
    let no_plate = refused(What::Plate, 150.0, 2500.0);
    for plates in [(Length::ZERO, LONG_PLATE), (SHORT_PLATE, Length::ZERO)] {
        check(&given([]), command(plates, USUAL_PITCH), no_plate.clone());
    }
    check(
        &given([]),
        command((SHORT_PLATE, LONG_PLATE), Length::ZERO),
        refused(What::Pitch, 20.0, 150.0),
    );
}

#[test]
fn a_machine_is_described_under_its_name_without_the_blanks_around_it() {
    check(
        &given([]),
        describe("  Pine Ridge 2\n", feet(12)),
        described(),
    );
}

#[test]
fn a_name_is_counted_in_characters_not_in_bytes() {
    let name = "å".repeat(LONGEST_NAME);
    check(
        &given([]),
        describe(&name, feet(12)),
        Event::MachineDescribed {
            name: name.clone(),
            machine: twelve_feet(),
        },
    );
    check(
        &given([]),
        describe(&format!("{name}ø"), feet(12)),
        Refusal::NameTooLong { got: 41 },
    );
}

#[test]
fn a_board_measured_in_feet_is_decided_as_it_will_be_read_tomorrow() {
    // Twelve times 304.8 is not quite 3657.6 in binary fractions; the record keeps 3,657,600 µm.
    assert_ne!(FOOT.times(12), feet(12));
    check(
        &given([]),
        describe("Pine Ridge 2", FOOT.times(12)),
        described(),
    );
}

#[test]
fn a_temperature_is_decided_on_as_the_record_keeps_it() {
    // 14.96 °C is kept as 15.0 °C, from where on the full row mills; the report must not say 15.0 °C and one plate.
    let answer = State::fold(&working()).decide(milling_at(14.96)).unwrap();
    let [Event::SetupUsed { known, sheet, .. }] = answer.as_slice() else {
        panic!("{answer:?}");
    };
    assert_eq!(known.surface, Some(Temperature::whole_celsius(15)));
    assert_eq!((sheet.verdict, sheet.toothed_at.len()), (Verdict::Suits, 4));
}

#[test]
fn the_usual_shift_may_cross_midnight() {
    let night = UsualShift {
        start: TimeOfDay::from_minutes(1320),
        end: TimeOfDay::from_minutes(360),
        rest: None,
    };
    check(
        &given([]),
        Command::SetUsualShift(night),
        Event::UsualShiftSet(night),
    );
}

#[test]
fn a_shift_starts_as_planned_even_before_the_machine_is_described() {
    check(
        &given([]),
        Command::StartShift(seven_to_half_past_three()),
        started(),
    );
}

#[test]
fn a_shift_that_ends_before_it_starts_or_at_once_is_refused() {
    let start = clock(7, 0);
    for end in [clock(6, 0), start, Instant::from_unix_ms(i64::MIN)] {
        check(
            &given([]),
            Command::StartShift(without_breaks(start, end)),
            Refusal::EndsBeforeItStarts { start, end },
        );
    }
}

#[test]
fn a_shift_of_a_day_is_accepted_and_one_of_a_moment_more_or_of_thirty_hours_is_not() {
    let start = clock(7, 0);
    let of = |length: Duration| Command::StartShift(without_breaks(start, start.plus(length)));
    let day = Duration::from_hours(24);
    check(
        &given([]),
        of(day),
        Event::ShiftStarted(without_breaks(start, clock(31, 0))),
    );
    for got in [day + Duration::from_millis(1), Duration::from_hours(30)] {
        check(&given([]), of(got), Refusal::ShiftTooLong { got });
    }
}

#[test]
fn a_shift_with_a_quarter_of_an_hour_of_work_is_accepted_and_one_with_less_is_not() {
    let plan = |minutes: i64| ShiftPlan {
        start: clock(7, 0),
        end: clock(7, 30),
        breaks: vec![Span::new(clock(7, 10), clock(7, 10 + minutes))],
    };
    check(
        &given([]),
        Command::StartShift(plan(15)),
        Event::ShiftStarted(plan(15)),
    );
    check(
        &given([]),
        Command::StartShift(plan(16)),
        Refusal::TooLittleWork {
            got: Duration::from_mins(14),
        },
    );
}

#[test]
fn breaks_that_overlap_count_once_against_the_working_time() {
    let plan = ShiftPlan {
        start: clock(7, 0),
        end: clock(7, 30),
        breaks: vec![Span::new(clock(7, 0), clock(7, 10)); 3],
    };
    check(
        &given([]),
        Command::StartShift(plan.clone()),
        Event::ShiftStarted(plan),
    );
}

#[test]
fn a_break_may_touch_the_ends_of_the_shift_but_not_reach_over_them() {
    let with = |start, end| ShiftPlan {
        breaks: vec![Span::new(start, end)],
        ..seven_to_half_past_three()
    };
    let a_moment = Duration::from_millis(1);
    for (start, end) in [(clock(7, 0), clock(7, 30)), (clock(15, 0), clock(15, 30))] {
        check(
            &given([]),
            Command::StartShift(with(start, end)),
            Event::ShiftStarted(with(start, end)),
        );
    }
    for (start, end) in [
        (clock(7, 0).minus(a_moment), clock(7, 30)),
        (clock(15, 0), clock(15, 30).plus(a_moment)),
        (clock(20, 0), clock(20, 30)),
    ] {
        check(
            &given([]),
            Command::StartShift(with(start, end)),
            Refusal::BreakOutside { start, end },
        );
    }
}

#[test]
fn a_second_shift_starts_only_once_the_first_has_ended() {
    let plan = without_breaks(clock(16, 0), clock(20, 0));
    check(
        &working(),
        Command::StartShift(plan.clone()),
        Refusal::ShiftRuns { since: clock(7, 0) },
    );
    check(
        &given([described(), started(), ended()]),
        Command::StartShift(plan.clone()),
        Event::ShiftStarted(plan),
    );
}

#[test]
fn what_is_done_belongs_to_the_shift_that_runs_not_to_the_one_before() {
    let second = || id("shift-2");
    let given = given([described(), started(), ended(), started()]);
    check(&given, Command::Oil, Event::Oiled { shift: second() });
    check(
        &given,
        Command::EndShift,
        Event::ShiftEnded { shift: second() },
    );
}

#[test]
fn nothing_belongs_to_a_shift_that_has_ended() {
    let given = given([described(), started(), ended()]);
    for when in [
        milling_at(12.0),
        mark(true),
        Command::Oil,
        Command::Look(Finding::AllTurning),
        Command::StartBreak,
        Command::EndBreak,
        Command::Note("Alder Loop".to_owned()),
        Command::EndShift,
    ] {
        check(&given, when, Refusal::NoShift);
    }
}

#[test]
fn a_set_up_is_taken_with_everything_that_the_sheet_said() {
    let sheet = advise(Work::Gravel, &dusty(), &twelve_feet());
    let answer = State::fold(&working())
        .decide(Command::UseSetup {
            work: Work::Gravel,
            known: dusty(),
        })
        .unwrap();
    let [
        Event::SetupUsed {
            shift: of,
            work: Work::Gravel,
            known,
            sheet: taken,
        },
    ] = answer.as_slice()
    else {
        panic!("{answer:?}");
    };
    assert_eq!((of, *known), (&shift(), dusty()));
    assert_eq!(taken.verdict, *sheet.verdict.value());
    assert_eq!(&taken.teeth, sheet.teeth.value());
    assert_eq!(
        (taken.plates, taken.toothed_at.as_slice()),
        (4, [1, 2, 3, 4].as_slice())
    );
    assert_eq!(taken.tooth_count, 96);
    let degrees = |degrees: u8| f64::from(degrees);
    let (cutting, grading) = (sheet.cutting.value(), sheet.grading.value());
    assert!((degrees(taken.cutting_degrees) - cutting.target().in_degrees()).abs() < f64::EPSILON);
    assert!((degrees(taken.grading_degrees) - grading.target().in_degrees()).abs() < f64::EPSILON);
    assert_eq!(taken.layers, sheet.layers.value().count);
    assert_eq!(taken.oilings, sheet.oilings.value().planned);
    assert_eq!(taken.looks_per_interval, *sheet.looks_per_interval.value());
}

#[test]
fn milling_at_three_degrees_is_refused_and_at_twelve_it_takes_one_plate() {
    check(&working(), milling_at(3.0), Refusal::NotToBeDone);
    let answer = State::fold(&working()).decide(milling_at(12.0)).unwrap();
    let [Event::SetupUsed { sheet, .. }] = answer.as_slice() else {
        panic!("{answer:?}");
    };
    assert_eq!(sheet.verdict, Verdict::WithCare);
    assert_eq!(
        (sheet.toothed_at.as_slice(), sheet.tooth_count),
        ([4].as_slice(), 24)
    );
}

#[test]
fn a_tick_can_be_set_and_taken_back() {
    for done in [true, false] {
        check(
            &working(),
            mark(done),
            Event::Marked {
                shift: shift(),
                list: List::Opening,
                item: Item::TeethTurn,
                done,
            },
        );
    }
}

#[test]
fn oiling_during_a_break_is_accepted() {
    check(
        &given([described(), started(), break_started()]),
        Command::Oil,
        Event::Oiled { shift: shift() },
    );
}

#[test]
fn a_finding_of_the_whole_row_is_accepted_and_one_tooth_more_is_not() {
    let looked = |finding| Event::Looked {
        shift: shift(),
        finding,
    };
    for finding in [
        Finding::AllTurning,
        some_not(1, 0, 0),
        some_not(0, 1, 0),
        some_not(0, 0, 1),
        some_not(90, 4, 2),
    ] {
        check(&working(), Command::Look(finding), looked(finding));
    }
    check(
        &working(),
        Command::Look(some_not(90, 4, 3)),
        Refusal::FindingTooMany { got: 97, most: 96 },
    );
    check(
        &working(),
        Command::Look(some_not(u16::MAX, u16::MAX, u16::MAX)),
        Refusal::FindingTooMany {
            got: 196_605,
            most: 96,
        },
    );
}

#[test]
fn a_finding_is_taken_as_it_is_while_nobody_has_said_how_long_the_row_is() {
    let finding = some_not(500, 0, 0);
    check(
        &given([started()]),
        Command::Look(finding),
        Event::Looked {
            shift: shift(),
            finding,
        },
    );
}

#[test]
fn a_break_can_be_ended_once_and_started_again() {
    check(&working(), Command::StartBreak, break_started());
    check(
        &given([described(), started(), break_started()]),
        Command::EndBreak,
        break_ended(),
    );
    let over = given([described(), started(), break_started(), break_ended()]);
    check(&over, Command::EndBreak, Refusal::NotOnBreak);
    check(&over, Command::StartBreak, break_started());
}

#[test]
fn a_note_is_counted_in_characters_not_in_bytes() {
    let noted = |text: &str| Event::Noted {
        shift: shift(),
        text: text.to_owned(),
    };
    for letter in ["n", "ø", "ற", "🦺"] {
        let longest = letter.repeat(LONGEST_NOTE);
        check(
            &working(),
            Command::Note(format!("\n {longest}  ")),
            noted(&longest),
        );
        check(
            &working(),
            Command::Note(format!("{longest}{letter}")),
            Refusal::NoteTooLong { got: 2001 },
        );
    }
}

#[test]
fn a_note_of_nothing_but_blanks_is_refused() {
    for text in ["", " ", "\n\t \u{a0}"] {
        check(
            &working(),
            Command::Note(text.to_owned()),
            Refusal::NoteEmpty,
        );
    }
}

#[test]
fn the_end_of_the_shift_during_a_break_ends_the_break_first() {
    check(&working(), Command::EndShift, ended());
    check(
        &given([described(), started(), break_started()]),
        Command::EndShift,
        [break_ended(), ended()],
    );
}

#[test]
fn both_entries_of_an_end_during_a_break_can_be_struck_with_one_command() {
    let struck = |name| Event::Struck { entry: id(name) };
    check(
        &given([
            described(),
            started(),
            break_started(),
            break_ended(),
            ended(),
        ]),
        Command::Strike(vec![id("entry-4"), id("entry-5")]),
        [struck("entry-4"), struck("entry-5")],
    );
}

#[test]
fn an_app_that_did_not_run_records_it_only_if_something_fell_due_and_only_once() {
    let nothing: [Event; 0] = [];
    let blind = |from, to| Command::NoteBlind(Span::new(from, to));
    // Without a set-up the sockets are oiled once, before the start at seven.
    check(&working(), blind(clock(7, 0), clock(9, 0)), nothing.clone());
    let span = Span::new(clock(6, 59), clock(9, 0));
    let was = Event::WasBlind {
        shift: shift(),
        span,
    };
    check(&working(), Command::NoteBlind(span), was.clone());
    check(&given([]), Command::NoteBlind(span), nothing.clone());
    // Another window has told the same already.
    let told = given([described(), started(), was]);
    check(&told, blind(clock(6, 58), clock(9, 1)), nothing);
}

#[test]
fn a_jump_of_the_clock_is_nothing_to_a_phone_without_a_shift() {
    let nothing: [Event; 0] = [];
    let jump = Command::NoteJump { by_ms: 7_200_000 };
    check(&given([described()]), jump.clone(), nothing.clone());
    check(&given([described(), started(), ended()]), jump, nothing);
}

#[test]
fn the_clock_is_asked_about_once() {
    let answered = Event::ClockAnswered {
        shift: shift(),
        jump: id("entry-3"),
        moved: false,
    };
    check(
        &given([described(), started(), jumped(), answered]),
        answer(true),
        Refusal::NothingToAnswer,
    );
}

#[test]
fn how_the_teeth_stand_to_their_plates_is_kept_in_tenths_of_a_degree_and_nonsense_is_refused() {
    let given = given([described()]);
    for (tooth, kept) in [(53.2, 3.2), (47.0, -3.0), (50.04, 0.0), (95.0, 45.0)] {
        let angle = Angle::degrees(kept).unwrap();
        let machine = cab();
        check(
            &given,
            tooth_at(tooth),
            Event::PlateToToothSet { machine, angle },
        );
    }
    let range = OutOfRange {
        what: What::PlateToTooth,
        got: 96.0 - 50.04,
        min: -45.0,
        max: 45.0,
    };
    check(&given, tooth_at(96.0), Refusal::OutOfRange(range));
}

#[test]
fn an_edge_ahead_of_the_front_axle_or_a_wheelbase_of_nothing_is_refused_with_what_would_be_right() {
    let given = given([described()]);
    for (asked, why) in [
        (
            axles(4000.0, 500.0, 400.0),
            NoAxles::Wheelbase(of(Figure::Wheelbase, 500.0, 1000.0, 15_000.0)),
        ),
        (
            axles(4000.0, 6000.0, 6001.0),
            NoAxles::EdgeToRear(of(Figure::EdgeToRear, 6001.0, 300.0, 6000.0)),
        ),
        (
            axles(30_001.0, 6000.0, 2500.0),
            NoAxles::FrontAxle(of(Figure::Mass, 30_001.0, 500.0, 30_000.0)),
        ),
    ] {
        check(&given, asked, Refusal::Axles(why));
    }
    check(
        &self::given([]),
        axles(4000.0, 6000.0, 2500.0),
        Refusal::NoMachine,
    );
    check(&self::given([]), tooth_at(53.0), Refusal::NoMachine);
}

fn of(what: Figure, got: f64, min: f64, max: f64) -> OutOfRange<Figure> {
    OutOfRange {
        what,
        got,
        min,
        max,
    }
}

#[test]
fn a_section_is_planned_under_its_name_without_the_blanks_around_it() {
    check(&working(), plan(asked(" Alder Loop ", 4.0)), planned());
}

#[test]
fn a_section_with_a_figure_that_cannot_be_is_refused_by_that_figure() {
    let refused = |asked: SectionAsked| match State::fold(&working()).decide(plan(asked)) {
        Err(Refusal::SectionOutOfRange(range)) => range.what,
        other => panic!("{other:?}"),
    };
    let road = || asked("Alder Loop", 4.0);
    for kilometres in [-1.0, 0.0, f64::NAN] {
        assert_eq!(
            refused(asked("Alder Loop", kilometres)),
            SectionFigure::Length
        );
    }
    for kilometres_per_hour in [-8.0, 0.0, 800.0] {
        let speed = SectionAsked {
            kilometres_per_hour,
            ..road()
        };
        assert_eq!(refused(speed), SectionFigure::Speed);
    }
    let narrow = SectionAsked {
        width_mm: Some(6.0),
        ..road()
    };
    assert_eq!(refused(narrow), SectionFigure::Width);
}

#[test]
fn five_miles_are_decided_as_they_will_be_read_tomorrow() {
    let miles = SectionAsked {
        kilometres: 5.0 * 1.609_344,
        kilometres_per_hour: 2.3 * 1.609_344,
        ..asked("Alder Loop", 0.0)
    };
    let answer = State::fold(&working()).decide(plan(miles)).unwrap();
    let Event::SectionPlanned { section, .. } = &answer[0] else {
        panic!("{answer:?}")
    };
    let millimetres = section.road.length().in_kilometres() * 1e6;
    assert!((millimetres - 8_046_720.0).abs() < 1e-6);
    let speed = section.road.speed().in_kilometres_per_hour() * 1e6;
    assert!((speed - 3_701_491.0).abs() < 1e-6);
}

#[test]
fn a_section_left_out_or_never_planned_can_be_neither_ticked_nor_changed() {
    let left_out = Event::SectionLeftOut { section: section() };
    let gone = given([described(), started(), planned(), left_out]);
    for given in [gone, working()] {
        for when in [
            Command::LeaveOutSection { section: section() },
            Command::TickSection {
                section: section(),
                done: true,
            },
            Command::ChangeSection {
                section: section(),
                to: asked("Alder Loop", 4.0),
            },
        ] {
            check(&given, when, Refusal::NoSection);
        }
    }
}

#[test]
fn a_section_is_done_in_a_shift_and_so_ticked_only_while_one_runs() {
    let tick = Command::TickSection {
        section: id("entry-2"),
        done: true,
    };
    check(&given([described(), planned()]), tick, Refusal::NoShift);
}

fn who(shift: &str, name: &str) -> Command {
    Command::SayWho {
        shift: id(shift),
        name: name.to_owned(),
    }
}

fn prices(tooth: f64, litre: f64, an_oiling: f64) -> Command {
    Command::SetPrices(PricesAsked {
        money: " crowns ".to_owned(),
        tooth,
        litre,
        an_oiling,
    })
}

fn season(name: &str, minutes: u32, visits: u16, weeks: u16) -> SeasonPlan {
    SeasonPlan {
        first_day: 20_617,
        weeks,
        hours_a_week: 38,
        roads: vec![SeasonRoad {
            name: name.to_owned(),
            minutes,
            visits,
        }],
    }
}

fn plan_season(plan: SeasonPlan) -> Command {
    Command::PlanSeason {
        machine: id("cab"),
        plan,
    }
}

/// What the form of the books and that of the season refuse.
fn refused_in_the_book() -> Vec<(Journal, Command, Refusal)> {
    let visit = |got| Refusal::VisitOutOfRange { got };
    let visits = |got| Refusal::VisitsOutOfRange { got };
    let price = |what, got, max| {
        Refusal::PriceOutOfRange(OutOfRange {
            what,
            got,
            min: 0.0,
            max,
        })
    };
    let mut refused = vec![
        (working(), who("elsewhere", "R. Fir"), Refusal::NoSuchShift),
        (working(), who(shift().as_str(), "  "), Refusal::WhoEmpty),
        (
            given([]),
            prices(-1.0, 1.4, 0.75),
            price(Figure::Money, -1.0, 1e9),
        ),
        (
            given([]),
            prices(1.0, 1.4, -0.5),
            price(Figure::Oil, -0.5, 1e6),
        ),
    ];
    let seasons = [
        (season("A", 0, 14, 12), visit(0)),
        (season("A", 60_001, 14, 12), visit(60_001)),
        (season("A", 200, 0, 12), visits(0)),
        (season("A", 200, 1000, 12), visits(1000)),
        (season("A", 200, 14, 0), Refusal::SeasonOutOfRange),
        (season("A", 200, 14, 54), Refusal::SeasonOutOfRange),
    ];
    refused.extend(seasons.map(|(plan, why)| (working(), plan_season(plan), why)));
    refused
}

#[test]
fn who_worked_a_shift_is_kept_without_the_blanks_around_the_name() {
    let named = Event::WorkerNamed {
        shift: shift(),
        name: "R. Fir".to_owned(),
    };
    check(&working(), who(shift().as_str(), "  R. Fir "), named);
    let long = "x".repeat(LONGEST_NAME + 1);
    let too_long = Refusal::NameTooLong {
        got: LONGEST_NAME + 1,
    };
    check(&working(), who(shift().as_str(), &long), too_long);
}

#[test]
fn prices_are_decided_to_the_thousandth_as_they_will_be_read_tomorrow() {
    let kept = Event::PricesSet(PriceList {
        money: "crowns".to_owned(),
        tooth: Money::amount(8.25).unwrap(),
        litre: Money::amount(1.4).unwrap(),
        an_oiling: Litres::new(0.75).unwrap(),
    });
    check(&given([]), prices(8.25, 1.399_6, 0.75), kept);
}

#[test]
fn a_season_is_kept_for_a_machine_that_is_known_and_its_roads_by_their_names() {
    let kept = Event::SeasonPlanned {
        machine: id("cab"),
        plan: season("Alder Loop", 200, 14, 12),
    };
    let ask = || plan_season(season(" Alder Loop ", 200, 14, 12));
    check(&working(), ask(), kept);
    check(&given([]), ask(), Refusal::NoMachine);
    let nameless = plan_season(season(" ", 200, 14, 12));
    check(&working(), nameless, Refusal::SectionNameEmpty);
}
