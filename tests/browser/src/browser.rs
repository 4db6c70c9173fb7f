//! The phone: a real browser with a fresh profile, the size and the touch of a phone, its tabs, and the time it believes.
//!
//! Never here: what is on a screen (`pages`).

use std::ops::Deref;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::Arc;
use std::sync::atomic::{AtomicU32, Ordering};
use std::time::Duration;
use std::{env, fs};

use serde_json::{Value, json};
use thirtyfour::LoggingPrefsLogLevel;
use thirtyfour::prelude::*;

use crate::clock::{Carrier, Clock, How, ZONE};
use crate::engine::Engine;
use crate::oddity::Oddity;
use crate::process::{Group, required};
use crate::server::Site;
use crate::turn::Turn;
use crate::wait;
use crate::window::Window;

/// What most owners let the app do.
const GRANTED: &[&str] = &[
    "durableStorage",
    "wakeLockScreen",
    "clipboardReadWrite",
    "clipboardSanitizedWrite",
    "sensors",
];

/// The glass of a phone of today, in pixels of the page.
const GLASS: (u32, u32) = (412, 915);

/// Where a browser writes down its requests.
const REQUESTS: &str = "requests.json";

/// What Chromium is told when it starts.
pub(crate) const CHROMIUM_ARGUMENTS: &[&str] = &[
    "--headless=new",
    // Containers run as root, where the sandbox refuses to start.
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    // Pages of the browser's own that no story sees: a quarter of what it costs to tell one.
    "--disable-features=WebUIOmniboxPopup,WebUIOmniboxAimPopup,SpareRendererForSitePerProcess",
    "--lang=en-US",
];

/// A phone that has nothing on it yet.
#[derive(Debug)]
pub struct Phone {
    window: Window,
    tabs: Vec<Tab>,
    clock: Clock,
    oddities: Vec<Oddity>,
    chrome: Option<Group>,
    // Last: the folder goes once the browser has ended.
    profile: Profile,
    _turn: Arc<Turn>,
}

/// What a person does and sees is the same in every engine; what only Chromium can be told stays with the phone.
impl Deref for Phone {
    type Target = Window;

    fn deref(&self) -> &Window {
        &self.window
    }
}

/// What a page weighs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Weight {
    /// Nodes of the page, those that are no longer shown but kept among them. The driver keeps whatever it taps.
    pub nodes: u64,
    /// What waits for taps and other events.
    pub listeners: u64,
    /// The heap of JavaScript, in bytes.
    pub heap_bytes: u64,
    /// The memory of the app's program, in bytes. It never shrinks.
    pub program_bytes: u64,
}

/// A tab of the phone's browser.
#[derive(Clone, Debug)]
struct Tab {
    window: WindowHandle,
    carrier: Carrier,
}

impl Phone {
    /// A new phone whose clock stands at a time of a day: `Phone::at("2026-07-01", "06:45")`.
    pub async fn at(day: &str, time: &str) -> Phone {
        Phone::new(day, time, false).await
    }

    /// The same; every request that its browser makes is written down.
    pub async fn whose_requests_are_written_down(day: &str, time: &str) -> Phone {
        Phone::new(day, time, true).await
    }

    async fn new(day: &str, time: &str, writes_down: bool) -> Phone {
        let turn = Turn::of_this_story().await;
        let profile = Profile::fresh();
        let (chrome, driver) = start(&profile.0, writes_down).await;
        must("set the zone", set_zone(&driver).await);
        let clock = must("read the time", Clock::showing(&driver, day, time).await);
        let mut phone = Phone {
            window: Window::new(driver, Engine::Chromium),
            tabs: Vec::new(),
            clock,
            oddities: Vec::new(),
            chrome: Some(chrome),
            profile,
            _turn: turn,
        };
        phone.know_this_tab().await;
        phone
    }

