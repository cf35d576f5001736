//! All jobs as a request to the planner.

use super::Jobs;
use offsquare_planner::message::{Ask, Asked};
use offsquare_units::num::Gather;

/// So many of each part.
fn one_piece<'q>(quantities: impl Iterator<Item = &'q mut u64>, each: &[u64]) {
    quantities.zip(each).for_each(|(quantity, each)| *quantity = *each);
}

impl Jobs {
    /// The request, with what batches of 1 up to `curve` pieces cost (0: none).
    pub(super) fn ask(&self, id: u32, curve: u32) -> Ask {
        let sticks = self.jobs.iter().map(|job| {
            let mut one = job.instance.clone();
            one_piece(one.parts.iter_mut().map(|p| &mut p.qty), &job.each);
            let shorter = job.gives.iter().map(|give| (give.max(0.0), 0.0)).gather();
            Asked { rest: job.rest.clone(), one, shorter, narrower: Vec::new() }
        });
        let rectangles = self.rips.iter().map(|job| {
            let mut one = job.instance.clone();
            one_piece(one.parts.iter_mut().map(|p| &mut p.qty), &job.each);
            let way = |give: f64, across: bool| if across { (0.0, give) } else { (give, 0.0) };
            let gives = || job.gives.iter().zip(&job.across);
            Asked {
                rest: job.rest.clone(),
                one,
                shorter: gives().map(|(give, across)| way(give.0, *across)).gather(),
                narrower: gives().map(|(give, across)| way(give.1, !across)).gather(),
            }
        });
        Ask { id, curve, sticks: sticks.gather(), rectangles: rectangles.gather() }
    }
}
