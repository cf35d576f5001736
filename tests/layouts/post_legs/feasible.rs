//! What cannot be made is said in a plain sentence with the limit that was passed.

use crate::polygon;
use crate::request::{Dice, answers, ask, near, problems};
use serde_json::{Value, json};

/// The one stop of a request that has no solution: its path, limit and sentence.
#[track_caller]
fn stop(inputs: Value) -> (String, f64, String) {
    let reply = ask(inputs);
    assert!(answers(&reply).is_empty(), "{reply}");
    let p = problems(&reply).iter().find(|p| p["level"] == "stop").expect("a stop");
    let text = p["text"].as_str().expect("a sentence").to_owned();
    assert!(text.len() > 10 && text.ends_with('.') && !text.contains("NaN"), "{text}");
    (p["path"].as_str().expect("a path").to_owned(), p["limit"].as_f64().unwrap_or(f64::NAN), text)
}

#[track_caller]
fn stops(inputs: Value, path: &str, limit: f64) {
    let (at, got, text) = stop(inputs.clone());
    assert_eq!(at, path, "{inputs}: {text}");
    near(got, limit, 1e-9 * limit.abs().max(1.0), &text);
}

fn legs(given: &str, value: f64, foot: &str, footprint: f64, depth: f64) -> Value {
    json!({"post_width": 4, "footprint": footprint, "leg_depth": depth, "given": given, "value": value, "foot": foot})
}

#[test]
fn the_limits_of_geometry() {
    // F ≤ p.
    stops(legs("long_point", 12.0, "floor", 4.0, 1.5), "/inputs/footprint", 4.0);
    stops(legs("long_point", 12.0, "floor", 3.0, 1.5), "/inputs/footprint", 4.0);
    stops(
        json!({"post_width": 4, "cleat": 1, "footprint": 5.5, "leg_depth": 1, "given": "splay", "value": 30}),
        "/inputs/footprint",
        6.0,
    );
    // Level foot: R > d, long_point > R²/√(R² − d²); R = 5, d = 3 gives 25/4 by hand.
    stops(legs("splay", 20.0, "floor", 14.0, 5.0), "/inputs/leg_depth", 5.0);
    stops(legs("long_point", 6.0, "floor", 14.0, 3.0), "/inputs/value", 6.25);
    // The inner edge vanishes where cos(lean) = d/R = 0.6: rise_top R·d/4 = 3.75, the middle half of it.
    stops(legs("rise_top", 3.5, "floor", 14.0, 3.0), "/inputs/value", 3.75);
    stops(legs("rise_middle", 1.5, "floor", 14.0, 3.0), "/inputs/value", 1.875);
    stops(legs("splay", 60.0, "floor", 14.0, 3.0), "/inputs/value", 0.6_f64.acos().to_degrees());
    // Square foot: R = 5, d = 3.
    stops(legs("long_point", 4.5, "square", 14.0, 3.0), "/inputs/value", 5.0);
    stops(legs("short_point", 3.5, "square", 14.0, 3.0), "/inputs/value", 4.0);
    stops(legs("rise_top", 2.9, "square", 14.0, 3.0), "/inputs/value", 3.0);
    stops(legs("rise_middle", 1.4, "square", 14.0, 3.0), "/inputs/value", 1.5);
    stops(legs("splay", 90.0, "square", 14.0, 3.0), "/inputs/value", 90.0);
    stops(legs("splay", 0.0, "square", 14.0, 3.0), "/inputs/value", 0.0);
    // R = 3 < d = 5: long_point < R·d/√(d² − R²) = 15/4, rise_top < d²/4 = 6.25, lean > acos(3/5).
    stops(legs("long_point", 4.0, "square", 10.0, 5.0), "/inputs/value", 3.75);
    stops(legs("long_point", 2.0, "square", 10.0, 5.0), "/inputs/value", 3.0);
    stops(legs("rise_top", 6.5, "square", 10.0, 5.0), "/inputs/value", 6.25);
    stops(legs("short_point", 3.5, "square", 10.0, 5.0), "/inputs/value", 3.0);
    stops(legs("splay", 50.0, "square", 10.0, 5.0), "/inputs/value", 0.6_f64.acos().to_degrees());
}

