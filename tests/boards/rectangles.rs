//! A naive planner of strips and sheets for a few pieces, and seeded jobs.
//!
//! It shares nothing with the planner: pieces are shared out over boards in every way, and a piece of
//! board is cut in every direction at every sum of sizes.

use crate::jobs::Dice;
use offsquare_planner::guillotine::{
    BoardKind, CutKind, Grain, Instance, PartKind, Plan, PlanAnswer, Planner, verify_plan,
};

const TINY: f64 = 1e-9;

/// A single part: length, width, may turn.
#[derive(Clone, Copy, Debug)]
struct Single(f64, f64, bool);

impl Single {
    fn lies(&self) -> Vec<(f64, f64)> {
        if self.2 { vec![(self.0, self.1), (self.1, self.0)] } else { vec![(self.0, self.1)] }
    }
}

/// Every sum of some of the sizes with a kerf between each two.
fn sums(parts: &[Single], along: bool, kerf: f64) -> Vec<f64> {
    let mut all: Vec<f64> = Vec::new();
    for part in parts {
        let sizes = part.lies().into_iter().map(|l| if along { l.0 } else { l.1 });
        let more: Vec<f64> = sizes
            .flat_map(|s| all.iter().map(move |a| a + kerf + s).chain([s]).collect::<Vec<f64>>())
            .collect();
        all.extend(more);
    }
    all.sort_by(f64::total_cmp);
    all.dedup();
    all
}

/// Whether all parts can be cut from a piece of this size.
fn cut(parts: &[Single], size: (f64, f64), kerf: f64, rip: f64) -> bool {
    let (x, y) = size;
    if parts.is_empty() {
        return true;
    }
    if let [one] = parts {
        return one.lies().iter().any(|l| l.0 <= x + TINY && l.1 <= y + TINY);
    }
    if parts.iter().map(|p| p.0 * p.1).sum::<f64>() > x * y + TINY {
        return false;
    }
    // The first part is always on one named side: the other way round is the same cut mirrored.
    for pick in 0..(1u32 << (parts.len() - 1)) - 1 {
        let (mut a, mut b) = (vec![parts[0]], Vec::new());
        for (i, p) in parts[1..].iter().enumerate() {
            if pick >> i & 1 == 1 { a.push(*p) } else { b.push(*p) }
        }
        for c in sums(&a, true, kerf) {
            if c <= x + TINY && cut(&a, (c, y), kerf, rip) && cut(&b, (x - c - kerf, y), kerf, rip)
            {
                return true;
            }
        }
        for c in sums(&a, false, rip) {
            if c <= y + TINY && cut(&a, (x, c), kerf, rip) && cut(&b, (x, y - c - rip), kerf, rip) {
                return true;
            }
        }
    }
    false
}

/// Price, number of boards and area of the largest leftover of the best plan.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Best {
    pub price: f64,
    pub boards: usize,
    pub leftover: f64,
}

/// The best plan by trying everything; none if there is no plan.
pub fn naive(job: &Instance) -> Option<Best> {
    best_of(job, &|parts, board| leftover(job, parts, board))
}

/// The least price of plain plans (no part may turn): strips of one width over the whole length.
pub fn naive_plain(job: &Instance) -> Option<f64> {
    let fits = |parts: &[Single], board: usize| {
        let b = &job.boards[board];
        let (long, wide) = (b.length - 2.0 * job.trim, b.width - 2.0 * job.edge_trim);
        let mut need = -job.rip_kerf;
        let mut left = parts.to_vec();
        while let Some(first) = left.first().copied() {
            let (strip, other) = left.iter().partition(|p| p.1 == first.1);
            let lengths: Vec<f64> = (strip as Vec<Single>).iter().map(|p| p.0).collect();
            need +=
                strips(&lengths, &mut Vec::new(), long, job.kerf) as f64 * (first.1 + job.rip_kerf);
            left = other;
        }
        (need <= wide + TINY && parts.iter().all(|p| p.0 <= long + TINY)).then_some(0.0)
    };
    best_of(job, &fits).map(|b| b.price)
}

