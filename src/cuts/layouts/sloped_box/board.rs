//! One board of a box: its sizes, the plane of its ends, and how it lies on the saw.
//!
//! On its outer face: x along the level edges, y up the slope, z outward.

use crate::layouts::compound::{Ended, Piece, readings, tell};
use crate::layouts::{Answers, Outcome};
use crate::parts::{Part, Ripped, Sides};
use crate::problem::Problem;
use crate::saw::Standing;
use offsquare_geometry::Vector3;
use offsquare_units::{Angle, Length, num};

/// A board between two level edges.
#[derive(Clone, Copy, Debug)]
pub struct Board {
    pub name: &'static str,
    pub count: u32,
    /// Along its outer and its inner face, at the bottom; at the top both have grown by `grown`.
    pub outer: f64,
    pub inner: f64,
    pub grown: f64,
    pub height: f64,
    pub tilt: f64,
    pub thickness: f64,
    /// Normal of its right end's plane in the box's directions: along, outward on the level, up.
    pub end: Vector3,
    pub keys: (&'static str, &'static str),
}

/// The miter's plane at a corner: through the outer corner edge and the inner one, which stands inside
/// it on the level by what both thicknesses take off.
pub fn miter_plane(own: (f64, f64), other: (f64, f64)) -> Vector3 {
    let ((a, t), (b, other_t)) = (own, other);
    let edge = Vector3::new(num::tan_deg(b), num::tan_deg(a), 1.0);
    let inner = Vector3::new(-other_t / num::cos_deg(b), -t / num::cos_deg(a), 0.0);
    edge.cross(inner).unit().unwrap_or(Vector3::new(1.0, 0.0, 0.0))
}

/// The neighbor's face, against which a butted board ends.
pub fn butt_plane(other_tilt: f64) -> Vector3 {
    Vector3::new(num::cos_deg(other_tilt), 0.0, -num::sin_deg(other_tilt))
}

/// The same among n equal sides, the neighbor turned by `turn` from above.
pub fn butt_plane_turned(tilt: f64, turn: f64) -> Vector3 {
    Vector3::new(
        num::cos_deg(tilt) * num::sin_deg(turn),
        num::cos_deg(tilt) * num::cos_deg(turn),
        -num::sin_deg(tilt),
    )
}

impl Board {
    /// Along the outer face, edge to edge, square to them.
    pub fn slant(&self) -> f64 {
        self.height / num::cos_deg(self.tilt)
    }
    pub fn top(&self) -> f64 {
        self.outer + self.grown
    }
    /// The blank's width: both edges ripped at the tilt.
    fn width_needed(&self) -> f64 {
        self.slant() + self.thickness * num::tan_deg(self.tilt).abs()
    }
    /// The end's normal on the board.
    fn normal(&self) -> Vector3 {
        let (s, c) = (num::sin_deg(self.tilt), num::cos_deg(self.tilt));
        let n = self.end;
        Vector3::new(n.x, n.y * s + n.z * c, n.y * c - n.z * s)
    }
    /// Its own sizes and settings, `corner` the length of the box's outer corner edge.
    pub fn answers(&self, a: &mut Answers, corner: f64) {
        let (outer, inner) = (self.outer, self.inner);
        a.length("outer_bottom_width", outer)
            .length("outer_top_width", outer + self.grown)
            .length("inner_bottom_width", inner)
            .length("inner_top_width", inner + self.grown)
            .length("slant_height", self.slant())
            .length("corner_edge_length", corner)
            .length("length_needed", outer.max(inner) + self.grown.max(0.0))
            .length("width_needed", self.width_needed());
        tell(a, self.normal(), self.slant(), self.thickness);
        let (miter, bevel) = self.held();
        a.angle("edge_rip_deg", self.tilt.abs())
            .angle("held_at_slope_mitre_deg", miter)
            .angle("held_at_slope_bevel_deg", bevel);
    }
    /// Miter and bevel with the board standing at its slope against the fence.
    pub fn held(&self) -> (f64, f64) {
        readings(self.end)
    }
    /// The same as it stands there, its level edges ripped: as high as the box, and as deep as it leans and
    /// as its thickness measures on the level.
    pub fn standing(&self) -> Standing {
        let (miter, bevel) = self.held();
        let (s, c) = (num::sin_deg(self.tilt).abs(), num::cos_deg(self.tilt));
        Standing {
            name: self.name,
            miter: Angle(miter),
            bevel: Angle(bevel),
            height: Length(self.height),
            depth: Length((self.height * s + self.thickness) / c),
        }
    }
    /// Miter and bevel with the board lying flat.
    pub fn settings(&self) -> (f64, f64) {
        readings(self.normal())
    }
    /// Lying flat, outer face up, bottom edge toward you, top edge at the fence; as wide as it is before
    /// its edges are ripped.
    pub fn part(&self) -> Part {
        let n = self.normal();
        // Leaning outward, the inner face reaches below the outer one's bottom edge; inward, above its top.
        let below = (self.thickness * num::tan_deg(self.tilt)).max(0.0);
        let half = self.outer / 2.0 + below * n.y / n.x;
        Piece {
            name: self.name,
            count: self.count,
            seen: self.width_needed(),
            away: self.thickness,
            sides: Sides {
                face: "outside",
                edge_a: "bottom edge",
                edge_b: "top edge",
                ..Sides::DRAWN
            },
            ripped: (self.tilt != 0.0)
                .then(|| Ripped { tilt: Angle(self.tilt.abs()), leaves: Length(self.slant()) }),
            left: Ended { name: "Left end", normal: Vector3::new(-n.x, n.y, n.z), at: -half },
            right: Ended { name: "Right end", normal: n, at: half },
            keys: (Some(self.keys.0), Some(self.keys.1)),
        }
        .part()
    }
}

/// The sides must not meet below the rim, and the boards must leave room between them. `bottom` is the
/// outer size, `spread` what it grows by per unit of height, `lost` what the thickness takes off it.
pub fn check(
    bottom: f64,
    spread: f64,
    lost: f64,
    h: f64,
    (thick, t): (&'static str, f64),
    out: &mut Outcome,
) {
    let top = bottom + h * spread;
    if top <= 0.0 {
        let limit = Length(-bottom / spread);
        out.problems.push(Problem::at_limit(
            "height",
            "Leaning inward like this the boards meet at {}: the box must be lower.",
            limit,
        ));
    } else if bottom.min(top) <= lost {
        let limit = Length(t * bottom.min(top) / lost);
        out.problems.push(Problem::at_limit(
            thick,
            "Boards this thick fill the box: they must be thinner than {}.",
            limit,
        ));
    }
}

/// Heights of a floor's under and upper side, checked against the rim.
pub fn floor(
    at: Option<Length>,
    thickness: Option<Length>,
    h: f64,
    out: &mut Outcome,
) -> Option<(f64, Option<f64>)> {
    let at = at?.0;
    if at >= h {
        out.problems.push(
            Problem::at_limit(
                "floor_height",
                "The floor must lie below the rim, at {}.",
                Length(h),
            )
            .as_warning(),
        );
        return None;
    }
    let thick = thickness.map(|t| t.0);
    if let Some(limit) = thick.filter(|t| at + t > h * (1.0 + 1e-12)).map(|_| Length(h - at)) {
        out.problems.push(
            Problem::at_limit(
                "floor_thickness",
                "The floor stands above the rim: it may be {} thick at most.",
                limit,
            )
            .as_warning(),
        );
        return Some((at, None));
    }
    Some((at, thick.map(|t| at + t)))
}
