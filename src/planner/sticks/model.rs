//! The job as the search sees it: equal parts merged, ends as points, boards as room.
//!
//! **Joints.** Put each end at a *point*: a right end at angle a at the point a, a left end at
//! angle b at the point -b. Two neighbours then share one cut exactly if they meet at one point,
//! and with S(u) = k/cos u and T(u) = w·tan|u| the least distance between them is
//! `D(u, v) = max(S(u), S(v)) - (u, v on one side of square ? min(T(u), T(v)) : 0)`.
//!
//! **Additive part.** With p(u) = (S(u) - T(u)) / 2 it is `D(u, v) >= p(u) + p(v)`, equal for u = v:
//! max(S, S') >= (S + S') / 2 and min(T, T') <= (T + T') / 2. A part therefore uses at least
//! c = l + p(its left end) + p(its right end), whatever lies beside it; only the two outermost ends of
//! a board have no joint.
//!
//! Where every part may be flipped, the sign of a point does not matter (the next part is flipped to
//! suit), and points are taken by size alone.

use super::super::board_counts::{Inequality, counted};
use super::super::outcome::WORKING;
use super::super::stock::{self, Stock, limited, take};
use super::ends;
use super::instance::{CutBoard, Instance, Placement};
use super::merge::{Kind, merged_kinds};
use offsquare_units::num::{self, Gather};

/// An angle at which ends meet.
#[derive(Clone, Copy, Debug)]
pub struct JointPoint {
    pub angle: f64,
    /// k / cos
    pub kerf: f64,
    /// w · tan|angle|
    pub skew: f64,
    /// Additive part of a joint here.
    pub half: f64,
}

/// One way of laying a part of a kind, entered at its left end's point and left at its right end's.
#[derive(Clone, Copy, Debug)]
pub struct Move {
    pub kind: u32,
    pub enter: u16,
    pub exit: u16,
}

/// Room on boards of one length: parts fit if their extent does; with `tail` the cut behind the
/// last part must lie within the room as well.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bin {
    pub room: f64,
    pub tail: bool,
}

/// Parts to be cut, and the boards at hand for them.
#[derive(Clone, Copy)]
pub struct Lot<'t> {
    /// Parts wanted of each kind.
    pub want: &'t [u32],
    pub bins: &'t [Bin],
    /// Boards there are in each bin.
    pub have: &'t [u32],
    /// Cost of a board in each bin.
    pub cost: &'t [f64],
    /// Inequalities that hold for these bins and at least these parts.
    pub known: &'t [Inequality],
}

/// Costs where only the room counts.
pub fn rooms(bins: &[Bin]) -> Vec<f64> {
    bins.iter().map(|b| b.room.max(1e-6)).gather()
}

/// Parts that go on one board together.
#[derive(Clone, Debug, PartialEq)]
pub struct Pattern {
    /// Kind and how many, kinds rising.
    pub counts: Vec<(u32, u32)>,
    /// Moves from left to right; empty where all ends are square.
    pub order: Vec<u32>,
    /// Extent along the board.
    pub extent: f64,
    /// Extent with the cut behind the last part.
    pub tailed: f64,
}

/// The job with everything that the search asks for again and again.
#[derive(Clone, Debug)]
pub struct Model {
    pub width: f64,
    pub kerf: f64,
    pub trim: f64,
    pub kinds: Vec<Kind>,
    pub stock: Vec<Stock>,
    pub points: Vec<JointPoint>,
    pub moves: Vec<Move>,
    /// Moves of kind i: `moves[first[i]..first[i + 1]]`.
    pub first: Vec<usize>,
    joints: Vec<f64>,
    pub mitered: bool,
    /// Points are sizes of angles: every part may be flipped.
    pub free: bool,
    /// Largest additive part of any end.
    pub most: f64,
    /// Largest additive part less kerf of any end.
    pub most_tail: f64,
    /// For each kind the first that lies in the same ways.
    pub class: Vec<u32>,
}

