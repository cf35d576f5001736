//! Parts that come from layouts, and follow them when their inputs change.

use super::draft::{Draft, answer};
use super::shop::Shop;
use super::source::Source;
use super::work::Work;
use crate::cutlist::{Entry, From};
use offsquare_cuts::backwards::Solved;
use offsquare_cuts::parts::Part;
use offsquare_units::Length;
use offsquare_units::num::Gather;

/// A draft's answer as it is looked at, if it has any.
pub(super) fn chosen(draft: &Draft, shop: &Shop) -> Option<Solved> {
    let mut answered = answer(draft, shop);
    let n = answered.solved.len();
    let way = draft.way.filter(|w| *w < n).unwrap_or(0);
    (n > 0).then(|| answered.solved.swap_remove(way))
}

/// That answer's parts.
fn parts_of(draft: &Draft, shop: &Shop) -> Option<Vec<Part>> {
    chosen(draft, shop).map(|s| s.solution.parts)
}

/// Which of the parts of that name the one at `i` is.
fn nth(parts: &[Part], i: usize) -> usize {
    let name = parts.get(i).map(|p| &p.name);
    parts.iter().take(i).filter(|p| Some(&p.name) == name).count()
}

impl Work {
    /// The source that a layout's screen feeds at present.
    pub fn live(&self, layout: &str) -> Option<&Source> {
        self.sources.iter().find(|s| s.live && s.draft.layout == layout)
    }

    /// The layout's screen now shows another draft: its parts stay as they are.
    pub fn part_ways(&mut self, layout: &str) {
        for s in &mut self.sources {
            if s.draft.layout == layout {
                s.live = false;
            }
        }
    }

    /// The layout's screen shows this source from now on.
    pub fn take_up(&mut self, source: u32) -> Option<Draft> {
        let draft = self.sources.iter().find(|s| s.id == source)?.draft.clone();
        self.part_ways(&draft.layout);
        for s in &mut self.sources {
            s.live |= s.id == source;
        }
        Some(draft)
    }

    /// A layout's draft changed: entries that come from it follow.
    pub fn changed(&mut self, draft: &Draft, shop: &Shop) {
        let Some(source) =
            self.sources.iter_mut().find(|s| s.live && s.draft.layout == draft.layout)
        else {
            return;
        };
        source.draft = draft.clone();
        let id = source.id;
        self.follow(id, shop);
    }

    /// Works every source out anew: after a file was opened, or the saw changed.
    pub fn follow_all(&mut self, shop: &Shop) {
        let all: Vec<u32> = self.sources.iter().map(|s| s.id).gather();
        for id in all {
            self.follow(id, shop);
        }
    }

    pub(crate) fn next_source(&self) -> u32 {
        self.ids.next(self.sources.iter().map(|s| s.id))
    }

    /// How many kinds of parts a draft brings, where there is room for them.
    pub(super) fn can_follow(&self, draft: &Draft, shop: &Shop) -> Option<usize> {
        let parts = parts_of(draft, shop).map_or(0, |p| p.len());
        Some(parts).filter(|_| self.no_room_to_follow(parts).is_none())
    }

    pub(super) fn follow_new(&mut self, piece: u32, draft: Draft, shop: &Shop) {
        let brings = self.can_follow(&draft, shop).is_some_and(|parts| parts > 0);
        if brings && self.piece(piece).is_some() {
            self.start_following(piece, draft, shop);
        }
    }

    pub(super) fn start_following(&mut self, piece: u32, draft: Draft, shop: &Shop) {
        self.part_ways(&draft.layout);
        let id = self.next_source();
        self.sources.push(Source { id, piece, draft, live: true, off: Vec::new() });
        self.follow(id, shop);
    }

    pub(crate) fn follow(&mut self, id: u32, shop: &Shop) {
        let Some(source) = self.sources.iter().find(|s| s.id == id) else {
            return;
        };
        // Not known here, or not come yet: its parts stand as they are.
        if source.draft.layout().is_none() {
            return;
        }
        let (off, piece) = (source.off.clone(), source.piece);
        // What was changed of the parts, where they are a pattern's.
        let owner = self.piece(piece).filter(|p| p.pattern == Some(id));
        let overrides = owner.map(|p| p.overrides.clone());
        let Some(parts) = parts_of(&source.draft, shop) else {
            for e in self.parts.iter_mut().filter(|e| of_source(e, id)) {
                e.stale = true;
            }
            return;
        };
        let made: Vec<(String, usize)> =
            (0..parts.len()).map(|i| (parts[i].name.to_string(), nth(&parts, i))).gather();
        // What the layout makes no more goes; undo brings it back.
        self.parts.retain(|e| {
            e.from
                .as_ref()
                .is_none_or(|f| f.source != id || made.contains(&(f.part.clone(), f.nth)))
        });
        for (part, key) in parts.iter().zip(made) {
            if part.count == 0 || !(part.length.0 > 0.0) {
                continue;
            }
            let (name, n) = key;
            let mine = |e: &Entry| {
                e.from.as_ref().is_some_and(|f| f.source == id && f.part == name && f.nth == n)
            };
            if !self.parts.iter().any(mine) {
                if off.contains(&(name.clone(), n)) {
                    continue;
                }
                let stock = self.rack.suiting(Some(part.seen), part.away).map(|s| s.id);
                let from = From { source: id, part: name.clone(), nth: n, count: part.count };
                self.put(Entry {
                    piece,
                    name: name.clone(),
                    count: part.count,
                    stock,
                    give: Length::ZERO,
                    from: Some(from),
                    ..Entry::default()
                });
            }
            let Some(e) = self.parts.iter_mut().find(|e| mine(e)) else { continue };
            let section = (e.seen, e.away);
            e.take(part);
            if let Some(from) = e.from.as_mut().filter(|f| f.count != part.count) {
                from.count = part.count;
                e.count = part.count;
            }
            let Some(overrides) = &overrides else { continue };
            if section != (e.seen, e.away) || self.rack.stock_of(e.stock).is_none() {
                e.stock = self.rack.suiting(e.seen, e.away).map(|s| s.id);
            }
            let from = e.from.clone().unwrap_or_default();
            if let Some(own) = overrides.iter().find(|o| o.is_of(&from)) {
                own.apply(e);
            }
        }
    }
}

fn of_source(e: &Entry, id: u32) -> bool {
    e.from.as_ref().is_some_and(|f| f.source == id)
}
