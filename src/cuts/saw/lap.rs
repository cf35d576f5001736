//! Laps and notches: their shoulders at the saw and on a tape.

use super::SawProfile;
use crate::parts::{Lap, Part, Side};
use offsquare_geometry::Point;
use offsquare_units::{Angle, Length};

/// How one lap of a part is marked and cut, the part lying as drawn.
#[derive(Clone, Debug, PartialEq)]
pub struct LapAdvice {
    pub lap: Lap,
    /// Degrees off square of both shoulders, exactly, and the side to which the saw is swung for them with the
    /// face up that the lap is in.
    pub reading: Angle,
    pub swing: Side,
    /// The nearest mark of this saw; none where it swings no so far, or cuts no such width.
    pub set: Option<Angle>,
    /// Where the two shoulders meet an edge, from that edge's own left corner: what a tape along it says.
    pub lower_edge: [Length; 2],
    pub upper_edge: [Length; 2],
    /// How far a shoulder runs along the strip while it crosses it.
    pub tape_mark: Length,
    pub across: Length,
}

impl SawProfile {
    /// What to do for one lap.
    ///
    /// Example: braces across 30 by 44, both 2 1/2 wide, flat on the rails, cross at 63.192°: the shoulders read
    /// 26.808° off square, and the usual saw is set to 27°.
    pub fn advise_lap(&self, part: &Part, lap: &Lap) -> LapAdvice {
        let (reading, drawn) = lap.reading();
        // In the back, the part lies face down.
        let swing = if lap.in_back { drawn.other() } else { drawn };
        let goes = reading.0 <= self.miter_limit(swing).0 + 1e-9
            && part.seen.0 <= self.width_at(reading).0 * (1.0 + 1e-12);
        let [(a, b), (c, d)] = lap.shoulders;
        let from = |edge_b: bool, p: Point| Length(p.x - part.edge_start(edge_b));
        LapAdvice {
            lap: lap.clone(),
            reading,
            swing,
            set: goes.then(|| self.miter_mark(reading, swing).0),
            lower_edge: [from(false, a), from(false, c)],
            upper_edge: [from(true, b), from(true, d)],
            tape_mark: Length((b.x - a.x).abs()),
            across: part.seen,
        }
    }
}
