//! `cargo xtask bench`: the planner and the solver natively, then the built app in a real browser.

use crate::{Failed, build, setup, shell};

pub fn run() -> Result<(), Failed> {
    setup::browser()?;
    build::run()?;
    shell::run(&mut shell::cargo(&[
        "bench",
        "--locked",
        "--package",
        "offsquare-tests",
        "--features",
        "browser",
    ]))
}
