//! The folder that any static host can serve: named files, and the service worker's list of them.
//!
//! The manifest states no `id`: a relative one is read from the host's root, so copies in two folders would be one
//! app.

use crate::files::{self, Files};
use crate::pinned::{self, STABLE};
use crate::shell::Failed;
use std::path::Path;

/// A finished build.
pub struct Dist {
    pub files: Files,
    /// Hash of all bytes of the build.
    pub version: String,
}

impl Dist {
    /// Puts the static files and the wasm with its glue together under names with hashes.
    pub fn assemble(mut www: Files, glue: Files) -> Result<Dist, Failed> {
        www.extend(glue);
        www.iter_mut().for_each(|(name, bytes)| lean(name, bytes));
        let (mut files, left_out) = pinned::pin(&www)?;
        for name in left_out {
            eprintln!("left out: www/{name} (nothing refers to it)");
        }
        let worker = files
            .remove("sw.js")
            .ok_or("no file refers to www/sw.js: the app would not work offline")?;
        let worker = String::from_utf8(worker).map_err(|_| "www/sw.js is not UTF-8")?;
        let listed: Vec<String> = files
            .iter()
            .map(|(name, bytes)| {
                // The page is asked for by its folder: some hosts redirect `index.html` to it.
                let url = if name == "index.html" { "./" } else { name };
                format!("  [\"{url}\", \"{}\"],", pinned::integrity(bytes))
            })
            .collect();
        let worker = minifier::js::minify(&worker).to_string();
        let list = format!("const FILES=[\n{}\n];", listed.join("\n"));
        let worker = fill(&worker, "const FILES=[];", &list)?;
        // The list holds a hash of every file, so the worker's text stands for the whole build.
        let version = pinned::short_hash(worker.as_bytes());
        let stamp = format!("const VERSION=\"{version}\";\n");
        let worker = fill(&worker, "const VERSION=\"\";", &stamp)?;
        files.insert("sw.js".into(), worker.into_bytes());
        Ok(Dist { files, version })
    }

    /// Writes the folder anew.
    pub fn write(&self, folder: &Path) -> Result<(), Failed> {
        files::write_folder(&self.files, folder)
    }

    /// Whether it is there for an installed app's looks alone.
    pub fn is_picture(name: &str) -> bool {
        name.ends_with(".png")
    }

    /// Whether a first visit fetches this file before the app runs; the rest is stored later.
    pub fn in_first_load(name: &str) -> bool {
        let later = ["worker-", "planner-", "planner_bg-", "split_", "chunk_"];
        STABLE.contains(&name)
            || !(Dist::is_picture(name) || later.iter().any(|part| name.starts_with(part)))
    }
}

/// Takes comments and blanks out of scripts and style sheets; the service worker's later, with its
/// list of files.
fn lean(name: &str, bytes: &mut Vec<u8>) {
    let Ok(text) = std::str::from_utf8(bytes) else {
        return;
    };
    let less = match name.rsplit_once('.') {
        Some((stem, "js")) if stem != "sw" => minifier::js::minify(text).to_string(),
        // A sheet that cannot be read is served as written.
        Some((_, "css")) => match minifier::css::minify(text) {
            Ok(less) => less.to_string(),
            Err(_) => return,
        },
        _ => return,
    };
    *bytes = less.into_bytes();
}

fn fill(text: &str, blank: &str, filled: &str) -> Result<String, Failed> {
    if text.matches(blank).count() != 1 {
        return Err(format!("www/sw.js must hold `{blank}` once"));
    }
    Ok(text.replace(blank, filled))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn www(style: &str) -> Files {
        [
            ("index.html", "\"./style.css\" \"./sw.js\""),
            ("style.css", style),
            ("sw.js", "const VERSION = \"\";\nconst FILES = [];\n"),
        ]
        .iter()
        .map(|(n, t)| (n.to_string(), t.as_bytes().to_vec()))
        .collect()
    }

    #[test]
    fn the_worker_lists_every_other_file() {
        let dist = Dist::assemble(www("a"), Files::new()).unwrap();
        let worker = String::from_utf8(dist.files["sw.js"].clone()).unwrap();
        for name in dist.files.keys().filter(|n| *n != "sw.js") {
            let url = if name == "index.html" { "./" } else { name };
            assert!(worker.contains(&format!("[\"{url}\", \"sha256-")), "{worker}");
        }
        assert!(worker.contains(&format!("const VERSION=\"{}\"", dist.version)));
    }

    #[test]
    fn the_version_follows_the_bytes() {
        let version = |style| Dist::assemble(www(style), Files::new()).unwrap().version;
        assert_eq!(version("a"), version("a"));
        assert_ne!(version("a"), version("b"));
    }
}
