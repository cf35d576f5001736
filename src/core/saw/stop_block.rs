//! Where the stop goes.

use super::position::{Edge, Position};
use crate::geometry::Point;
use crate::num::Gather;
use crate::parts::{Cut, End, Part};
use crate::units::Length;

/// A stop-block setting: from the stop's face to the near side of the kerf at the fence line, for one
/// cut, with the other end (cut already) against the stop.
#[derive(Clone, Debug, PartialEq)]
pub struct StopBlock {
    /// The end that touches the stop.
    pub stopped: End,
    pub setting: Length,
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
}

/// The setting for `cut`, the piece lying in `position`. None for a cut along the piece, where the
/// other end does not reach the fence edge, or where nothing is left of the fence edge to measure.
///
/// Example: both ends 31.6° leaning the same way, edges 51.67 in: the stopped end's point is at the
/// far edge at one end, so 51.67 + 1.54; at the other end its point is at the fence, so 51.67.
pub(super) fn stop_block(part: &Part, cut: &Cut, position: Position) -> Option<StopBlock> {
    let stopped = match cut.end {
        End::Left => End::Right,
        End::Right => End::Left,
        End::Along => return None,
    };
    let fence = match position.fence_edge() {
        Edge::A => 0.0,
        Edge::B => part.seen.0,
    };
    let far = part.seen.0 - fence;
    let slack = 1e-9 * part.seen.0.abs().max(part.length.0.abs());
    // Distances outwards from the piece at the stopped end: positive is further out.
    let out = |p: &Point| if stopped == End::Left { -p.x } else { p.x };
    let points: Vec<Point> =
        part.cuts.iter().filter(|c| c.end == stopped).flat_map(|c| [c.from, c.to]).gather();
    let corner = points.iter().find(|p| (p.y - fence).abs() <= slack)?;
    let tip = points.iter().max_by(|a, b| out(a).total_cmp(&out(b)))?;
    let rise = cut.to.y - cut.from.y;
    if rise.abs() <= slack {
        return None;
    }
    let kerf = cut.from.x + (cut.to.x - cut.from.x) * (fence - cut.from.y) / rise;
    let fence_edge = Length(out(corner) + if stopped == End::Left { kerf } else { -kerf });
    let plus = Length(out(tip) - out(corner));
    let plus_is = if plus.0 <= slack {
        Plus::Nothing
    } else if (tip.y - far).abs() <= slack {
        Plus::TapeMark
    } else {
        Plus::PointAhead
    };
    let plus = if plus_is == Plus::Nothing { Length(0.0) } else { plus };
    let setting = fence_edge + plus;
    (setting.0 > slack && setting.0.is_finite()).then_some(StopBlock {
        stopped,
        setting,
        fence_edge,
        plus,
        plus_is,
    })
}
