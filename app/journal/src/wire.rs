//! The bytes: how an entry is written down and read back. The only place that knows them.
//!
//! One entry is one line of JSON: a list, for a record is read by counting and needs no names. Numbers are whole:
//! micrometres, grams, tenths of a degree, minutes, milliseconds, so that nothing is rounded on the way. What is read
//! passes the same constructors as what is typed. A record that cannot be read is an error to be kept, never a default.
//!
//! Versions 1 and 2 wrote objects, whose fields have the names that stand here beside each kind; they are put in order
//! and read as a list is.
//!
//! Adding a kind of event, a field or a word raises [`VERSION`] of the entries that use it, for an older app takes a
//! name that it does not know for damage; a saved journal of each version stands in `tests/journals`.

use evenrow_rules::angle::Angle;
use evenrow_rules::checklist::{Item, List};
use evenrow_rules::cost::{Litres, Money};
use evenrow_rules::day::Section;
use evenrow_rules::load::Axles;
use evenrow_rules::machine::Machine;
use evenrow_rules::quantity::{Instant, Length, Mass, Span, Temperature};
use evenrow_rules::setup::{ToothKind, Verdict};
use evenrow_rules::tilt::plate_to_tooth;
use evenrow_rules::wear::Tips;
use evenrow_rules::work::{Conditions, End, Moisture, Stones, Work};

use crate::event::{
    Entry, Event, Finding, Id, NewSet, PriceList, RoadSection, SeasonPlan, SeasonRoad, SheetTaken,
    ShiftPlan, TimeOfDay, ToothState, UsualShift,
};
use places::{Line, Member, Places, Wire, in_order};
use tree::{Named, Tree};

pub mod backup; // the first line of a backup, and records that do not fit on a line
mod places; // what stands in the places of a list, written and read
mod tree; // a line of JSON, read as what a record may hold

/// The version that this app writes, and the highest that it reads.
pub const VERSION: u32 = 3;

/// The first version whose records are lists.
const LISTED: u64 = 3;

/// Why a record could not be read.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unreadable {
    /// Not an entry, or one with something impossible in it.
    Damaged,
    /// Written by a newer version of the app.
    Newer,
}

/// One entry as a line of JSON, without a line break.
pub fn write(entry: &Entry) -> String {
    let mut line = Line::default();
    line.open();
    VERSION.write(&mut line);
    entry.id.write(&mut line);
    entry.count.write(&mut line);
    entry.at.write(&mut line);
    entry.offset_minutes.write(&mut line);
    entry.device.write(&mut line);
    write_event(&entry.event, &mut line);
    line.close();
    line.finish()
}

/// Reads one record.
pub fn read(record: &str) -> Result<Entry, Unreadable> {
    let read = match tree::read(record) {
        Some(Tree::List(list)) => entry(&mut Places::of(list)),
        Some(Tree::Fields(fields)) => old_entry(fields),
        Some(
            Tree::Nothing
            | Tree::Truth(_)
            | Tree::Count(_)
            | Tree::Below(_)
            | Tree::Fraction
            | Tree::Text(_),
        )
        | None => None,
    };
    read.unwrap_or(Err(Unreadable::Damaged))
}

/// A list as an entry; none if it is damaged. One damaged digit must not make an app take its own record for that of a
/// newer one and stop writing, so it is called newer only if all that every version begins with stands in it.
fn entry(places: &mut Places) -> Option<Result<Entry, Unreadable>> {
    let version = u64::read(places)?;
    let id = Id::read(places)?;
    let count = u64::read(places)?;
    let at = Instant::read(places)?;
    let offset_minutes = i16::read(places)?;
    let device = Id::read(places)?;
    let kind = String::read(places)?;
    if u64::from(VERSION) < version {
        return Some(Err(Unreadable::Newer));
    }
    let forms = if places.are_named() {
        1..LISTED
    } else {
        LISTED..u64::MAX
    };
    if !forms.contains(&version) {
        return None;
    }
    let event = read_event(&kind, places)?;
    places.end()?;
    Some(Ok(Entry {
        id,
        count,
        at,
        offset_minutes,
        device,
        event,
    }))
}

