//! The shortest order of a few parts along a board: least sum of joints over all sequences, turns
//! and flips (sequencing trapezoids: Lewis and Holborn, IEEE Trans. Evolutionary Computation 21(3),
//! 2017; text read, venue and year from memory). Small sets are solved exactly by dynamic programming
//! over how many of each kind are placed and at which point the last part ends (Held and Karp 1962,
//! from memory); large ones by insertion, and then the answer is not claimed to be the shortest.

use super::job::{Job, Pattern};

const STATES: usize = 6_000;

/// The shortest order found, and whether it is proven the shortest. With `tail` the cut behind the
/// last part counts.
pub(super) fn shortest(job: &Job, counts: &[(u32, u32)], tail: bool) -> (Pattern, bool) {
    if !job.mitered {
        return (job.square_pattern(counts.to_vec()), true);
    }
    let states: usize = counts
        .iter()
        .fold(1usize, |n, c| n.saturating_mul(c.1 as usize + 1));
    if states <= STATES {
        (exact(job, counts, states, tail), true)
    } else {
        (inserted(job, counts, tail), false)
    }
}

/// Roughly how many steps `shortest` takes for a set.
pub(super) fn effort(job: &Job, counts: &[(u32, u32)]) -> usize {
    let states: usize = counts
        .iter()
        .fold(1usize, |n, c| n.saturating_mul(c.1 as usize + 1));
    let moves: usize = counts
        .iter()
        .map(|&(k, _)| job.first[k as usize + 1] - job.first[k as usize])
        .sum();
    if states <= STATES {
        states * moves * moves * 2 + 200
    } else {
        let number: u32 = counts.iter().map(|c| c.1).sum();
        (number * number) as usize * 20
    }
}

fn exact(job: &Job, counts: &[(u32, u32)], states: usize, tail: bool) -> Pattern {
    let moves: Vec<(usize, u32)> = counts
        .iter()
        .enumerate()
        .flat_map(|(slot, &(kind, _))| {
            (job.first[kind as usize]..job.first[kind as usize + 1]).map(move |m| (slot, m as u32))
        })
        .collect();
    let mut exits: Vec<u16> = moves
        .iter()
        .map(|&(_, m)| job.moves[m as usize].exit)
        .collect();
    exits.sort_unstable();
    exits.dedup();
    let e = exits.len();
    let exit_of: Vec<usize> = moves
        .iter()
        .map(|&(_, m)| {
            exits
                .binary_search(&job.moves[m as usize].exit)
                .unwrap_or(0)
        })
        .collect();
    // Weight of one part of each slot in the number of a state.
    let mut weight = vec![1usize; counts.len()];
    for s in 1..counts.len() {
        weight[s] = weight[s - 1] * (counts[s - 1].1 as usize + 1);
    }
    let held = |state: usize, slot: usize| (state / weight[slot]) % (counts[slot].1 as usize + 1);
    let mut cost = vec![f64::INFINITY; states * e];
    let mut by: Vec<(u32, u32)> = vec![(u32::MAX, u32::MAX); states * e];
    for (i, &(slot, _)) in moves.iter().enumerate() {
        let at = weight[slot] * e + exit_of[i];
        if cost[at] > 0.0 {
            cost[at] = 0.0;
            by[at] = (i as u32, u32::MAX);
        }
    }
    for state in 1..states {
        for x in 0..e {
            let here = cost[state * e + x];
            if !here.is_finite() {
                continue;
            }
            for (i, &(slot, m)) in moves.iter().enumerate() {
                if held(state, slot) >= counts[slot].1 as usize {
                    continue;
                }
                let to = (state + weight[slot]) * e + exit_of[i];
                let with = here + job.joint(exits[x], job.moves[m as usize].enter);
                if with < cost[to] {
                    cost[to] = with;
                    by[to] = (i as u32, x as u32);
                }
            }
        }
    }
    let full = states - 1;
    let end = |x: usize| {
        cost[full * e + x]
            + if tail {
                job.points[exits[x] as usize].kerf
            } else {
                0.0
            }
    };
    let mut x = (0..e)
        .min_by(|&a, &b| end(a).total_cmp(&end(b)))
        .unwrap_or(0);
    let mut state = full;
    let mut order = Vec::new();
    while state > 0 {
        let (i, before) = by[state * e + x];
        let Some(&(slot, m)) = moves.get(i as usize) else {
            break;
        };
        order.push(m);
        state -= weight[slot];
        x = before as usize;
    }
    order.reverse();
    job.pattern_of(order)
}

/// Parts put in one by one, each where it adds least.
fn inserted(job: &Job, counts: &[(u32, u32)], tail: bool) -> Pattern {
    let mut order: Vec<u32> = Vec::new();
    for &(kind, n) in counts {
        for _ in 0..n {
            insert(job, &mut order, kind);
        }
    }
    let _ = tail;
    job.pattern_of(order)
}

/// Puts one part of a kind into an order where it adds least; gives what it adds.
pub(super) fn insert(job: &Job, order: &mut Vec<u32>, kind: u32) -> f64 {
    let (added, at, m) = cheapest(job, order, kind);
    order.insert(at, m);
    added
}

/// Where one more part adds least to an order: what it adds, the place, the move.
pub(super) fn cheapest(job: &Job, order: &[u32], kind: u32) -> (f64, usize, u32) {
    let len = job.kinds[kind as usize].len;
    let mut best = (f64::INFINITY, 0, job.first[kind as usize] as u32);
    for at in (0..=order.len()).rev() {
        let before = at.checked_sub(1).map(|i| job.moves[order[i] as usize].exit);
        let after = order.get(at).map(|&m| job.moves[m as usize].enter);
        let old = match (before, after) {
            (Some(u), Some(v)) => job.joint(u, v),
            _ => 0.0,
        };
        for m in job.first[kind as usize]..job.first[kind as usize + 1] {
            let mv = job.moves[m];
            let added = len
                + before.map_or(0.0, |u| job.joint(u, mv.enter))
                + after.map_or(0.0, |v| job.joint(mv.exit, v))
                - old;
            if added < best.0 - 1e-12 {
                best = (added, at, m as u32);
            }
        }
    }
    best
}
