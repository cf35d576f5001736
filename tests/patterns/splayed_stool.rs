//! A stool measured where it stands: feet, legs under the top, stretchers on the legs' faces.

use crate::checks::{random_request, solid_of};
use offsquare_cuts::layouts::{Detail, Layout};
use offsquare_door::piece::piece_value;
use offsquare_geometry::{Body, Point3, Solid};
use offsquare_tests::dice::Dice;
use offsquare_work::patterns;
use serde_json::{Value, json};

fn f(v: &Value) -> f64 {
    v.as_f64().unwrap_or_else(|| panic!("a number: {v}"))
}

fn solids(answer: &Value, stick: &str) -> Vec<Solid> {
    let placed = answer["placed"].as_array().unwrap().iter();
    let own = placed
        .filter(|p| answer["parts"][p["part"].as_u64().unwrap() as usize]["stock"] == *stick)
        .map(solid_of);
    own.collect()
}

fn corners(solid: &Solid) -> Vec<Point3> {
    solid.faces.iter().flatten().copied().collect()
}

/// Middle of the corners at a height.
fn middle(corners: &[Point3], z: f64) -> (f64, f64) {
    let at: Vec<&Point3> = corners.iter().filter(|p| (p.z - z).abs() < 1e-9).collect();
    let n = at.len() as f64;
    (at.iter().map(|p| p.x).sum::<f64>() / n, at.iter().map(|p| p.y).sum::<f64>() / n)
}

#[test]
fn feet_tops_and_stretchers_are_where_they_were_asked() {
    let pattern = patterns::find("splayed_stool").unwrap();
    let mut dice = Dice(11);
    let mut made = 0;
    for k in 0..300 {
        let spread = if k % 3 == 0 { 2.5 } else { 1.25 };
        let request = random_request(pattern, &mut dice, spread, true);
        let answer = piece_value(&request);
        if answer.get("parts").is_none() {
            continue;
        }
        made += 1;
        let of = |key: &str| f(&request["sizes"][key]);
        let size = ["overall_height", "top_width", "top_depth", "footprint_width"];
        let size = size.map(of).into_iter().fold(of("footprint_depth"), f64::max);
        let near = |is: f64, want: f64| {
            assert!((is - want).abs() <= 1e-9 * size, "{is} is not {want}: {request}");
        };
        near(f(&answer["extent"]["height"]), of("overall_height"));
        near(f(&answer["extent"]["width"]), of("top_width").max(of("footprint_width")));
        near(f(&answer["extent"]["depth"]), of("top_depth").max(of("footprint_depth")));
        let high = of("overall_height") - of("top_thickness");
        let legs: Vec<Vec<Point3>> = solids(&answer, "leg").iter().map(corners).collect();
        assert_eq!(legs.len(), 4);
        for leg in &legs {
            let most = |z: f64, out: &dyn Fn(&Point3) -> f64| {
                let at = leg.iter().filter(|p| (p.z - z).abs() < 1e-9 * size);
                at.map(out).fold(f64::NEG_INFINITY, f64::max)
            };
            assert!(leg.iter().all(|p| p.z.abs().min((p.z - high).abs()) < 1e-9 * size));
            near(most(0.0, &|p| p.x.abs()), of("footprint_width") / 2.0);
            near(most(0.0, &|p| p.y.abs()), of("footprint_depth") / 2.0);
            near(most(high, &|p| p.x.abs()), of("top_width") / 2.0 - of("leg_inset"));
            near(most(high, &|p| p.y.abs()), of("top_depth") / 2.0 - of("leg_inset"));
            // Its front and its back face hold the level line from left to right.
            let mut ys: Vec<f64> = leg.iter().filter(|p| p.z.abs() < 1e-9).map(|p| p.y).collect();
            ys.sort_by(f64::total_cmp);
            near(ys[0], ys[ys.len() / 2 - 1]);
            near(ys[ys.len() / 2], ys[ys.len() - 1]);
        }
        stretchers(&answer, &request, &legs, high, size);
    }
    assert!(made > 100, "{made}");
}

