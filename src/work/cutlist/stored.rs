//! How the parts list is stored.

use super::{BlankCut, Entry, From, Grain, Hand, KeptBoard, KeptPart, PartEnd};
use offsquare_cuts::parts::End;
use offsquare_planner::guillotine::Piece;
use offsquare_units::Length;
use offsquare_units::kept::Kept as _;
use offsquare_units::num::Gather;
use offsquare_units::record::{Record, Stored};

const GRAIN: [Grain; 3] = [Grain::Along, Grain::Across, Grain::Either];
const HAND: [Hand; 4] = [Hand::Alike, Hand::Left, Hand::Right, Hand::Pairs];

fn size(r: &mut Record, key: &str, v: &mut Option<Length>) {
    let mut inches = v.map(|l| l.0);
    r.maybe(key, &mut inches);
    *v = inches.map(Length);
}

impl Stored for PartEnd {
    fn fields(&mut self, r: &mut Record) {
        r.number("miter", &mut self.miter);
        r.number("bevel", &mut self.bevel);
        r.flag("pointed", &mut self.pointed);
    }
}

const ENDS: [End; 3] = [End::Left, End::Right, End::Along];

impl Stored for BlankCut {
    fn fields(&mut self, r: &mut Record) {
        r.text("name", &mut self.name);
        let mut end = ENDS.iter().position(|e| *e == self.end).unwrap_or(2);
        r.pick("end", &mut end, &["left", "right", "along"]);
        self.end = ENDS[end];
        r.number("miter", &mut self.miter);
        r.number("bevel", &mut self.bevel);
        r.number("from_x", &mut self.from.x);
        r.number("from_y", &mut self.from.y);
        r.number("to_x", &mut self.to.x);
        r.number("to_y", &mut self.to.y);
    }
}

/// How many parts came before a part of the same name: a small number.
fn place(r: &mut Record, key: &str, v: &mut usize) {
    let mut n = *v as u32;
    r.whole(key, &mut n);
    *v = n as usize;
}

impl Stored for From {
    fn fields(&mut self, r: &mut Record) {
        r.whole("source", &mut self.source);
        r.text("part", &mut self.part);
        place(r, "nth", &mut self.nth);
        r.whole("count", &mut self.count);
    }
}

impl Stored for Entry {
    fn fields(&mut self, r: &mut Record) {
        r.whole("id", &mut self.id);
        r.whole("piece", &mut self.piece);
        r.text("name", &mut self.name);
        r.whole("count", &mut self.count);
        let mut stock = self.stock.map(f64::from);
        r.maybe("stock", &mut stock);
        self.stock = stock.map(|n| n as u32);
        r.number("length", &mut self.length.0);
        size(r, "seen", &mut self.seen);
        size(r, "away", &mut self.away);
        r.one("left", &mut self.left);
        r.one("right", &mut self.right);
        r.rows("on_blank", &mut self.on_blank);
        let mut grain = GRAIN.iter().position(|g| *g == self.grain).unwrap_or(0);
        r.pick("grain", &mut grain, &["along", "across", "either"]);
        self.grain = GRAIN[grain];
        r.flag("one_good_face", &mut self.one_good_face);
        let mut hand = HAND.iter().position(|h| *h == self.hand).unwrap_or(0);
        r.pick("hand", &mut hand, &["alike", "left", "right", "pairs"]);
        self.hand = HAND[hand];
        r.number("give", &mut self.give.0);
        r.number("shortened", &mut self.shortened.0);
        r.number("narrowed", &mut self.narrowed.0);
        r.text("note", &mut self.note);
        r.flag("done", &mut self.done);
        r.whole("made", &mut self.made);
        r.whole("made_mirrored", &mut self.made_mirrored);
        let mut from: Vec<From> = self.from.take().into_iter().gather();
        r.rows("from", &mut from);
        self.from = from.pop();
        r.flag("stale", &mut self.stale);
    }
}

impl Stored for KeptPart {
    fn fields(&mut self, r: &mut Record) {
        r.whole("entry", &mut self.entry);
        r.flag("mirrored", &mut self.mirrored);
        r.flag("turned", &mut self.turned);
        r.flag("flipped", &mut self.flipped);
        r.number("x", &mut self.x);
        r.number("y", &mut self.y);
        r.number("wide", &mut self.wide);
        r.number("length", &mut self.length);
        r.number("left", &mut self.left);
        r.number("right", &mut self.right);
    }
}

/// A tree of cuts, none for a board of sticks.
fn cuts(r: &mut Record, v: &mut Vec<Piece>) {
    if let Some(stored) = r.value("cuts", Some(v.keep()).filter(|_| !v.is_empty())) {
        let read = Vec::restore(&stored);
        r.wrong += u32::from(read.is_none());
        *v = read.unwrap_or_default();
    }
}

impl Stored for KeptBoard {
    fn fields(&mut self, r: &mut Record) {
        r.whole("stock", &mut self.stock);
        r.flag("owned", &mut self.owned);
        r.number("length", &mut self.length.0);
        r.number("start", &mut self.start);
        r.number("width", &mut self.width);
        cuts(r, &mut self.cuts);
        r.rows("parts", &mut self.parts);
    }
}
