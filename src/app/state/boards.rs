//! What the planner was asked and what it found: beside the document, never in its undo.

use crate::io::planning::{Said, Trouble};
use offsquare_work::cutlist::{CURVE_MOST, Jobs, Planned};
use offsquare_work::piece::{Begun, WorkEdit};
use offsquare_work::save::Bench;
use std::rc::Rc;

/// The newest request, and what is shown meanwhile.
#[derive(Clone, Default)]
pub struct Boards {
    pub jobs: Rc<Jobs>,
    pub planned: Rc<Planned>,
    /// The last plans that were whole, while the newest are on their way.
    before: Option<(Rc<Jobs>, Rc<Planned>)>,
    /// The jobs of a batch of one, for which the curve stands.
    one: Rc<Jobs>,
    /// How far the curve is still wanted.
    pub curve: u32,
    /// Why nothing is planned.
    pub trouble: Option<Trouble>,
    /// How often the planner was started anew by hand.
    pub tries: u32,
    /// Pieces that are set side by side: each is planned by itself, one after the other.
    pub beside: Option<[u32; 2]>,
    /// What was found of each, with the jobs that it was found for.
    found: Vec<(u32, Rc<Jobs>, Rc<Planned>)>,
}

/// The rest changes with the request, or with what is heard of it.
impl PartialEq for Boards {
    fn eq(&self, other: &Boards) -> bool {
        Rc::ptr_eq(&self.planned, &other.planned)
            && self.trouble == other.trouble
            && self.beside == other.beside
    }
}

impl Boards {
    /// Asks anew where the jobs have changed. The id of the request changes with it.
    pub fn follow(&mut self, bench: &Bench) {
        // What a run has skipped comes first: it waits at the saw.
        let open = bench.work.begun.as_ref().and_then(Begun::open_jobs);
        if let (None, Some(pieces)) = (&open, self.beside) {
            return self.follow_beside(bench, pieces);
        }
        let jobs = open.unwrap_or_else(|| bench.work.jobs(&bench.shop));
        if self.planned.id != 0 && jobs == *self.jobs {
            return;
        }
        // What a batch costs can be asked of one piece by itself.
        let alone = bench.work.alone().map(|p| bench.work.jobs_of(p.id, 1, &bench.shop));
        let most = alone.as_ref().map_or(0, |_| CURVE_MOST);
        let one = alone.unwrap_or_default();
        let whole = self.curve_is_whole();
        let mut planned = Planned::new(self.planned.id + 1, &jobs);
        self.curve = most;
        if one == *self.one && whole {
            planned.curve = self.planned.curve.clone();
            self.curve = 0;
        }
        if self.is_whole() && !self.jobs.jobs.is_empty() {
            self.before = Some((self.jobs.clone(), self.planned.clone()));
        }
        self.one = Rc::new(one);
        self.jobs = Rc::new(jobs);
        self.planned = Rc::new(planned);
    }

    /// What of this plan a run takes in, once it is settled.
    pub fn taking(&self, bench: &Bench) -> Option<WorkEdit> {
        let run = bench.work.begun.as_ref().filter(|r| r.open().is_some())?;
        let settled = self.is_whole() && !self.planned.searches();
        let new = settled.then(|| run.taking(&self.jobs, &self.planned))?;
        Some(WorkEdit::Replanned(Box::new(new)))
    }

    fn follow_beside(&mut self, bench: &Bench, pieces: [u32; 2]) {
        for id in pieces {
            let Some(piece) = bench.work.piece(id) else { continue };
            let jobs = bench.work.jobs_of(id, piece.batch, &bench.shop);
            if self.found.iter().any(|f| f.0 == id && *f.1 == jobs) {
                continue;
            }
            if self.planned.id == 0 || jobs != *self.jobs {
                self.planned = Rc::new(Planned::new(self.planned.id + 1, &jobs));
                (self.jobs, self.before, self.curve) = (Rc::new(jobs), None, 0);
                self.one = Rc::default();
            }
            if self.planned.running {
                return;
            }
            self.found.retain(|f| f.0 != id && pieces.contains(&f.0));
            self.found.push((id, self.jobs.clone(), self.planned.clone()));
        }
    }

    /// What was found for a piece by itself, once it is known.
    pub fn found(&self, piece: u32) -> Option<(&Jobs, &Planned)> {
        let found = self.found.iter().find(|f| f.0 == piece)?;
        Some((&found.1, &found.2))
    }

    pub fn hear(&mut self, said: Said) {
        match said {
            Said::Message(message) => {
                Rc::make_mut(&mut self.planned).hear(message);
            }
            Said::Trouble(trouble) => self.trouble = trouble,
        }
    }

    pub fn try_again(&mut self) {
        self.trouble = None;
        self.tries += 1;
    }

    pub fn stop(&mut self) {
        Rc::make_mut(&mut self.planned).stop();
    }

    fn curve_is_whole(&self) -> bool {
        !self.planned.running && !self.planned.stopped && !self.planned.curve.is_empty()
    }

    fn is_whole(&self) -> bool {
        self.planned.id != 0 && self.planned.is_whole()
    }

    /// What to show: the newest where it is whole or there is nothing else; true: an old one.
    pub fn shown(&self) -> (Rc<Jobs>, Rc<Planned>, bool) {
        match &self.before {
            Some((jobs, planned)) if !self.is_whole() && self.planned.running => {
                (jobs.clone(), planned.clone(), true)
            }
            _ => (self.jobs.clone(), self.planned.clone(), false),
        }
    }
}
