//! Every dependency may be used freely: its license, as `cargo metadata` states it, is one of a few.

use crate::root;
use serde_json::Value;
use std::process::Command;

/// Licenses (SPDX) that ask for no more than their notice.
const FREE: [&str; 10] = [
    "0BSD",
    "Apache-2.0",
    "Apache-2.0 WITH LLVM-exception",
    "BSD-2-Clause",
    "BSD-3-Clause",
    "CC0-1.0",
    "ISC",
    "MIT",
    "Unicode-3.0",
    "Zlib",
];

/// Whether an SPDX expression leaves a choice that is free. `/` is an old spelling of `OR`; `AND` binds
/// closer (SPDX 2.3, annex D).
fn is_free(expression: &str) -> bool {
    let spelled = expression.trim().replace('/', " OR ");
    let any = split(&spelled, " OR ");
    if any.len() > 1 {
        return any.iter().any(|part| is_free(part));
    }
    let all = split(&spelled, " AND ");
    if all.len() > 1 {
        return all.iter().all(|part| is_free(part));
    }
    match spelled.strip_prefix('(').and_then(|s| s.strip_suffix(')')) {
        Some(inner) => is_free(inner),
        None => FREE.contains(&spelled.as_str()),
    }
}

/// The parts between a word that stands outside of parentheses.
fn split(text: &str, word: &str) -> Vec<String> {
    let mut parts = vec![String::new()];
    let mut depth = 0;
    let mut rest = text;
    while let Some(c) = rest.chars().next() {
        if depth == 0 && rest.starts_with(word) {
            parts.push(String::new());
            rest = &rest[word.len()..];
            continue;
        }
        match c {
            '(' => depth += 1,
            ')' => depth -= 1,
            _ => {}
        }
        parts.last_mut().expect("one part at least").push(c);
        rest = &rest[c.len_utf8()..];
    }
    parts
}

#[test]
fn every_dependency_is_free_to_use() {
    let told = Command::new(env!("CARGO"))
        .args(["metadata", "--format-version", "1", "--locked"])
        .current_dir(root())
        .output()
        .expect("cargo");
    let said = String::from_utf8_lossy(&told.stderr);
    assert!(told.status.success(), "{said}");
    let metadata: Value = serde_json::from_slice(&told.stdout).expect("JSON");
    let packages = metadata["packages"].as_array().expect("packages");
    // The app's own tree alone has more than fifty.
    assert!(packages.len() > 50, "{}", packages.len());
    let others: Vec<String> = packages
        .iter()
        .filter(|p| !is_free(p["license"].as_str().unwrap_or_default()))
        .map(|p| format!("{} {}: {}", p["name"], p["version"], p["license"]))
        .collect();
    assert!(others.is_empty(), "{}", others.join("\n"));
}

#[test]
fn an_expression_is_read_with_its_choices() {
    for free in [
        "MIT",
        "Apache-2.0/MIT",
        "MIT OR Apache-2.0 OR LGPL-2.1-or-later",
        "(MIT OR Apache-2.0) AND Unicode-3.0",
        "Apache-2.0 WITH LLVM-exception OR GPL-3.0-only",
    ] {
        assert!(is_free(free), "{free}");
    }
    for bound in [
        "",
        "GPL-3.0-only",
        "MIT AND GPL-3.0-only",
        "MPL-2.0 OR LGPL-2.1-or-later",
        "(MIT OR Apache-2.0) AND MPL-2.0",
        "MIT AND (GPL-2.0-only OR MPL-2.0)",
    ] {
        assert!(!is_free(bound), "{bound}");
    }
}
