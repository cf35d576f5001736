//! The JSON door of the planner: one instance in, one plan out, keys exactly as defined in CUTPLAN.md for
//! sticks, and of strips and sheets (`cut`) as in KEYS.md.

use offsquare_planner::cutting::{AnswerOf, Cutting, PlanOf};
use offsquare_planner::guillotine::{self, CutKind, Falls, Grain, Saw, Side};
use offsquare_planner::outcome::{Flaw, PlanAnswer};
use offsquare_planner::planner::Planner;
use offsquare_planner::sticks::{self, BoardKind, CutBoard, Instance, PartKind};
use offsquare_units::num::Gather;
use serde_json::{Map, Value, json};

/// Reads an instance. Everything that is missing or of the wrong type is listed with its path.
pub fn read(value: &Value) -> Result<Instance, Vec<Flaw>> {
    let Some(object) = value.as_object() else {
        return Err(vec![Flaw::new("", "The instance must be an object.")]);
    };
    let mut reader = Reader { flaws: Vec::new() };
    let width = reader.number(object, "", "width", None);
    let kerf = reader.number(object, "", "kerf", None);
    let trim = reader.number(object, "", "trim", Some(0.0));
    let mut boards = Vec::new();
    for (path, entry) in reader.list(object, "boards") {
        boards.push(BoardKind {
            id: reader.id(entry, &path),
            length: reader.number(entry, &path, "length", None),
            price: reader.number(entry, &path, "price", None),
            limit: reader.limit(entry, &path),
        });
    }
    let mut parts = Vec::new();
    for (path, entry) in reader.list(object, "parts") {
        parts.push(PartKind {
            id: reader.id(entry, &path),
            qty: reader.whole(entry, &path, "qty"),
            length: reader.number(entry, &path, "length", None),
            left: reader.number(entry, &path, "left", Some(0.0)),
            right: reader.number(entry, &path, "right", Some(0.0)),
            one_good_face: reader.flag(entry, &path, "one_good_face"),
        });
    }
    reader.close(Instance { width, kerf, trim, boards, parts })
}

