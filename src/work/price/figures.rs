//! What a piece's forms come to: everything is worked out here, once a change.

use super::costs::{Basis, Batch, Costs, Finish, Hardware, Overhead, Step, Wood, costs};
use super::currency::printed;
use super::exact::{Exact, over, whole};
use super::filled::{Filled, Form};
use super::forms::{Opened, Priced, Rates};
use super::selling::{Ending, Fees, Selling, Sold, Want, selling};
use num_traits::{Signed, Zero};
use offsquare_units::Currency;
use offsquare_units::num::Gather;

/// What is known of a piece's boards.
#[derive(Clone, Debug, PartialEq)]
pub enum Boards {
    /// No part is cut from any.
    None,
    /// Why they have no price yet, in words.
    Open(Vec<String>),
    /// `words`: where they come from.
    Known { wood: Wood, words: Vec<String> },
}

/// What is known of the piece itself.
#[derive(Clone, Debug, PartialEq)]
pub struct Made {
    /// How many are made at once.
    pub pieces: u64,
    /// Of the whole batch.
    pub boards: Boards,
    /// All faces of the parts of one, in square meters; none of a piece without parts.
    pub area: Option<Exact>,
}

/// All that follows from the forms.
#[derive(Clone, Debug, PartialEq)]
pub struct Figures<'p> {
    pub(super) priced: &'p Priced,
    pub(super) rates: &'p Rates,
    pub(super) made: &'p Made,
    pub currency: Currency,
    pub batch: Batch,
    pub selling: Selling,
    pub costs: Costs,
    pub sold: Sold,
    /// Of one sale: what a shop pays that sells it on, and what it then asks.
    pub wholesale: Option<Exact>,
    pub retail: Option<Exact>,
    /// Of the asked price.
    pub deposit: Option<Exact>,
    /// What is missing for a price, a line each.
    pub missing: Vec<String>,
    /// Why nothing can be asked so, for the field of what is wanted.
    pub wrong: Option<String>,
}

/// A square foot in square meters.
pub(super) fn square_foot() -> Exact {
    whole(9_290_304) / whole(100_000_000)
}

/// What a line is called in a list.
pub(super) fn called<F: Form>(line: &Filled<F>, what: &str, at: usize) -> String {
    match line.text("name").trim() {
        "" => format!("{what} {}", at + 1),
        name => name.to_owned(),
    }
}

/// Works everything out.
pub fn figures<'p>(
    priced: &'p Priced,
    rates: &'p Rates,
    shelf: &[Opened],
    made: &'p Made,
) -> Figures<'p> {
    let currency = rates.currency();
    let mut reading =
        Reading { priced, rates, shelf, currency: &currency, missing: Vec::new(), wrong: None };
    let batch = reading.batch(made);
    let selling_how = reading.selling();
    let costs = costs(&batch);
    let sold = selling(&batch, &costs, &selling_how);
    if selling_how.want.is_none() && reading.wrong.is_none() {
        reading.missing.push("What you want of one sale".into());
    }
    let wholesale = costs.sale.clone();
    let retail = wholesale.clone().zip(reading.number("retail")).map(|(w, factor)| w * factor);
    let deposit = sold.asked.clone().zip(reading.number("deposit"));
    let deposit = deposit.map(|(asked, percent)| asked * percent / whole(100));
    let (missing, wrong) = (reading.missing, reading.wrong);
    Figures {
        priced,
        rates,
        made,
        currency,
        batch,
        selling: selling_how,
        costs,
        sold,
        wholesale,
        retail,
        deposit,
        missing,
        wrong,
    }
}

/// The forms on their way to figures.
struct Reading<'r> {
    priced: &'r Priced,
    rates: &'r Rates,
    shelf: &'r [Opened],
    currency: &'r Currency,
    missing: Vec<String>,
    wrong: Option<String>,
}

