//! What stands in a row, measured on the solids: slats, shelves, holes, sections; and where a knee is seated.

use offsquare_door::piece::piece_value;
use serde_json::{Value, json};

/// Least and greatest of a coordinate of each solid of a part, in their order.
fn reach(answer: &Value, name: &str, axis: usize) -> Vec<(f64, f64)> {
    let parts = answer["parts"].as_array().expect("parts");
    let placed = answer["placed"].as_array().expect("placed");
    let own = placed.iter().filter(|p| parts[p["part"].as_u64().unwrap() as usize]["name"] == name);
    own.map(|p| {
        let all = p["vertices"].as_array().unwrap().iter().map(|v| v[axis].as_f64().unwrap());
        all.fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), x| (l.min(x), h.max(x)))
    })
    .collect()
}

fn near(is: f64, expected: f64) {
    assert!((is - expected).abs() < 1e-9, "{is} is not {expected}");
}

/// Between stiles 1.5 wide a frame of 24 leaves 21; five slats of 1.5 leave 13.5 for six gaps: 2.25 each.
#[test]
fn slats_stand_with_even_gaps() {
    let answer = piece_value(&json!({"unit": "in", "pattern": "slatted_trellis", "sizes":
        {"width": 24, "stile_seen": 1.5, "slats": 5, "slat_seen": 1.5}}));
    let mut before = -10.5;
    for (left, right) in reach(&answer, "slat", 0) {
        near(left - before, 2.25);
        before = right;
    }
    near(10.5 - before, 2.25);
}

/// 36 less four boards of 3/4 leaves 33. Each clear height a tenth more than the one above: 33 / 3.31 at the top.
#[test]
fn shelves_leave_the_heights_that_are_told() {
    let answer = piece_value(&json!({"unit": "in", "pattern": "shelf_unit", "sizes":
        {"height": 36, "shelves": 2, "thickness": 0.75, "spacing": "growing"}}));
    let told: Vec<f64> = answer["sizes"]["clear_heights"]
        .as_array()
        .unwrap()
        .iter()
        .map(|h| h.as_f64().unwrap())
        .collect();
    let top = 33.0 / 3.31;
    let mut under = 0.75;
    for ((low, high), height) in reach(&answer, "shelf", 2).into_iter().zip(&told) {
        near(low - under, *height);
        under = high;
    }
    near(36.0 - 0.75 - under, top);
    near(told[2], top);
    near(told[1], 1.1 * top);
    near(told[0], 1.21 * top);
}

/// 30 less five holes of 1.25 leaves 23.75 for six gaps; the first middle stands 23.75 / 6 + 0.625 from the end.
#[test]
fn holes_stand_with_even_gaps_at_half_the_height() {
    let answer = piece_value(&json!({"unit": "in", "pattern": "holed_beam", "sizes":
        {"length": 30, "seen": 3.5, "holes": 5, "diameter": 1.25, "rule": "equal_gaps"}}));
    let holes = answer["parts"][0]["holes"].as_array().unwrap();
    for (i, hole) in holes.iter().enumerate() {
        let gap = 23.75 / 6.0;
        near(hole["x"].as_f64().unwrap(), gap + 0.625 + i as f64 * (gap + 1.25));
        near(hole["y"].as_f64().unwrap(), 1.75);
    }
    // The solid's holes, whose corners reach their true height, are where the list has them.
    let corners = answer["placed"][0]["vertices"].as_array().unwrap();
    let rim = corners.iter().filter(|v| (v[2].as_f64().unwrap() - 1.75 - 0.625).abs() < 1e-9);
    let mut middles: Vec<f64> = rim.map(|v| v[0].as_f64().unwrap() + 15.0).collect();
    middles.sort_by(f64::total_cmp);
    middles.dedup_by(|a, b| (*a - *b).abs() < 1e-9);
    assert_eq!(middles.len(), 5);
    for (middle, hole) in middles.iter().zip(holes) {
        near(*middle, hole["x"].as_f64().unwrap());
    }
}

#[test]
fn sections_follow_each_other_up_the_wall() {
    let answer = piece_value(&json!({"unit": "in", "pattern": "scale_board", "sizes":
        {"total_length": 60, "sections": 3, "thickness": 0.75}}));
    let all = reach(&answer, "board", 2);
    assert_eq!(all.len(), 3);
    for (i, (low, high)) in all.into_iter().enumerate() {
        near(low, 20.0 * i as f64);
        near(high, 20.0 * (i + 1) as f64);
    }
    near(reach(&answer, "board", 1)[0].0, -0.75);
}

/// Legs 1.5 wide: the inside corner is 1.5 out from the wall and 1.5 down from the top. The knee's outer edge
/// meets the level leg 6 further out and the upright one 7.5 further down.
#[test]
fn a_knee_is_seated_where_it_is_wanted() {
    let answer = piece_value(&json!({"unit": "in", "pattern": "shelf_bracket", "sizes":
        {"leg_a": 9, "leg_b": 11, "leg_seen": 1.5, "seat_a": 6, "seat_b": 7.5, "count": 1}}));
    near(reach(&answer, "knee", 1)[0].0, -7.5);
    near(reach(&answer, "knee", 1)[0].1, -1.5);
    near(reach(&answer, "knee", 2)[0].0, 11.0 - 1.5 - 7.5);
    near(reach(&answer, "knee", 2)[0].1, 9.5);
}
