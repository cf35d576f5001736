//! The JSON door of a whole piece: one request on standard input, its answer on standard output.
//!
//! `cargo run -q --release -p offsquare-door --example piece < request.json`

use std::io::Read;

fn main() {
    let mut bytes = Vec::new();
    if let Err(e) = std::io::stdin().read_to_end(&mut bytes) {
        eprintln!("Standard input cannot be read: {e}");
        std::process::exit(2);
    }
    let text = String::from_utf8_lossy(&bytes);
    // Some editors put a byte order mark first; it is no part of the text.
    println!("{}", offsquare_door::piece::piece_text(text.trim_start_matches('\u{feff}')));
}
