//! What is to be made: the parts list with the layouts that it follows, the rack, and the choices made
//! on the way to boards. Screens send [`WorkEdit`]s; nothing else changes it.

use super::begun::Begun;
use super::edit::WorkEdit;
use super::made::{MOST_PICTURES, Piece};
use super::shared::Shared;
use super::shop::Shop;
use super::source::Source;
use crate::cutlist::{
    Entry, Jobs, KeptBoard, NearlyFits, Pasted, Planned, Summary, no_room, paste_into,
};
use crate::price::{Opened, Rates};
use crate::rack::{Ids, Rack, Written};
use offsquare_units::num::Gather;
use offsquare_units::{Length, Unit, grouped};
use std::collections::BTreeSet;

/// Everything from parts to boards.
#[derive(Clone, Debug, PartialEq)]
pub struct Work {
    /// What is made; *Loose parts* stands first, always.
    pub pieces: Shared<Piece>,
    /// The parts of all pieces.
    pub parts: Shared<Entry>,
    pub sources: Shared<Source>,
    pub rack: Rack,
    /// The plain plan is the one that is cut.
    pub plain: bool,
    pub kept: Vec<KeptBoard>,
    /// The run at the saw that is begun.
    pub begun: Option<Begun>,
    /// The maker's usual figures for prices.
    pub rates: Rates,
    /// Packs and cans that are opened and not used up.
    pub shelf: Vec<Opened>,
    /// Where this tab's new ids begin; not stored, and not compared.
    pub ids: Ids,
}

impl Default for Work {
    fn default() -> Work {
        Work {
            pieces: vec![Piece::default()].into(),
            parts: Shared::default(),
            sources: Shared::default(),
            rack: Rack::default(),
            plain: false,
            kept: Vec::new(),
            begun: None,
            rates: Rates::default(),
            shelf: Vec::new(),
            ids: Ids::default(),
        }
    }
}

/// Most layouts that a list follows, each solved again when the saw changes.
pub const MOST_SOURCES: usize = 1_000;

impl Work {
    /// From now on new rows get ids of this tab.
    pub fn set_ids(&mut self, ids: Ids) {
        (self.ids, self.rack.ids) = (ids, ids);
    }

    pub fn part(&self, id: u32) -> Option<&Entry> {
        self.parts.iter().find(|e| e.id == id)
    }

    /// The planner's jobs for all that is planned: one buy, each piece as often as it is made.
    pub fn jobs(&self, shop: &Shop) -> Jobs {
        let times = |e: &Entry| self.piece(e.piece).map_or(0, Piece::times);
        Jobs::planned(&self.parts, &self.rack, shop.saw.kerf, &times, &self.kept)
    }

    /// Those of one piece, made so often, all of it anew, and bought by itself.
    pub fn jobs_of(&self, piece: u32, times: u32, shop: &Shop) -> Jobs {
        let anew = |e: &Entry| Entry { done: false, ..e.clone() };
        let parts = self.parts_of(piece).map(anew).gather();
        Jobs::planned(&parts, &self.rack, shop.saw.kerf, &|_| times, &[])
    }

    /// The jobs in which a piece's price finds its boards: those of the buy, or its own where it takes no part in it, or
    /// is cut already.
    pub fn jobs_priced(&self, piece: &Piece, shop: &Shop) -> Jobs {
        match self.is_bought(piece) {
            true => self.jobs(shop),
            false => self.jobs_of(piece.id, piece.batch, shop),
        }
    }

    /// Whether a piece is in the buy, and none of it is cut yet.
    pub(super) fn is_bought(&self, piece: &Piece) -> bool {
        piece.planned && !self.parts_of(piece.id).any(|e| e.done)
    }

    /// What the boards screen shows.
    pub fn summary(&self, jobs: &Jobs, planned: &Planned) -> Summary {
        Summary::of(jobs, planned, self.plain, &self.rack, &self.parts)
    }

    /// Why the list takes so many kinds of parts more no longer, if it does not.
    pub fn no_room(&self, more: usize) -> Option<String> {
        no_room(self.parts.len(), more)
    }

    /// The same for the parts of a layout, which the list would follow.
    pub fn no_room_to_follow(&self, more: usize) -> Option<String> {
        self.no_room(more).or_else(|| self.no_room_for_sources(1))
    }

    pub(crate) fn no_room_for_sources(&self, more: usize) -> Option<String> {
        let full = self.sources.len() + more > MOST_SOURCES;
        full.then(|| {
            let most = grouped(MOST_SOURCES as u64);
            format!("The list follows {most} layouts, which is the most. Remove some first.")
        })
    }

    fn next_part(&self) -> u32 {
        self.ids.next(self.parts.iter().map(|e| e.id))
    }

    /// Into its piece, if there is that piece.
    pub(super) fn put(&mut self, mut entry: Entry) {
        if self.no_room(1).is_none() && self.piece(entry.piece).is_some() {
            entry.id = self.next_part();
            self.parts.push(entry);
        }
    }

    /// Whether a text would be taken, or what would be right.
    pub fn try_part(&self, id: u32, key: &str, text: &str, unit: Unit) -> Result<(), String> {
        let mut entry = self.part(id).cloned().unwrap_or_default();
        entry.write(key, text, unit)
    }

    /// What a pasted text would come to.
    pub fn pasted(&self, text: &str, unit: Unit) -> Pasted {
        paste_into(self.parts.len(), text, &self.rack, unit)
    }