/// Each stands in the middle of its legs at its height, its two ends flat on faces of legs.
fn stretchers(answer: &Value, request: &Value, legs: &[Vec<Point3>], high: f64, size: f64) {
    let at = f(&request["sizes"]["stretcher_height"]);
    // A leg's middle at the height, between its middles at foot and top.
    let stands = |leg: &Vec<Point3>| {
        let ((x, y), (u, v)) = (middle(leg, 0.0), middle(leg, high));
        ((x + (u - x) * at / high).abs(), (y + (v - y) * at / high).abs())
    };
    let (x, y) = stands(&legs[0]);
    let leg_faces: Vec<Vec<Point3>> =
        solids(answer, "leg").into_iter().flat_map(|s| s.faces).collect();
    let all = solids(answer, "stretcher");
    let asked = request["sizes"]["stretchers"].as_str().unwrap();
    assert_eq!(all.len(), if asked == "both" { 4 } else { 2 });
    for bar in &all {
        let own = corners(bar);
        let reach = |out: &dyn Fn(&Point3) -> f64| {
            let all = own.iter().map(out);
            all.fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), n| (a.min(n), b.max(n)))
        };
        let (low, top) = reach(&|p| p.z);
        assert!((f64::midpoint(low, top) - at).abs() < 1e-9 * size, "{request}");
        let seen = f(&request["sizes"]["stretcher_seen"]);
        assert!((top - low - seen).abs() < 1e-9 * size, "{request}");
        let across = [reach(&|p| p.x), reach(&|p| p.y)].map(|(a, b)| f64::midpoint(a, b).abs());
        let want = if across[0] > across[1] { [x, 0.0] } else { [0.0, y] };
        assert!((across[0] - want[0]).hypot(across[1] - want[1]) < 1e-9 * size, "{request}");
        let on_a_leg = bar.faces.iter().filter(|face| {
            let normal = |f: &[Point3]| (f[1] - f[0]).cross(f[2] - f[1]).unit().unwrap();
            leg_faces.iter().any(|leg| {
                let n = normal(leg);
                normal(face).dot(n) < -1.0 + 1e-9
                    && face.iter().all(|p| (*p - leg[0]).dot(n).abs() < 1e-8 * size)
            })
        });
        assert_eq!(on_a_leg.count(), 2, "{request}");
    }
}

#[test]
fn the_splay_may_be_given_and_the_legs_have_its_compound_cuts() {
    let answer = piece_value(&json!({
        "unit": "in", "pattern": "splayed_stool",
        "sizes": {"overall_height": 19, "top_thickness": 1, "top_width": 16, "top_depth": 12,
            "leg_inset": 1.5, "leg_section": 1.5, "splay_front_deg": 8, "splay_side_deg": 5,
            "stretchers": "both"},
    }));
    assert_eq!(answer["problems"], json!([]));
    let near = |v: &Value, want: f64| assert!((f(v) - want).abs() < 1e-9, "{v} {want}");
    let (a, b) = (8.0_f64.to_radians(), 5.0_f64.to_radians());
    // Out by height × tan of the lean on both sides of what stands under the top.
    near(&answer["sizes"]["footprint_width"], 13.0 + 36.0 * a.tan());
    near(&answer["sizes"]["footprint_depth"], 9.0 + 36.0 * b.tan());
    let parts = answer["parts"].as_array().unwrap();
    let names: Vec<&Value> = parts.iter().map(|p| &p["name"]).collect();
    assert_eq!(names, ["top", "leg", "front_stretcher", "side_stretcher"]);
    assert_eq!(parts[1]["qty"], 4);
    // On the front face, roll front: miter atan(tan a cos b), bevel b.
    for end in ["left", "right"] {
        near(&json!(f(&parts[1][end]["mitre_deg"]).abs()), (a.tan() * b.cos()).atan().to_degrees());
        near(&json!(f(&parts[1][end]["bevel_deg"]).abs()), 5.0);
        // A side stretcher meets a face that holds its cross direction: a plain miter of the side's lean.
        near(&json!(f(&parts[3][end]["mitre_deg"]).abs()), 5.0);
        near(&parts[3][end]["bevel_deg"], 0.0);
        assert!(f(&parts[2][end]["bevel_deg"]).abs() > 0.1);
    }
    // H k and the section's share of it: t k (|z·nF| + |z·nS|), nF and nS as the leg is turned.
    let k = (1.0 + a.tan().powi(2) + b.tan().powi(2)).sqrt();
    near(&parts[1]["length"], 18.0 * k + 1.5 * k * (b.sin() + a.tan() * b.cos() / k));
    near(&answer["sizes"]["edge_length"], 18.0 * k);
}

#[test]
fn legs_may_stand_upright() {
    let answer = piece_value(&json!({
        "unit": "in", "pattern": "splayed_stool",
        "sizes": {"overall_height": 17, "top_thickness": 1, "top_width": 16, "top_depth": 12,
            "leg_inset": 0, "leg_section": 2, "footprint_width": 16, "footprint_depth": 12,
            "stretcher_away": 1, "stretchers": "front and back"},
    }));
    assert_eq!(answer["problems"], json!([]));
    assert_eq!(answer["sizes"]["splay_front_deg"], 0.0);
    let parts = answer["parts"].as_array().unwrap();
    assert_eq!((&parts[1]["length"], parts.len()), (&json!(16.0), 3));
    assert_eq!((&parts[2]["name"], &parts[2]["qty"]), (&json!("stretcher"), &json!(2)));
    // Between two legs of 2 in, 16 over all.
    assert!((f(&parts[2]["length"]) - 12.0).abs() < 1e-9);
}

