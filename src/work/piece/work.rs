//! What is to be made: the parts list with the layouts that it follows, the rack, and the choices made
//! on the way to boards. Screens send [`WorkEdit`]s; nothing else changes it.

use super::draft::Draft;
use super::shop::Shop;
use crate::cutlist::{
    Entry, Jobs, KeptBoard, NearlyFits, Pasted, Planned, PutAway, Summary, no_room, paste_into,
};
use crate::rack::{Owned, Rack, Sold, Stock, Written};
use offsquare_units::{Length, Unit};
use std::collections::BTreeSet;

/// A layout that entries come from, with its inputs.
#[derive(Clone, Debug, PartialEq)]
pub struct Source {
    pub id: u32,
    pub draft: Draft,
    /// The layout's screen shows this draft now: what is typed there is followed here.
    pub live: bool,
    /// Parts (name, and which of that name) that the maker took off the list.
    pub off: Vec<(String, usize)>,
}

impl Default for Source {
    /// A source without a layout: what a broken row of a file becomes before it is set aside.
    fn default() -> Source {
        Source {
            id: 0,
            draft: Draft {
                layout: String::new(),
                form: String::new(),
                typed: Vec::new(),
                way: None,
                give: None,
                others: Vec::new(),
                touched: false,
            },
            live: false,
            off: Vec::new(),
        }
    }
}

/// Everything from parts to boards.
#[derive(Clone, Debug, PartialEq)]
pub struct Work {
    pub parts: Vec<Entry>,
    pub sources: Vec<Source>,
    pub rack: Rack,
    /// How many pieces are made at once.
    pub batch: u32,
    /// The plain plan is the one that is cut.
    pub plain: bool,
    pub kept: Vec<KeptBoard>,
}

impl Default for Work {
    fn default() -> Work {
        Work {
            parts: Vec::new(),
            sources: Vec::new(),
            rack: Rack::default(),
            batch: 1,
            plain: false,
            kept: Vec::new(),
        }
    }
}

/// Which row of the rack an edit is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Row {
    Settings,
    Stock(u32),
    Sold(u32, usize),
    Owned(u32, usize),
}

/// What a screen can ask for, in the words of the forms.
#[derive(Clone, Debug, PartialEq)]
pub enum WorkEdit {
    AddPart,
    Part {
        id: u32,
        key: &'static str,
        text: String,
    },
    /// The stock that a part is cut from, or (no id) all parts that have none.
    CutFrom {
        id: Option<u32>,
        stock: Option<u32>,
    },
    CopyPart(u32),
    RemovePart(u32),
    ClearParts,
    /// Cut, or to be cut again.
    Done {
        id: u32,
        done: bool,
    },
    /// The part no longer follows its layout.
    LetGo(u32),
    Paste(String),
    /// All parts of a layout's answer, followed from now on.
    Follow(Draft),
    Example(usize),
    Rack {
        row: Row,
        key: &'static str,
        text: String,
    },
    AddStock,
    AddSold(u32),
    AddOwned(u32),
    RemoveRow(Row),
    Batch(u32),
    Plain(bool),
    Keep(Box<KeptBoard>),
    Release(usize),
    /// A hair less on parts, or more on boards, as the planner found.
    NearlyFits {
        job: usize,
        nearly: Box<NearlyFits>,
    },
    PutAway(Vec<PutAway>),
}

impl WorkEdit {
    /// Edits of one topic in a row are one step of undo.
    pub fn topic(&self) -> Option<String> {
        match self {
            WorkEdit::Part { id, key, .. } => Some(format!("part.{id}.{key}")),
            WorkEdit::Rack { row, key, .. } => Some(format!("rack.{row:?}.{key}")),
            WorkEdit::Batch(_) => Some("batch".into()),
            _ => None,
        }
    }
}

/// Largest batch.
pub const MOST_BATCH: u32 = 500;
/// Most layouts that a list follows, each solved again when the saw changes.
pub const MOST_SOURCES: usize = 200;

impl Work {
    pub fn part(&self, id: u32) -> Option<&Entry> {
        self.parts.iter().find(|e| e.id == id)
    }

    /// The planner's jobs for what is on the list.
    pub fn jobs(&self, shop: &Shop) -> Jobs {
        Jobs::of(&self.parts, &self.rack, shop.saw.kerf, self.batch, &self.kept)
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
        let full = self.sources.len() >= MOST_SOURCES;
        self.no_room(more).or_else(|| {
            full.then(|| {
                format!(
                    "The list follows {MOST_SOURCES} layouts, which is the most. Remove some first."
                )
            })
        })
    }

