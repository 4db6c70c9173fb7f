//! The shifts so far, and the copy of all records.

use super::glass::{Glass, css};

/// The book.
#[derive(Clone, Debug)]
pub struct Book(pub(super) Glass);

impl Book {
    /// Waits until it is shown.
    pub async fn see(&self) {
        self.0.see("the book", css("main h1"), "Book").await;
    }

    /// Waits until it lists just these shifts, the last one first.
    pub async fn see_shifts(&self, shifts: &[&str]) {
        let awaited = format!("the book lists {shifts:?}");
        self.0
            .read_all_once(&awaited, css(".shift-of-book"), |listed| listed == shifts)
            .await;
    }

    /// Opens the report of the last shift.
    pub async fn open_the_last(&self) {
        self.0.tap("the last shift", css(".shift-of-book")).await;
    }

    /// Copies all records, and waits until that is done.
    pub async fn copy_records(&self) {
        self.0
            .tap("Copy all records", css("button.copy-records"))
            .await;
        self.0
            .see("what came of copying", css("main > [role=status]"), "Done.")
            .await;
    }
}
