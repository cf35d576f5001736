//! The JSON door of the planner: one instance in, one plan out, keys exactly as defined.
//! Strips and sheets (`cut`) have theirs in `guillotine/door.rs`.

use super::instance::{Answer, BoardKind, Flaw, Instance, PartKind};
use super::planner::Planner;
use crate::num::Gather;
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
            left: reader.number(entry, &path, "left", Some(0.0)),
            right: reader.number(entry, &path, "right", Some(0.0)),
            one_good_face: reader.flag(entry, &path, "one_good_face"),
        });
    }
    if reader.flaws.is_empty() {
        Ok(Instance { width, kerf, trim, boards, parts })
    } else {
        Err(reader.flaws)
    }
}

pub(super) struct Reader {
    pub flaws: Vec<Flaw>,
}

impl Reader {
    pub fn wrong(&mut self, path: &str, key: &str, text: String) {
        self.flaws.push(Flaw::new(format!("{path}/{key}"), text));
    }

    pub fn number(
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

    pub fn whole(&mut self, object: &Map<String, Value>, path: &str, key: &str) -> u64 {
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
                    Some(n) if n >= 0.0 && n == crate::num::floor(n) => n as u64,
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

    pub fn id(&mut self, object: &Map<String, Value>, path: &str) -> String {
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

    pub fn list<'v>(
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
}

/// Writes an answer; `instance` gives the names.
pub fn write(instance: &Instance, answer: &Answer) -> Value {
    match answer {
        Answer::Plan(plan) => {
            let boards: Vec<Value> = plan
                .boards
                .iter()
                .map(|b| {
                    let parts: Vec<Value> = b
                        .parts
                        .iter()
                        .map(|p| {
                            json!({
                                "part": instance.parts[p.part].id,
                                "turned": p.turned,
                                "flipped": p.flipped,
                                "x": p.x,
                            })
                        })
                        .gather();
                    json!({"board": instance.boards[b.board].id, "parts": parts})
                })
                .gather();
            json!({
                "status": "ok",
                "boards": boards,
                "price": plan.price,
                "bound": plan.bound,
                "proven": plan.proven,
                "proven_all": plan.proven_all,
                "leftover": plan.leftover,
            })
        }
        Answer::Infeasible { part, reason } => json!({
            "status": "infeasible",
            "part": part.map(|p| instance.parts[p].id.clone()),
            "reason": reason,
        }),
        Answer::Open => json!({
            "status": "open",
            "reason": "The search was stopped before it found a plan or could rule one out.",
        }),
        Answer::Invalid(flaws) => invalid(flaws),
    }
}

pub(super) fn invalid(flaws: &[Flaw]) -> Value {
    let problems: Vec<Value> =
        flaws.iter().map(|f| json!({"path": f.path, "text": f.text})).gather();
    json!({"status": "invalid", "problems": problems})
}

/// One instance as JSON text in, one plan as JSON out. Text that is not JSON, or not an instance, is
/// answered as invalid with the places.
///
/// ```
/// let answer = offsquare_core::boards::plan_text(
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
pub fn plan_value(value: &Value) -> Value {
    if value.get("cut").is_some_and(|c| !c.is_null()) {
        return super::guillotine::plan_value(value);
    }
    match read(value) {
        Ok(instance) => {
            let mut planner = Planner::new(instance);
            while !planner.step(i64::MAX / 4).done {}
            write(planner.instance(), &planner.answer())
        }
        Err(flaws) => invalid(&flaws),
    }
}
