//! What is asked of the planner, and what it says meanwhile: plain records, so that they can go from one thread to
//! another. A record that lacks a member, or holds one of another kind, is not read at all: it comes from another
//! version.

use super::board::CutBoard;
use super::guillotine;
use super::outcome::Plan;
use super::sticks::Instance;
use offsquare_units::kept;

/// A whole request.
#[derive(Clone, Debug, PartialEq)]
pub struct Ask {
    /// Every message about the request bears it.
    pub id: u32,
    /// What batches of 1 up to this many pieces cost is told too; 0: none.
    pub curve: u32,
    pub sticks: Vec<Asked<Instance>>,
    pub rectangles: Vec<Asked<guillotine::Instance>>,
    /// For the curve: one piece by itself, with all boards.
    pub one_sticks: Vec<Instance>,
    pub one_rectangles: Vec<guillotine::Instance>,
}

/// One job of a request.
#[derive(Clone, Debug, PartialEq)]
pub struct Asked<I> {
    /// What is still to be cut, from the boards that are left.
    pub rest: I,
    /// By part, how much may come off its length and its width so that it is shorter, and so that it is narrower: the
    /// length of a part whose grain runs across lies along the planner's width.
    pub shorter: Vec<(f64, f64)>,
    pub narrower: Vec<(f64, f64)>,
}

/// Something said about the request `id`.
#[derive(Clone, Debug, PartialEq)]
pub struct Message {
    pub id: u32,
    pub about: About,
}

#[derive(Clone, Debug, PartialEq)]
pub enum About {
    /// Jobs are counted from 0, sticks first.
    Job { job: usize, news: News },
    /// What `pieces` at once cost; `ends`: by job of the curve, sticks first, its boards, each with the last of its parts
    /// alone.
    Curve { pieces: u32, cost: f64, ends: Vec<Vec<CutBoard>> },
    /// Nothing more is said.
    End {},
}

/// News of one job.
#[derive(Clone, Debug, PartialEq)]
pub enum News {
    /// The best plan so far; `done`: no better one is looked for.
    Plan { plain: bool, done: bool, plan: Plan<()> },
    /// The cheapest plan is the plain one, too.
    Same {},
    /// No plan exists; the part that fits on no board, if it is one.
    None { plain: bool, part: Option<usize> },
    /// The search ended without a plan and without a proof that there is none.
    Open { plain: bool },
    /// A small change saves something.
    Nearly {
        /// Bought boards measure `by` over; otherwise parts are smaller.
        over: bool,
        /// In their lengths, in their widths.
        long: bool,
        wide: bool,
        by: f64,
        /// Price and boards saved; none where there was no plan at all without the change.
        money: Option<f64>,
        boards: Option<i64>,
    },
}

kept!(Ask { id, curve, sticks, rectangles, one_sticks, one_rectangles });
kept!(Asked<I> { rest, shorter, narrower });
kept!(Message { id, about });
kept!(About by "about" {
    Job { job, news } = "job",
    Curve { pieces, cost, ends } = "curve",
    End {} = "end",
});
kept!(News by "news" {
    Plan { plain, done, plan } = "plan",
    Same {} = "same",
    None { plain, part } = "none",
    Open { plain } = "open",
    Nearly { over, long, wide, by, money, boards } = "nearly",
});
kept!(Plan<L> { boards, price, bound, proven, proven_all, leftover });