/// The fewest strips for these lengths, trying everything.
fn strips(left: &[f64], used: &mut Vec<f64>, long: f64, kerf: f64) -> usize {
    let Some((first, rest)) = left.split_first() else {
        return used.len();
    };
    let mut fewest = usize::MAX;
    for at in 0..used.len() {
        let before = used[at];
        used[at] += kerf + first;
        if used[at] <= long + TINY {
            fewest = fewest.min(strips(rest, used, long, kerf));
        }
        used[at] = before;
    }
    used.push(*first);
    fewest = fewest.min(strips(rest, used, long, kerf));
    used.pop();
    fewest
}

/// What is left over of a board with these parts; none if they do not fit.
type Fits<'a> = &'a dyn Fn(&[Single], usize) -> Option<f64>;

fn best_of(job: &Instance, fits: Fits) -> Option<Best> {
    let mut parts = Vec::new();
    for p in &job.parts {
        for _ in 0..p.qty {
            parts.push(Single(p.length, p.width, p.grain == Grain::Free));
        }
    }
    let mut best = None;
    share(job, fits, &parts, &mut Vec::new(), &mut best);
    best
}

/// Puts the first part into each group, or into a new one, and so on.
fn share(
    job: &Instance,
    fits: Fits,
    left: &[Single],
    groups: &mut Vec<Vec<Single>>,
    best: &mut Option<Best>,
) {
    let Some((first, rest)) = left.split_first() else {
        // For each group and kind of board: the largest leftover, if it fits.
        let table: Vec<Vec<Option<f64>>> =
            groups.iter().map(|g| (0..job.boards.len()).map(|b| fits(g, b)).collect()).collect();
        let mut used = vec![0u64; job.boards.len()];
        choose(job, &table, &mut used, 0.0, 0.0, best);
        return;
    };
    for at in 0..groups.len() {
        groups[at].push(*first);
        share(job, fits, rest, groups, best);
        groups[at].pop();
    }
    groups.push(vec![*first]);
    share(job, fits, rest, groups, best);
    groups.pop();
}

fn choose(
    job: &Instance,
    table: &[Vec<Option<f64>>],
    used: &mut Vec<u64>,
    price: f64,
    leftover: f64,
    best: &mut Option<Best>,
) {
    let done = used.iter().sum::<u64>() as usize;
    let Some(row) = table.get(done) else {
        let now = Best { price, boards: done, leftover };
        let better = best.is_none_or(|b| {
            price < b.price - 1e-6
                || (price < b.price + 1e-6
                    && (done < b.boards || (done == b.boards && leftover > b.leftover)))
        });
        if better {
            *best = Some(now);
        }
        return;
    };
    for (b, board) in job.boards.iter().enumerate() {
        if let Some(left) = row[b]
            && board.limit.is_none_or(|l| used[b] < l)
        {
            used[b] += 1;
            choose(job, table, used, price + board.price, leftover.max(left), best);
            used[b] -= 1;
        }
    }
}

/// The largest leftover of one board with these parts; none if they do not fit.
fn leftover(job: &Instance, parts: &[Single], board: usize) -> Option<f64> {
    let b = &job.boards[board];
    let (x, y) = (b.length - 2.0 * job.trim, b.width - 2.0 * job.edge_trim);
    let fits = |x: f64, y: f64| cut(parts, (x, y), job.kerf, job.rip_kerf);
    if !fits(x, y) {
        return None;
    }
    let short = sums(parts, true, job.kerf).into_iter().find(|&c| fits(c.min(x), y));
    let narrow = sums(parts, false, job.rip_kerf).into_iter().find(|&c| fits(x, c.min(y)));
    let end = (b.length - job.trim - short.unwrap_or(x).min(x) - job.kerf).max(0.0) * b.width;
    let strip =
        (b.width - job.edge_trim - narrow.unwrap_or(y).min(y) - job.rip_kerf).max(0.0) * b.length;
    Some(end.max(strip))
}

/// The answer after the whole search; a plan has passed the verifier.
pub fn planned(job: &Instance) -> Option<Plan> {
    planned_within(job, i64::MAX / 4)
}

