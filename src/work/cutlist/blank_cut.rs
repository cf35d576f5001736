//! A cut across a part that is made on its blank.

use offsquare_cuts::parts::{Cut, CutName, End, Side};
use offsquare_geometry::Point;
use offsquare_units::Angle;

/// One cut on a blank, in the part's frame: x from its left end, y from edge A.
#[derive(Clone, Debug, PartialEq)]
pub struct BlankCut {
    pub name: String,
    pub end: End,
    /// Degrees off square, positive where the line is further right at edge A.
    pub miter: f64,
    /// Tilt of the blade from upright, never negative.
    pub bevel: f64,
    /// The line from its edge A side to its edge B side.
    pub from: Point,
    pub to: Point,
}

impl Default for BlankCut {
    fn default() -> BlankCut {
        let (from, to) = (Point::ORIGIN, Point::ORIGIN);
        BlankCut { name: String::new(), end: End::Along, miter: 0.0, bevel: 0.0, from, to }
    }
}

impl BlankCut {
    /// A part's cut.
    pub(super) fn of(cut: &Cut) -> BlankCut {
        BlankCut {
            name: cut.name.to_string(),
            end: cut.end,
            miter: if cut.swing == Side::Left { -cut.miter.0 } else { cut.miter.0 } + 0.0,
            bevel: cut.bevel.0,
            from: cut.from,
            to: cut.to,
        }
    }

    /// What was stored can be a cut.
    pub fn is_sound(&self) -> bool {
        let size = |v: f64| v.abs() <= 24_000.0;
        let place = |p: Point| size(p.x) && size(p.y);
        self.miter.abs() <= 90.0
            && (0.0..=90.0).contains(&self.bevel)
            && place(self.from)
            && place(self.to)
    }

    /// The same cut on the part's mirror image, its edges changed over.
    pub(super) fn mirrored(&self, wide: f64) -> BlankCut {
        let at = |p: Point| Point::new(p.x, wide - p.y);
        let (from, to) = (at(self.to), at(self.from));
        BlankCut { miter: -self.miter + 0.0, from, to, ..self.clone() }
    }

    /// As the saw is set for it.
    pub(super) fn cut(&self) -> Cut {
        let name = CutName::default();
        Cut {
            miter: Angle(self.miter.abs()),
            bevel: Angle(self.bevel),
            ..Cut::plain(name, self.end, self.from, self.to)
        }
    }
}
