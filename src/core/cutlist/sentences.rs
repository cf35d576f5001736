//! What is said of plans: how sure they are, what the other one costs, what nearly fits.

use crate::num::Gather;
use crate::say;
use crate::units::{Length, Money, Text, grouped};

/// How long a list is.
///
/// ```
/// use offsquare_core::cutlist::how_many;
/// assert_eq!(how_many(1, 1), "1 kind, 1 part");
/// assert_eq!(how_many(2, 1_200), "2 kinds, 1,200 parts");
/// ```
pub fn how_many(kinds: usize, parts: u32) -> String {
    let counted = |n: u64, what: &str| {
        let many = if n == 1 { "" } else { "s" };
        format!("{} {what}{many}", grouped(n))
    };
    format!("{}, {}", counted(kinds as u64, "kind"), counted(u64::from(parts), "part"))
}

/// Whether the money is proven least, or how far it may be from it.
///
/// ```
/// use offsquare_core::{cutlist::bound_sentence, units::Money};
/// assert_eq!(bound_sentence(Money(8320), Money(8000)), "At most $3.20 (4 %) above the cheapest possible.");
/// assert_eq!(bound_sentence(Money(8000), Money(8000)), "Proven cheapest.");
/// ```
pub fn bound_sentence(money: Money, bound: Money) -> String {
    let over = money - bound;
    if over <= Money::ZERO {
        return "Proven cheapest.".into();
    }
    if bound <= Money::ZERO {
        return format!("At most {over} above the cheapest possible.");
    }
    // Never less than it may be.
    let share = (over.0 * 100 + bound.0 - 1) / bound.0;
    format!("At most {over} ({share} %) above the cheapest possible.")
}

/// The plan called so beside the plain one, each as money, changes of the saw, flips.
///
/// ```
/// use offsquare_core::{cutlist::compare, units::Money};
/// assert_eq!(
///     compare("Nested", (Money(2539), 16, 3), (Money(2649), 2, 2)),
///     "Nested saves $1.10, 14 more changes of the saw, 1 more flip."
/// );
/// // Where nothing is flipped, nothing is said of it.
/// assert_eq!(
///     compare("Cheapest", (Money(940), 5, 0), (Money(940), 3, 0)),
///     "Both cost the same; cheapest needs 2 more changes of the saw."
/// );
/// ```
pub fn compare(name: &str, nested: (Money, usize, usize), plain: (Money, usize, usize)) -> String {
    if nested == plain {
        return "Both cost the same, and are the same work at the saw.".to_owned();
    }
    let saved = plain.0 - nested.0;
    let more = |a: usize, b: usize, one: &str, many: &str| {
        let n = a.abs_diff(b);
        let word = if n == 1 { one } else { many };
        let way = if a >= b { "more" } else { "fewer" };
        if n == 0 { format!("as many {many}") } else { format!("{n} {way} {word}") }
    };
    let money = if saved > Money::ZERO {
        format!("{name} saves {saved},")
    } else {
        let name = crate::units::lower_first(name);
        format!("Both cost the same; {name} needs")
    };
    let changes = more(nested.1, plain.1, "change of the saw", "changes of the saw");
    let mut out = [&money, " ", &changes].concat();
    if nested.2 + plain.2 > 0 {
        out = [&out, ", ", &more(nested.2, plain.2, "flip", "flips")].concat();
    }
    out + "."
}

/// A board's length as a yard says it: whole feet where it is so, otherwise as any length.
///
/// ```
/// use offsquare_core::{cutlist::yard_length, units::{Length, Style}};
/// assert_eq!(yard_length(Length(96.0), &Style::default()), "8 ft");
/// assert_eq!(yard_length(Length(35.875), &Style::default()), "35 7/8 in");
/// ```
pub fn yard_length(length: Length, style: &crate::units::Style) -> String {
    let feet = length.0 / 12.0;
    if !style.unit.is_metric()
        && feet >= 1.0
        && (feet - crate::num::round_half_up(feet)).abs() < 1e-9
    {
        format!("{feet:.0} ft")
    } else {
        say![length].render(style)
    }
}

/// What a small change would save.
pub fn nearly_sentence(name: &str, close: &super::planned::Close) -> Text {
    let what = match (close.money, close.boards) {
        (None, _) => "all parts fit".to_owned(),
        (Some(m), Some(b)) if m > Money::ZERO && b > 0 => {
            format!("you save {m} and {b} {}", plural(b))
        }
        (Some(m), _) if m > Money::ZERO => format!("you save {m}"),
        (_, Some(b)) => format!("you save {b} {}", plural(b)),
        _ => "you save a board".to_owned(),
    };
    let way = |long: &'static str, wide, both| match (close.long, close.wide) {
        (true, true) => both,
        (false, _) => wide,
        _ => long,
    };
    if close.over {
        let over = way("length", "width", "length and width");
        say![
            format!("Nearly fits: if the {name} you buy measures "),
            close.by,
            format!(" over its {over}, {what}. Measure before you buy more.")
        ]
    } else {
        let smaller = way("shorter", "narrower", "shorter and narrower");
        say![
            format!("Nearly fits: with {name} parts up to "),
            close.by,
            format!(" {smaller}, {what}.")
        ]
    }
}

fn plural(n: i64) -> &'static str {
    if n == 1 { "board" } else { "boards" }
}

/// Which batch sizes waste least, from what each costs: the sizes that are cheaper a piece than both
/// neighbors, cheapest first.
///
/// ```
/// use offsquare_core::{cutlist::best_sizes, units::Money};
/// let curve = [(1, Money(400)), (2, Money(400)), (3, Money(800)), (4, Money(800)), (5, Money(1200))];
/// assert_eq!(best_sizes(&curve), "Cheapest a piece: 2 at $2.00, 4 at $2.00.");
/// ```
pub fn best_sizes(curve: &[(u32, Money)]) -> String {
    // n pieces for a cost against m for another, without dividing.
    let less = |a: &(u32, Money), b: &(u32, Money)| {
        i128::from(a.1.0) * i128::from(b.0) < i128::from(b.1.0) * i128::from(a.0)
    };
    let mut best: Vec<&(u32, Money)> = curve
        .iter()
        .enumerate()
        .filter(|(i, c)| {
            let before = *i == 0 || less(c, &curve[i - 1]);
            let after = curve.get(i + 1).is_none_or(|d| !less(d, c));
            // The last size has not met its neighbor.
            before && after && *i > 0 && i + 1 < curve.len()
        })
        .map(|(_, c)| c)
        .gather();
    crate::num::sort_by(&mut best, |a, b| {
        let (x, y) = (i128::from(a.1.0) * i128::from(b.0), i128::from(b.1.0) * i128::from(a.0));
        x.cmp(&y).then(a.0.cmp(&b.0))
    });
    if best.is_empty() {
        return String::new();
    }
    let all: Vec<String> = best
        .iter()
        .take(3)
        .map(|(n, cost)| {
            let each = cost.times(1.0 / f64::from(*n)).unwrap_or_default();
            format!("{n} at {each}")
        })
        .gather();
    format!("Cheapest a piece: {}.", all.join(", "))
}
