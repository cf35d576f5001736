//! `cargo xtask test`: installs what the tests need and runs all of them. Nothing is skipped.

use crate::{Failed, build, check, setup, shell};

/// Everything that must hold before a change lands.
pub fn run() -> Result<(), Failed> {
    setup::wasm_target()?;
    setup::browser()?;
    setup::pdf_checker()?;
    check::lint()?;
    shell::run(&mut shell::cargo(&[
        "test",
        "--locked",
        "--workspace",
        "--exclude",
        "offsquare-app",
    ]))?;
    build::run()?;
    browser_suite(&["test"])
}

/// The browser tests or timings, over the `dist/` just built.
pub fn browser_suite(kind: &[&str]) -> Result<(), Failed> {
    let mut args = kind.to_vec();
    args.extend([
        "--locked",
        "--package",
        "offsquare-tests",
        "--features",
        "browser",
    ]);
    // One browser at a time: two cores are soon busy.
    args.extend(["--test", "browser", "--", "--test-threads=1"]);
    shell::run(&mut shell::cargo(&args))
}
