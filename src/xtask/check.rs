//! `cargo xtask check`: what can be told in seconds; `--long` rebuilds the case tables and looks at every screen in Firefox.

use crate::files::{Files, read_folder};
use crate::setup;
use crate::shell::{self, Failed};
use std::path::{Path, PathBuf};

/// Format and lints.
pub fn run() -> Result<(), Failed> {
    setup::wasm_target()?;
    lint()
}

/// Format and lints, the screens as wasm.
pub fn lint() -> Result<(), Failed> {
    shell::run(&mut shell::cargo(&["fmt", "--all", "--check"]))?;
    let native = "clippy --locked --workspace --exclude offsquare-app --all-targets --features offsquare-tests/browser,offsquare-door/script -- -D warnings";
    let wasm =
        "clippy --locked --package offsquare-app --target wasm32-unknown-unknown -- -D warnings";
    for line in [native, wasm] {
        let words: Vec<&str> = line.split(' ').collect();
        shell::run(&mut shell::cargo(&words))?;
    }
    Ok(())
}

/// Runs every `tests/oracles/*/make.*` and fails if a byte of any table in `tests` changes.
///
/// `make.py` runs in a virtual environment with the folder's `requirements.txt` (exact versions),
/// `make.mjs` after the folder's `npm ci`, `make.sh` as it is; each in its own folder. They write
/// JSON wherever they like inside `tests`. What they changed is left there to be looked at.
pub fn rebuild_cases() -> Result<(), Failed> {
    let before = tables()?;
    let oracles = oracles()?;
    if oracles.is_empty() {
        return Err("tests/oracles holds no make.* to rebuild the case tables with".into());
    }
    for oracle in oracles {
        make(&oracle)?;
    }
    let changed = differences(&before, &tables()?);
    if changed.is_empty() {
        return Ok(());
    }
    Err(format!("Rebuilt case tables differ: {}", changed.join(", ")))
}

/// Every JSON file under `tests`.
fn tables() -> Result<Files, Failed> {
    let mut files = read_folder(&shell::root().join("tests"))?;
    files.retain(|name, _| name.ends_with(".json") && !name.contains("node_modules/"));
    Ok(files)
}

fn oracles() -> Result<Vec<PathBuf>, Failed> {
    let folder = shell::root().join("tests/oracles");
    let mut found: Vec<PathBuf> = read_folder(&folder)?
        .keys()
        .filter(|name| {
            let parts: Vec<&str> = name.split('/').collect();
            matches!(parts[..], [_, file] if file.starts_with("make."))
        })
        .map(|name| folder.join(name))
        .collect();
    found.sort();
    Ok(found)
}

fn make(script: &Path) -> Result<(), Failed> {
    let folder = script.parent().unwrap_or(script);
    let name = script.to_string_lossy().into_owned();
    match script.extension().and_then(|e| e.to_str()) {
        Some("py") => {
            let python = environment(folder)?;
            shell::run(shell::command(&python, &[&name]).current_dir(folder))
        }
        Some("mjs") => {
            setup::node()?;
            if folder.join("package-lock.json").exists() {
                shell::run(shell::command("npm", &["ci"]).current_dir(folder))?;
            }
            shell::run(shell::command("node", &[&name]).current_dir(folder))
        }
        Some("sh") => shell::run(shell::command("bash", &[&name]).current_dir(folder)),
        _ => Err(format!("{name}: only make.py, make.mjs and make.sh are known")),
    }
}

/// A Python with the folder's exact requirements, kept in the target folder.
pub fn environment(folder: &Path) -> Result<String, Failed> {
    setup::python()?;
    let requirements = folder.join("requirements.txt");
    if !requirements.exists() {
        return Ok("python3".into());
    }
    let name = folder.file_name().unwrap_or(folder.as_os_str());
    let home = shell::target().join("oracles").join(name);
    let path = home.to_string_lossy().into_owned();
    let python = format!("{path}/bin/python");
    if !Path::new(&python).exists() {
        shell::run(&mut shell::command("python3", &["-m", "venv", &path]))?;
    }
    let list = requirements.to_string_lossy().into_owned();
    shell::run(&mut shell::command(
        &python,
        &["-m", "pip", "install", "--quiet", "--requirement", &list],
    ))?;
    Ok(python)
}

fn differences(before: &Files, after: &Files) -> Vec<String> {
    let names: std::collections::BTreeSet<&String> = before.keys().chain(after.keys()).collect();
    names.into_iter().filter(|name| before.get(*name) != after.get(*name)).cloned().collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn changed_added_and_lost_tables_are_named() {
        let files = |list: &[(&str, u8)]| -> Files {
            list.iter().map(|(n, b)| (n.to_string(), vec![*b])).collect()
        };
        let before = files(&[("a", 1), ("b", 1), ("c", 1)]);
        let after = files(&[("a", 1), ("b", 2), ("d", 1)]);
        assert_eq!(differences(&before, &after), ["b", "c", "d"]);
        assert!(differences(&before, &before).is_empty());
    }
}
