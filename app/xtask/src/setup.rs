//! `setup`: finds out which tools are missing and installs them; the other chores ask it for what they need.
//!
//! It looks at the tools themselves each time and keeps no note of its own that could grow stale. Never installs
//! anything unannounced, and never into the project: the tools stand in a cache folder of the user.

use crate::{Outcome, nothing_more, pins, project, run};
use sha2::{Digest, Sha256};
use std::ffi::OsString;
use std::path::{Path, PathBuf};
use std::process::Command;

const WASM_TARGET: &str = "wasm32-unknown-unknown";

pub(crate) fn run(arguments: &[String]) -> Outcome {
    nothing_more(arguments)?;
    for_testing()?;
    println!("Everything is in place.");
    Ok(())
}

/// What the bundler needs from its surroundings.
pub(crate) struct Tools {
    /// The program Trunk.
    pub(crate) trunk: PathBuf,
    /// The program that splits the wasm.
    pub(crate) wasm_split: PathBuf,
    pub(crate) wasm_bindgen: PathBuf,
    pub(crate) wasm_opt: PathBuf,
    /// PATH with the pinned tools in front.
    pub(crate) path: OsString,
}

/// What the browser tests need on top.
pub(crate) struct TestTools {
    /// For the build that comes before.
    pub(crate) building: Tools,
    /// The script that looks for barriers.
    pub(crate) axe: PathBuf,
    /// The folder of the npm packages, Lighthouse among them.
    pub(crate) npm: PathBuf,
    /// The browser, and the program that drives it.
    pub(crate) browser: PathBuf,
    pub(crate) driver: PathBuf,
    /// The same of the two other engines; WebKit draws on a screen that nobody sees.
    pub(crate) firefox: PathBuf,
    pub(crate) geckodriver: PathBuf,
    pub(crate) webkit: PathBuf,
    pub(crate) webkit_driver: PathBuf,
    pub(crate) screen: PathBuf,
    /// What holds the dependencies to their rules.
    pub(crate) deny: PathBuf,
}

// The quick ones stand first, so that what cannot be had is known before the long work begins.
const BUILDING: [&Item; 6] = [
    &WASM,
    &CRATES,
    &WASM_OPT,
    &TRUNK,
    &WASM_BINDGEN,
    &WASM_SPLIT,
];
const TESTING: [&Item; 13] = [
    &WASM,
    &CRATES,
    &WASM_OPT,
    &AXE,
    &LIGHTHOUSE,
    &BROWSER,
    &FIREFOX,
    &WEBKIT,
    &TRUNK,
    &WASM_BINDGEN,
    &WASM_SPLIT,
    &GECKODRIVER,
    &DENY,
];

/// Puts in place what `build` needs.
pub(crate) fn for_building() -> Outcome<Tools> {
    let place = Place::find()?;
    install_missing(&place, &BUILDING)?;
    place.tools()
}

/// Puts in place what `test` needs.
pub(crate) fn for_testing() -> Outcome<TestTools> {
    let place = Place::find()?;
    install_missing(&place, &TESTING)?;
    Ok(TestTools {
        building: place.tools()?,
        axe: place.npm.join(AXE_SCRIPT),
        npm: place.npm.clone(),
        browser: browser().ok_or("Chromium has gone since it was found.")?,
        driver: driver().ok_or("chromedriver has gone since it was found.")?,
        firefox: firefox().ok_or("Firefox has gone since it was found.")?,
        geckodriver: place
            .geckodriver()
            .ok_or("geckodriver has gone since it was found.")?,
        webkit: webkit().ok_or("WebKit has gone since it was found.")?,
        webkit_driver: webkit_driver().ok_or("WebKit's driver has gone since it was found.")?,
        screen: screen().ok_or("Xvfb has gone since it was found.")?,
        deny: place
            .deny()
            .ok_or("cargo-deny has gone since it was found.")?,
    })
}

/// Puts the wasm target in place, for chores that only compile.
pub(crate) fn for_compiling() -> Outcome {
    install_missing(&Place::find()?, &[&WASM])
}

/// Puts a browser in place, for chores that only draw.
pub(crate) fn for_drawing() -> Outcome<PathBuf> {
    install_missing(&Place::find()?, &[&BROWSER])?;
    browser().ok_or_else(|| "Chromium has gone since it was found.".to_string())
}

/// Where tools are looked for and installed.
struct Place {
    root: PathBuf,
    cache: PathBuf,
    /// The npm packages; the folder's name carries the sum of their lock file, so a new lock file means a new folder.
    npm: PathBuf,
}

