//! Newton's steps over the layout's own solve. From an answer to one close by: the inputs that give follow
//! the answers that are moved a little. And from many starts, for two unknowns and more: a search within a
//! search would take seconds.

use super::Solved;
use super::grid::step_size;
use super::system::{Hit, Search, System};
use crate::inputs::{Field, Kind, Range};
use offsquare_units::num::Gather;

/// Unknowns, at most.
const MANY: usize = 6;
type Vector = [f64; MANY];

/// Places to start from, at most; every combination of the five places of each of two unknowns.
const STARTS: usize = 64;
/// How far the unknowns are moved to see what hangs on them, as a part of their size.
const PROBE: f64 = 1e-7;
/// An answer that the unknowns change by less than this hangs on none of them.
const NOTHING: f64 = 1e-7;
/// An equation that adds less than this part of itself to the others adds nothing: what is left is the
/// rounding of the probes.
const ADDS: f64 = 1e-6;

/// Every step is at most this part of the one before it. By Kantorovich's theorem the solution is then
/// the only one within many times the first step: none that is nearer has been missed.
const SHRINKS: f64 = 0.125;
/// The first step, as a part of an unknown's size, goes no further.
const FIRST: f64 = 0.2;

impl System<'_> {
    /// Where all wishes come out, by Newton's steps from the present values, those of `solved`; none where
    /// the steps do not shrink fast enough to be sure that it is the nearest such place.
    pub(super) fn followed(&self, solved: &Solved) -> Option<Hit> {
        let n = self.unknown.len();
        if n == 0 || n > MANY || n != self.wishes.len() {
            return None;
        }
        let way = solved.solution.way;
        let here = self.solved(solved.inputs.clone());
        let mut own = here.iter().filter(|h| h.way == way);
        let nth = own.position(|h| h.answers == solved.solution.answers)?;
        let mut path = Path { system: self, way, nth, fixed: false };
        let mut x = self.present_values()?;
        let mut last = f64::INFINITY;
        for _ in 0..12 {
            let y = path.miss(&x)?;
            let step = path.step(&x, &y)?;
            let far = largest(&step);
            if !(far <= FIRST.min(SHRINKS * last)) {
                // Rounding is all that is left to shrink, or it is not to be trusted.
                if far > 1e-12 {
                    return None;
                }
                break;
            }
            x = path.moved(&x, &step, 1.0);
            if far <= f64::EPSILON {
                break;
            }
            last = far;
        }
        let mut there = self.with(&x[..n]).into_iter().filter(|h| h.way == way);
        there.nth(nth).filter(|hit| self.met(hit))
    }

    /// The solutions that the steps lead to from many starts (with `near`, from the present values only),
    /// each wish met.
    pub(super) fn by_steps(&self) -> Search {
        let mut search = Search::default();
        let n = self.unknown.len();
        if n > MANY {
            return search;
        }
        let present = self.present_values();
        let mut starts: Vec<Vector> = present.into_iter().gather();
        if !(self.near && present.is_some()) {
            // Every combination where there are few, else some of them, spread evenly.
            let all = 5_usize.pow(n as u32);
            let count = all.min(STARTS);
            for i in 0..count {
                let mut digits = i * all / count;
                let mut x = [0.0; MANY];
                for (x, field) in x.iter_mut().zip(&self.unknown) {
                    *x = self.place(field, digits % 5);
                    digits /= 5;
                }
                starts.push(x);
            }
        }
        let (mut any, mut fixed) = (false, false);
        let mut ways: Vec<&'static str> = Vec::new();
        for x in starts {
            for here in self.with(&x[..n]) {
                any = true;
                if !ways.contains(&here.way) {
                    ways.push(here.way);
                }
                let mut path = Path { system: self, way: here.way, nth: here.nth, fixed: false };
                let end = path.zero(x);
                fixed |= path.fixed;
                let Some(end) = end else { continue };
                for hit in self.with(&end[..n]) {
                    let new = !self.listed(&search.hits, &hit, 1e-7);
                    if hit.way == here.way && self.met(&hit) && new {
                        search.hits.push(hit);
                    }
                }
            }
        }
        search.open = any && !fixed && !self.ran_out();
        self.in_order(&mut search.hits);
        let mut by_way = Vec::with_capacity(search.hits.len());
        for way in ways {
            by_way.extend(search.hits.iter().filter(|h| h.way == way).cloned());
        }
        search.hits = by_way;
        search
    }

    fn present_values(&self) -> Option<Vector> {
        let mut x = [0.0; MANY];
        for (x, field) in x.iter_mut().zip(&self.unknown) {
            *x = self.present.get(field.key)?.scalar()?;
        }
        Some(x)
    }

    /// One of five places of a field to start from.
    fn place(&self, field: &Field, i: usize) -> f64 {
        match field.kind {
            Kind::Angle(from, to) | Kind::Number(from, to) => {
                from + (to - from) * [0.03, 0.12, 0.3, 0.55, 0.85][i]
            }
            Kind::Length(Range::Any) => self.scale * [-0.25, 0.0, 0.05, 0.3, 0.8][i],
            _ => self.scale * [0.02, 0.08, 0.25, 0.6, 1.1][i],
        }
    }
}