    /// Opens the app and waits until it has started.
    pub async fn open(&self, site: &Site) {
        self.open_in_vain(site).await;
        self.app().started().await;
    }

    /// Opens the app, which may never start.
    pub async fn open_in_vain(&self, site: &Site) {
        self.grant(site, &[GRANTED, &["notifications"]].concat())
            .await;
        must(
            "open an address",
            self.window.driver().goto(&site.address()).await,
        );
    }

    /// The app’s program does not arrive, or does again.
    pub async fn program_arrives(&self, arrives: bool) {
        self.arrives("*.wasm", arrives).await;
    }

    /// What works with records does not arrive, or does again.
    pub async fn work_arrives(&self, arrives: bool) {
        self.arrives("*split_work-*.wasm", arrives).await;
    }

    /// The screens that no start waits for do not arrive, or do again.
    pub async fn later_screens_arrive(&self, arrive: bool) {
        self.arrives("*split_later-*.wasm", arrive).await;
    }

    async fn arrives(&self, files: &str, arrives: bool) {
        let blocked: &[&str] = if arrives { &[] } else { &[files] };
        self.command("Network.enable", json!({})).await;
        self.command("Network.setBlockedURLs", json!({ "urls": blocked }))
            .await;
    }

    /// Another app shares a file (`file`) or a text (`text`) with the app, which then opens.
    pub async fn is_shared(&self, site: &Site, part: &str, text: &str) {
        must(
            "open another app",
            self.window
                .driver()
                .goto("data:text/html,<title>Another app</title>")
                .await,
        );
        self.outside().shares(&site.address(), part, text).await;
        self.app().started().await;
    }

    /// The same on a phone whose owner wants no notifications.
    pub async fn open_without_notifications(&self, site: &Site) {
        self.grant(site, GRANTED).await;
        self.go_to(&site.address()).await;
    }

    /// The phone is odd in this, in this tab and in those opened from now on, beginning with the next page.
    pub async fn is_odd(&mut self, oddity: Oddity) {
        self.oddities.push(oddity);
        self.make_odd(oddity).await;
    }

    /// It becomes a time of the same day, while the app runs.
    pub async fn clock_moves_to(&mut self, time: &str) {
        must(
            "move the clock",
            self.clock.set(self.window.driver(), time).await,
        );
        self.tell_the_time(How::Passes).await;
    }

    /// The phone sleeps in a pocket until a time of the same day, and is then looked at.
    pub async fn sleeps_until(&mut self, time: &str) {
        self.is_out_of_sight(true).await;
        must(
            "move the clock",
            self.clock.set(self.window.driver(), time).await,
        );
        self.tell_the_time(How::Sleeps).await;
        self.is_out_of_sight(false).await;
    }

    /// It becomes a time of another day, while the app runs.
    pub async fn clock_moves_to_day(&mut self, day: &str, time: &str) {
        self.clock.turn_to(day);
        self.clock_moves_to(time).await;
    }

    /// The phone sleeps in a pocket for so long, and is then looked at.
    pub async fn sleeps_for(&mut self, by: Duration) {
        self.is_out_of_sight(true).await;
        self.clock.advance(by);
        self.tell_the_time(How::Sleeps).await;
        self.is_out_of_sight(false).await;
    }

    /// Somebody sets the phone's clock to a time of the same day.
    pub async fn clock_is_set_to(&mut self, time: &str) {
        must(
            "move the clock",
            self.clock.set(self.window.driver(), time).await,
        );
        self.tell_the_time(How::IsSet).await;
    }

    /// The page is behind another app or the phone is locked; or it is seen again.
    pub async fn is_out_of_sight(&self, hidden: bool) {
        let script = "globalThis.storyClock.hide(arguments[0]);";
        must(
            "hide or show the page",
            self.window
                .driver()
                .execute(script, vec![json!(hidden)])
                .await,
        );
    }

