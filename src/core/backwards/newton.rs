//! Newton's steps over the layout's own solve. From an answer to one close by: the inputs that give follow
//! the answers that are moved a little. And from many starts, for three unknowns and more: a search within a
//! search within a search would take minutes.

use super::Solved;
use super::grid::step_size;
use super::system::{Hit, Search, System, Wish, typed};
use crate::inputs::{Field, Kind, Range};
use crate::layouts::Layout;

/// Unknowns, at most.
const MANY: usize = 6;
type Vector = [f64; MANY];

/// Solves that one search from many starts may take: a fifth of a second or so.
const MOST: usize = 15_000;
/// How far the unknowns are moved to see what hangs on them, as a part of their size.
const PROBE: f64 = 1e-7;
/// An equation that adds less than this to the others adds nothing.
const NOTHING: f64 = 1e-7;

/// Every step is at most this part of the one before it. By Kantorovich's theorem the solution is then
/// the only one within many times the first step: none that is nearer has been missed.
const SHRINKS: f64 = 0.125;
/// The first step, as a part of an unknown's size, goes no further.
const FIRST: f64 = 0.2;

/// The value of the first of two unknowns at which two wishes come out, by Newton's steps from the present values;
/// none where the steps do not shrink fast enough to be sure of.
///
/// A safeguarded search ([`System`]) is for then, and for large changes.
pub(super) fn follow(
    layout: &'static dyn Layout,
    solved: &Solved,
    unknown: &[&'static Field],
    wishes: &[Wish],
) -> Option<f64> {
    if unknown.len() != 2 || wishes.len() != 2 {
        return None;
    }
    let way = solved.solution.way;
    let system = System::new(layout, &solved.inputs, unknown.to_vec(), wishes.to_vec());
    let here = system.solved(solved.inputs.clone());
    let mut own = here.iter().filter(|h| h.way == way);
    let nth = own.position(|h| h.answers == solved.solution.answers)?;
    let mut path = Path::of(&system, way, nth);
    let mut x = system.present_values()?;
    let mut last = f64::INFINITY;
    for _ in 0..12 {
        let y = path.miss(&x)?;
        let step = path.step(&x, &y)?;
        let far = largest(&step);
        if !(far <= FIRST.min(SHRINKS * last)) {
            // Rounding is all that is left to shrink, or it is not to be trusted.
            return (far <= 1e-12).then_some(x[0]);
        }
        x = path.moved(&x, &step, 1.0);
        if far <= f64::EPSILON {
            return Some(x[0]);
        }
        last = far;
    }
    None
}

impl System {
    /// The solutions that the steps lead to from many starts, each wish met.
    pub(super) fn by_steps(&self) -> Search {
        let mut search = Search::default();
        let n = self.unknown.len();
        if n > MANY {
            return search;
        }
        let mut spent = 0;
        let present = self.present_values();
        let count = match present {
            Some(_) if self.near => 0,
            _ => 5_usize.pow(n as u32),
        };
        for start in 0..=count {
            let mut x = [0.0; MANY];
            if start < count {
                let mut digits = start;
                for (x, field) in x.iter_mut().zip(&self.unknown) {
                    *x = self.place(field, digits % 5);
                    digits /= 5;
                }
            } else if let Some(present) = present {
                x = present;
            }
            for here in self.at(&x) {
                let mut path = Path::of(self, here.way, here.nth);
                let end = path.zero(x);
                spent += path.spent;
                let Some(end) = end else { continue };
                for hit in self.at(&end) {
                    if hit.way == here.way
                        && self.met(&hit)
                        && !self.listed(&search.hits, &hit, 0, 1e-7)
                    {
                        search.hits.push(hit);
                    }
                }
                if spent > MOST {
                    return search;
                }
            }
            spent += 1;
        }
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

    /// All solutions with the unknowns at `x`; none where one of them is out of its range.
    fn at(&self, x: &Vector) -> Vec<Hit> {
        let mut inputs = self.present.clone();
        for (&field, &x) in self.unknown.iter().zip(x) {
            let value = typed(field, x);
            if !x.is_finite() || field.check(&value).is_some() {
                return Vec::new();
            }
            inputs.set(field.key, value);
        }
        self.solved(inputs)
    }
}

/// One way's solution that is followed.
struct Path<'a> {
    system: &'a System,
    way: &'static str,
    nth: usize,
    spent: usize,
}

impl<'a> Path<'a> {
    fn of(system: &'a System, way: &'static str, nth: usize) -> Path<'a> {
        Path { system, way, nth, spent: 0 }
    }

    /// How far each answer is from its wish, as a part of the wish's size.
    fn miss(&mut self, x: &Vector) -> Option<Vector> {
        self.spent += 1;
        let there = self.system.at(x);
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
        for _ in 0..40 {
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
        // Gauss's elimination with the largest pivot.
        for i in 0..n {
            for k in i + 1..n {
                if rows[k][i].abs() > rows[i][i].abs() {
                    rows.swap(i, k);
                }
            }
            let pivot = rows[i];
            if !(pivot[i].abs() > NOTHING) {
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
