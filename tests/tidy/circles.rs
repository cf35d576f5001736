//! Inside a crate files form no circles: what two need stands below both.
//!
//! A file uses another when it names, by a path, something that stands there; a parent that only lifts a name up
//! (`pub use`) does not use it. Methods have no path and are not seen.

use crate::tokens::{is_name, tokens};
use crate::{program, texts};
use std::collections::{BTreeMap, BTreeSet};

/// Of a file of one crate: `drawing::mark` is `["drawing", "mark"]`, the crate's top nothing.
type Module = Vec<String>;

/// A name that a file takes from elsewhere.
struct Taken {
    path: Vec<String>,
    name: String,
    lifted: bool,
}

#[derive(Default)]
struct File {
    taken: Vec<Taken>,
    /// Paths in the program itself, with at least one step; and every word.
    paths: Vec<Vec<String>>,
    words: BTreeSet<String>,
}

/// Reads one branch of a `use` tree from `at` on; gives where it ends.
fn tree(
    tokens: &[String],
    mut at: usize,
    before: &[String],
    lifted: bool,
    out: &mut Vec<Taken>,
) -> usize {
    let mut path = before.to_vec();
    while let Some(token) = tokens.get(at) {
        match token.as_str() {
            "{" => {
                at += 1;
                while tokens.get(at).is_some_and(|t| t != "}") {
                    at = tree(tokens, at, &path, lifted, out);
                    at += usize::from(tokens.get(at).is_some_and(|t| t == ","));
                }
                return at + 1;
            }
            "," | "}" | ";" => break,
            "as" => {
                let name = tokens.get(at + 1).cloned().unwrap_or_default();
                out.push(Taken { path, name, lifted });
                return at + 2;
            }
            "self" if !path.is_empty() => {}
            "::" => {}
            _ => path.push(token.clone()),
        }
        at += 1;
    }
    let name = path.last().cloned().unwrap_or_default();
    out.push(Taken { path, name, lifted });
    at
}

fn read(text: &str) -> File {
    let whole: Vec<&str> = program(text).map(|(_, line)| line).collect();
    let tokens: Vec<String> =
        tokens(&whole.join("\n")).into_iter().map(|(_, token)| token).collect();
    let mut file = File::default();
    let mut at = 0;
    while at < tokens.len() {
        let before = at.checked_sub(1).map_or("", |i| &tokens[i]);
        if tokens[at] == "use" && tokens.get(at + 1).is_some_and(|t| is_name(t)) {
            at = tree(&tokens, at + 1, &[], before == "pub" || before == ")", &mut file.taken);
        } else if tokens[at] == "mod" {
            // The module's name is no use of what bears the same.
            at += 2;
        } else if is_name(&tokens[at]) && before != "::" {
            let mut path = vec![tokens[at].clone()];
            while tokens.get(at + 1).is_some_and(|t| t == "::")
                && tokens.get(at + 2).is_some_and(|t| is_name(t))
            {
                at += 2;
                path.push(tokens[at].clone());
            }
            // What a file calls, and types: a member or a value may bear a function's name.
            let called =
                tokens.get(at + 1).is_some_and(|t| t == "(") && !["fn", "."].contains(&before);
            if called || path[0].starts_with(char::is_uppercase) {
                file.words.insert(path[0].clone());
            }
            if path.len() > 1 {
                file.paths.push(path);
            }
            at += 1;
        } else {
            at += 1;
        }
    }
    file
}

type Crate = BTreeMap<Module, File>;

/// The file in which what a path names stands, the path read in the file of `here`. None: in another crate, or it names a file.
fn home(house: &Crate, here: &Module, path: &[String], depth: usize) -> Option<Module> {
    place(house, here, path, depth).filter(|(_, whole)| !whole).map(|(module, _)| module)
}

/// The same, with whether the path names that file as a whole.
fn place(house: &Crate, here: &Module, path: &[String], depth: usize) -> Option<(Module, bool)> {
    let (first, mut rest) = path.split_first()?;
    let mut at = match first.as_str() {
        "crate" => Module::new(),
        "self" => here.clone(),
        "super" => here[..here.len().checked_sub(1)?].to_vec(),
        _ => {
            rest = path;
            here.clone()
        }
    };
    while let Some((step, more)) = rest.split_first() {
        if step == "super" {
            at.pop();
            rest = more;
            continue;
        }
        let child: Module = at.iter().cloned().chain([step.clone()]).collect();
        if house.contains_key(&child) {
            at = child;
            rest = more;
            continue;
        }
        let file = house.get(&at)?;
        let Some(taken) = file.taken.iter().find(|t| t.name == *step) else {
            // What stands in a file may be named from it without a path; a word of another crate may, too.
            let outside = rest.len() == path.len();
            return (!outside).then_some((at, false));
        };
        if depth == 0 {
            return None;
        }
        let (module, whole) = place(house, &at, &taken.path, depth - 1)?;
        if !whole {
            return Some((module, false));
        }
        at = module;
        rest = more;
    }
    Some((at, true))
}

