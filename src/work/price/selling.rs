//! From what it costs to what to ask, and what that earns.

use super::costs::{Batch, Costs};
use super::exact::{Exact, over, upward, whole};
use num_traits::{One, Signed, Zero};

/// What the selling place takes of each sale.
#[derive(Clone, Debug, PartialEq)]
pub struct Fees {
    /// A share of the price, less than 1.
    pub share: Exact,
    pub fixed: Exact,
}

/// What is wanted of one sale.
#[derive(Clone, Debug, PartialEq)]
pub enum Want {
    Profit(Exact),
    /// Profit as a share of the price; with the fees' share less than 1.
    Margin(Exact),
    /// Profit as a share of what the sale costs.
    Markup(Exact),
}

/// Asked prices end so: `at`, and then every `step`.
#[derive(Clone, Debug, PartialEq)]
pub struct Ending {
    /// More than 0; none where it is not known yet.
    pub step: Option<Exact>,
    pub at: Exact,
}

/// How it is sold.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Selling {
    pub fees: Option<Fees>,
    /// Fixed cost of a selling day.
    pub stall: Option<Exact>,
    pub want: Option<Want>,
    pub end: Option<Ending>,
}

/// What comes of it. `Some(None)`: a quotient by nought, which is no number.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Sold {
    /// The least price at which nothing is lost.
    pub floor: Option<Exact>,
    pub asked_exact: Option<Exact>,
    /// The least price that is no less and ends as wanted, a whole number.
    pub asked: Option<Exact>,
    pub fee: Option<Exact>,
    pub profit: Option<Exact>,
    /// Percent.
    pub margin: Option<Option<Exact>>,
    pub markup: Option<Option<Exact>>,
    pub earned_per_hour: Option<Option<Exact>>,
    pub break_even_sales: Option<Option<Exact>>,
}

/// Works the selling out, where the cost is known.
///
/// ```
/// use offsquare_work::price::{Batch, Costs, Selling, Want, selling, whole};
/// // Cost 40, price 100: margin 60 %, markup 150 %.
/// let costs = Costs { cost: Some(whole(4000)), sale: Some(whole(4000)), ..Costs::default() };
/// let wanted = Selling { want: Some(Want::Profit(whole(6000))), ..Selling::default() };
/// let sold = selling(&Batch { pieces: 1, sold_as: 1, ..Batch::default() }, &costs, &wanted);
/// assert_eq!(sold.asked, Some(whole(10000)));
/// assert_eq!((sold.margin, sold.markup), (Some(Some(whole(60))), Some(Some(whole(150)))));
/// ```
pub fn selling(batch: &Batch, costs: &Costs, how: &Selling) -> Sold {
    let mut out = Sold::default();
    let Some(sale) = &costs.sale else { return out };
    let one = Exact::one();
    let (share, fixed) = match &how.fees {
        Some(fees) => (fees.share.clone(), fees.fixed.clone()),
        None => (Exact::zero(), Exact::zero()),
    };
    let kept = &one - &share;
    out.floor = over(sale + &fixed, &kept);
    out.asked_exact = match &how.want {
        None => return out,
        Some(Want::Profit(profit)) => over(sale + &fixed + profit, &kept),
        Some(Want::Margin(margin)) => over(sale + &fixed, &(&kept - margin)),
        Some(Want::Markup(markup)) => over(sale * (&one + markup) + &fixed, &kept),
    };
    let Some(exact) = &out.asked_exact else { return out };
    let ended = match &how.end {
        None => Some(exact.clone()),
        Some(Ending { step, at }) => {
            step.as_ref().and_then(|step| Some(over(exact - at, step)?.ceil() * step + at))
        }
    };
    let Some(asked) = ended.map(|asked| asked.ceil()) else { return out };
    let fee = &share * &asked + &fixed;
    let profit = &asked - &fee - sale;
    let hundred = whole(100);
    out.margin = Some(over(&profit * &hundred, &asked));
    out.markup = Some(over(&profit * &hundred, sale));
    if let (Some(materials), Some(minutes)) = (&costs.materials, &costs.minutes) {
        let overhead = costs.overhead.clone().unwrap_or_else(Exact::zero);
        let taken = over((&asked - &fee) * whole(batch.pieces), &whole(batch.sold_as));
        let left = taken.map(|taken| (taken - materials - overhead) * whole(60));
        out.earned_per_hour = Some(left.and_then(|left| over(left, minutes)));
    }
    out.break_even_sales = how
        .stall
        .as_ref()
        .map(|stall| profit.is_positive().then(|| Exact::from_integer(upward(&(stall / &profit)))));
    (out.asked, out.fee, out.profit) = (Some(asked), Some(fee), Some(profit));
    out
}
