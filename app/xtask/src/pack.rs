//! `pack`: leaves dist/ as the folder that any static host can serve, and says what it weighs.

use crate::{Outcome, build, nothing_more, project, run, setup};
use std::path::Path;
use std::process::Command;

/// Node has brotli built in and is there for wasm-opt anyway; it reads paths and prints one packed size a line.
const BROTLI_SIZES: &str = "const { brotliCompressSync } = require('zlib'); const { readFileSync } = require('fs'); \
     for (const path of process.argv.slice(1)) console.log(brotliCompressSync(readFileSync(path)).length);";

const HOW_TO_HOST: &str = "\
Copy the whole folder to any static host, at the root of a site or below it (https://example.org/evenrow/).
- The host must speak https, or the phone keeps nothing for use without a network.
- index.html and sw.js: Cache-Control: no-cache. Names with sixteen hexadecimal digits may be kept for ever.
- .wasm: application/wasm. .webmanifest: application/manifest+json.
- _headers says which headers to send with each file. Several hosts read it where it lies, at the root of a site; tell
  others by hand. Without them anybody may show the app in a frame of their own page.
- Put up a new version by replacing the whole folder; phones check every file and take it whole or not at all.";

pub(crate) fn run(arguments: &[String]) -> Outcome {
    nothing_more(arguments)?;
    let dist = build::build(&setup::for_building()?)?;
    let paths = project::files_below(&dist)?;
    let mut sizes = Vec::new();
    for path in &paths {
        sizes.push(project::read(&dist.join(path))?.len());
    }
    let packed = brotli_sizes(&dist, &paths);
    println!("\n{:>11} {:>11}", "bytes", "brotli");
    for (row, (path, size)) in paths.iter().zip(&sizes).enumerate() {
        println!("{size:>11} {:>11}  {path}", shown(packed.get(row)));
    }
    let packed_sum = (!packed.is_empty()).then(|| packed.iter().sum::<usize>());
    println!(
        "{:>11} {:>11}  {}",
        sizes.iter().sum::<usize>(),
        shown(packed_sum.as_ref()),
        dist.display()
    );
    println!("\n{HOW_TO_HOST}");
    Ok(())
}

fn shown(size: Option<&usize>) -> String {
    size.map_or_else(|| "?".to_string(), ToString::to_string)
}

/// The size of each file under brotli; empty where Node is missing.
pub(crate) fn brotli_sizes(dist: &Path, paths: &[String]) -> Vec<usize> {
    let mut node = Command::new("node");
    node.args(["-e", BROTLI_SIZES, "--"])
        .args(paths)
        .current_dir(dist);
    let sizes: Vec<_> = run::answer(&mut node)
        .unwrap_or_default()
        .lines()
        .filter_map(|line| line.parse().ok())
        .collect();
    if sizes.len() == paths.len() {
        sizes
    } else {
        Vec::new()
    }
}
