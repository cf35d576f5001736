//! `cargo xtask test`: installs what the tests need and runs all of them. Nothing is skipped.

use crate::shell::{self, Failed};
use crate::{build, check, setup};

/// Everything that must hold before a change lands.
pub fn run() -> Result<(), Failed> {
    setup::wasm_target()?;
    setup::browser()?;
    setup::pdf_checker()?;
    setup::access_rules()?;
    check::lint()?;
    shell::run(&mut shell::cargo(&[
        "test",
        "--locked",
        "--workspace",
        "--exclude",
        "offsquare-app",
    ]))?;
    // By itself: what the screens ask of their libraries is not asked in the other tests.
    shell::run(&mut shell::cargo(&["test", "--locked", "--package", "offsquare-app", "--lib"]))?;
    build::run()?;
    // The same compiled wasm: both must answer alike.
    build::one_file()?;
    browser_suite(&["test"])
}

/// Every screen in Firefox, of the app as it is: by command only, as not every machine has it.
pub fn in_firefox() -> Result<(), Failed> {
    setup::firefox()?;
    setup::access_rules()?;
    build::run()?;
    let words =
        "test --locked --package offsquare-tests --features firefox --test browser in_firefox";
    let words: Vec<&str> = words.split(' ').chain(["--", "--test-threads=1"]).collect();
    shell::run(&mut shell::cargo(&words))
}

/// The browser tests or timings, over the `dist/` just built.
pub fn browser_suite(kind: &[&str]) -> Result<(), Failed> {
    let mut args = kind.to_vec();
    // The same packages as in the run before: with others chosen, features differ and the core is
    // compiled again.
    args.extend([
        "--locked",
        "--workspace",
        "--exclude",
        "offsquare-app",
        "--features",
        "offsquare-tests/browser",
    ]);
    // One browser at a time: two cores are soon busy.
    args.extend(["--test", "browser", "--", "--test-threads=1"]);
    shell::run(&mut shell::cargo(&args))
}
