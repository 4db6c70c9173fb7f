//! Where things stand: the project's own folders, and programs on PATH.

use crate::Outcome;
use std::path::{Path, PathBuf};

/// The folder that holds the workspace, looked for from here upwards.
pub(crate) fn root() -> Outcome<PathBuf> {
    let here = std::env::current_dir()
        .map_err(|error| format!("the current folder cannot be read: {error}."))?;
    here.ancestors()
        .find(|folder| folder.join("app/xtask/Cargo.toml").is_file())
        .map(Path::to_path_buf)
        .ok_or_else(|| {
            "this folder is not inside the project. Go to its folder and call again.".to_string()
        })
}

/// A program of that name on PATH.
pub(crate) fn on_path(program: &str) -> Option<PathBuf> {
    let path = std::env::var_os("PATH")?;
    let file = format!("{program}{}", std::env::consts::EXE_SUFFIX);
    std::env::split_paths(&path)
        .map(|folder| folder.join(&file))
        .find(|candidate| candidate.is_file())
}

/// Every file below a folder, as paths relative to it with `/` between the parts, in order.
pub(crate) fn files_below(folder: &Path) -> Outcome<Vec<String>> {
    files_below_except(folder, &[])
}

/// As [`files_below`], without the folders of these names, wherever they stand.
pub(crate) fn files_below_except(folder: &Path, except: &[&str]) -> Outcome<Vec<String>> {
    let mut found = Vec::new();
    let mut open = vec![String::new()];
    while let Some(inside) = open.pop() {
        let here = folder.join(&inside);
        let entries = std::fs::read_dir(&here)
            .map_err(|error| format!("{} cannot be read: {error}.", here.display()))?;
        for entry in entries {
            let entry =
                entry.map_err(|error| format!("{} cannot be read: {error}.", here.display()))?;
            let name = entry.file_name().to_string_lossy().into_owned();
            let path = if inside.is_empty() {
                name.clone()
            } else {
                format!("{inside}/{name}")
            };
            if !entry.path().is_dir() {
                found.push(path);
            } else if !except.contains(&name.as_str()) {
                open.push(path);
            }
        }
    }
    found.sort();
    Ok(found)
}

/// What stands after the last dot of a file's name.
pub(crate) fn extension(path: &str) -> &str {
    let extension = Path::new(path).extension();
    extension
        .and_then(|extension| extension.to_str())
        .unwrap_or_default()
}

/// A file's bytes, or the sentence that says why not.
pub(crate) fn read(path: &Path) -> Outcome<Vec<u8>> {
    std::fs::read(path).map_err(|error| format!("{} cannot be read: {error}.", path.display()))
}

/// A file's text, or the sentence that says why not.
pub(crate) fn read_text(path: &Path) -> Outcome<String> {
    std::fs::read_to_string(path)
        .map_err(|error| format!("{} cannot be read: {error}.", path.display()))
}

/// Writes a file and the folders that it lies in, or says why not.
pub(crate) fn write(path: &Path, bytes: &[u8]) -> Outcome {
    let folder = path.parent().map_or(Ok(()), std::fs::create_dir_all);
    folder
        .and_then(|()| std::fs::write(path, bytes))
        .map_err(|error| format!("{} cannot be written: {error}.", path.display()))
}

/// Puts a new folder in the place of an old one, if there is one.
pub(crate) fn replace_folder(old: &Path, new: &Path) -> Outcome {
    if old.exists() {
        std::fs::remove_dir_all(old)
            .map_err(|error| format!("{} cannot be replaced: {error}.", old.display()))?;
    }
    std::fs::rename(new, old).map_err(|error| format!("{} cannot be made: {error}.", old.display()))
}
