//! `build`: bundles the app into dist/ with Trunk, which calls the stamp chore at its end.

use crate::{Outcome, headers, nothing_more, project, run, setup, split};
use std::path::PathBuf;
use std::process::Command;

pub(crate) fn run(arguments: &[String]) -> Outcome {
    nothing_more(arguments)?;
    let dist = build(&setup::for_building()?)?;
    println!("Built into {}", dist.display());
    Ok(())
}

/// Builds the app and returns the folder that holds it.
pub(crate) fn build(tools: &setup::Tools) -> Outcome<PathBuf> {
    bundle(tools, "dist", &[])
}

/// Builds the app that panics when its address asks for it, for the stories only, well away from the one that is shipped.
pub(crate) fn build_that_panics(tools: &setup::Tools) -> Outcome<PathBuf> {
    bundle(
        tools,
        "target/dist-that-panics",
        &["--features", "panic-on-purpose"],
    )
}

fn bundle(tools: &setup::Tools, dist: &str, more: &[&str]) -> Outcome<PathBuf> {
    let root = project::root()?;
    let dist = root.join(dist);
    let mut trunk = Command::new(&tools.trunk);
    trunk
        .args(["build", "--release", "--dist"])
        .arg(&dist)
        .args(more)
        .current_dir(&root)
        // Trunk 0.21 refuses to start when it is set to 1.
        .env_remove("NO_COLOR");
    split::stand_in(&mut trunk, tools)?;
    run::run(&mut trunk)?;
    headers::write(&dist)?;
    Ok(dist)
}
