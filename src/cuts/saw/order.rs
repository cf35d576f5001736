//! Which way to make it suits this saw best.

use super::SawProfile;
use crate::parts::Part;
use offsquare_units::Angle;
use offsquare_units::num::Gather;
use std::cmp::Ordering;

/// How well a way suits the saw; the least is the best: first whether the saw can cut it, then the
/// fewest different readings, then the smaller largest reading.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rank {
    pub cannot: bool,
    /// Different miter and bevel settings, square cuts among them.
    pub readings: usize,
    /// The largest reading of all.
    pub largest: Angle,
}

impl Rank {
    pub fn better(&self, other: &Rank) -> Ordering {
        self.cannot
            .cmp(&other.cannot)
            .then(self.readings.cmp(&other.readings))
            .then(self.largest.0.total_cmp(&other.largest.0))
    }
}

impl SawProfile {
    /// How well the parts of one way suit this saw.
    pub fn rank(&self, parts: &[Part]) -> Rank {
        let mut rank = Rank { cannot: false, readings: 0, largest: Angle(0.0) };
        let mut seen: Vec<(f64, f64)> = Vec::new();
        for part in parts {
            for cut in &part.cuts {
                rank.cannot |= !self.can_cut(part, cut);
                let (m, b) = (cut.miter.0, cut.bevel.0);
                rank.largest = rank.largest.max(cut.miter).max(cut.bevel);
                let known = |s: &(f64, f64)| (s.0 - m).abs() <= 1e-9 && (s.1 - b).abs() <= 1e-9;
                if !seen.iter().any(known) {
                    seen.push((m, b));
                }
            }
        }
        rank.readings = seen.len();
        rank
    }

    /// The places of the ways, best first; ways that suit equally well stay in their order.
    ///
    /// Example: a 30 × 44 in opening and a 2 1/2 in strip: flat on the rails (31.5° at both ends)
    /// comes before the point in the corner (55.7° and 34.3°), which the usual saw cannot cut.
    pub fn order(&self, ways: &[&[Part]]) -> Vec<usize> {
        let ranks: Vec<Rank> = ways.iter().map(|parts| self.rank(parts)).gather();
        let mut order: Vec<usize> = (0..ways.len()).gather();
        offsquare_units::num::sort_by(&mut order, |a, b| ranks[*a].better(&ranks[*b]));
        order
    }
}
