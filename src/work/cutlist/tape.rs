//! What a tape takes of a part, beside the length that is bought for it.

use super::Entry;
use offsquare_planner::ends::reach;
use offsquare_units::{Length, Text, say};

/// Edges nearer than this are one, in inches.
const SAME: f64 = 1e-6;

impl Entry {
    /// The longer and the shorter edge as a tape takes them, on stock so wide where the part has no size seen of its
    /// own. None where an end is beveled or cut twice, or where the ends cross.
    ///
    /// Example: 53 1/4 in with parallel ends of 30°, 2 1/2 in wide: both edges are 53.25 − 2.5 tan 30° = 51.81 in.
    pub fn edges(&self, width: Option<Length>) -> Option<(Length, Length)> {
        let wide = self.seen.or(width)?.0;
        let plain =
            |miter: f64, bevel: f64, pointed: bool| bevel == 0.0 && !pointed && miter.abs() < 89.0;
        let ends = [self.left, self.right];
        if !ends.iter().all(|e| plain(e.miter, e.bevel, e.pointed)) {
            return None;
        }
        let [left, right] = ends.map(|e| reach(wide, e.miter));
        let long = self.cut_length().0;
        let near = long - (-left).max(0.0) - (-right).max(0.0);
        let far = long - left.max(0.0) - right.max(0.0);
        (near.min(far) >= -SAME).then(|| (Length(near.max(far)), Length(near.min(far).max(0.0))))
    }

    /// The lengths of a row of the list: "27 1/2 in"; "edge 51 13/16 in, to buy 53 1/4 in"; "long edge 20 in, short edge
    /// 16 in".
    pub fn lengths_said(&self, width: Option<Length>) -> Text {
        let whole = self.cut_length();
        let Some((long, short)) = self.edges(width) else {
            return say!(whole);
        };
        let same = |a: Length, b: Length| (a - b).abs().0 <= SAME;
        match (same(long, short), same(long, whole)) {
            (true, true) => say!(whole),
            (true, false) => say!("edge {}, to buy {}", long, whole),
            (false, true) => say!("long edge {}, short edge {}", long, short),
            (false, false) => {
                say!("long edge {}, short edge {}, to buy {}", long, short, whole)
            }
        }
    }
}
