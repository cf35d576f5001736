//! What differs between kinds of cutting: sticks with mitered ends, cut into patterns, and rectangles,
//! cut along trees of guillotine cuts. The state of a search is here too; both kinds share the rest of the planner.

use super::board::CutBoard;
use super::board_counts::Inequality;
use super::budget::Budget;
use super::change::Change;
use super::outcome::{Flaw, Plan, PlanAnswer};
use super::price::Prices;
use super::stock::Stock;
use std::rc::Rc;

/// A plan of one kind of cutting.
pub type PlanOf<I> = Plan<<I as Cutting>::Leftover>;
/// An answer of one kind of cutting.
pub type AnswerOf<I> = PlanAnswer<PlanOf<I>>;

/// A job of one kind of cutting, and how plans for it are searched.
pub trait Cutting: Clone {
    type Leftover: Copy;
    /// The job as the search sees it: equal parts merged, kerfs added.
    type Model;
    /// What is cut from a board, as the search sees it.
    type Pattern;
    /// What the search remembers besides what all searches do.
    type Own;

    /// Steps for fewer boards and for the largest leftover.
    const AFTERWARDS: i64;
    /// Extra steps, granted once, for a job that has neither a plan nor a proof; 0 grants none.
    const SECOND_WIND: i64;
    /// At equal price, try the board counts with the most room first, not those with the fewest boards.
    const ROOMY: bool;
    /// How many smaller board counts may stay undecided.
    const MOST_FEWER: usize;

    /// Everything that is wrong with the job.
    fn flaws(&self) -> Vec<Flaw>;
    /// The job whose best plan is the plain one.
    fn plainly(&self) -> Self;
    fn prices(&self) -> Vec<f64>;
    /// Whether anything is to be cut.
    fn wanted(&self) -> bool;
    /// The part to name first among those that fit on no board; with `in_stock`, on no board in stock.
    fn misfit(&self, in_stock: bool) -> Option<usize>;
    /// Why that part fits on no board.
    fn why(&self, part: usize) -> String;
    /// The leftover of a plan that passes the independent verifier.
    fn verified(&self, boards: &[CutBoard]) -> Option<Self::Leftover>;
    /// The leftover when no board is used.
    fn nothing() -> Self::Leftover;
    /// Whether one leftover counts as larger than the other.
    fn larger(one: Self::Leftover, other: Self::Leftover) -> bool;

    /// Whether using fewer boards at the same price would save anything.
    fn sure(base: &PlanOf<Self>) -> bool;
    /// The job with everything changed by this much, as far as it may be.
    fn changed(&self, change: &Change, by: f64) -> Self;
    /// Whether a board holds its parts, closed up.
    fn holds(&self, board: &CutBoard) -> bool;
    /// The plan with its parts closed up, where that needs no new planning.
    fn closed_up(&self, plan: &PlanOf<Self>) -> Option<PlanOf<Self>>;

    fn model(&self, prices: &Prices, plain: bool) -> Self::Model;
    fn own(model: &Rc<Self::Model>) -> Self::Own;
    fn stock(model: &Self::Model) -> &[Stock];
    /// Whether searching over patterns is worthwhile at this size.
    fn priced(model: &Self::Model) -> bool;
    /// How many board counts may stay undecided before the search returns to them.
    fn most_open(model: &Self::Model) -> usize;
    /// Drops boards that a plan does not need, or exchanges them for cheaper ones.
    fn tidy(model: &Self::Model, chosen: &mut Chosen<Self::Pattern>);
    /// Boards as they are handed out.
    fn realised(
        model: &Self::Model,
        instance: &Self,
        chosen: &[(usize, Self::Pattern)],
    ) -> Vec<CutBoard>;
    /// How often the saw's setting changes; counted only where fewer changes are wanted.
    fn changes(_: &Self::Model, _: &Self, _: &[CutBoard]) -> usize {
        0
    }

    /// One unit of work of the phases before board counts are checked.
    fn open(search: &mut Search<Self>, instance: &Self);
    /// Checks whether these boards hold the parts: keeps a plan, notes a proof, or leaves the counts undecided.
    fn check_counts(search: &mut Search<Self>, instance: &Self, boards: Vec<u32>);
    /// One more unit of the feasibility check under way; false if there is none.
    fn go_on_checking(_: &mut Search<Self>, _: &Self) -> bool {
        false
    }
    /// Looks for a plan between the best one and the bound instead of returning to undecided counts.
    fn between(_: &mut Search<Self>, _: &Self) -> bool {
        false
    }
    /// Which undecided counts a round returns to.
    fn turn(_: usize, _: usize) -> usize {
        0
    }
    /// Whether enough has been spent on undecided counts.
    fn enough(search: &Search<Self>) -> bool;
    /// Whether the search may stop because nothing better is wanted.
    fn satisfied(_: &Search<Self>) -> bool {
        false
    }
    /// Looks for a larger single leftover at the same price and number of boards; true when finished.
    fn leftover(search: &mut Search<Self>, instance: &Self) -> bool;
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Phase {
    /// Plans by rules of thumb.
    First,
    /// Valid inequalities that need no relaxation.
    Simple,
    /// The relaxation: whole boards in fractions.
    Root,
    /// Plans from the relaxation.
    Dive,
    /// The cheapest board counts that are not ruled out.
    Price,
    /// Board counts that could be neither filled nor ruled out, with more effort each round.
    Harder,
    /// Fewer boards at the same price.
    Fewer,
    /// A larger single leftover.
    Leftover,
}

/// The search of one job.
pub struct Search<I: Cutting> {
    pub model: Rc<I::Model>,
    /// What only this kind of cutting needs.
    pub own: I::Own,
    pub inequalities: Vec<Inequality>,
    pub best: Option<Found<I>>,
    pub bound: i128,
    pub budget: Budget,
    /// Total steps given to the search.
    pub(super) granted: i64,
    pub phase: Phase,
    pub round: usize,
    /// Board counts that could be neither filled nor ruled out.
    pub tried: Vec<Vec<u32>>,
    pub refuted: Vec<Vec<u32>>,
    pub price_proven: bool,
    pub(super) fewest_proven: bool,
    pub leftover_proven: bool,
    /// Proven that there is no plan.
    pub hopeless: bool,
    /// Neither a plan nor a proof, and nothing left to try.
    pub(super) stuck: bool,
    pub(super) extended: bool,
}

/// A verified plan and what is compared about it.
pub struct Found<I: Cutting> {
    pub cut: Vec<CutBoard>,
    pub price: i128,
    pub leftover: I::Leftover,
    /// Changes of the saw, where they count.
    pub(super) changes: usize,
    /// What is cut from each board: an index into the stock, and the pattern.
    pub chosen: Chosen<I::Pattern>,
}

/// Boards with what is cut from them: an index into the stock each.
pub type Chosen<P> = Vec<(usize, P)>;