impl Place {
    fn find() -> Outcome<Place> {
        let root = project::root()?;
        let cache = cache(|name| std::env::var_os(name))?;
        let lock = project::read(&root.join(NPM_FOLDER).join("package-lock.json"))?;
        let sum = Sha256::digest(lock);
        let npm = cache.join(format!("npm-{}", crate::stamp::short_hex(&sum)));
        Ok(Place { root, cache, npm })
    }

    fn installed(&self, program: &str, package: &str, version: &str) -> PathBuf {
        let file = format!("{program}{}", std::env::consts::EXE_SUFFIX);
        self.cache
            .join(format!("{package}-{version}"))
            .join("bin")
            .join(file)
    }

    /// The pinned version of a cargo-installed program: from PATH, else from the cache.
    fn pinned(&self, program: &str, package: &str, version: &str) -> Option<PathBuf> {
        let candidates = [
            project::on_path(program),
            Some(self.installed(program, package, version)),
        ];
        candidates
            .into_iter()
            .flatten()
            .find(|candidate| says_version(candidate, version))
    }

    fn trunk(&self) -> Option<PathBuf> {
        self.pinned("trunk", "trunk", pins::TRUNK)
    }

    fn wasm_bindgen(&self) -> Option<PathBuf> {
        self.pinned("wasm-bindgen", "wasm-bindgen-cli", pins::WASM_BINDGEN)
    }

    /// It does not say its version: the cache's folder carries it, and nothing else is trusted.
    fn wasm_split(&self) -> Option<PathBuf> {
        let ours = self.installed(SPLITTER, SPLITTER_PACKAGE, pins::WASM_SPLIT);
        ours.is_file().then_some(ours)
    }

    fn deny(&self) -> Option<PathBuf> {
        self.pinned("cargo-deny", "cargo-deny", pins::DENY)
    }

    fn geckodriver(&self) -> Option<PathBuf> {
        self.pinned("geckodriver", "geckodriver", pins::GECKODRIVER)
    }

    fn wasm_opt(&self) -> Option<PathBuf> {
        if let Some(found) =
            project::on_path("wasm-opt").filter(|found| says_version(found, pins::wasm_opt()))
        {
            return Some(found);
        }
        let ours = self.npm.join("node_modules/.bin/wasm-opt");
        let works = project::on_path("node").is_some() && ours.is_file();
        (works && self.holds_npm_package("binaryen", pins::BINARYEN)).then_some(ours)
    }

    fn holds_npm_package(&self, package: &str, version: &str) -> bool {
        let manifest = self
            .npm
            .join("node_modules")
            .join(package)
            .join("package.json");
        std::fs::read_to_string(manifest)
            .is_ok_and(|text| text.contains(&format!("\"version\": \"{version}\"")))
    }

    fn tools(&self) -> Outcome<Tools> {
        let trunk = self.trunk().ok_or("Trunk has gone since it was found.")?;
        let wasm_bindgen = self
            .wasm_bindgen()
            .ok_or("wasm-bindgen has gone since it was found.")?;
        let wasm_opt = self
            .wasm_opt()
            .ok_or("wasm-opt has gone since it was found.")?;
        let wasm_split = self
            .wasm_split()
            .ok_or("wasm-split-cli has gone since it was found.")?;
        let pinned = [&trunk, &wasm_bindgen, &wasm_opt];
        let folders = pinned
            .into_iter()
            .filter_map(|tool| tool.parent().map(Path::to_path_buf));
        let before = std::env::var_os("PATH").unwrap_or_default();
        let path = std::env::join_paths(folders.chain(std::env::split_paths(&before)))
            .map_err(|error| format!("the tools' folders cannot stand on PATH: {error}."))?;
        Ok(Tools {
            trunk,
            wasm_split,
            wasm_bindgen,
            wasm_opt,
            path,
        })
    }
}

/// The folder for tools: what the user says, else the usual place for caches.
fn cache(variable: impl Fn(&str) -> Option<OsString>) -> Outcome<PathBuf> {
    let set = |name| {
        variable(name)
            .filter(|value| !value.is_empty())
            .map(PathBuf::from)
    };
    set("EVENROW_TOOLS")
        .or_else(|| set("XDG_CACHE_HOME").map(|caches| caches.join("evenrow")))
        .or_else(|| set("HOME").map(|home| home.join(".cache/evenrow")))
        .ok_or_else(|| {
            "no place for the tools: set EVENROW_TOOLS to a folder that may hold them.".to_string()
        })
}

