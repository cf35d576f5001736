//! How parts, rack and boards are stored.

use super::begun::{Begun, Frozen, Skip, Spare};
use super::made::{Override, Piece};
use super::source::Source;
use super::work::Work;
use crate::cutlist::PartEnd;
use crate::solved::{EndCut, Which};
use offsquare_units::Length;
use offsquare_units::kept::Kept;
use offsquare_units::num::Gather;
use offsquare_units::record::{Record, Stored};

/// A part that the maker took off the list.
#[derive(Default)]
struct Off {
    part: String,
    nth: u32,
}

impl Stored for Off {
    fn fields(&mut self, r: &mut Record) {
        r.text("part", &mut self.part);
        r.whole("nth", &mut self.nth);
    }
}

impl Stored for Source {
    fn fields(&mut self, r: &mut Record) {
        r.whole("id", &mut self.id);
        r.whole("piece", &mut self.piece);
        let own = r.writes().then(|| self.draft.keep());
        if let Some(stored) = r.value("draft", own) {
            match super::Draft::restore(&stored) {
                Some(draft) => self.draft = draft,
                None => r.wrong += 1,
            }
        }
        r.flag("live", &mut self.live);
        let mut off: Vec<Off> = self
            .off
            .iter()
            .map(|(part, nth)| Off { part: part.clone(), nth: *nth as u32 })
            .gather();
        r.rows("off", &mut off);
        self.off = off.into_iter().map(|o| (o.part, o.nth as usize)).gather();
    }
}

/// A whole number that may be missing.
fn maybe(r: &mut Record, key: &str, v: &mut Option<u32>) {
    let mut n = v.map(f64::from);
    r.maybe(key, &mut n);
    *v = n.map(|n| n as u32);
}

fn end(r: &mut Record, key: &str, v: &mut Option<EndCut>) {
    let mut all: Vec<PartEnd> = v.take().map(PartEnd::from).into_iter().gather();
    r.rows(key, &mut all);
    *v = all.pop().map(PartEnd::cut);
}

impl Stored for Override {
    fn fields(&mut self, r: &mut Record) {
        r.text("part", &mut self.part);
        let mut nth = self.line();
        r.whole("nth", &mut nth);
        self.which = Which::Line(nth);
        maybe(r, "stock", &mut self.stock);
        let mut length = self.length.map(|l| l.0);
        r.maybe("length", &mut length);
        self.length = length.map(Length);
        end(r, "left", &mut self.left);
        end(r, "right", &mut self.right);
        maybe(r, "count", &mut self.count);
    }
}

impl Stored for Piece {
    fn fields(&mut self, r: &mut Record) {
        r.whole("id", &mut self.id);
        r.text("name", &mut self.name);
        r.text("note", &mut self.note);
        maybe(r, "pattern", &mut self.pattern);
        r.whole("batch", &mut self.batch);
        r.flag("planned", &mut self.planned);
        r.rows("overrides", &mut self.overrides);
    }
}

impl Stored for Work {
    fn fields(&mut self, r: &mut Record) {
        r.rows("pieces", &mut self.pieces);
        r.rows("parts", &mut self.parts);
        r.rows("sources", &mut self.sources);
        r.one("rack", &mut self.rack);
        r.flag("plain", &mut self.plain);
        r.rows("kept", &mut self.kept);
        let mut begun: Vec<Begun> = self.begun.take().into_iter().gather();
        r.rows("begun", &mut begun);
        self.begun = begun.pop();
    }
}

/// A value of its own form.
fn own<T: Kept>(r: &mut Record, key: &str, v: &mut T) {
    let now = r.writes().then(|| v.keep());
    if let Some(stored) = r.value(key, now) {
        match T::restore(&stored) {
            Some(read) => *v = read,
            None => r.wrong += 1,
        }
    }
}

impl Stored for Frozen {
    fn fields(&mut self, r: &mut Record) {
        r.rows("pieces", &mut self.pieces);
        r.rows("parts", &mut self.parts);
        r.rows("sources", &mut self.sources);
        r.one("rack", &mut self.rack);
        own(r, "shop", &mut self.shop);
        r.rows("boards", &mut self.boards);
    }
}

impl Stored for Spare {
    fn fields(&mut self, r: &mut Record) {
        r.whole("stock", &mut self.stock);
        r.number("length", &mut self.length.0);
        r.whole("from", &mut self.from);
    }
}

impl Stored for Skip {
    fn fields(&mut self, r: &mut Record) {
        r.whole("after", &mut self.after);
        own(r, "reason", &mut self.reason);
        own(r, "places", &mut self.places);
        r.flag("open", &mut self.open);
        r.rows("boards", &mut self.boards);
        r.rows("spare", &mut self.spare);
    }
}

impl Stored for Begun {
    fn fields(&mut self, r: &mut Record) {
        r.one("of", std::rc::Rc::make_mut(&mut self.of));
        own(r, "done", &mut self.done);
        r.rows("skips", &mut self.skips);
    }
}
