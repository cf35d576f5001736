//! From whatever sizes were given to all of them: base = top + left inset + right inset, and on each
//! side inset, rise, slope length and reading are one right triangle.

use crate::inputs::{Inputs, Value};
use crate::layouts::Refused;
use crate::problem::Problem;
use offsquare_units::num::Gather;
use offsquare_units::{Angle, Length, Quantity, lower_first, num, say};

/// All sizes of an end board, inches.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sizes {
    pub base: f64,
    pub top: f64,
    pub height: f64,
    pub shoulder: f64,
    pub left: f64,
    pub right: f64,
}

impl Sizes {
    /// From the shoulder to the top.
    pub fn rise(&self) -> f64 {
        self.height - self.shoulder
    }
}

/// What may be given, in the order in which it is believed: a later one gives way to the earlier.
const KEYS: [&str; 9] = [
    "base_width",
    "top_width",
    "height",
    "left_inset",
    "right_inset",
    "left_reading_deg",
    "right_reading_deg",
    "left_slope_length",
    "right_slope_length",
];
const BASE: usize = 0;
const TOP: usize = 1;
const HEIGHT: usize = 2;
const LEFT: usize = 3;
const RIGHT: usize = 4;
/// Reading of the side whose inset has index LEFT + i: READING + i; its slope length: SLOPE + i.
const READING: usize = 5;
const SLOPE: usize = 7;

const RIGHT_READING: usize = READING + 1;

const NAMES: [&str; 9] = [
    "Base width",
    "Top width",
    "Height",
    "Left inset",
    "Right inset",
    "Left reading",
    "Right reading",
    "Left slope length",
    "Right slope length",
];

/// Two sizes agree within so many inches or degrees, of very large lengths within a thousandth of this share.
const EXACT: f64 = 1e-9;

type Given = [Option<f64>; 9];

/// Which way the left and the right slope lean: 1 in, -1 out. A reading or a slope length does not say.
type Leans = [f64; 2];
const LEANS: [Leans; 4] = [[1.0, 1.0], [-1.0, -1.0], [1.0, -1.0], [-1.0, 1.0]];

/// Every set of sizes, and a warning for each given size that cannot be true beside the others; such a
/// size is then left aside, the last of the list above first.
///
/// Where no inset and no slope is given the board is symmetric. Slopes that between this base and this top may
/// lean in or out give several boards: the one that is nearest to symmetric first, of those alike the one that leans in.
/// Examples: base 12, top 5, left inset 2 and right inset 6: 12 - 5 - 2 = 5, so the right inset is off
/// by 1 and 5 is used. Base 10, top 14, height 8, right reading atan(2/8): insets -2 and -2, and -6 and 2.
pub fn complete(inputs: &Inputs) -> Result<(Vec<Sizes>, Vec<Problem>), Refused> {
    let shoulder = inputs.inches("shoulder_height").unwrap_or(0.0);
    let mut given: Given = [None; 9];
    for (slot, key) in given.iter_mut().zip(KEYS) {
        *slot = inputs.need(key).ok();
    }
    if let Some(height) = given[HEIGHT]
        && shoulder >= height
    {
        let words = "The shoulder must be below the top: less than the height, {}.";
        return Err(Problem::at_limit("shoulder_height", words, Length(height)).into());
    }
    let mut problems = Vec::new();
    loop {
        let first = spread(&given, shoulder, LEANS[0])?;
        let found = agreeing_sizes(&given, shoulder);
        if !found.is_empty() {
            return Ok((found, problems));
        }
        let Some(surplus) = first_surplus(&given, &first, shoulder) else {
            return Err(Refused::Missing);
        };
        problems.push(contradiction(&given, surplus, shoulder));
        given[surplus] = None;
    }
}

