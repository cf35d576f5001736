//! Worked examples of craft pricing and of bookkeeping, as they were published, in cents.

use crate::priced;
use crate::rules::hold;
use serde_json::{Value, json};

/// The figures, held against the rules too.
fn worked(price: Value) -> Value {
    let answer = priced(&price);
    hold(&price, &answer);
    answer
}

/// Example 1: A craft-business page: supplies of 1.00 a piece, 100 pieces in a week of 40 hours at 10.00: 500.00 in all,
/// 5.00 a piece, twice that at retail.
#[test]
fn a_week_of_a_hundred_pieces() {
    let answer = worked(json!({
        "batch": 100, "hardware": [{"name": "supplies", "per_piece": 1, "pack": 1, "pack_price": 100}],
        "steps": [{"name": "make", "each_min": 24}], "rate": 1000, "want": {"markup_percent": 100},
    }));
    assert_eq!((&answer["labor"], &answer["hardware_used"]), (&json!(40_000), &json!(10_000)));
    assert_eq!((&answer["cost"], &answer["cost_each"]), (&json!(50_000), &json!(500)));
    assert_eq!(answer["asked"], 1000);
}

/// Example 2: A merchant's page: materials 25.00, labor 14.00, overhead 8.34. Printed: 47.40, and 94.80 at retail. Trap: the
/// sum is 47.34, twice that 94.68.
#[test]
fn the_printed_sum_of_25_and_14_and_8_34_is_wrong() {
    const PRINTED: [i64; 2] = [4740, 9480];
    let answer = worked(json!({
        "wood": {"bought": 2500}, "steps": [{"each_min": 60}], "rate": 1400, "overhead": {"per_hour": 834},
        "want": {"markup_percent": 100},
    }));
    let found = [&answer["cost"], &answer["asked"]];
    assert_eq!(found, [4734, 9468]);
    assert_ne!(found, PRINTED);
}

/// Example 3: Penn State, ACCTG 211, section 7.2: fixed cost 20,000, price 400, variable cost 250: each sale brings 150, so
/// that 133.33 sales break even. Whole sales: 134 (derived).
#[test]
fn a_hundred_and_thirty_four_sales_break_even() {
    let answer = worked(json!({
        "wood": {"bought": 25_000}, "stall": 2_000_000, "want": {"profit": 15_000},
    }));
    assert_eq!((&answer["asked"], &answer["profit"]), (&json!(40_000), &json!(15_000)));
    assert_eq!(answer["break_even_sales"], 134);
}

/// Example 4: An accounting exercise (question read, answers derived): fixed cost 1,200,000, price 26.90, variable cost 14.40:
/// 96,000 to break even, 99,840 to earn 48,000.
#[test]
fn sales_that_come_out_even_are_not_rounded_up() {
    for (fixed, sales) in [(1_200_000, 96_000), (1_248_000, 99_840)] {
        let answer = worked(json!({
            "wood": {"bought": 1440}, "stall": fixed * 100, "want": {"profit": 1250},
        }));
        assert_eq!((&answer["asked"], &answer["break_even_sales"]), (&json!(2690), &json!(sales)));
    }
}

/// Example 5: Cost 40, price 100 (derived; read on an untitled page): margin 60 %, markup 150 %.
#[test]
fn three_ways_to_want_the_same_price() {
    let wants =
        [json!({"profit": 6000}), json!({"margin_percent": 60}), json!({"markup_percent": 150})];
    for want in wants {
        let answer = worked(json!({"wood": {"bought": 4000}, "want": want}));
        assert_eq!((&answer["asked_exact"], &answer["asked"]), (&json!(10_000), &json!(10_000)));
        assert_eq!(answer["margin_percent"], 60.0);
        assert_eq!(answer["markup_percent"], 150.0);
    }
    // Twice the cost: a markup of 100 %, a margin of 50 % (common practice).
    let answer = worked(json!({"wood": {"bought": 4000}, "want": {"markup_percent": 100}}));
    assert_eq!((&answer["asked"], &answer["margin_percent"]), (&json!(8000), &json!(50.0)));
}

