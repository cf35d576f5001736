//! The search for plans of strips and sheets: first plans and inequalities, and what differs in checking board counts.

use super::super::board_counts::{Aim, Inequality};
use super::super::budget::BUDGET;
use super::super::change::Change;
use super::super::cutting::{Cutting, Phase, Search};
use super::super::outcome::{Flaw, WORKING};
use super::super::price::Prices;
use super::super::stock::Stock;
use super::super::verdict::Verdict;
use super::Plan;
use super::corner::{self, Bin, RULES, Rule};
use super::dive::{Diving, Pool};
use super::effort::{LARGE, UNIT};
use super::exact::Largest;
use super::feasibility::Check;
use super::instance::{CutBoard, Grain, Instance, Leftover, PartKind, extent};
use super::layout::realised;
use super::model::{Chosen, Model, Tree};
use super::pack::{self, Dice};
use super::relaxation::{self, Master, Pricer};
use super::steps;
use super::verify::verify;
use offsquare_units::num::Gather;
use std::rc::Rc;

/// The most board counts kept undecided at a time.
pub const MOST_OPEN: usize = 40;

/// Steps for a plain plan.
const PLAIN: i64 = 150_000_000;

/// What only the search for rectangles remembers.
#[derive(Default)]
pub struct Own {
    pub pricer: Option<Pricer>,
    pub master: Option<Master>,
    pub pool: Pool,
    /// A plan that is being made from the relaxation.
    pub diving: Option<Diving>,
    /// Whether quick patterns have been looked for.
    pub enriched: bool,
    /// Part values used to rule boards out in the complete search.
    pub measures: Vec<Inequality>,
    /// Whether a larger leftover has been looked for by heuristics.
    pub shrunk: bool,
    pub dice: Dice,
    /// Board counts already checked as nearly filled.
    pub squeezed: Vec<Vec<u32>>,
    /// Board counts being checked.
    pub checking: Option<Check>,
    /// A larger leftover being looked for.
    pub largest: Option<(Vec<u32>, Largest)>,
}

impl Cutting for Instance {
    type Leftover = Option<(usize, Leftover)>;
    type Model = Model;
    type Pattern = Tree;
    type Own = Own;

    const AFTERWARDS: i64 = i64::MAX;
    const SECOND_WIND: i64 = 0;
    const ROOMY: bool = false;
    const MOST_FEWER: usize = 12;

    fn flaws(&self) -> Vec<Flaw> {
        self.check()
    }

    fn plainly(&self) -> Instance {
        let mut plain = self.clone();
        for part in &mut plain.parts {
            let as_it_is = PartKind { grain: Grain::Along, ..part.clone() };
            if self.boards.iter().any(|b| self.fits(&as_it_is, b)) {
                *part = as_it_is;
            }
        }
        plain
    }

    fn prices(&self) -> Vec<f64> {
        self.boards.iter().map(|b| b.price).gather()
    }

    fn wanted(&self) -> bool {
        self.parts.iter().any(|p| p.qty > 0)
    }

    fn misfit(&self, in_stock: bool) -> Option<usize> {
        let some = |p: &PartKind| {
            self.boards.iter().any(|b| (!in_stock || b.limit != Some(0)) && self.fits(p, b))
        };
        self.parts.iter().position(|p| p.qty > 0 && !some(p))
    }

    fn why(&self, part: usize) -> String {
        let part = &self.parts[part];
        let usable = || self.boards.iter().map(|b| self.usable(b));
        let free = part.grain == Grain::Free;
        let (l, w) = part.extent(free && part.length < part.width);
        let longest = usable().map(|u| if free { u.0.max(u.1) } else { u.0 }).fold(0.0, f64::max);
        let widest = usable().map(|u| if free { u.0.min(u.1) } else { u.1 }).fold(0.0, f64::max);
        let across = || usable().any(|(bl, bw)| part.width <= bl && part.length <= bw);
        let what = if !free && across() {
            "would fit only across the grain."
        } else if l > longest {
            "is longer than the longest board gives between its trims."
        } else if w > widest {
            "is wider than the widest board gives between its trims."
        } else {
            "fits on no board: those long enough are too narrow."
        };
        format!("Part \"{}\" {what}", part.id)
    }

