//! A run at the saw that is begun: walked to its end, skipped in, kept, put away; test cuts.

mod begun;
mod corrections;
mod pictures;
mod trims;

use offsquare_planner::Request;
use offsquare_units::{Length, Money};
use offsquare_work::cutlist::{Jobs, KeptBoard, Planned};
use offsquare_work::piece::{Begun, Shop, Tick, Work, WorkEdit};
use offsquare_work::rack::{Rack, Sold, Stock};
use offsquare_work::walk::{Walk, What};

/// The planner, to its end.
fn worked(jobs: &Jobs) -> Planned {
    let mut planned = Planned::new(1, jobs);
    let mut run = Request::new(planned.request(jobs, 0, jobs));
    while !run.is_done() {
        for message in run.step(5_000_000) {
            planned.hear(message);
        }
    }
    planned
}

/// The boards that the boards' screen shows, as they can be kept.
fn shown(work: &Work, shop: &Shop) -> Vec<KeptBoard> {
    let jobs = work.jobs(shop);
    assert!(jobs.troubles.is_empty(), "{:?}", jobs.troubles);
    let summary = work.summary(&jobs, &worked(&jobs));
    assert!(summary.without.is_empty(), "{:?}", summary.without);
    let of = |s: &offsquare_work::cutlist::ShownPlan| {
        let job = &jobs.jobs[s.job];
        s.boards.iter().map(|b| job.to_keep(b)).collect::<Vec<_>>()
    };
    summary.shown.iter().flat_map(of).collect()
}

fn start(work: &mut Work, shop: &Shop) {
    let boards = shown(work, shop);
    work.apply(WorkEdit::StartRun(boards), shop);
    assert!(work.begun.is_some());
}

fn run(work: &Work) -> &Begun {
    work.begun.as_ref().expect("a run")
}

/// The step that comes next.
fn next(work: &Work) -> Option<(Tick, What)> {
    let walk = Walk::of(run(work));
    let at = walk.next(run(work))?;
    Some((walk.stages[at].tick, walk.stages[at].what.clone()))
}

/// Plans what was skipped, as the app does.
fn plan_anew(work: &mut Work, shop: &Shop) {
    let jobs = run(work).open_jobs().expect("something to plan");
    let new = run(work).taking(&jobs, &worked(&jobs));
    work.apply(WorkEdit::Replanned(Box::new(new)), shop);
}

/// Ticks everything that is left; gives how many steps.
fn to_the_end(work: &mut Work, shop: &Shop) -> usize {
    let walk = Walk::of(run(work));
    let mut steps = 0;
    while let Some(at) = walk.next(run(work)) {
        work.apply(WorkEdit::Tick(walk.stages[at].tick), shop);
        steps += 1;
        assert!(steps < 10_000);
    }
    steps
}

/// A stock of 3/4 by 1 1/2, sold in one length.
fn one_stock(length: f64, price: i64) -> Rack {
    let sold = vec![Sold { length: Length(length), price: Money(price), ..Sold::default() }];
    let (thickness, width) = (Length(0.75), Length(1.5));
    let stock = Stock { id: 1, name: "strip".into(), thickness, width, sold, ..Stock::default() };
    Rack { stocks: vec![stock], ..Rack::default() }
}
