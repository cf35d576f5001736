//! Prices held against exact fractions worked out here, from the rules alone.

mod boards;
mod examples;
mod forms;
mod fraction;
mod market;
mod missing;
mod random;
mod refused;
mod rules;

use offsquare_door::piece::piece_value;
use serde_json::{Value, json};

/// The figures of a price.
fn priced(price: &Value) -> Value {
    let answer = piece_value(&json!({"unit": "in", "price": price}));
    assert_eq!(answer["problems"], json!([]), "{price}");
    answer["price"].clone()
}

/// A request with a value put at a JSON pointer; null is as left out. Lists and objects on the way must be there.
fn with(request: &Value, path: &str, value: Value) -> Value {
    let mut request = request.clone();
    let (at, key) = path.rsplit_once('/').unwrap_or(("", path));
    let place = request.pointer_mut(at).unwrap_or_else(|| panic!("nothing at {at}"));
    match place {
        Value::Array(all) => all[key.parse::<usize>().expect("an index")] = value,
        place => place[key] = value,
    }
    request
}

/// A price with every input.
fn full() -> Value {
    json!({
        "batch": 6, "sold_as": 2, "basis": "used",
        "wood": {"bought": 5136, "kept": 877},
        "hardware": [
            {"name": "hooks", "per_piece": 5, "pack": 12, "pack_price": 450},
            {"name": "chain", "per_piece": 0.75, "pack": 10, "pack_price": 1299},
        ],
        "finish": [
            {"name": "oil", "coats": 2, "covers_m2": 7.5, "can_price": 1895, "area_m2": 0.64},
            {"name": "wax", "coats": 1, "covers_m2": 12, "can_price": 1150, "area_m2": 0.31},
        ],
        "steps": [
            {"name": "saw", "set_up_min": 25, "each_min": 6.5},
            {"name": "glue", "set_up_min": 10, "each_min": 12},
        ],
        "rate": 2400,
        "overhead": {"percent": 12.5},
        "fees": {"percent": 6.5, "fixed": 25},
        "stall": 4500,
        "want": {"margin_percent": 20},
        "end": {"step": 500, "at": 495},
    })
}
