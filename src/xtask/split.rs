//! The wasm in parts: what the first answer needs, and what comes after it.
//!
//! The app marks the functions that hand out a door (`wasm_split` in `src/app/screens`). Whatever is reached only through
//! them goes into a file of its own, whatever more than one of them reaches into a shared one. The splitter goes by the
//! relocations that the linker leaves in the wasm, so it comes before anything else touches the file: then panics as
//! traps, then wasm-bindgen over the main part, then the order of functions over each part, for parts share nothing by
//! number but places in the table and addresses.
//!
//! The whole wasm in one file is built from the same compiled one, by glue that finds the doors in it.

use crate::files::{self, Files};
use crate::pinned;
use crate::shell::{self, Failed};
use std::collections::BTreeMap;
use std::path::Path;
use wasm_encoder::RawSection;
use wasmparser::{Parser, Payload, TypeRef};

/// The module that the main part imports the loaders of the others from; the glue stands in for it.
const LINK: &str = "./link.js";
/// The same before the wasm is split.
const PLACEHOLDER: &str = "__wasm_split_placeholder__";

/// The compiled wasm in parts.
pub struct Parts {
    /// What wasm-bindgen works on.
    pub main: Vec<u8>,
    /// The others by the names of their files.
    pub late: Files,
    /// Which files each door needs.
    needs: BTreeMap<String, Vec<String>>,
    /// The splitter's loaders.
    loaders: String,
}

/// Splits what the linker wrote.
pub fn split(compiled: &[u8]) -> Result<Parts, Failed> {
    let folder = shell::target().join("web-parts");
    files::clear(&folder)?;
    let main = folder.join("main.wasm");
    let mut options = wasm_split_cli_support::Options::new(compiled);
    options.output_dir = &folder;
    options.main_out_path = &main;
    options.link_name = LINK;
    let done = wasm_split_cli_support::transform(options)
        .map_err(|e| format!("the wasm could not be split: {e:?}"))?;
    let mut late = Files::new();
    for path in done.split_modules {
        let name = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
        late.insert(name, read(&path)?);
    }
    let loaders = String::from_utf8(read(&folder.join(LINK))?).map_err(|e| e.to_string())?;
    let needs = done.prefetch_map.into_iter().collect();
    Ok(Parts { main: read(&main)?, late, needs, loaders })
}

fn read(path: &Path) -> Result<Vec<u8>, Failed> {
    std::fs::read(path).map_err(|e| format!("{}: {e}", path.display()))
}

/// The glue with the loaders of the finished parts in it: both import each other, so they are one file. `preload` fetches a
/// door's parts ahead; each is fetched with its hash, so that one of another build never runs.
pub fn linked(glue: &str, parts: &Parts) -> Result<String, Failed> {
    let mut loaders = String::new();
    let mut names = Vec::new();
    for line in parts.loaders.lines().filter(|l| !l.starts_with("import ")) {
        let line = match line.strip_prefix("export const ") {
            Some(rest) => {
                names.extend(rest.split(' ').next());
                format!("const {rest}")
            }
            None => line.to_owned(),
        };
        loaders.push_str(&line);
        loaders.push('\n');
    }
    let mut sums = Vec::new();
    for (name, bytes) in &parts.late {
        let fetched = format!("fetch(new URL(\"./{name}\", import.meta.url))");
        if loaders.matches(&fetched).count() != 1 {
            return Err(format!("the splitter's loaders do not fetch {name} once: {loaders}"));
        }
        loaders = loaders.replace(&fetched, &format!("part(\"./{name}\")"));
        sums.push(format!("\"./{name}\": \"{}\"", pinned::integrity(bytes)));
    }
    let needs: Vec<String> = parts
        .needs
        .iter()
        .map(|(door, files)| {
            let files: Vec<String> = files.iter().map(|f| format!("\"./{f}.wasm\"")).collect();
            format!("{door}: [{}]", files.join(", "))
        })
        .collect();
    let own = format!(
        r#"
const SUMS = {{ {} }};
const NEEDS = {{ {} }};
const begun = {{}};
async function get(name) {{
  const got = await fetch(new URL(name, import.meta.url), {{ integrity: SUMS[name] }});
  if (!got.ok) throw new Error(`${{name}}: ${{got.status}}`);
  return new Response(got.body, {{ headers: {{ "Content-Type": "application/wasm" }} }});
}}
function part(name) {{
  const got = begun[name] ?? get(name);
  delete begun[name];
  return got;
}}
export function preload(door) {{
  for (const name of NEEDS[door] ?? []) {{
    begun[name] = get(name);
    begun[name].catch(() => {{}});
  }}
}}
"#,
        sums.join(", "),
        needs.join(", "),
    );
    joined(glue, LINK, &format!("{{ {} }}", names.join(", ")), &(own + &loaders))
}

