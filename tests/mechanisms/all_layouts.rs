//! The mechanisms over every form of every layout, from its start sizes.

use crate::door::well_formed;
use offsquare_cuts::inputs::{Inputs, Kind, Value};
use offsquare_cuts::layouts::{self, Detail, Form, Layout};
use offsquare_door::solve_value;
use offsquare_units::{Length, Quantity};
use serde_json::{Map, Value as Json, json as of};

/// A value in inches as the door takes it.
pub fn json(v: &Value) -> Option<Json> {
    in_unit(v, 1.0)
}

fn in_unit(v: &Value, k: f64) -> Option<Json> {
    Some(match v {
        Value::Length(l) => of!(l.0 * k),
        Value::Angle(a) => of!(a.0),
        Value::Number(n) => of!(n),
        Value::Choice(c) => of!(c),
        Value::Choices(all) => of!(all),
        Value::Flag(f) => of!(f),
        Value::Lengths(all) => all.iter().map(|l| of!(l.0 * k)).collect(),
        Value::Angles(all) => all.iter().map(|a| of!(a.0)).collect(),
        Value::Points(all) => all.iter().map(|(x, y)| of!([x.0 * k, y.0 * k])).collect(),
    })
}

fn request(layout: &dyn Layout, form: &Form, inputs: &Inputs, metric: bool) -> Json {
    let k = if metric { 25.4 } else { 1.0 };
    let map: Map<String, Json> =
        inputs.iter().filter_map(|(key, v)| Some((key.to_owned(), in_unit(v, k)?))).collect();
    let unit = if metric { "mm" } else { "in" };
    of!({"id": 1, "layout": layout.id(), "form": form.id, "unit": unit, "inputs": map})
}

fn each_form(mut f: impl FnMut(&'static dyn Layout, &'static Form)) {
    let mut forms = 0;
    for layout in layouts::all() {
        for form in layout.forms() {
            f(*layout, form);
            forms += 1;
        }
    }
    assert!(forms > 0);
}

#[test]
fn every_layout_and_every_key_is_there_once() {
    let once =
        |all: &[&str]| all.iter().collect::<std::collections::BTreeSet<_>>().len() == all.len();
    let ids: Vec<&str> = layouts::all().iter().map(|l| l.id()).collect();
    assert!(once(&ids), "{ids:?}");
    for layout in layouts::all() {
        let forms: Vec<&str> = layout.forms().iter().map(|f| f.id).collect();
        assert!(once(&forms), "{forms:?}");
        for form in layout.forms() {
            let keys: Vec<&str> = form.fields.iter().chain(form.also).map(|f| f.key).collect();
            assert!(once(&keys), "{} {}: {keys:?}", layout.id(), form.id);
            for key in form.gives.iter().chain(form.off.iter().filter_map(|o| o.give.as_ref())) {
                assert!(keys.contains(key), "{} {}: {key} is no field", layout.id(), form.id);
            }
        }
    }
}

fn at<'a>(v: &'a Json, path: &str) -> &'a Json {
    path.split('.').fold(v, |v, step| match step.parse::<usize>() {
        Ok(i) if v.is_array() => &v[i],
        _ => &v[step],
    })
}

#[test]
fn the_first_visit_is_solved_in_inches_and_in_millimeters() {
    each_form(|layout, form| {
        for metric in [false, true] {
            let inputs = form.start_inputs(metric);
            let outcome = layout.solve(&inputs, Detail::Full);
            assert!(
                !outcome.solutions.is_empty(),
                "{} {}: {:?}",
                layout.id(),
                form.id,
                outcome.problems
            );
            for s in &outcome.solutions {
                assert!(!s.headline.is_empty(), "{} {}", layout.id(), form.id);
                for path in &s.headline {
                    assert!(s.answers.quantity(path).is_some(), "{} {path}", layout.id());
                }
                s.answers.each_quantity(&mut |path, q| {
                    let n = number(q);
                    assert!(n.is_finite(), "{} {path}", layout.id());
                });
            }
        }
    });
}

