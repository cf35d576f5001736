//! A panel on its cord: rotated here by complex numbers, scanned densely, pulled by virtual work; limits.

use geo::{Distance, Euclidean, LineString, Polygon};
use offsquare_layout_tests::asking::{
    answers, ask, close, contradicts, keeps_its_shape, n, off_rows, stop, survives, warn,
    works_back,
};
use serde_json::{Value, json};

const LAYOUT: &str = "fold_down";

/// Hinge, inner face, lower edge, height, thickness, hole, back hole, sideways.
type Panel = (f64, f64, f64, f64, f64, f64, f64, f64, f64);
const PANELS: &[Panel] = &[
    (0.75, 6.0, 0.0, 0.0, 16.0, 0.75, 13.0, 20.0, 0.0),
    (1.25, 4.0, -0.5, 0.25, 14.0, 0.5, 12.0, 17.0, 2.5),
    (0.5, 10.0, 0.75, -0.4, 20.0, 1.0, 8.0, 22.0, 0.0),
    (0.0, 3.0, 0.0, 0.0, 12.0, 0.625, 11.5, 9.0, 1.0),
    (2.0, 5.0, 0.3, 1.5, 18.0, 0.75, 15.0, 12.0, 0.0),
    (3.0, 8.0, 0.0, 0.0, 12.0, 0.75, 10.0, 8.5, 0.0),
    (0.5, 8.0, -0.9, 0.0, 12.0, 0.75, 10.0, 5.0, 0.5),
];

fn inputs(p: &Panel) -> Value {
    json!({"hinge_x": p.0, "hinge_y": p.1, "inner_face_from_axis": p.2, "lower_edge_from_axis": p.3,
        "panel_height": p.4, "panel_thickness": p.5, "back_thickness": 0.75, "panel_hole_up_panel": p.6,
        "back_hole_height": p.7, "sideways": p.8})
}
fn opened(p: &Panel, opening: f64) -> Value {
    let mut i = inputs(p);
    i["opening_deg"] = json!(opening);
    i
}
fn corded(p: &Panel, cord: f64) -> Value {
    let mut i = inputs(p);
    i["cord_between_faces"] = json!(cord);
    i
}

/// A point given from the pin, panel shut, after opening: (x + iy)·e^(-i·opening).
fn turned(p: &Panel, v: (f64, f64), opening: f64) -> (f64, f64) {
    let (s, c) = opening.to_radians().sin_cos();
    (p.0 + v.0 * c + v.1 * s, p.1 + v.1 * c - v.0 * s)
}
fn hole(p: &Panel, opening: f64) -> (f64, f64) {
    turned(p, (p.2, p.3 + p.6), opening)
}
fn cord(p: &Panel, opening: f64) -> f64 {
    let (x, y) = hole(p, opening);
    (x * x + (p.7 - y).powi(2) + p.8 * p.8).sqrt()
}
fn corners(p: &Panel, opening: f64) -> [(f64, f64); 4] {
    [(0.0, 0.0), (p.5, 0.0), (p.5, p.4), (0.0, p.4)]
        .map(|(x, y)| turned(p, (p.2 + x, p.3 + y), opening))
}

#[test]
fn cords_at_every_opening() {
    for p in PANELS {
        for opening in [0.0, 1.0, 30.0, 77.7, 90.0, 110.0, 150.0, 180.0] {
            let reply = ask(LAYOUT, &opened(p, opening));
            let a = &reply["solutions"][0]["answers"];
            let what = format!("{p:?} {opening}");
            let l = cord(p, opening);
            close(n(a, "cord_between_faces"), l, 1e-9 * 20.0, &what);
            close(n(a, "cord_with_both_thicknesses"), l + p.5 + 0.75, 1e-9 * 20.0, &what);
            close(n(a, "cord_between_faces_when_shut"), cord(p, 0.0), 1e-9 * 20.0, &what);
            let (x, y) = hole(p, opening);
            close(n(a, "panel_hole_inner.0"), x, 1e-9 * 20.0, &what);
            close(n(a, "panel_hole_inner.1"), y, 1e-9 * 20.0, &what);
            close(n(a, "drop_of_panel_hole_below_back_hole"), p.7 - y, 1e-9 * 20.0, &what);
            close(n(a, "mouth_width"), corners(p, opening)[3].0, 1e-9 * 20.0, &what);
            assert_eq!(a["passes_level"], json!(opening > 90.0), "{what}");
            if l > 1e-6 {
                // Angles to the faces: 90 less the angle to their normals, in space.
                let (c, s) = (opening.to_radians().cos(), opening.to_radians().sin());
                let along = ((-x) * c + (p.7 - y) * -s) / l;
                close(n(a, "cord_to_panel_deg"), along.abs().asin().to_degrees(), 1e-8, &what);
                close(n(a, "cord_to_back_deg"), (x / l).abs().asin().to_degrees(), 1e-8, &what);
            }
        }
    }
}

