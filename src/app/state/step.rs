//! The steps of undo.

use offsquare_work::save::{Bench, Recent};
use std::rc::Rc;

/// A step to undo, or to do again: the bench on its other side. Recent answers and their pins are no part of
/// it and stay as they are, but for what the step itself did to them; so does a run at the saw, which takes its own steps
/// back.
#[derive(Clone, PartialEq)]
pub(super) struct Step {
    pub bench: Rc<Bench>,
    pub recent: OfRecent,
    /// It began or ended a run, or brought one.
    pub run: bool,
}

/// What a step did to the recent answers.
#[derive(Clone, PartialEq)]
pub(super) enum OfRecent {
    Nothing,
    /// It took this one out of this place.
    Took(usize, Recent),
    /// It brought all others.
    All,
}

impl Step {
    /// Takes `now` to the step's other side, and gives the step that leads back.
    pub fn take(self, now: &mut Rc<Bench>, back: bool) -> Step {
        let mut all = match &self.recent {
            OfRecent::All => self.bench.recent.clone(),
            _ => now.recent.clone(),
        };
        if let OfRecent::Took(place, answer) = &self.recent {
            if !back {
                all.retain(|r| !r.is_like(answer));
            } else if !all.iter().any(|r| r.is_like(answer)) {
                all.insert((*place).min(all.len()), answer.clone());
            }
        }
        let mut bench = self.bench;
        if bench.recent != all {
            Rc::make_mut(&mut bench).recent = all;
        }
        if !self.run && bench.work.begun != now.work.begun {
            Rc::make_mut(&mut bench).work.begun.clone_from(&now.work.begun);
        }
        Step { bench: std::mem::replace(now, bench), recent: self.recent, run: self.run }
    }
}
