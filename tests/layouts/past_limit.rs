//! What the saw says of each odd cut past its limits: every way out worked out, safest first.

use offsquare_layout_tests::asking::{ask, ask_for, at, close, n};
use serde_json::{Value, json};

fn parts(layout: &str, inputs: &Value) -> Vec<Value> {
    let reply = ask_for(layout, inputs, &json!({"saw": {}}));
    let parts = reply["solutions"][0]["saw"]["parts"].as_array();
    parts.unwrap_or_else(|| panic!("{layout}: {reply}")).clone()
}
fn kinds(cut: &Value) -> Vec<&str> {
    let all = cut["remedies"].as_array().expect("remedies");
    all.iter().filter_map(|r| r["kind"].as_str()).collect()
}

/// The changes of input come first, are put back and bring the reading inside; then the tape marks; then
/// `last`.
#[track_caller]
fn ways_out(
    layout: &str,
    inputs: &Value,
    part: usize,
    cut: usize,
    reading: &str,
    limit: f64,
    last: &str,
) -> usize {
    let all = parts(layout, inputs);
    let cut = &all[part]["cuts"][cut];
    assert_eq!(cut["can_cut"], false, "{layout} {inputs}: {cut}");
    let kinds = kinds(cut);
    let changes = kinds.iter().take_while(|k| **k == "change_input").count();
    assert_eq!(kinds[changes..], ["tape_mark", last], "{layout}: {cut}");
    for change in cut["remedies"].as_array().expect("remedies").iter().take(changes) {
        let give = change["give"].as_str().expect("an input");
        let mut i = inputs.clone();
        i[give] = change["value"].clone();
        let again = ask(layout, &i);
        let is = at(&again["solutions"][0]["answers"], reading).as_f64().expect("a reading");
        close(is.abs(), n(change, "reading_deg"), 1e-9, give);
        assert!(is.abs() <= limit + 1e-9, "{give}: {is}");
        assert!(change["answers"].as_object().is_some_and(|e| !e.is_empty()), "{change}");
    }
    for r in cut["remedies"].as_array().expect("remedies") {
        assert!(r["text"].as_str().is_some_and(|t| t.ends_with('.')), "{r}");
    }
    changes
}

#[test]
fn frames_past_the_miter_limit() {
    // Rails of 2 against stiles of 4: 63.4°, and 4 in of reach at 26.6° are there: turned work.
    let i = json!({"measured": "sight", "frame_width": 16, "frame_height": 20, "rail_width": 2, "stile_width": 4});
    assert!(ways_out("mitred_frame", &i, 0, 0, "rail.reading_deg", 50.0, "turned_work") >= 1);
    // 3 1/2 against 7: the same reading needs 7 in of reach: not on this saw.
    let i = json!({"measured": "sight", "frame_width": 16, "frame_height": 20, "rail_width": 3.5, "stile_width": 7});
    ways_out("mitred_frame", &i, 0, 0, "rail.reading_deg", 50.0, "not_on_this_saw");
    // A triangle is 60° whatever its size: no input changes that; too short to be turned.
    let i = json!({"sides": 3, "given": "outer_side", "value": 7, "width": 1});
    assert_eq!(ways_out("mitred_frame", &i, 0, 0, "reading_deg", 50.0, "not_on_this_saw"), 0);
    let i = json!({"sides": 3, "given": "outer_side", "value": 24, "width": 2});
    assert_eq!(ways_out("mitred_frame", &i, 0, 0, "reading_deg", 50.0, "turned_work"), 0);
}

