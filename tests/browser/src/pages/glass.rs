//! The glass of the phone: what a finger does to it, and what an eye reads from it.

use std::path::Path;

use serde_json::json;
use thirtyfour::prelude::*;

use crate::engine::Engine;
use crate::wait::{self, NotYet};

/// The glass.
#[derive(Clone, Debug)]
pub struct Glass {
    driver: WebDriver,
    engine: Engine,
}

/// A CSS selector.
pub fn css(selector: impl Into<String>) -> By {
    By::Css(selector.into())
}

/// An XPath, for what is found by its words.
pub fn xpath(path: impl Into<String>) -> By {
    By::XPath(path.into())
}

/// A text as an XPath literal. It has no way to write both kinds of quotes in one.
pub fn quoted(text: &str) -> String {
    if text.contains('"') {
        format!("'{text}'")
    } else {
        format!("\"{text}\"")
    }
}

impl Glass {
    pub(super) fn of(driver: WebDriver, engine: Engine) -> Glass {
        Glass { driver, engine }
    }

    /// Taps something, once it is there and nothing covers it. It is brought to the middle first, as a thumb would.
    pub async fn tap(&self, what: &str, at: By) {
        wait::until(&format!("{what} can be tapped"), async || {
            self.the_next_frame().await?;
            let found = self.driver.find(at.clone()).await?;
            self.to_the_middle(&found).await?;
            Ok(found.click().await?)
        })
        .await;
    }

    /// Taps something so many times in a row.
    pub async fn tap_times(&self, what: &str, at: By, times: usize) {
        for _ in 0..times {
            self.tap(what, at.clone()).await;
        }
    }

    /// Unfolds something folded, once it is there. What stands open already is left so.
    pub async fn unfold(&self, what: &str, at: By) {
        wait::until(&format!("{what} can be unfolded"), async || {
            self.the_next_frame().await?;
            let found = self.driver.find(at.clone()).await?;
            if found.prop("open").await?.as_deref() == Some("true") {
                return Ok(());
            }
            let summary = found.find(css("summary")).await?;
            self.to_the_middle(&summary).await?;
            Ok(summary.click().await?)
        })
        .await;
    }

    /// Types into a field in place of what stands there.
    pub async fn type_over(&self, what: &str, at: By, text: &str) {
        wait::until(&format!("{what} can be typed into"), async || {
            let field = self.driver.find(at.clone()).await?;
            self.to_the_middle(&field).await?;
            field.click().await?;
            field.send_keys(Key::Control + "a").await?;
            field.send_keys(text).await?;
            // A loaded computer may select too late, and what stood there stays.
            let stands = field.prop("value").await?.unwrap_or_default();
            if stands == text {
                Ok(())
            } else {
                Err(NotYet(format!("{stands:?}")))
            }
        })
        .await;
    }

    /// Picks a file in a field of files.
    pub async fn pick_file(&self, what: &str, at: By, path: &Path) {
        let path = path.display().to_string();
        wait::until(&format!("{what} takes a file"), async || {
            Ok(self.driver.find(at.clone()).await?.send_keys(&path).await?)
        })
        .await;
    }

    /// Leaves a field, as by a tap beside it.
    pub async fn leave(&self, what: &str, at: By) {
        wait::until(&format!("{what} can be left"), async || {
            let field = self.driver.find(at.clone()).await?;
            Ok(field.send_keys(Key::Tab + "").await?)
        })
        .await;
    }

    /// Puts the focus on something.
    pub async fn focus(&self, what: &str, at: By) {
        wait::until(&format!("{what} can have the focus"), async || {
            Ok(self.driver.find(at.clone()).await?.focus().await?)
        })
        .await;
    }

    /// Presses the Tab key, wherever the focus is.
    pub async fn press_tab(&self) {
        self.press(Key::Tab).await;
    }

    /// Types letters into what has the focus.
    pub async fn type_here(&self, text: &str) {
        wait::until("letters can be typed", async || {
            let focused = self.driver.active_element().await?;
            Ok(focused.send_keys(text).await?)
        })
        .await;
    }

