//! The price of a piece: its request read, its figures written. Money is in whole minor units.

use crate::read::strangers;
use crate::write::number;
use num_bigint::BigInt;
use num_traits::{Signed, ToPrimitive, Zero};
use offsquare_cuts::problem::Problem;
use offsquare_units::{Quantity, say};
use offsquare_work::price::{
    Basis, Batch, Costs, Ending, Exact, Fees, Finish, Hardware, Overhead, PerPiece, Selling, Sold,
    Step, Want, Wood, as_number, decimal, half_up, selling, upward, whole,
};
use serde_json::{Map, Value, json};

/// How many batches the curve shows.
const CURVE: u64 = 24;
const MOST_PIECES: u64 = 1_000_000_000;

/// A price as it was asked for.
pub struct AskedPrice {
    pub batch: Batch,
    pub selling: Selling,
    /// Wood was given by hand, for the whole batch.
    pub by_hand: bool,
}

/// Reads `price`; all that is wrong is told at its path. None where it cannot be worked out.
pub fn read(price: &Value, problems: &mut Vec<Problem>) -> Option<AskedPrice> {
    let before = problems.len();
    let mut r = Reader::of(price, "/price".to_owned(), &KEYS, problems)?;
    let mut batch = Batch {
        pieces: r.pieces("batch"),
        sold_as: r.pieces("sold_as"),
        basis: r.basis(),
        rate: r.amount("rate"),
        ..Batch::default()
    };
    let mut out = Selling { stall: r.amount("stall"), ..Selling::default() };
    let zero = Exact::zero;
    batch.wood = r.object("wood", &["bought", "kept"]).and_then(|mut w| {
        let (bought, kept) = (w.amount("bought"), w.amount("kept"));
        let given = bought.is_some() || kept.is_some();
        given.then(|| Some(Wood { bought: bought?, kept: kept.unwrap_or_else(zero) }))
    });
    let by_hand = batch.wood.is_some();
    batch.hardware =
        r.list("hardware", &["name", "per_piece", "pack", "pack_price"], |h| Hardware {
            per_piece: h.amount("per_piece"),
            pack: h.more_than_none("pack"),
            pack_price: h.amount("pack_price"),
            opened: None,
        });
    let keys = ["name", "coats", "covers_m2", "can_price", "area_m2"];
    batch.finish = r.list("finish", &keys, |f| Finish {
        coats: f.amount("coats"),
        covers: f.more_than_none("covers_m2"),
        can_price: f.amount("can_price"),
        area: f.amount("area_m2"),
        opened: None,
    });
    batch.steps = r.list("steps", &["name", "set_up_min", "each_min"], |s| Step {
        set_up: s.amount("set_up_min").unwrap_or_else(zero),
        each: s.amount("each_min").unwrap_or_else(zero),
    });
    batch.overhead = r.one_of("overhead", &["percent", "per_hour"], |key, n| match key {
        "percent" => Overhead::Share(n / whole(100)),
        _ => Overhead::PerHour(n),
    });
    out.want =
        r.one_of("want", &["profit", "margin_percent", "markup_percent"], |key, n| match key {
            "profit" => Want::Profit(n),
            "margin_percent" => Want::Margin(n / whole(100)),
            _ => Want::Markup(n / whole(100)),
        });
    out.fees = r.object("fees", &["percent", "fixed"]).map(|mut f| Fees {
        share: f.amount("percent").unwrap_or_else(zero) / whole(100),
        fixed: f.amount("fixed").unwrap_or_else(zero),
    });
    out.end = r.object("end", &["step", "at"]).map(|mut e| Ending {
        step: e.more_than_none("step"),
        at: e.amount("at").unwrap_or_else(zero),
    });
    r.not_all_of_it(&out);
    let wrong = problems[before..].iter().any(|p| p.level == offsquare_cuts::problem::Level::Stop);
    (!wrong).then_some(AskedPrice { batch, selling: out, by_hand })
}

pub const KEYS: [&str; 13] = [
    "batch", "sold_as", "basis", "wood", "hardware", "finish", "steps", "rate", "overhead", "fees",
    "stall", "want", "end",
];

/// One object of the request.
struct Reader<'r, 'v> {
    map: &'v Map<String, Value>,
    path: String,
    problems: &'r mut Vec<Problem>,
}

