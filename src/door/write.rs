//! Writing a reply: quantities become plain numbers in the request's unit; nothing is rounded.

use offsquare_cuts::backwards::OffAnswer;
use offsquare_cuts::inputs::{Inputs, Value as Typed};
use offsquare_cuts::layouts::{Answer, Answers};
use offsquare_cuts::problem::{Level, Mend, Problem};
use offsquare_units::num::Gather;
use offsquare_units::{DoorUnit, MM_PER_INCH, Quantity, Style, Unit};
use serde_json::{Map, Value, json};

/// A number for JSON; a number that is not finite cannot be said and becomes null.
pub(super) fn number(n: f64) -> Value {
    // -0 reads as a bug to a person: it is 0.
    serde_json::Number::from_f64(if n == 0.0 { 0.0 } else { n }).map_or(Value::Null, Value::Number)
}

/// Lengths and areas in the request's unit, angles in degrees, masses in kg, forces in N.
pub fn write_quantity(q: Quantity, unit: DoorUnit) -> Value {
    number(match q {
        Quantity::Length(l) | Quantity::Figure(l) => unit.value(l),
        Quantity::Area(a) if unit == DoorUnit::Mm => a.0 * MM_PER_INCH * MM_PER_INCH,
        Quantity::Area(a) => a.0,
        Quantity::Angle(a) => a.0,
        Quantity::Count(n) | Quantity::Ratio(n) | Quantity::Mass(n) | Quantity::Force(n) => n,
    })
}

/// Answers by their keys, groups as objects in one another.
pub fn write_answers(answers: &Answers, unit: DoorUnit) -> Value {
    let mut out = Map::new();
    for (key, answer) in &answers.0 {
        out.insert(key.to_string(), write_answer(answer, unit));
    }
    Value::Object(out)
}

fn write_answer(answer: &Answer, unit: DoorUnit) -> Value {
    match answer {
        Answer::Quantity(q) => write_quantity(*q, unit),
        Answer::Flag(f) => Value::Bool(*f),
        Answer::Word(w) => (*w).into(),
        Answer::Group(g) => write_answers(g, unit),
        Answer::List(l) => Value::Array(l.iter().map(|a| write_answer(a, unit)).gather()),
        Answer::Nothing => Value::Null,
    }
}

/// Inputs as a request gives them, so that they can be sent again.
pub fn write_inputs(inputs: &Inputs, unit: DoorUnit) -> Value {
    inputs.iter().map(|(key, value)| (key.to_owned(), write_value(value, unit))).collect()
}

fn write_value(value: &Typed, unit: DoorUnit) -> Value {
    match value {
        Typed::Length(l) => number(unit.value(*l)),
        Typed::Angle(a) => number(a.0),
        Typed::Number(n) => number(*n),
        Typed::Choice(c) => (*c).into(),
        Typed::Choices(all) => all.iter().map(|c| Value::from(*c)).collect(),
        Typed::Flag(f) => Value::Bool(*f),
        Typed::Lengths(all) => all.iter().map(|l| number(unit.value(*l))).collect(),
        Typed::Angles(all) => all.iter().map(|a| number(a.0)).collect(),
        Typed::Points(all) => all
            .iter()
            .map(|(x, y)| json!([number(unit.value(*x)), number(unit.value(*y))]))
            .collect(),
    }
}

/// How sentences in a reply say their quantities: in the request's unit.
pub(super) fn style(unit: DoorUnit) -> Style {
    Style::of(match unit {
        DoorUnit::In => Unit::Inch,
        DoorUnit::Mm => Unit::Millimeter,
    })
}

/// A problem with its sentence in the request's unit.
pub fn write_problem(p: &Problem, unit: DoorUnit) -> Value {
    let style = style(unit);
    let mut out = Map::new();
    out.insert("path".into(), p.path.as_ref().into());
    let level = match p.level {
        Level::Stop => "stop",
        Level::Warn => "warn",
    };
    out.insert("level".into(), level.into());
    out.insert("way".into(), p.way.as_deref().map_or(Value::Null, Value::from));
    out.insert("limit".into(), p.limit.map_or(Value::Null, |q| write_quantity(q, unit)));
    out.insert("text".into(), p.text.render(&style).into());
    if let Some(by) = p.by {
        out.insert("by".into(), write_quantity(by, unit));
        let agree: Map<String, Value> =
            p.mends.iter().map(|m| (m.key.to_string(), write_value(&m.to, unit))).collect();
        out.insert("agree".into(), Value::Object(agree));
    } else if !p.mends.is_empty() {
        let one = |m: &Mend| json!({"input": m.key, "value": write_value(&m.to, unit)});
        out.insert("mends".into(), p.mends.iter().map(one).collect());
    }
    Value::Object(out)
}

pub fn write_offs(offs: &[OffAnswer], unit: DoorUnit) -> Value {
    offs.iter()
        .map(|o| {
            json!({
                "answer": o.answer,
                "by": write_quantity(o.by, unit),
                "gap": o.gap.map_or(Value::Null, |g| number(unit.value(g))),
                "opens": o.opens,
                "drops_in": o.drops_in,
                "recut": o.recut.map(|(key, _)| key),
                "recut_to": o.recut.map_or(Value::Null, |(_, to)| number(unit.value(to))),
                "give": o.give,
                "value": o.value.map_or(Value::Null, |v| write_quantity(v, unit)),
                "change": o.change.map_or(Value::Null, |v| write_quantity(v, unit)),
                "text": o.text.render(&style(unit)),
            })
        })
        .collect()
}
