//! What stands in the place of a screen whose file has not arrived.

use super::glass::{Glass, css, xpath};

/// The screen that is not there yet.
#[derive(Clone, Debug)]
pub struct Later(pub(super) Glass);

impl Later {
    /// Taps the tab of the row, whatever then is shown.
    pub async fn tap_row(&self) {
        let at = xpath("//nav//a[normalize-space()='Row']");
        self.0.tap("Row", at).await;
    }

    /// Waits until it is said that the screen could not be fetched.
    pub async fn see_failed(&self) {
        self.0
            .see(
                "what is missing",
                css("p.later[role=alert]"),
                "could not be fetched",
            )
            .await;
    }

    /// Taps the button that tries once more.
    pub async fn try_again(&self) {
        let at = xpath("//main//button[normalize-space()='Try again']");
        self.0.tap("Try again", at).await;
    }
}