/// Whether a program is of exactly that version, by its own word.
fn says_version(program: &Path, version: &str) -> bool {
    run::answer(Command::new(program).arg("--version"))
        .is_some_and(|said| said.split_whitespace().any(|word| word == version))
}

/// One thing that must be in place.
struct Item {
    name: &'static str,
    why: &'static str,
    takes: &'static str,
    found: fn(&Place) -> bool,
    install: fn(&Place) -> Outcome,
    by_hand: fn() -> String,
}

fn install_missing(place: &Place, needed: &[&Item]) -> Outcome {
    let missing: Vec<_> = needed.iter().filter(|item| !(item.found)(place)).collect();
    if missing.is_empty() {
        return Ok(());
    }
    println!(
        "Missing, and installed now, once (what is no package of the system goes to {}):",
        place.cache.display()
    );
    for item in &missing {
        println!("  {}: {}; {}", item.name, item.why, item.takes);
    }
    for item in missing {
        if (item.found)(place) {
            // It came along with an item before.
            continue;
        }
        println!("\n{}", item.name);
        let trouble = match (item.install)(place) {
            Ok(()) if (item.found)(place) => continue,
            Ok(()) => "it was installed, yet it is still not found.".to_string(),
            Err(trouble) => trouble,
        };
        return Err(format!(
            "{} could not be put in place: {trouble}\nWhy it is needed: {}.\nBy hand: {}",
            item.name,
            item.why,
            (item.by_hand)()
        ));
    }
    Ok(())
}

const WASM: Item = Item {
    name: "the Rust target wasm32-unknown-unknown",
    why: "the app is compiled to WebAssembly",
    takes: "some seconds",
    found: |_| {
        run::answer(Command::new("rustc").args([
            "--print",
            "target-libdir",
            "--target",
            WASM_TARGET,
        ]))
        .is_some_and(|folder| Path::new(&folder).is_dir())
    },
    install: |_| {
        if project::on_path("rustup").is_none() {
            return Err("rustup is not on PATH.".to_string());
        }
        run::run(Command::new("rustup").args(["target", "add", WASM_TARGET]))
    },
    by_hand: || {
        format!(
            "`rustup target add {WASM_TARGET}`, or the package of your system that holds Rust's library for that target."
        )
    },
};

const CRATES: Item = Item {
    name: "the crates of Cargo.lock",
    why: "Trunk builds without the network",
    takes: "up to a minute",
    // Cargo itself knows best what it holds, and says so in a moment.
    found: |place| run::answer(fetch(place).arg("--offline")).is_some(),
    install: |place| run::run(&mut fetch(place)),
    by_hand: || format!("`cargo fetch --locked --target {WASM_TARGET}` where there is a network."),
};

fn fetch(place: &Place) -> Command {
    let mut cargo = run::cargo();
    cargo
        .args(["fetch", "--quiet", "--locked", "--target", WASM_TARGET])
        .current_dir(&place.root);
    cargo
}

const TRUNK: Item = Item {
    name: "Trunk",
    why: "it bundles the app",
    takes: "about two minutes on two cores, as it is compiled",
    found: |place| place.trunk().is_some(),
    install: |place| cargo_install(place, "trunk", pins::TRUNK, &[]),
    by_hand: || format!("put `trunk` {} on PATH.", pins::TRUNK),
};

const WASM_BINDGEN: Item = Item {
    name: "wasm-bindgen",
    why: "it writes what stands between wasm and the browser",
    takes: "about a minute on two cores, as it is compiled",
    found: |place| place.wasm_bindgen().is_some(),
    install: |place| {
        cargo_install(
            place,
            "wasm-bindgen-cli",
            pins::WASM_BINDGEN,
            &["--bin", "wasm-bindgen"],
        )
    },
    by_hand: || format!("put `wasm-bindgen` {} on PATH.", pins::WASM_BINDGEN),
};

const SPLITTER: &str = "wasm-split-cli";
const SPLITTER_PACKAGE: &str = "wasm_split_cli_support";

const WASM_SPLIT: Item = Item {
    name: "wasm-split-cli",
    why: "it splits the wasm, so that the first screen has less to wait for",
    takes: "about a minute on two cores, as it is compiled",
    found: |place| place.wasm_split().is_some(),
    install: |place| {
        cargo_install(
            place,
            SPLITTER_PACKAGE,
            pins::WASM_SPLIT,
            &["--features", "build-binary"],
        )
    },
    by_hand: || "call again where there is a network.".to_string(),
};

