//! What a season asks for: hours, teeth and sets to have, and by when to order, from the machine's own record.
//!
//! One rate of wear stands for all roads, found on the last set whose readings tell one, so its uncertainty adds up in full
//! over them: the roads go into the rules as one. What breaks comes on top.
//!
//! Never here: the statistics (the rules), and today's date, which is handed in.

use evenrow_rules::oiling::working_time;
use evenrow_rules::quantity::{Confidence, Distance, Hours, Instant, Length, Span};
use evenrow_rules::season::{OrderBy, Pace, Road, Room, Sets, WearRate, demand, order_by, room};
use evenrow_rules::setup::ToothKind;
use evenrow_rules::spares::{Carry, PRIOR, carry};
use evenrow_rules::wear::{RateFound, Refusal, outlook};

use crate::event::{Id, SeasonPlan};
use crate::row::{SetOfTeeth, Whereabouts};
use crate::state::State;

/// Where the calendar of the phone stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Today {
    /// The moment.
    pub now: Instant,
    /// Today, in days since 1 January 1970 where the phone is.
    pub day: i64,
    /// What the phone's zone is ahead of UTC, in minutes.
    pub offset_minutes: i16,
}

/// What a season asks for.
#[derive(Clone, Debug, PartialEq)]
pub struct Season {
    /// Hours of all visits to each road, in the order of the plan.
    pub roads: Vec<Hours>,
    /// Hours worked with the machine since its first day.
    pub worked: Hours,
    /// Hours still to be worked.
    pub needed: Hours,
    /// Hours that there are until its end.
    pub available: Hours,
    /// Whether that is enough.
    pub room: Room,
    /// The kind of the teeth.
    pub kind: ToothKind,
    /// How fast they wear.
    pub rate: RateFound,
    /// How many teeth a set has.
    pub teeth_a_set: u16,
    /// Sets to have and to order for wear.
    pub sets: Sets,
    /// Sets on hand, in sets and parts of one.
    pub on_hand: f64,
    /// Teeth to have for those that break.
    pub breakage: Carry,
    /// Spares on hand of that kind.
    pub spares: u32,
    /// Teeth to order in all.
    pub teeth_to_order: u32,
    /// By when; none where nothing has to be ordered.
    pub order_by: Option<OrderBy>,
}

/// Why nothing can be said, with what would be enough.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum NoSeason {
    /// No road with a visit.
    NoRoads,
    /// No set was ever on the machine.
    NoSet,
    /// The readings of its sets tell no rate of wear.
    Wear(Refusal),
    /// The rate that they tell cannot be right.
    RateOutOfRange,
}

/// Milliseconds in a day.
const DAY_MS: i64 = 86_400_000;

/// Milliseconds in a minute.
const MINUTE_MS: i64 = 60_000;

/// Days in a week.
const WEEK: f64 = 7.0;

/// Minutes in an hour.
const MINUTES: f64 = 60.0;

