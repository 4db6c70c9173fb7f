//! The shifts so far, and the way to the records.

use super::glass::{Glass, css, quoted, xpath};

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

    /// Waits until these are the last shifts that it lists, the very last one first.
    pub async fn see_last_shifts(&self, shifts: &[&str]) {
        let awaited = format!("the book lists {shifts:?} first");
        let last = |listed: &[String]| listed.iter().zip(shifts).all(|(it, wanted)| it == wanted);
        self.0
            .read_all_once(&awaited, css(".shift-of-book"), |listed| {
                shifts.len() <= listed.len() && last(listed)
            })
            .await;
    }

    /// How many shifts it lists, once it lists any.
    pub async fn shifts(&self) -> usize {
        let listed = self
            .0
            .read_all_once("the book lists shifts", css(".shift-of-book"), |it| {
                !it.is_empty()
            });
        listed.await.len()
    }

    /// Opens the report of the last shift.
    pub async fn open_the_last(&self) {
        self.0.tap("the last shift", css(".shift-of-book")).await;
    }

    /// Goes to the books over time.
    pub async fn open_the_books(&self) {
        self.0.tap("Books over time", css("a.to-books")).await;
        self.0
            .see("the heading", css("main h1"), "Books over time")
            .await;
    }

    /// Goes to the season plan.
    pub async fn open_the_season(&self) {
        self.0.tap("Season plan", css("a.to-season")).await;
        self.0
            .see("the heading", css("main h1"), "Season plan")
            .await;
    }

    /// Opens the report of a shift by its line in the list.
    pub async fn open(&self, shift: &str) {
        let at = xpath(format!(
            "//a[contains(@class, 'shift-of-book')][normalize-space()={}]",
            quoted(shift)
        ));
        self.0.tap(shift, at).await;
    }

    /// Waits until it says how the last backup stands.
    pub async fn see_backup(&self, stands: &str) {
        self.0
            .see("the last backup", css(".backup-state"), stands)
            .await;
    }

    /// Waits until it raises that there has been no backup for long.
    pub async fn see_backup_raised(&self, sentence: &str) {
        self.0
            .see("the missing backup", css(".backup-state.caution"), sentence)
            .await;
    }

    /// Goes on to the records.
    pub async fn to_records(&self) {
        self.0.tap("Backup and records", css("a.to-records")).await;
    }
}