fn number(q: Quantity) -> f64 {
    match q {
        Quantity::Length(l) | Quantity::Figure(l) => l.0,
        Quantity::Area(a) => a.0,
        Quantity::Angle(a) => a.0,
        Quantity::Count(n) | Quantity::Ratio(n) | Quantity::Mass(n) | Quantity::Force(n) => n,
    }
}

/// Each numeric field is worked back from each headline answer as it would be with the field 2 %
/// larger (or smaller): a value must be found that hits the wish when it is put back through the door.
#[test]
fn every_field_is_worked_back_from_every_headline_answer() {
    let mut tried = 0;
    let mut without_bearing = 0;
    each_form(|layout, form| {
        let start = form.start_inputs(false);
        let outcome = layout.solve(&start, Detail::Answers);
        for field in form.fields {
            let scalar = matches!(field.kind, Kind::Length(_) | Kind::Angle(..) | Kind::Number(..));
            let Some(x) =
                start.get(field.key).and_then(Value::scalar).filter(|x| scalar && *x != 0.0)
            else {
                continue;
            };
            for now in &outcome.solutions {
                for path in &now.headline {
                    let wished = [1.02, 0.98].iter().find_map(|k| {
                        let value = match field.kind {
                            Kind::Length(_) => Value::Length(Length(x * k)),
                            Kind::Angle(..) => Value::Angle(offsquare_units::Angle(x * k)),
                            _ => Value::Number(x * k),
                        };
                        if field.check(&value).is_some() {
                            return None;
                        }
                        layout
                            .solve(&start.with(field.key, value), Detail::Answers)
                            .solutions
                            .iter()
                            .find(|s| s.way == now.way)
                            .and_then(|s| s.answers.quantity(path))
                    });
                    let Some(wished) =
                        wished.filter(|q| matches!(q, Quantity::Angle(_) | Quantity::Length(_)))
                    else {
                        continue;
                    };
                    let mut ask = request(layout, form, &start, false);
                    ask["work_back"] = of!({
                        "give": field.key, "answer": path, "target": number(wished), "way": now.way,
                    });
                    let reply = solve_value(&ask);
                    well_formed(&reply);
                    let name = format!("{} {}: {} for {path}", layout.id(), form.id, field.key);
                    let still = now.answers.quantity(path).map(number);
                    if still.is_some_and(|s| (s - number(wished)).abs() < 1e-9) {
                        without_bearing += 1;
                        continue;
                    }
                    tried += 1;
                    let found = reply["solutions"].as_array().expect("an array");
                    assert!(!found.is_empty(), "{name}: {reply}");
                    for s in found {
                        let mut again = ask.clone();
                        again.as_object_mut().map(|m| m.remove("work_back"));
                        again["inputs"] = s["inputs"].clone();
                        let put = solve_value(&again);
                        let hit = put["solutions"].as_array().into_iter().flatten().any(|p| {
                            let y = at(&p["answers"], path).as_f64().unwrap_or(f64::NAN);
                            p["way"] == now.way
                                && (y - number(wished)).abs()
                                    <= 1e-9 * number(wished).abs().max(1.0)
                        });
                        assert!(hit, "{name}: {s} put back gives {put}");
                    }
                }
            }
        }
    });
    assert!(tried > 50, "only {tried} tried, {without_bearing} without bearing");
}

/// The same piece in millimeters: lengths × 25.4, areas × 25.4², all else alike.
#[test]
fn millimeters_give_the_same_piece() {
    each_form(|layout, form| {
        let start = form.start_inputs(false);
        let inches = solve_value(&request(layout, form, &start, false));
        let mm = solve_value(&request(layout, form, &start, true));
        let outcome = layout.solve(&start, Detail::Answers);
        for (i, s) in outcome.solutions.iter().enumerate() {
            let largest = inches["solutions"][i]["answers"].clone();
            let scale = biggest(&largest);
            s.answers.each_quantity(&mut |path, q| {
                let k = match q {
                    Quantity::Length(_) => 25.4,
                    Quantity::Area(_) => 25.4 * 25.4,
                    _ => 1.0,
                };
                let (a, b) = (
                    at(&inches["solutions"][i]["answers"], path).as_f64(),
                    at(&mm["solutions"][i]["answers"], path).as_f64(),
                );
                // Marks and their numerators are rounded to another step in each unit.
                if path.contains("marks.") {
                    return;
                }
                let (Some(a), Some(b)) = (a, b) else {
                    panic!("{} {path} is no number", layout.id());
                };
                assert!(
                    (a * k - b).abs() <= 1e-9 * (scale * k).max(b.abs()).max(1.0),
                    "{} {} {path}: {a} in, {b} mm",
                    layout.id(),
                    form.id
                );
            });
        }
    });
}