/// The answer after about so many steps.
pub fn planned_within(job: &Instance, steps: i64) -> Option<Plan> {
    let mut planner = Planner::new(job.clone());
    while planner.spent() < steps && !planner.step(steps - planner.spent()).done {}
    match planner.answer() {
        PlanAnswer::Plan(plan) => {
            verify_plan(job, &plan).expect("a sound plan");
            Some(plan)
        }
        PlanAnswer::Infeasible { .. } | PlanAnswer::Open => None,
        PlanAnswer::Invalid(flaws) => panic!("{flaws:?}"),
    }
}

/// A small job: few pieces, one to three kinds of boards, sizes that often just fit or just do not.
pub fn small(cut: CutKind, seed: u64, most: u64) -> Instance {
    let mut dice = Dice(seed.wrapping_mul(0x2545_F491_4F6C_DD1D) ^ 0x5712);
    let kerf = [0.0, 0.125, 0.25][dice.between(0, 2) as usize];
    let rip_kerf = if dice.chance(0.7) { kerf } else { 0.1 };
    let trim = [0.0, 0.0, 0.5][dice.between(0, 2) as usize];
    let edge_trim = [0.0, 0.0, 0.25][dice.between(0, 2) as usize];
    let mut boards = Vec::new();
    for i in 0..dice.between(1, 3) {
        let length = dice.between(8, 24) as f64;
        let width = match cut {
            CutKind::Strips => dice.between(3, 8),
            CutKind::Sheets => dice.between(8, 20),
        } as f64;
        let price = (length * width * (3 + dice.between(0, 3)) as f64).round() / 8.0;
        let id = format!("b{i}");
        boards.push(match dice.between(0, 4) {
            0 => BoardKind::owned(&id, length, width, dice.between(1, 2)),
            1 => BoardKind {
                limit: Some(dice.between(1, 3)),
                ..BoardKind::unlimited(&id, length, width, price)
            },
            _ => BoardKind::unlimited(&id, length, width, price),
        });
    }
    let mut parts = Vec::new();
    let mut left = dice.between(1, most);
    while left > 0 {
        let qty = dice.between(1, left.min(2));
        left -= qty;
        // Shares of a board less kerfs: they fit exactly, or one time too few.
        let of = |dice: &mut Dice, whole: f64, kerf: f64, trim: f64| {
            let shares = dice.between(1, 4) as f64;
            let size = (whole - 2.0 * trim - (shares - 1.0) * kerf) / shares;
            let off = [0.0, 0.0, 0.0, 0.0625, -0.5][dice.between(0, 4) as usize];
            (size + off).max(0.5)
        };
        let b = dice.between(0, boards.len() as u64 - 1) as usize;
        let length = of(&mut dice, boards[b].length, kerf, trim);
        let width = of(&mut dice, boards[b].width, rip_kerf, edge_trim);
        let id = format!("p{}", parts.len());
        let free = cut == CutKind::Sheets && dice.chance(0.5);
        let (l, w) = if free && dice.chance(0.5) { (width, length) } else { (length, width) };
        parts.push(if free {
            PartKind::free(&id, qty, l, w)
        } else {
            PartKind::along(&id, qty, l, w)
        });
    }
    Instance { cut, kerf, rip_kerf, trim, edge_trim, boards, parts }
}

/// Compares the planner with the naive one on small jobs.
pub fn compare(cut: CutKind, seeds: core::ops::Range<u64>, most: u64) -> (usize, usize) {
    let (mut plans, mut none) = (0, 0);
    for seed in seeds {
        let job = small(cut, seed, most);
        let (plan, best) = (planned(&job), naive(&job));
        let (Some(plan), Some(best)) = (&plan, best) else {
            assert_eq!(plan.is_some(), best.is_some(), "seed {seed}: {job:?}");
            none += 1;
            continue;
        };
        plans += 1;
        assert!(plan.proven && plan.proven_all, "seed {seed}: not proven");
        let is = (plan.price, plan.boards.len());
        assert!(
            (is.0 - best.price).abs() < 1e-6 && is.1 == best.boards,
            "seed {seed}: {is:?}, naive {best:?}: {job:?}"
        );
        let area = plan.leftover.map_or(0.0, |l| l.1.area());
        assert!(
            (area - best.leftover).abs() < 1e-6,
            "seed {seed}: leftover {area}, naive {}: {job:?}",
            best.leftover
        );
    }
    (plans, none)
}
