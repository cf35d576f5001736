//! Boxes with sloping sides: published tables, closed forms, properties, limits.
//! (The solids that a kernel built are in `solids.rs`.)

#[path = "published_boxes.rs"]
mod published_boxes;

use offsquare_cuts::backwards::{Solved, Steps, advise, resolve};
use offsquare_cuts::layouts::Detail;
use offsquare_cuts::saw::{PartAdvice, Remedy, SawProfile, wording};
use offsquare_layout_tests::asking::{
    answers, close, contradicts, given, keeps_its_shape, n, off_rows, stop, survives, warn,
    works_back,
};
use offsquare_units::{Length, Style};
use published_boxes::{MISPRINT, TABLE};
use serde_json::{Value, json};

const LAYOUT: &str = "sloped_box";

fn regular(sides: u32, tilt: f64) -> Value {
    json!({"sides": sides, "outer_bottom_side": 20, "tilt_deg": tilt, "thickness": 0.25, "height": 1})
}
fn two(a: f64, b: f64) -> Value {
    json!({"outer_bottom_width": 14, "outer_bottom_depth": 9, "tilt_front_deg": a, "tilt_side_deg": b,
        "thickness_front": 0.75, "thickness_side": 0.5, "height": 4, "joint": "mitre"})
}

/// The whole published table: pitch from level is 90 less the tilt. (Lying flat, pitch 0, is a frame:
/// the molding's table has it.)
#[test]
fn the_published_table() {
    let mut told = 0;
    for (pitch, sides, miter, bevel) in TABLE.iter().filter(|row| row.0 > 0.0) {
        let mut i = regular(*sides, 90.0 - pitch);
        // Very flat boxes are low, so that thick boards do not matter.
        i["height"] = json!(0.01);
        i["thickness"] = json!(0.01);
        let a = answers(LAYOUT, &i);
        let what = format!("pitch {pitch}, {sides} sides");
        for (key, printed) in [("mitre_deg", miter), ("bevel_deg", bevel)] {
            let Some(printed) = printed else { continue };
            if (*pitch, *sides, key) == MISPRINT {
                close(*printed, 23.56, 0.0, "as printed");
                close(n(&a, key), 23.579, 0.0005, "by the rule");
            } else {
                close(n(&a, key), *printed, 0.0055, &what);
            }
            told += 1;
        }
    }
    assert!(told > 180, "{told}");
}

/// Operator's manual no. DCS361, p. 16: four sides, angle 26° from level: miter 42, bevel 18.
#[test]
fn a_spot_value_of_another_manual() {
    let a = answers(LAYOUT, &regular(4, 90.0 - 26.0));
    close(n(&a, "mitre_deg").round(), 42.0, 0.0, "miter");
    close(n(&a, "bevel_deg").round(), 18.0, 0.0, "bevel");
}

/// GEOMETRY 8: butt bevels pass 45 at tilt 49.4 (n = 5) and 40.1 (n = 6), upright from n = 8; a
/// three-sided box has none at 35.26; four sides: asin(sin² tilt), 30.00 at 45 and 3.84 at 15.
#[test]
fn butt_bevels() {
    let butt = |sides, tilt| n(&answers(LAYOUT, &regular(sides, tilt)), "butt_bevel_deg");
    assert!(butt(5, 49.35) < 45.0 && butt(5, 49.45) > 45.0);
    assert!(butt(6, 40.05) < 45.0 && butt(6, 40.15) > 45.0);
    close(butt(8, 0.0), 45.0, 1e-9, "octagon");
    assert!(butt(3, 35.2644) < 0.001);
    close(butt(4, 45.0), 30.0, 1e-9, "asin(sin² 45)");
    close(butt(4, 15.0), 3.84, 0.005, "asin(sin² 15)");
}

