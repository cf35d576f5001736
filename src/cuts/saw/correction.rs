//! What this saw is off by, as test cuts in scrap have shown: kept by side and reading, and taken into every setting
//! of that reading.

use super::SawProfile;
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

/// For one reading on one side: the saw is set to the reading plus this.
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
const MOST: f64 = 5.0;
/// So many corrections at most.
const MOST_CORRECTIONS: usize = 200;

/// A cut in scrap, as it was measured.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum TestCut {
    /// The angle off square that was cut.
    Measured(Angle),
    /// Against a gauge set to the exact angle, its stock along the longer edge: how far the cut stands off at one end of
    /// its length, the other end touching.
    Gap { gap: Length, along: Length, at_long_point: bool },
}

impl TestCut {
    /// What was cut, where it should read `exact`.
    ///
    /// Example: 45° wanted, a gap of 1/32 in over 3 1/2 in at the short edge: 45° + atan(0.03125/3.5) = 45.51°.
    pub fn cut(self, exact: Angle) -> Angle {
        match self {
            TestCut::Measured(angle) => angle,
            TestCut::Gap { gap, along, at_long_point } => {
                let off = num::atan2_deg(gap.0, along.0);
                // A cut that is too steep falls back from the gauge at the shorter edge.
                Angle(if at_long_point { exact.0 - off } else { exact.0 + off })
            }
        }
    }
}

impl Correction {
    fn is_for(&self, axis: Axis, side: Side, reading: Angle) -> bool {
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

/// How a setting differs from what the cut should read.
pub fn corrected(by: Angle) -> Text {
    say!("{} {} than the scale should say", by.abs(), if by.0 > 0.0 { "more" } else { "less" })
}

impl SawProfile {
    /// What a setting of that reading takes besides; 0 where no test cut was made.
    pub fn correction(&self, axis: Axis, side: Side, reading: Angle) -> Angle {
        let own = self.corrections.iter().find(|c| c.is_for(axis, side, reading));
        own.map_or(Angle::ZERO, |c| c.by)
    }

    /// Takes in a test cut: set to `set` for `exact`, `cut` came off the saw.
    /// Errors are sentences: a saw that is off by more than 5°.
    ///
    /// Example: 31.6° left set to 31.6° cuts 31.9°: from now on 31.6° left is set 0.3° less.
    pub fn learn(
        &mut self,
        axis: Axis,
        side: Side,
        exact: Angle,
        set: Angle,
        cut: Angle,
    ) -> Result<(), String> {
        let by = set - cut;
        if !(by.0.abs() <= MOST) {
            return Err(format!(
                "That is more than {MOST}\u{b0} off: measure again, or mend the saw\u{2019}s scale first."
            ));
        }
        self.forget(axis, side, exact);
        if self.corrections.len() >= MOST_CORRECTIONS {
            self.corrections.remove(0);
        }
        self.corrections.push(Correction { axis, side, reading: exact, by });
        Ok(())
    }

    /// The scale is believed again.
    pub fn forget(&mut self, axis: Axis, side: Side, reading: Angle) {
        self.corrections.retain(|c| !c.is_for(axis, side, reading));
    }

    pub(super) fn corrections_can_be(&self) -> bool {
        self.corrections.len() <= MOST_CORRECTIONS
            && self.corrections.iter().all(Correction::can_be)
    }
}
