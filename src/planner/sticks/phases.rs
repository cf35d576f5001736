//! The search for plans of sticks: the relaxation with its dive, and the feasibility check of board counts.

use super::super::board_counts::{Aim, Inequality, Question};
use super::super::budget::BUDGET;
use super::super::change::Change;
use super::super::cutting::{Chosen, Cutting, Phase, Search};
use super::super::outcome::{Flaw, WORKING};
use super::super::price::Prices;
use super::super::stock::Stock;
use super::super::verdict::Verdict;
use super::Plan;
use super::feasibility::{Depth, Feasibility};
use super::instance::{CutBoard, Instance};
use super::leftover::Leftovers;
use super::model::{Bin, Lot, Model, Pattern, rooms};
use super::nearly::closed_up;
use super::plain::squared;
use super::pool::Pool;
use super::pricing::Pricer;
use super::refill::Refill;
use super::simplex::{self, Covering, Relaxed};
use super::verify::verify;
use offsquare_units::num::Gather;
use std::rc::Rc;

/// Most kinds of parts for which patterns are priced; above it plans come from filling and exchanging.
const MOST_KINDS: usize = 420;
/// Most board kinds that the search tells apart.
const MOST_STOCK: usize = 40;
/// Kinds up to which the relaxation is solved in slices, and steps of the first.
const SLICED: usize = 60;
const SLICE: i64 = 12_000_000;
/// Nodes of the search for chains when undecided board counts are first tried again.
const PATIENCE: usize = 100_000;

/// What only the search for sticks remembers.
pub struct Own {
    pub feasibility: Feasibility,
    pub bins: Vec<Bin>,
    pub leftovers: Leftovers,
    /// Whether the rough relaxation and its dive are done.
    dived: bool,
    /// Slices of the relaxation so far.
    slices: u32,
    /// Boards that are filled again and again.
    pub refill: Option<Refill>,
}

impl Cutting for Instance {
    type Leftover = f64;
    type Model = Model;
    type Pattern = Pattern;
    type Own = Own;

    const AFTERWARDS: i64 = 400_000_000;
    const SECOND_WIND: i64 = 4 * BUDGET;
    const ROOMY: bool = true;
    const MOST_FEWER: usize = 20;

    fn flaws(&self) -> Vec<Flaw> {
        self.check()
    }

    fn plainly(&self) -> Instance {
        squared(self)
    }

    fn prices(&self) -> Vec<f64> {
        self.boards.iter().map(|b| b.price).gather()
    }

    fn wanted(&self) -> bool {
        self.parts.iter().any(|p| p.qty > 0)
    }

    fn misfit(&self, in_stock: bool) -> Option<usize> {
        let (longest, room) = (self.longest()?, self.room(in_stock));
        (self.parts[longest].length > room + WORKING).then_some(longest)
    }

    fn why(&self, part: usize) -> String {
        let (part, room) = (&self.parts[part], self.room(false).max(0.0));
        format!("Part \"{}\" is {} long, and the longest board gives {room}.", part.id, part.length)
    }

    fn verified(&self, boards: &[CutBoard]) -> Option<f64> {
        verify(self, boards).ok().map(|facts| facts.leftover)
    }

    fn nothing() -> f64 {
        0.0
    }

    fn larger(one: f64, other: f64) -> bool {
        one > other + WORKING
    }

    /// A proven price is enough: the fewest boards at it are hardly ever missed.
    fn sure(base: &Plan) -> bool {
        base.proven
    }

    /// No part gets so short that its ends cross.
    fn changed(&self, change: &Change, by: f64) -> Instance {
        let mut job = self.clone();
        for (part, give) in job.parts.iter_mut().zip(&change.gives) {
            let most = (part.length - part.shortest(job.width)).min(part.length * 0.999);
            part.length -= give.0.min(by).min(most).max(0.0);
        }
        for board in job.boards.iter_mut().filter(|b| b.price > 0.0) {
            board.length += change.over.0.min(by).max(0.0);
        }
        job
    }

    fn holds(&self, cut: &CutBoard) -> bool {
        let end = closed_up(self, &mut cut.clone());
        end <= self.boards[cut.board].length - self.trim + WORKING / 2.0
    }

    fn closed_up(&self, plan: &Plan) -> Option<Plan> {
        let mut plan = plan.clone();
        for board in &mut plan.boards {
            closed_up(self, board);
        }
        plan.leftover = self.verified(&plan.boards)?;
        plan.proven_all = false;
        Some(plan)
    }

    fn model(&self, prices: &Prices, _plain: bool) -> Model {
        Model::new(self, &prices.of)
    }

    fn own(model: &Rc<Model>) -> Own {
        Own {
            feasibility: Feasibility {
                pricer: Pricer::new(Rc::clone(model)),
                pool: Pool::default(),
            },
            bins: model.stock.iter().map(|s| Bin { room: s.room, tail: false }).gather(),
            leftovers: Leftovers::default(),
            dived: false,
            slices: 0,
            refill: None,
        }
    }

    fn stock(model: &Model) -> &[Stock] {
        &model.stock
    }

    fn priced(model: &Model) -> bool {
        model.kinds.len() <= MOST_KINDS && model.stock.len() <= MOST_STOCK
    }

    fn most_open(_: &Model) -> usize {
        60
    }

    fn tidy(_: &Model, chosen: &mut Chosen<Pattern>) {
        chosen.retain(|c| !c.1.counts.is_empty());
    }

    fn realised(model: &Model, instance: &Instance, chosen: &[(usize, Pattern)]) -> Vec<CutBoard> {
        model.realised(instance, chosen)
    }

