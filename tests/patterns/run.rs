//! The run at the saw over random jobs: as planned by the door, and over boards laid out at random, which are less
//! orderly than any plan. What must hold of it is `run_model`'s to check.

use crate::run_least::least;
use crate::run_model::check;
use offsquare_cuts::parts::End;
use offsquare_cuts::saw::SawProfile;
use offsquare_door::piece::{piece_value, run_value};
use offsquare_planner::ends::{lying, separation};
use offsquare_planner::{BoardKind, CutBoard, Instance, PartKind, Placement};
use offsquare_tests::dice::Dice;
use offsquare_units::DoorUnit;
use offsquare_work::run::{BoardEnd, StickPart, StickPlan};
use offsquare_work::solved::{EndCut, PiecePart};
use serde_json::{Value, json};

/// A random job of typed parts.
pub fn random(dice: &mut Dice) -> Value {
    let mm = dice.one_in(3);
    let unit = if mm { 25.0 } else { 1.0 };
    let stocks = 1 + dice.below(2);
    let sections = [(1.5, 1.5), (3.5, 1.5), (2.5, 0.75)];
    let angles = [0.0, 0.0, 0.0, 15.0, 22.5, 31.6, 45.0, 45.0, 54.5, 12.3];
    let few: Vec<f64> = (0..3).map(|_| angles[dice.below(angles.len())]).collect();
    let lengths: Vec<f64> = (0..4).map(|_| 6.0 + (dice.share() * 480.0).floor() / 16.0).collect();
    let sign = |dice: &mut Dice| if dice.one_in(2) { 1.0 } else { -1.0 };
    let mut parts = Vec::new();
    let mut boards = serde_json::Map::new();
    for stock in 0..stocks {
        let name = format!("stick {stock}");
        let (seen, away) = sections[dice.below(3)];
        for i in 0..1 + dice.below(4) {
            let end = |dice: &mut Dice| {
                let miter = sign(dice) * few[dice.below(3)];
                let bevel = if dice.one_in(12) { sign(dice) * 20.0 } else { 0.0 };
                json!({"mitre_deg": miter, "bevel_deg": bevel})
            };
            let mut part = json!({
                "name": format!("part {stock} {i}"), "qty": 1 + dice.below(4), "stock": name,
                "seen": seen * unit, "away": away * unit,
                // Long enough for two steep ends of either kind.
                "length": (lengths[dice.below(4)] + 4.0 * seen) * unit,
                "left": end(dice), "right": end(dice),
            });
            if dice.one_in(10) {
                part["left"] = json!({"mitre_deg": sign(dice) * 50.0, "bevel_deg": 0});
                let other = -part["left"]["mitre_deg"].as_f64().unwrap().signum() * 40.0;
                part["pointed"] = json!({"left": other});
            }
            parts.push(part);
        }
        let trim = if dice.one_in(3) { 0.25 * unit } else { 0.0 };
        boards.insert(
            name,
            json!({
                "boards": [{"id": "long", "length": 120.0 * unit, "price": 700},
                           {"id": "short", "length": 72.0 * unit, "price": 430}],
                "kerf": 0.125 * unit, "trim": trim,
            }),
        );
    }
    let hold = if dice.one_in(2) { json!({}) } else { json!({"hold_length": 14.0 * unit}) };
    let mut request = json!({
        "unit": if mm { "mm" } else { "in" }, "parts": parts, "boards": boards, "saw": hold,
    });
    if dice.one_in(4) {
        request["price"] = json!({"batch": 2});
    }
    request
}

fn unit(request: &Value) -> DoorUnit {
    if request["unit"] == "mm" { DoorUnit::Mm } else { DoorUnit::In }
}

fn f(v: &Value) -> f64 {
    v.as_f64().unwrap_or(0.0)
}

fn typed(part: &Value, unit: DoorUnit) -> PiecePart {
    let end = |side: &str| EndCut {
        miter: f(&part[side]["mitre_deg"]),
        bevel: f(&part[side]["bevel_deg"]),
        second: part["pointed"][side].as_f64(),
    };
    PiecePart {
        name: part["name"].as_str().unwrap().to_owned(),
        qty: part["qty"].as_u64().unwrap() as u32,
        stick: part["stock"].as_str().unwrap().to_owned(),
        seen: unit.length(f(&part["seen"])),
        away: unit.length(f(&part["away"])),
        length: unit.length(f(&part["length"])),
        left: end("left"),
        right: end("right"),
        ..PiecePart::default()
    }
}

/// The parts of a request laid on boards in any order, each as it falls, now and then with room between.
pub fn laid(request: &Value, dice: &mut Dice) -> Vec<StickPlan> {
    let unit = unit(request);
    let stocks = request["boards"].as_object().unwrap();
    let plan = |(stock, told): (&String, &Value)| {
        let all = request["parts"].as_array().unwrap();
        let own: Vec<&Value> = all.iter().filter(|p| p["stock"] == **stock).collect();
        let (width, kerf, trim) = (f(&own[0]["seen"]), f(&told["kerf"]), f(&told["trim"]));
        let parts: Vec<StickPart> =
            own.iter().map(|p| StickPart { part: typed(p, unit), first: 0 }).collect();
        let kind = |p: &StickPart| {
            let [l, r] =
                [End::Left, End::Right].map(|e| BoardEnd::of(&p.part, e, width, kerf, unit));
            let length = unit.value(p.part.length) + l.more + r.more;
            PartKind::mitered(&p.part.name, u64::from(p.part.qty), length, l.nests, r.nests)
        };
        let boards = told["boards"].as_array().unwrap().iter();
        let boards =
            boards.map(|b| BoardKind::unlimited(b["id"].as_str().unwrap(), f(&b["length"]), 1.0));
        let kinds = parts.iter().map(kind).collect();
        let job = Instance { width, kerf, trim, boards: boards.collect(), parts: kinds };
        let mut singles: Vec<usize> =
            job.parts.iter().enumerate().flat_map(|(i, p)| vec![i; p.qty as usize]).collect();
        dice.shuffle(&mut singles);
        let boards = fill(&job, &singles, dice);
        StickPlan::new(stock.clone(), job, boards, parts)
    };
    stocks.iter().map(plan).collect()
}