/// The glue of the wasm in one file: its loaders have nothing to fetch.
pub fn whole(glue: &str, wasm: &[u8]) -> Result<String, Failed> {
    let mut doors = Vec::new();
    for payload in Parser::new(0).parse_all(wasm) {
        let Payload::ImportSection(all) = payload.map_err(|e| e.to_string())? else {
            continue;
        };
        for import in all.into_imports() {
            let import = import.map_err(|e| e.to_string())?;
            if import.module != PLACEHOLDER || !matches!(import.ty, TypeRef::Func(_)) {
                continue;
            }
            let name = import.name;
            doors.push(match name.split_once("_import_") {
                Some((door, rest)) => {
                    format!("{name}: (...given) => wasm.{door}_export_{rest}(...given)")
                }
                None => format!(
                    "{name}: (done, of) => queueMicrotask(() => wasm.__indirect_function_table.get(done)(of, 1))"
                ),
            });
        }
    }
    joined(glue, PLACEHOLDER, &format!("{{ {} }}", doors.join(", ")), "")
}

/// The glue with an object in the place of a module that it imports, and more text at its end.
fn joined(glue: &str, module: &str, object: &str, more: &str) -> Result<String, Failed> {
    let from = format!(" from \"{module}\"");
    let mut out = String::new();
    let mut names = Vec::new();
    // A line for every name that it imports.
    for line in glue.lines() {
        match line.strip_prefix("import * as ").filter(|rest| rest.contains(&from)) {
            Some(rest) => names.extend(rest.split(' ').next()),
            None => {
                out.push_str(line);
                out.push('\n');
            }
        }
    }
    if names.is_empty() {
        return Err(format!("the glue does not import {module}"));
    }
    let all = names.join(" = linked, ");
    Ok(format!("{out}{more}\nconst linked = {object}, {all} = linked;\n"))
}

/// The module without what only linkers read.
pub fn stripped(wasm: &[u8]) -> Result<Vec<u8>, Failed> {
    let mut out = wasm_encoder::Module::new();
    for payload in Parser::new(0).parse_all(wasm) {
        let payload = payload.map_err(|e| format!("the compiled wasm: {e}"))?;
        if let Payload::CustomSection(custom) = &payload
            && (custom.name() == "linking" || custom.name().starts_with("reloc."))
        {
            continue;
        }
        if let Some((id, range)) = payload.as_section() {
            out.section(&RawSection { id, data: &wasm[range] });
        }
    }
    Ok(out.finish())
}

/// A part without what nothing in it reaches.
pub fn swept(wasm: &[u8]) -> Result<Vec<u8>, Failed> {
    let mut config = walrus::ModuleConfig::new();
    config.generate_name_section(false).generate_producers_section(false);
    let mut module = config.parse(wasm).map_err(|e| format!("a part of the wasm: {e:?}"))?;
    walrus::passes::gc::run(&mut module);
    Ok(module.emit_wasm())
}
