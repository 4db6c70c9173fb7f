//! In which language the app speaks.

use std::fs;
use std::path::PathBuf;

use super::glass::{Glass, css, nothing, quoted, xpath};
use crate::process::required;

/// The language, wherever it can be chosen.
#[derive(Clone, Debug)]
pub struct Languages(pub(super) Glass);

impl Languages {
    /// What the built app says under a key in a language.
    pub fn words(language: &str, key: &str) -> String {
        let part = |folder: &str| {
            let file = format!("{folder}/{language}.txt");
            let file = PathBuf::from(required("EVENROW_DIST")).join(file);
            fs::read_to_string(file).expect("the words of the build")
        };
        let file = [part("words"), part("later")].join("\n");
        let said = file.lines().filter_map(|line| line.split_once(" = "));
        let said = said.filter_map(|(known, said)| (known == key).then_some(said));
        said.map(str::to_owned).collect()
    }

    /// Waits until the app speaks this language: the heading of the screen says what stands under a key.
    pub async fn see(&self, language: &str, heading: &str) {
        self.0
            .attributes_once("the language", css("html"), "lang", |shown| {
                shown == [language]
            })
            .await;
        let heading = Languages::words(language, heading);
        self.0
            .see("the heading", css("main h1"), heading.trim())
            .await;
    }

    /// What the languages call themselves, before anything is unfolded.
    pub async fn see_names(&self, names: &str) {
        self.0
            .see("the languages", css(".languages summary"), names)
            .await;
    }

    /// Chooses a language by what it calls itself.
    pub async fn choose(&self, name: &str) {
        self.0.unfold("the languages", css(".languages")).await;
        let at = xpath(format!(
            "//details[@class='languages']//button[normalize-space()={}]",
            quoted(name)
        ));
        self.0.tap(name, at).await;
    }

    /// Waits until it is said that the words cannot be had.
    pub async fn see_missing(&self) {
        self.0
            .see("what is missing", css("[role=alert]"), "cannot be had")
            .await;
    }

    /// Leaves a mark on the page that no reload outlives.
    pub async fn mark_the_page(&self) {
        let script = "globalThis.storyMark = true;";
        self.0.script("the page", script, nothing()).await;
    }

    /// Whether the page is still the one that was marked.
    pub async fn is_the_marked_page(&self) -> bool {
        let script = "return globalThis.storyMark === true;";
        self.0.script("the page", script, nothing()).await == true
    }

    /// Waits until the screen says something, wherever.
    pub async fn see_said(&self, said: &str) {
        self.0.see("the screen", css("main"), said).await;
    }
}
