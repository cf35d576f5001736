//! Reading a request: keys, types, units and ranges, all problems at once.

use offsquare_cuts::inputs::{
    Also, Field, Given, Inputs, Kind, LONGEST, Need, Value as Typed, standing_value,
};
use offsquare_cuts::layouts::{Detail, Form, Layout, Raw, Solution, Spelling};
use offsquare_cuts::problem::Problem;
use offsquare_units::num::{Gather, sort_by};
use offsquare_units::{Angle, DoorUnit, Quantity, say};
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
                let ids: Vec<&str> = layout.forms().iter().map(|f| f.id).gather();
                problems.push(Problem::stop(
                    "/form",
                    say!(format!("The form is one of: {}.", ids.join(", "))),
                ));
                return None;
            }
        },
        None => best_form(layout.forms(), &spelling)?,
    };
    // Read in the form's own order, so that nothing hangs on the order in which they were given.
    let rank = |key: &str| {
        form.fields.iter().chain(form.also).position(|f| f.key == key).unwrap_or(usize::MAX)
    };
    let mut order: Vec<(usize, usize)> =
        spelling.entries.iter().map(|e| rank(&e.0)).zip(0..).gather();
    sort_by(&mut order, |a, b| a.cmp(b));
    let mut given = Given { inputs: Inputs::of_form(form.id), ..Given::default() };
    let mut strange = Vec::new();
    for (_, at_entry) in order {
        let (key, value, path) = &spelling.entries[at_entry];
        let own = form.fields.iter().find(|f| f.key == key);
        let other = form.also.iter().find(|f| f.key == key);
        let Some(field) = own.or(other) else {
            strange.push((key, value, path));
            continue;
        };
        match read_value(field, value, unit, path) {
            Ok(typed) => {
                if let Some(problem) = field.check(&typed) {
                    problems.push(at(path, problem));
                    stopped = true;
                } else if let Some(problem) = twice(&given, field, &typed, path) {
                    problems.push(problem);
                    stopped = true;
                } else if own.is_some() {
                    given.inputs.set(field.key, typed);
                } else if given.also.iter().all(|a| a.key != field.key) {
                    given.also.push(Also::of(field, typed, path.clone(), None));
                }
            }
            Err(problem) => {
                problems.push(problem);
                stopped = true;
            }
        }
    }
    let mut inputs = Inputs::of_form(form.id);
    for field in form.fields {
        let read = given.inputs.get(field.key).cloned();
        let left_out = spelling.get(field.key).is_none();
        if let Some(v) = read.or_else(|| standing_value(field).filter(|_| left_out)) {
            inputs.set(field.key, v);
        }
    }
    given.inputs = inputs;
    let mut like = None;
    for (key, value, path) in strange {
        let like = like.get_or_insert_with(|| usual(layout, form, &given, unit));
        match typed_answer(like, key, value, unit, path) {
            Some(also) => given.also.push(also),
            None => problems.push(Problem::warn(path, say!(unknown_key(form, key)))),
        }
    }
    if stopped {
        problems.extend(left_out(form, &spelling, given.also.len() + spelling.lost));
        return None;
    }
    Some(given)
}

/// What the layout answers to what was given; what is missing counts as at its start.
fn usual(
    layout: &'static dyn Layout,
    form: &'static Form,
    given: &Given,
    unit: DoorUnit,
) -> Vec<Solution> {
    let mut filled = form.start_inputs(unit == DoorUnit::Mm);
    for (k, v) in given.inputs.iter() {
        filled.set(k, v.clone());
    }
    layout.solve(&filled, Detail::Answers).solutions
}

