//! Other ways to ask the same.

use super::request::{ask, only};
use serde_json::{Value, json};

fn ways(reply: &Value) -> Vec<String> {
    let all = reply["solutions"].as_array().expect("solutions");
    all.iter().filter_map(|s| s["way"].as_str().map(str::to_owned)).collect()
}

#[test]
fn several_landings_may_be_listed() {
    let with = |ends: Value| {
        ask(&json!({"opening_width": 30, "opening_height": 44, "strip_width": 2.5, "ends": ends}))
    };
    let all = ["corner", "rails", "stiles", "edge"];
    for (ends, want) in [
        (json!(null), &all[..]),
        (json!([]), &all[..]),
        (json!(["edge", "stiles", "rails", "corner"]), &all[..]),
        (json!(["rails", "corner"]), &all[..2]),
        (json!(["rails", "rails"]), &all[1..2]),
        (json!("stiles"), &all[2..3]),
        (json!(["edge"]), &all[3..]),
    ] {
        let reply = with(ends.clone());
        assert_eq!(ways(&reply), want, "{ends}");
        assert_eq!(reply["problems"], json!([]), "{ends}");
    }
    for (ends, path) in [
        (json!("floor"), "/inputs/ends"),
        (json!(["rails", "floor"]), "/inputs/ends/1"),
        (json!([["rails"]]), "/inputs/ends/0"),
        (json!(3), "/inputs/ends"),
        (json!({"rails": true}), "/inputs/ends"),
    ] {
        let reply = with(ends.clone());
        assert_eq!(ways(&reply), Vec::<String>::new(), "{ends}");
        assert_eq!(reply["problems"][0]["path"], path, "{ends}");
        let text = reply["problems"][0]["text"].as_str().expect("a sentence");
        assert!(text.contains("corner, rails, stiles, edge"), "{text}");
    }
}

#[test]
fn one_width_holds_for_both_strips() {
    let both = json!({"opening_width": 30, "opening_height": 44, "strip_width_1": 2.5,
        "strip_width_2": 2.5, "ends": "rails", "thickness_1": 1.5, "thickness_2": 1.5});
    for once in [
        json!({"opening_width": 30, "opening_height": 44, "strip_width": 2.5, "joint": "half_lap",
            "ends": "rails", "thickness": 1.5}),
        json!({"opening_width": 30, "opening_height": 44, "strip_width": 2.5, "ends": "rails",
            "arrangement": "crossed", "thickness": 1.5}),
        json!({"opening_width": 30, "opening_height": 44, "strip_width": 2.5, "strip_width_2": 2.5,
            "ends": "rails", "thickness_1": 1.5}),
    ] {
        assert_eq!(only(&once), only(&both), "{once}");
    }
    // Half lap stands unless another joint is named; the opening may come from outside, and is then told.
    let mut outside = only(
        &json!({"outside_width": 35, "outside_height": 49, "stile_width": 2.5, "rail_width": 2.5,
            "strip_width_1": 2.5, "strip_width_2": 2.5, "ends": "rails", "thickness": 1.5}),
    );
    let told = outside.as_object_mut().expect("answers");
    assert_eq!(told.remove("opening_width"), Some(json!(30.0)));
    assert_eq!(told.remove("opening_height"), Some(json!(44.0)));
    assert_eq!(outside, only(&both));
    // A width that no strip can have is found where it was given.
    let reply = ask(&json!({"opening_width": 30, "opening_height": 44, "strip_width": 31,
        "joint": "half_lap", "ends": "rails"}));
    assert_eq!(reply["problems"][0]["path"], "/inputs/strip_width", "{reply}");
}

#[test]
fn an_arrangement_that_is_none_is_told() {
    for (inputs, word) in [
        (json!({"arrangement": "z"}), "one of"),
        (json!({"arrangement": 4}), "one of"),
        (json!({"arrangement": "k", "apex": "top"}), "stile"),
        (json!({"arrangement": "chevron", "apex": "left"}), "rail"),
        (json!({"arrangement": "single", "apex": "left"}), "apex"),
    ] {
        let mut all = json!({"opening_width": 48, "opening_height": 60, "strip_width": 2.5});
        for (k, v) in inputs.as_object().expect("inputs") {
            all[k.as_str()] = v.clone();
        }
        let reply = ask(&all);
        assert_eq!(reply["solutions"], json!([]), "{all}");
        let p = &reply["problems"][0];
        assert_eq!(p["path"], "/inputs/arrangement", "{reply}");
        assert!(p["text"].as_str().is_some_and(|t| t.contains(word)), "{p}");
    }
    let nowhere = ask(
        &json!({"opening_width": 48, "opening_height": 60, "strip_width": 2.5, "apex": "middle"}),
    );
    assert_eq!(nowhere["solutions"], json!([]));
    assert_eq!(nowhere["problems"][0]["path"], "/inputs/apex");
}
