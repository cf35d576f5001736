//! Sets of parts for boards that all parts together nearly fill. No piece may then waste more than the total
//! left over, so few sets are possible.
//!
//! Larger rectangles are made of two smaller ones, beside or above each other, and dropped where they waste
//! too much (after Wang, Operations Research 31, 1983; from memory). What lies beside a rectangle on
//! its board counts as waste too, as far as no sum of part sizes reaches.

use super::super::board_counts::Inequality;
use super::super::budget::Budget;
use super::super::verdict::Verdict;
use super::exact::{Known, Sharing};
use super::model::{Chosen, Model};
use super::sets::{Grown, Hull, Made, Sets, pairs};
use super::worth;
use offsquare_units::num;

/// Most sums of sizes in one direction; with more, nothing beside a rectangle counts as waste.
const MOST_SUMS: usize = 3_000;
/// Most parts.
const MOST_PARTS: u32 = 80;

/// The question whether given boards hold all parts.
pub struct Tight {
    sets: Sets,
    boards: Vec<usize>,
    /// Most waste of any piece.
    room: f64,
    /// For each kind of board: its place in the stock, sums of sizes along it and across it.
    sums: Vec<(usize, Vec<f64>, Vec<f64>)>,
    /// By set: numbers of parts in fields of bits, and their area.
    packed: Vec<(u128, f64)>,
    /// All parts in the same fields, with the bit above each field set; and those bits.
    all: u128,
    guards: u128,
    /// Sets by how many parts they have.
    levels: Vec<Vec<u32>>,
    /// What to make next: the size of the new set, the size of its first member, and that member's index.
    at: (usize, usize, usize),
    until: i64,
    sharing: Option<Sharing>,
}

impl Tight {
    /// None if there are too many parts or kinds.
    pub fn new(
        model: &Model,
        boards: Vec<usize>,
        steps: i64,
        budget: &mut Budget,
    ) -> Option<Tight> {
        if model.total > MOST_PARTS {
            return None;
        }
        let sets = Sets::new(model, budget, steps)?;
        let room = boards.iter().map(|&b| model.stock[b].size()).sum::<f64>() - model.area();
        let (mut all, mut guards, mut shift) = (0u128, 0u128, Vec::new());
        let mut bit = 0;
        for kind in &model.kinds {
            let bits = u32::BITS - kind.qty.leading_zeros();
            shift.push(bit);
            all |= u128::from(kind.qty) << bit;
            guards |= 1u128.checked_shl(bit + bits)?;
            bit += bits + 1;
        }
        if bit > u128::BITS {
            return None;
        }
        let mut kinds = boards.clone();
        num::sort_by(&mut kinds, Ord::cmp);
        kinds.dedup();
        let sums = kinds.into_iter().map(|s| {
            let along = |x: bool| {
                let whole = if x { model.stock[s].len } else { model.stock[s].wid };
                let mut sizes = Vec::new();
                let mut most = Vec::new();
                for kind in &model.kinds {
                    for lie in &kind.lies {
                        sizes.push(if x { lie.len } else { lie.wid });
                        most.push(kind.qty);
                    }
                }
                worth::sums(&sizes, &most, whole, MOST_SUMS).unwrap_or_default()
            };
            (s, along(true), along(false))
        });
        let packed = (sets.list.iter())
            .map(|s| {
                let kind = s.counts[0].0 as usize;
                (1u128 << shift[kind], model.kinds[kind].area)
            })
            .collect();
        let singles = (0..sets.list.len() as u32).collect();
        Some(Tight {
            boards,
            room: room * (1.0 + 1e-9) + 1e-6,
            sums: sums.collect(),
            packed,
            all: all | guards,
            guards,
            levels: vec![Vec::new(), singles],
            at: (2, 1, 0),
            until: budget.left.saturating_sub(steps),
            sharing: None,
            sets,
        })
    }

