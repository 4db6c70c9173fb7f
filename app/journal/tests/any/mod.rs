//! Any entry that the types allow, the absurd ones too: what the properties of the other files are tried on.
//!
//! Ids are few, so that entries meet: they name each other's shifts, strike each other and collide. Never here: the
//! order in which the app would have written them, or anything that a phone would refuse to write.

use evenrow_journal::event::{
    Finding, NewSet, PriceList, RoadSection, SeasonPlan, SeasonRoad, SheetTaken, ShiftPlan,
    TimeOfDay, ToothState, UsualShift,
};
use evenrow_journal::{Entry, Event, Id};
use evenrow_rules::angle::Angle;
use evenrow_rules::checklist::{Item, List};
use evenrow_rules::cost::{Litres, Money};
use evenrow_rules::day::Section;
use evenrow_rules::load::Axles;
use evenrow_rules::machine::Machine;
use evenrow_rules::quantity::{Instant, Length, Mass, Span, Temperature};
use evenrow_rules::setup::{ToothKind, Verdict};
use evenrow_rules::wear::Tips;
use evenrow_rules::work::{Conditions, End, Moisture, Stones, Work};
use proptest::collection::vec;
use proptest::option;
use proptest::prelude::*;
use proptest::sample::select;

/// Any entry.
pub(crate) fn entry() -> impl Strategy<Value = Entry> {
    (id(), count(), moment(), any::<i16>(), id(), event()).prop_map(
        |(id, count, at, offset_minutes, device, event)| Entry {
            id,
            count,
            at,
            offset_minutes,
            device,
            event,
        },
    )
}

/// A moment of one working day, the ends of the count, or anything between.
pub(crate) fn moment() -> impl Strategy<Value = Instant> {
    let working_day = (-600_i64..3000).prop_map(|minutes| 1_781_517_600_000 + minutes * 60_000);
    prop_oneof![
        6 => working_day,
        1 => select(vec![i64::MIN, i64::MIN + 1, -1, 0, 1, i64::MAX - 1, i64::MAX]),
        1 => any::<i64>(),
    ]
    .prop_map(Instant::from_unix_ms)
}

fn id() -> impl Strategy<Value = Id> {
    prop_oneof![8 => "[a-h]", 1 => "[0-9A-Za-z-]{1,64}"].prop_filter_map("an id", |it| Id::new(&it))
}

fn count() -> impl Strategy<Value = u64> {
    prop_oneof![6 => 0_u64..20, 1 => Just(u64::MAX), 1 => any::<u64>()]
}

/// Letters of any script, quotes, and what a keyboard cannot type.
fn text() -> impl Strategy<Value = String> {
    vec(any::<char>(), 0..24).prop_map(String::from_iter)
}