    fn next_part(&self) -> u32 {
        let most = self.parts.iter().map(|e| e.id).max().unwrap_or(0);
        most.saturating_add(1)
    }

    pub(super) fn put(&mut self, mut entry: Entry) {
        if self.no_room(1).is_none() {
            entry.id = self.next_part();
            self.parts.push(entry);
        }
    }

    /// Whether a text would be taken, or what would be right.
    pub fn try_part(&self, id: u32, key: &str, text: &str, unit: Unit) -> Result<(), String> {
        let mut entry = self.part(id).cloned().unwrap_or_default();
        entry.write(key, text, unit)
    }

    /// The same for a row of the rack.
    pub fn try_rack(&self, row: Row, key: &str, text: &str, unit: Unit) -> Result<(), String> {
        let mut rack = self.rack.clone();
        write_row(&mut rack, row, key, text, unit)
    }

    /// A field of the rack as text.
    pub fn rack_text(&self, row: Row, key: &str, unit: Unit) -> String {
        let rack = &self.rack;
        match row {
            Row::Settings => rack.text(key, unit),
            Row::Stock(id) => rack.stock(id).map(|s| s.text(key, unit)).unwrap_or_default(),
            Row::Sold(id, i) => rack
                .stock(id)
                .and_then(|s| s.sold.get(i))
                .map(|s| s.text(key, unit))
                .unwrap_or_default(),
            Row::Owned(id, i) => rack
                .stock(id)
                .and_then(|s| s.owned.get(i))
                .map(|o| o.text(key, unit))
                .unwrap_or_default(),
        }
    }

    /// What a pasted text would come to.
    pub fn pasted(&self, text: &str, unit: Unit) -> Pasted {
        paste_into(self.parts.len(), text, &self.rack, unit)
    }

    /// The one place that changes it.
    pub fn apply(&mut self, edit: WorkEdit, shop: &Shop) {
        let unit = shop.unit;
        match edit {
            WorkEdit::AddPart => {
                let like = self.parts.iter().rev().find(|e| e.from.is_none());
                let stock = like.and_then(|e| e.stock).or(self.rack.stocks.first().map(|s| s.id));
                self.put(Entry { stock, give: usual_give(unit), ..Entry::default() });
            }
            WorkEdit::Part { id, key, text } => {
                if let Some(e) = self.parts.iter_mut().find(|e| e.id == id) {
                    // A text that says nothing yet stays in its field, with its sentence.
                    let _ = e.write(key, &text, unit);
                }
            }
            WorkEdit::CutFrom { id, stock } => self.cut_from(id, stock),
            WorkEdit::CopyPart(id) => {
                if let Some(e) = self.part(id).cloned() {
                    self.put(Entry { from: None, stale: false, ..e });
                }
            }
            WorkEdit::RemovePart(id) => self.remove_part(id),
            WorkEdit::ClearParts => {
                self.parts.clear();
                self.kept.clear();
            }
            WorkEdit::Done { id, done } => {
                if let Some(e) = self.parts.iter_mut().find(|e| e.id == id) {
                    e.done = done;
                }
            }
            WorkEdit::LetGo(id) => {
                if let Some(e) = self.parts.iter_mut().find(|e| e.id == id) {
                    e.from = None;
                    e.stale = false;
                }
            }
            WorkEdit::Paste(text) => {
                for entry in self.pasted(&text, unit).entries {
                    self.put(entry);
                }
            }
            WorkEdit::Follow(draft) => self.follow_new(draft, shop),
            WorkEdit::Example(i) => {
                for entry in super::examples::example(i, &self.rack) {
                    self.put(entry);
                }
            }
            WorkEdit::Rack { row, key, text } => {
                // As above.
                let _ = write_row(&mut self.rack, row, key, &text, unit);
            }
            // Where one of these is full, its key says so and asks for none.
            WorkEdit::AddStock if self.rack.no_stock().is_some() => {}
            WorkEdit::AddSold(_) | WorkEdit::AddOwned(_) if self.rack.no_row().is_some() => {}
            WorkEdit::AddStock => {
                let id = self.rack.next_id();
                self.rack.stocks.push(Stock {
                    id,
                    name: format!("Stock {id}"),
                    thickness: Length(0.75),
                    width: Length(3.5),
                    ..Stock::default()
                });
            }
            WorkEdit::AddSold(id) => {
                if let Some(s) = self.rack.stock_mut(id) {
                    s.sold.push(Sold { length: Length(96.0), ..Sold::default() });
                }
            }
            WorkEdit::AddOwned(id) => {
                if let Some(s) = self.rack.stock_mut(id) {
                    s.owned.push(Owned { length: Length(48.0), count: 1, ..Owned::default() });
                }
            }
            WorkEdit::RemoveRow(row) => self.remove(row),
            WorkEdit::Batch(n) => self.batch = n.clamp(1, MOST_BATCH),
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
        }
        let used: BTreeSet<u32> =
            self.parts.iter().filter_map(|e| e.from.as_ref().map(|f| f.source)).collect();
        self.sources.retain(|s| used.contains(&s.id));
    }

