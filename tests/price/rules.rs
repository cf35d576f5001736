//! The rules of a price, written down a second time: from the request's own numbers to every figure.

use crate::fraction::Fraction;
use serde_json::Value;

/// How a figure is told.
#[derive(Clone, Debug)]
pub enum Told {
    /// Rounded half up; the exact figure.
    Cents(Fraction),
    /// Rounded up.
    Upward(Fraction),
    Counts(Vec<i128>),
    Unrounded(Fraction),
    Null,
}

impl Told {
    pub fn agrees(&self, given: &Value) -> bool {
        let whole = |n: i128| given.as_i64().map(i128::from) == Some(n);
        match self {
            Told::Cents(n) => whole(n.half_up()),
            Told::Upward(n) => whole(n.up()),
            Told::Counts(all) => given.as_array().is_some_and(|given| {
                given.iter().map(|n| n.as_i64().map(i128::from)).eq(all.iter().map(|n| Some(*n)))
            }),
            Told::Unrounded(n) => {
                let n = n.number();
                given.as_f64().is_some_and(|given| (given - n).abs() <= 1e-14 * n.abs())
            }
            Told::Null => given.is_null(),
        }
    }
}

/// The number at a key.
fn at(object: &Value, key: &str) -> Fraction {
    match &object[key] {
        Value::Number(n) => Fraction::read(&n.to_string()),
        other => panic!("{key}: {other}"),
    }
}

fn at_or(object: &Value, key: &str, otherwise: i128) -> Fraction {
    if object[key].is_null() { Fraction::whole(otherwise) } else { at(object, key) }
}

fn list<'v>(price: &'v Value, key: &str) -> Option<&'v Vec<Value>> {
    price[key].as_array()
}

/// Every figure of a price whose inputs are all there; what is not in the request counts nothing. Wood is by hand.
pub fn figures(price: &Value) -> Vec<(&'static str, Told)> {
    let mut out = Vec::new();
    let zero = Fraction::whole(0);
    let (n, sold_as) = (at_or(price, "batch", 1), at_or(price, "sold_as", 1));
    let mut bought_and_used = vec![];
    if !price["wood"].is_null() {
        let (bought, kept) = (at(&price["wood"], "bought"), at_or(&price["wood"], "kept", 0));
        out.push(("wood_bought", Told::Cents(bought)));
        out.push(("wood_used", Told::Cents(bought - kept)));
        bought_and_used.push((bought, bought - kept));
    }
    let mut packages = |keys: [&'static str; 3], all: Vec<(Fraction, Fraction, Fraction)>| {
        let counts: Vec<i128> = all.iter().map(|(need, holds, _)| (*need / *holds).up()).collect();
        let mut sums = (zero, zero);
        for ((need, holds, price), count) in all.into_iter().zip(&counts) {
            sums.0 = sums.0 + Fraction::whole(*count) * price;
            sums.1 = sums.1 + need * price / holds;
        }
        out.push((keys[0], Told::Cents(sums.0)));
        out.push((keys[1], Told::Cents(sums.1)));
        out.push((keys[2], Told::Counts(counts)));
        bought_and_used.push(sums);
    };
    if let Some(all) = list(price, "hardware") {
        let all = all.iter().map(|h| (n * at(h, "per_piece"), at(h, "pack"), at(h, "pack_price")));
        packages(["hardware_bought", "hardware_used", "packs"], all.collect());
    }
    if let Some(all) = list(price, "finish") {
        let all = all.iter().map(|f| {
            (at(f, "area_m2") * at(f, "coats") * n, at(f, "covers_m2"), at(f, "can_price"))
        });
        packages(["finish_bought", "finish_used", "cans"], all.collect());
    }
    let materials = bought_and_used.iter().fold(zero, |sum, (bought, used)| {
        sum + if price["basis"] == "bought" { *bought } else { *used }
    });
    let minutes = list(price, "steps").map(|all| {
        all.iter()
            .fold(zero, |sum, s| sum + at_or(s, "set_up_min", 0) + n * at_or(s, "each_min", 0))
    });
    let mut labor = zero;
    if let Some(minutes) = minutes {
        labor = at(price, "rate") * minutes / Fraction::whole(60);
        out.push(("minutes", Told::Unrounded(minutes)));
        out.push(("labor", Told::Cents(labor)));
    }
    let mut overhead = zero;
    if !price["overhead"].is_null() {
        overhead = if price["overhead"]["percent"].is_null() {
            at(&price["overhead"], "per_hour") * minutes.expect("steps") / Fraction::whole(60)
        } else {
            (materials + labor) * at(&price["overhead"], "percent") / Fraction::whole(100)
        };
        out.push(("overhead", Told::Cents(overhead)));
    }
    let cost = materials + labor + overhead;
    let sale = cost / n * sold_as;
    out.push(("cost", Told::Cents(cost)));
    out.push(("cost_each", Told::Cents(cost / n)));
    out.push(("cost_sale", Told::Cents(sale)));
    let share = at_or(&price["fees"], "percent", 0) / Fraction::whole(100);
    let fixed = at_or(&price["fees"], "fixed", 0);
    out.push(("floor", Told::Upward((sale + fixed) / (Fraction::whole(1) - share))));
    if let Some(exact) = wanted(price, sale, share, fixed) {
        out.push(("asked_exact", Told::Cents(exact)));
        let asked = Fraction::whole(ending(price, exact));
        let fee = share * asked + fixed;
        let profit = asked - fee - sale;
        let hundred = Fraction::whole(100);
        let over = |a: Fraction, b: Fraction, told: fn(Fraction) -> Told| {
            if b.is_zero() { Told::Null } else { told(a / b) }
        };
        out.push(("asked", Told::Upward(asked)));
        out.push(("fee", Told::Cents(fee)));
        out.push(("profit", Told::Cents(profit)));
        out.push(("margin_percent", over(profit * hundred, asked, Told::Unrounded)));
        out.push(("markup_percent", over(profit * hundred, sale, Told::Unrounded)));
        if let Some(minutes) = minutes {
            let left = (asked - fee) * n / sold_as - materials - overhead;
            out.push(("earned_per_hour", over(left, minutes / Fraction::whole(60), Told::Cents)));
        }
        if !price["stall"].is_null() {
            let none = profit <= zero;
            let sales = || Told::Upward(at(price, "stall") / profit);
            out.push(("break_even_sales", if none { Told::Null } else { sales() }));
        }
    }
    out
}

