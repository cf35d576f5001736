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

/// A share as "6.5 %".
fn percent(share: &Exact) -> String {
    format!("{} %", figure(&(share * whole(100))))
}

impl Figures<'_> {
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
        if n > 1 {
            let label = format!("Cost of {n} pieces");
            self.put(out, (group, "cost", &label), costs.cost.as_ref(), self.cost_sum());
        }
        if let (Some(cost), Some(each)) = (&costs.cost, &costs.each) {
            let sum = match n {
                1 => self.cost_sum(),
                n => vec![format!("{} \u{f7} {n} pieces.", self.money(cost))],
            };
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

    /// What the selling place takes: a share, and an amount.
    fn fees(&self) -> (Exact, Exact) {
        let none = || (Exact::zero(), Exact::zero());
        self.selling.fees.as_ref().map_or_else(none, |f| (f.share.clone(), f.fixed.clone()))
    }

    /// "Cost $40.00 + fee $0.25", with what else is put in, then all of it over what fees and margin leave of the price.
    fn over_fees(&self, times: &str, more: &str, margin: Option<&Exact>) -> String {
        let (share, fixed) = self.fees();
        let mut out = format!(
            "Cost {}{times}",
            self.costs.sale.as_ref().map(|s| self.money(s)).unwrap_or_default()
        );
        if !fixed.is_zero() {
            out.push_str(&format!(" + fee {}", self.money(&fixed)));
        }
        out.push_str(more);
        let left: Vec<String> = [Some(&share).filter(|s| !s.is_zero()), margin]
            .into_iter()
            .flatten()
            .map(|part| format!(" \u{2212} {}", percent(part)))
            .collect();
        if !left.is_empty() {
            let alone = fixed.is_zero() && times.is_empty() && more.is_empty();
            let sum = if alone { out } else { format!("({out})") };
            out = format!("{sum} \u{f7} (100 %{})", left.concat());
        }
        out
    }

    fn ask_lines(&self, out: &mut Vec<Line>) {
        let (group, sold) = (Group::Ask, &self.sold);
        if self.costs.sale.is_none() {
            return;
        }
        let floor = sold.floor.as_ref().map(|f| Exact::from_integer(upward(f)));
        let sum = vec![
            format!("{}, rounded up.", self.over_fees("", "", None)),
            "At less than this a sale loses money.".into(),
        ];
        self.put(out, (group, "floor", "Floor"), floor.as_ref(), sum);
        if let Some(exact) = &sold.asked_exact {
            let way = match &self.selling.want {
                Some(Want::Profit(n)) => {
                    self.over_fees("", &format!(" + profit {}", self.money(n)), None)
                }
                Some(Want::Margin(margin)) => self.over_fees("", "", Some(margin)),
                Some(Want::Markup(m)) => {
                    self.over_fees(&format!(" \u{d7} (100 % + {})", percent(m)), "", None)
                }
                None => String::new(),
            };
            let mut sum = vec![format!("{way} is {}.", self.money(exact))];
            match &self.selling.end {
                Some(end) => {
                    let step = end.step.as_ref().map(|s| self.money(s)).unwrap_or_default();
                    let at = self.money(&end.at);
                    sum.push(format!("The next price that ends at {at} in steps of {step}."));
                }
                None => sum.push("Rounded up.".into()),
            }
            let label = format!("Asked for {}", self.sale());
            self.put(out, (group, "asked", &label), sold.asked.as_ref(), sum);
        }
        self.shop_lines(out);
    }

    fn shop_lines(&self, out: &mut Vec<Line>) {
        let group = Group::Ask;
        let sum = vec!["What a sale costs: materials, labor, and overhead.".into()];
        let told = self.wholesale.as_ref().filter(|_| self.retail.is_some());
        self.put(out, (group, "wholesale", "Wholesale"), told, sum);
        let both = self.wholesale.as_ref().zip(self.retail.as_ref());
        let factor = both.filter(|(w, _)| !w.is_zero()).map(|(w, r)| figure(&(r / w)));
        let sum = vec![format!("Wholesale \u{d7} {}.", factor.unwrap_or_default())];
        self.put(out, (group, "retail", "Retail"), self.retail.as_ref(), sum);
        if let (Some(deposit), Some(asked)) = (&self.deposit, &self.sold.asked) {
            let rest = self.money(&(asked - deposit));
            let share = if asked.is_zero() { Exact::zero() } else { deposit / asked };
            let (share, asked) = (percent(&share), self.money(asked));
            let sum = vec![format!("{share} of {asked}; {rest} is left to pay.")];
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
        let sum = match (share.is_zero(), fixed.is_zero()) {
            (true, _) => "Fixed, of each sale.".to_owned(),
            (_, true) => format!("{} of {asked_words}.", percent(&share)),
            _ => format!("{} of {asked_words} + {}.", percent(&share), self.money(&fixed)),
        };
        self.put(out, (group, "fee", "Fee"), Some(fee).filter(|f| !f.is_zero()), vec![sum]);
        let less = if fee.is_zero() { String::new() } else { format!(" \u{2212} fee {fee_words}") };
        let sum = vec![format!("Asked {asked_words}{less} \u{2212} cost {sale_words}.")];
        self.put(out, (group, "profit", "Profit of a sale"), Some(profit), sum);
        let shares = [
            (
                "margin_percent",
                "Margin",
                &sold.margin,
                format!("Profit {profit_words} \u{f7} asked price {asked_words}."),
            ),
            (
                "markup_percent",
                "Markup",
                &sold.markup,
                format!("Profit {profit_words} \u{f7} cost {sale_words}."),
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
            let sum = vec![format!(
                "Day {} \u{f7} profit {profit_words}, up to a whole sale.",
                self.money(stall)
            )];
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
            match sales == whole(1) {
                true => format!("1 sale brings {} after fees.", self.money(&taken)),
                false => {
                    format!("{} sales bring {} after fees.", figure(&sales), self.money(&taken))
                }
            },
            format!(
                "Less {less}, {} is left for {} hours.",
                self.money(&left),
                figure(&(minutes / whole(60)))
            ),
        ]
    }
}
