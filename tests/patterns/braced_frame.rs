//! A braced frame against outlines that the test clips out of the opening itself.

use crate::checks::{random_request, solid_of};
use offsquare_door::piece::piece_value;
use offsquare_tests::dice::Dice;
use offsquare_work::patterns;
use serde_json::{Value, json};

type At = (f64, f64);

fn f(v: &Value) -> f64 {
    v.as_f64().unwrap_or_else(|| panic!("a number: {v}"))
}

/// What of a convex outline lies where n · p ≤ at.
fn clipped(outline: &[At], n: At, at: f64) -> Vec<At> {
    let over = |p: At| n.0 * p.0 + n.1 * p.1 - at;
    let mut out = Vec::new();
    for (i, p) in outline.iter().enumerate() {
        let q = outline[(i + 1) % outline.len()];
        let (a, b) = (over(*p), over(q));
        if a <= 0.0 {
            out.push(*p);
        }
        if (a < 0.0 && b > 0.0) || (a > 0.0 && b < 0.0) {
            let share = a / (a - b);
            out.push((p.0 + (q.0 - p.0) * share, p.1 + (q.1 - p.1) * share));
        }
    }
    out
}

fn area(outline: &[At]) -> f64 {
    let pairs = outline.iter().zip(outline.iter().cycle().skip(1));
    pairs.map(|(a, b)| (a.0 * b.1 - a.1 * b.0) / 2.0).sum()
}

/// The slope of a strip between two corners, by halves: flat on the rails w sin f = h cos f + s, the root
/// below 90°; on the stiles h cos f = w sin f + s with f from the level.
fn slope(w: f64, h: f64, s: f64, ends: &str) -> f64 {
    let over = |f: f64| match ends {
        "rails" => w * f.sin() - h * f.cos() - s,
        "stiles" => w * f.sin() - h * f.cos() + s,
        _ => w * f.sin() - h * f.cos(),
    };
    let (mut low, mut high) = (0.0, std::f64::consts::FRAC_PI_2);
    for _ in 0..200 {
        let middle = f64::midpoint(low, high);
        if over(middle) < 0.0 { low = middle } else { high = middle }
    }
    low
}

/// A strip's outline in an opening, lower left corner at the origin: all of the opening between two lines.
fn outline(w: f64, h: f64, s: f64, ends: &str) -> Vec<At> {
    let f = slope(w, h, s, ends);
    let left = (-f.sin(), f.cos());
    // How far each line lies to the left of the lower left corner.
    let (lower, upper) = match ends {
        "corner" => (-s / 2.0, s / 2.0),
        "stiles" => (0.0, s),
        _ => (-s, 0.0),
    };
    let opening = [(0.0, 0.0), (w, 0.0), (w, h), (0.0, h)];
    clipped(&clipped(&opening, left, upper), (-left.0, -left.1), -lower)
}

/// Corners of the placed parts of a stick, seen from the front, and what each holds.
fn seen_of(answer: &Value, stick: &str) -> Vec<(Vec<At>, f64)> {
    let mut out = Vec::new();
    for placed in answer["placed"].as_array().unwrap() {
        if answer["parts"][placed["part"].as_u64().unwrap() as usize]["stock"] == stick {
            let corners = placed["vertices"].as_array().unwrap();
            let corners = corners.iter().map(|v| (f(&v[0]), f(&v[2]))).collect();
            out.push((corners, solid_of(placed).volume()));
        }
    }
    out
}

fn assert_has(corners: &[At], outline: &[At], size: f64, request: &Value) {
    for p in outline {
        let near = corners.iter().any(|q| (p.0 - q.0).hypot(p.1 - q.1) < 1e-8 * size);
        assert!(near, "no corner at {p:?} of {request}");
    }
}