/// Sizes that differ from the start's.
type Changes<'a> = &'a [(&'a str, f64)];

#[test]
fn what_cannot_be_is_refused_with_the_size_that_would_just_do() {
    let start = json!({"overall_height": 18, "top_width": 15, "top_depth": 11, "top_thickness": 1,
        "leg_section": 1.5, "footprint_width": 18, "footprint_depth": 14, "leg_inset": 1,
        "stretcher_height": 6, "stretcher_seen": 1.5, "stretcher_away": 0.75, "stretchers": "both"});
    let ask = |changes: Changes| {
        let mut sizes = start.clone();
        for (key, value) in changes {
            sizes[*key] = json!(value);
        }
        piece_value(&json!({"unit": "in", "pattern": "splayed_stool", "sizes": sizes}))
    };
    let wide = [("footprint_width", 60.0), ("footprint_depth", 50.0), ("stretcher_height", 8.0)];
    // The size that is wrong, and the limit where it follows by hand.
    let cases: [(Changes, &str, Option<f64>); 11] = [
        (&[("overall_height", 0.5)], "overall_height", Some(1.0)),
        (&[("footprint_width", 10.0)], "footprint_width", Some(13.0)),
        (&[("footprint_depth", 5.0)], "footprint_depth", Some(9.0)),
        (&[("stretcher_height", 17.0)], "stretcher_height", Some(16.25)),
        (&[("stretcher_height", 0.25)], "stretcher_height", Some(0.75)),
        (&[("stretcher_height", 20.0)], "stretcher_height", Some(16.25)),
        (&[("stretcher_height", 8.5), ("stretcher_seen", 19.0)], "stretcher_seen", None),
        (&[("leg_inset", 6.0)], "leg_inset", None),
        (&[("leg_section", 9.0)], "leg_section", None),
        (&[("stretcher_away", 2.0)], "stretcher_away", None),
        (&[wide[0], wide[1], wide[2], ("stretcher_seen", 9.0)], "stretcher_seen", None),
    ];
    for (changes, key, by_hand) in cases {
        let refused = ask(changes);
        let problems = refused["problems"].as_array().unwrap();
        let paths: Vec<&Value> = problems.iter().map(|p| &p["path"]).collect();
        assert_eq!(paths, [&json!(format!("/sizes/{key}"))]);
        let limit = f(&problems[0]["limit"]);
        if let Some(want) = by_hand {
            assert!((limit - want).abs() < 1e-9, "{key}: {limit}");
        }
        // With everything else as it was, a hair to the good side of it can be made.
        let given = changes.iter().find(|(k, _)| *k == key).unwrap().1;
        let hair = if given > limit { -1e-7 } else { 1e-7 };
        let at = |share: f64| {
            let mut changes = changes.to_vec();
            changes.push((key, limit * (1.0 + share)));
            ask(&changes)
        };
        if key == "overall_height" {
            // As low as the top is thick it stands by nothing: the stretchers stop it next.
            continue;
        }
        assert!(at(hair).get("parts").is_some(), "{key} {limit} {}", at(hair)["problems"]);
        assert!(at(-hair).get("parts").is_none(), "{key} {limit}");
    }
    // All that is wrong is told at once.
    let refused =
        ask(&[("footprint_width", 10.0), ("stretcher_height", 17.0), ("leg_section", 9.0)]);
    assert_eq!(refused["problems"].as_array().unwrap().len(), 3);
}

/// At the height that the refusal names, front and side stretchers just touch.
#[test]
fn stretchers_all_around_touch_at_the_limit() {
    let pattern = patterns::find("splayed_stool").unwrap();
    let form = &pattern.forms[0];
    let length = |l: f64| offsquare_cuts::inputs::Value::Length(offsquare_units::Length(l));
    let mut seen = 0;
    for (wide, deep, away) in
        [(60.0, 50.0, 0.75), (30.0, 60.0, 0.75), (70.0, 20.0, 1.25), (50.0, 50.0, 1.4)]
    {
        let mut inputs = form.start_inputs(false);
        for (key, value) in [("footprint_width", wide), ("footprint_depth", deep)] {
            inputs.set(key, length(value));
        }
        inputs.set("stretcher_away", length(away));
        inputs.set("stretcher_height", length(8.0));
        inputs.set("stretcher_seen", length(15.0));
        let problems = pattern.solve(&inputs, Detail::Full).problems;
        let limit = problems[0].limit.unwrap().number();
        assert_eq!(problems[0].field(), Some("stretcher_seen"), "{problems:?}");
        inputs.set("stretcher_seen", length(limit));
        let solution = pattern.solve(&inputs, Detail::Full).solutions.remove(0);
        let bars: Vec<&Body> = solution.members[2..].iter().flat_map(|m| &m.bodies).collect();
        let common = |grow: f64| {
            let both = [&bars[1].planes[..], &bars[3].planes].concat();
            Body::of(both.into_iter().map(|p| p.moved(grow)).collect()).solid().volume()
        };
        assert!(common(0.0) < 1e-9, "{limit}");
        assert!(common(1e-3) > 1e-12, "{limit}: {}", common(1e-3));
        seen += 1;
    }
    assert_eq!(seen, 4);
}