/// Butted around: on a plain box each board is one thickness short, both faces alike; the answers of
/// the joint are those named beside the mitered one; so many sides that nothing is left of the boards'
/// outer faces are refused with the limit.
#[test]
fn butted_all_around() {
    let with = |sides: u32, tilt: f64, t: f64, joint: &str| json!({"sides": sides, "outer_bottom_side": 10, "tilt_deg": tilt, "thickness": t, "height": 3, "joint": joint});
    let a = answers(LAYOUT, &with(4, 0.0, 0.75, "butt"));
    for key in ["outer_bottom_width", "inner_bottom_width", "outer_top_width", "length_needed"] {
        close(n(&a, key), 9.25, 1e-12, key);
    }
    close(n(&a, "bevel_deg"), 0.0, 1e-9, "square");
    for (sides, tilt) in [(3, 20.0), (5, 40.0), (6, -10.0), (8, 15.0), (17, 30.0)] {
        let (m, b) = (
            answers(LAYOUT, &with(sides, tilt, 0.5, "mitre")),
            answers(LAYOUT, &with(sides, tilt, 0.5, "butt")),
        );
        close(n(&b, "bevel_deg"), n(&m, "butt_bevel_deg"), 1e-9, "bevel");
        for key in [
            "mitre_deg",
            "dihedral_deg",
            "butt_bevel_deg",
            "slant_height",
            "corner_edge_length",
            "edge_rip_deg",
        ] {
            close(n(&b, key), n(&m, key), 1e-9, key);
        }
        let mut floored = with(sides, tilt, 0.5, "butt");
        floored["floor_height"] = json!(0.5);
        keeps_its_shape(LAYOUT, &floored);
        survives(LAYOUT, &floored);
    }
    // 64 sides turn by 5.625° each: the end takes 1/sin 5.625° = 10.2 off a board 1 thick.
    let p = stop(LAYOUT, &with(64, 0.0, 1.0, "butt"), "thickness");
    let limit = 10.0 * 5.625f64.to_radians().sin();
    close(n(&p, "limit"), limit, 1e-9, "thickness");
    answers(LAYOUT, &with(64, 0.0, limit - 1e-6, "butt"));
    answers(LAYOUT, &with(64, 0.0, 1.0, "mitre"));
}

/// A square box at tilt 0 is a plain box: 45° bevels, no miter, edges square.
#[test]
fn upright_is_a_plain_box() {
    for joint in ["mitre", "front_between", "sides_between"] {
        let mut i = two(0.0, 0.0);
        i["joint"] = json!(joint);
        i["thickness_side"] = json!(0.75);
        let a = answers(LAYOUT, &i);
        close(n(&a, "dihedral_deg"), 90.0, 0.0, joint);
        for (board, size) in [("front", 14.0), ("side", 9.0)] {
            let b = &a[board];
            close(n(b, "mitre_deg"), 0.0, 0.0, joint);
            close(n(b, "edge_rip_deg"), 0.0, 0.0, joint);
            close(n(b, "slant_height"), 4.0, 0.0, joint);
            let between = joint.starts_with(board);
            let (bevel, outer, inner) = match (joint, between) {
                ("mitre", _) => (45.0, size, size - 1.5),
                (_, true) => (0.0, size - 1.5, size - 1.5),
                _ => (0.0, size, size),
            };
            close(n(b, "bevel_deg"), bevel, 1e-9, joint);
            for (key, should) in [
                ("outer_bottom_width", outer),
                ("outer_top_width", outer),
                ("inner_bottom_width", inner),
                ("inner_top_width", inner),
                ("length_needed", outer),
                ("width_needed", 4.0),
            ] {
                close(n(b, key), should, 1e-12, &format!("{joint} {board} {key}"));
            }
        }
    }
    let a = answers(LAYOUT, &regular(4, 0.0));
    close(n(&a, "bevel_deg"), 45.0, 1e-9, "four sides");
    close(n(&a, "mitre_deg"), 0.0, 0.0, "four sides");
}

/// n = 4 is the rectangle with like leans and sizes; and leaning in reads as leaning out.
#[test]
fn four_sides_are_a_rectangle() {
    for tilt in [1.0, 15.0, 33.0, 60.0, -12.0] {
        let r = answers(
            LAYOUT,
            &json!({"sides": 4, "outer_bottom_side": 12, "tilt_deg": tilt, "thickness": 0.75, "height": 3}),
        );
        let mut i = two(tilt, tilt);
        for (key, value) in [
            ("outer_bottom_width", 12.0),
            ("outer_bottom_depth", 12.0),
            ("thickness_side", 0.75),
            ("height", 3.0),
        ] {
            i[key] = json!(value);
        }
        let t = answers(LAYOUT, &i);
        close(n(&t, "dihedral_deg"), n(&r, "dihedral_deg"), 1e-9, "dihedral");
        for (key, should) in r.as_object().expect("answers") {
            if t["front"].get(key).is_some() {
                for board in ["front", "side"] {
                    let is = n(&t[board], key);
                    close(is, should.as_f64().expect("a number"), 1e-9 * 12.0, key);
                }
            }
        }
        close(n(&r, "held_at_slope_mitre_deg"), 45.0, 1e-9, "held, as in the pocketbook: 45");
    }
    for sides in [3, 5, 8, 11] {
        let (out, inward) =
            (answers(LAYOUT, &regular(sides, 20.0)), answers(LAYOUT, &regular(sides, -20.0)));
        for key in [
            "mitre_deg",
            "bevel_deg",
            "butt_bevel_deg",
            "dihedral_deg",
            "slant_height",
            "edge_rip_deg",
        ] {
            close(n(&out, key), n(&inward, key), 1e-9, key);
        }
    }
}