fn event() -> impl Strategy<Value = Event> {
    prop_oneof![
        1 => (text(), machine()).prop_map(|(name, machine)| Event::MachineDescribed { name, machine }),
        1 => usual_shift().prop_map(Event::UsualShiftSet),
        3 => plan().prop_map(Event::ShiftStarted),
        3 => (id(), work(), conditions(), sheet()).prop_map(|(shift, work, known, sheet)| {
            Event::SetupUsed { shift, work, known, sheet }
        }),
        1 => (id(), list(), item(), any::<bool>()).prop_map(|(shift, list, item, done)| {
            Event::Marked { shift, list, item, done }
        }),
        2 => id().prop_map(|shift| Event::Oiled { shift }),
        1 => (id(), finding()).prop_map(|(shift, finding)| Event::Looked { shift, finding }),
        2 => id().prop_map(|shift| Event::BreakStarted { shift }),
        2 => id().prop_map(|shift| Event::BreakEnded { shift }),
        1 => (id(), text()).prop_map(|(shift, text)| Event::Noted { shift, text }),
        1 => (text(), machine()).prop_map(|(name, machine)| Event::MachineAdded { name, machine }),
        1 => id().prop_map(|machine| Event::MachineChosen { machine }),
        3 => (id(), new_set()).prop_map(|(machine, new)| Event::SetMounted { machine, new }),
        1 => (id(), vec(item(), 0..4)).prop_map(|(set, done)| Event::SetStored { set, done }),
        1 => (id(), text()).prop_map(|(set, text)| Event::SetNoted { set, text }),
        1 => (id(), id()).prop_map(|(set, machine)| Event::SetPutBack { set, machine }),
        1 => (id(), any::<bool>()).prop_map(|(set, spares)| Event::SetBrokenUp { set, spares }),
        3 => (id(), position(), tooth_state()).prop_map(|(set, position, state)| {
            Event::ToothNoted { set, position, state }
        }),
        1 => id().prop_map(|machine| Event::RowTurning { machine }),
        2 => (id(), vec((position(), tip()), 0..5)).prop_map(|(set, tips)| Event::TipsMeasured { set, tips }),
        3 => (id(), position(), tooth_kind(), tip()).prop_map(|(set, position, kind, tip)| {
            Event::ToothReplaced { set, position, kind, tip }
        }),
        2 => (tooth_kind(), tip(), 0_u32..9).prop_map(|(kind, tip, count)| {
            Event::StockCounted { kind, tip, count }
        }),
        1 => (id(), -450_i16..=450).prop_map(|(machine, tenths)| Event::PlateToToothSet {
            machine,
            angle: Angle::degrees(f64::from(tenths) / 10.0).unwrap(),
        }),
        1 => (id(), axles()).prop_map(|(machine, axles)| Event::AxlesDescribed { machine, axles }),
        3 => (id(), section()).prop_map(|(machine, section)| Event::SectionPlanned { machine, section }),
        1 => (id(), section()).prop_map(|(section, to)| Event::SectionChanged { section, to }),
        2 => (id(), id()).prop_map(|(section, before)| Event::SectionMoved { section, before }),
        1 => id().prop_map(|section| Event::SectionLeftOut { section }),
        2 => (id(), id(), any::<bool>()).prop_map(|(shift, section, done)| Event::SectionTicked {
            shift,
            section,
            done,
        }),
        1 => (id(), text()).prop_map(|(shift, name)| Event::WorkerNamed { shift, name }),
        1 => prices().prop_map(Event::PricesSet),
        1 => (id(), season()).prop_map(|(machine, plan)| Event::SeasonPlanned { machine, plan }),
        1 => (id(), any::<u8>()).prop_map(|(shift, minutes)| Event::PutOff { shift, minutes }),
        1 => id().prop_map(|shift| Event::UsualIntervalKept { shift }),
        1 => (id(), moment(), moment()).prop_map(|(shift, one, other)| Event::WasBlind {
            shift,
            span: Span::new(one.min(other), one.max(other)),
        }),
        1 => (id(), any::<i64>()).prop_map(|(shift, by_ms)| Event::ClockJumped { shift, by_ms }),
        1 => (id(), id(), any::<bool>()).prop_map(|(shift, jump, moved)| Event::ClockAnswered {
            shift,
            jump,
            moved,
        }),
        1 => id().prop_map(|shift| Event::ShiftEnded { shift }),
        2 => id().prop_map(|entry| Event::Struck { entry }),
    ]
}

fn machine() -> impl Strategy<Value = Machine> {
    let plate = || (150_000_u32..=2_500_000).prop_map(Length::micrometres);
    (
        (1_200_000_u32..=8_000_000).prop_map(Length::micrometres),
        (plate(), plate()),
        (20_000_u32..=150_000).prop_map(Length::micrometres),
    )
        .prop_filter_map("a machine", |(moldboard, plates, pitch)| {
            Machine::new(moldboard, plates, pitch).ok()
        })
}

fn axles() -> impl Strategy<Value = Axles> {
    (
        500_000_u32..=30_000_000,
        1_000_000_u32..=15_000_000,
        300_000_u32..=15_000_000,
    )
        .prop_filter_map("axles", |(grams, wheelbase, edge)| {
            let um = Length::micrometres;
            let mass = Mass::kilograms(f64::from(grams) / 1000.0).ok()?;
            Axles::new(mass, um(wheelbase), um(edge)).ok()
        })
}

/// Few positions and few lengths, so that teeth and spares meet.
fn position() -> impl Strategy<Value = u16> {
    prop_oneof![6 => 0_u16..6, 1 => any::<u16>()]
}

fn tip() -> impl Strategy<Value = Length> {
    prop_oneof![6 => select(vec![12_000_u32, 12_500, 20_000]), 1 => 0_u32..=1_000_000_000]
        .prop_map(Length::micrometres)
}

fn tooth_kind() -> impl Strategy<Value = ToothKind> {
    select(ToothKind::ALL.to_vec())
}

fn tooth_state() -> impl Strategy<Value = ToothState> {
    select(ToothState::ALL.to_vec())
}

fn new_set() -> impl Strategy<Value = NewSet> {
    let tips = (1_000_u32..=200_000, 0_u32..=199_500).prop_filter_map("tips", |(new, end)| {
        Tips::new(Length::micrometres(new), Length::micrometres(end)).ok()
    });
    (tooth_kind(), tips, tip(), 0_u16..8).prop_map(|(kind, tips, tip, teeth)| NewSet {
        kind,
        tips,
        tip,
        teeth,
    })
}

/// In whole millimetres, as records keep it.
fn section() -> impl Strategy<Value = RoadSection> {
    let km = |mm: u32| f64::from(mm) / 1_000_000.0;
    (
        text(),
        work(),
        10_000_u32..=500_000_000,
        option::of((300_000_u32..=50_000_000).prop_map(|um| f64::from(um) / 1000.0)),
        (1_u16..=99, 1_u16..=99),
        100_000_u32..=100_000_000,
        5_u8..=60,
    )
        .prop_filter_map(
            "a section",
            move |(name, work, length, width, counts, speed, minutes)| {
                let road = Section::new(km(length), width, counts, km(speed), minutes).ok()?;
                Some(RoadSection { name, work, road })
            },
        )
}

