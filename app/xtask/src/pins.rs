//! The one place where the versions of the tools are written down.
//!
//! Tidy compares them with Cargo.lock, Trunk.toml and app/xtask/npm/package.json. Never a tool without a pin: two
//! computers with different tools would build two different apps.

/// Bundles the app. 0.22 asks for a newer Rust than ours.
pub(crate) const TRUNK: &str = "0.21.14";

/// Writes the bindings between wasm and JavaScript. Must equal the `wasm-bindgen` of Cargo.lock to the last digit.
pub(crate) const WASM_BINDGEN: &str = "0.2.129";

/// Splits the wasm in two. It reads what `wasm_split_helpers` of Cargo.lock writes.
pub(crate) const WASM_SPLIT: &str = "0.2.4";

/// Holds `wasm-opt`, which makes the wasm smaller.
pub(crate) const BINARYEN: &str = "132.0.0";

/// Looks for barriers in the built pages, in the browser tests.
pub(crate) const AXE: &str = "4.14.1";

/// Measures the built app as a slow phone would have it. 13 asks for a newer Node than most computers have.
pub(crate) const LIGHTHOUSE: &str = "12.2.3";

/// Drives Firefox, in the browser tests. Firefox itself is the system's, as Chromium and WebKit are.
pub(crate) const GECKODRIVER: &str = "0.37.1";

/// Holds what comes from outside to `.cargo/deny.toml`.
pub(crate) const DENY: &str = "0.20.2";

/// What `wasm-opt --version` says of the pinned release, which counts in whole numbers.
pub(crate) fn wasm_opt() -> &'static str {
    BINARYEN.split('.').next().unwrap_or(BINARYEN)
}
