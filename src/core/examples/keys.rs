//! Prints the page of the door's keys: `cargo run -q -p offsquare-core --example keys > src/core/door/KEYS.md`.

fn main() {
    print!("{}", offsquare_core::door::keys::page());
}
