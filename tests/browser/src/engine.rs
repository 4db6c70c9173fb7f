//! A browser of any engine with a fresh profile and nothing emulated: its own clock, a window about as wide as a phone.
//!
//! Never here: what only Chromium can be told (`browser`), and what is on a screen (`pages`).

use std::fs;
use std::net::{Ipv4Addr, TcpListener, TcpStream};
use std::ops::Deref;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::Arc;
use std::time::{SystemTime, UNIX_EPOCH};

use serde_json::{Value, json};
use thirtyfour::prelude::*;

use crate::browser::{Profile, must};
use crate::process::{Group, TRIES, required};
use crate::server::Site;
use crate::turn::Turn;
use crate::wait::{self, NotYet};
use crate::window::Window;

/// What browsers are built on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Engine {
    /// Chrome, Edge, and most browsers on Android.
    Chromium,
    /// Firefox.
    Firefox,
    /// Every browser on an iPhone; here in the build for GTK.
    WebKit,
}

/// The narrowest window that all engines can make, in pixels of the page.
const WINDOW: (u32, u32) = (500, 915);

/// A browser that has nothing on it yet. It is between seven and eight in the morning there, whenever the story is told.
#[derive(Debug)]
pub struct Browser {
    window: Window,
    _driver: Group,
    _screen: Option<Group>,
    // Last: the folder goes once the browser has ended.
    profile: Profile,
    _turn: Arc<Turn>,
}

impl Deref for Browser {
    type Target = Window;

    fn deref(&self) -> &Window {
        &self.window
    }
}

impl Browser {
    /// A new browser of this engine.
    pub async fn start(engine: Engine) -> Browser {
        let turn = Turn::of_this_story().await;
        let profile = Profile::fresh();
        must("make its folder", fs::create_dir_all(downloads(&profile)));
        must("name its folder", name_downloads(&profile.0));
        // On a loaded computer a driver now and then loses its port to another, or is not up yet.
        let mut begun = begin(engine, &profile).await;
        for _ in 1..TRIES {
            if begun.is_err() {
                begun = begin(engine, &profile).await;
            }
        }
        let (screen, group, driver) = must("start the browser", begun);
        // The group is killed at the end; there is nobody to say goodbye to.
        drop(driver.clone().leak());
        must(
            "size the window",
            driver.set_window_rect(0, 0, WINDOW.0, WINDOW.1).await,
        );
        Browser {
            window: Window::new(driver, engine),
            _driver: group,
            _screen: screen,
            profile,
            _turn: turn,
        }
    }

    /// Opens the app and waits until it has started.
    pub async fn open(&self, site: &Site) {
        self.go_to(&site.address()).await;
    }

    /// Puts a file where a field of files can pick it.
    pub fn has_file(&self, name: &str, bytes: &[u8]) -> PathBuf {
        let path = self.profile.0.join(name);
        must("put a file there", fs::write(&path, bytes));
        path
    }

    /// The only file that was downloaded, once it is there as a whole: its name and what stands in it.
    pub async fn downloaded(&self) -> (String, String) {
        let folder = downloads(&self.profile);
        wait::until("a file is downloaded", async || {
            let all = fs::read_dir(&folder).map_err(|error| NotYet(error.to_string()))?;
            let files: Vec<PathBuf> = all.flatten().map(|it| it.path()).collect();
            let [file] = &files[..] else {
                return Err(NotYet(format!("{files:?}")));
            };
            let text = fs::read_to_string(file).unwrap_or_default();
            let name = file.file_name().unwrap_or_default().to_string_lossy();
            // What is still on its way carries another ending.
            let whole = name.ends_with(".txt") && text.ends_with('\n');
            if whole {
                Ok((name.into_owned(), text))
            } else {
                Err(NotYet(format!("{name} with {} bytes", text.len())))
            }
        })
        .await
    }
}

/// A screen where one is needed, a driver, and its browser.
async fn begin(
    engine: Engine,
    profile: &Profile,
) -> WebDriverResult<(Option<Group>, Group, WebDriver)> {
    let (screen, group, port) = match engine {
        Engine::Chromium => {
            let mut driver = at_home("EVENROW_CHROMEDRIVER", &profile.0);
            let started = Group::start(driver.arg("--port=0"), "successfully on port ");
            (None, started.0, started.1)
        }
        Engine::Firefox => {
            let mut driver = at_home("EVENROW_GECKODRIVER", &profile.0);
            // The port for the other protocol is a fixed one unless it is told, and two would quarrel over it.
            driver.args(["--port=0", "--websocket-port=0", "--profile-root"]);
            driver.arg(&profile.0);
            let started = Group::start(&mut driver, "Listening on 127.0.0.1:");
            (None, started.0, started.1)
        }
        Engine::WebKit => {
            let (screen, number) = a_screen();
            let port = a_free_port();
            let mut driver = at_home("EVENROW_WEBKITDRIVER", &profile.0);
            driver.arg(format!("--port={port}"));
            driver.env("DISPLAY", format!(":{number}"));
            // It says nothing once it listens.
            let group = Group::start_silent(&mut driver);
            wait::until("the driver listens", async || {
                TcpStream::connect((Ipv4Addr::LOCALHOST, port))
                    .map_err(|error| NotYet(error.to_string()))
            })
            .await;
            (Some(screen), group, port)
        }
    };
    let address = format!("http://127.0.0.1:{port}");
    let driver = WebDriver::new(address, wanted(engine, profile)?).await?;
    Ok((screen, group, driver))
}

