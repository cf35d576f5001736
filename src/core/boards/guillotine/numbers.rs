//! How many boards of each kind: the cheapest numbers that no inequality rules out.
//!
//! For any values of the parts, what all parts are worth together is at most what the boards can hold.
//! Each such inequality speaks of the numbers of boards alone; the cheapest whole numbers that
//! obey all of them bound the price from below, and are a sum of prices by construction.

use super::job::Stock;
use crate::num;
use crate::num::Gather;

/// The boards must hold at least `need`, and a board of each kind holds at most `most`.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Cut {
    pub need: f64,
    pub most: Vec<f64>,
}

/// What is asked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Aim {
    /// The cheapest numbers from `from` on and below `below`; boards that cost nothing are all there.
    Cheapest { from: i128, below: i128 },
    /// The fewest boards at exactly this price, from `from` boards on and fewer than `below`.
    Fewest { price: i128, from: u32, below: u32 },
}

pub(super) enum Next {
    /// Numbers and their price.
    Found(Vec<u32>, i128),
    Nothing,
    /// Too many numbers to go through.
    Unknown,
}

/// The first numbers for an aim that obey all cuts, are not listed in `tried`, and are not all at most
/// those of an entry of `refuted`.
pub(super) fn next(
    stock: &[Stock],
    cuts: &[Cut],
    aim: Aim,
    tried: &[Vec<u32>],
    refuted: &[Vec<u32>],
) -> Next {
    let mut boards = vec![0; stock.len()];
    let mut order = Vec::new();
    for (s, kind) in stock.iter().enumerate() {
        if kind.price == 0 && matches!(aim, Aim::Cheapest { .. }) {
            boards[s] = kind.limit;
        } else {
            order.push(s);
        }
    }
    // Dearest for their area first: the last ones are computed, not tried.
    num::sort_by(&mut order, |&a, &b| {
        let dear = |s: usize| stock[s].price as f64 / (stock[s].len * stock[s].wid);
        dear(b).total_cmp(&dear(a)).then(a.cmp(&b))
    });
    let short = cuts
        .iter()
        .map(|c| {
            let held: f64 = c.most.iter().zip(&boards).map(|(m, &n)| m * f64::from(n)).sum();
            c.need * (1.0 - 1e-9) - held
        })
        .gather();
    let rate = |cost: &dyn Fn(usize) -> f64| -> Vec<Vec<f64>> {
        let of = |cut: &Cut| {
            let mut rates = vec![f64::INFINITY; order.len() + 1];
            for d in (0..order.len()).rev() {
                let most = cut.most[order[d]];
                if most > 0.0 {
                    rates[d] = cost(order[d]) / most;
                }
                rates[d] = rates[d].min(rates[d + 1]);
            }
            rates
        };
        cuts.iter().map(of).gather()
    };
    let by_price = rate(&|s| stock[s].price as f64);
    let by_count = rate(&|_| 1.0);
    let mut walk = Walk {
        stock,
        cuts,
        aim,
        tried,
        refuted,
        by_price,
        by_count,
        order,
        best: None,
        nodes: 200_000,
    };
    let total = boards.iter().sum();
    walk.at(0, &mut boards, 0, total, short);
    if walk.nodes == 0 {
        return Next::Unknown;
    }
    walk.best.map_or(Next::Nothing, |b| Next::Found(b.0, b.1))
}

struct Walk<'a> {
    stock: &'a [Stock],
    cuts: &'a [Cut],
    aim: Aim,
    tried: &'a [Vec<u32>],
    refuted: &'a [Vec<u32>],
    by_price: Vec<Vec<f64>>,
    by_count: Vec<Vec<f64>>,
    order: Vec<usize>,
    best: Option<(Vec<u32>, i128, u32)>,
    nodes: u32,
}

impl Walk<'_> {
    /// Whether something at least as dear and as many could still be wanted.
    fn open(&self, price: f64, total: f64) -> bool {
        match (self.aim, &self.best) {
            (Aim::Cheapest { below, .. }, None) => price < below as f64,
            (Aim::Cheapest { .. }, Some(b)) => {
                price < b.1 as f64 || (price <= b.1 as f64 && total < f64::from(b.2))
            }
            (Aim::Fewest { price: p, below, .. }, None) => {
                price <= p as f64 && total < f64::from(below)
            }
            (Aim::Fewest { price: p, .. }, Some(b)) => price <= p as f64 && total < f64::from(b.2),
        }
    }

    fn at(
        &mut self,
        depth: usize,
        boards: &mut Vec<u32>,
        price: i128,
        total: u32,
        short: Vec<f64>,
    ) {
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
        // Quotients are taken a little low, for the sake of their rounding.
        let (least, count) = (least * (1.0 - 1e-9), count * (1.0 - 1e-9));
        if !self.open(price as f64 + least, f64::from(total) + count) {
            return;
        }
        let Some(&s) = self.order.get(depth) else {
            self.leaf(boards, price, total);
            return;
        };
        let kind = &self.stock[s];
        let mut n = 0u32;
        if depth + 1 == self.order.len() {
            // The least number of the last kind that is enough.
            let mut enough = 0.0f64;
            for (cut, &lack) in self.cuts.iter().zip(&short) {
                if lack > 0.0 {
                    enough = enough.max(num::ceil(lack / cut.most[s] - 1e-9));
                }
            }
            let from = match self.aim {
                Aim::Cheapest { from, .. } => from,
                Aim::Fewest { price, .. } => price,
            };
            if kind.price > 0 && price < from {
                enough = enough.max(((from - price + kind.price - 1) / kind.price) as f64);
            }
            if !(enough <= f64::from(kind.limit)) {
                return;
            }
            n = enough as u32;
        }
        while n <= kind.limit {
            let cost = price + kind.price * i128::from(n);
            if !self.open(cost as f64, f64::from(total + n)) {
                break;
            }
            boards[s] = n;
            let rest = short
                .iter()
                .zip(self.cuts)
                .map(|(lack, cut)| lack - cut.most[s] * f64::from(n))
                .gather();
            self.at(depth + 1, boards, cost, total + n, rest);
            if self.nodes == 0 {
                break;
            }
            n += 1;
        }
        boards[s] = 0;
    }

    fn leaf(&mut self, boards: &[u32], price: i128, total: u32) {
        let wanted = match self.aim {
            Aim::Cheapest { from, .. } => price >= from,
            Aim::Fewest { price: p, from, .. } => price == p && total >= from,
        };
        let known = self.tried.iter().any(|t| t == boards)
            || self.refuted.iter().any(|r| r.iter().zip(boards).all(|(r, n)| n <= r));
        if wanted && !known {
            self.best = Some((boards.to_vec(), price, total));
        }
    }
}