/// The straight cord against both boards as outlines, sampled along it.
#[test]
fn a_cord_is_clear_when_no_part_of_it_lies_in_wood() {
    let (mut yes, mut no) = (0, 0);
    for p in PANELS {
        for step in 0..=36 {
            let opening = f64::from(step) * 5.0 + 0.01;
            if opening > 180.0 {
                continue;
            }
            let (from, to) = (hole(p, opening), (0.0, p.7));
            let wood = |x: f64, y: f64| {
                // Back turned into the panel's own frame.
                let (s, c) = opening.to_radians().sin_cos();
                let (dx, dy) = (x - p.0, y - p.1);
                let (u, v) = (dx * c - dy * s - p.2, dx * s + dy * c - p.3);
                let panel = u > 1e-6 && u < p.5 - 1e-6 && v > 1e-6 && v < p.4 - 1e-6;
                panel || x < -1e-6
            };
            let cuts = (1..4000).any(|k| {
                let t = f64::from(k) / 4000.0;
                wood(from.0 + (to.0 - from.0) * t, from.1 + (to.1 - from.1) * t)
            });
            let a = &ask(LAYOUT, &opened(p, opening))["solutions"][0]["answers"];
            assert_eq!(a["clear"], json!(!cuts), "{p:?} {opening}");
            if cuts { no += 1 } else { yes += 1 }
        }
    }
    assert!(yes > 50 && no > 25, "{yes} {no}");
}

/// All openings for a cord, against a scan in steps of 0.01° with halving in between.
#[test]
fn openings_for_a_cord_against_a_dense_scan() {
    let mut twice = 0;
    for p in PANELS {
        let all: Vec<f64> = (0..=18000).map(|k| cord(p, f64::from(k) / 100.0)).collect();
        let (lo, hi) = all.iter().fold((f64::INFINITY, 0.0f64), |(l, h), x| (l.min(*x), h.max(*x)));
        for share in [0.03, 0.2, 0.45, 0.7, 0.9, 0.99] {
            let l = lo + (hi - lo) * share;
            let mut found = Vec::new();
            for k in 0..18000usize {
                let (mut a, mut b) = (k as f64 / 100.0, (k + 1) as f64 / 100.0);
                if (all[k] - l) * (all[k + 1] - l) > 0.0 {
                    continue;
                }
                for _ in 0..60 {
                    let m = (a + b) / 2.0;
                    if (cord(p, a) - l) * (cord(p, m) - l) <= 0.0 { b = m } else { a = m }
                }
                found.push((a + b) / 2.0);
            }
            let reply = ask(LAYOUT, &corded(p, l));
            let solutions = reply["solutions"].as_array().expect("solutions");
            assert_eq!(solutions.len(), found.len(), "{p:?} {l}");
            for (s, angle) in solutions.iter().zip(&found) {
                close(n(&s["answers"], "opening_deg"), *angle, 1e-9, "opening");
                let listed = s["answers"]["angles_deg"].as_array().expect("angles");
                assert_eq!(listed.len(), found.len());
                close(n(&s["answers"], "cord_between_faces"), l, 1e-9 * 20.0, "put back");
            }
            twice += usize::from(found.len() == 2);
        }
        // Past the longest and below the shortest: the limit is named, and it works.
        for (l, limit) in [(hi * 1.01, hi), (lo * 0.5, lo)] {
            if l == limit {
                continue;
            }
            let told = n(&stop(LAYOUT, &corded(p, l), "cord_between_faces"), "limit");
            close(told, limit, 1e-6, "limit");
            assert_ne!(ask(LAYOUT, &corded(p, told))["solutions"], json!([]), "{p:?} {told}");
        }
    }
    assert!(twice > 3, "{twice}");
}

/// Within 0.01° of the longest cord two openings lie close together: each gives the cord back to 1e-12.
#[test]
fn near_the_longest_cord() {
    let mut close_pairs = 0;
    for p in PANELS {
        let longest = (0..=180_000).map(|k| cord(p, f64::from(k) / 1000.0)).fold(0.0, f64::max);
        for less in [1e-14, 1e-12, 1e-10, 1e-9] {
            let l = longest * (1.0 - less);
            let reply = ask(LAYOUT, &corded(p, l));
            let solutions = reply["solutions"].as_array().expect("solutions");
            assert!(!solutions.is_empty(), "{p:?} {l} {reply}");
            for s in solutions {
                let again = answers_of(&opened(p, n(&s["answers"], "opening_deg")));
                close(n(&again, "cord_between_faces"), l, 1e-12 * l, "put back");
            }
            if let [a, b] = &solutions[..] {
                let apart = n(&b["answers"], "opening_deg") - n(&a["answers"], "opening_deg");
                close_pairs += usize::from(apart < 0.01);
            }
        }
    }
    assert!(close_pairs > 2, "{close_pairs}");
}

