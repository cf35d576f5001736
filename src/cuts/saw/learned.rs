//! Test cuts taken into a saw's profile.

use super::SawProfile;
use super::correction::{Axis, Correction, MOST, MOST_CORRECTIONS};
use crate::parts::Side;
use offsquare_units::Angle;

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
