//! Every set of parts that fits on a board, where there are not too many of them.
//!
//! For every set the smallest rectangles that hold it (none longer and wider than another) are made from
//! those of smaller sets, set beside or above each other. That is every guillotine pattern, pushed to
//! the lower left. What does not fit without a part does not fit with it, so sets grow part by part.

use super::super::budget::Budget;
use super::super::outcome::WORKING;
use super::model::{Model, Tree};
use offsquare_units::num;

/// Most sets that are kept, and most kinds of boards that they are tried on.
const MOST_SETS: usize = 40_000;
const MOST_STOCK: usize = 32;
/// Most parts in one set.
const MOST_PARTS: u32 = 300;

#[derive(Clone, Copy, Debug)]
pub struct Hull {
    pub len: f64,
    pub wid: f64,
    pub made: Made,
}

#[derive(Clone, Copy, Debug)]
pub enum Made {
    Part { kind: u32, lie: u32 },
    Pair { beside: bool, a: (u32, u32), b: (u32, u32) },
}

/// A set of parts.
#[derive(Clone, Debug)]
pub struct Set {
    /// Kind and number, by rising kind.
    pub counts: Vec<(u32, u32)>,
    key: u128,
    /// One bit for each kind of board that it fits on.
    pub on: u32,
    pub hulls: Vec<Hull>,
}

/// All sets of a job that fit on some board, smaller ones first.
pub struct Sets {
    pub list: Vec<Set>,
    /// What one part of a kind adds to a key.
    pub step: Vec<u128>,
    table: Table,
    /// Sets from here on have not been made larger yet.
    from: usize,
    until: i64,
}

/// How far the enumeration of sets has come.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Grown {
    More,
    Whole,
    TooMany,
}

impl Sets {
    /// Starts with the sets of one part; none where there would be too many. Growing may take `most_work` steps.
    pub fn new(model: &Model, budget: &mut Budget, most_work: i64) -> Option<Sets> {
        if model.stock.len() > MOST_STOCK {
            return None;
        }
        let mut step = Vec::new();
        let mut count = 1u128;
        for kind in &model.kinds {
            step.push(count);
            count = count.checked_mul(u128::from(kind.qty) + 1)?;
        }
        let mut sets = Sets {
            list: Vec::new(),
            step,
            table: Table::new(),
            from: 0,
            until: budget.left.saturating_sub(most_work),
        };
        for kind in 0..model.kinds.len() as u32 {
            let mut hulls = Vec::new();
            for (lie, size) in model.kinds[kind as usize].lies.iter().enumerate() {
                let made = Made::Part { kind, lie: lie as u32 };
                add(model, &mut hulls, (size.len, size.wid), made);
            }
            sets.keep(model, vec![(kind, 1)], hulls);
        }
        Some(sets)
    }

    /// Makes them larger by a part, one after the other, for about `slice` steps.
    pub fn grow(&mut self, model: &Model, slice: i64, budget: &mut Budget) -> Grown {
        let pause = budget.left.saturating_sub(slice);
        while self.from < self.list.len() {
            if budget.left < pause {
                return Grown::More;
            }
            let Set { counts, key, .. } = self.list[self.from].clone();
            self.from += 1;
            let last = counts.last().map_or(0, |c| c.0);
            for kind in last..model.kinds.len() as u32 {
                let mut more = counts.clone();
                match more.last_mut() {
                    Some(top) if top.0 == kind => top.1 += 1,
                    _ => more.push((kind, 1)),
                }
                let key = key + self.step[kind as usize];
                budget.spend(30 * more.len());
                if more.iter().map(|c| c.1).sum::<u32>() > MOST_PARTS {
                    return Grown::TooMany;
                }
                if more.last().is_some_and(|c| c.1 > model.kinds[kind as usize].qty)
                    || !self.may_fit(&more, key)
                {
                    continue;
                }
                let hulls = self.hulls(model, &more, key, budget);
                self.keep(model, more, hulls);
                if budget.left < self.until || self.list.len() > MOST_SETS {
                    return Grown::TooMany;
                }
            }
        }
        Grown::Whole
    }

    pub fn is_full(&self) -> bool {
        self.list.len() > MOST_SETS
    }

