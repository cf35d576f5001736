//! Every lean at which a leg has a wished size.
//!
//! A size as a function of the lean falls or rises between breakpoints: the ends of the leans that
//! leave an inner edge, and the exact places where the function turns. Between two breakpoints there
//! is one solution or none, so none is missed however close two lie, and the values at the
//! breakpoints are the limits that are named where there is none.

use super::lean::{Foot, Lean, Stance};
use offsquare_units::num::Gather;
use offsquare_units::{Angle, Length, Quantity, num};

/// The size from which the lean is found.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Basis {
    LongPoint,
    RiseTop,
    Splay,
    OverallHeight,
    ShortPoint,
    RiseMiddle,
    RiseBottom,
}

/// Why there is no lean: the size must pass this limit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Refusal {
    /// A length in inches, or degrees for the splay.
    pub limit: f64,
    /// The size must be above the limit (else below it).
    pub above: bool,
}

/// A stretch of leans ends here, or the size turns here: t = tan(lean / 2), and the size (its limit,
/// at an end).
type Break = (f64, f64);

/// All leans, rising, at which `basis` measures `value` (inches; degrees for the splay) and an inner
/// edge is left. For a level foot `run` must be more than `depth`.
///
/// Example: run 6, level foot, long point 12: one lean, 30°.
pub fn leans(s: &Stance, basis: Basis, value: f64) -> Result<Vec<Lean>, Refusal> {
    if basis == Basis::Splay {
        return splay(s, value);
    }
    let breaks = breaks(s, basis);
    let found = match closed(s, basis, value, &breaks) {
        Some(t) => t,
        None => between(&|t| size(s, basis, t), &breaks, value),
    };
    let kept: Vec<Lean> = found
        .into_iter()
        .filter(|t| *t > 0.0 && *t < 1.0 && s.inner_edge(*t) > 0.0)
        .map(Lean::of_t)
        .gather();
    if kept.is_empty() {
        return Err(refusal(&breaks, value));
    }
    Ok(kept)
}

fn splay(s: &Stance, degrees: f64) -> Result<Vec<Lean>, Refusal> {
    let (least, most) = match s.foot {
        Foot::Floor => (0.0, 2.0 * num::atan_deg(vanishing(s))),
        Foot::Square if s.run < s.depth => (2.0 * num::atan_deg(vanishing(s)), 90.0),
        Foot::Square => (0.0, 90.0),
    };
    let lean = Lean::of_degrees(Angle(degrees));
    if degrees > least && degrees < most && s.inner_edge(lean.t) > 0.0 {
        return Ok(vec![lean]);
    }
    let above = degrees <= least || (s.foot == Foot::Square && degrees < most);
    Err(Refusal { limit: if above { least } else { most }, above })
}

/// t of the lean at which the inner edge vanishes: cos(lean) = depth/run (level foot, run > depth) or
/// run/depth (square foot, run < depth).
fn vanishing(s: &Stance) -> f64 {
    num::sqrt((s.run - s.depth).abs() / (s.run + s.depth))
}

fn size(s: &Stance, basis: Basis, t: f64) -> f64 {
    match basis {
        Basis::LongPoint => s.outer_edge(t),
        Basis::ShortPoint => s.inner_edge(t),
        Basis::RiseTop => s.rise_top(t),
        Basis::RiseMiddle => s.rise_middle(t),
        Basis::RiseBottom | Basis::OverallHeight => s.rise_bottom(t),
        Basis::Splay => Lean::of_t(t).degrees,
    }
}

