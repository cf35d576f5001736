//! How many boards of each kind: the cheapest numbers that no inequality rules out.
//!
//! A plan's price depends on the numbers of boards alone. Each set of part values gives an inequality
//! over those numbers (`pricing::Cut`); the cheapest whole numbers that obey all of them are a lower
//! bound on every plan's price, and a sum of prices by construction.

use super::job::Stock;
use super::pricing::Cut;
use crate::num::Gather;

/// Numbers of boards with their price and total.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Counts {
    pub boards: Vec<u32>,
    pub price: i128,
    pub total: u32,
}

/// What is searched for.
pub(super) struct Wanted<'a> {
    pub stock: &'a [Stock],
    pub cuts: &'a [Cut],
    /// Numbers that are not to be given again (they may still be possible).
    pub tried: &'a [Vec<u32>],
    /// Numbers that cannot hold the parts, nor can any fewer.
    pub refuted: &'a [Vec<u32>],
    /// Price from, inclusive, and to, exclusive.
    pub from: i128,
    pub below: i128,
    /// Search for the fewest boards at exactly the price `from` instead, with less than this in all.
    pub fewer_than: Option<u32>,
}

/// What a search over numbers gave.
pub(super) enum Next {
    Found(Counts),
    /// Nothing within the limits is left.
    Nothing,
    /// Too many numbers to go through.
    Unknown,
}

struct Walk<'a> {
    wanted: &'a Wanted<'a>,
    /// Order in which kinds are set, dearest for their length first.
    order: Vec<usize>,
    boards: Vec<u32>,
    best: Option<Counts>,
    nodes: usize,
    /// For each cut and depth, the least price of one unit of it from the kinds still to be set.
    unit: Vec<Vec<f64>>,
    /// The same with a board as the price.
    unit_board: Vec<Vec<f64>>,
}

/// The cheapest numbers within the limits (or the fewest boards at one price).
pub(super) fn next(wanted: &Wanted, nodes: usize) -> Next {
    let stock = wanted.stock;
    let fewest = wanted.fewer_than.is_some();
    let mut boards = vec![0; stock.len()];
    let mut order: Vec<usize> = Vec::new();
    for (s, kind) in stock.iter().enumerate() {
        if kind.price == 0 && !fewest {
            // Boards that cost nothing can only help.
            boards[s] = kind.limit;
        } else {
            order.push(s);
        }
    }
    crate::num::sort_by(&mut order, |&a, &b| {
        let dear = |s: usize| stock[s].price as f64 / stock[s].length;
        dear(b).total_cmp(&dear(a)).then(a.cmp(&b))
    });
    let table = |cost: &dyn Fn(usize) -> f64| -> Vec<Vec<f64>> {
        wanted
            .cuts
            .iter()
            .map(|cut| {
                let mut unit = vec![f64::INFINITY; order.len() + 1];
                for d in (0..order.len()).rev() {
                    let s = order[d];
                    let own = if cut.most[s] > 0.0 { cost(s) / cut.most[s] } else { f64::INFINITY };
                    unit[d] = unit[d + 1].min(own);
                }
                unit
            })
            .gather()
    };
    let unit = table(&|s| stock[s].price as f64);
    let unit_board = table(&|_| 1.0);
    let mut walk = Walk { wanted, order, boards, best: None, nodes, unit, unit_board };
    let short: Vec<f64> = wanted.cuts.iter().map(|c| c.short(&walk.boards)).gather();
    let total = walk.boards.iter().sum();
    walk.at(0, 0, total, &short);
    if walk.nodes == 0 { Next::Unknown } else { walk.best.map_or(Next::Nothing, Next::Found) }
}

impl Walk<'_> {
    fn limit_price(&self) -> i128 {
        match (&self.best, self.wanted.fewer_than) {
            (Some(b), None) => b.price,
            (_, Some(_)) => self.wanted.from + 1,
            _ => self.wanted.below,
        }
    }

    fn at(&mut self, depth: usize, price: i128, total: u32, short: &[f64]) {
        if self.nodes == 0 {
            return;
        }
        self.nodes -= 1;
        let slack = |c: &Cut| 1e-9 * c.need;
        let limit = self.limit_price();
        if price >= limit
            && !(price == limit && self.best.is_some() && self.wanted.fewer_than.is_none())
        {
            return;
        }
        let most_boards = match (self.wanted.fewer_than, &self.best) {
            (Some(_), Some(b)) => Some(b.total),
            (Some(n), None) => Some(n),
            _ => None,
        };
        let done = depth == self.order.len();
        for (c, (cut, &lack)) in self.wanted.cuts.iter().zip(short).enumerate() {
            if lack > slack(cut) {
                if done {
                    return;
                }
                let least = (lack - slack(cut)) * self.unit[c][depth];
                // Allow for the rounding of this quotient.
                if price as f64 + least * (1.0 - 1e-9) > limit as f64 {
                    return;
                }
                if let Some(most) = most_boards
                    && f64::from(total)
                        + (lack - slack(cut)) * self.unit_board[c][depth] * (1.0 - 1e-9)
                        > f64::from(most)
                {
                    return;
                }
            }
        }
        if let Some(most) = most_boards
            && total >= most
        {
            return;
        }
        if done {
            self.leaf(price, total);
            return;
        }
        let s = self.order[depth];
        let kind = &self.wanted.stock[s];
        let last = depth + 1 == self.order.len();
        let mut n = 0u32;
        if last {
            // The least number that satisfies every inequality.
            for (cut, &lack) in self.wanted.cuts.iter().zip(short) {
                if lack > slack(cut) {
                    if cut.most[s] <= 0.0 {
                        return;
                    }
                    let need = crate::num::ceil((lack - slack(cut)) / cut.most[s] - 1e-9);
                    if need > f64::from(kind.limit) {
                        return;
                    }
                    n = n.max(need as u32);
                }
            }
            if kind.price > 0 && price < self.wanted.from {
                let missing = self.wanted.from - price;
                let up = (missing + kind.price - 1) / kind.price;
                if up > i128::from(kind.limit) {
                    return;
                }
                n = n.max(up as u32);
            }
        }
        let mut short = short.to_vec();
        for (lack, cut) in short.iter_mut().zip(self.wanted.cuts) {
            *lack -= cut.most[s] * f64::from(n);
        }
        while n <= kind.limit {
            let cost = price + kind.price * i128::from(n);
            if cost > self.limit_price() {
                break;
            }
            self.boards[s] = n;
            self.at(depth + 1, cost, total + n, &short);
            if self.nodes == 0 {
                break;
            }
            for (lack, cut) in short.iter_mut().zip(self.wanted.cuts) {
                *lack -= cut.most[s];
            }
            n += 1;
        }
        self.boards[s] = 0;
    }

    fn leaf(&mut self, price: i128, total: u32) {
        if price < self.wanted.from || self.wanted.tried.contains(&self.boards) {
            return;
        }
        if self.wanted.refuted.iter().any(|r| r.iter().zip(&self.boards).all(|(r, n)| n <= r)) {
            return;
        }
        let length = |boards: &[u32]| -> f64 {
            boards.iter().zip(self.wanted.stock).map(|(&n, s)| f64::from(n) * s.bin.room).sum()
        };
        let better = match (&self.best, self.wanted.fewer_than) {
            (None, _) => true,
            (Some(b), None) => (price, -length(&self.boards)) < (b.price, -length(&b.boards)),
            (Some(b), Some(_)) => {
                total < b.total || (total == b.total && length(&self.boards) > length(&b.boards))
            }
        };
        if better {
            self.best = Some(Counts { boards: self.boards.clone(), price, total });
        }
    }
}
