//! The nearest mark that the saw can be set to, and the gap that it leaves.

use super::SawProfile;
use offsquare_units::{Angle, Length, num};

/// What kind of mark the saw is set to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum MarkKind {
    /// A click stop.
    Detent,
    /// A mark on the scale.
    Scale,
}

/// The nearest click stop or finest mark to an unsigned reading; ties go to the click stop. Where the
/// reading itself is inside `limit`, so is the mark.
///
/// Example: 31.52° on the usual saw is set to the mark 31.5° (0.02° off), not to the stop 31.6°
/// (0.08° off); 31.55° lies half way and is set to the stop.
pub(super) fn nearest_mark(
    exact: Angle,
    stops: &[Angle],
    finest: Angle,
    limit: Angle,
) -> (Angle, MarkKind) {
    // Two distances that differ by less than this are a tie: decimal marks are no exact binary fractions.
    const TIE: f64 = 1e-9;
    let inside = exact.0 <= limit.0;
    let fine = if finest.0 > 0.0 { finest.0 } else { 0.5 };
    let mut mark = num::round_half_up(exact.0 / fine) * fine;
    if inside && mark > limit.0 {
        mark = num::floor(limit.0 / fine) * fine;
    }
    let mut best = (Angle(mark), MarkKind::Scale);
    for stop in stops.iter().filter(|s| !inside || s.0 <= limit.0) {
        let better = (stop.0 - exact.0).abs() <= (best.0.0 - exact.0).abs() + TIE;
        let nearer = (stop.0 - exact.0).abs() < (best.0.0 - exact.0).abs();
        if better && (best.1 == MarkKind::Scale || nearer) {
            best = (*stop, MarkKind::Detent);
        }
    }
    best
}

/// A reading by itself, without a board: what to set, and whether this saw swings so far.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BareReading {
    pub exact: Angle,
    /// The nearest mark on the scale; the reading itself where it is past the saw.
    pub set: Angle,
    pub within: bool,
}

impl SawProfile {
    /// The nearest mark to an unsigned reading off square.
    ///
    /// Example: 59.04° is past the usual saw's 50°; 31.55° is set to its stop at 31.6°.
    pub fn bare(&self, exact: Angle) -> BareReading {
        let most = self.miter_most();
        let within = exact.0 <= most.0;
        let mark = nearest_mark(exact, &self.detents, self.finest_mark, most).0;
        BareReading { exact, set: if within { mark } else { exact }, within }
    }
}

/// How far the open end of a cut stands off when its other end touches: s·sin|m − m'| / cos m', for
/// a cut across `across` that should read `exact` and is set to `set`. Never more than the width.
///
/// Example: 2 1/2 in wide, 31.52° set to 31.6°: 2.5·sin 0.08°/cos 31.6° = 0.0041 in.
pub fn gap(across: Length, exact: Angle, set: Angle) -> Length {
    let gap = across.0 * num::sin_deg((exact.0 - set.0).abs()) / num::cos_deg(set.0);
    Length(if gap.is_finite() { gap.abs() } else { across.0.abs() })
}