    /// The one place that changes it.
    pub fn apply(&mut self, edit: WorkEdit, shop: &Shop) {
        let unit = shop.unit;
        match edit {
            WorkEdit::AddPart(piece) => {
                let own = |e: &&Entry| e.piece == piece && e.from.is_none();
                let like = self.parts.iter().rev().find(own);
                let stock = like.and_then(|e| e.stock).or(self.rack.stocks.first().map(|s| s.id));
                self.put(Entry { piece, stock, give: usual_give(unit), ..Entry::default() });
            }
            WorkEdit::Part { id, key, text } => self.write_part(id, key, &text, unit),
            WorkEdit::CutFrom { id, stock } => self.cut_from(id, stock),
            WorkEdit::CopyPart(id) => {
                if let Some(e) = self.part(id).cloned() {
                    self.put(Entry { from: None, stale: false, ..e });
                }
            }
            WorkEdit::RemovePart(id) => self.remove_part(id),
            WorkEdit::ClearParts(piece) => {
                self.clear(|work, e| e.piece == piece && work.pattern_of(e).is_none());
            }
            WorkEdit::Done { id, done } => {
                if let Some(e) = self.parts.iter_mut().find(|e| e.id == id) {
                    e.done = done;
                    (e.made, e.made_mirrored) = (0, 0);
                }
            }
            WorkEdit::LetGo(id) => self.let_go(id),
            WorkEdit::Paste(piece, text) => {
                for entry in self.pasted(&text, unit).entries {
                    self.put(Entry { piece, ..entry });
                }
            }
            WorkEdit::Follow(piece, draft) => self.follow_new(piece, draft, shop),
            WorkEdit::Example(piece, i) => self.put_example(piece, i),
            WorkEdit::AddPiece { pattern } => self.add_piece(Piece::default(), pattern, shop),
            WorkEdit::OpenExample(i) => self.open_example(i, shop),
            WorkEdit::Piece { id, key, text } => {
                if let Some(piece) = self.piece_mut(id) {
                    // A text that says nothing yet stays in its field, with its sentence.
                    let _ = piece.write(key, &text, unit);
                }
            }
            WorkEdit::PlanPiece { id, planned } => {
                if let Some(piece) = self.piece_mut(id) {
                    piece.planned = planned;
                }
            }
            WorkEdit::PlanOnly(id) => {
                for piece in &mut self.pieces {
                    piece.planned = piece.id == id;
                }
            }
            WorkEdit::CopyPiece(id) => self.copy_piece(id),
            WorkEdit::AddPicture { piece, id } => {
                let room = |p: &&mut Piece| p.pictures.len() < MOST_PICTURES;
                if let Some(piece) = self.piece_mut(piece).filter(room) {
                    piece.pictures.push(id);
                }
            }
            WorkEdit::RemovePicture { piece, id } => {
                if let Some(piece) = self.piece_mut(piece) {
                    piece.pictures.retain(|own| *own != id);
                }
            }
            WorkEdit::AddOffer(offer) => self.add_offer(&offer),
            WorkEdit::RemovePiece(id) => self.remove_piece(id),
            WorkEdit::AsMade { piece, at, key } => self.as_made(piece, at, key, shop),
            WorkEdit::Plain(plain) => self.plain = plain,
            WorkEdit::Keep(kept) => self.kept.push(*kept),
            WorkEdit::Release(i) => {
                if i < self.kept.len() {
                    self.kept.remove(i);
                }
            }
            WorkEdit::NearlyFits { job, nearly } => self.nearly(job, &nearly, shop),
            WorkEdit::PutAway(all) => {
                for one in all {
                    self.put_away(one);
                }
            }
            WorkEdit::StartRun(_)
            | WorkEdit::Tick(_)
            | WorkEdit::Untick
            | WorkEdit::Skip { .. }
            | WorkEdit::Replanned(_)
            | WorkEdit::EndRun(_) => self.edit_run(edit, shop),
            edit => {
                if let Some(edit) = self.edit_price(edit) {
                    self.edit_rack(edit, unit);
                }
            }
        }
        let from = self.parts.iter().filter_map(|e| e.from.as_ref().map(|f| f.source));
        let used: BTreeSet<u32> =
            from.chain(self.pieces.iter().filter_map(|p| p.pattern)).collect();
        self.sources.retain(|s| used.contains(&s.id));
    }

    /// Applies what nearly fits: parts are cut smaller, or the yard's boards measure more.
    fn nearly(&mut self, job: usize, nearly: &NearlyFits, shop: &Shop) {
        let mut jobs = self.jobs(shop).jobs;
        if job >= jobs.len() {
            return;
        }
        let job = jobs.swap_remove(job);
        if nearly.over {
            if let Some(stock) = self.rack.stock_mut(job.stock) {
                for sold in stock.sold.iter_mut().filter(|_| nearly.long) {
                    sold.over += nearly.by;
                }
                if nearly.wide {
                    stock.width += nearly.by;
                }
            }
            return;
        }
        let mut seen: Vec<u32> = Vec::new();
        for (part, (shorter, narrower)) in job.parts.iter().zip(job.given(nearly)) {
            if (shorter > 0.0 || narrower > 0.0)
                && !seen.contains(&part.entry)
                && let Some(e) = self.parts.iter_mut().find(|e| e.id == part.entry)
            {
                seen.push(part.entry);
                e.shortened += Length(shorter);
                e.narrowed += Length(narrower);
            }
        }
    }
}

/// What a part of a new list may give: 1/8 in, or 3 mm.
fn usual_give(unit: Unit) -> Length {
    if unit.is_metric() { Length::mm(3.0) } else { Length(0.125) }
}