/// The names that versions 1 and 2 gave to the parts of an entry.
const ENTRY: &str = "v,id,count,at_ms,offset_min,device,event";

/// What every version that wrote objects said, whatever else it knew.
const ALWAYS: &str = "v,id,count,at_ms,device";

/// An object as an entry, as versions 1 and 2 wrote it; none if it is damaged.
fn old_entry(fields: Vec<Named>) -> Option<Result<Entry, Unreadable>> {
    let version = fields.iter().find(|(name, _)| name == "v");
    let &Tree::Count(version) = version.map(|(_, value)| value)? else {
        return None;
    };
    if u64::from(VERSION) < version {
        let always = |(name, _): &Named| ALWAYS.split(',').any(|it| it == name);
        let fields = fields.into_iter().filter(always).collect();
        let mut places = Places::of(in_order(fields, ALWAYS)?);
        u64::read(&mut places)?;
        Id::read(&mut places)?;
        u64::read(&mut places)?;
        Instant::read(&mut places)?;
        Id::read(&mut places)?;
        return Some(Err(Unreadable::Newer));
    }
    let mut list = in_order(fields, ENTRY)?;
    let Tree::Fields(mut event) = list.pop()? else {
        return None;
    };
    let (kind, Tree::Fields(fields)) = event.pop()? else {
        return None;
    };
    let fields = in_order(fields, names(&kind)?)?;
    list.push(Tree::Text(kind));
    list.extend(fields);
    // One event, of one kind.
    event
        .is_empty()
        .then_some(list)
        .and_then(|list| entry(&mut Places::named(list)))
}

/// The kinds of events: the word, the names that stand on the page of the format for its places, and what they hold, in
/// order. Words and names are part of the format: they may be added to, never changed, whatever the event comes to be
/// called.
macro_rules! kinds {
    ($($kind:ident = $word:literal $names:literal $(($all:ident))? $({ $($field:ident),+ })?;)+) => {
        /// The names of the places of a kind.
        fn names(kind: &str) -> Option<&'static str> {
            [$(($word, $names)),+]
                .into_iter()
                .find_map(|(word, names)| (word == kind).then_some(names))
        }

        fn write_event(event: &Event, line: &mut Line) {
            match event { $(
                Event::$kind $(($all))? $({ $($field),+ })? => {
                    line.text($word);
                    $($all.write(line);)?
                    $($($field.write(line);)+)?
                }
            )+ }
        }

        fn read_event(kind: &str, places: &mut Places) -> Option<Event> {
            $(if kind == $word {
                $(let $all = Wire::read(places)?;)?
                $($(let $field = Wire::read(places)?;)+)?
                return Some(Event::$kind $(($all))? $({ $($field),+ })?);
            })+
            None
        }
    };
}