    /// Goes on for about `slice` steps; none while it is open.
    pub fn step(
        &mut self,
        model: &Model,
        measures: &[Inequality],
        slice: i64,
        budget: &mut Budget,
    ) -> Option<Verdict<Chosen>> {
        let pause = budget.left.saturating_sub(slice);
        if self.sharing.is_none() {
            match self.grow(model, slice, budget) {
                Grown::More => return None,
                Grown::TooMany => return Some(Verdict::Unknown),
                Grown::Whole => {}
            }
        }
        let known = Known { model, sets: &self.sets, measures };
        let sharing = self.sharing.get_or_insert_with(|| {
            let steps = (budget.left - self.until).max(1);
            Sharing::new(known, self.boards.clone(), &model.demand(), steps, budget)
        });
        sharing.step(known, (budget.left - pause).max(1), budget)
    }

    /// Makes larger sets of two smaller ones.
    fn grow(&mut self, model: &Model, slice: i64, budget: &mut Budget) -> Grown {
        let pause = budget.left.saturating_sub(slice);
        let (mut size, mut part, mut place) = self.at;
        while size <= model.total as usize {
            if self.levels.len() == size {
                self.levels.push(Vec::new());
            }
            while 2 * part <= size {
                while place < self.levels[part].len() {
                    if budget.left < pause {
                        self.at = (size, part, place);
                        return Grown::More;
                    }
                    let from = if 2 * part == size { place } else { 0 };
                    let one = self.levels[part][place];
                    let others = self.levels[size - part].len();
                    budget.spend(3 * (others - from.min(others)) + 10);
                    for at in from..others {
                        self.pair(model, one, self.levels[size - part][at], budget);
                    }
                    if budget.left < self.until || self.sets.is_full() {
                        return Grown::TooMany;
                    }
                    place += 1;
                }
                (part, place) = (part + 1, 0);
            }
            (size, part, place) = (size + 1, 1, 0);
        }
        self.at = (size, part, place);
        self.sets.close(model);
        Grown::Whole
    }

    /// All rectangles of two sets together.
    fn pair(&mut self, model: &Model, one: u32, other: u32, budget: &mut Budget) {
        let (p, q) = (self.packed[one as usize], self.packed[other as usize]);
        let (packed, area) = (p.0 + q.0, p.1 + q.1);
        if (self.all - packed) & self.guards != self.guards {
            return;
        }
        let hulls = &self.sets.list[one as usize].hulls;
        let others = &self.sets.list[other as usize].hulls;
        budget.spend(16 * (hulls.len() + others.len()) + 10);
        let mut made = Vec::new();
        pairs(hulls, others, |beside, (i, j), (len, wid)| {
            // Two rows in one direction are also reached as one row and its next member.
            let row = |h: &Hull| matches!(h.made, Made::Pair { beside: b, .. } if b == beside);
            if len * wid - area <= self.room
                && !(row(&hulls[i]) && row(&others[j]))
                && self.may(model, len, wid, area)
            {
                let (a, b) = ((one, i as u32), (other, j as u32));
                made.push((len, wid, Made::Pair { beside, a, b }));
            }
        });
        if made.is_empty() {
            return;
        }
        budget.spend(60 * made.len());
        let set = self.sets.joined(model, one, other, made);
        if set as usize == self.packed.len() {
            self.packed.push((packed, area));
            if let Some(level) = self.levels.last_mut() {
                level.push(set);
            }
        }
    }

    /// Whether a rectangle fits on a board without too much waste in it and beside it.
    fn may(&self, model: &Model, len: f64, wid: f64, area: f64) -> bool {
        self.sums.iter().any(|(stock, along, across)| {
            let s = &model.stock[*stock];
            let beside = || lost(along, s.len - len) * wid + lost(across, s.wid - wid) * len;
            model.fits(len, wid, *stock) && len * wid - area + beside() <= self.room
        })
    }
}

/// What is left of a length by the largest sum of sizes.
fn lost(sums: &[f64], length: f64) -> f64 {
    let at = sums.partition_point(|&s| s <= length + 1e-9);
    match at {
        0 => 0.0,
        at => (length - sums[at - 1]).max(0.0),
    }
}
