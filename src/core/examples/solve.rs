//! The JSON door for programs: an array of requests on standard input, their answers on standard output.
//!
//! `cargo run -q --release -p offsquare-core --example solve < requests.json`
//!
//! What is not JSON at all is answered too, with one problem; the exit code is then 2.

use serde_json::{Value, json};
use std::io::{ErrorKind, Read, Write};

fn main() {
    let mut bytes = Vec::new();
    if let Err(e) = std::io::stdin().read_to_end(&mut bytes) {
        unreadable(&format!("Standard input cannot be read: {e}."));
    }
    // Some editors put a byte order mark first; it is no part of the text.
    let text = bytes.strip_prefix(b"\xEF\xBB\xBF").unwrap_or(&bytes);
    match serde_json::from_slice::<Value>(text) {
        Ok(requests) => put(&offsquare_core::door::solve_value(&requests)),
        Err(e) => unreadable(&format!("Standard input is not JSON: {e}.")),
    }
}

fn unreadable(sentence: &str) -> ! {
    put(&json!([{
        "id": null,
        "solutions": [],
        "problems": [{"path": "/", "level": "stop", "way": null, "limit": null, "text": sentence}],
    }]));
    std::process::exit(2)
}

/// Writes one line; a reader that went away is no error of ours.
fn put(reply: &Value) {
    let mut out = std::io::stdout().lock();
    let written = writeln!(out, "{reply}").and_then(|()| out.flush());
    if let Err(e) = written
        && e.kind() != ErrorKind::BrokenPipe
    {
        eprintln!("Standard output cannot be written: {e}.");
        std::process::exit(1);
    }
}