/// One way's solution that is followed.
struct Path<'a> {
    system: &'a System<'a>,
    way: &'static str,
    nth: usize,
    /// Somewhere on it the wishes fixed all unknowns.
    fixed: bool,
}

impl Path<'_> {
    /// How far each answer is from its wish, as a part of the wish's size.
    fn miss(&self, x: &Vector) -> Option<Vector> {
        let there = self.system.with(&x[..self.system.unknown.len()]);
        let answers = &there.iter().filter(|h| h.way == self.way).nth(self.nth)?.answers;
        let mut out = [0.0; MANY];
        for (out, wish) in out.iter_mut().zip(&self.system.wishes) {
            *out = (wish.read(answers)? - wish.value) / self.system.size(wish);
        }
        largest(&out).is_finite().then_some(out)
    }

    /// From `x` to where nothing is missed; none where the steps lead nowhere.
    fn zero(&mut self, mut x: Vector) -> Option<Vector> {
        let mut y = self.miss(&x)?;
        for _ in 0..24 {
            let step = self.step(&x, &y)?;
            let mut share = 1.0;
            loop {
                let to = self.moved(&x, &step, share);
                if let Some(missed) = self.miss(&to)
                    && largest(&missed) < largest(&y)
                {
                    (x, y) = (to, missed);
                    break;
                }
                share /= 2.0;
                if share < 1e-3 {
                    return (largest(&y) <= 1e-10).then_some(x);
                }
            }
        }
        (largest(&y) <= 1e-10).then_some(x)
    }

    fn moved(&self, x: &Vector, step: &Vector, share: f64) -> Vector {
        let mut to = *x;
        for (i, field) in self.system.unknown.iter().enumerate() {
            to[i] += share * step[i] * step_size(field, x[i], self.system.scale);
        }
        to
    }

    /// Newton's step at `x`, where `y` is missed, in parts of the unknowns' sizes; none where the wishes do
    /// not fix the unknowns.
    #[allow(clippy::needless_range_loop)]
    fn step(&mut self, x: &Vector, y: &Vector) -> Option<Vector> {
        let n = self.system.unknown.len();
        // Rows: what each unknown adds to an answer, and what is to be made up.
        let mut rows = [[0.0; MANY + 1]; MANY];
        for i in 0..n {
            let mut there = None;
            for by in [PROBE, -PROBE] {
                let mut probe = [0.0; MANY];
                probe[i] = by;
                there = self.miss(&self.moved(x, &probe, 1.0)).map(|y| (y, by));
                if there.is_some() {
                    break;
                }
            }
            let (there, by) = there?;
            for k in 0..n {
                rows[k][i] = (there[k] - y[k]) / by;
                rows[k][n] = -y[k];
            }
        }
        for row in &mut rows[..n] {
            let most = row[..n].iter().fold(0.0_f64, |m, x| m.max(x.abs()));
            if !(most > NOTHING) {
                return None;
            }
            row.iter_mut().for_each(|x| *x /= most);
        }
        // Gauss's elimination with the largest pivot.
        for i in 0..n {
            for k in i + 1..n {
                if rows[k][i].abs() > rows[i][i].abs() {
                    rows.swap(i, k);
                }
            }
            let pivot = rows[i];
            if !(pivot[i].abs() > ADDS) {
                return None;
            }
            for k in 0..n {
                let share = rows[k][i] / pivot[i];
                if k != i {
                    for j in i..=n {
                        rows[k][j] -= share * pivot[j];
                    }
                }
            }
        }
        self.fixed = true;
        let mut step = [0.0; MANY];
        for i in 0..n {
            step[i] = rows[i][n] / rows[i][i];
        }
        Some(step)
    }
}

fn largest(y: &Vector) -> f64 {
    let mut most = 0.0;
    for y in y {
        if !y.is_finite() {
            return f64::INFINITY;
        }
        most = y.abs().max(most);
    }
    most
}
