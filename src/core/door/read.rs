//! Reading a request: keys, types, units and ranges, all problems at once.

use crate::backwards::Target;
use crate::inputs::{Also, Field, Given, Inputs, Kind, Need, Value as Typed, standing_value};
use crate::layouts::{Form, Layout, Spelling};
use crate::problem::{Level, Problem};
use crate::saw::SawProfile;
use crate::say;
use crate::units::{Angle, DoorUnit};
use serde_json::{Map, Value};

/// Reads the inputs of a request. `form`: the form asked for; none: the one that fits the keys best.
/// Gives nothing where a problem stops it; all problems are pushed.
pub fn read_given(
    layout: &'static dyn Layout,
    form: Option<&str>,
    inputs: &Map<String, Value>,
    unit: DoorUnit,
    problems: &mut Vec<Problem>,
) -> Option<Given> {
    let mut spelling = spelled(layout, inputs);
    let mut stopped = !spelling.problems.is_empty();
    problems.append(&mut spelling.problems);
    let form = match form {
        Some(id) => match layout.forms().iter().find(|f| f.id == id) {
            Some(f) => f,
            None => {
                let ids: Vec<&str> = layout.forms().iter().map(|f| f.id).collect();
                problems.push(Problem::stop(
                    "/form",
                    say![format!("The form is one of: {}.", ids.join(", "))],
                ));
                return None;
            }
        },
        None => best_form(layout.forms(), &spelling)?,
    };
    let mut given = Given {
        inputs: Inputs::of_form(form.id),
        ..Given::default()
    };
    for (key, value, path) in &spelling.entries {
        let own = form.fields.iter().find(|f| f.key == key);
        let other = form.also.iter().find(|f| f.key == key);
        let Some(field) = own.or(other) else {
            problems.push(Problem::stop(path, say![unknown_key(form, key)]));
            stopped = true;
            continue;
        };
        match read_value(field, value, unit, path) {
            Ok(typed) => {
                if let Some(problem) = field.check(&typed) {
                    problems.push(at(path, problem));
                    stopped = true;
                } else if own.is_some() {
                    given.inputs.set(field.key, typed);
                } else {
                    given.also.push(Also {
                        field,
                        value: typed,
                        path: path.clone(),
                        step: None,
                    });
                }
            }
            Err(problem) => {
                problems.push(problem);
                stopped = true;
            }
        }
    }
    for field in form.fields {
        if given.inputs.get(field.key).is_none()
            && let Some(v) = standing_value(field)
        {
            given.inputs.set(field.key, v);
        }
    }
    (!stopped).then_some(given)
}

/// The inputs under the form's own keys.
fn spelled(layout: &'static dyn Layout, inputs: &Map<String, Value>) -> Spelling {
    let mut spelling = Spelling {
        entries: inputs
            .iter()
            .filter(|(_, v)| !v.is_null())
            .map(|(k, v)| (k.clone(), v.clone(), format!("/inputs/{k}")))
            .collect(),
        problems: Vec::new(),
    };
    layout.spelled(&mut spelling);
    spelling
}

/// A layout speaks of its own keys; a problem is found where the size was given, under another
/// spelling perhaps (`/inputs/value`).
pub fn keep_paths(
    layout: &'static dyn Layout,
    inputs: &Map<String, Value>,
    problems: &mut [Problem],
) {
    if problems.is_empty() {
        return;
    }
    for (key, _, path) in spelled(layout, inputs).entries {
        for problem in problems.iter_mut().filter(|p| p.field() == Some(&key)) {
            *problem = at(&path, problem.clone());
        }
    }
}

/// A path inside the field stays; a bare field path becomes the path under which it was given.
fn at(path: &str, problem: Problem) -> Problem {
    let inner = problem
        .path
        .strip_prefix("/inputs/")
        .and_then(|p| p.split_once('/'));
    let path = match inner {
        Some((_, rest)) => format!("{path}/{rest}"),
        None => path.to_owned(),
    };
    Problem {
        path: path.into(),
        ..problem
    }
}