/// The sizes that nothing given contradicts, the nearest to symmetric first.
fn agreeing_sizes(given: &Given, shoulder: f64) -> Vec<Sizes> {
    let mut out: Vec<Sizes> = Vec::new();
    let alike = exact(given);
    // First without readings and slopes: one that only says again what follows anyway moves nothing.
    let mut plain = *given;
    plain[READING..].fill(None);
    let tries = LEANS.iter().map(|leans| (given, *leans));
    for (from, leans) in std::iter::once((&plain, LEANS[0])).chain(tries) {
        let Ok(all) = spread(from, shoulder, leans) else { continue };
        let Some(sizes) = sizes_of(&all, shoulder) else { continue };
        let same = |o: &Sizes| {
            let pairs = [(o.left, sizes.left), (o.right, sizes.right), (o.height, sizes.height)];
            pairs.iter().all(|(a, b)| (a - b).abs() <= alike)
        };
        if first_surplus(given, &all, shoulder).is_none() && !out.iter().any(same) {
            out.push(sizes);
        }
        // Where base and top do not tell, a side leans in, as its field says.
        if !out.is_empty() && (given[BASE].is_none() || given[TOP].is_none()) {
            break;
        }
    }
    let uneven = |s: &Sizes| (s.left - s.right).abs();
    let mut order: Vec<(usize, Sizes)> = out.into_iter().enumerate().gather();
    num::sort_by(&mut order, |(i, a), (j, b)| {
        let apart = uneven(a) - uneven(b);
        let by_place = i.cmp(j);
        if apart.abs() <= alike { by_place } else { apart.total_cmp(&0.0) }
    });
    order.into_iter().map(|(_, s)| s).gather()
}

fn sizes_of(all: &Given, shoulder: f64) -> Option<Sizes> {
    Some(Sizes {
        base: all[BASE]?,
        top: all[TOP]?,
        height: all[HEIGHT]?,
        shoulder,
        left: all[LEFT]?,
        right: all[RIGHT]?,
    })
}

/// Fills in all that follows from what was given. An impossible triangle is a problem.
fn spread(given: &Given, shoulder: f64, leans: Leans) -> Result<Given, Refused> {
    let mut all = *given;
    for _ in 0..16 {
        let before = all;
        fill_sum(&mut all);
        for side in 0..2 {
            fill_side(&mut all, side, leans[side], shoulder)?;
        }
        if all == before {
            if let ([Some(base), Some(top)], [None, None]) =
                ([all[BASE], all[TOP]], [all[LEFT], all[RIGHT]])
            {
                all[LEFT] = Some((base - top) / 2.0);
                all[RIGHT] = all[LEFT];
                continue;
            }
            break;
        }
    }
    if all[..5].iter().any(Option::is_none) {
        return Err(Refused::Missing);
    }
    Ok(all)
}

/// base = top + left + right: any three give the fourth.
fn fill_sum(all: &mut Given) {
    match (all[BASE], all[TOP], all[LEFT], all[RIGHT]) {
        (None, Some(t), Some(l), Some(r)) => all[BASE] = Some(t + l + r),
        (Some(b), None, Some(l), Some(r)) => all[TOP] = Some(b - l - r),
        (Some(b), Some(t), None, Some(r)) => all[LEFT] = Some(b - t - r),
        (Some(b), Some(t), Some(l), None) => all[RIGHT] = Some(b - t - l),
        _ => {}
    }
}

/// One side's right triangle: two of inset, rise, slope length and reading give the rest.
fn fill_side(all: &mut Given, side: usize, lean: f64, shoulder: f64) -> Result<(), Refused> {
    let (inset, angle, slope) = (all[LEFT + side], all[READING + side], all[SLOPE + side]);
    if all[HEIGHT].is_none() {
        let rise = match (inset, angle, slope) {
            (Some(i), Some(a), _) if a > 0.0 => Some(i.abs() / num::tan_deg(a)),
            (Some(i), _, Some(s)) => {
                if s <= i.abs() {
                    return Err(too_short(side, i.abs(), "as its inset"));
                }
                Some(leg(s, i))
            }
            (None, Some(a), Some(s)) => Some(s * num::cos_deg(a)),
            _ => None,
        };
        all[HEIGHT] = rise.map(|v| v + shoulder);
    } else if inset.is_none() {
        let rise = all[HEIGHT].unwrap_or(0.0) - shoulder;
        let found = match (angle, slope) {
            (Some(a), _) if a >= 90.0 => return Err(no_slope(side)),
            (Some(a), _) => Some(rise * num::tan_deg(a)),
            (None, Some(s)) => {
                if s < rise {
                    return Err(too_short(side, rise, "as it rises"));
                }
                Some(leg(s, rise))
            }
            (None, None) => None,
        };
        all[LEFT + side] = found.map(|inset| lean * inset);
    }
    Ok(())
}

/// The other leg of a right triangle, without losing figures where the two are nearly alike.
fn leg(slope: f64, other: f64) -> f64 {
    num::sqrt(((slope - other.abs()) * (slope + other.abs())).max(0.0))
}