/// GEOMETRY 8's forms for two slopes and unequal stock, written out here; bevels signed by the side
/// to which the miter's plane leans add up to 180 less the dihedral.
#[test]
fn two_slopes_by_their_forms() {
    let mut told = 0;
    for a in [-40.0f64, -10.0, 0.0, 5.0, 25.0, 60.0] {
        for b in [-30.0f64, 0.0, 12.0, 45.0, 70.0] {
            for (tf, ts) in [(0.5, 0.5), (0.75, 0.25), (0.25, 1.0)] {
                let i = json!({"outer_bottom_width": 40, "outer_bottom_depth": 30, "tilt_front_deg": a,
                    "tilt_side_deg": b, "thickness_front": tf, "thickness_side": ts, "height": 2, "joint": "mitre"});
                let x = answers(LAYOUT, &i);
                let (ra, rb) = (a.to_radians(), b.to_radians());
                let what = format!("{a} {b} {tf} {ts}");
                let dihedral = (-ra.sin() * rb.sin()).acos();
                close(n(&x, "dihedral_deg"), dihedral.to_degrees(), 1e-9, &what);
                close(
                    n(&x, "front.mitre_deg"),
                    (ra.cos() * rb.tan().abs()).atan().to_degrees(),
                    1e-9,
                    &what,
                );
                close(
                    n(&x, "side.mitre_deg"),
                    (rb.cos() * ra.tan().abs()).atan().to_degrees(),
                    1e-9,
                    &what,
                );
                let bevel = |own: f64, other: f64| {
                    ((other + own * dihedral.cos()) / (own * dihedral.sin())).atan().to_degrees()
                };
                let (front, side) = (bevel(tf, ts), bevel(ts, tf));
                close(n(&x, "front.bevel_deg"), front.abs(), 1e-9, &what);
                close(n(&x, "side.bevel_deg"), side.abs(), 1e-9, &what);
                close(front + side, 180.0 - dihedral.to_degrees(), 1e-9, &what);
                for joint in ["front_between", "sides_between"] {
                    let mut i = i.clone();
                    i["joint"] = json!(joint);
                    let butt = answers(LAYOUT, &i);
                    let should = (90.0 - dihedral.to_degrees()).abs();
                    close(n(&butt, "front.bevel_deg"), should, 1e-9, &what);
                    close(n(&butt, "side.bevel_deg"), should, 1e-9, &what);
                    close(n(&butt, "front.mitre_deg"), n(&x, "front.mitre_deg"), 1e-9, &what);
                }
                told += 1;
            }
        }
    }
    assert_eq!(told, 6 * 5 * 3);
}

/// Turned a quarter, fronts and sides change places.
#[test]
fn turned_a_quarter() {
    for (joint, other) in [("mitre", "mitre"), ("front_between", "sides_between")] {
        let i = json!({"outer_bottom_width": 14, "outer_bottom_depth": 9, "tilt_front_deg": 15, "tilt_side_deg": -7,
            "thickness_front": 0.75, "thickness_side": 0.5, "height": 4, "joint": joint});
        let j = json!({"outer_bottom_width": 9, "outer_bottom_depth": 14, "tilt_front_deg": -7, "tilt_side_deg": 15,
            "thickness_front": 0.5, "thickness_side": 0.75, "height": 4, "joint": other});
        let (x, y) = (answers(LAYOUT, &i), answers(LAYOUT, &j));
        for (key, value) in x["front"].as_object().expect("front") {
            close(n(&y["side"], key), value.as_f64().expect("a number"), 1e-9, key);
        }
        for (key, value) in x["side"].as_object().expect("side") {
            close(n(&y["front"], key), value.as_f64().expect("a number"), 1e-9, key);
        }
    }
}

