//! Finding what can be done about a cut that this saw cannot make.

use super::SawProfile;
use super::advice::Advice;
use super::capacity::Misfit;
use super::position::Edge;
use super::remedy::{MOST_TURNED, Remedy, Turned};
use crate::parts::{Cut, End, Part, Side, StockShape};
use offsquare_units::{Angle, Length, num};

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

/// Turned work: only for straight stock with edge enough to clamp and not longer than
/// [`MOST_TURNED`], only where the miter alone is past its limit, and only where the cut's length along
/// the edge, s·tan m, is within reach at 90° − m.
///
/// With its end turned to the fence, drawn face up, a cut drawn swung to the one side is swung to the
/// other, because the edge that reaches further lies on the side that the blade's far end leaves.
///
/// Example: 3 1/2 in at 62° needs 3.5·tan 62° = 6.58 in; the usual saw reaches 4.55 in at 28°: none.
fn turned_work(saw: &SawProfile, part: &Part, cut: &Cut, advice: &Advice) -> Option<Remedy> {
    let straight = matches!(part.stock, StockShape::Straight) && cut.end != End::Along;
    let whole_width = cut.across.0 >= part.seen.0 * (1.0 - 1e-9);
    let miter_alone = cut.bevel.0 == 0.0
        && advice.fit.misfits.iter().any(|m| matches!(m, Misfit::MiterPastLimit { .. }));
    // Swung left, edge A reaches further out at a left end, edge B at a right one.
    let (along, bears) = match (cut.swing == Side::Left) == (cut.end == End::Left) {
        true => (Edge::A, part.edge_a),
        false => (Edge::B, part.edge_b),
    };
    let right_length =
        bears.0 >= saw.hold_length.0 && part.length.0 <= MOST_TURNED.0 * (1.0 + 1e-9);
    let set = Angle(90.0 - cut.miter.0);
    let needs = Length(part.seen.0 * num::tan_deg(cut.miter.0));
    let reach = saw.width_at(set);
    let low_enough = part.away.is_none_or(|a| a.0 <= saw.height_upright.0);
    let (up, down) = (cut.swing.other(), cut.swing);
    let seen_face_up = set.0 <= saw.miter_limit(up).0;
    let swing = if seen_face_up { up } else { down };
    let fits = set.0 <= saw.miter_limit(swing).0 && needs.0 <= reach.0 && low_enough;
    (straight && whole_width && miter_alone && right_length && fits).then_some(Remedy::TurnedWork(
        Turned { set, swing, seen_face_up, along, sides: part.sides, needs, reach },
    ))
}
