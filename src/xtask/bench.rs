//! `cargo xtask bench`: one solve natively, and what a person waits for in a browser.

use crate::{Failed, build, setup, shell, test};

pub fn run() -> Result<(), Failed> {
    setup::browser()?;
    setup::node()?;
    shell::run(&mut shell::cargo(&[
        "bench",
        "--locked",
        "--package",
        "offsquare-tests",
    ]))?;
    build::run()?;
    test::browser_suite(&["bench"])
}