    /// The set of two sets together, with these rectangles added.
    pub fn joined(&mut self, model: &Model, a: u32, b: u32, made: Vec<(f64, f64, Made)>) -> u32 {
        let (p, q) = (&self.list[a as usize], &self.list[b as usize]);
        let key = p.key + q.key;
        let known = self.table.get(key);
        let at = known.unwrap_or(self.list.len() as u32);
        if known.is_none() {
            let mut counts = p.counts.clone();
            for &(k, n) in &q.counts {
                match counts.iter_mut().find(|c| c.0 == k) {
                    Some(c) => c.1 += n,
                    None => counts.push((k, n)),
                }
            }
            num::sort_by(&mut counts, Ord::cmp);
            self.table.put(key, at);
            self.list.push(Set { counts, key, on: 0, hulls: Vec::new() });
        }
        for (len, wid, how) in made {
            add(model, &mut self.list[at as usize].hulls, (len, wid), how);
        }
        at
    }

    /// Notes which boards each set fits on.
    pub fn close(&mut self, model: &Model) {
        for set in &mut self.list {
            set.on = on(model, &set.hulls);
        }
    }

    /// Whether the set without any one of its parts is known too.
    fn may_fit(&self, counts: &[(u32, u32)], key: u128) -> bool {
        counts.iter().all(|c| self.table.get(key - self.step[c.0 as usize]).is_some())
    }

    fn keep(&mut self, model: &Model, counts: Vec<(u32, u32)>, hulls: Vec<Hull>) {
        if hulls.is_empty() {
            return;
        }
        let key = self.key(&counts);
        let on = on(model, &hulls);
        self.table.put(key, self.list.len() as u32);
        self.list.push(Set { counts, key, on, hulls });
    }

    fn key(&self, counts: &[(u32, u32)]) -> u128 {
        counts.iter().map(|&(k, n)| self.step[k as usize] * u128::from(n)).sum()
    }

    /// The smallest rectangles of a set, from those of its parts.
    fn hulls(
        &self,
        model: &Model,
        counts: &[(u32, u32)],
        key: u128,
        budget: &mut Budget,
    ) -> Vec<Hull> {
        let mut hulls = Vec::new();
        let mut part = vec![0u32; counts.len()];
        let mut a = 0u128;
        loop {
            // The next smaller set.
            let mut k = 0;
            while k < part.len() && part[k] == counts[k].1 {
                a -= u128::from(part[k]) * self.step[counts[k].0 as usize];
                part[k] = 0;
                k += 1;
            }
            if k == part.len() {
                return hulls;
            }
            part[k] += 1;
            a += self.step[counts[k].0 as usize];
            let b = key - a;
            if a > b || b == 0 {
                continue;
            }
            budget.spend(40);
            let (Some(one), Some(other)) = (self.table.get(a), self.table.get(b)) else {
                continue;
            };
            let (p, q) = (&self.list[one as usize], &self.list[other as usize]);
            budget.spend(24 * (p.hulls.len() + q.hulls.len()));
            pairs(&p.hulls, &q.hulls, |beside, (i, j), size| {
                let (a, b) = ((one, i as u32), (other, j as u32));
                add(model, &mut hulls, size, Made::Pair { beside, a, b });
            });
        }
    }

    /// Whether a set can take one more part of a kind and still fit on a board of this kind.
    pub fn has_room(&self, set: &Set, kind: usize, stock: usize) -> bool {
        let more = self.table.get(set.key + self.step[kind]);
        more.is_some_and(|m| self.list[m as usize].on >> stock & 1 == 1)
    }

    /// The largest leftover of a board with this set on it, and which rectangle gives it.
    pub fn leftover(&self, model: &Model, set: usize, stock: usize) -> Option<(f64, usize)> {
        let mut best: Option<(f64, usize)> = None;
        for (i, h) in self.list[set].hulls.iter().enumerate() {
            if model.fits(h.len, h.wid, stock) {
                let area = model.leftover(stock, h.len, h.wid);
                if best.is_none_or(|l| area > l.0) {
                    best = Some((area, i));
                }
            }
        }
        best
    }

    /// The pattern of one rectangle of a set.
    pub fn tree(&self, model: &Model, set: usize, index: usize) -> Tree {
        let mut tree = Tree { nodes: Vec::new(), root: 0 };
        tree.root = self.draw(model, &mut tree, (set as u32, index as u32));
        tree
    }

    // As deep as the set has parts.
    fn draw(&self, model: &Model, tree: &mut Tree, at: (u32, u32)) -> u32 {
        match self.list[at.0 as usize].hulls[at.1 as usize].made {
            Made::Part { kind, lie } => tree.part(model, kind, lie),
            Made::Pair { beside, a, b } => {
                let (a, b) = (self.draw(model, tree, a), self.draw(model, tree, b));
                tree.join(beside, a, b)
            }
        }
    }

