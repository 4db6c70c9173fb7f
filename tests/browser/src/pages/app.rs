//! What holds on every screen: that the app has started, its look, and whether it keeps anybody out.

use std::fs;
use std::path::PathBuf;

use serde_json::{Value, json};

use super::glass::{Glass, css, nothing, one};
use crate::process::required;
use crate::wait::{self, NotYet};

/// The app as a whole.
#[derive(Clone, Debug)]
pub struct App(pub(super) Glass);

/// Something that can be tapped, with its size in pixels of the page.
#[derive(Clone, Debug, PartialEq)]
pub struct Target {
    /// What it says.
    pub name: String,
    /// How wide it is.
    pub width: f64,
    /// How high it is.
    pub height: f64,
    /// How high it has to be: the more, the more depends on it.
    pub least: f64,
    /// How wide it has to be: a tooth in its row may be a little narrower.
    pub narrowest: f64,
}

impl Target {
    /// Whether a gloved finger hits it. Half a pixel is lost to rounding.
    pub fn is_large_enough(&self) -> bool {
        self.least <= self.height + 0.5 && self.narrowest <= self.width + 0.5
    }
}

/// An icon of the manifest.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Icon {
    /// Where it is.
    pub address: String,
    /// What it is for.
    pub purpose: String,
    /// Its size as the manifest states it.
    pub stated: String,
    /// Its size as it comes out; `any` for one without pixels.
    pub shown: String,
}

/// How wide the page is, in pixels of the page.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Width {
    /// How wide the screen is.
    pub screen: i64,
    /// How far the page reaches.
    pub reach: i64,
    /// What reaches beyond the screen.
    pub beyond: Vec<String>,
}

/// Something that keeps somebody out, as axe names it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Violation {
    /// The rule.
    pub rule: String,
    /// Where, and why.
    pub places: Vec<String>,
}

impl App {
    /// Waits until the app has started and its shell has gone.
    pub async fn started(&self) {
        let script = "
            const shown = document.body?.innerText ?? '';
            return document.documentElement.dataset.started === undefined || !document.querySelector('main')
                ? `${document.URL} ${document.readyState}: ${shown.slice(0, 200)}`
                : null;";
        let mut complaints = Vec::new();
        wait::until("the app has started", async || {
            complaints.extend(self.0.complaints().await?);
            match self.0.script("the page", script, nothing()).await.as_str() {
                None => Ok(()),
                Some(page) => Err(NotYet(format!("{page}\n{}", complaints.join("\n")))),
            }
        })
        .await;
        self.0
            .see_none("the shell before the app", css("#shell"))
            .await;
    }

    /// What the browser has complained of since it was asked last, where its driver tells. Stories ask the phone.
    pub(crate) async fn complaints(&self) -> Result<Vec<String>, NotYet> {
        self.0.complaints().await
    }

    /// The heading of the screen, once it is this.
    pub async fn see_heading(&self, heading: &str) {
        self.0.see("the heading", css("main h1"), heading).await;
    }

    /// The look: sun or night.
    pub async fn look(&self) -> String {
        self.0
            .attribute("the look", css("html"), "data-theme")
            .await
    }

    /// Waits until the look is this.
    pub async fn see_look(&self, look: &str) {
        let awaited = format!("the look is {look}");
        self.0
            .attributes_once(&awaited, css("html"), "data-theme", |shown| shown == [look])
            .await;
    }

    /// All letters are so many times as large as usual, as the system can be told.
    pub async fn enlarge_letters(&self, per_cent: u32) {
        let script = "document.documentElement.style.fontSize = arguments[0];";
        self.0
            .script(
                "letters can be enlarged",
                script,
                one(&format!("{per_cent}%")),
            )
            .await;
    }

    /// How high the whole page is.
    pub async fn height(&self) -> u32 {
        let script = "return document.documentElement.scrollHeight;";
        let height = self
            .0
            .script("the height of the page", script, nothing())
            .await;
        height
            .as_u64()
            .and_then(|height| u32::try_from(height).ok())
            .unwrap_or(0)
    }

    /// Opens everything that is folded.
    pub async fn unfold_everything(&self) {
        let script = "document.querySelectorAll('details').forEach((it) => { it.open = true; });";
        self.0
            .script("folded parts can be opened", script, nothing())
            .await;
    }

