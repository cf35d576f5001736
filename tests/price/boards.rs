//! Wood from plans: what is bought, what is kept, and the cost of each over the size of the batch.

use crate::fraction::Fraction;
use crate::rules::hold;
use crate::with;
use offsquare_door::piece::piece_value;
use serde_json::{Value, json};

/// A tick: 1/2,032,000 in and 1/80,000 mm, the house's unit of length.
const TICKS: [(&str, i128); 2] = [("in", 2_032_000), ("mm", 80_000)];

fn answered(request: &Value) -> Value {
    let answer = piece_value(request);
    assert_eq!(answer["problems"], json!([]), "{request}");
    answer
}

/// One part of a length from boards of 96 at 4.28, a saw cut of 1/8.
fn one_part(unit: &str, length: f64, right: f64, keep_from: Value) -> Value {
    json!({
        "unit": unit,
        "parts": [{"name": "rail", "qty": 1, "stock": "2x4", "seen": 3.5, "away": 1.5, "length": length,
                   "right": {"mitre_deg": right}}],
        "boards": {"2x4": {"boards": [{"id": "8ft", "length": 96, "price": 428}], "kerf": 0.125, "keep_from": keep_from}},
        "price": {},
    })
}

#[test]
fn a_kept_leftover_keeps_its_share_of_the_price() {
    for (unit, ticks) in TICKS {
        // The decimals are exact in binary but 40.3 and 33.33.
        for length in ["40", "40.3", "33.33", "71.8125"] {
            let answer = answered(&one_part(unit, length.parse().unwrap(), 0.0, json!(24)));
            let left = Fraction::whole(96) - Fraction::read(length) - Fraction::read("0.125");
            let whole = (left * Fraction::whole(ticks)).down();
            let kept = Fraction::whole(428) * Fraction::new(whole, ticks * 96);
            let kept = if left >= Fraction::whole(24) { kept } else { Fraction::whole(0) };
            assert_eq!(answer["wood_bought"], 428);
            assert_eq!(answer["wood_kept"], kept.half_up() as i64, "{length} {unit}");
            let wood = json!({"bought": 428, "kept": kept.number()});
            let used = (Fraction::whole(428) - kept).half_up() as i64;
            assert_eq!(answer["price"]["wood_bought"], wood["bought"]);
            assert_eq!(answer["price"]["wood_used"], used);
            assert_eq!(answer["price"]["cost"], used);
        }
    }
}

#[test]
fn a_leftover_is_kept_from_its_length_on() {
    let kept = |length: f64, keep_from: Value| {
        answered(&one_part("in", length, 0.0, keep_from))["wood_kept"].as_i64().unwrap()
    };
    // 96 - 39.875 - 1/8 is 56.
    assert_eq!(kept(39.875, json!(56)), (428.0 * 56.0 / 96.0_f64).round() as i64);
    assert_eq!(kept(39.875, json!(56.0001)), 0);
    // 96 - 40.2 - 1/8 is 55.675, which binary fractions miss by a hair.
    assert_ne!(kept(40.2, json!(55.675)), 0);
    assert_eq!(kept(40.0, Value::Null), 0);
    assert_ne!(kept(40.0, json!(0)), 0);
    // A part of the whole board leaves nothing, and one that leaves less than the saw cut neither.
    assert_eq!(kept(96.0, json!(0)), 0);
    assert_eq!(kept(95.95, json!(0)), 0);
}

#[test]
fn a_slanted_last_cut_takes_more_of_the_leftover() {
    let answer = answered(&one_part("in", 40.0, 60.0, json!(1)));
    let part = &answer["boards"][0]["boards"][0]["parts"][0];
    // The saw cut at 60 degrees is twice as wide along the board; turned, the square end comes last.
    let cut = if part["turned"] == true { 0.125 } else { 0.25 };
    let kept = 428.0 * (96.0 - part["x"].as_f64().unwrap() - 40.0 - cut) / 96.0;
    assert_eq!(answer["wood_kept"], kept.round() as i64);
}

#[test]
fn keep_from_is_a_length() {
    for wrong in [json!(-1), json!("long")] {
        let answer = piece_value(&one_part("in", 40.0, 0.0, wrong));
        let problem = &answer["problems"][0];
        assert_eq!(
            (&problem["path"], &problem["limit"]),
            (&json!("/boards/2x4/keep_from"), &json!(0.0))
        );
    }
}

/// Two kinds of sticks, packs, cans and set-up times; finish by the parts' surface.
fn stool() -> Value {
    json!({
        "unit": "in",
        "parts": [
            {"name": "leg", "qty": 3, "stock": "2x2", "seen": 1.5, "away": 1.5, "length": 17.25,
             "left": {"mitre_deg": 12}, "right": {"mitre_deg": 12}},
            {"name": "rail", "qty": 2, "stock": "1x4", "seen": 3.5, "away": 0.75, "length": 11.5},
            {"name": "slat", "qty": 4, "stock": "1x4", "seen": 3.5, "away": 0.75, "length": 14},
        ],
        "boards": {
            "2x2": {"boards": [{"id": "8ft", "length": 96, "price": 398}], "kerf": 0.125, "keep_from": 18},
            "1x4": {"boards": [{"id": "6ft", "length": 72, "price": 512}, {"id": "8ft", "length": 96, "price": 640}],
                    "kerf": 0.125, "trim": 0.25},
        },
        "price": {
            "batch": 1, "basis": "bought",
            "hardware": [{"name": "screws", "per_piece": 22, "pack": 100, "pack_price": 899}],
            "finish": [{"name": "oil", "coats": 2, "covers_m2": 8, "can_price": 1650}],
            "steps": [{"name": "saw", "set_up_min": 40, "each_min": 11}], "rate": 2200,
            "want": {"markup_percent": 30},
        },
    })
}

