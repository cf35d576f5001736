//! File names that carry a hash of their content, and the references to them.

use crate::files::Files;
use crate::shell::Failed;
use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use sha2::{Digest, Sha256};
use std::collections::{BTreeMap, BTreeSet};

/// The page and the service worker are found by name, so theirs stay.
pub const STABLE: [&str; 2] = ["index.html", "sw.js"];

const TEXT: [&str; 5] = ["html", "css", "js", "webmanifest", "svg"];

/// Every file that `index.html` leads to, under a name with its content's hash (`style-0f3a….css`),
/// with the references in text files rewritten. Second: the files that nothing refers to.
///
/// A reference is a file's path in quotes or `url(…)`, with or without a leading `./`; text files that
/// refer to others stand in the top folder. A circle of references has no answer.
pub fn pin(files: &Files) -> Result<(Files, Vec<String>), Failed> {
    let mut done =
        Pinning { files, names: BTreeMap::new(), out: Files::new(), open: BTreeSet::new() };
    done.visit("index.html")?;
    let left_out = files.keys().filter(|name| !done.names.contains_key(*name)).cloned().collect();
    Ok((done.out, left_out))
}

/// The hash that a browser checks a fetched file against.
pub fn integrity(bytes: &[u8]) -> String {
    format!("sha256-{}", STANDARD.encode(Sha256::digest(bytes)))
}

/// The first ten hexadecimal digits of a SHA-256.
pub fn short_hash(bytes: &[u8]) -> String {
    let digest = Sha256::digest(bytes);
    digest[..5].iter().map(|b| format!("{b:02x}")).collect()
}

struct Pinning<'a> {
    files: &'a Files,
    names: BTreeMap<String, String>,
    out: Files,
    open: BTreeSet<String>,
}

impl Pinning<'_> {
    fn visit(&mut self, name: &str) -> Result<(), Failed> {
        if self.names.contains_key(name) {
            return Ok(());
        }
        let Some(bytes) = self.files.get(name) else {
            return Err(format!("{name} is missing"));
        };
        if !self.open.insert(name.to_string()) {
            return Err(format!("{name} refers to itself through other files"));
        }
        let mut bytes = bytes.clone();
        if TEXT.contains(&extension(name)) {
            let mut text = String::from_utf8(bytes).map_err(|_| format!("{name} is not UTF-8"))?;
            for other in self.files.keys().filter(|other| *other != name) {
                if refers(&text, other) {
                    self.visit(other)?;
                    text = point_to(&text, other, &self.names[other]);
                }
            }
            bytes = text.into_bytes();
        }
        self.open.remove(name);
        let pinned = if STABLE.contains(&name) {
            name.to_string()
        } else {
            let ending = extension(name);
            let stem = &name[..name.len() - ending.len() - 1];
            format!("{stem}-{}.{ending}", short_hash(&bytes))
        };
        self.names.insert(name.to_string(), pinned.clone());
        self.out.insert(pinned, bytes);
        Ok(())
    }
}

fn extension(name: &str) -> &str {
    name.rsplit_once('.').map_or("", |(_, ending)| ending)
}

const QUOTES: [(char, char); 3] = [('"', '"'), ('\'', '\''), ('(', ')')];

fn spellings(name: &str) -> impl Iterator<Item = (String, char, char)> + '_ {
    QUOTES.into_iter().flat_map(move |(open, close)| {
        ["", "./"].map(|lead| (format!("{open}{lead}{name}{close}"), open, close))
    })
}

fn refers(text: &str, name: &str) -> bool {
    spellings(name).any(|(spelled, ..)| text.contains(&spelled))
}

fn point_to(text: &str, name: &str, pinned: &str) -> String {
    spellings(name).fold(text.to_string(), |text, (spelled, open, close)| {
        text.replace(&spelled, &format!("{open}./{pinned}{close}"))
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn files(list: &[(&str, &str)]) -> Files {
        list.iter().map(|(n, t)| (n.to_string(), t.as_bytes().to_vec())).collect()
    }

    #[test]
    fn references_follow_the_names_and_unused_files_stay_out() {
        let input = files(&[
            ("index.html", r#"<script src="./a.js"></script>"#),
            ("a.js", "import './b.wasm'; register(\"./sw.js\")"),
            ("b.wasm", "\0asm"),
            ("sw.js", "1"),
            ("unused.svg", "<svg/>"),
        ]);
        let (out, left) = pin(&input).unwrap();
        assert_eq!(left, ["unused.svg"]);
        // printf '\0asm' | sha256sum begins cd5d4935a4
        let b = "b-cd5d4935a4.wasm";
        assert!(out.contains_key(b), "{:?}", out.keys());
        let a = out.keys().find(|n| n.starts_with("a-")).unwrap();
        let text = String::from_utf8(out[a].clone()).unwrap();
        assert_eq!(text, format!("import './{b}'; register(\"./sw.js\")"));
        let page = String::from_utf8(out["index.html"].clone()).unwrap();
        assert_eq!(page, format!(r#"<script src="./{a}"></script>"#));
    }

    #[test]
    fn a_changed_leaf_changes_every_name_above_it() {
        let name_of_a = |leaf: &str| {
            let input = files(&[("index.html", "'a.js'"), ("a.js", "'b.css'"), ("b.css", leaf)]);
            let (out, _) = pin(&input).unwrap();
            out.keys().find(|n| n.starts_with("a-")).unwrap().clone()
        };
        assert_ne!(name_of_a("1"), name_of_a("2"));
    }

    #[test]
    fn a_circle_is_refused() {
        let input = files(&[("index.html", "'a.js'"), ("a.js", "'b.js'"), ("b.js", "'a.js'")]);
        assert!(pin(&input).is_err());
    }

    #[test]
    fn integrity_is_base64_of_sha256() {
        // The empty string's value is in the W3C Subresource Integrity tests and many manuals.
        assert_eq!(integrity(b""), "sha256-47DEQpj8HBSa+/TImW+5JCeuQeRkm5NMpJWZG3hSuFU=");
    }
}
