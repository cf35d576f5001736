//! A side of a box as a part and as a picture, and the whole box as a solid.

use crate::geometry::{Point, Point3, Polygon, Solid};
use crate::num;
use crate::parts::{Cut, End, Part, Side as Swing, StockShape};
use crate::scene::{Role, Scene};
use crate::units::{Angle, Length, Quantity};

/// A board seen on its outer face: bottom edge toward you.
#[derive(Clone, Copy, Debug)]
pub struct Side {
    pub name: &'static str,
    pub count: u32,
    pub bottom: f64,
    pub top: f64,
    pub slant: f64,
    pub thickness: f64,
    pub miter: f64,
    pub bevel: f64,
    pub keys: (&'static str, &'static str),
}

impl Side {
    fn outline(&self) -> [Point; 4] {
        let run = (self.top - self.bottom) / 2.0;
        let x = run.max(0.0);
        [
            Point::new(x, 0.0),
            Point::new(x + self.bottom, 0.0),
            Point::new(x + self.bottom + run, self.slant),
            Point::new(x - run, self.slant),
        ]
    }

    /// Lying flat, outer face up, bottom edge toward you, top edge at the fence.
    pub fn part(&self) -> Part {
        let p = self.outline();
        let wider_below = self.bottom > self.top;
        let cut = |name: &'static str, end, from: Point, to: Point, swing, lean| Cut {
            name: name.into(),
            end,
            miter: Angle(self.miter),
            swing: if self.miter > 0.0 {
                swing
            } else {
                Swing::Neither
            },
            bevel: Angle(self.bevel),
            lean: if self.bevel > 0.0 {
                lean
            } else {
                Swing::Neither
            },
            miter_key: Some(self.keys.0),
            bevel_key: Some(self.keys.1),
            across: Length(self.slant),
            from,
            to,
        };
        let (left, right) = if wider_below {
            (Swing::Left, Swing::Right)
        } else {
            (Swing::Right, Swing::Left)
        };
        Part {
            name: self.name.into(),
            count: self.count,
            seen: Length(self.slant),
            away: Some(Length(self.thickness)),
            length: Length(self.bottom.max(self.top)),
            outline: Polygon(p.to_vec()),
            edge_a: Length(self.bottom),
            edge_b: Length(self.top),
            // The inner face is shorter: the blade's top leans out at each end.
            cuts: vec![
                cut("Left end", End::Left, p[0], p[3], left, Swing::Left),
                cut("Right end", End::Right, p[1], p[2], right, Swing::Right),
            ],
            marks: Vec::new(),
            stock: StockShape::Straight,
        }
    }

    /// The board's outer face with its three sizes.
    pub fn picture(&self, keys: (&'static str, &'static str, &'static str)) -> Scene {
        let p = self.outline();
        let mut scene = Scene::new();
        scene.shape(p.to_vec(), Role::Stock);
        scene
            .line(p[0], p[3], Role::Cut)
            .line(p[1], p[2], Role::Cut);
        scene
            .given(
                p[0],
                p[1],
                -1,
                Quantity::Length(Length(self.bottom)),
                keys.0,
            )
            .computed(p[2], p[3], -1, Quantity::Length(Length(self.top)), keys.1)
            .computed(
                Point::new(0.0, self.slant),
                Point::new(0.0, 0.0),
                -1,
                Quantity::Length(Length(self.slant)),
                keys.2,
            );
        scene
    }
}

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
