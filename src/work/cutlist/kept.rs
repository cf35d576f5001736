//! Boards that are held as they are when something else changes.

use super::job::{Instance, Job};
use offsquare_planner::guillotine::Piece;
use offsquare_planner::{CutBoard, Placement};
use offsquare_units::Length;
use offsquare_units::num::Gather;

/// One part on a kept board: which entry, how it lies, and the size it had.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct KeptPart {
    pub entry: u32,
    pub mirrored: bool,
    pub turned: bool,
    pub flipped: bool,
    /// Its least x from the board's left end, in inches.
    pub x: f64,
    /// On a ripped board: its least y, and how wide it is.
    pub y: f64,
    pub wide: f64,
    pub length: f64,
    pub left: f64,
    pub right: f64,
}

/// A board that stays as it is.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct KeptBoard {
    /// Id of the stock.
    pub stock: u32,
    pub owned: bool,
    pub length: Length,
    /// Where its usable stretch begins, in inches.
    pub start: f64,
    /// The seen size of its plan, in inches; of a ripped board its width.
    pub width: f64,
    /// Of a ripped board: its tree of cuts.
    pub cuts: Vec<Piece>,
    pub parts: Vec<KeptPart>,
}

/// Sizes that are the same, in inches.
fn near(a: f64, b: f64) -> bool {
    (a - b).abs() <= 1e-9
}

impl Job {
    /// What a kept board's width and the places on it are counted from: sticks know one seen size, and are
    /// kept with places on the whole board.
    fn frame(&self, board: usize) -> (f64, f64) {
        let lies = &self.boards[board];
        match &self.instance {
            Instance::Sticks(job) => (job.width, lies.start),
            Instance::Rectangles(_) => (lies.width.0, 0.0),
        }
    }

    /// A part kind of this job at a place, as it can be kept.
    fn to_keep_part(&self, p: &Placement, start: f64) -> KeptPart {
        let part = &self.parts[p.part];
        let kept = KeptPart {
            entry: part.entry,
            mirrored: part.mirrored,
            turned: p.turned,
            flipped: p.flipped,
            x: p.x + start,
            y: p.y,
            ..KeptPart::default()
        };
        match &self.instance {
            Instance::Sticks(job) => {
                let kind = &job.parts[p.part];
                KeptPart { length: kind.length, left: kind.left, right: kind.right, ..kept }
            }
            Instance::Rectangles(job) => {
                let kind = &job.parts[p.part];
                KeptPart { length: kind.length, wide: kind.width, ..kept }
            }
        }
    }

    /// A board of this job as it can be kept.
    pub fn to_keep(&self, cut: &CutBoard) -> KeptBoard {
        let board = &self.boards[cut.board];
        let (width, start) = self.frame(cut.board);
        KeptBoard {
            stock: self.stock,
            owned: board.is_owned(),
            length: board.length,
            start: board.start,
            width,
            cuts: cut.pieces.clone(),
            parts: cut.parts.iter().map(|p| self.to_keep_part(p, start)).gather(),
        }
    }

    /// Takes a kept board out of what is left to plan; false where it no longer holds.
    pub(super) fn keep(&mut self, index: usize, kept: &KeptBoard) -> bool {
        let Some(cut) = self.held(kept) else { return false };
        let mut counts = self.rest.wanted();
        for p in &cut.parts {
            *counts[p.part] -= 1;
        }
        if let Some(limit) = self.rest.limit(cut.board) {
            *limit -= 1;
        }
        self.kept.push((index, cut));
        true
    }

    /// A kept board as this job has it, however often its parts are wanted; none where the board or one of its parts
    /// is no longer here.
    pub fn lies(&self, kept: &KeptBoard) -> Option<CutBoard> {
        let board = (0..self.boards.len()).find(|&i| {
            let b = &self.boards[i];
            b.is_owned() == kept.owned
                && near(b.length.0, kept.length.0)
                && near(self.frame(i).0, kept.width)
                && near(b.start, kept.start)
        })?;
        // A board that was ripped is none of sticks.
        if !self.is_ripped() && !kept.cuts.is_empty() {
            return None;
        }
        let start = self.frame(board).1;
        let mut parts = Vec::new();
        for k in &kept.parts {
            let part = (0..self.parts.len()).find(|&part| {
                let is = self.to_keep_part(&Placement { part, ..Placement::default() }, 0.0);
                (is.entry, is.mirrored, is.left, is.right) == (k.entry, k.mirrored, k.left, k.right)
                    && near(is.length, k.length)
                    && near(is.wide, k.wide)
            })?;
            let (turned, flipped) = (k.turned, k.flipped);
            parts.push(Placement { part, turned, flipped, x: k.x - start, y: k.y });
        }
        Some(CutBoard { board, parts, pieces: kept.cuts.clone() })
    }

    /// A kept board as the plan has it; none where it no longer holds.
    fn held(&self, kept: &KeptBoard) -> Option<CutBoard> {
        let cut = self.lies(kept)?;
        // The board alone, with what of its parts is still wanted.
        let mut alone = self.rest.clone();
        let mut counts = alone.wanted();
        let left: Vec<u64> = counts.iter_mut().map(|n| core::mem::take(*n)).gather();
        for p in &cut.parts {
            *counts[p.part] += 1;
            if *counts[p.part] > left[p.part] {
                return None;
            }
        }
        // The supply, the saw's kerf or a trim may have changed since.
        alone.verify(core::slice::from_ref(&cut)).is_ok().then_some(cut)
    }
}
