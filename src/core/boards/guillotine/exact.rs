//! Small jobs, completely: every set of parts that fits on a board, every way to share them out.
//!
//! For every number of parts of each kind the smallest rectangles that hold them (none longer and wider
//! than another) are made from those of smaller numbers set beside or above each other. That is
//! every guillotine pattern, pushed to the lower left. Boards are then filled from these sets.

use super::super::instance::WORKING;
use super::super::knapsack::Work;
use super::job::{Chosen, Job, Tree};

/// Most sets of parts that are looked at.
const MOST_SETS: usize = 60_000;
/// Most pairs of sets.
const MOST_PAIRS: f64 = 6e6;

#[derive(Clone, Copy, Debug)]
struct Box2 {
    len: f64,
    wid: f64,
    made: Made,
}

#[derive(Clone, Copy, Debug)]
enum Made {
    Part {
        kind: u32,
        lie: u32,
    },
    Pair {
        beside: bool,
        a: (u32, u32),
        b: (u32, u32),
    },
}

/// All sets of parts of a job with their smallest rectangles.
pub(super) struct Sets {
    /// Step of each kind in a set's index.
    step: Vec<usize>,
    qty: Vec<u32>,
    boxes: Vec<Vec<Box2>>,
}

impl Sets {
    /// None if the job is too large for it or the work runs out.
    pub fn new(job: &Job, work: &mut Work, most_work: i64) -> Option<Sets> {
        let qty = job.demand();
        let mut step = Vec::new();
        let (mut count, mut pairs) = (1usize, 1.0);
        for &q in &qty {
            step.push(count);
            count = count
                .checked_mul(q as usize + 1)
                .filter(|&c| c <= MOST_SETS)?;
            pairs *= f64::from(q + 1) * f64::from(q + 2) / 2.0;
        }
        if pairs > MOST_PAIRS {
            return None;
        }
        let mut sets = Sets {
            step,
            qty,
            boxes: vec![Vec::new(); count],
        };
        let until = work.left.saturating_sub(most_work);
        for set in 1..count {
            let front = sets.front(job, set, work);
            sets.boxes[set] = front;
            if work.left < until {
                return None;
            }
        }
        Some(sets)
    }

    fn counts(&self, set: usize) -> Vec<u32> {
        let mut left = set;
        self.qty
            .iter()
            .map(|&q| {
                let n = left % (q as usize + 1);
                left /= q as usize + 1;
                n as u32
            })
            .collect()
    }

    /// The smallest rectangles of one set, from those of the sets before it.
    fn front(&self, job: &Job, set: usize, work: &mut Work) -> Vec<Box2> {
        let counts = self.counts(set);
        let total: u32 = counts.iter().sum();
        let mut front = Vec::new();
        if total == 1 {
            let kind = counts.iter().position(|&n| n == 1).unwrap_or(0);
            for (lie, size) in job.kinds[kind].lies.iter().enumerate() {
                let made = Made::Part {
                    kind: kind as u32,
                    lie: lie as u32,
                };
                add(job, &mut front, (size.len, size.wid), made);
            }
            return front;
        }
        // What does not fit without a part does not fit with it.
        for (k, &n) in counts.iter().enumerate() {
            if n > 0 && self.boxes[set - self.step[k]].is_empty() {
                return front;
            }
        }
        let mut part = vec![0u32; counts.len()];
        let mut a = 0usize;
        loop {
            // The next smaller set.
            let mut k = 0;
            while k < part.len() && part[k] == counts[k] {
                a -= part[k] as usize * self.step[k];
                part[k] = 0;
                k += 1;
            }
            if k == part.len() {
                break;
            }
            part[k] += 1;
            a += self.step[k];
            let b = set - a;
            if a > b || b == 0 {
                continue;
            }
            work.spend(4 + 8 * self.boxes[a].len() * self.boxes[b].len());
            for (i, p) in self.boxes[a].iter().enumerate() {
                for (j, q) in self.boxes[b].iter().enumerate() {
                    let made = |beside| Made::Pair {
                        beside,
                        a: (a as u32, i as u32),
                        b: (b as u32, j as u32),
                    };
                    add(
                        job,
                        &mut front,
                        (p.len + q.len, p.wid.max(q.wid)),
                        made(true),
                    );
                    add(
                        job,
                        &mut front,
                        (p.len.max(q.len), p.wid + q.wid),
                        made(false),
                    );
                }
            }
        }
        front
    }

