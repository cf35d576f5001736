//! The door of a piece: what is left out, what is wrong, overrides, typed parts, boards.

use offsquare_door::piece::{piece_text, piece_value};
use serde_json::{Value, json};

fn paths(answer: &Value) -> Vec<&str> {
    answer["problems"].as_array().unwrap().iter().map(|p| p["path"].as_str().unwrap()).collect()
}

#[test]
fn what_is_wrong_is_told_at_its_path() {
    assert_eq!(paths(&piece_text("[")), ["/"]);
    assert_eq!(paths(&piece_value(&json!({}))), ["/unit", "/"]);
    assert_eq!(paths(&piece_value(&json!({"unit": "in", "pattern": "boat"}))), ["/pattern"]);
    let answer = piece_value(&json!({
        "unit": "in", "pattern": "plain_box",
        "sizes": {"width": -3, "colour": 1}, "stock": {"side": {"away": "thin", "species": "balsa"}, "mast": {}},
    }));
    assert_eq!(
        paths(&answer),
        ["/stock/mast", "/sizes/width", "/stock/side/away", "/sizes/colour", "/stock/side/species"]
    );
    let answer = piece_value(&json!({
        "unit": "in", "pattern": "plain_box", "sizes": {"width": 1.5, "thickness": 0.75},
    }));
    assert_eq!(paths(&answer), ["/sizes/width"]);
    assert_eq!(answer["problems"][0]["limit"], 1.5);
    assert!(answer.get("parts").is_none());
}

#[test]
fn sizes_that_contradict_are_told_and_the_answer_stands() {
    let answer = piece_value(&json!({
        "unit": "in", "pattern": "plain_box",
        "sizes": {"width": 14, "inside_width": 12, "thickness": 0.75},
    }));
    assert_eq!(answer["problems"][0]["level"], "warn");
    assert_eq!(answer["problems"][0]["by"], 0.5);
    assert_eq!(answer["sizes"]["inside_width"], 12.5);
}

#[test]
fn overrides_hold_where_they_fit() {
    let answer = piece_value(&json!({
        "unit": "in", "pattern": "plain_box", "sizes": {"depth": 9},
        "overrides": [
            {"part": "side", "nth": 1, "length": 7},
            {"part": "lid", "qty": 0},
            {"part": "drawer", "qty": 0},
            {"part": "back", "stock": "thin board"},
        ],
    }));
    // The shorter side stands where it stood, and no longer reaches the back.
    assert_eq!(paths(&answer), ["/overrides/0/length", "/overrides/2/part"]);
    let parts = answer["parts"].as_array().unwrap();
    let told: Vec<(&str, u64, f64)> = parts
        .iter()
        .map(|p| {
            (p["name"].as_str().unwrap(), p["qty"].as_u64().unwrap(), p["length"].as_f64().unwrap())
        })
        .collect();
    assert_eq!(
        told,
        [
            ("front", 1, 14.0),
            ("back", 1, 14.0),
            ("side", 1, 7.5),
            ("side", 1, 7.0),
            ("floor", 1, 12.5)
        ]
    );
    assert_eq!(parts[1]["stock"], "thin board");
    assert_eq!(answer["placed"].as_array().unwrap().len(), 5);
}

#[test]
fn boards_are_planned_for_the_batch() {
    let answer = piece_value(&json!({
        "unit": "in", "parts": [
            {"name": "rail", "qty": 2, "stock": "2x4", "seen": 3.5, "away": 1.5, "length": 40,
             "left": {"mitre_deg": 45}, "right": {"mitre_deg": -45}},
        ],
        "boards": {"2x4": {"boards": [{"id": "8ft", "length": 96, "price": 428}], "kerf": 0.125}},
        "price": {"batch": 3},
    }));
    assert_eq!(answer["problems"], json!([]));
    let plan = &answer["boards"][0];
    assert_eq!((&plan["stock"], &plan["status"]), (&json!("2x4"), &json!("ok")));
    // Six rails of 40 with parallel ends nest: two a board, three boards.
    assert_eq!(plan["price"], 1284.0);
    assert_eq!(answer["parts"][0]["right"]["mitre_deg"], -45.0);
    assert_eq!(answer["placed"], json!([]));
}
