//! What rings, over the whole screen.

use super::glass::{Glass, css, nothing, xpath};

/// The alarm.
#[derive(Clone, Debug)]
pub struct Alarm(pub(super) Glass);

impl Alarm {
    /// Waits until it rings and says so: "Now due at 09:40", "Late 0:20 due at 12:50".
    pub async fn see(&self, text: &str) {
        // Its words stand on lines of their own.
        let words = |shown: &str| shown.split_whitespace().collect::<Vec<_>>().join(" ");
        let awaited = format!("the alarm says {text:?}");
        self.0
            .read_once(&awaited, css(".alarm-when"), |shown| {
                words(shown).contains(text)
            })
            .await;
    }

    /// Waits until it says what is wrong with the sound.
    pub async fn see_no_sound(&self, sentence: &str) {
        self.0
            .see("why nothing is heard", css(".alarm-sound"), sentence)
            .await;
    }

    /// Waits until nothing is wrong with the sound.
    pub async fn see_sound(&self) {
        self.0
            .see_none("why nothing is heard", css(".alarm-sound:not(:empty)"))
            .await;
    }

    /// Taps where there is nothing to tap.
    pub async fn tap_beside_the_buttons(&self) {
        self.0.tap("the alarm’s heading", css(".alarm-title")).await;
    }

    /// Waits until nothing rings.
    pub async fn see_none(&self) {
        self.0.see_none("the alarm", css(".alarm")).await;
    }

    /// Says that the sockets have been oiled.
    pub async fn done(&self) {
        self.0.tap("Oiled now", css(".alarm-done")).await;
        self.see_none().await;
    }

    /// Puts it off for so many minutes, 5 or 15.
    pub async fn again_in(&self, minutes: u8) {
        let name = format!("Again in {minutes} minutes");
        let at = xpath(format!(
            "//button[contains(@class, 'alarm-put-off')][normalize-space()='{name}']"
        ));
        self.0.tap(&name, at).await;
        self.see_none().await;
    }

    /// Waits until the large button has the focus.
    pub async fn see_focus(&self) {
        self.0
            .see_some("the focus on the large button", css(".alarm-done:focus"))
            .await;
    }

    /// What can be reached with the Tab key, in order, until it comes round or so many steps are made: whether each stands
    /// on the alarm or in a notice, and its words.
    pub async fn reached_by_tab(&self, steps: usize) -> Vec<(bool, String)> {
        let script = "
            const it = document.activeElement;
            return [it === document.body || Boolean(it.closest('.alarm, .notices')), it.innerText.slice(0, 40)];";
        let mut reached = Vec::new();
        for _ in 0..steps {
            self.0.press_tab().await;
            let it = self.0.script("what has the focus", script, nothing()).await;
            let words = it[1].as_str().unwrap_or_default().to_owned();
            reached.push((it[0] == true, words));
        }
        reached
    }
}