/// A driver whose browser keeps everything in the folder of the story, and lives where it is morning.
fn at_home(variable: &str, folder: &Path) -> Command {
    let mut driver = Command::new(required(variable));
    driver
        .env("HOME", folder)
        .env("TZ", where_it_is_morning())
        .env("LANG", "C.UTF-8");
    for name in ["XDG_CACHE_HOME", "XDG_CONFIG_HOME", "XDG_DATA_HOME"] {
        driver.env_remove(name);
    }
    driver
}

/// The folder that a browser downloads to.
fn downloads(profile: &Profile) -> PathBuf {
    profile.0.join("Downloads")
}

/// WebKit asks the system where downloads go.
fn name_downloads(home: &Path) -> std::io::Result<()> {
    let settings = home.join(".config");
    fs::create_dir_all(&settings)?;
    fs::write(
        settings.join("user-dirs.dirs"),
        "XDG_DOWNLOAD_DIR=\"$HOME/Downloads\"\n",
    )
}

/// The zone, whole hours from UTC, in which it is between seven and eight in the morning now.
fn where_it_is_morning() -> String {
    let now = SystemTime::now().duration_since(UNIX_EPOCH);
    let hour = now.map_or(0, |since| since.as_secs() / 3600 % 24);
    zone_of_the_morning(i64::try_from(hour).unwrap_or(0))
}

fn zone_of_the_morning(hour_of_utc: i64) -> String {
    let east = match 7 - hour_of_utc {
        beyond if beyond < -12 => beyond + 24,
        east => east,
    };
    // These names count the other way round: hours west of Greenwich.
    format!("Etc/GMT{:+}", -east)
}

fn wanted(engine: Engine, profile: &Profile) -> WebDriverResult<Capabilities> {
    let folder = downloads(profile).display().to_string();
    let mut wanted = Capabilities::new();
    let (name, key, options): (&str, &str, Value) = match engine {
        Engine::Chromium => (
            "chrome",
            "goog:chromeOptions",
            json!({
                "binary": required("EVENROW_CHROMIUM").to_string_lossy(),
                "args": crate::browser::CHROMIUM_ARGUMENTS,
                "prefs": { "download.default_directory": folder },
            }),
        ),
        Engine::Firefox => (
            "firefox",
            "moz:firefoxOptions",
            json!({
                "binary": required("EVENROW_FIREFOX").to_string_lossy(),
                "args": ["-headless"],
                // Two: the folder that is named.
                "prefs": { "browser.download.folderList": 2, "browser.download.dir": folder },
            }),
        ),
        Engine::WebKit => (
            "MiniBrowser",
            "webkitgtk:browserOptions",
            json!({
                "binary": required("EVENROW_WEBKIT").to_string_lossy(),
                "args": ["--automation"],
            }),
        ),
    };
    wanted.set("browserName", name)?;
    wanted.set(key, options)?;
    Ok(wanted)
}

/// A screen that nobody sees, and its number.
fn a_screen() -> (Group, u16) {
    let mut screen = Command::new(required("EVENROW_XVFB"));
    screen.args("-displayfd 1 -screen 0 1280x1024x24 -nolisten tcp".split(' '));
    // All that it says is its number.
    Group::start(&mut screen, "")
}

fn a_free_port() -> u16 {
    let listener = must("find a port", TcpListener::bind((Ipv4Addr::LOCALHOST, 0)));
    must("read the port", listener.local_addr()).port()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn somewhere_it_is_morning_at_every_hour() {
        assert_eq!(zone_of_the_morning(7), "Etc/GMT+0");
        assert_eq!(zone_of_the_morning(5), "Etc/GMT-2");
        assert_eq!(zone_of_the_morning(19), "Etc/GMT+12");
        assert_eq!(zone_of_the_morning(20), "Etc/GMT-11");
        assert_eq!(zone_of_the_morning(23), "Etc/GMT-8");
    }
}
