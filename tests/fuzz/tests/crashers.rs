//! Every file that ever broke a promise, and those of the saved journals, tried on every target.
//!
//! Never here: what the promises are (`src/lib.rs`).

use std::fs;
use std::path::Path;

/// The bytes of every file in a folder, beside this package.
fn files(folder: &str) -> Vec<(String, Vec<u8>)> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join(folder);
    let Ok(entries) = fs::read_dir(&folder) else {
        return Vec::new();
    };
    let paths = entries.filter_map(Result::ok).map(|it| it.path());
    paths
        .filter(|path| path.is_file())
        .map(|path| (path.display().to_string(), fs::read(&path).unwrap()))
        .collect()
}

#[test]
fn nothing_that_ever_broke_a_promise_breaks_one_again() {
    let mut tried = 0;
    for folder in ["crashers", "../journals", "../journals/bad"] {
        for (name, bytes) in files(folder) {
            println!("{name}");
            evenrow_fuzz::wire(&bytes);
            evenrow_fuzz::import(&bytes);
            evenrow_fuzz::ask(&bytes);
            tried += 1;
        }
    }
    assert!(30 < tried, "only {tried} files were found");
}
