//! The JSON door: requests in, solutions and problems out, by the same types as the screens use.
//!
//! Native programs reach it through the `solve` example, scripts in a browser through a wasm of its own (`script.rs`).

#[cfg(feature = "piece")]
pub mod piece;
pub mod plan;

pub mod keys;
mod names;
mod read;
mod read_wanted;
#[cfg(feature = "script")]
mod script;
mod write;
mod write_saw;

use offsquare_cuts::backwards::{self, Steps};
use offsquare_cuts::inputs::{Given, Inputs};
use offsquare_cuts::layouts;
use offsquare_cuts::problem::{Level, Problem};
use offsquare_cuts::saw::SawProfile;
use offsquare_units::num::Gather;
use offsquare_units::{DoorUnit, say};
use serde_json::{Map, Value, json};

pub use read::read_given;
pub use read_wanted::read_saw;
use read_wanted::read_work_back;
pub use write::{write_answers, write_problem};

/// Answers an array of requests (or a single one) in order; anything else is one problem.
///
/// Example: `[{"id":1,"layout":"brace","unit":"in","inputs":{"opening_width":30,"opening_height":44,
/// "strip_width":2.5,"ends":"rails"}}]` gives one solution whose `reading_deg` is 31.5….
pub fn solve_value(requests: &Value) -> Value {
    match requests {
        Value::Array(all) => Value::Array(all.iter().map(solve_one).gather()),
        other => solve_one(other),
    }
}

/// The bits of every computed number of an array of requests, in order, before a reply
/// says them: in a reply a NaN is null and -0 is 0. For comparing a native build with a wasm one; what
/// is no such array gives none. Not a number is one pattern, as wasm leaves its sign open.
///
/// Example: the brace of `solve_value` gives, somewhere among them, the bits of 31.5….
pub fn answer_bits(requests: &Value) -> Vec<u64> {
    let mut bits = Vec::new();
    for request in requests.as_array().into_iter().flatten() {
        let asked = request.get("inputs").and_then(Value::as_object);
        let layout = request.get("layout").and_then(Value::as_str);
        let (Some(asked), Some(layout)) = (asked, layout.and_then(layouts::find)) else {
            continue;
        };
        let form = request.get("form").and_then(Value::as_str);
        let unit = match request.get("unit").and_then(Value::as_str) {
            Some("mm") => DoorUnit::Mm,
            _ => DoorUnit::In,
        };
        let Some(given) = read_given(layout, form, asked, unit, &mut Vec::new()) else {
            continue;
        };
        for s in backwards::resolve(layout, &given, layouts::Detail::Full, &Steps::default()).solved
        {
            s.solution.answers.each_quantity(&mut |_, q| {
                let n = q.number();
                bits.push(if n.is_nan() { f64::NAN } else { n }.to_bits());
            });
        }
    }
    bits
}

/// Answers one request, with the usual budget.
pub fn solve_one(request: &Value) -> Value {
    solve_within(request, &Steps::default())
}

/// Answers one request with a budget of its own: all that it asks for counts in the same `steps`. Where
/// they do not last, what was found so far stands, and a problem says so.
pub fn solve_within(request: &Value, steps: &Steps) -> Value {
    let id = request.get("id").cloned().unwrap_or(Value::Null);
    let mut solutions = Vec::new();
    let mut problems = Vec::new();
    let unit = answer(request, steps, &mut solutions, &mut problems);
    let problems: Vec<Value> = problems.iter().map(|p| write_problem(p, unit)).gather();
    json!({"id": id, "solutions": solutions, "problems": problems})
}

const REQUEST_KEYS: [&str; 9] =
    ["id", "layout", "form", "unit", "inputs", "work_back", "off", "saw", "name"];

/// What a request asks for besides the solutions.
struct Wanted<'a> {
    saw: Option<SawProfile>,
    target: Option<backwards::Target>,
    off: bool,
    names: names::Names,
    steps: &'a Steps,
}

