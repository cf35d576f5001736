//! The JSON door of strips and sheets. The keys are in DEVELOPERS.md.

use super::super::door::{Reader, invalid};
use super::super::instance::Flaw;
use super::instance::{Answer, BoardKind, Cut, CutBoard, Grain, Instance, PartKind, Plan, Saw};
use super::planner::Planner;
use super::steps::{Falls, Side, steps};
use crate::num::Gather;
use serde_json::{Value, json};

/// Reads an instance. Everything that is missing or of the wrong type is listed with its path.
pub fn read(value: &Value) -> Result<Instance, Vec<Flaw>> {
    let Some(object) = value.as_object() else {
        return Err(vec![Flaw::new("", "The instance must be an object.")]);
    };
    let mut reader = Reader { flaws: Vec::new() };
    let cut = match object.get("cut").and_then(Value::as_str) {
        Some("strips") => Cut::Strips,
        Some("sheets") => Cut::Sheets,
        _ => {
            let text = "\"cut\" must be \"strips\" or \"sheets\"; leave it out for sticks.";
            reader.flaws.push(Flaw::new("/cut", text));
            Cut::Strips
        }
    };
    let kerf = reader.number(object, "", "kerf", None);
    let rip_kerf = reader.number(object, "", "rip_kerf", Some(kerf));
    // A sheet is trimmed all round alike unless it says otherwise.
    let other = |key: &str| match cut {
        Cut::Sheets => object.get(key).and_then(Value::as_f64).unwrap_or(0.0),
        Cut::Strips => 0.0,
    };
    let trim = reader.number(object, "", "trim", Some(other("edge_trim")));
    let edge_trim = reader.number(object, "", "edge_trim", Some(other("trim")));
    let width = object.contains_key("width").then(|| reader.number(object, "", "width", None));
    let mut boards = Vec::new();
    for (path, entry) in reader.list(object, "boards") {
        boards.push(BoardKind {
            id: reader.id(entry, &path),
            length: reader.number(entry, &path, "length", None),
            width: reader.number(entry, &path, "width", width),
            price: reader.number(entry, &path, "price", None),
            limit: match entry.get("limit") {
                None | Some(Value::Null) => None,
                Some(_) => Some(reader.whole(entry, &path, "limit")),
            },
        });
    }
    let mut parts = Vec::new();
    for (path, entry) in reader.list(object, "parts") {
        parts.push(PartKind {
            id: reader.id(entry, &path),
            qty: reader.whole(entry, &path, "qty"),
            length: reader.number(entry, &path, "length", None),
            width: reader.number(entry, &path, "width", None),
            grain: match entry.get("grain").map(|g| g.as_str()) {
                None | Some(Some("along")) => Grain::Along,
                Some(Some("free")) => Grain::Free,
                Some(_) => {
                    let text = "\"grain\" must be \"along\" or \"free\".".to_owned();
                    reader.wrong(&path, "grain", text);
                    Grain::Along
                }
            },
        });
    }
    if reader.flaws.is_empty() {
        Ok(Instance { cut, kerf, rip_kerf, trim, edge_trim, boards, parts })
    } else {
        Err(reader.flaws)
    }
}

/// Writes an answer; `instance` gives the names.
pub fn write(instance: &Instance, answer: &Answer) -> Value {
    match answer {
        Answer::Plan(plan) => write_plan(instance, plan),
        Answer::Infeasible { part, reason } => json!({
            "status": "infeasible",
            "part": part.map(|p| instance.parts[p].id.clone()),
            "reason": reason,
        }),
        Answer::Invalid(flaws) => invalid(flaws),
    }
}

fn write_plan(instance: &Instance, plan: &Plan) -> Value {
    let boards: Vec<Value> = plan.boards.iter().map(|board| write_board(instance, board)).gather();
    let leftover = plan
        .leftover
        .filter(|l| l.1.area() > 0.0)
        .map(|(board, l)| json!({"board": board, "length": l.length, "width": l.width}));
    json!({
        "status": "ok",
        "boards": boards,
        "price": plan.price,
        "bound": plan.bound,
        "proven": plan.proven,
        "proven_all": plan.proven_all,
        "leftover": leftover,
    })
}

fn write_board(instance: &Instance, board: &CutBoard) -> Value {
    let id = |placement: usize| &instance.parts[board.parts[placement].part].id;
    let parts: Vec<Value> = board
        .parts
        .iter()
        .enumerate()
        .map(|(i, p)| json!({"part": id(i), "turned": p.turned, "x": p.x, "y": p.y}))
        .gather();
    let pieces: Vec<Value> = board
        .pieces
        .iter()
        .map(|p| json!({"x": p.x, "y": p.y, "length": p.length, "width": p.width}))
        .gather();
    let falls = |f: Option<Falls>| match f {
        None => Value::Null,
        Some(Falls::Part { piece, placement }) => {
            json!({"is": "part", "piece": piece, "part": id(placement)})
        }
        Some(Falls::Piece(piece)) => json!({"is": "piece", "piece": piece}),
        Some(Falls::Rest(piece)) => json!({"is": "rest", "piece": piece}),
    };
    let cuts: Vec<Value> = steps(instance, board)
        .iter()
        .map(|s| {
            json!({
                "piece": s.piece,
                "cut": match s.saw { Saw::Rip => "rip", Saw::Crosscut => "crosscut" },
                "measure": s.measure,
                "from": match s.side { Side::Left => "left", Side::Lower => "lower" },
                "behind": s.behind,
                "first": falls(s.first),
                "second": falls(s.second),
            })
        })
        .gather();
    json!({
        "board": instance.boards[board.board].id,
        "parts": parts,
        "pieces": pieces,
        "cuts": cuts,
    })
}

/// One instance in, one plan out.
///
/// ```
/// let job = serde_json::json!({
///     "cut": "sheets", "kerf": 0.125,
///     "boards": [{"id": "ply", "length": 96, "width": 48, "price": 62}],
///     "parts": [{"id": "shelf", "qty": 4, "length": 23.9, "width": 47.9, "grain": "free"}],
/// });
/// let answer = offsquare_core::boards::plan_value(&job);
/// assert_eq!((answer["status"].as_str(), answer["bound"].as_f64()), (Some("ok"), Some(62.0)));
/// ```
pub fn plan_value(value: &Value) -> Value {
    match read(value) {
        Ok(instance) => {
            let mut planner = Planner::new(instance);
            while !planner.step(i64::MAX / 4).done {}
            write(planner.instance(), &planner.answer())
        }
        Err(flaws) => invalid(&flaws),
    }
}
