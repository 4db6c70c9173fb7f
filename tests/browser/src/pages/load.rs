//! What each tooth gets of the force on the edge.

use super::glass::{Glass, css};
use super::parts::field;

/// The screen.
#[derive(Clone, Debug)]
pub struct Load(pub(super) Glass);

impl Load {
    /// Waits until it is shown.
    pub async fn see(&self) {
        self.0
            .see("the screen", css("main h1"), "Load on each tooth")
            .await;
    }

    /// Waits until this is told of the rows, from the full one to one plate.
    pub async fn see_rows(&self, told: &[&str]) {
        let rows = css(".load-of figcaption");
        self.0
            .read_all_once("the rows", rows, |rows| rows == told)
            .await;
    }

    /// Waits until it says at which force the front wheels lift.
    pub async fn see_ceiling(&self, sentence: &str) {
        self.0
            .see("the ceiling", css(".load-ceiling"), sentence)
            .await;
    }

    /// Waits until it says that the forces are not known.
    pub async fn see_unknown(&self) {
        let at = css(".load-unknown");
        self.0
            .see("the ratio", at, "The forces are not known")
            .await;
    }

    /// The advice.
    pub async fn advice(&self) -> String {
        self.0.read("the advice", css(".load-advice")).await
    }

    /// Types what is known of the machine, each by its label.
    pub async fn machine(&self, typed: &[(&str, &str)]) {
        for (label, text) in typed {
            self.0.type_over(label, field(label), text).await;
        }
    }

    /// What stands in a field.
    pub async fn typed(&self, label: &str) -> String {
        self.0.value(label, field(label)).await
    }

    /// Keeps it.
    pub async fn keep(&self) {
        self.0.tap("Keep", css("button.keep-axles")).await;
    }

    /// Waits until it says what is wrong with it.
    pub async fn see_wrong(&self, sentence: &str) {
        let at = css("main > p.wrong[role=alert]");
        self.0.see("what is wrong", at, sentence).await;
    }
}
