//! What a first visit costs, file by file, against the budget in the workspace's manifest.
//!
//! `cargo xtask build` prints what a first visit loads. What costs is code made anew for every type; so, in the core:
//!
//! - sort with `num::sort_by` or `num::sort` (the standard sort is some 4 KB of code a type, and stands in every `collect` into a
//!   set or map, too: `extend` an empty one; fourteen of them were 10 KB packed), and gather into a `Vec` with
//!   `.gather()` (`num::Gather`; `collect` is three functions a place), unless a benchmark needs the standard ones, as the
//!   planners' inner loops do;
//! - words by their ASCII letters (`units::lower_first`, `to_ascii_lowercase`): the tables of all alphabets are 8 KB;
//! - sentences by `say!`: the literal words and a list of values, one call in all;
//! - what takes a large struct and gives it back changed (`Problem::with_limit`) is `#[inline(never)]`;
//! - saved types say their members once, by `kept!` (strict) or `record::Stored` (lenient), both over `serde_json::Value`;
//! - nothing reads decimals with `parse::<f64>()`: its tables are 12 KB that do not compress. Typed lengths are exact fractions
//!   (`units/parse`), the planner's words are bits (`planner/words.rs`), prices are divided (`planner/price.rs`);
//! - JSON text in the browser is the browser's own (`io/json.rs`); serde_json reads and writes it natively;
//! - what hands out static tables of many types is not to be inlined into the app (`layouts::all`): they would be there twice.
//!
//! And in the app, where each Yew component is some 1 KB:
//!
//! - a component only where state, effects or node references are its own; all else is a `fn … -> Html` that is handed
//!   `&Dispatch`. A page that is such a function has a `key` on its outermost element, a sheet on its `<Sheet>`, so that
//!   one is never patched into another;
//! - leaf elements by `widgets/tags.rs`, many after another by its `each(…)` (not `for …`), buttons by `widgets/keys.rs`, taps that
//!   send an edit by `dispatch::on`, typed fields by `widgets/cell.rs`.
//!
//! And in the build (`xtask`), over what cargo compiled, with the crates by which wasm-bindgen reads and writes wasm:
//!
//! - `split.rs`, first of all: what is reached only through a door (`screens/work.rs`, `screens/layout/more.rs`,
//!   `screens/layout/others.rs`) comes after the first answer, in files of its own. Every part packs by itself, and what calls over from one to the other is more
//!   code: all together is 40 KB more than one file. Few doors: a shared file for every pair of them;
//! - `names.rs`: short names between wasm and glue (4 KB);
//! - `traps.rs`, before wasm-bindgen: a panic is a bare trap; its words, its place in the source and the code that would say
//!   them are left out (11 KB). The page's banner (`www/boot.js`) listens for the trap. Where a panic in the browser came
//!   from is told by a build with that line of `build.rs` taken out, or natively;
//! - `order.rs`, after it: functions that are the same to the last byte stand there once (2.5 KB), and all of them in order of
//!   type and code, so that what packs the file finds like beside like (16 KB; wasm-bindgen orders them by size).
//!
//! Not ours, but left out by us: yew's log spans (`tracing` is a dependency only for its `max_level_off`: 8 KB), and comments
//! and blanks of scripts and style sheets (`minifier`, in `xtask/dist.rs`: 2.7 KB).
//!
//! The first load is 308 KB, of it 285 the app's wasm. Of what is kept it reads only what a first answer needs
//! (`save::read_beginning`), and it tells no change place by place: patches, records and the readers of parts, pieces and rack
//! come with the *work* part, and until then changes are kept as two documents (341 KB before). What came out of it (565 KB in one
//! file when that was counted): the planner, a wasm of its own (157 KB at `opt-level = 3`, `src/worker`), the doors for scripts
//! (`src/door`, not shipped), and what is split off. The layouts that are not asked first are 52 KB of that, in a file that the
//! patterns, which ask them, need as well; in the first wasm they were 46.
//!
//! What made it up before they left it: 513 KB, of it 497 the wasm (507 and 492 when this was counted). Of its code (1.44 MB before packing; generic code counted to the module it was
//! made for) boards are 14 % (strips and sheets 6), screens and the rest of the app 14, layouts 13, the standard library 14, parts
//! list and rack 7, yew and its bindings 5, drawing 4, units 4, piece, backwards and saw 3 each, the PDF 2, the rest many small
//! things. Its 206 KB of data are 48 packed: sentences and labels 26, tables and the 3,800 addresses in them the rest. Styles are
//! 5, glue 7. Code that repeats packs to a tenth, code of its own kind to a third: 19 KB fewer equal calls (sentences in pieces)
//! gained 1.5, 45 KB less of `map … collect` 4.7. The costliest in one place are the layouts' `solve`s: 130 KB, 44 packed, all
//! different.
//!
//! Tried without gain: LLVM inlining thresholds, IR outlining, GVN hoisting, `opt-level = "s"`, Binaryen (its `-Oz` takes 11 %
//! off the wasm, which then packs 6 % worse, sorted or not; single passes gain under 0.5 %), locals numbered by first or by most
//! use, functions ordered by size, by calls, by name or by a chain of the most alike. Floats cannot lose their printing (6 KB):
//! serde's errors print them. Tried and too dear: the core at `opt-level = 3` (126 KB more), the planner alone at 3 as a crate of its
//! own (33 KB more for 1.35 times the speed; as a wasm of its own it takes 1.9 times the native processor time, with vectors 1.45), all at 2 (142 KB more, and no key is answered sooner: style, layout and paint are
//! most of it).

