//! The JSON door for programs: an array of requests on standard input, their answers on standard output.
//!
//! `cargo run -q --release -p offsquare-door --example solve < requests.json`
//!
//! What is not JSON at all is answered too, with one problem; the exit code is then 2.

use offsquare_door::{solve_one, solve_value};
use serde_json::value::RawValue;
use serde_json::{Value, json};
use std::collections::BTreeMap;
use std::io::{ErrorKind, Read, Write};

fn main() {
    let mut bytes = Vec::new();
    if let Err(e) = std::io::stdin().read_to_end(&mut bytes) {
        unreadable(&format!("Standard input cannot be read: {e}."));
    }
    // Some editors put a byte order mark first; it is no part of the text.
    let text = bytes.strip_prefix(b"\xEF\xBB\xBF").unwrap_or(&bytes);
    match replies(text) {
        Ok(replies) => put(&replies),
        Err(e) => unreadable(&format!("Standard input is not JSON: {e}.")),
    }
}

/// Each request is read by itself, so that one that cannot be read leaves the others answered.
fn replies(text: &[u8]) -> serde_json::Result<Value> {
    if let Ok(requests) = serde_json::from_slice::<Vec<&RawValue>>(text) {
        return Ok(requests.into_iter().map(answer).collect());
    }
    serde_json::from_slice(text).map(|request| solve_value(&request))
}

/// Numbers out of range and nesting without end are JSON, but are not read.
fn answer(request: &RawValue) -> Value {
    serde_json::from_str(request.get()).map_or_else(
        |e| {
            let members = serde_json::from_str::<BTreeMap<String, &RawValue>>(request.get());
            let id = members.ok().and_then(|m| m.get("id").copied());
            let id = id.and_then(|id| serde_json::from_str(id.get()).ok());
            refusal(id, &format!("This request cannot be read: {e}."))
        },
        |request| solve_one(&request),
    )
}

fn unreadable(sentence: &str) -> ! {
    put(&json!([refusal(None, sentence)]));
    std::process::exit(2)
}

fn refusal(id: Option<Value>, sentence: &str) -> Value {
    json!({
        "id": id,
        "solutions": [],
        "problems": [{"path": "/", "level": "stop", "way": null, "limit": null, "text": sentence}],
    })
}

/// Writes one line; a reader that went away is no error of ours.
fn put(reply: &Value) {
    let mut out = std::io::stdout().lock();
    let written = writeln!(out, "{reply}").and_then(|()| out.flush());
    if let Err(e) = written
        && e.kind() != ErrorKind::BrokenPipe
    {
        eprintln!("Standard output cannot be written: {e}.");
        std::process::exit(1);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_request_that_cannot_be_read_leaves_the_others_answered() {
        let deep = format!("{}{}", "[".repeat(100_000), "]".repeat(100_000));
        let good = r#""layout": "molding", "unit": "in", "inputs": {"spring_deg": 38, "wall_corner_deg": 90}"#;
        let text = format!(
            r#"[{{"id": [1], "inputs": {{"a": 1e999}}}}, {{"id": 2, {good}}}, {{"id": "x", "inputs": {deep}}}, {deep}]"#
        );
        let replies = replies(text.as_bytes()).expect("this is JSON");
        let ids: Vec<&Value> = (0..4).map(|i| &replies[i]["id"]).collect();
        assert_eq!(ids, [&json!([1]), &json!(2), &json!("x"), &Value::Null]);
        for i in [0, 2, 3] {
            assert_eq!(replies[i]["solutions"], json!([]));
            assert_eq!(replies[i]["problems"][0]["level"], "stop");
        }
        // 38 at 90: 31.619 (GEOMETRY 8).
        let miter = replies[1]["solutions"][0]["answers"]["mitre_deg"].as_f64();
        assert!(miter.is_some_and(|m| (m - 31.619).abs() < 5e-4), "{replies}");
        assert!(super::replies(b"[{]").is_err());
    }
}