kinds! {
    MachineDescribed = "machine_described" "name,moldboard_um,plates_um,pitch_um" { name, machine };
    UsualShiftSet = "usual_shift_set" "start_min,end_min,rest_min" (usual);
    ShiftStarted = "shift_started" "start_ms,end_ms,breaks_ms" (plan);
    SetupUsed = "setup_used" "shift,work,known,sheet" { shift, work, known, sheet };
    Marked = "marked" "shift,list,item,done" { shift, list, item, done };
    Oiled = "oiled" "shift" { shift };
    Looked = "looked" "shift,stiff,stuck,broken" { shift, finding };
    BreakStarted = "break_started" "shift" { shift };
    BreakEnded = "break_ended" "shift" { shift };
    Noted = "noted" "shift,text" { shift, text };
    MachineAdded = "machine_added" "name,moldboard_um,plates_um,pitch_um" { name, machine };
    MachineChosen = "machine_chosen" "machine" { machine };
    SetMounted = "set_mounted" "machine,kind,new_um,end_um,tip_um,teeth" { machine, new };
    SetStored = "set_stored" "set,done" { set, done };
    SetNoted = "set_noted" "set,text" { set, text };
    SetPutBack = "set_put_back" "set,machine" { set, machine };
    SetBrokenUp = "set_broken_up" "set,spares" { set, spares };
    ToothNoted = "tooth_noted" "set,position,state" { set, position, state };
    RowTurning = "row_turning" "machine" { machine };
    TipsMeasured = "tips_measured" "set,tips_um" { set, tips };
    ToothReplaced = "tooth_replaced" "set,position,kind,tip_um" { set, position, kind, tip };
    StockCounted = "stock_counted" "kind,tip_um,count" { kind, tip, count };
    PlateToToothSet = "plate_to_tooth_set" "machine,decideg" { machine, angle };
    AxlesDescribed = "axles_described" "machine,front_g,wheelbase_um,edge_to_rear_um" { machine, axles };
    PutOff = "put_off" "shift,minutes" { shift, minutes };
    UsualIntervalKept = "usual_interval_kept" "shift" { shift };
    WasBlind = "was_blind" "shift,span_ms" { shift, span };
    ClockJumped = "clock_jumped" "shift,by_ms" { shift, by_ms };
    ClockAnswered = "clock_answered" "shift,jump,moved" { shift, jump, moved };
    SectionPlanned = "section_planned" "machine,section" { machine, section };
    SectionChanged = "section_changed" "section,to" { section, to };
    SectionMoved = "section_moved" "section,before" { section, before };
    SectionLeftOut = "section_left_out" "section" { section };
    SectionTicked = "section_ticked" "shift,section,done" { shift, section, done };
    WorkerNamed = "worker_named" "shift,name" { shift, name };
    PricesSet = "prices_set" "money,tooth_milli,litre_milli,oiling_ml" (prices);
    SeasonPlanned = "season_planned" "machine,first_day,weeks,hours_a_week,roads" { machine, plan };
    ShiftEnded = "shift_ended" "shift" { shift };
    Struck = "struck" "entry" { entry };
}

/// What has a list of its own within that of an entry, and fields that stand in it as they are.
macro_rules! structures {
    ($($known:ident = $names:literal { $($field:ident),+ $(,)? })+) => { $(
        impl Wire for $known {
            fn write(&self, line: &mut Line) {
                line.open();
                $(self.$field.write(line);)+
                line.close();
            }

            fn read(places: &mut Places) -> Option<$known> {
                let mut inside = places.structure($names)?;
                $(let $field = Wire::read(&mut inside)?;)+
                inside.end()?;
                Some($known { $($field),+ })
            }
        }
    )+ };
}

structures! {
    Conditions = "surface_decicelsius,soft,layer_um,skids,bite_um,stones,moisture,path_um,strip_um,cutting_end" {
        surface, soft, layer, skids, bite, stones, moisture, path, strip, cutting_end,
    }
    SheetTaken = "verdict,teeth,plates,toothed_at,tooth_count,cutting_deg,grading_deg,layers,oilings,looks_per_interval" {
        verdict, teeth, plates, toothed_at, tooth_count, cutting_degrees, grading_degrees, layers, oilings, looks_per_interval,
    }
    RoadSection = "name,work,length_mm,width_um,passes,layers,speed_mm_per_h,work_min_per_h" { name, work, road }
}

/// What takes several places that follow each other, and fields that stand in them as they are.
macro_rules! rows {
    ($($known:ident { $($field:ident),+ })+) => { $(
        impl Wire for $known {
            fn write(&self, line: &mut Line) {
                $(self.$field.write(line);)+
            }

            fn read(places: &mut Places) -> Option<$known> {
                $(let $field = Wire::read(places)?;)+
                Some($known { $($field),+ })
            }
        }
    )+ };
}

rows! {
    UsualShift { start, end, rest }
    ShiftPlan { start, end, breaks }
    NewSet { kind, tips, tip, teeth }
    PriceList { money, tooth, litre, an_oiling }
    SeasonPlan { first_day, weeks, hours_a_week, roads }
}

impl Wire for Id {
    fn write(&self, line: &mut Line) {
        line.text(self.as_str());
    }

    fn read(places: &mut Places) -> Option<Id> {
        Id::new(&places.text()?)
    }
}

impl Wire for Instant {
    fn write(&self, line: &mut Line) {
        self.unix_ms().write(line);
    }