/// A key that is no field of the form but names an answer: that answer, given as a size. An input has
/// the name that its answer would have, in every layout; `like` are the answers.
fn typed_answer(
    like: &[Solution],
    key: &str,
    value: &Raw,
    unit: DoorUnit,
    path: &str,
) -> Option<Also> {
    let n = value.number().filter(|n| n.is_finite() && n.abs() <= unit.value(LONGEST))?;
    let like = like.iter().find_map(|s| s.answers.quantity(key))?;
    let value = match like {
        Quantity::Length(_) => Typed::Length(unit.length(n)),
        Quantity::Angle(_) => Typed::Angle(Angle(n)),
        _ => return None,
    };
    Some(Also {
        key: key.to_owned().into(),
        label: offsquare_cuts::layouts::answer_words(key).into(),
        value,
        path: path.to_owned(),
        step: None,
    })
}

/// Required fields that were not given at all: said together with what else is wrong. Answers that
/// were given may stand in for as many of them.
fn left_out(form: &Form, spelling: &Spelling, stand_ins: usize) -> Vec<Problem> {
    let missing: Vec<Problem> = form
        .fields
        .iter()
        .filter(|f| f.need == Need::Required && spelling.get(f.key).is_none())
        .map(|f| Problem::stop(f.key, say!(format!("{}: missing, type it in.", f.label))))
        .gather();
    if missing.len() > stand_ins { missing } else { Vec::new() }
}

/// One size given under two spellings with two values.
fn twice(given: &Given, field: &Field, value: &Typed, path: &str) -> Option<Problem> {
    let also = given.also.iter().find(|a| a.key == field.key);
    let before = given.inputs.get(field.key).or_else(|| also.map(|a| &a.value))?;
    (before != value).then(|| {
        Problem::stop(path, say!(format!("{} is given twice, with different values.", field.label)))
    })
}

/// Keys that are not known here, by their letters: one warning each.
pub(super) fn strangers(map: &Map<String, Value>, known: &[&str], path: &str) -> Vec<Problem> {
    let mut keys: Vec<&String> = map.keys().filter(|k| !known.contains(&k.as_str())).gather();
    sort_by(&mut keys, |a, b| a.cmp(b));
    let said = |key: &&String| {
        let text = say!(format!("\u{201c}{key}\u{201d} is not known here and was left aside."));
        Problem::warn(&[path, &pointer(key)].concat(), text)
    };
    keys.iter().map(said).gather()
}

/// A key as a step of a JSON pointer (RFC 6901: ~ is ~0, / is ~1).
pub(super) fn pointer(key: &str) -> String {
    key.replace('~', "~0").replace('/', "~1")
}

/// The inputs under the form's own keys.
pub(super) fn spelled(layout: &'static dyn Layout, inputs: &Map<String, Value>) -> Spelling {
    let mut spelling = Spelling {
        entries: inputs
            .iter()
            .filter(|(_, v)| !v.is_null())
            .map(|(k, v)| (k.clone(), raw(v), format!("/inputs/{}", pointer(k))))
            .gather(),
        ..Spelling::default()
    };
    layout.spelled(&mut spelling);
    sort_by(&mut spelling.entries, |a, b| (&a.0, &a.2).cmp(&(&b.0, &b.2)));
    spelling
}

/// A path inside the field stays; a bare field path becomes the path under which it was given.
fn at(path: &str, problem: Problem) -> Problem {
    let inner = problem.path.strip_prefix("/inputs/").and_then(|p| p.split_once('/'));
    let path = match inner {
        Some((_, rest)) => format!("{path}/{rest}"),
        None => path.to_owned(),
    };
    Problem { path: path.into(), ..problem }
}

