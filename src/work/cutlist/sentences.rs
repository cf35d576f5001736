//! What is said of plans: how sure they are, what the other one costs, what nearly fits.

use super::Jobs;
use crate::rack::Rack;
use offsquare_units::num::Gather;
use offsquare_units::{Currency, Length, Money, Style, Text, grouped, say};

/// How long a list is.
///
/// ```
/// use offsquare_work::cutlist::how_many;
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
/// use offsquare_work::cutlist::bound_sentence;
/// use offsquare_units::{Currency, Money};
/// let said = |money| bound_sentence(Money(money), Money(8000), &Currency::default());
/// assert_eq!(said(8320), "At most $3.20 (4 %) above the cheapest possible.");
/// assert_eq!(said(8000), "Proven cheapest.");
/// ```
pub fn bound_sentence(money: Money, bound: Money, currency: &Currency) -> String {
    let over = money - bound;
    if over <= Money::ZERO {
        return "Proven cheapest.".into();
    }
    let more = currency.print(over);
    if bound <= Money::ZERO {
        return format!("At most {more} above the cheapest possible.");
    }
    // Never less than it may be.
    let share = (over.0 * 100 + bound.0 - 1) / bound.0;
    format!("At most {more} ({share} %) above the cheapest possible.")
}

/// What a plan takes: money, or where a length has no price yet, board.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Cost {
    Money(Money),
    Wood(Length),
}

impl Cost {
    /// "$26.49", or "16 ft".
    pub fn words(self, style: &Style, currency: &Currency) -> String {
        match self {
            Cost::Money(m) => currency.print(m),
            Cost::Wood(l) => yard_length(l, style),
        }
    }
    /// What this one saves against another, in words; none where it saves nothing.
    fn saves(self, other: Cost, style: &Style, currency: &Currency) -> Option<String> {
        match (self, other) {
            (Cost::Money(a), Cost::Money(b)) if b > a => Some(currency.print(b - a)),
            (Cost::Wood(a), Cost::Wood(b)) if (b - a).0 > 1e-6 => {
                Some(format!("{} of board", yard_length(b - a, style)))
            }
            _ => None,
        }
    }
}

/// The plan called so beside the plain one, each as what it takes, changes of the saw, flips.
///
/// ```
/// use offsquare_work::cutlist::{Cost, compare};
/// use offsquare_units::{Currency, Length, Money, Style};
/// let money = |cents| Cost::Money(Money(cents));
/// let said = |name, a, b| compare(name, a, b, &Style::default(), &Currency::default());
/// assert_eq!(
///     said("Nested", (money(2539), 16, 3), (money(2649), 2, 2)),
///     "Nested saves $1.10, 14 more changes of the saw, 1 more flip."
/// );
/// // Where nothing is flipped, nothing is said of it.
/// assert_eq!(
///     said("Cheapest", (money(940), 5, 0), (money(940), 3, 0)),
///     "Both cost the same; cheapest needs 2 more changes of the saw."
/// );
/// // Without prices, it is board that is saved.
/// let wood = |inches| Cost::Wood(Length(inches));
/// assert_eq!(
///     said("Nested", (wood(168.0), 3, 0), (wood(192.0), 3, 0)),
///     "Nested saves 2 ft of board, as many changes of the saw."
/// );
/// ```
pub fn compare(
    name: &str,
    nested: (Cost, usize, usize),
    plain: (Cost, usize, usize),
    style: &Style,
    currency: &Currency,
) -> String {
    let both = match nested.0 {
        Cost::Money(_) => "Both cost the same",
        Cost::Wood(_) => "Both take as much board",
    };
    if nested == plain {
        return format!("{both}, and are the same work at the saw.");
    }
    let more = |a: usize, b: usize, one: &str, many: &str| {
        let n = a.abs_diff(b);
        let word = if n == 1 { one } else { many };
        let way = if a >= b { "more" } else { "fewer" };
        if n == 0 { format!("as many {many}") } else { format!("{n} {way} {word}") }
    };
    let cost = match nested.0.saves(plain.0, style, currency) {
        Some(saved) => format!("{name} saves {saved},"),
        None => format!("{both}; {} needs", offsquare_units::lower_first(name)),
    };
    let changes = more(nested.1, plain.1, "change of the saw", "changes of the saw");
    let mut out = [&cost, " ", &changes].concat();
    if nested.2 + plain.2 > 0 {
        out = [&out, ", ", &more(nested.2, plain.2, "flip", "flips")].concat();
    }
    out + "."
}

