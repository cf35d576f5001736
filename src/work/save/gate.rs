//! Whether a text may be read at all: its size and depth are counted before anything is built from it.
//!
//! What reads JSON calls itself once a level, so nesting without end would use up the stack, which in a
//! browser ends the app with no word said.

use offsquare_units::grouped;

/// Most bytes of a text. The fullest list that the app keeps is a third of it.
pub const MOST_TEXT: usize = 16_000_000;
/// Most bytes of a file with its pictures, which are taken out before the rest is read.
pub const MOST_FILE: usize = 200_000_000;
/// Most levels of lists and objects within each other; a stored bench has 10.
pub const MOST_DEPTH: usize = 64;
/// Most values, counted by the commas and brackets between them.
pub const MOST_VALUES: usize = 1_000_000;

/// Goes once over a JSON text, building nothing; a text that is no JSON may pass, for its reader to refuse.
/// Errors are plain sentences with the limit passed.
///
/// ```
/// use offsquare_work::save::{MOST_DEPTH, fits};
/// assert_eq!(fits(r#"{"note": "[[[ and \" ]]]"}"#), Ok(()));
/// let deep = "[".repeat(MOST_DEPTH + 1);
/// assert!(fits(&deep).unwrap_err().contains("64"));
/// ```
pub fn fits(text: &str) -> Result<(), String> {
    fits_in(text, MOST_TEXT, MOST_VALUES)
}

/// The same with fewer bytes and values.
pub(super) fn fits_in(text: &str, most_text: usize, most_values: usize) -> Result<(), String> {
    if text.len() > most_text {
        return Err(too_large(text.len() as f64, most_text));
    }
    let (mut depth, mut values) = (0_usize, 0_usize);
    let (mut quoted, mut escaped) = (false, false);
    for byte in text.bytes() {
        if quoted {
            quoted = escaped || byte != b'"';
            escaped = !escaped && byte == b'\\';
            continue;
        }
        match byte {
            b'"' => quoted = true,
            b'[' | b'{' => {
                depth += 1;
                values += 1;
                if depth > MOST_DEPTH {
                    return Err(format!(
                        "This file cannot be read: it holds lists within lists, more than {MOST_DEPTH} deep."
                    ));
                }
            }
            b']' | b'}' => depth = depth.saturating_sub(1),
            b',' => values += 1,
            _ => {}
        }
        if values > most_values {
            return Err(format!(
                "This file cannot be read: it holds more than {} entries.",
                grouped(most_values as u64)
            ));
        }
    }
    Ok(())
}

/// What is said of a text of so many bytes, more than are read.
pub fn too_large(bytes: f64, most: usize) -> String {
    let megabytes = |bytes: f64| offsquare_units::num::ceil(bytes / 1e6);
    format!(
        "This file cannot be read: it has {} MB, and {} MB is the most.",
        megabytes(bytes),
        megabytes(most as f64)
    )
}
