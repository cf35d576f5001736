//! `cargo xtask build`: the web app, into `dist/`.

use crate::dist::Dist;
use crate::shell::{self, Failed};
use crate::{files, order, setup, sizes, traps};
use std::path::{Path, PathBuf};
use wasm_bindgen_cli_support::Bindgen;

/// One wasm of the workspace.
struct Crate {
    package: &'static str,
    /// Of its files: `{name}.js` and `{name}_bg.wasm`.
    name: &'static str,
    profile: &'static str,
    features: &'static [&'static str],
}

const APP: Crate =
    Crate { package: "offsquare-app", name: "offsquare", profile: "web", features: &[] };
const PLANNER: Crate =
    Crate { package: "offsquare-worker", name: "planner", profile: "web-fast", features: &[] };
const DOOR: Crate =
    Crate { package: "offsquare-door", name: "door", profile: "web", features: &["script"] };

/// Builds everything into `dist/`, prints the sizes and fails over a budget.
pub fn run() -> Result<PathBuf, Failed> {
    setup::wasm_target()?;
    let mut glue = bind(&APP, &compile(&APP)?)?;
    glue.extend(bind(&PLANNER, &compile(&PLANNER)?)?);
    let dist = Dist::assemble(files::read_folder(&shell::root().join("www"))?, glue)?;
    let folder = shell::root().join("dist");
    dist.write(&folder)?;
    sizes::report(&dist)?;
    Ok(folder)
}

/// Builds the doors for scripts into `target/door/`; they are no part of the app.
pub fn door() -> Result<(), Failed> {
    setup::wasm_target()?;
    let folder = shell::target().join("door");
    files::write_folder(&bind(&DOOR, &compile(&DOOR)?)?, &folder)
}

/// Its wasm as cargo leaves it.
fn compile(krate: &Crate) -> Result<PathBuf, Failed> {
    let target = shell::target();
    let mut cargo = shell::cargo(&["rustc", "--locked", "--package", krate.package, "--lib"]);
    cargo
        .args(["--crate-type", "cdylib", "--target", "wasm32-unknown-unknown"])
        .args(["--profile", krate.profile, "--features", &krate.features.join(",")])
        .env("CARGO_TARGET_DIR", &target)
        .env("CARGO_ENCODED_RUSTFLAGS", remaps()?.join("\u{1f}"));
    shell::run(&mut cargo)?;
    let file = format!("{}.wasm", krate.package.replace('-', "_"));
    Ok(target.join("wasm32-unknown-unknown").join(krate.profile).join(file))
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

/// The glue and the wasm that goes with it.
fn bind(krate: &Crate, wasm: &Path) -> Result<files::Files, Failed> {
    let folder = shell::target().join("web-glue").join(krate.name);
    let cleared = match std::fs::remove_dir_all(&folder) {
        Err(e) if e.kind() != std::io::ErrorKind::NotFound => Err(e),
        _ => Ok(()),
    };
    cleared.map_err(|e| format!("{}: {e}", folder.display()))?;
    let compiled = std::fs::read(wasm).map_err(|e| format!("{}: {e}", wasm.display()))?;
    let mut bindgen = Bindgen::new();
    bindgen
        .input_bytes(krate.name, traps::plain(&compiled)?)
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
    let wasm = format!("{}_bg.wasm", krate.name);
    let names: Vec<&str> = files.keys().map(String::as_str).collect();
    if names != [&format!("{}.js", krate.name), &wasm] {
        // A crate with inline JavaScript would need a place in the file names and the policy.
        return Err(format!(
            "wasm-bindgen wrote {names:?}; one glue file and one wasm were expected"
        ));
    }
    if let Some(wasm) = files.get_mut(&wasm) {
        *wasm = order::sorted(wasm)?;
    }
    Ok(files)
}
