//! What others ask and what was tried, read from their forms.

use super::exact::{Exact, whole};
use super::figures::Figures;
use super::market::{AtPrice, Band, Outcome, Seen, Stand, Tried, at_prices, outcome, sold_best};
use super::sums::time;
use offsquare_units::num::Gather;

/// What is known of the market.
#[derive(Clone, Debug, PartialEq)]
pub struct Market {
    pub band: Option<Band>,
    /// Where the asked price stands in it.
    pub stand: Option<Stand>,
    /// What each day came to, by its line; none while something of it is missing.
    pub days: Vec<Option<Outcome>>,
    /// All days together.
    pub all: Option<Outcome>,
    pub prices: Vec<AtPrice>,
    pub best: Option<AtPrice>,
}

impl Figures<'_> {
    /// What the lists come to. A line whose figures are missing counts nothing yet.
    pub fn market(&self) -> Market {
        let currency = &self.currency;
        let seen = self.priced.seen.iter().filter_map(|line| {
            let low = line.number("low", currency);
            let high = line.number("high", currency);
            Some(Seen {
                low: low.clone().or_else(|| high.clone())?,
                high: high.or(low)?,
                place: line.text("place").to_owned(),
                date: line.text("date").to_owned(),
            })
        });
        let band = Band::of(&seen.gather());
        let day = |line: &super::forms::TriedLine| {
            let sold = line.count("sold")?;
            Some(Tried {
                date: line.text("date").to_owned(),
                place: line.text("place").to_owned(),
                asked: line.number("asked", currency)?,
                taken: line.count("taken").unwrap_or(sold).max(sold),
                sold,
                hours: line.number("hours", currency)?,
            })
        };
        let days: Vec<Option<Tried>> = self.priced.tried.iter().map(day).gather();
        let known: Vec<Tried> = days.iter().flatten().cloned().gather();
        let come_to = |days: &[Tried]| outcome(days, &self.batch, &self.costs, &self.selling);
        let one = |day: &Option<Tried>| come_to(core::slice::from_ref(day.as_ref()?));
        Market {
            stand: band.as_ref().zip(self.sold.asked.as_ref()).map(|(b, asked)| b.stand(asked)),
            band,
            days: days.iter().map(one).gather(),
            all: come_to(&known).filter(|_| !known.is_empty()),
            prices: at_prices(&known),
            best: sold_best(&known),
        }
    }

    /// "$60.00: 4 of 8 sold."
    pub fn at_price_words(&self, one: &AtPrice) -> String {
        format!("{}: {} of {} sold.", self.money(&one.asked), one.sold, one.taken)
    }

    /// What days came to, in words.
    pub fn outcome_words(&self, of: &Outcome) -> Vec<String> {
        let money = |n: &Exact| self.money(n);
        let mut out = vec![format!(
            "{} sold for {}; after fees, stall, materials, and overhead {} is left.",
            of.sold,
            money(&of.takings),
            money(&of.left)
        )];
        if let Some(earned) = &of.earned_per_hour {
            let hours = time(&(&of.hours * whole(60)));
            out.push(format!("{hours} of selling and making: an hour earned {}.", money(earned)));
        }
        out
    }

    /// Where the asked price stands among what others ask, in words.
    pub fn stand_words(&self, market: &Market) -> Option<String> {
        let band = market.band.as_ref()?;
        let (low, high) = (self.money(&band.low), self.money(&band.high));
        let range = if low == high { low } else { format!("{low} to {high}") };
        Some(match (market.stand, self.sold.asked.as_ref()) {
            (Some(stand), Some(asked)) => {
                let where_to = match stand {
                    Stand::Below => "below",
                    Stand::Within => "within",
                    Stand::Above => "above",
                };
                format!("Others ask {range}. This one at {} is {where_to} that.", self.money(asked))
            }
            _ => format!("Others ask {range}."),
        })
    }
}