/// Which lengths have no price, and what the plan is for as long as that is so; `known`: those that it buys have
/// one.
///
/// ```
/// use offsquare_work::cutlist::no_price_sentence;
/// use offsquare_units::{Length, Style};
/// let open = [("1\u{d7}10 pine".to_owned(), vec![Length(96.0), Length(144.0)])];
/// assert_eq!(
///     no_price_sentence(&open, false, &Style::default()),
///     "No price yet: 1\u{d7}10 pine, 8 ft and 12 ft. Until the rack has it, these boards are the least wood \
///      to buy, not the least money."
/// );
/// ```
pub fn no_price_sentence(open: &[(String, Vec<Length>)], known: bool, style: &Style) -> String {
    let stocks: Vec<String> = open
        .iter()
        .map(|(name, lengths)| {
            let all: Vec<String> = lengths.iter().map(|l| yard_length(*l, style)).gather();
            let lengths = match all.split_last() {
                Some((last, before)) if !before.is_empty() => {
                    format!("{} and {last}", before.join(", "))
                }
                _ => all.concat(),
            };
            format!("{name}, {lengths}")
        })
        .gather();
    let stocks = stocks.join("; ");
    let then = match known {
        true => "another plan may be cheaper: these boards are the least wood to buy.",
        false => "these boards are the least wood to buy, not the least money.",
    };
    format!("No price yet: {stocks}. Until the rack has it, {then}")
}

/// With which end trim the boards of these jobs are counted. None where all of them are sheets.
pub fn trim_sentence(jobs: &Jobs, rack: &Rack) -> Option<Text> {
    let own = jobs.jobs.iter().filter_map(|j| rack.stock(j.stock)).filter(|s| !s.sheet);
    let trims = own.map(|s| (s, s.trim_left, s.trim_right)).gather();
    let usual = rack.trim.unwrap_or_default();
    let mut text = match (trims.is_empty(), rack.trim) {
        (true, _) => return None,
        (_, None) => say!("Counted without end trim until you say how much you cut off."),
        (_, Some(trim)) if trim.0 <= 0.0 => say!("Counted with no end trim."),
        (_, Some(trim)) => say!("Counted with {} trimmed off each end of a board you buy.", trim),
    };
    for (stock, left, right) in trims.into_iter().filter(|t| (t.1, t.2) != (usual, usual)) {
        text.extend(say!(" {}: {} left, {} right.", stock.name, left, right));
    }
    Some(text)
}

/// A board's length as a yard says it: whole feet where it is so, otherwise as any length.
///
/// ```
/// use offsquare_work::cutlist::yard_length;
/// use offsquare_units::{Length, Style};
/// assert_eq!(yard_length(Length(96.0), &Style::default()), "8 ft");
/// assert_eq!(yard_length(Length(35.875), &Style::default()), "35 7/8 in");
/// ```
pub fn yard_length(length: Length, style: &Style) -> String {
    let feet = length.0 / 12.0;
    if !style.unit.is_metric()
        && feet >= 1.0
        && (feet - offsquare_units::num::round_half_up(feet)).abs() < 1e-9
    {
        format!("{feet:.0} ft")
    } else {
        say!(length).render(style)
    }
}

/// What a small change would save.
pub fn nearly_sentence(
    name: &str,
    nearly: &super::planned::NearlyFits,
    currency: &Currency,
) -> Text {
    let saved = nearly.money.map(|m| currency.print(m)).unwrap_or_default();
    let what = match (nearly.money, nearly.boards) {
        (None, _) => say!("all parts fit"),
        (Some(m), Some(b)) if m > Money::ZERO && b > 0 => {
            say!(format!("you save {saved} and {b} {}", plural(b)))
        }
        (Some(m), _) if m > Money::ZERO => say!(format!("you save {saved}")),
        _ if nearly.wood.0 > 1e-6 => say!("you buy {} less of board", nearly.wood),
        (_, Some(b)) => say!(format!("you save {b} {}", plural(b))),
        _ => say!("you save a board"),
    };
    let way = |long: &'static str, wide, both| match (nearly.long, nearly.wide) {
        (true, true) => both,
        (false, _) => wide,
        _ => long,
    };
    let (mut text, end) = if nearly.over {
        let over = way("length", "width", "length and width");
        let name = format!("Nearly fits: if the {name} you buy measures ");
        (
            say!("{}{}{}", name, nearly.by, format!(" over its {over}, ")),
            ". Measure before you buy more.",
        )
    } else {
        let smaller = way("shorter", "narrower", "shorter and narrower");
        let name = format!("Nearly fits: with {name} parts up to ");
        (say!("{}{}{}", name, nearly.by, format!(" {smaller}, ")), ".")
    };
    text.0.extend(what.0);
    text.and(end)
}

fn plural(n: i64) -> &'static str {
    if n == 1 { "board" } else { "boards" }
}

/// Which batch sizes waste least, from what each costs: the sizes that are cheaper a piece than both
/// neighbors, cheapest first.
///
/// ```
/// use offsquare_work::cutlist::best_sizes;
/// use offsquare_units::{Currency, Money};
/// let curve = [(1, Money(400)), (2, Money(400)), (3, Money(800)), (4, Money(800)), (5, Money(1200))];
/// assert_eq!(best_sizes(&curve, &Currency::default()), "Cheapest a piece: 2 at $2.00, 4 at $2.00.");
/// ```
pub fn best_sizes(curve: &[(u32, Money)], currency: &Currency) -> String {
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
    offsquare_units::num::sort_by(&mut best, |a, b| {
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
            format!("{n} at {}", currency.print(each))
        })
        .gather();
    format!("Cheapest a piece: {}.", all.join(", "))
}
