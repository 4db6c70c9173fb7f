//! Marks on the frame.

use super::glass::{Glass, css, xpath};
use super::parts;

/// The screen.
#[derive(Clone, Debug)]
pub struct Marks(pub(super) Glass);

impl Marks {
    /// Goes there from Setup.
    pub async fn open(&self) {
        let link = xpath("//main//a[normalize-space()='Marks on the frame']");
        self.0.tap("Marks on the frame", link).await;
        self.0
            .see("the heading", css("main h1"), "Marks on the frame")
            .await;
    }

    /// Picks the angle that is marked: "Grading angle", "Cutting angle".
    pub async fn mark(&self, which: &str) {
        parts::pick(&self.0, "Which angle?", which).await;
    }

    /// Types the radius into the field with this label.
    pub async fn radius(&self, label: &str, text: &str) {
        self.0.type_over(label, parts::field(label), text).await;
        self.see_radius(label, text).await;
    }

    /// Waits until this stands in the field.
    pub async fn see_radius(&self, label: &str, text: &str) {
        self.0.see_value(label, parts::field(label), text).await;
    }

    /// Moves the last mark by taps.
    pub async fn last_mark_later(&self, taps: usize) {
        parts::raise(&self.0, "Last mark", taps).await;
    }

    /// Moves the last mark back by taps.
    pub async fn last_mark_earlier(&self, taps: usize) {
        parts::lower(&self.0, "Last mark", taps).await;
    }

    /// Waits until the last mark is this.
    pub async fn see_last_mark(&self, angle: &str) {
        parts::see_number(&self.0, "Last mark", angle).await;
    }

    /// Waits until it says why there is no mark beyond.
    pub async fn see_limit(&self, text: &str) {
        self.0.see("the limit", css(".marks-limit"), text).await;
    }

    /// Waits until it says what is wrong.
    pub async fn see_wrong(&self, sentence: &str) {
        self.0
            .see("what is wrong", css(".marks .wrong"), sentence)
            .await;
    }

    /// The list, row by row: angle, along the curve, straight across; once it has so many rows.
    pub async fn list(&self, rows: usize) -> Vec<[String; 3]> {
        let cells = css(".marks-list tbody th, .marks-list tbody td");
        let awaited = format!("the list has {rows} rows");
        let cells = self
            .0
            .read_all_once(&awaited, cells, |cells| cells.len() == 3 * rows)
            .await;
        let rows = cells.chunks_exact(3);
        rows.map(|row| [row[0].clone(), row[1].clone(), row[2].clone()])
            .collect()
    }

    /// Prints.
    pub async fn print(&self) {
        self.0.tap("Print the strip", css("button.print")).await;
    }

    /// Waits until it says that this browser cannot print.
    pub async fn see_that_it_cannot_print(&self) {
        self.0
            .see(
                "what to do without printing",
                css(".cannot-print"),
                "This browser cannot print.",
            )
            .await;
        self.0.see_none("the button", css("button.print")).await;
    }
}
