//! The opening and the closing checklist.

use super::glass::{Glass, css, quoted, xpath};

/// A checklist.
#[derive(Clone, Debug)]
pub struct Checklist(pub(super) Glass);

impl Checklist {
    /// Waits until this list is shown: "Opening checklist", "Closing checklist".
    pub async fn see(&self, list: &str) {
        self.0.see("the checklist", css("main h1"), list).await;
        self.0.see_some("something to tick", css(".tick")).await;
    }

    /// Everything on it, in order.
    pub async fn items(&self) -> Vec<String> {
        self.0.read_all("the items", css(".tick-text")).await
    }

    /// Ticks everything, from the top.
    pub async fn tick_all(&self) {
        for at in 0..self.items().await.len() {
            self.tick(at).await;
        }
    }

    /// Ticks one, counted from 0, and waits until it is kept.
    pub async fn tick(&self, at: usize) {
        let tick = nth(at);
        self.0.tap("something to tick", tick.clone()).await;
        let awaited = format!("number {} is ticked", at + 1);
        self.0
            .attributes_once(&awaited, tick, "aria-checked", |it| it == ["true"])
            .await;
    }

    /// Waits until just these are ticked, counted from 0.
    pub async fn see_ticked(&self, ticked: &[usize]) {
        let awaited = format!("just {ticked:?} are ticked");
        self.0
            .attributes_once(&awaited, css(".tick"), "aria-checked", |shown| {
                !shown.is_empty()
                    && shown
                        .iter()
                        .enumerate()
                        .all(|(at, it)| (it == "true") == ticked.contains(&at))
            })
            .await;
    }

    /// Waits until it says how many are open.
    pub async fn see_open(&self, sentence: &str) {
        let at = xpath(format!("//main//p[contains(., {})]", quoted(sentence)));
        self.0.see_some(sentence, at).await;
    }

    /// Ends the shift.
    pub async fn end_the_shift(&self) {
        self.0.tap("End the shift", css("button.end-shift")).await;
    }

    /// Goes back to the shift.
    pub async fn back_to_the_shift(&self) {
        let at = xpath("//main//a[normalize-space()='Back to the shift']");
        self.0.tap("Back to the shift", at).await;
    }
}

fn nth(at: usize) -> thirtyfour::By {
    css(format!(".ticks > .tick:nth-of-type({})", at + 1))
}