impl State {
    /// What a season asks for on a machine, with a delivery that takes so many days.
    pub fn season(
        &self,
        machine: &Id,
        plan: &SeasonPlan,
        delivery_days: u16,
        today: Today,
        sure: Confidence,
    ) -> Result<Season, NoSeason> {
        let roads: Vec<Hours> = plan
            .roads
            .iter()
            .map(|road| f64::from(road.minutes) * f64::from(road.visits) / MINUTES)
            .map(|hours| Hours::new(hours).unwrap_or(Hours::ZERO))
            .collect();
        let all: f64 = roads.iter().map(|it| it.in_hours()).sum();
        if all <= 0.0 {
            return Err(NoSeason::NoRoads);
        }
        let (set, rate) = self.own_rate(machine, sure)?;
        let tip = set.tips.when_new().less(set.tips.when_done());
        let kind = set.kind;
        let wear =
            WearRate::new(rate.mm_per_hour, rate.sd).map_err(|_| NoSeason::RateOutOfRange)?;

        let first_day = i64::from(plan.first_day);
        let worked = self.worked_since(machine, first_day, today);
        let held = |hours: f64| Hours::new(hours.max(0.0)).unwrap_or(Hours::ZERO);
        let needed = held(all - worked.in_hours());
        let from = first_day.max(today.day);
        let end = first_day + i64::from(plan.weeks) * WEEK as i64;
        let days = (end - from).max(0) as f64;
        let available = held(f64::from(plan.hours_a_week) * days / WEEK);

        let ahead = demand(&[Road {
            length: Distance::ZERO,
            visits: 1,
            pace: Pace::PerVisit(needed),
            wear,
        }]);
        let left = self.left_on_hand(machine, kind, today.now);
        let teeth_a_set = set.first_teeth;
        let sets = Length::millimetres(left)
            .ok()
            .and_then(|left| ahead.sets(tip, left, teeth_a_set.into(), sure).ok())
            .ok_or(NoSeason::RateOutOfRange)?;
        let breakage = carry(PRIOR, self.breakage(machine, today.now), needed, sure);
        let stock = self.teeth.stock.iter();
        let spares = stock
            .filter(|((known, _), _)| *known == kind)
            .fold(0_u32, |all, (_, count)| all.saturating_add(*count));
        let for_breakage = breakage.teeth.saturating_sub(spares);
        let order_by = (0 < sets.to_order || 0 < for_breakage).then(|| {
            // What breaks may break on the first day. What is on hand lasts until it is worn at the rate that is not
            // exceeded with that confidence.
            let lasts = if 0 < for_breakage {
                0.0
            } else {
                left / ahead.wear_at(sure) * days
            };
            order_by(from + lasts as i64, delivery_days.into(), today.day)
        });
        Ok(Season {
            room: room(needed, available),
            roads,
            worked,
            needed,
            available,
            kind,
            rate,
            teeth_a_set,
            on_hand: left / tip.in_millimetres(),
            teeth_to_order: sets.teeth_to_order.saturating_add(for_breakage),
            sets,
            breakage,
            spares,
            order_by,
        })
    }

    /// The rate of wear of the last set on a machine whose readings tell one; where none do, why the last one's do not.
    fn own_rate(
        &self,
        machine: &Id,
        sure: Confidence,
    ) -> Result<(&SetOfTeeth, RateFound), NoSeason> {
        let ever = Instant::from_unix_ms(i64::MAX);
        let was_on = |set: &&SetOfTeeth| set.times_on(ever).iter().any(|(on, _)| *on == machine);
        let mut sets: Vec<&SetOfTeeth> = self.teeth.sets.iter().filter(was_on).collect();
        // The mounted one first, then the one mounted last.
        sets.sort_by_key(|set| (set.machine() == Some(machine), set.first_mounted));
        let mut why = NoSeason::NoSet;
        for set in sets.into_iter().rev() {
            match outlook(&self.readings(set), set.tips, sure) {
                Ok(found) => return Ok((set, found.rate)),
                Err(refused) if why == NoSeason::NoSet => why = NoSeason::Wear(refused),
                Err(_) => {}
            }
        }
        Err(why)
    }

    /// What the tips on hand may still lose, all sets of a kind together, in millimetres: the one on the machine and those
    /// in store.
    fn left_on_hand(&self, machine: &Id, kind: ToothKind, now: Instant) -> f64 {
        let on_hand = self.teeth.sets.iter().filter(|set| {
            let here = set.machine() == Some(machine) || set.whereabouts == Whereabouts::Stored;
            here && set.kind == kind
        });
        let left = on_hand.map(|set| {
            let tips = self.tips_now(set, now);
            let end = set.tips.when_done();
            let left = tips.values().map(|it| it.tip.less(end).in_millimetres());
            let full = f64::from(set.first_teeth.max(1));
            left.sum::<f64>() / full
        });
        left.sum()
    }

    fn worked_since(&self, machine: &Id, first_day: i64, today: Today) -> Hours {
        let offset = i64::from(today.offset_minutes) * MINUTE_MS;
        let began = first_day.saturating_mul(DAY_MS).saturating_sub(offset);
        let began = Instant::from_unix_ms(began);
        let shifts = self.shifts.iter().filter(|shift| shift.is_with(machine));
        let worked = shifts.map(|shift| {
            let end = shift.ended.unwrap_or(today.now);
            let start = shift.plan.start.max(began);
            let span = Span::new(start, end.max(start));
            Hours::of(working_time(span, &shift.facts(today.now).breaks())).in_hours()
        });
        Hours::new(worked.sum()).unwrap_or(Hours::ZERO)
    }
}