/// Without default features: Trunk's would let it download tools by itself. The dev profile compiles much faster.
fn cargo_install(place: &Place, package: &str, version: &str, more: &[&str]) -> Outcome {
    let folder = place.cache.join(format!("{package}-{version}"));
    run::run(
        run::cargo()
            .args(["install", "--locked", package, "--version", version])
            .args(["--no-default-features", "--profile", "dev"])
            .args(more)
            .arg("--root")
            .arg(folder)
            .env("CARGO_PROFILE_DEV_DEBUG", "0"),
    )
}

pub(crate) const NPM_FOLDER: &str = "app/xtask/npm";
const AXE_SCRIPT: &str = "node_modules/axe-core/axe.min.js";

const WASM_OPT: Item = Item {
    name: "wasm-opt",
    why: "it makes the wasm smaller",
    takes: "some seconds, about 220 MB with axe-core and lighthouse",
    found: |place| place.wasm_opt().is_some(),
    install: npm_install,
    by_hand: || {
        format!(
            "call again with Node, npm and a network, or put `wasm-opt` version {} on PATH.",
            pins::wasm_opt()
        )
    },
};

const AXE: Item = Item {
    name: "axe-core",
    why: "the browser tests look for barriers with it",
    takes: "nothing more than wasm-opt",
    found: |place| {
        place.npm.join(AXE_SCRIPT).is_file() && place.holds_npm_package("axe-core", pins::AXE)
    },
    install: npm_install,
    by_hand: || "call again with Node, npm and a network.".to_string(),
};

const LIGHTHOUSE: Item = Item {
    name: "lighthouse",
    why: "it measures the built app as a slow phone would have it",
    takes: "nothing more than wasm-opt",
    found: |place| {
        project::on_path("node").is_some()
            && place.holds_npm_package("lighthouse", pins::LIGHTHOUSE)
    },
    install: npm_install,
    by_hand: || "call again with Node, npm and a network.".to_string(),
};

/// Installs beside the final place and moves it there whole, so that a half-done folder is never taken for a done one.
fn npm_install(place: &Place) -> Outcome {
    if project::on_path("npm").is_none() {
        return Err("npm is not on PATH.".to_string());
    }
    let beside = place
        .npm
        .with_extension(format!("unfinished-{}", std::process::id()));
    let installed = npm_install_into(&beside, &place.root.join(NPM_FOLDER))
        .and_then(|()| project::replace_folder(&place.npm, &beside));
    if installed.is_err() {
        // What is left of it is of no use; if it cannot be removed, the trouble itself matters more.
        let _ = std::fs::remove_dir_all(&beside);
    }
    installed
}

fn npm_install_into(folder: &Path, manifests: &Path) -> Outcome {
    std::fs::create_dir_all(folder)
        .map_err(|error| format!("{} cannot be made: {error}.", folder.display()))?;
    for file in ["package.json", "package-lock.json"] {
        let bytes = project::read(&manifests.join(file))?;
        project::write(&folder.join(file), &bytes)?;
    }
    run::run(
        Command::new("npm")
            .args(["ci", "--ignore-scripts", "--no-audit", "--no-fund"])
            .current_dir(folder),
    )
}

const BROWSER: Item = Item {
    name: "Chromium and chromedriver",
    why: "the built app is tested in a real browser, and icons are drawn with it",
    takes: "about a minute, through apt-get",
    found: |_| browser().is_some() && driver().is_some(),
    install: |_| apt_install(&["chromium", "chromium-driver", "fonts-noto-core"]),
    by_hand: || {
        "install Chromium and the chromedriver of the same version, and name both programs in EVENROW_CHROMIUM and \
         EVENROW_CHROMEDRIVER. `cargo xtask test --quick` does without them."
            .to_string()
    },
};

const FIREFOX: Item = Item {
    name: "Firefox",
    why: "stories are told in its engine too",
    takes: "about a minute, through apt-get",
    found: |_| firefox().is_some(),
    install: |_| apt_install(&["firefox-esr"]),
    by_hand: || "install Firefox, and name the program in EVENROW_FIREFOX.".to_string(),
};

const GECKODRIVER: Item = Item {
    name: "geckodriver",
    why: "it drives Firefox",
    takes: "about two minutes on two cores, as it is compiled",
    found: |place| place.geckodriver().is_some(),
    install: |place| cargo_install(place, "geckodriver", pins::GECKODRIVER, &[]),
    by_hand: || format!("put `geckodriver` {} on PATH.", pins::GECKODRIVER),
};

