//! How much one question may cost. It is counted and never timed, so that every device gives the same
//! answer.

use crate::inputs::Inputs;
use crate::layouts::{Detail, Layout, Outcome};
use crate::problem::Problem;
use offsquare_units::say;
use std::cell::Cell;

/// The steps of one question: a request to the JSON door, a key typed, a card opened.
///
/// A step is one solve of a layout that gives few answers, about 1 µs in a native build; a solve with many
/// answers or problems counts as several, one with drawings as three times as many.
///
/// Example: a brace asked for its reading spends a dozen steps; a height worked back from it some
/// thousands.
#[derive(Debug)]
pub struct Steps {
    most: u32,
    spent: Cell<u32>,
    ran_out: Cell<bool>,
}

/// Steps of one question: 20 to 40 ms in a native build; a few slow solves in 100,000 take longer (`--bench requests`).
const MOST: u32 = 30_000;
/// So many answers cost one step more.
const ANSWERS_A_STEP: usize = 16;
/// What is wrong is said in words and with its limit, which is searched for: so many steps each.
const STEPS_A_PROBLEM: usize = 10;
/// Parts, drawings and derivations cost so many times the answers alone.
const FULL: u32 = 3;

impl Default for Steps {
    fn default() -> Steps {
        Steps::at_most(MOST)
    }
}

impl Steps {
    /// A budget of another size.
    pub fn at_most(most: u32) -> Steps {
        Steps { most, spent: Cell::new(0), ran_out: Cell::new(false) }
    }

    pub fn spent(&self) -> u32 {
        self.spent.get()
    }

    /// Whether something was left untried because the steps were spent.
    pub fn ran_out(&self) -> bool {
        self.ran_out.get()
    }

    /// Solves a layout and counts it; none where the steps are spent.
    pub(super) fn solve(
        &self,
        layout: &dyn Layout,
        inputs: &Inputs,
        detail: Detail,
    ) -> Option<Outcome> {
        if self.spent.get() >= self.most {
            self.ran_out.set(true);
            return None;
        }
        let outcome = layout.solve(inputs, detail);
        self.count(&outcome, detail);
        Some(outcome)
    }

    /// Counts what was solved already: the first solve of a question is never refused.
    pub(super) fn count(&self, outcome: &Outcome, detail: Detail) {
        let answers: usize = outcome.solutions.iter().map(|s| s.answers.how_many()).sum();
        let each = if detail == Detail::Full { FULL } else { 1 };
        let said = outcome.problems.len() * STEPS_A_PROBLEM;
        let cost = (1 + answers / ANSWERS_A_STEP + said) as u32 * each;
        self.spent.set(self.spent.get().saturating_add(cost));
    }

    /// What is said where the steps did not last: a warning beside an answer, a stop without one.
    pub fn problem(&self, answered: bool) -> Option<Problem> {
        let text = match answered {
            true => say!("Not all ways were tried: what stands here is what was found so far."),
            false => say!(
                "Not all ways were tried, and none was found so far: give one of the sizes that \
                 are missing."
            ),
        };
        let problem = if answered { Problem::warn("", text) } else { Problem::stop("", text) };
        self.ran_out().then_some(problem)
    }
}