fn answers_of(i: &Value) -> Value {
    ask(LAYOUT, i)["solutions"][0]["answers"].clone()
}

/// Pull by virtual work: what the load sinks by for a little opening, over what the cord would lengthen.
#[test]
fn pull_by_virtual_work() {
    let mut held = 0;
    for p in PANELS {
        for opening in [20.0, 60.0, 90.0, 120.0] {
            for (up, cords) in [(None, 2.0), (Some(p.4), 1.0), (Some(3.0), 3.0)] {
                let mut i = opened(p, opening);
                i["load_kg"] = json!(4.0);
                i["cords"] = json!(cords);
                if let Some(up) = up {
                    i["load_up_panel"] = json!(up);
                }
                let a = answers_of(&i);
                let load = |o: f64| turned(p, (p.2, p.3 + up.unwrap_or(p.4 / 2.0)), o).1;
                let e = 1e-4;
                let sinks = load(opening - e) - load(opening + e);
                let longer = cord(p, opening + e) - cord(p, opening - e);
                let pull = 4.0 * 9.80665 * sinks / longer / cords;
                match a["pull_per_cord_N"].as_f64() {
                    Some(is) => {
                        close(is, pull, 1e-5 * pull.abs().max(1.0), &format!("{p:?} {opening}"));
                        held += 1;
                    }
                    // Past its longest the cord goes slack on opening: nothing holds.
                    None => assert!(longer <= 0.0 || sinks < 0.0, "{p:?} {opening}"),
                }
            }
        }
    }
    assert!(held > 20, "{held}");
}

/// Room to the next like panel below, by a general-purpose geometry library; where they meet, the last
/// opening that stays clear.
#[test]
fn room_to_the_next_panel() {
    let outline = |c: [(f64, f64); 4], down: f64| {
        let ring: Vec<(f64, f64)> = c.iter().map(|(x, y)| (*x, y - down)).collect();
        Polygon::new(LineString::from(ring), vec![])
    };
    let (mut free, mut met) = (0, 0);
    for p in PANELS {
        for opening in [5.0, 60.0, 90.0, 135.0, 180.0] {
            for down in [p.4 * 1.05, p.4 * 1.6, p.4 * 2.5] {
                let mut i = opened(p, opening);
                i["next_hinge_down"] = json!(down);
                let reply = ask(LAYOUT, &i);
                let a = &reply["solutions"][0]["answers"];
                let here = outline(corners(p, opening), 0.0);
                let shut = Euclidean.distance(&here, &outline(corners(p, 0.0), down));
                let open = Euclidean.distance(&here, &outline(corners(p, opening), down));
                close(n(a, "clearance_to_next_shut"), shut, 1e-9 * 20.0, "shut");
                close(n(a, "clearance_to_next_open"), open, 1e-9 * 20.0, "open");
                if shut > 0.0 {
                    free += 1;
                    continue;
                }
                met += 1;
                let limit = n(&warn(LAYOUT, &i, "next_hinge_down"), "limit");
                let room = |o: f64| {
                    Euclidean
                        .distance(&outline(corners(p, o), 0.0), &outline(corners(p, 0.0), down))
                };
                assert!(room(limit - 1e-6) > 0.0 && room(limit + 1e-6) == 0.0, "{p:?} {limit}");
            }
        }
    }
    assert!(free > 20 && met > 3, "{free} {met}");
}

/// The corner that comes nearest the back on the way, against a dense scan; running into it is said.
#[test]
fn nearest_to_the_back_on_the_way() {
    let mut into = 0;
    for p in PANELS {
        for opening in [0.0, 40.0, 95.0, 180.0] {
            let least = (0..=20_000)
                .map(|k| opening * f64::from(k) / 20_000.0)
                .flat_map(|o| corners(p, o))
                .fold(f64::INFINITY, |m, c| m.min(c.0));
            let i = opened(p, opening);
            close(n(&answers_of(&i), "least_from_back"), least, 1e-6, "nearest");
            if least < -1e-6 {
                warn(LAYOUT, &i, "opening_deg");
                into += 1;
            }
        }
    }
    assert!(into > 0);
}

