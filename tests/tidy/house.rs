//! What lies where, and what is not left lying about.

use crate::{files, program, root, texts};

const TOP: [&str; 7] =
    ["Cargo.toml", "DEVELOPERS.md", "LICENSE", "README.md", "src", "tests", "www"];

/// Written by tools, or a tool's own name that cannot be a dot-file.
const TOP_TOO: [&str; 4] = ["Cargo.lock", "rust-toolchain.toml", "target", "dist"];

#[test]
fn the_top_level_is_seven_names() {
    let strange: Vec<String> = std::fs::read_dir(root())
        .expect("the root")
        .map(|entry| entry.expect("an entry").file_name())
        .map(|name| name.to_string_lossy().into_owned())
        .filter(|name| !name.starts_with('.'))
        .filter(|name| !TOP.contains(&name.as_str()) && !TOP_TOO.contains(&name.as_str()))
        .collect();
    assert!(strange.is_empty(), "{strange:?}");
}

#[test]
fn nothing_is_left_for_later() {
    // Spelled apart, so that this file does not hold them.
    let marks = [
        ["TO", "DO"].concat(),
        ["FIX", "ME"].concat(),
        ["X", "XX"].concat(),
        ["unimplemented", "!"].concat(),
        ["todo", "!("].concat(),
        ["#[ig", "nore"].concat(),
    ];
    let mut found = Vec::new();
    for folder in ["src", "tests", "www"] {
        for (path, text) in texts(folder) {
            for mark in marks.iter().filter(|mark| text.contains(*mark)) {
                found.push(format!("{path}: {mark}"));
            }
        }
    }
    assert!(found.is_empty(), "{}", found.join("\n"));
}

#[test]
fn no_file_is_over_200_kilobytes() {
    let large: Vec<String> = ["src", "tests", "www"]
        .iter()
        .flat_map(|folder| files(folder))
        .filter(|(_, bytes)| bytes.len() > 200_000)
        .map(|(path, bytes)| format!("{path}: {} bytes", bytes.len()))
        .collect();
    assert!(large.is_empty(), "{}", large.join("\n"));
}

#[test]
fn no_program_is_over_500_lines() {
    let long: Vec<String> = ["src", "tests", "www"]
        .iter()
        .flat_map(|folder| texts(folder))
        .filter(|(path, _)| [".rs", ".py", ".js"].iter().any(|end| path.ends_with(end)))
        .filter(|(_, text)| text.lines().count() > 500)
        .map(|(path, text)| format!("{path}: {} lines", text.lines().count()))
        .collect();
    assert!(long.is_empty(), "{}", long.join("\n"));
}

#[test]
fn no_module_is_called_after_nothing() {
    let empty = ["utils", "util", "common", "helpers", "helper", "manager", "misc"];
    let found: Vec<String> = ["src", "tests"]
        .iter()
        .flat_map(|folder| files(folder))
        .map(|(path, _)| path)
        .filter(|path| path.split(['/', '.']).any(|part| empty.contains(&part)))
        .collect();
    assert!(found.is_empty(), "{found:?}");
}

/// A panic in the screens cannot be caught: the page would be gone.
#[test]
fn screens_and_core_do_not_panic_on_purpose() {
    let calls = [".unwrap()", ".expect(", "panic!(", "unreachable!("];
    let mut found = Vec::new();
    for (path, text) in texts("src") {
        if !path.ends_with(".rs")
            || path.starts_with("src/xtask/")
            || path.contains("/examples/")
            || path.ends_with("/tests.rs")
            || path.contains("/tests/")
        {
            continue;
        }
        for (at, line) in program(&text) {
            for call in calls.iter().filter(|call| line.contains(*call)) {
                found.push(format!("{path}:{at}: {call}"));
            }
        }
    }
    assert!(found.is_empty(), "{}", found.join("\n"));
}
