//! The whole advice for a part: one cut after the other, both faces that it can lie on.

use super::advice::{Advice, Lay, PartAdvice};
use super::capacity::Misfit;
use super::correction::Axis;
use super::mark::{MarkKind, gap, nearest_mark};
use super::remedy::Remedy;
use super::rest::{Flat, LEAST_EDGE};
use super::stop_block::stop_block;
use super::{SawProfile, handling, ways_out};
use crate::facts::Caution;
use crate::parts::{Cut, End, Part, Side, StockShape};
use offsquare_units::num::Gather;
use offsquare_units::{Angle, Length, num};

impl SawProfile {
    /// What to set for one cut of a part.
    pub fn advise(&self, part: &Part, cut: &Cut) -> Advice {
        let Flat { position, rest, fit } = self.flat(part, cut);
        let (swing, lean) = (position.swing(cut.swing), position.lean(cut.lean));
        let (set_miter, miter_mark) = self.miter_mark(cut.miter, swing);
        let (set_bevel, bevel_mark) = self.bevel_mark(cut.bevel, lean);
        let miter_by = self.correction(Axis::Miter, swing, cut.miter);
        let bevel_by = self.correction(Axis::Bevel, lean, cut.bevel);
        let other_face = self.other_face(part, cut);
        // Over the size going away the cut runs along by that size times tan(bevel)/cos(miter).
        let edge_slope = num::tan_deg(cut.bevel.0) / num::cos_deg(cut.miter.0);
        let mut advice = Advice {
            name: cut.name.clone(),
            end: cut.end,
            sides: part.sides,
            ripped: part.ripped,
            miter: cut.miter,
            bevel: cut.bevel,
            position,
            rest,
            swing,
            lean,
            set_miter,
            miter_mark,
            miter_by,
            set_bevel,
            bevel_mark,
            bevel_by,
            gap: gap(cut.across, cut.miter, meant(set_miter, miter_by)),
            bevel_gap: part.away.map(|a| gap(a, cut.bevel, meant(set_bevel, bevel_by))),
            tape_mark: match cut.is_rip() {
                true => Length(0.0),
                false => Length((cut.to.x - cut.from.x).abs()),
            },
            edge_tape_mark: part
                .away
                .map(|a| Length(a.0 * edge_slope))
                .filter(|l| cut.bevel.0 > 0.0 && l.is_finite()),
            fit,
            other_face,
            stop_block: None,
            by_mark: part
                .cuts
                .iter()
                .find(|c| c.end != End::Along)
                .is_some_and(|c| c.end == cut.end),
            remedies: Vec::new(),
        };
        let at_fence = match (advice.lay(), &advice.other_face) {
            (Some(Lay::Away), Some(other)) => other.stand.at_fence(part),
            _ => position.at_fence(part),
        };
        advice.stop_block = stop_block(part, cut, at_fence);
        if advice.lay().is_none() {
            advice.remedies = ways_out::at_the_saw(self, part, cut, &advice);
        }
        advice
    }

    /// The mirrored piece of a pair, its cut and what to do for it: the same settings, the stock
    /// rolled over, wherever the piece may lie so on the edge that then bears.
    pub fn advise_other_hand(
        &self,
        part: &Part,
        cut: usize,
        first: &Advice,
    ) -> Option<(Part, Advice)> {
        let other = part.mirrored();
        let mut advice = self.advise(&other, other.cuts.get(cut)?);
        let rolled = first.position.rolled();
        let rest = self.rest(&other, &other.cuts[cut], rolled.fence_edge());
        let suits = rolled.suits(part.stock) && rest.bears >= LEAST_EDGE;
        if first.lay() == Some(Lay::Seen) && suits {
            advice = Advice {
                position: rolled,
                rest,
                stop_block: stop_block(&other, &other.cuts[cut], rolled.at_fence(&other)),
                end: other.cuts[cut].end,
                sides: other.sides,
                ..first.clone()
            };
        }
        Some((other, advice))
    }

    /// Advice for every cut of a part, and for the part as a whole.
    pub fn advise_part(&self, part: &Part) -> PartAdvice {
        let cuts: Vec<Advice> = part.cuts.iter().map(|c| self.advise(part, c)).gather();
        let short_piece = self.short_piece(part, &cuts);
        let mut cautions = Vec::new();
        if short_piece.is_some() {
            cautions.push(Caution::ShortPiece);
        }
        if cuts.iter().any(|c| c.fit.misfits[..] == [Misfit::Rip]) {
            cautions.push(Caution::RippedEdge);
        }
        if cuts.iter().any(|c| c.miter.0 > 0.0 && c.bevel.0 > 0.0) {
            cautions.push(Caution::CompoundCut);
        }
        if cuts.iter().any(|c| c.remedies.iter().any(|r| matches!(r, Remedy::TurnedWork(_)))) {
            cautions.push(Caution::SteepCut);
        }
        match part.stock {
            StockShape::Tapered => cautions.push(Caution::TaperedStock),
            StockShape::Round => cautions.push(Caution::RoundStock),
            StockShape::Straight | StockShape::Board => {}
        }
        PartAdvice {
            name: part.name.clone(),
            count: part.count,
            long_edge: part.edge_a.max(part.edge_b),
            short_edge: part.edge_a.min(part.edge_b),
            between: self.between(part, &cuts),
            hand: self.hand(part, &cuts),
            handed: handling::handed(part),
            sides: part.sides,
            ripped: part.ripped,
            short_piece,
            cautions,
            laps: part.laps.iter().map(|l| self.advise_lap(part, l)).gather(),
            cuts,
        }
    }

    /// Whether this saw can make the cut at all, on either face.
    pub fn can_cut(&self, part: &Part, cut: &Cut) -> bool {
        if cut.is_rip() {
            return false;
        }
        self.flat(part, cut).fit.possible()
            || self.other_face(part, cut).is_some_and(|o| o.fit.possible())
    }

    /// The nearest mark of this saw to a miter reading, swung to that side, with what test cuts have shown.
    pub fn miter_mark(&self, miter: Angle, swing: Side) -> (Angle, MarkKind) {
        let (limit, by) = (self.miter_limit(swing), self.correction(Axis::Miter, swing, miter));
        if swing == Side::Neither && by.0 != 0.0 {
            return (miter, MarkKind::Scale);
        }
        nearest_mark(with(miter, by, limit), &self.detents, self.finest_mark, limit)
    }

    /// The nearest mark of this saw to a blade tilt to that side, with what test cuts have shown.
    pub fn bevel_mark(&self, bevel: Angle, lean: Side) -> (Angle, MarkKind) {
        let (limit, by) = (self.bevel_limit(lean), self.correction(Axis::Bevel, lean, bevel));
        if lean == Side::Neither && by.0 != 0.0 {
            return (bevel, MarkKind::Scale);
        }
        nearest_mark(with(bevel, by, limit), &self.bevel_stops, self.finest_mark, limit)
    }
}

/// What a setting really cuts, as far as test cuts tell. Beside 0 no mark is near enough, so the correction itself is set.
fn meant(set: Angle, by: Angle) -> Angle {
    if set.0 == 0.0 { set } else { set - by }
}

/// A reading with its correction: what can be set stays what can be set.
fn with(reading: Angle, by: Angle, limit: Angle) -> Angle {
    let set = (reading + by).max(Angle::ZERO);
    if reading.0 <= limit.0 { set.min(limit) } else { set }
}