    /// One entry, or all that have no stock, are cut from this one.
    fn cut_from(&mut self, id: Option<u32>, stock: Option<u32>) {
        for e in &mut self.parts {
            let own = match id {
                Some(id) => e.id == id,
                None => self.rack.stock_of(e.stock).is_none(),
            };
            if own {
                e.stock = stock;
            }
        }
    }

    /// A part that follows a layout is not followed again.
    fn remove_part(&mut self, id: u32) {
        if let Some(from) = self.part(id).and_then(|e| e.from.clone())
            && let Some(s) = self.sources.iter_mut().find(|s| s.id == from.source)
        {
            s.off.push((from.part, from.nth));
        }
        self.parts.retain(|e| e.id != id);
    }

    fn remove(&mut self, row: Row) {
        match row {
            Row::Settings => {}
            Row::Stock(id) => self.rack.stocks.retain(|s| s.id != id),
            Row::Sold(id, i) => {
                if let Some(s) = self.rack.stock_mut(id)
                    && i < s.sold.len()
                {
                    s.sold.remove(i);
                }
            }
            Row::Owned(id, i) => {
                if let Some(s) = self.rack.stock_mut(id)
                    && i < s.owned.len()
                {
                    s.owned.remove(i);
                }
            }
        }
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

    fn put_away(&mut self, one: PutAway) {
        let Some(stock) = self.rack.stock_mut(one.stock) else {
            return;
        };
        for (i, n) in one.bought {
            if let Some(left) = stock.sold.get_mut(i).and_then(|s| s.left.as_mut()) {
                *left = left.saturating_sub(n);
            }
        }
        for (i, n) in one.cut {
            if let Some(o) = stock.owned.get_mut(i) {
                o.count = o.count.saturating_sub(n);
            }
        }
        stock.owned.retain(|o| o.count > 0);
        for piece in one.kept {
            let same = stock.owned.iter_mut().find(|o| {
                (o.length - piece.length).abs().0 < 1e-9
                    && o.width == piece.width
                    && o.bad.is_empty()
                    && o.trim_left == piece.trim_left
                    && o.trim_right == piece.trim_right
            });
            match same {
                Some(o) => o.count += piece.count,
                None => stock.owned.push(piece),
            }
        }
        self.kept.retain(|k| k.stock != one.stock);
        for e in &mut self.parts {
            e.done |= one.done.contains(&e.id);
        }
    }
}

/// What a part of a new list may give: 1/8 in, or 3 mm.
fn usual_give(unit: Unit) -> Length {
    if unit.is_metric() { Length::mm(3.0) } else { Length(0.125) }
}

fn write_row(rack: &mut Rack, row: Row, key: &str, text: &str, unit: Unit) -> Result<(), String> {
    match row {
        Row::Settings => rack.write(key, text, unit),
        Row::Stock(id) => rack.stock_mut(id).map_or(Ok(()), |s| s.write(key, text, unit)),
        Row::Sold(id, i) => {
            let Some(stock) = rack.stock_mut(id) else {
                return Ok(());
            };
            let Some(sold) = stock.sold.get_mut(i) else {
                return Ok(());
            };
            sold.write(key, text, unit)?;
            if key == "price" {
                stock.sample = false;
            }
            Ok(())
        }
        Row::Owned(id, i) => rack
            .stock_mut(id)
            .and_then(|s| s.owned.get_mut(i))
            .map_or(Ok(()), |o| o.write(key, text, unit)),
    }
}