#[test]
fn compound_cuts_past_a_limit_are_never_turned() {
    // Three sides upright: bevel 60.
    let i = json!({"sides": 3, "outer_bottom_side": 12, "tilt_deg": 10, "thickness": 0.75, "height": 2});
    assert!(ways_out("sloped_box", &i, 0, 0, "bevel_deg", 45.0, "not_on_this_saw") >= 1);
    // A butted corner with a bevel of 49°.
    let i = json!({"outer_bottom_width": 20, "outer_bottom_depth": 20, "tilt_front_deg": 60, "tilt_side_deg": 60,
        "thickness_front": 0.25, "thickness_side": 0.25, "height": 1, "joint": "front_between"});
    ways_out("sloped_box", &i, 0, 0, "front.bevel_deg", 45.0, "not_on_this_saw");
    // A leg leaning 58 and 20: miter past the limit, with a bevel.
    let i = json!({"splay_front_deg": 58, "splay_side_deg": 20, "section": 1.5, "height": 12, "roll": "front"});
    assert!(
        ways_out("two_way_splay", &i, 0, 0, "on_face_F.mitre_deg", 50.0, "not_on_this_saw") >= 1
    );
    let mut i = i;
    for (key, value) in [
        ("axis_spacing_front_at_top", 14.0),
        ("axis_spacing_side_at_top", 14.0),
        ("stretcher_height", 6.0),
        ("stretcher_width", 2.0),
        ("stretcher_thickness", 0.75),
    ] {
        i[key] = json!(value);
    }
    i["which"] = json!("front");
    i["roll"] = json!("tilt");
    assert!(
        ways_out("two_way_splay", &i, 0, 0, "on_wide_face.mitre_deg", 50.0, "not_on_this_saw") >= 1
    );
}

/// Each compound cut is told as two tape marks, on the face and on the edge; each carries its caution.
#[test]
fn compound_cuts_have_two_tape_marks() {
    let box_ = json!({"outer_bottom_width": 14, "outer_bottom_depth": 8, "tilt_front_deg": 15, "tilt_side_deg": 10,
        "thickness_front": 0.75, "thickness_side": 0.5, "height": 6});
    let reply = ask_for("sloped_box", &box_, &json!({"saw": {}}));
    let solution = &reply["solutions"][0];
    for (part, board) in
        solution["saw"]["parts"].as_array().expect("parts").iter().zip(["front", "side"])
    {
        let a = &solution["answers"][board];
        let (thick, tilt) = if board == "front" { (0.75, 15f64) } else { (0.5, 10f64) };
        // From the board's own sizes: half of what the outer face gains over the slant; and over the
        // edge what the thickness takes, along the level edge.
        let face = (n(a, "outer_top_width") - n(a, "outer_bottom_width")) / 2.0;
        let m = n(a, "mitre_deg").to_radians();
        let edge = thick * n(a, "bevel_deg").to_radians().tan() / m.cos();
        // The saw cuts the board before its level edges are ripped: it is wider by what they lose.
        let slant = 6.0 / tilt.to_radians().cos();
        let rough = face * (slant + thick * tilt.to_radians().tan()) / slant;
        for cut in part["cuts"].as_array().expect("cuts") {
            close(n(cut, "tape_mark"), rough, 1e-9, "face");
            close(n(cut, "edge_tape_mark"), edge, 1e-9, "edge");
        }
        close(n(a, "face_tape_mark"), face, 1e-9, "face");
        close(n(a, "edge_tape_mark"), edge, 1e-9, "edge");
        assert!(part["cautions"].as_array().is_some_and(|c| !c.is_empty()), "{part}");
        assert_eq!(part["other_hand"], "face_down");
    }
}

/// Short pieces: what to leave long and cut last.
#[test]
fn short_pieces_are_cut_from_a_longer_stick() {
    for (layout, inputs) in [
        (
            "sloped_box",
            json!({"sides": 6, "outer_bottom_side": 3, "tilt_deg": 10, "thickness": 0.5, "height": 3}),
        ),
        (
            "two_way_splay",
            json!({"splay_front_deg": 10, "splay_side_deg": 5, "section": 1, "height": 4}),
        ),
        ("mitred_frame", json!({"sides": 8, "given": "inner_side", "value": 2, "width": 1})),
    ] {
        let part = &parts(layout, &inputs)[0];
        let short = &part["short_piece"];
        assert!(n(short, "cut_from_length") > n(short, "hold_length"), "{layout}: {part}");
        let text = part["text"].to_string();
        assert!(text.contains("cut it off last"), "{text}");
        assert!(part["cautions"].to_string().len() > 4, "{part}");
    }
}
