//! Sharing all parts out over given boards, completely: board by board, every set (`sets`) that leaves
//! no room for another part, as long as the boards that follow can hold the rest.

use super::super::knapsack::Work;
use super::job::{Chosen, Job};
use super::sets::Sets;
use std::collections::BTreeSet;

/// Most states that are remembered as failed.
const MOST_FAILED: usize = 200_000;

/// Values of the parts, and the most that a board of each kind can hold of them.
#[derive(Clone, Debug)]
pub(super) struct Measure {
    pub value: Vec<f64>,
    pub most: Vec<f64>,
}

/// Whether the parts can be shared out, and how.
pub(super) enum Shared {
    Yes(Chosen),
    No,
    Unknown,
}

/// Shares these parts out over boards of these kinds, not all of which need be used.
pub(super) fn share(
    job: &Job,
    sets: &Sets,
    measures: &[Measure],
    boards: &[usize],
    parts: &[u32],
    steps: i64,
    work: &mut Work,
) -> Shared {
    let worths = measures
        .iter()
        .map(|m| sets.list.iter().map(|s| s.worth(&m.value)).collect())
        .collect();
    work.spend(6 * measures.len() * sets.list.len());
    let until = work.left.saturating_sub(steps).max(0);
    let mut share = Share {
        sets,
        measures,
        worths,
        boards,
        failed: BTreeSet::new(),
        taken: Vec::new(),
        until,
        over: false,
    };
    if share.on(0, parts, work) {
        let tree = |&(at, set): &(usize, usize)| {
            let index = sets.leftover(job, set, boards[at])?.1;
            Some((boards[at], sets.tree(job, set, index)))
        };
        Shared::Yes(share.taken.iter().filter_map(tree).collect())
    } else if share.over {
        Shared::Unknown
    } else {
        Shared::No
    }
}

/// With the same boards, the plan with the largest single leftover above `best`.
pub(super) fn largest(
    job: &Job,
    sets: &Sets,
    measures: &[Measure],
    boards: &[usize],
    best: f64,
    work: &mut Work,
) -> Shared {
    let mut first: Vec<(f64, usize, usize, usize)> = Vec::new();
    for (at, &stock) in boards.iter().enumerate() {
        if at > 0 && boards[at - 1] == stock {
            continue;
        }
        for set in 0..sets.list.len() {
            if let Some((area, index)) = sets.leftover(job, set, stock)
                && area > best
            {
                first.push((area, at, set, index));
            }
        }
    }
    work.spend(60 * (first.len() + sets.list.len()));
    let until = work.left - (work.left / 2).min(150_000_000);
    crate::num::sort_by(&mut first, |a, b| b.0.total_cmp(&a.0).then(a.2.cmp(&b.2)));
    for (_, at, set, index) in first {
        let mut rest = boards.to_vec();
        let stock = rest.remove(at);
        let mut parts = job.demand();
        for &(k, n) in &sets.list[set].counts {
            parts[k as usize] -= n;
        }
        let steps = (work.left - until).max(1);
        match share(job, sets, measures, &rest, &parts, steps, work) {
            Shared::Yes(mut plan) => {
                plan.push((stock, sets.tree(job, set, index)));
                return Shared::Yes(plan);
            }
            Shared::No => {}
            Shared::Unknown => return Shared::Unknown,
        }
    }
    Shared::No
}

struct Share<'a> {
    sets: &'a Sets,
    measures: &'a [Measure],
    /// By measure: the worth of every set.
    worths: Vec<Vec<f64>>,
    boards: &'a [usize],
    failed: BTreeSet<(usize, u128)>,
    /// Board and set.
    taken: Vec<(usize, usize)>,
    until: i64,
    over: bool,
}

impl Share<'_> {
    /// As deep as there are boards.
    fn on(&mut self, at: usize, left: &[u32], work: &mut Work) -> bool {
        if left.iter().all(|&n| n == 0) {
            return true;
        }
        if at == self.boards.len() || self.over {
            return false;
        }
        if work.left < self.until {
            self.over = true;
            return false;
        }
        work.spend(200);
        let key: u128 = left
            .iter()
            .zip(&self.sets.step)
            .map(|(&n, &s)| u128::from(n) * s)
            .sum();
        if self.failed.contains(&(at, key)) {
            return false;
        }
        // By each measure: what this board must hold at least, for the others to hold the rest.
        let mut least = Vec::new();
        for m in self.measures {
            let all: f64 = left
                .iter()
                .zip(&m.value)
                .map(|(&n, v)| f64::from(n) * v)
                .sum();
            let others: f64 = self.boards[at + 1..].iter().map(|&s| m.most[s]).sum();
            if all > (others + m.most[self.boards[at]]) * (1.0 + 1e-9) {
                return false;
            }
            least.push(all - others - 1e-9 * all);
        }
        let found = self.fillings(at, left, &least, work);
        for set in found {
            let mut rest = left.to_vec();
            for &(k, n) in &self.sets.list[set].counts {
                rest[k as usize] -= n;
            }
            self.taken.push((at, set));
            if self.on(at + 1, &rest, work) {
                return true;
            }
            self.taken.pop();
            if self.over {
                return false;
            }
        }
        // A board may also stay empty when others follow that are not like it.
        let stock = self.boards[at];
        if let Some(next) = self.boards[at..].iter().position(|&s| s != stock)
            && self.on(at + next, left, work)
        {
            return true;
        }
        if self.over {
            return false;
        }
        if self.failed.len() < MOST_FAILED {
            self.failed.insert((at, key));
        }
        false
    }

    /// Sets for one board with no room for a further part, the most worth first. Where all boards that
    /// follow are alike, one of them holds the first part, and this may be the one.
    fn fillings(&self, at: usize, left: &[u32], least: &[f64], work: &mut Work) -> Vec<usize> {
        let stock = self.boards[at];
        let alike = self.boards[at..].iter().all(|&s| s == stock);
        let first = left.iter().position(|&n| n > 0).unwrap_or(0) as u32;
        let mut found: Vec<(f64, usize)> = Vec::new();
        work.spend(2 * self.sets.list.len());
        for (i, set) in self.sets.list.iter().enumerate() {
            if set.on >> stock & 1 == 0
                || (alike && set.counts[0].0 != first)
                || least.iter().zip(&self.worths).any(|(l, w)| w[i] < *l)
                || set.counts.iter().any(|&(k, n)| n > left[k as usize])
            {
                continue;
            }
            work.spend(20 * left.len());
            let full = (0..left.len()).all(|k| {
                let have = set
                    .counts
                    .iter()
                    .find(|c| c.0 as usize == k)
                    .map_or(0, |c| c.1);
                have == left[k] || !self.sets.has_room(set, k, stock)
            });
            if full {
                found.push((self.worths.last().map_or(0.0, |w| w[i]), i));
            }
        }
        crate::num::sort_by(&mut found, |a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
        found.into_iter().map(|f| f.1).collect()
    }
}
