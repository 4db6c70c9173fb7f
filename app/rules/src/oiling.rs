//! When the sockets fall due for oil in a shift, and what has become of each due time.
//!
//! The house rule: of `n` oilings a shift the first comes before work starts, and the others split the working time,
//! breaks taken out, into `n` equal parts. A break within a quarter interval of a due time attracts it, so that the
//! machine stops once: the first break that begins in the last quarter before it, else the next planned one in the
//! quarter after it. Late after ten minutes; missed when the next falls due; lateness moves no later due time.
//!
//! Teeth that are found stiff or stuck shorten the next interval to two thirds, though never below forty-five minutes of
//! work; two looks in a row that find them all turning bring the usual interval back. An interval keeps the length that
//! it began with: what a look finds decides about the next one. The operator may refuse: from then on the usual interval
//! counts again, until another look finds such teeth. Every shift begins with the usual interval, because the teeth are
//! seen to before it.
//!
//! Every minute of work uses up the share of an interval that the work in force has. With one work all day that gives
//! equal parts exactly; with a change of work it passes over smoothly. A due time is worked out from what was known when
//! it came, and from nothing later: so none that is past ever moves, and none turns up behind the present.
//!
//! Never here: the present time (it is handed in) and the answer to what the operator then did (`journal`).

use alloc::vec::Vec;
use core::time::Duration;

use crate::quantity::{Instant, Span};

/// An oiling counts as late after this, and as early before it.
///
/// Basis: house default.
pub const LATE_AFTER: Duration = Duration::from_mins(10);

/// A break taken this shortly before a planned one is taken to be that break.
///
/// Basis: house default.
pub const SAME_BREAK_WITHIN: Duration = Duration::from_hours(1);

/// How many intervals' share makes a break attract a due time, or an early oiling count for the next due time: a
/// quarter.
///
/// Units: to an interval.
/// Basis: house default.
pub const ATTRACTION: u32 = 4;

/// The most due times a shift has. A shift left open, or begun by a clock that stood wrong, stops here.
///
/// Units: due times.
/// Basis: house default, only there to stop nonsense: three oilings a day for most of a year.
pub const MOST_DUE_TIMES: usize = 1_000;

/// What an interval shrinks to after a look that found stiff or stuck teeth: two thirds, as numerator and denominator.
///
/// Units: parts, and of how many.
/// Basis: house default.
pub const SHORTENED_TO: (u32, u32) = (2, 3);

/// No interval is shortened below this much work.
///
/// Basis: house default.
pub const SHORTEST_SHORTENED: Duration = Duration::from_mins(45);

/// So many looks in a row that find every tooth turning bring the usual interval back.
///
/// Units: looks.
/// Basis: house default.
pub const LOOKS_THAT_RESTORE: usize = 2;

/// Less work than this is none: every due time is rounded to a millisecond.
///
/// Basis: house default.
const MOMENT: Duration = Duration::from_secs(1);

/// A stretch in which no work is done.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Break {
    /// From when to when.
    pub span: Span,
    /// Whether it was known beforehand. A due time already past is not drawn to a break that nobody foresaw.
    pub planned: bool,
}

/// From when on a work asks for how many oilings per shift.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Stretch {
    /// From when on.
    pub from: Instant,
    /// Oilings per shift.
    pub per_shift: u8,
}

/// A look at the teeth.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Look {
    /// When.
    pub at: Instant,
    /// Whether every tooth turned: none was stiff, none stuck.
    pub all_turned: bool,
}

/// What is known of the shift.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ShiftFacts {
    /// The shift as planned.
    pub planned: Span,
    /// The breaks as planned at its start. They set the length of the interval, once and for all.
    pub planned_breaks: Vec<Span>,
    /// The breaks as taken so far; one that still runs ends now.
    pub taken_breaks: Vec<Span>,
    /// The works in order of time. Empty means once per shift, the least the trade asks.
    pub works: Vec<Stretch>,
    /// The looks at the teeth so far, in any order.
    pub looks: Vec<Look>,
    /// When the operator refused a shortened interval, in any order.
    pub usual_kept: Vec<Instant>,
    /// Until when due times are wanted: the planned end, later while work goes on, or the true end.
    pub until: Instant,
}

/// A time at which the sockets fall due.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Due {
    /// When.
    pub at: Instant,
    /// When it would have been, had no break attracted it.
    pub worked_out: Instant,
}

/// How an oiling stood to its due time.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Timing {
    /// More than [`LATE_AFTER`] before.
    Early(Duration),
    /// Within [`LATE_AFTER`] either side.
    OnTime,
    /// More than [`LATE_AFTER`] after.
    Late(Duration),
}