const DENY: Item = Item {
    name: "cargo-deny",
    why: "it holds what comes from outside to its rules",
    takes: "about three minutes on two cores, as it is compiled",
    found: |place| place.deny().is_some(),
    install: |place| cargo_install(place, "cargo-deny", pins::DENY, &[]),
    by_hand: || format!("put `cargo-deny` {} on PATH.", pins::DENY),
};

const WEBKIT: Item = Item {
    name: "WebKit, its driver, and a screen that nobody sees",
    why: "stories are told in its engine too",
    takes: "about a minute, through apt-get",
    found: |_| webkit().is_some() && webkit_driver().is_some() && screen().is_some(),
    install: |_| apt_install(&["webkit2gtk-driver", "xvfb"]),
    by_hand: || {
        "install WebKitGTK with its MiniBrowser, WebKitWebDriver and Xvfb, and name the programs in EVENROW_WEBKIT, \
         EVENROW_WEBKITDRIVER and EVENROW_XVFB."
            .to_string()
    },
};

fn firefox() -> Option<PathBuf> {
    named_or_on_path("EVENROW_FIREFOX", &["firefox-esr", "firefox"])
}

/// The driver's package brings a small browser along, in a folder of its own that carries the version of the interface.
fn webkit() -> Option<PathBuf> {
    if std::env::var_os("EVENROW_WEBKIT").is_some() {
        return named_or_on_path("EVENROW_WEBKIT", &[]);
    }
    let folders = |folder: PathBuf| std::fs::read_dir(folder).into_iter().flatten().flatten();
    folders(PathBuf::from("/usr/lib"))
        .flat_map(|machine| folders(machine.path()))
        .filter(|it| it.file_name().to_string_lossy().starts_with("webkit2gtk-"))
        .map(|it| it.path().join("MiniBrowser"))
        .find(|it| it.is_file())
}

fn webkit_driver() -> Option<PathBuf> {
    named_or_on_path("EVENROW_WEBKITDRIVER", &["WebKitWebDriver"])
}

fn screen() -> Option<PathBuf> {
    named_or_on_path("EVENROW_XVFB", &["Xvfb"])
}

fn browser() -> Option<PathBuf> {
    named_or_on_path("EVENROW_CHROMIUM", &["chromium", "chromium-browser"])
}

fn driver() -> Option<PathBuf> {
    named_or_on_path("EVENROW_CHROMEDRIVER", &["chromedriver"])
}

fn named_or_on_path(variable: &str, programs: &[&str]) -> Option<PathBuf> {
    match std::env::var_os(variable) {
        Some(named) => Some(PathBuf::from(named)).filter(|named| named.is_file()),
        None => programs
            .iter()
            .find_map(|program| project::on_path(program)),
    }
}

fn apt_install(packages: &[&str]) -> Outcome {
    if project::on_path("apt-get").is_none() {
        return Err("there is no apt-get on this system.".to_string());
    }
    apt_get(&["update"])?;
    apt_get(&[&["install", "--yes", "--no-install-recommends"], packages].concat())
}

fn apt_get(arguments: &[&str]) -> Outcome {
    let am_root = run::answer(Command::new("id").arg("-u")).is_some_and(|id| id == "0");
    let mut command = if am_root {
        Command::new("apt-get")
    } else if project::on_path("sudo").is_some() {
        let mut sudo = Command::new("sudo");
        sudo.arg("apt-get");
        sudo
    } else {
        return Err("apt-get wants root, and there is no sudo.".to_string());
    };
    run::run(
        command
            .args(arguments)
            .env("DEBIAN_FRONTEND", "noninteractive"),
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    fn cache_with(set: &[(&str, &str)]) -> Outcome<PathBuf> {
        cache(|name| {
            let found = set.iter().find(|(known, _)| *known == name);
            found.map(|(_, value)| OsString::from(value))
        })
    }

    #[test]
    fn the_users_word_comes_before_the_usual_places() {
        let all = [
            ("EVENROW_TOOLS", "tools"),
            ("XDG_CACHE_HOME", "caches"),
            ("HOME", "home"),
        ];
        assert_eq!(cache_with(&all), Ok(PathBuf::from("tools")));
        assert_eq!(cache_with(&all[1..]), Ok(PathBuf::from("caches/evenrow")));
        assert_eq!(
            cache_with(&all[2..]),
            Ok(PathBuf::from("home/.cache/evenrow"))
        );
    }

    #[test]
    fn an_empty_word_is_no_word() {
        assert_eq!(
            cache_with(&[("EVENROW_TOOLS", ""), ("HOME", "home")]),
            Ok(PathBuf::from("home/.cache/evenrow"))
        );
        assert!(cache_with(&[]).is_err());
    }
}
