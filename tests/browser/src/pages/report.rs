//! The report of a shift.

use super::glass::{Glass, css};
use super::parts;

/// The report.
#[derive(Clone, Debug)]
pub struct Report(pub(super) Glass);

impl Report {
    /// Waits until the report with this title is shown, and reads all of it.
    pub async fn read(&self, title: &str) -> String {
        self.0.see("the report", css(".report h1"), title).await;
        self.0.read("the report", css(".report")).await
    }

    /// Types who worked the shift, and leaves it at that.
    pub async fn type_who(&self, name: &str) {
        let label = "Who worked this shift?";
        self.0.type_over(label, parts::field(label), name).await;
        self.see_who(name).await;
    }

    /// Waits until this name stands in the field.
    pub async fn see_who(&self, name: &str) {
        let label = "Who worked this shift?";
        self.0.see_value(label, parts::field(label), name).await;
    }

    /// Keeps the name.
    pub async fn keep_who(&self) {
        self.0.tap("Keep the name", css("button.keep-who")).await;
    }

    /// Waits until a line of the report says this.
    pub async fn see_line(&self, text: &str) {
        self.0.see("the report", css(".report"), text).await;
    }

    /// Prints.
    pub async fn print(&self) {
        self.0.tap("Print", css("button.print")).await;
    }

    /// Waits until nothing is offered to be shared.
    pub async fn see_no_share_sheet(&self) {
        let at = css("button.share-report");
        self.0.see_none("Share", at).await;
    }

    /// Copies it as text, and waits until that is done.
    pub async fn copy(&self) {
        self.copy_and_be_told("Done.").await;
    }

    /// Copies it as text, and waits until this is said of it, in whatever language.
    pub async fn copy_and_be_told(&self, said: &str) {
        self.0.tap("Copy as text", css("button.copy-report")).await;
        let told = css("main > [role=status]");
        self.0.see("what came of copying", told, said).await;
    }
}
