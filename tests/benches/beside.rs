//! The planner in a real Chromium: the built wasm in its worker, the page beside it. Part of
//! `cargo xtask bench`; alone, after `cargo xtask build`,
//! `cargo bench -p offsquare-tests --features browser --bench beside [-- worker|page] [jobs]`.
//!
//! *processor* is the worker thread's own processor time (Linux), *in the worker* what its clock says from
//! the first step to the proof without the waits between steps, *heard* what the page's clock says from
//! sending the request to the message of the proof. A busy machine lengthens the second and third.
//!
//! The same jobs in the worker of the built app, Chromium (`--features browser --bench beside`), on a quiet machine: *processor*
//! is the worker thread's own time, *heard* what the page's clock says from the request to the message of the proof:
//!
//! | group | proven | within 300 ms, heard | to the proof, processor, median / 95th / most, ms | heard, ms |
//! |---|---|---|---|---|
//! | square | 100 % | 100 % | 2 / 23 / 53 | 2 / 23 / 53 |
//! | square, owned boards | 100 % | 100 % | 2 / 17 / 30 | 2 / 18 / 34 |
//! | square, zero waste | 100 % | 100 % | 3 / 22 / 26 | 3 / 22 / 26 |
//! | mitered | 100 % | 97.9 % | 20 / 166 / 386 | 21 / 166 / 387 |
//! | mitered, owned boards | 100 % | 100 % | 10 / 159 / 211 | 10 / 159 / 211 |
//! | mitered, zero waste | 100 % | 100 % | 9 / 39 / 162 | 10 / 40 / 164 |
//! | all | 100 % | 99.4 % | 5 / 111 / 386 | 6 / 116 / 387 |
//! | uniform 120 | 100 % | 100 % | 9 / 11 / 13 | 9 / 11 / 13 |
//! | triplets 60 | 100 % | 100 % | 15 / 25 / 25 | 15 / 26 / 26 |
//! | 5,000 tiny | 100 % | 100 % | 156 / 156 / 158 | 159 / 159 / 162 |
//!
//! (Measured before the planner had a wasm of its own, at `opt-level = "z"`.) The wasm took 2.3 times the native processor time then,
//! a worker's first job no longer than a later one. Built for speed, on a busy machine, it took 1.93 times, and 1.45 with vectors
//! (`-Ctarget-feature=+simd128`); the planner by itself, in another program of the same engine, 1.85 and 1.33. Memory: 9 MB of wasm in the
//! worker; the process of page and worker 54 MB before, 92 MB after all jobs. *Stop* in the longest jobs: heard after 27 / 112 /
//! 138 ms (median / 95th / most), last message after at most 92. Sixty parts on the screen of boards, while
//! they are planned: frames 16.7 / 33 / 50 ms, a tap to its paint 36 / 39 / 99 ms (at rest 16.7 / 16.7 / 16.8 and 37 / 38 / 39), with the
//! processor throttled four times 16.7 / 33 / 183 and 71 / 79 / 186 ms (at rest 50 and 99 at most). On a busy machine a message costs the page's thread 30 to 37 ms on average, taps included (51 before): 2 ms of code where it only moves a
//! bound or the plain plan (`Planned::changes`, one `use_memo` in the screen), 14 to 19 ms of code and 7 of style and layout where the
//! boards change. Boards below the fold are not painted (`content-visibility`). An order of cuts is a component: nothing of it is worked
//! out before it is opened, and no board then (10 ms of code, by the thread's clock; before, all boards again: 18 and 33). What is left to
//! make smaller: a better plan redraws all boards in one task (18 to 34 ms; style, layout and paint after it as much again).

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
