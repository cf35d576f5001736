//! The mechanisms on a brace flat on the rails, against the closed form W sin f − H cos f = s
//! (reading 90° − f), rearranged here by hand for each input.

use offsquare_cuts::backwards::{MarkKind, Marks, Steps, if_off, marks_near, resolve};
use offsquare_cuts::inputs::Given;
use offsquare_cuts::layouts::{self, Detail};
use offsquare_cuts::saw::SawProfile;
use offsquare_door::solve_value;
use offsquare_units::{Length, Quantity};
use serde_json::{Value, json};

const W: f64 = 30.0;
const H: f64 = 44.0;
const S: f64 = 2.5;

fn ask(inputs: Value, more: Value) -> Value {
    let mut request = json!({"id": 7, "layout": "brace", "unit": "in", "inputs": inputs});
    for (k, v) in more.as_object().into_iter().flatten() {
        request[k] = v.clone();
    }
    solve_value(&json!([request]))[0].clone()
}

fn rails() -> Value {
    json!({"opening_width": W, "opening_height": H, "strip_width": S, "ends": "rails"})
}

fn back(give: &str, answer: &str, target: f64) -> Value {
    ask(rails(), json!({"work_back": {"give": give, "answer": answer, "target": target}}))
}

fn only_input(reply: &Value, key: &str) -> f64 {
    assert_eq!(reply["solutions"].as_array().map(Vec::len), Some(1), "{reply}");
    reply["solutions"][0]["inputs"][key].as_f64().unwrap_or(f64::NAN)
}

#[test]
fn each_size_lands_the_reading_on_a_mark() {
    // f = 90° − reading. H = (W sin f − s)/cos f, W = (H cos f + s)/sin f, s = W sin f − H cos f.
    for reading in [45.0, 31.6, 30.0, 22.5] {
        let f = (90.0_f64 - reading).to_radians();
        for (give, expected) in [
            ("opening_height", (W * f.sin() - S) / f.cos()),
            ("opening_width", (H * f.cos() + S) / f.sin()),
            ("strip_width", W * f.sin() - H * f.cos()),
        ] {
            if expected <= 0.0 {
                continue;
            }
            let found = only_input(&back(give, "reading_deg", reading), give);
            assert!((found - expected).abs() < 1e-12 * H, "{give} at {reading}: {found}");
        }
    }
}

#[test]
fn a_length_lands_on_a_whole_number() {
    // edge = H/sin f = 52 with W, s kept. Put back by the test's own closed form f = t + asin(s/D).
    let h = only_input(&back("opening_height", "edge_length", 52.0), "opening_height");
    let f = (h / W).atan() + (S / W.hypot(h)).asin();
    assert!((h / f.sin() - 52.0).abs() < 1e-12 * 52.0);
}

#[test]
fn what_cannot_be_reached_is_told_with_the_nearest() {
    // As the strip goes to 0 the reading goes to 90° − atan(H/W); no strip reads more.
    let reply = back("strip_width", "reading_deg", 60.0);
    assert_eq!(reply["solutions"], json!([]));
    let p = &reply["problems"][0];
    assert_eq!((&p["level"], &p["path"]), (&json!("stop"), &json!("/work_back/target")));
    let most = 90.0 - (H / W).atan().to_degrees();
    assert!(p["limit"].as_f64().is_some_and(|l| (l - most).abs() < 1e-9), "{p}");
}

#[test]
fn a_wish_in_one_way_is_not_answered_from_another() {
    let mut inputs = rails();
    inputs.as_object_mut().map(|m| m.remove("ends"));
    let target = json!({"give": "opening_height", "answer": "reading_deg", "target": 40.0});
    let every = ask(inputs.clone(), json!({"work_back": target}));
    for s in every["solutions"].as_array().into_iter().flatten() {
        let reading = s["answers"]["reading_deg"].as_f64();
        assert!(reading.is_some_and(|r| (r - 40.0).abs() < 1e-9), "{s}");
        // Put back with this way named, it is this way that hits.
        let mut again = s["inputs"].clone();
        again["ends"] = s["way"].clone();
        let put = ask(again, json!({}));
        let hit = put["solutions"][0]["answers"]["reading_deg"].as_f64();
        assert!(hit.is_some_and(|r| (r - 40.0).abs() < 1e-9), "{put}");
    }
    let one =
        json!({"give": "opening_height", "answer": "reading_deg", "target": 40.0, "way": "rails"});
    let only = ask(inputs, json!({"work_back": one}));
    let f = 50.0_f64.to_radians();
    let expected = (W * f.sin() - S) / f.cos();
    assert!((only_input(&only, "opening_height") - expected).abs() < 1e-12 * H);
    assert_eq!(only["solutions"][0]["way"], "rails");
}

