//! What leads into the app from outside: the shortcuts of the home screen and what other apps share; and what the page
//! shows before the app is there.

use serde_json::json;

use super::glass::{Glass, css, nothing};
use crate::wait::{self, NotYet};

/// What comes from outside.
#[derive(Clone, Debug)]
pub struct Outside(pub(super) Glass);

impl Outside {
    /// Another app shares a file or a text with the app of that address, as the phone would: a page of its own sends it.
    pub async fn shares(&self, site: &str, part: &str, text: &str) {
        let script = "
            const [site, part, text] = arguments;
            const form = document.body.appendChild(document.createElement('form'));
            Object.assign(form, { action: `${site}share`, method: 'post', enctype: 'multipart/form-data' });
            const field = form.appendChild(document.createElement('input'));
            field.name = part;
            if (part === 'file') {
                const files = new DataTransfer();
                files.items.add(new File([text], 'handed over.txt', { type: 'text/plain' }));
                field.type = 'file';
                field.files = files.files;
            } else {
                field.value = text;
            }
            form.submit();";
        let arguments = vec![json!(site), json!(part), json!(text)];
        self.0.script("sharing", script, arguments).await;
    }

    /// Puts the app on the home screen.
    pub async fn to_the_home_screen(&self) {
        let at = css("button.to-home-screen");
        self.0.tap("Put it on the home screen", at).await;
    }

    /// Waits until nothing is offered for the home screen.
    pub async fn see_no_offer(&self) {
        let at = css("button.to-home-screen");
        self.0.see_none("the offer for the home screen", at).await;
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