/// What has become of a due time.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Status {
    /// Oiled.
    Done {
        /// When.
        at: Instant,
        /// How that stood to the due time.
        timing: Timing,
    },
    /// Not yet due.
    Ahead,
    /// Due now, not yet late.
    Due,
    /// Due for longer than [`LATE_AFTER`].
    Late(Duration),
    /// Not done before the next fell due, or before the shift ended.
    Missed,
}

/// One due time with what has become of it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Slot {
    /// The due time.
    pub due: Due,
    /// What has become of it.
    pub status: Status,
}

/// The whole shift's oiling at one moment.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Standing {
    /// Every due time in order.
    pub slots: Vec<Slot>,
    /// Oilings that belong to no due time.
    pub extra: Vec<Instant>,
}

impl Standing {
    /// The due time that wants attention next: the one that is due or late, else the first ahead.
    ///
    /// Valid: always; none once all are done or missed.
    /// Basis: house default.
    ///
    /// ```
    /// use evenrow_rules::oiling::{Due, reconcile};
    /// use evenrow_rules::quantity::Instant;
    /// let at = |minutes: i64| Instant::from_unix_ms(minutes * 60_000);
    /// let due = |minutes| Due { at: at(minutes), worked_out: at(minutes) };
    /// let standing = reconcile(&[due(0), due(160)], &[at(5)], at(20), false);
    /// assert_eq!(standing.next().map(|slot| slot.due.at), Some(at(160)));
    /// ```
    pub fn next(&self) -> Option<&Slot> {
        self.slots.iter().find(|slot| match slot.status {
            Status::Ahead | Status::Due | Status::Late(_) => true,
            Status::Done { .. } | Status::Missed => false,
        })
    }

    /// How many due times have been served.
    ///
    /// Units: due times.
    /// Valid: always.
    /// Basis: arithmetic.
    ///
    /// ```
    /// use evenrow_rules::oiling::{Due, reconcile};
    /// use evenrow_rules::quantity::Instant;
    /// let at = |minutes: i64| Instant::from_unix_ms(minutes * 60_000);
    /// let due = |minutes| Due { at: at(minutes), worked_out: at(minutes) };
    /// assert_eq!(reconcile(&[due(0), due(160)], &[at(5)], at(20), false).done(), 1);
    /// ```
    pub fn done(&self) -> usize {
        self.slots
            .iter()
            .filter(|slot| matches!(slot.status, Status::Done { .. }))
            .count()
    }
}

/// The breaks that count: a planned one holds as planned, unless a break taken within an hour before it took its place;
/// one that a taken break begins in ends there. In order, none overlapping another.
///
/// Valid: spans in any order and number.
/// Basis: house default. It never turns past rest into work or past work into rest, so no past due time moves.
///
/// ```
/// use evenrow_rules::oiling::breaks;
/// use evenrow_rules::quantity::{Instant, Span};
/// let span = |from: i64, to: i64| Span::new(Instant::from_unix_ms(from * 60_000), Instant::from_unix_ms(to * 60_000));
/// // Lunch was planned at 11:00 and taken at 10:30: it is one break, not two.
/// let lunch = breaks(&[span(660, 690)], &[span(630, 660)]);
/// assert_eq!(lunch.len(), 1);
/// assert_eq!(lunch[0].span, span(630, 660));
/// ```
pub fn breaks(planned: &[Span], taken: &[Span]) -> Vec<Break> {
    let kept = planned.iter().filter_map(|plan| {
        let replaced = taken
            .iter()
            .any(|span| takes_its_place(span.start(), *plan));
        let end = taken
            .iter()
            .map(|span| span.start())
            .filter(|&start| plan.holds(start))
            .fold(plan.end(), Ord::min);
        (!replaced).then_some(Break {
            span: Span::new(plan.start(), end),
            planned: true,
        })
    });
    let all = kept
        .chain(taken.iter().map(|&span| Break {
            span,
            planned: false,
        }))
        .filter(|it| !it.span.length().is_zero());
    let all = in_order(all, |it| (it.span.start(), it.span.end()));
    let mut apart: Vec<Break> = Vec::with_capacity(all.len());
    for next in all {
        match apart.last_mut() {
            // Touching breaks stay apart: each may attract a due time.
            Some(last) if next.span.start() < last.span.end() => {
                last.span = Span::new(last.span.start(), last.span.end().max(next.span.end()));
            }
            Some(_) | None => apart.push(next),
        }
    }
    apart
}