#[test]
fn braces_lie_in_the_opening_where_the_landing_says() {
    let pattern = patterns::find("braced_frame").unwrap();
    let mut dice = Dice(7);
    let mut made = [0; 4];
    for k in 0..300 {
        let spread = if k % 3 == 0 { 2.5 } else { 1.25 };
        let request = random_request(pattern, &mut dice, spread, true);
        let answer = piece_value(&request);
        if answer.get("parts").is_none() {
            continue;
        }
        let of = |key: &str| f(&request["sizes"][key]);
        let word = |key: &str| request["sizes"][key].as_str().unwrap();
        let (width, height, thick) = (of("outside_width"), of("outside_height"), of("thickness"));
        let size = width.max(height).max(thick);
        for (key, asked) in [("width", width), ("height", height), ("depth", thick)] {
            assert!((f(&answer["extent"][key]) - asked).abs() <= 1e-9 * size, "{key} {request}");
        }
        let (s, ends) = (of("strip_seen"), word("ends"));
        let (w, h) = (width - 2.0 * of("stile_seen"), height - 2.0 * of("rail_seen"));
        let near = |is: f64, want: f64| {
            assert!((is - want).abs() < 1e-8 * size * size * thick, "{is} {want} {request}");
        };
        let shifted = |p: &At, up: f64, z: f64| (p.0 - w / 2.0, z + up * p.1);
        let braces = seen_of(&answer, "brace");
        match word("braces") {
            "none" => {
                made[0] += 1;
                assert!(braces.is_empty());
            }
            "one" => {
                made[1] += 1;
                let own = outline(w, h, s, ends);
                let there: Vec<At> = own.iter().map(|p| shifted(p, 1.0, of("rail_seen"))).collect();
                assert_has(&braces[0].0, &there, size, &request);
                near(braces[0].1, area(&own) * thick);
            }
            "k" => {
                made[2] += 1;
                let own = outline(w, h / 2.0, s, ends);
                for ((corners, volume), up) in braces.iter().zip([1.0, -1.0]) {
                    let there: Vec<At> = own.iter().map(|p| shifted(p, up, height / 2.0)).collect();
                    assert_has(corners, &there, size, &request);
                    near(*volume, area(&own) * thick);
                }
            }
            _ => {
                made[3] += 1;
                let own = outline(w, h, s, ends);
                let there: Vec<At> = own.iter().map(|p| shifted(p, 1.0, of("rail_seen"))).collect();
                let mirrored: Vec<At> = there.iter().map(|p| (-p.0, p.1)).collect();
                let (mut second, mut volume) = (Vec::new(), 0.0);
                for (corners, own) in &braces[1..] {
                    second.extend(corners.iter().copied());
                    volume += own;
                }
                assert_has(&braces[0].0, &there, size, &request);
                assert_has(&second, &mirrored, size, &request);
                // Two strips at a slope f cross in a rhombus of s² / sin 2f.
                let crossing = s * s / (2.0 * slope(w, h, s, ends)).sin() * thick;
                let laps = word("joint") == "half_lap";
                near(braces[0].1, area(&own) * thick - if laps { crossing / 2.0 } else { 0.0 });
                near(volume, area(&own) * thick - if laps { crossing / 2.0 } else { crossing });
            }
        }
    }
    assert!(made.iter().all(|n| *n > 20), "{made:?}");
}

#[test]
fn a_brace_flat_on_the_rails_has_the_published_reading() {
    // 30 by 44 inside, a strip of 2 1/2: 31.596153° at both ends, either edge 51.657616 long (the plan's own
    // worked example); long point to long point √(30² + 44² - 2.5²).
    let answer = piece_value(&json!({
        "unit": "in", "pattern": "braced_frame",
        "sizes": {"opening_width": 30, "opening_height": 44, "rail_seen": 2.5, "stile_seen": 2.5,
            "strip_seen": 2.5, "thickness": 1, "braces": "one", "ends": "rails"},
    }));
    assert_eq!(answer["problems"], json!([]));
    let near = |v: &Value, want: f64, by: f64| assert!((f(v) - want).abs() < by, "{v} {want}");
    near(&answer["sizes"]["outside_width"], 35.0, 1e-9);
    near(&answer["sizes"]["outside_height"], 49.0, 1e-9);
    near(&answer["sizes"]["reading_deg"], 31.596153, 1e-6);
    near(&answer["sizes"]["edge_length"], 51.657616, 1e-6);
    let brace = &answer["parts"][2];
    assert_eq!((&brace["name"], &brace["stock"]), (&json!("brace"), &json!("brace")));
    near(&brace["length"], (900.0_f64 + 1936.0 - 6.25).sqrt(), 1e-9);
    // It rises to the right, so that its upper edge reaches further at the lower end, its lower edge at the
    // upper end.
    near(&brace["left"]["mitre_deg"], -31.596153, 1e-6);
    near(&brace["right"]["mitre_deg"], 31.596153, 1e-6);
}

#[test]
fn mitered_corners_of_unlike_widths_meet_corner_to_corner() {
    let answer = piece_value(&json!({
        "unit": "in", "pattern": "braced_frame",
        "sizes": {"outside_width": 20, "outside_height": 30, "rail_seen": 2, "stile_seen": 3,
            "thickness": 1, "braces": "none", "corner": "mitered"},
    }));
    assert_eq!(answer["problems"], json!([]));
    // tan of the rail's reading is 3/2.
    let rail = 1.5_f64.atan().to_degrees();
    let parts = answer["parts"].as_array().unwrap();
    for (part, name, length, reading) in
        [(&parts[0], "rail", 20.0, rail), (&parts[1], "stile", 30.0, 90.0 - rail)]
    {
        assert_eq!((&part["name"], &part["qty"], f(&part["away"])), (&json!(name), &json!(2), 1.0));
        assert!((f(&part["length"]) - length).abs() < 1e-9);
        for end in ["left", "right"] {
            assert!((f(&part[end]["mitre_deg"]) - reading).abs() < 1e-9, "{part}");
        }
    }
    for (corners, _) in seen_of(&answer, "rail") {
        for x in [-1.0, 1.0] {
            let inner = corners.iter().any(|p| (p.0 - x * 7.0).abs() < 1e-9);
            let outer = corners.iter().any(|p| (p.0 - x * 10.0).abs() < 1e-9);
            assert!(inner && outer);
        }
    }
}

