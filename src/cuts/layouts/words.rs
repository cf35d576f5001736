//! What an answer is called: its key in plain words, or the layout's own where those say too little.

use super::all::names;

/// The words for an answer's key: `long_point_length` reads "long point", `brace_1.lap_length`
/// reads "brace 1, lap", `centres.0` reads "center 1", the corner `corners.1.0` "corner 2, across".
pub fn answer_words(path: &str) -> String {
    let mut out = String::new();
    let mut counted = false;
    for key in path.split(['.', '[', ']']).filter(|k| !k.is_empty()) {
        // Lists count from one; a list in a list is a point.
        if let Ok(place) = key.parse::<u32>() {
            match (counted, place) {
                (true, 0) => out.push_str(", across"),
                (true, _) => out.push_str(", up"),
                _ => {
                    if out.ends_with('s') {
                        out.pop();
                    }
                    out.push_str(&format!(" {}", place.saturating_add(1)));
                }
            }
            counted = true;
            continue;
        }
        counted = false;
        if !out.is_empty() {
            out.push_str(", ");
        }
        let mut own = names().iter().flat_map(|n| n.words);
        if let Some((_, words)) = own.find(|(k, _)| *k == key) {
            out.push_str(words);
            continue;
        }
        let short = ["_deg", "_length", "_kg", "_N", "_n"]
            .iter()
            .fold(key, |k, end| k.strip_suffix(end).unwrap_or(k));
        for (i, word) in short.split('_').enumerate() {
            if i > 0 {
                out.push(' ');
            }
            match word {
                "a" => out.push('A'),
                "b" => out.push('B'),
                w => out.push_str(&w.replace("mitre", "miter").replace("centre", "center")),
            }
        }
    }
    out
}
