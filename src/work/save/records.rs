//! The document as a device keeps it: one record a piece with its parts and layouts, one a draft, a few for the rest.
//!
//! Each record is a saved file that holds a fragment of the document, so that what reads files reads records.

use super::document::without_rows;
use super::{Bench, Recent, VERSION, to_value};
use crate::cutlist::Entry;
use crate::piece::{Piece, Source, Work};
use offsquare_units::kept::Kept as _;
use offsquare_units::num::Gather;
use offsquare_units::record;
use serde_json::{Value, json};
use std::collections::BTreeMap;

/// A record's key, and what it holds; none: it goes.
pub type Record = (String, Option<Value>);

/// Recent answers.
const RECENT: &str = "recent";
/// Sums, shop, rack, kept boards: what has no record of its own.
const REST: &str = "rest";
/// In which order rows stand that are in records of their own.
const ORDER: &str = "order";

fn fragment(bench: Value) -> Value {
    json!({"offsquare": VERSION, "bench": bench})
}

/// A piece with all that belongs to it.
#[derive(Default, PartialEq)]
struct Whole<'a> {
    piece: Option<&'a Piece>,
    parts: Vec<&'a Entry>,
    sources: Vec<&'a Source>,
}

fn wholes(work: &Work) -> BTreeMap<u32, Whole<'_>> {
    let mut all: BTreeMap<u32, Whole> = BTreeMap::new();
    for piece in &work.pieces {
        all.entry(piece.id).or_default().piece = Some(piece);
    }
    for part in &work.parts {
        all.entry(part.piece).or_default().parts.push(part);
    }
    for source in &work.sources {
        all.entry(source.piece).or_default().sources.push(source);
    }
    all
}

impl Whole<'_> {
    fn keep(&self) -> Value {
        let pieces = self.piece.iter().map(|p| record::write(&mut (*p).clone())).gather();
        let parts = self.parts.iter().map(|e| record::write(&mut (*e).clone())).gather();
        let sources = self.sources.iter().map(|s| record::write(&mut (*s).clone())).gather();
        fragment(json!({"work": {"pieces": pieces, "parts": parts, "sources": sources}}))
    }
}

fn order(bench: &Bench) -> [Vec<String>; 4] {
    let work = &bench.work;
    [
        bench.drafts.iter().map(|d| d.layout.clone()).gather(),
        work.pieces.iter().map(|p| p.id.to_string()).gather(),
        work.parts.iter().map(|e| e.id.to_string()).gather(),
        work.sources.iter().map(|s| s.id.to_string()).gather(),
    ]
}

/// The records that differ between two documents, as they are in the second.
pub fn changed(old: &Bench, new: &Bench) -> Vec<Record> {
    let mut out: Vec<Record> = Vec::new();
    for draft in new.drafts.iter().filter(|d| old.draft(&d.layout) != Some(*d)) {
        let stored = fragment(json!({"drafts": [draft.keep()]}));
        out.push((format!("draft.{}", draft.layout), Some(stored)));
    }
    for draft in old.drafts.iter().filter(|d| new.draft(&d.layout).is_none()) {
        out.push((format!("draft.{}", draft.layout), None));
    }
    if old.recent != new.recent {
        out.push((RECENT.into(), Some(fragment(json!({"recent": new.recent.keep()})))));
    }
    let rest = |bench: &Bench| {
        let mut rest = without_rows(bench);
        rest.recent = Vec::<Recent>::new();
        rest.work.rack.stocks = bench.work.rack.stocks.clone();
        rest
    };
    let (a, b) = (rest(old), rest(new));
    if a != b {
        out.push((REST.into(), Some(to_value(&b))));
    }
    let (a, b) = (&old.work, &new.work);
    let one = a.pieces.is_one_with(&b.pieces)
        && a.parts.is_one_with(&b.parts)
        && a.sources.is_one_with(&b.sources);
    if !one {
        let (a, b) = (wholes(a), wholes(b));
        for (id, whole) in b.iter().filter(|(id, whole)| a.get(id) != Some(*whole)) {
            out.push((format!("piece.{id}"), Some(whole.keep())));
        }
        out.extend(
            a.keys().filter(|id| !b.contains_key(id)).map(|id| (format!("piece.{id}"), None)),
        );
    }
    let (a, b) = (order(old), order(new));
    if a != b {
        let [drafts, pieces, parts, sources] = b;
        let lists = json!({"drafts": drafts, "pieces": pieces, "parts": parts, "sources": sources});
        out.push((ORDER.into(), Some(lists)));
    }
    out
}

/// All records of a document.
pub fn all(bench: &Bench) -> Vec<Record> {
    // Nothing that is kept is like it.
    let mut none = Bench { drafts: Vec::new(), ..Bench::default() };
    none.work.pieces.clear();
    let mut out = changed(&none, bench);
    if !out.iter().any(|(key, _)| key == REST) {
        let mut rest = without_rows(bench);
        rest.recent = Vec::new();
        rest.work.rack.stocks = bench.work.rack.stocks.clone();
        out.push((REST.into(), Some(to_value(&rest))));
    }
    out
}

/// Adds a fragment to a file: rows to rows, members to members.
fn merge(whole: &mut Value, part: Value) {
    match (whole, part) {
        (Value::Object(whole), Value::Object(part)) => {
            for (name, value) in part {
                match whole.get_mut(&name) {
                    Some(member) => merge(member, value),
                    None => drop(whole.insert(name, value)),
                }
            }
        }
        (Value::Array(whole), Value::Array(part)) => whole.extend(part),
        // No rows to add: what is damaged there stays to be told.
        (_, Value::Array(part)) if part.is_empty() => {}
        (whole, part) => *whole = part,
    }
}

fn put_in_order(rows: Option<&mut Value>, order: &Value, key: &str) {
    let (Some(Value::Array(rows)), Some(order)) = (rows, order.as_array()) else { return };
    let ids = order.iter().enumerate().filter_map(|(at, id)| Some((id.as_str()?, at)));
    let places: BTreeMap<&str, usize> = ids.collect();
    let place = |row: &Value| {
        let numbered = || Some(row.get(key)?.as_u64()?.to_string());
        let id = row.get(key).and_then(Value::as_str).map(str::to_owned).or_else(numbered);
        id.and_then(|id| places.get(id.as_str()).copied()).unwrap_or(usize::MAX)
    };
    let mut keyed = core::mem::take(rows).into_iter().map(|row| (place(&row), row)).gather();
    offsquare_units::num::sort_by(&mut keyed, |a, b| a.0.cmp(&b.0));
    *rows = keyed.into_iter().map(|(_, row)| row).gather();
}

/// The file that the records of a device are together; one that could not be read, and junk, is left out.
pub fn joined(records: impl Iterator<Item = (String, Value)>) -> Value {
    let mut whole = json!({"offsquare": VERSION, "bench": {"work": {}}});
    let mut order = Value::Null;
    for (key, value) in records {
        match key.as_str() {
            ORDER => order = value,
            _ => {
                let Value::Object(mut file) = value else { continue };
                if let Some(bench) = file.remove("bench").filter(Value::is_object) {
                    merge(&mut whole["bench"], bench);
                }
            }
        }
    }
    let bench = &mut whole["bench"];
    put_in_order(bench.get_mut("drafts"), &order["drafts"], "layout");
    let work = &mut bench["work"];
    for list in ["pieces", "parts", "sources"] {
        put_in_order(work.get_mut(list), &order[list], "id");
    }
    whole
}