fn biggest(v: &Json) -> f64 {
    match v {
        Json::Number(n) => n.as_f64().unwrap_or(0.0).abs(),
        Json::Array(all) => all.iter().map(biggest).fold(0.0, f64::max),
        Json::Object(m) => m.values().map(biggest).fold(0.0, f64::max),
        _ => 0.0,
    }
}

/// A headline answer typed besides the sizes passes when it is what comes out, and contradicts when
/// it is not; each size is then offered with a value that agrees, which is put back.
#[test]
fn a_surplus_answer_agrees_or_contradicts() {
    let mut told = 0;
    each_form(|layout, form| {
        let start = form.start_inputs(false);
        let Some(first) = layout.solve(&start, Detail::Answers).solutions.into_iter().next() else {
            return;
        };
        let Some((path, q)) = first.headline.iter().find_map(|p| {
            let q = first.answers.quantity(p)?;
            let nested = p.contains('.');
            (!nested && matches!(q, Quantity::Length(_) | Quantity::Angle(_))).then_some((*p, q))
        }) else {
            return;
        };
        if form.fields.iter().any(|f| f.key == path) {
            return;
        }
        let mut ask = request(layout, form, &start, false);
        ask["inputs"][path] = of!(number(q));
        let reply = solve_value(&ask);
        let own = |reply: &Json| -> Vec<Json> {
            reply["problems"]
                .as_array()
                .into_iter()
                .flatten()
                .filter(|p| p["by"].is_number() && (p["way"].is_null() || p["way"] == first.way))
                .cloned()
                .collect()
        };
        assert_eq!(own(&reply), Vec::<Json>::new(), "{} {}", layout.id(), form.id);
        ask["inputs"][path] = of!(number(q) * 1.01);
        let reply = solve_value(&ask);
        well_formed(&reply);
        let problems = own(&reply);
        assert_eq!(problems.len(), 1, "{} {}: {reply}", layout.id(), form.id);
        let agree = problems[0]["agree"].as_object().expect("values that agree");
        assert!(agree.contains_key(path));
        for (key, value) in agree.iter().filter(|(k, _)| *k != path) {
            let mut again = ask.clone();
            again["inputs"][key] = value.clone();
            let put = solve_value(&again);
            assert_eq!(own(&put), Vec::<Json>::new(), "{} {}: {key}", layout.id(), form.id);
        }
        told += 1;
    });
    assert!(told > 0);
}

/// The usual saw's advice and *if it's off* for every start: in good order, and every row solved.
#[test]
fn advice_and_off_in_good_order_everywhere() {
    each_form(|layout, form| {
        let start = form.start_inputs(true);
        let mut ask = request(layout, form, &start, true);
        ask["saw"] = of!({});
        ask["off"] = of!(true);
        let reply = solve_value(&ask);
        well_formed(&reply);
        for s in reply["solutions"].as_array().into_iter().flatten() {
            for row in s["off"].as_array().into_iter().flatten() {
                // Every row says something: a gap, or what comes out.
                let says = row["gap"].is_number() || row["change"].is_number();
                assert!(says, "{} {}: {row}", layout.id(), form.id);
            }
            for part in s["saw"]["parts"].as_array().into_iter().flatten() {
                for cut in part["cuts"].as_array().into_iter().flatten() {
                    assert!(cut["set_miter_deg"].is_number() && cut["gap"].is_number(), "{cut}");
                    let can = cut["can_cut"] == true;
                    let ways_out = cut["remedies"].as_array().map_or(0, Vec::len);
                    assert_eq!(can, ways_out == 0, "{cut}");
                }
            }
        }
    });
}