/// Reads all of the request before anything is solved, so that every problem is told at once.
fn answer(
    request: &Value,
    steps: &Steps,
    solutions: &mut Vec<Value>,
    problems: &mut Vec<Problem>,
) -> DoorUnit {
    let Some(map) = request.as_object() else {
        problems
            .push(Problem::stop("/", say!("A request is an object with layout, unit and inputs.")));
        return DoorUnit::In;
    };
    problems.extend(read::strangers(map, &REQUEST_KEYS, "/"));
    let unit = read_unit(map, problems);
    let layout = map.get("layout").and_then(Value::as_str).and_then(layouts::find);
    if layout.is_none() {
        let names: Vec<&str> = layouts::all().iter().map(|l| l.id()).gather();
        problems.push(Problem::stop(
            "/layout",
            say!(format!("The layout is one of: {}.", names.join(", "))),
        ));
    }
    let form = match map.get("form") {
        None | Some(Value::Null) => None,
        Some(Value::String(form)) => Some(form.as_str()),
        Some(_) => {
            problems.push(Problem::stop("/form", say!("The form is a word.")));
            None
        }
    };
    let off = match map.get("off") {
        None | Some(Value::Null) => false,
        Some(Value::Bool(off)) => *off,
        Some(_) => {
            problems.push(Problem::stop("/off", say!("Off is true or false.")));
            false
        }
    };
    let saw = match map.get("saw") {
        None | Some(Value::Null) => None,
        Some(v) => read_saw(v, unit, problems),
    };
    let empty = Map::new();
    let inputs = match map.get("inputs") {
        Some(Value::Object(inputs)) => Some(inputs),
        None | Some(Value::Null) => Some(&empty),
        Some(_) => {
            problems.push(Problem::stop("/inputs", say!("Inputs are an object of named sizes.")));
            None
        }
    };
    let (Some(layout), Some(inputs)) = (layout, inputs) else {
        return unit;
    };
    let Some(given) = read_given(layout, form, inputs, unit, problems) else {
        return unit;
    };
    let names = names::Names::of(layout, inputs);
    let target = match map.get("work_back") {
        None | Some(Value::Null) => None,
        Some(v) => read_work_back(layout, &given, &names, v, unit, problems),
    };
    if problems.iter().any(|p| p.level == Level::Stop) {
        return unit;
    }
    let wanted = Wanted { saw, target, off, names, steps };
    let before = problems.len();
    reply(layout, &given, &wanted, inputs, unit, solutions, problems);
    wanted.names.in_problems(&mut problems[before..]);
    unit
}

fn read_unit(map: &Map<String, Value>, problems: &mut Vec<Problem>) -> DoorUnit {
    match map.get("unit").map(|u| u.as_str()) {
        Some(Some("in")) => return DoorUnit::In,
        Some(Some("mm")) => return DoorUnit::Mm,
        _ => {}
    }
    problems.push(Problem::stop(
        "/unit",
        say!("The unit is \u{201c}in\u{201d} or \u{201c}mm\u{201d}."),
    ));
    DoorUnit::In
}

fn reply(
    layout: &'static dyn layouts::Layout,
    given: &Given,
    wanted: &Wanted,
    asked: &Map<String, Value>,
    unit: DoorUnit,
    solutions: &mut Vec<Value>,
    problems: &mut Vec<Problem>,
) {
    let found = match &wanted.target {
        Some(target) => backwards::work_back(layout, given, target, wanted.steps),
        None => backwards::resolve(layout, given, layouts::Detail::Full, wanted.steps),
    };
    problems.extend(found.problems);
    let told = wanted.steps.ran_out();
    for s in found.solved {
        if let Err(problem) = s.solution.answers.check_finite("") {
            problems.push(problem.of_way(s.solution.way));
            continue;
        }
        let mut out = Map::new();
        out.insert("way".into(), s.solution.way.into());
        out.insert("answers".into(), write_answers(&s.solution.answers, unit));
        if wanted.target.is_some() || s.inputs != given.inputs {
            let mut found = write::write_inputs(&s.inputs, unit);
            as_given(&mut found, asked, &wanted.names, &s.inputs, &given.inputs);
            out.insert("inputs".into(), found);
        }
        if wanted.off {
            let offs = backwards::if_off(layout, &s, unit == DoorUnit::Mm, wanted.steps);
            out.insert("off".into(), write::write_offs(&offs, unit));
        }
        if let Some(saw) = &wanted.saw {
            let parts = backwards::advise(layout, &s, saw, wanted.steps);
            let all = write_saw::write_saw(&s.solution, &parts, saw, unit);
            out.insert("saw".into(), all);
        }
        solutions.push(Value::Object(out));
    }
    if !told {
        problems.extend(wanted.steps.problem(true));
    }
}

/// What did not change is written as it was given, to the last bit: millimeters go to inches and back
/// with a rounding.
fn as_given(
    out: &mut Value,
    asked: &Map<String, Value>,
    names: &names::Names,
    found: &Inputs,
    given: &Inputs,
) {
    let Some(out) = out.as_object_mut() else {
        return;
    };
    let unchanged: Vec<String> =
        out.keys().filter(|k| found.get(k) == given.get(k)).cloned().gather();
    let before: Vec<&str> = unchanged.iter().map(|k| names.given(k)).gather();
    names.in_inputs(out, asked);
    for (key, value) in out.iter_mut() {
        if let Some(asked) = asked.get(key)
            && before.contains(&key.as_str())
        {
            *value = asked.clone();
        }
    }
}
