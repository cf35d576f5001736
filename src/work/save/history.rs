//! Steps to undo, as patches: each leads back over what one edit of this tab changed, and forth again.

use super::Bench;
use super::document::{apply, diff};
use super::patch::{Clashes, Patch, Way};
use super::pieces::mend;
use offsquare_units::kept;
use std::rc::Rc;

/// How many steps can be undone.
pub const MOST_STEPS: usize = 200;

/// One edit of the maker's, or several of one topic.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Step {
    pub back: Patch,
    pub forth: Patch,
}
kept!(Step { back, forth });

/// Steps in the order in which they were made, and how many of them stand.
#[derive(Clone, Debug, Default)]
pub struct History {
    pub steps: Vec<Rc<Step>>,
    pub at: usize,
}

impl PartialEq for History {
    fn eq(&self, other: &History) -> bool {
        let all = || self.steps.iter().zip(&other.steps);
        self.at == other.at
            && self.steps.len() == other.steps.len()
            && all().all(|(a, b)| Rc::ptr_eq(a, b) || a == b)
    }
}

impl History {
    /// Notes an edit as a step; with `goes_on` it joins the newest, being of the same topic. Gives whether a newest step is
    /// left (an edit may undo it), or none where nothing changed.
    pub fn note(&mut self, before: &Bench, after: &Bench, goes_on: bool) -> Option<bool> {
        let step = Step { back: diff(after, before), forth: diff(before, after) };
        let any = !step.back.0.is_empty();
        any.then(|| if goes_on { self.go_on(step) } else { self.push(step) })
    }

    /// Takes the newest step back, or does the next one again. What others changed of it since stays.
    pub fn take(&mut self, bench: &mut Bench, back: bool) -> Clashes {
        let Some(patch) = self.next(back).cloned() else { return Clashes::default() };
        let before = bench.clone();
        let clashes = apply(bench, &patch, Way::Own);
        mend(&mut bench.work);
        // The way back leads to where it was, with all that has come to be there since.
        self.took(back, diff(&before, bench), diff(bench, &before));
        clashes
    }

    /// A step more, which stands. What was undone before it can no longer be done again.
    pub fn push(&mut self, step: Step) -> bool {
        self.steps.truncate(self.at);
        self.steps.push(Rc::new(step));
        let over = self.steps.len().saturating_sub(MOST_STEPS);
        self.steps.drain(..over);
        self.at = self.steps.len();
        true
    }

    /// Joins this step to the newest. False where the two cancel out, and the step is dropped.
    pub fn go_on(&mut self, next: Step) -> bool {
        self.at = self.at.saturating_sub(1);
        let newest = self.steps.get(self.at).map(|s| Step::clone(s)).unwrap_or_default();
        let (back, forth) = (next.back.then(newest.back), newest.forth.then(next.forth));
        if back.0.is_empty() {
            self.steps.truncate(self.at);
            return false;
        }
        self.push(Step { back, forth })
    }

    pub fn can_undo(&self) -> bool {
        self.at > 0
    }

    pub fn can_redo(&self) -> bool {
        self.at < self.steps.len()
    }

    /// What takes the newest step back, or does the next one again.
    pub fn next(&self, back: bool) -> Option<&Patch> {
        let at = if back { self.at.checked_sub(1)? } else { self.at };
        self.steps.get(at).map(|step| if back { &step.back } else { &step.forth })
    }

    /// Records that a step was taken: `there` is what it changed, `here` what takes exactly that back.
    pub fn took(&mut self, back: bool, there: Patch, here: Patch) {
        let at = if back { self.at.saturating_sub(1) } else { self.at };
        let (now, step) = match back {
            true => (at, Step { back: there, forth: here }),
            false => (at + 1, Step { back: here, forth: there }),
        };
        if let Some(there) = self.steps.get_mut(at).filter(|s| ***s != step) {
            *there = Rc::new(step);
        }
        self.at = now.min(self.steps.len());
    }

    /// Those of an earlier run of this tab come before its own.
    pub fn after(self, mut earlier: History) -> History {
        let undone = self.steps.is_empty();
        if !undone {
            earlier.steps.truncate(earlier.at);
        }
        let at = earlier.at + self.at;
        let mut all = History { steps: earlier.steps, at };
        all.steps.extend(self.steps);
        let over = all.steps.len().saturating_sub(MOST_STEPS);
        all.steps.drain(..over);
        all.at = all.at.saturating_sub(over);
        all
    }
}
