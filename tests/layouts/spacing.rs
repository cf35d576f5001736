//! Even spacing through the JSON door, against rational arithmetic done here (GEOMETRY 10).

use serde_json::{Value, json};

fn ask(unit: &str, inputs: Value) -> Value {
    offsquare_door::solve_value(
        &json!({"id": 1, "layout": "spacing", "unit": unit, "inputs": inputs}),
    )
}
fn answers(inputs: Value) -> Value {
    let reply = ask("in", inputs.clone());
    assert_eq!(reply["problems"], json!([]), "{inputs}");
    reply["solutions"][0]["answers"].clone()
}
fn numbers(v: &Value) -> Vec<f64> {
    v.as_array()
        .unwrap_or_else(|| panic!("no list: {v}"))
        .iter()
        .map(|x| x.as_f64().expect("number"))
        .collect()
}
fn close(is: f64, should: f64, what: &str) {
    assert!((is - should).abs() <= 1e-10, "{what}: is {is}, should be {should}");
}

/// Sizes as whole 64ths: every center is an exact fraction, and so is its rounding, halves upwards.
#[test]
fn rules_and_marks_agree_with_whole_number_arithmetic() {
    for (n, d, l) in [
        (7i64, 96i64, 2304i64),
        (1, 64, 640),
        (5, 37, 1001),
        (12, 0, 777),
        (3, 32, 320),
        (2, 160, 320),
        (40, 16, 3000),
    ] {
        for rule in ["equal_gaps", "half_gaps", "equal_centres"] {
            let (start, end) = (96i64, 128i64);
            if rule == "equal_centres"
                && (start + end > l || (n > 1 && (l - start - end) < d * (n - 1)))
            {
                continue;
            }
            // Centers as numerator over `den`, in 64ths.
            let (den, centre): (i64, Box<dyn Fn(i64) -> i64>) = match rule {
                // g = (L - nd)/(n + 1); center i = g + d/2 + i (g + d).
                "equal_gaps" => {
                    let den = 2 * (n + 1);
                    let g = 2 * (l - n * d);
                    (den, Box::new(move |i| g + d * (n + 1) + i * (g + den * d)))
                }
                "half_gaps" => {
                    let den = 2 * n;
                    let g = 2 * (l - n * d);
                    (den, Box::new(move |i| g / 2 + d * n + i * (g + den * d)))
                }
                _ if n == 1 => (2, Box::new(move |_| start + l - end)),
                _ => {
                    let den = n - 1;
                    (den, Box::new(move |i| start * den + i * (l - start - end)))
                }
            };
            let inch = 64.0;
            let mut inputs = json!({"rule": rule, "holes": n, "diameter": d as f64 / inch, "length": l as f64 / inch});
            if rule == "equal_centres" {
                inputs["margin_start"] = json!(start as f64 / inch);
                inputs["margin_end"] = json!(end as f64 / inch);
            }
            let a = answers(inputs);
            let centres = numbers(&a["centres"]);
            assert_eq!(centres.len() as i64, n);
            for (i, c) in centres.iter().enumerate() {
                close(*c, centre(i as i64) as f64 / den as f64 / inch, rule);
            }
            close(
                a["first_edge"].as_f64().expect("edge"),
                centres[0] - d as f64 / inch / 2.0,
                "first edge",
            );
            let last = centres[centres.len() - 1];
            close(
                a["last_gap"].as_f64().expect("gap"),
                l as f64 / inch - last - d as f64 / inch / 2.0,
                "last gap",
            );
            for (key, step) in [("1/16", 4i64), ("1/32", 2)] {
                let m = &a["marks"][key];
                let should: Vec<f64> = (0..n)
                    .map(|i| (2 * centre(i) + den * step).div_euclid(2 * den * step) as f64)
                    .collect();
                assert_eq!(numbers(&m["mark_numerators"]), should, "{rule} {n} {d} {l} {key}");
                assert!(
                    m["largest_error"].as_f64().expect("error") <= step as f64 / inch / 2.0 + 1e-12
                );
            }
        }
    }
}

/// By hand: 3 holes of 1 in 10: g = 7/4, centers 2 1/4, 5, 7 3/4. Half gaps: 7/3 between.
#[test]
fn by_hand() {
    let a = answers(json!({"rule": "equal_gaps", "holes": 3, "diameter": 1, "length": 10}));
    assert_eq!(numbers(&a["centres"]), [2.25, 5.0, 7.75]);
    assert_eq!(a["gap_between"], 1.75);
    assert_eq!(a["centre_distance"], 2.75);
    let a = answers(json!({"rule": "half_gaps", "holes": 3, "diameter": 1, "length": 10}));
    close(a["first_edge"].as_f64().expect("edge"), 7.0 / 6.0, "g/2");
    // Stepping off: 11 marks at 36/11 = 3.2727 (3 1/4 rounded): 10 steps come 0.2273 short of 32.7273,
    // and the first mark is 3 1/4 too: (11 × 3.25) - 36 + 3.2727 ... by hand 35.75 - 36 = -0.25.
    let a = answers(json!({"rule": "equal_centres", "holes": 11, "diameter": 0, "length": 40,
        "margin_start": 36.0 / 11.0, "margin_end": 4}));
    let off = a["marks"]["1/16"]["last_mark_error_if_stepped_off"].as_f64().expect("error");
    // Distance (40 - 4 - 36/11)/10 = 3.2727, rounded 52/16 = 3.25; first mark 52/16.
    close(off, 3.25 + 10.0 * 3.25 - 36.0, "stepped off");
    // 3/32 to sixteenths is a tie and goes up (REFERENCES 7.1): 2/16.
    let a = answers(json!({"rule": "equal_centres", "holes": 1, "diameter": 0, "length": 0.1875,
        "margin_start": 0.0, "margin_end": 0.0}));
    assert_eq!(numbers(&a["marks"]["1/16"]["mark_numerators"]), [2.0]);
    // Millimeters: 3.25 mm is a tie of half-millimeter marks and goes up to 3.5.
    let r = ask(
        "mm",
        json!({"rule": "equal_centres", "holes": 1, "diameter": 0, "length": 6.5,
        "margin_start": 0, "margin_end": 0}),
    );
    let m = &r["solutions"][0]["answers"]["marks"]["0.5"];
    assert_eq!(numbers(&m["mark_numerators"]), [7.0]);
    close(numbers(&m["marks"])[0], 3.5, "mm");
}