#[test]
fn boxes_that_cannot_be() {
    // Leaning in 45°, four sides 10 wide meet 5 up: the limit, and just below it room for thin boards.
    let with = |h: f64, t: f64| json!({"sides": 4, "outer_bottom_side": 10, "tilt_deg": -45, "thickness": t, "height": h});
    close(n(&stop(LAYOUT, &with(5.5, 0.1), "height"), "limit"), 5.0, 1e-9, "meet");
    stop(LAYOUT, &with(5.000_001, 1e-9), "height");
    answers(LAYOUT, &with(4.999_999, 1e-9));
    // Boards that fill it: at the rim 2 are left, half of it on the level, cos 45 of it thick.
    let limit = n(&stop(LAYOUT, &with(4.0, 0.8), "thickness"), "limit");
    close(limit, 1.0 * 45f64.to_radians().cos(), 1e-9, "thick");
    answers(LAYOUT, &with(4.0, limit - 1e-9));
    stop(LAYOUT, &with(4.0, limit + 1e-9), "thickness");
    // The same for either pair of a rectangle.
    let mut i = two(-45.0, 0.0);
    i["height"] = json!(4.6);
    close(n(&stop(LAYOUT, &i, "height"), "limit"), 4.5, 1e-9, "depth 9");
    let mut i = two(0.0, -60.0);
    i["height"] = json!(10.0);
    close(
        n(&stop(LAYOUT, &i, "height"), "limit"),
        7.0 / 60f64.to_radians().tan(),
        1e-9,
        "width 14",
    );
    for (key, limit) in [("thickness_front", 4.5), ("thickness_side", 7.0)] {
        let mut i = two(0.0, 0.0);
        i[key] = json!(limit + 0.001);
        close(n(&stop(LAYOUT, &i, key), "limit"), limit, 1e-9, key);
        i[key] = json!(limit - 0.001);
        answers(LAYOUT, &i);
    }
}

/// A floor between the sides: at the bottom the inner size there, at the rim the one there, midway
/// the mean; its upper side is the floor a thickness higher.
#[test]
fn floors() {
    let mut i = two(20.0, -8.0);
    let b = answers(LAYOUT, &i);
    for (at, share) in [(0.0, 0.0), (2.0, 0.5), (3.0, 0.75)] {
        i["floor_height"] = json!(at);
        i["floor_thickness"] = json!(0.5);
        let a = answers(LAYOUT, &i);
        for (key, board) in [("floor_width", "front"), ("floor_depth", "side")] {
            let (low, high) = (n(&b[board], "inner_bottom_width"), n(&b[board], "inner_top_width"));
            close(n(&a, key), low + (high - low) * share, 1e-9, key);
            let above = low + (high - low) * (share + 0.125);
            close(n(&a, &format!("{key}_above")), above, 1e-9, key);
        }
    }
    i["floor_height"] = json!(4.0);
    close(n(&warn(LAYOUT, &i, "floor_height"), "limit"), 4.0, 1e-9, "rim");
    i["floor_height"] = json!(3.75);
    close(n(&warn(LAYOUT, &i, "floor_thickness"), "limit"), 0.25, 1e-9, "up to the rim");
    let mut i = regular(6, 15.0);
    i["floor_height"] = json!(0);
    let a = answers(LAYOUT, &i);
    close(n(&a, "floor_side"), n(&a, "inner_bottom_width"), 1e-9, "bottom");
    close(
        n(&a, "floor_across_flats"),
        n(&a, "floor_side") / 30f64.to_radians().tan(),
        1e-9,
        "flats",
    );
}

#[test]
fn worked_back_contradicted_off_and_hostile() {
    let six =
        json!({"sides": 6, "outer_bottom_side": 5, "tilt_deg": 15, "thickness": 0.75, "height": 6});
    // tan m = tan 30 · sin tilt.
    let found = works_back(LAYOUT, &six, "tilt_deg", "mitre_deg", 10.0);
    let should = (10f64.to_radians().tan() / 30f64.to_radians().tan()).asin().to_degrees();
    close(found, should, 1e-9, "tilt for a 10° miter");
    works_back(LAYOUT, &six, "height", "slant_height", 7.0);
    works_back(LAYOUT, &two(15.0, 10.0), "tilt_side_deg", "front.mitre_deg", 15.0);
    contradicts(LAYOUT, &six, "slant_height");
    contradicts(LAYOUT, &two(15.0, 10.0), "dihedral_deg");
    assert_eq!(off_rows(LAYOUT, &six), 2);
    assert_eq!(off_rows(LAYOUT, &two(15.0, 10.0)), 2);
    survives(LAYOUT, &six);
    let mut floored = two(15.0, 10.0);
    floored["floor_height"] = json!(0.5);
    floored["floor_thickness"] = json!(0.5);
    survives(LAYOUT, &floored);
    keeps_its_shape(LAYOUT, &six);
    keeps_its_shape(LAYOUT, &floored);
    for joint in ["mitre", "front_between", "sides_between"] {
        let mut i = two(-20.0, 35.0);
        i["joint"] = json!(joint);
        keeps_its_shape(LAYOUT, &i);
    }
    // Nearly lying, nearly upright, many sides.
    for tilt in [1e-9, 1e-3, 85.0, 88.9, 89.0] {
        for sides in [3, 4, 17, 64] {
            let mut i = regular(sides, tilt);
            i["thickness"] = json!(0.001);
            let a = answers(LAYOUT, &i);
            assert!(offsquare_layout_tests::asking::finite(&a), "{a}");
        }
    }
}

