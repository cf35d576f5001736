//! A panic in the browser is a trap and no more.
//!
//! Nobody there reads what a panic says: the page shows its banner for the trap that ends it (`www/boot.js`), and
//! the tests, run natively, have the words. So the standard library's functions that only ever panic are emptied, and
//! where one is called stands the trap itself, without what was made ready for the call. wasm-bindgen then leaves out
//! what nobody calls anymore. The places in the source that a panic would name are blanked in the data.

use crate::shell::Failed;
use std::collections::{BTreeMap, BTreeSet};
use std::convert::Infallible;
use wasm_encoder::reencode::{Error, Reencode};
use wasm_encoder::{CodeSection, DataSection, Function, Module};
use wasmparser::{
    BinaryReaderError, CompositeInnerType, Data, DataKind, FunctionBody, KnownCustom, Name,
    NameSectionReader, Operator, Parser, Payload, SubType, TypeRef,
};

/// The same module with panics as traps. The names of the functions that panic are added to `known`: a part of a wasm
/// that was split calls those of the main part by way of the table.
pub fn plain(wasm: &[u8], known: &mut BTreeSet<String>) -> Result<Vec<u8>, Failed> {
    let said = |e: &dyn std::fmt::Display| format!("the compiled wasm: {e}");
    let mut traps = Traps::of(wasm, known).map_err(|e| said(&e))?;
    if known.is_empty() {
        return Err("the compiled wasm names no function that panics".into());
    }
    let mut module = Module::new();
    traps.parse_core_module(&mut module, Parser::new(0), wasm).map_err(|e| said(&e))?;
    Ok(module.finish())
}

/// How the splitter names what calls a function of another part.
const BY_TABLE: &str = " indirect_call_shim";

struct Traps {
    /// Functions that only panic, by their numbers: how many values each takes.
    panics: BTreeMap<u32, usize>,
    /// The function that is read next.
    next: u32,
}

impl Traps {
    fn of(wasm: &[u8], known: &mut BTreeSet<String>) -> Result<Traps, BinaryReaderError> {
        let (mut types, mut functions) = (Vec::new(), Vec::new());
        let (mut bodies, mut names) = (Vec::new(), BTreeMap::new());
        let mut imported = 0;
        for payload in Parser::new(0).parse_all(wasm) {
            match payload? {
                Payload::TypeSection(all) => {
                    for group in all {
                        types.extend(group?.into_types().map(|ty| arity(&ty)));
                    }
                }
                Payload::ImportSection(all) => {
                    for import in all.into_imports() {
                        imported += u32::from(matches!(import?.ty, TypeRef::Func(_)));
                    }
                }
                Payload::FunctionSection(all) => {
                    functions = all.into_iter().collect::<Result<_, _>>()?;
                }
                Payload::CodeSectionEntry(body) => bodies.push(body),
                Payload::CustomSection(custom) => {
                    if let KnownCustom::Name(all) = custom.as_known() {
                        names.extend(function_names(all)?);
                    }
                }
                _ => {}
            }
        }
        let mut panics = BTreeMap::new();
        for ((own, body), ty) in (imported..).zip(&bodies).zip(functions) {
            let name = names.get(&own).copied().unwrap_or_default();
            let (takes, gives) = types[ty as usize];
            let by_way_of = name.strip_suffix(BY_TABLE).is_some_and(|n| known.contains(n));
            let only_panics = gives == 0 && is_standard(name) && never_returns(body)?;
            // What yew would say on the console; only a panic calls it.
            if only_panics || by_way_of || name.contains("console_error_panic_hook") && gives == 0 {
                panics.insert(own, takes);
                known.insert(name.to_owned());
            }
        }
        Ok(Traps { panics, next: imported })
    }
}

/// How many values a function of this type takes and gives.
fn arity(ty: &SubType) -> (usize, usize) {
    match &ty.composite_type.inner {
        CompositeInnerType::Func(f) => (f.params().len(), f.results().len()),
        _ => (0, 0),
    }
}

/// The functions' names by their numbers.
fn function_names<'a>(
    all: NameSectionReader<'a>,
) -> Result<BTreeMap<u32, &'a str>, BinaryReaderError> {
    let mut names = BTreeMap::new();
    for part in all {
        let Name::Function(part) = part? else {
            continue;
        };
        for name in part {
            let name = name?;
            names.insert(name.index, name.name);
        }
    }
    Ok(names)
}