/// The count that a gap asks for, by trying every count.
#[test]
fn counts_from_a_gap_by_trying_all() {
    for (d, l, want) in [
        (1.5, 36.0, 3.0),
        (1.5, 36.0, 2.0),
        (0.75, 50.0, 3.9375),
        (2.0, 20.0, 0.5),
        (1.0, 10.0, 1.75),
        (1.0, 10.0, 30.0),
    ] {
        for half in [false, true] {
            let gap = |n: f64| {
                if half { (l - n * d) / n } else { (l - n * d) / (n + 1.0) }
            };
            let all: Vec<f64> = (1..100).map(f64::from).filter(|n| gap(*n) >= -1e-12).collect();
            let ends = if half { "half" } else { "full" };
            let ask = |rule| {
                answers(json!({"rule": rule, "diameter": d, "length": l, "gap_wanted": want, "end_gaps": ends}))["holes"]
                    .as_f64()
                    .expect("holes")
            };
            let best = all
                .iter()
                .copied()
                .min_by(|a, b| (gap(*a) - want).abs().total_cmp(&(gap(*b) - want).abs()))
                .expect("some");
            assert_eq!(ask("closest_gap"), best, "closest {d} {l} {want} {half}");
            if let Some(fewest) = all.iter().copied().find(|n| gap(*n) <= want + 1e-12) {
                assert_eq!(ask("widest_gap"), fewest, "widest {d} {l} {want} {half}");
            }
        }
    }
}

#[test]
fn impossible_rows_name_their_limit() {
    let stop = |inputs: Value, field: &str| {
        let r = ask("in", inputs);
        assert_eq!(r["solutions"], json!([]));
        assert_eq!(r["problems"][0]["path"], format!("/inputs/{field}"), "{r}");
        r["problems"][0]["limit"].clone()
    };
    // 10 / 1.5 = 6.67.
    assert_eq!(
        stop(json!({"rule": "equal_gaps", "holes": 7, "diameter": 1.5, "length": 10}), "holes"),
        6.0
    );
    assert_eq!(
        stop(
            json!({"rule": "equal_centres", "holes": 3, "diameter": 2, "length": 10, "margin_start": 0.5, "margin_end": 2}),
            "margin_start"
        ),
        1.0
    );
    // Span 6, 2 wide: centers at most 4.
    assert_eq!(
        stop(
            json!({"rule": "equal_centres", "holes": 5, "diameter": 2, "length": 10, "margin_start": 2, "margin_end": 2}),
            "holes"
        ),
        4.0
    );
    stop(json!({"rule": "equal_gaps", "diameter": 1, "length": 10}), "holes");
    stop(json!({"rule": "widest_gap", "diameter": 1, "length": 10}), "gap_wanted");
    // 3 of 3 in 10 leave gaps of 1/4 at the least.
    assert_eq!(
        stop(
            json!({"rule": "widest_gap", "diameter": 3, "length": 10, "gap_wanted": 0.1}),
            "gap_wanted"
        ),
        0.25
    );
    stop(
        json!({"rule": "closest_gap", "diameter": 0, "length": 10, "gap_wanted": 0}),
        "gap_wanted",
    );
    stop(json!({"rule": "equal_gaps", "holes": 1, "diameter": 12, "length": 10}), "length");
}

/// One stands midway between its margins, be they smaller than half its width, and may run off an end
/// (GEOMETRY 10). By hand: (0.25 + 10 - 0.5) / 2; and 9.75 + 1 - 10 puts it just on the board.
#[test]
fn one_alone_stands_midway_between_small_margins() {
    let asked = |start: f64, end: f64| {
        json!({"rule": "equal_centres", "holes": 1, "diameter": 1, "length": 10,
            "margin_start": start, "margin_end": end})
    };
    assert_eq!(answers(asked(0.25, 0.5))["centres"], json!([4.875]));
    for (start, end, limit) in [(0.25, 9.75, 0.75), (9.75, 0.25, 9.25)] {
        let reply = ask("in", asked(start, end));
        assert_eq!(reply["problems"][0]["path"], "/inputs/margin_start");
        assert_eq!(reply["problems"][0]["limit"], limit);
        answers(asked(limit, end));
    }
}
