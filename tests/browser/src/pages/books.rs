//! The books over time and the season plan.

use super::glass::{Glass, css, quoted, xpath};
use super::parts;

/// The books over time.
#[derive(Clone, Debug)]
pub struct Books(pub(super) Glass);

impl Books {
    /// Picks the time: "This week", "This month", "This season", "All".
    pub async fn time(&self, which: &str) {
        parts::pick(&self.0, "Which time?", which).await;
    }

    /// Picks what sums are made for: "Machine", "Road", "Work", "Week".
    pub async fn sums_for(&self, each: &str) {
        parts::pick(&self.0, "Sums for each", each).await;
    }

    /// Waits until the sum of all says this.
    pub async fn see_whole(&self, text: &str) {
        self.0
            .see("the sum of all", css(".books-whole"), text)
            .await;
    }

    /// Waits until nothing is said to have been recorded.
    pub async fn see_empty(&self) {
        self.0
            .see(
                "that nothing was recorded",
                css(".books-empty"),
                "Nothing was",
            )
            .await;
    }

    /// Opens a part if it is folded, and waits until it says this.
    pub async fn see_part(&self, name: &str, text: &str) {
        let part = format!(
            "//details[contains(@class, 'books-fold')][summary[normalize-space()={}]]",
            quoted(name)
        );
        self.0.unfold(name, xpath(part.clone())).await;
        let awaited = format!("the sums of {name:?}");
        self.0.see(&awaited, xpath(part), text).await;
    }

    /// What the picture of the blade-hours says to those who cannot see it, once it says this.
    pub async fn see_chart(&self, text: &str) {
        self.0
            .attributes_once(text, css(".bars"), "aria-label", |told| {
                told.iter().any(|it| it.contains(text))
            })
            .await;
    }

    /// Waits until it says this of oiling on time.
    pub async fn see_help(&self, text: &str) {
        self.0
            .see("whether oiling helps", css(".help-told"), text)
            .await;
    }

    /// How many pictures there are.
    pub async fn pictures(&self) -> usize {
        self.0.count("the pictures", css(".bars")).await
    }

    /// Opens the form of the prices.
    pub async fn open_the_prices(&self) {
        self.0.unfold("Prices", css(".books-prices")).await;
    }

    /// Types into a field of the form.
    pub async fn fill(&self, label: &str, text: &str) {
        self.0.type_over(label, parts::field(label), text).await;
        self.see_field(label, text).await;
    }

    /// Waits until this stands in a field.
    pub async fn see_field(&self, label: &str, text: &str) {
        self.0.see_value(label, parts::field(label), text).await;
    }

    /// Keeps the prices.
    pub async fn keep_the_prices(&self) {
        self.0.tap("Keep", css("button.keep-prices")).await;
    }

    /// Waits until it says what is wrong with a price.
    pub async fn see_wrong(&self, sentence: &str) {
        let at = xpath(format!(
            "//p[@class='wrong'][contains(., {})]",
            quoted(sentence)
        ));
        self.0.see_some(sentence, at).await;
    }
}

/// The season plan.
#[derive(Clone, Debug)]
pub struct Season(pub(super) Glass);

impl Season {
    /// Waits until it says this of what the season asks for.
    pub async fn see_answer(&self, text: &str) {
        self.0
            .see("what it asks for", css(".season-answer"), text)
            .await;
    }

    /// Types a road with the hours that a visit takes, and adds it.
    pub async fn add(&self, name: &str, hours: &str) {
        for (label, text) in [
            ("Name of another road", name),
            ("Hours that a visit takes", hours),
        ] {
            self.0.type_over(label, parts::field(label), text).await;
            self.0.see_value(label, parts::field(label), text).await;
        }
        self.0.tap("Add the road", css("button.season-add")).await;
    }

    /// Adds a road that is known from the plan, by how its button begins.
    pub async fn add_known(&self, road: &str) {
        let at = xpath(format!(
            "//button[contains(@class, 'season-add-known')][contains(., {})]",
            quoted(road)
        ));
        self.0.tap(road, at).await;
    }

    /// Waits until a road that is being added is told to be wrong.
    pub async fn see_wrong(&self, sentence: &str) {
        let at = xpath(format!(
            "//p[@class='wrong'][contains(., {})]",
            quoted(sentence)
        ));
        self.0.see_some(sentence, at).await;
    }

    /// Raises a number: "Visits to Alder Loop", "Weeks", "First day".
    pub async fn raise(&self, label: &str, taps: usize) {
        parts::raise(&self.0, label, taps).await;
    }

    /// Lowers a number.
    pub async fn lower(&self, label: &str, taps: usize) {
        parts::lower(&self.0, label, taps).await;
    }

    /// Waits until a number is shown so.
    pub async fn see_number(&self, label: &str, shown: &str) {
        parts::see_number(&self.0, label, shown).await;
    }

    /// Keeps the plan.
    pub async fn keep(&self) {
        self.0.tap("Keep", css("button.keep-season")).await;
    }
}
