//! What a screen reader says by itself: every change of a part that is read out when it changes.

use super::glass::{Glass, nothing};

/// The voice of a screen reader.
#[derive(Clone, Debug)]
pub struct Voice(pub(super) Glass);

impl Voice {
    /// Begins to listen, on the page that is open.
    pub async fn listen(&self) {
        let script = "
            const said = [];
            globalThis.storySaid = said;
            const spoken = '[role=status], [role=alert], [aria-live]';
            const heard = (changes) => {
                const parts = new Set(changes.map(({ target }) => (target.closest ? target : target.parentElement)?.closest(spoken)));
                for (const part of parts) {
                    const text = part?.textContent.trim();
                    if (text) said.push(text);
                }
            };
            new MutationObserver(heard).observe(document.body, { subtree: true, childList: true, characterData: true });";
        self.0
            .script("the page can be listened to", script, nothing())
            .await;
    }

    /// What was said since it was asked last.
    pub async fn said(&self) -> Vec<String> {
        let script = "
            const [done] = arguments;
            // What has just changed is heard in a moment.
            setTimeout(() => done(globalThis.storySaid.splice(0)));";
        let said = self
            .0
            .script_with_answer("what was said", script, nothing())
            .await;
        let said = said.as_array().into_iter().flatten();
        said.map(|it| it.as_str().unwrap_or_default().to_owned())
            .collect()
    }
}
