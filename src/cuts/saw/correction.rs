//! What this saw is off by, as test cuts in scrap have shown: kept by side and reading, and taken into every setting
//! of that reading.

use crate::parts::Side;
use offsquare_units::{Angle, Length, Text, kept, num, say};

/// Which scale of the saw.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Axis {
    /// The swing.
    Miter,
    /// The lean of the blade.
    Bevel,
}
kept!(Axis: Miter = "miter", Bevel = "bevel");

/// For one reading on one side: the saw is set to the reading plus this. At 0 there is no side: more is to the left, less to
/// the right.
#[derive(Clone, Debug, PartialEq)]
pub struct Correction {
    pub axis: Axis,
    pub side: Side,
    /// What the cut should read.
    pub reading: Angle,
    /// Below 0 where the saw cuts more than its scale says.
    pub by: Angle,
}
kept!(Correction { axis, side, reading, by });

/// Readings no further apart are one, in degrees: what a card shows of them, to a tenth, is the same.
const ONE_READING: f64 = 0.05;
/// A saw that is off by more than this wants mending, in degrees.
pub(super) const MOST: f64 = 5.0;
/// So many corrections at most.
pub(super) const MOST_CORRECTIONS: usize = 200;

/// A cut in scrap, as it was measured.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum TestCut {
    /// The angle off square that was cut.
    Measured(Angle),
    /// Against a gauge set to the exact angle, its stock along the longer edge: how far the cut stands off at one end of
    /// its length, the other end touching.
    Gap { gap: Length, along: Length, at_long_point: bool },
    /// Cut at 0. The right half is turned over along its length and both are pushed against a straight edge, cut ends
    /// together: the gap where they are open, and the length of the cut. Both halves are off, so the gap shows
    /// twice the error. A square cut swung left opens near you, one swung right at the straight edge; a blade that leans
    /// left opens at the top, one that leans right at the table.
    Halves { gap: Length, along: Length, off_left: bool },
}

impl TestCut {
    /// What was cut, where it should read `exact`.
    ///
    /// Example: 45° wanted, a gap of 1/32 in over 3 1/2 in at the short edge: 45° + atan(0.03125/3.5) = 45.51°.
    /// Square wanted, halves 1/32 in apart over 3 1/2 in near you: atan(0.03125/7) = 0.26° left.
    pub fn cut(self, exact: Angle) -> Angle {
        match self {
            TestCut::Measured(angle) => angle,
            TestCut::Halves { gap, along, off_left } => {
                let off = num::atan2_deg(gap.0, 2.0 * along.0);
                Angle(if off_left { exact.0 + off } else { exact.0 - off })
            }
            TestCut::Gap { gap, along, at_long_point } => {
                let off = num::atan2_deg(gap.0, along.0);
                // A cut that is too steep falls back from the gauge at the shorter edge.
                Angle(if at_long_point { exact.0 - off } else { exact.0 + off })
            }
        }
    }
}

impl Correction {
    pub(super) fn is_for(&self, axis: Axis, side: Side, reading: Angle) -> bool {
        self.axis == axis
            && self.side == side
            && (self.reading - reading).abs().0 <= ONE_READING + 1e-9
    }

    pub(super) fn can_be(&self) -> bool {
        (0.0..=90.0).contains(&self.reading.0) && self.by.0.abs() <= MOST
    }

    /// "0.3° more than it should read".
    pub fn words(&self) -> Text {
        corrected(self.by)
    }
}

/// Where square, or upright, is on this saw's scale: "0.3° right of the 0 on its scale".
pub fn off_zero(by: Angle) -> Text {
    say!("{} {} of the 0 on its scale", by.abs(), if by.0 > 0.0 { "left" } else { "right" })
}

/// How a setting differs from what the cut should read.
pub fn corrected(by: Angle) -> Text {
    say!("{} {} than the scale should say", by.abs(), if by.0 > 0.0 { "more" } else { "less" })
}