/// A 3-4-5 triangle by hand: pin at the origin of both faces, hole 4 up, back hole 3 up, level: cord 5.
#[test]
fn by_hand() {
    let p = (0.0, 0.0, 0.0, 0.0, 8.0, 0.75, 4.0, 3.0, 0.0);
    let mut i = opened(&p, 90.0);
    i["knot_allowance"] = json!(6.0);
    let a = answers(LAYOUT, &i);
    close(n(&a, "cord_between_faces"), 5.0, 1e-12, "3-4-5");
    close(n(&a, "cord_each"), 5.0 + 0.75 + 0.75 + 6.0, 1e-12, "boards and knots");
    // Two cords unless told otherwise; three when told so.
    close(n(&a, "cord_to_buy"), 2.0 * 12.5, 1e-12, "both cords");
    i["cords"] = json!(3);
    close(n(&answers(LAYOUT, &i), "cord_to_buy"), 3.0 * 12.5, 1e-12, "three cords");
    close(n(&a, "cord_to_panel_deg"), (3f64 / 4.0).atan().to_degrees(), 1e-9, "to the panel");
    close(n(&a, "mouth_width"), 8.0, 1e-12, "level");
    // 12 sideways make it 13.
    let p = (0.0, 0.0, 0.0, 0.0, 8.0, 0.75, 4.0, 3.0, 12.0);
    close(n(&answers(LAYOUT, &opened(&p, 90.0)), "cord_between_faces"), 13.0, 1e-12, "5-12-13");
    // A chain of 3/4 links: 5 is nearest 7 links, 5 1/4, and by the law of cosines that opens further.
    let p = (0.0, 0.0, 0.0, 0.0, 8.0, 0.75, 4.0, 3.0, 0.0);
    let mut i = opened(&p, 90.0);
    i["chain_link"] = json!(0.75);
    let a = answers(LAYOUT, &i);
    close(n(&a, "links_n"), 7.0, 0.0, "links");
    let should = ((25.0 - 5.25f64 * 5.25) / 24.0).acos().to_degrees();
    close(n(&a, "opening_with_links_deg"), should, 1e-9, "opens to");
    close(n(&a, "chain_between_faces"), 5.25, 1e-12, "7 links");
    // The rim, 8 up the panel, goes round the pin.
    close(n(&a, "mouth_width_with_links"), 8.0 * should.to_radians().sin(), 1e-9, "rim");
}

#[test]
fn panels_that_cannot_be() {
    // The hole counts from the panel's own lower edge, wherever that hangs: 14 is the last in a panel of 14.
    for edge in [-1.5, 1.5] {
        let mut i = opened(&PANELS[1], 30.0);
        i["lower_edge_from_axis"] = json!(edge);
        i["panel_hole_up_panel"] = json!(14.0);
        assert!(ask(LAYOUT, &i)["solutions"][0].is_object());
        i["panel_hole_up_panel"] = json!(14.5);
        assert_eq!(n(&stop(LAYOUT, &i, "panel_hole_up_panel"), "limit"), 14.0);
    }
    let mut i = opened(&PANELS[0], 90.0);
    i["panel_hole_up_panel"] = json!(16.5);
    close(n(&stop(LAYOUT, &i, "panel_hole_up_panel"), "limit"), 16.0, 1e-9, "in the panel");
    for bad in [-1.0, 181.0] {
        stop(LAYOUT, &opened(&PANELS[0], bad), "opening_deg");
    }
    // The hole on the pin: any opening, or none.
    let on_pin = (0.75, 6.0, 0.0, 0.0, 16.0, 0.75, 0.0, 20.0, 0.0);
    stop(LAYOUT, &corded(&on_pin, 14.0), "panel_hole_up_panel");
}

#[test]
fn worked_back_contradicted_off_and_hostile() {
    let level = opened(&PANELS[0], 90.0);
    works_back(LAYOUT, &level, "opening_deg", "cord_between_faces", 18.0);
    works_back(LAYOUT, &level, "back_hole_height", "cord_between_faces", 20.0);
    // Cord for both of its cords.
    works_back(LAYOUT, &level, "panel_hole_up_panel", "cord_to_buy", 44.0);
    works_back(LAYOUT, &corded(&PANELS[0], 17.0), "cord_between_faces", "opening_deg", 80.0);
    contradicts(LAYOUT, &level, "mouth_width");
    assert_eq!(off_rows(LAYOUT, &level), 1);
    assert_eq!(off_rows(LAYOUT, &corded(&PANELS[0], 17.0)), 1);
    for mut i in [level, corded(&PANELS[1], 16.0)] {
        survives(LAYOUT, &i);
        for (key, value) in [
            ("knot_allowance", 6.0),
            ("next_hinge_down", 40.0),
            ("chain_link", 0.75),
            ("load_up_panel", 9.0),
        ] {
            i[key] = json!(value);
        }
        keeps_its_shape(LAYOUT, &i);
        i["load_kg"] = json!(3.0);
        survives(LAYOUT, &i);
    }
}
