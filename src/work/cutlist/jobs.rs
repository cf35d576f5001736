//! From parts list and rack to the planner's jobs: one a stock.
//!
//! A job is planned in inches and whole cents. Its one seen size is the one in which most of its
//! mitered parts lie; ends in the other plane, bevelled and compound ends go in as square. Trims and
//! bad stretches are taken out beforehand, because the planner knows one trim for all boards.
//!
//! Stock with a part narrower than itself is planned in strips, all of its parts as rectangles, mitered ends
//! square, so that boards on hand are counted once.
//!
//! A stock with `sheet` is planned by the same planner as a sheet: a part is its length by its size seen, its
//! thickness within 1/16 in; `trim_left` holds on all four edges, of offcuts (`width` of an owned one) too.

use super::job::{Job, Jobs, Times, Trouble, boards_of};
use super::{Entry, KeptBoard, fit, rectangles, sticks};
use crate::rack::{Rack, Stock};
use offsquare_units::num::Gather;
use offsquare_units::{Length, say};
use std::collections::BTreeSet;

impl Jobs {
    /// Whether every length of every stock that is cut has a price.
    pub fn are_priced(&self) -> bool {
        self.jobs.iter().all(|j| j.no_price.is_empty())
    }

    /// The jobs for `batch` pieces of everything that is not cut yet; `kerf` is the saw's.
    pub fn of(
        entries: &[Entry],
        rack: &Rack,
        kerf: Length,
        batch: u32,
        kept: &[KeptBoard],
    ) -> Jobs {
        Jobs::planned(entries, rack, kerf, &|_| batch.max(1), kept)
    }

    /// The same with each part as often as its piece is made; 0: it is not planned, nor are kept boards that hold it.
    pub fn planned(
        entries: &[Entry],
        rack: &Rack,
        kerf: Length,
        times: Times,
        kept: &[KeptBoard],
    ) -> Jobs {
        let mut out = Jobs::default();
        let is_open = |e: &&Entry| !e.done && e.count > 0 && times(e) > 0;
        let open: Vec<&Entry> = entries.iter().filter(is_open).gather();
        let rests: BTreeSet<u32> = entries.iter().filter(|e| times(e) == 0).map(|e| e.id).collect();
        let in_play = |k: &KeptBoard| !k.parts.iter().any(|p| rests.contains(&p.entry));
        let kept: Vec<(usize, &KeptBoard)> =
            kept.iter().enumerate().filter(|k| in_play(k.1)).gather();
        for entry in &open {
            let known = rack.stock_of(entry.stock);
            if known.is_none() {
                let text = format!("{}: pick the stock that it is cut from.", entry.called());
                out.troubles.push(Trouble::stops(entry, say!(text)));
            }
        }
        for stock in &rack.stocks {
            let own: Vec<&Entry> =
                open.iter().copied().filter(|e| e.stock == Some(stock.id)).gather();
            if !own.is_empty() {
                out.add(stock, &own, (rack.tax, kerf.0, times), &kept);
            }
        }
        // A kept board whose stock has no parts left holds nothing.
        for (i, k) in kept {
            if !out.jobs.iter().any(|j| j.stock == k.stock) {
                out.lost(i);
            }
        }
        out
    }

    fn lost(&mut self, i: usize) {
        self.troubles.push(Trouble {
            entry: None,
            kept: Some(i),
            stops: false,
            text: say!(
                "A board that you kept no longer fits the list: its parts or its stock have \
                 changed."
            ),
        });
    }

    fn add(
        &mut self,
        stock: &Stock,
        own: &[&Entry],
        (tax, kerf, times): (u32, f64, Times),
        kept: &[(usize, &KeptBoard)],
    ) {
        let own: Vec<&Entry> = own.iter().copied().filter(|e| self.fits(stock, e)).gather();
        let (boards, kinds, trim) = boards_of(stock, (tax, kerf));
        // One narrower part, and the stock's boards are ripped: all of its parts are laid out so.
        let ripped = own.iter().any(|e| stock.lies(e.seen, e.away).is_none());
        let (mut instance, parts) = match ripped {
            true => {
                let wide = boards.iter().map(|b| b.width.0);
                rectangles::instance(stock, &own, kinds.into_iter().zip(wide), (kerf, trim), times)
            }
            false => {
                let troubles = &mut self.troubles;
                sticks::instance(stock, &own, kinds, (kerf, trim), times, troubles)
            }
        };
        if parts.is_empty() {
            return;
        }
        for (count, part) in instance.wanted().into_iter().zip(&parts) {
            let of = own.iter().find(|e| e.id == part.entry);
            let made = of.map_or(0, |e| if part.mirrored { e.made_mirrored } else { e.made });
            *count = count.saturating_sub(u64::from(made));
        }
        let mut job = Job {
            stock: stock.id,
            name: stock.name.clone(),
            rest: instance.clone(),
            instance,
            no_price: stock.without_price(tax),
            boards,
            parts,
            kept: Vec::new(),
        };
        for (i, k) in kept.iter().filter(|k| k.1.stock == stock.id) {
            if !job.keep(*i, k) {
                self.lost(*i);
            }
        }
        let sticks = self.jobs.iter().take_while(|j| !j.is_ripped()).count();
        self.jobs.insert(if ripped { self.jobs.len() } else { sticks }, job);
    }

    /// Whether a part can be cut from the stock at all; says why not.
    fn fits(&mut self, stock: &Stock, entry: &Entry) -> bool {
        let fits = fit(stock, entry).is_ok();
        if !fits && stock.sheet && entry.seen.is_none() {
            let called = entry.called();
            let text = format!("{called}: give its size seen, which is its width on the sheet.");
            self.troubles.push(Trouble::stops(entry, say!(text)));
        } else if !fits {
            self.troubles.push(Trouble::stops(
                entry,
                say!(
                    "{}{} by {}{}{} by {}.",
                    format!("{}: at ", entry.called()),
                    entry.seen.unwrap_or(stock.width),
                    entry.away.unwrap_or(stock.thickness),
                    format!(" it cannot be cut from {}, which measures ", stock.name),
                    stock.width,
                    stock.thickness
                ),
            ));
        }
        fits
    }
}
