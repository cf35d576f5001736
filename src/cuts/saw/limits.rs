//! What a saw's limits may be: one table for the shop's form, stored files and the JSON door.

use super::SawProfile;
use offsquare_units::Angle;

/// One limit: the JSON door's key, and from where to where it may be, in degrees (keys that end in `_deg`)
/// or inches, ends included.
#[derive(Clone, Copy, Debug)]
pub struct Limit {
    pub key: &'static str,
    pub least: f64,
    pub most: f64,
    /// Its place in a profile.
    pub of: fn(&mut SawProfile) -> &mut f64,
}

/// Less than this no blade cuts and no board measures, in.
const HAIR: f64 = 0.001;

/// Every limit that is one number.
pub const LIMITS: [Limit; 11] = [
    Limit { key: "miter_left_deg", least: 0.0, most: 75.0, of: |s| &mut s.miter_left.0 },
    Limit { key: "miter_right_deg", least: 0.0, most: 75.0, of: |s| &mut s.miter_right.0 },
    Limit { key: "bevel_left_deg", least: 0.0, most: 60.0, of: |s| &mut s.bevel_left.0 },
    Limit { key: "bevel_right_deg", least: 0.0, most: 60.0, of: |s| &mut s.bevel_right.0 },
    Limit { key: "finest_mark_deg", least: 0.05, most: 5.0, of: |s| &mut s.finest_mark.0 },
    Limit { key: "kerf", least: HAIR, most: 1.0, of: |s| &mut s.kerf.0 },
    Limit { key: "width_square", least: HAIR, most: 60.0, of: |s| &mut s.width_square.0 },
    Limit { key: "width_at_45", least: HAIR, most: 60.0, of: |s| &mut s.width_at_45.0 },
    Limit { key: "height_upright", least: HAIR, most: 60.0, of: |s| &mut s.height_upright.0 },
    Limit {
        key: "height_at_45_bevel",
        least: HAIR,
        most: 60.0,
        of: |s| &mut s.height_at_45_bevel.0,
    },
    Limit { key: "hold_length", least: HAIR, most: 60.0, of: |s| &mut s.hold_length.0 },
];

/// Detents and bevel stops, at most, degrees.
pub const LAST_STOP: f64 = 75.0;
/// So many detents or bevel stops, at most: more than any scale has half degrees.
pub const MOST_STOPS: usize = 200;

impl Limit {
    /// The limit of that key.
    pub fn find(key: &str) -> Option<&'static Limit> {
        LIMITS.iter().find(|l| l.key == key)
    }
    pub fn takes(&self, x: f64) -> bool {
        x >= self.least && x <= self.most
    }
    pub fn is_angle(&self) -> bool {
        self.key.ends_with("_deg")
    }
}

/// Whether click stops can be true.
pub fn stops_can_be(stops: &[Angle]) -> bool {
    stops.len() <= MOST_STOPS && stops.iter().all(|a| a.0 >= 0.0 && a.0 <= LAST_STOP)
}

impl SawProfile {
    /// Whether every limit can be true. Example: the usual saw's can; with a finest mark of a
    /// millionth of a degree they cannot.
    pub fn can_be(&self) -> bool {
        let mut saw = self.clone();
        LIMITS.iter().all(|l| l.takes(*(l.of)(&mut saw)))
            && stops_can_be(&self.detents)
            && stops_can_be(&self.bevel_stops)
            && self.corrections_can_be()
    }
}
