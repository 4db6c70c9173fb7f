//! A day with the phone left on: the deeds of a shift and a walk through the tabs, by the page's own taps.
//!
//! The driver keeps hold of every element that it ever found, and the page could never be lighter than what it holds.

use serde_json::json;

use super::glass::{Glass, nothing};

/// What is done in a shift, over and over.
#[derive(Clone, Debug)]
pub struct LongDay(pub(super) Glass);

/// Waits for what it is given to be there, and until it has been drawn.
const HELP: &str = "
    const drawn = () => new Promise((next) => requestAnimationFrame(() => setTimeout(next)));
    const there = async (found) => {
        for (let look = 0; look < 600; look += 1) {
            const it = found();
            if (it) return it;
            await drawn();
        }
        throw new Error(`never there: ${found}`);
    };
    const one = (at) => there(() => document.querySelector(at));";

impl LongDay {
    async fn does(&self, what: &str, deed: &str, given: Vec<serde_json::Value>) {
        let script = format!(
            "const [given, done] = 1 < arguments.length ? arguments : [undefined, arguments[0]];
            {HELP}
            (async () => {{ {deed} await drawn(); }})().then(() => done('done'), (trouble) => done(`${{trouble}}`));"
        );
        let said = self.0.script_with_answer(what, &script, given).await;
        assert_eq!(said, json!("done"), "{what}");
    }

    /// Whether an alarm rings.
    pub async fn rings(&self) -> bool {
        let script = "return document.querySelector('.alarm') !== null;";
        self.0.script("the alarm", script, nothing()).await == json!(true)
    }

    /// Oils when it rings.
    pub async fn oils(&self) {
        let deed = "(await one('.alarm-done')).click();
            await there(() => !document.querySelector('.alarm'));";
        self.does("to oil", deed, nothing()).await;
    }

    /// Looks: all teeth turn. Done once one more look stands on the line.
    pub async fn looks(&self) {
        let deed = "const count = () => document.querySelectorAll('.shift-line-look').length;
            const before = count();
            (await one('button.all-turning')).click();
            await there(() => count() === before + 1);";
        self.does("to look", deed, nothing()).await;
    }

    /// Writes a note.
    pub async fn writes(&self, note: &str) {
        let deed = "(await one('a.write-note')).click();
            const field = await one('textarea.note-text');
            field.value = given;
            field.dispatchEvent(new Event('input', { bubbles: true }));
            await drawn();
            (await one('button.keep')).click();
            await one('.next-job-title');";
        self.does("to write a note", deed, vec![json!(note)]).await;
    }

    /// Takes a break.
    pub async fn rests(&self) {
        let deed = "(await one('button.start-break')).click();
            await there(() => !document.querySelector('button.start-break'));";
        self.does("to rest", deed, nothing()).await;
    }

    /// Goes on after it.
    pub async fn goes_on(&self) {
        let deed = "(await one('.next-job-button')).click(); await one('button.start-break');";
        self.does("to go on", deed, nothing()).await;
    }

    /// Goes through all tabs so often, and ends on the first.
    pub async fn walks_through(&self, often: usize) {
        let deed = "for (let round = 0; round < given; round += 1) {
                for (const tab of [...document.querySelectorAll('.tab-bar a')].reverse()) {
                    tab.click();
                    await drawn();
                }
            }";
        self.does("to walk through the tabs", deed, vec![json!(often)])
            .await;
    }
}
