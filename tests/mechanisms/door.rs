//! The JSON door's manners: all problems at once, order and ids kept, nothing breaks it.

use offsquare_cuts::layouts;
use offsquare_door::solve_value;
use serde_json::{Map, Value, json};

/// Words that only a slip of ours can put into a sentence.
const SLIPS: [&str; 8] = ["NaN", "inf ", "inf.", "Some(", "Length(", "Angle(", "Quantity", "{}"];

/// Every reply has its two arrays, and no sentence shows a slip.
pub fn well_formed(reply: &Value) {
    let map = reply.as_object().expect("a reply is an object");
    assert!(map.contains_key("id"));
    assert!(map["solutions"].is_array() && map["problems"].is_array());
    sentences(reply, &mut |text| {
        for slip in SLIPS {
            assert!(!text.contains(slip), "{text}");
        }
    });
    for p in map["problems"].as_array().into_iter().flatten() {
        assert!(p["path"].as_str().is_some_and(|p| p.starts_with('/')), "{p}");
        assert!(p["level"] == "stop" || p["level"] == "warn", "{p}");
        assert!(p["text"].as_str().is_some_and(|t| t.len() > 5), "{p}");
    }
    if map["solutions"].as_array().is_some_and(Vec::is_empty) {
        assert_ne!(map["problems"], json!([]), "nothing came and nothing was said");
    }
}

fn sentences(v: &Value, f: &mut dyn FnMut(&str)) {
    match v {
        Value::Object(m) => {
            for (k, v) in m {
                match v {
                    Value::String(s) if k == "text" => f(s),
                    Value::Array(all) if k == "text" || k == "cautions" => {
                        all.iter().filter_map(Value::as_str).for_each(&mut *f);
                    }
                    _ => sentences(v, f),
                }
            }
        }
        Value::Array(all) => all.iter().for_each(|v| sentences(v, f)),
        _ => {}
    }
}

fn paths(reply: &Value) -> Vec<(String, String)> {
    reply["problems"]
        .as_array()
        .into_iter()
        .flatten()
        .map(|p| {
            let s = |k: &str| p[k].as_str().unwrap_or_default().to_owned();
            (s("path"), s("level"))
        })
        .collect()
}

#[test]
fn every_problem_is_told_at_once() {
    let reply = solve_value(&json!([{
        "id": "a", "layout": "brace", "unit": "furlong", "form": 3, "off": "yes",
        "saw": {"kerf": "thin", "colour": "red"},
        "inputs": {"opening_width": "wide", "strip_width": -1, "a/b": 1, "ends": "sideways"},
        "spirit": "level"
    }]));
    let told = paths(&reply[0]);
    for (path, level) in [
        ("/spirit", "warn"),
        ("/unit", "stop"),
        ("/form", "stop"),
        ("/off", "stop"),
        ("/saw/kerf", "stop"),
        ("/saw/colour", "warn"),
        ("/inputs/opening_width", "stop"),
        ("/inputs/strip_width", "stop"),
        ("/inputs/ends", "stop"),
        ("/inputs/opening_height", "stop"),
        ("/inputs/a~1b", "warn"),
    ] {
        let one = (path.to_owned(), level.to_owned());
        assert!(told.contains(&one), "{path} is not told: {told:?}");
    }
    well_formed(&reply[0]);
}

#[test]
fn an_unknown_field_is_told_and_the_rest_is_answered() {
    let reply = solve_value(&json!([{"id": 1, "layout": "brace", "unit": "in", "inputs":
        {"opening_width": 30, "opening_height": 44, "strip_width": 2.5, "ends": "rails", "hue": 1}}]));
    assert_eq!(reply[0]["solutions"].as_array().map(Vec::len), Some(1));
    assert_eq!(paths(&reply[0]), vec![("/inputs/hue".to_owned(), "warn".to_owned())]);
}

/// The size that a request calls given gives; another one that it holds besides is the surplus.
/// By hand: (17.5 - 3.5) / 2 / sin 30° is 14, and (15 sin 30° = 7.5) puts the feet 18.5 apart.
#[test]
fn what_is_called_given_gives() {
    let mut inputs = json!({"post_width": 3.5, "footprint": 17.5, "leg_depth": 2.5, "given": "splay", "value": 30,
        "long_point_length": 15});
    let ask = |inputs: &Value| {
        solve_value(&json!({"id": 1, "layout": "post_legs", "unit": "in", "inputs": inputs}))
    };
    let reply = ask(&inputs);
    let near =
        |v: &Value, n: f64| assert!(v.as_f64().is_some_and(|v| (v - n).abs() < 1e-12), "{reply}");
    near(&reply["solutions"][0]["answers"]["splay_deg"], 30.0);
    near(&reply["solutions"][0]["answers"]["long_point_length"], 14.0);
    let problem = &reply["problems"][0];
    assert_eq!(problem["path"], "/inputs/long_point_length");
    near(&problem["by"], 1.0);
    near(&problem["agree"]["footprint"], 18.5);
    near(&problem["agree"]["long_point_length"], 14.0);
    near(&problem["agree"]["value"], f64::asin(7.0 / 15.0).to_degrees());

    // Sizes agree to 1e-9 (LAYOUTS, Conventions), long ones and millimeters too.
    for (off, problems) in [(0.0, 0), (5e-10, 0), (1e-6, 1)] {
        let mm = json!({"post_width": 88.9, "footprint": 444.5, "leg_depth": 63.5, "given": "splay", "value": 30,
            "long_point_length": 355.6 + off});
        let board = json!({"base_width": 1200, "top_width": 800, "height": 900, "left_inset": 100,
            "right_inset": 300.0 + off});
        for (layout, inputs) in [("post_legs", mm), ("end_board", board)] {
            let reply = solve_value(&json!({"layout": layout, "unit": "mm", "inputs": inputs}));
            assert_eq!(paths(&reply).len(), problems, "{off}: {reply}");
        }
    }

    // A name that is none, or no value, is one problem; no other size is said to be missing for it.
    inputs = json!({"post_width": 3.5, "footprint": 17.5, "leg_depth": 2.5, "given": "girth", "value": 30});
    let stop = |path: &str| vec![(path.to_owned(), "stop".to_owned())];
    assert_eq!(paths(&ask(&inputs)), stop("/inputs/given"));
    inputs["given"] = json!("splay");
    inputs["value"] = Value::Null;
    assert_eq!(paths(&ask(&inputs)), stop("/inputs/value"));
}

