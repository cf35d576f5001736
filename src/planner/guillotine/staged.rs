//! Good patterns for a board, quickly: strips over its whole length, each cut up into parts or stacks of
//! equal parts; or the same crosswise (the staged patterns of Gilmore and Gomory, Operations Research 13,
//! 1965; from memory). Unlike those of `worth` they can always be cut.

use super::super::budget::Budget;
use super::super::outcome::WORKING;
use super::corner::{Bin, Split};
use super::model::Model;
use offsquare_units::num;

/// Most cells of a scale on which sizes are exact, and cells of one on which they are rounded up.
const MOST_CELLS: f64 = 2_400.0;
const CELLS: f64 = 900.0;

/// Sizes in whole cells.
#[derive(Clone, Copy, Debug)]
struct Scale {
    cell: f64,
    whole: usize,
}

impl Scale {
    fn new(sizes: impl Iterator<Item = f64>, whole: f64) -> Scale {
        let common = sizes.fold(0.0, common);
        let cell = if common * MOST_CELLS >= whole { common } else { whole / CELLS };
        Scale { cell, whole: num::floor(whole / cell + 1e-6) as usize }
    }
    fn of(&self, size: f64) -> usize {
        num::ceil(size / self.cell - 1e-6) as usize
    }
}

/// The largest size of which both are multiples, about.
fn common(mut a: f64, mut b: f64) -> f64 {
    while b > 1e-4 {
        let rest = (a - b * num::floor(a / b + 1e-6)).max(0.0);
        (a, b) = (b, rest);
    }
    a
}

/// What a strip is made of: a kind, how it lies, how many are stacked, cells, worth, how often at most.
#[derive(Clone, Copy, Debug)]
struct Item {
    kind: u32,
    lie: u32,
    stack: u32,
    size: usize,
    value: f64,
    most: u32,
}

/// One direction of one board: strips along it.
struct StripDirection<'a> {
    model: &'a Model,
    /// Strips run along the board's length.
    rips: bool,
    /// Padded length and width of a strip that takes up the whole board.
    long: f64,
    wide: f64,
    along: Scale,
    across: Scale,
}

