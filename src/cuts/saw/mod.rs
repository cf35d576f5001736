//! The saw: its profile, and what to do at it for one cut.
//!
//! A part lies as [`crate::parts`] describes: length along x, edge B at the fence. Advice says what
//! to set, how the piece lies for it, whether this saw can, and if not, what can be done, safest first.

mod advice;
mod advise;
mod capacity;
mod correction;
mod ends;
mod handling;
mod lap;
mod lap_words;
mod lay_words;
mod learned;
mod limits;
mod mark;
mod on_edge;
mod order;
mod position;
mod remedy;
mod rest;
mod standing;
mod stop_block;
mod ways_out;
pub mod wording;

pub use advice::{Advice, Lay, PartAdvice, Setting};
pub use capacity::{Fit, Misfit};
pub use correction::{Axis, Correction, TestCut, corrected, off_zero};
pub use ends::{Between, Hand, Parted, ShortPiece};
pub use lap::LapAdvice;
pub use limits::{LAST_STOP, LIMITS, Limit, stops_can_be};
pub use mark::{BareReading, MarkKind, gap};
pub use on_edge::{OtherFace, Stand, slopes, standing};
pub use order::Rank;
pub use position::{Edge, Position};
pub use remedy::{ChangedInput, Effect, MOST_TURNED, Remedy, Turned};
pub use rest::{LEAST_EDGE, Rest};
pub use standing::Standing;
pub use stop_block::{Plus, StopBlock};

use crate::facts;
use offsquare_units::{Angle, Length, kept};

/// What one miter saw can do. Angles in degrees off square (miter) and off vertical (bevel).
#[derive(Clone, Debug, PartialEq)]
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
    /// What test cuts have shown.
    pub corrections: Vec<Correction>,
}
kept!(SawProfile {
    miter_left,
    miter_right,
    bevel_left,
    bevel_right,
    detents,
    bevel_stops,
    finest_mark,
    kerf,
    kerf_assumed,
    width_square,
    width_at_45,
    height_upright,
    height_at_45_bevel,
    hold_length,
    both_readings,
    corrections = Vec::new()
});

impl SawProfile {
    /// The saw that is assumed until the maker describes theirs. Common practice, no source; the
    /// click stops are [`facts::MITER_STOPS`] and [`facts::BEVEL_STOPS`].
    pub fn usual() -> SawProfile {
        SawProfile {
            miter_left: Angle(50.0),
            miter_right: Angle(50.0),
            bevel_left: Angle(45.0),
            bevel_right: Angle(0.0),
            detents: facts::MITER_STOPS.value.to_vec(),
            bevel_stops: facts::BEVEL_STOPS.value.to_vec(),
            finest_mark: Angle(0.5),
            kerf: Length(0.125),
            kerf_assumed: true,
            width_square: Length(5.5),
            width_at_45: Length(3.5),
            height_upright: Length(3.5),
            height_at_45_bevel: Length(2.0),
            hold_length: Length(8.0),
            both_readings: true,
            corrections: Vec::new(),
        }
    }

    /// The larger of the two miter limits.
    pub fn miter_most(&self) -> Angle {
        self.miter_left.max(self.miter_right)
    }
    /// The larger of the two bevel limits.
    pub fn bevel_most(&self) -> Angle {
        self.bevel_left.max(self.bevel_right)
    }
}
