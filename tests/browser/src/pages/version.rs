//! The version, what is new, the licences; and the card that says what is new.

use super::glass::{Glass, css, nothing, one, quoted, xpath};

/// The page and the card.
#[derive(Clone, Debug)]
pub struct Version(pub(super) Glass);

impl Version {
    /// Waits until the page is shown with all that it reads.
    pub async fn see(&self) {
        self.0
            .see("the heading", css("main h1"), "Version and licences")
            .await;
        self.0.see("the version", css(".version"), "Evenrow ").await;
        self.0.see_some("news", css("main > .news-list li")).await;
        self.0.see_some("a licence", css(".licence")).await;
    }

    /// Goes there from the machine.
    pub async fn open(&self) {
        self.0
            .tap("Version and licences", css("a.to-version"))
            .await;
        self.see().await;
    }

    /// What it calls itself.
    pub async fn said(&self) -> String {
        self.0.read("the version", css(".version")).await
    }

    /// How many texts there are.
    pub async fn texts(&self) -> usize {
        self.0.count("the licences", css(".licence")).await
    }

    /// Opens the line of these works and waits until the terms say this.
    pub async fn see_terms(&self, works: &str, text: &str) {
        let line = format!(
            "//details[summary[starts-with(normalize-space(), {})]]",
            quoted(works)
        );
        self.0.tap(works, xpath(format!("{line}/summary"))).await;
        self.0
            .see(works, xpath(format!("({line})[@open]")), text)
            .await;
    }

    /// Waits until the card says that this is new.
    pub async fn see_new(&self, text: &str) {
        self.0.see("what is new", css(".news"), text).await;
    }

    /// Waits until there is no such card, although the screen has read what is new.
    pub async fn see_nothing_new(&self) {
        self.0.see_none("the card of the news", css(".news")).await;
    }

    /// Says that it was understood.
    pub async fn understood(&self) {
        self.0.tap("Understood", css(".news .news-read")).await;
        self.see_nothing_new().await;
    }

    /// The phone has read the news up to a day, and then got a newer version.
    pub async fn was_read_up_to(&self, day: &str) {
        let script = "localStorage.setItem('evenrow.news', JSON.stringify(arguments[0]));";
        self.0.script("the news", script, one(day)).await;
    }

    /// Up to which day the phone has read the news, once it has.
    pub async fn read_up_to(&self) -> String {
        let script = "return localStorage.getItem('evenrow.news') ?? '';";
        let read = crate::wait::until("the news count as read", async || {
            let read = self.0.script("the news", script, nothing()).await;
            match read.as_str() {
                Some(day) if !day.is_empty() => Ok(day.to_owned()),
                Some(_) | None => Err(crate::wait::NotYet("not read".to_owned())),
            }
        });
        read.await
    }
}
