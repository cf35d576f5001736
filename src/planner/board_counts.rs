//! How many boards of each kind: the cheapest counts that no valid inequality rules out.
//!
//! For any values of the parts, what all parts are worth together is at most what the boards can hold.
//! Each such inequality speaks of the board counts alone; the cheapest whole numbers that
//! obey all of them bound the price from below, and are a sum of prices by construction.

use super::stock::Stock;
use super::verdict::Verdict;
use offsquare_units::num::{self, Gather};

/// A valid inequality: every plan obeys it. Give each part a value; if no board of stock s holds more
/// than `most[s]`, then n[s] boards hold the lot only if the sum of `most[s]·n[s]` is at least `need`.
#[derive(Clone, Debug, PartialEq)]
pub struct Inequality {
    pub value: Vec<f64>,
    pub most: Vec<f64>,
    pub need: f64,
}

impl Inequality {
    /// How far so many boards fall short (above 0: they cannot hold the parts).
    pub fn short(&self, boards: &[u32]) -> f64 {
        self.need - worth(&self.most, boards)
    }

    pub fn refutes(&self, boards: &[u32]) -> bool {
        self.short(boards) > 1e-9 * self.need
    }
}

/// What the search over board counts should find.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Aim {
    /// The cheapest counts with a price of at least `from` and below `below`; all free boards are included.
    Cheapest { from: i128, below: i128 },
    /// The fewest boards at exactly this price, from `from` boards on and fewer than `below`.
    Fewest { price: i128, from: u32, below: u32 },
}

/// Board counts with their price.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BoardCounts {
    pub boards: Vec<u32>,
    pub price: i128,
    pub total: u32,
}

/// What board counts are looked for.
#[derive(Clone, Copy)]
pub struct Question<'a> {
    pub stock: &'a [Stock],
    pub inequalities: &'a [Inequality],
    /// Counts that are not to be returned again, though they may still be possible.
    pub tried: &'a [Vec<u32>],
    /// Counts that cannot hold the parts; neither can any smaller ones.
    pub refuted: &'a [Vec<u32>],
    /// At equal price, prefer the counts with the most room, not those with the fewest boards.
    pub roomy: bool,
}

struct Walk<'a> {
    asked: Question<'a>,
    aim: Aim,
    /// Order in which the counts are set, most expensive for its size first; the last count is computed, not tried.
    order: Vec<usize>,
    /// For each inequality and depth, the least price of a unit of it from the kinds still to be set.
    by_price: Vec<Vec<f64>>,
    /// The same, counting boards instead of money.
    by_count: Vec<Vec<f64>>,
    boards: Vec<u32>,
    best: Option<BoardCounts>,
    nodes: u32,
}

/// Nodes that a search over board counts may go through.
pub const NODES: u32 = 200_000;

impl Question<'_> {
    /// The first counts for an aim that obey all inequalities, are not listed in `tried`, and are not all at
    /// most those of an entry of `refuted`.
    pub fn next(self, aim: Aim, nodes: u32) -> Verdict<BoardCounts> {
        let stock = self.stock;
        let mut boards = vec![0; stock.len()];
        let mut order = Vec::new();
        for (s, kind) in stock.iter().enumerate() {
            if kind.price == 0 && matches!(aim, Aim::Cheapest { .. }) {
                // Boards that cost nothing can only help.
                boards[s] = kind.limit;
            } else {
                order.push(s);
            }
        }
        num::sort_by(&mut order, |&a, &b| {
            let dear = |s: usize| stock[s].price as f64 / stock[s].size();
            dear(b).total_cmp(&dear(a)).then(a.cmp(&b))
        });
        let rate = |cost: &dyn Fn(usize) -> f64| -> Vec<Vec<f64>> {
            let of = |c: &Inequality| {
                let mut rates = vec![f64::INFINITY; order.len() + 1];
                for d in (0..order.len()).rev() {
                    let most = c.most[order[d]];
                    let own = if most > 0.0 { cost(order[d]) / most } else { f64::INFINITY };
                    rates[d] = own.min(rates[d + 1]);
                }
                rates
            };
            self.inequalities.iter().map(of).gather()
        };
        let (by_price, by_count) = (rate(&|s| stock[s].price as f64), rate(&|_| 1.0));
        let short: Vec<f64> =
            self.inequalities.iter().map(|c| c.short(&boards) - 1e-9 * c.need).gather();
        let total = boards.iter().sum();
        let mut walk =
            Walk { asked: self, aim, order, by_price, by_count, boards, best: None, nodes };
        walk.at(0, 0, total, &short);
        if walk.nodes == 0 {
            Verdict::Unknown
        } else {
            walk.best.map_or(Verdict::Impossible, Verdict::Found)
        }
    }
}

