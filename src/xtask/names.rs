//! Short names between the wasm and its glue.
//!
//! wasm-bindgen names each function that one takes from the other at length, with a hash, in both files. Nobody reads them
//! there: a letter and a number do (4 KB of the packed files).

use crate::shell::Failed;
use std::collections::{BTreeMap, BTreeSet};
use std::convert::Infallible;
use wasm_encoder::reencode::{Error, Reencode};
use wasm_encoder::{ExportSection, ImportSection, Module};
use wasmparser::{BinaryReaderError, Export, ImportSectionReader, Parser, Payload};

/// How the module is called that the glue hands in, before and after.
const GLUE: (&str, &str) = ("./offsquare_bg.js", "g");

/// Both with short names.
pub fn short(glue: &str, wasm: &[u8]) -> Result<(String, Vec<u8>), Failed> {
    let said = |e: &dyn std::fmt::Display| format!("the bound wasm: {e}");
    let words: BTreeSet<&str> = words(glue).filter(|(_, is)| *is).map(|(word, _)| word).collect();
    let mut free = (0..).map(|i| format!("n{i}")).filter(|name| !words.contains(name.as_str()));
    let mut names = BTreeMap::new();
    for name in given(wasm).map_err(|e| said(&e))? {
        names.entry(name).or_insert_with(|| free.next().unwrap_or_default());
    }
    let text: String = self::words(&glue.replace(GLUE.0, GLUE.1))
        .map(|(word, _)| names.get(word).map_or(word, String::as_str).to_owned())
        .collect();
    let mut module = Module::new();
    let mut short = Short(names);
    short.parse_core_module(&mut module, Parser::new(0), wasm).map_err(|e| said(&e))?;
    Ok((text, module.finish()))
}

/// The long names that the wasm takes from the glue or gives it.
fn given(wasm: &[u8]) -> Result<Vec<String>, BinaryReaderError> {
    let mut all = Vec::new();
    for payload in Parser::new(0).parse_all(wasm) {
        match payload? {
            Payload::ImportSection(imports) => {
                for import in imports.into_imports() {
                    let import = import?;
                    if import.module == GLUE.0 {
                        all.push(import.name.to_owned());
                    }
                }
            }
            Payload::ExportSection(exports) => {
                for export in exports {
                    let name = export?.name;
                    if name.starts_with("__wb") || name.starts_with("wasm_bindgen__") {
                        all.push(name.to_owned());
                    }
                }
            }
            _ => {}
        }
    }
    Ok(all)
}

/// A script cut into its words (`true`) and what stands between them.
fn words(script: &str) -> impl Iterator<Item = (&str, bool)> {
    let is_word = |c: char| c.is_ascii_alphanumeric() || c == '_' || c == '$';
    let mut rest = script;
    std::iter::from_fn(move || {
        let word = rest.starts_with(is_word);
        let end = rest.find(|c| is_word(c) != word).unwrap_or(rest.len());
        let (one, more) = rest.split_at(end);
        rest = more;
        (!one.is_empty()).then_some((one, word))
    })
}

struct Short(BTreeMap<String, String>);

impl Short {
    fn of<'a>(&'a self, name: &'a str) -> &'a str {
        self.0.get(name).map_or(name, String::as_str)
    }
}

impl Reencode for Short {
    type Error = Infallible;

    fn parse_import_section(
        &mut self,
        imports: &mut ImportSection,
        section: ImportSectionReader<'_>,
    ) -> Result<(), Error<Infallible>> {
        for import in section.into_imports() {
            let import = import?;
            let ty = self.entity_type(import.ty)?;
            let module = if import.module == GLUE.0 { GLUE.1 } else { import.module };
            imports.import(module, self.of(import.name), ty);
        }
        Ok(())
    }

    fn parse_export(
        &mut self,
        exports: &mut ExportSection,
        export: Export<'_>,
    ) -> Result<(), Error<Infallible>> {
        let kind = self.export_kind(export.kind)?;
        let index = self.external_index(export.kind, export.index)?;
        exports.export(self.of(export.name), kind, index);
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use wasm_encoder::{EntityType, ExportKind, TypeSection};

    #[test]
    fn both_sides_get_the_same_names_and_all_else_stays() {
        let mut types = TypeSection::new();
        types.ty().function([], []);
        let mut imports = ImportSection::new();
        imports.import(GLUE.0, "__wbg_log_1", EntityType::Function(0));
        imports.import("./link.js", "load", EntityType::Function(0));
        let mut exports = ExportSection::new();
        exports.export("__wbindgen_free", ExportKind::Func, 0);
        exports.export("app_main", ExportKind::Func, 1);
        let mut module = Module::new();
        module.section(&types).section(&imports).section(&exports);
        let glue = "let n0 = wasm.__wbindgen_free; a.__wbg_log_12; \
                    x({ \"./offsquare_bg.js\": { __wbg_log_1: load } }); wasm.app_main()";
        let (text, wasm) = short(glue, &module.finish()).unwrap();
        // `n0` is taken already.
        assert_eq!(
            text,
            "let n0 = wasm.n2; a.__wbg_log_12; x({ \"g\": { n1: load } }); wasm.app_main()"
        );
        let mut names = Vec::new();
        for payload in Parser::new(0).parse_all(&wasm) {
            match payload.unwrap() {
                Payload::ImportSection(all) => names.extend(
                    all.into_imports()
                        .map(|i| i.map(|i| format!("{} {}", i.module, i.name)).unwrap()),
                ),
                Payload::ExportSection(all) => {
                    names.extend(all.into_iter().map(|e| e.unwrap().name.to_owned()));
                }
                _ => {}
            }
        }
        assert_eq!(names, ["g n1", "./link.js load", "n2", "app_main"]);
    }
}
