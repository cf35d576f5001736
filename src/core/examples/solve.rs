//! The JSON door for programs: an array of requests on standard input, their answers on standard output.
//!
//! `cargo run -q --release -p offsquare-core --example solve < requests.json`

use std::io::Read;

fn main() {
    let mut text = String::new();
    if let Err(e) = std::io::stdin().read_to_string(&mut text) {
        eprintln!("Standard input cannot be read: {e}");
        std::process::exit(2);
    }
    let requests: serde_json::Value = match serde_json::from_str(&text) {
        Ok(v) => v,
        Err(e) => {
            eprintln!("Standard input is not JSON: {e}");
            std::process::exit(2);
        }
    };
    println!("{}", offsquare_core::door::solve_value(&requests));
}
