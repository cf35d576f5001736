//! Money passes through no float.

use crate::texts;
use crate::tokens::tokens;

/// The functions that may: one reads a decimal, one tells an unrounded quotient.
const FLOATS: [&str; 2] = ["decimal", "as_number"];

#[test]
fn prices_are_worked_out_without_floats() {
    let mut found = Vec::new();
    let mut excused = Vec::new();
    let all = texts("src/work");
    let prices: Vec<_> = all.into_iter().filter(|(path, _)| path.contains("price/")).collect();
    assert!(prices.len() > 3, "the rules of the price are where they were");
    for (path, text) in prices {
        let tokens = tokens(&text);
        let mut function = "";
        for (at, (line, token)) in tokens.iter().enumerate() {
            if token == "fn" {
                function = tokens.get(at + 1).map_or("", |(_, name)| name);
            }
            let digits = |at: usize| {
                tokens.get(at).is_some_and(|(_, t)| t.starts_with(|c: char| c.is_ascii_digit()))
            };
            // 0.5, but not the parts of a pair in `pair.0.1`.
            let fraction = token == "."
                && digits(at + 1)
                && at > 0
                && digits(at - 1)
                && (at < 2 || tokens[at - 2].1 != ".");
            if !(fraction || token.contains("f64") || token.contains("f32")) {
                continue;
            }
            match FLOATS.iter().find(|name| **name == function) {
                Some(name) => excused.push(*name),
                None => found.push(format!("{path}:{line}: {token} in {function}")),
            }
        }
    }
    assert!(found.is_empty(), "{}", found.join("\n"));
    excused.dedup();
    assert_eq!(excused, FLOATS, "functions that are excused and need not be");
}