fn fill(job: &Instance, singles: &[usize], dice: &mut Dice) -> Vec<CutBoard> {
    let mut boards: Vec<CutBoard> = Vec::new();
    let mut before: Option<(f64, f64)> = None;
    for single in singles {
        let part = &job.parts[*single];
        let (turned, flipped) = (dice.one_in(2), dice.one_in(2));
        let (left, right) = lying(part.left, part.right, turned, flipped);
        let room = match dice.below(5) {
            0 => dice.share() * 2.0 * job.kerf,
            1 => dice.share() * 3.0 * job.width,
            _ => 0.0,
        };
        let next = before.map(|(end, a)| end + separation(job.width, job.kerf, a, left) + room);
        let whole = |b: &CutBoard| job.boards[b.board].length - job.trim;
        let fits = boards.last().is_some_and(|b| next.unwrap_or(0.0) + part.length <= whole(b));
        if !fits {
            let short = part.length + 2.0 * job.trim + room <= job.boards[1].length;
            boards.push(CutBoard {
                board: usize::from(short && dice.one_in(2)),
                parts: Vec::new(),
                pieces: Vec::new(),
            });
        }
        let start =
            if part.length + 2.0 * job.trim + room <= job.boards[1].length { room } else { 0.0 };
        let x = next.filter(|_| fits).unwrap_or(job.trim + start);
        before = Some((x + part.length, right));
        let own = boards.last_mut().unwrap();
        own.parts.push(Placement { part: *single, turned, flipped, x, y: 0.0 });
    }
    boards
}

/// The answer of the door for boards that were laid so.
pub fn run_over(request: &Value, plans: &[StickPlan]) -> Value {
    let unit = unit(request);
    let mut saw = SawProfile::usual();
    let usual = if unit == DoorUnit::Mm { 200.0 } else { 8.0 };
    saw.hold_length = unit.length(request["saw"]["hold_length"].as_f64().unwrap_or(usual));
    let boards = plans.iter().map(|plan| {
        let cut = plan.boards.iter().map(|b| json!({"board": plan.instance.boards[b.board].id}));
        json!({"stock": plan.stock, "status": "ok", "boards": cut.collect::<Value>()})
    });
    json!({"boards": boards.collect::<Value>(), "run": run_value(plans, &saw, unit)})
}

#[test]
fn all_that_must_hold_of_a_run_holds_over_planned_jobs() {
    let mut dice = Dice(14);
    let (mut visits, mut least) = (0, 0);
    for _ in 0..300 {
        let request = random(&mut dice);
        let answer = piece_value(&request);
        assert_eq!(answer["problems"], json!([]), "{request}");
        if answer["boards"].as_array().unwrap().iter().any(|b| b["status"] != "ok") {
            continue;
        }
        let (own, few) = check(&request, &answer);
        visits += own;
        least += few;
    }
    println!("planned: {visits} visits of {least} set-ups");
    assert!(visits <= least + least / 50);
}

#[test]
fn all_that_must_hold_of_a_run_holds_over_boards_laid_at_random() {
    let mut dice = Dice(15);
    let (mut visits, mut least) = (0, 0);
    for _ in 0..10_000 {
        let mut request = random(&mut dice);
        request.as_object_mut().unwrap().remove("price");
        let plans = laid(&request, &mut dice);
        let (own, few) = check(&request, &run_over(&request, &plans));
        visits += own;
        least += few;
    }
    println!("laid at random: {visits} visits of {least} set-ups");
    assert!(visits <= least + least / 4);
}

#[test]
fn small_runs_have_the_fewest_set_ups_that_any_order_has() {
    let mut dice = Dice(16);
    let (mut tried, mut more) = (0, 0);
    while tried < 400 {
        let mut request = random(&mut dice);
        let all = request.as_object_mut().unwrap();
        all.remove("price");
        all["boards"].as_object_mut().unwrap().remove("stick 1");
        let parts = all["parts"].as_array_mut().unwrap();
        parts.retain(|p| p["stock"] == "stick 0" && p["pointed"].is_null());
        if parts.is_empty() || parts.iter().map(|p| p["qty"].as_u64().unwrap()).sum::<u64>() > 5 {
            continue;
        }
        let plans = laid(&request, &mut dice);
        let answer = run_over(&request, &plans);
        if answer["run"]["steps"].as_array().unwrap().len() > 8 {
            continue;
        }
        tried += 1;
        let (visits, _) = check(&request, &answer);
        let usual = if request["unit"] == "mm" { 200.0 } else { 8.0 };
        let hold = request["saw"]["hold_length"].as_f64().unwrap_or(usual);
        let fewest = least(&request, &answer, hold, visits);
        if fewest < visits {
            more += 1;
            println!("{visits} {fewest} {request} {}", answer["run"]["steps"]);
        }
    }
    println!("{tried} small runs, {more} with more set-ups than the fewest");
    assert_eq!(more, 0);
}