impl<'v> Reader<'_, 'v> {
    fn of<'r>(
        value: &'v Value,
        path: String,
        known: &[&str],
        problems: &'r mut Vec<Problem>,
    ) -> Option<Reader<'r, 'v>> {
        let Some(map) = value.as_object() else {
            problems.push(Problem::stop(&path, say!("This is an object.")));
            return None;
        };
        problems.extend(strangers(map, known, &format!("{path}/")));
        Some(Reader { map, path, problems })
    }

    fn get(&self, key: &str) -> Option<&'v Value> {
        self.map.get(key).filter(|v| !v.is_null())
    }

    fn wrong(&mut self, key: &str, text: &str, limit: f64) {
        let path = format!("{}/{key}", self.path);
        let problem = Problem::stop(&path, say!(text.to_owned()));
        self.problems.push(problem.with_limit(Quantity::Count(limit)));
    }

    /// An amount of 0 or more; none where it was left out or is wrong.
    fn amount(&mut self, key: &str) -> Option<Exact> {
        let amount = exact(self.get(key)?).filter(|n| !n.is_negative());
        if amount.is_none() {
            self.wrong(key, "This is a number, 0 or more.", 0.0);
        }
        amount
    }

    fn more_than_none(&mut self, key: &str) -> Option<Exact> {
        let amount = exact(self.get(key)?).filter(Exact::is_positive);
        if amount.is_none() {
            self.wrong(key, "This is a number, more than 0.", 0.0);
        }
        amount
    }

    /// A whole number of 1 or more, 1 where it was left out.
    fn pieces(&mut self, key: &str) -> u64 {
        let Some(value) = self.get(key) else { return 1 };
        let n = exact(value).filter(|n| n.is_integer() && n.is_positive());
        let most = || n.as_ref().and_then(Exact::to_u64).filter(|n| *n <= MOST_PIECES);
        match (most(), &n) {
            (Some(n), _) => return n,
            (None, None) => self.wrong(key, "This is a whole number, 1 or more.", 1.0),
            (None, Some(_)) => {
                let text = format!("This is at most {MOST_PIECES}.");
                self.wrong(key, &text, MOST_PIECES as f64);
            }
        }
        1
    }

    fn basis(&mut self) -> Basis {
        match self.get("basis").map(|b| b.as_str()) {
            None | Some(Some("used")) => Basis::Used,
            Some(Some("bought")) => Basis::Bought,
            Some(_) => {
                let path = format!("{}/basis", self.path);
                self.problems.push(Problem::stop(&path, say!("The basis is used or bought.")));
                Basis::Used
            }
        }
    }

    fn object<'s>(&'s mut self, key: &str, known: &[&str]) -> Option<Reader<'s, 'v>> {
        let value = self.get(key)?;
        Reader::of(value, format!("{}/{key}", self.path), known, self.problems)
    }

    fn list<T>(
        &mut self,
        key: &str,
        known: &[&str],
        each: impl Fn(&mut Reader<'_, 'v>) -> T,
    ) -> Option<Vec<T>> {
        let value = self.get(key)?;
        let path = format!("{}/{key}", self.path);
        let Some(all) = value.as_array() else {
            self.problems.push(Problem::stop(&path, say!("This is a list.")));
            return None;
        };
        let read = |(i, value): (usize, &'v Value)| {
            Reader::of(value, format!("{path}/{i}"), known, self.problems).map(|mut r| each(&mut r))
        };
        Some(all.iter().enumerate().filter_map(read).collect())
    }

    /// An amount under one of several keys; none where it was left out.
    fn one_of<T>(
        &mut self,
        key: &str,
        choices: &[&'static str],
        make: impl Fn(&str, Exact) -> T,
    ) -> Option<T> {
        let mut one = self.object(key, choices)?;
        if choices.iter().filter(|k| one.get(k).is_some()).count() > 1 {
            let text = format!("Give only one of: {}.", choices.join(", "));
            let problem = Problem::stop(&one.path, say!(text));
            one.problems.push(problem.with_limit(Quantity::Count(1.0)));
        }
        let given = choices.iter().map(|k| Some(make(k, one.amount(k)?)));
        given.collect::<Vec<_>>().into_iter().flatten().next()
    }

    /// Fees, and fees with the wanted margin, must leave something of the price.
    fn not_all_of_it(&mut self, selling: &Selling) {
        let fees = selling.fees.as_ref().map_or_else(Exact::zero, |f| f.share.clone());
        let left = whole(1) - &fees;
        if !left.is_positive() {
            self.wrong("fees/percent", "Fees are less than 100 percent of the price.", 100.0);
        } else if let Some(Want::Margin(margin)) = &selling.want
            && *margin >= left
        {
            let most = as_number(&(left * whole(100)));
            let with = if fees.is_zero() { "A" } else { "With these fees, a" };
            let text = format!("{with} margin is less than {most} percent of the price.");
            self.wrong("want/margin_percent", &text, most);
        }
    }
}

