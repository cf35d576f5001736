//! Parts of one board laid anew: of those whose ends lie alike, shorter ones further left.

use super::board::StickPart;
use offsquare_planner::ends::lying;
use offsquare_planner::{CutBoard, Instance, Placement};
use offsquare_units::num;

/// Lays parts whose planned ends are alike in order of their lengths, each gap between neighbors staying as it
/// is: nothing on the board grows. Short parts can then be cut off first while there is length to hold.
pub fn shorter_first(instance: &Instance, parts: &[StickPart], boards: &mut [CutBoard]) {
    for board in boards {
        let ends = |p: &Placement| {
            let kind = instance.parts.get(p.part)?;
            let (l, r) = lying(kind.left, kind.right, p.turned, p.flipped);
            Some(((l + 0.0).to_bits(), (r + 0.0).to_bits()))
        };
        let planned = |p: &Placement| instance.parts.get(p.part).map_or(0.0, |k| k.length);
        let long = |p: &Placement| parts.get(p.part).map_or(0.0, |p| p.part.length.0);
        let before = board.parts.clone();
        let mut slots: Vec<Placement> = before.clone();
        let mut taken = vec![false; before.len()];
        for i in 0..before.len() {
            if taken[i] {
                continue;
            }
            let alike: Vec<usize> =
                (i..before.len()).filter(|j| ends(&before[*j]) == ends(&before[i])).collect();
            let mut sorted = alike.clone();
            num::sort_by(&mut sorted, |a, b| {
                let (a, b) = (&before[*a], &before[*b]);
                long(a).total_cmp(&long(b)).then(a.part.cmp(&b.part))
            });
            for (slot, from) in alike.iter().zip(sorted) {
                taken[*slot] = true;
                slots[*slot] = before[from];
            }
        }
        for i in 0..slots.len() {
            slots[i].x = match i {
                0 => before[0].x,
                _ => {
                    let gap = before[i].x - before[i - 1].x - planned(&before[i - 1]);
                    slots[i - 1].x + planned(&slots[i - 1]) + gap
                }
            };
        }
        board.parts = slots;
    }
}
