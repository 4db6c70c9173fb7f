//! A window of a browser, whatever its engine: addresses, Back, and scripts that look into the page.
//!
//! Never here: what only one engine can be told (`browser`), and what is on a screen (`pages`).

use serde_json::Value;
use thirtyfour::prelude::*;

use crate::browser::must;
use crate::engine::Engine;

/// A window.
#[derive(Clone, Debug)]
pub struct Window {
    driver: WebDriver,
    engine: Engine,
}

impl Window {
    pub(crate) fn new(driver: WebDriver, engine: Engine) -> Window {
        Window { driver, engine }
    }

    /// The engine of its browser.
    pub fn engine(&self) -> Engine {
        self.engine
    }

    /// The driver, for `pages`.
    pub(crate) fn driver(&self) -> &WebDriver {
        &self.driver
    }

    /// Goes to an address of the app and waits until the app has started.
    pub async fn go_to(&self, address: &str) {
        must("open an address", self.driver.goto(address).await);
        self.app().started().await;
    }

    /// Loads the page anew and waits until the app has started.
    pub async fn reload(&self) {
        match self.engine {
            Engine::Chromium => must("reload", self.driver.refresh().await),
            // Firefox’s driver reloads past the service worker, and WebKit for GTK stands still when the app’s page is
            // reloaded in place. Away and back is the same to the app: the page ends, and a new one starts.
            Engine::Firefox | Engine::WebKit => {
                let here = must("read the address", self.driver.current_url().await);
                must("go away", self.driver.goto("about:blank").await);
                must("come back", self.driver.goto(here.as_str()).await);
            }
        }
        self.app().started().await;
    }

    /// The phone's Back.
    pub async fn back(&self) {
        must("go back", self.driver.back().await);
    }

    /// Runs a script in the page that calls `arguments[0]` with its answer when it has one.
    pub(crate) async fn script_with_answer(&self, script: &str) -> Value {
        let answered = self.driver.execute_async(script, vec![]).await;
        must("run a script", answered).json().clone()
    }

    /// Looks into the page with a script, and gives what it returns.
    pub(crate) async fn look_into(&self, script: &str) -> Value {
        let seen = self.driver.execute(script, vec![]).await;
        must("look into the page", seen).json().clone()
    }
}
