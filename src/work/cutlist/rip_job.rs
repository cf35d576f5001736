//! The job of a stock whose parts are rectangles: ripped from boards, or cut from sheets.

use super::job::{Board, JobPart, Origin, RipJob, boards_of};
use super::planned::Close;
use super::{Entry, Grain, KeptBoard, KeptPart};
use crate::rack::Stock;
use offsquare_planner::guillotine::{
    self, BoardKind, CutBoard, CutKind, Instance, PartKind, Placement,
};
use offsquare_units::Length;
use offsquare_units::num::Gather;

/// How far a part's thickness may be from its sheet's, in inches: nominal 3/4 from measured 0.703.
const SAME_SHEET: f64 = 1.0 / 16.0 + 1e-9;

/// Across the board's width: the size of a part that is ripped; none where the part is larger than the
/// stock whichever way it lies.
pub(super) fn rip_width(stock: &Stock, entry: &Entry) -> Option<Length> {
    let fits = |a: Length, b: Length| a.0 <= b.0 + 1.0 / 32.0;
    if stock.sheet {
        let thick =
            |l: Option<Length>| l.is_none_or(|l| (l - stock.thickness).abs().0 <= SAME_SHEET);
        return match (entry.seen, entry.away) {
            (Some(seen), away) if thick(away) => Some(seen),
            (seen @ Some(_), Some(away)) if thick(seen) => Some(away),
            _ => None,
        };
    }
    let (seen, away) = (entry.seen.unwrap_or(stock.width), entry.away.unwrap_or(stock.thickness));
    if fits(seen, stock.width) && fits(away, stock.thickness) {
        Some(seen.min(stock.width))
    } else if fits(seen, stock.thickness) && fits(away, stock.width) {
        Some(away.min(stock.width))
    } else {
        None
    }
}

impl RipJob {
    pub fn is_sheet(&self) -> bool {
        self.instance.cut == CutKind::Sheets
    }
    pub(super) fn board(&self) -> &'static str {
        if self.is_sheet() { "sheet" } else { "board" }
    }
    pub(super) fn of(stock: &Stock, own: &[&Entry], tax: u32, kerf: Length, batch: u32) -> RipJob {
        let (boards, kinds, trim) = boards_of(stock, tax);
        let cut = if stock.sheet { CutKind::Sheets } else { CutKind::Strips };
        let mut instance = Instance::bare(cut, kerf.0, trim);
        let wide = |(k, b): (offsquare_planner::BoardKind, &Board)| BoardKind {
            id: k.id,
            length: k.length,
            width: b.width.0,
            price: k.price,
            limit: k.limit,
        };
        instance.boards = kinds.into_iter().zip(&boards).map(wide).gather();
        let mut job = RipJob {
            stock: stock.id,
            name: stock.name.clone(),
            rest: Instance::bare(cut, kerf.0, trim),
            instance,
            each: Vec::new(),
            gives: Vec::new(),
            across: Vec::new(),
            no_price: stock.without_price(tax),
            boards,
            parts: Vec::new(),
            on_blank: Vec::new(),
            kept: Vec::new(),
        };
        for entry in own {
            let Some(width) = rip_width(stock, entry) else {
                continue;
            };
            let long = entry.cut_length().0
                + if stock.sheet {
                    0.0
                } else {
                    entry.left.as_square(kerf.0) + entry.right.as_square(kerf.0)
                };
            let wide = (width - entry.narrowed).0.max(width.0 * 0.1);
            let across = entry.grain == Grain::Across;
            let (length, width) = if across { (wide, long) } else { (long, wide) };
            job.across.push(across);
            let give = |used: Length, size: f64| (entry.give - used).0.min(0.9 * size).max(0.0);
            job.gives.push((give(entry.shortened, long), give(entry.narrowed, wide)));
            job.each.push(u64::from(entry.count));
            job.parts.push(JobPart { entry: entry.id, mirrored: false });
            job.on_blank.push(entry.cuts_on_blank(false, stock.width));
            job.instance.parts.push(PartKind {
                id: entry.id.to_string(),
                qty: u64::from(entry.count) * u64::from(batch),
                length,
                width,
                grain: match entry.grain {
                    Grain::Either => guillotine::Grain::Free,
                    _ => guillotine::Grain::Along,
                },
            });
        }
        job.rest = job.instance.clone();
        job
    }

    /// By part, how much shorter and how much narrower it is cut so that all of them nearly fit.
    pub fn given(&self, close: &Close) -> Vec<(f64, f64)> {
        let of = |on: bool, give: f64| if on { close.by.0.min(give) } else { 0.0 };
        self.gives.iter().map(|g| (of(close.long, g.0), of(close.wide, g.1))).gather()
    }

    /// Takes a kept board out of what is left to plan; false where it no longer holds.
    pub(super) fn keep(&mut self, index: usize, kept: &KeptBoard) -> bool {
        let near = |a: f64, b: f64| (a - b).abs() <= 1e-9;
        let Some(board) = self.boards.iter().position(|b| {
            matches!(b.origin, Origin::Owned(_)) == kept.owned
                && near(b.length.0, kept.length.0)
                && near(b.width.0, kept.width)
                && near(b.start, kept.start)
        }) else {
            return false;
        };
        let mut cut = CutBoard { board, parts: Vec::new(), pieces: kept.cuts.clone() };
        // The board alone, with what of its parts is still wanted.
        let mut alone = self.rest.clone();
        for p in &mut alone.parts {
            p.qty = 0;
        }
        let mut rest = self.rest.clone();
        for k in &kept.parts {
            let Some(part) = self.parts.iter().zip(&rest.parts).position(|(p, kind)| {
                p.entry == k.entry
                    && near(kind.length, k.length)
                    && near(kind.width, k.wide)
                    && kind.qty > 0
            }) else {
                return false;
            };
            rest.parts[part].qty -= 1;
            alone.parts[part].qty += 1;
            cut.parts.push(Placement { part, turned: k.turned, x: k.x, y: k.y });
        }
        // The supply, the saw's kerf or a trim may have changed since.
        if guillotine::verify(&alone, core::slice::from_ref(&cut)).is_err() {
            return false;
        }
        if let Some(limit) = &mut rest.boards[board].limit {
            *limit -= 1;
        }
        self.rest = rest;
        self.kept.push((index, cut));
        true
    }

    /// A board of this job as it can be kept.
    pub fn to_keep(&self, cut: &CutBoard) -> KeptBoard {
        let board = &self.boards[cut.board];
        let part = |p: &Placement| KeptPart {
            entry: self.parts[p.part].entry,
            turned: p.turned,
            x: p.x,
            y: p.y,
            length: self.instance.parts[p.part].length,
            wide: self.instance.parts[p.part].width,
            ..KeptPart::default()
        };
        KeptBoard {
            stock: self.stock,
            owned: matches!(board.origin, Origin::Owned(_)),
            length: board.length,
            start: board.start,
            width: board.width.0,
            cuts: cut.pieces.clone(),
            parts: cut.parts.iter().map(part).gather(),
        }
    }
}
