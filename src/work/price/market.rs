//! What others ask for the like, and what was tried: figures only, no advice.

use super::costs::{Batch, Costs};
use super::exact::{Exact, over, whole};
use super::selling::Selling;
use num_traits::Zero;

/// What someone else asks for the like, as it was seen.
#[derive(Clone, Debug, PartialEq)]
pub struct Seen {
    pub low: Exact,
    /// As `low` where one price was seen.
    pub high: Exact,
    pub place: String,
    /// Year, month and day: 2026-05-09.
    pub date: String,
}

/// From the lowest to the highest that others ask.
#[derive(Clone, Debug, PartialEq)]
pub struct Band {
    pub low: Exact,
    pub high: Exact,
}

/// Where a price stands in a band, whose ends belong to it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stand {
    Below,
    Within,
    Above,
}

impl Band {
    /// The band of all that was seen; none of nothing. Low and high may have been put in the wrong way around.
    pub fn of(seen: &[Seen]) -> Option<Band> {
        let all = || seen.iter().flat_map(|s| [&s.low, &s.high]);
        Some(Band { low: all().min()?.clone(), high: all().max()?.clone() })
    }

    pub fn stand(&self, price: &Exact) -> Stand {
        if *price < self.low {
            Stand::Below
        } else if *price > self.high {
            Stand::Above
        } else {
            Stand::Within
        }
    }
}

/// A day on which it was offered.
#[derive(Clone, Debug, PartialEq)]
pub struct Tried {
    /// Year, month and day: 2026-05-09.
    pub date: String,
    pub place: String,
    /// What was asked for one sale.
    pub asked: Exact,
    /// Sales (each, pairs, sets) taken along.
    pub taken: u64,
    /// Of these, sold.
    pub sold: u64,
    /// Hours of the day: driving, setting up, selling.
    pub hours: Exact,
}

/// What days of selling came to.
#[derive(Clone, Debug, PartialEq)]
pub struct Outcome {
    pub sold: u64,
    pub takings: Exact,
    /// Takings less fees, a stall a day, and materials and overhead of what was sold.
    pub left: Exact,
    /// Hours of the days, and of making what was sold.
    pub hours: Exact,
    /// None at no hours.
    pub earned_per_hour: Option<Exact>,
}

/// What one day came to, or all of them in the end. What was not sold counts nothing: it can be sold another day.
/// None where materials, minutes or overhead are not known.
///
/// Example: two sold at 30.00 in a day of 4 hours with a stall at 10.00; each took an hour and 5.00 of wood. Of 60.00
/// are left 40.00, for 6 hours: 6.67 an hour.
///
/// ```
/// use offsquare_work::price::*;
/// let batch = Batch {
///     pieces: 1,
///     sold_as: 1,
///     wood: Some(Some(Wood { bought: whole(500), kept: whole(0) })),
///     steps: Some(vec![Step { set_up: whole(0), each: whole(60) }]),
///     ..Batch::default()
/// };
/// let how = Selling { stall: Some(whole(1000)), ..Selling::default() };
/// let day = Tried {
///     date: "2026-05-09".into(),
///     place: "market".into(),
///     asked: whole(3000),
///     taken: 5,
///     sold: 2,
///     hours: whole(4),
/// };
/// let outcome = outcome(&[day], &batch, &costs(&batch), &how).unwrap();
/// assert_eq!((outcome.left, outcome.hours), (whole(4000), whole(6)));
/// assert_eq!(half_up(&outcome.earned_per_hour.unwrap()), 667.into());
/// ```
pub fn outcome(days: &[Tried], batch: &Batch, costs: &Costs, how: &Selling) -> Option<Outcome> {
    let overhead = match (&batch.overhead, &costs.overhead) {
        (None, _) => Exact::zero(),
        (Some(_), known) => known.clone()?,
    };
    let sales = over(whole(batch.pieces), &whole(batch.sold_as))?;
    let spent_on_one = over(costs.materials.clone()? + overhead, &sales)?;
    let minutes_of_one = over(costs.minutes.clone()?, &sales)?;
    let sold: u64 = days.iter().map(|day| day.sold).sum();
    let takings: Exact = days.iter().map(|day| &day.asked * whole(day.sold)).sum();
    let fees = how.fees.as_ref().map(|fees| &takings * &fees.share + &fees.fixed * whole(sold));
    let stalls = how.stall.as_ref().map(|stall| stall * whole(days.len() as u64));
    let left = &takings
        - fees.unwrap_or_else(Exact::zero)
        - stalls.unwrap_or_else(Exact::zero)
        - spent_on_one * whole(sold);
    let days: Exact = days.iter().map(|day| &day.hours).sum();
    let hours = days + minutes_of_one * whole(sold) / whole(60);
    let earned_per_hour = over(left.clone(), &hours);
    Some(Outcome { sold, takings, left, hours, earned_per_hour })
}

/// How one price did on all its days together.
#[derive(Clone, Debug, PartialEq)]
pub struct AtPrice {
    pub asked: Exact,
    pub taken: u64,
    pub sold: u64,
}

impl AtPrice {
    /// The share that was sold of what was taken along; none where nothing was.
    fn share(&self) -> Option<Exact> {
        over(whole(self.sold), &whole(self.taken))
    }
}

/// The days by what was asked, the lowest price first.
pub fn at_prices(days: &[Tried]) -> Vec<AtPrice> {
    let mut all: Vec<AtPrice> = Vec::new();
    for day in days {
        let at = all.partition_point(|one| one.asked < day.asked);
        match all.get_mut(at).filter(|one| one.asked == day.asked) {
            Some(one) => (one.taken, one.sold) = (one.taken + day.taken, one.sold + day.sold),
            None => {
                let one = AtPrice { asked: day.asked.clone(), taken: day.taken, sold: day.sold };
                all.insert(at, one);
            }
        }
    }
    all
}

/// The price of whose pieces the greatest share was sold; of equal ones that of which more were sold, then the
/// higher. None before anything was sold.
pub fn sold_best(days: &[Tried]) -> Option<AtPrice> {
    let sold = at_prices(days).into_iter().filter(|one| one.sold > 0);
    sold.max_by(|a, b| (a.share(), a.sold, &a.asked).cmp(&(b.share(), b.sold, &b.asked)))
}