/// Whether a mangled name is one of the standard library's own functions (not one of its generic ones, which may call
/// back what must still run).
fn is_standard(name: &str) -> bool {
    ["4core", "5alloc", "3std"].iter().any(|c| name.contains(c))
        && ["panic", "fail", "handle_error", "handle_alloc_error", "capacity_overflow"]
            .iter()
            .any(|w| name.contains(w))
}

/// Whether a function can only end in a trap: none of its paths leads to its end.
fn never_returns(body: &FunctionBody<'_>) -> Result<bool, BinaryReaderError> {
    let mut depth = 0;
    let mut last = [false; 2];
    for operator in body.get_operators_reader()? {
        let operator = operator?;
        let out = |label: u32| label >= depth;
        match &operator {
            Operator::Block { .. } | Operator::Loop { .. } | Operator::If { .. } => depth += 1,
            Operator::End => depth = depth.wrapping_sub(1),
            Operator::Br { relative_depth } | Operator::BrIf { relative_depth }
                if out(*relative_depth) =>
            {
                return Ok(false);
            }
            Operator::BrTable { targets } => {
                let mut all = targets.targets().chain([Ok(targets.default())]);
                if all.any(|t| t.is_ok_and(out)) {
                    return Ok(false);
                }
            }
            Operator::Return => return Ok(false),
            _ => {}
        }
        last = [last[1], matches!(operator, Operator::Unreachable)];
    }
    Ok(last[0])
}

/// Leaves out the operators at the end that make `count` values and do nothing else that outlives a trap; `false`, and
/// nothing is left out, where they are none of the plain ones.
fn unmade(done: &mut Vec<Operator<'_>>, mut count: usize) -> bool {
    let mut keep = done.len();
    while count > 0 {
        let Some(place) = keep.checked_sub(1) else {
            return false;
        };
        match done[place] {
            Operator::LocalGet { .. }
            | Operator::GlobalGet { .. }
            | Operator::I32Const { .. }
            | Operator::I64Const { .. } => count -= 1,
            Operator::LocalTee { .. } | Operator::I32Load { .. } | Operator::I32WrapI64 => {}
            Operator::I32Add | Operator::I32Sub => count += 1,
            _ => return false,
        }
        keep = place;
    }
    done.truncate(keep);
    true
}

/// The data that is loaded at `base`, without places in the source (`core::panic::Location`: where the file's name is,
/// its length, line and column) and the names of their files.
fn blanked(base: u32, data: &[u8]) -> Vec<u8> {
    let mut out = data.to_vec();
    let words: Vec<u32> = data.as_chunks().0.iter().map(|w| u32::from_le_bytes(*w)).collect();
    for (i, place) in words.windows(4).enumerate() {
        let [at, length, line, column] = [0, 1, 2, 3].map(|k| place[k] as usize);
        let Some(from) = at.checked_sub(base as usize) else {
            continue;
        };
        let file = data.get(from..from + length).unwrap_or_default();
        let is_file = file.ends_with(b".rs") && file.iter().all(u8::is_ascii_graphic);
        if is_file && (1..100_000).contains(&line) && (1..1_000).contains(&column) {
            out[4 * i..4 * i + 16].fill(0);
            out[from..from + length].fill(0);
        }
    }
    out
}

impl Reencode for Traps {
    type Error = Infallible;

    fn parse_data(
        &mut self,
        data: &mut DataSection,
        datum: Data<'_>,
    ) -> Result<(), Error<Infallible>> {
        let DataKind::Active { memory_index, offset_expr } = datum.kind else {
            data.passive(datum.data.iter().copied());
            return Ok(());
        };
        let bytes = match offset_expr.get_operators_reader().read()? {
            Operator::I32Const { value } => blanked(value as u32, datum.data),
            _ => datum.data.to_vec(),
        };
        let offset = self.const_expr(offset_expr)?;
        data.active(memory_index, &offset, bytes);
        Ok(())
    }