    /// Every target on the screen.
    pub async fn targets(&self) -> Vec<Target> {
        let script = "
            const least = (it) => it.matches('.next-job-button, .alarm-done') ? 126 : it.matches('.main-action') ? 96 : it.matches('.tooth-cell') ? 72 : 64;
            return [...document.querySelectorAll('button, a, summary, input, textarea')]
                .filter((it) => it.checkVisibility())
                // A link within a sentence is as high as its line.
                .filter((it) => !(it.matches('a') && getComputedStyle(it).display === 'inline'))
                .map((it) => {
                    const { width, height } = it.getBoundingClientRect();
                    const name = it.getAttribute('aria-label') ?? (it.innerText || it.className);
                    return { name, width, height, least: least(it), narrowest: it.matches('.tooth-cell') ? 60 : 64 };
                });";
        let found = self.0.script("the targets", script, nothing()).await;
        let size = |target: &Value, of: &str| target[of].as_f64().unwrap_or(0.0);
        let all = found.as_array().cloned().unwrap_or_default();
        all.iter()
            .map(|target| Target {
                name: text(&target["name"]),
                width: size(target, "width"),
                height: size(target, "height"),
                least: size(target, "least"),
                narrowest: size(target, "narrowest"),
            })
            .collect()
    }

    /// How wide the page is.
    pub async fn width(&self) -> Width {
        let script = "
            const root = document.documentElement;
            const screen = root.clientWidth;
            const told = (it) => `${it.tagName.toLowerCase()}.${it.getAttribute('class') ?? ''}: ${it.textContent.slice(0, 40)}`;
            const beyond = [...document.querySelectorAll('body *')]
                .filter((it) => it.checkVisibility() && screen + 0.5 < it.getBoundingClientRect().right)
                .map(told);
            return { screen, reach: Math.max(root.scrollWidth, document.body.scrollWidth), beyond: beyond.slice(0, 5) };";
        let seen = self
            .0
            .script("the width of the page", script, nothing())
            .await;
        let beyond = seen["beyond"].as_array().into_iter().flatten();
        Width {
            screen: seen["screen"].as_i64().unwrap_or(0),
            reach: seen["reach"].as_i64().unwrap_or(i64::MAX),
            beyond: beyond.map(text).collect(),
        }
    }

    /// Words that are broken where nothing allows it: for want of room, in the middle of a syllable.
    pub async fn broken_words(&self) -> Vec<String> {
        let script = "
            const broken = [];
            const texts = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
            while (texts.nextNode()) {
                const text = texts.currentNode;
                if (!text.parentElement.checkVisibility()) continue;
                // A word with soft hyphens breaks at them.
                for (const word of text.data.matchAll(/(?<![\\p{L}\\u00AD])\\p{L}+(?![\\p{L}\\u00AD])/gu)) {
                    const range = document.createRange();
                    range.setStart(text, word.index);
                    range.setEnd(text, word.index + word[0].length);
                    const lines = new Set([...range.getClientRects()].map((it) => Math.round(it.top)));
                    if (1 < lines.size) broken.push(`${word[0]}: ${text.data.slice(0, 60)}`);
                }
            }
            return broken;";
        let found = self.0.script("broken words", script, nothing()).await;
        found.as_array().into_iter().flatten().map(text).collect()
    }

    /// What axe finds against the rules of WCAG 2.2, the contrast of its level AAA, and good practice.
    pub async fn violations(&self) -> Vec<Violation> {
        let axe = PathBuf::from(required("EVENROW_AXE"));
        let axe = fs::read_to_string(&axe)
            .unwrap_or_else(|error| panic!("{} cannot be read: {error}", axe.display()));
        self.0.script("axe can be loaded", &axe, nothing()).await;
        let script = "
            const [done] = arguments;
            const tags = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'];
            const options = { runOnly: tags, rules: { 'color-contrast-enhanced': { enabled: true } } };
            axe.run(document, options).then(
                ({ violations, passes }) => done({
                    passed: passes.length,
                    violations: violations.map(({ id, nodes }) => ({
                        rule: id,
                        places: nodes.map((it) => `${it.html.slice(0, 160)} ${it.failureSummary}`),
                    })),
                }),
                (trouble) => done({ passed: 0, trouble: `${trouble}` }),
            );";
        let found = self.0.script_with_answer("axe", script, nothing()).await;
        assert!(
            found["passed"].as_u64().is_some_and(|passed| 5 < passed),
            "axe did not look: {found}"
        );
        let all = found["violations"].as_array().cloned().unwrap_or_default();
        all.iter()
            .map(|violation| Violation {
                rule: text(&violation["rule"]),
                places: violation["places"]
                    .as_array()
                    .into_iter()
                    .flatten()
                    .map(text)
                    .collect(),
            })
            .collect()
    }

