//! The choice of work.

use super::glass::{Glass, css, quoted, xpath};

/// The list of works.
#[derive(Clone, Debug)]
pub struct Setup(pub(super) Glass);

impl Setup {
    /// Waits until it is shown.
    pub async fn see(&self) {
        self.0
            .see("the choice of work", css("main h1"), "What is the work?")
            .await;
    }

    /// Chooses a work.
    pub async fn choose(&self, work: &str) {
        let at = xpath(format!(
            "//a[contains(@class, 'work-choice')][normalize-space()={}]",
            quoted(work)
        ));
        self.0.tap(work, at).await;
        self.0.see("the sheet", css("main h1"), work).await;
    }

    /// Opens what is done on the steel.
    pub async fn on_the_steel(&self, what: &str) {
        let at = xpath(format!(
            "//a[contains(@class, 'steel-choice')][normalize-space()={}]",
            quoted(what)
        ));
        self.0.tap(what, at).await;
        self.0.see("the screen", css("main h1"), what).await;
    }

    /// The works offered.
    pub async fn works(&self) -> Vec<String> {
        self.0.read_all("the works", css(".work-choice")).await
    }
}