    /// Presses a key, wherever the focus is.
    pub async fn press(&self, key: Key) {
        wait::until("a key can be pressed", async || {
            let focused = self.driver.active_element().await?;
            Ok(focused.send_keys(key.clone() + "").await?)
        })
        .await;
    }

    /// Presses the Tab key until the focus is on the first thing that is this, once round the page at most.
    pub async fn tab_to(&self, what: &str, selector: &str) {
        let script = "return document.activeElement?.matches(arguments[0]) ?? false;";
        for _ in 0..150 {
            self.press_tab().await;
            if self.script(what, script, one(selector)).await == true {
                return;
            }
        }
        panic!("the Tab key never comes to {what}");
    }

    /// Reads something, once it is there.
    pub async fn read(&self, what: &str, at: By) -> String {
        self.read_once(what, at, |_| true).await
    }

    /// Reads something, once it says this.
    pub async fn see(&self, what: &str, at: By, wanted: &str) {
        let awaited = format!("{what} says {wanted:?}");
        self.read_once(&awaited, at, |text| text.contains(wanted))
            .await;
    }

    /// Reads something, once it is so.
    pub async fn read_once(&self, awaited: &str, at: By, so: impl Fn(&str) -> bool) -> String {
        wait::until(awaited, async || {
            let text = self.driver.find(at.clone()).await?.text().await?;
            if so(&text) {
                Ok(text)
            } else {
                Err(NotYet(format!("{text:?}")))
            }
        })
        .await
    }

    /// Reads all of these, in order, as they stand now.
    pub async fn read_all(&self, what: &str, at: By) -> Vec<String> {
        self.read_all_once(what, at, |_| true).await
    }

    /// Reads all of these, once they are so.
    pub async fn read_all_once(
        &self,
        awaited: &str,
        at: By,
        so: impl Fn(&[String]) -> bool,
    ) -> Vec<String> {
        wait::until(awaited, async || {
            let mut texts = Vec::new();
            for found in self.driver.find_all(at.clone()).await? {
                texts.push(found.text().await?);
            }
            if so(&texts) {
                Ok(texts)
            } else {
                Err(NotYet(format!("{texts:?}")))
            }
        })
        .await
    }

    /// An attribute of all of these, in order, once they are so.
    pub async fn attributes_once(
        &self,
        awaited: &str,
        at: By,
        name: &str,
        so: impl Fn(&[String]) -> bool,
    ) -> Vec<String> {
        wait::until(awaited, async || {
            let mut values = Vec::new();
            for found in self.driver.find_all(at.clone()).await? {
                values.push(found.attr(name).await?.unwrap_or_default());
            }
            if so(&values) {
                Ok(values)
            } else {
                Err(NotYet(format!("{values:?}")))
            }
        })
        .await
    }

    /// What stands in all that are this, whether the eye sees it or not, once it is so.
    pub async fn texts_once(&self, awaited: &str, selector: &str, so: impl Fn(&[String]) -> bool) {
        let script =
            "return [...document.querySelectorAll(arguments[0])].map((it) => it.textContent);";
        wait::until(awaited, async || {
            let found = self.script(awaited, script, one(selector)).await;
            let found = found.as_array().into_iter().flatten();
            let texts: Vec<String> = found
                .map(|it| it.as_str().unwrap_or_default().to_owned())
                .collect();
            if so(&texts) {
                Ok(())
            } else {
                Err(NotYet(format!("{texts:?}")))
            }
        })
        .await;
    }

    /// An attribute of something, once it is there.
    pub async fn attribute(&self, what: &str, at: By, name: &str) -> String {
        let all = self
            .attributes_once(what, at, name, |values| values.len() == 1)
            .await;
        all.concat()
    }

    /// What stands in a field, once it is there.
    pub async fn value(&self, what: &str, at: By) -> String {
        wait::until(what, async || {
            Ok(self
                .driver
                .find(at.clone())
                .await?
                .prop("value")
                .await?
                .unwrap_or_default())
        })
        .await
    }

