//! The most value that one board can hold when each part has a value: an upper bound for every guillotine
//! pattern, by dynamic programming over pieces of the board.
//!
//! The best of a piece is its best single part, or the best of the two pieces of some cut (Gilmore and
//! Gomory, Operations Research 13, 1965; from memory). Cuts need be tried only at sums of part sizes.
//! Where there are too many sums, sizes are put on a coarse scale in a way that keeps every pattern
//! that is possible: the dual feasible function u(x) = x if (p+1)x is whole, else floor((p+1)x)/p
//! (Fekete and Schepers, Mathematical Programming 91, 2001; from memory), which keeps halves, thirds
//! and so on what they are. Numbers of parts are not limited: that only makes the bound larger.

use super::super::budget::Budget;
use super::super::outcome::WORKING;
use super::model::Model;
use offsquare_units::num;

/// Most sums in one direction that are kept apart.
const MOST_POINTS: usize = 420;
/// Most work for one board (pieces times cuts).
const MOST_WORK: usize = 12_000_000;
/// Scales that replace too many sums, finest first; each is one below a number with many divisors.
const SCALES: [usize; 4] = [239, 119, 59, 35];

/// Sums of sizes along one direction of one board.
#[derive(Clone, Debug, Default)]
struct Axis {
    /// Sums in rising order, 0 first.
    points: Vec<f64>,
    /// For the kinds and ways to lie in order: the size on this axis; infinite if it does not fit.
    sizes: Vec<f64>,
    /// rest[i][a]: the largest point not above points[i] - points[a].
    rest: Vec<Vec<u16>>,
}

/// One board, ready to be priced.
#[derive(Clone, Debug)]
pub struct Worth {
    x: Axis,
    y: Axis,
    /// For each kind and way to lie: kind, which way, and least indices of the points that hold it.
    lies: Vec<(u32, u32, u16, u16)>,
    /// Kinds too small for the scale, with their number: all of them may be on every board.
    small: Vec<(u32, u32)>,
    kinds: usize,
    best: Vec<f64>,
    /// How the best was made: a part (0 and its place in `lies` + 1), or a cut.
    how: Vec<(u8, u16)>,
}

impl Worth {
    /// Gets ready for one board of the job.
    pub fn new(model: &Model, stock: usize, budget: &mut Budget) -> Worth {
        let board = &model.stock[stock];
        let mut sizes: Vec<(f64, f64)> = Vec::new();
        let mut names = Vec::new();
        let mut qty = Vec::new();
        for (k, kind) in model.kinds.iter().enumerate() {
            for (way, lie) in kind.lies.iter().enumerate() {
                let fits = model.fits(lie.len, lie.wid, stock);
                sizes.push(if fits { (lie.len, lie.wid) } else { (f64::INFINITY, f64::INFINITY) });
                names.push((k as u32, way as u32));
                qty.push(kind.qty);
            }
        }
        let along: Vec<f64> = sizes.iter().map(|s| s.0).collect();
        let across: Vec<f64> = sizes.iter().map(|s| s.1).collect();
        // Exact where possible; else coarser and coarser, the axis with more points first.
        let sizes = [(along, board.len), (across, board.wid)];
        let axis = |d: usize, level: usize| Axis::new(&sizes[d].0, &qty, sizes[d].1, level);
        let mut level = [0, 1].map(|d| usize::from(axis(d, 0).is_none()));
        let [mut x, mut y] = [0, 1].map(|d| axis(d, level[d]).unwrap_or_default());
        loop {
            let (nx, ny) = (x.points.len(), y.points.len());
            let coarsest = level.map(|l| l == SCALES.len());
            if nx * ny * (nx + ny) / 4 <= MOST_WORK || coarsest == [true, true] {
                break;
            }
            let d = usize::from(!((nx >= ny && !coarsest[0]) || coarsest[1]));
            level[d] += 1;
            *[&mut x, &mut y][d] = axis(d, level[d]).unwrap_or_default();
        }
        for axis in [&mut x, &mut y] {
            axis.rest = rests(&axis.points);
        }
        let index = |axis: &Axis, size: f64| -> Option<u16> {
            let at = axis.points.partition_point(|&p| p < size - WORKING);
            (at < axis.points.len()).then_some(at as u16)
        };
        let mut lies = Vec::new();
        let mut small: Vec<(u32, u32)> = Vec::new();
        for (i, &(kind, way)) in names.iter().enumerate() {
            if let (Some(px), Some(py)) = (index(&x, x.sizes[i]), index(&y, y.sizes[i])) {
                if px > 0 && py > 0 {
                    lies.push((kind, way, px, py));
                } else if small.last().is_none_or(|s| s.0 != kind) {
                    small.push((kind, qty[i]));
                }
            }
        }
        let cells = x.points.len() * y.points.len();
        budget.spend(cells + 40 * lies.len());
        Worth {
            x,
            y,
            lies,
            small,
            kinds: model.kinds.len(),
            best: vec![0.0; cells],
            how: vec![(0, 0); cells],
        }
    }

