//! A note.

use super::glass::{Glass, css};

/// The note.
#[derive(Clone, Debug)]
pub struct Note(pub(super) Glass);

impl Note {
    /// Waits until it is shown.
    pub async fn see(&self) {
        self.0.see_some("the note", css("textarea.note-text")).await;
    }

    /// Writes it.
    pub async fn write(&self, text: &str) {
        self.0
            .type_over("the note", css("textarea.note-text"), text)
            .await;
    }

    /// Waits until this is what stands there.
    pub async fn see_text(&self, text: &str) {
        self.0
            .see_value("the note", css("textarea.note-text"), text)
            .await;
    }

    /// Keeps it.
    pub async fn keep(&self) {
        self.0.tap("Keep", css("button.keep")).await;
    }
}