/// Whether a break taken at a moment takes the place of a planned one: at its start, or within an hour before.
///
/// Valid: always.
/// Basis: house default, [`SAME_BREAK_WITHIN`].
///
/// ```
/// use evenrow_rules::oiling::takes_its_place;
/// use evenrow_rules::quantity::{Instant, Span};
/// let at = |minutes: i64| Instant::from_unix_ms(minutes * 60_000);
/// let lunch = Span::new(at(660), at(690));
/// assert!(takes_its_place(at(610), lunch) && takes_its_place(at(660), lunch));
/// assert!(!takes_its_place(at(599), lunch) && !takes_its_place(at(661), lunch));
/// ```
pub fn takes_its_place(taken: Instant, planned: Span) -> bool {
    taken <= planned.start() && planned.start().since(taken) <= SAME_BREAK_WITHIN
}

/// How much of a span is work, breaks taken out.
///
/// Units: time.
/// Valid: breaks that do not overlap, as [`breaks`] gives them.
/// Basis: arithmetic.
///
/// ```
/// use core::time::Duration;
/// use evenrow_rules::oiling::{breaks, working_time};
/// use evenrow_rules::quantity::{Instant, Span};
/// let span = |from: i64, to: i64| Span::new(Instant::from_unix_ms(from * 60_000), Instant::from_unix_ms(to * 60_000));
/// // Seven to half past three with half an hour of lunch: eight hours of work.
/// let worked = working_time(span(420, 930), &breaks(&[span(660, 690)], &[]));
/// assert_eq!(worked, Duration::from_secs(8 * 3_600));
/// ```
pub fn working_time(span: Span, breaks: &[Break]) -> Duration {
    let rest = breaks
        .iter()
        .map(|it| {
            it.span
                .end()
                .min(span.end())
                .since(it.span.start().max(span.start()))
        })
        .fold(Duration::ZERO, Duration::saturating_add);
    span.length().saturating_sub(rest)
}

/// The moment at which so much work has been done since `from`.
///
/// Units: time.
/// Valid: breaks in order that do not overlap, as [`breaks`] gives them.
/// Basis: arithmetic.
///
/// ```
/// use core::time::Duration;
/// use evenrow_rules::oiling::{after_work, breaks};
/// use evenrow_rules::quantity::{Instant, Span};
/// let at = |minutes: i64| Instant::from_unix_ms(minutes * 60_000);
/// let lunch = breaks(&[Span::new(at(660), at(690))], &[]);
/// // Two hours of work from ten o'clock, with lunch at eleven, end at half past twelve.
/// assert_eq!(after_work(at(600), Duration::from_secs(2 * 3_600), &lunch), at(750));
/// ```
pub fn after_work(from: Instant, work: Duration, breaks: &[Break]) -> Instant {
    let (mut at, mut left) = (from, work);
    for it in breaks {
        let until = it.span.start().since(at);
        if left <= until {
            break;
        }
        left -= until;
        at = at.max(it.span.end());
    }
    at.plus(left)
}

impl ShiftFacts {
    /// The breaks that count; see [`breaks`].
    ///
    /// Valid: always.
    /// Basis: house default, that of [`breaks`].
    ///
    /// ```
    /// use evenrow_rules::oiling::{ShiftFacts, Stretch};
    /// use evenrow_rules::quantity::{Instant, Span};
    /// let at = |minutes: i64| Instant::from_unix_ms(minutes * 60_000);
    /// let shift = ShiftFacts {
    ///     planned: Span::new(at(420), at(930)),
    ///     planned_breaks: vec![Span::new(at(660), at(690))],
    ///     taken_breaks: vec![],
    ///     works: vec![Stretch { from: at(420), per_shift: 3 }],
    ///     looks: vec![],
    ///     usual_kept: vec![],
    ///     until: at(930),
    /// };
    /// assert_eq!(shift.breaks()[0].span, Span::new(at(660), at(690)));
    /// ```
    pub fn breaks(&self) -> Vec<Break> {
        breaks(&self.planned_breaks, &self.taken_breaks)
    }

