//! Where a search looks: the values of an unknown at which the layout is solved first.

use super::wish::Wish;
use crate::inputs::{Field, Inputs, Kind, LONGEST, Range, Value};
use offsquare_units::MM_PER_INCH;
use offsquare_units::num;
use offsquare_units::num::Gather;

/// Where to look.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Grid {
    /// Everywhere.
    Wide,
    /// Around the present value.
    Near,
}

/// The values of a field at which a search looks; `scale`: the largest length around; `present`: where
/// it looks closest.
pub(super) fn grid(field: &Field, how: Grid, present: Option<f64>, scale: f64) -> Vec<f64> {
    let mut grid = Vec::new();
    if let (Grid::Near, Some(x)) = (how, present) {
        let size = step_size(field, x, scale);
        for step in [0.001, 0.004, 0.015, 0.06, 0.2, 0.45, 0.8] {
            grid.push(x - size * step);
            grid.push(x + size * step);
        }
    } else {
        match field.kind {
            Kind::Length(range) => lengths(range, scale, &mut grid),
            Kind::Angle(from, to) | Kind::Number(from, to) => span(from, to, &mut grid),
            _ => {}
        }
        if let Some(x) = present {
            for turn in 1..=10 {
                let share = 1.0 / f64::from(1_u32 << turn);
                grid.push(x * (1.0 - share));
                grid.push(x * (1.0 + share));
            }
        }
    }
    grid.extend(present);
    let (from, to) = ends(field);
    grid.retain(|x| *x >= from && *x <= to);
    num::sort(&mut grid);
    grid.dedup();
    grid
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

/// The least and the greatest value of a field.
fn ends(field: &Field) -> (f64, f64) {
    match field.kind {
        Kind::Length(Range::Positive) => (f64::MIN_POSITIVE, LONGEST.0),
        Kind::Length(Range::NotNegative) => (0.0, LONGEST.0),
        Kind::Length(Range::Any) => (-LONGEST.0, LONGEST.0),
        Kind::Angle(from, to) | Kind::Number(from, to) => (from, to),
        _ => (0.0, 0.0),
    }
}

/// Lengths to try: even steps up to twice the scale, and steps that grow by a share far below and above.
fn lengths(range: Range, scale: f64, grid: &mut Vec<f64>) {
    const EVEN: i32 = 80;
    let mut positive: Vec<f64> =
        (1..=EVEN).map(|i| 2.0 * scale * f64::from(i) / f64::from(EVEN)).gather();
    // The very ends tell how far an answer can be brought at all.
    positive.extend([1e-12, 1e-9, 1e-7, 1e5, 1e6].map(|share| scale * share));
    // Below and above the even steps, by shares.
    for (from, to) in [(1e-5, 0.025), (2.0, 1e4)] {
        let mut x = scale * from;
        while x < scale * to {
            positive.push(x);
            x *= 1.25;
        }
    }
    if range == Range::Any {
        grid.extend(positive.iter().map(|x| -x));
    }
    if range != Range::Positive {
        grid.push(0.0);
    }
    grid.extend(positive);
}

/// Even steps from end to end, and closer and closer ones towards both ends.
fn span(from: f64, to: f64, grid: &mut Vec<f64>) {
    const EVEN: i32 = 120;
    let wide = to - from;
    grid.extend((0..=EVEN).map(|i| from + wide * f64::from(i) / f64::from(EVEN)));
    let mut share = wide / f64::from(EVEN);
    for _ in 0..16 {
        share /= 2.0;
        grid.push(from + share);
        grid.push(to - share);
    }
    if from >= 0.0 && to > 1e3 {
        let mut x = to;
        while x > to * 1e-9 {
            x /= 1.2;
            grid.push(from.max(x));
        }
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
                most = all.iter().fold(most, |m, (x, y)| m.max(x.0.abs()).max(y.0.abs()));
            }
            _ => {}
        }
    }
    for w in wishes {
        let angle_or_area = w.path.ends_with("_deg") || w.path.ends_with("area");
        if !angle_or_area {
            let inches = w.value.abs() / if w.metric { MM_PER_INCH } else { 1.0 };
            most = most.max(inches);
        }
    }
    if most > 0.0 { most } else { 1.0 }
}
