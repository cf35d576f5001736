//! Parts that the maker cuts differently: they stand where they stood, hold what they hold as cut, and what no
//! longer goes together is said.

use crate::checks::{check, random_request, solid_of};
use offsquare_door::piece::piece_value;
use offsquare_tests::dice::Dice;
use offsquare_work::patterns;
use serde_json::{Value, json};

/// A pattern's start with these overrides: the answer, and what is said of them (path, text).
fn with(pattern: &str, sizes: Value, overrides: Value) -> (Value, Vec<(String, String)>) {
    let request = json!({"unit": "in", "pattern": pattern, "sizes": sizes, "overrides": overrides});
    assert!(check(&request), "{request}");
    let answer = piece_value(&request);
    let text = |v: &Value| v.as_str().expect("a text").to_owned();
    let told = answer["problems"].as_array().expect("problems").iter().map(|p| {
        assert_eq!(p["level"], "warn", "{p}");
        (text(&p["path"]), text(&p["text"]))
    });
    let told = told.collect();
    (answer, told)
}

/// Least and greatest of a coordinate over the solids of a part, by its place in the list.
fn reach(answer: &Value, part: usize, axis: usize) -> (f64, f64) {
    let own = answer["placed"].as_array().unwrap().iter().filter(|p| p["part"] == part);
    let corners = own.flat_map(|p| solid_of(p).faces).flatten().map(|p| [p.x, p.y, p.z][axis]);
    corners.fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), x| (l.min(x), h.max(x)))
}

fn near((low, high): (f64, f64), (l, h): (f64, f64)) {
    assert!((low - l).abs() < 1e-9 && (high - h).abs() < 1e-9, "{low} {high} is not {l} {h}");
}

/// Stiles run through from the floor to 45: two inches longer they stand two inches higher. Rails of 29 lie between
/// the stiles, from -14.5 to 14.5.
#[test]
fn a_stick_is_longer_at_its_right_end() {
    let frame = |over: Value| with("braced_frame", json!({"outside_width": 36}), json!([over]));
    let (answer, told) = frame(json!({"part": "stile", "length": 47}));
    assert_eq!(told, []);
    near(reach(&answer, 1, 2), (0.0, 47.0));
    assert_eq!(answer["extent"]["height"], 47.0);
    let (answer, told) = frame(json!({"part": "rail", "length": 30}));
    near(reach(&answer, 0, 0), (-14.5, 15.5));
    assert_eq!(told.len(), 1);
    assert_eq!(told[0].0, "/overrides/0/length");
    assert!(told[0].1.contains("runs into the stile"), "{told:?}");
    let (answer, told) = frame(json!({"part": "rail", "nth": 1, "length": 28}));
    near(reach(&answer, 1, 0), (-14.5, 13.5));
    assert!(told[0].1.contains("no longer reaches the stile"), "{told:?}");
    // The other rail is as it was.
    near(reach(&answer, 0, 0), (-14.5, 14.5));
}

/// Its left end cut at 45°, edge A (below) further out: at its upper edge it is its width shorter.
#[test]
fn an_end_is_cut_by_its_own_miter_and_bevel() {
    let end = |miter: f64, bevel: f64| json!({"mitre_deg": miter, "bevel_deg": bevel});
    let over = json!([{"part": "stile", "nth": 0, "right": end(45.0, 0.0)}]);
    let (answer, told) = with("braced_frame", json!({"stile_seen": 3.5}), over);
    assert_eq!(told, []);
    let of =
        |name: &str| answer["parts"].as_array().unwrap().iter().rposition(|p| p["name"] == name);
    assert_eq!(answer["parts"][of("stile").unwrap()]["right"]["mitre_deg"], 45.0);
    // Standing, edge A looks to the right; the slope rises to it.
    let at = of("stile").unwrap();
    let one = answer["placed"].as_array().unwrap().iter().find(|p| p["part"] == at).unwrap();
    let top = |x: f64| {
        let corners = solid_of(one).faces.into_iter().flatten();
        corners.filter(|p| (p.x - x).abs() < 1e-9).map(|p| p.z).fold(0.0, f64::max)
    };
    assert!((top(-14.5) - 45.0).abs() < 1e-9 && (top(-18.0) - 41.5).abs() < 1e-9);
    // A leg's foot cut square stands on its edge; its volume is checked against the list.
    let (_, told) = with(
        "post_stand",
        json!({}),
        json!([{"part": "leg", "left": end(0.0, 0.0), "right": end(0.0, 0.0)}]),
    );
    assert!(!told.is_empty());
}

