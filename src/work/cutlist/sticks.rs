//! The job of a stock whose parts are cut from it one after another, with ends that nest.

use super::job::{Instance, JobPart, Times, Trouble};
use super::{BlankCut, Entry, Hand, PartEnd};
use crate::rack::{Lies, Stock};
use offsquare_planner::{self as planner, BoardKind, PartKind};
use offsquare_units::num::Gather;
use offsquare_units::{Length, say};

/// What the planner is asked for these entries, and its parts; says which of them cannot be cut.
pub(super) fn instance(
    stock: &Stock,
    own: &[&Entry],
    boards: Vec<BoardKind>,
    (kerf, trim): (f64, f64),
    times: Times,
    troubles: &mut Vec<Trouble>,
) -> (Instance, Vec<JobPart>) {
    let plane = plane(stock, own);
    let width = match plane {
        Lies::Flat => stock.width.0,
        Lies::OnEdge => stock.thickness.0,
    };
    let mut job = planner::Instance { width, kerf, trim, boards, parts: Vec::new() };
    let mut parts = Vec::new();
    for entry in own {
        let nests = stock.lies(entry.seen, entry.away) == Some(plane);
        let kind = kind(entry, nests, kerf);
        let least = kind.shortest(width);
        if kind.length < least - 1e-9 || kind.length <= 0.0 {
            let called = entry.called();
            let why = format!("{called}: its two ends cross. With these angles it is at least ");
            troubles.push(Trouble::stops(entry, say!("{}{} long.", why, Length(least))));
            continue;
        }
        let wide = entry.seen.unwrap_or(stock.width).0;
        let on_blank = entry.cuts_on_blank(nests, stock.width);
        let mut push = |kind: PartKind, mirrored: bool| {
            let lies = |c: &BlankCut| if mirrored { c.mirrored(wide) } else { c.clone() };
            parts.push(JobPart {
                entry: entry.id,
                piece: entry.piece,
                mirrored,
                each: kind.qty,
                give: ((entry.give - entry.shortened).0.max(0.0), 0.0),
                on_blank: on_blank.iter().map(lies).gather(),
                ..JobPart::default()
            });
            let id = job.parts.len().to_string();
            job.parts.push(PartKind { id, qty: kind.qty * u64::from(times(entry)), ..kind });
        };
        // Mirror images differ only where the part must not be flipped.
        if entry.hand == Hand::Pairs && entry.one_good_face && entry.count > 1 {
            let mirror = PartKind {
                qty: kind.qty / 2,
                left: -kind.left + 0.0,
                right: -kind.right + 0.0,
                ..kind.clone()
            };
            push(PartKind { qty: kind.qty - mirror.qty, ..kind }, false);
            push(mirror, true);
        } else {
            push(kind, false);
        }
    }
    (Instance::Sticks(job), parts)
}

/// An entry as the planner has it: plain ends as they are where it nests, all others as square.
fn kind(entry: &Entry, nests: bool, kerf: f64) -> PartKind {
    let end = |e: &PartEnd| match nests && e.is_plain() {
        true => (e.miter, 0.0),
        false => (0.0, e.as_square(kerf)),
    };
    let ((left, more_left), (right, more_right)) = (end(&entry.left), end(&entry.right));
    PartKind {
        id: String::new(),
        qty: u64::from(entry.count),
        length: entry.cut_length().0 + more_left + more_right,
        left,
        right,
        one_good_face: entry.one_good_face,
    }
}

/// The plane in which most mitered parts lie; flat where none are mitered.
fn plane(stock: &Stock, own: &[&Entry]) -> Lies {
    let mut votes = [0u64; 2];
    for e in own {
        let plain = |end: &PartEnd| end.is_plain() && !end.is_square();
        if !(plain(&e.left) || plain(&e.right)) {
            continue;
        }
        match stock.lies(e.seen, e.away) {
            Some(Lies::Flat) => votes[0] += u64::from(e.count),
            Some(Lies::OnEdge) => votes[1] += u64::from(e.count),
            None => {}
        }
    }
    if votes[1] > votes[0] { Lies::OnEdge } else { Lies::Flat }
}
