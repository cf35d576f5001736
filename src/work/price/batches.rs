//! What one piece costs at each size of the batch, and why the best sizes are.

use super::costs::{Basis, PerPiece, Wood};
use super::exact::{Exact, over, upward, whole};
use super::figures::{Figures, called};
use num_bigint::BigInt;
use num_traits::{Signed, ToPrimitive, Zero};
use offsquare_units::lower_first;
use offsquare_units::num::{self, Gather};

/// Most pieces that are looked at.
pub const MOST_POINTS: u64 = 24;
/// How many sizes are named.
const NAMED: usize = 3;

/// What one costs where so many are made at once.
#[derive(Clone, Debug, PartialEq)]
pub struct Point {
    pub pieces: u64,
    pub each: Exact,
}

/// Something that is bought whole: what one more piece of it costs at a size, and how that is said.
struct Step {
    money: Exact,
    words: String,
}

fn ordinal(n: u64) -> String {
    const WORDS: [&str; 12] = [
        "first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth",
        "tenth", "eleventh", "twelfth",
    ];
    let word = n.checked_sub(1).and_then(|i| WORDS.get(i as usize));
    let end = match (n % 10, n % 100 / 10) {
        (1, ten) if ten != 1 => "st",
        (2, ten) if ten != 1 => "nd",
        (3, ten) if ten != 1 => "rd",
        _ => "th",
    };
    word.map_or_else(|| format!("{n}{end}"), |word| (*word).to_owned())
}

impl Figures<'_> {
    /// Cost of one for each size up to [`MOST_POINTS`], as far as it is known; `wood`: the boards of so many, each by
    /// itself. Boards typed by hand are those of one batch only, so they have no other sizes.
    pub fn batches(&self, wood: &[(u64, Wood)]) -> Vec<Point> {
        if !self.priced.terms.is_empty("wood_bought") {
            return Vec::new();
        }
        let per_piece = PerPiece::of(&self.batch);
        let point = |pieces: u64| {
            let own = wood.iter().find(|w| w.0 == pieces).map(|w| Some(w.1.clone()));
            let own = self.batch.wood.as_ref().map(|_| own.flatten());
            Some(Point { pieces, each: per_piece.costs(pieces, own.as_ref()).each? })
        };
        (1..=MOST_POINTS).filter_map(point).gather()
    }

    /// The sizes at which one costs least, least first, and why; smaller ones first where they cost the same. Empty while
    /// nothing is known.
    pub fn best(&self, points: &[Point], wood: &[(u64, Wood)]) -> Vec<(u64, String)> {
        let dips = points.iter().enumerate().filter(|(i, p)| {
            let before = i.checked_sub(1).and_then(|b| points.get(b));
            let falls = before.is_none_or(|b| p.each < b.each);
            let rises = points.get(i + 1).is_none_or(|a| a.each >= p.each);
            falls && rises
        });
        let mut best: Vec<&Point> = dips.map(|(_, p)| p).gather();
        num::sort_by(&mut best, |a, b| (&a.each, a.pieces).cmp(&(&b.each, b.pieces)));
        best.truncate(NAMED);
        let named = |p: &Point| {
            let money = self.money(&p.each);
            (p.pieces, format!("{} at {money} each: {}.", p.pieces, self.why(p.pieces, wood)))
        };
        best.into_iter().map(named).gather()
    }

    /// Why a size is a good one: of all that one more piece would have to begin anew, what costs most.
    fn why(&self, n: u64, wood: &[(u64, Wood)]) -> String {
        let mut steps = self.boards_step(n, wood).into_iter().gather();
        if self.batch.basis == Basis::Bought {
            self.packs_step(n, &mut steps);
            self.cans_step(n, &mut steps);
        }
        let most = steps.into_iter().max_by(|a, b| a.money.cmp(&b.money));
        let set_up = self.batch.steps.iter().flatten().any(|s| s.set_up.is_positive());
        match most {
            Some(step) => step.words,
            None if n == MOST_POINTS && set_up => {
                "the most that is looked at, and the set-up is shared by all".into()
            }
            None if set_up => "more share the set-up".into(),
            None => "more would cost no less each".into(),
        }
    }

    fn boards_step(&self, n: u64, wood: &[(u64, Wood)]) -> Option<Step> {
        let of = |n: u64| wood.iter().find(|w| w.0 == n).map(|w| &w.1);
        let (now, next) = (of(n)?, of(n + 1)?);
        let counted = |w: &Wood| match self.batch.basis {
            Basis::Bought => w.bought.clone(),
            Basis::Used => &w.bought - &w.kept,
        };
        // What one more takes beyond what each takes now.
        let more = counted(next) - counted(now) - counted(now) / whole(n);
        let words = match self.batch.basis {
            Basis::Bought => "its boards are full, and one more piece takes another",
            Basis::Used => "its boards leave least over",
        };
        more.is_positive().then(|| Step { money: more, words: words.into() })
    }

    /// `share`: how much of one a piece uses up; `opened`: how much of one is there already.
    fn step(
        &self,
        n: u64,
        (share, opened, price): (Exact, Exact, &Exact),
        what: &str,
    ) -> Option<Step> {
        let wanted = |n: u64| whole(n) * &share - &opened;
        let bought = |n: u64| upward(&wanted(n)).max(BigInt::zero());
        let (now, next) = (bought(n), bought(n + 1));
        let money = price * (&next - &now);
        let count = now.to_u64()?;
        let words = match wanted(n) == Exact::from_integer(now.clone()) {
            true if count > 0 => format!("the {} {what} is full", ordinal(count)),
            _ => format!("one more piece opens the {} {what}", ordinal(count + 1)),
        };
        (next > now).then_some(Step { money, words })
    }

    fn packs_step(&self, n: u64, out: &mut Vec<Step>) {
        let all = self.batch.hardware.iter().flatten().zip(&self.priced.hardware);
        for (i, (h, line)) in all.enumerate() {
            let what = format!("pack of {}", lower_first(&called(line, "Hardware", i)));
            let of_pack = |amount: &Exact| over(amount.clone(), h.pack.as_ref()?);
            let share = h.per_piece.as_ref().and_then(of_pack);
            let opened = h.opened.as_ref().and_then(of_pack).unwrap_or_else(Exact::zero);
            let both = share.zip(h.pack_price.as_ref());
            out.extend(both.and_then(|(share, price)| self.step(n, (share, opened, price), &what)));
        }
    }

    fn cans_step(&self, n: u64, out: &mut Vec<Step>) {
        let all = self.batch.finish.iter().flatten().zip(&self.priced.finish);
        for (i, (f, line)) in all.enumerate() {
            let what = format!("can of {}", lower_first(&called(line, "Finish", i)));
            let area = f.area.as_ref().zip(f.coats.as_ref()).map(|(area, coats)| area * coats);
            let share = area.and_then(|area| over(area, f.covers.as_ref()?));
            let opened = f.opened.clone().unwrap_or_else(Exact::zero);
            let both = share.zip(f.can_price.as_ref());
            out.extend(both.and_then(|(share, price)| self.step(n, (share, opened, price), &what)));
        }
    }
}
