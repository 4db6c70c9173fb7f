//! The machine and this phone.

use super::glass::{Glass, css, quoted, xpath};
use super::parts::{ShiftTimes, field, pick, picked};

/// The machine.
#[derive(Clone, Debug)]
pub struct Machine(pub(super) Glass);

impl Machine {
    /// Waits until it is shown.
    pub async fn see(&self) {
        self.0.see("the machine", css("main h1"), "Machine").await;
    }

    /// Types its name.
    pub async fn name_it(&self, name: &str) {
        self.0
            .type_over("the name of the machine", field("Name"), name)
            .await;
    }

    /// Waits until this is the name that stands there.
    pub async fn see_name(&self, name: &str) {
        self.0
            .see_value("the name of the machine", field("Name"), name)
            .await;
    }

    /// Picks a board.
    pub async fn board(&self, board: &str) {
        pick(&self.0, "How long is the moldboard?", board).await;
    }

    /// Waits until it says how the row fits the board.
    pub async fn see_row(&self, sentence: &str) {
        self.0
            .see("how the row fits", css(".row-fits"), sentence)
            .await;
    }

    /// The times of the usual shift.
    pub fn usual_shift(&self) -> ShiftTimes {
        ShiftTimes(self.0.clone())
    }

    /// Keeps what was changed.
    pub async fn keep(&self) {
        self.0.tap("Keep", css("button.keep")).await;
    }

    /// Picks the look: "As the phone", "Sun", "Night".
    pub async fn look(&self, look: &str) {
        pick(&self.0, "Look", look).await;
    }

    /// Says which thumb taps: "Left", "Right".
    pub async fn thumb(&self, hand: &str) {
        pick(&self.0, "Thumb that taps", hand).await;
    }

    /// The look picked.
    pub async fn look_picked(&self) -> String {
        picked(&self.0, "Look").await
    }

    /// Adds another machine.
    pub async fn add_another(&self) {
        self.0
            .tap("Add another machine", css("button.add-machine"))
            .await;
    }

    /// Works with another machine from now on.
    pub async fn work_with(&self, name: &str) {
        let at = xpath(format!(
            "//button[normalize-space()={}]",
            quoted(&format!("Work with {name}"))
        ));
        self.0.tap(&format!("Work with {name}"), at).await;
    }

    /// Picks the units.
    pub async fn units(&self, units: &str) {
        pick(&self.0, "Units", units).await;
    }

    /// Picks the units of one quantity, where each is chosen by itself.
    pub async fn units_of(&self, quantity: &str, units: &str) {
        self.0
            .unfold("each quantity by itself", css(".each-quantity"))
            .await;
        pick(&self.0, quantity, units).await;
    }

    /// Whether one of the two systems is picked for everything.
    pub async fn has_one_system(&self) -> bool {
        let pressed =
            xpath("//fieldset[legend[normalize-space()='Units']]//button[@aria-pressed='true']");
        self.0.count("the units picked", pressed).await == 1
    }
}
