//! A complete search that shares all parts out over given boards: board by board it tries every set (`sets`)
//! that leaves no room for another part, as long as the boards that follow can hold the rest.

use super::super::board_counts::{Inequality, worth};
use super::super::budget::Budget;
use super::super::verdict::Verdict;
use super::model::{Chosen, Model};
use super::relaxation::Pricer;
use super::sets::{Sets, Table};
use offsquare_units::num;

/// Most states that are remembered as failed.
const MOST_FAILED: usize = 200_000;

/// What a search borrows each time it continues.
#[derive(Clone, Copy)]
pub struct Known<'a> {
    pub model: &'a Model,
    pub sets: &'a Sets,
    pub measures: &'a [Inequality],
}

impl<'a> Known<'a> {
    /// None where not all sets of parts are known.
    pub fn of(
        model: &'a Model,
        pricer: &'a Option<Pricer>,
        measures: &'a [Inequality],
    ) -> Option<Known<'a>> {
        Some(Known { model, sets: pricer.as_ref()?.sets.as_ref()?, measures })
    }
}

/// Parts being shared out over boards of these kinds, not all of which need be used.
pub struct Sharing {
    /// The worth of every set, for each measure.
    worths: Vec<Vec<f64>>,
    boards: Vec<usize>,
    /// Parts that the boards from a given index on could not hold, with that index.
    failed: Table,
    /// Board and set.
    taken: Vec<(usize, usize)>,
    /// Boards being filled, one after the other.
    open: Vec<Filling>,
    filled: bool,
    until: i64,
}

/// One board, with what may be cut from it.
struct Filling {
    at: usize,
    left: Vec<u32>,
    key: u128,
    found: Vec<usize>,
    next: usize,
    /// Whether leaving it empty has been tried too.
    skipped: bool,
    /// Whether the board before it holds a set; otherwise that one stays empty.
    follows: bool,
}

/// What the search found for the boards from a given index on.
enum Entered {
    Filled,
    Failed,
    Open,
}

impl Sharing {
    pub fn new(
        known: Known,
        boards: Vec<usize>,
        parts: &[u32],
        steps: i64,
        budget: &mut Budget,
    ) -> Sharing {
        let sets = &known.sets.list;
        let worth = |m: &Inequality| sets.iter().map(|s| s.worth(&m.value)).collect();
        budget.spend(6 * known.measures.len() * sets.len());
        let mut sharing = Sharing {
            worths: known.measures.iter().map(worth).collect(),
            boards,
            failed: Table::new(),
            taken: Vec::new(),
            open: Vec::new(),
            filled: false,
            until: budget.left.saturating_sub(steps).max(0),
        };
        let entered = sharing.enter(known, 0, parts.to_vec(), false, budget);
        sharing.filled = matches!(entered, Entered::Filled);
        sharing
    }

    /// Goes on for about `slice` steps; none while it is open.
    pub fn step(
        &mut self,
        known: Known,
        slice: i64,
        budget: &mut Budget,
    ) -> Option<Verdict<Chosen>> {
        let pause = budget.left.saturating_sub(slice);
        while !self.filled {
            let Some(filling) = self.open.last_mut() else {
                return Some(Verdict::Impossible);
            };
            if budget.left < self.until {
                return Some(Verdict::Unknown);
            }
            if budget.left < pause {
                return None;
            }
            let (at, set) = (filling.at, filling.found.get(filling.next).copied());
            filling.next += 1;
            let entered = if let Some(set) = set {
                let mut rest = filling.left.clone();
                for &(k, n) in &known.sets.list[set].counts {
                    rest[k as usize] -= n;
                }
                self.taken.push((at, set));
                let entered = self.enter(known, at + 1, rest, true, budget);
                if matches!(entered, Entered::Failed) {
                    self.taken.pop();
                }
                entered
            } else if !filling.skipped {
                filling.skipped = true;
                // A board may also stay empty when others follow that are not like it.
                let (stock, left) = (self.boards[at], filling.left.clone());
                match self.boards[at..].iter().position(|&s| s != stock) {
                    Some(next) => self.enter(known, at + next, left, false, budget),
                    None => Entered::Failed,
                }
            } else {
                if self.failed.count < MOST_FAILED {
                    self.failed.put(filling.key, at as u32);
                }
                if filling.follows {
                    self.taken.pop();
                }
                self.open.pop();
                continue;
            };
            self.filled = matches!(entered, Entered::Filled);
        }
        let tree = |&(at, set): &(usize, usize)| {
            let stock = self.boards[at];
            let index = known.sets.leftover(known.model, set, stock)?.1;
            Some((stock, known.sets.tree(known.model, set, index)))
        };
        Some(Verdict::Found(self.taken.iter().filter_map(tree).collect()))
    }