    fn fits(&self, job: &Job, set: usize, stock: usize) -> bool {
        self.boxes[set]
            .iter()
            .any(|b| job.fits(b.len, b.wid, stock))
    }

    /// The pattern of one rectangle of a set.
    fn tree(&self, job: &Job, set: usize, index: usize) -> Tree {
        let mut tree = Tree {
            nodes: Vec::new(),
            root: 0,
        };
        tree.root = self.grow(job, &mut tree, (set as u32, index as u32));
        tree
    }

    // As deep as the set has parts, and sets are small.
    fn grow(&self, job: &Job, tree: &mut Tree, at: (u32, u32)) -> u32 {
        match self.boxes[at.0 as usize][at.1 as usize].made {
            Made::Part { kind, lie } => tree.part(job, kind, lie),
            Made::Pair { beside, a, b } => {
                let (a, b) = (self.grow(job, tree, a), self.grow(job, tree, b));
                tree.join(beside, a, b)
            }
        }
    }

    /// The largest leftover of a board with this set on it, and which rectangle gives it.
    fn leftover(&self, job: &Job, set: usize, stock: usize) -> Option<(f64, usize)> {
        let mut best: Option<(f64, usize)> = None;
        for (i, b) in self.boxes[set].iter().enumerate() {
            if job.fits(b.len, b.wid, stock) {
                let area = job.leftover(stock, b.len, b.wid);
                if best.is_none_or(|l| area > l.0) {
                    best = Some((area, i));
                }
            }
        }
        best
    }

    /// The set of all parts.
    pub fn all(&self) -> usize {
        self.boxes.len() - 1
    }

    /// Shares all parts out over boards of these kinds, not all of which need be used.
    pub fn share(&self, job: &Job, boards: &[usize], work: &mut Work) -> Shared {
        self.share_rest(job, boards, self.all(), work)
    }

    fn share_rest(&self, job: &Job, boards: &[usize], left: usize, work: &mut Work) -> Shared {
        let mut share = Share {
            sets: self,
            job,
            boards,
            seen: vec![false; boards.len() * self.boxes.len()],
            taken: Vec::new(),
            over: false,
        };
        if share.on(0, left, work) {
            let taken = share.taken;
            let tree = |(at, set): (usize, usize)| {
                let index = self.leftover(job, set, boards[at])?.1;
                Some((boards[at], self.tree(job, set, index)))
            };
            Shared::Yes(taken.into_iter().filter_map(tree).collect())
        } else if share.over {
            Shared::Unknown
        } else {
            Shared::No
        }
    }

    /// With the same boards, all of them used, the plan with the largest single leftover above `best`.
    pub fn largest(&self, job: &Job, boards: &[usize], best: f64, work: &mut Work) -> Shared {
        let mut first: Vec<(f64, usize, usize, usize)> = Vec::new();
        for (at, &stock) in boards.iter().enumerate() {
            if at > 0 && boards[at - 1] == stock {
                continue;
            }
            for set in 1..self.boxes.len() {
                if let Some((area, index)) = self.leftover(job, set, stock)
                    && area > best
                {
                    first.push((area, at, set, index));
                }
            }
        }
        work.spend(20 * first.len());
        crate::num::sort_by(&mut first, |a, b| b.0.total_cmp(&a.0).then(a.2.cmp(&b.2)));
        for (_, at, set, index) in first {
            let mut rest = boards.to_vec();
            let stock = rest.remove(at);
            match self.share_rest(job, &rest, self.all() - set, work) {
                Shared::Yes(mut plan) => {
                    plan.push((stock, self.tree(job, set, index)));
                    return Shared::Yes(plan);
                }
                Shared::No => {}
                Shared::Unknown => return Shared::Unknown,
            }
        }
        Shared::No
    }
}