    /// Time passes.
    pub async fn time_passes(&mut self, by: Duration) {
        self.clock.advance(by);
        self.tell_the_time(How::Passes).await;
    }

    /// Opens another tab beside this one and stays in it.
    pub async fn open_another_tab(&mut self, site: &Site) {
        let window = must("open a tab", self.window.driver().new_tab().await);
        must(
            "go to the tab",
            self.window.driver().switch_to_window(window).await,
        );
        must("set the zone", set_zone(self.window.driver()).await);
        self.know_this_tab().await;
        self.go_to(&site.address()).await;
    }

    /// Brings a tab to the front, counted from 0 in the order in which they were opened.
    pub async fn bring_tab(&self, at: usize) {
        let window = self.tabs[at].window.clone();
        must(
            "go to the tab",
            self.window.driver().switch_to_window(window).await,
        );
        self.command("Page.bringToFront", json!({})).await;
    }

    /// Closes the only tab, and opens the app in a new one.
    pub async fn close_the_tab_and_open_a_new_one(&mut self, site: &Site) {
        // Without any tab the browser would end.
        let window = must("open a tab", self.window.driver().new_tab().await);
        must("close the tab", self.window.driver().close_window().await);
        must(
            "go to the tab",
            self.window.driver().switch_to_window(window).await,
        );
        self.tabs.clear();
        must("set the zone", set_zone(self.window.driver()).await);
        self.know_this_tab().await;
        self.go_to(&site.address()).await;
    }

    /// What other tabs say no longer reaches this one, as in browsers that know no channel between tabs.
    pub async fn deafen_this_tab(&self) {
        self.before_each_page("delete globalThis.BroadcastChannel;")
            .await;
        self.reload().await;
    }

    /// The pages that this tab opens from now on have no database, as in browsers that keep nothing.
    pub async fn this_tab_has_no_database(&self) {
        self.before_each_page("delete globalThis.indexedDB;").await;
    }

    /// The pages that this tab opens from now on cannot copy, as in browsers that do not let them.
    pub async fn this_tab_does_not_copy(&self) {
        self.before_each_page("delete Navigator.prototype.clipboard;")
            .await;
    }

    async fn before_each_page(&self, source: &str) {
        self.command(
            "Page.addScriptToEvaluateOnNewDocument",
            json!({ "source": source }),
        )
        .await;
    }

    /// Puts a tab to sleep, as a phone does with one that is out of sight.
    pub async fn freeze_this_tab(&self) {
        self.command("Page.setWebLifecycleState", json!({ "state": "frozen" }))
            .await;
    }

    /// Wakes a tab again.
    pub async fn wake_this_tab(&self) {
        self.command("Page.setWebLifecycleState", json!({ "state": "active" }))
            .await;
    }

    /// Puts a file on the phone, where a field of files can pick it.
    pub fn has_file(&self, name: &str, bytes: &[u8]) -> PathBuf {
        let path = self.profile.0.join(name);
        must("put a file on the phone", fs::write(&path, bytes));
        path
    }

    /// The whole browser is killed at this moment, with no chance to write anything more, and started again.
    pub async fn lose_power_and_start_again(&mut self) {
        if let Some(chrome) = self.chrome.take() {
            chrome.end();
        }
        self.profile.forget_who_had_it_open();
        let (chrome, driver) = start(&self.profile.0, false).await;
        self.chrome = Some(chrome);
        self.window = Window::new(driver, Engine::Chromium);
        must("set the zone", set_zone(self.window.driver()).await);
        self.tabs.clear();
        self.know_this_tab().await;
    }

    /// The addresses that pages and workers of this origin have asked for, as far as they were written down by now.
    pub fn requests_by(&self, origin: &str) -> Vec<String> {
        let written = fs::read(self.profile.0.join(REQUESTS));
        let written = must("read what was written down", written);
        let written = String::from_utf8_lossy(&written);
        // One event a line. The last may still be half written.
        let by = format!("\"initiator\":\"{origin}\"");
        let ours = written.lines().filter(|line| line.contains(&by));
        ours.filter_map(|line| {
            let (_, after) = line.split_once("\"url\":\"")?;
            after.split_once('"').map(|(url, _)| url.to_owned())
        })
        .collect()
    }

