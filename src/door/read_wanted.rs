//! Reading what a request asks for besides solutions: a saw's advice, working back.

use super::names::Names;
use super::read::{list, pointer, raw, strangers};
use offsquare_cuts::backwards::Target;
use offsquare_cuts::inputs::{Given, Kind};
use offsquare_cuts::layouts::Layout;
use offsquare_cuts::problem::{Level, Problem};
use offsquare_cuts::saw::{LAST_STOP, Limit, SawProfile, stops_can_be};
use offsquare_units::num::Gather;
use offsquare_units::{Angle, DoorUnit, Length, say};
use serde_json::Value;

/// The saw of a request: the keys of [`SawProfile`], lengths in the request's unit; what is left out
/// is the usual saw's.
pub fn read_saw(value: &Value, unit: DoorUnit, problems: &mut Vec<Problem>) -> Option<SawProfile> {
    let Some(map) = value.as_object() else {
        problems.push(Problem::stop(
            "/saw",
            say!("A saw is an object of its limits; an empty one is the usual saw."),
        ));
        return None;
    };
    let before = problems.len();
    let mut saw = SawProfile::usual();
    let mut keys: Vec<&String> = map.keys().gather();
    offsquare_units::num::sort_by(&mut keys, |a, b| a.cmp(b));
    for key in keys {
        let v = &map[key];
        let path = format!("/saw/{}", pointer(key));
        if let Some(limit) = Limit::find(key) {
            let inches = |n: f64| if limit.is_angle() { n } else { unit.length(n).0 };
            match v.as_f64().map(inches).filter(|n| limit.takes(*n)) {
                Some(n) => *(limit.of)(&mut saw) = n,
                None => problems.push(out_of_range(&path, limit)),
            }
            saw.kerf_assumed &= limit.key != "kerf";
            continue;
        }
        let marks = || {
            let marks = list(&raw(v), |m| m.number().map(Angle)).ok();
            marks.filter(|m| stops_can_be(m))
        };
        let read = match key.as_str() {
            "detents_deg" => marks().map(|m| saw.detents = m),
            "bevel_stops_deg" => marks().map(|m| saw.bevel_stops = m),
            "both_readings" => v.as_bool().map(|b| saw.both_readings = b),
            _ => {
                problems.push(Problem::warn(
                    &path,
                    say!(format!(
                        "\u{201c}{key}\u{201d} is not a limit of a saw and was left aside."
                    )),
                ));
                continue;
            }
        };
        if read.is_none() {
            let text = say!(
                "This takes a list of marks, from 0 to {}, or true or false.",
                Angle(LAST_STOP)
            );
            problems.push(Problem::stop(&path, text));
        }
    }
    let stopped = problems[before..].iter().any(|p| p.level == Level::Stop);
    (!stopped).then_some(saw)
}

/// A limit that no saw has.
fn out_of_range(path: &str, limit: &Limit) -> Problem {
    let Limit { least, most, .. } = *limit;
    let range = match limit.is_angle() {
        true => say!(format!("from {least} to {most} degrees.")),
        false => say!("more than 0, at most {}.", Length(most)),
    };
    let mut text = say!("This limit of a saw is a plain number, ");
    text.0.extend(range.0);
    Problem::stop(path, text)
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
            say!("Working back takes an object with give, answer and target."),
        ));
        return None;
    };
    problems.extend(strangers(map, &["give", "answer", "target", "way"], "/work_back/"));
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
            say!(format!("Name the size that may give: one of {}.", names.join(", "))),
        ));
    }
    let answer = word("answer");
    if answer.is_empty() {
        problems.push(Problem::stop(
            "/work_back/answer",
            say!("Name the answer that should come out."),
        ));
    }
    let target =
        map.get("target").and_then(Value::as_f64).filter(|n| n.is_finite() && n.abs() <= 1e9);
    if target.is_none() {
        problems.push(Problem::stop(
            "/work_back/target",
            say!("The target is a plain number, a billion at most."),
        ));
    }
    let way = match map.get("way") {
        None | Some(Value::Null) => None,
        Some(Value::String(way)) => Some(way.clone()),
        Some(_) => {
            problems.push(Problem::stop(
                "/work_back/way",
                say!("The way is one of the words under which solutions come."),
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