/// Ends of the leans that leave an inner edge and turning places, by rising lean.
fn breaks(s: &Stance, basis: Basis) -> Vec<Break> {
    let (r, d) = (s.run, s.depth);
    let edge = vanishing(s);
    // √|run² − depth²| without losing a small difference.
    let q = num::sqrt((r - d).abs() * (r + d));
    if s.foot == Foot::Floor {
        // Every size falls from endless to its value where the inner edge vanishes, cos(lean) = d/r.
        let last = match basis {
            Basis::LongPoint => r * (r / q),
            Basis::RiseTop => r * (d / q),
            Basis::RiseMiddle => r * (d / q) / 2.0,
            _ => 0.0,
        };
        return vec![(0.0, f64::INFINITY), (edge, last)];
    }
    // Lying down, at 90°.
    let flat = match basis {
        Basis::LongPoint | Basis::ShortPoint => r,
        Basis::RiseTop => d,
        Basis::RiseMiddle => d / 2.0,
        _ => 0.0,
    };
    let first = if r >= d {
        let endless = if r == d
            && matches!(basis, Basis::ShortPoint | Basis::RiseBottom | Basis::OverallHeight)
        {
            0.0
        } else {
            f64::INFINITY
        };
        (0.0, endless)
    } else {
        // Just after the inner edge appears, cos(lean) = r/d.
        let value = match basis {
            Basis::LongPoint => r * (d / q),
            Basis::RiseTop => d * (d / q),
            Basis::RiseMiddle => d * (d / q) / 2.0,
            _ => 0.0,
        };
        (edge, value)
    };
    let mut all = vec![first];
    match basis {
        Basis::ShortPoint if r > d => all.push((edge, q)),
        Basis::RiseMiddle => all.extend(turn_of_middle(s)),
        Basis::RiseBottom | Basis::OverallHeight => all.extend(turns_of_bottom(s)),
        _ => {}
    }
    all.push((1.0, flat));
    all
}

/// Where the joint's middle, square foot, stops rising with the lean and falls again. Its slope has
/// the sign of 3/2 u − u³ − run/depth, u = cos(lean); 3/2 u − u³ rises up to u = 1/√2, where it is 1/√2.
fn turn_of_middle(s: &Stance) -> Option<Break> {
    let ratio = s.run / s.depth;
    let top = core::f64::consts::FRAC_1_SQRT_2;
    if ratio >= top {
        return None;
    }
    let u = halve(0.0, top, &|u| u * (1.5 - u * u) < ratio);
    let t = num::sqrt((1.0 - u) / (1.0 + u));
    Some((t, s.rise_middle(t)))
}

/// Where the joint's lower end, square foot, turns. Its slope has the sign of 2u − u³ − run/depth,
/// u = cos(lean); with v = 1 − u that is v − 3v² + v³ − (run − depth)/depth, which keeps a small
/// difference between run and depth. v − 3v² + v³ rises to 0.0887 at v = 1 − √(2/3), then falls to −1.
fn turns_of_bottom(s: &Stance) -> Vec<Break> {
    let excess = (s.run - s.depth) / s.depth;
    let slope = |v: f64| v * (1.0 + v * (v - 3.0));
    let summit = 1.0 - num::sqrt(2.0 / 3.0);
    if excess >= slope(summit) {
        return Vec::new();
    }
    let at = |v: f64| {
        let t = num::sqrt(v / (2.0 - v));
        (t, s.rise_bottom(t))
    };
    let mut turns = Vec::new();
    if excess > 0.0 {
        turns.push(at(halve(0.0, summit, &|v| slope(v) < excess)));
    }
    turns.push(at(halve(summit, 1.0, &|v| slope(v) > excess)));
    turns
}

/// Solutions that have a closed form, exact to the last bits even where the size is flat.
fn closed(s: &Stance, basis: Basis, x: f64, breaks: &[Break]) -> Option<Vec<f64>> {
    let (r, d) = (s.run, s.depth);
    match (basis, s.foot) {
        // sin = r/x.
        (Basis::LongPoint, _) => {
            let inside = breaks.iter().any(|b| b.1 > x) && breaks.iter().any(|b| b.1 < x);
            Some(if inside { vec![r / (x + num::sqrt((x - r) * (x + r)))] } else { Vec::new() })
        }
        // tan = r/x.
        (Basis::RiseTop, Foot::Floor) => Some(vec![r / (x + num::hypot(x, r))]),
        // r·cos − k = x·sin with k = d/2 or d is (r + k)t² + 2xt − (r − k) = 0.
        (Basis::RiseMiddle, Foot::Floor) => Some(vec![across(r, d / 2.0, x)]),
        (Basis::RiseBottom | Basis::OverallHeight, Foot::Floor) => Some(vec![across(r, d, x)]),
        // r − d·cos = x·sin is (r + d)t² − 2xt + (r − d) = 0.
        (Basis::ShortPoint, Foot::Square) => {
            let product = (r - d) * (r + d);
            let mut under = x * x - product;
            if under < 0.0 && under > -8.0 * f64::EPSILON * x * x {
                under = 0.0;
            }
            if under < 0.0 || x <= 0.0 {
                return Some(Vec::new());
            }
            let sum = x + num::sqrt(under);
            let (low, high) = ((r - d) / sum, sum / (r + d));
            Some(if under == 0.0 {
                vec![vanishing(s)]
            } else {
                // The flatter one lies down when x reaches r, the steeper one needs r > d.
                let steep = (r > d).then_some(low);
                let flat = (x < r).then_some(high);
                steep.into_iter().chain(flat).gather()
            })
        }
        _ => None,
    }
}

