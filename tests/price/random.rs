//! 10,000 random prices.

use crate::priced;
use crate::rules::{Told, hold};
use offsquare_tests::dice::Dice;
use serde_json::{Map, Value, json};
use std::collections::BTreeMap;

/// A decimal with so many places.
fn decimal(whole: usize, places: u32) -> Value {
    let scale = 10_usize.pow(places);
    if whole.is_multiple_of(scale) {
        return json!(whole / scale);
    }
    let text = format!("{}.{:0width$}", whole / scale, whole % scale, width = places as usize);
    serde_json::from_str(&text).expect("a number")
}

fn pick(dice: &mut Dice, all: &[&str]) -> Value {
    serde_json::from_str(all[dice.below(all.len())]).expect("a number")
}

fn up_to(dice: &mut Dice, most: usize, places: u32) -> Value {
    decimal(dice.below(most * 10_usize.pow(places) + 1), places)
}

/// Any price; `halves`: one whose figures often lie halfway between two cents.
pub fn price(dice: &mut Dice, halves: bool) -> Value {
    let mut out = Map::new();
    let mut put = |key: &str, value: Value| out.insert(key.to_owned(), value);
    let places = if halves { 0 } else { 2 };
    let most = if halves { 2 } else { 60 };
    put("batch", json!(1 + dice.below(most)));
    put("sold_as", json!(1 + dice.below(if halves { 3 } else { 6 })));
    match dice.below(3) {
        0 => put("basis", json!("bought")),
        1 => put("basis", json!("used")),
        _ => None,
    };
    let bought = dice.below(40_000);
    put("wood", json!({"bought": bought, "kept": dice.below(bought + 1)}));
    if !dice.one_in(5) {
        let packs: &[&str] =
            if halves { &["2", "4"] } else { &["1", "2", "4", "5", "6", "8", "12", "25", "100"] };
        let all = (0..dice.below(4)).map(|_| {
            let per_piece = if halves { json!(dice.below(9)) } else { up_to(dice, 30, 1) };
            json!({"name": "hook", "per_piece": per_piece, "pack": pick(dice, packs), "pack_price": dice.below(3000)})
        });
        put("hardware", all.collect());
    }
    if !dice.one_in(5) {
        let covers: &[&str] =
            if halves { &["0.5", "2", "4"] } else { &["2", "2.5", "4", "7.5", "8", "12"] };
        let all = (0..dice.below(3)).map(|_| {
            let area = up_to(dice, 3, places);
            json!({"coats": 1 + dice.below(3), "covers_m2": pick(dice, covers), "can_price": dice.below(6000), "area_m2": area})
        });
        put("finish", all.collect());
    }
    let all = (0..dice.below(5)).map(|_| {
        let step = if halves { ["0", "15", "30"] } else { ["0", "12.5", "40"] };
        json!({"set_up_min": pick(dice, &step), "each_min": up_to(dice, 60, u32::from(!halves))})
    });
    let all: Value = all.collect();
    // Whole hours, twos and fours, so that what an hour earns comes out even too.
    let hours = json!([{"set_up_min": 120 * (1 + dice.below(2))}]);
    put("steps", if halves && dice.one_in(2) { hours } else { all });
    put("rate", json!(if halves { dice.below(60) * 30 } else { dice.below(9000) }));
    match dice.below(3) {
        0 => put(
            "overhead",
            json!({"percent": pick(dice, if halves { &["50", "100"] } else { &["0", "8.25", "12.5", "33.3"] })}),
        ),
        1 => put("overhead", json!({"per_hour": dice.below(2000)})),
        _ => None,
    };
    let share =
        if halves { ["0", "50"][dice.below(2)] } else { ["0", "2.9", "6.5", "15"][dice.below(4)] };
    if share != "0" || dice.one_in(2) {
        put("fees", json!({"percent": pick(dice, &[share]), "fixed": dice.below(60)}));
    }
    if dice.one_in(2) {
        put("stall", json!(dice.below(20_000)));
    }
    let share: f64 = share.parse().expect("a share");
    match dice.below(4) {
        0 => put("want", json!({"profit": dice.below(20_000)})),
        1 if halves && share == 0.0 => {
            put("want", json!({"margin_percent": pick(dice, &["0", "50"])}))
        }
        1 if !halves => put("want", json!({"margin_percent": up_to(dice, 80, 1)})),
        1 | 2 => put(
            "want",
            json!({"markup_percent": pick(dice, if halves { &["0", "50", "100"] } else { &["0", "40", "100", "150", "62.75"] })}),
        ),
        _ => None,
    };
    if dice.one_in(3) {
        put("end", json!({"step": 1 + dice.below(1000), "at": dice.below(1200)}));
    }
    Value::Object(out)
}

#[test]
fn ten_thousand_prices_are_exact_to_the_cent() {
    let mut dice = Dice(15);
    let mut ties: BTreeMap<&str, u32> = BTreeMap::new();
    let mut nulls: BTreeMap<&str, u32> = BTreeMap::new();
    for n in 0..10_000 {
        let price = price(&mut dice, n % 2 == 0);
        let answer = priced(&price);
        assert_eq!(answer["curve"], Value::Null, "wood by hand has no curve");
        for (key, told) in hold(&price, &answer) {
            match told {
                Told::Cents(exact) if exact.is_tie() => *ties.entry(key).or_default() += 1,
                Told::Null => *nulls.entry(key).or_default() += 1,
                _ => {}
            }
        }
    }
    println!("halfway between two cents: {ties:?}; by nought: {nulls:?}");
    let rounded = [
        "hardware_used",
        "finish_used",
        "labor",
        "overhead",
        "cost",
        "cost_each",
        "cost_sale",
        "asked_exact",
        "fee",
        "profit",
        "earned_per_hour",
    ];
    for key in rounded {
        assert!(ties.get(key).is_some_and(|n| *n >= 50), "{key} is hardly ever halfway: {ties:?}");
    }
    assert!(nulls.contains_key("earned_per_hour") && nulls.contains_key("break_even_sales"));
}
