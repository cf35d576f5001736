//! Set-ups: what the saw is set to, and where the stop stands.

use offsquare_cuts::parts::{Cut, CutName, End, Part, Side};
use offsquare_cuts::saw::{Advice, Lay, Position, Remedy, SawProfile};
use offsquare_geometry::Point;
use offsquare_units::{Angle, Length, num};

/// Readings, 0 or more, and to which side.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Setting {
    pub miter: f64,
    pub swing: Side,
    pub bevel: f64,
    pub lean: Side,
}

/// A stop, from its face to the near side of the kerf at the fence, on the table.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stop {
    pub at: f64,
    pub side: Side,
}

/// The nearest marks of this saw; none past a limit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Shown {
    pub miter: Option<Angle>,
    pub bevel: Option<Angle>,
}

/// What to do where this saw cannot make a reading.
#[derive(Clone, Debug, PartialEq)]
pub enum WayOut {
    /// The board stands on its edge.
    OtherFace,
    /// The board lies in another way than the run has it.
    Laid(Position),
    Remedy(Remedy),
}

/// A setting with its stop; none: by the mark.
#[derive(Clone, Debug, PartialEq)]
pub struct SetUp {
    pub setting: Setting,
    pub stop: Option<Stop>,
    pub shown: Shown,
    pub way_out: Option<WayOut>,
}

/// Readings that differ by less are one, in degrees.
const SAME_ANGLE: f64 = 1e-9;

impl Setting {
    /// As it is with the board rolled over.
    pub(super) fn rolled(self) -> Setting {
        Setting { swing: self.swing.other(), lean: self.lean.other(), ..self }
    }

    pub(super) fn is_square(&self) -> bool {
        self.miter == 0.0 && self.bevel == 0.0
    }

    pub(super) fn alike(&self, other: &Setting) -> bool {
        (self.miter - other.miter).abs() <= SAME_ANGLE
            && (self.bevel - other.bevel).abs() <= SAME_ANGLE
            && (self.swing, self.lean) == (other.swing, other.lean)
    }

    /// Its place among the settings of all cuts, and whether the board is rolled over for it.
    pub(super) fn of(&self, settings: &[Setting]) -> (usize, bool) {
        let at = |s: Setting| settings.iter().position(|k| k.alike(&s));
        at(*self).map_or_else(|| (at(self.rolled()).unwrap_or(0), true), |i| (i, false))
    }

    fn within(&self, saw: &SawProfile) -> bool {
        self.miter <= saw.miter_limit(self.swing).0 + SAME_ANGLE
            && self.bevel <= saw.bevel_limit(self.lean).0 + SAME_ANGLE
    }

    /// The nearest marks of a saw.
    pub fn shown(&self, saw: &SawProfile) -> Shown {
        let (miter, bevel) = (Angle(self.miter), Angle(self.bevel));
        let past = |is: Angle, limit: Angle| is.0 > limit.0 + SAME_ANGLE;
        Shown {
            miter: (!past(miter, saw.miter_limit(self.swing)))
                .then(|| saw.miter_mark(miter, self.swing).0),
            bevel: (!past(bevel, saw.bevel_limit(self.lean)))
                .then(|| saw.bevel_mark(bevel, self.lean).0),
        }
    }

    /// What a saw is told to do for a right end cut so, of a part with these sizes.
    pub fn advice(
        &self,
        saw: &SawProfile,
        (length, seen, away): (Length, Length, Length),
    ) -> Option<Advice> {
        let run = seen.0 * offsquare_units::num::tan_deg(self.miter);
        let (near, far) = match self.swing {
            Side::Right => (length.0, length.0 - run),
            _ => (length.0 - run, length.0),
        };
        let left = [Point::new(0.0, 0.0), Point::new(0.0, seen.0)];
        let right = [Point::new(near, 0.0), Point::new(far, seen.0)];
        let names = [CutName::default(); 2];
        let mut part = Part::stick("part", seen, Some(away), &left, &right, &names);
        let own = part.cuts.iter_mut().find(|c| c.end == End::Right)?;
        own.bevel = Angle(self.bevel);
        own.lean = self.lean;
        let own: Cut = own.clone();
        Some(saw.advise(&part, &own))
    }

    /// The way out for it; none where this saw can.
    pub(super) fn way_out(
        &self,
        saw: &SawProfile,
        sizes: (Length, Length, Length),
    ) -> Option<WayOut> {
        let advice = self.advice(saw, sizes)?;
        let lies = (advice.swing, advice.lean) == (self.swing, self.lean);
        match advice.lay() {
            Some(Lay::Seen) if lies || self.within(saw) => None,
            Some(Lay::Seen) => Some(WayOut::Laid(advice.position)),
            Some(Lay::Away) => Some(WayOut::OtherFace),
            None => advice.remedies.into_iter().next().map(WayOut::Remedy),
        }
    }
}

/// The settings of all cuts, as few as may be: a board rolled over gives each cut's mirror image. `cuts`: each
/// setting with what speaks for it. Of the two ways the saw must reach it first; then the one of more weight.
pub(super) fn settings(cuts: &[(Setting, usize)], saw: &SawProfile) -> Vec<Setting> {
    let mut groups: Vec<(Setting, [usize; 2])> = Vec::new();
    for (setting, count) in cuts {
        let known =
            |g: &&mut (Setting, [usize; 2])| g.0.alike(setting) || g.0.rolled().alike(setting);
        match groups.iter_mut().find(known) {
            Some((first, counts)) => counts[usize::from(!first.alike(setting))] += count,
            None => groups.push((*setting, [*count, 0])),
        }
    }
    let pick = |(first, counts): (Setting, [usize; 2])| {
        let other = first.rolled();
        let better = (other.within(saw), counts[1]) > (first.within(saw), counts[0]);
        if better { other } else { first }
    };
    let mut out: Vec<Setting> = groups.into_iter().map(pick).collect();
    num::sort_by(&mut out, |a, b| a.miter.total_cmp(&b.miter).then(a.bevel.total_cmp(&b.bevel)));
    out
}
