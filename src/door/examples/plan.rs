//! The planner's JSON door for programs: one instance on standard input, one plan on standard output.
//!
//! `cargo run -q --release -p offsquare-door --example plan < instance.json`

use std::io::Read;
use std::time::Instant;

fn main() {
    let mut bytes = Vec::new();
    if let Err(e) = std::io::stdin().read_to_end(&mut bytes) {
        eprintln!("Standard input cannot be read: {e}");
        std::process::exit(2);
    }
    let text = String::from_utf8_lossy(&bytes);
    // Some editors put a byte order mark first; it is no part of the text.
    let text = text.trim_start_matches('\u{feff}');
    // The door tells its solving time; the core itself has no clock.
    #[allow(clippy::disallowed_methods)]
    let start = Instant::now();
    let mut answer = offsquare_door::plan::plan_text(text);
    if let Some(object) = answer.as_object_mut() {
        let time = start.elapsed().as_secs_f64() * 1e3;
        object.insert("time_ms".to_owned(), time.into());
    }
    println!("{answer}");
}
