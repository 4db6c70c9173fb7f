//! How something is painted and where it stands: its colours, whether it moves, and whether it shifts.

use serde_json::{Value, json};

use super::glass::{Glass, nothing, one, xpath};

/// What the eye sees apart from words.
#[derive(Clone, Debug)]
pub struct Paint(pub(super) Glass);

/// Where something stands, in pixels of the page.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stand {
    /// From the left edge of the screen.
    pub left: f64,
    /// From its top.
    pub top: f64,
    /// From the left edge to its right end.
    pub right: f64,
    /// From the top to its lower end.
    pub bottom: f64,
}

/// Answers and lines of checklists that are in sight.
const CHOSEN: &str = "//main//button[@aria-pressed or @aria-checked][not(ancestor::details[not(@open) or @class='languages'])]";

impl Paint {
    /// The ground under everything, and what the system calls its canvas.
    pub async fn ground_and_canvas(&self) -> (String, String) {
        let script = "
            const probe = document.createElement('i');
            probe.style.backgroundColor = 'Canvas';
            document.body.append(probe);
            const canvas = getComputedStyle(probe).backgroundColor;
            probe.remove();
            return [getComputedStyle(document.documentElement).backgroundColor, canvas];";
        let seen = self.0.script("the ground", script, nothing()).await;
        (text(&seen[0]), text(&seen[1]))
    }

    /// Of the things that are this, those that cannot be told from the ground, by fill, pattern or border; and how many
    /// there are at all.
    pub async fn lost(&self, selector: &str) -> (Vec<String>, usize) {
        let script = "
            const ground = getComputedStyle(document.documentElement).backgroundColor;
            const all = [...document.querySelectorAll(arguments[0])];
            const lost = all.filter((it) => {
                const { backgroundColor, backgroundImage, fill, stroke, borderTopWidth, borderTopColor } = getComputedStyle(it);
                const off = (colour) => colour !== ground && colour !== 'rgba(0, 0, 0, 0)' && colour !== 'none';
                if (it instanceof SVGElement) return !off(fill) && !off(stroke);
                return !off(backgroundColor) && backgroundImage === 'none' && !(0 < parseFloat(borderTopWidth) && off(borderTopColor));
            });
            return [lost.map((it) => it.outerHTML.slice(0, 120)), all.length];";
        let seen = self.0.script("what is lost", script, one(selector)).await;
        let lost = seen[0].as_array().into_iter().flatten().map(text).collect();
        (
            lost,
            usize::try_from(seen[1].as_u64().unwrap_or(0)).unwrap_or(0),
        )
    }

    /// The colour that fills something.
    pub async fn fill(&self, selector: &str) -> String {
        let script =
            "return getComputedStyle(document.querySelector(arguments[0])).backgroundColor;";
        text(&self.0.script("a colour", script, one(selector)).await)
    }

    /// How many things move by themselves.
    pub async fn moving(&self) -> u64 {
        let script = "return document.getAnimations().length;";
        let moving = self.0.script("what moves", script, nothing()).await;
        moving.as_u64().unwrap_or(u64::MAX)
    }

    /// What a tap has changed stands where it will stay. From here on nothing may shift: a browser excuses a tap for half
    /// a second only, and a loaded computer may take longer.
    pub async fn has_settled(&self) {
        let script = "
            const [done] = arguments;
            requestAnimationFrame(() => requestAnimationFrame((now) => { globalThis.storySettled = now; done(); }));";
        self.0
            .script_with_answer("the page settles", script, nothing())
            .await;
    }

    /// What has shifted without a tap since the page was opened or has settled: how far, and what.
    pub async fn shifts(&self) -> Vec<String> {
        let script = "
            const [done] = arguments;
            const shifts = [];
            const noted = (list) => shifts.push(...list.getEntries()
                .filter((it) => !it.hadRecentInput && (globalThis.storySettled ?? 0) < it.startTime)
                .map((it) => `${it.value}: ${it.sources.map(({ node }) => node?.outerHTML?.slice(0, 80) ?? node?.data)}`));
            new PerformanceObserver(noted).observe({ type: 'layout-shift', buffered: true });
            requestAnimationFrame(() => requestAnimationFrame(() => done(shifts)));";
        let shifts = self
            .0
            .script_with_answer("what shifts", script, nothing())
            .await;
        shifts.as_array().into_iter().flatten().map(text).collect()
    }

    /// Taps every answer and every line of a checklist on the screen, one after the other, and tells what has moved or
    /// grown among the targets that stand in one group with it. The languages are left alone: they change every word.
    pub async fn moved_by_taps(&self) -> Vec<String> {
        let mut moved = Vec::new();
        let mut at = 1;
        while at <= self.0.count("what can be chosen", xpath(CHOSEN)).await {
            let chosen = format!("({CHOSEN})[{at}]");
            let ticked = xpath(format!("{chosen}[@aria-checked='true']"));
            let wanted = match self.0.count("what is ticked", ticked).await {
                0 => "@aria-pressed='true' or @aria-checked='true'",
                _ => "@aria-checked='false'",
            };
            let before = self.group(&chosen).await;
            self.0
                .tap("something to choose", xpath(chosen.clone()))
                .await;
            let state = xpath(format!("{chosen}[{wanted}]"));
            self.0.see_some("what is chosen", state).await;
            self.has_settled().await;
            let after = self.group(&chosen).await;
            if before != after {
                moved.push(format!("{before:?} became {after:?}"));
            }
            at += 1;
        }
        moved
    }

    /// What stands beside this in its group, itself among it: what each says, and where it is on the page.
    async fn group(&self, path: &str) -> Vec<String> {
        let script = "
            const [path, any] = arguments;
            const found = document.evaluate(path, document, null, any, null).singleNodeValue;
            return [...found.parentElement.children].map((it) => {
                const { left, top, width, height } = it.getBoundingClientRect();
                const at = [left + scrollX, top + scrollY, width, height].map(Math.round);
                return `${it.textContent.slice(0, 30)} ${at}`;
            });";
        // 9: the first node in document order.
        let seen = self
            .0
            .script("a group", script, vec![json!(path), json!(9)])
            .await;
        seen.as_array().into_iter().flatten().map(text).collect()
    }

    /// The ground, the look and the hand of every frame since the page was opened; `Phone::keeps_each_frame` has to have
    /// been told before.
    pub async fn frames(&self) -> Vec<(String, String)> {
        let frames = self
            .0
            .script(
                "the frames",
                "return globalThis.storyFrames ?? [];",
                nothing(),
            )
            .await;
        let frame = |it: &Value| (text(&it[0]), text(&it[1]));
        frames.as_array().into_iter().flatten().map(frame).collect()
    }

    /// Where something stands on the screen.
    pub async fn stand(&self, selector: &str) -> Stand {
        let script = "
            const { left, top, right, bottom } = document.querySelector(arguments[0]).getBoundingClientRect();
            return [left, top, right, bottom];";
        let seen = self
            .0
            .script("where it stands", script, one(selector))
            .await;
        let at = |index: usize| seen[index].as_f64().unwrap_or(f64::NAN);
        Stand {
            left: at(0),
            top: at(1),
            right: at(2),
            bottom: at(3),
        }
    }
}

fn text(value: &Value) -> String {
    value.as_str().unwrap_or_default().to_owned()
}