fn too_short(side: usize, least: f64, than: &'static str) -> Refused {
    let (key, name) = [(KEYS[SLOPE], "The left slope"), (KEYS[SLOPE + 1], "The right slope")][side];
    let least = Length(least);
    let text = say!("{} must be longer than {}: at least as far {}.", name, least, than);
    Problem::stop(key, text).with_limit(least).into()
}

/// A side that lies level never rises to the top.
fn no_slope(side: usize) -> Refused {
    let (key, name) = (KEYS[READING + side], NAMES[READING + side]);
    let text = say!("{} must be less than {}: the side rises to the top.", name, Angle(90.0));
    Problem::stop(key, text).with_limit(Angle(90.0)).into()
}

/// Index of the last given size that the rest contradicts.
fn first_surplus(given: &Given, all: &Given, shoulder: f64) -> Option<usize> {
    let (b, t, l, r) = (all[BASE]?, all[TOP]?, all[LEFT]?, all[RIGHT]?);
    if (b - t - l - r).abs() > exact(given) {
        let sum_key = |i: &usize| given[*i].is_some();
        // An inset that came from a slope or a reading is not itself given: those give way then.
        let by_side =
            |side: usize| [LEFT + side, READING + side, SLOPE + side].into_iter().find(sum_key);
        return by_side(1)
            .or_else(|| by_side(0))
            .or_else(|| Some(TOP).filter(sum_key))
            .or_else(|| Some(BASE).filter(sum_key));
    }
    (READING..KEYS.len()).rev().find(|i| {
        given[*i].is_some_and(|was| {
            let is = sizes_of(all, shoulder).and_then(|s| implied(&s, *i));
            is.is_some_and(|is| (is - was).abs() > allowed(given, *i))
        })
    })
}

fn allowed(given: &Given, i: usize) -> f64 {
    if is_angle(i) { EXACT } else { exact(given) }
}

fn is_angle(i: usize) -> bool {
    i == READING || i == RIGHT_READING
}

fn exact(given: &Given) -> f64 {
    let largest = given
        .iter()
        .enumerate()
        .filter(|(i, _)| !is_angle(*i))
        .fold(0.0, |m: f64, (_, v)| m.max(v.unwrap_or(0.0).abs()));
    EXACT.max(1e-3 * EXACT * largest)
}

/// What a size is by all the others.
fn implied(s: &Sizes, i: usize) -> Option<f64> {
    let sides = [s.left, s.right];
    Some(match i {
        BASE => s.base,
        TOP => s.top,
        HEIGHT => s.height,
        LEFT | RIGHT => sides[i - LEFT],
        READING | RIGHT_READING => num::atan2_deg(sides[i - READING].abs(), s.rise()),
        _ => num::hypot(*sides.get(i.checked_sub(SLOPE)?)?, s.rise()),
    })
}

/// The value that this size would have if it were the one that gives; none where the others leave it
/// open or still contradict each other.
fn agreeing(given: &Given, i: usize, shoulder: f64) -> Option<f64> {
    let mut others = *given;
    others[i] = None;
    let sizes = agreeing_sizes(&others, shoulder).into_iter().next()?;
    implied(&sizes, i).filter(|v| v.is_finite())
}

fn quantity(i: usize, value: f64) -> Quantity {
    if is_angle(i) { Quantity::Angle(Angle(value)) } else { Quantity::Length(Length(value)) }
}

fn contradiction(given: &Given, surplus: usize, shoulder: f64) -> Problem {
    let was = given[surplus].unwrap_or(0.0);
    let mut problem = Problem::warn(KEYS[surplus], "");
    let Some(is) = agreeing(given, surplus, shoulder) else {
        // More than one is off: this one is left aside and the rest is looked at again.
        problem.text = say!(
            "{} {} does not agree with the other sizes and was left aside.",
            NAMES[surplus],
            quantity(surplus, was)
        );
        problem.by = None;
        return problem;
    };
    let by = quantity(surplus, (is - was).abs());
    problem.text = say!(
        "These sizes cannot all be true: by the others, the {} is {}, not {}; it is off by {}.",
        lower_first(NAMES[surplus]),
        quantity(surplus, is),
        quantity(surplus, was),
        by
    );
    problem.by = Some(by);
    let agree = |i: usize| Value::of(quantity(i, agreeing(given, i, shoulder)?));
    let given = (0..KEYS.len()).filter(|i| given[*i].is_some());
    given.fold(problem, |problem, i| problem.mended_by(KEYS[i], agree(i)))
}
