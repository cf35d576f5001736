//! What has to be on the machine: the wasm target, a browser with its driver, Node.
//!
//! Installed where this user may, else the one line that does it is the failure.

use crate::shell::{self, Failed};
use std::path::PathBuf;

const WASM: &str = "wasm32-unknown-unknown";

/// Where rustc keeps its libraries.
pub fn sysroot() -> Result<PathBuf, Failed> {
    let folder = shell::ask("rustc", &["--print", "sysroot"])
        .ok_or("rustc does not answer: install Rust with rustup first")?;
    Ok(PathBuf::from(folder))
}

/// Adds the wasm target unless it is there.
pub fn wasm_target() -> Result<(), Failed> {
    if sysroot()?.join("lib/rustlib").join(WASM).join("lib").is_dir() {
        return Ok(());
    }
    shell::run(&mut shell::command("rustup", &["target", "add", WASM])).map_err(|_| {
        format!("The wasm target is missing and could not be added. Run: rustup target add {WASM}")
    })
}

/// Sees to Chromium and its driver for the browser tests.
pub fn browser() -> Result<(), Failed> {
    debian(&["chromium", "chromedriver"], &["chromium", "chromium-driver"])
}

/// Sees to Firefox, for what another engine makes of the screens.
pub fn firefox() -> Result<(), Failed> {
    debian(&["firefox-esr"], &["firefox-esr"])
}

/// Sees to qpdf, which checks the PDFs.
pub fn pdf_checker() -> Result<(), Failed> {
    debian(&["qpdf"], &["qpdf"])
}

/// Sees to axe-core, as `tests/browser/package-lock.json` pins it.
pub fn access_rules() -> Result<(), Failed> {
    node()?;
    let folder = shell::root().join("tests/browser");
    // Installed as locked already: the network may be away.
    let asked = std::fs::read_to_string(folder.join("package-lock.json"));
    let done = folder.join("node_modules/.locked");
    if let (Ok(asked), Ok(done)) = (&asked, std::fs::read_to_string(&done))
        && *asked == done
    {
        return Ok(());
    }
    let mut npm = shell::command("npm", &["ci", "--ignore-scripts", "--no-audit", "--no-fund"]);
    shell::run(npm.current_dir(&folder)).map_err(|failed| {
        format!("{failed}\nThe accessibility tests need axe-core. Run in tests/browser: npm ci")
    })?;
    asked.and_then(|asked| std::fs::write(done, asked)).map_err(|e| format!("tests/browser: {e}"))
}

/// Sees to Node and npm, for axe-core.
pub fn node() -> Result<(), Failed> {
    debian(&["node", "npm"], &["nodejs", "npm"])
}

/// Sees to a Python that can make virtual environments, for the oracles.
pub fn python() -> Result<(), Failed> {
    if shell::ask("python3", &["-c", "import venv, ensurepip"]).is_some() {
        return Ok(());
    }
    install(&["python3", "python3-venv"])
}

fn debian(programs: &[&str], packages: &[&str]) -> Result<(), Failed> {
    let missing = |p: &&&str| shell::ask("sh", &["-c", &format!("command -v {p}")]).is_none();
    if programs.iter().filter(missing).count() == 0 {
        return Ok(());
    }
    install(packages)?;
    match programs.iter().find(missing) {
        None => Ok(()),
        Some(p) => Err(format!("{p} is still not there after installing it.")),
    }
}

fn install(packages: &[&str]) -> Result<(), Failed> {
    let by_hand =
        format!("Missing on this machine. Run: sudo apt-get install -y {}", packages.join(" "));
    let may = shell::ask("id", &["-u"]).as_deref() == Some("0")
        && shell::ask("sh", &["-c", "command -v apt-get"]).is_some();
    if !may {
        return Err(by_hand);
    }
    let mut args = vec!["install", "-y", "-qq", "--no-install-recommends"];
    args.extend(packages);
    shell::run(&mut shell::command("apt-get", &["update", "-qq"]))
        .and_then(|()| {
            shell::run(shell::command("apt-get", &args).env("DEBIAN_FRONTEND", "noninteractive"))
        })
        .map_err(|failed| format!("{failed}\n{by_hand}"))
}
