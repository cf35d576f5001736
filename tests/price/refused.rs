//! Every refusal, with its path and limit.

use crate::{full, with};
use offsquare_door::piece::{piece_text, piece_value};
use serde_json::{Value, json};

/// The paths and limits of what was refused; there is no price then.
fn refused(price: &Value) -> Vec<(String, Option<f64>)> {
    let answer = piece_value(&json!({"unit": "in", "price": price}));
    assert_eq!(answer.get("price"), None, "{price}");
    let problems = answer["problems"].as_array().expect("problems");
    let told = problems.iter().map(|p| {
        assert_eq!(p["level"], "stop", "{p}");
        assert!(p["text"].as_str().is_some_and(|text| text.ends_with('.')), "{p}");
        (p["path"].as_str().expect("a path").to_owned(), p["limit"].as_f64())
    });
    told.collect()
}

fn refuses(at: &str, value: Value, limit: f64) {
    let price = with(&full(), at, value.clone());
    assert_eq!(refused(&price), [(format!("/price{at}"), Some(limit))], "{at}: {value}");
}

/// Every number of the full price, by its path.
fn amounts(value: &Value, path: &str, out: &mut Vec<String>) {
    match value {
        Value::Object(map) => map.iter().for_each(|(k, v)| amounts(v, &format!("{path}/{k}"), out)),
        Value::Array(all) => {
            all.iter().enumerate().for_each(|(i, v)| amounts(v, &format!("{path}/{i}"), out));
        }
        Value::Number(_) => out.push(path.to_owned()),
        _ => {}
    }
}

#[test]
fn a_negative_amount_is_refused_everywhere() {
    let mut paths = Vec::new();
    amounts(&full(), "", &mut paths);
    assert_eq!(paths.len(), 30);
    for path in paths {
        let limit = if path == "/batch" || path == "/sold_as" { 1.0 } else { 0.0 };
        refuses(&path, json!(-1), limit);
        refuses(&path, json!(-0.01), limit);
        refuses(&path, json!("12"), limit);
        refuses(&path, json!(true), limit);
    }
    let other = [("overhead", "per_hour"), ("want", "profit"), ("want", "markup_percent")];
    for (key, choice) in other {
        let price = with(&full(), &format!("/{key}"), json!({choice: -5}));
        assert_eq!(refused(&price), [(format!("/price/{key}/{choice}"), Some(0.0))]);
    }
}

#[test]
fn a_batch_and_a_sale_are_whole_pieces_from_one_on() {
    for key in ["/batch", "/sold_as"] {
        for wrong in [json!(0), json!(0.5), json!(1.5), json!(0.0)] {
            refuses(key, wrong, 1.0);
        }
        refuses(key, json!(2_000_000_000), 1e9);
        let price = with(&full(), key, json!(2.0));
        assert_eq!(crate::priced(&price), crate::priced(&with(&full(), key, json!(2))));
    }
}

#[test]
fn packs_cans_and_steps_hold_more_than_nothing() {
    for path in ["/hardware/0/pack", "/hardware/1/pack", "/finish/1/covers_m2", "/end/step"] {
        refuses(path, json!(0), 0.0);
        refuses(path, json!(0.0), 0.0);
    }
}

#[test]
fn one_thing_is_wanted() {
    refuses("/want", json!({"profit": 1, "markup_percent": 2}), 1.0);
    refuses("/want", json!({"profit": 1, "margin_percent": 2, "markup_percent": 3}), 1.0);
    refuses("/overhead", json!({"percent": 0, "per_hour": 0}), 1.0);
}

#[test]
fn fees_and_the_margin_leave_something_of_the_price() {
    // The full price has a fee of 6.5 %.
    refuses("/want/margin_percent", json!(93.5), 93.5);
    refuses("/want/margin_percent", json!(100), 93.5);
    assert!(
        crate::priced(&with(&full(), "/want/margin_percent", json!(93.49))).get("asked").is_some()
    );
    let alone = json!({"wood": {"bought": 5}, "want": {"margin_percent": 100}});
    assert_eq!(refused(&alone), [("/price/want/margin_percent".to_owned(), Some(100.0))]);
    for fee in [json!(100), json!(250)] {
        refuses("/fees/percent", fee.clone(), 100.0);
        let markup = with(&full(), "/want", json!({"markup_percent": 10}));
        let price = with(&markup, "/fees/percent", fee);
        assert_eq!(refused(&price), [("/price/fees/percent".to_owned(), Some(100.0))]);
    }
    // A markup and a profit may be as large as they like.
    for want in [json!({"markup_percent": 900}), json!({"profit": 1e9})] {
        crate::priced(&with(&full(), "/want", want));
    }
}

#[test]
fn all_that_is_wrong_is_told_at_once() {
    let price = json!({
        "batch": 0, "rate": -1, "hardware": [{"pack": 0}, 7], "want": {"profit": -2}, "fees": {"percent": 100},
        "basis": "new", "steps": {},
    });
    let told = refused(&price);
    let paths: Vec<&str> = told.iter().map(|(path, _)| path.as_str()).collect();
    assert_eq!(
        paths,
        [
            "/price/batch",
            "/price/basis",
            "/price/rate",
            "/price/hardware/0/pack",
            "/price/hardware/1",
            "/price/steps",
            "/price/want/profit",
            "/price/fees/percent"
        ]
    );
    assert_eq!(refused(&json!([])), [("/price".to_owned(), None)]);
}

#[test]
fn what_is_not_finite_is_no_request() {
    let answer = piece_text(r#"{"unit": "in", "price": {"overhead": {"percent": 1e999}}}"#);
    assert_eq!(answer["problems"][0]["path"], "/");
    assert_eq!(answer.get("price"), None);
    // The largest and the least that can be written come through without a panic.
    for text in ["1.7e308", "5e-324"] {
        let rate: Value = serde_json::from_str(text).expect("a number");
        crate::priced(&with(&full(), "/rate", rate.clone()));
        crate::priced(&with(&full(), "/hardware/0/pack", rate));
    }
}

#[test]
fn a_key_that_is_not_known_is_told_and_left_aside() {
    let answer =
        piece_value(&json!({"unit": "in", "price": with(&full(), "/colour", json!("red"))}));
    assert_eq!(answer["problems"][0]["level"], "warn");
    assert_eq!(answer["problems"][0]["path"], "/price/colour");
    assert_eq!(answer["price"], crate::priced(&full()));
}
