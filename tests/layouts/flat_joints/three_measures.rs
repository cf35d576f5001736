//! An angle from three measures: known triangles, and what moved measures do to it.

use super::{answers, close, n, stop};
use serde_json::json;

/// 3-4-5 (from memory): 90° between 3 and 4; atan(3/4) = 36.8699 between 4 and 5.
#[test]
fn angle_of_known_triangles() {
    let angle = |a: f64, b: f64, c: f64| {
        n(&answers("three_measures", json!({"side_a": a, "side_b": b, "side_c": c})), "angle_deg")
    };
    close(angle(3.0, 4.0, 5.0), 90.0, 1e-9, "3-4-5");
    close(angle(4.0, 5.0, 3.0), 36.869_897_645_844_02, 1e-9, "3-4-5");
    close(angle(7.0, 7.0, 7.0), 60.0, 1e-9, "equal sides");
    // A corner of 60° is mitered at half its outside: 90 − 60/2 off square.
    let even = json!({"side_a": 7, "side_b": 7, "side_c": 7});
    let miter = n(&answers("three_measures", even), "corner_miter_deg");
    close(miter, 60.0, 1e-9, "60° corner");
    let a = answers("three_measures", json!({"rise": 3, "run": 4}));
    close(n(&a, "angle_deg"), 36.869_897_645_844_02, 1e-9, "rise and run");
    close(n(&a, "reading_deg"), 53.130_102_354_155_98, 1e-9, "complement");
    // REFERENCES 3.4: 12 & 5 on the square is near the octagon's 22.5 (exact 12 & 4.9706).
    let a = answers("three_measures", json!({"tape_mark": 4.970_562_748_477_14, "width": 12}));
    close(n(&a, "reading_deg"), 22.5, 1e-9, "octagon");
    assert_eq!(
        stop("three_measures", json!({"side_a": 3, "side_b": 4, "side_c": 7}), "side_c"),
        7.0
    );
    assert_eq!(
        stop("three_measures", json!({"side_a": 3, "side_b": 4, "side_c": 1}), "side_c"),
        1.0
    );
}

/// First order against finite steps of the angle worked here by the cosine rule, and the extremes
/// against a grid of measures within their limits. Tape limits: REFERENCES 7.1 (2014/32/EU, OIML R 35-1).
#[test]
fn uncertainty_agrees_with_moved_measures() {
    let angle =
        |a: f64, b: f64, c: f64| ((a * a + b * b - c * c) / (2.0 * a * b)).acos().to_degrees();
    // Up to 1 m: class I 0.2, II 0.5, III 1.0 mm; at 5 m 0.6, 1.3, 2.6 (printed table).
    for (class, at_1, at_5) in [("I", 0.2, 0.6), ("II", 0.5, 1.3), ("III", 1.0, 2.6)] {
        for (sides, mm) in [([24.0, 30.0, 20.0], at_1), ([190.0, 180.0, 196.0], at_5)] {
            let step = 1.0 / 16.0;
            let by = step / 2.0 + mm / 25.4;
            let a = answers(
                "three_measures",
                json!({"side_a": sides[0], "side_b": sides[1], "side_c": sides[2],
                "tape_class": class, "reading_step": step}),
            );
            let (x, y, z) = (sides[0], sides[1], sides[2]);
            let h = 1e-4;
            let slopes = [
                (angle(x + h, y, z) - angle(x - h, y, z)) / (2.0 * h),
                (angle(x, y + h, z) - angle(x, y - h, z)) / (2.0 * h),
                (angle(x, y, z + h) - angle(x, y, z - h)) / (2.0 * h),
            ];
            let worst: f64 = slopes.iter().map(|s| s.abs() * by).sum();
            close(n(&a, "uncertainty_deg"), worst, 1e-6, "first order");
            let tape = mm / 25.4;
            let se: f64 = slopes
                .iter()
                .map(|s| s * s * (step * step / 12.0 + tape * tape / 3.0))
                .sum::<f64>()
                .sqrt();
            close(n(&a, "standard_uncertainty_deg"), se, 1e-6, "standard deviation");
            let (mut low, mut high) = (f64::MAX, f64::MIN);
            for i in -4..=4 {
                for j in -4..=4 {
                    for k in -4..=4 {
                        let t = |i: i32| f64::from(i) / 4.0 * by;
                        let g = angle(x + t(i), y + t(j), z + t(k));
                        (low, high) = (low.min(g), high.max(g));
                    }
                }
            }
            close(n(&a, "angle_least_deg"), low, 1e-9, "least");
            close(n(&a, "angle_greatest_deg"), high, 1e-9, "greatest");
            assert_eq!(a["half_degree_readable"], json!(worst <= 0.25));
        }
    }
    // A short measure cannot tell half a degree, a long one can.
    assert_eq!(
        answers("three_measures", json!({"tape_mark": 2, "width": 3.5}))["half_degree_readable"],
        false
    );
    assert_eq!(
        answers("three_measures", json!({"rise": 30, "run": 40}))["half_degree_readable"],
        true
    );
}
