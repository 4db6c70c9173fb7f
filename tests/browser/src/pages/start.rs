//! The start of a shift.

use super::glass::{Glass, css};
use super::parts::ShiftTimes;

/// The form that starts a shift.
#[derive(Clone, Debug)]
pub struct Start(pub(super) Glass);

impl Start {
    /// Waits until it is shown.
    pub async fn see(&self) {
        self.0
            .see("the start of a shift", css("main h1"), "No shift runs")
            .await;
    }

    /// The times for today.
    pub fn times(&self) -> ShiftTimes {
        ShiftTimes(self.0.clone())
    }

    /// Starts the shift.
    pub async fn start(&self) {
        self.0
            .tap("Start the shift", css("button.start-shift"))
            .await;
    }

    /// Whether a shift could be started from this screen.
    pub async fn is_offered(&self) -> bool {
        0 < self
            .0
            .count("the button that starts a shift", css("button.start-shift"))
            .await
    }
}