/// (file, the file that it uses, by which names).
fn uses(house: &Crate) -> BTreeMap<(Module, Module), BTreeSet<String>> {
    let mut found: BTreeMap<(Module, Module), BTreeSet<String>> = BTreeMap::new();
    for (module, file) in house {
        let taken = file
            .taken
            .iter()
            .filter(|t| !t.lifted || file.words.contains(&t.name))
            .map(|t| &t.path);
        for path in taken.chain(&file.paths) {
            if let Some(home) = home(house, module, path, 9)
                && home != *module
            {
                found
                    .entry((module.clone(), home))
                    .or_default()
                    .insert(path[path.len() - 1].clone());
            }
        }
    }
    found
}

/// Every set of files that reach one another, with what ties them.
fn circles(house: &Crate) -> Vec<String> {
    let uses = uses(house);
    let mut next: BTreeMap<&Module, Vec<&Module>> = BTreeMap::new();
    for (a, b) in uses.keys() {
        next.entry(a).or_default().push(b);
    }
    let mut reached: BTreeMap<&Module, BTreeSet<&Module>> = BTreeMap::new();
    for from in house.keys() {
        let (mut seen, mut open) = (BTreeSet::new(), vec![from]);
        while let Some(module) = open.pop() {
            let more = next.get(module).into_iter().flatten();
            open.extend(more.copied().filter(|b| seen.insert(*b)));
        }
        reached.insert(from, seen);
    }
    let mut told = BTreeSet::new();
    let mut found = Vec::new();
    for from in house.keys() {
        let circle: BTreeSet<&Module> =
            reached[from].iter().copied().filter(|to| reached[to].contains(from)).collect();
        if circle.is_empty() || !told.insert(circle.clone()) {
            continue;
        }
        let ties = uses.iter().filter(|((a, b), _)| circle.contains(a) && circle.contains(b));
        let lines = ties.map(|((a, b), names)| {
            let names: Vec<&str> = names.iter().map(String::as_str).collect();
            format!("  {} -> {}: {}", a.join("::"), b.join("::"), names.join(", "))
        });
        found.push(lines.collect::<Vec<_>>().join("\n"));
    }
    found
}

/// The files of one crate by their modules. `src/cuts/saw/mod.rs` is `saw`, `lib.rs` the top.
fn house<'a>(folder: &str, files: impl IntoIterator<Item = &'a (String, String)>) -> Crate {
    let mut house = Crate::new();
    for (path, text) in files {
        let Some(name) =
            path.strip_prefix(folder).and_then(|p| p.strip_prefix('/')?.strip_suffix(".rs"))
        else {
            continue;
        };
        let mut module: Module = name.split('/').map(str::to_owned).collect();
        if ["mod", "lib", "main"].contains(&module[module.len() - 1].as_str()) {
            module.pop();
        }
        if !name.starts_with("examples/") {
            house.insert(module, read(text));
        }
    }
    house
}

#[test]
fn no_two_files_of_a_crate_use_each_other() {
    let all = texts("src");
    let crates: Vec<&str> =
        all.iter().filter_map(|(path, _)| path.strip_suffix("/Cargo.toml")).collect();
    assert!(crates.len() > 2, "{crates:?}");
    let found: Vec<String> = crates
        .iter()
        .flat_map(|folder| {
            circles(&house(folder, &all)).into_iter().map(move |c| format!("{folder}:\n{c}"))
        })
        .collect();
    assert!(found.is_empty(), "{} circles\n{}", found.len(), found.join("\n"));
}

#[test]
fn a_circle_is_seen_through_what_lies_between() {
    let files = |list: &[(&str, &str)]| -> Vec<String> {
        let files: Vec<(String, String)> =
            list.iter().map(|(path, text)| (format!("x/{path}"), (*text).to_owned())).collect();
        circles(&house("x", &files))
    };
    // By a group, by a path in the program, through a name that the parent lifts, renamed, through an alias.
    for a in [
        "use super::{b::{self, B}, c};",
        "fn f() { super::b::g() }",
        "use crate::Lifted;",
        "use super::b as other; fn f() { other::g() }",
        "use crate::b; fn f<'a>(_: &'a str) { let _ = '\\''; b::g() }",
    ] {
        let top = ("lib.rs", "mod a; mod b; pub use b::B as Lifted;");
        let found = files(&[top, ("a.rs", a), ("b.rs", "use crate::a::A;\npub struct B;")]);
        assert_eq!(found.len(), 1, "{a}");
        assert!(found[0].contains("b -> a: A"), "{found:?}");
    }
    // The parent lifts, names its modules, or is used by them: no circle until it uses them itself.
    let child = ("a/b.rs", "use super::Top;");
    assert!(files(&[("a/mod.rs", "mod b; pub use b::B; pub struct Top;"), child]).is_empty());
    assert_eq!(files(&[("a/mod.rs", "mod b; use b::B; pub struct Top;"), child]).len(), 1);
    assert_eq!(files(&[("a/mod.rs", "mod b; pub use b::B; pub struct Top(B);"), child]).len(), 1);
    // In comments, strings and tests nothing is used.
    let quiet = "// crate::b::B\nconst S: &str = \"crate::b::B\";\n#[cfg(test)]\nmod tests { use crate::b::B; }";
    assert!(files(&[("a.rs", quiet), ("b.rs", "use crate::a::S;")]).is_empty());
}
