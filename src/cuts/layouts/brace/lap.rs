//! Where one strip crosses another: the shoulder lines, in each strip's own frame.

use super::given::Given;
use super::landing::{Landing, Strip};
use offsquare_geometry::Point;

/// One strip's lap: where the other strip's edges cross its left and its right edge, looking up along
/// it, the lower crossing first; along the strip, in its frame.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lap {
    pub left: [f64; 2],
    pub right: [f64; 2],
}

/// Both strips of a crossed pair as laid, with their laps.
#[derive(Clone, Debug)]
pub struct Crossing {
    pub first: Strip,
    pub second: Strip,
    pub laps: [Lap; 2],
}

/// Lays both strips; none where one does not land or a lap runs into an end cut.
///
/// With X the angle that faces the rails, the shoulders cross a strip's edges (v to the left of its middle) at
/// u = (v cos X ± other/2) / sin X from where the two middles cross (GEOMETRY 2, d).
pub fn cross(strips: [Strip; 2], slopes: [(f64, f64); 2]) -> Option<Crossing> {
    let [first, second] = strips;
    // Sine and cosine of X = 180 less both slopes.
    let [(run_1, rise_1), (run_2, rise_2)] = slopes;
    let sin = rise_1 * run_2 + run_1 * rise_2;
    let cos = rise_1 * rise_2 - run_1 * run_2;
    if sin <= 0.0 {
        return None;
    }
    let lap = |own: &Strip, other: &Strip, sign: f64| {
        let middle = middles_cross(own, other)?;
        let at = |v: f64| {
            let u = |half: f64| middle + (sign * v * cos + half) / sin;
            [u(-other.width / 2.0), u(other.width / 2.0)]
        };
        let lap = Lap { left: at(own.width / 2.0), right: at(-own.width / 2.0) };
        let (a, b) = own.starts();
        let inside =
            |at: [f64; 2], start: f64, length: f64| at[0] > start && at[1] < start + length;
        (inside(lap.left, b, own.edge_b()) && inside(lap.right, a, own.edge_a())).then_some(lap)
    };
    let laps = [lap(&first, &second, 1.0)?, lap(&second, &first, -1.0)?];
    Some(Crossing { first, second, laps })
}

/// Where the middle lines cross, along `own`.
fn middles_cross(own: &Strip, other: &Strip) -> Option<f64> {
    let middle = |s: &Strip| offsquare_geometry::Line {
        at: s.place(Point::new(0.0, s.width / 2.0)),
        along: s.along,
    };
    Some(own.frame(middle(own).meets(&middle(other))?).x)
}

/// The strips of a rectangle: the first from lower left to upper right, the second its mirror image.
pub fn lay(g: Given, s2: f64, landing: Landing) -> Option<[Strip; 2]> {
    let opening = super::landing::Opening::rectangle(g.w, g.h);
    let first = Strip::lay(&opening, landing, g.s)?;
    let second = Strip::lay(&opening, landing, s2)?.mirrored(g.w / 2.0);
    Some([first, second])
}
