//! The planner in a real Chromium: the built wasm in its worker, the page beside it. Part of
//! `cargo xtask bench`; alone, after `cargo xtask build`,
//! `cargo bench -p offsquare-tests --features browser --bench beside [-- worker|page] [jobs]`.
//!
//! *processor* is the worker thread's own processor time (Linux), *in the worker* what its clock says from
//! the first step to the proof without the waits between steps, *heard* what the page's clock says from
//! sending the request to the message of the proof. A busy machine lengthens the second and third.

#[path = "beside/figures.rs"]
mod figures;
#[path = "../boards/jobs.rs"]
#[allow(dead_code)]
mod jobs;
#[path = "beside/page.rs"]
mod page;
#[path = "beside/worker.rs"]
mod worker;

use offsquare_tests::site::{self, Files};
use std::path::Path;

fn main() {
    let args: Vec<String> = std::env::args().skip(1).collect();
    let number = args.iter().find_map(|a| a.parse().ok()).unwrap_or(500u64);
    let only = |part: &str| args.iter().any(|a| a == part);
    let files = files();
    println!("\nThe planner in Chromium, beside the page");
    if !only("page") {
        worker::run(&files, number);
    }
    if !only("worker") {
        page::run(&files);
    }
}

/// The built app, and its worker once more with watches in it.
fn files() -> Files {
    let dist = Path::new(env!("CARGO_MANIFEST_DIR")).join("../dist");
    let mut files = site::read(&dist);
    let own = files.iter().find(|f| f.0.starts_with("worker-")).expect("dist/ holds the worker").1;
    let watched = [include_str!("beside/worker.js").as_bytes(), own].concat();
    files.insert("watched.js".into(), watched);
    files
}
