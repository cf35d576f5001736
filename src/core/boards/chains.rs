//! Pricing of patterns with mitered ends: the chain of parts that is worth most on one board.
//!
//! Labels are chains from the left end of a board: where the last part's right end is, how much of the
//! board they use up, what they are worth, what they hold. A chain is dropped when the bounds of `field`
//! and `knapsack` say that no completion reaches the value asked for, when another chain of the same
//! parts ends at the same point and is no longer, or when one of the strongest chains that end there is
//! no longer and worth at least as much even without the parts that it holds in excess (leaving parts
//! out of a completion keeps it feasible).

use super::field::Field;
use super::instance::WORKING;
use super::job::{Bin, Job};
use super::knapsack::{Grid, Table, Work};

#[derive(Clone, Copy, Debug)]
struct Label {
    /// Use of the board in additive lengths, the start included.
    used: f64,
    reach: f64,
    value: f64,
    /// What its parts count for in the bound.
    eased: f64,
    /// Sum of one random number a part: equal for equal sets.
    set: u64,
    parent: u32,
    step: u32,
    exit: u16,
    alive: bool,
}

const NONE: u32 = u32::MAX;
const BUCKETS: usize = 512;
/// Chains that a new one is compared with at each point.
const STRONG: usize = 24;

/// What one search for chains found.
pub(super) struct Chains {
    /// Chains that are worth more than was asked for, the last few of each bin, the best last.
    pub chains: Vec<Vec<u32>>,
    /// Worth of the best chain per bin (or what was asked for).
    pub best: Vec<f64>,
    /// True if no chain worth more than the best (or than was asked for) has been overlooked.
    pub complete: bool,
    /// Labels made.
    pub labels: usize,
}

/// Scratch memory that is kept from one search to the next.
#[derive(Default)]
pub(super) struct Chainer {
    labels: Vec<Label>,
    counts: Vec<u16>,
    buckets: Vec<Vec<u32>>,
    /// By point, the strongest labels, strongest first.
    strong: Vec<Vec<(f64, u32)>>,
    /// Open addressing from (set, exit) to a label.
    seen: Vec<u32>,
    /// By bucket and item: how many more of it could follow a chain that reaches into the bucket.
    follow: Vec<u16>,
}

/// What to search for: the value to beat in each bin, and how many labels may be made.
pub(super) struct Quest<'a> {
    pub bins: &'a [Bin],
    pub above: &'a [f64],
    pub labels: usize,
}