    fn read(places: &mut Places) -> Option<Instant> {
        i64::read(places).map(Instant::from_unix_ms)
    }
}

impl Wire for Span {
    fn write(&self, line: &mut Line) {
        (self.start(), self.end()).write(line);
    }

    fn read(places: &mut Places) -> Option<Span> {
        let (start, end) = Wire::read(places)?;
        (start <= end).then(|| Span::new(start, end))
    }
}

impl Wire for TimeOfDay {
    fn write(&self, line: &mut Line) {
        self.minutes().write(line);
    }

    fn read(places: &mut Places) -> Option<TimeOfDay> {
        let minutes = u16::read(places)?;
        // What the constructor would wrap is damage.
        Some(TimeOfDay::from_minutes(minutes)).filter(|it| it.minutes() == minutes)
    }
}

/// In micrometres.
impl Wire for Length {
    fn write(&self, line: &mut Line) {
        self.in_micrometres().write(line);
    }

    fn read(places: &mut Places) -> Option<Length> {
        let um = u32::read(places)?;
        // What the constructor would cut is damage.
        Some(Length::micrometres(um)).filter(|it| it.in_micrometres() == um)
    }
}

/// In tenths of a degree Celsius.
impl Wire for Temperature {
    fn write(&self, line: &mut Line) {
        // -70 to 90 degrees are at most 900 tenths.
        ((self.in_celsius() * 10.0).round() as i16).write(line);
    }

    fn read(places: &mut Places) -> Option<Temperature> {
        Temperature::celsius(f64::from(i16::read(places)?) / 10.0).ok()
    }
}

/// The angle from the plate to the tooth's axis, which is the only one that is recorded, in tenths of a degree.
impl Wire for Angle {
    fn write(&self, line: &mut Line) {
        decidegrees(*self).write(line);
    }

    fn read(places: &mut Places) -> Option<Angle> {
        // Within its range, as if it had been measured.
        plate_to_tooth(Angle::whole_degrees(0), angle(i16::read(places)?)?).ok()
    }
}

fn angle(tenths: i16) -> Option<Angle> {
    Angle::degrees(f64::from(tenths) / 10.0).ok()
}

/// At most a whole turn either way, which is 3600 tenths.
fn decidegrees(angle: Angle) -> i16 {
    (angle.in_degrees() * 10.0).round() as i16
}

/// In grams.
impl Wire for Mass {
    fn write(&self, line: &mut Line) {
        grams(*self).write(line);
    }

    fn read(places: &mut Places) -> Option<Mass> {
        mass(u32::read(places)?)
    }
}

fn mass(grams: u32) -> Option<Mass> {
    Mass::kilograms(f64::from(grams) / 1000.0).ok()
}

/// At most 200 tonnes, which are 200,000,000 grams.
fn grams(mass: Mass) -> u32 {
    (mass.in_kilograms() * 1000.0).round() as u32
}

/// Thousandths in one.
const MILLI: f64 = 1000.0;

/// In thousandths of the operator's money.
impl Wire for Money {
    fn write(&self, line: &mut Line) {
        // At most 10⁹, of which thousandths are far within the count.
        ((self.in_own_money() * MILLI).round() as u64).write(line);
    }

    fn read(places: &mut Places) -> Option<Money> {
        Money::amount(u64::read(places)? as f64 / MILLI).ok()
    }
}

/// In millilitres.
impl Wire for Litres {
    fn write(&self, line: &mut Line) {
        ((self.in_litres() * MILLI).round() as u32).write(line);
    }

    fn read(places: &mut Places) -> Option<Litres> {
        Litres::new(f64::from(u32::read(places)?) / MILLI).ok()
    }
}

/// The moldboard, the two lengths of plates in a list, the pitch.
impl Wire for Machine {
    fn write(&self, line: &mut Line) {
        self.moldboard().write(line);
        self.plates().write(line);
        self.pitch().write(line);
    }

    fn read(places: &mut Places) -> Option<Machine> {
        let moldboard = Wire::read(places)?;
        let short_and_long = Wire::read(places)?;
        Machine::new(moldboard, short_and_long, Wire::read(places)?).ok()
    }
}

