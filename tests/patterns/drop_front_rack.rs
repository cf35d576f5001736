//! A rack whose panels fold down: figures worked out by hand; open panels turned about their pins in the test
//! and told apart from all else by planes.

use crate::checks::{check, random_request, refusal, solid_of};
use offsquare_door::piece::piece_value;
use offsquare_geometry::{Point3, Solid, Vector3};
use offsquare_tests::dice::Dice;
use offsquare_work::patterns;
use serde_json::{Value, json};

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or(f64::NAN)
}

fn near(value: &Value, expected: f64) {
    let is = number(value);
    assert!((is - expected).abs() < 1e-9, "{is} is not {expected}");
}

fn rack(sizes: Value) -> Value {
    json!({"unit": "in", "pattern": "drop_front_rack", "sizes": sizes})
}

/// Three panels of 9 in 36, frame 1 1/2, so that gaps are
/// (33 - 27) / 4 = 1 1/2; the pin 1 1/4 in front of the back, 3/8 up and 1/4 into the panel from its foot.
#[test]
fn sizes_parts_and_cords_are_those_worked_out_by_hand() {
    let request = rack(json!({
        "width": 24, "height": 36, "frame_seen": 1.5, "frame_thickness": 1.5, "panels": 3,
        "panel_height": 9, "panel_thickness": 0.5, "opening_deg": 90, "back_thickness": 0.25,
        "hinge_x": 1.25, "inner_face_from_axis": -0.25, "lower_edge_from_axis": -0.375,
        "panel_hole_up_panel": 8, "back_hole_height": 8,
    }));
    assert!(check(&request));
    let answer = piece_value(&request);
    assert_eq!(answer["problems"], json!([]));
    // 1/4 of the back, then 1 1/2: frame and panels stand out alike.
    assert_eq!(answer["extent"], json!({"width": 24.0, "depth": 1.75, "height": 36.0}));
    let sizes = &answer["sizes"];
    near(&sizes["gap_between"], 1.5);
    near(&sizes["panel_width"], 24.0 - 3.0 - 0.25);
    for (i, lower) in [3.0, 13.5, 24.0].into_iter().enumerate() {
        near(&sizes["hinge_heights"][i], lower + 0.375);
        near(&sizes["back_hole_heights"][i], lower + 8.375);
    }
    // Level, the hole lies 8 - 3/8 in front of the pin and 1/4 above it: 8.875 in front of the back and
    // 7.75 below the hole there.
    near(&sizes["cord_between_faces"], 8.875_f64.hypot(7.75));
    near(&sizes["cord_to_buy"], 6.0 * (8.875_f64.hypot(7.75) + 0.75));
    let parts: Vec<(&str, &str, u64, f64, f64)> = answer["parts"]
        .as_array()
        .unwrap()
        .iter()
        .map(|p| {
            let text = |key: &str| p[key].as_str().unwrap();
            let (length, seen) = (number(&p["length"]), number(&p["seen"]));
            (text("name"), text("stock"), p["qty"].as_u64().unwrap(), length, seen)
        })
        .collect();
    assert_eq!(
        parts,
        [
            ("frame_stile", "frame", 2, 36.0, 1.5),
            ("frame_rail", "frame", 2, 21.0, 1.5),
            ("back", "back", 1, 36.0, 24.0),
            ("panel", "panel", 3, 20.75, 9.0),
        ]
    );
    assert_eq!(answer["parts"][3]["joined"], "hinge and cord");
}

/// A solid turned about its pin by so many degrees: its upper end forward (toward -y) and down.
fn opened(solid: &Solid, pin: (f64, f64), degrees: f64) -> Solid {
    let (sin, cos) = degrees.to_radians().sin_cos();
    let turn = |p: &Point3| {
        let (y, z) = (p.y - pin.0, p.z - pin.1);
        Point3::new(p.x, pin.0 + y * cos - z * sin, pin.1 + z * cos + y * sin)
    };
    Solid { faces: solid.faces.iter().map(|f| f.iter().map(turn).collect()).collect() }
}

