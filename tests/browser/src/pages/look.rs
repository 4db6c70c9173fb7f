//! How many teeth do not turn.

use serde_json::json;

use super::glass::{Glass, css};
use super::parts;

/// The form for teeth that do not turn.
#[derive(Clone, Debug)]
pub struct Look(pub(super) Glass);

impl Look {
    /// Waits until it is shown.
    pub async fn see(&self) {
        self.0
            .see(
                "the form for teeth",
                css("main h1"),
                "Which teeth do not turn?",
            )
            .await;
    }

    /// Counts more of a kind: "Stiff", "Stuck", "Broken or gone".
    pub async fn more(&self, kind: &str, count: usize) {
        parts::raise(&self.0, kind, count).await;
    }

    /// Counts more of a kind, faster than a finger can.
    pub async fn count_fast(&self, kind: &str, count: usize) {
        let script = "const [kind, count] = arguments;
            const more = document.querySelector(`.stepper[aria-label='${kind}'] .stepper-more`);
            for (let tap = 0; tap < count; tap += 1) more.click();";
        self.0
            .script("many taps", script, vec![json!(kind), json!(count)])
            .await;
        self.see_count(kind, &count.to_string()).await;
    }

    /// Counts fewer of a kind.
    pub async fn fewer(&self, kind: &str, count: usize) {
        parts::lower(&self.0, kind, count).await;
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
