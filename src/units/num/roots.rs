//! Finding every place where a function of one number crosses or touches zero.
//!
//! The functions here come from solving a layout: smooth by pieces, with stretches where there is no
//! answer at all, and with jumps where one answer ends and another begins. So: sample, look closer
//! where the samples bend, find the edges of the answered stretches to the last bit, bracket each
//! change of sign, look into each valley that might reach zero, and believe only what hits zero when
//! it is tried.

/// A function of one number that may have no value somewhere.
pub type Curve<'a> = dyn FnMut(f64) -> Option<f64> + 'a;

/// What [`roots`] found.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Roots {
    /// Every zero, rising.
    pub at: Vec<f64>,
    /// Where the function came lowest, and how low; none where it had no value anywhere.
    pub least: Option<(f64, f64)>,
    /// Where it came highest, and how high.
    pub greatest: Option<(f64, f64)>,
    /// It is zero along a whole stretch (it does not depend on the number there): no single zeros
    /// of that stretch are listed.
    pub level: bool,
}

/// Extra samples that one search may spend on bends, so that a wild function ends too.
const EXTRA: usize = 600;
/// How often one step of the grid may be halved.
const HALVINGS: u32 = 7;

/// What changes by less than this part of `hit` does not change: it is rounding, which bends everywhere.
const ROUNDING: f64 = 1e-2;

/// Every zero of `f` on the rising `grid`.
///
/// `hit`: a place counts as a zero when |f| there is at most this (a jump across zero is none, a
/// valley that just touches is one). No answer between two grid points that are both without one is
/// looked for, so the grid must be as fine as the stretches that matter.
///
/// Example: x² − 2 on −2, −1, 0, 1, 2 gives ±√2 to the last bit; (x − 1)² on the same gives 1.
pub fn roots(f: &mut Curve, grid: &[f64], hit: f64) -> Roots {
    let mut found = Roots::default();
    let samples = sample(f, grid, hit * ROUNDING);
    let level = level_stretches(&samples, hit * 1e-4);
    for (i, (x, y)) in samples.iter().enumerate() {
        let Some(y) = *y else { continue };
        if found.least.is_none_or(|(_, l)| y < l) {
            found.least = Some((*x, y));
        }
        if found.greatest.is_none_or(|(_, g)| y > g) {
            found.greatest = Some((*x, y));
        }
        found.level |= level[i];
        if y == 0.0 && !level[i] {
            found.at.push(*x);
        }
    }
    for (pair, level) in samples.windows(2).zip(level.windows(2)) {
        if let (Some(a), Some(b)) = (pair[0].1, pair[1].1) {
            let opposite = a != 0.0 && b != 0.0 && (a < 0.0) != (b < 0.0);
            if opposite && !(level[0] && level[1]) {
                cross(f, (pair[0].0, a), (pair[1].0, b), hit, 0, &mut found.at);
            }
        }
    }
    for (three, level) in samples.windows(3).zip(level.windows(3)) {
        if level.iter().all(|l| *l) {
            continue;
        }
        if let (Some(a), Some(m), Some(b)) = (three[0].1, three[1].1, three[2].1) {
            valley(f, [three[0].0, three[1].0, three[2].0], [a, m, b], hit, &mut found);
        }
    }
    super::sort(&mut found.at);
    thin(f, &mut found.at);
    found
}

/// Which samples belong to a run of four or more that are all zero but for rounding: the function's own,
/// and that of a number far larger than what it comes to.
fn level_stretches(samples: &[(f64, Option<f64>)], nothing: f64) -> Vec<bool> {
    let flat: Vec<bool> = samples
        .iter()
        .map(|(x, y)| y.is_some_and(|y| y.abs() <= nothing.max(8.0 * f64::EPSILON * x.abs())))
        .collect();
    let mut out = vec![false; flat.len()];
    let mut start = 0;
    for i in 0..=flat.len() {
        if i < flat.len() && flat[i] {
            continue;
        }
        if i - start >= 4 {
            out[start..i].fill(true);
        }
        start = i + 1;
    }
    out
}

