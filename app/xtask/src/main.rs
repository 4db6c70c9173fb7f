//! The chores of this project, behind one door: `cargo xtask <chore>`.
//!
//! This file only finds the chore that was asked for; each chore lives in a file of its own. Nothing here reaches the
//! phone, and nothing here knows what the app is about.

mod build;
mod fuzz;
mod harden;
mod headers;
mod host;
mod icons;
mod licences;
mod lighthouse;
mod measure;
mod pack;
mod pins;
mod project;
mod run;
mod rust_text;
mod serve;
mod setup;
mod sizes;
mod sources;
mod split;
mod stamp;
mod test;
mod tidy;
mod tree;

use std::process::ExitCode;

/// What a chore ends with: nothing, or the sentence that says why not and what to do.
type Outcome<T = ()> = Result<T, String>;

struct Chore {
    name: &'static str,
    takes: &'static str,
    does: &'static str,
    run: fn(&[String]) -> Outcome,
}

/// Every chore, in the order in which the help lists them.
const CHORES: &[Chore] = &[
    Chore {
        name: "setup",
        takes: "",
        does: "find out which tools are missing and install them",
        run: setup::run,
    },
    Chore {
        name: "serve",
        takes: "[--port N]",
        does: "build the app and serve it to this computer until Ctrl-C",
        run: serve::run,
    },
    Chore {
        name: "build",
        takes: "",
        does: "build the app into dist/",
        run: build::run,
    },
    Chore {
        name: "pack",
        takes: "",
        does: "build dist/ and say what it holds and how to host it",
        run: pack::run,
    },
    Chore {
        name: "test",
        takes: "[--quick]",
        does: "every check, as the CI runs it; --quick leaves out the build and the browser",
        run: test::run,
    },
    Chore {
        name: "lighthouse",
        takes: "",
        does: "measure the packed build as a slow phone would have it; fails below its goals",
        run: lighthouse::run,
    },
    Chore {
        name: "sizes",
        takes: "",
        does: "what a phone fetches before its first screen, and what stands in the program; fails above its gates",
        run: sizes::run,
    },
    Chore {
        name: "measure",
        takes: "[--quick]",
        does: "how fast it starts and answers on a slow phone, written into DEVELOPERS.md; takes half an hour, --quick leaves out the tests",
        run: measure::run,
    },
    Chore {
        name: "harden",
        takes: "[histories] [journals]",
        does: "many faults, counted into tests/journals/hardened.md; takes an hour or more",
        run: harden::run,
    },
    Chore {
        name: "fuzz",
        takes: "<target> <seconds>",
        does: "any bytes on the reader of records (wire), the import or ask, steered by what they reach",
        run: fuzz::run,
    },
    Chore {
        name: "tidy",
        takes: "",
        does: "the checks of text that hold our nevers",
        run: tidy::run,
    },
    Chore {
        name: "sources",
        takes: "",
        does: "every number of the rules with its basis, and the bibliography",
        run: sources::run,
    },
    Chore {
        name: "host",
        takes: "<folder> [--port N]",
        does: "serve a folder to this computer; the browser tests use it",
        run: host::run,
    },
    Chore {
        name: "icons",
        takes: "",
        does: "draw the PNG icons from public/icons/*.svg",
        run: icons::run,
    },
    Chore {
        name: "stamp",
        takes: "",
        does: "finish a bundle; Trunk calls it after each build",
        run: stamp::run,
    },
];

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    if split::is_called(std::env::args_os().next().as_ref()) {
        return ended("wasm-bindgen", split::run(&arguments));
    }
    let Some((name, rest)) = arguments.split_first() else {
        println!("{}", help());
        return ExitCode::SUCCESS;
    };
    if ["help", "--help", "-h"].contains(&name.as_str()) {
        println!("{}", help());
        return ExitCode::SUCCESS;
    }
    let outcome = match CHORES.iter().find(|chore| chore.name == name) {
        Some(chore) => (chore.run)(rest),
        None => Err(format!("there is no chore called {name}.\n\n{}", help())),
    };
    ended(name, outcome)
}

fn ended(name: &str, outcome: Outcome) -> ExitCode {
    match outcome {
        Ok(()) => ExitCode::SUCCESS,
        Err(trouble) => {
            eprintln!("\n{name}: {trouble}");
            ExitCode::FAILURE
        }
    }
}

fn help() -> String {
    let line = |chore: &Chore| {
        let call = format!("{} {}", chore.name, chore.takes);
        format!("\n  {call:<26} {}", chore.does)
    };
    let lines: Vec<_> = CHORES.iter().map(line).collect();
    format!("cargo xtask <chore>\n{}", lines.concat())
}

/// The port after `--port` among a chore's arguments, and the arguments that are left.
fn port_and_rest(arguments: &[String]) -> Outcome<(Option<u16>, Vec<&str>)> {
    let mut port = None;
    let mut rest = Vec::new();
    let mut words = arguments.iter();
    while let Some(word) = words.next() {
        if word == "--port" {
            let number = words.next().and_then(|number| number.parse().ok());
            port = Some(number.ok_or("--port wants a number from 0 to 65535 after it.")?);
        } else {
            rest.push(word.as_str());
        }
    }
    Ok((port, rest))
}

/// Refuses arguments that a chore does not know, so that a slip of the keyboard is not taken for consent.
fn nothing_more(rest: &[impl AsRef<str>]) -> Outcome {
    match rest.first() {
        None => Ok(()),
        Some(word) => Err(format!(
            "it does not know what {} means. `cargo xtask help` lists what it takes.",
            word.as_ref()
        )),
    }
}

/// Whether the short form of a chore is wanted; it takes nothing else.
fn is_quick(arguments: &[String]) -> Outcome<bool> {
    match arguments {
        [] => Ok(false),
        [word] if word == "--quick" => Ok(true),
        [..] => Err("it takes --quick or nothing.".to_string()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn words(words: &[&str]) -> Vec<String> {
        words.iter().map(ToString::to_string).collect()
    }

    #[test]
    fn help_names_every_chore() {
        for chore in CHORES {
            assert!(help().contains(chore.name) && help().contains(chore.does));
        }
    }

    #[test]
    fn a_port_may_stand_before_or_after_the_folder() {
        for call in [
            words(&["dist", "--port", "0"]),
            words(&["--port", "0", "dist"]),
        ] {
            assert_eq!(port_and_rest(&call), Ok((Some(0), vec!["dist"])));
        }
    }

    #[test]
    fn a_port_that_is_no_number_is_refused() {
        assert!(port_and_rest(&words(&["--port", "many"])).is_err());
        assert!(port_and_rest(&words(&["--port"])).is_err());
    }
}
