//! A run at the saw begun, ticked off and ended.

use super::begun::{Begun, Frozen, Outcome};
use super::edit::WorkEdit;
use super::made::Piece;
use super::shop::Shop;
use super::work::Work;
use crate::cutlist::{Jobs, KeptBoard, PutAway, ShownPlan, Summary};
use crate::rack::{Owned, Rack};
use offsquare_units::num::Gather;
use std::collections::BTreeSet;

impl Work {
    pub(super) fn edit_run(&mut self, edit: WorkEdit, shop: &Shop) {
        match (edit, &mut self.begun) {
            (WorkEdit::StartRun(boards), None) if !boards.is_empty() => {
                self.begun = Some(Begun::new(self.frozen(boards, shop)));
            }
            (WorkEdit::Tick(tick), Some(run)) => run.tick(tick),
            (WorkEdit::Untick, Some(run)) => run.untick(),
            (WorkEdit::Skip { reason, places }, Some(run)) => run.skip(reason, places),
            (WorkEdit::Replanned(new), Some(run)) => run.replanned(*new),
            (WorkEdit::EndRun(outcome), Some(_)) => self.end_run(*outcome),
            // The rest are none of a run's, or there is none.
            _ => {}
        }
    }

    /// The run that the boards of a plan would be.
    pub fn to_cut(&self, jobs: &Jobs, summary: &Summary, shop: &Shop) -> Begun {
        let of = |s: &ShownPlan| {
            let job = &jobs.jobs[s.job];
            s.boards.iter().map(|b| job.to_keep(b)).gather()
        };
        let boards = summary.shown.iter().flat_map(of).gather();
        Begun::new(self.frozen(boards, shop))
    }

    /// What these boards are cut from, and what for.
    fn frozen(&self, boards: Vec<KeptBoard>, shop: &Shop) -> Frozen {
        let cut: BTreeSet<u32> =
            boards.iter().flat_map(|b| b.parts.iter().map(|p| p.entry)).collect();
        let parts = self.parts.iter().filter(|e| cut.contains(&e.id)).cloned().gather();
        let used = |id: u32| {
            let of = |e: &&crate::cutlist::Entry| e.from.as_ref().is_some_and(|f| f.source == id);
            parts.iter().any(|e| of(&e))
        };
        let made = |p: &&Piece| parts.iter().any(|e| e.piece == p.id);
        let stocks: BTreeSet<u32> = boards.iter().map(|b| b.stock).collect();
        let own = self.rack.stocks.iter().filter(|s| stocks.contains(&s.id));
        Frozen {
            pieces: self.pieces.iter().filter(made).cloned().gather(),
            sources: self.sources.iter().filter(|s| used(s.id)).cloned().gather(),
            rack: Rack { stocks: own.cloned().gather(), ..self.rack.clone() },
            shop: shop.clone(),
            boards,
            parts,
        }
    }

    /// What was cut counts as cut, and the rack holds what is left.
    fn end_run(&mut self, outcome: Outcome) {
        let Some(run) = self.begun.take() else { return };
        for ((entry, mirrored), count) in outcome.made {
            let Some(e) = self.parts.iter_mut().find(|e| e.id == entry) else { continue };
            let made = if mirrored { &mut e.made_mirrored } else { &mut e.made };
            *made = made.saturating_add(count);
            let of = e.made.saturating_add(e.made_mirrored);
            let times = run.of.pieces.iter().find(|p| p.id == e.piece).map_or(1, Piece::times);
            e.done |= of >= e.count.saturating_mul(times);
        }
        let was = run.rack();
        for away in outcome.put_away {
            let away = self.as_it_stands(away, &was);
            self.put_away(away);
        }
    }

    /// Rows of the rack as it was, found again as it stands now; those that are gone are left out.
    fn as_it_stands(&self, away: PutAway, was: &Rack) -> PutAway {
        let (then, now) = (was.stock(away.stock), self.rack.stock(away.stock));
        let (Some(then), Some(now)) = (then, now) else {
            return PutAway { stock: away.stock, kept: away.kept, ..PutAway::default() };
        };
        let owned = |i: &usize| {
            let bare = |o: &Owned| Owned { count: 0, note: String::new(), ..o.clone() };
            let row = bare(then.owned.get(*i)?);
            now.owned.iter().position(|o| bare(o) == row)
        };
        let sold = |i: &usize| {
            let row = then.sold.get(*i)?;
            now.sold.iter().position(|s| (s.length, s.over) == (row.length, row.over))
        };
        let bought = away.bought.iter().filter_map(|(i, n)| Some((sold(i)?, *n))).gather();
        let cut = away.cut.iter().filter_map(|(i, n)| Some((owned(i)?, *n))).gather();
        PutAway { bought, cut, ..away }
    }
}