/// The samples on the grid, more where the function bends, and the edges of its stretches.
fn sample(f: &mut Curve, grid: &[f64], nothing: f64) -> Vec<(f64, Option<f64>)> {
    let mut out: Vec<(f64, Option<f64>)> = Vec::with_capacity(grid.len() * 2);
    let mut spent = 0;
    let mut last: Option<(f64, Option<f64>)> = None;
    for &x in grid {
        if last.is_some_and(|(l, _)| x <= l) {
            continue;
        }
        let y = value(f, x);
        if let Some(from) = last {
            between(f, from, (x, y), (0, nothing), &mut spent, &mut out);
        }
        out.push((x, y));
        last = Some((x, y));
    }
    out
}

/// A value that can be computed with; infinity is no value.
fn value(f: &mut Curve, x: f64) -> Option<f64> {
    f(x).filter(|y| y.is_finite())
}

/// Puts samples strictly between `a` and `b` where they are needed, rising.
fn between(
    f: &mut Curve,
    a: (f64, Option<f64>),
    b: (f64, Option<f64>),
    (depth, nothing): (u32, f64),
    spent: &mut usize,
    out: &mut Vec<(f64, Option<f64>)>,
) {
    match (a.1, b.1) {
        (None, None) => {}
        (Some(_), None) => {
            let edge = edge_between(f, a.0, b.0);
            toward(f, a.0, edge, false, out);
        }
        (None, Some(_)) => {
            let edge = edge_between(f, b.0, a.0);
            toward(f, b.0, edge, true, out);
        }
        (Some(ya), Some(yb)) => {
            let middle = a.0 + (b.0 - a.0) / 2.0;
            if depth > HALVINGS || *spent >= EXTRA || middle <= a.0 || middle >= b.0 {
                return;
            }
            *spent += 1;
            let ym = value(f, middle);
            let bent = match ym {
                None => true,
                // A straight line would pass half way; a bend by an eighth of the rise is looked into.
                Some(ym) => (ym - (ya + yb) / 2.0).abs() > (0.125 * (yb - ya).abs()).max(nothing),
            };
            if bent {
                between(f, a, (middle, ym), (depth + 1, nothing), spent, out);
                out.push((middle, ym));
                between(f, (middle, ym), b, (depth + 1, nothing), spent, out);
            } else {
                out.push((middle, ym));
            }
        }
    }
}

/// Samples from a place with a value to the last such place before an edge, closer and closer: a
/// function often turns steeply where it ends.
fn toward(f: &mut Curve, from: f64, edge: f64, falling: bool, out: &mut Vec<(f64, Option<f64>)>) {
    let mut places = Vec::new();
    let mut left = edge - from;
    for _ in 0..12 {
        left /= 4.0;
        let x = edge - left;
        if x != from && x != edge && places.last() != Some(&x) {
            places.push(x);
        }
    }
    if edge != from {
        places.push(edge);
    }
    if falling {
        places.reverse();
    }
    for x in places {
        let y = value(f, x);
        out.push((x, y));
    }
}

/// The last place with a value on the way from `inside` (which has one) to `outside` (which has
/// none), to the last bit.
///
/// Example: of √x from 1 towards −1 it is 0.
pub fn edge_between(f: &mut Curve, inside: f64, outside: f64) -> f64 {
    let (mut inside, mut outside) = (inside, outside);
    for _ in 0..1100 {
        let middle = inside + (outside - inside) / 2.0;
        if middle == inside || middle == outside {
            break;
        }
        match value(f, middle) {
            Some(_) => inside = middle,
            None => outside = middle,
        }
    }
    inside
}

/// Zeros between two places of opposite sign, where it may have no value on the way.
fn cross(f: &mut Curve, a: (f64, f64), b: (f64, f64), hit: f64, depth: u32, out: &mut Vec<f64>) {
    match bracketed(f, a, b) {
        Ok(x) => {
            if value(f, x).is_some_and(|y| y.abs() <= hit) {
                out.push(x);
            }
        }
        // No value at this place on the way: each side up to its edge is looked at by itself.
        Err(hole) if depth < 8 => {
            for from in [a, b] {
                let edge = edge_between(f, from.0, hole);
                let Some(y) = value(f, edge) else { continue };
                if y == 0.0 {
                    out.push(edge);
                } else if (y < 0.0) != (from.1 < 0.0) {
                    cross(f, from, (edge, y), hit, depth + 1, out);
                }
            }
        }
        Err(_) => {}
    }
}

