//! From parts list and rack to the planner's jobs: one a stock.
//!
//! A job is planned in inches and whole cents. Its one seen size is the one in which most of its
//! mitered parts lie; ends in the other plane, bevelled and compound ends go in as square. Trims and
//! bad stretches are taken out beforehand, because the planner knows one trim for all boards.
//!
//! One planner job a stock. Its seen size is the one in which most mitered parts lie; ends in the other plane go in as
//! square. Stock with a part narrower than itself is planned in strips, all of its parts as rectangles.
//!
//! A stock with `sheet` is planned by the same planner as a sheet: a part is its length by its size seen, its
//! thickness within 1/16 in; `trim_left` holds on all four edges, of offcuts (`width` of an owned one) too.

use super::job::{Job, JobPart, Jobs, Origin, RipJob, Trouble, boards_of};
use super::rip_job::rip_width;
use super::{BlankCut, Entry, Hand, KeptBoard, PartEnd};
use crate::rack::{Lies, Rack, Stock};
use offsquare_planner::{CutBoard, Instance, PartKind, Placement, ends};
use offsquare_units::num::Gather;
use offsquare_units::{Length, Text, say};

fn trouble(entry: &Entry, stops: bool, text: Text) -> Trouble {
    Trouble { entry: Some(entry.id), kept: None, stops, text }
}

impl Jobs {
    /// Whether every length of every stock that is cut has a price.
    pub fn are_priced(&self) -> bool {
        self.jobs.iter().all(|j| j.no_price.is_empty())
            && self.rips.iter().all(|j| j.no_price.is_empty())
    }

