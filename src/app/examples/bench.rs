//! Prints the bench of a first visit, which the build writes into the page.

fn main() {
    println!("{}", offsquare_app::first_bench());
}
