//! The table of optima that a general-purpose MIP solver proved (tests/oracles/plans/make.py).

use offsquare_door::plan::plan_value;
use serde_json::Value;

#[test]
fn plans_cost_what_the_mip_solver_proved() {
    let table: Vec<Value> = serde_json::from_str(include_str!("table.json")).expect("a table");
    assert!(table.len() >= 40);
    for case in &table {
        let name = &case["instance"]["name"];
        let plan = plan_value(&case["instance"]);
        assert_eq!(plan["status"], case["status"], "{name}");
        if plan["status"] != "ok" {
            continue;
        }
        let (got, wanted) = (plan["price"].as_f64(), case["price"].as_f64());
        assert!(
            (got.unwrap_or(0.0) - wanted.unwrap_or(-1.0)).abs() < 1e-6 && plan["proven"] == true,
            "{name}: {got:?} (proven {}), should be {wanted:?}",
            plan["proven"]
        );
        let boards = plan["boards"].as_array().map_or(0, Vec::len) as u64;
        if plan["proven_all"] == true {
            assert_eq!(Some(boards), case["boards"].as_u64(), "{name}");
        }
    }
}