#[test]
fn crossed_braces_are_lapped_half_their_thickness_or_one_is_in_halves() {
    let asked = |ends: &str, joint: &str| {
        piece_value(&json!({
            "unit": "mm", "pattern": "braced_frame",
            "sizes": {"thickness": 30, "braces": "crossed", "ends": ends, "joint": joint},
        }))
    };
    let names = |answer: &Value| -> Vec<(String, u64)> {
        let braces = answer["parts"].as_array().unwrap().iter().filter(|p| p["stock"] == "brace");
        braces
            .map(|p| (p["name"].as_str().unwrap().to_owned(), p["qty"].as_u64().unwrap()))
            .collect()
    };
    let lapped = asked("corner", "half_lap");
    assert_eq!(names(&lapped), [("first_brace".into(), 1), ("second_brace".into(), 1)]);
    for (part, in_back) in [(2, true), (3, false)] {
        let lap = &lapped["parts"][part]["laps"][0];
        assert_eq!(f(&lap["depth"]), 15.0);
        assert_eq!(lap["in_back"], in_back);
    }
    // From the front the first brace is whole: its lap's floor lies 15 mm deep.
    let of = |part: u64| {
        let placed = lapped["placed"].as_array().unwrap().iter();
        placed.clone().find(|p| p["part"] == part).unwrap()["vertices"].as_array().unwrap().clone()
    };
    for part in [2, 3] {
        assert_eq!(of(part).iter().filter(|v| (f(&v[1]) - 15.0).abs() < 1e-9).count(), 4);
    }
    let like = asked("rails", "second_in_halves");
    assert_eq!(names(&like), [("first_brace".into(), 1), ("half_of_the_second_brace".into(), 2)]);
    let unlike = asked("edge", "second_in_halves");
    let upper = "upper_half_of_the_second_brace".to_owned();
    assert_eq!(names(&unlike)[1..], [("lower_half_of_the_second_brace".into(), 1), (upper, 1)]);
}

#[test]
fn a_k_has_its_apex_in_the_middle_of_the_left_stile() {
    let answer = piece_value(&json!({
        "unit": "in", "pattern": "braced_frame",
        "sizes": {"outside_width": 60, "outside_height": 40, "rail_seen": 4, "stile_seen": 3,
            "strip_seen": 3, "braces": "k", "ends": "corner"},
    }));
    assert_eq!(answer["problems"], json!([]));
    assert_eq!(
        (&answer["parts"][2]["name"], &answer["parts"][2]["qty"]),
        (&json!("brace"), &json!(2))
    );
    // Each runs from (-27, 20) to a right corner of the opening: √(54² + 16²) from point to point.
    assert!((f(&answer["parts"][2]["length"]) - 54.0_f64.hypot(16.0)).abs() < 1e-9);
    for ((corners, _), z) in seen_of(&answer, "brace").iter().zip([36.0, 4.0]) {
        assert_has(corners, &[(-27.0, 20.0), (27.0, z)], 60.0, &json!("k"));
    }
}

#[test]
fn what_cannot_be_is_refused_with_the_size_that_would_just_do() {
    let ask = |braces: &str, ends: &str, joint: &str, strip: f64| {
        piece_value(&json!({
            "unit": "in", "pattern": "braced_frame",
            "sizes": {"outside_width": 40, "outside_height": 31, "rail_seen": 3, "stile_seen": 4,
                "strip_seen": strip, "braces": braces, "ends": ends, "joint": joint},
        }))
    };
    for braces in ["one", "crossed", "k"] {
        for ends in ["corner", "rails", "stiles", "edge"] {
            for joint in ["half_lap", "second_in_halves"] {
                let refused = ask(braces, ends, joint, 60.0);
                let problems = refused["problems"].as_array().unwrap();
                assert_eq!(problems.len(), 1, "{refused}");
                assert_eq!(problems[0]["path"], "/sizes/strip_seen");
                let limit = f(&problems[0]["limit"]);
                assert!(ask(braces, ends, joint, limit * (1.0 - 1e-7)).get("parts").is_some());
                assert!(ask(braces, ends, joint, limit * (1.0 + 1e-7)).get("parts").is_none());
            }
        }
    }
    let narrow = piece_value(&json!({
        "unit": "in", "pattern": "braced_frame", "sizes": {"outside_width": 7, "outside_height": 5},
    }));
    let problems = narrow["problems"].as_array().unwrap();
    let told: Vec<(&str, f64)> =
        problems.iter().map(|p| (p["path"].as_str().unwrap(), f(&p["limit"]))).collect();
    assert_eq!(told, [("/sizes/outside_width", 7.0), ("/sizes/outside_height", 7.0)]);
}
