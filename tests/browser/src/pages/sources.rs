//! Every number and what it rests on, and the bibliography.

use super::glass::{Glass, css, one, quoted, xpath};

/// What the link to it says, and its heading.
const NAME: &str = "Every number and what it rests on";

/// The list.
#[derive(Clone, Debug)]
pub struct Sources(pub(super) Glass);

/// A number or a statement, as it is shown.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stated {
    /// The value, row by row where it is a table; empty for a statement. Of a source, its title.
    pub head: String,
    /// The sentence.
    pub text: String,
    /// What it rests on.
    pub basis: String,
}

impl Sources {
    /// Waits until the list is shown.
    pub async fn see(&self) {
        self.0.see("the heading", css("main h1"), NAME).await;
        self.0
            .see_some("a group of numbers", css(".sources .sheet-line"))
            .await;
    }

    /// Goes there from the screen that is shown.
    pub async fn open(&self) {
        let link = xpath(format!("//main//a[normalize-space()={}]", quoted(NAME)));
        self.0.tap(NAME, link).await;
        self.see().await;
    }

    /// Opens a group and waits until it shows this.
    pub async fn see_in(&self, group: &str, text: &str) {
        let line = format!(
            "//details[summary//span[contains(@class, 'sheet-line-what')][starts-with(normalize-space(), {})]]",
            quoted(&format!("{group} ("))
        );
        self.0.tap(group, xpath(format!("{line}/summary"))).await;
        self.0
            .see(group, xpath(format!("{line}[@open]/ul")), text)
            .await;
    }

    /// Every number and statement in order, once all groups are unfolded.
    pub async fn all(&self) -> Vec<Stated> {
        self.items("details li").await
    }

    /// Every source of the bibliography in order.
    pub async fn books(&self) -> Vec<Stated> {
        self.items(":scope > .reasons > li").await
    }

    /// What is listed; blanks that hold words together count as blanks.
    async fn items(&self, which: &str) -> Vec<Stated> {
        let script = "const [which] = arguments;
            return [...document.querySelectorAll('.sources')]
                .flatMap((it) => [...it.querySelectorAll(which)])
                .map((it) => {
                    const [head, basis] = ['.reason-head', '.basis'].map((part) => it.querySelector(part));
                    return [head.textContent, head.nextSibling.textContent, basis.textContent];
                });";
        let found = self.0.script("the list", script, one(which)).await;
        let text = |value: &serde_json::Value| {
            let text = value.as_str().unwrap_or_default();
            text.replace('\u{a0}', " ")
        };
        let rows = found.as_array().cloned().unwrap_or_default();
        let stated = rows.iter().map(|row| Stated {
            head: text(&row[0]),
            text: text(&row[1]),
            basis: text(&row[2]),
        });
        stated.collect()
    }

    /// Waits until it is said that the list cannot be read.
    pub async fn see_that_it_cannot_be_read(&self) {
        let at = css("main .notice-text");
        self.0
            .see("why there is no list", at, "cannot be read")
            .await;
    }

    /// Has it tried again.
    pub async fn try_again(&self) {
        self.0.tap("Try again", css("main .notice-action")).await;
    }
}