    /// Steps that one pricing takes, about.
    pub fn effort(&self) -> usize {
        let (nx, ny) = (self.x.points.len(), self.y.points.len());
        nx * ny * (nx + ny) / 4 + nx * ny
    }

    /// The most that parts of these values on one board can be worth, and how many of each kind that is.
    pub fn most(&mut self, value: &[f64], budget: &mut Budget) -> (f64, Vec<u32>) {
        let (nx, ny) = (self.x.points.len(), self.y.points.len());
        budget.spend(self.effort());
        self.best.fill(0.0);
        self.how.fill((0, 0));
        for (at, &(kind, _, px, py)) in self.lies.iter().enumerate() {
            let cell = usize::from(px) * ny + usize::from(py);
            let v = value[kind as usize];
            if v > self.best[cell] {
                self.best[cell] = v;
                self.how[cell] = (0, at as u16 + 1);
            }
        }
        for i in 0..nx {
            for j in 0..ny {
                let cell = i * ny + j;
                let mut best = self.best[cell];
                let mut how = self.how[cell];
                // What a smaller piece can hold.
                if i > 0 && self.best[cell - ny] > best {
                    best = self.best[cell - ny];
                    how = (3, 0);
                }
                if j > 0 && self.best[cell - 1] > best {
                    best = self.best[cell - 1];
                    how = (4, 0);
                }
                let rest = &self.x.rest[i];
                for (a, &r) in rest.iter().enumerate().skip(1) {
                    let sum = self.best[a * ny + j] + self.best[usize::from(r) * ny + j];
                    if sum > best {
                        best = sum;
                        how = (1, a as u16);
                    }
                }
                let rest = &self.y.rest[j];
                let row = &self.best[i * ny..i * ny + ny];
                for (a, &r) in rest.iter().enumerate().skip(1) {
                    let sum = row[a] + row[usize::from(r)];
                    if sum > best {
                        best = sum;
                        how = (2, a as u16);
                    }
                }
                self.best[cell] = best;
                self.how[cell] = how;
            }
        }
        let mut counts = vec![0; self.kinds];
        let mut open = vec![(nx - 1, ny - 1)];
        while let Some((i, j)) = open.pop() {
            match self.how[i * ny + j] {
                (0, 0) => {}
                (0, at) => counts[self.lies[usize::from(at) - 1].0 as usize] += 1,
                (1, a) => {
                    let a = usize::from(a);
                    open.extend([(a, j), (usize::from(self.x.rest[i][a]), j)]);
                }
                (2, a) => {
                    let a = usize::from(a);
                    open.extend([(i, a), (i, usize::from(self.y.rest[j][a]))]);
                }
                (3, _) => open.push((i - 1, j)),
                _ => open.push((i, j - 1)),
            }
        }
        let mut best = self.best[nx * ny - 1];
        for &(kind, n) in &self.small {
            best += value[kind as usize] * f64::from(n);
            counts[kind as usize] = n;
        }
        (best, counts)
    }
}

