//! The whole box as solids.

use crate::geometry::{Point3, Solid};
use crate::num;

/// The boards of a box with n equal sides, around the z axis; `lost` as in the layout.
pub fn regular(n: u32, bottom: f64, top: f64, lost: f64, h: f64) -> Vec<Solid> {
    let half = 180.0 / f64::from(n);
    let radius = |side: f64| side / (2.0 * num::sin_deg(half));
    let at = |k: u32, side: f64, z: f64| {
        let angle = f64::from(k) * 2.0 * half;
        let r = radius(side);
        Point3::new(r * num::cos_deg(angle), r * num::sin_deg(angle), z)
    };
    (0..n)
        .map(|k| {
            let ring = |z: f64, side: f64| {
                [
                    at(k, side, z),
                    at(k + 1, side, z),
                    at(k + 1, side - lost, z),
                    at(k, side - lost, z),
                ]
            };
            Solid::prism(&ring(0.0, bottom), &ring(h, top))
        })
        .collect()
}

/// The four boards of a rectangular box, centered on the z axis: `bottom`, `top` the outer sizes
/// (wide, deep), `lost` what both neighbors' thickness takes off the inner ones, on the level.
/// Mitered, or `joint` says which pair fits between the other.
pub fn rectangle(
    bottom: (f64, f64),
    top: (f64, f64),
    lost: (f64, f64),
    h: f64,
    joint: &str,
) -> Vec<Solid> {
    let round = [(-1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, 1.0)];
    (0..4)
        .map(|k| {
            let (p, q) = (round[k], round[(k + 1) % 4]);
            // Front and back run along x.
            let front = k % 2 == 0;
            let ring = |size: (f64, f64), z: f64| {
                let inner = (size.0 - lost.0, size.1 - lost.1);
                let at = |c: (f64, f64), from: (f64, f64)| {
                    Point3::new(c.0 * from.0 / 2.0, c.1 * from.1 / 2.0, z)
                };
                // Where the board's ends stand, on its outer and on its inner face.
                let (outside, inside) = match (joint, front) {
                    ("front_between", true) => ((inner.0, size.1), inner),
                    ("front_between", false) => (size, (inner.0, size.1)),
                    ("sides_between", true) => (size, (size.0, inner.1)),
                    ("sides_between", false) => ((size.0, inner.1), inner),
                    _ => (size, inner),
                };
                [at(p, outside), at(q, outside), at(q, inside), at(p, inside)]
            };
            Solid::prism(&ring(bottom, 0.0), &ring(top, h))
        })
        .collect()
}