/// Fewest unknown keys, then the size that the request itself calls given as one of the form's own, then
/// fewest required fields missing, then the form's place in the list.
fn best_form(forms: &'static [Form], spelling: &Spelling) -> Option<&'static Form> {
    forms.iter().min_by_key(|form| {
        let known = |k: &str| form.fields.iter().chain(form.also).any(|f| f.key == k);
        let unknown = spelling.entries.iter().filter(|e| !known(&e.0)).count();
        let own = |k: &str| form.fields.iter().any(|f| f.key == k);
        let foreign = spelling.entries.iter().any(|e| e.2 == "/inputs/value" && !own(&e.0));
        let missing = form
            .fields
            .iter()
            .filter(|f| f.need == Need::Required && spelling.get(f.key).is_none())
            .count();
        let stand_ins =
            spelling.entries.iter().filter(|e| form.also.iter().any(|f| f.key == e.0)).count();
        (unknown, foreign, missing.saturating_sub(stand_ins), missing)
    })
}

fn unknown_key(form: &Form, key: &str) -> String {
    let names: Vec<&str> = form.fields.iter().map(|f| f.key).gather();
    format!("\u{201c}{key}\u{201d} is not a size of this layout. It takes: {}.", names.join(", "))
}

/// What a request says, without saying it in JSON.
pub(super) fn raw(value: &Value) -> Raw {
    match value {
        Value::Number(n) => n.as_f64().map_or(Raw::Other, Raw::Number),
        Value::String(word) => Raw::Word(word.clone()),
        Value::Bool(flag) => Raw::Flag(*flag),
        Value::Array(all) => Raw::List(all.iter().map(raw).gather()),
        Value::Null | Value::Object(_) => Raw::Other,
    }
}

/// One value as the field's type.
fn read_value(field: &Field, value: &Raw, unit: DoorUnit, path: &str) -> Result<Typed, Problem> {
    let wrong = |what: &str| Problem::stop(path, say!(format!("{} is {what}.", field.label)));
    let number = |v: &Raw| v.number().filter(|n| n.is_finite());
    match field.kind {
        Kind::Length(_) => number(value)
            .map(|n| Typed::Length(unit.length(n)))
            .ok_or_else(|| wrong("a length, given as a plain number")),
        Kind::Angle(..) => number(value)
            .map(|n| Typed::Angle(Angle(n)))
            .ok_or_else(|| wrong("an angle in degrees, given as a plain number")),
        Kind::Count(..) | Kind::Number(..) | Kind::Mass(_) => {
            number(value).map(Typed::Number).ok_or_else(|| wrong("a plain number"))
        }
        Kind::Choice(all) => value
            .word()
            .and_then(|s| all.iter().find(|c| c.key == s))
            .map(|c| Typed::Choice(c.key))
            .ok_or_else(|| Problem::stop(path, say!(field.choices_sentence()))),
        Kind::Choices(all) => {
            let picked = |v: &Raw| {
                let name = v.word()?;
                all.iter().find(|c| c.key == name).map(|c| c.key)
            };
            let one = picked(value).map(|c| vec![c]).ok_or(None);
            one.or_else(|_: Option<usize>| list(value, picked))
                .map(Typed::Choices)
                .map_err(|i| within(path, i, Problem::stop(path, say!(field.choices_sentence()))))
        }
        Kind::Flag => match value {
            Raw::Flag(flag) => Ok(Typed::Flag(*flag)),
            _ => Err(wrong("true or false")),
        },
        Kind::Lengths(_) => list(value, |v| number(v).map(|n| unit.length(n)))
            .map(Typed::Lengths)
            .map_err(|i| within(path, i, wrong("a list of lengths, given as plain numbers"))),
        Kind::Angles(..) => list(value, |v| number(v).map(Angle))
            .map(Typed::Angles)
            .map_err(|i| within(path, i, wrong("a list of angles in degrees"))),
        Kind::Points => list(value, |v| match v.list() {
            Some([x, y]) => Some((unit.length(number(x)?), unit.length(number(y)?))),
            _ => None,
        })
        .map(Typed::Points)
        .map_err(|i| within(path, i, wrong("a list of corners, each [x, y]"))),
    }
}

pub(super) fn list<T>(
    value: &Raw,
    each: impl Fn(&Raw) -> Option<T>,
) -> Result<Vec<T>, Option<usize>> {
    let items = value.list().ok_or(None)?;
    let mut out = Vec::with_capacity(items.len());
    for (i, v) in items.iter().enumerate() {
        out.push(each(v).ok_or(Some(i))?);
    }
    Ok(out)
}

fn within(path: &str, index: Option<usize>, problem: Problem) -> Problem {
    match index {
        Some(i) => Problem { path: format!("{path}/{i}").into(), ..problem },
        None => problem,
    }
}