    fn open(search: &mut Search<Instance>, instance: &Instance) {
        match search.phase {
            Phase::First => search.first(instance),
            Phase::Simple => search.refill(instance),
            _ => search.root(instance),
        }
    }

    fn check_counts(search: &mut Search<Instance>, instance: &Instance, boards: Vec<u32>) {
        let round = search.round;
        let mut depth = Depth { width: 2, dead_ends: 4, tail_nodes: 400, nodes: 600, seed: 0 };
        match search.phase {
            Phase::Fewer => depth.nodes = 2000,
            Phase::Harder => {
                // Many different dives; the complete search grows until it has seen everything.
                depth = Depth {
                    width: 2 + round % 3,
                    dead_ends: 4 + 2 * round,
                    tail_nodes: 200 + 50 * round,
                    nodes: 500 << (round / 2).min(3),
                    seed: round as u64,
                };
                // Proofs by the relaxation get two more chances, each with more nodes.
                search.own.feasibility.pricer.patience =
                    if round < 3 { PATIENCE * round } else { 0 };
            }
            _ => {}
        }
        let (want, cost) = (search.model.demand(), rooms(&search.own.bins));
        let own = &mut search.own;
        let known = &search.inequalities;
        let lot = Lot { want: &want, bins: &own.bins, have: &boards, cost: &cost, known };
        let verdict = own.feasibility.fit(lot, depth, &mut search.budget);
        own.feasibility.pricer.patience = 0;
        match verdict {
            Ok(Verdict::Found(plan)) => {
                if !search.accept(instance, plan) {
                    search.tried.push(boards);
                }
            }
            Err(inequality) => search.inequalities.push(inequality),
            Ok(Verdict::Impossible) => search.refuted.push(boards),
            Ok(Verdict::Unknown) => search.tried.push(boards),
        }
    }

    fn enough(search: &Search<Instance>) -> bool {
        search.round > 400
    }

    fn leftover(search: &mut Search<Instance>, instance: &Instance) -> bool {
        let mut state = core::mem::take(&mut search.own.leftovers);
        let done = state.step(search, instance);
        search.leftover_proven = done && state.proven();
        search.own.leftovers = state;
        done
    }
}

impl Search<Instance> {
    pub fn priced(&self) -> bool {
        Instance::priced(&self.model)
    }

    /// Prices of the boards, scaled so that the highest is 1.
    pub fn costs(&self) -> Vec<f64> {
        let top = self.model.stock.iter().map(|s| s.price).max().unwrap_or(1).max(1) as f64;
        self.model.stock.iter().map(|s| s.price as f64 / top).gather()
    }

    /// The relaxation, solved roughly at first, with a dive; then its inequality.
    fn root(&mut self, instance: &Instance) {
        self.phase = Phase::Price;
        if !self.priced() {
            return;
        }
        let rough = self.model.mitered && !self.own.dived;
        if rough {
            self.phase = Phase::Root;
        }
        let (have, cost, want) = (self.stock_limits(), self.costs(), self.model.demand());
        let bins = self.own.bins.clone();
        let lot = Lot { want: &want, bins: &bins, have: &have, cost: &cost, known: &[] };
        // An inequality is enough if, together with the others, it rules out everything cheaper than the best plan.
        let (model, below) = (Rc::clone(&self.model), self.best.as_ref().map(|b| b.price));
        let (known, refuted) = (self.inequalities.clone(), self.refuted.clone());
        let enough = move |new: &Inequality| {
            below.is_some_and(|below| {
                let mut inequalities = known.clone();
                inequalities.push(new.clone());
                let asked = Question {
                    stock: &model.stock,
                    inequalities: &inequalities,
                    tried: &[],
                    refuted: &refuted,
                    roomy: true,
                };
                matches!(asked.next(Aim::Cheapest { from: 0, below }, 20_000), Verdict::Impossible)
            })
        };
        let covering = Covering {
            lot,
            feasibility: false,
            thorough: !rough,
            enough: if rough { None } else { Some(&enough) },
            seed: 0,
        };
        let mut last = None;
        // Small jobs in slices, each longer than the one before; the patterns found are kept.
        let most =
            if self.model.kinds.len() <= SLICED { SLICE << self.own.slices } else { i64::MAX };
        let Feasibility { pricer, pool } = &mut self.own.feasibility;
        let (solved, spent) = self
            .budget
            .lend(most, |budget| simplex::solve(pricer, pool, &covering, &mut last, budget));
        if spent && last.is_none() && matches!(solved, Relaxed::Unknown) {
            self.own.slices = (self.own.slices + 1).min(30);
            self.phase = Phase::Root;
            return;
        }
        self.own.slices = 0;
        self.own.dived = true;
        self.inequalities.extend(last);
        match solved {
            Relaxed::Short(inequality) => self.inequalities.push(inequality),
            Relaxed::Solution(..) => {
                // A dive pays only if the current plan may still be improved.
                let cheapest = match self.next(self.cheaper(0)) {
                    Verdict::Found(n) => n.price,
                    _ => 0,
                };
                if self.best.as_ref().is_none_or(|b| b.price > cheapest) {
                    let depth =
                        Depth { width: 1, dead_ends: 2, tail_nodes: 200, nodes: 0, seed: 0 };
                    let (lot, budget) =
                        (Lot { known: &self.inequalities, ..lot }, &mut self.budget);
                    if let Some(plan) = self.own.feasibility.dive(lot, depth, budget) {
                        self.accept(instance, plan);
                    }
                }
            }
            Relaxed::Unknown => {}
        }
    }
}
