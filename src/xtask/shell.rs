//! Running other programs from the workspace's root, saying each line first.

use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::Instant;

/// A step that could not be done, as one sentence for the person at the terminal.
pub type Failed = String;

/// The workspace's root: two folders above this crate's manifest.
pub fn root() -> PathBuf {
    let here = Path::new(env!("CARGO_MANIFEST_DIR"));
    here.ancestors().nth(2).unwrap_or(here).to_path_buf()
}

/// Where cargo puts what it builds.
pub fn target() -> PathBuf {
    match std::env::var_os("CARGO_TARGET_DIR") {
        Some(dir) => root().join(dir),
        None => root().join("target"),
    }
}

/// A program to be run in the workspace's root.
pub fn command(program: &str, args: &[&str]) -> Command {
    let mut command = Command::new(program);
    command.args(args).current_dir(root());
    command
}

/// The cargo that runs this program.
pub fn cargo(args: &[&str]) -> Command {
    let cargo = std::env::var("CARGO").unwrap_or_else(|_| "cargo".into());
    command(&cargo, args)
}

/// Runs to the end with its output shown; anything but success is a failure.
pub fn run(command: &mut Command) -> Result<(), Failed> {
    let line = line(command);
    eprintln!("$ {line}");
    let start = Instant::now();
    let status = command.status().map_err(|e| format!("{line}: could not start ({e})"))?;
    eprintln!("  {:.1} s", start.elapsed().as_secs_f64());
    if status.success() { Ok(()) } else { Err(format!("failed: {line}")) }
}

/// Runs to the end and gives back what it printed; anything but success is a failure, with its complaints shown.
pub fn output(command: &mut Command) -> Result<String, Failed> {
    let line = line(command);
    eprintln!("$ {line}");
    let output = command
        .stderr(Stdio::inherit())
        .output()
        .map_err(|e| format!("{line}: could not start ({e})"))?;
    if !output.status.success() {
        return Err(format!("failed: {line}"));
    }
    String::from_utf8(output.stdout).map_err(|e| format!("{line}: {e}"))
}

/// Runs quietly and gives back what it printed, or nothing if it failed or is not there.
pub fn ask(program: &str, args: &[&str]) -> Option<String> {
    let output = command(program, args).output().ok()?;
    output.status.success().then(|| String::from_utf8_lossy(&output.stdout).trim().to_string())
}

fn line(command: &Command) -> String {
    let program = Path::new(command.get_program());
    let mut words =
        vec![program.file_name().unwrap_or(program.as_os_str()).to_string_lossy().into_owned()];
    words.extend(command.get_args().map(|a| a.to_string_lossy().into_owned()));
    words.join(" ")
}
