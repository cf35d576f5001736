//! `cargo xtask build`: the web app, into `dist/`.

use crate::dist::Dist;
use crate::shell::{self, Failed};
use crate::{files, order, setup, sizes, traps};
use std::path::{Path, PathBuf};
use wasm_bindgen_cli_support::Bindgen;

/// Builds everything into `dist/`, prints the sizes and fails over the budget.
pub fn run() -> Result<PathBuf, Failed> {
    setup::wasm_target()?;
    let wasm = compile()?;
    let glue = bind(&wasm)?;
    let dist = Dist::assemble(files::read_folder(&shell::root().join("www"))?, glue)?;
    let folder = shell::root().join("dist");
    dist.write(&folder)?;
    sizes::report(&dist)?;
    Ok(folder)
}

fn compile() -> Result<PathBuf, Failed> {
    let target = shell::target();
    let mut cargo = shell::cargo(&[
        "build",
        "--locked",
        "--package",
        "offsquare-app",
        "--lib",
        "--target",
        "wasm32-unknown-unknown",
        "--profile",
        "web",
    ]);
    cargo.env("CARGO_TARGET_DIR", &target).env("CARGO_ENCODED_RUSTFLAGS", remaps()?.join("\u{1f}"));
    shell::run(&mut cargo)?;
    Ok(target.join("wasm32-unknown-unknown/web/offsquare_app.wasm"))
}

/// Compiler flags that keep this machine's folders out of the wasm, so that it is the same everywhere.
fn remaps() -> Result<Vec<String>, Failed> {
    let home = std::env::var_os("CARGO_HOME")
        .map(PathBuf::from)
        .or_else(|| std::env::home_dir().map(|h| h.join(".cargo")))
        .ok_or("no home folder to find cargo's registry in")?;
    let mut folders: Vec<PathBuf> = std::fs::read_dir(home.join("registry/src"))
        .map(|all| all.flatten().map(|e| e.path()).collect())
        .unwrap_or_default();
    folders.sort();
    let mut flags: Vec<String> =
        folders.iter().map(|f| format!("--remap-path-prefix={}=dep", f.display())).collect();
    flags.push(format!("--remap-path-prefix={}=offsquare", shell::root().display()));
    // Where the library's source is installed, its generic code names that folder.
    flags.push(format!(
        "--remap-path-prefix={}=std",
        setup::sysroot()?.join("lib/rustlib/src/rust").display()
    ));
    Ok(flags)
}

fn bind(wasm: &Path) -> Result<files::Files, Failed> {
    let folder = shell::target().join("web-glue");
    let cleared = match std::fs::remove_dir_all(&folder) {
        Err(e) if e.kind() != std::io::ErrorKind::NotFound => Err(e),
        _ => Ok(()),
    };
    cleared.map_err(|e| format!("{}: {e}", folder.display()))?;
    let compiled = std::fs::read(wasm).map_err(|e| format!("{}: {e}", wasm.display()))?;
    let mut bindgen = Bindgen::new();
    bindgen
        .input_bytes("offsquare", traps::plain(&compiled)?)
        .typescript(false)
        .remove_name_section(true)
        .remove_producers_section(true)
        // Without the default path a bare `init()` could not find the wasm beside the glue.
        .omit_default_module_path(false);
    bindgen
        .web(true)
        .and_then(|b| b.generate(&folder))
        .map_err(|e| format!("wasm-bindgen: {e:?}"))?;
    let mut files = files::read_folder(&folder)?;
    let names: Vec<&str> = files.keys().map(String::as_str).collect();
    if names != ["offsquare.js", "offsquare_bg.wasm"] {
        // A crate with inline JavaScript would need a place in the file names and the policy.
        return Err(format!(
            "wasm-bindgen wrote {names:?}; one glue file and one wasm were expected"
        ));
    }
    if let Some(wasm) = files.get_mut("offsquare_bg.wasm") {
        *wasm = order::sorted(wasm)?;
    }
    Ok(files)
}