/// In whole thousandths, as records keep it.
fn prices() -> impl Strategy<Value = PriceList> {
    let money =
        || (0_u64..=1_000_000_000_000).prop_map(|it| Money::amount(it as f64 / 1000.0).unwrap());
    let oil = (0_u32..=1_000_000_000).prop_map(|ml| Litres::new(f64::from(ml) / 1000.0).unwrap());
    (text(), money(), money(), oil).prop_map(|(money, tooth, litre, an_oiling)| PriceList {
        money,
        tooth,
        litre,
        an_oiling,
    })
}

fn season() -> impl Strategy<Value = SeasonPlan> {
    let road =
        (text(), any::<u32>(), any::<u16>()).prop_map(|(name, minutes, visits)| SeasonRoad {
            name,
            minutes,
            visits,
        });
    let day = prop_oneof![3 => 20_600_i32..20_700, 1 => any::<i32>()];
    (day, any::<u16>(), any::<u16>(), vec(road, 0..4)).prop_map(
        |(first_day, weeks, hours_a_week, roads)| SeasonPlan {
            first_day,
            weeks,
            hours_a_week,
            roads,
        },
    )
}

fn usual_shift() -> impl Strategy<Value = UsualShift> {
    let time = || (0_u16..1440).prop_map(TimeOfDay::from_minutes);
    (time(), time(), option::of((time(), any::<u16>()))).prop_map(|(start, end, rest)| UsualShift {
        start,
        end,
        rest,
    })
}

fn plan() -> impl Strategy<Value = ShiftPlan> {
    let rest =
        (moment(), moment()).prop_map(|(one, other)| Span::new(one.min(other), one.max(other)));
    (moment(), moment(), vec(rest, 0..4)).prop_map(|(start, end, breaks)| ShiftPlan {
        start,
        end,
        breaks,
    })
}

fn work() -> impl Strategy<Value = Work> {
    select(Work::ALL.to_vec())
}

fn conditions() -> impl Strategy<Value = Conditions> {
    let length = || option::of((0_u32..=1_000_000_000).prop_map(Length::micrometres));
    let surface = (-700_i16..=900).prop_filter_map("a temperature", |tenths| {
        Temperature::celsius(f64::from(tenths) / 10.0).ok()
    });
    (
        option::of(surface),
        option::of(any::<bool>()),
        length(),
        option::of(any::<bool>()),
        length(),
        option::of(select(vec![Stones::Few, Stones::Many])),
        option::of(select(vec![Moisture::Dusty, Moisture::Moist])),
        length(),
        length(),
        option::of(select(vec![End::Left, End::Right])),
    )
        .prop_map(
            |(surface, soft, layer, skids, bite, stones, moisture, path, strip, cutting_end)| {
                Conditions {
                    surface,
                    soft,
                    layer,
                    skids,
                    bite,
                    stones,
                    moisture,
                    path,
                    strip,
                    cutting_end,
                }
            },
        )
}

fn sheet() -> impl Strategy<Value = SheetTaken> {
    (
        select(vec![Verdict::Suits, Verdict::WithCare, Verdict::DoNot]),
        vec(tooth_kind(), 0..4),
        any::<u8>(),
        vec(any::<u8>(), 0..5),
        any::<u32>(),
        (any::<u8>(), any::<u8>()),
        any::<u16>(),
        prop_oneof![3 => 0_u8..5, 1 => any::<u8>()],
        any::<u8>(),
    )
        .prop_map(
            |(
                verdict,
                teeth,
                plates,
                toothed_at,
                tooth_count,
                (cutting_degrees, grading_degrees),
                layers,
                oilings,
                looks_per_interval,
            )| SheetTaken {
                verdict,
                teeth,
                plates,
                toothed_at,
                tooth_count,
                cutting_degrees,
                grading_degrees,
                layers,
                oilings,
                looks_per_interval,
            },
        )
}

fn list() -> impl Strategy<Value = List> {
    select(vec![List::Opening, List::Closing, List::LayingUp])
}

fn item() -> impl Strategy<Value = Item> {
    select(
        [List::Opening, List::Closing, List::LayingUp]
            .map(List::items)
            .concat(),
    )
}

/// Some teeth that are none cannot be told from all turning, and no phone writes it.
fn finding() -> impl Strategy<Value = Finding> {
    any::<(u16, u16, u16)>().prop_map(|(stiff, stuck, broken)| match (stiff, stuck, broken) {
        (0, 0, 0) => Finding::AllTurning,
        (stiff, stuck, broken) => Finding::SomeNot {
            stiff,
            stuck,
            broken,
        },
    })
}
