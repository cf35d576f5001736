//! All jobs as a request to the planner.

use super::{Instance, Job, Jobs};
use offsquare_planner::message::{Ask, Asked};
use offsquare_units::num::Gather;

/// What is asked of one job; `one`: one piece of the batch, with all boards.
fn asked<I: Clone>(job: &Job, rest: &I, one: I) -> Asked<I> {
    let way = |give: f64, along: bool| if along { (give, 0.0) } else { (0.0, give) };
    Asked {
        rest: rest.clone(),
        one,
        shorter: job.parts.iter().map(|p| way(p.give.0, !p.across)).gather(),
        narrower: job.parts.iter().map(|p| way(p.give.1, p.across)).gather(),
    }
}

impl Jobs {
    /// The request, with what batches of 1 up to `curve` pieces cost (0: none).
    pub(super) fn ask(&self, id: u32, curve: u32) -> Ask {
        let mut ask = Ask { id, curve, sticks: Vec::new(), rectangles: Vec::new() };
        for job in &self.jobs {
            let mut one = job.instance.clone();
            for (wanted, part) in one.wanted().into_iter().zip(&job.parts) {
                *wanted = part.each;
            }
            match (&job.rest, one) {
                (Instance::Sticks(rest), Instance::Sticks(one)) => {
                    ask.sticks.push(asked(job, rest, one));
                }
                (Instance::Rectangles(rest), Instance::Rectangles(one)) => {
                    ask.rectangles.push(asked(job, rest, one));
                }
                // What is left is of the kind of the whole.
                _ => {}
            }
        }
        ask
    }
}