/// The zero between `a` and `b`, to the last bit; none where the signs are alike, or where the
/// function has no value at an end or on the way.
///
/// Chandrupatla's bracketing method (Advances in Engineering Software 28, 1997, 145-149): inverse
/// quadratic steps where three points allow them, halving otherwise; the bracket is never lost.
/// Example: cos x between 1 and 2 gives π/2.
pub fn root_between(f: &mut Curve, a: f64, b: f64) -> Option<f64> {
    let (ya, yb) = (value(f, a)?, value(f, b)?);
    if ya == 0.0 {
        return Some(a);
    }
    if yb == 0.0 {
        return Some(b);
    }
    if (ya < 0.0) == (yb < 0.0) {
        return None;
    }
    bracketed(f, (a, ya), (b, yb)).ok()
}

/// The same with the ends' values known; `Err` names a place on the way without a value.
fn bracketed(f: &mut Curve, a: (f64, f64), b: (f64, f64)) -> Result<f64, f64> {
    let (mut x1, mut y1) = b;
    let (mut x2, mut y2) = a;
    let mut t = 0.5;
    for _ in 0..400 {
        let mut x = x1 + t * (x2 - x1);
        let (low, high) = if x1 < x2 { (x1, x2) } else { (x2, x1) };
        if !(x > low && x < high) {
            // The step was shorter than a bit: the next number inwards, then nothing is left between.
            x = if y1.abs() < y2.abs() { step(x1, x2) } else { step(x2, x1) };
            if !(x > low && x < high) {
                break;
            }
        }
        let y = value(f, x).ok_or(x)?;
        if y == 0.0 {
            return Ok(x);
        }
        let (x3, y3);
        if (y < 0.0) == (y1 < 0.0) {
            (x3, y3) = (x1, y1);
        } else {
            (x3, y3) = (x2, y2);
            (x2, y2) = (x1, y1);
        }
        (x1, y1) = (x, y);
        let xi = (x1 - x2) / (x3 - x2);
        let phi = (y1 - y2) / (y3 - y2);
        let quadratic = phi * phi < xi && (1.0 - phi) * (1.0 - phi) < 1.0 - xi;
        t = if quadratic {
            y1 / (y2 - y1) * y3 / (y2 - y3)
                + (x3 - x1) / (x2 - x1) * y1 / (y3 - y1) * y2 / (y3 - y2)
        } else {
            0.5
        };
        if !(t.is_finite() && t > 0.0 && t < 1.0) {
            t = 0.5;
        }
        // At least one bit into the bracket from the better end, at most one bit from the other.
        let least = f64::EPSILON * x1.abs().max(f64::MIN_POSITIVE) / (x2 - x1).abs();
        if least.is_finite() && least < 0.5 {
            t = t.clamp(least, 1.0 - least);
        }
    }
    Ok(if y1.abs() <= y2.abs() { x1 } else { x2 })
}

/// The number next to `from` on the way to `to`.
fn step(from: f64, to: f64) -> f64 {
    if to > from { from.next_up() } else { from.next_down() }
}

/// Looks into a valley of |f| between three samples of one sign: it may reach zero twice, or touch.
fn valley(f: &mut Curve, x: [f64; 3], y: [f64; 3], hit: f64, found: &mut Roots) {
    let sign = if y[1] < 0.0 { -1.0 } else { 1.0 };
    let up = y.map(|y| y * sign);
    let one_sided = up.iter().all(|y| *y > 0.0);
    let turned = up[1] <= up[0] && up[1] <= up[2] && (up[1] < up[0] || up[1] < up[2]);
    let deep = up[0].max(up[2]) - up[1] > hit * ROUNDING || up[1] <= hit;
    if !one_sided || !turned || !deep {
        return;
    }
    let stop = |y: f64| y < 0.0;
    let (low, value) = descend(&mut |x| f(x).map(|y| y * sign), x, up[1], &stop);
    if value < 0.0 {
        let at = (low, value * sign);
        cross(f, (x[0], y[0]), at, hit, 0, &mut found.at);
        cross(f, at, (x[2], y[2]), hit, 0, &mut found.at);
    } else if value <= hit * 1e-3 {
        found.at.push(low);
    }
    let true_value = value * sign;
    if found.least.is_none_or(|(_, l)| true_value < l) {
        found.least = Some((low, true_value));
    }
    if found.greatest.is_none_or(|(_, g)| true_value > g) {
        found.greatest = Some((low, true_value));
    }
}