    /// The manifest.
    pub async fn manifest(&self) -> Value {
        let script = "
            const [done] = arguments;
            fetch(document.querySelector('link[rel=manifest]').href)
                .then((it) => it.json())
                .then(done, (trouble) => done(`${trouble}`));";
        self.0
            .script_with_answer("the manifest", script, nothing())
            .await
    }

    /// The icons that the manifest names, each loaded.
    pub async fn icons(&self) -> Vec<Icon> {
        let script = "
            const [done] = arguments;
            const manifest = document.querySelector('link[rel=manifest]').href;
            const load = async ({ src, sizes, type, purpose }) => {
                const address = new URL(src, manifest).href;
                const picture = new Image();
                picture.src = address;
                const loaded = await picture.decode().then(() => true, () => false);
                const pixels = type === 'image/svg+xml' ? 'any' : `${picture.naturalWidth}x${picture.naturalHeight}`;
                return { address, purpose, stated: sizes, shown: loaded ? pixels : 'nothing' };
            };
            fetch(manifest).then((it) => it.json()).then(({ icons }) => Promise.all(icons.map(load))).then(done);";
        let icons = self
            .0
            .script_with_answer("the icons", script, nothing())
            .await;
        let all = icons.as_array().cloned().unwrap_or_default();
        all.iter()
            .map(|icon| Icon {
                address: text(&icon["address"]),
                purpose: text(&icon["purpose"]),
                stated: text(&icon["stated"]),
                shown: text(&icon["shown"]),
            })
            .collect()
    }

    /// Waits until the service worker is in charge of this page.
    pub async fn in_charge_of_itself(&self) {
        let script = "return navigator.serviceWorker.controller?.state ?? 'nobody';";
        wait::until("the service worker is in charge", async || {
            let state = self.0.script("the service worker", script, nothing()).await;
            if state == json!("activated") {
                Ok(())
            } else {
                Err(NotYet(state.to_string()))
            }
        })
        .await;
    }

    /// The address of everything that the page has loaded so far.
    pub async fn loaded(&self) -> Vec<String> {
        let script = "return performance.getEntries()
            .filter((it) => it.entryType === 'resource' || it.entryType === 'navigation')
            .map((it) => it.name);";
        let loaded = self.0.script("what was loaded", script, nothing()).await;
        loaded.as_array().into_iter().flatten().map(text).collect()
    }

    /// The address of everything that the service worker keeps.
    pub async fn kept(&self) -> Vec<String> {
        let script = "
            const [done] = arguments;
            (async () => {
                const kept = [];
                for (const name of await caches.keys()) {
                    const cache = await caches.open(name);
                    kept.push(...(await cache.keys()).map((it) => it.url));
                }
                return kept;
            })().then(done, (trouble) => done([`${trouble}`]));";
        let kept = self
            .0
            .script_with_answer("what is kept", script, nothing())
            .await;
        kept.as_array().into_iter().flatten().map(text).collect()
    }

    /// The names under which the service worker keeps things: one for each version that is on the phone.
    pub async fn kept_under(&self) -> Vec<String> {
        let script = "const [done] = arguments; caches.keys().then(done);";
        let names = self
            .0
            .script_with_answer("the versions kept", script, nothing())
            .await;
        names.as_array().into_iter().flatten().map(text).collect()
    }

    /// Waits until just one version is kept, and it is another than this.
    pub async fn see_kept_under_another_name_than(&self, old: &str) {
        wait::until("just the newer version is kept", async || {
            let names = self.kept_under().await;
            if names.len() == 1 && names[0] != old {
                Ok(())
            } else {
                Err(NotYet(format!("{names:?}")))
            }
        })
        .await;
    }

