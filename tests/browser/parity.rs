//! Native and wasm give the same bits, seen as bits: JSON text would hide NaN and the sign of zero.

use crate::driver::Browser;
use crate::site::{self, Files, Site};
use crate::{dist, root, visit, with_door};
use offsquare_cuts::layouts;
use offsquare_door as door;
use serde_json::{Value, json};
use std::collections::BTreeMap;

/// Puts every number of a reply as its sixteen hexadecimal digits, all else as it is.
const BITS: &str = "const f = new Float64Array(1), u = new BigUint64Array(f.buffer); \
    const bits = v => typeof v === 'number' ? (f[0] = v, u[0].toString(16).padStart(16, '0')) \
        : Array.isArray(v) ? v.map(bits) \
        : v !== null && typeof v === 'object' ? Object.fromEntries(Object.entries(v).map(([k, w]) => [k, bits(w)])) \
        : v;";

fn bits(v: &Value) -> Value {
    match v {
        Value::Number(n) => json!(format!("{:016x}", n.as_f64().expect("a float").to_bits())),
        Value::Array(all) => all.iter().map(bits).collect(),
        Value::Object(map) => map.iter().map(|(k, v)| (k.clone(), bits(v))).collect(),
        other => other.clone(),
    }
}

/// Every case table: its name and its requests.
fn tables() -> BTreeMap<String, Value> {
    let mut out = BTreeMap::new();
    for entry in std::fs::read_dir(root().join("tests/cases")).expect("tests/cases") {
        let path = entry.expect("an entry").path();
        if path.extension().is_none_or(|e| e != "json") {
            continue;
        }
        let text = std::fs::read_to_string(&path).expect("a case table");
        let requests: Value =
            serde_json::from_str(&text).unwrap_or_else(|e| panic!("{}: {e}", path.display()));
        let count = requests.as_array().map_or(0, Vec::len);
        assert!(count > 0, "{}: no cases", path.display());
        out.insert(path.display().to_string(), requests);
    }
    out
}

/// The first place where two values differ.
fn difference(a: &Value, b: &Value, at: String) -> Option<String> {
    match (a, b) {
        (Value::Array(x), Value::Array(y)) if x.len() == y.len() => x
            .iter()
            .zip(y)
            .enumerate()
            .find_map(|(i, (x, y))| difference(x, y, format!("{at}/{i}"))),
        (Value::Object(x), Value::Object(y)) if x.keys().eq(y.keys()) => {
            x.iter().find_map(|(k, v)| difference(v, &y[k], format!("{at}/{k}")))
        }
        _ if a == b => None,
        _ => Some(format!("{at}: native {a}, wasm {b}")),
    }
}

/// The comparison itself sees what JSON text would hide.
#[test]
fn the_comparison_sees_nan_the_sign_of_zero_and_the_last_bit() {
    let browser = Browser::start();
    browser.go("about:blank");
    let seen = browser.run(&format!("{BITS} return bits({{a: [NaN, -0, 0, 0.1, 1]}}).a;"));
    assert_eq!(
        seen,
        json!([
            "7ff8000000000000",
            "8000000000000000",
            "0000000000000000",
            "3fb999999999999a",
            "3ff0000000000000"
        ])
    );
    assert_eq!(bits(&json!([-0.0, 0.1, 1])), {
        json!(["8000000000000000", "3fb999999999999a", "3ff0000000000000"])
    });
    let one = json!({"a": [1.0, 0.1]});
    let near = json!({"a": [1.0, f64::from_bits(0.1f64.to_bits() + 1)]});
    assert!(difference(&bits(&one), &bits(&near), String::new()).is_some());
    assert!(difference(&bits(&one), &bits(&one), String::new()).is_none());
}

