//! Packs parts onto given boards: first in several orders by the rules of `corner`, then by emptying a few
//! boards and packing them again, over and over.

use super::super::budget::Budget;
use super::super::outcome::WORKING;
use super::corner::{self, Bin, RULES, Rule, Split};
use super::model::{Chosen, Model, Shape};
use offsquare_units::num;

/// Jobs with more parts are not searched by changing the order.
const MOST_SEARCHED: u32 = 1_500;

/// The most missing parts tried at a time.
const MOST_MISSING: usize = 24;

/// Pseudorandom numbers, the same in every run (xorshift64*, Vigna 2016; from memory).
pub struct Dice(u64);

impl Default for Dice {
    fn default() -> Dice {
        Dice::new(1)
    }
}

impl Dice {
    pub fn new(seed: u64) -> Dice {
        Dice(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) | 1)
    }
    pub fn below(&mut self, n: usize) -> usize {
        self.0 ^= self.0 >> 12;
        self.0 ^= self.0 << 25;
        self.0 ^= self.0 >> 27;
        let roll = self.0.wrapping_mul(0x2545_F491_4F6C_DD1D) >> 33;
        roll as usize % n.max(1)
    }
}

/// Boards with parts on them, and the parts that found no place.
struct Packed {
    bins: Vec<Bin>,
    /// What lies on each board.
    parts: Vec<Vec<u32>>,
    missing: Vec<u32>,
    /// Padded area of what is missing.
    score: f64,
}

fn packed(
    model: &Model,
    boards: &[usize],
    order: &[u32],
    rule: Rule,
    budget: &mut Budget,
) -> Packed {
    let mut all = Packed {
        bins: boards.iter().map(|&s| Bin::new(model, s)).collect(),
        parts: vec![Vec::new(); boards.len()],
        missing: Vec::new(),
        score: 0.0,
    };
    for &kind in order {
        // Free places only shrink: a kind that has just found none finds none now.
        let failed = all.missing.last() == Some(&kind);
        match (!failed).then(|| corner::put(model, &mut all.bins, kind, rule, budget)) {
            Some(Some(bin)) => all.parts[bin].push(kind),
            _ => {
                all.missing.push(kind);
                all.score += model.kinds[kind as usize].area;
            }
        }
    }
    all
}

fn chosen(bins: &[Bin]) -> Chosen {
    bins.iter().filter_map(|b| Some((b.stock, b.closed()?))).collect()
}

/// All single parts, sorted by one of several sizes, the largest first.
pub fn order(model: &Model, by: usize, counts: &[u32]) -> Vec<u32> {
    let size = |k: u32| {
        let kind = &model.kinds[k as usize];
        let lie = kind.lies[0];
        match by {
            0 => kind.area,
            1 => lie.len,
            2 => lie.wid,
            3 => lie.len.max(lie.wid),
            _ => lie.len + lie.wid,
        }
    };
    let mut kinds: Vec<u32> = (0..model.kinds.len() as u32).collect();
    num::sort_by(&mut kinds, |&a, &b| size(b).total_cmp(&size(a)).then(a.cmp(&b)));
    kinds.into_iter().flat_map(|k| core::iter::repeat_n(k, counts[k as usize] as usize)).collect()
}

pub const ORDERS: usize = 5;

/// Tries to put all parts on these boards (indices into the stock), for about so many steps.
pub fn pack(
    model: &Model,
    boards: &[usize],
    steps: i64,
    seed: u64,
    budget: &mut Budget,
) -> Option<Chosen> {
    let mut packing = Packing::new(model, boards, steps, seed, budget);
    loop {
        if let Some(packed) = packing.step(model, steps.max(1), budget) {
            return packed;
        }
    }
}

/// The same in slices.
pub struct Packing {
    boards: Vec<usize>,
    /// Orders and rules that have not been tried.
    ways: Vec<usize>,
    now: Option<Packed>,
    again: Again,
    steps: i64,
    until: i64,
    /// Most of the room of one board.
    board: f64,
}

impl Packing {
    pub fn new(model: &Model, boards: &[usize], steps: i64, seed: u64, budget: &Budget) -> Packing {
        let mut boards = boards.to_vec();
        if seed % 2 == 1 {
            boards.reverse();
        }
        let area = |&b: &usize| model.stock[b].len * model.stock[b].wid;
        Packing {
            board: boards.iter().map(area).fold(0.0, f64::max),
            boards,
            ways: (0..ORDERS * RULES.len()).collect(),
            now: None,
            again: Again {
                scratch: Vec::new(),
                left: Vec::new(),
                order: Vec::new(),
                dice: Dice::new(seed),
            },
            steps,
            until: budget.left.saturating_sub(steps),
        }
    }

    /// Goes on for about `slice` steps; none while it is open.
    pub fn step(
        &mut self,
        model: &Model,
        slice: i64,
        budget: &mut Budget,
    ) -> Option<Option<Chosen>> {
        let pause = budget.left.saturating_sub(slice);
        let starts = self.until + self.steps - self.steps / 4;
        while !self.ways.is_empty() {
            let way = (self.ways).swap_remove(self.again.dice.below(self.ways.len()));
            let order = order(model, way % ORDERS, &model.demand());
            let packed = packed(model, &self.boards, &order, RULES[way / ORDERS], budget);
            if packed.missing.is_empty() {
                return Some(Some(chosen(&packed.bins)));
            }
            if self.now.as_ref().is_none_or(|b| packed.score < b.score) {
                self.now = Some(packed);
            }
            if budget.left < starts {
                self.ways.clear();
            }
            if budget.left < pause {
                return None;
            }
        }
        let Some(now) = self.now.as_mut().filter(|_| model.total <= MOST_SEARCHED) else {
            return Some(None);
        };
        let whole = self.steps.max(1) as f64;
        while budget.left > self.until {
            let rest = (budget.left - self.until) as f64 / whole;
            self.again.turn(model, now, 0.06 * rest * self.board, budget);
            if now.missing.is_empty() {
                return Some(Some(chosen(&now.bins)));
            }
            if budget.left < pause {
                return None;
            }
        }
        Some(None)
    }
}

