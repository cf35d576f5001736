//! What is told for a cut and for a part as a whole.

use super::capacity::Fit;
use super::ends::{Between, Hand, ShortPiece};
use super::lap::LapAdvice;
use super::mark::MarkKind;
use super::on_edge::OtherFace;
use super::position::Position;
use super::remedy::Remedy;
use super::rest::Rest;
use super::stop_block::StopBlock;
use crate::facts::Caution;
use crate::parts::{End, Ripped, Side, Sides};
use offsquare_units::{Angle, Length};
use std::borrow::Cow;

/// On which face the piece lies.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Lay {
    /// The face that is drawn lies up (or down): its size runs across the table.
    Seen,
    /// The face that is drawn stands at the fence: the size going away runs across the table.
    Away,
}

/// What to set for one cut, and what that leaves.
#[derive(Clone, Debug, PartialEq)]
pub struct Advice {
    pub name: Cow<'static, str>,
    pub end: End,
    /// What the piece's faces, edges and ends are called.
    pub sides: Sides,
    /// What is ripped off the piece afterwards.
    pub ripped: Option<Ripped>,
    /// The exact readings, unsigned.
    pub miter: Angle,
    pub bevel: Angle,
    /// How to lay the piece flat: so that this saw can swing and lean that way, and on an edge that bears.
    pub position: Position,
    /// What it rests on in that position; [`Advice::rests`] is what it rests on as it is cut.
    pub rest: Rest,
    /// The sides in that position.
    pub swing: Side,
    pub lean: Side,
    pub set_miter: Angle,
    pub miter_mark: MarkKind,
    /// What the setting takes of this saw's correction.
    pub miter_by: Angle,
    pub set_bevel: Angle,
    pub bevel_mark: MarkKind,
    pub bevel_by: Angle,
    /// How far the open end of the cut stands off when its other end touches.
    pub gap: Length,
    /// The same for the bevel, across the size going away, where that is known.
    pub bevel_gap: Option<Length>,
    /// How far along the far edge the exact cut starts.
    pub tape_mark: Length,
    /// The same on the edge's own face, for a bevel: how far the cut runs along over the size going away.
    pub edge_tape_mark: Option<Length>,
    pub fit: Fit,
    /// The same cut with the seen face at the fence; none where the size going away was not given,
    /// or the stock cannot be laid so.
    pub other_face: Option<OtherFace>,
    pub stop_block: Option<StopBlock>,
    /// It makes the end that is cut first, by its mark: nothing finished can touch a stop yet.
    pub by_mark: bool,
    /// What can be done where this saw cannot, safest first; empty where it can.
    pub remedies: Vec<Remedy>,
}

/// The readings and sides on the face that the piece is cut on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Setting {
    pub miter: Angle,
    pub bevel: Angle,
    pub set_miter: Angle,
    pub set_bevel: Angle,
    pub swing: Side,
    pub lean: Side,
    pub miter_mark: MarkKind,
    pub bevel_mark: MarkKind,
    /// What the settings take of this saw's corrections.
    pub miter_by: Angle,
    pub bevel_by: Angle,
}

impl OtherFace {
    pub fn setting(&self) -> Setting {
        Setting {
            miter: self.miter,
            bevel: self.bevel,
            set_miter: self.set_miter,
            set_bevel: self.set_bevel,
            swing: self.swing,
            lean: self.lean,
            miter_mark: self.miter_mark,
            bevel_mark: self.bevel_mark,
            miter_by: self.miter_by,
            bevel_by: self.bevel_by,
        }
    }
}

impl Advice {
    /// How far the joint stands open at worst, from the miter or from the bevel.
    pub fn open(&self) -> Length {
        self.bevel_gap.map_or(self.gap, |b| b.max(self.gap))
    }
    /// On which face this saw can cut it: the drawn one first; none if on neither.
    pub fn lay(&self) -> Option<Lay> {
        if self.fit.possible() {
            Some(Lay::Seen)
        } else if self.other_face.as_ref().is_some_and(|o| o.fit.possible()) {
            Some(Lay::Away)
        } else {
            None
        }
    }
    /// What the piece rests on as it is cut; where this saw cannot cut it, lying flat.
    pub fn rests(&self) -> Rest {
        match (self.lay(), &self.other_face) {
            (Some(Lay::Away), Some(o)) => o.rest,
            _ => self.rest,
        }
    }
    /// What to set, on the drawn face unless this saw can only cut it on the other.
    pub fn setting(&self) -> Setting {
        match (self.lay(), &self.other_face) {
            (Some(Lay::Away), Some(o)) => o.setting(),
            _ => Setting {
                miter: self.miter,
                bevel: self.bevel,
                set_miter: self.set_miter,
                set_bevel: self.set_bevel,
                swing: self.swing,
                lean: self.lean,
                miter_mark: self.miter_mark,
                bevel_mark: self.bevel_mark,
                miter_by: self.miter_by,
                bevel_by: self.bevel_by,
            },
        }
    }
    /// The angle between the cut and the board's edge: what the reading is the complement of.
    pub fn meets_edge(&self) -> Angle {
        Angle(90.0 - self.miter.0)
    }
}

/// Advice for one part.
#[derive(Clone, Debug, PartialEq)]
pub struct PartAdvice {
    pub name: Cow<'static, str>,
    pub count: u32,
    pub cuts: Vec<Advice>,
    /// What is taken out of its faces.
    pub laps: Vec<LapAdvice>,
    /// The longer and the shorter of the two edges.
    pub long_edge: Length,
    pub short_edge: Length,
    pub between: Between,
    pub hand: Hand,
    /// A left and a right one differ.
    pub handed: bool,
    pub sides: Sides,
    pub ripped: Option<Ripped>,
    pub short_piece: Option<ShortPiece>,
    pub cautions: Vec<Caution>,
}

impl PartAdvice {
    pub fn possible(&self) -> bool {
        self.cuts.iter().all(|c| c.lay().is_some())
    }
}
