//! The check of this phone: "lock it now, I ring in a minute". What came of it is all that the app may promise.
//!
//! Never here: sounds and storage (`device`), and words.

use core::time::Duration;

use evenrow_rules::quantity::Instant;

/// So long after the start of a check the phone should ring. House default: long enough to lock it and lay it down.
pub const RINGS_AFTER: Duration = Duration::from_mins(1);

/// A phone that rings within this is said to ring on time. House default.
pub const ON_TIME_WITHIN: Duration = Duration::from_secs(5);

/// A check that runs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Trial {
    /// When it should ring.
    pub due: Instant,
    /// Whether the page has been hidden since the start: locked, or behind another app.
    pub hidden: bool,
    /// When the app rang in the dark; none if it has not.
    pub rang: Option<Instant>,
}

/// How a check stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stands {
    /// Wait: so long until it should ring.
    Waiting(Duration),
    /// The app ran in the dark, so late. Only the operator knows whether it was heard.
    AskWhetherHeard(Duration),
    /// The app did not run in the dark.
    WasSilent,
    /// The phone was not locked when it should have rung, so nothing was learned.
    WasNotLocked,
}

/// What a check has proved about this phone.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Proof {
    /// It was heard ringing while locked, so late.
    Rang(Duration),
    /// It was not.
    Silent,
}

impl Trial {
    /// A check that begins now.
    pub fn begin(now: Instant) -> Trial {
        Trial {
            due: now.plus(RINGS_AFTER),
            hidden: false,
            rang: None,
        }
    }

    /// The app woke, hidden or seen. Says whether it should ring now, for the check.
    pub fn wake(&mut self, now: Instant, hidden: bool) -> bool {
        if now < self.due {
            // Seen again too early: what was hidden before no longer counts.
            self.hidden = hidden;
            return false;
        }
        let rings = hidden && self.hidden && self.rang.is_none();
        if rings {
            self.rang = Some(now);
        }
        rings
    }

    /// How it stands for an operator who looks at the page now.
    pub fn stands(&self, now: Instant) -> Stands {
        match (self.rang, self.hidden) {
            (Some(rang), true | false) => Stands::AskWhetherHeard(rang.since(self.due)),
            (None, _) if now < self.due => Stands::Waiting(self.due.since(now)),
            (None, true) => Stands::WasSilent,
            (None, false) => Stands::WasNotLocked,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(seconds: i64) -> Instant {
        Instant::from_unix_ms(seconds * 1000)
    }

    /// A check begun at nothing, with the app waking at these seconds, hidden or seen.
    fn after(wakes: &[(i64, bool)]) -> (Trial, Vec<i64>) {
        let mut trial = Trial::begin(at(0));
        let rang = wakes
            .iter()
            .filter(|&&(second, hidden)| trial.wake(at(second), hidden))
            .map(|&(second, _)| second)
            .collect();
        (trial, rang)
    }

    #[test]
    fn a_phone_that_runs_in_the_dark_rings_once_and_the_operator_is_asked() {
        let (trial, rang) = after(&[(5, true), (59, true), (60, true), (61, true)]);
        assert_eq!(rang, [60]);
        assert_eq!(
            trial.stands(at(90)),
            Stands::AskWhetherHeard(Duration::ZERO)
        );
        let (trial, _) = after(&[(5, true), (100, true)]);
        assert_eq!(
            trial.stands(at(120)),
            Stands::AskWhetherHeard(Duration::from_secs(40))
        );
    }

    #[test]
    fn a_phone_that_sleeps_in_the_dark_was_silent() {
        let (trial, rang) = after(&[(5, true), (300, false)]);
        assert!(rang.is_empty());
        assert_eq!(trial.stands(at(300)), Stands::WasSilent);
    }

    #[test]
    fn a_phone_that_was_never_locked_or_was_looked_at_too_early_has_proved_nothing() {
        let (trial, rang) = after(&[(30, false), (61, false)]);
        assert!(rang.is_empty());
        assert_eq!(trial.stands(at(61)), Stands::WasNotLocked);
        let (trial, _) = after(&[(5, true), (40, false), (70, false)]);
        assert_eq!(
            trial.stands(at(40)),
            Stands::Waiting(Duration::from_secs(20))
        );
        assert_eq!(trial.stands(at(70)), Stands::WasNotLocked);
    }
}
