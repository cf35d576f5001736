//! Boards filled one at a time with what is worth most: what the dynamic programme says (`worth`), or
//! orders of the parts and rules of `corner`.

use super::super::knapsack::Work;
use super::bounds::Pricer;
use super::corner::{self, Bin, Choose, RULES, Rule, Split};
use super::job::{Chosen, Job};
use super::pack::{Dice, ORDERS, order};

/// Fills boards one at a time, each with what is worth most of what is left; then the values of parts that
/// ended on poorly filled boards are raised (sequential value correction; Mukhacheva and others, 2000;
/// from memory) by the caller's `value`.
pub(super) fn fill(
    job: &Job,
    pricer: &mut Option<Pricer>,
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
        let best = best_bin(job, pricer, stock, &left, value, dice, work);
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
    pricer: &mut Option<Pricer>,
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
    // What the dynamic programme says, and what else goes into its gaps.
    if let Some(pricer) = pricer.as_mut()
        && pricer.worths[stock].effort() < 3_000_000
    {
        let mut now = value.to_vec();
        for _ in 0..3 {
            for (v, &n) in now.iter_mut().zip(left) {
                if n == 0 {
                    *v = 0.0;
                }
            }
            let counts = pricer.worths[stock].most(&now, work).1;
            let mut rest = left.to_vec();
            let Some(bin) = pricer.worths[stock].bin(job, stock, &mut rest) else {
                break;
            };
            keep(topped_up(job, bin, &rest, value, work));
            // Parts that were taken more often than there are look less good next time.
            let mut over = false;
            for ((v, &n), &have) in now.iter_mut().zip(&counts).zip(left) {
                if n > have {
                    *v *= (0.3 + 0.7 * f64::from(have) / f64::from(n)).min(0.97);
                    over = true;
                }
            }
            if !over {
                break;
            }
        }
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

/// Fills boards of any kind one at a time, each the one that holds most worth for its price.
pub(super) fn fill_open(
    job: &Job,
    pricer: &mut Option<Pricer>,
    value: &mut [f64],
    dice: &mut Dice,
    work: &mut Work,
) -> Option<Chosen> {
    let mut left = job.demand();
    let mut limit: Vec<u32> = job.stock.iter().map(|s| s.limit).collect();
    let mut plan: Chosen = Vec::new();
    let mut filled: Vec<(Vec<u32>, f64)> = Vec::new();
    while left.iter().any(|&n| n > 0) {
        let mut best: Option<(f64, usize, Bin)> = None;
        for s in 0..limit.len() {
            if limit[s] == 0 || work.over() {
                continue;
            }
            let Some((worth, bin)) = best_bin(job, pricer, s, &left, value, dice, work) else {
                continue;
            };
            let all = bin.parts == left.iter().sum::<u32>();
            // The last board: the cheapest that holds what is left.
            let rate = worth * if all { 1e3 } else { 1.0 } / (job.stock[s].price as f64).max(1e-6);
            if bin.parts > 0 && best.as_ref().is_none_or(|b| rate > b.0) {
                best = Some((rate, s, bin));
            }
        }
        let (_, stock, bin) = best?;
        limit[stock] -= 1;
        note(job, stock, &bin, &mut left, &mut filled);
        plan.push((stock, bin.closed()?));
    }
    revalue(job, &filled, value, dice);
    Some(plan)
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
