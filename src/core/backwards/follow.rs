//! From an answer to one close by: the inputs that give follow the answers that are moved a little.

use super::Solved;
use super::system::{Wish, typed};
use crate::inputs::{Field, Inputs, Kind, Value};
use crate::layouts::{Detail, Layout};

/// Every step is at most this part of the one before it. By Kantorovich's theorem the solution is then
/// the only one within many times the first step: none that is nearer has been missed.
const SHRINKS: f64 = 0.125;
/// The first step, as a part of an unknown's size, goes no further.
const FIRST: f64 = 0.2;
/// How far the unknowns are moved to see what hangs on them, as a part of their size.
const PROBE: f64 = 1e-7;

/// The values of the unknowns at which all wishes come out, by Newton's steps from the present ones,
/// over the layout's own solve; none where the steps do not shrink fast enough to be sure of.
///
/// A safeguarded search ([`super::system::System`]) is for then, and for large changes.
pub(super) fn follow(
    layout: &'static dyn Layout,
    solved: &Solved,
    unknown: &[&'static Field],
    wishes: &[Wish],
) -> Option<Vec<f64>> {
    let way = solved.solution.way;
    let solutions = layout.solve(&solved.inputs, Detail::Answers).solutions;
    let nth = solutions
        .iter()
        .filter(|s| s.way == way)
        .position(|s| s.answers == solved.solution.answers)?;
    // How far each answer is from its wish.
    let miss = |x: &[f64]| -> Option<Vec<f64>> {
        let mut inputs = solved.inputs.clone();
        for (field, x) in unknown.iter().zip(x) {
            let value = typed(field, *x);
            if !x.is_finite() || field.check(&value).is_some() {
                return None;
            }
            inputs.set(field.key, value);
        }
        let solutions = layout.solve(&inputs, Detail::Answers).solutions;
        let there = solutions.into_iter().filter(|s| s.way == way).nth(nth)?;
        let miss = |w: &Wish| Some(w.read(&there.answers)? - w.value).filter(|y| y.is_finite());
        wishes.iter().map(miss).collect()
    };
    let mut x: Vec<f64> = unknown
        .iter()
        .map(|f| solved.inputs.get(f.key)?.scalar())
        .collect::<Option<_>>()?;
    let around = scale(&solved.inputs, wishes);
    let sizes: Vec<f64> = unknown
        .iter()
        .zip(&x)
        .map(|(f, x)| step_size(f, *x, around))
        .collect();
    let mut y = miss(&x)?;
    let mut last = f64::INFINITY;
    for _ in 0..12 {
        // A row a wish: what each unknown adds to its answer, and what is missing.
        let mut rows: Vec<Vec<f64>> = y.iter().map(|y| vec![-y]).collect();
        for i in 0..x.len() {
            let mut moved = x.clone();
            moved[i] += sizes[i] * PROBE;
            let by = moved[i] - x[i];
            for (row, (there, here)) in rows.iter_mut().zip(miss(&moved)?.iter().zip(&y)) {
                row.insert(i, (there - here) / by);
            }
        }
        let steps = solve_rows(rows)?;
        let step = steps
            .iter()
            .zip(&sizes)
            .fold(0.0_f64, |most, (step, size)| most.max((step / size).abs()));
        let nothing = step <= 4.0 * f64::EPSILON;
        if !(step <= FIRST) || (!nothing && step > SHRINKS * last) {
            // Rounding is all that is left to shrink, or it is not to be trusted.
            return (step <= 1e-12).then_some(x);
        }
        for (x, step) in x.iter_mut().zip(&steps) {
            *x += step;
        }
        y = miss(&x)?;
        if nothing || y.iter().all(|y| *y == 0.0) {
            return Some(x);
        }
        last = step;
    }
    None
}

/// What a change of a field's value is measured against: the value itself, or something where it is
/// small or zero. `scale` is the largest length around.
pub(super) fn step_size(field: &Field, x: f64, scale: f64) -> f64 {
    match field.kind {
        Kind::Length(_) => x.abs().max(scale * 0.05),
        Kind::Angle(..) => x.abs().max(10.0),
        _ => x.abs().max(1.0),
    }
}

/// The largest length among the inputs and wishes, inches; 1 where there is none.
pub(super) fn scale(inputs: &Inputs, wishes: &[Wish]) -> f64 {
    let mut most = 0.0_f64;
    for (_, v) in inputs.iter() {
        match v {
            Value::Length(l) => most = most.max(l.0.abs()),
            Value::Lengths(all) => most = all.iter().fold(most, |m, l| m.max(l.0.abs())),
            Value::Points(all) => {
                most = all
                    .iter()
                    .fold(most, |m, (x, y)| m.max(x.0.abs()).max(y.0.abs()));
            }
            _ => {}
        }
    }
    for w in wishes {
        let angle_or_area = w.path.ends_with("_deg") || w.path.ends_with("area");
        if !angle_or_area {
            let inches = w.value.abs() / if w.metric { 25.4 } else { 1.0 };
            most = most.max(inches);
        }
    }
    if most > 0.0 { most } else { 1.0 }
}

/// Solves linear equations, a row each with its right side last, by elimination; none where they say
/// too little.
fn solve_rows(mut rows: Vec<Vec<f64>>) -> Option<Vec<f64>> {
    let n = rows.len();
    for i in 0..n {
        let best = (i..n).max_by(|a, b| rows[*a][i].abs().total_cmp(&rows[*b][i].abs()))?;
        rows.swap(i, best);
        let pivot = rows[i].clone();
        if pivot[i] == 0.0 {
            return None;
        }
        for (_, row) in rows.iter_mut().enumerate().filter(|(k, _)| *k != i) {
            let share = row[i] / pivot[i];
            for (a, b) in row.iter_mut().zip(&pivot) {
                *a -= share * b;
            }
        }
    }
    Some((0..n).map(|i| rows[i][n] / rows[i][i]).collect())
}

#[cfg(test)]
mod tests {
    use super::solve_rows;

    #[test]
    fn equations() {
        // 2 x + y = 5 and x − y = 1 meet at (2, 1).
        let rows = vec![vec![2.0, 1.0, 5.0], vec![1.0, -1.0, 1.0]];
        assert_eq!(solve_rows(rows), Some(vec![2.0, 1.0]));
        // The first pivot is zero: the rows change places.
        let rows = vec![vec![0.0, 1.0, 3.0], vec![4.0, 0.0, 8.0]];
        assert_eq!(solve_rows(rows), Some(vec![2.0, 3.0]));
        // The same line twice has no one point.
        let rows = vec![vec![1.0, 1.0, 2.0], vec![2.0, 2.0, 4.0]];
        assert_eq!(solve_rows(rows), None);
    }
}
