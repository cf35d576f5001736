//! Every figure with its sum in words.

use super::costs::{Basis, Overhead};
use super::exact::{Exact, figure, upward, whole};
use super::figures::{Boards, Figures, called, square_foot};
use super::selling::Want;
use num_traits::{Signed, Zero};

/// What a line is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Group {
    /// What it costs.
    Cost,
    /// What to ask.
    Ask,
    /// What that earns.
    Earn,
}

/// One figure: what it is, how much, and how it comes about.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    pub group: Group,
    pub key: &'static str,
    pub label: String,
    pub value: String,
    pub sum: Vec<String>,
}

/// "6 h 12 min"; minutes to a tenth.
pub fn time(minutes: &Exact) -> String {
    let hours = (minutes / whole(60)).floor();
    let rest = figure(&(((minutes - &hours * whole(60)) * whole(10)).round() / whole(10)));
    match (hours.is_zero(), rest.as_str()) {
        (true, _) => format!("{rest} min"),
        (false, "0") => format!("{} h", hours.to_integer()),
        _ => format!("{} h {rest} min", hours.to_integer()),
    }
}

/// "piece", "2 pieces".
fn pieces(n: u64) -> String {
    if n == 1 { "1 piece".into() } else { format!("{n} pieces") }
}

impl Figures<'_> {
    fn money(&self, n: &Exact) -> String {
        self.currency.print(n)
    }

    /// All figures that are known, in the order of the sum.
    pub fn lines(&self) -> Vec<Line> {
        let mut out = Vec::new();
        self.cost_lines(&mut out);
        self.ask_lines(&mut out);
        self.earn_lines(&mut out);
        out
    }

    fn put(
        &self,
        out: &mut Vec<Line>,
        (group, key, label): (Group, &'static str, &str),
        figure: Option<&Exact>,
        sum: Vec<String>,
    ) {
        if let Some(figure) = figure {
            let (label, value) = (label.to_owned(), self.money(figure));
            out.push(Line { group, key, label, value, sum });
        }
    }

    fn cost_lines(&self, out: &mut Vec<Line>) {
        let (costs, group) = (&self.costs, Group::Cost);
        let wood = self.by_basis(&costs.wood_bought, &costs.wood_used);
        self.put(out, (group, "wood", "Wood"), wood.as_ref(), self.wood_sum());
        let hardware = self.by_basis(&costs.hardware_bought, &costs.hardware_used);
        let sum = self.hardware_sum();
        self.put(out, (group, "hardware", "Hardware"), hardware.as_ref(), sum);
        let finish = self.by_basis(&costs.finish_bought, &costs.finish_used);
        self.put(out, (group, "finish", "Finish"), finish.as_ref(), self.finish_sum());
        if let Some(minutes) = costs.minutes.as_ref().filter(|_| self.time_is_known()) {
            let (label, value) = ("Time".to_owned(), time(minutes));
            out.push(Line { group, key: "minutes", label, value, sum: self.time_sum() });
            let rate = self.batch.rate.as_ref().map(|r| self.money(r)).unwrap_or_default();
            let hours = figure(&(minutes / whole(60)));
            let sum = vec![format!("{hours} hours at {rate}.")];
            self.put(out, (group, "labor", "Labor"), costs.labor.as_ref(), sum);
        }
        self.put(
            out,
            (group, "overhead", "Overhead"),
            costs.overhead.as_ref(),
            self.overhead_sum(),
        );
        let n = self.batch.pieces;
        let label = format!("Cost of {}", pieces(n));
        self.put(out, (group, "cost", &label), costs.cost.as_ref(), self.cost_sum());
        if let (Some(cost), Some(each)) = (&costs.cost, &costs.each) {
            let sum = vec![format!("{} \u{f7} {n}.", self.money(cost))];
            self.put(out, (group, "cost_each", "Cost of one"), Some(each), sum);
            let sum = vec![format!("{} \u{d7} {}.", self.money(each), self.batch.sold_as)];
            let sale = costs.sale.as_ref().filter(|_| self.batch.sold_as > 1);
            let label = format!("Cost of a sale, {}", self.sale());
            self.put(out, (group, "cost_sale", &label), sale, sum);
        }
    }

    /// What is sold at once, in words.
    pub fn sale(&self) -> String {
        match self.batch.sold_as {
            1 => "one".into(),
            2 => "a pair".into(),
            n => format!("a set of {n}"),
        }
    }

    fn wood_sum(&self) -> Vec<String> {
        let (Some(bought), Some(used)) = (&self.costs.wood_bought, &self.costs.wood_used) else {
            return Vec::new();
        };
        let by_hand = !self.priced.terms.is_empty("wood_bought");
        let from = if by_hand { "Boards, typed by hand" } else { "Boards of the plan" };
        let mut out = vec![format!("{from}: {} bought.", self.money(bought))];
        let kept = bought - used;
        if kept.is_positive() {
            let (kept, used) = (self.money(&kept), self.money(used));
            out.push(format!("Leftovers worth keeping: {kept}. So {used} is used."));
        }
        if let (Boards::Known { words, .. }, false) = (&self.made.boards, by_hand) {
            out.extend(words.iter().cloned());
        }
        out.push(self.basis_words().into());
        out
    }

    fn basis_words(&self) -> &'static str {
        match self.batch.basis {
            Basis::Used => "Counted as used.",
            Basis::Bought => "Counted as bought.",
        }
    }

    fn hardware_sum(&self) -> Vec<String> {
        let n = self.batch.pieces;
        let all = self.priced.hardware.iter().zip(self.batch.hardware.iter().flatten());
        let packs = self.costs.packs.iter().flatten();
        let mut out = Vec::new();
        for (i, ((line, h), packs)) in all.zip(packs).enumerate() {
            let (Some(each), Some(pack), Some(price)) = (&h.per_piece, &h.pack, &h.pack_price)
            else {
                continue;
            };
            let wanted = each * whole(n);
            let name = called(line, "Hardware", i);
            let opened = h.opened.as_ref().filter(|o| o.is_positive());
            let opened = opened.map(|o| format!(", {} of them from the shelf", figure(o)));
            out.push(format!(
                "{name}: {n} \u{d7} {} is {}{}. Packs of {} at {}: {packs} bought for {}, {} used.",
                figure(each),
                figure(&wanted),
                opened.unwrap_or_default(),
                figure(pack),
                self.money(price),
                self.money(&(price * packs)),
                self.money(&(price * wanted / pack)),
            ));
        }
        out.push(self.basis_words().into());
        out
    }

    fn finish_sum(&self) -> Vec<String> {
        let n = self.batch.pieces;
        let all = self.priced.finish.iter().zip(self.batch.finish.iter().flatten());
        let cans = self.costs.cans.iter().flatten();
        let mut out = Vec::new();
        for (i, ((line, f), cans)) in all.zip(cans).enumerate() {
            let (Some(coats), Some(covers), Some(price), Some(area)) =
                (&f.coats, &f.covers, &f.can_price, &f.area)
            else {
                continue;
            };
            let (unit, square) = match line.text("covers_in") {
                "m2" => (whole(1), "m\u{b2}"),
                _ => (square_foot(), "ft\u{b2}"),
            };
            let name = called(line, "Finish", i);
            let painted = area * coats * whole(n);
            let opened = f.opened.as_ref().filter(|o| o.is_positive());
            let opened = opened.map(|o| format!(", {} of a can from the shelf", figure(o)));
            out.push(format!(
                "{name}: {n} \u{d7} {} {square} \u{d7} {} coats is {} {square}{}. A can covers {} {square} and costs {}: {cans} bought for {}, {} used.",
                figure(&(area / &unit)),
                figure(coats),
                figure(&(&painted / &unit)),
                opened.unwrap_or_default(),
                figure(&(covers / &unit)),
                self.money(price),
                self.money(&(price * cans)),
                self.money(&(price * painted / covers)),
            ));
        }
        out.push(self.basis_words().into());
        out
    }

    fn time_sum(&self) -> Vec<String> {
        let n = self.batch.pieces;
        let all = self.priced.steps.iter().zip(self.batch.steps.iter().flatten());
        all.enumerate()
            .map(|(i, (line, step))| {
                let sum = &step.set_up + &step.each * whole(n);
                let set_up = match step.set_up.is_zero() {
                    true => String::new(),
                    false => format!("{} min set-up + ", figure(&step.set_up)),
                };
                let name = called(line, "Step", i);
                format!("{name}: {set_up}{n} \u{d7} {} min is {}.", figure(&step.each), time(&sum))
            })
            .collect()
    }

    fn overhead_sum(&self) -> Vec<String> {
        let made = self.costs.materials.as_ref().zip(self.costs.labor.as_ref()).map(|(m, l)| m + l);
        match &self.batch.overhead {
            Some(Overhead::Share(share)) => {
                let percent = figure(&(share * whole(100)));
                let made = made.map(|made| self.money(&made)).unwrap_or_default();
                vec![format!("{percent} % of materials and labor, {made}.")]
            }
            Some(Overhead::PerHour(rate)) => {
                let hours = self.costs.minutes.as_ref().map(|m| figure(&(m / whole(60))));
                vec![format!("{} hours at {}.", hours.unwrap_or_default(), self.money(rate))]
            }
            None => Vec::new(),
        }
    }

    fn cost_sum(&self) -> Vec<String> {
        let costs = &self.costs;
        let parts = [
            ("wood", self.by_basis(&costs.wood_bought, &costs.wood_used)),
            ("hardware", self.by_basis(&costs.hardware_bought, &costs.hardware_used)),
            ("finish", self.by_basis(&costs.finish_bought, &costs.finish_used)),
            ("labor", costs.labor.clone()),
            ("overhead", costs.overhead.clone()),
        ];
        let told = parts
            .iter()
            .filter_map(|(name, n)| Some(format!("{name} {}", self.money(n.as_ref()?))));
        vec![format!("{}.", offsquare_units::upper_first(&told.collect::<Vec<_>>().join(" + ")))]
    }

    /// "6.5 % + $0.25", and what of it there is.
    fn fees(&self) -> (Exact, Exact) {
        let none = || (Exact::zero(), Exact::zero());
        self.selling.fees.as_ref().map_or_else(none, |f| (f.share.clone(), f.fixed.clone()))
    }

    fn ask_lines(&self, out: &mut Vec<Line>) {
        let group = Group::Ask;
        let (Some(sale), sold) = (&self.costs.sale, &self.sold) else { return };
        let (share, fixed) = self.fees();
        let percent = |n: &Exact| format!("{} %", figure(&(n * whole(100))));
        let start = |more: &str| {
            let fixed = match fixed.is_zero() {
                true => String::new(),
                false => format!(" + {}", self.money(&fixed)),
            };
            format!("{}{fixed}{more}", self.money(sale))
        };
        let kept = |less: &str| match (share.is_zero(), less) {
            (true, "") => String::new(),
            (true, less) => format!(" \u{f7} (1{less})"),
            (false, less) => format!(" \u{f7} (1 \u{2212} {}{less})", percent(&share)),
        };
        let floor = sold.floor.as_ref().map(|f| Exact::from_integer(upward(f)));
        let sum = vec![
            format!("{}{}, rounded up.", start(""), kept("")),
            "At less than this a sale loses money.".into(),
        ];
        self.put(out, (group, "floor", "Floor"), floor.as_ref(), sum);
        if let Some(exact) = &sold.asked_exact {
            let way = match &self.selling.want {
                Some(Want::Profit(n)) => {
                    format!("{}{}", start(&format!(" + {}", self.money(n))), kept(""))
                }
                Some(Want::Margin(g)) => {
                    format!("{}{}", start(""), kept(&format!(" \u{2212} {}", percent(g))))
                }
                Some(Want::Markup(m)) => {
                    let fixed = if fixed.is_zero() {
                        String::new()
                    } else {
                        format!(" + {}", self.money(&fixed))
                    };
                    format!("{} \u{d7} (1 + {}){fixed}{}", self.money(sale), percent(m), kept(""))
                }
                None => String::new(),
            };
            let mut sum = vec![format!("{way} is {}.", self.money(exact))];
            match &self.selling.end {
                Some(end) => {
                    let step = end.step.as_ref().map(|s| self.money(s)).unwrap_or_default();
                    sum.push(format!(
                        "The next price that ends at {} in steps of {step}.",
                        self.money(&end.at)
                    ));
                }
                None => sum.push("Rounded up.".into()),
            }
            let label = format!("Asked for {}", self.sale());
            self.put(out, (group, "asked", &label), sold.asked.as_ref(), sum);
        }
        let sum = vec!["What a sale costs: materials, labor, and overhead.".into()];
        let told = self.wholesale.as_ref().filter(|_| self.retail.is_some());
        self.put(out, (group, "wholesale", "Wholesale"), told, sum);
        let factor =
            self.wholesale.as_ref().zip(self.retail.as_ref()).filter(|(w, _)| !w.is_zero());
        let factor = factor.map(|(w, r)| figure(&(r / w))).unwrap_or_default();
        let sum = vec![format!("Wholesale \u{d7} {factor}.")];
        self.put(out, (group, "retail", "Retail"), self.retail.as_ref(), sum);
        if let (Some(deposit), Some(asked)) = (&self.deposit, &sold.asked) {
            let rest = self.money(&(asked - deposit));
            let share = if asked.is_zero() { Exact::zero() } else { deposit / asked };
            let sum = vec![format!(
                "{} of {}; {rest} is left to pay.",
                percent(&share),
                self.money(asked)
            )];
            self.put(out, (group, "deposit", "Deposit"), Some(deposit), sum);
        }
    }

    fn earn_lines(&self, out: &mut Vec<Line>) {
        let (group, sold) = (Group::Earn, &self.sold);
        let (Some(asked), Some(fee), Some(profit), Some(sale)) =
            (&sold.asked, &sold.fee, &sold.profit, &self.costs.sale)
        else {
            return;
        };
        let (share, fixed) = self.fees();
        let [asked_words, fee_words, profit_words, sale_words] =
            [asked, fee, profit, sale].map(|n| self.money(n));
        let sum = vec![format!(
            "{} % of {asked_words} + {}.",
            figure(&(share * whole(100))),
            self.money(&fixed)
        )];
        self.put(out, (group, "fee", "Fee"), Some(fee).filter(|f| !f.is_zero()), sum);
        let less = if fee.is_zero() { String::new() } else { format!(" \u{2212} {fee_words}") };
        let sum = vec![format!("{asked_words}{less} \u{2212} {sale_words}.")];
        self.put(out, (group, "profit", "Profit of a sale"), Some(profit), sum);
        let shares = [
            (
                "margin_percent",
                "Margin",
                &sold.margin,
                format!("{profit_words} \u{f7} {asked_words}."),
            ),
            (
                "markup_percent",
                "Markup",
                &sold.markup,
                format!("{profit_words} \u{f7} {sale_words}."),
            ),
        ];
        for (key, label, share, sum) in shares {
            if let Some(Some(share)) = share {
                let rounded = (share * whole(10)).round() / whole(10);
                let (label, value) = (label.to_owned(), format!("{} %", figure(&rounded)));
                out.push(Line { group, key, label, value, sum: vec![sum] });
            }
        }
        if let Some(Some(earned)) = &sold.earned_per_hour {
            self.put(
                out,
                (group, "earned_per_hour", "An hour earns"),
                Some(earned),
                self.earned_sum(),
            );
        }
        if let Some(stall) = &self.selling.stall {
            let sum =
                vec![format!("{} \u{f7} {profit_words}, up to a whole sale.", self.money(stall))];
            let value = match &sold.break_even_sales {
                Some(Some(n)) => figure(n),
                _ => "Never at this price".into(),
            };
            let label = "Sales that pay for a selling day".to_owned();
            out.push(Line { group, key: "break_even_sales", label, value, sum });
        }
    }

    fn earned_sum(&self) -> Vec<String> {
        let (costs, sold) = (&self.costs, &self.sold);
        let (Some(asked), Some(fee), Some(minutes)) = (&sold.asked, &sold.fee, &costs.minutes)
        else {
            return Vec::new();
        };
        let sales = whole(self.batch.pieces) / whole(self.batch.sold_as);
        let none = Exact::zero();
        let (materials, overhead) =
            (costs.materials.as_ref().unwrap_or(&none), costs.overhead.as_ref().unwrap_or(&none));
        let taken = (asked - fee) * &sales;
        let less = if overhead.is_zero() {
            format!("materials {}", self.money(materials))
        } else {
            format!("materials {} and overhead {}", self.money(materials), self.money(overhead))
        };
        let left = &taken - materials - overhead;
        vec![
            format!("{} sales bring {} after fees.", figure(&sales), self.money(&taken)),
            format!(
                "Less {less}, {} is left for {} hours.",
                self.money(&left),
                figure(&(minutes / whole(60)))
            ),
        ]
    }
}
