//! `cargo xtask bench`: the planner and the solver, measured natively.

use crate::{Failed, shell};

pub fn run() -> Result<(), Failed> {
    shell::run(&mut shell::cargo(&[
        "bench",
        "--locked",
        "--package",
        "offsquare-tests",
    ]))
}
