//! The records: backup, files taken in, tables, and the end of all of them.

use std::path::Path;

use super::glass::{Glass, css, xpath};

/// The records, the tables and the end.
#[derive(Clone, Debug)]
pub struct Records(pub(super) Glass);

impl Records {
    /// Waits until they are shown.
    pub async fn see(&self) {
        self.0.see("the records", css("main h1"), "Records").await;
    }

    /// Makes a backup.
    pub async fn back_up(&self) {
        self.0.tap("Make a backup", css("button.make-backup")).await;
    }

    /// Waits until it says what came of handing a file over.
    pub async fn see_handed(&self, sentence: &str) {
        let at = css(".backup-handed");
        self.0.see("what came of it", at, sentence).await;
    }

    /// Waits until it says how the last backup stands.
    pub async fn see_backup(&self, stands: &str) {
        self.0
            .see("the last backup", css(".backup-state"), stands)
            .await;
    }

    /// Chooses a file.
    pub async fn choose(&self, file: &Path) {
        let at = css("input.file-pick-input");
        self.0.pick_file("From a file", at, file).await;
    }

    /// Waits until it says why nothing came of a file, or that it was left.
    pub async fn see_said(&self, sentence: &str) {
        self.0
            .see("what came of the file", css(".take-in-said"), sentence)
            .await;
    }

    /// What the file that was chosen would bring, line by line, once its first line says this.
    pub async fn preview(&self, condition: &str) -> Vec<String> {
        let at = css(".preview-condition");
        self.0.see("the state of the file", at, condition).await;
        self.0
            .read_all("what it would bring", css(".preview li"))
            .await
    }

    /// Takes in what is offered.
    pub async fn take_in(&self) {
        self.0.tap("Take in", css("button.take-in-now")).await;
    }

    /// Waits until so many records have been taken in.
    pub async fn see_taken_in(&self, records: usize) {
        let sentence = format!("Records taken in: {records}");
        self.0
            .see("what was taken in", css(".taken-in"), &sentence)
            .await;
    }

    /// Leaves what is offered.
    pub async fn leave(&self) {
        self.0.tap("Leave it", css("button.leave-it")).await;
        self.0.see_none("the offer", css(".preview")).await;
    }

    /// Waits until it says how far it has come.
    pub async fn see_progress(&self, sentence: &str) {
        let at = css(".take-in-progress");
        self.0.see("the progress", at, sentence).await;
    }

    /// Stops it.
    pub async fn stop(&self) {
        self.0.tap("Stop", css("button.stop-taking-in")).await;
    }

    /// Whether nothing is offered to be taken in, only to be left.
    pub async fn offers_nothing(&self) -> bool {
        self.0.count("Take in", css("button.take-in-now")).await == 0
    }

    /// Hands over the shift that runs.
    pub async fn hand_over(&self) {
        self.0
            .tap("Hand over this shift", css("button.hand-over"))
            .await;
    }

    /// Waits until it says that the shift is with another machine, and works with that one from now on.
    pub async fn work_with(&self, machine: &str) {
        let at = xpath(format!("//button[normalize-space()='Work with {machine}']"));
        self.0.tap("the machine of the shift", at).await;
        let gone = css("button.choose-its-machine");
        self.0.see_none("the question of the machine", gone).await;
    }

    /// Copies all records as text, and waits until that is done.
    pub async fn copy_records(&self) {
        self.0
            .tap("Copy all records as text", css("button.copy-records"))
            .await;
        self.0
            .see("what came of copying", css(".records-copied"), "Done.")
            .await;
    }

    /// Waits until it says how the records are kept.
    pub async fn see_keeping(&self, sentence: &str) {
        self.0
            .see("how the records are kept", css("main"), sentence)
            .await;
    }

    /// What it says of the space that things take.
    pub async fn see_space(&self, records: &str, used: &str) {
        self.0
            .see("the records kept", css(".storage-records"), records)
            .await;
        self.0
            .see("the space used", css(".storage-used"), used)
            .await;
    }

    /// Waits until it says that the browser does not tell how much space things take.
    pub async fn see_space_unknown(&self) {
        let sentence = "This browser does not say how much space the app takes.";
        self.0
            .see("the space used", css(".storage-used"), sentence)
            .await;
    }

    /// Waits until it says how many entries came in two versions, and reads them.
    pub async fn conflicts(&self, sentence: &str) -> Vec<String> {
        let at = css(".conflicts summary");
        self.0.see("the conflicts", at.clone(), sentence).await;
        self.0.tap("the conflicts", at).await;
        self.0.read_all("the versions", css(".conflicts li")).await
    }

    /// Goes on to the tables.
    pub async fn to_tables(&self) {
        self.0
            .tap("Tables for a spreadsheet", css("a[href='#tables']"))
            .await;
    }

    /// Hands over a table.
    pub async fn table(&self, name: &str) {
        let at = xpath(format!(
            "//button[contains(@class, 'hand-table')][normalize-space()='{name}']"
        ));
        self.0.tap(name, at).await;
        let said = css(".table-handed");
        self.0
            .see("what came of it", said, "The table is handed over.")
            .await;
    }

    /// Goes on to where all records are erased.
    pub async fn to_erase(&self) {
        self.0
            .tap("Erase all records", css("a[href='#erase']"))
            .await;
    }

    /// Waits until it asks for a backup first.
    pub async fn see_asked_for_a_backup(&self) {
        self.0
            .see("the question", css(".erase-stands"), "Make one first.")
            .await;
    }

    /// Erases everything, once the button says so.
    pub async fn erase(&self, says: &str) {
        let at = css("button.erase-now");
        self.0.see("the button that erases", at.clone(), says).await;
        self.0.tap(says, at).await;
    }

    /// Waits until it says that so many records are erased.
    pub async fn see_erased(&self, records: usize) {
        let at = css(".notice:not(.notice-trouble) .notice-text");
        let sentence = format!("All records are erased: {records}.");
        self.0.see("the notice", at, &sentence).await;
    }

    /// Puts them back.
    pub async fn put_back(&self) {
        let at = xpath("//div[contains(@class, 'notice')]/button[normalize-space()='Put back']");
        self.0.tap("Put back", at.clone()).await;
        self.0.see_none("Put back", at).await;
    }
}
