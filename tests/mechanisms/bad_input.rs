//! The bad inputs that a maker is bound to give, each with a plain sentence beside its field and, where
//! there is one, the limit that was passed. A limit is right if an answer is there on its one side and
//! not on its other.

use super::door::well_formed;
use offsquare_cuts::layouts;
use offsquare_cuts::problem::Level;
use offsquare_door::solve_one;
use offsquare_units::Unit;
use offsquare_work::piece::{Draft, Shop, answer};
use serde_json::{Value, json};

fn ask(layout: &str, inputs: Value) -> Value {
    let reply = solve_one(&json!({"id": 1, "layout": layout, "unit": "in", "inputs": inputs}));
    well_formed(&reply);
    reply
}

/// The reply's only stop at that path.
fn stop(reply: &Value, path: &str) -> (f64, String) {
    let stops: Vec<&Value> = reply["problems"]
        .as_array()
        .into_iter()
        .flatten()
        .filter(|p| p["level"] == "stop" && p["path"] == path)
        .collect();
    assert_eq!(stops.len(), 1, "{path}: {reply}");
    (
        stops[0]["limit"].as_f64().unwrap_or(f64::NAN),
        stops[0]["text"].as_str().unwrap_or_default().to_owned(),
    )
}

#[test]
fn numbers_that_are_none_are_refused_beside_their_field() {
    for (bad, said) in [
        (Value::Null, "missing"),
        (json!("abc"), "plain number"),
        (json!("1/0"), "plain number"),
        (json!("3/"), "plain number"),
        (json!(-4), "more than 0"),
        (json!(0), "more than 0"),
        (json!(-0.0), "more than 0"),
        (json!(1e308), "too large"),
        (json!(true), "plain number"),
        (json!([30]), "plain number"),
    ] {
        let inputs = json!({"opening_width": bad, "opening_height": 44, "strip_width": 2.5});
        let reply = ask("brace", inputs);
        let (_, text) = stop(&reply, "/inputs/opening_width");
        assert!(text.contains(said), "{bad}: {text}");
        assert_eq!(reply["solutions"], json!([]));
    }
}

/// (layout, inputs, the key that is wrong, its limit from a closed form, whether values below it work)
fn impossible() -> Vec<(&'static str, Value, &'static str, Option<f64>, bool)> {
    vec![
        // Flat on the rails the strip would stand upright and fill the opening.
        (
            "brace",
            json!({"opening_width": 24, "opening_height": 36, "strip_width": 30, "ends": "rails"}),
            "strip_width",
            Some(24.0),
            true,
        ),
        // Feet within the post; legs thin enough that only this stands in the way.
        (
            "post_legs",
            json!({"post_width": 20, "footprint": 17.5, "leg_depth": 1e-5, "given": "splay", "value": 40, "foot": "floor"}),
            "footprint",
            Some(20.0),
            false,
        ),
        // A square foot lies flat at last: the reach is half of what the footprint is wider than the post.
        (
            "post_legs",
            json!({"post_width": 3.5, "footprint": 17.5, "leg_depth": 1.5, "given": "long_point", "value": 5, "foot": "square"}),
            "value",
            Some(7.0),
            false,
        ),
        (
            "post_legs",
            json!({"post_width": 3.5, "footprint": 17.5, "leg_depth": 1.5, "given": "long_point", "value": 5, "foot": "floor"}),
            "value",
            None,
            false,
        ),
        (
            "end_board",
            json!({"base_width": 12, "top_width": 8, "height": 9, "shoulder_height": 12}),
            "shoulder_height",
            Some(9.0),
            true,
        ),
        // The triangle's inequality, both ways.
        (
            "brace",
            json!({"bottom": 30, "right": 44, "top": 30, "left": 44, "diagonal_up": 80, "strip_width": 0.001, "ends": "corner"}),
            "diagonal_up",
            Some(74.0),
            true,
        ),
        (
            "brace",
            json!({"bottom": 30, "right": 44, "top": 30, "left": 44, "diagonal_up": 10, "strip_width": 0.001, "ends": "corner"}),
            "diagonal_up",
            Some(14.0),
            false,
        ),
    ]
}

#[test]
fn an_impossible_piece_is_told_with_the_limit_that_it_passed() {
    for (layout, inputs, key, expected, below_works) in impossible() {
        let reply = ask(layout, inputs.clone());
        assert_eq!(reply["solutions"], json!([]), "{inputs}");
        let (limit, text) = stop(&reply, &format!("/inputs/{key}"));
        assert!(text.ends_with('.') && text.len() > 20, "{text}");
        if let Some(expected) = expected {
            assert!((limit - expected).abs() <= 1e-9 * expected, "{text}: {limit}");
        }
        for (value, works) in
            [(limit * (1.0 - 1e-5), below_works), (limit * (1.0 + 1e-5), !below_works)]
        {
            let mut near = inputs.clone();
            near[key] = json!(value);
            let reply = ask(layout, near.clone());
            let answered = reply["solutions"].as_array().is_some_and(|s| !s.is_empty());
            assert_eq!(answered, works, "{near}: {}", reply["problems"]);
        }
    }
}

/// The same texts as they are typed: each gets its sentence at its field and leaves no answer.
#[test]
fn texts_that_say_no_length_are_told_beside_their_field() {
    let layout = layouts::find("brace").expect("the brace");
    let shop = Shop::default();
    for bad in ["", "abc", "1/0", "3/", "-4", "0", "1e308", "-1e308", "NaN", "1e-400", "30 x 44"] {
        let mut draft = Draft::fresh(layout, &layout.forms()[0], Unit::Inch);
        draft.set("opening_width", bad, Unit::Inch);
        let answered = answer(&draft, &shop);
        assert!(!answered.is_good(), "{bad}");
        let told: Vec<_> =
            answered.problems_of("opening_width").filter(|p| p.level == Level::Stop).collect();
        assert_eq!(told.len(), 1, "{bad}: {:?}", answered.problems);
        let text = told[0].text.render(&shop.style());
        assert!(text.len() > 10 && text.ends_with('.'), "{bad}: {text}");
        assert!(!text.contains("NaN ") && !text.contains("inf "), "{text}");
    }
}
