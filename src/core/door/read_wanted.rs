//! Reading what a request asks for besides solutions: a saw's advice, working back.

use super::names::Names;
use super::read::{list, pointer};
use crate::backwards::Target;
use crate::inputs::{Given, Kind};
use crate::layouts::Layout;
use crate::num::Gather;
use crate::problem::{Level, Problem};
use crate::saw::SawProfile;
use crate::say;
use crate::units::{Angle, DoorUnit};
use serde_json::Value;

/// The saw of a request: the keys of [`SawProfile`], lengths in the request's unit; what is left out
/// is the usual saw's.
pub fn read_saw(value: &Value, unit: DoorUnit, problems: &mut Vec<Problem>) -> Option<SawProfile> {
    let Some(map) = value.as_object() else {
        problems.push(Problem::stop(
            "/saw",
            say!["A saw is an object of its limits; an empty one is the usual saw."],
        ));
        return None;
    };
    let before = problems.len();
    let mut saw = SawProfile::usual();
    for (key, v) in map {
        let path = format!("/saw/{}", pointer(key));
        let number = v.as_f64().filter(|n| n.is_finite() && *n >= 0.0 && *n <= 1e6);
        let marks = list(v, |m| m.as_f64().filter(|n| (0.0..=90.0).contains(n)).map(Angle));
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
                problems.push(Problem::warn(
                    &path,
                    say![format!(
                        "\u{201c}{key}\u{201d} is not a limit of a saw and was left aside."
                    )],
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
    let stopped = problems[before..].iter().any(|p| p.level == Level::Stop);
    (!stopped).then_some(saw)
}

/// `"work_back": {"give", "answer", "target"}` and, where only one way is meant, `"way"`.
pub(super) fn read_work_back(
    layout: &'static dyn Layout,
    given: &Given,
    names: &Names,
    value: &Value,
    unit: DoorUnit,
    problems: &mut Vec<Problem>,
) -> Option<Target> {
    let form = layout.forms().iter().find(|f| f.id == given.inputs.form)?;
    let before = problems.len();
    let Some(map) = value.as_object() else {
        problems.push(Problem::stop(
            "/work_back",
            say!["Working back takes an object with give, answer and target."],
        ));
        return None;
    };
    for key in map.keys() {
        if !["give", "answer", "target", "way"].contains(&key.as_str()) {
            problems.push(Problem::warn(
                &format!("/work_back/{}", pointer(key)),
                say![format!("\u{201c}{key}\u{201d} is not known here and was left aside.")],
            ));
        }
    }
    let word = |key: &str| map.get(key).and_then(Value::as_str).unwrap_or_default();
    let can_give = || {
        form.fields
            .iter()
            .chain(form.also)
            .filter(|f| matches!(f.kind, Kind::Length(_) | Kind::Angle(..) | Kind::Number(..)))
    };
    let field = can_give().find(|f| f.key == names.own(word("give")));
    if field.is_none() {
        let names: Vec<&str> = can_give().map(|f| f.key).gather();
        problems.push(Problem::stop(
            "/work_back/give",
            say![format!("Name the size that may give: one of {}.", names.join(", "))],
        ));
    }
    let answer = word("answer");
    if answer.is_empty() {
        problems.push(Problem::stop(
            "/work_back/answer",
            say!["Name the answer that should come out."],
        ));
    }
    let target =
        map.get("target").and_then(Value::as_f64).filter(|n| n.is_finite() && n.abs() <= 1e9);
    if target.is_none() {
        problems.push(Problem::stop(
            "/work_back/target",
            say!["The target is a plain number, a billion at most."],
        ));
    }
    let way = match map.get("way") {
        None | Some(Value::Null) => None,
        Some(Value::String(way)) => Some(way.clone()),
        Some(_) => {
            problems.push(Problem::stop(
                "/work_back/way",
                say!["The way is one of the words under which solutions come."],
            ));
            None
        }
    };
    if problems[before..].iter().any(|p| p.level == Level::Stop) {
        return None;
    }
    Some(Target {
        give: field?,
        answer: answer.to_owned(),
        value: target?,
        metric: unit == DoorUnit::Mm,
        way,
    })
}
