//! All jobs as a request to the planner.

use super::{Instance, Job, Jobs};
use offsquare_planner::message::{Ask, Asked};
use offsquare_units::num::Gather;

/// What is asked of one job.
fn asked<I: Clone>(job: &Job, rest: &I) -> Asked<I> {
    let way = |give: f64, along: bool| if along { (give, 0.0) } else { (0.0, give) };
    Asked {
        rest: rest.clone(),
        shorter: job.parts.iter().map(|p| way(p.give.0, !p.across)).gather(),
        narrower: job.parts.iter().map(|p| way(p.give.1, p.across)).gather(),
    }
}

impl Jobs {
    /// The request, with what batches of 1 up to `curve` pieces cost (0: none); `one`: the jobs for one of these.
    pub(super) fn ask(&self, id: u32, curve: u32, one: &Jobs) -> Ask {
        let mut ask = Ask {
            id,
            curve,
            sticks: Vec::new(),
            rectangles: Vec::new(),
            one_sticks: Vec::new(),
            one_rectangles: Vec::new(),
        };
        for job in &self.jobs {
            match &job.rest {
                Instance::Sticks(rest) => ask.sticks.push(asked(job, rest)),
                Instance::Rectangles(rest) => ask.rectangles.push(asked(job, rest)),
            }
        }
        for job in one.jobs.iter().filter(|_| curve > 0) {
            match &job.instance {
                Instance::Sticks(one) => ask.one_sticks.push(one.clone()),
                Instance::Rectangles(one) => ask.one_rectangles.push(one.clone()),
            }
        }
        ask
    }
}
