//! First plans: boards filled one after another, the longest part that still fits first.

use super::super::budget::Budget;
use super::super::outcome::WORKING;
use super::joints;
use super::model::{Bin, Lot, Model, Pattern};
use offsquare_units::num;

/// A board chosen for a pattern: index of the bin, and what is cut from it.
pub type Taken = (usize, Pattern);

/// Fills one bin with what is wanted, longest first; nothing if not even one part fits.
pub fn fill(
    model: &Model,
    bin: Bin,
    want: &[u32],
    order: &[u32],
    budget: &mut Budget,
) -> Option<Pattern> {
    if !model.mitered {
        let mut room = model.capacity(bin);
        let mut counts = Vec::new();
        for &k in order {
            let kind = &model.kinds[k as usize];
            let want = want[k as usize];
            if want == 0 || kind.use_len > room {
                continue;
            }
            let n = (num::floor(room / kind.use_len.max(1e-12)) as u32).min(want);
            if n > 0 {
                room -= kind.use_len * f64::from(n);
                counts.push((k, n));
            }
        }
        budget.spend(order.len() * 2);
        num::sort_by(&mut counts, Ord::cmp);
        return (!counts.is_empty()).then(|| model.square_pattern(counts));
    }
    let limit = bin.room + WORKING;
    let mut sequence: Vec<u32> = Vec::new();
    let mut extent = 0.0;
    for &k in order {
        let kind = &model.kinds[k as usize];
        for _ in 0..want[k as usize] {
            let least = model.capacity(bin) - extent + 2.0 * kind.use_len;
            if kind.use_len > least {
                break;
            }
            let (added, at, m) = joints::cheapest(model, &sequence, k);
            budget.spend(sequence.len() * 12 + 20);
            sequence.insert(at, m);
            let reach = extent + added;
            if reach > limit || (bin.tail && model.pattern_of(sequence.clone()).tailed > limit) {
                sequence.remove(at);
                break;
            }
            extent = reach;
        }
    }
    (!sequence.is_empty()).then(|| model.pattern_of(sequence))
}

/// A whole plan from the boards at hand: each step takes the board that costs least for what it holds, or
/// the cheapest that holds everything left. None if the boards run out.
pub fn plan(model: &Model, lot: Lot, order: &[u32], budget: &mut Budget) -> Option<Vec<Taken>> {
    let (bins, cost) = (lot.bins, lot.cost);
    let (mut want, mut have) = (lot.want.to_vec(), lot.have.to_vec());
    let mut chosen = Vec::new();
    while want.iter().any(|&w| w > 0) {
        let left: u64 = want.iter().map(|&w| u64::from(w)).sum();
        let mut best: Option<(bool, f64, f64, usize, Pattern)> = None;
        for (b, &bin) in bins.iter().enumerate() {
            if have[b] == 0 {
                continue;
            }
            let Some(p) = fill(model, bin, &want, order, budget) else {
                continue;
            };
            let held: u64 = p.counts.iter().map(|c| u64::from(c.1)).sum();
            let used: f64 =
                p.counts.iter().map(|&(k, n)| model.kinds[k as usize].use_len * f64::from(n)).sum();
            let all = held == left;
            // Price for each unit of length held; the last board is judged by its price alone.
            let rate = if all { cost[b] } else { cost[b] / used.max(1e-12) };
            let better = best.as_ref().is_none_or(|t| match (all, t.0) {
                (true, true) => (rate, bin.room) < (t.1, t.2),
                (true, false) => cost[b] <= cost[t.3],
                (false, true) => cost[b] < cost[t.3] * 0.5,
                (false, false) => (rate, -bin.room) < (t.1, -t.2),
            });
            if better {
                let key = if all { bin.room } else { -bin.room };
                best = Some((all, rate, key.abs(), b, p));
            }
        }
        let (_, _, _, b, p) = best?;
        // Repeat the same pattern as often as possible.
        loop {
            for &(k, n) in &p.counts {
                want[k as usize] -= n;
            }
            have[b] -= 1;
            chosen.push((b, p.clone()));
            if have[b] == 0 || p.counts.iter().any(|&(k, n)| want[k as usize] < n) {
                break;
            }
        }
        if budget.over() {
            return None;
        }
    }
    Some(chosen)
}