/// Whether the plane of a face has all of the other solid outside it. Of two blocks with one direction in
/// common there is such a face wherever they are apart.
fn apart(a: &Solid, b: &Solid, hair: f64) -> bool {
    let parts = |a: &Solid, b: &Solid| {
        a.faces.iter().any(|face| {
            let normal: Vector3 = (face[1] - face[0]).cross(face[2] - face[1]).unit().unwrap();
            b.faces.iter().flatten().all(|p| (*p - face[0]).dot(normal) > -hair)
        })
    };
    parts(a, b) || parts(b, a)
}

/// Panels of an answer, each with its pin (y, z), and all other solids.
type Placed = (Vec<(Solid, (f64, f64))>, Vec<Solid>);

fn placed(answer: &Value) -> Placed {
    let sizes = &answer["sizes"];
    let y = -number(&sizes["back_thickness"]) - number(&sizes["hinge_x"]);
    let (mut panels, mut rest) = (Vec::new(), Vec::new());
    for one in answer["placed"].as_array().unwrap() {
        let solid = solid_of(one);
        if answer["parts"][one["part"].as_u64().unwrap() as usize]["name"] == "panel" {
            let low = solid.faces.iter().flatten().map(|p| p.z).fold(f64::INFINITY, f64::min);
            panels.push((solid, (y, low - number(&sizes["lower_edge_from_axis"]))));
        } else {
            rest.push(solid);
        }
    }
    (panels, rest)
}

/// Whether every panel, opened so far, is clear of the frame, the back and the shut panels, and of the next
/// panels open as far.
fn clear(answer: &Value, degrees: f64, open_together: bool) -> bool {
    let (panels, rest) = placed(answer);
    let hair = 1e-7 * number(&answer["extent"]["height"]);
    (0..panels.len()).all(|i| {
        let open = opened(&panels[i].0, panels[i].1, degrees);
        let others = (0..panels.len()).filter(|j| *j != i);
        rest.iter().all(|r| apart(&open, r, hair))
            && others.clone().all(|j| apart(&open, &panels[j].0, hair))
            && (!open_together
                || others
                    .clone()
                    .all(|j| apart(&open, &opened(&panels[j].0, panels[j].1, degrees), hair)))
    })
}

#[test]
fn three_hundred_random_racks_have_their_sizes_and_panels_that_open_clear() {
    let pattern = patterns::find("drop_front_rack").unwrap();
    let mut dice = Dice(77);
    let (mut made, mut stopped) = (0, 0);
    for tried in 0..3000 {
        if made == 300 {
            break;
        }
        let spread = if tried % 3 == 0 { 2.5 } else { 1.25 };
        let mut request = random_request(pattern, &mut dice, spread, true);
        let sizes = &mut request["sizes"];
        // Panels that fill the frame to 70 to 99 %, holes in them, pins and openings of all kinds.
        let n = 1 + dice.below(5);
        let inside = number(&sizes["height"]) - 2.0 * number(&sizes["frame_seen"]);
        let panel = inside / n as f64 * (0.7 + 0.29 * dice.share());
        sizes["panels"] = json!(n);
        sizes["panel_height"] = json!(panel);
        sizes["panel_hole_up_panel"] = json!(panel * dice.share());
        sizes["back_hole_height"] = json!(panel * dice.share());
        sizes["opening_deg"] = json!(180.0 * dice.share());
        for key in ["inner_face_from_axis", "lower_edge_from_axis"] {
            sizes[key] = json!(2.0 * dice.share() - 1.25);
        }
        let answer = piece_value(&request);
        if !answer["parts"].is_array() {
            // Where it is the opening that is too much, a hair less is right and a hair more is not.
            let problem = &answer["problems"][0];
            if problem["path"] == "/sizes/opening_deg" {
                let limit = number(&problem["limit"]);
                request["sizes"]["opening_deg"] = json!(limit);
                let just = piece_value(&request);
                if !just["parts"].is_array() {
                    assert_ne!(just["problems"][0]["path"], "/sizes/opening_deg", "{request}");
                    continue;
                }
                let beyond = clear(&just, limit + 0.5, true) && clear(&just, limit + 0.05, true);
                assert!(!beyond, "more than {limit} is clear: {request}");
                stopped += 1;
            }
            continue;
        }
        made += 1;
        let sizes = &answer["sizes"];
        let depth = number(&sizes["back_thickness"])
            + number(&sizes["frame_thickness"]).max(
                number(&sizes["hinge_x"])
                    + number(&sizes["inner_face_from_axis"])
                    + number(&sizes["panel_thickness"]),
            );
        let wanted = [("width", &sizes["width"]), ("height", &sizes["height"])];
        let height = number(&sizes["height"]);
        for (key, size) in wanted {
            assert!((number(&answer["extent"][key]) - number(size)).abs() < 1e-9 * height);
        }
        assert!((number(&answer["extent"]["depth"]) - depth).abs() < 1e-9 * height);
        let opening = number(&sizes["opening_deg"]);
        assert!(clear(&answer, 0.0, true) && clear(&answer, opening, true), "{request}");
        assert!((1..40).all(|n| clear(&answer, opening * f64::from(n) / 40.0, false)), "{request}");
        // The cord, from the panel as it was turned here: the hole lies up the inner face.
        let (panels, _) = placed(&answer);
        let (_, pin) = panels[0];
        let back = -number(&sizes["back_thickness"]);
        let foot = Point3::new(
            0.0,
            pin.0 - number(&sizes["inner_face_from_axis"]),
            pin.1 + number(&sizes["lower_edge_from_axis"]) + number(&sizes["panel_hole_up_panel"]),
        );
        let hole = opened(&Solid { faces: vec![vec![foot]] }, pin, opening).faces[0][0];
        let cord = (hole.y - back).hypot(hole.z - pin.1 - number(&sizes["back_hole_height"]));
        assert!((cord - number(&sizes["cord_between_faces"])).abs() < 1e-9 * height, "{request}");
    }
    assert!(made == 300 && stopped > 50, "{made} made, {stopped} stopped by too wide an opening");
}

