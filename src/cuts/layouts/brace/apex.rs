//! Where the braces of a K or a chevron meet, and the second one's place.

use offsquare_geometry::Point;

/// The member at whose middle the braces meet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Apex {
    Left,
    Right,
    Top,
    Bottom,
}

impl Apex {
    pub fn of(key: &str) -> Option<Apex> {
        Some(match key {
            "left" => Apex::Left,
            "right" => Apex::Right,
            "top" => Apex::Top,
            "bottom" => Apex::Bottom,
            _ => return None,
        })
    }
    /// At a stile: the line at mid-height parts the opening.
    pub fn is_k(self) -> bool {
        matches!(self, Apex::Left | Apex::Right)
    }
}

/// Where a point of the half's frame lies in the opening; the second brace is the mirror image.
pub fn place(w: f64, h: f64, apex: Apex, p: Point, second: bool) -> Point {
    let (x, y) = if apex.is_k() {
        let x = if apex == Apex::Right { w - p.x } else { p.x };
        let up = if second { -p.y } else { p.y };
        (x, h / 2.0 + up)
    } else {
        let y = if apex == Apex::Top { h - p.y } else { p.y };
        let out = if second { -p.x } else { p.x };
        (w / 2.0 + out, y)
    };
    Point::new(x, y)
}
