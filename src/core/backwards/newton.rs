//! Three unknowns and more: Newton's steps over the layout's own solve, from many starts. A search within a
//! search within a search would take minutes.

use super::grid::step_size;
use super::system::{Hit, Search, System, typed};
use crate::inputs::{Field, Inputs, Kind, Range, Value};

/// Solves that one search may take: a fifth of a second or so.
const MOST: usize = 15_000;
const STEPS: usize = 40;
/// A row of the equations that adds less than this to the others adds nothing.
const NOTHING: f64 = 1e-7;

/// One way's solution that is followed, and what has been spent.
struct Followed<'a> {
    system: &'a System,
    way: &'static str,
    nth: usize,
    spent: &'a mut usize,
}

impl System {
    /// The solutions that the steps lead to, each wish met.
    pub(super) fn by_steps(&self) -> Search {
        let mut search = Search::default();
        let mut spent = 0;
        for start in self.starts() {
            for here in self.at(&start) {
                if spent > MOST {
                    return search;
                }
                let mut followed = Followed {
                    system: self,
                    way: here.way,
                    nth: here.nth,
                    spent: &mut spent,
                };
                let Some(x) = followed.zero(start.clone()) else {
                    continue;
                };
                for hit in self.at(&x) {
                    if hit.way == here.way && self.met(&hit) && !self.known(&search.hits, &hit) {
                        search.hits.push(hit);
                    }
                }
            }
            spent += 1;
        }
        search
    }

    /// Another start has led there.
    fn known(&self, hits: &[Hit], hit: &Hit) -> bool {
        hits.iter().any(|h| {
            let same = |f: &&'static Field| {
                let of = |h: &Hit| h.inputs.get(f.key).and_then(Value::scalar).unwrap_or(0.0);
                (of(h) - of(hit)).abs() <= 1e-6 * step_size(f, of(hit), self.scale)
            };
            h.way == hit.way && h.nth == hit.nth && self.unknown.iter().all(same)
        })
    }

    /// The inputs with the unknowns at `x`; none where one of them is out of its range.
    fn with(&self, x: &[f64]) -> Option<Inputs> {
        let mut inputs = self.present.clone();
        for (&field, &x) in self.unknown.iter().zip(x) {
            let value = typed(field, x);
            if !x.is_finite() || field.check(&value).is_some() {
                return None;
            }
            inputs.set(field.key, value);
        }
        Some(inputs)
    }

    fn at(&self, x: &[f64]) -> Vec<Hit> {
        self.with(x).map_or_else(Vec::new, |i| self.solved(i))
    }

    /// Where to start: at the present values, or, everywhere, at some of every unknown's.
    fn starts(&self) -> Vec<Vec<f64>> {
        let present: Option<Vec<f64>> = self
            .unknown
            .iter()
            .map(|f| self.present.get(f.key)?.scalar())
            .collect();
        let mut starts: Vec<Vec<f64>> = present.into_iter().collect();
        if self.near && !starts.is_empty() {
            return starts;
        }
        let mut grid: Vec<Vec<f64>> = vec![Vec::new()];
        for field in &self.unknown {
            let some = self.some(field);
            let longer = |g: &Vec<f64>| {
                let g = g.clone();
                some.map(move |x| g.iter().copied().chain([x]).collect())
            };
            grid = grid.iter().flat_map(longer).collect();
        }
        starts.extend(grid);
        starts
    }

    fn some(&self, field: &Field) -> [f64; 5] {
        match field.kind {
            Kind::Length(Range::Any) => [-0.25, 0.0, 0.05, 0.3, 0.8].map(|x| x * self.scale),
            Kind::Angle(from, to) | Kind::Number(from, to) => {
                [0.03, 0.12, 0.3, 0.55, 0.85].map(|x| from + x * (to - from))
            }
            _ => [0.02, 0.08, 0.25, 0.6, 1.1].map(|x| x * self.scale),
        }
    }
}

impl Followed<'_> {
    /// How far each answer is from its wish, as a part of the wish's size.
    fn miss(&mut self, x: &[f64]) -> Option<Vec<f64>> {
        *self.spent += 1;
        let there = self.system.at(x);
        let mut own = there.iter().filter(|h| h.way == self.way);
        let answers = &own.nth(self.nth)?.answers;
        self.system
            .wishes
            .iter()
            .map(|w| Some((w.read(answers)? - w.value) / self.system.size(w)))
            .map(|y| y.filter(|y| y.is_finite()))
            .collect()
    }

    /// From `x` to where nothing is missed; none where the steps lead nowhere or the wishes do not fix the
    /// unknowns.
    fn zero(&mut self, mut x: Vec<f64>) -> Option<Vec<f64>> {
        let far = |y: &[f64]| y.iter().fold(0.0_f64, |m, y| m.max(y.abs()));
        let mut y = self.miss(&x)?;
        for _ in 0..STEPS {
            let step = self.step(&x, &y)?;
            let mut share = 1.0;
            let next = loop {
                let to: Vec<f64> = x.iter().zip(&step).map(|(x, s)| x + share * s).collect();
                match self.miss(&to) {
                    Some(missed) if far(&missed) < far(&y) => break Some((to, missed)),
                    _ if share < 1e-3 => break None,
                    _ => share /= 2.0,
                }
            };
            let Some((to, missed)) = next else {
                break;
            };
            (x, y) = (to, missed);
            if far(&y) <= 1e-15 || *self.spent > MOST {
                break;
            }
        }
        (far(&y) <= 1e-10).then_some(x)
    }

    /// Newton's step at `x`, where `y` is missed.
    fn step(&mut self, x: &[f64], y: &[f64]) -> Option<Vec<f64>> {
        let n = x.len();
        let sizes: Vec<f64> = (self.system.unknown.iter().zip(x))
            .map(|(f, x)| step_size(f, *x, self.system.scale))
            .collect();
        // Rows: what a step of an unknown's size adds to each answer, and what is to be made up.
        let mut rows: Vec<Vec<f64>> = y.iter().map(|y| vec![-y; n + 1]).collect();
        for i in 0..n {
            let mut moved = x.to_vec();
            moved[i] += 1e-7 * sizes[i];
            let mut by = 1e-7;
            let there = match self.miss(&moved) {
                Some(there) => there,
                None => {
                    moved[i] = x[i] - 1e-7 * sizes[i];
                    by = -by;
                    self.miss(&moved)?
                }
            };
            for (row, (there, y)) in rows.iter_mut().zip(there.iter().zip(y)) {
                row[i] = (there - y) / by;
            }
        }
        let step = eliminated(rows)?;
        Some(step.iter().zip(&sizes).map(|(s, size)| s * size).collect())
    }
}

/// Gauss's elimination with the largest pivot; none where the rows do not fix the unknowns.
fn eliminated(mut rows: Vec<Vec<f64>>) -> Option<Vec<f64>> {
    let n = rows.len();
    for i in 0..n {
        let best = (i..n).max_by(|&a, &b| rows[a][i].abs().total_cmp(&rows[b][i].abs()))?;
        rows.swap(i, best);
        if !(rows[i][i].abs() > NOTHING) {
            return None;
        }
        let pivot = rows[i].clone();
        for (_, row) in rows.iter_mut().enumerate().filter(|(k, _)| *k != i) {
            let share = row[i] / pivot[i];
            for (r, p) in row.iter_mut().zip(&pivot) {
                *r -= share * p;
            }
        }
    }
    Some((0..n).map(|i| rows[i][n] / rows[i][i]).collect())
}
