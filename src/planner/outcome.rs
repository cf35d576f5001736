//! What the planner says: plans, answers, flaws of a job. Leftovers (`L`) are those of sticks or of
//! rectangles.

use super::board::CutBoard;
use std::collections::BTreeSet;

/// The planners' working tolerance, in the job's unit.
pub const WORKING: f64 = 1e-9;
/// The verifiers' tolerance, in the job's unit.
pub const ACCEPTED: f64 = 1e-7;
/// Amounts and prices that differ by less than this count as equal.
pub const SAME: f64 = 1e-6;

/// A plan with what is known about it.
#[derive(Clone, Debug, PartialEq)]
pub struct Plan<L> {
    pub boards: Vec<CutBoard>,
    /// What the boards cost together.
    pub price: f64,
    /// No plan costs less than this.
    pub bound: f64,
    /// True exactly if the price is not above the bound (to 1e-6).
    pub proven: bool,
    /// True if price, number of boards and largest leftover are all proven best, in that order.
    pub proven_all: bool,
    /// The one largest leftover: of sticks its length at full width, of rectangles the index of its board
    /// and its size (none without boards).
    pub leftover: L,
}

impl<L> Plan<L> {
    /// The same for those who do not ask for its leftover.
    pub fn without_leftover(&self) -> Plan<()> {
        let Plan { ref boards, price, bound, proven, proven_all, .. } = *self;
        Plan { boards: boards.clone(), price, bound, proven, proven_all, leftover: () }
    }
}

/// The planner's answer.
#[derive(Clone, Debug, PartialEq)]
pub enum PlanAnswer<P> {
    Plan(P),
    /// No plan exists. `part` is the index of a part that fits on no board, or none if there are too few boards.
    Infeasible {
        part: Option<usize>,
        reason: String,
    },
    /// The search ended before it found a plan or could rule one out.
    Open,
    /// The job itself cannot be right.
    Invalid(Vec<Flaw>),
}

/// The best plan so far, what is known about it, and whether the planner is done.
#[derive(Clone, Debug, PartialEq)]
pub struct Progress<P> {
    /// None until the first plan is found.
    pub best: Option<P>,
    /// No plan costs less than this.
    pub bound: f64,
    pub done: bool,
}

/// One thing that is wrong with a job: where (a JSON pointer), and what would be right.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Flaw {
    pub path: String,
    pub text: String,
}

impl Flaw {
    pub fn new(path: impl Into<String>, text: impl Into<String>) -> Flaw {
        Flaw { path: path.into(), text: text.into() }
    }
}

/// Flaws of a job as they are found. Sizes may be at most `most`, which `said` spells out.
pub struct Flaws {
    pub list: Vec<Flaw>,
    pub most: f64,
    pub said: &'static str,
}

impl Flaws {
    pub fn add(&mut self, path: impl Into<String>, text: impl Into<String>) {
        self.list.push(Flaw::new(path, text));
    }

    /// Whether a size is above 0; a flaw if not.
    pub fn positive(&mut self, path: &str, what: &str, value: f64) -> bool {
        let sound = value > 0.0 && value <= self.most;
        if !sound {
            self.add(path, format!("{what} must be above 0 and at most {}.", self.said));
        }
        sound
    }

    pub fn not_negative(&mut self, path: &str, what: &str, value: f64) {
        if !(value >= 0.0 && value <= self.most) {
            self.add(path, format!("{what} must be 0 or more, and at most {}.", self.said));
        }
    }

    /// No two entries of a list may have the same id.
    pub fn same_ids<'a>(&mut self, path: &str, ids: impl Iterator<Item = &'a str>) {
        let mut known = BTreeSet::new();
        for (i, id) in ids.enumerate().filter(|(_, id)| !known.insert(*id)) {
            let text =
                format!("Two entries are called \"{id}\"; a plan could not tell them apart.");
            self.add(format!("{path}/{i}/id"), text);
        }
    }
}