/// Without its post a stand's legs touch nothing; without a lid a box is a box.
#[test]
fn what_is_left_out_is_told_where_others_hang_on_it() {
    let (_, told) = with("post_stand", json!({}), json!([{"part": "post", "qty": 0}]));
    assert_eq!(told.len(), 1);
    assert_eq!(told[0].0, "/overrides/0/qty");
    assert!(told[0].1.contains("the leg touches nothing"), "{told:?}");
    let (answer, told) = with("plain_box", json!({}), json!([{"part": "lid", "qty": 0}]));
    assert_eq!(told, []);
    assert_eq!(answer["extent"]["height"], 7.25);
    let two = json!([{"part": "rail", "qty": 1}, {"part": "Rail", "stock": "thin"}]);
    let (answer, told) = with("slatted_trellis", json!({}), two);
    assert_eq!((told.len(), answer["parts"][1]["stock"].as_str()), (0, Some("thin")));
}

/// A beam's holes lie up to about 27: at 20 some would be past its end. A shaped board has no other length.
#[test]
fn what_cannot_be_shown_is_cut_and_said() {
    let (answer, told) = with("holed_beam", json!({}), json!([{"part": "beam", "length": 20}]));
    assert_eq!(told[0].0, "/overrides/0/length");
    assert_eq!((&answer["placed"], &answer["parts"][0]["length"]), (&json!([]), &json!(20.0)));
    let (answer, told) = with("holed_beam", json!({}), json!([{"part": "beam", "length": 40}]));
    assert_eq!((told.len(), answer["placed"].as_array().unwrap().len()), (0, 1));
    let (_, told) = with("trug", json!({}), json!([{"part": "end", "length": 8}]));
    assert_eq!(told[0].0, "/overrides/0/length");
}

/// Any part of any pattern, cut shorter, longer or at other angles: what is placed holds what the list says, and what
/// is not is said ([`check`]).
#[test]
fn every_part_cut_differently_holds_what_it_holds_as_cut() {
    let (mut shown, mut hidden) = (0, 0);
    for (n, pattern) in patterns::all().iter().enumerate() {
        let mut dice = Dice(700 + n as u64);
        for k in 0..12 {
            let mut request = random_request(pattern, &mut dice, 1.25, false);
            let plain = piece_value(&request);
            for part in plain["parts"].as_array().into_iter().flatten() {
                let length = part["length"].as_f64().expect("a length");
                let mut over = json!({"part": part["name"]});
                if k % 3 != 1 {
                    over["length"] = json!(length * (0.75 + 0.5 * dice.share()));
                }
                if k % 3 != 0 {
                    let [miter, bevel] = [30.0, 20.0].map(|most| (2.0 * dice.share() - 1.0) * most);
                    let end = json!({"mitre_deg": miter, "bevel_deg": bevel});
                    over[if k % 2 == 0 { "left" } else { "right" }] = end;
                }
                request["overrides"] = json!([over]);
                assert!(check(&request), "{request}");
                let answer = piece_value(&request);
                let at = answer["parts"]
                    .as_array()
                    .unwrap()
                    .iter()
                    .position(|p| p["name"] == part["name"]);
                let own = |p: &&Value| p["part"].as_u64() == at.map(|at| at as u64);
                match answer["placed"].as_array().unwrap().iter().any(|p| own(&p)) {
                    true => shown += 1,
                    false => hidden += 1,
                }
            }
        }
    }
    assert!(shown > 300 && hidden < shown, "{shown} {hidden}");
}