/// Whether the parts can be shared out, and how.
pub(super) enum Shared {
    Yes(Chosen),
    No,
    Unknown,
}

struct Share<'a> {
    sets: &'a Sets,
    job: &'a Job,
    boards: &'a [usize],
    /// By board and by what is left: has been found to fail.
    seen: Vec<bool>,
    /// Board and set.
    taken: Vec<(usize, usize)>,
    over: bool,
}

impl Share<'_> {
    fn on(&mut self, at: usize, left: usize, work: &mut Work) -> bool {
        if left == 0 {
            return true;
        }
        if at == self.boards.len() || self.over {
            return false;
        }
        let mark = at * self.sets.boxes.len() + left;
        if self.seen[mark] {
            return false;
        }
        self.seen[mark] = true;
        let counts = self.sets.counts(left);
        let mut room = 0.0;
        for &s in &self.boards[at..] {
            room += self.job.stock[s].len * self.job.stock[s].wid;
        }
        let needed: f64 = counts
            .iter()
            .zip(&self.job.kinds)
            .map(|(&n, k)| f64::from(n) * k.area)
            .sum();
        if needed > room * (1.0 + 1e-9) {
            return false;
        }
        for set in self.fillings(at, &counts, work) {
            if work.over() {
                self.over = true;
                return false;
            }
            self.taken.push((at, set));
            if self.on(at + 1, left - set, work) {
                return true;
            }
            self.taken.pop();
        }
        // A board may also stay empty, when a larger one follows.
        self.boards[at + 1..].iter().any(|&s| s != self.boards[at]) && self.on(at + 1, left, work)
    }

    /// Sets that fit on a board with no room for any further part that is left, the fullest first.
    fn fillings(&self, at: usize, counts: &[u32], work: &mut Work) -> Vec<usize> {
        let (sets, stock) = (self.sets, self.boards[at]);
        let mut found: Vec<(f64, usize)> = Vec::new();
        let mut part = vec![0u32; counts.len()];
        let (mut set, mut area) = (0usize, 0.0);
        loop {
            let mut k = 0;
            while k < part.len() && part[k] == counts[k] {
                set -= part[k] as usize * sets.step[k];
                area -= f64::from(part[k]) * self.job.kinds[k].area;
                part[k] = 0;
                k += 1;
            }
            if k == part.len() {
                break;
            }
            part[k] += 1;
            set += sets.step[k];
            area += self.job.kinds[k].area;
            work.spend(4);
            if !sets.fits(self.job, set, stock) {
                continue;
            }
            let full = (0..part.len())
                .all(|i| part[i] == counts[i] || !sets.fits(self.job, set + sets.step[i], stock));
            if full {
                found.push((area, set));
            }
        }
        crate::num::sort_by(&mut found, |a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
        found.into_iter().map(|f| f.1).collect()
    }
}

/// Adds a rectangle to a front if it fits on some board and none there is as small in both directions.
fn add(job: &Job, front: &mut Vec<Box2>, size: (f64, f64), made: Made) {
    let (len, wid) = size;
    if !(0..job.stock.len()).any(|s| job.fits(len, wid, s)) {
        return;
    }
    let tiny = WORKING * 1e-3;
    if front
        .iter()
        .any(|b| b.len <= len + tiny && b.wid <= wid + tiny)
    {
        return;
    }
    front.retain(|b| b.len < len || b.wid < wid);
    front.push(Box2 { len, wid, made });
}
