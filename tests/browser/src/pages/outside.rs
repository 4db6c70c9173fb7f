//! What leads into the app from outside: the shortcuts of the home screen and what other apps share; and what the page
//! shows before the app is there.

use serde_json::json;

use super::glass::{Glass, css, nothing};
use crate::wait::{self, NotYet};

/// What comes from outside.
#[derive(Clone, Debug)]
pub struct Outside(pub(super) Glass);

impl Outside {
    /// Another app shares a file with the app that is in charge of itself; the address at which the app then opens.
    pub async fn shares_a_file(&self, name: &str, text: &str) -> String {
        let script = "
            const [name, text, done] = arguments;
            const form = new FormData();
            form.set('file', new File([text], name, { type: 'text/plain' }));
            fetch('share', { method: 'POST', body: form }).then((it) => done(it.url), (it) => done(`${it}`));";
        self.shares(script, vec![json!(name), json!(text)]).await
    }

    /// Another app shares a text.
    pub async fn shares_a_text(&self, text: &str) -> String {
        let script = "
            const [text, done] = arguments;
            const form = new FormData();
            form.set('text', text);
            fetch('share', { method: 'POST', body: form }).then((it) => done(it.url), (it) => done(`${it}`));";
        self.shares(script, vec![json!(text)]).await
    }

    async fn shares(&self, script: &str, arguments: Vec<serde_json::Value>) -> String {
        let answer = self
            .0
            .script_with_answer("sharing", script, arguments)
            .await;
        answer.as_str().unwrap_or_default().to_owned()
    }

    /// The app loses its copy of itself, as on a phone whose browser was told to clear it; its records stay.
    pub async fn loses_its_copy(&self) {
        let script = "
            const [done] = arguments;
            Promise.all([
                navigator.serviceWorker.getRegistrations().then((all) => Promise.all(all.map((it) => it.unregister()))),
                caches.keys().then((all) => Promise.all(all.map((it) => caches.delete(it)))),
            ]).then(() => done('gone'));";
        self.0
            .script_with_answer("the copy can be lost", script, nothing())
            .await;
    }

    /// Waits until the page, without the app, shows this.
    pub async fn see_before_the_app(&self, text: &str) {
        let shown = css("#shell > main:not([hidden])");
        self.0.see("the page before the app", shown, text).await;
    }

    /// The machine that the page, without the app, shows at its top.
    pub async fn machine_before_the_app(&self) -> String {
        self.0
            .read("the bar before the app", css("#shell .top-bar"))
            .await
    }

    /// Waits until the large button has the focus.
    pub async fn see_focus_on_the_large_button(&self) {
        let script = "return document.activeElement?.className ?? '';";
        wait::until("the large button has the focus", async || {
            let has = self.0.script("the focus", script, nothing()).await;
            let has = has.as_str().unwrap_or_default();
            if has.contains("next-job-button") {
                Ok(())
            } else {
                Err(NotYet(has.to_owned()))
            }
        })
        .await;
    }
}