    /// What stands in a field, once it is this.
    pub async fn see_value(&self, what: &str, at: By, wanted: &str) {
        wait::until(&format!("{what} holds {wanted:?}"), async || {
            let value = self
                .driver
                .find(at.clone())
                .await?
                .prop("value")
                .await?
                .unwrap_or_default();
            if value == wanted {
                Ok(())
            } else {
                Err(NotYet(format!("{value:?}")))
            }
        })
        .await;
    }

    /// How many of these there are now.
    pub async fn count(&self, what: &str, at: By) -> usize {
        wait::until(what, async || {
            Ok(self.driver.find_all(at.clone()).await?.len())
        })
        .await
    }

    /// Waits until none of these is there.
    pub async fn see_none(&self, what: &str, at: By) {
        wait::until(&format!("{what} is gone"), async || {
            match self.driver.find_all(at.clone()).await?.len() {
                0 => Ok(()),
                some => Err(NotYet(format!("{some} of them"))),
            }
        })
        .await;
    }

    /// Waits until this is there.
    pub async fn see_some(&self, what: &str, at: By) {
        self.read_once(&format!("{what} is there"), at, |_| true)
            .await;
    }

    /// Runs a script in the page with arguments, and gives what it returns.
    pub async fn script(
        &self,
        what: &str,
        script: &str,
        arguments: Vec<serde_json::Value>,
    ) -> serde_json::Value {
        wait::until(what, async || {
            Ok(self
                .driver
                .execute(script, arguments.clone())
                .await?
                .json()
                .clone())
        })
        .await
    }

    /// Runs a script that calls its last argument with an answer, and gives the answer.
    pub async fn script_with_answer(
        &self,
        what: &str,
        script: &str,
        arguments: Vec<serde_json::Value>,
    ) -> serde_json::Value {
        wait::until(what, async || {
            Ok(self
                .driver
                .execute_async(script, arguments.clone())
                .await?
                .json()
                .clone())
        })
        .await
    }

    /// Waits until a script counts so many drawings that have arrived.
    pub async fn drawn(&self, awaited: &str, script: &str, wanted: usize) {
        wait::until(awaited, async || {
            let drawn = self.script("the drawings", script, nothing()).await;
            if drawn.as_u64() == Some(wanted as u64) {
                Ok(())
            } else {
                Err(NotYet(format!("{drawn} of {wanted}")))
            }
        })
        .await;
    }

    /// What the browser has complained of since it was asked last, where its driver tells.
    pub async fn complaints(&self) -> Result<Vec<String>, NotYet> {
        match self.engine {
            Engine::Firefox | Engine::WebKit => Ok(Vec::new()),
            Engine::Chromium => {
                let log = self.driver.browser_log().await?;
                let grave = log.into_iter().filter(|entry| entry.level == "SEVERE");
                Ok(grave.map(|entry| entry.message).collect())
            }
        }
    }

    /// After a change of place the screen scrolls to its top with the next frame; what is aimed at before that has moved.
    async fn the_next_frame(&self) -> Result<(), NotYet> {
        let script = "requestAnimationFrame(() => requestAnimationFrame(arguments[0]));";
        self.driver.execute_async(script, vec![]).await?;
        Ok(())
    }

    async fn to_the_middle(&self, found: &WebElement) -> Result<(), NotYet> {
        let script = "arguments[0].scrollIntoView({ block: 'center', behavior: 'instant' });";
        self.driver.execute(script, vec![found.to_json()?]).await?;
        Ok(())
    }
}

/// The texts of something with another text taken out of it: a reason without its basis.
pub fn without(text: &str, part: &str) -> String {
    text.strip_suffix(part).unwrap_or(text).trim().to_owned()
}

/// Nothing to hand to a script.
pub fn nothing() -> Vec<serde_json::Value> {
    Vec::new()
}

/// One thing to hand to a script.
pub fn one(argument: &str) -> Vec<serde_json::Value> {
    vec![json!(argument)]
}