impl Axis {
    /// With exact sums on level 0, none if there are too many; then on one scale after the other.
    fn new(sizes: &[f64], qty: &[u32], whole: f64, level: usize) -> Option<Axis> {
        let (points, sizes) = match level.checked_sub(1) {
            None => (sums(sizes, qty, whole, MOST_POINTS)?, sizes.to_vec()),
            Some(scale) => scaled(sizes, qty, whole, SCALES[scale]),
        };
        Some(Axis { points, sizes, rest: Vec::new() })
    }
}

/// All sums of the sizes up to the whole, each size at most as often as there are parts, in rising order, 0
/// first; none if there are too many.
pub fn sums(sizes: &[f64], qty: &[u32], whole: f64, many: usize) -> Option<Vec<f64>> {
    let mut points = vec![0.0f64];
    for (size, most) in distinct(sizes, qty) {
        let mut more = Vec::new();
        for &p in &points {
            let mut sum = p;
            for _ in 0..most {
                sum += size;
                if sum > whole + WORKING {
                    break;
                }
                more.push(sum);
                if more.len() > 60 * many {
                    return None;
                }
            }
        }
        points.extend(more);
        num::sort(&mut points);
        points.dedup_by(|a, b| *a - *b <= WORKING);
        if points.len() > many {
            return None;
        }
    }
    Some(points)
}

/// Sums on a scale of `p` to the whole board, and the sizes on that scale.
fn scaled(sizes: &[f64], qty: &[u32], whole: f64, p: usize) -> (Vec<f64>, Vec<f64>) {
    let of = |&s: &f64| {
        if !s.is_finite() {
            return s;
        }
        // A size a little below a whole share of the board counts as that share, which is right for
        // u(x) = x rounded down.
        let share = s / whole * (p + 1) as f64;
        let near = num::round_half_up(share);
        let down =
            if (share - near).abs() < 1e-6 { (near - 1.0).max(0.0) } else { num::floor(share) };
        down.min(p as f64)
    };
    let sizes: Vec<f64> = sizes.iter().map(of).collect();
    let mut reached = vec![false; p + 1];
    reached[0] = true;
    for (size, most) in distinct(&sizes, qty) {
        let size = size as usize;
        // How often this size has been used to reach a sum that was not reached before.
        let mut used = vec![0u32; p + 1];
        for at in size..=p {
            if !reached[at] && reached[at - size] && used[at - size] < most {
                reached[at] = true;
                used[at] = used[at - size] + 1;
            }
        }
    }
    ((0..=p).filter(|&i| reached[i]).map(|i| i as f64).collect(), sizes)
}

/// Finite sizes above 0, each once, with how often it may be used.
fn distinct(sizes: &[f64], qty: &[u32]) -> Vec<(f64, u32)> {
    let mut all: Vec<(f64, u32)> = sizes
        .iter()
        .zip(qty)
        .filter(|(s, _)| s.is_finite() && **s > 0.0)
        .map(|(&s, &q)| (s, q))
        .collect();
    num::sort_by(&mut all, |a, b| b.0.total_cmp(&a.0));
    all.dedup_by(|(s, q), last| {
        let same = last.0 - *s <= WORKING * 1e-3;
        if same {
            last.1 = last.1.saturating_add(*q);
        }
        same
    });
    all
}

/// For every point and every smaller one up to its half: the largest point not above their difference.
fn rests(points: &[f64]) -> Vec<Vec<u16>> {
    points
        .iter()
        .enumerate()
        .map(|(i, &p)| {
            let half = points.partition_point(|&q| q <= p / 2.0 + WORKING);
            (0..half.min(i.max(1)))
                .map(|a| {
                    let left = p - points[a];
                    (points.partition_point(|&q| q <= left + WORKING).max(1) - 1) as u16
                })
                .collect()
        })
        .collect()
}
