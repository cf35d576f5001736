//! Boards for a piece: a plan a stick, as the plan door gives it.

use super::read::Asked;
use crate::plan::{plan_value, read, write};
use num_traits::Zero;
use offsquare_cuts::parts::End;
use offsquare_cuts::problem::Problem;
use offsquare_planner::outcome::PlanAnswer;
use offsquare_planner::planner::Planner;
use offsquare_units::{DoorUnit, Length, Ticks, num, say};
use offsquare_work::price::{Exact, Wood, decimal};
use offsquare_work::run::{BoardEnd, StickPart, StickPlan, shorter_first};
use offsquare_work::solved::PiecePart;
use serde_json::{Value, json};

/// The plans of all stocks, and the wood of them: none where one of them has no plan.
pub struct Planned {
    pub plans: Vec<Value>,
    pub wood: Option<Wood>,
    /// Those of sticks, as they are cut.
    pub sticks: Vec<StickPlan>,
}

/// Plans the boards that were asked for, for a number of pieces; none where no boards were asked for.
/// Prices are in cents, here as there.
pub fn plan(
    asked: &Asked,
    parts: &[PiecePart],
    pieces: u64,
    problems: &mut Vec<Problem>,
) -> Option<Planned> {
    let mut out = Planned {
        plans: Vec::new(),
        wood: Some(Wood { bought: Exact::zero(), kept: Exact::zero() }),
        sticks: Vec::new(),
    };
    for (stick, stock) in asked.boards? {
        let path = format!("/boards/{}", crate::read::pointer(stick));
        let own = own_parts(parts, stick, pieces);
        if own.is_empty() {
            let text = "No part is cut from this stick.";
            problems.push(Problem::warn(&path, say!(text)));
            continue;
        }
        let Some(job) = job(asked, &own, stock, pieces) else {
            let text = "Boards are an object as the plan door has it.";
            problems.push(Problem::stop(&path, say!(text)));
            out.wood = None;
            continue;
        };
        let keep = &stock["keep_from"];
        if !keep.is_null() && keep.as_f64().is_none_or(|from| from < 0.0) {
            let problem =
                Problem::stop(&format!("{path}/keep_from"), say!("This is a length, 0 or more."));
            problems.push(problem.with_limit(Length(0.0)));
        }
        let (mut plan, cut) = planned(stick, &job, &own);
        out.sticks.extend(cut);
        for flaw in plan["problems"].as_array().into_iter().flatten() {
            let (at, text) = (flaw["path"].as_str(), flaw["text"].as_str());
            // Parts are not in this part of the request.
            let at = at.filter(|at| !at.starts_with("/parts"));
            let at = format!("{path}{}", at.unwrap_or(""));
            problems.push(Problem::stop(&at, say!(text.unwrap_or("").to_owned())));
        }
        out.wood = out
            .wood
            .zip(wood(asked, &job, stock, &plan))
            .map(|(sum, own)| Wood { bought: sum.bought + own.bought, kept: sum.kept + own.kept });
        plan["stock"] = stick.as_str().into();
        out.plans.push(plan);
    }
    Some(out)
}

/// The parts of a stick, each with the number of its first single part among all of its name.
fn own_parts(parts: &[PiecePart], stick: &str, pieces: u64) -> Vec<StickPart> {
    let before = |i: usize, p: &PiecePart| {
        let named = parts[..i].iter().filter(|q| q.name == p.name);
        named.map(|q| u64::from(q.qty) * pieces).sum()
    };
    let all = parts.iter().enumerate().filter(|(_, p)| p.stick == stick);
    all.map(|(i, p)| StickPart { part: p.clone(), first: before(i, p) }).collect()
}

/// The plan of one job; of sticks, each board's shorter parts first, and what is cut.
fn planned(stick: &str, job: &Value, own: &[StickPart]) -> (Value, Option<StickPlan>) {
    let sticks = job.get("cut").is_none_or(Value::is_null).then(|| read(job));
    let Some(Ok(instance)) = sticks else {
        return (plan_value(job), None);
    };
    let mut answer = Planner::new(instance.clone()).all();
    let boards = match &mut answer {
        PlanAnswer::Plan(plan) => {
            shorter_first(&instance, own, &mut plan.boards);
            Some(plan.boards.clone())
        }
        _ => None,
    };
    let value = write(&instance, &answer);
    let cut = boards.map(|boards| StickPlan::new(stick.to_owned(), instance, boards, own.to_vec()));
    (value, cut)
}

/// What a plan's boards cost, and what its leftovers are worth that are kept: of a stick's board its price
/// times the leftover, rounded down to a tick, over its length. Of ripped boards and sheets nothing is kept.
fn wood(asked: &Asked, job: &Value, stock: &Value, plan: &Value) -> Option<Wood> {
    let named = |list: &str, id: &Value| {
        job[list].as_array().into_iter().flatten().find(|entry| entry["id"] == *id)
    };
    let ticks = match asked.unit {
        DoorUnit::In => Ticks::PER_INCH,
        DoorUnit::Mm => Ticks::PER_MM,
    } as f64;
    let kerf = job["kerf"].as_f64().unwrap_or(0.0);
    let keep_from = stock["keep_from"].as_f64().filter(|_| job["cut"].is_null());
    let mut wood = Wood { bought: Exact::zero(), kept: Exact::zero() };
    for board in plan["boards"].as_array()? {
        let kind = named("boards", &board["board"])?;
        let price = decimal(kind["price"].as_f64()?)?;
        wood.bought += &price;
        let (Some(least), Some(last)) = (keep_from, board["parts"].as_array()?.last()) else {
            continue;
        };
        let part = named("parts", &last["part"])?;
        let end = if last["turned"] == true { &part["left"] } else { &part["right"] };
        let cut = kerf / num::cos_deg(end.as_f64()?);
        let long = kind["length"].as_f64()?;
        let left = long - last["x"].as_f64()? - part["length"].as_f64()? - cut;
        // A whole tick that lost its last bits on the way is whole.
        let left = left * ticks + 1e-3;
        if left >= 1.0 && left >= least * ticks {
            let whole_ticks = decimal(num::floor(left))?;
            wood.kept += price * whole_ticks / (decimal(long)? * decimal(ticks)?);
        }
    }
    Some(wood)
}

/// One instance of the plan door.
fn job(asked: &Asked, own: &[StickPart], stock: &Value, pieces: u64) -> Option<Value> {
    let parts: Vec<&PiecePart> = own.iter().map(|s| &s.part).collect();
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
        let qty = u64::from(part.qty).saturating_mul(pieces);
        // Parts of one name are told apart by their number.
        let again = parts[..i].iter().filter(|p| p.name == part.name).count();
        let id = match again {
            0 => part.name.clone(),
            n => format!("{} {}", part.name, n + 1),
        };
        if rectangles {
            return json!({"id": id, "qty": qty, "length": value(part.length), "width": value(part.seen)});
        }
        let wide = job.get("width").and_then(Value::as_f64).unwrap_or(0.0);
        let [left, right] =
            [End::Left, End::Right].map(|end| BoardEnd::of(part, end, wide, kerf, asked.unit));
        let length = value(part.length) + left.more + right.more;
        let (left, right) = (left.nests, right.nests);
        json!({"id": id, "qty": qty, "length": length, "left": left, "right": right})
    });
    let told: Vec<Value> = told.collect();
    job.insert("parts".into(), told.into());
    Some(Value::Object(job))
}
