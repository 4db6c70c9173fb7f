//! The grading angle by tape.

use super::glass::{Glass, css};
use super::parts::{field, lower, raise, see_number};

/// The screen.
#[derive(Clone, Debug)]
pub struct Grading(pub(super) Glass);

const WANTED: &str = "Grading angle wanted";

impl Grading {
    /// Waits until it is shown.
    pub async fn see(&self) {
        self.0
            .see("the screen", css("main h1"), "Grading angle by tape")
            .await;
    }

    /// Waits until this is the angle wanted.
    pub async fn see_wanted(&self, angle: &str) {
        see_number(&self.0, WANTED, angle).await;
    }

    /// Raises the angle by so many degrees.
    pub async fn raise(&self, degrees: usize) {
        raise(&self.0, WANTED, degrees).await;
    }

    /// Lowers the angle by so many degrees.
    pub async fn lower(&self, degrees: usize) {
        lower(&self.0, WANTED, degrees).await;
    }

    /// Waits until it says what to set, or why not.
    pub async fn see_set(&self, text: &str) {
        self.0.see("what to set", css(".grading-set"), text).await;
    }

    /// Types an offset that was measured.
    pub async fn measured(&self, label: &str, typed: &str) {
        self.0.type_over(label, field(label), typed).await;
    }

    /// Waits until it says what that angle is, and how it stands.
    pub async fn see_back(&self, text: &str) {
        self.0.see("the angle", css(".grading-back"), text).await;
    }

    /// Unfolds the table and reads it: each line an angle and an offset.
    pub async fn table(&self) -> Vec<String> {
        self.0.unfold("the table", css(".grading-table")).await;
        let rows = css(".grading-table tbody tr");
        let filled = |rows: &[String]| rows.iter().all(|it| !it.is_empty());
        self.0.read_all_once("the table", rows, filled).await
    }
}