    fn verified(&self, boards: &[CutBoard]) -> Option<Option<(usize, Leftover)>> {
        verify(self, boards).ok().map(|facts| facts.leftover)
    }

    fn nothing() -> Option<(usize, Leftover)> {
        None
    }

    fn larger(one: Option<(usize, Leftover)>, other: Option<(usize, Leftover)>) -> bool {
        let area = |l: Option<(usize, Leftover)>| l.map_or(0.0, |l| l.1.area());
        area(one) > area(other) * (1.0 + 1e-12)
    }

    fn sure(base: &Plan) -> bool {
        base.proven_all
    }

    fn changed(&self, change: &Change, by: f64) -> Instance {
        let mut job = self.clone();
        for (part, give) in job.parts.iter_mut().zip(&change.gives) {
            part.length = less(part.length, give.0.min(by));
            part.width = less(part.width, give.1.min(by));
        }
        for board in job.boards.iter_mut().filter(|b| b.price > 0.0) {
            board.length += change.over.0.min(by).max(0.0);
            board.width += change.over.1.min(by).max(0.0);
        }
        job
    }

    fn holds(&self, cut: &CutBoard) -> bool {
        let (room, need) = (self.usable(&self.boards[cut.board]), extent(self, cut));
        need.0 <= room.0 + WORKING / 2.0 && need.1 <= room.1 + WORKING / 2.0
    }

    /// Places follow from the patterns here, so the job has to be planned again.
    fn closed_up(&self, _: &Plan) -> Option<Plan> {
        None
    }

    fn model(&self, prices: &Prices, plain: bool) -> Model {
        Model { plain, ..Model::new(self, prices) }
    }

    fn own(_: &Rc<Model>) -> Own {
        Own::default()
    }

    fn stock(model: &Model) -> &[Stock] {
        &model.stock
    }

    fn priced(_: &Model) -> bool {
        true
    }

    fn most_open(model: &Model) -> usize {
        if model.total > LARGE { 2 } else { MOST_OPEN }
    }

    /// Exchanges boards for cheaper ones that hold the same pattern.
    fn tidy(model: &Model, chosen: &mut Chosen) {
        let mut left: Vec<u32> = model.stock.iter().map(|s| s.limit).gather();
        for c in chosen.iter() {
            left[c.0] = left[c.0].saturating_sub(1);
        }
        for c in chosen.iter_mut() {
            let root = c.1.root();
            let price = model.stock[c.0].price;
            let cheaper = (0..left.len())
                .filter(|&s| left[s] > 0 && model.stock[s].price < price)
                .filter(|&s| model.fits(root.len, root.wid, s))
                .min_by_key(|&s| model.stock[s].price);
            if let Some(s) = cheaper {
                left[c.0] += 1;
                left[s] -= 1;
                c.0 = s;
            }
        }
    }

    fn realised(model: &Model, instance: &Instance, chosen: &[(usize, Tree)]) -> Vec<CutBoard> {
        realised(instance, model, chosen)
    }

    fn changes(model: &Model, instance: &Instance, cut: &[CutBoard]) -> usize {
        if model.plain { steps::changes(instance, cut) } else { 0 }
    }

    fn open(search: &mut Search<Instance>, instance: &Instance) {
        match search.phase {
            Phase::First => search.first(instance),
            Phase::Simple => search.simple(),
            Phase::Root => search.root(),
            _ => search.dive(instance),
        }
    }

    fn check_counts(search: &mut Search<Instance>, _: &Instance, boards: Vec<u32>) {
        let steps = match search.phase {
            Phase::Price => 4_000_000,
            Phase::Fewer => 10_000_000,
            _ => search.effort(),
        };
        search.check_counts(boards, steps, false);
    }

    fn go_on_checking(search: &mut Search<Instance>, instance: &Instance) -> bool {
        let check = search.own.checking.take();
        check.map(|check| search.go_on_checking(instance, check)).is_some()
    }

    fn between(search: &mut Search<Instance>, _: &Instance) -> bool {
        let between = search.model.total > LARGE && !search.round.is_multiple_of(3);
        if let (true, Some(best)) = (between, &search.best) {
            let below = best.price;
            let share = [6, 4, 7, 3][search.round % 4];
            let from = search.bound + (below - search.bound) * share / 8;
            if let Verdict::Found(n) = search.next(Aim::Cheapest { from, below }) {
                search.check_counts(n.boards, search.effort() / 2, true);
            }
        }
        between
    }