    /// The working time between two oilings for a work that asks for so many per shift.
    ///
    /// Units: working time.
    /// Valid: always; none per shift counts as one.
    /// Basis: house default.
    ///
    /// ```
    /// use evenrow_rules::oiling::{ShiftFacts, Stretch};
    /// use evenrow_rules::quantity::{Instant, Span};
    /// let at = |minutes: i64| Instant::from_unix_ms(minutes * 60_000);
    /// let shift = ShiftFacts {
    ///     planned: Span::new(at(420), at(930)),
    ///     planned_breaks: vec![Span::new(at(660), at(690))],
    ///     taken_breaks: vec![],
    ///     works: vec![Stretch { from: at(420), per_shift: 3 }],
    ///     looks: vec![],
    ///     usual_kept: vec![],
    ///     until: at(930),
    /// };
    /// // Eight hours of work in three parts.
    /// assert_eq!(shift.interval(3).as_secs(), 8 * 3_600 / 3);
    /// ```
    pub fn interval(&self, per_shift: u8) -> Duration {
        working_time(self.planned, &breaks(&self.planned_breaks, &[])) / u32::from(per_shift.max(1))
    }

    /// The usual interval of the work in force at a moment, whatever the looks found.
    ///
    /// Units: working time.
    /// Valid: always; before the first work that of the first work, without works once per shift.
    /// Basis: house default.
    ///
    /// ```
    /// use evenrow_rules::oiling::{ShiftFacts, Stretch};
    /// use evenrow_rules::quantity::{Instant, Span};
    /// let at = |minutes: i64| Instant::from_unix_ms(minutes * 60_000);
    /// let shift = ShiftFacts {
    ///     planned: Span::new(at(420), at(930)),
    ///     planned_breaks: vec![Span::new(at(660), at(690))],
    ///     taken_breaks: vec![],
    ///     works: vec![Stretch { from: at(420), per_shift: 3 }],
    ///     looks: vec![],
    ///     usual_kept: vec![],
    ///     until: at(930),
    /// };
    /// assert_eq!(shift.interval_at(at(600)), shift.interval(3));
    /// ```
    pub fn interval_at(&self, at: Instant) -> Duration {
        let in_force = self
            .works
            .iter()
            .rev()
            .find(|work| work.from <= at)
            .or(self.works.first());
        self.interval(in_force.map_or(1, |work| work.per_shift))
    }

    /// Whether an interval that begins at a moment is shortened: a look by then found stiff or stuck teeth, fewer than
    /// [`LOOKS_THAT_RESTORE`] looks since then found every tooth turning, and the operator has not refused since.
    ///
    /// Valid: looks and refusals in any order.
    /// Basis: house default.
    ///
    /// ```
    /// use evenrow_rules::oiling::{Look, ShiftFacts, Stretch};
    /// use evenrow_rules::quantity::{Instant, Span};
    /// let at = |minutes: i64| Instant::from_unix_ms(minutes * 60_000);
    /// let shift = ShiftFacts {
    ///     planned: Span::new(at(420), at(930)),
    ///     planned_breaks: vec![Span::new(at(660), at(690))],
    ///     taken_breaks: vec![],
    ///     works: vec![Stretch { from: at(420), per_shift: 3 }],
    ///     looks: vec![],
    ///     usual_kept: vec![],
    ///     until: at(930),
    /// };
    /// let found = |at, all_turned| Look { at, all_turned };
    /// let shift = ShiftFacts { looks: vec![found(at(500), false), found(at(560), true), found(at(620), true)], ..shift };
    /// assert!(!shift.is_shortened(at(499)));
    /// assert!(shift.is_shortened(at(500)) && shift.is_shortened(at(619)));
    /// assert!(!shift.is_shortened(at(620)));
    /// ```
    pub fn is_shortened(&self, at: Instant) -> bool {
        let by_then = || self.looks.iter().filter(|look| look.at <= at);
        let refused = self.usual_kept.iter().filter(|&&it| it <= at).max();
        let bad = by_then()
            .filter(|look| !look.all_turned)
            .map(|look| look.at)
            .max()
            .filter(|bad| refused.is_none_or(|refused| refused < bad));
        bad.is_some_and(|bad| {
            let clean_since = by_then().filter(|look| look.all_turned && bad < look.at);
            clean_since.count() < LOOKS_THAT_RESTORE
        })
    }