impl Walk<'_> {
    /// Whether counts with at least this price and this many boards could still be wanted.
    fn open(&self, price: f64, total: f64) -> bool {
        match (self.aim, &self.best) {
            (Aim::Cheapest { below, .. }, None) => price < below as f64,
            (Aim::Cheapest { .. }, Some(b)) if self.asked.roomy => price <= b.price as f64,
            (Aim::Cheapest { .. }, Some(b)) => {
                price < b.price as f64 || (price <= b.price as f64 && total < f64::from(b.total))
            }
            (Aim::Fewest { price: p, below, .. }, best) => {
                let below = best.as_ref().map_or(below, |b| b.total);
                price <= p as f64 && total < f64::from(below)
            }
        }
    }

    fn at(&mut self, depth: usize, price: i128, total: u32, short: &[f64]) {
        if self.nodes == 0 {
            return;
        }
        self.nodes -= 1;
        let (mut least, mut count) = (0.0f64, 0.0f64);
        for (c, &lack) in short.iter().enumerate() {
            if lack > 0.0 {
                least = least.max(lack * self.by_price[c][depth]);
                count = count.max(lack * self.by_count[c][depth]);
            }
        }
        // Quotients are taken slightly low to allow for rounding.
        let (least, count) = (least * (1.0 - 1e-9), count * (1.0 - 1e-9));
        if !self.open(price as f64 + least, f64::from(total) + count) {
            return;
        }
        let Some(&s) = self.order.get(depth) else {
            return self.leaf(price, total);
        };
        let kind = &self.asked.stock[s];
        let mut n = 0;
        if depth + 1 == self.order.len() {
            let Some(enough) = self.enough(s, price, short) else { return };
            n = enough;
        }
        let mut short = short.to_vec();
        let most = |c: &Inequality| c.most[s];
        for (lack, c) in short.iter_mut().zip(self.asked.inequalities) {
            *lack -= most(c) * f64::from(n);
        }
        while n <= kind.limit {
            let cost = price + kind.price * i128::from(n);
            if !self.open(cost as f64, f64::from(total + n)) {
                break;
            }
            self.boards[s] = n;
            self.at(depth + 1, cost, total + n, &short);
            if self.nodes == 0 {
                break;
            }
            for (lack, c) in short.iter_mut().zip(self.asked.inequalities) {
                *lack -= most(c);
            }
            n += 1;
        }
        self.boards[s] = 0;
    }

    /// The least number of the last kind that satisfies every inequality; none if there are not so many.
    fn enough(&self, s: usize, price: i128, short: &[f64]) -> Option<u32> {
        let kind = &self.asked.stock[s];
        let mut enough = 0.0f64;
        for (c, &lack) in self.asked.inequalities.iter().zip(short) {
            if lack > 0.0 {
                let most = c.most[s].max(0.0);
                enough = enough.max(num::ceil(lack / most - 1e-9));
            }
        }
        let (Aim::Cheapest { from, .. } | Aim::Fewest { price: from, .. }) = self.aim;
        if kind.price > 0 && price < from {
            enough = enough.max(((from - price + kind.price - 1) / kind.price) as f64);
        }
        (enough <= f64::from(kind.limit)).then_some(enough as u32)
    }

    fn leaf(&mut self, price: i128, total: u32) {
        let wanted = match self.aim {
            Aim::Cheapest { from, .. } => price >= from,
            Aim::Fewest { price: p, from, .. } => price == p && total >= from,
        };
        let known = self.asked.tried.contains(&self.boards)
            || self.asked.refuted.iter().any(|r| r.iter().zip(&self.boards).all(|(r, n)| n <= r));
        let room = |boards: &[u32]| -> f64 {
            boards.iter().zip(self.asked.stock).map(|(&n, s)| f64::from(n) * s.room).sum()
        };
        let worse = self.best.as_ref().is_some_and(|b| {
            self.asked.roomy
                && matches!(self.aim, Aim::Cheapest { .. })
                && price == b.price
                && room(&self.boards) <= room(&b.boards)
        });
        if wanted && !known && !worse {
            self.best = Some(BoardCounts { boards: self.boards.clone(), price, total });
        }
    }
}

/// So many of each, one by one: 2 of the first and 1 of the third are 0, 0, 2.
pub fn listed(counts: &[u32]) -> Vec<usize> {
    let each = counts.iter().enumerate();
    each.flat_map(|(s, &n)| core::iter::repeat_n(s, n as usize)).gather()
}

/// The other way round, where equal ones follow each other: 0, 0, 2 are 2 of 0 and 1 of 2.
pub fn counted(list: &[u32]) -> Vec<(u32, u32)> {
    list.chunk_by(PartialEq::eq).map(|equal| (equal[0], equal.len() as u32)).gather()
}

/// What so many of each are worth together.
pub fn worth(value: &[f64], counts: &[u32]) -> f64 {
    value.iter().zip(counts).map(|(v, &n)| v * f64::from(n)).sum()
}