    /// From the next page on, the memory of the app's program can be looked at.
    pub async fn knows_the_programs_memory(&self) {
        self.before_each_page(
            "addEventListener('TrunkApplicationStarted', (it) => { globalThis.storyMemory = it.detail.wasm.memory; });",
        )
        .await;
    }

    /// What the page weighs once everything that nobody needs has been thrown away.
    pub async fn weight(&self) -> Weight {
        self.command("HeapProfiler.collectGarbage", json!({})).await;
        let counted = self.command("Memory.getDOMCounters", json!({})).await;
        let heap = self.command("Runtime.getHeapUsage", json!({})).await;
        let program = self
            .look_into("return storyMemory.buffer.byteLength;")
            .await;
        let number = |value: &Value| value.as_f64().unwrap_or_default() as u64;
        Weight {
            nodes: number(&counted["nodes"]),
            listeners: number(&counted["jsEventListeners"]),
            heap_bytes: number(&heap["usedSize"]),
            program_bytes: number(&program),
        }
    }

    /// The phone is in another zone from the next page on, such as Asia/Kathmandu.
    pub async fn travels_to(&self, zone: &str) {
        self.command(
            "Emulation.setTimezoneOverride",
            json!({ "timezoneId": zone }),
        )
        .await;
    }

    /// Empties the cache of the network, so that only what the service worker keeps is left.
    pub async fn clear_the_network_cache(&self) {
        self.command("Network.clearBrowserCache", json!({})).await;
    }

    /// The system asks for a dark screen, or for a light one.
    pub async fn system_is_dark(&self, dark: bool) {
        let value = if dark { "dark" } else { "light" };
        let media = json!({ "features": [{ "name": "prefers-color-scheme", "value": value }] });
        self.command("Emulation.setEmulatedMedia", media).await;
    }

    /// The system asks for these languages, in this order: `fi-FI,en`. To be said before the app is opened.
    pub async fn system_speaks(&self, languages: &str) {
        let browser = self.look_into("return navigator.userAgent;").await;
        let asked = json!({ "userAgent": browser, "acceptLanguage": languages });
        self.command("Emulation.setUserAgentOverride", asked).await;
    }

    /// The system has colours of its own, dark or light, and wants no others.
    pub async fn system_forces_its_colours(&self, dark: bool) {
        let value = if dark { "dark" } else { "light" };
        let media = json!({ "features": [
            { "name": "forced-colors", "value": "active" },
            { "name": "prefers-color-scheme", "value": value },
        ] });
        self.command("Emulation.setEmulatedMedia", media).await;
    }

    /// The system asks that nothing moves.
    pub async fn system_wants_no_motion(&self) {
        let media =
            json!({ "features": [{ "name": "prefers-reduced-motion", "value": "reduce" }] });
        self.command("Emulation.setEmulatedMedia", media).await;
    }

    /// From the next page on, the ground and the hand of each frame that is painted are kept, from the very first.
    pub async fn keeps_each_frame(&self) {
        self.before_each_page(
            "globalThis.storyFrames = [];
            const keep = () => {
                const root = document.documentElement;
                storyFrames.push([getComputedStyle(root).backgroundColor, root.dataset.hand ?? '']);
                if (storyFrames.length < 300) requestAnimationFrame(keep);
            };
            requestAnimationFrame(keep);",
        )
        .await;
    }

