//! A run at the saw that is begun: what is cut, as it stood then, and how far it has come.
//!
//! Nothing that is changed elsewhere changes it under the maker's hands. Boards are numbered as they come: those of the
//! start, then those that were planned anew for what was skipped; such boards make a new round together with the boards
//! that were whole by then. A round's steps are put in order once, over all of its boards.

use super::made::Piece;
use super::shop::Shop;
use super::source::Source;
use crate::cutlist::{Entry, Jobs, KeptBoard, Planned, PutAway, Then, left_of};
use crate::rack::{Owned, Rack};
use offsquare_units::num::Gather;
use offsquare_units::{Length, kept};
use std::collections::BTreeMap;
use std::rc::Rc;

/// Most steps of a run that are kept as done.
pub const MOST_TICKS: usize = 50_000;

/// What a run cuts, as it stood at its start.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Frozen {
    pub pieces: Vec<Piece>,
    pub parts: Vec<Entry>,
    pub sources: Vec<Source>,
    pub rack: Rack,
    pub shop: Shop,
    pub boards: Vec<KeptBoard>,
}

/// One step of a run, whatever the order in which the steps come.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Tick {
    /// Number of the board, from 0.
    pub board: u32,
    /// The cut, counted from the board's left end; at the bench the place of its part on the board.
    pub at: u32,
    /// 0: a cut of the board; n: the part's nth work at the bench.
    pub work: u32,
}
kept!(Tick { board, at, work });

/// Why something is skipped.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Reason {
    #[default]
    Knot,
    Miscut,
    /// The board is split or warped.
    Board,
}
kept!(Reason: Knot = "knot", Miscut = "miscut", Board = "board");

/// What is left of a board, back on the rack while the run goes on.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Spare {
    /// Id of the stock.
    pub stock: u32,
    pub length: Length,
    /// Number of the board that it is left of.
    pub from: u32,
}

/// Parts that were skipped, and where they are cut now.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Skip {
    /// How many steps were done then.
    pub after: u32,
    pub reason: Reason,
    /// Board and place of each part.
    pub places: Vec<(u32, u32)>,
    /// It is not planned anew yet.
    pub open: bool,
    /// Boards that cut them now; none where no board is left for them.
    pub boards: Vec<KeptBoard>,
    /// What of them is left of boards of this run.
    pub spare: Vec<Spare>,
}

/// New boards for what was skipped.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Replanned {
    pub boards: Vec<KeptBoard>,
    pub spare: Vec<Spare>,
}

/// What a run has come to.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Outcome {
    /// What happens to the rack, in the rows that it had at the start.
    pub put_away: Vec<PutAway>,
    /// By entry, and whether they are mirror images: how many single parts are finished.
    pub made: BTreeMap<(u32, bool), u32>,
}

/// A run that is begun.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Begun {
    pub of: Rc<Frozen>,
    /// Steps that are done, in the order in which they were.
    pub done: Vec<Tick>,
    pub skips: Vec<Skip>,
}

impl Begun {
    pub fn new(of: Frozen) -> Begun {
        Begun { of: Rc::new(of), ..Begun::default() }
    }

    /// All boards, by their numbers.
    pub fn boards(&self) -> impl Iterator<Item = &KeptBoard> {
        self.of.boards.iter().chain(self.skips.iter().flat_map(|s| &s.boards))
    }

    pub fn is_lost(&self, board: u32, place: u32) -> bool {
        self.skips.iter().any(|s| s.places.contains(&(board, place)))
    }

    /// What was skipped and is not planned anew yet.
    pub fn open(&self) -> Option<&Skip> {
        self.skips.last().filter(|s| s.open)
    }

    pub(super) fn tick(&mut self, tick: Tick) {
        if !self.done.contains(&tick) && self.done.len() < MOST_TICKS {
            self.done.push(tick);
        }
    }

    /// Takes back the newest tick, or the newest skip if that is newer.
    pub(super) fn untick(&mut self) {
        match self.skips.last() {
            Some(skip) if skip.after as usize >= self.done.len() => drop(self.skips.pop()),
            _ => drop(self.done.pop()),
        }
    }

    pub(super) fn skip(&mut self, reason: Reason, places: Vec<(u32, u32)>) {
        let new: Vec<(u32, u32)> =
            places.into_iter().filter(|(b, p)| !self.is_lost(*b, *p)).gather();
        if new.is_empty() {
            return;
        }
        let after = self.done.len() as u32;
        match self.skips.last_mut().filter(|s| s.open) {
            // The plan for the one before is not here yet: one plan for both.
            Some(last) => {
                last.places.extend(new);
                (last.after, last.reason) = (after, reason);
            }
            None => {
                let skip = Skip { after, reason, places: new, open: true, ..Skip::default() };
                self.skips.push(skip);
            }
        }
    }

    pub(super) fn replanned(&mut self, new: Replanned) {
        if let Some(skip) = self.skips.last_mut().filter(|s| s.open) {
            (skip.open, skip.boards, skip.spare) = (false, new.boards, new.spare);
        }
    }

    /// The rack as it was, with what is left of boards of this run.
    pub fn rack(&self) -> Rack {
        self.rack_with(self.skips.iter().flat_map(|s| &s.spare))
    }