    /// When to look next whether the teeth turn: so many times per oiling interval of work after the last look, or
    /// after the start. After a look that found stiff or stuck teeth the interval counts as shortened at once.
    ///
    /// Valid: always; no looks per interval counts as one.
    /// Basis: house default; that it be as often as possible is common practice.
    ///
    /// ```
    /// use evenrow_rules::oiling::{ShiftFacts, Stretch};
    /// use evenrow_rules::quantity::{Instant, Span};
    /// let at = |minutes: i64| Instant::from_unix_ms(minutes * 60_000);
    /// let shift = ShiftFacts {
    ///     planned: Span::new(at(420), at(930)),
    ///     planned_breaks: vec![Span::new(at(660), at(690))],
    ///     taken_breaks: vec![],
    ///     works: vec![Stretch { from: at(420), per_shift: 3 }],
    ///     looks: vec![],
    ///     usual_kept: vec![],
    ///     until: at(930),
    /// };
    /// // Twice per interval of two hours and forty minutes.
    /// assert_eq!(shift.next_look(None, 2), at(500));
    /// ```
    pub fn next_look(&self, last: Option<Instant>, per_interval: u8) -> Instant {
        let from = last
            .unwrap_or(self.planned.start())
            .max(self.planned.start());
        let interval = in_effect(self.interval_at(from), self.is_shortened(from));
        let work = interval / u32::from(per_interval.max(1));
        after_work(from, work, &self.breaks())
    }
}

/// An interval after a look that found stiff or stuck teeth: two thirds of the usual, though not under
/// [`SHORTEST_SHORTENED`], and never longer than the usual.
///
/// Units: working time.
/// Valid: always.
/// Basis: house default.
///
/// ```
/// use core::time::Duration;
/// use evenrow_rules::oiling::shortened;
/// let minutes = |it: u64| Duration::from_secs(60 * it);
/// assert_eq!(shortened(minutes(180)), minutes(120));
/// assert_eq!(shortened(minutes(60)), minutes(45));
/// assert_eq!(shortened(minutes(30)), minutes(30));
/// ```
pub fn shortened(usual: Duration) -> Duration {
    let (parts, of) = SHORTENED_TO;
    (usual / of)
        .saturating_mul(parts)
        .max(SHORTEST_SHORTENED)
        .min(usual)
}

fn in_effect(usual: Duration, is_shortened: bool) -> Duration {
    if is_shortened {
        shortened(usual)
    } else {
        usual
    }
}

/// The due times of a shift, in order. The first is its start.
///
/// Units: moments; intervals are working time.
/// Valid: every shift; one with no working time has the first due time only.
/// Basis: house default, see the head of this file; that gravel wants two or three a shift is common practice.
///
/// ```
/// use evenrow_rules::oiling::{ShiftFacts, Stretch, plan};
/// use evenrow_rules::quantity::{Instant, Span};
/// let at = |hours: f64| Instant::from_unix_ms((hours * 3_600_000.0) as i64);
/// let shift = ShiftFacts {
///     planned: Span::new(at(7.0), at(15.5)),
///     planned_breaks: vec![Span::new(at(11.0), at(11.5))],
///     taken_breaks: vec![],
///     works: vec![Stretch { from: at(7.0), per_shift: 3 }],
///     looks: vec![],
///     usual_kept: vec![],
///     until: at(15.5),
/// };
/// let due: Vec<i64> = plan(&shift).iter().map(|due| due.at.unix_ms() / 60_000).collect();
/// assert_eq!(due, [7 * 60, 9 * 60 + 40, 12 * 60 + 50]);
/// ```
pub fn plan(shift: &ShiftFacts) -> Vec<Due> {
    let breaks = shift.breaks();
    let start = shift.planned.start();
    let mut dues = alloc::vec![Due {
        at: start,
        worked_out: start
    }];
    let (mut at, mut share_left, mut drawn) = (start, 1.0, None);
    let mut is_shortened = shift.is_shortened(start);
    while at < shift.until && dues.len() < MOST_DUE_TIMES {
        let interval = in_effect(shift.interval_at(at), is_shortened);
        if interval < Duration::from_mins(1) {
            break; // A shift of minutes: nothing to split.
        }
        let needed = interval.mul_f64(share_left);
        if let Some(rest) = breaks.iter().find(|it| it.span.holds(at)) {
            let near = at == rest.span.start() && needed <= interval / ATTRACTION;
            if near && drawn.is_none() && needed + MOMENT < shift.work_ahead(at) {
                drawn = Some(at);
            }
            at = rest.span.end();
            continue;
        }
        let changes = shift.works.iter().map(|work| work.from);
        let rests = breaks.iter().map(|it| it.span.start());
        let boundary = changes
            .chain(rests)
            .chain(shift.usual_kept.iter().copied())
            .filter(|&it| at < it)
            .fold(shift.until, Ord::min);
        let due = at.plus(needed);
        if boundary < due {
            let used = boundary.since(at).as_secs_f64() / interval.as_secs_f64();
            (at, share_left) = (boundary, (share_left - used).max(0.0));
            // Looks wait for the next interval; a refusal does not.
            is_shortened &= !shift.usual_kept.contains(&boundary);
        } else if drawn.is_none() && shift.work_ahead(due) <= MOMENT {
            // Nothing is left to oil for. It falls due with the first work that comes after all.
            (at, share_left) = (boundary.min(shift.planned.end()), 0.0);
        } else {
            let listed = drawn.unwrap_or_else(|| shift.put_off(due, interval));
            if shift.until <= listed.plus(MOMENT) && drawn.is_none() {
                break;
            }
            dues.push(Due {
                at: dues.last().map_or(listed, |last| last.at.max(listed)),
                worked_out: due,
            });
            (at, share_left, drawn) = (due, 1.0, None);
            is_shortened = shift.is_shortened(due);
        }
    }
    // A break attracted the due time, and work ended before that time itself came.
    if let Some(listed) = drawn {
        let needed = in_effect(shift.interval_at(at), is_shortened).mul_f64(share_left);
        dues.push(Due {
            at: listed,
            worked_out: after_work(at, needed, &breaks),
        });
    }
    dues
}

