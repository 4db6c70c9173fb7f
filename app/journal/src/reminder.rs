//! What is due, what rings, how urgently, and when to look again: the one answer that every wake of the app asks for.
//!
//! Everything follows from the records and the moment, so a phone that slept, was killed or shows two windows comes to
//! the same answer. The numbers are house defaults. Never here: sounds, screens and timers (the app).

use core::time::Duration;

use evenrow_rules::oiling::{LATE_AFTER, Standing, Status};
use evenrow_rules::quantity::{Instant, Span};

use crate::state::{Shift, State};

/// From so long after it began to ring it rings louder.
///
/// Basis: house default.
pub const LOUDER_AFTER: Duration = Duration::from_secs(30);

/// From so long after it began to ring it hardly pauses.
///
/// Basis: house default.
pub const PRESSING_AFTER: Duration = Duration::from_mins(2);

/// So long after the planned end of a shift in which nothing more was recorded it no longer sounds: the shift was
/// forgotten, and the phone lies in a drawer. The screen goes on saying what is late.
///
/// Basis: house default.
pub const FORGOTTEN_AFTER: Duration = Duration::from_hours(1);

/// So long before an oiling falls due it is said to come soon.
///
/// Basis: house default.
pub const SOON: Duration = Duration::from_mins(10);

/// How urgently it rings.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Urgency {
    /// A gentle pattern with long pauses.
    Gentle,
    /// A strong pattern with short pauses.
    Louder,
    /// A strong pattern almost without pauses.
    Pressing,
}

impl Urgency {
    /// From the start of one pattern to the start of the next. The longest pattern takes less than two seconds.
    ///
    /// Basis: house default.
    pub const fn every(self) -> Duration {
        match self {
            Urgency::Gentle => Duration::from_secs(10),
            Urgency::Louder => Duration::from_secs(5),
            Urgency::Pressing => Duration::from_secs(2),
        }
    }

    fn after(ringing: Duration) -> Urgency {
        if ringing < LOUDER_AFTER {
            Urgency::Gentle
        } else if ringing < PRESSING_AFTER {
            Urgency::Louder
        } else {
            Urgency::Pressing
        }
    }
}

/// Something that rings.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Ringing {
    /// What was due when.
    pub due: Instant,
    /// By how much it is late; none within ten minutes.
    pub late: Option<Duration>,
    /// Since when it rings: since it was due, or since it was put off to.
    pub since: Instant,
    /// How urgently.
    pub urgency: Urgency,
    /// Whether it still sounds.
    pub sounds: bool,
}

impl Ringing {
    /// Whether a pattern begins after the last wake and up to this one. A page that is let run only once a minute rings
    /// once at each wake.
    pub fn sounds_between(&self, last: Instant, now: Instant) -> bool {
        let last = last.max(self.since.minus(Duration::from_millis(1)));
        if !self.sounds || now <= last {
            return false;
        }
        let every = self.urgency.every().as_millis() as i64;
        let beat = |at: Instant| {
            at.unix_ms()
                .saturating_sub(self.since.unix_ms())
                .div_euclid(every)
        };
        beat(last) < beat(now)
    }
}

/// How near the next oiling is. Those who cannot see the screen hear each of these once.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Nearness {
    /// None is planned any more.
    AllDone,
    /// Further away than [`SOON`].
    Ahead,
    /// Within [`SOON`].
    Soon,
    /// Due, and not late.
    Due,
    /// Late.
    Late,
}

/// How a shift stands at a moment.
#[derive(Clone, Debug, PartialEq)]
pub struct Reminder {
    /// Every due time and what has become of it.
    pub standing: Standing,
    /// How near the next one is.
    pub nearness: Nearness,
    /// What rings.
    pub ringing: Option<Ringing>,
    /// Until when the oiling that is due is put off.
    pub put_off_until: Option<Instant>,
    /// The next moment at which any of this changes by itself; none if nothing will.
    pub wake: Option<Instant>,
}

/// How the running shift stands. None runs, or no set-up was chosen yet: nothing.
pub fn reconcile(state: &State, now: Instant) -> Option<Reminder> {
    let shift = state.running()?;
    shift.setup()?;
    Some(shift.reminder(now))
}

