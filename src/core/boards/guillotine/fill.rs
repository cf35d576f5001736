//! Boards filled one at a time with what is worth most: staged patterns (`staged`), or orders of the parts and rules of `corner`.

use super::super::knapsack::Work;
use super::corner::{self, Bin, Choose, RULES, Rule, Split};
use super::job::{Chosen, Job};
use super::pack::{Dice, ORDERS, order};
use super::staged;

/// Fills boards one at a time, each with what is worth most of what is left; then the values of parts that
/// ended on poorly filled boards are raised (sequential value correction; Mukhacheva and others, 2000;
/// from memory) by the caller's `value`.
pub(super) fn fill(
    job: &Job,
    boards: &[usize],
    value: &mut [f64],
    dice: &mut Dice,
    work: &mut Work,
) -> Option<Chosen> {
    let mut left = job.demand();
    let mut plan: Chosen = Vec::new();
    let mut filled: Vec<(Vec<u32>, f64)> = Vec::new();
    for (at, &stock) in boards.iter().enumerate() {
        if left.iter().all(|&n| n == 0) {
            break;
        }
        let best = best_bin(job, stock, &left, value, dice, work);
        let Some((_, bin)) = best else { continue };
        if bin.parts > 0 {
            note(job, stock, &bin, &mut left, &mut filled);
            if let Some(tree) = bin.closed() {
                plan.push((stock, tree));
            }
        }
        if work.over() && at > 0 {
            break;
        }
    }
    let missing = left.iter().any(|&n| n > 0);
    filled.push((left, 1.5));
    revalue(job, &filled, value, dice);
    (!missing).then_some(plan)
}

/// One board filled with what is worth most of what is left: its worth, and the board.
fn best_bin(
    job: &Job,
    stock: usize,
    left: &[u32],
    value: &[f64],
    dice: &mut Dice,
    work: &mut Work,
) -> Option<(f64, Bin)> {
    let mut best: Option<(f64, Bin)> = None;
    let mut keep = |bin: Bin| {
        let w = bin.worth(job, value);
        if best.as_ref().is_none_or(|b| w > b.0) {
            best = Some((w, bin));
        }
    };
    // What staged patterns give, and what else goes into their gaps.
    if let Some((_, bin)) = staged::best(job, stock, value, left, work) {
        let counts = bin.tree.counts(left.len());
        let rest: Vec<u32> = left.iter().zip(counts).map(|(l, n)| l - n).collect();
        keep(topped_up(job, bin, &rest, value, work));
    }
    let mut tries = 0;
    for by in 0..ORDERS + 1 {
        let mut list = if by == ORDERS {
            by_value(job, value, left)
        } else {
            order(job, by, left)
        };
        for turn in 0..3 {
            if turn > 0 {
                // A few parts come earlier.
                for _ in 0..turn {
                    let from = dice.below(list.len());
                    let to = dice.below(from + 1);
                    list[to..=from].rotate_right(1);
                }
            }
            for rule in RULES {
                if matches!(rule.choose, Choose::First) && rule.split != Split::Large {
                    continue;
                }
                tries += 1;
                if tries > 40 && list.len() > 60 {
                    break;
                }
                let bin = [Bin::new(job, stock)];
                keep(filled_up(job, bin, &list, rule, work));
            }
        }
    }
    best
}

/// Takes what lies on a board off the parts that are left, and notes how well it is filled.
fn note(job: &Job, stock: usize, bin: &Bin, left: &mut [u32], filled: &mut Vec<(Vec<u32>, f64)>) {
    let counts = bin.tree.counts(job.kinds.len());
    let mut area = 0.0;
    for ((l, &n), kind) in left.iter_mut().zip(&counts).zip(&job.kinds) {
        area += f64::from(n) * kind.area;
        *l -= n;
    }
    let s = &job.stock[stock];
    filled.push((counts, s.len * s.wid / area.max(1e-300)));
}

/// New values: what a part's share of its boards comes to.
fn revalue(job: &Job, filled: &[(Vec<u32>, f64)], value: &mut [f64], dice: &mut Dice) {
    for (k, kind) in job.kinds.iter().enumerate() {
        let (mut sum, mut n) = (0.0, 0.0);
        for (counts, waste) in filled {
            let c = f64::from(counts[k]);
            sum += c * waste;
            n += c;
        }
        if n > 0.0 {
            let waste = (sum / n).min(3.0);
            let blend = 0.5 + 0.05 * dice.below(9) as f64;
            let target = kind.area * (1.0 + (waste - 1.0) * 0.8) * area_bonus(job, kind.area);
            value[k] = blend * value[k] + (1.0 - blend) * target;
        }
    }
}

/// Large parts are worth a little more than their area, since they go nowhere else.
pub(super) fn area_bonus(job: &Job, area: f64) -> f64 {
    let board = job.stock.first().map_or(1.0, |s| s.len * s.wid);
    1.0 + 0.15 * area / board
}

fn by_value(job: &Job, value: &[f64], left: &[u32]) -> Vec<u32> {
    let mut kinds: Vec<u32> = (0..job.kinds.len() as u32).collect();
    let rate = |k: u32| value[k as usize] / job.kinds[k as usize].area;
    crate::num::sort_by(&mut kinds, |&a, &b| {
        rate(b).total_cmp(&rate(a)).then(a.cmp(&b))
    });
    let mut order = Vec::new();
    for k in kinds {
        order.extend(core::iter::repeat_n(k, left[k as usize] as usize));
    }
    order
}

fn filled_up(job: &Job, bin: [Bin; 1], order: &[u32], rule: Rule, work: &mut Work) -> Bin {
    let mut bins = bin;
    let mut failed = u32::MAX;
    for &kind in order {
        // Free places only shrink: a kind that found none finds none now.
        if kind != failed && corner::put(job, &mut bins, kind, rule, work).is_none() {
            failed = kind;
        }
    }
    let [bin] = bins;
    bin
}

pub(super) fn topped_up(job: &Job, bin: Bin, left: &[u32], value: &[f64], work: &mut Work) -> Bin {
    let mut kinds: Vec<u32> = (0..left.len() as u32)
        .filter(|&k| left[k as usize] > 0)
        .collect();
    crate::num::sort_by(&mut kinds, |&a, &b| {
        value[b as usize]
            .total_cmp(&value[a as usize])
            .then(a.cmp(&b))
    });
    let mut order = Vec::new();
    for k in kinds {
        order.extend(core::iter::repeat_n(k, left[k as usize] as usize));
    }
    let rule = Rule {
        choose: Choose::Tight,
        split: Split::Large,
    };
    filled_up(job, [bin], &order, rule, work)
}