#[test]
fn what_cannot_be_is_refused_at_its_size_with_what_would_just_do() {
    // What is changed, and then: the size that is blamed and its limit, by hand from the start values.
    let cases = [
        (json!({"width": 3.25}), "width", 3.25),
        (json!({"height": 3, "panel_height": 1}), "height", 3.0),
        // 33 in for four panels.
        (json!({"panel_height": 9}), "panel_height", 8.25),
        (json!({"hinge_x": 0.125}), "hinge_x", 0.25),
        (json!({"panel_hole_up_panel": 7.5}), "panel_hole_up_panel", 7.0),
        // Gaps of 1: the upper pin is at 26 7/8, the upper rail at 34 1/2; the lower ones at 2 7/8 and 1 1/2.
        (json!({"back_hole_height": 8}), "back_hole_height", 7.625),
        (json!({"back_hole_height": -2}), "back_hole_height", -1.375),
        // Pin at the inner lower edge: the outer lower corner, 1/2 out, goes round below it; the gap of
        // (33 - 32.4) / 5 = 0.12 is used up where 0.5 sin a = 0.12.
        (
            json!({"panel_height": 8.1, "inner_face_from_axis": 0, "lower_edge_from_axis": 0}),
            "opening_deg",
            0.24_f64.asin().to_degrees(),
        ),
    ];
    for (sizes, key, limit) in cases {
        refusal("drop_front_rack", &sizes, key, Some(limit));
    }
}

#[test]
fn gap_and_cord_may_be_given_instead() {
    let answer = piece_value(&rack(json!({"gap_between": 0.75})));
    assert_eq!(answer["problems"], json!([]));
    // (33 - 5 × 3/4) / 4.
    near(&answer["sizes"]["panel_height"], 7.3125);
    let answer = piece_value(&rack(json!({"cord_between_faces": 6})));
    assert_eq!(answer["problems"], json!([]));
    near(&answer["sizes"]["cord_between_faces"], 6.0);
    let opening = number(&answer["sizes"]["opening_deg"]);
    // Law of cosines about the pin: back hole (-1.25, 6), panel hole (-0.25, 5.625) before it opens.
    let (a, b) = (1.25_f64.hypot(6.0), 0.25_f64.hypot(5.625));
    let from = (6.0_f64.atan2(-1.25) - 5.625_f64.atan2(-0.25)).to_degrees();
    let between = ((a * a + b * b - 36.0) / (2.0 * a * b)).acos().to_degrees();
    assert!((opening - (between - from)).abs() < 1e-7, "{opening} {}", between - from);
}
