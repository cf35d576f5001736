//! `cargo xtask bench`: the planner and the solver natively, then the built app in a real browser.

use crate::shell::{self, Failed};
use crate::{build, check, setup};

/// Runs the benches. The planner is timed against a general-purpose MIP solver in the same run, if the
/// Python environment of its table can be made (it needs the package index once).
pub fn run() -> Result<(), Failed> {
    setup::browser()?;
    build::run()?;
    let mut bench = shell::cargo(&[
        "bench",
        "--locked",
        "--package",
        "offsquare-tests",
        "--features",
        "browser",
    ]);
    match check::environment(&shell::root().join("tests/oracles/plans")) {
        Ok(python) => {
            bench.env("OFFSQUARE_MIP_PYTHON", python);
        }
        Err(why) => {
            println!("The MIP solver is not to be had, so nothing is timed against it: {why}")
        }
    }
    shell::run(&mut bench)
}

/// The planner over published bin-packing sets: every text file below a folder that holds a number of sizes,
/// a capacity and the sizes, one a line.
pub fn sets(folder: &str) -> Result<(), Failed> {
    let folder = std::path::absolute(folder).map_err(|e| format!("{folder}: {e}"))?;
    let mut bench = shell::cargo(&["bench", "--locked", "--package", "offsquare-tests"]);
    bench.args(["--bench", "boards", "--", "sets"]).arg(folder);
    shell::run(&mut bench)
}