impl Shift {
    fn reminder(&self, now: Instant) -> Reminder {
        let standing = self.standing(now);
        let next = standing.next().copied();
        let is_due = next.filter(|slot| slot.due.at <= now);
        let until = is_due.and_then(|slot| self.put_off_until(slot.due.at, now));
        let ringing = is_due.filter(|_| until.is_none()).map(|slot| {
            let since = self.rings_since(slot.due.at, now);
            Ringing {
                due: slot.due.at,
                late: match slot.status {
                    Status::Late(by) => Some(by),
                    Status::Due | Status::Ahead | Status::Missed | Status::Done { .. } => None,
                },
                since,
                urgency: Urgency::after(now.since(since)),
                sounds: !self.is_forgotten(now),
            }
        });
        let nearness = match next.map(|slot| slot.status) {
            None | Some(Status::Done { .. } | Status::Missed) => Nearness::AllDone,
            Some(Status::Due) => Nearness::Due,
            Some(Status::Late(_)) => Nearness::Late,
            Some(Status::Ahead) => {
                let ahead = next.map_or(Duration::MAX, |slot| slot.due.at.since(now));
                if ahead <= SOON {
                    Nearness::Soon
                } else {
                    Nearness::Ahead
                }
            }
        };
        let dues = standing.slots.iter().flat_map(|slot| {
            let late = slot.due.at.plus(LATE_AFTER).plus(Duration::from_millis(1));
            [slot.due.at.minus(SOON), slot.due.at, late]
        });
        let steps = ringing.into_iter().flat_map(|ring: Ringing| {
            [
                ring.since.plus(LOUDER_AFTER),
                ring.since.plus(PRESSING_AFTER),
            ]
        });
        let others = [Some(self.plan.end), until, self.next_look(now)];
        let wake = dues
            .chain(steps)
            .chain(others.into_iter().flatten())
            .filter(|&at| now < at)
            .min();
        Reminder {
            nearness,
            ringing,
            put_off_until: until,
            wake,
            standing,
        }
    }

    /// Until when what fell due at a moment is put off. A clock that was set back since puts nothing off.
    fn put_off_until(&self, due: Instant, now: Instant) -> Option<Instant> {
        self.put_offs_of(due)
            .filter(|&(at, until)| at <= now && now < until)
            .map(|(_, until)| until)
            .max()
    }

    fn rings_since(&self, due: Instant, now: Instant) -> Instant {
        let ends = self.put_offs_of(due).map(|(_, until)| until);
        ends.filter(|&until| until <= now).fold(due, Ord::max)
    }

    fn put_offs_of(&self, due: Instant) -> impl Iterator<Item = (Instant, Instant)> {
        self.put_off
            .iter()
            .filter(move |(at, _)| due <= *at)
            .map(|&(at, minutes)| (at, at.plus(Duration::from_mins(u64::from(minutes)))))
    }

    /// Whether nothing was recorded since the planned end, and that is more than [`FORGOTTEN_AFTER`] ago.
    fn is_forgotten(&self, now: Instant) -> bool {
        let breaks = self
            .breaks
            .iter()
            .map(|rest| rest.end.unwrap_or(rest.start));
        let recorded = (self.oiled.iter().copied())
            .chain(self.looks.iter().map(|(at, _)| *at))
            .chain(self.notes.iter().map(|(at, _)| *at))
            .chain(self.put_off.iter().map(|(at, _)| *at))
            .chain(self.setups.iter().map(|setup| setup.since))
            .chain(breaks);
        let last = recorded.fold(self.plan.end, Ord::max);
        last.plus(FORGOTTEN_AFTER) <= now
    }

    /// The due times that came while the app did not run.
    pub fn fell_due_in(&self, span: Span) -> Vec<Instant> {
        let dues = self.standing(span.end()).slots;
        dues.iter()
            .map(|slot| slot.due.at)
            .filter(|&at| span.start() < at && at <= span.end())
            .collect()
    }

    /// Whether an app that did not run for this span has something to record: something fell due, and no other window has
    /// recorded it.
    pub(crate) fn was_blind(&self, span: Span) -> bool {
        let known = self
            .blind
            .iter()
            .any(|it| it.start() < span.end() && span.start() < it.end());
        !known && !self.fell_due_in(span).is_empty()
    }
}
