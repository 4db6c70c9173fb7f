//! How many teeth do not turn.

use super::glass::{Glass, css};
use super::parts;

/// The form for teeth that do not turn.
#[derive(Clone, Debug)]
pub struct Look(pub(super) Glass);

impl Look {
    /// Waits until it is shown.
    pub async fn see(&self) {
        self.0.see("the form for teeth", css("main h1"), "Which teeth do not turn?").await;
    }

    /// Counts more of a kind: "Stiff", "Stuck", "Broken or gone".
    pub async fn more(&self, kind: &str, count: usize) {
        parts::raise(&self.0, kind, count).await;
    }

    /// Waits until so many of a kind are counted.
    pub async fn see_count(&self, kind: &str, count: &str) {
        parts::see_number(&self.0, kind, count).await;
    }

    /// Keeps it.
    pub async fn keep(&self) {
        self.0.tap("Keep", css("button.keep")).await;
    }
}
