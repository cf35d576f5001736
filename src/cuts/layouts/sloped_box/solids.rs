//! The whole box as solids.

use offsquare_geometry::{Point, Point3, Solid};
use offsquare_units::num;
use offsquare_units::num::Gather;

/// A box of n equal sides from above.
#[derive(Clone, Copy, Debug)]
pub struct Ring {
    pub n: u32,
    /// The board's thickness on the level.
    pub thick: f64,
    /// Each board ends on its right neighbor's inner face and covers its left neighbor's end.
    pub butt: bool,
}

impl Ring {
    fn half(self) -> f64 {
        180.0 / f64::from(self.n)
    }
    /// What an end of a butted board lies further out on its inner face than on its outer one.
    fn slope(self) -> f64 {
        let turn = 2.0 * self.half();
        self.thick * num::cos_deg(turn) / num::sin_deg(turn)
    }
    /// How much shorter than the box's side a board is along its outer face, and along its inner one.
    pub fn shorter(self) -> (f64, f64) {
        if self.butt {
            let outer = self.thick / num::sin_deg(2.0 * self.half());
            (outer, outer - 2.0 * self.slope())
        } else {
            (0.0, 2.0 * num::tan_deg(self.half()) * self.thick)
        }
    }
    /// Board k where the box's side is so long: outer left and right, inner right and left; board 0 lies
    /// at the bottom of the plan.
    pub fn board(self, k: u32, side: f64) -> [Point; 4] {
        let tan = num::tan_deg(self.half());
        let apothem = side / 2.0 / tan;
        let inside = apothem - self.thick;
        let (outer, inner) = self.shorter();
        let left = if self.butt { -self.slope() } else { inner / 2.0 };
        let flat = [
            (-side / 2.0, -apothem),
            (side / 2.0 - outer, -apothem),
            (left - side / 2.0 + side - inner, -inside),
            (left - side / 2.0, -inside),
        ];
        let turn = 2.0 * self.half() * f64::from(k);
        let (s, c) = (num::sin_deg(turn), num::cos_deg(turn));
        flat.map(|(x, y)| Point::new(x * c - y * s, x * s + y * c))
    }
    /// All boards between the levels 0 and h.
    pub fn solids(self, bottom: f64, top: f64, h: f64) -> Vec<Solid> {
        (0..self.n)
            .map(|k| {
                let ring =
                    |side: f64, z: f64| self.board(k, side).map(|p| Point3::new(p.x, p.y, z));
                Solid::prism(&ring(bottom, 0.0), &ring(top, h))
            })
            .gather()
    }
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
        .gather()
}
