//! The answer on screen.

use offsquare_work::piece::{Answered, Draft};
use std::rc::Rc;

/// A layout's answer as it is shown: the last good one stays when the newest is none.
#[derive(Clone, Debug, PartialEq)]
pub struct ShownAnswer {
    /// Fields and problems as they stand.
    pub now: Rc<Answered>,
    /// The last answer that was one.
    pub good: Option<Rc<Answered>>,
}

impl ShownAnswer {
    /// The answer on screen, and whether it is an old one.
    pub fn answer(&self) -> Option<(&Rc<Answered>, bool)> {
        let old = !self.now.is_good();
        self.good.as_ref().map(|g| (g, old))
    }
}

/// Whether the good answer shown is to the form of this draft.
pub(super) fn same_form(shown: &ShownAnswer, draft: &Draft) -> bool {
    shown.good.as_ref().is_some_and(|g| g.given.inputs.form == draft.form)
}