#[test]
fn a_surplus_edge_contradicts_and_each_size_is_offered() {
    let mut inputs = rails();
    inputs["edge_length"] = json!(52.0);
    let reply = ask(inputs, json!({}));
    let p = &reply["problems"][0];
    assert_eq!((&p["level"], &p["path"]), (&json!("warn"), &json!("/inputs/edge_length")));
    let f = (H / W).atan() + (S / W.hypot(H)).asin();
    let edge = H / f.sin();
    let is = |v: &Value, x: f64| v.as_f64().is_some_and(|v| (v - x).abs() < 1e-10);
    assert!(is(&p["by"], 52.0 - edge) && is(&p["agree"]["edge_length"], edge), "{p}");
    // With the edge 52 and H kept, sin f = 44/52; then s and W follow from the same equation.
    let sin = H / 52.0;
    let cos = (1.0 - sin * sin).sqrt();
    assert!(is(&p["agree"]["strip_width"], W * sin - H * cos), "{p}");
    assert!(is(&p["agree"]["opening_width"], (S + H * cos) / sin), "{p}");
    assert_eq!(reply["solutions"].as_array().map(Vec::len), Some(1));
    // The same edge as it really is passes, to a billionth of an inch.
    let mut inputs = rails();
    inputs["edge_length"] = json!(edge + 0.9e-9);
    assert_eq!(ask(inputs.clone(), json!({}))["problems"], json!([]));
    inputs["edge_length"] = json!(edge + 1.1e-9);
    assert_ne!(ask(inputs, json!({}))["problems"], json!([]));
}

/// The opening stands there already, so its height is no answer to a wrong reading: the gap is told, and what the
/// kept edge must be recut to (`off.rs` has both against polygons).
#[test]
fn half_a_degree_off_opens_a_gap_and_moves_no_opening() {
    let reply = ask(rails(), json!({"off": true}));
    let rows = reply["solutions"][0]["off"].as_array().cloned().unwrap_or_default();
    let row = rows.iter().find(|r| r["answer"] == "reading_deg").cloned().unwrap_or_default();
    let f = (H / W).atan().to_degrees() + (S / W.hypot(H)).asin().to_degrees();
    let is = |v: &Value, x: f64| v.as_f64().is_some_and(|v| (v - x).abs() < 1e-9);
    assert!(is(&row["by"], 0.5) && row["give"].is_null() && row["value"].is_null(), "{row}");
    // s·sin(0.5°)/cos of what is set.
    let set = (90.0 - f + 0.5).to_radians();
    assert!(is(&row["gap"], S * 0.5_f64.to_radians().sin() / set.cos()), "{row}");
    assert!(row["drops_in"] == false && row["recut"] == "edge_length", "{row}");
}

#[test]
fn marks_near_the_reading_come_with_the_size_that_lands_there() {
    let layout = layouts::find("brace").expect("the brace is a layout");
    let form = layout.forms().iter().find(|f| f.id == "single").expect("single");
    let mut inputs = form.start_inputs(false);
    inputs.set("ends", offsquare_cuts::inputs::Value::Choice("rails"));
    for (key, inches) in [("opening_width", W), ("opening_height", H), ("strip_width", S)] {
        inputs.set(key, offsquare_cuts::inputs::Value::Length(Length(inches)));
    }
    let given = Given { inputs, ..Given::default() };
    let solved = resolve(layout, &given, Detail::Answers, &Steps::default()).solved.remove(0);
    let give = form.fields.iter().find(|f| f.key == "opening_height").expect("a field");
    let saw = SawProfile::usual();
    let marks =
        marks_near(layout, &solved, "reading_deg", give, Marks::Miter(&saw), &Steps::default());
    // 31.596° lies just beside the 31.6° stop: the least change of all.
    let Quantity::Angle(first) = marks[0].target else {
        panic!("a reading is an angle");
    };
    assert_eq!((first.0, marks[0].kind), (31.6, MarkKind::Detent));
    // The stops that half the height or less leads to (22.5° at 69.7 in is too far), then the scale: the nearest half
    // degree, although its 1/2 in is less than what any other stop wants.
    let kinds: Vec<MarkKind> = marks.iter().map(|m| m.kind).collect();
    assert_eq!(kinds.iter().filter(|k| **k == MarkKind::Detent).count(), 4, "{marks:#?}");
    for m in &marks {
        let (Quantity::Angle(target), Quantity::Length(value)) = (m.target, m.value) else {
            panic!("an angle and a length");
        };
        assert!(target.0 <= saw.miter_left.0);
        let f = (90.0 - target.0).to_radians();
        let expected = (W * f.sin() - S) / f.cos();
        assert!((value.0 - expected).abs() < 1e-9 * H.max(value.0), "{target:?} {value:?}");
    }
    let text = marks[0].text.render(&Default::default());
    assert!(text.contains("and the cut drops into the 31.6° stop."), "{text}");
    // 44 − (30 sin 58.4° − 2.5)/cos 58.4° = 0.0062 in: no tape shows it.
    assert!(text.contains("a hair less than 44 in and"), "{text}");
    let change = |m: &offsquare_cuts::backwards::Mark| m.change_in_words(&Default::default());
    assert_eq!(change(&marks[0]), "less than 1/64 in");
    for m in &marks[1..] {
        let text = change(m);
        let bad = ["0 ", "-"].iter().any(|b| text.starts_with(b));
        assert!(!bad && !text.contains("shy") && !text.contains("strong"), "{text}");
    }
    // 1/40 in is 1.6/64 in, in sixteenths "0 strong".
    let mut small = marks[1].clone();
    small.change = Quantity::Length(Length(-0.025));
    assert_eq!(change(&small), "1/32 in less");
    // 31 degrees stands on the scale; the answer reads 31.6.
    let degree = marks.iter().find(|m| m.kind == MarkKind::WholeDegree);
    let text = degree.expect("a whole degree").text.render(&Default::default());
    assert!(text.contains(" and reading is exactly 3"), "{text}");
    let off = if_off(layout, &solved, false, &Steps::default());
    assert!(!off.is_empty());
}