    /// The glass has another size, in pixels of the page.
    pub async fn resize(&self, width: u32, height: u32) {
        let metrics =
            json!({ "width": width, "height": height, "deviceScaleFactor": 2.6, "mobile": true });
        self.command("Emulation.setDeviceMetricsOverride", metrics)
            .await;
        // A page that was too wide for the size before was zoomed out, and would stay so.
        let unzoomed = json!({ "pageScaleFactor": 1 });
        self.command("Emulation.setPageScaleFactor", unzoomed).await;
        // Until it has been drawn anew, a tap goes where things stood before.
        let drawn =
            "const [done] = arguments; requestAnimationFrame(() => requestAnimationFrame(done));";
        self.script_with_answer(drawn).await;
    }

    /// The glass has the size it had at first.
    pub async fn resize_back(&self) {
        self.resize(GLASS.0, GLASS.1).await;
    }

    async fn grant(&self, site: &Site, permissions: &[&str]) {
        // What is not listed is refused.
        let granted = json!({ "origin": site.origin(), "permissions": permissions });
        self.command("Browser.grantPermissions", granted).await;
    }

    async fn make_odd(&self, oddity: Oddity) {
        let source = json!({ "source": oddity.script() });
        self.command("Page.addScriptToEvaluateOnNewDocument", source)
            .await;
    }

    /// Sends a command of the browser's own protocol.
    pub(crate) async fn command(&self, name: &str, parameters: Value) -> Value {
        must(
            name,
            self.window.driver().cdp().send_raw(name, parameters).await,
        )
    }

    /// Takes pictures of the screen in both looks and at three widths, into the folder of `EVENROW_SHOTS` if it is set.
    /// The look must be left to the system, as it is at first.
    pub async fn picture(&self, name: &str) {
        let Some(folder) = env::var_os("EVENROW_SHOTS").map(PathBuf::from) else {
            return;
        };
        must("make the folder of pictures", fs::create_dir_all(&folder));
        let look = self.app().look().await;
        for shown in ["sun", "night"] {
            self.system_is_dark(shown == "night").await;
            self.app().see_look(shown).await;
            for width in [320, 412, 900] {
                self.resize(width, GLASS.1).await;
                // All of it in one picture, however long.
                let height = self.app().height().await.max(GLASS.1);
                self.resize(width, height).await;
                let picture = must(
                    "take a picture",
                    self.window.driver().screenshot_as_png().await,
                );
                let file = folder.join(format!("{name}-{shown}-{width}.png"));
                must("keep a picture", fs::write(file, picture));
            }
        }
        self.system_is_dark(look == "night").await;
        self.app().see_look(&look).await;
        self.resize_back().await;
    }

    /// What the clipboard holds.
    pub async fn clipboard(&self) -> String {
        let script = "const [done] = arguments;
            navigator.clipboard.readText().then(done, (trouble) => done(`${trouble}`));";
        let read = must(
            "read the clipboard",
            self.window.driver().execute_async(script, vec![]).await,
        );
        read.json().as_str().unwrap_or_default().to_owned()
    }

    /// What the browser has complained of since it was asked last: errors of scripts, files not found, rules broken.
    pub async fn complaints(&self) -> Vec<String> {
        wait::until("the browser’s log", async || {
            self.app().complaints().await
        })
        .await
    }

    /// What the browser objects to when the app is to be installed.
    pub async fn objections_to_installing(&self) -> Vec<String> {
        let answer = self
            .command("Page.getInstallabilityErrors", json!({}))
            .await;
        let all = answer["installabilityErrors"].as_array().into_iter();
        let names = all.flatten().map(|it| it["errorId"].as_str());
        names.map(|it| it.unwrap_or_default().to_owned()).collect()
    }

    async fn know_this_tab(&mut self) {
        let window = must("ask for the tab", self.window.driver().window().await);
        let carrier = must(
            "register the clock",
            self.clock.carry(self.window.driver()).await,
        );
        self.tabs.push(Tab { window, carrier });
        for &oddity in &self.oddities {
            self.make_odd(oddity).await;
        }
    }