/// The number that was written: whole ones to the last digit.
fn exact(value: &Value) -> Option<Exact> {
    value.as_u64().map(whole).or_else(|| value.as_f64().and_then(decimal))
}

/// A whole number for JSON.
pub fn cents(n: &BigInt) -> Value {
    n.to_i64().map_or_else(|| number(n.to_f64().unwrap_or(f64::NAN)), Value::from)
}

/// All figures; `wood_of`: the wood of another number of pieces.
pub fn write(asked: &AskedPrice, wood_of: &dyn Fn(u64) -> Option<Option<Wood>>) -> Value {
    let per_piece = PerPiece::of(&asked.batch);
    let costs = per_piece.costs(asked.batch.pieces, asked.batch.wood.as_ref());
    let sold = selling(&asked.batch, &costs, &asked.selling);
    let mut out = Map::new();
    write_costs(&costs, &mut out);
    write_sold(&sold, &mut out);
    // Where the cost is open whatever the wood costs, no boards need be planned.
    let free = Some(Wood { bought: Exact::zero(), kept: Exact::zero() });
    let wood = asked.batch.wood.as_ref().map(|_| &free);
    let known = per_piece.costs(1, wood).cost.is_some();
    if !asked.by_hand && known {
        let each = |n: u64| {
            let each = per_piece.costs(n, wood_of(n).as_ref()).each?;
            Some(json!({"batch": n, "cost_each": cents(&half_up(&each))}))
        };
        // A batch for which there are not boards enough has no cost.
        let curve: Vec<Value> = (1..=CURVE).filter_map(each).collect();
        if !curve.is_empty() {
            out.insert("curve".into(), curve.into());
        }
    }
    Value::Object(out)
}

fn write_costs(costs: &Costs, out: &mut Map<String, Value>) {
    let rounded = [
        ("wood_bought", &costs.wood_bought),
        ("wood_used", &costs.wood_used),
        ("hardware_bought", &costs.hardware_bought),
        ("hardware_used", &costs.hardware_used),
        ("finish_bought", &costs.finish_bought),
        ("finish_used", &costs.finish_used),
        ("labor", &costs.labor),
        ("overhead", &costs.overhead),
        ("cost", &costs.cost),
        ("cost_each", &costs.each),
        ("cost_sale", &costs.sale),
    ];
    for (key, figure) in rounded {
        if let Some(figure) = figure {
            out.insert(key.into(), cents(&half_up(figure)));
        }
    }
    for (key, counts) in [("packs", &costs.packs), ("cans", &costs.cans)] {
        if let Some(counts) = counts {
            out.insert(key.into(), counts.iter().map(cents).collect());
        }
    }
    if let Some(minutes) = &costs.minutes {
        out.insert("minutes".into(), number(as_number(minutes)));
    }
}

fn write_sold(sold: &Sold, out: &mut Map<String, Value>) {
    for (key, figure) in [("floor", &sold.floor), ("asked", &sold.asked)] {
        if let Some(figure) = figure {
            out.insert(key.into(), cents(&upward(figure)));
        }
    }
    let rounded =
        [("asked_exact", &sold.asked_exact), ("fee", &sold.fee), ("profit", &sold.profit)];
    for (key, figure) in rounded {
        if let Some(figure) = figure {
            out.insert(key.into(), cents(&half_up(figure)));
        }
    }
    for (key, share) in [("margin_percent", &sold.margin), ("markup_percent", &sold.markup)] {
        if let Some(share) = share {
            out.insert(key.into(), share.as_ref().map_or(Value::Null, |s| number(as_number(s))));
        }
    }
    let counted =
        [("earned_per_hour", &sold.earned_per_hour), ("break_even_sales", &sold.break_even_sales)];
    for (key, figure) in counted {
        if let Some(figure) = figure {
            out.insert(key.into(), figure.as_ref().map_or(Value::Null, |f| cents(&half_up(f))));
        }
    }
}
