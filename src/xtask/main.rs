//! What a developer does in this workspace: one subcommand a file.

mod bench;
mod build;
mod check;
mod dist;
mod files;
mod names;
mod order;
mod pinned;
mod serve;
mod setup;
mod shell;
mod sizes;
mod split;
mod test;
mod traps;

use std::process::ExitCode;

const USAGE: &str = "\
cargo xtask build [--one-file]        the web app into dist/, with a table of sizes (--one-file: into target/one-file/)
cargo xtask build --quick             the web app into dist/, to look at: unsplit, built in a fraction of the time
cargo xtask door                      the doors for scripts in a browser, into target/door/
cargo xtask serve [--host] [--port N] builds, then serves it (--host: to the home network too)
cargo xtask test                      installs what the tests need and runs all of them
cargo xtask check [--long]            format and lints (--long: the case tables rebuilt, every screen in Firefox)
cargo xtask bench [--sets DIR]        native and browser timings (--sets: the planner over bin-packing sets)";

fn main() -> ExitCode {
    let args: Vec<String> = std::env::args().skip(1).collect();
    let words: Vec<&str> = args.iter().map(String::as_str).collect();
    let done = match words.split_first() {
        Some((&"build", [])) => build::run().map(|_| ()),
        Some((&"build", ["--quick"])) => build::quick().map(|_| ()),
        Some((&"door", [])) => build::door(),
        Some((&"build", ["--one-file"])) => build::one_file().map(|_| ()),
        Some((&"serve", rest)) => serve::run(rest),
        Some((&"test", [])) => test::run(),
        Some((&"check", [])) => check::run(),
        Some((&"check", ["--long"])) => {
            check::run().and_then(|()| check::rebuild_cases()).and_then(|()| test::in_firefox())
        }
        Some((&"bench", [])) => bench::run(),
        Some((&"bench", ["--sets", folder])) => bench::sets(folder),
        _ => Err(USAGE.into()),
    };
    match done {
        Ok(()) => ExitCode::SUCCESS,
        Err(failed) => {
            eprintln!("{failed}");
            ExitCode::FAILURE
        }
    }
}