impl ShiftFacts {
    /// The breaks as known at a moment: those planned, and those taken by then, as long as they were by then.
    fn breaks_known_at(&self, at: Instant) -> Vec<Break> {
        let begun = self.taken_breaks.iter().filter(|it| it.start() <= at);
        let so_far: Vec<Span> = begun
            .map(|it| Span::new(it.start(), it.end().min(at)))
            .collect();
        breaks(&self.planned_breaks, &so_far)
    }

    /// How much planned work lies ahead of a moment, as known then. Past the planned end there is always more.
    fn work_ahead(&self, at: Instant) -> Duration {
        if self.planned.end() <= at {
            return Duration::MAX;
        }
        let rest = Span::new(at, self.planned.end());
        working_time(rest, &self.breaks_known_at(at))
    }

    /// The start of the next planned break from a due time to a quarter interval after it, or the due time itself. Whoever
    /// takes a break before that one oils in it.
    fn put_off(&self, due: Instant, interval: Duration) -> Instant {
        let latest = due.plus(interval / ATTRACTION);
        let known = self.breaks_known_at(due);
        let work_after = |at| working_time(Span::new(at, self.planned.end()), &known);
        let foreseen = known
            .iter()
            .filter(|it| it.planned)
            .map(|it| it.span.start())
            .find(|&start| due <= start && start <= latest && MOMENT < work_after(start));
        let Some(foreseen) = foreseen else {
            return due;
        };
        self.taken_breaks
            .iter()
            .map(|it| it.start())
            .filter(|&start| due <= start)
            .fold(foreseen, Ord::min)
    }
}

/// What has become of each due time by `now`.
///
/// An oiling serves the latest due time that has come; if that one is served already, it serves the next where it falls
/// within a quarter of the way before it, and is extra otherwise. One before the first due time serves the first.
///
/// Valid: due times in order, oilings in any order.
/// Basis: house default, see the head of this file.
///
/// ```
/// use evenrow_rules::oiling::{Due, Status, reconcile};
/// use evenrow_rules::quantity::Instant;
/// let at = |minutes: i64| Instant::from_unix_ms(minutes * 60_000);
/// let due = |minutes| Due { at: at(minutes), worked_out: at(minutes) };
/// let standing = reconcile(&[due(0), due(160)], &[at(5)], at(175), false);
/// assert_eq!(standing.slots[1].status, Status::Late(core::time::Duration::from_secs(15 * 60)));
/// ```
pub fn reconcile(dues: &[Due], oiled: &[Instant], now: Instant, over: bool) -> Standing {
    let mut served: Vec<Option<Instant>> = alloc::vec![None; dues.len()];
    let mut extra = Vec::new();
    for at in in_order(oiled.iter().copied(), |at| *at) {
        match slot_for(dues, &served, at) {
            Some(slot) => served[slot] = Some(at),
            None => extra.push(at),
        }
    }
    let slots = dues
        .iter()
        .enumerate()
        .map(|(index, &due)| {
            let superseded = over || dues.get(index + 1).is_some_and(|next| next.at <= now);
            Slot {
                due,
                status: status(due, served[index], now, superseded),
            }
        })
        .collect();
    Standing { slots, extra }
}

