//! No function is longer than a screen and a half, none nested so deep that its end is out of sight.

use crate::texts;
use crate::tokens::tokens;

/// Lines of a function at most, from its name to its last brace.
const LONGEST: usize = 100;
/// Blocks of `if`, `else`, `match`, `for`, `while`, `loop` inside one another, at most.
const DEEPEST: usize = 4;

/// (name, line, lines, depth) of every function in a file.
fn functions(text: &str) -> Vec<(String, usize, usize, usize)> {
    let tokens = tokens(text);
    let word = |at: usize| tokens.get(at).map_or("", |(_, token)| token.as_str());
    let closing = closing(tokens.iter().map(|(_, token)| token.as_str()));
    let mut found = Vec::new();
    for at in (0..tokens.len()).filter(|at| word(*at) == "fn") {
        let Some(open) = (at..tokens.len()).find(|i| ["{", ";"].contains(&word(*i))) else {
            continue;
        };
        // A type `fn(…)`, or a function that a trait only promises.
        if word(at + 1) == "(" || word(open) == ";" {
            continue;
        }
        let end = closing[open];
        let lines = tokens[end].0 - tokens[at].0 + 1;
        found.push((word(at + 1).to_owned(), tokens[at].0, lines, depth(&tokens[open..=end])));
    }
    found
}

/// For each opening brace the place of its closing one.
fn closing<'a>(tokens: impl Iterator<Item = &'a str>) -> Vec<usize> {
    let (mut found, mut open) = (Vec::new(), Vec::new());
    for (at, token) in tokens.enumerate() {
        found.push(at);
        match token {
            "{" => open.push(at),
            "}" => {
                if let Some(from) = open.pop() {
                    found[from] = at;
                }
            }
            _ => {}
        }
    }
    found
}

/// How many blocks that choose or repeat lie inside one another in a function's body.
fn depth(body: &[(usize, String)]) -> usize {
    let word = |at: usize| body.get(at).map_or("", |(_, token)| token.as_str());
    let closing = closing(body.iter().map(|(_, token)| token.as_str()));
    let (mut open, mut deepest, mut chooses) = (Vec::new(), 0, false);
    for at in 0..body.len() {
        match word(at) {
            "if" | "else" | "match" | "for" | "while" | "loop" => chooses = true,
            // The braces of a pattern, `if let Point { x, y } = …`, are none of a block.
            "{" if word(closing[at] + 1) == "=" && word(closing[at] + 2) != ">" => open.push(false),
            "{" => {
                open.push(chooses);
                chooses = false;
                deepest = deepest.max(open.iter().filter(|o| **o).count());
            }
            "}" => {
                open.pop();
                chooses &= word(at + 1) == "=";
            }
            ";" => chooses = false,
            _ => {}
        }
    }
    deepest
}

#[test]
fn functions_are_short_and_shallow() {
    let mut found = Vec::new();
    for (path, text) in texts("src").into_iter().filter(|(path, _)| path.ends_with(".rs")) {
        for (name, line, lines, depth) in functions(&text) {
            if lines > LONGEST || depth > DEEPEST {
                found.push(format!("{path}:{line}: {name} is {lines} lines long, {depth} deep"));
            }
        }
    }
    assert!(found.is_empty(), "{} functions\n{}", found.len(), found.join("\n"));
}

#[test]
fn lines_and_depth_are_counted() {
    let text = "trait T { fn promised(&self); }\n\
        fn a(f: fn(u8)) {\n    if let P { x, y } = p {\n        for i in 0..3 { let c = '{'; }\n    } else { match z { _ => {} } }\n}\n\
        const S: &str = r#\"fn { \"#;\n\
        fn b() -> S { S { a: 1 } }";
    let seen: Vec<(String, usize, usize, usize)> = functions(text);
    assert_eq!(seen, [("a".to_owned(), 2, 5, 2), ("b".to_owned(), 8, 1, 0)]);
}