#[test]
fn the_curve_is_twenty_four_prices() {
    for basis in ["bought", "used"] {
        let stool = with(&stool(), "/price/basis", json!(basis));
        let curve = answered(&stool)["price"]["curve"].clone();
        let single = |n: u64| {
            let answer = answered(&with(&stool, "/price/batch", json!(n)));
            assert_eq!(answer["price"]["curve"], curve, "the same for every batch");
            json!({"batch": n, "cost_each": answer["price"]["cost_each"]})
        };
        assert_eq!(curve, (1..=24).map(single).collect::<Value>());
    }
}

#[test]
fn figures_of_plans_and_surface_are_as_given_by_hand() {
    for (n, basis) in [(1, "used"), (5, "bought"), (24, "used")] {
        let stool = with(&with(&stool(), "/price/batch", json!(n)), "/price/basis", json!(basis));
        let answer = answered(&stool);
        // Boards cost what their plans say.
        let plans = answer["boards"].as_array().unwrap();
        let bought: f64 = plans.iter().map(|plan| plan["price"].as_f64().unwrap()).sum();
        assert_eq!(answer["wood_bought"].as_f64(), Some(bought));
        let kept = answer["wood_bought"].as_i64().unwrap()
            - answer["price"]["wood_used"].as_i64().unwrap();
        assert!((answer["wood_kept"].as_i64().unwrap() - kept).abs() <= 1);
        // The same price with the wood and the area put in by hand: at what was bought, to the cent.
        let mut price = stool["price"].clone();
        price["wood"] = json!({"bought": answer["wood_bought"]});
        price["finish"][0]["area_m2"] = answer["surface_m2"].clone();
        if basis == "bought" {
            let mut figures = answer["price"].clone();
            figures["wood_used"] = figures["wood_bought"].clone();
            hold(&price, &figures);
        }
        let by_hand = answered(&with(&stool, "/price", price));
        assert_eq!(by_hand["price"].get("curve"), None, "wood by hand is for this batch only");
        assert_eq!(by_hand["boards"], answer["boards"]);
    }
}

#[test]
fn basis_is_what_materials_are_counted_at() {
    let answers = ["used", "bought"]
        .map(|b| answered(&with(&stool(), "/price/basis", json!(b)))["price"].clone());
    let default = answered(&with(&stool(), "/price/basis", Value::Null))["price"].clone();
    assert_eq!(default, answers[0]);
    let cents = |i: usize, key: &str| answers[i][key].as_i64().unwrap();
    let difference: i64 = ["wood", "hardware", "finish"]
        .map(|m| cents(1, &format!("{m}_bought")) - cents(1, &format!("{m}_used")))
        .iter()
        .sum();
    // Two costs and three materials used are rounded, each by half a cent at most.
    assert!((cents(1, "cost") - cents(0, "cost") - difference).abs() <= 2);
    for key in ["wood_used", "hardware_bought", "minutes", "labor"] {
        assert_eq!(answers[0][key], answers[1][key]);
    }
}

#[test]
fn a_batch_that_the_boards_do_not_reach_has_no_cost() {
    // 2 boards of 8 ft hold 10 legs: 3 stools.
    let few = with(&stool(), "/boards/2x2/boards/0/limit", json!(2));
    let curve = answered(&few)["price"]["curve"].clone();
    let batches: Vec<&Value> = curve.as_array().unwrap().iter().map(|at| &at["batch"]).collect();
    assert_eq!(batches, [1, 2, 3]);
    let answer = answered(&with(&few, "/price/batch", json!(4)));
    assert_eq!(answer["boards"][0]["status"], "infeasible");
    for key in ["wood_bought", "wood_used", "cost", "floor", "asked"] {
        assert_eq!(answer["price"].get(key), None, "{key}");
    }
    assert!(answer["price"]["labor"].is_number());
    assert_eq!(answer["price"]["curve"], curve);
    assert_eq!((answer.get("wood_bought"), answer.get("wood_kept")), (None, None));
}

#[test]
fn a_board_without_a_price_is_not_free() {
    let request = with(&stool(), "/boards/1x4/boards/0/price", Value::Null);
    let answer = piece_value(&request);
    assert_eq!(answer["problems"][0]["path"], "/boards/1x4/boards/0/price");
    for key in ["wood_bought", "cost", "curve"] {
        assert_eq!(answer["price"].get(key), None, "{key}");
    }
}

#[test]
fn without_a_rate_no_curve() {
    let answer = answered(&with(&stool(), "/price/rate", Value::Null));
    assert_eq!(answer["price"].get("curve"), None);
    assert!(answer["price"]["wood_bought"].is_number());
}
