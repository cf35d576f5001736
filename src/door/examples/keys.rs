//! Prints the page of the door's keys: `cargo run -q -p offsquare-door --example keys > src/door/KEYS.md`.

fn main() {
    print!("{}", offsquare_door::keys::page());
}
