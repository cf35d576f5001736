//! What the parts of the screen look at: one solution, its cuts, how its numbers are shown.

use offsquare_cuts::backwards::Solved;
use offsquare_cuts::layouts::Caution;
use offsquare_cuts::parts::{Cut, Part};
use offsquare_cuts::saw::Advice;
use offsquare_units::num::Gather;
use offsquare_work::piece::{Answered, Draft, Shop};
use std::rc::Rc;

/// The way that is looked at.
pub fn chosen<'a>(answered: &'a Answered, draft: &Draft) -> Option<&'a Solved> {
    answered.solved.get(chosen_index(answered, draft))
}

pub fn chosen_index(answered: &Answered, draft: &Draft) -> usize {
    draft.way.filter(|w| *w < answered.solved.len()).unwrap_or(0)
}

/// Every cut of a solution with its part, in the order in which they are made.
pub fn cuts(solved: &Solved) -> Vec<(&Part, &Cut)> {
    solved.solution.parts.iter().flat_map(|p| p.cuts.iter().map(move |c| (p, c))).gather()
}

/// What the saw says to each cut.
pub fn advice(solved: &Solved, shop: &Shop) -> Vec<Advice> {
    cuts(solved).into_iter().map(|(p, c)| shop.saw.advise(p, c)).gather()
}

/// Every caution of a solution and of its parts on this saw, once each.
pub fn cautions(solved: &Solved, shop: &Shop) -> Vec<Caution> {
    let mut all = solved.solution.cautions.clone();
    for part in &solved.solution.parts {
        all.extend(shop.saw.advise_part(part).cautions);
    }
    offsquare_units::num::sort_by(&mut all, Ord::cmp);
    all.dedup();
    all
}

/// Which saw setting of a solution is told: the wanted one within its cuts, at first the first that
/// is not square.
pub fn cut_index(solved: &Solved, wanted: Option<usize>) -> usize {
    let all = cuts(solved);
    wanted
        .or_else(|| all.iter().position(|(_, c)| is_odd(c)))
        .unwrap_or(0)
        .min(all.len().saturating_sub(1))
}

/// Not square across.
pub fn is_odd(c: &Cut) -> bool {
    c.miter.0 > 0.0 || c.bevel.0 > 0.0
}

/// The answer that a screen shows, shared.
pub type SharedAnswer = Rc<Answered>;