/// The few things of a day in the order of a key, most of which come in it; what is equal stays as it came. A sorter made
/// for thousands would weigh more in the program than all that is reckoned here.
///
/// Valid: always; slow for many that come in another order.
/// Basis: arithmetic.
///
/// ```
/// use evenrow_rules::oiling::in_order;
/// assert_eq!(in_order([(3, 'a'), (1, 'b'), (1, 'c')], |it| it.0), [(1, 'b'), (1, 'c'), (3, 'a')]);
/// ```
pub fn in_order<T, K: Ord>(of_a_day: impl IntoIterator<Item = T>, key: impl Fn(&T) -> K) -> Vec<T> {
    let mut ordered: Vec<T> = Vec::new();
    for it in of_a_day {
        let at = ordered.partition_point(|before| key(before) <= key(&it));
        ordered.insert(at, it);
    }
    ordered
}

fn slot_for(dues: &[Due], served: &[Option<Instant>], at: Instant) -> Option<usize> {
    let current = dues.iter().rposition(|due| due.at <= at).unwrap_or(0);
    if served.get(current)?.is_none() {
        return Some(current);
    }
    let next = current + 1;
    let near = dues
        .get(next)
        .is_some_and(|due| due.at.since(at) <= due.at.since(dues[current].at) / ATTRACTION);
    (near && served[next].is_none()).then_some(next)
}

fn status(due: Due, served: Option<Instant>, now: Instant, superseded: bool) -> Status {
    if let Some(at) = served {
        let (early, late) = (due.at.since(at), at.since(due.at));
        let timing = if LATE_AFTER < early {
            Timing::Early(early)
        } else if LATE_AFTER < late {
            Timing::Late(late)
        } else {
            Timing::OnTime
        };
        return Status::Done { at, timing };
    }
    let late = now.since(due.at);
    if superseded {
        Status::Missed
    } else if now < due.at {
        Status::Ahead
    } else if late <= LATE_AFTER {
        Status::Due
    } else {
        Status::Late(late)
    }
}

#[cfg(test)]
mod tests {
    extern crate std;
    use std::vec;

    use super::*;

    fn clock(hours: i64, minutes: i64) -> Instant {
        Instant::from_unix_ms((hours * 60 + minutes) * 60_000)
    }

    fn day(per_shift: u8) -> ShiftFacts {
        ShiftFacts {
            planned: Span::new(clock(7, 0), clock(15, 30)),
            planned_breaks: vec![Span::new(clock(11, 0), clock(11, 30))],
            taken_breaks: vec![],
            works: vec![Stretch {
                from: clock(7, 0),
                per_shift,
            }],
            looks: vec![],
            usual_kept: vec![],
            until: clock(15, 30),
        }
    }

    #[track_caller]
    fn check(shift: &ShiftFacts, expect: &[Instant]) {
        let due: Vec<Instant> = plan(shift).iter().map(|due| due.at).collect();
        assert_eq!(due, expect);
    }

    #[test]
    fn a_list_is_put_in_order_and_equals_stay_as_they_stood() {
        let list = alloc::vec![(3, 'a'), (1, 'b'), (2, 'c'), (1, 'd'), (0, 'e')];
        let mut sorted = list.clone();
        sorted.sort_by_key(|it| it.0);
        assert_eq!(in_order(list, |it| it.0), sorted);
        assert_eq!(in_order::<u8, u8>([], |it| *it), []);
    }

    #[test]
    fn the_first_comes_before_work_and_the_others_split_the_working_time() {
        check(&day(1), &[clock(7, 0)]);
        check(&day(2), &[clock(7, 0), clock(11, 0)]);
        check(&day(3), &[clock(7, 0), clock(9, 40), clock(12, 50)]);
    }

    #[test]
    fn no_minute_of_work_is_lost_or_counted_twice_at_any_number_of_oilings() {
        for per_shift in 1..=12 {
            let mut shift = day(per_shift);
            shift.planned_breaks = vec![];
            let dues = plan(&shift);
            assert_eq!(dues.len(), usize::from(per_shift));
            for (index, due) in dues.iter().enumerate() {
                let share =
                    shift.planned.length().as_secs_f64() * index as f64 / f64::from(per_shift);
                assert!((due.at.since(clock(7, 0)).as_secs_f64() - share).abs() < 0.01);
            }
        }
    }

    #[test]
    fn a_planned_break_near_a_due_time_attracts_it_from_both_sides() {
        let mut shift = day(3);
        shift.planned_breaks = vec![Span::new(clock(10, 0), clock(10, 30))];
        check(&shift, &[clock(7, 0), clock(10, 0), clock(12, 50)]);
        shift.planned_breaks = vec![Span::new(clock(9, 20), clock(9, 50))];
        check(&shift, &[clock(7, 0), clock(9, 20), clock(12, 50)]);
    }

