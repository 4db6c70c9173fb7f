//! Whether every place that names a tool's version names the one of pins.rs.

use crate::pins;
use crate::tree::{Finding, Tree};

pub(super) fn disagreements(tree: &Tree) -> Vec<Finding> {
    let mentions = [
        (
            "Cargo.lock",
            format!(
                "name = \"wasm-bindgen\"\nversion = \"{}\"\n",
                pins::WASM_BINDGEN
            ),
        ),
        (
            "Trunk.toml",
            format!("\ntrunk-version = \"={}\"\n", pins::TRUNK),
        ),
        (
            "Trunk.toml",
            format!("\nwasm_bindgen = \"{}\"\n", pins::WASM_BINDGEN),
        ),
        (
            "Trunk.toml",
            format!("\nwasm_opt = \"version_{}\"", pins::wasm_opt()),
        ),
        (
            "app/xtask/npm/package.json",
            format!("\"binaryen\": \"{}\"", pins::BINARYEN),
        ),
        (
            "app/xtask/npm/package.json",
            format!("\"axe-core\": \"{}\"", pins::AXE),
        ),
        (
            "app/xtask/npm/package.json",
            format!("\"lighthouse\": \"{}\"", pins::LIGHTHOUSE),
        ),
        (
            "app/xtask/npm/package-lock.json",
            format!("\"binaryen\": \"{}\"", pins::BINARYEN),
        ),
        (
            "app/xtask/npm/package-lock.json",
            format!("\"axe-core\": \"{}\"", pins::AXE),
        ),
        (
            "app/xtask/npm/package-lock.json",
            format!("\"lighthouse\": \"{}\"", pins::LIGHTHOUSE),
        ),
    ];
    let mut found = Vec::new();
    for (path, mention) in mentions {
        let Some(file) = tree.files.iter().find(|file| file.path == path) else {
            continue;
        };
        if !file.text.contains(&mention) {
            found.push(file.finding(
                0,
                format!("does not hold {}", mention.trim().replace('\n', ", ")),
            ));
        }
    }
    found
}
