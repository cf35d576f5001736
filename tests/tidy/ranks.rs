//! The core's modules in order: each may use only modules of a lower rank.

use crate::{program, texts};

/// Lowest first. Modules that share a rank do not use one another.
const RANKS: [&[&str]; 18] = [
    &["num"],
    &["record", "kept"],
    &["units"],
    &["problem"],
    &["facts", "geometry", "boards"],
    &["scene"],
    &["parts"],
    &["saw", "rack"],
    &["cutlist"],
    &["inputs"],
    &["layouts"],
    &["backwards"],
    &["price"],
    &["drawing"],
    &["report"],
    &["writers"],
    &["piece", "door"],
    &["save"],
];

/// Macros stand at the crate's top, whichever module defines them.
const MACROS: [(&str, &str); 2] = [("say", "units"), ("kept", "kept")];

fn rank(module: &str) -> Option<usize> {
    RANKS.iter().position(|rank| rank.contains(&module))
}

/// The modules that a piece of program names after `crate::`, alone or in a group.
fn used(line: &str) -> Vec<String> {
    let name = |text: &str| -> String {
        text.trim_start().chars().take_while(|c| c.is_ascii_alphanumeric() || *c == '_').collect()
    };
    let mut found = Vec::new();
    for rest in line.split("crate::").skip(1) {
        let Some(group) = rest.strip_prefix('{') else {
            found.push(name(rest));
            continue;
        };
        let mut depth = 0;
        let mut start = 0;
        for (at, c) in group.char_indices() {
            match c {
                '{' => depth += 1,
                ',' | '}' if depth == 0 => {
                    found.push(name(&group[start..at]));
                    start = at + 1;
                    if c == '}' {
                        break;
                    }
                }
                '}' => depth -= 1,
                _ => {}
            }
        }
    }
    found.retain(|module| !module.is_empty());
    found
}

/// What a file of the core does against the order.
fn breaches(path: &str, text: &str) -> Vec<String> {
    let own = path.trim_start_matches("src/core/").split(['/', '.']).next().unwrap_or_default();
    if own == "lib" {
        return Vec::new();
    }
    let Some(height) = rank(own) else {
        return vec![format!("{path}: {own} has no rank")];
    };
    // A use may run over several lines.
    let whole: Vec<&str> = program(text).map(|(_, line)| line).collect();
    used(&whole.join(" "))
        .into_iter()
        .map(|module| {
            let defined = MACROS.iter().find(|(name, _)| *name == module);
            defined.map_or(module, |(_, home)| (*home).to_owned())
        })
        .filter(|module| module != own)
        .filter(|module| rank(module).is_none_or(|other| other >= height))
        .map(|module| format!("{path}: {own} uses {module}"))
        .collect()
}

#[test]
fn the_core_uses_only_lower_ranks() {
    let found: Vec<String> = texts("src/core")
        .iter()
        .filter(|(path, _)| path.ends_with(".rs") && !path.starts_with("src/core/examples/"))
        .flat_map(|(path, text)| breaches(path, text))
        .collect();
    assert!(found.is_empty(), "{}", found.join("\n"));
}

#[test]
fn a_breach_is_seen_in_every_spelling() {
    let seen = |text: &str| breaches("src/core/units/length.rs", text).len();
    assert_eq!(seen("use crate::num::sin_deg;"), 0);
    assert_eq!(seen("use crate::units::Ticks;"), 0);
    assert_eq!(seen("use crate::layouts;"), 1);
    assert_eq!(seen("use crate::{num::{a, b}, layouts::{c, d}, saw};"), 2);
    assert_eq!(seen("use crate::{\n    num,\n    layouts,\n};"), 1);
    assert_eq!(seen("fn f() { crate::door::solve_value(x) }"), 1);
    assert_eq!(seen("use crate::nowhere;"), 1);
    assert_eq!(seen("// like crate::layouts\n#[cfg(test)]\nmod tests { use crate::layouts; }"), 0);
    assert_eq!(breaches("src/core/new.rs", "").len(), 1);
}
