//! Where the stop goes.

use super::on_edge::slopes;
use super::position::Along;
use crate::parts::{Cut, End, Part};
use offsquare_units::Length;
use offsquare_units::num::Gather;

/// A stop-block setting: from the stop's face to the near side of the kerf at the fence line, for one
/// cut, with the other end (cut already) against the stop.
#[derive(Clone, Debug, PartialEq)]
pub struct StopBlock {
    /// The end that touches the stop.
    pub stopped: End,
    /// On the table.
    pub setting: Length,
    /// The same on the upper face, where the tilted blade passes the fence elsewhere.
    pub on_upper: Option<Length>,
    /// What it is made of: the length along the fence edge, and what the stopped end reaches past it.
    pub fence_edge: Length,
    pub plus: Length,
    pub plus_is: Plus,
}

/// What is added to the fence edge.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Plus {
    /// The stopped end's point is at the fence, or the end is square.
    Nothing,
    /// Its point is at the far edge: its tape mark.
    TapeMark,
    /// Its point is in the middle: how far that stands ahead of the fence edge's end.
    PointAhead,
    /// It is cut with the blade tilted and reaches further out above the table.
    Overhang,
}

/// Where the cut's plane, produced, passes a line along the piece.
fn meets(cut: &Cut, at: Along) -> f64 {
    let across = (cut.to.x - cut.from.x) / (cut.to.y - cut.from.y);
    let (_, down) = slopes(cut.miter, cut.swing, cut.bevel, cut.lean);
    cut.from.x + across * (at.y - cut.from.y) + down * at.depth
}

/// The setting for `cut`, the piece lying with `at_fence` along the fence: its edge on the table and the
/// one above it. None for a cut along the piece, where the other end does not reach the fence edge, or
/// where nothing is left of the fence edge to measure.
///
/// Example: both ends 31.6° leaning the same way, edges 51.67 in: the stopped end's point is at the
/// far edge at one end, so 51.67 + 1.54; at the other end its point is at the fence, so 51.67.
pub(super) fn stop_block(part: &Part, cut: &Cut, at_fence: [Along; 2]) -> Option<StopBlock> {
    let stopped = match cut.end {
        End::Left => End::Right,
        End::Right => End::Left,
        End::Along => return None,
    };
    let [table, upper] = at_fence;
    let stands = table.y != upper.y;
    let slack = 1e-9 * part.seen.0.abs().max(part.length.0.abs());
    if (cut.to.y - cut.from.y).abs() <= slack {
        return None;
    }
    // Distances outward from the piece at the stopped end: positive is further out.
    let out = |x: f64| if stopped == End::Left { -x } else { x };
    let ends: Vec<&Cut> = part.cuts.iter().filter(|c| c.end == stopped).gather();
    let reaches = |c: &Cut| {
        let (low, high) = (c.from.y.min(c.to.y), c.from.y.max(c.to.y));
        (low - slack..=high + slack).contains(&table.y)
    };
    let corner = out(meets(ends.iter().find(|c| reaches(c))?, table));
    let depths = [0.0, part.away.map_or(0.0, |a| a.0)];
    let corners = ends.iter().flat_map(|c| {
        [c.from.y, c.to.y]
            .into_iter()
            .flat_map(move |y| depths.map(|depth| (c, Along { y, depth })))
    });
    // Of two that reach as far, the one at the fence or on the table: then nothing needs to be added.
    let level_y = |a: Along| (a.y - table.y).abs() <= slack;
    let nearness = |a: Along| u8::from(level_y(a)) + u8::from(a.depth == table.depth);
    let (tip, reach) = corners.map(|(c, at)| (at, out(meets(c, at)))).reduce(|best, next| {
        let further = next.1 - best.1;
        let nearer = nearness(next.0) > nearness(best.0);
        if further > slack || (further >= -slack && nearer) { next } else { best }
    })?;
    let plus = reach - corner;
    let plus_is = if plus <= slack {
        Plus::Nothing
    } else if if stands { !level_y(tip) } else { tip.depth != table.depth } {
        Plus::Overhang
    } else if [0.0, part.seen.0].iter().any(|y| (tip.y - y).abs() <= slack) {
        Plus::TapeMark
    } else {
        Plus::PointAhead
    };
    let plus = if plus_is == Plus::Nothing { 0.0 } else { plus };
    let fence_edge = corner - out(meets(cut, table));
    let above = meets(cut, table) - meets(cut, upper);
    let setting = fence_edge + plus;
    let length = Length;
    (setting > slack && setting.is_finite()).then_some(StopBlock {
        stopped,
        setting: length(setting),
        on_upper: (above.abs() > slack).then(|| length(setting + out(above))),
        fence_edge: length(fence_edge),
        plus: length(plus),
        plus_is,
    })
}