fn solved(inputs: &Value) -> Solved {
    let layout = offsquare_cuts::layouts::find(LAYOUT).expect("the layout");
    let given = given(LAYOUT, Some("two_slopes"), inputs);
    resolve(layout, &given, Detail::Full, &Steps::default()).solved.remove(0)
}

fn possible(inputs: &Value, saw: &SawProfile) -> bool {
    let layout = offsquare_cuts::layouts::find(LAYOUT).expect("the layout");
    advise(layout, &solved(inputs), saw, &Steps::default()).iter().all(PartAdvice::possible)
}

/// A box a little too high for the saw: the first way out is the highest box that goes through, to 1/16 in. The saw itself
/// is the judge: at that height it makes every cut, a sixteenth higher it does not.
#[test]
fn a_board_too_wide_is_answered_by_a_slightly_lower_box() {
    let layout = offsquare_cuts::layouts::find(LAYOUT).expect("the layout");
    let saw = SawProfile::usual();
    let mut tried = 0;
    for (front, side, height) in [(15.0, 10.0, 6.0), (5.0, 5.0, 5.75), (20.0, 0.0, 6.25)] {
        let mut i = two(front, side);
        i["thickness_side"] = json!(0.75);
        i["height"] = json!(height);
        let mut lowest = f64::INFINITY;
        for part in advise(layout, &solved(&i), &saw, &Steps::default()) {
            let Some(Remedy::ChangeInput(c)) =
                part.cuts.iter().find(|c| c.lay().is_none()).and_then(|c| c.remedies.first())
            else {
                panic!("{front} {side} {}: no change is offered", part.name);
            };
            assert_eq!(c.give, "height");
            let value = c.value.number();
            assert!(value < height && value > height * 0.7, "{value}");
            close(value * 16.0, (value * 16.0).round(), 1e-9, "a mark of the tape");
            lowest = lowest.min(value);
            let words = wording::remedy(&Remedy::ChangeInput(c.clone())).render(&Style::default());
            assert!(words.contains("lets it through this saw"), "{words}");
            tried += 1;
        }
        i["height"] = json!(lowest);
        assert!(possible(&i, &saw), "{front} {side} at {lowest}");
        i["height"] = json!(lowest + 1.0 / 16.0);
        assert!(!possible(&i, &saw), "{front} {side} above {lowest}");
    }
    assert_eq!(tried, 6);
}

/// By hand: a board that stands at its slope is as high as the box; the usual saw takes 3 1/2 in, and less with the blade
/// tilted: 2 in at 45°.
#[test]
fn standing_at_the_slope_is_checked_against_the_saws_height() {
    let saw = SawProfile::usual();
    let said = |height: f64, joint: &str, saw: &SawProfile| -> Vec<String> {
        let mut i = two(15.0, 10.0);
        i["thickness_side"] = json!(0.75);
        i["height"] = json!(height);
        i["joint"] = json!(joint);
        let all = solved(&i).solution.standing;
        assert!(all.iter().all(|s| (s.height.0 - height).abs() < 1e-12));
        all.iter().map(|s| saw.standing(s).render(&Style::default())).collect()
    };
    for text in said(4.0, "mitre", &saw) {
        assert!(text.contains("not on this saw"), "{text}");
    }
    for text in said(1.5, "mitre", &saw) {
        assert!(text.contains("miter") && !text.contains("not on this saw"), "{text}");
    }
    let high = SawProfile { height_upright: Length(5.0), height_at_45_bevel: Length(4.5), ..saw };
    for text in said(4.0, "mitre", &high) {
        assert!(!text.contains("not on this saw"), "{text}");
    }
}