/// The lowest place of `f` between `a` and `b`, from a first guess `m` between them that is not
/// higher than either, and how low it is. Places without a value count as high.
///
/// Example: (x − 1)² + 3 between 0, 0.5 and 3 gives (1, 3), the place to about half the digits.
pub fn least_between(f: &mut Curve, a: f64, m: f64, b: f64) -> Option<(f64, f64)> {
    let y = value(f, m)?;
    Some(descend(f, [a, m, b], y, &|_| false))
}

/// Golden-section search with parabolic steps (Brent's `localmin`, written from its description).
fn descend(f: &mut Curve, x: [f64; 3], y: f64, stop: &dyn Fn(f64) -> bool) -> (f64, f64) {
    const GOLDEN: f64 = 0.381_966_011_250_105_1;
    let (mut a, mut b) = (x[0], x[2]);
    // Best, second best, third best place.
    let (mut best, mut second, mut third) = ((x[1], y), (x[1], y), (x[1], y));
    let (mut before, mut last) = (0.0_f64, 0.0_f64);
    for _ in 0..120 {
        if stop(best.1) {
            break;
        }
        let middle = a + (b - a) / 2.0;
        let least = 1e-9 * best.0.abs() + 1e-12 * (x[2] - x[0]).abs();
        if (best.0 - middle).abs() <= 2.0 * least - (b - a) / 2.0 {
            break;
        }
        let mut golden = true;
        if before.abs() > least {
            let r = (best.0 - second.0) * (best.1 - third.1);
            let q = (best.0 - third.0) * (best.1 - second.1);
            let p = (best.0 - third.0) * q - (best.0 - second.0) * r;
            let q = 2.0 * (q - r);
            let (p, q) = if q > 0.0 { (-p, q) } else { (p, -q) };
            if p.abs() < (0.5 * q * before).abs() && p > q * (a - best.0) && p < q * (b - best.0) {
                before = last;
                last = p / q;
                golden = false;
            }
        }
        if golden {
            before = if best.0 >= middle { a - best.0 } else { b - best.0 };
            last = GOLDEN * before;
        }
        let move_by = if last.abs() >= least {
            last
        } else if last >= 0.0 {
            least
        } else {
            -least
        };
        let u = best.0 + move_by;
        let yu = value(f, u).unwrap_or(f64::MAX);
        if yu <= best.1 {
            if u >= best.0 {
                a = best.0
            } else {
                b = best.0
            }
            third = second;
            second = best;
            best = (u, yu);
        } else {
            if u < best.0 {
                a = u
            } else {
                b = u
            }
            if yu <= second.1 || second.0 == best.0 {
                third = second;
                second = (u, yu);
            } else if yu <= third.1 || third.0 == best.0 || third.0 == second.0 {
                third = (u, yu);
            }
        }
    }
    best
}

/// One zero found twice (from two sides, or by crossing and by touching) is one zero; a close pair
/// between which the function truly leaves zero stays a pair.
fn thin(f: &mut Curve, at: &mut Vec<f64>) {
    let mut kept: Vec<f64> = Vec::with_capacity(at.len());
    for &x in at.iter() {
        match kept.last().copied().and_then(|k| one_zero(f, k, x)) {
            Some(zero) => {
                kept.pop();
                kept.push(zero);
            }
            None => kept.push(x),
        }
    }
    *at = kept;
}

/// The zero that both places are; none where they are two.
fn one_zero(f: &mut Curve, k: f64, x: f64) -> Option<f64> {
    let (apart, size) = ((x - k).abs(), x.abs().max(k.abs()));
    if apart <= 8.0 * f64::EPSILON * size {
        return Some(k);
    }
    if !(apart <= 1e-7 * size) {
        return None;
    }
    let ends = [value(f, k), value(f, x)].map(|y| y.unwrap_or(0.0).abs());
    let middle = value(f, k + (x - k) / 2.0).map_or(f64::MAX, f64::abs);
    (middle <= 4.0 * ends[0].max(ends[1])).then_some(if ends[1] < ends[0] { x } else { k })
}
