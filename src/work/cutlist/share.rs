//! What each piece takes of what is bought.
//!
//! The boards of a stock are shared out by how much of it the parts of each piece use: the length of its parts as they
//! are cut, end to end; of ripped boards and sheets their area. So what falls off is borne by all in the same measure,
//! whichever board a part lies on, and a board on hand makes all of them cheaper. Cents are shared out so that their sum
//! is that of the boards.

use super::job::{Instance, Job};
use super::shown::ShownPlan;
use crate::price::{Exact, decimal};
use offsquare_units::num::{Gather, round_half_up};
use offsquare_units::{Length, Money};

/// One piece's share, over its whole batch.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Share {
    pub piece: u32,
    /// How many of the piece are made.
    pub times: u64,
    /// How many single parts are cut for them.
    pub parts: u64,
    /// Of what is bought, as far as it has a price.
    pub money: Money,
    /// Of the boards that are bought, end to end.
    pub bought: Length,
    /// What leftovers are worth that are kept, in cents, not rounded. Of ripped boards and sheets nothing is kept.
    pub kept: Exact,
    /// Some stock that it needs has no plan, or a board in it no price.
    pub open: bool,
}

impl Share {
    /// What one of them costs, rounded to a cent.
    pub fn each(&self) -> Money {
        self.money.times(1.0 / self.times.max(1) as f64).unwrap_or_default()
    }
}

/// The share of a piece among all, put in where it is none yet; they stay in the order of pieces.
fn of(shares: &mut Vec<Share>, piece: u32) -> &mut Share {
    let at = shares.iter().take_while(|s| s.piece < piece).count();
    if shares.get(at).is_none_or(|s| s.piece != piece) {
        shares.insert(at, Share { piece, ..Share::default() });
    }
    &mut shares[at]
}

/// Adds a job to the shares; `plan`: where it has one.
pub(super) fn share_out(shares: &mut Vec<Share>, job: &Job, plan: Option<&ShownPlan>) {
    let sizes: Vec<(u64, f64)> = match &job.instance {
        Instance::Sticks(of) => of.parts.iter().map(|p| (p.qty, p.length)).gather(),
        Instance::Rectangles(of) => of.parts.iter().map(|p| (p.qty, p.length * p.width)).gather(),
    };
    let mut uses: Vec<(u32, f64)> = Vec::new();
    for (part, (count, size)) in job.parts.iter().zip(sizes) {
        let share = of(shares, part.piece);
        share.times = count / part.each.max(1);
        share.parts += count;
        let used = count as f64 * size;
        match uses.iter_mut().find(|u| u.0 == part.piece) {
            Some(u) => u.1 += used,
            None => uses.push((part.piece, used)),
        }
    }
    let all: f64 = uses.iter().map(|u| u.1).sum();
    let buy = plan.map_or(&[][..], |p| &p.buy);
    let money: Money = buy.iter().filter_map(|b| b.sum).sum();
    let bought: f64 = buy.iter().map(|b| b.length.0 * f64::from(b.count)).sum();
    let kept = plan.map(ShownPlan::worth_kept).unwrap_or_default();
    let is_open = plan.is_none_or(|p| p.money.is_none()) || !job.no_price.is_empty();
    // Each takes what the cents come to with it, less what they came to before.
    let (mut before, mut given) = (0.0, 0);
    for (piece, used) in uses {
        before += used;
        let part = if used == all { decimal(1.0) } else { decimal(used / all) };
        let upto = round_half_up(money.0 as f64 * (before / all)) as i64;
        let share = of(shares, piece);
        share.money = share.money + Money(upto - given);
        share.bought += Length(bought * (used / all));
        share.kept += &kept * part.unwrap_or_default();
        share.open |= is_open;
        given = upto;
    }
}
