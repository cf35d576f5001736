//! Undo before the code that makes patches has loaded: steps are pairs of documents. Until then only what a start reads first
//! can change.

use crate::io::keeping::Change;
use offsquare_work::save::Bench;

/// Steps in the order in which they were made, and how many of them stand.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Early {
    pub steps: Vec<Change>,
    pub at: usize,
}

impl Early {
    pub fn note(&mut self, change: Change, goes_on: bool) -> Option<bool> {
        let [before, after] = change;
        if are_alike(&before, &after) {
            return None;
        }
        self.steps.truncate(self.at);
        let newest = self.steps.pop_if(|_| goes_on);
        let before = newest.map_or(before, |[first, _]| first);
        let stands = !are_alike(&before, &after);
        if stands {
            self.steps.push([before, after]);
        }
        self.at = self.steps.len();
        Some(stands)
    }
    /// The document before the step and after it, in the direction taken.
    pub fn take(&mut self, back: bool) -> Option<Change> {
        let at = if back { self.at.checked_sub(1)? } else { self.at };
        let [before, after] = self.steps.get(at)?.clone();
        self.at = if back { at } else { at + 1 };
        Some(if back { [after, before] } else { [before, after] })
    }
    pub fn can_undo(&self) -> bool {
        self.at > 0
    }
    pub fn can_redo(&self) -> bool {
        self.at < self.steps.len()
    }
}

/// Whether two documents agree in what a start reads first.
pub fn are_alike(a: &Bench, b: &Bench) -> bool {
    a.drafts == b.drafts && a.recent == b.recent && a.lengths == b.lengths && a.shop == b.shop
}

/// Where two documents differ, sets a third one to what the second has.
pub fn lead(bench: &mut Bench, [from, to]: &Change) {
    if from.drafts != to.drafts {
        bench.drafts = to.drafts.clone();
    }
    if from.recent != to.recent {
        bench.recent = to.recent.clone();
    }
    if from.lengths != to.lengths {
        bench.lengths = to.lengths.clone();
    }
    if from.shop != to.shop {
        bench.shop = to.shop.clone();
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use offsquare_units::Length;
    use offsquare_work::save::History;
    use std::rc::Rc;

    /// A kerf that is typed, changed, undone and done again: both ways of keeping steps lead to the same documents.
    #[test]
    fn early_steps_are_steps_like_all_others() {
        let mut number = 7_u64;
        let mut below = |n: u64| {
            number = number.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1);
            (number >> 33) % n
        };
        let (mut early, mut history) = (Early::default(), History::default());
        let (mut bench, mut other) = (Rc::new(Bench::default()), Bench::default());
        let mut goes_on = false;
        for _ in 0..2_000 {
            let before = bench.clone();
            match below(4) {
                n @ 0..2 => {
                    let back = n == 0;
                    if let Some(step) = early.take(back) {
                        lead(Rc::make_mut(&mut bench), &step);
                    }
                    history.take(&mut other, back);
                    goes_on = false;
                }
                _ => {
                    let kerf = Length(0.125 * (1 + below(3)) as f64);
                    Rc::make_mut(&mut bench).shop.saw.kerf = kerf;
                    other.shop.saw.kerf = kerf;
                    let stands = early.note([before.clone(), bench.clone()], goes_on);
                    assert_eq!(stands, history.note(&before, &bench, goes_on));
                    goes_on = stands.unwrap_or(goes_on) && below(2) == 0;
                }
            }
            assert_eq!(*bench, other);
            let can = [history.can_undo(), history.can_redo()];
            assert_eq!([early.can_undo(), early.can_redo()], can);
            // The history keeps 200 steps.
            if early.steps.len() == 150 {
                (early, history) = (Early::default(), History::default());
                goes_on = false;
            }
        }
    }
}