/// The front axle's load, the wheelbase, from the edge to the rear axles.
impl Wire for Axles {
    fn write(&self, line: &mut Line) {
        self.front_axle().write(line);
        self.wheelbase().write(line);
        self.edge_to_rear().write(line);
    }

    fn read(places: &mut Places) -> Option<Axles> {
        let front_axle = Wire::read(places)?;
        let wheelbase = Wire::read(places)?;
        Axles::new(front_axle, wheelbase, Wire::read(places)?).ok()
    }
}

/// The length of a tip when new and when done.
impl Wire for Tips {
    fn write(&self, line: &mut Line) {
        self.when_new().write(line);
        self.when_done().write(line);
    }

    fn read(places: &mut Places) -> Option<Tips> {
        let new = Wire::read(places)?;
        Tips::new(new, Wire::read(places)?).ok()
    }
}

/// How many turn hard, do not turn, are broken or gone; all turn where nought does not.
impl Wire for Finding {
    fn write(&self, line: &mut Line) {
        let (stiff, stuck, broken) = match *self {
            Finding::AllTurning => (0, 0, 0),
            Finding::SomeNot {
                stiff,
                stuck,
                broken,
            } => (stiff, stuck, broken),
        };
        stiff.write(line);
        stuck.write(line);
        broken.write(line);
    }

    fn read(places: &mut Places) -> Option<Finding> {
        let stiff = u16::read(places)?;
        let stuck = u16::read(places)?;
        let broken = u16::read(places)?;
        Some(match (stiff, stuck, broken) {
            (0, 0, 0) => Finding::AllTurning,
            (stiff, stuck, broken) => Finding::SomeNot {
                stiff,
                stuck,
                broken,
            },
        })
    }
}

/// Its length in millimetres, its width in micrometres, passes, layers, its speed in millimetres an hour, minutes of work
/// in an hour: so thousandths of a mile and of a mile an hour are kept as typed.
impl Wire for Section {
    fn write(&self, line: &mut Line) {
        // 500 km and 100 km/h are far within the count.
        let whole = |kilometres: f64| (kilometres * MM_PER_KM).round() as u32;
        whole(self.length().in_kilometres()).write(line);
        self.width().write(line);
        self.passes().write(line);
        self.layers().write(line);
        whole(self.speed().in_kilometres_per_hour()).write(line);
        self.minutes_of_work().write(line);
    }

    fn read(places: &mut Places) -> Option<Section> {
        let length_mm = u32::read(places)?;
        let width_um = Option::<u32>::read(places)?;
        let passes = Wire::read(places)?;
        let layers = Wire::read(places)?;
        let speed_mm_per_h = u32::read(places)?;
        Section::new(
            f64::from(length_mm) / MM_PER_KM,
            width_um.map(|um| f64::from(um) / UM_PER_MM),
            (passes, layers),
            f64::from(speed_mm_per_h) / MM_PER_KM,
            Wire::read(places)?,
        )
        .ok()
    }
}

/// Millimetres in a kilometre.
const MM_PER_KM: f64 = 1_000_000.0;

/// Micrometres in a millimetre.
const UM_PER_MM: f64 = 1000.0;

/// Name, minutes a visit, visits, in a list of their own.
impl Wire for SeasonRoad {
    fn write(&self, line: &mut Line) {
        line.open();
        self.name.write(line);
        self.minutes.write(line);
        self.visits.write(line);
        line.close();
    }

    fn read(places: &mut Places) -> Option<SeasonRoad> {
        let mut inside = places.list()?;
        let name = Wire::read(&mut inside)?;
        let minutes = Wire::read(&mut inside)?;
        let visits = Wire::read(&mut inside)?;
        inside.end()?;
        Some(SeasonRoad {
            name,
            minutes,
            visits,
        })
    }
}

/// What was done of a list: null where nothing was, and never an empty list.
impl Wire for Vec<Item> {
    fn write(&self, line: &mut Line) {
        if self.is_empty() {
            line.nothing();
        } else {
            line.all(self);
        }
    }

    fn read(places: &mut Places) -> Option<Vec<Item>> {
        if places.has_nothing() {
            return Some(Vec::new());
        }
        places.all().filter(|it| !it.is_empty())
    }
}

