//! Marks rounded to what a tape shows, each by itself.

use crate::layouts::{Answer, Answers};
use offsquare_units::num::Gather;
use offsquare_units::{Quantity, num};

/// Nearest whole number of steps, exact halves upwards in spite of binary fractions.
fn steps(at: f64, step: f64) -> f64 {
    let v = at / step;
    num::floor(v + 0.5 + 1e-9 * (1.0 + v.abs() * 1e-6))
}

/// Each center rounded by itself; the last error if one rounded distance were stepped off instead
/// (where the last mark would land less where it belongs).
///
/// Example: 7 holes 1 1/2 wide in 36 in: gaps of 3 3/16 strong; each mark within 1/32 in.
pub fn rounded(centres: &[f64], distance: Option<f64>, step: f64) -> Answers {
    let numerators: Vec<f64> = centres.iter().map(|c| steps(*c, step)).gather();
    let marks: Vec<f64> = numerators.iter().map(|n| n * step).gather();
    let worst = marks.iter().zip(centres).fold(0.0, |m: f64, (a, b)| m.max((a - b).abs()));
    let stepped = match (numerators.first(), centres.last(), distance) {
        (Some(first), Some(last), Some(distance)) => {
            let n = centres.len() as f64 - 1.0;
            (first + n * steps(distance, step)) * step - last
        }
        (Some(first), Some(last), None) => first * step - last,
        _ => 0.0,
    };
    let mut out = Answers::new();
    out.put("mark_numerators", Answer::list(numerators.into_iter().map(Quantity::Count)))
        .lengths("marks", marks)
        .length("largest_error", worst)
        .length("last_mark_error_if_stepped_off", stepped);
    out
}
