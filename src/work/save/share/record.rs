//! One piece as it is stored: the records of a saved file, with nothing in them but this piece.

use crate::cutlist::{BlankCut, Entry, From, PartEnd};
use crate::piece::{Override, Piece, Shop, Source, Work};
use crate::rack::{Owned, Sold, Stock};
use offsquare_units::num::Gather;
use offsquare_units::record::{self, Stored};
use serde_json::{Map, Number, Value, json};

/// What a piece is put into.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Into {
    /// As short as can be, and for anyone's eyes: prices stay at home, and what a layout or pattern makes is made again
    /// where it is opened.
    Link,
    /// All of it, prices of its stock too.
    File,
}

/// What a link holds of a piece itself; whatever else a piece has is the maker's own.
const LINKED: [&str; 7] = ["id", "name", "note", "pattern", "batch", "planned", "overrides"];

/// The record of one piece; none where there is no such piece.
pub fn of(work: &Work, id: u32, shop: &Shop, into: Into) -> Option<Value> {
    let mut one = work.only(id)?;
    for stock in &mut one.rack.stocks {
        shared(stock, into);
    }
    if into == Into::Link {
        leave_out_made(&mut one, shop);
    }
    // They are on this device only.
    one.pieces.iter_mut().for_each(|p| p.pictures.clear());
    // *Loose parts* are everywhere.
    one.pieces.remove(0);
    let rows = |list: &str, all: Value| thinned(list, all);
    let stocks = rows("stocks", written(&mut one.rack.stocks));
    let mut pieces = rows("pieces", written(&mut one.pieces));
    if into == Into::Link {
        for piece in pieces.as_array_mut().into_iter().flatten().filter_map(Value::as_object_mut) {
            piece.retain(|key, _| LINKED.contains(&key.as_str()));
        }
    }
    let mut sources = rows("sources", written(&mut one.sources));
    for source in sources.as_array_mut().into_iter().flatten() {
        if let Some(draft) = source.get_mut("draft").and_then(Value::as_object_mut) {
            thin_draft(draft, into);
        }
    }
    Some(json!({
        "pieces": pieces,
        "sources": sources,
        "parts": rows("parts", written(&mut one.parts)),
        "rack": {"stocks": stocks},
    }))
}

/// What is told of a stock: its section and the lengths that it is sold in; its prices only in a file, and what is on
/// hand in this shop never.
fn shared(stock: &mut Stock, into: Into) {
    stock.owned.clear();
    for sold in &mut stock.sold {
        sold.left = None;
    }
    if into == Into::Link {
        let usual = Stock::default();
        (stock.by, stock.rate, stock.taxed, stock.sample) =
            (usual.by, usual.rate, usual.taxed, usual.sample);
        for sold in &mut stock.sold {
            *sold = Sold { length: sold.length, ..Sold::default() };
        }
    }
}

/// Takes out the parts that their layouts make again just so.
fn leave_out_made(one: &mut Work, shop: &Shop) {
    let mut made = one.clone();
    made.parts.retain(|e| e.from.is_none());
    made.follow_all(shop);
    let same = |a: &Entry, b: &Entry| Entry { id: b.id, ..a.clone() } == *b;
    one.parts.retain(|e| e.from.is_none() || !made.parts.iter().any(|m| same(m, e)));
}

fn written<T: Stored>(all: &mut [T]) -> Value {
    Value::Array(all.iter_mut().map(record::write).gather())
}

/// Members that are as they usually are left out: a reader has them.
fn thinned(list: &str, mut rows: Value) -> Value {
    if let (Some(usual), Some(rows)) = (usual(list), rows.as_array_mut()) {
        for row in rows {
            thin(row, &usual);
        }
    }
    rows
}

/// A row of a list as it is before anything is put in.
fn usual(list: &str) -> Option<Value> {
    Some(match list {
        "pieces" => record::write(&mut Piece::default()),
        "parts" => record::write(&mut Entry::default()),
        "sources" => record::write(&mut Source::default()),
        "stocks" => record::write(&mut Stock::default()),
        "sold" => record::write(&mut Sold::default()),
        "owned" => record::write(&mut Owned::default()),
        "overrides" => record::write(&mut Override::default()),
        "from" => record::write(&mut From::default()),
        "on_blank" => record::write(&mut BlankCut::default()),
        "left" | "right" => record::write(&mut PartEnd::default()),
        _ => return None,
    })
}

/// A whole number without a point, as the browser writes it.
fn plain(n: &Number) -> Value {
    let whole = n.as_f64().filter(|x| *x as i64 as f64 == *x && x.abs() < 1e9);
    whole.map_or_else(|| Value::Number(n.clone()), |x| Value::from(x as i64))
}

fn thin(row: &mut Value, as_usual: &Value) {
    let Some(map) = row.as_object_mut() else { return };
    for (key, value) in map.iter_mut() {
        match value {
            Value::Array(rows) => {
                let usual = usual(key);
                for row in rows {
                    usual.iter().for_each(|usual| thin(row, usual));
                }
            }
            Value::Number(n) => *value = plain(n),
            Value::Object(_) => as_usual.get(key).into_iter().for_each(|usual| thin(value, usual)),
            _ => {}
        }
    }
    let says = |key: &str, value: &Value| {
        let empty = match value {
            Value::Null => true,
            Value::Array(all) => all.is_empty(),
            Value::Object(all) => all.is_empty(),
            _ => false,
        };
        let usual = as_usual.get(key).map(|usual| usual.as_number().map_or(usual.clone(), plain));
        !empty && usual.as_ref() != Some(value)
    };
    map.retain(|key, value| says(key, value));
}

/// A draft without what says nothing; for a link also without what was typed in its other forms.
fn thin_draft(draft: &mut Map<String, Value>, into: Into) {
    let says = |key: &str, value: &Value| match key {
        "others" => into == Into::File && value.as_array().is_some_and(|all| !all.is_empty()),
        "touched" => into == Into::File,
        _ => !value.is_null(),
    };
    draft.retain(|key, value| says(key, value));
}
