//! What an independent program that judges the plan door found wanting.

use offsquare_door::plan::plan_value;
use serde_json::json;

/// A kerf wider than the strip: the cut behind the last part then costs more than its slope saves, and
/// the longer row that ends in the squarer cut leaves more. Two parts, ends 60 and 74.999: 41.5 − (24 +
/// D) − 1/cos 60 with D = 1/cos 74.999 − 0.25·tan 74.999 (CUTPLAN 3, 5); the other row leaves 0.5 less.
#[test]
fn the_largest_leftover_may_lie_behind_the_longer_row() {
    let v = plan_value(
        &json!({"width": 0.25, "kerf": 1, "boards": [{"id": "b", "length": 41.5, "price": 2}],
        "parts": [{"id": "p", "qty": 2, "length": 12, "left": 60, "right": 74.999, "one_good_face": true}]}),
    );
    let steep = 74.999_f64.to_radians();
    let left = 41.5 - (24.0 + 1.0 / steep.cos() - 0.25 * steep.tan()) - 2.0;
    let is = v["leftover"].as_f64().unwrap_or(f64::NAN);
    assert!((is - left).abs() < 1e-6, "{v}");
    assert_eq!(v["proven_all"], true);
}