    /// What becomes of a newer version when the page looks for one: installed, or redundant if it cannot be had whole.
    pub async fn look_for_a_newer_version(&self) -> String {
        let script = "
            const [done] = arguments;
            navigator.serviceWorker.getRegistration().then((it) => {
                it.addEventListener('updatefound', () => {
                    const newer = it.installing;
                    newer.addEventListener('statechange', () => done(newer.state), { once: true });
                });
                return it.update();
            }).catch((trouble) => done(`${trouble}`));";
        let state = self
            .0
            .script_with_answer("the newer version", script, nothing())
            .await;
        text(&state)
    }

    /// What became of the service worker of this page in the end: activated, or redundant if it could not be had whole.
    pub async fn what_became_of_the_worker(&self) -> String {
        let script = "
            const [done] = arguments;
            const last = ['activated', 'redundant'];
            const follow = (worker) => {
                const look = () => { if (last.includes(worker.state)) done(worker.state); };
                worker.addEventListener('statechange', look);
                look();
            };
            (async () => {
                const known = await navigator.serviceWorker.getRegistration();
                const worker = known?.installing ?? known?.waiting ?? known?.active;
                // One that could not be had is forgotten together with its registration.
                if (worker) follow(worker); else done('redundant');
            })();";
        let state = self
            .0
            .script_with_answer("the worker", script, nothing())
            .await;
        text(&state)
    }

    /// The phone forgets the service worker and all that it keeps; the records stay.
    pub async fn forgets_the_worker(&self) {
        let script = "
            const [done] = arguments;
            (async () => {
                for (const it of await navigator.serviceWorker.getRegistrations()) await it.unregister();
                for (const name of await caches.keys()) await caches.delete(name);
            })().then(() => done('forgotten'));";
        self.0
            .script_with_answer("the worker can be forgotten", script, nothing())
            .await;
    }

    /// A newer app in this window keeps a record, and tells the other windows as every version does.
    pub async fn a_newer_app_writes(&self, record: &str) {
        self.has_kept(record).await;
        let script = "new BroadcastChannel('evenrow').postMessage('records');";
        self.0
            .script("other windows can be told", script, nothing())
            .await;
    }

    /// The app ticks no more, and does not say so.
    pub async fn hangs(&self) {
        let script = "storyClock.stopTheApp();";
        self.0
            .script("the app can be stopped", script, nothing())
            .await;
    }

    /// Every record that the phone keeps, byte for byte, in the order of the alphabet.
    pub async fn records_kept(&self) -> Vec<String> {
        let script = "
            const [done] = arguments;
            const weak = Object.keys(localStorage)
                .filter((key) => key.startsWith('evenrow.record.'))
                .map((key) => localStorage.getItem(key));
            if (globalThis.indexedDB === undefined) {
                done(weak);
                return;
            }
            const opening = indexedDB.open('evenrow');
            opening.onsuccess = () => {
                const all = opening.result.transaction('records').objectStore('records').getAll();
                all.onsuccess = () => done([...all.result, ...weak]);
                opening.result.close();
            };";
        let records = self
            .0
            .script_with_answer("the records", script, nothing())
            .await;
        let mut records: Vec<String> = records.as_array().into_iter().flatten().map(text).collect();
        records.sort();
        records
    }

    /// Waits until the screen says this, wherever on it.
    pub async fn see_said(&self, sentence: &str) {
        self.0.see("the screen", css("main.screen"), sentence).await;
    }

    /// Every preference that the phone keeps, byte for byte, in the order of the alphabet; without the mark that a window
    /// leaves each minute to say that it runs.
    pub async fn preferences_kept(&self) -> Vec<String> {
        let script = "return Object.keys(localStorage)
            .filter((key) => key !== 'evenrow.alive')
            .map((key) => `${key} = ${localStorage.getItem(key)}`)
            .sort();";
        let kept = self.0.script("the preferences", script, nothing()).await;
        kept.as_array().into_iter().flatten().map(text).collect()
    }

    /// How many things are kept for the window that is open, and no longer than that.
    pub async fn kept_for_this_window(&self) -> u64 {
        let script = "return sessionStorage.length;";
        let kept = self.0.script("what the window keeps", script, nothing());
        kept.await.as_u64().unwrap_or_default()
    }