/// Example 6: 10,000 wanted after a fee of 3 % with 7 % tax on the fee (derived; the printed value read on an untitled page):
/// exactly 10,331.6458, so 10,331.65; the fee 309.95 + 21.70. Printed 10,331.64. Trap: cut off, it leaves less than
/// 10,000.
#[test]
fn a_price_cut_off_at_the_cent_falls_short() {
    const PRINTED: i64 = 1_033_164;
    let answer = worked(json!({
        "wood": {"bought": 0}, "fees": {"percent": 3.21}, "want": {"profit": 1_000_000},
    }));
    assert_eq!((&answer["asked_exact"], &answer["asked"]), (&json!(1_033_165), &json!(1_033_165)));
    assert_eq!(answer["fee"], 30_995 + 2170);
    // 96.79 % of the printed price, in hundredths of a percent of a cent.
    let left = |asked: i64| asked * 9679;
    assert!(left(PRINTED) < 1_000_000 * 10_000);
    assert!(answer["asked"].as_i64().is_some_and(|asked| left(asked) >= 1_000_000 * 10_000));
}

/// Example 7: A math page: 10.00 wanted after a fee of 3 %: divide by 0.97, a markup of 3.0928 %.
#[test]
fn a_fee_is_taken_of_the_price_and_not_of_the_cost() {
    let floor = |cost: u64| {
        worked(json!({"wood": {"bought": cost}, "fees": {"percent": 3}}))["floor"].clone()
    };
    assert_eq!(floor(1000), 1031);
    assert_eq!(floor(100_000_000), 103_092_784);
    let answer = worked(json!({
        "wood": {"bought": 0}, "fees": {"percent": 3}, "want": {"profit": 100_000_000},
    }));
    assert_eq!(answer["asked_exact"], 103_092_784);
}

/// Example 8: Invented figures: materials 31.38 for 4, overhead 10 %, retail at 2.5 times: 7.845 × 1.1 = 8.6295 each, carried
/// on 21.57375. Trap: 8.63 × 2.5 would be 21.58, as nothing is rounded on the way it is 21.57.
#[test]
fn nothing_is_rounded_on_the_way() {
    let answer = worked(json!({
        "batch": 4, "wood": {"bought": 3138}, "overhead": {"percent": 10}, "want": {"markup_percent": 150},
    }));
    assert_eq!((&answer["cost_each"], &answer["asked_exact"]), (&json!(863), &json!(2157)));
    // What is asked is never less than the exact price.
    assert_eq!(answer["asked"], 2158);
}

/// Louisiana Voices, Unit VII Lesson 6, "Pricing Your Craft": half a can of paint at 4.00 is 2.00.
#[test]
fn half_a_can_of_paint() {
    let paint = json!({"coats": 1, "covers_m2": 10, "can_price": 400, "area_m2": 5});
    for (basis, cost) in [("used", 200), ("bought", 400)] {
        let answer = worked(json!({"basis": basis, "finish": [paint]}));
        assert_eq!((&answer["finish_used"], &answer["finish_bought"]), (&json!(200), &json!(400)));
        assert_eq!((&answer["cans"], &answer["cost"]), (&json!([1]), &json!(cost)));
    }
}

/// Asked prices end as wanted: p ≡ at (mod step), no less than the exact price.
#[test]
fn asked_prices_end_as_wanted() {
    let asked = |exact: u64, end: Value| {
        worked(json!({"wood": {"bought": exact}, "want": {"profit": 0}, "end": end}))["asked"]
            .clone()
    };
    for (exact, step, at, expected) in [
        (1050, 100, 99, 1099),
        (1099, 100, 99, 1099),
        (1100, 100, 99, 1199),
        (1, 500, 495, 495),
        (2481, 500, 0, 2500),
        // The step goes on below `at`.
        (30, 100, 250, 50),
        (0, 100, 300, 0),
    ] {
        assert_eq!(asked(exact, json!({"step": step, "at": at})), expected, "{exact}");
    }
    // `at` left out: whole steps. A third of a cent more than 1000 is not 1000.
    assert_eq!(asked(2481, json!({"step": 500})), 2500);
    let third = json!({
        "batch": 3, "wood": {"bought": 3001}, "want": {"profit": 0}, "end": {"step": 100, "at": 0},
    });
    assert_eq!(
        (&worked(third.clone())["asked_exact"], &worked(third)["asked"]),
        (&json!(1000), &json!(1100))
    );
}

/// Cents beyond 2^53, which a float would not tell apart.
#[test]
fn whole_cents_are_read_to_the_last_digit() {
    let answer = worked(json!({"wood": {"bought": 9_007_199_254_740_993_u64, "kept": 2}}));
    assert_eq!(answer["wood_bought"], 9_007_199_254_740_993_u64);
    assert_eq!(answer["wood_used"], 9_007_199_254_740_991_u64);
}
