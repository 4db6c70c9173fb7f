//! What rings, over the whole screen.

use super::glass::{Glass, css};

/// The alarm.
#[derive(Debug)]
pub struct Alarm(pub(super) Glass);

impl Alarm {
    /// Waits until it rings and says so: "Now due at 09:40", "Late 0:20 due at 12:50".
    pub async fn see(&self, text: &str) {
        self.0.see("the alarm", css(".alarm-when"), text).await;
    }

    /// Waits until nothing rings.
    pub async fn see_none(&self) {
        self.0.see_none("the alarm", css(".alarm")).await;
    }

    /// Says that the sockets have been oiled.
    pub async fn done(&self) {
        self.0.tap("Oiled now", css(".alarm-done")).await;
        self.see_none().await;
    }

    /// Puts it off for five minutes.
    pub async fn in_five_minutes(&self) {
        self.0
            .tap("In 5 minutes", css(".alarm-put-off:first-child"))
            .await;
        self.see_none().await;
    }
}
