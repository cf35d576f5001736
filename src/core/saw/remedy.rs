//! What can be done about a cut that this saw cannot make, safest first.

use super::SawProfile;
use super::advice::Advice;
use super::capacity::Misfit;
use crate::num;
use crate::parts::{Cut, Part, StockShape};
use crate::units::{Angle, Length, Quantity};

/// One way out.
#[derive(Clone, Debug, PartialEq)]
pub enum Remedy {
    /// Change a size of the piece, so that the reading comes inside the limit.
    ChangeInput(ChangedInput),
    /// Mark the line with a tape and cut it with a hand saw or on a sled; `edge`: the mark of a
    /// bevel on the edge's own face.
    TapeMark { mark: Length, across: Length, edge: Option<Length> },
    /// Rip it, the blade tilted so far, or plane the edge to that.
    Rip { tilt: Angle, to: Length },
    /// Turn the work: its end against an auxiliary fence, clamped, the saw at the complement.
    TurnedWork {
        /// What the saw is set to: 90° less the reading.
        set: Angle,
        /// How far the blade must reach, and how far it does there.
        needs: Length,
        reach: Length,
    },
    /// This saw has no safe way.
    NotOnThisSaw,
}

/// A change of one size and what it does.
#[derive(Clone, Debug, PartialEq)]
pub struct ChangedInput {
    /// The field's key and its label.
    pub give: &'static str,
    pub label: &'static str,
    pub was: Quantity,
    pub value: Quantity,
    /// The reading that it leads to.
    pub reading: Angle,
    /// Where the piece was too large for the saw: the size seen that goes through it.
    pub through: Option<Length>,
    /// What else changes: the path of each headline answer, what it was and what it becomes.
    pub effects: Vec<(&'static str, Quantity, Quantity)>,
}

/// The ways out that need no change of the piece: the tape mark, then turned work where it is safe,
/// else the plain word that it is not for this saw.
pub(super) fn at_the_saw(saw: &SawProfile, part: &Part, cut: &Cut, advice: &Advice) -> Vec<Remedy> {
    if cut.is_rip() {
        return vec![Remedy::Rip { tilt: cut.bevel, to: part.seen }];
    }
    let mut out = vec![Remedy::TapeMark {
        mark: advice.tape_mark,
        across: cut.across,
        edge: advice.edge_tape_mark,
    }];
    out.push(turned_work(saw, part, cut, advice).unwrap_or(Remedy::NotOnThisSaw));
    out
}

/// Turned work: only for straight stock long enough to clamp, only where the miter alone is past its
/// limit, and only where the cut's length along the edge, s·tan m, is within reach at 90° − m.
///
/// Example: 3 1/2 in at 62° needs 3.5·tan 62° = 6.58 in; the usual saw reaches 4.55 in at 28°: none.
fn turned_work(saw: &SawProfile, part: &Part, cut: &Cut, advice: &Advice) -> Option<Remedy> {
    let straight = matches!(part.stock, StockShape::Straight);
    let long_enough = part.length.0 >= saw.hold_length.0;
    let miter_alone = cut.bevel.0 == 0.0
        && advice.fit.misfits.iter().any(|m| matches!(m, Misfit::MiterPastLimit { .. }));
    let set = Angle(90.0 - cut.miter.0);
    let needs = Length(part.seen.0 * num::tan_deg(cut.miter.0));
    let reach = saw.width_at(set);
    let low_enough = part.away.is_none_or(|a| a.0 <= saw.height_upright.0);
    let fits = set.0 <= saw.miter_most().0 && needs.0 <= reach.0 && low_enough;
    (straight && long_enough && miter_alone && fits).then_some(Remedy::TurnedWork {
        set,
        needs,
        reach,
    })
}