/// Empties one to three boards and packs them again, together with the missing parts. Worse results are
/// accepted at times, less and less often (threshold accepting).
struct Again {
    scratch: Vec<Bin>,
    left: Vec<u32>,
    order: Vec<(f64, u32)>,
    dice: Dice,
}

impl Again {
    fn turn(&mut self, model: &Model, now: &mut Packed, heat: f64, budget: &mut Budget) {
        let (dice, count) = (&mut self.dice, now.bins.len());
        let wanted = [1, 1, 2, 2, 2, 2, 2, 3, 3, 1][dice.below(10)].min(count);
        let mut picked = [usize::MAX; 3];
        for i in 0..wanted {
            let mut bin = dice.below(count);
            while picked[..i].contains(&bin) {
                bin = (bin + 1) % count;
            }
            picked[i] = bin;
        }
        let picked = &picked[..wanted];
        let by = dice.below(5);
        let noise = [0.1, 0.5, 1.0, 2.0][dice.below(4)];
        self.order.clear();
        // Of many missing parts only some are tried; the others stay missing.
        let missing = now.missing.len().min(MOST_MISSING);
        if missing > 0 {
            let by = dice.below(now.missing.len());
            now.missing.rotate_left(by);
        }
        let others = &now.missing[missing..];
        let on_boards = picked.iter().flat_map(|&b| &now.parts[b]);
        for (i, &kind) in now.missing[..missing].iter().chain(on_boards).enumerate() {
            let lies = &model.kinds[kind as usize].lies;
            let lie = lies[0];
            let mut size = match by {
                0 | 4 => lie.len * lie.wid,
                1 => lie.len.max(lie.wid),
                2 => lie.wid,
                _ => lie.len,
            };
            if by == 4 && i < missing {
                size *= 4.0;
            }
            size *= 1.0 + noise * (dice.below(1024) as f64 / 1024.0);
            self.order.push((size, kind));
        }
        num::sort_by(&mut self.order, |a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
        let rule = RULES[dice.below(RULES.len())];
        while self.scratch.len() < wanted {
            self.scratch.push(Bin::new(model, 0));
        }
        for (bin, &at) in self.scratch.iter_mut().zip(picked) {
            bin.clear(model, now.bins[at].stock);
        }
        // Any result worse than this is not taken.
        let luck = dice.below(1024) as f64 / 1024.0;
        let limit = now.score + heat * luck * luck + 1e-9;
        self.left.clear();
        let mut score: f64 = others.iter().map(|&k| model.kinds[k as usize].area).sum();
        budget.spend(60 * self.order.len());
        if dice.below(3) == 0 {
            // Place by place: the part that suits it best.
            for bin in &mut self.scratch[..wanted] {
                suited(model, bin, &mut self.order, rule.split, budget);
            }
            for &(_, kind) in &self.order {
                self.left.push(kind);
                score += model.kinds[kind as usize].area;
            }
            if score > limit {
                return;
            }
        } else {
            for &(_, kind) in &self.order {
                let failed = self.left.contains(&kind);
                let put = !failed
                    && corner::put(model, &mut self.scratch[..wanted], kind, rule, budget)
                        .is_some();
                if !put {
                    self.left.push(kind);
                    score += model.kinds[kind as usize].area;
                    if score > limit {
                        return;
                    }
                }
            }
        }
        for (bin, &at) in self.scratch.iter_mut().zip(picked) {
            core::mem::swap(bin, &mut now.bins[at]);
            let list = &mut now.parts[at];
            list.clear();
            let counts = now.bins[at].tree.nodes.iter().filter_map(|n| match n.shape {
                Shape::Part { kind, .. } => Some(kind),
                _ => None,
            });
            list.extend(counts);
        }
        self.left.extend(&now.missing[missing..]);
        core::mem::swap(&mut now.missing, &mut self.left);
        now.score = score;
    }
}

/// Fills the free places of a board, the newest first, each with the part that leaves least beside it in
/// one direction, among large ones by their weight; parts that are put are taken off the list.
fn suited(
    model: &Model,
    bin: &mut Bin,
    order: &mut Vec<(f64, u32)>,
    split: Split,
    budget: &mut Budget,
) {
    while let Some(place) = bin.free.pop() {
        let room = bin.tree.nodes[place as usize];
        let mut best: Option<(f64, usize, u32)> = None;
        budget.spend(10 * order.len() + 10);
        let mut last = u32::MAX;
        for (i, &(weight, kind)) in order.iter().enumerate() {
            if kind == last {
                continue;
            }
            last = kind;
            for (lie, size) in model.kinds[kind as usize].lies.iter().enumerate() {
                let (dx, dy) = (room.len - size.len, room.wid - size.wid);
                if dx < -WORKING || dy < -WORKING || !model.may(&room, dy, bin.stock) {
                    continue;
                }
                let slack = (dx * room.wid).min(dy * room.len).max(0.0);
                let cost = slack - weight;
                if best.is_none_or(|b| cost < b.0) {
                    best = Some((cost, i, lie as u32));
                }
            }
        }
        if let Some((_, i, lie)) = best {
            let (_, kind) = order.remove(i);
            bin.set(model, place, kind, lie, split);
        }
    }
}
