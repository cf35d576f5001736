//! Boards for a piece: a plan a stick, as the plan door gives it.

use super::read::Asked;
use crate::plan::plan_value;
use offsquare_cuts::problem::Problem;
use offsquare_units::say;
use offsquare_work::cutlist::PartEnd;
use offsquare_work::solved::{EndCut, PiecePart};
use serde_json::{Map, Value, json};

/// Plans the boards that were asked for. Prices are in cents, here as there.
pub fn answer(
    asked: &Asked,
    parts: &[PiecePart],
    out: &mut Map<String, Value>,
    problems: &mut Vec<Problem>,
) {
    let Some(boards) = asked.boards else { return };
    let mut plans = Vec::new();
    for (stick, stock) in boards {
        let path = format!("/boards/{}", crate::read::pointer(stick));
        let own: Vec<&PiecePart> = parts.iter().filter(|p| p.stick == *stick).collect();
        if own.is_empty() {
            let text = "No part is cut from this stick.";
            problems.push(Problem::warn(&path, say!(text)));
            continue;
        }
        match job(asked, &own, stock) {
            Some(job) => {
                let mut plan = plan_value(&job);
                if let Some(flaws) = plan.get("problems").and_then(Value::as_array) {
                    for flaw in flaws {
                        let (at, text) = (flaw["path"].as_str(), flaw["text"].as_str());
                        let at = format!("{path}{}", at.unwrap_or(""));
                        problems.push(Problem::stop(&at, say!(text.unwrap_or("").to_owned())));
                    }
                }
                plan["stock"] = stick.as_str().into();
                plans.push(plan);
            }
            None => {
                let text = "Boards are an object as the plan door has it.";
                problems.push(Problem::stop(&path, say!(text)));
            }
        }
    }
    out.insert("boards".into(), plans.into());
}

/// One instance of the plan door.
fn job(asked: &Asked, parts: &[&PiecePart], stock: &Value) -> Option<Value> {
    let mut job = stock.as_object()?.clone();
    job.remove("keep_from");
    let kerf = job.get("kerf").and_then(Value::as_f64).unwrap_or(0.0);
    let rectangles = job.get("cut").is_some_and(|c| !c.is_null());
    let value = |l| asked.unit.value(l);
    if !rectangles && !job.contains_key("width") {
        let width = parts.iter().fold(0.0, |w: f64, p| w.max(value(p.seen)));
        job.insert("width".into(), json!(width));
    }
    let told = parts.iter().enumerate().map(|(i, part)| {
        let qty = u64::from(part.qty) * asked.batch;
        // Parts of one name are told apart by their number.
        let again = parts[..i].iter().filter(|p| p.name == part.name).count();
        let id = match again {
            0 => part.name.clone(),
            n => format!("{} {}", part.name, n + 1),
        };
        if rectangles {
            return json!({"id": id, "qty": qty, "length": value(part.length), "width": value(part.seen)});
        }
        let end = |e: &EndCut| PartEnd {
            miter: e.miter,
            bevel: e.bevel.abs(),
            pointed: e.second.is_some() || part.outline.is_some() && e.is_square(),
        };
        let nests = |e: PartEnd| if e.is_plain() { (e.miter, 0.0) } else { (0.0, e.as_square(kerf)) };
        let (left, more_left) = nests(end(&part.left));
        let (right, more_right) = nests(end(&part.right));
        let length = value(part.length) + more_left + more_right;
        json!({"id": id, "qty": qty, "length": length, "left": left, "right": right})
    });
    let told: Vec<Value> = told.collect();
    job.insert("parts".into(), told.into());
    Some(Value::Object(job))
}