impl StripDirection<'_> {
    fn new(model: &Model, stock: usize, rips: bool) -> StripDirection<'_> {
        let s = &model.stock[stock];
        let (long, wide) = if rips { (s.len, s.wid) } else { (s.wid, s.len) };
        let lies = || {
            let fits = move |l: &&super::model::Lie| model.fits(l.len, l.wid, stock);
            model.kinds.iter().flat_map(move |k| k.lies.iter().filter(fits))
        };
        let sizes = |first: bool| lies().map(move |l| if first { l.len } else { l.wid });
        StripDirection {
            model,
            rips,
            long,
            wide,
            along: Scale::new(sizes(rips), long),
            across: Scale::new(sizes(!rips), wide),
        }
    }

    /// A part's size along the strip and across it.
    fn size(&self, kind: u32, lie: u32) -> (f64, f64) {
        let l = self.model.kinds[kind as usize].lies[lie as usize];
        if self.rips { (l.len, l.wid) } else { (l.wid, l.len) }
    }

    fn items(&self, wide: f64, value: &[f64], left: &[u32]) -> Vec<Item> {
        let mut items = Vec::new();
        for (k, kind) in self.model.kinds.iter().enumerate() {
            for lie in 0..kind.lies.len() as u32 {
                let (long, across) = self.size(k as u32, lie);
                let room = num::floor((wide + WORKING) / across);
                if left[k] == 0 || value[k] <= 0.0 || room < 1.0 || long > self.long + WORKING {
                    continue;
                }
                if self.model.plain && across < wide - WORKING {
                    continue;
                }
                let stack = (room as u32).min(left[k]);
                items.push(Item {
                    kind: k as u32,
                    lie,
                    stack,
                    size: self.along.of(long).max(1),
                    value: value[k] * f64::from(stack),
                    most: left[k] / stack,
                });
            }
        }
        items
    }

    /// The most valuable contents of a strip: their worth and the items, by a bounded knapsack.
    fn strip(&self, items: &[Item], budget: &mut Budget) -> (f64, Vec<Item>) {
        let offers: Vec<_> = items.iter().map(|i| (i.size, i.value, i.most)).collect();
        let (worth, mut at, how) = knapsack(&offers, self.along.whole, budget);
        let mut taken = Vec::new();
        while how[at] != usize::MAX {
            let item = items[how[at]];
            taken.push(item);
            at -= item.size;
        }
        (worth, taken)
    }

    /// The board with its most valuable contents.
    fn best(&self, stock: usize, value: &[f64], left: &[u32], budget: &mut Budget) -> Bin {
        let mut widths: Vec<f64> = Vec::new();
        for (k, kind) in self.model.kinds.iter().enumerate() {
            for lie in 0..kind.lies.len() as u32 {
                let (long, wide) = self.size(k as u32, lie);
                if left[k] > 0 && long <= self.long + WORKING && wide <= self.wide + WORKING {
                    widths.push(wide);
                }
            }
        }
        num::sort(&mut widths);
        widths.dedup_by(|a, b| *a - *b <= WORKING);
        // Cells, worth, and how often there are parts for it.
        let strips: Vec<(usize, f64, u32)> = widths
            .iter()
            .map(|&w| {
                let (worth, taken) = self.strip(&self.items(w, value, left), budget);
                let mut used = vec![0; left.len()];
                for item in &taken {
                    used[item.kind as usize] += item.stack;
                }
                let each = used.iter().zip(left).filter(|u| *u.0 > 0);
                let most = each.map(|(&n, &l)| l / n).min().unwrap_or(0);
                (self.across.of(w).max(1), worth, most.max(1))
            })
            .collect();
        // Which strips side by side.
        let (_, mut at, how) = knapsack(&strips, self.across.whole, budget);
        let mut bin = Bin::new(self.model, stock);
        bin.free.clear();
        let (mut left, mut rest) = (left.to_vec(), 0);
        while how[at] != usize::MAX {
            let wide = widths[how[at]];
            at -= strips[how[at]].0;
            let room = bin.tree.nodes[rest as usize];
            if wide > (if self.rips { room.wid } else { room.len }) + WORKING {
                continue;
            }
            // Again with the parts that are left.
            let items = self.items(wide, value, &left);
            let (_, taken) = self.strip(&items, budget);
            if taken.is_empty() {
                continue;
            }
            let (strip, beyond) = bin.halve(rest, !self.rips, wide);
            rest = beyond;
            self.cut(&mut bin, strip, &taken, &mut left);
        }
        bin.free.push(rest);
        bin
    }

    /// Cuts a strip up into its items.
    fn cut(&self, bin: &mut Bin, strip: u32, taken: &[Item], left: &mut [u32]) {
        let mut rest = strip;
        for item in taken {
            let (long, wide) = self.size(item.kind, item.lie);
            let room = bin.tree.nodes[rest as usize];
            if long > (if self.rips { room.len } else { room.wid }) + WORKING {
                continue;
            }
            let (mut cell, beyond) = bin.halve(rest, self.rips, long);
            rest = beyond;
            for _ in 0..item.stack {
                if left[item.kind as usize] == 0 {
                    break;
                }
                left[item.kind as usize] -= 1;
                let (place, above) = bin.halve(cell, !self.rips, wide);
                bin.set(self.model, place, item.kind, item.lie, Split::Large);
                cell = above;
            }
            bin.free.push(cell);
        }
        bin.free.push(rest);
    }
}

/// The most worth within so many cells of items of a size, a worth and a number each: the worth, the cells
/// taken, and for each number of cells the item that comes last.
fn knapsack(
    items: &[(usize, f64, u32)],
    cells: usize,
    budget: &mut Budget,
) -> (f64, usize, Vec<usize>) {
    budget.spend(2 * cells * (items.len() + 1));
    let mut best = vec![0.0f64; cells + 1];
    let mut how = vec![usize::MAX; cells + 1];
    let mut used = vec![0u32; cells + 1];
    for (i, &(size, value, most)) in items.iter().enumerate() {
        used.fill(0);
        for at in size..=cells {
            let sum = best[at - size] + value;
            if used[at - size] < most && sum > best[at] {
                best[at] = sum;
                how[at] = i;
                used[at] = used[at - size] + 1;
            }
        }
    }
    let top = (0..=cells).fold(0, |b, c| if best[c] > best[b] { c } else { b });
    (best[top], top, how)
}

/// A board of this kind with valuable parts of those left.
pub fn best(
    model: &Model,
    stock: usize,
    value: &[f64],
    left: &[u32],
    budget: &mut Budget,
) -> Option<(f64, Bin)> {
    let mut best: Option<(f64, Bin)> = None;
    for rips in [true, false] {
        if model.plain && !rips {
            continue;
        }
        let way = StripDirection::new(model, stock, rips);
        let mut now = value.to_vec();
        for _ in 0..3 {
            let bin = way.best(stock, &now, left, budget);
            let worth = bin.worth(model, value);
            // Kinds that ran out were valued too highly, so lower their values for the next try.
            let mut over = false;
            let counts = bin.tree.counts(model.kinds.len());
            for ((v, n), l) in now.iter_mut().zip(&counts).zip(left) {
                if n == l && *n > 0 {
                    *v *= 0.85;
                    over = true;
                }
            }
            if bin.parts > 0 && best.as_ref().is_none_or(|b| worth > b.0) {
                best = Some((worth, bin));
            }
            if !over {
                break;
            }
        }
    }
    best
}