    fn rack_with<'s>(&self, spares: impl Iterator<Item = &'s Spare>) -> Rack {
        let mut rack = self.of.rack.clone();
        for spare in spares {
            let Some(stock) = rack.stock_mut(spare.stock) else { continue };
            // With the stock's own trims all boards stay alike to the planner.
            let new = Owned {
                length: spare.length,
                count: 1,
                trim_left: stock.trim_left,
                trim_right: stock.trim_right,
                ..Owned::default()
            };
            let like = |o: &&mut Owned| {
                let same = Owned { count: 1, note: String::new(), ..(*o).clone() } == new;
                same && o.count > 0
            };
            match stock.owned.iter_mut().find(like) {
                Some(o) => o.count += 1,
                None => stock.owned.push(new),
            }
        }
        rack
    }

    fn planned(&self, rack: &Rack, kept: &[KeptBoard]) -> Jobs {
        let times =
            |e: &Entry| self.of.pieces.iter().find(|p| p.id == e.piece).map_or(0, Piece::times);
        Jobs::planned(&self.of.parts, rack, self.of.shop.saw.kerf, &times, kept)
    }

    /// Everything that is cut, by stock.
    pub fn jobs(&self) -> Jobs {
        self.planned(&self.rack(), &[])
    }

    /// What was skipped, to be planned beside all other boards as they are, with what is left of the boards that
    /// were begun. None where nothing waits for it.
    pub fn open_jobs(&self) -> Option<Jobs> {
        self.open()?;
        let all = self.jobs();
        let spares = self.spares(&all);
        let used = self.skips.iter().flat_map(|s| &s.spare);
        let mut rack = self.rack_with(used.chain(&spares));
        let mut kept = Vec::new();
        for (i, board) in self.boards().enumerate() {
            let mut board = board.clone();
            for place in (0..board.parts.len()).rev() {
                if self.is_lost(i as u32, place as u32) {
                    take_out(&mut board, place);
                }
            }
            match board.parts.is_empty() {
                true => use_up(&mut rack, &board),
                false => kept.push(board),
            }
        }
        Some(self.planned(&rack, &kept))
    }

    /// What is left of boards that were begun, and was not planned with yet.
    fn spares(&self, jobs: &Jobs) -> Vec<Spare> {
        let known = |i: u32| self.skips.iter().flat_map(|s| &s.spare).any(|s| s.from == i);
        let mut out = Vec::new();
        for (i, board) in self.boards().enumerate() {
            let i = i as u32;
            let begun = self.done.iter().any(|t| t.board == i);
            let last_is_lost = self.is_lost(i, board.parts.len().saturating_sub(1) as u32);
            let job = jobs.jobs.iter().find(|j| j.stock == board.stock && !j.is_ripped());
            let Some((job, cut)) = job.and_then(|j| Some((j, j.lies(board)?))) else { continue };
            let stock = self.of.rack.stock(board.stock);
            let left = left_of(job, &cut, stock, self.of.rack.keep);
            if begun && !last_is_lost && !known(i) && left.keep {
                out.push(Spare { stock: board.stock, length: left.length, from: i });
            }
        }
        out
    }

    /// The plan for what was skipped, as the run takes it in: no boards for what has no plan. `jobs` are those of
    /// [`Begun::open_jobs`].
    pub fn taking(&self, jobs: &Jobs, planned: &Planned) -> Replanned {
        let mut out = Replanned::default();
        if jobs.troubles.iter().any(|t| t.kept.is_some()) {
            return out;
        }
        let mut spares = self.spares(&self.jobs());
        for (i, job) in jobs.jobs.iter().enumerate() {
            let Some(plan) = planned.plan(i, false) else { continue };
            for cut in &plan.boards {
                let board = job.to_keep(cut);
                let is =
                    |s: &Spare| s.stock == board.stock && (s.length - board.length).abs().0 <= 1e-9;
                if board.owned
                    && let Some(at) = spares.iter().position(is)
                {
                    out.spare.push(spares.remove(at));
                }
                out.boards.push(board);
            }
        }
        out
    }
}

/// A part off a kept board: what is left of its place falls off.
fn take_out(board: &mut KeptBoard, place: usize) {
    board.parts.remove(place);
    for piece in &mut board.cuts {
        match &mut piece.then {
            Then::Part(p) if *p == place => piece.then = Then::Rest,
            Then::Part(p) if *p > place => *p -= 1,
            _ => {}
        }
    }
}

/// A board of the rack that gives nothing.
fn use_up(rack: &mut Rack, board: &KeptBoard) {
    let Some(stock) = rack.stock_mut(board.stock) else { return };
    let is = |length: Length| (length - board.length).abs().0 <= 1e-9;
    if board.owned {
        let owned = stock.owned.iter_mut().find(|o| is(o.length) && o.count > 0);
        owned.into_iter().for_each(|o| o.count -= 1);
    } else if let Some(sold) = stock.sold.iter_mut().find(|s| is(s.length + s.over)) {
        sold.left = sold.left.map(|n| n.saturating_sub(1));
    }
}