    /// Goes one board deeper.
    fn enter(
        &mut self,
        known: Known,
        at: usize,
        left: Vec<u32>,
        follows: bool,
        budget: &mut Budget,
    ) -> Entered {
        if left.iter().all(|&n| n == 0) {
            return Entered::Filled;
        }
        if at == self.boards.len() {
            return Entered::Failed;
        }
        budget.spend(200);
        let each = left.iter().zip(&known.sets.step);
        let key: u128 = each.map(|(&n, &s)| u128::from(n) * s).sum();
        // What more boards could not hold fails here too.
        if self.failed.get(key).is_some_and(|from| from as usize <= at) {
            return Entered::Failed;
        }
        // For each measure, the least that this board must hold so that the others can hold the rest.
        let mut least = Vec::new();
        for m in &known.measures[..self.worths.len()] {
            let all = worth(&m.value, &left);
            let others: f64 = self.boards[at + 1..].iter().map(|&s| m.most[s]).sum();
            if all > (others + m.most[self.boards[at]]) * (1.0 + 1e-9) {
                return Entered::Failed;
            }
            least.push(all - others - 1e-9 * all);
        }
        let found = self.fillings(known.sets, at, &left, &least, budget);
        self.open.push(Filling { at, left, key, found, next: 0, skipped: false, follows });
        Entered::Open
    }

    /// Sets for one board with no room for a further part, the most worth first. Where all boards that
    /// follow are alike, one of them holds the first part, and this may be the one.
    fn fillings(
        &self,
        sets: &Sets,
        at: usize,
        left: &[u32],
        least: &[f64],
        budget: &mut Budget,
    ) -> Vec<usize> {
        let stock = self.boards[at];
        let alike = self.boards[at..].iter().all(|&s| s == stock);
        let first = left.iter().position(|&n| n > 0).unwrap_or(0) as u32;
        let mut found: Vec<(f64, usize)> = Vec::new();
        budget.spend(2 * sets.list.len());
        for (i, set) in sets.list.iter().enumerate() {
            if set.on >> stock & 1 == 0
                || (alike && set.counts[0].0 != first)
                || least.iter().zip(&self.worths).any(|(l, w)| w[i] < *l)
                || set.counts.iter().any(|&(k, n)| n > left[k as usize])
            {
                continue;
            }
            budget.spend(20 * left.len());
            let full = (0..left.len()).all(|k| {
                let have = set.counts.iter().find(|c| c.0 as usize == k).map_or(0, |c| c.1);
                have == left[k] || !sets.has_room(set, k, stock)
            });
            if full {
                found.push((self.worths.last().map_or(0.0, |w| w[i]), i));
            }
        }
        num::sort_by(&mut found, |a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
        found.into_iter().map(|f| f.1).collect()
    }
}

/// With the same boards, the plan with the largest single leftover above `best`.
pub struct Largest {
    /// Leftover, board, set, which rectangle of it: the largest first.
    first: Vec<(f64, usize, usize, usize)>,
    next: usize,
    boards: Vec<usize>,
    sharing: Option<Sharing>,
    until: i64,
}

impl Largest {
    pub fn new(known: Known, boards: Vec<usize>, best: f64, budget: &mut Budget) -> Largest {
        let Known { model, sets, .. } = known;
        let mut first: Vec<(f64, usize, usize, usize)> = Vec::new();
        for (at, &stock) in boards.iter().enumerate() {
            if at > 0 && boards[at - 1] == stock {
                continue;
            }
            for set in 0..sets.list.len() {
                if let Some((area, index)) = sets.leftover(model, set, stock)
                    && area > best
                {
                    first.push((area, at, set, index));
                }
            }
        }
        budget.spend(60 * (first.len() + sets.list.len()));
        num::sort_by(&mut first, |a, b| b.0.total_cmp(&a.0).then(a.2.cmp(&b.2)));
        Largest {
            first,
            next: 0,
            boards,
            sharing: None,
            until: budget.left - (budget.left / 2).min(150_000_000),
        }
    }

    /// Goes on for about `slice` steps; none while it is open.
    pub fn step(
        &mut self,
        known: Known,
        slice: i64,
        budget: &mut Budget,
    ) -> Option<Verdict<Chosen>> {
        let pause = budget.left.saturating_sub(slice);
        while budget.left > pause {
            let Some(&(_, at, set, index)) = self.first.get(self.next) else {
                return Some(Verdict::Impossible);
            };
            let sharing = match &mut self.sharing {
                Some(sharing) => sharing,
                none => {
                    let mut rest = self.boards.clone();
                    rest.remove(at);
                    let mut parts = known.model.demand();
                    for &(k, n) in &known.sets.list[set].counts {
                        parts[k as usize] -= n;
                    }
                    let steps = (budget.left - self.until).max(1);
                    none.insert(Sharing::new(known, rest, &parts, steps, budget))
                }
            };
            match sharing.step(known, budget.left - pause, budget)? {
                Verdict::Found(mut plan) => {
                    let tree = known.sets.tree(known.model, set, index);
                    plan.push((self.boards[at], tree));
                    return Some(Verdict::Found(plan));
                }
                Verdict::Impossible => {
                    self.sharing = None;
                    self.next += 1;
                }
                Verdict::Unknown => return Some(Verdict::Unknown),
            }
        }
        None
    }
}