    /// What has come into the page from text that should have stayed text: elements, handlers, addresses that run, and
    /// marks that such code would leave.
    pub async fn intruders(&self) -> Vec<String> {
        let script = "
            const found = [...document.querySelectorAll('main script, main iframe, main object, img[src=x]')]
                .map((it) => it.outerHTML);
            for (const it of document.querySelectorAll('*')) {
                for (const { name, value } of it.attributes) {
                    if (name.startsWith('on') || value.startsWith('javascript:') && name !== 'value')
                        found.push(`${name}=${value}`);
                }
            }
            if (globalThis.storyHit !== undefined || ({}).storyHit !== undefined) found.push('code has run');
            return found;";
        let found = self.0.script("the page", script, nothing()).await;
        found.as_array().into_iter().flatten().map(text).collect()
    }

    /// Waits until the browser has complained of this.
    pub async fn sees_complaint(&self, of: &str) {
        let mut all = Vec::new();
        wait::until(&format!("the browser complains of {of}"), async || {
            all.extend(self.complaints().await?);
            if all.iter().any(|it| it.contains(of)) {
                Ok(())
            } else {
                Err(NotYet(all.join("\n")))
            }
        })
        .await;
    }

    /// Waits until the phone keeps so many records.
    pub async fn sees_records(&self, many: usize) {
        wait::until(&format!("{many} records are kept"), async || {
            let kept = self.records_kept().await.len();
            if kept == many {
                Ok(())
            } else {
                Err(NotYet(kept.to_string()))
            }
        })
        .await;
    }

    /// Puts records into the phone's store, as if it had kept them, and starts the app anew on them.
    pub async fn has_kept(&self, records: &str) {
        let script = "
            const [lines, done] = arguments;
            const opening = indexedDB.open('evenrow');
            opening.onsuccess = () => {
                const writing = opening.result.transaction('records', 'readwrite');
                const store = writing.objectStore('records');
                for (const line of lines.split('\\n').filter(Boolean)) {
                    const record = JSON.parse(line);
                    store.put(line, Array.isArray(record) ? record[1] : record.id);
                }
                writing.oncomplete = () => { opening.result.close(); done('kept'); };
            };";
        self.0
            .script_with_answer("records can be put in", script, one(records))
            .await;
    }

    /// What the phone has kept for its next start, once there is something.
    pub async fn checkpoint(&self) -> String {
        self.checkpoint_once("a checkpoint is kept", |kept| !kept.is_empty())
            .await
    }

    /// Waits until the phone has kept just this for its next start.
    pub async fn see_checkpoint(&self, checkpoint: &str) {
        self.checkpoint_once("that checkpoint is kept", |kept| kept == checkpoint)
            .await;
    }

    async fn checkpoint_once(&self, awaited: &str, so: impl Fn(&str) -> bool) -> String {
        let script = "return localStorage.getItem('evenrow.checkpoint') ?? '';";
        wait::until(awaited, async || {
            let kept = text(&self.0.script(awaited, script, nothing()).await);
            if so(&kept) {
                Ok(kept)
            } else {
                Err(NotYet(kept))
            }
        })
        .await
    }

    /// Whether anything is kept for its next start.
    pub async fn has_checkpoint(&self) -> bool {
        let script = "return localStorage.getItem('evenrow.checkpoint') !== null;";
        self.0.script("the checkpoint", script, nothing()).await == true
    }

    /// The phone has kept this for its next start.
    pub async fn has_kept_checkpoint(&self, checkpoint: &str) {
        let script = "localStorage.setItem('evenrow.checkpoint', arguments[0]);";
        self.0
            .script("a checkpoint can be put in", script, one(checkpoint))
            .await;
    }

    /// The part of the page's own policy that refuses to ask another site for something; empty if nothing refuses.
    pub async fn policy_refuses(&self, address: &str) -> String {
        let script = "
            const [address, done] = arguments;
            let refused = '';
            addEventListener('securitypolicyviolation', (it) => { refused = it.effectiveDirective; });
            // The violation is told in a task of its own, after the request has failed.
            fetch(address).catch(() => setTimeout(() => done(refused)));";
        let refused = self
            .0
            .script_with_answer("the page’s policy", script, one(address))
            .await;
        text(&refused)
    }
}

fn text(value: &Value) -> String {
    value.as_str().unwrap_or_default().to_owned()
}
