//! The JSON door of a whole piece: sizes of a pattern in, parts, where they stand, weight and boards out.

mod boards;
mod parts;
mod placed;
mod price;
mod read;
mod run;

use crate::write::{number, write_answers, write_inputs, write_problem};
use offsquare_cuts::assembly;
use offsquare_cuts::backwards::{self, Solved, Steps};
use offsquare_cuts::facts::Species;
use offsquare_cuts::layouts::Detail;
use offsquare_cuts::problem::{Level, Problem};
use offsquare_geometry::Point3;
use offsquare_units::{DoorUnit, Length, say};
use offsquare_work::price::{decimal, half_up};
use offsquare_work::solved::{Misfit, PiecePart, overridden, weigh};
pub use run::run_value;

use price::AskedPrice;
use read::Asked;
use serde_json::{Map, Value, json};

/// All keys that a request takes, of itself, of its parts, overrides and price.
pub fn request_keys() -> impl Iterator<Item = &'static str> {
    let inner = parts::KEYS.into_iter().chain(parts::OVERRIDE_KEYS).chain(price::KEYS);
    read::KEYS.into_iter().chain(inner)
}

/// Answers one request for a piece; what was not asked for is not in the answer.
///
/// ```
/// let answer = offsquare_door::piece::piece_value(&serde_json::json!({
///     "unit": "in", "pattern": "plain_box",
///     "sizes": {"width": 14, "depth": 9, "height": 8, "thickness": 0.75},
/// }));
/// assert_eq!(answer["sizes"]["inside_width"], 12.5);
/// assert_eq!(answer["extent"], serde_json::json!({"width": 14.0, "depth": 9.0, "height": 8.0}));
/// ```
pub fn piece_value(request: &Value) -> Value {
    let mut problems = Vec::new();
    let mut out = Map::new();
    let mut unit = DoorUnit::In;
    if let Some(asked) = Asked::read(request, &mut unit, &mut problems) {
        answer(&asked, &mut out, &mut problems);
    }
    let told: Vec<Value> = problems.iter().map(|p| write_problem(p, unit)).collect();
    out.insert("problems".into(), told.into());
    Value::Object(out)
}

/// The same for text.
pub fn piece_text(text: &str) -> Value {
    match serde_json::from_str(text) {
        Ok(value) => piece_value(&value),
        Err(e) => {
            let problem = Problem::stop("/", say!(format!("This request cannot be read: {e}.")));
            json!({"problems": [write_problem(&problem, DoorUnit::In)]})
        }
    }
}

fn stopped(problems: &[Problem]) -> bool {
    problems.iter().any(|p| p.level == Level::Stop)
}

fn answer(asked: &Asked, out: &mut Map<String, Value>, problems: &mut Vec<Problem>) {
    if stopped(problems) {
        return;
    }
    let (mut parts, mut as_made) = (Vec::new(), None);
    if let Some(pattern) = &asked.pattern {
        let found = backwards::resolve(
            &pattern.pattern.layout,
            &pattern.given,
            Detail::Full,
            &Steps::default(),
        );
        problems.extend(found.problems.into_iter().map(|p| pattern.told(p)));
        let Some(solved) = found.solved.into_iter().next() else {
            return;
        };
        if let Err(problem) = solved.solution.answers.check_finite("") {
            problems.push(pattern.told(problem));
            return;
        }
        out.insert("sizes".into(), sizes(asked, &solved));
        as_made = assembly::extent(solved.solution.members.iter().flat_map(|m| &m.bodies));
        let made = solved.solution.parts.iter().zip(&solved.solution.members);
        parts.extend(made.map(|(part, member)| PiecePart::of(part, member)));
    }
    let (mut parts, misfits) = overridden(parts, &asked.overrides);
    parts.retain(|p| p.qty > 0);
    let path = |m: &Misfit| format!("/overrides/{}/{}", m.change, m.key);
    problems.extend(misfits.into_iter().map(|m| Problem::warn(&path(&m), m.text)));
    // Where nothing is left that can be shown, the piece is as large as its pattern has it.
    let around = assembly::extent(parts.iter().flat_map(|p| &p.bodies)).or(as_made);
    out.extend(around.map(|around| extent(around, asked.unit)));
    parts.extend(asked.typed.iter().cloned());
    let told = asked.pattern.is_some() || !asked.typed.is_empty();
    let surface = told.then(|| told_of_parts(asked, &parts, out));
    let pieces = asked.price.as_ref().map_or(1, |p| p.batch.pieces);
    let planned = boards::plan(asked, &parts, pieces, problems);
    if let Some(planned) = &planned {
        out.insert("boards".into(), planned.plans.clone().into());
        out.insert("run".into(), run::run_value(&planned.sticks, &asked.saw, asked.unit));
        if let Some(wood) = &planned.wood {
            out.insert("wood_bought".into(), price::cents(&half_up(&wood.bought)));
            out.insert("wood_kept".into(), price::cents(&half_up(&wood.kept)));
        }
    }
    if let Some(wanted) = &asked.price {
        let mut batch = wanted.batch.clone();
        batch.wood = batch.wood.or(planned.map(|p| p.wood));
        for finish in batch.finish.iter_mut().flatten() {
            finish.area = finish.area.take().or_else(|| surface.and_then(decimal));
        }
        let own = AskedPrice { batch, selling: wanted.selling.clone(), by_hand: wanted.by_hand };
        let wood_of = |n: u64| boards::plan(asked, &parts, n, &mut Vec::new()).map(|p| p.wood);
        out.insert("price".into(), price::write(&own, &wood_of));
    }
}

fn extent((low, high): (Point3, Point3), unit: DoorUnit) -> (String, Value) {
    let over = |a: f64, b: f64| number(unit.value(Length(b - a)));
    let told = json!({
        "width": over(low.x, high.x),
        "depth": over(low.y, high.y),
        "height": over(low.z, high.z),
    });
    ("extent".to_owned(), told)
}

/// Parts, where they stand, and what they weigh; gives their surface in square meters.
fn told_of_parts(asked: &Asked, parts: &[PiecePart], out: &mut Map<String, Value>) -> f64 {
    let unit = asked.unit;
    out.insert("parts".into(), parts.iter().map(|p| parts::write(p, unit)).collect());
    out.insert("placed".into(), placed::write(parts, unit));
    let species = |part: &PiecePart| asked.stock(&part.stick).and_then(|s| s.species);
    let weighed = weigh(parts, &|p| species(p).map(|s: Species| s.kg_per_m3()));
    if let Some(kg) = weighed.kg {
        out.insert("weight_kg".into(), number(kg));
    }
    out.insert("surface_m2".into(), number(weighed.surface_m2));
    if let Some(at) = weighed.middle {
        out.insert("centre_of_mass".into(), placed::point(at, unit));
    }
    weighed.surface_m2
}

/// Every size: given ones as they were given, started and found ones besides, and what follows from them.
fn sizes(asked: &Asked, solved: &Solved) -> Value {
    let unit = asked.unit;
    let mut out = match write_answers(&solved.solution.answers, unit) {
        Value::Object(answers) => answers,
        _ => Map::new(),
    };
    if let Value::Object(inputs) = write_inputs(&solved.inputs, unit) {
        for (key, value) in inputs {
            let as_given = asked.pattern.as_ref().and_then(|p| p.as_given(&key, &solved.inputs));
            out.insert(key, as_given.unwrap_or(value));
        }
    }
    Value::Object(out)
}