impl Reading<'_> {
    /// The piece's own figure, else the maker's usual one.
    fn number(&self, key: &str) -> Option<Exact> {
        match self.priced.terms.is_empty(key) {
            true => self.rates.number(key, self.currency),
            false => self.priced.terms.number(key, self.currency),
        }
    }

    /// A number of a line; it is missing where it is none.
    fn of<F: Form>(
        &mut self,
        line: &Filled<F>,
        key: &str,
        name: &str,
        what: &str,
    ) -> Option<Exact> {
        let n = line.number(key, self.currency);
        if n.is_none() {
            self.missing.push(format!("{name}: {what}"));
        }
        n
    }

    fn batch(&mut self, made: &Made) -> Batch {
        let sold_as = self.sold_as();
        let terms = &self.priced.terms;
        let mut batch = Batch {
            pieces: made.pieces.max(1),
            sold_as,
            basis: if terms.text("basis") == "bought" { Basis::Bought } else { Basis::Used },
            ..Batch::default()
        };
        batch.wood = self.wood(made);
        batch.hardware = self.hardware();
        batch.finish = self.finish(made);
        (batch.steps, batch.rate) = self.work();
        batch.overhead = self.overhead();
        batch
    }

    fn sold_as(&mut self) -> u64 {
        match self.priced.terms.text("sold_as") {
            "pair" => 2,
            "set" => self.priced.terms.count("set_of").unwrap_or_else(|| {
                self.missing.push("How many pieces are in a set".into());
                1
            }),
            _ => 1,
        }
    }

    fn wood(&mut self, made: &Made) -> Option<Option<Wood>> {
        if let Some(wood) = self.by_hand() {
            return Some(Some(wood));
        }
        match &made.boards {
            Boards::None => None,
            Boards::Known { wood, .. } => Some(Some(wood.clone())),
            Boards::Open(why) => {
                self.missing.extend(why.iter().cloned());
                Some(None)
            }
        }
    }

    fn by_hand(&self) -> Option<Wood> {
        let terms = &self.priced.terms;
        let bought = terms.number("wood_bought", self.currency)?;
        let kept = terms.number("wood_kept", self.currency).unwrap_or_else(Exact::zero);
        Some(Wood { kept: kept.min(bought.clone()), bought })
    }

    /// What of these is on the shelf, by their name.
    fn opened(&self, name: &str) -> Option<Exact> {
        let same = |o: &&Opened| o.text("name").trim().eq_ignore_ascii_case(name.trim());
        let all = self.shelf.iter().filter(same).filter(|o| !o.is_empty("name"));
        all.filter_map(|o| o.number("left", self.currency)).reduce(|a, b| a + b)
    }

    fn hardware(&mut self) -> Option<Vec<Hardware>> {
        let priced = self.priced;
        let all = priced.hardware.iter().enumerate().map(|(i, line)| {
            let name = called(line, "Hardware", i);
            Hardware {
                per_piece: self.of(line, "per_piece", &name, "how much one piece takes"),
                pack: self.of(line, "pack", &name, "how much is in a pack"),
                pack_price: self.of(line, "pack_price", &name, "what a pack costs"),
                opened: self.opened(line.text("name")),
            }
        });
        Some(all.gather()).filter(|all| !all.is_empty())
    }

    fn finish(&mut self, made: &Made) -> Option<Vec<Finish>> {
        let priced = self.priced;
        let all = priced.finish.iter().enumerate().map(|(i, line)| {
            let name = called(line, "Finish", i);
            let metric = line.text("covers_in") == "m2";
            let in_m2 = |n: Exact| if metric { n } else { n * square_foot() };
            let own = line.number("area", self.currency).map(in_m2);
            if own.is_none() && made.area.is_none() {
                self.missing.push(format!("{name}: the area of a piece"));
            }
            Finish {
                coats: self.of(line, "coats", &name, "how many coats"),
                covers: self.of(line, "covers", &name, "what a can covers").map(in_m2),
                can_price: self.of(line, "can_price", &name, "what a can costs"),
                area: own.or_else(|| made.area.clone()),
                opened: self.opened(line.text("name")),
            }
        });
        Some(all.gather()).filter(|all| !all.is_empty())
    }

    /// The steps, and what an hour is; without minutes there is no labor yet, so the hour is held back.
    fn work(&mut self) -> (Option<Vec<Step>>, Option<Exact>) {
        let priced = self.priced;
        let before = self.missing.len();
        if priced.steps.is_empty() {
            self.missing.push("Steps of the work, with their minutes".into());
        }
        let all = priced.steps.iter().enumerate().map(|(i, line)| {
            let number = |key| line.number(key, self.currency);
            let (set_up, each) = (number("set_up"), number("each"));
            if set_up.is_none() && each.is_none() {
                self.missing.push(format!("{}: its minutes", called(line, "Step", i)));
            }
            let some = |n: Option<Exact>| n.unwrap_or_else(Exact::zero);
            Step { set_up: some(set_up), each: some(each) }
        });
        let all = all.gather();
        let whole = self.missing.len() == before;
        let rate = self.rates.number("rate", self.currency);
        if rate.is_none() {
            self.missing.push("What an hour of your work costs".into());
        }
        (Some(all), rate.filter(|_| whole))
    }

    fn overhead(&self) -> Option<Overhead> {
        let amount = self.number("overhead")?;
        let by = match self.priced.terms.is_empty("overhead") {
            true => self.rates.text("overhead_by"),
            false => self.priced.terms.text("overhead_by"),
        };
        Some(match by {
            "hour" => Overhead::PerHour(amount),
            _ => Overhead::Share(amount / whole(100)),
        })
    }

    fn selling(&mut self) -> Selling {
        let hundred = whole(100);
        let share = self.number("fee_percent").unwrap_or_else(Exact::zero) / &hundred;
        let fixed = self.number("fee_fixed").unwrap_or_else(Exact::zero);
        let left = whole(1) - &share;
        let step = self.number("end_step").filter(Exact::is_positive);
        let at = self.number("end_at").unwrap_or_else(Exact::zero);
        let wanted = self.priced.terms.number("want", self.currency);
        let want = wanted.and_then(|n| match self.priced.terms.text("want_by") {
            "margin" if &n / &hundred >= left => {
                let most = super::exact::figure(&(left * &hundred));
                let with = if share.is_zero() { "A" } else { "With these fees, a" };
                self.wrong = Some(format!("{with} margin is less than {most} % of the price."));
                None
            }
            "margin" => Some(Want::Margin(n / &hundred)),
            "markup" => Some(Want::Markup(n / &hundred)),
            _ => Some(Want::Profit(n)),
        });
        Selling {
            fees: Some(Fees { share, fixed }),
            stall: self.number("stall"),
            want,
            end: step.map(|step| Ending { step: Some(step), at }),
        }
    }
}

