//! The ends of a part: how far each reaches, how a part may lie, and how close two may come.

use offsquare_units::num;

/// How far edge A reaches beyond edge B at an end, in the unit of `width`; negative where edge B
/// reaches further. `reach(3.5, 45.0)` is 3.5.
pub fn reach(width: f64, angle: f64) -> f64 {
    width * num::tan_deg(angle)
}

/// Kerf along the board of a cut at `angle` degrees off square: k / cos(angle).
pub fn kerf_along(kerf: f64, angle: f64) -> f64 {
    kerf / num::cos_deg(angle)
}

/// The two end angles of a part as it lies: turned end for end, flipped over, or both.
/// `lying(45.0, 30.0, true, false)` is (-30, -45).
pub fn lying(left: f64, right: f64, turned: bool, flipped: bool) -> (f64, f64) {
    let (l, r) = if turned { (-right, -left) } else { (left, right) };
    if flipped { (-l, -r) } else { (l, r) }
}

/// The ways in which a part may lie, as (turned, flipped).
pub fn positions(one_good_face: bool) -> &'static [(bool, bool)] {
    const ALL: [(bool, bool); 4] = [(false, false), (true, false), (false, true), (true, true)];
    if one_good_face { &ALL[..2] } else { &ALL }
}

/// Least distance D(a, b) from the right tip of one part to the left tip of the next, for a right
/// end at `a` and a left end at `b` degrees; negative where they nest.
///
/// Parallel ends share one cut: width 3.5, kerf 1/8, 45° against -45° gives
/// 0.125 / cos 45° - 3.5 = -3.3232.
pub fn separation(width: f64, kerf: f64, a: f64, b: f64) -> f64 {
    let (oa, ob) = (reach(width, a), reach(width, b));
    let steepest = kerf_along(kerf, a).max(kerf_along(kerf, b));
    let at_b_edge = (-oa).max(0.0) + (-ob).max(0.0);
    let at_a_edge = oa.max(0.0) + ob.max(0.0);
    steepest - at_b_edge.min(at_a_edge)
}