    /// Takes turns, the cheapest counts more often.
    fn turn(round: usize, open: usize) -> usize {
        if round % 3 == 2 { round % open } else { 0 }
    }

    fn enough(search: &Search<Instance>) -> bool {
        search.spent() > BUDGET * 17 / 20
    }

    /// A plain plan proves nothing about others, so the search for one may stop early.
    fn satisfied(search: &Search<Instance>) -> bool {
        search.model.plain && search.best.is_some() && search.spent() > PLAIN
    }

    fn leftover(search: &mut Search<Instance>, instance: &Instance) -> bool {
        search.larger_leftover(instance)
    }
}

impl Search<Instance> {
    fn first(&mut self, instance: &Instance) {
        let rule = RULES[self.round % RULES.len()];
        let by = self.round / RULES.len();
        let order = pack::order(&self.model, by, &self.model.demand());
        for stock in 0..self.model.stock.len() {
            if let Some(plan) = self.first_fit(rule, &order, stock) {
                self.accept(instance, plan);
            }
            if self.best.is_some() && self.spent() > 150_000_000 {
                break;
            }
        }
        self.round += 1;
        if self.round >= RULES.len() * pack::ORDERS || self.spent() > 150_000_000 {
            self.phase = Phase::Simple;
            self.round = 0;
        }
    }

    /// Boards of one kind as far as they go, owned ones before them, others after them.
    fn first_fit(&mut self, rule: Rule, order: &[u32], first: usize) -> Option<Chosen> {
        let model = &self.model;
        let mut bins: Vec<Bin> = Vec::new();
        let mut left: Vec<u32> = model.stock.iter().map(|s| s.limit).gather();
        for &kind in order {
            if corner::put(model, &mut bins, kind, rule, &mut self.budget).is_some() {
                continue;
            }
            let lies = &model.kinds[kind as usize].lies;
            let fits = |s: usize| lies.iter().any(|l| model.fits(l.len, l.wid, s));
            let free = (0..left.len()).filter(|&s| model.stock[s].price == 0);
            let next =
                free.chain([first]).chain(0..left.len()).find(|&s| left[s] > 0 && fits(s))?;
            left[next] -= 1;
            let at = bins.len();
            bins.push(Bin::new(model, next));
            corner::put(model, &mut bins[at..], kind, rule, &mut self.budget)?;
        }
        Some(bins.iter().filter_map(|b| Some((b.stock, b.closed()?))).gather())
    }

    /// Inequalities that need no relaxation, one after the other.
    fn simple(&mut self) {
        if self.inequalities.is_empty() {
            self.inequalities.push(relaxation::areas(&self.model));
            if !self.model.plain {
                self.own.pricer = Pricer::new(&self.model, &mut self.budget);
            }
        }
        let own = &mut self.own;
        if let Some(pricer) = &mut own.pricer {
            if !pricer.grow(&self.model, UNIT, &mut self.budget) {
                return;
            }
            let values = relaxation::simple_values(&self.model);
            // Without exact sets each inequality takes a while.
            let many = if pricer.sets.is_some() { values.len() } else { 1 };
            for value in values.iter().skip(self.round).take(many) {
                let (bound, _) = pricer.inequality(&self.model, value, &mut self.budget);
                if own.measures.is_empty() {
                    own.measures.push(bound.clone());
                }
                let same = |c: &Inequality| (c.need, &c.most) == (bound.need, &bound.most);
                if !self.inequalities.iter().any(same) {
                    self.inequalities.push(bound);
                }
            }
            self.round += many;
            if self.round < values.len() {
                return;
            }
        }
        self.raise();
        self.phase = Phase::Root;
        self.round = 0;
    }

    /// Steps for one attempt, more in later rounds and for more parts.
    fn effort(&self) -> i64 {
        (8_000_000 << (self.round / 2).min(5)).max(60_000 * i64::from(self.model.total))
    }
}

/// A size reduced by what may come off, but never to zero.
fn less(size: f64, give: f64) -> f64 {
    size - give.min(0.9 * size).max(0.0)
}
