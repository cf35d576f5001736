//! What of a file would be gone once it is written again.

use offsquare_units::grouped;
use serde_json::Value;

/// The first place of `stored` that `written` does not hold, as a path of names ("bench.lengths.3");
/// none where everything is there. What is null holds nothing.
pub(super) fn first(stored: &Value, written: &Value) -> Option<String> {
    let mut path = Vec::new();
    differs(stored, written, &mut path).then(|| path.join("."))
}

/// Leaves the way to the difference in `path`.
fn differs(stored: &Value, written: &Value, path: &mut Vec<String>) -> bool {
    let mut member = |name: String, stored: &Value, written: Option<&Value>| {
        path.push(name);
        let found = differs(stored, written.unwrap_or(&Value::Null), path);
        if !found {
            path.pop();
        }
        found
    };
    match (stored, written) {
        (Value::Null, _) => false,
        (Value::Object(all), Value::Object(kept)) => {
            all.iter().any(|(name, value)| member(name.clone(), value, kept.get(name)))
        }
        (Value::Array(all), Value::Array(kept)) => {
            (0_usize..).zip(all).any(|(i, value)| member(i.to_string(), value, kept.get(i)))
        }
        // Whole numbers and others are one kind, as in the browser.
        (Value::Number(a), Value::Number(b)) => a.as_f64() != b.as_f64(),
        _ => stored != written,
    }
}

/// What is said of a list that is cut to what can be handled.
pub(super) fn too_many(what: &str, most: usize, more: usize) -> String {
    let (most, more) = (grouped(most as u64), grouped(more as u64));
    format!("Of {what}, {most} can be kept; {more} more were set aside.")
}
