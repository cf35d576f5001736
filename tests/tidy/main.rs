//! The house's rules that a compiler does not check.

mod circles;
mod house;
mod licenses;
mod money;
mod policy;
mod shape;
mod tokens;

use std::path::{Path, PathBuf};

/// The workspace's root.
fn root() -> PathBuf {
    let here = Path::new(env!("CARGO_MANIFEST_DIR"));
    here.parent().unwrap_or(here).to_path_buf()
}

/// Every file below a folder of the workspace as (path from the root, bytes), in order of names.
fn files(folder: &str) -> Vec<(String, Vec<u8>)> {
    let root = root();
    let mut found = Vec::new();
    let mut open = vec![root.join(folder)];
    while let Some(next) = open.pop() {
        for entry in std::fs::read_dir(&next).expect("a folder of the workspace") {
            let path = entry.expect("an entry").path();
            if path.file_name().is_some_and(|n| n == "node_modules") {
                continue;
            }
            if path.is_dir() {
                open.push(path);
                continue;
            }
            let name = path.strip_prefix(&root).expect("below the root");
            let name = name.to_string_lossy().replace('\\', "/");
            found.push((name, std::fs::read(&path).expect("a file")));
        }
    }
    found.sort();
    assert!(!found.is_empty(), "{folder} is empty");
    found
}

/// The text files among them.
fn texts(folder: &str) -> Vec<(String, String)> {
    files(folder)
        .into_iter()
        .filter_map(|(name, bytes)| String::from_utf8(bytes).ok().map(|text| (name, text)))
        .collect()
}

/// A Rust file's lines with their numbers, up to its own tests and without comments.
fn program(text: &str) -> impl Iterator<Item = (usize, &str)> {
    text.lines()
        .take_while(|line| line.trim() != "#[cfg(test)]")
        .enumerate()
        .map(|(at, line)| (at + 1, line))
        .filter(|(_, line)| !line.trim_start().starts_with("//"))
}
