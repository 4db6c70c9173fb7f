//! The report of a shift.

use super::glass::{Glass, css};

/// The report.
#[derive(Clone, Debug)]
pub struct Report(pub(super) Glass);

impl Report {
    /// Waits until the report with this title is shown, and reads all of it.
    pub async fn read(&self, title: &str) -> String {
        self.0.see("the report", css(".report h1"), title).await;
        self.0.read("the report", css(".report")).await
    }

    /// Copies it as text, and waits until that is done.
    pub async fn copy(&self) {
        self.0.tap("Copy as text", css("button.copy-report")).await;
        self.0
            .see("what came of copying", css("main > [role=status]"), "Done.")
            .await;
    }
}
