//! Pricing of patterns with mitered ends: the chain of parts that is worth most on one board.
//!
//! Labels are chains from the left end of a board: where the last part's right end is, how far the
//! chain reaches, what it is worth, what it holds. A chain is dropped when the knapsack's table says
//! that no completion reaches the value asked for, or when another chain is no longer, ends at a
//! point no worse, and is worth at least as much even without the parts that it holds in excess
//! (leaving parts out of a completion keeps it feasible).

use super::field::Field;
use super::instance::WORKING;
use super::job::{Bin, Job, Pattern};
use super::knapsack::{Grid, Table, Work};

#[derive(Clone, Copy, Debug)]
struct Label {
    reach: f64,
    value: f64,
    parent: u32,
    step: u32,
    exit: u16,
    alive: bool,
}

const NONE: u32 = u32::MAX;
const BUCKETS: usize = 512;

/// What one search for chains found.
pub(super) struct Chains {
    /// The best chain per bin that is worth more than was asked for, if any.
    pub best: Vec<Option<(f64, Vec<u32>)>>,
    /// True if no chain worth more than the best (or than was asked for) has been overlooked.
    pub complete: bool,
}

/// Scratch memory that is kept from one search to the next.
#[derive(Default)]
pub(super) struct Chainer {
    labels: Vec<Label>,
    counts: Vec<u16>,
    buckets: Vec<Vec<u32>>,
    by_exit: Vec<Vec<u32>>,
    /// By bucket and item: how many more of it could follow a chain that reaches into the bucket.
    follow: Vec<u16>,
}

/// What to search for: the value to beat in each bin, quick (one label a bucket and end, counts
/// ignored when labels are compared) or complete, and how many labels may be made.
pub(super) struct Quest<'a> {
    pub bins: &'a [Bin],
    pub above: &'a [f64],
    pub quick: bool,
    pub labels: usize,
}

impl Chainer {
    /// Searches over the kinds and values of `table`, which also bounds the completions.
    pub fn search(
        &mut self,
        job: &Job,
        grid: &Grid,
        table: &Table,
        field: &Field,
        quest: &Quest,
        work: &mut Work,
    ) -> Chains {
        let m = table.items.len();
        let n_points = job.points.len();
        let mut best: Vec<f64> = quest.above.to_vec();
        let mut winner: Vec<u32> = vec![NONE; quest.bins.len()];
        let mut slot = vec![usize::MAX; job.kinds.len()];
        for (j, &i) in table.items.iter().enumerate() {
            slot[i as usize] = j;
        }
        let steps: Vec<u32> = (0..job.moves.len() as u32)
            .filter(|&s| slot[job.moves[s as usize].kind as usize] != usize::MAX)
            .collect();
        let room = quest.bins.iter().map(|b| b.room).fold(0.0, f64::max) + WORKING;
        let scale = BUCKETS as f64 / room.max(1e-12);
        self.labels.clear();
        self.counts.clear();
        self.buckets.iter_mut().for_each(Vec::clear);
        self.buckets.resize(BUCKETS + 1, Vec::new());
        self.by_exit.iter_mut().for_each(Vec::clear);
        self.by_exit.resize(n_points, Vec::new());
        self.follow.clear();
        for b in 0..=BUCKETS {
            let rest = room - (b as f64 / scale) + job.spread;
            self.follow
                .extend(table.items.iter().zip(&table.qty).map(|(&i, &q)| {
                    let each = job.kinds[i as usize].use_len.max(1e-12);
                    crate::num::floor((rest / each).max(0.0)).min(f64::from(q)) as u16
                }));
        }
        let mut complete = true;
        // The empty chain stands for the board's left end.
        let mut frontier: Vec<u32> = vec![NONE];
        let mut bucket = 0;
        let mut spent = 0usize;
        loop {
            let Some(label) = frontier.pop() else {
                if bucket > BUCKETS {
                    break;
                }
                let ids = &mut self.buckets[bucket];
                if ids.is_empty() {
                    bucket += 1;
                    continue;
                }
                frontier = core::mem::take(ids);
                let labels = &self.labels;
                frontier.sort_by(|&a, &b| {
                    labels[b as usize]
                        .reach
                        .total_cmp(&labels[a as usize].reach)
                        .then(b.cmp(&a))
                });
                continue;
            };
            let (from, value, exit) = if label == NONE {
                (0.0, 0.0, None)
            } else {
                let l = self.labels[label as usize];
                if !l.alive {
                    continue;
                }
                (l.reach, l.value, Some(l.exit))
            };
            for &s in &steps {
                let mv = job.moves[s as usize];
                let j = slot[mv.kind as usize];
                let held = if label == NONE {
                    0
                } else {
                    self.counts[label as usize * m + j]
                };
                if u32::from(held) >= table.qty[j] {
                    continue;
                }
                spent += 1;
                let reach = from
                    + job.kinds[mv.kind as usize].len
                    + exit.map_or(0.0, |e| job.joint(e, mv.enter));
                if reach > room {
                    continue;
                }
                let worth = value + table.value[j];
                let point = job.points[mv.exit as usize];
                let mut promising = false;
                for (b, bin) in quest.bins.iter().enumerate() {
                    let tail = if bin.tail { point.kerf } else { 0.0 };
                    let fits = reach + tail <= bin.room + WORKING;
                    if fits && worth > best[b] {
                        best[b] = worth;
                        winner[b] = self.labels.len() as u32;
                        promising = true;
                    } else if !promising {
                        // What follows joins on here and ends at some other point.
                        let rest = job.capacity(*bin) - job.most - reach - point.half;
                        promising = rest >= 0.0
                            && worth + field.follow(mv.exit as usize, rest).max(0.0) > best[b]
                            && worth + table.upper(grid, rest) > best[b];
                    }
                }
                if !promising {
                    continue;
                }
                let id = self.labels.len();
                if id >= quest.labels {
                    complete = false;
                    // Winners must exist as labels even when there is no room for more.
                    for w in &mut winner {
                        if *w == id as u32 {
                            self.push(label, m, j, reach, worth, s, mv.exit);
                        }
                    }
                    return self.finish(best, winner, complete, spent, work);
                }
                self.push(label, m, j, reach, worth, s, mv.exit);
                if winner.contains(&(id as u32))
                    || !self.dominated(id, m, table, quest.quick, scale, &mut spent)
                {
                    let at = ((reach * scale) as usize).min(BUCKETS).max(bucket);
                    self.buckets[at].push(id as u32);
                    self.by_exit[mv.exit as usize].push(id as u32);
                } else {
                    self.labels.pop();
                    self.counts.truncate(id * m);
                }
            }
        }
        if quest.quick {
            complete = false;
        }
        self.finish(best, winner, complete, spent, work)
    }

