//! Layouts against solids that a general-purpose geometry kernel built, cut and measured
//! (`tests/oracles/solids/make.py` writes `solids.json`; it imports nothing of ours).

use offsquare_cuts::inputs::{Inputs, Kind, Value as Input};
use offsquare_cuts::layouts::{self, Detail, Solution};
use offsquare_cuts::parts::{Cut, End, Side};
use offsquare_geometry::{Point3, Solid};
use offsquare_units::{Angle, Length};
use serde_json::Value;

fn cases() -> Vec<Value> {
    let table: Value = serde_json::from_str(include_str!("solids.json")).expect("the table");
    let cases = table["cases"].as_array().expect("cases").clone();
    assert!(cases.len() > 100, "{} cases", cases.len());
    cases
}

/// Largest length among the inputs: what a length's slack is a billionth of.
fn size(case: &Value) -> f64 {
    let inputs = case["inputs"].as_object().expect("inputs");
    inputs
        .iter()
        .filter(|(key, _)| !key.ends_with("_deg") && *key != "sides")
        .filter_map(|(_, v)| v.as_f64())
        .fold(0.0, f64::max)
}

fn compare(is: &Value, should: &Value, path: &str, size: f64, case: &Value) {
    match should {
        Value::Object(all) => {
            for (key, value) in all {
                compare(&is[key], value, &format!("{path}.{key}"), size, case);
            }
        }
        Value::Array(all) => {
            for (i, value) in all.iter().enumerate() {
                compare(&is[i], value, &format!("{path}.{i}"), size, case);
            }
        }
        _ => {
            let (Some(is), Some(should)) = (is.as_f64(), should.as_f64()) else {
                panic!("{path}: is {is}, should be {should}\n{case}");
            };
            let slack = match path {
                p if p.ends_with("_deg") => 1e-9,
                p if p.ends_with("area") => 1e-9 * size * size,
                _ => 1e-9 * size,
            };
            assert!((is - should).abs() <= slack, "{path}: is {is}, should be {should}\n{case}");
        }
    }
}

#[test]
fn answers_are_what_the_kernel_measured() {
    for case in cases() {
        let mut request = case.clone();
        request["id"] = Value::from(1);
        let reply = offsquare_layout_tests::asking::solve(&request);
        let stops = reply["problems"].as_array().expect("problems").iter();
        assert_eq!(stops.filter(|p| p["level"] == "stop").count(), 0, "{reply}\n{case}");
        compare(&reply["solutions"][0]["answers"], &case["answers"], "answers", size(&case), &case);
    }
}

/// The solution with parts and solids, of a request whose inputs are numbers and choices.
fn full(case: &Value) -> Solution {
    let layout = layouts::find(case["layout"].as_str().expect("layout")).expect("a layout");
    let form = layout
        .forms()
        .iter()
        .find(|f| case["form"].as_str().is_none_or(|id| id == f.id))
        .expect("a form");
    let mut inputs = Inputs::of_form(form.id);
    for (key, value) in case["inputs"].as_object().expect("inputs") {
        let field = form.fields.iter().find(|f| f.key == key).expect("a field of the form");
        let number = value.as_f64();
        let value = match (field.kind, number) {
            (Kind::Length(_), Some(n)) => Input::Length(Length(n)),
            (Kind::Angle(..), Some(n)) => Input::Angle(Angle(n)),
            (Kind::Choice(all), None) => {
                let chosen = all.iter().find(|c| value == c.key).expect("a choice");
                Input::Choice(chosen.key)
            }
            (_, Some(n)) => Input::Number(n),
            _ => panic!("{key}: {value}"),
        };
        inputs.set(field.key, value);
    }
    let mut outcome = layout.solve(&inputs, Detail::Full);
    assert!(!outcome.solutions.is_empty(), "{case}");
    outcome.solutions.remove(0)
}

fn word(side: Side) -> &'static str {
    match side {
        Side::Left => "left",
        Side::Right => "right",
        Side::Neither => "neither",
    }
}

/// To which side the saw swings and the blade leans, as each part lies: against the kernel's faces.
#[test]
fn parts_swing_and_lean_as_their_end_faces_do() {
    let mut told = 0;
    for case in cases().iter().filter(|c| c["cuts"].is_array()) {
        let solution = full(case);
        let parts = case["cuts"].as_array().expect("cuts");
        assert_eq!(solution.parts.len(), parts.len(), "{case}");
        for (part, ends) in solution.parts.iter().zip(parts) {
            for (end, key) in [(End::Left, "left"), (End::Right, "right")] {
                let cuts: Vec<&Cut> = part.cuts.iter().filter(|c| c.end == end).collect();
                let [cut] = cuts[..] else {
                    panic!("{} {key}: {} cuts\n{case}", part.name, cuts.len())
                };
                let should = &ends[key];
                let what = format!("{} {key}\n{case}", part.name);
                compare(&Value::from(cut.miter.0), &should["mitre_deg"], "mitre_deg", 1.0, case);
                compare(&Value::from(cut.bevel.0), &should["bevel_deg"], "bevel_deg", 1.0, case);
                // A setting of a billionth of a degree has no side.
                if cut.miter.0 > 1e-9 {
                    assert_eq!(word(cut.swing), should["swing"], "swing {what}");
                }
                if cut.bevel.0 > 1e-9 {
                    assert_eq!(word(cut.lean), should["lean"], "lean {what}");
                }
                // The drawn cut line swings as it is said to.
                let run = cut.to.x - cut.from.x;
                if cut.miter.0 > 1e-9 {
                    assert_eq!(run > 0.0, cut.swing == Side::Left, "line {what}");
                }
                told += 1;
            }
        }
    }
    assert!(told > 200, "{told} ends");
}

/// The divergence theorem over flat faces, each taken apart into triangles.
fn volume(solid: &Solid) -> f64 {
    let p = |p: &Point3| *p - Point3::default();
    let six: f64 = solid
        .faces
        .iter()
        .map(|f| (1..f.len() - 1).map(|i| p(&f[0]).dot(p(&f[i]).cross(p(&f[i + 1])))).sum::<f64>())
        .sum();
    six / 6.0
}

/// What the turning view is drawn from is the same wood.
#[test]
fn solids_hold_as_much_wood_as_the_kernel_s() {
    let mut told = 0;
    for case in cases().iter().filter(|c| c["layout"] != "brace") {
        let solids = full(case).solids;
        assert!(!solids.is_empty(), "{case}");
        let is: f64 = solids.iter().map(volume).sum();
        let should = case["volume"].as_f64().expect("volume");
        assert!(
            (is - should).abs() <= 1e-9 * size(case).powi(3),
            "is {is}, should be {should}\n{case}"
        );
        // Faces are flat and look outward: every other corner lies behind each.
        for solid in &solids {
            for face in &solid.faces {
                let n = (face[1] - face[0]).cross(face[2] - face[0]);
                let n = n.unit().expect("a face with an area");
                for corner in solid.faces.iter().flatten() {
                    let ahead = n.dot(*corner - face[0]);
                    assert!(ahead <= 1e-9 * size(case), "{ahead} {case}");
                    let on = face.contains(corner);
                    assert!(!on || ahead.abs() <= 1e-9 * size(case), "{ahead} {case}");
                }
            }
        }
        told += 1;
    }
    assert!(told > 100, "{told}");
}