impl Model {
    /// Merges and sorts parts and boards, so that the order of the input cannot matter.
    pub fn new(instance: &Instance, prices: &[i128]) -> Model {
        let mut kinds = merged_kinds(instance);
        let mitered = kinds.iter().any(|k| k.lies.iter().any(|l| *l != (0.0, 0.0)));
        let free = kinds.iter().all(|k| k.lies.iter().all(|&(l, r)| k.lies.contains(&(-l, -r))));
        let place = |angle: f64| if free { angle.abs() } else { angle };
        let mut angles: Vec<f64> = kinds
            .iter()
            .flat_map(|k| k.lies.iter().flat_map(|&(l, r)| [place(-l), place(r)]))
            .gather();
        num::sort(&mut angles);
        angles.dedup();
        let points: Vec<JointPoint> = angles
            .iter()
            .map(|&angle| {
                let kerf = ends::kerf_along(instance.kerf, angle);
                let skew = ends::reach(instance.width, angle).abs();
                JointPoint { angle, kerf, skew, half: (kerf - skew) / 2.0 }
            })
            .gather();
        let at = |angle: f64| angles.iter().position(|&a| a == place(angle)).unwrap_or(0);
        for kind in &mut kinds {
            let (l, r) = kind.lies[0];
            kind.use_len = (kind.len + points[at(-l)].half + points[at(r)].half).max(0.0);
        }
        num::sort_by(&mut kinds, |a, b| {
            b.use_len
                .total_cmp(&a.use_len)
                .then(b.len.total_cmp(&a.len))
                .then_with(|| a.lies.partial_cmp(&b.lies).unwrap_or(core::cmp::Ordering::Equal))
        });
        let mut moves = Vec::new();
        let mut first = vec![0];
        for (i, kind) in kinds.iter().enumerate() {
            let mut ways: Vec<(u16, u16)> =
                kind.lies.iter().map(|&(l, r)| (at(-l) as u16, at(r) as u16)).gather();
            num::sort_by(&mut ways, Ord::cmp);
            ways.dedup();
            moves.extend(ways.iter().map(|&(enter, exit)| Move { kind: i as u32, enter, exit }));
            first.push(moves.len());
        }
        let ways = |i: usize| -> Vec<(u16, u16)> {
            moves[first[i]..first[i + 1]].iter().map(|m: &Move| (m.enter, m.exit)).gather()
        };
        let class = (0..kinds.len())
            .map(|i| (0..i).find(|&j| ways(j) == ways(i)).unwrap_or(i) as u32)
            .gather();
        let n = points.len();
        let mut joints = vec![0.0; n * n];
        for (i, u) in points.iter().enumerate() {
            for (j, v) in points.iter().enumerate() {
                let nest = if free || u.angle * v.angle > 0.0 { u.skew.min(v.skew) } else { 0.0 };
                joints[i * n + j] = u.kerf.max(v.kerf) - nest;
            }
        }
        let most = points.iter().map(|p| p.half).fold(f64::NEG_INFINITY, f64::max);
        let most_tail = points.iter().map(|p| p.half - p.kerf).fold(f64::NEG_INFINITY, f64::max);
        let total: u64 = instance.parts.iter().map(|p| p.qty).sum();
        let shortest = kinds.iter().map(|k| k.len).fold(f64::INFINITY, f64::min);
        Model {
            width: instance.width,
            kerf: instance.kerf,
            trim: instance.trim,
            stock: merged_stock(instance, prices, total as u32, shortest),
            kinds,
            moves,
            first,
            joints,
            points,
            mitered,
            free,
            most,
            most_tail,
            class,
        }
    }

    /// Least distance between a right end at point `u` and a left end at point `v`.
    pub fn joint(&self, u: u16, v: u16) -> f64 {
        self.joints[u as usize * self.points.len() + v as usize]
    }

    /// Room of a bin in terms of `use_len`: no set of parts that fits sums to more.
    pub fn capacity(&self, bin: Bin) -> f64 {
        bin.room + self.spare(bin.tail) + WORKING
    }

    /// What a board's room grows by in terms of `use_len`, without or with the tail cut.
    pub fn spare(&self, tail: bool) -> f64 {
        self.most + if tail { self.most_tail } else { self.most }
    }

    /// How many parts of each kind are wanted.
    pub fn demand(&self) -> Vec<u32> {
        self.kinds.iter().map(|k| k.qty).gather()
    }

    pub fn fits(&self, pattern: &Pattern, bin: Bin) -> bool {
        let need = if bin.tail { pattern.tailed } else { pattern.extent };
        need <= bin.room + WORKING
    }

    /// The pattern of one order of moves, turned round if that leaves more behind the last cut.
    pub fn pattern_of(&self, mut order: Vec<u32>) -> Pattern {
        let mut kinds: Vec<u32> = order.iter().map(|&m| self.moves[m as usize].kind).gather();
        num::sort_by(&mut kinds, Ord::cmp);
        let counts = counted(&kinds);
        if !self.mitered {
            return self.square_pattern(counts);
        }
        let mut extent = 0.0;
        let mut before: Option<u16> = None;
        for &m in &order {
            let mv = self.moves[m as usize];
            extent += self.kinds[mv.kind as usize].len;
            if let Some(exit) = before {
                extent += self.joint(exit, mv.enter);
            }
            before = Some(mv.exit);
        }
        let mut tailed = extent;
        if let (Some(&a), Some(&b)) = (order.first(), order.last()) {
            let start = self.points[self.moves[a as usize].enter as usize].kerf;
            let end = self.points[self.moves[b as usize].exit as usize].kerf;
            tailed += start.min(end);
            if start < end {
                order.reverse();
                for m in &mut order {
                    *m = self.turned(*m);
                }
            }
        }
        Pattern { counts, order, extent, tailed }
    }

    /// A pattern whose parts all have square ends.
    pub fn square_pattern(&self, counts: Vec<(u32, u32)>) -> Pattern {
        let mut extent = 0.0;
        let mut number = 0u32;
        for &(kind, n) in &counts {
            extent += self.kinds[kind as usize].len * f64::from(n);
            number += n;
        }
        extent += self.kerf * f64::from(number.max(1) - 1);
        Pattern { counts, order: Vec::new(), extent, tailed: extent + self.kerf }
    }