impl Chainer {
    /// Searches over the kinds and values of `table`, which with `field` bounds the completions.
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
        let mut best: Vec<f64> = quest.above.to_vec();
        let mut winners: Vec<Vec<u32>> = vec![Vec::new(); quest.bins.len()];
        // Moves of the kinds that count, with the kind's place in the table.
        let steps: Vec<(u32, usize)> = table
            .items
            .iter()
            .enumerate()
            .flat_map(|(j, &k)| {
                (job.first[k as usize]..job.first[k as usize + 1]).map(move |s| (s as u32, j))
            })
            .collect();
        let limit = quest.bins.iter().map(|b| b.room).fold(0.0, f64::max) + WORKING;
        let room = limit + 2.0 * job.most;
        let scale = BUCKETS as f64 / room.max(1e-12);
        // How strong a label is: worth against what its use of the board could hold.
        let rate = table.upper(grid, room) / room.max(1e-12);
        self.clear(job, table, room, scale, quest.labels);
        let mut frontier: Vec<u32> = vec![NONE];
        let mut bucket = 0;
        let mut spent = 0usize;
        let mut complete = true;
        loop {
            let Some(label) = frontier.pop() else {
                if bucket > BUCKETS {
                    break;
                }
                if self.buckets[bucket].is_empty() {
                    bucket += 1;
                    continue;
                }
                frontier = core::mem::take(&mut self.buckets[bucket]);
                let labels = &self.labels;
                crate::num::sort_by(&mut frontier, |&a, &b| {
                    labels[b as usize]
                        .used
                        .total_cmp(&labels[a as usize].used)
                        .then(b.cmp(&a))
                });
                continue;
            };
            // The empty chain stands for the board's left end.
            let (from, value, eased, exit, set) = if label == NONE {
                (0.0, 0.0, 0.0, None, 0)
            } else {
                let l = self.labels[label as usize];
                if !l.alive {
                    continue;
                }
                (l.reach, l.value, l.eased, Some(l.exit), l.set)
            };
            spent += steps.len();
            for &(s, j) in &steps {
                let held = if label == NONE {
                    0
                } else {
                    self.counts[label as usize * m + j]
                };
                if u32::from(held) >= table.qty[j] {
                    continue;
                }
                let mv = job.moves[s as usize];
                let reach = from
                    + job.kinds[mv.kind as usize].len
                    + exit.map_or(0.0, |e| job.joint(e, mv.enter));
                if reach > limit {
                    continue;
                }
                let worth = value + table.value[j];
                let eased = eased + field.eased(table, j);
                let point = job.points[mv.exit as usize];
                let used = reach + point.half + job.most;
                let mut promising = false;
                for (b, bin) in quest.bins.iter().enumerate() {
                    let tail = if bin.tail { point.kerf } else { 0.0 };
                    if worth > best[b] && reach + tail <= bin.room + WORKING {
                        best[b] = worth;
                        winners[b].push(self.labels.len() as u32);
                        promising = true;
                    } else if !promising {
                        // What follows joins on here and ends at some other point.
                        let rest = job.capacity(*bin) - used;
                        promising = rest >= 0.0
                            && field.reach(eased, mv.exit as usize, rest) > best[b]
                            && worth + table.upper(grid, rest) > best[b];
                    }
                }
                if !promising {
                    continue;
                }
                let id = self.labels.len();
                let new = Label {
                    used,
                    reach,
                    value: worth,
                    eased,
                    set: set.wrapping_add(mixed(j as u64 + 1)),
                    parent: label,
                    step: s,
                    exit: mv.exit,
                    alive: true,
                };
                self.labels.push(new);
                if label == NONE {
                    self.counts.resize((id + 1) * m, 0);
                } else {
                    let p = label as usize * m;
                    self.counts.extend_from_within(p..p + m);
                }
                self.counts[id * m + j] += 1;
                let wins = winners.iter().any(|w| w.last() == Some(&(id as u32)));
                if id + 1 >= quest.labels {
                    complete = false;
                    return self.finish(best, &winners, complete, spent, work);
                }
                let strength = worth - rate * used;
                if !self.known(id) && !self.dominated(id, m, table, scale, strength, &mut spent) {
                    let at = ((used * scale) as usize).min(BUCKETS).max(bucket);
                    self.buckets[at].push(id as u32);
                } else if !wins {
                    self.forget(id, m);
                }
            }
        }
        self.finish(best, &winners, complete, spent, work)
    }

    fn clear(&mut self, job: &Job, table: &Table, room: f64, scale: f64, labels: usize) {
        self.labels.clear();
        self.counts.clear();
        self.buckets.iter_mut().for_each(Vec::clear);
        self.buckets.resize(BUCKETS + 1, Vec::new());
        self.strong.iter_mut().for_each(Vec::clear);
        self.strong.resize(job.points.len(), Vec::new());
        self.seen.clear();
        self.seen
            .resize((labels * 2).next_power_of_two().max(64), NONE);
        self.follow.clear();
        for b in 0..=BUCKETS {
            let rest = room - b as f64 / scale;
            self.follow
                .extend(table.items.iter().zip(&table.qty).map(|(&i, &q)| {
                    let each = job.kinds[i as usize].use_len.max(1e-12);
                    crate::num::floor((rest / each).max(0.0)).min(f64::from(q)) as u16
                }));
        }
    }

    /// Whether a chain of the same parts that ends at the same point is no longer; a longer one that
    /// was known gives way.
    fn known(&mut self, id: usize) -> bool {
        let new = self.labels[id];
        let mask = self.seen.len() - 1;
        let mut at = (new.set ^ mixed(u64::from(new.exit) + 977)) as usize & mask;
        loop {
            let old = self.seen[at];
            if old == NONE {
                self.seen[at] = id as u32;
                return false;
            }
            let l = &mut self.labels[old as usize];
            if l.set == new.set && l.exit == new.exit {
                if l.used <= new.used {
                    return true;
                }
                l.alive = false;
                self.seen[at] = id as u32;
                return false;
            }
            at = (at + 1) & mask;
        }
    }

    /// Takes the newest label out again.
    fn forget(&mut self, id: usize, m: usize) {
        let new = self.labels[id];
        let mask = self.seen.len() - 1;
        let mut at = (new.set ^ mixed(u64::from(new.exit) + 977)) as usize & mask;
        while self.seen[at] != NONE {
            if self.seen[at] == id as u32 {
                // It stays known, as a label that leads nowhere, so that it is not made again.
                self.labels[id].alive = false;
                return;
            }
            at = (at + 1) & mask;
        }
        self.labels.pop();
        self.counts.truncate(id * m);
    }

    #[allow(clippy::too_many_arguments)]
    fn dominated(
        &mut self,
        id: usize,
        m: usize,
        table: &Table,
        scale: f64,
        strength: f64,
        spent: &mut usize,
    ) -> bool {
        let new = self.labels[id];
        let mine = &self.counts[id * m..(id + 1) * m];
        let at = ((new.used * scale) as usize).min(BUCKETS) * m;
        let follow = &self.follow[at..at + m];
        let rivals = &mut self.strong[new.exit as usize];
        *spent += 2;
        for &(s, r) in rivals.iter() {
            if s < strength {
                break;
            }
            *spent += 1;
            let old = &self.labels[r as usize];
            if old.used <= new.used && old.value >= new.value {
                *spent += m / 2;
                let theirs = &self.counts[r as usize * m..(r as usize + 1) * m];
                if old.value - excess(theirs, mine, table, follow) >= new.value {
                    return true;
                }
            }
        }
        if rivals.len() < STRONG || rivals[STRONG - 1].0 < strength {
            let place = rivals.partition_point(|r| r.0 >= strength);
            rivals.truncate(STRONG - 1);
            rivals.insert(place, (strength, id as u32));
        }
        false
    }

    fn finish(
        &self,
        best: Vec<f64>,
        winners: &[Vec<u32>],
        complete: bool,
        spent: usize,
        work: &mut Work,
    ) -> Chains {
        work.spend(spent * 6 + self.labels.len() * 60 + self.seen.len() + 2000);
        let chains = winners
            .iter()
            .flat_map(|w| w[w.len().saturating_sub(4)..].iter())
            .map(|&w| self.chain(w))
            .collect();
        Chains {
            chains,
            best,
            complete,
            labels: self.labels.len(),
        }
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

/// A number that looks random (the last step of SplitMix64).
pub(super) fn mixed(n: u64) -> u64 {
    let mut z = n.wrapping_mul(0x9E37_79B9_7F4A_7C15);
    z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
    z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
    z ^ (z >> 31)
}