    async fn tell_the_time(&mut self, how: How) {
        let here = must("ask for the tab", self.window.driver().window().await);
        if how == How::IsSet {
            // One clock serves all tabs: none may still go by the old time once another goes by the new.
            for tab in &self.tabs {
                must(
                    "go to a tab",
                    self.window
                        .driver()
                        .switch_to_window(tab.window.clone())
                        .await,
                );
                must("hold the time", self.clock.hold(self.window.driver()).await);
            }
        }
        for tab in &mut self.tabs {
            must(
                "go to a tab",
                self.window
                    .driver()
                    .switch_to_window(tab.window.clone())
                    .await,
            );
            must(
                "tell the time",
                self.clock
                    .tell(self.window.driver(), &mut tab.carrier, how)
                    .await,
            );
        }
        must(
            "go back to the tab",
            self.window.driver().switch_to_window(here).await,
        );
    }
}

/// A folder for all that a browser keeps. It goes with the story.
#[derive(Debug)]
pub(crate) struct Profile(pub(crate) PathBuf);

impl Profile {
    pub(crate) fn fresh() -> Profile {
        static COUNT: AtomicU32 = AtomicU32::new(0);
        let count = COUNT.fetch_add(1, Ordering::Relaxed);
        let folder = format!("evenrow-story-{}-{count}", std::process::id());
        Profile(env::temp_dir().join(folder))
    }

    /// A browser that was killed leaves its name on the profile; the next one would think it still runs.
    fn forget_who_had_it_open(&self) {
        for name in ["SingletonLock", "SingletonSocket", "SingletonCookie"] {
            // There is none when it was killed before it came so far.
            drop(fs::remove_file(self.0.join(name)));
        }
    }
}

impl Drop for Profile {
    fn drop(&mut self) {
        // What cannot be removed lies in the system's folder for such things.
        drop(fs::remove_dir_all(&self.0));
    }
}

async fn start(profile: &Path, writes_down: bool) -> (Group, WebDriver) {
    let (chrome, port) = Group::start(
        Command::new(required("EVENROW_CHROMEDRIVER")).arg("--port=0"),
        "started successfully on port ",
    );
    let driver = must(
        "start the browser",
        session(port, profile, writes_down).await,
    );
    // The group is killed at the end; there is nobody to say goodbye to.
    drop(driver.clone().leak());
    (chrome, driver)
}

async fn session(port: u16, profile: &Path, writes_down: bool) -> WebDriverResult<WebDriver> {
    let mut wanted = DesiredCapabilities::chrome();
    wanted.set_binary(&required("EVENROW_CHROMIUM").to_string_lossy())?;
    for argument in CHROMIUM_ARGUMENTS {
        wanted.add_arg(argument)?;
    }
    wanted.add_arg(&format!("--user-data-dir={}", profile.display()))?;
    if writes_down {
        wanted.add_arg(&format!(
            "--log-net-log={}",
            profile.join(REQUESTS).display()
        ))?;
    }
    let metrics = json!({
        "width": GLASS.0, "height": GLASS.1, "pixelRatio": 2.6, "touch": true, "mobile": true,
    });
    wanted.add_experimental_option("mobileEmulation", json!({ "deviceMetrics": metrics }))?;
    wanted.set_browser_log_level(LoggingPrefsLogLevel::All)?;
    WebDriver::new(format!("http://127.0.0.1:{port}"), wanted).await
}

async fn set_zone(driver: &WebDriver) -> WebDriverResult<()> {
    driver
        .cdp()
        .send_raw(
            "Emulation.setTimezoneOverride",
            json!({ "timezoneId": ZONE }),
        )
        .await?;
    Ok(())
}

/// What the browser must be able to do for any story to be told.
pub(crate) fn must<T, E: std::fmt::Display>(what: &str, result: Result<T, E>) -> T {
    result.unwrap_or_else(|error| panic!("The browser could not {what}: {error}"))
}