    #[allow(clippy::too_many_arguments)]
    fn push(
        &mut self,
        parent: u32,
        m: usize,
        j: usize,
        reach: f64,
        value: f64,
        step: u32,
        exit: u16,
    ) {
        let id = self.labels.len();
        self.labels.push(Label {
            reach,
            value,
            parent,
            step,
            exit,
            alive: true,
        });
        if parent == NONE {
            self.counts.resize((id + 1) * m, 0);
        } else {
            let p = parent as usize * m;
            self.counts.extend_from_within(p..p + m);
        }
        self.counts[id * m + j] += 1;
    }

    fn dominated(
        &mut self,
        id: usize,
        m: usize,
        table: &Table,
        quick: bool,
        scale: f64,
        spent: &mut usize,
    ) -> bool {
        let new = self.labels[id];
        let mine = &self.counts[id * m..(id + 1) * m];
        let rivals = &mut self.by_exit[new.exit as usize];
        let mut k = 0;
        while k < rivals.len() {
            let r = rivals[k] as usize;
            let old = self.labels[r];
            *spent += 1;
            let theirs = &self.counts[r * m..(r + 1) * m];
            if old.reach <= new.reach && old.value >= new.value {
                if quick
                    || old.value
                        - excess(
                            theirs,
                            mine,
                            table,
                            &self.follow[bucket(new.reach, scale) * m..],
                        )
                        >= new.value
                {
                    return true;
                }
                *spent += m / 4;
            } else if new.reach <= old.reach
                && new.value >= old.value
                && (quick
                    || new.value
                        - excess(
                            mine,
                            theirs,
                            table,
                            &self.follow[bucket(old.reach, scale) * m..],
                        )
                        >= old.value)
            {
                self.labels[r].alive = false;
                rivals.swap_remove(k);
                continue;
            }
            k += 1;
        }
        false
    }

    fn finish(
        &self,
        best: Vec<f64>,
        winner: Vec<u32>,
        complete: bool,
        spent: usize,
        work: &mut Work,
    ) -> Chains {
        work.spend(spent * 6 + self.labels.len() * 40 + 2000);
        let best = best
            .iter()
            .zip(&winner)
            .map(|(&v, &w)| (w != NONE).then(|| (v, self.chain(w))))
            .collect();
        Chains { best, complete }
    }

    fn chain(&self, mut id: u32) -> Vec<u32> {
        let mut order = Vec::new();
        while id != NONE {
            let l = self.labels[id as usize];
            order.push(l.step);
            id = l.parent;
        }
        order.reverse();
        order
    }
}

/// Worth of the parts by which `a` would fall short of a completion that `b` allows: where `a` holds
/// more than `b`, and so many could follow that the number wanted is passed.
fn excess(a: &[u16], b: &[u16], table: &Table, follow: &[u16]) -> f64 {
    let mut sum = 0.0;
    for (i, (&x, &y)) in a.iter().zip(b).enumerate() {
        if x > y {
            let over = (u32::from(x) + u32::from(follow[i])).saturating_sub(table.qty[i]);
            sum += table.value[i] * f64::from(over.min(u32::from(x - y)));
        }
    }
    sum
}

fn bucket(reach: f64, scale: f64) -> usize {
    ((reach * scale) as usize).min(BUCKETS)
}

/// Patterns of the chains that were found.
pub(super) fn patterns(job: &Job, chains: Chains) -> Vec<Option<Pattern>> {
    chains
        .best
        .into_iter()
        .map(|found| found.map(|(_, order)| job.pattern_of(order)))
        .collect()
}
