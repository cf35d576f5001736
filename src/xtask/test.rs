//! `cargo xtask test`: installs what the tests need and runs all of them. Nothing is skipped.

use crate::{Failed, build, check, setup, shell};

/// Everything that must hold before a change lands.
pub fn run() -> Result<(), Failed> {
    setup::wasm_target()?;
    setup::browser()?;
    setup::node()?;
    check::lint()?;
    shell::run(&mut shell::cargo(&["test", "--locked", "--workspace"]))?;
    build::run()?;
    browser_suite(&["test"])
}

/// The browser tests or timings, over the `dist/` just built.
pub fn browser_suite(kind: &[&str]) -> Result<(), Failed> {
    shell::run(
        shell::command("npm", &["ci", "--no-audit", "--no-fund"])
            .current_dir(shell::root().join("tests/browser")),
    )?;
    let mut args = kind.to_vec();
    args.extend([
        "--locked",
        "--package",
        "offsquare-tests",
        "--features",
        "browser",
    ]);
    args.extend(match kind {
        ["bench"] => ["--bench", "browser"],
        _ => ["--test", "browser"],
    });
    shell::run(&mut shell::cargo(&args))
}
