//! The JSON door: requests in, solutions and problems out, by the same types as the screens use.
//!
//! Native programs reach it through the `solve` example, scripts in a browser through `solve()`.

mod read;
mod write;

use crate::backwards;
use crate::layouts;
use crate::problem::{Level, Problem};
use crate::saw::SawProfile;
use crate::say;
use crate::units::DoorUnit;
use serde_json::{Map, Value, json};

pub use read::{read_given, read_saw};
pub use write::{write_answers, write_problem};

/// Answers an array of requests (or a single one) in order; anything else is one problem.
///
/// Example: `[{"id":1,"layout":"brace","unit":"in","inputs":{"opening_width":30,"opening_height":44,
/// "strip_width":2.5,"ends":"rails"}}]` gives one solution whose `reading_deg` is 31.5….
pub fn solve_value(requests: &Value) -> Value {
    match requests {
        Value::Array(all) => Value::Array(all.iter().map(solve_one).collect()),
        other => solve_one(other),
    }
}

/// Answers one request.
pub fn solve_one(request: &Value) -> Value {
    let id = request.get("id").cloned().unwrap_or(Value::Null);
    let mut solutions = Vec::new();
    let mut problems = Vec::new();
    let unit = answer(request, &mut solutions, &mut problems);
    let problems: Vec<Value> = problems.iter().map(|p| write_problem(p, unit)).collect();
    json!({"id": id, "solutions": solutions, "problems": problems})
}

const REQUEST_KEYS: [&str; 9] = [
    "id",
    "layout",
    "form",
    "unit",
    "inputs",
    "work_back",
    "off",
    "saw",
    "name",
];

fn answer(request: &Value, solutions: &mut Vec<Value>, problems: &mut Vec<Problem>) -> DoorUnit {
    let mut unit = DoorUnit::In;
    let Some(map) = request.as_object() else {
        problems.push(Problem::stop(
            "/",
            say!["A request is an object with layout, unit and inputs."],
        ));
        return unit;
    };
    for key in map.keys().filter(|k| !REQUEST_KEYS.contains(&k.as_str())) {
        problems.push(Problem::warn(
            &format!("/{key}"),
            say![format!(
                "\u{201c}{key}\u{201d} is not known here and was left aside."
            )],
        ));
    }
    match map.get("unit").map(|u| u.as_str()) {
        Some(Some("in")) => {}
        Some(Some("mm")) => unit = DoorUnit::Mm,
        _ => problems.push(Problem::stop(
            "/unit",
            say!["The unit is \u{201c}in\u{201d} or \u{201c}mm\u{201d}."],
        )),
    }
    let layout = map
        .get("layout")
        .and_then(Value::as_str)
        .and_then(layouts::find);
    if layout.is_none() {
        let names: Vec<&str> = layouts::all().iter().map(|l| l.id()).collect();
        problems.push(Problem::stop(
            "/layout",
            say![format!("The layout is one of: {}.", names.join(", "))],
        ));
    }
    let empty = Map::new();
    let inputs = match map.get("inputs") {
        Some(Value::Object(inputs)) => inputs,
        None => &empty,
        Some(_) => {
            problems.push(Problem::stop(
                "/inputs",
                say!["Inputs are an object of named sizes."],
            ));
            return unit;
        }
    };
    let Some(layout) = layout else { return unit };
    let form = map.get("form").and_then(Value::as_str);
    let given = read_given(layout, form, inputs, unit, problems);
    if problems.iter().any(|p| p.level == Level::Stop) {
        return unit;
    }
    let Some(given) = given else { return unit };
    let saw = match map.get("saw") {
        Some(v) => match read_saw(v, unit, problems) {
            Some(saw) => Some(saw),
            None => return unit,
        },
        None => None,
    };
    let target = match map.get("work_back") {
        Some(v) => match read::read_work_back(layout, &given, v, unit, problems) {
            Some(t) => Some(t),
            None => return unit,
        },
        None => None,
    };
    let off = map.get("off") == Some(&Value::Bool(true));
    let before = problems.len();
    reply(
        layout,
        &given,
        saw.as_ref(),
        target.as_ref(),
        off,
        unit,
        solutions,
        problems,
    );
    read::keep_paths(layout, inputs, &mut problems[before..]);
    unit
}

#[allow(clippy::too_many_arguments)]
fn reply(
    layout: &'static dyn layouts::Layout,
    given: &crate::inputs::Given,
    saw: Option<&SawProfile>,
    target: Option<&backwards::Target>,
    off: bool,
    unit: DoorUnit,
    solutions: &mut Vec<Value>,
    problems: &mut Vec<Problem>,
) {
    let found = match target {
        Some(target) => backwards::work_back(layout, given, target),
        None => backwards::resolve(layout, given, layouts::Detail::Full),
    };
    problems.extend(found.problems);
    for s in found.solved {
        let mut out = Map::new();
        out.insert("way".into(), s.solution.way.into());
        out.insert("answers".into(), write_answers(&s.solution.answers, unit));
        if target.is_some() || s.inputs != given.inputs {
            out.insert("inputs".into(), write::write_inputs(&s.inputs, unit));
        }
        if off {
            out.insert(
                "off".into(),
                write::write_offs(&backwards::if_off(layout, &s, unit == DoorUnit::Mm), unit),
            );
        }
        if let Some(saw) = saw {
            out.insert("saw".into(), write::write_advice(layout, &s, saw, unit));
        }
        solutions.push(Value::Object(out));
    }
}
