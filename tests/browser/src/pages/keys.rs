//! The keyboard: where the focus is, how it goes on, and whether it can be seen there.

use serde_json::Value;
use thirtyfour::Key;

use super::glass::{Glass, nothing};
use crate::wait::{self, NotYet};

/// More steps than any screen has stops.
const ONCE_ROUND: usize = 120;

/// What has the focus: what it is called, whether it is anything at all, and what is wrong with how it is seen.
const FOCUSED: &str = "
    const it = document.activeElement;
    if (!it || it === document.body) return { name: '', wrong: '' };
    const name = (it.getAttribute('aria-label') ?? it.closest('label')?.innerText ?? it.innerText).trim().replace(/\\s+/g, ' ');
    const { outlineStyle, outlineWidth } = getComputedStyle(it);
    const { left, top, width, height } = it.getBoundingClientRect();
    const shown = [[0.5, 0.5], [0.1, 0.5], [0.9, 0.5], [0.5, 0.1], [0.5, 0.9]].some(([x, y]) => {
        const there = document.elementFromPoint(left + x * width, top + y * height);
        return it.contains(there) || there?.contains(it) && there.closest('label, summary, svg');
    });
    const seen = it.matches('h1') || outlineStyle !== 'none' && 2 <= parseFloat(outlineWidth);
    return { name, wrong: seen ? shown ? '' : 'something covers it' : 'no outline' };";

fn is(here: &str, name: &str) -> bool {
    name.strip_suffix('…')
        .map_or(here == name, |begins| here.starts_with(begins))
}

/// The keyboard.
#[derive(Clone, Debug)]
pub struct Keys(pub(super) Glass);

impl Keys {
    /// Goes on with the Tab key to what is called so, or begins so where the name ends in "…", and gives what it came by. Wherever it stops, the focus is seen.
    pub async fn to(&self, name: &str) -> Vec<String> {
        let mut by = Vec::new();
        for _ in 0..ONCE_ROUND {
            self.0.press_tab().await;
            let (here, wrong) = self.focused().await;
            assert_eq!(wrong, "", "{here:?} has the focus");
            if is(&here, name) {
                return by;
            }
            // Between the last stop and the first the focus is the browser's own.
            if !here.is_empty() {
                by.push(here);
            }
        }
        panic!("the Tab key never comes to {name:?}, but to {by:#?}");
    }

    /// Goes there and presses Enter.
    pub async fn enter(&self, name: &str) {
        self.to(name).await;
        self.0.press(Key::Enter).await;
    }

    /// Goes there and presses the space bar.
    pub async fn space(&self, name: &str) {
        self.to(name).await;
        self.press_space().await;
    }

    /// Presses Enter, wherever the focus is.
    pub async fn press_enter(&self) {
        self.0.press(Key::Enter).await;
    }

    /// Presses the space bar, wherever the focus is.
    pub async fn press_space(&self) {
        self.0.press(Key::Space).await;
    }

    /// Types letters into what has the focus.
    pub async fn types(&self, text: &str) {
        self.0.type_here(text).await;
    }

    /// Waits until what is called so has the focus.
    pub async fn see(&self, name: &str) {
        wait::until(&format!("the focus is on {name:?}"), async || {
            let (here, _) = self.focused().await;
            if is(&here, name) {
                Ok(())
            } else {
                Err(NotYet(format!("it is on {here:?}")))
            }
        })
        .await;
    }

    async fn focused(&self) -> (String, String) {
        let it = self
            .0
            .script("what has the focus", FOCUSED, nothing())
            .await;
        let text = |of: &Value| of.as_str().unwrap_or_default().to_owned();
        (text(&it["name"]), text(&it["wrong"]))
    }
}