    #[test]
    fn a_break_nobody_foresaw_draws_the_coming_oiling_but_not_the_past_one() {
        let mut shift = day(3);
        shift.taken_breaks = vec![Span::new(clock(9, 50), clock(10, 0))];
        check(&shift, &[clock(7, 0), clock(9, 40), clock(13, 0)]);
        shift.taken_breaks = vec![Span::new(clock(9, 30), clock(9, 40))];
        assert_eq!(plan(&shift)[1].at, clock(9, 30));
    }

    #[test]
    fn a_break_taken_before_the_planned_one_takes_its_place_and_the_working_time_is_kept() {
        let mut shift = day(3);
        shift.taken_breaks = vec![Span::new(clock(10, 30), clock(11, 0))];
        check(&shift, &[clock(7, 0), clock(9, 40), clock(12, 50)]);
    }

    #[test]
    fn a_change_to_a_work_that_wants_less_oil_moves_only_what_is_ahead() {
        let mut shift = day(3);
        shift.works.push(Stretch {
            from: clock(12, 10),
            per_shift: 2,
        });
        // 12:10 is two hours of work after 9:40: three quarters of an interval of 2:40. The last quarter of one of 4:00
        // is another hour.
        check(&shift, &[clock(7, 0), clock(9, 40), clock(13, 10)]);
    }

    #[test]
    fn work_past_the_planned_end_falls_due_again_at_that_end() {
        let mut shift = day(2);
        shift.until = clock(16, 0);
        check(&shift, &[clock(7, 0), clock(11, 0), clock(15, 30)]);
    }

    #[test]
    fn early_on_time_late_and_missed() {
        let dues = plan(&day(3));
        let statuses = |oiled: &[Instant], now| -> Vec<Status> {
            reconcile(&dues, oiled, now, false)
                .slots
                .iter()
                .map(|slot| slot.status)
                .collect()
        };
        let minutes = Duration::from_mins;
        let done = |at, timing| Status::Done { at, timing };
        assert_eq!(statuses(&[], clock(6, 0)), [Status::Ahead; 3]);
        assert_eq!(
            statuses(&[], clock(7, 10)),
            [Status::Due, Status::Ahead, Status::Ahead]
        );
        assert_eq!(
            statuses(&[], clock(7, 11)),
            [Status::Late(minutes(11)), Status::Ahead, Status::Ahead]
        );
        assert_eq!(
            statuses(&[], clock(9, 40)),
            [Status::Missed, Status::Due, Status::Ahead]
        );
        let oiled = [clock(6, 40), clock(9, 20), clock(13, 1)];
        assert_eq!(
            statuses(&oiled, clock(13, 1)),
            [
                done(clock(6, 40), Timing::Early(minutes(20))),
                done(clock(9, 20), Timing::Early(minutes(20))),
                done(clock(13, 1), Timing::Late(minutes(11))),
            ]
        );
    }

    #[test]
    fn an_oiling_in_the_middle_of_an_interval_is_extra_and_changes_nothing() {
        let dues = plan(&day(3));
        let standing = reconcile(&dues, &[clock(7, 0), clock(8, 0)], clock(9, 0), false);
        assert_eq!(standing.extra, [clock(8, 0)]);
        assert_eq!(standing.next().map(|slot| slot.due.at), Some(clock(9, 40)));
    }

    #[test]
    fn after_the_shift_nothing_is_ahead() {
        let standing = reconcile(&plan(&day(3)), &[clock(7, 0)], clock(15, 30), true);
        assert!(standing.next().is_none());
        assert_eq!(standing.done(), 1);
    }

    #[test]
    fn a_look_falls_due_twice_per_interval_of_work() {
        let shift = day(3);
        assert_eq!(shift.next_look(None, 2), clock(8, 20));
        assert_eq!(shift.next_look(Some(clock(10, 0)), 2), clock(11, 50));
    }

    #[test]
    fn no_arrangement_of_breaks_and_works_moves_a_due_time_that_is_past() {
        // Every quarter of an hour a break of every length begins; what was due before it stays where it was.
        for quarter in 0..32 {
            for length in [5, 20, 45, 120] {
                let mut shift = day(3);
                let before = plan(&shift);
                let start = clock(7, quarter * 15 + 1);
                shift.taken_breaks =
                    vec![Span::new(start, start.plus(Duration::from_mins(length)))];
                let after = plan(&shift);
                for due in before.iter().filter(|due| due.at < start) {
                    assert!(after.contains(due), "break at {start:?}, due {due:?}");
                }
            }
        }
    }
}
