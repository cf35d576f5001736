//! The price of a piece: its request read, its figures written. Money is in whole minor units.

use crate::read::strangers;
use crate::write::number;
use num_bigint::BigInt;
use num_traits::{Signed, ToPrimitive, Zero};
use offsquare_cuts::problem::Problem;
use offsquare_units::{Quantity, say};
use offsquare_work::price::{
    Basis, Batch, Costs, Ending, Exact, Fees, Finish, Hardware, Overhead, Selling, Sold, Step,
    Want, Wood, as_number, costs, decimal, half_up, selling, upward, whole,
};
use serde_json::{Map, Value, json};

/// How many batches the curve shows.
const CURVE: u64 = 24;
const MOST_BATCH: u64 = 1_000_000;

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
        pieces: r.least_one("batch"),
        sold_as: r.least_one("sold_as"),
        basis: r.basis(),
        rate: r.amount("rate"),
        ..Batch::default()
    };
    let mut out = Selling { stall: r.amount("stall"), ..Selling::default() };
    let wood = r.object("wood", &["bought", "kept"]);
    let by_hand = wood.is_some();
    batch.wood = wood.map(|mut w| {
        let bought = w.needed("bought");
        let kept = w.amount("kept").unwrap_or_else(Exact::zero);
        bought.map(|bought| Wood { bought, kept })
    });
    batch.hardware = r.list("hardware", &["name", "per_piece", "pack", "pack_price"], |h| {
        Some(Hardware {
            per_piece: h.needed("per_piece")?,
            pack: h.more_than_none("pack")?,
            pack_price: h.needed("pack_price")?,
        })
    });
    let keys = ["name", "coats", "covers_m2", "can_price", "area_m2"];
    batch.finish = r.list("finish", &keys, |f| {
        Some(Finish {
            coats: f.needed("coats")?,
            covers: f.more_than_none("covers_m2")?,
            can_price: f.needed("can_price")?,
            area: f.amount("area_m2"),
        })
    });
    batch.steps = r.list("steps", &["name", "set_up_min", "each_min"], |s| {
        let zero = Exact::zero;
        Some(Step {
            set_up: s.amount("set_up_min").unwrap_or_else(zero),
            each: s.amount("each_min").unwrap_or_else(zero),
        })
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
        share: f.amount("percent").unwrap_or_else(Exact::zero) / whole(100),
        fixed: f.amount("fixed").unwrap_or_else(Exact::zero),
    });
    out.end = r.object("end", &["step", "at"]).and_then(|mut e| {
        let at = e.amount("at").unwrap_or_else(Exact::zero);
        Some(Ending { step: e.more_than_none("step")?, at })
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
        let value = self.get(key)?;
        let amount = value.as_f64().and_then(decimal).filter(|n| !n.is_negative());
        if amount.is_none() {
            self.wrong(key, "This is a number, 0 or more.", 0.0);
        }
        amount
    }

    /// An amount that has to be there.
    fn needed(&mut self, key: &str) -> Option<Exact> {
        if self.get(key).is_none() {
            self.wrong(key, "This is missing: a number, 0 or more.", 0.0);
        }
        self.amount(key)
    }

    fn more_than_none(&mut self, key: &str) -> Option<Exact> {
        let n = self.needed(key)?;
        if n.is_zero() {
            self.wrong(key, "This must be more than 0.", 0.0);
            return None;
        }
        Some(n)
    }

    /// A count of 1 or more, 1 where it was left out.
    fn least_one(&mut self, key: &str) -> u64 {
        let Some(value) = self.get(key) else { return 1 };
        let n = value.as_u64().or_else(|| {
            let n = value.as_f64()?;
            (n >= 0.0 && n <= MOST_BATCH as f64 && n % 1.0 == 0.0).then_some(n as u64)
        });
        match n.filter(|n| (1..=MOST_BATCH).contains(n)) {
            Some(n) => n,
            None => {
                self.wrong(key, "This is a whole number, 1 or more.", 1.0);
                1
            }
        }
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
        each: impl Fn(&mut Reader<'_, 'v>) -> Option<T>,
    ) -> Option<Vec<T>> {
        let value = self.get(key)?;
        let path = format!("{}/{key}", self.path);
        let Some(all) = value.as_array() else {
            self.problems.push(Problem::stop(&path, say!("This is a list.")));
            return None;
        };
        let read = |(i, value): (usize, &'v Value)| {
            let mut one = Reader::of(value, format!("{path}/{i}"), known, self.problems)?;
            each(&mut one)
        };
        Some(all.iter().enumerate().filter_map(read).collect())
    }

    /// One amount under one of several keys.
    fn one_of<T>(
        &mut self,
        key: &str,
        choices: &[&'static str],
        make: impl Fn(&str, Exact) -> T,
    ) -> Option<T> {
        let mut one = self.object(key, choices)?;
        let given: Vec<&str> = choices.iter().copied().filter(|k| one.get(k).is_some()).collect();
        match given[..] {
            [only] => one.amount(only).map(|n| make(only, n)),
            _ => {
                let text = format!("Give one of: {}.", choices.join(", "));
                let path = one.path.clone();
                one.problems
                    .push(Problem::stop(&path, say!(text)).with_limit(Quantity::Count(1.0)));
                None
            }
        }
    }

    /// Fees, and fees with the wanted margin, must leave something of the price.
    fn not_all_of_it(&mut self, selling: &Selling) {
        let fees = selling.fees.as_ref().map_or_else(Exact::zero, |f| f.share.clone());
        let left = whole(1) - &fees;
        if !left.is_positive() {
            self.wrong(
                "fees/percent",
                "Fees take the whole price: they must be less than 100.",
                100.0,
            );
        } else if let Some(Want::Margin(margin)) = &selling.want
            && *margin >= left
        {
            let most = as_number(&(left * whole(100)));
            let text =
                format!("With the fees nothing is left: the margin must be less than {most}.");
            self.wrong("want/margin_percent", &text, most);
        }
    }
}

/// A whole number for JSON.
pub fn cents(n: &BigInt) -> Value {
    n.to_i64().map_or_else(|| number(n.to_f64().unwrap_or(f64::NAN)), Value::from)
}

/// All figures; `batch_of`: the batch for another number of pieces, where it can be said.
pub fn write(asked: &AskedPrice, batch_of: &dyn Fn(u64) -> Option<Batch>) -> Value {
    let costs = costs(&asked.batch);
    let sold = selling(&asked.batch, &costs, &asked.selling);
    let mut out = Map::new();
    write_costs(&costs, &mut out);
    write_sold(&sold, &mut out);
    if !asked.by_hand && costs.cost.is_some() {
        let each = |n: u64| {
            let each = batch_of(n).and_then(|b| offsquare_work::price::costs(&b).each)?;
            Some(json!({"batch": n, "cost_each": cents(&half_up(&each))}))
        };
        if let Some(curve) = (1..=CURVE).map(each).collect::<Option<Vec<Value>>>() {
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
