//! The screen in place of an app that has stopped or did not start.

use super::glass::{Glass, css, nothing};
use crate::wait::{self, NotYet};

/// The screen of the dead app.
#[derive(Clone, Debug)]
pub struct Dead(pub(super) Glass);

impl Dead {
    /// Waits until it is shown under this heading, with nothing beside it.
    pub async fn see(&self, heading: &str) {
        self.0
            .read_all_once(
                &format!("{heading:?} is the only heading"),
                css("h1"),
                |headings| headings == [heading],
            )
            .await;
    }

    /// All that it says.
    pub async fn words(&self) -> String {
        self.0.read("the screen of the dead app", css("body")).await
    }

    /// What happened, in the words of the program: the moment comes first.
    pub async fn said(&self) -> String {
        self.0.read("what happened", css("[data-dead=said]")).await
    }

    /// Starts the app again, and waits until it lives.
    pub async fn start_again(&self) {
        self.0.tap("Start again", css("[data-dead=restart]")).await;
    }

    /// Copies the records, and waits until that is done.
    pub async fn copy_records(&self) {
        self.tap_copy().await;
        self.0
            .see("what came of copying", css("[role=status]"), "Copied.")
            .await;
    }

    /// Copies the records where the browser does not, and gives what is left to be copied by hand.
    pub async fn copy_records_by_hand(&self) -> String {
        self.tap_copy().await;
        self.0
            .see(
                "what is to be done",
                css("[data-dead=by-hand]"),
                "Copy all of this by hand",
            )
            .await;
        let script = "
            const field = document.activeElement;
            return field.value?.slice(field.selectionStart, field.selectionEnd);";
        let selected = self.0.script("what is selected", script, nothing()).await;
        selected.as_str().unwrap_or_default().to_owned()
    }

    /// Everything that the key that leads from one control to the next comes to, in order, until it comes round.
    pub async fn what_the_focus_reaches(&self) -> Vec<String> {
        let script = "
            const all = [...document.querySelectorAll('a, button, input, textarea, select, summary, [tabindex]')];
            return all.filter((it) => it.checkVisibility() && it.tabIndex >= 0 && !it.closest('[inert]'))
                .map((it) => it.innerText);";
        let found = self.0.script("the focus", script, nothing()).await;
        found
            .as_array()
            .into_iter()
            .flatten()
            .map(|it| it.as_str().unwrap_or_default().to_owned())
            .collect()
    }

    /// The message that the phone keeps, once there is one.
    pub async fn kept_message(&self) -> String {
        let script = "return JSON.parse(localStorage.getItem('evenrow.crash'))?.said ?? '';";
        wait::until("the message is kept", async || {
            let kept = self.0.script("what is kept", script, nothing()).await;
            match kept.as_str() {
                Some(message) if !message.is_empty() => Ok(message.to_owned()),
                Some(_) | None => Err(NotYet(kept.to_string())),
            }
        })
        .await
    }

    async fn tap_copy(&self) {
        self.0
            .tap("Copy the records", css("[data-dead=copy]"))
            .await;
    }
}