#[test]
fn ids_come_back_in_order_whatever_they_are() {
    let ids = [json!(3), json!("x"), json!(null), json!([1, {"k": 2}]), json!(1.5)];
    let requests: Vec<Value> =
        ids.iter().map(|id| json!({"id": id, "layout": "nothing"})).collect();
    let reply = solve_value(&Value::Array(requests));
    let back: Vec<Value> =
        reply.as_array().into_iter().flatten().map(|r| r["id"].clone()).collect();
    assert_eq!(back, ids);
    assert_eq!(solve_value(&json!([])), json!([]));
}

#[test]
fn what_is_no_request_is_one_problem() {
    for bad in [json!(null), json!(3), json!("x"), json!(true), json!({}), json!({"layout": 7})] {
        well_formed(&solve_value(&bad));
        let many = solve_value(&json!([bad, null, [], [[]]]));
        assert_eq!(many.as_array().map(Vec::len), Some(4));
        many.as_array().into_iter().flatten().for_each(well_formed);
    }
}

/// A linear congruential generator (Numerical Recipes' constants, from memory): the same hostile
/// requests at every run.
struct Dice(u64);

impl Dice {
    fn roll(&mut self, n: usize) -> usize {
        self.0 =
            self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        ((self.0 >> 33) as usize) % n
    }
    fn value(&mut self, depth: u32) -> Value {
        const NUMBERS: [f64; 20] = [
            0.0,
            -0.0,
            1.0,
            -1.0,
            0.5,
            2.5,
            30.0,
            44.0,
            45.0,
            60.0,
            89.999_999_999,
            90.0,
            180.0,
            1e-300,
            5e-324,
            1e9,
            1.000_000_1e9,
            1e17,
            1e308,
            -1e308,
        ];
        match self.roll(12) {
            0 => Value::Null,
            1 => json!(self.roll(2) == 0),
            2 => {
                json!(["rails", "corner", "floor", "x", "", "up", "mitre", "regular"][self.roll(8)])
            }
            3 if depth > 0 => (0..self.roll(5)).map(|_| self.value(depth - 1)).collect(),
            4 if depth > 0 => json!({"x": self.value(depth - 1)}),
            5 => json!(self.roll(13)),
            _ => json!(NUMBERS[self.roll(NUMBERS.len())]),
        }
    }
}

#[test]
fn hostile_requests_are_answered_in_good_order() {
    let mut dice = Dice(20);
    let mut asked = 0;
    for layout in layouts::all() {
        for form in layout.forms() {
            for round in 0..60 {
                let mut inputs = Map::new();
                for f in form.fields.iter().chain(form.also) {
                    // Half of the rounds start from good sizes and spoil one or two.
                    let start = f.start_value(false).and_then(|v| crate::all_layouts::json(&v));
                    let spoilt = round % 2 == 0 || dice.roll(4) == 0;
                    match start.filter(|_| !spoilt) {
                        Some(good) => drop(inputs.insert(f.key.to_owned(), good)),
                        None if dice.roll(3) > 0 => {
                            drop(inputs.insert(f.key.to_owned(), dice.value(3)));
                        }
                        None => {}
                    }
                }
                if dice.roll(6) == 0 {
                    inputs.insert("reading_deg".into(), dice.value(1));
                }
                let mut request = json!({
                    "id": asked, "layout": layout.id(), "inputs": inputs,
                    "unit": if dice.roll(2) == 0 { "in" } else { "mm" },
                });
                if dice.roll(4) == 0 {
                    request["saw"] = if dice.roll(2) == 0 { json!({}) } else { dice.value(2) };
                }
                if dice.roll(8) == 0 {
                    request["off"] = json!(true);
                }
                let reply = solve_value(&request);
                assert_eq!(reply["id"], asked);
                well_formed(&reply);
                asked += 1;
            }
        }
    }
    assert!(asked >= 60);
}
