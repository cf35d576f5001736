//! How wide and how high the saw cuts at a reading.

use super::SawProfile;
use crate::parts::Side;
use offsquare_units::{Angle, Length, num};

/// One thing that keeps this saw from a cut.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Misfit {
    MiterPastLimit {
        reading: Angle,
        limit: Angle,
    },
    BevelPastLimit {
        reading: Angle,
        limit: Angle,
    },
    /// The cut runs further out from the fence than the blade reaches.
    TooWide {
        needed: Length,
        reach: Length,
    },
    TooHigh {
        needed: Length,
        reach: Length,
    },
    /// Miter and bevel cannot both be set on this saw.
    NotBothReadings,
    /// It runs along the board, and a miter saw only cuts across.
    Rip,
    /// Of no edge is enough left to lie on the fence.
    OnAPoint {
        edge: Length,
    },
    /// The cut ends at an inside corner: the blade would run on into the piece.
    InsideCorner,
}

/// Whether the piece goes through the saw, and how near it comes.
#[derive(Clone, Debug, PartialEq)]
pub struct Fit {
    /// How far the cut runs out from the fence, and how far the blade reaches at this reading.
    pub width: Length,
    pub width_reach: Length,
    /// Size upwards, where it is known, and the highest that is cut at this bevel.
    pub height: Option<Length>,
    pub height_reach: Length,
    /// Empty where the cut can be made.
    pub misfits: Vec<Misfit>,
}

impl Fit {
    pub fn possible(&self) -> bool {
        self.misfits.is_empty()
    }
    /// Whether saw and blade swing and lean so far, whatever else is in the way.
    pub(super) fn in_limits(&self) -> bool {
        !self
            .misfits
            .iter()
            .any(|m| matches!(m, Misfit::MiterPastLimit { .. } | Misfit::BevelPastLimit { .. }))
    }
}

/// Readings this close past a limit are at the limit: they differ by rounding only.
const AT_LIMIT: f64 = 1e-9;

impl SawProfile {
    /// Widest board at a miter reading: c·cos θ, c going in a straight line from the square width at
    /// 0° to (width at 45°)/cos 45° at 45°, constant beyond (LAYOUTS, The saw).
    ///
    /// Example: the usual saw (5 1/2 in square, 3 1/2 at 45°) reaches 4.554 in at 28°.
    pub fn width_at(&self, miter: Angle) -> Length {
        reach(self.width_square, self.width_at_45, miter)
    }

    /// Highest board at a bevel reading, by the same rule as the width (our reading of LAYOUTS,
    /// which gives the height at 0° and 45° only).
    pub fn height_at(&self, bevel: Angle) -> Length {
        reach(self.height_upright, self.height_at_45_bevel, bevel)
    }

    /// The miter limit on one side; for a square cut the larger.
    pub fn miter_limit(&self, swing: Side) -> Angle {
        match swing {
            Side::Left => self.miter_left,
            Side::Right => self.miter_right,
            Side::Neither => self.miter_most(),
        }
    }

    /// The bevel limit on one side; for an upright blade the larger.
    pub fn bevel_limit(&self, lean: Side) -> Angle {
        match lean {
            Side::Left => self.bevel_left,
            Side::Right => self.bevel_right,
            Side::Neither => self.bevel_most(),
        }
    }

    /// Whether a cut that runs so far out, through a piece so high, is made at these readings.
    pub(super) fn fit(
        &self,
        (miter, swing): (Angle, Side),
        (bevel, lean): (Angle, Side),
        width: Length,
        height: Option<Length>,
    ) -> Fit {
        let width_reach = self.width_at(miter);
        let height_reach = self.height_at(bevel);
        let mut misfits = Vec::new();
        let limit = self.miter_limit(swing);
        if miter.0 > limit.0 + AT_LIMIT {
            misfits.push(Misfit::MiterPastLimit { reading: miter, limit });
        }
        let limit = self.bevel_limit(lean);
        if bevel.0 > limit.0 + AT_LIMIT {
            misfits.push(Misfit::BevelPastLimit { reading: bevel, limit });
        }
        if !self.both_readings && miter.0 > AT_LIMIT && bevel.0 > AT_LIMIT {
            misfits.push(Misfit::NotBothReadings);
        }
        if width.0 > width_reach.0 * (1.0 + 1e-12) {
            misfits.push(Misfit::TooWide { needed: width, reach: width_reach });
        }
        if let Some(height) = height.filter(|h| h.0 > height_reach.0 * (1.0 + 1e-12)) {
            misfits.push(Misfit::TooHigh { needed: height, reach: height_reach });
        }
        Fit { width, width_reach, height, height_reach, misfits }
    }
}

fn reach(square: Length, at_45: Length, angle: Angle) -> Length {
    let at_45 = at_45.0 / num::cos_deg(45.0);
    let share = (angle.0 / 45.0).clamp(0.0, 1.0);
    let c = square.0 + (at_45 - square.0) * share;
    Length((c * num::cos_deg(angle.0)).max(0.0))
}