use crate::dist::Dist;
use crate::shell::{self, Failed};
use std::io::Write;

/// Prints raw, gzip and brotli bytes of every file; fails when the first load, or all that is stored, is over its budget.
pub fn report(dist: &Dist) -> Result<(), Failed> {
    println!("{:<38}{:>10}{:>10}{:>10}", "file", "raw", "gzip", "brotli");
    let row = |name: &str, sizes: &[usize; 3], mark: &str| {
        println!("{name:<38}{:>10}{:>10}{:>10}  {mark}", sizes[0], sizes[1], sizes[2]);
    };
    let (mut first, mut all) = ([0; 3], [0; 3]);
    let add = |sum: &mut [usize; 3], sizes: &[usize; 3]| {
        *sum = std::array::from_fn(|i| sum[i] + sizes[i]);
    };
    for (name, bytes) in &dist.files {
        let sizes = [bytes.len(), gzip(bytes)?, brotli(bytes)?];
        if Dist::in_first_load(name) {
            add(&mut first, &sizes);
            row(name, &sizes, "");
        } else {
            row(name, &sizes, "later");
        }
        if !Dist::is_picture(name) {
            add(&mut all, &sizes);
        }
    }
    let mut over = Vec::new();
    for (what, key, sizes) in
        [("first load", "budget_first", first), ("all but pictures", "budget_all", all)]
    {
        let budget = budget(key)?;
        row(what, &sizes, &format!("budget {budget}"));
        if sizes[2] > budget {
            let more = sizes[2] - budget;
            over.push(format!("{what}: {more} bytes over its budget ({key} in Cargo.toml)."));
        }
    }
    println!("version {}", dist.version);
    if over.is_empty() { Ok(()) } else { Err(over.join("\n")) }
}

/// A number of the workspace's own metadata.
fn budget(key: &str) -> Result<usize, Failed> {
    let manifest = std::fs::read_to_string(shell::root().join("Cargo.toml"))
        .map_err(|e| format!("Cargo.toml: {e}"))?;
    manifest
        .split("[workspace.metadata.offsquare]")
        .nth(1)
        .and_then(|rest| {
            let line = rest.lines().skip(1).take_while(|l| !l.starts_with('['));
            let value = line.filter_map(|l| l.split_once('=')).find(|(k, _)| k.trim() == key)?.1;
            value.trim().replace('_', "").parse().ok()
        })
        .ok_or_else(|| format!("Cargo.toml has no workspace.metadata.offsquare.{key}"))
}

fn gzip(bytes: &[u8]) -> Result<usize, Failed> {
    let mut encoder = flate2::write::GzEncoder::new(Vec::new(), flate2::Compression::best());
    encoder
        .write_all(bytes)
        .and_then(|()| encoder.finish())
        .map(|out| out.len())
        .map_err(|e| format!("gzip: {e}"))
}

fn brotli(bytes: &[u8]) -> Result<usize, Failed> {
    let settings = brotli::enc::BrotliEncoderParams {
        quality: 11,
        lgwin: 24,
        size_hint: bytes.len(),
        ..Default::default()
    };
    let mut out = Vec::new();
    brotli::BrotliCompress(&mut &*bytes, &mut out, &settings)
        .map(|_| out.len())
        .map_err(|e| format!("brotli: {e}"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn repeated_bytes_shrink_and_the_budgets_are_there() {
        let plain = [b'a'; 10_000];
        assert!(brotli(&plain).unwrap() < 50);
        assert!(gzip(&plain).unwrap() < 100);
        assert!(budget("budget_first").unwrap() <= budget("budget_all").unwrap());
    }
}
