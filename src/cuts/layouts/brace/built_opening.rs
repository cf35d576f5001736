//! The corners of an opening as built, from its four sides and one diagonal.

use super::landing::Opening;
use crate::inputs::{Inputs, Missing};
use crate::layouts::Refused;
use crate::problem::Problem;
use offsquare_geometry::{Point, cross};
use offsquare_units::{Length, num};

/// The opening, or what keeps the sides from closing.
///
/// Corner 1 (lower left) is at the origin and corner 2 (lower right) on +x; the corners run
/// counter-clockwise, and each is less than 180° or there is no such opening.
pub fn opening(inputs: &Inputs) -> Result<Opening, Refused> {
    let side = |key| inputs.need(key);
    let sides = [side("bottom")?, side("right")?, side("top")?, side("left")?];
    let [b, r, t, l] = sides;
    for (side, key) in sides.into_iter().zip(["bottom", "right", "top", "left"]) {
        let rest = b + r + t + l - side;
        if side >= rest {
            let words = "These four sides do not close: this one must be shorter than the other \
                         three together, {}.";
            return Err(Problem::at_limit(key, words, Length(rest)).into());
        }
    }
    match (side("diagonal_up"), side("diagonal_down")) {
        (Ok(up), _) => {
            closed("diagonal_up", sides, up)?;
            // Triangle 1-2-3 on the bottom; corner 4 over the diagonal, on its left.
            let c3 = apex(b, up, r);
            let over = apex(up, l, t);
            let c4 = along(c3, up, over);
            convex("diagonal_up", straight(b, l, r, t), [Point::ORIGIN, Point::new(b, 0.0), c3, c4])
        }
        (Err(_), Ok(down)) => {
            closed("diagonal_down", [b, l, t, r], down)?;
            // Triangle 1-2-4 on the bottom; corner 3 over the other diagonal, seen from corner 2.
            let c4 = apex(b, l, down);
            let over = apex(down, r, t);
            // From corner 2 towards corner 4 with its right side up: the mirror image of the above.
            let flipped = Point::new(b - c4.x, c4.y);
            let c3 = along(flipped, down, over);
            convex(
                "diagonal_down",
                straight(b, r, l, t),
                [Point::ORIGIN, Point::new(b, 0.0), Point::new(b - c3.x, c3.y), c4],
            )
        }
        (Err(Missing), Err(Missing)) => Err(Refused::Missing),
    }
}

/// A diagonal closes two triangles: with the first two sides, and with the last two.
fn closed(key: &'static str, [b, r, t, l]: [f64; 4], diagonal: f64) -> Result<(), Refused> {
    let least = (b - r).abs().max((l - t).abs());
    let most = (b + r).min(l + t);
    let (limit, words) = if diagonal >= most {
        (most, "No opening has this diagonal: with these sides it must be shorter than {}.")
    } else if diagonal <= least {
        (least, "No opening has this diagonal: with these sides it must be longer than {}.")
    } else {
        return Ok(());
    };
    Err(Problem::at_limit(key, words, Length(limit)).into())
}

/// The third corner of a triangle that stands on `base` from the origin along +x: `from_start` off
/// its start and `from_end` off its end.
///
/// The height is from the area by Kahan's arrangement of Heron's formula, which stays exact for needles
/// (W. Kahan, "Miscalculating Area and Angles of a Needle-like Triangle", from memory).
fn apex(base: f64, from_start: f64, from_end: f64) -> Point {
    let x = (base + (from_start - from_end) / base * (from_start + from_end)) / 2.0;
    let mut s = [base, from_start, from_end];
    num::sort_by(&mut s, |p, q| q.total_cmp(p));
    let [a, b, c] = s;
    // In shares of the longest, so that no product overflows.
    let (b, c) = (b / a, c / a);
    let four = (1.0 + (b + c)) * (c - (1.0 - b)) * (c + (1.0 - b)) * (1.0 + (b - c));
    let area = num::sqrt(four.max(0.0)) / 4.0;
    Point::new(x, 2.0 * area * (a / base) * a)
}

/// A point given along and to the left of the line from the origin to `end`, `length` away.
fn along(end: Point, length: f64, p: Point) -> Point {
    let (ux, uy) = (end.x / length, end.y / length);
    Point::new(ux * p.x - uy * p.y, uy * p.x + ux * p.y)
}

/// The diagonal that makes one of its own two corners straight: the sides of one of them are p and q, those of
/// the other r (beside p) and s (Stewart's theorem; the corner with the shorter sides gets straight).
fn straight(p: f64, q: f64, r: f64, s: f64) -> f64 {
    if p + q > r + s {
        return straight(r, s, p, q);
    }
    num::sqrt(((r * r * q + s * s * p) / (p + q) - p * q).max(0.0))
}

fn convex(key: &'static str, least: f64, corners: [Point; 4]) -> Result<Opening, Refused> {
    let at = |i: usize| corners[i % 4];
    let turns_left = |i: usize| cross(at(i + 1) - at(i), at(i + 2) - at(i + 1)) > 0.0;
    if (0..4).all(turns_left) {
        Ok(Opening(corners))
    } else {
        let words = "With these sides and this diagonal a corner would point inward: it must be \
                     longer than {}.";
        Err(Problem::at_limit(key, words, Length(least)).into())
    }
}
