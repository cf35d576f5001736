//! The order of the wasm's functions: like beside like.
//!
//! The linker orders them by where they come from, wasm-bindgen by their size. What packs a file finds what is alike
//! far more cheaply when it is near, so functions are put in order of what they take and give, then of their code: 3 %
//! of the packed file. Of functions that are the same to the last byte one is kept (600 in number, each made for a
//! type of its own). Nothing is changed in them but the numbers of those that they call; a place in the table of
//! functions is never shared, so that pointers to different functions stay different.

use crate::shell::Failed;
use std::convert::Infallible;
use wasm_encoder::reencode::{Error, Reencode};
use wasm_encoder::{CodeSection, FunctionSection, Module};
use wasmparser::{CodeSectionReader, FunctionSectionReader, Parser, Payload, TypeRef};

/// The same module with its own functions sorted, each once.
pub fn sorted(wasm: &[u8]) -> Result<Vec<u8>, Failed> {
    let said = |e: &dyn std::fmt::Display| format!("the built wasm: {e}");
    let mut order = Order::of(wasm).map_err(|e| said(&e))?;
    let mut module = Module::new();
    order.parse_core_module(&mut module, Parser::new(0), wasm).map_err(|e| said(&e))?;
    let sorted = module.finish();
    if order.old.len() == order.new.len() {
        Ok(sorted)
    } else {
        // Those that called different twins may be twins now.
        self::sorted(&sorted)
    }
}

struct Order {
    /// Imported functions come first and keep their numbers.
    imported: u32,
    /// The old places of the module's own functions that are kept, in their new order.
    old: Vec<usize>,
    /// Where each went, or its twin.
    new: Vec<u32>,
}

impl Order {
    fn of(wasm: &[u8]) -> Result<Order, wasmparser::BinaryReaderError> {
        let mut imported = 0;
        let mut types = Vec::new();
        let mut bodies = Vec::new();
        for payload in Parser::new(0).parse_all(wasm) {
            match payload? {
                Payload::ImportSection(all) => {
                    for import in all.into_imports() {
                        imported += u32::from(matches!(import?.ty, TypeRef::Func(_)));
                    }
                }
                Payload::FunctionSection(all) => {
                    types = all.into_iter().collect::<Result<_, _>>()?
                }
                Payload::CodeSectionEntry(body) => bodies.push(body.as_bytes()),
                _ => {}
            }
        }
        let whole = |i: usize| (types[i], bodies[i]);
        let mut all: Vec<usize> = (0..bodies.len()).collect();
        all.sort_by_key(|&i| whole(i));
        let mut old = Vec::new();
        let mut new = vec![0; all.len()];
        for i in all {
            if old.last().is_none_or(|&last| whole(last) != whole(i)) {
                old.push(i);
            }
            new[i] = old.len() as u32 - 1;
        }
        Ok(Order { imported, old, new })
    }
}

impl Reencode for Order {
    type Error = Infallible;

    fn function_index(&mut self, function: u32) -> Result<u32, Error<Infallible>> {
        Ok(match function.checked_sub(self.imported) {
            Some(own) => self.imported + self.new[own as usize],
            None => function,
        })
    }

    fn parse_function_section(
        &mut self,
        functions: &mut FunctionSection,
        section: FunctionSectionReader<'_>,
    ) -> Result<(), Error<Infallible>> {
        let types = section.into_iter().collect::<Result<Vec<_>, _>>()?;
        for &i in &self.old {
            functions.function(types[i]);
        }
        Ok(())
    }

    fn parse_code_section(
        &mut self,
        code: &mut CodeSection,
        section: CodeSectionReader<'_>,
    ) -> Result<(), Error<Infallible>> {
        let bodies = section.into_iter().collect::<Result<Vec<_>, _>>()?;
        for i in self.old.clone() {
            self.parse_function_body(code, bodies[i].clone())?;
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use wasm_encoder::{
        EntityType, ExportKind, ExportSection, Function, ImportSection, TypeSection, ValType,
    };

    /// A module with one import (0) and five functions (1 … 5), of which 2 and 4 are twins; `last` is exported and
    /// calls all others.
    fn module() -> Vec<u8> {
        let mut types = TypeSection::new();
        types.ty().function([], []);
        types.ty().function([], [ValType::I32]);
        let mut imports = ImportSection::new();
        imports.import("m", "f", EntityType::Function(0));
        let mut functions = FunctionSection::new();
        let mut code = CodeSection::new();
        for (ty, number) in [(1, 7), (1, 5), (1, 6), (1, 5)] {
            functions.function(ty);
            let mut f = Function::new([]);
            f.instructions().i32_const(number).end();
            code.function(&f);
        }
        functions.function(0);
        let mut last = Function::new([]);
        let mut says = last.instructions();
        says.call(0);
        for own in 1..=4 {
            says.call(own).drop();
        }
        says.end();
        code.function(&last);
        let mut exports = ExportSection::new();
        exports.export("last", ExportKind::Func, 5);
        let mut module = Module::new();
        module.section(&types).section(&imports);
        module.section(&functions).section(&exports).section(&code);
        module.finish()
    }

    /// What the exported function does, with calls as the constants that they give.
    fn exported(wasm: &[u8]) -> Vec<String> {
        let mut bodies = Vec::new();
        let mut at = 0;
        for payload in Parser::new(0).parse_all(wasm) {
            match payload.unwrap() {
                Payload::ExportSection(all) => {
                    at = all.into_iter().next().unwrap().unwrap().index as usize - 1;
                }
                Payload::CodeSectionEntry(body) => bodies.push(body),
                _ => {}
            }
        }
        let says = |i: usize| -> Vec<String> {
            let all = bodies[i].get_operators_reader().unwrap();
            all.into_iter().map(|o| format!("{:?}", o.unwrap())).collect()
        };
        let mut out = Vec::new();
        for said in says(at) {
            let called = said.strip_prefix("Call { function_index: ");
            match called.map(|c| c.trim_end_matches(" }").parse::<usize>().unwrap()) {
                Some(0) => out.push("the import".into()),
                Some(own) => out.extend(says(own - 1)),
                None => out.push(said),
            }
        }
        out
    }

    #[test]
    fn sorted_functions_still_call_the_same_ones() {
        let before = module();
        let after = sorted(&before).unwrap();
        assert!(after.len() < before.len());
        assert_eq!(exported(&before), exported(&after));
    }
}