    fn parse_function_body(
        &mut self,
        code: &mut CodeSection,
        body: FunctionBody<'_>,
    ) -> Result<(), Error<Infallible>> {
        let own = self.next;
        self.next += 1;
        if self.panics.contains_key(&own) {
            let mut empty = Function::new([]);
            empty.instructions().unreachable().end();
            code.function(&empty);
            return Ok(());
        }
        let mut done: Vec<Operator<'_>> = Vec::new();
        for operator in body.get_operators_reader()? {
            let operator = operator?;
            let takes = match operator {
                Operator::Call { function_index } => self.panics.get(&function_index),
                _ => None,
            };
            let after_a_trap = matches!(done.last(), Some(Operator::Unreachable));
            match (takes, &operator) {
                (Some(&takes), _) if unmade(&mut done, takes) => done.push(Operator::Unreachable),
                (_, Operator::Unreachable) if after_a_trap => {}
                _ => done.push(operator),
            }
        }
        let mut function = self.new_function_with_parsed_locals(&body)?;
        for operator in done {
            function.instruction(&self.instruction(operator)?);
        }
        code.function(&function);
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use wasm_encoder::{
        BlockType, FunctionSection, Instruction, NameMap, NameSection, TypeSection, ValType,
    };

    /// A module of functions with their mangled names; all take two numbers and give none.
    fn module(all: &[(&str, &[Instruction<'_>])]) -> Vec<u8> {
        let mut types = TypeSection::new();
        types.ty().function([ValType::I32, ValType::I32], []);
        let mut functions = FunctionSection::new();
        let mut code = CodeSection::new();
        let mut named = NameMap::new();
        for (i, (name, body)) in (0..).zip(all) {
            functions.function(0);
            let mut f = Function::new([]);
            for says in *body {
                f.instruction(says);
            }
            code.function(&f);
            named.append(i, name);
        }
        let mut names = NameSection::new();
        names.functions(&named);
        let mut module = Module::new();
        module.section(&types).section(&functions);
        module.section(&code).section(&names);
        module.finish()
    }

    fn bodies(wasm: &[u8]) -> Vec<Vec<String>> {
        let mut out = Vec::new();
        for payload in Parser::new(0).parse_all(wasm) {
            if let Payload::CodeSectionEntry(body) = payload.unwrap() {
                let all = body.get_operators_reader().unwrap();
                out.push(all.into_iter().map(|o| format!("{:?}", o.unwrap())).collect());
            }
        }
        out
    }

    #[test]
    fn a_call_that_panics_becomes_the_trap_and_all_else_stays() {
        use Instruction::{
            Block, BrIf, Call, End, I32Add, I32Const, LocalGet, Return, Unreachable,
        };
        let wasm = module(&[
            (
                "_ZN4core9panicking5panic17h0E",
                &[LocalGet(0), LocalGet(1), Call(2), Unreachable, End],
            ),
            // Names that speak of panics, but they come back.
            ("_ZN3std9panicking8set_hook17h0E", &[LocalGet(0), BrIf(0), Unreachable, End]),
            (
                "_ZN3std9panicking9panicking17h0E",
                &[Block(BlockType::Empty), LocalGet(0), BrIf(0), Return, End, Unreachable, End],
            ),
            ("_ZN14offsquare_cuts4fail17h0E", &[Unreachable, End]),
            (
                "_ZN14offsquare_cuts4work17h0E",
                &[
                    Block(BlockType::Empty),
                    LocalGet(0),
                    BrIf(0),
                    LocalGet(1),
                    // One value of two.
                    I32Const(1_048_576),
                    I32Const(16),
                    I32Add,
                    Call(0),
                    Unreachable,
                    End,
                    LocalGet(0),
                    LocalGet(1),
                    Call(1),
                    End,
                ],
            ),
        ]);
        let (before, after) = (bodies(&wasm), bodies(&plain(&wasm, &mut BTreeSet::new()).unwrap()));
        assert_eq!(after[0], ["Unreachable", "End"]);
        assert_eq!(after[1..4], before[1..4]);
        let without: Vec<String> = [&before[4][..3], &before[4][8..]].concat();
        assert_eq!(after[4], without);
    }

    #[test]
    fn places_in_the_source_are_blanked_and_nothing_else() {
        let mut data = b"src/a.rs and words..".to_vec();
        // A place (file, length, line, column), then words with their length, which are none.
        for word in [1_000_u32, 8, 12, 5, 1_009, 3, 12, 5] {
            data.extend(word.to_le_bytes());
        }
        let out = blanked(1_000, &data);
        assert_eq!(out[..20], *b"\0\0\0\0\0\0\0\0 and words..");
        assert_eq!(out[20..36], [0; 16]);
        assert_eq!(out[36..], data[36..]);
    }

    #[test]
    fn a_build_whose_panics_have_no_names_is_refused() {
        assert!(plain(&module(&[("work", &[Instruction::End])]), &mut BTreeSet::new()).is_err());
    }
}
