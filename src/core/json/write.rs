//! Writing: one line, no spaces.

use super::Value;
use std::fmt::{Display, Formatter, Result, Write};

impl Display for Value {
    fn fmt(&self, f: &mut Formatter<'_>) -> Result {
        let mut out = String::new();
        value(self, &mut out);
        f.write_str(&out)
    }
}

fn value(this: &Value, out: &mut String) {
    match this {
        Value::Null => out.push_str("null"),
        Value::Bool(true) => out.push_str("true"),
        Value::Bool(false) => out.push_str("false"),
        Value::Whole(n) => out.push_str(&n.to_string()),
        // The shortest digits that read back as the same number, with ".0" where it is whole.
        Value::Number(n) if n.is_finite() => out.push_str(&format!("{n:?}")),
        Value::Number(_) => out.push_str("null"),
        Value::String(s) => text(s, out),
        Value::Array(all) => {
            for (i, v) in all.iter().enumerate() {
                out.push(if i == 0 { '[' } else { ',' });
                value(v, out);
            }
            out.push_str(if all.is_empty() { "[]" } else { "]" });
        }
        Value::Object(map) => {
            let mut before = '{';
            for (name, v) in map.iter() {
                out.push(before);
                text(name, out);
                out.push(':');
                value(v, out);
                before = ',';
            }
            out.push_str(if before == '{' { "{}" } else { "}" });
        }
    }
}

fn text(s: &str, out: &mut String) {
    out.push('"');
    for c in s.chars() {
        match c {
            '"' => out.push_str("\\\""),
            '\\' => out.push_str("\\\\"),
            '\n' => out.push_str("\\n"),
            '\r' => out.push_str("\\r"),
            '\t' => out.push_str("\\t"),
            // Writing to a string cannot fail.
            c if c < ' ' => drop(write!(out, "\\u{:04x}", u32::from(c))),
            c => out.push(c),
        }
    }
    out.push('"');
}