fn wanted(price: &Value, sale: Fraction, share: Fraction, fixed: Fraction) -> Option<Fraction> {
    let want = &price["want"];
    let (one, hundred) = (Fraction::whole(1), Fraction::whole(100));
    Some(if !want["profit"].is_null() {
        (sale + fixed + at(want, "profit")) / (one - share)
    } else if !want["margin_percent"].is_null() {
        (sale + fixed) / (one - share - at(want, "margin_percent") / hundred)
    } else if !want["markup_percent"].is_null() {
        (sale * (one + at(want, "markup_percent") / hundred) + fixed) / (one - share)
    } else {
        return None;
    })
}

/// The least whole price that is no less and ends as wanted: tried one after another.
fn ending(price: &Value, exact: Fraction) -> i128 {
    let end = &price["end"];
    if end.is_null() {
        return exact.up();
    }
    let (step, from) = (at(end, "step"), at_or(end, "at", 0));
    let ends = |p: &i128| {
        let steps = (Fraction::whole(*p) - from) / step;
        steps == Fraction::whole(steps.down())
    };
    (exact.up()..).find(ends).expect("one in every step")
}

/// Holds an answer against the rules: the same keys, the same figures.
pub fn hold(price: &Value, answer: &Value) -> Vec<(&'static str, Told)> {
    let expected = figures(price);
    let mut keys: Vec<&str> = expected.iter().map(|(key, _)| *key).collect();
    let mut given: Vec<&str> =
        answer.as_object().expect("figures").keys().map(String::as_str).collect();
    given.retain(|key| *key != "curve");
    keys.sort_unstable();
    given.sort_unstable();
    assert_eq!(given, keys, "{price}");
    for (key, told) in &expected {
        assert!(told.agrees(&answer[key]), "{key}: {} is not {told:?} of {price}", answer[key]);
    }
    expected
}