    /// The most that a board of this kind can hold of these values, and the set that does it.
    pub fn most(&self, value: &[f64], stock: usize, budget: &mut Budget) -> (f64, Option<usize>) {
        let (mut best, mut at) = (0.0, None);
        budget.spend(6 * self.list.len());
        for (i, set) in self.list.iter().enumerate() {
            if set.on >> stock & 1 == 1 {
                let sum = set.worth(value);
                if sum > best {
                    (best, at) = (sum, Some(i));
                }
            }
        }
        (best, at)
    }
}

impl Set {
    pub fn worth(&self, value: &[f64]) -> f64 {
        self.counts.iter().map(|&(k, n)| value[k as usize] * f64::from(n)).sum()
    }
}

/// One bit for each kind of board that one of these rectangles fits on.
fn on(model: &Model, hulls: &[Hull]) -> u32 {
    let fits = |s: &usize| hulls.iter().any(|h| model.fits(h.len, h.wid, *s));
    (0..model.stock.len()).filter(fits).map(|s| 1 << s).sum()
}

/// Adds a rectangle to a front if it fits on some board and none there is as small in both directions.
/// A front is sorted by rising length, and so by falling width.
fn add(model: &Model, front: &mut Vec<Hull>, (len, wid): (f64, f64), made: Made) {
    let tiny = WORKING * 1e-3;
    let at = front.partition_point(|h| h.len <= len + tiny);
    if at > 0 && front[at - 1].wid <= wid + tiny
        || !(0..model.stock.len()).any(|s| model.fits(len, wid, s))
    {
        return;
    }
    let from = front.partition_point(|h| h.len < len);
    while front.get(from).is_some_and(|h| h.wid >= wid) {
        front.remove(from);
    }
    front.insert(from, Hull { len, wid, made });
}

/// All ways to set a rectangle of one front beside or above one of another that may be the smallest: which
/// way, places in the fronts, length and width.
pub fn pairs(p: &[Hull], q: &[Hull], mut each: impl FnMut(bool, (usize, usize), (f64, f64))) {
    for (p, q, swapped) in [(p, q, false), (q, p, true)] {
        let (mut beside, mut above) = (0, 0);
        // Each gets the shortest of the other front that is no wider, and the narrowest that is no longer.
        for (i, h) in p.iter().enumerate() {
            let places = |j| if swapped { (j, i) } else { (i, j) };
            while beside < q.len() && q[beside].wid > h.wid {
                beside += 1;
            }
            if let Some(o) = q.get(beside) {
                each(true, places(beside), (h.len + o.len, h.wid));
            }
            while above < q.len() && q[above].len <= h.len {
                above += 1;
            }
            if let Some(at) = above.checked_sub(1) {
                each(false, places(at), (h.len, h.wid + q[at].wid));
            }
        }
    }
}

/// Keys to numbers, by open addressing.
pub struct Table {
    slots: Vec<(u128, u32)>,
    pub count: usize,
}

impl Table {
    pub fn new() -> Table {
        Table { slots: vec![(0, u32::MAX); 1024], count: 0 }
    }

    /// Where a key is, or the empty slot where it would be.
    fn slot(&self, key: u128) -> usize {
        let mixed = (key as u64 ^ (key >> 64) as u64).wrapping_mul(0x9E37_79B9_7F4A_7C15) >> 20;
        let mut at = mixed as usize % self.slots.len();
        while self.slots[at].1 != u32::MAX && self.slots[at].0 != key {
            at = (at + 1) % self.slots.len();
        }
        at
    }

    pub fn get(&self, key: u128) -> Option<u32> {
        let found = self.slots[self.slot(key)].1;
        (found != u32::MAX).then_some(found)
    }

    pub fn put(&mut self, key: u128, value: u32) {
        if 2 * (self.count + 1) > self.slots.len() {
            let twice = vec![(0, u32::MAX); 2 * self.slots.len()];
            for (key, value) in core::mem::replace(&mut self.slots, twice) {
                if value != u32::MAX {
                    let at = self.slot(key);
                    self.slots[at] = (key, value);
                }
            }
        }
        let at = self.slot(key);
        self.slots[at] = (key, value);
        self.count += 1;
    }
}