impl Member for ToothKind {}
impl Member for u8 {}
impl Member for Span {}
impl Member for (u16, Length) {}
impl Member for SeasonRoad {}

/// A value as a record keeps it, so that what is decided now is what is read tomorrow.
fn kept<T: Wire + Clone>(value: &T) -> T {
    let mut line = Line::default();
    line.open();
    value.write(&mut line);
    line.close();
    let line = line.finish();
    // What was valid before rounding is valid after it: every bound is a whole number of what is written.
    let Some(Tree::List(list)) = tree::read(&line) else {
        return value.clone();
    };
    T::read(&mut Places::of(list)).unwrap_or_else(|| value.clone())
}

/// A length as a record keeps it.
pub(crate) fn kept_length(length: Length) -> Length {
    Length::micrometres(length.in_micrometres())
}

/// An angle as a record keeps it.
pub(crate) fn kept_angle(kept: Angle) -> Angle {
    angle(decidegrees(kept)).unwrap_or(kept)
}

/// A mass as a record keeps it.
pub(crate) fn kept_mass(kept: Mass) -> Mass {
    mass(grams(kept)).unwrap_or(kept)
}

/// A section as a record keeps it.
pub(crate) fn kept_section(section: &RoadSection) -> RoadSection {
    kept(section)
}

/// Prices as a record keeps them.
pub(crate) fn kept_prices(prices: &PriceList) -> PriceList {
    kept(prices)
}

/// The conditions as a record keeps them.
pub(crate) fn kept_conditions(known: &Conditions) -> Conditions {
    kept(known)
}

/// A closed enum of the rules as a word in the record. The words are part of the format: they may be added to, never
/// changed, whatever the enum comes to be called.
macro_rules! words {
    ($($known:ident { $($variant:ident = $word:literal),+ $(,)? })+) => { $(
        impl Wire for $known {
            fn write(&self, line: &mut Line) {
                line.text(match self { $($known::$variant => $word),+ });
            }

            fn read(places: &mut Places) -> Option<$known> {
                let word = places.text()?;
                [$(($word, $known::$variant)),+]
                    .into_iter()
                    .find_map(|(known, variant)| (known == word).then_some(variant))
            }
        }
    )+ };
}

words! {
    Work {
        PackedSnow = "packed_snow",
        PackedSnowOnSoft = "packed_snow_on_soft",
        RoadEdge = "road_edge",
        Gravel = "gravel",
        TightStone = "tight_stone",
        StonyGravel = "stony_gravel",
        SoftMilling = "soft_milling",
        StoneBase = "stone_base",
        RuttedPavement = "rutted_pavement",
        Path = "path",
    }
    Stones { Few = "few", Many = "many" }
    Moisture { Dusty = "dusty", Moist = "moist" }
    End { Left = "left", Right = "right" }
    Verdict { Suits = "suits", WithCare = "with_care", DoNot = "do_not" }
    ToothKind {
        NarrowPointed = "narrow_pointed",
        WidePointed = "wide_pointed",
        WideBlunt = "wide_blunt",
    }
    ToothState {
        Turning = "turning",
        Stiff = "stiff",
        Stuck = "stuck",
        Chipped = "chipped",
        Broken = "broken",
        Gone = "gone",
    }
    List { Opening = "opening", Closing = "closing", LayingUp = "laying_up" }
    Item {
        MachineSafe = "machine_safe",
        RowComplete = "row_complete",
        TeethTurn = "teeth_turn",
        PlatesTight = "plates_tight",
        AnglesSet = "angles_set",
        SparesAboard = "spares_aboard",
        OilAboard = "oil_aboard",
        TrafficReady = "traffic_ready",
        BadTeethReplaced = "bad_teeth_replaced",
        SocketsClean = "sockets_clean",
        SocketsOiled = "sockets_oiled",
        SpillsTaken = "spills_taken",
        HandedOver = "handed_over",
        EdgeClean = "edge_clean",
        EdgeOiled = "edge_oiled",
        StoredIndoors = "stored_indoors",
        InOilBath = "in_oil_bath",
    }
}
