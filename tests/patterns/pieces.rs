//! Pieces against a general-purpose kernel of solids (`tests/oracles/pieces/make.py` writes `pieces.json`): the
//! kernel measured each solid as placed, and as cut out of its stick by the list of parts alone.

use crate::checks::solid_of;
use offsquare_door::piece::piece_value;
use serde_json::Value;
use std::collections::BTreeMap;

fn numbers(v: &Value) -> Vec<f64> {
    v.as_array().expect("a list").iter().map(|n| n.as_f64().expect("a number")).collect()
}

#[test]
fn the_kernel_finds_the_same_volumes_and_extent_and_no_overlap() {
    let table: Value = serde_json::from_str(include_str!("pieces.json")).expect("the table");
    let mut pieces = BTreeMap::new();
    for case in table["cases"].as_array().expect("cases") {
        let answer = piece_value(case);
        let pattern = case["pattern"].as_str().expect("a pattern");
        let told = format!("{pattern} {}", case["sizes"]);
        let [volumes, cut, extent] = ["volumes", "as_cut", "extent"].map(|k| numbers(&case[k]));
        let size = extent.iter().fold(0.0, |m: f64, x| m.max(*x));
        for (key, measured) in ["width", "depth", "height"].into_iter().zip(&extent) {
            // Of a round post the kernel measured the prism; it reaches nowhere beyond its stand.
            let is = answer["extent"][key].as_f64().expect("an extent");
            assert!((is - measured).abs() < 1e-7 * size, "{key} {is} {measured} {told}");
        }
        assert!(case["shared"].as_f64().expect("shared") < 1e-7, "{told}");
        let placed = answer["placed"].as_array().expect("placed");
        assert_eq!((placed.len(), placed.len()), (volumes.len(), cut.len()), "{told}");
        for (i, one) in placed.iter().enumerate() {
            let is = solid_of(one).volume();
            // The table has eight places.
            let loose = 2e-8 + 1e-8 * is;
            assert!((is - volumes[i]).abs() < loose, "{is} {} {told}", volumes[i]);
            assert!((is - cut[i]).abs() < loose, "as cut: {is} {} {told}", cut[i]);
        }
        *pieces.entry(pattern).or_insert(0) += 1;
    }
    assert!(pieces.len() == 12 && pieces.values().all(|n| *n == 10), "{pieces:?}");
}
