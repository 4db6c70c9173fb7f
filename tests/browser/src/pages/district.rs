//! The invented district: the way in, what marks it, the way out.

use super::glass::{Glass, css};

/// The invented district.
#[derive(Clone, Debug)]
pub struct District(pub(super) Glass);

impl District {
    /// Looks round, from the first start or from the machine.
    pub async fn look_round(&self) {
        self.0.tap("Look round", css("button.look-round")).await;
    }

    /// Waits until the screen says that nothing of it is real.
    pub async fn see(&self) {
        self.0
            .see(
                "the banner",
                css(".district-banner p"),
                "nothing here is real",
            )
            .await;
    }

    /// Leaves it.
    pub async fn leave(&self) {
        self.0
            .tap("Leave it", css(".district-banner button.leave-district"))
            .await;
    }

    /// Waits until nothing on the screen is marked as invented.
    pub async fn see_none(&self) {
        self.0.see_none("the banner", css(".district-banner")).await;
    }

    /// Waits until it says why nobody can look round now.
    pub async fn see_not_now(&self, sentence: &str) {
        self.0
            .see("why not now", css(".look-round-not-now"), sentence)
            .await;
        self.0
            .see_none("Look round", css("button.look-round"))
            .await;
    }
}