/// Every case table through the doors' own wasm, built as the app's is: the replies of `solve()`, and the answers' own bits
/// before the door writes them.
#[test]
fn wasm_and_native_agree_to_the_bit() {
    let browser = Browser::start();
    let site = Site::serve(with_door(), "");
    visit(&browser, &site);
    let mut answered = BTreeMap::<String, usize>::new();
    for (name, requests) in tables() {
        let reply = door::solve_value(&requests);
        let raw = door::answer_bits(&requests);
        let finite = raw.iter().all(|b| f64::from_bits(*b).is_finite());
        assert!(finite, "{name}: an answer that is no number");
        for (request, reply) in
            requests.as_array().into_iter().flatten().zip(reply.as_array().into_iter().flatten())
        {
            if reply["solutions"].as_array().is_some_and(|s| !s.is_empty()) {
                *answered
                    .entry(request["layout"].as_str().unwrap_or_default().to_owned())
                    .or_default() += 1;
            }
        }
        let wasm = browser.wait_for(
            &format!(
                "{BITS} const m = await import('./door/door.js'); await m.default(); \
                 return [bits(m.solve(JSON.parse(args[0]))), [...m.answer_bits(args[0])].map(b => b.toString(16).padStart(16, '0'))];"
            ),
            &[json!(requests.to_string())],
        );
        assert!(wasm.is_array(), "{name}: {wasm}");
        let raw: Value = raw.iter().map(|b| json!(format!("{b:016x}"))).collect();
        let native = json!([bits(&reply), raw]);
        if let Some(difference) = difference(&native, &wasm, name) {
            panic!("{difference}");
        }
    }
    for layout in layouts::all() {
        let count = answered.get(layout.id()).copied().unwrap_or(0);
        assert!(count > 0, "no answered case of {}", layout.id());
    }
}

/// How a case is opened on its screen.
fn link(request: &Value) -> String {
    let word = |key: &str| request[key].as_str().unwrap_or_default().to_owned();
    let unit = if word("unit") == "mm" { "mm:" } else { "" };
    let mut link = format!("#/{}?", word("layout"));
    if !word("form").is_empty() {
        link.push_str(&format!("form={}&", word("form")));
    }
    for (key, value) in request["inputs"].as_object().into_iter().flatten() {
        match value {
            Value::Number(n) => link.push_str(&format!("{key}={unit}{n}&")),
            Value::String(s) => link.push_str(&format!("{key}={s}&")),
            _ => {}
        }
    }
    link
}

/// What a build shows, answer and saw card, for each of these; then its list, rack and shop.
fn shown(files: Files, links: &[String]) -> Value {
    let browser = Browser::start();
    let site = Site::serve(files, "");
    visit(&browser, &site);
    let all = browser.wait_for(
        "const out = []; \
         const settled = async () => { let before, now; \
           do { before = now; await new Promise(r => setTimeout(r, 40)); now = document.body.textContent; } while (now !== before); \
           return now; }; \
         for (const link of args[0]) { \
           location.hash = link; await settled(); \
           document.querySelector('[data-test=strip]')?.click(); \
           out.push(await settled()); } \
         for (const place of ['parts', 'rack', 'shop']) { \
           location.hash = '#/' + place; await settled(); \
           document.querySelector('[data-test=example-0]')?.click(); \
           out.push(await settled()); } \
         return out;",
        &[json!(links)],
    );
    assert_eq!(browser.complaints(), Vec::<String>::new());
    all
}

/// The wasm in parts and the wasm in one file, made from the same compiled one, show the same for every eighth case of every
/// table, by their whole text.
#[test]
fn the_build_in_parts_shows_what_the_one_in_one_file_shows() {
    let links: Vec<String> = tables()
        .values()
        .flat_map(|t| t.as_array().into_iter().flatten().step_by(8))
        .map(link)
        .collect();
    let target = std::env::var("CARGO_TARGET_DIR").unwrap_or_else(|_| "target".into());
    let whole = site::read(&root().join(target).join("one-file"));
    let wasm = |files: &Files| files.keys().filter(|n| n.ends_with(".wasm")).count();
    assert!(wasm(&whole) < wasm(&dist()));
    let (parts, whole) = (shown(dist(), &links), shown(whole, &links));
    let (parts, whole) = (parts.as_array().expect("texts"), whole.as_array().expect("texts"));
    assert_eq!(parts.len(), links.len() + 3);
    let cards = parts.iter().filter(|t| t.as_str().is_some_and(|t| t.contains("All figures")));
    assert!(cards.count() > links.len() / 2, "most cases have an answer with its saw card");
    for (i, (a, b)) in parts.iter().zip(whole).enumerate() {
        assert_eq!(a, b, "{:?}", links.get(i));
    }
}
