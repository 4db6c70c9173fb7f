//! Reminders on this phone: what it does, the sound, the check of a locked phone, the calendar, notifications.

use super::glass::{Glass, css};

/// The screen.
#[derive(Clone, Debug)]
pub struct Reminders(pub(super) Glass);

impl Reminders {
    /// Waits until it is shown.
    pub async fn see(&self) {
        self.0
            .see("the reminders", css("main h1"), "Reminders on this phone")
            .await;
    }

    /// Waits until a line says that something is as it should be.
    pub async fn see_good(&self, sentence: &str) {
        see_good(&self.0, sentence).await;
    }

    /// Waits until a line says that something is not as it should be.
    pub async fn see_bad(&self, sentence: &str) {
        see_bad(&self.0, sentence).await;
    }

    /// Tries the gentle sound.
    pub async fn try_gentle(&self) {
        self.0
            .tap("the gentle sound", css("button.try-gentle"))
            .await;
    }

    /// Tries the strong sound.
    pub async fn try_strong(&self) {
        self.0
            .tap("the strong sound", css("button.try-strong"))
            .await;
    }

    /// Starts the check of this phone.
    pub async fn begin_check(&self) {
        self.0
            .tap("Start the check", css("button.begin-check"))
            .await;
        self.0
            .see_some("the check waits", css(".check-waiting"))
            .await;
    }

    /// Waits until the check says in how many seconds it should ring.
    pub async fn see_check_waits(&self, sentence: &str) {
        self.0
            .see("the check", css(".check-waiting"), sentence)
            .await;
    }

    /// Stops the check.
    pub async fn stop_check(&self) {
        self.0.tap("Stop the check", css("button.end-check")).await;
        self.see_no_check().await;
    }

    /// Says that it was heard.
    pub async fn heard(&self) {
        self.0.tap("Yes", css("button.check-heard")).await;
        self.see_no_check().await;
    }

    /// Says that it was not heard.
    pub async fn not_heard(&self) {
        self.0.tap("No", css("button.check-not-heard")).await;
        self.see_no_check().await;
    }

    /// Waits until it asks whether it was heard.
    pub async fn see_asked(&self) {
        self.0
            .see("the check", css(".check-ask"), "Did you hear it ring")
            .await;
    }

    /// Waits until it says that the phone was silent, and says that this was understood.
    pub async fn silent_understood(&self) {
        self.0
            .see("the check", css(".check-silent"), "stays silent")
            .await;
        self.0
            .tap("Understood", css("button.check-understood"))
            .await;
        self.see_no_check().await;
    }

    /// Waits until it says that the phone was not locked.
    pub async fn see_was_not_locked(&self) {
        self.0
            .see("the check", css(".check-not-locked"), "was not locked")
            .await;
    }

    /// Waits until no check runs.
    pub async fn see_no_check(&self) {
        self.0
            .see_some(
                "only the start of a check",
                css(".phone-check > .begin-check:only-child"),
            )
            .await;
    }

    /// Hands the next oiling to the phone’s calendar.
    pub async fn next_to_calendar(&self) {
        self.0
            .tap("the next oiling", css("button.calendar-next"))
            .await;
    }

    /// Hands the whole shift to the phone’s calendar.
    pub async fn shift_to_calendar(&self) {
        self.0
            .tap("the whole shift", css("button.calendar-shift"))
            .await;
    }

    /// Waits until it says how what was handed over stands.
    pub async fn see_calendar(&self, sentence: &str) {
        self.0
            .see("the calendar", css(".calendar-state"), sentence)
            .await;
    }

    /// Waits until it says nothing of what was handed over.
    pub async fn see_nothing_handed_over(&self) {
        self.0
            .see_none("what was handed over", css(".calendar-state"))
            .await;
    }

    /// Waits until it says what came of handing it over.
    pub async fn see_handed(&self, sentence: &str) {
        self.0
            .see(
                "what came of it",
                css(".calendar-large + [role=status]"),
                sentence,
            )
            .await;
    }

    /// Waits until it says that nothing can be handed over.
    pub async fn see_no_calendar(&self) {
        self.0
            .see(
                "the calendar",
                css(".calendar-none"),
                "No oiling lies ahead",
            )
            .await;
    }

    /// Shows the times large, or puts them away.
    pub async fn large_times(&self) {
        self.0.tap("the times", css("button.calendar-large")).await;
    }

    /// Waits until the times are shown large.
    pub async fn see_large_times(&self, times: &str) {
        self.0
            .see("the large times", css(".large-times"), times)
            .await;
    }

    /// Waits until it says how notifications stand.
    pub async fn see_notifications(&self, sentence: &str) {
        self.0
            .see("notifications", css(".notifications-state"), sentence)
            .await;
    }
}

/// Waits until a line says that something is as it should be.
pub(super) async fn see_good(glass: &Glass, sentence: &str) {
    see_line(glass, ".readiness-line:not(.readiness-bad)", sentence).await;
}

/// Waits until a line says that something is not as it should be.
pub(super) async fn see_bad(glass: &Glass, sentence: &str) {
    see_line(glass, ".readiness-bad", sentence).await;
}

async fn see_line(glass: &Glass, lines: &str, sentence: &str) {
    let awaited = format!("{lines} says {sentence:?}");
    let all = |lines: &[String]| lines.iter().any(|line| line.contains(sentence));
    glass.read_all_once(&awaited, css(lines), all).await;
}
