//! The time of day that a phone believes. It stands still until the story moves it, and survives reloads: the script
//! that sets it is registered anew with each move, and runs before any script of a page.

use std::time::Duration;

use serde_json::{Value, json};
use thirtyfour::prelude::*;

/// Where all stories play. Two hours ahead of UTC in winter, three in summer.
pub const ZONE: &str = "Europe/Helsinki";

/// A clock that stands still.
#[derive(Clone, Debug)]
pub struct Clock {
    day: String,
    wall_ms: i64,
}

/// The script in one tab that carries the clock over a reload.
#[derive(Clone, Debug)]
pub struct Carrier(String);

/// How a phone comes to another time.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum How {
    /// It passes while the page runs.
    Passes,
    /// It passes while the phone sleeps.
    Sleeps,
    /// Somebody sets the time of day.
    IsSet,
}

impl How {
    const fn name(self) -> &'static str {
        match self {
            How::Passes => "pass",
            How::Sleeps => "sleep",
            How::IsSet => "set",
        }
    }
}

impl Clock {
    /// A clock that shows a time of day, such as 06:45, on a day, such as 2026-07-01, in the zone of the driver's tab.
    pub async fn showing(driver: &WebDriver, day: &str, time: &str) -> WebDriverResult<Clock> {
        let mut clock = Clock {
            day: day.to_owned(),
            wall_ms: 0,
        };
        clock.set(driver, time).await?;
        Ok(clock)
    }

    /// Moves to a time of its day. A tab that already shows something is told by [`Clock::tell`].
    pub async fn set(&mut self, driver: &WebDriver, time: &str) -> WebDriverResult<()> {
        // The browser knows its zone; a date with a time and no zone is read in it.
        let local = format!("{}T{time}:00", self.day);
        let moment = driver
            .execute(
                "return new Date(arguments[0]).getTime();",
                vec![json!(local)],
            )
            .await?;
        self.wall_ms = moment.convert()?;
        Ok(())
    }

    /// Turns to another day, such as 2026-07-02; the time of day is told next.
    pub fn turn_to(&mut self, day: &str) {
        day.clone_into(&mut self.day);
    }

    /// Moves on.
    pub fn advance(&mut self, by: Duration) {
        self.wall_ms = self
            .wall_ms
            .saturating_add(i64::try_from(by.as_millis()).unwrap_or(i64::MAX));
    }

    /// Registers the clock with the driver's tab: every page that it opens from now on shows this time.
    pub async fn carry(&self, driver: &WebDriver) -> WebDriverResult<Carrier> {
        let source = include_str!("clock.js").replace("WALL", &self.wall_ms.to_string());
        let registered: Value = driver
            .cdp()
            .send_raw(
                "Page.addScriptToEvaluateOnNewDocument",
                json!({ "source": source }),
            )
            .await?;
        let name = registered["identifier"].as_str().unwrap_or_default();
        Ok(Carrier(name.to_owned()))
    }

    /// Shows the page in the driver's tab a time that somebody has set; it is told of it next.
    pub async fn hold(&self, driver: &WebDriver) -> WebDriverResult<()> {
        let script = "globalThis.storyClock?.hold(arguments[0]);";
        driver.execute(script, vec![json!(self.wall_ms)]).await?;
        Ok(())
    }

    /// Tells the page in the driver's tab, and the pages that will follow it there, how the time came about.
    pub async fn tell(
        &self,
        driver: &WebDriver,
        carrier: &mut Carrier,
        how: How,
    ) -> WebDriverResult<()> {
        driver
            .cdp()
            .send_raw(
                "Page.removeScriptToEvaluateOnNewDocument",
                json!({ "identifier": carrier.0 }),
            )
            .await?;
        *carrier = self.carry(driver).await?;
        // A tab that has opened nothing yet has no clock to set.
        driver
            .execute(
                "globalThis.storyClock?.[arguments[1]](arguments[0]);",
                vec![json!(self.wall_ms), json!(how.name())],
            )
            .await?;
        Ok(())
    }
}
