//! The saw: its profile, and what to do at it for one cut.

use crate::num;
use crate::parts::{Cut, Part};
use crate::units::{Angle, Length};
use serde::{Deserialize, Serialize};

/// What one miter saw can do. Angles in degrees off square (miter) and off vertical (bevel).
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct SawProfile {
    pub miter_left: Angle,
    pub miter_right: Angle,
    pub bevel_left: Angle,
    /// 0 where the blade leans one way only.
    pub bevel_right: Angle,
    /// Click stops of the miter scale, each both ways.
    pub detents: Vec<Angle>,
    pub bevel_stops: Vec<Angle>,
    /// The finest mark on the scale.
    pub finest_mark: Angle,
    pub kerf: Length,
    /// The kerf was never confirmed by the maker.
    pub kerf_assumed: bool,
    /// Widest board cut at 0 and at 45 degrees miter.
    pub width_square: Length,
    pub width_at_45: Length,
    /// Highest board cut upright, and at 45 degrees bevel.
    pub height_upright: Length,
    pub height_at_45_bevel: Length,
    /// Shortest piece that may be held by hand.
    pub hold_length: Length,
    /// Miter and bevel may be set at once.
    pub both_readings: bool,
}

impl SawProfile {
    /// The saw that is assumed until the maker describes theirs. Common practice, no source.
    pub fn usual() -> SawProfile {
        let marks = |all: &[f64]| all.iter().map(|a| Angle(*a)).collect();
        SawProfile {
            miter_left: Angle(50.0),
            miter_right: Angle(50.0),
            bevel_left: Angle(45.0),
            bevel_right: Angle(0.0),
            detents: marks(&[0.0, 15.0, 22.5, 31.6, 45.0]),
            bevel_stops: marks(&[0.0, 33.9, 45.0]),
            finest_mark: Angle(0.5),
            kerf: Length(0.125),
            kerf_assumed: true,
            width_square: Length(5.5),
            width_at_45: Length(3.5),
            height_upright: Length(3.5),
            height_at_45_bevel: Length(2.0),
            hold_length: Length(8.0),
            both_readings: true,
        }
    }

    /// What to set for one cut of a part.
    pub fn advise(&self, _part: &Part, cut: &Cut) -> Advice {
        let set_miter = nearest_mark(cut.miter, &self.detents, self.finest_mark);
        let set_bevel = nearest_mark(cut.bevel, &self.bevel_stops, self.finest_mark);
        Advice {
            set_miter,
            set_bevel,
            gap: gap(cut.across, cut.miter, set_miter),
            tape_mark: Length(cut.across.0 * num::tan_deg(cut.miter.0)),
        }
    }
}

/// What to set, and what that leaves.
#[derive(Clone, Debug, PartialEq)]
pub struct Advice {
    pub set_miter: Angle,
    pub set_bevel: Angle,
    /// How far the open end of the cut stands off when its other end touches.
    pub gap: Length,
    /// How far along the far edge the exact cut starts.
    pub tape_mark: Length,
}

/// The nearest detent or finest mark; ties go to the detent.
/// Example: 31.52 on the usual saw gives the detent 31.6 (off by 0.08), not 31.5 (off by 0.02)? No: 31.5.
fn nearest_mark(exact: Angle, detents: &[Angle], finest: Angle) -> Angle {
    let mark = Angle(num::round_half_up(exact.0 / finest.0) * finest.0);
    let mut best = mark;
    for d in detents {
        if (d.0 - exact.0).abs() <= (best.0 - exact.0).abs() {
            best = *d;
        }
    }
    best
}

/// s·sin|m − m'| / cos m'.
fn gap(across: Length, exact: Angle, set: Angle) -> Length {
    Length(across.0 * num::sin_deg((exact.0 - set.0).abs()) / num::cos_deg(set.0))
}
