//! The hatch on what falls off.

use offsquare_geometry::Point;
use offsquare_units::num;
use offsquare_units::num::Gather;

/// Lines rising to the right at 45° inside a closed outline, `apart` from one another (measured
/// square to them), in the outline's own coordinates with y down. They lie on one fixed grid, so that
/// the hatches of neighboring areas run through. Even-odd where the outline crosses itself.
///
/// At most 600 lines; a larger area is hatched wider.
pub fn hatch(outline: &[Point], apart: f64) -> Vec<(Point, Point)> {
    // On such a line x + y is constant.
    let sums = outline.iter().map(|p| p.x + p.y);
    let (least, most) =
        sums.fold((f64::INFINITY, f64::NEG_INFINITY), |(lo, hi), s| (lo.min(s), hi.max(s)));
    let mut step = apart * std::f64::consts::SQRT_2;
    if !(step > 0.0) || !(most - least).is_finite() {
        return Vec::new();
    }
    if (most - least) / step > 600.0 {
        step = (most - least) / 600.0;
    }
    let first = num::ceil(least / step);
    let count = num::floor(most / step) - first + 1.0;
    let mut lines = Vec::new();
    for k in 0..count.clamp(0.0, 601.0) as u32 {
        let sum = (first + f64::from(k)) * step;
        let mut xs: Vec<f64> = (0..outline.len())
            .filter_map(|i| {
                let (a, b) = (outline[i], outline[(i + 1) % outline.len()]);
                let (sa, sb) = (a.x + a.y, b.x + b.y);
                // Half open, so that a corner counts once.
                ((sa <= sum) != (sb <= sum)).then(|| a.x + (b.x - a.x) * (sum - sa) / (sb - sa))
            })
            .gather();
        num::sort(&mut xs);
        for pair in xs.chunks_exact(2) {
            lines.push((Point::new(pair[0], sum - pair[0]), Point::new(pair[1], sum - pair[1])));
        }
    }
    lines
}