impl Figures<'_> {
    /// An amount in the maker's own money.
    pub fn money(&self, n: &Exact) -> String {
        printed(&self.currency, n)
    }

    /// Whether all minutes are told.
    pub fn time_is_known(&self) -> bool {
        self.costs.labor.is_some()
    }

    /// Boards, packs, and cans as the basis counts them.
    pub(super) fn by_basis(&self, bought: &Option<Exact>, used: &Option<Exact>) -> Option<Exact> {
        if self.batch.basis == Basis::Bought { bought.clone() } else { used.clone() }
    }

    /// What is left of packs and cans once the batch is made: names, and how much of each there is then.
    pub fn left_over(&self) -> Vec<(String, Exact)> {
        let n = whole(self.batch.pieces);
        let mut out = Vec::new();
        let packs = self.costs.packs.iter().flatten();
        let hardware = self.priced.hardware.iter().zip(self.batch.hardware.iter().flatten());
        for ((line, h), packs) in hardware.zip(packs) {
            let opened = h.opened.clone().unwrap_or_else(Exact::zero);
            let taken = h.per_piece.as_ref().map(|each| each * &n);
            if let Some((pack, taken)) = h.pack.as_ref().zip(taken) {
                out.push((line.text("name").trim().to_owned(), opened + pack * packs - taken));
            }
        }
        let finish = self.priced.finish.iter().zip(self.batch.finish.iter().flatten());
        for ((line, f), cans) in finish.zip(self.costs.cans.iter().flatten()) {
            let opened = f.opened.clone().unwrap_or_else(Exact::zero);
            let area = f.area.as_ref().zip(f.coats.as_ref()).map(|(a, coats)| a * coats * &n);
            let share = area.and_then(|area| over(area, f.covers.as_ref()?));
            if let Some(share) = share {
                out.push((line.text("name").trim().to_owned(), opened + cans - share));
            }
        }
        out.retain(|(name, _)| !name.is_empty());
        out
    }
}