    /// The jobs for `batch` pieces of everything that is not cut yet; `kerf` is the saw's.
    pub fn of(
        entries: &[Entry],
        rack: &Rack,
        kerf: Length,
        batch: u32,
        kept: &[KeptBoard],
    ) -> Jobs {
        let mut out = Jobs::default();
        let open: Vec<&Entry> = entries.iter().filter(|e| !e.done && e.count > 0).gather();
        for entry in &open {
            let known = rack.stock_of(entry.stock);
            if known.is_none() {
                out.troubles.push(trouble(
                    entry,
                    true,
                    say!(format!("{}: pick the stock that it is cut from.", entry.called())),
                ));
            }
        }
        for stock in &rack.stocks {
            let own: Vec<&Entry> =
                open.iter().copied().filter(|e| e.stock == Some(stock.id)).gather();
            if !own.is_empty() {
                out.add(stock, &own, rack.tax, kerf, batch.max(1), kept);
            }
        }
        // A kept board whose stock has no parts left holds nothing.
        for (i, k) in kept.iter().enumerate() {
            let sticks = out.jobs.iter().map(|j| j.stock);
            let mut stocks = sticks.chain(out.rips.iter().map(|j| j.stock));
            if !stocks.any(|s| s == k.stock) {
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
        tax: u32,
        kerf: Length,
        batch: u32,
        kept: &[KeptBoard],
    ) {
        let own: Vec<&Entry> = own.iter().copied().filter(|e| self.fits(stock, e)).gather();
        // One narrower part, and the stock's boards are ripped: all of its parts are laid out so.
        if own.iter().any(|e| stock.lies(e.seen, e.away).is_none()) {
            let mut job = RipJob::of(stock, &own, tax, kerf, batch);
            for (i, k) in kept.iter().enumerate().filter(|k| k.1.stock == stock.id) {
                if !job.keep(i, k) {
                    self.lost(i);
                }
            }
            self.rips.push(job);
            return;
        }
        let own = own.as_slice();
        let plane = plane(stock, own);
        let width = match plane {
            Lies::Flat => stock.width,
            Lies::OnEdge => stock.thickness,
        };
        let (boards, kinds, trim) = boards_of(stock, tax);
        let mut job = Job {
            stock: stock.id,
            name: stock.name.clone(),
            instance: Instance {
                width: width.0,
                kerf: kerf.0,
                trim,
                boards: kinds,
                parts: Vec::new(),
            },
            rest: Instance {
                width: width.0,
                kerf: kerf.0,
                trim,
                boards: Vec::new(),
                parts: Vec::new(),
            },
            each: Vec::new(),
            gives: Vec::new(),
            no_price: stock.without_price(tax),
            boards,
            parts: Vec::new(),
            on_blank: Vec::new(),
            kept: Vec::new(),
        };
        for entry in own {
            self.add_part(&mut job, stock, entry, plane, batch);
        }
        job.rest = job.instance.clone();
        if !job.parts.is_empty() {
            for (i, k) in kept.iter().enumerate().filter(|k| k.1.stock == stock.id) {
                if !job.keep(i, k) {
                    self.lost(i);
                }
            }
            self.jobs.push(job);
        }
    }

    /// Whether a part can be cut from the stock at all; says why not.
    fn fits(&mut self, stock: &Stock, entry: &Entry) -> bool {
        let fits =
            rip_width(stock, entry).is_some() || stock.lies(entry.seen, entry.away).is_some();
        if !fits && stock.sheet && entry.seen.is_none() {
            let called = entry.called();
            let text = format!("{called}: give its size seen, which is its width on the sheet.");
            self.troubles.push(trouble(entry, true, say!(text)));
        } else if !fits {
            self.troubles.push(trouble(
                entry,
                true,
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

    /// Puts an entry's parts into a job, or says why not.
    fn add_part(&mut self, job: &mut Job, stock: &Stock, entry: &Entry, plane: Lies, batch: u32) {
        let lies = stock.lies(entry.seen, entry.away);
        let nests = lies == Some(plane);
        let end = |e: &PartEnd| {
            if nests && e.is_plain() {
                (e.miter, 0.0)
            } else {
                (0.0, e.as_square(job.instance.kerf))
            }
        };
        let ((left, more_left), (right, more_right)) = (end(&entry.left), end(&entry.right));
        let mut kind = PartKind {
            id: String::new(),
            qty: u64::from(entry.count),
            length: entry.cut_length().0 + more_left + more_right,
            left,
            right,
            one_good_face: entry.one_good_face,
        };
        let w = job.instance.width;
        let (ol, or) = (ends::reach(w, left), ends::reach(w, right));
        let least = (-ol.min(0.0) - or.min(0.0)).max(ol.max(0.0) + or.max(0.0));
        if kind.length < least - 1e-9 || kind.length <= 0.0 {
            self.troubles.push(trouble(
                entry,
                true,
                say!(
                    "{}{} long.",
                    format!(
                        "{}: its two ends cross. With these angles it is at least ",
                        entry.called()
                    ),
                    Length(least)
                ),
            ));
            return;
        }
        let wide = entry.seen.unwrap_or(stock.width).0;
        let on_blank = entry.cuts_on_blank(nests, stock.width);
        let mut push = |kind: PartKind, mirrored: bool| {
            let lies = |c: &BlankCut| if mirrored { c.mirrored(wide) } else { c.clone() };
            job.on_blank.push(on_blank.iter().map(lies).gather());
            job.each.push(kind.qty);
            job.gives.push(entry.give.0 - entry.shortened.0);
            job.parts.push(JobPart { entry: entry.id, mirrored });
            let id = job.instance.parts.len().to_string();
            job.instance.parts.push(PartKind { id, qty: kind.qty * u64::from(batch), ..kind });
        };
        // Mirror images differ only where the part must not be flipped.
        if entry.hand == Hand::Pairs && entry.one_good_face && entry.count > 1 {
            let other = kind.qty / 2;
            kind.qty -= other;
            let mirror = PartKind {
                id: format!("{}m", entry.id),
                qty: other,
                left: -left + 0.0,
                right: -right + 0.0,
                ..kind.clone()
            };
            push(kind, false);
            push(mirror, true);
        } else {
            push(kind, false);
        }
    }
}

/// The plane in which most mitered parts lie; flat where none are mitered.
fn plane(stock: &Stock, own: &[&Entry]) -> Lies {
    let mut votes = [0u64; 2];
    for e in own {
        let plain = |end: &PartEnd| end.is_plain() && !end.is_square();
        if !(plain(&e.left) || plain(&e.right)) {
            continue;
        }
        match stock.lies(e.seen, e.away) {
            Some(Lies::Flat) => votes[0] += u64::from(e.count),
            Some(Lies::OnEdge) => votes[1] += u64::from(e.count),
            None => {}
        }
    }
    if votes[1] > votes[0] { Lies::OnEdge } else { Lies::Flat }
}

impl Job {
    /// Takes a kept board out of what is left to plan; false where it no longer holds.
    fn keep(&mut self, index: usize, kept: &KeptBoard) -> bool {
        let near = |a: f64, b: f64| (a - b).abs() <= 1e-9;
        // A board that was ripped is none of sticks.
        if !kept.cuts.is_empty() {
            return false;
        }
        let Some(board) = self.boards.iter().position(|b| {
            matches!(b.origin, Origin::Owned(_)) == kept.owned
                && near(b.length.0, kept.length.0)
                && near(b.start, kept.start)
        }) else {
            return false;
        };
        if !near(self.instance.width, kept.width) || self.rest.boards[board].limit == Some(0) {
            return false;
        }
        let mut rest = self.rest.clone();
        let mut parts = Vec::new();
        for k in &kept.parts {
            let Some(part) = self.parts.iter().enumerate().position(|(i, p)| {
                let kind = &self.instance.parts[i];
                p.entry == k.entry
                    && p.mirrored == k.mirrored
                    && near(kind.length, k.length)
                    && kind.left == k.left
                    && kind.right == k.right
                    && !(k.flipped && kind.one_good_face)
            }) else {
                return false;
            };
            if rest.parts[part].qty == 0 {
                return false;
            }
            rest.parts[part].qty -= 1;
            parts.push(Placement {
                part,
                turned: k.turned,
                flipped: k.flipped,
                x: k.x - kept.start,
            });
        }
        if let Some(limit) = &mut rest.boards[board].limit {
            *limit -= 1;
        }
        // The saw's kerf or a trim may have changed since.
        let cut = CutBoard { board, parts };
        let mut alone = self.instance.clone();
        for (i, p) in alone.parts.iter_mut().enumerate() {
            p.qty = cut.parts.iter().filter(|q| q.part == i).count() as u64;
        }
        if offsquare_planner::verify(&alone, core::slice::from_ref(&cut)).is_err() {
            return false;
        }
        self.rest = rest;
        self.kept.push((index, cut));
        true
    }

    /// A board of this job as it can be kept.
    pub fn to_keep(&self, cut: &CutBoard) -> KeptBoard {
        let board = &self.boards[cut.board];
        KeptBoard {
            stock: self.stock,
            owned: matches!(board.origin, Origin::Owned(_)),
            length: board.length,
            start: board.start,
            width: self.instance.width,
            cuts: Vec::new(),
            parts: cut
                .parts
                .iter()
                .map(|p| {
                    let kind = &self.instance.parts[p.part];
                    super::KeptPart {
                        entry: self.parts[p.part].entry,
                        mirrored: self.parts[p.part].mirrored,
                        turned: p.turned,
                        flipped: p.flipped,
                        x: p.x + board.start,
                        y: 0.0,
                        wide: 0.0,
                        length: kind.length,
                        left: kind.left,
                        right: kind.right,
                    }
                })
                .gather(),
        }
    }
}