/// Fewest unknown keys, then fewest required fields missing, then the form's place in the list.
fn best_form(forms: &'static [Form], spelling: &Spelling) -> Option<&'static Form> {
    forms.iter().min_by_key(|form| {
        let known = |k: &str| form.fields.iter().chain(form.also).any(|f| f.key == k);
        let unknown = spelling.entries.iter().filter(|e| !known(&e.0)).count();
        let missing = form
            .fields
            .iter()
            .filter(|f| f.need == Need::Required && spelling.get(f.key).is_none())
            .count();
        (unknown, missing)
    })
}

fn unknown_key(form: &Form, key: &str) -> String {
    let names: Vec<&str> = form.fields.iter().map(|f| f.key).collect();
    format!(
        "\u{201c}{key}\u{201d} is not a size of this layout. It takes: {}.",
        names.join(", ")
    )
}

/// One JSON value as the field's type.
pub fn read_value(
    field: &Field,
    value: &Value,
    unit: DoorUnit,
    path: &str,
) -> Result<Typed, Problem> {
    let wrong = |what: &str| Problem::stop(path, say![format!("{} is {what}.", field.label)]);
    let number = |v: &Value| v.as_f64().filter(|n| n.is_finite());
    match field.kind {
        Kind::Length(_) => number(value)
            .map(|n| Typed::Length(unit.length(n)))
            .ok_or_else(|| wrong("a length, given as a plain number")),
        Kind::Angle(..) => number(value)
            .map(|n| Typed::Angle(Angle(n)))
            .ok_or_else(|| wrong("an angle in degrees, given as a plain number")),
        Kind::Count(..) | Kind::Number(..) => number(value)
            .map(Typed::Number)
            .ok_or_else(|| wrong("a plain number")),
        Kind::Choice(all) => value
            .as_str()
            .and_then(|s| all.iter().find(|c| c.key == s))
            .map(|c| Typed::Choice(c.key))
            .ok_or_else(|| Problem::stop(path, say![field.choices_sentence()])),
        Kind::Flag => value
            .as_bool()
            .map(Typed::Flag)
            .ok_or_else(|| wrong("true or false")),
        Kind::Lengths(_) => list(value, |v| number(v).map(|n| unit.length(n)))
            .map(Typed::Lengths)
            .map_err(|i| within(path, i, wrong("a list of lengths, given as plain numbers"))),
        Kind::Angles(..) => list(value, |v| number(v).map(Angle))
            .map(Typed::Angles)
            .map_err(|i| within(path, i, wrong("a list of angles in degrees"))),
        Kind::Points => list(value, |v| match v.as_array().map(Vec::as_slice) {
            Some([x, y]) => Some((unit.length(number(x)?), unit.length(number(y)?))),
            _ => None,
        })
        .map(Typed::Points)
        .map_err(|i| within(path, i, wrong("a list of corners, each [x, y]"))),
    }
}

fn list<T>(value: &Value, each: impl Fn(&Value) -> Option<T>) -> Result<Vec<T>, Option<usize>> {
    let items = value.as_array().ok_or(None)?;
    let mut out = Vec::with_capacity(items.len());
    for (i, v) in items.iter().enumerate() {
        out.push(each(v).ok_or(Some(i))?);
    }
    Ok(out)
}

fn within(path: &str, index: Option<usize>, problem: Problem) -> Problem {
    match index {
        Some(i) => Problem {
            path: format!("{path}/{i}").into(),
            ..problem
        },
        None => problem,
    }
}

/// The saw of a request: the keys of [`SawProfile`], lengths in the request's unit; what is left out
/// is the usual saw's.
pub fn read_saw(value: &Value, unit: DoorUnit, problems: &mut Vec<Problem>) -> Option<SawProfile> {
    let Some(map) = value.as_object() else {
        problems.push(Problem::stop(
            "/saw",
            say!["A saw is an object of its limits; {} is the usual saw."],
        ));
        return None;
    };
    let before = problems.len();
    let mut saw = SawProfile::usual();
    for (key, v) in map {
        let path = format!("/saw/{key}");
        let number = v
            .as_f64()
            .filter(|n| n.is_finite() && *n >= 0.0 && *n <= 1e6);
        let marks = list(v, |m| {
            m.as_f64().filter(|n| (0.0..=90.0).contains(n)).map(Angle)
        });
        let degrees = number.filter(|n| *n <= 90.0).map(Angle);
        let length = number.map(|n| unit.length(n));
        let read = match key.as_str() {
            "miter_left_deg" => degrees.map(|a| saw.miter_left = a),
            "miter_right_deg" => degrees.map(|a| saw.miter_right = a),
            "bevel_left_deg" => degrees.map(|a| saw.bevel_left = a),
            "bevel_right_deg" => degrees.map(|a| saw.bevel_right = a),
            "detents_deg" => marks.ok().map(|m| saw.detents = m),
            "bevel_stops_deg" => marks.ok().map(|m| saw.bevel_stops = m),
            "finest_mark_deg" => degrees.filter(|a| a.0 > 0.0).map(|a| saw.finest_mark = a),
            "kerf" => length.map(|l| {
                saw.kerf = l;
                saw.kerf_assumed = false;
            }),
            "width_square" => length.map(|l| saw.width_square = l),
            "width_at_45" => length.map(|l| saw.width_at_45 = l),
            "height_upright" => length.map(|l| saw.height_upright = l),
            "height_at_45_bevel" => length.map(|l| saw.height_at_45_bevel = l),
            "hold_length" => length.map(|l| saw.hold_length = l),
            "both_readings" => v.as_bool().map(|b| saw.both_readings = b),
            _ => {
                problems.push(Problem::stop(
                    &path,
                    say![format!("\u{201c}{key}\u{201d} is not a limit of a saw.")],
                ));
                continue;
            }
        };
        if read.is_none() {
            problems.push(Problem::stop(
                &path,
                say!["This limit is a plain number, not negative (angles up to 90), a list of marks, or true or false."],
            ));
        }
    }
    (problems.len() == before).then_some(saw)
}

/// `"work_back": {"give", "answer", "target"}`.
pub fn read_work_back(
    layout: &'static dyn Layout,
    given: &Given,
    value: &Value,
    unit: DoorUnit,
    problems: &mut Vec<Problem>,
) -> Option<Target> {
    let form = layout.forms().iter().find(|f| f.id == given.inputs.form)?;
    let before = problems.len();
    let give = value
        .get("give")
        .and_then(Value::as_str)
        .unwrap_or_default();
    let field = form.fields.iter().chain(form.also).find(|f| {
        f.key == give && matches!(f.kind, Kind::Length(_) | Kind::Angle(..) | Kind::Number(..))
    });
    if field.is_none() {
        problems.push(Problem::stop(
            "/work_back/give",
            say!["Name the size that may give: one of this layout's lengths or angles."],
        ));
    }
    let answer = value
        .get("answer")
        .and_then(Value::as_str)
        .unwrap_or_default();
    if answer.is_empty() {
        problems.push(Problem::stop(
            "/work_back/answer",
            say!["Name the answer that should come out."],
        ));
    }
    let target = value
        .get("target")
        .and_then(Value::as_f64)
        .filter(|n| n.is_finite());
    if target.is_none() {
        problems.push(Problem::stop(
            "/work_back/target",
            say!["The target is a plain number."],
        ));
    }
    if problems[before..].iter().any(|p| p.level == Level::Stop) {
        return None;
    }
    Some(Target {
        give: field?,
        answer: answer.to_owned(),
        value: target?,
        metric: unit == DoorUnit::Mm,
        way: None,
    })
}
