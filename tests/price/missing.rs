//! What is not known leaves its figures out, and nothing else.

use crate::rules::hold;
use crate::{full, priced, with};
use serde_json::{Value, json};

const WANTED: [&str; 8] = [
    "asked_exact",
    "asked",
    "fee",
    "profit",
    "margin_percent",
    "markup_percent",
    "earned_per_hour",
    "break_even_sales",
];

const COST: [&str; 4] = ["cost", "cost_each", "cost_sale", "floor"];

/// Takes an input away; the figures named, and those after them, are gone, all others stay as they were.
fn without(price: &Value, path: &str, gone: &[&str], gone_too: &[&[&str]]) {
    let before = priced(price);
    let after = priced(&with(price, path, Value::Null));
    let mut expected = before.as_object().expect("figures").clone();
    for key in gone.iter().chain(gone_too.iter().copied().flatten()) {
        assert!(expected.remove(*key).is_some(), "{path}: {key} was there");
    }
    assert_eq!(after, Value::Object(expected), "without {path}");
}

#[test]
fn the_full_price_has_every_figure() {
    let answer = priced(&full());
    hold(&full(), &answer);
    assert_eq!(answer.as_object().map(serde_json::Map::len), Some(23));
}

#[test]
fn an_input_that_is_missing_takes_only_its_figures() {
    let price = full();
    let all = [&["overhead"][..], &COST, &WANTED];
    without(&price, "/hardware/1/per_piece", &["packs", "hardware_bought", "hardware_used"], &all);
    without(&price, "/hardware/1/pack", &["packs", "hardware_bought", "hardware_used"], &all);
    without(&price, "/hardware/0/pack_price", &["hardware_bought", "hardware_used"], &all);
    for key in ["coats", "covers_m2", "area_m2"] {
        let path = format!("/finish/1/{key}");
        without(&price, &path, &["cans", "finish_bought", "finish_used"], &all);
    }
    without(&price, "/finish/0/can_price", &["finish_bought", "finish_used"], &all);
    without(&price, "/wood/bought", &["wood_bought", "wood_used"], &all);
    without(&price, "/rate", &["labor"], &all);
    without(&price, "/end/step", &WANTED[1..], &[]);
    without(&price, "/want", &WANTED, &[]);
    without(&price, "/want/margin_percent", &WANTED, &[]);
    without(&price, "/stall", &["break_even_sales"], &[]);
}

#[test]
fn overhead_by_the_hour_needs_the_hours() {
    let price = with(&with(&full(), "/overhead", json!({"per_hour": 600})), "/rate", Value::Null);
    let price = with(&price, "/steps", Value::Null);
    let answer = priced(&price);
    let found: Vec<&String> = answer.as_object().expect("figures").keys().collect();
    let materials = [
        "wood_bought",
        "wood_used",
        "hardware_bought",
        "hardware_used",
        "finish_bought",
        "finish_used",
        "packs",
        "cans",
    ];
    assert_eq!(found, materials);
}

#[test]
fn what_was_not_asked_for_costs_nothing() {
    for key in [
        "wood", "hardware", "finish", "overhead", "fees", "stall", "end", "basis", "batch",
        "sold_as",
    ] {
        let price = with(&full(), &format!("/{key}"), Value::Null);
        hold(&price, &priced(&price));
    }
    let price = with(&with(&full(), "/steps", Value::Null), "/rate", Value::Null);
    hold(&price, &priced(&price));
    for path in [
        "/wood/kept",
        "/steps/0/set_up_min",
        "/steps/1/each_min",
        "/fees/percent",
        "/fees/fixed",
        "/end/at",
    ] {
        let price = with(&full(), path, Value::Null);
        hold(&price, &priced(&price));
    }
}

#[test]
fn of_nothing_there_is_no_price() {
    for price in [
        json!({}),
        json!({"batch": 4, "want": {"profit": 500}, "fees": {"percent": 3}}),
        json!({"overhead": {"percent": 10}}),
        json!({"wood": {}, "want": {}, "overhead": {}, "fees": {}, "end": {}}),
    ] {
        assert_eq!(priced(&price), json!({}), "{price}");
    }
}

#[test]
fn a_quotient_by_nought_is_null() {
    let free = json!({"wood": {"bought": 0}, "steps": [], "rate": 2000, "want": {"profit": 0}, "stall": 100});
    let answer = priced(&free);
    hold(&free, &answer);
    for key in ["margin_percent", "markup_percent", "earned_per_hour", "break_even_sales"] {
        assert_eq!(answer.get(key), Some(&Value::Null), "{key}");
    }
    assert_eq!((&answer["asked"], &answer["minutes"]), (&json!(0), &json!(0.0)));
    // At no profit no number of sales pays for the stall.
    let even = json!({"wood": {"bought": 700}, "want": {"profit": 0}, "stall": 100});
    let answer = priced(&even);
    assert_eq!((&answer["profit"], &answer["break_even_sales"]), (&json!(0), &Value::Null));
    assert_eq!(answer["margin_percent"], 0.0);
}
