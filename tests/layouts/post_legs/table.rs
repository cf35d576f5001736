//! The case table that also runs in a browser: every case is answered one way or the other.

use offsquare_door::solve_value;
use serde_json::Value;

#[test]
fn every_case_is_answered() {
    let text = include_str!("../../cases/post_legs.json");
    let cases: Value = serde_json::from_str(text).expect("the case table is JSON");
    let replies = solve_value(&cases);
    let (cases, replies) = (cases.as_array().expect("array"), replies.as_array().expect("array"));
    assert!((30..=120).contains(&cases.len()), "{}", cases.len());
    let mut solved = 0;
    for (case, reply) in cases.iter().zip(replies) {
        assert_eq!(case["id"], reply["id"]);
        let none = reply["solutions"].as_array().is_some_and(Vec::is_empty);
        let stopped =
            reply["problems"].as_array().is_some_and(|p| p.iter().any(|p| p["level"] == "stop"));
        assert!(!none || stopped, "{case} → {reply}");
        solved += usize::from(!none);
    }
    assert!(solved * 2 > cases.len(), "{solved} of {}", cases.len());
}
