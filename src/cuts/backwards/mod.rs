//! Working backwards, contradictions and *if it's off*, over any layout: always by solving the
//! layout itself again, never by a second formula and never linearised.

mod contradiction;
mod drop_in;
mod grid;
mod marks;
mod newton;
mod off;
mod reach;
mod resolve;
mod steps;
mod system;
mod through;
mod wish;
mod wording;
mod work_back;

pub use marks::{Mark, MarkKind, Marks, marks_near};
pub use off::{OffAnswer, if_off};
pub use reach::{advise, bring_inside, changed};
pub use resolve::resolve;
pub use steps::Steps;
pub use work_back::{Target, work_back};

use crate::inputs::{Given, Inputs};
use crate::layouts::{Form, Layout, Solution};
use crate::problem::Problem;

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

impl Found {
    fn stopped(problems: Vec<Problem>) -> Found {
        Found { solved: Vec::new(), problems }
    }
}

/// The form that was filled in.
fn form_of(layout: &'static dyn Layout, given: &Given) -> Option<&'static Form> {
    layout.forms().iter().find(|f| f.id == given.inputs.form)
}
