//! A leg constructed as a polygon, by cutting a long strip with half planes, and measured.
//!
//! Nothing here uses a closed form of the layout: the strip is placed, cut, and its corners are read.

use geo::{Area, BooleanOps, Coord, LineString, Polygon as GeoPolygon};

pub type Corner = (f64, f64);

/// What a ruler finds on the leg.
#[derive(Clone, Copy, Debug)]
pub struct Measured {
    pub outer: f64,
    pub inner: f64,
    pub top: f64,
    pub bottom: f64,
    pub foot_cut: f64,
    pub span: f64,
    pub area: f64,
}

/// The part of a polygon where x·nx + y·ny ≥ c (Sutherland and Hodgman, 1974).
pub fn keep(polygon: &[Corner], nx: f64, ny: f64, c: f64) -> Vec<Corner> {
    let side = |p: &Corner| p.0 * nx + p.1 * ny - c;
    let mut out = Vec::new();
    for i in 0..polygon.len() {
        let (a, b) = (polygon[i], polygon[(i + 1) % polygon.len()]);
        let (sa, sb) = (side(&a), side(&b));
        if sa >= 0.0 {
            out.push(a);
        }
        if (sa >= 0.0) != (sb >= 0.0) {
            let t = sa / (sa - sb);
            out.push((a.0 + (b.0 - a.0) * t, a.1 + (b.1 - a.1) * t));
        }
    }
    out
}

/// The right leg: `width` of the post with cleats, footprint, depth, lean in degrees.
/// None where no inner edge is left.
pub fn leg(width: f64, footprint: f64, depth: f64, lean: f64, square: bool) -> Option<Measured> {
    let a = lean.to_radians();
    // Up along the leg, and from its outer edge to its inner one.
    let up = (-a.sin(), a.cos());
    let across = (-a.cos(), -a.sin());
    // Long enough to pass the post, short enough to keep the corners exact.
    let long = 2.0 * (footprint / 2.0 + depth) / a.sin();
    let at = |s: f64, v: f64, toe: Corner| {
        (toe.0 + s * up.0 + v * depth * across.0, toe.1 + s * up.1 + v * depth * across.1)
    };
    let strip = |from: f64, toe: Corner| {
        vec![at(from, 0.0, toe), at(long, 0.0, toe), at(long, 1.0, toe), at(from, 1.0, toe)]
    };
    let (toe, uncut) = if square {
        // Set down: the lowest corner of the square foot touches the floor.
        let flat = strip(0.0, (footprint / 2.0, 0.0));
        let low = flat.iter().fold(f64::INFINITY, |m, p| m.min(p.1));
        let toe = (footprint / 2.0, -low);
        (toe, strip(0.0, toe))
    } else {
        let toe = (footprint / 2.0, 0.0);
        let below = depth * (1.0 + a.tan());
        (toe, strip(-below, toe))
    };
    let mut cut = keep(&uncut, 1.0, 0.0, width / 2.0);
    if !square {
        cut = keep(&cut, 0.0, 1.0, 0.0);
    }
    let tiny = 1e-9 * footprint;
    let from_outer = |p: &Corner| (p.0 - toe.0) * across.0 + (p.1 - toe.1) * across.1;
    let along = |p: &Corner| (p.0 - toe.0) * up.0 + (p.1 - toe.1) * up.1;
    let extent =
        |keep: &dyn Fn(&Corner) -> bool, of: &dyn Fn(&Corner) -> f64| -> Option<(f64, f64)> {
            let mut all = cut.iter().filter(|p| keep(p)).map(of);
            let first = all.next()?;
            Some(all.fold((first, first), |(l, h), x| (l.min(x), h.max(x))))
        };
    let outer = extent(&|p| from_outer(p).abs() < tiny, &along)?;
    let inner = extent(&|p| (from_outer(p) - depth).abs() < tiny, &along)?;
    let face = extent(&|p| (p.0 - width / 2.0).abs() < tiny, &|p| p.1)?;
    let floor = extent(&|p| p.1.abs() < tiny, &|p| p.0)?;
    if inner.1 - inner.0 < tiny {
        return None;
    }
    let foot_cut = if square { depth } else { floor.1 - floor.0 };
    Some(Measured {
        outer: outer.1 - outer.0,
        inner: inner.1 - inner.0,
        top: face.1,
        bottom: face.0,
        foot_cut,
        span: 2.0 * floor.1,
        area: boolean_area(&uncut, width, square),
    })
}

/// Area of the leg by the geometry library's boolean operations.
fn boolean_area(strip: &[Corner], width: f64, square: bool) -> f64 {
    let ring = |p: &[Corner]| {
        GeoPolygon::new(LineString(p.iter().map(|c| Coord { x: c.0, y: c.1 }).collect()), vec![])
    };
    let far = 4.0 * strip.iter().fold(1.0_f64, |m, p| m.max(p.0.abs()).max(p.1.abs()));
    let floor = if square { -far } else { 0.0 };
    let room = [(width / 2.0, floor), (far, floor), (far, far), (width / 2.0, far)];
    ring(strip).intersection(&ring(&room)).unsigned_area()
}