#[test]
fn a_leg_too_short_says_what_it_needs() {
    // PRODUCT.md's own sentence: post 3.5, footprint 17.5, R = 7; 7²/√(7² − 1.5²) = 7.1666 by hand.
    let (path, limit, text) = stop(json!({"post_width": 3.5, "footprint": 17.5, "leg_depth": 1.5,
        "long_point_length": 7}));
    assert_eq!(path, "/inputs/long_point_length");
    near(limit, 49.0 / (49.0_f64 - 2.25).sqrt(), 1e-12, "needs");
    assert!(text.starts_with("At this footprint the leg needs at least "), "{text}");
}

#[test]
fn the_limit_parts_what_can_be_made_from_what_cannot() {
    let mut dice = Dice::new(41);
    let mut seen = 0;
    for turn in 0..600 {
        let r = dice.between(0.5, 9.0);
        let d = dice.between(0.2, 1.6) * r;
        let square = dice.coin();
        let foot = if square { "square" } else { "floor" };
        let given =
            ["long_point", "rise_top", "rise_middle", "rise_bottom", "short_point", "splay"]
                [turn % 6];
        let value =
            if given == "splay" { dice.between(0.0, 90.0) } else { dice.between(0.01, 2.0) * r };
        let ask_for = |v: f64, d: f64| {
            ask(json!({"post_width": 2, "footprint": 2.0 + 2.0 * r,
            "leg_depth": d, "given": given, "value": v, "foot": foot}))
        };
        let reply = ask_for(value, d);
        let Some(p) = problems(&reply).first() else {
            continue;
        };
        let limit = p["limit"].as_f64().expect("every refusal has a limit");
        seen += 1;
        if p["path"] == "/inputs/leg_depth" {
            near(limit, r, 1e-12 * r, "level foot: R > d");
            assert!(polygon::leg(2.0, 2.0 + 2.0 * r, d, 30.0, false).is_none());
            continue;
        }
        let inside = limit + (limit - value).signum() * 1e-6 * limit.max(1.0);
        let outside = limit - (limit - value).signum() * 1e-6 * limit.max(1.0);
        assert!(
            !answers(&ask_for(inside, d)).is_empty(),
            "{given} {value} → {inside}, R {r} d {d} {foot}: {reply}"
        );
        if outside > 0.0 && outside < 90.0 {
            assert!(
                answers(&ask_for(outside, d)).is_empty(),
                "{given} {outside}, R {r} d {d} {foot}"
            );
        }
    }
    assert!(seen > 100, "{seen}");
}

#[test]
fn the_post_stays_off_the_floor_and_on_its_joint() {
    let with = |extra: Value| {
        let mut inputs = json!({"post_width": 4, "footprint": 18, "leg_depth": 1.5, "given": "rise_bottom", "value": 5});
        for (k, v) in extra.as_object().expect("object") {
            inputs[k] = v.clone();
        }
        inputs
    };
    // Post bottom below the floor: at most the rise of the joint's lower end.
    stops(with(json!({"post_below_joint": 5.5})), "/inputs/post_below_joint", 5.0);
    // Just on the floor is fine.
    let on_floor = ask(with(json!({"post_below_joint": 5})));
    assert_eq!(on_floor["solutions"][0]["answers"]["post_bottom_height"], json!(0.0));
    // Joint higher than the post's top: below + joint is needed.
    let joint =
        on_floor["solutions"][0]["answers"]["joint_length_on_post"].as_f64().expect("joint");
    stops(
        with(json!({"post_length": 2, "post_below_joint": 1})),
        "/inputs/post_length",
        1.0 + joint,
    );
    // Overall height below the post's length, and at it.
    let overall = |v: f64| {
        json!({"post_width": 4, "footprint": 18, "leg_depth": 1.5, "post_length": 20,
        "given": "overall_height", "value": v})
    };
    stops(overall(19.0), "/inputs/value", 20.0);
    stops(overall(20.0), "/inputs/value", 20.0);
    assert!(!answers(&ask(overall(21.0))).is_empty());
    let (path, _, text) =
        stop(json!({"post_width": 4, "footprint": 18, "leg_depth": 1.5, "overall_height": 25}));
    assert_eq!(
        (path.as_str(), text.as_str()),
        ("/inputs/post_length", "Post length: missing, type it in.")
    );
}