    /// The move that lays the same part turned end for end.
    fn turned(&self, m: u32) -> u32 {
        let mv = self.moves[m as usize];
        let kind = mv.kind as usize;
        (self.first[kind]..self.first[kind + 1])
            .find(|&i| self.moves[i].enter == mv.exit && self.moves[i].exit == mv.enter)
            .map_or(m, |i| i as u32)
    }

    /// The pattern with no more of each kind than `left` holds (parts taken out, the rest closed up).
    pub fn trimmed(&self, pattern: &Pattern, left: &[u32]) -> Option<Pattern> {
        if pattern.counts.iter().all(|&(k, n)| n <= left[k as usize]) {
            return None;
        }
        if !self.mitered {
            let counts = pattern
                .counts
                .iter()
                .map(|&(k, n)| (k, n.min(left[k as usize])))
                .filter(|c| c.1 > 0)
                .gather();
            return Some(self.square_pattern(counts));
        }
        let mut room: Vec<(u32, u32)> =
            pattern.counts.iter().map(|&(k, n)| (k, n.min(left[k as usize]))).gather();
        let mut order = Vec::with_capacity(pattern.order.len());
        for &m in &pattern.order {
            let kind = self.moves[m as usize].kind;
            if let Some(r) = room.iter_mut().find(|r| r.0 == kind)
                && r.1 > 0
            {
                r.1 -= 1;
                order.push(m);
            }
        }
        Some(self.pattern_of(order))
    }

    /// End angles, left and right, of each part in order: signs chosen so that neighbours nest.
    fn angles(&self, order: &[u32]) -> Vec<(u32, f64, f64)> {
        let mut before = 0.0f64;
        order
            .iter()
            .map(|&m| {
                let mv = self.moves[m as usize];
                let kind = &self.kinds[mv.kind as usize];
                let (enter, exit) =
                    (self.points[mv.enter as usize].angle, self.points[mv.exit as usize].angle);
                let chosen = kind
                    .lies
                    .iter()
                    .filter(|&&(l, r)| {
                        if self.free {
                            l.abs() == enter && r.abs() == exit
                        } else {
                            -l == enter && r == exit
                        }
                    })
                    .min_by_key(|&&(l, _)| l * before > 0.0)
                    .copied()
                    .unwrap_or(kind.lies[0]);
                before = chosen.1;
                (mv.kind, chosen.0, chosen.1)
            })
            .gather()
    }

    /// Boards as they are handed out: `chosen` names a stock entry and a pattern for each.
    pub fn realised(&self, instance: &Instance, chosen: &[(usize, Pattern)]) -> Vec<CutBoard> {
        let mut parts: Vec<Vec<(usize, u32)>> =
            self.kinds.iter().map(|k| k.members.clone()).gather();
        let mut boards: Vec<Vec<(usize, u32)>> =
            self.stock.iter().map(|s| s.members.clone()).gather();
        let mut cut = Vec::with_capacity(chosen.len());
        for (stock, pattern) in chosen {
            let Some(board) = take(&mut boards[*stock]) else {
                continue;
            };
            let sequence: Vec<(u32, f64, f64)> = if self.mitered {
                self.angles(&pattern.order)
            } else {
                pattern
                    .counts
                    .iter()
                    .flat_map(|&(k, n)| core::iter::repeat_n((k, 0.0, 0.0), n as usize))
                    .gather()
            };
            let mut placed: Vec<Placement> = Vec::with_capacity(sequence.len());
            let mut tip = self.trim;
            let mut before: Option<f64> = None;
            for (kind, left, right) in sequence {
                let Some(part) = take(&mut parts[kind as usize]) else {
                    continue;
                };
                if let Some(angle) = before {
                    tip += ends::separation(self.width, self.kerf, angle, left);
                }
                let p = &instance.parts[part];
                let (turned, flipped) = ends::positions(p.one_good_face)
                    .iter()
                    .copied()
                    .find(|&(t, f)| ends::lying(p.left, p.right, t, f) == (left, right))
                    .unwrap_or((false, false));
                placed.push(Placement { part, turned, flipped, x: tip, y: 0.0 });
                tip += p.length;
                before = Some(right);
            }
            if !placed.is_empty() {
                cut.push(CutBoard { board, parts: placed, pieces: Vec::new() });
            }
        }
        cut
    }
}

fn merged_stock(instance: &Instance, prices: &[i128], total: u32, shortest: f64) -> Vec<Stock> {
    let stock = instance.boards.iter().enumerate().map(|(i, b)| {
        let (room, limit) = (b.length - 2.0 * instance.trim, limited(b.limit, total));
        let members = vec![(i, limit)];
        Stock { len: b.length, wid: 1.0, room, price: prices[i], limit, members }
    });
    stock::merged(stock.filter(|s| s.limit > 0 && s.room + WORKING >= shortest).gather(), total)
}
