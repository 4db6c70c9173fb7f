//! The bars at the top and at the foot of every screen.

use super::glass::{Glass, css, quoted, xpath};

/// The bars.
#[derive(Clone, Debug)]
pub struct Tabs(pub(super) Glass);

impl Tabs {
    /// Goes to Shift.
    pub async fn shift(&self) {
        self.go("Shift").await;
    }

    /// Goes to Setup.
    pub async fn setup(&self) {
        self.go("Setup").await;
    }

    /// Goes to Book.
    pub async fn book(&self) {
        self.go("Book").await;
    }

    /// Goes to the machine, by its name at the top.
    pub async fn machine(&self) {
        self.0
            .tap("the machine’s name", css("a.top-bar-machine"))
            .await;
    }

    /// Waits until the machine has this name.
    pub async fn see_machine(&self, name: &str) {
        self.0
            .see("the machine’s name", css(".top-bar-name"), name)
            .await;
    }

    /// Waits until the clock at the top shows this.
    pub async fn see_clock(&self, time: &str) {
        self.0.see("the clock", css(".top-bar-clock"), time).await;
    }

    /// Changes between the two looks.
    pub async fn other_look(&self) {
        self.0
            .tap("the other look", css("button.top-bar-theme"))
            .await;
    }

    async fn go(&self, tab: &str) {
        let at = xpath(format!("//nav//a[normalize-space()={}]", quoted(tab)));
        self.0.tap(tab, at).await;
    }
}