/// The positive t of (r + k)t² + 2xt − (r − k) = 0.
fn across(r: f64, k: f64, x: f64) -> f64 {
    let less = r - k;
    less / (x + num::sqrt(x * x + less * (r + k)))
}

/// Every t at which `f` is `target`: one in each stretch whose ends lie on either side of it, and a
/// turning place that it just touches.
fn between(f: &dyn Fn(f64) -> f64, breaks: &[Break], target: f64) -> Vec<f64> {
    let touch = 8.0 * f64::EPSILON * target.abs();
    let touches = |b: &Break| (b.1 - target).abs() <= touch;
    let mut found = Vec::new();
    for (i, pair) in breaks.windows(2).enumerate() {
        let (a, b) = (pair[0], pair[1]);
        // A turning place is an inner break; the outer ones are never reached.
        if i > 0 && touches(&a) {
            found.push(a.0);
        }
        let skip = (i > 0 && touches(&a)) || (i + 2 < breaks.len() && touches(&b));
        if skip || (a.1 > target) == (b.1 > target) {
            continue;
        }
        let falls = a.1 > target;
        found.push(halve(a.0, b.0, &|t| (f(t) > target) == falls));
    }
    found
}

/// The last number in [lo, hi] for which `before` holds, where it holds from `lo` up to one place.
/// Halves until the two ends are neighbours.
fn halve(lo: f64, hi: f64, before: &dyn Fn(f64) -> bool) -> f64 {
    let (mut lo, mut hi) = (lo, hi);
    loop {
        let middle = lo + (hi - lo) / 2.0;
        if middle <= lo || middle >= hi {
            // From a lean of nothing the first number is no lean: the neighbour is.
            return if lo > 0.0 { lo } else { hi };
        }
        if before(middle) {
            lo = middle;
        } else {
            hi = middle;
        }
    }
}

/// The limit that `value` passed.
fn refusal(breaks: &[Break], value: f64) -> Refusal {
    let least = breaks.iter().fold(f64::INFINITY, |m, b| m.min(b.1));
    let most = breaks.iter().fold(0.0_f64, |m, b| m.max(b.1));
    if value <= least || most == f64::INFINITY {
        Refusal { limit: least, above: true }
    } else {
        Refusal { limit: most, above: false }
    }
}

impl Basis {
    pub const ALL: [Basis; 7] = [
        Basis::LongPoint,
        Basis::RiseTop,
        Basis::Splay,
        Basis::OverallHeight,
        Basis::ShortPoint,
        Basis::RiseMiddle,
        Basis::RiseBottom,
    ];
    /// The answer (and input) that it is.
    pub fn key(self) -> &'static str {
        match self {
            Basis::LongPoint => "long_point_length",
            Basis::RiseTop => "rise_to_joint_top",
            Basis::Splay => "splay_deg",
            Basis::OverallHeight => "overall_height",
            Basis::ShortPoint => "short_point_length",
            Basis::RiseMiddle => "rise_to_joint_middle",
            Basis::RiseBottom => "rise_to_joint_bottom",
        }
    }
    /// GEOMETRY's word for it in `given`.
    pub fn given(self) -> &'static str {
        match self {
            Basis::LongPoint => "long_point",
            Basis::RiseTop => "rise_top",
            Basis::Splay => "splay",
            Basis::OverallHeight => "overall_height",
            Basis::ShortPoint => "short_point",
            Basis::RiseMiddle => "rise_middle",
            Basis::RiseBottom => "rise_bottom",
        }
    }
    /// Its number as a quantity.
    pub fn quantity(self, x: f64) -> Quantity {
        match self {
            Basis::Splay => Quantity::Angle(Angle(x)),
            _ => Quantity::Length(Length(x)),
        }
    }
}