/// The same of strips and sheets.
fn read_rectangles(value: &Value) -> Result<guillotine::Instance, Vec<Flaw>> {
    let Some(object) = value.as_object() else {
        return Err(vec![Flaw::new("", "The instance must be an object.")]);
    };
    let mut reader = Reader { flaws: Vec::new() };
    let cut = match object.get("cut").and_then(Value::as_str) {
        Some("strips") => CutKind::Strips,
        Some("sheets") => CutKind::Sheets,
        _ => {
            let text = "\"cut\" must be \"strips\" or \"sheets\"; leave it out for sticks.";
            reader.flaws.push(Flaw::new("/cut", text));
            CutKind::Strips
        }
    };
    let kerf = reader.number(object, "", "kerf", None);
    let rip_kerf = reader.number(object, "", "rip_kerf", Some(kerf));
    // A sheet is trimmed all round alike unless it says otherwise.
    let other = |key: &str| match cut {
        CutKind::Sheets => object.get(key).and_then(Value::as_f64).unwrap_or(0.0),
        CutKind::Strips => 0.0,
    };
    let trim = reader.number(object, "", "trim", Some(other("edge_trim")));
    let edge_trim = reader.number(object, "", "edge_trim", Some(other("trim")));
    let width = object.contains_key("width").then(|| reader.number(object, "", "width", None));
    let mut boards = Vec::new();
    for (path, entry) in reader.list(object, "boards") {
        boards.push(guillotine::BoardKind {
            id: reader.id(entry, &path),
            length: reader.number(entry, &path, "length", None),
            width: reader.number(entry, &path, "width", width),
            price: reader.number(entry, &path, "price", None),
            limit: reader.limit(entry, &path),
        });
    }
    let mut parts = Vec::new();
    for (path, entry) in reader.list(object, "parts") {
        parts.push(guillotine::PartKind {
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
    reader.close(guillotine::Instance { cut, kerf, rip_kerf, trim, edge_trim, boards, parts })
}

struct Reader {
    flaws: Vec<Flaw>,
}

impl Reader {
    fn wrong(&mut self, path: &str, key: &str, text: String) {
        self.flaws.push(Flaw::new(format!("{path}/{key}"), text));
    }

    fn number(
        &mut self,
        object: &Map<String, Value>,
        path: &str,
        key: &str,
        default: Option<f64>,
    ) -> f64 {
        // Null is as left out.
        match (object.get(key).filter(|v| !v.is_null()), default) {
            (None, Some(d)) => d,
            (None, None) => {
                self.wrong(path, key, format!("\"{key}\" is missing; it must be a number."));
                0.0
            }
            (Some(v), _) => match v.as_f64() {
                Some(n) if n.is_finite() => n,
                _ => {
                    self.wrong(path, key, format!("\"{key}\" must be a number."));
                    0.0
                }
            },
        }
    }

    fn whole(&mut self, object: &Map<String, Value>, path: &str, key: &str) -> u64 {
        match object.get(key) {
            None => {
                self.wrong(path, key, format!("\"{key}\" is missing; it must be a whole number."));
                0
            }
            Some(v) => {
                if let Some(n) = v.as_u64() {
                    return n;
                }
                match v.as_f64() {
                    Some(n) if n >= 0.0 && n == offsquare_units::num::floor(n) => n as u64,
                    _ => {
                        self.wrong(
                            path,
                            key,
                            format!("\"{key}\" must be a whole number, 0 or more."),
                        );
                        0
                    }
                }
            }
        }
    }

    fn flag(&mut self, object: &Map<String, Value>, path: &str, key: &str) -> bool {
        match object.get(key) {
            None | Some(Value::Null) => false,
            Some(Value::Bool(b)) => *b,
            Some(_) => {
                self.wrong(path, key, format!("\"{key}\" must be true or false."));
                false
            }
        }
    }

    fn id(&mut self, object: &Map<String, Value>, path: &str) -> String {
        match object.get("id") {
            Some(Value::String(s)) => s.clone(),
            Some(_) => {
                self.wrong(path, "id", "\"id\" must be text.".to_owned());
                String::new()
            }
            None => {
                self.wrong(path, "id", "\"id\" is missing; it must be text.".to_owned());
                String::new()
            }
        }
    }

    fn list<'v>(
        &mut self,
        object: &'v Map<String, Value>,
        key: &str,
    ) -> Vec<(String, &'v Map<String, Value>)> {
        let Some(entries) = object.get(key).and_then(Value::as_array) else {
            self.wrong("", key, format!("\"{key}\" must be a list."));
            return Vec::new();
        };
        let mut out = Vec::new();
        for (i, entry) in entries.iter().enumerate() {
            match entry.as_object() {
                Some(o) => out.push((format!("/{key}/{i}"), o)),
                None => self.wrong(
                    &format!("/{key}"),
                    &i.to_string(),
                    "This entry must be an object.".to_owned(),
                ),
            }
        }
        out
    }

    /// The largest number of boards, if there is one.
    fn limit(&mut self, object: &Map<String, Value>, path: &str) -> Option<u64> {
        let limit = object.get("limit").filter(|v| !v.is_null());
        limit.is_some().then(|| self.whole(object, path, "limit"))
    }

    /// What was read, if nothing was wrong.
    fn close<T>(self, instance: T) -> Result<T, Vec<Flaw>> {
        if self.flaws.is_empty() { Ok(instance) } else { Err(self.flaws) }
    }
}

/// How boards, leftovers and names of one kind of cutting are written.
trait Written: Cutting {
    fn part_id(&self, part: usize) -> &str;
    fn write_board(&self, board: &CutBoard) -> Value;
    fn write_leftover(leftover: Self::Leftover) -> Value;
}

impl Written for Instance {
    fn part_id(&self, part: usize) -> &str {
        &self.parts[part].id
    }

    fn write_board(&self, board: &CutBoard) -> Value {
        let place = |p: &sticks::Placement| {
            let part = self.part_id(p.part);
            json!({"part": part, "turned": p.turned, "flipped": p.flipped, "x": p.x})
        };
        let parts: Vec<Value> = board.parts.iter().map(place).gather();
        json!({"board": self.boards[board.board].id, "parts": parts})
    }

    fn write_leftover(leftover: f64) -> Value {
        json!(leftover)
    }
}

impl Written for guillotine::Instance {
    fn part_id(&self, part: usize) -> &str {
        &self.parts[part].id
    }

    fn write_board(&self, board: &CutBoard) -> Value {
        write_cuts(self, board)
    }

    fn write_leftover(leftover: Option<(usize, guillotine::Leftover)>) -> Value {
        let large = leftover.filter(|l| l.1.area() > 0.0);
        let write = |(board, l): (usize, guillotine::Leftover)| json!({"board": board, "length": l.length, "width": l.width});
        large.map_or(Value::Null, write)
    }
}

/// Writes an answer for sticks; `instance` gives the names.
pub fn write(instance: &Instance, answer: &sticks::PlanAnswer) -> Value {
    written(instance, answer)
}

fn written<I: Written>(instance: &I, answer: &AnswerOf<I>) -> Value {
    match answer {
        PlanAnswer::Plan(plan) => write_plan(instance, plan),
        PlanAnswer::Infeasible { part, reason } => json!({
            "status": "infeasible",
            "part": part.map(|p| instance.part_id(p)),
            "reason": reason,
        }),
        PlanAnswer::Open => json!({
            "status": "open",
            "reason": "The search was stopped before it found a plan or could rule one out.",
        }),
        PlanAnswer::Invalid(flaws) => invalid(flaws),
    }
}

fn write_plan<I: Written>(instance: &I, plan: &PlanOf<I>) -> Value {
    let boards: Vec<Value> = plan.boards.iter().map(|b| instance.write_board(b)).gather();
    json!({
        "status": "ok",
        "boards": boards,
        "price": plan.price,
        "bound": plan.bound,
        "proven": plan.proven,
        "proven_all": plan.proven_all,
        "leftover": I::write_leftover(plan.leftover),
    })
}

fn write_cuts(instance: &guillotine::Instance, board: &CutBoard) -> Value {
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
    let cuts: Vec<Value> = guillotine::steps(instance, board)
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

fn invalid(flaws: &[Flaw]) -> Value {
    let problems: Vec<Value> =
        flaws.iter().map(|f| json!({"path": f.path, "text": f.text})).gather();
    json!({"status": "invalid", "problems": problems})
}

/// One instance as JSON text in, one plan as JSON out. Text that is not JSON, or not an instance, is
/// answered as invalid with the places.
///
/// ```
/// let answer = offsquare_door::plan::plan_text(
///     r#"{"width": 3.5, "kerf": 0.125,
///         "boards": [{"id": "8ft", "length": 96, "price": 4.28}],
///         "parts": [{"id": "slat", "qty": 2, "length": 40}]}"#,
/// );
/// assert_eq!((answer["status"].as_str(), answer["bound"].as_f64()), (Some("ok"), Some(4.28)));
/// ```
pub fn plan_text(text: &str) -> Value {
    match serde_json::from_str(text) {
        Ok(value) => plan_value(&value),
        Err(e) => invalid(&[Flaw::new("", format!("This is not JSON: {e}."))]),
    }
}

/// The same for JSON that has been parsed. With `cut` it is a job of strips or sheets.
///
/// ```
/// let job = serde_json::json!({
///     "cut": "sheets", "kerf": 0.125,
///     "boards": [{"id": "ply", "length": 96, "width": 48, "price": 62}],
///     "parts": [{"id": "shelf", "qty": 4, "length": 23.9, "width": 47.9, "grain": "free"}],
/// });
/// let answer = offsquare_door::plan::plan_value(&job);
/// assert_eq!((answer["status"].as_str(), answer["bound"].as_f64()), (Some("ok"), Some(62.0)));
/// ```
pub fn plan_value(value: &Value) -> Value {
    if value.get("cut").is_some_and(|c| !c.is_null()) {
        planned(read_rectangles(value))
    } else {
        planned(read(value))
    }
}

fn planned<I: Written>(read: Result<I, Vec<Flaw>>) -> Value {
    match read {
        Ok(instance) => written(&instance, &Planner::new(instance.clone()).all()),
        Err(flaws) => invalid(&flaws),
    }
}
