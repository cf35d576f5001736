//! `cargo xtask build`: the web app, into `dist/`.

use crate::dist::Dist;
use crate::files::{self, Files};
use crate::shell::{self, Failed};
use crate::{names, order, setup, sizes, split, traps};
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use wasm_bindgen_cli_support::Bindgen;

/// One wasm of the workspace.
struct Crate {
    package: &'static str,
    /// Of its files: `{name}.js` and `{name}_bg.wasm`.
    name: &'static str,
    profile: &'static str,
    features: &'static [&'static str],
    /// What the compiler is told besides, of every crate in it.
    flags: &'static [&'static str],
    /// What its linker is told besides.
    link: &'static [&'static str],
}

const APP: Crate = Crate {
    package: "offsquare-app",
    name: "offsquare",
    profile: "web",
    features: &[],
    flags: &[],
    // The splitter goes by relocations; the parts find each other's functions in the table.
    link: &["-Clink-arg=--emit-relocs", "-Clink-arg=--export-table"],
};
const PLANNER: Crate = Crate {
    package: "offsquare-worker",
    name: "planner",
    profile: "web-fast",
    features: &[],
    // Browsers have it since 2021, Safari since 16.4 (2023). No rounding is other with it, and no answer.
    flags: &["-Ctarget-feature=+simd128"],
    link: &[],
};
const DOOR: Crate = Crate {
    package: "offsquare-door",
    name: "door",
    profile: "web",
    features: &["script"],
    flags: &[],
    link: &[],
};

/// Builds everything into `dist/`, prints the sizes and fails over a budget.
pub fn run() -> Result<PathBuf, Failed> {
    let parts = split::split(&compile(&APP)?)?;
    let folder = shell::root().join("dist");
    let dist = write(in_parts(parts)?, &folder)?;
    sizes::report(&dist)?;
    Ok(folder)
}

/// Builds the doors for scripts into `target/door/`; they are no part of the app.
pub fn door() -> Result<(), Failed> {
    let built = plain(&DOOR)?;
    files::write_folder(&built, &shell::target().join("door"))
}

/// The same into `dist/` in a fraction of the time, to look at: unsplit, and small nor fast.
pub fn quick() -> Result<PathBuf, Failed> {
    let folder = shell::root().join("dist");
    write(whole(&compile(&Crate { profile: "web-quick", ..APP })?)?, &folder)?;
    Ok(folder)
}

/// The same with the wasm in one file, into `target/one-file/`: nothing is fetched later.
pub fn one_file() -> Result<PathBuf, Failed> {
    let folder = shell::target().join("one-file");
    write(whole(&compile(&APP)?)?, &folder)?;
    println!("one file: {}", folder.display());
    Ok(folder)
}

fn write(mut built: Files, folder: &Path) -> Result<Dist, Failed> {
    let mut www = files::read_folder(&shell::root().join("www"))?;
    let page = www.get_mut("index.html").ok_or("www/index.html is missing")?;
    *page = with_bench(page)?;
    built.extend(plain(&PLANNER)?);
    let dist = Dist::assemble(www, built)?;
    dist.write(folder)?;
    Ok(dist)
}

/// Where the page has the bench.
const BENCH: &str = "<!-- The bench of a first visit stands here: the build writes it. -->";

/// The page with the bench of a first visit in it, rendered by the screens themselves: it is read before the wasm is
/// there.
fn with_bench(page: &[u8]) -> Result<Vec<u8>, Failed> {
    let page = String::from_utf8_lossy(page);
    if page.matches(BENCH).count() != 1 {
        return Err(format!("www/index.html must hold `{BENCH}` once"));
    }
    let bench = shell::output(&mut shell::cargo(&[
        "run",
        "--quiet",
        "--locked",
        "--package",
        "offsquare-app",
        "--features",
        "ssr",
        "--example",
        "bench",
    ]))?;
    Ok(page.replace(BENCH, bench.trim()).into_bytes())
}

/// Its wasm as the linker wrote it.
fn compile(krate: &Crate) -> Result<Vec<u8>, Failed> {
    setup::wasm_target()?;
    let target = shell::target();
    let mut flags = remaps()?;
    flags.extend(krate.flags.iter().map(|flag| (*flag).to_owned()));
    let mut cargo = shell::cargo(&["rustc", "--locked", "--package", krate.package, "--lib"]);
    cargo
        .args(["--crate-type", "cdylib", "--target", "wasm32-unknown-unknown"])
        .args(["--profile", krate.profile, "--features", &krate.features.join(","), "--"])
        .args(krate.link)
        .env("CARGO_TARGET_DIR", &target)
        .env("CARGO_ENCODED_RUSTFLAGS", flags.join("\u{1f}"));
    shell::run(&mut cargo)?;
    let file = format!("{}.wasm", krate.package.replace('-', "_"));
    let wasm = target.join("wasm32-unknown-unknown").join(krate.profile).join(file);
    std::fs::read(&wasm).map_err(|e| format!("{}: {e}", wasm.display()))
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

fn in_parts(mut parts: split::Parts) -> Result<Files, Failed> {
    let mut panics = BTreeSet::new();
    let main = traps::plain(&parts.main, &mut panics)?;
    for wasm in parts.late.values_mut() {
        let plain = traps::plain(wasm, &mut panics)?;
        *wasm = order::sorted(&split::swept(&plain)?)?;
    }
    let mut built = bind(&APP, main, |glue| split::linked(glue, &parts))?;
    built.extend(parts.late);
    Ok(built)
}

fn whole(compiled: &[u8]) -> Result<Files, Failed> {
    let plain = traps::plain(&split::stripped(compiled)?, &mut BTreeSet::new())?;
    bind(&APP, plain, |glue| split::whole(glue, compiled))
}

/// A wasm that is not split, with its glue.
fn plain(krate: &Crate) -> Result<Files, Failed> {
    bind(krate, traps::plain(&compile(krate)?, &mut BTreeSet::new())?, |glue| Ok(glue.to_owned()))
}

/// The glue and the wasm that it starts.
fn bind(
    krate: &Crate,
    wasm: Vec<u8>,
    link: impl Fn(&str) -> Result<String, Failed>,
) -> Result<Files, Failed> {
    let folder = shell::target().join("web-glue").join(krate.name);
    files::clear(&folder)?;
    let mut bindgen = Bindgen::new();
    bindgen
        .input_bytes(krate.name, wasm)
        .typescript(false)
        .remove_name_section(true)
        .remove_producers_section(true)
        // The other parts come in by what the linker exports.
        .keep_lld_exports(true)
        // Without the default path a bare `init()` could not find the wasm beside the glue.
        .omit_default_module_path(false);
    bindgen
        .web(true)
        .and_then(|b| b.generate(&folder))
        .map_err(|e| format!("wasm-bindgen: {e:?}"))?;
    let mut files = files::read_folder(&folder)?;
    let names = [format!("{}.js", krate.name), format!("{}_bg.wasm", krate.name)];
    let (Some(glue), Some(wasm), true) =
        (files.remove(&names[0]), files.remove(&names[1]), files.is_empty())
    else {
        // A crate with inline JavaScript would need a place in the file names and the policy.
        return Err("wasm-bindgen wrote other files than one glue and one wasm".into());
    };
    let glue = link(&String::from_utf8_lossy(&glue))?;
    let (glue, wasm) = names::short(&glue, &wasm)?;
    let [glue_name, wasm_name] = names;
    Ok([(glue_name, glue.into_bytes()), (wasm_name, order::sorted(&wasm)?)].into())
}