#[test]
fn legs_that_hit_each_other() {
    let of = |legs: u32, shape: &str, breadth: f64, cleat: f64| {
        ask(
            json!({"post_width": 3, "footprint": 20, "leg_depth": 1.5, "given": "splay", "value": 45,
            "legs": legs, "post_shape": shape, "leg_breadth": breadth, "cleat": cleat}),
        )
    };
    let level = |reply: &Value| {
        problems(reply).first().map_or(String::new(), |p| {
            format!("{} {}", p["level"].as_str().unwrap_or(""), p["path"].as_str().unwrap_or(""))
        })
    };
    // GEOMETRY 3: broader than p + 2c (four), √3 (p + 2c) (three); a pair never.
    assert_eq!(level(&of(4, "square", 3.0, 0.0)), "");
    assert_eq!(level(&of(4, "square", 3.01, 0.0)), "stop /inputs/leg_breadth");
    assert_eq!(level(&of(4, "square", 4.9, 1.0)), "warn /inputs/leg_breadth");
    assert_eq!(level(&of(4, "square", 5.01, 1.0)), "stop /inputs/leg_breadth");
    // A hexagon 3 across the flats has sides of 3/√3 = 1.732.
    assert_eq!(level(&of(3, "hexagonal", 1.73, 0.0)), "");
    assert_eq!(level(&of(3, "hexagonal", 1.74, 0.0)), "warn /inputs/leg_breadth");
    // Two breadths at 120° whose middles are p/2 from the axis meet at (p/2)·tan 60° = 2.598 each way.
    let meet = 2.0 * 1.5 * 60.0_f64.to_radians().tan();
    assert_eq!(level(&of(3, "hexagonal", meet - 1e-6, 0.0)), "warn /inputs/leg_breadth");
    assert_eq!(level(&of(3, "hexagonal", meet + 1e-6, 0.0)), "stop /inputs/leg_breadth");
    assert_eq!(level(&of(2, "square", 9.0, 0.0)), "warn /inputs/leg_breadth");
    assert_eq!(level(&of(2, "square", 2.0, 0.0)), "");
    // A flat on a round post: a warning, and an answer.
    let round = of(4, "round", 1.5, 0.0);
    assert_eq!(level(&round), "warn /inputs/post_shape");
    assert_eq!(answers(&round).len(), 1);
    // Sections that cannot carry so many legs.
    for (n, shape) in [(3, "square"), (4, "hexagonal"), (4, "triangular"), (2, "triangular")] {
        assert_eq!(level(&of(n, shape, 1.5, 0.0)), "stop /inputs/post_shape", "{n} {shape}");
    }
}

#[test]
fn nothing_typed_gives_nan_or_panics() {
    let numbers =
        [0.0, -1.0, 1e-300, 5e-324, 1e-12, 1.0, 3.5, 17.5, 1e9, 1e8, 1e308, 90.0, 89.999_999_999];
    let mut dice = Dice::new(53);
    let keys = [
        "post_width",
        "footprint",
        "leg_depth",
        "value",
        "post_below_joint",
        "post_length",
        "cleat",
        "leg_breadth",
        "big_end_depth",
        "small_end_depth",
        "taper_length",
        "small_end_breadth",
        "shim_at_from_big_end",
        "first_contact_from_big_end",
    ];
    for turn in 0..6000 {
        let mut inputs = json!({"foot": if dice.coin() { "square" } else { "floor" }});
        let tapered = turn % 3 == 0;
        for (i, key) in keys.iter().enumerate() {
            let wanted = match i {
                0 | 1 => true,
                2 | 3 => !tapered,
                8..=10 => tapered,
                11.. => tapered && dice.coin(),
                _ => dice.between(0.0, 1.0) < 0.3,
            };
            if wanted {
                inputs[key] = json!(numbers[dice.between(0.0, numbers.len() as f64) as usize]);
            }
        }
        if !tapered {
            let given = [
                "splay",
                "long_point",
                "short_point",
                "rise_top",
                "rise_middle",
                "rise_bottom",
                "overall_height",
            ];
            inputs["given"] = json!(given[dice.between(0.0, 7.0) as usize]);
        }
        let reply = ask(inputs.clone());
        let said =
            !answers(&reply).is_empty() || problems(&reply).iter().any(|p| p["level"] == "stop");
        assert!(said, "{inputs}: {reply}");
        let text = reply["solutions"].to_string();
        assert!(!text.contains("null"), "{inputs}: {text}");
    }
    for bad in [json!("12"), json!(null), json!([1]), json!(true), json!({})] {
        let reply = ask(
            json!({"post_width": bad, "footprint": 17.5, "leg_depth": 1.5, "given": "splay", "value": 40}),
        );
        assert!(problems(&reply).iter().any(|p| p["path"] == "/inputs/post_width"), "{reply}");
    }
}
