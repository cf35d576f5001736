//! Which cuts are made against a stop: where one setting cuts a length three times or more, as few stops as
//! leave no more than two of that length to be cut by the mark.

use super::board::Board;
use super::ends::SAME;
use super::order::{Key, Rules, Stopped, Way, mark};
use offsquare_cuts::parts::Side;
use std::collections::BTreeMap;

/// A length that is cut so often at one setting takes a stop.
const STOP_FROM: usize = 3;

/// A cut that frees a part: of which board, which place, the stop that would serve it.
struct Freeing {
    board: usize,
    cut: usize,
    place: usize,
    side: Side,
    key: Key,
}

/// The stops of all boards; parts that are too short to be held are cut by the mark.
pub(super) fn stops(boards: &[Board], ways: &[Way], rules: &Rules) -> Vec<Stopped> {
    let mut out: Vec<Stopped> = boards.iter().map(|b| vec![None; b.cuts.len()]).collect();
    // By setting and length.
    let mut groups: BTreeMap<(usize, i64), Vec<Freeing>> = BTreeMap::new();
    for (b, (board, way)) in boards.iter().zip(ways).enumerate() {
        let long = board.places.iter().enumerate().filter(|(_, p)| p.length >= rules.hold - SAME);
        for (p, place) in long {
            if let Some((cut, side)) = rules.last(board, place, *way) {
                let setting = board.cuts[cut].setting.of(rules.settings).0;
                let key = rules.key(board, cut, Some((p, side))).0;
                let own = Freeing { board: b, cut, place: p, side, key };
                groups.entry((setting, mark(place.length))).or_default().push(own);
            }
        }
    }
    for mut left in groups.into_values() {
        let count =
            |all: &[&Freeing]| all.iter().map(|f| boards[f.board].members.len()).sum::<usize>();
        loop {
            left.retain(|f| out[f.board][f.cut].is_none());
            if count(&left.iter().collect::<Vec<_>>()) < STOP_FROM {
                break;
            }
            let mut served: BTreeMap<Key, Vec<&Freeing>> = BTreeMap::new();
            for freeing in &left {
                served.entry(freeing.key).or_default().push(freeing);
            }
            let most = served.values().max_by_key(|own| count(own));
            for freeing in most.into_iter().flatten() {
                out[freeing.board][freeing.cut] = Some((freeing.place, freeing.side));
            }
        }
    }
    out
}
