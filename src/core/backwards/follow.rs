//! From an answer to one close by: the inputs that give follow the answers that are moved a little.

use super::Solved;
use super::grid::{scale, step_size};
use super::system::{Wish, typed};
use crate::inputs::Field;
use crate::layouts::{Detail, Layout};

/// Every step is at most this part of the one before it. By Kantorovich's theorem the solution is then
/// the only one within many times the first step: none that is nearer has been missed.
const SHRINKS: f64 = 0.125;
/// The first step, as a part of an unknown's size, goes no further.
const FIRST: f64 = 0.2;
/// How far the unknowns are moved to see what hangs on them, as a part of their size.
const PROBE: f64 = 1e-7;

/// The value of the first of two unknowns at which two wishes come out, by Newton's steps from the
/// present values, over the layout's own solve; none where the steps do not shrink fast enough to be
/// sure of.
///
/// A safeguarded search ([`super::system::System`]) is for then, and for large changes.
pub(super) fn follow(
    layout: &'static dyn Layout,
    solved: &Solved,
    unknown: &[&'static Field],
    wishes: &[Wish],
) -> Option<f64> {
    let (&[a, b], [first, second]) = (unknown, wishes) else {
        return None;
    };
    let way = solved.solution.way;
    let mut inputs = solved.inputs.clone();
    let here = layout.solve(&inputs, Detail::Answers).solutions;
    let mut own = here.iter().filter(|s| s.way == way);
    let nth = own.position(|s| s.answers == solved.solution.answers)?;
    let mut x = [inputs.get(a.key)?.scalar()?, inputs.get(b.key)?.scalar()?];
    // How far each answer is from its wish.
    let mut miss = |x: [f64; 2]| -> Option<[f64; 2]> {
        for (field, x) in [(a, x[0]), (b, x[1])] {
            let value = typed(field, x);
            if !x.is_finite() || field.check(&value).is_some() {
                return None;
            }
            inputs.set(field.key, value);
        }
        let there = layout.solve(&inputs, Detail::Answers).solutions;
        let there = &there.iter().filter(|s| s.way == way).nth(nth)?.answers;
        let miss = [
            first.read(there)? - first.value,
            second.read(there)? - second.value,
        ];
        miss.iter().all(|y| y.is_finite()).then_some(miss)
    };
    let around = scale(&solved.inputs, wishes);
    let size = [step_size(a, x[0], around), step_size(b, x[1], around)];
    let mut y = miss(x)?;
    let mut last = f64::INFINITY;
    for _ in 0..12 {
        // What each unknown adds to the answers.
        let moved = [x[0] + size[0] * PROBE, x[1] + size[1] * PROBE];
        let (by_a, by_b) = (miss([moved[0], x[1]])?, miss([x[0], moved[1]])?);
        let slope = |there: [f64; 2], k: usize, i: usize| (there[k] - y[k]) / (moved[i] - x[i]);
        let [p, q, r, s] = [
            slope(by_a, 0, 0),
            slope(by_b, 0, 1),
            slope(by_a, 1, 0),
            slope(by_b, 1, 1),
        ];
        let both = p * s - q * r;
        let step = [(q * y[1] - s * y[0]) / both, (r * y[0] - p * y[1]) / both];
        let far = (step[0] / size[0]).abs().max((step[1] / size[1]).abs());
        if !(far <= FIRST.min(SHRINKS * last)) {
            // Rounding is all that is left to shrink, or it is not to be trusted.
            return (far <= 1e-12).then_some(x[0]);
        }
        x = [x[0] + step[0], x[1] + step[1]];
        if far <= f64::EPSILON {
            return Some(x[0]);
        }
        y = miss(x)?;
        last = far;
    }
    None
}
