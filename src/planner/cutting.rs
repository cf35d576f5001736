//! What differs between kinds of cutting: sticks with mitered ends, cut into patterns, and rectangles,
//! cut along trees of guillotine cuts; and the state of a search, which these work on. All else is there once.

use super::budget::Budget;
use super::change::Change;
use super::numbers::Inequality;
use super::outcome::{Flaw, Plan, PlanAnswer};
use super::price::Prices;
use super::stock::Stock;
use std::rc::Rc;

/// A plan of one kind of cutting.
pub type PlanOf<I> = Plan<<I as Cutting>::Board, <I as Cutting>::Leftover>;
/// An answer of one kind of cutting.
pub type AnswerOf<I> = PlanAnswer<PlanOf<I>>;

/// A job of one kind of cutting, and how plans for it are searched.
pub trait Cutting: Clone {
    /// A board with what is cut from it, as it is handed out.
    type Board: Clone + PartialEq;
    type Leftover: Copy;
    /// The job as the search sees it: equal parts merged, kerfs added.
    type Model;
    /// What is cut from a board, as the search sees it.
    type Pattern;
    /// What the search remembers besides what all searches do.
    type Own;

    /// Steps for the second and third aim.
    const AFTERWARDS: i64;
    /// Steps once more for a job without plan and proof; none at 0.
    const SECOND_WIND: i64;
    /// Of numbers of boards at one price those with most room are judged first, not those with fewest boards.
    const ROOMY: bool;
    /// How many numbers of fewer boards may stay open.
    const MOST_FEWER: usize;

    /// Everything that is wrong with the job.
    fn flaws(&self) -> Vec<Flaw>;
    /// The job whose best plan is the plain one.
    fn plainly(&self) -> Self;
    fn prices(&self) -> Vec<f64>;
    /// Whether anything is to be cut.
    fn wanted(&self) -> bool;
    /// A part that fits on no board (with `in_stock`: on none of which there are any), the one to name first.
    fn misfit(&self, in_stock: bool) -> Option<usize>;
    /// Why it fits on none.
    fn why(&self, part: usize) -> String;
    /// The board kind of a cut board.
    fn kind_of(board: &Self::Board) -> usize;
    /// The leftover of a plan that passes the independent verifier.
    fn verified(&self, boards: &[Self::Board]) -> Option<Self::Leftover>;
    /// The leftover of no boards.
    fn nothing() -> Self::Leftover;
    /// Whether one leftover counts as larger than the other.
    fn larger(one: Self::Leftover, other: Self::Leftover) -> bool;

    /// Whether fewer boards than those of a plan at its price would be a saving.
    fn sure(base: &PlanOf<Self>) -> bool;
    /// The job with everything changed by this much, as far as it may be.
    fn changed(&self, change: &Change, by: f64) -> Self;
    /// Whether a board holds its parts, closed up.
    fn holds(&self, board: &Self::Board) -> bool;
    /// A plan closed up for this job, where that is no matter of planning.
    fn closed_up(&self, plan: &PlanOf<Self>) -> Option<PlanOf<Self>>;

    fn model(&self, prices: &Prices, plain: bool) -> Self::Model;
    fn own(model: &Rc<Self::Model>) -> Self::Own;
    fn stock(model: &Self::Model) -> &[Stock];
    /// Whether the search over patterns is worth while at this size.
    fn priced(model: &Self::Model) -> bool;
    /// How many numbers of boards may stay open before it is gone back to them.
    fn most_open(model: &Self::Model) -> usize;
    /// A plan without what nobody would cut.
    fn tidy(model: &Self::Model, chosen: &mut Chosen<Self::Pattern>);
    /// Boards as they are handed out.
    fn realised(
        model: &Self::Model,
        instance: &Self,
        chosen: &[(usize, Self::Pattern)],
    ) -> Vec<Self::Board>;
    /// Changes of the saw, where the fewest are wanted.
    fn changes(_: &Self::Model, _: &Self, _: &[Self::Board]) -> usize {
        0
    }

    /// One unit of work of the phases before numbers of boards are judged.
    fn open(run: &mut Search<Self>, instance: &Self);
    /// Whether these boards hold the parts: a plan is taken, a proof noted, or the numbers stay open.
    fn judge(run: &mut Search<Self>, instance: &Self, numbers: Vec<u32>);
    /// One unit of judging that is under way; false if none is.
    fn judge_on(_: &mut Search<Self>, _: &Self) -> bool {
        false
    }
    /// Instead of going back to open numbers: looks for a plan between the best and the bound.
    fn between(_: &mut Search<Self>, _: &Self) -> bool {
        false
    }
    /// Which of so many open numbers is gone back to in a round.
    fn turn(_: usize, _: usize) -> usize {
        0
    }
    /// Whether going back has had its share.
    fn enough(run: &Search<Self>) -> bool;
    /// Whether nothing better is asked for.
    fn satisfied(_: &Search<Self>) -> bool {
        false
    }
    /// A larger single leftover at the same price and number of boards; true when there is no more to ask.
    fn leftover(run: &mut Search<Self>, instance: &Self) -> bool;
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
    /// The cheapest numbers of boards that are not ruled out.
    Price,
    /// Numbers that could be neither filled nor ruled out, with more effort each round.
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
    /// Steps that it was given in all.
    pub(super) granted: i64,
    pub phase: Phase,
    pub round: usize,
    /// Numbers of boards that could be neither filled nor ruled out.
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
    pub cut: Vec<I::Board>,
    pub price: i128,
    pub leftover: I::Leftover,
    /// Changes of the saw, where they count.
    pub(super) changes: usize,
    /// What is cut from each board: an index into the stock, and the pattern.
    pub chosen: Chosen<I::Pattern>,
}

/// Boards with what is cut from them: an index into the stock each.
pub type Chosen<P> = Vec<(usize, P)>;
